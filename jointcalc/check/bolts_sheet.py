"""The sheet in its plane at a fastener: bearing and tear-out.

Thin sheet: EN 1993-1-3 and AISI S100; plate: EN 1993-1-8 and AISC 360; each refuses the other's thickness.  A rule
that is left on its weak side (sheet too thin, bolt too small, edge or pitch under its least, hole beyond its widest)
bounds from above by its value at the edge of its range, so that no weaker joint comes out better.

Net and gross section stand in `bolts_section`, blocks torn out in `bolts_block`; both keep to the same.
"""

from __future__ import annotations

import numpy as np

from jointcalc.check.bolts_action import Around, BoltsAction, Place
from jointcalc.check.bolts_base import Asked, Inputs, ask, family
from jointcalc.check.bolts_fastener import rivet_fit, shear_coefficient
from jointcalc.check.common import CHARACTERISTIC, NOMINAL, PARTIAL, Steps
from jointcalc.formula import bolt_holes, bolts_aisc, bolts_aisi, bolts_en1993, rupture
from jointcalc.formula.branch import above, at_least, below, least, most
from jointcalc.formula.core import Evaluation, Formula, Status
from jointcalc.formula.safety import Safety
from jointcalc.quantity.sentence import joined, mm
from jointcalc.result import Check, Stated, method
from jointcalc.result.factor import fixed, omega
from jointcalc.statics.group_common import Array

EN_BEARING = method(
    "en1993-1-8.bearing",
    "Bearing, plate (EN)",
    bolts_en1993.BEARING,
    per="fastener",
    basis=CHARACTERISTIC,
    factor=PARTIAL,
    covers=("bearing", "tear-out"),
)
EN_SHEET_BEARING = method(
    "en1993-1-3.bolt-bearing",
    "Bearing, sheet (EN)",
    bolts_en1993.SHEET,
    per="fastener",
    basis=CHARACTERISTIC,
    factor=PARTIAL,
    covers=("bearing", "tear-out"),
)
EN_RIVET_BEARING = method(
    "en1993-1-3.rivet-bearing",
    "Bearing of the rivet",
    bolts_en1993.RIVET,
    per="fastener",
    basis=CHARACTERISTIC,
    factor=PARTIAL,
    covers=("bearing", "tear-out"),
)
EN_DUCTILITY = method(
    "en1993-1-3.fastener-ductility",
    "Sheet gives way first",
    bolts_en1993.SHEET,
    per="fastener",
    basis="condition",
    factor=fixed(bolts_en1993.DUCTILE, "{:g}, in the condition"),
)
AISI_BEARING = method(
    "aisi-s100.bearing", "Bearing, sheet (AISI)", bolts_aisi.BEARING, per="fastener", basis=NOMINAL,
    factor=omega(bolts_aisi.SAFETY_BEARING),
    covers=("bearing",),
)  # fmt: skip
AISI_DEFORMATION = method(
    "aisi-s100.bearing-deformation",
    "Bearing, small hole growth",
    bolts_aisi.DEFORMATION,
    per="fastener",
    basis=NOMINAL,
    factor=omega(bolts_aisi.SAFETY_DEFORMATION),
)
AISI_TEAR_OUT = method(
    "aisi-s100.tear-out",
    "Tear-out to the edge (AISI)",
    bolts_aisi.RUPTURE,
    per="fastener",
    basis=NOMINAL,
    factor=omega(bolts_aisi.SAFETY_RUPTURE, rupture.SAFETY_AISI_SCREW, words="Ω = {}, rivets {}"),
    covers=("tear-out",),
)
AISC_BEARING = method(
    "aisc360.bearing", "Bearing, plate (AISC)", bolts_aisc.BEARING, per="fastener", basis=NOMINAL,
    factor=omega(bolts_aisc.SAFETY),
    covers=("bearing",),
)  # fmt: skip
AISC_TEAR_OUT = method(
    "aisc360.tear-out", "Tear-out, plate (AISC)", bolts_aisc.BEARING, per="fastener", basis=NOMINAL,
    factor=omega(bolts_aisc.SAFETY),
    covers=("tear-out",),
)  # fmt: skip

SHEET_FROM, SHEET_TO = least(bolts_en1993.SHEET_BEARING, "t"), most(bolts_en1993.SHEET_BEARING, "t")
PLATE_FROM = least(bolts_aisc.BEARING_STRENGTH, "t")
"""Thicknesses [mm] at which EN 1993-1-3 begins, EN 1993-1-8 takes over, and AISC 360 takes over from AISI S100."""

Used = dict[str, Array]
"""Key of a check -> how much each fastener uses of it."""


