"""What shows that the work is as described: photos, mill certificates, who welded with what, coupons.

Records of the project file.  They change no capacity upwards: a certificate whose strength lies below what a sheet is
judged with lowers it and is told (`Noticed`); one above helps only where the builder writes `yield_strength` himself.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Annotated, Any, ClassVar

from pydantic import model_validator

from jointcalc.errors import InputError, nearest
from jointcalc.model.fields import Described, Numbers, Said, Stress, refuse
from jointcalc.quantity.compare import above
from jointcalc.quantity.sentence import mm, mpa

PHOTO, CERTIFICATE, WELDING, COUPONS = "photo", "certificate", "welding", "coupons"
SORTS = (PHOTO, CERTIFICATE, WELDING, COUPONS)

OWN: Mapping[str, tuple[str, ...]] = {
    PHOTO: (),
    CERTIFICATE: ("heat", "grade", "yield_strength", "tensile_strength"),
    WELDING: ("welder", "machine", "settings"),
    COUPONS: ("welder", "machine", "settings", "test", "button", "force", "mode", "passed"),
}
"""Sort of record -> the keys that only some sorts have."""

NEEDS: Mapping[str, tuple[tuple[str, ...], str]] = {
    PHOTO: (("file",), "the picture file beside the project"),
    CERTIFICATE: (("yield_strength", "tensile_strength"), "the strengths that stand on it"),
    WELDING: (("welder", "machine", "settings"), "who welded, with what, set to what"),
    COUPONS: (("button", "force", "passed"), "what was measured, or whether they passed"),
}
"""Sort -> the keys of which one must be given, and what that is in words."""

Sizes = Annotated[tuple[float, ...], Numbers("length", 0, signed=False)]
Forces = Annotated[tuple[float, ...], Numbers("force", 0, signed=False)]


class Evidence(Described):
    """One record: a photo, a mill certificate, who welded with what, or coupons that were broken.

    It may name the items and the sheets it is about; one that names none is about the whole project.
    """

    word: ClassVar[str] = "record"
    sort: Annotated[str, Said("What it is: `photo`, `certificate`, `welding`, `coupons`.")]
    id: Annotated[str, Said("A short name of the {item}.", absent="numbered in the dossier")] = ""
    title: Annotated[str, Said("What it shows: the caption of a photo.")] = ""
    items: Annotated[tuple[str, ...], Said("Ids of the items it is about.", absent="the whole project")] = ()
    sheets: Annotated[tuple[str, ...], Said("Names of the `[sheet.NAME]` it is about.")] = ()
    file: Annotated[str, Said("File beside the project: the picture, a scan, the coupons' table.")] = ""
    date: Annotated[str, Said("When it was made.")] = ""
    by: Annotated[str, Said("Who made it or vouches for it.")] = ""
    number: Annotated[str, Said("Number on the paper.")] = ""
    heat: Annotated[str, Said("Certificate: heat number, as stamped or labelled on the sheet.")] = ""
    grade: Annotated[str, Said("Certificate: of several grades in an item, the one it is about.")] = ""
    yield_strength: Annotated[
        Stress | None, Said("Certificate: f_y; below what a sheet is judged with, it is judged with this.")
    ] = None
    tensile_strength: Annotated[Stress | None, Said("Certificate: f_u, in the same way.")] = None
    welder: Annotated[str, Said("Who welded.")] = ""
    machine: Annotated[str, Said("With which machine.")] = ""
    settings: Annotated[str, Said("Settings: current, time, force, tips; or wire, gas, volts.")] = ""
    test: Annotated[str, Said("Coupons: how they were broken: peel, shear, cross tension, cut and etched.")] = ""
    button: Annotated[Sizes | None, Said('Coupons: buttons left, `"5.6 5.4 5.8 mm"`.')] = None
    force: Annotated[Forces | None, Said('Coupons: breaking loads, `"6.2 6.0 6.4 kN"`.')] = None
    mode: Annotated[str, Said("Coupons: how they failed: button pulled, interface sheared.")] = ""
    passed: Annotated[bool | None, Said("Coupons: whether they passed what was asked of them.")] = None

    @model_validator(mode="after")
    def _one_sort(self) -> Any:
        if self.sort not in SORTS:
            raise refuse(f"sort: '{self.sort}' is not known{nearest(self.sort, SORTS)} (accepted: {', '.join(SORTS)})")
        given = {name for names in OWN.values() for name in names if getattr(self, name) not in (None, "", ())}
        if wrong := sorted(given - set(OWN[self.sort])):
            home = next(sort for sort in SORTS if wrong[0] in OWN[sort])
            raise refuse(f"{wrong[0]}: says nothing of a {self.sort}; give it in a record of its own, sort = '{home}'")
        wanted, words = NEEDS[self.sort]
        if all(getattr(self, name) in (None, "", ()) for name in wanted):
            raise refuse(f"{wanted[0]}: is missing; a {self.sort} says {words} ({', '.join(wanted)})")
        if self.sort == PHOTO and not self.title.strip():
            raise refuse("title: is missing; say what the photo shows")
        if self.sort == CERTIFICATE and not (self.items or self.sheets):
            raise refuse("sheets: is missing; say which [sheet.NAME] (or which items) the certificate is of")
        return self

    def about(self, item: str, sheets: Iterable[str] = ()) -> bool:
        """Whether the record is about an item, by its id or by a sheet it is made of; not one about the whole."""
        return item in self.items or bool(set(sheets) & set(self.sheets))

    @property
    def label(self) -> str:
        """How a certificate or a record is called in a sentence."""
        told = f"heat {self.heat}" if self.heat else self.number or self.id or self.title
        return f"{self.sort} {told}".strip()


@dataclass(frozen=True, slots=True)
class Noticed:
    """What a record says against an item: the code of the caution and its words."""

    code: str
    words: Mapping[str, str] = field(default_factory=dict)


STRENGTHS = ("yield_strength", "tensile_strength")
_LETTER = {"yield_strength": "f_y", "tensile_strength": "f_u"}


def lowered(sheet: Mapping[str, Any], records: Iterable[Evidence]) -> tuple[dict[str, Any], list[Noticed]]:
    """A sheet as a file has it with the strengths of its certificates where they lie below, and what is noticed.

    `sheet` also takes an item with a grade of its own, such as a brace.  Raises InputError for an unknown grade.
    """
    from jointcalc.quantity.parse import parse
    from jointcalc.tables.materials import material

    made, noticed = dict(sheet), []
    for one in records:
        if one.sort != CERTIFICATE or (one.grade and _name(one.grade) != _name(sheet.get("grade"))):
            continue
        about = material(str(sheet.get("grade", "")))
        for name, held in (("yield_strength", about.f_y), ("tensile_strength", about.f_u)):
            found = getattr(one, name)
            typed = made.get(name)
            judged = held if typed is None else parse(typed, "stress", numbers=True)
            if found is None or judged is None or not above(judged, found):
                continue
            made[name] = one._typed[name]
            words = {"record": one.label, "letter": _LETTER[name], "found": f"{mpa(found):.4g}",
                     "judged": f"{mpa(judged):.4g}", "grade": about.grade}  # fmt: skip
            noticed.append(Noticed("certificate-below", words))
    return made, noticed


def with_records(
    filled: dict[str, Any], entry: Mapping[str, Any], records: Iterable[Evidence], fields: Iterable[str]
) -> list[Noticed]:
    """Puts the strengths of certificates that lie below into the sheets of an item, and says of which; coupons that
    passed are coupons of the item.

    A record is about a sheet by its name, or about all of an item (of its grade, where it says one).  `fields` name one
    sheet each.  Raises InputError for a record that is of no sheet of its item, or may be of one whose
    strengths cannot be told.
    """
    noticed: list[Noticed] = []
    of_item = [one for one in records if entry.get("id") in one.items]

    def put(raw: Any, name: Any) -> Any:
        if not isinstance(raw, Mapping):
            return raw
        named = [one for one in records if isinstance(name, str) and name in one.sheets and one not in of_item]
        made, told = lowered(raw, [*named, *of_item])
        noticed.extend(told)
        return made

    if any(one.sort == COUPONS and one.passed for one in of_item):
        filled.setdefault("coupons", True)
    grades = {_name(one.get("grade")) for one in _sheets_in(filled, fields)}
    for one in of_item:
        if one.sort == CERTIFICATE and one.grade and _name(one.grade) not in grades:
            raise InputError(
                f"the record '{one.label}' is of {one.grade}, and no sheet of this item whose strengths can be told is "
                f"(these are: {', '.join(sorted(grades))})", field="evidence.grade",
            )  # fmt: skip
    if isinstance(filled.get("sheets"), list):
        filled["sheets"] = [put(raw, name) for raw, name in zip(filled["sheets"], entry["sheets"])]
    for key in (key for key in fields if key in filled):
        filled[key] = put(filled[key], entry[key])
    if "grade" in filled and of_item:
        changed, told = lowered(filled, of_item)
        filled.update(changed)
        noticed.extend(told)
    skin = _skin(filled)
    if skin and of_item:
        changed, told = lowered(skin, of_item)
        filled.update({f"skin_{name}": changed[name] for name in STRENGTHS if changed.get(name) is not None})
        noticed.extend(told)
    if filled.get("plate") is not None:
        _refuse_lower_plate(str(filled.get("plate_grade", PLATE_GRADE)), of_item)
    return list({str(one): one for one in noticed}.values())


PLATE_GRADE = "S235JR"
"""Grade of a spreader plate of which nothing is said, as its model has it."""


def _name(grade: Any) -> str:
    """A grade as its table writes it; as it was typed where none has it."""
    from jointcalc.tables.materials import material

    try:
        return material(str(grade)).grade
    except InputError:
        return str(grade)


def _skin(filled: Mapping[str, Any]) -> dict[str, Any]:
    """The skin of a hat or the upper sheet of a lap, where it says more than the profile's sheet does."""
    own = {name: filled[f"skin_{name}"] for name in STRENGTHS if filled.get(f"skin_{name}") is not None}
    grade = filled.get("skin_grade")
    if grade:
        return {"grade": grade, **own}
    # what it does not say is the profile's, which the same certificates have lowered
    return {"grade": filled["grade"], **own} if own and "grade" in filled else {}


