"""Mounts at random: every load balanced, the same in inches, and nothing weaker comes out better.

Laws of statics and of scaling, no published values: forces are linear in the mass, an added foot stores no more energy,
a heavier, higher or narrower thing is never used less, whichever way it faces.
"""

from __future__ import annotations

import random
from typing import Any

import numpy as np
import pytest

from jointcalc.check import check
from jointcalc.errors import InputError
from jointcalc.kinds.mount.acting import acting
from jointcalc.kinds.mount.model import AXES, Mount
from jointcalc.result import Result
from jointcalc.statics.feet import Feet, Wrench

INCH, POUND, G = 25.4, 0.45359237, 9.80665
CASES = ("battery", "bump", "brake", "corner", "kerb", "tank-cng-us", "seat-un", "cargo-eu", "ambulance-equipment")


def thing(dice: random.Random) -> dict[str, Any]:
    """A thing on three to six feet, in mm and kg, its bolts through a floor."""
    n = dice.randint(3, 6)
    feet = [(dice.uniform(0, 400), dice.uniform(0, 300), 0.0) for _ in range(n)]
    return {
        "feet": feet,
        "mass": dice.uniform(1, 40),
        "centre": (dice.uniform(50, 350), dice.uniform(50, 250), dice.uniform(20, 300)),
        "case": dice.choice(CASES),
    }


def mount(made: dict[str, Any], *, inch: bool = False, **more: Any) -> Mount:
    def place(p: tuple[float, ...]) -> str:
        return f"{' '.join(repr(v / INCH if inch else v) for v in p)} {'in' if inch else 'mm'}"

    mass = f"{made['mass'] / POUND!r} lb" if inch else f"{made['mass']!r} kg"
    return Mount(
        feet=tuple(place(f) for f in made["feet"]), mass=mass, centre=place(made["centre"]), cases=(made["case"],),
        bolt="M8 8.8", sheets=({"thickness": "1.5 mm", "grade": "DC04"},), plate=place((60.0, 60.0, 4.0)), **more,
    )  # fmt: skip


def used(result: Result) -> float:
    assert result.worst is not None
    return float("inf") if result.worst.utilisation is None else result.worst.utilisation


@pytest.mark.parametrize("seed", range(40))
def test_every_load_is_balanced(seed: int) -> None:
    """The forces of the feet add up to m a, and turn as it does about any point, in every direction of the case."""
    dice = random.Random(seed)
    made = thing(dice)
    faces = dice.choice(list(AXES))
    for act in acting(mount(made, faces=faces)):
        field = act.steady + act.tilting
        points = np.array(made["feet"])
        size = float(np.abs(field.force).max())
        np.testing.assert_allclose(act.force.sum(axis=0), field.force, atol=1e-9 * size)
        turn = np.cross(points, act.force).sum(axis=0)
        whole = np.cross(np.array(made["centre"]), field.force)
        np.testing.assert_allclose(turn, whole, atol=1e-9 * 500 * size)
        assert act.residual < 1e-9


@pytest.mark.parametrize("seed", range(6))
def test_inches_and_pounds_are_the_same_mount(seed: int) -> None:
    made = thing(random.Random(100 + seed))
    metric, inch = check(mount(made)), check(mount(made, inch=True))
    assert metric.status == inch.status
    assert used(inch) == pytest.approx(used(metric), rel=1e-6)


@pytest.mark.parametrize("seed", range(10))
def test_heavier_is_never_better_and_forces_follow_the_mass(seed: int) -> None:
    made = thing(random.Random(200 + seed))
    heavier = {**made, "mass": made["mass"] * 1.3}
    before, after = check(mount(made)), check(mount(heavier))
    assert used(after) >= used(before) * (1 - 1e-9)
    for a, b in zip(acting(mount(made)), acting(mount(heavier))):
        np.testing.assert_allclose(b.force, 1.3 * a.force, rtol=1e-6, atol=1e-6)


@pytest.mark.parametrize("seed", range(10))
def test_higher_is_never_better_where_every_way_is_judged(seed: int) -> None:
    """Both senses of every direction are judged, so that the lever of a higher centre never helps all of them."""
    made = {**thing(random.Random(300 + seed)), "case": "ambulance-equipment"}
    x, y, z = made["centre"]
    assert used(check(mount({**made, "centre": (x, y, z * 1.4)}))) >= used(check(mount(made))) * (1 - 1e-9)


def test_an_added_foot_stores_no_more_energy() -> None:
    """Least work: more ways to carry a load never raise the sum of squared forces (Castigliano)."""
    dice = np.random.default_rng(9)
    for _ in range(100):
        points = dice.uniform(-300, 300, (6, 3))
        load = Wrench.at(dice.normal(size=3) * 100, dice.uniform(-300, 300, 3))
        few = float((Feet.of(points[:5]).held(load).force ** 2).sum())
        assert float((Feet.of(points).held(load).force ** 2).sum()) <= few * (1 + 1e-9)


@pytest.mark.parametrize("seed", range(30))
def test_less_friction_and_a_higher_centre_never_stand_better(seed: int) -> None:
    """Of a thing that only rests: what tips or slides does so with less friction, and with its centre higher."""
    dice = random.Random(400 + seed)
    made = thing(dice)
    x, y, _ = np.mean(made["feet"], axis=0)
    made["centre"] = (float(x), float(y), dice.uniform(20, 150))

    def stands(friction: float, lift: float) -> tuple[float, float]:
        x, y, z = made["centre"]
        rests = Mount(
            feet=tuple(f"{a!r} {b!r} {c!r} mm" for a, b, c in made["feet"]), mass=f"{made['mass']!r} kg",
            centre=f"{float(x)!r} {float(y)!r} {float(z) * lift!r} mm", acceleration="0.2 0.1 -1 g", resting=True,
            friction=friction,
        )  # fmt: skip
        result = check(rests)
        share = {c.key: c.utilisation for c in result.checks}
        inf = float("inf")
        return share.get("statics.tipping") or inf, share.get("statics.sliding") or inf

    try:
        tips, slides = stands(0.4, 1.0)
    except InputError:
        pytest.skip("feet in one line")
    assert stands(0.3, 1.0)[1] >= slides
    assert stands(0.4, 1.2)[0] >= tips
