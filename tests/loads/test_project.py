"""Loads that follow from others: from a giver through the fields of an item to a verdict, each newton traced.

The giver here is invented for the test: it presses with a stated force at stated feet.  Expected numbers are statics
by hand.
"""

from __future__ import annotations

import math
from typing import Annotated, Any

import pytest

from jointcalc.check import check
from jointcalc.errors import InputError, InputErrors
from jointcalc.explore.sensitivity import sensitivity
from jointcalc.model.fields import Described, Numbers
from jointcalc.model.given import Context, Given, Station
from jointcalc.model.project import Project, read_project
from jointcalc.quantity.sentence import newtons
from jointcalc.registry import SOURCES, Giver

MASS = 0.05
"""Of the invented thing [t]."""


class Weight(Described):
    """A thing of 50 kg that stands on its feet, a quarter on each."""

    id: str
    feet: tuple[Annotated[tuple[float, ...], Numbers("length", 3)], ...]
    onto: tuple[str, ...] = ()


def gives(thing: Weight, context: Context) -> tuple[Given, ...]:
    """The same part of the force at every foot, in every case."""
    found = []
    for case in context.cases.values():
        for field in case.fields:
            for n, foot in enumerate(thing.feet):
                force = tuple(MASS * a / len(thing.feet) for a in field.acceleration)
                found.append(
                    Given(
                        giver=thing.id,
                        part=f"foot {n + 1}",
                        case=case.id,
                        at=(foot[0], foot[1], foot[2]),
                        force=(force[0], force[1], force[2]),
                        load_factor=case.load_factor,
                        cycles=case.cycles,
                        onto=frozenset(thing.onto[n : n + 1]),
                        cautions=("load-estimate",) if case.id == "kerb" else (),
                        way=(
                            Station(f"{thing.id}, foot {n + 1}", f"presses with {newtons(-force[2]):.4g}", case.source),
                        ),
                    )
                )
    return tuple(found)


@pytest.fixture(autouse=True)
def weights(monkeypatch: pytest.MonkeyPatch) -> None:
    """The invented giver, known to the registry for one test."""
    here = f"{__name__}"
    monkeypatch.setitem(
        SOURCES,
        "weight",
        Giver(
            name="weight",
            help="",
            checklist="jointcalc.registry:nothing_built",
            model=f"{here}:Weight",
            gives=f"{here}:gives",
        ),
    )


BRACE = {
    "id": "B1", "profile": "hat:top=50mm,depth=40mm,flange=25mm,t=1.5mm,r=2mm", "grade": "S355MC", "span": "1000 mm",
    "lies": "flanges-up", "over": "webs", "held": "both", "bearing": "40 mm", "place": "500 0 500 1000 mm",
    "load": "from bench",
}  # fmt: skip
BOLTS = {
    "id": "M1", "holes": ["0 0 mm"], "bolt": "M8 8.8", "sheets": ["floor"], "plate": "60 60 4 mm", "washer": "large",
    "load": "from bench",
}  # fmt: skip
BENCH = {"id": "bench", "feet": ["500 250 0 mm", "500 750 0 mm"]}


def project(**tables: Any) -> Project:
    """A project of these tables, with a bump that presses and a kerb that lifts and pushes."""
    return read_project(
        {
            "project": {"title": "Invented"},
            "sheet": {"floor": {"thickness": "1.2 mm", "grade": "DC04"}},
            "case": [
                {"id": "bump", "title": "Bump", "acceleration": "0 0 -3 g", "source": "invented"},
                {"id": "kerb", "title": "Kerb", "acceleration": "0.5 0 2 g", "load_factor": 2.0},
            ],
            "weight": [BENCH],
            **tables,
        },
        where="invented.toml",
    )


def test_feet_become_points_of_the_brace_under_each_case() -> None:
    """50 kg on two feet under 3 g: 735.5 N at 250 and 750 mm; the beam's moment is then F a (statics by hand)."""
    brace = project(brace=[BRACE]).items[0]
    assert [s.under for s in brace.standings] == ["bump", "kerb"]
    down = brace.standings[0].fields["point"]
    foot = 0.05 * 3 * 9806.65 / 2
    assert down == [(pytest.approx(foot), 250.0), (pytest.approx(foot), 750.0)]
    result = check(brace.loaded(brace.standings[0]))
    assert result.values["moment_max"].value == pytest.approx(foot * 250.0)


