"""Finite strips: coefficients of plates; direct strength: a published channel."""

from __future__ import annotations

import numpy as np

from jointcalc.formula import direct_strength as ds
from jointcalc.section.buckling import Buckling
from jointcalc.section.families.channel import LippedChannel
from jointcalc.section.shear_strips import Sheared
from jointcalc.section.strip_matrices import TURN, Z
from jointcalc.section.strip_solver import Solver
from jointcalc.section.strips import plate

from ..case import Case  # noqa: TID252  (a package under pytest and under -m alike)

PLATE, MEMBER = "plate by strips", "direct strength"
E, NU = 210000.0, 0.3
TIMOSHENKO = "Timoshenko and Gere, Theory of Elastic Stability, chapter 9"
EXAMPLE = "published design example, lipped channel 9 × 2.5 × 0.773 × 0.059 in of 55 ksi"
IN, KSI = 25.4, 6.894757293


def coefficient(
    left: tuple[int, ...], right: tuple[int, ...], span: tuple[float, float], bent: float = 1.0, waves: int = 61
) -> float:
    """Least k over half-wavelengths from `span[0]` to `span[1]` widths; stress 1 at the left edge, `bent` at the right."""
    b, t, n = 100.0, 1.0, 12
    model = plate(width=b, t=t, strips=n).hold([0], *left).hold([n], *right)
    factors = Solver(model, np.linspace(1.0, bent, n + 1), E=E, nu=NU).factors(np.linspace(*span, waves) * b)
    return float(factors.min()) * 12 * (1 - NU**2) / np.pi**2 / E * (b / t) ** 2


def in_shear(hold: tuple[int, ...], span: tuple[float, float]) -> float:
    """Least k of an endless plate in shear over half-wavelengths from `span[0]` to `span[1]` widths."""
    b, t, n = 100.0, 1.0, 12
    model = plate(width=b, t=t, strips=n).hold([0, n], *hold)
    flow = Sheared(model, np.ones(n), E=E, nu=NU).factors(np.linspace(*span, 61) * b).min()
    return float(flow) / t * 12 * (1 - NU**2) / np.pi**2 / E * (b / t) ** 2


def ratios(loading: str) -> tuple[float, float]:
    """Local and distortional critical stress over yield."""
    channel = LippedChannel(web=9 * IN, flange=2.5 * IN, lip=0.773 * IN, t=0.059 * IN, r=0.1875 * IN)
    found = Buckling(channel, loading=loading, E=29500 * KSI)  # type: ignore[arg-type]
    assert found.local is not None
    assert found.distortional is not None
    return found.local.stress / (55 * KSI), found.distortional.stress / (55 * KSI)


CASES = [
    Case(PLATE, "simply supported, long", TIMOSHENKO, "from memory", "4.00", "1",
         lambda: coefficient((Z,), (Z,), (0.8, 1.2))),
    Case(PLATE, "clamped at both edges", TIMOSHENKO, "from memory", "6.97", "1",
         lambda: coefficient((Z, TURN), (Z, TURN), (0.6, 0.75))),
    Case(PLATE, "simply supported, pure bending", TIMOSHENKO, "from memory", "23.9", "1",
         lambda: coefficient((Z,), (Z,), (0.6, 0.75), bent=-1.0)),
    Case(PLATE, "clamped at one edge, the other free", TIMOSHENKO, "from memory", "1.277", "1",
         lambda: coefficient((Z, TURN), (), (1.4, 1.9)), relative=0.005, why="an approximate solution is printed"),
    Case(PLATE, "one edge free, a hundred widths long", TIMOSHENKO, "from memory", "0.425", "1",
         lambda: coefficient((Z,), (), (100.0, 100.0), waves=1), units=1.0, why="0.4255 is printed 0.425"),
    Case(PLATE, "simply supported, long, in shear", TIMOSHENKO, "from memory", "5.34", "1",
         lambda: in_shear((Z,), (0.9, 1.6))),
    Case(PLATE, "clamped, long, in shear", TIMOSHENKO, "from memory", "8.98", "1",
         lambda: in_shear((Z, TURN), (0.6, 1.2))),
    Case(MEMBER, "compression: P_crl/P_y, P_crd/P_y", EXAMPLE, "from memory", "0.12 0.27", "1", lambda: ratios("axial"),
         units=1.0, why="read off another mesh"),
    Case(MEMBER, "bending: M_crl/M_y, M_crd/M_y", EXAMPLE, "from memory", "0.67 0.85", "1", lambda: ratios("sagging"),
         units=1.0, why="read off another mesh"),
    Case(MEMBER, "bending, held: M_nl, M_nd from M_y 126.55 and the ratios above", EXAMPLE, "from memory", "94 93",
         "kip·in", lambda: (ds.LOCAL_STRENGTH_BEAM(M_ne=126.55, M_crl=0.67 * 126.55),
                            ds.DISTORTIONAL_STRENGTH_BEAM(M_y=126.55, M_crd=0.85 * 126.55))),
    Case(MEMBER, "compression, held: P_nl, P_nd from P_y 48.42 and the ratios above", EXAMPLE, "from memory",
         "19.4 19.6", "kip", lambda: (ds.LOCAL_STRENGTH_COLUMN(P_ne=48.42, P_crl=0.12 * 48.42),
                                      ds.DISTORTIONAL_STRENGTH_COLUMN(P_y=48.42, P_crd=0.27 * 48.42))),
]  # fmt: skip
