"""Elastic vector method for weld groups against handbook tables and published worked examples."""

import math

import numpy as np
import pytest
from group_cases import INCH, KIP, KSI
from hypothesis import given, reject
from hypothesis import strategies as st

from jointcalc.errors import InputError
from jointcalc.statics.group_common import Load
from jointcalc.statics.weld_group import WeldGroup, arc

B, D = 56.0, 190.0

# Shigley, Mechanical Engineering Design, Tables 9-1 and 9-2: unit-throat properties of standard groups.
# (lines, total length, x, y, J_u, I_u about the horizontal axis)
BAR = [[0, 0, 0, D]]
TWO_VERTICAL = [[0, 0, 0, D], [B, 0, B, D]]
TWO_HORIZONTAL = [[0, 0, B, 0], [0, D, B, D]]
ELL = [[0, 0, B, 0], [0, 0, 0, D]]
CEE = [[0, 0, B, 0], [0, 0, 0, D], [0, D, B, D]]
PORTAL = [[0, D, B, D], [0, 0, 0, D], [B, 0, B, D]]
BOX = [[0, 0, B, 0], [B, 0, B, D], [B, D, 0, D], [0, D, 0, 0]]
FROM_TOP = D**2 / (B + 2 * D)
I_PORTAL = 2 * D**3 / 3 - 2 * D**2 * FROM_TOP + (B + 2 * D) * FROM_TOP**2
SHAPES = {
    "one vertical line": (BAR, D, 0.0, D / 2, D**3 / 12, D**3 / 12),
    "two vertical lines": (TWO_VERTICAL, 2 * D, B / 2, D / 2, D * (3 * B**2 + D**2) / 6, D**3 / 6),
    "two horizontal lines": (TWO_HORIZONTAL, 2 * B, B / 2, D / 2, B * (3 * D**2 + B**2) / 6, B * D**2 / 2),
    "L": (
        ELL,
        B + D,
        B**2 / (2 * (B + D)),
        D**2 / (2 * (B + D)),
        ((B + D) ** 4 - 6 * B**2 * D**2) / (12 * (B + D)),
        None,
    ),
    "C": (
        CEE,
        2 * B + D,
        B**2 / (2 * B + D),
        D / 2,
        (8 * B**3 + 6 * B * D**2 + D**3) / 12 - B**4 / (2 * B + D),
        D**2 * (6 * B + D) / 12,
    ),
    "inverted U": (PORTAL, B + 2 * D, B / 2, D - FROM_TOP, None, I_PORTAL),
    "rectangle": (BOX, 2 * (B + D), B / 2, D / 2, (B + D) ** 3 / 6, D**2 * (3 * B + D) / 6),
}


@pytest.mark.parametrize("name", SHAPES)
def test_shigley_tables_9_1_and_9_2(name):
    lines, length, x, y, J_u, I_u = SHAPES[name]
    h = 6.0
    group = WeldGroup.of(lines, leg=h)
    unit, real = group.sections(unit_throat=True), group.sections()
    assert pytest.approx(length, rel=1e-7) == unit.A
    assert (unit.x, unit.y) == pytest.approx((x, y), rel=1e-7)
    assert pytest.approx(length * h / math.sqrt(2.0), rel=1e-7) == real.A
    if J_u is not None:
        assert pytest.approx(J_u, rel=1e-7) == unit.J
        assert pytest.approx(J_u * h / math.sqrt(2.0), rel=1e-7) == real.J
    if I_u is not None:
        assert unit.I_x == pytest.approx(I_u, rel=1e-7)


# AISC FAQ and Shigley: the throat of an equal-leg fillet is 0.707 of its leg.
def test_leg_and_throat():
    assert WeldGroup.of(BAR, leg=6.0).throat == pytest.approx([4.242], abs=1e-3)
    assert WeldGroup.of(BAR, throat=4.242).leg == pytest.approx([6.0], abs=1e-3)
    both = WeldGroup.of(BAR, leg=6.0, throat=5.0)
    assert (both.leg[0], both.throat[0]) == (6.0, 5.0)


# Shigley Table 9-1: a circle has A = 1.414·π·h·r, J_u = 2·π·r³, I_u = π·r³.
def test_shigley_circle():
    r = 40.0
    unit = WeldGroup.of(arc(7.0, -3.0, r, pieces=20000), leg=5.0).sections(unit_throat=True)
    assert pytest.approx(2 * math.pi * r, rel=1e-7) == unit.A
    assert pytest.approx(2 * math.pi * r**3, rel=1e-7) == unit.J
    assert unit.I_x == pytest.approx(math.pi * r**3, rel=1e-7)
    coarse = WeldGroup.of(arc(7.0, -3.0, r, pieces=90), leg=5.0).sections(unit_throat=True)
    assert 1 - coarse.J / (2 * math.pi * r**3) == pytest.approx(math.pi**2 / (3 * 90**2), rel=0.01)


