"""What makes a blank larger than its part, and what cannot be built: ends of braces, steps, plates that meet."""

from __future__ import annotations

from math import acos, pi, sin
from pathlib import Path
from typing import Any

import ezdxf.bbox
import pytest
import shapely

from jointcalc.check import check
from jointcalc.errors import InputError
from jointcalc.files import write_folder
from jointcalc.layout import drawing as drawn
from jointcalc.layout.cutlist import cut_list
from jointcalc.layout.dxf import dxf
from jointcalc.layout.parts import panel as view
from jointcalc.model.fields import build
from jointcalc.model.marking import Part
from jointcalc.model.panel import Panel
from jointcalc.statics.bead import path

from .projects import drawing, everything, project, read_dxf

SHEET = {"thickness": "1.2 mm", "grade": "DC04"}
BRACE = """
[project]
title = "x"
[[brace]]
id = "B"
profile = "{}"
grade = "S235JR"
span = "1000 mm"
point = ["100 N @ 500 mm"]
{}
"""
HAT = "hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm"


def listed(text: str) -> Any:
    return cut_list("x", project(text).items, stock=[(2500.0, 1250.0)], kerf=2.0, margin=5.0)


@pytest.mark.parametrize(
    ("ends", "length"),
    [
        ('bearing = "40 mm"\noverhang = "25 mm"', 1000 + 2 * (20 + 25)),
        ('bearing = "40 mm"', 1040),
        ("", 1010),  # the least bearing that is judged with, 10 mm
        ('bearing = "40 mm"\noverhang = "25 mm"\nends = "cantilever"', 1045),  # nothing at the free end
    ],
)
def test_a_brace_is_cut_to_its_span_and_its_ends(ends: str, length: float) -> None:
    """Spans run from middle to middle of the bearings: half a bearing and the overhang stand beyond (geometry)."""
    made = listed(BRACE.format(HAT, ends))
    assert made.cuts[0].length == pytest.approx(length)
    assert any("State them before it is cut" in note for note in made.notes()) == (not ends)
    tube = listed(BRACE.format("tube:od=40mm,t=2mm", ends))
    assert tube.sections[0].length == pytest.approx(length)
    blank = drawing(project(BRACE.format(HAT, ends)).items[0])
    assert any(f"{length:g}" in note for note in blank.notes)


def stepped(**changes: Any) -> Part:
    data = {"id": "A", "size": "300 200 mm", "sheet": SHEET, "step": "1.2 mm", "step_at": "22 mm", **changes}
    return build(Part, data)


def test_the_blank_of_a_stepped_part_is_longer_than_its_plan() -> None:
    """Two arcs about the middle of the sheet, R = r + t/2, that set it off by h: h = 2 R (1 - cos a); the arcs are
    2 R a long and 2 R sin a wide (derivation)."""
    R, h = 1.2 + 0.6, 1.2
    a = acos(1 - h / (2 * R))
    grown = 2 * R * (a - sin(a))
    for side, wanted in (("upper", (300, 200 + grown)), ("left", (300 + grown, 200))):
        part = stepped(step_side=side)
        assert part.blank == pytest.approx(wanted)
        d = drawing(part)
        (outline,) = read_dxf(dxf(d)).modelspace().query('LWPOLYLINE[layer=="CUT"]')
        points = outline.get_points()
        assert (max(p[0] for p in points), max(p[1] for p in points)) == pytest.approx(wanted)
        assert "Step seen from its end" in d.details[0].title
    # a square step of 20 mm with 2 mm radius: 2 R = 5.2, two quarter arcs and a straight of 20 - 5.2
    deep = stepped(step="20 mm", step_radius="2 mm")
    assert deep.joggle is not None
    assert deep.joggle.angle == pytest.approx(pi / 2)
    assert deep.blank[1] - 200 == pytest.approx(2 * 2.6 * pi / 2 + 20 - 5.2 - 5.2)


def test_holes_of_a_stepped_part_move_with_the_step() -> None:
    part = stepped(step="20 mm", holes=["50 50 9 mm", "50 190 9 mm"])
    grown = part.blank[1] - 200
    assert part.on_flat(50, 50) == (50, 50)
    assert part.on_flat(50, 190) == pytest.approx((50, 190 + grown))
    assert part.on_flat(50, 190)[1] > part.step_zone[1]
    lower = stepped(step="20 mm", step_side="lower", holes=["50 10 9 mm", "50 190 9 mm"])
    assert lower.on_flat(50, 10)[1] == 10
    assert lower.on_flat(50, 190)[1] == pytest.approx(190 + grown)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"step": None}, "there is no step"),
        ({"step_at": None}, "how far from its side"),
        ({"step_at": "198 mm"}, "do not fit"),
        ({"holes": ["50 176 9 mm"]}, "lies in the step"),
        ({"step": "0.01 mm"}, "accepted is 0.1"),
        ({"corner": "30 mm"}, "runs into the step"),
    ],
)
def test_steps_refused(changes: dict[str, Any], words: str) -> None:
    data = {"id": "A", "size": "300 200 mm", "sheet": SHEET, "step": "1.2 mm", "step_at": "22 mm", **changes}
    with pytest.raises(InputError, match=words):
        build(Part, {key: value for key, value in data.items() if value is not None})


