"""`jointcalc coupons`: the log as a spreadsheet writes it, what it shows, and writers that do not lose one another."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from conftest import PACKAGE_PLACE

from jointcalc.check.coupons import check_group
from jointcalc.errors import InputError
from jointcalc.model.coupon_add import add
from jointcalc.model.coupon_log import COLUMNS, HEADER, Coupon, parse_log, read_date, read_log, read_stack, written
from tests.validation.cases.coupons import S18

STACK = "2 x 1.2 mm DC04"


def log_of(loads: Any, *, days: Any = (), stack: str = STACK, test: str = "shear", button: str = "5.6") -> str:
    rows = [
        f"{days[n] if days else '2026-05-02'},gun A,9 kA,{stack},{test},{button},{load},button,"
        for n, load in enumerate(loads)
    ]
    return "\n".join([HEADER, *rows, ""])


def parsed(text: str | bytes) -> Any:
    return parse_log(text.encode() if isinstance(text, str) else text, name="c.csv")


def shown(command: Any, place: Path, text: str, *options: str) -> Any:
    file = place / "c.csv"
    file.write_text(text, encoding="utf-8")
    return command("coupons", "show", str(file), *options)


def values(answer: Any) -> dict[str, Any]:
    return {name: one["value"] for name, one in json.loads(answer.out)["values"].items()}


# --- what a log shows ---------------------------------------------------------------------------------------------------


def test_published_limits_come_out_of_a_file(say: Any, tmp_path: Path) -> None:
    """CMH-17-1G, its programs' results on 18 strengths (second-hand), here in hundredths of a kilonewton."""
    answer = shown(say, tmp_path, log_of([f"{100 * x:.2f}" for x in S18]), "--json")
    found = values(answer)
    assert answer.err == ""
    assert found["n"] == 18
    assert found["mean"] == pytest.approx(14191.8, abs=0.1)
    assert found["deviation"] == pytest.approx(639.79, abs=0.1)
    for name, published in (
        ("normal_90_95", 129.287), ("normal_99_95", 120.336), ("lognormal_90_95", 129.664), ("weibull_90_95", 125.441),
        ("rank_90_95", 124.156),
    ):  # fmt: skip
        assert found[name] == pytest.approx(100 * published, rel=2e-4)
    whole = json.loads(answer.out)
    assert whole["kind"] == "coupons"
    assert whole["status"] == "ok"
    assert answer.code == 0
    assert found["anova_90_95"] is None
    assert "one batch" in whole["values"]["anova_90_95"]["note"]
    assert whole["tests"]["anderson_darling"]["significance"] > 0.05


def test_batches_are_the_days(say: Any, tmp_path: Path) -> None:
    """Three days that differ: the limit over batches lies under the pooled one, and the tests by name say so."""
    loads = [9000, 9010, 9005, 9020, 8000, 8010, 8015, 8005, 8500, 8510, 8505, 8490]
    days = [f"2026-05-{d:02d}" for d in (2, 9, 16) for _ in range(4)]
    answer = shown(say, tmp_path, log_of(loads, days=days), "--json")
    document = json.loads(answer.out)
    found = values(answer)
    assert found["anova_90_95"] is None or found["anova_90_95"] < found["normal_90_95"]
    assert document["tests"]["k_sample_anderson_darling"]["differ"]
    assert document["tests"]["f_test"]["significance"] < 1e-6
    assert "coupons-differ" in {c["code"] for c in document["cautions"]}


def test_worn_tips_are_told(say: Any, tmp_path: Path) -> None:
    loads = [9000, 8900, 8850, 8700, 8600, 8550, 8420, 8300]
    days = [f"2026-05-{d:02d}" for d in range(1, 9)]
    document = json.loads(shown(say, tmp_path, log_of(loads, days=days), "--json").out)
    assert document["tests"]["trend"]["falling"]
    assert "coupons-fall" in {c["code"] for c in document["cautions"]}
    plain = shown(say, tmp_path, log_of(loads, days=days)).out
    assert "FALLING" in plain


