"""The weld lines of a brace that is made of two sheets, and whether a profile can be folded."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

import numpy as np

from jointcalc.check.brace_action import Array, BraceAction
from jointcalc.check.brace_base import FOLD_DIN, FOLD_LEG, FOLD_LIST, FOLD_RADIUS, SPOT_LINE
from jointcalc.check.brace_cell import greatest_torque
from jointcalc.check.seam import check_seam
from jointcalc.check.seam_base import SeamAction
from jointcalc.check.seam_between import AISI_PITCH, BETWEEN_SPOTS, between_spots
from jointcalc.errors import InputError
from jointcalc.formula import forming, joint_flow
from jointcalc.formula.branch import above, at_least, at_most, below
from jointcalc.formula.core import Evaluation
from jointcalc.model.brace import Brace
from jointcalc.model.fields import build
from jointcalc.model.seam import SpotSeam
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.sentence import Measure, joined, mm
from jointcalc.result import Amount, Check, Stated
from jointcalc.result.cautions import Caution
from jointcalc.section.families.family import Family
from jointcalc.section.families.hat import HatSkin
from jointcalc.section.families.lap import Lap
from jointcalc.section.families.tube import RectTube, Tube
from jointcalc.section.forming import BendRow, bend_list, blank, brake_force
from jointcalc.section.tracer import Bend, Flat
from jointcalc.tables.store import load

# --- weld lines --------------------------------------------------------------------------------------


def weld_flow(brace: Brace, V: float) -> float:
    """Greatest shear flow [N/mm] through one weld line under a shear force V [N]; 0 without a weld line."""
    lines = brace.core.weld_lines
    if not lines:
        return 0.0
    flow = brace.properties.shear_flow(V_z=V)
    return max(abs(float(flow.at(name)[0])) for name in lines)


def _twist_flow(action: BraceAction) -> float:
    """Shear flow [N/mm] that a torque adds in a weld line that closes a cell: the greatest, wherever it is."""
    T = 0.0 if action.held_both else greatest_torque(action)
    if not T or not action.brace.core.closed:
        return 0.0
    flow = action.p.torsion_flow(T)
    return max(abs(float(flow[action.p.outline.index(name)][0])) for name in action.brace.core.weld_lines)


def seam_data(brace: Brace, q: float) -> dict[str, object]:
    """The raw data of the spot seam of one weld line that carries the flow q [N/mm] over its whole length."""
    family = brace.core
    if isinstance(family, HatSkin):
        edge = float(family.weld_line)
    else:
        assert isinstance(family, Lap)
        weld = family.overlap / 2 if family.weld is None else family.weld
        edge = float(min(weld, family.overlap - weld))
    told = ("thickness", "grade", "coating", "yield_strength", "tensile_strength")
    sheets = [{name: v for name in told if (v := getattr(one, name)) is not None} for one in brace.sheets]
    data: dict[str, object] = {
        "sheets": sheets, "weld_diameter": brace.weld_diameter, "length": brace.length,
        "edge": edge, "shear": q * brace.length, "load_factor": brace.load_factor,
        "handbook_factor": brace.handbook_factor, "coupons": brace.coupons, "id": brace.id,
    }  # fmt: skip
    if isinstance(family, Lap):
        data["lap"] = float(family.overlap)
    if brace.cycles is not None:
        # the flow comes in all along the line
        data |= {"cycles": brace.cycles, "load_range": brace.load_range, "enters": "along"}
    return data


def weld_line(action: BraceAction) -> tuple[list[Check], dict[str, Amount], tuple[Caution, ...]]:
    """The spots of the weld lines where a pitch is given, their values, and the cautions of the seam."""
    brace = action.brace
    if not brace.core.weld_lines:
        return [], {}, ()
    q = weld_flow(brace, action.V)
    Q = q * action.I_y / action.V if action.V else 0.0
    twist = _twist_flow(action)
    q += twist
    flow = joint_flow.SHEAR_FLOW.evaluate(V=action.V, Q=Q, I=action.I_y)
    step = Stated("Q", "mm^3", Q, "first moment that one weld line answers for, from the section's shear flow")
    twisted = [Stated("q_T", "N/mm", twist, "flow of the torque round its cell (Bredt), added")] if twist else []
    values = {"weld_flow": Amount(q, "N/mm")}
    lines = len(brace.core.weld_lines)
    each = f"{lines} weld lines, each" if lines > 1 else "one weld line,"
    if brace.pitch is None:
        note = (
            f"{each} {Measure(q, unit='N/mm'):.4g} at the greatest shear force; give a pitch, or let the "
            "comparison find one"
        )
        return [SPOT_LINE.info(demand=q, unit="N/mm", trace=[step, flow, *twisted], note=note)], values, ()
    try:
        seam = build(SpotSeam, {**seam_data(brace, q), "pitch": brace.pitch})
    except InputError as error:
        raise InputError(f"the weld line cannot be spotted: {error}", field="pitch") from error
    judged = check_seam(seam)
    worst = judged.worst
    per_spot = joint_flow.LOAD_PER_SPOT.evaluate(q_line=q, p=brace.pitch)
    values["spot_load"] = Amount(float(per_spot.value), "N")
    values["pitch"] = Amount(brace.pitch, "mm")
    if judged.status == "outside" or worst is None or worst.capacity is None or worst.demand is None:
        reason = joined("; ", judged.unjudged) or "no method applies to these spots"
        return [SPOT_LINE.outside(reason, demand=float(per_spot.value), trace=[step, flow, *twisted])], values, ()
    check = SPOT_LINE.judge(
        capacity=worst.capacity.value or 0.0,
        demand=worst.demand.value or 0.0,
        required=worst.required_factor or 1.0,
        unit=worst.capacity.unit,
        trace=[step, flow, *twisted, per_spot, *worst.trace],
        note=f"governed by {worst.title}, {worst.key}; {each} {Measure(q, unit='N/mm'):.4g}",
    )
    return [check, *_pressed_skin(action, q)], values, judged.cautions


def _pressed_skin(action: BraceAction, q: float) -> list[Check]:
    """Sheet between spots that a moment or a thrust presses: pitch, and buckling.

    Of a hat-skin the skin, its bottom as it is drawn; of a lap either sheet.
    """
    brace = action.brace
    faces = ("bottom",) if isinstance(brace.core, HatSkin) else ("top", "bottom")
    bent = [
        (action.loads_moment("sagging" if action.face("top") == face else "hogging") + action.extra.get(face, 0.0))
        / action.modulus(face)
        for face in faces
    ]
    f_c = max(0.0, *bent) + brace.compression / float(action.p.area[0])
    if not f_c:
        return []
    f_c = max(f_c, 1e-3)
    data = {**seam_data(brace, q), "pitch": brace.pitch, "compression": f_c}
    pressed = between_spots(SeamAction(build(SpotSeam, data)))
    return [c for c in pressed if c.method in (AISI_PITCH, BETWEEN_SPOTS)]


# --- making it ---------------------------------------------------------------------------------------


def folding(action: BraceAction) -> tuple[list[Check], dict[str, Amount]]:
    """Whether the profile can be folded: radii, legs on the die, the bend list; blank and brake force as values."""
    brace = action.brace
    family, nominal = brace.family, brace.sheets[0].thickness
    made = brace.section.once(
        ("blank", brace.k_factor), lambda: blank(family, K=brace.k_factor, density=brace.sheets[0].material.density)
    )
    values = {"blank_width": Amount(float(made.width[0]), "mm")}
    if made.widths and isinstance(family, HatSkin):
        values["skin_width"] = Amount(float(np.atleast_1d(made.widths["skin"])[0]), "mm")
    values["blank_mass"] = Amount(float(made.mass_per_metre[0]) * brace.length * 1e-3, "kg")
    parts = family.flats_and_bends().parts
    bends = [part for part in parts if isinstance(part, Bend)]
    if not bends or isinstance(family, Tube | RectTube):
        return [], values
    checks: list[Check] = []
    about = brace.sheets[0].material
    rows: tuple[BendRow, ...] = ()
    if brace.sheets[0].has_yield:
        f_y = brace.sheets[0].f_y
        rows = brace.section.once(
            ("bends", brace.k_factor), lambda: bend_list(family, f_y=f_y, E=about.E, K=brace.k_factor)
        )
        values["overbend"] = Amount(max(row.overbend for row in rows), "deg")
    force = brake_force(R_m=brace.sheets[0].f_u, length=1.0, t=nominal, V=brace.die)
    values["brake_force"] = Amount(force, "N/mm")
    tightest = min(bends, key=lambda bend: float(bend.r[0] / bend.t[0]))
    r, t = float(tightest.r[0]), float(tightest.t[0])
    checks += _radius(action, r, t)
    checks += _legs(action)
    text = "; ".join(
        f"{row.name} {row.angle:.3g}° r {mm(row.r):.3g}, middle at {mm(row.at):.4g}, "
        f"bend to {row.angle + row.overbend:.4g}°"
        for row in rows
    )
    if text:
        checks.append(FOLD_LIST.info(unit="mm", note=text))
    return checks, values


def _radius(action: BraceAction, r: float, t: float) -> list[Check]:
    sheet = action.brace.sheets[0]
    e = sheet.material.elongation
    strain = forming.OUTER_STRAIN.evaluate(r=r, t=t)
    checks = []
    by_strain = None if e is None else forming.RADIUS_FOR_STRAIN.evaluate(t=t, e=e)
    least = least_radius(sheet, r, t)
    steps: list[Evaluation | Stated] = [strain, Stated("r_min", "mm", least, f"{least / t:.3g} thicknesses")]
    note = f"outer face strained {100 * float(strain.value):.0f} %"
    if by_strain is not None and e is not None:
        steps.append(by_strain)
        if below(r, float(by_strain.value)):
            note += (
                f", more than the elongation of {100 * e:.0f} % (that rule, on the safe side, asks for "
                f"{mm(float(by_strain.value)):.3g}): fold a strip across the grain first"
            )
    if below(r, least):
        note += "; it may crack: take a larger radius"
    checks.append(FOLD_RADIUS.judge(capacity=r, demand=least, unit="mm", trace=steps, note=note))
    if at_most(sheet.f_u, forming.FOLDS_FREELY) and at_most(t, forming.MOST_DIN) and sheet.material.family == "steel":
        row = next(x for x in load("bend_radius_min").rows if above(t, x.need("t_over")) and at_most(t, x.need("t_to")))
        tight = "a smaller radius is folded in practice, and thins the bend" if below(r, row.need("radius_min")) else ""
        checks.append(FOLD_DIN.info(capacity=r, demand=row.need("radius_min"), unit="mm", note=tight))
    return checks


@dataclass(frozen=True, slots=True)
class Leg:
    """An outside leg at a free edge: its length, the shortest the die holds, the opening; arrays over candidates."""

    name: str
    length: Array
    least: Array
    opening: Array


def legs(family: Family, die: float | None = None) -> list[Leg]:
    """The outside legs at free edges of every candidate, against a die of opening `die` [mm], else eight t."""
    listed = list(family.flats_and_bends().parts)
    found = []
    for i, part in enumerate(listed):
        if not isinstance(part, Flat) or part.role not in ("outstand", "lip"):
            continue
        step = 1 if part.free_end == "start" else -1
        beside = listed[i + step] if 0 <= i + step < len(listed) else None
        length = part.length
        if isinstance(beside, Flat) and beside.sheet == part.sheet and 0 <= i + 2 * step < len(listed):
            # a weld line cuts a flange into two flats: the leg runs on to the bend
            length, beside = length + beside.length, listed[i + 2 * step]
        if not isinstance(beside, Bend) or beside.sheet != part.sheet:
            continue
        opening = np.asarray(forming.DIE_OPENING(t=part.t) if die is None else np.full(1, die))
        turn = np.minimum(beside.angle, pi / 2)
        length = length + forming.SETBACK(r=beside.r, t=part.t, theta=turn)
        found.append(Leg(part.name, np.asarray(length), np.asarray(forming.LEAST_FLANGE(V=opening)), opening))
    return found


def least_radius(sheet: Sheet, r: float, t: float) -> float:
    """Least inside bend radius that is folded [mm].

    One thickness, drawing steel (elongation 28 % or more) half of it: common practice.  A smaller
    radius in steel above 390 MPa is asked what the elongation at fracture allows.
    """
    e = sheet.material.elongation
    drawing = e is not None and at_least(e, forming.DRAWING)
    least = (forming.LEAST_RADIUS_DRAWING if drawing else forming.LEAST_RADIUS) * t
    if e is not None and above(sheet.f_u, forming.FOLDS_FREELY) and below(r, least):
        return max(least, float(forming.RADIUS_FOR_STRAIN(t=t, e=e)))
    return least


def _legs(action: BraceAction) -> list[Check]:
    found = legs(action.brace.family, action.brace.die)
    if not found:
        return []
    leg = min(found, key=lambda one: float(one.length[0] / one.least[0]))
    length, least, opening = (float(v[0]) for v in (leg.length, leg.least, leg.opening))
    note = f"{leg.name}, die opening {mm(opening):.3g}" + (
        "" if action.brace.die is not None else " (eight thicknesses)"
    )
    if below(length, least):
        note += "; it slips into the die: make the leg longer or the die narrower"
    trace = [forming.LEAST_FLANGE.evaluate(V=opening)]
    return [FOLD_LEG.judge(capacity=length, demand=least, unit="mm", trace=trace, note=note)]
