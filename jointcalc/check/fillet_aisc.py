"""Arc welds by AISC 360 J2: elastic and by the centre of rotation, flare welds, the sheet beside the weld."""

from __future__ import annotations

from math import hypot, sqrt

import numpy as np

from jointcalc.check.common import NOMINAL
from jointcalc.check.fillet_action import FilletAction, bounded, measured, place, worst
from jointcalc.check.fillet_base import THIN_D11
from jointcalc.check.heat import beside
from jointcalc.errors import InputError
from jointcalc.formula import fillet_aisc as aisc
from jointcalc.formula import flare
from jointcalc.formula.branch import at_least, at_most, below, most
from jointcalc.formula.core import Evaluation, Source
from jointcalc.quantity.sentence import Measure, either, mm
from jointcalc.result import Check, Looked, Stated, method
from jointcalc.result.factor import omega
from jointcalc.statics.group_common import Array, Load
from jointcalc.statics.weld_group import WeldGroup

_AISC = Source(aisc.AISC, "J2.4", "second-hand")
_J4 = Source(aisc.AISC, "J4", "from memory")
AISC_ELASTIC = method(
    "aisc-360.fillet-elastic", "Fillet, elastic vectors", _AISC, per="mm", basis=NOMINAL, factor=omega(aisc.OMEGA_WELD),
    covers=("weld",)
)  # fmt: skip
AISC_CENTRE = method(
    "aisc-360.fillet-centre", "Fillet group, ultimate",
    Source(aisc.AISC, "J2.4(b), Manual part 8", "second-hand"), per="group", basis=NOMINAL,
    factor=omega(aisc.OMEGA_WELD),
    covers=("weld",)
)  # fmt: skip
AISC_YIELD = method(
    "aisc-360.base-yield", "Base metal, shear yield", _J4, per="weld", basis=NOMINAL, factor=omega(aisc.OMEGA_YIELD),
    covers=("along", "across", "lift", "pull-out"),
)  # fmt: skip
AISC_RUPTURE = method(
    "aisc-360.base-rupture", "Base metal, shear rupture", _J4, per="weld", basis=NOMINAL,
    factor=omega(aisc.OMEGA_RUPTURE),
    covers=("along", "across", "lift", "pull-out"),
)  # fmt: skip
AISC_FLARE = method(
    "aisc-360.flare", "Flare weld in shear", flare.READ, per="mm", basis=NOMINAL,
    factor=omega(aisc.OMEGA_WELD), covers=("weld",)
)  # fmt: skip


def _not_d11(action: FilletAction) -> list[str]:
    """Why AISC 360 says nothing of these welds."""
    return [] if action.family == "steel" else [f"written for carbon steel; this is {action.family}"]


def _thin_for_d11(action: FilletAction) -> list[str]:
    """Why it bounds them from above only: a weld in thinner sheet is no stronger than the same one in 3 mm."""
    if at_least(action.welds.thin.t, THIN_D11):
        return []
    return [
        f"AWS D1.1 behind it starts at {either('3 mm (1/8 in)', '1/8 in')}, the sheet is {mm(action.welds.thin.t):.3g}"
        ": see AISI S100 (AWS D1.3)"
    ]


def by_aisc(action: FilletAction) -> list[Check]:
    """Fillets, flares and butts by AISC 360, and the sheet beside them."""
    m = action.welds
    reasons = _not_d11(action)
    checks: list[Check] = []
    if m.weld == "fillet":
        checks += _aisc_fillet(action, reasons)
    elif m.weld != "butt":
        checks.append(_aisc_flare(action, reasons))
    return [*checks, *_aisc_base(action, reasons)]


