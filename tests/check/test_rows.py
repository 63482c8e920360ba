"""How rows share: seams and plugs whose load comes in at an end, with welds missing, under loads that repeat."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import numpy as np
import pytest

from jointcalc.check import check
from jointcalc.errors import InputError
from jointcalc.formula import row_sharing as rs
from jointcalc.model.bolts import FastenerGroup
from jointcalc.model.plug import PlugRow
from jointcalc.model.seam import SpotSeam
from jointcalc.result import Result
from tests.formula.test_row_sharing import bars_and_springs

E = 210e3
SEAM: dict[str, Any] = {
    "sheets": ({"thickness": "1.2 mm", "grade": "DC04"}, {"thickness": "1.2 mm", "grade": "DC04"}),
    "weld_diameter": "5.5 mm", "pitch": "40 mm", "length": "1200 mm", "edge": "12 mm", "shear": "12 kN",
}  # fmt: skip


def seam(**more: Any) -> Result:
    return check(SpotSeam(**{**SEAM, **more}))


def value(result: Result, name: str) -> float:
    found = result.values[name].value
    assert found is not None
    return found


def used(result: Result, key: str) -> float:
    return result.check(key).utilisation or 0.0


def spot(t: float, pitch: float, width: float) -> float:
    """Stiffness of a 5.5 mm spot by the two exact solutions, put together by hand [N/mm]."""
    R = min(pitch, width) / 2
    own = rs.WELD_GIVE_IN_PLANE(E=E, t=t, d=5.5, R=R, nu=0.3) + (t / 2) ** 2 * rs.WELD_TILT(
        E=E, t=t, d=5.5, R=R, nu=0.3
    )
    return float(1 / (2 * own))


def test_the_end_share_is_that_of_bars_and_springs() -> None:
    """Two strips of 150 mm joined at 30 places, solved as a whole."""
    k = np.full(30, spot(1.2, 40.0, 150.0))
    for enters, first in (("one-end", 1.0), ("through", 0.5), ("both-ends", 0.5)):
        direct = bars_and_springs(k, np.full(29, 40.0), E * 150 * 1.2, E * 150 * 1.2, first)
        result = seam(enters=enters, strip="150 mm")
        assert value(result, "end_share") == pytest.approx(direct.max(), rel=1e-3)
        assert value(result, "peak_per_spot") == pytest.approx(12e3 * direct.max(), rel=1e-3)


def test_a_missing_spot_in_a_loaded_end_by_bars_and_springs() -> None:
    k = np.full(30, spot(1.2, 40.0, 150.0))
    k[1] = 0.0
    direct = bars_and_springs(k, np.full(29, 40.0), E * 150 * 1.2, E * 150 * 1.2, 1.0)
    assert value(seam(enters="one-end", strip="150 mm", missing=(2,)), "end_share") == pytest.approx(
        direct.max(), rel=1e-3
    )


def test_said_to_flow_in_it_is_judged_as_before_and_says_so() -> None:
    plain, along = seam(), seam(enters="along")
    assert [c.utilisation for c in along.judged] == [c.utilisation for c in plain.judged]
    assert value(along, "end_share") == pytest.approx(1 / 30)
    codes = [{c.code for c in r.cautions} for r in (plain, along)]
    assert "row-shares" in codes[0]
    assert "row-shares" not in codes[1]


def test_no_way_in_is_easier_than_a_flow_and_one_end_is_the_hardest() -> None:
    for more in ({}, {"weld_diameter": "4.4 mm", "shear": "3 kN"}):
        ways = [seam(enters=e, strip="100 mm", **more) for e in ("along", "both-ends", "through", "one-end")]
        for a, b in pairwise(ways):
            assert used(b, "d8.1m.shear-tension") >= used(a, "d8.1m.shear-tension") * (1 - 1e-9)
            assert value(b, "peak_per_spot") >= value(a, "peak_per_spot") * (1 - 1e-9)
        assert value(seam(**more), "peak_per_spot") >= value(ways[-1], "peak_per_spot")


def test_ductile_spots_share_alike_as_far_as_their_slip_reaches() -> None:
    """m places share P: the end one slips (m - 1)/2 · P p g more than the last, at most half the sheet's thickness at
    four times the load: m - 1 = 2 · 0.6 / (4 · 12000 · 40 · 2/(210000 · 360)) = 23.6."""
    result = seam(enters="one-end", strip="300 mm")
    g = 2 / (E * 300 * 1.2)
    most = 1 + 2 * 0.6 / (4 * 12e3 * 40 * g)
    assert value(result, "sharing_spots") == int(most) == 24
    assert value(result, "shear_per_spot") == pytest.approx(12e3 / 24)
    # a load light enough is shared by all; more spots behind those that share help nothing
    assert value(seam(enters="one-end", strip="300 mm", shear="9 kN"), "sharing_spots") == 30
    longer = seam(enters="one-end", strip="300 mm", length="2400 mm")
    assert used(longer, "d8.1m.shear-tension") == pytest.approx(used(result, "d8.1m.shear-tension"))


def test_what_breaks_first_is_judged_by_its_end() -> None:
    """EN 1993-1-3 Table 8.5: 4.4 mm spots shear before 1.2 mm sheet tears; 4130 and aluminium have no such rule."""
    small = seam(enters="one-end", strip="300 mm", weld_diameter="4.4 mm", shear="3 kN")
    assert value(small, "shear_per_spot") == pytest.approx(value(small, "peak_per_spot"))
    assert "row-brittle" in {c.code for c in small.cautions}
    for grade in ("4130N", "5754-O"):
        sheets = tuple({"thickness": "1.2 mm", "grade": grade} for _ in range(2))
        hard = seam(enters="one-end", strip="300 mm", sheets=sheets, weld_diameter="6 mm", shear="3 kN")
        assert value(hard, "shear_per_spot") == pytest.approx(value(hard, "peak_per_spot"))
    ductile = seam(enters="one-end", strip="300 mm")
    assert value(ductile, "shear_per_spot") < value(ductile, "peak_per_spot") / 5


def test_the_strip_that_brings_the_load_yields() -> None:
    """N = b t f_y = 60 · 1.2 · 140 = 10.08 kN; half the load at each of two ends."""
    strip = seam(enters="through", strip="60 mm").check("en1993-1-3.yield-strip")
    assert strip.capacity is not None
    assert strip.capacity.value == pytest.approx(60 * 1.2 * 140)
    assert strip.status == "over"
    both = seam(enters="both-ends", strip="60 mm").check("en1993-1-3.yield-strip")
    assert both.demand is not None
    assert both.demand.value == 6000.0
    lap = seam(enters="one-end").check("en1993-1-3.yield-strip")
    assert "strip" in lap.note
    # of unlike sheets each has its own
    wide = seam(enters="one-end", strip=("60 mm", "200 mm")).check("en1993-1-3.yield-strip")
    assert wide.capacity == strip.capacity


def test_a_spot_missing_from_a_flow() -> None:
    """29 of 30 share alike; while elastic the neighbours take more, and the sheet between them spans two pitches."""
    whole, without = seam(enters="along"), seam(enters="along", missing=(12,), compression="30 MPa")
    assert value(without, "shear_per_spot") == pytest.approx(12e3 / 29)
    assert 12e3 / 29 < value(without, "peak_per_spot") < 2 * 12e3 / 30
    assert value(whole, "peak_per_spot") == pytest.approx(400.0)
    pitch = without.check("aisi-s100.spot-pitch").demand
    assert pitch is not None
    assert pitch.value == 80.0
    assert "welds-missing" in {c.code for c in without.cautions}


def test_missing_spots_turn_the_row() -> None:
    """Spots at -60, -20, 20, 60 mm, the last gone: the middle of the others lies 20 mm off, so 4 kN across turn them by
    80 N·m: 4000/3 + 80000 · 40 / (40² + 0 + 40²)."""
    four = {"pitch": None, "count": 4, "length": "160 mm", "shear": "0 N", "across": "4 kN", "enters": "along"}
    assert value(seam(**four, missing=(4,)), "across_per_spot") == pytest.approx(4000 / 3 + 80e3 * 40 / 3200)
    left = seam(**four, missing=(2, 3, 4))
    assert left.status == "outside" or left.status == "over"
    assert any("pivot" in text for text in left.unjudged)
    # two rows: one spot gone from the second leaves the first 25/… mm nearer to the middle
    rows = seam(rows=2, row_spacing="25 mm", missing=(45,), enters="along")
    y = 12.5 / 59  # middle of 59: one of 60 at 12.5 is missing
    xs = np.tile((np.arange(30) - 14.5) * 40.0, 2)
    ys = np.repeat([-12.5, 12.5], 30)
    gone = np.arange(60) != 44
    squares = ((xs[gone] - xs[gone].mean()) ** 2 + (ys[gone] - ys[gone].mean()) ** 2).sum()
    assert value(rows, "shear_per_spot") == pytest.approx(12e3 / 59 + 12e3 * y / squares * (12.5 + y))
    # one gone on the other side would bring the middle back: not counted
    both = seam(**four, missing=(1, 4))
    assert value(both, "across_per_spot") > value(seam(**four, missing=(4,)), "across_per_spot")


def test_peel_at_one_end_comes_on_the_first_spot() -> None:
    line, end = (seam(shear="0 N", peel="300 N", peel_arm="15 mm", enters=e) for e in ("along", "one-end"))
    both = seam(shear="0 N", peel="300 N", peel_arm="15 mm", enters="both-ends")
    assert value(line, "peel_per_spot") == pytest.approx(10.0)
    assert value(end, "peel_per_spot") > 300.0  # the strip runs on beyond the first spot and levers on it
    assert value(both, "peel_per_spot") == pytest.approx(value(end, "peel_per_spot") / 2, rel=0.02)
    assert used(end, "limit-analysis.peel-fold") > 20 * used(line, "limit-analysis.peel-fold")
    assert "unzip" not in {c.code for c in end.cautions}


def test_peel_beside_a_missing_spot_is_a_continuous_beam() -> None:
    """An endless beam on stiff supports a pitch apart, one gone, by three moments: M at the neighbours of the gap is
    q/12 + m, and m dies away by the factor -(2 - sqrt 3) from support to support (pitch 1, load q = 1 per length)."""
    dies, settled = 2 - 3**0.5, 1 / 12
    # 2 M + 2 (2 + 1) M + M' = (2³ + 1³)/4 at a neighbour, with the double span on one side
    m = (9 / 4 - 9 * settled) / (8 - dies)
    reaction = 1.0 + 0.5 + (m + dies * m)
    result = seam(shear="0 N", peel="300 N", peel_arm="8 mm", edge="8 mm", missing=(15,))
    assert value(result, "peel_per_spot") == pytest.approx(10.0 * reaction, rel=0.03)


@pytest.mark.parametrize("enters", ["along", "one-end", "through", "both-ends"])
def test_one_more_missing_never_helps(enters: str) -> None:
    """Not even where it takes away what levered on the first: no use is less, whichever follows."""
    load = {"shear": "2 kN", "across": "500 N", "peel": "60 N", "peel_arm": "15 mm", "length": "400 mm"}
    gone: tuple[int, ...] = ()
    before = seam(enters=enters, strip="120 mm", **load)
    for number in (4, 2, 9, 1, 6):
        gone = (*gone, number)
        after = seam(enters=enters, strip="120 mm", missing=gone, **load)
        for check_ in before.judged:
            if check_.method.basis != "detailing rule":
                assert used(after, check_.key) >= (check_.utilisation or 0.0) * (1 - 1e-9), (gone, check_.key)
        before = after


def test_a_strip_on_springs_by_the_whole_row() -> None:
    """What is put together from gaps and ends of long rows against this row solved as a whole."""
    from jointcalc.check.seam_base import SeamAction
    from jointcalc.formula import peel
    from jointcalc.statics.row import lifted

    item = SpotSeam(**{**SEAM, "shear": "0 N", "peel": "300 N", "peel_arm": "15 mm", "missing": (10, 11)})
    b = float(peel.EFFECTIVE_WIDTH(b=40.0, a=15.0, e=12.0))
    k = float(rs.LIFT_STIFFNESS(E=E, t=1.2, b=b, a=15.0, nu=0.3)) * np.array([n > 0 for n in item.stations])
    at = 20.0 + 40.0 * np.arange(30)
    bending = E * 27.0 * 1.2**3 / 12
    whole = lifted(stiffness=k, at=at, length=1200.0, bending=bending, ends=(0.0, 0.0), flow=300 / 1200)
    assert SeamAction(item).peel == pytest.approx(whole.max(), rel=2e-3)
    end = lifted(stiffness=k * 0 + k.max(), at=at, length=1200.0, bending=bending, ends=(300.0, 0.0), flow=0.0)
    assert SeamAction(item.but(missing=None, enters="one-end")).peel == pytest.approx(end.max(), rel=2e-3)


def test_a_life_is_that_of_the_end_spot() -> None:
    """Slope 6 to a million: the life goes with the sixth power of the end spot's share."""
    lives = {}
    for enters in ("along", "both-ends", "one-end"):
        result = seam(enters=enters, strip="300 mm", shear="9 kN", cycles=1e5)
        lives[enters] = (value(result, "spot_life"), value(result, "peak_per_spot"))
    short, long = lives["one-end"], lives["both-ends"]
    assert short[0] < long[0] < 1e6 < lives["along"][0]
    assert long[0] / short[0] == pytest.approx((short[1] / long[1]) ** 6, rel=1e-6)


