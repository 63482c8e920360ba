"""The root of a fillet on one side only, opened by a pull (EN 1993-1-8, 4.12).

The moment there is the pull times the distance from the middle of the sheet to the middle of the throat, taken by the
throat, plastic.  A part on several welds cannot turn about one of them, so its wall takes what it can first; a single
plate can, so its throat takes all.
"""

from __future__ import annotations

import numpy as np

from jointcalc.check.common import CHARACTERISTIC, PARTIAL
from jointcalc.check.fillet_action import FilletAction, bounded, place, worst
from jointcalc.check.fillet_bend import Working, opening_pull, partly_fused
from jointcalc.check.heat import beside
from jointcalc.formula import fillet_en1993 as en
from jointcalc.formula import fillet_root
from jointcalc.formula.branch import above
from jointcalc.formula.core import Source
from jointcalc.quantity.sentence import mm
from jointcalc.result import Check, Looked, Stated, method

ROOT = method(
    "en1993-1-8.root-moment", "Root of a one-sided weld opened", Source(en.EN8, "4.12"), per="mm",
    basis=CHARACTERISTIC, factor=PARTIAL, covers=("root",),
)  # fmt: skip


def root(action: FilletAction, f_w: float | None, beta: Looked | Stated, trace: Working) -> list[Check]:
    """The root of welds on one side only.

    `f_w` is the strength [MPa] to compute with, the lower of weld metal and part, None where there is none to compute
    with; `beta` the correlation factor; `trace` says where both come from.
    """
    m = action.welds
    opened = action.across if partly_fused(action) else opening_pull(action)
    if not np.any(opened):
        return []
    i, j = worst(opened)
    pull = float(opened[i, j])
    if f_w is None:
        return [ROOT.outside("no strength of this weld metal on this alloy is held", demand=pull, unit="N/mm")]
    if m.weld.startswith("flare"):
        return [
            ROOT.outside(
                "a flare weld on one side only opens from its root: weld both sides, or judge it as a fillet with a "
                "measured throat",
                demand=pull, unit="N/mm",
            )
        ]  # fmt: skip
    a, ends = m.design_throat, action.elastic.ends
    leg = m.counted_leg if m.counted_leg is not None else a * 2**0.5
    reasons: list[str] = []
    wall: dict[str, float] | None = None
    if m.weld == "butt":
        arm = fillet_root.ROOT_ARM_PARTIAL.evaluate(t=m.thin.t, a=a)
        lean, slide = opened / a, np.zeros_like(opened)
    else:
        t, left = m.parts[0].t, beside(m.parts[0])
        if m.joint == "lap" and not action.in_line:
            arm = fillet_root.ROOT_ARM_EDGE.evaluate(s=leg)
        elif m.joint == "tee" and not (action.in_line or action.one_plate) and left.f_y is not None:
            arm = fillet_root.ROOT_ARM.evaluate(t=t, s=leg)
            wall = {"f_y": left.f_y, "t": t, "s": leg}
            trace = [*trace, *left.working]
        else:
            # a sheet thinner than the leg is counted as thick as it, so that no thicker one is the weaker
            arm = fillet_root.ROOT_ARM.evaluate(t=leg, s=leg)
            if m.joint == "lap":
                reasons.append("a lap lifted off a single weld line peels")
            elif above(t, leg):
                reasons.append(
                    f"the leg of {mm(leg):.3g} is smaller than the sheet of {mm(t):.3g}, whose middle lies the further "
                    "off: weld both sides ('both_sides'), or a leg as thick as the sheet"
                )
        shares = {"F_1": np.abs(ends.normal), "F_2": np.abs(ends.lift)}
        lean = en.sigma_perp(**shares, a=a)
        slide = en.tau_perp(F_1=shares["F_1"], F_2=-shares["F_2"], a=a)
    e = float(arm.value)
    M = fillet_root.root_moment_held(F_root=opened, **wall) if wall else fillet_root.root_moment(F_root=opened, e=e)
    used = np.sqrt((lean + fillet_root.root_bending(M=M, a=a)) ** 2 + 3 * (slide**2 + (action.along / a) ** 2))
    used = np.where(opened > 0, used, 0.0)
    i, j = worst(used)
    size = float(np.hypot(action.along[i, j], action.across[i, j]))
    pull = float(opened[i, j])
    moment = (
        fillet_root.ROOT_MOMENT_HELD.evaluate(F_root=pull, **wall)
        if wall
        else fillet_root.ROOT_MOMENT.evaluate(F_root=pull, e=e)
    )
    bent = fillet_root.ROOT_BENDING.evaluate(M=float(moment.value), a=a)
    holds = en.DIRECTIONAL_RESISTANCE.evaluate(F_w_Ed=size, f_u=f_w, beta_w=beta.value, sigma_v=float(used[i, j]))
    where = Stated("F_w_Ed", "N/mm", size, place(action, action.elastic, i, j))
    stress = Stated("sigma_v", "MPa", float(used[i, j]), "with the stresses of the throat, as in eq. (4.1)")
    return [
        bounded(
            ROOT, reasons, capacity=float(holds.value), demand=size, load_factor=m.load_factor, unit="N/mm",
            trace=[*trace, beta, arm, where, moment, bent, stress, holds],
            note="the throat takes the moment; two sides or a closed section have none",
        )
    ]  # fmt: skip
