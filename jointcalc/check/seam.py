"""A spot-welded seam, judged by every applicable published method side by side.

What the methods are differs, so what they ask for differs too:

- EN 1993-1-3 gives characteristic resistances: required gamma_M2 x gamma_F.  Where a spot would shear before the sheet
  tears, its shear is asked for the 1.25 of the ductility condition on top, down to 3.5 sqrt(t).
- AISI S100 and the older AISI table give nominal (class mean) strengths with their own Omega.
- The automotive standard gives acceptance floors for a 4 sqrt(t) weld: the scatter is in the floor
  already, so gamma_M2 x gamma_F is asked for (our choice, as for a characteristic value).
- Handbook charts give a guaranteed minimum (the builder's own factor) or a class mean with a printed
  spread (the builder's factor divided by 1 - spread).
- The military handbook gives ultimate design allowables: 1.5 on ultimate and 1.15 for a fitting.
- The pull-out model is a mean: the builder's own factor; it covers no load by itself.
- A peeled flange folds open at its plastic limit (derivation): required gamma_M0 x gamma_F.

A method left on its weak side (a spot smaller, a sheet thinner, an edge nearer than it assumes) bounds from above what
such a spot carries: `over` when even that is too little, else `outside`.  Left on its strong side by a greatest pitch,
edge or thickness that only ends a benefit, it is used at that greatest value.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import hypot, inf
from typing import Any

from jointcalc.check.common import CHARACTERISTIC, OWN, PARTIAL, Steps, cores, handbook_cautions
from jointcalc.check.peel import NO_ARM, NO_YIELD, Flange, gamma_M0
from jointcalc.formula import (
    arc_spot_aisi,
    column,
    lap,
    peel,
    spot_aisi,
    spot_d8_1,
    spot_en1993,
    spot_models,
    spot_size,
)
from jointcalc.formula.branch import above, at_least, at_most, below
from jointcalc.formula.core import Evaluation, Formula, Limit, Source, Status
from jointcalc.model.fields import PURPOSES
from jointcalc.model.seam import SpotSeam
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.show import figures
from jointcalc.result import (
    DETAILING,
    GAMMA_M2,
    Amount,
    Check,
    Looked,
    Method,
    Need,
    Result,
    Stated,
    caution,
    collect,
    method,
    uncovered,
)
from jointcalc.result.cautions import Caution
from jointcalc.tables.store import OutsideTable, load

KSI = 6.894757293168361

EN = spot_en1993.EN
MEAN = "class mean"
FLOOR = "acceptance floor"
GUARANTEED = "handbook minimum"
ALLOWABLE = "design allowable, ultimate"

IN_PLANE = ("along", "across")
"""What a method of the spot in the plane of the sheets covers."""

EN_TEARING = method("en1993-1-3.tearing", "Tearing and bearing", EN, per="spot", basis=CHARACTERISTIC, factor=PARTIAL)
EN_END_ALONG = method(
    "en1993-1-3.end-along", "End of the sheet, along the seam", EN, per="spot", basis=CHARACTERISTIC, factor=PARTIAL
)
EN_END_ACROSS = method(
    "en1993-1-3.end-across", "Edge of the sheet, across the seam", EN, per="spot", basis=CHARACTERISTIC, factor=PARTIAL
)
EN_SPOT = method(
    "en1993-1-3.spot-shear",
    "Shear of the spot",
    EN,
    per="spot",
    basis=CHARACTERISTIC,
    factor=PARTIAL,
    covers=IN_PLANE,
)
AISI_TEAR = method(
    "aisi-s100.spot-tear-out",
    "Tear-out to the end or edge",
    spot_aisi.RUPTURE,
    per="spot",
    basis="nominal",
    factor="Ω = 2.50, welded",
)
EN_DUCTILITY = method(
    "en1993-1-3.ductility",
    "Sheet tears before the spot shears",
    EN,
    per="spot",
    basis="condition",
    factor="1.25 in the condition; of the spot where it is not met 1.25 × γ_M2 × γ_F",
)
EN_NET = method(
    "en1993-1-3.net-section", "Net section across the seam", EN, per="seam", basis=CHARACTERISTIC, factor=PARTIAL
)
EN_YIELD_ACROSS = method(
    "en1993-1-3.yield-across",
    "Yield of the sheet across the seam",
    lap.YIELD,
    per="seam",
    basis=CHARACTERISTIC,
    factor="γ_M0 × γ_F",
)
EN_YIELD_ALONG = method(
    "en1993-1-3.yield-along",
    "Shear yield of the sheet along the seam",
    lap.YIELD,
    per="seam",
    basis=CHARACTERISTIC,
    factor="γ_M0 × γ_F",
)
AISI_SPOT = method(
    "aisi-s100.spot-shear",
    "Resistance spot",
    spot_aisi.S100,
    per="spot",
    basis=MEAN,
    factor="Ω = 2.35",
    covers=IN_PLANE,
)
AISI_RUPTURE = method(
    "aisi-s100.shear-rupture",
    "Shear rupture along the row",
    spot_aisi.RUPTURE,
    per="seam",
    basis="nominal",
    factor="Ω = 2.50, welded",
)
AISI_PITCH = method(
    "aisi-s100.spot-pitch",
    "Pitch in compression",
    spot_aisi.SPACING,
    per="mm",
    basis="limit",
    factor="1 (a limit)",
    covers=("compression",),
)
D8_SHEAR = method(
    "d8.1m.shear-tension",
    "Least shear-tension strength",
    spot_d8_1.ST,
    per="spot",
    basis=FLOOR,
    factor=PARTIAL,
    covers=IN_PLANE,
)
D8_CROSS = method(
    "d8.1m.cross-tension",
    "Least cross-tension strength",
    spot_d8_1.CT,
    per="spot",
    basis=FLOOR,
    factor=OWN,
    covers=("peel",),
)
PEEL_FOLD = method(
    "limit-analysis.peel-fold",
    "Flange folds open beside the row",
    peel.FOLD,
    per="spot",
    basis="plastic limit of the sheet",
    factor="γ_M0 × γ_F",
    covers=("fold",),
)
PEEL_PULL = method(
    "limit-analysis.peel-pull",
    "Pull on the spot with the flange's lever",
    peel.LEVER,
    per="spot",
    basis=FLOOR,
    factor=OWN,
)
PULL_OUT = method(
    "sawhill-baker.pull-out", "Pull-out of the spot", spot_models.SAWHILL, per="spot", basis="mean of tests", factor=OWN
)
CHAO_CROSS = method(
    "chao.cross-tension",
    "Cross tension from lap shear",
    spot_models.CHAO,
    per="spot",
    bound="information",
    basis="characteristic x mean ratio, straight pull",
    factor="none: information",
)
RUPP_PEEL = method(
    "rupp.peel-stress",
    "Elastic stress at the spot's edge",
    spot_models.RUPP,
    per="spot",
    bound="information",
    basis="first yield, not strength",
    factor="none: information",
)


def _table_source(name: str, status: Status = "from memory") -> Source:
    record = load(name).provenance
    return Source(record.citation, "", status)


@dataclass(frozen=True, slots=True)
class _Chart:
    """A handbook table of strength per spot: where to look and what it assumes."""

    method: Method
    table: str
    column: str
    nugget: str | None
    spread: float


_OPTIMUM = Source("spot-weld handbook, optimum-conditions chart", "strength and fused zone by thickness", "read")
_CLASSES = Source("spot-weld handbook, class A, B, C chart (metric)", "strength and nugget by thickness", "from memory")
_AISI_1996 = Source("AISI 1996, spot-weld table", "nominal shear by thickness", "read", "as reprinted in a handbook")
_MIL = Source("MIL-HDBK-5", "8.2.2.3.1(a), spot welds in steel", "from memory", "the table itself could not be opened")
_MIL_AL = Source("MIL-HDBK-5", "8.2.2.3.1, spot welds in aluminium", "from memory")
_ASCE = Source("ASCE 8-02", "Tables 3 and 4, stainless resistance spots", "from memory", "some rows read")

OPTIMUM = method(
    "handbook.optimum", "Optimum-conditions chart", _OPTIMUM, per="spot", basis=GUARANTEED, factor=OWN, covers=IN_PLANE
)
CLASS = {
    letter: method(
        f"handbook.class-{letter}", f"Class {letter.upper()} chart", _CLASSES, per="spot", basis=MEAN,
        factor="the builder's own factor / (1 - printed spread)", covers=IN_PLANE,
    )
    for letter in "abc"
}  # fmt: skip
AISI_1996 = method(
    "aisi-1996.spot-table",
    "Older AISI table",
    _AISI_1996,
    per="spot",
    basis="nominal",
    factor="Ω = 2.50",
    covers=IN_PLANE,
)
MIL_STEEL = method(
    "mil-hdbk-5.spot-steel",
    "Military handbook, steel",
    _MIL,
    per="spot",
    basis=ALLOWABLE,
    factor="1.5 × 1.15",
    covers=IN_PLANE,
)
MIL_ALUMINIUM = method(
    "mil-hdbk-5.spot-aluminium",
    "Military handbook, aluminium",
    _MIL_AL,
    per="spot",
    basis=ALLOWABLE,
    factor="1.5 × 1.15",
    covers=IN_PLANE,
)
STAINLESS = method(
    "asce-8.spot-stainless",
    "Stainless spot table",
    _ASCE,
    per="spot",
    basis="nominal",
    factor="Ω = 2.50",
    covers=IN_PLANE,
)
ROW_INTERACTION = method(
    "interaction.shear-peel",
    "Shear and peel together",
    Source("linear interaction", "exponent 1", "derivation", "the safe end of the published exponents 1 to 2"),
    per="spot",
    basis="sum of utilisations",
    factor="1",
)
BETWEEN_SPOTS = method(
    "inter-fastener.buckling",
    "Buckling of the sheet between spots",
    Source(
        "Bruhn, Analysis and Design of Flight Vehicle Structures",
        "C7.12",
        "from memory",
        "fixity 3.5 for spots flagged as not verified by test",
    ),
    per="seam",
    basis="elastic buckling stress",
    factor="γ_F",
    covers=("compression",),
)

DIAGONAL = method(
    "inter-fastener.buckling-shear",
    "Buckling between wide spots under shear",
    BETWEEN_SPOTS.source,
    per="seam",
    basis="elastic buckling stress",
    factor="γ_F",
)

PITCH_MIN = method(
    "detail.pitch-min",
    "Pitch against shunting",
    _OPTIMUM,
    per="mm",
    basis=DETAILING,
    bound="least",
    factor="1 (a limit)",
)
ROW_MIN = method(
    "detail.row-spacing",
    "Row spacing against shunting",
    _OPTIMUM,
    per="mm",
    basis=DETAILING,
    bound="least",
    factor="1 (a limit)",
)
PITCH_MAX = method(
    "detail.pitch-max",
    "Widest pitch",
    EN,
    per="mm",
    basis=DETAILING,
    bound="greatest",
    factor="none: information",
)
EDGE = method(
    "detail.edge",
    "Edge distance",
    Source("ISO 14373; guideline on weld rims", "1.25 d; rim 3 mm", "from memory", "the 3 mm rim read"),
    per="mm",
    basis=DETAILING,
    bound="least",
    factor="1 (a limit)",
)
END = method(
    "detail.end",
    "End distance",
    EDGE.source,
    per="mm",
    basis=DETAILING,
    bound="least",
    factor="1 (a limit)",
)
OVERLAP = method(
    "detail.overlap", "Lap width", _OPTIMUM, per="mm", basis=DETAILING, bound="least", factor="1 (a limit)"
)
STACK_RATIO = method(
    "detail.stack-ratio",
    "Thickest to thinnest sheet",
    Source("ISO 14373:2024; BS 1140:1993", "scope: 3 to 1", "read"),
    per="spot",
    basis=DETAILING,
    bound="greatest",
    factor="none: information, a scope and no rule",
)
STACK_TOTAL = method(
    "detail.stack-total",
    "Total stack",
    Source("resistance-welding guideline", "at most 4 x the thinnest outside sheet", "read"),
    per="mm",
    basis=DETAILING,
    bound="greatest",
    factor="none: information, a guideline",
)

FIXITY_SPOT = 3.5

HARDENED = 1000.0
"""Tensile strength [MPa] that is counted of sheet at most: a spot tempers a ring of hardened sheet round itself (common
practice, no source: the ring keeps some two thirds of 1500 MPa)."""

DUCTILE = 1.25
"""F_v over F_tb of the condition of EN 1993-1-3 Table 8.5: the sheet tears before the spot shears."""

WIDEST = 8.0
"""Pitch over spot diameter up to which EN 1993-1-3 covers a seam, along the load."""


def check_seam(seam: SpotSeam) -> Result:
    """Judge a seam; raises InputError only when a needed strength is missing from its grade."""
    share = _Shares(seam)
    checks: list[Check] = []
    checks += _en(seam, share)
    checks += _tear_out(seam, share)
    checks += _whole_stack(seam, share)
    checks += _sheet(seam, share)
    flange = _flange(seam, share)
    checks += _peel(seam, share, flange) if flange is not None else []
    checks += _together(checks, share)
    checks += _compression(seam)
    checks += _fatigue(seam, share)
    checks += _detailing(seam)
    values = {
        "spots": Amount(float(seam.spots), "1"),
        "pitch": Amount(seam.actual_pitch, "mm"),
        "spot_diameter": Amount(seam.d, "mm"),
        "end_distance": Amount(seam.actual_end, "mm"),
        "shear_per_spot": Amount(share.along, "N"),
        "across_per_spot": Amount(share.across, "N"),
        "peel_per_spot": Amount(share.peel, "N"),
        **_schedule(seam),
    }
    life = next((c for c in checks if c.method.key == "rupp.spot-fatigue" and c.capacity), None)
    if life is not None:
        values["spot_life"] = Amount(
            next(float(s.value) for s in life.trace if isinstance(s, Evaluation) and s.formula.symbol == "N_f"),
            "cycles",
        )
    for check in checks:
        if check.method is PEEL_FOLD and flange is not None and check.capacity and check.capacity.value:
            values["peel_fold_per_length"] = Amount(check.capacity.value / flange.width, "N/mm")
    return Result(
        kind=seam.kind,
        id=seam.id,
        title=seam.title,
        checks=tuple(checks),
        values=values,
        cautions=_cautions(seam, checks),
        unjudged=_unjudged(seam, share, checks),
        model=seam,
        about={"sheets": " + ".join(sheet.label for sheet in seam.sheets)},
    )


class _Shares:
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
        self.turned = f", and {figures(moment)} N·mm on {n} spots at the corner" if turn else ""

    def trace(self, seam: SpotSeam, share: float, kind: str = "in-plane") -> Stated:
        part = "" if share == 1 else f"{share:g} x "
        total = hypot(seam.shear, seam.across)
        how = f"{part}{figures(total)} N / {seam.spots} spots, {kind}, equal shares{self.turned}"
        return Stated("F", "N", share * self.in_plane, how)


def _f_u(sheet: Sheet) -> float:
    """Tensile strength beside a spot [MPa]: of hardened sheet what the ring round the spot keeps."""
    return min(sheet.f_u, HARDENED)


def _pair(a: Sheet, b: Sheet) -> tuple[float, float, float]:
    """(thinner, thicker, weaker tensile strength) of an interface; the weaker grade is taken for both."""
    return min(a.t, b.t), max(a.t, b.t), min(_f_u(a), _f_u(b))


def _reasons(formulas: Iterable[Formula], inputs: dict[str, float]) -> list[str]:
    found: dict[str, None] = {}
    for formula in formulas:
        found.update(dict.fromkeys(formula.outside(**inputs)))
    return list(found)


def _judged(how: Method, reasons: Iterable[str], *, note: str = "", **told: Any) -> Check:
    """The check, or with reasons the bound from above that a method left on its weak side still is."""
    stop = list(dict.fromkeys(reasons))
    return how.at_most(stop, **told) if stop else how.judge(note=note, **told)


def _stranger(seam: SpotSeam) -> str:
    """Why a rule of carbon steel does not apply to this stack; empty when it does."""
    other = next((s.material.family for s in seam.sheets if s.material.family != "steel"), None)
    return "" if other is None else f"written for carbon steel; this stack has {other}"


# --- one spot in the plane of the sheets ---------------------------------------------------------------------


def _en(seam: SpotSeam, share: _Shares) -> list[Check]:
    """EN 1993-1-3 Table 8.5 at every interface."""
    checks: list[Check] = []
    required = GAMMA_M2 * seam.load_factor
    stranger = _stranger(seam)
    near, wide = _en_spacing(seam, share)
    for where, a, b, part in seam.interfaces:
        t, t_1, f_u = _pair(a, b)
        base = {"t": t, "t_1": t_1, "d_s": seam.d, "f_u": f_u}
        demand = part * share.in_plane
        ends = [
            (how, e_1, part * force, word)
            for how, e_1, force, word in (
                (EN_END_ALONG, seam.actual_end, share.along, "end"),
                (EN_END_ACROSS, seam.least_edge, share.across, "edge"),
            )
            if force
        ]
        if stranger:
            checks += [m.outside(stranger, demand=demand, where=where) for m in (EN_TEARING, EN_SPOT)]
            checks += [m.outside(stranger, demand=force, where=where) for m, _, force, _ in ends]
            continue
        bounds = [spot_en1993.TEARING.evaluate(**base)]
        if above(t_1, 2.5 * t):
            bounds.append(spot_en1993.TEARING_THICK_SPOT.evaluate(**base))
            bounds.append(spot_en1993.TEARING_THICK_SHEET.evaluate(**base))
        tearing = min(bounds, key=lambda e: float(e.value))
        spot = spot_en1993.SPOT_SHEAR.evaluate(**base)
        before: Steps = [*cores((a, b))]
        after: Steps = [share.trace(seam, part)]
        scope = _reasons((spot_en1993.TEARING, spot_en1993.SPOT_SHEAR), base)
        if scope:
            checks += [
                m.outside(scope, demand=force, trace=[*before, *e, *after], where=where)
                for m, e, force in ((EN_TEARING, bounds, demand), (EN_SPOT, [spot], demand))
            ]
            checks += [m.outside(scope, demand=force, where=where) for m, _, force, _ in ends]
            checks.append(EN_DUCTILITY.outside(scope, where=where))
            continue
        tiny = _needs(spot_size.MINIMUM.evaluate(t=t), seam, "routine work to ISO 14373", "accepts")
        sheared = below(float(spot.value), DUCTILE * float(tearing.value))
        first = (
            f"spot of {seam.d:.3g} mm would shear before the sheet tears: F_v = {float(spot.value):.4g} N is less than "
            f"{DUCTILE:g} times {float(tearing.value):.4g} N"
        )
        stop = [*near, *tiny]
        told: dict[str, Any] = {"where": where, "note": "; ".join(filter(None, (_weaker(a, b), wide)))}
        checks.append(
            _judged(
                EN_TEARING, stop, capacity=float(tearing.value), demand=demand, required=required,
                trace=[*before, *bounds, *after], **told,
            )
        )  # fmt: skip
        checks.append(
            _judged(
                EN_SPOT, stop, capacity=float(spot.value), demand=demand, required=required,
                trace=[*before, spot, *after], **told,
            )
        )  # fmt: skip
        for how, e_1, force, word in ends:
            # beyond 6 d_s the end is simply far away: the formula is used at its last distance; under 2 d_s its value
            # there is more than the sheet has
            inputs = {**base, "e_1": min(max(e_1, 2 * seam.d), 6 * seam.d)}
            given = {**base, "e_1": e_1}
            short = [f"{word} distance: {r}" for r in _below(spot_en1993.END, given)]
            evaluation = spot_en1993.END_DISTANCE.evaluate(**inputs)
            checks.append(
                _judged(
                    how, [*stop, *short], capacity=float(evaluation.value), demand=force, required=required,
                    trace=[*before, evaluation, *after], **told,
                )
            )  # fmt: skip
        if sheared:
            checks.append(
                _judged(
                    EN_DUCTILITY, stop, capacity=float(spot.value), demand=demand, required=required * DUCTILE,
                    trace=[*before, spot, tearing, *after], where=where,
                    note=f"not met: {first}; so the spot is asked for the {DUCTILE:g} on top",
                )
            )  # fmt: skip
        elif stop:
            checks.append(EN_DUCTILITY.outside(stop, where=where))
        else:
            checks.append(
                EN_DUCTILITY.info(
                    capacity=float(spot.value), demand=DUCTILE * float(tearing.value), trace=[spot, tearing],
                    note="met: the sheet tears first", where=where,
                )
            )  # fmt: skip
    return checks


def _weaker(a: Sheet, b: Sheet) -> str:
    return "" if a.f_u == b.f_u else f"with the weaker of the two grades, f_u = {min(_f_u(a), _f_u(b)):.4g} MPa"


def _below(limits: Iterable[Limit], inputs: dict[str, float]) -> list[str]:
    """Reasons of the limits whose low end is not reached."""
    return [x.reason(inputs) for x in limits if x.low is not None and below(x.value(inputs), x.low)]


def _beyond(limits: Iterable[Limit], inputs: dict[str, float]) -> list[str]:
    """Reasons of the limits whose high end is passed."""
    return [x.reason(inputs) for x in limits if x.high is not None and above(x.value(inputs), x.high)]


def _en_spacing(seam: SpotSeam, share: _Shares) -> tuple[list[str], str]:
    """Pitch limits of Table 8.5 in the directions that carry load (along when none does): too near, and too wide.

    Too wide a pitch or an edge only ends a benefit: the resistance of a spot does not grow with either, so it is that
    of a spot at the greatest.
    """
    pitch = seam.actual_pitch if seam.along > 1 else None
    spacing = seam.row_spacing if seam.rows > 1 else None
    asked: list[tuple[Iterable[Limit], dict[str, float]]] = []
    directions = []
    if share.along or not share.across:
        directions.append((pitch, spacing))
    if share.across:
        directions.append((spacing, pitch))
    for along, across in directions:
        asked += [(spot_en1993.PITCH_ALONG, {"p_1": along, "d_s": seam.d})] if along is not None else []
        asked += [(spot_en1993.PITCH_ACROSS, {"p_2": across, "d_s": seam.d})] if across is not None else []
    near = [reason for limits, inputs in asked for reason in _below(limits, inputs)]
    wide = [reason for limits, inputs in asked for reason in _beyond(limits, inputs)]
    told = "wider than its range, where a spot gains nothing more: as at the widest" if wide else ""
    return list(dict.fromkeys(near)), told


def _needs(diameter: Evaluation | float, seam: SpotSeam, what: str, verb: str = "assumes") -> list[str]:
    need = diameter if isinstance(diameter, float) else float(diameter.value)
    if at_least(seam.d, need):
        return []
    return [f"{what} {verb} a spot of at least {need:.3g} mm, this one is {seam.d:.3g} mm"]


def _tear_out(seam: SpotSeam, share: _Shares) -> list[Check]:
    """The sheet sheared out from a spot to its end or edge on two planes from its middle: a spot leaves all metal.

    Whichever of the two is used more.
    """
    if _stranger(seam):
        return []
    weak = min(seam.sheets, key=lambda s: s.t * _f_u(s))
    checks = []
    for e, force, way in ((seam.actual_end, share.along, "end"), (seam.least_edge, share.across, "edge")):
        if force:
            rupture = arc_spot_aisi.SHEET_END_RUPTURE.evaluate(F_u=_f_u(weak), t=weak.t, e_net=e)
            checks.append(
                AISI_TEAR.judge(
                    capacity=float(rupture.value),
                    demand=share.largest * force,
                    required=spot_aisi.OMEGA_RUPTURE_WELDED,
                    trace=[*cores((weak,)), rupture, share.trace(seam, share.largest)],
                    note=f"to the {way}",
                )
            )
    return [max(checks, key=lambda c: c.utilisation or 0.0)] if checks else []


def _whole_stack(seam: SpotSeam, share: _Shares) -> list[Check]:
    """Methods of two equal sheets: judged for the thinnest of the stack, which each interface's load may go through."""
    t = seam.thinnest
    f_u = min(sheet.f_u for sheet in seam.sheets)
    demand = share.largest * share.in_plane
    load = share.trace(seam, share.largest)
    families = {sheet.material.family for sheet in seam.sheets}
    if families == {"steel"}:
        return [
            _aisi(seam, t, demand, load),
            _d8(seam, share),
            *(_pull_outs(seam, share)),
            *(_chart(seam, chart, t, demand, load, f_u) for chart in _charts(f_u)),
        ]
    if families == {"stainless"}:
        chart = _Chart(STAINLESS, "spot_stainless_shear", "shear_annealed", None, 0.0)
        return [_chart(seam, chart, t, demand, load, f_u)]
    if families == {"aluminium"}:
        name = _mil_aluminium_column(f_u)
        return [_chart(seam, _Chart(MIL_ALUMINIUM, "spot_mil_hdbk5_aluminium", name, None, 0.0), t, demand, load, f_u)]
    reason = f"no published table covers spots between {' and '.join(sorted(families))}"
    return [m.outside(reason, demand=demand) for m in (AISI_SPOT, D8_SHEAR, OPTIMUM)]


