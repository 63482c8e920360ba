"""Masses, counts and filler by hand; JSON and CSV say the same."""

from __future__ import annotations

import csv
import io
import json
import re
from math import log10, pi
from typing import Any

import pytest

from jointcalc.errors import InputError
from jointcalc.layout.cutlist import cut_list, weld_section
from jointcalc.layout.cutlist_views import csv_text, document
from jointcalc.layout.items import file_names
from jointcalc.model.fields import build
from jointcalc.model.fillet import FilletGroup
from jointcalc.model.marking import Part

from .projects import everything, project

STOCK = [(2500.0, 1250.0)]


@pytest.fixture(scope="module")
def found() -> dict[str, Any]:
    made = cut_list("Invented van", everything().values(), stock=STOCK, kerf=2.0, margin=5.0)
    return json.loads(json.dumps(document(made, ["a.dxf"]), allow_nan=False))  # type: ignore[no-any-return]


def row(found: dict[str, Any], table: str, item: str, part: str | None = None) -> dict[str, Any]:
    (one,) = [r for r in found[table] if r["item"] == item and (part is None or r["part"] == part)]
    return one  # type: ignore[no-any-return]


def test_masses_by_hand(found: dict[str, Any]) -> None:
    """Steel 7850 kg/m3 (common practice); the rest is geometry."""
    rho = 7.85e-6  # kg/mm3
    k = 0.65 + 0.5 * log10(2 / 1.2)
    width = 36 - 2.4 + 2 * 23.6 + 2 * 18.0 + 4 * pi / 2 * (2 + k * 0.6)
    assert row(found, "parts", "BR1")["mass"]["value"] == pytest.approx(1010 * width * 1.2 * rho)  # 5 mm a bearing
    assert row(found, "parts", "FL")["mass"] == {"value": pytest.approx(1480 * 960 * 1.2 * rho), "unit": "kg"}
    assert row(found, "parts", "FL")["count"] == 2
    holes = 2 * pi / 4 * 81
    assert row(found, "parts", "GP")["mass"]["value"] == pytest.approx((210 * 120 - (4 - pi) * 100 - holes) * 1.5 * rho)
    plate = row(found, "parts", "B1", "backing plate")
    assert plate["count"] == 4
    assert plate["mass"]["value"] == pytest.approx((75 * 50 - (4 - pi) * 25 - pi / 4 * 81) * 3 * rho)
    # a tube of 40 x 2: wall area pi (d - t) t
    tube = row(found, "sections", "BR2")
    assert tube["mass"]["value"] == pytest.approx(pi * 38 * 2 * 810 * rho, rel=1e-9)
    total = sum(p["mass"]["value"] * p["count"] for p in found["parts"]) + tube["mass"]["value"]
    assert found["totals"]["mass"]["value"] == pytest.approx(total)


def test_joints_by_hand(found: dict[str, Any]) -> None:
    """Efficiency 0.95 and overfill 1.1 for MIG/MAG: common practice, no source."""
    assert row(found, "joints", "S1")["spots"] == 37
    assert row(found, "joints", "S2")["spots"] == 14
    assert row(found, "joints", "LAP")["spots"] == 25
    assert row(found, "joints", "P1")["plugs"] == 15
    assert row(found, "joints", "B1")["fasteners"] == 4
    weld = row(found, "joints", "F1")
    assert weld["weld_length"]["value"] == pytest.approx(180.0)
    assert weld["filler"]["value"] == pytest.approx(3 * 3 / 2 * 180 * 1.1 * 7.85e-6 / 0.95)
    plug = pi / 4 * 64 * 1.2 * 15
    assert row(found, "joints", "P1")["filler"]["value"] == pytest.approx(plug * 1.1 * 7.85e-6 / 0.95)
    slot = (pi / 4 * 64 + 12 * 8) * 1.2 * 4
    assert row(found, "joints", "P2")["filler"]["value"] == pytest.approx(slot * 1.1 * 7.85e-6 / 0.95)
    assert found["totals"]["spots"] == 37 + 14 + 25
    assert found["totals"]["plugs"] == 19


@pytest.mark.parametrize(
    ("changes", "area"),
    [
        ({"leg": "4 mm"}, 8.0),
        ({"throat": "2 mm"}, 4.0),  # equal legs 2 sqrt 2, half of their square
        ({"weld": "flare-bevel", "radius": "6 mm"}, 36 * (1 - pi / 4)),
        ({"weld": "flare-V", "radius": "6 mm"}, 72 * (1 - pi / 4)),
        ({"weld": "butt"}, 3.0 * 1.5),
    ],
)
def test_weld_sections(changes: dict[str, Any], area: float) -> None:
    data = {"id": "F", "lines": ["0 0 100 0 mm"], "sheets": [{"thickness": "3 mm", "grade": "S355MC"}],
            "force": "0 -1 0 kN", "at": "50 0 0 mm"}  # fmt: skip
    assert weld_section(build(FilletGroup, {**data, **changes})) == pytest.approx(area)


def test_nesting_places_every_listed_part(found: dict[str, Any]) -> None:
    wanted: dict[tuple[str, str], int] = {}
    for p in found["parts"]:
        key = (p["sheet"], f"{p['item']} {p['part']}".strip())
        wanted[key] = wanted.get(key, 0) + p["count"]
    placed: dict[tuple[str, str], int] = {}
    for s in found["sheets"]:
        assert 0 < s["utilisation"] <= 1
        for p in s["placed"]:
            key = (s["sheet"], p["part"])
            placed[key] = placed.get(key, 0) + 1
    assert placed == wanted
    assert found["too_large"] == []


