"""Plug, slot and arc spot welds, judged by every applicable published method side by side.

- AISC 360 J2.3 and EN 1993-1-8 judge the weld metal on the area of the hole: holes of at least t + 8 mm, which a sheet
  metal worker rarely punches; AISC (by AWS D1.1) also asks for parts of 3 mm, EN 1993-1-8 for 4 mm.
- EN 1993-1-3 treats a smaller rosette as a fusion-welded spot of 0.5 t + 5 mm at the interface (or what sectioned
  coupons show), the sheet tearing round it.
- AISI S100 and EN 1993-1-3, 8.5.3 judge arc spots melted through sheet that was not holed.

No published method gives a plug weld strength when the sheets are lifted apart; only AISI does, for arc spots.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import hypot

from jointcalc.check.common import CHARACTERISTIC, NOMINAL, PARTIAL, Steps, cores
from jointcalc.formula import arc_spot_aisi as aisi
from jointcalc.formula import arc_spot_en1993 as arc_en
from jointcalc.formula import lap, plug_aisc, spot_aisi, spot_en1993, spot_size
from jointcalc.formula.branch import above, at_least, at_most, below
from jointcalc.formula.core import Evaluation, Formula, Limit, Source
from jointcalc.model.fields import PURPOSES
from jointcalc.model.plug import PlugRow
from jointcalc.model.sheet import Sheet
from jointcalc.result import (
    DETAILING,
    GAMMA_M2,
    Amount,
    Check,
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
from jointcalc.tables.store import Row, load

AISC_PLUG = method(
    "aisc360.plug-shear",
    "Weld metal on hole area (AISC)",
    plug_aisc.STRENGTH,
    per="weld",
    basis=NOMINAL,
    factor="Ω = 2.00",
    covers=("weld",),
)
AISC_FUSED = method(
    "aisc360.plug-fused-area",
    "Weld metal on the fused area",
    Source("AISC 360", "J2.3, its stress on the area fused at the interface", "derivation", "the stress is AISC's"),
    per="weld",
    basis=NOMINAL,
    factor="Ω = 2.00",
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
EN_SPOT = method(
    "en1993-1-3.plug-spot-shear",
    "Shear of the plug",
    spot_en1993.EN,
    per="weld",
    basis=CHARACTERISTIC,
    factor=PARTIAL,
    covers=("weld",),
)
EN_END_ALONG = method(
    "en1993-1-3.plug-end-along",
    "End of the sheet, along the row",
    spot_en1993.EN,
    per="weld",
    basis=CHARACTERISTIC,
    factor=PARTIAL,
    covers=("end-along",),
)
EN_END_ACROSS = method(
    "en1993-1-3.plug-end-across",
    "Edge of the sheet, across",
    spot_en1993.EN,
    per="weld",
    basis=CHARACTERISTIC,
    factor=PARTIAL,
    covers=("end-across",),
)
EN_NET = method(
    "en1993-1-3.plug-net-section",
    "Net section across the row",
    spot_en1993.EN,
    per="seam",
    basis=CHARACTERISTIC,
    factor=PARTIAL,
    covers=("sheet-across",),
)
EN_YIELD_ACROSS = method(
    "en1993-1-3.plug-yield-across",
    "Yield of the sheet across the row",
    lap.YIELD,
    per="seam",
    basis=CHARACTERISTIC,
    factor="γ_M0 × γ_F",
    covers=("sheet-across",),
)
EN_YIELD_ALONG = method(
    "en1993-1-3.plug-yield-along",
    "Shear yield of the sheet along the row",
    lap.YIELD,
    per="seam",
    basis=CHARACTERISTIC,
    factor="γ_M0 × γ_F",
    covers=("sheet-along",),
)
AISI_END = method(
    "aisi-s100.plug-tear-out",
    "Tear-out to the end",
    aisi.RUPTURE,
    per="weld",
    basis=NOMINAL,
    factor="Ω = 2.50, welded",
)
AISI_ROW = method(
    "aisi-s100.plug-row-rupture",
    "Shear rupture along the row",
    spot_aisi.RUPTURE,
    per="seam",
    basis=NOMINAL,
    factor="Ω = 2.50, welded",
    covers=("sheet-along",),
)
AISI_WELD = method(
    "aisi-s100.arc-spot-weld",
    "Arc spot, weld metal (AISI)",
    aisi.SHEAR,
    per="weld",
    basis=NOMINAL,
    factor="Ω = 2.55",
    covers=("weld",),
)
AISI_SHEET = method(
    "aisi-s100.arc-spot-sheet",
    "Arc spot, sheet (AISI)",
    aisi.SHEAR,
    per="weld",
    basis=NOMINAL,
    factor="Ω = 2.20, 2.80 or 3.05 by slenderness",
    covers=("weld",),
)
AISI_SEAM_WELD = method(
    "aisi-s100.arc-seam-weld",
    "Arc seam, weld metal",
    aisi.SEAM,
    per="weld",
    basis=NOMINAL,
    factor="Ω = 2.55",
    covers=("weld",),
)
AISI_SEAM_SHEET = method(
    "aisi-s100.arc-seam-sheet",
    "Arc seam, sheet around it",
    aisi.SEAM,
    per="weld",
    basis=NOMINAL,
    factor="Ω = 2.55",
    covers=("weld",),
)
AISI_UPLIFT_WELD = method(
    "aisi-s100.arc-spot-uplift-weld",
    "Uplift, weld metal",
    aisi.TENSION,
    per="weld",
    basis=NOMINAL,
    factor="Ω = 3.00, deck 2.50",
    covers=("uplift",),
)
AISI_UPLIFT_SHEET = method(
    "aisi-s100.arc-spot-uplift-sheet",
    "Uplift, sheet around it",
    aisi.TENSION,
    per="weld",
    basis=NOMINAL,
    factor="Ω = 3.00, deck 2.50",
    covers=("uplift",),
)
AISI_BOTH = method(
    "aisi-s100.arc-spot-interaction",
    "Shear and uplift together",
    aisi.INTERACTION,
    per="weld",
    basis="sum of utilisations",
    factor="1",
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
EN_ARC_EDGE = method(
    "en1993-1-3.arc-spot-edge",
    "Edge distance for the force",
    arc_en.CLAUSE,
    per="mm",
    basis="limit",
    factor="1 (γ_M2 and γ_F are in the limit)",
)
HOLE_LEAST = method(
    "detail.plug-hole-min",
    "Hole against the structural codes",
    plug_aisc.LIMITS_READ,
    per="mm",
    basis=DETAILING,
    bound="least",
    factor="1 (a limit)",
)
HOLE_GREATEST = method(
    "detail.plug-hole-max",
    "Greatest hole for the weld",
    plug_aisc.LIMITS_READ,
    per="mm",
    basis=DETAILING,
    bound="greatest",
    factor="1 (a limit)",
)
HOLE_PRACTICE = method(
    "detail.plug-hole-practice",
    "Hole by habit of the trade",
    plug_aisc.PRACTICE,
    per="mm",
    basis=DETAILING,
    bound="least",
    factor="none: information",
)
SPACING = method(
    "detail.plug-spacing",
    "Spacing of plug or slot welds",
    plug_aisc.LIMITS_MEMORY,
    per="mm",
    basis=DETAILING,
    bound="least",
    factor="1 (a limit)",
)
ROW_SPACING = method(
    "detail.plug-row-spacing",
    "Spacing of the rows",
    plug_aisc.LIMITS_MEMORY,
    per="mm",
    basis=DETAILING,
    bound="least",
    factor="1 (a limit)",
)
SLOT_LENGTH = method(
    "detail.slot-length",
    "Greatest length of a slot",
    plug_aisc.LIMITS_MEMORY,
    per="mm",
    basis=DETAILING,
    bound="greatest",
    factor="1 (a limit)",
)
FILL = method(
    "detail.plug-fill",
    "Depth of fill",
    plug_aisc.LIMITS_READ,
    per="mm",
    basis=DETAILING,
    bound="least",
    factor="1 (a limit)",
)
ARC_EDGE = method(
    "detail.arc-spot-edge",
    "Edge distance of an arc spot",
    aisi.EDGE,
    per="mm",
    basis=DETAILING,
    bound="least",
    factor="1 (a limit)",
)
ARC_CLEAR = method(
    "detail.arc-spot-clear",
    "Clear distance to the edge",
    aisi.EDGE,
    per="mm",
    basis=DETAILING,
    bound="least",
    factor="1 (a limit)",
)
AREA_METHODS = (AISC_PLUG, EN_PLUG)
THIN_D11 = 3.0
"""Thinnest part of AWS D1.1 [mm] (1/8 in), the welding code AISC 360 rests on; thinner sheet tears first."""


def check_plug(row: PlugRow) -> Result:
    """Judge a row of plug, slot or arc spot welds."""
    load_ = _Shares(row)
    if row.hole is not None:
        checks, sizes = _plug(row, load_)
    else:
        checks, sizes = _arc_spot(row, load_)
    checks += _sheet(row, load_)
    values = {
        "welds": Amount(float(row.welds), "1"),
        "pitch": Amount(row.actual_pitch, "mm"),
        "end_distance": Amount(row.actual_end, "mm"),
        **sizes,
        "shear_per_weld": Amount(load_.along, "N"),
        "across_per_weld": Amount(load_.across, "N"),
        "uplift_per_weld": Amount(load_.uplift, "N"),
    }
    what = f"hole {row.diameter:.4g} mm" if row.hole is not None else f"arc spot {row.diameter:.4g} mm"
    if row.slot is not None:
        what = f"slot {row.diameter:.4g} x {row.slot:.4g} mm"
    return Result(
        kind=row.kind,
        id=row.id,
        title=row.title,
        checks=tuple(checks),
        values=values,
        cautions=_cautions(row, checks),
        unjudged=_unjudged(row, checks),
        model=row,
        about={"sheets": " + ".join(sheet.label for sheet in row.sheets), "weld": f"{what}, {row.filler}"},
    )


class _Shares:
    """Service load on one weld: equal shares of the row's load."""

    def __init__(self, row: PlugRow) -> None:
        n = row.welds
        self.along, self.across, self.uplift = abs(row.shear) / n, abs(row.across) / n, abs(row.uplift) / n
        self.in_plane = hypot(self.along, self.across)
        total = hypot(row.shear, row.across)
        self.how = Stated("F", "N", self.in_plane, f"{total:.4g} N / {n} welds, in plane, equal shares")
        self.how_uplift = Stated("T", "N", self.uplift, f"{abs(row.uplift):.4g} N / {n} welds, uplift, equal shares")


