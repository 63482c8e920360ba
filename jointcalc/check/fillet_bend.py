"""What a load out of the plane of the welds bends: the sheet under them, a lapped plate, a part at its foot.

- The sheet that the welds sit on folds about the foot they outline (`formula.plate_bending`): yield lines, so where a
  lasting dent begins.  Pull and tilt add up in a straight line, the two tilts of a foot as squares.  A pull off the
  middle is a pull in the middle and a tilt; or, since a stiff foot holds no less than a point of the bare sheet, a pull
  at the point of the foot nearest to it and a smaller tilt: the better of the two, for both are in equilibrium.  On a
  rectangular or round tube the rules of EN 1993-1-8, chapter 7 stand beside it; the lower counts.
- A lapped plate folds between its welds and what stands on it; a plate on edge folds along its foot.
- The root of a one-sided fillet stands in `fillet_root`.

The part that stands on the welds is taken as stiff; it is a member of its own.
"""

from __future__ import annotations

from math import hypot

import numpy as np

from jointcalc.check.common import CHARACTERISTIC, YIELDS, gamma_M0
from jointcalc.check.fillet_action import NOTHING, FilletAction
from jointcalc.check.heat import beside
from jointcalc.formula import plate_bending as bend
from jointcalc.formula.branch import above, at_most, most
from jointcalc.formula.core import Evaluation, Source
from jointcalc.formula.safety import GAMMA_M_OTHER
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.sentence import mm
from jointcalc.result import Check, Looked, Method, Need, Stated, method
from jointcalc.result.factor import partial
from jointcalc.statics.group_common import Array

LINES = "upper bound of plastic collapse, yield lines"

SHEET = method(
    "yield-line.sheet-under-welds", "Sheet folds under the welds", bend.OURS, per="group", basis=LINES,
    factor=YIELDS, covers=("bend",),
)  # fmt: skip
WALL = method(
    "en1993-1-8.wall-under-welds", "Wall of the tube folds under the welds", Source(bend.EN8, "7.4, 7.5"), per="group",
    basis=CHARACTERISTIC, factor=partial("γ_M5", 1.0, GAMMA_M_OTHER), covers=("bend",),
)  # fmt: skip
BACKED = method(
    "yield-line.backed", "Sheet under the welds is backed", Source("as stated by the builder", "", "common practice"),
    per="group", basis="statement", factor="none", bound="information",
)  # fmt: skip
PLATE = method(
    "yield-line.lapped-plate", "Lapped plate folds between its welds", bend.OURS, per="group", basis=LINES,
    factor=YIELDS, covers=("plate",),
)  # fmt: skip
FOOT = method(
    "yield-line.part-at-foot", "Part folds along its foot", bend.OURS, per="group", basis="plastic moment",
    factor=YIELDS, covers=("foot",),
)  # fmt: skip

Working = list[Evaluation | Looked | Stated]


def bending(action: FilletAction) -> list[Check]:
    """Checks of everything a load out of the plane bends beside the welds; empty when there is none."""
    if not action.lifted or action.welds.weld == "butt":
        return []
    checks = [_carrier(action)]
    if action.welds.joint == "lap":
        checks.append(_lapped(action))
    elif action.welds.weld == "fillet" and action.one_plate and _own_moment(action):
        checks.append(_foot(action))
    return checks


def needs(action: FilletAction) -> list[Need]:
    """What of the load has to be covered here, and what is said when it is not."""
    m, found = action.welds, []
    if action.lifted:
        if m.weld == "butt":
            found.append(
                Need("bend", "the load bends the sheets beside a butt weld; that is judged as a panel or brace")
            )
        elif m.on != "backed":
            found.append(Need("bend", f"no method tells when {m.parts[1].label} folds under the welds"))
        if m.joint == "lap" and m.weld != "butt":
            found.append(Need("plate", f"no method tells when the lapped plate, {m.parts[0].label}, bends or peels"))
        if m.weld == "fillet" and action.one_plate and _own_moment(action):
            found.append(Need("foot", f"no method tells when {m.parts[0].label} folds at its foot"))
        if np.any(opening_pull(action)):
            found.append(Need("root", "a weld on one side only is pulled open at its root"))
    if partly_fused(action):
        found.append(Need("root", "a butt weld that does not go through is pulled off its middle"))
    return found