def _aisi(seam: SpotSeam, t: float, demand: float, load: Stated) -> Check:
    formula = spot_aisi.spot(t)
    size = spot_size.TARGET.evaluate(t=t)
    edge = formula.at_edge("t", t=t)
    if edge is None:
        return AISI_SPOT.outside(formula.outside(t=t), demand=demand, trace=[size])
    moved, thin = edge
    nominal = formula.evaluate(**moved)
    # the power law ends a hair above the line for thick sheet: no thinner sheet is stronger for that
    ends = spot_aisi.SPOT_THICK.evaluate(t=max(t, spot_aisi.THICK_FROM))
    nominal = min(nominal, ends, key=lambda e: float(e.value))
    return _judged(
        AISI_SPOT,
        [*thin, *_needs(size, seam, "the strength is the mean of set-up size spots: it")],
        capacity=float(nominal.value),
        demand=demand,
        required=spot_aisi.OMEGA,
        trace=[nominal, size, load],
        note="no account of grade, number of sheets or edge",
    )


def _d8_floor(t: float, formula: Formula) -> tuple[float, list[str], str]:
    """Thickness the floor is read at [mm], why that is the weak side of its range, and what is said of it."""
    low, high = formula.limits[0].low, formula.limits[0].high
    assert low is not None
    assert high is not None
    if above(t, high):
        return high, [], f"of sheet of {high:g} mm, the thickest of the standard"
    return max(t, low), formula.outside(t=t), ""


