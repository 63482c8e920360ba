"""A judged project in plain data: a line an item, the worst first, with what gives way in the words of the shop.

What the terminal, page 1 of the dossier and the page for the bench say alike is gathered here once; they only lay it
out.  All text is ready to print for a reader of `system`; nothing here judges anything.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import inf
from typing import Literal

from jointcalc.explore.changed import Changed
from jointcalc.quantity.sentence import printed
from jointcalc.quantity.show import System
from jointcalc.result import GRAVEST, Caution, Result, trust
from jointcalc.result.cautions import Severity
from jointcalc.result.plain import plain

Status = Literal["ok", "over", "outside"]
WORDS: Mapping[str, str] = {"ok": "holds", "over": "OVER", "outside": "NOT JUDGED"}
"""Verdict -> the word of a table."""


@dataclass(frozen=True, slots=True)
class Judged:
    """What governs a result: `used` (required / actual factor) and `margin` (actual / required - 1) as parts of one.

    Both are None where there is none to give: no load, nothing judged, or a load that no method covers, under which
    a margin would be taken for the item's own.  `governs` is what gives way in the words of the shop, `title`, `key`
    and `source` the method; `where` the place the check is about (`sheet-1`), mostly empty.
    """

    status: Status
    used: float | None
    factor: float | None
    needs: float | None
    governs: str
    title: str
    key: str
    source: str
    where: str = ""

    @property
    def margin(self) -> float | None:
        """What is left of the required factor: 0.25 holds a quarter more, -0.5 half of what it must; None without."""
        return None if self.factor is None or not self.needs else self.factor / self.needs - 1

    @property
    def word(self) -> str:
        """`holds`, `OVER` or `NOT JUDGED`."""
        return WORDS[self.status]


@dataclass(frozen=True, slots=True)
class Thin:
    """The item with every sheet thinner: how it is judged then, or None and why it cannot be."""

    what: str
    judged: Judged | None
    why: str
    turns: bool
    """Whether what held as described holds no more."""


@dataclass(frozen=True, slots=True)
class Told:
    """A caution with the items that raise it, in their order."""

    code: str
    severity: Severity
    text: str
    ids: tuple[str, ...]
    stands: bool = False
    """Whether it is told in full where others are counted: what stops the work, and what was asked of the item."""


@dataclass(frozen=True, slots=True)
class Line:
    """One item.  `unverified` is `from memory` or `second-hand` where the governing value rests on such, else empty.

    `loaded` is False where the item has no load and only says what it may carry.  `unjudged` says which loads no method
    covers.  `under` are the case and what gives the load that governs, where it has such.  `stops` are the texts of
    what stops the work, `cautions` counts the others; those that every result carries are counted as well.
    """

    id: str
    kind: str
    title: str
    judged: Judged
    loaded: bool
    unverified: str
    unjudged: tuple[str, ...]
    under: str
    stops: tuple[str, ...]
    cautions: int
    thin: Thin | None = None


@dataclass(frozen=True, slots=True)
class Summary:
    """A judged project; `lines` are its items, the worst first, `cautions` all that is no stop, the gravest first.

    `turns` are the ids of the items that hold as described and no more with thin sheet, `open_points` what the project
    says is open and then what could not be judged or has no load, each under its item's id.  `trust` is the sentence on
    how many governing values are unverified.
    """

    lines: tuple[Line, ...]
    status: Status
    counts: Mapping[Status, int]
    stops: tuple[Told, ...]
    cautions: tuple[Told, ...]
    open_points: tuple[str, ...]
    trust: str

    @property
    def worst(self) -> Line | None:
        """The item that stands first; None without any."""
        return self.lines[0] if self.lines else None

    @property
    def turns(self) -> tuple[str, ...]:
        """Items whose verdict turns with thin sheet, in the order of the lines."""
        return tuple(line.id for line in self.lines if line.thin is not None and line.thin.turns)

    @property
    def unverified(self) -> int:
        """How many items are governed by a value from memory or at second hand."""
        return sum(bool(line.unverified) for line in self.lines)


def summarise(
    results: Iterable[Result],
    system: System = "metric",
    *,
    thin: Mapping[str, Changed] | None = None,
    open_points: Iterable[str] = (),
) -> Summary:
    """The results of a project's items in plain data.

    `thin` holds, by item id, the item judged with thinner sheets (`explore.sensitivity.thinner`, or the first of
    `sensitivity`); items not in it have no `Line.thin`.  `open_points` are the project's own.
    """
    results = list(results)
    lines = [_line(result, system, (thin or {}).get(result.id)) for result in sorted(results, key=gravity)]
    told = _cautions(results, system)
    counts: dict[Status, int] = {"ok": 0, "over": 0, "outside": 0}
    for result in results:
        counts[result.status] += 1
    worst: Status = "over" if counts["over"] else "outside" if counts["outside"] else "ok"
    points = [*open_points]
    for line in lines:
        points += [f"{line.id}: not judged: {text}" for text in line.unjudged]
        if not line.loaded:
            points.append(f"{line.id}: no load given, so nothing is said to hold")
    return Summary(
        lines=tuple(lines),
        status=worst,
        counts=counts,
        stops=tuple(one for one in told if one.severity == "stop"),
        cautions=tuple(one for one in told if one.severity != "stop"),
        open_points=tuple(points),
        trust=trust(results),
    )


def gravity(result: Result) -> tuple[int, float]:
    """Sorts results: over, not judged, holding; each by what is used, the most first."""
    used = result.worst.utilisation if result.worst is not None else None
    return -GRAVEST[result.status], -(used if used is not None else inf if result.status != "ok" else 0.0)


def judged_of(result: Result, system: System = "metric") -> Judged:
    """What governs a result."""
    worst = result.worst
    if worst is None:
        return Judged(result.status, None, None, None, "", "", "", "")
    told = worst.safety_factor is not None and result.status != "outside"
    return Judged(
        status=result.status,
        used=worst.utilisation if told else None,
        factor=worst.safety_factor if told else None,
        needs=worst.required_factor if told else None,
        governs=plain(worst),
        title=printed(worst.title, system),
        key=worst.key,
        source=worst.source,
        where=worst.key.removeprefix(worst.method.key).removeprefix("."),
    )


def named(result: Result, system: System = "metric") -> str:
    """What an item is called: its title, else its kind and the first that is said of it, such as its sheets."""
    kind = result.kind.replace("_", " ")
    return result.title or " ".join([kind, *(printed(text, system) for text in list(result.about.values())[:1])])


def _line(result: Result, system: System, thinner: Changed | None) -> Line:
    worst = result.worst
    provenance = worst.provenance if worst is not None else ""
    loaded = worst is None or worst.safety_factor is not None or result.status != "ok"
    return Line(
        id=result.id,
        kind=result.kind,
        title=named(result, system),
        judged=judged_of(result, system),
        loaded=loaded,
        unverified=provenance if loaded and provenance in ("from memory", "second-hand") else "",
        unjudged=tuple(printed(text, system) for text in result.unjudged),
        under=_under(result),
        stops=tuple(printed(c.text, system) for c in result.cautions if c.severity == "stop"),
        cautions=sum(c.severity != "stop" for c in result.cautions),
        thin=None if thinner is None else _thin(result, thinner, system),
    )


def _under(result: Result) -> str:
    if result.loads:
        standing = result.loads[0].standing
        return f"{standing.name} in {standing.under}"
    return str(getattr(result.model, "case", "") or "")


def _thin(result: Result, changed: Changed, system: System) -> Thin:
    after = changed.result
    return Thin(
        what=printed(changed.what, system),
        judged=None if after is None else judged_of(after, system),
        why=printed(changed.why, system),
        turns=result.status == "ok" and (after is None or after.status != "ok"),
    )


def _cautions(results: Iterable[Result], system: System) -> list[Told]:
    """Every caution once, gravest first, with the items that raise it."""
    found: dict[tuple[str, str], tuple[Caution, list[str]]] = {}
    for result in results:
        for one in result.cautions:
            _, ids = found.setdefault((one.code, one.text), (one, []))
            if result.id not in ids:
                ids.append(result.id)
    order = ("stop", "warn", "note")
    return [
        Told(one.code, one.severity, printed(one.text, system), tuple(ids), one.stands)
        for one, ids in sorted(found.values(), key=lambda pair: order.index(pair[0].severity))
    ]
