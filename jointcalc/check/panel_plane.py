"""Shear in the plane of a panel against yield, buckling and what is left beyond it, and together with load across it.

A flat sheet in shear carries more than the load of its first waves (EN 1993-1-5 section 5); those waves are told, and
limit it only where something presses on the sheet as well, for which a buckled sheet has no rule.  A beaded field as a
whole has no such reserve; the flats between its beads have (EN 1993-1-5 Annex D).
"""

from __future__ import annotations

from jointcalc.check.common import ADDED, once
from jointcalc.check.panel_action import FEW_PITCHES, PanelAction
from jointcalc.check.panel_base import BUCKLING, PARTIAL_0, PARTIAL_1, YIELD, Trace, stiffness_trace
from jointcalc.check.panel_shape import MEMBRANE_STRAIN, ON_SHAPE, PULL, on_shape
from jointcalc.formula import panel as stress
from jointcalc.formula import plate as plate_formulas
from jointcalc.formula import plate_ultimate as ultimate
from jointcalc.formula.branch import at_most, below
from jointcalc.formula.core import Evaluation, Source
from jointcalc.quantity.sentence import mm
from jointcalc.result import Check, Stated, method
from jointcalc.statics import bead as beads
from jointcalc.statics import plate as plates
from jointcalc.statics import plate_buckling as buckling
from jointcalc.statics.plate import Rigidity

MANY_PITCHES = 5.0
"""Pitches from which a field counts as many pitches wide (our choice)."""
SHEAR_YIELD = method("plate.shear-yield", "Shear in plane, yield", stress.MISES, per="member", basis=YIELD,
                     factor=PARTIAL_0, covers=("shear",))  # fmt: skip
SHEAR_FLAT = method("plate.shear-buckling", "Shear in plane, buckling", plate_formulas.SHEAR, per="member",
                    basis=BUCKLING, factor=PARTIAL_1, covers=("shear",))  # fmt: skip
SHEAR_FIELD = method("easley.shear-buckling", "Shear in plane, whole field", plate_formulas.EASLEY, per="mm",
                     basis=BUCKLING, factor=PARTIAL_1, covers=("shear",))  # fmt: skip
SHEAR_LOCAL = method("plate.flats-shear", "Shear in plane, flats between beads", plate_formulas.SHEAR, per="member",
                     basis=BUCKLING, factor=PARTIAL_1, covers=("shear",))  # fmt: skip
RITZ = Source("Orthotropic plate with its bead ends, Ritz's method", "", "derivation",
              "no more than Easley's field with beads running through; within 1 % of an independent finite-element "
              "field")  # fmt: skip
BEYOND = "shear resistance beyond buckling"
SHEAR_ULTIMATE = {
    "steel": method("en1993-1-5.panel-shear", "Shear in plane, beyond buckling", ultimate.SHEAR_REDUCTION.source,
                    per="member", basis=BEYOND, factor=PARTIAL_1, covers=("shear",)),
    "stainless": method("en1993-1-4.panel-shear", "Shear in plane, beyond buckling, stainless",
                        ultimate.SHEAR_REDUCTION_STAINLESS.source, per="member", basis=BEYOND, factor=PARTIAL_1,
                        covers=("shear",)),
    "aluminium": method("en1999-1-1.panel-shear", "Shear in plane, beyond buckling, aluminium",
                        ultimate.SHEAR_REDUCTION_ALUMINIUM.source, per="member", basis=BEYOND, factor=PARTIAL_1,
                        covers=("shear",)),
}  # fmt: skip
REDUCTION = {
    "steel": ultimate.SHEAR_REDUCTION,
    "stainless": ultimate.SHEAR_REDUCTION_STAINLESS,
    "aluminium": ultimate.SHEAR_REDUCTION_ALUMINIUM,
}
SHEAR_ENDS = method("plate.field-shear", "Shear in plane, field with its bead ends", RITZ, per="mm", basis=BUCKLING,
                    factor=PARTIAL_1, covers=("shear",))  # fmt: skip
BEADED_LOCAL = method("en1993-1-5.beaded-shear-local", "Shear in plane, flats beyond buckling",
                      ultimate.LOCAL_SHEAR_REDUCTION.source, per="member", basis=BEYOND, factor=PARTIAL_1,
                      covers=("shear",))  # fmt: skip
BEADED_GLOBAL = method("en1993-1-5.beaded-shear", "Shear in plane, whole field", ultimate.GLOBAL_SHEAR_REDUCTION.source,
                       per="member", basis=BEYOND, factor=PARTIAL_1, covers=("shear",))  # fmt: skip