def _d8(seam: SpotSeam, share: _Shares) -> Check:
    """The automotive floor at the interface used most, by the thinner of its two sheets."""
    found = []
    for where, a, b, part in seam.interfaces:
        t, _, f_u = _pair(a, b)
        size = spot_size.USUAL.evaluate(t=t)
        used, thin, told = _d8_floor(t, spot_d8_1.SHEAR_TENSION)
        floor = spot_d8_1.SHEAR_TENSION.evaluate(t=used, S=f_u)
        at = f"the interface {where.replace('-', '–')}" if where else ""
        notes = ("floor for a 4√t weld; a larger one carries more", told, at)
        check = _judged(
            D8_SHEAR, [*thin, *_needs(size, seam, "the floor")], capacity=float(floor.value),
            demand=part * share.in_plane, required=GAMMA_M2 * seam.load_factor,
            trace=[floor, size, share.trace(seam, part)], note="; ".join(filter(None, notes)),
        )  # fmt: skip
        # without a load the weaker one stands for both
        found.append(((part or 1e-12) / float(floor.value), check))
    return max(found, key=lambda one: one[0])[1]


def _pull_outs(seam: SpotSeam, share: _Shares) -> list[Check]:
    checks = []
    for where, a, b, part in seam.interfaces:
        t, _, f_u = _pair(a, b)
        model = spot_models.PULL_OUT.evaluate(f=spot_models.PULL_OUT_FACTOR, t=t, d=seam.d, S=f_u)
        size = spot_size.MINIMUM.evaluate(t=t)
        checks.append(
            _judged(
                PULL_OUT,
                _needs(size, seam, "pull-out, not shear through the spot,"),
                capacity=float(model.value),
                demand=part * share.in_plane,
                required=seam.handbook_factor,
                trace=[*cores((a, b)), model, size, share.trace(seam, part)],
                where=where,
            )
        )
    return checks


