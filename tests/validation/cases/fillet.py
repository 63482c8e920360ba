"""Fillet, flare and butt welds, heat-affected zones."""

from __future__ import annotations

from jointcalc.formula import aluminium_en1999, fillet_aisc, fillet_en1993, flare, group_curves, heat_affected_4130
from jointcalc.tables import load

from ..case import Case  # noqa: TID252  (a package under pytest and under -m alike)

IN, KIP = 25.4, 4448.2216152605
KSI, KIP_IN = KIP / IN**2, KIP / IN
E70 = 70 * KSI
KIND, ZONE = "fillet weld", "heat-affected zone"


def line(leg: float, k_ds: float = 1.0, F_EXX: float = E70) -> float:
    """Nominal strength in kip/in of a fillet of `leg` inches."""
    return float(fillet_aisc.WELD_STRENGTH(F_EXX=F_EXX, k_ds=k_ds, t_e=fillet_aisc.THROAT(w=leg * IN)) / KIP_IN)


def parallel(b: float, leg: float, tau: float) -> float:
    return float(fillet_aisc.THROAT(w=leg) * 2 * b * tau)


def long_weld(inches: float) -> float:
    return float(fillet_aisc.LONG_WELD_FACTOR(l=inches * IN, w=3 / 16 * IN))


def turned(*degrees: float) -> tuple[float, ...]:
    """φ R_n in kip of 8 in of a 3/4 in E70 fillet loaded at an angle."""
    return tuple(0.75 * 8 * line(3 / 4, float(group_curves.DIRECTION_FACTOR(theta=d))) for d in degrees)


def along_and_across() -> tuple[float, ...]:
    """R_n in kip of 20 in along, of 8 in across without their gain, and of both (the first of the two sums governs
    in the print, the greater in the clause)."""
    along, across = 20 * line(3 / 16), 8 * line(3 / 16)
    return along, across, along + across


def j_2() -> tuple[float, ...]:
    k = float(group_curves.DIRECTION_FACTOR(theta=60.0))
    two, angled = 2 * line(5 / 16), 2 * line(5 / 16, k)
    return (k, 0.75 * two, two / 2.0, 0.75 * angled, angled / 2.0, 300 / (0.75 * angled))


GUSSET = {"F_1": -23.02 * 15 / 2, "F_2": 0.0}
GUSSET_PAR = 77.53 * 15 / 2
SSB05 = "Steel-building design guide SSB05, sheets 83, 86: gusset 15 mm, two fillets of 560 mm, S355"


def is_800() -> tuple[float, ...]:
    strength = fillet_en1993.SIMPLIFIED_RESISTANCE(f_u=410.0, beta_w=1.0, a=1.0) / 1.25
    per_mm = fillet_en1993.SIMPLIFIED_RESISTANCE(f_u=410.0, beta_w=1.0, a=7.0) / 1.25
    return (float(strength), float(per_mm), 275e3 / (2 * float(per_mm)))


def across(a: float, f_u: float, beta_w: float) -> float:
    """Characteristic resistance of a fillet loaded across, by the directional method [N/mm]."""
    force = {"F_1": 1.0, "F_2": 0.0, "a": a}
    stress = fillet_en1993.DIRECTIONAL_STRESS(
        sigma_perp=fillet_en1993.SIGMA_PERP(**force), tau_perp=fillet_en1993.TAU_PERP(**force), tau_par=0.0
    )
    return float(fillet_en1993.DIRECTIONAL_RESISTANCE(F_w_Ed=1.0, f_u=f_u, beta_w=beta_w, sigma_v=stress))


def gusset_throats() -> tuple[float, ...]:
    """Throats at which both conditions are just met: stresses go with 1/a, so the demand over what 1 mm carries."""
    sigma, tau = (f(**GUSSET, a=1.0) for f in (fillet_en1993.SIGMA_PERP, fillet_en1993.TAU_PERP))
    stress = fillet_en1993.DIRECTIONAL_STRESS(sigma_perp=sigma, tau_perp=tau, tau_par=GUSSET_PAR)
    one = fillet_en1993.DIRECTIONAL_RESISTANCE(F_w_Ed=1.0, f_u=510.0, beta_w=0.8, sigma_v=stress)
    two = fillet_en1993.NORMAL_RESISTANCE(F_w_Ed=1.0, f_u=510.0, sigma_perp=sigma)
    return 1.25 / float(one), 1.25 / float(two)


def handbook_fillet(a: float, f_u: float, beta_w: float) -> tuple[float, float]:
    along = float(fillet_en1993.SIMPLIFIED_RESISTANCE(f_u=f_u, beta_w=beta_w, a=a)) / 1.25e3
    return along, across(a, f_u, beta_w) / 1.25e3


