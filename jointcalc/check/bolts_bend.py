"""The sheet bent between its supports by a pull out of its plane: our own bounds (`jointcalc.formula.bolt_pull`)."""

from __future__ import annotations

import numpy as np

from jointcalc.check.bolts_action import BoltsAction, Place
from jointcalc.check.bolts_leg import Leg, no_yield
from jointcalc.check.bolts_ring import bears
from jointcalc.check.common import YIELDS, Steps, gamma_M0
from jointcalc.formula import backing_plate, bolt_pull, plate_bending
from jointcalc.formula.branch import below
from jointcalc.quantity.sentence import mm
from jointcalc.result import Check, Method, Stated, method
from jointcalc.statics.group_common import Array

BENDING = method(
    "sheet-bending.fastener",
    "Sheet bent round the fastener",
    bolt_pull.OURS,
    per="fastener",
    basis="folding (upper bound) or hanging at the dish allowed (lower bound), own derivation",
    factor=YIELDS,
    covers=("bending",),
)
BENDING_GROUP = method(
    "sheet-bending.group",
    "Sheet bent round the group",
    bolt_pull.OURS,
    per="group",
    basis="folding (upper bound) or hanging at the dish allowed (lower bound), own derivation",
    factor=YIELDS,
)
PRESSING_ONE = method(
    "sheet-bending.pressed-fastener",
    "Sheet pressed in by one fastener",
    bolt_pull.OURS,
    per="fastener",
    basis="folding (upper bound) or hanging at the dish allowed (lower bound), own derivation",
    factor=YIELDS,
    covers=("pressing",),
)
PRESSING = method(
    "sheet-bending.pressed",
    "Sheet pressed in by the group",
    bolt_pull.OURS,
    per="group",
    basis="folding (upper bound) or hanging at the dish allowed (lower bound), own derivation",
    factor=YIELDS,
    covers=("pressing",),
)


def bending(action: BoltsAction, pull: Array, brackets: tuple[Leg, ...]) -> list[Check]:
    """The outer sheets bent round each fastener and round the whole group; a named leg in place of its sheet."""
    group = action.item
    checks: list[Check] = [leg.check for leg in brackets]
    named = brackets[0].n if len(brackets) == 1 else None
    outer = sorted({0, len(group.sheets) - 1})
    for n in outer:
        place = Place(action, n)
        if group.fastener.kind != "rivet" and pull.max() and named != n:
            checks += _bent(place, pull)
        if action.press.max() and (len(outer) == 1 or group.pulled != n + 1):
            checks += _pressed(place)
    return checks


def _stiff(place: Place) -> tuple[float, str]:
    """Radius of what pulls on the sheet at one fastener [mm] and what it is."""
    group = place.group
    if group.fastener.kind == "rivet":
        return group.fastener.d, "the rivet's head, twice its diameter wide"
    if group.fastener.kind == "rivnut" and place.n == len(group.sheets) - 1:
        return group.fastener.body / 2, "the rivet nut's body"
    if group.countersunk and place.n == 0:
        return group.sink[0] / 2, "the countersunk head"
    d_w, _ = bears(group, place.sheet.t)
    return d_w / 2, "head or washer"


def _plate_on(place: Place) -> tuple[float, float] | None:
    """Radius [mm] of the spreader plate on this sheet and its plastic moment; None without one."""
    group = place.group
    if group.plate is None or place.n != len(group.sheets) - 1:
        return None
    short = min(group.plate[:2])
    R_p = min(short, group.pitch) / 2 if group.pitch is not None else short / 2
    return R_p, float(backing_plate.PLASTIC_MOMENT(f_y_p=group.plate_yield, t_p=group.plate[2]))


def _bent(place: Place, pull: Array) -> list[Check]:
    c, what = _stiff(place)
    one = _judge_bending(BENDING, place, float(pull.max()), c, what, [place.action.share("T", pull)], plate=True)
    if int((pull > 0).sum()) == 1:
        return [one]
    return [one, _over_group(BENDING_GROUP, place, pull, "pulled")]


def _pressed(place: Place) -> list[Check]:
    """What presses on the sheet: all of it together, and of several fasteners the hardest pressed, wide of the rest."""
    press = place.action.press
    together = _over_group(PRESSING, place, press, "pressed")
    if int((press > 0).sum()) == 1:
        return [together]
    c, what = _stiff(place)
    one = _judge_bending(PRESSING_ONE, place, float(press.max()), c, what, [place.action.share("T", press)])
    return [one, together]


def _over_group(method_: Method, place: Place, force: Array, how: str) -> Check:
    """The sheet bent by all fasteners that pull (or press) on it together."""
    c, _ = _stiff(place)
    on = force > 0
    points = place.action.group.points[on]
    around = _perimeter(points)
    radius = around / (2 * np.pi) + c
    total = float(force.sum())
    words = f"the {len(points)} fasteners together, {mm(around):.4g} round their centres"
    if len(points) == 1:
        words = "head or washer"
    given = Stated("T", "N", total, f"sum of the shares of the fasteners that are {how}")
    return _judge_bending(method_, place, total, radius, words, [given])


def _perimeter(points: Array) -> float:
    """Perimeter of the convex hull of points [mm]: twice the length for a row, 0 for one point."""
    if len(points) == 1:
        return 0.0
    order = sorted({(float(x), float(y)) for x, y in points})

    def half(of: list[tuple[float, float]]) -> list[tuple[float, float]]:
        hull: list[tuple[float, float]] = []
        for p in of:
            while len(hull) > 1 and (hull[-1][0] - hull[-2][0]) * (p[1] - hull[-2][1]) <= (
                hull[-1][1] - hull[-2][1]
            ) * (p[0] - hull[-2][0]):
                hull.pop()
            hull.append(p)
        return hull

    loop = [*half(order)[:-1], *half(order[::-1])[:-1]]
    return float(sum(np.hypot(a[0] - b[0], a[1] - b[1]) for a, b in zip(loop, [*loop[1:], loop[0]])))


