"""A mount: its feet by hand, its verdict by the bolts' own checks, its chain in a project, and what it refuses.

Expected forces are statics by hand (levers); verdicts are those of `bolts` under the same force, judged on their own.
"""

from __future__ import annotations

import sys
from typing import Any

import pytest

from jointcalc import check
from jointcalc.check import check_each
from jointcalc.check.bolts import check_bolts
from jointcalc.errors import InputError, InputErrors
from jointcalc.explore.find import find
from jointcalc.explore.sensitivity import sensitivity
from jointcalc.kinds.mount.check import chain, sentence, weakest
from jointcalc.kinds.mount.model import AXES, FASTENING, Mount
from jointcalc.model.bolts import FastenerGroup
from jointcalc.model.project import Project, read_project
from jointcalc.result import Result

G = 9806.65
FEET = ("0 0 0 mm", "300 0 0 mm", "0 200 0 mm", "300 200 0 mm")
SHEETS = ({"thickness": "1.5 mm", "grade": "DC04"},)
THING: dict[str, Any] = {"id": "m", "feet": FEET, "mass": "18 kg", "centre": "150 100 120 mm"}
BOLTED: dict[str, Any] = {
    **THING, "bolt": "M8 8.8", "sheets": SHEETS, "outline": ("-250 -250 250 250 mm",), "plate": "60 60 4 mm",
}  # fmt: skip


def foot(result: Result, n: int) -> tuple[float | None, ...]:
    return tuple(result.values[f"foot_{n}_{axis}"].value for axis in "xyz")


def used(result: Result) -> float:
    assert result.worst is not None
    return float("inf") if result.worst.utilisation is None else result.worst.utilisation


# --- forces -------------------------------------------------------------------------------------------------


def test_the_contracts_example() -> None:
    """18 kg at nine tenths of the way to the far row, three times its weight: nine tenths there (a lever)."""
    result = check(Mount(**{**THING, "centre": "150 180 260 mm"}, acceleration="0 0 -3 g"))
    weight = 0.018 * 3 * G
    for n, share in ((1, 0.05), (2, 0.05), (3, 0.45), (4, 0.45)):
        assert foot(result, n) == pytest.approx((0, 0, -share * weight), abs=1e-9)
    assert result.values["equilibrium_residual"].value == pytest.approx(0, abs=1e-9)
    assert result.status == "outside"
    assert "no link below the feet" in result.unjudged[0]


def test_a_force_and_a_moment_besides() -> None:
    """400 N down at a corner is that corner's; 60 N·m about z is shared by the feet at right angles to their arms."""
    result = check(Mount(feet=FEET, force="0 0 -400 N", at="300 200 0 mm", moment="0 0 60 N*m"))
    # the elastic group: N/4 + corner's moments: a quarter, plus and minus a quarter by each lever
    assert [foot(result, n)[2] for n in (1, 2, 3, 4)] == pytest.approx([100, -100, -100, -300])
    r2 = 4 * (150**2 + 100**2)
    assert foot(result, 1)[:2] == pytest.approx((60e3 * 100 / r2, -60e3 * 150 / r2))


