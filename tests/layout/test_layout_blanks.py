"""Blanks and sections: folded back up a blank gives the profile; a section's faces enclose its area."""

from __future__ import annotations

from math import atan2, cos, log10, pi, radians, sin

import pytest
from shapely.geometry import LineString
from shapely.ops import polygonize, unary_union

from jointcalc.layout.blanks import flat_blanks, section_lines
from jointcalc.layout.drawing import Line, strokes
from jointcalc.layout.dxf import dxf
from jointcalc.section.profile import parse_profile

from .projects import drawing, everything, read_dxf

PROFILES = [
    "hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm",
    "channel:web=60mm,flange=25mm,t=1.5mm,r=3mm",
    "zed:web=50mm,flange=20mm,t=1mm,r=1mm",
    "lipped-channel:web=80mm,flange=40mm,lip=12mm,t=1.5mm",
    "angle:leg=40mm,foot=25mm,t=2mm,r=2mm",
    "points:at=0 0/40 0/60 30/90 30 mm,t=1.2mm,r=2mm",
]


@pytest.mark.parametrize("profile", PROFILES)
@pytest.mark.parametrize("K", [0.5, 0.38])
def test_the_blank_folds_into_the_profile(profile: str, K: float) -> None:
    """Walk the flat blank, fold each bend about its neutral fibre, and arrive where the profile's mid-line ends.

    Independent of how the blank is computed: the radius follows from allowance and angle (BA = theta (r + K t)).
    """
    family = parse_profile(profile)
    (blank,) = flat_blanks(family, f_y=140.0, E=210e3, K=K)
    outline = family.outline()
    t = float(outline.t[0, 0])
    first = outline.segments[0]
    y, z = float(outline.y[first.start, 0]), float(outline.z[first.start, 0])
    heading = atan2(float(outline.way_z[0, 0]), float(outline.way_y[0, 0]))
    # which face is up does not matter for the blank, it does for the way a bend turns
    sense = 1 if (float(outline.sweep[outline.bend_ids[0], 0]) > 0) == blank.folds[0].up else -1
    done = 0.0
    for fold in blank.folds:
        theta = radians(fold.angle)
        r = fold.allowance / theta - K * t
        flat = fold.at - fold.allowance / 2 - done
        y, z = y + flat * cos(heading), z + flat * sin(heading)
        turn = sense * (theta if fold.up else -theta)
        chord = 2 * (r + t / 2) * sin(theta / 2)
        y, z = y + chord * cos(heading + turn / 2), z + chord * sin(heading + turn / 2)
        heading += turn
        done = fold.at + fold.allowance / 2
        assert fold.at + fold.to == pytest.approx(blank.width, abs=1e-9)
    last = blank.width - done
    y, z = y + last * cos(heading), z + last * sin(heading)
    end = outline.segments[-1].end
    assert (y, z) == pytest.approx((float(outline.y[end, 0]), float(outline.z[end, 0])), abs=1e-9)


def test_hat_blank_by_hand() -> None:
    """Flats 36 + 2 x 23.6 + 2 x 16.8 less nothing, and four bends by DIN 6935: k = 0.65 + log10(r/s)/2.

    DIN 6935's correction factor as printed in several secondary pages (second-hand).
    """
    blank = drawing(everything()["BR1"])
    found = read_dxf(dxf(blank))
    k = 0.65 + 0.5 * log10(2 / 1.2)
    allowance = pi / 2 * (2 + k * 1.2 / 2)
    crown, web, flange = 40 - 2 * 3.2, 30 - 2 * 3.2, 20 - 2.0
    width = crown + 2 * web + 2 * flange + 4 * allowance
    (outline,) = found.modelspace().query('LWPOLYLINE[layer=="CUT"]')
    assert sorted({round(p[1], 9) for p in outline.get_points()}) == pytest.approx([0, width], abs=1e-8)
    assert sorted({p[0] for p in outline.get_points()}) == pytest.approx([0, 1010])
    places = {
        layer: sorted(line.dxf.start.y for line in found.modelspace().query(f'LINE[layer=="{layer}"]'))
        for layer in ("BEND_UP", "BEND_DOWN")
    }
    first = flange + allowance / 2
    second = flange + allowance + web + allowance / 2
    # a hat's flanges are folded up from the flange, the crown's edges down
    assert places["BEND_UP"] == pytest.approx([first, width - first], abs=1e-9)
    assert places["BEND_DOWN"] == pytest.approx([second, width - second], abs=1e-9)
    for line in found.modelspace().query('LINE[layer=="BEND_UP"]'):
        assert sorted((line.dxf.start.x, line.dxf.end.x)) == pytest.approx([0, 1010])
    measures = sorted(d.get_measurement() for d in found.modelspace().query("DIMENSION"))
    for value in (first, second, width - first, width - second, width, 1010.0, 1000.0, 80.0, 30.0):
        assert any(m == pytest.approx(value, abs=1e-6) for m in measures), value