def test_a_part_larger_than_the_stock_is_named() -> None:
    made = cut_list("x", everything().values(), stock=[(1000.0, 500.0)], kerf=2.0, margin=5.0)
    named = {p["part"] for p in document(made)["too_large"]}
    assert "FL" in named
    assert "T1 wrap" in named
    assert "GP" not in named


def test_csv_says_what_the_json_says(found: dict[str, Any]) -> None:
    made = cut_list("Invented van", everything().values(), stock=STOCK, kerf=2.0, margin=5.0)
    rows = list(csv.DictReader(io.StringIO(csv_text(made))))
    assert len(rows) == len(found["parts"]) + len(found["sections"]) + len(found["joints"])
    for one, other in zip(rows, found["parts"]):
        assert one["item"] == other["item"]
        for column, key in (("length_mm", "length"), ("width_mm", "width"), ("mass_each_kg", "mass")):
            assert float(one[column]) == other[key]["value"]
    joints = [r for r in rows if r["what"] == "joint"]
    assert sum(int(r["spots"]) for r in joints) == found["totals"]["spots"]


def test_a_spreadsheet_runs_nothing() -> None:
    item = build(Part, {"id": "=1+1", "size": "100 50 mm", "sheet": {"thickness": "1.2 mm", "grade": "DC04"}})
    text = csv_text(cut_list("x", [item], stock=STOCK, kerf=0.0, margin=0.0))
    (one,) = csv.DictReader(io.StringIO(text))
    assert one["item"] == "'=1+1"


def test_file_names_are_safe_and_apart() -> None:
    ids = ["S1", "s1", "../etc/passwd", "a/b", "a\\b", "CON", "cut-list", "..", "é Ω", "x" * 300, "S1"]
    names = file_names(ids)
    assert len({n.casefold() for n in names}) == len(ids)
    assert names[0] == "S1"
    for name in names:
        assert not set(name) & set('/\\:*?"<>| \n')
        assert name.strip(".") == name
        assert 0 < len(name) < 80
        assert name.casefold() not in ("con", "cut-list")


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"size": "100 mm"}, "2 are needed"),
        ({"size": "0 50 mm"}, "1 mm and 20 m"),
        ({"size": "100 50"}, "no unit"),
        ({"count": 0}, "1 to 500"),
        ({"corner": "30 mm"}, "does not fit"),
        ({"holes": ["98 25 9 mm"]}, "does not lie inside"),
        ({"corner": "20 mm", "holes": ["4 4 5 mm"]}, "rounded corner"),
        ({"holes": ["10 10 mm"]}, "3 are needed"),
        ({"grade": "DC04"}, "unknown key"),
    ],
)
def test_parts_refused(changes: dict[str, Any], words: str) -> None:
    data = {"id": "A", "size": "100 50 mm", "sheet": {"thickness": "1.2 mm", "grade": "DC04"}}
    with pytest.raises(InputError, match=words):
        build(Part, {**data, **changes})


def test_ids_are_apart_over_items_and_parts() -> None:
    text = """
[project]
title = "x"
[[part]]
id = "A"
size = "100 50 mm"
sheet = {thickness = "1.2 mm", grade = "DC04"}
[[tub]]
id = "A"
sheet = {thickness = "1.2 mm", grade = "DC04"}
tyre = "275/60R15"
floor = "60 mm"
"""
    with pytest.raises(InputError, match="'A' is used twice"):
        project(text)


BEADED = """
[project]
title = "x"
[[part]]
id = "FL"
size = "640 440 mm"
sheet = {thickness = "1 mm", grade = "DC04"}
[[panel]]
id = "P1"
size = "600 400 mm"
sheet = {thickness = "1 mm", grade = "DC04"}
bead = "arc:depth=6mm,width=25mm,pitch=75mm"
along = "ALONG"
pressure = "1 kPa"
part = "FL"
"""


def test_the_blank_of_a_beaded_part_grows_by_what_its_beads_draw_in() -> None:
    """Arc of 25 x 6: 28.679 less 25 a bead (independent script); 5 beads across 400 mm, 8 across 600 mm at 75."""
    for along, grown in (("long", (0.0, 5 * 3.679)), ("short", (8 * 3.679, 0.0))):
        made = project(BEADED.replace("ALONG", along))
        (part,) = made.parts
        listed = cut_list("x", [*made.items, part], stock=STOCK, kerf=2.0, margin=5.0)
        (cut,) = listed.cuts
        assert (cut.length - 640, cut.width - 440) == pytest.approx(grown, abs=5e-3)
        assert cut.mass == pytest.approx(cut.length * cut.width * 7.85e-9)
        assert any("FL" in note and "bead first" in note for note in listed.notes())
        from jointcalc.layout.items import draw

        drawing, _ = draw(part, "metric")
        assert drawing is not None
        assert any("Bead first" in note for note in drawing.notes)
        plan, _ = draw(made.items[0], "metric")
        assert plan is not None
        assert any("cut from part FL" in note for note in plan.notes)
        loose = project(BEADED.replace("ALONG", along).replace('part = "FL"', ""))
        listed = cut_list("x", loose.items, stock=STOCK, kerf=2.0, margin=5.0)
        for system, unit, per in (("metric", "mm", 1.0), ("inch", "in", 25.4)):
            (told,) = (note for note in listed.notes(system) if note.startswith("P1 "))
            size = re.search(rf"too small by up to ([0-9.]+)\s{unit}", told)
            assert size is not None, told
            assert float(size[1]) * per == pytest.approx(max(grown), abs=0.02)


def test_a_part_that_is_not_in_the_file() -> None:
    with pytest.raises(InputError, match=r"'FX' of panel P1 is not the id of a ..part"):
        project(BEADED.replace("ALONG", "long").replace('part = "FL"', 'part = "FX"'))
