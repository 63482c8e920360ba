"""Beaded sheet against polygons, independent values and the plate solutions.

[computed] marks values computed independently in the reference for depth 6, width 25, t 1 mm; there is no published
table of beaded sheet that could be read.
"""

from math import acos, asin, cos, isclose, pi, sin, sqrt

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from jointcalc.errors import InputError
from jointcalc.formula import bead as f
from jointcalc.statics import plate
from jointcalc.statics.bead import Bead, flank_angle, forming, membrane, parse_bead, path, rigidity, section, shape

E, NU, RHO = 210000.0, 0.3, 7.85e-9


def polygon_section(bead, t, steps=400):
    """Area, centroid height and second moment of the buffered mid-line, by shapely and Green's theorem."""
    from shapely.geometry import LineString

    line = LineString(path(bead, t, steps))
    solid = line.buffer(t / 2, cap_style="flat", join_style="mitre", mitre_limit=20.0)
    assert solid.geom_type == "Polygon"
    assert not solid.interiors
    x, z = np.array(solid.exterior.coords).T
    if not solid.exterior.is_ccw:
        x, z = x[::-1], z[::-1]
    cross = x[:-1] * z[1:] - x[1:] * z[:-1]
    second = np.sum(cross * (z[:-1] ** 2 + z[:-1] * z[1:] + z[1:] ** 2)) / 12
    z_s = solid.centroid.y
    return solid.area, z_s, second - solid.area * z_s**2, line.length, solid.bounds


# --- section ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "bead, I, developed",
    [
        (Bead("arc", 6.0, 25.0, 75.0), 5.125, 1.0490),
        (Bead("arc", 6.0, 25.0, 75.0, radius=2.5), 4.812, 1.0490),  # mid-line root radius 3
        (Bead("trapezoid", 6.0, 25.0, 75.0, flat=10.0), 5.642, 1.0561),
        (Bead("vee", 6.0, 25.0, 75.0), 3.343, 1.0364),
        (Bead("arc", 6.0, 25.0, 50.0), 6.131, None),
        (Bead("arc", 6.0, 25.0, 100.0), 4.257, None),
        (Bead("arc", 12.5, 25.0, 75.0), 26.45, None),
    ],
)
def test_same_size_comparison(bead, I, developed):  # [computed]; sharp corners differ by their overlap, 0.4 %
    strip = section(bead, 1.0)
    assert strip.I_along == pytest.approx(I, rel=4e-3 if bead.radius is None else 1e-4)
    if developed:
        assert strip.developed == pytest.approx(developed, abs=6e-5)


def test_pressed_bead_of_the_reference():
    # [computed] arc 25 x 6: developed 28.679, strain 0.147
    strip = section(parse_bead("arc:depth=6mm,width=25mm,pitch=75mm"), 1.0)
    assert strip.bead_length == pytest.approx(28.679, abs=6e-4)
    assert strip.strain == pytest.approx(0.147, abs=5e-4)


dimension = st.floats(0.0, 1.0)


@st.composite
def beads(draw, rounded):
    family = draw(st.sampled_from(["arc", "trapezoid", "vee"]))
    width = draw(st.floats(12.0, 60.0))
    depth = draw(st.floats(0.1, 0.45 if family == "arc" else 0.6)) * width
    flat = draw(st.floats(0.15, 0.6)) * width if family == "trapezoid" else 0.0
    pitch = width * draw(st.floats(1.0, 5.0))
    radius = draw(st.floats(0.5, 5.0)) if rounded else None
    return Bead(family, depth, width, pitch, flat, radius)


@given(beads(rounded=True), st.floats(0.4, 2.0))
@settings(max_examples=60, deadline=None)
def test_rounded_beads_against_polygons(bead, t):
    try:
        strip = section(bead, t)
    except InputError:
        assume(False)
    area, z_s, I, length, bounds = polygon_section(bead, t)
    assert strip.length * t == pytest.approx(area, rel=1e-3)
    assert strip.length == pytest.approx(length, rel=1e-4)
    assert strip.centroid == pytest.approx(z_s, rel=1e-3, abs=1e-4)
    assert strip.I_along * bead.pitch == pytest.approx(I, rel=1e-3)
    assert strip.W_bottom * bead.pitch == pytest.approx(I / (z_s - bounds[1]), rel=1e-3)
    assert strip.W_top * bead.pitch == pytest.approx(I / (bounds[3] - z_s), rel=1e-3)


