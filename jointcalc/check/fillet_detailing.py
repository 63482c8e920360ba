"""Sizes and places of arc welds: leg, length, lap, stitches, sides, gap, corners."""

from __future__ import annotations

from math import hypot

import numpy as np

from jointcalc.check.common import LIMIT
from jointcalc.check.fillet_action import FilletAction
from jointcalc.check.fillet_base import THIN_D11, THIN_EN8
from jointcalc.formula import fillet_aisc as aisc
from jointcalc.formula import fillet_en1993 as en
from jointcalc.formula.branch import at_least, at_most, below
from jointcalc.formula.core import Source
from jointcalc.model.fillet import FilletGroup
from jointcalc.quantity.sentence import mm
from jointcalc.result import DETAILING, Check, Looked, method
from jointcalc.tables.store import load as load_table

_J22 = Source(aisc.AISC, "J2.2b", "second-hand")

LEG_MIN = method(
    "detail.leg-min", "Leg for the thickness", Source(aisc.AISC, "Table J2.4", "read"), per="mm", basis=DETAILING,
               bound="least",
    factor=LIMIT,
)  # fmt: skip
LEG_MAX = method(
    "detail.leg-max", "Leg along an edge", _J22, per="mm", basis=DETAILING, bound="greatest", factor=LIMIT
)  # fmt: skip
LENGTH_MIN = method(
    "detail.weld-length-min",
    "Length for the full leg",
    _J22,
    per="mm",
    basis=DETAILING,
    bound="least",
    factor=LIMIT,
)
SIDE_MIN = method(
    "detail.side-length-min", "Side fillets against their distance", _J22, per="mm", basis=DETAILING, bound="least",
    factor=LIMIT,
)  # fmt: skip
LAP_MIN = method("detail.lap-min", "Lap", _J22, per="mm", basis=DETAILING, bound="least", factor=LIMIT)
STITCH_MIN = method(
    "detail.stitch-min", "Length of a stitch", _J22, per="mm", basis=DETAILING, bound="least", factor=LIMIT
)
GAP_MAX = method(
    "detail.stitch-gap-max", "Gap between stitches", Source(en.EN8, "4.3.2.2, figure 4.1"), per="mm",
               basis=DETAILING, bound="greatest",
    factor=LIMIT,
)  # fmt: skip
CORNER = method(
    "detail.bend-radius-min", "Bend radius beside the weld", Source(en.EN8, "Table 4.2"), per="mm", basis=DETAILING,
               bound="least",
    factor=LIMIT,
)  # fmt: skip


def weld_sizes(action: FilletAction) -> list[Check]:
    """Leg, length, lap, gap, sides and corners against the clauses and the trade."""
    m = action.welds
    checks: list[Check] = []
    thin = m.thin.thickness
    structural = action.family == "steel" and at_least(thin, THIN_D11)
    if m.weld == "fillet" and m.leg is not None:
        if structural:
            least = next(
                r for r in load_table("fillet_min_leg_aisc").rows
                if r.number("t_to_mm") is None or at_most(thin, r.need("t_to_mm"))
            )  # fmt: skip
            step = Looked(
                "w_min", "mm", least.need("leg_min_mm"), "fillet_min_leg_aisc", f"t = {mm(thin):.4g}", LEG_MIN.source
            )
            checks.append(LEG_MIN.judge(capacity=m.leg, demand=step.value, unit="mm", trace=[step]))
        if m.joint == "lap":
            rule, why = aisc.largest_leg(t=m.sheets[0].thickness)
            most = rule.evaluate(t=m.sheets[0].thickness)
            checks.append(LEG_MAX.judge(capacity=float(most.value), demand=m.leg, unit="mm", trace=[most], note=why))
        shortest = float(m.group.lengths.min())
        if m.stitch is None:
            need = aisc.LEAST_LENGTH.evaluate(w=m.leg)
            if below(shortest, float(need.value)) and structural:
                checks.append(
                    LENGTH_MIN.info(
                        capacity=shortest, demand=float(need.value), unit="mm", trace=[need],
                        note="shorter welds are counted with a leg of a quarter of their length",
                    )
                )  # fmt: skip
            else:
                checks.append(LENGTH_MIN.judge(capacity=shortest, demand=float(need.value), unit="mm", trace=[need]))
        else:
            checks += _stitches(action, shortest)
        checks += _sides(action)
    if m.overlap is not None and m.joint == "lap":
        lap = aisc.LEAST_LAP.evaluate(t=thin)
        checks.append(LAP_MIN.judge(capacity=m.overlap, demand=float(lap.value), unit="mm", trace=[lap]))
    if m.bend_radius is not None and action.family == "steel":
        checks.append(_corner(m))
    return checks


def _stitches(action: FilletAction, shortest: float) -> list[Check]:
    m = action.welds
    assert m.leg is not None
    assert m.stitch is not None
    least = aisc.LEAST_SEGMENT.evaluate(w=m.leg)
    thin = m.thin.t
    if below(thin, THIN_D11):
        checks = [
            STITCH_MIN.info(
                capacity=shortest,
                demand=float(least.value),
                unit="mm",
                trace=[least],
                note=f"rule for {mm(3)} and over",
            )
        ]
    else:
        checks = [STITCH_MIN.judge(capacity=shortest, demand=float(least.value), unit="mm", trace=[least])]
    a, b = m.parts
    gap = m.stitch[1] - m.stitch[0]
    if m.width is not None:
        most = en.INTERMITTENT_GAP_COMPRESSION.evaluate(t=a.t, t_1=b.t, b=m.width)
        note = "in compression or shear; in tension it may be wider"
    else:
        most = en.INTERMITTENT_GAP_TENSION.evaluate(t=a.t, t_1=b.t)
        note = "in tension; in compression or shear 12 t and a quarter of the width (give 'width')"
    if below(thin, THIN_EN8):
        note = f"rule for {mm(4)} and over, {note}"
        checks.append(GAP_MAX.info(capacity=float(most.value), demand=gap, unit="mm", trace=[most], note=note))
    else:
        checks.append(GAP_MAX.judge(capacity=float(most.value), demand=gap, unit="mm", trace=[most], note=note))
    return checks


def _sides(action: FilletAction) -> list[Check]:
    """Side fillets alone under a force along them: each as long as they are apart (AISC 360 J2.2b)."""
    m = action.welds
    size = hypot(m.acting.F_x, m.acting.F_y)
    if m.joint != "lap" or size == 0 or len(m.lines) < 2 or m.stitch is not None:
        return []
    along = np.array([m.acting.F_x, m.acting.F_y]) / size
    if np.any(np.abs(m.group.axes @ along) < np.cos(np.radians(1.0))):
        return []
    apart = float(np.ptp(m.group.lines.reshape(-1, 2) @ np.array([-along[1], along[0]])))
    return [SIDE_MIN.judge(capacity=float(m.group.lengths.min()), demand=apart, unit="mm")]


def _corner(m: FilletGroup) -> Check:
    assert m.bend_radius is not None
    t = m.thin.thickness
    kind = "fatigue" if m.cycles is not None else "static"
    fits, why = en.corner(r=m.bend_radius, t=t, kind=kind)
    rows = [
        r
        for r in load_table("cold_formed_corner").rows
        if (most := r.number(f"t_max_{kind}")) is None or at_most(t, most)
    ]
    need = min(r.need("r_over_t_min") for r in rows) * t
    found = CORNER.judge(capacity=m.bend_radius, demand=need, unit="mm", note=why)
    return found if fits or found.status == "over" else CORNER.outside(why, unit="mm")