@pytest.mark.parametrize(
    "profile", [*PROFILES, "hat-skin:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm,skin=120mm,skin_t=1mm"]
)
def test_section_faces_enclose_the_sheet(profile: str) -> None:
    """Shapely closes the drawn faces to polygons; their area is thickness times developed mid-line."""
    family = parse_profile(profile)
    pieces = [
        LineString(points)
        for e in section_lines(family.outline())
        if not (isinstance(e, Line) and e.layer == "SPOT")
        for _, points in strokes(e)
    ]
    # drawn points meet within rounding; snap them together before closing
    pieces = [LineString([(round(x, 6), round(y, 6)) for x, y in p.coords]) for p in pieces]
    faces = list(polygonize(unary_union(pieces)))
    sheets = [f for f in faces if f.area / f.length < 3.0]  # what is enclosed by a closed section is not sheet
    area = float(family.properties().area[0])
    assert sum(f.area for f in sheets) == pytest.approx(area, rel=2e-3)


def test_lap_marks_the_weld_line_and_the_step() -> None:
    item = everything()["LAP"]
    made = drawing(item)
    doc = read_dxf(dxf(made))
    spots = [c.dxf.center for c in doc.modelspace().query('CIRCLE[layer=="SPOT"]')]
    assert len(spots) == 25  # 1000 / 40, half a pitch at each end
    assert sorted(p.x for p in spots) == pytest.approx([20 + 40 * k for k in range(25)])
    (edge,) = doc.modelspace().query('LWPOLYLINE[layer=="EDGE"]')
    width = max(p[1] for p in edge.get_points())
    # 12.5 mm, half the overlap, from the edge of the lower sheet
    assert {round(width - p.y, 9) for p in spots} == {12.5}
    measures = [d.get_measurement() for d in doc.modelspace().query("DIMENSION")]
    for value in (25.0, 12.5, 1.2):  # overlap, weld line from the upper sheet's edge, step
        assert any(m == pytest.approx(value, abs=1e-9) for m in measures), value
    assert not list(doc.modelspace().query('LWPOLYLINE[layer=="CUT"]'))


def test_a_bought_section_is_not_marked_out() -> None:
    from jointcalc.layout.items import draw

    made, why = draw(everything()["BR2"], "metric")
    assert made is None
    assert "bought section" in why


@pytest.mark.parametrize(
    ("profile", "sizes"),
    [
        ("hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm", {"40", "30", "20", "80", "t 1.2", "R2"}),
        (
            "hat-skin:top=50mm,depth=40mm,flange=25mm,t=1.5mm,r=2mm,skin=120mm,skin_t=1mm,weld=9mm",
            {"50", "40", "25", "100", "120", "9", "41", "1", "t 1.5", "R2"},
        ),
        ("zed:web=50mm,flange=20mm,t=1mm,r=1.5mm", {"50", "20", "t 1", "R1.5"}),
        ("lipped-channel:web=80mm,flange=40mm,lip=12mm,t=1.5mm,r=3mm", {"80", "40", "12", "t 1.5", "R3"}),
        ("angle:leg=40mm,foot=25mm,t=2mm,r=3mm", {"40", "25", "t 2", "R3"}),
        ("box:depth=80mm,width=50mm,t=2mm,r=3mm", {"80", "50", "t 2", "R3"}),
        ("tube:od=38mm,t=2mm", {"38", "t 2"}),
    ],
)
def test_every_size_of_a_profile_is_on_its_section(profile: str, sizes: set[str]) -> None:
    """What is written in the profile stands on the drawing, whichever way up, and dimensions measure what they say."""
    from jointcalc.layout.drawing import Dim, Leader
    from jointcalc.layout.profiles import section_dims

    for turned in (False, True):
        made = section_dims(parse_profile(profile), "metric", turned=turned)
        assert {one.text for one in made if isinstance(one, Dim | Leader)} == sizes
        for one in made:
            if isinstance(one, Dim):
                assert one.measure == pytest.approx(float(one.text), abs=0.006)
