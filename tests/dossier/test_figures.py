"""Drawings: true to scale, the same for the same input, readable without colour and without eyes."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from typing import Any

import pytest

from jointcalc.check import check
from jointcalc.dossier.figures import figures_of
from jointcalc.dossier.figures.bars import draw_bars
from jointcalc.dossier.figures.canvas import SCALES, WIDTH, Canvas, Picture, scale_for, text_width
from jointcalc.dossier.figures.plan import Around, draw_plan
from jointcalc.model.project import read_project
from jointcalc.quantity.show import show
from jointcalc.registry import KINDS
from jointcalc.result import Result
from tests.dossier.conftest import demo_data, judged

SHEETS: dict[str, Any] = {"a": {"thickness": "3 mm", "grade": "S355MC"}, "b": {"thickness": "1.2 mm", "grade": "DC04"}}
ITEMS: dict[str, dict[str, Any]] = {
    "seam": {"sheets": ["b", "b"], "weld_diameter": "5.5 mm", "pitch": "40 mm", "length": "400 mm", "edge": "9 mm", "shear": "2 kN"},
    "plug": {"sheets": ["b", "a"], "hole": "8 mm", "slot": "16 mm", "length": "300 mm", "pitch": "50 mm", "edge": "12 mm",
             "rows": 2, "row_spacing": "30 mm", "shear": "3 kN"},
    "bolts": {"holes": ["0 0 mm", "60 0 mm", "0 50 mm", "60 50 mm"], "bolt": "M8 8.8", "sheets": ["a", "b"], "edge": "20 mm",
              "force": "0 -4 -1 kN", "at": "120 25 10 mm"},
    "fillet": {"lines": ["0 0 100 0 mm", "0 0 0 80 mm", "0 80 100 80 mm"], "leg": "3 mm", "sheet": "a", "filler": "E70",
               "force": "0 -2 1 kN", "at": "150 40 0 mm"},
    "brace": {"profile": "hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm", "grade": "S355MC", "span": "1000 mm",
              "point": "750 N @ 500 mm", "ends": "fixed pinned"},
    "panel": {"size": "600 400 mm", "sheet": "b", "bead": "arc:depth=6mm,width=25mm,pitch=75mm", "edges": "clamped",
              "patch": "750 N"},
    "mount": {"feet": ["0 0 0 mm", "300 0 0 mm", "0 200 0 mm", "300 200 0 mm"], "mass": "18 kg", "centre": "150 120 160 mm",
              "acceleration": "8 2 -1 g", "bolt": "M8 8.8", "sheets": ["b"], "edge": "40 mm"},
}  # fmt: skip


def result_of(kind: str, **changes: Any) -> Result:
    data = {"project": {"title": "t"}, "sheet": SHEETS, kind: [{"id": "X1", **ITEMS[kind], **changes}]}
    return check(read_project(data).items[0])


def texts(picture: Picture) -> list[str]:
    """All lettering of a drawing."""
    root = ET.fromstring(picture.svg)
    return ["".join(node.itertext()) for node in root.iter("{http://www.w3.org/2000/svg}text")]


def lettering(picture: Picture) -> list[tuple[float, float, float, float, str]]:
    """(left, right, low, high, text) of unturned lettering in mm from the upper left corner; one letter is 0.602 em wide."""
    found = []
    for node in ET.fromstring(picture.svg).iter("{http://www.w3.org/2000/svg}text"):
        if "x" not in node.attrib:
            continue  # turned
        style = dict(part.split(": ", 1) for part in node.attrib["style"].split("; "))
        size = (
            float(style["font-size"].removesuffix("px"))
            if "font-size" in style
            else float(re.findall(r"([\d.]+)px", node.attrib["style"])[0])
        )
        text = "".join(node.itertext())
        x, y, wide = float(node.attrib["x"]), float(node.attrib["y"]), 0.602 * size * len(text)
        left = {"start": x, "middle": x - wide / 2, "end": x - wide}[style["text-anchor"]]
        found.append(
            (
                left * 25.4 / 72,
                (left + wide) * 25.4 / 72,
                (y - size * 0.75) * 25.4 / 72,
                (y + size * 0.2) * 25.4 / 72,
                text,
            )
        )
    return found


@pytest.mark.parametrize("kind", list(ITEMS))
@pytest.mark.parametrize("system", ["metric", "inch"])
def test_every_kind_draws_the_same_picture_twice_with_words(kind: str, system: Any) -> None:
    first, again = figures_of(result_of(kind), system), figures_of(result_of(kind), system)
    assert first
    assert [p.svg for p in first] == [p.svg for p in again]
    for picture in first:
        assert len(picture.alt) > 40
        assert picture.caption
        assert b"<dc:date" not in picture.svg
        assert ("mm" in " ".join(texts(picture))) == (system == "metric")


@pytest.mark.parametrize("kind", list(ITEMS))
def test_lettering_stays_on_the_paper_and_apart(kind: str) -> None:
    for system in ("metric", "inch"):
        for picture in figures_of(result_of(kind), system):  # type: ignore[arg-type]
            boxes = lettering(picture)
            assert boxes
            for left, right, low, high, text in boxes:
                assert left >= -0.1, text
                assert right <= WIDTH + 0.1, text
                assert low >= -0.1, text
                assert high <= picture.height + 0.1, text
            for i, a in enumerate(boxes):
                for b in boxes[i + 1 :]:
                    shared = min(a[1], b[1]) - max(a[0], b[0]) > 0.3 and min(a[3], b[3]) - max(a[2], b[2]) > 0.5
                    assert not shared, (a[4], b[4])


def test_every_kind_of_item_has_a_figure() -> None:
    assert set(ITEMS) == set(KINDS), "a kind of item without a drawing"
    assert {k: result_of(k).kind for k in ITEMS} == {k: kind.key for k, kind in KINDS.items()}


def test_whole_row_is_drawn_to_scale() -> None:
    # 400 mm at the largest usual scale that fits 162 mm of paper: 1 : 5 is 80 mm
    picture = figures_of(result_of("seam"), "metric")[0]
    assert "200 mm whole row" in texts(picture)  # the bar: 40 mm of paper
    boxes = [
        [tuple(map(float, pair.split())) for pair in re.findall(r"[ML] ([\d.]+ [\d.]+)", path.attrib["d"])]
        for path in ET.fromstring(picture.svg).iter("{http://www.w3.org/2000/svg}path")
    ]
    widths = {round((max(p[0] for p in b) - min(p[0] for p in b)) * 25.4 / 72, 2) for b in boxes if len(b) == 4}
    heights = {round((max(p[1] for p in b) - min(p[1] for p in b)) * 25.4 / 72, 2) for b in boxes if len(b) == 4}
    assert 80.0 in widths
    assert 18 / 5 in heights  # the lap, twice the edge of 9 mm


def test_section_is_drawn_to_scale() -> None:
    # outer sizes of the hat: 40 mm over the webs and two flanges of 20 mm measured from the web's outer face; 30 mm deep
    section = figures_of(result_of("brace"), "metric")[0]
    assert "section to scale" in section.caption
    assert "80 mm" in texts(section)
    assert "30 mm" in texts(section)
    points = [
        tuple(map(float, pair.split()))
        for path in ET.fromstring(section.svg).iter("{http://www.w3.org/2000/svg}path")
        if "fill: #dcdcdc" in path.attrib.get("style", "")
        for pair in re.findall(r"[ML] ([\d.]+ [\d.]+)", path.attrib["d"])
    ]
    assert (max(p[0] for p in points) - min(p[0] for p in points)) * 25.4 / 72 == pytest.approx(80.0, abs=0.01)
    assert (max(p[1] for p in points) - min(p[1] for p in points)) * 25.4 / 72 == pytest.approx(30.0, abs=0.01)


def test_beam_diagrams_name_the_textbook_extremes() -> None:
    # propped cantilever, load P in the middle: M at the fixed end 3 P L / 16, under the load 5 P L / 32;
    # reactions 11 P / 16 and 5 P / 16 (standard beam tables)
    beam = figures_of(result_of("brace"), "metric")[1]
    P, L = 750.0, 1.0
    assert f"-{3 * P * L / 16:.4g} N·m" in texts(beam)
    assert f"{5 * P * L / 32:.4g} N·m" in texts(beam)
    assert f"{11 * P / 16:.4g} N" in texts(beam)
    assert f"-{5 * P / 16:.4g} N" in texts(beam)


def test_the_drawn_deflection_is_the_judged_one() -> None:
    # one brace bends one way down in a document: flat sides that buckle in service were counted in the table alone
    wide = result_of("brace", profile="hat:top=80mm,depth=30mm,flange=20mm,t=0.8mm,r=2mm", limit_deflection="8 mm")
    judged_ = next(c for c in wide.checks if c.key == "limit.deflection")
    assert judged_.demand is not None
    assert judged_.demand.value == wide.values["deflection_service"].value
    assert judged_.demand.value > 1.02 * wide.values["deflection_max"].value
    assert show(judged_.demand.value, "length", "metric") in texts(figures_of(wide, "metric")[1])


def test_group_names_its_peak() -> None:
    # four bolts 60 x 50 mm, 4 kN down at 120 mm, 1 kN in: elastic vectors by hand, pull counted out of plane
    texts_ = texts(figures_of(result_of("bolts", force="0 -4 0 kN", at="120 25 0 mm"), "metric")[0])
    M = 4000 * 90.0
    J = 4 * (30.0**2 + 25.0**2)
    worst = ((4000 / 4 + M * 30 / J) ** 2 + (M * 25 / J) ** 2) ** 0.5
    assert any(f"peak {worst:.4g} N at no. {n}" in texts_ for n in (2, 4))


def test_scales_are_those_of_drawings() -> None:
    # ISO 5455: 1, 2, 5 and their multiples by ten
    for scale in SCALES:
        number = scale if scale >= 1 else 1 / scale
        assert number / 10 ** len(str(round(number))) * 10 in (1.0, 2.0, 5.0)
    assert scale_for(400, 162) == 0.2
    assert scale_for(162, 162) == 1.0
    assert scale_for(1e6, 100) == pytest.approx(1e-4)


def test_bars_are_told_apart_without_colour() -> None:
    data = demo_data()
    data["seam"][0]["shear"] = "200 kN"
    results = judged(data)[1]
    picture = draw_bars(results)
    paths = [path.attrib["d"] for path in ET.fromstring(picture.svg).iter("{http://www.w3.org/2000/svg}path")]
    assert sum(d.count("M ") > 10 for d in paths) == 1  # the hatch of what is over: many strokes in one path
    assert any("OVER" in text for text in texts(picture))
    assert sum("holds" in text for text in texts(picture)) == 3
    assert "S1" in picture.alt


def test_plan_of_200_items_shows_every_number_once_and_apart() -> None:
    result = judged(demo_data())[1][0]
    placed = [
        (n, result, (float(n % 20) * 150, n // 20 * 200.0, n % 20 * 150 + 120.0, n // 20 * 200.0))
        for n in range(1, 201)
    ]
    picture = draw_plan(placed, "metric")
    assert picture is not None
    boxes = lettering(picture)
    for n in range(1, 201):
        assert sum(box[4] == str(n) for box in boxes) == 1
    clashes = sum(
        min(a[1], b[1]) - max(a[0], b[0]) > 0.2 and min(a[3], b[3]) - max(a[2], b[2]) > 0.2
        for i, a in enumerate(boxes)
        for b in boxes[i + 1 :]
    )
    assert clashes == 0
    assert draw_plan([], "metric") is None


def test_lettering_is_escaped() -> None:
    canvas = Canvas(10)
    canvas.text(5, 5, "</text><script>&$x^2$")
    picture = canvas.picture("a", "c")
    assert texts(picture) == ["</text><script>&$x^2$"]
    assert text_width("abc", 10) == pytest.approx(3 * 6.02 * 25.4 / 72)


def test_signature_curve_marks_what_the_check_stands_on() -> None:
    lipped = "lipped-channel:web=120mm,flange=50mm,lip=12mm,t=1.2mm,r=1.5mm"
    result = result_of("brace", profile=lipped, held="both", ends="pinned", compression="1 kN")
    curves = figures_of(result, "metric")[2:]
    assert len(curves) == 2  # bent with the top pressed, and pressed all over
    for picture, letter, word, divide in zip(curves, "MP", ("_sagging", ""), ("W_y_top", "area")):
        for name, end in (("local", "l"), ("distortional", "d")):
            load, size = result.values[f"{letter}_cr{end}{word}"].value, result.values[divide].value
            assert load is not None
            assert size is not None
            assert f"{load / size:.4g} MPa" in texts(picture)
            assert name in picture.alt
        assert "yield strength" in picture.caption
    inch = figures_of(result, "inch")[2]
    assert "half-wavelength, in" in texts(inch)


def test_a_profile_that_strips_do_not_judge_has_no_curve() -> None:
    assert len(figures_of(result_of("brace", profile="tube:od=38mm,t=2mm"), "metric")) == 2


def test_a_panel_is_drawn_as_it_is_rolled_and_as_it_bends() -> None:
    changes = {
        "bead": "arc:depth=6mm,width=25mm,pitch=75mm,stop=30mm,runout=26mm",
        "size": "400 300 mm",
        "patch": "300 N",
    }
    result = result_of("panel", **changes)
    plan, cut, shape = figures_of(result, "metric")
    assert "stop 30 mm and run-out 26 mm" in plan.caption.replace("\u200b", "")
    assert len(result.model.bead_places) == 4
    assert "4 beads along the long side" in plan.alt
    assert {"400 mm", "300 mm", "75 mm", "37.5 mm"} <= set(texts(plan))  # (300 - 3 x 75)/2 to the first
    assert {"6 mm", "25 mm", "75 mm"} <= set(texts(cut))
    most = result.values["deflection_yielding"].value
    assert f"greatest {most:.4g} mm" in shape.alt
    # every line is named, and none is at more than the greatest
    *lines, greatest, bar = texts(shape)
    assert bar == "200 mm"  # the scale bar
    assert greatest == f"{most:.4g} mm"
    heights = [float(text) for text in lines]
    assert len(heights) >= 4
    assert 0 < min(heights) < max(heights) <= most
    cut_out = {"bead": "none", "patch": "0 N", "shear": "5 N/mm", "opening": "round:diameter=80mm,x=200mm,y=150mm"}
    (opened,) = figures_of(result_of("panel", **cut_out), "metric")
    assert "white: the opening, round:diameter=80mm" in opened.caption.replace("\u200b", "")
    idle = figures_of(result_of("panel", patch="0 N"), "metric")
    assert len(idle) == 2  # no load, no shape


def test_a_panel_with_edges_of_its_own_is_drawn_so() -> None:
    changes = {"bead": "none", "edges": "clamped, left=simple, end=500 N*m/rad/m", "patch_at": ["150 90 mm"]}
    plan, shape = figures_of(result_of("panel", **changes), "metric")
    for word in ("hatched rim", "dotted rim", "dashed rim"):
        assert word in plan.caption.replace("\u200b", "")
    for picture in (plan, shape):
        assert {"start", "end", "left", "right"} <= set(texts(picture))
        where = {text: (left, low) for left, _, low, _, text in lettering(picture) if text in ("left", "right")}
        assert (
            where["left"][1] < where["right"][1]
        )  # from the upper edge: the left is above, the beads run to the right


def strokes_of(picture: Picture) -> list[list[tuple[float, float]]]:
    """Points of every path in mm from the upper left corner."""
    return [
        [
            (float(x) * 25.4 / 72, float(y) * 25.4 / 72)
            for x, y in re.findall(r"[ML] (-?[\d.]+) (-?[\d.]+)", node.attrib["d"])
        ]
        for node in ET.fromstring(picture.svg).iter("{http://www.w3.org/2000/svg}path")
    ]


def test_names_of_thirty_items_lie_on_no_line() -> None:
    """Lines 300 apart with plugs between: every name is there, apart from the others and clear of every item's line."""
    result = judged(demo_data())[1][0]
    placed = []
    for n in range(1, 31):
        x, y = n % 6 * 300.0, n // 6 * 260.0
        placed.append((n, replace(result, id=f"item {n}"), (x, y, x + 260.0, y) if n % 2 else (x, y, x, y + 240.0)))
    picture = draw_plan(placed, "metric")
    assert picture is not None
    boxes = [box for box in lettering(picture) if box[4].startswith("item")]
    assert sorted(box[4] for box in boxes) == sorted(f"item {n}" for n in range(1, 31))
    lines = [p for p in strokes_of(picture) if len(p) == 2]
    assert len(lines) >= 30
    for left, right, low, high, text in boxes:
        for (x1, y1), (x2, y2) in lines:
            if x1 == x2:
                assert not (left < x1 < right and min(y1, y2) < high and max(y1, y2) > low), text
            elif y1 == y2:
                assert not (low + 0.5 < y1 < high - 0.5 and min(x1, x2) < right and max(x1, x2) > left), text


