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
        if one.sort != CERTIFICATE or (one.grade and one.grade != sheet.get("grade")):
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
