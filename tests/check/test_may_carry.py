"""What a joint may carry where no load is given: the greatest load each direction passes, by the item's own checks."""

from __future__ import annotations

from typing import Any

import pytest

from jointcalc.check import check
from jointcalc.model.bolts import FastenerGroup
from jointcalc.model.fields import Item
from jointcalc.model.fillet import FilletGroup
from jointcalc.model.plug import PlugRow
from jointcalc.model.seam import SpotSeam
from tests.docs.blocks import run_line

FLOOR = {"thickness": "1.2 mm", "grade": "DC04"}
SEAM = SpotSeam(
    sheets=[FLOOR, FLOOR], weld_diameter="5.5 mm", pitch="40 mm", length="1200 mm", edge="9 mm", peel_arm="12 mm"
)
PLUG = PlugRow(sheets=[FLOOR, FLOOR], hole="8 mm", pitch="40 mm", length="400 mm", edge="14 mm", filler="ER70S-6")
FILLET = FilletGroup(
    lines=["0 0 100 0 mm"], leg="3 mm", sheets=[{"thickness": "3 mm", "grade": "S355MC"}], filler="E70"
)
BOLTS = FastenerGroup(holes=["0 0 mm", "60 0 mm"], bolt="M8 8.8", sheets=[FLOOR], between="200 mm", washer="large")

LOADS: dict[str, Any] = {
    "along": lambda F: {"shear": F}, "across": lambda F: {"across": F}, "peel": lambda F: {"peel": F},
    "x": lambda F: {"force": (F, 0.0, 0.0)}, "-y": lambda F: {"force": (0.0, -F, 0.0)},
    "z": lambda F: {"force": (0.0, 0.0, F)},
}  # fmt: skip


@pytest.mark.parametrize(
    ("item", "at", "words"),
    [
        (SEAM, None, ("along", "across", "peel")),
        (PLUG, None, ("along", "across")),
        (FILLET, (50.0, 0.0, 0.0), ("x", "-y", "z")),
        (BOLTS, (30.0, 0.0, 0.0), ("x", "-y", "z")),
    ],
)
def test_the_answer_holds_and_a_little_more_does_not(item: Item, at: Any, words: tuple[str, ...]) -> None:
    """Judged with the load that was answered the item holds; with 1 % more it does not, by the check that was named."""
    result = check(item)
    assert result.status == "ok"
    found = {c.key.rpartition(".")[2]: c for c in result.checks if c.key.startswith("may-carry")}
    for word in words:
        assert found[word].capacity is not None, word
        size = found[word].capacity.value or 0.0  # type: ignore[union-attr]
        place = {} if at is None else {"at": at}
        assert check(item.but(**LOADS[word](size), **place)).status == "ok"
        more = check(item.but(**LOADS[word](size * 1.012), **place))
        assert more.status == "over", word
        assert f"[{more.governing}]" in found[word].note


def test_a_fillet_of_an_american_clause_by_hand() -> None:
    """100 mm of 3 mm fillet along its length: P_n/Ω = 0.75 t_w L F_xx / 2.55 (AISI S100-16 J2.5, from memory)."""
    along = check(FILLET).check("may-carry.group.x")
    assert along.capacity is not None
    assert along.capacity.value == pytest.approx(0.75 * 0.707 * 3.0 * 100.0 * 483.0 / 2.55, rel=0.01)


def test_a_direction_that_is_not_judged_says_why() -> None:
    """Without the arm of the peel nothing is said of it, and the reason stands in its place."""
    peel = check(SEAM.but(peel_arm=None)).check("may-carry.seam.peel")
    assert peel.status == "outside"
    assert "peel_arm" in peel.note


def test_a_loaded_item_is_not_asked() -> None:
    """With a load it is judged, and no row of what it may carry stands beside."""
    assert not [c for c in check(SEAM.but(shear=1000.0)).checks if c.key.startswith("may-carry")]


def test_the_command_answers_in_both_units() -> None:
    """Bolts and fillets without a force answer with exit code 0, each direction with what limits it."""
    line = 'jointcalc bolts --hole "0 0 mm" --bolt "M8 8.8" --sheet "1.2 mm" --grade DC04 --washer large'
    code, out, _ = run_line(line)
    assert code == 0
    assert "It may carry, as a service load, in each direction by itself:" in out
    assert "Along x, against x, along y, against y:" in out
    code, out, _ = run_line(f"{line} --units inch")
    assert code == 0
    assert "lbf; by" in out
