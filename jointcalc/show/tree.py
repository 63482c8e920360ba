"""A project's answer: its items as a tree, the worst first, each with its place, its load, and what governs."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Mapping
from math import inf
from typing import TYPE_CHECKING

from jointcalc.quantity.sentence import joined, mm, printed
from jointcalc.quantity.show import System, percent
from jointcalc.result import GRAVEST, Caution, Result, trust
from jointcalc.show.terminal import STYLE, down, hang, print_cautions, up

if TYPE_CHECKING:
    from jointcalc.show.terminal import Out

WORDS = {"ok": "holds", "over": "OVER", "outside": "NOT JUDGED"}


def print_tree(
    results: Iterable[Result],
    out: Out,
    cautions: Iterable[Caution],
    about: Mapping[str, str],
    system: System = "metric",
    *,
    only: str = "",
) -> None:
    """All items, worst first, with the counts below them and then the cautions, once each.

    `only` shows the items of that verdict (`over`, `outside`, `ok`); the counts are of all.
    """
    results = list(results)
    for label, text in about.items():
        hang(out, f"{label}: ", text)
    wide = min(max((len(r.id) for r in results), default=2), 16)
    for result in sorted(results, key=_gravity):
        if not only or result.status == only:
            _item(result, out, system, wide)
    _counts(results, out)
    print_cautions(cautions, out, system)


def _gravity(result: Result) -> tuple[int, float]:
    used = result.worst.utilisation if result.worst is not None else None
    return -GRAVEST[result.status], -(used if used is not None else inf if result.status != "ok" else 0.0)


def _item(result: Result, out: Out, system: System, wide: int) -> None:
    """Two to four lines: verdict and title; where it is and what loads it; what governs; why it does not hold."""
    worst = result.worst
    what = result.title or printed(joined("; ", result.about.values()), system) or result.kind.replace("_", " ")
    name = result.id if len(result.id) <= wide else f"{result.id[: wide - 1]}…"
    used = percent(worst.utilisation) if worst is not None and worst.safety_factor is not None else "-"
    head = f"{name.ljust(wide)}  {WORDS[result.status]:<10} {used:>5}  "
    title = " ".join(what.split())
    room = max(out.width, 40) - len(head)
    out.print(head + (title if len(title) <= room else f"{title[: room - 1]}…"), style=STYLE[result.status])
    branches = [words for words in (_where(result, system), _governs(result, system)) if words]
    if result.status != "ok":
        branches += [printed(text, system) for text in _why(result)]
    fork, last = ("├ ", "└ ") if _box_drawing() else ("+ ", "+ ")
    for n, words in enumerate(branches):
        hang(out, f"  {last if n == len(branches) - 1 else fork}", words)


def _box_drawing() -> bool:
    """Whether what is printed can hold lines of a tree."""
    try:
        "├└".encode(getattr(sys.stdout, "encoding", None) or "utf-8")
    except (LookupError, UnicodeEncodeError):
        return False
    return True


def _where(result: Result, system: System) -> str:
    """The place in the plan, and the case or the way of the load that governs."""
    place = getattr(result.model, "place", None)
    told = []
    if place is not None:
        x1, y1, x2, y2 = place
        told.append(printed(f"{mm(x1, ', ', y1, ' to ', x2, ', ', y2):g}", system))
    if result.loads:
        standing = result.loads[0].standing
        told.append(f"{standing.name} in {standing.under}")
    elif case := getattr(result.model, "case", ""):
        told.append(str(case))
    return "; ".join(told)


def _governs(result: Result, system: System) -> str:
    worst = result.worst
    if worst is None:
        return ""
    if worst.safety_factor is None:
        return "no load given: capacities only"
    return f"{printed(worst.title, system)}: has {down(worst.safety_factor)}, needs {up(worst.required_factor)}"


def _counts(results: list[Result], out: Out) -> None:
    counts = {word: sum(r.status == word for r in results) for word in ("ok", "over", "outside")}
    told = [f"{counts['ok']} hold{'s' if counts['ok'] == 1 else ''}"]
    if counts["over"]:
        told.append(f"{counts['over']} {'does' if counts['over'] == 1 else 'do'} not hold")
    if counts["outside"]:
        told.append(f"{counts['outside']} cannot be judged")
    out.print()
    out.print(f"{len(results)} item{'s' if len(results) != 1 else ''}: " + ", ".join(told), style="bold")
    if sentence := trust(results):
        hang(out, "", sentence)


MOST_REASONS = 3


def _why(result: Result) -> list[str]:
    """Why an item does not hold or cannot be judged, besides what governs, the worst first."""
    over = sorted(
        (c for c in result.checks if c.status == "over" and c is not result.worst),
        key=lambda c: -(c.utilisation if c.utilisation is not None else inf),
    )
    told = [f"{c.title}: {percent(c.utilisation)}" if c.utilisation is not None else str(c.title) for c in over]
    if result.status == "outside":
        told = list(result.unjudged) or [f"{c.title}: {c.note}" for c in result.checks if c.status == "outside"]
    more = [f"and {len(told) - MOST_REASONS} more"] if len(told) > MOST_REASONS else []
    return [*told[:MOST_REASONS], *more]
