"""Whether the sheet of a panel lasts the load changes that are asked for.

The greatest elastic stress at a face of the real shape under the service loads, with the shear and the thrust in its
plane, against the detail category of a plate with something small welded to it (EN 1993-1-9 Table 8.4): the edges of a
panel are welded.  Sheet that waves in service breathes at its edges: no category holds for that here.
"""

from __future__ import annotations

from collections.abc import Iterable

from jointcalc.check.fatigue import SHEET, sheet_fatigue
from jointcalc.check.panel_action import PanelAction
from jointcalc.check.panel_plane import SHEAR_FLAT, SHEAR_LOCAL
from jointcalc.check.panel_shape import outside_shape
from jointcalc.check.panel_thrust import WAVES
from jointcalc.quantity.show import figures
from jointcalc.result import Check

WAVY = frozenset({WAVES.key, SHEAR_FLAT.key, SHEAR_LOCAL.key})
"""Checks of the first waves; what waves in service breathes, and is told."""


def waves(checks: Iterable[Check]) -> bool:
    """Whether the sheet waves under the service loads."""
    return any(c.method.key in WAVY and c.safety_factor is not None and c.safety_factor < 1 for c in checks)


def lasting(action: PanelAction, checks: Iterable[Check]) -> list[Check]:
    """The fatigue screen of the sheet, by what the other rules have found; empty when no load changes are asked for."""
    panel = action.panel
    if panel.cycles is None or not (action.across or panel.shear or action.pushed):
        return []
    reasons = []
    if panel.sheet.material.family == "aluminium":
        reasons.append("EN 1993-1-9 is for steel; aluminium has EN 1999-1-3, which is not held here")
    if panel.hole is not None:
        reasons.append("the stress beside an opening is not worked out")
    if action.across and (reason := outside_shape(action)):
        reasons.append(reason)
    if waves(checks):
        reasons.append("the sheet waves under the load and breathes at its edges")
    if reasons:
        return [SHEET.outside(reasons, unit="MPa")]
    surface = max((one.surface_stress for one in action.answers), default=0.0)
    pushed = max(panel.compression) / action.t
    stress = ((surface + pushed) ** 2 + 3 * (panel.shear / action.t) ** 2) ** 0.5
    f_y = action.sheet.f_y if action.sheet.has_yield else None
    what = "greatest stress at a face, with shear and thrust in the plane (von Mises)"
    return [sheet_fatigue(stress=stress, cycles=panel.cycles, part=panel.load_range, t=action.t, f_y=f_y, what=what)]


def lasting_left(action: PanelAction, checks: Iterable[Check]) -> list[str]:
    """What is said where nothing judges the load changes."""
    many = figures(action.panel.cycles or 0.0)
    mine = [c for c in checks if c.method is SHEET and c.status == "outside"]
    return [f"no method judges whether the panel lasts {many} load changes: {c.note}" for c in mine]
