"""A spot-welded seam, judged by every applicable published method side by side.

What the methods are differs, so what they ask for differs too:

- EN 1993-1-3 gives characteristic resistances: required gamma_M2 x gamma_F.
- AISI S100 and the older AISI table give nominal (class mean) strengths with their own Omega.
- The automotive standard gives acceptance floors for a 4 sqrt(t) weld: the scatter is in the floor
  already, so gamma_M2 x gamma_F is asked for (our choice, as for a characteristic value).
- Handbook charts give a guaranteed minimum (the builder's own factor) or a class mean with a printed
  spread (the builder's factor divided by 1 - spread).
- The military handbook gives ultimate design allowables: 1.5 on ultimate and 1.15 for a fitting.
- The pull-out model is a mean: the builder's own factor.

A spot smaller than a method assumes makes that method `outside`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import hypot, inf

from jointcalc.check.common import CHARACTERISTIC, OWN, PARTIAL, cores
from jointcalc.formula import lap, spot_aisi, spot_d8_1, spot_en1993, spot_models, spot_size
from jointcalc.formula.core import Evaluation, Formula, Source, Status
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
    Result,
    Stated,
    caution,
    collect,
    method,
)
from jointcalc.result.cautions import Caution
from jointcalc.tables.store import OutsideTable, load

KSI = 6.894757293168361

EN = spot_en1993.EN
MEAN = "class mean"
FLOOR = "acceptance floor"
GUARANTEED = "handbook minimum"
ALLOWABLE = "design allowable, ultimate"

EN_TEARING = method("en1993-1-3.tearing", "Tearing and bearing", EN, per="spot", basis=CHARACTERISTIC, factor=PARTIAL)
EN_END_ALONG = method(
    "en1993-1-3.end-along", "End of the sheet, along the seam", EN, per="spot", basis=CHARACTERISTIC, factor=PARTIAL
)
EN_END_ACROSS = method(
    "en1993-1-3.end-across", "Edge of the sheet, across the seam", EN, per="spot", basis=CHARACTERISTIC, factor=PARTIAL
)
EN_SPOT = method("en1993-1-3.spot-shear", "Shear of the spot", EN, per="spot", basis=CHARACTERISTIC, factor=PARTIAL)
EN_DUCTILITY = method(
    "en1993-1-3.ductility",
    "Sheet tears before the spot shears",
    EN,
    per="spot",
    basis="condition",
    factor="1.25, in the condition",
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
AISI_SPOT = method("aisi-s100.spot-shear", "Resistance spot", spot_aisi.S100, per="spot", basis=MEAN, factor="Ω = 2.35")
AISI_RUPTURE = method(
    "aisi-s100.shear-rupture",
    "Shear rupture along the row",
    spot_aisi.RUPTURE,
    per="seam",
    basis="nominal",
    factor="Ω = 2.50, welded",
)
AISI_PITCH = method(
    "aisi-s100.spot-pitch", "Pitch in compression", spot_aisi.SPACING, per="mm", basis="limit", factor="1 (a limit)"
)
D8_SHEAR = method(
    "d8.1m.shear-tension", "Least shear-tension strength", spot_d8_1.ST, per="spot", basis=FLOOR, factor=PARTIAL
)
D8_CROSS = method(
    "d8.1m.cross-tension", "Least cross-tension strength", spot_d8_1.CT, per="spot", basis=FLOOR, factor=OWN
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

OPTIMUM = method("handbook.optimum", "Optimum-conditions chart", _OPTIMUM, per="spot", basis=GUARANTEED, factor=OWN)
CLASS = {
    letter: method(
        f"handbook.class-{letter}", f"Class {letter.upper()} chart", _CLASSES, per="spot", basis=MEAN,
        factor="the builder's own factor / (1 - printed spread)",
    )
    for letter in "abc"
}  # fmt: skip
AISI_1996 = method(
    "aisi-1996.spot-table", "Older AISI table", _AISI_1996, per="spot", basis="nominal", factor="Ω = 2.50"
)
MIL_STEEL = method(
    "mil-hdbk-5.spot-steel", "Military handbook, steel", _MIL, per="spot", basis=ALLOWABLE, factor="1.5 × 1.15"
)
MIL_ALUMINIUM = method(
    "mil-hdbk-5.spot-aluminium",
    "Military handbook, aluminium",
    _MIL_AL,
    per="spot",
    basis=ALLOWABLE,
    factor="1.5 × 1.15",
)
STAINLESS = method(
    "asce-8.spot-stainless", "Stainless spot table", _ASCE, per="spot", basis="nominal", factor="Ω = 2.50"
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
    "detail.pitch-max", "Widest pitch", EN, per="mm", basis=DETAILING, bound="greatest", factor="1 (a limit)"
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
    factor="1 (a limit)",
)
STACK_TOTAL = method(
    "detail.stack-total",
    "Total stack",
    Source("resistance-welding guideline", "at most 4 x the thinnest outside sheet", "read"),
    per="mm",
    basis=DETAILING,
    bound="greatest",
    factor="1 (a limit)",
)

FIXITY_SPOT = 3.5

GAMMA_M0_OTHER = 1.1
"""Partial factor on yield of stainless steel (EN 1993-1-4) and aluminium (EN 1999-1-1), from memory; steel has 1.0."""


def check_seam(seam: SpotSeam) -> Result:
    """Judge a seam; raises InputError only when a needed strength is missing from its grade."""
    share = _Shares(seam)
    checks: list[Check] = []
    checks += _en(seam, share)
    checks += _whole_stack(seam, share)
    checks += _sheet(seam, share)
    checks += _peel(seam, share)
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
    return Result(
        kind=seam.kind,
        id=seam.id,
        title=seam.title,
        checks=tuple(checks),
        values=values,
        cautions=_cautions(seam, checks),
        unjudged=_unjudged(seam, checks),
        model=seam,
        about={"sheets": " + ".join(sheet.label for sheet in seam.sheets)},
    )


class _Shares:
    """Service load on one spot: equal shares of the seam's load over all spots."""

    def __init__(self, seam: SpotSeam) -> None:
        n = seam.spots
        self.along = abs(seam.shear) / n
        self.across = abs(seam.across) / n
        self.peel = abs(seam.peel) / n
        self.in_plane = hypot(self.along, self.across)
        self.largest = max(seam.shares, default=1.0)

    def trace(self, seam: SpotSeam, share: float, kind: str = "in-plane") -> Stated:
        part = "" if share == 1 else f"{share:g} x "
        total = hypot(seam.shear, seam.across)
        return Stated(
            "F", "N", share * self.in_plane, f"{part}{figures(total)} N / {seam.spots} spots, {kind}, equal shares"
        )


