"""What is said of a panel beside its checks: loads nothing judges, values, words, cautions."""

from __future__ import annotations

from collections.abc import Iterable

from jointcalc.check.heat import softens
from jointcalc.check.panel_action import FEW_PITCHES, PanelAction
from jointcalc.check.panel_floor import DEFLECTION, FREQUENCY
from jointcalc.check.panel_forming import values as making_values
from jointcalc.check.panel_lasting import lasting_left, waves
from jointcalc.check.panel_opening import opening_left
from jointcalc.check.panel_plane import amplified, shear_left
from jointcalc.check.panel_shape import why_not
from jointcalc.check.panel_thrust import needs as thrust_needs
from jointcalc.formula.branch import below
from jointcalc.model.fields import PURPOSES
from jointcalc.quantity.compare import above
from jointcalc.quantity.sentence import Sentence, mm, shaped
from jointcalc.result import Amount, Check, Need, caution, collect, uncovered
from jointcalc.result.cautions import Caution

TURN_GAIN = 1.1
"""How much higher the frequency must be with the beads turned for that to be told (our choice)."""


def unjudged_of(action: PanelAction, checks: list[Check]) -> tuple[str, ...]:
    """Loads and limits that nothing judges."""
    if any(check.status == "over" for check in checks):
        return ()  # what is over needs no second reason; the methods stay listed as outside
    needs = [Need("across", why_not(action))] if action.across else []
    needs += thrust_needs(action)
    # what an opening leaves unjudged is said once
    left = [*opening_left(action), *([] if action.panel.hole else uncovered(needs, checks)), *shear_left(action)]
    limits = (DEFLECTION.key, FREQUENCY.key)
    left += lasting_left(action, checks)
    left += [f"{c.title.lower()}: {c.note}" for c in checks if c.key in limits and c.status == "outside"]
    return tuple(dict.fromkeys(left))


CUT = {
    "deflection": "mm",
    "surface_stress": "MPa",
    "deflection_yielding": "mm",
    "permanent_set": "mm",
    "edge_pull": "N/mm",
}
"""Values of the real shape that a panel with an opening does not have."""
MOST = ("deflection", "deflection_yielding", "permanent_set", "surface_stress")
"""Values of the real shape of which the greatest counts, however its edges may be held in the plane."""


def values_of(action: PanelAction) -> dict[str, Amount]:
    """The named numbers of the contract; None for what an opening leaves unknown."""
    flat_I = action.t**3 / 12
    found = {
        "I_along": Amount(action.I, "mm^4/mm"),
        "W_along": Amount(action.W, "mm^3/mm"),
        "stiffness_ratio": Amount(action.I / flat_I, "1"),
        "stiffness_ratio_same_mass": Amount(action.stiffness_ratio_same_mass, "1"),
        "mass_per_area": Amount(action.mass * 1e9, "kg/m^2"),
        "mass": Amount(action.mass * action.a * action.b, "t"),
        "frequency_1": Amount(action.frequency, "Hz"),
        "deflection_pressure": Amount(action.w_pressure, "mm"),
        "deflection_patch": Amount(action.w_patch, "mm"),
    }
    if action.w_pressure_stiffened is not None:
        found["deflection_pressure_stiffened"] = Amount(action.w_pressure_stiffened, "mm")
    if action.w_patch_stiffened is not None:
        found["deflection_patch_stiffened"] = Amount(action.w_patch_stiffened, "mm")
    answer = action.answer
    if action.panel.hole is not None and (action.across or action.pushed):
        found |= {name: Amount(None, unit) for name, unit in CUT.items()}
    elif answer is not None or not action.across:
        yielding = answer is None or action.f_y_left is not None
        most = {name: max((abs(getattr(one, name)) for one in action.answers), default=0.0) for name in MOST}
        w_yielding = amplified(action, most["deflection_yielding"])
        stays = most["permanent_set"]
        found |= {
            "deflection": Amount(amplified(action, most["deflection"]), "mm"),
            "surface_stress": Amount(most["surface_stress"], "MPa"),
            "deflection_yielding": Amount(w_yielding if yielding else None, "mm"),
            "permanent_set": Amount(stays if yielding else None, "mm"),
            "edge_pull": Amount(max((one.edge_pull for one in action.answers), default=0.0), "N/mm"),
            "deflection_error": Amount(0.0 if answer is None else answer.errors["deflection"], "1"),
        }
    pushed_so = action.answer_in_plane
    if pushed_so is not None and action.panel.hole is None:
        found |= {
            "buckling_factor": Amount(pushed_so.buckles, "1"),
            "deflection_pushed": Amount(abs(pushed_so.deflection), "mm"),
        }
        for name, with_it in (
            ("deflection_yielding", abs(pushed_so.deflection)), ("permanent_set", pushed_so.permanent_set)
        ):  # fmt: skip
            if (one := found.get(name)) is not None and one.value is not None:
                found[name] = Amount(max(one.value, with_it), "mm")
    found |= {name: Amount(value, "N*mm") for name, value in action.rigidity._asdict().items()}
    found["same_mass_thickness"] = Amount(action.sheet.thickness * action.developed, "mm")
    return found | making_values(action)


