"""A flat or beaded panel judged on its real shape, and the plate formulas that stand beside it.

Judged under all loads together, by the panel's own finite elements (`statics.field`: large deflections, beads with
their ends, yielding through the thickness):

- what stays after the service loads (permanent set), against the builder's limit or half the thickness (common
  practice);
- the greatest strain of the mid-plane at gamma_M0 x gamma_F times the loads, against the 5 % of EN 1993-1-5 Annex C;
- the membrane pull at the edges, which the seam has to carry, against yield of the sheet: required gamma_M0 x gamma_F
  (1.0 x 1.5 for steel, recommended values of EN 1993-1-3);
- deflection and frequency against the builder's own limits; without one, common practice stands beside as
  information;
- shear and thrust in the plane against what the sheet carries beyond its first waves (EN 1993-1-5), alone, together
  and with load across;
- what it carries when it is pushed in its plane with everything else on it, on its real shape, from a shape with the
  bow of EN 1993-1-5 Table C.2, against gamma_M1 x gamma_F;
- the strain of the bead and of its run-out against the elongation.

First yield in linear bending marks no failure of a floor, which carries on by stretching: the linear formulas stand
beside as information, and their shear check as a check.  Decided here: in-plane shear together with load across
the panel lowers the yield strength the panel is worked out with (von Mises), and is added by squares to the pull.

Where each stands: the real shape under load across it in `panel_shape`, pushed in its plane in `panel_pushed`; shear in
`panel_plane`, thrust and all loads in the plane in `panel_thrust`; linear bending in `panel_linear`, how it feels
underfoot in `panel_floor`, the making in `panel_forming`, an opening in `panel_opening`, load
changes in `panel_lasting`, what shears through in `panel_punch`; values, cautions and what is
left unjudged in `panel_notes`.  What all judge is the `panel_action`.
"""

from __future__ import annotations

from jointcalc.check.panel_action import PanelAction
from jointcalc.check.panel_floor import by_levy, deflection, frequency
from jointcalc.check.panel_forming import bead_verdict, forming
from jointcalc.check.panel_lasting import lasting
from jointcalc.check.panel_linear import bending
from jointcalc.check.panel_notes import about_of, cautions_of, unjudged_of, values_of
from jointcalc.check.panel_opening import as_opened, opened
from jointcalc.check.panel_plane import shear, together
from jointcalc.check.panel_punch import punched
from jointcalc.check.panel_pushed import pushed
from jointcalc.check.panel_shape import ON_SHAPE, on_shape
from jointcalc.check.panel_thrust import in_plane, thrust, with_across
from jointcalc.formula.branch import at_most
from jointcalc.model.panel import Panel
from jointcalc.result import Result
from jointcalc.statics.field import Surface

RULES = (
    on_shape, punched, shear, thrust, pushed, bending, together, in_plane, with_across, deflection, by_levy, frequency,
    forming,
)  # fmt: skip
"""Every rule of a panel: what it says hangs on no other having been asked, and the checks stand in this order."""


def check_panel(panel: Panel) -> Result:
    """Judge a panel.  Raises InputError when the plate cannot be solved as described."""
    action = PanelAction(panel)
    whole = [check for rule in RULES for check in rule(action)]
    checks = [*(as_opened(action, check) for check in whole), *opened(action)]
    checks += lasting(action, checks)
    return Result(
        kind=panel.kind,
        id=panel.id,
        title=panel.title,
        checks=tuple(checks),
        values=values_of(action),
        cautions=cautions_of(action, checks),
        unjudged=unjudged_of(action, checks),
        model=panel,
        about=about_of(action),
    )


def surface(panel: Panel) -> Surface | None:
    """The panel's shape under all its loads, for drawing; None when nothing presses on it or nothing carries that.

    Of edges that may be held in the plane or not, the one that gives further is drawn.
    A panel with an opening is worked out whole, and not drawn as if it were.
    """
    if panel.hole is not None:
        return None
    found = PanelAction(panel).answers  # remembered from its judging
    return max(found, key=lambda one: abs(one.deflection)).surface if found else None


def strength_used(result: Result) -> float | None:
    """The greatest part of what is allowed that the load across uses; None when it is not judged."""
    mine = [c for c in result.checks if c.method.key in ON_SHAPE]
    used = [c.utilisation for c in mine if c.utilisation is not None]
    if not used or (at_most(max(used), 1.0) and any(c.status == "outside" for c in mine)):
        return None
    return max(used)


__all__ = ["bead_verdict", "check_panel", "strength_used", "surface"]
