"""Field types of the models: a text with a unit goes in, a float in N, mm, MPa, t, s comes out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated, Any, ClassVar, LiteralString, Self, TypeVar

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    GetJsonSchemaHandler,
    PrivateAttr,
    ValidationError,
    ValidationInfo,
    model_validator,
)
from pydantic._internal._model_construction import ModelMetaclass  # it has no public name
from pydantic.functional_validators import ModelWrapValidatorHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import PydanticCustomError, core_schema

from jointcalc.errors import InputError, nearest
from jointcalc.formula.safety import GAMMA_F, HANDBOOK_FACTOR
from jointcalc.marks import marked, unmarked
from jointcalc.model.faults import faults
from jointcalc.model.said import Said as Said  # noqa: PLC0414 - offered here too
from jointcalc.model.said import Typed, described, lists_of_texts, said
from jointcalc.model.takes import accepted, takes, truths, untrue
from jointcalc.quantity.compare import at_least, at_most
from jointcalc.quantity.letters import spelt, unseen
from jointcalc.quantity.parse import as_written, parse, parse_list, written_in
from jointcalc.quantity.units import KINDS
from jointcalc.registry import BY_KEY

if TYPE_CHECKING:
    from jointcalc.model.evidence import Noticed
    from jointcalc.model.given import Standing


@dataclass(frozen=True)
class Quantity(Typed):
    """Annotation of a float field: its kind of quantity and the sizes taken for a slip beyond.

    It reads a text with a unit, a quantity of pint, or a plain number in the base unit (N, mm, MPa, t, s).
    `low` and `high` are in base units.  JSON carries the value as a text with its unit.
    """

    kind: str
    low: float | None = None
    high: float | None = None
    signed: bool = False
    example: str = ""

    def read(self, value: Any, field: str = "") -> float:
        """The value in its base unit; raises InputError with the field and what is accepted."""
        return parse(
            value, self.kind, field=field, low=self.low, high=self.high, signed=self.signed, example=self.example,
            numbers=True,
        )  # fmt: skip

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> core_schema.CoreSchema:
        """Validate by the strict grammar; serialise with the unit."""
        base = KINDS[self.kind].base

        def validated(value: Any) -> float:
            try:
                return self.read(value)
            except InputError as error:
                raise _refusal("quantity", error.message) from error

        return core_schema.no_info_plain_validator_function(
            validated,
            serialization=core_schema.plain_serializer_function_ser_schema(
                # a field may take a word instead, such as a class of spot size
                lambda value: value if isinstance(value, str) else f"{value!r} {base}",
                when_used="json",
            ),
        )

    def __get_pydantic_json_schema__(self, schema: Any, handler: Any) -> dict[str, Any]:
        """A string; the description shows the accepted form."""
        kind = KINDS[self.kind]
        return {
            "type": "string",
            "description": f"a {self.kind} with its unit ({', '.join(list(kind.units)[:8])})",
            "examples": [self.example or kind.example],
        }


@dataclass(frozen=True)
class Numbers(Typed):
    """Annotation of a tuple field: `count` numbers (0: any) that share the unit at the end of the text."""

    kind: str
    count: int
    signed: bool = True
    by: bool = False
    """Whether they are the sizes of one thing, with an `x` between them allowed."""

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> core_schema.CoreSchema:
        """Validate by the strict grammar; serialise with the unit."""
        base = KINDS[self.kind].base

        def read(value: Any) -> tuple[float, ...]:
            try:
                return tuple(
                    parse_list(value, self.kind, self.count or None, signed=self.signed, numbers=True, by=self.by)
                )
            except InputError as error:
                raise _refusal("quantity", error.message) from error

        return core_schema.no_info_plain_validator_function(
            read,
            serialization=core_schema.plain_serializer_function_ser_schema(
                lambda value: f"{' '.join(repr(v) for v in value)} {base}", when_used="json"
            ),
        )

    def __get_pydantic_json_schema__(self, schema: Any, handler: Any) -> dict[str, Any]:
        """A string; the description shows the accepted form."""
        return {
            "type": "string",
            "description": f"{self.count or 'any'} numbers, then the unit",
            "examples": [f"{' '.join(['0'] * (self.count - 1))} {KINDS[self.kind].example}".strip()],
        }


Length = Annotated[float, Quantity("length", low=0.01, high=20e3)]
"""A positive length of a part [mm]."""
DIAMETER = Quantity("length", low=0.5, high=100.0, example="5.5 mm")
Diameter = Annotated[float, DIAMETER]
"""A spot, hole or bolt diameter [mm]."""
Pitch = Annotated[float, Quantity("length", low=2.0, high=1000.0, example="40 mm")]
"""A pitch of spots, plugs or stitches [mm]."""
Distance = Annotated[float, Quantity("length", low=0.5, high=2000.0, example="9 mm")]
"""An edge or end distance [mm]."""
Force = Annotated[float, Quantity("force", high=1e7, signed=True)]
"""A force [N]; the sign is kept where a direction matters."""
Moment = Annotated[float, Quantity("moment", high=1e9, signed=True)]
"""A moment [N·mm]; the sign is kept where a direction matters."""
Stress = Annotated[float, Quantity("stress", low=1e-3, high=5000.0)]
"""A stress or strength [MPa]."""
Pressure = Annotated[float, Quantity("pressure", high=10.0)]
"""A pressure [MPa]."""
Mass = Annotated[float, Quantity("mass", high=100.0)]
"""A mass [t]."""


def _axes(value: Any) -> str:
    """Two directions of the plan, such as `x y` or `-y z`, at right angles."""
    words = str(value).split()
    if len(words) != 2 or any(w.lstrip("-") not in ("x", "y", "z") or w.count("-") > 1 for w in words):
        raise _refusal(
            "described", f"'{value}' is not two directions; say in which the joint's x and y run, such as '-y z'"
        )
    if words[0].lstrip("-") == words[1].lstrip("-"):
        raise _refusal("described", f"'{value}' names one direction twice; x and y of a joint stand at right angles")
    return " ".join(words)


PlanAxes = Annotated[
    str,
    BeforeValidator(_axes),
    Said(
        '`"x y"`, `"-y z"`: the directions of the plan in which the joint\'s x and y run, for a {load} from others.',
        option=None,
    ),
]
"""Two directions of the floor's plan in which the x and y of a joint run, with what the field says of itself."""


