"""Making a profile: blank, bend list, what cannot be folded, springback and brake force.

The developed length of a bend uses DIN 6935's k, or a K-factor that the builder states.  A bead counts
with the length of its arc: that is what it takes when it draws metal in; pressed without draw-in it
stretches instead and the blank is narrower.  A step or bead is not checked for stretching here.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from jointcalc.errors import InputError
from jointcalc.formula import forming as f
from jointcalc.formula.branch import below
from jointcalc.quantity.sentence import mm
from jointcalc.section.families.family import Family
from jointcalc.section.families.tube import Bar, RectTube, Tube
from jointcalc.section.outline import STEEL_DENSITY, Floats
from jointcalc.section.tracer import Bead, Bend, Flat

DIN_LEAST_RADIUS: tuple[tuple[float, float], ...] = ((1.0, 1.0), (1.5, 1.6), (2.5, 2.5), (3.0, 3.0))
"""(sheet up to mm, least inside radius mm): DIN 6935, steel of R_m up to 390 MPa, from memory."""


def correction_factor(r: Any, s: Any) -> Floats:
    """DIN 6935 correction factor k: 1 for r/s above 5; r/s below 0.1 is taken as 0.1 (outside the rule)."""
    ratio = np.asarray(r, dtype=float) / np.asarray(s, dtype=float)
    return np.where(ratio > 5, 1.0, f.correction_factor(r=np.clip(ratio, 0.1, 5.0), s=1.0))


def bend_allowance(bend: Bend, K: float | None = None) -> Floats:
    """Developed length [mm] of a bend, by DIN 6935 or with a stated K-factor."""
    if K is None:
        k = correction_factor(bend.r, bend.t)
        return np.asarray(f.allowance_din(theta=bend.angle, r=bend.r, k=k, s=bend.t))
    return np.asarray(f.allowance(theta=bend.angle, r=bend.r, K=K, t=bend.t))


@dataclass(frozen=True)
class Blank:
    """Flat blank of a profile: developed width [mm] by sheet and mass [kg/m]; arrays over the batch.

    `width` adds up the sheets that are bent; flat sheets (the skin) are cut to size and listed in
    `widths` only.  A profile without any bend has its flat sheets as `width`.
    """

    widths: Mapping[str, Floats]
    width: Floats
    mass_per_metre: Floats
    K: float | None


def blank(family: Family, *, K: float | None = None, density: float = STEEL_DENSITY) -> Blank:
    """Blank of every candidate.  `K` states a K-factor; without it DIN 6935's k is used.

    Raises InputError for a K outside 0 to 1.
    """
    if K is not None and not 0.0 <= K <= 1.0:
        raise InputError(f"a K-factor of {K:g} is not possible; it lies between 0 and 1, such as 0.38", field="K")
    widths: dict[str, Floats] = {}
    masses: list[Floats] = []
    bent: set[str] = set()
    development = family.flats_and_bends()
    for part in development.parts:
        if isinstance(part, Bend):
            length = bend_allowance(part, K)
            bent.add(part.sheet)
        else:
            length = part.length
            if isinstance(part, Bead):
                bent.add(part.sheet)
        widths[part.sheet] = widths[part.sheet] + length if part.sheet in widths else length
        masses.append(length * part.t * density * 1e6)
    counted = [w for sheet, w in widths.items() if sheet in bent or not bent]
    batch = family.batch
    width = np.broadcast_to(np.asarray(sum(counted[1:], counted[0])), (batch,))
    mass = np.broadcast_to(np.asarray(sum(masses[1:], masses[0])), (batch,))
    return Blank(widths, width, mass, K)


@dataclass(frozen=True, slots=True)
class BendRow:
    """One line of the bend list of one candidate: angles in degrees, lengths in mm."""

    name: str
    sheet: str
    angle: float
    r: float
    allowance: float
    deduction: float
    at: float
    """Middle of the bend from the edge of its blank."""
    overbend: float
    """Degrees to bend further so that it springs back to `angle`."""


def bend_list(
    family: Family, *, f_y: float, E: float = 210000.0, K: float | None = None, column: int = 0
) -> tuple[BendRow, ...]:
    """Bends of one candidate in order, with the place of each on the flat blank and what it springs back.

    `f_y`, `E` [MPa].  Springback after Gardiner; beyond its range (the bend stays elastic) overbend is
    left at 0 and `unfoldable` says so.
    """
    rows = []
    place: dict[str, float] = {}
    for part in family.flats_and_bends().parts:
        start = place.get(part.sheet, 0.0)
        if isinstance(part, Flat | Bead):
            place[part.sheet] = start + _one(part.length, column)
            continue
        length = _one(bend_allowance(part, K), column)
        angle, r, t = (_one(v, column) for v in (part.angle, part.r, part.t))
        # beyond a square bend legs are measured to the outermost tangent, so the set-back stays r + t (DIN 6935)
        back = float(f.setback(r=r, t=t, theta=min(angle, np.pi / 2)))
        rows.append(
            BendRow(
                part.name,
                part.sheet,
                float(np.degrees(angle)),
                r,
                length,
                float(f.deduction(SB=back, BA=length)),
                start + length / 2,
                float(np.degrees(overbend(angle=angle, r=r, t=t, f_y=f_y, E=E))),
            )
        )
        place[part.sheet] = start + length
    return tuple(rows)


def overbend(*, angle: float, r: float, t: float, f_y: float, E: float = 210000.0) -> float:
    """Angle [rad] by which to bend further, so that a bend of final radius `r` keeps `angle`.

    The radius under the punch is found from the final one by repeating Gardiner's ratio.
    """
    if r <= 0:
        return 0.0
    before = r
    for _ in range(40):
        if not f.SPRINGBACK_RATIO.inside(R_i=before, Y=f_y, E=E, t=t):
            return 0.0
        before = r * float(f.springback_ratio(R_i=before, Y=f_y, E=E, t=t))
    return angle / float(f.angle_ratio(R_i=before, R_f=r, t=t)) - angle


def least_radius(t: Any, *, elongation: float | None = None) -> Floats:
    """Least inside radius [mm]: by DIN 6935's table for soft steel, or by the elongation at fracture.

    `elongation` is a fraction (0.28 for 28 %); the rule by elongation is on the safe side.  Sheet
    thicker than the table has the last row's ratio of radius to thickness.
    """
    thick = np.atleast_1d(np.asarray(t, dtype=float))
    if elongation is not None:
        return np.asarray(f.radius_for_strain(t=thick, e=elongation))
    out = thick * DIN_LEAST_RADIUS[-1][1] / DIN_LEAST_RADIUS[-1][0]
    for upto, radius in reversed(DIN_LEAST_RADIUS):
        out = np.where(thick <= upto, radius, out)
    return out


def brake_force(*, R_m: float, length: float, t: float, V: float | None = None, wiping: bool = False) -> float:
    """Force [N] of a press brake over a bend `length` [mm]; die opening `V` [mm], eight thicknesses if left out."""
    opening = float(f.die_opening(t=t)) if V is None else V
    return float(f.brake_force(K_bf=0.33 if wiping else 1.33, R_m=R_m, w=length, t=t, W=opening))


def unfoldable(
    family: Family,
    *,
    elongation: float | None = None,
    least: Callable[[float, float], float] | None = None,
    V: float | None = None,
    column: int = 0,
) -> list[str]:
    """What a brake cannot make of one candidate, in a builder's words; empty when it folds.

    `least` gives the least inside radius for a radius and a thickness [mm], the rule the brace is judged by; without it
    the outer fibre is held to the `elongation` at fracture (a fraction).  `V` is the die opening [mm], eight
    thicknesses when left out.
    Checked: the outer fibre of each bend against the elongation, and each outside leg at a free
    edge against the die.  Whether the profile can be turned in the brake is not checked.
    """
    if isinstance(family, Bar | Tube | RectTube):
        return []  # bought, not folded
    said = []
    tight: dict[str, list[str]] = {}
    parts = family.flats_and_bends().parts
    for i, part in enumerate(parts):
        if isinstance(part, Bend):
            r, t = _one(part.r, column), _one(part.t, column)
            strain = float(f.outer_strain(r=r, t=t))
            beyond = elongation is not None and strain > elongation
            asked = (
                least(r, t) if least is not None else float(f.radius_for_strain(t=t, e=elongation)) if beyond else 0.0
            )
            why = f"an inside radius of {mm(r):.3g} strains the outer face {100 * strain:.0f} %"
            why += (
                f", more than the elongation of {100 * elongation:.0f} %" if beyond and elongation is not None else ""
            )
            if below(r, asked):
                tight.setdefault(f"{why}; it may crack: make the radius at least {mm(asked):.2g}", []).append(part.name)
            elif beyond:
                tight.setdefault(f"{why}: fold a strip across the grain first", []).append(part.name)
            continue
        if not isinstance(part, Flat) or part.role in {"internal", "none"}:
            continue
        neighbour = i + 1 if part.free_end == "start" else i - 1
        beside = parts[neighbour] if 0 <= neighbour < len(parts) else None
        if not isinstance(beside, Bend):
            continue
        t = _one(part.t, column)
        opening = float(f.die_opening(t=t)) if V is None else V
        shortest = float(f.least_flange(V=opening))
        leg = _one(part.length, column) + float(
            f.setback(r=_one(beside.r, column), t=t, theta=min(_one(beside.angle, column), np.pi / 2))
        )
        if below(leg, shortest):
            said.append(
                f"{part.name}: a leg of {mm(leg):.3g} slips into a die of {mm(opening):.3g}; "
                f"it must be at least {mm(shortest):.3g}, or the die narrower"
            )
    return [*(f"{', '.join(names)}: {why}" for why, names in tight.items()), *said]


def _one(value: Floats, column: int) -> float:
    return float(value[column if value.shape[-1] > 1 else 0])