def test_too_few_are_no_conclusion(say: Any, tmp_path: Path) -> None:
    answer = shown(say, tmp_path, log_of([8900, 8800]), "--json")
    assert answer.code == 1
    document = json.loads(answer.out)
    assert document["status"] == "outside"
    assert document["values"]["more_needed"]["value"] == 1
    assert document["values"]["weibull_90_95"]["value"] is None
    assert "1 more" in document["values"]["weibull_90_95"]["note"]
    plain = shown(say, tmp_path, log_of([8900, 8800]))
    assert "NO CONCLUSION" in plain.out
    assert "at least 1 more is needed" in plain.out
    wild = shown(say, tmp_path, log_of([900, 8800, 5000]))
    assert wild.code == 1
    assert "scatter so much" in " ".join(wild.out.split())


def test_a_mean_below_the_handbook_is_loud(say: Any, tmp_path: Path) -> None:
    """AISI S100 gives 5.51 x 1.2^1.47 = 7.204 kN for such a spot (from memory)."""
    loads = [6000, 6100, 5900, 6050, 5950, 6020]
    answer = shown(say, tmp_path, log_of(loads), "--json")
    document = json.loads(answer.out)
    told = next(c for c in document["cautions"] if c["code"] == "coupon-mean-low")
    assert told["severity"] == "warn"
    assert document["values"]["handbook"]["value"] >= 5510 * 1.2**1.47 * 0.9999
    good = json.loads(shown(say, tmp_path, log_of([x + 4000 for x in loads]), "--json").out)
    assert "coupon-mean-low" not in {c["code"] for c in good["cautions"]}


def test_kilonewtons_in_a_column_of_newtons_are_asked_about(say: Any, tmp_path: Path) -> None:
    document = json.loads(shown(say, tmp_path, log_of([8.9, 9.1, 9.0, 8.8]), "--json").out)
    assert "coupon-loads-small" in {c["code"] for c in document["cautions"]}


def test_variation_known_beforehand(say: Any, tmp_path: Path) -> None:
    """EN 1990 Tables D1 and D2 at n = 6: k_n 1.77 and 2.18, k_d 3.33 and 6.36 (D2 from memory)."""
    found = values(shown(say, tmp_path, log_of([8910, 9420, 9050, 8630, 9200, 8790]), "--json"))
    s = found["deviation"]
    assert found["en1990_characteristic_known"] == pytest.approx(9000 - 1.77 * s, abs=0.01 * s)
    assert found["en1990_characteristic"] == pytest.approx(9000 - 2.18 * s, abs=0.01 * s)
    assert found["en1990_design_known"] == pytest.approx(9000 - 3.33 * s)
    assert found["en1990_design"] == pytest.approx(9000 - 6.36 * s)


def test_a_small_button_fails_its_mark(say: Any, tmp_path: Path) -> None:
    """4 √1.2 = 4.38 mm (AWS D8.1M, from memory)."""
    answer = shown(say, tmp_path, log_of(["", "", ""], test="peel", button="4.3"), "--json")
    document = json.loads(answer.out)
    assert answer.code == 1
    assert document["status"] == "over"
    assert document["values"]["n"]["value"] == 0
    assert document["values"]["mean"]["value"] is None
    assert "no load" in document["values"]["mean"]["note"]
    assert "coupons-under-mark" in {c["code"] for c in document["cautions"]}
    good = shown(say, tmp_path, log_of(["", "", ""], test="peel", button="4.4"), "--json")
    assert good.code == 0
    section = shown(say, tmp_path, log_of(["", "", ""], test="section", button="4.4"), "--json")
    assert section.code == 0


def test_arc_welds_are_held_against_no_spot_s_mark(say: Any, tmp_path: Path) -> None:
    text = log_of([9000, 9100, 9200], button="4").replace("9 kA", "plug 8 mm hole")
    answer = shown(say, tmp_path, text, "--json")
    document = json.loads(answer.out)
    assert answer.code == 0
    assert not [c for c in document["checks"] if c["key"].startswith("d8.1m")]
    assert "handbook" not in document["values"]


