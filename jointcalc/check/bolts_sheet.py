"""The sheet in its plane: bearing, tear-out, blocks torn out, net and gross section.

Thin sheet: EN 1993-1-3 and AISI S100; plate: EN 1993-1-8 and AISC 360; each refuses the other's thickness.  A rule
that is left on its weak side (sheet too thin, bolt too small, edge or pitch under its least, hole beyond its widest)
bounds from above by its value at the edge of its range, so that no weaker joint comes out better.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from jointcalc.check.bolts_fastener import alpha_v, rivet_fit
from jointcalc.check.bolts_spread import EVEN, Around, Asked, Inputs, Place, Spread, ask, family
from jointcalc.check.common import CHARACTERISTIC, NOMINAL, PARTIAL, Steps
from jointcalc.formula import bolt_holes, bolts_aisc, bolts_aisi, bolts_en1993, rupture
from jointcalc.formula.branch import at_least, below
from jointcalc.formula.core import Evaluation, Formula, Status
from jointcalc.formula.safety import Safety
from jointcalc.result import GAMMA_M2, Check, Method, Stated, method
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
    factor="1.2, in the condition",
)
EN_NET = method(
    "en1993-1-3.fastener-net-section",
    "Net section of the sheet",
    bolts_en1993.SHEET,
    per="group",
    basis=CHARACTERISTIC,
    factor=PARTIAL,
    covers=("net-section",),
)
EN_PLATE_NET = method(
    "en1993-1-1.net-section",
    "Net section of the plate",
    bolts_en1993.PART_1_1,
    per="group",
    basis=CHARACTERISTIC,
    factor=PARTIAL,
    covers=("net-section",),
)
EN_GROSS = method(
    "en1993-1-1.gross-section",
    "Gross section yields",
    rupture.EN_GROSS,
    per="group",
    basis=CHARACTERISTIC,
    factor="γ_M0 = 1.0 × γ_F",
)
EN_BLOCK = method(
    "en1993-1-8.block-tearing",
    "Block torn out (EN)",
    rupture.EN_BLOCK,
    per="group",
    basis=CHARACTERISTIC,
    factor="γ_M2 on the pull, γ_M0 on the shear × γ_F",
    covers=("block",),
)
AISI_BEARING = method(
    "aisi-s100.bearing", "Bearing, sheet (AISI)", bolts_aisi.BEARING, per="fastener", basis=NOMINAL, factor="Ω = 2.50",
    covers=("bearing",),
)  # fmt: skip
AISI_DEFORMATION = method(
    "aisi-s100.bearing-deformation",
    "Bearing, small hole growth",
    bolts_aisi.DEFORMATION,
    per="fastener",
    basis=NOMINAL,
    factor="Ω = 2.22",
)
AISI_TEAR_OUT = method(
    "aisi-s100.tear-out",
    "Tear-out to the edge (AISI)",
    bolts_aisi.RUPTURE,
    per="fastener",
    basis=NOMINAL,
    factor="Ω = 2.22, rivets 3.00",
    covers=("tear-out",),
)
AISI_NET = method(
    "aisi-s100.net-section", "Net section, sheet (AISI)", rupture.AISI_NET, per="group", basis=NOMINAL,
    factor="Ω = 2.22, rivets 3.00", covers=("net-section",),
)  # fmt: skip
AISI_BLOCK = method(
    "aisi-s100.block-shear", "Block torn out, sheet (AISI)", rupture.AISI_BLOCK, per="group", basis=NOMINAL,
    factor="Ω = 2.22, rivets 3.00", covers=("block",),
)  # fmt: skip
AISC_BEARING = method(
    "aisc360.bearing", "Bearing, plate (AISC)", bolts_aisc.BEARING, per="fastener", basis=NOMINAL, factor="Ω = 2.00",
    covers=("bearing",),
)  # fmt: skip
AISC_TEAR_OUT = method(
    "aisc360.tear-out", "Tear-out, plate (AISC)", bolts_aisc.BEARING, per="fastener", basis=NOMINAL, factor="Ω = 2.00",
    covers=("tear-out",),
)  # fmt: skip
AISC_BLOCK = method(
    "aisc360.block-shear", "Block torn out, plate (AISC)", rupture.AISC_BLOCK, per="group", basis=NOMINAL,
    factor="Ω = 2.00", covers=("block",),
)  # fmt: skip

SHEET_FROM, SHEET_TO, PLATE_FROM = 0.75, 3.0, 4.7625
"""Thicknesses [mm] at which EN 1993-1-3 begins, EN 1993-1-8 takes over, and AISC 360 takes over from AISI S100."""

FILE = 0.41
"""Holes stand in one file along the force when one is ahead of the other within 22.5 degrees (its tangent)."""

ASKEW = 0.25
"""Rows of holes further apart along the force than this part of the pitch are rows of their own."""

Used = dict[str, Array]
"""Key of a check -> how much each fastener uses of it."""


def in_plane(spread: Spread, place: Place) -> tuple[list[Check], Used]:
    """Bearing and tear-out of one sheet, and what each fastener uses of them, bounds at an edge included."""
    if spread.of.fastener.kind == "rivet":
        asked = [_rivet(place), _tear_out(place)]
    else:
        asked = [*_en(place), *_aisi(place), *_aisc(place), _tear_out(place)]
    used = {a.check.key: a.use for a in asked if a.use is not None and a.check.status != "info"}
    return [a.check for a in asked], used


def _share(place: Place) -> object:
    return lambda k: place.spread.share("V", place.spread.shear, k, place.part)


# --- EN 1993 ------------------------------------------------------------------------------------------------


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
    wide = f"a hole of {group.d_0:.3g} mm for {group.fastener.d:.3g} mm is wider than an oversized hole"
    return bolt_holes.OVERSIZED, ([wide] if fit == "beyond" else []), "oversized hole: 0.8 (Table 3.4, note 1)"


def _en(place: Place) -> list[Asked]:
    group, sheet, around = place.group, place.sheet, place.around
    t, sunk = place.bears
    d, d_0, f_u = place.d, place.d_0, sheet.f_u
    required = GAMMA_M2 * group.load_factor
    hard = [*family(sheet, "EN 1993"), *place.nothing_left]
    f = group.fastener
    f_ub = f.f_ub or f.R_m
    factor, wide, why = _hole_en(place)

    def of_sheet(at: Around, t: float, d: float) -> Inputs:
        return {
            "alpha_b": bolts_en1993.SHEET_ALPHA_B(e_1=at.e_1, d=d), "k_t": bolts_en1993.SHEET_K_T(t=t), "f_u": f_u,
            "d": d, "t": t, "d_0": d_0, "e_1": at.e_1, "e_2": at.e_2, "p_1": at.p_1, "p_2": at.p_2,
        }  # fmt: skip

    least = around.at_least(e_1=d_0, e_2=1.5 * d_0, p_1=3 * d_0, p_2=3 * d_0)
    slotted = bolt_holes.SLOTTED if group.slot is not None else None
    thin = ask(
        EN_SHEET_BEARING,
        bolts_en1993.SHEET_BEARING,
        of_sheet(around, t, d),
        within={"t": sheet.t},
        demand=place.demand,
        required=required,
        shown=lambda k: [
            *place.before, *sunk, bolts_en1993.SHEET_ALPHA_B.evaluate(e_1=float(around.e_1[k]), d=d),
            bolts_en1993.SHEET_K_T.evaluate(t=t),
        ],
        share=_share(place),  # type: ignore[arg-type]
        after=lambda e: [slotted.evaluate(F_b=float(e.value))] if slotted is not None else [],
        hard=hard,
        weak=wide,
        edge=of_sheet(least, place.raised(SHEET_FROM), max(d, 6.0)),
        edge_within={"t": max(sheet.t, SHEET_FROM)},
        where=place.where,
        note="; ".join(w for w in (why if slotted is not None else "", place.note) if w),
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
                most = bolts_en1993.BEARING_SINGLE_LAP.evaluate(f_u=f_u, d=d, t=t)
                if float(most.value) < R:
                    steps.append(most)
                    R = float(most.value)
            return [*steps, factor.evaluate(F_b=R)] if factor is not None else steps

        return after

    least = around.at_least(e_1=1.2 * d_0, e_2=1.2 * d_0, p_1=2.2 * d_0, p_2=2.4 * d_0)
    lap = "single lap with one row of bolts: at most 1.5 f_u d t, with washers under head and nut (3.6.1(10))"
    thick = ask(
        EN_BEARING,
        bolts_en1993.BEARING_PLATE,
        of_plate(around, t),
        within={"t": sheet.t},
        demand=place.demand,
        required=required,
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
        edge=of_plate(least, place.raised(SHEET_TO)),
        edge_within={"t": max(sheet.t, SHEET_TO)},
        edge_after=capped(place.raised(SHEET_TO)),  # type: ignore[arg-type]
        where=place.where,
    )  # fmt: skip
    if thick.check.status in ("ok", "over") and not thick.check.note:
        governs = any(
            isinstance(s, Evaluation) and s.formula is bolts_en1993.BEARING_SINGLE_LAP for s in thick.check.trace
        )
        words = "; ".join(w for w in (lap if governs else "", why, place.note) if w)
        thick = Asked(_noted(thick.check, words), thick.use)
    return [thin, thick]


def _noted(check: Check, note: str) -> Check:
    from dataclasses import replace

    return replace(check, note="; ".join(part for part in (check.note, note) if part))


def _k_1(e_2: float, p_2: float, d_0: float) -> Evaluation:
    """The working of k_1: the edge's bound or the next line's alone where the other one reaches its 2.5 anyway."""
    if at_least(p_2, 3.0 * d_0):  # 1.4 x 3 - 1.7 = 2.5
        return bolts_en1993.K_1_EDGE.evaluate(e_2=e_2, d_0=d_0)
    if at_least(e_2, 1.5 * d_0):  # 2.8 x 1.5 - 1.7 = 2.5
        return bolts_en1993.K_1_INNER.evaluate(p_2=p_2, d_0=d_0)
    return bolts_en1993.K_1_EDGE_LINES.evaluate(e_2=e_2, p_2=p_2, d_0=d_0)


def _one_row_of_a_single_lap(place: Place) -> bool:
    """Whether two parts lap with one row of bolts across the force (EN 1993-1-8, 3.6.1(10)): the lap bends then."""
    if place.spread.halved:
        return False
    points, net = place.spread.group.points, place.spread.net
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
        required=GAMMA_M2 * group.load_factor,
        shown=lambda k: [*place.before, alpha],
        share=_share(place),  # type: ignore[arg-type]
        hard=family(sheet, "EN 1993"),
        weak=rivet_fit(place.spread),
        edge=inputs(around.at_least(e_1=1.5 * d, e_2=1.5 * d, p_1=3 * d, p_2=3 * d), max(d, 2.6)),
        where=place.where,
        note=place.note,
    )


def ductility(spread: Spread, sheets: list[Check]) -> list[Check]:
    """EN 1993-1-3: the fastener at least 1.2 times as strong in shear as the sheet in bearing."""
    group = spread.of
    f = group.fastener
    found = [c for c in sheets if c.method in (EN_SHEET_BEARING, EN_RIVET_BEARING) and c.capacity is not None]
    if not found:
        return []
    least = min(float(c.capacity.value or 0.0) for c in found if c.capacity)
    if f.kind == "rivet":
        own = f.shear_min
    else:
        coefficient = alpha_v(f, group.threads)
        if coefficient is None or not f.f_ub:
            return []
        own = float(
            bolts_en1993.BOLT_SHEAR(alpha_v=coefficient[0], f_ub=f.f_ub, A=f.A_s if group.threads == "in" else f.area)
        )
    met = own >= 1.2 * least
    text = "met" if met else "not met: the fastener shears before the sheet yields; use a stronger one"
    return [EN_DUCTILITY.info(capacity=own, demand=1.2 * least, note=text)]


# --- AISI S100 ------------------------------------------------------------------------------------------------


def _m_f(place: Place, oversize: bool) -> Stated:
    """Factor of the kind of bearing joint, Table J3.3.1-2, and why."""
    group = place.group
    hole = "slotted" if group.slot is not None else "oversized" if oversize else "standard"
    if place.spread.halved and place.n == 1:
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
            weak = [f"a slot of {group.slot:.3g} mm is a long one: AISI S100 has no bearing factor for it"]
    elif fit == "beyond":
        weak = [f"a hole of {place.d_0:.3g} mm for {d:.3g} mm is wider than AISI S100's oversized hole (Table J3-1)"]
    oversize = fit != "normal" or group.slot is not None
    C = bolts_aisi.BEARING_FACTOR_OVERSIZED if oversize else bolts_aisi.BEARING_FACTOR_STANDARD
    m_f = _m_f(place, oversize)
    steps: Steps = []
    C_used = 1.0
    if not hard:
        factor = C.evaluate(d=d, t=t)
        C_used, steps = float(factor.value), [factor]
        least = bolts_aisi.BEARING_FACTOR_OVERSIZED(d=d, t=d / 18)
        if oversize and C_used * t > least * d / 18 and below(t, d / 18):
            # printed so, the factor jumps up by 1 % beyond d/t = 18: thinner sheet gets no more than it has there
            C_used = float(least * d / 18 / t)
            steps.append(Stated("C", "1", C_used, "no more in all than at d/t = 18"))
    inputs = {"C": C_used, "m_f": m_f.value, "d": d, "t": t, "F_u": sheet.f_u}
    strength = ask(
        AISI_BEARING,
        bolts_aisi.BEARING_STRENGTH,
        inputs,
        within={"t": sheet.t},
        demand=place.demand,
        required=bolts_aisi.SAFETY_BEARING.Omega,
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
        required=bolts_aisi.SAFETY_DEFORMATION.Omega,
        shown=lambda k: [*place.before, *sunk],
        share=_share(place),  # type: ignore[arg-type]
        hard=hard,
        where=place.where,
        note="the holes are not to grow (6.4 mm at most)" if group.hole_growth == "limited" else "",
    )
    check = found.check
    if group.hole_growth == "limited" or check.status == "outside":
        return found
    assert check.capacity is not None
    assert check.demand is not None
    words = "past it the holes grow, over 6.4 mm when it breaks; to have it judged set 'hole_growth' to 'limited'"
    return Asked(
        AISI_DEFORMATION.info(
            capacity=check.capacity.value, demand=check.demand.value, trace=check.trace, note=words, where=place.where
        )
    )


def _safety(place: Place, safety: Safety) -> float:
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
        required=_safety(place, bolts_aisi.SAFETY_RUPTURE),
        shown=lambda k: [
            *place.before, *sunk,
            Stated("e_net", "mm", float(around.clear[k]), "clear of the hole, to the edge or the next hole ahead"),
        ],
        share=_share(place),  # type: ignore[arg-type]
        hard=[*family(sheet, "AISI S100"), *place.nothing_left],
        where=place.where,
        note="; ".join(part for part in (note, place.note) if part),
    )  # fmt: skip


# --- AISC 360 -------------------------------------------------------------------------------------------------


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
        required=bolts_aisc.SAFETY.Omega,
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
        required=bolts_aisc.SAFETY.Omega,
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


# --- net and gross section --------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Section:
    """The section across the force through most holes: holes in it, width [mm] and where that comes from."""

    n: int
    width: float
    how: str
    p: float | None
    rows: int


def _section(place: Place) -> _Section | None:
    net = place.spread.net
    if net is None:
        return None
    group = place.group
    points = place.spread.group.points
    along, across = points @ net, points @ np.array([-net[1], net[0]])
    order = np.argsort(along)
    best = order[:1]
    start = 0
    for stop in range(len(order)):
        while along[order[stop]] - along[order[start]] > place.d_0 * (1 + 1e-9):
            start += 1
        if stop - start + 1 > len(best):
            best = order[start : stop + 1]
    apart = np.diff(np.sort(across[best]))
    p = float(apart.min()) if len(apart) else None
    rows = 1 + int(np.sum(np.diff(np.sort(along)) > place.d_0 / 2))
    corners = place.corners
    if group.width is not None:
        return _Section(len(best), group.width, "as given", p, rows)
    if corners is not None:
        way = np.array([[-net[1], net[0]]])
        at = points[best].mean(axis=0)[None, :]
        width = _chord(way, at, corners)
        return _Section(len(best), width, "the outline, across the force", p, rows)
    side = "edge given" if group.edge is not None else "edge assumed"
    width = place.extent + 2 * place.edge
    return _Section(len(best), width, f"holes over {place.extent:.4g} mm and twice the {side}", p, rows)


def _chord(way: Array, at: Array, corners: tuple[float, float, float, float]) -> float:
    """Length [mm] of a line through a point across a rectangle."""
    total = 0.0
    for sense in (1.0, -1.0):
        ahead = np.where(sense * way > 0, np.array(corners[2:]) - at, at - np.array(corners[:2]))
        with np.errstate(divide="ignore"):
            total += float(np.where(np.abs(way) > 1e-12, ahead / np.abs(way), np.inf).min())
    return total


def _across(place: Place) -> float:
    """Width of one hole across the force [mm]."""
    net = place.spread.net
    assert net is not None
    return place.d_0 + 2 * float(place.lengthened(np.array([[-net[1], net[0]]]))[0])


def sections(place: Place) -> list[Check]:
    """Net section by EN 1993 and AISI S100, gross section in yield; nothing without a force in the plane."""
    found = _section(place)
    if found is None:
        return []
    group, sheet, spread = place.group, place.sheet, place.spread
    force = place.part * float(np.hypot(spread.load.F_x, spread.load.F_y))
    hole = _across(place)
    n, W = found.n, found.width
    if n * hole >= W:
        why = f"{n} holes of {hole:.3g} mm use up a width of {W:.4g} mm"
        return [(EN_NET if sheet.t < SHEET_TO else EN_PLATE_NET).outside(why, demand=force, where=place.where)]
    wide, deep = group.sink
    cone = 0.0
    if place.deep:
        # cut out of every hole beside the shank: a cone of the head's height, as far as it lies in this sheet
        cone = max(wide - place.d_0, 0.0) * (place.sunk - place.sunk**2 / (2 * deep))
    A = W * sheet.t
    A_net = A - n * (hole * sheet.t + cone)
    width = Stated("b", "mm", W, found.how)
    net = Stated(
        "A_net",
        "mm^2",
        A_net,
        f"({W:.4g} - {n} x {hole:.4g}) x {sheet.t:.4g} mm{', less the countersinks' if cone else ''}",
    )
    given = Stated("F", "N", force, "force in the plane" if place.part == 1.0 else "half the force in the plane")
    note = "" if group.width is not None or group.outline else f"width taken as {W:.4g} mm: give 'width' or 'outline'"
    checks: list[Check] = []
    if A_net <= 0:
        return [EN_NET.outside("the holes and countersinks leave no section", demand=force, where=place.where)]
    required = GAMMA_M2 * group.load_factor
    hard = family(sheet, "EN 1993")
    demand = np.array([force])
    e_2 = (W - (found.p or 0.0) * (n - 1)) / 2
    # a wider hole leaves less metal, and by the printed factor spreads the stress better; only the first is counted
    d_0 = min(hole, place.d_0 if group.fastener.kind == "rivnut" else group.fastener.hole)
    u = min(2 * e_2, found.p) if found.p is not None else 2 * e_2
    d = place.d
    plain = group.fastener.kind == "rivet"
    formula = bolts_en1993.NET_SECTION if plain else bolts_en1993.SHEET_NET_SECTION

    def sheet_inputs(t: float, d: float, f_u: float) -> Inputs:
        return {
            "r": n / len(group.holes), "d_0": d_0, "u": max(u, 1e-9), "A_net": A_net * t / sheet.t, "f_u": f_u, "t": t,
            "d": d, "e_1": 3 * d_0, "e_2": 3 * d_0, "p_1": 3 * d_0, "p_2": max(u, 3 * d_0) if found.p else 3 * d_0,
        }  # fmt: skip

    def asked(how: Method, formula: Formula, inputs: Inputs, edge: Inputs) -> Check:
        return ask(
            how,
            formula,
            inputs,
            demand=demand,
            required=required,
            shown=lambda k: [*place.before, width, net],
            share=lambda k: given,
            hard=hard,
            edge=edge,
            where=place.where,
            note=note,
        ).check

    if plain or below(sheet.t, SHEET_TO):
        edge = sheet_inputs(max(sheet.t, SHEET_FROM), max(d, 6.0), sheet.f_u)
        checks.append(asked(EN_NET, formula, sheet_inputs(sheet.t, d, sheet.f_u), edge))
    if not plain:
        inputs = {"A_net": A_net, "f_u": sheet.f_u, "t": sheet.t}
        thick = max(sheet.t, SHEET_TO)
        edge = {"A_net": A_net * thick / sheet.t, "f_u": sheet.f_u, "t": thick}
        checks.append(asked(EN_PLATE_NET, bolts_en1993.PLATE_NET_SECTION, inputs, edge))
    if below(sheet.t, PLATE_FROM):
        lag = rupture.SHEAR_LAG.evaluate(d=d, s=W / n)
        U_sl = float(lag.value) if found.rows == 1 else 1.0
        step: Steps = [lag] if found.rows == 1 else [Stated("U_sl", "1", 1.0, f"{found.rows} rows along the force")]
        checks.append(
            ask(
                AISI_NET,
                rupture.NET_RUPTURE,
                {"U_sl": U_sl, "A_n": A_net, "F_u": sheet.f_u, "t": sheet.t},
                demand=demand,
                required=_safety(place, rupture.SAFETY_AISI),
                share=lambda k: given,
                shown=lambda k: [*place.before, width, net, *step],
                hard=family(sheet, "AISI S100"),
                where=place.where,
                note=note,
            ).check
        )
    if sheet.has_yield and not family(sheet, "EN 1993"):
        gross = Stated("A", "mm^2", A, f"{W:.4g} x {sheet.t:.4g} mm")
        whole = rupture.GROSS_YIELD.evaluate(A=A, f_y=sheet.f_y)
        checks.append(
            EN_GROSS.judge(
                capacity=float(whole.value),
                demand=force,
                required=group.load_factor,
                where=place.where,
                note=note,
                trace=[*place.before, width, gross, whole, given],
            )
        )
    return checks


# --- blocks -------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Block:
    """Areas of a block [mm²] and the load [N] of the fasteners in it."""

    A_gv: float
    A_nv: float
    A_nt: float
    load: float
    what: str
    single: bool = False


def _blocks(place: Place) -> list[_Block]:
    """Every block between a row of holes and the edge ahead: with two lines in shear, or one and a side edge."""
    spread = place.spread
    net = spread.net
    assert net is not None
    t, _ = place.bears
    points = spread.group.points
    d_0 = place.d_0
    found: list[_Block] = []
    for sense in spread.senses(place.n):
        ahead = sense * net
        beside = np.array([-ahead[1], ahead[0]])
        a, b = points @ ahead, points @ beside
        push = place.part * np.maximum(spread.force[:, :2] @ net, 0.0)
        order = np.argsort(-a)
        levels = a[order]
        # a row is what the force, a little askew, still leaves in a row
        step = max(d_0 / 2, ASKEW * place.group.pitch) if place.group.pitch is not None else d_0 / 2
        last = np.flatnonzero(np.append(levels[:-1] - levels[1:] > step, True))
        hole_a = d_0 + 2 * float(place.lengthened(ahead[None, :])[0])
        hole_b = d_0 + 2 * float(place.lengthened(beside[None, :])[0])
        to_edge = place.to_edge(np.tile(ahead, (len(points), 1))) + (hole_a - d_0) / 2
        sides = [place.to_edge(np.tile(s * beside, (len(points), 1))) + (hole_b - d_0) / 2 for s in (1.0, -1.0)]
        foremost = _foremost(a, b)
        for i in np.flatnonzero(foremost & (push > EVEN * spread.peak)):
            # each hole by itself in its corner: one line to the edge, and on to the side
            for side in sides:
                length, beyond = float(to_edge[i]), float(side[i])
                found.append(
                    _Block(
                        length * t,
                        max(length - hole_a / 2, 0.0) * t,
                        max(beyond - hole_b / 2, 0.0) * t,
                        float(push[i]),
                        "1 hole, a line to the edge, and on to the side",
                        single=True,
                    )
                )
        first = 0
        for end in last:
            inside, row = order[: end + 1], order[first : end + 1]
            first = int(end) + 1
            start = float(a[row].min())
            low, high = float(b[inside].min()), float(b[inside].max())
            load = float(push[inside].sum())
            if load <= EVEN * spread.peak or len(inside) == 1:
                continue
            # where the sheet ends: beyond the foremost hole of each file, the nearest of those ends
            length = float((a + to_edge)[inside][foremost[inside]].min()) - start
            lines = []
            for at in (low, high):
                on = inside[np.abs(b[inside] - at) < d_0 / 2]
                lines.append((length * t, (length - (len(on) - 0.5) * hole_a) * t))
            pulled = (high - low - (len(row) - 1) * hole_b) * t
            found.append(
                _Block(
                    lines[0][0] + lines[1][0],
                    max(lines[0][1] + lines[1][1], 0.0),
                    max(pulled, 0.0),
                    load,
                    f"{len(inside)} holes, two lines to the edge",
                )
            )
            for line, side in ((lines[0], sides[0]), (lines[1], sides[1])):
                # the line at one end of the row, and the row on to the side edge beyond its other end
                beyond = float((side[inside] + (b[inside] - low if side is sides[0] else high - b[inside])).max())
                across = (beyond - (len(row) - 0.5) * hole_b) * t
                found.append(
                    _Block(
                        line[0],
                        max(line[1], 0.0),
                        max(across, 0.0),
                        load,
                        f"{len(inside)} holes, a line to the edge, the row to the side",
                    )
                )
    return found


def _foremost(a: Array, b: Array) -> npt.NDArray[np.bool_]:
    """Which holes have none ahead of them in their file; places along and across the force [mm]."""
    found = np.ones(len(a), dtype=bool)
    for start in range(0, len(a), 256):
        some = slice(start, start + 256)
        ahead, aside = a[None, :] - a[some, None], np.abs(b[None, :] - b[some, None])
        found[some] = ~((ahead > 0) & (aside <= FILE * ahead)).any(axis=1)
    return found


def blocks(place: Place) -> list[Check]:
    """Blocks torn out towards the edge ahead; nothing without a force in the plane."""
    if place.spread.net is None:
        return []
    sheet, group = place.sheet, place.group
    found = _blocks(place) if not place.nothing_left else []
    demand = max((b.load for b in found), default=0.0)
    uneven = not place.spread.even_shear
    checks: list[Check] = []

    def worst(how: Method, formula: Formula, body: str, required: float | None) -> None:
        en = required is None  # its partial factors differ from term to term
        reasons = [*family(sheet, body), *place.nothing_left, *formula.outside(t=sheet.t)]
        if not sheet.has_yield:
            reasons.append("the standard of the grade lets no yield strength be assumed; give 'yield_strength'")
        if reasons:
            checks.append(how.outside(reasons, demand=demand, where=place.where))
            return
        best: tuple[float, _Block, Evaluation, float] | None = None
        for block in found:
            U = 0.5 if uneven and not block.single else 1.0
            if en:
                inputs = {"f_u": sheet.f_u, "f_y": sheet.f_y, "A_nt": block.A_nt, "A_nv": block.A_nv, "k": U}
            else:
                inputs = {
                    "A_nv": block.A_nv, "A_gv": block.A_gv, "A_nt": block.A_nt, "U_bs": U, "F_u": sheet.f_u,
                    "F_y": sheet.f_y,
                }  # fmt: skip
            e = formula.evaluate(**inputs)
            R = float(e.value)
            needs = required or group.load_factor
            if en and R > 0:
                pulled = U * sheet.f_u * block.A_nt
                needs = group.load_factor * R / (pulled / GAMMA_M2 + (R - pulled))
            use = needs * block.load / R if R > 0 else np.inf
            if best is None or use > best[0]:
                best = (use, block, e, needs)
        if best is None:
            needs = required or group.load_factor
            checks.append(how.judge(capacity=0.0, demand=0.0, required=needs, where=place.where))
            return
        _, block, e, needs = best
        key = "k" if en else "U_bs"
        U = 0.5 if uneven and not block.single else 1.0
        why = "the fasteners of the block are loaded unevenly" if U < 1 else "the block is pulled evenly"
        checks.append(
            how.judge(
                capacity=float(e.value),
                demand=block.load,
                required=needs,
                where=place.where,
                trace=[
                    *place.before,
                    *place.bears[1],
                    Stated("A_gv", "mm^2", block.A_gv, block.what),
                    Stated("A_nv", "mm^2", block.A_nv, "less the holes in it"),
                    Stated("A_nt", "mm^2", block.A_nt, "across, less the holes in it"),
                    Stated(key, "1", U, why),
                    e,
                    Stated("F", "N", block.load, "shares of the fasteners in the block, along the force"),
                ],
                note="; ".join(part for part in (block.what, place.note) if part),
            )
        )

    omega = _safety(place, rupture.SAFETY_AISI)
    worst(EN_BLOCK, rupture.BLOCK_TEARING, "EN 1993", None)
    worst(AISI_BLOCK, rupture.BLOCK_SHEAR_AISI, "AISI S100", omega)
    if group.fastener.kind != "rivet":
        omega = rupture.SAFETY_AISC.Omega
        worst(AISC_BLOCK, rupture.BLOCK_SHEAR_AISC, "AISC 360", omega)
    return checks
