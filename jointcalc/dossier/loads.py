"""Of an item whose load follows from others: under which loads it was judged, and the way of the one that governs."""

from __future__ import annotations

from typing import Any

from jointcalc.dossier.words import breakable, clean, no_dust, spoken
from jointcalc.quantity.sentence import printed
from jointcalc.quantity.show import System, percent
from jointcalc.result import Result

MOST = 15
"""Loads listed on an item's sheet; of the others it is said how many they are."""

WORDS = {"ok": "holds", "over": "does not hold", "outside": "cannot be judged"}


def loads_of(result: Result, system: System) -> dict[str, Any] | None:
    """Rows of the loads, the governing one first, and its stations; None where the builder gave the load himself."""
    if not result.loads:
        return None
    rows = [
        {
            "giver": breakable(one.standing.name, 24),
            "case": breakable(one.standing.under, 24),
            "used": percent(one.utilisation),
            "governing": breakable(one.governing or "", 30),
            "status": one.status,
            "word": WORDS[one.status],
        }
        for one in result.loads[:MOST]
    ]
    way: list[dict[str, str]] = []
    for station in result.loads[0].standing.way:
        text = breakable(no_dust(spoken(printed(station.sentence, system))))
        source = breakable(station.source) + (" (from memory)" if station.status == "from memory" else "")
        thing = breakable(station.thing, 24)
        if way and (way[-1]["text"], way[-1]["source"]) == (text, source):  # four feet alike are told once
            way[-1]["thing"] += f", {_own(thing, way[-1]['thing'])}"
        else:
            way.append({"thing": thing, "text": text, "source": source})
    return {"rows": rows, "more": len(result.loads) - len(rows), "way": way}


def _own(thing: str, before: str) -> str:
    """What of a name is not said yet: `bench, foot 2` after `bench, foot 1` is `2`."""
    head, _, last = thing.rpartition(" ")
    return last if head and last.isdigit() and before.startswith(f"{head} ") else thing


def governing_case(result: Result) -> str:
    """Who gives the load that governs, and in which case."""
    standing = result.loads[0].standing
    many = len(result.loads)
    beside = f"; the worst of {many}, each judged by itself" if many > 1 else ""
    return f"{clean(standing.name)} in {clean(standing.under)}{beside}"
