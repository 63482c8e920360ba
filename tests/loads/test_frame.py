"""A floor frame in a project: its members joined, loaded and solved, and its loads on braces, joints and seams.

Expected numbers are statics by hand, or the beam solver's own answer for the same beam (another module, held against
handbooks by its own tests).
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

import numpy as np
import pytest

from jointcalc.check import check
from jointcalc.errors import InputErrors
from jointcalc.kinds.frame import acting, giving
from jointcalc.model.given import Context
from jointcalc.model.project import Project, read_project
from jointcalc.registry import SOURCES, Giver
from jointcalc.section.profile import parse_profile
from jointcalc.section.shear_area import shear_area
from jointcalc.statics.beam import solve as beam
from jointcalc.statics.twist import torque_along
from tests.loads.test_project import Weight, gives

g = 9.80665
BOX = {"profile": "box:depth=60mm,width=40mm,t=2mm,r=2mm", "grade": "S235"}
HAT = "hat:top=50mm,depth=40mm,flange=25mm,t=1.5mm,r=2mm"
BRACE = {
    "profile": HAT, "grade": "S355MC", "span": "1000 mm", "over": "webs", "held": "both", "bearing": "40 mm",
    "lies": "flanges-up", "load": "from F1",
}  # fmt: skip
RAILS = [
    {"id": "R1", "start": "0 0 0 mm", "end": "2000 0 0 mm", **BOX},
    {"id": "R2", "start": "0 1000 0 mm", "end": "2000 1000 0 mm", **BOX},
]
CORNERS = [
    {"at": "0 0 mm"}, {"at": "2000 0 mm", "held": "y z"}, {"at": "0 1000 mm", "held": "x z"}, {"at": "2000 1000 mm", "held": "z"},
]  # fmt: skip


@pytest.fixture(autouse=True)
def weights() -> Iterator[None]:
    """The invented thing on feet of the other test, which gives its loads before the frame."""
    here = "tests.loads.test_project"
    assert callable(gives)
    assert Weight
    kept = dict(SOURCES)
    known: dict[str, Giver] = SOURCES  # type: ignore[assignment]
    known.clear()
    known["weight"] = Giver(
        name="weight",
        help="",
        checklist="jointcalc.registry:nothing_built",
        model=f"{here}:Weight",
        gives=f"{here}:gives",
    )
    known.update(kept)
    yield
    known.clear()
    known.update(kept)


def project(frame: dict[str, Any], **tables: Any) -> Project:
    """Two rails 1 m apart on four corners, braces B1 and B2 across, and what the test says."""
    braces = [{**BRACE, "id": f"B{n}", "place": f"{x} 0 {x} 1000 mm"} for n, x in ((1, 500), (2, 1100))]
    whole = {
        "id": "F1", "own_weight": False, "supports": CORNERS,
        "members": [*RAILS, {"id": "B1", "brace": "B1"}, {"id": "B2", "brace": "B2"}], **frame,
    }  # fmt: skip
    return read_project(
        {
            "project": {"title": "Invented"},
            "case": [
                {"id": "stand", "title": "Standing", "acceleration": "0 0 -1 g"},
                {"id": "load", "title": "Load in the back", "load_factor": 1.4},
            ],
            "brace": braces,
            **tables,
            "frame": [whole],
        },
        where="invented.toml",
    )


def solved(of: Project) -> acting.Solved:
    """The frame of a project, solved."""
    from jointcalc.loads.cases import in_force

    cases = {c.id: in_force(c, forward=(-1.0, 0.0, 0.0)) for c in of.cases}
    return acting.solved(of.givers[0], Context(cases=cases, given={}, items={i.id: i for i in of.items}))


PERSON = {"mass": "90 kg", "at": "500 400 mm", "case": "stand"}


def test_a_person_on_a_pinned_brace_is_carried_by_the_lever() -> None:
    """90 kg at 400 of 1000 mm of a pinned brace: 0.6 and 0.4 of its weight at the ends, and nothing on the other."""
    of = project(
        {
            "loads": [PERSON],
            "members": [
                *RAILS,
                {"id": "B1", "brace": "B1", "ends": "pinned"},
                {"id": "B2", "brace": "B2", "ends": "pinned"},
            ],
        }
    )
    one, two = of.items
    assert [s.under for s in one.standings] == ["stand"]
    assert next((w.thing, str(w.sentence)) for w in one.standings[0].way) == (
        "F1 load 1",
        "90 kg press with 882.6 N down, in Standing",
    )
    assert "load-estimate" in {c.code for c in check(one).cautions}
    fields = one.standings[0].fields
    assert fields["point"] == [(pytest.approx(90 * g), pytest.approx(400.0))]
    assert "moment" not in fields
    result = check(one)
    assert result.values["moment_max"].value == pytest.approx(90 * g * 0.4 * 0.6 * 1000, rel=1e-9)
    # a pinned brace that nothing stands on gets next to nothing: the rails' twist turns its ends
    assert check(two).values["moment_max"].value < 1e-3 * result.values["moment_max"].value
    down = sum(-float(solved(of).found.reactions[node, 2, 0]) for _, node in solved(of).plan.supports)
    assert -down == pytest.approx(90 * g, rel=1e-9)


def test_a_brace_is_judged_with_the_frames_own_moments_and_shears() -> None:
    """The beam that the brace is given has the bending moment and shear force of the frame everywhere."""
    loads = [
        PERSON,
        {"case": "stand", "force": "0 40 -700 N", "at": "1100 700 mm"},
        {"case": "load", "pressure": "3 kPa", "corners": "300 100 1500 900 mm"},
    ]
    members = [
        *RAILS,
        {"id": "B1", "brace": "B1", "level": "15 mm"},
        {"id": "B2", "brace": "B2", "ends": "4e7 3e8 N*mm/rad"},
        {"id": "X", "start": "500 600 0 mm", "end": "1100 600 0 mm", **BOX},
    ]
    of = project({"loads": loads, "members": members, "own_weight": True})
    s = solved(of)
    for item in of.items:
        for k, standing in enumerate(item.standings):
            assert standing.under == s.keys[k][0]
            given = item.loaded(standing)
            line = beam(given.length, 1.0, given.supports, given.loads)
            laid = next(one for one in s.plan.laid if one.id == item.id)
            for (a, _), element in zip(laid.nodes, laid.elements):
                inside = s.found.line(element)
                turn = np.stack([laid.along, laid.side, np.cross(laid.along, laid.side)]) @ s.found.axes[element].T
                for x in np.linspace(1.0, inside.length - 1.0, 7):
                    six = inside.forces(float(x))[:, k]
                    moment, shear = float((turn @ six[3:])[1]), float((turn @ six[:3])[2])
                    # M_y is positive where it hogs (z up), a beam's where it sags; V_z likewise
                    assert float(line.moment(a + x)) == pytest.approx(-moment, rel=1e-6, abs=1e-3)
                    assert float(line.shear(a + x)) == pytest.approx(-shear, rel=1e-6, abs=1e-6)


def test_a_fixed_brace_shares_by_stiffness() -> None:
    """Two equal braces joined by a cross member at their middles share a load there in halves."""
    members = [
        *RAILS,
        {"id": "B1", "brace": "B1", "ends": "pinned"},
        {"id": "B2", "brace": "B2", "ends": "pinned"},
        {"id": "X", "start": "500 500 0 mm", "end": "1100 500 0 mm", "ends": "pinned", **BOX},
    ]
    s = solved(project({"members": members, "loads": [{**PERSON, "at": "800 500 mm"}]}))
    shears = [giving.Inside(s, one, 0).greatest("V_z") for one in s.plan.laid if one.id in ("B1", "B2")]
    assert shears == pytest.approx([90 * g / 4] * 2, rel=1e-6)


def test_a_field_goes_to_its_members_in_strips() -> None:
    """2 kPa on 600 x 1000 mm between two braces and two rails: 45 degree strips, and all of it."""
    of = project({"loads": [{"case": "load", "pressure": "2 kPa", "corners": "500 0 1100 1000 mm"}]})
    s = solved(of)
    total: dict[str, float] = {}
    for one in s.acting:
        assert one.end is not None
        name = s.plan.laid[one.member].id
        total[name] = total.get(name, 0.0) - float(one.force[2]) * (one.end - one.start)
    triangle, trapeze = 2e-3 * 600 * 300 / 2, 2e-3 * (1000 + 400) / 2 * 300
    assert total == {
        "R1": pytest.approx(triangle, rel=0.01),
        "R2": pytest.approx(triangle, rel=0.01),
        "B1": pytest.approx(trapeze, rel=0.01),
        "B2": pytest.approx(trapeze, rel=0.01),
    }
    assert sum(total.values()) == pytest.approx(2e-3 * 600 * 1000, rel=1e-9)
    assert any("tributary strips" in note for note in s.notes)
    greatest = max(-float(one.force[2]) for one in s.acting if s.plan.laid[one.member].id == "B1")
    assert greatest == pytest.approx(2e-3 * 300, rel=1e-3)
    assert of.items[0].standings[0].fields["load_factor"] == 1.4


def test_feet_stand_on_members_or_on_the_sheet_between_two() -> None:
    """A bench of 50 kg: one foot on B1, one 200 mm beside it on the sheet, shared 2 : 1 by the lever."""
    bench = {"id": "bench", "feet": ["500 400 0 mm", "700 500 0 mm"]}
    of = project(
        {
            "carries": ["bench"],
            "members": [
                *RAILS,
                {"id": "B1", "brace": "B1", "ends": "pinned"},
                {"id": "B2", "brace": "B2", "ends": "pinned"},
            ],
        },
        weight=[bench],
    )
    foot = 25 * g
    one, two = (item.standings[0].fields["point"] for item in of.items)
    assert one == [(pytest.approx(foot), pytest.approx(400.0)), (pytest.approx(foot * 2 / 3), pytest.approx(500.0))]
    assert two == [(pytest.approx(foot / 3), pytest.approx(500.0))]
    way = of.items[1].standings[0].way
    assert [station.thing for station in way] == ["bench, foot 1", "bench, foot 2", "F1, B2"]


def test_joints_and_supports_hold_everything_up() -> None:
    """What both ends of a brace put on their joints is what stands on it; supports carry all of it."""
    bolts = {
        "id": "J1",
        "holes": ["0 0 mm", "60 0 mm", "0 60 mm", "60 60 mm"],
        "bolt": "M8 8.8",
        "sheets": [{"thickness": "2 mm", "grade": "S235"}] * 2,
        "load": "from F1",
        "pull": "even",
    }
    braces = [
        {**BRACE, "id": "B1", "place": "500 0 500 1000 mm", "end_joints": ["J1"]},
        {**BRACE, "id": "B2", "place": "1100 0 1100 1000 mm"},
    ]
    of = project({"loads": [PERSON]}, brace=braces, bolts=[bolts])
    joint = next(item for item in of.items if item.id == "J1")
    assert len(joint.standings) == 2
    assert sum(s.fields["force"][2] for s in joint.standings) == pytest.approx(-90 * g, rel=1e-9)
    assert {s.given[0].part for s in joint.standings} == {"B1 end 1", "B1 end 2"}


def test_a_brace_that_runs_on_over_a_rail_is_joined_where_it_crosses() -> None:
    """50 mm beyond both rails: its joints are at the rails and carry all of a force between them (statics by hand)."""
    bolts = {
        "id": "J1", "holes": ["0 0 mm", "60 0 mm", "0 60 mm", "60 60 mm"], "bolt": "M8 8.8", "load": "from F1",
        "sheets": [{"thickness": "2 mm", "grade": "S235"}] * 2, "pull": "even",
    }  # fmt: skip
    one = {**BRACE, "id": "B1", "span": "1100 mm", "place": "500 -50 500 1050 mm", "end_joints": ["J1"]}
    two = {**BRACE, "id": "B2", "place": "1100 0 1100 1000 mm"}
    of = project(
        {"loads": [{"case": "load", "force": "0 0 -1 kN", "at": "500 250 mm"}]}, brace=[one, two], bolts=[bolts]
    )
    joint = next(item for item in of.items if item.id == "J1")
    assert sum(s.fields["force"][2] for s in joint.standings) == pytest.approx(-1000, rel=1e-9)
    assert [s.given[0].at[1] for s in joint.standings] == [pytest.approx(0.0), pytest.approx(1000.0)]
    # the brace itself: nothing on its free ends, the rails' forces at 50 and 1050 mm
    fields = of.items[0].standings[0].fields
    assert [at for _, at in fields["point"]] == pytest.approx([300.0, 50.0, 1050.0])
    assert sum(force for force, _ in fields["point"]) == pytest.approx(0.0, abs=1e-6)


def test_a_closing_seam_gets_the_shear_flow() -> None:
    """q = V Q / I with Q of the skin alone about the section's centroid, halved between its two weld lines (by hand)."""
    rail = "hat-skin:top=60mm,depth=50mm,flange=20mm,t=1.5mm,r=2mm,skin=120mm,skin_t=1mm,weld=9mm"
    seam = {
        "id": "S1",
        "sheets": [{"thickness": "1.5 mm", "grade": "S235"}, {"thickness": "1 mm", "grade": "S235"}],
        "length": "2000 mm",
        "pitch": "40 mm",
        "edge": "9 mm",
        "weld_diameter": "5 mm",
        "load": "from F1",
    }
    members = [
        {**RAILS[0], "profile": rail, "lies": "crown-up", "seams": ["S1"]},
        RAILS[1],
        {"id": "B1", "brace": "B1", "ends": "pinned"},
        {"id": "B2", "brace": "B2", "ends": "pinned"},
    ]
    of = project({"members": members, "loads": [{**PERSON, "at": "1000 0 mm"}]}, seam=[seam])
    found = next(item for item in of.items if item.id == "S1").standings[0]
    p = parse_profile(rail).properties()
    c = float(p.z_centroid[0])
    skin = 120 * 1.0 * abs(c - (float(p.z_bottom[0]) + 0.5))  # the skin's mid-line over the lowest face
    V = 90 * g / 2
    q = V * skin / float(p.I_y[0]) / 2
    # the cell shares the flow by its flexibility and the mid-line's I differs a little from the solid's: 2 %
    assert found.given[0].flow == pytest.approx(q, rel=0.02)
    assert found.fields["shear"] == pytest.approx(found.given[0].flow * 2000)


