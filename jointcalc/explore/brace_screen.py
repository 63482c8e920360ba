"""Candidates of a search for the lightest brace, laid out on a grid and screened all at once.

What seems to hold is judged by every check afterwards (`explore.brace`).
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from itertools import product
from math import prod
from typing import Any

import numpy as np
import numpy.typing as npt

from jointcalc.check.brace_making import least_radius, legs
from jointcalc.check.brace_stand import collapse_force, stands
from jointcalc.errors import InputError
from jointcalc.formula import web_aisi, web_en1993
from jointcalc.formula.safety import GAMMA_M0
from jointcalc.model.fields import build
from jointcalc.model.sheet import Sheet
from jointcalc.model.spelled import Spelled
from jointcalc.quantity.sentence import mm
from jointcalc.quantity.show import System
from jointcalc.section.batch import evaluate
from jointcalc.section.families.family import Family
from jointcalc.section.panels import panels
from jointcalc.section.profile import ProfileSpec, parse_spec
from jointcalc.statics.beam import Beam, solve
from jointcalc.statics.beam_model import Load, PointLoad, SpreadLoad, Support
from jointcalc.tables.gauges import gauge_thickness, gauges_between
from jointcalc.tables.materials import material
from jointcalc.tables.store import load

Array = npt.NDArray[np.float64]

MOST_CANDIDATES = 2_000_000
"""Candidates of one search; beyond it the steps of the ranges are widened."""
STEPS: Mapping[str, tuple[float, ...]] = {
    "metric": (1.0, 2.0, 5.0, 10.0, 20.0),
    "inch": (25.4 / 16, 25.4 / 8, 25.4 / 4, 25.4 / 2, 25.4),
}


@dataclass(frozen=True, slots=True)
class Grid:
    """A profile with its ranges laid out: one sheet, and the steps of every other letter."""

    spec: ProfileSpec
    sheet: Sheet
    fixed: Mapping[str, float]
    axes: Mapping[str, Array]
    steps: tuple[float, ...]
    """How far apart its candidates lie [mm]."""
    bought: Mapping[str, str] = field(default_factory=dict)
    """Letter -> the gauge its sheet is bought by (`18ga`)."""

    @property
    def count(self) -> int:
        """How many candidates."""
        return prod(len(axis) for axis in self.axes.values())

    def values(self, index: npt.NDArray[np.intp]) -> dict[str, Any]:
        """Letters of the candidates at these places."""
        if not self.axes:
            return dict(self.fixed)
        places = np.unravel_index(index, tuple(len(axis) for axis in self.axes.values()))
        return {**self.fixed, **{name: axis[at] for (name, axis), at in zip(self.axes.items(), places)}}

    def family(self, index: npt.NDArray[np.intp]) -> Family:
        """The candidates at these places, as one batch."""
        return self.spec.family(**self.values(index))

    def profile(self, index: int) -> Spelled:
        """One candidate, with the text that a builder would write."""
        values = self.values(np.array([index]))
        family = self.spec.family(**{name: float(np.atleast_1d(value)[0]) for name, value in values.items()})
        text = family.text()
        for letter, gauge in self.bought.items():
            text = re.sub(rf"(?<=[:,]){letter}=[^,]*", f"{letter}={gauge}", text)
        return Spelled(text, family)


@dataclass(frozen=True, slots=True)
class Wanted:
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


def laid_out(data: Mapping[str, Any], text: str, system: System) -> list[Grid]:
    """A profile with ranges, laid out in stock sheets and steps.  Raises InputError when there is nothing to search."""
    about = material(str(data["grade"]))
    coated = about.coated and about.family == "steel"
    spec = parse_spec(text, gauge=lambda n, field: gauge_thickness(n, about.family, coated, field=field))
    if not spec.ranges:
        raise InputError(
            f"'{text}' has no range to search; write at least one letter like 'depth=20mm..50mm'", field="--profile"
        )
    letters = spec.family_type.letters()
    stock: dict[str, list[float]] = {}
    bought: dict[float, str] = {}
    lengths: dict[str, tuple[float, float]] = {}
    for name, (low, high) in spec.ranges.items():
        if name in spec.gauges:
            gauges = gauges_between(*spec.gauges[name], about.family, coated)
            stock[name] = [t for _, t in gauges]
            bought |= {t: str(gauge).replace(" ", "") for gauge, t in gauges}
        elif letters[name].thickness and name in spec.steps:
            stock[name] = [float(t) for t in _laid(low, high, spec.steps[name])]
        elif letters[name].thickness:
            family = "galvanised" if coated else about.family
            rows = [
                row for row in load("stock_thickness").rows
                if row["series"] == system and row["family"] == family and low - 1e-9 <= row.need("t") <= high + 1e-9
            ]  # fmt: skip
            sizes = sorted({row.need("t") for row in rows})
            bought |= {row.need("t"): row["size"].replace(" ", "") for row in rows if row["size"].endswith("ga")}
            if not sizes:
                raise InputError(
                    f"no stock {family} sheet lies between {mm(low, ' and ', high):.4g}", field=f"profile {name}"
                )
            stock[name] = sizes
        else:
            lengths[name] = (low, high)
    combos = [dict(zip(stock, sizes)) for sizes in product(*stock.values())]
    for step in STEPS[system]:
        axes: dict[str, Array] = {
            name: _laid(low, high, spec.steps.get(name, step)) for name, (low, high) in lengths.items()
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
        gauges_of = {letter: bought[size] for letter, size in combo.items() if size in bought}
        taken = tuple(sorted({spec.steps.get(name, step) for name in lengths} | set(spec.steps.values())))
        found.append(Grid(spec, sheet, combo, axes, taken, gauges_of))
    if not found:
        assert why is not None
        raise why
    return found


def _laid(low: float, high: float, step: float) -> Array:
    return np.asarray(low + step * np.arange(int((high - low) / step + 1e-9) + 1), dtype=np.float64)


def screen(grid: Grid, index: npt.NDArray[np.intp], want: Wanted) -> tuple[Array, Array, Array]:
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
    want: Wanted,
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
