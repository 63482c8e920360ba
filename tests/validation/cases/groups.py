"""Weld groups and bolt groups, elastic and by the instantaneous centre."""

from __future__ import annotations

import math
from functools import partial

from jointcalc.statics.fastener_group import FastenerGroup
from jointcalc.statics.group_common import Load
from jointcalc.statics.weld_group import WeldGroup, arc

from ..case import Case  # noqa: TID252  (a package under pytest and under -m alike)

IN, KIP, KSI = 25.4, 4448.2216, 6.894757
E70, R_ULT = 70.0 * KSI, 74.0 * KIP
L, LEG = 10.0 * IN, 5.0 / 16.0 * IN
WELDS, BOLTS = "weld group", "bolt group"


# --- welds ------------------------------------------------------------------------------------------------------------


def c_shape(k: float) -> WeldGroup:
    legs = [[0.0, 0.0, k * L, 0.0], [0.0, L, k * L, L]] if k else []
    return WeldGroup.of([[0.0, 0.0, 0.0, L], *legs], leg=LEG)


def coefficient(group: WeldGroup, e: float) -> float:
    """C of a group loaded vertically, `e` to the right of its centroid."""
    centre = group.sections()
    result = group.ultimate(Load.at((0.0, -1000.0, 0.0), (centre.x + e, centre.y, 0.0)), E70)
    # R_n = C D l for E70 filler in kips, sixteenths of leg and inches
    return float(result.factor * 1000.0 / KIP / (16.0 * LEG / IN) / (L / IN))


# AISC Manual, 13th ed., Table 8-8: a, first k, entries for k, k + 0.1, ... as printed
TABLE_8_8 = [
    (0.00, 0, "1.86 2.23 2.69 3.25 3.80 4.36 4.92 5.47 6.03 6.59"),
    (0.10, 0, "1.86 2.28 2.78 3.30 3.83 4.37 4.92 5.46 6.01 6.56 7.11"),
    (0.15, 0, "1.83 2.25 2.73 3.23 3.75 4.27 4.80 5.33 5.87 6.41 6.94"),
    (0.20, 0, "1.76 2.18 2.63 3.11 3.60 4.11 4.61 5.13 5.64 6.16 6.68"),
    (0.25, 0, "1.66 2.07 2.51 2.96 3.42 3.90 4.38 4.87 5.37 5.86 6.36"),
    (0.30, 7, "4.60 5.08 5.55 6.03"),
    (0.50, 7, "3.60 4.00 4.40 4.82"),
    (0.70, 7, "2.87 3.20 3.55 3.91"),
    (1.00, 6, "1.91 2.16 2.43"),
    (1.40, 6, "1.42 1.61 1.82"),
]


def row_8_8(a: float, first: int, printed: str) -> Case:
    ks = [(first + i) / 10 for i in range(len(printed.split()))]
    return Case(
        WELDS, f"C-shape, a = {a:.2f}, k = {ks[0]:.1f} to {ks[-1]:.1f}",
        "AISC Manual, 13th ed., Table 8-8, in a university examination", "second-hand", printed, "C",
        lambda: tuple(coefficient(c_shape(k), a * L) for k in ks), units=1.0,
        why="the manual's own iteration rounds: within one unit of the last digit",
    )  # fmt: skip


def on_each_other(*a: float) -> tuple[float, ...]:
    return tuple(1.5 * coefficient(c_shape(0.0), x * L) for x in a)


def apart(*k: float) -> tuple[float, ...]:
    return tuple(0.75 * coefficient(WeldGroup.of([[0, 0, 0, L], [x * L, 0, x * L, L]], leg=LEG), 1.4 * L) for x in k)


def shigley_9_1() -> tuple[float, ...]:
    group = WeldGroup.of([[0, 0, -56, 0], [0, 0, 0, 190], [0, 190, -56, 190]], leg=6.0)
    found, section = group.elastic(Load.at((0, -25000.0, 0), (100.0, 95.0, 0))), group.sections()
    return (25e3 / section.A, -section.x, section.J / 1e6, float(found.ends.stress[0, 1]), found.peak_stress)