def _steel_only(row: PlugRow) -> list[str]:
    other = next((s.material.family for s in row.sheets if s.material.family == "aluminium"), None)
    return [f"written for steel; this stack has {other}"] if other else []


def _carbon_only(row: PlugRow) -> list[str]:
    """The American clauses are for carbon steel; EN 1993-1-4 sends stainless to parts 1-3 and 1-8."""
    other = next((s.material.family for s in row.sheets if s.material.family != "steel"), None)
    return [f"written for carbon steel; this stack has {other}"] if other else []


GROWS = ("t", "t_1", "d_e", "d_s", "F_xx")
"""Inputs of the arc spot clauses that make a weld stronger: below their range they bound from above."""
ROOM = ("F_xx / F_u", "e_min / d")
"""Limits below which the weld is weaker than its clause assumes, though the clause's value does not know of it."""


def _edge(formula: Formula, inputs: dict[str, float]) -> dict[str, float] | None:
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


def _judged(
    how: Method, formula: Formula, inputs: dict[str, float], *, demand: float, required: float, before: Steps,
    after: Steps, reasons: Iterable[str] = (), where: str = "", note: str = "", share: float = 1.0,
    edge: dict[str, float] | None = None, weak: Iterable[str] = (), covers: Iterable[str] | None = None,
) -> Check:  # fmt: skip
    """One formula turned into a check, or `outside` with every reason.

    `reasons` say that the method is for something else; `weak` that the weld is weaker than it assumes.  With inputs at
    the `edge` of its range, given or found, a method left on the weak side bounds the weld from above.
    """
    other, left = list(reasons), [*weak, *formula.outside(**inputs)]
    if other:
        return how.outside(list(dict.fromkeys([*other, *left])), demand=demand, trace=[*before, *after], where=where)
    if left:
        at = edge if edge is not None else _edge(formula, inputs)
        told = list(dict.fromkeys(left))
        if at is None:
            return how.outside(told, demand=demand, trace=[*before, *after], where=where)
        bound = formula.evaluate(**at)
        return how.at_most(
            told,
            capacity=share * float(bound.value),
            demand=demand,
            required=required,
            trace=[*before, bound, *after],
            where=where,
            covers=covers,
        )
    evaluation = formula.evaluate(**inputs)
    return how.judge(
        capacity=share * float(evaluation.value),
        demand=demand,
        required=required,
        trace=[*before, evaluation, *after],
        where=where,
        note=note,
        covers=covers,
    )


