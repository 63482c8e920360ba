"""Plug, slot and arc spot welds."""

from __future__ import annotations

from jointcalc.formula import arc_spot_aisi, plug_aisc

from ..case import Case  # noqa: TID252  (a package under pytest and under -m alike)

IN, KIP, KSI = 25.4, 4448.2216, 6.894757
KIND = "plug and arc spot"

CASES: list[Case] = [
    Case(KIND, "arc plug, 11 gauge 0.120 in, visible 0.793 in: fused diameter", "AWS D1.3 2.2.6, 2.3.7, example", "read", "0.375", "in",
         lambda: arc_spot_aisi.EFFECTIVE_DIAMETER(d=0.793 * IN, t=0.120 * IN) / IN),
    Case(KIND, "hole 1/2 in, E70: nominal and allowable", "AISC 360 Table J2.5, worked by hand", "computed",
         "8.25 4.12", "kip",
         lambda: tuple(plug_aisc.WELD_SHEAR(A_w=plug_aisc.HOLE_AREA(d=0.5 * IN), F_EXX=70 * KSI) / KIP / s
                       for s in (1.0, plug_aisc.SAFETY.Omega))),
    Case(KIND, "f_vw,d of S235, S275 (430 and 410), S355 (510 and 470), S460 on a plug",
         "EN 1993-1-8 4.6, independent script", "computed", "207.8 233.7 222.8 261.7 241.2 249.4", "MPa",
         lambda: tuple(plug_aisc.WELD_SHEAR_EN(A_w=1.0, f_u=f_u, beta_w=b) / 1.25 for b, f_u in (
             (0.80, 360.0), (0.85, 430.0), (0.85, 410.0), (0.90, 510.0), (0.90, 470.0), (1.00, 540.0)))),
]  # fmt: skip
