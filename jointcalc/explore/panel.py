"""How deep a bead, how close, how thick a sheet makes a panel hold: answered with the next practical size.

`lightest` and `shallowest` look over depth, pitch and (lightest) stock thickness of the bead's own width, the tool that
rolls it, and set the answer against flat sheet of the same mass and against flat sheet that does the same.  Every
search asks formulas first, then one coarse grid of the panel, and works out in full only what may be the answer.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import inf
from typing import Any

from jointcalc.check.panel_forming import MAKING
from jointcalc.errors import InputError, nearest
from jointcalc.explore.answer import Answer, answered, sheet_size, stopped
from jointcalc.explore.panel_rough import Asked, holds, unmakeable
from jointcalc.explore.thickness import ANY
from jointcalc.model.fields import build
from jointcalc.model.panel import Panel
from jointcalc.model.spelled import Spelled
from jointcalc.quantity.parse import parse
from jointcalc.quantity.show import System, respelt, show, show_in
from jointcalc.result import Amount, Result
from jointcalc.statics.bead import STEEPEST_END, Bead
from jointcalc.statics.bead_crossing import AND, Along, parse_beads
from jointcalc.tables.store import load

ONE = ("depth", "pitch", "stop", "runout", "thickness")
BOTH = ("lightest", "shallowest")
UNKNOWNS = (*ONE, *BOTH)
STEPS: Mapping[str, Mapping[System, float]] = {
    "depth": {"metric": 0.5, "inch": 25.4 / 32},
    "pitch": {"metric": 5.0, "inch": 25.4 / 4},
    "stop": {"metric": 5.0, "inch": 25.4 / 4},
    "runout": {"metric": 5.0, "inch": 25.4 / 4},
}
BEST = {
    "depth": "the shallowest that holds", "pitch": "the widest that holds",
    "stop": "the widest flat strip that holds", "runout": "the longest, so the gentlest, that holds",
}  # fmt: skip
COARSE = 2
"""Steps of depth at a time where pitch is searched as well."""
MOST_PITCHES = 8
MOST_TRIES = 12
"""Candidates worked out in full before a search gives up."""


class NothingHolds(InputError):
    """A search without an answer; `best` is the best try, worked out in full, or None."""

    best: Result | None = None


def find_panel(
    data: Mapping[str, Any], unknown: str, system: System = "metric", tell: Callable[[str], None] | None = None
) -> Answer:
    """Search one unknown of a panel described by raw data (texts with units), or a bead for a goal.

    `depth` answers the shallowest bead that holds, `pitch` the widest, `stop` the widest flat strip at the edge,
    `runout` the longest ramp, `thickness` the thinnest stock sheet; `shallowest` the shallowest bead at any pitch,
    `lightest` the lightest beaded stock sheet.  Everything else stays as given, the limits on deflection, frequency
    and permanent set included.  `tell` is told how far the search is.  Raises InputError when the unknown is none of
    these or the panel has no bead to change, NothingHolds when nothing holds.
    """
    if unknown not in UNKNOWNS:
        raise InputError(
            f"'{unknown}' cannot be searched{nearest(unknown, UNKNOWNS)} (accepted: {', '.join(UNKNOWNS)})",
            field="--find",
        )
    data = completed(data, unknown)
    asked = Asked() if tell is None else Asked(tell=tell)
    if unknown == "thickness":
        return _thickness(dict(data), system, asked)
    panel = build(Panel, data)
    if panel.pattern is None:
        what = f"whose {unknown} could be found" if unknown in ONE else f"of which the {unknown} could be found"
        raise InputError(f"a flat panel has no bead {what}; give a bead", field="--find")
    if unknown in BOTH:
        return _bead(dict(data), panel, unknown, system, asked)
    tried = [(size, one) for size in _sizes(panel, unknown, system) if (one := _made(data, panel, unknown, size))]
    if unknown == "pitch":
        # beads side by side lose the flats they stand off from: closer than the stiffest pitch is no gain
        stiff = [one.strip.I_along if one.strip is not None else 0.0 for _, one in tried]
        tried = tried[: stiff.index(max(stiff)) + 1] if stiff else tried
    result, at = _first(tried, asked)
    if result is None or result.status != "ok":
        raise _nothing(unknown, result, system)
    step = show(STEPS[unknown][system], "length", system)
    said = f"{show(at, 'length', system)} ({BEST[unknown]}, in steps of {step})"
    return answered(result, unknown, at, said)


def completed(data: Mapping[str, Any], unknown: str) -> dict[str, Any]:
    """The description with something in place of what is sought and was left out; it is changed before it is judged."""
    data = dict(data)
    if unknown in ("thickness", "lightest") and isinstance(data.get("sheet"), Mapping):
        data["sheet"] = {**data["sheet"], "thickness": data["sheet"].get("thickness") or ANY}
    text = data.get("bead")
    sought = {"depth": ("depth",), "pitch": ("pitch",)}.get(unknown, ("depth", "pitch") if unknown in BOTH else ())
    if isinstance(text, Spelled) or not isinstance(text, str) or not sought:
        return data
    one, plus, other = text.partition(AND)
    said = {
        name.strip().lower(): size
        for name, _, size in (part.partition("=") for part in one.partition(":")[2].split(","))
    }
    width = said.get("width")
    if width is None or all(name in said for name in sought):
        return data
    try:
        wide = parse(width, "length")
    except InputError:
        return data  # the bead's own message says what is wrong
    stands = {"depth": wide / 10, "pitch": 1.5 * wide}
    one = one.rstrip() + "".join(f",{name}={stands[name]!r}mm" for name in sought if name not in said)
    return {**data, "bead": f"{one}{plus}{other}"}


def _sizes(panel: Panel, unknown: str, system: System) -> list[float]:
    """Practical sizes of one unknown, from the one wished for to the strongest."""
    bead, step = panel.pattern, STEPS[unknown][system]
    assert bead is not None
    if unknown == "depth":
        top = bead.width / 2 if bead.family == "arc" else bead.width
        return [n * step for n in range(1, int(top / step + 1e-9) + 1)]
    if unknown == "pitch":
        first = int(-(-bead.width // step))
        return [n * step for n in range(int(panel.across_beads / step + 1e-9), first - 1, -1)]
    stop, runout = bead.ends
    if unknown == "runout":
        if not stop and not runout:
            raise InputError("beads that run through have no run-out to be found; give a stop", field="--find")
        first = int(-(-(bead.depth / STEEPEST_END - 1e-9) // step))
        return [n * step for n in range(int((panel.along_beads / 2 - stop) / step + 1e-9), first - 1, -1)]
    return [n * step for n in range(int((panel.along_beads / 2 - runout) / step + 1e-9), -1, -1)]


def _made(data: Mapping[str, Any], panel: Panel, unknown: str, size: float) -> Panel | None:
    assert panel.pattern is not None
    return _with(data, replace(panel.pattern, **{unknown: size}))  # type: ignore[arg-type]


def _with(data: Mapping[str, Any], bead: Bead, sheet: Mapping[str, Any] | None = None) -> Panel | None:
    """The panel with another bead, in another sheet; None where it cannot be built."""
    # of two that cross, the first is searched and the second stays; each keeps the side it runs along
    (_, way), *other = parse_beads(str(data["bead"]))
    made = (Along(bead, way), *other)
    text = f" {AND} ".join(f"{one},along={side}" if side else str(one) for one, side in made)
    try:
        return build(Panel, {**data, "bead": Spelled(text, made), **({} if sheet is None else {"sheet": sheet})})
    except InputError:
        return None


def _first(panels: Sequence[tuple[float, Panel]], asked: Asked) -> tuple[Result | None, float]:
    """The first panel at which all but the making of the bead holds: they grow stronger along the list.

    Halved by what one grid says, then settled by full answers on either side.
    """
    if not panels:
        return None, 0.0

    def good(n: int) -> bool:
        return holds(asked.judge(panels[n][1]))

    low, high = -1, len(panels) - 1  # the last known not to hold, the first known to
    if not good(high):
        return asked.judge(panels[high][1]), panels[high][0]
    while high - low > 1:
        seen = list(range(low + 1, high))
        a, b = 0, len(seen)
        while a < b:
            middle = (a + b) // 2
            a, b = (a, middle) if asked.estimate(panels[seen[middle]][1]) <= 1 else (middle + 1, b)
        # where the coarse grid has the border: full answers there, and beside it
        n = seen[a] if a < len(seen) else high - 1
        if good(n):
            high = n
        else:
            low = n
    return asked.judge(panels[high][1]), panels[high][0]


def _stock(panel: Panel, system: System) -> Iterator[tuple[str, float]]:
    """Stock sheets of the panel's metal, thinnest first: as written, and in mm."""
    family = panel.sheet.material.family
    rows = [r for r in load("stock_thickness").rows if r["series"] == system and r["family"] == family]
    for row in sorted(rows, key=lambda r: r.need("t")):
        yield str(row["size"]), row.need("t")


