"""What the terminal shows: the verdict in sight, one line an item, nothing cut at any width, details on demand.

The widths and the length of a screen are facts of terminals (80 by 24 to 40 lines; common practice, no source).  What is
printed is held against the results it is printed from, and each width against the others.
"""

from __future__ import annotations

import contextlib
import io
import json
import os
import re
import shlex
from functools import cache
from pathlib import Path
from typing import get_args
from unittest.mock import patch

import pytest

from jointcalc.check import check
from jointcalc.model.project import load_project
from jointcalc.quantity.show import percent
from jointcalc.result.plain import plain

HERE = Path(__file__).parent
EIGHT = f"check {HERE / 'eight.toml'}"
WIDTHS = (40, 80, 200)
SCREEN = 40

SHEET = '--sheet "1.2 mm" --sheet "1.2 mm" --grade DC04'
HAT = "top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm"
SPAN = '--grade S355MC --span "1000 mm" --point "750 N @ 500 mm" --over webs --held both --lies crown-up'
SINGLE = {
    "seam": f'seam {SHEET} --weld-diameter "5.5 mm" --pitch "40 mm" --length "1200 mm" --edge "9 mm" --shear "12 kN"',
    "seam over": f'seam {SHEET} --weld-diameter "5.5 mm" --pitch "40 mm" --length "1200 mm" --edge "9 mm" '
    '--shear "120 kN"',
    "seam idle": f'seam {SHEET} --weld-diameter "5.5 mm" --pitch "40 mm" --length "1200 mm" --edge "9 mm"',
    "plug": f'plug {SHEET} --hole "8 mm" --count 6 --length "210 mm" --edge "14 mm" --filler ER70S-6 --shear "5 kN"',
    "fillet": 'fillet --line "0 0 100 0 mm" --leg "5 mm" --sheet "3 mm" --grade S355MC --filler E70 '
    '--force "0 -4 0 kN" --at "150 0 0 mm"',
    "bolts": f'bolts --hole "0 0 mm" --bolt "M8 8.8" {SHEET} --force "1 0 0.5 kN" --at "0 0 0 mm" --between "300 mm"',
    "brace": f'brace --profile "hat:{HAT}" {SPAN}',
    "mount": 'mount --foot "0 0 0 mm" --foot "300 0 0 mm" --foot "0 200 0 mm" --foot "300 200 0 mm" --mass "18 kg" '
    '--centre "150 100 120 mm" --case battery --bolt "M8 8.8" --sheet "1.5 mm" --grade DC04 '
    '--outline "-250 -250 250 250 mm" --plate "60 60 4 mm"',
}
PROFILES = (
    f"hat:{HAT}", "channel:web=50mm,flange=25mm,t=1.5mm,r=2mm", "zed:web=40mm,flange=20mm,t=1.2mm,r=2mm",
    "lipped-channel:web=60mm,flange=30mm,lip=10mm,t=1.2mm,r=2mm", "box:depth=40mm,width=30mm,t=1.5mm,r=2mm",
    f"hat-skin:{HAT},skin=120mm,skin_t=1mm,weld=9mm",
)  # fmt: skip
SIX = "brace " + " ".join(f'--profile "{one}"' for one in PROFILES) + f' {SPAN} --limit-deflection "L/160"'


@cache
def printed(line: str, width: int = 80) -> str:
    """What a command prints on a terminal of that width; each is run once."""
    from jointcalc.cli.main import _run

    out, err = io.StringIO(), io.StringIO()
    with (
        patch.dict(os.environ, {"COLUMNS": str(width)}),
        contextlib.redirect_stdout(out),
        contextlib.redirect_stderr(err),
    ):
        assert _run(shlex.split(line)) in (0, 1), err.getvalue()
    return out.getvalue()


def words(text: str) -> list[str]:
    """The words of a text, blanks and rules between lines left out; a profile too long for a line may be cut at commas."""
    return re.sub(r",\s+(?=\w+=)", ",", re.sub(r"─+", "", text)).split()


@pytest.fixture(scope="module")
def results():
    return {item.id: check(item) for item in load_project(HERE / "eight.toml").items}


# --- check -------------------------------------------------------------------------------------------


def test_the_verdict_of_eight_items_is_in_sight(results):
    lines = printed(EIGHT).splitlines()
    assert len(lines) <= SCREEN
    for name, result in results.items():
        line = next(line for line in lines if line.startswith(f"{name} "))
        words_of_verdict = {"ok": "holds", "over": "OVER", "outside": "NOT JUDGED"}
        assert words_of_verdict[result.status] in line
        assert f" {percent(result.worst.utilisation)}" in line
        assert result.title in line
        assert plain(result.worst).split()[0] in line
    used = [int(m[1]) for line in lines if (m := re.match(r"\w+  (?:holds|OVER) +(\d+) %", line))]
    assert used == sorted(used, reverse=True)
    assert len(used) == 8


