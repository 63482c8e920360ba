"""The beam solver against handbook closed forms, an independent formulation and scipy.

Closed forms: strength-of-materials handbook tables (Roark, Formulas for Stress and Strain), from memory
unless said otherwise; fixed-end moments are published in print (fixed-end moment tables, read).
"""

from math import inf, pi, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jointcalc.errors import InputError
from jointcalc.statics.beam import solve
from jointcalc.statics.beam_frequency import frequency_1, frequency_parameter
from jointcalc.statics.beam_model import Couple, PointLoad, PointMass, SpreadLoad, Support, supports_of

L = 1000.0
EI = 2.1e9
RTOL = 1e-11


def pinned(loads, length=L, ei=EI):
    return solve(length, ei, supports_of("pinned", length), loads)


# --- single spans: handbook tables ---------------------------------------------------------------------


def test_pinned_uniform():
    w = 1.7
    beam = pinned([SpreadLoad(w, w, 0.0, L)])
    down, up = beam.deflection_extremes()
    assert down.value == pytest.approx(5 * w * L**4 / (384 * EI), rel=RTOL)
    assert down.at == pytest.approx(L / 2, rel=1e-9)
    assert up.value == pytest.approx(0.0, abs=1e-12)
    assert beam.moment_max().value == pytest.approx(w * L**2 / 8, rel=RTOL)
    assert beam.slope(0.0) == pytest.approx(w * L**3 / (24 * EI), rel=RTOL)
    assert [r.force for r in beam.reactions] == pytest.approx([w * L / 2] * 2, rel=RTOL)


@pytest.mark.parametrize("a", [100.0, 250.0, 500.0, 800.0, 0.001, 999.9])
def test_pinned_point(a):
    P, b = 750.0, L - a
    beam = pinned([PointLoad(P, a)])
    short, far = min(a, b), max(a, b)
    assert beam.deflection(a) == pytest.approx(P * a**2 * b**2 / (3 * EI * L), rel=1e-10)
    most = beam.deflection_max()
    assert most.value == pytest.approx(P * short * (L**2 - short**2) ** 1.5 / (9 * sqrt(3) * L * EI), rel=1e-10)
    from_far = sqrt((L**2 - short**2) / 3)
    assert most.at == pytest.approx(from_far if a == far else L - from_far, rel=1e-7)
    assert beam.moment_max() == pytest.approx((P * a * b / L, a), rel=1e-10)
    assert beam.shear(a, "left") == pytest.approx(P * b / L, rel=1e-10)
    assert beam.shear(a, "right") == pytest.approx(-P * a / L, rel=1e-10)


def test_pinned_triangular():
    # handbook: load rising from 0 to w, M_max = w L²/(9 sqrt 3) at L/sqrt 3; y_max = 0.006522 w L⁴/EI at 0.5193 L
    w = 2.0
    beam = pinned([SpreadLoad(0.0, w, 0.0, L)])
    assert beam.moment_max() == pytest.approx((w * L**2 / (9 * sqrt(3)), L / sqrt(3)), rel=1e-10)
    most = beam.deflection_max()
    assert most.value == pytest.approx(0.006522 * w * L**4 / EI, rel=1e-4)
    assert most.at == pytest.approx(0.5193 * L, abs=0.05)
    assert [r.force for r in beam.reactions] == pytest.approx([w * L / 6, w * L / 3], rel=RTOL)


def test_pinned_end_couple():
    # handbook: couple at one end, y_max = M L²/(9 sqrt 3 EI) at L/sqrt 3 from the other end, M falls to zero
    M = 4e5
    beam = pinned([Couple(M, 0.0)])
    assert abs(beam.deflection_max().value) == pytest.approx(M * L**2 / (9 * sqrt(3) * EI), rel=1e-10)
    assert beam.deflection_max().at == pytest.approx(L * (1 - 1 / sqrt(3)), rel=1e-8)
    assert beam.moment(0.0) == pytest.approx(M, rel=RTOL)
    assert beam.slope(0.0) == pytest.approx(M * L / (3 * EI), rel=RTOL)
    assert beam.slope(L) == pytest.approx(-M * L / (6 * EI), rel=RTOL)


