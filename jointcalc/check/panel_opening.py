"""An opening in a panel: judged where flat sheet is sheared, said to be outside in every other load and measure.

The sheet as if it were whole bounds what is left of it from above: what is over without the opening is over with it;
what holds without it says nothing.  An opening off the middle is taken as the larger one at the middle that encloses
it.  A flange round its edge only helps and counts for nothing.
"""

from __future__ import annotations

from dataclasses import replace

from jointcalc.check.common import LIMIT, once
from jointcalc.check.panel_action import PanelAction
from jointcalc.check.panel_base import NO_YIELD, PARTIAL_0, PARTIAL_1, Trace
from jointcalc.check.panel_floor import FREQUENCY
from jointcalc.check.panel_plane import SHEAR_YIELD
from jointcalc.check.panel_shape import ON_SHAPE
from jointcalc.formula import plate as plate_formulas
from jointcalc.formula import plate_opening as formulas
from jointcalc.formula import plate_ultimate as ultimate
from jointcalc.formula.branch import above
from jointcalc.formula.core import Source
from jointcalc.model.opening import Opening
from jointcalc.quantity.sentence import mm
from jointcalc.result import DETAILING, Check, Looked, method

BUCKLING = method("plate.opening-shear-buckling", "Shear round an opening, buckling", formulas.HOLED, per="member",
                  basis="elastic buckling stress", factor=PARTIAL_1, covers=("shear round opening",))  # fmt: skip
FRAME = method("plate.opening-frame", "Shear in the strips beside an opening", formulas.FRAME, per="mm",
               basis="plastic strips", factor=PARTIAL_0, covers=("shear beside opening",))  # fmt: skip
COLLAR = method("forming.opening-flange-strain", "Strain of the flange round an opening", formulas.COLLAR, per="member",
                basis=DETAILING, bound="greatest", factor=LIMIT)  # fmt: skip
OWN = frozenset(m.key for m in (BUCKLING, FRAME, COLLAR))
WHOLE = "worked out for the whole sheet; with an opening it is less, and no published rule says by how much"
MOVES = "worked out for the whole sheet; an opening changes it, and no published rule says by how much"


@once
def opened(action: PanelAction) -> list[Check]:
    """What an opening adds: shear round it and beside it, and its flange."""
    opening = action.panel.hole
    if opening is None:
        return []
    q = abs(action.panel.shear)
    return [*(_sheared(action, opening, q) if q else ()), *_flanged(action, opening)]


def opening_left(action: PanelAction) -> list[str]:
    """The loads of a panel with an opening that nothing judges."""
    if action.panel.hole is None:
        return []
    judged = {c.method.key for c in opened(action) if c.status in ("ok", "over")}
    missing = []
    if action.panel.shear and not {BUCKLING.key, FRAME.key} <= judged:
        missing.append("shear of a sheet with an opening: no method applies to it as it is")
    if action.across:
        missing.append(
            "load across a panel with an opening: no published rule; leave it whole, or brace round the opening"
        )
    if action.pushed:
        missing.append("thrust on a panel with an opening: no published rule for sheet as thin as this")
    return missing


def as_opened(action: PanelAction, check: Check) -> Check:
    """What a check of the whole sheet still says of one with an opening; of one without, the check itself."""
    if action.panel.hole is None:
        return check
    rule = check.method
    if rule.bound == "information" or check.status == "info":
        return replace(check, note=f"{check.note}; as if the sheet were whole" if check.note else "as if whole")
    if action.across and rule.key in ON_SHAPE and check.status == "ok":
        return rule.outside(WHOLE, unit=check.demand.unit if check.demand else "N", trace=check.trace)
    if rule.basis == DETAILING or check.demand is None or not check.demand.value:
        return check
    if rule.key == FREQUENCY.key:  # an opening takes away mass as well as stiffness
        return rule.outside(MOVES, demand=check.demand.value, unit=check.demand.unit)
    if check.status == "over":
        return replace(check, note=f"{check.note}; even without the opening" if check.note else "even if whole")
    if check.status == "ok" and rule.key != SHEAR_YIELD.key:
        where = check.key.removeprefix(rule.key).removeprefix(".")
        silent = rule.outside(WHOLE, demand=check.demand.value, unit=check.demand.unit, trace=check.trace, where=where)
        return replace(silent, used_at_least=check.utilisation, edge=replace(check, note=WHOLE).at_its_edge())
    return check


def _sheared(action: PanelAction, opening: Opening, q: float) -> list[Check]:
    if action.panel.strip is not None:
        reason = "an opening among beads: they end at it, and no published rule tells what that leaves"
        return [BUCKLING.outside(reason, demand=q / action.t, unit="MPa"), FRAME.outside(reason, demand=q, unit="N/mm")]
    return [_buckled(action, opening, q), _beside(action, opening, q)]