def _charts(f_u: float) -> list[_Chart]:
    """The handbook tables for carbon steel."""
    ksi = f_u / KSI
    column = "shear_lt_70ksi"
    if at_least(ksi, 70.0):
        column = "shear_ge_150ksi" if at_least(ksi, 150.0) else "shear_70_to_150ksi"
    spreads = {row["class"].lower(): row.need("spread") for row in load("spot_class_spread").rows}
    return [
        _Chart(OPTIMUM, "spot_optimum", "shear_min", "nugget_diameter", 0.0),
        *(
            _Chart(
                CLASS[letter], "spot_class_abc_metric", f"{letter}_shear", f"{letter}_nugget_diameter", spreads[letter]
            )
            for letter in "abc"
        ),
        _Chart(AISI_1996, "spot_aisi1996", "shear", None, 0.0),
        _Chart(MIL_STEEL, "spot_mil_hdbk5_steel", column, None, 0.0),
    ]


def _mil_aluminium_column(f_u: float) -> str:
    ksi = f_u / KSI
    for least, name in ((56.0, "shear_ge_56ksi"), (35.0, "shear_35_to_56ksi"), (19.5, "shear_19_5_to_35ksi")):
        if at_least(ksi, least):
            return name
    return "shear_lt_19_5ksi"


