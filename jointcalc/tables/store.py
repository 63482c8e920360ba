"""Reading `tables/`: one CSV per table, values as printed, and a provenance record beside it.

The CSV keeps the units of its source; numbers leave this module in N, mm, MPa, t, s.  Status words
travel: whatever is looked up carries the status of its row into the result that used it.
"""

from __future__ import annotations

import csv
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt

from jointcalc.errors import InputError, nearest
from jointcalc.quantity.sentence import as_printed
from jointcalc.quantity.units import COLUMN_UNITS

_HERE = Path(__file__).resolve().parent
_SHIPPED = _HERE.parent / "_tables"
# An editable install has no copy inside the package; there the folder stands beside it.
FOLDER = _SHIPPED if _SHIPPED.is_dir() else _HERE.parent.parent / "tables"


@dataclass(frozen=True, slots=True)
class Column:
    """What a column holds: unit as printed, meaning, and the factor to our base unit."""

    name: str
    unit: str
    meaning: str

    @property
    def factor(self) -> float:
        """Printed number x factor = number in base units."""
        return COLUMN_UNITS.get(self.unit, (1.0, self.unit))[0]

    @property
    def base(self) -> str:
        """The base unit numbers of this column are handed out in."""
        return COLUMN_UNITS.get(self.unit, (1.0, self.unit))[1]


@dataclass(frozen=True, slots=True)
class Provenance:
    """Where a table was published and how we know its values."""

    title: str
    document: str
    clause: str
    edition: str
    status: str
    compared: str
    note: str
    key: tuple[str, ...]
    interpolate_on: str

    @property
    def citation(self) -> str:
        """Document, edition and clause in one line."""
        edition = f", {self.edition}" if self.edition and self.edition not in self.document else ""
        return f"{self.document}{edition}" + (f", {self.clause}" if self.clause else "")


class OutsideTable(ValueError):
    """A look-up beyond the first or last row, or at an empty cell."""


class Row(Mapping[str, str]):
    """One row: text by column name, and numbers in base units by `number`."""

    def __init__(self, table: Table, cells: dict[str, str]) -> None:
        self._table = table
        self._cells = cells

    def __getitem__(self, column: str) -> str:
        return self._cells[column]

    def __iter__(self) -> Iterator[str]:
        return iter(self._cells)

    def __len__(self) -> int:
        return len(self._cells)

    @property
    def status(self) -> str:
        """Status of this row's values."""
        return self._cells.get("status") or self._table.provenance.status

    def number(self, column: str) -> float | None:
        """The cell in base units; None when the source gives none."""
        text = self._cells[column]
        return float(text) * self._table.columns[column].factor if text else None

    def need(self, column: str) -> float:
        """The cell in base units; OutsideTable when the source gives none."""
        value = self.number(column)
        if value is None:
            raise OutsideTable(f"table '{self._table.name}' gives no {column} here")
        return value


@dataclass(frozen=True)
class Table:
    """A published table.

    `columns` says what each column is; rows keep the printed text.
    """

    name: str
    provenance: Provenance
    columns: Mapping[str, Column]
    rows: tuple[Row, ...]

    def numbers(self, column: str) -> npt.NDArray[np.float64]:
        """All cells of a column in base units, shape (rows,); NaN where empty."""
        return _numbers(self.name, column)

    def find(self, **key: str) -> Row:
        """The row with exactly these cells; InputError naming near keys when there is none."""
        for row in self.rows:
            if all(row[column] == text for column, text in key.items()):
                return row
        column, text = next(iter(key.items()))
        known = [row[column] for row in self.rows]
        raise InputError(f"'{text}' is not in table '{self.name}'{nearest(text, known)}")

    def at(self, value: float, column: str) -> float:
        """Linear interpolation of `column` at `value` of the table's running column, base units.

        Never beyond the first or last row that has the cell: raises OutsideTable then.
        """
        return _at(self.name, float(value), column)

    def reach(self, column: str) -> tuple[float, float]:
        """First and last value of the running column at which `column` has a cell, base units."""
        x, _ = _filled(self.name, self.provenance.interpolate_on, column)
        return float(x[0]), float(x[-1])

    def row_status(self, value: float) -> str:
        """The weaker status of the two rows that bracket `value` on the running column."""
        return _row_status(self.name, float(value))


@cache
def _numbers(name: str, column: str) -> npt.NDArray[np.float64]:
    table = load(name)
    values = np.array([np.nan if (v := row.number(column)) is None else v for row in table.rows])
    values.flags.writeable = False
    return values


@cache
def _filled(name: str, on: str, column: str) -> tuple[npt.NDArray[np.float64], npt.NDArray[np.float64]]:
    x, y = _numbers(name, on), _numbers(name, column)
    keep = ~np.isnan(y)
    if not keep.any():
        raise OutsideTable(f"table '{name}' gives no {column}")
    return x[keep], y[keep]


LOOKED_UP = 4096
"""Look-ups remembered: a project asks the same tables about the same few sheets for every joint."""


@lru_cache(maxsize=LOOKED_UP)
def _at(name: str, value: float, column: str) -> float:
    table = load(name)
    on = table.provenance.interpolate_on
    if not on:
        raise ValueError(f"table {name} has no interpolation rule")
    x, y = _filled(name, on, column)
    if not x[0] * (1 - 1e-9) <= value <= x[-1] * (1 + 1e-9):
        unit = table.columns[on].base
        raise OutsideTable(
            f"table runs from {as_printed(f'{x[0]:.4g} to {x[-1]:.4g} {unit}', x[0], ' to ', x[-1], unit=unit)}, "
            f"this is {as_printed(f'{value:.4g} {unit}', value, unit=unit)}"
        )
    return float(np.interp(value, x, y))


@lru_cache(maxsize=LOOKED_UP)
def _row_status(name: str, value: float) -> str:
    table = load(name)
    order = ("read", "second-hand", "computed", "common practice", "from memory")
    x = table.numbers(table.provenance.interpolate_on)
    upper = int(np.searchsorted(x, value * (1 - 1e-9)).clip(0, len(x) - 1))
    used = {table.rows[upper].status}
    if upper and x[upper] > value * (1 + 1e-9):
        used.add(table.rows[upper - 1].status)
    return max(used, key=lambda s: order.index(s) if s in order else len(order))


def names() -> list[str]:
    """Names of all tables, sorted."""
    return sorted(path.stem for path in FOLDER.glob("*.csv"))


@cache
def load(name: str) -> Table:
    """The table of that name; InputError with the nearest known name when there is none."""
    path = FOLDER / f"{name}.csv"
    if not (name.isidentifier() and path.is_file()):
        raise InputError(f"there is no table '{name}'{nearest(name, names())} (`jointcalc tables` lists them)")
    record: dict[str, Any] = tomllib.loads(path.with_suffix(".toml").read_text(encoding="utf-8"))
    columns = {
        column: Column(column, str(about.get("unit", "text")), str(about.get("meaning", "")))
        for column, about in record["columns"].items()
    }
    provenance = Provenance(
        title=record["title"],
        document=record["document"],
        clause=record.get("clause", ""),
        edition=str(record.get("edition", "")),
        status=record["status"],
        compared=record.get("compared", ""),
        note=record.get("note", ""),
        key=tuple(record.get("key", ())),
        interpolate_on=record.get("interpolate_on", ""),
    )
    rows: list[Row] = []
    table = Table(name, provenance, columns, ())
    with path.open(encoding="utf-8", newline="") as file:
        rows.extend(Row(table, dict(cells)) for cells in csv.DictReader(file))
    object.__setattr__(table, "rows", tuple(rows))
    return table
