"""Bolts: strengths, bearing, slip, tension beside shear."""

from __future__ import annotations

from jointcalc.formula import bolt_strength, bolts_aisc, bolts_aisi, bolts_en1993, joint_flow
from jointcalc.tables import load

from ..case import Case  # noqa: TID252  (a package under pytest and under -m alike)

IN, KIP, KSI, LBF = 25.4, 4448.2216, 6.894757, 4.4482216
KIND = "bolt"
ISO = "ISO 898-1, printed loads"
P_TABLES = "Published tables of EC3 bolt resistances (γ_M2 1.25)"
BRIDGE = "Published bridge example: M24 10.9, d_0 26, t 15, f_u 510"
CLASSES = ("8.8", "10.9", "12.9")
ULTIMATE = {
    "M6": "16.1 20.9 24.5",
    "M8": "29.2 38.1 44.6",
    "M10": "46.4 60.3 70.8",
    "M12": "67.4 87.7 103",
    "M16": "125 163 192",
}
PROOF = {"M6": "11.6 16.7 19.5", "M8": "21.2 30.4 35.5", "M10": "33.7 48.1 56.3", "M12": "48.9 70.0 81.8"}
G = 1.25


def area(size: str) -> float:
    return load("bolt_metric").find(size=size).need("stress_area")


def grade(name: str, column: str) -> float:
    return next(r for r in load("bolt_classes_iso898").rows if r["class"] == name).need(column)


def ultimate(size: str, printed: str) -> Case:
    return Case(
        KIND, f"{size}: ultimate load of 8.8, 10.9, 12.9", ISO, "read", printed, "kN",
        lambda: tuple(
            float(bolt_strength.ULTIMATE_LOAD(R_m=grade(c, "tensile_min"), A_s=area(size))) / 1e3 for c in CLASSES
        ), units=1.0, why="the standard cuts the last digit",
    )  # fmt: skip


def proof(size: str, printed: str) -> Case:
    return Case(
        KIND, f"{size}: proof load of 8.8, 10.9, 12.9", ISO, "read", printed, "kN",
        lambda: tuple(
            float(bolt_strength.PROOF_LOAD(S_p=grade(c, "proof_stress"), A_s=area(size))) / 1e3 for c in CLASSES
        ), units=1.0, why="the standard cuts the last digit",
    )  # fmt: skip


def tension(k_2: float, f_ub: float, *sizes: str) -> tuple[float, ...]:
    return tuple(float(bolts_en1993.BOLT_TENSION(k_2=k_2, f_ub=f_ub, A_s=area(s))) / G / 1e3 for s in sizes)


def shear(alpha_v: float, f_ub: float, *sizes: str) -> tuple[float, ...]:
    return tuple(float(bolts_en1993.BOLT_SHEAR(alpha_v=alpha_v, f_ub=f_ub, A=area(s))) / G / 1e3 for s in sizes)


def clearance(alpha_v: float, f_ub: float) -> float:
    return float(bolts_en1993.CLEARANCE_REDUCED(F_v_Rd=shear(alpha_v, f_ub, "M12")[0]))


def bearing(d: float, d_0: float, e_1: float, e_2: float, p_1: float, p_2: float, t: float) -> float:
    alpha = min(
        float(bolts_en1993.ALPHA_B_END(e_1=e_1, d_0=d_0, f_ub=800.0, f_u=470.0)),
        float(bolts_en1993.ALPHA_B_INNER(p_1=p_1, d_0=d_0, f_ub=800.0, f_u=470.0)),
    )
    k_1 = bolts_en1993.K_1_EDGE_LINES(e_2=e_2, p_2=p_2, d_0=d_0)
    return float(bolts_en1993.BEARING_PLATE(k_1=k_1, alpha_b=alpha, f_u=470.0, d=d, t=t)) / G / 1e3


def bridge(*, p_1: float = 0.0, e_1: float = 0.0, p_2: float = 0.0, e_2: float = 0.0) -> float:
    steel = {"d_0": 26.0, "f_ub": 1000.0, "f_u": 510.0}
    alpha = bolts_en1993.ALPHA_B_END(e_1=e_1, **steel) if e_1 else bolts_en1993.ALPHA_B_INNER(p_1=p_1, **steel)
    k_1 = bolts_en1993.K_1_EDGE(e_2=e_2, d_0=26.0) if e_2 else bolts_en1993.K_1_INNER(p_2=p_2, d_0=26.0)
    return float(bolts_en1993.BEARING_PLATE(k_1=k_1, alpha_b=alpha, f_u=510.0, d=24.0, t=15.0)) / G / 1e3