def _chart(seam: SpotSeam, chart: _Chart, t: float, demand: float, given: Stated, f_u: float) -> Check:
    how = chart.method
    table = load(chart.table)
    first, _ = table.reach(chart.column)
    thin = []
    if below(t, first):
        thin.append(f"the table starts at {first:.4g} mm, this is {t:.4g} mm")
    # a thinner sheet carries no more than the thinnest of the table
    used = max(t, first)
    status: Status = table.row_status(used)  # type: ignore[assignment]  # the tables' words are the sources' words
    source = Source(how.source.document, how.source.clause, status)

    def looked(symbol: str, unit: str, column: str) -> Looked:
        return Looked(symbol, unit, table.at(used, column), chart.table, f"{column} at t = {used:.4g} mm", source)

    try:
        strength = looked("F_s", "N", chart.column)
        trace: list[Evaluation | Looked | Stated] = [strength]
        if chart.nugget:
            nugget = looked("d_chart", "mm", chart.nugget)
            trace.append(nugget)
            need, what = nugget.value, "the chart"
        else:
            size = spot_size.TARGET if how in (AISI_1996, STAINLESS) else spot_size.USUAL
            evaluation = size.evaluate(t=t)
            trace.append(evaluation)
            need, what = float(evaluation.value), "no size is printed; this strength"
        weak = [*thin, *_needs(need, seam, what)]
        weak += _mil_edge(seam, t) if how in (MIL_STEEL, MIL_ALUMINIUM) else []
    except OutsideTable as error:
        return how.outside(str(error), demand=demand)
    if how is OPTIMUM and above(f_u, 90 * KSI):
        strong = f"the chart is for sheet up to 90 ksi tensile strength ({90 * KSI:.0f} MPa), this is {f_u:.0f} MPa"
        return how.outside([*weak, strong], demand=demand, trace=trace)
    required, note = seam.handbook_factor, ""
    if chart.spread:
        required = seam.handbook_factor / (1 - chart.spread)
        note = (
            f"class mean with a printed spread of {chart.spread:.0%}: {seam.handbook_factor:g} / (1 - {chart.spread:g})"
        )
    elif how in (AISI_1996, STAINLESS):
        required = 2.5
    elif how in (MIL_STEEL, MIL_ALUMINIUM):
        required, note = 1.5 * 1.15, "ultimate allowable: 1.5 on limit load (14 CFR 25.303) and 1.15 (25.625)"
    if how is STAINLESS:
        note = "annealed column, the lowest of the table"
    if any(s.coated for s in seam.sheets):
        note = f"{note}; bare-sheet table" if note else "bare-sheet table: prove the size on coated sheet by coupons"
    return _judged(
        how, weak, capacity=strength.value, demand=demand, required=required, trace=[*trace, given], note=note
    )


def _mil_edge(seam: SpotSeam, t: float) -> list[str]:
    """Why the edge is nearer than the handbook's; OutsideTable for sheet thicker than its list."""
    table = load("spot_mil_hdbk5_edge")
    need = table.at(max(t, table.reach("edge_min")[0]), "edge_min")
    if at_least(seam.least_edge, need):
        return []
    return [f"its edge distance is at least {need:.3g} mm, this is {seam.least_edge:.3g} mm"]


# --- the sheets ----------------------------------------------------------------------------------------------


def _sheet(seam: SpotSeam, share: _Shares) -> list[Check]:
    """The sheets themselves across and along the row; the weakest governs.

    The middle one of three carries all of it when the outer two pull the other way.
    """
    checks: list[Check] = []
    stranger = _stranger(seam)
    partial, metal = gamma_M0(seam.sheets)
    partial *= seam.load_factor

    def yields(how: Method, formula: Formula, demand: float) -> Check:
        every = [formula.evaluate(t=s.t, f_y=s.f_y, L=seam.length) for s in seam.sheets if s.has_yield]
        if not every:
            return how.outside(NO_YIELD, demand=demand)
        least = min(every, key=lambda e: float(e.value))
        reasons = [NO_YIELD] if len(every) < len(seam.sheets) else []
        return _judged(
            how, reasons, capacity=float(least.value), demand=demand, required=partial, trace=[least], note=metal
        )

    def net(formula: Formula, area: str) -> tuple[Evaluation, Evaluation]:
        every = []
        for sheet in seam.sheets:
            left = lap.NET_AREA.evaluate(t=sheet.t, L=seam.length, n=seam.along, d=seam.d)
            every.append((left, formula.evaluate(**{area: float(left.value), "f_u": _f_u(sheet)})))
        return min(every, key=lambda pair: float(pair[1].value))

    if share.pull:
        pair = net(spot_en1993.NET_SECTION, "A_net")
        together = _spots_against_net(seam, float(pair[1].value))
        thick = [sheet.t for sheet in seam.sheets]
        stop = spot_en1993.NET_SECTION.outside(t=min(thick), t_1=max(thick))
        stop += [stranger] if stranger else []
        checks.append(
            EN_NET.outside(stop, demand=share.pull, trace=pair)
            if stop
            else EN_NET.judge(
                capacity=float(pair[1].value),
                demand=share.pull,
                required=GAMMA_M2 * seam.load_factor,
                trace=pair,
                note=f"spots deducted from the section, on the safe side; {together}",
            )
        )
        checks.append(yields(EN_YIELD_ACROSS, lap.YIELD_ACROSS, share.pull))
    if seam.shear:
        demand = abs(seam.shear)
        checks.append(yields(EN_YIELD_ALONG, lap.YIELD_ALONG, demand))
        pair = net(spot_aisi.SHEAR_RUPTURE, "A_nv")
        checks.append(
            AISI_RUPTURE.outside(stranger, demand=demand, trace=pair)
            if stranger
            else AISI_RUPTURE.judge(
                capacity=float(pair[1].value), demand=demand, required=spot_aisi.OMEGA_RUPTURE_WELDED, trace=pair
            )
        )
    return checks


def _spots_against_net(seam: SpotSeam, net: float) -> str:
    """The condition sum F_v >= 1.25 F_n of Table 8.5 in words: which of the two gives way first."""
    spots = seam.spots * float(spot_en1993.SPOT_SHEAR(d_s=seam.d, f_u=min(_f_u(s) for s in seam.sheets)))
    if at_least(spots, DUCTILE * net):
        return "ΣF_v ≥ 1.25 F_n is met: the sheet gives way before the spots"
    return "ΣF_v is under 1.25 F_n: the spots or the sheet round them give way before the section does"


# --- peel ----------------------------------------------------------------------------------------------------


def _flange(seam: SpotSeam, share: _Shares) -> Flange | None:
    """The flange that peels, a line load along the seam; None when nothing peels."""
    if not seam.peel:
        return None
    pitch = seam.actual_pitch
    # the spot that holds most of it: one in the middle, or the last with what hangs beyond it
    width = max(pitch, pitch / 2 + seam.actual_end) if seam.along > 1 else seam.length
    pull = share.largest * abs(seam.peel) * width / seam.length
    part = "" if share.largest == 1 else f"{share.largest:g} x "
    told = f"{part}{figures(abs(seam.peel))} N over {seam.length:.4g} mm, of which a spot holds {width:.4g} mm"
    return Flange(seam.sheets, width, seam.least_edge, pull, told, seam.peel_arm, seam.load_factor)


