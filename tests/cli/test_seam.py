"""`jointcalc seam` as another program and as a person meets it."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from collections.abc import Callable
from itertools import pairwise
from math import isfinite
from pathlib import Path
from typing import Any

import pytest

import jointcalc
from jointcalc.tables.store import load

PACKAGE_PLACE = Path(jointcalc.__file__).resolve().parents[1]

CONTRACT = [
    "seam", "--sheet", "1.2 mm", "--sheet", "1.2 mm", "--grade", "DC04", "--weld-diameter", "5.5 mm", "--pitch", "40 mm",
    "--length", "1200 mm", "--edge", "9 mm", "--shear", "12 kN",
]  # fmt: skip

METRIC = [
    "seam", "--sheet", "1.2141200 mm", "--sheet", "1.5189200 mm", "--grade", "A1008 SS Gr 33", "--weld-diameter", "6.35 mm",
    "--pitch", "38.1 mm", "--length", "1219.2 mm", "--edge", "12.7 mm", "--shear", "12010.19836121935 N",
    "--across", "1334.46648457815 N", "--peel", "444.82216152605 N",
]  # fmt: skip
INCH = [
    "seam", "--sheet", "18 ga", "--sheet", "0.0598 in", "--grade", "A1008 SS Gr 33", "--weld-diameter", "1/4 in",
    "--pitch", "1-1/2 in", "--length", "4 ft", "--edge", '1/2"', "--shear", "2.7 kip", "--across", "300 lbf",
    "--peel", "100 lbf",
]  # fmt: skip


def with_(argv: list[str], **options: str | None) -> list[str]:
    """The command with options replaced, added, or (None) taken out."""
    told = list(argv)
    for name, value in options.items():
        option = "--" + name.replace("_", "-")
        while option in told:
            at = told.index(option)
            del told[at : at + 2]
        if value is not None:
            told += [option, value]
    return told


def document(answer: Any) -> dict[str, Any]:
    assert answer.err == ""
    found = json.loads(answer.out, parse_constant=lambda word: pytest.fail(f"{word} in JSON"))
    assert isinstance(found, dict)
    return found


AMOUNT = {"value", "unit"}


def hold_contract(found: dict[str, Any]) -> None:
    """Keys and types of the contract, finite numbers, values with units."""
    assert set(found) >= {"jointcalc", "kind", "id", "status", "governing", "checks", "values", "cautions"}
    assert re.fullmatch(r"\d+\.\d+\.\d+", found["jointcalc"])
    assert found["status"] in ("ok", "over", "outside")
    keys = [c["key"] for c in found["checks"]]
    assert len(keys) == len(set(keys))
    assert found["governing"] is None or found["governing"] in keys
    for check in found["checks"]:
        assert set(check) == {
            "key", "title", "source", "per", "capacity", "demand", "safety_factor", "required_factor", "utilisation",
            "status", "note", "steps",
        }  # fmt: skip
        assert re.fullmatch(r"[a-z0-9.-]+", check["key"])
        assert check["per"] in ("spot", "seam", "weld", "fastener", "group", "member", "mm")
        assert check["status"] in ("ok", "over", "outside", "info")
        assert check["title"]
        assert check["source"]
        assert isinstance(check["note"], str)
        for name in ("capacity", "demand"):
            assert check[name] is None or set(check[name]) == AMOUNT
        for name in ("safety_factor", "required_factor", "utilisation"):
            assert check[name] is None or (isinstance(check[name], float | int) and isfinite(check[name]))
        if check["status"] in ("ok", "over") and check["safety_factor"]:
            capacity, demand = check["capacity"], check["demand"]
            assert capacity["unit"] == demand["unit"]
            assert check["safety_factor"] == pytest.approx(capacity["value"] / demand["value"])
            assert check["utilisation"] == pytest.approx(check["required_factor"] / check["safety_factor"])
        if check["status"] == "outside":
            assert check["note"]
        for step in check["steps"]:
            assert set(step) == {"symbol", "expression", "substituted", "value", "unit", "source"}
            assert isinstance(step["value"], float | int)
            assert step["symbol"]
            assert step["expression"]
    for amount in found["values"].values():
        assert set(amount) == AMOUNT
        assert amount["unit"]
    for caution in found["cautions"]:
        assert set(caution) == {"code", "severity", "text"}
        assert caution["severity"] in ("stop", "warn", "note")
        assert caution["text"]
        assert "{" not in caution["text"]


def test_the_contract_command(cli: Callable[..., Any]) -> None:
    answer = cli(*CONTRACT, "--json")
    assert answer.code == 0
    found = document(answer)
    hold_contract(found)
    assert (found["kind"], found["id"], found["status"]) == ("spot_seam", "-", "ok")
    documents = {
        c["key"].split(".")[0] for c in found["checks"] if c["status"] in ("ok", "over") and c["per"] == "spot"
    }
    assert {"en1993-1-3", "aisi-s100", "d8", "handbook", "sawhill-baker", "mil-hdbk-5"} <= documents
    tearing = next(c for c in found["checks"] if c["key"] == "en1993-1-3.tearing")
    # 2.7 sqrt(1.2) x 5.5 x 270, coefficients of EN 1993-1-3 Table 8.4 from memory
    assert tearing["capacity"] == {"value": pytest.approx(4392.187, abs=1e-3), "unit": "N"}
    assert tearing["demand"] == {"value": 400.0, "unit": "N"}
    assert tearing["steps"][0]["expression"] == "2.7·√t·d_s·f_u"
    assert tearing["steps"][0]["substituted"] == "2.7·√1.2·5.5·270"
    assert "EN 1993-1-3:2006" in tearing["source"]
    assert {k: found["values"][k] for k in ("spots", "pitch", "spot_diameter", "shear_per_spot", "across_per_spot", "peel_per_spot")} == {
        "spots": {"value": 30.0, "unit": "1"}, "pitch": {"value": 40.0, "unit": "mm"},
        "spot_diameter": {"value": 5.5, "unit": "mm"}, "shear_per_spot": {"value": 400.0, "unit": "N"},
        "across_per_spot": {"value": 0.0, "unit": "N"}, "peel_per_spot": {"value": 0.0, "unit": "N"},
    }  # fmt: skip


def test_inch_twin_agrees(cli: Callable[..., Any]) -> None:
    """18 ga cold-rolled is 0.0478 in = 1.21412 mm (manufacturers' standard gauge); inch and pound-force are exact."""
    metric, inch = document(cli(*METRIC, "--json")), document(cli(*INCH, "--json", "--units", "inch"))
    hold_contract(metric)
    hold_contract(inch)
    assert metric["status"] == inch["status"]
    assert metric["governing"] == inch["governing"]
    assert [c["key"] for c in metric["checks"]] == [c["key"] for c in inch["checks"]]
    for a, b in zip(metric["checks"], inch["checks"], strict=True):
        assert a["status"] == b["status"], a["key"]
        for name in ("safety_factor", "required_factor", "utilisation"):
            assert a[name] == (b[name] if b[name] is None else pytest.approx(b[name], rel=1e-9)), a["key"]
        for name in ("capacity", "demand"):
            if a[name] is not None:
                assert a[name]["unit"] == b[name]["unit"]
                assert a[name]["value"] == pytest.approx(b[name]["value"], rel=1e-9), a["key"]
        for s, r in zip(a["steps"], b["steps"], strict=True):
            assert s["value"] == pytest.approx(r["value"], rel=1e-9)
    for name, amount in metric["values"].items():
        assert amount["value"] == pytest.approx(inch["values"][name]["value"], rel=1e-9, abs=1e-12), name
        assert amount["unit"] == inch["values"][name]["unit"]


@pytest.mark.parametrize(
    ("change", "code", "status"),
    [
        ({}, 0, "ok"),
        ({"shear": "120 kN"}, 1, "over"),
        ({"edge": "5 mm"}, 1, "over"),
        ({"weld_diameter": "3 mm"}, 1, "outside"),
        ({"shear": "0 N"}, 0, "ok"),
        ({"shear": "-12 kN"}, 0, "ok"),
        ({"shear": None}, 0, "ok"),
    ],
)
def test_exit_codes_follow_the_status(say: Callable[..., Any], change: dict[str, Any], code: int, status: str) -> None:
    answer = say(*with_(CONTRACT, **change), "--json")
    found = document(answer)
    hold_contract(found)
    assert (answer.code, found["status"]) == (code, status)
    assert say(*with_(CONTRACT, **change)).code == code


def test_count_is_the_pitch_told_otherwise(say: Callable[..., Any]) -> None:
    by_pitch = document(say(*CONTRACT, "--json"))
    by_count = document(say(*with_(CONTRACT, pitch=None, count="30"), "--json"))
    assert by_pitch["checks"] == by_count["checks"]
    assert by_pitch["values"] == by_count["values"]


def test_grades_and_coatings_per_sheet(say: Callable[..., Any]) -> None:
    told = [
        *with_(CONTRACT, grade=None),
        "--grade",
        "DC04",
        "--grade",
        "HC340LA",
        "--coating",
        "none",
        "--coating",
        "Z140",
    ]
    found = document(say(*told, "--json"))
    tearing = next(c for c in found["checks"] if c["key"] == "en1993-1-3.tearing")
    # steel of the coated sheet: 1.2 - 140/7140 mm
    assert tearing["capacity"]["value"] == pytest.approx(2.7 * (1.2 - 140 / 7140) ** 0.5 * 5.5 * 270)
    assert "zinc-fume" in {c["code"] for c in found["cautions"]}


def test_gauge_follows_the_coating(say: Callable[..., Any]) -> None:
    """18 ga is 0.0478 in bare and 0.0516 in galvanised (manufacturers' and galvanised sheet gauges)."""

    def tearing_thickness(*coating: str) -> float:
        found = document(say(*with_(CONTRACT, sheet=None), "--sheet", "18 ga", "--sheet", "18 ga", *coating, "--json"))
        ratio = next(c for c in found["checks"] if c["key"] == "detail.stack-total")["demand"]["value"]
        return float(ratio) / 2

    assert tearing_thickness() == pytest.approx(0.0478 * 25.4)
    assert tearing_thickness("--coating", "G90") == pytest.approx(0.0516 * 25.4)


# --- what a person reads ---------------------------------------------------------------------------------------------


def test_the_answer_stands_last_within_80_columns(cli: Callable[..., Any]) -> None:
    answer = cli(*CONTRACT, "--full")
    lines = answer.out.splitlines()
    assert max(map(len, lines)) <= 80
    order = [
        next(i for i, text in enumerate(lines) if text.startswith(word))
        for word in ("method", "Outside", "Detailing", "warn:", "HOLDS", "first to give: spots pull off sideways")
    ]
    assert order == sorted(order)
    # 2563 N / 400 N = 6.40 against 1.25 x 1.5 = 1.875, rounded up
    assert "safety factor 6.40" in lines[order[4]]
    assert "required 1.88" in lines[order[4]]
    assert "d8.1m.shear-tension" in "\n".join(lines[order[5] :])
    assert order[0] < 12
    assert "\x1b" not in answer.out
    table = lines[order[0] : order[1]]
    assert "factor" in table[0]
    assert any("Tearing and bearing" in row and "4392 N" in row and "10.98" in row for row in table)
    assert "…" not in table[0]


def test_a_failing_seam_says_so_where_it_is_seen(say: Callable[..., Any]) -> None:
    end = say(*with_(CONTRACT, shear="120 kN")).out.splitlines()[-15:]
    assert any(line.startswith("DOES NOT HOLD") and "0.64" in line for line in end)
    assert any(line.startswith("gives way: ") for line in end)
    end = say(*with_(CONTRACT, weld_diameter="3 mm")).out.splitlines()[-15:]
    assert any(line.startswith("CANNOT BE JUDGED") for line in end)


def test_units_of_the_printed_answer(say: Callable[..., Any]) -> None:
    inch = say(*INCH, "--units", "inch").out
    assert " in" in inch
    assert " lbf" in inch
    assert " mm lap" not in inch
    # JSON stays in N and mm whatever is shown
    assert document(say(*INCH, "--json", "--units", "inch"))["values"]["pitch"] == {
        "value": pytest.approx(38.1),
        "unit": "mm",
    }


def test_steps_print_the_working(say: Callable[..., Any]) -> None:
    out = re.sub(r"\s+", " ", say(*CONTRACT, "--steps").out)
    assert "F_tb = 2.7·√t·d_s·f_u = 2.7·√1.2·5.5·270 = 4392 N" in out
    assert "EN 1993-1-3:2006 Table 8.5 (from memory)" in out
    assert "2.7·√t" not in say(*CONTRACT).out


def test_drawing_is_to_scale(say: Callable[..., Any]) -> None:
    """Six spots at 200 mm in 1200 mm: equal distances, half a pitch at both ends."""
    out = say(*with_(CONTRACT, pitch="200 mm", shear="1 kN")).out
    row = next(line for line in out.splitlines() if re.search(r"\|.*o.*\|", line))
    inside = row[row.index("|") + 1 : row.rindex("|")]
    at = [i for i, c in enumerate(inside) if c == "o"]
    assert len(at) == 6
    gaps = [b - a for a, b in pairwise(at)]
    assert max(gaps) - min(gaps) <= 1
    assert at[0] + 0.5 == pytest.approx(len(inside) / 12, abs=1)
    two = say(*with_(CONTRACT, rows="2", row_spacing="25 mm", lap="50 mm")).out
    assert len([line for line in two.splitlines() if re.search(r"\|.*o.*\|", line)]) == 2


# --- the inverse -----------------------------------------------------------------------------------------------------


def status_at(say: Callable[..., Any], **change: str) -> str:
    return str(document(say(*with_(CONTRACT, **change), "--json"))["status"])


def test_find_pitch_holds_and_the_next_does_not(say: Callable[..., Any]) -> None:
    told = with_(CONTRACT, shear="40 kN", pitch=None)
    answer = say(*told, "--find", "pitch", "--json")
    assert answer.code == 0
    found = document(answer)
    hold_contract(found)
    pitch = found["values"]["found"]["value"]
    assert found["values"]["found"]["unit"] == "mm"
    assert found["values"]["pitch"]["value"] == pitch
    assert found["status"] == "ok"
    # EN 1993-1-3 Table 8.4 ends at 8 d_s = 44 mm along the load: no pitch beyond it is offered while it is shown to hold
    assert pitch <= 44
    assert status_at(say, shear="40 kN", pitch=f"{pitch} mm") == "ok"
    text = say(*told, "--find", "pitch").out
    assert "Found pitch" in text
    assert "margin" in text
    heavy = document(say(*with_(told, shear="55 kN"), "--find", "pitch", "--json"))
    assert heavy["values"]["found"]["value"] <= pitch
    assert heavy["values"]["found"]["value"] + 5 > 0


def test_find_pitch_is_the_largest(say: Callable[..., Any]) -> None:
    """Floor of the automotive standard 2563 N / 1.875 a spot: 50 kN need 36.6, so 37 spots in 1200 mm, pitch 32.4 mm."""
    told = with_(CONTRACT, shear="50 kN", pitch=None)
    found = document(say(*told, "--find", "pitch", "--json"))
    assert found["values"]["found"]["value"] == 30.0  # the practical size below 32 mm
    text = re.sub(r"\s+", " ", say(*told, "--find", "pitch").out)
    assert "largest that holds 32 mm" in text
    assert status_at(say, shear="50 kN", pitch="32 mm") == "ok"
    assert status_at(say, shear="50 kN", pitch="33 mm") == "over"


def test_find_weld_diameter(say: Callable[..., Any]) -> None:
    """38 kN on 30 spots is 1267 N: pull-out 2.5 x 1.2 x d x 270 / 3 = 270 d needs 4.69 mm, so 5.0 in steps of 0.5."""
    found = document(say(*with_(CONTRACT, shear="38 kN"), "--find", "weld-diameter", "--json"))
    assert found["values"]["found"] == {"value": 5.0, "unit": "mm"}
    assert found["values"]["spot_diameter"]["value"] == 5.0
    assert found["status"] == "ok"
    assert status_at(say, shear="38 kN", weld_diameter="4.5 mm") == "over"


def test_find_thickness(say: Callable[..., Any]) -> None:
    told = with_(CONTRACT, shear="60 kN", weld_diameter="target")
    found = document(say(*told, "--find", "thickness", "--json"))
    t = found["values"]["found"]["value"]
    stock = sorted(
        {r.need("t") for r in load("stock_thickness").rows if (r["series"], r["family"]) == ("metric", "steel")}
    )
    assert t in stock
    assert t > 1.2
    assert found["status"] == "ok"
    before = stock[stock.index(t) - 1]
    thin = [*with_(told, sheet=None), "--sheet", f"{before} mm", "--sheet", f"{before} mm", "--json"]
    assert document(say(*thin))["status"] != "ok"


@pytest.mark.parametrize(
    ("change", "find", "words"),
    [
        ({"shear": "2000 kN"}, "pitch", "no pitch holds"),
        ({"shear": "2000 kN"}, "weld-diameter", "no spot diameter"),
        ({"shear": "9000 kN"}, "thickness", "no stock thickness"),
        ({}, "pich", "did you mean 'pitch'"),
        ({}, "gauge", "pitch, weld-diameter, thickness"),
        ({"length": "1,2 m"}, "pitch", "comma"),
        ({"edge": "1 mm"}, "pitch", "--edge"),
        ({"edge": "1 mm"}, "weld-diameter", "--edge"),
    ],
)
def test_find_refuses(say: Callable[..., Any], change: dict[str, Any], find: str, words: str) -> None:
    answer = say(*with_(CONTRACT, **change), "--find", find, "--json")
    assert answer.code == 2, answer.out[-300:]
    assert answer.out == ""
    assert words in answer.err
    assert answer.err.startswith("jointcalc: ")


# --- start-up --------------------------------------------------------------------------------------------------------


def test_no_heavy_module_is_loaded() -> None:
    """pint alone costs a fifth of a second; none of these has work to do in this command."""
    code = (
        "import sys\n"
        "from jointcalc.cli.main import run\n"
        "try:\n    run(sys.argv[1:])\n"
        "except SystemExit as stop:\n    assert stop.code == 0, stop.code\n"
        "print('LOADED', *[m for m in ('pint', 'scipy', 'matplotlib', 'ezdxf', 'typst', 'sympy', 'shapely', 'skfem')"
        " if m in sys.modules])\n"
    )
    for extra in ([], ["--json"], ["--steps"], ["--find", "pitch"]):
        done = subprocess.run(
            [sys.executable, "-c", code, *CONTRACT, *extra],
            capture_output=True,
            text=True,
            check=False,
            cwd=PACKAGE_PLACE,
        )
        assert done.returncode == 0, done.stderr
        assert done.stdout.rstrip().splitlines()[-1] == "LOADED"
