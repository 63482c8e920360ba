"""Records of what shows the work: they never make anything stronger, and what speaks against an item is told."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest

from jointcalc.check import check
from jointcalc.errors import InputErrors
from jointcalc.model.project import Project, read_project

FILE = """
[project]
title = "P"
[sheet.floor]
thickness = "1.2 mm"
grade = "S355MC"
[sheet.other]
thickness = "1.5 mm"
grade = "S355MC"
[[seam]]
id = "S1"
sheets = ["floor", "floor"]
weld_diameter = "5.5 mm"
pitch = "40 mm"
length = "400 mm"
edge = "9 mm"
shear = "1 kN"
[[seam]]
id = "S2"
sheets = ["other", "other"]
weld_diameter = "5.5 mm"
pitch = "40 mm"
length = "400 mm"
edge = "9 mm"
shear = "1 kN"
[[brace]]
id = "B1"
profile = "hat:top=50mm,depth=40mm,flange=25mm,t=1.5mm,r=2mm"
grade = "S355MC"
span = "1120 mm"
point = "750 N @ 560 mm"
"""


def project(*records: str) -> Project:
    return read_project(tomllib.loads(FILE + "".join(f"\n[[evidence]]\n{record}\n" for record in records)))


def codes(found: Project, n: int) -> list[str]:
    return [c.code for c in check(found.items[n]).cautions]


@pytest.fixture(scope="module")
def plain() -> Project:
    return project()


def test_a_lower_certificate_lowers_what_it_is_of_and_says_so(plain: Project) -> None:
    # EN 10149-2: S355MC has f_y 355 MPa and f_u 430 MPa at least
    found = project(
        'sort="certificate"\nsheets=["floor"]\nheat="H1"\nyield_strength="300 MPa"\ntensile_strength="400 MPa"'
    )
    sheets: list[Any] = [item.sheets[0] for item in found.items]  # type: ignore[attr-defined]
    assert [s.f_y for s in sheets] == [300.0, 355.0, 355.0]
    assert [s.f_u for s in sheets] == [400.0, 430.0, 430.0]
    assert codes(found, 0).count("certificate-below") == 2
    assert "certificate-below" not in codes(found, 1)
    lower, before = (check(p.items[0]).check("en1993-1-3.tearing").utilisation or 0.0 for p in (found, plain))
    assert lower == pytest.approx(before * 430 / 400)  # EN 1993-1-3 Table 8.5: tearing goes with f_u
    text = next(c.text for c in check(found.items[0]).cautions if c.code == "certificate-below")
    assert "heat H1" in text
    assert "300 MPa" in text
    assert "355 MPa" in text


def test_of_an_item_with_a_grade_of_its_own_too() -> None:
    found = project('sort="certificate"\nitems=["B1"]\nnumber="7"\nyield_strength="300 MPa"')
    assert found.items[2].yield_strength == 300.0  # type: ignore[attr-defined]
    assert "certificate-below" in codes(found, 2)
    # what speaks against an item stays on it in every search and variation
    assert found.items[2].but(span="1000 mm").noticed == found.items[2].noticed


def test_a_higher_certificate_raises_nothing(plain: Project) -> None:
    found = project(
        'sort="certificate"\nsheets=["floor","other"]\nyield_strength="500 MPa"\ntensile_strength="600 MPa"'
    )
    for item, before in zip(found.items, plain.items):
        assert check(item).json() == check(before).json()


def test_coupons_that_failed_or_left_small_buttons_stop() -> None:
    found = project('sort="coupons"\nitems="S1"\nbutton="5.6 5.4 mm"\npassed=false',
                    'sort="coupons"\nitems="S2"\nbutton="5.6 5.5 mm"\npassed=true')  # fmt: skip
    assert {"coupons-failed", "coupons-below"} <= set(codes(found, 0))
    assert not {"coupons-failed", "coupons-below"} & set(codes(found, 1))
    assert ["no-coupons" in codes(found, n) for n in (0, 1)] == [True, False]


def test_what_the_dossier_asks_of_the_file_is_kept() -> None:
    found = project('sort="photo"\nfile="a.jpg"\ntitle="Lap"\nitems=["S1"]', 'sort="photo"\nfile="b.jpg"\ntitle="All"')
    assert dict(found.made_of) == {"S1": ("floor",), "S2": ("other",), "B1": ()}
    assert [one.about("S1", ("floor",)) for one in found.evidence] == [True, False]


@pytest.mark.parametrize(
    ("record", "why"),
    [
        ('sort="foto"\nfile="f"\ntitle="x"', "did you mean 'photo'"),
        ('sort="photo"\ntitle="x"', "the picture file"),
        ('sort="photo"\nfile="f"', "what the photo shows"),
        ('sort="photo"\nfile="f"\ntitle="x"\nheat="H"', "sort = 'certificate'"),
        ('sort="certificate"\nheat="H"\nsheets="floor"', "the strengths"),
        ('sort="certificate"\nyield_strength="300 MPa"', r"which \[sheet.NAME\]"),
        ('sort="certificate"\nyield_strength="300 MPa"\nsheets="flor"', "did you mean 'floor'"),
        ('sort="certificate"\nyield_strength="300 MPa"\nitems="B1"\ngrade="DC04"', "S355MC"),
        ('sort="certificate"\nyield_strength="300"\nitems="B1"', "unit"),
        ('sort="photo"\nfile="f"\ntitle="x"\nitems="S9"', "not the id of an item"),
        ('sort="welding"\ntitle="x"', "who welded"),
        ('sort="coupons"\ntitle="x"', "what was measured"),
    ],
)
def test_a_record_that_says_nothing_or_the_wrong_thing_is_refused(record: str, why: str) -> None:
    with pytest.raises(InputErrors, match=why):
        project(record)