def test_lines_at_different_heights_are_joined_eccentrically() -> None:
    """A pull on a member that lies 30 mm above the rail bends the rail by force x height (statics by hand)."""
    members = [
        {"id": "R", "start": "0 0 0 mm", "end": "1000 0 0 mm", **BOX},
        {"id": "A", "start": "1000 0 30 mm", "end": "1500 0 30 mm", **BOX},
    ]
    of = project(
        {
            "members": members,
            "supports": [{"at": "0 0 mm", "held": "all"}],
            "loads": [{"case": "load", "force": "900 0 0 N", "at": "1500 0 30 mm"}],
        },
        brace=[],
        panel=[PANEL],
    )
    s = solved(of)
    assert giving.Inside(s, s.plan.laid[0], 0).greatest("M_y") == pytest.approx(900 * 30, rel=1e-9)
    assert any("30 mm between the heights" in note for note in s.notes)


def test_an_end_beside_a_rail_is_joined_to_it() -> None:
    """Braces cut to fit between box rails stop half a box short of their lines; the note says so."""
    braces = [
        {**BRACE, "id": f"B{n}", "span": "960 mm", "place": f"{x} 20 {x} 980 mm"} for n, x in ((1, 500), (2, 1100))
    ]
    s = solved(project({"loads": [PERSON]}, brace=braces))
    assert "the end of B1 is joined to R1, 20 mm beside its line, rigidly" in s.notes
    assert s.found.residual < 1e-9


