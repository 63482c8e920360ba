"""Tables and methods with where they come from."""

from __future__ import annotations

from textwrap import wrap

from jointcalc.files import to_stdout
from jointcalc.show.document import dumps
from jointcalc.show.terminal import columns as table_lines
from jointcalc.show.terminal import console
from jointcalc.tables.store import load, names

LONGEST_CELL = 40
"""Characters of a text that still stand in a column."""


def print_tables(json: bool) -> None:
    """Every table: name, title, citation, status, rows."""
    tables = [load(name) for name in names()]
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
    out.print("`jointcalc tables show NAME` prints one table.")
    out.print("`jointcalc tables methods` lists the check keys.")


def print_methods(json: bool) -> None:
    """Every check key with title, source, what its number is and the factor it asks for."""
    from jointcalc.check import all_methods

    found = all_methods()
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


def print_table(name: str, json: bool) -> None:
    """One table as printed in its source, with units and provenance."""
    table = load(name)
    about = table.provenance
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
                    "rows": [dict(row) for row in table.rows],
                }
            )
            + "\n"
        )
        return
    out = console()
    width = max(40, out.width)
    for line in wrap(f"{about.title}. {about.citation}. Status: {about.status}.", width=width):
        out.print(line, style="bold")
    for label, text in (("Compared", about.compared), ("Note", about.note)):
        if text:
            for line in wrap(f"{label}: {text}", width=width):
                out.print(line)
    columns = list(table.columns.values())
    heads = [c.name + ("" if c.unit in ("text", "1") else f" [{c.unit}]") for c in columns]
    widths = [max(len(head), *(len(r[c.name]) for r in table.rows)) for head, c in zip(heads, columns)]
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
        cells = [[row[columns[i].name] for i in block] for row in table.rows]
        out.print()
        for line in table_lines({heads[i]: widths[i] for i in block}, cells, left=left):
            out.print(line)
        if not shown:
            break
    for i in below:
        out.print()
        out.print(f"{heads[i]}:", style="bold")
        for row in table.rows:
            if row[columns[i].name]:
                told = f"  {row[columns[0].name]}: {row[columns[i].name]}"
                for line in wrap(told, width=width, subsequent_indent="    "):
                    out.print(line)
