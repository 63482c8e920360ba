"""`jointcalc check` and `jointcalc new` on seams: the starter, the demo, one document for another program."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from .test_seam import CONTRACT, document, hold_contract

PROJECT = """[project]
title = "Invented van"
units = "inch"

[sheet.floor]
thickness = "1.2 mm"
grade = "DC04"

[[seam]]
id = "S1"
title = "middle lap"
sheets = ["floor", "floor"]
weld_diameter = "5.5 mm"
pitch = "40 mm"
length = "1200 mm"
edge = "9 mm"
shear = "12 kN"

[[seam]]
id = "S2"
sheets = ["floor", "floor"]
weld_diameter = "5.5 mm"
pitch = "40 mm"
length = "1200 mm"
edge = "9 mm"
shear = "{load}"
purpose = "belt"
"""


def project(folder: Path, load: str = "12 kN") -> Path:
    path = folder / "project.toml"
    path.write_text(PROJECT.format(load=load), encoding="utf-8")
    return path


def test_document_of_a_project(say: Callable[..., Any], tmp_path: Path) -> None:
    answer = say("check", str(project(tmp_path)), "--json")
    assert answer.code == 0
    found = document(answer)
    assert set(found) == {"jointcalc", "project", "status", "items", "cautions"}
    assert (found["project"], found["status"]) == ("Invented van", "ok")
    for item in found["items"]:
        hold_contract(item)
    alone = document(say(*CONTRACT, "--id", "S1", "--json"))
    assert found["items"][0].pop("inputs")["pitch"] == "40 mm", "what was typed, for a later revision"
    assert found["items"][0] == alone, "the command and the file judge alike"
    codes = [c["code"] for c in found["cautions"]]
    assert len(codes) == len({(c["code"], c["text"]) for c in found["cautions"]})
    assert "occupant-load" in codes
    assert {c["code"] for i in found["items"] for c in i["cautions"]} == set(codes)


@pytest.mark.parametrize(("load", "code", "status"), [("12 kN", 0, "ok"), ("120 kN", 1, "over")])
def test_exit_code_of_a_project(say: Callable[..., Any], tmp_path: Path, load: str, code: int, status: str) -> None:
    path = project(tmp_path, load)
    answer = say("check", str(path), "--json")
    assert (answer.code, json.loads(answer.out)["status"]) == (code, status)
    assert say("check", str(tmp_path)).code == code
    text = say("check", str(path)).out
    assert max(map(len, text.splitlines())) <= 80
    assert "S1" in text
    assert ("does not hold" in text) == (code == 1)


def test_one_item(say: Callable[..., Any], tmp_path: Path) -> None:
    path = project(tmp_path)
    text = say("check", str(path), "--item", "S2").out
    assert "S2" in text
    assert "S1" not in text
    assert " lbf" in text, "the project's own units"
    assert " lbf" not in say("check", str(path), "--item", "S2", "--units", "metric").out
    refused = say("check", str(path), "--item", "S3")
    assert refused.code == 2
    assert "(items: S1, S2)" in refused.err


def test_status_outside_of_a_project(say: Callable[..., Any], tmp_path: Path) -> None:
    path = project(tmp_path)
    path.write_text(path.read_text(encoding="utf-8").replace('"5.5 mm"', '"3 mm"', 1), encoding="utf-8")
    answer = say("check", str(path), "--json")
    assert (answer.code, json.loads(answer.out)["status"]) == (1, "outside")
    assert "cannot be judged" in say("check", str(path)).out


@pytest.mark.parametrize("options", [[], ["--demo"]])
def test_new_project_can_be_judged(
    say: Callable[..., Any], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, options: list[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    made = say("new", "shop", *options)
    assert (made.code, made.err) == (0, "")
    file = tmp_path / "shop" / "project.toml"
    beside = ["coupons.csv"] if options else []
    assert sorted(p.name for p in (tmp_path / "shop").iterdir()) == [*beside, "project.toml"]
    text = file.read_text(encoding="utf-8")
    assert "invented" in text.lower() or not options
    assert len([line for line in text.splitlines() if line.lstrip().startswith("#")]) >= 2
    data = tomllib.loads(text)
    assert data["seam"]
    answer = say("check", "shop", "--json")
    assert answer.code in (0, 1), answer.err
    found = document(answer)
    assert found["status"] in ("ok", "over")
    told = say("check", "shop/project.toml")
    assert told.code == answer.code
    assert max(map(len, told.out.splitlines())) <= 80
    before = file.read_bytes()
    again = say("new", "shop", *options)
    assert (again.code, again.out) == (2, "")
    assert "already there" in again.err
    assert file.read_bytes() == before


def test_every_key_of_a_seam_is_explained_by_the_starter(say: Callable[..., Any], tmp_path: Path) -> None:
    from jointcalc.model.seam import SpotSeam

    assert say("new", str(tmp_path / "a")).code == 0
    text = (tmp_path / "a" / "project.toml").read_text(encoding="utf-8")
    missing = [key for key in SpotSeam.model_fields if key not in text and key not in ("photo",)]
    assert not missing


def test_new_in_a_place_that_cannot_be_made(say: Callable[..., Any], tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x", encoding="utf-8")
    for place in (tmp_path / "file" / "shop", tmp_path / "file"):
        answer = say("new", str(place))
        assert (answer.code, answer.out) == (2, "")
        assert "Traceback" not in answer.err


def test_schema_accepts_the_demo_keys(say: Callable[..., Any]) -> None:
    schema = json.loads(say("new", "--schema").out)
    assert schema["properties"]["seam"]
    assert "pitch" in json.dumps(schema)
