"""A brace that buckles sideways under bending.

A face that nothing holds sideways is judged for lateral-torsional buckling only where the brace bends about its
stiffer axis, with the least favourable of the tabulated moment factors.
"""

from __future__ import annotations

from dataclasses import dataclass

from jointcalc.check.brace_action import BraceAction, called
from jointcalc.check.brace_base import AISI_LTB, EN_LTB
from jointcalc.check.common import Steps, once
from jointcalc.formula import column
from jointcalc.formula.branch import at_least
from jointcalc.formula.core import Evaluation
from jointcalc.quantity.sentence import joined
from jointcalc.result import Check, Looked, Need, Stated
from jointcalc.section.effective_aisi import E_AISI, effective_aisi
from jointcalc.section.families.channel import Channel, LippedChannel
from jointcalc.section.families.hat import Hat, HatSkin
from jointcalc.section.families.tube import Bar, Box, Tube


def symmetry(action: BraceAction) -> str:
    """Axis of symmetry: z (upright), y (level), both or none."""
    if isinstance(action.family, Box | Tube | Bar):
        return "both"
    if isinstance(action.family, Hat):
        return "z"
    if isinstance(action.family, Channel) or (
        isinstance(action.family, LippedChannel) and action.family.level_symmetric
    ):
        return "y"
    return "none"


@dataclass(frozen=True, slots=True)
class Sideways:
    """What both documents say of one compressed face that nothing holds."""

    en: Check
    aisi: Check
    applies: frozenset[str]
    """Codes whose method applies."""
    critical: float
    """Elastic critical moment of EN 1993 [N mm]."""
    stress: float
    """Lateral-torsional buckling stress F_n of AISI F2 [MPa]."""
    working: tuple[Evaluation | Looked | Stated, ...]
    """How `stress` was found."""
    elastic: float
    """Elastic critical moment of AISI F2 [N mm]."""


def _free(action: BraceAction) -> list[tuple[str, float, str]]:
    """(word, moment, face of the profile) of what is compressed and not held, and could move sideways."""
    if isinstance(action.family, Tube):
        return []
    # bent about its weaker axis, or square, it stays in its plane
    weak = symmetry(action) != "none" and at_least(float(action.p.I_z[0]), action.I_y)
    return [] if weak else [(word, M, face) for word, M, face, _ in action.bends if not action.held(face)]


@once
def sideways(action: BraceAction) -> dict[str, Sideways]:
    """Face of the profile -> lateral-torsional buckling, where it is judged in closed form."""
    axis = symmetry(action)
    found = {}
    for word, M, face in _free(action) if axis != "none" else ():
        en, critical, en_applies = _en_lateral(action, word, M, face, axis)
        aisi, stress, working, elastic, aisi_applies = _aisi_lateral(action, word, M, face, axis)
        applies = frozenset(["en"] * en_applies + ["aisi"] * aisi_applies)
        found[face] = Sideways(en, aisi, applies, critical, stress, tuple(working), elastic)
    return found


def _askew(action: BraceAction) -> str:
    return (
        f"{called(action)} that nothing holds sideways bends askew and twists; no rule for it is at hand: "
        "hold the compressed face ('held') or take a symmetric profile"
    )


def lateral(action: BraceAction) -> list[Check]:
    """Lateral-torsional buckling by both documents, for every face that is compressed and not held."""
    checks: list[Check] = []
    for word, M, face in _free(action):
        one = sideways(action).get(face)
        if one is None and not M:
            continue  # nothing bends it
        if one is None:
            checks += [
                method.outside(_askew(action), demand=M, unit="N*mm", where=word) for method in (EN_LTB, AISI_LTB)
            ]
        else:
            checks += [one.en, one.aisi]
    return checks


def lateral_needs(action: BraceAction) -> list[Need]:
    """Every compressed face that could move sideways."""
    needs = []
    for word, M, face in _free(action):
        if not M:
            continue
        one = sideways(action).get(face)
        mine = [] if one is None else [one.en, one.aisi]
        why = joined("; ", dict.fromkeys(c.note for c in mine if c.status == "outside"))
        sentence = _askew(action) if one is None else f"no method applies to buckling sideways ({word}): {why}"
        needs.append(Need(f"{word}, sideways", sentence))
    return needs


def _monosymmetry(action: BraceAction, face: str) -> float:
    """z_j [mm]: positive when the wider flange is in compression."""
    beta = float(action.p.beta_y[0])
    return -beta / 2 if face == "top" else beta / 2


