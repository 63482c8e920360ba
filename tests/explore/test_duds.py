"""Bad welds in a row: against rows described anew, the binomial distribution, and sums over all patterns."""

from __future__ import annotations

import json
from itertools import combinations, pairwise
from typing import Any

import numpy as np
import pytest
from scipy import stats

from jointcalc.check import check
from jointcalc.cli.main import run
from jointcalc.explore.duds import Chance, chance, duds, weakest, with_duds, without
from jointcalc.explore.reliability import wilson
from jointcalc.model.bolts import FastenerGroup
from jointcalc.model.plug import PlugRow
from jointcalc.model.seam import SpotSeam

FLOOR = {"thickness": "1.2 mm", "grade": "DC04"}
SEAM: dict[str, Any] = {
    "sheets": (FLOOR, FLOOR), "weld_diameter": "5.5 mm", "pitch": "40 mm", "length": "600 mm", "edge": "12 mm",
    "shear": "15 kN", "enters": "along",
}  # fmt: skip


def seam(**more: Any) -> SpotSeam:
    return SpotSeam(**{**SEAM, **more})


def use(item: Any) -> float:
    worst = check(item).worst
    assert worst is not None
    assert worst.utilisation is not None
    return worst.utilisation


def test_one_of_fifteen_missing_leaves_fourteen() -> None:
    item = seam()
    lost = weakest(item, check(item))
    assert lost is not None
    assert lost.alike
    # the governing method goes with the load on one spot: 15/14 more of it
    assert lost.margin == pytest.approx(1 / (use(item) * 15 / 14) - 1)
    two = weakest(item, check(item), together=2)
    assert two is not None
    assert two.margin == pytest.approx(1 / (use(item) * 15 / 13) - 1)
    assert two.numbers[1] - two.numbers[0] == 1


def test_the_weakest_of_a_loaded_end_is_found_by_trying_each() -> None:
    item = seam(enters="one-end", strip="150 mm", weld_diameter="4.4 mm", shear="2 kN")
    lost = weakest(item, check(item))
    assert lost is not None
    every = [use(item.but(missing=(n,))) for n in range(1, 16)]
    assert lost.margin == pytest.approx(1 / max(every) - 1)
    assert lost.numbers == (int(np.argmax(every)) + 1,)
    assert lost.at[0] == pytest.approx(20.0 + 40.0 * (lost.numbers[0] - 1))
    assert not lost.alike


def test_a_long_row_is_searched_by_its_shares() -> None:
    """Of 100 spots not each is judged: the place that is found leaves no more than each of a sample does."""
    item = seam(enters="one-end", strip="150 mm", weld_diameter="4.4 mm", shear="2 kN", length="4000 mm")
    lost = weakest(item, check(item))
    assert lost is not None
    assert lost.margin is not None
    for n in (1, 2, 3, 4, 7, 50, 99, 100):
        assert 1 / use(item.but(missing=(n,))) - 1 >= lost.margin - 1e-9


def test_peel_is_spared_least_beside_an_end() -> None:
    item = seam(shear="0 N", peel="400 N", peel_arm="12 mm")
    lost = weakest(item, check(item))
    assert lost is not None
    assert lost.numbers[0] in (1, 2, 14, 15)


def test_the_chance_is_binomial_where_only_the_number_counts() -> None:
    """Plugs have no gap that is judged: one carries 6 kN / m, so the least m that holds is found by hand."""
    row = PlugRow(
        sheets=(FLOOR, FLOOR), hole="8 mm", count=15, length="600 mm", edge="15 mm", shear="12 kN", enters="along"
    )
    enough = next(m for m in range(15, 0, -1) if use(row) * 15 / (m - 1) > 1)
    assert enough < 15
    for rate in (0.02, 0.1, 0.3):
        found = chance(row, check(row), rate)
        assert found.exact
        assert found.over == pytest.approx(stats.binom.cdf(enough - 1, 15, 1 - rate), rel=1e-9)