def test_the_stress_is_that_of_the_forces_on_the_end_spot() -> None:
    """Rupp and others by hand: F/(pi d t) and 0.6 sqrt(t) · 1.872 M/(d t²) with M = F t, of the end spot's range."""
    result = seam(enters="one-end", strip="300 mm", shear="9 kN", cycles=1e5, load_range=0.5)
    F, t, d = 0.5 * value(result, "peak_per_spot"), 1.2, 5.5
    by_hand = F / (np.pi * d * t) + 0.6 * t**0.5 * 1.872 * F * t / (d * t**2)
    assert value(result, "spot_stress_range") == pytest.approx(by_hand)


def test_a_life_wants_to_know_how_the_load_comes_in() -> None:
    asked = seam(cycles=1e5, shear="3 kN")
    assert asked.status == "outside"
    assert any("enters" in text for text in asked.unjudged)
    assert seam(cycles=1e5, shear="3 kN", enters="along").status == "ok"
    assert seam(cycles=1e5, shear="3 kN", enters="one-end", strip="40 mm").status == "over"
    # so little that even an end spot lasts needs no question
    assert seam(cycles=1e5, shear="300 N").status == "ok"


def test_the_weld_line_of_a_brace_takes_a_flow() -> None:
    line = SpotSeam(**SEAM, cycles=1e5).of("B1")
    assert check(line).status == "ok"