def test_members_that_do_not_touch_pass_each_other() -> None:
    s = solved(
        project(
            {
                "loads": [PERSON],
                "members": [
                    *RAILS,
                    {"id": "B1", "brace": "B1"},
                    {"id": "B2", "brace": "B2"},
                    {"id": "X", "start": "300 500 200 mm", "end": "1300 500 200 mm", **BOX},
                ],
                "supports": [*CORNERS, {"at": "300 500 mm", "held": "all"}],
            }
        )
    )
    assert any("B1 and X pass each other" in note for note in s.notes)
    assert any("the end of X at 1300 500 mm is free" in note for note in s.notes)


def test_own_weight_is_that_of_the_steel() -> None:
    """Area x length x 7850 kg/m³ x g of every member, on the supports."""
    of = project({"own_weight": True, "loads": [PERSON]})
    s = solved(of)
    mass = sum(float(one.section.properties.mass_per_metre[0]) * one.length / 1000 for one in s.plan.laid)
    up = sum(float(s.found.reactions[node, 2, 0]) for _, node in s.plan.supports)
    assert up == pytest.approx((mass + 90) * g, rel=1e-9)
    box = parse_profile(BOX["profile"]).properties()
    assert float(s.plan.laid[0].section.properties.mass_per_metre[0]) == pytest.approx(
        float(box.area[0]) * 7.85e-3, rel=1e-3
    )