def test_numbers_and_gaps_by_the_sum_over_all_patterns() -> None:
    """13 spots whose sheet buckles where a gap is wide: all 8192 patterns, judged by number and widest gap."""
    item = seam(length="520 mm", shear="13 kN")
    judged: dict[tuple[int, int], bool] = {}
    over, rate = 0.0, 0.15
    for bits in range(1 << 13):
        stand = [k for k in range(13) if not bits >> k & 1]
        m = 13 - len(stand)
        gap = max((b - a for a, b in pairwise(stand)), default=1)
        if (m, gap) not in judged:
            gone = [k + 1 for k in range(13) if bits >> k & 1]
            judged[m, gap] = m == 13 or check(without(item, gone)).status != "ok"
        over += judged[m, gap] * rate**m * (1 - rate) ** (13 - m)
    assert len({gap for (m, gap), bad in judged.items() if bad and m == 3}) < 4
    found = chance(item, check(item), rate)
    assert found.exact
    assert found.over == pytest.approx(over, rel=1e-9)


def test_few_welds_by_the_sum_over_all_patterns() -> None:
    """Seven spots under a pull across, every one of 128 patterns judged on its own; what fails without some of them is
    not saved by losing another on the other side, which would only bring the middle back."""
    item = seam(length="280 mm", shear="0 N", across="5 kN")
    rate, over, dead = 0.2, 0.0, [frozenset(range(1, 8))]
    for m in range(7):
        for gone in combinations(range(1, 8), m):
            if check(without(item, gone)).status != "ok":
                dead.append(frozenset(gone))
            over += any(one <= set(gone) for one in dead) * rate**m * (1 - rate) ** (7 - m)
    over += rate**7
    found = chance(item, check(item), rate)
    assert found.exact
    assert found.over == pytest.approx(over, rel=1e-9)


def test_drawn_chances_hold_the_exact_one_and_repeat() -> None:
    """Fifteen spots drawn as if position counted: the exact chance lies inside, twice the same."""
    from jointcalc.explore import duds as module

    item = seam()
    exact = chance(item, check(item), 0.1)
    assert exact.exact

    def short(gone: Any) -> bool:
        return check(without(item, gone)).status != "ok"

    drawn = [module._drawn(item, list(range(1, 16)), 0.1, short) for _ in range(2)]
    assert drawn[0] == drawn[1]
    assert drawn[0].low <= exact.over <= drawn[0].high
    assert not drawn[0].exact


def test_every_pattern_that_is_drawn_is_told_as_it_is_judged() -> None:
    """What is taken from a harder or easier pattern is the same as judging each."""
    from jointcalc.explore import duds as module

    item = seam(enters="one-end", strip="150 mm", weld_diameter="4.4 mm", shear="2.4 kN")
    numbers = np.arange(1, 16)
    bad = np.random.default_rng(3).random((60, 15)) < 0.15
    bad = bad[bad.any(axis=1)]
    hard = module._demands(item, numbers, bad)
    over = np.array([check(without(item, numbers[row].tolist())).status != "ok" for row in bad])
    assert 0 < over.sum() < len(over)
    for k in range(len(bad)):
        assert not over[(hard <= hard[k]).all(axis=1)].any() or over[k]


def test_wilson_against_the_library() -> None:
    for hits, draws in ((0, 200), (13, 4000), (4000, 4000), (77, 300)):
        library = stats.binomtest(hits, draws).proportion_ci(0.95, method="wilson")
        assert wilson(hits, draws) == pytest.approx((library.low, library.high), abs=1e-12)


def test_what_falls_short_without_duds_does_so_with_them() -> None:
    over = seam(shear="60 kN")
    assert chance(over, check(over), 0.1) == Chance(0.1, 1.0, 1.0, 1.0, True)
    assert chance(seam(), check(seam()), 0.0).over == 0.0


