"""Arc welds by EN 1993-1-8 4.5 and EN 1993-1-12: the weld's throat, butt welds; laps by EN 1993-1-3 8.5.2."""

from __future__ import annotations

from math import hypot, sqrt

import numpy as np

from jointcalc.check.common import CHARACTERISTIC, PARTIAL, YIELDS, gamma_M0
from jointcalc.check.fillet_action import NOTHING, FilletAction, bounded, measured, place, worst
from jointcalc.check.fillet_base import LEAST_THROAT, filler_strength_en1999, weak_filler
from jointcalc.check.heat import beside
from jointcalc.errors import InputError
from jointcalc.formula import fillet_en1993 as en
from jointcalc.formula.branch import above, at_most, below, least
from jointcalc.formula.core import Evaluation, Formula, Source
from jointcalc.model.fillet import FilletGroup
from jointcalc.quantity.sentence import mm, mpa, newtons
from jointcalc.result import Check, Looked, Method, Stated, method
from jointcalc.statics.weld_group import WeldGroup
from jointcalc.tables.store import load as load_table

_EN8 = Source(en.EN8, "4.5.3.2, directional method", "second-hand")

EN8_DIRECTIONAL = method(
    "en1993-1-8.directional", "Weld, directional method", _EN8, per="mm", basis=CHARACTERISTIC, factor=PARTIAL,
    covers=("weld",)
)  # fmt: skip
EN8_NORMAL = method(
    "en1993-1-8.normal-stress", "Weld, normal stress", _EN8, per="mm", basis=CHARACTERISTIC,
    factor=PARTIAL, covers=("weld",)
)  # fmt: skip
EN8_SIMPLIFIED = method(
    "en1993-1-8.simplified", "Weld, simplified method", Source(en.EN8, "4.5.3.3, simplified method"), per="mm",
    basis=CHARACTERISTIC, factor=PARTIAL, covers=("weld",)
)  # fmt: skip
EN8_BUTT = method(
    "en1993-1-8.butt", "Butt weld, part yields", Source(en.EN8, "4.7.1(1)"), per="mm",
    basis=CHARACTERISTIC, factor=YIELDS, covers=("weld", "along", "across", "lift")
)  # fmt: skip
EN3_LAP = method(
    "en1993-1-3.lap-weld", "Lap fillets in sheet", Source(en.EN3, "8.5.2"), per="group", basis=CHARACTERISTIC,
    factor=PARTIAL, covers=("weld", "along", "across")
)  # fmt: skip


def _beta_w(action: FilletAction) -> tuple[Looked | Stated | None, str]:
    """Correlation factor by the yield strength of the weaker part, or why there is none."""
    if action.family == "stainless":
        return Stated("beta_w", "1", 1.0, "stainless steel (EN 1993-1-4, 6.3, from memory)", status="from memory"), ""
    if not all(s.has_yield for s in action.welds.sheets):
        return None, "the grade has no yield strength by which β_w is chosen"
    f_y = min(s.f_y for s in action.welds.sheets)
    for row in load_table("beta_w").rows:
        if at_most(f_y, float(row["grade"].removeprefix("S"))):
            source = Source(en.EN8, "Table 4.1", "from memory")
            return Looked(
                "beta_w", "1", row.need("beta_w"), "beta_w", f"{row['grade']}, f_y = {mpa(f_y):.4g}", source
            ), ""
    if at_most(f_y, en.EN12_MOST):
        return Stated("beta_w", "1", 1.0, f"f_y = {mpa(f_y):.4g}, EN 1993-1-12, 2.8", status="from memory"), ""
    return None, f"EN 1993-1-12 ends at S700; this steel has f_y = {mpa(f_y):.4g}"


