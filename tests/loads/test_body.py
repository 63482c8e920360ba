"""From a body and its tubes to the loads of seams, panels, sills, tubes and joints: statics by hand beside each number."""

from __future__ import annotations

from math import hypot
from typing import Any

import pytest

from jointcalc.check import check
from jointcalc.errors import InputError, InputErrors
from jointcalc.formula.core import STATUSES
from jointcalc.model.project import Project, read_project
from jointcalc.statics.body_bending import bend, on_axles
from jointcalc.tables.store import load

G = 9.80665
SKIN = {"thickness": "0.8 mm", "grade": "DC04"}
BODY: dict[str, Any] = {
    "id": "shell", "wheelbase": "2600 mm", "track": "1480 1460 mm",
    "mass": ["900 kg @ -800 mm..3300 mm", "250 kg @ 0 mm", "300 kg @ 1900 mm"], "size": "2100 1500 1250 mm",
    "floor_sheet": "skin", "roof_sheet": "skin", "side_sheet": "skin", "front_sheet": "skin", "rear_sheet": "skin",
}  # fmt: skip
SEAM: dict[str, Any] = {
    "id": "S1", "sheets": ["skin", "skin"], "weld_diameter": "5 mm", "pitch": "40 mm", "length": "2000 mm",
    "edge": "10 mm", "load": "from shell",
}  # fmt: skip
REAR = (900 * 1250 + 300 * 1900) / 2600  # kg, moments about the front axle
TORQUE = REAR * G * 1.460 / 2 * 1e3  # N mm, the rear axle reaches least
AREA = 1500.0 * 1250.0


def project(**tables: Any) -> Project:
    given = {"project": {"title": "Invented"}, "sheet": {"skin": SKIN}, "body": [BODY], **tables}
    return read_project(given, where="invented.toml")


def standing(item: Any, under: str) -> Any:
    return next(s for s in item.standings if s.under == under)


def test_a_floor_seam_takes_the_flow_of_the_twist_and_of_the_weight_at_rest() -> None:
    seam = project(seam=[SEAM]).items[0]
    assert {s.under for s in seam.standings} == {
        "the road, down",
        "the road, rebound",
        "one wheel on a kerb, left wheel up",
    }
    kerb = standing(seam, "one wheel on a kerb, left wheel up")
    # a plain box bent by its weight: V Q/I where floor and side meet, Q of half the floor
    I_y = 0.8 * (2 * 1500 * 625**2 + 2 * 1250**3 / 12)
    shear = max(_shears())
    bent = shear * (750 * 0.8 * 625) / I_y
    twisted = 1.8 * TORQUE / (2 * AREA)
    assert kerb.fields["shear"] == pytest.approx((twisted + bent) * 2000, rel=1e-4)
    assert kerb.fields["enters"] == "along"  # a flow comes in everywhere
    down = standing(seam, "the road, down")
    assert down.fields["shear"] == pytest.approx(3 * bent * 2000, rel=1e-4)
    rebound = standing(seam, "the road, rebound")
    assert rebound.fields["shear"] == pytest.approx(bent * 2000, rel=1e-4)


def _shears() -> list[float]:
    """Shear beside both axles [N]: what lies outside of them, and the axle less that."""
    per = 900 * G / 4100
    front, rear = (1450 - REAR) * G, REAR * G
    ahead, behind = per * 800, per * 700
    return [ahead, front - ahead - 250 * G, behind, rear - behind]


def test_every_station_of_the_way_is_told() -> None:
    kerb = standing(project(seam=[SEAM]).items[0], "one wheel on a kerb, left wheel up")
    told = [str(station.sentence) for station in kerb.way]
    assert told[0].startswith("weighs 1450 kg at ")
    assert "the rear axle reaches least" in told[1]
    assert "times 1.8 on a rough road" in told[2]
    assert "the closed box of its sheets carries the torque" in told[3]
    assert "An estimate by statics" in told[3]
    assert told[4].startswith("shear flow ")
    sources = [station.source for station in kerb.way]
    assert sources[2] == "table vehicle_dynamic_factors, torsion"
    assert sources[3].startswith("Bredt 1896")
    assert "body-estimate" in {c.code for c in check(project(seam=[SEAM]).items[0]).cautions}


