"""Shear in the plane of a panel against yield, buckling and what is left beyond it, and together with load across it.

A flat sheet in shear carries more than the load of its first waves (EN 1993-1-5 section 5); those waves are told, and
limit it only where something presses on the sheet as well, for which a buckled sheet has no rule.  A beaded field as a
whole has no such reserve; the flats between its beads have (EN 1993-1-5 Annex D).
"""

from __future__ import annotations

from jointcalc.check.common import ADDED
from jointcalc.check.panel_base import (
    BUCKLING,
    FEW_PITCHES,
    PARTIAL_0,
    PARTIAL_1,
    YIELD,
    State,
    Trace,
    stiffness_trace,
)
from jointcalc.check.panel_shape import MEMBRANE_STRAIN, ON_SHAPE, PULL
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


def field_pieces(s: State, *, few: bool = True) -> tuple[buckling.Piece, ...]:
    """The panel as a plate of pieces, its beads spread evenly, with their ends; `few` of them count for nothing."""
    strip, pattern = s.panel.strip, s.panel.pattern
    flat, _ = plates.flat(s.E, s.nu, s.t)
    if strip is None or pattern is None:
        return (buckling.Piece(0.0, s.a, flat),)
    if few and not s.many:
        return (buckling.Piece(0.0, s.a, Rigidity(*(min(p, r) for p, r in zip(s.rigidity, flat)))),)
    return buckling.beaded(s.a, s.rigidity, flat, *pattern.ends)


def critical(s: State, *, n_x: float = 0.0, n_y: float = 0.0, q: float = 0.0) -> float:
    """Factor on thrusts and shear flow [N/mm] at which the panel buckles as a whole, elastically."""
    return buckling.factor(s.b, field_pieces(s), s.edge, n_x=n_x, n_y=n_y, q=q)


def used_up(s: State) -> float:
    """Service thrusts, with the shear beside them, over those of the first waves; 0 without thrust."""
    if not s.pushed:
        return 0.0
    n_x, n_y = s.panel.compression
    return 1 / critical(s, n_x=n_x, n_y=n_y, q=abs(s.panel.shear))


def amplified(s: State, w: float) -> float | None:
    """A deflection [mm] with the thrust in the plane, which softens the panel; None once it has buckled."""
    eta = used_up(s)
    return None if eta >= 1 else w / (1 - eta)


def flat_parts(s: State) -> list[float]:
    """Widths along the sheet [mm] of the parts of one pitch that buckle on their own; an arc counts as flat."""
    found: list[float] = []
    for strip in (s.panel.strip, s.panel.cross_strip):
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


def shear(s: State) -> tuple[list[Check], list[str]]:
    """Shear in the plane: its checks, and what they leave unjudged."""
    panel, strip = s.panel, s.panel.strip
    q = abs(panel.shear)
    if not q:
        return [], []
    checks: list[Check] = []
    required = s.gamma_M1 * s.gamma
    tau = stress.SHEAR_STRESS.evaluate(q=q, t=s.t)
    demand = float(tau.value)
    if s.sheet.has_yield:
        limit = stress.SHEAR_YIELD.evaluate(f_y=s.sheet.f_y)
        checks.append(
            SHEAR_YIELD.judge(
                capacity=float(limit.value),
                demand=demand,
                required=s.gamma_M0 * s.gamma,
                unit="MPa",
                trace=[tau, limit],
            )
        )
    else:
        reason = "the grade's standard lets no yield strength be assumed; state 'yield_strength'"
        checks.append(SHEAR_YIELD.outside(reason, demand=demand, unit="MPa"))
    simple = s.edge == "simple"
    # beyond its first waves a sheet that is pressed on has no published rule: there they are its limit
    counted = s.sheet.has_yield and not s.across
    if strip is None:
        long, short = max(s.a, s.b), min(s.a, s.b)
        how_k = plate_formulas.SHEAR_COEFFICIENT_SIMPLE if simple else plate_formulas.SHEAR_COEFFICIENT_CLAMPED
        k = how_k.evaluate(a=long, b=short)
        elastic = plate_formulas.PLATE_BUCKLING_STRESS.evaluate(k=float(k.value), E=s.E, nu=s.nu, t=s.t, b=short)
        tau_cr = float(elastic.value)
        if counted:
            checks.append(
                SHEAR_FLAT.info(capacity=tau_cr, demand=demand, unit="MPa", trace=[tau, k, elastic], note=WAVES)
            )
        else:
            checks.append(
                SHEAR_FLAT.judge(capacity=tau_cr, demand=demand, required=required, unit="MPa", trace=[tau, k, elastic])
            )
        if s.sheet.has_yield:
            checks.append(_ultimate(s, tau_cr, [tau, k, elastic], demand, required))
    else:
        checks += _beaded(s, q, tau, required, counted=counted)
    # the field is judged by the general way whatever its own formulas say
    missing = [
        f"{c.title.lower()}: {c.note}"
        for c in checks
        if c.status == "outside" and c.method in (SHEAR_YIELD, SHEAR_ENDS)
    ]
    return checks, missing


