"""Distances of a spot seam, its stack, and the schedule to begin with."""

from __future__ import annotations

from jointcalc.check.common import INFORMATION, LIMIT, once
from jointcalc.check.seam_base import (
    EDGE,
    EN,
    END,
    OPTIMUM_CHART,
    PITCH_MIN,
    ROW_MIN,
    WIDEST,
    SeamAction,
    widely_spaced,
)
from jointcalc.formula import spot_layout
from jointcalc.formula.branch import above, at_least, at_most
from jointcalc.model.seam import SpotSeam
from jointcalc.quantity.sentence import mm
from jointcalc.quantity.show import percent
from jointcalc.result import DETAILING, Amount, Check, Looked, Stated, method
from jointcalc.result.factor import fixed
from jointcalc.tables.store import OutsideTable, load

PITCH_MAX = method(
    "detail.pitch-max",
    "Widest pitch",
    EN,
    per="mm",
    basis=DETAILING,
    bound="greatest",
    factor=INFORMATION,
)
OVERLAP = method("detail.overlap", "Lap width", OPTIMUM_CHART, per="mm", basis=DETAILING, bound="least", factor=LIMIT)
STACK_RATIO = method(
    "detail.stack-ratio",
    "Thickest to thinnest sheet",
    spot_layout.RATIO,
    per="spot",
    basis=DETAILING,
    bound="greatest",
    factor=fixed(1.0, "none: information, a scope and no rule"),
)
STACK_TOTAL = method(
    "detail.stack-total",
    "Total stack",
    spot_layout.GUIDELINE,
    per="mm",
    basis=DETAILING,
    bound="greatest",
    factor=fixed(1.0, "none: information, a guideline"),
)


def _least_pitch(seam: SpotSeam) -> tuple[float, list[Looked | Stated]]:
    """Least pitch against shunting [mm] and how it was found."""
    t = seam.outside_thickness
    trace: list[Looked | Stated]
    try:
        value = load("spot_optimum").at(t, "spacing_min")
        trace = [Looked("p_min", "mm", value, "spot_optimum", f"spacing_min at t = {mm(t):.4g}", OPTIMUM_CHART)]
    except OutsideTable:
        value = max(spot_layout.PITCH_PER_T * t, spot_layout.PITCH_LEAST)
        words = f"{spot_layout.PITCH_PER_T:g} t, not below {mm(spot_layout.PITCH_LEAST)} (guideline, read)"
        trace = [Stated("p_min", "mm", value, words)]
    if len(seam.sheets) == 3:
        value *= spot_layout.THREE_SHEETS
        more = percent(spot_layout.THREE_SHEETS - 1)
        trace.append(Stated("p_min3", "mm", value, f"{more} more for three sheets (guideline, read)"))
    return value, trace


