"""Parts of a dossier, each a PDF file of its own, joined to one: pages, bookmarks and structure (PDF/UA) in order.

The libraries that join PDF files lose the structure tree of all but the first, or hold every one of its some 700
objects an item in memory.  Our typesetter writes plain files: objects one after the other and a table of their
places at the end (ISO 32000-1, 7.5).  So all but a handful are copied as they stand, with their numbers moved up.
Put together are those that there may be one of: catalog and page tree (7.7), bookmarks (12.3.3), structure tree
(14.7), metadata (14.3).

A file that is written in another way is refused (NotPlain): nothing here guesses.
"""

from __future__ import annotations

import base64
import hashlib
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

REFERENCE = re.compile(rb"\b(\d+) 0 R\b")
TREE_KEY = re.compile(rb"(/StructParents? )(\d+)")
PAREN = re.compile(rb"\\.|[()]", re.DOTALL)
HEADING = re.compile(rb"\(([^()]+)\)(\d+) 0 R")
STREAM = re.compile(rb">>\s*stream\r?\n")
ENTRY = 20
"""Bytes of a line in the table of places (ISO 32000-1, 7.5.4)."""


class NotPlain(ValueError):
    """A PDF file that is not laid out as this module knows it."""


# --- reading ----------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _File:
    """A file of the typesetter: its bytes, where its objects stand by number, and what follows the table of places."""

    data: bytes = field(repr=False)
    places: Mapping[int, tuple[int, int]] = field(repr=False)
    trailer: bytes

    @classmethod
    def read(cls, data: bytes) -> _File:
        end = re.search(rb"startxref\s+(\d+)\s+%%EOF\s*$", data[-64:])
        start = int(end[1]) if end else 0
        head = re.compile(rb"xref\n0 (\d+)\n").match(data, start)
        if not head:
            raise NotPlain("there is no plain table of places at its end")
        many = int(head[1])
        lines = [data[place : place + ENTRY] for place in range(head.end(), head.end() + many * ENTRY, ENTRY)]
        starts = {n: int(line[:10]) for n, line in enumerate(lines) if line[17:18] == b"n"}
        order = sorted(starts.values())
        ends = dict(zip(order, [*order[1:], start], strict=True))
        return cls(data, {n: (place, ends[place]) for n, place in starts.items()}, data[head.end() + many * ENTRY :])

    def body(self, n: int) -> bytes:
        """An object without the lines about it."""
        start, end = self.places.get(n, (0, 0))
        head = b"%d 0 obj\n" % n
        stop = self.data.rfind(b"\nendobj", start, end)
        if not self.data.startswith(head, start) or stop < 0:
            raise NotPlain(f"object {n} is not where the table says")
        return self.data[start + len(head) : stop]


def _of(key: bytes, body: bytes, *, must: bool = True) -> int:
    """The number of the object that a key of a dictionary points to; 0 for none."""
    found = re.search(rb"/" + key + rb" (\d+) 0 R", body)
    if not found and must:
        raise NotPlain(f"{key.decode()} does not point to an object")
    return int(found[1]) if found else 0


def _within(key: bytes, body: bytes) -> bytes:
    """What stands in the brackets behind a key."""
    found = re.search(rb"/" + key + rb"\[([^\]]*)\]", body)
    if not found:
        raise NotPlain(f"{key.decode()} is no list")
    return found[1]


def _references(text: bytes) -> list[int]:
    return [int(n) for n in REFERENCE.findall(text)]


@dataclass(frozen=True, slots=True)
class _Tops:
    """The objects of a file that the joined one has once, by number (0: it has none), and what hangs on them."""

    size: int
    """One more than its greatest number."""
    trailer: bytes
    catalog: int
    info: int
    metadata: int
    labels: int
    pages: int
    outlines: int
    tree: int
    document: int
    kids: Sequence[int]
    """Its pages."""
    bookmarks: tuple[int, int, int]
    """First, last, and how many."""
    parts: Sequence[int]
    """Children of the one structure element under the root, the document."""
    lists: Mapping[int, int]
    """The parent tree: key of a page -> list of its elements."""
    headings: Mapping[bytes, int]
    """Headings of tables: name -> element."""
    roles: Mapping[bytes, bytes]

    @classmethod
    def of(cls, file: _File) -> _Tops:
        catalog = _of(b"Root", file.trailer)
        root = file.body(catalog)
        pages, tree, outlines = _of(b"Pages", root), _of(b"StructTreeRoot", root), _of(b"Outlines", root, must=False)
        kids = _references(_within(b"Kids", file.body(pages)))
        structure, marks = file.body(tree), file.body(outlines) if outlines else b""
        document = _references(_within(b"K", structure))
        text = file.body(document[0])
        if b"/Dests" in root or not all(file.body(n).startswith(b"<</Type/Page/") for n in kids):
            raise NotPlain("its pages have names, or branches")
        if len(document) != 1 or b"/S/Document" not in text or b"/Pg" in text:
            raise NotPlain("its structure tree is not one document")
        lists = [int(n) for n in _within(b"ParentTree<</Nums", structure).replace(b" 0 R", b"").split()]
        roles = re.search(rb"/RoleMap<<([^<>]*)>>", structure)
        pairs = re.findall(rb"/([^/\s]+)", roles[1]) if roles else []
        named = re.search(rb"/IDTree<</Names\[(.*?)\]>>", structure)
        count = re.search(rb"/Count (\d+)", marks)
        return cls(
            size=max(file.places) + 1,
            trailer=file.trailer,
            catalog=catalog,
            info=_of(b"Info", file.trailer),
            metadata=_of(b"Metadata", root),
            labels=_of(b"PageLabels", root, must=False),
            pages=pages,
            outlines=outlines,
            tree=tree,
            document=document[0],
            kids=kids,
            bookmarks=(_of(b"First", marks), _of(b"Last", marks), int(count[1])) if count else (0, 0, 0),
            parts=_references(_within(b"K", text)),
            lists=dict(zip(lists[::2], lists[1::2], strict=True)),
            headings={name: int(n) for name, n in HEADING.findall(named[1])} if named else {},
            roles=dict(zip(pairs[::2], pairs[1::2], strict=True)),
        )


