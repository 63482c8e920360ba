"""A lapped strap away from its welds: yields across, and bends edgewise where it leaves them.

The welds of a lap lie along the edges of the lapped part, so that their reach across tells its width where nobody does.
One weld along one edge tells none: there the width has to be said, and what is not said is told.  The pull spreads from
it to one side only, and a load that passes within that width bends nothing.
What is held at both of its ends is a patch and no strap: there no section passes the whole load.
"""

from __future__ import annotations

from math import hypot

import numpy as np

from jointcalc.check.common import CHARACTERISTIC, YIELDS, gamma_M0
from jointcalc.check.fillet_action import NOTHING, FilletAction
from jointcalc.check.heat import beside
from jointcalc.check.peel import NO_YIELD
from jointcalc.formula import rupture
from jointcalc.quantity.sentence import mm
from jointcalc.result import Check, Stated, method

STRAP = method(
    "en1993-1-1.strap", "Lapped part yields beside its welds", rupture.EN_SECTION, per="group", basis=CHARACTERISTIC,
    factor=YIELDS,
)  # fmt: skip
SPREAD = float(np.tan(np.radians(30.0)))
"""How far a pull spreads on each side over the length of its welds: 30 degrees, AISC Manual part 9, from memory."""
NEAR = np.radians(10.0)
"""Lines nearer than this to one across the strap end it; a force nearer to a weld's way pulls along it [rad]."""


def strap(action: FilletAction) -> list[Check]:
    """The section of a lapped part that passes all of a load in its plane; nothing where no section does."""
    m = action.welds
    size = hypot(m.acting.F_x, m.acting.F_y)
    if m.joint != "lap" or m.weld != "fillet" or not (action.has(action.along) or action.has(action.sideways)):
        return []
    # a moment alone bends the strap whichever way it runs on
    force = np.array([m.acting.F_x, m.acting.F_y]) / size if size > NOTHING * abs(action.here.M_z) else None
    found = []
    angles = {
        round(float(np.arctan2(y2 - y1, x2 - x1)) % (np.pi / 2), 6): (x1, y1, x2, y2) for x1, y1, x2, y2 in m.lines
    }
    for x1, y1, x2, y2 in angles.values():
        line = np.array([x2 - x1, y2 - y1]) / hypot(x2 - x1, y2 - y1)
        for way in (line, np.array([-line[1], line[0]])):
            check = _section(action, way, pulled=force is None or bool(abs(way @ force) > np.cos(NEAR)))
            found += [check] if check is not None else []
    return [max(found, key=lambda c: c.utilisation or 0.0)] if found else []


def _section(action: FilletAction, way: np.ndarray, *, pulled: bool) -> Check | None:
    """The section square to `way` where the strap leaves its welds; `pulled`: the way of the force itself."""
    m = action.welds
    points = np.array(m.lines, dtype=np.float64).reshape(-1, 2)
    across = np.array([-way[1], way[0]])
    u, v = points @ way, points @ across
    reach = float(np.ptp(v))
    at_one_edge = reach <= NOTHING * float(np.ptp(points, axis=0).max())
    if at_one_edge and (m.width is None or not pulled):
        return None
    spread = SPREAD * float(np.ptp(u)) if at_one_edge else reach + 2 * SPREAD * float(np.ptp(u))
    b = min(m.width, spread) if m.width is not None and pulled else reach
    at = None if m.at is None else float(np.array(m.at[:2]) @ way)
    room = NOTHING * max(float(np.ptp(points, axis=0).max()), 1.0)
    beyond = at is not None and (at > u.max() + room or at < u.min() - room)
    if not beyond and not (pulled and _open(points, way, u)):
        return None
    sheet = m.parts[0]
    left = beside(sheet)
    N, V = (abs(m.acting.F_x * d[0] + m.acting.F_y * d[1]) for d in (way, across))
    M = abs(action.here.M_z)
    if beyond and at is not None:
        station = u.max() if at > u.max() else u.min()
        middle = (float(v.min()) + float(v.max())) / 2
        M = abs(m.acting.about(*(station * way + middle * across).tolist()).M_z)
    if at_one_edge and N > NOTHING * M:
        # on whichever side of its weld the part lies, a load within its width may pass through its middle
        M = N * max(M / N - b, 0.0)
    A, W = b * sheet.t, sheet.t * b**2 / 6
    stress = rupture.SECTION_STRESS.evaluate(N=N, V=V, M=M, A=A, W_net=W)
    how = "reach of the welds across it"
    if m.width is not None and pulled:
        of = "the weld reach, to its one side," if at_one_edge else "the welds reach"
        how = "given" if b == m.width else f"what 30 degrees from {of} of the width given"
    trace = [
        *left.working,
        Stated("A", "mm^2", A, f"{mm(b, ' x ', sheet.t):.4g}, {how}"),
        Stated("W_net", "mm^3", W, "of the same"),
        Stated("M", "N*mm", M, "of the load about the section where the strap leaves its welds"),
        stress,
    ]
    demand = float(stress.value)
    if left.f_y is None:
        return STRAP.outside(NO_YIELD, demand=demand, unit="MPa")
    partial, metal = gamma_M0([sheet])
    trace.append(Stated("f_y", "MPa", left.f_y, f"yield strength of {sheet.material.grade}"))
    return STRAP.judge(
        capacity=left.f_y, demand=demand, required=partial * m.load_factor, unit="MPa", trace=trace, note=metal
    )


def _open(points: np.ndarray, way: np.ndarray, u: np.ndarray) -> bool:
    """Whether the part may run on past its welds: not where a weld across it closes both of its ends."""
    lines = points.reshape(-1, 2, 2)
    along = lines[:, 1] - lines[:, 0]
    square = np.abs(along @ way) < np.sin(NEAR) * np.hypot(*along.T)
    ends = u.reshape(-1, 2)[square].mean(axis=1)
    room = 0.05 * float(np.ptp(u))
    return not (np.any(ends > u.max() - room) and np.any(ends < u.min() + room) and np.ptp(u) > 0)
