"""The grid of a beaded panel has no slivers, and a foot anywhere on it finds its equilibrium."""

from __future__ import annotations

import numpy as np
import pytest

from jointcalc.check.panel_action import PanelAction
from jointcalc.model.panel import Panel
from jointcalc.statics.field_grid import AT_EDGE, grid


def beaded(pitch: float, **others: object) -> Panel:
    given = {
        "size": "600 400 mm", "sheet": {"thickness": "1.0 mm", "grade": "DC04"}, "edges": "clamped",
        "bead": f"arc:depth=6mm,width=25mm,pitch={pitch!r}mm", "patch": "8 N", "patch_size": "80 50 mm",
    }  # fmt: skip
    return Panel(**{**given, **others})


@pytest.mark.parametrize("pitch", [31.25, 37.5, 50.0, 62.5, 75.0, 100.0])
@pytest.mark.parametrize("places", [[], ["150 90 mm"], ["300 200 mm", "87.3 112.6 mm"]])
def test_no_two_lines_leave_a_sliver(pitch: float, places: list[str]) -> None:
    """At pitches whose crowns end at the middle of the panel, or a hair beside it."""
    g = grid(PanelAction(beaded(pitch, **({"patch_at": places} if places else {}))).loaded)
    for lines in (g.x, g.s):
        assert np.diff(lines).min() > AT_EDGE * 1.0 / 400


def test_a_foot_beside_a_crown_finds_its_equilibrium() -> None:
    """A bead's crown ends 0.0002 mm beside the middle: a line for each once left a sliver that no step settled."""
    g = grid(PanelAction(beaded(75.0, patch_at=["150 90 mm"], edges="clamped, left=simple")).loaded)
    q = g.shell.solve(g.F, g.held)
    assert g.deflection(q) > 0
    assert g.reaction(q) == pytest.approx(8.0, rel=1e-6)