def test_pinned_couple_inside_jumps():
    M, a = 4e5, 300.0
    beam = pinned([Couple(M, a)])
    assert beam.moment(a, "left") == pytest.approx(-M * a / L, rel=1e-11)
    assert beam.moment(a, "right") == pytest.approx(M * (1 - a / L), rel=1e-11)
    # handbook: slope at the couple M (L² - 3 a b)/(3 L EI)
    assert beam.slope(a) == pytest.approx(M * (L**2 - 3 * a * (L - a)) / (3 * L * EI), rel=1e-10)


def test_fixed_uniform():
    w = 1.7
    beam = solve(L, EI, supports_of("fixed", L), [SpreadLoad(w, w, 0.0, L)])
    assert beam.end_moments() == pytest.approx((-w * L**2 / 12,) * 2, rel=RTOL)
    assert beam.moment(L / 2) == pytest.approx(w * L**2 / 24, rel=RTOL)
    assert beam.deflection_max().value == pytest.approx(w * L**4 / (384 * EI), rel=RTOL)


@pytest.mark.parametrize("b", [100.0, 300.0, 500.0])
def test_fixed_point(b):
    P, a = 750.0, L - b
    beam = solve(L, EI, supports_of("fixed", L), [PointLoad(P, a)])
    assert beam.end_moments() == pytest.approx((-P * a * b**2 / L**2, -P * a**2 * b / L**2), rel=1e-10)
    assert beam.deflection(L / 2) == pytest.approx(P * b**2 * (3 * L - 4 * b) / (48 * EI), rel=1e-10)
    # handbook: y_max = 2 P a³ b²/(3 EI (3a + b)²) at 2 a L/(3a + b) from the far end
    assert beam.deflection_max().value == pytest.approx(2 * P * a**3 * b**2 / (3 * EI * (3 * a + b) ** 2), rel=1e-10)
    assert beam.deflection_max().at == pytest.approx(2 * a * L / (3 * a + b), rel=1e-7)


@pytest.mark.parametrize(
    "load, left, right",
    [
        # fixed-end moment tables (read for the uniform and point cases): hogging, in w L² or P L
        (SpreadLoad(0.0, 1.0, 0.0, L), 1 / 30, 1 / 20),
        (SpreadLoad(1.0, 1.0, 0.0, L / 2), 11 / 192, 5 / 192),
    ],
)
def test_fixed_end_moments_of_distributed_loads(load, left, right):
    beam = solve(L, EI, supports_of("fixed", L), [load])
    assert beam.end_moments() == pytest.approx((-left * L**2, -right * L**2), rel=1e-11)


def test_fixed_triangle_peaking_in_the_middle():
    # fixed-end moment tables: 5 w L²/96 at both ends
    loads = [SpreadLoad(0.0, 1.0, 0.0, L / 2), SpreadLoad(1.0, 0.0, L / 2, L)]
    beam = solve(L, EI, supports_of("fixed", L), loads)
    assert beam.end_moments() == pytest.approx((-5 * L**2 / 96,) * 2, rel=1e-11)


def test_propped_cantilever():
    # handbook: fixed-pinned, uniform: R = 3wL/8 at the prop, M = wL²/8 at the wall, y_max = wL⁴/(184.6 EI) at 0.4215 L
    w = 1.0
    beam = solve(L, EI, (Support(0.0, rotation=inf), Support(L)), [SpreadLoad(w, w, 0.0, L)])
    assert beam.reactions[1].force == pytest.approx(3 * w * L / 8, rel=RTOL)
    assert beam.end_moments()[0] == pytest.approx(-w * L**2 / 8, rel=RTOL)
    assert beam.deflection_max().value == pytest.approx(w * L**4 / (184.6 * EI), rel=3e-4)
    assert L - beam.deflection_max().at == pytest.approx(0.4215 * L, abs=0.06)


def test_cantilever():
    P, w = 100.0, 0.5
    beam = solve(L, EI, supports_of("cantilever", L), [PointLoad(P, L)])
    assert beam.deflection(L) == pytest.approx(P * L**3 / (3 * EI), rel=RTOL)
    assert beam.slope(L) == pytest.approx(P * L**2 / (2 * EI), rel=RTOL)
    assert beam.moment_max() == pytest.approx((-P * L, 0.0), rel=RTOL)
    beam = solve(L, EI, supports_of("cantilever", L), [SpreadLoad(w, w, 0.0, L)])
    assert beam.deflection(L) == pytest.approx(w * L**4 / (8 * EI), rel=RTOL)
    beam = solve(L, EI, supports_of("cantilever", L), [Couple(1e5, L)])
    assert beam.deflection(L) == pytest.approx(1e5 * L**2 / (2 * EI), rel=RTOL)