# --- plug and slot welds ---------------------------------------------------------------------------


def _plug(row: PlugRow, load_: _Shares) -> tuple[list[Check], dict[str, Amount]]:
    assert row.hole is not None
    area = (
        plug_aisc.HOLE_AREA.evaluate(d=row.hole)
        if row.slot is None
        else plug_aisc.SLOT_AREA.evaluate(d=row.hole, l=row.slot)
    )
    fill = row.fill if row.fill is not None else row.top
    geometry = {"d": row.hole, "t": row.top, "w": fill}
    f_u = min(s.f_u for s in row.sheets)
    steel, carbon = _steel_only(row), _carbon_only(row)
    thin = min(s.t for s in row.sheets)
    # a hole too small for the codes: the weld is no stronger than one on the least hole they know
    least = max(row.top, 4.0) + 8.0
    d_edge = max(row.hole, least)
    slot_area, hole_area = plug_aisc.SLOT_AREA, plug_aisc.HOLE_AREA
    A_edge = float(hole_area(d=d_edge)) if row.slot is None else float(slot_area(d=d_edge, l=max(row.slot, d_edge)))
    d11 = [] if at_least(thin, THIN_D11) else [
        f"AWS D1.1 behind it starts at 3 mm (1/8 in), the sheet is {thin:.3g} mm and tears round the weld before the "
        "weld metal shears"
    ]  # fmt: skip
    required = GAMMA_M2 * row.load_factor
    steps: Steps = [*cores(row.sheets), area]
    A_w = float(area.value)
    stainless = any(s.material.family == "stainless" for s in row.sheets)
    checks = [
        _judged(
            AISC_PLUG,
            plug_aisc.WELD_SHEAR,
            {"A_w": A_w, "F_EXX": row.F_EXX, **geometry},
            demand=load_.in_plane,
            required=plug_aisc.SAFETY.Omega,
            before=steps,
            after=[load_.how],
            reasons=carbon,
            weak=d11,
            edge={"A_w": A_edge, "F_EXX": row.F_EXX},
        ),
        _judged(
            EN_PLUG,
            plug_aisc.WELD_SHEAR_EN,
            {"A_w": A_w, "f_u": f_u, "beta_w": 1.0 if stainless else _beta_w(row), **geometry},
            demand=load_.in_plane,
            required=required,
            before=steps,
            after=[load_.how],
            reasons=steel,
            edge={"A_w": A_edge, "f_u": f_u, "beta_w": 1.0 if stainless else _beta_w(row)},
        ),
    ]
    fusion, d_s = _fusion(row, load_, required, steel)
    checks += fusion
    checks += _hole_details(row, fill, [c for c in checks if c.method in AREA_METHODS and c.status in ("ok", "over")])
    sizes = {"hole": Amount(row.hole, "mm"), "weld_area": Amount(A_w, "mm^2"), "interface_diameter": Amount(d_s, "mm")}
    if row.slot is not None:
        sizes["slot"] = Amount(row.slot, "mm")
    return checks, sizes


def _beta_w(row: PlugRow) -> float:
    """Correlation factor of the strongest parent steel, by its yield strength (EN 1993-1-8 Table 4.1)."""
    strong = max(s.f_y if s.has_yield else 235.0 for s in row.sheets)
    rows = load("beta_w").rows
    found = next((r for r in rows if at_least(float(r["grade"].removeprefix("S")), strong)), rows[-1])
    return found.need("beta_w")