def _pair(a: Sheet, b: Sheet) -> tuple[float, float, float]:
    """(thinner, thicker, weaker tensile strength) of an interface; the weaker grade is taken for both."""
    return min(a.t, b.t), max(a.t, b.t), min(a.f_u, b.f_u)


def _reasons(formulas: Iterable[Formula], inputs: dict[str, float]) -> list[str]:
    found: dict[str, None] = {}
    for formula in formulas:
        found.update(dict.fromkeys(formula.outside(**inputs)))
    return list(found)


def _en(seam: SpotSeam, share: _Shares) -> list[Check]:
    checks: list[Check] = []
    required = GAMMA_M2 * seam.load_factor
    other = next((s.material.family for s in seam.sheets if s.material.family != "steel"), None)
    for where, a, b, part in seam.interfaces:
        t, t_1, f_u = _pair(a, b)
        base = {"t": t, "t_1": t_1, "d_s": seam.d, "f_u": f_u}
        demand = part * share.in_plane
        trace = [share.trace(seam, part)]
        if other:
            reason = f"written for carbon steel; this stack has {other}"
            checks += [m.outside(reason, demand=demand, where=where) for m in (EN_TEARING, EN_SPOT)]
            continue
        bounds = [spot_en1993.TEARING.evaluate(**base)]
        if t_1 > 2.5 * t * (1 + 1e-12):
            bounds.append(spot_en1993.TEARING_THICK_SPOT.evaluate(**base))
            bounds.append(spot_en1993.TEARING_THICK_SHEET.evaluate(**base))
        tearing = min(bounds, key=lambda e: float(e.value))
        spot = spot_en1993.SPOT_SHEAR.evaluate(**base)
        reasons = _reasons((spot_en1993.TEARING, spot_en1993.SPOT_SHEAR), base) + _en_spacing(seam, share)
        ends = _en_ends(seam, share, base)
        least = min([tearing, *(e for _, e, _, _ in ends if e is not None)], key=lambda e: float(e.value))
        needed = 1.25 * float(least.value)
        ductile = float(spot.value) >= needed * (1 - 1e-9)
        small = (
            f"spot of {seam.d:.3g} mm would shear before the sheet tears: F_v = {float(spot.value):.4g} N is less than "
            f"1.25 times {float(least.value):.4g} N"
        )
        stop = reasons + ([] if ductile else [small])
        plan = [(EN_TEARING, tearing, demand, bounds), (EN_SPOT, spot, demand, [spot])]
        for how, evaluation, force, why in ends:
            if evaluation is None:
                checks.append(how.outside(stop + why, demand=part * force, where=where))
            else:
                plan.append((how, evaluation, part * force, [evaluation]))
        for how, evaluation, force, steps in plan:
            steps_all: list[Evaluation | Looked | Stated] = [*cores((a, b)), *steps, *trace]
            if stop:
                checks.append(how.outside(stop, demand=force, trace=steps_all, where=where))
            else:
                checks.append(
                    how.judge(
                        capacity=float(evaluation.value),
                        demand=force,
                        required=required,
                        trace=steps_all,
                        where=where,
                        note=_weaker(a, b),
                    )
                )
        condition = EN_DUCTILITY.info if ductile and not reasons else None
        text = "met: the sheet tears first" if ductile else small
        if condition:
            checks.append(
                condition(capacity=float(spot.value), demand=needed, trace=[spot, least], note=text, where=where)
            )
        else:
            checks.append(EN_DUCTILITY.outside([text, *reasons] if not ductile else reasons, where=where))
    return checks


