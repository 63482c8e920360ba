"""How a joint is judged, told with numbers of its own: the arithmetic of the contract."""

from __future__ import annotations

from math import inf, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jointcalc.formula import lap
from jointcalc.formula.core import Source
from jointcalc.quantity.edge import registry
from jointcalc.result import DETAILING, Amount, Check, Looked, Method, Result, Stated, caution, collect, method, methods
from jointcalc.result.cautions import all_cautions

READ = Source("a book", "table 1", "read")
M = Method("book.mode", "Mode", READ, "spot", "characteristic", "1.5")
D = Method("detail.rule", "Rule", READ, "mm", DETAILING, "1")


def result(*checks: Check, unjudged: tuple[str, ...] = ()) -> Result:
    return Result(kind="spot_seam", id="S1", checks=checks, values={}, cautions=(), unjudged=unjudged)


def test_factor_and_utilisation() -> None:
    """Safety factor = capacity / demand; utilisation = required / actual (the project's contract)."""
    check = M.judge(capacity=3000.0, demand=-1000.0, required=1.5)
    assert (check.safety_factor, check.required_factor, check.utilisation, check.status) == (3.0, 1.5, 0.5, "ok")
    assert check.demand == Amount(1000.0, "N")
    assert M.judge(capacity=3000.0, demand=2000.0, required=1.5).status == "ok"  # exactly at its limit
    over = M.judge(capacity=3000.0, demand=2000.1, required=1.5)
    assert over.status == "over"
    assert over.utilisation == pytest.approx(1.00005)


@given(st.floats(1e-3, 1e9), st.floats(1e-3, 1e9), st.floats(1.0, 5.0))
def test_over_means_more_than_the_whole(capacity: float, demand: float, required: float) -> None:
    check = M.judge(capacity=capacity, demand=demand, required=required)
    assert check.utilisation == pytest.approx(required * demand / capacity)
    assert (check.status == "over") == ((check.utilisation or 0) > 1 + 1e-9)
    again = M.judge(capacity=capacity, demand=2 * demand, required=required)
    assert again.utilisation == pytest.approx(2 * (check.utilisation or 0))


def test_no_load_and_no_strength() -> None:
    idle = M.judge(capacity=3000.0, demand=0.0, required=1.5, note="as given")
    assert (idle.status, idle.safety_factor, idle.utilisation) == ("ok", None, 0.0)
    assert idle.note == "as given; no load of this kind"
    nothing = M.judge(capacity=0.0, demand=10.0, required=1.5)
    assert (nothing.status, nothing.safety_factor, nothing.utilisation) == ("over", 0.0, None)
    below = M.judge(capacity=-5.0, demand=10.0, required=1.5)
    assert (below.status, below.utilisation) == ("over", None)
    assert result(M.judge(capacity=1.0, demand=10.0, required=1.5), nothing).governing == "book.mode"
    assert result(nothing).status == "over"


@pytest.mark.parametrize(("capacity", "demand"), [(nan, 1.0), (inf, 1.0), (1.0, nan), (1.0, inf), (-inf, 1.0)])
def test_numbers_that_are_none_are_outside(capacity: float, demand: float) -> None:
    check = M.judge(capacity=capacity, demand=demand, required=1.5)
    assert check.status == "outside"
    assert check.note
    told = check.json()
    assert told["capacity"] is None
    assert told["utilisation"] is None


def test_tiny_demand_leaves_no_infinity() -> None:
    told = M.judge(capacity=1e300, demand=1e-300, required=1.5).json()
    assert told["safety_factor"] is None
    assert Amount(inf, "N").json() == {"value": None, "unit": "N"}
    assert Amount(nan, "N").json() == {"value": None, "unit": "N"}


def test_outside_and_info_do_not_judge() -> None:
    out = M.outside(["too thin", "too wide"], demand=-3.0, where="1-2")
    assert (out.status, out.note, out.key, out.title) == (
        "outside",
        "too thin; too wide",
        "book.mode.1-2",
        "Mode (1–2)",
    )
    assert out.demand == Amount(3.0, "N")
    info = M.info(capacity=10.0, demand=4.0)
    assert (info.status, info.safety_factor, info.required_factor, info.utilisation) == ("info", 2.5, None, None)
    assert M.info(capacity=10.0, demand=0.0).safety_factor is None
    assert result(info, out).judged == ()
    assert result(info, out).status == "outside"
    assert result(info, out).governing is None


