"""Project files: what is read, and a corpus of wrong files with what each message must say."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

import jointcalc
from jointcalc.check import check
from jointcalc.errors import InputError, InputErrors
from jointcalc.model.lines import MOST
from jointcalc.model.project import load_project, read_project
from jointcalc.model.seam import SpotSeam

BAD = sorted((Path(__file__).parent / "bad").glob("*.toml"))

GOOD = """# an invented van
[project]
title = "Invented van"
vehicle = "a van of our own making"
handbook_factor = 2.5

[[case]]
id = "braking"
title = "Hard stop"
source = "the builder's judgement"
load_factor = 2.0

[[case]]
id = "pull"
title = "Pull test"
ultimate = true

[sheet.floor]
thickness = "18 ga"
grade = "DC04"

[sheet.sill]
thickness = "1.5 mm"
grade = "HC340LA"
coating = "Z140"

[[seam]]
id = "S1"
title = "floor to sill"
sheets = ["floor", "sill"]
weld_diameter = "usual"
pitch = "1-1/2 in"
length = "48 in"
edge = "12 mm"
shear = "1000 lbf"
case = "braking"

[[seam]]
id = "S2"
sheets = ["floor", {thickness = "0.8 mm", grade = "DC01"}]
weld_diameter = "5 mm"
count = 12
length = "400 mm"
edge = "12 mm"
across = "2 kN"
case = "pull"
purpose = "seat"

