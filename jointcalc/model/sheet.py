"""A sheet: thickness, grade, coating, and the strengths a design may use of it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from functools import cache, cached_property
from math import inf
from typing import Annotated, Any, ClassVar, get_args, get_origin

from pydantic import ModelWrapValidatorHandler, PlainSerializer, model_validator

from jointcalc.errors import InputError
from jointcalc.formula.branch import above
from jointcalc.formula.core import Evaluation
from jointcalc.formula.heat import COLD
from jointcalc.formula.lap import CORE_THICKNESS
from jointcalc.model.fields import Described, Said, Stress, refuse
from jointcalc.quantity.parse import Gauge, parse_thickness, worded
from jointcalc.quantity.sentence import Sentence, mm, mpa
from jointcalc.tables.gauges import sheet_thickness
from jointcalc.tables.materials import Material, material

_ZINC = re.compile(r"(?:Z|ZF|ZE)(?P<si>[0-9]{2,3})|G(?P<us>[0-9]{2,3})", re.IGNORECASE)
OUNCE_PER_SQUARE_FOOT = 305.152  # g/m^2, from the definitions of ounce and foot
PLAIN = ("", "none", "bare", "uncoated")
MOST_MADE = 256
"""Sheets remembered by what was written of them."""
_MADE: dict[Any, Any] = {}
_DRAWN: ContextVar[float] = ContextVar("strength of a sample over what is described", default=1.0)


@contextmanager
def drawn_strength(factor: float) -> Iterator[None]:
    """Within it stated strengths are a sample's, so many times what is described: no certificates of cold work."""
    token = _DRAWN.set(factor)
    try:
        yield
    finally:
        _DRAWN.reset(token)


def zinc_mass(coating: str) -> float:
    """Mass of zinc on both sides together [g/m^2] of a coating designation (`Z275`, `G90`).

    0 for bare sheet.  Raises InputError.
    """
    if coating.strip().lower() in PLAIN:
        return 0.0
    match = _ZINC.fullmatch(coating.strip())
    if not match:
        raise InputError(
            f"'{coating}' is not a coating designation; write 'none', 'Z275' (grams of zinc per square metre) or 'G90'",
            field="coating",
        )
    return float(match["si"]) if match["si"] else float(match["us"]) / 100 * OUNCE_PER_SQUARE_FOOT


