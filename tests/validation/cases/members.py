"""Members: beams, effective sections, columns, sideways buckling, webs, laps between spots."""

from __future__ import annotations

from math import inf, pi, sqrt
from typing import Any

import numpy as np

from jointcalc.check.brace import check_brace
from jointcalc.formula import beam as b
from jointcalc.formula import column as c
from jointcalc.formula import effective_aisi, effective_en, web_aisi
from jointcalc.model.brace import Brace
from jointcalc.model.fields import build
from jointcalc.result import Result
from jointcalc.section.effective_aisi import effective_aisi as aisi_section
from jointcalc.section.effective_en1993 import effective_en as en_section
from jointcalc.section.families.channel import Channel, LippedChannel
from jointcalc.section.families.hat import Hat
from jointcalc.statics.beam import solve
from jointcalc.statics.beam_frequency import frequency_1
from jointcalc.statics.beam_model import Couple, PointLoad, supports_of
from jointcalc.tables import load

from ..case import Case  # noqa: TID252  (a package under pytest and under -m alike)

BEAM, SECTION, COLUMN, WEB = "beam", "effective section", "column and lateral buckling", "web"
IN, KSI, KIP_IN = 25.4, 6.894757293, 4448.2216152605 * 25.4
GERE = "Beam tables (AISC Manual part 3; Gere, Mechanics of Materials)"


# --- beams ------------------------------------------------------------------------------------------------------------


def brace(**more: Any) -> Result:
    data = {"profile": "hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm", "grade": "S355MC", "span": "1000 mm"}
    return check_brace(build(Brace, {**data, **more}))


def value(result: Result, name: str) -> float:
    found = result.values[name].value
    assert found is not None
    return found


def uniform(ends: str, *names: str, span: str = "1000 mm") -> tuple[float, ...]:
    """Coefficients of w L² (moments), w L (forces) and w L⁴/EI (deflection) for w = 1 N/mm, L = 1000 mm."""
    found = brace(spread="1 N/mm", ends=ends, span=span)
    L = 1000.0
    scale = {"moment": L**2, "reaction": L, "shear": L, "deflection": L**4 / value(found, "EI")}
    return tuple(value(found, n) / scale[n.split("_")[0]] for n in names)


def point(ends: str, at: str, *names: str) -> tuple[float, ...]:
    """Coefficients of P L, P and P L³/EI for P = 100 N, L = 1000 mm."""
    found = brace(point=f"100 N @ {at}", ends=ends)
    scale = {"moment": 1e5, "reaction": 100.0, "shear": 100.0, "deflection": 1e11 / value(found, "EI")}
    return tuple(value(found, n) / scale[n.split("_")[0]] for n in names)


def fixed_third() -> tuple[float, ...]:
    """A point load at a third of a fixed beam, solver and closed forms: M_A, M_B, R_A, R_B."""
    beam = solve(3.0, 1.0, supports_of("fixed", 3.0), [PointLoad(1.0, 1.0)])
    at = {"P": 1.0, "a": 1.0, "b": 2.0, "L": 3.0}
    assert np.allclose([-m for m in beam.end_moments()],
                       [b.FIXED_END_POINT_MOMENT_LEFT(**at), b.FIXED_END_POINT_MOMENT_RIGHT(**at)])  # fmt: skip
    return tuple(
        float(f(**at))
        for f in (
            b.FIXED_END_POINT_MOMENT_LEFT, b.FIXED_END_POINT_MOMENT_RIGHT, b.FIXED_END_POINT_REACTION_LEFT,
            b.FIXED_END_POINT_REACTION_RIGHT,
        )
    )  # fmt: skip


def fixed_couple() -> tuple[float, ...]:
    """A couple in the middle of a fixed beam: end moments M/4, reactions 3M/2L."""
    at = {"M_0": 1.0, "a": 0.5, "b": 0.5, "L": 1.0}
    beam = solve(1.0, 1.0, supports_of("fixed", 1.0), [Couple(1.0, 0.5)])
    assert abs(abs(beam.end_moments()[0]) - 0.25) < 1e-9
    return tuple(
        abs(float(f(**at)))
        for f in (b.FIXED_END_COUPLE_MOMENT_LEFT, b.FIXED_END_COUPLE_MOMENT_RIGHT, b.FIXED_END_COUPLE_REACTION)
    )


