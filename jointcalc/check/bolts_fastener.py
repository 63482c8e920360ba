"""The fastener itself: bolts in shear and tension by EN 1993-1-8 and AISC 360, blind rivets and rivet nuts by their
makers' or standards' values.

Shear is counted in one plane, and whole, unless the middle one of three sheets is pulled against both others; blind
rivets and rivet nuts never share it.  The pull on a bolt is its elastic share and the prying of a bracket's leg.
"""

from __future__ import annotations

from math import hypot
from typing import Any

import numpy as np

from jointcalc.check.bolts_action import BoltsAction
from jointcalc.check.common import CHARACTERISTIC, INFORMATION, NOMINAL, OWN, PARTIAL, Steps
from jointcalc.formula import bolt_holes, bolt_strength, bolts_aisc, bolts_aisi, bolts_en1993
from jointcalc.formula.branch import above, at_most, below, most
from jointcalc.formula.core import Evaluation, Source
from jointcalc.formula.safety import GAMMA_M2
from jointcalc.model.fastener import Fastener
from jointcalc.quantity.sentence import mm
from jointcalc.quantity.show import percent
from jointcalc.result import Check, Looked, Method, Stated, method
from jointcalc.result.factor import fixed, omega
from jointcalc.statics.group_common import Array, Load

EN_SHEAR = method(
    "en1993-1-8.bolt-shear",
    "Bolt, shear (EN)",
    bolts_en1993.SHEAR,
    per="fastener",
    basis=CHARACTERISTIC,
    factor=PARTIAL,
    covers=("shear",),
)
EN_TENSION = method(
    "en1993-1-8.bolt-tension",
    "Bolt, tension (EN)",
    bolts_en1993.TENSION,
    per="fastener",
    basis=CHARACTERISTIC,
    factor=PARTIAL,
    covers=("tension",),
)
EN_BOTH = method(
    "en1993-1-8.bolt-interaction",
    "Bolt, shear and tension (EN)",
    bolts_en1993.MEMORY,
    per="fastener",
    basis="sum of utilisations",
    factor=fixed(1.0, "{:g} (γ_M2 and γ_F are in the sum)"),
)
AISC_SHEAR = method(
    "aisc360.bolt-shear", "Bolt, shear (AISC)", bolts_aisc.STRESS, per="fastener", basis=NOMINAL,
    factor=omega(bolts_aisc.SAFETY),
    covers=("shear",),
)  # fmt: skip
AISC_TENSION = method(
    "aisc360.bolt-tension",
    "Bolt, tension (AISC)",
    bolts_aisc.COMBINED,
    per="fastener",
    basis=NOMINAL,
    factor=omega(bolts_aisc.SAFETY),
    covers=("tension",),
)
CENTRE = Source("AISC Steel Construction Manual", "part 7", "from memory", "confirmed by its printed coefficients")
AISC_CENTRE = method(
    "aisc-manual.instantaneous-centre",
    "Bolt group, centre of rotation",
    CENTRE,
    per="group",
    basis=NOMINAL,
    factor=omega(bolts_aisc.SAFETY),
)
ELLIPSE = method(
    "kulak.shear-tension",
    "Bolt, ellipse",
    bolt_strength.ELLIPSE,
    per="fastener",
    bound="information",
    basis="square sum of nominal utilisations",
    factor=INFORMATION,
)
ULTIMATE = method(
    "product.ultimate-load",
    "Least ultimate load of the bolt",
    bolt_strength.LOADS,
    per="fastener",
    bound="information",
    basis="product minimum",
    factor=INFORMATION,
)
PROOF = method(
    "product.proof-load",
    "Proof load of the bolt",
    bolt_strength.LOADS,
    per="fastener",
    bound="information",
    basis="product proof load",
    factor=INFORMATION,
)
EN_SLIP = method(
    "en1993-1-8.slip", "Slip in loose holes, were the bolt preloaded (EN)", bolts_en1993.SLIP, per="fastener",
    basis=CHARACTERISTIC, factor=INFORMATION,
)  # fmt: skip
AISC_SLIP = method(
    "aisc360.slip", "Slip in loose holes, were the bolt preloaded (AISC)", bolts_aisc.SLIP, per="fastener",
    basis=NOMINAL, factor=INFORMATION,
)  # fmt: skip
RIVET = Source("ISO 15977, ISO 15979", "minimum shear and tensile loads", "from memory")
RIVET_SHEAR = method(
    "iso-rivet.shear", "Rivet, shear", RIVET, per="fastener", basis="product minimum", factor=OWN, covers=("shear",)
)
RIVET_TENSION = method(
    "iso-rivet.tension", "Rivet, tension", RIVET, per="fastener", basis="product minimum", factor=OWN
)
MAKER = Source("maker's values", "as stated by the builder", "second-hand")
INSERT_TENSION = method(
    "maker.insert-tension", "Rivnut pulled out of the sheet", MAKER, per="fastener", basis="maker's value", factor=OWN,
    covers=("insert-tension",),
)  # fmt: skip
INSERT_SHEAR = method("maker.insert-shear", "Rivnut in shear", MAKER, per="fastener", basis="maker's value", factor=OWN)