def _weaker(a: Sheet, b: Sheet) -> str:
    return "" if a.f_u == b.f_u else f"with the weaker of the two grades, f_u = {min(a.f_u, b.f_u):.4g} MPa"


def _en_spacing(seam: SpotSeam, share: _Shares) -> list[str]:
    """Pitch and edge limits of Table 8.4 for the directions that carry load (along when none does)."""
    d = {"d_s": seam.d}
    reasons: list[str] = []
    pitch = seam.actual_pitch if seam.along > 1 else None
    spacing = seam.row_spacing if seam.rows > 1 else None
    if share.along or not share.across:
        if pitch is not None:
            reasons += _limits(spot_en1993.PITCH_ALONG, {"p_1": pitch, **d})
        if spacing is not None:
            reasons += _limits(spot_en1993.PITCH_ACROSS, {"p_2": spacing, **d})
        reasons += _limits(spot_en1993.EDGE, {"e_2": seam.edge, **d})
    if share.across:
        if spacing is not None:
            reasons += _limits(spot_en1993.PITCH_ALONG, {"p_1": spacing, **d})
        if pitch is not None:
            reasons += _limits(spot_en1993.PITCH_ACROSS, {"p_2": pitch, **d})
        reasons += _limits(spot_en1993.EDGE, {"e_2": seam.actual_end, **d}) if seam.along == 1 else []
    return list(dict.fromkeys(reasons))


def _limits(limits: Iterable[object], inputs: dict[str, float]) -> list[str]:
    return [limit.reason(inputs) for limit in limits if not limit.inside(inputs)]  # type: ignore[attr-defined]


def _en_ends(
    seam: SpotSeam, share: _Shares, base: dict[str, float]
) -> list[tuple[Method, Evaluation | None, float, list[str]]]:
    """End checks in the loaded directions: (method, evaluation, load, reasons why there is none)."""
    found: list[tuple[Method, Evaluation | None, float, list[str]]] = []
    directions = [(EN_END_ALONG, seam.actual_end, share.along, "end"), (EN_END_ACROSS, seam.edge, share.across, "edge")]
    for how, e_1, force, word in directions:
        if not force:
            continue
        inputs = {**base, "e_1": e_1}
        # Beyond 6 d_s the end is simply far away: the formula is evaluated at its last valid distance.
        if e_1 > 6 * seam.d:
            inputs["e_1"] = 6 * seam.d
        reasons = spot_en1993.END_DISTANCE.outside(**inputs)
        if reasons:
            reasons = [f"{word} distance: {reason}" for reason in reasons]
            found.append((how, None, force, reasons))
        else:
            found.append((how, spot_en1993.END_DISTANCE.evaluate(**inputs), force, []))
    return found


