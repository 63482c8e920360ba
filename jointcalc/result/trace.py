"""Steps of a working beside the formulas: amounts with their units, values read from a table, values stated."""

from __future__ import annotations

from dataclasses import dataclass
from math import isfinite
from typing import TYPE_CHECKING, Any

from jointcalc.formula.core import Evaluation, Line, Source, Status
from jointcalc.formula.printed import pretty
from jointcalc.quantity.sentence import Sentence

if TYPE_CHECKING:
    from jointcalc.result.checks import Check


@dataclass(frozen=True, slots=True)
class Amount:
    """A value with its unit; `value` is None where there is no finite number to give."""

    value: float | None
    unit: str
    note: str = ""
    """Why there is no number, or what is particular about it."""

    def __post_init__(self) -> None:
        if self.value is not None and not isfinite(self.value):
            object.__setattr__(self, "value", None)

    def json(self) -> dict[str, Any]:
        """The contract's shape; a note where there is one."""
        return {"value": self.value, "unit": self.unit, **({"note": self.note} if self.note else {})}

    @property
    def quantity(self) -> Any:
        """The same as a pint quantity of jointcalc's one registry."""
        from jointcalc.quantity.edge import quantity

        return quantity(self.value, self.unit)


@dataclass(frozen=True, slots=True)
class Looked:
    """A value read from a published table, as a step of a working."""

    symbol: str
    unit: str
    value: float
    table: str
    how: str
    source: Source

    def __post_init__(self) -> None:
        object.__setattr__(self, "how", Sentence(self.how))

    def lines(self) -> list[Line]:
        """One line: the table it came from and how it was read."""
        return [
            Line(
                symbol=pretty(self.symbol),
                expression=f"table {self.table}",
                substituted=self.how,
                value=self.value,
                unit=self.unit,
                source=self.source.cited,
            )
        ]


@dataclass(frozen=True, slots=True)
class Stated:
    """A value that was given or chosen, as a step of a working (a share, a default, a direction)."""

    symbol: str
    unit: str
    value: float
    how: str
    source: str = ""
    status: Status | None = None
    """How sure we are of it where it was carried over from another check; None for what the builder gave."""

    def __post_init__(self) -> None:
        object.__setattr__(self, "how", Sentence(self.how))

    @classmethod
    def of(cls, symbol: str, check: Check, how: str = "") -> Stated:
        """The utilisation of another check, carried into a sum with the mark of its weakest source."""
        words = how or f"utilisation of {check.key}"
        return cls(symbol, "1", float(check.utilisation or 0.0), words, status=check.provenance)

    def lines(self) -> list[Line]:
        """One line: the value and where it comes from."""
        return [Line(pretty(self.symbol), "given", self.how, self.value, self.unit, self.source)]


Trace = tuple[Evaluation | Looked | Stated, ...]