def _judge_bending(
    method: Method, place: Place, demand: float, c: float, what: str, given: Steps, plate: bool = False
) -> Check:
    """Folding against hanging, the greater; the plate stiff or folding with the sheet, the lesser."""
    group, sheet, where = place.group, place.sheet, place.where
    if not sheet.has_yield:
        return method.outside(no_yield(), demand=demand, where=where)
    L = group.supports
    reach = bolt_pull.REACH.evaluate(L=L)
    R = float(reach.value)
    supports = Stated("L", "mm", L, "between the supports, as given" if group.between is not None else "assumed")
    moment = plate_bending.PLASTIC_MOMENT.evaluate(f_y=sheet.f_y, t=sheet.t)
    m_p = float(moment.value)
    start: Steps = [*place.before, supports, reach, moment]
    edge = place.nearest_edge
    near = edge is not None and below(edge, R)
    spreader = _plate_on(place) if plate else None

    if bolt_pull.FOLD_WITH_PLATE.outside(R=R, c=c):
        # what pulls reaches the supports: they carry it, the sheet between does not bend
        words = (
            "head, plate or group reaches as far as the supports: they carry it, the sheet does not bend between them"
        )
        return method.info(demand=demand, trace=start, where=where, note=words)
    R_p, m_pl = spreader or (c, 0.0)
    R_p = max(R_p, c)
    stiff = Stated("c", "mm", c, f"radius of {what}")
    folds = [_fold(m_p, R, c, edge if near else None, m_pl, R_p)]
    if spreader is not None and not bolt_pull.FOLD_WITH_PLATE.outside(R=R, c=R_p):
        folds.append([Stated("c", "mm", R_p, "spreader plate, stiff"), *_fold(m_p, R, R_p, edge if near else None)])
    fold = min(folds, key=lambda steps: float(steps[-1].value))
    capacity, steps, mode = float(fold[-1].value), [stiff, *fold], "folds"
    if near:
        mode = f"folds, a free edge {mm(edge or 0.0):.3g} away"
    else:
        hung = _hang(place, R, c, spreader)
        if float(hung[-1].value) > capacity:
            capacity, mode = float(hung[-1].value), f"hangs, dished {mm(group.dish_allowed):.3g}"
            steps = [stiff, *hung]
    words = f"sheet {mode}, supports {mm(L):.4g} apart" + ("" if group.between is not None else " (assumed: 'between')")
    if edge is None:
        words += ", taken to run on to them all round: no edge is given"
    partial, metal = gamma_M0([sheet])
    words = f"{words}; {metal}" if metal else words
    return method.judge(
        capacity=capacity,
        demand=demand,
        required=partial * group.load_factor,
        trace=[*start, *steps, *given],
        where=where,
        note=words,
    )


def _fold(m_p: float, R: float, c: float, edge: float | None, m_pl: float = 0.0, R_p: float = 0.0) -> Steps:
    """Folding about a head of radius `c`, with the fan of a spreader plate beside the sheet's; ends with the pull."""
    if edge is not None:
        fold = bolt_pull.FOLD_AT_EDGE.evaluate(m_p=m_p, R=R, c=c, e=edge)
        if not m_pl:
            return [fold]
        more = bolt_pull.FOLD_WITH_PLATE.evaluate(m_p=0.0, m_pl=m_pl, R=R, R_p=R_p, c=c)
        return [fold, more, Stated("P", "N", float(fold.value) + float(more.value), "both fans together")]
    if m_pl:
        return [bolt_pull.FOLD_WITH_PLATE.evaluate(m_p=m_p, m_pl=m_pl, R=R, R_p=R_p, c=c)]
    return [plate_bending.FOOT.evaluate(m_p=m_p, U=2 * np.pi * c, s=R - c)]


def _hang(place: Place, R: float, c: float, spreader: tuple[float, float] | None) -> Steps:
    """Hanging from a head of radius `c`, or from the best ring within a spreader plate; ends with the pull."""
    group, sheet = place.group, place.sheet
    w = group.dish_allowed
    dish = Stated("w", "mm", w, "given" if group.dish is not None else "allowed by habit")
    membrane: dict[str, float] = {"f_y": sheet.f_y, "t": sheet.t, "w": w, "R": R}
    ring = c
    steps: Steps = [dish]
    if spreader is not None and spreader[0] > c * (1 + 1e-9):
        R_p, m_pl = spreader
        bent: dict[str, float] = {"m_p": m_pl, "d_h": min(group.d_plate, 2 * c * 0.999), "c": c}
        low, high = c * (1 + 1e-9), min(R_p, R * (1 - 1e-9))
        # the plate stands the less the further the ring, the sheet the more: halving finds where they meet
        for _ in range(60):
            ring = (low + high) / 2
            if backing_plate.PLATE_ON_RING(R=ring, **bent) > bolt_pull.HANG(c=ring, **membrane):
                low = ring
            else:
                high = ring
        over = backing_plate.PLATE_ON_RING.evaluate(R=ring, **bent)
        hang = bolt_pull.HANG.evaluate(c=ring, **membrane)
        found = Stated("c", "mm", ring, "ring on which plate and sheet carry alike, or the plate's rim")
        last = [hang, over] if float(over.value) < float(hang.value) else [over, hang]
        return [*steps, found, *last]
    return [*steps, bolt_pull.HANG.evaluate(c=ring, **membrane)]
