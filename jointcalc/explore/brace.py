"""Braces compared side by side, and the lightest of a range of profiles that holds."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import product
from math import prod
from typing import Any

import numpy as np
import numpy.typing as npt

from jointcalc.check.brace import check_brace, first_over
from jointcalc.check.brace_making import least_radius, legs, seam_data, weld_flow
from jointcalc.check.brace_stand import collapse_force, stands
from jointcalc.errors import InputError
from jointcalc.errors import nearest as nearest_word
from jointcalc.explore.seam import find_seam
from jointcalc.formula import web_aisi, web_en1993
from jointcalc.formula.safety import GAMMA_M0
from jointcalc.model.brace import Brace, read_limit, read_loads, read_spans, read_supports
from jointcalc.model.fields import build
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.parse import Gauge
from jointcalc.quantity.show import System, respelt, show, show_in
from jointcalc.result import Amount, Result
from jointcalc.section.batch import chunks, evaluate
from jointcalc.section.families.family import Family
from jointcalc.section.families.hat import HatSkin
from jointcalc.section.families.lap import Lap
from jointcalc.section.panels import panels
from jointcalc.section.profile import EXAMPLES, ProfileSpec, parse_spec
from jointcalc.statics.beam import Beam, solve
from jointcalc.statics.beam_model import Load, PointLoad, SpreadLoad, Support
from jointcalc.tables.gauges import gauge_thickness
from jointcalc.tables.materials import material
from jointcalc.tables.store import load

Array = npt.NDArray[np.float64]

MOST_CANDIDATES = 2_000_000
"""Candidates of one search; beyond it the steps of the ranges are widened."""
STEPS: Mapping[str, tuple[float, ...]] = {
    "metric": (1.0, 2.0, 5.0, 10.0, 20.0),
    "inch": (25.4 / 16, 25.4 / 8, 25.4 / 4, 25.4 / 2, 25.4),
}
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
class Lightest:
    """The lightest candidate that holds by every check, the Pareto set, and how many were looked at."""

    result: Result
    pareto: tuple[Choice, ...]
    looked_at: int
    held: int
    text: str


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
    flow = weld_flow(brace, result.values["shear_max"].value or 0.0)
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
    flow = weld_flow(brace, first.values["shear_max"].value or 0.0)
    if not flow:
        raise InputError("without a load any pitch holds; give the loads", field="--find")
    pitch = find_seam(seam_data(brace, flow), "pitch", system).result.values["found"].value
    assert pitch is not None
    result = check_brace(build(Brace, {**data, "pitch": pitch}))
    amounts = {**result.values, "required_pitch": Amount(pitch, "mm"), "found": Amount(pitch, "mm")}
    return replace(result, values=amounts)


UNKNOWNS = ("lightest", "pitch")


@dataclass(frozen=True, slots=True)
class Found:
    """The judged brace with the answer put in, and the answer in one sentence."""

    result: Result
    text: str


PITCH_FOUND = "Found pitch: the widest at which the weld line holds, up to 8 spot diameters"


def find_brace(data: Mapping[str, Any], unknown: str, system: System = "metric") -> Found | Lightest:
    """Search one unknown of a brace described by raw data: its widest pitch, or the lightest of its profile's range.

    Raises InputError when the unknown is neither or nothing holds.
    """
    if unknown not in UNKNOWNS:
        told = f"'{unknown}' cannot be searched{nearest_word(unknown, UNKNOWNS)} (accepted: {', '.join(UNKNOWNS)})"
        raise InputError(told, field="--find")
    if unknown == "pitch":
        return Found(with_pitch_found(data, system), PITCH_FOUND)
    return find_lightest({k: v for k, v in data.items() if k != "profile"}, _texts(data.get("profile")), system)


def deflection_line(brace: Brace, points: int = 201) -> tuple[Array, Array]:
    """(place [mm], deflection [mm], downwards positive) along a brace, gross section."""
    x = np.linspace(0.0, brace.length, points)
    EI = brace.sheets[0].material.E * float(brace.properties.I_y[0])
    return x, np.asarray(solve(brace.length, EI, brace.supports, brace.loads).deflection(x))


# --- the lightest ----------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Grid:
    """A profile with its ranges laid out: one sheet, and the steps of every other letter."""

    spec: ProfileSpec
    sheet: Sheet
    fixed: Mapping[str, float]
    axes: Mapping[str, Array]
    step: float

    @property
    def count(self) -> int:
        return prod(len(axis) for axis in self.axes.values())

    def values(self, index: npt.NDArray[np.intp]) -> dict[str, Any]:
        """Letters of the candidates at these places."""
        if not self.axes:
            return dict(self.fixed)
        places = np.unravel_index(index, tuple(len(axis) for axis in self.axes.values()))
        return {**self.fixed, **{name: axis[at] for (name, axis), at in zip(self.axes.items(), places)}}

    def family(self, index: npt.NDArray[np.intp]) -> Family:
        return self.spec.family(**self.values(index))

    def text(self, index: int) -> str:
        """The candidate as a builder writes it."""
        return self.family(np.array([index])).text()


@dataclass(frozen=True, slots=True)
class _Wanted:
    """What a candidate must do: the loads, the limit, the factors."""

    length: float
    supports: tuple[Support, ...]
    loads: tuple[Load, ...]
    limit: float | None
    gamma: float
    die: float | None
    ways: tuple[bool, ...]
    over: str
    bearing: float


def _grids(data: Mapping[str, Any], text: str, system: System) -> list[_Grid]:
    about = material(str(data["grade"]))
    coated = about.coated and about.family == "steel"
    spec = parse_spec(text, gauge=lambda n, field: gauge_thickness(Gauge(n), about.family, coated, field=field))
    if not spec.ranges:
        raise InputError(
            f"'{text}' has no range to search; write at least one letter like 'depth=20mm..50mm'", field="--profile"
        )
    letters = spec.family_type.letters()
    stock: dict[str, list[float]] = {}
    lengths: dict[str, tuple[float, float]] = {}
    for name, (low, high) in spec.ranges.items():
        if letters[name].thickness:
            family = "galvanised" if coated else about.family
            sizes = sorted({
                row.need("t") for row in load("stock_thickness").rows
                if row["series"] == system and row["family"] == family and low - 1e-9 <= row.need("t") <= high + 1e-9
            })  # fmt: skip
            if not sizes:
                raise InputError(
                    f"no stock {family} sheet lies between {low:g} and {high:g} mm", field=f"profile {name}"
                )
            stock[name] = sizes
        else:
            lengths[name] = (low, high)
    combos = [dict(zip(stock, sizes)) for sizes in product(*stock.values())]
    for step in STEPS[system]:
        axes: dict[str, Array] = {
            name: np.asarray(low + step * np.arange(int((high - low) / step + 1e-9) + 1), dtype=np.float64)
            for name, (low, high) in lengths.items()
        }
        if prod(len(axis) for axis in axes.values()) * len(combos) <= MOST_CANDIDATES:
            break
    else:
        raise InputError(
            f"the ranges make more than {MOST_CANDIDATES} candidates; narrow some of them", field="--profile"
        )
    found, why = [], None
    for combo in combos:
        t = combo.get("t", spec.values.get("t"))
        if t is None:
            raise InputError(f"a {spec.kind} has no sheet to search in", field="--profile")
        own = {k: data[k] for k in ("yield_strength", "tensile_strength") if data.get(k)}
        try:
            sheet = build(Sheet, {"thickness": t, "grade": data["grade"], "coating": data.get("coating", ""), **own})
        except InputError as error:
            why = error
            continue
        found.append(_Grid(spec, sheet, combo, axes, step))
    if not found:
        assert why is not None
        raise why
    return found


def _screen(grid: _Grid, index: npt.NDArray[np.intp], want: _Wanted) -> tuple[Array, Array, Array]:
    """(mass [kg/m], deflection [mm], greatest utilisation) of candidates; utilisation is inf where none is possible.

    Bending by both codes, deflection against the limit, radius and legs on the brake: what can be said
    of all at once.  What seems to hold is judged by every check afterwards.
    """
    nominal = grid.family(index)
    sheet = grid.sheet
    values = grid.values(index)
    if sheet.coated:
        r = nominal.radius
        change: dict[str, Any] = {"t": sheet.t}
        if r is not None and "r" in nominal.letters():
            change["r"] = r
        family = grid.spec.family(**{**values, **change})
    else:
        family = nominal
    n = len(index)
    out = evaluate(family, f_y=sheet.f_y, gross=("mass_per_metre", "I_y", "W_y_top", "W_y_bottom"),
                   density=sheet.material.density)  # fmt: skip
    ok = np.broadcast_to(out.valid, (n,)).copy()
    use = np.full(n, np.inf)
    mass, deflection = np.full(n, np.inf), np.full(n, np.inf)
    if not ok.any():
        return mass, deflection, use
    at = np.flatnonzero(ok)
    v = {name: np.broadcast_to(value, (n,))[at] for name, value in out.values.items()}
    E = sheet.material.E
    beam = solve(want.length, E * v["I_y"], want.supports, want.loads)
    high, low = beam.moment_extremes()
    sag, hog = np.maximum(high.value, 0.0), np.maximum(-low.value, 0.0)
    biggest = np.maximum(sag, hog)
    worst = np.zeros(len(at))
    second = v["I_y"].copy()
    # turned over, a moment presses the other face; where it is not said how the brace lies, both ways are asked
    faces = {False: (("top", sag), ("bottom", hog)), True: (("bottom", sag), ("top", hog))}
    for face, moment in (one for way in want.ways for one in faces[way]):
        acts = moment > 1e-9 * biggest
        judged = np.zeros(len(at), dtype=bool)
        for code, factor in (("en", GAMMA_M0 * want.gamma), ("aisi", web_aisi.OMEGA_BENDING)):
            inside = v[f"inside_{code}_{face}"] > 0
            judged |= inside
            worst = np.maximum(worst, np.where(acts & inside, factor * moment / v[f"moment_{code}_{face}"], 0.0))
        worst = np.where(acts & ~judged, np.inf, worst)
        W = v["W_y_top"] if face == "top" else v["W_y_bottom"]
        fic = web_en1993.SERVICE_SECOND_MOMENT(
            I_gr=v["I_y"], I_eff=v[f"I_eff_en_{face}"], sigma_gr=np.minimum(moment / W, sheet.f_y), sigma=sheet.f_y
        )
        second = np.where(acts, np.minimum(second, fic), second)
    bent = solve(want.length, E * second, want.supports, want.loads)
    w = np.abs(np.broadcast_to(bent.deflection_max().value, (len(at),)))
    if want.limit is not None:
        worst = np.maximum(worst, w / want.limit)
    folded = nominal.take(at) if len(at) < n else nominal
    for leg in legs(folded, want.die):
        worst = np.where(np.broadcast_to(leg.length < leg.least, (len(at),)), np.inf, worst)
    if folded.flats_and_bends().bends and folded.radius is not None and "r" in folded.letters():
        radii = np.broadcast_to(np.asarray(folded.radius, dtype=float), (len(at),))
        tight = np.array([r < least_radius(sheet, r, sheet.thickness) for r in np.unique(radii)])
        worst = np.where(np.isin(radii, np.unique(radii)[tight]), np.inf, worst)
    passed = worst <= 1 + 1e-9
    if want.over != "webs" and passed.any():
        some = np.flatnonzero(passed)
        chosen = family.take(at[some]) if family.batch > 1 else family
        stood = _stood_on(chosen, {k: v[k][some] for k in v}, beam, len(at), some, sheet.f_y, want)
        worst[some] = np.maximum(worst[some], stood)
    use[at], deflection[at] = worst, w
    mass[at] = v["mass_per_metre"] * (sheet.thickness / sheet.t)
    return mass, deflection, use


def _stood_on(
    family: Family,
    v: Mapping[str, Array],
    beam: Beam,
    count: int,
    some: npt.NDArray[np.intp],
    f_y: float,
    want: _Wanted,
) -> Array:
    """Greatest utilisation of what the loads stand on, of candidates that hold in bending."""
    p = family.properties()
    parts = panels(family, p)
    worst = np.zeros(len(some))
    reach = 4.0 * float((p.z_top - p.z_bottom).min())
    presses = []
    for one in want.loads:
        if isinstance(one, PointLoad) and not any(abs(one.at - s.at) < 1e-6 for s in want.supports):
            presses.append((one.at, abs(float(one.force)), want.bearing, False))
        elif isinstance(one, SpreadLoad):
            c = one.end - one.start
            presses.append(
                ((one.start + one.end) / 2, max(abs(float(one.first)), abs(float(one.last))) * c, c, c > reach)
            )
    for turned in want.ways:
        face = "bottom" if turned else "top"
        for stand in stands(family, parts, p, face):
            for place, force, c, spread in presses:
                M = np.broadcast_to(np.asarray(beam.moment(place)), (count,))[some]
                pressed = np.where((M >= 0) != turned, v["moment_en_top"], v["moment_en_bottom"])
                beta = np.minimum(want.gamma * np.abs(M) / pressed, 1.0)
                force_u = collapse_force(stand, f_y=f_y, c=c, beta=beta, spread=spread)
                worst = np.maximum(worst, want.gamma * force / np.maximum(force_u, 1e-9))
    return worst


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
    limit_text = str(data.get("limit_deflection") or "")
    spans = read_spans(data["span"])
    limit = read_limit(limit_text, max(spans))
    want = _Wanted(
        length=sum(spans),
        supports=read_supports(str(data.get("ends") or "pinned"), spans),
        loads=read_loads(sum(spans), *(_texts(data.get(name)) for name in ("point", "spread", "moment"))),
        limit=None if limit is None else limit[0],
        gamma=float(data.get("load_factor") or 1.5),
        die=said.die,
        ways=said.ways,
        over=said.over,
        bearing=said.bearing_length,
    )
    if said.pitch is not None and not any(_lined(text) for text in profiles):
        raise InputError("none of these profiles has a weld line; a hat-skin or a lap has", field="--pitch")
    if not want.loads:
        raise InputError("without a load the thinnest sheet holds; give the loads", field="--find")
    grids = [grid for text in profiles for grid in _grids(data, text, system)]
    total = sum(grid.count for grid in grids)
    kept: list[tuple[Array, Array, npt.NDArray[np.intp], npt.NDArray[np.intp]]] = []
    nearest: tuple[float, int, int] = (np.inf, -1, -1)
    done = built = 0
    for g, grid in enumerate(grids):
        for part in chunks(grid.count, CHUNK):
            index = np.arange(part.start, part.stop, dtype=np.intp)
            mass, deflection, use = _screen(grid, index, want)
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


def _texts(value: Any) -> tuple[str, ...]:
    return (value,) if isinstance(value, str) else tuple(value or ())


def _none_holds(
    data: Mapping[str, Any], grids: Sequence[_Grid], nearest: tuple[float, int, int], total: int
) -> InputError:
    text = f"none of {total} candidates holds"
    used, g, index = nearest
    if g >= 0 and np.isfinite(used):
        profile = grids[g].text(index)
        result = _judge(data, profile)
        worst = result.worst if result else None
        if worst is not None and worst.utilisation is not None:
            text += f"; the nearest, {profile}, is {worst.utilisation:.0%} used in {worst.title}"
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
    grids: Sequence[_Grid],
    mass: Array,
    deflection: Array,
    which: npt.NDArray[np.intp],
    where: npt.NDArray[np.intp],
    total: int,
    system: System,
) -> Lightest:
    order = np.lexsort((deflection, mass))
    best: Result | None = None
    text = ""
    at, stride, tried = 0, 1, 0
    while at < len(order):
        i = int(order[at])
        text = grids[int(which[i])].text(int(where[i]))
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
        why = _judge(data, grids[int(which[first])].text(int(where[first])))
        reason = f"; the lightest that bends little enough fails in {why.worst.title}" if why and why.worst else ""
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
        other = grids[int(which[i])].text(int(where[i]))
        found = _judge(data, other) if _may_hold(data, other) else None
        if found is not None and found.status == "ok":
            one = _choice(other, found)
            if one.deflection < chosen[-1].deflection:
                chosen.append(one)
    amounts = {**best.values, "candidates": Amount(float(total), "1")}
    mass_text = show_in(best.values["mass_per_metre"].value or 0.0, "kg/m", system)
    words = f"Found lightest of {total} candidates: {respelt(text, system)}, {mass_text}"
    steps = sorted({grid.step for grid in grids if grid.axes})
    if steps:
        words += ", in steps of " + " and ".join(show(step, "length", system, 3) for step in steps)
    if stride > 1:
        words += f" (after {tried} that bend little enough failed another check, not every one was judged)"
    return Lightest(replace(best, values=amounts), tuple(chosen), total, len(mass), words)


def _choice(profile: str, result: Result) -> Choice:
    mass, deflection = result.values["mass_per_metre"].value, result.values["deflection_service"].value
    return Choice(profile, mass or 0.0, deflection or 0.0)