def test_the_words_of_the_table_are_statuses() -> None:
    assert {row.status for row in load("vehicle_dynamic_factors").rows} <= set(STATUSES)


def test_a_smooth_road_and_an_off_road_one() -> None:
    flows = {}
    for road in ("smooth", "rough", "off-road"):
        seam = project(seam=[SEAM], body=[{**BODY, "road": road}]).items[0]
        flows[road] = {s.under: s.fields["shear"] for s in seam.standings}
    assert flows["smooth"]["the road, down"] == pytest.approx(flows["rough"]["the road, down"] * 2 / 3)
    assert flows["off-road"]["the road, down"] == pytest.approx(flows["rough"]["the road, down"] * 4 / 3)
    kerb = "one wheel on a kerb, left wheel up"
    assert flows["rough"][kerb] - flows["smooth"][kerb] == pytest.approx(0.5 * TORQUE / (2 * AREA) * 2000, rel=1e-4)


def test_cases_of_the_project_give_their_names_and_factors() -> None:
    cases = [
        {"id": "bump", "title": "Bump", "acceleration": "0 0 -2.5 g", "load_factor": 1.2},
        {"id": "kerb", "title": "Kerb", "load_factor": 1.35},
    ]
    seam = project(seam=[SEAM], case=cases, body=[{**BODY, "bending": "bump", "twist": "kerb"}]).items[0]
    by = {s.under: s.fields for s in seam.standings}
    assert set(by) == {"bump", "kerb, left wheel up"}
    assert by["bump"]["load_factor"] == 1.2
    assert by["kerb, left wheel up"]["load_factor"] == 1.35
    rough = project(seam=[SEAM]).items[0]
    assert by["bump"]["shear"] == pytest.approx(standing(rough, "the road, down").fields["shear"] * 2.5 / 3)


def test_a_panel_takes_the_flow_of_its_part() -> None:
    panel = {"id": "P1", "size": "1000 500 mm", "sheet": "skin", "load": "from shell roof"}
    made = project(panel=[panel]).items[0]
    kerb = standing(made, "one wheel on a kerb, left wheel up")
    assert kerb.fields["shear"] > 1.8 * TORQUE / (2 * AREA)


@pytest.mark.parametrize("part", ["floor", "sill", "tunnel", "tunnel plate", "roof", "right side", "front"])
def test_a_ring_loads_no_part_less(part: str) -> None:
    """Cutting windows into sheets one after the other may not lighten any part, under twist or bending."""
    with_sills = {**BODY, "sill": "110 130 mm", "sill_sheet": "skin", "tunnel": "260 180 mm", "tunnel_sheet": "skin",
                  "tunnel_plate": "skin"}  # fmt: skip
    before: dict[str, float] = {}
    for rings in (
        [],
        ["rear"],
        ["rear", "left side"],
        ["rear", "left side", "right side"],
        ["roof", "rear", "left side"],
    ):
        if part in rings:
            continue
        made = project(seam=[{**SEAM, "load": f"from shell {part}"}], body=[{**with_sills, "rings": rings}]).items[0]
        if any(s.left for s in made.standings):
            continue  # outside, and said to be
        now = {s.under: s.fields["shear"] for s in made.standings}
        assert set(before) <= set(now)
        assert all(now[under] >= size * (1 - 1e-6) for under, size in before.items()), rings
        before = now


def test_an_open_box_says_that_the_floor_s_share_is_unknown() -> None:
    """No roof: sills carry the twist; the floor's seam is outside for it and never silently without load."""
    body = {k: v for k, v in BODY.items() if k != "roof_sheet"} | {"sill": "110 130 mm", "sill_sheet": "skin"}
    result = check(project(seam=[SEAM], body=[body]).items[0])
    assert result.status in ("over", "outside")
    assert any("in no closed section" in text for text in result.unjudged)
    sill = project(seam=[{**SEAM, "load": "from shell sill"}], body=[body]).items[0]
    kerb = standing(sill, "one wheel on a kerb, left wheel up")
    # two sills side by side carry half each: T/2/(2 A)
    assert kerb.fields["shear"] / 2000 >= 1.8 * TORQUE / 2 / (2 * 110 * 130) * 0.999
    assert not kerb.left