def test_shear_area_of_a_tube_and_a_box() -> None:
    """A thin round tube shears as half its area; a thin square box nearly as its two webs (energy, by hand)."""
    tube = parse_profile("tube:od=40mm,t=0.5mm").properties()
    assert shear_area(tube, 0.0, 1.0) == pytest.approx(float(tube.area[0]) / 2, rel=1e-3)
    # first moment over t: 50 y along half a flange, 50 x 50 + (50² - z²) / 2 down a web; I over t of the mid-line
    place, weight = np.polynomial.legendre.leggauss(6)
    web = float(50 * weight @ (50.0**2 + (50.0**2 - (50 * place) ** 2) / 2) ** 2)
    flange = 50.0**2 * 50.0**3 / 3
    inertia = 2 * (100.0**3 / 12 + 100.0 * 50.0**2)
    box = parse_profile("box:depth=100.4mm,width=100.4mm,t=0.4mm,r=0mm").properties()
    assert shear_area(box, 0.0, 1.0) == pytest.approx(0.4 * inertia**2 / (2 * web + 4 * flange), rel=2e-3)


MOUNT = {
    "id": "box",
    "mass": "60 kg",
    "centre": "500 500 150 mm",
    "feet": ["500 300 20 mm", "500 700 20 mm", "900 500 20 mm"],
}
"""A thing of 60 kg: two feet on B1's line, one beside it on the sheet between B1 and B2."""


def test_a_mount_stands_on_the_frame() -> None:
    """The chain case, mount, frame, brace: what three feet press with arrives at the supports (statics by hand)."""
    of = project({"carries": ["box"]}, mount=[MOUNT])
    found = solved_in(of)
    k = [key[0] for key in found.keys].index("stand")
    up = sum(float(found.found.reactions[node, 2, k]) for _, node in found.plan.supports)
    assert up == pytest.approx(60 * g, rel=1e-9)
    brace = next(item for item in of.items if item.id == "B1")
    things = [station.thing for station in brace.standings[0].way]
    assert any(thing.startswith("box") for thing in things)
    assert things[-1] == "F1, B1"


def solved_in(of: Project) -> acting.Solved:
    """The frame as its project solved it."""
    s: acting.Solved = of.givers[0].solved
    return s


