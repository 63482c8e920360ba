"""Faults that the properties found, each as the one description that showed it."""

from __future__ import annotations

import pytest

from jointcalc.formula.core import Limit
from tests.properties.describe import judged


def test_a_zinc_row_begins_where_the_one_below_ends() -> None:
    """0.8 mm in inches is 0.8 mm and a rounding; the schedule of BS 1140 jumped from a 4 to a 5 mm tip by it."""
    sheet = {"thickness": "0.8 mm", "grade": "S350GD+Z"}
    inch = {**sheet, "thickness": f"{0.8 / 25.4!r} in"}
    data = {"weld_diameter": "4 mm", "pitch": "40 mm", "length": "400 mm", "edge": "9 mm", "shear": "1 kN"}
    tips = [judged("seam", {**data, "sheets": [s, s]}).values["schedule_tip"].value for s in (sheet, inch)]
    assert tips == [4.0, 4.0]


@pytest.mark.parametrize("rounding", (-1e-15, 0.0, 1e-15))
def test_an_open_limit_is_open_to_rounding_too(rounding: float) -> None:
    """3 mm from inches may be 2.9999999999999996 mm: it is no sheet under 3 mm for that."""
    assert not Limit("t", high=3.0, open_high=True).inside({"t": 3.0 * (1 + rounding)})
    assert not Limit("t", low=2.5, open_low=True).inside({"t": 2.5 * (1 + rounding)})
    assert Limit("t", high=3.0).inside({"t": 3.0 * (1 + rounding)})


def test_a_square_box_has_no_stiffer_axis() -> None:
    """Its two second moments differ by rounding only, and no more than that called for lateral buckling."""
    data = {"grade": "S350GD+Z", "span": "400 mm", "point": ["100 N @ 200 mm"]}
    boxes = (
        "box:depth=25mm,width=25mm,t=0.8mm,r=1mm",
        f"box:depth={25 / 25.4!r}in,width={25 / 25.4!r}in,t={0.8 / 25.4!r}in,r={1 / 25.4!r}in",
    )
    for profile in boxes:
        keys = [c.key for c in judged("brace", {**data, "profile": profile}).checks]
        assert not [k for k in keys if "lateral" in k]


def test_a_galvanised_bar_loses_its_zinc_on_the_thin_side() -> None:
    """EN 1993-1-3, 3.2.4(3): the steel is what is left without 275 g/m2 of zinc at 7140 kg/m3."""
    result = judged(
        "brace", {"profile": "bar:depth=30mm,width=3mm", "grade": "S350GD+Z", "span": "400 mm", "held": "both"}
    )
    assert result.values["area"].value == pytest.approx(30 * (3 - 275 / 7140), rel=1e-12)


def test_a_step_whose_bends_leave_no_flat() -> None:
    """It has nothing to buckle, and its working nothing to divide by."""
    lap = "lap:left=60mm,overlap=25mm,right=60mm,t=1.25mm"
    result = judged(
        "brace", {"profile": lap, "grade": "S350GD+Z", "span": "400 mm", "ends": "fixed", "spread": ["1.5 N/mm"]}
    )
    assert all(c.json() for c in result.checks)
    assert [c for c in result.checks if c.key == "aisi-s100.bending.hogging" and c.status in ("ok", "over")]


def test_fatigue_of_three_sheets_from_either_side() -> None:
    """Two interfaces share the thin sheet; the thicker pair bends the spot more, wherever it stands in the stack."""
    sheets = [{"thickness": f"{t} mm", "grade": "DC01"} for t in (0.5, 0.5, 0.6)]
    data = {
        "weld_diameter": "2.6 mm",
        "length": "50 mm",
        "pitch": "25 mm",
        "edge": "5 mm",
        "shear": "100 N",
        "cycles": 1e5,
    }
    lives = []
    for stack in (sheets, sheets[::-1]):
        result = judged("seam", {**data, "sheets": stack})
        lives += [c.capacity.value for c in result.checks if c.key == "rupp.spot-fatigue" and c.capacity]
    assert lives[0] == lives[1]


def test_pitch_in_compression_from_either_side() -> None:
    """Two sheets of one thickness: limit (c) and its floor, 1.11 t sqrt(E/f_y), are lower in the stronger of them."""
    sheets = [{"thickness": "0.5 mm", "grade": grade} for grade in ("DC01", "HC340LA")]
    data = {"weld_diameter": "2.6 mm", "length": "50 mm", "pitch": "25 mm", "edge": "5 mm", "shear": "100 N",
            "compression": "5 MPa", "flat_beside": "5 mm"}  # fmt: skip
    for stack in (sheets, sheets[::-1]):
        (check,) = [c for c in judged("seam", {**data, "sheets": stack}).checks if c.key == "aisi-s100.spot-pitch"]
        assert check.capacity
        assert check.capacity.value == pytest.approx(max(15.0, 1.11 * 0.5 * (203000 / 340) ** 0.5), rel=1e-12)


def test_peel_stress_of_two_sheets_of_one_thickness() -> None:
    """The stress is the same in both; the weaker one is the first to bend open, wherever it stands."""
    sheets = [{"thickness": "1 mm", "grade": grade} for grade in ("DC01", "HC340LA")]
    data = {
        "weld_diameter": "5 mm",
        "length": "50 mm",
        "pitch": "25 mm",
        "edge": "8 mm",
        "shear": "100 N",
        "peel": "50 N",
    }
    for stack in (sheets, sheets[::-1]):
        (check,) = [c for c in judged("seam", {**data, "sheets": stack}).checks if c.key == "rupp.peel-stress"]
        assert check.capacity
        assert check.capacity.value == 140.0


def test_stitches_in_plate_of_four_millimetres() -> None:
    """EN 1993-1-8, 4.1: from 4 mm on, in either system of units."""
    for thick in ("4 mm", f"{4 / 25.4!r} in", "3.9999999999999996 mm"):
        data = {"sheets": [{"thickness": thick, "grade": "S355MC"}], "lines": ["0 0 200 0 mm"], "leg": "4 mm", "filler": "E70",
                "force": "2 0 0 kN", "at": "100 0 0 mm", "stitch": "40 100 mm"}  # fmt: skip
        (gap,) = [c for c in judged("fillet", data).checks if c.key == "detail.stitch-gap-max"]
        assert gap.status in ("ok", "over")


def test_a_spot_of_the_least_class_cracks_in_the_sheet() -> None:
    """Its diameter is the limit itself, 3.5 sqrt(t); a rounding in the thickness moved the crack into the nugget."""
    shown = set()
    for thick in ("1 mm", f"{1 / 25.4!r} in", "1.0000000000000002 mm", "0.9999999999999999 mm"):
        sheet = {"thickness": thick, "grade": "DC01"}
        data = {"sheets": [sheet, sheet], "weld_diameter": "minimum", "length": "60 mm", "pitch": "30 mm", "edge": "6 mm",
                "shear": "500 N", "cycles": 1e5}  # fmt: skip
        for spot in ("minimum", "3.5 mm"):
            lives = [c for c in judged("seam", {**data, "weld_diameter": spot}).checks if c.key == "rupp.spot-fatigue"]
            shown |= {round(c.capacity.value / 1e3) for c in lives if c.capacity and c.capacity.value}
    assert len(shown) == 1