@given(beads(rounded=False), st.floats(0.002, 0.02))
@settings(max_examples=60, deadline=None)
def test_sharp_beads_against_polygons(bead, thinness):
    """Corners overlap, so thin walls agree within 0.5 %; the error falls with the thickness."""
    t = thinness * bead.depth
    strip = section(bead, t)
    area, z_s, I, _, _ = polygon_section(bead, t)
    assert strip.length * t == pytest.approx(area, rel=2e-3)
    assert strip.I_along * bead.pitch == pytest.approx(I, rel=5e-3)
    assert strip.centroid == pytest.approx(z_s, rel=5e-3, abs=1e-4)


@pytest.mark.parametrize("family, flat", [("arc", 0.0), ("trapezoid", 10.0), ("vee", 0.0)])
def test_shop_sizes_against_polygons(family, flat):
    bead = Bead(family, 6.0, 25.0, 75.0, flat)
    strip = section(bead, 1.0)
    _, _, I, _, _ = polygon_section(bead, 1.0)
    assert strip.I_along * bead.pitch == pytest.approx(I, rel=5e-3)


def test_closed_forms_of_the_plain_arc():
    # reference: y = R (sin al/al - cos al) above the chord, own I = t R³ (al + sin al cos al - 2 sin² al/al), checked there
    b, depth, t = 25.0, 6.0, 1e-3
    R = (b**2 / 4 + depth**2) / (2 * depth)
    al = asin(b / (2 * R))
    assert f.ARC_RADIUS(b=b, f=depth) == pytest.approx(R)
    assert f.ARC_HALF_ANGLE(b=b, f=depth) == pytest.approx(al)
    strip = section(Bead("arc", depth, b, b), t)  # pitch = width: nothing but arc
    assert strip.length == pytest.approx(2 * R * al)
    assert strip.centroid == pytest.approx(R * (sin(al) / al - cos(al)), rel=1e-6)
    own = t * R**3 * (al + sin(al) * cos(al) - 2 * sin(al) ** 2 / al)
    assert strip.I_along * b == pytest.approx(own, rel=1e-6)


def test_thick_half_rounds_are_half_rings():
    # exact half ring: centroid 4 (R_o³ - R_i³)/(3 pi (R_o² - R_i²)), I = pi (R_o⁴ - R_i⁴)/8 - A z²
    R, t = 10.0, 4.0
    R_o, R_i = R + t / 2, R - t / 2
    strip = section(Bead("arc", R, 2 * R, 2 * R), t)
    z = 4 * (R_o**3 - R_i**3) / (3 * pi * (R_o**2 - R_i**2))
    assert strip.centroid == pytest.approx(z, rel=1e-12)
    I = pi * (R_o**4 - R_i**4) / 8 - pi / 2 * (R_o**2 - R_i**2) * z**2
    assert strip.I_along * 2 * R == pytest.approx(I, rel=1e-12)


def test_shape_of_a_rounded_trapezoid_closes():
    bead = Bead("trapezoid", 8.0, 40.0, 90.0, 12.0, 3.0)
    s = shape(bead, 1.2)
    r = 3.6
    assert (s.root, s.crown, s.level) == (pytest.approx(r), pytest.approx(r), 6.0)
    assert 2 * r * sin(s.slope) + s.flank * cos(s.slope) == pytest.approx((40.0 - 12.0) / 2)
    assert 2 * r * (1 - cos(s.slope)) + s.flank * sin(s.slope) == pytest.approx(8.0)
    assert flank_angle(bead, 1.2) == pytest.approx(s.slope * 180 / pi)


def test_shape_of_a_rounded_arc_closes():
    s = shape(Bead("arc", 6.0, 25.0, 75.0, radius=2.5), 1.0)
    assert (s.crown + s.root) * sin(s.slope) == pytest.approx(12.5)
    assert (s.crown + s.root) * (1 - cos(s.slope)) == pytest.approx(6.0)