def slip(f_ub: float, size: str, gamma: float) -> float:
    F = bolts_en1993.PRELOAD(f_ub=f_ub, A_s=area(size))
    return float(bolts_en1993.SLIP_RESISTANCE(k_s=1.0, n=1.0, mu=0.5, F_p_C=F)) / gamma / 1e3


def nominal(group: str, edition: str, column: str) -> float:
    return load("bolt_nominal_aisc").find(group=group, edition=edition).need(column)


A_34 = 0.75 * IN


def j_3_asd() -> tuple[float, ...]:
    A = bolts_aisc.NOMINAL_AREA(d=A_34)
    F_nt, F_nv = (nominal("A325-N", "2010 and later", c) for c in ("F_nt", "F_nv"))
    f_rv = (1.33 + 4.0) * KIP / A
    left = bolts_aisc.TENSION_BESIDE_SHEAR_ASD(F_nt=F_nt, F_nv=F_nv, f_rv=f_rv, Omega=2.0)
    return float(f_rv / KSI), float(left / KSI), float(bolts_aisc.BOLT_TENSION(F_nt=left, A_b=A) / KIP / 2.0)


def guide_4_1() -> tuple[float, ...]:
    F_nv = nominal("A325-X", "2005", "F_nv")
    r_n = float(bolts_aisc.BOLT_SHEAR(F_nv=F_nv, A_b=bolts_aisc.NOMINAL_AREA(d=A_34))) / KIP
    return r_n, 11 * r_n, bolts_aisc.SAFETY.phi * 11 * r_n, 11 * r_n / bolts_aisc.SAFETY.Omega


def guide_slip() -> tuple[float, ...]:
    one = float(bolts_aisc.SLIP_RESISTANCE(mu=0.35, D_u=1.13, h_f=1.0, T_b=28 * KIP, n_s=1)) / KIP
    return one, 11 * one


def splice_14th() -> tuple[float, ...]:
    """φ R_n in kip of a 3/4 in A325-N bolt in shear and in tension."""
    A = bolts_aisc.NOMINAL_AREA(d=A_34)
    F_nv, F_nt = (nominal("A325-N", "2010 and later", c) for c in ("F_nv", "F_nt"))
    return (bolts_aisc.SAFETY.phi * float(bolts_aisc.BOLT_SHEAR(F_nv=F_nv, A_b=A)) / KIP,
            bolts_aisc.SAFETY.phi * float(bolts_aisc.BOLT_TENSION(F_nt=F_nt, A_b=A)) / KIP)  # fmt: skip


def one_inch_plate(*, s: float = 0.0, e: float = 0.0) -> tuple[float, ...]:
    """φ R_n in kip per inch of plate at 3/4, 7/8 and 1 in bolts in 58, then 65 ksi: bolts `s` apart, or `e` to the end."""
    found = []
    for F_u in (58 * KSI, 65 * KSI):
        for d in (0.75, 0.875, 1.0):
            hole = d + 1 / 16
            l_c = (s - hole if s else e - hole / 2) * IN
            bears = bolts_aisc.BEARING_STRENGTH(d=d * IN, t=IN, F_u=F_u)
            tears = bolts_aisc.TEAR_OUT(l_c=l_c, t=IN, F_u=F_u)
            found.append(bolts_aisc.SAFETY.phi * min(float(bears), float(tears)) / KIP)
    return tuple(found)


def j429(size: str, printed: str) -> Case:
    return Case(
        KIND, f"{size}: tensile load of grade 5 and 8", "SAE J429", "from memory", printed, "lbf",
        lambda: tuple(
            float(bolt_strength.ULTIMATE_LOAD(R_m=s * KSI, A_s=load("bolt_inch").find(size=size).need("stress_area"))) / LBF
            for s in (120, 150)
        ), relative=6e-3, why="the standard prints loads in steps of 50 or 100 lbf",
    )  # fmt: skip