def _thickness(data: dict[str, Any], system: System, asked: Asked) -> Answer:
    panel = build(Panel, data)
    tried = []
    for text, t in _stock(panel, system):
        try:
            tried.append((t, text, build(Panel, {**data, "sheet": {**data["sheet"], "thickness": text}})))
        except InputError:
            continue
    result = None
    if tried:
        result, at = _first([(t, one) for t, _, one in tried], asked)
        text = next(text for t, text, _ in tried if t == at)
        if result is not None and result.status == "ok":
            return answered(result, "thickness", at, f"{text}, the thinnest stock sheet that holds")
    raise _nothing("stock thickness", result, system)


# --- the lightest, the shallowest ---------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Row:
    """Beads of one sheet and one pitch, shallowest first, of those that can be made."""

    t: float
    pitch: float
    panels: tuple[Panel, ...]


def _pitches(panel: Panel, system: System) -> list[float]:
    """For each number of beads the widest pitch that brings them on, widest first, at most `MOST_PITCHES`."""
    assert panel.pattern is not None
    width, room, step = panel.pattern.width, panel.across_beads, STEPS["pitch"][system]
    found: dict[int, float] = {}
    for n in range(int(room / step + 1e-9), int(-(-width // step)) - 1, -1):
        found.setdefault(int((room - 2 * width) / (n * step) + 1e-9) + 1, n * step)
    every = list(found.values())
    if len(every) <= MOST_PITCHES:
        return every
    picked = [round(k * (len(every) - 1) / (MOST_PITCHES - 1)) for k in range(MOST_PITCHES)]
    return [every[k] for k in picked]


def _rows(data: dict[str, Any], panel: Panel, texts: Sequence[tuple[str, float]], system: System) -> list[_Row]:
    bead = panel.pattern
    assert bead is not None
    rows = []
    step = COARSE * STEPS["depth"][system]
    top = bead.width / 2 if bead.family == "arc" else bead.width
    for text, t in texts:
        sheet = data["sheet"] if not text else {**data["sheet"], "thickness": text}
        for pitch in _pitches(panel, system):
            depths = [n * step for n in range(1, int(top / step + 1e-9) + 1)]
            made = [_with(data, replace(bead, depth=d, pitch=pitch), sheet) for d in depths if d <= pitch]
            fit = tuple(one for one in made if one is not None and not unmakeable(one))
            if fit:
                rows.append(_Row(t, pitch, fit))
    return rows


def _mass(panel: Panel) -> float:
    """Mass per area [t/mm²]."""
    return panel.sheet.material.density * panel.sheet.thickness * panel.developed


def _order(panel: Panel, goal: str) -> tuple[float, float]:
    depth = panel.pattern.depth if panel.pattern is not None else 0.0
    return (_mass(panel), depth) if goal == "lightest" else (depth, _mass(panel))


def _bead(data: dict[str, Any], panel: Panel, goal: str, system: System, asked: Asked) -> Answer:
    """The lightest beaded stock sheet, or the shallowest bead in the sheet given, that holds."""
    texts = list(_stock(panel, system)) if goal == "lightest" else [("", panel.sheet.thickness)]
    rows = _rows(data, panel, texts, system)
    below: dict[int, int] = {}  # row -> how many of its beads are known not to hold
    result, chosen = None, None
    for _ in range(MOST_TRIES):
        at = _promising(rows, below, goal, asked)
        if at is None:
            break
        r, n = at
        tried = asked.judge(rows[r].panels[n])
        if tried.status == "ok":
            # the coarse grid may have been too strict just below: as long as a shallower one holds, take it
            while n > below.get(r, 0) and asked.judge(rows[r].panels[n - 1]).status == "ok":
                n -= 1
            chosen = rows[r].panels[n]
            result = asked.judge(chosen)
            break
        below[r] = n + 1
    if result is None or chosen is None or chosen.pattern is None:
        raise _nothing(f"{'beaded stock sheet' if goal == 'lightest' else 'bead'}", _best(rows, asked), system)
    found = {
        "found": chosen.pattern.depth, "found_depth": chosen.pattern.depth, "found_pitch": chosen.pattern.pitch,
        "found_thickness": chosen.sheet.thickness,
    }  # fmt: skip
    said = (
        f"{respelt(beads_text(chosen), system)} in {_size(chosen, system)} sheet, "
        f"{_kilos(_mass(chosen), system)}; of the beads tried {asked.words}"
    )
    flat, values = _against_flat(data, chosen, system)
    units = {"flat_same_mass_used": "1"}
    amounts = {name: Amount(value, units.get(name, "mm")) for name, value in (found | values).items()}
    return answered(result, goal, amounts, said, flat)


def _promising(rows: Sequence[_Row], below: Mapping[int, int], goal: str, asked: Asked) -> tuple[int, int] | None:
    """(row, place) of the best candidate by what is known so far; None when none may hold."""
    best: tuple[tuple[float, float], int, int] | None = None
    left = [r for r in range(len(rows)) if below.get(r, 0) < len(rows[r].panels)]
    least = _least_sheet([rows[r] for r in left], asked)
    for r in sorted(left, key=lambda r: _order(rows[r].panels[below.get(r, 0)], goal)):
        row, first = rows[r], below.get(r, 0)
        last = len(row.panels) - 1
        while last >= first and best is not None and _order(row.panels[last], goal) >= best[0]:
            last -= 1
        if last < first or row.t < least or asked.estimate(row.panels[last]) > 1:
            continue
        low, high = first, last
        while low < high:
            middle = (low + high) // 2
            low, high = (low, middle) if asked.estimate(row.panels[middle]) <= 1 else (middle + 1, high)
        best = (_order(row.panels[high], goal), r, high)
    return None if best is None else (best[1], best[2])


def _least_sheet(rows: Sequence[_Row], asked: Asked) -> float:
    """The thinnest sheet that some pitch may save at the greatest depth [mm]; thinner ones need not be asked."""
    sheets = sorted({row.t for row in rows})
    low, high = 0, len(sheets)
    while low < high:
        middle = (low + high) // 2
        may = any(asked.estimate(row.panels[-1]) <= 1 for row in rows if row.t == sheets[middle])
        low, high = (low, middle) if may else (middle + 1, high)
    return sheets[low] if low < len(sheets) else inf


def _best(rows: Sequence[_Row], asked: Asked) -> Result | None:
    """The best try of a search that failed, worked out in full."""
    thickest = max((row.t for row in rows), default=0.0)
    deepest = [row.panels[-1] for row in rows if row.t == thickest]
    if not deepest:
        return None
    return asked.judge(min(deepest, key=asked.estimate))


def _against_flat(data: dict[str, Any], chosen: Panel, system: System) -> tuple[str, dict[str, float]]:
    """The beaded sheet against flat sheet: of the same mass, and the thinnest that does the same."""
    asked, bare = Asked(), {**data, "bead": "none"}
    same = chosen.sheet.thickness * chosen.developed
    values = {}
    said = f"Flat sheet of the same mass ({show(same, 'length', system)}) "
    judged = asked.judge(build(Panel, {**bare, "sheet": {**data["sheet"], "thickness": same}}))
    worst = judged.worst
    if judged.status == "ok":
        said += "holds as well: the beads gain nothing"
    elif worst is not None and worst.utilisation is not None and worst.status == "over":
        said += f"does not hold ({worst.title}, {100 * worst.utilisation:.3g} % used)"
        values["flat_same_mass_used"] = worst.utilisation
    else:
        said += "cannot be judged"
    try:
        flat = _thickness(bare, system, asked)
    except InputError:
        return f"{said}; no flat stock sheet holds.", values
    t = flat.result.values["found"].value or 0.0
    values["flat_thickness"] = t
    share = t / same
    more = f"{share:.2f} times the mass" if share >= 1 else f"{share:.2f} of the mass: flat is lighter"
    return f"{said}; flat stock sheet that holds is {_size(flat.result.model, system)}, {more}.", values


def beads_text(panel: Panel) -> str:
    """The beads as a builder writes them; of two that cross, the second with the side it runs along."""
    (_, one), *crossed = panel.beads
    return f" {AND} ".join([str(one), *(f"{bead},along={way}" for way, bead in crossed)])


def _size(panel: Panel, system: System) -> str:
    sheet = panel.sheet
    return sheet_size(sheet.thickness, sheet.material.family, system)


def _kilos(mass: float, system: System) -> str:
    if system == "inch":
        return f"{mass * 1e9 * 0.09290304 / 0.45359237:.3g} lb/ft²"
    return f"{mass * 1e9:.3g} kg/m²"


# --- which way the beads run ------------------------------------------------------------------------------------


def which_way(results: Sequence[Result], goal: str | None = None, system: System = "metric") -> str:
    """Of one panel beaded along its long and along its short side: which is the better way, in a sentence.

    Compared by what was searched for, else by deflection under the loads, without any by the first frequency.
    """
    by_way = {r.model.along: r for r in results if isinstance(r.model, Panel)}
    if set(by_way) != {"long", "short"}:
        return ""
    ok = [k for k, r in by_way.items() if r.status == "ok"]
    if not ok:
        return "Neither way holds."

    def of(name: str) -> dict[str, float]:
        return {k: r.values[name].value or 0.0 for k, r in by_way.items() if name in r.values}

    if goal in (*ONE, *BOTH):
        name, more, words, unit = "found", goal in ("pitch", "stop", "runout"), f"{goal} ", "mm"
        if goal == "lightest":
            name, words, unit = "mass_per_area", "", "kg/m^2"
    elif all(of("deflection_yielding").values()) and of("deflection_yielding"):
        name, more, words, unit = "deflection_yielding", False, "deflects ", "mm"
    else:
        name, more, words, unit = "frequency_1", True, "first frequency ", "Hz"
    by = of(name)

    def sized(value: float) -> str:
        return words + show_in(value, unit, system, 3).replace("^2", "²")

    pick = ok[0] if len(ok) == 1 else sorted(by, key=by.__getitem__, reverse=more)[0]
    other = "short" if pick == "long" else "long"
    against = f"along the {other} side " + (sized(by[other]) if other in by else "nothing is found")
    if len(ok) == 1:
        against += ", and it does not hold" if other in by else ""
    return f"Better along the {pick} side: {sized(by[pick])}; {against}."


# --- words -------------------------------------------------------------------------------------------------------


def _nothing(what: str, result: Result | None, system: System) -> NothingHolds:
    why = ""
    if result is not None:
        worst = result.worst
        panel = result.model
        if worst is not None and worst.method.key in MAKING and not result.unjudged:
            why = "; what is strong enough cannot be rolled"
        words = "the stiffest"
        if isinstance(panel, Panel):
            sheet, way = _size(panel, system), f" along the {panel.along} side"
            bead = "flat" if panel.pattern is None else f"{respelt(beads_text(panel), system)}{way}"
            words = f"{bead}, in {sheet} sheet"
        why += f"; the best try, {words}, {stopped(result)}"
    error = NothingHolds(f"no {what} holds{why}; change the sheet, the bead or the loads", field="--find")
    error.best = result
    return error