def test_guided_end():
    # handbook: left end held but free to slide vertically (guided), right end built in: y = P L³/(12 EI)
    beam = solve(L, EI, (Support(0.0, vertical=0.0, rotation=inf), Support(L, rotation=inf)), [PointLoad(100.0, 0.0)])
    assert beam.deflection(0.0) == pytest.approx(100.0 * L**3 / (12 * EI), rel=RTOL)


# --- more than one span ------------------------------------------------------------------------------


def test_two_equal_spans():
    # continuous-beam tables: reactions 0.375, 1.25, 0.375 wl; support moment -0.125 wl²; y_max = 0.0054 wl⁴/EI
    w, l_1 = 1.0, 800.0
    beam = solve(2 * l_1, EI, (Support(0.0), Support(l_1), Support(2 * l_1)), [SpreadLoad(w, w, 0.0, 2 * l_1)])
    forces = [r.force / (w * l_1) for r in beam.reactions]
    assert forces == pytest.approx([0.375, 1.25, 0.375], rel=1e-11)
    assert beam.moment(l_1) == pytest.approx(-0.125 * w * l_1**2, rel=1e-11)
    assert beam.moment_extremes()[0].value == pytest.approx(9 / 128 * w * l_1**2, rel=1e-11)
    assert beam.deflection_max().value == pytest.approx(0.0054 * w * l_1**4 / EI, rel=4e-3)


def test_three_equal_spans():
    # continuous-beam tables: reactions 0.4, 1.1, 1.1, 0.4 wl; support moments -0.1 wl²; middle span +0.025 wl²
    w, l_1 = 1.0, 800.0
    supports = [Support(l_1 * i) for i in range(4)]
    beam = solve(3 * l_1, EI, supports, [SpreadLoad(w, w, 0.0, 3 * l_1)])
    assert [r.force / (w * l_1) for r in beam.reactions] == pytest.approx([0.4, 1.1, 1.1, 0.4], rel=1e-11)
    assert beam.moment(l_1) == pytest.approx(-0.1 * w * l_1**2, rel=1e-11)
    assert beam.moment(1.5 * l_1) == pytest.approx(0.025 * w * l_1**2, rel=1e-10)


def test_overhang():
    # handbook: load at the end of an overhang c beyond a span l: y_end = P c² (l + c)/(3 EI), R = P (l + c)/l
    P, l_1, c = 100.0, 700.0, 300.0
    beam = solve(L, EI, (Support(0.0), Support(l_1)), [PointLoad(P, L)])
    assert beam.deflection(L) == pytest.approx(P * c**2 * L / (3 * EI), rel=1e-11)
    assert [r.force for r in beam.reactions] == pytest.approx([-P * c / l_1, P * L / l_1], rel=1e-11)
    # uplift between the supports: P c l²/(9 sqrt 3 EI)
    assert beam.deflection_extremes()[1].value == pytest.approx(-P * c * l_1**2 / (9 * sqrt(3) * EI), rel=1e-10)


# --- elastic ends ----------------------------------------------------------------------------------------


@given(
    a=st.floats(0.02, 0.98),
    k_1=st.floats(1e4, 1e12),
    k_2=st.floats(1e4, 1e12),
)
@settings(max_examples=60, deadline=None)
def test_elastic_ends_against_slope_deflection(a, k_1, k_2):
    """Slope-deflection equations set up and solved here, apart from the closed form."""
    P, x = 750.0, a * L
    b = L - x
    F_A, F_B = P * x * b**2 / L**2, P * x**2 * b / L**2
    # clockwise end moments: M_A' = 2EI/L (2 th_A + th_B) - F_A = -k_1 th_A; at B + F_B = -k_2 th_B
    A = np.array([[4 * EI / L + k_1, 2 * EI / L], [2 * EI / L, 4 * EI / L + k_2]])
    th = np.linalg.solve(A, [F_A, -F_B])
    beam = solve(L, EI, supports_of((k_1, k_2), L), [PointLoad(P, x)])
    assert beam.end_moments() == pytest.approx((-k_1 * th[0], k_2 * th[1]), rel=1e-8)
    assert (beam.slope(0.0), beam.slope(L)) == pytest.approx(tuple(th), rel=1e-8)
    assert beam.reactions[0].moment == pytest.approx(-k_1 * th[0], rel=1e-8)


