"""How the welds of a row share its load: alike at the plastic limit, by their give while all is elastic.

Published strengths of spots and plugs are judged by equal shares: the sheet round an overloaded weld yields, the weld
gives way and its neighbours take over.  That wants room to move.  How far the end one must slip until so many share
alike follows from the stretch of the sheets between them; where a weld has not that much in it, fewer count.  A weld
that breaks before the sheet yields, and a crack under load changes, know no such help: they are judged by the greatest
share while all is elastic.  So is whatever lifts the sheets off at an end, for peel tears from weld to weld.

A lap pulled through is shared the more evenly the more alike its two sheets are: the thicker one made thinner may ease
its end.  That is mechanics; the strip it leaves is judged for itself.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import pairwise
from math import floor, inf
from typing import Any

import numpy as np
import numpy.typing as npt

from jointcalc.check.common import CHARACTERISTIC, INFORMATION, YIELDS, Steps, gamma_M0
from jointcalc.check.peel import NO_YIELD
from jointcalc.formula import lap, peel, spot_en1993
from jointcalc.formula import row_sharing as rs
from jointcalc.formula.branch import above, at_most, below
from jointcalc.model.row import WeldRow
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.sentence import mm, newtons
from jointcalc.result import Check, Stated, caution, method
from jointcalc.result.cautions import Caution
from jointcalc.statics.row import Array, lifted, shares

SHARING = method(
    "shear-lag.row",
    "End of the row while all is elastic",
    rs.LAP,
    per="seam",
    bound="information",
    basis="elastic load sharing",
    factor=INFORMATION,
)
EN_YIELD_STRIP = method(
    "en1993-1-3.yield-strip",
    "Yield of the sheet that brings the load to the end",
    lap.YIELD,
    per="seam",
    basis=CHARACTERISTIC,
    factor=YIELDS,
)
SLIP = 0.5
"""Slip a ductile weld has in it, over the thickness of the thinner sheet: coupons of mild steel reach their greatest
load at about the sheet's thickness (from memory), of which half is counted."""
ENDS_A_STRAP = 15.0
"""Length of a row over the width of its lap up to which it may be the end of a strap: common practice, no source."""
TIMES = 4.0
"""Times the service load at which the shares must still be alike: no method here asks for more (3 / (1 - 0.2))."""

HOW = {
    "": "not said how the load comes in",
    "along": "the load flows in along the row",
    "through": "in at one end of the one sheet, out at the other end of the other",
    "one-end": "in at one end",
    "both-ends": "in at both ends",
}


LONG = 8
"""Welds beyond which a lifted strip no longer feels where the row ends: each takes a quarter of the one before."""


@lru_cache(maxsize=512)
def end_lifted(spring: float, bending: float, pitch: float, before: float) -> float:
    """Part of a lift at the end of a long strip that its first weld takes, `before` [mm] from that end."""
    at = before + pitch * np.arange(LONG, dtype=np.float64)
    length = float(at[-1]) + pitch / 2
    stiffness = np.full(LONG, spring)
    return float(lifted(stiffness=stiffness, at=at, length=length, bending=bending, ends=(1.0, 0.0), flow=0.0).max())


@lru_cache(maxsize=512)
def edge_lifted(spring: float, bending: float, pitch: float, before: float) -> float:
    """What the first weld takes of an even lift over the share of one pitch, `before` [mm] from the strip's end."""
    at = before + pitch * np.arange(LONG, dtype=np.float64)
    length = float(at[-1]) + pitch / 2
    stiffness = np.full(LONG, spring)
    force = lifted(stiffness=stiffness, at=at, length=length, bending=bending, ends=(0.0, 0.0), flow=1.0 / pitch)
    return max(float(force[0]) - 1.0, 0.0)


@lru_cache(maxsize=512)
def gap_lifted(spring: float, bending: float, pitch: float, wide: int) -> float:
    """What a weld beside a gap `wide` pitches wide takes of an even lift over the share of one pitch."""
    if wide == 1:
        return 0.0
    stiffness = np.full(2 * LONG + wide - 1, spring)
    stiffness[LONG : LONG + wide - 1] = 0.0
    at = pitch * (0.5 + np.arange(len(stiffness), dtype=np.float64))
    force = lifted(
        stiffness=stiffness, at=at, length=pitch * len(stiffness), bending=bending, ends=(0.0, 0.0), flow=1.0 / pitch
    )
    return max(float(force.max()) - 1.0, 0.0)