# --- moving -----------------------------------------------------------------------------------------


def _pieces(text: bytes) -> Iterator[tuple[bytes, bool]]:
    """A dictionary in pieces: (piece, whether it is a string, its brackets about it) (ISO 32000-1, 7.3.4.2)."""
    depth = begun = 0
    for mark in PAREN.finditer(text) if b"(" in text else ():
        if mark[0] == b"(":
            if depth == 0:
                yield text[begun : mark.start()], False
                begun = mark.start()
            depth += 1
        elif mark[0] == b")":
            depth -= 1
            if depth == 0:
                yield text[begun : mark.end()], True
                begun = mark.end()
    yield text[begun:], False


def _moved(body: bytes, numbers: Mapping[int, int], pages: int, part: int) -> bytes:
    """An object with what it points to under the new numbers.

    Pages before it are added to its key in the parent tree, and the number of the part stands before the name of a
    heading of a table, here and where the cells below it list the names of theirs.
    """
    stream = STREAM.search(body)
    text, rest = (body[: stream.start()], body[stream.start() :]) if stream else (body, b"")
    made = []
    before, is_name = b"", False
    for piece, is_string in _pieces(text):
        if is_string:
            is_name = before.endswith((b"/ID", b"/Headers[")) or (is_name and not before)
            made.append(b"(%d-%b" % (part, piece[1:]) if is_name else piece)
        else:
            before = REFERENCE.sub(lambda found: b"%d 0 R" % numbers[int(found[1])], piece)
            before = TREE_KEY.sub(lambda found: b"%b%d" % (found[1], int(found[2]) + pages), before)
            made.append(before)
    return b"".join(made) + rest


# --- joining ----------------------------------------------------------------------------------------

ONCE = ("catalog", "info", "metadata", "labels", "pages", "outlines", "tree", "document")
"""What there is one of in a file, by its field in _Tops."""


def join(paths: Sequence[Path]) -> bytes:
    """One PDF of the files, page after page, with the title, date and language of the first.

    Raises NotPlain when a file is not laid out as the typesetter does.
    """
    joined = _Joined([_Tops.of(_File.read(path.read_bytes())) for path in paths])
    for n, path in enumerate(paths):
        joined.copy(n, _File.read(path.read_bytes()))
    return joined.finish(_File.read(paths[0].read_bytes()))


