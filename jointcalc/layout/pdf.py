"""A PDF of lines and lettering, written as it stands: no dates, the same bytes for the same pages.

Objects, streams and fonts as in ISO 32000-1 (from memory); pages are measured in millimetres and written in points.
"""

from __future__ import annotations

import zlib
from collections.abc import Iterable, Sequence

from jointcalc.layout.lettering import face, packed

MM = 72 / 25.4


def _stream(data: bytes, more: str = "") -> bytes:
    made = zlib.compress(data, 6)
    return (
        b"<< /Length %d /Filter /FlateDecode%s >>\nstream\n" % (len(made), more.encode("ascii")) + made + b"\nendstream"
    )


def words(text: str) -> str:
    """A text of the file's properties, in UTF-16 as digits."""
    return f"<FEFF{text.encode('utf-16-be').hex().upper()}>"


class Document:
    """Pages as they come, then the fonts they used."""

    def __init__(self, about: Sequence[tuple[str, str]]) -> None:
        self._objects: list[bytes] = [b"", b""]  # catalogue and page tree, filled in at the end
        self._about = about
        self._pages: list[int] = []
        self._letters: tuple[set[str], set[str]] = (set(), set())

    def _add(self, body: bytes) -> int:
        self._objects.append(body)
        return len(self._objects)

    def page(self, width: float, height: float, marks: Iterable[str], letters: tuple[set[str], set[str]]) -> None:
        """One page of `width` by `height` [mm] with what is drawn on it and the letters it uses, plain and bold."""
        content = self._add(_stream("\n".join(marks).encode("ascii")))
        for bold in (0, 1):
            self._letters[bold].update(letters[bold])
        # the fonts come last: their numbers are known when all pages are
        self._pages.append(
            self._add(
                b"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 %s %s] /Contents %d 0 R /Resources << /Font FONTS >> >>"
                % (number(width * MM).encode(), number(height * MM).encode(), content)
            )
        )

    def _font(self, bold: bool) -> int:
        letters = "".join(sorted(self._letters[bold]))
        data, length = packed(bold, letters)
        font = face(bold)
        name = f"AAAAAA+DejaVuSansMono{'-Bold' if bold else ''}"
        file = self._add(b"<< /Length %d /Length1 %d /Filter /FlateDecode >>\nstream\n" % (len(data), length) + data
                         + b"\nendstream")  # fmt: skip
        box = " ".join(map(str, font.box))
        descriptor = self._add(
            f"<< /Type /FontDescriptor /FontName /{name} /Flags 5 /FontBBox [{box}] /ItalicAngle 0 /Ascent "
            f"{font.ascent} /Descent {font.descent} /CapHeight 729 /StemV 80 /FontFile2 {file} 0 R >>".encode("ascii")
        )
        inner = self._add(
            f"<< /Type /Font /Subtype /CIDFontType2 /BaseFont /{name} /CIDSystemInfo << /Registry (Adobe) /Ordering "
            f"(Identity) /Supplement 0 >> /FontDescriptor {descriptor} 0 R /DW {font.advance} /CIDToGIDMap /Identity >>"
            .encode("ascii")
        )  # fmt: skip
        pairs = [(font.glyphs[ord(c)], ord(c)) for c in letters if ord(c) in font.glyphs]
        blocks = []
        for k in range(0, len(pairs), 100):
            some = pairs[k : k + 100]
            blocks.append(
                f"{len(some)} beginbfchar\n" + "".join(f"<{g:04X}> <{c:04X}>\n" for g, c in some) + "endbfchar"
            )
        text = (
            "/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n/CIDSystemInfo << /Registry (Adobe) "
            "/Ordering (UCS) /Supplement 0 >> def\n/CMapName /Letters def\n/CMapType 2 def\n1 begincodespacerange\n"
            "<0000> <FFFF>\nendcodespacerange\n" + "\n".join(blocks) + "\nendcmap\nend\nend"
        )
        back = self._add(_stream(text.encode("ascii")))
        return self._add(
            f"<< /Type /Font /Subtype /Type0 /BaseFont /{name} /Encoding /Identity-H /DescendantFonts [{inner} 0 R] "
            f"/ToUnicode {back} 0 R >>".encode("ascii")
        )

    def bytes(self) -> bytes:
        """The file."""
        fonts = [f"/F{bold} {self._font(bool(bold))} 0 R" for bold in (0, 1) if self._letters[bold]]
        named = f"<< {' '.join(fonts)} >>".encode("ascii")
        about = self._add(
            ("<< " + " ".join(f"/{key} {words(text)}" for key, text in self._about) + " >>").encode("ascii")
        )
        self._objects[0] = b"<< /Type /Catalog /Pages 2 0 R >>"
        kids = " ".join(f"{n} 0 R" for n in self._pages)
        self._objects[1] = f"<< /Type /Pages /Kids [{kids}] /Count {len(self._pages)} >>".encode("ascii")
        out = bytearray(b"%PDF-1.5\n%\xe2\xe3\xcf\xd3\n")
        places = []
        pages = set(self._pages)
        for n, body in enumerate(self._objects, 1):
            places.append(len(out))
            whole = body.replace(b"FONTS", named) if n in pages else body
            out += b"%d 0 obj\n" % n + whole + b"\nendobj\n"
        start = len(out)
        out += b"xref\n0 %d\n0000000000 65535 f \n" % (len(places) + 1)
        out += b"".join(b"%010d 00000 n \n" % place for place in places)
        out += b"trailer\n<< /Size %d /Root 1 0 R /Info %d 0 R >>\nstartxref\n%d\n%%%%EOF\n" % (
            len(places) + 1, about, start,
        )  # fmt: skip
        return bytes(out)


def number(value: float) -> str:
    """A number as short as it is exact to 10⁻⁶ of a point."""
    text = f"{value:.6f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
