"""What the modes of a row of plug, slot or arc spot welds share: the load on one weld, and a formula made a check."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from math import hypot

from jointcalc.check.common import ADDED, CHARACTERISTIC, NOMINAL, PARTIAL, Steps, cores
from jointcalc.check.heat import beside
from jointcalc.check.row_shares import HOW, RowShares, breaks_first
from jointcalc.formula import arc_spot_aisi as aisi
from jointcalc.formula import arc_spot_en1993 as arc_en
from jointcalc.formula import plug_aisc, spot_en1993
from jointcalc.formula.branch import at_least
from jointcalc.formula.core import Formula
from jointcalc.model.plug import PlugRow
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.sentence import newtons
from jointcalc.quantity.show import percent
from jointcalc.result import Check, Method, Stated, method
from jointcalc.result.factor import omega

AISC_PLUG = method(
    "aisc360.plug-shear",
    "Weld metal on hole area (AISC)",
    plug_aisc.STRENGTH,
    per="weld",
    basis=NOMINAL,
    factor=omega(plug_aisc.SAFETY),
    covers=("weld",),
)
EN_PLUG = method(
    "en1993-1-8.plug-shear",
    "Weld metal on hole area (EN)",
    plug_aisc.EN_STRENGTH,
    per="weld",
    basis=CHARACTERISTIC,
    factor=PARTIAL,
    covers=("weld",),
)
EN_TEARING = method(
    "en1993-1-3.plug-tearing",
    "Sheet tearing round the plug",
    spot_en1993.EN,
    per="weld",
    basis=CHARACTERISTIC,
    factor=PARTIAL,
    covers=("weld",),
)
AISI_WELD = method(
    "aisi-s100.arc-spot-weld",
    "Arc spot, weld metal (AISI)",
    aisi.SHEAR,
    per="weld",
    basis=NOMINAL,
    factor=omega(aisi.OMEGA_WELD),
    covers=("weld",),
)
AISI_SHEET = method(
    "aisi-s100.arc-spot-sheet",
    "Arc spot, sheet (AISI)",
    aisi.SHEAR,
    per="weld",
    basis=NOMINAL,
    factor=omega(
        aisi.OMEGA_SHEET_STOCKY,
        aisi.OMEGA_SHEET_MIDDLE,
        aisi.OMEGA_SHEET_SLENDER,
        words="Ω = {}, {} or {} by slenderness",
    ),
    covers=("weld",),
)
AISI_SEAM_WELD = method(
    "aisi-s100.arc-seam-weld",
    "Arc seam, weld metal",
    aisi.SEAM,
    per="weld",
    basis=NOMINAL,
    factor=omega(aisi.OMEGA_SEAM),
    covers=("weld",),
)
AISI_SEAM_SHEET = method(
    "aisi-s100.arc-seam-sheet",
    "Arc seam, sheet around it",
    aisi.SEAM,
    per="weld",
    basis=NOMINAL,
    factor=omega(aisi.OMEGA_SEAM),
    covers=("weld",),
)
AISI_UPLIFT_WELD = method(
    "aisi-s100.arc-spot-uplift-weld",
    "Uplift, weld metal",
    aisi.TENSION,
    per="weld",
    basis=NOMINAL,
    factor=omega(aisi.OMEGA_TENSION_OTHER, aisi.OMEGA_TENSION_DECK, words="Ω = {}, deck {}"),
    covers=("uplift",),
)
AISI_UPLIFT_SHEET = method(
    "aisi-s100.arc-spot-uplift-sheet",
    "Uplift, sheet around it",
    aisi.TENSION,
    per="weld",
    basis=NOMINAL,
    factor=omega(aisi.OMEGA_TENSION_OTHER, aisi.OMEGA_TENSION_DECK, words="Ω = {}, deck {}"),
    covers=("uplift",),
)
AISI_BOTH = method(
    "aisi-s100.arc-spot-interaction",
    "Shear and uplift together",
    aisi.INTERACTION,
    per="weld",
    basis="sum of utilisations",
    factor=ADDED,
    covers=("both",),
)
EN_ARC_WELD = method(
    "en1993-1-3.arc-spot-weld",
    "Arc spot, weld metal (EN)",
    arc_en.CLAUSE,
    per="weld",
    basis=CHARACTERISTIC,
    factor=PARTIAL,
    covers=("weld",),
)
EN_ARC_SHEET = method(
    "en1993-1-3.arc-spot-sheet",
    "Arc spot, sheet (EN)",
    arc_en.CLAUSE,
    per="weld",
    basis=CHARACTERISTIC,
    factor=PARTIAL,
    covers=("weld",),
)


@dataclass(frozen=True, eq=False)
class PlugAction:
    """A row of welds and the service load on the one that carries most: what every rule of a row judges."""

    row: PlugRow

    @cached_property
    def shares(self) -> RowShares:
        """How the welds share the load along the row."""
        return RowShares(self.row)

    @cached_property
    def brittle(self) -> str:
        """Why the welds do not share alike before one of them breaks; empty where they do, or need not."""
        return "" if self.shares.even else breaks_first(self.row)

    @cached_property
    def _turn(self) -> tuple[float, float, float]:
        return self.shares.turned(0.0, self.row.across) if self.row.missing else (0.0, 0.0, 0.0)

    @cached_property
    def along(self) -> float:
        """Force along the row on the weld that carries most [N]."""
        elastic = bool(self.brittle) and bool(self.row.entry)
        return (
            abs(self.row.shear) * (self.shares.peak if elastic else self.shares.alike) + self._turn[0] * self._turn[2]
        )

    @cached_property
    def across(self) -> float:
        """Force across the row, in the plane of the sheets, on the weld that carries most [N]."""
        return abs(self.row.across) / self.row.standing + self._turn[0] * self._turn[1]

    @cached_property
    def uplift(self) -> float:
        """Force that lifts the upper sheet off the weld that is lifted hardest [N]."""
        row = self.row
        alike = abs(row.uplift) / row.welds
        if self.shares.even or not alike:
            return alike
        beside = min(some for some in row.stations if some)
        return max(alike, abs(row.uplift) * self.shares.lift() / beside)

    @property
    def in_plane(self) -> float:
        """Force in the plane of the sheets on the weld that carries most [N]."""
        return hypot(self.along, self.across)

    @property
    def how(self) -> Stated:
        """The force in the plane as a step of a working."""
        total = hypot(self.row.shear, self.row.across)
        told = self.shares.told
        if self.brittle and self.row.entry:
            told = f"{HOW[self.row.entry]}, the greatest share while all is elastic, for {self.brittle}"
        words = f"{newtons(total):.4g} / {self.row.standing} welds, in plane, {told}"
        return Stated("F", "N", self.in_plane, words)

    @property
    def how_uplift(self) -> Stated:
        """The uplift as a step of a working."""
        told = "equal shares" if self.shares.even else "the greatest share of a strip on springs"
        words = f"{newtons(abs(self.row.uplift)):.4g} / {self.row.standing} welds, uplift, {told}"
        return Stated("T", "N", self.uplift, words)


def strength(sheet: Sheet) -> float:
    """Tensile strength of a sheet beside a weld [MPa]: what quenching or cold work gave it goes in the arc's heat.

    Of aluminium whose heat-affected values no table has, its own: no clause of these welds judges aluminium.
    """
    return beside(sheet).f_u or sheet.f_u


def known(sheets: Iterable[Sheet]) -> Steps:
    """What is known of the sheets beside a weld, as steps of a working: without their zinc, softened by the heat."""
    found = list(sheets)
    softened = {(s.material.grade, s.f_u): beside(s).working for s in found if s.material.family != "aluminium"}
    return [*cores(found), *(step for working in softened.values() for step in working)]


def uplift_share(row: PlugRow) -> tuple[float, str]:
    """Part of the strength of a weld lifted in the middle of its sheet that counts where this one is, and why."""
    return {
        "field": (1.0, ""),
        "edge": (aisi.UPLIFT_EDGE, "half: eccentric load at the edge of a sheet"),
        "side-lap": (aisi.UPLIFT_SIDE_LAP, f"{percent(aisi.UPLIFT_SIDE_LAP)}: side lap between sheets"),
    }[row.uplift_place]


def steel_only(row: PlugRow) -> list[str]:
    """Why a rule of steel does not apply to this stack; empty when it does."""
    other = next((s.material.family for s in row.sheets if s.material.family == "aluminium"), None)
    return [f"written for steel; this stack has {other}"] if other else []


def carbon_only(row: PlugRow) -> list[str]:
    """The American clauses are for carbon steel; EN 1993-1-4 sends stainless to parts 1-3 and 1-8."""
    other = next((s.material.family for s in row.sheets if s.material.family != "steel"), None)
    return [f"written for carbon steel; this stack has {other}"] if other else []


GROWS = ("t", "t_1", "d_e", "d_s", "F_xx")
"""Inputs of the arc spot clauses that make a weld stronger: below their range they bound from above."""
ROOM = ("F_xx / F_u", "e_min / d")
"""Limits below which the weld is weaker than its clause assumes, though the clause's value does not know of it."""