RIVET_FIT = 0.3
"""How much wider than the rivet [mm] a hole may be for its body to fill it: common practice."""


def fastener(action: BoltsAction, pull: Array) -> list[Check]:
    """The checks of the fasteners; `pull` (n,) [N] is the pull on each, prying included."""
    if action.item.fastener.kind == "rivet":
        return _rivet(action)
    return [*_bolt(action, pull), *(_insert(action, pull) if action.item.fastener.kind == "rivnut" else [])]


def shear_coefficient(f: Fastener, threads: str) -> tuple[float, str] | None:
    """Shear coefficient of EN 1993-1-8 and why; None where Table 3.4 gives none for the class."""
    return bolts_en1993.shear_coefficient(f.grade, threads=threads, stainless=f.standard == "ISO 3506-1")


def _bolt(action: BoltsAction, pull: Array) -> list[Check]:
    group = action.item
    f = group.fastener
    shear = action.shear * action.plane
    two = "half of it in each of two shear planes"
    if action.plane > 0.5:
        two = f"{action.plane:.3g} of it in the plane beside the stiffer outer sheet"
    in_plane = Stated("V_1", "N", float(shear.max()), two)
    in_plane = in_plane if action.halved else action.how
    checks: list[Check] = []
    threads, counted = action.threads
    coefficient = shear_coefficient(f, threads)
    reasons: list[str] = []
    if not f.f_ub:
        reasons = [f"EN 1993-1-8 covers metric property classes, this is {f.standard}"]
    elif coefficient is None:
        reasons = [f"Table 3.4 gives nothing for class {f.grade}"]
    packed: list[Evaluation] = []
    too_thick: list[str] = []
    if group.packing is not None and above(group.packing, bolt_holes.PACKED_FROM * f.d):
        too_thick = bolt_holes.PACKING.outside(d=f.d, t_p=group.packing)
        # thicker than the rule goes: no more than at its last thickness
        packed = [bolt_holes.PACKING.evaluate(d=f.d, t_p=min(group.packing, most(bolt_holes.PACKING, "t_p / d") * f.d))]
    V_R = T_R = None
    if reasons:
        checks.append(EN_SHEAR.outside(reasons, demand=float(shear.max())))
    else:
        assert coefficient is not None
        A = f.A_s if threads == "in" else f.area
        given = Stated("alpha_v", "1", coefficient[0], coefficient[1])
        strength = bolts_en1993.BOLT_SHEAR.evaluate(alpha_v=coefficient[0], f_ub=f.f_ub, A=A)
        V_R = float(strength.value)
        trace: Steps = [given, strength]
        if f.d in bolts_en1993.CLEARANCE_SIZES and above(group.d_0 - f.d, bolts_en1993.LARGE_CLEARANCE):
            less = bolts_en1993.CLEARANCE_REDUCED.evaluate(F_v_Rd=V_R)
            V_R = float(less.value)
            trace.append(less)
        if packed:
            V_R *= float(packed[0].value)
            trace += [*packed, Stated("F_v", "N", V_R, "the above times β_p")]
        asks: dict[str, Any] = {
            "capacity": V_R, "demand": float(shear.max()), "load_factor": group.load_factor,
            "trace": [*trace, in_plane],
        }  # fmt: skip
        note = f"thread counted in the shear plane: {counted}" if counted else ""
        checks.append(EN_SHEAR.at_most(too_thick, **asks) if too_thick else EN_SHEAR.judge(**asks, note=note))
    pull_max = float(pull.max())
    pulled = action.share("T", pull)
    if pull_max:
        if reasons:
            # the classes of EN 1993-1-8 end at 10.9: of a harder one it says nothing in tension either
            checks.append(EN_TENSION.outside(reasons, demand=pull_max))
        else:
            k_2 = bolts_en1993.K_2_COUNTERSUNK if group.countersunk else bolts_en1993.K_2
            tension = bolts_en1993.BOLT_TENSION.evaluate(k_2=k_2, f_ub=f.f_ub, A_s=f.A_s)
            T_R = float(tension.value)
            checks.append(
                EN_TENSION.judge(capacity=T_R, demand=pull_max, load_factor=group.load_factor, trace=[tension, pulled])
            )
    if V_R and T_R and action.shear_max:
        gamma = group.load_factor
        sums = bolts_en1993.SHEAR_AND_TENSION(
            F_v_Ed=gamma * shear, F_v_Rd=V_R / GAMMA_M2, F_t_Ed=gamma * pull, F_t_Rd=T_R / GAMMA_M2
        )
        worst = int(np.argmax(sums))
        both = bolts_en1993.SHEAR_AND_TENSION.evaluate(
            F_v_Ed=gamma * float(shear[worst]),
            F_v_Rd=V_R / GAMMA_M2,
            F_t_Ed=gamma * float(pull[worst]),
            F_t_Rd=T_R / GAMMA_M2,
        )
        asks = {"capacity": 1.0, "demand": float(both.value), "unit": "1", "trace": [both]}
        checks.append(EN_BOTH.at_most(too_thick, **asks) if too_thick else EN_BOTH.judge(**asks))
    checks += _aisc(action, shear, pull, in_plane)
    if action.shear_max and not pull_max:
        checks += _slip(action, in_plane)
    if pull_max:
        source: Steps = [Stated("R_m", "MPa", f.R_m, f"{f.standard}, {f.grade}"), Stated("A_s", "mm^2", f.A_s, f.label)]
        ultimate = bolt_strength.ULTIMATE_LOAD.evaluate(R_m=f.R_m, A_s=f.A_s)
        checks.append(ULTIMATE.info(capacity=float(ultimate.value), demand=pull_max, trace=[*source, ultimate]))
        if f.S_p:
            proof = bolt_strength.PROOF_LOAD.evaluate(S_p=f.S_p, A_s=f.A_s)
            checks.append(PROOF.info(capacity=float(proof.value), demand=pull_max, trace=[proof]))
    return checks