def frequency(ends: str) -> float:
    """ω L² √(m/EI) of a uniform beam."""
    held = (inf, 0.0) if ends == "fixed pinned" else ends
    f = float(frequency_1(1000.0, 3e9, supports_of(held, 1000.0), 2e-6))  # type: ignore[arg-type]
    return 2 * pi * f * 1000.0**2 * sqrt(2e-6 / 3e9)


# --- effective sections -------------------------------------------------------------------------------------------


def sx022a_flange() -> tuple[float, ...]:
    e = en_section(_sx022a(), f_yb=350.0, sharp=True)
    flange = next(w for w in e.workings if w.panel == "top flange").values
    return float(flange["chi_d"][0]), float(flange["b_e2"][0])


def sx022a() -> tuple[float, ...]:
    e = en_section(_sx022a(), f_yb=350.0, sharp=True)
    z_c, z_t = 198 + 0.98 - e.z_centroid[0], e.z_centroid[0] - 0.98
    return tuple(float(v) for v in (e.area[0], z_c, z_t, e.I_y[0], e.I_y[0] / z_c, e.I_y[0] / z_t))


def _sx022a() -> LippedChannel:
    t = 1.96
    return LippedChannel(web=198 + t, flange=72 + t, bottom=64 + t, lip=19.8 + t / 2, t=t, r=3.0)


def sx022a_spring() -> tuple[float, ...]:
    """Spring stiffness, and second moment and area of the stiffener of the compressed flange."""
    e = en_section(_sx022a(), f_yb=350.0, sharp=True)
    flange = next(w for w in e.workings if w.panel == "top flange").values
    edge, lip, t = (float(np.asarray(flange[n]).ravel()[0]) for n in ("b_e2_first", "c_eff_first", "t"))
    I_s = effective_en.stiffener_second_moment(b_e2=edge, c_eff=lip, t=t)
    return float(np.asarray(flange["K"]).ravel()[0]), float(I_s), t * (edge + lip)


def stud(web: float, flange: float, lip: float) -> LippedChannel:
    """A lipped channel of 0.0566 in with bends of 0.0849 in inside; sizes in inches."""
    return LippedChannel(web=web * IN, flange=flange * IN, lip=lip * IN, t=0.0566 * IN, r=0.0849 * IN)


def stud_in_compression() -> tuple[float, ...]:
    """362S162-54: gross area, effective area at the printed F_n, and its strength."""
    section = stud(3.625, 1.625, 0.5)
    e = aisi_section(section, F_y=16.3 * KSI, compression="all", E=29500 * KSI)
    A_e = float(e.area[0])
    P_n = float(c.AISI_STRENGTH(A_e=A_e, F_n=16.3 * KSI))
    return float(section.properties().area[0]) / IN**2, A_e / IN**2, P_n / (KIP_IN / IN)


def zed_column() -> tuple[float, ...]:
    F_e = float(c.ELASTIC_BUCKLING_STRESS(E=29500 * KSI, K=1.0, L=300.0, r=3.07))
    lamda_c = float(c.SLENDERNESS_FACTOR(F_y=55 * KSI, F_e=F_e))
    return F_e / KSI, lamda_c, float(c.AISI_INELASTIC_STRESS(F_y=55 * KSI, lamda_c=lamda_c)) / KSI


def track_sideways() -> tuple[float, ...]:
    """Track 600T200-68, weak axis: section modulus, F_n at the printed F_cre, and M_ne."""
    t, r = 0.0713, 0.1069
    S = float(Channel(web=(6 + 2 * t + r) * IN, flange=2 * IN, t=t * IN, r=r * IN).properties().W_z_right[0])
    F_n = float(c.AISI_LTB_INELASTIC(F_y=33 * KSI, F_cre=47.4 * KSI))
    return S / IN**3, F_n / KSI, S * F_n / KIP_IN


