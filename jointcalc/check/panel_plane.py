"""Shear in the plane of a panel against yield and buckling, and together with load across it."""

from __future__ import annotations

from jointcalc.check.panel_base import BUCKLING, PARTIAL_0, PARTIAL_1, YIELD, State, Trace, stiffness_trace
from jointcalc.check.panel_shape import MEMBRANE_STRAIN, ON_SHAPE, PULL
from jointcalc.formula import panel as stress
from jointcalc.formula import plate as plate_formulas
from jointcalc.result import Check, Stated, method

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
TOGETHER = method("interaction.panel-bending-shear", "Bending with shear", stress.TOGETHER, per="member",
                  basis="sum of squared utilisations", factor="1")  # fmt: skip
SHEARS = frozenset(m.key for m in (SHEAR_YIELD, SHEAR_FLAT, SHEAR_FIELD, SHEAR_LOCAL))


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
    if strip is None:
        long, short = max(s.a, s.b), min(s.a, s.b)
        how_k = plate_formulas.SHEAR_COEFFICIENT_SIMPLE if simple else plate_formulas.SHEAR_COEFFICIENT_CLAMPED
        k = how_k.evaluate(a=long, b=short)
        critical = plate_formulas.PLATE_BUCKLING_STRESS.evaluate(k=float(k.value), E=s.E, nu=s.nu, t=s.t, b=short)
        checks.append(
            SHEAR_FLAT.judge(
                capacity=float(critical.value), demand=demand, required=required, unit="MPa", trace=[tau, k, critical]
            )
        )
    else:
        how = plate_formulas.ORTHOTROPIC_SHEAR_SIMPLE if simple else plate_formulas.ORTHOTROPIC_SHEAR_CLAMPED
        given = {"D_x": s.rigidity.D_x, "D_y": s.rigidity.D_y, "h": s.a}
        reasons = how.outside(**given)
        pitches = s.b / strip.bead.pitch
        if pitches < MANY_PITCHES - 1e-9:
            reasons = [
                *reasons,
                f"{pitches:.2g} pitches across; the formula is for a field of many (from {MANY_PITCHES:g})",
            ]
        if reasons:
            checks.append(SHEAR_FIELD.outside(reasons, demand=q, unit="N/mm"))
        else:
            flow = how.evaluate(**given)
            checks.append(
                SHEAR_FIELD.judge(
                    capacity=float(flow.value), demand=q, required=required, unit="N/mm",
                    trace=[*stiffness_trace(s), flow],
                )
            )  # fmt: skip
        if s.gap:
            local = plate_formulas.FLAT_BETWEEN_BEADS_SHEAR.evaluate(E=s.E, nu=s.nu, t=s.t, w_flat=s.gap)
            checks.append(
                SHEAR_LOCAL.judge(
                    capacity=float(local.value), demand=demand, required=required, unit="MPa", trace=[tau, local]
                )
            )
    missing = [f"{c.title.lower()}: {c.note}" for c in checks if c.status == "outside"]
    return checks, missing


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
    return [TOGETHER.judge(capacity=1.0, demand=float(total.value), required=1.0, unit="1", trace=trace)]