def _needs(diameter: Evaluation | float, seam: SpotSeam, what: str) -> list[str]:
    need = diameter if isinstance(diameter, float) else float(diameter.value)
    if seam.d >= need * (1 - 1e-9):
        return []
    return [f"{what} assumes a spot of at least {need:.3g} mm, this one is {seam.d:.3g} mm"]


def _whole_stack(seam: SpotSeam, share: _Shares) -> list[Check]:
    """Methods that see the stack as one: strength by the thinnest outside sheet."""
    t = seam.outside_thickness
    f_u = min(sheet.f_u for sheet in seam.sheets)
    demand = share.largest * share.in_plane
    load = share.trace(seam, share.largest)
    families = {sheet.material.family for sheet in seam.sheets}
    if families == {"steel"}:
        return [
            _aisi(seam, t, demand, load),
            *_d8(seam, f_u, demand, load),
            *(_pull_outs(seam, share)),
            *(_chart(seam, chart, t, demand, load, f_u) for chart in _charts(f_u)),
        ]
    if families == {"stainless"}:
        chart = _Chart(STAINLESS, "spot_stainless_shear", "shear_annealed", None, 0.0)
        return [_chart(seam, chart, t, demand, load, f_u)]
    if families == {"aluminium"}:
        column = _mil_aluminium_column(f_u)
        return [
            _chart(seam, _Chart(MIL_ALUMINIUM, "spot_mil_hdbk5_aluminium", column, None, 0.0), t, demand, load, f_u)
        ]
    reason = f"no published table covers spots between {' and '.join(sorted(families))}"
    return [m.outside(reason, demand=demand) for m in (AISI_SPOT, D8_SHEAR, OPTIMUM)]


def _aisi(seam: SpotSeam, t: float, demand: float, load: Stated) -> Check:
    formula = spot_aisi.spot(t)
    size = spot_size.TARGET.evaluate(t=t)
    reasons = formula.outside(t=t) + _needs(size, seam, "the strength is the mean of set-up size spots: it")
    if reasons:
        return AISI_SPOT.outside(reasons, demand=demand, trace=[size])
    nominal = formula.evaluate(t=t)
    return AISI_SPOT.judge(
        capacity=float(nominal.value),
        demand=demand,
        required=spot_aisi.OMEGA,
        trace=[nominal, size, load],
        note="no account of grade, number of sheets or edge",
    )


def _d8(seam: SpotSeam, f_u: float, demand: float, load: Stated) -> list[Check]:
    t = seam.governing_thickness
    size = spot_size.USUAL.evaluate(t=t)
    reasons = spot_d8_1.SHEAR_TENSION.outside(t=t, S=f_u) + _needs(size, seam, "the floor")
    if reasons:
        return [D8_SHEAR.outside(reasons, demand=demand, trace=[size])]
    floor = spot_d8_1.SHEAR_TENSION.evaluate(t=t, S=f_u)
    return [
        D8_SHEAR.judge(
            capacity=float(floor.value), demand=demand, required=GAMMA_M2 * seam.load_factor, trace=[floor, size, load],
            note="floor for a 4√t weld; a larger one carries more",
        )
    ]  # fmt: skip


def _pull_outs(seam: SpotSeam, share: _Shares) -> list[Check]:
    checks = []
    for where, a, b, part in seam.interfaces:
        t, _, f_u = _pair(a, b)
        model = spot_models.PULL_OUT.evaluate(f=spot_models.PULL_OUT_FACTOR, t=t, d=seam.d, S=f_u)
        size = spot_size.MINIMUM.evaluate(t=t)
        demand = part * share.in_plane
        reasons = _needs(size, seam, "pull-out, not shear through the spot,")
        if reasons:
            checks.append(PULL_OUT.outside(reasons, demand=demand, trace=[size], where=where))
        else:
            checks.append(
                PULL_OUT.judge(
                    capacity=float(model.value),
                    demand=demand,
                    required=seam.handbook_factor,
                    trace=[*cores((a, b)), model, share.trace(seam, part)],
                    where=where,
                )
            )
    return checks


def _charts(f_u: float) -> list[_Chart]:
    """The handbook tables for carbon steel."""
    ksi = f_u / KSI
    column = "shear_ge_150ksi" if ksi >= 150 else "shear_70_to_150ksi" if ksi >= 70 else "shear_lt_70ksi"
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
    if ksi >= 56:
        return "shear_ge_56ksi"
    if ksi >= 35:
        return "shear_35_to_56ksi"
    return "shear_19_5_to_35ksi" if ksi >= 19.5 else "shear_lt_19_5ksi"