def _texts(value: Any) -> Iterator[str]:
    """The texts in a value: itself, or those of a list.  Tables are models of their own."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, list | tuple):
        for part in value:
            yield from _texts(part)


@contextmanager
def _spoken(model: Any, data: Any) -> Iterator[None]:
    """Faults of pydantic told as InputErrors."""
    try:
        yield
    except ValidationError as error:
        system = written_in(data) if isinstance(data, Mapping) else "metric"
        raise faults(error, known=model.model_fields, system=system) from error


class _Spoken(ModelMetaclass):
    """Models whose faults are InputErrors when they are made by their name.

    They are made as from raw data: a validator that hands out what it has read before (a sheet) cannot do so to an
    object that stands already, as `__init__` has it.
    """

    def __call__(cls, **data: Any) -> Any:
        return cls.model_validate(data)  # type: ignore[attr-defined]


class Described(BaseModel, metaclass=_Spoken):
    """Base of everything a builder describes: frozen, unknown keys refused, texts kept as typed.

    Raises InputErrors, one fault for each thing wrong.  Sizes are texts with units or numbers in N, mm, MPa, t, s.
    Each field says in its own line what it is (`Said`); `instead` are keys of the file that stand for one of them.
    `loading` are the fields that tell the load, `judging` those that tell how it is judged: the groups of a help page;
    every other one tells what the thing is.
    """

    model_config = ConfigDict(frozen=True, extra="forbid", validate_default=True, arbitrary_types_allowed=True)
    one_weld: ClassVar[str] = "weld"
    word: ClassVar[str] = "item"
    instead: ClassVar[Mapping[str, Said]] = {}
    loading: ClassVar[frozenset[str]] = frozenset()
    judging: ClassVar[frozenset[str]] = frozenset()
    _typed: dict[str, Any] = PrivateAttr(default_factory=dict)

    @classmethod
    def model_validate(cls, obj: Any, **options: Any) -> Self:
        """The model from raw data.  Raises InputErrors."""
        with _spoken(cls, obj):
            return super().model_validate(obj, **options)

    @classmethod
    def model_validate_json(cls, json_data: str | bytes | bytearray, **options: Any) -> Self:
        """The model from a JSON text.  Raises InputErrors."""
        with _spoken(cls, None):
            return super().model_validate_json(json_data, **options)

    @classmethod
    def model_validate_strings(cls, obj: Any, **options: Any) -> Self:
        """The model from raw data that are all texts.  Raises InputErrors."""
        with _spoken(cls, obj):
            return super().model_validate_strings(obj, **options)

    def __setattr__(self, name: str, value: Any) -> None:
        if name in type(self).model_fields:
            raise InputError(f"what is described is frozen; `but({name}=...)` gives a new one", field=name)
        super().__setattr__(name, value)

    @classmethod
    def __get_pydantic_json_schema__(
        cls, core: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        """What each field says of itself, before what its type says."""
        schema = handler.resolve_ref_schema(handler(core))
        for field, words in said(cls).items():
            own = schema["properties"][field]
            own["description"] = " ".join(filter(None, (described(cls, words), own.get("description"))))
        return schema

    @model_validator(mode="before")
    @classmethod
    def _one_for_a_list(cls, data: Any) -> Any:
        if isinstance(data, Mapping) and any(isinstance(data.get(name), str) for name in lists_of_texts(cls)):
            alone = {name: (data[name],) for name in lists_of_texts(cls) if isinstance(data.get(name), str)}
            return {**data, **alone}
        return data

    @model_validator(mode="before")
    @classmethod
    def _no_truth_for_a_number(cls, data: Any, info: ValidationInfo) -> Any:
        """`true` is no number, though Python reads 1, nor is 1 or "yes" a truth value.

        A text holds nothing that a terminal or a reader's eye obeys.
        """
        if isinstance(data, Mapping):
            for name, value in data.items():
                field = cls.model_fields.get(name)
                if field is not None and truths(value) and not takes(field.annotation, bool):
                    told = str(value).lower() if isinstance(value, bool) else "one of the list"
                    raise refuse(f"{name}: {told} is a truth value; accepted is {accepted(field)}")
                if untrue(field, value) and info.mode in ("python", "json"):
                    raise refuse(f"{name}: true or false is needed, without quotes; given was {value!r}")
                bad = next((c for text in _texts(value) if (c := unseen(text, name=name == "id"))), "")
                if bad:
                    more = ", a line end or a tab" if name == "id" else ""
                    raise refuse(
                        f"{spelt(str(name))}: holds a character that cannot be seen ({bad}): a control, an escape, "
                        f"a mark of the writing direction{more}; take it out"
                    )
        return data

    @model_validator(mode="wrap")
    @classmethod
    def _keep_texts(cls, data: Any, handler: ModelWrapValidatorHandler[Any]) -> Any:
        made = handler(data)
        if isinstance(data, Mapping):
            made._typed = dict(data)
        return made

    def but(self, **changes: Any) -> Self:
        """The same with some fields changed (None takes one out), validated anew: `seam.but(pitch=45.0)`.

        Raises InputErrors.
        """
        data = {name: value for name, value in {**self._typed, **changes}.items() if value is not None}
        return build(type(self), data)

    def typed(self, name: str) -> str:
        """The field as the builder wrote it; empty when he left it out."""
        value = self._typed.get(name)
        return "" if value is None else str(value)


PURPOSES: Mapping[str, str] = {
    "seat": "occupant-load",
    "belt": "occupant-load",
    "child restraint": "occupant-load",
    "lifting": "lifting",
    "fuel": "fuel-system",
    "steering": "steering-suspension",
    "suspension": "steering-suspension",
    "brakes": "steering-suspension",
    "pressure": "pressure",
    "traction battery": "traction-battery",
}
"""What a part may serve -> the caution that comes with it."""


def _some(value: Any) -> bool:
    """Whether a load, a number or several, is more than nothing."""
    return any(map(_some, value)) if isinstance(value, tuple) else bool(value)


class Item(Described):
    """What every joint, member and panel of a project may say of itself.

    For the dossier: `reason` (why it is made so), `alternatives` that were considered, `photo` (a
    picture file beside the project) and `place` (x1 y1 x2 y2 in the plan of the floor, in axes of the
    builder's own).

    `load` says from whom its loads come (`from bench`) where the builder types none: `standings` are these loads, one
    for each case and direction, hung on it when its project is read.
    """

    kind: ClassVar[str] = ""
    lasts: ClassVar[bool] = False
    """Whether its check judges `cycles`, or says itself that nothing does."""
    id: Annotated[
        str, Said("Name of the {item} in the answer, short and unique in a file.", absent="must be given in a file")
    ] = "-"
    title: Annotated[str, Said("What it is.", option=None)] = ""
    purpose: Annotated[tuple[str, ...], Said(f"What it serves: {', '.join(PURPOSES)}; raises the cautions.")] = ()
    case: Annotated[str, Said("Id of the load case.", option=None)] = ""
    load: Annotated[
        tuple[str, ...],
        Said(
            '`"from bench"`, `"from bench foot 2"`: the load follows from something else of this file, no number is '
            "typed; several act together.",
            option=None,
        ),
    ] = ()
    load_factor: Annotated[float, Said("Partial factor on the service load, γ_F.", absent="the case's, else 1.5")] = (
        GAMMA_F
    )
    handbook_factor: Annotated[
        float,
        Said(
            "Your own factor on handbook minimums; the default is common practice.",
            absent=f"the project's, else {HANDBOOK_FACTOR:.1f}",
        ),
    ] = HANDBOOK_FACTOR
    coupons: Annotated[bool, Said("Coupons of these sheets and settings were made and passed.")] = False
    scatter: Annotated[
        tuple[str, ...],
        Said(
            "How likely it falls short where things scatter: `usual`, or what and by how much (thickness, strength, "
            'size, load, method): `"load 20 %"`, `"strength 8 % about 1.1"`; `"by en1993-1-3"` keeps to one document.'
        ),
    ] = ()
    samples: Annotated[int | None, Said("Samples drawn for {scatter}.", absent="400")] = None
    cycles: Annotated[
        float | None,
        Said("Load changes it must last; an item whose life no method judges is not judged then.", absent="the case's"),
    ] = None
    reason: Annotated[str, Said("Why it is made so.", option=None)] = ""
    alternatives: Annotated[
        tuple[str, ...],
        Said(
            "What else was considered; one that begins with a profile (a brace) or a bead (a panel) and `;` is judged "
            "too.",
            option=None,
        ),
    ] = ()
    photo: Annotated[str, Said("Picture file beside the project.", option=None)] = ""
    place: Annotated[
        Annotated[tuple[float, ...], Numbers("length", 4)] | None,
        Said('Where it is: `"x1 y1 x2 y2 mm"` in the plan of the floor, axes of your own.', option=None),
    ] = None
    _standings: tuple[Standing, ...] = PrivateAttr(default=())
    _noticed: tuple[Noticed, ...] = PrivateAttr(default=())

    @property
    def noticed(self) -> tuple[Noticed, ...]:
        """What the records of its project say against it (`jointcalc.model.evidence`)."""
        return self._noticed

    def beside(self, noticed: Iterable[Noticed]) -> Self:
        """The same item with what the records of its project say against it."""
        made = self.model_copy()
        made._noticed = tuple(noticed)
        return made

    @property
    def standings(self) -> tuple[Standing, ...]:
        """The loads it stands under, where they come from others; empty where the builder gave his own."""
        return self._standings

    @property
    def links(self) -> dict[str, Any] | None:
        """Results of what it stands on, by id, as far as they are known; None of all but a mount.

        `jointcalc.check.check_each` passes them on, so that none is judged twice.
        """
        return None

    def beneath(self, one: str) -> Item | None:
        """The item of that id in its project, of what stands on some."""
        return None

    @property
    def bears(self) -> bool:
        """Whether any of its loads, of the fields that its kind's record calls so, is more than nothing."""
        return any(_some(getattr(self, name)) for name in BY_KEY[self.kind].loads)

    def under(self, standings: Iterable[Standing]) -> Self:
        """The same item standing under those loads."""
        made = self.model_copy()
        made._standings = tuple(standings)
        return made

    def but(self, **changes: Any) -> Self:
        """The same with some fields changed; the loads it stands under and what speaks against it stay on it."""
        return super().but(**changes).under(self._standings).beside(self._noticed)

    def remade(self, data: Mapping[str, Any]) -> Self:
        """An item of its kind from other raw data, tried in its place.  Raises InputErrors."""
        return build(type(self), data)

    def loaded(self, standing: Standing) -> Self:
        """The item with the numbers of one of its loads in its fields."""
        return self.but(load=None, **standing.fields).under(())

    @model_validator(mode="after")
    def _known(self) -> Any:
        for word in self.purpose:
            if word not in PURPOSES:
                raise PydanticCustomError(
                    "purpose",
                    "purpose: '{word}' is not known{hint} (known: {known})",
                    {"word": word, "hint": nearest(word, PURPOSES), "known": ", ".join(PURPOSES)},
                )
        for name, low, high in (("load_factor", 1.0, 5.0), ("handbook_factor", 1.0, 20.0)):
            value = getattr(self, name)
            if not (at_least(value, low) and at_most(value, high)):
                raise PydanticCustomError(
                    "factor", "{name}: {value} is not a safety factor between {low} and {high}",
                    {"name": name, "value": value, "low": low, "high": high},
                )  # fmt: skip
        if self.cycles is not None and not 1.0 <= self.cycles <= 1e12:
            raise refuse(f"cycles: {self.cycles:g}; accepted is 1 to 1e12 load changes")
        return self


NO_LOAD = "no load given; write x y z, such as '0 -4 0 kN', with its point of action in 'at'"
"""Of a group whose load is searched for or judged, and which has none."""


def refuse(message: str) -> PydanticCustomError:
    """A refusal for use inside a model's validators; `message` already names the field."""
    return _refusal("described", message)


def _refusal(kind: LiteralString, message: str) -> PydanticCustomError:
    # pydantic's own readers see plain text; `faults` prints the sizes in the units the builder wrote
    held = marked(message)
    return PydanticCustomError(kind, "{why}", {"why": unmarked(held), "marked": held})


D = TypeVar("D", bound="Described")


def build(kind: type[D], data: Mapping[str, Any], *, where: str = "", written: bool = False) -> D:
    """The model made from raw data: texts with units, or numbers in N, mm, MPa, t, s.

    `written` says that a builder wrote it, in whose file a number without a unit is refused.

    Raises InputErrors, one fault for each thing wrong, naming field and `where`.
    """
    try:
        with as_written(written):
            made: D = kind.__pydantic_validator__.validate_python(dict(data))
            return made
    except ValidationError as error:
        raise faults(error, where=where, known=kind.model_fields, system=written_in(data)) from error