def _fusion(row: PlugRow, load_: _Shares, required: float, steel: list[str]) -> tuple[list[Check], float]:
    """EN 1993-1-3, spots made by fusion welding, at each interface of the stack."""
    checks: list[Check] = []
    smallest = float("inf")
    pairs = list(zip(row.sheets[:-1], row.sheets[1:]))
    for n, (a, b) in enumerate(pairs):
        where = "" if len(pairs) == 1 else f"{n + 1}-{n + 2}"
        t, t_1, f_u = min(a.t, b.t), max(a.t, b.t), min(a.f_u, b.f_u)
        d_s, how = _interface(row, t)
        smallest = min(smallest, d_s)
        base = {"t": t, "t_1": t_1, "d_s": d_s, "f_u": f_u}
        close, wide = _spacing(row, load_, d_s)
        weak = [*_small_hole(row), *close]
        bounds = [spot_en1993.TEARING.evaluate(**base)]
        if above(t_1, 2.5 * t):
            bounds += [
                spot_en1993.TEARING_THICK_SPOT.evaluate(**base),
                spot_en1993.TEARING_THICK_SHEET.evaluate(**base),
            ]
        tearing = min(bounds, key=lambda e: float(e.value))
        # a thicker sheet underneath tears no sooner: only the thinner one's range counts
        reasons = [*steel, *spot_en1993.TEARING.outside(**{**base, "t_1": min(t_1, 4.0)})]
        spot = spot_en1993.SPOT_SHEAR.evaluate(**base)
        brittle = below(float(spot.value), 1.25 * float(tearing.value))
        notes = [
            "" if row.interface else "interface diameter by the standard; prove it on sectioned coupons",
            "" if row.slot is None else "a slot holds at least what a round weld of its width does",
            *wide,
        ]
        shears = (
            f"the weld would shear before the sheet tears ({float(spot.value):.4g} N against 1.25 times "
            f"{float(tearing.value):.4g} N): it is counted with that reserve"
        )
        if brittle:
            bounds = [*bounds, spot, spot_en1993.DUCTILE_BOUND.evaluate(F_v=float(spot.value))]
        tears = float(bounds[-1].value) if brittle else float(tearing.value)
        before: Steps = [*cores((a, b)), *how]
        after: Steps = [load_.how]
        plan: list[tuple[Method, list[Evaluation], float, float, list[str], list[str]]] = [
            (EN_TEARING, bounds, tears, load_.in_plane, [], [shears] if brittle else []),
            (EN_SPOT, [spot], float(spot.value), load_.in_plane, [], []),
            *((end, [e], float(e.value), force, near, []) for end, e, force, near in _ends(row, load_, base)),
        ]
        if not steel:
            # strong sheet does not make the filler stronger
            fused = plug_aisc.HOLE_AREA.evaluate(d=d_s)
            metal = plug_aisc.WELD_SHEAR.evaluate(A_w=float(fused.value), F_EXX=row.F_EXX)
            steps: Steps = [*cores((a, b)), *how, fused, metal, load_.how]
            given_metal = {"demand": load_.in_plane, "required": plug_aisc.SAFETY.Omega, "trace": steps, "where": where}
            if weak:
                grown = max(1.0, float(spot_size.FUSION_EN(t=t)) / d_s) ** 2 if row.interface is None else 1.0
                checks.append(AISC_FUSED.at_most(weak, capacity=float(metal.value) * grown, **given_metal))  # type: ignore[arg-type]
            else:
                checks.append(AISC_FUSED.judge(capacity=float(metal.value), **given_metal))  # type: ignore[arg-type]
        for one, evaluations, capacity, demand, near, more in plan:
            trace: Steps = [*before, *evaluations, *after]
            given = {
                "capacity": capacity, "demand": demand, "required": required, "trace": trace, "where": where,
            }  # fmt: skip
            if reasons:
                checks.append(
                    one.outside([*dict.fromkeys(reasons), *weak, *near], demand=demand, trace=trace, where=where)
                )
            elif weak or near:
                # at the edge of the range the spot is what a hole of the usual size gives; nothing else is in the value
                full = {**base, "d_s": max(d_s, float(spot_size.FUSION_EN(t=t)))} if row.interface is None else base
                factor = full["d_s"] / d_s
                # what grows fastest with the spot, its shear, bounds all that do; the end does not know of it
                grown = 1.0 if one in (EN_END_ALONG, EN_END_ACROSS) else factor**2
                given["capacity"] = capacity * grown
                checks.append(one.at_most(list(dict.fromkeys([*weak, *near])), **given))  # type: ignore[arg-type]
            else:
                note = "; ".join(text for text in [*more, *notes] if text)
                checks.append(one.judge(**given, note=note))  # type: ignore[arg-type]
    return checks, smallest


def _interface(row: PlugRow, t: float) -> tuple[float, Steps]:
    """Interface diameter of a plug [mm]: measured, else 0.5 t + 5 mm but not more than the hole."""
    assert row.hole is not None
    if row.interface is not None:
        return row.interface, [Stated("d_s", "mm", row.interface, "measured on sectioned coupons")]
    standard = spot_size.FUSION_EN.evaluate(t=t)
    if float(standard.value) <= row.hole:
        return float(standard.value), [standard]
    return row.hole, [standard, Stated("d_s", "mm", row.hole, "not more than the hole")]


def _small_hole(row: PlugRow) -> list[str]:
    """Why the hole is too small to be sure that the weld fuses to the sheet below; empty when it is not."""
    assert row.hole is not None
    if row.interface is not None:
        return []  # shown on sectioned coupons
    habit = _habit(row.top)
    low = habit.need("hole_low")
    if at_least(row.hole, low):
        return []
    return [
        f"a hole of {row.hole:.3g} mm in {row.top:.3g} mm is smaller than the {low:g} mm the trade punches: the arc "
        "may bridge it without fusing the sheet below; punch it larger, or give 'interface' as measured on sectioned "
        "coupons"
    ]


def _habit(t: float) -> Row:
    """The trade's holes for the sheets above [mm]: between two rows the next thicker, beyond the last the last."""
    rows = load("plug_hole_practice").rows
    return next((r for r in rows if at_most(t, r.need("t_to"))), rows[-1])


def _ends(row: PlugRow, load_: _Shares, base: dict[str, float]) -> list[tuple[Method, Evaluation, float, list[str]]]:
    """End and edge of the sheet in the loaded directions: method, value, force, and why it is too near."""
    found: list[tuple[Method, Evaluation, float, list[str]]] = []
    directions = (
        (EN_END_ALONG, row.actual_end, load_.along, "end"),
        (EN_END_ACROSS, row.edge, load_.across, "edge"),
    )
    for how, e_1, force, word in directions:
        if not force:
            continue
        d_s = base["d_s"]
        # beyond 6 d_s the end is simply far away: the formula is used at its last distance; below 2 d_s it bounds
        inputs = {**base, "t_1": min(base["t_1"], 4.0), "e_1": min(max(e_1, 2 * d_s), 6 * d_s)}
        near = [] if at_least(e_1, 2 * d_s) else [f"{word} distance {e_1:.3g} mm, at least 2 d_s = {2 * d_s:.3g} mm"]
        found.append((how, spot_en1993.END_DISTANCE.evaluate(**inputs), force, near))
    return found