def _chart(seam: SpotSeam, chart: _Chart, t: float, demand: float, given: Stated, f_u: float) -> Check:
    how = chart.method
    table = load(chart.table)
    status: Status = table.row_status(t)  # type: ignore[assignment]  # the tables' words are the sources' words
    source = Source(how.source.document, how.source.clause, status)

    def looked(symbol: str, unit: str, column: str) -> Looked:
        return Looked(symbol, unit, table.at(t, column), chart.table, f"{column} at t = {t:.4g} mm", source)

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
        reasons = _needs(need, seam, what)
        if how is OPTIMUM and f_u > 90 * KSI:
            reasons.append(
                f"the chart is for sheet up to 90 ksi tensile strength ({90 * KSI:.0f} MPa), this is {f_u:.0f} MPa"
            )
        if how in (MIL_STEEL, MIL_ALUMINIUM):
            reasons += _mil_edge(seam, t)
    except OutsideTable as error:
        return how.outside(str(error), demand=demand)
    if reasons:
        return how.outside(reasons, demand=demand, trace=trace)
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
    return how.judge(capacity=strength.value, demand=demand, required=required, trace=[*trace, given], note=note)


def _mil_edge(seam: SpotSeam, t: float) -> list[str]:
    try:
        need = load("spot_mil_hdbk5_edge").at(t, "edge_min")
    except OutsideTable as error:
        return [f"edge distance: {error}"]
    if seam.edge >= need * (1 - 1e-9):
        return []
    return [f"its edge distance is at least {need:.3g} mm, this is {seam.edge:.3g} mm"]


def _sheet(seam: SpotSeam, share: _Shares) -> list[Check]:
    """The sheets themselves across and along the row; the weakest governs.

    The middle one of three carries all of it when the outer two pull the other way.
    """
    checks: list[Check] = []
    other = next((s.material.family for s in seam.sheets if s.material.family != "steel"), None)
    gamma_M0 = 1.0 if other is None else GAMMA_M0_OTHER
    partial_0 = gamma_M0 * seam.load_factor
    metal = "" if other is None else f"γ_M0 = {gamma_M0:g} for {other} (EN 1993-1-4, EN 1999-1-1; from memory)"

    def weakest(formula: Formula, inputs: str, **fixed: float) -> tuple[Evaluation, Sheet]:
        every = []
        for sheet in seam.sheets:
            strength = sheet.f_u if inputs == "f_u" else sheet.f_y
            every.append((formula.evaluate(t=sheet.t, **{inputs: strength}, **fixed), sheet))
        return min(every, key=lambda pair: float(pair[0].value))

    yields = all(s.has_yield for s in seam.sheets)
    no_yield = "the grade's standard lets no yield strength be assumed; state 'yield_strength'"
    if share.across:
        best: tuple[Evaluation, Evaluation] | None = None
        for sheet in seam.sheets:
            area = lap.NET_AREA.evaluate(t=sheet.t, L=seam.length, n=seam.along, d=seam.d)
            net = spot_en1993.NET_SECTION.evaluate(A_net=float(area.value), f_u=sheet.f_u)
            if best is None or float(net.value) < float(best[1].value):
                best = (area, net)
        assert best is not None
        together = _spots_against_net(seam, float(best[1].value))
        thick = [sheet.t for sheet in seam.sheets]
        stop = spot_en1993.NET_SECTION.outside(t=min(thick), t_1=max(thick))
        if other is not None:
            stop.append(f"written for carbon steel; this stack has {other}")
        checks.append(
            EN_NET.outside(stop, demand=abs(seam.across), trace=best)
            if stop
            else EN_NET.judge(
                capacity=float(best[1].value),
                demand=abs(seam.across),
                required=GAMMA_M2 * seam.load_factor,
                trace=best,
                note=f"spots deducted from the section, on the safe side; {together}",
            )
        )
        if yields:
            evaluation, _ = weakest(lap.YIELD_ACROSS, "f_y", L=seam.length)
            checks.append(
                EN_YIELD_ACROSS.judge(
                    capacity=float(evaluation.value),
                    demand=abs(seam.across),
                    required=partial_0,
                    trace=[evaluation],
                    note=metal,
                )
            )
        else:
            checks.append(EN_YIELD_ACROSS.outside(no_yield, demand=abs(seam.across)))
    if share.along:
        if yields:
            evaluation, _ = weakest(lap.YIELD_ALONG, "f_y", L=seam.length)
            checks.append(
                EN_YIELD_ALONG.judge(
                    capacity=float(evaluation.value),
                    demand=abs(seam.shear),
                    required=partial_0,
                    trace=[evaluation],
                    note=metal,
                )
            )
        else:
            checks.append(EN_YIELD_ALONG.outside(no_yield, demand=abs(seam.shear)))
        every = []
        for sheet in seam.sheets:
            area = lap.NET_AREA.evaluate(t=sheet.t, L=seam.length, n=seam.along, d=seam.d)
            every.append((area, spot_aisi.SHEAR_RUPTURE.evaluate(A_nv=float(area.value), f_u=sheet.f_u)))
        pair = min(every, key=lambda p: float(p[1].value))
        if other is not None:
            reason = f"written for carbon steel; this stack has {other}"
            return [*checks, AISI_RUPTURE.outside(reason, demand=abs(seam.shear), trace=pair)]
        checks.append(
            AISI_RUPTURE.judge(
                capacity=float(pair[1].value),
                demand=abs(seam.shear),
                required=spot_aisi.OMEGA_RUPTURE_WELDED,
                trace=pair,
            )
        )
    return checks