def _aisc_fillet(action: FilletAction, reasons: list[str]) -> list[Check]:
    m = action.welds
    lengths = m.group.lengths
    leg = m.counted_leg
    if m.throat is not None or leg is None:
        throats: Array = np.full(len(lengths), m.design_throat)
        legs = throats * sqrt(2)
    else:
        legs = np.asarray(aisc.effective_leg(w=leg, l=lengths))
        throats = np.asarray(aisc.throat(w=legs))
    beta = np.where(
        at_most(lengths, LONGEST * legs),
        aisc.long_weld_factor(l=lengths, w=legs),
        aisc.very_long_weld_length(w=legs) / lengths,
    )
    demand = sqrt(m.acting.F_x**2 + m.acting.F_y**2 + m.acting.F_z**2)
    if reasons:
        return [
            AISC_ELASTIC.outside(reasons, demand=action.elastic.peak, unit="N/mm"),
            AISC_CENTRE.outside(reasons, demand=demand),
        ]
    elastic = WeldGroup.of(m.group.lines, throat=throats).elastic(m.acting) if np.ptp(throats) > 0 else action.elastic
    strength = np.asarray(aisc.weld_strength(F_EXX=action.filler.value, k_ds=1.0, t_e=throats)) * beta
    i, j = worst(elastic.ends.resultant / strength[:, None])
    trace: list[Evaluation | Looked | Stated] = [action.filler]
    if m.throat is None and leg is not None:
        if below(legs[i], leg):
            trace.append(aisc.EFFECTIVE_LEG.evaluate(w=leg, l=float(lengths[i])))
        trace.append(aisc.THROAT.evaluate(w=float(legs[i])))
    else:
        trace.append(measured(m))
    trace.append(aisc.WELD_STRENGTH.evaluate(F_EXX=action.filler.value, k_ds=1.0, t_e=float(throats[i])))
    note = "no direction factor: it needs the load through the middle or strain compatibility"
    if beta[i] < 1:
        trace.append(_long_weld(float(lengths[i]), float(legs[i])))
        trace.append(Stated("r_long", "N/mm", float(strength[i]), "strength per length, reduced so"))
        note += "; long weld taken as end-loaded"
    peak = float(elastic.ends.resultant[i, j])
    trace.append(Stated("r", "N/mm", peak, f"elastic share, {place(action, elastic, i, j)}"))
    one = bounded(
        AISC_ELASTIC, _thin_for_d11(action), capacity=float(strength[i]), demand=peak, load_factor=m.load_factor,
        unit="N/mm",
        trace=trace, note=note,
    )  # fmt: skip
    return [one, _aisc_centre(action, throats, float(beta.min()))]


LONGEST = most(aisc.LONG_WELD_FACTOR, "l / w")
"""Length over leg from which on a weld counts no more."""


def _long_weld(length: float, leg: float) -> Evaluation:
    if at_most(length, LONGEST * leg):
        return aisc.LONG_WELD_FACTOR.evaluate(l=length, w=leg)
    return aisc.VERY_LONG_WELD_LENGTH.evaluate(w=leg)


def _aisc_centre(action: FilletAction, throats: Array, beta: float) -> Check:
    m = action.welds
    group = WeldGroup.of(m.group.lines, throat=throats) if np.ptp(throats) > 0 else m.group
    force = hypot(m.acting.F_x, m.acting.F_y)
    pure = force == 0
    demand, unit = (abs(m.acting.M_z), "N*mm") if pure else (force, "N")
    reasons = _thin_for_d11(action)
    load = m.acting
    if action.lifted:
        # the part in the plane alone bounds the whole from above
        load = Load(load.F_x, load.F_y, 0.0, 0.0, 0.0, load.M_z)
        reasons.append(
            "the instantaneous centre is for loads in the plane of the group; this one pulls it or bends it out of the "
            "plane: the elastic method stands for it"
        )
    if demand == 0:
        return AISC_CENTRE.outside(reasons, demand=abs(m.acting.F_z))
    try:
        found = group.ultimate(load, action.filler.value)
    except InputError as error:
        return AISC_CENTRE.outside(error.message, demand=hypot(force, m.acting.F_z), unit="N")
    centre = found.centre.centre
    at = "no turning" if centre is None else f"centre at {mm(centre[0], ', ', centre[1]):.4g}"
    rule = {
        "instantaneous centre": f"{at}, {len(found.elements.length)} elements",
        "direction factor": "load through the middle, parallel welds: direction factor, eq. J2-5",
        "longitudinal and transverse": "load through the middle, welds along and across: eqs. J2-10",
    }[found.rule]
    capacity = found.factor * demand * beta
    trace: list[Evaluation | Looked | Stated] = [
        action.filler,
        Stated("k_u", "1", found.factor, f"times the load: {rule}"),
    ]
    note = rule + ("; reduced as long end-loaded welds" if beta < 1 else "")
    return bounded(
        AISC_CENTRE, reasons, capacity=capacity, demand=demand, load_factor=m.load_factor, unit=unit, trace=trace,
        note=f"{note}; not for the end of a hollow section (AISC 360-22: direction factor 1.0 there)",
    )  # fmt: skip