def test_a_mount_that_tips_over_is_not_lost() -> None:
    """Nobody knows the feet of a thing that tips; the frame that carries it may not go on without it."""
    tall = {**MOUNT, "centre": "500 1500 150 mm", "resting": True}
    with pytest.raises(InputErrors) as error:
        project({"carries": ["box"]}, mount=[tall])
    assert "box" in str(error.value)


def alone(member: dict[str, Any], **more: Any) -> acting.Solved:
    """One member, held at its start, with 100 N down at its end."""
    one = {"id": "A", "start": "0 0 0 mm", "end": "3000 0 0 mm", "grade": "S235", **member}
    frame = {
        "members": [one], "supports": [{"at": "0 0 mm", "held": "all"}],
        "loads": [{"case": "load", "force": "0 0 -100 N", "at": "3000 0 0 mm"}], **more,
    }  # fmt: skip
    return solved(project(frame, brace=[], panel=[PANEL]))


def test_the_webs_of_a_deep_box_shear_under_upright_loads() -> None:
    """A box 100 deep and 40 wide: most of its upright shear area is its two webs, of its level one its two flanges."""
    stiffness = alone({"profile": "box:depth=100mm,width=40mm,t=2mm,r=2mm"}).plan.laid[0].stiffness
    G = 210e3 / 2.6
    assert 0.8 < stiffness.GA_z / (G * 2 * 98 * 2) < 1.0
    assert 0.6 < stiffness.GA_y / (G * 2 * 38 * 2) < 1.0


def test_a_zed_bends_aside() -> None:
    """Unsymmetric bending (Timoshenko): w = P L³ / 3 E (I_y - I_yz² / I_z), v = -w I_yz / I_z; shear within 1 %."""
    s = alone({"profile": "zed:web=60mm,flange=40mm,t=2mm,r=2mm", "lies": "crown-up"})
    p = parse_profile("zed:web=60mm,flange=40mm,t=2mm,r=2mm").properties()
    I_y, I_z, I_yz = (float(v[0]) for v in (p.I_y, p.I_z, p.I_yz))
    w = -100 * 3000.0**3 / (3 * 210e3 * (I_y - I_yz**2 / I_z))
    moved = s.found.displacements[-1, :, 0]
    assert moved[2] == pytest.approx(w, rel=0.01)
    assert moved[1] == pytest.approx(-w * I_yz / I_z, rel=0.01)


def test_the_line_of_a_turned_hat_is_that_of_its_flanges() -> None:
    """Flanges up, given by its top: the centroid lies below by its height over the flanges' outer face as drawn."""
    height = float(parse_profile(HAT).properties().centroid_height[0])
    up = alone({"profile": HAT, "lies": "flanges-up", "line": "top"}).plan.laid[0]
    assert up.start[2] == pytest.approx(-height)
    down = alone({"profile": HAT, "lies": "crown-up", "line": "bottom"}).plan.laid[0]
    assert down.start[2] == pytest.approx(height)


# --- bad input -------------------------------------------------------------------------------------------------


def refused(frame: dict[str, Any], **tables: Any) -> str:
    with pytest.raises(InputErrors) as error:
        project({"loads": [PERSON], **frame}, **tables)
    return str(error.value)


def test_too_few_supports_name_what_moves() -> None:
    said = refused({"supports": CORNERS[:1]})
    assert "F1" in said
    assert "supports" in said
    assert "the whole frame can turn about" in said


PANEL = {"id": "P", "size": "600 400 mm", "sheet": {"thickness": "1 mm", "grade": "DC04"}, "pressure": "1 kPa"}
"""An item, where a test is of the frame alone."""


def test_a_mechanism_names_the_member() -> None:
    """Two rails in one line, hinged where they meet, which nothing holds up there."""
    members = [
        {"id": "R1", "start": "0 0 0 mm", "end": "900 0 0 mm", **BOX, "ends": "fixed pinned"},
        {"id": "R2", "start": "900 0 0 mm", "end": "2000 0 0 mm", **BOX, "ends": "pinned fixed"},
    ]
    said = refused(
        {
            "members": members,
            "loads": [{**PERSON, "at": "500 0 mm"}],
            "supports": [{"at": "0 0 mm", "held": "x y z rx rz"}, {"at": "2000 0 mm", "held": "y z rx rz"}],
        },
        brace=[],
        panel=[PANEL],
    )
    assert "the frame is a mechanism: the joint of R1 and R2 at 900 0 mm can move along z" in said
    assert "R1, R2 move with it" in said