def spot_distances(action: SeamAction) -> list[Check]:
    """Pitch, edge, end, overlap and stack against what the trade and its charts ask for."""
    seam = action.seam
    checks: list[Check] = []
    t, d = seam.outside_thickness, seam.d
    other = next((s.material.family for s in seam.sheets if s.material.family != "steel"), None)
    chart = "" if other is None else f"by the chart for carbon steel; none for {other} is held"
    least, trace = _least_pitch(seam)
    if seam.along > 1:
        checks.append(PITCH_MIN.judge(capacity=seam.actual_pitch, demand=least, unit="mm", trace=trace, note=chart))
        checks.append(
            PITCH_MAX.info(
                capacity=WIDEST * d,
                demand=seam.actual_pitch,
                unit="mm",
                note=f"{WIDEST:g} spot diameters along the load, the range of EN 1993-1-3"
                + ("; wider spots let the lap gape and rust" if widely_spaced(seam) else ""),
            )
        )
    if seam.rows > 1 and seam.row_spacing is not None:
        checks.append(ROW_MIN.judge(capacity=seam.row_spacing, demand=least, unit="mm", trace=trace))
    edge = max(spot_layout.EDGE_PER_D * d, d / 2 + spot_layout.RIM)
    words = f"the larger of {spot_layout.EDGE_PER_D:g} d and a rim of {mm(spot_layout.RIM)} beyond the spot"
    asked = Stated("e_min", "mm", edge, words)
    for rule, has in ((EDGE, seam.least_edge), (END, seam.actual_end)):
        checks.append(rule.judge(capacity=has, demand=edge, unit="mm", trace=[asked]))
    try:
        overlap = load("spot_optimum").at(t, "overlap_min") + (seam.rows - 1) * (seam.row_spacing or 0.0)
        looked = Looked(
            "l_min", "mm", overlap, "spot_optimum", f"overlap_min at t = {mm(t):.4g}, and the rows", OPTIMUM_CHART
        )
        checks.append(OVERLAP.judge(capacity=seam.actual_lap, demand=overlap, unit="mm", trace=[looked], note=chart))
    except OutsideTable as error:
        checks.append(OVERLAP.outside(str(error), unit="mm"))
    # what the sources call their scope and a guideline, not a limit of strength: beyond it stands a caution
    thin = min(seam.sheets[0].thickness, seam.sheets[-1].thickness)
    total = sum(sheet.thickness for sheet in seam.sheets)
    beyond = "beyond it the weld may form off the joint: coupons decide"
    for rule, most, has, unit in (
        (STACK_RATIO, spot_layout.STEEPEST, seam.stack_ratio, "1"),
        (STACK_TOTAL, spot_layout.STACK_PER_T * thin, total, "mm"),
    ):
        checks.append(
            rule.info(capacity=most, demand=has, unit=unit, note=beyond)
            if above(has, most)
            else rule.judge(capacity=most, demand=has, unit=unit)
        )
    return checks


def stack_limits(seam: SpotSeam) -> tuple[bool, bool]:
    """Whether the stack is steeper than 3 to 1, and thicker than 4 times its thinnest outside sheet."""
    thick = [s.thickness for s in seam.sheets]
    steep = above(seam.stack_ratio, spot_layout.STEEPEST)
    return steep, above(sum(thick), spot_layout.STACK_PER_T * min(thick[0], thick[-1]))


@once
def first_schedule(action: SeamAction) -> dict[str, Amount]:
    """A starting schedule: the optimum-conditions chart for bare steel, BS 1140 for zinc, where they reach."""
    seam = action.seam
    families = {s.material.family for s in seam.sheets}
    ordered = sorted(s.thickness for s in seam.sheets)
    t = ordered[0] if len(ordered) == 2 else ordered[1]
    if families != {"steel"}:
        return {}
    if any(s.coated for s in seam.sheets):
        for row in load("spot_setup_bs1140").rows:
            if at_least(t, row.need("t_from")) and at_most(t, row.need("t_to")):  # 0.8 mm typed in inches is 0.8 mm
                low_high = {
                    "schedule_force": ("force_hot_dip_zinc", "N"),
                    "schedule_time": ("time_hot_dip_zinc", "cycles at 50 Hz"),
                    "schedule_current": ("current_hot_dip_zinc", "A"),
                }
                found = {"schedule_tip": Amount(row.need("tip_diameter"), "mm")}
                for name, (column_, unit) in low_high.items():
                    low, high = row.need(f"{column_}_low"), row.need(f"{column_}_high")
                    found[name] = Amount((low + high) / 2, unit)
                return found
        return {}
    table = load("spot_optimum")
    try:
        return {
            "schedule_tip": Amount(table.at(t, "tip_diameter_max"), "mm"),
            "schedule_force": Amount(table.at(t, "force"), "N"),
            "schedule_time": Amount(table.at(t, "weld_time"), "cycles at 60 Hz"),
            "schedule_current": Amount(table.at(t, "current"), "A"),
        }
    except OutsideTable:
        return {}