def test_symmetric_elastic_ends_give_the_moment_ratio():
    # M/M_F = 1/(1 + 2 EI/(k L)) for symmetric load: slope-deflection, derivation
    k, w = 3e6, 1.0
    beam = solve(L, EI, supports_of((k, k), L), [SpreadLoad(w, w, 0.0, L)])
    assert -beam.end_moments()[0] / (w * L**2 / 12) == pytest.approx(1 / (1 + 2 * EI / (k * L)), rel=1e-11)


def test_elastic_support_under_the_middle():
    # compatibility by hand: R = k y, y = 5wL⁴/384EI - R L³/48EI
    k, w = 20.0, 1.0
    beam = solve(L, EI, (Support(0.0), Support(L / 2, vertical=k), Support(L)), [SpreadLoad(w, w, 0.0, L)])
    R = k * (5 * w * L**4 / (384 * EI)) / (1 + k * L**3 / (48 * EI))
    assert beam.reactions[1].force == pytest.approx(R, rel=1e-10)


# --- random beams against an independent formulation ---------------------------------------------------------


def macaulay(length, ei, supports, loads, x):
    """Initial-parameter (singularity-function) solution: unknown reactions, moments, w(0) and slope(0)."""
    unknown = [("w0", None), ("th0", None)]
    for s in supports:
        if s.vertical > 0:
            unknown.append(("R", s))
        if s.rotation > 0:
            unknown.append(("C", s))

    def bracket(z, n):
        return np.where(z > 0, np.abs(z) ** n, 0.0) if n else np.where(z >= 0, 1.0, 0.0)

    fact = [1.0, 1.0, 2.0, 6.0, 24.0, 120.0]

    def of_force(F, at, z, order):  # downward force F: EI w += F <x-a>³/6
        return F * bracket(z - at, 3 - order) / fact[3 - order] if order <= 3 else 0 * z

    def of_couple(C, at, z, order):  # clockwise couple C: M jumps by +C, EI w'' by -C
        return -C * bracket(z - at, 2 - order) / fact[2 - order] if order <= 2 else 0 * z

    def of_spread(q, z, order):
        out = 0 * z
        slope = (q.last - q.first) / (q.end - q.start)
        for at, size, rate in ((q.start, q.first, slope), (q.end, -q.last, -slope)):
            out = out + size * bracket(z - at, 4 - order) / fact[4 - order]
            out = out + rate * bracket(z - at, 5 - order) / fact[5 - order]
        return out

    def column(name, s, z, order):
        z = np.asarray(z, dtype=float)
        if name == "w0":
            return np.where(order == 0, 1.0, 0.0) + 0 * z
        if name == "th0":
            return z if order == 0 else np.where(order == 1, 1.0, 0.0) + 0 * z
        return of_force(-1.0, s.at, z, order) if name == "R" else of_couple(1.0, s.at, z, order)

    def applied(z, order):
        z = np.asarray(z, dtype=float)
        total = 0 * z
        for load in loads:
            if isinstance(load, PointLoad):
                total = total + of_force(load.force, load.at, z, order)
            elif isinstance(load, Couple):
                total = total + of_couple(load.moment, load.at, z, order)
            else:
                total = total + of_spread(load, z, order)
        return total

    rows, right = [], []
    end = length * (1 + 1e-12)
    for order in (2, 3):  # moment and shear vanish beyond the right end
        rows.append([column(n, s, end, order) for n, s in unknown])
        right.append(-applied(end, order))
    for i, (name, s) in enumerate(unknown):
        if s is None:
            continue
        order = 0 if name == "R" else 1
        row = [column(n, t, s.at, order) for n, t in unknown]
        k = s.vertical if name == "R" else s.rotation
        # R = +k w upwards; C = -k th
        flex = 0.0 if k == inf else ei / k
        row[i] = row[i] + (-flex if name == "R" else flex)
        rows.append(row)
        right.append(-applied(s.at, order))
    A = np.array(rows, dtype=float)
    size = np.abs(A).max(0)
    A = A / size
    big = np.abs(A).max(1)
    solution = np.linalg.solve(A / big[:, None], np.array(right, dtype=float) / big) / size

    def field(order):
        total = applied(x, order)
        for value, (name, s) in zip(solution, unknown):
            total = total + value * column(name, s, x, order)
        return total

    return field(0) / ei, -field(2), solution, unknown


