"""What the dossier says: every text and number it prints, gathered from the project and its results.

Everything leaves this module as clean text (see `words`); the template only lays it out.  Factors are
rounded down, required factors and utilisations up.
"""

from __future__ import annotations

import ast
import hashlib
import re
from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from math import ceil, hypot
from typing import Any, get_args

from jointcalc.dossier.loads import governing_case, loads_of
from jointcalc.dossier.words import BREAK, amount, breakable, clean, maths, paragraphs, short, symbol
from jointcalc.dossier.words import unit as unit_text
from jointcalc.explore.alternatives import Alternative
from jointcalc.explore.sensitivity import Changed, Tolerance
from jointcalc.formula.core import Evaluation, Limit, Line, number, plain, pretty
from jointcalc.model.fields import Described, Item, Numbers, Quantity
from jointcalc.model.project import LoadCase, Project
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.sentence import joined, printed
from jointcalc.quantity.show import System, figures, percent, show, show_in
from jointcalc.result import DETAILING, SIDES, Caution, Check, Looked, Result, Stated, collect, trust
from jointcalc.show.terminal import down, up
from jointcalc.tables.store import FOLDER, load

Data = dict[str, Any]

VERDICT = {"ok": "HOLDS", "over": "DOES NOT HOLD", "outside": "CANNOT BE JUDGED"}
WORD = {"ok": "holds", "over": "OVER", "outside": "outside", "info": "info"}
SEVERITY = {"stop": "STOP", "warn": "Warning", "note": "Note"}
TOLD_ELSEWHERE = ("id", "title", "reason", "photo", "alternatives", "case", "place", "purpose")
MOST_LISTED = 60
"""Entries of one field (holes, weld lines) that are listed; all of them are in the drawing."""

"""Detailing rules where the capacity is an upper bound on what there is."""

SUMMARY_ROWS = 16

DEFAULT = "(default)"
"""Stands for what the builder left out."""


def head_of(project: Project, version: str, date: str) -> Data:
    """The cover."""
    about = project.about
    return {
        "title": breakable(about.title, 28) or "(no title)",
        "title_plain": short(about.title, 200) or "(no title)",
        "title_short": breakable(short(about.title, 60), 40),
        "vehicle": breakable(about.vehicle),
        "builder": breakable(about.builder),
        "revision": breakable(about.revision),
        "revision_short": short(about.revision, 14),
        "date": breakable(date),
        "date_short": short(date, 20),
        "notes": paragraphs(about.notes),
        "version": version,
        "sha": project_hash(project),
    }


def project_hash(project: Project) -> str:
    """SHA-256 of the project file, or of the items as described when there is no file."""
    if project.sha256:
        return project.sha256
    told = [project.about.model_dump_json(), *(c.model_dump_json() for c in project.cases)]
    told += [f"{item.kind} {item.model_dump_json()}" for item in project.items]
    return hashlib.sha256("\n".join(told).encode("utf-8", "surrogatepass")).hexdigest()


# --- summary ---------------------------------------------------------------------------------------


def worst_first(results: Iterable[Result]) -> list[Result]:
    """Over first, then not judged, then by how much is used."""

    def rank(result: Result) -> tuple[int, float]:
        used = result.worst.utilisation if result.worst is not None else None
        return ({"over": 0, "outside": 1, "ok": 2}[result.status], -(used if used is not None else 0.0))

    return sorted(results, key=rank)


def summary_of(results: list[Result], system: System, shown: str = "") -> Data:
    """The one-page summary: counts, the worst items, what stops the work."""
    counts = {word: sum(r.status == word for r in results) for word in ("ok", "over", "outside")}
    told = [f"{counts['ok']} hold"]
    if counts["over"]:
        told.append(f"{counts['over']} do not hold")
    if counts["outside"]:
        told.append(f"{counts['outside']} cannot be judged")
    overall = "over" if counts["over"] else "outside" if counts["outside"] else "ok"
    order = worst_first(results)
    rows = [_summary_row(result, system) for result in order[:SUMMARY_ROWS]]
    stops = [c for c in collect(c for r in results for c in r.cautions) if c.severity == "stop"]
    return {
        "status": overall,
        "word": VERDICT[overall] if len(results) == 1 else {"ok": "ALL HOLD"}.get(overall, VERDICT[overall]),
        "counts": f"{len(results)} item{'s' if len(results) != 1 else ''}: {', '.join(told)}",
        "trust": trust(results),
        "rows": rows,
        "more": len(order) - len(rows),
        # never cut off: what stops the work is read here or nowhere
        "stops": [breakable(printed(c.text, system)) for c in stops],
        "limited": clean(shown),
    }


