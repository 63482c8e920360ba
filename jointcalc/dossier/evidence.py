"""What shows that the work is as described, item by item, and what is missing to show it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from jointcalc.dossier.common import Data, ids, sheets_of
from jointcalc.dossier.coupons import logged, sets_of
from jointcalc.dossier.words import amount, breakable, clean
from jointcalc.formula.core import Evaluation
from jointcalc.model.evidence import CERTIFICATE, COUPONS, PHOTO, SORTS, WELDING, Evidence
from jointcalc.model.fields import Item
from jointcalc.model.project import Project
from jointcalc.quantity.show import System, show
from jointcalc.result import Result, Stated
from jointcalc.show.checklist import checklist

TITLES = {PHOTO: "Photo", CERTIFICATE: "Mill certificate", WELDING: "Welded", COUPONS: "Coupons"}


def records_of(project: Project, item: Item | None, system: System) -> list[Data]:
    """The records about an item, or (None) about the whole project; photos carry their file's name."""
    sheets = project.made_of.get(item.id, ()) if item is not None else ()
    chosen = [
        one
        for one in project.evidence
        if (one.about(item.id, sheets) if item is not None else not (one.items or one.sheets))
    ]
    chosen.sort(key=lambda one: SORTS.index(one.sort))
    told = [] if item is None else logged(item, system)
    return [{"sort": TITLES[one.sort], "text": _text(one, system), "photo": one.file if one.sort == PHOTO else "",
             "caption": breakable(one.title)} for one in chosen] + told  # fmt: skip


def _text(one: Evidence, system: System) -> str:
    """A record in one line; what it is about is said where it is printed."""
    told = [clean(one.title)] if one.title else []
    told += [f"{word} {clean(value)}" for word, value in (("no.", one.number), ("heat", one.heat)) if value]
    for word, value in (("f_y", one.yield_strength), ("f_u", one.tensile_strength)):
        told += [f"{word} {amount(show(value, 'stress', system))}"] if value is not None else []
    told += [f"of {', '.join(one.sheets)}"] if one.sheets else []
    words = (("", one.grade), ("welder", one.welder), ("machine", one.machine), ("", one.settings), ("test", one.test))
    told += [f"{word} {clean(value)}".strip() for word, value in words if value]
    for word, sizes, kind in (("buttons", one.button, "length"), ("broke at", one.force, "force")):
        told += [f"{word} {', '.join(amount(show(v, kind, system)) for v in sizes)}"] if sizes else []
    told += [clean(one.mode)] if one.mode else []
    if one.passed is not None:
        told.append("passed" if one.passed else "NOT PASSED")
    told += [f"{word} {clean(value)}".strip() for word, value in (("by", one.by), ("", one.date)) if value]
    if one.file and one.sort != PHOTO:
        told.append(f"file {clean(one.file)}")
    return breakable("; ".join(told))


def _strength_governs(item: Item, result: Result) -> bool:
    """Whether the governing calculation, or one that it sums up, takes the strength of a sheet of the item."""
    worst = result.worst
    if worst is None:
        return False
    strengths = {s.f_u for s in sheets_of(item)} | {s.f_y for s in sheets_of(item) if s.has_yield}
    summed = {part.value for part in worst.trace if isinstance(part, Stated)}
    traces = [worst.trace, *(c.trace for c in result.checks if c.utilisation in summed)]
    return any(
        part.formula.names[name][0] == "MPa" and float(part.inputs[name]) in strengths
        for trace in traces
        for part in trace
        if isinstance(part, Evaluation)
        for name in part.formula.parameters
    )


def welded(item: Item) -> bool:
    """Whether it is proved by coupons: the checklist asks for them."""
    return any(one.key.rpartition(".")[2] == "coupons" for one in checklist(item))


def missing(project: Project, items: Iterable[Item], results: dict[str, Result], system: System) -> list[str]:
    """What is open, in a sentence each: what nothing shows (certificates, coupons, who welded, photos), or judges."""
    items = list(items)
    told = [*_certificates(project, items, results, system)]
    have = {sort: [one for one in project.evidence if one.sort == sort] for sort in SORTS}

    def shown(item: Item, *sorts: str) -> bool:
        sheets = project.made_of.get(item.id, ())
        return any(one.about(item.id, sheets) or not (one.items or one.sheets) for s in sorts for one in have[s])

    joints = [item for item in items if welded(item)]
    open_ = [i for i in joints if not shown(i, COUPONS) and not sets_of(i)]
    if bare := [i.id for i in open_ if not i.coupons]:
        told.append(f"No coupons are recorded for {ids(bare)}.")
    if stated := [i.id for i in open_ if i.coupons]:
        told.append(f"Coupons of {ids(stated)} are said to have passed; no record shows it.")
    if nobody := [i.id for i in joints if not shown(i, WELDING) and not _welder_on_coupons(have[COUPONS], i)]:
        told.append(f"Nothing says who welded {ids(nobody)}, with which machine and settings.")
    if unseen := [i.id for i in items if not i.photo.strip() and not shown(i, PHOTO)]:
        told.append(f"No photo of {'any item' if len(unseen) == len(items) > 1 else ids(unseen)}.")
    if len(items) == len(project.items):
        told += [f"Not judged: {text}." for text in project.unjudged]
    return told


def _welder_on_coupons(records: Iterable[Evidence], item: Item) -> bool:
    return any(one.about(item.id) and (one.welder or one.settings) for one in records)


def _certificates(project: Project, items: Iterable[Item], results: dict[str, Result], system: System) -> Iterator[str]:
    """Sheets whose strength governs an item and of which there is no certificate, with those items."""
    papers = [one for one in project.evidence if one.sort == CERTIFICATE]
    bare: dict[str, list[str]] = {}
    for item in items:
        if not _strength_governs(item, results[item.id]) or any(item.id in one.items for one in papers):
            continue
        names = project.made_of.get(item.id, ())
        open_names = [name for name in names if not any(name in one.sheets for one in papers)]
        for name in open_names:
            bare.setdefault(f"sheet {clean(name)}", []).append(item.id)
        if not names:
            grades = dict.fromkeys(
                f"{amount(show(s.thickness, 'length', system))} {clean(s.material.grade)}" for s in sheets_of(item)
            )
            for grade in grades:
                bare.setdefault(grade, []).append(item.id)
    if bare:
        each = "; ".join(f"{name} (governs in {ids(used)})" for name, used in bare.items())
        yield f"No mill certificate of {each}."
