"""No weaker weld comes out better: weakenings of arc welds beyond those of `weaker.py`, on loads just over the limit.

A few hundred pairs here; JOINTCALC_FILLET_PAIRS says how many in a long run.
"""

from __future__ import annotations

import os
import random
from typing import Any

from jointcalc.errors import InputError
from jointcalc.result import DETAILING, Result

from .describe import Data, Several, Size, by_rules, fillets, model
from .weaker import WEAKER, drawn, eased, just_over, tell

PAIRS = int(os.environ.get("JOINTCALC_FILLET_PAIRS", "500"))
FILLERS = {"E80": "E70", "E70": "E60"}


def _filler(data: Data, dice: random.Random) -> Data | None:
    return {**data, "filler": FILLERS[data["filler"]]} if data["filler"] in FILLERS else None


def _farther(data: Data, dice: random.Random) -> Data | None:
    """A load higher above the plane of the welds."""
    x, y, z = data["at"].values
    return {**data, "at": Several((x, y, z + dice.choice((5.0, 30.0, 100.0))))}


def _gap(data: Data, dice: random.Random) -> Data | None:
    return {**data, "root_gap": data["leg"].times(dice.choice((0.05, 0.2, 0.5)))} if data.get("leg") else None


def _free_edge(data: Data, dice: random.Random) -> Data | None:
    return {**data, "free_edge": Size(dice.choice((5.0, 40.0)))} if data.get("free_edge") is None else None


def _not_full(data: Data, dice: random.Random) -> Data | None:
    return {**data, "full_size": False} if data["full_size"] else None


def _wider(data: Data, dice: random.Random) -> Data | None:
    """Supports of the sheet farther apart."""
    return {**data, "between": data["between"].times(dice.choice((1.05, 1.5, 4.0)))} if data.get("between") else None


def _no_lip(data: Data, dice: random.Random) -> Data | None:
    return {**data, "lip": data["lip"].times(dice.choice((0.9, 0.4)))} if data.get("lip") else None


MORE = {
    "filler": _filler, "height of the load": _farther, "gap": _gap, "free edge": _free_edge, "ends": _not_full,
    "supports": _wider, "lip": _no_lip,
}  # fmt: skip


def spread(data: Data, dice: random.Random) -> Data:
    """The same welds, here and there on supported sheet or on both sides."""
    if data["weld"] == "fillet" and data["joint"] == "tee" and dice.random() < 0.3:
        data = {**data, "both_sides": True}
    if dice.random() < 0.4:
        data = {
            **data,
            "between": Size(dice.choice((300.0, 500.0, 900.0))),
            "held": dice.choice(("continuous", "simple")),
        }
    return data


def excepted(what: str, before: Result, after: Result) -> bool:
    """What theory or a document itself eases, each with its reason.

    - `weaker.eased`;
    - a line fewer moves the middle of the welds towards the load, and the elastic method then shares it more evenly: any
      engineer may leave that line out of his sum, so both answers are safe;
    - a load higher above the welds takes from a moment that acts the other way.
    """
    return eased("fillet", what, before, after) or what in ("one line fewer", "height of the load")


def turned_over(share: int, dice: random.Random) -> tuple[int, list[Any]]:
    tried, n, found = 0, 0, []
    while tried < share:
        n += 1
        for raw in drawn(fillets(stated=True), n):
            data = spread(raw, dice)
            try:
                near = just_over("fillet", data, dice)
            except InputError:
                continue
            if near is None:
                continue
            strong, before = near
            if all(c.method.basis == DETAILING for c in before.checks if c.status == "over"):
                continue
            for what, change in {**WEAKER["fillet"], **MORE}.items():
                weak = change(strong, dice)
                if weak is None:
                    continue
                try:
                    after = by_rules(model("fillet", weak))
                except InputError:
                    continue  # refused is not ok
                tried += 1
                if after.status == "ok" and not excepted(what, before, after):
                    found.append((what, strong, weak, before, after))
            if tried >= share:
                break
    return tried, found


def test_nothing_weaker_comes_out_better() -> None:
    tried, found = turned_over(PAIRS, random.Random(11))
    assert tried >= PAIRS
    for what, *rest in found[:4]:
        tell("fillet", what, *rest)
    assert not found, f"{len(found)} of {tried} turned from over to ok"
