"""What the modes of a spot seam share: the load on one spot, the strength of an interface, the outcome of a range."""

from __future__ import annotations

from collections.abc import Iterable
from math import hypot
from typing import Any

from jointcalc.check.common import LIMIT
from jointcalc.formula import peel, spot_aisi, spot_en1993
from jointcalc.formula.branch import above, at_least, below
from jointcalc.formula.core import Evaluation, Formula, Limit, Source, Status
from jointcalc.formula.safety import GAMMA_M0, GAMMA_M_OTHER
from jointcalc.model.seam import SpotSeam
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.sentence import Measure, mm, newtons
from jointcalc.result import DETAILING, Check, Method, Stated, method
from jointcalc.result.factor import omega, partial
from jointcalc.tables.store import load

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
    factor=partial("γ_M0", GAMMA_M0, GAMMA_M_OTHER),
    covers=("fold",),
)


def _table_source(name: str, status: Status = "from memory") -> Source:
    record = load(name).provenance
    return Source(record.citation, "", status)


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
    Source("ISO 14373; guideline on weld rims", "1.25 d; rim 3 mm", "from memory", "the 3 mm rim read"),
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


class Shares:
    """Service load on the spot that carries most: equal shares of the seam's load, and what a moment adds at a corner.

    Peel comes on the row next to the bend: the rows behind it carry none.
    """

    def __init__(self, seam: SpotSeam) -> None:
        n, spacing = seam.spots, seam.row_spacing or 0.0
        pitch = seam.actual_pitch if seam.along > 1 else 0.0
        moment = abs(seam.moment)
        # second moment of the spots about their middle, and the corner's distance from it
        squares = (
            seam.rows * pitch**2 * seam.along * (seam.along**2 - 1)
            + seam.along * spacing**2 * seam.rows * (seam.rows**2 - 1)
        ) / 12
        x, y = pitch * (seam.along - 1) / 2, spacing * (seam.rows - 1) / 2
        turn = moment / squares if squares else 0.0
        self.unturned = bool(moment and not squares)
        self.along = abs(seam.shear) / n + turn * y
        self.across = abs(seam.across) / n + turn * x
        self.peel = abs(seam.peel) / seam.along
        self.in_plane = hypot(self.along, self.across)
        self.largest = max(seam.shares, default=1.0)
        # on the sheet: the pull across, and the bending in its plane at the end of the seam
        self.pull = abs(seam.across) + 6 * moment / seam.length
        self.turned = f", and {Measure(moment, unit='N·mm')} on {n} spots at the corner" if turn else ""

    def trace(self, seam: SpotSeam, share: float, kind: str = "in-plane") -> Stated:
        """The share of one spot, as a step of a working; `share` is the part that this interface passes on."""
        part = "" if share == 1 else f"{share:g} x "
        total = hypot(seam.shear, seam.across)
        how = f"{part}{newtons(total)} / {seam.spots} spots, {kind}, equal shares{self.turned}"
        return Stated("F", "N", share * self.in_plane, how)


def tensile(sheet: Sheet) -> float:
    """Tensile strength beside a spot [MPa]: of hardened sheet what the ring round the spot keeps."""
    return min(sheet.f_u, spot_en1993.HARDENED)


def interface_pair(a: Sheet, b: Sheet) -> tuple[float, float, float]:
    """(thinner, thicker, weaker tensile strength) of an interface; the weaker grade is taken for both."""
    return min(a.t, b.t), max(a.t, b.t), min(tensile(a), tensile(b))


def out_of_range(formulas: Iterable[Formula], inputs: dict[str, float]) -> list[str]:
    """Why any of these formulas does not reach these inputs, each reason once."""
    found: dict[str, None] = {}
    for formula in formulas:
        found.update(dict.fromkeys(formula.outside(**inputs)))
    return list(found)


def judged_or_bound(how: Method, reasons: Iterable[str], *, note: str = "", **told: Any) -> Check:
    """The check, or with reasons the bound from above that a method left on its weak side still is."""
    stop = list(dict.fromkeys(reasons))
    return how.at_most(stop, **told) if stop else how.judge(note=note, **told)


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
    return seam.along > 1 and above(seam.actual_pitch, WIDEST * seam.d)
