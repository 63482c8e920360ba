"""`jointcalc body`: the loads of a body seen by themselves are those that its seams get."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

FILE = """[project]
title = "P"
[sheet.skin]
thickness = "0.8 mm"
grade = "DC04"
[[body]]
id = "shell"
wheelbase = "2600 mm"
track = "1480 1460 mm"
mass = ["900 kg @ -800 mm..3300 mm", "250 kg @ 0 mm", "300 kg @ 1900 mm"]
size = "2100 1500 1250 mm"
floor_sheet = "skin"
roof_sheet = "skin"
side_sheet = "skin"
front_sheet = "skin"
rings = ["rear"]
sill = "110 130 mm"
sill_sheet = "skin"
"""
SEAM = """[[seam]]
id = "%s"
sheets = ["skin", "skin"]
weld_diameter = "5 mm"
pitch = "40 mm"
length = "2000 mm"
edge = "10 mm"
load = "from shell%s"
"""


@pytest.fixture
def file(tmp_path: Path) -> Path:
    made = tmp_path / "shell.toml"
    made.write_text(FILE + SEAM % ("S1", "") + SEAM % ("S2", " roof"), encoding="utf-8")
    return made


def test_a_seam_gets_what_the_body_shows(file: Path, say: Any) -> None:
    shown = json.loads(say("body", str(file), "--json").out)
    assert (shown["kind"], shown["id"], shown["status"], shown["checks"]) == ("body", "shell", "ok", [])
    items = json.loads(say("check", str(file), "--json").out)["items"]
    for item, part in zip(items, ("floor", "roof"), strict=True):
        per_spot = item["values"]["shear_per_spot"]["value"]
        assert per_spot == pytest.approx(40.0 * shown["parts"][part]["shear_flow"]["value"], rel=1e-9)
    # statics: both axles carry the weight, and a wheel in the air leaves the lighter axle's load times half its track
    values = {name: one["value"] for name, one in shown["values"].items()}
    assert values["weight"] == pytest.approx(1450 * 9.80665)
    assert values["front_axle"] + values["rear_axle"] == pytest.approx(values["weight"])
    axles = ((values["front_axle"], 1480.0), (values["rear_axle"], 1460.0))
    assert values["torque"] >= min(load * track / 2 for load, track in axles) * (1 - 1e-9)


@pytest.mark.parametrize("columns", ["40", "80"])
@pytest.mark.parametrize("units", ["metric", "inch"])
def test_it_fits_the_terminal(columns: str, units: str, file: Path, say: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", columns)
    told = say("body", str(file), "--units", units)
    assert told.code == 0, told.err
    assert max(map(len, told.out.splitlines())) <= int(columns)
    assert len(told.out.splitlines()) <= (50 if columns == "80" else 90)
    words = " ".join(told.out.split())
    assert "body shell" in words
    assert "Taken by: S1, S2" in words
    assert ("N/mm" in words) == (units == "metric")


def test_a_wrong_id_is_told(file: Path, say: Any) -> None:
    told = say("body", str(file), "--id", "shel")
    assert (told.code, told.out) == (2, "")
    assert "did you mean 'shell'" in told.err


def test_an_inch_shop_reads_the_same_loads(file: Path, say: Any) -> None:
    """1 lbf = 4.4482216152605 N and 1 in = 25.4 mm, exact (international pound and inch, 1959)."""
    parts = json.loads(say("body", str(file), "--json").out)["parts"]
    told = say("body", str(file), "--units", "inch").out
    row = next(line.split() for line in told.splitlines() if line.split()[:1] == ["sill"])
    flow, pulled, pushed = (float(word.lstrip(">")) for word in row[1:4])
    sill = parts["sill"]
    assert flow == pytest.approx(sill["shear_flow"]["value"] * 25.4 / 4.4482216152605, rel=5e-3)
    assert pulled == pytest.approx(sill["tension"]["value"] / 4.4482216152605, rel=5e-3)
    assert pushed == pytest.approx(sill["compression"]["value"] / 4.4482216152605, rel=5e-3)
