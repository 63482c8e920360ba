"""One spot in the plane of the sheets, and the sheet from spot to end, by the codes: EN 1993-1-3 8.4 and AISI S100."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from jointcalc.check.common import CHARACTERISTIC, PARTIAL, Steps, cores
from jointcalc.check.seam_base import (
    AISI_SPOT,
    EN,
    IN_PLANE,
    SeamAction,
    interface_pair,
    judged_or_bound,
    limits_below,
    limits_beyond,
    not_carbon_steel,
    out_of_range,
    size_needed,
    tensile,
)
from jointcalc.formula import arc_spot_aisi, spot_aisi, spot_en1993, spot_size
from jointcalc.formula.branch import below
from jointcalc.formula.core import Limit
from jointcalc.formula.safety import GAMMA_M2
from jointcalc.model.seam import SpotSeam
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.sentence import mm, mpa, newtons
from jointcalc.result import Check, Stated, method
from jointcalc.result.factor import omega, partial

EN_TEARING = method("en1993-1-3.tearing", "Tearing and bearing", EN, per="spot", basis=CHARACTERISTIC, factor=PARTIAL)
EN_END_ALONG = method(
    "en1993-1-3.end-along", "End of the sheet, along the seam", EN, per="spot", basis=CHARACTERISTIC, factor=PARTIAL
)
EN_END_ACROSS = method(
    "en1993-1-3.end-across", "Edge of the sheet, across the seam", EN, per="spot", basis=CHARACTERISTIC, factor=PARTIAL
)
EN_SPOT = method(
    "en1993-1-3.spot-shear",
    "Shear of the spot",
    EN,
    per="spot",
    basis=CHARACTERISTIC,
    factor=PARTIAL,
    covers=IN_PLANE,
)
AISI_TEAR = method(
    "aisi-s100.spot-tear-out",
    "Tear-out to the end or edge",
    spot_aisi.RUPTURE,
    per="spot",
    basis="nominal",
    factor=omega(spot_aisi.OMEGA_RUPTURE_WELDED, words="Ω = {}, welded"),
)
EN_DUCTILITY = method(
    "en1993-1-3.ductility",
    "Sheet tears before the spot shears",
    EN,
    per="spot",
    basis="condition",
    factor=partial(
        f"{spot_en1993.DUCTILE}",
        spot_en1993.DUCTILE * GAMMA_M2,
        words="{0} in the condition; of the spot where it is not met {0} × γ_M2 × γ_F",
    ),
)


def en_spot(action: SeamAction) -> list[Check]:
    """EN 1993-1-3 Table 8.5 at every interface."""
    seam = action.seam
    checks: list[Check] = []
    stranger = not_carbon_steel(seam)
    near, wide = _en_spacing(action)
    for where, a, b, part in seam.interfaces:
        t, t_1, f_u = interface_pair(a, b)
        base = {"t": t, "t_1": t_1, "d_s": seam.d, "f_u": f_u}
        demand = part * action.in_plane
        ends = [
            (rule, e_1, part * force, word)
            for rule, e_1, force, word in (
                (EN_END_ALONG, seam.actual_end, action.along, "end"),
                (EN_END_ACROSS, seam.least_edge, action.across, "edge"),
            )
            if force
        ]
        if stranger:
            checks += [m.outside(stranger, demand=demand, where=where) for m in (EN_TEARING, EN_SPOT)]
            checks += [m.outside(stranger, demand=force, where=where) for m, _, force, _ in ends]
            continue
        bounds = [bound.evaluate(**base) for bound in spot_en1993.tearing_bounds(t=t, t_1=t_1)]
        tearing = min(bounds, key=lambda e: float(e.value))
        spot = spot_en1993.SPOT_SHEAR.evaluate(**base)
        before: Steps = [*cores((a, b))]
        after: Steps = [action.trace(part)]
        scope = out_of_range((spot_en1993.TEARING, spot_en1993.SPOT_SHEAR), base)
        if scope:
            checks += [
                m.outside(scope, demand=force, trace=[*before, *e, *after], where=where)
                for m, e, force in ((EN_TEARING, bounds, demand), (EN_SPOT, [spot], demand))
            ]
            checks += [m.outside(scope, demand=force, where=where) for m, _, force, _ in ends]
            checks.append(EN_DUCTILITY.outside(scope, where=where))
            continue
        tiny = size_needed(spot_size.MINIMUM.evaluate(t=t), seam, "routine work to ISO 14373", "accepts")
        sheared = below(float(spot.value), spot_en1993.DUCTILE * float(tearing.value))
        stop = [*near, *tiny]
        shared: dict[str, Any] = {"where": where, "note": "; ".join(filter(None, (_weaker(a, b), wide)))}
        checks.append(
            judged_or_bound(
                EN_TEARING, stop, capacity=float(tearing.value), demand=demand, load_factor=seam.load_factor,
                trace=[*before, *bounds, *after], **shared,
            )
        )  # fmt: skip
        checks.append(
            judged_or_bound(
                EN_SPOT, stop, capacity=float(spot.value), demand=demand, load_factor=seam.load_factor,
                trace=[*before, spot, *after], **shared,
            )
        )  # fmt: skip
        for rule, e_1, force, word in ends:
            inputs = {**base, "e_1": spot_en1993.end_counted(e_1, seam.d)}
            given = {**base, "e_1": e_1}
            short = [f"{word} distance: {r}" for r in limits_below(spot_en1993.END, given)]
            evaluation = spot_en1993.END_DISTANCE.evaluate(**inputs)
            checks.append(
                judged_or_bound(
                    rule, [*stop, *short], capacity=float(evaluation.value), demand=force,
                    load_factor=seam.load_factor,
                    trace=[*before, evaluation, *after], **shared,
                )
            )  # fmt: skip
        if sheared:
            first = (
                f"spot of {mm(seam.d):.3g} would shear before the sheet tears: F_v = {newtons(float(spot.value)):.4g} "
                f"is less than {spot_en1993.DUCTILE:g} times {newtons(float(tearing.value)):.4g}"
            )
            checks.append(
                judged_or_bound(
                    EN_DUCTILITY, stop, capacity=float(spot.value), demand=demand,
                    required=spot_en1993.DUCTILE * GAMMA_M2 * seam.load_factor,
                    trace=[*before, spot, tearing, *after], where=where,
                    note=f"not met: {first}; so the spot is asked for the {spot_en1993.DUCTILE:g} on top",
                )
            )  # fmt: skip
        elif stop:
            checks.append(EN_DUCTILITY.outside(stop, where=where))
        else:
            checks.append(
                EN_DUCTILITY.info(
                    capacity=float(spot.value), demand=spot_en1993.DUCTILE * float(tearing.value),
                    trace=[spot, tearing], note="met: the sheet tears first", where=where,
                )
            )  # fmt: skip
    return checks


def _weaker(a: Sheet, b: Sheet) -> str:
    return "" if a.f_u == b.f_u else f"with the weaker of the two grades, f_u = {mpa(min(tensile(a), tensile(b))):.4g}"


def _en_spacing(action: SeamAction) -> tuple[list[str], str]:
    """Pitch limits of Table 8.5 in the directions that carry load (along when none does): too near, and too wide.

    Too wide a pitch or an edge only ends a benefit: the resistance of a spot does not grow with either, so it is that
    of a spot at the greatest.
    """
    seam = action.seam
    pitch = seam.actual_pitch if seam.along > 1 else None
    spacing = seam.row_spacing if seam.rows > 1 else None
    asked: list[tuple[Iterable[Limit], dict[str, float]]] = []
    directions = []
    if action.along or not action.across:
        directions.append((pitch, spacing))
    if action.across:
        directions.append((spacing, pitch))
    for along, across in directions:
        asked += [(spot_en1993.PITCH_ALONG, {"p_1": along, "d_s": seam.d})] if along is not None else []
        asked += [(spot_en1993.PITCH_ACROSS, {"p_2": across, "d_s": seam.d})] if across is not None else []
    near = [reason for limits, inputs in asked for reason in limits_below(limits, inputs)]
    wide = [reason for limits, inputs in asked for reason in limits_beyond(limits, inputs)]
    told = "wider than its range, where a spot gains nothing more: as at the widest" if wide else ""
    return list(dict.fromkeys(near)), told


def tear_out(action: SeamAction) -> list[Check]:
    """The sheet sheared out from a spot to its end or edge on two planes from its middle: a spot leaves all metal.

    Whichever of the two is used more.
    """
    seam = action.seam
    if not_carbon_steel(seam):
        return []
    weak = min(seam.sheets, key=lambda s: s.t * tensile(s))
    checks = []
    for e, force, way in ((seam.actual_end, action.along, "end"), (seam.least_edge, action.across, "edge")):
        if force:
            rupture = arc_spot_aisi.SHEET_END_RUPTURE.evaluate(F_u=tensile(weak), t=weak.t, e_net=e)
            checks.append(
                AISI_TEAR.judge(
                    capacity=float(rupture.value),
                    demand=action.largest * force,
                    trace=[*cores((weak,)), rupture, action.trace(action.largest)],
                    note=f"to the {way}",
                )
            )
    return [max(checks, key=lambda c: c.utilisation or 0.0)] if checks else []


def aisi_spot(seam: SpotSeam, t: float, demand: float, load: Stated) -> Check:
    """One spot by AISI S100 J2.4, at the thinner sheet `t` [mm]; demand in N."""
    formula = spot_aisi.spot(t)
    size = spot_size.TARGET.evaluate(t=t)
    edge = formula.at_edge("t", t=t)
    if edge is None:
        return AISI_SPOT.outside(formula.outside(t=t), demand=demand, trace=[size])
    moved, thin = edge
    nominal = formula.evaluate(**moved)
    # the power law ends a hair above the line for thick sheet: no thinner sheet is stronger for that
    ends = spot_aisi.SPOT_THICK.evaluate(t=max(t, spot_aisi.THICK_FROM))
    nominal = min(nominal, ends, key=lambda e: float(e.value))
    return judged_or_bound(
        AISI_SPOT,
        [*thin, *size_needed(size, seam, "the strength is the mean of set-up size spots: it")],
        capacity=float(nominal.value),
        demand=demand,
        trace=[nominal, size, load],
        note="no account of grade, number of sheets or edge",
    )