def test_the_worst_load_governs_and_every_load_is_told() -> None:
    """The result is that of the worse case, its numbers with it; the other stands beside it."""
    brace = project(brace=[BRACE]).items[0]
    result = check(brace)
    alone = [check(brace.loaded(s)) for s in brace.standings]
    used = [one.worst.utilisation for one in alone]  # type: ignore[union-attr]
    assert result.worst is not None
    assert result.worst.utilisation == max(used)  # type: ignore[type-var]
    assert [one.standing.under for one in result.loads] == ["bump", "kerb"]
    told = result.json()["loads"]
    assert [one["utilisation"] for one in told] == sorted(used, reverse=True)  # type: ignore[type-var]
    assert told[0]["way"][0] == {"thing": "bench, foot 1", "text": "presses with 735.5 N", "source": "invented"}
    assert "load-estimate" in {c.code for c in result.cautions}


def test_a_leg_is_judged_under_each_foot_alone() -> None:
    """The bolts of a leg are one of several alike: each foot by itself, alike feet once, the pull along their own z."""
    bolts = project(bolts=[BOLTS]).items[0]
    assert len(bolts.standings) == 2  # two cases; the feet are alike
    kerb = bolts.standings[1].fields
    assert kerb["force"] == pytest.approx((0.05 * 0.5 * 9806.65 / 2, 0.0, 0.05 * 2 * 9806.65 / 2))
    assert kerb["load_factor"] == 2.0
    assert [one.standing.under for one in check(bolts).loads] == ["bump", "kerb"]  # pressed 3 g dishes the sheet most


def test_a_joint_on_a_wall_turns_the_force_into_its_own_axes() -> None:
    """x, y of the joint along the plan's y and z: the plan's x is its z, so a push along x pulls its bolts."""
    bolts = project(bolts=[{**BOLTS, "axes": "y z"}]).items[0]
    assert bolts.standings[1].fields["force"] == pytest.approx((0.0, 0.05 * 2 * 9806.65 / 2, 0.05 * 0.5 * 9806.65 / 2))


def test_a_force_beside_the_joint_turns_it() -> None:
    """The joint's zero 100 mm beside the foot along x and 40 below: M = r x F about it (statics by hand)."""
    bolts = project(bolts=[{**BOLTS, "load": "from bench foot 1", "origin": "400 250 -40 mm"}]).items[0]
    F = 0.05 * 9806.65 / 2
    fields = bolts.standings[1].fields
    # r = (100, 0, 40), F = (0.5, 0, 2) F: r x F = (0, 40 x 0.5 - 100 x 2, 0) F
    assert fields["moment"] == pytest.approx((0.0, (40 * 0.5 - 100 * 2) * F, 0.0))


def test_a_level_push_on_a_free_brace_is_judged() -> None:
    """Nothing holds the brace's faces: the kerb's push bends, twists or pushes it itself."""
    held, free = (check(project(brace=[{**BRACE, "held": held}]).items[0]) for held in ("both", "none"))
    assert free.worst is not None
    assert held.worst is not None
    assert (free.worst.utilisation or 0.0) > (held.worst.utilisation or 0.0)
    keys = {c.key for c in free.checks}
    assert keys & {"en1993-1-1.bending-both-ways", "en1993-1-3.compression"}


def test_what_the_giver_names_takes_its_own_feet_only() -> None:
    """A foot said to stand on B1 is not put on B2 too."""
    bench = {**BENCH, "onto": ["B1", "B2"]}
    items = project(weight=[bench], brace=[BRACE, {**BRACE, "id": "B2"}]).items
    assert [len(i.standings[0].fields["point"]) for i in items] == [1, 1]
    assert items[1].standings[0].fields["point"][0][1] == 750.0


def test_sensitivity_changes_the_item_and_keeps_its_loads() -> None:
    """Eight percent thinner under the same feet is used more."""
    brace = project(brace=[BRACE]).items[0]
    result = check(brace)
    thin = sensitivity(brace, result)[0].result
    assert thin is not None
    assert len(thin.loads) == 2
    assert thin.worst.utilisation > result.worst.utilisation  # type: ignore[union-attr, operator]
    assert brace.but(bearing=60.0).standings == brace.standings


@pytest.mark.parametrize(
    ("item", "words"),
    [
        ({"load": "from bank"}, "'bank' gives no load in this file (they are: bench)"),
        ({"load": "bench"}, "'bench' names nobody; write it like 'from bench'"),
        ({"load": "from bench foot 9"}, "has no part 'foot 9' (it has: foot 1, foot 2)"),
        ({"point": "10 N @ 20 mm"}, "is typed though the load comes from bench"),
        ({"place": "500 0 500 500 mm"}, "its spans are 1000 mm"),
        ({"case": "kerbside"}, "is not the id of a [[case]]"),
    ],
)
def test_wrong_loads_are_refused_with_the_place(item: dict[str, Any], words: str) -> None:
    """Unknown givers and parts, numbers typed twice, feet off the brace."""
    with pytest.raises(InputErrors) as error:
        project(brace=[{**BRACE, **item}])
    assert words in str(error.value)


