"""What changed since an earlier revision."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path
from typing import Any

import pytest

from jointcalc.dossier.changes import changes_since, read_old
from jointcalc.errors import InputError
from jointcalc.model.typed import typed_of
from jointcalc.result import Result, collect
from jointcalc.show.document import dumps, project_document
from tests.dossier.conftest import demo_data, judged, made, plain, words_of


def _document(results: list[Result]) -> dict[str, Any]:
    text = dumps(project_document("old", results, collect(())))
    found: dict[str, Any] = json.loads(text)
    return found


@pytest.fixture(scope="module")
def told() -> dict[str, Any]:
    """Changes from a project with S1 weaker loaded and thinner, S2 gone later, to the demo with S4 new."""
    before = demo_data()
    before["seam"] = [{**before["seam"][0], "shear": "7 kN", "pitch": "30 mm"}, before["seam"][1], before["seam"][2]]
    after = demo_data()
    after["seam"] = [after["seam"][0] | {"shear": "300 kN"}, after["seam"][2], after["seam"][3]]
    return changes_since(_document(judged(before)[1]), judged(after)[1], "metric", "old.json")


def test_added_removed_and_unchanged_items_are_named(told: dict[str, Any]) -> None:
    assert [row[0] for row in told["added"]] == ["S4"]
    assert [row[0] for row in told["removed"]] == ["S2"]
    assert told["same"] == 1
    assert [item["id"] for item in told["changed"]] == ["S1"]


def test_verdict_factor_pitch_and_load_are_told(told: dict[str, Any]) -> None:
    lines = {plain(what): (plain(before), plain(now)) for what, before, now in told["changed"][0]["lines"]}
    assert lines["verdict"] == ("holds", "does not hold")
    assert lines["pitch"] == ("30 mm", "40 mm")
    assert lines["spots"] == ("49", "37")  # floor(1480 / 30), floor(1480 / 40)
    before, now = (float(x) for x in lines["safety factor that governs"])
    assert before > 1 > now
    assert told["changed"][0]["more"] >= 0


def test_what_was_typed_is_told_first_old_and_new(tmp_path: Path) -> None:
    lines = ['[project]', 'title = "P"', 'revision = "A"', '[[seam]]', 'id = "S1"', 'weld_diameter = "5.5 mm"',
             'pitch = "40 mm"', 'length = "400 mm"', 'edge = "9 mm"', 'shear = "14 kN"',
             'sheets = [{thickness = "1.2 mm", grade = "DC04"}, {thickness = "1.2 mm", grade = "DC04"}]']  # fmt: skip
    (tmp_path / "a.toml").write_text("\n".join(lines), encoding="utf-8")
    now = "\n".join(lines).replace('"14 kN"', '"16 kN"').replace('revision = "A"', 'revision = "B"')
    old = read_old(tmp_path / "a.toml")
    assert old["revision"] == "A"
    project, results = judged(tomllib.loads(now))
    told = changes_since(old, results, "metric", "a.toml", {"S1": typed_of(project.items[0], project.written["S1"])})
    rows = [[plain(cell) for cell in row] for row in told["changed"][0]["lines"]]
    assert rows[0] == ["typed: shear", "14 kN", "16 kN"]
    used = next(row for row in rows if row[0] == "used")
    # the same seam under 16 for 14 kN: what is used grows as the load, rounded up
    assert int(used[2].split()[0]) / int(used[1].split()[0]) == pytest.approx(16 / 14, rel=0.03)
    assert not any("handbook" in row[0] for row in rows)
    assert told["untyped"] == ""


def test_a_document_of_check_holds_what_was_typed(tmp_path: Path, say: Any) -> None:
    """By way of `check --json` the same is told as by the project file; without its inputs it is said that none were."""
    lines = ['[project]', 'title = "P"', '[[seam]]', 'id = "S1"', 'weld_diameter = "5.5 mm"', 'pitch = "40 mm"',
             'length = "400 mm"', 'edge = "9 mm"', 'shear = "14 kN"',
             'sheets = [{thickness = "1.2 mm", grade = "DC04"}, {thickness = "1.2 mm", grade = "DC04"}]']  # fmt: skip
    (tmp_path / "a.toml").write_text("\n".join(lines), encoding="utf-8")
    (tmp_path / "a.json").write_text(say("check", str(tmp_path / "a.toml"), "--json").out, encoding="utf-8")
    project, results = judged(tomllib.loads("\n".join(lines).replace('"14 kN"', '"16 kN"')))
    typed = {"S1": typed_of(project.items[0], project.written["S1"])}
    old = read_old(tmp_path / "a.json")
    told = changes_since(old, results, "metric", "a.json", typed)
    by_file = changes_since(read_old(tmp_path / "a.toml"), results, "metric", "a.json", typed)
    assert told["changed"] == by_file["changed"]
    assert told["untyped"] == ""
    del old["items"][0]["inputs"]
    without = changes_since(old, results, "metric", "a.json", typed)
    assert without["untyped"].startswith("What was typed could not be compared: ")
    assert not any("typed" in row[0] for row in without["changed"][0]["lines"])


def test_long_words_and_long_lists_are_compared_as_they_were_typed(tmp_path: Path, say: Any) -> None:
    """A profile stands in the document as it was typed; what earlier versions put where it may break is no change."""
    lines = ['[project]', 'title = "P"', '[[brace]]', 'id = "B1"',
             'profile = "hat:top=50mm,depth=40mm,flange=25mm,t=1.5mm,r=2mm"', 'grade = "S355MC"', 'span = "1120 mm"',
             f'point = {[f"1 N @ {n} mm" for n in range(100, 180)]}']  # fmt: skip
    (tmp_path / "a.toml").write_text("\n".join(lines), encoding="utf-8")
    document = json.loads(say("check", str(tmp_path / "a.toml"), "--json").out)
    inputs = document["items"][0]["inputs"]
    assert inputs["profile"] == "hat:top=50mm,depth=40mm,flange=25mm,t=1.5mm,r=2mm"
    inputs["profile"] = inputs["profile"].replace(",", ",⟨U+200B⟩")
    project, results = judged(tomllib.loads("\n".join(lines)))
    typed = {"B1": typed_of(project.items[0], project.written["B1"])}
    assert changes_since(document, results, "metric", "a", typed)["changed"] == []
    typed["B1"]["point"] = typed["B1"]["point"].replace("1 N @ 179 mm", "9 N @ 179 mm")
    ((what, before, now),) = changes_since(document, results, "metric", "a", typed)["changed"][0]["lines"]
    assert (what, plain(before)[-12:], plain(now)[-12:]) == ("typed: point", "1 N @ 179 mm", "9 N @ 179 mm")


def test_nothing_changed_is_said() -> None:
    results = judged(demo_data())[1]
    told = changes_since(_document(results), results, "metric", "o")
    assert told["same"] == 4
    assert not told["changed"]
    assert not told["added"]
    assert not told["removed"]


def test_the_section_is_printed() -> None:
    old = _document(judged(demo_data())[1])
    data = demo_data()
    data["seam"][0]["edge"] = "12 mm"
    text = words_of(made(data, old=old, old_name="rev-A #x.json", summary=True))
    assert "What changed" in text
    assert "0 added, 0 removed, 1 changed, 3 unchanged" in text
    assert "rev-A #x.json" in text
    assert "What was typed could not be compared" in text


@pytest.mark.parametrize(
    ("content", "why"),
    [
        (b"", "not JSON"),
        (b"\xff\xfe\x00", "not UTF-8"),
        (b"[" * 100_000, "not JSON"),
        (b"[]", "not a document"),
        (b'{"items": 3}', "not a document"),
        (b'{"items": [{"id": 1}]}', "not a document"),
        (b'{"items": [{"id": "S1", "status": "ok", "checks": [{"key": 4}]}]}', "not a document"),
        (b'{"items": [{"id": "S1", "status": "ok", "checks": [], "values": []}]}', "not a document"),
    ],
)
def test_other_files_are_refused_with_what_is_wanted(tmp_path: Path, content: bytes, why: str) -> None:
    path = tmp_path / "old.json"
    path.write_bytes(content)
    with pytest.raises(InputError, match=why) as error:
        read_old(path)
    assert "check FILE --json" in str(error.value)
    with pytest.raises(InputError, match="cannot be read"):
        read_old(tmp_path / "none.json")


def test_odd_values_in_an_old_document_are_no_fault() -> None:
    results = judged(demo_data())[1]
    old = {
        "jointcalc": 7,
        "items": [
            {"id": "S1", "status": "strange", "governing": 3, "cautions": "x", "values": {"pitch": 3, "spots": {"value": "no"}},
             "checks": [{"key": "en1993-1-3.tearing", "steps": [1, {}], "safety_factor": "9", "demand": [], "capacity": {"value": 1e999}}]}
        ],
    }  # fmt: skip
    told = changes_since(old, results, "metric", "x")
    assert told["changed"][0]["id"] == "S1"
    assert "0.1.0" in told["version"]