def in_plane(action: BoltsAction, place: Place) -> tuple[list[Check], Used]:
    """Bearing and tear-out of one sheet, and what each fastener uses of them, bounds at an edge included."""
    if action.item.fastener.kind == "rivet":
        asked = [_rivet(place), _tear_out(place)]
    else:
        asked = [*_en(place), *_aisi(place), *_aisc(place), _tear_out(place)]
    used = {a.check.key: a.use for a in asked if a.use is not None and a.check.status != "info"}
    return [a.check for a in asked], used


def _share(place: Place) -> object:
    return lambda k: place.action.share("V", place.action.shear, k, place.part)


def _hole_en(place: Place) -> tuple[Formula | None, list[str], str]:
    """Factor of EN 1993-1-8 on bearing, reasons on the weak side, and a note."""
    group = place.group
    if group.slot is not None:
        return bolt_holes.SLOTTED, [], "slotted hole: 0.6, taken for every direction; the joint slips to its end first"
    if group.fastener.kind != "bolt":
        return None, [], ""
    fit = bolt_holes.fit_en(group.fastener.d, group.d_0)
    if fit == "normal":
        return None, [], ""
    wide = f"a hole of {mm(group.d_0):.3g} for {mm(group.fastener.d):.3g} is wider than an oversized hole"
    return bolt_holes.OVERSIZED, ([wide] if fit == "beyond" else []), "oversized hole: 0.8 (Table 3.4, note 1)"


def _en(place: Place) -> list[Asked]:
    group, sheet, around = place.group, place.sheet, place.around
    t, sunk = place.bears
    d, d_0, f_u = place.d, place.d_0, sheet.f_u
    hard = [*family(sheet, "EN 1993"), *place.nothing_left]
    f = group.fastener
    f_ub = f.f_ub or f.R_m
    factor, wide, why = _hole_en(place)

    def of_sheet(at: Around, t: float, d: float) -> Inputs:
        return {
            "alpha_b": bolts_en1993.SHEET_ALPHA_B(e_1=at.e_1, d=d), "k_t": bolts_en1993.SHEET_K_T(t=t), "f_u": f_u,
            "d": d, "t": t, "d_0": d_0, "e_1": at.e_1, "e_2": at.e_2, "p_1": at.p_1, "p_2": at.p_2,
        }  # fmt: skip

    nearest = _at_edge(around, bolts_en1993.SHEET_BEARING, "d_0", d_0)
    slotted = bolt_holes.SLOTTED if group.slot is not None else None
    thin = ask(
        EN_SHEET_BEARING,
        bolts_en1993.SHEET_BEARING,
        of_sheet(around, t, d),
        within={"t": sheet.t},
        demand=place.demand,
        load_factor=group.load_factor,
        shown=lambda k: [
            *place.before, *sunk, bolts_en1993.SHEET_ALPHA_B.evaluate(e_1=float(around.e_1[k]), d=d),
            bolts_en1993.SHEET_K_T.evaluate(t=t),
        ],
        share=_share(place),  # type: ignore[arg-type]
        after=lambda e: [slotted.evaluate(F_b=float(e.value))] if slotted is not None else [],
        hard=hard,
        weak=wide,
        edge=of_sheet(nearest, place.raised(SHEET_FROM), max(d, least(bolts_en1993.SHEET_BEARING, "d"))),
        edge_within={"t": max(sheet.t, SHEET_FROM)},
        where=place.where,
        note=joined("; ", (w for w in (why if slotted is not None else "", place.note) if w)),
    )  # fmt: skip
    if f.kind == "rivnut":
        return [thin]

    def of_plate(at: Around, t: float) -> Inputs:
        end = bolts_en1993.ALPHA_B_END(e_1=at.e_1, d_0=d_0, f_ub=f_ub, f_u=f_u)
        inner = bolts_en1993.ALPHA_B_INNER(p_1=at.p_1, d_0=d_0, f_ub=f_ub, f_u=f_u)
        return {
            "k_1": bolts_en1993.K_1_EDGE_LINES(e_2=at.e_2, p_2=at.p_2, d_0=d_0), "alpha_b": np.minimum(end, inner),
            "f_u": f_u, "d": d, "t": t, "d_0": d_0, "e_1": at.e_1, "e_2": at.e_2, "p_1": at.p_1, "p_2": at.p_2,
        }  # fmt: skip

    def capped(t: float) -> object:
        """Least of Table 3.4 and the bound of a single lap with one row, then what the hole leaves of it."""

        def after(e: Evaluation) -> Steps:
            steps: Steps = []
            R = float(e.value)
            if _one_row_of_a_single_lap(place):
                cap = bolts_en1993.BEARING_SINGLE_LAP.evaluate(f_u=f_u, d=d, t=t)
                if float(cap.value) < R:
                    steps.append(cap)
                    R = float(cap.value)
            return [*steps, factor.evaluate(F_b=R)] if factor is not None else steps

        return after

    nearest = _at_edge(around, bolts_en1993.BEARING_PLATE, "d_0", d_0)
    lap = "single lap with one row of bolts: at most 1.5 f_u d t, with washers under head and nut (3.6.1(10))"
    thick = ask(
        EN_BEARING,
        bolts_en1993.BEARING_PLATE,
        of_plate(around, t),
        within={"t": sheet.t},
        demand=place.demand,
        load_factor=group.load_factor,
        shown=lambda k: [
            *place.before, *sunk,
            bolts_en1993.ALPHA_B_END.evaluate(e_1=float(around.e_1[k]), d_0=d_0, f_ub=f_ub, f_u=f_u),
            bolts_en1993.ALPHA_B_INNER.evaluate(p_1=float(around.p_1[k]), d_0=d_0, f_ub=f_ub, f_u=f_u),
            _k_1(float(around.e_2[k]), float(around.p_2[k]), d_0),
        ],
        after=capped(t),  # type: ignore[arg-type]
        share=_share(place),  # type: ignore[arg-type]
        hard=hard,
        weak=wide,
        edge=of_plate(nearest, place.raised(SHEET_TO)),
        edge_within={"t": max(sheet.t, SHEET_TO)},
        edge_after=capped(place.raised(SHEET_TO)),  # type: ignore[arg-type]
        where=place.where,
    )  # fmt: skip
    if thick.check.status in ("ok", "over") and not thick.check.note:
        governs = any(
            isinstance(s, Evaluation) and s.formula is bolts_en1993.BEARING_SINGLE_LAP for s in thick.check.trace
        )
        words = joined("; ", (w for w in (lap if governs else "", why, place.note) if w))
        thick = Asked(_noted(thick.check, words), thick.use)
    return [thin, thick]


