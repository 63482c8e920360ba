"""Searches of beads: what is found holds, what lies beside it does not, and flat sheet is told honestly."""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest

from jointcalc.check.panel import check_panel
from jointcalc.errors import InputError
from jointcalc.explore.answer import Answer
from jointcalc.explore.panel import NothingHolds, find_panel, which_way
from jointcalc.explore.panel_rough import Asked, one_grid, too_weak, unmakeable
from jointcalc.model.fields import build
from jointcalc.model.panel import Panel

BEAD = "arc:depth=6mm,width=30mm,pitch=100mm"


def raw(**changes: Any) -> dict[str, Any]:
    """300 x 240 mm of 0.8 mm DC04, clamped, beads along the short side: small, so that it is quick."""
    sheet = {"thickness": changes.pop("thickness", "0.8 mm"), "grade": "DC04"}
    base = {"size": "300 240 mm", "sheet": sheet, "edges": "clamped", "along": "short", "bead": BEAD}
    base["in_plane"] = "held"
    return {**base, **changes}


def status(data: dict[str, Any]) -> str:
    return check_panel(build(Panel, data)).status


LIMITS: dict[str, Any] = {"pressure": "5 kPa", "limit_deflection": "0.5 mm"}


@cache
def shallowest() -> Answer:
    """The search that two tests ask about."""
    return find_panel(raw(**LIMITS), "shallowest")


@pytest.mark.parametrize("unknown", ["stop", "runout"])
def test_found_end_of_a_bead_is_the_last_that_holds(unknown: str) -> None:
    other = "runout=30mm" if unknown == "stop" else "stop=20mm"
    data = raw(bead=f"{BEAD},{other}", **LIMITS)
    found = find_panel(data, unknown)
    size = found.result.values["found"].value
    assert size is not None
    assert found.result.status == "ok"
    assert size % 5 == 0
    tried = [status({**data, "bead": f"{BEAD},{other},{unknown}={size + more}mm"}) for more in (0, 5)]
    assert tried == ["ok", "over"]


def test_beads_that_run_through_have_no_run_out() -> None:
    with pytest.raises(InputError, match="have no run-out"):
        find_panel(raw(bead=f"{BEAD},stop=0mm", **LIMITS), "runout")


def test_the_shallowest_bead_holds_and_a_shallower_one_does_not() -> None:
    data = raw(**LIMITS)
    found = shallowest()
    values = found.result.values
    depth, pitch = values["found_depth"].value, values["found_pitch"].value
    assert depth is not None
    assert pitch is not None
    assert found.result.status == "ok"
    assert status({**data, "bead": f"arc:depth={depth - 1}mm,width=30mm,pitch={pitch}mm"}) == "over"
    # wider pitch, one step shallower: no way to a shallower one that the steps would have had
    for other in (100.0, 60.0):
        assert status({**data, "bead": f"arc:depth={depth - 1}mm,width=30mm,pitch={other}mm"}) == "over"
    # thicker flat sheet: heavier where it holds, and it is told
    flat = values["flat_thickness"].value
    assert flat is not None
    same = values["same_mass_thickness"].value or 0.0
    assert flat > same
    assert status({**data, "bead": "none", "sheet": {"thickness": f"{flat} mm", "grade": "DC04"}}) == "ok"
    assert f"{flat / same:.2f} times the mass" in found.text
    assert "worked out in full" in found.text


def test_the_lightest_sheet_holds_and_a_thinner_one_does_not() -> None:
    data = raw(**LIMITS)
    found = find_panel(data, "lightest")
    thickness = found.result.values["found_thickness"].value
    mass = found.result.values["mass_per_area"].value
    assert thickness is not None
    assert mass is not None
    assert found.result.status == "ok"
    given = shallowest().result.values["mass_per_area"].value
    assert given is not None
    assert mass <= given
    assert 7.85 * thickness < mass < 7.85 * thickness * 1.5


def test_flat_sheet_that_does_as_well_is_told() -> None:
    """Nothing but its weight: beads gain nothing."""
    found = find_panel(raw(pressure="0.1 kPa"), "lightest")
    assert "the beads gain nothing" in found.text
    assert "flat is lighter" in found.text


def test_a_search_that_fails_shows_its_best_try() -> None:
    data = raw(pressure="5 kPa", limit_frequency="1500 Hz")
    with pytest.raises(NothingHolds, match=r"no bead holds; the best try, arc:depth=.* % used: ") as told:
        find_panel(data, "shallowest")
    assert told.value.best is not None
    assert told.value.best.status == "over"


def test_cheap_questions() -> None:
    """Formulas rule out what no ends and no loads could save; one grid is near the full answer."""
    assert "running through" in too_weak(build(Panel, raw(limit_frequency="2000 Hz")))
    assert too_weak(build(Panel, raw(limit_frequency="50 Hz"))) == ""
    assert "Strain" in unmakeable(build(Panel, raw(bead="arc:depth=14mm,width=30mm,pitch=100mm")))
    panel = build(Panel, raw(limit_frequency="50 Hz", **LIMITS))
    rough = one_grid(panel)
    full = {c.method.key: c.utilisation for c in check_panel(panel).checks}
    for key in ("limit.panel-deflection", "limit.panel-frequency", "en1993-1-5.membrane-strain"):
        assert rough[key] == pytest.approx(full[key], rel=0.25)
    asked = Asked()
    before = asked.estimate(panel)
    asked.judge(panel)
    assert asked.estimate(panel) == pytest.approx(max(v for k, v in full.items() if v and "forming" not in k))
    assert asked.estimate(panel) == pytest.approx(before, rel=0.25)


def test_which_way() -> None:
    """The two ways of one panel, by what was searched for."""
    ways = [find_panel(raw(along=along, **LIMITS), "depth").result for along in ("long", "short")]
    depth = [w.values["found"].value or 0.0 for w in ways]
    assert depth[1] < depth[0]
    assert which_way(ways, "depth").startswith(f"Better along the short side: depth {depth[1]:.3g} mm;")
    assert which_way(ways[:1], "depth") == ""