PLUGS: dict[str, Any] = {
    "sheets": ({"thickness": "1.2 mm", "grade": "DC04"}, {"thickness": "1.5 mm", "grade": "DC04"}), "hole": "8 mm",
    "count": 6, "length": "240 mm", "edge": "15 mm", "shear": "4 kN",
}  # fmt: skip


def test_plugs_share_like_spots() -> None:
    along, end = (check(PlugRow(**PLUGS, enters=e, strip="120 mm")) for e in ("along", "one-end"))
    assert value(along, "end_share") == pytest.approx(1 / 6)
    assert 1 / 6 < value(end, "end_share") < 1
    assert used(end, "en1993-1-3.plug-tearing") >= used(along, "en1993-1-3.plug-tearing")
    strip = end.check("en1993-1-3.yield-strip").capacity
    assert strip is not None
    assert strip.value == pytest.approx(120 * 1.2 * 140)
    gone = check(PlugRow(**PLUGS, enters="along", missing=(1,)))
    assert value(gone, "shear_per_weld") == pytest.approx(800.0)
    assert "welds-missing" in {c.code for c in gone.cautions}


def test_arc_spots_lifted_at_an_end() -> None:
    arcs = {
        "sheets": ({"thickness": "1 mm", "grade": "S350GD"}, {"thickness": "4 mm", "grade": "S350GD"}),
        "visible": "18 mm", "count": 4, "length": "240 mm", "edge": "40 mm", "uplift": "1 kN",
    }  # fmt: skip
    line, end = (check(PlugRow(**arcs, enters=e)) for e in ("along", "one-end"))
    assert value(line, "uplift_per_weld") == pytest.approx(250.0)
    assert value(end, "uplift_per_weld") > 900.0
    without = check(PlugRow(**arcs, missing=(2,)))
    assert value(without, "uplift_per_weld") > 1.4 * 250.0


