"""Tyre sizes and wheel tubs: sizes held against the tyre code's definition and a drawn mid-line."""

from __future__ import annotations

from math import acos, atan2, cos, pi, sin

import pytest
from shapely.geometry import LineString, Point, Polygon, box

from jointcalc.errors import InputError
from jointcalc.layout.dxf import dxf
from jointcalc.layout.parts import tub_blanks, tub_side_area, tub_wrap_area
from jointcalc.model.fields import build
from jointcalc.model.marking import Tub, tyre_size

from .projects import drawing, polygon, read_dxf

SHEET = {"thickness": "1.2 mm", "grade": "DC04"}


def tub(**changes: object) -> Tub:
    data: dict[str, object] = {"id": "T", "sheet": SHEET, "diameter": "700 mm", "section": "240 mm", "floor": "60 mm"}
    return build(Tub, {k: v for k, v in {**data, **changes}.items() if v is not None})


@pytest.mark.parametrize(
    ("code", "rim", "width", "ratio"),
    [("225/50R17", 17, 225, 50), ("205/65R15", 15, 205, 65), ("235/75 R 15", 15, 235, 75), ("P295/65R15", 15, 295, 65),
     ("195/75R16C", 16, 195, 75)],
)  # fmt: skip
def test_tyre_code(code: str, rim: int, width: int, ratio: int) -> None:
    """Size code of UN R30 (from memory): H = W x aspect ratio, D = d + 2 H; largest D with 1.04 H, width x 1.04."""
    assert tyre_size(code) == pytest.approx((25.4 * rim + 2 * 1.04 * width * ratio / 100, 1.04 * width))


def test_tyre_code_of_the_reference_example() -> None:
    """A 275/60R15 is nominally 711.0 mm and may measure up to 724 mm (UN R30 6.1.4.2 as recalled, from memory)."""
    assert tyre_size("275/60R15")[0] == pytest.approx(724.2, abs=0.3)
    assert tyre_size("31x10.5R15")[0] == pytest.approx(381 + (787.4 - 381) * 1.04)


@pytest.mark.parametrize("code", ["", "7.00-15", "275/60", "275/60R", "banana", "10x31R15"])
def test_tyre_codes_refused(code: str) -> None:
    with pytest.raises(InputError, match=r"measure|rim larger"):
        tyre_size(code)


def test_clearances_and_chains() -> None:
    """3 in on the diameter and 2 in on the width (common practice, no source); SAE J1232 class U 50 and 23 mm."""
    plain, chained, own = tub(), tub(chains="u"), tub(clearance="60 mm", side_clearance="40 mm", chains="S")
    assert (plain.radius, plain.inside_width) == pytest.approx((350 + 38, 240 + 50))
    assert (chained.radius, chained.inside_width) == pytest.approx((350 + 50, 240 + 50))  # 23 is less than 25
    assert (own.radius, own.inside_width) == pytest.approx((410, 320))


@pytest.mark.parametrize("floor", [0.0, 60.0, 200.0])
@pytest.mark.parametrize("r", [1.2, 4.0])
def test_wrap_length_is_that_of_a_drawn_mid_line(floor: float, r: float) -> None:
    """With the neutral fibre in the middle (K = 0.5) the blank is as long as the mid-line of the finished wrap.

    The finished wrap is drawn here from its faces: inner face on the radius, flange on the floor, a round
    between them that touches both; shapely measures it and confirms that nothing is sharper than it should be.
    """
    item = tub(floor=f"{floor} mm", r=f"{r} mm", k_factor=0.5)
    t, R, flange = 1.2, 388.0, 20.0
    rho = r + t  # outside of the bend: the wrap's inner face and the flange's lower face
    centre_y = floor + rho
    centre_x = ((R + rho) ** 2 - centre_y**2) ** 0.5
    phi = acos(centre_y / (R + rho))
    mid = [((R + t / 2) * sin(phi * k / 4000), (R + t / 2) * cos(phi * k / 4000)) for k in range(4001)]
    # the bend's mid-line runs at r + t/2 about its centre, from towards the wheel's centre to straight down
    start = (-centre_x / (R + rho), -centre_y / (R + rho))
    a0 = atan2(start[1], start[0])
    a1 = -pi / 2
    mid += [
        (centre_x + (r + t / 2) * cos(a0 + (a1 - a0) * k / 400), centre_y + (r + t / 2) * sin(a0 + (a1 - a0) * k / 400))
        for k in range(401)
    ]
    tip = (R**2 - floor**2) ** 0.5 + flange
    mid.append((tip, floor + t / 2))
    line = LineString(mid)
    assert line.is_simple
    b = tub_blanks(item)
    assert b.wrap_length == pytest.approx(2 * line.length, rel=1e-6)
    assert b.end_zone == pytest.approx(tip - centre_x, abs=1e-9)
    assert b.end_bend == pytest.approx(b.end_zone + phi * (r + t / 2) / 2, abs=1e-9)
    # the sheet keeps out of the tyre's clearance and off the floor
    sheet = line.buffer(t / 2 - 1e-3, cap_style="flat")
    assert not sheet.intersects(Point(0, 0).buffer(R - 2e-3, quad_segs=2000))
    assert not sheet.intersects(box(-1000, -1000, 1000, floor - 1e-3))


def test_wrap_width_and_strip_by_the_bend_deduction() -> None:
    """A square bend takes 2 (r + t) - pi/2 (r + K t) off the outside sizes (DIN 6935 form, K stated)."""
    item = tub(r="2 mm", k_factor=0.4, sides=2, flange="15 mm", floor_flange="22 mm")
    taken = 2 * (2 + 1.2) - pi / 2 * (2 + 0.4 * 1.2)
    b = tub_blanks(item)
    assert b.wrap_width == pytest.approx(290 + 2 * (15 - taken))
    assert b.side_strip == pytest.approx(22 - taken)
    assert tub_blanks(tub(r="2 mm", k_factor=0.4)).wrap_width == pytest.approx(290 + 15 - taken)