def _parts_of_load(action: FilletAction, about: Array | None = None) -> tuple[float, float, float]:
    """Force out of the plane [N] and the moments that tilt the foot along and across its longer side [N·mm].

    The moments are taken about a point of the plane, the middle of the foot where none is given.
    """
    x, y = action.foot.middle if about is None else about
    here = action.welds.acting.about(float(x), float(y))
    M_1, M_2 = action.foot.across(np.array([here.M_x, here.M_y]))
    return abs(here.F_z), M_1, M_2


def _nearest_pull(action: FilletAction) -> Array | None:
    """The point of the foot nearest to where the force out of the plane passes; None when there is no such force."""
    load = action.welds.acting
    size = action.foot.c_1 * abs(load.F_z)
    if size <= NOTHING * (size + abs(load.M_x) + abs(load.M_y)):
        return None
    return action.foot.nearest(np.array([-load.M_y, load.M_x]) / load.F_z)


def _carrier(action: FilletAction) -> Check:
    m = action.welds
    base = m.parts[1]
    if m.on == "backed":
        return BACKED.info(note="a web, frame or block stands right behind the welds, as stated: nothing to fold")
    left = beside(base)
    method = SHEET if m.on == "sheet" else WALL
    if left.f_y is None:
        return method.outside("the grade has no yield strength to compute with", demand=_parts_of_load(action)[0])
    trace: Working = [*left.working, bend.PLASTIC_MOMENT.evaluate(f_y=left.f_y, t=base.t)]
    if m.on == "sheet":
        return _flat(action, float(trace[-1].value), trace)
    return _wall(action, base, left.f_y, float(trace[-1].value), trace)


def _room(action: FilletAction) -> float | None:
    """Distance from the foot to the supports [mm]: its shorter side lies across the span, in the middle."""
    m = action.welds
    return None if m.between is None else (m.between - action.foot.c_2) / 2


def _flat(action: FilletAction, m_p: float, trace: Working) -> Check:
    m, foot = action.welds, action.foot
    F_z, M_1, M_2 = _parts_of_load(action)
    s = _room(action)
    if s is not None and at_most(s, 0.0):
        return SHEET.outside(
            f"the supports, {mm(m.between or 0.0):.4g} apart, lie inside the welds ({mm(foot.c_2):.4g} across): "
            "nothing folds "
            "between them that this describes; if they stand under the welds say 'on' backed",
            demand=F_z,
        )
    pulls = _pulls(action, m_p, s)
    pull = min(pulls, key=lambda e: float(e.value))
    less = 0.5 if m.free_edge is not None else 1.0
    tilts = []
    for c_1, c_2 in ((foot.c_1, foot.c_2), (foot.c_2, foot.c_1)):
        formula, own = bend.tilted(c_1=c_1, c_2=c_2, s=s)
        tilts.append(
            (formula.evaluate(m_p=m_p, **own), 0.5 if m.held == "simple" and formula is bend.TILT_NEAR else less)
        )
    if s is None:
        note = "far from supports: give the distance between them ('between') where they are near"
    else:
        held = "sheet free to turn on them" if m.held == "simple" else "sheet runs on"
        note = f"supports {mm(m.between or 0.0):.4g} apart, {held}"
    if m.free_edge is not None:
        note += f"; free edge {mm(m.free_edge):.4g} off"
    at = _nearest_pull(action)
    if at is not None:
        # a point of bare sheet holds so much wherever it lies, and a stiff foot about it does not make it less
        if m.free_edge is not None:
            bare = bend.FOOT_FAR_AT_EDGE.evaluate(m_p=m_p)
        elif m.held == "simple" and s is not None:
            bare = bend.FOOT_BETWEEN_SIMPLE.evaluate(m_p=m_p, c_1=0.0, c_2=0.0, s=m.between / 2 if m.between else s)
        else:
            bare = bend.FOOT_FAR.evaluate(m_p=m_p)
        moved = _parts_of_load(action, at)
        if _use(moved, bare, tilts) < _use((F_z, M_1, M_2), pull, tilts):
            return _sum(
                SHEET, action, moved, bare, tilts, trace, f"{note}; pulled at {mm(at[0] + 0.0, ', ', at[1] + 0.0):.4g}"
            )
    return _sum(SHEET, action, (F_z, M_1, M_2), pull, tilts, trace, note)