def _spacing(row: PlugRow, load_: _Shares, d_s: float) -> tuple[list[str], list[str]]:
    """Pitch and edge of Table 8.5 in the loaded directions (along the row when nothing is loaded): too close, too wide.

    Too close makes the welds weaker than the table assumes.  Wider than its greatest they are single welds, no weaker
    each: that is told, and does not refuse them.
    """
    close: dict[str, None] = {}
    wide: dict[str, None] = {}

    def look(of: Iterable[Limit], word: str, **inputs: float | None) -> None:
        value = next(iter(inputs.values()))
        if value is None:
            return
        for limit in of:
            at = {**inputs, "d_s": d_s}
            ratio = float(limit.value(at))
            if limit.low is not None and not at_least(ratio, limit.low):
                close[limit.reason(at)] = None
            elif limit.high is not None and not at_most(ratio, limit.high):
                wide[
                    f"{word} {value:.3g} mm is beyond the {limit.high * d_s:.3g} mm of the table: counted as at it"
                ] = None

    pitch = row.actual_pitch if row.along > 1 else None
    spacing = row.row_spacing if row.rows > 1 else None
    if load_.along or not load_.across:
        look(spot_en1993.PITCH_ALONG, "pitch", p_1=pitch)
        look(spot_en1993.PITCH_ACROSS, "row spacing", p_2=spacing)
        look(spot_en1993.EDGE, "edge", e_2=row.edge)
    if load_.across:
        look(spot_en1993.PITCH_ALONG, "row spacing", p_1=spacing)
        look(spot_en1993.PITCH_ACROSS, "pitch", p_2=pitch)
        if row.along == 1:
            look(spot_en1993.EDGE, "end", e_2=row.actual_end)
    return list(close), list(wide)


def _hole_details(row: PlugRow, fill: float, by_area: list[Check]) -> list[Check]:
    """Limits on the hole: they judge where a method that needs them is used, else they inform."""
    assert row.hole is not None
    t, d = row.top, row.hole
    least = plug_aisc.LEAST_HOLE.evaluate(t=t)
    greatest = plug_aisc.GREATEST_HOLE.evaluate(d_min=float(least.value), w=fill)
    deep = plug_aisc.LEAST_FILL.evaluate(t=t)
    checks = [
        HOLE_LEAST.info(
            capacity=d,
            demand=float(least.value),
            unit="mm",
            trace=[least],
            note=""
            if at_least(d, float(least.value))
            else "smaller: the codes' strength on the hole's area is not used",
        ),
        FILL.judge(capacity=fill, demand=float(deep.value), required=1.0, unit="mm", trace=[deep]),
    ]
    spacing: list[tuple[Method, Evaluation, float]] = []
    if row.along > 1:
        need = plug_aisc.LEAST_PLUG_SPACING if row.slot is None else plug_aisc.LEAST_SLOT_SPACING_ALONG
        inputs = {"d": d} if row.slot is None else {"l": row.slot}
        spacing.append((SPACING, need.evaluate(**inputs), row.actual_pitch))
    if row.rows > 1 and row.row_spacing is not None:
        need = plug_aisc.LEAST_PLUG_SPACING if row.slot is None else plug_aisc.LEAST_SLOT_SPACING_ACROSS
        spacing.append((ROW_SPACING, need.evaluate(d=d), row.row_spacing))
    limits: list[tuple[Method, float, Evaluation]] = []
    if by_area:
        checks.append(
            HOLE_GREATEST.judge(capacity=float(greatest.value), demand=d, required=1.0, unit="mm", trace=[greatest])
        )
        if row.slot is not None:
            longest = plug_aisc.GREATEST_SLOT_LENGTH.evaluate(w=fill)
            limits.append((SLOT_LENGTH, row.slot, longest))
    for one, has, longest in limits:
        checks.append(one.judge(capacity=float(longest.value), demand=has, required=1.0, unit="mm", trace=[longest]))
    for rule, evaluation, has in spacing:
        if by_area:
            checks.append(
                rule.judge(capacity=has, demand=float(evaluation.value), required=1.0, unit="mm", trace=[evaluation])
            )
        else:
            checks.append(
                rule.info(
                    capacity=has,
                    demand=float(evaluation.value),
                    unit="mm",
                    trace=[evaluation],
                    note="asked for where the structural clause is used",
                )
            )
    habit = _habit(t)
    low, high = habit.need("hole_low"), habit.need("hole_high")
    checks.append(
        HOLE_PRACTICE.info(
            capacity=d, demand=low, unit="mm", note=f"the trade punches {low:g} to {high:g} mm for this sheet"
        )
    )
    return checks


# --- arc spot welds ----------------------------------------------------------------------------------


def _arc_spot(row: PlugRow, load_: _Shares) -> tuple[list[Check], dict[str, Amount]]:
    assert row.visible is not None
    several = len(row.sheets) > 2
    support = above(row.base.t, row.top)
    t = row.top if support else min(row.top, row.base.t)
    d_a = (aisi.AVERAGE_DIAMETER_LAPPED if several else aisi.AVERAGE_DIAMETER_ONE_SHEET).evaluate(
        d=row.visible, t=row.top
    )
    d_e = aisi.EFFECTIVE_DIAMETER.evaluate(d=row.visible, t=row.top)
    checks = _aisi_arc(row, load_, d_a, d_e, t, support)
    en_checks, d_s = _en_arc(row, load_)
    checks += en_checks
    e_min = aisi.LEAST_EDGE_DISTANCE.evaluate(d=row.visible)
    nearest_edge = min(row.edge, row.actual_end)
    clear = min(row.edge - row.visible / 2, row.actual_end - row.overall / 2)
    checks += [
        ARC_EDGE.judge(capacity=nearest_edge, demand=float(e_min.value), required=1.0, unit="mm", trace=[e_min]),
        ARC_CLEAR.judge(
            capacity=clear,
            demand=row.visible,
            required=1.0,
            unit="mm",
            trace=[Stated("e_clear", "mm", row.visible, "one visible diameter, AISI S100 J2.2.1 (from memory)")],
        ),
    ]
    return checks, {
        "visible_diameter": Amount(row.visible, "mm"),
        "average_diameter": Amount(float(d_a.value), "mm"),
        "effective_diameter": Amount(float(d_e.value), "mm"),
        "interface_diameter": Amount(d_s, "mm"),
    }