def _peel(seam: SpotSeam, share: _Shares, flange: Flange) -> list[Check]:
    checks = [flange.folds(PEEL_FOLD)]
    demand = share.largest * share.peel
    row = f"{seam.along} spots" + (" of the row next to the bend" if seam.rows > 1 else "")
    given = Stated("N", "N", demand, f"{figures(abs(seam.peel))} N / {row}, peel, equal shares")
    if _stranger(seam):
        reason = "no published peel model for this metal is known to jointcalc; use coupons"
        return [*checks, *(m.outside(reason, demand=demand) for m in (D8_CROSS, PEEL_PULL, CHAO_CROSS))]
    # whichever sheet is lifted off: not the governing thickness of the stack, which of three is the second thickest
    t = seam.thinnest
    f_u = min(_f_u(sheet) for sheet in seam.sheets)
    size = spot_size.USUAL.evaluate(t=t)
    used, thin, told = _d8_floor(t, spot_d8_1.CROSS_TENSION)
    stop = [*thin, *_needs(size, seam, "the floor")]
    cross = spot_d8_1.CROSS_TENSION.evaluate(t=used)
    shear = spot_d8_1.SHEAR_TENSION.evaluate(t=used, S=f_u)
    lower = min(float(cross.value), float(shear.value))
    note = "peel is harder on a spot than the straight pull of this test"
    if below(lower, float(cross.value)):
        note += "; capped at the shear-tension floor, which is lower for this sheet"
    note += f"; {told}" if told else ""
    levered = flange.levered()
    pulls: list[tuple[Method, float, Steps]] = [(D8_CROSS, demand, [given])]
    if levered is not None:
        lift = Stated("F", "N", flange.pull, flange.told)
        pulls.append((PEEL_PULL, float(levered.value), [lift, levered]))
    else:
        checks.append(PEEL_PULL.outside(NO_ARM, demand=demand))
    for how, pull, after in pulls:
        checks.append(
            _judged(
                how, stop, capacity=lower, demand=pull, required=seam.handbook_factor,
                trace=[cross, shear, size, *after], note=note if how is D8_CROSS else "",
            )
        )  # fmt: skip
    worst: tuple[float, tuple[Evaluation, ...]] | None = None
    for _, a, b, _ in seam.interfaces:
        thin_, thick, weak = _pair(a, b)
        inputs = {"t": thin_, "t_1": thick, "d_s": seam.d, "f_u": weak}
        lap_shear = min(
            (spot_en1993.TEARING.evaluate(**inputs), spot_en1993.SPOT_SHEAR.evaluate(**inputs)),
            key=lambda e: float(e.value),
        )
        if lap_shear.formula.outside(**inputs):
            continue
        pulled = spot_models.CROSS_TENSION.evaluate(F_ls=float(lap_shear.value))
        if worst is None or float(pulled.value) < worst[0]:
            worst = (float(pulled.value), (lap_shear, pulled))
    if worst is None:
        checks.append(CHAO_CROSS.outside("the lap-shear strength it starts from is outside its range", demand=demand))
    else:
        checks.append(
            CHAO_CROSS.info(
                capacity=worst[0],
                demand=demand,
                trace=[*worst[1], given],
                note="strength in a straight pull, from lap shear: a sheet peeled from one side opens the spot at a "
                "fraction of it, so nothing is judged by it",
            )
        )
    thin_sheet = min(seam.sheets, key=lambda s: (s.t, s.f_y if s.has_yield else inf))
    arm = seam.peel_arm if seam.peel_arm is not None else seam.edge
    stress = spot_models.EDGE_STRESS.evaluate(t=thin_sheet.t, d=seam.d, F_z=demand, M=demand * arm)
    if thin_sheet.has_yield:
        how_far = "the peel arm" if seam.peel_arm is not None else "the edge distance taken as peel arm"
        past = above(float(stress.value), thin_sheet.f_y)
        opens = (
            "it is past yield: the sheet bends open at the spot"
            if past
            else "above yield the sheet bends open at the spot"
        )
        checks.append(
            RUPP_PEEL.info(
                capacity=thin_sheet.f_y,
                demand=float(stress.value),
                unit="MPa",
                trace=[stress],
                note=f"elastic stress with {how_far}; {opens}",
            )
        )
    return checks


PEEL = frozenset({D8_CROSS.key, PEEL_FOLD.key, PEEL_PULL.key, CHAO_CROSS.key, RUPP_PEEL.key})
"""Keys of the methods that judge a spot across the sheets; the other per-spot methods judge it in plane."""


def _hardest(symbol: str, checks: Iterable[Check]) -> tuple[Stated | None, Stated | None]:
    """(use of the check used most, the most that is known of it): the second counts those that only bound it."""
    found = list(checks)
    judged = [Stated.of(symbol, c) for c in found if c.utilisation is not None]
    bounding = [
        Stated(symbol, "1", c.used_at_least, f"at least, by {c.key} at the edge of its range", status=c.provenance)
        for c in found
        if c.used_at_least is not None
    ]
    most = [max(of, key=lambda s: s.value, default=None) for of in (judged, [*judged, *bounding])]
    return most[0], most[1]


def _together(checks: list[Check], share: _Shares) -> list[Check]:
    """Linear sum of the hardest use in the plane of the sheets and across them."""
    if not share.peel or not share.in_plane:
        return []
    per_spot = [c for c in checks if c.per == "spot" and c.method.basis != DETAILING]
    v, v_known = _hardest("u_V", (c for c in per_spot if c.method.key not in PEEL))
    n, n_known = _hardest("u_N", (c for c in per_spot if c.method.key in PEEL))
    if v_known is None or n_known is None:
        return [ROW_INTERACTION.outside("no method applies to one of the two loads", unit="1")]
    told: dict[str, Any] = {"capacity": 1.0, "required": 1.0, "unit": "1"}
    bound = ROW_INTERACTION.at_most(
        "of one of the two loads no more is known than the edge of a method's range",
        demand=v_known.value + n_known.value, trace=[v_known, n_known], **told,
    )  # fmt: skip
    if v is None or n is None or (bound.status == "over" and (v_known is not v or n_known is not n)):
        return [bound]
    return [ROW_INTERACTION.judge(demand=v.value + n.value, trace=[v, n], note="sum of the two utilisations", **told)]


# --- between the spots ---------------------------------------------------------------------------------------


def _pitch_limit(seam: SpotSeam, sheet: Sheet, f_c: float) -> tuple[float, list[Evaluation]]:
    """Widest pitch by AISI S100 I1.3 (b) and, where flat width and yield are known, (c) [mm] of one outer sheet."""
    limit = spot_aisi.PITCH_WAVE.evaluate(t=sheet.t, E=203_000.0, f_c=f_c)
    if seam.flat_beside is None or not sheet.has_yield:
        return float(limit.value), [limit]
    outstand = spot_aisi.PITCH_OUTSTAND.evaluate(w=seam.flat_beside)
    names = {"t": sheet.t, "E": 203_000.0, "f_y": sheet.f_y, "w": seam.flat_beside}
    floors = (spot_aisi.PITCH_OUTSTAND_FLOOR_STOCKY, spot_aisi.PITCH_OUTSTAND_FLOOR_SLENDER)
    floor = next(f for f in floors if not f.outside(**names)).evaluate(**names)
    allowed = max(float(outstand.value), float(floor.value))
    return min(float(limit.value), allowed), [limit, outstand, floor]


def _wide(seam: SpotSeam) -> bool:
    """Whether the spots stand farther apart than the range of EN 1993-1-3."""
    return seam.along > 1 and above(seam.actual_pitch, WIDEST * seam.d)


def _diagonal(seam: SpotSeam, sheet: Sheet) -> tuple[float, Steps]:
    """Compression in an outer sheet between spots too far apart [MPa]: along the diagonal of the shear that passes."""
    stress, tau = seam.compression or 0.0, abs(seam.shear) / (seam.length * sheet.t)
    diagonal = stress / 2 + hypot(stress / 2, tau)
    told = f"diagonal of {figures(tau)} MPa of shear" + (f" and {figures(stress)} MPa of compression" if stress else "")
    return diagonal, [Stated("f_c", "MPa", diagonal, f"{told}, in sheet of {sheet.t:.4g} mm")]


