"""The sheet of one item: verdict, load case, methods, detailing rules, what could not be judged."""

from __future__ import annotations

from collections.abc import Iterable

from jointcalc.dossier.common import VERDICT, WORD, Data, amount_of, caution_row, marks_of, place_text, shown
from jointcalc.dossier.inputs import DEFAULT, assumptions_of, inputs_of
from jointcalc.dossier.loads import governing_case, loads_of
from jointcalc.dossier.words import breakable, clean, paragraphs, short
from jointcalc.dossier.working import symbols_of, working_of
from jointcalc.model.fields import Item
from jointcalc.model.project import LoadCase
from jointcalc.quantity.sentence import printed
from jointcalc.quantity.show import System, percent
from jointcalc.result import DETAILING, SIDES, Check, Result
from jointcalc.show.terminal import down, up


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
        "place": place_text(item, system),
        "reason": paragraphs(item.reason),
        "alternatives": [breakable(text) for text in item.alternatives if clean(text)],
        "inputs": [row for row in inputs if row[1] != DEFAULT],
        "defaults": ", ".join(f"{name} {resolved}" for name, typed, resolved in inputs if typed == DEFAULT),
        "assumptions": assumptions_of(result, item, case, system),
        "methods": [_method_row(c, result, system) for c in strength],
        "details": [detail_row(c, result, system) for c in detailing],
        "outside": _outside_rows(outside, system),
        "values": [
            [clean(name.replace("_", " ")), shown(a.value, a.unit, system)] for name, a in result.values.items()
        ],
        "working": working_of(result, system, steps),
        "symbols": symbols_of(result, steps),
        "cautions": [caution_row(c, system) for c in own],
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


def _method_row(check: Check, result: Result, system: System) -> Data:
    worst = result.worst
    return {
        "title": breakable(printed(check.title, system), 30),
        "key": breakable(check.key, 44),
        "source": breakable(check.method.source.cited),
        "basis": clean(check.method.basis),
        "marks": marks_of(check, result),
        "per": clean(check.per),
        "capacity": amount_of(check, "capacity", system),
        "demand": amount_of(check, "demand", system),
        "factor": down(check.safety_factor),
        "needs": up(check.required_factor),
        "used": percent(check.utilisation),
        "status": check.status,
        "word": WORD[check.status],
        "governs": worst is not None and check is worst,
        "note": breakable(printed(check.note, system)),
    }


def detail_row(check: Check, result: Result, system: System) -> Data:
    """A detailing rule: what there is, and the limit on it."""
    has, limit, word = SIDES[check.method.bound]
    return {
        "title": breakable(printed(check.title, system), 30),
        "source": breakable(check.method.source.cited),
        "marks": marks_of(check, result),
        "has": amount_of(check, has, system),
        "bound": f"{word} {amount_of(check, limit, system)}".strip() if getattr(check, limit) is not None else "-",
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