def throat_strength(action: FilletAction) -> tuple[float | None, Looked | Stated, list[Evaluation | Looked | Stated]]:
    """Strength a throat is counted with whatever its size [MPa], its correlation factor, and where it comes from.

    The lower of weld metal and part; None where no strength of the metal is held.
    """
    m = action.welds
    if action.family == "aluminium":
        looked = filler_strength_en1999(m, m.filler_row["filler"])
        one = Stated("beta_w", "1", 1.0, "aluminium: the strength of the weld metal as it is")
        return (None, one, []) if looked is None else (looked.value, one, [looked])
    beta, _ = _beta_w(action)
    parts = [beside(s) for s in m.sheets]
    weak = min(parts, key=lambda p: p.f_u)
    working: list[Evaluation | Looked | Stated] = [action.filler, *weak.working]
    return (
        min(weak.f_u, action.filler.value),
        beta or Stated("beta_w", "1", 1.0, "no yield strength to choose it by"),
        working,
    )


def by_eurocode(action: FilletAction) -> list[Check]:
    """Weld metal by EN 1993-1-8 or EN 1993-1-12, and the lap by EN 1993-1-3."""
    m = action.welds
    if m.weld == "butt":
        return [_butt_eurocode(action)]
    if m.weld != "fillet":
        reason = (
            "EN 1993-1-8, 4.8 takes the throat of a flare weld from trial welds: measure it and judge it as a fillet"
        )
        return [EN8_DIRECTIONAL.outside(reason, demand=action.elastic.peak, unit="N/mm")]
    return [*_eurocode_weld(action), _lap(action)]


def _butt_eurocode(action: FilletAction) -> Check:
    m = action.welds
    if not all(s.has_yield for s in m.sheets):
        return EN8_BUTT.outside("the grade has no yield strength", unit="N/mm")
    reasons = weak_filler(action)
    if below(m.design_throat, m.thin.t):
        reasons.append(
            f"a throat of {mm(m.design_throat):.3g} in {mm(m.thin.t):.3g} is partial penetration: 4.7.2 has it "
            "judged as "
            "a fillet of that throat"
        )
    left = [(s.t, beside(s)) for s in m.sheets]
    t, weak = min(left, key=lambda p: p[0] * (p[1].f_y or 0.0))
    ends = action.elastic.ends
    shear = np.hypot(ends.axial, ends.lift)
    i, j = worst(np.sqrt(ends.normal**2 + 3 * shear**2))
    demand = en.BUTT_COMPARISON.evaluate(F_perp=float(abs(ends.normal[i, j])), F_par=float(shear[i, j]))
    capacity = en.BUTT_RESISTANCE.evaluate(t=min(t, m.design_throat), f_y=weak.f_y or 0.0)
    partial, metal = gamma_M0(m.sheets)
    return bounded(
        EN8_BUTT, reasons, capacity=float(capacity.value), demand=float(demand.value),
        required=partial * m.load_factor, load_factor=m.load_factor, unit="N/mm",
        trace=[*weak.working, capacity, demand],
        note="; ".join(filter(None, (f"full penetration; {place(action, action.elastic, i, j)}", metal))),
    )  # fmt: skip