PLATES = """
[project]
title = "x"
[[bolts]]
id = "M"
holes = ["0 0 mm", "{} mm"]
bolt = "M8 8.8"
sheets = [{{thickness = "1.2 mm", grade = "DC04"}}]
plate = "100 50 3 mm"
edge = "60 mm"
between = "300 mm"
force = "0 0 400 N"
at = "0 0 0 mm"
"""


@pytest.mark.parametrize(
    ("other", "meets"), [("60 0", True), ("99 49", True), ("100 0", False), ("0 50", False), ("0 -40", True)]
)
def test_plates_that_lie_over_one_another_stop_the_layout_and_are_said(other: str, meets: bool) -> None:
    """Two rectangles of 100 x 50 meet when they are nearer than 100 along and nearer than 50 across (geometry)."""
    (item,) = project(PLATES.format(other)).items
    found = {c.code: c for c in check(item).cautions}
    assert ("plates-overlap" in found) == meets
    if not meets:
        assert drawing(item).entities
        return
    assert found["plates-overlap"].severity == "stop"
    with pytest.raises(InputError, match="cannot be built as described"):
        drawing(item)


def test_a_seam_that_may_be_a_braces_weld_line_is_named() -> None:
    text = """
[project]
title = "x"
[sheet.a]
thickness = "1.2 mm"
grade = "DC04"
[[brace]]
id = "B"
profile = "hat-skin:top=50mm,depth=40mm,flange=25mm,t=1.2mm,r=2mm,skin=120mm,skin_t=1.2mm,weld=10mm"
grade = "DC04"
span = "1000 mm"
point = ["100 N @ 500 mm"]
{}
[[seam]]
id = "S"
sheets = ["a", "a"]
weld_diameter = "5 mm"
pitch = "40 mm"
length = "1000 mm"
edge = "10 mm"
shear = "1 kN"
"""
    twice = listed(text.format('pitch = "40 mm"'))
    assert twice.alike == [("S", "B")]
    assert sum(j.spots for j in twice.joints) == 75
    once = listed(text.format('welded_by = "S"'))
    assert not once.alike
    assert sum(j.spots for j in once.joints) == 50


@pytest.mark.parametrize("name", ["S1", "B1", "F1", "BR1", "T1", "GP"])
def test_the_extents_hold_all_that_is_drawn(name: str) -> None:
    """$EXTMIN and $EXTMAX against the bounding box that the library works out of its own reading."""
    doc = read_dxf(dxf(drawing(everything()[name])))
    box = ezdxf.bbox.extents(doc.modelspace(), fast=True)
    low, high = doc.header["$EXTMIN"], doc.header["$EXTMAX"]
    for k in (0, 1):
        assert low[k] <= box.extmin[k] + 1e-6
        assert high[k] >= box.extmax[k] - 1e-6
        assert high[k] - low[k] < 1.5 * box.size[k] + 60


def test_a_new_folder_appears_whole_or_not_at_all(tmp_path: Path) -> None:
    write_folder(tmp_path / "a" / "b", {"one.txt": "1", "two.txt": b"2"})
    assert sorted(p.name for p in (tmp_path / "a" / "b").iterdir()) == ["one.txt", "two.txt"]
    assert [p.name for p in (tmp_path / "a").iterdir()] == ["b"]
    with pytest.raises(InputError):
        write_folder(tmp_path / "c" / "d", {"one.txt": "1", "x" * 300: "2"})
    assert not (tmp_path / "c").exists()


@pytest.mark.parametrize(
    "bead", ["arc:depth=6mm,width=25mm,pitch=60mm", "trapezoid:depth=5mm,flat=12mm,width=30mm,pitch=80mm"]
)
def test_a_bead_is_drawn_cut_across_with_its_width_and_its_rise(bead: str) -> None:
    """The sheet is its mid-line made wide by its thickness: shapely's buffer of the line, flat at the ends, is the same."""
    panel = build(Panel, {"id": "F1", "size": "600 400 mm", "sheet": SHEET, "bead": bead, "pressure": "1 kPa"})
    made = view(panel, "metric")
    assert made is not None
    assert panel.pattern is not None
    (cut,) = made.details
    (faces,) = [one for one in cut.entities if isinstance(one, drawn.Path)]
    sheet = shapely.Polygon([(x, z) for x, z, _ in faces.points])
    t, depth = 1.2, panel.pattern.depth
    line = shapely.LineString(path(panel.pattern, t))
    true = line.buffer(t / 2, cap_style="flat", join_style="mitre")
    # both are polygons of short pieces: what tells them apart is less than a fiftieth of the thickness along the line
    assert sheet.symmetric_difference(true).area < t / 50 * line.length
    low, high = sheet.bounds[1], sheet.bounds[3]
    assert high - low == pytest.approx(depth + t, rel=1e-3)
    wide, rise = (one for one in cut.entities if isinstance(one, drawn.Dim))
    assert wide.x2 - wide.x1 == pytest.approx(panel.pattern.width)
    assert rise.y2 - rise.y1 == pytest.approx(depth)
    assert rise.y2 == pytest.approx(high, rel=1e-3)
