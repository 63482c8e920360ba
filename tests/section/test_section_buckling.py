"""Local, distortional and overall buckling read off the strips."""

from __future__ import annotations

import gc
import weakref

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from test_section_strips import bar_force

from jointcalc.errors import InputError
from jointcalc.section import EXAMPLES, parse_profile
from jointcalc.section.buckling import AT_HAND, Buckling, buckling, distortional, local
from jointcalc.section.constrained_strips import rigid_share

E_AISI = 203395.0  # 29 500 ksi
KSI = 6.894757


def plate_stress(k: float, b: float, t: float, E: float = E_AISI, nu: float = 0.3) -> float:
    return k * np.pi**2 * E / (12 * (1 - nu**2)) * (t / b) ** 2


# A published design example of a 9 x 2.5 x 0.773 x 0.059 in lipped channel, r = 3/16 in, F_y = 55 ksi: ratios of
# elastic local and distortional buckling to first yield, compression and strong-axis bending; from memory.
PUBLISHED = [("axial", 0.12, 0.27), ("sagging", 0.67, 0.85)]


@pytest.mark.parametrize(("loading", "local_ratio", "distortional_ratio"), PUBLISHED)
def test_a_published_lipped_channel(loading, local_ratio, distortional_ratio):
    f = parse_profile("lipped-channel:web=9in,flange=2.5in,lip=0.773in,t=0.059in,r=0.1875in")
    b = Buckling(f, loading=loading, E=E_AISI)
    f_y = 55 * KSI
    # printed to two digits, and read off another mesh: one unit of the last digit
    assert b.local.stress / f_y == pytest.approx(local_ratio, abs=0.01)
    assert b.distortional.stress / f_y == pytest.approx(distortional_ratio, abs=0.01)
    squash = {"axial": 48.42 * 4448.22, "sagging": 126.55 * 112984.8}[loading]  # kip, kip in, same source
    assert b.reference * f_y == pytest.approx(squash, rel=0.01)


def test_local_buckling_of_a_square_box_is_that_of_its_walls():
    """k = 4 on the mid-line width; small bends change it by less than a hundredth."""
    b = Buckling(parse_profile("box:depth=60mm,width=60mm,t=1mm,r=1mm"), loading="axial", E=E_AISI)
    assert b.local.stress == pytest.approx(plate_stress(4.0, 59.0, 1.0), rel=0.01)
    assert b.local.load == pytest.approx(b.local.stress * float(b.properties.area[0]))
    assert b.distortional is None
    assert "closed" in b.why_no_distortional


def test_local_buckling_of_a_wide_crown_lies_between_hinged_and_clamped():
    """Crown of a hat in sagging: stockier webs restrain it, so 4.0 < k < 6.97 (Timoshenko and Gere, from memory)."""
    found = local(parse_profile("hat:top=80mm,depth=30mm,flange=20mm,t=0.8mm,r=0.8mm"), loading="sagging", E=E_AISI)
    assert plate_stress(4.0, 80.0 - 0.8, 0.8) < found.stress < plate_stress(6.97, 80.0 - 3.2, 0.8)
    assert 0.66 < found.half_wavelength / 78.0 < 1.01
    assert found.how == "minimum"


@pytest.mark.parametrize("kind", ["channel", "zed", "angle", "bar"])
@pytest.mark.parametrize("loading", ["axial", "sagging", "hogging"])
def test_what_has_no_lip_does_not_distort(kind, loading):
    b = Buckling(parse_profile(EXAMPLES[kind]), loading=loading, E=E_AISI)
    assert b.distortional is None
    assert "no lips" in b.why_no_distortional


def test_an_angle_in_compression_only_twists():
    """Its legs turn about the corner, which is torsion: no local minimum (and none is made up)."""
    b = Buckling(parse_profile("angle:leg=40mm,t=1mm,r=1mm"), loading="axial", E=E_AISI)
    assert b.local is None
    assert "torsion" in b.why_no_local
    assert b.overall(800.0).stress == pytest.approx(plate_stress(0.425 + (39.5 / 800.0) ** 2, 39.5, 1.0), rel=0.05)


def test_a_round_tube_has_no_flats():
    b = Buckling(parse_profile(EXAMPLES["tube"]), loading="axial", E=E_AISI)
    assert b.local is None
    assert "no flats" in b.why_no_local


