"""Tables and methods with where they come from."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from textwrap import wrap
from typing import TYPE_CHECKING, Any, TypeVar

from jointcalc.errors import InputError, nearest
from jointcalc.files import to_stdout
from jointcalc.quantity.show import System, show_in
from jointcalc.show.document import dumps
from jointcalc.show.terminal import columns as table_lines
from jointcalc.show.terminal import console
from jointcalc.tables.store import Column, Row, Table, load, names

if TYPE_CHECKING:
    from jointcalc.show.terminal import Out

T = TypeVar("T")

LONGEST_CELL = 40
"""Characters of a text that still stand in a column."""


FEW = 3
"""Rows that are printed one below the other, each value with its meaning."""


def _key(text: str) -> str:
    return re.sub(r"[\s_-]+", "", text.lower())


def _named(words: str, texts: Iterable[str]) -> bool:
    """Whether every word stands in one of the texts, whatever its case; a blank more or less is none."""
    told = [text.lower() for text in texts]
    return any(_key(words) in _key(text) for text in told) or all(
        any(word in text for text in told) for word in words.lower().split()
    )


def _only(things: Sequence[T], only: Sequence[str], texts: Callable[[T], list[str]], what: str) -> list[T]:
    """Of the things those that one of the words names.  InputError when words name none."""
    kept: list[T] = []
    for words in only:
        found = [thing for thing in things if _named(words, texts(thing))]
        if not found:
            hint = nearest(words, (texts(thing)[0] for thing in things))
            raise InputError(f"no {what} has '{words}'{hint}", field="--only")
        kept += [thing for thing in found if not any(thing is one for one in kept)]
    return [thing for thing in things if any(thing is one for one in kept)] if only else list(things)


def _rows(table: Table, only: Sequence[str]) -> list[Row]:
    """Of a table the rows that are asked for: by words, by a row's own name alone, or by `column=value`."""
    if not only:
        return list(table.rows)
    first = next(iter(table.columns))
    texts = [c.name for c in table.columns.values() if c.unit == "text" and c.name != "note"]
    kept: list[Row] = []
    for words in only:
        column, equals, value = (part.strip() for part in words.partition("="))
        if equals:
            if column not in table.columns:
                hint = nearest(column, table.columns)
                raise InputError(
                    f"'{column}' is no column of {table.name}{hint} (they are: {', '.join(table.columns)})",
                    field="--only",
                )
            found = [row for row in table.rows if _same(row[column], value)]
        else:
            name = re.sub(r"\s*(?:ga|gauge|swg)\.?$", "", words, flags=re.IGNORECASE) if first == "gauge" else words
            called = [row for row in table.rows if _key(name) in _names_of(row, first)]
            found = called or [row for row in table.rows if _named(words, (row[name] for name in (first, *texts)))]
        if not found:
            hint = nearest(words, [name for row in table.rows for name in (row[first], *_aliases(row))])
            raise InputError(f"no row of {table.name} has '{words}'{hint}", field="--only")
        kept += found
    return [row for row in table.rows if any(row is one for one in kept)]


def _aliases(row: Mapping[str, str]) -> list[str]:
    return [name.strip() for name in row.get("aliases", "").split(";") if name.strip()]


def _names_of(row: Mapping[str, str], first: str) -> set[str]:
    return {_key(row[first]), *map(_key, _aliases(row))}


def _same(cell: str, value: str) -> bool:
    try:
        return float(cell) == float(value)
    except ValueError:
        return cell.lower() == value.lower()


def print_tables(json: bool, only: Sequence[str] = ()) -> None:
    """Every table: name, title, citation, status, rows."""
    tables = _only(
        [load(name) for name in names()], only,
        lambda t: [t.name, t.provenance.title, t.provenance.citation, t.provenance.status], "table",
    )  # fmt: skip
    if json:
        rows = [
            {
                "name": t.name,
                "title": t.provenance.title,
                "source": t.provenance.citation,
                "status": t.provenance.status,
                "rows": len(t.rows),
            }
            for t in tables
        ]
        to_stdout(dumps({"tables": rows}) + "\n")
        return
    out = console()
    for table in tables:
        about = table.provenance
        out.print(f"{table.name}  ({about.status}, {len(table.rows)} rows)", style="bold")
        for line in wrap(f"{about.title}. {about.citation}", width=max(40, out.width - 4)):
            out.print(f"    {line}")
    out.print()
    out.print("`jointcalc tables show NAME` prints one table, with `--only WORDS` some rows.")
    out.print("`jointcalc tables methods` lists the check keys.")