def test_forces_along_a_sill() -> None:
    body = {**BODY, "sill": "110 130 mm", "sill_sheet": "skin"}
    brace = {"id": "L", "profile": "box:depth=130mm,width=110mm,t=1.2mm,r=2mm", "grade": "S355MC", "span": "500 500 500 mm",
             "load": "from shell sill"}  # fmt: skip
    bolts = {"id": "E", "holes": ["0 0 mm", "60 0 mm"], "bolt": "M8 8.8", "sheets": ["skin", "skin"], "edge": "25 mm",
             "load": "from shell sill"}  # fmt: skip
    made = project(brace=[brace], bolts=[bolts], seam=[{**SEAM, "load": "from shell floor"}], body=[body])
    member, joint = made.items[0], made.items[1]
    one, other = (standing(member, f"one wheel on a kerb, {side} wheel up").fields for side in ("left", "right"))
    sizes = sorted(
        (one.get("tension", -one.get("compression", 0.0)), other.get("tension", -other.get("compression", 0.0)))
    )
    assert sizes[0] < 0 < sizes[1]
    # the middle of both is what bending puts there, their half difference what the floor hands on at its end
    shell = bend(made.givers[0].box, 1.0, 1.0)
    assert shell.forces["sill"] > 0  # it sags: the sill below the neutral axis is pulled
    handed = (sizes[1] - sizes[0]) / 2
    area = AREA - 2 * 110 * 130
    assert handed >= 1.8 * TORQUE / (2 * area) * 2100 * 0.98
    force = standing(joint, "one wheel on a kerb, left wheel up").fields["force"]
    assert abs(force[0]) == pytest.approx(max(abs(s) for s in sizes), rel=0.5)
    assert force[1] == force[2] == 0.0


def test_an_opening_in_the_floor() -> None:
    body = {**BODY, "opening": "600 500 mm"}
    plain = project(seam=[SEAM]).items[0]
    cut = project(seam=[SEAM], body=[body]).items[0]
    under = "one wheel on a kerb, left wheel up"
    ratio = standing(cut, under).fields["shear"] / standing(plain, under).fields["shear"]
    assert ratio == pytest.approx(1500 / (1500 - 500), rel=1e-3)  # the strips beside it, the narrower way
    tub = project(seam=[{**SEAM, "load": "from shell W1"}], body=[body], tub=[
        {"id": "W1", "sheet": "skin", "tyre": "205/65R15", "floor": "60 mm"}]).items[0]  # fmt: skip
    assert standing(tub, under).fields["shear"] == pytest.approx(standing(plain, under).fields["shear"])
    assert "a tub closes its hole" in " ".join(str(s.sentence) for s in standing(tub, under).way)
    stiffener = {"id": "R", "profile": "tube:od=30mm,t=2mm", "grade": "S235JR", "span": "600 mm",
                 "load": "from shell opening"}  # fmt: skip
    made = project(brace=[stiffener], body=[body]).items[0]
    assert {next(iter(s.fields)) for s in made.standings if "kerb" in s.under} == {"tension", "compression"}