def _buckled(action: PanelAction, opening: Opening, q: float) -> Check:
    """Elastic buckling with the enclosing opening at the middle, below the curve for imperfect sheet."""
    demand, required = q / action.t, action.gamma_M1 * action.gamma
    long, short = max(action.a, action.b), min(action.a, action.b)
    off_x, off_y = abs(opening.x - action.a / 2), abs(opening.y - action.b / 2)
    simple = action.edge == "simple"
    coefficient = plate_formulas.SHEAR_COEFFICIENT_SIMPLE if simple else plate_formulas.SHEAR_COEFFICIENT_CLAMPED
    k_0 = coefficient.evaluate(a=long, b=short)
    given = {
        "k_0": float(k_0.value),
        "alpha_c": formulas.ALPHA_FREE if simple else formulas.ALPHA_CLAMPED,
        "a": long,
        "b": short,
    }
    if opening.family == "round":
        formula = formulas.HOLED_COEFFICIENT_ROUND
        enclosing = {"d": opening.width + 2 * (off_x**2 + off_y**2) ** 0.5}
        most = {"d": 0.5 * short}
    else:
        formula = formulas.HOLED_COEFFICIENT_RECTANGLE
        along, over = opening.width + 2 * off_x, opening.height + 2 * off_y
        sides = (along, over) if action.a >= action.b else (over, along)
        enclosing = dict(zip(("l_c", "h_c"), sides))
        most = {"l_c": min(sides[0], 0.5 * long), "h_c": min(sides[1], 0.5 * short)}
    reasons = formula.outside(**given, **enclosing)
    k = formula.evaluate(**given, **(most if reasons else enclosing))
    elastic = ultimate.PLATE_STRESS.evaluate(k_sigma=float(k.value), **action.plate, b=short)
    capacity = float(elastic.value)
    trace: Trace = [k_0, k, elastic]
    if not action.sheet.has_yield:
        return BUCKLING.outside(NO_YIELD, demand=demand, unit="MPa", trace=trace)
    slenderness = ultimate.SHEAR_SLENDERNESS.evaluate(f_y=action.sheet.f_y, tau_cr=capacity)
    chi = ultimate.SHEAR_REDUCTION.evaluate(lamda_w=float(slenderness.value))
    strength = ultimate.SHEAR_STRENGTH.evaluate(chi_w=float(chi.value), f_y=action.sheet.f_y)
    capacity = min(capacity, float(strength.value))
    trace += [slenderness, chi, strength]
    whole = {"capacity": capacity, "demand": demand, "required": required, "unit": "MPa", "trace": trace}
    if reasons:
        return BUCKLING.at_most(reasons, **whole)  # type: ignore[arg-type]
    words = ["elastic: nothing beyond the first waves is counted with an opening"]
    if above(max(off_x, off_y), 0):
        words.append(f"taken as an opening at the middle that encloses it, {mm(max(enclosing.values())):.4g}")
    if opening.flange:
        words.append("its flange is left out, on the safe side")
    return BUCKLING.judge(note="; ".join(words), **whole)  # type: ignore[arg-type]


def _beside(action: PanelAction, opening: Opening, q: float) -> Check:
    """The strips left on either side, both ways."""
    if not action.sheet.has_yield:
        return FRAME.outside(NO_YIELD, demand=q, unit="N/mm")
    worst = None
    lines: Trace = []
    round_ = opening.family == "round"
    for long, high, side, at in (
        (opening.width, opening.height, action.b, opening.y),
        (opening.height, opening.width, action.a, opening.x),
    ):
        before: Trace = []
        length, height = long, high
        if round_:
            own_w, own_h = formulas.ROUND_LENGTH.evaluate(d=long), formulas.ROUND_HEIGHT.evaluate(d=high)
            before = [own_w, own_h]
            length, height = float(own_w.value), float(own_h.value)
        depth = min(at, side - at) - height / 2
        flow = formulas.FRAME_FLOW.evaluate(f_y=action.sheet.f_y, t=action.t, h=depth, w=length, side=side)
        # the cut through the middle of a round opening is its whole diameter
        net = formulas.FRAME_FLOW.evaluate(
            f_y=action.sheet.f_y, t=action.t, h=min(at, side - at) - high / 2,
            w=0.0, side=side,
        )  # fmt: skip
        for found in (flow, net):
            if worst is None or float(found.value) < float(worst.value):
                worst = found
                lines = [*(before if found is flow else []), found]
    assert worst is not None
    return FRAME.judge(
        capacity=float(worst.value), demand=q, required=action.gamma_M0 * action.gamma, unit="N/mm", trace=lines,
        note="the narrower strip, either way, carries half the shear",
    )  # fmt: skip


def _flanged(action: PanelAction, opening: Opening) -> list[Check]:
    if not opening.flange:
        return []
    about = action.sheet.material
    radius = opening.width / 2 if opening.family == "round" else opening.corner
    strain = formulas.COLLAR_STRAIN.evaluate(r_c=radius, f=opening.flange)
    if about.elongation is None:
        reason = f"no elongation is tabulated for {about.grade}"
        return [COLLAR.outside(reason, demand=float(strain.value), unit="1", trace=[strain])]
    source = Source(about.standard, "", "from memory")
    looked = Looked("A", "1", about.elongation, "materials", f"elongation of {about.grade}", source)
    return [
        COLLAR.judge(
            capacity=about.elongation, demand=float(strain.value), unit="1", trace=[strain, looked],
            note="the edge of the hole grows to the size of the finished opening; a burr or a rough cut tears sooner",
        )
    ]  # fmt: skip


__all__ = ["OWN", "as_opened", "opened", "opening_left"]
