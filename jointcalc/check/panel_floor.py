"""How a panel feels underfoot: deflection, a heel on it, its first frequency."""

from __future__ import annotations

import numpy as np

from jointcalc.check.common import INFORMATION, LIMIT
from jointcalc.check.panel_action import HEEL, PanelAction
from jointcalc.check.panel_base import NO_BALANCE, SERIES, SHAPE, Trace, stiffness_trace
from jointcalc.check.panel_plane import amplified, used_up
from jointcalc.check.panel_shape import shape_trace
from jointcalc.formula import panel as stress
from jointcalc.formula import plate as plate_formulas
from jointcalc.formula.core import Source
from jointcalc.quantity.sentence import Measure, mm, newtons
from jointcalc.result import Check, Looked, Stated, method
from jointcalc.tables.store import OutsideTable, load

HEEL_LIMIT = 3.0
QUIET = 25.0
"""Floor feel, common practice: least deflection under a heel [mm], first frequency against drumming [Hz]."""
FLOOR_FEEL = Source("floor feel", "3 mm under a 90 kg heel, 25 Hz", "common practice")
OWN = Source("the builder's own limit", "no published limit for vehicle floors was found", "common practice")
DEFLECTION = method("limit.panel-deflection", "Deflection", OWN, per="member", basis="limit", factor=LIMIT)
FREQUENCY = method("limit.panel-frequency", "First frequency", OWN, per="member", basis="limit", factor=LIMIT)
FEEL = method("practice.heel-deflection", f"Feel: {Measure(90, unit='kg')} on a heel", FLOOR_FEEL, per="member",
              bound="information", basis="common practice",
              factor=INFORMATION)  # fmt: skip
DRUMMING = method("practice.panel-frequency", "Drumming: first frequency", FLOOR_FEEL, per="member",
                  bound="information", basis="common practice", factor=INFORMATION)  # fmt: skip


BUCKLED = "the thrust in the plane alone buckles the panel: how it moves then is not worked out"


def deflection(action: PanelAction) -> list[Check]:
    """Deflection against the builder's limit, and under a heel."""
    panel, found = action.panel, action.answer
    checks = []
    if panel.limit_deflection is not None:
        if found is None and action.across:
            checks.append(DEFLECTION.outside(NO_BALANCE, unit="mm"))
        else:
            linear: Trace = [*stiffness_trace(action)]
            by = str(SHAPE if action.no_series else SERIES)
            if panel.pressure:
                pressed = f"linear: {Measure(panel.pressure * 1e3, unit='kPa'):g}"
                linear.append(Stated("w_p", "mm", action.w_pressure, pressed, by))
            if panel.patch:
                linear.append(
                    Stated("w_F", "mm", action.w_patch, f"linear: {newtons(panel.patch):g}; {action.solved_by}", by)
                )
            trace = linear if found is None else [*linear, *shape_trace(action, found)]
            with_it = None if action.answer_in_plane is None else abs(action.answer_in_plane.deflection)
            most = max((abs(one.deflection_yielding) for one in action.answers), default=0.0)
            demand = amplified(action, most)
            if with_it is not None:
                trace.append(
                    Stated(
                        "w_N", "mm", with_it, "with the loads in the plane, from a sheet a little off flat", str(SHAPE)
                    )
                )
                demand = max(with_it, most)
            elif action.pushed:
                trace.append(Stated("eta", "1", used_up(action), "thrust over that of the first waves: w/(1 - eta)"))
            if demand is None:
                checks.append(DEFLECTION.outside(BUCKLED, unit="mm", trace=trace))
            else:
                checks.append(DEFLECTION.judge(capacity=panel.limit_deflection, demand=demand, unit="mm", trace=trace))
    return checks if panel.brief else [*checks, _feel(action)]