def test_a_case_is_judged_in_every_direction_and_each_method_where_it_is_worst() -> None:
    result = check(Mount(**BOLTED, cases=("battery",)))
    told = [u.standing.under for u in result.loads]
    assert sorted(told) == sorted(f"battery, {way}" for way in ("forward", "rearward", "left", "right", "up", "down"))
    shares = [u.utilisation or 0.0 for u in result.loads]
    assert shares == sorted(shares, reverse=True)
    assert shares[0] == result.worst.utilisation  # type: ignore[union-attr]
    for one in result.json()["loads"]:
        # every direction balances its own load, and the governing one is that of the result's values
        whole = [sum(one["values"][f"foot_{n}_{axis}"]["value"] for n in (1, 2, 3, 4)) for axis in "xyz"]
        size = {"forward": 20, "rearward": 20, "left": 8, "right": 8, "up": 4.5, "down": 4.5}[one["case"].split()[-1]]
        assert sum(abs(v) for v in whole) == pytest.approx(0.018 * size * G)
    first = result.json()["loads"][0]["values"]
    assert {name: result.json()["values"][name] for name in first} == first
    lift = 0.018 * 20 * G * 120 / (2 * 300)
    assert result.values["foot_1_pull"].value == pytest.approx(lift)
    assert result.values["foot_1_press"].value == pytest.approx(lift)
    assert result.values["foot_1_shear"].value == pytest.approx(0.018 * 20 * G / 4)
    # 8 g sideways, 4.5 g upright: less of either
    side = 0.018 * 8 * G * 120 / (2 * 200)
    assert side < lift
    pulled = FastenerGroup(
        **{k: v for k, v in BOLTED.items() if k in FASTENING}, holes=("0 0 mm",), load_factor=1.0,
        force=(0.018 * 20 * G / 4, 0.0, lift), at=(0.0, 0.0, 0.0),
    )  # fmt: skip
    pressed = pulled.but(force=(0.018 * 20 * G / 4, 0.0, -lift))
    alone = {c.key: c for c in check_bolts(pulled).checks}
    other = {c.key: c for c in check_bolts(pressed).checks}
    for check_ in result.judged:
        both = [one[check_.key].utilisation or 0.0 for one in (alone, other) if check_.key in one]
        assert check_.utilisation == pytest.approx(max(both)), check_.key
    assert result.check("sheet-bending.pressed").demand.value == pytest.approx(lift)  # type: ignore[union-attr]
    assert result.check("spreader-plate.pull-through").demand.value == pytest.approx(lift)  # type: ignore[union-attr]


def test_the_load_factor_is_the_cases_unless_it_is_given() -> None:
    crash, road = (check(Mount(**BOLTED, cases=(name,))) for name in ("battery", "bump"))
    assert crash.check("en1993-1-3.bolt-bearing").required_factor == pytest.approx(1.25)
    assert road.check("sheet-bending.pressed").required_factor == pytest.approx(1.5)
    own = check(Mount(**BOLTED, cases=("battery",), load_factor=2.0))
    assert own.check("en1993-1-3.bolt-bearing").required_factor == pytest.approx(2.5)
    assert check(Mount(**BOLTED, acceleration="0 0 3 g")).check("sheet-bending.fastener").required_factor == 1.5


def test_a_wall_and_a_roof_turn_the_bolts() -> None:
    """A weight hangs at a wall's bolts as shear and pulls at a roof's; a force off the surface always pulls."""
    for faces, (axis, side) in AXES.items():
        off = [0.0, 0.0, 0.0]
        off[axis] = side * 100.0
        mount = Mount(feet=FEET, force=" ".join(map(str, off)) + " N", at="150 100 0 mm", faces=faces)
        a, b, pull = mount.local(off)
        assert pull == 100.0
        assert (a, b) == (0.0, 0.0)
        # right-handed: x cross y of the bolts is the way the surface faces
        x, y = ([1.0 if mount.local(e)[k] else 0.0 for e in ((1, 0, 0), (0, 1, 0), (0, 0, 1))] for k in (0, 1))
        assert sum(x) == sum(y) == 1.0
    hung = check(Mount(**{**BOLTED, "faces": "-z"}, acceleration="0 0 -3 g"))
    assert hung.values["foot_1_z"].value == pytest.approx(-0.018 * 3 * G / 4)
    assert hung.check("spreader-plate.pull-through").demand.value == pytest.approx(0.018 * 3 * G / 4)  # type: ignore[union-attr]


def test_what_hangs_is_judged_with_its_weight_where_the_rule_leaves_it_out() -> None:
    unders = [u.standing.under for u in check(Mount(**{**THING, "faces": "-z"}, cases=("traction-battery-un",))).loads]
    assert "traction-battery-un, forward" in unders
    assert "traction-battery-un, forward with weight" in unders


# --- resting feet ---------------------------------------------------------------------------------------------


def test_a_resting_thing_slides_and_tips_by_hand() -> None:
    """At 0.3 g with the centre 60 mm up on a base of 300: friction 0.3 is used up; it tips at (150/60)/0.3 of that."""
    result = check(
        Mount(**{**THING, "centre": "150 100 60 mm"}, acceleration="0.15 0 -1 g", resting=True, friction=0.3)
    )
    slides = result.check("statics.sliding")
    assert slides.utilisation == pytest.approx(1.5 * 0.15 / 0.3)
    assert result.values["tips_at"].value == pytest.approx(150 / 60 / 0.15)
    assert result.status == "outside", "what it stands on is not judged"
    over = check(Mount(**{**THING, "centre": "150 100 260 mm"}, acceleration="0.8 0 -1 g", resting=True, friction=0.3))
    assert over.status == "over"
    assert over.governing == "statics.tipping"
    assert over.check("statics.tipping").capacity.value == pytest.approx(150 / (0.8 * 260))  # type: ignore[union-attr]
    assert foot(over, 1) == (None, None, None)
    assert "tips over" in over.check("statics.tipping").note