WAVES = "no failure by itself: from here on the sheet shows waves"


def _ultimate(s: State, tau_cr: float, before: Trace, demand: float, required: float) -> Check:
    """A flat sheet beyond buckling, by the rule of its metal."""
    family = s.sheet.material.family
    slenderness = ultimate.SHEAR_SLENDERNESS.evaluate(f_y=s.sheet.f_y, tau_cr=tau_cr)
    lamda = float(slenderness.value)
    how = REDUCTION[family]
    # stockier sheet than any expression asks about yields
    chi = how.evaluate(lamda_w=max(lamda, 0.6))
    strength = ultimate.SHEAR_STRENGTH.evaluate(chi_w=float(chi.value), f_y=s.sheet.f_y)
    held = "edges turning freely" if s.edge == "simple" else "edges clamped: k of elastic theory, as they are held"
    return SHEAR_ULTIMATE[family].judge(
        capacity=float(strength.value), demand=demand, required=required, unit="MPa",
        trace=[*before, slenderness, chi, strength], note=held,
    )  # fmt: skip


def _beaded(s: State, q: float, tau: Evaluation, required: float, *, counted: bool) -> list[Check]:
    """A beaded field as a whole, with its ends, and the flats of a pitch."""
    strip, pattern = s.panel.strip, s.panel.pattern
    assert strip is not None
    assert pattern is not None
    demand = float(tau.value)
    checks: list[Check] = []
    how = plate_formulas.ORTHOTROPIC_SHEAR_SIMPLE if s.edge == "simple" else plate_formulas.ORTHOTROPIC_SHEAR_CLAMPED
    given = {"D_x": s.rigidity.D_x, "D_y": s.rigidity.D_y, "h": s.a}
    flow = how.evaluate(**given)
    pitches = s.b / strip.bead.pitch
    stop, runout = pattern.ends
    through = not (stop or runout)
    steep = not below(beads.flank_angle(pattern, s.t), ultimate.STEEP)
    many = not below(pitches, MANY_PITCHES)
    stiff = stiffness_trace(s)
    f_y = s.sheet.f_y if s.sheet.has_yield else None
    reasons = [] if through else [f"beads stop {mm(stop):g} off the edge; the field is one of beads running through"]
    if s.panel.cross is not None:
        reasons.append("beads cross; the field is one of beads along one side")
    if not many:
        reasons.append(f"{pitches:.2g} pitches across; the field is one of many (from {MANY_PITCHES:g})")
    if beyond := [*reasons, *how.outside(**given)]:
        checks.append(SHEAR_FIELD.outside(beyond, demand=q, unit="N/mm"))
    else:
        checks.append(
            SHEAR_FIELD.judge(
                capacity=float(flow.value), demand=q, required=required, unit="N/mm", trace=[*stiff, flow]
            )
        )
    whole = float(flow.value)
    if f_y is not None:
        cr_g = ultimate.GLOBAL_SHEAR_STRESS.evaluate(D_x=s.rigidity.D_x, D_y=s.rigidity.D_y, t=s.t, h=s.a)
        lamda_g = ultimate.LOCAL_SHEAR_SLENDERNESS.evaluate(f_y=f_y, tau_cr=float(cr_g.value))
        chi_g = ultimate.GLOBAL_SHEAR_REDUCTION.evaluate(lamda_cg=float(lamda_g.value))
        strength = ultimate.SHEAR_STRENGTH.evaluate(chi_w=float(chi_g.value), f_y=f_y)
        whole = min(whole, float(strength.value) * s.t)
        if not steep:
            reasons.append(
                f"flanks at {beads.flank_angle(pattern, s.t):.3g} degrees, must be at least {ultimate.STEEP:g}"
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
    ritz = critical(s, q=q) * q
    ends = f"beads stop {mm(stop):g} off the edge and rise over {mm(runout):g}" if not through else "beads run through"
    trace: Trace = [
        *stiff,
        Stated("q_cr", "N/mm", ritz, f"Ritz, {mm(s.a, ' x ', s.b):g}, edges {s.edge}", str(RITZ)),
        flow,
    ]
    given_q = {"demand": q, "required": required, "unit": "N/mm", "trace": trace}
    if s.many:
        checks.append(SHEAR_ENDS.judge(capacity=min(ritz, whole), note=ends, **given_q))  # type: ignore[arg-type]
    elif at_most(q * required, min(ritz, whole)):
        note = f"{ends}; so few beads that they are left out"
        checks.append(SHEAR_ENDS.judge(capacity=min(ritz, whole), note=note, **given_q))  # type: ignore[arg-type]
    else:
        fewest = min(len(places) for places in (s.panel.bead_places, s.panel.cross_places) if places)
        spread = buckling.factor(s.b, field_pieces(s, few=False), s.edge, q=q) * q
        reason = f"{fewest} beads are too few to count as a field (from {FEW_PITCHES:g}), and the flat "
        reason += "sheet without them does not hold"
        checks.append(SHEAR_ENDS.at_most(reason, capacity=min(spread, whole), **given_q))  # type: ignore[arg-type]
    if s.gap:
        local = plate_formulas.FLAT_BETWEEN_BEADS_SHEAR.evaluate(E=s.E, nu=s.nu, t=s.t, w_flat=s.gap)
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
        cr_l = ultimate.LOCAL_SHEAR_STRESS.evaluate(E=s.E, t=s.t, a_max=max(flat_parts(s)))
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


def together(s: State, checks: list[Check]) -> list[Check]:
    """Bending and in-plane shear of one sheet, by the squares of what each uses."""
    if not s.panel.shear or not (s.panel.pressure or s.panel.patch):
        return []
    if not any(c.status in ("ok", "over") for c in checks if c.method.key in ON_SHAPE):
        return [TOGETHER.outside("the load across is not judged, so neither is the two together", unit="1")]
    judged = [
        c for c in checks if c.status in ("ok", "over") and c.method.key in {PULL.key, MEMBRANE_STRAIN.key} | SHEARS
    ]
    bending = max((c for c in judged if c.method.key not in SHEARS), key=lambda c: c.utilisation or 0.0, default=None)
    shear = max((c for c in judged if c.method.key in SHEARS), key=lambda c: c.utilisation or 0.0, default=None)
    if bending is None or shear is None:
        return [TOGETHER.outside("no method applies to one of the two", unit="1")]
    u_1, u_2 = bending.utilisation or 0.0, shear.utilisation or 0.0
    total = stress.BENDING_WITH_SHEAR.evaluate(u_1=u_1, u_2=u_2)
    trace: Trace = [
        Stated("u_1", "1", u_1, f"utilisation of {bending.key}"),
        Stated("u_2", "1", u_2, f"utilisation of {shear.key}"),
        total,
    ]
    return [TOGETHER.judge(capacity=1.0, demand=float(total.value), unit="1", trace=trace)]