def test_what_stops_the_work_names_its_item_and_other_cautions_are_counted_and_listed_once(results):
    short = printed(EIGHT)
    stops = [line for line in short.splitlines() if line.startswith("STOP")]
    assert [line.split(":")[0] for line in stops] == ["STOP  M1"]
    others = {(c.code, str(c.text)): c for r in results.values() for c in r.cautions if c.severity != "stop"}
    assert f"{len(others)} cautions" in short
    whole = " ".join(printed(f"{EIGHT} --cautions").split())
    assert len(others) > 10
    for _, text in others:
        told = " ".join(text.split())
        assert whole.count(told) == 1, text
        assert told not in " ".join(short.split())
    assert "Every item (8):" in whole
    assert "S1, S2, P1: warn: No coupon data given" in whole
    assert "--cautions" not in whole


def test_details_and_thin_sheet_are_printed_on_demand_above_the_table():
    plain_lines = printed(EIGHT).splitlines()
    full = printed(f"{EIGHT} --full").splitlines()
    assert full[-5:] == plain_lines[-5:]
    assert any("[sheet-bending.fastener.2]: has" in line for line in full)
    assert not any("has 0." in line for line in plain_lines)


@pytest.mark.parametrize("options", ["", " --cautions", " --full"])
def test_no_word_is_cut_at_any_width(options):
    shown = {width: printed(EIGHT + options, width) for width in WIDTHS}
    for width, text in shown.items():
        assert max(map(len, text.splitlines())) <= width
        assert "…" not in text
    # the same words in the same order, wherever the lines end
    assert words(shown[40]) == words(shown[80]) == words(shown[200])


def test_no_measure_is_parted_from_its_unit():
    for width in WIDTHS:
        for text in (printed(f"{EIGHT} --cautions", width), printed(SINGLE["seam"] + " --full", width)):
            for line, following in zip(text.splitlines(), text.splitlines()[1:]):
                parted = re.search(r"[0-9]$", line) and re.match(r"\s*(%|mm|N|kN|MPa|kg)\b", following)
                assert not parted, (line, following)


def test_of_many_items_those_that_do_not_hold_are_named_under_the_table(tmp_path):
    text = (HERE / "eight.toml").read_text(encoding="utf-8")
    seam = text[text.index("[[seam]]") : text.index("[[seam]]", text.index("[[seam]]") + 5)]
    more = "".join(seam.replace('"S1"', f'"T{n}"').replace('"9 kN"', f'"{100 + n} kN"') for n in range(25))
    (tmp_path / "project.toml").write_text(text[: text.index("[[seam]]")] + more, encoding="utf-8")
    end = " ".join(printed(f"check {tmp_path}").splitlines()[-14:])
    assert "not holding, the worst first: T24, T23, T22" in end
    assert "and 13 more" in end


def test_the_demo_shows_its_verdicts_on_a_screen_and_what_is_not_judged_above_them(tmp_path):
    printed(f"new {tmp_path / 'demo'} --demo")
    lines = printed(f"check {tmp_path / 'demo'}").splitlines()
    first = next(n for n, line in enumerate(lines) if re.match(r"\w+ +(holds|OVER)", line))
    assert len(lines) - first < SCREEN
    assert [n for n, line in enumerate(lines) if line.startswith("not judged  ")][-1] < first


def test_a_load_that_is_next_to_nothing_is_not_told_in_digits(tmp_path):
    printed(f"new {tmp_path / 'demo'} --demo")
    shown = printed(f"check {tmp_path / 'demo'} --item S4 --units inch")
    row = next(line for line in shown.splitlines() if line.startswith("Least shear-tension strength"))
    assert re.search(r" lbf < 0\.01 lbf > 1000 +1\.88 +1 %", row)
    # a level force across a row that runs the other way: its sine and cosine leave a part in 10^16 of it along the row
    assert not re.search(r"\d{8}|\de-\d\d", re.sub(r"\[.*?\]", "", shown))


def test_an_item_without_a_load_is_not_said_to_hold(tmp_path):
    text = (HERE / "eight.toml").read_text(encoding="utf-8")
    seam = text[: text.index("[[seam]]", text.index("[[seam]]") + 5)].replace('shear = "9 kN"\n', "")
    (tmp_path / "project.toml").write_text(seam, encoding="utf-8")
    shown = printed(f"check {tmp_path}")
    assert "S1  no load" in shown
    assert "1 item: 0 hold, 1 has no load" in shown


# --- single items ------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", SINGLE)
def test_an_answer_fits_a_screen_and_ends_in_its_verdict(name):
    lines = printed(SINGLE[name]).splitlines()
    # a thing on feet is drawn, and each foot's forces stand in a table
    assert len(lines) <= SCREEN + (24 if name == "mount" else 12)
    end = "\n".join(lines[-18:])
    assert re.search("^(HOLDS|DOES NOT HOLD|NO LOAD GIVEN) ", end, re.MULTILINE)
    assert ("first to give: " in end or "gives way: " in end) == (name != "seam idle")
    assert "(--cautions tells them): " in end
    for width in WIDTHS:
        assert max(map(len, printed(SINGLE[name], width).splitlines())) <= width


