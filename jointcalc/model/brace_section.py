"""What a brace is folded of: its profile and sheets, whatever it carries.

A brace is described anew for every load it stands under and for every pitch that is tried; the profile is read and
drawn once, and what rules work out of it alone is kept beside it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from functools import cached_property, lru_cache
from typing import Any, NamedTuple, TypeVar

from jointcalc.errors import InputError
from jointcalc.model.fields import build
from jointcalc.model.sheet import Sheet, zinc_mass
from jointcalc.section.families.family import Family
from jointcalc.section.families.hat import HatSkin
from jointcalc.section.families.lap import Lap
from jointcalc.section.profile import parse_profile
from jointcalc.section.properties import Properties
from jointcalc.section.tracer import Flat
from jointcalc.tables.gauges import gauge_thickness
from jointcalc.tables.materials import material

KEPT = 64
"""Sections kept at once: those of one item, its alternatives and its changes are far fewer."""

T = TypeVar("T")


class SheetSaid(NamedTuple):
    """What is said of a sheet of a brace besides its thickness; an empty text or None where nothing is."""

    grade: str
    coating: str
    yield_strength: float | None
    tensile_strength: float | None


@dataclass(frozen=True, eq=False)
class BraceSection:
    """A profile by its outside dimensions (`family`), of the sheet that carries (`core`), and its sheets.

    The sheets are the profile's, then the skin or the upper sheet of a lap.
    """

    family: Family
    core: Family
    sheets: tuple[Sheet, ...]
    _kept: dict[Any, Any] = field(default_factory=dict, repr=False)

    @cached_property
    def properties(self) -> Properties:
        """Section properties of the sheet that carries, as the profile is drawn."""
        return self.core.properties(density=self.sheets[0].material.density)

    @cached_property
    def mass_per_metre(self) -> float:
        """Mass of the profile as the sheet is bought [kg/m]."""
        return float(self.family.properties(density=self.sheets[0].material.density).mass_per_metre[0])

    def once(self, name: Any, work_out: Callable[[], T]) -> T:
        """What follows from profile and sheets alone, worked out by whoever asks first."""
        if name not in self._kept:
            self._kept[name] = work_out()
        found: T = self._kept[name]
        return found


@lru_cache(maxsize=KEPT)
def section_of(profile: str | Family, own: SheetSaid, skin: SheetSaid) -> BraceSection:
    """The section of a profile in the text form, or of one that a program made; `skin` is the second sheet, if any.

    Raises InputError for a profile that cannot be built or a sheet that cannot be.
    """
    about = material(own.grade)
    coated = about.family == "steel" and zinc_mass(own.coating or ("Z275" if about.coated else "")) > 0
    if isinstance(profile, str):
        family = parse_profile(profile, gauge=lambda n, field: gauge_thickness(n, about.family, coated, field=field))
    else:
        family = profile
        try:
            family.check()
        except InputError as fault:
            raise InputError(fault.message, field=f"profile {fault.field}".strip()) from None
    sizes = [_thickness(family)]
    if isinstance(family, HatSkin):
        sizes.append(float(family.skin_t))
    elif isinstance(family, Lap):
        sizes.append(float(family.t if family.t_2 is None else family.t_2))
    sheets = tuple(build(Sheet, {"thickness": t, **said._asdict()}) for t, said in zip(sizes, (own, skin)))
    return BraceSection(family, _core(family, sheets), sheets)


def _core(family: Family, sheets: tuple[Sheet, ...]) -> Family:
    """The profile of the sheet that carries: zinc deducted."""
    if not any(sheet.coated for sheet in sheets):
        return family
    letter = "t" if "t" in family.letters() else min(("depth", "width"), key=lambda side: getattr(family, side))
    change: dict[str, Any] = {letter: sheets[0].t}  # of a bar the thin side
    if family.radius is not None and "r" in family.letters():
        change["r"] = family.radius  # the tool's radius, whatever the zinc
    if isinstance(family, HatSkin):
        change["skin_t"] = sheets[1].t
    if isinstance(family, Lap):
        change["t_2"] = sheets[1].t
    return replace(family, **change)


def _thickness(family: Family) -> float:
    """Thickness of the profile's sheet [mm]; the thin side of a bar."""
    flats = [float(part.t[0]) for part in family.flats_and_bends().parts if isinstance(part, Flat)]
    given = getattr(family, "t", None)
    return float(given) if given is not None else flats[0]