def shigley_9_4() -> tuple[float, ...]:
    group = WeldGroup.of([[0, 0, 0, 2 * IN], [0.375 * IN, 0, 0.375 * IN, 2 * IN]], leg=0.375 * IN)
    found, section = group.elastic(Load.at((0, -0.5 * KIP, 0), (0.1875 * IN, IN, 6 * IN))), group.sections()
    return (section.A / IN**2, section.I_x / IN**4, found.peak_stress / KSI, 0.577 * 50 / (found.peak_stress / KSI))


def solution_9_5() -> tuple[float, ...]:
    group = WeldGroup.of([[0, 0, 0, 2 * IN], [2 * IN, 0, 2 * IN, 2 * IN]], leg=5 / 16 * IN)
    tau = group.elastic(Load.at((0, -KIP, 0), (8 * IN, IN, 0))).peak_stress / KSI
    return (group.sections(unit_throat=True).J / IN**3, group.sections().J / IN**4, tau, 20 / tau, 11 / tau)


def solution_9_6() -> tuple[float, ...]:
    s = 2 * IN
    group = WeldGroup.of([[0, 0, s, 0], [s, 0, s, s], [s, s, 0, s], [0, s, 0, 0]], leg=5 / 16 * IN)
    return (group.sections(unit_throat=True).J / IN**3, group.sections().J / IN**4, KIP / group.sections().A / KSI)


def solution_9_8() -> tuple[float, ...]:
    group = WeldGroup.of(arc(0, 0, 40.0, pieces=720), leg=5.0)
    tau = group.elastic(Load(M_z=100e3)).peak_stress
    return (group.sections(unit_throat=True).J / 1e3, group.sections().J / 1e4, tau)


def is_800() -> float:
    group = WeldGroup.of([[0, 0, 103.7, 0], [0, 80, 103.7, 80]], leg=10.0, throat=7.0)
    return group.elastic(Load.at((275e3, 0, 0), (0, 40, 0))).peak


def parallel_pair() -> float:
    """Throat at 100 MPa of two 50 mm fillets 50 mm apart, 7.5 kN across them at 125 mm from their middle."""
    group = WeldGroup.of([[0, 0, 50, 0], [0, 50, 50, 50]], leg=1.0, throat=1.0)
    return group.elastic(Load.at((0, -7500.0, 0), (150.0, 25.0, 0))).peak_stress / 100.0


def example_j_2() -> float:
    group = WeldGroup.of([[0, 0, 16 * IN, 0], [0, 1, 16 * IN, 1]], leg=LEG)
    load = Load.at((KIP * math.cos(math.pi / 3), KIP * math.sin(math.pi / 3), 0), (8 * IN, 0.5, 0))
    return 0.75 * group.ultimate(load, E70).factor / 16


# --- bolts ------------------------------------------------------------------------------------------------------------


def column(n: int) -> FastenerGroup:
    return FastenerGroup.of([[0.0, i * 3.0 * IN] for i in range(n)])


def rows(n: int, gage: float) -> FastenerGroup:
    return FastenerGroup.of([[x, i * 3.0 * IN] for x in (0.0, gage * IN) for i in range(n)])


def centre_coefficient(group: FastenerGroup, e: float, degrees: float = 0.0) -> float:
    centre, t = group.sections(), math.radians(degrees)
    load = Load.at((1e3 * math.sin(t), -1e3 * math.cos(t), 0.0), (centre.x + e, centre.y, 0.0))
    found = group.ultimate(load, R_ULT).coefficient
    assert found is not None
    return found


TABLE_7_6 = {
    2: "1.18 2.23 3.32 4.39 5.45",
    3: "0.88 1.75 2.81 3.90 4.98",
    4: "0.69 1.40 2.36 3.40 4.47",
    5: "0.56 1.15 2.01 2.96 3.98",
    6: "0.48 0.97 1.73 2.59 3.55",
}


