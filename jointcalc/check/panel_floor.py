"""How a panel feels underfoot: deflection, a heel on it, its first frequency."""

from __future__ import annotations

import numpy as np

from jointcalc.check.common import INFORMATION, LIMIT
from jointcalc.check.panel_base import HEEL, NO_BALANCE, SERIES, SHAPE, State, Trace, stiffness_trace
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


def deflection(s: State) -> list[Check]:
    """Deflection against the builder's limit, and under a heel."""
    panel, found = s.panel, s.answer
    checks = []
    if panel.limit_deflection is not None:
        if found is None and s.across:
            checks.append(DEFLECTION.outside(NO_BALANCE, unit="mm"))
        else:
            linear: Trace = [*stiffness_trace(s)]
            by = str(SHAPE if s.no_series else SERIES)
            if panel.pressure:
                pressed = f"linear: {Measure(panel.pressure * 1e3, unit='kPa'):g}"
                linear.append(Stated("w_p", "mm", s.w_pressure, pressed, by))
            if panel.patch:
                linear.append(Stated("w_F", "mm", s.w_patch, f"linear: {newtons(panel.patch):g}; {s.how}", by))
            trace = linear if found is None else [*linear, *shape_trace(s, found)]
            with_it = None if s.in_plane is None else abs(s.in_plane.deflection)
            demand = amplified(s, 0.0 if found is None else abs(found.deflection_yielding))
            if with_it is not None:
                trace.append(
                    Stated(
                        "w_N", "mm", with_it, "with the loads in the plane, from a sheet a little off flat", str(SHAPE)
                    )
                )
                demand = max(with_it, 0.0 if found is None else abs(found.deflection_yielding))
            elif s.pushed:
                trace.append(Stated("eta", "1", used_up(s), "thrust over that of the first waves: w/(1 - eta)"))
            if demand is None:
                checks.append(DEFLECTION.outside(BUCKLED, unit="mm", trace=trace))
            else:
                checks.append(DEFLECTION.judge(capacity=panel.limit_deflection, demand=demand, unit="mm", trace=trace))
    c, d = panel.foot
    where = f"on {mm(c, ' x ', d):g} at the middle"
    if s.heel is None:
        checks.append(FEEL.info(capacity=HEEL_LIMIT, unit="mm", note=NO_BALANCE))
    else:
        heel: Trace = [Stated("w", "mm", abs(s.heel), f"{newtons(HEEL):.4g} {where}, large deflections", str(SHAPE))]
        checks.append(FEEL.info(capacity=HEEL_LIMIT, demand=abs(s.heel), unit="mm", trace=heel, note=where))
    return checks


LEVY = method("levy.large-deflection", "Deflection of a clamped square by Levy's table", stress.LEVY, per="member",
              bound="information", basis="published, elastic", factor=INFORMATION)  # fmt: skip
SQUARE = 1e-3
"""How far the sides of a square may differ (our choice): the deflection by less than 0.2 %."""


def by_levy(s: State) -> list[Check]:
    """A published large-deflection answer beside the solver's, where there is one for this panel."""
    panel, found = s.panel, s.answer
    square = abs(s.a - s.b) <= SQUARE * s.a
    plain = panel.strip is None and panel.hole is None and not (panel.patch or s.pushed or panel.shear)
    if not (square and plain and panel.pressure and panel.edges_alike and s.edge == "clamped"):
        return []
    if panel.drawing_in != "held":
        return [LEVY.outside("the table is for edges held in the plane of the sheet", unit="mm")]
    number = stress.PRESSURE_NUMBER.evaluate(p=panel.pressure, a=s.a, E=s.E, t=s.t)
    table = load("levy_clamped_square")
    try:
        part = table.at(float(number.value), "deflection")
    except OutsideTable as beyond:
        return [LEVY.outside(f"pressure number: {beyond}", unit="mm", trace=[number])]
    looked = Looked("w/t", "1", part, "levy_clamped_square", "interpolated in a straight line", stress.LEVY)
    ours = abs(found.deflection) if found is not None else None
    return [
        LEVY.info(
            capacity=part * s.t, demand=ours, unit="mm", trace=[number, looked],
            note="elastic; the deflection beside it is the solver's",
        )
    ]  # fmt: skip


def frequency(s: State) -> list[Check]:
    """First frequency against the builder's limit, or beside drumming."""
    f_1 = s.frequency
    plate = {"a": s.a, "b": s.b, "mu": s.swinging, **s.rigidity._asdict()}
    trace: Trace = stiffness_trace(s)
    added = s.panel.mass_added
    laid = f"with {Measure(added * 1e9, unit='kg/m^2'):.4g} laid on it" if added else "the sheet alone"
    trace.append(Stated("mu", "t/mm^2", s.swinging, f"{Measure(s.swinging * 1e9, unit='kg/m^2'):.4g}, {laid}"))
    if not s.by_series:
        trace.append(
            Stated("f_1", "Hz", f_1, "on its real shape, bead ends and all, the lowest of all modes", str(SHAPE))
        )
    elif s.edge == "simple":
        trace.append(plate_formulas.FREQUENCY_SIMPLE.evaluate(**plate))
    else:
        trace.append(plate_formulas.FREQUENCY_CLAMPED_ONE_TERM.evaluate(**plate))
        trace.append(Stated("f_1", "Hz", f_1, f"{s.how}, many terms", str(SERIES)))
    note = laid if added else "the sheet alone; what is glued or laid on it lowers the frequency ('mass_added')"
    limit = s.panel.limit_frequency
    if s.pushed:
        eta = used_up(s)
        if eta >= 1:
            how = DRUMMING if limit is None else FREQUENCY
            return [how.outside(BUCKLED, demand=limit, unit="Hz", trace=trace)]
        f_1 *= float(np.sqrt(1 - eta))
        trace.append(Stated("eta", "1", eta, "thrust over that of the first waves"))
        trace.append(Stated("f_n", "Hz", f_1, "f_1 √(1 - eta), no more than the thrust leaves of it"))
    if limit is not None:
        return [FREQUENCY.judge(capacity=f_1, demand=limit, unit="Hz", trace=trace, note=note)]
    return [DRUMMING.info(capacity=f_1, demand=QUIET, unit="Hz", trace=trace, note=note)]