@pytest.mark.parametrize("kind", ["lipped-channel", "hat", "beaded-hat"])
@pytest.mark.parametrize("loading", ["axial", "hogging"])
def test_what_has_lips_distorts(kind, loading):
    f = parse_profile(EXAMPLES[kind])
    b = Buckling(f, loading=loading, E=E_AISI)
    found = b.distortional
    assert found is not None
    assert b.why_no_distortional == ""
    assert found.half_wavelength > b.local.half_wavelength
    # never less than the lowest mode at that half-wavelength, never more than the constrained section
    assert found.factor >= b.factors(np.array([found.half_wavelength]))[0] * (1 - 1e-6)
    if found.how == "constrained":
        assert found.factor <= b._constrained.distortional.factors(np.array([found.half_wavelength]))[0] * (1 + 1e-9)


def test_a_minimum_is_a_minimum():
    b = Buckling(parse_profile(EXAMPLES["lipped-channel"]), loading="axial", E=E_AISI)
    for found in (b.local, b.distortional):
        assert found.how == "minimum"
        around = b.factors(found.half_wavelength * np.array([0.97, 1.0, 1.03]))
        assert around[1] < around[0]
        assert around[1] < around[2]


@pytest.mark.parametrize("kind", ["hat", "lipped-channel", "channel", "beaded-hat", "hat-skin", "points"])
@pytest.mark.parametrize("loading", ["axial", "sagging", "hogging"])
def test_the_curve_in_few_modes_is_the_curve(kind, loading):
    """Every half-wavelength solved in full: the curve in few modes is never below it, and within 1 %."""
    b = Buckling(parse_profile(EXAMPLES[kind]), loading=loading, E=E_AISI)
    lengths, few = b.curve
    ratio = few / b.factors(lengths)
    assert ratio.min() > 1 - 1e-6
    assert ratio.max() < 1.01


def test_longer_lips_raise_the_distortional_stress_and_none_removes_it():
    text = "lipped-channel:web=100mm,flange=50mm,lip={}mm,t=1mm,r=1mm"
    stresses = [distortional(parse_profile(text.format(lip)), loading="axial", E=E_AISI).stress for lip in (6, 9, 14)]
    assert stresses == sorted(stresses)
    assert stresses[-1] > 1.5 * stresses[0]


def test_both_faces_of_a_symmetric_profile_are_alike():
    f = parse_profile(EXAMPLES["lipped-channel"])
    up, down = (distortional(f, loading=face, E=E_AISI) for face in ("sagging", "hogging"))
    assert up.stress == pytest.approx(down.stress, rel=1e-6)
    assert up.load == pytest.approx(up.stress * float(f.properties().W_y_top[0]))


def test_overall_buckling_is_that_of_the_bar():
    f = parse_profile(EXAMPLES["hat"])
    b = Buckling(f, loading="axial", E=210000.0)
    assert b.overall(1500.0).load == pytest.approx(bar_force(f.properties(), 1500.0), rel=0.01)


@pytest.mark.parametrize("kind", ["zed", "angle", "hat", "channel"])
def test_a_profile_that_nothing_guides_bends_about_its_principal_axes(kind):
    """Askew: the moment about y split on the principal axes by hand, each with its own second moment."""
    f = parse_profile(EXAMPLES[kind])
    p = f.properties()
    b = Buckling(f, loading="sagging", E=E_AISI, guided=False)
    angle, i_1, i_2 = (float(v[0]) for v in (p.principal_angle, p.I_1, p.I_2))
    y, z = b.model.y - float(p.y_centroid[0]), b.model.z - float(p.z_centroid[0])
    along, across = y * np.cos(angle) + z * np.sin(angle), z * np.cos(angle) - y * np.sin(angle)
    # M about y has the part cos about axis 1 (which presses what lies above it) and sin about axis 2
    stress = b.reference * (np.cos(angle) * across / i_1 + np.sin(angle) * along / i_2)
    assert stress == pytest.approx(b._stress(b.model), abs=1e-9)
    straight = Buckling(f, loading="sagging", E=E_AISI)
    if abs(float(p.I_yz[0])) < 1e-6 * i_1:
        assert b.modulus == pytest.approx(straight.modulus, rel=1e-6)
        assert b.local.load == pytest.approx(straight.local.load, rel=1e-6)
    else:
        assert b.modulus < 0.8 * straight.modulus
    assert straight.modulus == pytest.approx(float(min(p.W_y_top[0], p.W_y_bottom[0])), rel=1e-9)