def row_7_6(e: int, printed: str) -> Case:
    return Case(
        BOLTS, f"one row at 3 in, e_x = {e} in, n = 2 to 6", "AISC Manual Table 7-6", "from memory", printed, "C",
        lambda: tuple(centre_coefficient(column(n), e * IN) for n in range(2, 7)), units=0.55,
        why="2.365 is printed 2.36",
    )  # fmt: skip


def two_rows(gage: float, e: float, printed: str) -> Case:
    return Case(
        BOLTS, f"two rows {gage:g} in apart at 3 in, e_x = {e:g} in, n = 1 to 6",
        "independent script on the published curve", "computed", printed, "C",
        lambda: tuple(centre_coefficient(rows(n, gage), e * IN) for n in range(1, 7)),
        units=0.6, why="the script used its own finite steps",
    )  # fmt: skip


def gusset_n1() -> tuple[float, ...]:
    group = FastenerGroup.of([[-16.25, -30], [48.75, -30], [-48.75, 30], [16.25, 30]])
    return tuple(float(v) for v in group.elastic(Load.at((406.9e3, 0, 0), (0, -44.5, 0))).shear / 1e3)


def gusset_parts() -> tuple[float, ...]:
    group = FastenerGroup.of([[-16.25, -30], [48.75, -30], [-48.75, 30], [16.25, 30]])
    turned = sorted(float(v) for v in group.elastic(Load(M_z=18.107e6)).shear / 1e3)
    return (float(group.elastic(Load(F_x=406.9e3)).shear[0]) / 1e3, turned[0], turned[-1])


def segui_8_2_1() -> tuple[float, ...]:
    group = column(4)
    centre = group.sections()
    load = Load.at((9 * KIP, -12 * KIP, 0), (centre.x + 12 * IN, centre.y + 6 * IN, 0))
    about = load.about(centre.x, centre.y)
    turned = group.elastic(Load(M_z=about.M_z)).peak
    return (centre.J / IN**2, abs(about.M_z) / KIP / IN, turned / KIP, group.elastic(load).peak / KIP)


def segui_8_2_2() -> tuple[float, ...]:
    group = FastenerGroup.of([[x * IN, y * IN] for y in (-2.75, 2.75) for x in (-6, -3, 0, 3, 6)])
    c, s = math.cos(math.pi / 6), math.sin(math.pi / 6)
    load = Load.at((c * 1e3, -s * 1e3, 0), (10 * IN, 2.75 * IN, 0))
    return (group.sections().J / IN**2, abs(load.M_z) / IN / 1e3, group.elastic(load).peak / 1e3)


def four_bolts() -> tuple[float, ...]:
    group = FastenerGroup.of([[x, y] for x in (-40, 40) for y in (-30, 30)])
    both = group.elastic(Load.at((0, -10e3, 0), (100, 0, 0))).peak
    return tuple(v / 1e3 for v in (group.elastic(Load(F_y=-10e3)).peak, group.elastic(Load(M_z=1e6)).peak, both))


def six_bolts() -> tuple[float, ...]:
    group = FastenerGroup.of([[x, y] for x in (-35, 35) for y in (-140, 0, 140)])
    loads = (Load(F_y=-70e3), Load(M_z=-10e6), Load(F_y=-70e3, M_z=-10e6))
    return tuple(group.elastic(load).peak / 1e3 for load in loads)


def two_rivets() -> float:
    """Diameter in whole millimetres of two rivets 100 mm apart at 60 MPa, 15 kN at 50 mm from their middle."""
    peak = FastenerGroup.of([[-50, 0], [50, 0]]).elastic(Load.at((0, -15e3, 0), (50, 0, 0))).peak
    return math.ceil(math.sqrt(4 * peak / (60 * math.pi)))


def shigley_8_7() -> tuple[float, ...]:
    group = FastenerGroup.of([[x, y] for x in (-75, 75) for y in (-60, 60)])
    found = group.elastic(Load.at((0, -16e3, 0), (425, 0, 0)))
    turned = group.elastic(Load(M_z=16e3 * 425)).peak
    return (
        math.sqrt(group.sections().J / 4), turned / 1e3, float(found.shear[2]) / 1e3, float(found.shear[0]) / 1e3,
        found.peak / 144, found.peak / 160,
    )  # fmt: skip