def test_resting_feet_need_something_sideways() -> None:
    plain: dict[str, Any] = {**THING, "acceleration": "0.3 0 -1 g", "resting": True}
    assert any("holds the resting feet sideways" in text for text in check(Mount(**plain)).unjudged)
    located = check(Mount(**plain, located=True))
    assert not any("sideways" in text for text in located.unjudged)
    assert "located-feet" in {c.code for c in located.cautions}


# --- the chain ------------------------------------------------------------------------------------------------


def project(**changes: Any) -> Project:
    mount = {"id": "bench", "feet": ["500 250 0 mm", "500 750 0 mm", "800 250 0 mm", "800 750 0 mm"], "mass": "15 kg",
             "centre": "650 500 150 mm", "bolts": "M1", "brace": ["B1", "B1", "B2", "B2"], **changes}  # fmt: skip
    brace = {"profile": "hat:top=50mm,depth=40mm,flange=25mm,t=1.5mm,r=2mm", "grade": "S355MC", "span": "1000 mm",
             "lies": "flanges-up", "over": "webs", "held": "both", "bearing": "40 mm", "load": "from bench"}  # fmt: skip
    return read_project(
        {
            "project": {"title": "Invented"},
            "sheet": {"floor": {"thickness": "1.5 mm", "grade": "DC04"}},
            "case": [{"id": "crash", "use": "heavy-thing"}, {"id": "road", "use": "bump"}],
            "mount": [mount],
            "bolts": [{"id": "M1", "holes": ["0 0 mm"], "bolt": "M8 8.8", "sheets": ["floor"],
                       "outline": "-250 -250 250 250 mm", "plate": "60 60 4 mm", "load": "from bench"}],
            "brace": [{"id": "B1", "place": "500 0 500 1000 mm", "end_joints": ["S1"], **brace},
                      {"id": "B2", "place": "800 0 800 1000 mm", **brace}],
            "seam": [{"id": "S1", "sheets": ["floor", "floor"], "weld_diameter": "5.5 mm", "pitch": "30 mm",
                      "length": "60 mm", "edge": "9 mm", "shear": "2 kN"}],
        },
        where="invented.toml",
    )  # fmt: skip


def test_the_chain_runs_through_the_items_below() -> None:
    made = project()
    results = check(made)
    bench = results["bench"]
    links = {name: share for name, share, _ in chain(bench)}
    assert set(links) == {"M1", "B1", "B2", "S1"}
    for name, share in links.items():
        assert share == pytest.approx(used(results[name]))
    worst = max(links, key=lambda name: links[name])
    assert weakest(bench) == (worst, links[worst])
    assert bench.governing == f"chain.link.{worst}"
    assert sentence(bench).endswith(f"weakest: {worst}")
    assert bench.status == "ok"
    # the first load is the one under which the worst of the links that take it is worst
    taking = max(("M1", "B1", "B2"), key=lambda name: links[name])
    first = bench.loads[0]
    assert first.standing.under == results[taking].loads[0].standing.under
    assert first.utilisation == pytest.approx(links[taking])
    assert [u.utilisation for u in bench.loads] == sorted((u.utilisation or 0.0 for u in bench.loads), reverse=True)


def test_a_link_is_judged_once_whichever_comes_first(monkeypatch: pytest.MonkeyPatch) -> None:
    """For itself and for the mount above it; no outside value is needed: the answer hangs on no order."""
    module = sys.modules["jointcalc.check"]
    judge, asked = module._item, []
    monkeypatch.setattr(module, "_item", lambda item: (asked.append(item.id), judge(item))[1])
    told = []
    for order in (1, -1):
        items = project().items[::order]
        told.append([result.json() for result in check_each(items)][::order])
        assert sorted(asked) == sorted(item.id for item in items)
        asked.clear()
    assert told[0] == told[1]


