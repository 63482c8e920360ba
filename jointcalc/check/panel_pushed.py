"""A panel pushed or sheared in its plane, alone or with everything else on it, on its real shape with its first bow.

Published formulas for the same stand beside (`panel_thrust`); the lowest governs.  Here the loads grow together until
the panel gives way: what is reached is held against gamma_M1 x gamma_F.
"""

from __future__ import annotations

from dataclasses import replace

from jointcalc.check.common import INFORMATION
from jointcalc.check.panel_action import PanelAction
from jointcalc.check.panel_base import NO_YIELD, PARTIAL_1, SHAPE, Trace
from jointcalc.formula.core import Source
from jointcalc.result import Check, Stated, method

ANNEX_C = Source("EN 1993-1-5:2006", "C.5 with Table C.2, C.8: finite elements", "from memory")
PUSHED = method("en1993-1-5.shell-in-plane", "Loads in its plane, on its real shape", ANNEX_C, per="member",
                basis="factor of all loads", factor=PARTIAL_1)  # fmt: skip
WAVES = method("plate.shell-buckling", "First waves, on its real shape", SHAPE, per="member", bound="information",
               basis="elastic buckling, which thin sheet outlives", factor=INFORMATION)  # fmt: skip
NOWHERE = "no equilibrium was found under these loads with a bow as small as 1/200 of the shorter side"


def pushed(action: PanelAction) -> list[Check]:
    """What the panel carries in its plane with everything else on it, and where its first waves come."""
    if not action.in_plane_loads:
        return []
    if not action.sheet.has_yield:
        return [PUSHED.outside(NO_YIELD, unit="1")]
    found = action.answer_in_plane
    if found is None:
        return [PUSHED.outside(NOWHERE, unit="1")]
    covers = [f"compression {way}" for way, n in zip(("along", "across"), action.panel.compression) if n]
    covers += ["shear"] if action.panel.shear else []
    covers += ["in-plane together", *(["compression with across"] if action.across else [])]
    required = action.gamma_M1 * action.gamma
    off = "in the shape it buckles in"
    if action.beads is not None:
        off = f"in one half-wave, and the flats {off}"
    near = max(100 * found.errors[1], 0.1)
    trace: Trace = [
        Stated("e_0", "mm", found.bow, f"bow of the unloaded sheet, {off}", str(ANNEX_C)),
        Stated("alpha_u", "1", found.reached,
               f"part of all loads reached, within {near:.2g} % by refinement; {found.nodes} nodes", str(SHAPE)),
    ]  # fmt: skip
    words = [f"edges {action.panel.drawing_in} in the plane", "all loads grow together"]
    if found.at_least:
        words.append(f"it goes on beyond {found.reached:.3g} times the loads, up to which it was followed")
    checks = [
        replace(PUSHED.judge(
            capacity=found.reached, demand=1.0, required=required, unit="1", trace=trace, note="; ".join(words),
            covers=covers,
        ), goes_on=found.at_least)
    ]  # fmt: skip
    if found.buckles is not None:
        waves = f"elastic and straight, within {max(100 * found.errors[0], 0.1):.2g} % by refinement"
        checks.append(
            WAVES.info(
                capacity=found.buckles, demand=1.0, unit="1",
                trace=[Stated("alpha_cr", "1", found.buckles, waves, str(SHAPE))],
                note=f"waves come at {found.buckles:.3g} times the loads in the plane; thin sheet carries on beyond",
            )
        )  # fmt: skip
    return checks