def _slip(action: BoltsAction, in_plane: Stated) -> list[Check]:
    """Where loose holes let the joint slip: the load at which it does if its bolts are preloaded, for information."""
    group = action.item
    f = group.fastener
    loose = group.slot is not None or bolt_holes.fit_en(f.d, group.d_0) != "normal"
    if f.kind != "bolt" or f.grade not in ("8.8", "10.9") or not loose:
        return []
    note = (
        "only where tightened to the whole preload by a controlled method, faces bare and clean; slips before it bears"
    )
    planes = 2.0 if action.halved else 1.0
    k_s, hole = bolts_en1993.K_S_OVERSIZED, "oversized hole"
    if group.slot is not None:
        k_s, hole = bolts_en1993.K_S_SLOT, "slot, the least"
    mu, bare = bolts_en1993.MU_AS_ROLLED, bolts_aisc.MU_CLEAN
    preload = bolts_en1993.PRELOAD.evaluate(f_ub=f.f_ub, A_s=f.A_s)
    en = bolts_en1993.SLIP_RESISTANCE.evaluate(k_s=k_s, n=planes, mu=mu, F_p_C=float(preload.value))
    faces = Stated("mu", "1", mu, "faces as rolled, class D of EN 1090-2 (from memory)")
    hole_told = Stated("k_s", "1", k_s, f"EN 1993-1-8 Table 3.6, {hole} (from memory)")
    tight = Stated(
        "T_b", "N", bolts_aisc.PRETENSION * f.R_m * f.A_s,
        f"{bolts_aisc.PRETENSION:.2f} of the least tensile strength (Table J3.1)",
    )  # fmt: skip
    clean = Stated("mu", "1", bare, "class A: clean mill scale (0.35 before 2010)")
    aisc = bolts_aisc.SLIP_RESISTANCE.evaluate(mu=bare, D_u=bolts_aisc.D_U, h_f=1.0, T_b=tight.value, n_s=planes)
    demand = float(in_plane.value)
    return [
        EN_SLIP.info(
            capacity=float(en.value), demand=demand, trace=[hole_told, faces, preload, en, in_plane], note=note
        ),
        AISC_SLIP.info(capacity=float(aisc.value), demand=demand, trace=[clean, tight, aisc, in_plane], note=note),
    ]


