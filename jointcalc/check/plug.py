"""Plug, slot and arc spot welds, judged by every applicable published method side by side.

- AISC 360 J2.3 and EN 1993-1-8 judge the weld metal on the area of the hole: holes of at least t + 8 mm, which a sheet
  metal worker rarely punches; AISC (by AWS D1.1) also asks for parts of 3 mm, EN 1993-1-8 for 4 mm.
- EN 1993-1-3 treats a smaller rosette as a fusion-welded spot of 0.5 t + 5 mm at the interface (or what sectioned
  coupons show), the sheet tearing round it.
- AISI S100 and EN 1993-1-3, 8.5.3 judge arc spots melted through sheet that was not holed.

No published method gives a plug weld strength when the sheets are lifted apart; only AISI does, for arc spots.

Where each mode stands: weld metal and fused spot of a punched hole in `plug_hole`; distances, hole and fill in
`plug_detailing`; arc spots by AISI in `plug_arc_aisi`, by EN in `plug_arc_en`; the sheet from weld to end and
through the row in `plug_sheets`; loads that nothing covers and the cautions in `plug_notes`.  The load on one weld
and how a formula becomes a check: `plug_base`.
"""

from __future__ import annotations

from jointcalc.check.common import LIMIT
from jointcalc.check.plug_arc_aisi import aisi_arc
from jointcalc.check.plug_arc_en import en_arc
from jointcalc.check.plug_base import PlugAction
from jointcalc.check.plug_hole import punched
from jointcalc.check.plug_notes import cautions_of, unjudged_of
from jointcalc.check.plug_sheets import sheets_of_row
from jointcalc.formula import arc_spot_aisi as aisi
from jointcalc.formula.branch import above
from jointcalc.model.plug import PlugRow
from jointcalc.quantity.sentence import joined, mm
from jointcalc.result import DETAILING, Amount, Check, Result, Stated, method

ARC_EDGE = method(
    "detail.arc-spot-edge",
    "Edge distance of an arc spot",
    aisi.EDGE,
    per="mm",
    basis=DETAILING,
    bound="least",
    factor=LIMIT,
)
ARC_CLEAR = method(
    "detail.arc-spot-clear",
    "Clear distance to the edge",
    aisi.EDGE,
    per="mm",
    basis=DETAILING,
    bound="least",
    factor=LIMIT,
)


def check_plug(row: PlugRow) -> Result:
    """Judge a row of plug, slot or arc spot welds."""
    action = PlugAction(row)
    if row.hole is not None:
        checks, sizes = punched(action)
    else:
        checks, sizes = _arc_spot(action)
    checks += sheets_of_row(action)
    if row.tested is not None:
        from jointcalc.check.coupon_method import plug_checks

        checks += plug_checks(action)
    checks += action.shares.check()
    values = {
        "welds": Amount(float(row.welds), "1"),
        "pitch": Amount(row.actual_pitch, "mm"),
        "end_distance": Amount(row.actual_end, "mm"),
        **sizes,
        "shear_per_weld": Amount(action.along, "N"),
        "across_per_weld": Amount(action.across, "N"),
        "uplift_per_weld": Amount(action.uplift, "N"),
        "peak_per_weld": Amount(abs(row.shear) * action.shares.peak, "N"),
        "end_share": Amount(action.shares.peak, "1"),
        "sharing_welds": Amount(float(action.shares.together), "1"),
    }
    what = f"hole {mm(row.diameter):.4g}" if row.hole is not None else f"arc spot {mm(row.diameter):.4g}"
    if row.slot is not None:
        what = f"slot {mm(row.diameter, ' x ', row.slot):.4g}"
    return Result(
        kind=row.kind,
        id=row.id,
        title=row.title,
        checks=tuple(checks),
        values=values,
        cautions=cautions_of(action, checks),
        unjudged=unjudged_of(row, checks),
        model=row,
        about={"sheets": joined(" + ", (sheet.label for sheet in row.sheets)), "weld": f"{what}, {row.filler}"},
    )


def _arc_spot(action: PlugAction) -> tuple[list[Check], dict[str, Amount]]:
    row = action.row
    assert row.visible is not None
    several = len(row.sheets) > 2
    support = above(row.base.t, row.top)
    t = row.top if support else min(row.top, row.base.t)
    d_a = (aisi.AVERAGE_DIAMETER_LAPPED if several else aisi.AVERAGE_DIAMETER_ONE_SHEET).evaluate(
        d=row.visible, t=row.top
    )
    d_e = aisi.EFFECTIVE_DIAMETER.evaluate(d=row.visible, t=row.top)
    checks = aisi_arc(action, d_a, d_e, t, support)
    en_checks, d_s = en_arc(action)
    checks += en_checks
    e_min = aisi.LEAST_EDGE_DISTANCE.evaluate(d=row.visible)
    nearest_edge = min(row.edge, row.actual_end)
    clear = min(row.edge - row.visible / 2, row.actual_end - row.overall / 2)
    checks += [
        ARC_EDGE.judge(capacity=nearest_edge, demand=float(e_min.value), unit="mm", trace=[e_min]),
        ARC_CLEAR.judge(
            capacity=clear,
            demand=row.visible,
            unit="mm",
            trace=[Stated("e_clear", "mm", row.visible, "one visible diameter, AISI S100 J2.2.1 (from memory)")],
        ),
    ]
    return checks, {
        "visible_diameter": Amount(row.visible, "mm"),
        "average_diameter": Amount(float(d_a.value), "mm"),
        "effective_diameter": Amount(float(d_e.value), "mm"),
        "interface_diameter": Amount(d_s, "mm"),
    }