def test_the_worst_governs() -> None:
    low = M.judge(capacity=10.0, demand=1.0, required=1.5, where="a")
    high = M.judge(capacity=10.0, demand=4.0, required=1.5, where="b")
    assert result(low, high).governing == "book.mode.b"
    assert result(high, low).status == "ok"
    # a distance near its limit does not govern a strength, one that breaks it does
    near = D.judge(capacity=10.0, demand=9.9, required=1.0, unit="mm")
    broken = D.judge(capacity=10.0, demand=11.0, required=1.0, unit="mm")
    assert result(near, low).governing == "book.mode.a"
    assert result(low, broken).governing == "detail.rule"
    assert result(low, broken).status == "over"
    # where only distances were judged nothing is known of strength
    assert result(near).status == "outside"
    assert result(low, unjudged=("peel has no method",)).status == "outside"
    worse = M.judge(capacity=10.0, demand=40.0, required=1.5, where="c")
    assert result(low, worse, unjudged=("peel has no method",)).status == "over"


def test_weakest_source_of_a_check() -> None:
    computed = lap.YIELD_ALONG.evaluate(t=1.0, L=2.0, f_y=3.0)  # from memory
    looked = Looked("F", "N", 1.0, "spot_optimum", "row", Source("chart", status="second-hand"))
    stated = Stated("N", "N", 2.0, "given")

    def provenance(*trace: object) -> str:
        return M.judge(capacity=1.0, demand=1.0, required=1.0, trace=trace).provenance  # type: ignore[arg-type]

    assert provenance() == "read"
    assert provenance(stated) == "read"
    assert provenance(looked) == "second-hand"
    assert provenance(looked, computed) == "from memory"


def test_steps_tell_the_working() -> None:
    trace = [lap.YIELD_ACROSS.evaluate(t=1.2, L=300.0, f_y=140.0), Stated("N", "N", 2.0, "2 N given", "the builder")]
    steps = M.judge(capacity=1.0, demand=1.0, required=1.0, trace=trace).json()["steps"]
    assert [s["symbol"] for s in steps] == ["N_y", "N"]
    assert steps[0]["substituted"] == "1.2·300·140"
    assert steps[0]["value"] == pytest.approx(50_400.0)
    assert steps[0]["source"].endswith("(second-hand)")
    assert steps[1] == {"symbol": "N", "expression": "given", "substituted": "2 N given", "value": 2.0, "unit": "N", "source": "the builder"}  # fmt: skip


def test_amounts_become_pint_quantities() -> None:
    """1 kip = 4448.2216 N by definition."""
    amount = Amount(4448.2216152605, "N")
    assert amount.quantity.to("kip").magnitude == pytest.approx(1.0)
    assert amount.quantity.units == registry().newton
    assert Amount(None, "N").quantity is None


def test_keys_are_declared_once() -> None:
    import jointcalc.check.seam  # noqa: F401  # its methods are declared

    known = next(iter(methods()))
    with pytest.raises(ValueError, match="declared twice"):
        method(known, "again", READ, per="spot", basis="x", factor="1")


def test_cautions_that_always_apply_and_their_order() -> None:
    found = collect([caution("fatigue"), "zinc-fume", "zinc-fume"])
    codes = [c.code for c in found]
    assert codes.count("zinc-fume") == 1
    assert {"engineer-decides", "sound-welds"} <= set(codes)
    order = {"stop": 0, "warn": 1, "note": 2}
    ranks = [order[c.severity] for c in collect(all_cautions())]
    assert ranks == sorted(ranks)
    with pytest.raises(KeyError):
        caution("no-such-code")


def test_every_caution_is_data_with_words() -> None:
    import re

    for code, entry in all_cautions().items():
        assert re.fullmatch(r"[a-z0-9-]+", code)
        assert entry.severity in ("stop", "warn", "note")
        assert len(entry.text.split()) >= 5
        filled = entry.text.format_map(dict.fromkeys(re.findall(r"{(\w+)}", entry.text), "x"))
        assert "{" not in filled
