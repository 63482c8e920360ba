"""What the modes of a spot seam share: the load on one spot, the strength of an interface, the outcome of a range."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from math import hypot
from typing import Any

from jointcalc.check.common import LIMIT, YIELDS
from jointcalc.check.row_shares import HOW, RowShares, breaks_first
from jointcalc.formula import peel, spot_aisi, spot_en1993, spot_layout
from jointcalc.formula.branch import above, at_least, below
from jointcalc.formula.core import Evaluation, Formula, Limit, Source
from jointcalc.model.seam import SpotSeam
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.sentence import Measure, mm, newtons
from jointcalc.result import DETAILING, Check, Method, Stated, method
from jointcalc.result.factor import omega

EN = spot_en1993.EN
MEAN = "class mean"
FLOOR = "acceptance floor"

IN_PLANE = ("along", "across")
"""What a method of the spot in the plane of the sheets covers."""
AISI_SPOT = method(
    "aisi-s100.spot-shear",
    "Resistance spot",
    spot_aisi.S100,
    per="spot",
    basis=MEAN,
    factor=omega(spot_aisi.OMEGA),
    covers=IN_PLANE,
)
PEEL_FOLD = method(
    "limit-analysis.peel-fold",
    "Flange folds open beside the row",
    peel.FOLD,
    per="spot",
    basis="plastic limit of the sheet",
    factor=YIELDS,
    covers=("fold",),
)


OPTIMUM_CHART = Source("spot-weld handbook, optimum-conditions chart", "strength and fused zone by thickness", "read")

PITCH_MIN = method(
    "detail.pitch-min",
    "Pitch against shunting",
    OPTIMUM_CHART,
    per="mm",
    basis=DETAILING,
    bound="least",
    factor=LIMIT,
)
ROW_MIN = method(
    "detail.row-spacing",
    "Row spacing against shunting",
    OPTIMUM_CHART,
    per="mm",
    basis=DETAILING,
    bound="least",
    factor=LIMIT,
)
EDGE = method(
    "detail.edge",
    "Edge distance",
    spot_layout.EDGE,
    per="mm",
    basis=DETAILING,
    bound="least",
    factor=LIMIT,
)
END = method(
    "detail.end",
    "End distance",
    EDGE.source,
    per="mm",
    basis=DETAILING,
    bound="least",
    factor=LIMIT,
)

WIDEST = spot_en1993.WIDEST
"""Pitch over spot diameter up to which EN 1993-1-3 covers a seam, along the load."""


@dataclass(frozen=True, eq=False)
class SeamAction:
    """A seam and the service load on the spot that carries most: what every rule of a seam judges.

    Its share of the seam's load (`RowShares`), and what a moment adds at a corner.  Peel comes on the row next to the
    bend: the rows behind it carry none.
    """

    seam: SpotSeam

    @cached_property
    def shares(self) -> RowShares:
        """How the spots share the load along the seam."""
        return RowShares(self.seam)

    @cached_property
    def brittle(self) -> str:
        """Why the spots do not share alike before one of them breaks; empty where they do, or need not."""
        return "" if self.shares.even else breaks_first(self.seam)

    @cached_property
    def part(self) -> float:
        """Part of the shear on the spot that carries most, at its strength."""
        return self.shares.peak if self.brittle and self.shares.entry else self.shares.alike

    @cached_property
    def _turn(self) -> tuple[float, float, float]:
        """(force per distance from the middle of the spots [N/mm], distance of a corner along and across [mm])."""
        seam, spacing = self.seam, self.seam.row_spacing or 0.0
        pitch = seam.actual_pitch if seam.along > 1 else 0.0
        if seam.missing:
            return self.shares.turned(seam.moment, seam.across)
        # second moment of the spots about their middle, and the corner's distance from it
        squares = (
            seam.rows * pitch**2 * seam.along * (seam.along**2 - 1)
            + seam.along * spacing**2 * seam.rows * (seam.rows**2 - 1)
        ) / 12
        turn = abs(seam.moment) / squares if squares else 0.0
        return turn, pitch * (seam.along - 1) / 2, spacing * (seam.rows - 1) / 2

    @property
    def unturned(self) -> bool:
        """Whether a moment acts that the spots cannot hold: they are one."""
        turning = self.seam.moment or (self.seam.missing and (self.seam.across or self.seam.rows > 1))
        return bool(turning) and self.seam.standing == 1

    # cached: every method asks for these, at every interface
    @cached_property
    def along(self) -> float:
        """Force along the seam on the spot that carries most [N]."""
        return self.along_by(self.part)

    def along_by(self, part: float) -> float:
        """The same where the spot carries that part of the shear [N]."""
        turn, _, y = self._turn
        return abs(self.seam.shear) * part + turn * y

    @cached_property
    def across(self) -> float:
        """Force across the seam, in the plane of the sheets, on the spot that carries most [N]."""
        turn, x, _ = self._turn
        return abs(self.seam.across) / self.seam.standing + turn * x

    @cached_property
    def peel(self) -> float:
        """Force across the sheets on the spot of the row next to the bend that is pulled hardest [N]."""
        alike = abs(self.seam.peel) / self.seam.along
        if self.shares.even or not alike:
            return alike
        return max(alike, self.seam.lift * self.shares.lift())

    @cached_property
    def in_plane(self) -> float:
        """Force in the plane of the sheets on the spot that carries most [N]."""
        return hypot(self.along, self.across)

    @cached_property
    def largest(self) -> float:
        """The largest part of the load that an interface passes on."""
        return max(self.seam.shares, default=1.0)

    @property
    def pull(self) -> float:
        """What the sheet carries across the seam, with the bending in its plane at the end of the seam [N]."""
        return abs(self.seam.across) + 6 * abs(self.seam.moment) / self.seam.length

    def trace(self, part: float, kind: str = "in-plane") -> Stated:
        """The share of one spot, as a step of a working; `part` is what this interface passes on."""
        if (part, kind) not in self._shares:
            self._shares[part, kind] = self._share(part, kind)
        return self._shares[part, kind]

    @cached_property
    def _shares(self) -> dict[tuple[float, str], Stated]:
        return {}

    def _share(self, part: float, kind: str) -> Stated:
        seam = self.seam
        times = "" if part == 1 else f"{part:g} x "
        moment = abs(seam.moment)
        turned = f", and {Measure(moment, unit='N·mm')} on {seam.spots} spots at the corner" if self._turn[0] else ""
        total = hypot(seam.shear, seam.across)
        told = self.shares.told
        if self.brittle and self.shares.entry:
            told = f"{HOW[self.shares.entry]}, the greatest share while all is elastic, for {self.brittle}"
        how = f"{times}{newtons(total)} / {seam.standing} spots, {kind}, {told}{turned}"
        return Stated("F", "N", part * self.in_plane, how)


def tensile(sheet: Sheet) -> float:
    """Tensile strength beside a spot [MPa]: of hardened or hard-rolled sheet what the ring round the spot keeps."""
    return min(sheet.f_u, spot_en1993.HARDENED, rolled_hard(sheet))


def rolled_hard(sheet: Sheet) -> float:
    """The most that a certificate counts for beside a spot [MPa]: far above its grade it tells of cold work or
    quenching, or of another grade; which of them, no number says, and heat takes all of it.
    """
    return sheet.cold_worked_from


def interface_pair(a: Sheet, b: Sheet) -> tuple[float, float, float]:
    """(thinner, thicker, weaker tensile strength) of an interface; the weaker grade is taken for both."""
    return min(a.t, b.t), max(a.t, b.t), min(tensile(a), tensile(b))


def out_of_range(formulas: Iterable[Formula], inputs: dict[str, float]) -> list[str]:
    """Why any of these formulas does not reach these inputs, each reason once."""
    found: dict[str, None] = {}
    for formula in formulas:
        found.update(dict.fromkeys(formula.outside(**inputs)))
    return list(found)


def judged_or_bound(method: Method, reasons: Iterable[str], *, note: str = "", **numbers: Any) -> Check:
    """The check, or with reasons the bound from above that a method left on its weak side still is."""
    stop = list(dict.fromkeys(reasons))
    return method.at_most(stop, **numbers) if stop else method.judge(note=note, **numbers)


def not_carbon_steel(seam: SpotSeam) -> str:
    """Why a rule of carbon steel does not apply to this stack; empty when it does."""
    other = next((s.material.family for s in seam.sheets if s.material.family != "steel"), None)
    return "" if other is None else f"written for carbon steel; this stack has {other}"


def limits_below(limits: Iterable[Limit], inputs: dict[str, float]) -> list[str]:
    """Reasons of the limits whose low end is not reached."""
    return [x.reason(inputs) for x in limits if x.low is not None and below(x.value(inputs), x.low)]


def limits_beyond(limits: Iterable[Limit], inputs: dict[str, float]) -> list[str]:
    """Reasons of the limits whose high end is passed."""
    return [x.reason(inputs) for x in limits if x.high is not None and above(x.value(inputs), x.high)]


def size_needed(diameter: Evaluation | float, seam: SpotSeam, what: str, verb: str = "assumes") -> list[str]:
    """Why the spot is smaller than a method assumes; empty when it is not."""
    need = diameter if isinstance(diameter, float) else float(diameter.value)
    if at_least(seam.d, need):
        return []
    return [f"{what} {verb} a spot of at least {mm(need):.3g}, this one is {mm(seam.d):.3g}"]


def widely_spaced(seam: SpotSeam) -> bool:
    """Whether the spots stand farther apart than the range of EN 1993-1-3."""
    return seam.along > 1 and above(seam.widest, WIDEST * seam.d)