def test_several_groups_stand_in_items(say: Any, tmp_path: Path) -> None:
    text = log_of([9000, 9100, 9200]) + "2026-05-02,Gun  a,9 KA,1.2+1.2 DC04,shear,5.5,9050,button,\n"
    one = json.loads(shown(say, tmp_path, text, "--json").out)
    assert one["values"]["n"]["value"] == 4  # another writing of the same names
    text += "2026-05-02,gun A,9 kA,2 x 1.2 mm DC04,peel,5.5,,button,\n"
    answer = shown(say, tmp_path, text, "--json")
    document = json.loads(answer.out)
    assert [item["test"] for item in document["items"]] == ["shear", "peel"]
    assert document["values"]["n"]["value"] == 4
    assert document["status"] == "outside"
    text += "2026-05-02,gun B,9 kA,2 x 1.2 mm DC04,shear,5.5,9000,button,\n"
    document = json.loads(shown(say, tmp_path, text, "--json").out)  # another machine: a batch of its own
    assert document["values"]["n"]["value"] == 5
    text += "2026-05-02,gun B,9 kA,2 x 1.2 mm DC04,cross,5.5,4000,button,\n"
    assert "values" not in json.loads(shown(say, tmp_path, text, "--json").out)


def test_settings_are_batches_of_all_together(say: Any, tmp_path: Path) -> None:
    """By hand: the same numbers as one-way analysis of variance over days gives (CMH-17 8.3.5)."""
    loads = [9000, 9100, 8900, 8600, 8700, 8750, 8800, 8850, 8990]
    days = [f"2026-05-{d:02d}" for d in (2, 9, 16) for _ in range(3)]
    by_day = values(shown(say, tmp_path, log_of(loads, days=days), "--json"))
    rows = log_of(loads).splitlines()
    settings = [row.replace("9 kA", f"{8 + (n - 1) // 3} kA") if n else row for n, row in enumerate(rows)]
    by_setting = values(shown(say, tmp_path, "\n".join(settings), "--json"))
    assert by_setting["anova_90_95"] == pytest.approx(by_day["anova_90_95"])
    assert "all 9 loads" in shown(say, tmp_path, "\n".join(settings)).out


def test_units_and_svg(say: Any, tmp_path: Path) -> None:
    picture = tmp_path / "c.svg"
    answer = shown(say, tmp_path, log_of([9000, 9100, 9200, 8800]), "--units", "inch", "--svg", str(picture))
    assert "lbf" in answer.out
    assert " N" not in answer.out.replace(" NO", "")
    drawn = picture.read_text(encoding="utf-8")
    assert drawn.startswith("<?xml")
    assert all(f'id="{name}"' in drawn for name in ("coupons", "mean", "90/95", "handbook"))
    assert shown(say, tmp_path, log_of([9000, 9100]), "--svg", "c.png").code == 2
    assert shown(say, tmp_path, log_of(["", ""], test="peel"), "--svg", str(picture)).code == 2


# --- a file as it comes -------------------------------------------------------------------------------------------------

ROW = ["2026-05-02", "gun A", "9 kA", STACK, "shear", "5.6", "8910", "button", ""]