def bolts(n: int, pitch: float, **more: Any) -> Result:
    sheets = tuple({"thickness": "2 mm", "grade": "S355MC"} for _ in range(2))
    holes = tuple(f"{k * pitch} 0 mm" for k in range(n))
    told = {"holes": holes, "sheets": sheets, "bolt": "M8 8.8", "edge": "25 mm", "force": "8 0 0 kN",
            "at": f"{(n - 1) * pitch / 2} 0 0 mm"}  # fmt: skip
    return check(FastenerGroup(**{**told, **more}))


def test_the_end_of_a_line_of_bolts_by_bars_and_springs() -> None:
    """Four M8 at 40 mm in strips of 50 x 2 mm, each as stiff as Huth's formula has it."""
    k = 1 / rs.FASTENER_GIVE_BOLTED(t_1=2.0, t_2=2.0, d=8.0, E_1=E, E_2=E, E_f=E)
    direct = bars_and_springs(np.full(4, k), np.full(3, 40.0), E * 100, E * 100, 0.5)
    result = bolts(4, 40.0)
    assert value(result, "peak_elastic") == pytest.approx(8e3 * direct.max(), rel=1e-6)
    assert "line-end" in {c.code for c in result.cautions}
    assert "peak_elastic" not in bolts(2, 40.0).values


