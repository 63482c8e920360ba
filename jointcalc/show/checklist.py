"""What an inspector looks at and measures on a finished item: what is asked, and room for what was found.

Every number is one of the model: what was judged is what must be there.  The part of each kind is a hook of its record
(`checklist`), so that no kind is without one; what several kinds share (sheets, their certificates, the look of a weld)
stands here.  Nothing is judged here: who fills the fields in decides.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal

from jointcalc.model.sheet import PLAIN, Sheet
from jointcalc.quantity.sentence import Sentence, printed
from jointcalc.quantity.show import System, show_in
from jointcalc.registry import BY_MODEL, SOURCES, load

Bound = Literal["least", "greatest", "about", "words"]
"""What is asked is the least, the greatest, the size as drawn, or told in words."""

WORD: dict[Bound, str] = {"least": "at least", "greatest": "at most", "about": "", "words": ""}

FIELDS = ("measured", "accepted", "by", "date")
"""What is filled in beside every entry."""

MAKER = "by the maker's sheet"
"""Asked where no table of ours gives a number."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One line of a checklist.

    `key` names it within its item and stays the same for the same item; `check` is what is looked at, in shop words.
    `asked` is a number in the result unit `unit` (mm, MPa, t, or empty for a count), or None where `words` say it.
    `places` is how many are to be measured or looked at.
    """

    key: str
    check: Sentence
    asked: float | None = None
    unit: str = "mm"
    bound: Bound = "about"
    places: int = 1
    words: str = ""

    @property
    def measured(self) -> bool:
        """Whether a number is written beside it; of the others, that it is so."""
        return self.asked is not None

    def asked_text(self, system: System) -> str:
        """What is asked, printed for a reader: `at least 5.5 mm`."""
        if self.asked is None:
            return printed(self.words, system)
        return f"{WORD[self.bound]} {show_in(self.asked, self.unit, system)}".strip()

    def unit_text(self, system: System) -> str:
        """The unit that what is measured is written in; empty for a count or a word."""
        if self.asked is None or not self.unit:
            return ""
        return show_in(self.asked, self.unit, system).rpartition(" ")[2]


def checklist(item: Any) -> tuple[Entry, ...]:
    """The checklist of an item of a project, or of what gives loads (a frame).

    Raises ValueError when two entries share a key, for what is filled in is kept under it.
    """
    record = BY_MODEL.get(type(item).__name__) or SOURCES[type(item).__name__.lower()]
    make: Callable[[Any], Iterable[Entry]] = load(record.checklist)  # type: ignore[union-attr]
    entries = tuple(make(item))
    keys = [entry.key for entry in entries]
    if len(set(keys)) < len(keys):
        raise ValueError(f"{item.id}: two lines of its checklist share a key of {sorted(keys)}")
    return entries


def size(key: str, check: str, asked: float, bound: Bound = "about", *, places: int = 1, unit: str = "mm") -> Entry:
    """An entry that is measured."""
    return Entry(
        key=key, check=Sentence(check), asked=float(asked), unit=unit, bound=bound, places=places
    )  # fmt: skip


def count(key: str, check: str, asked: int) -> Entry:
    """An entry that is counted: at least so many."""
    return size(key, check, asked, "least", unit="")


def look(key: str, check: str, words: str, *, places: int = 1) -> Entry:
    """An entry that is looked at: `words` say what must be so."""
    return Entry(key=key, check=Sentence(check), unit="", bound="words", places=places, words=Sentence(words))


def within(prefix: str, name: str, entries: Iterable[Entry]) -> Iterator[Entry]:
    """The entries of a part of an item: their keys and words say which."""
    for entry in entries:
        yield replace(entry, key=f"{prefix}.{entry.key}", check=Sentence(f"{name}: {entry.check}"))


def alike(values: Iterable[float], step: float = 0.01) -> list[tuple[float, int]]:
    """(size, how many) of sizes [mm] that a rule cannot tell apart, in the order met."""
    found: dict[int, tuple[float, int]] = {}
    for value in values:
        kept, n = found.get(round(value / step), (value, 0))
        found[round(value / step)] = (min(kept, value), n + 1)
    return list(found.values())


def sheets(stack: Sequence[Sheet], names: Sequence[str] = ()) -> Iterator[Entry]:
    """Thickness, grade and strengths of every sheet; equal ones together.

    `names` name them where "sheet 1", "sheet 2" would not do.
    """
    told = tuple(names) or tuple(f"sheet {n + 1}" for n in range(len(stack))) if len(stack) > 1 or names else ("sheet",)
    together: dict[tuple[Any, ...], list[int]] = {}
    for n, sheet in enumerate(stack):
        same = (sheet.label, sheet.thickness, sheet.f_u, sheet.f_y if sheet.has_yield else None)
        together.setdefault(same, []).append(n)
    for places in together.values():
        sheet = stack[places[0]]
        name, key = " and ".join(told[n] for n in places), f"sheet-{places[0] + 1}"
        if len(places) == len(stack) > 1 and not names:
            name = "both sheets" if len(stack) == 2 else "every sheet"
        zinc = ", over the zinc" if sheet.coated else ""
        yield size(f"{key}.thickness", f"Thickness of {name}{zinc}", sheet.thickness, "least", places=len(places))
        bare = "bare" if sheet.coating.strip().lower() in PLAIN else f"zinc {sheet.coating}"
        yield look(f"{key}.grade", f"Certificate or stamp of {name}: grade", f"{sheet.material.grade}, {bare}")
        yield size(f"{key}.f_u", f"Tensile strength on it, {name}", sheet.f_u, "least", unit="MPa")
        if sheet.has_yield:
            yield size(f"{key}.f_y", f"Yield strength on it, {name}", sheet.f_y, "least", unit="MPa")


def coupons(made: bool, how: str) -> Entry:
    """Coupons of the same sheets and settings."""
    asked = "made and passed, as the project says: see the record" if made else "to be made and passed"
    return look("coupons", f"Coupons of these sheets and settings, {how}", asked)