def test_vee_slope():
    assert flank_angle(Bead("vee", 6.0, 12.0, 20.0), 1.0) == pytest.approx(45.0)


def test_thickness_to_the_middle_is_flat_sheet_far_from_beads():
    # a very wide pitch with a tiny bead is flat sheet: I = t³/12, ratio 1
    strip = section(Bead("arc", 0.01, 1.0, 1000.0), 1.0)
    assert strip.I_along == pytest.approx(1 / 12, rel=1e-3)
    assert strip.stiffness_ratio == pytest.approx(1.0, rel=1e-3)
    assert strip.W_along == pytest.approx(1 / 6, rel=0.02)


def test_comparison_with_flat_sheet():
    strip = section(Bead("arc", 6.0, 25.0, 75.0), 1.2)
    assert strip.stiffness_ratio == pytest.approx(strip.I_along * 12 / 1.2**3)
    assert strip.equal_mass_thickness == pytest.approx(1.2 * strip.developed)
    assert strip.stiffness_ratio_equal_mass == pytest.approx(strip.stiffness_ratio / strip.developed**3)
    assert strip.mass_per_area(RHO) == pytest.approx(RHO * 1.2 * strip.length / 75.0)
    # hand calculation: 7.85 kg/m² per mm of steel, 1.2 mm, times 1.049
    assert strip.mass_per_area(RHO) * 1e9 == pytest.approx(7.85 * 1.2 * 1.0490, abs=1e-3)
    assert strip.gap == 50.0
    assert strip.W_along == min(strip.W_top, strip.W_bottom)


# --- the sheet as a plate ------------------------------------------------------------------------------------


def test_small_rigidities_go_with_the_developed_length():
    strip = section(Bead("arc", 6.0, 25.0, 75.0), 1.2)
    D = E * 1.2**3 / (12 * (1 - NU**2))
    found = rigidity(strip, E, NU)
    assert found.D_x == pytest.approx(E * strip.I_along)
    k = strip.developed
    assert found[1:] == pytest.approx((D / k, NU * D / k, D * (1 - NU) / 2 * k))
    # the frequency hardly notices whether they do: below 0.6 % (reference, computed)
    flat = found._replace(D_y=D, D_1=NU * D, D_xy=D * (1 - NU) / 2)
    pair = [plate.frequency_1(600.0, 400.0, r, "simple", 8e-9) for r in (found, flat)]
    assert pair[0] == pytest.approx(pair[1], rel=6e-3)


def test_rigidity_across_by_a_frame_of_flat_pieces():
    """D_y from bending the developed strip: unit moment turns it by L/(E t³/12(1-nu²)) per pitch."""
    t = 1.3
    strip = section(Bead("trapezoid", 6.0, 25.0, 75.0, 10.0), t)
    turn = sum(np.hypot(*np.diff(path(strip.bead, t), axis=0).T)) / (E * t**3 / (12 * (1 - NU**2)))
    assert rigidity(strip, E, NU).D_y == pytest.approx(75.0 / turn, rel=1e-9)


@pytest.mark.parametrize(
    "bead",
    [
        Bead("arc", 6.0, 25.0, 75.0, radius=2.5),
        Bead("trapezoid", 8.0, 30.0, 60.0, 10.0, 2.0),
        Bead("vee", 5.0, 20.0, 40.0),
    ],
)
def test_stretching_by_a_numerical_frame(bead):
    """Pull across the beads: energy of axial force cos and moment z of the mid-line, integrated over the drawn path."""
    t = 0.9
    strip = section(bead, t)
    points = np.array(path(bead, t, 4000))
    d = np.diff(points, axis=0)
    ds = np.hypot(*d.T)
    z = points[:-1, 1] + d[:, 1] / 2
    z_0 = np.sum(z * ds) / ds.sum()
    flexible = np.sum((d[:, 0] / ds) ** 2 * ds) / (E * t)
    flexible += np.sum(((z - z_0) ** 2 + d[:, 1] ** 2 / 12) * ds) / (E * t**3 / (12 * (1 - NU**2)))
    m = membrane(strip, E, NU)
    assert m.A_y == pytest.approx(bead.pitch / flexible, rel=1e-5)
    assert m.A_x == pytest.approx(E * t * ds.sum() / bead.pitch, rel=1e-6)
    assert m.A_xy == pytest.approx(E / (2 * (1 + NU)) * t * bead.pitch / ds.sum(), rel=1e-6)
    assert m.nu == NU


