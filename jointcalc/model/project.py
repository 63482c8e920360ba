"""A project: one TOML file that describes a vehicle's joints, members and panels."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Collection, Iterable, Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, ClassVar

from pydantic import PrivateAttr, model_validator

from jointcalc.errors import InputError, InputErrors, nearest
from jointcalc.formula.safety import HANDBOOK_FACTOR
from jointcalc.model.coupon_source import CouponSource, beside_coupons, named_log
from jointcalc.model.evidence import Evidence, against, other_grades, unknown_names, with_records
from jointcalc.model.fields import Described, Item, Numbers, Said, build, refuse
from jointcalc.model.lines import at_keys, line_of, place_of
from jointcalc.model.sheet import Sheet, sheet_keys
from jointcalc.quantity.parse import worded
from jointcalc.registry import KINDS, PIECES, SOURCES, Giver, Piece, load
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
    handbook_factor: Annotated[float, Said("Your own factor on handbook minimums.")] = HANDBOOK_FACTOR
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
    file = _File(data, where, text)
    file.refuse_unknown()
    about = file.about()
    items = file.items(about)
    parts = file.unjudged([kind for kind in data if kind in PIECES], PIECES)
    givers = file.unjudged([kind for kind in SOURCES if kind in data], SOURCES)
    found = file.found
    if len(items) + len(parts) > MOST_ITEMS:
        found.append(
            InputError(f"{len(items) + len(parts)} items; accepted is up to {MOST_ITEMS} in one project", where=where)
        )
    found += _twice([*items, *parts, *givers], where)
    if file.records:
        found += [one.at(where=where) for one in unknown_names(file.records, [i.id for i in items], file.sheets)]
        found += [one.at(where=where) for one in other_grades(file.records, file.sheets)]
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
    project = Project(about=about, cases=tuple(file.cases.values()), items=(), path=path, sha256=sha256)
    # validated one by one above; giving them again would validate each a second time
    project = project.model_copy(
        update={
            "items": tuple(items),
            "parts": tuple(parts),
            "givers": tuple(givers),
            "evidence": tuple(file.records),
            "made_of": file.made_of,
            "places": file.places,
            "written": file.written,
            "coupons": source,
        }
    )
    project._log = log
    if givers or any(item.load or hasattr(item, "inside") for item in items):
        # the loads are worked out above the models, by what each giver's record names
        project = load("jointcalc.loads.project:carried")(project)
    return project


class _File:
    """One reading of a project file: its tables, what is wrong with them so far, and where its items stand."""

    def __init__(self, data: Mapping[str, Any], where: str, text: str) -> None:
        self.data, self.where, self.text = data, where, text
        self.found: list[InputError] = []
        self.cases: dict[str, LoadCase] = {}
        self.lost: set[str] = set()
        """Ids of cases that cannot be used; empty where one has none, and any may be meant."""
        self.sheets: Mapping[str, Any] = {}
        self.spoilt: set[str] = set()
        """Names of sheets that cannot be used: told once, where the sheet is defined."""
        self.records: list[Evidence] = []
        self.made_of: dict[str, tuple[str, ...]] = {}
        self.places: dict[str, str] = {}
        self.written: dict[str, Mapping[str, Any]] = {}

    def refuse_unknown(self) -> None:
        """Tells every table that no kind has."""
        accepted = ("project", "case", "sheet", "evidence", "coupons", *KINDS, *SOURCES, *PIECES)
        for key in self.data:
            if key not in accepted:
                begins = rf"^[ \t]*\[{{1,2}}\s*{re.escape(key)}\b|^[ \t]*{re.escape(key)}\s*="
                told = f"unknown table{nearest(key, accepted)} (accepted: {', '.join(accepted)})"
                self.found.append(InputError(told, field=key, where=line_of(self.where, self.text, begins)))

    def about(self) -> About | None:
        """The head of the file; None where it is missing or wrong."""
        head = self.data.get("project")
        if not isinstance(head, Mapping):
            told = "is missing; the file starts with a [project] table with a title"
            self.found.append(InputError(told, field="project", where=self.where))
            return None
        place = line_of(self.where, self.text, r"^[ \t]*\[\s*project\s*\]")
        about: About | None = _collect(self.found, About, head, place)
        if about is not None and about.units not in ("metric", "inch"):
            self.found.append(InputError(f"'{about.units}' is neither 'metric' nor 'inch'", field="units", where=place))
        return about

    def items(self, about: About | None) -> list[Item]:
        """What is judged, with the cases, sheets and records that its entries name."""
        self._read_cases()
        self._read_sheets()
        self.records = [
            one
            for entry, place in self._entries("evidence")
            if (one := _collect(self.found, Evidence, entry, place)) is not None
        ]
        made: list[Item] = []
        for kind in self.data:
            if kind not in KINDS:
                continue
            model: type[Item] = load(KINDS[kind].model)
            for entry, place in self._entries(kind):
                item = self._item(model, entry, place, about)
                if item is not None:
                    made.append(item)
                    self.made_of[item.id] = tuple(sorted(_named_sheets(entry, model) & set(self.sheets)))
                    self.places[item.id] = place.partition(": ")[0]
                    self.written[item.id] = entry
        return made

    def unjudged(self, kinds: Iterable[str], records: Mapping[str, Giver | Piece]) -> list[Any]:
        """What is read from tables whose entries no check judges; they serve no load case, and a key 'case' is told."""
        made: list[Any] = []
        for kind in kinds:
            model: type[Described] = load(records[kind].model)
            for entry, place in self._entries(kind):
                if self.spoilt & _named_sheets(entry, model):
                    continue
                try:
                    named = _fill({k: v for k, v in entry.items() if k != "case"}, self.sheets, {}, None, model)
                except InputError as error:
                    self.found.append(error.at(where=place))
                    continue
                one = _collect(self.found, model, {**entry, **named}, place)
                if one is not None:
                    made.append(one)
        return made

    def _entries(self, kind: str) -> Iterator[tuple[Mapping[str, Any], str]]:
        """The entries of a list of tables, each with its place in the file."""
        entries = self.data.get(kind, [])
        if not isinstance(entries, list) or any(not isinstance(e, Mapping) for e in entries):
            self.found.append(InputError(f"write each as [[{kind}]]", field=kind, where=self.where))
            return
        for n, entry in enumerate(entries):
            yield entry, place_of(self.where, self.text, kind, n, entry)

    def _read_cases(self) -> None:
        if not isinstance(self.data.get("case", []), list):
            self.lost.add("")
        for entry, place in self._entries("case"):
            case = _collect(self.found, LoadCase, entry, place)
            if case is None:
                self.lost.add(str(entry.get("id", "")))
            elif case.id in self.cases:
                told = f"'{case.id}' is used twice; every case needs an id of its own"
                self.found.append(InputError(told, field="id", where=place))
            else:
                self.cases[case.id] = case

    def _read_sheets(self) -> None:
        sheets = self.data.get("sheet", {})
        if not isinstance(sheets, Mapping) or any(not isinstance(v, Mapping) for v in sheets.values()):
            told = "write each as [sheet.NAME] with thickness and grade"
            self.found.append(InputError(told, field="sheet", where=self.where))
            return
        self.sheets = sheets
        for name, entry in sheets.items():
            begins = rf"^[ \t]*\[\s*sheet\s*\.\s*[\"']?{re.escape(str(name))}[\"']?\s*\]"
            line = line_of(self.where, self.text, begins)
            if _collect(self.found, Sheet, entry, f"{line}: [sheet.{name}]") is None:
                self.spoilt.add(name)

    def _item(self, model: type[Item], entry: Mapping[str, Any], place: str, about: About | None) -> Item | None:
        if self.spoilt & _named_sheets(entry, model):
            return None
        try:
            filled = _fill(_without_lost(entry, self.lost, self.cases), self.sheets, self.cases, about, model)
            noticed = with_records(filled, entry, self.records, sheet_keys(model)) if self.records else []
        except InputError as error:
            self.found.append(error.at(where=place))
            return None
        item: Item | None = _collect(self.found, model, filled, place)
        if item is None:
            return None
        noticed += against(item, self.records)
        return item.beside(noticed) if noticed else item


def _named_sheets(entry: Mapping[str, Any], model: type[Described]) -> set[str]:
    several = entry.get("sheets")
    named = [*(several if isinstance(several, list) else ()), *(entry.get(key) for key in sheet_keys(model))]
    return {name for name in named if isinstance(name, str)}


def _collect(found: list[InputError], kind: type[Any], data: Mapping[str, Any], where: str) -> Any:
    try:
        return build(kind, data, where=where, written=True)
    except InputErrors as error:
        found.extend(error.faults)
        return None


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
    model: type[Described],
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
    for field in sheet_keys(model):
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