def _described(result: Result, system: System) -> str:
    return printed(joined("; ", result.about.values()), system)


def _summary_row(result: Result, system: System) -> Data:
    worst = result.worst
    return {
        "id": breakable(short(result.id, 24), 10),
        "what": short(result.title or _described(result, system) or result.kind.replace("_", " "), 46),
        "status": result.status,
        "word": {"ok": "holds", "over": "OVER", "outside": "NOT JUDGED"}[result.status],
        "factor": down(worst.safety_factor) if worst else "-",
        "needs": up(worst.required_factor) if worst else "-",
        "used": percent(worst.utilisation) if worst else "-",
        "governing": short(worst.title, 34) if worst else "-",
        "marks": marks_of(worst, result) if worst else [],
    }


# --- marks -----------------------------------------------------------------------------------------


YIELD = frozenset(("f_y", "f_yb", "f_y1", "f_y2", "F_y"))
"""Names the formulas give a yield strength."""


def marks_of(check: Check, result: Result) -> list[str]:
    """The marks a reader must see beside a number: `from memory`, `second-hand`, `typical`, `assumed yield`.

    A typical grade marks every strength; an assumed yield only what was computed from the yield.
    """
    marks: list[str] = [] if check.provenance not in ("from memory", "second-hand") else [check.provenance]
    if check.method.basis == DETAILING:
        return marks
    codes = {c.code for c in result.cautions}
    if "typical-strength" in codes:
        marks.append("typical strength")
    if "assumed-yield" in codes and any(YIELD & set(p.inputs) for p in check.trace if isinstance(p, Evaluation)):
        marks.append("assumed yield")
    return marks


# --- one item --------------------------------------------------------------------------------------


def item_of(
    result: Result, item: Item, case: LoadCase | None, system: System, steps: str, shared: frozenset[tuple[str, str]]
) -> Data:
    """The sheet of one item, but for its drawings."""
    worst = result.worst
    strength = sorted(
        (c for c in result.checks if c.method.basis != DETAILING and c.status != "outside"),
        key=lambda c: (c.status == "info", -(c.utilisation if c.utilisation is not None else 0.0)),
    )
    detailing = [c for c in result.checks if c.method.basis == DETAILING]
    outside = [c for c in result.checks if c.method.basis != DETAILING and c.status == "outside"]
    stops = [c for c in result.cautions if c.severity == "stop"]
    own = [c for c in result.cautions if (c.code, c.text) not in shared or c.severity == "stop"]
    common = [c for c in result.cautions if (c.code, c.text) in shared and c.severity != "stop"]
    inputs = inputs_of(item, system)
    return {
        "id": breakable(result.id, 24),
        "id_plain": short(result.id, 60),
        "title": breakable(result.title, 30),
        "heading": breakable(short(f"{result.id}  {result.title}".strip(), 110), 24),
        "kind": clean(result.kind.replace("_", " ")),
        "about": [[clean(k[:1].upper() + k[1:]), breakable(printed(v, system))] for k, v in result.about.items()],
        "stops": [breakable(printed(c.text, system)) for c in stops],
        "status": result.status,
        "word": VERDICT[result.status],
        "answer": _answer(result),
        "unjudged": [breakable(printed(text, system)) for text in result.unjudged],
        "governing": f"{clean(worst.title)}, {clean(worst.source)}" if worst else "",
        "governing_key": breakable(worst.key, 44) if worst else "",
        "governing_marks": marks_of(worst, result) if worst else [],
        "purpose": ", ".join(clean(word) for word in item.purpose),
        "case": governing_case(result) if result.loads else _case_line(case, item),
        "loads": loads_of(result, system),
        "place": _place_text(item, system),
        "reason": paragraphs(item.reason),
        "alternatives": [breakable(text) for text in item.alternatives if clean(text)],
        "inputs": [row for row in inputs if row[1] != DEFAULT],
        "defaults": ", ".join(f"{name} {resolved}" for name, typed, resolved in inputs if typed == DEFAULT),
        "assumptions": assumptions_of(result, item, case, system),
        "methods": [_method_row(c, result, system) for c in strength],
        "details": [_detail_row(c, result, system) for c in detailing],
        "outside": _outside_rows(outside, system),
        "values": [
            [clean(name.replace("_", " ")), _shown(a.value, a.unit, system)] for name, a in result.values.items()
        ],
        "working": _working(result, system, steps),
        "symbols": _symbols(result, steps),
        "cautions": [_caution(c, system) for c in own],
        "common": len(common),
    }