CASES: list[Case] = [
    Case(KIND, "3/8 in E70: allowed force per length, and on 4 in", "Shigley, 9th ed., Ex. 9-2", "read", "5.57 22.28",
         "kip/in, kip", lambda: (line(3 / 8) / 2, 4 * line(3 / 8) / 2), units=1.0,
         why="the print multiplies the rounded 5.57"),
    Case(KIND, "two parallel fillets: 50 mm, 5 mm, 140 MPa", "Shigley, 10th ed., solution 9-1", "read", "49.5", "kN",
         lambda: parallel(50.0, 5.0, 140.0) / 1e3),
    Case(KIND, "two parallel fillets: 2 in and 4 in, 5/16 in, 25 kpsi", "Shigley, 10th ed., solutions 9-2, 9-4", "read",
         "22.1 44.2", "kip", lambda: tuple(parallel(b * IN, 5 / 16 * IN, 25 * KSI) / KIP for b in (2, 4))),
    Case(KIND, "allowable on the throat of E70, and of a 1 in leg", "Shigley, Table 9-6", "read", "21.0 14.85",
         "kpsi, kip/in",
         lambda: (float(fillet_aisc.WELD_STRENGTH(F_EXX=E70, k_ds=1.0, t_e=1.0)) / 2 / KSI, line(1.0) / 2)),
    Case(KIND, "full-throat tensile estimate, leg × length 10, 30, 150 mm², 70 ksi wire",
         "Wire-welding guideline (from a scan)", "read", "767 2301 11506", "lb",
         lambda: tuple(float(fillet_aisc.THROAT(w=x)) * E70 / KIP * 1e3 for x in (10.0, 30.0, 150.0)), relative=5e-4,
         why="the print multiplies a stress rounded to 108.5 lb/mm²"),
    Case(KIND, "3/16 in E70: nominal, and length for 200 kip", "AISC Design Examples, v14, J.1", "read", "5.57 47.9",
         "kip/in, in", lambda: (line(3 / 16), 200 / (0.75 * line(3 / 16)))),
    Case(KIND, "factor of 24 and 27 in of 3/16 in, and their effective lengths", "AISC Design Examples, v14, J.1",
         "from memory", "0.944 0.912 22.7 24.6", "1, in",
         lambda: (long_weld(24), long_weld(27), 24 * long_weld(24), 27 * long_weld(27))),
    Case(KIND, "two 5/16 in at 60°: factor, φr_n and r_n/Ω before and after, length", "AISC Design Examples, J.2",
         "from memory", "1.40 13.9 9.28 19.5 13.0 15.4", "1, kip/in, in", j_2),
    Case(KIND, "E70, a sixteenth of leg: φr_n and r_n/Ω", "AISC Manual part 8", "from memory", "1.392 0.928", "kip/in",
         lambda: (0.75 * line(1 / 16), line(1 / 16) / 2)),
    Case(KIND, "8 in of 3/4 in E70 along and across, φR_n", "Weld lecture notes (Haque), example 1", "second-hand",
         "133.62 200.4", "kip", lambda: turned(0.0, 90.0)),
    Case(KIND, "the same at 45°", "Weld lecture notes (Haque), example 1", "second-hand", "172.7", "kip",
         lambda: turned(45.0), relative=4e-3,
         why="a slip of the print: it takes 1.29246 for 1 + 0.5 sin^1.5 45° = 1.29730"),
    Case(KIND, "two 10 in along and 8 in across, 3/16 in E70, R_n: along, across, eq. J2-10a",
         "Weld lecture notes (Haque), example 2", "second-hand", "111.35 44.54 155.89", "kip", along_and_across),
    Case(KIND, "gain of a fillet loaded across", "AISC Engineering FAQ 8.3", "read", "1.50", "1",
         lambda: group_curves.DIRECTION_FACTOR(theta=90.0)),
    Case(KIND, "throat stresses of the gusset, a·σ⊥, a·τ⊥, a·τ∥", SSB05, "read", "-122.08 -122.08 581.44", "N/mm",
         lambda: (fillet_en1993.SIGMA_PERP(**GUSSET, a=1.0), fillet_en1993.TAU_PERP(**GUSSET, a=1.0),
                  fillet_en1993.TAU_PAR(F_par=GUSSET_PAR, a=1.0)), units=4.0,
         why="recomputed from plate stresses given to 0.01 MPa"),
    Case(KIND, "throats of the gusset", SSB05, "read", "2.03 0.33", "mm",
         gusset_throats),
    Case(KIND, "lap, 10 mm fillets, f_u 410, 275 kN: strength, per mm, length", "IS 800:2007, examination solution",
         "read", "189.4 1326 103.7", "MPa, N/mm, mm", is_800),
    Case(KIND, "legs 6, 8, 10 mm in S275: along and across", "SCI P363, fillet welds", "from memory",
         "0.94 1.15 1.25 1.53 1.56 1.91", "kN/mm",
         lambda: tuple(v for a in (4.2, 5.6, 7.0) for v in handbook_fillet(a, 410.0, 0.85)), units=0.6,
         why="the print rounds the longitudinal value before the factor 1.225"),
    Case(KIND, "throats of legs 6, 8, 10 mm", "SCI P363, fillet welds", "from memory", "4.2 5.6 7.0", "mm",
         lambda: tuple(fillet_en1993.THROAT(s=s) for s in (6.0, 8.0, 10.0)), relative=0.011,
         why="the print takes 0.7 for 1/√2"),
    Case(KIND, "legs 6, 8, 10 mm in S355: along and across", "SCI P363, fillet welds", "from memory",
         "1.01 1.24 1.35 1.65 1.69 2.07", "kN/mm",
         lambda: tuple(v for a in (4.2, 5.6, 7.0) for v in handbook_fillet(a, 470.0, 0.90)), units=0.6,
         why="the print rounds the longitudinal value before the factor 1.225"),
    Case(KIND, "f_vw,d of S235, S275 (430 and 410), S355 (510 and 470)", "EN 1993-1-8 4.5.3.3, independent script",
         "computed", "207.8 233.7 222.8 261.7 241.2", "MPa",
         lambda: tuple(fillet_en1993.SIMPLIFIED_RESISTANCE(f_u=f_u, beta_w=b, a=1.0) / 1.25 for f_u, b in (
             (360.0, 0.80), (430.0, 0.85), (410.0, 0.85), (510.0, 0.90), (470.0, 0.90)))),
    Case(KIND, "gain across from the directional method", "EN 1993-1-8 4.5.3.2, worked by hand", "computed", "1.225", "1",
         lambda: across(4.0, 430.0, 0.85) / float(fillet_en1993.SIMPLIFIED_RESISTANCE(f_u=430.0, beta_w=0.85, a=4.0))),
    Case(KIND, "curve of a fillet element along: Δ_m/w; across: Δ_m/w, Δ_u/w", "Lesik and Kennedy (1990), by hand",
         "computed", "0.1674 0.0492 0.0559", "1",
         lambda: (group_curves.DEFORMATION_AT_MAXIMUM(theta=0.0, w=1.0),
                  group_curves.DEFORMATION_AT_MAXIMUM(theta=90.0, w=1.0),
                  group_curves.DEFORMATION_AT_FRACTURE(theta=90.0, w=1.0))),
    Case("flare weld", "flare bevel of 2 × 3/8 in, SMAW: throat", "Structural steel handbook, example", "read", "0.234",
         "in", lambda: float(flare.FLARE_THROAT(k_R=flare.throat_per_radius("flare-bevel", "SMAW"),
                                                R=2 * 3 / 8 * IN, gap=0.0)) / IN),
    Case("flare weld", "the same: design stress", "Structural steel handbook, example", "read", "31.5", "ksi",
         lambda: 0.75 * float(flare.GROOVE_SHEAR_STRENGTH(F_EXX=E70, t_e=1.0)) / KSI),
    Case("flare weld", "throat of a radius 8: flare bevel GMAW, SMAW, SAW, flare V GMAW, SMAW, SAW",
         "AISC 360 Table J2.2 (5/8, 5/16, 5/16, 3/4, 5/8, 1/2 of the radius)", "read", "5.0 2.5 2.5 6.0 5.0 4.0", "mm",
         lambda: tuple(float(flare.FLARE_THROAT(k_R=flare.throat_per_radius(g, p), R=8.0, gap=0.0))
                       for g in ("flare-bevel", "flare-V") for p in ("GMAW", "SMAW", "SAW"))),
    Case(ZONE, "fillet metal in shear along, fillers 4043 and 5356", "Aluminum Design Manual (11.5 and 17 ksi)",
         "from memory", "79 117", "MPa",
         lambda: tuple(float(aluminium_en1999.FILLER_SHEAR(
             F_sw=load("filler_aluminium_shear").find(filler=f).need("shear_ultimate"), t_e=1.0))
             for f in ("4043", "5356"))),
    Case(ZONE, "normalised 4130, 95 ksi: beside tapered joints, beside all others", "MIL-HDBK-5 / ANC-5", "from memory",
         "90 80", "ksi",
         lambda: tuple(heat_affected_4130.NEAR_WELD_STRENGTH(k_near=k, F_tu=95.0)
                       for k in (heat_affected_4130.NEAR_TAPERED, heat_affected_4130.NEAR_OTHER)), relative=0.0075,
         why="quoted as round figures beside the factors 0.941 and 0.841"),
]  # fmt: skip