def test_a_group_of_bolts() -> None:
    group = FastenerGroup(
        holes=("0 0 mm", "40 0 mm", "80 0 mm", "120 0 mm"), bolt="M8 8.8", edge="20 mm", force="5 0 0 kN",
        at="60 0 0 mm", sheets=({"thickness": "1.5 mm", "grade": "S355MC"},) * 2, dud_rate=0.1,
    )  # fmt: skip
    result = check(group)
    told = with_duds(result)
    lost = weakest(group, result)
    assert lost is not None
    every = [check(without(group, (n,))) for n in range(1, 5)]
    worst = max((r.worst.utilisation or 0.0) if r.worst else 0.0 for r in every)
    assert lost.margin == pytest.approx(1 / worst - 1)
    assert told.values["one_missing_at_x"].value == lost.at[0]
    over = told.values["over_chance"].value
    assert over is not None
    assert 0 < over < 1 - 0.9**4 + 1e-12
    pair = duds(group, result)
    assert len(pair) == 1
    assert "and" in pair[0].what


def test_plugs_and_a_weld_line_of_a_brace() -> None:
    row = PlugRow(
        sheets=(FLOOR, {"thickness": "1.5 mm", "grade": "DC04"}), hole="8 mm", count=6, length="240 mm", edge="15 mm",
        shear="5 kN", dud_rate=0.1,
    )  # fmt: skip
    values = with_duds(check(row)).values
    assert values["one_missing_margin"].value is not None
    assert values["over_chance"].value is not None
    line = seam(enters="").of("B1")
    assert without(line, (3,)).brace == "B1"
    alone = PlugRow(**{**row._typed, "count": 1, "length": "60 mm"})
    nothing = with_duds(check(alone))
    assert nothing.values["one_missing_margin"].value is None
    assert nothing.values["over_chance"].value == pytest.approx(0.1 if check(alone).status == "ok" else 1.0)


def test_the_command_and_its_picture(capsys: pytest.CaptureFixture[str]) -> None:
    line = ["seam", "--sheet", "1.2 mm", "--sheet", "1.2 mm", "--grade", "DC04", "--weld-diameter", "5.5 mm", "--pitch",
            "40 mm", "--length", "600 mm", "--edge", "12 mm", "--shear", "15 kN", "--enters", "along", "--missing", "9",
            "--dud-rate", "0.1"]  # fmt: skip
    with pytest.raises(SystemExit):
        run(line)
    out = capsys.readouterr().out
    row = next(text for text in out.splitlines() if text.startswith("  |"))
    assert row.count("x") == 1
    assert row.count("!") == 1
    assert row.count("o") == 13
    with pytest.raises(SystemExit):
        run([*line, "--json"])
    answer = json.loads(capsys.readouterr().out)
    assert {"one_missing_margin", "two_missing_margin", "over_chance"} <= set(answer["values"])
    assert any(c["code"] == "duds" for c in answer["cautions"])


def test_the_drawing_crosses_out_what_is_missing() -> None:
    from jointcalc.dossier.figures.rows import draw_seam

    plain = draw_seam(check(seam()), "metric")[0]
    marked = draw_seam(with_duds(check(seam(missing=(9,), dud_rate=0.1))), "metric")[0]
    assert "Crossed out" in marked.caption
    assert "Arrow" in marked.caption
    assert "Crossed out" not in plain.caption
    assert len(marked.svg) > len(plain.svg)


def test_a_project_asks_item_by_item(tmp_path: Any, capsys: pytest.CaptureFixture[str]) -> None:
    seams = "".join(
        f"""[[seam]]
id = "S{n}"
sheets = ["floor", "floor"]
weld_diameter = "5.5 mm"
pitch = "40 mm"
length = "400 mm"
edge = "12 mm"
shear = "6 kN"
{more}
"""
        for n, more in enumerate(("", "dud_rate = 0.1"))
    )
    sheet = '[sheet.floor]\nthickness = "1.2 mm"\ngrade = "DC04"\n'
    (tmp_path / "project.toml").write_text(f'[project]\ntitle = "two"\n{sheet}{seams}')
    with pytest.raises(SystemExit):
        run(["check", str(tmp_path / "project.toml"), "--json"])
    plain, asked = json.loads(capsys.readouterr().out)["items"]
    assert "over_chance" not in plain["values"]
    assert 0 < asked["values"]["over_chance"]["value"] < 1
