"""Blocks of sheet torn out with their fasteners."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from jointcalc.check.bolts_action import EVEN, Place
from jointcalc.check.bolts_base import family
from jointcalc.check.bolts_sheet import safety_of
from jointcalc.check.common import CHARACTERISTIC, NOMINAL, gamma_M0
from jointcalc.formula import rupture
from jointcalc.formula.core import Evaluation, Formula
from jointcalc.formula.safety import GAMMA_M2
from jointcalc.quantity.sentence import joined
from jointcalc.result import Check, Method, Stated, method
from jointcalc.result.factor import Factor, omega
from jointcalc.statics.group_common import Array

EN_BLOCK = method(
    "en1993-1-8.block-tearing",
    "Block torn out (EN)",
    rupture.EN_BLOCK,
    per="group",
    basis=CHARACTERISTIC,
    factor=Factor("γ_M2 on the pull, γ_M0 on the shear × γ_F"),
    covers=("block",),
)
AISI_BLOCK = method(
    "aisi-s100.block-shear", "Block torn out, sheet (AISI)", rupture.AISI_BLOCK, per="group", basis=NOMINAL,
    factor=omega(rupture.SAFETY_AISI, rupture.SAFETY_AISI_SCREW, words="Ω = {}, rivets {}"), covers=("block",),
)  # fmt: skip
AISC_BLOCK = method(
    "aisc360.block-shear", "Block torn out, plate (AISC)", rupture.AISC_BLOCK, per="group", basis=NOMINAL,
    factor=omega(rupture.SAFETY_AISC), covers=("block",),
)  # fmt: skip

FILE = 0.41
"""Holes stand in one file along the force when one is ahead of the other within 22.5 degrees (its tangent)."""

ASKEW = 0.25
"""Rows of holes further apart along the force than this part of the pitch are rows of their own."""


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
    action = place.action
    net = action.net
    assert net is not None
    t, _ = place.bears
    points = action.group.points
    d_0 = place.d_0
    found: list[_Block] = []
    for sense in action.senses(place.n):
        ahead = sense * net
        beside = np.array([-ahead[1], ahead[0]])
        a, b = points @ ahead, points @ beside
        push = place.part * np.maximum(action.force[:, :2] @ net, 0.0)
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
        for i in np.flatnonzero(foremost & (push > EVEN * action.peak)):
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
            if load <= EVEN * action.peak or len(inside) == 1:
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
    if place.action.net is None:
        return []
    sheet, group = place.sheet, place.group
    found = _blocks(place) if not place.nothing_left else []
    demand = max((b.load for b in found), default=0.0)
    uneven = not place.action.even_shear
    checks: list[Check] = []
    partial, metal = gamma_M0([sheet])

    def worst(method: Method, formula: Formula, body: str, required: float | None) -> None:
        en = required is None  # its partial factors differ from term to term
        reasons = [*family(sheet, body), *place.nothing_left, *formula.outside(t=sheet.t)]
        if not sheet.has_yield:
            reasons.append("the standard of the grade lets no yield strength be assumed; give 'yield_strength'")
        if reasons:
            checks.append(method.outside(reasons, demand=demand, where=place.where))
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
                needs = group.load_factor * R / (pulled / GAMMA_M2 + (R - pulled) / partial)
            use = needs * block.load / R if R > 0 else np.inf
            if best is None or use > best[0]:
                best = (use, block, e, needs)
        if best is None:
            needs = required or group.load_factor
            checks.append(method.judge(capacity=0.0, demand=0.0, required=needs, where=place.where))
            return
        _, block, e, needs = best
        key = "k" if en else "U_bs"
        U = 0.5 if uneven and not block.single else 1.0
        why = "the fasteners of the block are loaded unevenly" if U < 1 else "the block is pulled evenly"
        checks.append(
            method.judge(
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
                note=joined("; ", filter(None, (block.what, place.note, metal if en else ""))),
            )
        )

    omega = safety_of(place, rupture.SAFETY_AISI)
    worst(EN_BLOCK, rupture.BLOCK_TEARING, "EN 1993", None)
    worst(AISI_BLOCK, rupture.BLOCK_SHEAR_AISI, "AISI S100", omega)
    if group.fastener.kind != "rivet":
        omega = rupture.SAFETY_AISC.Omega
        worst(AISC_BLOCK, rupture.BLOCK_SHEAR_AISC, "AISC 360", omega)
    return checks
