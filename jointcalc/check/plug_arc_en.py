"""Arc spots and elongated arc spots by EN 1993-1-3 8.5.3: weld metal, sheet, and the least edge."""

from __future__ import annotations

from jointcalc.check.common import Steps
from jointcalc.check.plug_base import (
    EN_ARC_SHEET,
    EN_ARC_WELD,
    PlugAction,
    judged_or_bound,
    known,
    steel_only,
    strength,
)
from jointcalc.formula import arc_spot_en1993 as arc_en
from jointcalc.formula.branch import at_most, least, most
from jointcalc.formula.safety import GAMMA_M2
from jointcalc.result import Check, method
from jointcalc.result.factor import fixed

EN_ARC_EDGE = method(
    "en1993-1-3.arc-spot-edge",
    "Edge distance for the force",
    arc_en.CLAUSE,
    per="mm",
    basis="limit",
    factor=fixed(1.0, "{:g} (γ_M2 and γ_F are in the limit)"),
)


def en_arc(action: PlugAction) -> tuple[list[Check], float]:
    """Arc spot or seam by EN 1993-1-3, and the diameter at the interface [mm]."""
    row = action.row
    assert row.visible is not None
    S_t = row.top
    interface = arc_en.INTERFACE_DIAMETER.evaluate(d_w=row.visible, S_t=S_t)
    d_s = float(interface.value)
    if row.interface is not None:
        d_s = min(d_s, row.interface)
    several = len(row.sheets) > 2
    peripheral = (
        arc_en.PERIPHERAL_DIAMETER_SHEETS.evaluate(d_w=row.visible, S_t=S_t)
        if several
        else arc_en.PERIPHERAL_DIAMETER_ONE_SHEET.evaluate(d_w=row.visible, t=S_t)
    )
    d_p = float(peripheral.value)
    f_u = min(strength(s) for s in row.sheets[:-1])
    thin = min(s.t for s in row.sheets[:-1])
    counted = max(thin, least(arc_en.WELD_SHEAR, "t")) if row.weld_washer else thin
    base = {
        "S_t": S_t, "t": counted, "d_s": d_s, "d_p": d_p, "f_u": f_u,
        "f_uw": row.F_EXX, "L_w": row.seam or 0.0,
    }  # fmt: skip
    before: Steps = [*known(row.sheets), interface, peripheral]
    steel = steel_only(row)
    note = ""
    if row.seam is None:
        branch = arc_en.peripheral(d_p=d_p, S_t=S_t, f_u=f_u)
        pairs = ((EN_ARC_WELD, arc_en.WELD_SHEAR), (EN_ARC_SHEET, branch.formula))
        note = branch.why
    else:
        pairs = ((EN_ARC_WELD, arc_en.ELONGATED_WELD_SHEAR), (EN_ARC_SHEET, arc_en.ELONGATED_PERIPHERAL))
    checks = [
        judged_or_bound(
            method,
            formula,
            base,
            demand=action.in_plane,
            load_factor=row.load_factor,
            before=before,
            after=[action.how],
            reasons=steel,
            note=note if method is EN_ARC_SHEET else "",
        )
        for method, formula in pairs
    ]
    for e, force, where in ((row.actual_end, action.along, "along"), (row.edge, action.across, "across")):
        if not force:
            continue
        weak = min(row.sheets[:-1], key=lambda s: s.t * strength(s))
        ratio = weak.f_u / weak.f_y if weak.has_yield else 1.0
        formula = (
            arc_en.LEAST_EDGE_LOW
            if at_most(ratio, most(arc_en.LEAST_EDGE_LOW, "f_u / f_y"))
            else arc_en.LEAST_EDGE_HIGH
        )
        need = formula.evaluate(F_w_Sd=row.load_factor * force, t=weak.t, f_u=strength(weak), gamma_M2=GAMMA_M2)
        checks.append(
            EN_ARC_EDGE.judge(
                capacity=e,
                demand=float(need.value),
                unit="mm",
                trace=[need],
                where=where,
                covers=(f"end-{where}",),
            )
            if not steel
            else EN_ARC_EDGE.outside(steel, unit="mm", where=where)
        )
    return checks, d_s