@pytest.mark.parametrize(
    ("frame", "words"),
    [
        ({"members": [{**RAILS[0], "end": "0 0 0 mm"}]}, "R1 has no length"),
        ({"members": [*RAILS, {"id": "B1", "brace": "B7"}]}, "'B7' is not the id of a [[brace]]"),
        ({"members": [*RAILS, {"id": "R3", "start": "1500 0 0 mm", "end": "2500 0 0 mm", **BOX}]}, "R1 and R3 lie over each other for 500 mm"),
        ({"members": [*RAILS, {**RAILS[0]}]}, "'R1' is used twice"),
        ({"members": [{"id": "R1", "start": "0 0 0 mm", "end": "2000 0 0 mm"}]}, "profile: is missing"),
        ({"members": [{**RAILS[0], "start": "0 0 0"}]}, "has no unit at its end"),
        ({"members": [{**RAILS[0], "profile": HAT}]}, "which way up"),
        ({"members": [{**RAILS[0], "profile": "hatt:top=50mm"}]}, "hatt"),
        ({"members": [{**RAILS[0], "ends": "loose"}]}, "'loose' is not a kind of end"),
        ({"members": [{**RAILS[0], "lies": "sideways"}]}, "'sideways' is not a way up"),
        ({"members": [{**RAILS[0], "joints": ["J9"]}, RAILS[1], {"id": "B1", "brace": "B1"}, {"id": "B2", "brace": "B2"}]}, "'J9' is not the id of an item"),
        ({"members": [{**RAILS[0], "seams": ["B1"]}, RAILS[1], {"id": "B1", "brace": "B1"}, {"id": "B2", "brace": "B2"}]}, "no weld line"),
        ({"members": [{**RAILS[0], "colour": "red"}]}, "unknown key"),
        ({"supports": [{"at": "600 300 mm"}]}, "is on no member"),
        ({"supports": [{"at": "0 0 mm", "held": "x up"}]}, "'up' is no direction"),
        ({"supports": [{"at": "0 0 mm", "held": "rx", "stiffness": "50 N/mm"}]}, "movement in N/mm"),
        ({"supports": [{"at": "0 0 mm", "stiffness": 50}]}, "50 has no unit"),
        ({"loads": [{**PERSON, "case": "none"}]}, "is not the id of a [[case]]"),
        ({"loads": [{**PERSON, "case": "load"}]}, "says no acceleration"),
        ({"loads": [{**PERSON, "at": "500 3000 mm"}]}, "on no member and between no two"),
        ({"loads": [{"mass": "90 kg", "force": "0 0 -1 N", "at": "0 0 mm"}]}, "give one of mass, force, pressure"),
        ({"loads": [{"force": "0 0 -1 N", "at": "0 0 mm"}]}, "case: is missing"),
        ({"loads": [{"case": "load", "pressure": "1 kPa", "at": "0 0 mm"}]}, "corners: is missing"),
        ({"loads": [{"case": "load", "pressure": "1 kPa", "corners": "0 0 500 mm"}]}, "pair of x and y"),
        ({"loads": []}, "nothing loads it in any case"),
        ({"members": [*RAILS, {"id": "B1", "brace": "LONG"}]}, "is 1000 mm long in the plan and its span is 800 mm"),
        ({"carries": ["bank"]}, "'bank' puts no load on anything"),
    ],
)  # fmt: skip
def test_bad_input_is_told_with_its_place(frame: dict[str, Any], words: str) -> None:
    long = {**BRACE, "id": "LONG", "span": "800 mm", "place": "500 0 500 1000 mm"}
    braces = [{**BRACE, "id": f"B{n}", "place": f"{x} 0 {x} 1000 mm"} for n, x in ((1, 500), (2, 1100))]
    said = refused(frame, brace=[*braces, long])
    assert words in said
    assert "F1" in said


def test_a_bench_does_not_count_twice() -> None:
    """On the frame and on the brace of the frame."""
    bench = {"id": "bench", "feet": ["500 400 0 mm"]}
    braces = [
        {**BRACE, "id": "B1", "place": "500 0 500 1000 mm", "load": ["from bench", "from F1"]},
        {**BRACE, "id": "B2", "place": "1100 0 1100 1000 mm"},
    ]
    assert "would count twice" in refused({"carries": ["bench"]}, weight=[bench], brace=braces)


def test_sideways_bending_of_a_free_brace_is_not_silent() -> None:
    """A level push on a brace that no sheet holds: the frame bends it sideways, and the brace is judged for it."""
    braces = [{**BRACE, "id": f"B{n}", "held": "none", "place": f"{x} 0 {x} 1000 mm"} for n, x in ((1, 500), (2, 1100))]
    of = project({"loads": [{"case": "load", "force": "2 0 -1 kN", "at": "500 500 mm"}]}, brace=braces)
    result = check(of.items[0])
    member = next(one for one in solved(of).plan.laid if one.id == "B1")
    assert of.items[0].standings[0].fields["aside"] == pytest.approx(
        giving.Inside(solved(of), member, 0).greatest("M_z")
    )
    assert next(c for c in result.checks if c.key == "en1993-1-1.bending-both-ways").utilisation
    assert math.isfinite(result.values["moment_max"].value or 0.0)