def _answer(result: Result) -> str:
    worst = result.worst
    if result.unjudged or worst is None:
        return "a load has no published method that applies" if result.unjudged else "no method applies"
    if worst.safety_factor is None:
        return "no load given: capacities only"
    return (
        f"safety factor {down(worst.safety_factor)}, required {up(worst.required_factor)}, "
        f"{percent(worst.utilisation)} used"
    )


def _case_line(case: LoadCase | None, item: Item) -> str:
    if case is None:
        return f"no load case named; load factor {item.load_factor:g}"
    kind = "ultimate load" if case.ultimate else "service load"
    return f"{breakable(case.id, 24)}: {breakable(case.title)} ({kind}, load factor {item.load_factor:g})"


def _place_text(item: Item, system: System) -> str:
    if item.place is None:
        return ""
    x1, y1, x2, y2 = (amount(show(v, "length", system)) for v in item.place)
    return f"from x {x1}, y {y1} to x {x2}, y {y2}"


def _shown(value: float | None, unit: str, system: System) -> str:
    return "-" if value is None else amount(show_in(value, unit, system))


def _amount(check: Check, which: str, system: System) -> str:
    given = getattr(check, which)
    return "-" if given is None else _shown(given.value, given.unit, system)


def _method_row(check: Check, result: Result, system: System) -> Data:
    worst = result.worst
    return {
        "title": breakable(printed(check.title, system), 30),
        "key": breakable(check.key, 44),
        "source": breakable(check.method.source.cited),
        "basis": clean(check.method.basis),
        "marks": marks_of(check, result),
        "per": clean(check.per),
        "capacity": _amount(check, "capacity", system),
        "demand": _amount(check, "demand", system),
        "factor": down(check.safety_factor),
        "needs": up(check.required_factor),
        "used": percent(check.utilisation),
        "status": check.status,
        "word": WORD[check.status],
        "governs": worst is not None and check is worst,
        "note": breakable(printed(check.note, system)),
    }


def _detail_row(check: Check, result: Result, system: System) -> Data:
    has, limit, word = SIDES[check.method.bound]
    return {
        "title": breakable(printed(check.title, system), 30),
        "source": breakable(check.method.source.cited),
        "marks": marks_of(check, result),
        "has": _amount(check, has, system),
        "bound": f"{word} {_amount(check, limit, system)}".strip() if getattr(check, limit) is not None else "-",
        "status": check.status,
        "word": {"ok": "kept", "over": "BROKEN", "outside": "unchecked", "info": "note"}[check.status],
        "note": breakable(printed(check.note, system)) if check.status != "ok" else "",
    }


def _outside_rows(checks: Iterable[Check], system: System) -> list[Data]:
    together: dict[str, list[Check]] = {}
    for check in checks:
        together.setdefault(check.note, []).append(check)
    return [
        {
            "titles": [f"{clean(printed(c.title, system))} ({clean(c.source)})" for c in group],
            "why": breakable(printed(note, system)),
        }
        for note, group in together.items()
    ]


