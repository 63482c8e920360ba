"""How spots, plugs, rivets or bolts of a row share a load: how much each gives way, and what the end one gets.

Two strips joined by fasteners in line, stretched: between neighbours the strips part by the difference of their
strains, and each fastener gives way by its share.  With S the load that has passed over and Q = P of it in all, the
shares of a uniform row obey S(i+1) - (2 + p g k) S(i) + S(i-1) = -p g k r P, whose solutions are exp(±phi i).  Close
together they are the shear lag of a bonded lap.  Of the load, the part `r` strains the strips at the first end of the
row and 1 - r at the last: r = 1 where it comes in and goes out at one end, 1/2 where half of it does at both, and for a
lap pulled in line the part of the give of both strips that the one has that brings the load in.

How a weld gives way is an upper bound of its stiffness, for a stiffer fastener draws more load to the end: the weld is
rigid, the sheet round it is held a little way off, and what the sheets give beyond is left out.
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

LAP = Source(
    "Load sharing of fasteners in line",
    "difference equation of two strips",
    "derivation",
    "Tate and Rosenfeld, NACA TN 1051, and Volkersen's lap have the same (from memory)",
)
RIGID = Source("Rigid disc in a sheet held round it", "plane stress and plate theory", "derivation")
HUTH = Source("Huth, ASTM STP 927 (1986)", "flexibility of fasteners in single shear")
DECK = Source("Steel deck diaphragm design (SDI; AISI S310)", "flexibility of an arc spot weld")
CLAMPED = Source("Strip of plate held at both its lines", "elementary bending", "derivation")

N = Names(
    E=("MPa", "modulus of elasticity"),
    E_1=("MPa", "modulus of the one sheet"),
    E_2=("MPa", "modulus of the other sheet"),
    E_f=("MPa", "modulus of the fastener"),
    t=("mm", "thickness of the sheet"),
    t_1=("mm", "thickness of the one sheet"),
    t_2=("mm", "thickness of the other sheet"),
    b_1=("mm", "width of the one sheet that takes part"),
    b_2=("mm", "width of the other sheet that takes part"),
    d=("mm", "diameter of the weld or fastener"),
    R=("mm", "distance round the weld at which the sheet is held"),
    nu=("1", "Poisson's ratio"),
    C=("mm/N", "how much one fastener gives way under its share"),
    p=("mm", "pitch"),
    g=("1/N", "strain of both strips together per load"),
    phi=("1", "decay of the shares from one fastener to the next"),
    n=("1", "fasteners in line"),
    i=("1", "number of the fastener, from the first end"),
    r=("1", "part of the load that strains the strips at the first end"),
    m=("1", "fasteners over which the load is shared alike"),
    P=("N", "load passed on by the row"),
    a=("mm", "arm: from the row to the bend that is pulled"),
    b=("mm", "width of flange that one weld holds"),
)

NU = 0.3
"""Poisson's ratio of sheet metal."""


def strip_give(*, E_1: Value, b_1: Value, t_1: Value, E_2: Value, b_2: Value, t_2: Value) -> Value:
    """Strain of both strips together per load [1/N]."""
    return 1 / (E_1 * b_1 * t_1) + 1 / (E_2 * b_2 * t_2)


def decay(*, p: Value, g: Value, C: Value) -> Value:
    """Decay of the shares from one fastener to the next: 4 sinh²(phi/2) = p g / C."""
    x = np.sqrt(p * g / C) / 2
    return 2 * np.log(x + np.sqrt(x**2 + 1))


def share(*, phi: Value, n: Value, i: Value, r: Value) -> Value:
    """Part of the load that fastener `i` of `n` takes, all alike and elastic.

    2 sinh(phi/2) [r cosh(phi (n-i+1/2)) + (1-r) cosh(phi (i-1/2))] / sinh(phi n), in decaying powers.
    """
    first = np.exp(-phi * (i - 0.5)) + np.exp(-phi * (2 * n - i + 0.5))
    last = np.exp(-phi * (n - i + 0.5)) + np.exp(-phi * (n + i - 0.5))
    return (np.exp(phi / 2) - np.exp(-phi / 2)) * (r * first + (1 - r) * last) / (1 - np.exp(-2 * phi * n))


def shared_slip(*, P: Value, p: Value, g: Value, m: Value) -> Value:
    """How much more the end fastener gives way than the farthest [mm] when `m` of them take the load alike."""
    return P * p * g * (m - 1) / 2