TOGETHER = method("interaction.panel-bending-shear", "Bending with shear", stress.TOGETHER, per="member",
                  basis="sum of squared utilisations", factor=ADDED)  # fmt: skip
SHEARS = frozenset(
    m.key
    for m in (
        SHEAR_YIELD, SHEAR_FLAT, SHEAR_FIELD, SHEAR_LOCAL, SHEAR_ENDS, BEADED_LOCAL, BEADED_GLOBAL,
        *SHEAR_ULTIMATE.values(),
    )
)  # fmt: skip


def field_pieces(action: PanelAction, *, few: bool = True) -> tuple[buckling.Piece, ...]:
    """The panel as a plate of pieces, its beads spread evenly, with their ends; `few` of them count for nothing."""
    strip, pattern = action.panel.strip, action.panel.pattern
    flat, _ = plates.flat(action.E, action.nu, action.t)
    if strip is None or pattern is None:
        return (buckling.Piece(0.0, action.a, flat),)
    if few and not action.many_beads:
        return (buckling.Piece(0.0, action.a, Rigidity(*(min(p, r) for p, r in zip(action.rigidity, flat)))),)
    return buckling.beaded(action.a, action.rigidity, flat, *pattern.ends)


def critical(action: PanelAction, *, n_x: float = 0.0, n_y: float = 0.0, q: float = 0.0) -> float:
    """Factor on thrusts and shear flow [N/mm] at which the panel buckles as a whole, elastically."""
    return buckling.factor(action.b, field_pieces(action), action.edge, n_x=n_x, n_y=n_y, q=q)


def used_up(action: PanelAction) -> float:
    """Service thrusts, with the shear beside them, over those of the first waves; 0 without thrust."""
    if not action.pushed:
        return 0.0
    n_x, n_y = action.panel.compression
    return 1 / critical(action, n_x=n_x, n_y=n_y, q=abs(action.panel.shear))


def amplified(action: PanelAction, w: float) -> float | None:
    """A deflection [mm] with the thrust in the plane, which softens the panel; None once it has buckled."""
    eta = used_up(action)
    return None if eta >= 1 else w / (1 - eta)


def flat_parts(action: PanelAction) -> list[float]:
    """Widths along the sheet [mm] of the parts of one pitch that buckle on their own; an arc counts as flat."""
    found: list[float] = []
    for strip in (action.panel.strip, action.panel.cross_strip):
        if strip is None:
            continue
        shape = strip.shape
        if strip.bead.family == "arc":
            own = [strip.bead_length]
        elif strip.bead.family == "vee":
            own = [strip.bead_length / 2] * 2
        else:
            own = [(strip.bead_length - 2 * shape.level) / 2] * 2 + [2 * shape.level]
        found += [width for width in (*own, max(0.0, strip.gap)) if width > 0]
    return found


@once
def shear(action: PanelAction) -> list[Check]:
    """Shear in the plane of the sheet alone."""
    panel, strip = action.panel, action.panel.strip
    q = abs(panel.shear)
    if not q:
        return []
    checks: list[Check] = []
    required = action.gamma_M1 * action.gamma
    tau = stress.SHEAR_STRESS.evaluate(q=q, t=action.t)
    demand = float(tau.value)
    if action.sheet.has_yield:
        limit = stress.SHEAR_YIELD.evaluate(f_y=action.sheet.f_y)
        checks.append(
            SHEAR_YIELD.judge(
                capacity=float(limit.value),
                demand=demand,
                required=action.gamma_M0 * action.gamma,
                unit="MPa",
                trace=[tau, limit],
            )
        )
    else:
        reason = "the grade's standard lets no yield strength be assumed; state 'yield_strength'"
        checks.append(SHEAR_YIELD.outside(reason, demand=demand, unit="MPa"))
    simple = action.edge == "simple"
    # beyond its first waves a sheet that is pressed on has no published rule: there they are its limit
    counted = action.sheet.has_yield and not action.across
    if strip is None:
        long, short = max(action.a, action.b), min(action.a, action.b)
        coefficient = plate_formulas.SHEAR_COEFFICIENT_SIMPLE if simple else plate_formulas.SHEAR_COEFFICIENT_CLAMPED
        k = coefficient.evaluate(a=long, b=short)
        elastic = plate_formulas.PLATE_BUCKLING_STRESS.evaluate(k=float(k.value), **action.plate, b=short)
        tau_cr = float(elastic.value)
        if counted:
            checks.append(
                SHEAR_FLAT.info(capacity=tau_cr, demand=demand, unit="MPa", trace=[tau, k, elastic], note=WAVES)
            )
        else:
            checks.append(
                SHEAR_FLAT.judge(capacity=tau_cr, demand=demand, required=required, unit="MPa", trace=[tau, k, elastic])
            )
        if action.sheet.has_yield:
            checks.append(_ultimate(action, tau_cr, [tau, k, elastic], demand, required))
    else:
        checks += _beaded(action, q, tau, required, counted=counted)
    return checks


