"""Arc welds in stainless sheet by SEI/ASCE 8, and yield of the sheet beside any weld."""

from __future__ import annotations

import numpy as np

from jointcalc.check.common import CHARACTERISTIC, NOMINAL, YIELDS, gamma_M0
from jointcalc.check.fillet_action import FilletAction, measured, place, worst
from jointcalc.check.fillet_base import along_and_across, strained
from jointcalc.check.heat import beside
from jointcalc.formula import fillet_asce8 as asce8
from jointcalc.formula import fillet_en1993 as en
from jointcalc.formula.core import Formula, Source
from jointcalc.quantity.sentence import Measure
from jointcalc.result import Check, Stated, method
from jointcalc.result.factor import partial
from jointcalc.statics.group_common import Array

PHI = partial(f"1/{asce8.PHI_SHEET:g}", 1 / asce8.PHI_SHEET)

ASCE_LONGITUDINAL = method(
    "asce-8.fillet-longitudinal", "Stainless beside weld, along", Source(asce8.ASCE8, "5.2.2"), per="weld",
    basis=NOMINAL, factor=PHI, covers=("along",),
)  # fmt: skip
ASCE_TRANSVERSE = method(
    "asce-8.fillet-transverse", "Stainless beside weld, across", Source(asce8.ASCE8, "5.2.2"), per="weld",
    basis=NOMINAL, factor=PHI, covers=("across", "lift"),
)  # fmt: skip
ASCE_WELD = method(
    "asce-8.weld-metal", "Stainless weld metal on the throat", Source(asce8.ASCE8, "5.2.2"), per="weld",
    basis=NOMINAL, factor=PHI, covers=("weld",),
)  # fmt: skip
EN1_BESIDE = method(
    "en1993-1-1.beside-weld", "Part beside the weld yields", Source("EN 1993-1-1:2005", "6.2.1(5)"), per="mm",
    basis=CHARACTERISTIC, factor=YIELDS, covers=("along", "across", "lift", "pull-out"),
)  # fmt: skip


def by_asce8(action: FilletAction) -> list[Check]:
    """SEI/ASCE 8 for fillets in sheet; the part beside the weld by its yield, in every thickness."""
    m = action.welds
    checks = [_beside_yield(action)]
    plan = (ASCE_LONGITUDINAL, ASCE_TRANSVERSE, ASCE_WELD)
    t = m.thin.t
    if m.weld != "fillet":
        return [*checks, *(method.outside("held here for fillets only") for method in plan)]
    if not asce8.THIN.inside({"t": t}):
        return [*checks, *(method.outside(asce8.THIN.reason({"t": t})) for method in plan)]
    # annealed: what the grade's standard guarantees, whatever a certificate of rolled strip says
    parts = [(s.t, min(s.f_u, s.material.f_u or s.f_u)) for s in m.sheets]
    omega = m.load_factor / asce8.PHI_SHEET
    best: tuple[float, int, Formula, str, dict[str, float]] | None = None
    peaks = action.along.max(axis=1)
    for i, length in enumerate(m.group.lengths.tolist()):
        for thick, f_ua in parts:
            formula, why = asce8.longitudinal(L=length, t=thick)
            inputs = {"L": length, "t": thick, "F_ua": f_ua}
            used = float(peaks[i]) * length / float(formula(**inputs))
            if best is None or used > best[0]:
                best = (used, i, formula, why, inputs)
    assert best is not None
    _, i, formula, why, inputs = best
    strength = formula.evaluate(**inputs)
    demand = float(peaks[i]) * inputs["L"]
    where = Stated("P", "N", demand, f"{Measure(float(peaks[i]), unit='N/mm'):.4g} along line {m.parents[i] + 1}")
    along = ASCE_LONGITUDINAL.judge(
        capacity=float(strength.value), demand=demand, required=omega, trace=[strength, where], note=why
    )
    i, j = worst(action.across)
    length, share = float(m.group.lengths[i]), float(action.across[i, j])
    thick, f_ua = min(parts, key=lambda p: p[0] * p[1])
    strength = asce8.TRANSVERSE.evaluate(t=thick, L=length, F_ua=f_ua)
    where = Stated(
        "P", "N", share * length, f"{Measure(share, unit='N/mm'):.4g} across, {place(action, action.elastic, i, j)}"
    )
    across = ASCE_TRANSVERSE.judge(
        capacity=float(strength.value), demand=share * length, required=omega, trace=[strength, where]
    )
    i, j = worst(action.elastic.ends.resultant)
    length = float(m.group.lengths[i])
    metal = asce8.WELD_METAL.evaluate(t_w=m.design_throat, L=length, F_xx=action.filler.value)
    where = Stated("P", "N", action.elastic.peak * length, f"peak share, {place(action, action.elastic, i, j)}")
    weld = ASCE_WELD.judge(
        capacity=float(metal.value), demand=action.elastic.peak * length, load_factor=m.load_factor,
        trace=[action.filler, measured(m), metal, where],
    )  # fmt: skip
    checks += [along, across]
    if along.utilisation and across.utilisation:
        checks.append(along_and_across(action, along, across))
    return [*checks, weld]


def _beside_yield(action: FilletAction) -> Check:
    m = action.welds
    if not all(s.has_yield for s in m.sheets):
        return EN1_BESIDE.outside("the grade has no yield strength", demand=action.elastic.peak, unit="N/mm")
    best: tuple[float, int, tuple[int, int], Array, Array] | None = None
    for n, across, shear in strained(action):
        left = beside(m.parts[n])
        used = np.sqrt(across**2 + 3 * shear**2) / (m.parts[n].t * (left.f_y or 0.0))
        at = worst(used)
        if best is None or float(used[at]) > best[0]:
            best = (float(used[at]), n, at, across, shear)
    assert best is not None
    _, n, at, across, shear = best
    left = beside(m.parts[n])
    demand = en.BUTT_COMPARISON.evaluate(F_perp=float(across[at]), F_par=float(shear[at]))
    holds = en.BUTT_RESISTANCE.evaluate(t=m.parts[n].t, f_y=left.f_y or 0.0)
    partial, metal = gamma_M0([m.parts[n]])
    where = f"{m.parts[n].label}, {place(action, action.elastic, *at)}"
    return EN1_BESIDE.judge(
        capacity=float(holds.value), demand=float(demand.value), required=partial * m.load_factor, unit="N/mm",
        trace=[*left.working, holds, demand],
        note="; ".join(filter(None, (where, metal))),
    )  # fmt: skip
