"""Load cases of the table against the words of the rules they point to, and against statics by hand.

Rules: 49 CFR 571.207, 571.210 (edition of 10-1-24, read), UN R14, R17, R100 (read); common practice where no rule stands.
"""

from __future__ import annotations

from math import cos, radians, sin
from typing import Any

import pytest

from jointcalc.errors import InputError, InputErrors
from jointcalc.loads.cases import in_force, resolve, weakest
from jointcalc.model.project import LoadCase
from jointcalc.result.cautions import all_cautions
from jointcalc.tables.store import load

G = 9806.65
ROWS = load("cases").rows
USED = [row["id"] for row in ROWS if row["nature"] != "refused"]
DATA = {"mass", "centre", "at", "lap", "torso", "occupants", "vehicle_mass", "axle_share"}


@pytest.mark.parametrize("name", USED)
def test_every_case_is_whole(name: str) -> None:
    row = load("cases").find(id=name)
    case = resolve(name)
    assert case.fields
    assert case.source
    assert case.title == row["title"]
    assert row["serves"]
    assert set(case.asks) <= DATA
    assert case.asks
    assert case.ultimate == (row["nature"] == "ultimate")
    assert case.load_factor == (1.0 if case.ultimate else 1.5)
    assert case.cautions == ("local-rule",)
    assert "local-rule" in all_cautions()
    assert row["weight"] in ("not", "added", "within")
    assert len({f.direction for f in case.fields}) == len(case.fields)
    # the table's status is that of the weakest row it points to
    assert case.status == row.status == weakest([case.status or "", row.status])
    for field in case.fields:
        assert any(field.acceleration) or field.pulls
        assert {p.part for p in field.pulls} <= {"at", "lap", "torso"}
        assert {p.part for p in field.pulls} <= set(case.asks)
        assert any(field.acceleration) <= ({"mass", "centre"} <= set(case.asks))
        assert all((p.per == "occupant") <= ("occupants" in case.asks or row["mass"] != "") for p in field.pulls)


def test_no_number_is_typed_twice() -> None:
    for row in ROWS:
        numbers = [row[c] for c in ("forward", "rearward", "lateral", "up", "down", "mass", "share", "times")]
        assert not (row["rows"] and any(numbers)), row["id"]


def test_a_seat_with_its_belt_by_571_207_and_571_210() -> None:
    """13,345 N on lap and torso block each, 5 to 15 degrees up, with 20 x mass x 9.8 N at the same time: 29,630 N for 15 kg."""
    case = resolve("seat-with-belt-us")
    assert [f.direction for f in case.fields] == ["forward, 5° up", "forward, 15° up"]
    for field, angle in zip(case.fields, (5, 15)):
        assert field.acceleration == pytest.approx((-20 * 9800.0, 0, 0))
        assert [p.part for p in field.pulls] == ["lap", "torso"]
        for pull in field.pulls:
            a = radians(angle)
            assert pull.force == pytest.approx((-13345 * cos(a), 0, 13345 * sin(a)))
            assert pull.per == "occupant"
    total = 2 * 13345 + 0.015 * -case.fields[0].acceleration[0]
    assert total == pytest.approx(29630, abs=1)


def test_un_loads() -> None:
    """UN R14: 1,350 daN on each of two devices, 2,225 daN on a lap belt, 20 times the weight; UN R17: 53 daN m; R100: 20, 8 g."""
    both = resolve("seat-with-belt-un").fields[0]
    assert both.acceleration[0] == pytest.approx(-20 * G)
    assert sum(p.force[0] ** 2 + p.force[2] ** 2 for p in both.pulls) == pytest.approx(2 * 13500.0**2)
    lap = resolve("belt-lap-un").fields[0].pulls[0]
    assert (lap.force[0] ** 2 + lap.force[2] ** 2) ** 0.5 == pytest.approx(22250)
    back = resolve("seat-back-un").fields[0].pulls[0]
    # a rearward force at the top turns the back about the lateral axis: z x x (rearward) = +y
    assert back.moment == pytest.approx((0, 530e3, 0))
    shock = {f.direction: f.acceleration for f in resolve("traction-battery-un").fields}
    assert shock["forward"] == pytest.approx((-20 * G, 0, 0))
    assert shock["left"] == pytest.approx((0, -8 * G, 0))
    assert shock["right"] == pytest.approx((0, 8 * G, 0))