def shear_left(action: PanelAction) -> list[str]:
    """What the rules of shear leave unjudged; the field is judged by the general way whatever its own formulas say."""
    return [
        f"{c.title.lower()}: {c.note}"
        for c in shear(action)
        if c.status == "outside" and c.method in (SHEAR_YIELD, SHEAR_ENDS)
    ]


WAVES = "no failure by itself: from here on the sheet shows waves"


def _ultimate(action: PanelAction, tau_cr: float, before: Trace, demand: float, required: float) -> Check:
    """A flat sheet beyond buckling, by the rule of its metal."""
    family = action.sheet.material.family
    slenderness = ultimate.SHEAR_SLENDERNESS.evaluate(f_y=action.sheet.f_y, tau_cr=tau_cr)
    lamda = float(slenderness.value)
    formula = REDUCTION[family]
    # stockier sheet than any expression asks about yields
    chi = formula.evaluate(lamda_w=max(lamda, 0.6))
    strength = ultimate.SHEAR_STRENGTH.evaluate(chi_w=float(chi.value), f_y=action.sheet.f_y)
    held = "edges turning freely" if action.edge == "simple" else "edges clamped: k of elastic theory, as they are held"
    return SHEAR_ULTIMATE[family].judge(
        capacity=float(strength.value), demand=demand, required=required, unit="MPa",
        trace=[*before, slenderness, chi, strength], note=held,
    )  # fmt: skip


