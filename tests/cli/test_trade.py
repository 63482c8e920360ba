"""What the trade says and jointcalc does not know: what it may mean, and what to write."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jointcalc.errors import InputError
from jointcalc.model.fillet import PROCESSES
from jointcalc.tables.materials import grades, material
from jointcalc.tables.store import load
from jointcalc.tables.trade import filler_row, hint, trade_hint

SEAM = (
    "seam", "--sheet", "1 mm", "--sheet", "1 mm", "--weld-diameter", "usual", "--pitch", "40 mm", "--length", "1 m",
    "--edge", "10 mm", "--grade",
)  # fmt: skip
FILLET = ("fillet", "--line", "0 0 100 0 mm", "--leg", "3 mm", "--sheet", "3 mm", "--grade", "S355MC")

# names a shop says, and a word of the answer: common practice, no source; CR4 as DC01 from memory
GRADES = {
    "mild steel": "A1008", "Mild Steel sheet": "A1008", "1008": "A1008 CS", "SAE 1018": "AISI 1018 CD", "CR4": "DC01",
    "cr 1": "DC04", "4130": "4130N", "Chrome-Moly": "4130N", "galv": "--coating Z275", "stainless steel": "304",
    "aluminum": "5754-H22", "CRS": "DC01", "HRS": "S235JR", "316": "not tabulated", "DOM": "A513 1020 DOM",
    "6061": "6061-T4, 6061-T6", "A1008": "`jointcalc tables show materials --only", "DC40": "did you mean 'DC04'",
}  # fmt: skip
PROCESS = {
    "MIG": "GMAW", "mag": "GMAW", "MIG/MAG": "GMAW", "stick": "SMAW", "MMA": "SMAW", "CO2": "that is a gas",
    "flux core": "FCAW-G", "GTAW": "TIG", "spot": "jointcalc seam", "SMAV": "did you mean 'SMAW'",
}  # fmt: skip
FILLER = {
    "MIG": "ER70S-6", "7018": "E7018", "SG2": "ER70S-6", "E71T-1": "E70", "TIG rod": "ER308L", "ER7": "several begin so: ER70S-2",
    "ER70S-66": "did you mean 'ER70S-6'",
}  # fmt: skip


@pytest.mark.parametrize(("name", "words"), GRADES.items())
def test_a_grade_by_its_name_in_the_trade(say: Callable[..., Any], name: str, words: str) -> None:
    done = say(*SEAM, name)
    assert (done.code, done.out) == (2, "")
    assert f"'{name}' is not a grade jointcalc knows" in done.err
    assert words in done.err


@pytest.mark.parametrize(("name", "words"), PROCESS.items())
def test_a_process_by_its_name_in_the_trade(say: Callable[..., Any], name: str, words: str) -> None:
    done = say(*FILLET, "--process", name)
    assert (done.code, done.out) == (2, "")
    assert words in done.err
    assert "did you mean 'TIG'" not in done.err


@pytest.mark.parametrize(("name", "words"), FILLER.items())
def test_a_filler_by_its_name_in_the_trade(name: str, words: str) -> None:
    with pytest.raises(InputError) as caught:
        filler_row(name)
    assert words in caught.value.message


def test_no_name_of_the_trade_is_one_that_is_known_and_what_is_advised_is_known() -> None:
    known = {"process": PROCESSES, "filler": [r["classification"] for r in load("filler_metals").rows]}
    for row in load("trade_names").rows:
        for name in row["names"].split(";"):
            assert trade_hint(row["of"], name) == row["says"]
            if row["of"] == "grade":
                with pytest.raises(InputError, match="not a grade"):
                    material(name)
            else:
                assert name not in known[row["of"]]
        # what stands in the advice may be written: EN, ASTM and SAE names, the words of a process
        for word in re.findall(
            r"'((?:AISI|A5\d\d|A513) [^']+)'|\b(DC0\d|S\d{3}(?:JR|MC)|4130N|HC340LA|DX51D\+Z)\b", row["says"]
        ):
            assert material("".join(word)).grade in grades()
        assert set(re.findall(r"\b(?:GMAW|SMAW|FCAW-[GS]|TIG)\b", row["says"])) <= set(PROCESSES)


def test_several_that_begin_so_are_listed_and_else_the_nearest() -> None:
    assert hint("grade", "xy", ["ab", "cd"]) == ""
    assert hint("grade", "abc", ["abc-1", "ABC 2", "d"]) == "; several begin so: abc-1, ABC 2"
    many = hint("grade", "abc", [f"abc{n}" for n in range(9)], table="materials")
    assert "abc5 and 3 more" in many
    assert '`jointcalc tables show materials --only "abc"`' in many
    assert hint("process", "SAV", ["SAW", "TIG"]) == "; did you mean 'SAW'?"


# --- one grade, some rows ----------------------------------------------------------------------------------------


def rows(say: Callable[..., Any], *args: str) -> list[dict[str, str]]:
    import json

    done = say("tables", "show", *args, "--json")
    assert done.code == 0, done.err
    found: list[dict[str, str]] = json.loads(done.out)["rows"]
    return found


def test_one_grade_at_a_time(say: Callable[..., Any]) -> None:
    assert [r["grade"] for r in rows(say, "materials", "--only", "DC04")] == ["DC04"]
    assert [r["grade"] for r in rows(say, "materials", "--only", "304")] == ["304"]  # and not 304L
    assert [r["grade"] for r in rows(say, "materials", "--only", "a36", "--only", "ss 304")] == ["A36", "304"]
    assert {r["family"] for r in rows(say, "materials", "--only", "family=stainless")} == {"stainless"}
    assert [r["t"] for r in rows(say, "gauge_steel_cold_rolled", "--only", "gauge=18")] == ["0.0478"]
    found = [r["grade"] for r in rows(say, "materials", "--only", "A1008 HSLAS")]
    assert len(found) == 5
    out = say("tables", "show", "materials", "--only", "DC04").out
    assert "grade = DC04" in out
    assert "f_u_min = 270 MPa, 39.16 ksi" in out  # 270 / 6.894757
    assert len(out.splitlines()) < 50
    assert max(map(len, out.splitlines())) <= 80
    for words, told in {"DC40": "did you mean 'DC04'", "grde=DC04": "did you mean 'grade'", "zzz": "no row of"}.items():
        done = say("tables", "show", "materials", "--only", words)
        assert (done.code, done.out) == (2, "")
        assert told in done.err


def test_tables_and_methods_by_words(say: Callable[..., Any]) -> None:
    out = say("tables", "--only", "gauge").out
    assert "gauge_uk_swg" in out
    assert "materials" not in out
    out = say("tables", "methods", "--only", "EN 1993-1-3 tearing").out
    assert "en1993-1-3.tearing" in out
    assert "aisi" not in out.lower()
    assert say("tables", "methods", "--only", "nothing at all").code == 2


# --- the line of a fault -----------------------------------------------------------------------------------------

FILE = """[project]
title = "Lines"