def _feel(action: PanelAction) -> Check:
    """Deflection under a heel."""
    c, d = action.panel.foot
    where = f"on {mm(c, ' x ', d):g} at the middle"
    if action.w_heel is None:
        return FEEL.info(capacity=HEEL_LIMIT, unit="mm", note=NO_BALANCE)
    heel: Trace = [Stated("w", "mm", abs(action.w_heel), f"{newtons(HEEL):.4g} {where}, large deflections", str(SHAPE))]
    return FEEL.info(capacity=HEEL_LIMIT, demand=abs(action.w_heel), unit="mm", trace=heel, note=where)


LEVY = method("levy.large-deflection", "Deflection of a clamped square by Levy's table", stress.LEVY, per="member",
              bound="information", basis="published, elastic", factor=INFORMATION)  # fmt: skip
SQUARE = 1e-3
"""How far the sides of a square may differ (our choice): the deflection by less than 0.2 %."""


def by_levy(action: PanelAction) -> list[Check]:
    """A published large-deflection answer beside the solver's, where there is one for this panel."""
    panel, found = action.panel, action.answer
    square = abs(action.a - action.b) <= SQUARE * action.a
    plain = panel.strip is None and panel.hole is None and not (panel.patch or action.pushed or panel.shear)
    if not (square and plain and panel.pressure and panel.edges_alike and action.edge == "clamped"):
        return []
    if panel.drawing_in != "held":
        return [LEVY.outside("the table is for edges held in the plane of the sheet", unit="mm")]
    number = stress.PRESSURE_NUMBER.evaluate(p=panel.pressure, a=action.a, E=action.E, t=action.t)
    table = load("levy_clamped_square")
    try:
        part = table.at(float(number.value), "deflection")
    except OutsideTable as beyond:
        return [LEVY.outside(f"pressure number: {beyond}", unit="mm", trace=[number])]
    looked = Looked("w/t", "1", part, "levy_clamped_square", "interpolated in a straight line", stress.LEVY)
    ours = abs(found.deflection) if found is not None else None
    return [
        LEVY.info(
            capacity=part * action.t, demand=ours, unit="mm", trace=[number, looked],
            note="elastic; the deflection beside it is the solver's",
        )
    ]  # fmt: skip


def frequency(action: PanelAction) -> list[Check]:
    """First frequency against the builder's limit, or beside drumming."""
    f_1 = action.frequency
    plate = {"a": action.a, "b": action.b, "mu": action.swinging, **action.rigidity._asdict()}
    trace: Trace = stiffness_trace(action)
    added = action.panel.mass_added
    laid = f"with {Measure(added * 1e9, unit='kg/m^2'):.4g} laid on it" if added else "the sheet alone"
    trace.append(
        Stated("mu", "t/mm^2", action.swinging, f"{Measure(action.swinging * 1e9, unit='kg/m^2'):.4g}, {laid}")
    )
    if not action.by_series:
        trace.append(
            Stated("f_1", "Hz", f_1, "on its real shape, bead ends and all, the lowest of all modes", str(SHAPE))
        )
    elif action.edge == "simple":
        trace.append(plate_formulas.FREQUENCY_SIMPLE.evaluate(**plate))
    else:
        trace.append(plate_formulas.FREQUENCY_CLAMPED_ONE_TERM.evaluate(**plate))
        trace.append(Stated("f_1", "Hz", f_1, f"{action.solved_by}, many terms", str(SERIES)))
    note = laid if added else "the sheet alone; what is glued or laid on it lowers the frequency ('mass_added')"
    limit = action.panel.limit_frequency
    if action.pushed:
        eta = used_up(action)
        if eta >= 1:
            rule = DRUMMING if limit is None else FREQUENCY
            return [rule.outside(BUCKLED, demand=limit, unit="Hz", trace=trace)]
        f_1 *= float(np.sqrt(1 - eta))
        trace.append(Stated("eta", "1", eta, "thrust over that of the first waves"))
        trace.append(Stated("f_n", "Hz", f_1, "f_1 √(1 - eta), no more than the thrust leaves of it"))
    if limit is not None:
        return [FREQUENCY.judge(capacity=f_1, demand=limit, unit="Hz", trace=trace, note=note)]
    return [DRUMMING.info(capacity=f_1, demand=QUIET, unit="Hz", trace=trace, note=note)]