def _beaded(action: PanelAction, q: float, tau: Evaluation, required: float, *, counted: bool) -> list[Check]:
    """A beaded field as a whole, with its ends, and the flats of a pitch."""
    strip, pattern = action.panel.strip, action.panel.pattern
    assert strip is not None
    assert pattern is not None
    demand = float(tau.value)
    checks: list[Check] = []
    simple = action.edge == "simple"
    formula = plate_formulas.ORTHOTROPIC_SHEAR_SIMPLE if simple else plate_formulas.ORTHOTROPIC_SHEAR_CLAMPED
    given = {"D_x": action.rigidity.D_x, "D_y": action.rigidity.D_y, "h": action.a}
    flow = formula.evaluate(**given)
    pitches = action.b / strip.bead.pitch
    stop, runout = pattern.ends
    through = not (stop or runout)
    steep = not below(beads.flank_angle(pattern, action.t), ultimate.STEEP)
    many = not below(pitches, MANY_PITCHES)
    stiff = stiffness_trace(action)
    f_y = action.sheet.f_y if action.sheet.has_yield else None
    reasons = [] if through else [f"beads stop {mm(stop):g} off the edge; the field is one of beads running through"]
    if action.panel.cross is not None:
        reasons.append("beads cross; the field is one of beads along one side")
    if not many:
        reasons.append(f"{pitches:.2g} pitches across; the field is one of many (from {MANY_PITCHES:g})")
    if beyond := [*reasons, *formula.outside(**given)]:
        checks.append(SHEAR_FIELD.outside(beyond, demand=q, unit="N/mm"))
    else:
        checks.append(
            SHEAR_FIELD.judge(
                capacity=float(flow.value), demand=q, required=required, unit="N/mm", trace=[*stiff, flow]
            )
        )
    whole = float(flow.value)
    if f_y is not None:
        cr_g = ultimate.GLOBAL_SHEAR_STRESS.evaluate(**given, t=action.t)
        lamda_g = ultimate.LOCAL_SHEAR_SLENDERNESS.evaluate(f_y=f_y, tau_cr=float(cr_g.value))
        chi_g = ultimate.GLOBAL_SHEAR_REDUCTION.evaluate(lamda_cg=float(lamda_g.value))
        strength = ultimate.SHEAR_STRENGTH.evaluate(chi_w=float(chi_g.value), f_y=f_y)
        whole = min(whole, float(strength.value) * action.t)
        if not steep:
            reasons.append(
                f"flanks at {beads.flank_angle(pattern, action.t):.3g} degrees, must be at least {ultimate.STEEP:g}"
            )
        if strip.bead.family == "arc":
            reasons.append("the clause is for flanks and flats, not for arcs between flats")
        if reasons:
            checks.append(BEADED_GLOBAL.outside(reasons, demand=demand, unit="MPa"))
        else:
            checks.append(
                BEADED_GLOBAL.judge(
                    capacity=float(strength.value), demand=demand, required=required, unit="MPa",
                    trace=[tau, *stiff, cr_g, lamda_g, chi_g, strength],
                )
            )  # fmt: skip
    ritz = critical(action, q=q) * q
    ends = f"beads stop {mm(stop):g} off the edge and rise over {mm(runout):g}" if not through else "beads run through"
    trace: Trace = [
        *stiff,
        Stated("q_cr", "N/mm", ritz, f"Ritz, {mm(action.a, ' x ', action.b):g}, edges {action.edge}", str(RITZ)),
        flow,
    ]
    given_q = {"demand": q, "required": required, "unit": "N/mm", "trace": trace}
    if action.many_beads:
        checks.append(SHEAR_ENDS.judge(capacity=min(ritz, whole), note=ends, **given_q))  # type: ignore[arg-type]
    elif at_most(q * required, min(ritz, whole)):
        note = f"{ends}; so few beads that they are left out"
        checks.append(SHEAR_ENDS.judge(capacity=min(ritz, whole), note=note, **given_q))  # type: ignore[arg-type]
    else:
        fewest = min(len(places) for places in (action.panel.bead_places, action.panel.cross_places) if places)
        spread = buckling.factor(action.b, field_pieces(action, few=False), action.edge, q=q) * q
        reason = f"{fewest} beads are too few to count as a field (from {FEW_PITCHES:g}), and the flat "
        reason += "sheet without them does not hold"
        checks.append(SHEAR_ENDS.at_most(reason, capacity=min(spread, whole), **given_q))  # type: ignore[arg-type]
    if action.gap:
        local = plate_formulas.FLAT_BETWEEN_BEADS_SHEAR.evaluate(**action.plate, w_flat=action.gap)
        if counted:
            checks.append(
                SHEAR_LOCAL.info(capacity=float(local.value), demand=demand, unit="MPa", trace=[tau, local], note=WAVES)
            )
        else:
            checks.append(
                SHEAR_LOCAL.judge(
                    capacity=float(local.value), demand=demand, required=required, unit="MPa", trace=[tau, local]
                )
            )
    if f_y is not None:
        cr_l = ultimate.LOCAL_SHEAR_STRESS.evaluate(E=action.E, t=action.t, a_max=max(flat_parts(action)))
        lamda_l = ultimate.LOCAL_SHEAR_SLENDERNESS.evaluate(f_y=f_y, tau_cr=float(cr_l.value))
        chi_l = ultimate.LOCAL_SHEAR_REDUCTION.evaluate(lamda_cl=float(lamda_l.value))
        strength = ultimate.SHEAR_STRENGTH.evaluate(chi_w=float(chi_l.value), f_y=f_y)
        checks.append(
            BEADED_LOCAL.judge(
                capacity=float(strength.value), demand=demand, required=required, unit="MPa",
                trace=[tau, cr_l, lamda_l, chi_l, strength],
                note="an arc counts as flat sheet of its length" if strip.bead.family == "arc" else "",
            )
        )  # fmt: skip
    return checks


def together(action: PanelAction) -> list[Check]:
    """Bending and in-plane shear of one sheet, by the squares of what each uses."""
    if not action.panel.shear or not (action.panel.pressure or action.panel.patch):
        return []
    across = [c for c in on_shape(action) if c.method.key in ON_SHAPE and c.status in ("ok", "over")]
    if not across:
        return [TOGETHER.outside("the load across is not judged, so neither is the two together", unit="1")]
    stretched = [c for c in across if c.method in (PULL, MEMBRANE_STRAIN)]
    sheared = [c for c in shear(action) if c.method.key in SHEARS and c.status in ("ok", "over")]
    bending = max(stretched, key=lambda c: c.utilisation or 0.0, default=None)
    shearing = max(sheared, key=lambda c: c.utilisation or 0.0, default=None)
    if bending is None or shearing is None:
        return [TOGETHER.outside("no method applies to one of the two", unit="1")]
    u_1, u_2 = bending.utilisation or 0.0, shearing.utilisation or 0.0
    total = stress.BENDING_WITH_SHEAR.evaluate(u_1=u_1, u_2=u_2)
    trace: Trace = [
        Stated("u_1", "1", u_1, f"utilisation of {bending.key}"),
        Stated("u_2", "1", u_2, f"utilisation of {shearing.key}"),
        total,
    ]
    return [TOGETHER.judge(capacity=1.0, demand=float(total.value), unit="1", trace=trace)]