def _buckles(seam: SpotSeam, how: Method, pressed: Iterable[tuple[Sheet, float, Steps]]) -> Check:
    """Buckling from spot to spot of the outer sheet that is pressed hardest for its strength."""
    found: list[tuple[float, float, Steps, str, bool]] = []
    for one, f_c, given in pressed:
        elastic = column.INTER_FASTENER_COLUMN.evaluate(C=FIXITY_SPOT, E=one.material.E, t=one.t, p=seam.actual_pitch)
        working: Steps = [*given, elastic]
        strength, why = float(elastic.value), NO_YIELD
        if one.has_yield:
            branch, why = column.inter_fastener_branch(F_e=strength, f_y=one.f_y)
            if branch is not None:
                parabola = branch.evaluate(F_e=strength, f_y=one.f_y)
                working.append(parabola)
                strength = float(parabola.value)
        found.append((strength, f_c, working, why, one.has_yield))
    capacity, f_c, working, why, known = min(found, key=lambda one: one[0] / one[1])
    note = f"end fixity C = {FIXITY_SPOT} for spots is not verified by test; {why}"
    return _judged(
        how, [] if known else [NO_YIELD], capacity=capacity, demand=f_c, required=seam.load_factor, unit="MPa",
        trace=working, note=note,
    )  # fmt: skip


def _compression(seam: SpotSeam) -> list[Check]:
    """The outer sheets buckling from spot to spot."""
    outer = (seam.sheets[0], seam.sheets[-1])
    checks = []
    if seam.compression is not None:
        # the thinner sheet by limit (b), the stronger by limit (c): whichever allows less
        limits = [_pitch_limit(seam, sheet, seam.compression) for sheet in outer]
        least, trace = min(limits, key=lambda found: found[0])
        note = ""
        if seam.flat_beside is None:
            note = "limit (c) needs the flat width beside the row ('flat_beside') and was not checked"
        elif not all(sheet.has_yield for sheet in outer):
            note = "limit (c) needs the yield strength of both outer sheets and was not checked for all"
        other = next((sheet.material.family for sheet in outer if sheet.material.family != "steel"), None)
        pitch = seam.actual_pitch
        if other is None:
            checks.append(
                AISI_PITCH.judge(capacity=least, demand=pitch, required=1.0, unit="mm", trace=trace, note=note)
            )
        else:
            reason = f"written for carbon steel of E 203 000 MPa; this stack has {other}"
            checks.append(AISI_PITCH.outside(reason, demand=pitch, unit="mm"))
        checks.append(_buckles(seam, BETWEEN_SPOTS, [(sheet, seam.compression, []) for sheet in outer]))
    if _wide(seam) and seam.shear:
        checks.append(_buckles(seam, DIAGONAL, [(sheet, *_diagonal(seam, sheet)) for sheet in outer]))
    return checks


# --- what no method covers -----------------------------------------------------------------------------------


def _unjudged(seam: SpotSeam, share: _Shares, checks: list[Check]) -> tuple[str, ...]:
    """Loads that no method covers, direction by direction and interface by interface.

    The sheet round the spot holding is no answer for the spot, and neither is a mean of tests alone.
    """
    spot = f"a spot of {seam.d:.3g} mm in these sheets"
    if not (share.in_plane or share.peel or seam.compression or share.unturned):
        # without a load: whether a spot of this size can be judged at all
        able = any(c.status == "ok" and c.method.covers >= set(IN_PLANE) for c in checks)
        return () if able else (f"no method applies to {spot} under shear",)
    # a method of the whole stack speaks for each of its interfaces; else each wants its own
    whole = any(
        c.status in ("ok", "over") and c.method.covers >= set(IN_PLANE) and c.key == c.method.key for c in checks
    )
    places = [""] if whole or len(seam.sheets) == 2 else [where for where, _, _, part in seam.interfaces if part]
    needs = []
    for where in places:
        at = f" at the interface {where.replace('-', '–')}" if where else ""
        if share.along:
            needs.append(Need("along", f"no method applies to {spot} under shear{at}", where))
        if share.across:
            needs.append(Need("across", f"no method applies to {spot} pulled across{at}", where))
    if share.peel:
        needs.append(Need("peel", "no method applies to these spots under peel"))
        fold = "the yield strength of the sheet is not known, and with it when the flange folds open"
        needs.append(Need("fold", f"peel is not judged: {NO_ARM if seam.peel_arm is None else fold}"))
    if seam.compression is not None:
        needs.append(Need("compression", "no method applies to the sheet pressed between these spots"))
    missing = [*uncovered(needs, checks)]
    if share.unturned:
        missing.append("a single spot is a pivot: it does not hold a moment in the plane of the sheets")
    if seam.cycles is not None and (share.in_plane or share.peel):
        estimates = [c for c in checks if c.method.key == "rupp.spot-fatigue" and c.status in ("over", "info")]
        if not estimates:
            missing.append("no estimate of life reaches these spots under the load changes asked for")
    return tuple(missing)


def _fatigue(seam: SpotSeam, share: _Shares) -> list[Check]:
    """The fatigue screen of the interface used most; empty when no cycles were given."""
    if seam.cycles is None:
        return []
    from jointcalc.check.fatigue import SPOT_STRESS, spot_fatigue

    other = next((s.material.family for s in seam.sheets if s.material.family not in ("steel", "stainless")), None)
    if other is not None:
        reason = f"its constants are of steel; this stack has {other}"
        return [SPOT_STRESS.outside(reason, demand=seam.cycles, unit="cycles")]
    if share.peel and seam.peel_arm is None:
        return [SPOT_STRESS.outside(NO_ARM, demand=seam.cycles, unit="cycles")]
    found = []
    for _, a, b, part in seam.interfaces:
        # the offset that bends the thinner sheet is its own: the thicker one turns less
        t = min(a.t, b.t)
        scale = part * seam.load_range
        found.append(
            spot_fatigue(
                t=t, d=seam.d, shear=scale * share.in_plane, peel=scale * share.peel, arm=t, cycles=seam.cycles,
                peel_arm=seam.peel_arm or 0.0,
            )
        )  # fmt: skip

    def used(checks: list[Check]) -> float:
        last = checks[-1]
        if last.used_at_least is not None:
            return last.used_at_least
        return (last.demand.value or 0.0) / last.capacity.value if last.capacity and last.demand else 0.0  # type: ignore[operator]

    return max(found, key=used)


# --- distances -----------------------------------------------------------------------------------------------


def _least_pitch(seam: SpotSeam) -> tuple[float, list[Looked | Stated]]:
    """Least pitch against shunting [mm] and how it was found."""
    t = seam.outside_thickness
    trace: list[Looked | Stated]
    try:
        value = load("spot_optimum").at(t, "spacing_min")
        trace = [Looked("p_min", "mm", value, "spot_optimum", f"spacing_min at t = {t:.4g} mm", _OPTIMUM)]
    except OutsideTable:
        value = max(10 * t, 13.0)
        trace = [Stated("p_min", "mm", value, "10 t, not below 13 mm (guideline, read)")]
    if len(seam.sheets) == 3:
        value *= 1.3
        trace.append(Stated("p_min3", "mm", value, "30 % more for three sheets (guideline, read)"))
    return value, trace