def test_a_long_joint_of_bolts_is_reduced() -> None:
    """EN 1993-1-8, 3.8 (from memory): 1 - (L - 15 d)/(200 d), not under 0.75; M8: from 120 mm on."""
    for n, pitch, left in ((4, 40.0, None), (4, 60.0, 1 - 60 / 1600), (9, 100.0, 0.75)):
        result = bolts(n, pitch)
        shear = result.check("en1993-1-8.bolt-shear").capacity
        assert shear is not None
        reduced = next((c.capacity for c in result.checks if c.key == "en1993-1-8.long-joint"), None)
        assert (reduced is None) == (left is None)
        if reduced is not None and left is not None:
            assert reduced.value == pytest.approx(left * (shear.value or 0.0))


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"enters": "middle"}, "along"),
        ({"missing": (31,)}, "1 to 30"),
        ({"missing": (3, 3)}, "twice"),
        ({"missing": tuple(range(1, 31))}, "every spot"),
        ({"strip": ("40 mm", "50 mm", "60 mm")}, "one for each"),
        ({"strip": "10 mm"}, "does not hold the row"),
        ({"dud_rate": 1.0}, "less than 1"),
    ],
)
def test_errors_speak(wrong: dict[str, Any], words: str) -> None:
    with pytest.raises(InputError, match=words):
        SpotSeam(**{**SEAM, **wrong})


def test_a_strap_no_wider_than_its_lap_is_told_where_nobody_says_how_the_load_comes_in() -> None:
    """25 mm of 1.2 mm DC04 yield at 25 x 1.2 x 140 / 1.5 = 2.8 kN; five plugs along it held 6 kN and said nothing."""
    row = {"length": "200 mm", "edge": "12.5 mm", "pitch": None, "count": 5}
    plug = {**{k: v for k, v in SEAM.items() if k != "weld_diameter"}, **row, "hole": "8 mm"}

    def of(kind: str, **more: Any) -> Result:
        return check(PlugRow(**{**plug, **more})) if kind == "plug" else seam(**{**row, **more})

    def told(kind: str, **more: Any) -> list[str]:
        return [c.text for c in of(kind, **more).cautions if c.code == "strap-of-lap"]

    for kind in ("plug", "seam"):
        assert "(25 mm)" in told(kind, shear="6 kN")[0]
        assert "it carries 2800 N" in told(kind, shear="6 kN")[0]
        assert not told(kind, shear="2.7 kN")
        assert not told(kind, shear="6 kN", enters="along")
        assert not told(kind, shear="0 N", across="6 kN")
        assert not told(kind, shear="6 kN", strip="100 mm")
        assert of(kind, shear="6 kN", enters="one-end").check("en1993-1-3.yield-strip").status == "over"
        # a row of 16 lap widths is a seam along wide sheet
        assert not told(kind, shear="6 kN", length="400 mm", count=10)