# Shigley Ex. 9-1 (8th and 9th ed., figures from memory): C-shaped fillet, 6 mm, 25 kN 100 mm beyond it.
def test_shigley_9_1():
    group = WeldGroup.of([[0, 0, -56, 0], [0, 0, 0, 190], [0, 190, -56, 190]], leg=6.0)
    result = group.elastic(Load.at((0, -25000.0, 0), (100.0, 95.0, 0)))
    section = group.sections()
    assert pytest.approx(1280.0, rel=0.005) == section.A
    assert pytest.approx(19.5, abs=0.05) == 25000.0 / section.A
    assert -section.x == pytest.approx(10.4, abs=0.05)
    assert pytest.approx(7.07e6, rel=0.005) == section.J
    assert result.peak_stress == pytest.approx(44.0, abs=0.5)
    assert result.peak_stress == pytest.approx(43.9, abs=0.05)
    assert result.peak == pytest.approx(result.peak_stress * 6.0 / math.sqrt(2.0))
    assert result.peak_at[0] == 0.0
    assert result.ends.stress[0, 1] == pytest.approx(37.1, abs=0.05)  # printed 37 MPa at the free ends
    assert result.ends.stress[2, 1] == pytest.approx(37.1, abs=0.05)


# Shigley Ex. 9-4 (from memory): bar 3/8 x 2 in on two vertical fillets, 500 lbf 6 in out of their plane.
def test_shigley_9_4():
    group = WeldGroup.of([[0, 0, 0, 2 * INCH], [0.375 * INCH, 0, 0.375 * INCH, 2 * INCH]], leg=0.375 * INCH)
    section = group.sections()
    assert pytest.approx(1.06, abs=0.005) == section.A / INCH**2
    assert section.I_x / INCH**4 == pytest.approx(0.353, abs=0.001)
    result = group.elastic(Load.at((0, -0.5 * KIP, 0), (0.1875 * INCH, INCH, 6 * INCH)))
    # printed with the second moment rounded to 0.353 in⁴, which is 0.15 % small
    assert result.peak_stress / KSI == pytest.approx(8.51, rel=0.002)
    lift = np.abs(result.ends.lift / group.throat[:, None])
    assert lift.max() / KSI == pytest.approx(8.50, abs=0.02)
    assert np.abs(result.ends.axial / group.throat[:, None]).max() / KSI == pytest.approx(0.472, abs=0.001)
    # the load bends the upper ends away from the plate or onto it, one sign at each end
    assert result.ends.lift[0, 0] == pytest.approx(-result.ends.lift[0, 1])


# Shigley 8th ed., solution 9-5: two 2 in fillets 2 in apart, 5/16 in, F at 7 in; printed tau_max 9.22F,
# F = 2.17 kip at 20 kpsi and 1.19 kip at 11 kpsi.
def test_shigley_solution_9_5():
    group = WeldGroup.of([[0, 0, 0, 2 * INCH], [2 * INCH, 0, 2 * INCH, 2 * INCH]], leg=5 / 16 * INCH)
    section = group.sections()
    assert pytest.approx(5.333, abs=0.001) == group.sections(unit_throat=True).J / INCH**3
    assert pytest.approx(1.18, abs=0.005) == section.J / INCH**4
    tau = group.elastic(Load.at((0, -KIP, 0), (8 * INCH, INCH, 0))).peak_stress / KSI
    assert tau == pytest.approx(9.22, rel=0.005)
    assert 20.0 / tau == pytest.approx(2.17, abs=0.006)
    assert 11.0 / tau == pytest.approx(1.19, abs=0.006)


# Shigley 8th ed., solution 9-6: closed 2 x 2 in square, 5/16 in, arm 7 in; J_u 10.67, J 2.36, printed
# parts 0.566F and 2.97F (each component); the sum is recomputed, 4.618F.
def test_shigley_solution_9_6():
    s = 2 * INCH
    group = WeldGroup.of([[0, 0, s, 0], [s, 0, s, s], [s, s, 0, s], [0, s, 0, 0]], leg=5 / 16 * INCH)
    assert pytest.approx(10.67, abs=0.005) == group.sections(unit_throat=True).J / INCH**3
    assert pytest.approx(2.36, abs=0.005) == group.sections().J / INCH**4
    tau = group.elastic(Load.at((0, -KIP, 0), (8 * INCH, INCH, 0))).peak_stress / KSI
    assert tau == pytest.approx(math.hypot(2.97, 2.97 + 0.566), abs=0.01)
    assert 20.0 / tau == pytest.approx(4.33, abs=0.01)


