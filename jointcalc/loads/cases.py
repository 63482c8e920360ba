"""What a load case means: its directions, its factor, its source, what it asks the builder for.

A case of a project states an acceleration itself or names one of the table `cases`, whose rows point to the rows of the
documents that hold their numbers.  Directions are words until here (forward, left, up), axes of the plan afterwards.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import cos, degrees, sin
from typing import TYPE_CHECKING, cast

import numpy as np

from jointcalc.formula.core import STATUSES, Status
from jointcalc.model.given import CaseInForce, Field, Pull, Vector
from jointcalc.model.project import LoadCase, case_of_table
from jointcalc.quantity.units import GRAVITY
from jointcalc.tables.store import Row, load

if TYPE_CHECKING:
    from typing import Literal

    One = Literal["", "occupant", "vehicle", "axle"]

UP = np.array([0.0, 0.0, 1.0])
KEYS = {"loads_regulation": "id", "vehicle_dynamic_factors": "case", "cases": "id"}
"""Tables that a case may point to -> the column that names their rows."""

LOCAL_RULE = "local-rule"
"""Caution of every case of the table: the local rule wins."""


def resolve(name: str, *, forward: Vector = (-1.0, 0.0, 0.0), id: str = "", title: str = "") -> CaseInForce:  # noqa: A002
    """A case of the table with its directions in the plan's axes; `forward` is the way the vehicle drives.

    Raises InputError for a name that is unknown or refused.
    """
    row = case_of_table(name)
    pointed = list(_pointed(row))
    documents = dict.fromkeys(f"{one['document']} {one['clause']}".strip() for one, _ in pointed if "document" in one)
    factors = [f"table vehicle_dynamic_factors, {one['case']}" for one, _ in pointed if "case" in one]
    own = " ".join(part for part in (row["document"], row["clause"]) if part)
    return CaseInForce(
        id=id or name,
        title=title or row["title"],
        fields=tuple(_fields(row, pointed, np.asarray(forward, dtype=np.float64))),
        ultimate=row["nature"] == "ultimate",
        load_factor=row.number("factor") or 1.0,
        source="; ".join(own_or for own_or in (*documents, *factors, *([own] if not pointed else [])) if own_or),
        status=weakest([row.status, *(one.status for one, _ in pointed)]),
        cautions=(LOCAL_RULE,),
        asks=tuple(row["asks"].split()),
        purpose=_purposes(row["purpose"]),
        weightless=row["weight"] == "not",
    )


def in_force(case: LoadCase, *, forward: Vector) -> CaseInForce:
    """A case of a project with its directions in the plan's axes; `forward` is the way the vehicle drives."""
    if case.use:
        found = resolve(case.use, forward=forward, id=case.id, title=case.title)
        factor = 1.0 if case.ultimate else case.load_factor
        return CaseInForce(
            id=found.id, title=found.title, fields=found.fields, ultimate=case.ultimate, load_factor=factor,
            cycles=case.cycles, source=found.source, status=found.status, cautions=found.cautions, asks=found.asks,
            purpose=found.purpose, weightless=found.weightless,
        )  # fmt: skip
    fields: tuple[Field, ...] = ()
    if case.acceleration is not None:
        x, y, z = case.acceleration
        fields = (Field(acceleration=(x, y, z)),)
    return CaseInForce(
        id=case.id,
        title=case.title,
        fields=fields,
        ultimate=case.ultimate,
        load_factor=1.0 if case.ultimate else case.load_factor,
        cycles=case.cycles,
        source=case.source,
        asks=("mass", "centre") if fields else (),
    )


def weakest(statuses: Iterable[str]) -> Status:
    """The status we are least sure of."""
    order: tuple[str, ...] = ("read", "second-hand", "derivation", "computed", "common practice", "from memory")
    found = max(statuses, key=order.index)
    return STATUSES[STATUSES.index(found)]


def _purposes(text: str) -> tuple[str, ...]:
    """What such a thing serves: words of the models, some of two words."""
    from jointcalc.model.fields import PURPOSES

    return tuple(word for word in PURPOSES if word in text)