def _noted(check: Check, note: str) -> Check:
    from dataclasses import replace

    return replace(check, note=joined("; ", (part for part in (check.note, note) if part)))


def _k_1(e_2: float, p_2: float, d_0: float) -> Evaluation:
    branch = bolts_en1993.k_1_branch(e_2=e_2, p_2=p_2, d_0=d_0)
    return branch.evaluate(**{name: {"e_2": e_2, "p_2": p_2, "d_0": d_0}[name] for name in branch.parameters})


def _at_edge(around: Around, formula: Formula, by: str, d: float) -> Around:
    """The distances raised to the least that a rule lets holes stand at, in diameters `d` of what it calls `by`."""
    return around.at_least(**{name: least(formula, f"{name} / {by}") * d for name in ("e_1", "e_2", "p_1", "p_2")})


def _one_row_of_a_single_lap(place: Place) -> bool:
    """Whether two parts lap with one row of bolts across the force (EN 1993-1-8, 3.6.1(10)): the lap bends then."""
    if place.action.halved:
        return False
    points, net = place.action.group.points, place.action.net
    return len(points) == 1 or (net is not None and float(np.ptp(points @ net)) < place.d_0 / 2)


def _rivet(place: Place) -> Asked:
    group, sheet, around = place.group, place.sheet, place.around
    d = group.fastener.d
    beside = [group.sheets[i].t for i in (place.n - 1, place.n + 1) if 0 <= i < len(group.sheets)]
    # alone, or against several: the thinnest neighbour tilts the rivet most; never less than the sheet itself
    t_1 = max(sheet.t, min(beside, default=sheet.t))
    alpha = bolts_en1993.RIVET_ALPHA.evaluate(t=sheet.t, t_1=t_1, d=d)

    def inputs(at: Around, d: float) -> Inputs:
        return {
            "alpha": float(alpha.value), "f_u": sheet.f_u, "d": d, "t": sheet.t, "e_1": at.e_1, "e_2": at.e_2,
            "p_1": at.p_1, "p_2": at.p_2,
        }  # fmt: skip

    return ask(
        EN_RIVET_BEARING,
        bolts_en1993.RIVET_BEARING,
        inputs(around, d),
        demand=place.demand,
        load_factor=group.load_factor,
        shown=lambda k: [*place.before, alpha],
        share=_share(place),  # type: ignore[arg-type]
        hard=family(sheet, "EN 1993"),
        weak=rivet_fit(place.action),
        edge=inputs(
            _at_edge(around, bolts_en1993.RIVET_BEARING, "d", d), max(d, least(bolts_en1993.RIVET_BEARING, "d"))
        ),
        where=place.where,
        note=place.note,
    )