def _spots_against_net(seam: SpotSeam, net: float) -> str:
    """The condition sum F_v >= 1.25 F_n of Table 8.4 in words: which of the two gives way first."""
    spots = seam.spots * float(spot_en1993.SPOT_SHEAR(d_s=seam.d, f_u=min(s.f_u for s in seam.sheets)))
    if spots >= 1.25 * net:
        return "ΣF_v ≥ 1.25 F_n is met: the sheet gives way before the spots"
    return "ΣF_v is under 1.25 F_n: the spots or the sheet round them give way before the section does"


def _peel(seam: SpotSeam, share: _Shares) -> list[Check]:
    if not share.peel:
        return []
    demand = share.largest * share.peel
    given = Stated("N", "N", demand, f"{figures(abs(seam.peel))} N / {seam.spots} spots, peel, equal shares")
    if any(s.material.family != "steel" for s in seam.sheets):
        reason = "no published peel model for this metal is known to jointcalc; use coupons"
        return [D8_CROSS.outside(reason, demand=demand), CHAO_CROSS.outside(reason, demand=demand)]
    checks = []
    # whichever sheet is lifted off: not the governing thickness of the stack, which of three is the second thickest
    t = min(sheet.t for sheet in seam.sheets)
    f_u = min(sheet.f_u for sheet in seam.sheets)
    size = spot_size.USUAL.evaluate(t=t)
    reasons = spot_d8_1.CROSS_TENSION.outside(t=t) + _needs(size, seam, "the floor")
    if reasons:
        checks.append(D8_CROSS.outside(reasons, demand=demand, trace=[size]))
    else:
        cross = spot_d8_1.CROSS_TENSION.evaluate(t=t)
        shear = spot_d8_1.SHEAR_TENSION.evaluate(t=t, S=f_u)
        lower = min(float(cross.value), float(shear.value))
        note = "peel is harder on a spot than the straight pull of this test"
        if lower < float(cross.value):
            note += "; capped at the shear-tension floor, which is lower for this sheet"
        checks.append(
            D8_CROSS.judge(
                capacity=lower,
                demand=demand,
                required=seam.handbook_factor,
                trace=[cross, shear, size, given],
                note=note,
            )
        )
    worst: tuple[float, tuple[Evaluation, ...]] | None = None
    for _, a, b, _ in seam.interfaces:
        thin, thick, weak = _pair(a, b)
        inputs = {"t": thin, "t_1": thick, "d_s": seam.d, "f_u": weak}
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
        how = "the peel arm" if seam.peel_arm is not None else "the edge distance taken as peel arm"
        checks.append(
            RUPP_PEEL.info(
                capacity=thin_sheet.f_y,
                demand=float(stress.value),
                unit="MPa",
                trace=[stress],
                note=f"elastic stress with {how}; "
                + (
                    "it is past yield: the sheet bends open at the spot"
                    if float(stress.value) > thin_sheet.f_y
                    else "above yield the sheet bends open at the spot"
                ),
            )
        )
    return checks