def _refuse_lower_plate(grade: str, records: Iterable[Evidence]) -> None:
    """InputError for a certificate of a whole item below the grade of its spreader plate, which takes no strengths."""
    from jointcalc.tables.materials import material

    held = material(grade)
    for one in records:
        if one.sort != CERTIFICATE or one.grade:
            continue
        pairs = ((held.f_y, one.yield_strength), (held.f_u, one.tensile_strength))
        if any(judged is not None and found is not None and above(judged, found) for judged, found in pairs):
            raise InputError(
                f"the record '{one.label}' lies below {grade}, the grade of the plate; say by `grade` of which sheet "
                "it is, or give the plate a grade that it keeps", field="evidence.grade",
            )  # fmt: skip


def other_grades(records: Iterable[Evidence], sheets: Mapping[str, Any]) -> list[InputError]:
    """Certificates of a grade that none of the sheets they name is of."""
    found = []
    for one in records:
        named = [sheets[name] for name in one.sheets if name in sheets]
        grades = {_name(sheet.get("grade")) for sheet in named}
        if one.sort == CERTIFICATE and one.grade and named and _name(one.grade) not in grades:
            told = f"the record '{one.label}' is of {one.grade}, and no sheet it names is"
            found.append(InputError(f"{told} (these are: {', '.join(sorted(grades))})", field="evidence.grade"))
    return found


