"""The table files as they stand, read without the package, for the tests of this folder."""

from __future__ import annotations

import csv
import tomllib
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np

FOLDER = Path(__file__).resolve().parents[2] / "tables"
NAMES = sorted(path.stem for path in FOLDER.glob("*.csv"))


@cache
def record(name: str) -> dict[str, Any]:
    """Provenance record of a table."""
    return tomllib.loads((FOLDER / f"{name}.toml").read_text(encoding="utf-8"))


@cache
def header(name: str) -> list[str]:
    """Column names in the order of the file."""
    with (FOLDER / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return next(csv.reader(file))


@cache
def rows(name: str) -> list[dict[str, str]]:
    """Rows as text."""
    with (FOLDER / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def row(name: str, **cells: str) -> dict[str, str]:
    """The only row with these cells."""
    found = [r for r in rows(name) if all(r[k] == v for k, v in cells.items())]
    assert len(found) == 1, (name, cells, len(found))
    return found[0]


def is_text(name: str, column: str) -> bool:
    """Whether a column holds words."""
    return bool(record(name)["columns"][column]["unit"] == "text")


def numbers(name: str, column: str) -> np.ndarray:
    """A column in its printed unit; NaN where the source gives none."""
    return np.array([float(r[column]) if r[column] else np.nan for r in rows(name)])


def at(name: str, column: str, x: float) -> float:
    """Linear interpolation on the running column, printed units."""
    t, y = numbers(name, record(name)["interpolate_on"]), numbers(name, column)
    keep = ~np.isnan(y)
    assert t[keep][0] <= x <= t[keep][-1], (name, column, x)
    return float(np.interp(x, t[keep], y[keep]))
