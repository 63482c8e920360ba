"""The inspection checklist: what is asked is what was described, counted and measured by hand here."""

from __future__ import annotations

from math import sqrt
from typing import Any

import pytest

from jointcalc.model.project import read_project
from jointcalc.registry import KINDS, SOURCES
from jointcalc.show.checklist import FIELDS, Entry, checklist, look
from tests.dossier.test_figures import ITEMS, SHEETS


def entries(kind: str, **changes: Any) -> dict[str, Entry]:
    data = {"project": {"title": "t"}, "sheet": SHEETS, kind: [{"id": "X1", **ITEMS[kind], **changes}]}
    return {entry.key: entry for entry in checklist(read_project(data).items[0])}


def asked(kind: str, key: str, **changes: Any) -> tuple[str, int]:
    entry = entries(kind, **changes)[key]
    return entry.asked_text("metric"), entry.places


def test_a_seam_is_counted_and_measured() -> None:
    # 400 mm at 40 mm, centred: ten spots, nine steps between them, half a step at each end
    assert asked("seam", "count") == ("at least 10", 1)
    assert asked("seam", "pitch") == ("40 mm", 9)
    assert asked("seam", "end") == ("20 mm", 2)
    assert asked("seam", "edge") == ("at least 9 mm", 1)
    assert asked("seam", "lap") == ("at least 18 mm", 1)  # twice the edge where none is given
    assert asked("seam", "button") == ("at least 5.5 mm", 1)
    twice = entries("seam", rows=2, row_spacing="20 mm", count=6, pitch=None)
    assert twice["count"].asked == 12
    assert twice["pitch"].places == 10
    assert twice["row-spacing"].asked == 20.0
    # `usual` is four times the root of the thickness: Handbook for Resistance Spot Welding's usual set-up size
    t = min(float(SHEETS["b"]["thickness"].split()[0]), 99.0)
    assert entries("seam", weld_diameter="usual")["button"].asked == pytest.approx(4 * sqrt(t))


def test_sheets_are_asked_for_with_what_was_counted_on() -> None:
    plug = entries("plug")
    for n, name in enumerate(ITEMS["plug"]["sheets"]):
        assert plug[f"sheet-{n + 1}.thickness"].asked_text("metric") == f"at least {SHEETS[name]['thickness']}"
        assert SHEETS[name]["grade"] in plug[f"sheet-{n + 1}.grade"].words
    # DC04: EN 10130 gives at least 270 MPa; a certificate that was counted on is asked for instead
    own = {**SHEETS, "a": {"thickness": "2 mm", "grade": "DC04", "coating": "none"}}
    data = {"project": {"title": "t"}, "sheet": own, "seam": [{"id": "X1", **ITEMS["seam"], "sheets": ["a", "a"]}]}
    assert {e.key: e.asked for e in checklist(read_project(data).items[0])}["sheet-1.f_u"] == 270.0
    own["a"]["tensile_strength"] = "312 MPa"
    assert {e.key: e.asked for e in checklist(read_project(data).items[0])}["sheet-1.f_u"] == 312.0


def test_a_slot_row_and_an_arc_spot() -> None:
    # 300 mm at 50 mm: six in each of two rows
    assert asked("plug", "count") == ("at least 12", 1)
    assert asked("plug", "hole") == ("8 mm", 12)
    assert asked("plug", "slot") == ("at least 16 mm", 12)
    assert asked("plug", "row-spacing") == ("30 mm", 1)
    assert "full" in asked("plug", "fill")[0]
    spot = entries("plug", hole=None, slot=None, visible="14 mm", interface="7 mm")
    assert spot["visible"].asked_text("metric") == "at least 14 mm"
    assert spot["interface"].asked_text("metric") == "at least 7 mm"
    assert "hole" not in spot


def test_arc_welds_by_their_lengths() -> None:
    # lines of 100, 80 and 100 mm
    assert asked("fillet", "leg") == ("at least 3 mm", 3)
    assert asked("fillet", "length-1") == ("at least 100 mm", 2)
    assert asked("fillet", "length-2") == ("at least 80 mm", 1)
    assert asked("fillet", "total") == ("at least 280 mm", 1)
    # stitches of 20 at most 45 apart: on 100 mm (100 - 20)/45 makes two gaps, on 80 mm too: three stitches on each line
    stitched = entries("fillet", stitch="20 45 mm")
    assert stitched["count"].asked == 9
    assert (stitched["stitch"].asked, stitched["stitch"].places) == (20.0, 9)
    assert (stitched["stitch-pitch"].asked, stitched["stitch-pitch"].places) == (45.0, 6)
    assert stitched["total"].asked == pytest.approx(180.0)
    both = entries("fillet", both_sides=True)
    assert both["count"].asked == 6
    assert both["total"].asked == pytest.approx(560.0)


