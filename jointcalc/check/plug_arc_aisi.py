"""Arc spots and arc seams by AISI S100 J2.2 and J2.3: weld metal, sheet, uplift, and both together."""

from __future__ import annotations

from jointcalc.check.common import Steps
from jointcalc.check.heat import beside
from jointcalc.check.plug_base import (
    AISI_BOTH,
    AISI_SEAM_SHEET,
    AISI_SEAM_WELD,
    AISI_SHEET,
    AISI_UPLIFT_SHEET,
    AISI_UPLIFT_WELD,
    AISI_WELD,
    PlugAction,
    carbon_only,
    edge_inputs,
    judged_or_bound,
    known,
    strength,
    uplift_share,
)
from jointcalc.formula import arc_spot_aisi as aisi
from jointcalc.formula.branch import above, at_most, most
from jointcalc.formula.core import Evaluation
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.sentence import joined
from jointcalc.result import Check, Stated

JUST_UNDER = 1 - 1e-6
"""The filler must be stronger than the sheet, however little."""


def aisi_arc(action: PlugAction, average: Evaluation, effective: Evaluation, t: float, support: bool) -> list[Check]:
    """Arc spot or seam by AISI S100: `average` and `effective` diameter, `t` of the sheets above [mm]; uplift too."""
    row = action.row
    assert row.visible is not None
    d_a, d_e = float(average.value), float(effective.value)
    if row.interface is not None:
        d_e = min(d_e, row.interface)
    thin = min(s.t for s in row.sheets[:-1])
    tops = row.sheets[:-1] if support else row.sheets
    F_u = min(strength(s) for s in tops)
    base = {
        "t": t, "t_1": max(thin, aisi.WASHER_BELOW) if row.weld_washer else thin, "d": row.visible, "d_a": d_a,
        "d_e": d_e, "F_u": F_u, "F_xx": row.F_EXX, "E": aisi.E_AISI, "e_min": min(row.edge, row.actual_end),
    }  # fmt: skip
    steel = carbon_only(row)
    before: Steps = [*known(row.sheets), average, effective]
    after: Steps = [action.how]
    checks: list[Check] = []
    if row.seam is not None:
        L = min(row.seam, 3 * row.visible)
        for method, formula in ((AISI_SEAM_WELD, aisi.SEAM_WELD_SHEAR), (AISI_SEAM_SHEET, aisi.SEAM_SHEET_SHEAR)):
            checks.append(
                judged_or_bound(
                    method,
                    formula,
                    {**base, "L": L},
                    demand=action.in_plane,
                    load_factor=row.load_factor,
                    before=before,
                    after=after,
                    reasons=steel,
                )
            )
        if action.uplift:
            reason = "the uplift rule is for round spots, this one is elongated"
            checks += [m.outside(reason, demand=action.uplift) for m in (AISI_UPLIFT_WELD, AISI_UPLIFT_SHEET)]
        return checks
    branch = aisi.sheet_shear(d_a=d_a, t=t, F_u=F_u)
    formula, omega, why = branch.formula, branch.safety.Omega, branch.why
    if not support:
        # a sheet no thicker underneath holds no better than a support: the lower of the two rules
        thin_rule, thin_omega = aisi.SHEET_TO_SHEET_SHEAR, aisi.OMEGA_SHEET_TO_SHEET.Omega
        lower = float(thin_rule(**{n: base[n] for n in thin_rule.parameters})) / thin_omega
        as_support = float(formula(**{n: base[n] for n in formula.parameters})) / omega
        if thin_rule.outside(**base) and edge_inputs(thin_rule, base) is None:
            why = joined("; ", thin_rule.outside(**base))
            over_support = formula.evaluate(**base)
            sheet = (
                AISI_SHEET.outside(steel, demand=action.in_plane)
                if steel
                else AISI_SHEET.at_most(
                    f"sheet to sheet: {why}",
                    capacity=float(over_support.value),
                    demand=action.in_plane,
                    required=omega,
                    trace=[*before, over_support, *after],
                )
            )
        else:
            why = "sheet to sheet: what lies underneath is no thicker"
            if at_most(lower, as_support):
                formula, omega = thin_rule, thin_omega
            else:
                why += ", and the rule for a support gives less"
            sheet = judged_or_bound(
                AISI_SHEET, formula, base, demand=action.in_plane, required=omega,
                load_factor=row.load_factor, before=before, after=after,
                reasons=steel, note=why, weak=thin_rule.outside(**base) if formula is not thin_rule else (),
            )  # fmt: skip
    else:
        sheet = judged_or_bound(
            AISI_SHEET, formula, base, demand=action.in_plane, required=omega,
                load_factor=row.load_factor, before=before, after=after,
            reasons=steel, note=why,
        )  # fmt: skip
    in_plane = [
        judged_or_bound(
            AISI_WELD,
            aisi.WELD_SHEAR,
            base,
            demand=action.in_plane,
            load_factor=row.load_factor,
            before=before,
            after=after,
            reasons=steel,
        ),
        sheet,
    ]
    checks += in_plane
    if not action.uplift:
        return checks
    uplift = _aisi_uplift(action, base, before, steel, tops)
    checks += uplift
    checks += _aisi_together(action, in_plane, uplift, base, tops)
    return checks


