"""A project's answer: every item on a line, the worst first, what stops the work, and the other cautions counted.

The verdicts stand last, so that they are what a screen shows; what no check judges is printed above them, and on demand
details and cautions.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable, Mapping
from math import inf
from typing import TYPE_CHECKING

from jointcalc.explore.changed import Changed
from jointcalc.quantity.sentence import mm, printed
from jointcalc.quantity.show import System, percent
from jointcalc.result import Result
from jointcalc.show.ending import also_over
from jointcalc.show.summary import Line, Summary, Told, gravity, named, summarise
from jointcalc.show.terminal import SEVERITY, STYLE, down, filled, hang, up

if TYPE_CHECKING:
    from jointcalc.show.terminal import Out

MARK = "*"
"""Behind a utilisation that rests on values from memory or at second hand."""
NO_LOAD = "no load"
NARROW = 60
"""Columns below which the words of an item stand under its verdict."""
LONG_ID = 16
IN_SIGHT = 20
"""Items from which on those that do not hold are named once more under the table."""
MOST_NAMED = 12


def print_tree(
    results: Iterable[Result],
    out: Out,
    about: Mapping[str, str],
    system: System = "metric",
    *,
    only: str = "",
    full: bool = False,
    cautions: bool = False,
    thin: Mapping[str, Changed] | None = None,
    unjudged: Iterable[str] = (),
) -> None:
    """The verdict of every item, the worst first, on a line each; then counts, and what stops the work by item.

    `only` shows the items of that verdict (`over`, `outside`, `ok`); the counts are of all.  `full` prints where each
    item is, what loads it and by which methods it is judged above the table, `cautions` all cautions by item.  `thin`
    are the items judged with thinner sheets, `unjudged` sentences on what the file holds and no check judges.
    """
    results = list(results)
    made = summarise(results, system, thin=thin)
    hang(out, "", "; ".join(f"{label}: {text}" for label, text in about.items()))
    if full:
        out.print()
        _details([r for r in sorted(results, key=gravity) if not only or r.status == only], out, system)
    if cautions:
        out.print()
        _cautions(made, out)
    for text in unjudged:
        hang(out, "not judged  ", printed(text, system))
    out.print()
    by_id = {result.id: result for result in results}
    _table([line for line in made.lines if not only or line.judged.status == only], by_id, out)
    _counts(made, out)
    for one in (*made.stops, *(one for one in made.cautions if one.stands)):
        word, style = SEVERITY[one.severity]
        hang(out, f"{word}  {', '.join(one.ids)}: ", one.text, style=style)
    counted = [one for one in made.cautions if not one.stands]
    if counted and not cautions:
        warnings = sum(one.severity == "warn" for one in counted)
        total = len(counted)
        told = f"{total} caution{'s' if total != 1 else ''}, {warnings} of them warnings"
        hang(out, "", f"{told}: --cautions lists them by item; --full adds loads and methods")


# --- the table of verdicts ---------------------------------------------------------------------------


def _table(lines: list[Line], results: Mapping[str, Result], out: Out) -> None:
    width = max(out.width, 40)
    wide = min(max((len(line.id) for line in lines), default=2), LONG_ID)
    words = max((len(_word(line)) for line in lines), default=5)
    thin = any(line.thin is not None for line in lines)
    for line in lines:
        head = f"{line.id.ljust(wide)}  {_word(line).ljust(words)}  {_used(line):>7}"
        if thin:
            head += f"  thin {_thin(line):>6}"
        text = _what(line)
        style = STYLE[line.judged.status] if line.loaded else "bold"
        at = len(head) + 2
        if width < NARROW or width - at < 24:
            out.print(head.rstrip(), style=style)
            rows, at = filled(text, width - 4), 4
        else:
            rows = filled(text, width - at)
            out.print(f"{head}  {rows[0] if rows else ''}".rstrip(), style=style)
            rows = rows[1:]
        for row in rows:
            out.print(" " * at + row, style=style)
        result = results[line.id]
        if line.judged.status == "over" and (also := also_over(result)):
            hang(out, " " * 4, f"also over: {also}", indent=6)
        for text in line.unjudged:
            hang(out, " " * 4, text, indent=6)


def _word(line: Line) -> str:
    return line.judged.word if line.loaded else NO_LOAD


def _used(line: Line) -> str:
    if not line.loaded or line.judged.used is None:
        return "- "
    return percent(line.judged.used) + (MARK if line.unverified else " ")


def _thin(line: Line) -> str:
    if line.thin is None or line.thin.judged is None or line.thin.judged.used is None:
        return "-"
    return percent(line.thin.judged.used)


def _what(line: Line) -> str:
    """The item's title, and what gives way first."""
    title = " ".join(line.title.split())
    if not line.loaded:
        return f"{title}: what it may carry stands under --full"
    if line.judged.status == "outside" or not line.judged.governs:
        return title
    return f"{title}: {line.judged.governs}"


def _counts(made: Summary, out: Out) -> None:
    idle = sum(not line.loaded for line in made.lines)
    hold = made.counts["ok"] - idle
    told = [f"{hold} hold{'s' if hold == 1 else ''}"]
    if over := made.counts["over"]:
        told.append(f"{over} {'does' if over == 1 else 'do'} not hold")
    if outside := made.counts["outside"]:
        told.append(f"{outside} cannot be judged")
    if idle:
        told.append(f"{idle} {'has' if idle == 1 else 'have'} no load")
    out.print()
    total = len(made.lines)
    hang(out, "", f"{total} item{'s' if total != 1 else ''}: {', '.join(told)}", style="bold")
    weak = [line.id for line in made.lines if line.judged.status != "ok"]
    if len(made.lines) > IN_SIGHT and weak:
        more = f" and {len(weak) - MOST_NAMED} more" if len(weak) > MOST_NAMED else ""
        hang(out, "not holding, the worst first: ", ", ".join(weak[:MOST_NAMED]) + more, style="bold")
    if made.turns:
        what = next(line.thin.what for line in made.lines if line.thin is not None)
        hang(out, "", f"With {what} these hold no more: {', '.join(made.turns)}", style="bold")
    if made.trust:
        hang(out, f"{MARK} " if made.unverified else "", made.trust)


# --- on demand: cautions by item, details ------------------------------------------------------------


def _cautions(made: Summary, out: Out) -> None:
    """Every caution once, under the items that raise it."""
    together: dict[tuple[str, ...], list[Told]] = {}
    for one in (one for one in made.cautions if not one.stands):
        together.setdefault(one.ids, []).append(one)
    everyone = len(made.lines)
    for ids, told in sorted(together.items(), key=lambda pair: -len(pair[0])):
        whole = f"Every item ({everyone})" if len(ids) == everyone and everyone > 1 else ", ".join(ids)
        hang(out, "", f"{whole}:", style="bold")
        for one in told:
            hang(out, f"  {SEVERITY[one.severity][0]}: ", one.text)


def _details(results: Iterable[Result], out: Out, system: System) -> None:
    """Under each item: where it is and what loads it, the method that governs, why it does not hold."""
    fork, last = ("├ ", "└ ") if _box_drawing() else ("+ ", "+ ")
    for result in results:
        hang(out, "", f"{result.id}  {' '.join(named(result, system).split())}", style=STYLE[result.status])
        branches = [words for words in (_where(result, system), _governs(result, system)) if words]
        if result.status != "ok":
            branches += [printed(text, system) for text in _why(result)]
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
    has, needs = down(worst.safety_factor), up(worst.required_factor)
    return f"{printed(worst.title, system)} [{worst.key}]: has {has}, needs {needs}"


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
