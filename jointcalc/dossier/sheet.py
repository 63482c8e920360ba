"""The sheet of one item: verdict, load case, methods, detailing rules, what could not be judged."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from jointcalc.dossier.common import VERDICT, WORD, Data, amount_of, marks_of, place_text, shown
from jointcalc.dossier.cover import row_of
from jointcalc.dossier.governing import governing_of
from jointcalc.dossier.inputs import assumptions_of, inputs_of
from jointcalc.dossier.lists import Numbered
from jointcalc.dossier.loads import governing_case, loads_of
from jointcalc.dossier.methods import SECTION, name_of
from jointcalc.dossier.words import amount, breakable, clean, no_dust, paragraphs, short, unflagged
from jointcalc.dossier.words import unit as unit_text
from jointcalc.dossier.working import Names, chosen, working_of
from jointcalc.model.fields import Item
from jointcalc.model.project import LoadCase, Project
from jointcalc.quantity.sentence import printed
from jointcalc.quantity.show import System, percent
from jointcalc.result import DETAILING, SIDES, Check, Result
from jointcalc.show.checklist import Entry, checklist
from jointcalc.show.summary import Line
from jointcalc.show.terminal import down, up


def item_of(
    result: Result,
    item: Item,
    project: Project,
    line: Line,
    system: System,
    steps: str,
    numbers: Mapping[tuple[str, str], Numbered],
) -> Data:
    """The pages of one item, but for its drawings; `numbers` are those of the cautions in their list.

    Its working is a function: the long work is done while what stands before it is laid out.
    """
    case = project.case_of(item)
    names = Names(chosen(result, "full"))
    place = project.places.get(item.id, "")
    strength = sorted(
        (c for c in result.checks if c.method.basis != DETAILING and c.status != "outside"),
        key=lambda c: (
            c is not result.worst,
            c.status == "info",
            -(c.utilisation if c.utilisation is not None else 0.0),
        ),
    )
    detailing = [c for c in result.checks if c.method.basis == DETAILING]
    outside = [c for c in result.checks if c.method.basis != DETAILING and c.status == "outside"]
    inputs, defaults = inputs_of(item, system, project.written.get(item.id))
    told: set[tuple[str, ...]] = set()
    full = steps == "full"
    # told whole where few items raise it; what holds of many stands once, under its number
    told_once = [c for c in result.cautions if c.severity == "note" or numbers[c.code, c.text].shared]
    whole = [c for c in result.cautions if c.severity == "warn" and not numbers[c.code, c.text].shared]
    return {
        "id": breakable(result.id, 24),
        "key": result.id,
        "heading": breakable(short(f"{result.id}  {result.title}".strip(), 110), 24),
        "about": [
            [clean(k[:1].upper() + k[1:]), breakable(_listed(unflagged(no_dust(printed(v, system)))), 24)]
            for k, v in result.about.items()
        ],
        "stops": [breakable(unflagged(printed(c.text, system))) for c in result.cautions if c.severity == "stop"],
        "warnings": [breakable(unflagged(printed(c.text, system))) for c in whole],
        "notes": [f"{numbers[c.code, c.text].number} {c.code.replace('-', ' ')}" for c in told_once],
        "row": row_of(line),
        "word": VERDICT[result.status],
        "answer": _answer(result),
        "unjudged": [breakable(printed(text, system)) for text in result.unjudged],
        "thin": _thin_text(line),
        "purpose": ", ".join(clean(word) for word in item.purpose),
        "case": governing_case(result) if result.loads else _case_line(case, item),
        "typed_at": place,
        "loads": loads_of(result, system),
        "place": place_text(item, system),
        "reason": paragraphs(item.reason),
        "alternatives": [breakable(text) for text in item.alternatives if clean(text)],
        "governing": governing_of(result, item, place, system, names),
        "inputs": inputs if steps != "none" else [],
        "defaults": ", ".join(f"{name} {value}" for name, value in defaults),
        "assumptions": assumptions_of(result, item, case, system, stated=not full),
        "methods": [_method_row(c, result, system, notes=full) for c in strength],
        "details": [detail_row(c, result, system) for c in detailing],
        "outside": _outside_rows(outside, system),
        "values": [
            [name_of(name, system), shown(0.0 if a.value and abs(a.value) < 1e-12 else a.value, a.unit, system)]
            for name, a in result.values.items()
            if not (name in SECTION and "I_y" in result.values)
        ],
        "working": lambda: [
            working_of(c, result, system, names, told) for c in (chosen(result, steps) if steps != "none" else ())
        ],
        "symbols": names.rows() if full else [],
        "checklist": [_entry(one, system) for one in checklist(item)],
    }


MOST_LISTED = 4
"""Parts of a list, such as the loads of a brace, that the facts beside the drawing name; all stand in the inputs."""


def _listed(text: str) -> str:
    """A fact of an item; of a long list its first parts and how many more there are."""
    parts = text.split(", ")
    if len(text) > 140 and len(parts) > MOST_LISTED + 1:
        return f"{', '.join(parts[:MOST_LISTED])} and {len(parts) - MOST_LISTED} more"
    return short(text, 240)


def _entry(one: Entry, system: System) -> Data:
    """A line of the checklist: what is looked at, what is asked, the unit that is written."""
    asked = one.asked_text(system)
    return {
        "check": breakable(printed(one.check, system)),
        "asked": amount(asked) if one.measured else breakable(asked),
        "unit": unit_text(one.unit_text(system)),
        "places": one.places,
        "measured": one.measured,
    }


def _thin_text(line: Line) -> str:
    thin = line.thin
    if thin is None:
        return ""
    what = thin.what[:1].upper() + thin.what[1:]
    if thin.judged is None:
        return f"{what}: it cannot be made so: {breakable(thin.why)}"
    used = f"{percent(thin.judged.used)} used, " if thin.judged.used is not None else ""
    return f"{what}: {used}{thin.judged.word}; gives way first: {clean(thin.judged.governs) or '-'}."


def _answer(result: Result) -> str:
    worst = result.worst
    if result.unjudged or worst is None:
        return "a load has no published method that applies" if result.unjudged else "no method applies"
    if worst.safety_factor is None:
        return "no load given: capacities only"
    return (
        f"safety factor {down(worst.safety_factor)}, required {up(worst.required_factor)}, "
        f"{percent(worst.utilisation)} used{' at most' if worst.goes_on else ''}"
    )


def _case_line(case: LoadCase | None, item: Item) -> str:
    if case is None:
        return f"no load case named; load factor {item.load_factor:g}"
    kind = "ultimate load" if case.ultimate else "service load"
    return f"{breakable(case.id, 24)}: {breakable(case.title)} ({kind}, load factor {item.load_factor:g})"


def _method_row(check: Check, result: Result, system: System, *, notes: bool) -> Data:
    worst = result.worst
    told = notes or check.status == "over" or check is worst
    return {
        "title": breakable(printed(check.title, system), 30),
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
        "note": breakable(unflagged(printed(check.note, system))) if told else "",
    }


def detail_row(check: Check, result: Result, system: System) -> Data:
    """A detailing rule: what there is, and the limit on it; of one that is kept, with its note."""
    has, limit, word = SIDES[check.method.bound]
    bound = f"{word} {amount_of(check, limit, system)}".strip() if getattr(check, limit) is not None else "-"
    note = breakable(unflagged(printed(check.note, system)))
    kept = check.status == "ok"
    return {
        "title": breakable(printed(check.title, system), 30),
        "source": breakable(check.method.source.cited),
        "marks": marks_of(check, result),
        "has": amount_of(check, has, system),
        "bound": "; ".join(filter(None, (bound, note))) if kept else bound,
        "status": check.status,
        "word": {"ok": "kept", "over": "BROKEN", "outside": "unchecked", "info": "note"}[check.status],
        "note": "" if kept else note,
    }


def _outside_rows(checks: Iterable[Check], system: System) -> list[Data]:
    together: dict[str, list[Check]] = {}
    for check in checks:
        together.setdefault(check.note, []).append(check)
    return [
        {
            "titles": [clean(printed(c.title, system)) for c in group],
            "why": breakable(unflagged(printed(note, system))),
        }
        for note, group in together.items()
    ]