def _caution(found: Caution, system: System) -> Data:
    text = breakable(printed(found.text, system))
    return {"severity": found.severity, "word": SEVERITY[found.severity], "text": text,
            "source": breakable(found.source)}  # fmt: skip


# --- alternatives ------------------------------------------------------------------------------------


def alternatives_of(item: Item, result: Result, others: Iterable[Alternative], system: System) -> Data | None:
    """The item and those of its alternatives that were judged for the same loads, side by side.

    None when all alternatives are words.
    """
    judged = [other for other in others if other.shape]
    if not judged:
        return None
    shape = str(getattr(item, "profile", "") or getattr(item, "bead", ""))
    rows = [_alternative_row(shape, "chosen", result, "", system)]
    rows += [_alternative_row(other.shape, other.words, other.result, other.why, system) for other in judged]
    return {
        "rows": rows,
        "words": [breakable(other.words) for other in others if not other.shape and clean(other.words)],
    }


def _alternative_row(shape: str, words: str, result: Result | None, why: str, system: System) -> Data:
    values = result.values if result is not None else {}
    sagged = [a for n in ("deflection_max", "deflection_yielding") if (a := values.get(n))]
    mass = next((a for n in ("mass_per_metre", "mass_per_area") if (a := values.get(n))), None)
    sag = max((a.value for a in sagged if a.value is not None), default=None)
    return {
        **_changed_row("-", result, breakable(printed(why, system)), system),
        "what": breakable(shape, 20),
        "words": breakable(words),
        "mass": "-" if mass is None else _shown(mass.value, mass.unit, system),
        "sag": _shown(sag, "mm", system),
    }


# --- sensitivity -------------------------------------------------------------------------------------


def sensitivity_of(
    result: Result, changes: Iterable[Changed], allowed: Iterable[Tolerance], system: System
) -> Data | None:
    """What the governing factor becomes with thinner sheets and with one weld or fastener fewer.

    None when there is no factor that could change.
    """
    if result.worst is None or result.worst.safety_factor is None:
        return None
    last = result.worst.source
    rows = [_changed_row("as described", result, "", system)]
    for change in changes:
        notes = [breakable(printed(change.why, system))] if change.why else []
        if change.lost:
            titles = ", ".join(f"{clean(printed(c.title, system))} ({clean(c.source)})" for c in change.lost)
            notes.append(f"no longer covered by: {titles}")
        row = _changed_row(change.what, change.result, "; ".join(notes), system)
        if row["source"] == last:
            row["source"] = ""
        else:
            last = row["source"]
        rows.append(row)
    return {"rows": rows, "allowed": "; ".join(_allowed(one, system) for one in allowed)}


def _allowed(one: Tolerance, system: System) -> str:
    """What the table lets a sheet lack, never printed smaller than it is."""
    about = load(one.table).provenance
    mark = f" [{about.status}]" if about.status in ("from memory", "second-hand") else ""
    step, places, word = (0.01, 2, "mm") if system == "metric" else (25.4e-4, 4, "in")
    sizes, parts = zip(*((ceil(v / step - 1e-9) * step, v / one.thickness) for v in (one.least, one.most)))
    shown = " to ".join(dict.fromkeys(f"{v / (1.0 if word == 'mm' else 25.4):.{places}f}" for v in sizes))
    share = " to ".join(dict.fromkeys(percent(v).removesuffix(" %") for v in parts))
    wide = ", more the wider it is" if one.least != one.most else ""
    nominal = amount(show(one.thickness, "length", system))
    return f"{nominal} may be {shown} {word} ({share} %{wide}) thin by {clean(about.document)}{mark}"


def _changed_row(what: str, result: Result | None, note: str, system: System) -> Data:
    worst = result.worst if result is not None else None
    status = result.status if result is not None else "outside"
    told = [breakable(printed(text, system)) for text in result.unjudged] if result is not None else []
    return {
        "what": breakable(printed(what[:1].upper() + what[1:], system), 30),
        "note": "; ".join([*([note] if note else []), *told]),
        "governing": f"{clean(worst.title)}" if worst else "-",
        "source": clean(worst.source) if worst else "",
        "marks": marks_of(worst, result) if worst and result else [],
        "factor": down(worst.safety_factor) if worst else "-",
        "needs": up(worst.required_factor) if worst else "-",
        "used": percent(worst.utilisation) if worst else "-",
        "status": status,
        "word": {"ok": "holds", "over": "OVER", "outside": "NOT JUDGED"}[status],
    }


