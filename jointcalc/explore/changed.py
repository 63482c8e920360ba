"""An item once more with a change: judged by the same checks, or told why it cannot be."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace

from jointcalc.check import check
from jointcalc.errors import InputError
from jointcalc.model.fields import Item
from jointcalc.model.given import Standing
from jointcalc.result import DETAILING, Check, Result


@dataclass(frozen=True, slots=True)
class Changed:
    """The item once more with a change.

    `result` is None when the changed item cannot be made or judged, and `why` says so.  `lost` are the
    methods that judged the item as described and do not cover the changed one.
    """

    what: str
    result: Result | None
    why: str = ""
    lost: tuple[Check, ...] = field(default=())

    def against(self, before: Result) -> Changed:
        """The same beside the item as described, with the methods that judged that one alone."""
        if self.result is None:
            return self
        gone = before.applying - self.result.applying
        lost = tuple(c for c in before.judged if c.key in gone and c.method.basis != DETAILING)
        return replace(self, lost=lost)


def tried(what: str, change: Callable[[], Item], standings: Iterable[Standing]) -> Changed:
    """The changed item judged under its loads, or why it cannot be; what it has `lost` is left to `against`."""
    try:
        return Changed(what, check(change().under(standings)))
    except InputError as error:
        return Changed(what, None, str(error))


def judged(what: str, change: Callable[[], Item], before: Result) -> Changed:
    """The changed item judged, or why it cannot be; `before` is the result as described."""
    return tried(what, change, (one.standing for one in before.loads)).against(before)


def left(changed: Changed) -> tuple[float, float]:
    """What sorts the worst change first: not to be made at all, then by how little of the factor is left."""
    worst = changed.result.worst if changed.result is not None else None
    if worst is None or worst.utilisation is None:
        return (0.0 if changed.result is None else 1.0, 0.0)
    return (1.0 if changed.result is not None and changed.result.status == "outside" else 2.0, -worst.utilisation)