def test_a_spread_mass_presses_as_a_pressure_and_a_panel_takes_it() -> None:
    """240 kg over 0.5 x 1 m: 4.707 kPa (m g / A); the frame carries all of it, and the panel has the same pressure."""
    lies = {"mass": "240 kg", "corners": "550 0 1050 1000 mm", "case": "stand"}
    panel = {
        "id": "P1", "size": "1000 500 mm", "sheet": {"thickness": "1.2 mm", "grade": "DC04"}, "edges": "clamped",
        "load": "from F1 load 1",
    }  # fmt: skip
    of = project({"loads": [lies]}, panel=[panel])
    s = solved(of)
    assert float(s.found.reactions[:, 2, 0].sum()) == pytest.approx(240 * g, rel=1e-9)
    assert of.items[-1].standings[0].fields["pressure"] == pytest.approx(240 * g / (500.0 * 1000.0), rel=1e-12)
    assert of.items[-1].standings[0].under == "stand"
    # a push level acts in the middle of the field: half on each brace, 500 and 1100 mm, by the lever from 800
    side = {**lies, "case": "slide"}
    case = [{"id": "slide", "title": "Slide", "acceleration": "0 1 -1 g"}]
    pushed = solved(project({"loads": [side]}, case=case))
    assert float(pushed.found.reactions[:, 1, 0].sum()) == pytest.approx(-240 * g, rel=1e-9)


def test_what_a_frame_puts_on_a_brace_is_not_passed_over() -> None:
    """A brace of the frame that types its own load is judged for that, and told what it leaves out; no outside value."""
    person = {"loads": [{"mass": "90 kg", "at": "500 400 mm"}]}
    assert "load-passed-over" not in {c.code for r in check(project(person)) for c in r.cautions}
    own = {key: value for key, value in BRACE.items() if key != "load"} | {"spread": "0.01 N/mm"}
    braces = [{**one, "id": f"B{n}", "place": f"{x} 0 {x} 1000 mm"} for n, x, one in ((1, 500, own), (2, 1100, BRACE))]
    told = check(project(person, brace=braces))
    assert any(c.code == "load-passed-over" and c.text.startswith("F1 ") for c in told["B1"].cautions)
    assert "load-passed-over" not in {c.code for c in told["B2"].cautions}


def test_a_field_that_hangs_in_the_air_is_refused() -> None:
    """Its cells went to the nearest member, however far: 200 mm beyond the outermost is what a foot may stand off too."""
    field = {"case": "load", "pressure": "1 kPa"}
    project({"loads": [{**field, "corners": "0 0 2200 1000 mm"}]})
    with pytest.raises(InputErrors, match="1000 mm beyond the members"):
        project({"loads": [{**field, "corners": "0 0 3000 1000 mm"}]})


def test_a_brace_is_twisted_as_the_frame_twists_it() -> None:
    """What a stiff cross member turns it with, and what runs through it from rail to rail: the frame's own torque."""
    free = {**BRACE, "held": "none", "ends": "pinned"}
    braces = [{**free, "id": f"B{n}", "place": f"{x} 0 {x} 1000 mm", "profile": BOX["profile"], "grade": "S235JR",
               "lies": "crown-up"} for n, x in ((1, 500), (2, 1100))]  # fmt: skip
    members = [
        *RAILS, {"id": "B1", "brace": "B1"}, {"id": "B2", "brace": "B2"},
        {"id": "X", "start": "500 600 0 mm", "end": "1100 600 0 mm", **BOX},
    ]  # fmt: skip
    of = project(
        {"members": members, "loads": [{"case": "load", "force": "0 0 -900 N", "at": "700 600 mm"}]}, brace=braces
    )
    s = solved(of)
    for item in of.items:
        (standing,) = item.standings
        given = item.loaded(standing)
        assert any(one.at is not None for one in given.torques)
        laid = next(one for one in s.plan.laid if one.id == item.id)
        for (a, _), element in zip(laid.nodes, laid.elements):
            inside = s.found.line(element)
            turn = np.stack([laid.along, laid.side, np.cross(laid.along, laid.side)]) @ s.found.axes[element].T
            T = float((turn @ inside.forces(inside.length / 2)[3:, 0])[0])
            x = np.array([a + inside.length / 2])
            own = float(torque_along(given.length, given.supports, given.torques, x)[0][0])
            assert own == pytest.approx(T, rel=1e-5)
        assert {c.key for c in check(item).checks} >= {"en1993-1-3.torsion"}


def test_a_foot_beside_a_brace_twists_it() -> None:
    """Statics: 30 kg over one foot 25 mm beside the line of a brace turns it with weight times 25 mm."""
    brace = {**BRACE, "held": "none", "id": "B1", "place": "500 0 500 1000 mm", "load": "from stand"}
    mount = {"id": "stand", "mass": "30 kg", "centre": "525 400 100 mm", "feet": ["525 400 0 mm"], "brace": "B1",
             "case": "stand"}  # fmt: skip
    of = read_project(
        {"project": {"title": "Invented"}, "case": [{"id": "stand", "title": "Standing", "acceleration": "0 0 -1 g"}],
         "brace": [brace], "mount": [mount]},
        where="invented.toml",
    )  # fmt: skip
    item = next(one for one in of.items if one.id == "B1")
    (standing,) = item.standings
    assert standing.left == ()
    assert [(abs(T), x) for T, x in standing.fields["torque"]] == [(pytest.approx(30 * g * 25), pytest.approx(400.0))]
    assert check(item).status in ("ok", "over")