def about_of(action: PanelAction) -> dict[str, str]:
    """What it is, for people."""
    panel = action.panel
    beaded = " and ".join(f"{bead} along the {way} side" for way, bead in panel.beads) or "flat"
    return {
        "panel": f"{mm(panel.size[0], ' x ', panel.size[1]):g}, edges {panel.edges}",
        "sheet": panel.sheet.label,
        "bead": Sentence(shaped(beaded)),
        **({} if panel.hole is None else {"opening": str(panel.hole)}),
        "loads": panel.loads_text,
    }


def cautions_of(action: PanelAction, checks: Iterable[Check]) -> tuple[Caution, ...]:
    """What the inspector and the builder are told beside the numbers."""
    panel, strip = action.panel, action.panel.strip
    raised: list[Caution | str] = [PURPOSES[word] for word in panel.purpose]
    raised += [caution(code, **words) for code, words in panel.sheet.caution_codes()]
    raised += softens(panel.sheet)
    if panel.drawing_in == "held" and action.across:
        raised.append("panel-held")
    raised += ["panel-edges", "corrosion", "fatigue" if panel.cycles is None else "fatigue-screen"]
    raised += ["mass-idle"] if panel.mass_added else []
    raised += ["unfactored-load"] if panel.load_factor == 1.0 else []
    raised += [] if panel.pressure or panel.patch or panel.shear or action.pushed else ["no-load"]
    if action.beyond:
        raised.append("large-deflection")
    if panel.hole is not None:
        raised.append("panel-opening")
    if waves(checks):
        raised.append("panel-waves")
    if strip is not None:
        raised.append("forming")
        raised += ["bead-ends"] if any(bead.stop is None for _, bead in panel.beads) else []
        raised += ["bead-crossing"] if panel.cross is not None else []
        if panel.sheet.material.elongation is None:
            words = {"strain": f"{100 * strip.strain:.0f}", "grade": panel.sheet.material.grade}
            raised.append(caution("bead-strain-unknown", **words))
        one, other = action.frequencies_through
        if panel.cross is None and above(other, TURN_GAIN * one):
            words = {"side": "short" if panel.along == "long" else "long", "own": f"{one:.3g}", "other": f"{other:.3g}"}
            raised.append(caution("beads-turned", **words))
        spans = ((panel.pattern, action.b), (panel.cross, action.a))
        if any(below(side / bead.pitch, FEW_PITCHES) for bead, side in spans if bead is not None):
            raised.append("few-beads")
    if any(c.provenance == "from memory" for c in checks if c.status in ("ok", "over")):
        raised.append("from-memory")
    return collect(raised)