def _together(checks: list[Check], share: _Shares) -> list[Check]:
    """Linear sum of the governing utilisations in shear and in peel."""
    if not share.peel or not share.in_plane:
        return []
    per_spot = [
        c
        for c in checks
        if c.per == "spot" and c.utilisation is not None and c.status in ("ok", "over") and c.method.basis != DETAILING
    ]
    shear = max((c for c in per_spot if c.method.key not in PEEL), key=lambda c: c.utilisation or 0.0, default=None)
    peel = max((c for c in per_spot if c.method.key in PEEL), key=lambda c: c.utilisation or 0.0, default=None)
    if shear is None or peel is None:
        return [ROW_INTERACTION.outside("no method applies to one of the two loads", unit="1")]
    u_v, u_n = shear.utilisation or 0.0, peel.utilisation or 0.0
    trace = [
        Stated("u_V", "1", u_v, f"utilisation of {shear.key}"),
        Stated("u_N", "1", u_n, f"utilisation of {peel.key}"),
    ]
    return [
        ROW_INTERACTION.judge(
            capacity=1.0, demand=u_v + u_n, required=1.0, unit="1", trace=trace, note="sum of the two utilisations"
        )
    ]


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


def _compression(seam: SpotSeam) -> list[Check]:
    if seam.compression is None:
        return []
    from jointcalc.formula import column

    outer = (seam.sheets[0], seam.sheets[-1])
    pitch = seam.actual_pitch
    checks = []
    # the thinner sheet by limit (b), the stronger by limit (c): whichever allows less
    limits = [_pitch_limit(seam, sheet, seam.compression) for sheet in outer]
    least, trace = min(limits, key=lambda found: found[0])
    note = ""
    if seam.flat_beside is None:
        note = "limit (c) needs the flat width beside the row ('flat_beside') and was not checked"
    elif not all(sheet.has_yield for sheet in outer):
        note = "limit (c) needs the yield strength of both outer sheets and was not checked for all"
    other = next((sheet.material.family for sheet in outer if sheet.material.family != "steel"), None)
    if other is None:
        checks.append(AISI_PITCH.judge(capacity=least, demand=pitch, required=1.0, unit="mm", trace=trace, note=note))
    else:
        reason = f"written for carbon steel of E 203 000 MPa; this stack has {other}"
        checks.append(AISI_PITCH.outside(reason, demand=pitch, unit="mm"))
    between = []
    for one in outer:
        if one.has_yield:
            elastic = column.INTER_FASTENER_COLUMN.evaluate(C=FIXITY_SPOT, E=one.material.E, t=one.t, p=pitch)
            branch, how = column.inter_fastener_branch(F_e=float(elastic.value), f_y=one.f_y)
            working = [elastic] if branch is None else [elastic, branch.evaluate(F_e=float(elastic.value), f_y=one.f_y)]
            between.append((float(working[-1].value), working, how))
    if between:
        capacity, working, how = min(between, key=lambda found: found[0])
        checks.append(
            BETWEEN_SPOTS.judge(
                capacity=capacity,
                demand=seam.compression,
                required=seam.load_factor,
                unit="MPa",
                trace=working,
                note=f"end fixity C = {FIXITY_SPOT} for spots is not verified by test; {how}",
            )
        )
    return checks


PEEL = frozenset({D8_CROSS.key, CHAO_CROSS.key, RUPP_PEEL.key})
"""Keys of the methods that judge a spot across the sheets; the other per-spot methods judge it in plane."""


def _unjudged(seam: SpotSeam, checks: list[Check]) -> tuple[str, ...]:
    """Loads on the spot that no method covers: the sheet around it holding is no answer for the spot."""
    spots = {c.method.key for c in checks if c.per == "spot" and c.status in ("ok", "over")}
    spots -= {STACK_RATIO.key, ROW_INTERACTION.key}
    missing = []
    if not spots - PEEL:
        missing.append(f"no method applies to a spot of {seam.d:.3g} mm in these sheets under shear")
    if seam.peel and not spots & PEEL:
        missing.append("no method applies to these spots under peel")
    return tuple(missing)