def _eurocode_weld(action: FilletAction) -> list[Check]:
    m = action.welds
    both = (EN8_DIRECTIONAL, EN8_NORMAL, EN8_SIMPLIFIED)
    a, t = m.design_throat, m.thin.t
    left = [beside(s) for s in m.sheets]
    weak = min(left, key=lambda p: p.f_u)
    f_u = weak.f_u
    beta, why = _beta_w(action)
    throat: list[Evaluation | Looked | Stated] = [*weak.working]
    leg = m.counted_leg
    throat += [en.THROAT.evaluate(s=leg)] if m.throat is None and leg is not None else [measured(m)]
    if beta is None and not all(s.has_yield for s in m.sheets):
        return [method.outside(why, demand=action.elastic.peak, unit="N/mm", trace=throat) for method in both]
    # a weld that is thinner, shorter or of a weaker filler than the clause begins with is no stronger than one that is
    # just so: it is judged as that one, which bounds it from above
    reasons = en.DIRECTIONAL_STRENGTH.outside(t=t, a=a, f_u=f_u, beta_w=1.0)
    if beta is None:
        reasons.append(why)
        beta = Stated("beta_w", "1", 1.0, "as at S700")
    strong = all(s.has_yield for s in m.sheets) and above(min(s.f_y for s in m.sheets), en.EN8_MOST)
    notes = [] if m.full_size else [f"each weld less {mm(a):.3g} at both ends (not full size there)"]
    if below(action.filler.value, f_u):
        weaker = f"the filler, {mpa(action.filler.value):.4g}, is weaker than the part, {mpa(f_u):.4g}"
        if strong:
            notes.append(f"{weaker}: the filler's strength is counted (EN 1993-1-12, 2.8, from memory)")
        else:
            reasons.append(f"{weaker}; 4.2(2) forbids that")
        f_u = action.filler.value
        throat.append(action.filler)
    a = max(a, LEAST_THROAT) if reasons or below(a, LEAST_THROAT) else a
    group, short = _effective(m, a)
    reasons += short
    if below(f_u * a, 1e-9):
        return [method.outside(reasons, demand=action.elastic.peak, unit="N/mm", trace=throat) for method in both]
    try:
        elastic = group.elastic(m.acting)
    except InputError as error:
        return [method.outside(error.message, unit="N/mm") for method in both]
    ends = elastic.ends
    # the senses of the two shares on the legs are those that stress the throat most
    F_1, F_2, F_par = np.abs(ends.normal), np.abs(ends.lift), np.abs(ends.axial)
    factor = _long_lap(action)
    less = float(factor.value) if factor is not None else 1.0
    if reasons and above(a, m.design_throat):
        throat.append(Stated("a_3", "mm", a, "the least throat that counts, as an upper bound"))
    head: list[Evaluation | Looked | Stated] = [*throat, beta, *([factor] if factor is not None else [])]

    def stresses(i: int, j: int, sense: float) -> tuple[Evaluation, Evaluation, Evaluation]:
        forces = {"F_1": float(F_1[i, j]), "F_2": sense * float(F_2[i, j])}
        return (
            en.SIGMA_PERP.evaluate(**forces, a=a),
            en.TAU_PERP.evaluate(**forces, a=a),
            en.TAU_PAR.evaluate(F_par=float(F_par[i, j]), a=a),
        )

    def judge(method: Method, resistance: Evaluation, size: float, *working: Evaluation | Looked | Stated) -> Check:
        carries = less * float(resistance.value)
        reduced = [] if less == 1.0 else [Stated("F_w_Rd_less", "N/mm", carries, f"the same times {less:.4g}")]
        return bounded(
            method, reasons, capacity=carries, demand=size, load_factor=m.load_factor,
            unit="N/mm", trace=[*head, *working, *reduced], note="; ".join(notes),
        )  # fmt: skip

    checks: list[Check] = []
    sigma = en.directional_stress(
        sigma_perp=en.sigma_perp(F_1=F_1, F_2=-F_2, a=a),
        tau_perp=en.tau_perp(F_1=F_1, F_2=-F_2, a=a),
        tau_par=en.tau_par(F_par=F_par, a=a),
    )
    i, j = worst(sigma)
    s, tp, tl = stresses(i, j, -1.0)
    v = en.DIRECTIONAL_STRESS.evaluate(sigma_perp=float(s.value), tau_perp=float(tp.value), tau_par=float(tl.value))
    size = float(ends.resultant[i, j])
    where = Stated("F_w_Ed", "N/mm", size, f"elastic share, {place(action, elastic, i, j)}")
    resistance = en.DIRECTIONAL_RESISTANCE.evaluate(F_w_Ed=size, f_u=f_u, beta_w=beta.value, sigma_v=float(v.value))
    checks.append(judge(EN8_DIRECTIONAL, resistance, size, where, s, tp, tl, v, resistance))
    normal = en.sigma_perp(F_1=F_1, F_2=F_2, a=a)
    i, j = worst(normal)
    if normal[i, j] > 0:
        s, _, _ = stresses(i, j, 1.0)
        size = float(ends.resultant[i, j])
        where = Stated("F_w_Ed", "N/mm", size, f"elastic share, {place(action, elastic, i, j)}")
        resistance = en.NORMAL_RESISTANCE.evaluate(F_w_Ed=size, f_u=f_u, sigma_perp=float(s.value))
        checks.append(judge(EN8_NORMAL, resistance, size, where, s, resistance))
    simple = en.SIMPLIFIED_RESISTANCE.evaluate(f_u=f_u, beta_w=beta.value, a=a)
    i, j = worst(ends.resultant)
    where = Stated("F_w_Ed", "N/mm", elastic.peak, f"elastic share, {place(action, elastic, i, j)}")
    checks.append(judge(EN8_SIMPLIFIED, simple, elastic.peak, simple, where))
    return checks