def _use(load: tuple[float, float, float], pull: Evaluation, tilts: list[tuple[Evaluation, float]]) -> float:
    """Use of the sheet; no limit where a moment has nothing to hold it."""
    F_z, *moments = load
    turned = [M / (less * float(t.value)) if M * t.value else M * 1e9 for M, (t, less) in zip(moments, tilts)]
    return F_z / float(pull.value) + hypot(*turned)


def _pulls(action: FilletAction, m_p: float, s: float | None) -> list[Evaluation]:
    """Every way the sheet can fold under a pull; the lowest counts."""
    m, foot = action.welds, action.foot
    sides = ((foot.c_1, foot.c_2), (foot.c_2, foot.c_1))
    if s is None:
        return [(bend.FOOT_FAR if m.free_edge is None else bend.FOOT_FAR_AT_EDGE).evaluate(m_p=m_p)]
    found = [bend.FOOT.evaluate(m_p=m_p, U=foot.U, s=s)]
    if m.held == "simple":
        found += [bend.FOOT_BETWEEN_SIMPLE.evaluate(m_p=m_p, c_1=a, c_2=b, s=s) for a, b in sides]
    if m.free_edge is not None:
        found += [bend.FOOT_AT_EDGE.evaluate(m_p=m_p, c_1=a, c_2=b, e=m.free_edge, s=s) for a, b in sides]
    return found