@st.composite
def beams(draw):
    length = draw(st.floats(200.0, 3000.0))
    part = st.floats(0.0, 1.0)
    inner = sorted(draw(st.lists(st.floats(0.1, 0.9), max_size=2, unique=True)))
    inner = [z for i, z in enumerate(inner) if i == 0 or z - inner[i - 1] > 0.1]
    kind = draw(st.sampled_from(["pinned", "fixed", "springs", "cantilever", "overhang"]))
    soft = draw(st.floats(1e5, 1e9))
    ends = {
        "pinned": [Support(0.0), Support(length)],
        "fixed": [Support(0.0, rotation=inf), Support(length, rotation=inf)],
        "springs": [Support(0.0, rotation=soft), Support(length, vertical=soft / 1e6, rotation=soft / 3)],
        "cantilever": [Support(0.0, rotation=inf)],
        "overhang": [Support(0.05 * length), Support(0.95 * length)],
    }[kind]
    supports = ends + [Support(z * length) for z in inner]
    loads = []
    for _ in range(draw(st.integers(1, 4))):
        size = draw(st.floats(-1000.0, 1000.0).filter(lambda z: abs(z) > 1))
        what = draw(st.sampled_from(["point", "couple", "spread"]))
        if what == "point":
            loads.append(PointLoad(size, draw(part) * length))
        elif what == "couple":
            loads.append(Couple(size * 100, draw(part) * length))
        else:
            a = draw(st.floats(0.0, 0.9))
            b = draw(st.floats(a + 0.05, 1.0))
            loads.append(SpreadLoad(size / 1000, draw(st.floats(-1.0, 1.0)), a * length, b * length))
    return length, supports, loads


def terms_of(load, length):
    """The moment [N mm] that the load's terms in the equations are as large as."""
    if isinstance(load, PointLoad):
        return abs(load.force) * length
    return abs(load.moment) if isinstance(load, Couple) else (abs(load.first) + abs(load.last)) * length**2


@given(beams())
@settings(max_examples=150, deadline=None)
def test_random_beams_against_singularity_functions(case):
    length, supports, loads = case
    beam = solve(length, EI, supports, loads)
    spots = {0.0, length, *(s.at for s in supports)}
    for load in loads:
        spots |= {load.start, load.end} if isinstance(load, SpreadLoad) else {load.at}
    x = np.linspace(0.0, length, 203)[1:-1]
    x = x[np.abs(x[:, None] - np.array(sorted(spots))).min(1) > 1e-3]
    w, M, solution, unknown = macaulay(length, EI, supports, loads, x)
    # a load over a support leaves nothing but the rounding of terms of this size
    term = sum(terms_of(load, length) for load in loads)
    assert beam.deflection(x) == pytest.approx(w, rel=1e-6, abs=1e-7 * np.abs(w).max() + 1e-11 * term * length**2 / EI)
    assert beam.moment(x) == pytest.approx(M, rel=1e-6, abs=1e-7 * np.abs(M).max() + 1e-11 * term)
    for value, (name, s) in zip(solution, unknown):
        if s is not None:
            reaction = next(r for r in beam.reactions if r.at == s.at)
            got = reaction.force if name == "R" else reaction.moment
            assert got == pytest.approx(
                value, rel=1e-6, abs=1e-6 * np.abs(M).max() / (1 if name == "C" else 100) + 1e-6
            )


@given(beams())
@settings(max_examples=60, deadline=None)
def test_extremes_bound_every_sample_and_are_attained(case):
    length, supports, loads = case
    beam = solve(length, EI, supports, loads)
    x = np.linspace(0.0, length, 4001)
    for high, low, values in (
        (*beam.deflection_extremes(), beam.deflection(x)),
        (*beam.moment_extremes(), beam.moment(x)),
        (*beam.shear_extremes(), beam.shear(x)),
    ):
        size = np.abs(values).max() + 1e-9
        assert high.value >= values.max() - 1e-9 * size
        assert low.value <= values.min() + 1e-9 * size
    for extreme in beam.deflection_extremes():
        assert beam.deflection(float(extreme.at)) == pytest.approx(extreme.value, rel=1e-9, abs=1e-10)


