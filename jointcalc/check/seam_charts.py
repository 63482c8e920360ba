"""One spot in the plane of the sheets by charts, design allowables, acceptance floors and tests.

Handbook charts, MIL-HDBK-5, ASCE 8-02, the automotive standard and the pull-out model; they speak for the whole stack.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, lru_cache

from jointcalc.check.common import FITTED, OWN, PARTIAL, cores
from jointcalc.check.seam_base import (
    AISI_SPOT,
    FLOOR,
    IN_PLANE,
    MEAN,
    OPTIMUM_CHART,
    SeamAction,
    interface_pair,
    judged_or_bound,
    rolled_hard,
    size_needed,
)
from jointcalc.check.seam_spot import aisi_spot
from jointcalc.formula import spot_aisi, spot_d8_1, spot_models, spot_size
from jointcalc.formula.branch import above, at_least, below
from jointcalc.formula.core import Evaluation, Formula, Source, Status
from jointcalc.formula.safety import FITTING, LIMIT_LOAD
from jointcalc.model.seam import SpotSeam
from jointcalc.quantity.sentence import either, mm, mpa
from jointcalc.result import Check, Looked, Method, Stated, method
from jointcalc.result.factor import omega
from jointcalc.tables.store import LOOKED_UP, OutsideTable, load

KSI = 6.894757293168361
"""1000 psi [MPa]."""
OPTIMUM_MOST = 90.0
"""Tensile strength [ksi] up to which the optimum-conditions chart is printed."""
STRONG = 70.0
"""Tensile strengths [ksi] at which MIL-HDBK-5 changes its column for steel."""
ALUMINIUM_COLUMNS = ((56.0, "shear_ge_56ksi"), (35.0, "shear_35_to_56ksi"), (19.5, "shear_19_5_to_35ksi"))
"""The same for aluminium."""
NINETY = either(
    f"{OPTIMUM_MOST:g} ksi tensile strength ({OPTIMUM_MOST * KSI:.0f} MPa)", f"{OPTIMUM_MOST:g} ksi tensile strength"
)
GUARANTEED = "handbook minimum"
ALLOWABLE = "design allowable, ultimate"
D8_SHEAR = method(
    "d8.1m.shear-tension",
    "Least shear-tension strength",
    spot_d8_1.ST,
    per="spot",
    basis=FLOOR,
    factor=PARTIAL,
    covers=IN_PLANE,
)
PULL_OUT = method(
    "sawhill-baker.pull-out", "Pull-out of the spot", spot_models.SAWHILL, per="spot", basis="mean of tests", factor=OWN
)


@dataclass(frozen=True, slots=True)
class _Chart:
    """A handbook table of strength per spot: where to look and what it assumes."""

    method: Method
    table: str
    column: str
    nugget: str | None
    spread: float


_CLASSES = Source("spot-weld handbook, class A, B, C chart (metric)", "strength and nugget by thickness", "from memory")
_AISI_1996 = Source("AISI 1996, spot-weld table", "nominal shear by thickness", "read", "as reprinted in a handbook")
_MIL = Source("MIL-HDBK-5", "8.2.2.3.1(a), spot welds in steel", "from memory", "the table itself could not be opened")
_MIL_AL = Source("MIL-HDBK-5", "8.2.2.3.1, spot welds in aluminium", "from memory")
_ASCE = Source("ASCE 8-02", "Tables 3 and 4, stainless resistance spots", "from memory", "some rows read")

OPTIMUM = method(
    "handbook.optimum",
    "Optimum-conditions chart",
    OPTIMUM_CHART,
    per="spot",
    basis=GUARANTEED,
    factor=OWN,
    covers=IN_PLANE,
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
    factor=omega(spot_aisi.OMEGA_TABLES),
    covers=IN_PLANE,
)
MIL_STEEL = method(
    "mil-hdbk-5.spot-steel",
    "Military handbook, steel",
    _MIL,
    per="spot",
    basis=ALLOWABLE,
    factor=FITTED,
    covers=IN_PLANE,
)
MIL_ALUMINIUM = method(
    "mil-hdbk-5.spot-aluminium",
    "Military handbook, aluminium",
    _MIL_AL,
    per="spot",
    basis=ALLOWABLE,
    factor=FITTED,
    covers=IN_PLANE,
)
STAINLESS = method(
    "asce-8.spot-stainless",
    "Stainless spot table",
    _ASCE,
    per="spot",
    basis="nominal",
    factor=omega(spot_aisi.OMEGA_TABLES),
    covers=IN_PLANE,
)


def whole_stack(action: SeamAction) -> list[Check]:
    """Methods of two equal sheets: judged for the thinnest of the stack, which each interface's load may go through."""
    seam = action.seam
    t = seam.thinnest
    f_u = min(min(sheet.f_u, rolled_hard(sheet)) for sheet in seam.sheets)
    demand = action.largest * action.in_plane
    load = action.trace(action.largest)
    families = {sheet.material.family for sheet in seam.sheets}
    if families == {"steel"}:
        return [
            aisi_spot(seam, t, demand, load),
            _d8(action),
            *(_pull_outs(action)),
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


def d8_floor(t: float, formula: Formula) -> tuple[float, list[str], str]:
    """Thickness the floor is read at [mm], why that is the weak side of its range, and what is said of it."""
    low, high = formula.limits[0].low, formula.limits[0].high
    assert low is not None
    assert high is not None
    if above(t, high):
        return high, [], f"of sheet of {mm(high):g}, the thickest of the standard"
    return max(t, low), formula.outside(t=t), ""


def _d8(action: SeamAction) -> Check:
    """The automotive floor at the interface used most, by the thinner of its two sheets."""
    seam = action.seam
    found = []
    for where, a, b, part in seam.interfaces:
        t, _, f_u = interface_pair(a, b)
        size = spot_size.USUAL.evaluate(t=t)
        used, thin, told = d8_floor(t, spot_d8_1.SHEAR_TENSION)
        floor = spot_d8_1.SHEAR_TENSION.evaluate(t=used, S=f_u)
        at = f"the interface {where.replace('-', '–')}" if where else ""
        notes = ("floor for a 4√t weld; a larger one carries more", told, at)
        check = judged_or_bound(
            D8_SHEAR, [*thin, *size_needed(size, seam, "the floor")], capacity=float(floor.value),
            demand=part * action.in_plane, load_factor=seam.load_factor,
            trace=[floor, size, action.trace(part)], note="; ".join(filter(None, notes)),
        )  # fmt: skip
        # without a load the weaker one stands for both
        found.append(((part or 1e-12) / float(floor.value), check))
    return max(found, key=lambda one: one[0])[1]


def _pull_outs(action: SeamAction) -> list[Check]:
    seam = action.seam
    checks = []
    for where, a, b, part in seam.interfaces:
        t, _, f_u = interface_pair(a, b)
        model = spot_models.PULL_OUT.evaluate(f=spot_models.PULL_OUT_FACTOR, t=t, d=seam.d, S=f_u)
        size = spot_size.MINIMUM.evaluate(t=t)
        checks.append(
            judged_or_bound(
                PULL_OUT,
                size_needed(size, seam, "pull-out, not shear through the spot,"),
                capacity=float(model.value),
                demand=part * action.in_plane,
                required=seam.handbook_factor,
                trace=[*cores((a, b)), model, size, action.trace(part)],
                where=where,
            )
        )
    return checks


def _charts(f_u: float) -> tuple[_Chart, ...]:
    """The handbook tables for carbon steel.

    The column of MIL-HDBK-5 for steel from 150 ksi is not used: no grade here has so much, and what a certificate has
    above its grade heat takes away.
    """
    return _of_steel("shear_70_to_150ksi" if at_least(f_u / KSI, STRONG) else "shear_lt_70ksi")


@cache
def _of_steel(column: str) -> tuple[_Chart, ...]:
    """The same with the column of MIL-HDBK-5."""
    spreads = {row["class"].lower(): row.need("spread") for row in load("spot_class_spread").rows}
    return (
        _Chart(OPTIMUM, "spot_optimum", "shear_min", "nugget_diameter", 0.0),
        *(
            _Chart(
                CLASS[letter], "spot_class_abc_metric", f"{letter}_shear", f"{letter}_nugget_diameter", spreads[letter]
            )
            for letter in "abc"
        ),
        _Chart(AISI_1996, "spot_aisi1996", "shear", None, 0.0),
        _Chart(MIL_STEEL, "spot_mil_hdbk5_steel", column, None, 0.0),
    )


def _mil_aluminium_column(f_u: float) -> str:
    ksi = f_u / KSI
    for least, name in ALUMINIUM_COLUMNS:
        if at_least(ksi, least):
            return name
    return "shear_lt_19_5ksi"


def _chart(seam: SpotSeam, chart: _Chart, t: float, demand: float, given: Stated, f_u: float) -> Check:
    method = chart.method
    table = load(chart.table)
    first, _ = table.reach(chart.column)
    thin = []
    if below(t, first):
        thin.append(f"the table starts at {mm(first):.4g}, this is {mm(t):.4g}")
    # a thinner sheet carries no more than the thinnest of the table
    used = max(t, first)
    cited = (method.source.document, method.source.clause)
    try:
        strength = _looked(*cited, chart.table, chart.column, used, "F_s", "N")
        trace: list[Evaluation | Looked | Stated] = [strength]
        if chart.nugget:
            nugget = _looked(*cited, chart.table, chart.nugget, used, "d_chart", "mm")
            trace.append(nugget)
            need, what = nugget.value, "the chart"
        else:
            size = spot_size.TARGET if method in (AISI_1996, STAINLESS) else spot_size.USUAL
            evaluation = size.evaluate(t=t)
            trace.append(evaluation)
            need, what = float(evaluation.value), "no size is printed; this strength"
        weak = [*thin, *size_needed(need, seam, what)]
        weak += _mil_edge(seam, t) if method in (MIL_STEEL, MIL_ALUMINIUM) else []
    except OutsideTable as error:
        return method.outside(str(error), demand=demand)
    if method is OPTIMUM and above(f_u, OPTIMUM_MOST * KSI):
        strong = f"the chart is for sheet up to {NINETY}, this is {mpa(f_u):.0f}"
        return method.outside([*weak, strong], demand=demand, trace=trace)
    note = ""
    required = None if method.factor.parts else seam.handbook_factor
    if chart.spread:
        required = seam.handbook_factor / (1 - chart.spread)
        spread = f"{100 * chart.spread:.0f} %"
        note = f"class mean with a printed spread of {spread}: {seam.handbook_factor:g} / (1 - {chart.spread:g})"
    elif method in (MIL_STEEL, MIL_ALUMINIUM):
        note = f"ultimate allowable: {LIMIT_LOAD:g} on limit load (14 CFR 25.303) and {FITTING:g} (25.625)"
    if method is STAINLESS:
        note = "annealed column, the lowest of the table"
    if any(s.coated for s in seam.sheets):
        note = f"{note}; bare-sheet table" if note else "bare-sheet table: prove the size on coated sheet by coupons"
    return judged_or_bound(
        method, weak, capacity=strength.value, demand=demand, required=required, trace=[*trace, given], note=note
    )


@lru_cache(maxsize=LOOKED_UP)
def _looked(document: str, clause: str, name: str, column: str, t: float, symbol: str, unit: str) -> Looked:
    """A value of a chart, cited with the status of the rows it was read from; raises OutsideTable."""
    table = load(name)
    status: Status = table.row_status(t)  # type: ignore[assignment]  # the tables' words are the sources' words
    source = Source(document, clause, status)
    return Looked(symbol, unit, table.at(t, column), name, f"{column} at t = {mm(t):.4g}", source)


def _mil_edge(seam: SpotSeam, t: float) -> list[str]:
    """Why the edge is nearer than the handbook's; OutsideTable for sheet thicker than its list."""
    table = load("spot_mil_hdbk5_edge")
    need = table.at(max(t, table.reach("edge_min")[0]), "edge_min")
    if at_least(seam.least_edge, need):
        return []
    return [f"its edge distance is at least {mm(need):.3g}, this is {mm(seam.least_edge):.3g}"]
