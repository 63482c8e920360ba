"""A flat or beaded panel judged on its real shape, and the plate formulas that stand beside it.

Judged under all loads together, by the panel's own finite elements (`statics.field`: large deflections, beads with
their ends, yielding through the thickness):

- what stays after the service loads (permanent set), against the builder's limit or half the thickness (common
  practice);
- the greatest strain of the mid-plane at gamma_M0 x gamma_F times the loads, against the 5 % of EN 1993-1-5 Annex C;
- the membrane pull at the edges, which the seam has to carry, against yield of the sheet: required gamma_M0 x gamma_F
  (1.0 x 1.5 for steel, recommended values of EN 1993-1-3);
- deflection and frequency against the builder's own limits; without one, common practice stands beside as
  information;
- shear and thrust in the plane against what the sheet carries beyond its first waves (EN 1993-1-5), alone, together
  and with load across;
- what it carries when it is pushed in its plane with everything else on it, on its real shape, from a shape with the
  bow of EN 1993-1-5 Table C.2, against gamma_M1 x gamma_F;
- the strain of the bead and of its run-out against the elongation.

First yield in linear bending marks no failure of a floor, which carries on by stretching: the linear formulas stand
beside as information, and their shear check as a check.  Decided here: in-plane shear together with load across
the panel lowers the yield strength the panel is worked out with (von Mises), and is added by squares to the pull.
"""

from __future__ import annotations

from collections.abc import Iterable

from jointcalc.check.panel_base import FEW_PITCHES, State
from jointcalc.check.panel_floor import DEFLECTION, FREQUENCY, by_levy, deflection, frequency
from jointcalc.check.panel_forming import bead_verdict, forming
from jointcalc.check.panel_forming import values as making_values
from jointcalc.check.panel_linear import bending
from jointcalc.check.panel_opening import opened
from jointcalc.check.panel_plane import SHEAR_FLAT, SHEAR_LOCAL, amplified, shear, together
from jointcalc.check.panel_pushed import pushed
from jointcalc.check.panel_shape import ON_SHAPE, on_shape, why_not
from jointcalc.check.panel_thrust import WAVES, in_plane, thrust, with_across
from jointcalc.check.panel_thrust import needs as thrust_needs
from jointcalc.formula.branch import at_most, below
from jointcalc.model.fields import PURPOSES
from jointcalc.model.panel import Panel
from jointcalc.quantity.compare import above
from jointcalc.quantity.sentence import mm
from jointcalc.result import Amount, Check, Need, Result, caution, collect, uncovered
from jointcalc.result.cautions import Caution
from jointcalc.statics.field import Surface

TURN_GAIN = 1.1
"""How much higher the frequency must be with the beads turned for that to be told (our choice)."""


WAVY = frozenset({WAVES.key, SHEAR_FLAT.key, SHEAR_LOCAL.key})
"""Checks of the first waves; as information they raise a caution."""


def check_panel(panel: Panel) -> Result:
    """Judge a panel.  Raises InputError when the plate cannot be solved as described."""
    s = State(panel)
    sheared, unjudged = shear(s)
    checks = [*on_shape(s), *sheared, *thrust(s), *pushed(s), *bending(s)]
    checks += together(s, checks)
    checks += in_plane(s, checks)
    checks += with_across(s, checks)
    checks += deflection(s)
    checks += by_levy(s)
    checks += frequency(s)
    checks += forming(s)
    checks, left = opened(s, checks)
    needs = [Need("across", why_not(s))] if s.across else []
    needs += thrust_needs(s)
    # what an opening leaves unjudged is said once
    unjudged = [*left, *([] if panel.hole else uncovered(needs, checks)), *unjudged]
    limits = (DEFLECTION.key, FREQUENCY.key)
    unjudged += [f"{c.title.lower()}: {c.note}" for c in checks if c.key in limits and c.status == "outside"]
    if any(check.status == "over" for check in checks):
        unjudged = []  # what is over needs no second reason; the methods stay listed as outside
    return Result(
        kind=panel.kind,
        id=panel.id,
        title=panel.title,
        checks=tuple(checks),
        values=_values(s),
        cautions=_cautions(s, checks),
        unjudged=tuple(dict.fromkeys(unjudged)),
        model=panel,
        about=_about(s),
    )


CUT = {
    "deflection": "mm",
    "surface_stress": "MPa",
    "deflection_yielding": "mm",
    "permanent_set": "mm",
    "edge_pull": "N/mm",
}
"""Values of the real shape that a panel with an opening does not have."""


def surface(panel: Panel) -> Surface | None:
    """The panel's shape under all its loads, for drawing; None when nothing presses on it or nothing carries that.

    A panel with an opening is worked out whole, and not drawn as if it were.
    """
    if panel.hole is not None:
        return None
    found = State(panel).answer  # remembered from its judging
    return None if found is None else found.surface


def strength_used(result: Result) -> float | None:
    """The greatest part of what is allowed that the load across uses; None when it is not judged."""
    mine = [c for c in result.checks if c.method.key in ON_SHAPE]
    used = [c.utilisation for c in mine if c.utilisation is not None]
    if not used or (at_most(max(used), 1.0) and any(c.status == "outside" for c in mine)):
        return None
    return max(used)


