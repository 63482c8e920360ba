"""The sheets of a seam between its spots: buckling under compression, and of the diagonal of a widely spaced row."""

from __future__ import annotations

from collections.abc import Iterable
from math import hypot

from jointcalc.check.common import LIMIT, LOAD_ALONE, Steps
from jointcalc.check.peel import NO_YIELD
from jointcalc.check.seam_base import SeamAction, judged_or_bound, widely_spaced
from jointcalc.formula import aisi_s100, column, spot_aisi
from jointcalc.formula.core import Evaluation, Source
from jointcalc.model.seam import SpotSeam
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.sentence import mm, mpa
from jointcalc.result import Check, Method, Stated, method

AISI_PITCH = method(
    "aisi-s100.spot-pitch",
    "Pitch in compression",
    spot_aisi.SPACING,
    per="mm",
    basis="limit",
    factor=LIMIT,
    covers=("compression",),
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
    factor=LOAD_ALONE,
    covers=("compression",),
)

DIAGONAL = method(
    "inter-fastener.buckling-shear",
    "Buckling between wide spots under shear",
    BETWEEN_SPOTS.source,
    per="seam",
    basis="elastic buckling stress",
    factor=LOAD_ALONE,
)


def _pitch_limit(seam: SpotSeam, sheet: Sheet, f_c: float) -> tuple[float, list[Evaluation]]:
    """Widest pitch by AISI S100 I1.3 (b) and, where flat width and yield are known, (c) [mm] of one outer sheet."""
    limit = spot_aisi.PITCH_WAVE.evaluate(t=sheet.t, E=aisi_s100.E, f_c=f_c)
    if seam.flat_beside is None or not sheet.has_yield:
        return float(limit.value), [limit]
    outstand = spot_aisi.PITCH_OUTSTAND.evaluate(w=seam.flat_beside)
    names = {"t": sheet.t, "E": aisi_s100.E, "f_y": sheet.f_y, "w": seam.flat_beside}
    floors = (spot_aisi.PITCH_OUTSTAND_FLOOR_STOCKY, spot_aisi.PITCH_OUTSTAND_FLOOR_SLENDER)
    floor = next(f for f in floors if not f.outside(**names)).evaluate(**names)
    allowed = max(float(outstand.value), float(floor.value))
    return min(float(limit.value), allowed), [limit, outstand, floor]


def _diagonal(seam: SpotSeam, sheet: Sheet) -> tuple[float, Steps]:
    """Compression in an outer sheet between spots too far apart [MPa]: along the diagonal of the shear that passes."""
    stress, tau = seam.compression or 0.0, abs(seam.shear) / (seam.length * sheet.t)
    diagonal = stress / 2 + hypot(stress / 2, tau)
    told = f"diagonal of {mpa(tau)} of shear" + (f" and {mpa(stress)} of compression" if stress else "")
    return diagonal, [Stated("f_c", "MPa", diagonal, f"{told}, in sheet of {mm(sheet.t):.4g}")]


def _buckles(seam: SpotSeam, method: Method, pressed: Iterable[tuple[Sheet, float, Steps]]) -> Check:
    """Buckling from spot to spot of the outer sheet that is pressed hardest for its strength."""
    found: list[tuple[float, float, Steps, str, bool]] = []
    for one, f_c, given in pressed:
        elastic = column.INTER_FASTENER_COLUMN.evaluate(C=column.FIXITY_SPOT, E=one.material.E, t=one.t, p=seam.widest)
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
    note = f"end fixity C = {column.FIXITY_SPOT} for spots is not verified by test; {why}"
    return judged_or_bound(
        method, [] if known else [NO_YIELD], capacity=capacity, demand=f_c, load_factor=seam.load_factor, unit="MPa",
        trace=working, note=note,
    )  # fmt: skip


def between_spots(action: SeamAction) -> list[Check]:
    """The outer sheets buckling from spot to spot."""
    seam = action.seam
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
        pitch = seam.widest
        if other is None:
            checks.append(AISI_PITCH.judge(capacity=least, demand=pitch, unit="mm", trace=trace, note=note))
        else:
            reason = f"written for carbon steel of E {mpa(aisi_s100.E)}; this stack has {other}"
            checks.append(AISI_PITCH.outside(reason, demand=pitch, unit="mm"))
        checks.append(_buckles(seam, BETWEEN_SPOTS, [(sheet, seam.compression, []) for sheet in outer]))
    if widely_spaced(seam) and seam.shear:
        checks.append(_buckles(seam, DIAGONAL, [(sheet, *_diagonal(seam, sheet)) for sheet in outer]))
    return checks
