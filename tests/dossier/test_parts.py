"""A dossier of many items is set in parts that are joined: nothing shows it but the memory it takes.

The joined file is read back by pypdf, a general-purpose library, in its strict mode.
"""

from __future__ import annotations

import io
import re
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader, PdfWriter
from pypdf.generic import ArrayObject, DictionaryObject

from jointcalc.dossier import Options, make_dossier, typeset
from jointcalc.dossier.joined import NotPlain, _moved, join
from jointcalc.model.project import Project
from jointcalc.result import Result
from tests.dossier.conftest import demo_data, judged, outline_titles, plain, tags, words_of

HOSTILE = "lap (of 3 0 R) /ID(U1x0y0) /Headers[(U1x0y0)] \\ ) >> stream"
"""What a PDF file says of itself, typed as a title."""
COUNT = typeset.FEW + 2


@pytest.fixture(scope="module")
def many() -> tuple[Project, list[Result]]:
    """Seams enough for two parts, two of each so that the checks are soon done; one has a hostile title."""
    data = demo_data()
    seams = [data["seam"][n % 2] | {"id": f"N{n}", "title": f"Lap {n}"} for n in range(COUNT)]
    seams[3]["title"] = HOSTILE
    return judged(data | {"seam": seams})


@pytest.fixture(scope="module")
def pdf(many: tuple[Project, list[Result]]) -> bytes:
    return make_dossier(*many, Options(steps="short"))


@pytest.fixture(scope="module")
def reader(pdf: bytes) -> PdfReader:
    return PdfReader(io.BytesIO(pdf), strict=True)