def test_a_seam_from_side_to_side_is_pulled_by_bending() -> None:
    """The floor's part of M z/I over its width, times the seam: the roof gives way in waves, floor and sides are left."""
    along = project(seam=[{**SEAM, "place": "0 -750 2000 -750 mm"}]).items[0]
    across = project(seam=[{**SEAM, "place": "1000 -750 1000 750 mm", "length": "1500 mm"}]).items[0]
    unknown = project(seam=[SEAM]).items[0]
    assert "across" not in standing(along, "the road, down").fields
    assert "across" not in standing(unknown, "the road, down").fields
    assert any("taken to run along" in str(s.sentence) for s in standing(unknown, "the road, down").way)
    axles = on_axles(project(seam=[SEAM]).givers[0].weights(G * 1e3), 2600.0)
    low = 2 * 1250 * 625 / (1500 + 2 * 1250)  # the neutral axis over the floor
    I_y = 0.8 * (1500 * low**2 + 2 * 1250**3 / 12 + 2 * 1250 * (625 - low) ** 2)
    pull = 3 * axles.sagging * low / I_y * 0.8
    assert standing(across, "the road, down").fields["across"] == pytest.approx(pull * 1500, rel=1e-3)
    # forward along y: the same seam lies along the vehicle
    turned = read_project(
        {"project": {"title": "Invented", "forward": "y"}, "sheet": {"skin": SKIN}, "body": [BODY],
         "seam": [{**SEAM, "place": "1000 -750 1000 750 mm", "length": "1500 mm"}]}, where="invented.toml",
    ).items[0]  # fmt: skip
    assert "across" not in standing(turned, "the road, down").fields


def test_a_member_is_pulled_in_one_place_and_pushed_in_another() -> None:
    """Sagging between the axles, hogging over them: the smaller push is judged too, for a strut may fail by it."""
    body = {**BODY, "tunnel": "260 180 mm", "tunnel_sheet": "skin"}
    brace = {
        "id": "R",
        "profile": "tube:od=38mm,t=2mm",
        "grade": "S235JR",
        "span": "600 mm",
        "load": "from shell tunnel",
    }
    made = project(brace=[brace], body=[body])
    axles = on_axles(made.givers[0].weights(G * 1e3), 2600.0)
    down = {s.under: s.fields for s in made.items[0].standings if s.under.startswith("the road, down")}
    assert set(down) == {"the road, down", "the road, down, over an axle"}
    for under, key, M in (("the road, down", "tension", axles.sagging),
                          ("the road, down, over an axle", "compression", -axles.hogging)):  # fmt: skip
        sizes = [abs(bend(made.givers[0].box, 3 * M, 1.0, waves=w).forces["tunnel"]) for w in (False, True)]
        assert down[under][key] == pytest.approx(max(sizes))


def test_a_body_that_only_hogs() -> None:
    """All its masses outside of the axles: the sills are pulled nowhere, and what pushes them is not lost."""
    body = {**BODY, "mass": ["400 kg @ -600 mm", "400 kg @ 3200 mm"], "sill": "110 130 mm", "sill_sheet": "skin"}
    brace = {"id": "R", "profile": "tube:od=38mm,t=2mm", "grade": "S235JR", "span": "600 mm", "load": "from shell sill"}
    fields = standing(project(brace=[brace], body=[body]).items[0], "the road, down").fields
    assert fields["compression"] > 0


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"wheelbase": None}, "wheelbase: is missing"),
        ({"wheelbase": "300 mm"}, "wheelbase: 300 mm is no wheelbase"),
        ({"track": "100 mm"}, "a track lies between"),
        ({"mass": ["900 kg"]}, "does not say where"),
        ({"mass": ["900 kg @ 3000 mm..200 mm"]}, "ends before it begins"),
        ({"mass": []}, "no mass is given"),
        ({"mass": ["900 kg @ 2700 mm"]}, "an axle would lift"),
        ({"size": "2100 0 1250 mm"}, "the box has no area: its width is 0 mm"),
        ({"roof_sheet": None}, "finds no path: roof is open"),
        ({"front_sheet": None}, "finds no path: front is open"),
        ({"rings": ["reer"]}, "rings: 'reer' is no face of the box; did you mean 'rear'"),
        ({"road": "ruff"}, "road: 'ruff' is not known"),
        ({"sill": "110 130 mm"}, "sill_sheet: is missing; a sill needs the sheet"),
        ({"tunnel_sheet": "skin"}, "tunnel: is missing; a tunnel needs its width and height"),
        ({"opening": "600 1500 mm"}, "the path disappears"),
        ({"bending": "bmp"}, "bending: 'bmp' is not the id of a \\[\\[case\\]\\]"),
        ({"twist": "krb"}, "twist: 'krb' is not the id of a \\[\\[case\\]\\]"),
        ({"floor_sheet": "skn"}, "floor_sheet: 'skn' is not a \\[sheet.NAME\\]"),
    ],
)
def test_bad_bodies_are_told(change: dict[str, Any], words: str) -> None:
    body = {k: v for k, v in {**BODY, **change}.items() if v is not None}
    with pytest.raises(InputErrors, match=words):
        project(seam=[SEAM], body=[body])