def _en_lateral(
    action: BraceAction, word: str, M: float, face: str, axis: str
) -> tuple[Check, float, bool]:  # fmt: skip
    """(check, elastic critical moment [N mm], whether the method applies)."""
    e = action.effective("en", face)
    p, L = action.p, action.free_length
    z_j = 0.0 if axis in ("y", "both") else _monosymmetry(action, face)
    above = float(p.z_top[0] - p.z_shear_centre[0]) if not action.turned else float(p.z_shear_centre[0] - p.z_bottom[0])
    z_g = max(0.0, above)
    given = [
        Stated("L", "mm", L, "longest span, free to move sideways between its supports"),
        Stated("z_g", "mm", z_g, "load on top, above the shear centre"),
    ]
    C_1, C_2, C_3 = column.least_favourable_factors(z_j)
    critical = column.CRITICAL_MOMENT.evaluate(
        E=action.E, G=action.G, I_z=float(p.I_z[0]), J=float(p.J[0]), C_w=float(p.C_w[0]), L=L, k_z=1.0, k_w=1.0,
        C_1=C_1, C_2=C_2, C_3=C_3, z_g=z_g, z_j=z_j,
    )  # fmt: skip

    def resistance(W: float) -> tuple[float, list[Evaluation]]:
        slender = column.RELATIVE_SLENDERNESS_LT.evaluate(W_y=W, f_y=action.f_y, M_cr=float(critical.value))
        chi = column.REDUCTION_FACTOR_LT.evaluate(lamda=float(slender.value), alpha=column.IMPERFECTION_FACTORS["b"])
        last = column.MOMENT_RESISTANCE_LT.evaluate(chi=float(chi.value), W_y=W, f_y=action.f_y)
        return float(last.value), [critical, slender, chi, last]

    if e.outside():
        edge = action.effective_at_edge("en", face)
        if edge is None:
            return EN_LTB.outside(e.outside(), demand=M, unit="N*mm", where=word), float(critical.value), False
        # at most what a section that is in range carries without buckling sideways
        bound = EN_LTB.at_most(
            e.outside(), capacity=float(edge.moment[0]), demand=M, load_factor=action.gamma, unit="N*mm", where=word
        )
        return bound, float(critical.value), False
    capacity, steps = resistance(float(e.W_eff[0]))
    check = EN_LTB.judge(
        capacity=capacity, demand=M, load_factor=action.gamma, unit="N*mm", trace=[*given, *steps], where=word,
        note="least favourable moment factors", covers=[f"{word}, sideways"],
    )  # fmt: skip
    return check, float(critical.value), True


def _aisi_lateral(
    action: BraceAction, word: str, M: float, face: str, axis: str
) -> tuple[Check, float, Steps, float, bool]:  # fmt: skip
    """(check, stress of F2 [MPa], its working, elastic critical moment [N mm], whether the method applies)."""
    p, L = action.p, action.free_length
    A, r_o = float(p.area[0]), float(p.i_0[0])
    S_f = action.modulus(face)
    G = E_AISI / (2 * (1 + action.nu))
    sigma_z = column.ELASTIC_BUCKLING_STRESS.evaluate(E=E_AISI, K=1.0, L=L, r=float(p.i_z[0]))
    sigma_t = column.TORSIONAL_BUCKLING_STRESS.evaluate(
        A=A, r_o=r_o, G=G, J=float(p.J[0]), E=E_AISI, C_w=max(0.0, float(p.C_w[0])), K_t=1.0, L_t=L
    )
    trace: Steps = [sigma_z, sigma_t]
    if isinstance(action.family, Box | HatSkin):
        elastic = column.AISI_LTB_CLOSED.evaluate(
            C_b=1.0, K=1.0, L=L, S_f=S_f, E=E_AISI, G=G, J=float(p.J[0]), I_y=float(p.I_z[0])
        )
        trace = []
    elif axis in ("y", "both"):
        elastic = column.AISI_LTB_ABOUT_SYMMETRY_AXIS.evaluate(
            C_b=1.0, r_o=r_o, A=A, S_f=S_f, sigma_ey=float(sigma_z.value), sigma_t=float(sigma_t.value)
        )
    else:
        above = float(p.z_shear_centre[0]) >= float(p.z_centroid[0])
        C_s = 1.0 if above == (face == "top") else -1.0
        beta = float(p.beta_y[0])
        elastic = column.AISI_LTB_ACROSS_SYMMETRY_AXIS.evaluate(
            C_s=C_s, A=A, sigma_ex=float(sigma_z.value), j=-beta / 2 if above else beta / 2, r_o=r_o,
            sigma_t=float(sigma_t.value), C_TF=1.0, S_f=S_f,
        )  # fmt: skip
    choice = column.aisi_ltb_branch(F_y=action.f_y, F_cre=float(elastic.value))
    stress = choice.formula.evaluate(F_y=action.f_y, F_cre=float(elastic.value))
    F_n = min(float(stress.value), action.f_y)
    said = F_n, [*trace, elastic, stress], float(elastic.value) * S_f
    e = effective_aisi(action.family, F_y=F_n, compression=face, properties=p)
    if e.outside():
        edge = action.effective_at_edge("aisi", face)
        if edge is None:
            return AISI_LTB.outside(e.outside(), demand=M, unit="N*mm", where=word), *said, False
        most = float(edge.moment[0])
        return AISI_LTB.at_most(e.outside(), capacity=most, demand=M, unit="N*mm", where=word), *said, False
    S_c = float((e.W_top if face == "top" else e.W_bottom)[0])
    trace += [elastic, stress, Stated("S_c", "mm^3", S_c, "effective modulus of the compressed face at F_n")]
    check = AISI_LTB.judge(
        capacity=S_c * F_n, demand=M, unit="N*mm", trace=trace, where=word,
        note=f"{choice.why}; C_b = 1", covers=[f"{word}, sideways"],
    )  # fmt: skip
    return check, *said, True