def _aisi_uplift(
    action: PlugAction, base: dict[str, float], before: Steps, steel: list[str], tops: tuple[Sheet, ...]
) -> list[Check]:
    row = action.row
    share, why = uplift_share(row)
    place: Steps = [Stated("k", "1", share, why)] if why else []
    omega = (aisi.OMEGA_TENSION_DECK if row.deck else aisi.OMEGA_TENSION_OTHER).Omega
    reasons = list(steel)
    if not all(s.has_yield for s in tops):
        reasons.append("needs a yield strength, and the grade's standard lets none be assumed; give 'yield_strength'")
        F_y = 1.0
    else:
        F_y, hardest = max(((_greatest_yield(s), s) for s in tops), key=lambda pair: pair[0])
        if above(F_y, beside(hardest).f_y or hardest.f_y):
            how = f"greatest yield strength of {hardest.grade}: the rule counts F_u / F_y"
            before = [*before, Stated("F_y", "MPa", F_y, how)]
    # sheet stronger than the rule reaches, or than the filler, holds no less than sheet just within both
    counted = min(base["F_u"], most(aisi.SHEET_TENSION, "F_u"), base["F_xx"] * JUST_UNDER)
    if counted < base["F_u"]:
        stated = Stated("F_u", "MPa", counted, "the strongest sheet of the rule, and just under the filler")
        before, F_y = [*before, stated], F_y * counted / base["F_u"]
        base = {**base, "F_u": counted}
    checks = []
    for method, formula in ((AISI_UPLIFT_WELD, aisi.WELD_TENSION), (AISI_UPLIFT_SHEET, aisi.SHEET_TENSION)):
        inputs = {**base, "F_y": F_y}
        if reasons:
            checks.append(method.outside(reasons, demand=action.uplift))
            continue
        checks.append(
            judged_or_bound(
                method,
                formula,
                inputs,
                demand=action.uplift,
                required=omega,
                load_factor=row.load_factor,
                before=[*before, *place],
                after=[action.how_uplift],
                note=why,
                share=share,
            )
        )
    return checks


def _greatest_yield(sheet: Sheet) -> float:
    """Yield strength [MPa] that a rule has to count by which sheet holds the more, the sooner it yields.

    A least or an assumed value would be on the unsafe side: sheet without a certificate may have its grade's greatest.
    """
    own = beside(sheet).f_y or sheet.f_y
    return own if sheet.yield_strength is not None else max(own, sheet.material.f_y_max or 0.0)


def _aisi_together(
    action: PlugAction, in_plane: list[Check], uplift: list[Check], base: dict[str, float], tops: tuple[Sheet, ...]
) -> list[Check]:

    def available(checks: list[Check]) -> tuple[float, float] | None:
        used = [c for c in checks if c.status in ("ok", "over") and c.capacity and c.demand]
        if len(used) < len(checks):
            return None
        worst = min(used, key=lambda c: (c.capacity.value or 0.0) / (c.required_factor or 1.0))  # type: ignore[union-attr]
        assert worst.capacity is not None
        assert worst.demand is not None
        return float(worst.demand.value or 0.0), float(worst.capacity.value or 0.0) / float(
            worst.required_factor or 1.0
        )

    shear, tension = available(in_plane), available(uplift)
    if not action.in_plane:
        return []
    if shear is None or tension is None:
        return [AISI_BOTH.outside("one of the two loads has no method of its own", unit="1")]
    (V, V_a), (T, T_a) = shear, tension
    inputs = {**base, "F_y": max(s.f_y for s in tops), "V": V, "V_a": V_a, "T": T, "T_a": T_a}
    together = aisi.SHEAR_AND_TENSION.evaluate(**inputs)
    if at_most((T / T_a) ** 1.5, aisi.UPLIFT_ALONE):
        return [
            AISI_BOTH.info(
                capacity=1.0,
                demand=float(together.value),
                unit="1",
                trace=[together],
                note=f"not needed: (T/T_a)^1.5 is at most {aisi.UPLIFT_ALONE:g}",
            )
        ]
    reasons = aisi.SHEAR_AND_TENSION.outside(**inputs)
    if reasons:
        return [AISI_BOTH.outside(reasons, unit="1", trace=[together])]
    return [AISI_BOTH.judge(capacity=1.0, demand=float(together.value), unit="1", trace=[together])]
