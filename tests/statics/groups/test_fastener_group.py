"""Bolt groups by both methods against published worked examples and tables."""

import math

import numpy as np
import pytest
from group_cases import ENTRIES_7_6, INCH, KIP, beside

from jointcalc.statics.fastener_group import FastenerGroup
from jointcalc.statics.group_common import Load

R_ULT = 74.0 * KIP


def column(n, s=3.0 * INCH):
    return FastenerGroup.of([[0.0, i * s] for i in range(n)])


def rows(n, gage, s=3.0 * INCH):
    return FastenerGroup.of([[x, i * s] for x in (0.0, gage) for i in range(n)])


# --- elastic method ----------------------------------------------------------------------------------------


# EN 1993-1-8 gusset, steel building design guide (published sheet): M24 bolts, 406.9 kN, 44.5 mm off.
def test_bolt_group_n1():
    group = FastenerGroup.of([[-16.25, -30], [48.75, -30], [-48.75, 30], [16.25, 30]])
    result = group.elastic(Load.at((406.9e3, 0, 0), (0, 44.5, 0)))
    assert sorted(result.shear / 1e3) == pytest.approx([52.37, 107.35, 166.22, 190.82], abs=0.02)
    assert result.peak == pytest.approx(190.82e3, rel=1e-4)
    moment = group.elastic(Load(M_z=-18.107e6)).shear / 1e3
    assert sorted(moment) == pytest.approx([69.56, 69.56, 116.70, 116.70], abs=0.02)
    assert group.elastic(Load(F_x=406.9e3)).shear == pytest.approx(np.full(4, 101.73e3), rel=1e-4)


# Segui, 6th ed., solution 8.2-1: four bolts at 3 in, 15 kip at a slope of 3 to 4, ex 12, ey 6 in.
def test_segui_8_2_1():
    group = column(4)
    assert pytest.approx(45.0) == group.sections().J / INCH**2
    centre = group.sections()
    load = Load.at((9 * KIP, -12 * KIP, 0), (centre.x + 12 * INCH, centre.y + 6 * INCH, 0))
    about = load.about(centre.x, centre.y)
    assert abs(about.M_z) / KIP / INCH == pytest.approx(198.0)
    result = group.elastic(load)
    assert result.peak / KIP == pytest.approx(22.25, abs=0.06)
    assert group.elastic(Load(M_z=about.M_z)).peak / KIP == pytest.approx(19.8)


# Segui, 6th ed., solution 8.2-2: ten bolts, load at 30 degrees to the horizontal, ex 10, ey 2.75 in.
def test_segui_8_2_2():
    group = FastenerGroup.of([[x * INCH, y * INCH] for y in (-2.75, 2.75) for x in (-6, -3, 0, 3, 6)])
    assert pytest.approx(255.6, abs=0.05) == group.sections().J / INCH**2
    c, s = math.cos(math.pi / 6), math.sin(math.pi / 6)
    load = Load.at((c * 1e3, -s * 1e3, 0), (10 * INCH, 2.75 * INCH, 0))
    assert abs(load.M_z) / INCH / 1e3 == pytest.approx(7.382, abs=0.001)
    assert group.elastic(load).peak / 1e3 == pytest.approx(0.2782, abs=0.0005)


# Published four-bolt bracket: bolts at (±40, ±30) mm, 10 kN at 100 mm: 2.5 and 5 kN, together 7.16 kN.
def test_four_bolt_bracket():
    group = FastenerGroup.of([[x, y] for x in (-40, 40) for y in (-30, 30)])
    result = group.elastic(Load.at((0, -10e3, 0), (100, 0, 0)))
    assert result.peak == pytest.approx(7.16e3, abs=5.0)
    assert group.elastic(Load(M_z=1e6)).shear == pytest.approx(np.full(4, 5e3))
    assert result.utilisation(7.159e3).max() == pytest.approx(1.0, abs=1e-4)


# Published column bracket (examination solution): columns ±35 mm, rows 0 and ±140 mm, 70 kN and 10 kN·m.
def test_six_bolt_column_bracket():
    group = FastenerGroup.of([[x, y] for x in (-35, 35) for y in (-140, 0, 140)])
    direct, moment = group.elastic(Load(F_y=-70e3)), group.elastic(Load(M_z=-10e6))
    assert direct.peak == pytest.approx(11.67e3, abs=5.0)
    assert moment.peak == pytest.approx(16.82e3, abs=10.0)
    result = group.elastic(Load(F_y=-70e3, M_z=-10e6))
    assert result.peak == pytest.approx(22.68e3, abs=5.0)
    angle = math.degrees(math.atan2(abs(moment.force[5, 0]), abs(moment.force[5, 1])))
    assert angle == pytest.approx(75.96, abs=0.02)