def _aisc(action: BoltsAction, shear: Array, pull: Array, in_plane: Stated) -> list[Check]:
    group = action.item
    f = group.fastener
    area = bolts_aisc.NOMINAL_AREA.evaluate(d=f.d)
    small = below(f.d, bolts_aisc.SMALL)
    if small:
        in_shear, in_tension = bolts_aisi.SHEAR_STRESS_SMALL, bolts_aisi.TENSION_STRESS_SMALL
    else:
        in_shear = (
            bolts_aisc.SHEAR_STRESS_THREADS_IN if action.threads[0] == "in" else bolts_aisc.SHEAR_STRESS_THREADS_OUT
        )
        in_tension = bolts_aisc.TENSION_STRESS_THREADED
    stress = in_shear.evaluate(F_ub=f.R_m)
    A_b, F_nv = float(area.value), float(stress.value)
    omega = bolts_aisc.SAFETY.Omega
    strength = bolts_aisc.BOLT_SHEAR.evaluate(F_nv=F_nv, A_b=A_b)
    trace: Steps = [area, stress, strength]
    R_n = float(strength.value)
    reasons: list[str] = []
    if group.packing is not None and above(group.packing, bolts_aisc.FILLERS_FROM):
        reasons = bolt_holes.FILLERS.outside(t_p=group.packing)
        less = bolt_holes.FILLERS.evaluate(t_p=group.packing)
        R_n *= float(less.value)
        trace += [less, Stated("R_n", "N", R_n, "the above times k_f")]
    table = "stresses of AISI S100 Table J3.4-1, under 1/2 in" if small else "Table J3.2"
    note = f"as a threaded part of the bolt's own strength ({table})"
    asks: dict[str, Any] = {
        "capacity": R_n, "demand": float(shear.max()), "trace": [*trace, in_plane],
    }  # fmt: skip
    checks = [AISC_SHEAR.at_most(reasons, **asks) if reasons else AISC_SHEAR.judge(**asks, note=note)]
    pull_max = float(pull.max())
    if pull_max and not group.countersunk:
        tensile = in_tension.evaluate(F_ub=f.R_m)
        F_nt = float(tensile.value)
        f_rv = shear / A_b
        left = bolts_aisc.TENSION_BESIDE_SHEAR_ASD(F_nt=F_nt, F_nv=F_nv, f_rv=f_rv, Omega=omega)
        part = bolts_aisc.ALONE
        alone = at_most(f_rv, part * F_nv / omega) | at_most(pull / A_b, part * F_nt / omega)
        left = np.where(alone, F_nt, np.maximum(left, 1e-6 * F_nt))
        worst = int(np.argmax(pull / left))
        beside = bolts_aisc.TENSION_BESIDE_SHEAR_ASD.evaluate(
            F_nt=F_nt, F_nv=F_nv, f_rv=float(f_rv[worst]), Omega=omega
        )
        tension = bolts_aisc.BOLT_TENSION.evaluate(F_nt=float(left[worst]), A_b=A_b)
        used: Steps = [area, tensile, *([] if alone[worst] else [beside]), tension]
        checks.append(
            AISC_TENSION.judge(
                capacity=float(tension.value),
                demand=float(pull[worst]),
                trace=[*used, action.share("T", pull, worst)],
                note=f"shear or tension at most {percent(part)} of what is available: the other counts in full"
                if alone[worst]
                else "",
            )
        )
        if action.shear_max:
            ratios = (pull / (F_nt * A_b)) ** 2 + (shear / R_n) ** 2
            worst = int(np.argmax(ratios))
            ellipse = bolt_strength.ELLIPTICAL.evaluate(
                f_t=float(pull[worst]) / (F_nt * A_b), f_v=float(shear[worst]) / R_n
            )
            checks.append(
                ELLIPSE.info(
                    capacity=1.0,
                    demand=float(ellipse.value),
                    unit="1",
                    trace=[ellipse],
                    note="no factor in it: at 1 the bolt breaks",
                )
            )
    if len(group.holes) > 1:
        checks.append(_centre(action, R_n / action.plane, trace))
    return checks


