"""What a builder writes of a brace in one text: spans, supports, loads and their places, a limit of deflection."""

from __future__ import annotations

from collections.abc import Iterable
from math import inf
from typing import Any

from jointcalc.errors import InputError, nearest
from jointcalc.quantity.compare import within
from jointcalc.quantity.parse import feet_and_inches, parse, parse_list, parse_range
from jointcalc.quantity.sentence import either, mm
from jointcalc.quantity.show import System, show
from jointcalc.statics.beam_model import Couple, Load, PointLoad, SpreadLoad, Support
from jointcalc.statics.twist import Torque

ENDS = ("pinned", "fixed", "cantilever")
MOST_SPANS = 20
Placed = str | tuple[float, float]
"""A load or mass and its place: `750 N @ 500 mm`, or the two numbers in base units."""
Spread = str | float | tuple[float, float, float]
"""A spread load: `1 N/mm`, `1 N/mm @ 200 mm..600 mm`, or the number and from where to where in base units."""

Turning = str | float | tuple[float, float]
"""A torque: `30 N*m @ 500 mm`, or `12 N*m` that runs through from end to end; or numbers in base units."""


def read_spans(text: Any) -> tuple[float, ...]:
    """Spans [mm] from `"1000 mm"` or `"800 600 mm"`, or from numbers.  Raises InputError."""
    one = not isinstance(text, list | tuple)
    if one and (not isinstance(text, str) or len(text.split()) <= 2 or feet_and_inches(text)):
        return (parse(text, "length", low=10.0, high=20e3, example="1000 mm", numbers=True),)
    values = parse_list(text, "length", signed=False, numbers=True)
    if len(values) > MOST_SPANS:
        raise InputError(f"{len(values)} spans; accepted is up to {MOST_SPANS}")
    if any(not within(v, 10.0, 20e3) for v in values):
        raise InputError(f"'{text}' has a span that is out of proportion; accepted is {mm(10, ' to ', 20000)} each")
    return tuple(values)


def read_supports(ends: str, spans: tuple[float, ...]) -> tuple[Support, ...]:
    """The supports of the spans with ends as described.  Raises InputError."""
    accepted = "write 'pinned', 'fixed', 'cantilever', one for each end, or stiffnesses such as '5e7 1e7 N*mm/rad'"
    words = ends.strip().lower().split()
    places = [0.0]
    for span in spans:
        places.append(places[-1] + span)
    if words == ["cantilever"]:
        if len(spans) > 1:
            raise InputError("a cantilever has one span; give one", field="ends")
        return (Support(0.0, rotation=inf),)
    turn = {"pinned": 0.0, "fixed": inf}
    if words and all(w in turn for w in words) and len(words) <= 2:
        stiff = [turn[w] for w in words]
    elif any(c.isdigit() for c in ends):
        stiff = parse_list(ends, "rotational stiffness", field="ends", signed=False)
        if len(stiff) > 2:
            raise InputError(f"'{ends}' has {len(stiff)} stiffnesses; a brace has two ends", field="ends")
    else:
        raise InputError(f"'{ends}' is not a kind of end{nearest(ends, ENDS)}; {accepted}", field="ends")
    first, last = stiff[0], stiff[-1]
    inner = [Support(x) for x in places[1:-1]]
    return (Support(0.0, rotation=first), *inner, Support(places[-1], rotation=last))


def placed(text: Placed, kind: str, field: str, *, signed: bool = True) -> tuple[float, float]:
    """(size, place [mm]) of `size @ place`."""
    if not isinstance(text, str):
        return (
            parse(text[0], kind, field=field, signed=signed, numbers=True),
            parse(text[1], "length", field=field, numbers=True),
        )
    example = {"force": "750 N @ 500 mm", "moment": "50 N*m @ 300 mm", "mass": "15 kg @ 500 mm",
               "length": "20 mm @ 400 mm"}[kind]  # fmt: skip
    size, at, place = text.partition("@")
    if not at:
        raise InputError(f"'{text}' does not say where; write it like '{example}'", field=field)
    return (
        parse(size.strip(), kind, field=field, signed=signed),
        parse(place.strip(), "length", field=field, example="500 mm"),
    )


def read_holes(texts: Iterable[Placed], length: float) -> tuple[tuple[float, float], ...]:
    """(greatest width, place) of holes [mm] in a brace of that length.  Raises InputError."""
    found = tuple(placed(text, "length", "hole", signed=False) for text in texts)
    for width, at in found:
        if not width:
            raise InputError("has no width; leave it out where nothing is cut", field="hole")
        if not within(at, 0.0, length):
            raise InputError(f"at {mm(at):g} is off the brace, which is {mm(length):g} long", field="hole")
    return found