def track_modulus() -> float:
    t, r = 0.0566, 0.0849
    track = Channel(web=(5.5 + 2 * t + r) * IN, flange=1.25 * IN, t=t * IN, r=r * IN)
    return float(track.properties().W_y_top[0]) / IN**3


def stud_moment() -> tuple[float, ...]:
    S = float(stud(8.0, 2.0, 0.625).properties().W_y_top[0])
    return S / IN**3, S * 50 * KSI / KIP_IN


def hat_first_pass() -> tuple[float, ...]:
    w, t = 14.415, 0.105
    critical = effective_aisi.local_buckling_stress(k=4.0, E=29500.0, mu=0.3, t=t, w=w)
    lamda = effective_aisi.slenderness(f=50.0, F_crl=critical)
    return w / t, float(lamda), float(effective_aisi.local_reduction(lamda=lamda))


def _classic_hat() -> Hat:
    return Hat(top=15 * IN, depth=10 * IN, flange=(1.34 - 0.105) * IN, t=0.105 * IN, r=3 / 16 * IN)


def hat_end() -> tuple[float, ...]:
    e = aisi_section(_classic_hat(), F_y=50 * KSI, E=29500 * KSI)
    crown = next(w for w in e.workings if w.panel == "crown").values
    return (float(crown["f"][0]) / KSI, float(crown["rho"][0] * crown["w"][0]) / IN, 10 - float(e.z_centroid[0]) / IN)


def hat_strength() -> tuple[float, ...]:
    e = aisi_section(_classic_hat(), F_y=50 * KSI, E=29500 * KSI)
    web = next(w for w in e.workings if w.panel == "left web").values
    return (
        float(e.I_y[0]) / IN**4, float(e.W_eff[0]) / IN**3, float(e.moment[0]) / KIP_IN, float(web["psi"][0]),
        float(web["k"][0]),
    )  # fmt: skip


def skin() -> tuple[float, ...]:
    critical = effective_aisi.local_buckling_stress(k=4.0, E=203000.0, mu=0.3, t=1.0, w=62.0)
    lamda = effective_aisi.slenderness(f=235.0, F_crl=critical)
    rho = float(effective_aisi.local_reduction(lamda=lamda))
    return float(lamda), rho, rho * 62


# --- columns ------------------------------------------------------------------------------------------------------

HE = {"A": 14900.0, "f_y": 235.0}


def he_300_b() -> tuple[float, ...]:
    N_y, N_z = (float(c.EULER_FORCE(E=210000.0, I=i, K=1.0, L=l)) for i, l in ((25170e4, 8000.0), (8560e4, 5600.0)))
    return (
        N_y / 1e3,
        N_z / 1e3,
        float(c.RELATIVE_SLENDERNESS(**HE, N_cr=N_y)),
        float(c.RELATIVE_SLENDERNESS(**HE, N_cr=N_z)),
    )


def he_reduction() -> tuple[float, ...]:
    lamda = c.RELATIVE_SLENDERNESS(**HE, N_cr=c.EULER_FORCE(E=210000.0, I=25170e4, K=1.0, L=8000.0))
    lines = c.REDUCTION_FACTOR.evaluate(lamda=lamda, alpha=0.34).lines()
    return float(lines[0].value), float(c.REDUCTION_FACTOR(lamda=lamda, alpha=0.34))


def he_resistance() -> float:
    lamda = c.RELATIVE_SLENDERNESS(**HE, N_cr=c.EULER_FORCE(E=210000.0, I=25170e4, K=1.0, L=8000.0))
    return float(c.BUCKLING_RESISTANCE(chi=c.REDUCTION_FACTOR(lamda=lamda, alpha=0.34), **HE)) / 1e3


def curve(name: str, *lamda: float) -> tuple[float, ...]:
    return tuple(float(c.REDUCTION_FACTOR(lamda=x, alpha=c.IMPERFECTION_FACTORS[name])) for x in lamda)