@pytest.mark.parametrize(
    "text",
    [
        "\ufeff" + HEADER + "\r\n" + ",".join(ROW) + "\r\n\r\n,,,,,,,,\r\n",
        "sep=;\r\n" + HEADER.replace(",", ";") + "\r\n" + ";".join(ROW).replace("5.6", "5,6") + "\r\n",
        HEADER.replace(",", "\t") + "\n" + "\t".join(ROW),
        HEADER + "\n" + ",".join(f'"{cell}"' for cell in ROW),
        HEADER + '\n02.05.2026,gun A,9 kA,2 x 1.2 mm DC04,Shear,"5,6",8.91E+03,button',
        HEADER.replace(",", " , ").upper() + "\n2026/5/2,gun A,9 kA,2 x 1.2 mm DC04,SHEAR,5.60,8 910,button,\n",
        ",".join(reversed(COLUMNS)) + "\n" + ",".join(reversed(ROW)),
        HEADER + ",,\n" + ",".join(ROW) + ",,\n",
    ],
)
def test_what_spreadsheets_write_is_read(text: str) -> None:
    for raw in (text.encode(), text.lstrip("\ufeff").encode("utf-16")):
        (one,) = parsed(raw).coupons
        assert (one.date.isoformat(), one.stack, one.test) == ("2026-05-02", STACK, "shear")
        assert (one.button, one.load, one.mode) == (5.6, 8910.0, "button")


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "first line must be"),
        (HEADER, "no coupon yet"),
        (HEADER.replace(",load N", "") + "\n" + "x", "load N: the column is missing"),
        (HEADER + ",weight\n" + ",".join(ROW) + ",1", "c.csv:1: weight: unknown column"),
        ("a,b\n1,2", "names no column"),
        (f"{HEADER}\n{','.join(ROW)}\n{','.join(ROW).replace('8910', '89a0')}", "c.csv:3: load N: '89a0' is no number"),
        (f"{HEADER}\n{','.join(ROW).replace('8910', '-8910')}", "c.csv:2: load N: '-8910' is negative"),
        (f"{HEADER}\n{','.join(ROW).replace('shear', 'shaer')}", "did you mean 'shear'"),
        (f"{HEADER}\n{','.join(ROW).replace('5.6', '5,6')}", "decimal comma"),
        (f"{HEADER}\n{','.join(ROW)[:-1].replace('5.6', '5,6')}\n", "c.csv:2: mode: '8910' is a number"),
        (f"{HEADER}\n{','.join(ROW).replace('2026-05-02', '2/5/2026')}", "c.csv:2: date: '2/5/2026' may be"),
        (f"{HEADER}\n{','.join(ROW).replace('2026-05-02', '2026-02-30')}", "no day of the calendar"),
        (f"{HEADER}\n{','.join(ROW).replace('2026-05-02', 'May')}", "is no date"),
        (f"{HEADER}\n{','.join(ROW).replace('8910', 'nan')}", "is no number"),
        (f"{HEADER}\n{','.join(ROW).replace('8910', '1e300')}", "out of proportion"),
        (f"{HEADER}\n{','.join(ROW).replace('shear', 'section')}", "carries no load"),
        (f"{HEADER}\n2026-05-02,a,b,c,peel,,,,", "the line says nothing"),
        (f"{HEADER}\n2026-05-02,a,b,,peel,5,,,", "stack: is empty"),
        (f'{HEADER}\n2026-05-02,"a,b,c,peel,5,,,', "look at its quotes"),
        (f"{HEADER.replace(',', ';')}\n{';'.join(ROW).replace('5.6', '5,6').replace('8910', '8.910')}", "thousands"),
        (f"{HEADER.replace(',', ';')}\n{';'.join(ROW).replace('8910', '8,910')}", "thousands separator"),
        (b"\xff\xfe\xff", "UTF-8"),
    ],
)  # fmt: skip
def test_what_can_be_read_two_ways_is_refused(text: str | bytes, told: str) -> None:
    with pytest.raises(InputError) as fault:
        parsed(text)
    assert told in str(fault.value)