def _wall(action: FilletAction, base: Sheet, f_y: float, m_p: float, trace: Working) -> Check:
    """Face of a rectangular tube or wall of a round one, the tube along x; flat sheet of that width counts too."""
    m = action.welds
    assert m.between is not None
    points = m.group.lines.reshape(-1, 2)
    h_1, b_1 = (float(v) for v in np.ptp(points, axis=0))
    b_0 = m.between
    low, high = points.min(axis=0), points.max(axis=0)
    load = _tilts_of_tube(action, (low + high) / 2)
    F_z = load[0]
    if above(b_1, b_0):
        return WALL.outside(f"the welds reach {mm(b_1):.4g} across, the {m.on} is {mm(b_0):.4g} wide", demand=F_z)
    given = {"f_y": f_y, "t": base.t}
    # a foot nearly as wide as the member is carried by the side walls: what a narrower one holds is counted
    widest = most(bend.BOX_WALL, "beta")
    beta = min(b_1 / b_0, widest)
    eta = h_1 / b_0
    trace = [*trace, Stated("h_1", "mm", h_1, "reach of the welds along x"), Stated("b_1", "mm", b_1, "across")]
    s = max(b_0 - b_1, (1 - widest) * b_0) / 2
    fan_1, own_1 = bend.tilted(c_1=h_1, c_2=b_1, s=s)
    fan_2, own_2 = bend.tilted(c_1=b_1, c_2=h_1, s=s)
    flat = (fan_1.evaluate(m_p=m_p, **own_1), fan_2.evaluate(m_p=m_p, **own_2))
    if m.on == "box":
        pulls = [
            bend.BOX_WALL.evaluate(**given, eta=eta, beta=beta),
            bend.FOOT.evaluate(m_p=m_p, U=2 * (h_1 + b_1), s=s),
        ]
        tilt_1 = [flat[0]]
        if eta > 0:
            tilt_1.append(bend.BOX_WALL_MOMENT_ALONG.evaluate(**given, h_1=h_1, eta=eta, beta=beta))
        tilt_2 = [flat[1], bend.BOX_WALL_MOMENT_ACROSS.evaluate(**given, h_1=h_1, b_0=b_0, b_1=b_1, beta=beta)]
        note = f"face {mm(b_0):.4g} wide; no other stress in the tube counted"
        if above(b_1 / b_0, widest):
            note += f"; wider than {widest:g} of the face, where the side walls begin to carry: {widest:g} counted"
    elif not bend.WALL.inside({"D": b_0, "t": base.t}):
        # a curved wall is the stiffer one: that of flat sheet is on the safe side
        pulls, tilt_1, tilt_2 = [bend.FOOT_FAR.evaluate(m_p=m_p)], [flat[0]], [flat[1]]
        note = f"D/t = {b_0 / base.t:.3g}, over the {bend.WALL.high:g} of EN 1993-1-8: counted as flat sheet"
    else:
        wall = bend.TUBE_WALL.evaluate(**given, eta=eta, beta=beta)
        pulls = [wall]
        tilt_1 = [flat[0], bend.TUBE_WALL_MOMENT_ALONG.evaluate(N_1=float(wall.value), h_1=h_1)]
        tilt_2 = [flat[1], bend.TUBE_WALL_MOMENT_ACROSS.evaluate(N_1=float(wall.value), b_1=b_1)]
        note = f"tube of {mm(b_0):.4g}; no other stress in it counted"

    pull = _least(pulls)
    tilts = [(_least(tilt_1), 1.0), (_least(tilt_2), 1.0)]
    at = _nearest_pull(action)
    if at is not None:
        bare, moved = bend.FOOT_FAR.evaluate(m_p=m_p), _tilts_of_tube(action, at)
        if _use(moved, bare, tilts) < _use(load, pull, tilts):
            return _sum(
                WALL, action, moved, bare, tilts, trace, f"{note}; pulled at {mm(at[0] + 0.0, ', ', at[1] + 0.0):.4g}"
            )
    return _sum(WALL, action, load, pull, tilts, trace, note)


def _tilts_of_tube(action: FilletAction, about: Array) -> tuple[float, float, float]:
    """Force out of the plane and the moments that tilt a foot along and across a tube that runs along x."""
    here = action.welds.acting.about(float(about[0]), float(about[1]))
    return abs(here.F_z), abs(here.M_y), abs(here.M_x)


def _least(ways: list[Evaluation]) -> Evaluation:
    """The lowest of several ways to fold; one that has no reach in that direction says nothing."""
    return min([w for w in ways if float(w.value) > 0] or ways, key=lambda e: float(e.value))


def _sum(
    method: Method,
    action: FilletAction,
    load: tuple[float, float, float],
    pull: Evaluation,
    tilts: list[tuple[Evaluation, float]],
    trace: Working,
    note: str,
) -> Check:
    """Pull and tilts against what the sheet holds of each, added up."""
    F_z, M_1, M_2 = load
    partial, metal = gamma_M0([action.welds.parts[1]])
    required, note = partial * action.welds.load_factor, _told(note, metal)
    size = F_z * action.foot.c_1 + M_1 + M_2
    trace = [*trace]
    parts = []
    uses = [F_z / float(pull.value)]
    if size * NOTHING < F_z * action.foot.c_1:
        trace += [pull, Stated("F_z", "N", F_z, "service force out of the plane")]
        parts.append("pull")
    for n, (M, (tilt, less)) in enumerate(zip((M_1, M_2), tilts), 1):
        resists = less * float(tilt.value)
        if size * NOTHING >= M:
            uses.append(0.0)
            continue
        if resists <= 0:
            return method.outside("the welds have no reach across the moment that tilts them", demand=F_z, trace=trace)
        uses.append(M / resists)
        trace += [tilt, Stated(f"M_{n}", "N*mm", M, "service moment that tilts the foot")]
        parts.append("tilt")
        if less < 1:
            trace.append(Stated(f"k_{n}", "1", less, "of it near a free edge or on supports that turn"))
    if parts == ["pull"]:
        return method.judge(capacity=float(pull.value), demand=F_z, required=required, trace=trace, note=note)
    used = uses[0] + hypot(uses[1], uses[2])
    trace.append(Stated("u", "1", used, "F_z over its resistance, and the tilts over theirs as squares, added"))
    return method.judge(capacity=1.0, demand=used, required=required, unit="1", trace=trace, note=note)


