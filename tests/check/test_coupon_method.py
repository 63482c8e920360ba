"""A builder's coupons beside the published methods of a seam or a plug: what they count for, and that they help nothing."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

import jointcalc
from jointcalc.errors import InputError
from jointcalc.formula import coupon_design
from jointcalc.model.coupon_log import HEADER
from jointcalc.result import Result

SIX = (8910.0, 9420.0, 9050.0, 8630.0, 9200.0, 8790.0)
# the mean is 9000 N, phi 0.652 and Omega 2.453 by AISI S100 K2.1.1 (independent script), V 3.17 %
OMEGA = 2.4527

SEAM = """
[[seam]]
id = "S1"
sheets = ["floor", "floor"]
weld_diameter = "{d}"
pitch = "40 mm"
length = "400 mm"
edge = "12 mm"
shear = "20 kN"
{more}
"""
PLUG = """
[[plug]]
id = "P1"
sheets = ["floor", "floor"]
hole = "8 mm"
pitch = "40 mm"
length = "400 mm"
edge = "16 mm"
{more}
"""
SHEETS = """
[project]
title = "Coupons"

[sheet.floor]
thickness = "1.2 mm"
grade = "DC04"
"""
LOG = '\n[coupons]\nfile = "c.csv"\nmachine = "gun A"\nplug_machine = "mig"\n'


def row(load: Any, *, day: str = "2026-05-02", machine: str = "gun A", setting: str = "s", stack: str = "1.2+1.2 DC04",
        test: str = "shear", button: Any = "5.6") -> str:  # fmt: skip
    return f"{day},{machine},{setting},{stack},{test},{button},{load},button,"


MIG = [row(9000, machine="mig", setting="plug")]


def judged(
    place: Path, rows: list[str], *, d: str = "5.6 mm", seam: str = "", plug: str | None = None, log: str = LOG
) -> Result:
    (place / "c.csv").write_text("\n".join([HEADER, *rows, ""]), encoding="utf-8")
    item = SEAM.format(d=d, more=seam) if plug is None else PLUG.format(more=plug)
    (place / "p.toml").write_text(SHEETS + log + item, encoding="utf-8")
    found = jointcalc.check(jointcalc.load_project(place / "p.toml"))[0]
    assert isinstance(found, Result)
    return found


def codes(result: Result) -> set[str]:
    return {c.code for c in result.cautions}


def test_six_coupons_by_both_routes(tmp_path: Path) -> None:
    found = judged(tmp_path, [row(x) for x in SIX] + MIG)
    aisi = found.check("aisi-s100.spot-coupons")
    assert aisi.capacity is not None
    assert aisi.capacity.value == pytest.approx(9000.0)
    assert aisi.required_factor == pytest.approx(OMEGA, rel=1e-4)
    assert aisi.demand is not None
    assert aisi.demand.value == pytest.approx(2000.0)
    assert aisi.source.startswith("your coupons of 2026-05-02;")
    en = found.check("en1990.spot-coupons")
    assert en.capacity is not None
    # V is not taken below 0.10 where it is unknown (EN 1990 D7.1, from memory); k_n = 2.18 (Table D1)
    assert en.capacity.value == pytest.approx(9000 * (1 - 2.18 * 0.10), rel=1e-3)
    assert en.required_factor == pytest.approx(1.25 * 1.5)
    assert "no-coupons" not in codes(found)
    assert any(line.symbol == "Ω" for line in aisi.steps())


def test_they_help_nothing(tmp_path: Path) -> None:
    """With the best of logs the same methods say the same, nothing more is covered, and the verdict is no better."""
    order = {"ok": 0, "outside": 1, "over": 2}
    for d in ("5.6 mm", "4.2 mm", "3.9 mm", "3 mm"):
        bare = judged(tmp_path, [*MIG, row(99000)], d=d, log="")
        with_log = judged(tmp_path, [row(90000 + n) for n in range(40)] + MIG, d=d)
        assert order[with_log.status] >= order[bare.status]
        assert (with_log.worst is None) == (bare.worst is None) or with_log.status == "over"
        kept = {c.key: (c.status, c.utilisation) for c in with_log.checks if "coupons" not in c.key}
        assert kept == {c.key: (c.status, c.utilisation) for c in bare.checks}
        assert set(bare.unjudged) <= set(with_log.unjudged)


def test_weak_coupons_govern(tmp_path: Path) -> None:
    found = judged(tmp_path, [row(x / 4) for x in SIX] + MIG)
    assert found.status == "over"
    assert found.governing == "aisi-s100.spot-coupons"
    assert "coupon-mean-low" in codes(found)
    assert "coupons-under-mark" in codes(found)


def test_fewer_than_three_only_bound_from_above(tmp_path: Path) -> None:
    two = judged(tmp_path, [row(9000), row(9100), *MIG])
    for key in ("aisi-s100.spot-coupons", "en1990.spot-coupons"):
        assert two.check(key).status == "outside"
        assert "1 more" in str(two.check(key).note)
    weak = judged(tmp_path, [row(1900), row(2100), *MIG])
    assert weak.check("aisi-s100.spot-coupons").status == "over"
    assert "coupons-few" in codes(two)


def test_a_smaller_spot_than_theirs_counts_less(tmp_path: Path) -> None:
    """(5.0 / 5.6)^2; a larger one counts no more, and is told."""
    rows = [row(x) for x in SIX] + MIG
    small = judged(tmp_path, rows, d="5.0 mm").check("aisi-s100.spot-coupons")
    assert small.capacity is not None
    assert small.capacity.value == pytest.approx(9000 * (5.0 / 5.6) ** 2)
    # an area for the spot that shears through; a spot that pulls out loses less, with its diameter
    assert coupon_design.SMALLER_SPOT(m=8.0, d=5.0, d_b=10.0) == pytest.approx(2.0)
    assert coupon_design.SMALLER_SPOT(m=8.0, d=10.0, d_b=5.0) == pytest.approx(8.0)
    large = judged(tmp_path, rows, d="6 mm")
    capacity = large.check("aisi-s100.spot-coupons").capacity
    assert capacity is not None
    assert capacity.value == pytest.approx(9000)
    assert "coupons-below" in codes(large)


def test_only_the_same_stack_coating_and_machine(tmp_path: Path) -> None:
    good = [row(x) for x in SIX]
    for other in (
        [row(x, stack="1.2+1.5 DC04") for x in SIX], [row(x, stack="1.2 mm DC04 Z275 + 1.2 mm DC04 Z275") for x in SIX],
        [row(x, machine="gun B") for x in SIX] + [row("", test="peel", stack="1.0+1.0 DC04")],
        [row(x, stack="floor") for x in SIX], [row(x, test="section").replace(f",{x},", ",,") for x in SIX],
    ):  # fmt: skip
        found = judged(tmp_path, other + MIG)
        assert not [c for c in found.checks if "coupons" in c.key]
        stated = judged(tmp_path, other + MIG, seam="coupons = true")
        assert "no-coupons" not in codes(stated)
        if "section" not in other[0]:
            assert "no-coupons" in codes(found)
            assert "coupons-not-logged" in codes(stated)
    assert [c for c in judged(tmp_path, good + MIG).checks if "coupons" in c.key]
    plugs = [row(x, setting="plug 8 mm") for x in SIX]  # of the same machine, but they say what they are
    assert not [c for c in judged(tmp_path, plugs + MIG).checks if "coupons" in c.key]


def test_of_several_settings_the_weakest_counts(tmp_path: Path) -> None:
    rows = [row(x) for x in SIX] + [row(x - 2000, setting="t") for x in SIX] + MIG
    found = judged(tmp_path, rows).check("aisi-s100.spot-coupons")
    assert found.capacity is not None
    assert found.capacity.value == pytest.approx(7000)
    assert "weakest of 2 settings" in str(found.note)


def test_days_that_differ_are_the_tests(tmp_path: Path) -> None:
    days = {"2026-05-02": 9000, "2026-05-09": 8000, "2026-05-16": 8800}
    rows = [row(x + k, day=day) for day, x in days.items() for k in (0, 10, -10, 5)]
    found = judged(tmp_path, rows + MIG)
    check = found.check("aisi-s100.spot-coupons")
    assert "coupons-differ" in codes(found)
    assert check.required_factor is not None
    assert check.required_factor > 2.7  # three tests, not twelve: 2.71 at the least scatter (C_P = 5.7)
    assert "batches are the tests" in str(check.note)
    two = judged(tmp_path, [r for r in rows if "05-16" not in r] + MIG).check("aisi-s100.spot-coupons")
    assert two.status == "outside"


def test_in_thinner_sheet_they_do_not_drop_out(tmp_path: Path) -> None:
    """A joint tried with its sheets at their thinnest keeps its coupons, and they show less: pull-out goes with t."""
    (tmp_path / "c.csv").write_text("\n".join([HEADER, *(row(x) for x in SIX), *MIG]), encoding="utf-8")
    (tmp_path / "p.toml").write_text(SHEETS + LOG + SEAM.format(d="5.6 mm", more=""), encoding="utf-8")
    (seam,) = jointcalc.load_project(tmp_path / "p.toml").items
    from jointcalc.explore.sensitivity import row_fewer, thinner_joint

    held = thinner_joint(seam), seam.remade({**seam.model_dump(mode="json", exclude_defaults=True)})
    assert all(jointcalc.check(one).check("en1990.spot-coupons").status == "ok" for one in held)
    fewer = row_fewer(seam, jointcalc.check(seam))
    assert fewer is not None
    assert "coupons" not in str(fewer)
    thin = jointcalc.check(seam.but(sheets=[{"thickness": "1.08 mm", "grade": "DC04"}] * 2))
    capacity = thin.check("aisi-s100.spot-coupons").capacity
    assert capacity is not None
    assert capacity.value == pytest.approx(0.9 * 9000)
    other = jointcalc.check(seam.but(sheets=[{"thickness": "1.5 mm", "grade": "DC04"}] * 2))
    capacity = other.check("aisi-s100.spot-coupons").capacity
    assert capacity is not None
    assert capacity.value == pytest.approx(9000)


def test_two_days_that_differ_still_bound(tmp_path: Path) -> None:
    rows = [row(x + k, day=day) for day, x in (("2026-05-02", 4600), ("2026-05-09", 4000)) for k in (0, 10, -10, 5)]
    assert judged(tmp_path, rows + MIG).check("aisi-s100.spot-coupons").status == "over"


def test_falling_loads_count_as_they_are_by_now(tmp_path: Path) -> None:
    rows = [row(9000 - 100 * n + (-1) ** n * 20, day=f"2026-05-{n + 1:02d}") for n in range(10)]
    found = judged(tmp_path, rows + MIG)
    check = found.check("aisi-s100.spot-coupons")
    assert check.capacity is not None
    assert check.capacity.value == pytest.approx(8100, abs=30)  # the line's end, not the mean of 8550
    assert "coupons-fall" in codes(found)


def test_peel_has_coupons_of_its_own(tmp_path: Path) -> None:
    peel = 'peel = "2 kN"\npeel_arm = "10 mm"'
    rows = [row(x) for x in SIX] + [row(x / 4, test="cross") for x in SIX] + MIG
    found = judged(tmp_path, rows, seam=peel)
    check = found.check("aisi-s100.spot-coupons-peel")
    assert check.capacity is not None
    assert check.capacity.value == pytest.approx(2250)
    assert check.demand is not None
    assert check.demand.value == pytest.approx(200)
    assert not check.covers


def test_a_plug_lifted_off_is_judged_by_its_coupons_alone(tmp_path: Path) -> None:
    """No document gives a punched plug a strength when lifted: AISI S100 K2.1.1 takes it from tests."""
    lifted = 'uplift = "4 kN"'
    cross = [row(x / 2, machine="mig", setting="plug", test="cross", button=6) for x in SIX]
    bare = judged(tmp_path, [*MIG, row(9000)], plug=lifted)
    assert bare.status == "outside"
    found = judged(tmp_path, [*cross, *MIG, row(9000)], plug=lifted)
    check = found.check("aisi-s100.plug-coupons-uplift")
    assert check.capacity is not None
    assert check.capacity.value == pytest.approx(4500)
    assert check.demand is not None
    assert check.demand.value == pytest.approx(400)
    assert not [text for text in found.unjudged if "lifted off" in text]
    assert judged(tmp_path, [*cross[:2], *MIG, row(9000)], plug=lifted).status == "outside"
    heavy = judged(tmp_path, [*cross, *MIG, row(9000)], plug='uplift = "40 kN"')
    assert heavy.status == "over"
    # a spot gun's coupons say nothing of a plug
    spots = [row(x / 2, test="cross") for x in SIX]
    assert judged(tmp_path, [*spots, *MIG], plug=lifted).status == "outside"
    both = [*cross, *(row(x, machine="mig", setting="plug") for x in SIX), row(9000)]
    together = judged(tmp_path, both, plug='uplift = "4 kN"\nshear = "4 kN"').check("interaction.plug-coupons")
    assert together.demand is not None
    assert together.demand.value == pytest.approx(sum(
        judged(tmp_path, both, plug='uplift = "4 kN"\nshear = "4 kN"').check(key).utilisation or 0.0
        for key in ("aisi-s100.plug-coupons", "aisi-s100.plug-coupons-uplift")
    ))  # fmt: skip


@pytest.mark.parametrize(
    ("head", "told"),
    [
        ('file = "none.csv"\nmachine = "gun A"', "there is no 'none.csv'"),
        ('file = "c.csv"\nmachine = "gum A"', "did you mean 'gun A'"),
        ('file = "c.csv"', "machine: is missing"),
        ('file = "c.csv"\nmachine = "gun A"\nplug_machine = "Gun a"', "a log could not tell"),
        ('file = "c.csv"\nmachine = "gun A"\nkind = 3', "unknown key"),
    ],
)
def test_a_log_that_cannot_be_used(head: str, told: str, tmp_path: Path) -> None:
    with pytest.raises(InputError) as fault:
        judged(tmp_path, [row(9000)], log=f"\n[coupons]\n{head}\n")
    assert told in str(fault.value)
    assert "p.toml:" in str(fault.value)


def test_a_fault_in_the_log_has_its_line(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"c\.csv:3: load N: 'x' is no number"):
        judged(tmp_path, [row(9000), row("x")], log='\n[coupons]\nfile = "c.csv"\nmachine = "gun A"\n')


def test_coupons_pulled_evenly_prove_no_plug_lifted_at_its_edge(tmp_path: Path) -> None:
    """AISI S100 J2.2.3 (from memory): half at the edge of a sheet, 0.7 at a side lap; J2.2.1: 1.5 diameters to an edge."""
    rows = [row(x, machine="mig", test="cross", setting="p") for x in SIX] + [row(9000)]
    lift = 'uplift = "5 kN"\n'

    def used(more: str) -> float:
        found = judged(tmp_path, rows, plug=lift + more).check("aisi-s100.plug-coupons-uplift").utilisation
        assert found is not None
        return found

    plain = used("")
    assert used('uplift_place = "edge"') == pytest.approx(2.0 * plain)
    assert used('uplift_place = "side-lap"') == pytest.approx(plain / 0.7)

    def near(edge: str, load: str) -> Result:
        (tmp_path / "c.csv").write_text("\n".join([HEADER, *rows, ""]), encoding="utf-8")
        item = PLUG.format(more=f'uplift = "{load}"').replace('edge = "16 mm"', f'edge = "{edge}"')
        (tmp_path / "p.toml").write_text(SHEETS + LOG + item, encoding="utf-8")
        found = jointcalc.check(jointcalc.load_project(tmp_path / "p.toml"))[0]
        assert isinstance(found, Result)
        return found

    assert near("12 mm", "5 kN").status == "ok"
    close = near("11.9 mm", "5 kN")
    assert close.status == "outside"
    assert "from an edge" in close.check("aisi-s100.plug-coupons-uplift").note
    assert near("11.9 mm", "90 kN").status == "over"


def test_a_smaller_hole_than_what_the_coupons_fused_counts_less(tmp_path: Path) -> None:
    """No more is fused than the hole, and strength goes with the square of the diameter: 7 of 7.5 mm."""
    rows = [row(x, machine="mig", test="cross", setting="p", button="7.5") for x in SIX] + [row(9000)]
    lift = 'uplift = "2 kN"\n'
    wide, narrow = (
        judged(tmp_path, rows, plug=lift).check("aisi-s100.plug-coupons-uplift"),
        judged(tmp_path, rows, plug=lift + 'interface = "7 mm"').check("aisi-s100.plug-coupons-uplift"),
    )
    assert wide.capacity is not None
    assert wide.capacity.value == pytest.approx(9000.0)
    item = PLUG.format(more=lift).replace('hole = "8 mm"', 'hole = "7 mm"')
    (tmp_path / "p.toml").write_text(SHEETS + LOG + item, encoding="utf-8")
    drilled = jointcalc.check(jointcalc.load_project(tmp_path / "p.toml"))[0].check("aisi-s100.plug-coupons-uplift")
    for one in (narrow, drilled):
        assert one.capacity is not None
        assert one.capacity.value == pytest.approx(9000 * (7 / 7.5) ** 2)