def _aisc_flare(action: FilletAction, reasons: list[str]) -> Check:
    m = action.welds
    trace: list[Evaluation | Looked | Stated] = [action.filler]
    if m.throat is None and m.radius is not None:
        k_R = flare.throat_per_radius(m.weld, m.process)
        inputs = {"k_R": k_R, "R": m.radius, "gap": m.fill_gap}
        edge = flare.FLARE_THROAT.at_edge("R", **inputs)
        moved, small = (inputs, []) if edge is None else edge
        trace += [Looked("k_R", "1", k_R, "flare_throat", f"{m.weld}, {m.process}", flare.READ)]
        worked = flare.FLARE_THROAT.evaluate(**moved)
        throat = float(worked.value)
        trace.append(worked)
    else:
        throat, small = m.design_throat, []
        trace.append(measured(m))
    if reasons:
        return AISC_FLARE.outside(reasons, demand=action.elastic.peak, unit="N/mm", trace=trace)
    strength = flare.GROOVE_SHEAR_STRENGTH.evaluate(F_EXX=action.filler.value, t_e=throat)
    i, j = worst(action.elastic.ends.resultant)
    where = Stated("r", "N/mm", action.elastic.peak, f"elastic share, {place(action, action.elastic, i, j)}")
    return bounded(
        AISC_FLARE, [*small, *_thin_for_d11(action)], capacity=float(strength.value), demand=action.elastic.peak,
        load_factor=m.load_factor, unit="N/mm", trace=[*trace, strength, where],
        note="all of the load taken as shear on the throat",
    )  # fmt: skip


def _aisc_base(action: FilletAction, reasons: list[str]) -> list[Check]:
    """Shear of the parts beside the weld, with the whole share taken as shear (the safe side)."""
    m = action.welds
    i, _ = worst(action.elastic.ends.resultant)
    length = float(m.group.lengths[i])
    demand = action.elastic.peak * length
    if reasons:
        return [AISC_YIELD.outside(reasons, demand=demand), AISC_RUPTURE.outside(reasons, demand=demand)]
    where = Stated("P", "N", demand, f"peak share {Measure(action.elastic.peak, unit='N/mm'):.4g} on {mm(length):.4g}")
    note = "whole share taken as shear, as is usual"
    thin = _thin_for_d11(action)
    # sheet under 3 mm is no stronger than of 3 mm
    parts = [(max(s.t, THIN_D11) if thin else s.t, beside(s)) for s in m.sheets]
    checks = []
    if all(left.f_y is not None for _, left in parts):
        t, weak = min(parts, key=lambda p: p[0] * (p[1].f_y or 0.0))
        strength = aisc.SHEAR_YIELD.evaluate(F_y=weak.f_y or 0.0, A_gv=t * length)
        checks.append(
            bounded(
                AISC_YIELD, thin, capacity=float(strength.value), demand=demand, load_factor=m.load_factor,
                trace=[*weak.working, strength, where], note=note,
            )
        )  # fmt: skip
    else:
        checks.append(AISC_YIELD.outside("the grade has no yield strength", demand=demand))
    t, weak = min(parts, key=lambda p: p[0] * p[1].f_u)
    rupture = aisc.SHEAR_RUPTURE.evaluate(F_u=weak.f_u, A_nv=t * length)
    checks.append(
        bounded(
            AISC_RUPTURE, thin, capacity=float(rupture.value), demand=demand, load_factor=m.load_factor,
            trace=[*weak.working, rupture, where], note=note,
        )
    )  # fmt: skip
    return checks