def test_details_of_an_item_come_on_demand():
    short, full = printed(SINGLE["seam"]), printed(SINGLE["seam"] + " --full")
    assert "--full adds 6 more methods, 2 outside their range, 7 rules kept" in short
    for text in ("Outside their range", "Detailing:", "warn: No coupon data given"):
        assert text in full
        assert text not in short
    assert "warn: No coupon data given" in printed(SINGLE["seam"] + " --cautions")
    assert "used = needs / factor" in " ".join(short.split())
    # a rule that is broken is told without being asked for
    near = SINGLE["seam"].replace('--edge "9 mm"', '--edge "5 mm"')
    assert "BREAKS Edge distance" in printed(near)


def test_what_was_asked_of_an_item_is_told_and_not_counted():
    shown = printed(SINGLE["seam"] + " --enters along --dud-rate 0.1")
    assert "warn: With any one missing" in shown
    assert "what a missing weld costs" not in shown


def test_a_sum_is_told_in_percent_and_not_as_a_load():
    peel = SINGLE["seam"].replace('--shear "12 kN"', '--shear "6 kN" --peel "600 N" --peel-arm "12 mm"')
    row = next(line for line in printed(peel).splitlines() if line.startswith("Shear and peel together"))
    assert re.search(r"100 % +\d+ % ", row)


def test_unusual_words_are_explained_once_where_they_stand():
    shown = " ".join(printed(SINGLE["brace"]).split())
    for told in ("EI: stiffness in bending", "GJ: stiffness in twisting", "sagging: bent down", "crippling: the sides"):
        assert shown.count(told) == 1, told


# --- comparisons -------------------------------------------------------------------------------------


def test_six_profiles_are_compared_on_little_more_than_a_screen():
    lines = printed(SIX).splitlines()
    assert len(lines) <= 56
    assert max(map(len, lines)) <= 80
    items = json.loads(printed(SIX + " --json"))["items"]
    verdicts = lines[next(n for n, line in enumerate(lines) if "first to give" in line) :]
    table = lines[next(n for n, line in enumerate(lines) if "deflec" in line) :]
    for letter, item in zip("ABCDEF", items, strict=True):
        governs = next(c for c in item["checks"] if c["key"] == item["governing"])
        row = next(line for line in verdicts if line.startswith(f"{letter} "))
        assert percent(governs["utilisation"]) in row
        assert ("OVER" in row) == (item["status"] == "over")
        judged = next(c for c in item["checks"] if c["key"] == "limit.deflection")
        cells = next(line for line in table if line.startswith(f"{letter} ")).replace(">", "").split()
        assert any(cell == f"{judged['demand']['value']:.3g}" for cell in cells), "the deflection that is judged"
        assert "6.25" in cells, "its limit, 1000 mm / 160"
    full = printed(SIX + " --full")
    assert full.count("factor = carries / load") == 6


def test_a_comparison_stands_in_blocks_on_a_narrow_screen():
    lines = printed(SIX, 40).splitlines()
    assert max(map(len, lines)) <= 40
    assert sum(line.startswith("A   ") for line in lines) >= 3


# --- help --------------------------------------------------------------------------------------------

LOADS = ("force", "moment", "pressure", "line load", "acceleration")
NO_LOADS = {"insert_tension", "insert_shear", "stiffness"}
"""Forces that are a maker's strength, and a stiffness."""


def kinds_of(annotation, metadata=()):
    """The kinds of quantity that a field takes."""
    found = [part.kind for part in (*metadata, *getattr(annotation, "__metadata__", ())) if hasattr(part, "kind")]
    return found + [kind for inner in get_args(annotation) for kind in kinds_of(inner)]


@pytest.mark.parametrize("name", ["seam", "fillet", "plug", "bolts", "brace", "panel", "mount"])
def test_options_stand_in_groups(name):
    from typer.main import get_command

    from jointcalc.cli.main import _app
    from jointcalc.cli.options import ANSWER, GROUPS, JOINT, LOAD
    from jointcalc.registry import KINDS, load

    model = load(KINDS[name].model)
    assert model.loading | model.judging <= set(model.model_fields)
    assert not model.loading & model.judging
    group = {
        p.name: p.rich_help_panel or ANSWER for p in get_command(_app(name)).commands[name].params if p.name != "help"
    }
    assert set(group.values()) == set(GROUPS)
    forces = [
        field
        for field, about in model.model_fields.items()
        if field in group
        and field not in NO_LOADS
        and any(k in LOADS for k in kinds_of(about.annotation, about.metadata))
    ]
    assert forces
    assert {group[field] for field in forces} == {LOAD}, forces
    assert group.get("sheet", JOINT) == JOINT
    page = printed(f"{name} --help")
    assert [page.index(f"\n{one}:\n") for one in GROUPS] == sorted(page.index(f"\n{one}:\n") for one in GROUPS)
