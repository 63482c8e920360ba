"""Finite strips against plate coefficients, the theory of thin-walled bars and closed-form beams and columns."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.linalg import eigh

from jointcalc.errors import InputError
from jointcalc.section import Tracer, parse_profile
from jointcalc.section.properties import Properties
from jointcalc.section.strip_matrices import TURN, Y, Z
from jointcalc.section.strip_solver import Solver
from jointcalc.section.strips import cut, plate

E, NU = 210000.0, 0.3
G = E / (2 * (1 + NU))


def coefficient(factor: float, b: float, t: float) -> float:
    """k of sigma = k pi^2 E t^2 / (12 (1 - nu^2) b^2)."""
    return factor * 12 * (1 - NU**2) / np.pi**2 / E * (b / t) ** 2


EDGES = [
    # (name, k, held at the left edge, at the right edge, stress left, right, half-wavelengths over width)
    # Timoshenko and Gere, Theory of Elastic Stability, chapter 9, nu = 0.3, from memory
    ("simple and simple", 4.00, (Z,), (Z,), 1.0, 1.0, (0.8, 1.2)),
    ("clamped and clamped", 6.97, (Z, TURN), (Z, TURN), 1.0, 1.0, (0.6, 0.75)),
    ("clamped and simple", 5.42, (Z, TURN), (Z,), 1.0, 1.0, (0.7, 0.9)),
    ("clamped and free", 1.277, (Z, TURN), (), 1.0, 1.0, (1.4, 1.9)),
    ("simple and simple, pure bending", 23.9, (Z,), (Z,), 1.0, -1.0, (0.6, 0.75)),
    ("simple and simple, triangular", 7.81, (Z,), (Z,), 1.0, 0.0, (0.8, 1.2)),
]


@pytest.mark.parametrize(("name", "k", "left", "right", "s_1", "s_2", "span"), EDGES, ids=[e[0] for e in EDGES])
def test_plate_coefficients(name, k, left, right, s_1, s_2, span):
    b, t, n = 120.0, 1.5, 10
    model = plate(width=b, t=t, strips=n).hold([0], *left).hold([n], *right)
    factors = Solver(model, np.linspace(s_1, s_2, n + 1), E=E, nu=NU).factors(np.linspace(*span, 41) * b)
    assert coefficient(factors.min(), b, t) == pytest.approx(k, rel=0.005)


def test_one_edge_free():
    """k = 0.425 + (b/a)^2 for a long plate, nu = 0.3 (Timoshenko and Gere, from memory); it has no minimum."""
    b, t, n = 50.0, 1.0, 8
    model = plate(width=b, t=t, strips=n).hold([0], Z)
    ratio = np.array([5.0, 10.0, 40.0])
    factors = Solver(model, np.ones(n + 1), E=E, nu=NU).factors(ratio * b)
    for one, factor in zip(ratio, factors, strict=True):
        assert coefficient(factor, b, t) == pytest.approx(0.425 + one**-2, rel=0.005)


def test_a_plate_clamped_all_round():
    """Square plate clamped on four sides, pressed in one direction: k = 10.07 (Levy 1942, from memory)."""
    b, t, n = 100.0, 1.0, 8
    model = plate(width=b, t=t, strips=n).hold([0, n], Z, TURN)
    factor = Solver(model, np.ones(n + 1), E=E, nu=NU, ends="fixed", terms=12).factors(np.array([b]))[0]
    assert coefficient(factor, b, t) == pytest.approx(10.07, rel=0.005)


def test_a_square_box_is_four_simple_plates():
    """All walls of a square box buckle together, each as if simply supported: k = 4 on the mid-line width."""
    f = parse_profile("box:depth=61mm,width=61mm,t=1mm,r=0.5mm")
    model = cut(f.outline(sharp=True))
    factors = Solver(model, model.stress(N=model.moments[0]), E=E, nu=NU).factors(np.linspace(50, 70, 21))
    assert coefficient(factors.min(), 60.0, 1.0) == pytest.approx(4.0, rel=0.005)


# --- bars --------------------------------------------------------------------------------------------------


def bar_force(p: Properties, length: float) -> float:
    """Lowest critical force of a pinned thin-walled bar, flexure and torsion coupled (Vlasov's equations)."""
    k = (np.pi / length) ** 2
    i_y, i_z, i_yz = (float(v[0]) for v in (p.I_y, p.I_z, p.I_yz))
    y_s = float(p.y_shear_centre[0] - p.y_centroid[0])
    z_s = float(p.z_shear_centre[0] - p.z_centroid[0])
    torsion = E * float(p.C_w[0]) * k + G * float(p.J[0])
    stiff = np.array([[E * i_z * k, E * i_yz * k, 0.0], [E * i_yz * k, E * i_y * k, 0.0], [0.0, 0.0, torsion]])
    force = np.array([[1.0, 0.0, z_s], [0.0, 1.0, -y_s], [z_s, -y_s, float(p.i_0[0]) ** 2]])
    return float(eigh(stiff, force, eigvals_only=True)[0])


BARS = [
    "hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm",
    "hat:top=60mm,depth=25mm,flange=15mm,t=0.8mm,r=2mm",
    "channel:web=50mm,flange=25mm,t=1.5mm,r=2mm",
    "lipped-channel:web=60mm,flange=30mm,lip=10mm,t=1.2mm,r=2mm",
    "zed:web=40mm,flange=20mm,t=1.2mm,r=2mm",
    "angle:leg=30mm,foot=25mm,t=2mm,r=2mm",
    "box:depth=40mm,width=30mm,t=1.5mm,r=2mm",
    "beaded-hat:top=60mm,depth=30mm,flange=20mm,t=1mm,r=2mm,bead=15mm,bead_depth=4mm",
    "beaded-hat:top=60mm,depth=50mm,flange=20mm,t=1mm,r=2mm,web_bead=15mm,web_bead_depth=4mm",
    # a step in each web, and a step in the crown
    "points:at=-50 0/-30 0/-30 27/-26 33/-26 60/26 60/26 33/30 27/30 0/50 0 mm,t=1mm,r=1mm",
    "points:at=-50 0/-30 0/-30 40/-14 40/-10 44/10 44/14 40/30 40/30 0/50 0 mm,t=1mm,r=1mm",
    "bar:depth=30mm,width=5mm",
]


@pytest.mark.parametrize("text", BARS)
def test_long_columns_follow_the_theory_of_thin_walled_bars(text):
    """With the section's own J, C_w and shear centre, which are tested elsewhere: within 1 %."""
    f = parse_profile(text)
    model = cut(f.outline())
    lengths = np.array([1500.0, 3000.0])
    factors = Solver(model, model.stress(N=1.0), E=E, nu=NU).factors(lengths)
    for length, factor in zip(lengths, factors, strict=True):
        assert factor == pytest.approx(bar_force(f.properties(), length), rel=0.01)


def test_a_spot_welded_cell_follows_the_theory_of_thin_walled_bars():
    """Hat on skin: J of the cell between weld lines; longer, so that shear along the brace does not tell."""
    f = parse_profile(
        "hat-skin:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm,skin=100mm,skin_t=1mm,weld=9mm",
    )
    model = cut(f.outline())
    factor = Solver(model, model.stress(N=1.0), E=E, nu=NU).factors(np.array([4000.0]))[0]
    assert factor == pytest.approx(bar_force(f.properties(), 4000.0), rel=0.01)


def i_section(depth: float, width: float, t: float) -> Tracer:
    """A doubly symmetric I with mid-line corners, drawn as a branched outline."""
    tracer = Tracer()
    tracer.start(-width / 2, depth, 0.0, t=t)
    tracer.go(width / 2, "top left", "a")
    top = tracer.node
    tracer.turn(-np.pi / 2)
    tracer.go(depth, "web", "b")
    bottom = tracer.node
    tracer.turn(np.pi / 2)
    tracer.go(width / 2, "bottom right", "a")
    tracer.start(width / 2, depth, np.pi, t=t)
    tracer.go(width / 2, "top right", "a", close=top)
    tracer.start(-width / 2, 0.0, 0.0, t=t)
    tracer.go(width / 2, "bottom left", "a", close=bottom)
    return tracer


def critical_moment(p: Properties, length: float, beta: float = 0.0) -> float:
    """Uniform moment, forks at the ends: M^2 = N_z (G J + E C_w k - M beta) (Timoshenko and Gere, chapter 6)."""
    k = (np.pi / length) ** 2
    n_z = E * k * float(p.I_z[0])
    torsion = G * float(p.J[0]) + E * k * float(p.C_w[0])
    return float((-beta * n_z + np.sqrt((beta * n_z) ** 2 + 4 * n_z * torsion)) / 2)


def test_lateral_torsional_buckling_of_an_i_section():
    p = Properties(i_section(80.0, 50.0, 2.0).outline())
    # the section's own values against the handbook: I_z = t b^3 / 6, C_w = I_z h^2 / 4 (flanges only)
    assert float(p.C_w[0]) == pytest.approx(2.0 * 50.0**3 / 6 * 80.0**2 / 4, rel=1e-3)
    model = cut(p.outline)
    lengths = np.array([1200.0, 3000.0])
    factors = Solver(model, model.stress(M_y=1.0), E=E, nu=NU).factors(lengths)
    for length, factor in zip(lengths, factors, strict=True):
        assert factor == pytest.approx(critical_moment(p, length), rel=0.01)


def test_lateral_torsional_buckling_of_a_channel():
    f = parse_profile("channel:web=50mm,flange=25mm,t=1.5mm,r=2mm")
    model = cut(f.outline())
    factors = Solver(model, model.stress(M_y=1.0), E=E, nu=NU).factors(np.array([1000.0, 2500.0]))
    for length, factor in zip((1000.0, 2500.0), factors, strict=True):
        assert factor == pytest.approx(critical_moment(f.properties(), length), rel=0.01)


@pytest.mark.parametrize("sign", [1.0, -1.0])
def test_lateral_torsional_buckling_of_a_hat(sign):
    """One axis of symmetry: beta tells the two signs apart.  A hat bends about y, its weak axis here is z."""
    f = parse_profile("hat:top=20mm,depth=50mm,flange=12mm,t=1.5mm,r=2mm")
    p = f.properties()
    model = cut(f.outline())
    factors = Solver(model, model.stress(M_y=sign), E=E, nu=NU).factors(np.array([4000.0]))
    assert factors[0] == pytest.approx(critical_moment(p, 4000.0, sign * float(p.beta_y[0])), rel=0.01)


def test_fixed_ends_carry_four_times_the_flexural_force():
    """Euler: the buckling length of a column with both ends fixed is half its length (a box does not twist)."""
    f = parse_profile("box:depth=40mm,width=30mm,t=1.5mm,r=2mm")
    model = cut(f.outline(), strips=24)
    length = np.array([4000.0])
    simple = Solver(model, model.stress(N=1.0), E=E, nu=NU).factors(length)[0]
    fixed = Solver(model, model.stress(N=1.0), E=E, nu=NU, ends="fixed", terms=7).factors(length)[0]
    assert fixed / simple == pytest.approx(4.0, rel=0.01)
    assert fixed == pytest.approx(4 * bar_force(f.properties(), 4000.0), rel=0.01)


def test_fixed_ends_raise_torsion_as_well():
    """A plain cross-section of four equal legs twists: N = A/I_p (G J + 4 pi^2 E C_w / L^2), fixed or not, C_w ~ 0."""
    f = parse_profile("angle:leg=40mm,foot=40mm,t=1mm,r=1mm")
    model = cut(f.outline(sharp=True), strips=20)
    stress = model.stress(N=1.0)
    simple = Solver(model, stress, E=E, nu=NU).factors(np.array([700.0]))[0]
    fixed = Solver(model, stress, E=E, nu=NU, ends="fixed", terms=9).factors(np.array([700.0]))[0]
    # k = 0.425 + (b/a)^2 (one harmonic); fixed ends leave G J and change the plate term alone
    assert 1.0 < fixed / simple < 1.1


@pytest.mark.parametrize(
    ("plain", "stiffened"),
    [
        (
            "hat:top=60mm,depth=60mm,flange=20mm,t=0.8mm,r=2mm",
            "beaded-hat:top=60mm,depth=60mm,flange=20mm,t=0.8mm,r=2mm,web_bead=15mm,web_bead_depth=4mm,bead=15mm,bead_depth=4mm",
        ),
        (
            "points:at=-50 0/-30 0/-30 60/30 60/30 0/50 0 mm,t=0.8mm,r=1mm",
            "points:at=-50 0/-30 0/-30 27/-26 33/-26 60/-12 60/-8 56/8 56/12 60/26 60/26 33/30 27/30 0/50 0 mm,t=0.8mm,r=1mm",
        ),
    ],
)
def test_beads_and_steps_in_webs_and_crown_hold_the_flats(plain: str, stiffened: str) -> None:
    """Each flat is cut in two or more, so its local load, which goes with 1 / b^2, grows; it cannot fall (mechanics)."""
    loads = []
    for text in (plain, stiffened):
        model = cut(parse_profile(text).outline())
        factors = Solver(model, model.stress(N=model.moments[0]), E=E, nu=NU).factors(np.geomspace(12.0, 90.0, 40))
        loads.append(factors.min())
    assert 1.5 * loads[0] < loads[1] < 20 * loads[0]


# --- stress, geometry, stacks --------------------------------------------------------------------------------


def test_stress_has_the_resultants_it_was_made_from():
    """Sums of stress over the strips give back N, M_y and M_z, product of inertia included."""
    model = cut(parse_profile("angle:leg=50mm,foot=30mm,t=2mm,r=2mm").outline())
    s = model.stress(N=1000.0, M_y=2.0e4, M_z=-3.0e4)
    a = model.t * model.width
    _, y_c, z_c, *_ = model.moments
    f, last = model.first, model.last
    assert (a * (s[f] + s[last]) / 2).sum() == pytest.approx(1000.0)
    simpson = [(1 / 6, f, f), (1 / 6, last, last)]
    for place, centre, expected in ((model.z, z_c, 2.0e4), (model.y, y_c, -3.0e4)):
        ends = sum(w * s[i] * (place[j] - centre) for w, i, j in simpson)
        middle = 4 / 6 * (s[f] + s[last]) / 2 * ((place[f] + place[last]) / 2 - centre)
        # the strips' own second moment across their thickness is left out of this sum: a few thousandths
        assert (a * (ends + middle)).sum() == pytest.approx(expected, rel=0.01)


@pytest.mark.parametrize("text", [*BARS, "tube:od=38mm,t=2mm", "lap:left=60mm,overlap=25mm,right=60mm,t=1mm,step=10mm"])
def test_strips_have_the_area_and_second_moments_of_the_profile(text):
    """Chords of a bend lose less than a hundredth of it."""
    f = parse_profile(text)
    p = f.properties()
    ours = cut(f.outline()).moments
    assert ours[0] == pytest.approx(float(p.area[0]), rel=0.005)
    scale = float(p.I_y[0] + p.I_z[0])
    for mine, theirs in zip(ours[3:], (p.I_y, p.I_z, p.I_yz), strict=True):
        assert mine == pytest.approx(float(theirs[0]), abs=0.012 * scale)


@settings(max_examples=20)
@given(
    st.lists(st.floats(20.0, 3000.0), min_size=1, max_size=9),
    st.sampled_from([BARS[0], BARS[3], BARS[6]]),
    st.sampled_from(["simple", "fixed"]),
)
def test_a_stack_gives_what_single_lengths_give(lengths, text, ends):
    model = cut(parse_profile(text).outline(), strips=14)
    solver = Solver(model, model.stress(N=1.0, M_y=3.0), E=E, nu=NU, ends=ends, terms=3 if ends == "fixed" else 1)
    together = solver.factors(np.array(lengths))
    for length, factor in zip(lengths, together, strict=True):
        # the lowest of many factors keeps the digits that the highest leaves it: they part with the length's 4th power
        left = 1e-9 + 1e-7 * (length / 1000) ** 4
        assert solver.factors(np.array([length]))[0] == pytest.approx(factor, rel=left)
        assert solver.modes(length).factors[0] == pytest.approx(factor, rel=left)


def test_one_fixed_term_is_the_ritz_value_of_one_shape():
    """sin^2 alone gives exactly four times Euler for a plate strip bent as a beam (clamped column shape)."""
    model = plate(width=20.0, t=3.0, strips=2)
    factor = Solver(model, np.ones(3), E=E, nu=0.0, ends="fixed", terms=1).factors(np.array([900.0]))[0]
    assert factor == pytest.approx(4 * np.pi**2 * E * 3.0**2 / 12 / 900.0**2, rel=1e-4)


def test_the_mode_solves_the_equations():
    """The movements of a mode satisfy K d = factor x work, put together independently with along movements kept."""
    from jointcalc.section.strip_matrices import freedom, matrices

    model = cut(parse_profile(BARS[0]).outline(), strips=14)
    stress = model.stress(N=1.0)
    modes = Solver(model, stress, E=E, nu=NU).modes(300.0, 3)
    m = matrices(model, stress, E=E, nu=NU)
    free, _ = freedom(model)
    k = np.pi / 300.0
    for factor, shape in zip(modes.factors, modes.movements, strict=True):
        d = shape[0].copy()
        d[:, 3] /= k  # along, as the factor of Y'
        whole = (m.p + k**2 * m.q + k**4 * m.r) @ d.ravel()
        work = factor * k**2 * (m.work @ d.ravel())
        assert np.abs(free.T @ (whole - work)).max() < 1e-6 * np.abs(free.T @ work).max()


def test_tension_never_buckles():
    model = cut(parse_profile(BARS[2]).outline(), strips=14)
    assert np.isinf(Solver(model, model.stress(N=-1.0), E=E, nu=NU).factors(np.array([50.0, 500.0]))).all()


@pytest.mark.parametrize("bad", [0.0, -5.0, np.nan, np.inf])
def test_a_half_wavelength_is_a_length(bad):
    model = plate(width=20.0, t=1.0, strips=2)
    with pytest.raises(InputError, match="half-wavelength"):
        Solver(model, np.ones(3), E=E, nu=NU).factors(np.array([bad]))


def test_a_link_carries_across_and_along():
    """Two plates joined all along by stiff lines at both edges bend together as one section, not as two sheets."""
    one, two = 1.0, 1.0
    tracer = Tracer()
    tracer.start(0.0, 0.0, 0.0, t=one, sheet="a")
    first = tracer.node
    tracer.go(40.0, "lower", "a")
    last = tracer.node
    tracer.start(0.0, 10.0, 0.0, t=two, sheet="b")
    third = tracer.node
    tracer.go(40.0, "upper", "a")
    tracer.weld(first, third, "left")
    tracer.weld(last, tracer.node, "right")
    model = cut(tracer.outline())
    factor = Solver(model, model.stress(N=1.0), E=E, nu=NU).factors(np.array([6000.0]))[0]
    i_y = 2 * 40.0 * (25.0 + 1 / 12)
    assert factor == pytest.approx(np.pi**2 * E * i_y / 6000.0**2, rel=0.01)
    assert Y == 0


def test_a_pressed_sheet_widens_by_poisson():
    """Pressed along and free across, a wide sheet has the strain nu times as much across and no force across (Hooke)."""
    from jointcalc.section.strip_matrices import ALONG, matrices

    model = plate(width=40.0, t=1.0, strips=4)
    m = matrices(model, np.ones(5), E=E, nu=NU)
    k = np.pi / 1e5
    d = np.zeros((5, 4))
    d[:, ALONG] = 1.0  # strain along is -k^2 times this
    across = {sign: d.copy() for sign in (-1.0, 1.0)}
    for sign, moved in across.items():
        moved[:, Y] = sign * NU * k**2 * model.y
    force = {s: ((m.p + k**2 * m.q + k**4 * m.r) @ moved.ravel()).reshape(5, 4)[:, Y] for s, moved in across.items()}
    assert np.abs(force[1.0]).max() < 1e-4 * np.abs(force[-1.0]).max()


def test_linked_lines_turn_as_one_body():
    """Turned about the origin as a rigid body, a section with links is not strained and keeps its links."""
    from jointcalc.section.strip_matrices import freedom, matrices

    model = cut(
        parse_profile("hat-skin:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm,skin=100mm,skin_t=1mm,weld=9mm").outline()
    )
    turned = np.stack([-model.z, model.y, np.ones(model.nodes), np.zeros(model.nodes)], axis=1)
    free, across = freedom(model)
    # movements across alone: what moves along follows from them through the slope of the link
    rows = np.arange(4 * model.nodes).reshape(-1, 4)[:, :3].ravel()
    basis = free[rows, :across]
    fit = basis @ np.linalg.lstsq(basis, turned[:, :3].ravel(), rcond=None)[0]
    assert fit == pytest.approx(turned[:, :3].ravel(), abs=1e-9)
    m = matrices(model, np.ones(model.nodes), E=E, nu=NU)
    other = turned.copy()
    other[:, 0] *= -1
    assert turned.ravel() @ m.p @ turned.ravel() < 1e-9 * (other.ravel() @ m.p @ other.ravel())


@pytest.mark.parametrize("ends", ["simple", "fixed"])
def test_integrals_of_the_series_by_quadrature(ends):
    """P, Q and R against a fine sum of the functions and their derivatives by differences of the exact formulas."""
    from jointcalc.section.strip_solver import integrals

    L, terms = 300.0, np.array([1, 2, 3, 5])
    x = (np.arange(20000) + 0.5) * L / 20000
    u = np.pi * x / L
    a = np.pi / L
    if ends == "simple":
        y = [np.sin(m * u) for m in terms]
        y_1 = [m * a * np.cos(m * u) for m in terms]
        y_2 = [-((m * a) ** 2) * np.sin(m * u) for m in terms]
    else:
        y = [np.sin(m * u) * np.sin(u) for m in terms]
        y_1 = [a * (m * np.cos(m * u) * np.sin(u) + np.sin(m * u) * np.cos(u)) for m in terms]
        y_2 = [a**2 * (2 * m * np.cos(m * u) * np.cos(u) - (m * m + 1) * np.sin(m * u) * np.sin(u)) for m in terms]
    for found, function in zip(integrals(L, terms, ends), (y, y_1, y_2), strict=True):
        by_sum = np.array([[(f * g).sum() for g in function] for f in function]) * L / 20000
        assert found == pytest.approx(by_sum, abs=1e-6 * np.abs(by_sum).max())


def test_a_stiffer_material_carries_its_share_of_the_stress():
    """All walls of twice the modulus: stress and stiffness both double, the load factor stays."""
    factors = []
    for ratio in (1.0, 2.0):
        tracer = Tracer()
        tracer.start(0.0, 0.0, 0.0, t=1.5, ratio=ratio)
        tracer.go(40.0, "flat", "a")
        model = cut(tracer.outline()).hold([0], Z)
        factors.append(Solver(model, np.ones(model.nodes), E=E, nu=NU).factors(np.array([200.0]))[0])
    assert factors[0] == pytest.approx(factors[1])
