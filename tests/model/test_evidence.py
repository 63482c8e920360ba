"""Records of what shows the work: they never make anything stronger, and what speaks against an item is told."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest

from jointcalc.check import check
from jointcalc.errors import InputErrors
from jointcalc.model.project import Project, read_project
from tests.small_project import small_project

FILE = (
    small_project({"S1": "floor", "S2": "other"}, floor="S355MC", other="S355MC")
    + """
[[brace]]
id = "B1"
profile = "hat:top=50mm,depth=40mm,flange=25mm,t=1.5mm,r=2mm"
grade = "S355MC"
span = "1120 mm"
point = "750 N @ 560 mm"
"""
)


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


SKIN = (
    'profile = "hat-skin:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm,skin=120mm,skin_t=1mm,weld=9mm"\n'
    'grade = "S355MC"\nskin_grade = "DC04"\nspan = "800 mm"\npoint = "300 N @ 400 mm"\n'
)


def braced(record: str, more: str = "") -> Any:
    text = f'[project]\ntitle = "P"\n[[brace]]\nid = "B1"\n{SKIN}{more}\n[[evidence]]\nsort = "certificate"\n{record}\n'
    return read_project(tomllib.loads(text)).items[0]


def test_a_certificate_of_a_skin_lowers_the_skin_alone() -> None:
    """EN 10130 lets 140 MPa be assumed of DC04 (from memory); a heat of 120 MPa is weaker than that."""
    typed = 'skin_yield_strength = "180 MPa"'
    whole = check(braced('items = ["B1"]\nyield_strength = "400 MPa"', typed))
    assert "certificate-below" not in [c.code for c in whole.cautions]
    lower = 'items = ["B1"]\ngrade = "DC04"\nyield_strength = "120 MPa"\ntensile_strength = "200 MPa"'
    made = braced(lower, typed)
    assert [round(sheet.f_y) for sheet in made.sheets] == [355, 120]
    assert [round(sheet.f_u) for sheet in made.sheets][1] == 200
    assert [c.code for c in check(made).cautions].count("certificate-below") == 2
    # of no grade it is of all of the item
    both = braced('items = ["B1"]\nyield_strength = "120 MPa"', typed)
    assert [round(sheet.f_y) for sheet in both.sheets] == [120, 120]


def test_a_certificate_of_another_grade_is_no_certificate_of_a_sheet() -> None:
    with pytest.raises(InputErrors, match="of DC04, and no sheet it names is"):
        project('sort="certificate"\nsheets=["floor"]\ngrade="DC04"\nyield_strength="100 MPa"')
    # a grade is the same however it is written
    found = project('sort="certificate"\nsheets=["floor"]\ngrade="s355mc"\nyield_strength="300 MPa"')
    assert "certificate-below" in codes(found, 0)


def test_a_lower_certificate_of_bolted_sheets_does_not_pass_by_their_plate() -> None:
    """A spreader plate takes no strengths of its own: what may be of it stops."""
    bolts = (
        '[project]\ntitle = "P"\n[sheet.floor]\nthickness = "1.2 mm"\ngrade = "DC04"\n[[bolts]]\nid = "K1"\n'
        'holes = ["0 0 mm"]\nbolt = "M8 8.8"\nsheets = ["floor"]\nedge = "30 mm"\nplate = "60 60 4 mm"\n'
        'force = "0 0 0.2 kN"\nat = "0 0 0 mm"\n[[evidence]]\nsort = "certificate"\nitems = ["K1"]\n'
        'yield_strength = "130 MPa"\n'
    )
    with pytest.raises(InputErrors, match="lies below S235JR, the grade of the plate"):
        read_project(tomllib.loads(bolts))
    assert read_project(tomllib.loads(f'{bolts}grade = "DC04"\n')).items
