"""Sets the dossier: content and drawings through the template into the bytes of a PDF.

Text a builder typed reaches the template as data (JSON), never as source.  The typesetter sees only
the fonts it brings along, the files handed to it in memory, and the date of the project, so the same
inputs give the same bytes.  The PDF is tagged and follows PDF/UA-1 (ISO 14289-1): headings become
bookmarks, drawings and formulas carry words, and the typesetter refuses a file that breaks the rule.
"""

from __future__ import annotations

import datetime
import hashlib
import json
import os
import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from importlib.resources import files
from pathlib import Path
from typing import Any, Literal

from jointcalc.dossier.changes import changes_since
from jointcalc.dossier.common import Data
from jointcalc.dossier.compared import alternatives_of, sensitivity_of
from jointcalc.dossier.cover import SUMMARY_ROWS, head_of, summary_of, worst_first
from jointcalc.dossier.lists import (
    cases_of,
    cautions_of,
    materials_of,
    plan_rows,
    shared_cautions,
    sources_of,
    tables_of,
)
from jointcalc.dossier.sheet import item_of
from jointcalc.dossier.words import breakable, short
from jointcalc.errors import InputError
from jointcalc.model.fields import Item
from jointcalc.model.project import Project
from jointcalc.quantity.show import System
from jointcalc.registry import SOURCES, load
from jointcalc.result import Result
from jointcalc.version import VERSION

PAPERS = {"a4": "a4", "letter": "us-letter"}
STEPS = ("none", "short", "full")
PICTURES = {b"\x89PNG": "png", b"\xff\xd8\xff": "jpg", b"GIF8": "gif", b"RIFF": "webp"}
"""First bytes of the picture files that can be attached -> the kind of file."""

LARGEST_PHOTO = 30_000_000
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


@dataclass(slots=True)
class _Files:
    """The files the template may read, by name."""

    held: dict[str, bytes] = field(default_factory=dict)

    def add(self, data: bytes, kind: str) -> str:
        name = f"{len(self.held)}.{kind}"
        self.held[name] = data
        return name


def make_dossier(project: Project, results: list[Result], options: Options, tell: Tell | None = None) -> bytes:
    """The PDF.  `results` are those of the project's items, in order; `tell(what, done, of)` hears of progress.

    Raises InputError when the project's date cannot be read.
    """
    files_made = _Files()
    data = _data(project, results, options, files_made, tell or (lambda what, done, of: None))
    if tell:
        tell("typesetting", 0, 1)
    return _compile(data, files_made.held)


def _data(project: Project, results: list[Result], options: Options, held: _Files, tell: Tell) -> Data:
    from jointcalc.dossier.figures import figures_of
    from jointcalc.dossier.figures.bars import draw_bars
    from jointcalc.dossier.figures.plan import around_of, draw_plan
    from jointcalc.explore.alternatives import alternatives
    from jointcalc.explore.sensitivity import sensitivity, tolerances

    system = options.units
    date, shown_date = dated(project.about.date)
    by_id = {r.id: r for r in results}
    chosen = [i for i in project.items if i.id in by_id and (not options.items or i.id in options.items)]
    picked = [by_id[i.id] for i in chosen]
    limited = ""
    if options.items:
        limited = f"This copy holds {len(chosen)} of the project's {len(project.items)} items only."
    head = head_of(project, VERSION, shown_date)
    summary = summary_of(picked, system, limited)
    bars = draw_bars(worst_first(picked)[:SUMMARY_ROWS])
    summary["bars"] = _figure(held, bars)
    data: Data = {
        "paper": PAPERS[options.paper],
        "date": None if date is None else [date.year, date.month, date.day],
        "head": head,
        "summary": summary,
        "summary_only": options.summary,
        "units": system,
        "wide_ids": any(len(i.id) > 10 for i in chosen),
        "steps": options.steps,
        "open_points": [breakable(p) for p in project.about.open_points],
        "since": None,
        "files": [],
    }
    if options.old is not None:
        data["since"] = changes_since(options.old, picked, system, options.old_name)
    cautions = cautions_of(picked, system)
    data["cautions"] = cautions
    if options.summary:
        return data
    placed = [(n, by_id[i.id], i.place) for n, i in enumerate(chosen, 1) if i.place is not None]
    plan = draw_plan(placed, system, around_of(project.givers))
    shared = shared_cautions(picked)
    sheets = []
    inputs = [["project file" if project.sha256 else "items as described", head["sha"]]]
    allowed: dict[str, list[str]] = {}
    for n, item in enumerate(chosen):
        tell("drawing", n, len(chosen))
        result = by_id[item.id]
        thin = tolerances(item)
        for one in thin:
            allowed.setdefault(one.table, []).append(item.id)
        sheet = item_of(result, item, project.case_of(item), system, options.steps, shared)
        sheet["compared"] = alternatives_of(item, result, alternatives(item), system)
        sheet["sensitivity"] = sensitivity_of(result, sensitivity(item, result), thin, system)
        sheet["figures"] = [_figure(held, picture) for picture in figures_of(result, system)]
        sheet["photo"], sheet["photo_note"] = _photo(project, item, held, inputs)
        sheets.append(sheet)
    data |= {
        "plan": None if plan is None else _figure(held, plan),
        "plan_rows": plan_rows(chosen, by_id, system),
        "givers": [] if options.items else _givers(project, system, held),
        "cases": cases_of(project, {i.id: by_id[i.id] for i in chosen}),
        "items": sheets,
        "materials": materials_of(chosen, system),
        "tables": tables_of(picked, chosen, allowed),
        "sources": sources_of(picked, project),
        "files": inputs,
    }
    return data


