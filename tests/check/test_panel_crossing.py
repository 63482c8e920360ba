"""Beads along both sides of one panel: read, made, and what the sheet is then worth.

The shape itself is held to an independent shell library in tests/statics/field/test_shell_model.py.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from jointcalc.check.panel import check_panel
from jointcalc.check.panel_action import PanelAction
from jointcalc.errors import InputError
from jointcalc.explore.panel import beads_text, find_panel
from jointcalc.formula import bead as formula
from jointcalc.layout.parts import panel as bead_plan
from jointcalc.model.fields import build
from jointcalc.model.marking import Part
from jointcalc.model.panel import Panel
from jointcalc.result import Result
from jointcalc.statics import field as fields
from jointcalc.statics import plate as plates

ARC = "arc:depth=5mm,width=30mm,pitch=100mm,stop=20mm,runout=20mm"
VEE = "vee:depth=4mm,width=24mm,pitch=80mm,stop=20mm,runout=16mm"
BOTH = f"{ARC} + {VEE},along=short"


def panel(bead: str = BOTH, **changes: Any) -> Panel:
    base = {"size": "300 200 mm", "sheet": {"thickness": "1.0 mm", "grade": "DC04"}, "bead": bead, "edges": "clamped"}
    base["in_plane"] = "straight" if "compression" in changes else "held"
    return build(Panel, {**base, **changes})


def judged(bead: str = BOTH, **changes: Any) -> Result:
    return check_panel(panel(bead, **changes))


def test_two_beads_are_read_and_lie_across_each_other() -> None:
    found = panel()
    assert [way for way, _ in found.beads] == ["long", "short"]
    assert found.bead_places == pytest.approx([50, 150])
    assert found.cross_places == pytest.approx([30, 110, 190, 270])
    assert beads_text(found) == BOTH.replace("along=short", "along=short")


def test_a_bead_may_say_its_own_side() -> None:
    assert panel(f"{ARC},along=short").along == "short"
    assert panel(f"{ARC},along=long", along="short").along == "long"
    assert panel(ARC, along="short").along == "short"


@pytest.mark.parametrize("bead, words", [
    (f"{ARC} + {VEE}", "both beads run along the long side"),
    (f"{ARC},along=short + {VEE},along=short", "both beads run along the short side"),
    (f"{ARC} + {VEE},along=short + {VEE}", "3 beads are joined"),
    (f"{ARC} +", "nothing stands beside"),
    (f"{ARC},along=crossing", "neither long nor short"),
    (f"{ARC},along=long,along=short", "along is given twice"),
    (f"{ARC} + arc:depth=14mm,width=28mm,pitch=80mm,along=short", "cannot be rolled over flanks"),
    (f"{ARC} + vee:depth=4mm,width=30mm,pitch=20mm,along=short", "overlap"),
    (f"{ARC} + vee:depth=4mm,width=24mm,pitch=350mm,along=short", "does not fit the panel, which is 300 mm across"),
])  # fmt: skip
def test_what_cannot_be_is_refused(bead: str, words: str) -> None:
    with pytest.raises(InputError, match=words):
        panel(bead)


def test_the_sheet_is_as_large_as_its_shape() -> None:
    """Area of the higher of an arc and a vee over one cell, triangle by triangle on a fine grid (own arithmetic)."""
    p = panel()
    y, x = np.linspace(-50, 50, 1401), np.linspace(-40, 40, 1121)
    R = (15**2 + 5**2) / (2 * 5)
    arc = np.where(abs(y) < 15, np.sqrt(np.maximum(R**2 - y**2, 0)) - (R - 5), 0)
    vee = np.maximum(0, 4 * (1 - abs(x) / 12))
    z = np.maximum(arc[:, None], vee[None])

    def area(z: Any, cells: Any = 1.0) -> float:
        dy, dx = y[1] - y[0], x[1] - x[0]
        out = 0.0
        for a, b in (
            (np.diff(z, axis=0)[:, :-1], np.diff(z, axis=1)[:-1]),
            (np.diff(z, axis=0)[:, 1:], np.diff(z, axis=1)[1:]),
        ):
            out += float((np.sqrt(1 + (a / dy) ** 2 + (b / dx) ** 2) * cells).sum() * dx * dy / 2)
        return out

    assert p.developed == pytest.approx(area(z) / (100 * 80), rel=2e-4)
    middles = (y[1:] + y[:-1]) / 2, (x[1:] + x[:-1]) / 2
    square = np.outer(abs(middles[0]) < 15, abs(middles[1]) < 12)
    assert 1 + p.crossing_growth == pytest.approx(area(z, square) / (30 * 24), rel=5e-3)


def test_crossed_rigidity_has_the_known_ends() -> None:
    """Nothing crosses: along the beads.  Nothing stiffer between: across the beads that cross (Seydel's p / L)."""
    given = {"D_b": 9e5, "D": 2e4, "p": 80.0}
    assert float(formula.RIGIDITY_CROSSED(b=0.0, L_b=0.0, **given)) == pytest.approx(9e5)
    E, t, nu = 210e3, 1.0, 0.3
    flat = E * t**3 / (12 * (1 - nu**2))
    across = float(formula.RIGIDITY_ACROSS(E=E, t=t, nu=nu, p=80.0, L=86.0))
    assert float(formula.RIGIDITY_CROSSED(D_b=flat, D=flat, p=80.0, b=24.0, L_b=30.0)) == pytest.approx(across)


def test_coupling_and_twisting_are_those_of_the_weakest_part() -> None:
    """Seydel 1931 / Xia 2012 (from memory): D_1 = nu D p/L, the least of the deepest bead; D_xy grows with L/p, the least
    of the flat sheet.
    """
    action = PanelAction(panel(f"{ARC} + {VEE},along=short".replace("stop=20mm", "stop=0mm")))
    flat = 210e3 / (12 * (1 - 0.3**2))
    R = (15**2 + 5**2) / (2 * 5)
    arc = 1 + (2 * R * np.arcsin(15 / R) - 30) / 100
    vee = 1 + 2 * (np.hypot(12, 4) - 12) / 80
    assert arc != pytest.approx(vee, abs=2e-3)
    assert pytest.approx(0.3 * flat / max(arc, vee), rel=2e-3) == action.rigidity.D_1
    assert action.rigidity.D_xy == pytest.approx(flat * (1 - 0.3) / 2, rel=1e-6)


def test_spread_evenly_it_is_no_stiffer_than_its_shape() -> None:
    """The orthotropic sheet, which shear and thrust lean on, against the finite elements, small deflections."""
    through = "arc:depth=5mm,width=30mm,pitch=60mm,stop=0mm"
    action = PanelAction(
        panel(f"{through} + {through},along=short", size="300 240 mm", edges="simple", in_plane="free")
    )
    pressed = fields.replace(action.bare, pressure=1e-4)
    series = plates.solve(action.a, action.b, action.rigidity, "simple", pressure=1e-4).deflection_max()[0]
    assert abs(fields.linear(pressed)) < series


@pytest.mark.parametrize("load", [{"pressure": "3 kPa"}, {"patch": "200 N", "patch_size": "60 40 mm"}])
def test_which_is_named_first_is_all_the_same(load: dict[str, str]) -> None:
    turned = {**load, **({"patch_size": "40 60 mm"} if "patch" in load else {})}
    one, two = judged(**load), judged(f"{VEE},along=short + {ARC},along=long", **turned)
    for name in ("deflection", "surface_stress", "mass_per_area", "frequency_1"):
        assert one.values[name].value == pytest.approx(two.values[name].value, rel=0.01)


def test_what_happens_where_one_is_rolled_over_the_other_is_told() -> None:
    found = judged(pressure="1 kPa")
    (check,) = [c for c in found.checks if c.method.key == "forming.bead-crossing"]
    assert check.status == "outside"
    assert "coupon" in check.note
    assert "bead-crossing" in {c.code for c in found.cautions}
    keys = {c.key for c in found.checks}
    assert {"forming.bead-strain-max.long", "forming.bead-strain-max.short"} <= keys
    assert found.status == "ok"
    # what is torn by its mean growth alone is torn
    hard = {"thickness": "1.0 mm", "grade": "S500MC"}
    torn = judged("vee:depth=7mm,width=24mm,pitch=100mm + vee:depth=7mm,width=24mm,pitch=80mm,along=short", sheet=hard)
    (check,) = [c for c in torn.checks if c.method.key == "forming.bead-crossing"]
    assert check.status == "over"


def test_loads_in_its_plane_are_judged_both_ways() -> None:
    found = judged(compression="1 1 N/mm", shear="2 N/mm")
    keys = {c.key for c in found.checks if c.status in ("ok", "over")}
    assert {"plate.thrust-across-beads.along", "plate.thrust-across-beads.across", "en1993-1-5.shell-in-plane"} <= keys
    assert not found.unjudged
    (field,) = [c for c in found.checks if c.key == "easley.shear-buckling"]
    assert field.status == "outside"
    assert "beads cross" in field.note


def test_the_blank_grows_both_ways() -> None:
    p = panel()
    part = build(Part, {"id": "FL", "size": "320 220 mm", "sheet": {"thickness": "1.0 mm", "grade": "DC04"}})
    part.beaded(p)
    assert p.draw_in > 0
    assert p.draw_in_along > 0
    assert part.blank == pytest.approx((320 + p.draw_in_along, 220 + p.draw_in))


def test_the_bead_plan_shows_both() -> None:
    drawn = bead_plan(panel(), "metric")
    assert drawn is not None
    assert len(drawn.tables) == 2
    assert len([one for one in drawn.entities if getattr(one, "layer", "") == "BEAD"]) == 2 + 4


def test_of_two_that_cross_the_first_is_searched() -> None:
    found = find_panel(
        {"size": "300 200 mm", "sheet": {"thickness": "1.0 mm", "grade": "DC04"}, "bead": BOTH, "edges": "clamped",
         "limit_frequency": "150 Hz"}, "depth",
    )  # fmt: skip
    model = found.result.model
    assert isinstance(model, Panel)
    assert model.cross is not None
    assert model.cross.depth == 4
    assert found.result.status == "ok"
