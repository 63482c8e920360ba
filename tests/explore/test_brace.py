"""The lightest brace against a search by brute force, the Pareto set, and the pitch of the weld line."""

from __future__ import annotations

from itertools import product
from typing import Any

import numpy as np
import pytest

from jointcalc.check.brace import check_brace
from jointcalc.errors import InputError
from jointcalc.explore import brace as explore
from jointcalc.explore.brace import deflection_line, find_lightest, judge, with_pitch_found
from jointcalc.model.brace import Brace
from jointcalc.model.fields import build

BASE: dict[str, Any] = {"grade": "S355MC", "span": "1000 mm", "point": ("750 N @ 500 mm",), "over": "webs"}
SKIN = "hat-skin:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm,skin=120mm,skin_t=1mm,weld=9mm"


def by_force(text: str, sizes: dict[str, list[float]], **more: Any) -> list[tuple[float, float, str]]:
    """(mass, deflection, profile) of every candidate that holds by every check, one at a time."""
    found = []
    for values in product(*sizes.values()):
        profile = text.format(**dict(zip(sizes, values)))
        try:
            result = check_brace(build(Brace, {**BASE, **more, "profile": profile}))
        except InputError:
            continue
        if result.status == "ok":
            found.append((result.values["mass_per_metre"].value, result.values["deflection_service"].value, profile))
    return sorted(found)


@pytest.mark.parametrize("limit", ["3 mm", "L/150", ""])
def test_lightest_is_that_of_a_search_by_brute_force(limit: str) -> None:
    more = {"limit_deflection": limit} if limit else {}
    sizes = {"depth": [float(d) for d in range(28, 41)], "t": [0.8, 0.9, 1.0]}
    wanted = by_force("hat:top=40mm,depth={depth}mm,flange=20mm,t={t}mm,r=2mm", sizes, **more)
    found = find_lightest({**BASE, **more}, ["hat:top=40mm,depth=28mm..40mm,flange=20mm,t=0.8mm..1mm,r=2mm"])
    assert found.looked_at == 13 * 3
    assert found.result.values["mass_per_metre"].value == pytest.approx(wanted[0][0], rel=1e-12)
    assert found.result.status == "ok"
    assert found.result.model.profile in found.text
    # the Pareto set: no candidate that holds is lighter and stiffer than one of it
    for one in found.pareto:
        assert not any(m < one.mass_per_metre * (1 - 1e-9) and d < one.deflection * (1 - 1e-9) for m, d, _ in wanted)
    assert [c.mass_per_metre for c in found.pareto] == sorted(c.mass_per_metre for c in found.pareto)
    assert [c.deflection for c in found.pareto] == sorted((c.deflection for c in found.pareto), reverse=True)
    assert found.pareto[-1].deflection == pytest.approx(min(d for _, d, _ in wanted))


def test_lightest_over_springs_and_two_spans() -> None:
    # moments that depend on the stiffness of each candidate
    more = {
        "span": "700 700 mm",
        "ends": "2e6 2e6 N*mm/rad",
        "spread": ("2 N/mm",),
        "limit_deflection": "L/400",
        "bearing": "40 mm",
        "point": ("400 N @ 500 mm",),
    }
    sizes = {"depth": [float(d) for d in range(20, 31)]}
    wanted = by_force("hat:top=40mm,depth={depth}mm,flange=20mm,t=1mm,r=2mm", sizes, **more)
    found = find_lightest({**BASE, **more}, ["hat:top=40mm,depth=20mm..30mm,flange=20mm,t=1mm,r=2mm"])
    assert found.result.values["mass_per_metre"].value == pytest.approx(wanted[0][0], rel=1e-12)


def test_lightest_of_two_families() -> None:
    ranges = ["hat:top=40mm,depth=28mm..40mm,flange=20mm,t=1mm,r=2mm", "channel:web=30mm..60mm,flange=20mm,t=1mm,r=2mm"]
    both = find_lightest({**BASE, "held": "both"}, ranges)
    each = [find_lightest({**BASE, "held": "both"}, [one]) for one in ranges]
    masses = [one.result.values["mass_per_metre"].value for one in each]
    assert both.result.values["mass_per_metre"].value == min(masses)


