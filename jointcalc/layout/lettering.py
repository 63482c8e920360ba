"""The lettering of the full-size sheets: a font read from its file, and the part of it that a document needs.

The font stays numbered as it is (a glyph that is not used is left empty), so that a document's words need no list of
their own, and the same words give the same bytes.  TrueType as in the OpenType specification, chapters `glyf`, `loca`,
`cmap`; embedding as in ISO 32000-1, 9.7.4 and 9.9 (from memory).
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterable, Mapping
from functools import cache
from importlib.util import find_spec
from pathlib import Path

FACES = ("DejaVuSansMono.ttf", "DejaVuSansMono-Bold.ttf")
"""Plain and bold: come with the plotting library, which need not be imported for them."""
KEPT = ("cvt ", "fpgm", "glyf", "head", "hhea", "hmtx", "loca", "maxp", "prep")
"""Tables an embedded font needs."""


class Face:
    """One font file: glyph numbers by letter, outlines, metrics in thousandths of its size."""

    def __init__(self, data: bytes) -> None:
        count = struct.unpack_from(">H", data, 4)[0]
        self._tables: dict[str, bytes] = {}
        for k in range(count):
            tag, _, start, length = struct.unpack_from(">4sLLL", data, 12 + 16 * k)
            self._tables[tag.decode("ascii")] = data[start : start + length]
        unit = struct.unpack_from(">H", self._tables["head"], 18)[0]
        self.box = tuple(round(v * 1000 / unit) for v in struct.unpack_from(">4h", self._tables["head"], 36))
        self.ascent, self.descent = (round(v * 1000 / unit) for v in struct.unpack_from(">2h", self._tables["hhea"], 4))
        # of one width: the greatest advance is that of every letter
        self.advance = round(struct.unpack_from(">H", self._tables["hhea"], 10)[0] * 1000 / unit)
        glyphs = struct.unpack_from(">H", self._tables["maxp"], 4)[0]
        long = struct.unpack_from(">h", self._tables["head"], 50)[0]
        places = self._tables["loca"]
        self._loca = (
            struct.unpack(f">{glyphs + 1}L", places)
            if long
            else tuple(2 * v for v in struct.unpack(f">{glyphs + 1}H", places))
        )
        self.glyphs = _character_map(self._tables["cmap"])

    def _outline(self, glyph: int) -> bytes:
        return self._tables["glyf"][self._loca[glyph] : self._loca[glyph + 1]]

    def _with_parts(self, used: Iterable[int]) -> set[int]:
        """The glyphs and those that they are put together from."""
        found: set[int] = set()
        left = list(used)
        while left:
            glyph = left.pop()
            if glyph in found:
                continue
            found.add(glyph)
            outline = self._outline(glyph)
            if len(outline) < 10 or struct.unpack_from(">h", outline)[0] >= 0:
                continue
            at, more = 10, True
            while more:
                flags, part = struct.unpack_from(">HH", outline, at)
                left.append(part)
                more = bool(flags & 0x20)
                at += (
                    4 + (4 if flags & 1 else 2) + (2 if flags & 8 else 4 if flags & 0x40 else 8 if flags & 0x80 else 0)
                )
        return found

    def subset(self, letters: Iterable[str]) -> bytes:
        """The font with the outlines of these letters only, glyphs numbered as before."""
        kept = self._with_parts([0, *(self.glyphs[ord(c)] for c in letters if ord(c) in self.glyphs)])
        outlines: list[bytes] = []
        places = [0]
        for glyph in range(len(self._loca) - 1):
            if glyph in kept:
                outline = self._outline(glyph)
                outline += b"\0" * (-len(outline) % 4)
                outlines.append(outline)
                places.append(places[-1] + len(outline))
            else:
                places.append(places[-1])
        tables = {tag: self._tables[tag] for tag in KEPT if tag in self._tables}
        tables["glyf"] = b"".join(outlines)
        tables["loca"] = struct.pack(f">{len(places)}L", *places)
        head = bytearray(tables["head"])
        struct.pack_into(">L", head, 8, 0)
        struct.pack_into(">h", head, 50, 1)  # long places
        tables["head"] = bytes(head)
        return _file(tables)


def _file(tables: Mapping[str, bytes]) -> bytes:
    """A font file of these tables."""
    count = len(tables)
    power = 1 << (count.bit_length() - 1)
    out = [struct.pack(">LHHHH", 0x10000, count, 16 * power, power.bit_length() - 1, 16 * (count - power))]
    at = 12 + 16 * count
    bodies = []
    for tag, data in sorted(tables.items()):
        padded = data + b"\0" * (-len(data) % 4)
        total = sum(struct.unpack(f">{len(padded) // 4}L", padded)) & 0xFFFFFFFF
        out.append(struct.pack(">4sLLL", tag.encode("ascii"), total, at, len(data)))
        bodies.append(padded)
        at += len(padded)
    return b"".join([*out, *bodies])


def _character_map(table: bytes) -> dict[int, int]:
    """Code point -> glyph, from the subtables of format 4 (the basic plane is enough for drawings)."""
    count = struct.unpack_from(">H", table, 2)[0]
    for k in range(count):
        start = struct.unpack_from(">HHL", table, 4 + 8 * k)[2]
        if struct.unpack_from(">H", table, start)[0] == 4:
            break
    else:
        raise ValueError("the font has no character map of format 4")
    segments = struct.unpack_from(">H", table, start + 6)[0] // 2
    at = start + 14
    ends = struct.unpack_from(f">{segments}H", table, at)
    firsts = struct.unpack_from(f">{segments}H", table, at + 2 * segments + 2)
    deltas = struct.unpack_from(f">{segments}H", table, at + 4 * segments + 2)
    ranges_at = at + 6 * segments + 2
    ranges = struct.unpack_from(f">{segments}H", table, ranges_at)
    found: dict[int, int] = {}
    for i, (first, end, delta, offset) in enumerate(zip(firsts, ends, deltas, ranges)):
        for code in range(first, min(end, 0xFFFE) + 1):
            if offset:
                glyph = struct.unpack_from(">H", table, ranges_at + 2 * i + offset + 2 * (code - first))[0]
                glyph = (glyph + delta) & 0xFFFF if glyph else 0
            else:
                glyph = (code + delta) & 0xFFFF
            if glyph:
                found[code] = glyph
    return found


@cache
def face(bold: bool = False) -> Face:
    """The plain or the bold lettering."""
    spec = find_spec("matplotlib")
    assert spec is not None
    assert spec.origin is not None
    return Face(Path(spec.origin).parent.joinpath("mpl-data", "fonts", "ttf", FACES[bold]).read_bytes())


@cache
def packed(bold: bool, letters: str) -> tuple[bytes, int]:
    """(compressed subset, its length) for these letters, kept for the next document with the same ones."""
    data = face(bold).subset(letters)
    return zlib.compress(data, 6), len(data)
