"""Texts and numbers: a model reads either, and they are the same thing; a project file takes texts only."""

from __future__ import annotations

from typing import Any

import pytest

from jointcalc import Brace, FastenerGroup, FilletGroup, InputError, PlugRow, SpotSeam, check
from jointcalc.model.fields import Item, build
from jointcalc.model.project import read_project

SHEET = {"thickness": "1.2 mm", "grade": "DC04", "yield_strength": "210 MPa"}
BARE_SHEET = {"thickness": 1.2, "grade": "DC04", "yield_strength": 210}
PAIRS: list[tuple[type[Item], dict[str, Any], dict[str, Any]]] = [
    (SpotSeam,
     {"sheets": [SHEET, SHEET], "weld_diameter": "5.5 mm", "pitch": "40 mm", "length": "1.2 m", "edge": "9 mm", "shear": "12 kN",
      "moment": "0.1 kN*m"},
     {"sheets": [BARE_SHEET, BARE_SHEET], "weld_diameter": 5.5, "pitch": 40, "length": 1200.0, "edge": 9, "shear": 12e3,
      "moment": 1e5}),
    (PlugRow,
     {"sheets": [SHEET, SHEET], "hole": "8 mm", "pitch": "50 mm", "length": "300 mm", "edge": "12 mm", "shear": "-2 kN"},
     {"sheets": [BARE_SHEET, BARE_SHEET], "hole": 8.0, "pitch": 50, "length": 300, "edge": 12.0, "shear": -2000.0}),
    (FastenerGroup,
     {"holes": ["0 0 mm", "60 0 mm"], "bolt": "M8 8.8", "sheets": [SHEET], "edge": "20 mm", "force": "0 -1 0 kN", "at": "30 0 0 mm"},
     {"holes": [(0, 0), [60, 0.0]], "bolt": "M8 8.8", "sheets": [BARE_SHEET], "edge": 20, "force": (0, -1e3, 0), "at": (30, 0, 0)}),
    (FilletGroup,
     {"lines": ["0 0 100 0 mm"], "leg": "3 mm", "sheet": SHEET, "filler": "E70", "force": "0 -2 0 kN", "at": "50 0 0 mm"},
     {"lines": [[0, 0, 100, 0]], "leg": 3, "sheet": BARE_SHEET, "filler": "E70", "force": [0, -2000, 0], "at": [50, 0, 0]}),
    (Brace,
     {"profile": "hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm", "grade": "S355MC", "span": "1000 mm",
      "point": "500 N @ 500 mm", "yield_strength": "300 MPa"},
     {"profile": "hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm", "grade": "S355MC", "span": 1000,
      "point": "500 N @ 500 mm", "yield_strength": 300.0}),
]  # fmt: skip


@pytest.mark.parametrize("kind,texts,numbers", PAIRS, ids=[kind.__name__ for kind, _, _ in PAIRS])
def test_numbers_are_the_texts_in_n_mm_mpa(kind: type[Item], texts: dict[str, Any], numbers: dict[str, Any]) -> None:
    """1 m = 1000 mm, 1 kN = 1000 N, 1 kN*m = 10^6 N*mm (SI)."""
    described = kind(**texts)
    assert described.model_dump() == kind(**numbers).model_dump()
    assert check(described).json() == check(build(kind, numbers)).json()


@pytest.mark.parametrize("value,why", [
    (40.0, "has no unit"), (40, "has no unit"), ([40.0, 50.0], "a text with a unit is needed"), (True, "truth value"),
])  # fmt: skip
def test_a_project_file_takes_no_bare_number(value: Any, why: str) -> None:
    item = {"id": "S1", "sheets": ["a", "a"], **{k: v for k, v in PAIRS[0][1].items() if k != "sheets"}, "pitch": value}
    with pytest.raises(InputError, match=why):
        read_project({"project": {"title": "t"}, "sheet": {"a": SHEET}, "seam": [item]})
    bare = {"project": {"title": "t"}, "sheet": {"a": BARE_SHEET}, "seam": [{**item, "pitch": "40 mm"}]}
    with pytest.raises(InputError, match="has no unit"):
        read_project(bare)
    assert SpotSeam(**PAIRS[0][2]).pitch == 40  # and afterwards a program's numbers are read again


def test_a_brace_of_a_project_file_builds_its_own_sheets_from_numbers() -> None:
    item = {"id": "B1", **PAIRS[4][1]}
    read = read_project({"project": {"title": "t"}, "brace": [item]}).items[0]
    assert read.model_dump() == Brace(**item).model_dump()


@pytest.mark.parametrize("value", [True, float("nan"), float("inf"), -40.0, 1e9, 0.0, "40", [40.0]])
def test_what_is_no_size_is_refused_as_before(value: Any) -> None:
    with pytest.raises(InputError, match="pitch"):
        SpotSeam(**{**PAIRS[0][2], "pitch": value})


@pytest.mark.parametrize(
    "value", [(0.0, -1e3), (0.0, True, 0.0), (0.0, float("nan"), 0.0), (0.0, 1e30, 0.0), ("0", "1 N", "0")]
)
def test_a_list_of_numbers_is_judged_as_a_text_is(value: Any) -> None:
    with pytest.raises(InputError, match="force"):
        FilletGroup(**{**PAIRS[3][2], "force": value})


def test_every_fault_is_told_at_once_and_as_an_input_error() -> None:
    with pytest.raises(InputError) as told:
        SpotSeam(**{**PAIRS[0][2], "pitch": -1.0, "edge": "9", "shere": 1.0})
    assert all(word in str(told.value) for word in ("pitch", "edge", "shere", "shear"))


def test_but_changes_one_thing_and_judges_it_anew() -> None:
    seam = SpotSeam(**PAIRS[0][1])
    assert seam.but(pitch=50.0).model_dump() == SpotSeam(**{**PAIRS[0][1], "pitch": "50 mm"}).model_dump()
    assert seam.but(pitch=None, count=12).spots == 12
    assert seam.pitch == 40
    with pytest.raises(InputError, match="pitch"):
        seam.but(pitch=2000.0)
