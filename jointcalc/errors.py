"""Errors that speak to a builder.

One kind of error for wrong input, whatever layer finds it.  The command line turns it into one
message on stderr and exit code 2; anything else that escapes is a fault of ours (exit code 3).
"""

from __future__ import annotations

from difflib import get_close_matches
from typing import TYPE_CHECKING

from jointcalc.marks import Marked, marked

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator


class InputError(ValueError):
    """Something the builder typed cannot be used.

    `message` says what was wrong, what is accepted and what to do; `field` names the option, key or
    column; `where` names the file and line when there is one.  `message` is plain text that keeps its measures for a
    reader of inches, as `marked` does; put into another text by an f-string it hands them on.
    """

    def __init__(self, message: str, *, field: str = "", where: str = "") -> None:
        self.message = Marked(message)
        super().__init__(str(self.message))
        self.field = field
        self.where = where

    def __str__(self) -> str:
        return str(Marked(self.marked))

    @property
    def marked(self) -> str:
        """The whole text with its measures marked, for a reader of inches (`jointcalc.quantity.sentence`)."""
        return ": ".join(marked(part) for part in (self.where, self.field, self.message) if part)

    def __reduce__(self) -> tuple[object, ...]:
        return (_rebuild, (type(self), self.message, self.field, self.where))

    def at(self, *, field: str = "", where: str = "") -> InputError:
        """The same fault with its place filled in; what is known already is kept."""
        return type(self)(self.message, field=self.field or field, where=self.where or where)


class InputErrors(InputError):
    """Several faults found in one reading, so that the builder mends them in one round."""

    def __init__(self, faults: Iterable[InputError]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(_once(self.faults)))

    def __reduce__(self) -> tuple[object, ...]:
        return (InputErrors, (self.faults,))

    def at(self, *, field: str = "", where: str = "") -> InputErrors:
        """The same faults, each with its place filled in."""
        return InputErrors(fault.at(field=field, where=where) for fault in self.faults)


MOST_PLACES = 4
"""Places named of those where the same is wrong."""


def _once(faults: Iterable[InputError]) -> Iterator[str]:
    """Each fault; what is wrong in several places alike is told once, and the other places behind it."""
    alike: dict[tuple[str, str], list[InputError]] = {}
    for fault in faults:
        alike.setdefault((fault.field, str(fault.message)), []).append(fault)
    for first, *others in alike.values():
        yield first.marked
        places = [marked(one.where) for one in others if one.where and one.where != first.where]
        if places:
            more = f" and {len(places) - MOST_PLACES} more" if len(places) > MOST_PLACES else ""
            yield f"  the same: {'; '.join(places[:MOST_PLACES])}{more}"


def _rebuild(kind: type[InputError], message: str, field: str, where: str) -> InputError:
    return kind(message, field=field, where=where)


def nearest(word: str, known: Iterable[str]) -> str:
    """A hint such as `; did you mean 'pitch'?`, or nothing when no known word is near."""
    spelt = {k.lower(): k for k in known}
    found = get_close_matches(word.lower(), spelt, n=5, cutoff=0.6)
    # among the near ones, the same letters in another order are the likeliest slip: DC40 for DC04
    swapped = [k for k in found if sorted(k) == sorted(word.lower())]
    best = (swapped or found)[:1]
    return f"; did you mean '{spelt[best[0]]}'?" if best else ""
