"""A frame's plan in characters: members by their names, supports and the place of the greatest deflection."""

from __future__ import annotations

from jointcalc.kinds.frame.acting import Solved
from jointcalc.kinds.frame.answer import Answer
from jointcalc.show.plan import Plan

SUPPORT, DEEPEST = "^", "X"


def sketch(s: Solved, found: Answer, width: int) -> list[str]:
    """The plan from above to scale, x to the right and y up, with its legend."""
    corners = [(float(p[0]), float(p[1])) for one in s.plan.laid for p in (one.start, one.end)]
    plan = Plan(corners, width, height=17)
    for one in s.plan.laid:
        plan.line(float(one.start[0]), float(one.start[1]), float(one.end[0]), float(one.end[1]))
    for one in s.plan.laid:
        at = one.point(one.length / 2)
        for n, letter in enumerate(one.id[:8]):
            plan.mark(float(at[0]) + n / plan.scale, float(at[1]), letter)
    for held in found.supports:
        plan.mark(*held.place, SUPPORT)
    deepest = next(one for one in s.plan.laid if one.id == found.down.member)
    at = deepest.point(found.down.at)
    plan.mark(float(at[0]), float(at[1]), DEEPEST)
    return [*plan.lines(), f"  from above, x to the right, y up; {SUPPORT} support, {DEEPEST} greatest deflection"]