def _fatigue(seam: SpotSeam, share: _Shares) -> list[Check]:
    """The fatigue screen of the thinnest interface; empty when no cycles were given."""
    if seam.cycles is None:
        return []
    from jointcalc.check.fatigue import spot_fatigue

    # of two with the same thin sheet the thicker pair, whose offset bends the spot more
    a, b = min(
        ((a, b) for _, a, b, _ in seam.interfaces),
        key=lambda pair: (min(pair[0].t, pair[1].t), -(pair[0].t + pair[1].t)),
    )
    part = share.largest * seam.load_range
    return spot_fatigue(
        t=min(a.t, b.t),
        d=seam.d,
        shear=part * share.in_plane,
        peel=part * share.peel,
        arm=(a.t + b.t) / 2,
        cycles=seam.cycles,
    )


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
        widest = 8 * d
        checks.append(
            PITCH_MAX.info(
                capacity=widest,
                demand=seam.actual_pitch,
                unit="mm",
                note="8 spot diameters along the load, the range of EN 1993-1-3"
                + ("; wider spots let the lap gape and rust" if seam.actual_pitch > widest else ""),
            )
        )
    if seam.rows > 1 and seam.row_spacing is not None:
        checks.append(ROW_MIN.judge(capacity=seam.row_spacing, demand=least, required=1.0, unit="mm", trace=trace))
    edge = max(1.25 * d, d / 2 + 3.0)
    how = Stated("e_min", "mm", edge, "the larger of 1.25 d and a rim of 3 mm beyond the spot")
    checks.append(EDGE.judge(capacity=seam.edge, demand=edge, required=1.0, unit="mm", trace=[how]))
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
    thick = [s.thickness for s in seam.sheets]
    ratio = max(thick) / min(thick)
    checks.append(STACK_RATIO.judge(capacity=3.0, demand=ratio, required=1.0, unit="1"))
    checks.append(STACK_TOTAL.judge(capacity=4 * min(thick[0], thick[-1]), demand=sum(thick), required=1.0, unit="mm"))
    return checks


def _schedule(seam: SpotSeam) -> dict[str, Amount]:
    """A starting schedule: the optimum-conditions chart for bare steel, BS 1140 for zinc, where they reach."""
    families = {s.material.family for s in seam.sheets}
    ordered = sorted(s.thickness for s in seam.sheets)
    t = ordered[0] if len(ordered) == 2 else ordered[1]
    if families != {"steel"}:
        return {}
    if any(s.coated for s in seam.sheets):
        for row in load("spot_setup_bs1140").rows:
            if row.need("t_from") - 1e-9 <= t <= row.need("t_to") + 1e-9:  # 0.8 mm typed in inches is still 0.8 mm
                low_high = {
                    "schedule_force": ("force_hot_dip_zinc", "N"),
                    "schedule_time": ("time_hot_dip_zinc", "cycles at 50 Hz"),
                    "schedule_current": ("current_hot_dip_zinc", "A"),
                }
                found = {"schedule_tip": Amount(row.need("tip_diameter"), "mm")}
                for name, (column, unit) in low_high.items():
                    low, high = row.need(f"{column}_low"), row.need(f"{column}_high")
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
    for how, code in (
        (STACK_RATIO, "stack-ratio"),
        (PITCH_MIN, "shunting"),
        (ROW_MIN, "shunting"),
        (EDGE, "edge-distance"),
    ):
        if how.key in by_key:
            raised.append(code)
    if seam.edge < 2 * seam.d and seam.across:
        raised.append("edge-distance")
    if any(s.coated for s in seam.sheets):
        raised.append("zinc-tips")
    if seam.peel:
        raised += ["peel", "unzip"]
    usual = float(spot_size.USUAL(t=seam.governing_thickness))
    if seam.d < usual * (1 - 1e-9):
        raised.append(caution("small-spot", d=f"{seam.d:.3g}", usual=f"{usual:.3g}"))
    if seam.load_factor == 1.0:
        raised.append("unfactored-load")
    if not (seam.shear or seam.across or seam.peel or seam.compression):
        raised.append("no-load")
    if not seam.coupons:
        raised.append("no-coupons")
    if len(seam.sheets) == 3:
        raised.append("three-sheets")
    if len({s.material.family for s in seam.sheets}) > 1:
        raised.append("galvanic")
    raised += ["corrosion", "fatigue", "near-hazards"]
    if _schedule(seam):
        raised.append("schedule-start")
    if seam.handbook_factor == 3.0:
        raised.append(caution("handbook-default", factor="3.0"))
    if any(c.provenance == "from memory" for c in checks if c.status in ("ok", "over")):
        raised.append("from-memory")
    return collect(raised)
