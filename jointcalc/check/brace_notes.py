"""What is told of a brace beside its checks: values, what it is, the cautions."""

from __future__ import annotations

from collections.abc import Iterable
from math import inf

from jointcalc.check.brace_action import BraceAction
from jointcalc.check.brace_base import HOLES
from jointcalc.check.brace_cell import greatest_torque
from jointcalc.check.brace_deflection import SAG, Bent
from jointcalc.check.brace_direct import reasons, solved
from jointcalc.check.brace_lateral import sideways
from jointcalc.check.brace_strut import squashed
from jointcalc.check.heat import softens
from jointcalc.model.fields import PURPOSES
from jointcalc.quantity.compare import below
from jointcalc.quantity.sentence import Measure, Sentence, joined, mm, newtons, shaped
from jointcalc.result import Amount, Check, Need, caution, collect
from jointcalc.result.cautions import Caution
from jointcalc.section.buckling import Loading
from jointcalc.section.families.hat import Hat, HatSkin
from jointcalc.section.properties import Properties
from jointcalc.statics.beam_frequency import frequency_1
from jointcalc.statics.beam_model import Couple, PointLoad, SpreadLoad

SMALL_COUPLE = 0.05
"""Part of the greatest moment up to which a couple between the supports is not told (our choice)."""


def values_of(action: BraceAction, bent: Bent) -> dict[str, Amount]:
    """Section, deflection, greatest actions and frequency, by the names of the contract."""
    brace = action.brace
    # as it lies where that was said, else as the profile is drawn
    said = action.turned and bool(brace.lies)
    row = dict(brace.section.once(("row", said), (Properties(action.p.outline.turned()) if said else action.p).row))
    mass_line = brace.section.mass_per_metre
    units = {
        "area": "mm^2", "centroid_height": "mm", "I_y": "mm^4", "I_z": "mm^4", "I_yz": "mm^4", "W_y_top": "mm^3",
        "W_y_bottom": "mm^3", "W_pl_y": "mm^3", "J": "mm^4", "C_w": "mm^6", "shear_centre_height": "mm",
    }  # fmt: skip
    if abs(row["I_yz"]) < 1e-9 * (row["I_y"] + row["I_z"]):
        row["I_yz"] = 0.0  # symmetric: what is left is rounding
    frequency = brace.section.once(
        ("frequency", brace.length, brace.supports, brace.masses),
        lambda: float(frequency_1(brace.length, action.EI, brace.supports, mass_line * 1e-6, brace.masses)),
    )
    left, right = _ends(action)
    return {
        **{name: Amount(row[name], unit) for name, unit in units.items()},
        "mass_per_metre": Amount(mass_line, "kg/m"),
        "EI": Amount(action.EI, "N*mm^2"),
        "GJ": Amount(action.G * row["J"], "N*mm^2"),
        "deflection_max": Amount(bent.gross, "mm"),
        "deflection_at": Amount(bent.at, "mm"),
        "deflection_service": Amount(bent.service, "mm"),
        "moment_max": Amount(max(action.sag, action.hog), "N*mm"),
        "moment_sagging": Amount(action.sag, "N*mm"),
        "moment_hogging": Amount(action.hog, "N*mm"),
        "shear_max": Amount(action.V, "N"),
        **({"torque_max": Amount(greatest_torque(action), "N*mm")} if brace.torques else {}),
        "reaction_max": Amount(max(abs(float(r.force)) for r in action.beam.reactions), "N"),
        "end_moment_left": Amount(left[0], "N*mm"),
        "end_moment_right": Amount(right[0], "N*mm"),
        "end_force_left": Amount(left[1], "N"),
        "end_force_right": Amount(right[1], "N"),
        "frequency_1": Amount(frequency if frequency < inf else None, "Hz"),
        **({} if brace.family.level_symmetric else {"flanges_up": Amount(float(action.turned), "1")}),
    }