@given(beams())
@settings(max_examples=40, deadline=None)
def test_equilibrium(case):
    length, supports, loads = case
    beam = solve(length, EI, supports, loads)
    force = moment = 0.0
    for load in loads:
        if isinstance(load, PointLoad):
            force, moment = force + load.force, moment + load.force * load.at
        elif isinstance(load, Couple):
            moment += load.moment
        else:
            c, q_1, q_2 = load.end - load.start, load.first, load.last
            force += c * (q_1 + q_2) / 2
            moment += c * (q_1 + q_2) / 2 * load.start + c**2 * (q_1 / 6 + q_2 / 3)
    for r in beam.reactions:
        force, moment = force - r.force, moment - r.force * r.at + r.moment
    size = sum(abs(float(r.force)) for r in beam.reactions) + 1.0
    assert force == pytest.approx(0.0, abs=1e-9 * size)
    assert moment == pytest.approx(0.0, abs=1e-8 * size * length)


def test_against_a_boundary_value_solver():
    """scipy.integrate.solve_bvp on EI w'''' = q with a sprung and a built-in end."""
    from scipy.integrate import solve_bvp

    k, q_1, q_2 = 4e6, 0.4, 2.2

    def rhs(x, y):
        return np.vstack([y[1], y[2], y[3], (q_1 + (q_2 - q_1) * x / L) / EI])

    def ends(a, b):
        return np.array([a[0], EI * a[2] - k * a[1], b[0], b[1]])

    x = np.linspace(0.0, L, 41)
    found = solve_bvp(rhs, ends, x, np.zeros((4, 41)), tol=1e-10)
    beam = solve(L, EI, (Support(0.0, rotation=k), Support(L, rotation=inf)), [SpreadLoad(q_1, q_2, 0.0, L)])
    z = np.linspace(0.0, L, 97)
    assert beam.deflection(z) == pytest.approx(found.sol(z)[0], rel=1e-7, abs=1e-9)
    assert beam.moment(z) == pytest.approx(-EI * found.sol(z)[2], rel=1e-6, abs=1e-2)


def test_a_load_close_to_a_support_costs_no_accuracy():
    a = 1e-4  # mm from the support; stiffness of a 1e-4 mm element would swamp a plain nodal method
    beam = solve(L, EI, supports_of("fixed", L), [PointLoad(750.0, a), PointLoad(100.0, 500.0)])
    P, b = 750.0, L - a
    assert beam.end_moments()[0] == pytest.approx(-P * a * b**2 / L**2 - 100.0 * L / 8, rel=1e-12)
    assert beam.deflection(500.0) == pytest.approx(
        P * a**2 * (3 * L - 4 * a) / (48 * EI) + 100.0 * L**3 / (192 * EI), rel=1e-12
    )


# --- candidates as arrays ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("ends", ["pinned", "fixed", "cantilever", (5e7, 1e6)])
def test_batch_equals_one_at_a_time(ends):
    rng = np.random.default_rng(7)
    stiff = rng.uniform(1e8, 5e10, 37)
    extra = rng.uniform(-500.0, 500.0, 37)

    def loads(e):
        return [PointLoad(750.0, 410.0), SpreadLoad(1.0, 0.2, 100.0, 900.0), Couple(e * 100, 620.0), PointLoad(e, 90.0)]

    batch = solve(L, stiff, supports_of(ends, L), loads(extra))
    m = rng.uniform(1e-6, 4e-6, 37)
    f = frequency_1(L, stiff, supports_of(ends, L), m)
    for i in range(37):
        one = solve(L, float(stiff[i]), supports_of(ends, L), loads(float(extra[i])))
        for method in ("deflection_max", "moment_max", "shear_max"):
            got, wanted = getattr(batch, method)(), getattr(one, method)()
            assert got.value[i] == pytest.approx(wanted.value, rel=1e-10)
        for side in (0, 1):
            assert batch.end_moments()[side][i] == pytest.approx(
                one.end_moments()[side], rel=1e-10, abs=1e-10 * abs(batch.moment_max().value[i])
            )
            got, wanted = batch.deflection_extremes()[side], one.deflection_extremes()[side]
            assert got.value[i] == pytest.approx(
                wanted.value, rel=1e-10, abs=1e-10 * abs(batch.deflection_max().value[i])
            )
        assert batch.reactions[0].force[i] == pytest.approx(one.reactions[0].force, rel=1e-10, abs=1e-7)
        # the lowest of many frequencies keeps the digits that the highest leaves it
        assert f[i] == pytest.approx(
            float(frequency_1(L, float(stiff[i]), supports_of(ends, L), float(m[i]))), rel=1e-8
        )
    x = np.linspace(0.0, L, 11)
    assert batch.deflection(x).shape == (37, 11)
    assert batch.moment(500.0).shape == (37,)


