"""How likely an item falls short, where its sheets, its strengths, its welds and its loads scatter.

Every input that scatters is a factor on what the item says: `thickness` and `strength` of its sheets, the `size` of its
welds, the `load`, and the `method`, how near the published method comes to the truth.  The margin of a sample is the
least capacity over demand among its strength checks, without their factors.  What it is worth: capacities are nominal,
most of them values that nearly all welds reach, so that the probability is on the safe side of them; sums of several
loads count with the factors that stand in their parts.  It compares one way of making a thing with another, and shows
which input is worth measuring; it is no proof of a reliability, which asks for data of one's own.

Two ways.  Any item is judged again in full for every sample (`judged`), so that every branch of every rule counts and
what cannot be judged falls short.  Where all that may govern are formulas, their workings are done over in arrays
(`arrays`): which input of a formula hangs on what is read from a second judgement with every input moved by a factor of
its own, and the arrays are used only if they agree with samples judged in full.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import inf, isnan, log, nan
from typing import Any, Literal

import numpy as np

from jointcalc.check import check
from jointcalc.errors import InputError
from jointcalc.explore.reliability import Array, Counted, Margin, Nearest, Spread, chance_told, drawn, nearest
from jointcalc.explore.sensitivity import THINNER, tolerances
from jointcalc.explore.workings import Workings, workings
from jointcalc.formula.coupon_design import LEAST_TESTED, V_Q
from jointcalc.model.brace import Brace
from jointcalc.model.brace_texts import placed, spread_load, torque_of
from jointcalc.model.fields import Item
from jointcalc.model.row import WeldRow
from jointcalc.model.sheet import drawn_strength
from jointcalc.registry import BY_KEY, load
from jointcalc.result import DETAILING, Amount, Check, Result, caution, collect
from jointcalc.tables.store import load as load_table

NAMES = ("thickness", "strength", "size", "load", "method")
"""What may scatter, as a factor on what the item says."""
SAMPLES = 400
"""Samples judged in full, unless told otherwise."""
MOST_JUDGED = 20_000
"""Samples that are ever judged in full."""
SEED = 13
"""Of the draws, so that the same item always gives the same answer."""
AGREE = 48
"""Samples on which the arrays must agree with full judgements, beside those far out in each input."""
FAR = 3.0
"""How far out [standard deviations]."""
SWING = 1.645
"""Where an input is set for the tornado: one in twenty lies beyond (5 % quantile of the normal, computed)."""

MOST_SPREAD = 0.6
"""Greatest coefficient of variation that is taken."""

_ROWS = {"spot_seam": "resistance_weld", "plug": "arc_weld_shear", "fillet": "arc_weld_shear", "bolts": "bolt"}

Way = Literal["judged", "arrays"]


@dataclass(frozen=True, slots=True)
class Swing:
    """Least capacity over demand with one input at its low and at its high end, all others at their means."""

    name: str
    low: float | None
    high: float | None

    @property
    def width(self) -> float:
        """How far it swings; as far as can be where an end cannot be judged."""
        return inf if self.low is None or self.high is None else abs(self.high - self.low)


@dataclass(frozen=True, slots=True)
class Scattered:
    """What the scatter makes of an item: counted, to first order, and input by input, the one that matters most first.

    `middle` is the least capacity over demand with all inputs at their means, `way` how the samples were worked, `why`
    why not in arrays.
    """

    counted: Counted
    first_order: Nearest | None
    swings: tuple[Swing, ...]
    spreads: Mapping[str, Spread]
    middle: float | None
    way: Way
    why: str
    seed: int


def usual(item: Item) -> dict[str, Spread]:
    """What scatters of the item by default, each with where its numbers come from."""
    rows = {row["connection"]: row for row in load_table("aisi_test_statistics").rows}
    row = rows[_ROWS.get(item.kind, "resistance_weld")]
    aisi = "AISI S100-16 K2.1.1, from memory"
    known = tolerances(item)
    part = max((one.most / one.thickness for one in known), default=THINNER)
    stated = any(sheet.yield_strength or sheet.tensile_strength for sheet in getattr(item, "sheets", ()))
    record = BY_KEY[item.kind]
    found = {
        "thickness": Spread(1.0, part / 2, "normal", "half the tolerance as its deviation: common practice, no source"),
        "strength": Spread(1.0 if stated else row.need("M_m"), row.need("V_M"), "log-normal", aisi),
        "load": Spread(1.0, V_Q, "log-normal", aisi),
        "method": Spread(1.0, LEAST_TESTED, "log-normal", f"the least that is taken, {aisi}"),
    }
    if record.sizes:
        found["size"] = Spread(row.need("F_m"), row.need("V_F"), "normal", aisi)
    return {name: found[name] for name in NAMES if name in found}


def scatter(
    item: Item,
    *,
    spreads: Mapping[str, Spread] | None = None,
    samples: int = SAMPLES,
    seed: int = SEED,
    by: tuple[str, ...] = (),
) -> Scattered:
    """Probability that the item falls short, and what it hangs on.

    `spreads` replace the usual ones by name; `by` keeps to checks whose key begins so (`en1993-1-3`), whose nominal
    values mean the same.  Raises InputError where the item as described is not judged, or carries no load.
    """
    known = usual(item)
    laws = {**known, **(spreads or {})}
    wrong = next((name for name in laws if name not in known), None)
    if wrong is not None:
        raise InputError(f"'{wrong}' does not scatter here; {', '.join(known)} do", field="scatter")
    if samples < 1:
        raise InputError(f"{samples} samples; give at least 1", field="samples")
    base = _least(item, by, {})
    if not base < inf:
        raise InputError("nothing of the item is judged under a load: there is nothing to scatter", field="scatter")
    full: Margin = lambda values: _judged(item, by, values)  # noqa: E731 - a margin by name
    arrays, why = _arrays(item, by, laws, full, seed)
    if arrays is None:
        if samples > MOST_JUDGED:
            raise InputError(
                f"{samples} samples would each be judged in full, for {why}; ask for {MOST_JUDGED} at most",
                field="samples",
            )
        counted = drawn(_with_duds(item, by, seed), laws, samples, seed)
    else:
        counted = drawn(arrays, laws, samples, seed)
    margin = arrays or full
    middle = {name: one.mean for name, one in laws.items()}
    return Scattered(
        counted=counted,
        first_order=nearest(margin, laws),
        swings=_tornado(margin, laws),
        spreads=laws,
        middle=_number(margin, middle),
        way="judged" if arrays is None else "arrays",
        why=why,
        seed=seed,
    )


def varied(item: Item, values: Mapping[str, float]) -> Any:
    """The item with its sheets, strengths, welds and loads changed by those factors.  Raises InputErrors."""
    record = BY_KEY[item.kind]
    made: Any = item
    if values.get("thickness", 1.0) != 1.0:
        made = load(record.thinner)(item, values["thickness"])
    strength = values.get("strength", 1.0)
    if strength != 1.0 or made is not item:
        made = _stronger(made, item, strength)
    size = values.get("size", 1.0)
    if size != 1.0:
        made = made.but(**{name: _times(_field(item, name), size) for name in record.sizes if _has(item, name)})
    factor = values.get("load", 1.0)
    if factor != 1.0:
        made = made.but(**{name: _louder(made, name, factor) for name in record.loads if _has(made, name)})
    return made


def _louder(item: Any, name: str, factor: float) -> Any:
    """A load of the item times a factor; those of a brace keep their places."""
    value = getattr(item, name)
    if isinstance(item, Brace) and isinstance(value, tuple):
        if name == "torque":
            turns = [torque_of(one) for one in value]
            return tuple(one.moment * factor if one.at is None else (one.moment * factor, one.at) for one in turns)
        kind = {"point": "force", "moment": "moment"}.get(name)
        if kind is None:
            spreads = [spread_load(one, item.length) for one in value]
            return tuple((float(one.first) * factor, one.start, one.end) for one in spreads)
        return tuple((size * factor, at) for size, at in (placed(one, kind, name) for one in value))
    return _times(value, factor)


def _has(item: Item, name: str) -> bool:
    return getattr(item, name) is not None


def _field(item: Any, name: str) -> Any:
    """A field as numbers; the spot diameter of a class as millimetres."""
    value = getattr(item, name)
    return item.size if isinstance(value, str) else value


def _times(value: Any, factor: float) -> Any:
    return tuple(_times(one, factor) for one in value) if isinstance(value, tuple) else value * factor


def _stronger(made: Any, item: Any, factor: float) -> Any:
    """The strengths of the item as described times a factor, stated on its sheets, whatever their thickness now."""
    if not hasattr(item, "sheets") or "yield_strength" in type(item).model_fields:
        change = {}
        for sheet, prefix in zip(item.sheets, ("", "skin_")):
            change[f"{prefix}tensile_strength"] = sheet.f_u * factor
            if sheet.has_yield:
                change[f"{prefix}yield_strength"] = sheet.f_y * factor
        return made.but(**change)
    sheets = []
    for now, before in zip(made.sheets, item.sheets):
        data = now.model_dump(exclude_none=True) | {"tensile_strength": before.f_u * factor}
        if before.has_yield:
            data["yield_strength"] = before.f_y * factor
        sheets.append(data)
    return made.but(sheets=sheets)


# --- judged in full ---------------------------------------------------------------------------------------


def strengths(result: Result, by: tuple[str, ...]) -> list[Check]:
    """The checks that hold a capacity against a load, of those documents."""
    return [
        one
        for one in result.judged
        if one.method.bound == "strength" and one.method.basis != DETAILING and not one.of_edge
        and one.capacity is not None and one.demand is not None and one.demand.value
        and (not by or one.key.startswith(by))
    ]  # fmt: skip


def _least(item: Any, by: tuple[str, ...], values: Mapping[str, float]) -> float:
    """Least capacity over demand under those factors; not a number where it cannot be judged."""
    least = inf
    factors = {name: factor for name, factor in values.items() if name != "method"}
    try:
        # a load that comes from others stands in the fields first, and scatters there as one that was typed
        for one in [item.loaded(standing) for standing in item.standings] or [item]:
            with drawn_strength(factors.get("strength", 1.0)):
                result = check(varied(one, factors))
            found = strengths(result, by)
            if result.status == "outside" and not by:
                return nan
            least = min([least, *(_ratio(check_) for check_ in found)])
    except InputError:
        return nan
    return least * values.get("method", 1.0)


def _ratio(one: Check) -> float:
    assert one.capacity is not None
    assert one.demand is not None
    return float(one.capacity.value or 0.0) / float(one.demand.value or 0.0)


def _log(ratio: float) -> float:
    """Logarithm of a ratio: none of none, endless of what is not loaded."""
    if isnan(ratio) or ratio == inf:
        return ratio
    return log(ratio) if ratio > 0.0 else -inf


def _judged(item: Item, by: tuple[str, ...], values: Mapping[str, Array]) -> Array:
    columns = list(values.values())
    return np.array([_log(_least(item, by, dict(zip(values, row)))) for row in zip(*(c.tolist() for c in columns))])


def _with_duds(item: Item, by: tuple[str, ...], seed: int) -> Margin:
    """The judged margin, each sample with its own bad welds where the item says how many are."""
    rate = getattr(item, "dud_rate", None)
    if not rate or not isinstance(item, WeldRow):
        return lambda values: _judged(item, by, values)
    random = np.random.Generator(np.random.PCG64(seed + 1))
    stand = [n for n in range(1, item.welds + 1) if n not in item.missing]

    def margin(values: Mapping[str, Array]) -> Array:
        out = []
        for row in zip(*(c.tolist() for c in values.values())):
            bad = [n for n, u in zip(stand, random.random(len(stand))) if u < rate]
            try:
                left: Any = item.without(bad) if bad else item
            except InputError:
                out.append(-inf)
                continue
            out.append(_log(_least(left, by, dict(zip(values, row)))))
        return np.array(out)

    return margin


# --- in arrays ----------------------------------------------------------------------------------------------


def _arrays(
    item: Item, by: tuple[str, ...], laws: Mapping[str, Spread], full: Margin, seed: int
) -> tuple[Margin | None, str]:
    """The margin in arrays, or None and why it cannot be so."""
    if getattr(item, "dud_rate", None):
        return None, "bad welds are drawn one by one"
    made: Workings | str = workings(item, by)
    if isinstance(made, str):
        return None, made

    def margin(values: Mapping[str, Array]) -> Array:
        with np.errstate(all="ignore"):
            ratio = made.least(values)
            ratio *= values["method"] / values["load"]
            return np.log(ratio)

    random = np.random.Generator(np.random.PCG64(seed + 2))
    n = AGREE + 2 * len(laws)
    u = random.standard_normal((len(laws), n))
    for k in range(len(laws)):
        u[:, AGREE + 2 * k : AGREE + 2 * k + 2] = 0.0
        u[k, AGREE + 2 * k : AGREE + 2 * k + 2] = FAR, -FAR
    values = {name: one.at(u[k]) for k, (name, one) in enumerate(laws.items())}
    ours, theirs = margin(values), full(values)
    if not np.allclose(ours, theirs, rtol=1e-9, atol=1e-9, equal_nan=True):
        return None, "another branch of a rule, or another method, comes in where the inputs scatter"
    return margin, ""


# --- which input matters ----------------------------------------------------------------------------------


def _number(margin: Margin, values: Mapping[str, float]) -> float | None:
    g = float(margin({name: np.array([value]) for name, value in values.items()})[0])
    return float(np.exp(g)) if np.isfinite(g) else None


def _tornado(margin: Margin, laws: Mapping[str, Spread]) -> tuple[Swing, ...]:
    middle = {name: one.mean for name, one in laws.items()}
    found = []
    for name, one in laws.items():
        if one.variation:
            low, high = (float(one.at(np.array([u]))[0]) for u in (-SWING, SWING))
            ends = (_number(margin, {**middle, name: end}) for end in (low, high))
            found.append(Swing(name, *ends))
    return tuple(sorted(found, key=lambda swing: -swing.width))


# --- asked for by an item -----------------------------------------------------------------------------------

_ASKED = re.compile(r"(?P<name>[a-z]+)\s+(?P<part>\d+(\.\d+)?)\s*%(\s+about\s+(?P<mean>\d+(\.\d+)?))?")
_ACCEPTED = "write 'usual', 'load 20 %', 'strength 8 % about 1.1', or 'by en1993-1-3'"


def asked(item: Item) -> tuple[dict[str, Spread], tuple[str, ...]]:
    """The spreads an item states, and the documents it keeps to.  Raises InputError."""
    spreads: dict[str, Spread] = {}
    by: list[str] = []
    known = usual(item)
    for text in item.scatter:
        words = text.strip().lower()
        if words == "usual":
            continue
        if words.startswith("by "):
            by.append(words[3:].strip())
            continue
        match = _ASKED.fullmatch(words)
        if match is None:
            raise InputError(f"'{text}' is not understood; {_ACCEPTED}", field="scatter")
        name, part = match["name"], float(match["part"]) / 100
        if name not in known:
            raise InputError(f"'{name}' does not scatter here; {', '.join(known)} do", field="scatter")
        if part > MOST_SPREAD:
            raise InputError(f"'{text}': more than {100 * MOST_SPREAD:g} % is no scatter of one thing", field="scatter")
        mean = known[name].mean if match["mean"] is None else float(match["mean"])
        if not 0.2 <= mean <= 5.0:
            raise InputError(f"'{text}': the mean is a factor on what the item says, 0.2 to 5", field="scatter")
        spreads[name] = replace(known[name], variation=part, mean=mean, why="as stated")
    return spreads, tuple(by)


def with_scatter(result: Result) -> Result:
    """The result with what its item's `scatter` asks for among its values and cautions; itself without it."""
    item = result.model
    if not isinstance(item, Item) or not item.scatter:
        return result
    spreads, by = asked(item)
    samples = SAMPLES if item.samples is None else item.samples
    found = scatter(item, spreads=spreads, samples=samples, by=by)
    low, high = found.counted.interval
    first = found.first_order
    values = {
        "fail_probability": Amount(found.counted.probability, "1"),
        "fail_probability_low": Amount(low, "1"),
        "fail_probability_high": Amount(high, "1"),
        "reliability_index": Amount(found.counted.index, "1", "" if found.counted.index else "none or all fell short"),
        "reliability_index_first_order": Amount(
            first.index if first else None, "1", "" if first else "the search for the nearest point did not settle"
        ),
        "samples": Amount(float(found.counted.samples), "1"),
        "seed": Amount(float(found.seed), "1"),
    }
    for swing in found.swings:
        values[f"ratio_{swing.name}_low"] = Amount(swing.low, "1")
        values[f"ratio_{swing.name}_high"] = Amount(swing.high, "1")
    told = caution("scatter", **_caution_words(found))
    return replace(result, values={**result.values, **values}, cautions=collect([*result.cautions, told]))


def _caution_words(found: Scattered) -> dict[str, object]:
    first, index = found.first_order, found.counted.index
    if first is not None:
        shares = sorted(first.parts.items(), key=lambda one: -one[1])
        parts = ", ".join(f"{name} {100 * part:.0f} %" for name, part in shares if part >= 0.005)
    else:
        parts = ", ".join(swing.name for swing in found.swings)
    way = "Each sample was judged in full." if found.way == "judged" else "Worked in arrays that agree with the checks."
    return {
        "samples": f"{found.counted.samples}", "short": f"{found.counted.short}",
        "interval": chance_told(*found.counted.interval),
        "index": "not to be told" if index is None else f"{index:.2f}",
        "first": "not found" if first is None else f"{first.index:.2f}",
        "parts": parts, "way": way,
    }  # fmt: skip