def test_the_plan_of_many_items_is_drawn_as_large_as_its_page() -> None:
    """A floor of 2100 x 1520 mm: 170 mm wide on a page that is turned (1 : 12.5), beside its sizes, axes and bar."""
    result = judged(demo_data())[1][0]
    placed = [(n, result, (n * 70.0, 0.0, n * 70.0, 1520.0)) for n in range(31)]
    picture = draw_plan(placed, "metric", paged=True)
    assert picture is not None
    upright = [p[0][0] for p in strokes_of(picture) if len(p) == 2 and abs(p[0][1] - p[1][1]) > 120]
    outline = max(upright) - min(upright)
    assert outline == pytest.approx(2100 / 12.5, abs=12)  # the dimension of the height stands 11 mm beside it
    # and no wider than what stands on it: the axes stand beside the drawing, not at the edge of the page
    width = float(re.search(r'<svg [^>]*width="([0-9.]+)pt"', picture.svg.decode())[1]) / 72 * 25.4  # type: ignore[index]
    assert width < outline + 50


def test_a_panel_lies_in_the_plan_as_an_area_with_its_beads() -> None:
    """Its place is the middle line of one side: 600 x 400 mm, beads of 75 mm along the 600 (4 gaps in 350 mm)."""
    result = result_of("panel")
    picture = draw_plan([(1, result, (0.0, 200.0, 600.0, 200.0))], "metric", [Around("rail", (0, 500), (600, 500), 25)])
    assert picture is not None
    assert "panels" in picture.caption
    assert "members of the frame" in picture.caption
    assert {"600 mm", "525 mm", "rail", "X1"} <= set(texts(picture))  # from the panel's edge at 0 to the rail's at 525
    beads = max((p for p in strokes_of(picture)), key=len)
    assert len(beads) == 2 * len(result.model.bead_places)


