"""Distortional buckling of open braces by AISI S100-16, E4 and F4: the elastic loads come from finite strips.

Decided here: every open profile whose strips show such a mode is judged, not only flanges with lips; the span is not
counted where it is shorter than the half-wavelength, on the safe side; where something holds a face without lips
sideways, its flanges cannot move, and nothing distorts under bending that presses that face; but a bead or a fold in a
flat dips out of its plane whatever holds the face (always looked for in beaded profiles and free outlines).
EN 1993-1-3 has it in its effective sections (5.5.3.2), for flanges with lips.
"""

from __future__ import annotations

from jointcalc.check.brace_base import AISI_DISTORTION, AISI_DISTORTION_COLUMN
from jointcalc.check.brace_state import State, given_moment
from jointcalc.check.common import Steps
from jointcalc.formula import aisi_s100, direct_strength
from jointcalc.quantity.sentence import mpa
from jointcalc.result import Check, Stated
from jointcalc.section.buckling import Found, Loading, distortional
from jointcalc.section.effective import E_AISI

COMPUTED = f"finite strips, E = {mpa(aisi_s100.E)}"


def _lipped(s: State) -> bool:
    return any(part.role == "lip" for part in s.parts)


def _prone(s: State, face: str) -> bool:
    """Whether the profile may distort with that face ("all": uniform) compressed."""
    if s.family.closed or s.p.outline.tree.loops or not s.parts:
        return False
    held = s.held_both if face == "all" else s.held(face)
    folded = s.family.kind == "points" or any(part.bead is not None for part in s.parts)
    return _lipped(s) or folded or not held


def _found(s: State, loading: Loading) -> Found | None:
    return distortional(s.family, loading=loading, E=E_AISI, nu=s.nu)


def distortion(s: State) -> list[Check]:
    """Distortional buckling in bending, for every face that is compressed."""
    checks = []
    for word, M, face, at in s.cases:
        if not M or not _prone(s, face):
            continue
        found = _found(s, "sagging" if face == "top" else "hogging")
        if found is None:
            continue
        S_fy = min(s.modulus("top"), s.modulus("bottom"))
        first = direct_strength.YIELD_MOMENT.evaluate(S_fy=S_fy, F_y=s.f_y)
        critical = Stated("M_crd", "N*mm", found.load, f"{COMPUTED}: {found.note}", status="computed")
        given = {"M_y": float(first.value), "M_crd": found.load}
        branch = direct_strength.distortional_branch_beam(**given)
        last = branch.formula.evaluate(**{name: given[name] for name in branch.formula.parameters})
        slender = direct_strength.DISTORTIONAL_SLENDERNESS_BEAM.evaluate(**given)
        trace: Steps = [first, critical, slender, last, given_moment(word, M, at)]
        check = AISI_DISTORTION.judge(
            capacity=float(last.value), demand=M, unit="N*mm", trace=trace,
            where=word, note=f"{branch.why}; {found.note}",
        )  # fmt: skip
        s.distortion[face] = check
        checks.append(check)
    return checks


def distortion_column(s: State) -> Check | None:
    """Distortional buckling as a strut; None where there is no such mode."""
    found = _found(s, "axial") if _prone(s, "all") else None
    if found is None:
        return None
    squash = direct_strength.SQUASH_LOAD.evaluate(A_g=float(s.p.area[0]), F_y=s.f_y)
    critical = Stated("P_crd", "N", found.load, f"{COMPUTED}: {found.note}", status="computed")
    given = {"P_y": float(squash.value), "P_crd": found.load}
    branch = direct_strength.distortional_branch_column(**given)
    last = branch.formula.evaluate(**{name: given[name] for name in branch.formula.parameters})
    slender = direct_strength.DISTORTIONAL_SLENDERNESS_COLUMN.evaluate(**given)
    return AISI_DISTORTION_COLUMN.judge(
        capacity=float(last.value), demand=s.brace.compression,
        trace=[squash, critical, slender, last], note=f"{branch.why}; {found.note}",
    )  # fmt: skip
