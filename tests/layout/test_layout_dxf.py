"""What stands in the DXF, read back by ezdxf and held against positions worked out here."""

from __future__ import annotations

from math import asin, hypot, pi

import pytest

from jointcalc.layout.dxf import dxf

from .projects import drawing, everything, polygon, project, read_dxf, segment_length

ITEMS = everything()


@pytest.mark.parametrize("name", [n for n in ITEMS if n != "BR2"])
@pytest.mark.parametrize("system", ["metric", "inch"])
def test_opens_in_millimetres_without_faults_and_always_the_same(name: str, system: str) -> None:
    made = drawing(ITEMS[name], system)
    content = dxf(made)
    doc = read_dxf(content)
    assert doc.dxfversion == "AC1024"  # R2010
    assert doc.header["$INSUNITS"] == 4  # millimetres, whatever the words are in
    assert content == dxf(drawing(everything()[name], system))
    layers = {e.dxf.layer for e in doc.modelspace()}
    assert layers <= {layer.dxf.name for layer in doc.layers}


def test_geometry_is_the_same_in_both_unit_systems() -> None:
    for name in ("S1", "B1", "BR1", "T1"):
        one, two = (read_dxf(dxf(drawing(ITEMS[name], s))) for s in ("metric", "inch"))
        for kind in ("CIRCLE", "LINE"):
            a = [
                (e.dxf.layer, *(e.dxf.center if kind == "CIRCLE" else e.dxf.start))
                for e in one.modelspace().query(kind)
                if e.dxf.layer != "SYMBOL"  # its words are of another standard
            ]
            b = [
                (e.dxf.layer, *(e.dxf.center if kind == "CIRCLE" else e.dxf.start))
                for e in two.modelspace().query(kind)
                if e.dxf.layer != "SYMBOL"
            ]
            assert a == b


def circles(name: str, layer: str) -> list[tuple[float, float, float]]:
    doc = read_dxf(dxf(drawing(ITEMS[name])))
    found = doc.modelspace().query(f'CIRCLE[layer=="{layer}"]')
    return sorted((c.dxf.center.x, c.dxf.center.y, c.dxf.radius) for c in found)


def test_spots_by_pitch_are_centred() -> None:
    # 1480 / 40 = 37 spots, 36 gaps take 1440, so 20 mm are left at each end
    wanted = [(20.0 + 40.0 * k, 9.0, 2.75) for k in range(37)]
    assert [v for c in circles("S1", "SPOT") for v in c] == pytest.approx([v for c in wanted for v in c], abs=1e-9)


def test_spots_by_count_with_end_in_two_rows() -> None:
    # 7 spots over 400 - 2 x 14 = 372 mm: 62 mm apart; rows 10 and 28 mm from the edge
    wanted = sorted((14.0 + 62.0 * k, y, 2.5) for k in range(7) for y in (10.0, 28.0))
    assert [v for c in circles("S2", "SPOT") for v in c] == pytest.approx([v for c in wanted for v in c], abs=1e-9)


def test_plug_holes_and_slots() -> None:
    wanted = [(20.0 + 40.0 * k, 12.0, 4.0) for k in range(15)]
    assert [v for c in circles("P1", "HOLE") for v in c] == pytest.approx([v for c in wanted for v in c], abs=1e-9)
    doc = read_dxf(dxf(drawing(ITEMS["P2"])))
    shapes = [polygon(e) for e in doc.modelspace().query('LWPOLYLINE[layer=="HOLE"]')]
    assert sorted(s.centroid.x for s in shapes) == pytest.approx([37.5, 112.5, 187.5, 262.5], abs=1e-6)
    for shape in shapes:
        # a slot 20 long and 8 wide: a rectangle of 12 x 8 and a circle of 8
        assert shape.area == pytest.approx(12 * 8 + pi / 4 * 64, rel=1e-4)
        x0, y0, x1, y1 = shape.bounds
        assert (x1 - x0, y1 - y0) == pytest.approx((20.0, 8.0), abs=1e-3)
        assert (y0 + y1) / 2 == pytest.approx(15.0, abs=1e-6)


def test_running_dimensions_count_from_both_ends() -> None:
    (table,) = drawing(ITEMS["S1"]).tables
    assert table.rows[0] == ("1", "20", "1460")
    assert table.rows[36] == ("37", "1460", "20")
    for n, row in enumerate(table.rows):
        assert float(row[1]) == pytest.approx(20 + 40 * n)
        assert float(row[1]) + float(row[2]) == pytest.approx(1480)
    (inch,) = drawing(ITEMS["S1"], "inch").tables
    assert inch.rows[0] == ("1", "0.787", "57.48", "25/32")
    assert inch.rows[1][3] == "2-3/8"  # 60 mm = 2.3622 in = 2 + 11.59/32, nearest 12/32