def _aisi_arc(
    row: PlugRow, load_: _Shares, average: Evaluation, effective: Evaluation, t: float, support: bool
) -> list[Check]:
    assert row.visible is not None
    d_a, d_e = float(average.value), float(effective.value)
    if row.interface is not None:
        d_e = min(d_e, row.interface)
    thin = min(s.t for s in row.sheets[:-1])
    tops = row.sheets[:-1] if support else row.sheets
    F_u = min(s.f_u for s in tops)
    base = {
        "t": t, "t_1": max(thin, aisi.WASHER_BELOW) if row.weld_washer else thin, "d": row.visible, "d_a": d_a,
        "d_e": d_e, "F_u": F_u, "F_xx": row.F_EXX, "E": aisi.E_AISI, "e_min": min(row.edge, row.actual_end),
    }  # fmt: skip
    steel = _carbon_only(row)
    before: Steps = [*cores(row.sheets), average, effective]
    after: Steps = [load_.how]
    checks: list[Check] = []
    if row.seam is not None:
        L = min(row.seam, 3 * row.visible)
        for how, formula in ((AISI_SEAM_WELD, aisi.SEAM_WELD_SHEAR), (AISI_SEAM_SHEET, aisi.SEAM_SHEET_SHEAR)):
            checks.append(
                _judged(
                    how,
                    formula,
                    {**base, "L": L},
                    demand=load_.in_plane,
                    required=aisi.OMEGA_SEAM.Omega,
                    before=before,
                    after=after,
                    reasons=steel,
                )
            )
        if load_.uplift:
            reason = "the uplift rule is for round spots, this one is elongated"
            checks += [m.outside(reason, demand=load_.uplift) for m in (AISI_UPLIFT_WELD, AISI_UPLIFT_SHEET)]
        return checks
    branch = aisi.sheet_shear(d_a=d_a, t=t, F_u=F_u)
    formula, omega, why = branch.formula, branch.safety.Omega, branch.why
    if not support:
        # a sheet no thicker underneath holds no better than a support: the lower of the two rules
        thin_rule, thin_omega = aisi.SHEET_TO_SHEET_SHEAR, aisi.OMEGA_SHEET_TO_SHEET.Omega
        lower = float(thin_rule(**{n: base[n] for n in thin_rule.parameters})) / thin_omega
        as_support = float(formula(**{n: base[n] for n in formula.parameters})) / omega
        if thin_rule.outside(**base) and _edge(thin_rule, base) is None:
            why = "; ".join(thin_rule.outside(**base))
            over_support = formula.evaluate(**base)
            sheet = (
                AISI_SHEET.outside(steel, demand=load_.in_plane)
                if steel
                else AISI_SHEET.at_most(
                    f"sheet to sheet: {why}",
                    capacity=float(over_support.value),
                    demand=load_.in_plane,
                    required=omega,
                    trace=[*before, over_support, *after],
                )
            )
        else:
            why = "sheet to sheet: what lies underneath is no thicker"
            if at_most(lower, as_support):
                formula, omega = thin_rule, thin_omega
            else:
                why += ", and the rule for a support gives less"
            sheet = _judged(
                AISI_SHEET, formula, base, demand=load_.in_plane, required=omega, before=before, after=after,
                reasons=steel, note=why, weak=thin_rule.outside(**base) if formula is not thin_rule else (),
            )  # fmt: skip
    else:
        sheet = _judged(
            AISI_SHEET, formula, base, demand=load_.in_plane, required=omega, before=before, after=after,
            reasons=steel, note=why,
        )  # fmt: skip
    in_plane = [
        _judged(
            AISI_WELD,
            aisi.WELD_SHEAR,
            base,
            demand=load_.in_plane,
            required=aisi.OMEGA_WELD.Omega,
            before=before,
            after=after,
            reasons=steel,
        ),
        sheet,
    ]
    checks += in_plane
    if not load_.uplift:
        return checks
    uplift = _aisi_uplift(row, load_, base, before, steel, tops)
    checks += uplift
    checks += _aisi_together(load_, in_plane, uplift, base, tops)
    return checks


def _aisi_uplift(
    row: PlugRow, load_: _Shares, base: dict[str, float], before: Steps, steel: list[str], tops: tuple[Sheet, ...]
) -> list[Check]:
    share, why = {
        "field": (1.0, ""),
        "edge": (0.5, "half: eccentric load at the edge of a sheet"),
        "side-lap": (0.7, "70 %: side lap between sheets"),
    }[row.uplift_place]
    place: Steps = [Stated("k", "1", share, why)] if why else []
    omega = (aisi.OMEGA_TENSION_DECK if row.deck else aisi.OMEGA_TENSION_OTHER).Omega
    reasons = list(steel)
    if not all(s.has_yield for s in tops):
        reasons.append("needs a yield strength, and the grade's standard lets none be assumed; give 'yield_strength'")
        F_y = 1.0
    else:
        F_y = max(s.f_y for s in tops)
    checks = []
    for how, formula in ((AISI_UPLIFT_WELD, aisi.WELD_TENSION), (AISI_UPLIFT_SHEET, aisi.SHEET_TENSION)):
        inputs = {**base, "F_y": F_y}
        if reasons:
            checks.append(how.outside(reasons, demand=load_.uplift))
            continue
        checks.append(
            _judged(
                how,
                formula,
                inputs,
                demand=load_.uplift,
                required=omega,
                before=[*before, *place],
                after=[load_.how_uplift],
                note=why,
                share=share,
            )
        )
    return checks


