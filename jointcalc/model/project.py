"""A project: one TOML file that describes a vehicle's joints, members and panels."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Collection, Iterable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, ClassVar

from pydantic import PrivateAttr, model_validator

from jointcalc.errors import InputError, InputErrors, nearest
from jointcalc.model.coupon_source import CouponSource, beside_coupons, named_log
from jointcalc.model.evidence import Evidence, against, other_grades, unknown_names, with_records
from jointcalc.model.fields import Described, Item, Numbers, Said, build, refuse
from jointcalc.model.lines import at_keys, line_of, place_of
from jointcalc.quantity.parse import worded
from jointcalc.registry import KINDS, PIECES, SOURCES, load
from jointcalc.tables.store import Row
from jointcalc.tables.store import load as load_table

if TYPE_CHECKING:
    from jointcalc.model.coupon_log import CouponLog
    from jointcalc.model.given import Vector

MOST_ITEMS = 2000


class LoadCase(Described):
    """Where loads come from: a rule, a measurement or the builder's judgement.

    `ultimate` marks loads that are ultimate by nature (a regulation's pull test): nothing is added
    to them, the load factor of its items is 1.  `acceleration` (x y z in the plan's axes) is what everything with a
    mass feels: `0 0 -3 g` presses it down with three times its weight.  `use` names a case of the table `cases`
    instead, which then says title and factor where they are not given.  `cycles` is how often the case comes.
    """

    word: ClassVar[str] = "case"
    id: Annotated[str, Said("Name of the {item}, by which items call it.")]
    title: Annotated[str, Said("What happens in it.")]
    source: Annotated[str, Said("Rule, measurement, estimate.")] = ""
    use: Annotated[
        str,
        Said(
            '`"brake"`, `"seat-with-belt-un"`: a case by name, instead of numbers; `jointcalc tables show cases` lists '
            "them, and it fills in title and factor."
        ),
    ] = ""
    ultimate: Annotated[bool, Said("`true` for loads that are ultimate by nature; nothing is put on top.")] = False
    load_factor: Annotated[float | None, Said("Partial factor on the loads of this case.", absent="1.5")] = None
    acceleration: Annotated[
        Annotated[tuple[float, ...], Numbers("acceleration", 3)] | None,
        Said('`"0 0 -3 g"`: what everything with a mass feels; presses down with three times its weight.'),
    ] = None
    cycles: Annotated[float | None, Said("How often it comes: what it loads has to last as many load changes.")] = None

    @model_validator(mode="before")
    @classmethod
    def _of_the_table(cls, data: Any) -> Any:
        name = data.get("use") if isinstance(data, Mapping) else None
        if not name or not isinstance(name, str):
            return data
        if data.get("acceleration") is not None:
            raise refuse("acceleration: 'use' says what the thing feels; give one of them")
        try:
            row = case_of_table(name)
        except InputError as error:
            raise refuse(f"use: {error.message}") from error
        filled = {"title": row["title"], "ultimate": row["nature"] == "ultimate"}
        if row["factor"]:
            filled["load_factor"] = float(row["factor"])
        return {**filled, **data}


def case_of_table(name: str) -> Row:
    """The row of the table `cases` with that name.  InputError for one that is unknown, or refused with the reason."""
    row = load_table("cases").find(id=name)
    if row["nature"] == "refused":
        raise InputError(f"'{name}' is not judged: {row['note']}")
    return row


class About(Described):
    """The head of a project: what, whose, which revision.

    `forward` is the direction of the plan in which the vehicle drives: the plan's x runs to the rear unless it is said
    otherwise, its y to the right and z up (as ISO 4130 has it, from memory).
    """

    word: ClassVar[str] = "project"
    title: Annotated[str, Said("What the document is called.")]
    vehicle: Annotated[str, Said("The vehicle as you name it.")] = ""
    builder: Annotated[str, Said("Who answers for the work.")] = ""
    revision: Annotated[str, Said("A letter or number.")] = ""
    date: Annotated[str, Said("Printed on the dossier; results do not depend on it.")] = ""
    notes: Annotated[str, Said("Free text.")] = ""
    units: Annotated[str, Said("`metric` or `inch`: how answers are printed.")] = "metric"
    handbook_factor: Annotated[float, Said("Your own factor on handbook minimums.")] = 3.0
    open_points: Annotated[tuple[str, ...], Said("What is not yet known.")] = ()
    history: Annotated[tuple[str, ...], Said('Earlier revisions, `"A, 2026-10-01: first issue"`.')] = ()
    forward: Annotated[
        str, Said("The direction of the plan in which it drives (x runs to the rear, y to the right, z up).")
    ] = "-x"

    @model_validator(mode="after")
    def _a_direction(self) -> Any:
        if self.forward not in FORWARD:
            raise refuse(f"forward: '{self.forward}' is no direction of the plan; say {', '.join(FORWARD)}")
        return self

    @property
    def forward_direction(self) -> Vector:
        """The unit vector of `forward`."""
        return FORWARD[self.forward]


FORWARD: Mapping[str, Vector] = {
    "-x": (-1.0, 0.0, 0.0), "x": (1.0, 0.0, 0.0), "-y": (0.0, -1.0, 0.0), "y": (0.0, 1.0, 0.0),
}  # fmt: skip


class Project(Described):
    """A project with its load cases, items, parts that are only marked out, and what only gives loads, in the order of
    the file, and the records that show how it was made.

    By an item's id: `made_of` are the `[sheet.NAME]`s it names, `places` where it stands (`project.toml:12`),
    `written` what stands there (the rest is defaults, or comes from its case or the head).
    """

    about: About
    cases: tuple[LoadCase, ...] = ()
    items: tuple[Item, ...] = ()
    parts: tuple[Any, ...] = ()
    givers: tuple[Any, ...] = ()
    evidence: tuple[Evidence, ...] = ()
    coupons: CouponSource | None = None
    made_of: Mapping[str, tuple[str, ...]] = {}
    places: Mapping[str, str] = {}
    written: Mapping[str, Mapping[str, Any]] = {}
    path: Path | None = None
    sha256: str = ""
    _log: CouponLog | None = PrivateAttr(default=None)

    @property
    def log(self) -> CouponLog | None:
        """The log of its coupons, read once."""
        return self._log

    @property
    def unjudged(self) -> tuple[str, ...]:
        """What stands in the file and no check judges: a sentence for all of which the same is to be said."""
        alike: dict[str, list[str]] = {}
        for one in (*self.givers, *self.parts):
            said = getattr(one, "unjudged", "gives loads, and no check judges it")
            alike.setdefault(said, []).append(one.id)
        return tuple(f"{', '.join(ids)}: {said}" for said, ids in alike.items())

    def case_of(self, item: Item) -> LoadCase | None:
        """The load case an item names."""
        return next((c for c in self.cases if c.id == item.case), None)


def load_project(path: str | Path, *, parts_suffice: bool = False) -> Project:
    """Read a project file; `parts_suffice` takes one in which there is nothing to judge.

    Raises InputErrors naming file, table, key, what was given and what is accepted, all faults at once.
    """
    file = Path(path)
    if file.is_dir():
        file = file / "project.toml"
    if file.exists() and not file.is_file():
        raise InputError("is no plain file; name the project's TOML file or its folder", where=str(file))
    try:
        raw = file.read_bytes()
        text = raw.decode("utf-8-sig")  # some editors put a byte-order mark in front
    except FileNotFoundError as error:
        raise InputError("there is no such file; `jointcalc new FOLDER` writes a starter", where=str(file)) from error
    except UnicodeDecodeError as error:
        raise InputError("is not UTF-8 text; save it as plain text in UTF-8", where=str(file)) from error
    except OSError as error:
        raise InputError(f"cannot be read: {error.strerror}", where=str(file)) from error
    try:
        data = tomllib.loads(text)
    except (ValueError, RecursionError) as error:  # a number of thousands of digits is a ValueError of another kind
        raise InputError(f"is not valid TOML: {error}", where=str(file)) from error
    import hashlib

    return read_project(
        data,
        where=file.name,
        text=text,
        path=file,
        sha256=hashlib.sha256(raw).hexdigest(),
        parts_suffice=parts_suffice,
    )


def read_project(
    data: Mapping[str, Any],
    *,
    where: str = "project",
    text: str = "",
    path: Path | None = None,
    sha256: str = "",
    parts_suffice: bool = False,
    nothing_suffices: bool = False,
) -> Project:
    """Build a project from parsed TOML; `text` is used to name lines, `nothing_suffices` takes one without items.

    Raises InputErrors.
    """
    found: list[InputError] = []
    accepted = ("project", "case", "sheet", "evidence", "coupons", *KINDS, *SOURCES, *PIECES)
    for key in data:
        if key not in accepted:
            found.append(
                InputError(
                    f"unknown table{nearest(key, accepted)} (accepted: {', '.join(accepted)})",
                    field=key,
                    where=line_of(where, text, rf"^[ \t]*\[{{1,2}}\s*{re.escape(key)}\b|^[ \t]*{re.escape(key)}\s*="),
                )
            )
    about: About | None = None
    head = data.get("project")
    if not isinstance(head, Mapping):
        found.append(
            InputError("is missing; the file starts with a [project] table with a title", field="project", where=where)
        )
    else:
        place = line_of(where, text, r"^[ \t]*\[\s*project\s*\]")
        about = _collect(found, About, head, place)
        if about is not None and about.units not in ("metric", "inch"):
            found.append(InputError(f"'{about.units}' is neither 'metric' nor 'inch'", field="units", where=place))
    cases: list[LoadCase] = []
    lost: set[str] = set()
    """Ids of cases that cannot be used; empty where one has none, and any may be meant."""
    if not isinstance(data.get("case", []), list):
        lost.add("")
    for n, entry in enumerate(_tables(found, data, "case", where)):
        case = _collect(found, LoadCase, entry, place_of(where, text, "case", n, entry))
        if case is None:
            lost.add(str(entry.get("id", "")))
        else:
            cases.append(case)
    sheets = data.get("sheet", {})
    if not isinstance(sheets, Mapping) or any(not isinstance(v, Mapping) for v in sheets.values()):
        found.append(InputError("write each as [sheet.NAME] with thickness and grade", field="sheet", where=where))
        sheets = {}
    spoilt = _spoilt_sheets(found, sheets, where, text)
    records = [
        one
        for n, entry in enumerate(_tables(found, data, "evidence", where))
        if (one := _collect(found, Evidence, entry, place_of(where, text, "evidence", n, entry))) is not None
    ]
    made_of: dict[str, tuple[str, ...]] = {}
    places: dict[str, str] = {}
    written: dict[str, Mapping[str, Any]] = {}
    items: list[Item] = []
    by_id = {case.id: case for case in cases}
    for kind in data:
        if kind not in KINDS:
            continue
        model: type[Item] = load(KINDS[kind].model)
        for n, entry in enumerate(_tables(found, data, kind, where)):
            if spoilt & _named_sheets(entry):
                continue  # told once, where the sheet is defined
            place = place_of(where, text, kind, n, entry)
            try:
                filled = _fill(_without_lost(entry, lost, by_id), sheets, by_id, about, model)
                noticed = with_records(filled, entry, records, SHEET_FIELDS) if records else []
            except InputError as error:
                found.append(error.at(where=place))
                continue
            item = _collect(found, model, filled, place)
            if item is not None:
                noticed += against(item, records)
                items.append(item.beside(noticed) if noticed else item)
                made_of[item.id] = tuple(sorted(_named_sheets(entry) & set(sheets)))
                places[item.id] = place.partition(": ")[0]
                written[item.id] = entry

    def unjudged(kinds: Iterable[str], model: Callable[[str], Any]) -> list[Any]:
        """What is read from tables whose entries no check judges; they serve no load case, and a key 'case' is told."""
        made: list[Any] = []
        for kind in kinds:
            for n, entry in enumerate(_tables(found, data, kind, where)):
                if spoilt & _named_sheets(entry):
                    continue
                place = place_of(where, text, kind, n, entry)
                try:
                    named = _fill({k: v for k, v in entry.items() if k != "case"}, sheets, {}, None, model(kind))
                except InputError as error:
                    found.append(error.at(where=place))
                    continue
                one = _collect(found, model(kind), {**entry, **named}, place)
                if one is not None:
                    made.append(one)
        return made

    parts = unjudged([kind for kind in data if kind in PIECES], lambda kind: load(PIECES[kind].model))
    givers = unjudged(SOURCES, lambda kind: load(SOURCES[kind].model))
    if len(items) + len(parts) > MOST_ITEMS:
        found.append(
            InputError(f"{len(items) + len(parts)} items; accepted is up to {MOST_ITEMS} in one project", where=where)
        )
    found += _twice([*items, *parts, *givers], where)
    if records:
        found += [one.at(where=where) for one in unknown_names(records, [i.id for i in items], sheets)]
        found += [one.at(where=where) for one in other_grades(records, sheets)]
    from jointcalc.model.links import beaded_parts, end_joints, weld_lines

    found += end_joints(items, where)
    found += beaded_parts(items, parts, where)
    items = weld_lines(items, found, where)
    line = line_of(where, text, r"^[ \t]*\[\s*coupons\s*\]")
    source, log = named_log(found, data.get("coupons"), f"{line}: [coupons]", path)
    items = beside_coupons(items, source, log)
    enough = nothing_suffices or ((parts or givers) and parts_suffice)
    if not items and not enough and not found:
        found.append(InputError(f"has no items; add one such as [[seam]] (accepted: {', '.join(KINDS)})", where=where))
    if found or about is None:
        raise InputErrors(at_keys(found, text))
    for item in items:
        if (beaded := getattr(item, "part", None)) is not None:
            next(part for part in parts if part.id == beaded).beaded(item)
    project = Project(about=about, cases=tuple(cases), items=(), path=path, sha256=sha256)
    # validated one by one above; giving them again would validate each a second time
    project = project.model_copy(update={"items": tuple(items), "parts": tuple(parts), "givers": tuple(givers)})
    project = project.model_copy(
        update={"evidence": tuple(records), "made_of": made_of, "places": places, "written": written}
    )
    project = project.model_copy(update={"coupons": source})
    project._log = log
    if givers or any(item.load or hasattr(item, "inside") for item in items):
        # the loads are worked out above the models, by what each giver's record names
        project = load("jointcalc.loads.project:carried")(project)
    return project


SHEET_FIELDS = (
    "sheet", "skin", "plate_sheet", "floor_sheet", "roof_sheet", "side_sheet", "front_sheet", "rear_sheet",
    "sill_sheet", "tunnel_sheet", "tunnel_plate",
)  # fmt: skip
"""Keys of an item that may name one sheet of the file; `sheets` names several."""


def _spoilt_sheets(found: list[InputError], sheets: Mapping[str, Any], where: str, text: str) -> set[str]:
    """Names of the file's sheets that cannot be used; each fault is told once, used or not."""
    from jointcalc.model.sheet import Sheet

    spoilt = set()
    for name, entry in sheets.items():
        line = line_of(where, text, rf"^[ \t]*\[\s*sheet\s*\.\s*[\"']?{re.escape(str(name))}[\"']?\s*\]")
        if _collect(found, Sheet, entry, f"{line}: [sheet.{name}]") is None:
            spoilt.add(name)
    return spoilt


def _named_sheets(entry: Mapping[str, Any]) -> set[str]:
    several = entry.get("sheets")
    named = [*(several if isinstance(several, list) else ()), *(entry.get(field) for field in SHEET_FIELDS)]
    return {name for name in named if isinstance(name, str)}


def _collect(found: list[InputError], kind: type[Any], data: Mapping[str, Any], where: str) -> Any:
    try:
        return build(kind, data, where=where, written=True)
    except InputErrors as error:
        found.extend(error.faults)
        return None


def _tables(found: list[InputError], data: Mapping[str, Any], kind: str, where: str) -> list[Mapping[str, Any]]:
    entries = data.get(kind, [])
    if not isinstance(entries, list) or any(not isinstance(e, Mapping) for e in entries):
        found.append(InputError(f"write each as [[{kind}]]", field=kind, where=where))
        return []
    return entries


def _without_lost(entry: Mapping[str, Any], lost: Collection[str], known: Mapping[str, LoadCase]) -> dict[str, Any]:
    """The item without a case that could not be read: that is told once, where the case stands."""
    named = entry.get("case")
    gone = isinstance(named, str) and (named in lost or ("" in lost and named not in known))
    return {key: value for key, value in entry.items() if not (gone and key == "case")}


def _fill(
    entry: dict[str, Any],
    sheets: Mapping[str, Any],
    cases: Mapping[str, LoadCase],
    about: About | None,
    model: type[Item],
) -> dict[str, Any]:
    """Names of sheets and of a load case put in."""

    def named(value: Any, field: str) -> Any:
        if not isinstance(value, str):
            return value
        if value not in sheets:
            known = ", ".join(sheets) or "none is defined"
            raise InputError(
                f"'{value}' is not a [sheet.NAME] of this file{nearest(value, sheets)} (defined: {known})", field=field
            )
        return dict(sheets[value])

    if isinstance(entry.get("sheets"), list):
        entry["sheets"] = [named(value, "sheets") for value in entry["sheets"]]
    for field in SHEET_FIELDS:
        if field in entry:
            entry[field] = named(entry[field], field)
    case = entry.get("case", "")
    if case:
        if not isinstance(case, str) or case not in cases:
            raise InputError(f"{worded(case)} is not the id of a [[case]]{nearest(str(case), cases)}", field="case")
        if "load_factor" not in entry:
            if cases[case].ultimate:
                entry["load_factor"] = 1.0
            elif cases[case].load_factor is not None:
                entry["load_factor"] = cases[case].load_factor
        if "cycles" not in entry and cases[case].cycles is not None:
            entry["cycles"] = cases[case].cycles
    if about is not None and "handbook_factor" not in entry:
        entry["handbook_factor"] = about.handbook_factor
    return entry


def _twice(items: Iterable[Any], where: str) -> list[InputError]:
    from unicodedata import normalize

    seen: set[str] = set()
    found = []
    for item in items:
        shown = normalize("NFC", " ".join(item.id.split()))  # what a reader can tell apart
        if shown in ("", "-"):
            found.append(InputError("an item needs an 'id' of its own, such as 'S1'", field="id", where=where))
        elif shown in seen:
            found.append(
                InputError(f"'{item.id}' is used twice; every item needs an id of its own", field="id", where=where)
            )
        seen.add(shown)
    return found