# --- inputs ----------------------------------------------------------------------------------------


def inputs_of(item: Item, system: System) -> list[list[str]]:
    """[field, as typed, as resolved] of every field that says something."""
    rows = []
    for name, about in type(item).model_fields.items():
        if name in TOLD_ELSEWHERE:
            continue
        value = getattr(item, name)
        typed = item._typed.get(name)
        if typed is None and name == "sheets":
            typed = item._typed.get("sheet")
        if typed in (None, "") and value in (None, "", (), False):
            continue
        resolved = _resolved(value, [about.annotation, *about.metadata], system)
        if name == "span":  # read by the model itself
            resolved = ", ".join(amount(show(v, "length", system)) for v in value)
        rows.append([name.replace("_", " "), _typed_text(typed) if typed is not None else DEFAULT, resolved])
    return rows


def _typed_text(value: Any) -> str:
    if isinstance(value, Mapping):
        return "; ".join(f"{clean(k)} {_typed_text(v)}" for k, v in value.items())
    if isinstance(value, Sheet | Described):
        return "(as an object)"
    if isinstance(value, list | tuple):
        shown = [_typed_text(v) for v in value[:MOST_LISTED]]
        return " | ".join(shown) + _rest(len(value))
    if isinstance(value, bool):
        return "yes" if value else "no"
    return breakable(short(value, 400), 20)


def _rest(count: int) -> str:
    return f" … and {count - MOST_LISTED} more (see the drawing)" if count > MOST_LISTED else ""


def _kinds(hints: Iterable[Any]) -> Iterator[Quantity | Numbers]:
    for hint in hints:
        if isinstance(hint, Quantity | Numbers):
            yield hint
        else:
            yield from _kinds([*get_args(hint), *getattr(hint, "__metadata__", ())])


def _resolved(value: Any, hints: list[Any], system: System) -> str:
    kind = next(_kinds(hints), None)
    if isinstance(value, Sheet):
        return sheet_text(value, system)
    if isinstance(value, Described):
        fields = type(value).model_fields
        told = ((n, getattr(value, n), [a.annotation, *a.metadata]) for n, a in fields.items())
        return "; ".join(f"{n.replace('_', ' ')} {_resolved(v, h, system)}" for n, v, h in told if v not in (None, ""))
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float | int):
        if isinstance(kind, Quantity) and isinstance(value, float):
            return amount(show(value, kind.kind, system))
        return figures(float(value))
    if isinstance(value, tuple):
        if isinstance(kind, Numbers) and value and all(isinstance(v, float) for v in value):
            return ", ".join(amount(show(v, kind.kind, system)) for v in value)
        return " | ".join(_resolved(v, hints, system) for v in value[:MOST_LISTED]) + _rest(len(value))
    return breakable(short("-" if value is None else value, 400), 20)


def sheet_text(sheet: Sheet, system: System) -> str:
    """A sheet as resolved: what carries and how strong."""
    parts = [f"{clean(sheet.material.grade)}, carries {amount(show(sheet.t, 'length', system))}"]
    if sheet.coated:
        parts.append(f"zinc {clean(sheet.coating)} taken off {amount(show(sheet.thickness, 'length', system))}")
    if sheet.has_yield:
        parts.append(f"f_y {amount(show(sheet.f_y, 'stress', system))}")
    parts.append(f"f_u {amount(show(sheet.f_u, 'stress', system))}")
    return ", ".join(parts)


# --- assumptions -----------------------------------------------------------------------------------