[[seam]]
id = "S3"
sheets = ["floor", "floor"]
weld_diameter = "target"
count = 10
length = "400 mm"
edge = "12 mm"
load_factor = 1.35
handbook_factor = 4.0
case = "braking"
"""


def write(folder: Path, text: str) -> Path:
    path = folder / "project.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_a_project_is_read(tmp_path: Path) -> None:
    project = jointcalc.load_project(write(tmp_path, GOOD))
    assert project.about.title == "Invented van"
    assert [i.id for i in project.items] == ["S1", "S2", "S3"]
    first, second, third = project.items
    assert isinstance(first, SpotSeam)
    assert isinstance(second, SpotSeam)
    # 18 ga cold-rolled steel 0.0478 in (manufacturers' standard gauge)
    assert first.sheets[0].thickness == pytest.approx(0.0478 * 25.4)
    assert first.sheets[1].t == pytest.approx(1.5 - 140 / 7140)
    assert first.pitch == pytest.approx(38.1)
    assert first.shear == pytest.approx(4448.2216152605)
    assert first.typed("pitch") == "1-1/2 in"
    assert first.d == pytest.approx(4 * math.sqrt(0.0478 * 25.4))
    # the case's load factor and the project's handbook factor, unless the item states its own
    assert (first.load_factor, second.load_factor, third.load_factor) == (2.0, 1.0, 1.35)
    assert (first.handbook_factor, second.handbook_factor, third.handbook_factor) == (2.5, 2.5, 4.0)
    case = project.case_of(first)
    assert case is not None
    assert case.title == "Hard stop"
    assert project.case_of(SpotSeam.model_validate({**_seam(), "id": "x"})) is None
    assert second.purpose == ("seat",)
    assert re.fullmatch(r"[0-9a-f]{64}", project.sha256)
    assert load_project(tmp_path).sha256 == project.sha256
    results = [check(item) for item in project.items]
    assert [r.id for r in results] == ["S1", "S2", "S3"]
    assert next(c for c in results[0].checks if c.key == "d8.1m.shear-tension").required_factor == pytest.approx(2.5)
    assert next(c for c in results[1].checks if c.key == "d8.1m.shear-tension").required_factor == pytest.approx(1.25)


def _seam() -> dict[str, Any]:
    sheet = {"thickness": "1.2 mm", "grade": "DC04"}
    return {"sheets": [sheet, sheet], "weld_diameter": "5.5 mm", "pitch": "40 mm", "length": "1200 mm", "edge": "9 mm"}


def expectations(path: Path) -> list[str]:
    lines = path.read_text(encoding="utf-8").splitlines()
    return [line.removeprefix("# expect: ") for line in lines if line.startswith("# expect: ")]


@pytest.mark.parametrize("path", BAD, ids=lambda p: p.stem)
def test_wrong_file(path: Path) -> None:
    with pytest.raises(InputError) as caught:
        load_project(path)
    text = str(caught.value)
    words = expectations(path)
    assert words
    for word in words:
        assert word in text, (word, text)
    assert all(line.startswith(path.name) or path.name in line.split(": ")[0] for line in text.splitlines()), text
    assert len(text) < 3000


def test_the_corpus_is_there() -> None:
    assert len(BAD) >= 70


def test_wrong_files_on_the_command_line(say: Callable[..., Any]) -> None:
    for path in BAD:
        for extra in ([], ["--json"]):
            answer = say("check", str(path), *extra)
            assert answer.code == 2, path.name
            assert answer.out == ""
            assert answer.err.startswith("jointcalc: ")
            assert path.name in answer.err
            assert "Traceback" not in answer.err


@pytest.mark.parametrize(
    ("key", "line"),
    [("pitch", 18), ("sheets", 19)],  # of the key, not of the table's head
)
def test_lines_are_named(tmp_path: Path, key: str, line: int) -> None:
    wrong = {"pitch": '"40"', "sheets": '["nothing", "floor"]'}[key]
    text = (
        '[project]\ntitle = "x"\n\n[sheet.floor]\nthickness = "1.2 mm"\ngrade = "DC04"\n\n# a comment\n\n\n\n\n'
        '[[seam]]\nid = "S7"\nlength = "1 m"\nedge = "9 mm"\nweld_diameter = "5 mm"\n'
        + "\n".join(f"{k} = {v}" for k, v in {"pitch": '"40 mm"', "sheets": '["floor", "floor"]', key: wrong}.items())
        + "\n"
    )
    with pytest.raises(InputError) as caught:
        load_project(write(tmp_path, text))
    assert f"project.toml:{line}: [[seam]] S7" in str(caught.value)
    assert key in str(caught.value)


def test_all_faults_at_once(tmp_path: Path) -> None:
    text = GOOD.replace('"1-1/2 in"', '"1,5 in"').replace("count = 12", 'count = "x"').replace('"target"', '"goal"')
    with pytest.raises(InputErrors) as caught:
        load_project(write(tmp_path, text))
    assert len(caught.value.faults) == 3
    assert [fault.where.split("] ")[-1] for fault in caught.value.faults] == ["S1", "S2", "S3"]


def test_files_that_cannot_be_read(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="no such file"):
        load_project(tmp_path / "none.toml")
    with pytest.raises(InputError, match="no such file"):
        load_project(tmp_path)
    latin = tmp_path / "latin.toml"
    latin.write_bytes('[project]\ntitle = "Fußboden"\n'.encode("latin-1"))
    with pytest.raises(InputError, match="UTF-8"):
        load_project(latin)
    nul = tmp_path / "nul.toml"
    nul.write_bytes(b"\x00" * 100)
    with pytest.raises(InputError, match="TOML"):
        load_project(nul)
    folder = tmp_path / "folder.toml"
    (folder / "project.toml").mkdir(parents=True)
    with pytest.raises(InputError, match="no plain file"):
        load_project(folder)


def test_of_very_many_faults_the_first_are_led_to_their_lines(tmp_path: Path) -> None:
    path = tmp_path / "project.toml"
    path.write_text("[project]\n" + "".join(f"wrong{n} = 1\n" for n in range(2 * MOST)), encoding="utf-8")
    with pytest.raises(InputErrors) as caught:
        load_project(path)
    told = [one for one in str(caught.value).splitlines() if ": wrong" in one]
    assert len(told) == 2 * MOST
    assert told[MOST // 2].startswith(f"project.toml:{MOST // 2 + 2}: wrong{MOST // 2}:")
    assert told[-1].startswith(f"project.toml:1: wrong{2 * MOST - 1}:")


def test_a_file_with_a_byte_order_mark_or_windows_line_ends_is_read(tmp_path: Path) -> None:
    path = tmp_path / "project.toml"
    path.write_bytes(GOOD.replace("\n", "\r\n").encode())
    assert len(load_project(path).items) == 3
    path.write_bytes(GOOD.encode("utf-8-sig"))
    assert len(load_project(path).items) == 3


def test_too_many_items() -> None:
    entry = {**_seam()}
    data = {"project": {"title": "x"}, "seam": [{**entry, "id": f"S{n}"} for n in range(2001)]}
    with pytest.raises(InputError, match="2001 items"):
        read_project(data)


def test_models_are_frozen_and_texts_are_kept() -> None:
    seam = SpotSeam.model_validate({**_seam(), "id": "S1"})
    with pytest.raises(ValueError, match="frozen"):
        seam.pitch = 50.0  # type: ignore[misc]
    assert seam.typed("edge") == "9 mm"
    assert seam.typed("lap") == ""


def test_json_round_trip() -> None:
    """What a model writes it reads back: quantities leave as texts with their units."""
    seam = SpotSeam.model_validate({**_seam(), "id": "S1", "shear": "2700 lbf"})
    told = json.loads(seam.model_dump_json(exclude_none=True))
    assert re.fullmatch(r"[0-9.e+]+ mm", told["pitch"])
    assert told["shear"].endswith(" N")


def test_a_seam_without_sheets_is_refused() -> None:
    with pytest.raises(ValueError, match="sheets"):
        SpotSeam.model_validate({**_seam(), "sheets": []})


@pytest.mark.parametrize(
    ("pitch", "count", "end", "spots", "actual", "end_distance"),
    [
        ("40 mm", None, None, 30, 40.0, 20.0),
        ("45 mm", None, None, 26, 45.0, 37.5),  # 26 x 45 = 1170, 30 left over at the ends
        (None, 30, None, 30, 40.0, 20.0),
        ("40 mm", None, "20 mm", 30, 40.0, 20.0),
        ("40 mm", None, "10 mm", 30, 40.0, 20.0),  # 1180 / 40 = 29.5: 29 gaps, the rest at both ends
        (None, 30, "30 mm", 30, 1140 / 29, 30.0),
        (None, 1, None, 1, 1200.0, 600.0),
        ("700 mm", None, None, 1, 700.0, 600.0),
    ],
)
def test_row_geometry(
    pitch: str | None, count: int | None, end: str | None, spots: int, actual: float, end_distance: float
) -> None:
    data = {**_seam(), "pitch": pitch, "count": count, "end": end}
    seam = SpotSeam.model_validate({k: v for k, v in data.items() if v is not None})
    assert seam.spots == spots
    assert seam.actual_pitch == pytest.approx(actual)
    assert seam.actual_end == pytest.approx(end_distance)
    assert (seam.along - 1) * seam.actual_pitch + 2 * seam.actual_end == pytest.approx(seam.length)
