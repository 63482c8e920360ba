"""The lists of the whole project: load cases, materials, tables, sources, cautions, and the rows beside the plan."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from jointcalc.dossier.common import Data, caution_row, ids, sheets_of
from jointcalc.dossier.inputs import _stands_in
from jointcalc.dossier.words import BREAK, amount, breakable, clean
from jointcalc.formula.core import Evaluation
from jointcalc.formula.safety import GAMMA_F
from jointcalc.model.fields import Item
from jointcalc.model.project import Project
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.show import System, show
from jointcalc.result import Looked, Result, collect
from jointcalc.tables.store import FOLDER, load


def cases_of(project: Project, results: Mapping[str, Result]) -> list[Data]:
    """The load cases with their sources and the items that name them."""
    rows: list[Data] = []
    for case in project.cases:
        used = [item.id for item in project.items if _stands_in(item, case) and item.id in results]
        stated = f"{case.load_factor:g}" if case.load_factor else f"{GAMMA_F:g} (default)"
        factor = "1 (ultimate load)" if case.ultimate else stated
        rows.append(
            {
                "id": breakable(case.id, 14),
                "title": breakable(case.title, 30),
                "source": breakable(case.source or _source_of(case.use), 30) or "(no source given)",
                "factor": factor,
                "items": ids(used),
            }
        )
    return rows


def _source_of(name: str) -> str:
    """Where a case by name comes from; empty for a case of the builder's own."""
    if not name:
        return ""
    from jointcalc.loads.cases import resolve

    found = resolve(name)
    return f"{found.source}" + (f" ({found.status})" if found.status else "")


def materials_of(items: Iterable[Item], system: System) -> list[Data]:
    """The sheets used, with what a design may assume of each and how sure that is."""
    found: dict[tuple[Any, ...], tuple[Sheet, list[str]]] = {}
    for item in items:
        for sheet in sheets_of(item):
            key = (sheet.thickness, sheet.material.grade, sheet.coating, sheet.yield_strength, sheet.tensile_strength)
            found.setdefault(key, (sheet, []))[1].append(item.id)
    rows: list[Data] = []
    for sheet, used in found.values():
        about = sheet.material
        codes = [code for code, _ in sheet.caution_codes()]
        told = {"typical-strength": "typical strength", "assumed-yield": "assumed yield"}
        marks = [told[code] for code in codes if code in told]
        if about.status in ("from memory", "second-hand"):
            marks.insert(0, about.status)
        own = [w for w, v in (("f_y", sheet.yield_strength), ("f_u", sheet.tensile_strength)) if v is not None]
        rows.append(
            {
                "sheet": f"{amount(show(sheet.thickness, 'length', system))} {breakable(about.grade, 14)}",
                "coating": clean(sheet.coating) if sheet.coated else "bare",
                "carries": amount(show(sheet.t, "length", system)),
                "f_y": amount(show(sheet.f_y, "stress", system)) if sheet.has_yield else "-",
                "f_u": amount(show(sheet.f_u, "stress", system)),
                "E": amount(show(about.E, "stress", system)),
                "source": breakable(f"{about.standard} {about.condition}".strip()),
                "basis": breakable(f"{about.basis}; yield: {about.f_y_basis}"),
                "own": f"{' and '.join(own)} as the builder states (certificate or coupon)" if own else "",
                "note": breakable(about.note),
                "marks": marks,
                "items": ids(used),
            }
        )
    return rows


def tables_of(
    results: Iterable[Result], items: Iterable[Item], also: Mapping[str, list[str]] | None = None
) -> list[Data]:
    """The tables that were read, with provenance and the checksum of their file.

    `also` are tables read for the dossier alone: name -> items.
    """
    used: dict[str, list[str]] = {name: list(ids) for name, ids in (also or {}).items()}
    for result in results:
        for check in result.checks:
            for part in check.trace:
                if isinstance(part, Looked):
                    used.setdefault(part.table, []).append(result.id)
    for item in items:
        for sheet in sheets_of(item):
            used.setdefault("materials", []).append(item.id)
            if (gauge := sheet.gauge) is not None:
                from jointcalc.tables.gauges import table_of

                family = sheet.material.family
                name = table_of(gauge, family, sheet.coated and family == "steel")
                used.setdefault(name, []).append(item.id)
    rows: list[Data] = []
    for name in sorted(used):
        about = load(name).provenance
        rows.append(
            {
                "name": clean(name).replace("_", "_" + BREAK),
                "title": breakable(about.title),
                "source": breakable(about.citation),
                "status": clean(about.status),
                "marks": [about.status] if about.status in ("from memory", "second-hand") else [],
                "compared": breakable(about.compared),
                "sha": hashlib.sha256((FOLDER / f"{name}.csv").read_bytes()).hexdigest()[:16],
                "items": ids(used[name]),
            }
        )
    return rows


def sources_of(results: Iterable[Result], project: Project) -> Data:
    """Every document a number rests on, once: `noted` with what it was compared with, `short` the others by status."""
    found: dict[tuple[str, str], str] = {}
    for result in results:
        for check in result.checks:
            sources = [check.method.source]
            sources += [p.formula.source for p in check.trace if isinstance(p, Evaluation)]
            sources += [p.source for p in check.trace if isinstance(p, Looked)]
            for source in sources:
                key = (str(source), source.status)
                found[key] = source.note or found.get(key, "")
    short: dict[str, list[str]] = {}
    noted: list[Data] = []
    for (text, status), note in sorted(found.items()):
        if note:
            noted.append({"text": breakable(text), "status": clean(status), "note": breakable(note)})
        else:
            short.setdefault(clean(status), []).append(breakable(text))
    for case in project.cases:
        if case.source:
            short.setdefault("the builder states", []).append(breakable(case.source))
        elif named := _source_of(case.use):
            short.setdefault("the case by name says", []).append(breakable(named))
    return {"noted": noted, "short": [[status, list(dict.fromkeys(texts))] for status, texts in short.items()]}


@dataclass(frozen=True, slots=True)
class Numbered:
    """A caution's place in the list, and whether so many items raise it that their pages name it by number only."""

    number: int
    shared: bool


SEVERAL = 3
"""Items from which on a caution that is no stop is named by its number."""


def cautions_of(results: list[Result], system: System = "metric") -> tuple[list[Data], dict[tuple[str, str], Numbered]]:
    """Every caution once, with the items that raise it; and the number of each by its code and text."""
    raised: dict[tuple[str, str], list[str]] = {}
    for result in results:
        for found in result.cautions:
            raised.setdefault((found.code, found.text), []).append(result.id)
    rows: list[Data] = []
    numbers: dict[tuple[str, str], Numbered] = {}
    for found in collect(c for r in results for c in r.cautions):
        used = raised.get((found.code, found.text), [])
        shared = found.severity != "stop" and len(set(used)) >= SEVERAL
        numbers[found.code, found.text] = Numbered(len(rows) + 1, shared)
        everywhere = len(set(used)) == len(results) and len(results) > 1
        rows.append({**caution_row(found, system), "items": "every item" if everywhere else ids(used)})
    return rows, numbers
