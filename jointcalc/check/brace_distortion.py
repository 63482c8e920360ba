"""Distortional buckling of open braces by AISI S100-16, E4 and F4: the elastic loads come from finite strips.

Decided here: every open profile whose strips show such a mode is judged, not only flanges with lips; the span is not
counted where it is shorter than the half-wavelength, on the safe side; where something holds a face without lips
sideways, its flanges cannot move, and nothing distorts under bending that presses that face; but a bead or a fold in a
flat dips out of its plane whatever holds the face (always looked for in beaded profiles and free outlines).
EN 1993-1-3 has it in its effective sections (5.5.3.2), for flanges with lips.
"""

from __future__ import annotations

from jointcalc.check.brace_action import BraceAction, given_moment
from jointcalc.check.brace_base import AISI_DISTORTION, AISI_DISTORTION_COLUMN
from jointcalc.check.common import Steps, once
from jointcalc.formula import aisi_s100, direct_strength
from jointcalc.quantity.sentence import mpa
from jointcalc.result import Check, Stated
from jointcalc.section.buckling import Found, Loading, distortional
from jointcalc.section.effective_aisi import E_AISI

COMPUTED = f"finite strips, E = {mpa(aisi_s100.E)}"


def _lipped(action: BraceAction) -> bool:
    return any(part.role == "lip" for part in action.parts)


def _prone(action: BraceAction, face: str) -> bool:
    """Whether the profile may distort with that face ("all": uniform) compressed."""
    if action.family.closed or action.p.outline.tree.loops or not action.parts:
        return False
    held = action.held_both if face == "all" else action.held(face)
    folded = action.family.kind == "points" or any(part.bead is not None for part in action.parts)
    return _lipped(action) or folded or not held


def _found(action: BraceAction, loading: Loading) -> Found | None:
    return distortional(action.family, loading=loading, E=E_AISI, nu=action.nu)


def distortion(action: BraceAction) -> list[Check]:
    """Distortional buckling in bending, for every face that is compressed."""
    return list(distorted(action).values())


@once
def distorted(action: BraceAction) -> dict[str, Check]:
    """Face of the profile -> the check of distortional buckling in bending, where there is such a mode."""
    checks = {}
    for word, M, face, at in action.bends:
        if not M or not _prone(action, face):
            continue
        found = _found(action, "sagging" if face == "top" else "hogging")
        if found is None:
            continue
        S_fy = min(action.modulus("top"), action.modulus("bottom"))
        first = direct_strength.YIELD_MOMENT.evaluate(S_fy=S_fy, F_y=action.f_y)
        critical = Stated("M_crd", "N*mm", found.load, f"{COMPUTED}: {found.note}", status="computed")
        given = {"M_y": float(first.value), "M_crd": found.load}
        branch = direct_strength.distortional_branch_beam(**given)
        last = branch.formula.evaluate(**{name: given[name] for name in branch.formula.parameters})
        slender = direct_strength.DISTORTIONAL_SLENDERNESS_BEAM.evaluate(**given)
        trace: Steps = [first, critical, slender, last, given_moment(word, M, at)]
        checks[face] = AISI_DISTORTION.judge(
            capacity=float(last.value), demand=M, unit="N*mm", trace=trace,
            where=word, note=f"{branch.why}; {found.note}",
        )  # fmt: skip
    return checks


def distortion_column(action: BraceAction) -> Check | None:
    """Distortional buckling as a strut; None where there is no such mode."""
    found = _found(action, "axial") if _prone(action, "all") else None
    if found is None:
        return None
    squash = direct_strength.SQUASH_LOAD.evaluate(A_g=float(action.p.area[0]), F_y=action.f_y)
    critical = Stated("P_crd", "N", found.load, f"{COMPUTED}: {found.note}", status="computed")
    given = {"P_y": float(squash.value), "P_crd": found.load}
    branch = direct_strength.distortional_branch_column(**given)
    last = branch.formula.evaluate(**{name: given[name] for name in branch.formula.parameters})
    slender = direct_strength.DISTORTIONAL_SLENDERNESS_COLUMN.evaluate(**given)
    return AISI_DISTORTION_COLUMN.judge(
        capacity=float(last.value), demand=action.brace.compression,
        trace=[squash, critical, slender, last], note=f"{branch.why}; {found.note}",
    )  # fmt: skip