def test_bump_and_rebound_mirror_the_weight() -> None:
    """At 3 times the static load the road adds 2 g to the weight; mirrored it takes 2 g off: 1 g up (derivation)."""
    fields = {f.direction: f.acceleration[2] for f in resolve("bump").fields}
    assert fields == pytest.approx({"down": -3 * G, "rebound": 1 * G})
    brake = resolve("brake").fields[0].acceleration
    assert brake == pytest.approx((-1.84 * G, 0, -1 * G))


def test_persons_and_jacks() -> None:
    """90 kg weighs 882.6 N; a jack under a corner lifts half of the axle, under a sill half of the vehicle, doubled."""
    assert resolve("person-standing").fields[0].pulls[0].force == pytest.approx((0, 0, -0.09 * G))
    assert resolve("person-jumping").fields[0].pulls[0].force == pytest.approx((0, 0, -3 * 0.09 * G))
    corner, side = (resolve(n).fields[0].pulls[0] for n in ("jack-corner", "jack-side"))
    # 1200 kg, 55 % on the axle: 3.24 kN (statics); here times 2 for handling
    assert corner.per == "axle"
    assert 1.2 * 0.55 * corner.force[2] == pytest.approx(2 * 3236, rel=1e-3)
    assert side.per == "vehicle"
    assert 1.2 * side.force[2] == pytest.approx(2 * 5884, rel=1e-3)


def test_forward_is_the_builders() -> None:
    """x forward and y to the left, as some draw it: right is then -y (right-handed, z up)."""
    shock = {f.direction: f.acceleration for f in resolve("traction-battery-un", forward=(1.0, 0.0, 0.0)).fields}
    assert shock["forward"] == pytest.approx((20 * G, 0, 0))
    assert shock["right"] == pytest.approx((0, -8 * G, 0))
    shock = {f.direction: f.acceleration for f in resolve("traction-battery-un", forward=(0.0, 1.0, 0.0)).fields}
    assert shock["forward"] == pytest.approx((0, 20 * G, 0))
    assert shock["right"] == pytest.approx((8 * G, 0, 0))


def test_a_towing_point_is_refused_with_the_reason() -> None:
    with pytest.raises(InputError, match="approved part"):
        resolve("towing")
    with pytest.raises(InputErrors, match="approved part"):
        LoadCase(id="t", use="towing")
    with pytest.raises(InputError, match="did you mean 'brake'"):
        resolve("braek")


def test_a_projects_case_takes_what_it_does_not_say_from_the_table() -> None:
    case = LoadCase(id="crash", use="traction-battery-un")
    assert (case.title, case.ultimate) == ("Traction battery, shock, M1/N1", True)
    found = in_force(case, forward=(-1.0, 0.0, 0.0))
    assert (found.id, found.load_factor, len(found.fields)) == ("crash", 1.0, 4)
    own = LoadCase(id="d", title="Drive", use="brake", load_factor=2.0)
    found = in_force(own, forward=(-1.0, 0.0, 0.0))
    assert (found.title, found.load_factor, found.ultimate) == ("Drive", 2.0, False)
    with pytest.raises(InputErrors, match="give one of them"):
        LoadCase(id="d", use="brake", acceleration="0 0 -1 g")
    plain: dict[str, Any] = {"id": "a", "title": "A", "acceleration": "0 0 -3 g"}
    assert in_force(LoadCase(**plain), forward=(-1.0, 0.0, 0.0)).fields[0].acceleration == pytest.approx((0, 0, -3 * G))