@pytest.mark.parametrize("sides", [1, 2])
def test_blanks_in_the_dxf_have_the_areas_counted(sides: int) -> None:
    item = tub(sides=sides)
    b = tub_blanks(item)
    doc = read_dxf(dxf(drawing(item)))
    shapes = sorted((polygon(e) for e in doc.modelspace().query('LWPOLYLINE[layer=="CUT"]')), key=lambda s: s.area)
    wrap, side = shapes if shapes[0].bounds[2] - shapes[0].bounds[0] > 1000 else shapes[::-1]
    assert wrap.is_valid
    assert side.is_valid
    assert wrap.area == pytest.approx(tub_wrap_area(item), rel=1e-6)
    assert side.area == pytest.approx(tub_side_area(item), rel=1e-5)
    # the side again, as a circle cut by the floor and a strip below, by shapely
    radius = 388 + 15
    segment = Point(0, 0).buffer(radius, quad_segs=4000).intersection(box(-500, 60, 500, 500))
    half = (radius**2 - 60**2) ** 0.5
    again = segment.union(box(-half, 60 - b.side_strip, half, 60))
    assert isinstance(again, Polygon)
    assert side.symmetric_difference(again).area < 1e-4 * side.area
    bends = list(doc.modelspace().query('LINE[layer=="BEND_UP"]'))
    assert len(bends) == 1 + 2 + sides


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"tyre": "275/60R15"}, "not both"),
        ({"diameter": None, "section": None}, "tyre"),
        ({"tyre": "275/60R15", "diameter": None}, "section"),
        ({"section": None}, "section"),
        ({"floor": "388 mm"}, "leaves nothing"),
        ({"floor": "-5 mm"}, "negative"),
        ({"flange": "2 mm"}, "used up"),
        ({"chains": "X"}, "not a class"),
        ({"sides": 3}, "two"),
        ({"k_factor": 1.5}, "between 0 and 1"),
        ({"width": "4 mm"}, "used up"),
        ({"count": 0}, "1 to 50"),
        ({"colour": "red"}, "unknown key"),
    ],
)
def test_tubs_refused(changes: dict[str, object], words: str) -> None:
    with pytest.raises(InputError, match=words):
        tub(**changes)


def test_a_steered_wheel_widens_its_tub() -> None:
    """By the corners of the tyre's rectangle, turned about the king pin and cut at the height of the floor."""
    lock, pin, w = 0.6, 40.0, 240.0
    steered = tub(steer=f"{lock} rad", kingpin=f"{pin} mm", sides=2)
    c = (350.0**2 - 60.0**2) ** 0.5
    inboard = max(c * sin(a) + w / 2 * cos(a) + pin * (1 - cos(a)) for a in (lock * k / 500 for k in range(501)))
    outboard = max(c * sin(a) + w / 2 * cos(a) - pin * (1 - cos(a)) for a in (lock * k / 500 for k in range(501)))
    assert steered.inside_width == pytest.approx(inboard + outboard + 50, rel=1e-3)
    # with one side the body is the other: outboard only the tyre straight ahead is in the tub
    assert tub(steer=f"{lock} rad", kingpin=f"{pin} mm").inside_width == pytest.approx(inboard + w / 2 + 50, rel=1e-3)
    reach = max(
        ((350.0**2 - z**2) ** 0.5 * cos(a) + (pin + w / 2) * sin(a)) ** 2 + z**2
        for a in (lock * k / 200 for k in range(201))
        for z in (60 + 290 * k / 200 for k in range(201))
    ) ** 0.5  # fmt: skip
    assert steered.radius == pytest.approx(reach + 38, rel=1e-3)
    straight = tub(steer="0.001 deg")
    assert (straight.radius, straight.inside_width) == pytest.approx((tub().radius, tub().inside_width), abs=0.05)


def test_travel_is_taken_off_the_floor() -> None:
    assert tub(floor="100 mm", travel="40 mm").half_angle == tub(floor="60 mm").half_angle
    assert tub_blanks(tub(floor="100 mm", travel="40 mm")) == tub_blanks(tub(floor="60 mm"))
    with pytest.raises(InputError, match="lifts the wheel's centre over the floor"):
        tub(travel="80 mm")


def test_a_tub_too_narrow_is_told() -> None:
    """What the tyre and its clearance need, against the width that is drawn."""
    narrow = drawing(tub(width="280 mm"))
    assert any(note.startswith("TOO NARROW") and "290" in note for note in narrow.notes)
    assert not any(note.startswith("TOO NARROW") for note in drawing(tub(width="290 mm")).notes)
    told = drawing(tub(width="290 mm", steer="30 deg"))
    assert any(note.startswith("TOO NARROW") for note in told.notes)
    assert any(note.startswith("Steered 30°") for note in told.notes)
    assert any("taken not to steer" in note for note in drawing(tub()).notes)
    assert any("not judged" in note for note in drawing(tub(section=None, width="300 mm")).notes)


def test_a_steered_tub_refused() -> None:
    with pytest.raises(InputError, match="steer: is missing"):
        tub(kingpin="40 mm")
    with pytest.raises(InputError, match="depends on its width"):
        tub(section=None, width="300 mm", steer="30 deg")
    with pytest.raises(InputError, match="lies over the tyre"):
        tub(floor="360 mm", steer="30 deg")