def test_spread_load_as_array_is_self_weight():
    w = np.array([0.5, 1.0, 2.0])
    beam = pinned([SpreadLoad(w, w, 0.0, L)])
    assert beam.moment_max().value == pytest.approx(w * L**2 / 8, rel=1e-12)
    varied = pinned([SpreadLoad(w, 2 * w, 0.0, L)])
    assert varied.reactions[0].force == pytest.approx(w * L * (1 / 2 + 1 / 6), rel=1e-12)


def test_common_loads_keep_the_shape_of_the_candidates():
    ei = np.array([[1.0, 2.0], [4.0, 8.0]]) * 1e9
    beam = solve(L, ei, supports_of("pinned", L), [PointLoad(100.0, 500.0)])
    assert beam.deflection_max().value == pytest.approx(100.0 * L**3 / (48 * ei), rel=1e-12)
    assert beam.moment_max().value.shape == (2, 2)
    assert beam.reactions[1].force.shape == (2, 2)


# --- natural frequency -------------------------------------------------------------------------------------------

MASS = 2.4e-6
UNIT = sqrt(EI / MASS) / (2 * pi * L**2)


@pytest.mark.parametrize(
    "supports, characteristic, bracket",
    [
        # characteristic equations of the uniform beam (Blevins; Timoshenko), solved here by scipy
        (supports_of("pinned", L), np.sin, (3.0, 3.3)),
        (supports_of("fixed", L), lambda b: np.cos(b) * np.cosh(b) - 1, (4.5, 5.0)),
        (supports_of("cantilever", L), lambda b: np.cos(b) * np.cosh(b) + 1, (1.5, 2.2)),
        ((Support(0.0, rotation=inf), Support(L)), lambda b: np.tan(b) - np.tanh(b), (3.7, 4.2)),
        ((Support(0.0, rotation=inf), Support(L, 0.0, inf)), lambda b: np.tan(b) + np.tanh(b), (2.0, 3.0)),
    ],
)
def test_frequency_of_single_spans(supports, characteristic, bracket):
    from scipy.optimize import brentq

    beta = brentq(characteristic, *bracket, xtol=1e-14)
    assert frequency_1(L, EI, supports, MASS) == pytest.approx(beta**2 * UNIT, rel=1e-5)


def test_frequency_of_two_equal_spans_is_that_of_one():
    # the antisymmetric mode of a two-span beam is the pinned mode of each span
    f = frequency_1(2 * L, EI, (Support(0.0), Support(L), Support(2 * L)), MASS)
    assert f == pytest.approx(pi**2 * UNIT, rel=1e-5)


def test_frequency_of_a_light_beam_with_a_mass():
    # massless pinned beam, mass off centre: omega² = 3 EI L/(m a² b²)
    a, m = 300.0, 0.02
    f = frequency_1(L, EI, supports_of("pinned", L), 0.0, [PointMass(m, a)])
    assert f == pytest.approx(sqrt(3 * EI * L / (m * a**2 * (L - a) ** 2)) / (2 * pi), rel=1e-9)


def test_frequency_with_a_mass_at_mid_span():
    # exact, symmetric mode of the pinned beam: tan(b/2) - tanh(b/2) = 4/(ratio b), ratio = mass over beam mass
    from scipy.optimize import brentq

    ratio = 0.7
    mass = ratio * MASS * L

    def characteristic(b):
        z = b / 2  # half span, symmetric: shear at mid-span is carried by the mass
        return ratio * b * (np.tan(z) - np.tanh(z)) - 4.0

    beta = brentq(characteristic, 1.5, 3.1, xtol=1e-14)
    f = frequency_1(L, EI, supports_of("pinned", L), MASS, [PointMass(mass, L / 2)])
    assert f == pytest.approx(beta**2 * UNIT, rel=1e-5)