def _effective(m: FilletGroup, a: float) -> tuple[WeldGroup, list[str]]:
    """The group with its effective lengths, and why welds carry nothing by EN 1993-1-8, 4.5.1.

    Those too short to count are drawn out about their middle to the least length that does: an upper bound.
    """
    group = m.group
    lengths = group.lengths if m.full_size else np.asarray(en.effective_length(L=group.lengths, a=a))
    least = float(en.least_effective_length(a=a))
    short = below(lengths, least)
    reasons = []
    if np.any(short):
        reasons.append(
            f"{int(short.sum())} of {len(lengths)} welds carry no load: effective length "
            f"{mm(float(lengths.min())):.4g}, "
            f"at least {mm(least):.4g} ({mm(30)} and 6 throats)"
        )
    elif m.full_size:
        return WeldGroup.of(group.lines, throat=a), []
    change = (np.where(short, least, lengths) - group.lengths)[:, None] / 2 * group.axes
    return WeldGroup.of(group.lines + np.concatenate((-change, change), axis=1), throat=a), reasons


def _long_lap(action: FilletAction) -> Evaluation | None:
    """Reduction of a lap longer than 150 throats in the direction of the force; None when there is none."""
    m = action.welds
    size = hypot(m.acting.F_x, m.acting.F_y)
    if m.joint != "lap" or size == 0:
        return None
    along = np.array([m.acting.F_x, m.acting.F_y]) / size
    reach = m.group.lines.reshape(-1, 2) @ along
    L_j = float(np.ptp(reach))
    if not above(L_j, en.LONG_LAP * m.design_throat):
        return None
    return en.LONG_LAP_FACTOR.evaluate(L_j=L_j, a=m.design_throat)