def _detailing(seam: SpotSeam) -> list[Check]:
    checks: list[Check] = []
    t, d = seam.outside_thickness, seam.d
    other = next((s.material.family for s in seam.sheets if s.material.family != "steel"), None)
    chart = "" if other is None else f"by the chart for carbon steel; none for {other} is held"
    least, trace = _least_pitch(seam)
    if seam.along > 1:
        checks.append(
            PITCH_MIN.judge(capacity=seam.actual_pitch, demand=least, required=1.0, unit="mm", trace=trace, note=chart)
        )
        checks.append(
            PITCH_MAX.info(
                capacity=WIDEST * d,
                demand=seam.actual_pitch,
                unit="mm",
                note="8 spot diameters along the load, the range of EN 1993-1-3"
                + ("; wider spots let the lap gape and rust" if _wide(seam) else ""),
            )
        )
    if seam.rows > 1 and seam.row_spacing is not None:
        checks.append(ROW_MIN.judge(capacity=seam.row_spacing, demand=least, required=1.0, unit="mm", trace=trace))
    edge = max(1.25 * d, d / 2 + 3.0)
    how = Stated("e_min", "mm", edge, "the larger of 1.25 d and a rim of 3 mm beyond the spot")
    for rule, has in ((EDGE, seam.least_edge), (END, seam.actual_end)):
        checks.append(rule.judge(capacity=has, demand=edge, required=1.0, unit="mm", trace=[how]))
    try:
        overlap = load("spot_optimum").at(t, "overlap_min") + (seam.rows - 1) * (seam.row_spacing or 0.0)
        looked = Looked(
            "l_min", "mm", overlap, "spot_optimum", f"overlap_min at t = {t:.4g} mm, and the rows", _OPTIMUM
        )
        checks.append(
            OVERLAP.judge(capacity=seam.actual_lap, demand=overlap, required=1.0, unit="mm", trace=[looked], note=chart)
        )
    except OutsideTable as error:
        checks.append(OVERLAP.outside(str(error), unit="mm"))
    # what the sources call their scope and a guideline, not a limit of strength: beyond it stands a caution
    thin = min(seam.sheets[0].thickness, seam.sheets[-1].thickness)
    total = sum(sheet.thickness for sheet in seam.sheets)
    beyond = "beyond it the weld may form off the joint: coupons decide"
    for rule, most, has, unit in ((STACK_RATIO, 3.0, seam.stack_ratio, "1"), (STACK_TOTAL, 4 * thin, total, "mm")):
        checks.append(
            rule.info(capacity=most, demand=has, unit=unit, note=beyond)
            if above(has, most)
            else rule.judge(capacity=most, demand=has, required=1.0, unit=unit)
        )
    return checks


def _stack(seam: SpotSeam) -> tuple[bool, bool]:
    """Whether the stack is steeper than 3 to 1, and thicker than 4 times its thinnest outside sheet."""
    thick = [s.thickness for s in seam.sheets]
    return above(seam.stack_ratio, 3.0), above(sum(thick), 4 * min(thick[0], thick[-1]))


def _schedule(seam: SpotSeam) -> dict[str, Amount]:
    """A starting schedule: the optimum-conditions chart for bare steel, BS 1140 for zinc, where they reach."""
    families = {s.material.family for s in seam.sheets}
    ordered = sorted(s.thickness for s in seam.sheets)
    t = ordered[0] if len(ordered) == 2 else ordered[1]
    if families != {"steel"}:
        return {}
    if any(s.coated for s in seam.sheets):
        for row in load("spot_setup_bs1140").rows:
            if at_least(t, row.need("t_from")) and at_most(t, row.need("t_to")):  # 0.8 mm typed in inches is 0.8 mm
                low_high = {
                    "schedule_force": ("force_hot_dip_zinc", "N"),
                    "schedule_time": ("time_hot_dip_zinc", "cycles at 50 Hz"),
                    "schedule_current": ("current_hot_dip_zinc", "A"),
                }
                found = {"schedule_tip": Amount(row.need("tip_diameter"), "mm")}
                for name, (column_, unit) in low_high.items():
                    low, high = row.need(f"{column_}_low"), row.need(f"{column_}_high")
                    found[name] = Amount((low + high) / 2, unit)
                return found
        return {}
    table = load("spot_optimum")
    try:
        return {
            "schedule_tip": Amount(table.at(t, "tip_diameter_max"), "mm"),
            "schedule_force": Amount(table.at(t, "force"), "N"),
            "schedule_time": Amount(table.at(t, "weld_time"), "cycles at 60 Hz"),
            "schedule_current": Amount(table.at(t, "current"), "A"),
        }
    except OutsideTable:
        return {}


def _cautions(seam: SpotSeam, checks: list[Check]) -> tuple[Caution, ...]:
    raised: list[Caution | str] = [PURPOSES[word] for word in seam.purpose]
    for sheet in seam.sheets:
        raised += [caution(code, **words) for code, words in sheet.caution_codes()]
    by_key = {c.method.key: c for c in checks if c.status == "over"}
    for how, code in ((PITCH_MIN, "shunting"), (ROW_MIN, "shunting"), (EDGE, "edge-distance"), (END, "edge-distance")):
        if how.key in by_key:
            raised.append(code)
    steep, thick = _stack(seam)
    if steep:
        raised.append(caution("stack-ratio", ratio=f"{seam.stack_ratio:.2g}"))
    if thick:
        raised.append("stack-total")
    pulled_across = bool(seam.across or seam.moment)
    in_plane = bool(seam.shear or pulled_across)
    if below(seam.least_edge, 2 * seam.d) and pulled_across:
        raised.append("edge-distance")
    if any(s.coated for s in seam.sheets):
        raised.append("zinc-tips")
    if seam.peel:
        raised += ["peel", "unzip"]
        if seam.peel_arm is not None and below(seam.peel_arm, seam.d):
            raised.append("near-bend")
    if pulled_across:
        raised.append("single-lap")
    if in_plane and seam.along >= 3:
        raised.append("row-shares")
    if seam.spots == 1 and (in_plane or seam.peel):
        raised.append("single-spot")
    loose = seam.actual_end if seam.along > 1 else seam.length / 2
    if _wide(seam) or above(loose, max(seam.actual_pitch if seam.along > 1 else 0.0, WIDEST * seam.d / 2)):
        raised.append(caution("wide-pitch", widest=f"{WIDEST * seam.d:.3g}"))
    usual = float(spot_size.USUAL(t=seam.governing_thickness))
    if below(seam.d, usual):
        raised.append(caution("small-spot", d=f"{seam.d:.3g}", usual=f"{usual:.3g}"))
    steel = [s for s in seam.sheets if s.material.family == "steel"]
    if any(above(s.f_u, HARDENED) for s in steel):
        raised.append(caution("softened-spot", counted=f"{HARDENED:g} MPa"))
    if any(s.material.grade.startswith("413") for s in steel):
        raised.append("hardened-spot")
    if any(s.material.family == "aluminium" for s in seam.sheets):
        raised.append("aluminium-spots")
    if seam.load_factor == 1.0:
        raised.append("unfactored-load")
    if not (in_plane or seam.peel or seam.compression):
        raised.append("no-load")
    if not seam.coupons:
        raised.append("no-coupons")
    if len(seam.sheets) == 3:
        raised.append("three-sheets")
    if len({s.material.family for s in seam.sheets}) > 1:
        raised.append("galvanic")
    raised += ["corrosion", "fatigue" if seam.cycles is None else "fatigue-estimate", "near-hazards"]
    if _schedule(seam):
        raised.append("schedule-start")
    raised += handbook_cautions(seam, checks)
    if any(c.provenance == "from memory" for c in checks if c.status in ("ok", "over")):
        raised.append("from-memory")
    return collect(raised)
