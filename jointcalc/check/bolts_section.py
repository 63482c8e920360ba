"""Net and gross section of the sheet at its fasteners, in every direction in which a row of them is pulled.

A section runs straight across the force, or zigzag from row to row where holes staggered along it leave less: each step
to a hole s further along and p further across takes off the hole less s²/4p (EN 1993-1-1, 6.2.2.2(4), from memory).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from jointcalc.check.bolts_action import Place
from jointcalc.check.bolts_base import Inputs, ask, family
from jointcalc.check.bolts_sheet import PLATE_FROM, SHEET_FROM, SHEET_TO, safety_of
from jointcalc.check.common import CHARACTERISTIC, NOMINAL, PARTIAL, YIELDS, Steps, gamma_M0
from jointcalc.formula import bolts_en1993, rupture
from jointcalc.formula.branch import above, below, least
from jointcalc.formula.core import Formula
from jointcalc.quantity.sentence import joined, mm
from jointcalc.result import Check, Method, Stated, method
from jointcalc.result.factor import omega
from jointcalc.statics.group_common import Array

EN_NET = method(
    "en1993-1-3.fastener-net-section",
    "Net section of the sheet",
    bolts_en1993.SHEET,
    per="group",
    basis=CHARACTERISTIC,
    factor=PARTIAL,
    covers=("net-section",),
)
EN_NET_RIVETED = EN_NET.under(bolts_en1993.NET_SECTION.source)
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
    factor=YIELDS,
)
AISI_NET = method(
    "aisi-s100.net-section", "Net section, sheet (AISI)", rupture.AISI_NET, per="group", basis=NOMINAL,
    factor=omega(rupture.SAFETY_AISI, rupture.SAFETY_AISI_SCREW, words="Ω = {}, rivets {}"), covers=("net-section",),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Section:
    """The section across the force that holes take most from: how many, width [mm] and where that comes from.

    `back` is what its steps along the force give back of the holes [mm], nought where it runs straight.
    """

    n: int
    width: float
    how: str
    p: float | None
    rows: int
    back: float


def _section(place: Place) -> _Section | None:
    net = place.action.net
    if net is None:
        return None
    group = place.group
    points = place.action.group.points
    along, across = points @ net, points @ np.array([-net[1], net[0]])
    order = np.argsort(along)
    best = order[:1]
    start = 0
    for stop in range(len(order)):
        while above(along[order[stop]] - along[order[start]], place.d_0):
            start += 1
        if stop - start + 1 > len(best):
            best = order[start : stop + 1]
    hole = _across(place)
    chain, back = zigzag(along, across, hole)
    if above(len(chain) * hole - back, len(best) * hole):
        best = np.array(chain)
    else:
        back = 0.0
    apart = np.diff(np.sort(across[best]))
    p = float(apart.min()) if len(apart) else None
    rows = 1 + int(np.sum(np.diff(np.sort(along)) > place.d_0 / 2))
    corners = place.corners
    if group.width is not None:
        return _Section(len(best), group.width, "as given", p, rows, back)
    if corners is not None:
        way = np.array([[-net[1], net[0]]])
        at = points[best].mean(axis=0)[None, :]
        width = _chord(way, at, corners)
        return _Section(len(best), width, "the outline, across the force", p, rows, back)
    side = "edge given" if group.edge is not None else "edge assumed"
    width = place.extent + 2 * place.edge
    return _Section(len(best), width, f"holes over {mm(place.extent):.4g} and twice the {side}", p, rows, back)


def zigzag(along: Array, across: Array, hole: float) -> tuple[list[int], float]:
    """Holes (from 0) of the section that leaves least, one step across after the other, and what its steps give back.

    `along` and `across` (n,) are the places of the holes about the force [mm], `hole` the width of one; each step gives
    back s²/4p of it.
    """
    order = np.argsort(across, kind="stable")
    u, v = along[order], across[order]
    lost, came = np.full(len(order), hole), np.full(len(order), -1)
    for k in range(1, len(order)):
        p = v[k] - v[:k]
        # of two that stand one behind the other a section goes through one
        beside = p > 1e-6 * hole
        back = (u[k] - u[:k]) ** 2 / (4 * np.where(beside, p, 1.0))
        through = np.where(beside, lost[:k] + hole - back, -np.inf)
        before = int(through.argmax())
        if through[before] > lost[k]:
            lost[k], came[k] = through[before], before
    last = int(lost.argmax())
    chain = [last]
    while came[chain[-1]] >= 0:
        chain.append(int(came[chain[-1]]))
    return [int(order[k]) for k in reversed(chain)], len(chain) * hole - float(lost[last])


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
    net = place.action.net
    assert net is not None
    return place.d_0 + 2 * float(place.lengthened(np.array([[-net[1], net[0]]]))[0])


def _net(place: Place, found: _Section) -> tuple[Stated, Stated]:
    """Width [mm] and net area [mm²] of a section; nought or less where the holes leave nothing."""
    n, W, t, hole = found.n, found.width, place.sheet.t, _across(place)
    wide, deep = place.group.sink
    cone = 0.0
    if place.deep:
        # cut out of every hole beside the shank: a cone of the head's height, as far as it lies in this sheet
        cone = max(wide - place.d_0, 0.0) * (place.sunk - place.sunk**2 / (2 * deep))
    less = ", less the countersinks" if cone else ""
    if found.back:
        how = f"({mm(W, f' - {n} x ', hole, ' + ', found.back, ') x ', t):.4g}, zigzag, s²/4p given back{less}"
    else:
        how = f"({mm(W, f' - {n} x ', hole, ') x ', t):.4g}{less}"
    return Stated("b", "mm", W, found.how), Stated("A_net", "mm^2", (W + found.back) * t - n * (hole * t + cone), how)


def net_area(place: Place) -> tuple[float, Steps] | None:
    """Net area of the section through most holes [mm²], and its steps; None without one, or where nothing is left."""
    found = _section(place)
    if found is None:
        return None
    width, net = _net(place, found)
    return (net.value, [width, net]) if net.value > 0 else None


def sections(place: Place) -> list[Check]:
    """Net section by EN 1993 and AISI S100, gross section in yield; nothing without a force in the plane."""
    found = _section(place)
    if found is None:
        return []
    group, sheet, action = place.group, place.sheet, place.action
    force = place.part * float(np.hypot(action.load.F_x, action.load.F_y))
    hole = _across(place)
    plain = group.fastener.kind == "rivet"
    in_sheet = EN_NET_RIVETED if plain else EN_NET
    n, W = found.n, found.width
    why = ""
    if group.width is not None and below(W, place.extent + hole):
        why = (
            f"holes of {mm(hole):.3g} that stand over {mm(place.extent):.4g} across the force do not lie in a width of "
            f"{mm(W):.4g}: give the 'outline'"
        )
    elif n * hole - found.back >= W:
        why = f"{n} holes of {mm(hole):.3g} use up a width of {mm(W):.4g}"
    if why:
        thin = plain or below(sheet.t, SHEET_TO)
        return [(in_sheet if thin else EN_PLATE_NET).outside(why, demand=force, where=place.where)]
    A = W * sheet.t
    width, net = _net(place, found)
    A_net = net.value
    given = Stated(
        "F", "N", force, "force in the plane" if place.part == 1.0 else f"{place.part:.3g} of the force in the plane"
    )
    note = "" if group.width is not None or group.outline else f"width taken as {mm(W):.4g}: give 'width' or 'outline'"
    checks: list[Check] = []
    if A_net <= 0:
        return [in_sheet.outside("the holes and countersinks leave no section", demand=force, where=place.where)]
    hard = family(sheet, "EN 1993")
    demand = np.array([force])
    e_2 = (W - (found.p or 0.0) * (n - 1)) / 2
    # a wider hole leaves less metal, and by the printed factor spreads the stress better; only the first is counted
    d_0 = min(hole, place.d_0 if group.fastener.kind == "rivnut" else group.fastener.hole)
    u = min(2 * e_2, found.p) if found.p is not None else 2 * e_2
    d = place.d
    formula = bolts_en1993.NET_SECTION if plain else bolts_en1993.SHEET_NET_SECTION

    def sheet_inputs(t: float, d: float, f_u: float) -> Inputs:
        return {
            "r": n / len(group.holes), "d_0": d_0, "u": max(u, 1e-9), "A_net": A_net * t / sheet.t, "f_u": f_u, "t": t,
            "d": d, "e_1": 3 * d_0, "e_2": 3 * d_0, "p_1": 3 * d_0, "p_2": max(u, 3 * d_0) if found.p else 3 * d_0,
        }  # fmt: skip

    def asked(method: Method, formula: Formula, inputs: Inputs, edge: Inputs) -> Check:
        return ask(
            method,
            formula,
            inputs,
            demand=demand,
            load_factor=group.load_factor,
            shown=lambda k: [*place.before, width, net],
            share=lambda k: given,
            hard=hard,
            edge=edge,
            where=place.where,
            note=note,
        ).check

    if plain or below(sheet.t, SHEET_TO):
        edge = sheet_inputs(max(sheet.t, SHEET_FROM), max(d, least(bolts_en1993.SHEET_NET_SECTION, "d")), sheet.f_u)
        checks.append(asked(in_sheet, formula, sheet_inputs(sheet.t, d, sheet.f_u), edge))
    if not plain:
        inputs = {"A_net": A_net, "f_u": sheet.f_u, "t": sheet.t}
        thick = max(sheet.t, SHEET_TO)
        edge = {"A_net": A_net * thick / sheet.t, "f_u": sheet.f_u, "t": thick}
        checks.append(asked(EN_PLATE_NET, bolts_en1993.PLATE_NET_SECTION, inputs, edge))
    if below(sheet.t, PLATE_FROM):
        lag = rupture.SHEAR_LAG.evaluate(d=d, s=W / n)
        U_sl = float(lag.value) if found.rows == 1 else 1.0
        step: Steps = [lag] if found.rows == 1 else [Stated("U_sl", "1", 1.0, f"{found.rows} rows along the force")]
        A_n = A_net
        if found.back:
            A_n = rupture.STAGGERED * A_net
            step.append(Stated("A_n", "mm^2", A_n, f"{rupture.STAGGERED:g} A_net, holes staggered (AISI S100 J6.2)"))
        checks.append(
            ask(
                AISI_NET,
                rupture.NET_RUPTURE,
                {"U_sl": U_sl, "A_n": A_n, "F_u": sheet.f_u, "t": sheet.t},
                demand=demand,
                required=safety_of(place, rupture.SAFETY_AISI),
                load_factor=group.load_factor,
                share=lambda k: given,
                shown=lambda k: [*place.before, width, net, *step],
                hard=family(sheet, "AISI S100"),
                where=place.where,
                note=note,
            ).check
        )
    if sheet.has_yield and not family(sheet, "EN 1993"):
        gross = Stated("A", "mm^2", A, f"{mm(W, ' x ', sheet.t):.4g}")
        whole = rupture.GROSS_YIELD.evaluate(A=A, f_y=sheet.f_y)
        partial, metal = gamma_M0([sheet])
        checks.append(
            EN_GROSS.judge(
                capacity=float(whole.value),
                demand=force,
                required=partial * group.load_factor,
                where=place.where,
                note=joined("; ", filter(None, (note, metal))),
                trace=[*place.before, width, gross, whole, given],
            )
        )
    return checks