def test_an_item_with_a_load_from_a_project_is_not_judged_alone() -> None:
    """Outside its project nobody knows the load: never silently without one."""
    from jointcalc.model.brace import Brace
    from jointcalc.model.fields import build

    with pytest.raises(InputError, match="known in a project only"):
        check(build(Brace, BRACE))


def test_the_tree_names_place_load_and_what_governs(capsys: pytest.CaptureFixture[str]) -> None:
    """Worst first: verdict, where it lies, which load of which case governs, what it has against what it needs."""
    from jointcalc.show.terminal import Plain, print_loads
    from jointcalc.show.tree import print_tree

    results = [check(item) for item in project(brace=[BRACE], bolts=[BOLTS]).items]
    print_tree(results, Plain(80), {}, full=True)
    lines = [line for line in capsys.readouterr().out.splitlines() if line]
    used = [r.worst.utilisation for r in results if r.worst is not None]
    assert lines[0].split()[0] == results[used.index(max(used))].id
    assert "bench foot 1 + bench foot 2 in bump" in " ".join(" ".join(lines).split())
    print_loads(results[0], Plain(80), "metric")
    shown = " ".join(capsys.readouterr().out.split())
    assert "bench, foot 1: presses with 735.5 N [invented]" in shown
    assert "B1: takes 735.5 N downwards from bench foot 1, 250 mm from its start" in shown


def test_the_dossier_traces_each_newton() -> None:
    """An item's sheet lists its loads with their verdicts and the stations of the one that governs, with sources."""
    from jointcalc.dossier import Options, make_dossier
    from tests.dossier.conftest import words_of

    made = project(bolts=[BOLTS])
    text = words_of(make_dossier(made, [check(item) for item in made.items], Options()))
    assert "bench foot 1 in bump; the worst of 2, each judged by itself" in text
    assert "bench, foot 1: presses with 735.5 N (invented)" in text
    assert "-735.5 N along its z" in text


ROW = {
    "sheets": ["floor", "floor"], "weld_diameter": "5.5 mm", "count": 5, "length": "200 mm", "edge": "10 mm",
    "place": "0 0 200 0 mm", "peel_arm": "12 mm",
}  # fmt: skip


def taken(given: Given, **fields: Any) -> Any:
    """What a row of five spots along x, 40 mm apart, takes of a load."""
    from jointcalc.loads.take import seam
    from jointcalc.model.fields import build
    from jointcalc.model.seam import SpotSeam

    sheet = {"thickness": "1.2 mm", "grade": "DC04"}
    return seam(build(SpotSeam, {**ROW, "id": "S1", "sheets": [sheet, sheet], **fields}), [given])


def test_a_row_resolves_a_force_along_it_across_it_and_off_it() -> None:
    """In the middle of the row; what presses presses, and lifts where nothing says which way it presses."""
    given = Given(giver="F", case="c", at=(100.0, 0.0, 0.0), force=(300.0, -200.0, -500.0))
    assert taken(given).fields == pytest.approx({"shear": 300.0, "across": 200.0, "peel": 500.0})
    assert taken(given, presses="down").fields == pytest.approx({"shear": 300.0, "across": 200.0})
    assert taken(given, presses="up").fields["peel"] == pytest.approx(500.0)


def test_a_force_right_across_a_slanting_row_leaves_nothing_along_it() -> None:
    """What sine and cosine of the row's direction leave of it is rounding, and no load that is judged."""
    for angle in range(5, 90, 5):  # not every one of them leaves something
        slope = math.tan(math.radians(angle))
        given = Given(giver="F", case="c", at=(100.0, 100.0 * slope, 0.0), force=(-300.0 * slope, 300.0, 0.0))
        found = taken(given, place=f"0 0 200 {200.0 * slope!r} mm").fields
        assert found == pytest.approx({"across": 300.0 / math.cos(math.radians(angle))})


def test_a_tilt_counts_as_an_even_lift_like_that_of_its_end_spot() -> None:
    """Spots at -80 ... 80 mm: the end one gets M c / Σc² = M 80 / 16000, five such are an even lift (group by hand)."""
    given = Given(giver="F", case="c", at=(100.0, 0.0, 0.0), moment=(0.0, 16000.0, 0.0))
    assert taken(given).fields == pytest.approx({"peel": 5 * 16000.0 * 80.0 / 16000.0})
    # about the row's own line the sheet's edge, 10 mm away, bears
    about = Given(giver="F", case="c", at=(100.0, 0.0, 0.0), moment=(1000.0, 0.0, 0.0))
    assert taken(about).fields == pytest.approx({"peel": 100.0})
    # a force beside the row tilts it, unless the joint is one of several alike and lies right there
    beside = Given(giver="F", case="c", at=(100.0, 30.0, 0.0), force=(0.0, 0.0, 100.0))
    assert taken(beside).fields == pytest.approx({"peel": 100.0 + 100.0 * 30.0 / 10.0})
    # whichever way the force points: what tilts the row adds to what lifts it, and never takes from it
    below = Given(giver="F", case="c", at=(100.0, 30.0, 0.0), force=(0.0, 0.0, -100.0))
    assert taken(below).fields == pytest.approx({"peel": 100.0 + 100.0 * 30.0 / 10.0})
    there = Given(giver="F", case="c", at=(900.0, 30.0, 0.0), force=(0.0, 0.0, 100.0), right_there=True)
    assert taken(there).fields == pytest.approx({"peel": 100.0})


