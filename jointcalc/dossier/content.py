"""What the dossier holds: every word and drawing of it, gathered from project and results for the template."""

from __future__ import annotations

import datetime
import os
import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

from jointcalc.dossier.changes import changes_since
from jointcalc.dossier.common import Data, ids, sheets_of
from jointcalc.dossier.compared import alternatives_of, sensitivity_of
from jointcalc.dossier.coupons import drawn
from jointcalc.dossier.cover import front_of, head_of, project_hash
from jointcalc.dossier.evidence import missing, records_of
from jointcalc.dossier.lists import cases_of, cautions_of, materials_of, sources_of, tables_of
from jointcalc.dossier.methods import methods_of, sections_of
from jointcalc.dossier.photos import pictures_of
from jointcalc.dossier.sheet import item_of
from jointcalc.dossier.words import no_dust, short
from jointcalc.errors import InputError
from jointcalc.model.fields import Item
from jointcalc.model.project import Project
from jointcalc.model.typed import typed_in
from jointcalc.quantity.show import System
from jointcalc.registry import SOURCES, load
from jointcalc.result import Result
from jointcalc.version import VERSION

if TYPE_CHECKING:
    from jointcalc.explore.beside import Judged
    from jointcalc.explore.changed import Changed

PAPERS = {"a4": "a4", "letter": "us-letter"}
STEPS = ("none", "short", "full")
Tell = Callable[[str, int, int], None]


@dataclass(frozen=True, slots=True)
class Options:
    """How the dossier is made: paper, units, which items, how much of the working."""

    paper: Literal["a4", "letter"] = "a4"
    units: System = "metric"
    items: tuple[str, ...] = ()
    summary: bool = False
    steps: Literal["none", "short", "full"] = "full"
    old: Mapping[str, Any] | None = None
    old_name: str = ""