@given(k_1=st.floats(1e-3, 1e4), k_2=st.floats(0.0, 1e4))
@settings(max_examples=40, deadline=None)
def test_sprung_frequency_equation_against_finite_elements(k_1, k_2):
    """The characteristic equation against the element model, reached through a vanishing point mass."""
    springs = supports_of((k_1 * EI / L, k_2 * EI / L), L)
    by_equation = frequency_1(L, EI, springs, MASS)
    by_elements = frequency_1(L, EI, springs, MASS, [PointMass(1e-15, L / 2)])
    assert by_equation == pytest.approx(by_elements, rel=2e-6)


def test_frequency_parameter_at_both_ends_of_its_range():
    assert frequency_parameter(0.0, 0.0) == pytest.approx(pi, rel=1e-12)
    assert frequency_parameter(inf, inf) == pytest.approx(4.730040744862704, rel=1e-9)
    assert frequency_parameter(inf, 0.0) == pytest.approx(3.926602312047919, rel=1e-12)


def test_frequency_of_candidates_with_a_mass():
    ei, m = np.array([1e9, 2e9, 3e9]), np.array([1e-6, 2e-6, 0.0])
    f = frequency_1(L, ei, supports_of("pinned", L), m, [PointMass(0.01, 400.0)])
    for i in range(3):
        assert f[i] == pytest.approx(
            float(frequency_1(L, float(ei[i]), supports_of("pinned", L), float(m[i]), [PointMass(0.01, 400.0)])),
            rel=1e-8,
        )


# --- refusals -------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "supports, word",
    [
        ((), "nothing holds"),
        ((Support(500.0),), "turn about its only support"),
        ((Support(0.0, vertical=0.0, rotation=inf),), "nothing holds"),
        ((Support(0.0), Support(1200.0)), "off the beam"),
        ((Support(0.0), Support(0.0)), "two supports"),
        ((Support(0.0), Support(400.0), Support(400.0)), "two supports stand at 400 mm"),
        ((Support(0.0), Support(L, rotation=-1.0)), "negative stiffness"),
    ],
)
def test_supports_refused(supports, word):
    with pytest.raises(InputError, match=word):
        solve(L, EI, supports, [PointLoad(1.0, 500.0)])
    with pytest.raises(InputError, match=word):
        frequency_1(L, EI, supports, MASS)


@pytest.mark.parametrize(
    "load, word",
    [
        (PointLoad(1.0, 1200.0), "1200 mm is off the beam"),
        (PointLoad(1.0, -1.0), "off the beam"),
        (Couple(1.0, 1001.0), "off the beam"),
        (SpreadLoad(1.0, 1.0, 0.0, 1001.0), "ends at 1001"),
        (SpreadLoad(1.0, 1.0, 500.0, 500.0), "right of"),
        (PointLoad(float("nan"), 100.0), "finite"),
        (PointLoad(1.0, float("nan")), "off the beam"),
    ],
)
def test_loads_refused(load, word):
    with pytest.raises(InputError, match=word):
        pinned([load])


def test_other_refusals():
    with pytest.raises(InputError, match="greater than zero"):
        pinned([], ei=0.0)
    with pytest.raises(InputError, match="length greater"):
        solve(-5.0, EI, supports_of("pinned", L), [])
    with pytest.raises(InputError, match="not a kind of end"):
        supports_of("welded", L)
    with pytest.raises(InputError, match="different numbers of candidates"):
        solve(L, np.ones(3), supports_of("pinned", L), [PointLoad(np.ones(4), 5.0)])
    with pytest.raises(InputError, match="no natural frequency"):
        frequency_1(L, EI, supports_of("pinned", L), 0.0)
    with pytest.raises(InputError, match="zero or more"):
        frequency_1(L, EI, supports_of("pinned", L), MASS, [PointMass(-1.0, 5.0)])
    with pytest.raises(InputError, match="off the beam"):
        pinned([]).deflection(2000.0)


def test_a_beam_without_load_rests():
    beam = pinned([])
    assert beam.deflection_max().value == 0.0
    assert beam.moment(400.0) == 0.0