def test_all_faults_at_once_and_exit_two(say: Any, tmp_path: Path) -> None:
    bad = log_of([8900, "x", -3]).replace("gun A,9 kA,2 x 1.2 mm DC04,shear,5.6,-3", "g,s,,sheer,5.6,-3")
    answer = shown(say, tmp_path, bad, "--json")
    assert (answer.code, answer.out) == (2, "")
    for part in ("c.csv:3: load N", "c.csv:4: stack", "c.csv:4: test", "c.csv:4: load N"):
        assert part in answer.err
    assert say("coupons", "show", str(tmp_path / "none.csv")).code == 2
    assert say("coupons", "shwo", str(tmp_path)).code == 2
    assert say("coupons", "show", str(tmp_path)).code == 2
    assert "does not go with" in say("coupons", "show", str(tmp_path / "c.csv"), "--load", "3 N").err


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("1.2+1.2 DC04", "1.200 DC04 0 + 1.200 DC04 0"),
        ("2 x 1.2 mm DC04", "1.200 DC04 0 + 1.200 DC04 0"),
        ("1.2 mm DC04 Z275 + 1.5 mm S355MC", "1.200 DC04 275 + 1.500 S355MC 0"),
        ("1.2+1.2", ""),
        ("0.047 + 0.047 DC04", ""),
        ("1.2 mm DC04", ""),
        ("floor", ""),
    ],
)
def test_stacks(text: str, key: str) -> None:
    assert read_stack(text).key == key
    assert bool(read_stack(text).why) is not bool(key)


def test_dates() -> None:
    assert read_date("13/05/2026").isoformat() == "2026-05-13"
    assert read_date("2026-05-02 00:00:00").isoformat() == "2026-05-02"


# --- entering -----------------------------------------------------------------------------------------------------------


def test_add_keeps_what_is_there(say: Any, tmp_path: Path) -> None:
    file = tmp_path / "c.csv"
    args = (
        "coupons",
        "add",
        str(file),
        "--date",
        "2026-05-02",
        "--machine",
        "gun A",
        "--stack",
        STACK,
        "--test",
        "shear",
    )
    answer = say(*args, "--load", "2000 lbf", "--button", "5.5 mm", "--note", 'first, "cold"')
    assert answer.code == 0
    (one,) = read_log(file).coupons
    assert one.load == pytest.approx(8896.443)
    assert one.note == 'first, "cold"'
    old = ("\ufeff" + HEADER.replace(",", ";") + "\r\n" + ";".join(ROW).replace("5.6", "5,6")).encode()
    file.write_bytes(old)
    assert say(*args, "--load", "8.9125 kN").code == 0
    new = file.read_bytes()
    assert new == old + b"\r\n2026-05-02;gun A;;2 x 1.2 mm DC04;shear;;8912,5;;\r\n"
    assert [p.name for p in tmp_path.iterdir()] == ["c.csv"]
    for wrong in (("--load", "-3 N"), ("--load", "3"), ("--button", "x"), ("--date", "1/2/2026"), ()):
        assert say(*args[:3], *args[5:], *wrong).code == 2
    file.write_text("nonsense", encoding="utf-8")
    assert say(*args, "--load", "9 kN").code == 2
    assert file.read_text(encoding="utf-8") == "nonsense"


def test_a_coupon_reads_back_as_written() -> None:
    one = Coupon(read_date("2026-05-02"), "a;b", 'c"d', STACK, "cross", None, 0.1, " x".strip(), "é, ok", 2)
    assert parsed(f"{HEADER}\n{written(one)}\n").coupons == (one,)


WRITERS = """
import os, signal, sys, time
from pathlib import Path
from jointcalc.model.coupon_add import add
from jointcalc.model.coupon_log import Coupon, read_date
file, day = Path(sys.argv[1]), read_date("2026-05-02")
def work(name, count):
    done = open(f"{sys.argv[2]}/{name}", "a")
    for n in range(count):
        add(file, Coupon(day, "gun", name, "floor", "shear", None, 1000.0 + n))
        print(n, file=done, flush=True)
children = []
for n in range(20):
    child = os.fork()
    if child == 0:
        work(f"w{n}", 10000 if n < 5 else 3)
        os._exit(0)
    children.append(child)
for n, child in enumerate(children[:5]):
    while not (Path(sys.argv[2]) / f"w{n}").exists():
        time.sleep(0.002)
    time.sleep(0.013 * n)
    os.kill(child, signal.SIGKILL)
for child in children:
    os.waitpid(child, 0)
"""