def test_bad_asks_are_told() -> None:
    with pytest.raises(InputErrors, match="'shell' has no part 'flor' that S1 could take; did you mean 'floor'"):
        project(seam=[{**SEAM, "load": "from shell flor"}])
    brace = {"id": "B", "profile": "tube:od=38mm,t=2mm", "grade": "S235JR", "span": "600 mm", "load": "from shell"}
    with pytest.raises(InputErrors, match="B takes a force along itself: say of which part"):
        project(brace=[brace])
    with pytest.raises(InputErrors, match="case 'push' states no upright acceleration"):
        project(seam=[SEAM], body=[{**BODY, "bending": "push"}],
                case=[{"id": "push", "title": "Push", "acceleration": "1 0 0 g"}])  # fmt: skip


# --- temporary tubes -------------------------------------------------------------------------------------------------

TUBE = {"profile": "tube:od=38mm,t=2mm", "grade": "S235JR", "span": "2580 mm", "load": "from prop"}
TUBES = [
    {**TUBE, "id": "T1", "place": "0 -750 2100 750 mm", "end_joints": ["J1", "J2"]},
    {**TUBE, "id": "T2", "place": "2100 -750 0 750 mm", "end_joints": ["J2"]},
]
JOINT = {"holes": ["0 0 mm"], "bolt": "M10 8.8", "sheets": ["skin", "skin"], "edge": "25 mm", "load": "from prop"}
PROP = {"id": "prop", "body": "shell", "corner": "0 -750 mm", "tubes": ["T1", "T2"]}


def props(**tables: Any) -> Project:
    joints = [{**JOINT, "id": "J1"}, {**JOINT, "id": "J2", "axes": "x y", "origin": "2100 750 0 mm"}]
    return project(**{"brace": TUBES, "bolts": joints, "bracing": [PROP], **tables})


def test_a_cross_of_tubes_in_place_of_the_floor() -> None:
    """Each of two alike takes half: N = q · diagonal/2, q of the torque at rest; one is pulled, the other pushed."""
    first, second, joint, both = props().items
    N = TORQUE / (2 * AREA) * hypot(2100, 1500) / 2
    left = standing(first, "one wheel on a kerb, left wheel up").fields
    right = standing(first, "one wheel on a kerb, right wheel up").fields
    assert left == {"tension": pytest.approx(N, rel=1e-6)}
    assert right == {"compression": pytest.approx(N, rel=1e-6)}
    assert standing(second, "one wheel on a kerb, left wheel up").fields == {"compression": pytest.approx(N, rel=1e-6)}
    # pulled, the joint at its start is pulled along it
    force = standing(joint, "one wheel on a kerb, left wheel up").fields["force"]
    assert force[:2] == (pytest.approx(N * 2100 / hypot(2100, 1500)), pytest.approx(N * 1500 / hypot(2100, 1500)))
    # both tubes meet there: the far end of the first pulls back, the start of the second pushes, an arm apart
    met = standing(both, "one wheel on a kerb, left wheel up").fields
    along, across = N * 2100 / hypot(2100, 1500), N * 1500 / hypot(2100, 1500)
    assert met["force"][:2] == (pytest.approx(-along + along), pytest.approx(-across - across))
    assert abs(met["moment"][2]) == pytest.approx(1500 * along)
    assert {s.under for s in first.standings} == {f"one wheel on a kerb, {w} wheel up" for w in ("left", "right")}
    told = " ".join(str(s.sentence) for s in first.standings[0].way)
    assert "in place of the floor" in told
    assert "An estimate" in told