def ductility(action: BoltsAction, sheets: list[Check]) -> list[Check]:
    """EN 1993-1-3: the fastener at least 1.2 times as strong in shear as the sheet in bearing."""
    group = action.item
    f = group.fastener
    found = [c for c in sheets if c.method in (EN_SHEET_BEARING, EN_RIVET_BEARING) and c.capacity is not None]
    if not found:
        return []
    weakest = min(float(c.capacity.value or 0.0) for c in found if c.capacity)
    if f.kind == "rivet":
        own = f.shear_min
    else:
        threads, _ = action.threads
        coefficient = shear_coefficient(f, threads)
        if coefficient is None or not f.f_ub:
            return []
        own = float(
            bolts_en1993.BOLT_SHEAR(alpha_v=coefficient[0], f_ub=f.f_ub, A=f.A_s if threads == "in" else f.area)
        )
    met = at_least(own, bolts_en1993.DUCTILE * weakest)
    text = "met" if met else "not met: the fastener shears before the sheet yields; use a stronger one"
    told = EN_DUCTILITY.under(bolts_en1993.RIVET) if f.kind == "rivet" else EN_DUCTILITY
    return [told.info(capacity=own, demand=bolts_en1993.DUCTILE * weakest, note=text)]


def _m_f(place: Place, oversize: bool) -> Stated:
    """Factor of the kind of bearing joint, Table J3.3.1-2, and why."""
    group = place.group
    hole = "slotted" if group.slot is not None else "oversized" if oversize else "standard"
    if place.action.halved and place.n == 1:
        m_f = bolt_holes.M_F_INNER[hole]
        return Stated("m_f", "1", m_f, f"inner sheet of a double lap, {hole} hole", status="from memory")
    if group.washers is not None and not group.countersunk:
        return Stated("m_f", "1", bolts_aisi.M_F_WASHERS_BOTH_SIDES, "washers under head and nut")
    m_f = bolt_holes.M_F_BARE[hole]
    status: Status | None = None if hole == "standard" else "from memory"
    return Stated("m_f", "1", m_f, f"no washers under head and nut, {hole} hole", status=status)


def _aisi(place: Place) -> list[Asked]:
    group, sheet = place.group, place.sheet
    t, sunk = place.bears
    d = place.d
    hard = [*family(sheet, "AISI S100"), *place.nothing_left]
    fit = bolt_holes.fit_aisi(d, place.d_0)
    weak = []
    if group.slot is not None:
        if not bolt_holes.short_slot(d, group.slot):
            weak = [f"a slot of {mm(group.slot):.3g} is a long one: AISI S100 has no bearing factor for it"]
    elif fit == "beyond":
        weak = [f"a hole of {mm(place.d_0):.3g} for {mm(d):.3g} is wider than AISI S100's oversized hole (Table J3-1)"]
    oversize = fit != "normal" or group.slot is not None
    C = bolts_aisi.BEARING_FACTOR_OVERSIZED if oversize else bolts_aisi.BEARING_FACTOR_STANDARD
    m_f = _m_f(place, oversize)
    steps: Steps = []
    C_used = 1.0
    if not hard:
        factor = C.evaluate(d=d, t=t)
        C_used, steps = float(factor.value), [factor]
        there = d / bolts_aisi.OVERSIZED_JUMPS
        there_in_all = bolts_aisi.BEARING_FACTOR_OVERSIZED(d=d, t=there) * there
        if oversize and above(C_used * t, there_in_all) and below(t, there):
            # printed so, the factor jumps up by 1 % beyond it: thinner sheet gets no more than it has there
            C_used = float(there_in_all / t)
            steps.append(Stated("C", "1", C_used, f"no more in all than at d/t = {bolts_aisi.OVERSIZED_JUMPS:g}"))
    inputs = {"C": C_used, "m_f": m_f.value, "d": d, "t": t, "F_u": sheet.f_u}
    strength = ask(
        AISI_BEARING,
        bolts_aisi.BEARING_STRENGTH,
        inputs,
        within={"t": sheet.t},
        demand=place.demand,
        load_factor=group.load_factor,
        shown=lambda k: [*place.before, *sunk, *steps, m_f],
        share=_share(place),  # type: ignore[arg-type]
        hard=hard,
        weak=weak,
        edge=inputs,
        edge_within={"t": sheet.t},
        where=place.where,
        note="oversized hole (Table J3-1)" if oversize and group.slot is None else "",
    )
    return [strength, _deformation(place, hard)]