def test_chunks_do_not_change_the_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    text = ["hat:top=30mm..40mm,depth=28mm..40mm,flange=20mm,t=0.8mm..1mm,r=2mm"]
    whole = find_lightest(BASE, text)
    told: list[tuple[int, int]] = []
    monkeypatch.setattr(explore, "CHUNK", 37)
    parts = find_lightest(BASE, text, progress=lambda done, total: told.append((done, total)))
    assert parts.text == whole.text
    assert parts.pareto == whole.pareto
    assert told[-1] == (11 * 13 * 3, 11 * 13 * 3)
    assert [d for d, _ in told] == sorted(d for d, _ in told)


def test_ranges_in_inches_step_by_a_sixteenth() -> None:
    found = find_lightest(
        {**BASE, "limit_deflection": "1/8 in"}, ["hat:top=1.5in,depth=1in..1.5in,flange=0.75in,t=1.2mm,r=2mm"], "inch"
    )
    assert found.looked_at == 9


@pytest.mark.parametrize(
    "data, profile, words",
    [
        ({"limit_deflection": "0.05 mm"}, "hat:top=40mm,depth=20mm..30mm,flange=20mm,t=1mm,r=2mm", "the best try"),
        ({}, "hat:top=40mm,depth=30mm,flange=20mm,t=1mm,r=2mm", "no range"),
        ({}, "hat:top=40mm,depth=30mm,flange=20mm,t=0.1mm..0.2mm,r=2mm", "no stock"),
        ({"point": ()}, "hat:top=40mm,depth=20mm..30mm,flange=20mm,t=1mm,r=2mm", "give the loads"),
        ({}, "hat:top=4mm,depth=20mm..30mm,flange=20mm,t=1mm,r=2mm", "too small"),
        ({"held": "left"}, "hat:top=40mm,depth=20mm..30mm,flange=20mm,t=1mm,r=2mm", "none, top"),
        ({}, "hat:top=40mm,depth=30mm..20mm,flange=20mm,t=1mm,r=2mm", "small to large"),
        ({"point": ("750 N @ 1500 mm",)}, "hat:top=40mm,depth=20mm..30mm,flange=20mm,t=1mm,r=2mm", "off the beam"),
    ],
)
def test_what_cannot_be_found_is_told(data: dict[str, Any], profile: str, words: str) -> None:
    with pytest.raises(InputError, match=words):
        find_lightest({**BASE, **data}, [profile])


def test_required_pitch_holds_and_a_wider_one_does_not() -> None:
    # heavy enough for strength to decide, not the limit of 8 spot diameters
    data = {**BASE, "point": ("6 kN @ 500 mm",), "profile": SKIN, "weld_diameter": "5 mm"}
    pitch = judge(build(Brace, data)).values["required_pitch"].value
    assert pitch is not None

    def spots(at: float) -> str:
        result = check_brace(build(Brace, {**data, "pitch": f"{at} mm"}))
        return next(c.status for c in result.checks if c.key == "brace.spot-line")

    assert spots(pitch) == "ok"
    assert pitch < 40
    assert spots(pitch + 5) != "ok"
    found = with_pitch_found(data)
    assert found.values["found"].value == pitch
    assert next(c for c in found.checks if c.key == "brace.spot-line").status == "ok"


def test_a_weld_line_that_no_pitch_holds_leaves_the_brace_unjudged() -> None:
    result = judge(build(Brace, {**BASE, "point": ("45 kN @ 500 mm",), "profile": SKIN, "weld_diameter": "5 mm"}))
    assert result.values["required_pitch"].value is None
    assert any("no pitch holds" in reason for reason in result.unjudged)
    assert result.status != "ok"


def test_pitch_needs_a_weld_line_and_a_load() -> None:
    assert "required_pitch" not in judge(build(Brace, {**BASE, "profile": "tube:od=38mm,t=2mm"})).values
    assert judge(build(Brace, {**BASE, "point": (), "profile": SKIN})).values["required_pitch"].value is None
    with pytest.raises(InputError, match="no weld line"):
        with_pitch_found({**BASE, "profile": "tube:od=38mm,t=2mm"})
    with pytest.raises(InputError, match="any pitch"):
        with_pitch_found({**BASE, "point": (), "profile": SKIN})


def test_deflection_line_meets_the_handbook() -> None:
    # Gere: w(x) = P x (3 L^2 - 4 x^2) / (48 EI) up to mid-span
    b = build(Brace, {**BASE, "profile": "box:depth=40mm,width=30mm,t=2mm"})
    x, w = deflection_line(b)
    EI = 210000 * float(b.properties.I_y[0])
    left = x <= 500
    assert np.allclose(w[left], 750 * x[left] * (3 * 1000**2 - 4 * x[left] ** 2) / (48 * EI), rtol=1e-9)