def _ends(action: BraceAction) -> tuple[tuple[float, float], tuple[float, float]]:
    """(moment, hogging positive [N mm], force upwards [N]) that what carries each end gives; 0 at a free end."""
    found = []
    for x, sign in ((0.0, -1.0), (action.brace.length, 1.0)):
        mine = [r for r in action.beam.reactions if abs(r.at - x) < 1e-6]
        # reactions are clockwise positive: at the left end that lifts the beam's left side, which hogs it when negative
        moment = sign * float(mine[0].moment) if mine else 0.0
        least = 1e-9 * max(action.sag, action.hog)  # what rounding leaves of a pinned end
        found.append((moment if abs(moment) > least else 0.0, float(mine[0].force) if mine else 0.0))
    return found[0], found[1]


def critical_loads(action: BraceAction) -> dict[str, Amount]:
    """Elastic critical loads and half-wavelengths by the symbols of the specification, of what the strips judged."""
    out: dict[str, Amount] = {}
    wanted: list[tuple[Loading, str, str, str]] = [
        ("sagging" if face == "top" else "hogging", "M", f"_{word}", "N*mm") for word, _, face, _ in action.bends
    ]
    if action.brace.compression:
        wanted.append(("axial", "P", "", "N"))
    for loading, letter, word, unit in wanted:
        if reasons(action, loading):
            continue
        strips = solved(action, loading)
        for end, found in (("l", strips.local), ("d", strips.distortional)):
            if found is not None:
                out[f"{letter}_cr{end}{word}"] = Amount(found.load, unit)
                out[f"L_cr{end}{word}"] = Amount(found.half_wavelength, "mm")
    for word, _, face, _ in action.bends:
        if face in sideways(action):
            out[f"M_cre_{word}"] = Amount(sideways(action)[face].elastic, "N*mm")
    pushed = squashed(action)
    if pushed is not None:
        out["P_cre"] = Amount(pushed.elastic, "N")
    return out


def about_brace(action: BraceAction) -> dict[str, str]:
    """The brace in words: profile, sheets, span, how it lies."""
    brace = action.brace
    found = {
        "profile": Sentence(shaped(brace.profile)),
        "sheets": joined(" + ", dict.fromkeys(sheet.label for sheet in brace.sheets)),
        "span": f"{Measure.of(brace.span, ' + ', unit='mm'):g}, ends {brace.ends}",
        "loads": brace.loads_text,
    }
    if action.way and (brace.lies or len(brace.ways) > 1):
        found["lies"] = action.way
    if isinstance(brace.core, HatSkin):
        found["cell"] = (
            f"the cell closes at the weld lines, {mm(float(brace.core.weld_line)):.3g} from the flange tips, not at "
            "the "
            "bends: the torsion constant depends on it by some 20 %"
        )
    return found


def cautions_of(
    action: BraceAction, checks: Iterable[Check], bent: Bent, more: Iterable[Caution]
) -> tuple[Caution, ...]:
    """What the inspector and the builder are told beside the numbers."""
    brace = action.brace
    raised: list[Caution | str] = [PURPOSES[word] for word in brace.purpose]
    for sheet in brace.sheets:
        raised += [caution(code, **words) for code, words in sheet.caution_codes()]
        raised += softens(sheet)
    raised += [*more, "forming", "corrosion", "fatigue" if brace.cycles is None else "fatigue-screen", "brace-holes"]
    raised += ["mass-idle"] if brace.masses else []
    ends, most = [one.at for one in brace.supports], max(action.sag, action.hog)
    couples = [one for one in brace.loads if isinstance(one, Couple) and abs(float(one.moment)) > SMALL_COUPLE * most]
    raised += ["couple"] if any(all(abs(one.at - x) > 1e-6 for x in ends) for one in couples) else []
    raised += ["unfactored-load"] if brace.load_factor == 1.0 else []
    raised += [] if brace.bears else ["no-load"]
    raised += ["aside-held"] if brace.aside and brace.held != "none" else []
    if brace.torques:
        told = {"torque": f"{Measure(greatest_torque(action) / 1e3, unit='N*m'):.4g}"}
        raised.append(caution("torque-held" if action.held_both else "torque-ends", **told))
    offset = abs(float(action.p.y_shear_centre[0] - action.p.y_centroid[0]))
    if offset > 1e-3 * float(action.p.i_0[0]) and not action.held_both:
        raised.append(caution("twist", offset=f"{mm(offset):.3g}"))
    elif (
        isinstance(brace.core, Hat)
        and not brace.core.closed
        and not action.held_both
        and action.V
        and not brace.torques
    ):
        raised.append("load-in-middle")
    if brace.core.weld_lines and not brace.coupons:
        raised.append("no-coupons")
    if brace.core.weld_lines and brace.pitch is None and (action.V or brace.compression):
        raised.append("weld-line-pitch")
    raised += ["spots-pulled"] if _pulls_the_skin(action) else []
    raised += _of_the_ends(action)
    if brace.deflection_limit() is None and bent.service > brace.longest / SAG:
        raised.append(caution("sag", sag=f"{mm(bent.service):.3g}", part=f"{brace.longest / bent.service:.0f}"))
    known = action.eccentricity
    if (brace.compression or brace.tension) and brace.eccentricity is None and known is not None:
        arm, words, _ = known
        raised.append(caution("strut-eccentricity", arm=f"{mm(arm):.3g}", how=words))
    if brace.compression and below(brace.effective_length, 1.0):
        raised.append(caution("buckling-length", factor=f"{brace.effective_length:g}"))
    if brace.bearing is None and any("AISI's least" in c.note for c in checks):
        raised.append("bearing-taken")
    if any(c.provenance == "from memory" for c in checks if c.status in ("ok", "over")):
        raised.append("from-memory")
    return collect(raised)


