"""First yield of a panel by the linear formulas: information beside what is judged on the real shape."""

from __future__ import annotations

from jointcalc.check.common import INFORMATION
from jointcalc.check.panel_action import FINEST, PanelAction
from jointcalc.check.panel_base import BUCKLING, FOOT_WORDS, LINEAR_YIELD, NO_YIELD, SERIES, stiffness_trace
from jointcalc.formula import panel as stress
from jointcalc.formula import plate as plate_formulas
from jointcalc.formula.core import Evaluation
from jointcalc.quantity.sentence import mm, newtons
from jointcalc.result import Check, Method, Stated, method
from jointcalc.statics import plate as plates
from jointcalc.statics.plate import Patch

ALONG = method("plate.bending-along", "Bending along the beads", stress.BENDING, per="member", basis=LINEAR_YIELD,
               factor=INFORMATION, bound="information")  # fmt: skip
ACROSS = method("plate.bending-across", "Bending across the beads", plate_formulas.TIMOSHENKO, per="member",
                basis=LINEAR_YIELD, factor=INFORMATION, bound="information")  # fmt: skip
TWISTING = method("plate.twisting", "Twisting of the sheet", stress.PLATE, per="member", basis=LINEAR_YIELD,
                  factor=INFORMATION, bound="information")  # fmt: skip
FLATS = method("plate.flats-compression", "Flats between beads, compression", plate_formulas.SHEAR, per="member",
               basis=BUCKLING, factor=INFORMATION, bound="information")  # fmt: skip
FLATS_PRESSURE = method("plate.flats-pressure", "Flats between beads, pressure", plate_formulas.ROARK, per="member",
                        basis=LINEAR_YIELD, factor=INFORMATION, bound="information")  # fmt: skip
DENT = method("plate.flats-dent", "Flat between beads under the load", plate_formulas.TIMOSHENKO, per="member",
              bound="information", basis="first yield, a dent and not collapse",
               factor=INFORMATION)  # fmt: skip


def bending(action: PanelAction) -> list[Check]:
    """First yield by the linear formulas: information, and on the safe side once the panel stretches."""
    panel = action.panel
    rules = [ALONG, ACROSS, TWISTING, *([FLATS] if action.gap else [])]
    if not action.sheet.has_yield:
        return [rule.outside(NO_YIELD, unit="MPa") for rule in rules]
    if action.no_series:
        series = [rule.outside(action.no_series, unit="MPa") for rule in rules]
        return [*series, *(between_beads(action, action.sheet.f_y) if action.gap else [])]
    if action.too_small:
        return [rule.outside(action.too_small, unit="MPa") for rule in rules]
    f_y, M, strip = action.sheet.f_y, action.moments, panel.strip
    stiff = stiffness_trace(action)
    words = []
    if panel.patch and panel.patch_size is None:
        words.append(FOOT_WORDS.format(mm(panel.foot[0], " x ", panel.foot[1])))
    if action.beyond:
        words.append(
            f"linear deflection {mm(action.w_linear):.3g} is past half the thickness: linear stress overstates"
        )
    if strip is not None and panel.pattern is not None and panel.pattern.ends[0]:
        words.append("as if the beads ran through")
    note = "; ".join(words)
    checks: list[Check] = []

    def inform(rule: Method, capacity: float, demand: Evaluation, symbol: str, size: float) -> None:
        given = Stated(symbol, "N", size, f"greatest per width; {action.solved_by}", str(SERIES))
        trace = [*stiff, given, demand]
        checks.append(rule.info(capacity=capacity, demand=float(demand.value), unit="MPa", trace=trace, note=note))

    if strip is None:
        along = plate_formulas.FLAT_STRESS.evaluate(M=M.x, t=action.t)
    else:
        along = stress.STRESS_ALONG.evaluate(M_x=M.x, W=action.W)
    inform(ALONG, f_y, along, "M_x", M.x)
    inform(ACROSS, f_y, plate_formulas.FLAT_STRESS.evaluate(M=M.y, t=action.t), "M_y", M.y)
    shear_yield = stress.SHEAR_YIELD.evaluate(f_y=f_y)
    twist = stress.TWISTING_STRESS.evaluate(M_xy=M.xy, t=action.t)
    inform(TWISTING, float(shear_yield.value), twist, "M_xy", M.xy)
    if strip is not None and action.gap:
        critical = plate_formulas.FLAT_BETWEEN_BEADS_COMPRESSION.evaluate(**action.plate, w_flat=action.gap)
        stiff = [*stiff, critical]
        inside = stress.STRESS_IN_FLATS.evaluate(M_x=M.x, z_s=strip.centroid, I=strip.I_along)
        inform(FLATS, min(float(critical.value), f_y), inside, "M_x", M.x)
        checks += between_beads(action, f_y)
    return checks


def between_beads(action: PanelAction, f_y: float) -> list[Check]:
    """The flat between two beads as a strip of its own, free to turn at the beads."""
    panel = action.panel
    rigidity, _ = plates.flat(action.E, action.nu, action.t)
    long = min(action.a, 10 * action.gap)
    found = []
    if panel.pressure:
        plate = plates.solve(long, action.gap, rigidity, "simple", pressure=panel.pressure)
        M = max(abs(v) for v in plate.moment_max())
        tension = plate_formulas.FLAT_STRESS.evaluate(M=M, t=action.t)
        given = Stated("M", "N", M, f"flat {mm(action.gap):g} wide between beads, free to turn at them", str(SERIES))
        found.append(
            FLATS_PRESSURE.info(capacity=f_y, demand=float(tension.value), unit="MPa", trace=[given, tension])
        )  # fmt: skip
    if panel.patch:
        c, d = min(panel.foot[0], long), min(panel.foot[1], action.gap)
        on_it = panel.patch * c * d / (panel.foot[0] * panel.foot[1])
        if max(long / c, action.gap / d) > FINEST["simple"]:
            return found
        plate = plates.solve(
            long, action.gap, rigidity, "simple", patches=[Patch(on_it, long / 2, action.gap / 2, c, d)]
        )
        M = max(abs(v) for v in plate.moment_max())
        tension = plate_formulas.FLAT_STRESS.evaluate(M=M, t=action.t)
        given = Stated(
            "M", "N", M, f"{newtons(on_it):.4g} on {mm(c, ' x ', d):g} of a flat {mm(action.gap):g} wide", str(SERIES)
        )
        sinks = plate.deflection_max()[0]
        found.append(
            DENT.info(
                capacity=f_y, demand=float(tension.value), unit="MPa", trace=[given, tension],
                note=f"a load that stands between two beads bends the flat there, {mm(sinks):.2g} on top of the "
                "panel's "
                "deflection; past yield it leaves a dent",
            )
        )  # fmt: skip
    return found