def test_every_foot_reaches_what_carries_it() -> None:
    """15 kg at 20 g forward, 150 mm up: 735.5 N lever between the rows 300 mm apart; the braces stand under their rows."""
    made = project()
    lever, press = 0.015 * 20 * G * 150 / 300 / 2, 0.015 * 4.5 * G / 4
    front = next(i for i in made.items if i.id == "B1")
    unders = [s for s in front.standings if s.under == "crash, forward"]
    assert len(unders) == 1
    assert unders[0].fields["point"] == [(pytest.approx(lever), 250.0), (pytest.approx(lever), 750.0)]
    down = next(s for s in front.standings if s.under == "crash, down")
    assert down.fields["point"] == [(pytest.approx(press), 250.0), (pytest.approx(press), 750.0)]
    bolts = next(i for i in made.items if i.id == "M1")
    forces = [s.fields["force"] for s in bolts.standings if s.under == "crash, forward"]
    assert sorted(f[2] for f in forces) == pytest.approx([-lever, lever])
    way = bolts.standings[0].way
    assert way[0].thing == "bench"
    assert "20 g forward" in way[0].sentence
    assert way[0].source
    assert way[1].thing.startswith("bench, foot")


def test_a_mount_of_a_project_stands_under_the_cases_it_names_or_all() -> None:
    assert {u.standing.given[0].case for u in check(project().items[0]).loads} == {"crash", "road"}
    assert {u.standing.given[0].case for u in check(project(cases=["road"]).items[0]).loads} == {"road"}
    assert {u.standing.given[0].case for u in check(project(case="road").items[0]).loads} == {"road"}


@pytest.mark.parametrize(
    "changes,words",
    [({"bolts": ["M9"]}, "puts nothing on M1"), ({"fillet": ["W9"]}, "'W9' is not the id"), ({"cases": ["raod"]}, "not the id of a"), ({"mass": None}, "mass"),
     ({"brace": ["B1", "B2"]}, "2 ids for 4 feet"), ({"forward": "y"}, r"\[project\] forward")],
)  # fmt: skip
def test_bad_words_in_a_project(changes: dict[str, Any], words: str) -> None:
    with pytest.raises(InputError, match=words):
        check(
            project(**{k: v for k, v in changes.items() if v is not None}) if None not in changes.values() else _bare()
        )


def _bare() -> Project:
    return read_project(
        {"project": {"title": "t"}, "case": [{"id": "c", "use": "brake"}], "mount": [{"id": "b", "feet": list(FEET)}]}
    )


def test_bolts_lie_the_way_the_feet_stand() -> None:
    """Bolts of a wall must say in their axes that they lie in it: a pull is no shear."""
    with pytest.raises(InputError, match="axes such as 'y z'"):
        check(project(faces="x", brace=[]).items[0])
    made = project(faces="-z", brace=[])
    with pytest.raises(InputError, match="axes such as 'x -y'"):
        check(made.items[0])


def test_welds_whose_axes_are_not_said_lie_in_a_floor() -> None:
    """Under feet on a wall a pull off it would be a shear of the welds; said axes count, for welds may stand beside it."""
    weld = {"id": "W1", "lines": ["0 0 60 0 mm"], "sheet": {"thickness": "2 mm", "grade": "S235JR"}, "leg": "2 mm",
            "load": "from box", "origin": "0 0 0 mm"}  # fmt: skip
    box = {"id": "box", "feet": ["0 0 0 mm"], "force": "200 0 0 N", "at": "0 0 0 mm", "faces": "x", "fillet": ["W1"]}

    def made(**changes: Any) -> Project:
        return read_project({"project": {"title": "t"}, "mount": [box], "fillet": [{**weld, **changes}]})

    with pytest.raises(InputError, match=r"axes of W1, 'x y', do not.*such as 'y z', or those"):
        check(made())
    check(made(axes="y z"))
    check(made(axes="x z"))


def test_a_mass_that_nothing_accelerates_is_told() -> None:
    """Its weight would be in no load; with what it feels, or without the mass, nothing is left open."""
    pushed = {**BOLTED, "force": "0 0 -100 N", "at": "150 100 0 mm"}
    idle = check(Mount(**pushed))
    assert idle.status == "outside"
    assert any("its mass loads nothing" in text for text in idle.unjudged)
    assert check(Mount(**pushed, acceleration="0 0 -1 g")).status == "ok"
    assert check(Mount(**{**pushed, "mass": None, "centre": None})).status == "ok"