def test_a_mode_of_the_whole_section_is_told_from_one_of_its_shape():
    """Long: the section shifts and turns as a whole.  At the local minimum its folds stay."""
    b = Buckling(parse_profile(EXAMPLES["lipped-channel"]), loading="axial", E=E_AISI)
    assert rigid_share(b.model, b.solver.modes(3000.0))[0] > 0.99
    assert rigid_share(b.model, b.solver.modes(b.local.half_wavelength))[0] < 0.5


def test_modes_split_on_the_constrained_section():
    """Constrained modes are stiffer than the free section of the same geometry, never softer."""
    from jointcalc.section.strip_solver import Solver
    from jointcalc.section.strips import cut

    f = parse_profile(EXAMPLES["lipped-channel"])
    b = Buckling(f, loading="axial", E=E_AISI)
    model = cut(f.outline(sharp=True))
    lengths = np.geomspace(20.0, 800.0, 12)
    free = Solver(model, np.ones(model.nodes), E=E_AISI, nu=0.3).factors(lengths)
    assert (b._constrained.local.factors(lengths) >= free * (1 - 1e-6)).all()
    assert (b._constrained.distortional.factors(lengths) >= free * (1 - 0.01)).all()
    # two folds more than the four overall patterns of an open section with four folds and two tips
    assert b._constrained.distortions == 2


@settings(max_examples=12)
@given(st.floats(0.5, 3.0), st.sampled_from(["lipped-channel", "hat"]), st.sampled_from(["axial", "hogging"]))
def test_size_scales_out(scale, kind, loading):
    """Stresses depend on proportions alone; half-wavelengths grow with the section."""
    spec = EXAMPLES[kind]
    f = parse_profile(spec)
    larger = type(f)(**{k: v * scale for k, v in f.dimensions().items()})
    one, two = (buckling(x, loading=loading, E=E_AISI) for x in (f, larger))
    for a, b in ((one.local, two.local), (one.distortional, two.distortional)):
        assert b.stress == pytest.approx(a.stress, rel=1e-3)
        assert b.half_wavelength == pytest.approx(a.half_wavelength * scale, rel=0.03)


def test_faults_are_told():
    f = parse_profile(EXAMPLES["hat"])
    with pytest.raises(InputError, match="loading"):
        Buckling(f, loading="upside", E=E_AISI)
    with pytest.raises(InputError, match="above 0"):
        Buckling(f, loading="axial", E=-1.0)
    with pytest.raises(InputError, match="one profile"):
        Buckling(type(f)(**{**f.dimensions(), "t": np.array([1.0, 2.0])}), loading="axial", E=E_AISI)


def test_a_flat_that_its_bends_use_up_is_no_strip():
    """A step of one sheet's thickness is two bends with nothing between: no division by nothing, no strip of no width."""
    f = parse_profile("lap:left=84.15mm,overlap=6.912mm,right=57.9mm,t=1.693mm,t_2=1.727mm")
    with np.errstate(all="raise"):
        b = Buckling(f, loading="sagging", E=E_AISI)
        assert b.model.width.min() > 0
        assert b.overall(500.0).stress > 0


def test_the_matrices_of_the_last_sections_alone_are_kept():
    # two megabytes each: a project of many braces has no room for all
    def section(lip):
        return buckling(
            parse_profile(f"lipped-channel:web=100mm,flange=40mm,lip={lip}mm,t=1.5mm,r=2mm"), loading="axial", E=2.1e5
        )

    first = section(12)
    matrices, before = weakref.ref(first.solver), first.factors(np.array([80.0, 400.0]))
    for lip in range(AT_HAND):
        assert np.isfinite(section(14 + lip).factors(np.array([80.0]))).all()
    gc.collect()
    assert matrices() is None
    # worked out anew from the same section, they say the same
    assert first.factors(np.array([80.0, 400.0])) == pytest.approx(before, rel=1e-12)