@pytest.mark.skipif(not hasattr(os, "fork"), reason="processes of another system")
def test_twenty_writers_and_kills(tmp_path: Path) -> None:
    """Twenty at once, five of them killed without warning: every line that was entered is there once, none is torn."""
    file, done = tmp_path / "log" / "c.csv", tmp_path / "done"
    file.parent.mkdir()
    done.mkdir()
    subprocess.run(
        [sys.executable, "-c", WRITERS, str(file), str(done)],
        check=True,
        env={**os.environ, "PYTHONPATH": str(PACKAGE_PLACE)},
    )
    coupons = read_log(file).coupons
    for n in range(20):
        told = len((done / f"w{n}").read_text(encoding="utf-8").splitlines())
        found = [c.load for c in coupons if c.setting == f"w{n}"]
        assert found == [1000.0 + k for k in range(len(found))]
        # a killed one may have entered a line that it no longer told of
        assert found[told:] == [] or (n < 5 and len(found) == told + 1)
        assert told == 3 or n < 5
    add(file, Coupon(read_date("2026-05-03"), "gun", "last", "floor", "shear", None, 1.0))
    assert [p.name for p in file.parent.iterdir()] == ["c.csv"]  # what killed writers left is gone


def test_results_are_the_same_whatever_the_order() -> None:
    forward = check_group(parsed(log_of([9000, 9100, 9200, 8800])).groups[0])
    backward = check_group(parsed(log_of([8800, 9200, 9100, 9000])).groups[0])
    assert dict(forward.values) == dict(backward.values)


# --- planning -----------------------------------------------------------------------------------------------------------

PROJECT = """
[project]
title = "Plan"

[sheet.a]
thickness = "1.2 mm"
grade = "DC04"

[sheet.b]
thickness = "1.5 mm"
grade = "DC04"

[sheet.c]
thickness = "0.8 mm"
grade = "DC04"
"""


def seam_of(name: str, sheets: str, more: str = "") -> str:
    return (
        f'[[seam]]\nid = "{name}"\nsheets = {sheets}\nweld_diameter = "target"\npitch = "40 mm"\nlength = "400 mm"\n'
        f'edge = "12 mm"\nshear = "4 kN"\n{more}\n'
    )


def test_a_plan_names_each_stack_once(say: Any, tmp_path: Path) -> None:
    """4 √t (AWS D8.1M) and its floor of load; a stack is the same from either side; the ends of the range first."""
    text = PROJECT + seam_of("S1", '["a", "b"]') + seam_of("S2", '["b", "a"]', 'peel = "1 kN"\npeel_arm = "10 mm"')
    text += seam_of("S3", '["b", "b"]') + seam_of("S4", '["c", "a"]')
    text += (
        '[[plug]]\nid = "P1"\nsheets = ["a", "b"]\nhole = "8 mm"\npitch = "40 mm"\nlength = "400 mm"\nedge = "16 mm"\n'
    )
    (tmp_path / "p.toml").write_text(text, encoding="utf-8")
    out = tmp_path / "out"
    answer = say("coupons", "plan", str(tmp_path / "p.toml"), "--json", "--out", str(out))
    assert (answer.code, answer.err) == (0, "")
    document = json.loads(answer.out)
    stacks = {tuple(s["items"]): s for s in document["stacks"]}
    assert set(stacks) == {("S4",), ("S3",), ("S1", "S2"), ("P1",)}
    assert [stacks[k]["extreme"] for k in (("S4",), ("S3",), ("S1", "S2"), ("P1",))] == [
        "thinnest",
        "thickest",
        "",
        "only",
    ]
    middle = {c["test"]: c for c in stacks["S1", "S2"]["coupons"]}
    assert set(middle) == {"shear", "peel", "cross"}
    assert middle["shear"]["count"] == 6
    assert middle["shear"]["button"]["value"] == pytest.approx(4 * 1.2**0.5)
    # D8.1M at 1.2 mm and 270 MPa: 2.563 kN (reference table, from memory)
    assert middle["shear"]["load"]["value"] == pytest.approx(2563, abs=1)
    assert {c["test"] for c in stacks[("P1",)]["coupons"]} == {"shear", "section"}
    assert stacks[("P1",)]["coupons"][0]["button"]["value"] == pytest.approx(0.5 * 1.2 + 5)  # EN 1993-1-3 8.4(3)
    assert sorted(p.name for p in out.iterdir()) == sorted(document["files"])
    drawn = [name for name in document["files"] if name.startswith("shear") and name.endswith(".dxf")]
    assert drawn
    plain = say("coupons", "plan", str(tmp_path / "p.toml"))
    assert "6 shear" in plain.out
    assert say("coupons", "plan", str(tmp_path / "p.toml"), "--out", str(out), "--paper", "a3").code == 2