def test_bolts_say_whose_torque_it_is() -> None:
    assert asked("bolts", "hole") == ("at most 9 mm", 4)  # medium clearance hole of M8, ISO 273
    assert asked("bolts", "pitch") == ("50 mm", 1)
    assert asked("bolts", "edge") == ("at least 20 mm", 4)
    torque = entries("bolts")["torque"]
    assert torque.asked is None, "no table of ours gives a torque"
    assert "maker" in torque.words
    plated = entries("bolts", plate="40 30 3 mm", edge=None, outline=["-25 -30 100 90 mm", "-40 -40 200 200 mm"])
    assert [plated[f"plate-{k}"].asked for k in ("long", "short", "thick")] == [40.0, 30.0, 3.0]
    # outline of the first sheet: the nearest edges are 25 mm left of the left holes
    assert plated["edge-1"].asked == 25.0
    assert plated["edge-2"].asked == 40.0
    rivet = entries("bolts", bolt=None, rivet="4.8 mm steel")
    assert "torque" not in rivet
    assert "maker" in rivet["set"].words


def test_a_brace_by_its_letters() -> None:
    brace = entries("brace")
    assert {k: e.asked for k, e in brace.items() if k.startswith("profile.")} == {
        "profile.top": 40.0, "profile.depth": 30.0, "profile.flange": 20.0, "profile.r": 2.0,
    }  # fmt: skip
    assert brace["span-1"].asked_text("metric") == "at most 1000 mm"
    closed = entries(
        "brace", profile="hat-skin:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm,skin=120mm,skin_t=1mm", pitch="50 mm"
    )
    # 20 spots on each of two lines; the line lies in the middle of the flange's flat: (20 - 2) / 2
    assert closed["count"].asked == 40
    assert closed["profile.weld"].asked == 9.0
    assert closed["button"].asked == pytest.approx(4 * sqrt(1.0))
    assert closed["sheet-2.thickness"].asked == 1.0
    plain = entries("brace", profile="lap:left=60mm,overlap=25mm,right=60mm,t=1mm,r=2mm")
    assert plain["profile.step"].asked_text("metric") == "thickness of the upper sheet"


def test_a_panel_by_its_beads() -> None:
    # beads along 600 mm, across 400 mm at 75 mm: five of 25 mm fit with half a width to spare
    panel = entries("panel")
    assert panel["bead-1.count"].asked == 5
    assert (panel["bead-1.depth"].asked, panel["bead-1.width"].asked, panel["bead-1.pitch"].asked) == (6.0, 25.0, 75.0)
    assert (panel["side-1"].asked, panel["side-2"].asked) == (600.0, 400.0)
    holed = entries("panel", opening="round:diameter=60mm,x=200mm,y=150mm,flange=8mm")
    assert (holed["opening.width"].asked, holed["opening.flange"].asked) == (60.0, 8.0)
    assert holed["opening.place"].asked_text("metric") == "200 along the beads, 150 mm across them"
    assert "bead-1.depth" not in entries("panel", bead="none")


def test_a_thing_on_feet() -> None:
    mount = entries("mount")
    assert mount["feet"].asked == 4
    assert mount["feet-apart-1"].asked == 300.0
    assert mount["feet-apart-2"].asked == 200.0
    assert mount["mass"].asked_text("metric") == "at most 18 kg"
    assert mount["height"].asked == 160.0
    assert mount["bolts.count"].asked == 4
    ceiling = entries("mount", faces="-z", centre="150 120 -160 mm", acceleration="8 2 1 g")
    assert ceiling["height"].asked == 160.0


@pytest.mark.parametrize("kind", list(ITEMS))
def test_every_kind_asks_in_shop_words_and_in_the_reader_s_units(kind: str) -> None:
    assert set(ITEMS) == set(KINDS)
    found = entries(kind)
    assert len(found) >= 5
    for entry in found.values():
        metric, inch = entry.asked_text("metric"), entry.asked_text("inch")
        assert metric
        assert "mm" not in inch.split()
        assert "MPa" not in inch
        assert "_" not in entry.check
        assert entry.places >= 1
        assert entry.unit_text("metric") == (metric.split()[-1] if entry.unit else "")
        assert entry.measured == any(c.isdigit() for c in metric) or not entry.measured
    assert FIELDS == ("measured", "accepted", "by", "date")


def test_what_gives_loads_and_is_built_has_one_too() -> None:
    member = {"id": "left", "start": "0 0 0 mm", "end": "300 400 0 mm",
              "profile": "box:depth=60mm,width=40mm,t=2mm,r=2mm", "grade": "S235JR", "joints": ["J1", "J2"]}  # fmt: skip
    from jointcalc.kinds.frame.model import Frame

    frame = Frame(id="f", members=[member, {"id": "front", "brace": "B3"}], supports=[{"at": "0 0 mm"}])  # type: ignore[list-item]
    found = {e.key: e for e in checklist(frame)}
    assert found["left.profile.depth"].asked == 60.0
    assert found["left.length"].asked == 500.0  # 3-4-5
    assert "J1, J2" in found["left.joints"].words
    assert "B3" in found["front.brace"].words
    assert found["left.profile.depth"].check.startswith("left: ")
    assert all(record.checklist for record in SOURCES.values())


def test_no_two_lines_of_an_item_share_a_key(monkeypatch: pytest.MonkeyPatch) -> None:
    from jointcalc.show import checklist_welds

    item = read_project({"project": {"title": "t"}, "sheet": SHEETS, "seam": [{"id": "X1", **ITEMS["seam"]}]}).items[0]
    monkeypatch.setattr(checklist_welds, "seam", lambda one: [look("a", "A", "b"), look("a", "B", "b")])
    with pytest.raises(ValueError, match="share a key"):
        checklist(item)
