"""Bending sheet and the heat of welding: worked examples."""

from __future__ import annotations

from math import pi

from jointcalc.formula import forming, heat
from jointcalc.section.forming import blank
from jointcalc.section.profile import parse_profile

from ..case import Case  # noqa: TID252  (a package under pytest and under -m alike)

BEND, HEAT = "bending sheet", "heat and shrinkage"


def din() -> tuple[float, ...]:
    k = forming.CORRECTION_FACTOR(r=2.0, s=1.2)
    allowance = forming.ALLOWANCE_DIN(theta=pi / 2, r=2.0, k=k, s=1.2)
    setback = forming.SETBACK(r=2.0, t=1.2, theta=pi / 2)
    return tuple(float(v) for v in (k, allowance, setback, forming.DEDUCTION(SB=setback, BA=allowance)))


def springback() -> tuple[float, ...]:
    ratio = float(forming.SPRINGBACK_RATIO(R_i=2.0, Y=250.0, E=210000.0, t=1.2))
    angle = float(forming.ANGLE_RATIO(R_i=2.0, R_f=2.0 / ratio, t=1.2))
    return ratio, 2.0 / ratio, angle, 90 * (1 - angle)


def hat_blank() -> tuple[float, float]:
    hat = parse_profile("hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm")
    return float(blank(hat).width[0]), float(blank(hat, K=0.5).width[0])


def brake(K_bf: float, W: float) -> float:
    return float(forming.BRAKE_FORCE(K_bf=K_bf, R_m=320.0, w=1000.0, t=1.2, W=W)) / 1e3


STEEL = {"C": 0.30, "Mn": 0.50, "Si": 0.25, "Cr": 0.95, "Mo": 0.20, "V": 0.0, "Ni": 0.0, "Cu": 0.0, "B": 0.0}


def of(*names: str) -> dict[str, float]:
    return {n: STEEL[n] for n in names}


def cooling(Q: float, T_0: float, d: float) -> tuple[float, ...]:
    return (
        float(heat.COOLING_TIME_THIN(Q=Q, T_0=T_0, d=d, F_2=1.0)), float(heat.COOLING_TIME_THICK(Q=Q, T_0=T_0, F_3=1.0)),
        float(heat.TRANSITION_THICKNESS(Q=Q, T_0=T_0, F_2=1.0, F_3=1.0)),
    )  # fmt: skip


CASES: list[Case] = [
    Case(BEND, "r 2, s 1.2, 90°: k, allowance, set-back, deduction", "DIN 6935, worked by hand", "computed",
         "0.7609 3.8587 3.2000 2.5413", "1, mm", din),
    Case(BEND, "blank of a hat 40 × 30 × 20 × 1.2: DIN, along the mid-line", "DIN 6935, worked by hand", "computed",
         "132.235 133.136", "mm", hat_blank),
    Case(BEND, "springback, R 2, t 1.2, 250 MPa: ratio, R_f, angle ratio, opening of 90°", "Gardiner (1957), by hand",
         "computed", "0.994048 2.0120 0.99542 0.41", "1, mm, 1, °", springback, units=0.7,
         why="worked with R_f rounded to 2.0120"),
    Case(BEND, "brake force per metre, 320 MPa, 1.2 mm: V 10, wiping W 6.2", "Groover, coefficients from memory, by hand",
         "computed", "61.3 24.5", "kN", lambda: (brake(1.33, 10.0), brake(0.33, 6.2))),
    Case(HEAT, "18 V, 130 A, 6 mm/s MAG: arc energy, heat input", "ISO/TR 18491 and EN 1011-1, by hand", "computed",
         "0.390 0.312", "kJ/mm",
         lambda: (heat.ARC_ENERGY(U=18.0, I=130.0, v=6.0), heat.HEAT_INPUT(k=0.8, U=18.0, I=130.0, v=6.0))),
    Case(HEAT, "4130: CE (IIW), P_cm, CET", "printed weights of the elements, by hand", "computed", "0.613 0.394 0.418", "%",
         lambda: (heat.CARBON_EQUIVALENT(**of("C", "Mn", "Cr", "Mo", "V", "Ni", "Cu")),
                  heat.CRACKING_PARAMETER(**of("C", "Si", "Mn", "Cu", "Cr", "Ni", "Mo", "V", "B")),
                  heat.CARBON_EQUIVALENT_T(**of("C", "Mn", "Mo", "Cr", "Cu", "Ni"))), units=0.51,
         why="0.4175 ends on the half"),
    Case(HEAT, "t8/5 of 3 mm, 0.312 kJ/mm, 20 °C: thin, thick, transition", "EN 1011-2 Annex D, independent script",
         "computed", "12.3 1.65 8.2", "s, mm", lambda: cooling(0.312, 20.0, 3.0)),
    Case(HEAT, "t8/5 of 20 mm, 1.5 kJ/mm, 100 °C: thin, thick, transition", "EN 1011-2 Annex D, independent script",
         "computed", "9.2 10.0 19.2", "s, mm", lambda: cooling(1.5, 100.0, 20.0)),
    Case(HEAT, "shrinkage: butt (two rules), tee, lap, leg 4 on 3 mm", "coefficients from memory, by hand", "computed",
         "0.85 0.40 1.36 2.03", "mm",
         lambda: (heat.BUTT_SHRINKAGE(A_w=12.0, t=3.0, gap=1.0), heat.BUTT_SHRINKAGE_AREA(A_w=12.0, t=3.0),
                  heat.TEE_SHRINKAGE(s=4.0, t=3.0, share=1.0), heat.LAP_SHRINKAGE(s=4.0, t=3.0, share=1.0))),
]  # fmt: skip