def _givers(project: Project, system: System, held: _Files) -> list[Data]:
    """What the dossier says of what only gives loads, where its record names a sheet."""
    by_model = {one.model.partition(":")[2]: one for one in SOURCES.values()}
    found = []
    for thing in project.givers:
        place = by_model[type(thing).__name__].sheet
        if place:
            told: Data = load(place)(thing, system)
            found.append({**told, "picture": _figure(held, told["picture"])})
    return found


def _figure(held: _Files, picture: Any) -> Data:
    return {"file": held.add(picture.svg, "svg"), "alt": picture.alt, "caption": picture.caption}


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


# --- photos ----------------------------------------------------------------------------------------


def photo_faults(project: Project, items: Iterable[Item]) -> list[InputError]:
    """What is wrong with the photos these items name; empty when all can be attached."""
    found = ((item, _read_photo(project, item)[2]) for item in items)
    return [InputError(f"'{short(item.photo, 80)}' {why}", field="photo", where=item.id) for item, why in found if why]


def _photo(project: Project, item: Item, held: _Files, inputs: list[list[str]]) -> tuple[Data | None, str]:
    """(picture, note): the photo beside the project, or why there is none."""
    name = breakable(short(item.photo, 80), 30)
    data, kind, why = _read_photo(project, item)
    if not data:
        return None, f"The photo '{name}' is not attached: {why}." if why else ""
    inputs.append([f"photo {name}", hashlib.sha256(data).hexdigest()])
    title = f"{item.id} {item.title}".strip()
    return {"file": held.add(data, kind), "alt": short(f"Photo attached by the builder to {title}", 300),
            "caption": f"Photo {name}"}, ""  # fmt: skip


def _read_photo(project: Project, item: Item) -> tuple[bytes, str, str]:
    """(bytes, kind of picture, why it cannot be attached): of the photo beside the project that the item names."""
    if not item.photo.strip():
        return b"", "", ""
    if project.path is None:
        return b"", "", "the project was not read from a file"
    folder = project.path.resolve().parent
    try:
        path = (folder / item.photo).resolve()
        inside = path.is_relative_to(folder)
        data = path.read_bytes() if inside and path.is_file() and path.stat().st_size <= LARGEST_PHOTO else None
    except (OSError, ValueError):
        inside, data = True, None
    if not inside:
        return b"", "", "it lies outside the project's folder"
    if data is None:
        return b"", "", "there is no such file (of at most 30 MB) beside the project"
    kind = next((word for head, word in PICTURES.items() if data.startswith(head)), "")
    if not kind or not _readable(data, kind):
        return b"", "", "it cannot be read as a PNG, JPEG, GIF or WebP picture"
    return data, kind, ""


def _readable(data: bytes, kind: str) -> bool:
    """Whether the typesetter can decode the picture, tried on a page of its own."""
    source = '#set page(width: 10cm, height: auto)\n#image("p.' + kind + '", width: 100%, alt: "p")'
    try:
        _run({"main.typ": source.encode(), f"p.{kind}": data}, standards=[])
    except BaseException as error:
        if isinstance(error, KeyboardInterrupt | SystemExit | MemoryError):
            raise
        return False
    return True


# --- the typesetter --------------------------------------------------------------------------------


def template() -> bytes:
    """The source of the template."""
    return files("jointcalc.dossier").joinpath("templates", "dossier.typ").read_bytes()


def _compile(data: Data, held: Mapping[str, bytes]) -> bytes:
    text = json.dumps(data, ensure_ascii=False, allow_nan=False).encode("utf-8")
    return _run({"main.typ": template(), "data.json": text, **held}, standards=["ua-1"])


def _run(given: Mapping[str, bytes], standards: list[str]) -> bytes:
    """Typeset files held in memory; pictures go through an empty folder, the only one the typesetter may read."""
    from tempfile import TemporaryDirectory

    import typst

    # the stubs know no dictionary of files
    compile_: Any = typst.compile
    with TemporaryDirectory(prefix="jointcalc-") as folder:
        pictures = {name for name in given if name.rpartition(".")[2] in PICTURES.values()}
        for name in pictures:
            Path(folder, name).write_bytes(given[name])
        made = compile_(
            {name: data for name, data in given.items() if name not in pictures},
            root=folder,
            format="pdf",
            ignore_system_fonts=True,
            font_paths=[],
            pdf_standards=standards,
            timestamp=0,
        )
    assert isinstance(made, bytes)
    return made