def test_a_stiffer_tube_takes_more() -> None:
    tubes = [TUBES[0], {**TUBES[1], "profile": "tube:od=38mm,t=3mm"}]
    first, second, *_ = props(brace=tubes).items
    A = [3.141592653589793 / 4 * (38**2 - (38 - 2 * t) ** 2) for t in (2, 3)]
    one, other = (standing(i, "one wheel on a kerb, left wheel up").fields for i in (first, second))
    assert other["compression"] / one["tension"] == pytest.approx(A[1] / A[0], rel=1e-3)


def test_shares_and_factors() -> None:
    half = props(bracing=[{**PROP, "share": 0.5, "factor": 1.3}]).items[0]
    whole = props().items[0]
    sizes = [standing(i, "one wheel on a kerb, left wheel up").fields["tension"] for i in (half, whole)]
    assert sizes[0] == pytest.approx(0.65 * sizes[1])


def test_tubes_in_a_side() -> None:
    tube = {**TUBE, "id": "T1", "span": "2440 mm"}
    prop = {**PROP, "face": "left side", "tubes": ["T1"], "points": ["0 0 2100 1250 mm"]}
    made = project(brace=[tube], bracing=[prop]).items[0]
    N = TORQUE / (2 * AREA) * hypot(2100, 1250)
    assert standing(made, "one wheel on a kerb, left wheel up").fields == {"tension": pytest.approx(N)}


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"body": "shel"}, "'shel' is not the id of a \\[\\[body\\]\\] of this file; did you mean 'shell'"),
        ({"face": "flor"}, "'flor' is no face of the box"),
        ({"tubes": ["T1", "T9"]}, "'T9' is not the id of a \\[\\[brace\\]\\]"),
        ({"tubes": ["T1", "T1"]}, "one of them is named twice"),
        ({"corner": "500 -750 mm"}, "off the field"),
        ({"face": "rear"}, "points: is missing"),
        ({"share": 0.0}, "share: 0"),
        ({"factor": 0.5}, "factor: 0.5"),
    ],
)
def test_bad_bracings_are_told(change: dict[str, Any], words: str) -> None:
    with pytest.raises(InputErrors, match=words):
        props(bracing=[{**PROP, **change}])


def test_the_joints_at_the_ends_are_never_silent() -> None:
    """Named, they take the force; not named, the tube says that somebody has to."""
    quiet = [{**JOINT, "id": "J1", "load": None, "force": "1 0 0 kN", "at": "0 0 0 mm"}, {**JOINT, "id": "J2"}]
    with pytest.raises(InputErrors, match="J1 at the end of T1 would carry its force unjudged"):
        props(bolts=[{k: v for k, v in one.items() if v is not None} for one in quiet])
    named, bare = (check(i) for i in props(brace=[TUBES[0], {**TUBES[1], "end_joints": []}]).items[:2])
    assert "end-joints" not in {c.code for c in named.cautions}
    assert "end-joints" in {c.code for c in bare.cautions}


def test_a_tube_that_would_go_unjudged_is_told() -> None:
    silent = [TUBES[0], {k: v for k, v in TUBES[1].items() if k != "load"}]
    with pytest.raises(InputErrors, match="T2 would carry its load unjudged"):
        props(brace=silent)
    with pytest.raises(InputErrors, match="its span is 1000 mm; they are one length"):
        props(brace=[{**TUBES[0], "span": "1000 mm"}, TUBES[1]])
    with pytest.raises(InputErrors, match="does not say where it runs"):
        props(brace=[{k: v for k, v in TUBES[0].items() if k != "place"}, TUBES[1]])
    with pytest.raises(InputErrors, match="runs aslant"):
        props(
            brace=[{**TUBES[0], "place": "0 -750 2100 -750 mm", "span": "2100 mm"}], bracing=[{**PROP, "tubes": ["T1"]}]
        )


def test_a_body_alone_is_checked_too() -> None:
    """A body that nobody asks still has to stand: what is wrong with it is told."""
    seam = {**{k: v for k, v in SEAM.items() if k != "load"}, "shear": "1 kN"}
    with pytest.raises(InputError, match="an axle would lift"):
        project(seam=[seam], body=[{**BODY, "mass": "100 kg @ -50 mm"}])