def test_a_foot_that_pushes_the_free_face_sideways_is_told() -> None:
    """Statics: a level force on the top of a brace held at its bottom alone has the depth for its lever."""
    mount = {"id": "stand", "mass": "30 kg", "centre": "500 400 100 mm", "feet": ["500 400 0 mm"], "brace": "B1",
             "force": "100 0 0 N", "at": "500 400 0 mm", "acceleration": "0 0 -1 g"}  # fmt: skip
    for held, told in (("bottom", True), ("top", False), ("both", False)):
        brace = {**BRACE, "held": held, "id": "B1", "place": "500 0 500 1000 mm", "load": "from stand"}
        of = read_project({"project": {"title": "Invented"}, "brace": [brace], "mount": [mount]}, where="invented.toml")
        item = next(one for one in of.items if one.id == "B1")
        assert ("racked" in {c.code for c in check(item).cautions}) is told


def test_a_free_brace_takes_level_forces_too() -> None:
    """Statics: 120 N across at 400 of 1000 mm: F a b / L sideways, and the height over the axis for a torque; along: a thrust."""
    box = {"profile": "box:depth=40mm,width=40mm,t=2mm,r=2mm", "grade": "S235JR", "span": "1000 mm", "load": "from stand",
           "id": "B1", "place": "500 0 500 1000 mm", "bearing": "40 mm"}  # fmt: skip
    mount = {"id": "stand", "mass": "30 kg", "centre": "500 400 20 mm", "feet": ["500 400 20 mm"], "brace": "B1",
             "force": "120 60 0 N", "at": "500 400 20 mm", "acceleration": "0 0 -1 g"}  # fmt: skip
    of = read_project({"project": {"title": "Invented"}, "brace": [box], "mount": [mount]}, where="invented.toml")
    item = next(one for one in of.items if one.id == "B1")
    (standing,) = item.standings
    assert standing.left == ()
    assert standing.fields["aside"] == pytest.approx(120 * 400 * 600 / 1000)
    assert [abs(T) for T, _ in standing.fields["torque"]] == [pytest.approx(120 * 20)]
    assert standing.fields["compression"] == pytest.approx(60.0)
    result = check(item)
    assert result.status == "ok"
    assert {c.key for c in result.checks} >= {"en1993-1-1.bending-both-ways", "en1993-1-3.torsion"}


@pytest.mark.parametrize(("newtons", "left_out"), [(4.0, True), (400.0, False)])
def test_a_push_along_a_brace_that_is_next_to_nothing_is_told_and_left_out(newtons: float, left_out: bool) -> None:
    """1.5 x 190 mm of S355 yield at some 100 kN: 4 N are less than a ten-thousandth of that, 400 N are not."""
    of = project(
        {
            "loads": [{**PERSON, "case": "stand"}, {"case": "stand", "force": f"0 {newtons} 0 N", "at": "500 400 mm"}],
            "members": [*RAILS, {"id": "B1", "brace": "B1", "ends": "pinned"}, {"id": "B2", "brace": "B2"}],
        }
    )
    (standing,) = of.items[0].standings
    told = " ".join(str(one.sentence) for one in standing.way)
    assert ("what pushes or pulls it along takes" in told) is left_out
    assert ({"compression", "tension"} & set(standing.fields) == set()) is left_out


def test_what_is_only_rounding_is_given_to_nobody() -> None:
    """A load a millionth of the frame's greatest is none: it was printed in all its figures, as if it were one."""
    s = solved(project({"loads": [PERSON]}))
    ends = np.abs(s.found.end_forces[:, :, 0]).reshape(-1, 4, 3)
    most_force, most_moment = ends[:, (0, 2)].max(), ends[:, (1, 3)].max()
    for one in s.plan.laid:
        for last in (False, True):
            _, force, moment = giving.end_force(s, one, last, 0)
            assert all(part == 0 or abs(part) > 0.9e-6 * most_force for part in force)
            assert all(part == 0 or abs(part) > 0.9e-6 * most_moment for part in moment)
    force, moment = s.but_rounding(
        most_force * np.array([1.0, 5e-7, -2e-6]), most_moment * np.array([-5e-7, 0.0, 1.0]), 0
    )
    assert list(force / most_force) == pytest.approx([1.0, 0.0, -2e-6], abs=1e-12)
    assert list(moment / most_moment) == pytest.approx([0.0, 0.0, 1.0], abs=1e-12)