def _told(*parts: str) -> str:
    return "; ".join(filter(None, parts))


def _own_moment(action: FilletAction) -> float:
    """Moment about the long axis of one plate on edge [N·mm]; 0 when it is nothing beside the rest of the load."""
    F_z, M_1, M_2 = _parts_of_load(action)
    least = NOTHING * (F_z * action.foot.c_1 + M_1 + M_2)
    return M_2 if least < M_2 else 0.0


def _foot(action: FilletAction) -> Check:
    """A plate on edge under a moment about its foot."""
    part, M = action.welds.parts[0], _own_moment(action)
    left = beside(part)
    if left.f_y is None:
        return FOOT.outside("the grade has no yield strength to compute with", demand=M, unit="N*mm")
    m_p = bend.PLASTIC_MOMENT.evaluate(f_y=left.f_y, t=part.t)
    holds = bend.EDGE_MOMENT.evaluate(m_p=float(m_p.value), L=action.foot.c_1)
    partial, metal = gamma_M0([part])
    return FOOT.judge(
        capacity=float(holds.value), demand=M, required=partial * action.welds.load_factor, unit="N*mm",
        trace=[*left.working, m_p, holds],
        note=_told("its bending and buckling further up are those of a member", metal),
    )  # fmt: skip


def _lapped(action: FilletAction) -> Check:
    """A lapped plate between its welds and what pulls it; a flap beyond them."""
    m, foot = action.welds, action.foot
    part = m.parts[0]
    F_z, M_1, M_2 = _parts_of_load(action)
    left = beside(part)
    if left.f_y is None:
        return PLATE.outside("the grade has no yield strength to compute with", demand=F_z)
    if action.in_line:
        return PLATE.outside(
            "a lap lifted off a single weld line peels: turn the joint so that the weld is sheared, or weld it on both "
            "sides or all round",
            demand=F_z,
        )
    m_p = bend.PLASTIC_MOMENT.evaluate(f_y=left.f_y, t=part.t)
    trace: Working = [*left.working, m_p]
    partial, metal = gamma_M0([part])
    required = partial * m.load_factor
    arm, reach = _beyond(action)
    a, b = m.patch if m.patch is not None else (0.0, 0.0)
    short, long = min(a, b), max(a, b)
    s = (_span(action) - short) / 2
    if at_most(s, 0.0):
        return PLATE.outside("what stands on the plate ('patch') is as large as the welds lie apart", demand=F_z)
    ways = [bend.FOOT_BETWEEN_SIMPLE.evaluate(m_p=float(m_p.value), c_1=x, c_2=y, s=s) for x, y in ((a, b), (b, a))]
    if np.any(action.one_sided):
        # not welded all round: the strip between the welds
        ways.append(bend.STRIP.evaluate(m_p=float(m_p.value), L=_facing(action), s=s))
    if arm > 0:
        # a flap just beyond the welds has hardly an arm: between them the plate must hold the force all the same
        ways.append(bend.FOLD.evaluate(m_p=float(m_p.value), L=reach, x=arm))
    pull = min(ways, key=lambda e: float(e.value))
    # the force itself, off the middle, is a pull; moments that no force out of the plane makes turn what stands on it
    turn = _turned(action)
    if turn <= NOTHING * (F_z * foot.c_1 + M_1 + M_2):
        trace += [pull, Stated("F_z", "N", F_z, "service force out of the plane")]
        note = "" if m.patch is not None else "pulled at a point: give the size of what stands on it ('patch')"
        if arm > 0:
            note = f"pulled {mm(arm):.4g} outside the welds"
        return PLATE.judge(
            capacity=float(pull.value), demand=F_z, required=required, trace=trace, note=_told(note, metal)
        )
    if m.patch is None:
        return PLATE.outside(
            "a moment turns what stands on the lapped plate: give its size ('patch')", demand=turn, unit="N*mm"
        )
    formula, own = bend.tilted(c_1=short, c_2=long, s=None)
    tilt = formula.evaluate(m_p=float(m_p.value), **own)
    holds = 0.5 * float(tilt.value)
    if np.any(action.one_sided):
        holds = min(holds, 2 * float(m_p.value) * _facing(action))
    used = F_z / float(pull.value) + turn / holds
    trace += [pull, tilt, Stated("M_pl", "N*mm", holds, "half of it: the plate may turn on its welds"),
              Stated("u", "1", used, "F_z and the moment over what the plate holds of each, added")]  # fmt: skip
    return PLATE.judge(capacity=1.0, demand=used, required=required, unit="1", trace=trace, note=metal)