def _sheets_in(filled: Mapping[str, Any], fields: Iterable[str]) -> list[Mapping[str, Any]]:
    several = filled.get("sheets")
    found = [*(several if isinstance(several, list) else ()), *(filled.get(field) for field in fields)]
    own = [filled, {"grade": filled.get("skin_grade") or filled["grade"]}] if "grade" in filled else []
    return [one for one in (*found, *own) if isinstance(one, Mapping)]


def against(item: Any, records: Iterable[Evidence]) -> list[Noticed]:
    """What coupons say against an item that names them: not passed, or buttons below the diameter judged with."""
    noticed = []
    for one in records:
        if one.sort != COUPONS or item.id not in one.items:
            continue
        if one.passed is False:
            noticed.append(Noticed("coupons-failed", {"record": one.label}))
        size = getattr(item, "d", None)
        if one.button and isinstance(size, float) and above(size, min(one.button)):
            words = {"record": one.label, "found": f"{mm(min(one.button)):.4g}", "judged": f"{mm(size):.4g}"}
            noticed.append(Noticed("coupons-below", words))
    return noticed


def unknown_names(records: Iterable[Evidence], items: Iterable[str], sheets: Iterable[str]) -> list[InputError]:
    """Items and sheets that records name and the file does not have."""
    known = {"items": (sorted(items), "the id of an item"), "sheets": (sorted(sheets), "a [sheet.NAME]")}
    return [
        InputError(
            f"'{name}' of the record '{one.label}' is not {words} of this file{nearest(name, names)}",
            field=f"evidence.{key}",
        )
        for one in records
        for key, (names, words) in known.items()
        for name in getattr(one, key)
        if name not in names
    ]