def critical_stress(*slender: float) -> tuple[float, ...]:
    """φ F_cr of 50 ksi steel; AISI and AISC print the same curve."""
    found = []
    for KL_r in slender:
        F_e = float(c.ELASTIC_BUCKLING_STRESS(E=29000 * KSI, K=1.0, L=KL_r, r=1.0))
        lamda_c = float(c.SLENDERNESS_FACTOR(F_y=50 * KSI, F_e=F_e))
        chosen = c.aisi_column_branch(lamda_c=lamda_c).formula
        found.append(0.9 * float(chosen(F_y=50 * KSI, lamda_c=lamda_c)) / KSI)
    return tuple(found)


TUBE_A = pi / 4 * (38.0**2 - 34.0**2)
TUBE_I = pi / 64 * (38.0**4 - 34.0**4)


def tube(L: float) -> tuple[float, ...]:
    """N_cr, λ̄, N_b by curves a, b, c and AISI's P_n of the tube 38 × 2, f_y 235."""
    N_cr = c.EULER_FORCE(E=210000.0, I=TUBE_I, K=1.0, L=L)
    lamda = c.RELATIVE_SLENDERNESS(A=TUBE_A, f_y=235.0, N_cr=N_cr)
    held = [
        float(c.BUCKLING_RESISTANCE(chi=c.REDUCTION_FACTOR(lamda=lamda, alpha=c.IMPERFECTION_FACTORS[n]), A=TUBE_A, f_y=235.0))
        for n in ("a", "b", "c")
    ]  # fmt: skip
    F_e = c.ELASTIC_BUCKLING_STRESS(E=203000.0, K=1.0, L=L, r=sqrt(TUBE_I / TUBE_A))
    lamda_c = c.SLENDERNESS_FACTOR(F_y=235.0, F_e=F_e)
    F_n = c.aisi_column_branch(lamda_c=float(lamda_c)).formula(F_y=235.0, lamda_c=lamda_c)
    A_o = c.TUBE_REDUCED_AREA(D=38.0, t=2.0, F_y=235.0, E=203000.0, A=TUBE_A)
    A_e = c.TUBE_EFFECTIVE_AREA(A_o=A_o, A=TUBE_A, F_y=235.0, F_e=F_e)
    P_n = float(c.AISI_STRENGTH(A_e=A_e, F_n=F_n))
    return float(N_cr) / 1e3, float(lamda), *(v / 1e3 for v in held), P_n / 1e3


def w_200_by_46(*K: float) -> tuple[float, ...]:
    return tuple(float(c.EULER_FORCE(E=200000.0, I=15.4e6, K=k, L=5000.0)) / 1e3 for k in K)


def secant() -> float:
    """400 kN at 10 mm on the strut of the Euler example: A 5890 mm², 100 mm to the edge."""
    N_cr = float(c.EULER_FORCE(E=200000.0, I=15.4e6, K=1.0, L=5000.0))
    return 400e3 / 5890.0 + 400e3 * 10.0 * float(c.SECANT_FACTOR(n=400e3 / N_cr)) / (15.4e6 / 100)


def crippling() -> tuple[float, ...]:
    return tuple(
        float(web_aisi.CRIPPLING(
            C=r.need("C"), t=1.2, F_y=300.0, theta=pi / 2, C_R=r.need("C_R"), R=2.0, C_N=r.need("C_N"), N=50.0,
            C_h=r.need("C_h"), h=23.6))
        for r in load("crippling_aisi").rows[:4]
    )  # fmt: skip


CURVES = {
    "a0": ((1.0,), "0.7253"),
    "a": ((0.5, 1.0, 2.0), "0.9243 0.6656 0.2229"),
    "b": ((0.5, 1.0, 2.0), "0.8842 0.5970 0.2095"),
    "c": ((0.5, 1.0, 2.0), "0.8430 0.5399 0.1962"),
    "d": ((1.0,), "0.4671"),
}