# Shigley Ex. 8-7 (spacing and answers from memory): four M16 bolts at (±75, ±60) mm, 16 kN at 425 mm.
def test_shigley_8_7():
    group = FastenerGroup.of([[x, y] for x in (-75, 75) for y in (-60, 60)])
    result = group.elastic(Load.at((0, -16e3, 0), (425, 0, 0)))
    near, far = result.shear[2:], result.shear[:2]
    assert near == pytest.approx(np.full(2, 21.0e3), abs=60.0)
    assert far == pytest.approx(np.full(2, 14.8e3), abs=60.0)
    assert group.elastic(Load(M_z=-16e3 * 425)).peak == pytest.approx(17.7e3, abs=50.0)
    assert math.sqrt(group.sections().J / 4) == pytest.approx(96.0, abs=0.1)
    assert result.peak / 144.0 == pytest.approx(146.0, abs=0.5)


# Closed forms of the EN 1993-1-8 fin-plate guide (multi-storey buildings, sheet 22).
@pytest.mark.parametrize(
    "n1, p1, p2, z", [(3, 70.0, 0.0, 50.0), (5, 60.0, 0.0, 80.0), (2, 80.0, 60.0, 90.0), (4, 70.0, 55.0, 65.0)]
)
def test_fin_plate_closed_form(n1, p1, p2, z):
    columns = 2 if p2 else 1
    n = columns * n1
    if columns == 1:
        alpha, beta = 0.0, 6 * z / (n1 * (n1 + 1) * p1)
    else:
        inertia = n1 * p2**2 / 2 + n1 * (n1**2 - 1) * p1**2 / 6
        alpha, beta = z * p2 / (2 * inertia), z * p1 * (n1 - 1) / (2 * inertia)
    group = FastenerGroup.of([[x, i * p1] for x in ((0.0, p2) if p2 else (0.0,)) for i in range(n1)])
    peak = group.elastic(beside(group, z)).peak
    assert 1000.0 / peak == pytest.approx(n / math.sqrt((1 + alpha * n) ** 2 + (beta * n) ** 2), rel=1e-12)


def test_areas_share_the_load():
    """Statics of two fasteners of 1 to 3: the force divides as the areas, the centroid lies at 3/4."""
    group = FastenerGroup.of([[0, 0], [100, 0]], area=[20.0, 60.0])
    assert group.sections().x == pytest.approx(75.0)
    result = group.elastic(Load.at((0, 1000.0, 0), (75, 0, 0)))
    assert result.force[:, 1] == pytest.approx([250.0, 750.0])
    # at the middle, each takes half: a simple beam on two supports
    assert group.elastic(Load.at((0, 1000.0, 0), (50, 0, 0))).force[:, 1] == pytest.approx([500.0, 500.0])


def test_load_out_of_the_plane_by_statics():
    """A bracket pulled 1 kN in z at a corner of a square: three reactions of a rigid plate on four springs."""
    group = FastenerGroup.of([[-50, -50], [50, -50], [50, 50], [-50, 50]])
    result = group.elastic(Load.at((0, 0, 1000.0), (50, 50, 0)))
    assert result.pull == pytest.approx([-250.0, 250.0, 750.0, 250.0])
    assert result.shear == pytest.approx(np.zeros(4), abs=1e-9)


# --- instantaneous centre ------------------------------------------------------------------------------------


# AISC Manual Table 7-6, single row at 3 in (from memory); 2.365 is printed 2.36.
@pytest.mark.parametrize("e, n, printed", ENTRIES_7_6)
def test_aisc_table_7_6(e, n, printed):
    group = column(n)
    result = group.ultimate(beside(group, e * INCH), R_ULT)
    assert result.coefficient == pytest.approx(printed, abs=0.0055)
    assert result.rule == "instantaneous centre"


# Values recomputed for the reference with an independent script (no published figure seen).
@pytest.mark.parametrize(
    "gage, e, values",
    [
        (3.0, 4.0, (0.54, 1.68, 3.06, 4.86, 6.84, 8.93)),
        (3.0, 8.0, (0.31, 0.96, 1.78, 2.93, 4.26, 5.86)),
        (5.5, 4.0, (0.80, 1.99, 3.39, 5.10, 6.98, 9.00)),
        (5.5, 8.0, (0.50, 1.25, 2.14, 3.30, 4.61, 6.15)),
    ],
)
def test_two_rows(gage, e, values):
    for n, value in enumerate(values, start=1):
        group = rows(n, gage * INCH)
        assert group.ultimate(beside(group, e * INCH), R_ULT).coefficient == pytest.approx(value, abs=0.0055)