# Shigley 8th ed., solution 9-8: two circular fillets r = 40 mm, 5 mm, torque 200F N·m shared, 140 MPa.
# Printed F = 49.2 kN is a slip of arithmetic: its own tau = 2.82F gives 49.6; recomputed 49.75.
def test_shigley_solution_9_8():
    group = WeldGroup.of(arc(0, 0, 40.0, pieces=720), leg=5.0)
    assert pytest.approx(804.0, rel=0.001) == 2 * group.sections(unit_throat=True).J / 1e3  # 2 x 402 cm³
    assert pytest.approx(142.0, abs=0.5) == group.sections().J / 1e4
    tau = group.elastic(Load(M_z=100e3)).peak_stress  # half of 200 N·m for F = 1 kN
    assert tau == pytest.approx(2.82, abs=0.01)
    assert 140.0 / tau == pytest.approx(49.7, abs=0.1)


# Shigley 10th ed., solutions 9-1 to 9-4: two parallel fillets in shear, F = 0.707·h·2b·tau.
@pytest.mark.parametrize(
    "b, h, tau, printed",
    [
        (50.0, 5.0, 140.0, 49.5e3),
        (2 * INCH, 5 / 16 * INCH, 25 * KSI, 22.1 * KIP),
        (4 * INCH, 5 / 16 * INCH, 25 * KSI, 44.2 * KIP),
    ],
)
def test_shigley_solutions_9_1_to_9_4(b, h, tau, printed):
    group = WeldGroup.of([[0, 0, b, 0], [0, 40, b, 40]], leg=h)
    load = Load.at((1000.0, 0, 0), (300.0, 20.0, 0))
    assert 1000.0 * tau / group.elastic(load).peak_stress == pytest.approx(printed, rel=0.002)


# IS 800:2007 lap joint (published examination solution): 10 mm fillets, throat 0.7·s, 275 kN on two side
# welds of 103.7 mm at 189.4 MPa.
def test_is_800_lap():
    group = WeldGroup.of([[0, 0, 103.7, 0], [0, 80, 103.7, 80]], leg=10.0, throat=7.0)
    result = group.elastic(Load.at((275e3, 0, 0), (0, 40, 0)))
    assert result.peak_stress == pytest.approx(189.4, rel=0.001)
    assert result.peak == pytest.approx(1326.0, abs=1.0)
    assert result.along(3).utilisation(1326.0) == pytest.approx(np.ones((2, 3)), rel=0.001)


finite = st.floats(-200.0, 200.0)
force = st.floats(-1e4, 1e4)


@given(
    lines=st.lists(
        st.tuples(finite, finite, st.floats(5.0, 100.0), st.floats(0.0, 6.2), st.floats(2.0, 9.0)),
        min_size=2,
        max_size=6,
    ),
    force=st.tuples(force, force, force),
    point=st.tuples(finite, finite, finite),
    moment=st.tuples(force, force, force),
)
def test_shares_balance_the_load_and_are_linear(lines, force, point, moment):
    """Statics: Simpson's rule along each line (exact for a linear share times an arm) gives the load back.

    A field that is linear in x and y and balances six components is the only one there is.
    """
    table = [[x, y, x + L * math.cos(t), y + L * math.sin(t)] for x, y, L, t, _ in lines]
    table += [[0.0, 0.0, 90.0, 30.0], [0.0, 0.0, -20.0, 70.0]]
    try:
        group = WeldGroup.of(table, leg=[h for *_, h in lines] + [4.0, 5.0])
        load = Load.at(force, point, moment)
    except InputError:  # a line drawn twice, or no load at all
        reject()
    got = group.elastic(load).along(3)
    weight = group.lengths[:, None] * np.array([1.0, 4.0, 1.0]) / 6.0
    a_x, a_y = group.axes[:, :1], group.axes[:, 1:]
    f_x = a_x * got.axial - a_y * got.normal
    f_y = a_y * got.axial + a_x * got.normal
    f_z = got.lift
    total = [(weight * q).sum() for q in (f_x, f_y, f_z, got.y * f_z, -got.x * f_z, got.x * f_y - got.y * f_x)]
    wanted = [load.F_x, load.F_y, load.F_z, load.M_x, load.M_y, load.M_z]
    scale = max(np.abs(wanted).max(), 1.0) * 10.0
    assert total == pytest.approx(wanted, abs=1e-9 * scale)
    middle = 0.5 * (got.lift[:, 0] + got.lift[:, 2])
    assert got.lift[:, 1] == pytest.approx(middle, abs=1e-9 * scale)
    # the highest stress anywhere along the lines stands at an end
    fine = group.elastic(load)
    assert fine.along(101).stress.max() <= fine.peak_stress * (1 + 1e-12)