def _stated(part: Stated, system: System) -> str:
    """A stated value with its unit; under inch units with the inch value beside it, as in the working."""
    if part.unit in ("", "1"):
        return number(part.value)
    text = f"{number(part.value)} {unit_text(part.unit)}"
    other = amount(show_in(part.value, part.unit, system))
    return text if system == "metric" or other.split() == text.split() else f"{text} ({other})"


def assumptions_of(result: Result, item: Item, case: LoadCase | None, system: System = "metric") -> list[str]:
    """What was taken for granted: factors, coupons, shares of load and other stated values."""
    told: list[str] = []
    if case is not None and case.ultimate:
        told.append("The load is ultimate by nature: nothing is added to it (γ_F = 1).")
    elif case is not None and case.load_factor is not None:
        told.append(f"γ_F = {item.load_factor:g} on the service load, as the load case states.")
    else:
        told.append(f"γ_F = {item.load_factor:g} on the service load (the load case states none).")
    if item.handbook_factor == 3.0:
        told.append("Handbook strengths are divided by 3.0: our default, common practice, no source.")
    else:
        told.append(f"Handbook strengths are divided by the builder's own factor, {item.handbook_factor:g}.")
    told.append(
        "Coupons of these sheets and settings were made and passed, as the builder states."
        if item.coupons
        else "No coupons of these sheets and settings are stated; sound welds are assumed."
    )
    for check in result.checks:
        if check.status == "outside":
            continue
        for part in check.trace:
            if isinstance(part, Stated):
                told.append(f"{pretty(part.symbol)} = {_stated(part, system)}: {printed(part.how, system)}.")
    return [breakable(text) for text in dict.fromkeys(told)]


# --- working ---------------------------------------------------------------------------------------


def _working(result: Result, system: System, steps: str) -> list[Data]:
    if steps == "none":
        return []
    worst = result.worst
    chosen = [c for c in result.checks if c.trace and (steps == "full" or c is worst or c.status == "over")]
    chosen.sort(key=lambda c: c is not worst)
    told: set[tuple[str, str, str]] = set()
    workings = []
    for check in chosen:
        lines, again = _lines(check, system, told)
        workings.append({
            "title": breakable(printed(check.title, system), 30),
            "key": breakable(check.key, 44),
            "marks": marks_of(check, result),
            "word": WORD[check.status],
            "governs": check is worst,
            "source": breakable(check.method.source.cited),
            "basis": clean(check.method.basis),
            "factor": clean(str(check.method.factor)),
            "again": again,
            "lines": lines,
            "ranges": _ranges(check),
            "end": _end(check, system),
        })  # fmt: skip
    return workings


def _lines(check: Check, system: System, told: set[tuple[str, str, str]]) -> tuple[list[Data], str]:
    """The lines of a working, and those that stand in an earlier working of the same sheet in short.

    `told` are the lines the sheet holds so far.  A source is named where it differs from the one named above.
    """
    lines, again = [], []
    for line in check.steps():
        known = (line.symbol, line.expression, line.substituted)
        made = _line(line, system)
        if known in told:
            again.append(f"{made['symbol']} = {made['value']}")
        else:
            told.add(known)
            lines.append(made)
    last = breakable(check.method.source.cited)
    for one in lines:
        if one["source"] == last:
            one["source"] = ""
        elif one["source"]:
            last = one["source"]
    return lines, ", ".join(dict.fromkeys(again))


def _line(line: Line, system: System) -> Data:
    value = figures(line.value) if line.value == line.value and abs(line.value) != float("inf") else "-"
    shown = amount(f"{value} {line.unit}" if line.unit not in ("", "1") else value)
    if system == "inch" and line.unit not in ("", "1"):
        other = amount(show_in(line.value, line.unit, "inch"))
        shown = shown if other == shown else f"{shown} ({other})"
    left, first, second = symbol(line.symbol), maths(line.typeset), maths(line.typeset_numbers)
    if not left:
        first = ""
    return {
        "left": left,
        "first": first,
        "second": second if first and second != first else "",
        "given": not line.typeset,
        "symbol": breakable(line.symbol),
        "expression": breakable(line.expression, 60),
        "numbers": breakable(line.substituted, 60),
        "alt": short(f"{line.symbol} = {line.expression} = {line.substituted}", 2000),
        "value": shown,
        "source": breakable(line.source),
    }


