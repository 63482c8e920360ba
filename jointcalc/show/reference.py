"""Tables and methods with where they come from."""

from __future__ import annotations

from textwrap import wrap

from jointcalc.files import to_stdout
from jointcalc.show.document import dumps
from jointcalc.show.terminal import columns as table_lines
from jointcalc.show.terminal import console
from jointcalc.tables.store import load, names


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
                "required_factor": m.factor,
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
    widths = [max(len(c.name) + len(c.unit) + 3, *(len(r[c.name]) for r in table.rows)) + 1 for c in columns]
    start = 0
    while start < len(columns):
        # the key column is repeated before each block of columns that fits the width
        block = [0] if start else []
        used = sum(widths[i] for i in block)
        stop = start
        while stop < len(columns) and (stop == start or used + min(widths[stop], 40) <= width):
            used += min(widths[stop], 40)
            block.append(stop)
            stop += 1
        heads = {}
        for i in block:
            unit = "" if columns[i].unit in ("text", "1") else f" [{columns[i].unit}]"
            heads[f"{columns[i].name}{unit}"] = min(max(widths[i], len(columns[i].name) + len(unit)), 40)
        left = [head for head, i in zip(heads, block) if columns[i].unit == "text"]
        out.print()
        for line in table_lines(heads, [[row[columns[i].name] for i in block] for row in table.rows], left=left):
            out.print(line)
        start = stop