[sheet.floor]
grade = "DC04"
thickness = "1,2 mm"

[[seam]]
id = "S1"
sheets = ["floor", "floor"]
weld_diameter = "5.5 mm"
pitch = 2020-01-02
length = "1 m"
edge = "9 mm"

[[fillet]]
id = "W1"
lines = "0 0 4 1/2 0 in"
leg = "3 mm"
sheets = [{ thickness = "3 mm", grade = "S355MC" }]
process = "MIG"

[[bolts]]
id = "M1"
holes = ["0 0 mm", "0 40 mm",
         "0 90 m m"]
bolt = "M8 8.8"
sheets = [
  { thickness = "1 mm", grade = "DC04", colour = "red" },
]
load_factor = "x"
purpose = 7
"""


def test_a_fault_has_the_line_of_its_key(say: Callable[..., Any], tmp_path: Path) -> None:
    (tmp_path / "project.toml").write_text(FILE, encoding="utf-8")
    done = say("check", str(tmp_path))
    assert (done.code, done.out) == (2, "")
    told = {int(line.split(":")[1 + line.startswith("jointcalc: ")]): line for line in done.err.splitlines()}
    lines = FILE.splitlines()
    for number, key in {
        6: "thickness",
        18: "lines",
        25: "holes",
        29: "colour",
        31: "load_factor",
        32: "purpose",
    }.items():
        assert number in told, done.err
        assert key in lines[number - 1]
        assert key in told[number]
    assert "may be one size or two" in told[18]
    assert "accepted: coating, grade" in told[29]
    for word in ("tuple", "datetime", "dict", "valid", "input should"):
        assert word not in done.err.lower()
