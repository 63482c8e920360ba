"""Arc welds in thin sheet by AISI S100 J2: along, across, both, throat, flare, butt, and the sheet beside them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np

from jointcalc.check.common import NOMINAL
from jointcalc.check.fillet_action import FilletAction, bounded, measured, place, worst
from jointcalc.check.fillet_base import along_and_across, weak_filler
from jointcalc.check.heat import Beside, beside
from jointcalc.formula import fillet_aisi as aisi
from jointcalc.formula.branch import at_most
from jointcalc.formula.core import Evaluation, Formula, Source
from jointcalc.quantity.sentence import Measure, mm
from jointcalc.result import Check, Looked, Stated, method
from jointcalc.result.factor import omega

_AISI = Source(aisi.AISI, "J2.5", "from memory")
_AISI_FLARE = Source(aisi.AISI, "J2.6", "from memory")
_AISI_GROOVE = Source(aisi.AISI, "J2.1", "from memory")
AISI_LONGITUDINAL = method(
    "aisi-s100.fillet-longitudinal", "Sheet beside weld, along", _AISI, per="weld", basis=NOMINAL,
    factor=omega(
        aisi.OMEGA[aisi.LONGITUDINAL_SHORT.key], aisi.OMEGA[aisi.LONGITUDINAL_LONG.key],
        words=f"Ω = {{}}, or {{}} from L/t = {aisi.LONG_FROM:g}",
    ), covers=("along",)
)  # fmt: skip
AISI_TRANSVERSE = method(
    "aisi-s100.fillet-transverse", "Sheet beside weld, across", _AISI, per="weld", basis=NOMINAL,
    factor=omega(aisi.OMEGA[aisi.TRANSVERSE.key]), covers=("across", "lift")
)  # fmt: skip
AISI_THROAT = method(
    "aisi-s100.weld-metal", "Weld metal on the throat", _AISI, per="weld", basis=NOMINAL,
    factor=omega(aisi.OMEGA[aisi.WELD_METAL.key]),
    covers=("weld",)
)  # fmt: skip
AISI_FLARE_LONGITUDINAL = method(
    "aisi-s100.flare-longitudinal", "Sheet beside flare, along", _AISI_FLARE, per="weld", basis=NOMINAL,
    factor=omega(aisi.OMEGA[aisi.FLARE_LONGITUDINAL_SINGLE.key]), covers=("along",)
)  # fmt: skip
AISI_FLARE_TRANSVERSE = method(
    "aisi-s100.flare-transverse", "Sheet beside flare, across", _AISI_FLARE, per="weld", basis=NOMINAL,
    factor=omega(aisi.OMEGA[aisi.FLARE_TRANSVERSE.key]), covers=("across", "lift")
)  # fmt: skip
AISI_GROOVE_TENSION = method(
    "aisi-s100.groove-tension", "Butt weld, tension across", _AISI_GROOVE, per="weld", basis=NOMINAL,
    factor=omega(aisi.OMEGA[aisi.GROOVE_TENSION.key]), covers=("across", "weld")
)  # fmt: skip
AISI_GROOVE_SHEAR = method(
    "aisi-s100.groove-shear", "Butt weld, shear", _AISI_GROOVE, per="weld", basis=NOMINAL,
    factor=omega(
        aisi.OMEGA[aisi.GROOVE_SHEAR_WELD.key], aisi.OMEGA[aisi.GROOVE_SHEAR_SHEET.key], words="Ω = {} weld, {} sheet"
    ), covers=("along", "lift", "weld")
)  # fmt: skip
AISI_BASE = method(
    "aisi-s100.base-shear", "Sheet under the weld sheared through", Source(aisi.AISI, "J6.1", "second-hand"),
    per="weld", basis=NOMINAL, factor=omega(aisi.OMEGA[aisi.BASE_SHEAR.key]), covers=("pull-out",),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Sheet:
    """One part as AISI sees it: thickness [mm] and what the heat leaves of it."""

    t: float
    left: Beside


def by_aisi(action: FilletAction) -> list[Check]:
    """Every part of the joint by AISI S100: along and across its welds, weld metal, the sheet beside them."""
    m = action.welds
    plan = {
        "fillet": (AISI_LONGITUDINAL, AISI_TRANSVERSE, AISI_THROAT),
        "butt": (AISI_GROOVE_TENSION, AISI_GROOVE_SHEAR),
    }.get(m.weld, (AISI_FLARE_LONGITUDINAL, AISI_FLARE_TRANSVERSE, AISI_THROAT))
    t = m.thin.t
    reasons = []
    if action.family != "steel":
        reasons.append(f"written for carbon steel; this is {action.family}")
    if not aisi.THIN.inside({"t": t}):
        reasons.append(aisi.THIN.reason({"t": t}))
    if reasons:
        return [method.outside(reasons) for method in plan]
    # a part thicker than AISI reaches holds no less than the thickest it does
    parts = [_Sheet(min(s.t, float(aisi.THIN.high or s.t)), beside(s)) for s in m.sheets]
    if m.weld == "butt":
        return _aisi_butt(action)
    along = _aisi_along(action, parts)
    across = _aisi_across(action, parts)
    checks = [along, across]
    if action.lifted:
        checks.append(_aisi_base(action, parts[-1]))
    if along.utilisation and across.utilisation:
        checks.append(along_and_across(action, along, across))
    return [*checks, _aisi_throat(action)]


def _aisi_strength(action: FilletAction, part: _Sheet, length: float) -> tuple[Formula, str, dict[str, float]]:
    m = action.welds
    inputs = {"L": length, "t": part.t, "F_u": part.left.f_u}
    if m.weld == "fillet":
        formula, why = aisi.longitudinal(L=length, t=part.t)
        return _long_if_lower(formula, aisi.LONGITUDINAL_LONG, aisi.LONG_FROM, why, inputs, aisi.OMEGA)
    lip = m.lip if m.lip is not None else 0.0
    formula, why = aisi.flare_longitudinal(t_w=m.design_throat, t=part.t, h=lip, L=length)
    return formula, why, inputs


def _long_if_lower(
    formula: Formula, other: Formula, ratio: float, why: str, inputs: dict[str, float], omega: Mapping[str, float]
) -> tuple[Formula, str, dict[str, float]]:
    """The long rule at its shortest where it allows less than the short one: shortening a weld must not help it."""
    if formula is other:
        return formula, why, inputs
    at_edge = {**inputs, "L": ratio * inputs["t"]}
    if float(other(**at_edge)) / omega[other.key] < float(formula(**inputs)) / omega[formula.key]:
        return other, f"{why}, but no more than a weld of {ratio:g} t, for which the factor is larger", at_edge
    return formula, why, inputs


def _aisi_along(action: FilletAction, parts: Iterable[_Sheet]) -> Check:
    """Sheet tearing along each weld: the weld and the part where it is nearest to its limit."""
    m = action.welds
    method = AISI_LONGITUDINAL if m.weld == "fillet" else AISI_FLARE_LONGITUDINAL
    best: tuple[tuple[float, float], int, _Sheet, Formula, str, dict[str, float]] | None = None
    peaks = action.along.max(axis=1)
    for i, length in enumerate(m.group.lengths.tolist()):
        for part in parts:
            formula, why, inputs = _aisi_strength(action, part, length)
            allowed = float(formula(**inputs)) / aisi.OMEGA[formula.key]
            # where nothing pulls, the part that allows least a length is named, in whatever order they are given
            used = (float(peaks[i]) * length / allowed, length / allowed)
            if best is None or used > best[0]:
                best = (used, i, part, formula, why, inputs)
    assert best is not None
    _, i, part, formula, why, inputs = best
    length = float(m.group.lengths[i])
    reasons = formula.outside(**inputs, t_w=m.design_throat, h=m.lip or 0.0)
    demand = float(peaks[i]) * length
    strength = formula.evaluate(**inputs)
    where = Stated(
        "P",
        "N",
        demand,
        f"{Measure(float(peaks[i]), unit='N/mm'):.4g} along line {m.parents[i] + 1}, on {mm(length):.4g}",
    )
    # the only reason there can be is a throat under the sheet, which is the weaker weld
    return bounded(
        method, reasons, capacity=float(strength.value), demand=demand, required=aisi.OMEGA[formula.key],
        load_factor=m.load_factor, trace=[*part.left.working, strength, where], note=why,
    )  # fmt: skip


def _aisi_across(action: FilletAction, parts: list[_Sheet]) -> Check:
    m = action.welds
    i, j = worst(action.across)
    length = float(m.group.lengths[i])
    demand = float(action.across[i, j]) * length
    where = Stated(
        "P",
        "N",
        demand,
        f"{Measure(float(action.across[i, j]), unit='N/mm'):.4g} across, {place(action, action.elastic, i, j)}",
    )
    a, b = parts[0], parts[-1]
    if m.weld == "fillet":
        method = AISI_TRANSVERSE
        strength = aisi.TRANSVERSE.evaluate(t_1=a.t, F_u1=a.left.f_u, t_2=b.t, F_u2=b.left.f_u, L=length)
        working = [*a.left.working, *(b.left.working if b is not a else [])]
    else:
        method = AISI_FLARE_TRANSVERSE
        weak = min(parts, key=lambda p: p.t * p.left.f_u)
        strength = aisi.FLARE_TRANSVERSE.evaluate(t=weak.t, L=length, F_u=weak.left.f_u)
        working = [*weak.left.working]
        if m.weld == "flare-V" and action.has(action.across):
            # the sheet beside it holds no more than beside a flare-bevel
            return method.at_most(
                "written for flare-bevel welds; none is given for flare-V across", capacity=float(strength.value),
                demand=demand, load_factor=m.load_factor, trace=[*working, strength, where],
            )  # fmt: skip
    return method.judge(
        capacity=float(strength.value), demand=demand, load_factor=m.load_factor, trace=[*working, strength, where]
    )


def _aisi_base(action: FilletAction, part: _Sheet) -> Check:
    """The part under the welds, sheared through its thickness beside them by a pull out of the plane."""
    m = action.welds
    i, j = worst(action.lift)
    length, share = float(m.group.lengths[i]), float(action.lift[i, j])
    strength = aisi.BASE_SHEAR.evaluate(F_u=part.left.f_u, t=part.t, L=length)
    where = Stated(
        "P",
        "N",
        share * length,
        f"{Measure(share, unit='N/mm'):.4g} out of the plane, {place(action, action.elastic, i, j)}",
    )
    return AISI_BASE.judge(
        capacity=float(strength.value), demand=share * length,
        trace=[*part.left.working, strength, where],
    )  # fmt: skip


def _aisi_throat(action: FilletAction) -> Check:
    """Weld metal, in every thickness: AISI asks for it over 2.54 mm, where beads are no larger than the sheet."""
    m = action.welds
    i, j = worst(action.elastic.ends.resultant)
    length = float(m.group.lengths[i])
    demand = action.elastic.peak * length
    t_w = m.design_throat
    trace: list[Evaluation | Looked | Stated] = [action.filler]
    if m.weld == "fillet" and m.throat is None and m.counted_leg is not None:
        throat = aisi.THROAT.evaluate(w_1=m.counted_leg, w_2=m.counted_leg)
        t_w = float(throat.value)
        trace.append(throat)
    else:
        trace.append(measured(m))
    strength = aisi.WELD_METAL.evaluate(t_w=t_w, L=length, F_xx=action.filler.value)
    trace.append(strength)
    trace.append(Stated("P", "N", demand, f"peak share, {place(action, action.elastic, i, j)}, on {mm(length):.4g}"))
    note = ""
    if at_most(m.thin.t, aisi.THROAT_FROM):
        note = (
            f"AISI asks for it over {mm(aisi.THROAT_FROM)} only; judged here too: thicker sheet must not be the weaker"
        )
    return AISI_THROAT.judge(capacity=float(strength.value), demand=demand, trace=trace, note=note)


def _aisi_butt(action: FilletAction) -> list[Check]:
    m = action.welds
    if not all(s.has_yield for s in m.sheets):
        reason = "the grade has no yield strength"
        return [AISI_GROOVE_TENSION.outside(reason), AISI_GROOVE_SHEAR.outside(reason)]
    undermatched = weak_filler(action)
    weak = min((beside(s) for s in m.sheets), key=lambda left: left.f_y or 0.0)
    f_y = weak.f_y or 0.0
    ends, t_e = action.elastic.ends, m.design_throat
    normal, shear = np.abs(ends.normal), np.hypot(ends.axial, ends.lift)
    i, j = worst(normal)
    length = float(m.group.lengths[i])
    demand = float(normal[i, j]) * length
    strength = aisi.GROOVE_TENSION.evaluate(L=length, t_e=t_e, F_y=f_y)
    where = Stated(
        "P",
        "N",
        demand,
        f"{Measure(float(normal[i, j]), unit='N/mm'):.4g} across, {place(action, action.elastic, i, j)}",
    )
    tension = bounded(
        AISI_GROOVE_TENSION, undermatched, capacity=float(strength.value), demand=demand,
        load_factor=m.load_factor, trace=[*weak.working, strength, where],
    )  # fmt: skip
    i, j = worst(shear)
    length = float(m.group.lengths[i])
    demand = float(shear[i, j]) * length
    both = [
        aisi.GROOVE_SHEAR_WELD.evaluate(L=length, t_e=t_e, F_xx=action.filler.value),
        aisi.GROOVE_SHEAR_SHEET.evaluate(L=length, t_e=t_e, F_y=f_y),
    ]
    least = min(both, key=lambda e: float(e.value) / aisi.OMEGA[e.formula.key])
    where = Stated(
        "P",
        "N",
        demand,
        f"{Measure(float(shear[i, j]), unit='N/mm'):.4g} in shear, {place(action, action.elastic, i, j)}",
    )
    return [
        tension,
        bounded(
            AISI_GROOVE_SHEAR, undermatched, capacity=float(least.value), demand=demand,
            required=aisi.OMEGA[least.formula.key], load_factor=m.load_factor,
            trace=[*weak.working, action.filler, *both, where],
        ),
    ]  # fmt: skip