def weld_give_in_plane(*, E: Value, t: Value, d: Value, R: Value, nu: Value) -> Value:
    """Movement of a rigid disc in the plane of a sheet held at `R`, per force [mm/N]: an exact solution.

    From Kolosov's potentials -alpha ln z + beta z², kappa alpha ln z + gamma + delta/z², zero at R and rigid at d/2.
    """
    kappa = (3 - nu) / (1 + nu)
    s = (R**2 - d**2 / 4) / (R**2 + d**2 / 4)
    return (1 + nu) / (np.pi * (1 + kappa) * E * t) * (kappa * np.log(2 * R / d) - s / kappa)


def weld_tilt(*, E: Value, t: Value, d: Value, R: Value, nu: Value) -> Value:
    """Turning of a rigid disc in a sheet clamped at `R`, per moment [rad/(N*mm)]: an exact solution of plate theory."""
    s = (R**2 - d**2 / 4) / (R**2 + d**2 / 4)
    return 3 * (1 - nu**2) / (np.pi * E * t**3) * (np.log(2 * R / d) - s)


def fastener_give_bolted(*, t_1: Value, t_2: Value, d: Value, E_1: Value, E_2: Value, E_f: Value) -> Value:
    """Movement of a bolt in metal under its share, single shear [mm/N]."""
    sheets = 1 / (t_1 * E_1) + 1 / (t_2 * E_2) + 1 / (2 * t_1 * E_f) + 1 / (2 * t_2 * E_f)
    return ((t_1 + t_2) / (2 * d)) ** (2 / 3) * 3.0 * sheets


def fastener_give_riveted(*, t_1: Value, t_2: Value, d: Value, E_1: Value, E_2: Value, E_f: Value) -> Value:
    """Movement of a rivet in metal under its share, single shear [mm/N]."""
    sheets = 1 / (t_1 * E_1) + 1 / (t_2 * E_2) + 1 / (2 * t_1 * E_f) + 1 / (2 * t_2 * E_f)
    return ((t_1 + t_2) / (2 * d)) ** (2 / 5) * 2.2 * sheets


def arc_spot_give(*, t: Value) -> Value:
    """Movement of an arc spot weld under its share [mm/N]: 1.15e-3/sqrt(t) in/kip, t in inches; here in mm."""
    return 0.0331e-3 / np.sqrt(t)


def lift_stiffness(*, E: Value, t: Value, b: Value, a: Value, nu: Value) -> Value:
    """Stiffness of the flange at one weld against being lifted at its bend [N/mm]: a strip clamped at both lines."""
    return E * b * t**3 / ((1 - nu**2) * a**3)


STRIP_GIVE = register(
    Formula(strip_give, symbol="g", unit="1/N", title="Give of both strips", source=LAP, names=N)
)  # fmt: skip
DECAY = register(
    Formula(decay, symbol="phi", unit="1", title="Decay of the shares along a row", source=LAP, names=N,
            inner_units={"x": "1"})
)  # fmt: skip
SHARE = register(
    Formula(share, symbol="F_i / P", unit="1", title="Share of one fastener of a row", source=LAP, names=N,
            inner_units={"first": "1", "last": "1"}, limits=(Limit("n", low=1.0), Limit("r", low=0.0, high=1.0)))
)  # fmt: skip
SHARED_SLIP = register(
    Formula(shared_slip, symbol="s", unit="mm", title="Slip of the end fastener when all share alike", source=LAP,
            names=N)
)  # fmt: skip
WELD_GIVE_IN_PLANE = register(
    Formula(weld_give_in_plane, symbol="C_m", unit="mm/N", title="Give of the sheet round a weld, in its plane",
            source=RIGID, names=N, inner_units={"kappa": "1", "s": "1"})
)  # fmt: skip
WELD_TILT = register(
    Formula(weld_tilt, symbol="C_t", unit="rad/(N*mm)", title="Tilt of a weld in its sheet", source=RIGID, names=N,
            inner_units={"s": "1"})
)  # fmt: skip
FASTENER_GIVE_BOLTED = register(
    Formula(fastener_give_bolted, symbol="C", unit="mm/N", title="Give of a bolt in metal", source=HUTH, names=N,
            inner_units={"sheets": "mm/N"})
)  # fmt: skip
FASTENER_GIVE_RIVETED = register(
    Formula(fastener_give_riveted, symbol="C", unit="mm/N", title="Give of a rivet in metal", source=HUTH, names=N,
            inner_units={"sheets": "mm/N"})
)  # fmt: skip
ARC_SPOT_GIVE = register(
    Formula(arc_spot_give, symbol="C", unit="mm/N", title="Give of an arc spot weld", source=DECK, names=N)
)  # fmt: skip
LIFT_STIFFNESS = register(
    Formula(lift_stiffness, symbol="k_z", unit="N/mm", title="Stiffness of a flange against being lifted",
            source=CLAMPED, names=N)
)  # fmt: skip