class Sheet(Described):
    """One sheet of a stack.

    `thickness` is a size or a gauge (`18 ga`, read in the table of the grade's family and coating) and
    becomes millimetres with the zinc; `t` is what carries.  `yield_strength` and `tensile_strength`
    replace the table's values when a mill certificate gives better ones.
    """

    word: ClassVar[str] = "sheet"
    thickness: Annotated[
        float,
        PlainSerializer(lambda t: f"{t!r} mm", return_type=str, when_used="json"),
        Said('Thickness as measured, or a gauge: `"18 ga"`, `"18 swg"`.'),
    ]
    grade: Annotated[str, Said("Grade; `jointcalc tables show materials` lists them, with `--only DC04` one of them.")]
    coating: Annotated[str, Said('Zinc: `"Z275"`, `"G90"`; its thickness is taken off.')] = ""
    yield_strength: Annotated[
        Stress | None, Said("Yield strength from a mill certificate.", absent="that of the grade")
    ] = None
    tensile_strength: Annotated[
        Stress | None, Said("Tensile strength from a mill certificate.", absent="that of the grade")
    ] = None

    @model_validator(mode="wrap")
    @classmethod
    def _as_before(cls, data: Any, handler: ModelWrapValidatorHandler[Any]) -> Any:
        """The same texts are read once: a project names few sheets, and every joint is made of them."""
        if not isinstance(data, Mapping) or not all(isinstance(text, str) for text in data.values()):
            return handler(data)
        texts = (cls, *data.items())
        made = _MADE.get(texts)
        if made is None:
            if len(_MADE) >= MOST_MADE:
                _MADE.clear()
            made = _MADE[texts] = handler(data)
        own = made.model_copy()
        own.__dict__.pop("core", None)  # two sheets alike in a stack are two lines of its working
        return own

    @model_validator(mode="before")
    @classmethod
    def _read(cls, data: Any) -> Any:
        if not isinstance(data, Mapping) or "thickness" not in data:
            return data
        if "grade" not in data:  # which is told; that the thickness is a text is no fault
            try:
                read = parse_thickness(data["thickness"], numbers=True)
            except InputError as error:
                raise refuse(error.at(field="thickness").marked) from error
            return {**data, "thickness": 1.0 if isinstance(read, Gauge) else read}
        grade = data["grade"]
        if not isinstance(grade, str):
            raise refuse(f"grade: {worded(grade)} is not a grade name; write a text such as 'DC04'")
        try:
            about = material(grade)
            coating = str(data.get("coating") or ("Z275" if about.coated else ""))
            zinc = zinc_mass(coating)
            parse_thickness(data["thickness"], numbers=True)
            thick = sheet_thickness(data["thickness"], about.family, zinc > 0 and about.family == "steel", numbers=True)
            material(grade, thick)
        except InputError as error:
            raise refuse(error.at(field="thickness").marked) from error
        return {**data, "thickness": thick, "coating": coating}

    @model_validator(mode="after")
    def _resolve(self) -> Any:
        if self.core is not None and self.t <= 0.1:
            raise refuse(f"coating: '{self.coating}' leaves no steel in a sheet of {mm(self.thickness):.4g}")
        if (self.tensile_strength or self.material.f_u) is None:
            raise refuse(
                f"grade: the standard of {self.grade} guarantees no tensile strength; take a structural grade or give "
                "'tensile_strength' (and 'yield_strength') from a mill certificate or your own coupon"
            )
        if self.yield_strength is not None and above(self.yield_strength, self.f_u):
            least = "" if self.tensile_strength else f", the least of {self.grade}; give 'tensile_strength' as well"
            raise refuse(
                f"yield_strength: {mpa(self.yield_strength):.4g} is above the tensile strength of "
                f"{mpa(self.f_u):.4g}{least}: sheet yields before it tears"
            )
        return self

    # cached: a check asks for these dozens of times
    @cached_property
    def material(self) -> Material:
        """The grade's row of the material table."""
        return material(self.grade, self.thickness)

    @cached_property
    def t(self) -> float:
        """Thickness that carries, zinc deducted [mm]."""
        return float(self.core.value) if self.core else self.thickness

    @cached_property
    def core(self) -> Evaluation | None:
        """The working of the zinc deduction; None for bare sheet."""
        zinc = zinc_mass(self.coating)
        return CORE_THICKNESS.evaluate(t_nom=self.thickness, m_z=zinc) if zinc else None

    @property
    def gauge(self) -> Gauge | None:
        """The gauge it was ordered by, where the builder wrote one."""
        typed = self._typed.get("thickness", "")
        if isinstance(typed, str):
            try:
                read = parse_thickness(typed)
            except InputError:
                return None
            return read if isinstance(read, Gauge) else None
        return typed if isinstance(typed, Gauge) else None

    @property
    def coated(self) -> bool:
        """Whether there is zinc on it."""
        return self.core is not None

    @cached_property
    def f_u(self) -> float:
        """Tensile strength to compute with [MPa]."""
        return self.tensile_strength or self.material.f_u  # type: ignore[return-value]

    @property
    def cold_worked_from(self) -> float:
        """Tensile strength [MPa] above which a certificate tells of cold work, which heat takes away; inf for none."""
        about = self.material
        return inf if about.f_u is None or about.family == "aluminium" else COLD * about.f_u * _DRAWN.get()

    @property
    def f_y(self) -> float:
        """Yield strength to compute with [MPa]; where the standard lets none be assumed, InputError."""
        value = self.yield_strength or self.material.f_y
        if value is None:
            raise InputError(
                f"the standard of {self.grade} lets no yield strength be assumed; give 'yield_strength'", field="grade"
            )
        return value

    @property
    def has_yield(self) -> bool:
        """Whether there is a yield strength to compute with."""
        return (self.yield_strength or self.material.f_y) is not None

    @cached_property
    def label(self) -> Sentence:
        """`1.2 mm DC04`, as a reader names the sheet."""
        zinc = f" {self.coating}" if self.coated else ""
        return Sentence(f"{mm(self.thickness):.4g} {self.material.grade}{zinc}")

    def caution_codes(self) -> list[tuple[str, dict[str, str]]]:
        """(code, words) of the cautions the sheet raises."""
        found: list[tuple[str, dict[str, str]]] = [("thin-by-tolerance", {})]
        about = self.material
        given = self.tensile_strength is not None and self.yield_strength is not None
        if about.f_y is not None and about.f_y_basis == "maximum only" and self.yield_strength is None:
            found.append(("assumed-yield", {"grade": about.grade, "yield_text": f"{mpa(about.f_y):.4g}"}))
        elif not about.guaranteed and not given:
            found.append(("typical-strength", {"grade": about.grade}))
        if self.coated:
            found.append(("zinc-fume", {}))
        if about.family == "stainless":
            found.append(("stainless-fume", {}))
        return found


@cache
def sheet_keys(model: type[Described]) -> tuple[str, ...]:
    """Keys of a table of the project file that name one of its sheets each; `sheets` names several."""
    hints = {name: about.annotation for name, about in model.model_fields.items()}
    single = [n for n, h in hints.items() if h is Sheet or (get_origin(h) is not tuple and Sheet in get_args(h))]
    return (*model.instead, *single)