class _Joined:
    """The file as it is made: its bytes so far, and the place of each object by number."""

    def __init__(self, tops: Sequence[_Tops]) -> None:
        self.tops = tops
        self.bases = [0]
        """What is added to the numbers of each file."""
        self.pages = [0]
        """Pages before each file."""
        for one in tops:
            self.bases.append(self.bases[-1] + one.size - 1)
            self.pages.append(self.pages[-1] + len(one.kids))
        self.once = {name: next((self.bases[n] + k for n, one in enumerate(tops) if (k := getattr(one, name))), 0)
                     for name in ONCE}  # fmt: skip
        self.moved = [{getattr(one, name): self.once[name] for name in ONCE} for one in tops]
        """Of each file: what there is one of -> its number here."""
        self.places: dict[int, int] = {}
        self.made = bytearray(b"%PDF-1.7\n%\x80\x80\x80\x80\n\n")

    def number(self, n: int, k: int) -> int:
        """The number here of the n-th file's object k."""
        return self.moved[n].get(k, self.bases[n] + k)

    def copy(self, n: int, file: _File) -> None:
        """The objects of the n-th file, but for those that there is one of; those of the first keep their numbers."""
        numbers = {k: self.number(n, k) for k in file.places}
        first, last, _ = self.tops[n].bookmarks
        for k in file.places:
            if k in self.moved[n]:
                continue
            body = _moved(file.body(k), numbers, self.pages[n], n) if n else file.body(k)
            if k == first and (before := self._bookmark(range(n - 1, -1, -1), 1)):
                body = body.replace(b"<<", b"<</Prev %d 0 R" % before, 1)
            if k == last and (after := self._bookmark(range(n + 1, len(self.tops)), 0)):
                body = body.replace(b"<<", b"<</Next %d 0 R" % after, 1)
            self._write(numbers[k], body)

    def _bookmark(self, order: Iterable[int], end: int) -> int:
        """The first (0) or last (1) bookmark of the first of these files that has any; 0 for none."""
        return next((self.number(n, k) for n in order if (k := self.tops[n].bookmarks[end])), 0)

    def _write(self, number: int, body: bytes) -> None:
        self.places[number] = len(self.made)
        self.made += b"%d 0 obj\n%b\nendobj\n" % (number, body)

    def _all(self, field_: str) -> bytes:
        """References to all objects of such a list, file after file."""
        return b" ".join(b"%d 0 R" % self.number(n, k) for n, one in enumerate(self.tops) for k in getattr(one, field_))

    def finish(self, first: _File) -> bytes:
        """The whole file: what there is one of, made from the first file's, and the table of places."""
        mine = {name: getattr(self.tops[0], name) for name in ONCE}
        bodies = {name: first.body(k) if k else b"" for name, k in mine.items()}
        pages = self.pages[-1]
        bodies["pages"] = b"<</Type/Pages/Count %d/Kids[%b]>>" % (pages, self._all("kids"))
        bodies["labels"] = b"<</Nums[0<</Type/PageLabel/S/D/St 1>>]>>"
        bodies["outlines"] = b"<</Type/Outlines/First %d 0 R/Last %d 0 R/Count %d>>" % (
            self._bookmark(range(len(self.tops)), 0),
            self._bookmark(range(len(self.tops) - 1, -1, -1), 1),
            sum(one.bookmarks[2] for one in self.tops),
        )
        bodies["document"] = re.sub(rb"/K\[[^\]]*\]", b"/K[%b]" % self._all("parts"), bodies["document"], count=1)
        bodies["tree"] = self._tree()
        was, now = self._names(first)
        body = re.sub(rb"(?<=<xmpTPg:NPages>)\d+", b"%d" % pages, bodies["metadata"])
        for old, new in zip(was, now, strict=True):
            body = body.replace(b">%b<" % old, b">%b<" % new)
        stream = STREAM.search(body)
        length = body.rindex(b"\nendstream") - (stream.end() if stream else 0)
        bodies["metadata"] = re.sub(rb"(?<=/Length )\d+", b"%d" % length, body, count=1)
        for name in ONCE:
            if self.once[name]:
                self._write(self.once[name], bodies[name])
        start, size = len(self.made), self.bases[-1] + 1
        self.made += b"xref\n0 %d\n" % size
        for n in range(size):
            self.made += b"%010d 00000 n\r\n" % self.places[n] if n in self.places else b"0000000000 65535 f\r\n"
        root, info = self.once["catalog"], self.once["info"]
        self.made += b"trailer\n<</Size %d/Root %d 0 R/Info %d 0 R/ID[%b]>>\nstartxref\n%d\n%%%%EOF" % (
            size, root, info, b"".join(b"(%b)" % name for name in now), start,
        )  # fmt: skip
        return bytes(self.made)

    def _tree(self) -> bytes:
        """The root of the structure tree, with the lists of all pages and the headings of all tables."""
        tops = self.tops
        roles = {name: role for one in tops for name, role in one.roles.items()}
        lists = [(self.pages[n] + key, self.number(n, k)) for n, one in enumerate(tops) for key, k in one.lists.items()]
        names = sorted(
            (b"%d-%b" % (n, name) if n else name, self.number(n, k))
            for n, one in enumerate(tops)
            for name, k in one.headings.items()
        )
        return b"<</Type/StructTreeRoot/RoleMap<<%b>>/K[%d 0 R]/ParentTree<</Nums[%b]>>%b/ParentTreeNextKey %d>>" % (
            b"".join(b"/%b/%b" % role for role in roles.items()),
            self.once["document"],
            b" ".join(b"%d %d 0 R" % one for one in sorted(lists)),
            b"/IDTree<</Names[%b]>>" % b"".join(b"(%b)%d 0 R" % one for one in names) if names else b"",
            self.pages[-1],
        )

    def _names(self, first: _File) -> tuple[list[bytes], list[bytes]]:
        """The two names of the first file, and those of the joined one, made from the names of all."""
        was = re.findall(rb"\(([A-Za-z0-9+/=]+)\)", first.trailer)
        all_ = b"".join(one.trailer for one in self.tops)
        return was, [base64.b64encode(hashlib.sha256(b"%d" % k + all_).digest()[:16]) for k in range(len(was))]