def print_methods(json: bool, only: Sequence[str] = ()) -> None:
    """Every check key with title, source, what its number is and the factor it asks for."""
    from jointcalc.check import all_methods

    kept = _only(
        list(all_methods().values()), only, lambda m: [m.key, m.title, str(m.source), m.source.status], "method"
    )
    found: dict[str, Any] = {m.key: m for m in kept}
    if json:
        rows = [
            {
                "key": m.key,
                "title": m.title,
                "source": str(m.source),
                "status": m.source.status,
                "per": m.per,
                "basis": m.basis,
                "required_factor": str(m.factor),
            }
            for m in found.values()
        ]
        to_stdout(dumps({"methods": rows}) + "\n")
        return
    out = console()
    for m in found.values():
        out.print(m.key, style="bold")
        text = f"{m.title}, per {m.per}. {m.source.cited}. Gives: {m.basis}. Asks for: {m.factor}."
        for line in wrap(text, width=max(40, out.width - 4)):
            out.print(f"    {line}")


_OTHER: Mapping[str, System] = {
    "mm": "inch", "N": "inch", "kN": "inch", "MPa": "inch", "GPa": "inch", "in": "metric", "lbf": "metric",
    "kip": "metric", "ksi": "metric",
}  # fmt: skip
"""Unit of a source -> the system its numbers are told in as well."""


def _cell(row: Row, column: Column) -> str:
    """A value as printed, with its unit, and in the units of the other system where those are told too."""
    text = row[column.name] + ("" if column.unit in ("text", "1") else f" {column.unit}")
    if column.unit in _OTHER and (value := row.number(column.name)) is not None:
        text += f", {show_in(value, column.base, _OTHER[column.unit])}"
    return text


def print_table(name: str, json: bool, only: Sequence[str] = ()) -> None:
    """One table as printed in its source, with units and provenance; `only` some of its rows."""
    table = load(name)
    about = table.provenance
    rows = _rows(table, only)
    if json:
        to_stdout(
            dumps(
                {
                    "name": name,
                    "title": about.title,
                    "source": about.citation,
                    "status": about.status,
                    "compared": about.compared,
                    "note": about.note,
                    "columns": {c.name: {"unit": c.unit, "meaning": c.meaning} for c in table.columns.values()},
                    "rows": [dict(row) for row in rows],
                }
            )
            + "\n"
        )
        return
    out = console()
    width = max(40, out.width)
    for line in wrap(f"{about.title}. {about.citation}. Status: {about.status}.", width=width):
        out.print(line, style="bold")
    columns = list(table.columns.values())
    if only:
        out.print(f"{len(rows)} of {len(table.rows)} rows")
    alone = bool(only) and len(rows) <= FEW
    if alone:
        _print_rows(rows, columns, out, width)
    for label, text in (("Compared", about.compared), ("Note", about.note)):
        if text:
            for line in wrap(f"{label}: {text}", width=width):
                out.print(line)
    if not alone:
        _print_grid(rows, columns, out, width)


def _print_rows(rows: Sequence[Row], columns: Sequence[Column], out: Out, width: int) -> None:
    """A few rows by themselves: every value on a line of its own, with what it means."""
    for row in rows:
        out.print()
        for n, c in enumerate(columns):
            if row[c.name]:
                line = f"{c.name} = {_cell(row, c)}  ({c.meaning})"
                for text in wrap(line, width=width - 2, subsequent_indent="    "):
                    out.print(f"  {text}" if n else text)
    out.print()


def _print_grid(rows: Sequence[Row], columns: Sequence[Column], out: Out, width: int) -> None:
    """The rows as a table, cut into as many blocks of columns as the width asks for; long texts below."""
    heads = [c.name + ("" if c.unit in ("text", "1") else f" [{c.unit}]") for c in columns]
    widths = [max(len(head), *(len(r[c.name]) for r in rows)) for head, c in zip(heads, columns)]
    # a text too long for a column stands below the table, under the row's key
    below = [i for i, c in enumerate(columns) if i and c.unit == "text" and widths[i] > LONGEST_CELL]
    shown = [i for i in range(1, len(columns)) if i not in below]
    while True:
        # the key column is repeated before each block of columns that fits the width
        block, used = [0], widths[0]
        while shown and (len(block) == 1 or used + 1 + widths[shown[0]] <= width):
            used += 1 + widths[shown[0]]
            block.append(shown.pop(0))
        left = [heads[i] for i in block if columns[i].unit == "text"]
        cells = [[row[columns[i].name] for i in block] for row in rows]
        out.print()
        for line in table_lines({heads[i]: widths[i] for i in block}, cells, left=left):
            out.print(line)
        if not shown:
            break
    for i in below:
        out.print()
        out.print(f"{heads[i]}:", style="bold")
        for row in rows:
            if row[columns[i].name]:
                told = f"  {row[columns[0].name]}: {row[columns[i].name]}"
                for line in wrap(told, width=width, subsequent_indent="    "):
                    out.print(line)
