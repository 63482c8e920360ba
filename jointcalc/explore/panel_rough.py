"""Cheap questions about a panel, asked before it is worked out in full: formulas, then one coarse grid of its shape.

What the coarse grid says is wrong by some, and by much for what stays after the load; so each use is held to that of
the panels of the same search that were worked out in full, and nothing is called good by it alone.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from dataclasses import field as made
from math import inf, isfinite

from jointcalc.check.panel import check_panel
from jointcalc.check.panel_action import PanelAction
from jointcalc.check.panel_floor import DEFLECTION, FREQUENCY
from jointcalc.check.panel_forming import MAKING, forming
from jointcalc.check.panel_plane import shear
from jointcalc.check.panel_shape import MEMBRANE_STRAIN, PULL, SET, SET_PART
from jointcalc.formula import plate_ultimate as ultimate
from jointcalc.model.panel import Panel
from jointcalc.result import Result
from jointcalc.statics import field as fields
from jointcalc.statics import plate
from jointcalc.statics.band import NotFound
from jointcalc.statics.bead import Bead
from jointcalc.statics.shell import STEEPEST

SMEARED = 1.3
"""How much the frequency of beads as they lie may pass that of a sheet stiffened evenly by them, running through."""
LEAST_SCALE, MOST_SCALE = 0.3, 2.0
"""How far the coarse grid is believed to be off; what it says is clipped to that."""


def holds(result: Result) -> bool:
    """Whether everything but the making of the bead holds."""
    return not result.unjudged and all(c.status != "over" for c in result.checks if c.method.key not in MAKING)


def unmakeable(panel: Panel) -> str:
    """Why the bead cannot be made; empty when it can, or nobody knows."""
    worst = max(
        (c for c in forming(PanelAction(panel)) if c.status == "over"), key=lambda c: c.utilisation or 0, default=None
    )
    return "" if worst is None else f"{worst.title} is {worst.utilisation:.0%} used"


def too_weak(panel: Panel) -> str:
    """Why formulas alone rule a panel out, whatever its real shape; empty when they do not."""
    action = PanelAction(panel)
    over = [c for c in shear(action) if c.status == "over"]
    if over:
        return f"{over[0].title} is {over[0].utilisation:.0%} used"
    if panel.limit_frequency is not None and panel.cross is None:
        through = plate.frequency_1(action.a, action.b, action.rigidity, action.edge, action.mass)
        if SMEARED * through < panel.limit_frequency:
            return f"with beads running through it would have {through:.3g} Hz"
    return ""


def one_grid(panel: Panel) -> dict[str, float]:
    """What each limit is used by the coarse grid: key of the check -> utilisation."""
    action = PanelAction(panel)
    required = action.gamma_M0 * action.gamma
    mass = (
        action.rho * action.sheet.thickness if panel.limit_frequency is not None and action.beads is not None else None
    )
    try:
        found = fields.rough(action.loaded if action.across else action.bare, required, mass)
    except NotFound:
        return {SET.key: inf}
    used: dict[str, float] = {}
    if action.across:
        used[SET.key] = abs(found["permanent_set"]) / (panel.permanent_set_limit or SET_PART * action.t)
        if found["steepest"] > STEEPEST:
            used[SET.key] = inf
        reached = found["reached"]
        used[MEMBRANE_STRAIN.key] = (
            found["strain"] / ultimate.MEMBRANE_STRAIN if reached >= 1 else 1 / max(reached, 1e-3)
        )
        if panel.in_plane == "held" and action.sheet.has_yield:
            used[PULL.key] = max(found["edge_pull"], 0.0) * required / (action.sheet.f_y * action.t)
        if panel.limit_deflection is not None:
            used[DEFLECTION.key] = abs(found["deflection_yielding"]) / panel.limit_deflection
    if panel.limit_frequency is not None:
        used[FREQUENCY.key] = panel.limit_frequency / found.get("frequency_1", action.frequency)
    return used


Key = tuple[Bead | None, float, str]


def _key(panel: Panel) -> Key:
    return panel.pattern, panel.sheet.thickness, panel.along


@dataclass
class Asked:
    """What a search has asked so far; `scale` holds the coarse grid to the panels worked out in full."""

    scale: dict[str, float] = made(default_factory=dict)
    ruled_out: set[Key] = made(default_factory=set)
    gridded: dict[Key, dict[str, float]] = made(default_factory=dict)
    full: dict[Key, Result] = made(default_factory=dict)
    tell: Callable[[str], None] = lambda words: None
    """Is told how far the search is, each time something is worked out."""

    def estimate(self, panel: Panel) -> float:
        """The greatest utilisation, as well as it is known so far."""
        key = _key(panel)
        if key in self.full:
            result = self.full[key]
            used = [c.utilisation for c in result.checks if c.utilisation is not None and c.method.key not in MAKING]
            return max(used, default=0.0) if holds(result) else max([*used, 1.0 + 1e-6])
        if key in self.ruled_out or too_weak(panel):
            self.ruled_out.add(key)
            return inf
        if key not in self.gridded:
            self.tell(self.words)
            self.gridded[key] = one_grid(panel)
        return max((u * self.scale.get(name, 1.0) for name, u in self.gridded[key].items()), default=0.0)

    def judge(self, panel: Panel) -> Result:
        """Work a panel out in full, and learn how far off its coarse grid is."""
        key = _key(panel)
        if key not in self.full:
            self.tell(self.words)
            self.full[key] = result = check_panel(panel)
            rough = self.gridded.get(key, {})
            for check in result.checks:
                used = rough.get(check.method.key, 0.0)
                if used and isfinite(used) and check.utilisation is not None:
                    self.scale[check.method.key] = min(max(check.utilisation / used, LEAST_SCALE), MOST_SCALE)
        return self.full[key]

    @property
    def words(self) -> str:
        """How many panels were asked what."""
        return (
            f"{len(self.ruled_out)} ruled out by formulas, {len(self.gridded)} tried on one grid, "
            f"{len(self.full)} worked out in full"
        )