def _values(s: State) -> dict[str, Amount]:
    flat_I = s.t**3 / 12
    found = {
        "I_along": Amount(s.I, "mm^4/mm"),
        "W_along": Amount(s.W, "mm^3/mm"),
        "stiffness_ratio": Amount(s.I / flat_I, "1"),
        "stiffness_ratio_same_mass": Amount(s.stiffness_ratio_same_mass, "1"),
        "mass_per_area": Amount(s.mass * 1e9, "kg/m^2"),
        "mass": Amount(s.mass * s.a * s.b, "t"),
        "frequency_1": Amount(s.frequency, "Hz"),
        "deflection_pressure": Amount(s.w_pressure, "mm"),
        "deflection_patch": Amount(s.w_patch, "mm"),
    }
    if s.w_pressure_stiffened is not None:
        found["deflection_pressure_stiffened"] = Amount(s.w_pressure_stiffened, "mm")
    if s.w_patch_stiffened is not None:
        found["deflection_patch_stiffened"] = Amount(s.w_patch_stiffened, "mm")
    answer = s.answer
    if s.panel.hole is not None and (s.across or s.pushed):
        found |= {name: Amount(None, unit) for name, unit in CUT.items()}
    elif answer is not None or not s.across:
        yielding = answer is None or s.f_y_left is not None
        found |= {
            "deflection": Amount(0.0 if answer is None else amplified(s, abs(answer.deflection)), "mm"),
            "surface_stress": Amount(0.0 if answer is None else answer.surface_stress, "MPa"),
            "deflection_yielding": Amount(
                (0.0 if answer is None else amplified(s, abs(answer.deflection_yielding))) if yielding else None, "mm"
            ),
            "permanent_set": Amount((0.0 if answer is None else abs(answer.permanent_set)) if yielding else None, "mm"),
            "edge_pull": Amount(0.0 if answer is None else max(answer.edge_pull, 0.0), "N/mm"),
            "deflection_error": Amount(0.0 if answer is None else answer.errors["deflection"], "1"),
        }
    if s.in_plane is not None and s.panel.hole is None:
        found |= {
            "buckling_factor": Amount(s.in_plane.buckles, "1"),
            "deflection_pushed": Amount(abs(s.in_plane.deflection), "mm"),
        }
        for name, with_it in (
            ("deflection_yielding", abs(s.in_plane.deflection)), ("permanent_set", s.in_plane.permanent_set)
        ):  # fmt: skip
            if (one := found.get(name)) is not None and one.value is not None:
                found[name] = Amount(max(one.value, with_it), "mm")
    found |= {name: Amount(value, "N*mm") for name, value in s.rigidity._asdict().items()}
    found["same_mass_thickness"] = Amount(s.sheet.thickness * s.developed, "mm")
    return found | making_values(s)


def _about(s: State) -> dict[str, str]:
    panel = s.panel
    beaded = " and ".join(f"{bead} along the {way} side" for way, bead in panel.beads) or "flat"
    return {
        "panel": f"{mm(panel.size[0], ' x ', panel.size[1]):g}, edges {panel.edges}",
        "sheet": panel.sheet.label,
        "bead": beaded,
        **({} if panel.hole is None else {"opening": str(panel.hole)}),
        "loads": panel.loads_text,
    }


def _cautions(s: State, checks: Iterable[Check]) -> tuple[Caution, ...]:
    panel, strip = s.panel, s.panel.strip
    raised: list[Caution | str] = [PURPOSES[word] for word in panel.purpose]
    raised += [caution(code, **words) for code, words in panel.sheet.caution_codes()]
    raised += ["panel-edges", "fatigue"]
    raised += ["unfactored-load"] if panel.load_factor == 1.0 else []
    raised += [] if panel.pressure or panel.patch or panel.shear or s.pushed else ["no-load"]
    if s.beyond:
        raised.append("large-deflection")
    if panel.hole is not None:
        raised.append("panel-opening")
    if any(c.method.key in WAVY and c.safety_factor is not None and c.safety_factor < 1 for c in checks):
        raised.append("panel-waves")
    if strip is not None:
        raised.append("forming")
        raised += ["bead-ends"] if any(bead.stop is None for _, bead in panel.beads) else []
        raised += ["bead-crossing"] if panel.cross is not None else []
        if panel.sheet.material.elongation is None:
            words = {"strain": f"{100 * strip.strain:.0f}", "grade": panel.sheet.material.grade}
            raised.append(caution("bead-strain-unknown", **words))
        one, other = s.frequencies_through
        if panel.cross is None and above(other, TURN_GAIN * one):
            words = {"side": "short" if panel.along == "long" else "long", "own": f"{one:.3g}", "other": f"{other:.3g}"}
            raised.append(caution("beads-turned", **words))
        spans = ((panel.pattern, s.b), (panel.cross, s.a))
        if any(below(side / bead.pitch, FEW_PITCHES) for bead, side in spans if bead is not None):
            raised.append("few-beads")
    if any(c.provenance == "from memory" for c in checks if c.status in ("ok", "over")):
        raised.append("from-memory")
    return collect(raised)


__all__ = ["bead_verdict", "check_panel", "strength_used", "surface"]