def _pointed(row: Row) -> Iterator[tuple[Row, str]]:
    """The rows a case points to, each with the place its pull acts at ("" for what the thing's own mass feels)."""
    for pointer in row["rows"].split():
        place, _, part = pointer.partition("@")
        table, _, key = place.partition(":")
        name = key.replace("_", " ") if table == "vehicle_dynamic_factors" else key
        found = load(table).find(**{KEYS[table]: name})
        if table == "cases" and found["rows"]:
            yield from _pointed(found)
        else:
            yield found, part


def _fields(row: Row, pointed: list[tuple[Row, str]], forward: np.ndarray) -> Iterator[Field]:
    """One field for each direction, and for each end of the range of a pull's angle."""
    g = float(row["gravity"]) * 1e3 if row["gravity"] else GRAVITY
    felt = [one for one, part in pointed if not part] or ([] if pointed or row["mass"] or row["share"] else [row])
    pulling = [(one, part) for one, part in pointed if part]
    for way in row["ways"].split():
        along = _direction(way, forward)
        size = sum(_felt(one, way) for one in felt)
        acceleration = size * g * along
        if row["weight"] == "added":
            acceleration = acceleration - GRAVITY * UP
        angles = sorted({a for one, _ in pulling for a in _angles(one, way)}) or [0.0]
        for angle in angles:
            turned = cos(angle) * along + sin(angle) * UP
            pulls = [*(_pull(one, part, turned, along) for one, part in pulling), *_of_a_weight(row, along, g)]
            word = f"{way}, {degrees(angle):.4g}° up" if len(angles) > 1 else way
            yield Field(
                direction=word,
                acceleration=_vector(acceleration),
                pulls=tuple(pulls),
            )


def _direction(way: str, forward: np.ndarray) -> np.ndarray:
    right = np.cross(forward, UP)
    return {
        "forward": forward, "rearward": -forward, "right": right, "left": -right, "up": UP, "down": -UP, "rebound": -UP,
    }[way]  # fmt: skip


def _felt(row: Row, way: str) -> float:
    """Multiple of gravity that the thing feels in that direction."""
    if "high" in row:
        high = float(row["high"])
        # the bump adds high - 1 to the weight at rest; mirrored, it takes as much off
        return 2.0 - high if way == "rebound" else high
    columns = {"rearward": ("rearward", "forward"), "left": ("lateral",), "right": ("lateral",), "down": ("down", "up")}
    return next((float(row[name]) for name in columns.get(way, (way,)) if row[name]), 0.0)


def _angles(row: Row, way: str) -> list[float]:
    if way in ("left", "right") or not row["angle_low"]:
        return []
    return [row.need("angle_low"), row.need("angle_high")]


def _pull(row: Row, part: str, turned: np.ndarray, along: np.ndarray) -> Pull:
    per = "occupant" if row["kind"] in ("belt", "seat", "seat-back") and row["id"] not in SINGLE else ""
    if row["moment"]:
        return Pull(part=part, moment=_vector(row.need("moment") * np.cross(UP, along)), per=cast("One", per))
    flat = turned if row["angle_low"] else along
    return Pull(part=part, force=_vector(row.need("force") * flat), per=cast("One", per))


SINGLE = ("fia_seat_support", "fia_harness_point", "fsae_belt_point")
"""Rules that load one point, whoever sits there."""


def _of_a_weight(row: Row, along: np.ndarray, g: float) -> Iterator[Pull]:
    """The weight of a person, or what a jack lifts."""
    if row["mass"]:
        yield Pull(part="at", force=_vector(row.need("mass") * _felt(row, "down") * g * along), per="occupant")
    if row["share"]:
        per = "axle" if "axle_share" in row["asks"] else "vehicle"
        yield Pull(
            part="at", force=_vector(float(row["share"]) * float(row["times"]) * g * along), per=cast("One", per)
        )


def _vector(v: np.ndarray) -> Vector:
    x, y, z = (float(a) + 0.0 for a in v)
    return x, y, z