def _centre(action: BoltsAction, R_n: float, trace: Steps) -> Check:
    load_ = action.load
    size, unit = hypot(load_.F_x, load_.F_y), "N"
    if not size:
        size, unit = abs(load_.M_z), "N*mm"
    if any(abs(v) > 1e-9 * max(size, 1.0) for v in (load_.F_z, load_.M_x, load_.M_y)) or not size:
        return AISC_CENTRE.outside(
            "the method is for a load in the plane of the group; this one also pulls or bends out of it",
            demand=size or None,
            unit=unit,
        )
    flat = Load(F_x=load_.F_x, F_y=load_.F_y, M_z=load_.M_z)
    found = action.group.ultimate(flat, R_n)
    steps: Steps = list(trace)
    if found.coefficient is not None:
        steps.append(Stated("C", "1", found.coefficient, f"{found.rule}, capacity over the strength of one bolt"))
    return AISC_CENTRE.judge(
        capacity=found.factor * size,
        demand=size,
        unit=unit,
        trace=steps,
        note="the bolts alone; the sheet is judged by the elastic shares",
    )


def rivet_fit(action: BoltsAction) -> list[str]:
    """Why a blind rivet does not fill its hole; empty when it does."""
    group = action.item
    if at_most(group.d_0 - group.fastener.d, RIVET_FIT):
        return []
    return [
        f"the hole of {mm(group.d_0):.3g} is more than {mm(RIVET_FIT):g} wider than the rivet: its body cannot fill "
        "it; "
        "drill for the next size"
    ]


def _rivet(action: BoltsAction) -> list[Check]:
    group = action.item
    f = group.fastener

    def looked(symbol: str, value: float, column: str) -> Looked:
        return Looked(symbol, "N", value, "rivet_blind", f"{column} of {f.label}", RIVET)

    def one(method: Method, value: float, column: str, share: Stated) -> Check:
        trace: Steps = [looked("F_v" if column == "shear_min" else "F_t", value, column), share]
        asks: dict[str, Any] = {
            "capacity": value, "demand": share.value, "required": group.handbook_factor, "trace": trace,
        }  # fmt: skip
        loose = rivet_fit(action)
        return method.at_most(loose, **asks) if loose else method.judge(**asks)

    checks = [one(RIVET_SHEAR, f.shear_min, "shear_min", action.how)]
    if action.pull_max:
        checks.append(one(RIVET_TENSION, f.tension_min, "tension_min", action.how_pull))
    return checks


def _insert(action: BoltsAction, pull: Array) -> list[Check]:
    group = action.item
    checks = []
    for rule, value, demand, given in (
        (INSERT_SHEAR, group.insert_shear, action.shear_max, action.how),
        (INSERT_TENSION, group.insert_tension, float(pull.max()), action.share("T", pull)),
    ):
        if value is not None:
            stated = Stated("F", "N", abs(value), "the maker's value for this sheet, as stated")
            asks: dict[str, Any] = {
                "capacity": abs(value), "demand": demand, "required": group.handbook_factor, "trace": [stated, given],
            }  # fmt: skip
            loose = rivet_fit_of_insert(action)
            checks.append(rule.at_most(loose, **asks) if loose and demand else rule.judge(**asks))
        elif demand:
            option = "insert_tension" if rule is INSERT_TENSION else "insert_shear"
            checks.append(rule.outside(f"no standard states it; give the maker's value in '{option}'", demand=demand))
    return checks


def rivet_fit_of_insert(action: BoltsAction) -> list[str]:
    """Why a rivet nut does not grip in its hole; empty when it does."""
    group = action.item
    if at_most(group.d_0 - group.fastener.body, RIVET_FIT):
        return []
    return [
        f"the hole of {mm(group.d_0):.3g} is more than {mm(RIVET_FIT):g} wider than the rivet nut's body: it turns "
        "and pulls out; drill to its size"
    ]