def _end(check: Check, system: System) -> str:
    """The last line of a working: the factor there is against the factor asked for."""
    if check.safety_factor is None or check.capacity is None or check.demand is None:
        return ""
    capacity, demand = _amount(check, "capacity", system), _amount(check, "demand", system)
    text = f"safety factor {capacity} / {demand} = {down(check.safety_factor)}"
    if check.required_factor is None:
        return text
    used = f"{percent(check.utilisation)} used"
    return f"{text} (rounded down); required {up(check.required_factor)}; {used}: {WORD[check.status]}"


@cache
def _limit_text(limit: Limit) -> str:
    shown = plain(ast.parse(limit.expression, mode="eval").body)
    unit = f" {unit_text(limit.unit)}" if limit.unit else ""
    low = "" if limit.low is None else f"{number(limit.low)}{unit} {'<' if limit.open_low else '≤'} "
    high = "" if limit.high is None else f" {'<' if limit.open_high else '≤'} {number(limit.high)}{unit}"
    return f"{low}{shown}{high}"


def _ranges(check: Check) -> list[str]:
    found = [
        clean(_limit_text(limit))
        for part in check.trace
        if isinstance(part, Evaluation)
        for limit in part.formula.limits
    ]
    return list(dict.fromkeys(found))


def _symbols(result: Result, steps: str) -> list[Data]:
    """Nomenclature of the formulas in this sheet: symbol, meaning, unit, once each."""
    if steps == "none":
        return []
    worst = result.worst
    found: dict[tuple[str, str, str], Data] = {}
    for check in result.checks:
        if steps != "full" and check is not worst and check.status != "over":
            continue
        for part in check.trace:
            if not isinstance(part, Evaluation):
                continue
            for name in part.formula.parameters:
                unit, meaning = part.formula.names[name]
                _symbol_row(found, pretty(name), meaning, unit)
            _symbol_row(found, pretty(part.formula.symbol), part.formula.title.lower(), part.formula.unit)
    return [found[key] for key in sorted(found, key=lambda k: (k[0].lower(), k))]


def _symbol_row(found: dict[tuple[str, str, str], Data], name: str, meaning: str, unit: str) -> None:
    found[(name, meaning, unit)] = {
        "maths": symbol(name),
        "symbol": clean(name),
        "meaning": breakable(meaning),
        "unit": "" if unit in ("", "1") else unit_text(unit),
    }


# --- the project's other pages ---------------------------------------------------------------------


def cases_of(project: Project, results: Mapping[str, Result]) -> list[Data]:
    """The load cases with their sources and the items that name them."""
    rows = []
    for case in project.cases:
        used = [item.id for item in project.items if _stands_in(item, case) and item.id in results]
        factor = (
            "1 (ultimate load)" if case.ultimate else f"{case.load_factor:g}" if case.load_factor else "1.5 (default)"
        )
        rows.append(
            {
                "id": breakable(case.id, 14),
                "title": breakable(case.title, 30),
                "source": breakable(case.source, 30) or "(no source given)",
                "factor": factor,
                "items": _ids(used),
            }
        )
    return rows


def _stands_in(item: Item, case: LoadCase) -> bool:
    """Whether a case loads an item: it names it, or one of its loads comes in it."""
    if item.standings:
        return any(given.case == case.id for one in item.standings for given in one.given)
    return item.case == case.id


def _ids(names: Iterable[str]) -> str:
    listed = list(dict.fromkeys(names))
    shown = ", ".join(breakable(short(name, 30), 14) for name in listed[:40])
    return shown + (f" … and {len(listed) - 40} more" if len(listed) > 40 else "")


def sheets_of(model: Any) -> Iterator[Sheet]:
    """Every sheet a described thing is made of."""
    if isinstance(model, Sheet):
        yield model
    elif isinstance(model, Described):
        fields = type(model).model_fields
        for name in fields:
            yield from sheets_of(getattr(model, name))
        if "sheets" not in fields:
            # a brace makes its sheets from its profile and grade
            yield from sheets_of(getattr(model, "sheets", ()))
    elif isinstance(model, tuple):
        for part in model:
            yield from sheets_of(part)