def test_pressing_keeps_a_small_tilt_closed() -> None:
    """400 N pressed on the row and a tilt that alone would lift it by 400 N: nothing opens; with more, the rest."""
    M = 16000.0
    given = Given(giver="F", case="c", at=(100.0, 0.0, 0.0), force=(0.0, 0.0, -400.0), moment=(0.0, M, 0.0))
    assert "peel" not in taken(given, presses="down").fields
    more = Given(giver="F", case="c", at=(100.0, 0.0, 0.0), force=(0.0, 0.0, -400.0), moment=(0.0, 2 * M, 0.0))
    assert taken(more, presses="down").fields == pytest.approx({"peel": 400.0})


def test_several_faults_keep_their_place_when_a_load_names_it() -> None:
    """What cannot be built under a load is told with item, load and every fault."""
    faults = InputErrors([InputError("is too long", field="leg"), InputError("is unknown", field="grade")])
    placed = faults.at(where="W1, under bench")
    assert isinstance(placed, InputErrors)
    assert str(placed) == "W1, under bench: leg: is too long\nW1, under bench: grade: is unknown"


def test_a_seam_carries_all_feet_but_each_end_of_a_brace_alone() -> None:
    """Four feet on one seam press on it together; of joints alike at both ends of a brace each has its own end."""
    from jointcalc.loads.project import standings

    seam = project(seam=[{**ROW, "id": "S1", "shear": "1 N"}]).items[0].but(shear=None, load="from bench")
    feet = [
        Given(giver="bench", part=f"foot {n}", case="c", force=(50.0, 0.0, 0.0), at=(100.0, 0.0, 0.0)) for n in (1, 2)
    ]
    (both,) = standings(seam, {"bench": tuple(feet)})
    assert both.fields["shear"] == pytest.approx(100.0)
    ends = [
        Given(giver="bench", part=f"end {n}", case="c", force=(50.0 * n, 0.0, 0.0), right_there=True) for n in (1, 2)
    ]
    assert [one.fields["shear"] for one in standings(seam, {"bench": tuple(ends)})] == pytest.approx([50.0, 100.0])


def test_a_case_that_comes_often_is_never_passed_in_silence() -> None:
    """What has a life is judged for it; of what has none here it is said, whatever its strength: no plain 'holds'."""
    floor = {"thickness": "1.2 mm", "grade": "DC04"}
    own = {"case": "road"}
    bolts = {"id": "B", "holes": ["0 0 mm"], "bolt": "M8 8.8", "sheets": [floor], "edge": "20 mm", "force": "300 0 0 N",
             "at": "0 0 0 mm", **own}  # fmt: skip
    plug = {"id": "P", "sheets": [floor, floor], "hole": "8 mm", "length": "300 mm", "pitch": "30 mm", "edge": "15 mm",
            "shear": "1 kN", **own}  # fmt: skip
    seam = {"id": "S", "sheets": [floor, floor], "weld_diameter": "5.5 mm", "length": "300 mm", "pitch": "30 mm",
            "edge": "15 mm", "shear": "9 kN", "enters": "along", **own}  # fmt: skip

    def results(**case: Any) -> Any:
        cases = [{"id": "road", "title": "Road", **case}]
        return check(project(case=cases, weight=[], bolts=[bolts], plug=[plug], seam=[seam]))

    often = results(cycles=1e7)
    assert [often[one].status for one in ("B", "P", "S")] == ["outside", "outside", "over"]
    assert all("load changes" in str(often[one].unjudged[-1]) for one in ("B", "P"))
    assert any(c.key == "rupp.spot-fatigue" and c.status == "over" for c in often["S"].checks)
    assert {one.status for one in results()} == {"ok"}
    with pytest.raises(InputError, match="load changes"):
        results(cycles=0.0)


def test_what_a_giver_gives_often_says_so_too() -> None:
    cases = [{"id": "bump", "title": "Bump", "acceleration": "0 0 -3 g", "cycles": 2e6}]
    joint = {**BOLTS, "upright": "20 mm", "pulled": 1}
    (result,) = check(project(case=cases, bolts=[joint]))
    assert result.status == "outside"
    assert any("load changes" in str(text) for text in result.unjudged)