def test_a_thing_that_tips_gives_no_load() -> None:
    with pytest.raises(InputError, match="tips over under crash, forward with weight"):
        project(resting=True, located=True, bolts=[])


def test_no_link_is_never_silently_ok() -> None:
    made = project(bolts=[], brace=[])
    assert check(made.items[0]).status == "outside"
    cautions = {c.code for c in check(project(bolts=[]).items[0]).cautions}
    assert "feet-not-fastened" in cautions


# --- what is refused --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "changes,words",
    [
        ({"cases": ("seat-with-belt-us",)}, "lap.*torso.*occupants"),
        ({"cases": ("jack-corner",), "at": "0 0 0 mm"}, "vehicle_mass.*axle_share"),
        ({"cases": ("towing",)}, "approved part"),
        ({"cases": ("batery",)}, "battery"),
        ({"cases": ("bump", "bump")}, "twice"),
        ({"acceleration": "0 0 -1 g", "cases": ("bump",)}, "give one of them"),
        ({"acceleration": "0 0 -1 g", "centre": None}, "centre"),
        ({"acceleration": "0 0 -1 g", "mass": None}, "mass"),
        ({"force": "0 0 1 N"}, "no point of action"),
        ({}, "nothing acts"),
        ({"acceleration": "0 0 -1 g", "feet": FEET[:2]}, "turns about the line"),
        ({"acceleration": "0 0 -1 g", "feet": FEET[:1]}, "only foot"),
        ({"acceleration": "0 0 -1 g", "feet": FEET[:2], "resting": True}, "tips over"),
        ({"acceleration": "0 0 -1 g", "feet": (FEET[0], FEET[0])}, "one place"),
        ({"acceleration": "0 0 -1 g", "feet": ()}, "0 given"),
        ({"acceleration": "0 0 -1 g", "bolt": "M8 8.8"}, "give both"),
        ({"acceleration": "0 0 -1 g", "bolt": "M8 9.8x", "sheets": SHEETS}, "M8 9.8x|class"),
        ({"acceleration": "0 0 -1 g", "plate": "9 9 3 mm", "bolt": "M8 8.8", "sheets": SHEETS}, "plate"),
        ({"acceleration": "0 0 -1 g", "friction": 0.3}, "only rest"),
        ({"acceleration": "0 0 -1 g", "resting": True, "bolt": "M8 8.8", "sheets": SHEETS}, "no bolts"),
        ({"acceleration": "0 0 -1 g", "resting": True, "friction": 0.3, "located": True}, "one of them"),
        ({"acceleration": "0 0 -1 g", "stiffness": ("1 1 1 N/mm", "1 1 1 N/mm")}, "one for each"),
        ({"acceleration": "0 0 -1 g", "faces": "up"}, "up"),
        ({"acceleration": "0 0 -1 g", "forward": "z"}, "no direction"),
        ({"acceleration": "0 0 -1 g", "occupants": 0}, "1 to 10"),
        ({"acceleration": "0 0 -1 g", "bolts": ("M1",)}, "in a project only"),
        ({"acceleration": "0 0 -1 g", "load": ("from x",)}, "takes none"),
    ],
)  # fmt: skip
def test_refusals_speak_to_a_builder(changes: dict[str, Any], words: str) -> None:
    with pytest.raises(InputError, match=f"(?s){words}"):
        check(Mount(**{k: v for k, v in {**THING, **changes}.items() if v is not None}))


def test_several_faults_of_cases_come_at_once() -> None:
    with pytest.raises(InputErrors) as caught:
        check(Mount(feet=FEET, cases=("bump", "seat-with-belt-un")))
    assert len(caught.value.faults) == 2


# --- searches, changes, properties ------------------------------------------------------------------------------