def spacing(V: float, Q: float, I: float, F: float) -> float:
    """Pitch at which two fasteners side by side carry `F` each, from the load on one of them at a pitch of 1 mm."""
    q = joint_flow.SHEAR_FLOW(V=V, Q=Q, I=I)
    return F / float(joint_flow.LOAD_PER_SPOT(q_line=q / 2, p=1.0))


CASES: list[Case] = [
    *(ultimate(*row) for row in ULTIMATE.items()),
    *(proof(*row) for row in PROOF.items()),
    j429("1/4-20", "3800 4750"),
    j429("3/8-16", "9300 11600"),
    j429("1/2-13", "17000 21300"),
    Case(KIND, "7/16-20 Grade 5: area, load", "SAE J429 strength, worked by hand", "computed", "76.6 63.4", "mm², kN",
         lambda: (load("bolt_inch").find(size="7/16-20").need("stress_area"),
                  float(bolt_strength.ULTIMATE_LOAD(
                      R_m=827.0, A_s=load("bolt_inch").find(size="7/16-20").need("stress_area"))) / 1e3), units=0.7, why="worked with an area rounded to 76.6 mm², the table's is 0.1187 in²"),
    Case(KIND, "tension, 4.6: M12, M16, M20", P_TABLES, "read", "24.3 45.2 70.6", "kN",
         lambda: tension(0.9, 400.0, "M12", "M16", "M20")),
    Case(KIND, "tension, 10.9 countersunk: M12, M16, M20", P_TABLES, "read", "42.5 79.1 123", "kN",
         lambda: tension(0.63, 1000.0, "M12", "M16", "M20")),
    Case(KIND, "shear, 4.6: M12, M16, M20", P_TABLES, "read", "16.2 30.1 47.0", "kN",
         lambda: shear(0.6, 400.0, "M12", "M16", "M20")),
    Case(KIND, "shear, 8.8: M16, M20", P_TABLES, "read", "60.3 94.1", "kN", lambda: shear(0.6, 800.0, "M16", "M20")),
    Case(KIND, "shear, 10.9: M16, M20", P_TABLES, "read", "62.8 98.0", "kN", lambda: shear(0.5, 1000.0, "M16", "M20")),
    Case(KIND, "shear of M12 in 2 mm clearance: 8.8, 10.9", P_TABLES, "read", "27.5 28.7", "kN",
         lambda: (clearance(0.6, 800.0), clearance(0.5, 1000.0))),
    Case(KIND, "bearing, S355, M12 in 5 mm", P_TABLES, "read", "30.3", "kN", lambda: bearing(12, 14, 25, 20, 35, 40, 5)),
    Case(KIND, "bearing, S355, M16 in 5 mm", P_TABLES, "read", "42.7", "kN", lambda: bearing(16, 18, 35, 25, 50, 50, 5)),
    Case(KIND, "bearing, S355, M20 in 10 mm", P_TABLES, "read", "96.5", "kN",
         lambda: bearing(20, 22, 40, 30, 60, 60, 10)),
    Case(KIND, "slip, 8.8 M20, μ 0.5, γ_M3 1.1", P_TABLES, "read", "62.4", "kN", lambda: slip(800.0, "M20", 1.1)),
    Case(KIND, "bearing, inner bolts: p_2 68.24; edge e_2 33", BRIDGE, "read", "169.16 158.84", "kN",
         lambda: (bridge(p_1=65, p_2=68.24), bridge(p_1=65, e_2=33)), units=2.0,
         why="the sheet rounds its coefficients to three digits"),
    Case(KIND, "bearing across: inner p 68.24, end e_1 33", BRIDGE, "read", "165.19 111.85", "kN",
         lambda: (bridge(p_1=68.24, p_2=65), bridge(e_1=33, p_2=65)), units=2.0,
         why="the sheet rounds its coefficients to three digits"),
    Case(KIND, "bearing of the gusset: inner, end e_1 80 and 54", BRIDGE, "read", "154.22 264.38 183.04", "kN",
         lambda: (bridge(p_1=65, p_2=65), bridge(e_1=80, p_2=65), bridge(e_1=54, p_2=65)), units=2.0,
         why="the sheet rounds its coefficients to three digits"),
    Case(KIND, "slip of one surface, μ 0.5, γ_M3 1.25", BRIDGE, "read", "98.84", "kN", lambda: slip(1000.0, "M24", 1.25)),
    Case(KIND, "3/4 in A325-N beside shear, ASD: f_rv, F′nt, R_n/Ω", "AISC Design Examples, J.3", "from memory", "12.1 76.7 17.0",
         "ksi, kip", j_3_asd, units=1.0, why="printed 76.7 or 76.8 by the rounding of f_rv"),
    Case(KIND, "eleven 3/4 in A325-X (2005): r_n, R_n, φR_n, R_n/Ω", "A Beginner's Guide to the Steel Construction Manual, Ex. 4.1",
         "read", "26.5 292 219 146", "kip", guide_4_1),
    Case(KIND, "the same: slip of one and of eleven", "A Beginner's Guide to the Steel Construction Manual, Ex. 4.1",
         "read", "11.1 122", "kip", guide_slip),
    Case(KIND, "the same by ASD: slip of eleven over Ω 1.50",
         "A Beginner's Guide to the Steel Construction Manual, Ex. 4.1", "second-hand", "81.2", "kip",
         lambda: guide_slip()[1] / bolts_aisc.SAFETY_SLIP.Omega),
    Case(KIND, "3/4 in A325-N, 14th edition: φ shear, φ tension", "Published hand calculation by AISC 360-10", "second-hand",
         "17.892 29.821", "kip", splice_14th),
    Case(KIND, "bearing per inch of plate, bolts of 3/4, 7/8, 1 in at 3 in: 58 ksi, then 65 ksi",
         "FE reference handbook, table of bearing strength", "second-hand", "78.3 91.3 101 87.7 102 113", "kip/in",
         lambda: one_inch_plate(s=3.0), units=0.6, why="91.35 is printed 91.3 and 87.75 is printed 87.7"),
    Case(KIND, "the same, 1 1/4 in to the end", "FE reference handbook, table of bearing strength", "second-hand",
         "44.0 40.8 37.5 49.4 45.7 42.0", "kip/in", lambda: one_inch_plate(e=1.25)),
    Case(KIND, "the same, 2 in to the end", "FE reference handbook, table of bearing strength", "second-hand",
         "78.3 79.9 76.7 87.7 89.6 85.9", "kip/in", lambda: one_inch_plate(e=2.0), units=0.6,
         why="87.75 is printed 87.7"),
    Case(KIND, "F_nt, F_nv threads in and out of 120 ksi bolts from the row of threaded parts",
         "AISC 360-16 Table J3.2", "from memory", "90 54 68", "ksi",
         lambda: (bolts_aisc.TENSION_STRESS_THREADED(F_ub=120.0), bolts_aisc.SHEAR_STRESS_THREADS_IN(F_ub=120.0),
                  bolts_aisc.SHEAR_STRESS_THREADS_OUT(F_ub=120.0))),
    Case(KIND, "bolts along a built-up beam: V 300 kN, two rows of 30 kN", "Hibbeler, Mechanics of Materials, solution",
         "read", "96.1", "mm", lambda: spacing(300e3, 0.64e6, 0.3075e9, 30e3)),
    Case(KIND, "nails along a built-up beam: V 20 kN, two planes of 8 kN", "Hibbeler, Mechanics of Materials, solution",
         "read", "335.56", "mm", lambda: spacing(20e3, 1.5e6, 0.62917e9, 8e3)),
    Case(KIND, "pull-over, washer 16 mm, t 1.5, f_u 360: AISI, EN screw, EN punching (both over γ_M2)",
         "AISI S100 J4, EN 1993-1-3 Table 8.2, EN 1993-1-8 Table 3.4, by hand", "computed", "12.96 6.91 13.03", "kN",
         lambda: (bolts_aisi.PULL_OVER_STRENGTH(t_1=1.5, d_w=16.0, F_u1=360.0) / 1e3,
                  bolts_en1993.SCREW_PULL_THROUGH(d_w=16.0, t=1.5, f_u=360.0) / G / 1e3,
                  bolts_en1993.PUNCHING(d_m=16.0, t_p=1.5, f_u=360.0) / G / 1e3)),
]  # fmt: skip