def sheets_of(row: WeldRow) -> tuple[Sheet, ...]:
    """The sheets of a row, from one outside to the other."""
    return row.sheets  # type: ignore[attr-defined,no-any-return]  # every kind of row has them


def breaks_first(row: WeldRow) -> str:
    """Why welds of these sheets have no slip to rely on; empty for ductile ones.

    By the condition of EN 1993-1-3 Table 8.5 (F_v at least 1.25 times the tearing of the sheet), which says it of steel
    up to 550 MPa; beyond, of 4130 and of aluminium nothing is known that would allow it.
    """
    sheets, d = sheets_of(row), row.fused
    metal = next((s.material.family for s in sheets if s.material.family not in ("steel", "stainless")), None)
    if metal is not None:
        return f"{metal} gives way little before it breaks"
    if any(s.material.grade.startswith("413") for s in sheets):
        return "welds in 4130 are brittle"
    if any(above(s.f_u, spot_en1993.HARDENED) for s in sheets):
        return "welds in hardened sheet are brittle"
    for a, b in ((sheets[n], sheets[n + 1]) for n in row.joints):
        inputs = {"t": min(a.t, b.t), "t_1": max(a.t, b.t), "d_s": d, "f_u": min(a.f_u, b.f_u)}
        tears = min(float(f(**{n: inputs[n] for n in f.parameters}))
                    for f in spot_en1993.tearing_bounds(t=inputs["t"], t_1=inputs["t_1"]))  # fmt: skip
        if below(float(spot_en1993.SPOT_SHEAR(d_s=d, f_u=inputs["f_u"])), spot_en1993.DUCTILE * tears):
            return "the weld shears before the sheet tears"
    return ""


@dataclass(frozen=True)
class Strips:
    """Two strips of sheet joined by welds of diameter `d`: modulus, width and thickness of each; `R` round a weld."""

    E_1: float
    b_1: float
    t_1: float
    E_2: float
    b_2: float
    t_2: float
    d: float
    R: float

    @cached_property
    def give(self) -> float:
        """Strain of both together per load [1/N]."""
        return float(rs.STRIP_GIVE(E_1=self.E_1, b_1=self.b_1, t_1=self.t_1, E_2=self.E_2, b_2=self.b_2, t_2=self.t_2))

    @property
    def of_weld(self) -> float:
        """How much one weld gives way, tilted by the half thickness of each sheet [mm/N]."""
        return of_weld(self.E_1, self.t_1, self.d, self.R) + of_weld(self.E_2, self.t_2, self.d, self.R)

    def working(self) -> Steps:
        """The same, step by step."""
        steps: Steps = [rs.STRIP_GIVE.evaluate(**{n: getattr(self, n) for n in rs.STRIP_GIVE.parameters})]
        for E, t in dict.fromkeys(((self.E_1, self.t_1), (self.E_2, self.t_2))):
            told = {"E": E, "t": t, "d": self.d, "R": self.R, "nu": rs.NU}
            steps += [rs.WELD_GIVE_IN_PLANE.evaluate(**told), rs.WELD_TILT.evaluate(**told)]
        return [*steps, Stated("C", "mm/N", self.of_weld, "both sheets, tilted by the half thickness of each")]


@lru_cache(maxsize=256)
def of_weld(E: float, t: float, d: float, R: float) -> float:
    """What the sheet round one weld gives way under the weld's share, on one side [mm/N]."""
    tilt = float(rs.WELD_TILT(E=E, t=t, d=d, R=R, nu=rs.NU))
    return float(rs.WELD_GIVE_IN_PLANE(E=E, t=t, d=d, R=R, nu=rs.NU)) + (t / 2) ** 2 * tilt