def _aisi_together(
    load_: _Shares, in_plane: list[Check], uplift: list[Check], base: dict[str, float], tops: tuple[Sheet, ...]
) -> list[Check]:
    def available(checks: list[Check]) -> tuple[float, float] | None:
        used = [c for c in checks if c.status in ("ok", "over") and c.capacity and c.demand]
        if len(used) < len(checks):
            return None
        worst = min(used, key=lambda c: (c.capacity.value or 0.0) / (c.required_factor or 1.0))  # type: ignore[union-attr]
        assert worst.capacity is not None
        assert worst.demand is not None
        return float(worst.demand.value or 0.0), float(worst.capacity.value or 0.0) / float(
            worst.required_factor or 1.0
        )

    shear, tension = available(in_plane), available(uplift)
    if not load_.in_plane:
        return []
    if shear is None or tension is None:
        return [AISI_BOTH.outside("one of the two loads has no method of its own", unit="1")]
    (V, V_a), (T, T_a) = shear, tension
    inputs = {**base, "F_y": max(s.f_y for s in tops), "V": V, "V_a": V_a, "T": T, "T_a": T_a}
    together = aisi.SHEAR_AND_TENSION.evaluate(**inputs)
    if at_most((T / T_a) ** 1.5, 0.15):
        return [
            AISI_BOTH.info(
                capacity=1.0,
                demand=float(together.value),
                unit="1",
                trace=[together],
                note="not needed: (T/T_a)^1.5 is at most 0.15",
            )
        ]
    reasons = aisi.SHEAR_AND_TENSION.outside(**inputs)
    if reasons:
        return [AISI_BOTH.outside(reasons, unit="1", trace=[together])]
    return [AISI_BOTH.judge(capacity=1.0, demand=float(together.value), required=1.0, unit="1", trace=[together])]


def _en_arc(row: PlugRow, load_: _Shares) -> tuple[list[Check], float]:
    assert row.visible is not None
    S_t = row.top
    interface = arc_en.INTERFACE_DIAMETER.evaluate(d_w=row.visible, S_t=S_t)
    d_s = float(interface.value)
    if row.interface is not None:
        d_s = min(d_s, row.interface)
    several = len(row.sheets) > 2
    peripheral = (
        arc_en.PERIPHERAL_DIAMETER_SHEETS.evaluate(d_w=row.visible, S_t=S_t)
        if several
        else arc_en.PERIPHERAL_DIAMETER_ONE_SHEET.evaluate(d_w=row.visible, t=S_t)
    )
    d_p = float(peripheral.value)
    f_u = min(s.f_u for s in row.sheets[:-1])
    thin = min(s.t for s in row.sheets[:-1])
    base = {
        "S_t": S_t, "t": max(thin, 0.7) if row.weld_washer else thin, "d_s": d_s, "d_p": d_p, "f_u": f_u,
        "f_uw": row.F_EXX, "L_w": row.seam or 0.0,
    }  # fmt: skip
    required = GAMMA_M2 * row.load_factor
    before: Steps = [*cores(row.sheets), interface, peripheral]
    steel = _steel_only(row)
    note = ""
    if row.seam is None:
        branch = arc_en.peripheral(d_p=d_p, S_t=S_t, f_u=f_u)
        pairs = ((EN_ARC_WELD, arc_en.WELD_SHEAR), (EN_ARC_SHEET, branch.formula))
        note = branch.why
    else:
        pairs = ((EN_ARC_WELD, arc_en.ELONGATED_WELD_SHEAR), (EN_ARC_SHEET, arc_en.ELONGATED_PERIPHERAL))
    checks = [
        _judged(
            how,
            formula,
            base,
            demand=load_.in_plane,
            required=required,
            before=before,
            after=[load_.how],
            reasons=steel,
            note=note if how is EN_ARC_SHEET else "",
        )
        for how, formula in pairs
    ]
    for e, force, where in ((row.actual_end, load_.along, "along"), (row.edge, load_.across, "across")):
        if not force:
            continue
        weak = min(row.sheets[:-1], key=lambda s: s.t * s.f_u)
        ratio = weak.f_u / weak.f_y if weak.has_yield else 1.0
        formula = arc_en.LEAST_EDGE_LOW if at_most(ratio, 1.15) else arc_en.LEAST_EDGE_HIGH
        need = formula.evaluate(F_w_Sd=row.load_factor * force, t=weak.t, f_u=weak.f_u, gamma_M2=GAMMA_M2)
        checks.append(
            EN_ARC_EDGE.judge(
                capacity=e,
                demand=float(need.value),
                required=1.0,
                unit="mm",
                trace=[need],
                where=where,
                covers=(f"end-{where}",),
            )
            if not steel
            else EN_ARC_EDGE.outside(steel, unit="mm", where=where)
        )
    return checks, d_s


# --- the sheet, and what is said of it all -----------------------------------------------------------