CASES: list[Case] = [
    *(row_8_8(*row) for row in TABLE_8_8),
    Case(WELDS, "C-shape, k = 1.0, a = 1.00 and 1.40", "AISC Manual, 13th ed., Table 8-8, in a university examination",
         "second-hand", "3.01 2.27", "C", lambda: tuple(coefficient(c_shape(1.0), a * L) for a in (1.0, 1.4)), units=1.0,
         why="the manual's own iteration rounds: within one unit of the last digit"),
    Case(WELDS, "two lines, k = 0, a = 0.15 to 0.80, φ included", "AISC LRFD Manual, metric, Table 8-38", "read",
         "2.75 2.64 2.48 2.32 2.00 1.72 1.50 1.32 1.17", "C",
         partial(on_each_other, 0.15, 0.20, 0.25, 0.30, 0.40, 0.50, 0.60, 0.70, 0.80), units=1.0,
         why="the manual's own iteration rounds: within one unit of the last digit"),
    Case(WELDS, "two lines, k = 0, a = 1.00, 1.20, 1.40, φ included", "AISC LRFD Manual, metric, Table 8-38", "read",
         "0.957 0.806 0.695", "C", partial(on_each_other, 1.0, 1.2, 1.4), units=1.0,
         why="the manual's own iteration rounds: within one unit of the last digit"),
    Case(WELDS, "two lines, k = 0, a = 0.10, φ included", "AISC LRFD Manual, metric, Table 8-38", "read", "2.78", "C",
         partial(on_each_other, 0.10), relative=5e-3, why="one of two entries the published curve itself misses by 0.5 %"),
    Case(WELDS, "two lines, a = 1.40, k = 0.1 to 0.8, φ included", "AISC LRFD Manual, metric, Table 8-38", "read",
         "0.701 0.724 0.758 0.799 0.844 0.889 0.932 0.973", "C", partial(apart, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8),
         units=1.0, why="the manual's own iteration rounds: within one unit of the last digit"),
    Case(WELDS, "two 5/16 in at 60°, φr_n", "AISC Design Examples, J.2", "from memory", "19.5", "kip/in",
         example_j_2),
    Case(WELDS, "C-shape, 25 kN at 100 mm: τ′, x̄, J, τ at the free ends and corners",
         "Shigley, 8th and 9th ed., Ex. 9-1", "from memory", "19.5 10.4 7.07 37 44", "MPa, mm, 10⁶ mm⁴, MPa",
         shigley_9_1),
    Case(WELDS, "500 lbf at 6 in on two 3/8 in fillets: A, I, τ, n", "Shigley, Ex. 9-4", "from memory",
         "1.06 0.353 8.51 3.39", "in², in⁴, kpsi, 1", shigley_9_4, relative=0.002,
         why="the print rounds the second moment to 0.353 in⁴, 0.15 % small, before it divides"),
    Case(WELDS, "two 2 in fillets 2 in apart, F at 7 in: J_u, J, τ/F, F at 20 and 11 kpsi",
         "Shigley, 8th ed., solution 9-5", "read", "5.333 1.18 9.22 2.17 1.19", "in³, in⁴, kpsi/kip, kip", solution_9_5,
         relative=0.005, why="the print adds components rounded to 5.93 and a J rounded to 1.18"),
    Case(WELDS, "closed square 2 in, 5/16 in: J_u, J, τ′/F", "Shigley, 8th ed., solution 9-6", "read", "10.67 2.36 0.566",
         "in³, in⁴, kpsi/kip", solution_9_6),
    Case(WELDS, "two circles r 40 mm, 5 mm, torque 200F shared: J_u, J, τ/F", "Shigley, 8th ed., solution 9-8", "read",
         "402 142 2.82", "cm³, cm⁴, MPa/kN", solution_9_8, units=0.75,
         why="the print divides by J rounded to 142 cm⁴; its F = 49.2 kN is a slip of arithmetic and not used"),
    Case(WELDS, "two 50 mm fillets 50 mm apart, 7.5 kN at 125 mm, 100 MPa: throat",
         "Bhandari, Design of Machine Elements, Ex. 8.9", "second-hand", "4.538894", "mm", parallel_pair),
    Case(WELDS, "lap of the IS 800 example as a group", "IS 800:2007, examination solution", "read", "1326", "N/mm", is_800),
    *(row_7_6(e, printed) for e, printed in TABLE_7_6.items()),
    Case(BOLTS, "M24 in a skewed pattern, 406.9 kN at 44.5 mm: resultants", "Published bridge gusset, sheet 109", "read",
         "166.22 190.82 107.35 52.37", "kN", gusset_n1, units=1.5,
         why="the force on the print is rounded to 0.1 kN"),
    Case(BOLTS, "the same: direct part, least and greatest moment part", "Published bridge gusset, sheet 109", "read",
         "101.73 69.56 116.70", "kN", gusset_parts, units=1.0, why="the force on the print is rounded to 0.1 kN"),
    Case(BOLTS, "four bolts at 3 in, 15 kip at 3-4-5: Σr², M, moment part, resultant", "Segui, 6th ed., solution 8.2-1",
         "read", "45 198 19.8 22.3", "in², in·kip, kip", segui_8_2_1, units=0.6,
         why="the print rounds 22.25 up from its own 22.25"),
    Case(BOLTS, "ten bolts, load at 30°: Σr², M/P, resultant/P", "Segui, 6th ed., solution 8.2-2", "read",
         "255.6 7.382 0.2782", "in², in, 1", segui_8_2_2),
    Case(BOLTS, "four at (±40, ±30) mm, 10 kN at 100 mm: direct, moment part, resultant", "Published four-bolt bracket",
         "read", "2.5 5 7.16", "kN", four_bolts),
    Case(BOLTS, "six, V 70 kN and M 10 kN·m: direct, moment part, resultant", "Published column bracket (examination)",
         "read", "11.67 16.82 22.67", "kN", six_bolts, units=1.5, why="the print adds rounded components"),
    Case(BOLTS, "two rivets 100 mm apart, 15 kN at 50 mm, 60 MPa: diameter, rounded up",
         "Bhandari, Design of Machine Elements, Ex. 8.25", "second-hand", "18", "mm", two_rivets),
    Case(BOLTS, "four M16, 16 kN at 425 mm: r, F″, near, far, shear, bearing", "Shigley, Ex. 8-7", "from memory",
         "96.0 17.7 21.0 14.8 146 131", "mm, kN, MPa", shigley_8_7),
    two_rows(3.0, 4.0, "0.54 1.68 3.06 4.86 6.84 8.93"),
    two_rows(3.0, 8.0, "0.31 0.96 1.78 2.93 4.26 5.86"),
    two_rows(5.5, 4.0, "0.80 1.99 3.39 5.10 6.98 9.00"),
    two_rows(5.5, 8.0, "0.50 1.25 2.14 3.30 4.61 6.15"),
    Case(BOLTS, "one row n = 4, e_x = 4 in, load 0° to 75° from the vertical",
         "independent script on the published curve", "computed", "2.365 2.347 2.399 2.536 2.767 3.138", "C",
         lambda: tuple(centre_coefficient(column(4), 4 * IN, d) for d in (0, 15, 30, 45, 60, 75)), units=1.0,
         why="the script used its own finite steps"),
    Case(BOLTS, "four at 80 × 60 mm, e = 100 mm: C, and its elastic equivalent",
         "independent script on the published curve", "computed", "1.551 1.397", "1",
         lambda: (centre_coefficient(FastenerGroup.of([[x, y] for x in (-40, 40) for y in (-30, 30)]), 100.0),
                  1e4 / FastenerGroup.of([[x, y] for x in (-40, 40) for y in (-30, 30)]).elastic(
                      Load.at((0, -1e4, 0), (100, 0, 0))).peak)),
]  # fmt: skip