@pytest.fixture(scope="module")
def whole(many: tuple[Project, list[Result]]) -> PdfReader:
    """The same set in one part."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(typeset, "FEW", COUNT)
        return PdfReader(io.BytesIO(make_dossier(*many, Options(steps="short"))), strict=True)


def test_it_is_in_parts_and_reads_as_one_file(pdf: bytes, reader: PdfReader, whole: PdfReader) -> None:
    assert pdf.count(b"/Type/Catalog") == pdf.count(b"%%EOF") == 1
    # each part brings its own letters
    assert pdf.count(b"/FontFile3") > len(re.findall(b"/FontFile3", whole.stream.getvalue()))  # type: ignore[attr-defined]
    assert outline_titles(reader) == outline_titles(whole)
    assert f"N3 {HOSTILE}" in outline_titles(reader)
    assert reader.metadata == whole.metadata
    assert reader.trailer["/Root"]["/Lang"] == whole.trailer["/Root"]["/Lang"]


def test_every_word_and_tag_is_there_once(reader: PdfReader, whole: PdfReader) -> None:
    def words(of: PdfReader) -> list[str]:
        # where a page begins, and what its table repeats there, is another matter
        return sorted(set(re.sub(r"pages? \d+( of \d+)?", "page", words_of(of)).split()))

    assert words(reader) == words(whole)
    found, once = tags(reader), tags(whole)
    assert found[0] == once[0] == ("/Document", "")
    assert [tag for tag, _ in found].count("/Document") == 1
    for kind in ("/Figure", "/Formula", "/H1", "/Table", "/L"):
        assert [one for one in found if one[0] == kind] == [one for one in once if one[0] == kind], kind
    assert sum(tag == "/TD" for tag, _ in found) == sum(tag == "/TD" for tag, _ in once)


def test_pages_count_through_and_references_lead_where_they_say(reader: PdfReader) -> None:
    pages = [plain(page.extract_text()) for page in reader.pages]
    for n, text in enumerate(pages, 1):
        assert f"page {n} of {len(pages)}" in text
    assert list(reader.page_labels) == [str(n) for n in range(1, len(pages) + 1)]
    bookmarks = {plain(str(one.title)): reader.get_destination_page_number(one) + 1 for one in reader.outline}  # type: ignore[union-attr,arg-type,operator]
    titles = [title for title in bookmarks if re.match(r"N\d ", title)]
    assert len(titles) == COUNT
    for title in titles:
        row = re.search(rf"\b{title.split()[0]} .*?% (\d+)(?= N\d| Open|$)", pages[0])
        assert row, title
        assert int(row[1]) == bookmarks[title]
    said = re.findall(r"Cautions that hold for several items \(page (\d+)", " ".join(pages))
    assert {int(n) for n in said} == {bookmarks["Cautions"]}


def _elements(node: Any) -> list[DictionaryObject]:
    found, stack = [], [node]
    while stack:
        one = stack.pop()
        one = one.get_object() if hasattr(one, "get_object") else one
        if isinstance(one, ArrayObject):
            stack.extend(one)
        elif isinstance(one, DictionaryObject) and "/S" in one:
            found.append(one)
            stack.append(one.get("/K", ArrayObject()))
    return found


def test_structure_and_pages_know_each_other(reader: PdfReader) -> None:
    # ISO 32000-1, 14.7.4.4: a page's key leads to the elements of its content; 14.8.5.7: cells name headings by their ID
    tree = reader.trailer["/Root"]["/StructTreeRoot"]
    nums = tree["/ParentTree"]["/Nums"]
    lists = dict(zip(map(int, nums[::2]), nums[1::2]))
    assert sorted(lists) == list(range(len(reader.pages)))
    elements = _elements(tree["/K"])
    for page in reader.pages:
        mine = [one.get_object() for one in lists[int(page["/StructParents"])].get_object()]
        on_it = [one for one in mine if one.get("/Pg", page).get_object() == page]
        assert len(on_it) > 0.9 * len(mine)
        assert all(one in elements for one in mine[:20])
    ids = [str(one["/ID"]) for one in elements if "/ID" in one]
    assert len(ids) == len(set(ids)) > 10
    names = tree["/IDTree"]["/Names"]
    assert [str(name) for name in names[::2]] == sorted(ids)
    assert all(str(one.get_object()["/ID"]) == name for name, one in zip(names[::2], names[1::2]))
    asked = {
        str(name) for one in elements for attributes in one.get("/A", ()) for name in attributes.get("/Headers", ())
    }
    assert asked
    assert asked <= set(ids)


def test_same_bytes_whatever_the_machine(
    many: tuple[Project, list[Result]], pdf: bytes, monkeypatch: pytest.MonkeyPatch
) -> None:
    # fewer at once than there are parts: each answer by a process of its own; all of them dead, or none to be had: here
    monkeypatch.setattr(typeset, "AT_ONCE", 1)
    assert make_dossier(*many, Options(steps="short")) == pdf
    monkeypatch.setattr(typeset.setter, "__file__", "/nowhere.py")
    assert make_dossier(*many, Options(steps="short")) == pdf
    monkeypatch.setattr("sys.executable", "/no/python")
    assert make_dossier(*many, Options(steps="short")) == pdf


def test_many_items_are_set_in_groups_and_sections_follow_each_other() -> None:
    item = {key: key for keys in typeset.OF_ITEM.values() for key in keys} | {"working": lambda: "made late"}
    content: dict[str, Any] = {"steps": "full", "summary_only": False, "items": [item | {"n": n} for n in range(30)]}
    parts = typeset.parts_of(content)
    held = [part.of(content) for part in parts]
    assert max(len(one["items"]) for one in held) <= typeset.PART
    printed = [section for part in parts for section in part.prints]
    assert list(dict.fromkeys(printed)) == list(typeset.KEYS)
    assert [one["n"] for part in held if "items" in part["prints"] for one in part["items"]] == list(range(30))
    for section in ("inputs", "working"):
        assert sum(len(one["items"]) for one in held if section in one["prints"]) == 30
    # the long work is not done before it is asked for, and not for the pages that do not print it
    assert "working" not in held[0]["items"][0]
    assert [one["working"] for one in held[-1]["items"]] == ["made late"] * 10
    for section in ("front", "materials", "shared", "lists"):
        assert printed.count(section) == 1
    short = typeset.parts_of(content | {"steps": "none"})
    assert [one for part in short for one in part.prints] == ["front", "items", "items", "items", "lists"]


def test_a_file_laid_out_otherwise_is_refused_and_the_dossier_set_whole(
    many: tuple[Project, list[Result]], whole: PdfReader, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    writer = PdfWriter()
    writer.add_blank_page(100, 100)
    other = tmp_path / "other.pdf"
    writer.write(other)
    with pytest.raises(NotPlain):
        join([other, other])
    cut = tmp_path / "cut.pdf"
    cut.write_bytes(whole.stream.getvalue()[:-200])  # type: ignore[attr-defined]
    with pytest.raises(NotPlain):
        join([cut, cut])

    def refuse(paths: Any) -> bytes:
        raise NotPlain

    monkeypatch.setattr(typeset, "join", refuse)
    assert make_dossier(*many, Options(steps="short")) == whole.stream.getvalue()  # type: ignore[attr-defined]


def test_numbers_move_but_in_what_was_typed() -> None:
    # ISO 32000-1, 7.3.4.2: brackets in a string stand in pairs or behind a backslash
    body = b"<</Alt(see 3 0 R (or 4 0 R) \\( 5 0 R)/K[3 0 R 12]/StructParents 2/ID(U1x0y0)/A[<</Headers[(U1x0y0)(U2x0y0)]>>]>>"
    stream = b"\nstream\n3 0 R\nendstream"
    assert _moved(body + stream, {n: n + 10 for n in range(9)}, 5, 7) == (
        b"<</Alt(see 3 0 R (or 4 0 R) \\( 5 0 R)/K[13 0 R 12]/StructParents 7/ID(7-U1x0y0)"
        b"/A[<</Headers[(7-U1x0y0)(7-U2x0y0)]>>]>>" + stream
    )