def _lap(action: FilletAction) -> Check:
    """Lap fillets in sheet: end and side fillets of a strip under a force through the middle of the group."""
    m = action.welds
    size = hypot(m.acting.F_x, m.acting.F_y)
    demand = sqrt(m.acting.F_x**2 + m.acting.F_y**2 + m.acting.F_z**2)
    reasons: list[str] = []
    if m.joint != "lap":
        reasons.append("written for laps; this is a tee")
    if action.family != "steel":
        reasons.append(f"written for carbon steel; this is {action.family}")
    if m.stitch is not None:
        reasons.append("written for continuous fillets")
    if size == 0:
        reasons.append("written for a force in the plane of the sheet")
    if reasons:
        return EN3_LAP.outside(reasons, demand=demand)
    centre = m.group.sections()
    here = m.acting.about(centre.x, centre.y)
    reach = sqrt(centre.J / centre.A)
    off = max(abs(here.M_x), abs(here.M_y), abs(here.M_z))
    if abs(m.acting.F_z) > NOTHING * size or off > 0.01 * size * reach:
        # what it holds of a force through its middle is more than of one beside it
        reasons.append("written for a force in the plane of the sheet through the middle of the welds")
    along = np.array([m.acting.F_x, m.acting.F_y]) / size
    cosine = np.abs(m.group.axes @ along)
    sides, ends = cosine > np.cos(np.radians(1.0)), cosine < np.sin(np.radians(1.0))
    if not np.all(sides | ends):
        return EN3_LAP.outside("written for fillets along and across the force; one is oblique", demand=demand)
    if sides.sum() == 1:
        return EN3_LAP.outside("written for a pair of side fillets; there is one", demand=demand)
    t, left = min(((s.t, beside(s)) for s in m.sheets), key=lambda p: p[0] * p[1].f_u)
    a = m.design_throat
    over = m.group.lines.reshape(-1, 2) @ np.array([-along[1], along[0]])
    if sides.any() and np.ptp(over.reshape(-1, 2)[sides]) < NOTHING * reach:
        return EN3_LAP.outside("written for a pair of side fillets; these lie in one line", demand=demand)
    b = m.width if m.width is not None else float(np.ptp(over))
    how = "given" if m.width is not None else "reach of the welds across the force"
    trace: list[Evaluation | Looked | Stated] = [*left.working, Stated("b", "mm", b, how), measured(m)]
    total = 0.0
    thick: list[str] = []
    for i, length in enumerate(m.group.lengths.tolist()):
        values = {"t": t, "b": b, "f_u": left.f_u, "a": max(a, t)}
        formula: Formula
        if sides[i]:
            formula, _ = en.side_lap(L_w_s=length, b=b)
            values["L_w_s"] = length
        else:
            formula = en.END_LAP
            values["L_w_e"] = length
        # shorter ones carry nothing, so they are counted as just so long where the rest is bounded from above
        low = "L_w_s" if "L_w_s" in values else "L_w_e"
        edge = formula.outside(**values)
        shortest = least(formula, f"{low} / t") * t
        if below(values[low], shortest) and at_most(shortest, b):
            values[low] = shortest
            thick += formula.outside(**values)
        elif edge:
            thick += edge
        reasons += [f"line {i + 1}: {reason}" for reason in edge]
        part = formula.evaluate(**values)
        trace.append(part)
        total += float(part.value)
    note = "resistances of end and side fillets added"
    carried = total
    if below(a, t):
        # 8.5.1: otherwise it must be shown that the sheet governs
        beta, why = _beta_w(action)
        if beta is None:
            reasons.append(why)
        else:
            weld = en.SIMPLIFIED_RESISTANCE.evaluate(f_u=min(left.f_u, action.filler.value), beta_w=beta.value, a=a)
            carried = float(weld.value) * float(m.group.lengths.sum())
            trace.append(weld)
            if carried < total:
                reasons.append(
                    f"throat {mm(a):.3g} is less than the sheet, {mm(t):.3g}, and the weld ({newtons(carried):.4g} "
                    "by the "
                    f"simplified method) is weaker than the sheet beside it ({newtons(total):.4g}): the sheet must "
                    "govern"
                )
            note += "; throat below the sheet, but the weld is the stronger by the simplified method"
    if thick:
        return EN3_LAP.outside(list(dict.fromkeys(reasons)), demand=demand, trace=trace)
    counted = min(total, carried) if reasons else total
    words = "the lines' resistances added" if counted == total else "the weld's own strength times the lines' length"
    trace.append(Stated("F_w_Rd", "N", counted, words))
    if reasons:
        return EN3_LAP.at_most(
            list(dict.fromkeys(reasons)), capacity=counted, demand=size,
            load_factor=m.load_factor, trace=trace,
        )  # fmt: skip
    return EN3_LAP.judge(capacity=total, demand=demand, load_factor=m.load_factor, trace=trace, note=note)