# The same, loads inclined to the vertical.
@pytest.mark.parametrize(
    "group, e, values",
    [
        (column(4), 4.0, {0: 2.365, 15: 2.347, 30: 2.399, 45: 2.536, 60: 2.767, 75: 3.138}),
        (rows(3, 3.0 * INCH), 6.0, {0: 2.250, 15: 2.313, 30: 2.507, 45: 2.842, 60: 3.395, 75: 4.41}),
    ],
)
def test_inclined_loads(group, e, values):
    for degrees, value in values.items():
        t = math.radians(degrees)
        load = beside(group, e * INCH, (1000 * math.sin(t), -1000 * math.cos(t)))
        assert group.ultimate(load, R_ULT).coefficient == pytest.approx(value, abs=0.0055)


# Four bolts 80 x 60 mm, e = 100 mm: C = 1.551, elastic equivalent 1.397 (same script).
def test_four_bolts_both_methods():
    group = FastenerGroup.of([[x, y] for x in (-40, 40) for y in (-30, 30)])
    load = beside(group, 100.0)
    assert group.ultimate(load, R_ULT).coefficient == pytest.approx(1.551, abs=0.0005)
    assert 1000.0 / group.elastic(load).peak == pytest.approx(1.397, abs=0.0005)


@pytest.mark.parametrize("e, n, printed", ENTRIES_7_6)
def test_elastic_method_never_gives_more(e, n, printed):
    """Same strength per bolt in both: what the curve gives at fracture, 0.982·R_ult at 0.34 in."""
    group = column(n)
    load = beside(group, e * INCH)
    broken = (1 - math.exp(-3.4)) ** 0.55
    elastic = broken * 1000.0 / group.elastic(load).peak
    assert elastic <= group.ultimate(load, R_ULT).coefficient * (1 + 1e-9)


@pytest.mark.parametrize("n, gage, e", [(2, 3.0, 6.0), (4, 5.5, 8.0), (6, 3.0, 1.0)])
def test_against_a_scan_along_the_axis_of_symmetry(n, gage, e):
    """One unknown, found by scipy's brentq from the curve written out again."""
    from scipy.optimize import brentq

    group = rows(n, gage * INCH)
    centre = group.sections()

    def shear(distance):
        x, y = group.points[:, 0] - centre.x + distance, group.points[:, 1] - centre.y
        r = np.hypot(x, y)
        force = (1 - np.exp(-10 * 0.34 * r / r.max())) ** 0.55
        return (force * x / r).sum(), (force * r).sum()

    def left(distance):
        vertical, moment = shear(distance)
        return moment - vertical * (e * INCH + distance)

    grid = np.linspace(0.003, 60.0, 2000) * INCH
    crossing = np.flatnonzero(np.diff(np.sign([left(d) for d in grid])))
    assert len(crossing) == 1
    distance = brentq(left, grid[crossing[0]], grid[crossing[0] + 1], xtol=1e-13)
    result = group.ultimate(beside(group, e * INCH), R_ULT)
    assert result.coefficient == pytest.approx(shear(distance)[0], rel=1e-9)
    assert result.centre.centre == pytest.approx((centre.x - distance, centre.y), abs=1e-7)


@pytest.mark.parametrize("n", [2, 3, 4, 5])
def test_pure_moment_on_a_column(n):
    """The centre is the middle, a bolt there is idle, and the rest follows from the curve alone."""
    result = column(n).ultimate(Load(M_z=1e6), R_ULT)
    assert result.centre.kind == "pure moment"
    assert result.coefficient is None
    r = np.abs(np.arange(n) - (n - 1) / 2) * 3 * INCH
    moment = (R_ULT * (1 - np.exp(-3.4 * r / r.max())) ** 0.55 * r).sum()
    assert result.factor * 1e6 == pytest.approx(moment, rel=1e-9)
    assert result.centre.centre == pytest.approx((0, (n - 1) / 2 * 3 * INCH), abs=1e-9)


def test_concentric_load_is_carried_by_all():
    """AISC Manual part 7: without eccentricity C is the number of bolts."""
    result = column(5).ultimate(Load.at((300.0, -800.0, 0), (0, 6 * INCH, 0)), R_ULT)
    assert result.rule == "sum of the fasteners"
    assert result.coefficient == pytest.approx(5.0)
    assert result.centre.kind == "concentric"
    assert result.centre.centre is None


def test_strengths_of_their_own():
    """A bolt of no account beside others changes nothing; two half bolts side by side are one."""
    load = Load.at((0, -1e4, 0), (120, 0, 0))
    plain = FastenerGroup.of([[0, 0], [60, 0], [0, 80]]).ultimate(load, R_ULT)
    split = FastenerGroup.of([[0, 0], [60, 0], [0, 80], [0, 80 + 1e-6]]).ultimate(
        load, [R_ULT, R_ULT, R_ULT / 2, R_ULT / 2]
    )
    assert split.factor == pytest.approx(plain.factor, rel=1e-7)
    assert split.coefficient is None
