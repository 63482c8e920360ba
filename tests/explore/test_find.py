"""The library's face: checking a project, comparing, searching any kind, and results that fit a line."""

from __future__ import annotations

from html.parser import HTMLParser
from typing import Any

import pytest

import jointcalc
from jointcalc import Brace, InputError, Result, Results, SpotSeam, check, compare, find, sensitivity
from jointcalc.model.project import read_project

SHEET = {"thickness": 1.2, "grade": "DC04"}
SEAM: dict[str, Any] = {
    "id": "S1", "sheets": [SHEET, SHEET], "weld_diameter": 5.5, "pitch": 40.0, "length": 1200.0, "edge": 9.0, "shear": 12e3,
}  # fmt: skip


def project(**changes: Any) -> Any:
    seam = {"id": "S1", "sheets": ["a", "a"], "weld_diameter": "5.5 mm", "pitch": "40 mm", "length": "1200 mm", "edge": "9 mm",
            "shear": "12 kN"}  # fmt: skip
    sheet = {"thickness": "1.2 mm", "grade": "DC04"}
    return read_project(
        {"project": {"title": "t"}, "sheet": {"a": sheet}, "seam": [seam, {**seam, "id": "S2", **changes}]}
    )


def test_a_project_is_checked_item_by_item() -> None:
    results = check(project(shear="900 kN"))
    assert isinstance(results, Results)
    assert [r.status for r in results] == ["ok", "over"]
    assert results.status == "over"
    assert results["S1"] is results[0]
    assert results[:1].status == "ok"
    assert "1 ok, 1 over" in repr(results)
    assert len(repr(results).splitlines()) <= 3
    assert len({(c.code, c.text) for c in results.cautions}) == len(results.cautions)
    with pytest.raises(InputError, match="S1"):
        results["S11"]
    assert jointcalc.check(project())[1].json() == {**results[0].json(), "id": "S2"}


def test_what_cannot_be_judged_is_refused_in_words() -> None:
    for wrong in (3, "seam", {"pitch": 1}, None):
        with pytest.raises(InputError, match="cannot be judged"):
            check(wrong)  # type: ignore[call-overload]


class _Cells(HTMLParser):
    """Text by tag; raises on a tag that is closed in the wrong order."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.texts: list[str] = []

    def handle_starttag(self, tag: str, attrs: Any) -> None:
        self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.texts.append(data)


def test_a_result_fits_two_lines_and_shows_as_a_table() -> None:
    seam = SpotSeam(**{**SEAM, "id": "<S&1>", "shear": 900e3})
    result = check(seam)
    for shown in (repr(result), repr(result.checks[0]), repr(compare([seam]))):
        assert len(shown) < 400
        assert len(shown.splitlines()) <= 3
    assert "does not hold" in repr(result)
    for html in (result._repr_html_(), compare([seam])._repr_html_()):
        read = _Cells()
        read.feed(html)
        assert not read.open
        assert "<S&1>" in " ".join(read.texts)
    assert all(c.key in result._repr_html_() for c in result.checks)
    assert result.check(result.governing or "").status == "over"
    with pytest.raises(InputError, match=r"en1993-1-3\.tearing"):
        result.check("en1993-1-3.tear")


def test_every_kind_is_searched_through_its_record() -> None:
    assert find(SpotSeam(**SEAM), "pitch").result.values["found"].value == 40
    brace = {"grade": "S355MC", "span": 1000.0, "point": "300 N @ 500 mm"}
    hat = "hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm"
    lightest = find({**brace, "profile": hat.replace("depth=30mm", "depth=30..40mm")}, "lightest", kind="brace")
    assert lightest.result.status == "ok"
    for item, kind in (
        (Brace(**brace, profile=hat), ""),
        ({}, "seam"),
        ({}, "fillet"),
        ({}, "plug"),
        ({}, "bolts"),
        ({}, "panel"),
    ):
        with pytest.raises(InputError, match="cannot be searched"):
            find(item, "colour", kind=kind)
    with pytest.raises(InputError, match="seam"):
        find(SEAM, "pitch", kind="seem")


def test_sensitivity_judges_the_item_itself_when_no_result_is_given() -> None:
    seam = SpotSeam(**SEAM)
    result: Result = check(seam)
    assert [c.what for c in sensitivity(seam)] == [c.what for c in sensitivity(seam, result)]
