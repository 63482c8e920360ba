"""Plug and slot welds: weld metal on the hole's area (AISC 360, EN 1993-1-8), the fused spot (EN 1993-1-3 8.4)."""

from __future__ import annotations

from jointcalc.check.common import CHARACTERISTIC, NOMINAL, PARTIAL, Steps
from jointcalc.check.plug_base import (
    AISC_PLUG,
    EN_PLUG,
    EN_TEARING,
    PlugAction,
    carbon_only,
    judged_or_bound,
    known,
    steel_only,
    strength,
)
from jointcalc.check.plug_detailing import TWIN, hole_details, spacing_of, usual_holes
from jointcalc.formula import fillet_en1993, plug_aisc, spot_en1993, spot_size
from jointcalc.formula.branch import at_least, at_most, below, least, most
from jointcalc.formula.core import Evaluation, Source
from jointcalc.model.plug import PlugRow
from jointcalc.quantity.sentence import either, joined, mm, newtons
from jointcalc.quantity.show import percent
from jointcalc.result import Amount, Check, Method, Stated, method
from jointcalc.result.factor import omega
from jointcalc.tables.store import load

AISC_FUSED = method(
    "aisc360.plug-fused-area",
    "Weld metal on the fused area",
    Source("AISC 360", "J2.3, its stress on the area fused at the interface", "derivation", "the stress is AISC's"),
    per="weld",
    basis=NOMINAL,
    factor=omega(plug_aisc.SAFETY),
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
AREA_METHODS = (AISC_PLUG, EN_PLUG)


def punched(action: PlugAction) -> tuple[list[Check], dict[str, Amount]]:
    """Plug or slot welds in a punched hole, and the sizes to tell."""
    row = action.row
    assert row.hole is not None
    area = (
        plug_aisc.HOLE_AREA.evaluate(d=row.hole)
        if row.slot is None
        else plug_aisc.SLOT_AREA.evaluate(d=row.hole, l=row.slot)
    )
    fill = row.fill if row.fill is not None else row.top
    geometry = {"d": row.hole, "t": row.top, "w": fill}
    f_u = min(strength(s) for s in row.sheets)
    steel, carbon = steel_only(row), carbon_only(row)
    thin = min(s.t for s in row.sheets)
    # a hole too small for the codes: the weld is no stronger than one on the least hole they know
    smallest = max(row.top, least(plug_aisc.WELD_SHEAR_EN, "t")) + least(plug_aisc.WELD_SHEAR, "d - t")
    d_edge = max(row.hole, smallest)
    slot_area, hole_area = plug_aisc.SLOT_AREA, plug_aisc.HOLE_AREA
    A_edge = float(hole_area(d=d_edge)) if row.slot is None else float(slot_area(d=d_edge, l=max(row.slot, d_edge)))
    d11 = [] if at_least(thin, plug_aisc.THIN_D11) else [
        f"AWS D1.1 behind it starts at {either('3 mm (1/8 in)', '1/8 in')}, the sheet is {mm(thin):.3g} and tears "
        "round the weld before the "
        "weld metal shears"
    ]  # fmt: skip
    steps: Steps = [*known(row.sheets), area]
    A_w = float(area.value)
    stainless = any(s.material.family == "stainless" for s in row.sheets)
    checks = [
        judged_or_bound(
            AISC_PLUG,
            plug_aisc.WELD_SHEAR,
            {"A_w": A_w, "F_EXX": row.F_EXX, **geometry},
            demand=action.in_plane,
            load_factor=row.load_factor,
            before=steps,
            after=[action.how],
            reasons=carbon,
            weak=d11,
            edge={"A_w": A_edge, "F_EXX": row.F_EXX},
        ),
        judged_or_bound(
            EN_PLUG,
            plug_aisc.WELD_SHEAR_EN,
            {"A_w": A_w, "f_u": f_u, "beta_w": 1.0 if stainless else _beta_w(row), **geometry},
            demand=action.in_plane,
            load_factor=row.load_factor,
            before=steps,
            after=[action.how],
            reasons=steel,
            edge={"A_w": A_edge, "f_u": f_u, "beta_w": 1.0 if stainless else _beta_w(row)},
        ),
    ]
    fusion, d_s = _fusion(action, steel)
    checks += fusion
    checks += hole_details(row, fill, [c for c in checks if c.method in AREA_METHODS and c.status in ("ok", "over")])
    sizes = {"hole": Amount(row.hole, "mm"), "weld_area": Amount(A_w, "mm^2"), "interface_diameter": Amount(d_s, "mm")}
    if row.slot is not None:
        sizes["slot"] = Amount(row.slot, "mm")
    return checks, sizes


def _beta_w(row: PlugRow) -> float:
    """Correlation factor of the strongest parent steel, by its yield strength (EN 1993-1-8 Table 4.1)."""
    strong = max(s.f_y if s.has_yield else fillet_en1993.LEAST_STEEL for s in row.sheets)
    rows = load("beta_w").rows
    found = next((r for r in rows if at_least(float(r["grade"].removeprefix("S")), strong)), rows[-1])
    return found.need("beta_w")


def _fusion(action: PlugAction, steel: list[str]) -> tuple[list[Check], float]:
    """EN 1993-1-3, spots made by fusion welding, at each interface of the stack."""
    row = action.row
    checks: list[Check] = []
    smallest = float("inf")
    pairs = list(zip(row.sheets[:-1], row.sheets[1:]))
    for n, (a, b) in enumerate(pairs):
        where = "" if len(pairs) == 1 else f"{n + 1}-{n + 2}"
        t, t_1, f_u = min(a.t, b.t), max(a.t, b.t), min(strength(a), strength(b))
        d_s, how = _interface(row, t)
        smallest = min(smallest, d_s)
        d_s, share, apart = spacing_of(action, d_s)
        if d_s < float(how[-1].value):
            how = [*how, Stated("d_s", "mm", d_s, "no more counts of welds so near an edge")]
        force, load = action.in_plane, action.how
        if share < 1:
            force /= share
            load = Stated("F", "N", force, f"{newtons(action.in_plane):.4g} a weld, of which {percent(share)} count")
        base = {"t": t, "t_1": t_1, "d_s": d_s, "f_u": f_u}
        weak = _small_hole(row)
        bounds = [bound.evaluate(**base) for bound in spot_en1993.tearing_bounds(t=t, t_1=t_1)]
        tearing = min(bounds, key=lambda e: float(e.value))
        # a thicker sheet underneath tears no sooner: only the thinner one's range counts
        reasons = [*steel, *spot_en1993.TEARING.outside(**{**base, "t_1": min(t_1, most(spot_en1993.TEARING, "t_1"))})]
        spot = spot_en1993.SPOT_SHEAR.evaluate(**base)
        brittle = below(float(spot.value), spot_en1993.DUCTILE * float(tearing.value))
        notes = [
            "" if row.interface else "interface diameter by the standard; prove it on sectioned coupons",
            "" if row.slot is None else "a slot holds at least what a round weld of its width does",
            *apart,
        ]
        shears = (
            f"the weld would shear before the sheet tears ({newtons(float(spot.value)):.4g} against "
            f"{spot_en1993.DUCTILE:g} times {newtons(float(tearing.value)):.4g}): it is counted with that reserve"
        )
        if brittle:
            bounds = [*bounds, spot, spot_en1993.DUCTILE_BOUND.evaluate(F_v=float(spot.value))]
        tears = float(bounds[-1].value) if brittle else float(tearing.value)
        before: Steps = [*known((a, b)), *how]
        after: Steps = [load]
        plan: list[tuple[Method, list[Evaluation], float, float, list[str], list[str]]] = [
            (EN_TEARING, bounds, tears, force, [], [shears] if brittle else []),
            (EN_SPOT, [spot], float(spot.value), force, [], []),
            *((end, [e], float(e.value), at_end, near, []) for end, e, at_end, near in _ends(action, base)),
        ]
        if not steel:
            # strong sheet does not make the filler stronger
            fused = plug_aisc.HOLE_AREA.evaluate(d=d_s)
            metal = plug_aisc.WELD_SHEAR.evaluate(A_w=float(fused.value), F_EXX=row.F_EXX)
            steps: Steps = [*known((a, b)), *how, fused, metal, load]
            given_metal = {"demand": force, "trace": steps, "where": where}
            if weak:
                grown = max(1.0, float(spot_size.FUSION_EN(t=t)) / d_s) ** 2 if row.interface is None else 1.0
                checks.append(AISC_FUSED.at_most(weak, capacity=float(metal.value) * grown, **given_metal))  # type: ignore[arg-type]
            else:
                checks.append(AISC_FUSED.judge(capacity=float(metal.value), **given_metal))  # type: ignore[arg-type]
        for one, evaluations, capacity, demand, near, more in plan:
            trace: Steps = [*before, *evaluations, *after]
            given = {
                "capacity": capacity, "demand": demand, "load_factor": row.load_factor, "trace": trace, "where": where,
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
                note = joined("; ", (text for text in [*more, *notes] if text))
                checks.append(one.judge(**given, note=note))  # type: ignore[arg-type]
    return checks, smallest


def _interface(row: PlugRow, t: float) -> tuple[float, Steps]:
    """Interface diameter of a plug [mm]: measured, else 0.5 t + 5 mm but not more than the hole."""
    assert row.hole is not None
    if row.interface is not None:
        return row.interface, [Stated("d_s", "mm", row.interface, "measured on sectioned coupons")]
    standard = spot_size.FUSION_EN.evaluate(t=t)
    if at_most(float(standard.value), row.hole):
        return float(standard.value), [standard]
    return row.hole, [standard, Stated("d_s", "mm", row.hole, "not more than the hole")]


def _small_hole(row: PlugRow) -> list[str]:
    """Why the hole is too small to be sure that the weld fuses to the sheet below; empty when it is not."""
    assert row.hole is not None
    if row.interface is not None:
        return []  # shown on sectioned coupons
    habit = usual_holes(row.top)
    low = habit.need("hole_low")
    if at_least(TWIN * row.hole, low):
        return []
    return [
        f"a hole of {mm(row.hole):.3g} in {mm(row.top):.3g} is smaller than the {mm(low):g} the trade punches: the arc "
        "may bridge it without fusing the sheet below; punch it larger, or give 'interface' as measured on sectioned "
        "coupons"
    ]


def _ends(action: PlugAction, base: dict[str, float]) -> list[tuple[Method, Evaluation, float, list[str]]]:
    """End and edge of the sheet in the loaded directions: method, value, force, and why it is too near."""
    row = action.row
    found: list[tuple[Method, Evaluation, float, list[str]]] = []
    directions = (
        (EN_END_ALONG, row.actual_end, action.along, "end"),
        (EN_END_ACROSS, row.edge, action.across, "edge"),
    )
    for how, e_1, force, word in directions:
        if not force:
            continue
        d_s = base["d_s"]
        end = spot_en1993.END_DISTANCE
        inputs = {**base, "t_1": min(base["t_1"], most(end, "t_1")), "e_1": spot_en1993.end_counted(e_1, d_s)}
        asked = least(end, "e_1 / d_s")
        why = f"{word} distance {mm(e_1):.3g}, at least {asked:g} d_s = {mm(asked * d_s):.3g}"
        found.append((how, end.evaluate(**inputs), force, [] if at_least(e_1, asked * d_s) else [why]))
    return found