def materials_of(items: Iterable[Item], system: System) -> list[Data]:
    """The sheets used, with what a design may assume of each and how sure that is."""
    found: dict[tuple[Any, ...], tuple[Sheet, list[str]]] = {}
    for item in items:
        for sheet in sheets_of(item):
            key = (sheet.thickness, sheet.material.grade, sheet.coating, sheet.yield_strength, sheet.tensile_strength)
            found.setdefault(key, (sheet, []))[1].append(item.id)
    rows = []
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
                "items": _ids(used),
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
            if re.search(r"\d\s*(ga|gauge)\b", str(sheet._typed.get("thickness", ""))):
                from jointcalc.tables.gauges import TABLE

                family = sheet.material.family
                name = TABLE.get((family, sheet.coated and family == "steel")) or TABLE[(family, False)]
                used.setdefault(name, []).append(item.id)
    rows = []
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
                "items": _ids(used[name]),
            }
        )
    return rows


def sources_of(results: Iterable[Result], project: Project) -> list[Data]:
    """Every document a number rests on, once each, with its status and the methods that use it."""
    found: dict[tuple[str, str], set[str]] = {}
    notes: dict[tuple[str, str], str] = {}
    for result in results:
        for check in result.checks:
            sources = [check.method.source]
            sources += [p.formula.source for p in check.trace if isinstance(p, Evaluation)]
            sources += [p.source for p in check.trace if isinstance(p, Looked)]
            for source in sources:
                key = (str(source), source.status)
                found.setdefault(key, set()).add(check.method.key)
                if source.note:
                    notes.setdefault(key, source.note)
    rows = [
        {
            "text": breakable(text),
            "status": clean(status),
            "marks": [status] if status in ("from memory", "second-hand") else [],
            "note": breakable(notes.get((text, status), "")),
            "methods": ", ".join(breakable(key, 40) for key in sorted(found[(text, status)])),
        }
        for text, status in sorted(found)
    ]
    seen = set()
    for case in project.cases:
        if case.source and case.source not in seen:
            seen.add(case.source)
            rows.append({"text": breakable(case.source), "status": "as the builder states", "marks": [], "note": "",
                         "methods": f"load case {breakable(case.id, 24)}"})  # fmt: skip
    return rows


def cautions_of(results: list[Result], system: System = "metric") -> list[Data]:
    """Every caution once, with the items that raise it."""
    raised: dict[tuple[str, str], list[str]] = {}
    for result in results:
        for found in result.cautions:
            raised.setdefault((found.code, found.text), []).append(result.id)
    rows = []
    for found in collect(c for r in results for c in r.cautions):
        used = raised.get((found.code, found.text), [])
        everywhere = len(set(used)) == len(results) and len(results) > 1
        rows.append({**_caution(found, system), "items": "every item" if everywhere else _ids(used)})
    return rows


def shared_cautions(results: list[Result]) -> frozenset[tuple[str, str]]:
    """The cautions that every item of several raises: told once, for all."""
    if len(results) < 2:
        return frozenset()
    sets = [{(c.code, c.text) for c in r.cautions} for r in results]
    return frozenset(set.intersection(*sets))


def plan_rows(items: Iterable[Item], results: Mapping[str, Result], system: System) -> list[Data]:
    """The list beside the plan: id, title, where, how long, verdict."""
    rows = []
    for item in items:
        result = results[item.id]
        place = item.place
        long = "-" if place is None else amount(show(hypot(place[2] - place[0], place[3] - place[1]), "length", system))
        rows.append(
            {
                "id": breakable(short(item.id, 30), 10),
                "what": breakable(short(item.title or _described(result, system) or result.kind, 80), 30),
                "place": _place_text(item, system) or "no place given",
                "long": long,
                "status": result.status,
                "word": {"ok": "holds", "over": "OVER", "outside": "NOT JUDGED"}[result.status],
            }
        )
    return rows