NO_RULE = (
    "weaken it in bending, shear, buckling and under local forces, and no rule for that is carried (those of AISI S100 "
    "are for round holes in the middle of single webs); leave it whole, or close the hole with a plate that is judged"
)


def holed(action: BraceAction) -> list[Check]:
    """What is said of holes that are declared: that nothing judges them; the rest is as if it were whole."""
    return [HOLES.outside(NO_RULE)] if action.brace.holes else []


def hole_needs(action: BraceAction) -> list[Need]:
    """The holes that are declared."""
    cut = [f"{mm(width):g} at {mm(at):g}" for width, at in action.brace.holes]
    return [Need("holes", f"holes in the brace ({joined(', ', cut)}) {NO_RULE}")] if cut else []


def lifting_needs(action: BraceAction) -> list[Need]:
    """What a brace that only lies on its supports asks of them and does not get: to be held down, or straight."""
    if action.brace.fastened:
        return []
    small, lies = 1e-9 * (action.V or 1.0), "it is said to lie loose on its supports"
    lifted = [one.at for one in action.beam.reactions if float(one.force) < -small]
    needs = [
        Need("held down", f"{lies}, and the loads lift it off that at {mm(at):g}: fasten it there") for at in lifted[:1]
    ]
    if any(moment for moment, _ in _ends(action)):
        needs.append(Need("held straight", f"{lies}, and its ends are said to be held against turning: fasten it"))
    return needs


def _pulls_the_skin(action: BraceAction) -> bool:
    """Whether a load lifts a hat-skin that lies with its skin on top: where it hangs on the skin, spots are pulled."""
    if not isinstance(action.brace.core, HatSkin) or not action.turned:
        return False
    points = [float(one.force) for one in action.brace.loads if isinstance(one, PointLoad)]
    lines = [float(q) for one in action.brace.loads if isinstance(one, SpreadLoad) for q in (one.first, one.last)]
    return any(force < 0 for force in (*points, *lines))


def _of_the_ends(action: BraceAction) -> list[Caution | str]:
    """What the joints at the ends have to carry."""
    left, right = _ends(action)
    moment = max(abs(left[0]), abs(right[0]))
    if moment > 1e-6 * max(action.sag, action.hog, 1e-9):
        force = max(abs(left[1]), abs(right[1]))
        words = {"moment": f"{Measure(moment / 1e3, unit='N*m'):.4g}", "force": f"{newtons(force):.4g}"}
        if action.brace.end_joints:
            return [caution("end-moment", joints=", ".join(action.brace.end_joints), **words)]
        return [caution("end-moment-no-joint", **words)]
    return ["end-joints"] if action.V and not action.brace.end_joints else []