def test_a_bolt_is_shown_with_all_that_it_clamps() -> None:
    changes = {"plate": "75 50 4 mm", "washer": "large", "between": "300 mm", "holes": ["0 0 mm", "90 0 mm"],
               "force": "0 0 2 kN", "at": "45 0 0 mm"}  # fmt: skip
    plan, cut = figures_of(result_of("bolts", **changes), "metric")
    assert "plates of 75 mm x 50 mm" in plan.caption
    assert "20 mm" in texts(plan)  # from the hole to the edge
    for words in ("M8 8.8", "sheet 1: 3 mm S355MC", "sheet 2: 1.2 mm DC04", "plate 75 mm x 50 mm x 4 mm S235JR", "nut"):
        assert words in texts(cut)
    assert "edge 20 mm" in texts(cut)
    outline = figures_of(result_of("bolts", edge=None, outline=["-15 -30 400 90 mm"]), "metric")
    assert "edges farther away are not drawn" in outline[0].caption.lower()
    assert "edge 15 mm" in texts(outline[1])


def test_a_plug_is_drawn_filled_and_carries_its_symbol() -> None:
    """Cut across, 1 : 1: filled through the 1.2 mm sheet into the 3 mm one, where a spot would be a lens between them."""
    picture = figures_of(result_of("plug"), "metric")[0]
    assert "Welding symbol: 8x16 plug 6 x (50) < 135, 2 rows" in picture.alt
    solid = [
        [
            (float(x) * 25.4 / 72, float(y) * 25.4 / 72)
            for x, y in re.findall(r"[ML] (-?[\d.]+) (-?[\d.]+)", p.attrib["d"])
        ]
        for p in ET.fromstring(picture.svg).iter("{http://www.w3.org/2000/svg}path")
        if "fill: #404040" in p.attrib["style"]
    ]
    assert len(solid) == 2  # two rows
    for points in solid:
        assert max(x for x, _ in points) - min(x for x, _ in points) == pytest.approx(8.0, abs=0.01)
        assert max(y for _, y in points) - min(y for _, y in points) > 1.2
    assert b"<ellipse" in figures_of(result_of("seam"), "metric")[0].svg