@dataclass(frozen=True, eq=False)
class RowShares:
    """How the welds of a row share its load."""

    row: WeldRow

    @cached_property
    def sheets(self) -> tuple[Sheet, ...]:
        """The sheets of the row."""
        return sheets_of(self.row)

    @cached_property
    def entry(self) -> str:
        """How the load comes in, as far as it is known."""
        return self.row.entry

    @cached_property
    def even(self) -> bool:
        """Whether nothing tells one weld from another: none is missing, and no end is said to take the load."""
        return not (self.row.missing or self.row.ends)

    def _width(self, n: int) -> float:
        strip = self.row.strip or (self.row.least_strip,)
        return strip[n] if len(strip) > 1 else strip[0]

    def _strips(self, n: int) -> Strips:
        """The two strips of interface `n`, and how far round a weld they are taken as held."""
        a, b = self.sheets[n], self.sheets[n + 1]
        widths = self._width(n), self._width(n + 1)
        R = min(self.row.actual_pitch if self.row.along > 1 else self.row.length, *widths) / 2
        return Strips(a.material.E, widths[0], a.t, b.material.E, widths[1], b.t, self.row.size, R)

    def _first(self, strips: Strips) -> float:
        """Part of the load that strains the strips at the first end, the harder way round."""
        if self.entry == "through":
            one = 1 / (strips.E_1 * strips.b_1 * strips.t_1) / strips.give
            return max(one, 1.0 - one)  # whichever of the two brings the load
        return 0.5 if self.entry == "both-ends" else 1.0

    def parts(self, n: int, standing: Array, *, backwards: bool = False) -> Array:
        """Part of the load on each place along interface `n` (..., places), `standing` (..., places) welds at each.

        `backwards` lets the load come in at the other end.
        """
        strips, places = self._strips(n), self.row.along
        if self.entry == "along":
            push = np.full(places, 1.0 / places)
        else:
            push = np.zeros(places)
            push[0] = self._first(strips)
            push[-1] += 1.0 - push[0]
        gaps = np.full(max(places - 1, 0), self.row.actual_pitch)
        push = push[::-1] if backwards else push
        return shares(stiffness=standing / strips.of_weld, gaps=gaps, give=strips.give, push=push)

    def each(self, standing: Array) -> Array:
        """Greatest part of the load on one weld at each place while all is elastic, of any interface and way round."""
        ways = [self.parts(n, standing) for n in self.row.joints]
        if self.entry in ("", "through"):
            ways += [self.parts(n, standing, backwards=True) for n in self.row.joints]
        return np.asarray(np.max(ways, axis=0) / np.maximum(standing, 1.0))

    @cached_property
    def _elastic(self) -> tuple[float, int]:
        """(greatest part of the load on one weld, the place it stands at)."""
        row = self.row
        if row.along == 1:
            return 1.0 / row.standing, 0
        if row.missing:
            each = self.each(np.array(row.stations, dtype=np.float64))
            return float(each.max()), int(each.argmax())
        if self.entry == "along":
            return 1.0 / row.welds, 0
        return max(self._end(n) for n in self.row.joints), 0

    def _end(self, n: int, of_weld: float | None = None) -> float:
        """Part of the load on the first weld of a whole row, whose welds give way by that much [mm/N]."""
        strips, row = self._strips(n), self.row
        phi = rs.DECAY(p=row.actual_pitch, g=strips.give, C=(of_weld or strips.of_weld) / row.rows)
        return float(rs.SHARE(phi=phi, n=row.along, i=1, r=self._first(strips))) / row.rows

    def _working(self) -> Steps:
        """How the greatest share came about, step by step."""
        row = self.row
        n = max(self.row.joints, key=self._end)
        strips = self._strips(n)
        steps = strips.working()
        if not row.missing and self.entry != "along":
            phi = rs.DECAY.evaluate(p=row.actual_pitch, g=strips.give, C=strips.of_weld / row.rows)
            steps += [phi, rs.SHARE.evaluate(phi=float(phi.value), n=row.along, i=1, r=self._first(strips))]
        return steps

    @property
    def peak(self) -> float:
        """Greatest part of the load on one weld while all is elastic; not said how it comes in, as at one end."""
        return self._elastic[0]

    @property
    def at(self) -> float:
        """Place of that weld along the row [mm]."""
        return self.row.actual_end + self._elastic[1] * self.row.actual_pitch

    @cached_property
    def sharing(self) -> int:
        """Places along the row that share the load alike at the plastic limit, by the slip a weld has in it."""
        row = self.row
        n = sum(1 for some in row.stations if some)
        if not row.ends or n == 1:
            return n
        found = n
        for joint in self.row.joints:
            strips = self._strips(joint)
            hardest = self._first(strips)
            load = TIMES * hardest * self.shear
            step = float(rs.SHARED_SLIP(P=load, p=row.actual_pitch, g=strips.give, m=2.0))
            # a gap may stand where all of the load still passes
            wider = load * strips.give * row.actual_pitch * (row.along - n)
            room = max(SLIP * min(strips.t_1, strips.t_2) - wider, 0.0)
            # of a lap pulled through, what the other end takes is left out: it falls where the thicker sheet is thinned
            ends = 2 if self.entry == "both-ends" else 1
            found = min(found, max(1, floor(ends * (1.0 + room / step) + 1e-9))) if step > 0 else found
        return found

    @property
    def together(self) -> int:
        """Welds that share the load alike at the plastic limit."""
        row = self.row
        return self.sharing * min(some for some in row.stations if some) if row.ends else row.standing

    @cached_property
    def alike(self) -> float:
        """Part of the load on one weld at the plastic limit."""
        row = self.row
        if not row.ends:
            return 1.0 / row.standing
        return min(self.peak, 1.0 / self.together)

    @property
    def told(self) -> str:
        """How the load is shared at the plastic limit, in words."""
        row = self.row
        if not row.ends:
            return "equal shares"
        n = sum(1 for some in row.stations if some)
        of = f"alike by {self.sharing} of {n} places" if self.alike < self.peak else "as while all is elastic"
        return f"{HOW[self.entry]}, shared {of}: {self.alike:.3g} of it on one"

    def lift(self) -> float:
        """Greatest part of a load that lifts the sheets off, on one place along the row."""
        return float(self.lifts(np.array(self.row.stations, dtype=np.float64)))

    def lifts(self, standing: Array) -> Array:
        """The same (...,) of `standing` (..., places) welds at each place: a beam on springs.

        The strip is flat sheet from the bend to its edge, bent along the row; its stiffness and that of the flange
        at a weld go with the same modulus and thickness, which drop out.  Of a load at an end it counts how far the
        first that stands is from it, of one all along the gaps on both sides of each: added up as if each were alone
        in a long row, so that no further weld gone makes it less.
        """
        row = self.row
        arm, edge = row.lever
        width = float(peel.EFFECTIVE_WIDTH(b=row.actual_pitch, a=arm, e=edge))
        spring = float(rs.LIFT_STIFFNESS(E=1.0, t=1.0, b=width, a=arm, nu=rs.NU))
        strip = (spring, (arm + edge) / 12.0, row.actual_pitch)
        there = np.asarray(standing > 0).reshape(-1, row.along)
        found = [self._lifted(strip, np.flatnonzero(one)) for one in there]
        return np.array(found).reshape(np.shape(standing)[:-1])

    def _lifted(self, strip: tuple[float, float, float], at: npt.NDArray[np.int64]) -> float:
        row, pitch = self.row, self.row.actual_pitch
        if len(at) < 2:
            return 1.0
        before = row.actual_end + pitch * float(at[0])
        behind = row.actual_end + pitch * float(row.along - 1 - at[-1])
        if row.ends:
            if self.entry == "both-ends":
                return max(0.5 * end_lifted(*strip, before), 0.5 * end_lifted(*strip, behind))
            return end_lifted(*strip, before)
        more = [
            edge_lifted(*strip, before),
            *(gap_lifted(*strip, int(n)) for n in np.diff(at)),
            edge_lifted(*strip, behind),
        ]
        return max(1.0 + a + b for a, b in pairwise(more)) * pitch / row.length

    def turned(self, moment: float, across: float) -> tuple[float, float, float]:
        """(force per distance [N/mm], farthest weld along and across [mm]) of the welds that stand.

        The load goes through the middle of the whole row and turns them about their own.
        """
        row = self.row
        pitch, spacing = row.actual_pitch if row.along > 1 else 0.0, row.row_spacing or 0.0
        gone = {n - 1 for n in row.missing}
        stand = [divmod(n, row.along) for n in range(row.welds) if n not in gone]
        xs = [(k - (row.along - 1) / 2) * pitch for _, k in stand]
        ys = [(r - (row.rows - 1) / 2) * spacing for r, _ in stand]
        x, y = sum(xs) / len(xs), sum(ys) / len(ys)
        squares = sum((a - x) ** 2 + (b - y) ** 2 for a, b in zip(xs, ys))
        # each that is gone moves the middle away from itself: what one on the other side gives back is not counted
        lost = [divmod(n, row.along) for n in gone]
        off_x = sum(abs(k - (row.along - 1) / 2) for _, k in lost) * pitch / len(xs)
        off_y = sum(abs(r - (row.rows - 1) / 2) for r, _ in lost) * spacing / len(ys)
        turning = abs(moment) + self.shear * off_y + abs(across) * off_x
        return turning / squares if squares else 0.0, max(abs(a - x) for a in xs), max(abs(b - y) for b in ys)

    @property
    def shear(self) -> float:
        """Load along the row [N]."""
        return abs(self.row.shear)  # type: ignore[attr-defined,no-any-return]  # every row has one

    def strip_yields(self) -> list[Check]:
        """The strips through which the load comes in at an end and goes out: each carries all of it there."""
        row = self.row
        if not row.ends or not self.shear:
            return []
        demand = self.shear / 2 if self.entry == "both-ends" else self.shear
        every = [
            lap.YIELD_ACROSS.evaluate(t=s.t, f_y=s.f_y, L=self._width(n))
            for n, s in enumerate(self.sheets)
            if s.has_yield
        ]
        partial, metal = gamma_M0(self.sheets)
        if not every:
            return [EN_YIELD_STRIP.outside(NO_YIELD, demand=demand)]
        least = min(every, key=lambda e: float(e.value))
        given: dict[str, Any] = {
            "capacity": float(least.value), "demand": demand, "required": partial * row.load_factor,
            "trace": [least],
        }  # fmt: skip
        if len(every) < len(self.sheets):
            return [EN_YIELD_STRIP.at_most(NO_YIELD, **given)]
        of_lap = "" if row.strip else "the width of sheet that brings the load is not given ('strip'): the lap is taken"
        return [EN_YIELD_STRIP.judge(note="; ".join(filter(None, (of_lap, metal))), **given)]

    def narrow(self) -> list[Caution]:
        """That a strap no wider than the lap would not carry the load, where nobody says how it comes in."""
        row = self.row
        if self.entry or not self.shear:
            return []
        partial, _ = gamma_M0(self.sheets)
        carried = [
            (float(lap.YIELD_ACROSS(t=s.t, f_y=s.f_y, L=self._width(n))) / (partial * row.load_factor), self._width(n))
            for n, s in enumerate(self.sheets)
            if s.has_yield
        ]
        most, width = min(carried, default=(inf, 0.0))
        if at_most(self.shear, most) or above(row.length, ENDS_A_STRAP * width):
            return []
        return [caution("strap-of-lap", width=f"{mm(width):.3g}", most=f"{newtons(most):.4g}")]

    def check(self) -> list[Check]:
        """How the end of the row stands out while all is elastic; empty where nothing does."""
        if self.even or not self.shear:
            return []
        peak, place = self._elastic
        steps = self._working()
        load = self.shear
        where = f"the one {mm(self.row.actual_end + place * self.row.actual_pitch):.4g} from the end"
        soft = max(self._end(n, float(rs.ARC_SPOT_GIVE(t=min(s.t for s in self.sheets)))) for n in self.row.joints)
        less = (
            f"; as soft as an arc spot (from memory) {soft:.3g}"
            if soft < peak and self.row.ends and not self.row.missing
            else ""
        )
        note = (
            f"{HOW[self.entry]}: {where} takes {peak:.3g} of the load while all is elastic, "
            f"{peak * self.row.standing:.3g} times an equal share; an upper bound, for the weld is taken as rigid in "
            f"its sheets{less}"
        )
        return [SHARING.info(demand=peak * load, trace=[*steps, Stated("F_max", "N", peak * load, where)], note=note)]