def _sheet(row: PlugRow, load_: _Shares) -> list[Check]:
    """Sheet between weld and end, and the sheet's section through the row."""
    steel, carbon = _steel_only(row), _carbon_only(row)
    checks: list[Check] = []
    d, size = row.diameter, row.overall
    for e, half, force, where in (
        (row.actual_end, size / 2, load_.along, "along"),
        (row.edge, d / 2, load_.across, "across"),
    ):
        if not force:
            continue
        weak = min(row.sheets, key=lambda s: s.t * s.f_u)
        checks.append(
            _judged(
                AISI_END,
                aisi.SHEET_END_RUPTURE,
                {"F_u": weak.f_u, "t": weak.t, "e_net": e - half},
                demand=force,
                required=aisi.OMEGA_RUPTURE.Omega,
                before=[*cores((weak,))],
                after=[load_.how],
                reasons=carbon,
                where=where,
                covers=(f"end-{where}",),
            )
        )
    rows = (
        (EN_NET, spot_en1993.NET_SECTION, row.across, GAMMA_M2 * row.load_factor, "A_net"),
        (AISI_ROW, spot_aisi.SHEAR_RUPTURE, row.shear, aisi.OMEGA_RUPTURE.Omega, "A_nv"),
    )
    for how, formula, force, required, symbol in rows:
        if not force:
            continue
        weak = min(row.sheets, key=lambda s: s.t * s.f_u)
        net = lap.NET_AREA.evaluate(t=weak.t, L=row.length, n=float(row.along), d=size)
        inputs = {symbol: float(net.value), "f_u": weak.f_u, "t": weak.t, "t_1": weak.t}
        checks.append(
            _judged(
                how,
                formula,
                inputs,
                demand=abs(force),
                required=required,
                before=[*cores((weak,)), net],
                after=[],
                reasons=carbon if how is AISI_ROW else steel,
            )
        )
    checks += _yields(row, steel)
    return checks


GAMMA_M0_OTHER = 1.1
"""Partial factor on yield of stainless steel (EN 1993-1-4), from memory; carbon steel has 1.0."""


def _yields(row: PlugRow, steel: list[str]) -> list[Check]:
    """Yield of the gross sheet: the weaker of the sheets, away from the welds."""
    checks: list[Check] = []
    for how, formula, force in (
        (EN_YIELD_ACROSS, lap.YIELD_ACROSS, row.across),
        (EN_YIELD_ALONG, lap.YIELD_ALONG, row.shear),
    ):
        if not force:
            continue
        unknown = [] if all(s.has_yield for s in row.sheets) else ["needs the yield strength of every sheet"]
        if steel or unknown:
            checks.append(how.outside([*steel, *unknown], demand=abs(force)))
            continue
        weak = min(row.sheets, key=lambda s: s.t * s.f_y)
        stainless = any(s.material.family == "stainless" for s in row.sheets)
        gross = formula.evaluate(t=weak.t, L=row.length, f_y=weak.f_y)
        checks.append(
            how.judge(
                capacity=float(gross.value),
                demand=abs(force),
                required=(GAMMA_M0_OTHER if stainless else 1.0) * row.load_factor,
                trace=[*cores((weak,)), gross],
            )
        )
    return checks


def _unjudged(row: PlugRow, checks: list[Check]) -> tuple[str, ...]:
    """Parts of the load that no method covers: sheet holding elsewhere is no answer for the weld."""
    judged = [c for c in checks if c.status in ("ok", "over") and (c.demand is None or c.demand.value is not None)]
    used = {c.method.key for c in judged}
    missing: list[str] = []
    # an arc spot needs both sides of one method: weld metal that holds says nothing of the sheet round it
    pairs = ((AISI_WELD, AISI_SHEET), (AISI_SEAM_WELD, AISI_SEAM_SHEET), (EN_ARC_WELD, EN_ARC_SHEET))
    whole = [{m.key} for m in (AISC_PLUG, EN_PLUG)] + [{m.key for m in pair} for pair in pairs]
    # the rule for fused spots is asked at every interface of the stack
    interfaces = len(row.sheets) - 1
    everywhere = sum(c.method is EN_TEARING for c in judged) == interfaces
    if not everywhere and not any(keys <= used for keys in whole):
        missing.append("no method applies to these welds in shear")
    if row.uplift and not {AISI_UPLIFT_WELD.key, AISI_UPLIFT_SHEET.key} <= used:
        why = "no published rule covers plug welds lifted off; turn the joint into shear, or test coupons"
        missing.append(why if row.hole is not None else "no method applies to these welds in uplift")
    needs = []
    for force, where, word in ((row.shear, "along", "end"), (row.across, "across", "edge")):
        if force:
            needs.append(Need(f"end-{where}", f"no method applies to the sheet between weld and {word}"))
            needs.append(
                Need(f"sheet-{where}", f"no method applies to the section of the sheet, pulled {where} the row")
            )
    if row.uplift and (row.shear or row.across):
        needs.append(Need("both", "no method applies to shear and uplift together"))
    informed = [c for c in checks if c.method is AISI_BOTH and c.status == "info"]  # small enough not to be asked
    return (*missing, *(m for m in uncovered(needs, checks) if not (informed and "together" in m)))


def _cautions(row: PlugRow, checks: list[Check]) -> tuple[Caution, ...]:
    raised: list[Caution | str] = [PURPOSES[word] for word in row.purpose]
    for sheet in row.sheets:
        raised += [caution(code, **words) for code, words in sheet.caution_codes()]
    raised += ["unfactored-load"] if row.load_factor == 1.0 else []
    if not (row.shear or row.across or row.uplift):
        raised.append("no-load")
    if not row.coupons:
        raised.append("no-coupons")
    if len({s.material.family for s in row.sheets}) > 1:
        raised.append("galvanic")
    raised.append("plug-proof")
    widest = 8 * (row.interface or float(spot_size.FUSION_EN(t=min(s.t for s in row.sheets))))
    if row.along > 1 and above(row.actual_pitch, widest):
        raised.append(caution("wide-pitch", widest=f"{widest:.3g}"))
    if row.hole is not None and row.fill is not None and below(row.fill, row.top):
        raised.append("part-fill")
    raised += ["corrosion", "fatigue", "near-hazards"]
    if row.uplift:
        raised.append("sheet-bends")
    raised += ["unzip"] if row.along > 1 else []
    raised.append("row-in-line")
    if len(row.sheets) > 2:
        raised.append("three-sheets")
    if any(c.provenance == "from memory" for c in checks if c.status in ("ok", "over")):
        raised.append("from-memory")
    return collect(raised)