def test_bolt_holes_are_the_models_and_plates_sit_on_them() -> None:
    doc = read_dxf(dxf(drawing(ITEMS["B1"])))
    pattern = [(0.0, 0.0), (300.123456789, 0.0), (300.0, 250.0), (-12.5, 250.0)]
    found = [(c.dxf.center.x, c.dxf.center.y) for c in doc.modelspace().query('CIRCLE[layer=="HOLE"]')]
    for x, y in pattern:
        assert any(hypot(x - a, y - b) < 1e-9 for a, b in found)
    assert len(found) == 5  # four in the pattern, one in the plate's own drawing
    plates = [polygon(e) for e in doc.modelspace().query('LWPOLYLINE[layer=="EDGE"]')]
    assert sorted((p.centroid.x, p.centroid.y) for p in plates) == [
        pytest.approx(xy, abs=1e-6) for xy in sorted(pattern)
    ]
    (plate,) = (polygon(e) for e in doc.modelspace().query('LWPOLYLINE[layer=="CUT"]'))
    # 75 x 50 with corners of 5 mm (the Queensland seat-plate rule, second-hand): less (4 - pi) r^2
    assert plate.area == pytest.approx(75 * 50 - (4 - pi) * 25, rel=1e-5)


def test_stitches_and_their_table() -> None:
    doc = read_dxf(dxf(drawing(ITEMS["F1"])))
    welds = list(doc.modelspace().query('LINE[layer=="WELD"]'))
    # both lines are 200 mm: 30 mm stitches, at most 90 apart: (200 - 30)/90 -> 2 gaps of 85
    assert [segment_length(w) for w in welds] == pytest.approx([30.0] * 6)
    first = sorted((w.dxf.start.x, w.dxf.end.x) for w in welds if abs(w.dxf.start.y) < 1e-9)
    assert [v for pair in first for v in pair] == pytest.approx([0, 30, 85, 115, 170, 200], abs=1e-9)
    table = drawing(ITEMS["F1"]).tables[0]
    assert [row[:5] for row in table.rows[3:]] == [
        ("2", "4", "0", "30", "30"),
        ("2", "5", "85", "115", "30"),
        ("2", "6", "170", "200", "30"),
    ]
    edges = sorted(segment_length(e) for e in doc.modelspace().query('LINE[layer=="EDGE"]'))
    assert edges == pytest.approx([200.0, 200.0])


def test_part_outline_and_holes() -> None:
    doc = read_dxf(dxf(drawing(ITEMS["GP"])))
    (outline,) = doc.modelspace().query('LWPOLYLINE[layer=="CUT"]')
    assert polygon(outline).area == pytest.approx(210 * 120 - (4 - pi) * 100, rel=1e-5)
    assert circles("GP", "HOLE") == [(25.0, 25.0, 4.5), (185.0, 25.0, 4.5)]


def test_words_a_builder_may_type_break_nothing() -> None:
    text = """
[project]
title = "x"
[[part]]
id = "A"
title = "50 %%c \\\\P {\\\\f} $x$ \\n <b> 漢字 Ω"
size = "100 50 mm"
sheet = {thickness = "1.2 mm", grade = "DC04"}
"""
    (part,) = project(text).parts
    doc = read_dxf(dxf(drawing(part)))
    texts = [e.dxf.text for e in doc.modelspace().query("TEXT")]
    assert any("漢字 Ω" in t for t in texts)
    assert not any("%%" in t for t in texts)


def test_bead_plan_of_a_panel() -> None:
    """600 x 400, beads of 25 at 75 along the long side: (400 - 2 x 25)/75 -> 4 gaps of 75, 50 mm left at each edge."""
    text = """
[project]
title = "x"
[[panel]]
id = "N"
size = "600 400 mm"
sheet = {thickness = "1 mm", grade = "DC04"}
bead = "arc:depth=6mm,width=25mm,pitch=75mm"
pressure = "1 kPa"
"""
    (item,) = project(text).items
    made = drawing(item)
    doc = read_dxf(dxf(made))
    lines = doc.modelspace().query('LINE[layer=="BEAD"]')
    assert sorted(line.dxf.start.y for line in lines) == pytest.approx([50, 125, 200, 275, 350])
    assert {segment_length(line) for line in lines} == {550.0}  # 25 mm short of either edge, where nothing is said
    # five arcs of chord 25 and rise 6: 2 R asin(25/2R) with R = (12.5^2 + 6^2)/12, less the chords
    R = (12.5**2 + 36) / 12
    assert f"{5 * (2 * R * asin(12.5 / R) - 25):.2f}" in made.notes[2]
    assert "25 mm off the edges" in made.notes[1]


def test_a_flat_panel_is_named_with_the_reason() -> None:
    from jointcalc.layout.items import draw

    text = """
[project]
title = "x"
[[panel]]
id = "N"
size = "600 400 mm"
sheet = {thickness = "1 mm", grade = "DC04"}
pressure = "1 kPa"
"""
    (item,) = project(text).items
    made, why = draw(item, "metric")
    assert made is None
    assert "flat panel" in why


def test_the_classes_of_the_file_stand_in_order() -> None:
    """The library holds their names in a set: with another hash seed they came in another order, and other bytes."""
    content = dxf(drawing(ITEMS["GP"])).decode("utf-8")
    section = content[content.index("CLASSES") : content.index("ENDSEC", content.index("CLASSES"))]
    lines = [line.strip() for line in section.splitlines()]
    names = [lines[k + 2] for k, line in enumerate(lines) if line == "CLASS"]
    assert len(names) > 3
    assert names == sorted(names)