def _deformation(place: Place, hard: list[str]) -> Asked:
    """The limit on the growth of the holes: judged where it is asked for, else told."""
    group, sheet = place.group, place.sheet
    t, sunk = place.bears
    found = ask(
        AISI_DEFORMATION,
        bolts_aisi.BEARING_DEFORMATION,
        {"t": t, "d": place.d, "F_u": sheet.f_u},
        within={"t": sheet.t},
        demand=place.demand,
        load_factor=group.load_factor,
        shown=lambda k: [*place.before, *sunk],
        share=_share(place),  # type: ignore[arg-type]
        hard=hard,
        where=place.where,
        note=f"the holes are not to grow ({mm(bolts_aisi.HOLE_GROWTH)} at most)"
        if group.hole_growth == "limited"
        else "",
    )
    check = found.check
    if group.hole_growth == "limited" or check.status == "outside":
        return found
    assert check.capacity is not None
    assert check.demand is not None
    grown = mm(bolts_aisi.HOLE_GROWTH)
    words = f"past it the holes grow, over {grown} when it breaks; to have it judged set 'hole_growth' to 'limited'"
    return Asked(
        AISI_DEFORMATION.info(
            capacity=check.capacity.value, demand=check.demand.value, trace=check.trace, note=words, where=place.where
        )
    )


def safety_of(place: Place, safety: Safety) -> float:
    """Ω of AISI S100 for this fastener: a rivet is judged as a screw."""
    return rupture.SAFETY_AISI_SCREW.Omega if place.group.fastener.kind == "rivet" else safety.Omega


def _tear_out(place: Place) -> Asked:
    sheet, around = place.sheet, place.around
    t, sunk = place.bears
    rivet = place.group.fastener.kind == "rivet"
    note = "factor of screws: AISI S100 has no blind rivets" if rivet else ""
    return ask(
        AISI_TEAR_OUT,
        bolts_aisi.TEAR_OUT,
        {"F_u": sheet.f_u, "n": 1.0, "t": t, "e_net": around.clear},
        within={"t": sheet.t},
        demand=place.demand,
        required=safety_of(place, bolts_aisi.SAFETY_RUPTURE),
        load_factor=place.group.load_factor,
        shown=lambda k: [
            *place.before, *sunk,
            Stated("e_net", "mm", float(around.clear[k]), "clear of the hole, to the edge or the next hole ahead"),
        ],
        share=_share(place),  # type: ignore[arg-type]
        hard=[*family(sheet, "AISI S100"), *place.nothing_left],
        where=place.where,
        note=joined("; ", (part for part in (note, place.note) if part)),
    )  # fmt: skip


def _aisc(place: Place) -> list[Asked]:
    group, sheet, around = place.group, place.sheet, place.around
    t, sunk = place.bears
    hard = [*family(sheet, "AISC 360"), *place.nothing_left]
    weak = []
    if group.slot is not None:
        weak = ["AISC 360 J3.2 lets slots bear across the force only: EN 1993-1-8 judges them"]
    elif group.fastener.kind == "bolt" and bolt_holes.fit_aisc(group.fastener.d, group.d_0) != "normal":
        weak = ["AISC 360 J3.2 lets oversized holes stand only in joints that do not slip"]
    inputs = {"d": place.d, "t": t, "F_u": sheet.f_u}
    thick = place.raised(PLATE_FROM)
    bearing = ask(
        AISC_BEARING,
        bolts_aisc.BEARING_STRENGTH,
        inputs,
        within={"t": sheet.t},
        demand=place.demand,
        load_factor=group.load_factor,
        shown=lambda k: [*place.before, *sunk],
        share=_share(place),  # type: ignore[arg-type]
        hard=hard,
        weak=weak,
        edge={**inputs, "t": thick},
        edge_within={"t": max(sheet.t, PLATE_FROM)},
        where=place.where,
    )
    inputs = {"l_c": around.clear, "t": t, "F_u": sheet.f_u}  # type: ignore[dict-item]
    tear_out = ask(
        AISC_TEAR_OUT,
        bolts_aisc.TEAR_OUT,
        inputs,
        within={"t": sheet.t},
        demand=place.demand,
        load_factor=group.load_factor,
        shown=lambda k: [*place.before, *sunk],
        share=_share(place),  # type: ignore[arg-type]
        hard=hard,
        weak=weak,
        edge={**inputs, "t": thick},
        edge_within={"t": max(sheet.t, PLATE_FROM)},
        where=place.where,
        note=place.note,
    )
    return [bearing, tear_out]