def test_stretching_of_a_flat_limit():
    m = membrane(section(Bead("arc", 1e-4, 1.0, 1000.0), 1.0), E, NU)
    assert m[:3] == pytest.approx((E, E, E / 2.6), rel=1e-5)


def test_beaded_panel_in_a_simply_supported_frame():
    """A panel whose stiffness is all along the beads is a row of beams: 5 q b⁴/384 EI within a few per cent."""
    strip = section(Bead("arc", 12.5, 25.0, 25.0), 1.0)
    D = rigidity(strip, E, NU)
    panel = plate.solve(400.0, 2000.0, D, "simple", pressure=1e-3)
    beam = 5 * 1e-3 * 400.0**4 / (384 * E * strip.I_along)
    assert panel.deflection(200.0, 1000.0) == pytest.approx(beam, rel=0.01)


# --- forming -------------------------------------------------------------------------------------------------


def test_forming_verdicts():
    assert forming(0.147, 0.12).verdict == "fails"
    assert forming(0.147, 0.147).verdict == "fails"
    assert forming(0.147, 0.28).verdict == "marginal"  # 25 x 6 arc in a common drawing sheet: 53 %
    assert forming(0.05, 0.28).verdict == "fine"
    assert forming(0.14, 0.28).verdict == "marginal"
    assert "14.7 %" in forming(0.147, 0.28).why
    assert forming(0.07, 0.28).used == pytest.approx(0.25)
    with pytest.raises(InputError, match="between 0 and 100"):
        forming(0.1, 28.0)


def test_shallow_arc_strain():
    # shallow form 8/3 (f/b)² (reference): within 1 % at f/b = 0.05
    strip = section(Bead("arc", 1.25, 25.0, 75.0), 1.0)
    assert strip.strain == pytest.approx(8 / 3 * 0.05**2, rel=0.01)


def test_vee_and_half_round_strain():
    assert section(Bead("vee", 10.0, 20.0, 30.0), 1.0).strain == pytest.approx(sqrt(2) - 1)
    assert section(Bead("arc", 10.0, 20.0, 30.0), 1.0).strain == pytest.approx(pi / 2 - 1)


# --- reading and refusing ------------------------------------------------------------------------------------


def test_parse():
    assert parse_bead("arc:depth=6mm,width=25mm,pitch=75mm") == Bead("arc", 6.0, 25.0, 75.0)
    assert parse_bead(" Trapezoid: depth = 6 mm, width=25mm ,flat=1cm,pitch=75mm,r=2mm") == Bead(
        "trapezoid", 6.0, 25.0, 75.0, 10.0, 2.0
    )
    inch = parse_bead("vee:depth=1/4 in,width=1 in,pitch=3 in")
    assert isclose(inch.depth, 6.35)
    assert isclose(inch.pitch, 76.2)


@given(beads(rounded=True))
@settings(max_examples=20, deadline=None)
def test_text_of_a_bead_reads_back(bead):
    again = parse_bead(str(bead))
    assert (again.family, again.radius is None) == (bead.family, False)
    assert (again.depth, again.width, again.flat) == pytest.approx((bead.depth, bead.width, bead.flat), rel=1e-5)