def test_specimens_have_the_sizes_of_the_standard() -> None:
    """ISO 14273 (from memory): sheet to 1.5 mm takes strips of 45 by 105 mm lapped 35 mm, 175 mm in all."""
    from jointcalc.check.coupon_plan import Planned, Wanted
    from jointcalc.layout.drawing import Circle, extent
    from jointcalc.layout.specimens import specimen, strip

    sheets = read_stack("1.2+2.0 DC04").sheets
    for test, size in (("shear", (175.0, 45.0)), ("peel", (105.0, 45.0)), ("cross", (150.0, 150.0))):
        wanted = Wanted(test, 6, 0, 4.38, 2563.0, "")
        drawing = specimen(Planned(sheets, "spot", ("S1",), (wanted,)), wanted, "metric")
        assert drawing is not None
        x0, y0, x1, y1 = extent(drawing.entities, work=True)
        assert (x1 - x0, y1 - y0) == pytest.approx(size)
        spots = [e for e in drawing.entities if isinstance(e, Circle) and e.layer == "SPOT"]
        assert [2 * e.r for e in spots] == [4.38]
        assert "4.38 mm" in drawing.what
    row = strip(1.6)
    assert row is not None
    assert row["width"] == "60"
    assert strip(12.0) is None


def test_a_plan_counts_what_the_log_has(say: Any, tmp_path: Path) -> None:
    log = log_of([9000, 9100], stack="1.5 mm DC04 + 1.2 mm DC04")
    (tmp_path / "c.csv").write_text(log, encoding="utf-8")
    head = PROJECT + '[coupons]\nfile = "c.csv"\nmachine = "gun A"\n'
    (tmp_path / "p.toml").write_text(head + seam_of("S1", '["a", "b"]'), encoding="utf-8")
    (stack,) = json.loads(say("coupons", "plan", str(tmp_path / "p.toml"), "--json").out)["stacks"]
    shear = stack["coupons"][0]
    assert (shear["have"], shear["missing"]) == (2, 4)


def test_coupons_that_nobody_can_have_broken_are_told(say: Any, tmp_path: Path) -> None:
    """1.2 mm DC04, 270 MPa: a strip of 45 mm (ISO 14273, from memory) at twice that carries 29.2 kN; 8 sqrt(1.2) is 8.8."""

    def codes(*loads: float, **more: Any) -> set[str]:
        document = json.loads(shown(say, tmp_path, log_of(loads, **more), "--json").out)
        return {one["code"] for one in document["cautions"]}

    told = {"coupons-alike", "coupon-loads-large", "coupon-buttons-large"}
    assert not codes(8900, 9010, 9100) & told
    assert codes(8900, 8900, 8900) & told == {"coupons-alike"}
    assert codes(8900, 9010, 29200) & told == {"coupon-loads-large"}
    assert not codes(8900, 9010, 29100) & told
    assert codes(8900, 9010, 9100, button="9") & told == {"coupon-buttons-large"}