def edge_inputs(formula: Formula, inputs: dict[str, float]) -> dict[str, float] | None:
    """The inputs at the edge of the range they left on the weak side; None where another limit is broken."""
    moved = dict(inputs)
    for limit in formula.limits:
        if limit.inside(inputs):
            continue  # raised to its least, a sheet may leave a branch of slenderness: the value there still bounds
        weak = limit.low is not None and not at_least(limit.value(inputs), limit.low)
        if weak and limit.expression in GROWS:
            # a weld washer that lacks (t_1) leaves the rest as it is: with it the weld would hold what is computed
            moved[limit.expression] = max(moved[limit.expression], float(limit.low or 0.0))
        elif not (weak and limit.expression in ROOM):
            return None
    return moved


def judged_or_bound(
    method: Method, formula: Formula, inputs: dict[str, float], *, demand: float, required: float | None = None,
    load_factor: float, before: Steps,
    after: Steps, reasons: Iterable[str] = (), where: str = "", note: str = "", share: float = 1.0,
    edge: dict[str, float] | None = None, weak: Iterable[str] = (), covers: Iterable[str] | None = None,
) -> Check:  # fmt: skip
    """One formula turned into a check, or `outside` with every reason.

    `reasons` say that the method is for something else; `weak` that the weld is weaker than it assumes.  With inputs at
    the `edge` of its range, given or found, a method left on the weak side bounds the weld from above.  `required` is
    for a method whose clause leaves a choice.
    """
    other, left = list(reasons), [*weak, *formula.outside(**inputs)]
    if other:
        return method.outside(list(dict.fromkeys([*other, *left])), demand=demand, trace=[*before, *after], where=where)
    if left:
        at = edge if edge is not None else edge_inputs(formula, inputs)
        told = list(dict.fromkeys(left))
        if at is None:
            return method.outside(told, demand=demand, trace=[*before, *after], where=where)
        bound = formula.evaluate(**at)
        return method.at_most(
            told,
            capacity=share * float(bound.value),
            demand=demand,
            required=required,
            load_factor=load_factor,
            trace=[*before, bound, *after],
            where=where,
            covers=covers,
        )
    evaluation = formula.evaluate(**inputs)
    return method.judge(
        capacity=share * float(evaluation.value),
        demand=demand,
        required=required,
        load_factor=load_factor,
        trace=[*before, evaluation, *after],
        where=where,
        note=note,
        covers=covers,
    )