CASES: list[Case] = [
    Case(BEAM, "pinned, uniform: M/wL², V/wL, δEI/wL⁴", GERE, "from memory", "0.125 0.5 0.01302", "1",
         lambda: uniform("pinned", "moment_max", "shear_max", "deflection_max")),
    Case(BEAM, "pinned, central point: M/PL, V/P, δEI/PL³", GERE, "from memory", "0.25 0.5 0.02083", "1",
         lambda: point("pinned", "500 mm", "moment_max", "shear_max", "deflection_max")),
    Case(BEAM, "fixed, uniform: hogging and sagging M/wL², δEI/wL⁴", GERE, "from memory", "0.0833 0.0417 0.002604", "1",
         lambda: uniform("fixed", "moment_hogging", "moment_sagging", "deflection_max")),
    Case(BEAM, "fixed, central point: hogging and sagging M/PL, δEI/PL³", GERE, "from memory", "0.125 0.125 0.005208",
         "1", lambda: point("fixed", "500 mm", "moment_hogging", "moment_sagging", "deflection_max")),
    Case(BEAM, "fixed and pinned, uniform: hogging and sagging M/wL², V/wL", GERE, "from memory", "0.125 0.0703 0.625",
         "1", lambda: uniform("fixed pinned", "moment_hogging", "moment_sagging", "shear_max")),
    Case(BEAM, "cantilever, point at the tip: M/PL, δEI/PL³", GERE, "from memory", "1.0 0.3333", "1",
         lambda: point("cantilever", "1000 mm", "moment_max", "deflection_max")),
    Case(BEAM, "two equal spans, uniform: hogging and sagging M/wL², middle reaction, V/wL", GERE, "from memory",
         "0.125 0.0703 1.25 0.625", "1",
         lambda: uniform("pinned", "moment_hogging", "moment_sagging", "reaction_max", "shear_max",
                         span="1000 1000 mm")),
    Case(BEAM, "three equal spans, uniform: hogging and sagging M/wL², inner reaction, V/wL", GERE, "from memory",
         "0.100 0.080 1.10 0.600", "1",
         lambda: uniform("pinned", "moment_hogging", "moment_sagging", "reaction_max", "shear_max",
                         span="1000 1000 1000 mm")),
    Case(BEAM, "fixed, point at a third: M_A, M_B (4/9, 2/9 of P·L/3), R_A, R_B (20/27, 7/27)",
         "Published fixed-end moments P a b²/L², P a² b/L² (read), worked by hand", "computed", "0.4444 0.2222 0.7407 0.2593", "1", fixed_third),
    Case(BEAM, "fixed, couple in the middle: M/4 at either end, 3M/2L", GERE, "from memory", "0.25 0.25 1.5", "1",
         fixed_couple),
    Case(BEAM, "first frequency, ωL²√(m/EI): cantilever, pinned, fixed-pinned, fixed",
         "Blevins, Formulas for Natural Frequency and Mode Shape", "from memory", "3.516 9.870 15.42 22.37", "1",
         lambda: tuple(frequency(e) for e in ("cantilever", "pinned", "fixed pinned", "fixed"))),
    Case(BEAM, "the closed form with β = 4.7300 of a fixed beam", "Blevins, Formulas for Natural Frequency", "from memory",
         "22.37", "1", lambda: 2 * pi * float(b.NATURAL_FREQUENCY(beta=4.7300, L=1.0, EI=1.0, m=1.0))),
    Case(SECTION, "EN factors at ψ = 1, 0, −1 of an internal plate", "EN 1993-1-5 Table 4.1", "from memory",
         "4.0 7.81 23.9", "1",
         lambda: (effective_en.k_internal_compression(psi=1.0), effective_en.k_internal_compression(psi=0.0),
                  effective_en.k_internal_bending(psi=-1.0)), units=0.6,
         why="the expressions give 7.810 and 23.88 for the printed 7.81 and 23.9"),
    Case(SECTION, "the same at ψ = −3: 5.98 (1 − ψ)²", "EN 1993-1-5 Table 4.1 (from memory), worked by hand", "computed", "95.68", "1",
         lambda: effective_en.k_internal_tension(psi=-3.0)),
    Case(SECTION, "outstand, free edge compressed, ψ = 1, 0, −1", "EN 1993-1-5 Table 4.2", "from memory",
         "0.43 0.57 0.85", "1", lambda: tuple(effective_en.k_outstand_free(psi=p) for p in (1.0, 0.0, -1.0))),
    Case(SECTION, "outstand, held edge compressed, ψ = 1, 0, −1", "EN 1993-1-5 Table 4.2", "from memory",
         "0.43 1.70 23.8", "1",
         lambda: (effective_en.k_outstand_held(psi=1.0), effective_en.k_outstand_held(psi=0.0),
                  effective_en.k_outstand_held_bending(psi=-1.0)), units=0.6, why="0.578/1.34 is 0.4313"),
    Case(SECTION, "limit of full effectiveness, internal plate in compression", "EN 1993-1-5 4.4(2)", "from memory",
         "0.673", "1", lambda: effective_en.limit_internal(psi=1.0)),
    Case(SECTION, "SX022a, edge stiffener: χ_d, b_e2", "Access Steel SX022a-EN-EU", "from memory", "0.737 35.9", "1, mm",
         sx022a_flange),
    Case(SECTION, "SX022a, effective section: A, z_c, z_t, I, W_c, W_t", "Access Steel SX022a-EN-EU", "from memory",
         "689.2 102.3 95.7 4140000 40460 43260", "mm², mm, mm⁴, mm³", sx022a, relative=1.2e-4,
         why="the last three are printed to four digits"),
    Case(SECTION, "the same: spring stiffness, second moment and area of the edge stiffener",
         "Access Steel SX022a-EN-EU, reprinted", "second-hand", "0.439 3663 103.3", "N/mm², mm⁴, mm²", sx022a_spring),
    Case(SECTION, "the same: effective area and second moment", "Access Steel SX022a-EN-EU, reprinted", "second-hand",
         "689.2 4.14e6", "mm², mm⁴", lambda: (sx022a()[0], sx022a()[3]), units=0.6, why="689.15 is printed 689.2"),
    Case("section", "track 550T125-54: S_x", "AISI Design Manual 2017, Ex. II-4B", "second-hand", "0.668", "in³",
         track_modulus),
    Case("section", "channel 800S200-54: S_f, M_y at 50 ksi", "AISI Design Manual 2017, Ex. II-5", "second-hand",
         "1.64 82.0", "in³, kip·in", stud_moment, units=2.0, why="the print multiplies the rounded 1.64"),
    Case(SECTION, "362S162-54: A_g, A_e at 16.3 ksi, P_n", "AISI Design Manual 2017, Ex. III-3", "second-hand",
         "0.422 0.414 6.75", "in², kip", stud_in_compression, units=1.0,
         why="the print multiplies the rounded area; it has a Z of the same flats"),
    Case(SECTION, "classic hat, first pass: w/t, λ, ρ", "AISI handbook hat (Yu)", "from memory", "137.29 2.973 0.311", "1",
         hat_first_pass, units=0.55, why="0.3115 is printed 0.311"),
    Case(SECTION, "classic hat, end of the iteration: f, b, y_cg", "AISI handbook hat (Yu)", "from memory",
         "40.7 4.93 4.49", "ksi, in", hat_end),
    Case(SECTION, "classic hat: I_x, S_e, M_n, ψ and k of the web", "independent script", "computed",
         "35.65 6.467 323.4 1.245 31.1", "in⁴, in³, kip·in, 1", hat_strength, units=1.5,
         why="the script drops what a line section drops in other places"),
    Case(SECTION, "62 mm of skin between weld lines, t 1, f 235: λ, ρ, width", "independent script", "computed",
         "1.110 0.7225 44.8", "1, mm", skin, units=1.2, why="worked with 1.052/√k for the rounded π²"),
    Case(COLUMN, "HE 300 B, 8.00 and 5.60 m: N_cr,y, N_cr,z, λ̄_y, λ̄_z",
         "Steel Buildings in Europe, multi-storey part 4, example A.5", "read", "8151.2 5657.4 0.655 0.787", "kN, 1",
         he_300_b, units=0.6, why="0.6554 and 0.7867 are printed 0.655 and 0.787"),
    Case(COLUMN, "zed at KL/r = 300/3.07, F_y 55: F_cre, λ_c, F_n", "AISI Design Manual 2017, Ex. III-7B", "second-hand",
         "30.5 1.34 25.9", "ksi, 1", zed_column),
    Case(COLUMN, "λ_c of 1.80 and 1.64 at 50 ksi: F_n", "AISI Design Manual 2017, Ex. III-5B, III-3", "second-hand",
         "13.5 16.3", "ksi",
         lambda: tuple(float(c.AISI_ELASTIC_STRESS(F_y=50.0, lamda_c=x)) for x in (1.80, 1.64))),
    Case(COLUMN, "track 600T200-68 about its weak axis, F_cre 47.4, F_y 33: S_y, F_n, M_ne",
         "AISI Design Manual 2017, Ex. II-6B", "second-hand", "0.161 29.6 4.77", "in³, ksi, kip·in", track_sideways,
         units=1.0, why="the print multiplies the rounded values"),
    Case(COLUMN, "W200 × 46 of 5 m: both ends pinned, one fixed, both fixed, cantilever",
         "Lecture notes on columns (after Timoshenko and Gere)", "second-hand", "1216 2482 4864 304", "kN",
         lambda: w_200_by_46(1.0, 0.7, 0.5, 2.0), units=0.6, why="2481.5 is printed 2482"),
    Case(COLUMN, "the same at 400 kN with e = 10 mm: greatest stress, secant formula",
         "Lecture notes on columns (after Timoshenko and Gere)", "second-hand", "109.7", "MPa", secant, units=0.6,
         why="109.75 is printed 109.7"),
    Case(COLUMN, "60 mm round bar, L/r = 80, f_y 350: Johnson's parabola",
         "Lecture notes on columns (after Timoshenko and Gere)", "second-hand", "250.7", "MPa",
         lambda: float(c.JOHNSON_PARABOLA(F_e=float(c.ELASTIC_BUCKLING_STRESS(E=200000.0, K=1.0, L=80.0, r=1.0)),
                                          f_y=350.0))),
    Case(COLUMN, "HE 300 B about y: Φ, χ", "Steel Buildings in Europe, multi-storey part 4, example A.5", "read",
         "0.792 0.808", "1", he_reduction),
    Case(COLUMN, "HE 300 B about y: N_b", "independent script", "computed", "2830", "kN", he_resistance),
    *(Case(COLUMN, f"curve {name} at λ̄ = {', '.join(f'{x:g}' for x in at)}", "ECCS tables of the buckling curves",
           "from memory", printed, "1", lambda n=name, x=at: curve(n, *x)) for name, (at, printed) in CURVES.items()),
    Case(COLUMN, "φF_cr of 50 ksi steel at KL/r = 50, 100, 120, 150, 200", "AISC Manual Table 4-22", "from memory",
         "37.5 21.7 15.7 10.0 5.65", "ksi", lambda: critical_stress(50.0, 100.0, 120.0, 150.0, 200.0), units=0.6,
         why="5.646 is printed 5.65 and 10.04 is printed 10.0"),
    *(Case(COLUMN, f"tube 38 × 2, {L:g} mm: N_cr, λ̄, N_b curves a, b, c, AISI P_n", "independent script", "computed",
           printed, "kN, 1", lambda x=L: tube(x)) for L, printed in (
        (1000.0, "76.182 0.8353 41.191 37.338 34.020 39.296"), (1500.0, "33.859 1.2530 26.446 23.932 21.755 26.936"),
        (2000.0, "19.046 1.6706 16.417 15.224 14.094 16.146"))),
    Case(COLUMN, "sheet between spots, t 1, pitch 40, C 3.5: column form", "independent script", "computed", "377.8",
         "MPa", lambda: c.INTER_FASTENER_COLUMN(C=3.5, E=210000.0, t=1.0, p=40.0)),
    Case(WEB, "crippling of a hat web, t 1.2, R 2, N 50: four load cases", "independent script", "computed",
         "5188 9246 4262 7806", "N", crippling),
]  # fmt: skip