@pytest.mark.parametrize(
    "text, word",
    [
        ("ark:depth=6mm,width=25mm,pitch=75mm", "did you mean 'arc'"),
        ("arc", "no dimensions"),
        ("arc:", "no dimensions"),
        ("arc:depth=6mm,width=25mm", "lacks its pitch"),
        ("trapezoid:depth=6mm,width=25mm,pitch=75mm", "lacks its flat"),
        ("arc:depth=6mm,width=25mm,pitch=75mm,flat=5mm", "'flat' is not a dimension of an arc"),
        ("arc:depht=6mm,width=25mm,pitch=75mm", "did you mean 'depth'"),
        ("arc:depth=6mm,depth=7mm,width=25mm,pitch=75mm", "given twice"),
        ("arc:depth 6mm,width=25mm,pitch=75mm", "name=size"),
        ("arc:depth=6,width=25mm,pitch=75mm", "no unit"),
        ("arc:depth=-6mm,width=25mm,pitch=75mm", "negative"),
        ("arc:depth=0mm,width=25mm,pitch=75mm", "depth must be greater than zero"),
        ("arc:depth=6mm,width=25mm,pitch=20mm", "overlap"),
        ("arc:depth=13mm,width=25mm,pitch=75mm", "half round at a depth of 12.5"),
        ("trapezoid:depth=6mm,width=25mm,flat=25mm,pitch=75mm", "flat crown between 0"),
        ("trapezoid:depth=6mm,width=25mm,flat=0mm,pitch=75mm", "flat crown between 0"),
    ],
)
def test_bad_text(text, word):
    with pytest.raises(InputError, match=word) as caught:
        parse_bead(text)
    assert caught.value.field.startswith("bead")


@pytest.mark.parametrize(
    "bead, word",
    [
        (Bead("arc", 6.0, 25.0, 75.0, radius=15.5), "root radius may be at most 15"),
        (Bead("arc", 1.0, 2.0, 75.0), "wider or shallower"),
        (Bead("trapezoid", 6.0, 25.0, 75.0, 20.0, radius=6.0), "do not fit"),
        (Bead("trapezoid", 12.0, 25.0, 75.0, 21.5, radius=1.0), "lean over"),
        (Bead("vee", 2.0, 10.0, 75.0, radius=30.0), "do not fit"),
    ],
)
def test_bends_that_do_not_fit(bead, word):
    t = 2.5 if bead.width == 2.0 else 1.0
    with pytest.raises(InputError, match=word):
        section(bead, t)


def test_arc_radius_named_in_the_refusal_is_accepted():
    R = float(f.ARC_RADIUS(b=25.0, f=6.0))
    assert shape(Bead("arc", 6.0, 25.0, 75.0, radius=R - 1.0 - 1e-9), 1.0).crown == pytest.approx(0.5)
    with pytest.raises(InputError):
        shape(Bead("arc", 6.0, 25.0, 75.0, radius=R - 1.0 + 1e-6), 1.0)


def test_construction_refusals():
    with pytest.raises(InputError, match="not a bead"):
        Bead("ridge", 1.0, 2.0, 3.0)
    with pytest.raises(InputError, match="only a trapezoid"):
        Bead("vee", 1.0, 2.0, 3.0, flat=1.0)
    with pytest.raises(InputError, match="zero or more"):
        Bead("vee", 1.0, 2.0, 3.0, radius=-1.0)
    with pytest.raises(InputError, match="thickness"):
        section(Bead("vee", 1.0, 2.0, 3.0), 0.0)


def test_every_bead_formula_prints():
    for formula in vars(f).values():
        if isinstance(formula, f.Formula):
            inputs = {name: 3.0 + 0.01 * i for i, name in enumerate(formula.parameters)}
            inputs |= {"r": 0.5} if "r" in inputs else {}
            inputs |= {"nu": 0.3} if "nu" in inputs else {}
            lines = formula.evaluate(**inputs).lines()
            assert lines[-1].value == pytest.approx(float(formula(**inputs)))


def test_angle_of_a_vee_in_rounded_and_sharp_sheet():
    # rounding a V at the same depth and width makes its flanks steeper
    sharp = flank_angle(Bead("vee", 5.0, 20.0, 40.0), 1.0)
    assert sharp == pytest.approx(90.0 - acos(5.0 / sqrt(125.0)) * 180 / pi)
    assert flank_angle(Bead("vee", 5.0, 20.0, 40.0, radius=2.0), 1.0) > sharp