def _turned(action: FilletAction) -> float:
    """Moment [N·mm] on a lapped plate that the arm of the force out of the plane does not make."""
    m = action.welds
    x, y = (m.at[0], m.at[1]) if m.at is not None else (0.0, 0.0)
    return hypot(m.acting.M_x - y * m.acting.F_z, m.acting.M_y + x * m.acting.F_z)


def _span(action: FilletAction) -> float:
    """What a lapped plate spans [mm]: its shorter side where welded all round, else square to its longest weld."""
    if not np.any(action.one_sided):
        return action.foot.c_2
    axis = action.welds.group.axes[int(action.welds.group.lengths.argmax())]
    return float(np.ptp(action.foot.hull @ np.array([-axis[1], axis[0]])))


def _facing(action: FilletAction) -> float:
    """Length of the strip between the welds [mm]: the shortest of those that run with the longest, or of all."""
    group = action.welds.group
    along = np.abs(group.axes @ group.axes[int(group.lengths.argmax())]) > np.sqrt(0.5)
    return float(group.lengths[along].min() if along.sum() > 1 else group.lengths.min())


def _beyond(action: FilletAction) -> tuple[float, float]:
    """How far outside the welds the force acts [mm], and the length that the flap folds along: their least width."""
    m = action.welds
    if m.at is None or m.acting.F_z == 0:
        return 0.0, 0.0
    at = np.array(m.at[:2])
    away = at - action.foot.nearest(at)
    arm = float(np.hypot(*away))
    if arm <= NOTHING * action.foot.c_1:
        return 0.0, 0.0
    return arm, action.foot.width


def opening_pull(action: FilletAction) -> np.ndarray:
    """Pull [N/mm] at both ends of every weld that opens its root: out of the plane, on one side only."""
    if action.welds.weld == "butt":
        return np.zeros_like(action.elastic.ends.lift)
    pull = np.where(action.one_sided[:, None], np.maximum(action.elastic.ends.lift, 0.0), 0.0)
    return np.where(pull > NOTHING * action.elastic.peak, pull, 0.0)


def partly_fused(action: FilletAction) -> bool:
    """Whether a butt weld that does not go through its sheet is loaded across."""
    m = action.welds
    return m.weld == "butt" and not at_most(m.thin.t, m.design_throat) and action.has(action.across)