def spread_load(text: Spread, length: float) -> SpreadLoad:
    """A spread load of a brace of that length [mm].  Raises InputError."""
    if not isinstance(text, str):
        load, start, end = (text, 0.0, length) if isinstance(text, int | float) else text
        load = parse(load, "line load", field="spread", signed=True, numbers=True)
        return SpreadLoad(load, load, start, end)
    size, at, place = text.partition("@")
    load = parse(size.strip(), "line load", field="spread", signed=True)
    if not at:
        return SpreadLoad(load, load, 0.0, length)
    if ".." not in place:
        raise InputError(
            f"'{text}' does not say from where to where; write it like '1 N/mm @ 200 mm..600 mm'", field="spread"
        )
    start, end = parse_range(place, "length", field="spread", example="200 mm")
    return SpreadLoad(load, load, start, end)


def torque_of(text: Turning) -> Torque:
    """A torque from its text.  Raises InputError."""
    if isinstance(text, tuple | list) or (isinstance(text, str) and "@" in text):
        return Torque(*placed(text, "moment", "torque"))
    return Torque(parse(text, "moment", field="torque", signed=True, numbers=True))


def together(torques: Iterable[Torque]) -> tuple[Torque, ...]:
    """Torques at one place are one; none where they come to nothing."""
    at: dict[float | None, list[float]] = {}
    for one in torques:
        at.setdefault(one.at, []).append(one.moment)
    found = [Torque(sum(many), place) for place, many in at.items()]
    return tuple(one for one in found if abs(one.moment) > 1e-9 * max(map(abs, at[one.at])))


def torque_as_typed(text: Turning) -> str:
    """A torque as it was typed, for readers of either system."""
    one = torque_of(text)

    def words(system: System) -> str:
        size = show(one.moment, "moment", system)
        return f"{size} torque" + ("" if one.at is None else f" @ {show(one.at, 'length', system)}")

    return either(words("metric"), words("inch"))


def as_typed(text: Placed, kind: str) -> str:
    """A load as it was typed; an inch reader is shown its numbers in his units."""
    size, at = placed(text, kind, kind)
    metric = text if isinstance(text, str) else f"{show(size, kind, 'metric')} @ {show(at, 'length', 'metric')}"
    return either(metric, f"{show(size, kind, 'inch')} @ {show(at, 'length', 'inch')}")


def spread_as_typed(text: Spread, length: float) -> str:
    """A spread load as it was typed, for readers of either system."""
    load = spread_load(text, length)
    whole = "@" not in text if isinstance(text, str) else not isinstance(text, tuple)

    def words(system: System) -> str:
        size = show(float(load.first), "line load", system)
        return size if whole else f"{size} @ {show(load.start, 'length', system)}..{show(load.end, 'length', system)}"

    return either(text if isinstance(text, str) else words("metric"), words("inch"))


def read_loads(
    length: float, point: tuple[Placed, ...], spread: tuple[Spread, ...], moment: tuple[Placed, ...]
) -> tuple[Load, ...]:
    """Loads of the beam solver from their texts.  Raises InputError naming the field."""
    loads: list[Load] = [PointLoad(*placed(text, "force", "point")) for text in point]
    loads += [spread_load(text, length) for text in spread]
    loads += [Couple(*placed(text, "moment", "moment")) for text in moment]
    return tuple(loads)


def read_limit(text: str, span: float) -> tuple[float, str] | None:
    """(greatest deflection [mm], how it was stated) of `"L/240"` or `"3 mm"`.  Raises InputError."""
    word = text.strip()
    if not word:
        return None
    if word[:1] in ("L", "l") and "/" in word:
        _, _, number = word.partition("/")
        try:
            divisor = float(number)
        except ValueError:
            divisor = 0.0
        if not 20 <= divisor <= 5000:
            raise InputError(
                f"'{text}' is not a part of the span between L/20 and L/5000; write it like 'L/240' or '3 mm'",
                field="limit_deflection",
            )
        return span / divisor, f"L/{divisor:g} of the longest span, {mm(span):g}"
    value = parse(word, "length", field="limit_deflection", low=0.01, high=1000.0, example="3 mm' or 'L/240")
    return value, f"{mm(value):g} as stated"