class Files:
    """The drawings and photos the template may read: put into a folder as they are made, so that none is held."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.many = 0

    def add(self, data: bytes, kind: str) -> str:
        """The name under which the template finds it."""
        name = f"{self.many}.{kind}"
        (self.folder / name).write_bytes(data)
        self.many += 1
        return name


def content_of(
    project: Project,
    results: list[Result],
    options: Options,
    held: Files,
    tell: Tell,
    known: Mapping[str, Judged],
) -> Data:
    """All that the template prints; what stands at its end as functions, which give it when it is asked for.

    Raises InputError when the project's date cannot be read.
    """
    from jointcalc.dossier.figures.plan import MANY, around_of, draw_plan
    from jointcalc.explore.sensitivity import sensitivity
    from jointcalc.show.summary import summarise

    system = options.units
    date, shown_date = dated(project.about.date)
    by_id = {r.id: r for r in results}
    chosen = [i for i in project.items if i.id in by_id and (not options.items or i.id in options.items)]
    picked = [by_id[i.id] for i in chosen]
    changed = {}
    for n, item in enumerate(chosen):
        tell("with thin sheet", n, len(chosen))
        changed[item.id] = known[item.id].changed if item.id in known else sensitivity(item, by_id[item.id])
    # what has no sheet of its own (a mount) cannot turn over with thin sheet
    thin = {item.id: changed[item.id][0] for item in chosen if any(True for _ in sheets_of(item))}
    summary = summarise(picked, system, thin=thin, open_points=project.about.open_points)
    limited = ""
    if options.items:
        limited = f"This copy holds {len(chosen)} of the project's {len(project.items)} items only."
    cautions, numbers = cautions_of(picked, system)
    inputs = [["project file" if project.sha256 else "items as described", project_hash(project)]]
    if project.log is not None:
        inputs.append([f"log of coupons, {short(project.log.name, 60)}", project.log.sha256])
    data: Data = {
        "paper": PAPERS[options.paper],
        "date": None if date is None else [date.year, date.month, date.day],
        "head": head_of(project, VERSION, shown_date),
        "front": front_of(summary, missing(project, chosen, by_id, system), limited),
        "summary_only": options.summary,
        "units": system,
        "wide_ids": any(len(i.id) > 10 for i in chosen),
        "steps": options.steps,
        "since": None,
        "files": [],
        "cautions": cautions,
        "records": records_of(project, None, system),
    }
    if options.old is not None:
        typed = typed_in(project, chosen)
        data["since"] = changes_since(options.old, picked, system, options.old_name, typed)
    if options.summary:
        return data
    placed = [(n, by_id[i.id], i.place) for n, i in enumerate(chosen, 1) if i.place is not None]
    paged = len(placed) >= MANY
    plan = draw_plan(placed, system, around_of(project.givers), paged=paged)
    lines = {line.id: line for line in summary.lines}
    sheets = []
    allowed: dict[str, list[str]] = {}
    drawn_at: dict[bytes, str] = {}
    for n, item in enumerate(chosen):
        tell("drawing", n, len(chosen))
        sheet = item_of(by_id[item.id], item, project, lines[item.id], system, options.steps, numbers)
        sheet |= _beside(item, by_id[item.id], changed[item.id], known.get(item.id), options, held, allowed, drawn_at)
        sheet["records"] = records_of(project, item, system)
        sheet["photos"] = list(pictures_of(project, item, sheet["records"], held.add, inputs))
        sheets.append(sheet)
    told: set[tuple[str, str, str]] = set()
    for sheet in sheets:
        # a symbol that an earlier item explains in the same words is not told again
        fresh = [row for row in sheet["symbols"] if (row["symbol"], row["meaning"], row["unit"]) not in told]
        sheet["symbols_again"] = len(fresh) < len(sheet["symbols"])
        sheet["symbols"] = fresh
        told |= {(row["symbol"], row["meaning"], row["unit"]) for row in fresh}
    allowances = [sheet["sensitivity"]["allowed"] for sheet in sheets if sheet["sensitivity"]]
    whole = options.steps != "none"
    data |= {
        "allowed": list(dict.fromkeys(text for text in allowances if text)),
        "plan": None if plan is None else _figure(held, plan),
        "plan_page": paged,
        "givers": lambda: [] if options.items or not whole else _givers(project, system, held),
        "cases": cases_of(project, {i.id: by_id[i.id] for i in chosen}),
        "items": sheets,
        "sections": lambda: sections_of(picked, system),
        "methods": lambda: methods_of(picked, system),
        "materials": materials_of(chosen, system),
        "tables": lambda: tables_of(picked, chosen, allowed),
        "sources": lambda: sources_of(picked, project),
        "files": inputs,
    }
    return data


def _beside(
    item: Item,
    result: Result,
    changed: Iterable[Changed],
    known: Judged | None,
    options: Options,
    held: Files,
    allowed: dict[str, list[str]],
    drawn_at: dict[bytes, str],
) -> Data:
    """The item beside others, and its drawings; `allowed` gathers the tables that say how thin a sheet may be.

    `drawn_at` gathers the drawings of coupons with the item they stand at: the same coupons prove many seams.
    """
    from jointcalc.dossier.figures import figures_of
    from jointcalc.explore.alternatives import alternatives
    from jointcalc.explore.sensitivity import tolerances

    thin = tolerances(item)
    for one in thin:
        allowed.setdefault(one.table, []).append(item.id)
    whole = options.steps != "none"
    others = None if known is None else known.others
    if whole and others is None:
        others = alternatives(item)
    coupons = drawn(item, options.units)
    first = [drawn_at.setdefault(picture.svg, item.id) for picture in coupons]
    fresh = [picture for picture, place in zip(coupons, first) if place == item.id]
    mine = known.drawn if known is not None else None
    pictures = [*(figures_of(result, options.units) if mine is None else mine), *fresh]
    return {
        "compared": alternatives_of(item, result, others, options.units) if whole and others is not None else None,
        "sensitivity": sensitivity_of(result, changed, thin, options.units),
        "figures": [_figure(held, picture) for picture in (pictures if whole else pictures[:1])],
        "coupons_at": ids(place for place in first if whole and place != item.id),
    }


def _givers(project: Project, system: System, held: Files) -> list[Data]:
    """What the dossier says of what only gives loads, where its record names a sheet."""
    by_model = {one.model.partition(":")[2]: one for one in SOURCES.values()}
    found = []
    for thing in project.givers:
        place = by_model[type(thing).__name__].sheet
        if place:
            told: Data = load(place)(thing, system)
            found.append({**told, "picture": _figure(held, told["picture"])})
    return found


_SIZE = re.compile(rb'<svg[^>]*?\bviewBox="[\d.-]+[ ,]+[\d.-]+[ ,]+([\d.]+)[ ,]+([\d.]+)"')


def _figure(held: Files, picture: Any) -> Data:
    """A drawing; `share` is its height over its width, by which the template finds room, `own` its width [pt]."""
    size = _SIZE.search(picture.svg[:4000])
    own, high = (float(size[1]), float(size[2])) if size else (400.0, 200.0)
    return {
        "file": held.add(picture.svg, "svg"),
        "alt": no_dust(picture.alt),
        "caption": no_dust(picture.caption),
        "share": high / own,
        "own": own,
    }


def dated(text: str) -> tuple[datetime.date | None, str]:
    """(day, as printed): the project's date, else SOURCE_DATE_EPOCH, else none.

    A project's date that is no calendar day (`spring 2026`) is printed as it stands and not put into
    the PDF's properties.  Raises InputError when SOURCE_DATE_EPOCH is no number.
    """
    if text.strip():
        match = re.fullmatch(r"(\d{4})-(\d{2})-(\d{2})", text.strip())
        try:
            return (datetime.date(*map(int, match.groups())) if match else None), text
        except ValueError:
            return None, text
    epoch = os.environ.get("SOURCE_DATE_EPOCH", "")
    if not epoch:
        return None, ""
    try:
        day = datetime.datetime.fromtimestamp(int(epoch), datetime.UTC).date()
    except (ValueError, OverflowError, OSError) as error:
        raise InputError(f"'{epoch}' is not a number of seconds since 1970", field="SOURCE_DATE_EPOCH") from error
    return day, day.isoformat()
