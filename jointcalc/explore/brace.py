"""Braces compared side by side, and the lightest of a range of profiles that holds."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import numpy.typing as npt

from jointcalc.check.brace import check_brace, first_over
from jointcalc.check.brace_making import seam_data
from jointcalc.errors import InputError
from jointcalc.errors import nearest as nearest_word
from jointcalc.explore.answer import Answer, stopped
from jointcalc.explore.brace_screen import Grid, Wanted, laid_out, screen
from jointcalc.explore.seam import find_seam
from jointcalc.model.brace import Brace
from jointcalc.model.fields import build
from jointcalc.model.spelled import Spelled
from jointcalc.quantity.show import System, respelt, show, show_in
from jointcalc.result import Amount, Result
from jointcalc.section.batch import chunks
from jointcalc.section.families.hat import HatSkin
from jointcalc.section.families.lap import Lap
from jointcalc.section.profile import EXAMPLES
from jointcalc.statics.beam import solve

Array = npt.NDArray[np.float64]

FULL_CHECKS = 250
"""Candidates of a search that are judged by every check, lightest first, before the search strides on."""
PARETO_SHOWN = 12
CHUNK = 65536


@dataclass(frozen=True, slots=True)
class Choice:
    """One candidate of a Pareto set: no other that holds is both lighter and stiffer."""

    profile: str
    mass_per_metre: float
    deflection: float


@dataclass(frozen=True, slots=True)
class Lightest(Answer):
    """The lightest candidate that holds by every check, the Pareto set, and how many were looked at."""

    pareto: tuple[Choice, ...]
    looked_at: int
    held: int


def judge(brace: Brace, system: System = "metric") -> Result:
    """The judged brace with `required_pitch`, the widest pitch at which its weld lines hold, among its values."""
    result = check_brace(brace)
    if not brace.family.weld_lines:
        return result
    try:
        pitch, missing = required_pitch(brace, result, system), result.unjudged
    except InputError as error:
        pitch, missing = None, (*result.unjudged, f"the weld line: {error.message}")
    return replace(result, values={**result.values, "required_pitch": Amount(pitch, "mm")}, unjudged=missing)


def required_pitch(brace: Brace, result: Result, system: System = "metric") -> float | None:
    """The widest pitch [mm] at which the spots carry the shear flow; None where there is no load.

    Raises InputError when no pitch holds.
    """
    flow = result.values["weld_flow"].value or 0.0
    if not flow:
        return None
    return find_seam(seam_data(brace, flow), "pitch", system).result.values["found"].value


def with_pitch_found(data: Mapping[str, Any], system: System = "metric") -> Result:
    """The brace spotted at the widest pitch that holds, with `found` among its values.

    Raises InputError when the profile has no weld line, carries no load, or no pitch holds.
    """
    brace = build(Brace, {k: v for k, v in data.items() if k != "pitch"})
    if not brace.family.weld_lines:
        raise InputError(f"a {brace.family.kind} has no weld line; a hat-skin or a lap has", field="--find")
    first = check_brace(brace)
    flow = first.values["weld_flow"].value or 0.0
    if not flow:
        raise InputError("without a load any pitch holds; give the loads", field="--find")
    pitch = find_seam(seam_data(brace, flow), "pitch", system).result.values["found"].value
    assert pitch is not None
    result = check_brace(build(Brace, {**data, "pitch": pitch}))
    amounts = {**result.values, "required_pitch": Amount(pitch, "mm"), "found": Amount(pitch, "mm")}
    return replace(result, values=amounts)


UNKNOWNS = ("lightest", "pitch")


def pitch_found(results: Sequence[Result], system: System = "metric") -> str:
    """What a search for the pitch says: of each brace the widest at which its weld line holds."""
    told = []
    for result in results:
        size = show(result.values["found"].value or 0.0, "length", system)
        told.append(f"{size} for the {result.model.family.kind}" if len(results) > 1 else size)
    return f"Found pitch: {', '.join(told)}, the widest at which the weld line holds, up to 8 spot diameters"


def find_brace(data: Mapping[str, Any], unknown: str, system: System = "metric") -> Answer | Lightest:
    """Search one unknown of a brace described by raw data: its widest pitch, or the lightest of its profile's range.

    Raises InputError when the unknown is neither or nothing holds.
    """
    if unknown not in UNKNOWNS:
        told = f"'{unknown}' cannot be searched{nearest_word(unknown, UNKNOWNS)} (accepted: {', '.join(UNKNOWNS)})"
        raise InputError(told, field="--find")
    if unknown == "pitch":
        found = with_pitch_found(data, system)
        return Answer(found, pitch_found([found], system))
    return find_lightest({k: v for k, v in data.items() if k != "profile"}, _texts(data.get("profile")), system)


def deflection_line(brace: Brace, points: int = 201) -> tuple[Array, Array]:
    """(place [mm], deflection [mm], downwards positive) along a brace, gross section."""
    x = np.linspace(0.0, brace.length, points)
    EI = brace.sheets[0].material.E * float(brace.properties.I_y[0])
    return x, np.asarray(solve(brace.length, EI, brace.supports, brace.loads).deflection(x))


# --- the lightest ----------------------------------------------------------------------------------------


def find_lightest(
    data: Mapping[str, Any],
    profiles: Sequence[str],
    system: System = "metric",
    progress: Callable[[int, int], None] | None = None,
) -> Lightest:
    """The lightest of the profiles' ranges that holds every check, and the Pareto set of mass against deflection.

    `data` describes the brace without its profile (texts with units, as for the model).  Ranges of a
    thickness become stock sizes, other ranges steps of 1 mm (1/16 in), wider when the candidates
    would be too many.  `progress` is told (done, total).

    Raises InputError when nothing can be searched, or nothing holds.
    """
    # what is said of the brace, read once with a profile that takes all of it
    said = build(Brace, {**data, "profile": EXAMPLES["hat-skin"]})
    limit = said.deflection_limit()
    want = Wanted(
        length=said.length,
        supports=said.supports,
        loads=said.loads,
        limit=None if limit is None else limit[0],
        gamma=said.load_factor,
        die=said.die,
        ways=said.ways,
        over=said.over,
        bearing=said.bearing_length,
    )
    if said.pitch is not None and not any(_lined(text) for text in profiles):
        raise InputError("none of these profiles has a weld line; a hat-skin or a lap has", field="--pitch")
    if not want.loads:
        raise InputError("without a load the thinnest sheet holds; give the loads", field="--find")
    profiles = [_any_sheet(text, system) for text in profiles]
    grids = [grid for text in profiles for grid in laid_out(data, text, system)]
    total = sum(grid.count for grid in grids)
    kept: list[tuple[Array, Array, npt.NDArray[np.intp], npt.NDArray[np.intp]]] = []
    nearest: tuple[float, int, int] = (np.inf, -1, -1)
    done = built = 0
    for g, grid in enumerate(grids):
        for part in chunks(grid.count, CHUNK):
            index = np.arange(part.start, part.stop, dtype=np.intp)
            mass, deflection, use = screen(grid, index, want)
            built += int(np.isfinite(mass).sum())
            best = int(np.argmin(use))
            if use[best] < nearest[0]:
                nearest = (float(use[best]), g, int(index[best]))
            holds = use <= 1 + 1e-9
            kept.append((mass[holds], deflection[holds], np.full(int(holds.sum()), g, dtype=np.intp), index[holds]))
            done += len(index)
            if progress is not None:
                progress(done, total)
    if not built:
        grids[0].family(np.array([0], dtype=np.intp)).check()
        raise InputError("none of the candidates can be built; widen the ranges", field="--profile")
    masses, deflections, which, where = (np.concatenate(column) for column in zip(*kept))
    if not len(masses):
        raise _none_holds(data, grids, nearest, total)
    return _answer(data, grids, masses, deflections, which, where, total, system)


SHEETS: Mapping[System, str] = {"metric": "0.6mm..3mm", "inch": "24ga..11ga"}
"""Stock sheets that are tried where a profile says no thickness: what a small workshop folds (common practice)."""


def _any_sheet(text: str, system: System) -> str:
    """The profile with the range of stock sheets for its thickness, where it is sought and left out."""
    family, colon, rest = text.partition(":")
    names = {part.partition("=")[0].strip().lower() for part in rest.split(",")}
    if not colon or "t" in names or ",t=" not in EXAMPLES.get(family.strip().lower(), ""):
        return text
    return f"{text.rstrip()},t={SHEETS[system]}"


def _texts(value: Any) -> tuple[str, ...]:
    return (value,) if isinstance(value, str) else tuple(value or ())


def _none_holds(
    data: Mapping[str, Any], grids: Sequence[Grid], nearest: tuple[float, int, int], total: int
) -> InputError:
    text = f"none of {total} candidates holds"
    used, g, index = nearest
    if g >= 0 and np.isfinite(used):
        profile = grids[g].profile(index)
        result = _judge(data, profile)
        if result is not None:
            text += f"; the best try, {profile}, {stopped(result)}"
    return InputError(f"{text}; widen the ranges, take a stronger grade or ask less", field="--find")


def _judge(data: Mapping[str, Any], profile: str) -> Result | None:
    try:
        return check_brace(build(Brace, _data_for(data, profile)))
    except InputError:
        return None


def _data_for(data: Mapping[str, Any], profile: str) -> dict[str, Any]:
    """The brace with that profile; a pitch is that of the profiles that have a weld line."""
    return {**{k: v for k, v in data.items() if k != "pitch" or _lined(profile)}, "profile": profile}


def _lined(profile: str) -> bool:
    """Whether a profile in the text form has a weld line."""
    return profile.strip().lower().startswith((HatSkin.kind, Lap.kind))


def _may_hold(data: Mapping[str, Any], profile: str) -> bool:
    """Whether no check of strength is over: asked before the whole answer is worked out."""
    try:
        return not first_over(build(Brace, _data_for(data, profile)))
    except InputError:
        return False


def _answer(
    data: Mapping[str, Any],
    grids: Sequence[Grid],
    mass: Array,
    deflection: Array,
    which: npt.NDArray[np.intp],
    where: npt.NDArray[np.intp],
    total: int,
    system: System,
) -> Lightest:
    order = np.lexsort((deflection, mass))
    best: Result | None = None
    text = Spelled("")
    at, stride, tried = 0, 1, 0
    while at < len(order):
        i = int(order[at])
        text = grids[int(which[i])].profile(int(where[i]))
        found = _judge(data, text) if _may_hold(data, text) else None
        tried += 1
        if found is not None and found.status == "ok":
            best = found
            break
        if tried % FULL_CHECKS == 0:
            stride *= 4
        at += stride
    if best is None:
        first = int(order[0])
        why = _judge(data, grids[int(which[first])].profile(int(where[first])))
        reason = f"; the lightest that bends little enough, {why.model.profile}, {stopped(why)}" if why else ""
        raise InputError(f"none of {total} candidates holds every check{reason}", field="--find")
    # no lighter one is stiffer: walking up the mass, deflection must fall
    sorted_deflection = deflection[order]
    least = np.minimum.accumulate(sorted_deflection)
    front = np.flatnonzero(np.concatenate([[True], sorted_deflection[1:] < least[:-1] * (1 - 1e-9)]))
    front = front[front > at] if at else front[1:]
    if len(front) > PARETO_SHOWN - 1:
        front = front[np.unique(np.linspace(0, len(front) - 1, PARETO_SHOWN - 1).round().astype(int))]
    chosen = [_choice(text, best)]
    for k in front:
        i = int(order[k])
        other = grids[int(which[i])].profile(int(where[i]))
        found = _judge(data, other) if _may_hold(data, other) else None
        if found is not None and found.status == "ok":
            one = _choice(other, found)
            if one.deflection < chosen[-1].deflection:
                chosen.append(one)
    amounts = {**best.values, "candidates": Amount(float(total), "1")}
    mass_text = show_in(best.values["mass_per_metre"].value or 0.0, "kg/m", system)
    words = f"Found lightest of {total} candidates: {respelt(text, system)}, {mass_text}"
    steps = sorted({step for grid in grids for step in grid.steps})
    if steps:
        words += ", in steps of " + " and ".join(show(step, "length", system, 3) for step in steps)
    if stride > 1:
        words += f" (after {tried} that bend little enough failed another check, not every one was judged)"
    return Lightest(replace(best, values=amounts), words, tuple(chosen), total, len(mass))


def _choice(profile: str, result: Result) -> Choice:
    mass, deflection = result.values["mass_per_metre"].value, result.values["deflection_service"].value
    return Choice(profile, mass or 0.0, deflection or 0.0)