def test_searches_hold_and_the_next_step_does_not() -> None:
    data = {**BOLTED, "cases": ("heavy-thing",)}
    mass = find(data, "mass", kind="mount")
    found = mass.result.values["found"].value
    assert found is not None
    assert check(Mount(**{**data, "mass": f"{found} kg"})).status == "ok"
    assert check(Mount(**{**data, "mass": f"{found * 1.01} kg"})).status == "over"
    thin = find({**data, "mass": "30 kg"}, "thickness", kind="mount")
    assert thin.result.status == "ok"
    bolt = find({**data, "bolt": "M12 8.8"}, "bolt", kind="mount")
    assert bolt.result.status == "ok"
    assert bolt.result.model.typed("bolt").startswith("M")
    plate = find({k: v for k, v in data.items() if k != "plate"}, "plate", kind="mount")
    assert plate.result.status == "ok"
    for bad in ("pitch", "masses"):
        with pytest.raises(InputError, match="cannot be searched"):
            find(data, bad, kind="mount")
    with pytest.raises(InputError, match="bolt and its sheets"):
        find({**THING, "cases": ("bump",)}, "bolt", kind="mount")


def test_thinner_and_one_foot_fewer_are_never_better() -> None:
    mount = Mount(**BOLTED, cases=("battery",))
    before = check(mount)
    thin, fewer = sensitivity(mount, before)
    assert thin.result is not None
    assert used(thin.result) > used(before)
    assert fewer.result is not None
    assert used(fewer.result) > used(before)
    assert "foot" in fewer.what
    bare = sensitivity(Mount(**THING, acceleration="0 0 -1 g"))
    assert bare[0].result is None
    named = project().items[0]
    again = sensitivity(named, check(named))
    assert "items of their own" in again[1].why


@pytest.mark.parametrize("case", ["battery", "bump", "corner", "seat-un"])
def test_no_weaker_thing_comes_out_better(case: str) -> None:
    """Heavier, higher, on a shorter base, in thinner sheet, on a smaller bolt: never better."""
    before = used(check(Mount(**BOLTED, cases=(case,))))
    weaker: tuple[dict[str, Any], ...] = (
        {"mass": "20 kg"},
        {"centre": "150 100 180 mm"},
        {"centre": "190 100 120 mm"},
        {"feet": ("20 0 0 mm", "280 0 0 mm", "20 200 0 mm", "280 200 0 mm")},
        {"feet": ("0 0 0 mm", "300 0 0 mm", "150 200 0 mm")},
        {"sheets": ({"thickness": "1.2 mm", "grade": "DC04"},)},
        {"bolt": "M6 8.8"},
        {"plate": None},
    )
    for change in weaker:
        data = {k: v for k, v in {**BOLTED, **change}.items() if v is not None}
        assert used(check(Mount(**data, cases=(case,)))) >= before * (1 - 1e-9), change


def test_more_cases_are_never_better() -> None:
    one = used(check(Mount(**BOLTED, cases=("bump",))))
    two = used(check(Mount(**BOLTED, cases=("bump", "battery"))))
    assert two >= one


def test_a_mirrored_mount_is_as_strong() -> None:
    """Left and right change places with the thing: the verdict stays."""
    across = {**BOLTED, "centre": "150 140 120 mm"}
    mirrored = {**BOLTED, "centre": "150 60 120 mm"}
    assert used(check(Mount(**across, cases=("battery",)))) == pytest.approx(
        used(check(Mount(**mirrored, cases=("battery",))))
    )


def test_every_new_method_and_caution_is_raised() -> None:
    """A seat with its belt raises the stop, the local rule and the source of its case."""
    result = check(
        Mount(**{**BOLTED, "mass": "15 kg"}, cases=("seat-with-belt-un",), lap="150 100 200 mm", torso="150 100 500 mm",
              occupants=1)
    )  # fmt: skip
    codes = {c.code for c in result.cautions}
    assert {"occupant-load", "local-rule", "case-source", "load-estimate", "rigid-feet", "thing-itself"} <= codes
    assert any("UN R14" in c.text for c in result.cautions if c.code == "case-source")
    assert result.about["forward"] == "it drives to -x"
    # the plate rule of seats comes with the case: 60 x 60 mm is less than its 3750 mm2
    assert result.check("detail.plate-area").status == "over"


def test_a_recalled_case_marks_what_it_governs() -> None:
    """UN R67 is from memory: so is every check that its load passes through."""
    result = check(Mount(**BOLTED, cases=("tank-lpg-un",)))
    assert result.worst is not None
    assert result.worst.provenance == "from memory"
    assert "from-memory" in {c.code for c in result.cautions}
