"""Thrust in the plane of a panel, and all loads in its plane together, alone and with load across it.

Flat sheet: effective width with column-like behaviour (EN 1993-1-5 section 4), thrusts and shear together by its
section 10.  Beads along the thrust: orthotropic plate and column of the same section where they run through; where they
stop short, the flat sheet beside the edges alone.  Beads across it fold like bellows: first yield of the crown; beads
that cross lie across either thrust.  Edges count as turning freely.
Metals that EN 1993-1-5 is not for carry no more than their elastic critical thrust.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

import numpy as np

from jointcalc.check.common import ADDED, INFORMATION, once
from jointcalc.check.panel_action import FEW_PITCHES, PanelAction
from jointcalc.check.panel_base import BUCKLING, NO_YIELD, PARTIAL_0, PARTIAL_1, SHAPE, YIELD, Trace, stiffness_trace
from jointcalc.check.panel_plane import RITZ, SHEAR_YIELD, SHEARS, critical, field_pieces, flat_parts, shear
from jointcalc.check.panel_shape import ON_SHAPE, on_shape, outside_shape
from jointcalc.formula import column
from jointcalc.formula import plate as plate_formulas
from jointcalc.formula import plate_ultimate as ultimate
from jointcalc.formula.branch import above, at_most
from jointcalc.formula.core import Evaluation, Formula
from jointcalc.quantity.sentence import Measure, mm
from jointcalc.result import Check, Need, Stated, method
from jointcalc.statics import plate as plates

MOST_WAVES = 40
"""Most half waves tried along one side: beyond, the flats between beads buckle first."""
WAYS = ("along", "across")
BEYOND = "thrust resistance beyond buckling"
FLAT_THRUST = method("en1993-1-5.panel-thrust", "Thrust in plane, effective width", ultimate.THRUST_STRENGTH.source,
                     per="mm", basis=BEYOND, factor=PARTIAL_1)  # fmt: skip
ELASTIC_THRUST = method("plate.panel-thrust", "Thrust in plane, elastic", ultimate.THRUST_KEPT_ELASTIC.source, per="mm",
                        basis=BUCKLING, factor=PARTIAL_1)  # fmt: skip
BEADED_THRUST = method("en1993-1-5.beaded-thrust", "Thrust along beads", ultimate.BEADED_THRUST_STRENGTH.source,
                       per="mm", basis=BEYOND, factor=PARTIAL_1)  # fmt: skip
STRIPS_THRUST = method("plate.edge-strips", "Thrust beside beads that stop short", ultimate.STRIPS, per="mm",
                       basis=BEYOND, factor=PARTIAL_1)  # fmt: skip
BELLOWS = method("plate.thrust-across-beads", "Thrust across beads", ultimate.ARCH, per="member", basis=YIELD,
                 factor=PARTIAL_0)  # fmt: skip
FLAT_TOGETHER = method("en1993-1-5.panel-together", "Loads in the plane together", ultimate.FIELD_FACTOR.source,
                       per="member", basis="factor on all loads in the plane", factor=PARTIAL_1,
                       covers=("in-plane together",))  # fmt: skip
BEADED_TOGETHER = method("interaction.panel-in-plane", "Loads in the plane together", ultimate.SUM, per="member",
                         basis="sum of utilisations", factor=ADDED, covers=("in-plane together",))  # fmt: skip
WITH_ACROSS = method("interaction.panel-across-thrust", "Thrust with load across", ultimate.BESIDE, per="member",
                     basis="first yield of both together", factor=ADDED,
                     covers=("compression with across",))  # fmt: skip
WAVES = method("plate.waves", "First waves under the loads in the plane", RITZ, per="member", bound="information",
               basis="elastic buckling factor", factor=INFORMATION)  # fmt: skip
THRUSTS = frozenset(m.key for m in (FLAT_THRUST, ELASTIC_THRUST, BEADED_THRUST, STRIPS_THRUST, BELLOWS))


class Way(NamedTuple):
    """One of the two thrusts: how much, and the sides along it and across it [N/mm, mm]."""

    name: str
    n: float
    a: float
    b: float


def ways(action: PanelAction) -> list[Way]:
    """The thrusts that there are."""
    both = zip(WAYS, action.panel.compression, ((action.a, action.b), (action.b, action.a)))
    return [Way(name, n, *sides) for name, n, sides in both if n]


def needs(action: PanelAction) -> list[Need]:
    """What has to be judged of the loads in the plane of the sheet."""
    found = [Need(f"compression {way.name}", f"thrust {way.name} the beads: no method applies") for way in ways(action)]
    if len(found) + bool(action.panel.shear) > 1 and found:
        found.append(Need("in-plane together", "thrust and shear, or two thrusts, together: no method applies"))
    if found and action.across:
        found.append(
            Need("compression with across", "thrust together with load across: past first yield, or past its first "
                 "waves, no published rule judges the two together")
        )  # fmt: skip
    return found


@once
def thrust(action: PanelAction) -> list[Check]:
    """Each thrust alone."""
    checks = []
    for way in ways(action):
        if not action.sheet.has_yield:
            rule = FLAT_THRUST if action.panel.strip is None else BEADED_THRUST if way.name == "along" else BELLOWS
            checks.append(rule.outside(NO_YIELD, demand=way.n, unit="N/mm", where=way.name))
        elif action.panel.strip is None:
            checks.append(_flat(action, way))
        elif way.name == "along" and action.panel.cross is None:
            checks.append(_beaded_along(action, way))
        else:
            checks.append(_beaded_across(action, way))
    return checks


# --- flat sheet -------------------------------------------------------------------------------------------------------


class _Flat(NamedTuple):
    """Elastic critical stresses of a flat sheet under one thrust, with their lines."""

    plate: float
    column: float
    trace: Trace


def _fewest(value: Callable[[int], float]) -> int:
    """The number of half waves with the least load."""
    return min(range(1, MOST_WAVES + 1), key=value)


def _critical_flat(action: PanelAction, way: Way) -> _Flat:
    sides = {"a": way.a, "b": way.b}
    k = ultimate.COMPRESSION_COEFFICIENT.evaluate(
        m=_fewest(lambda m: float(ultimate.COMPRESSION_COEFFICIENT(m=m, **sides))), **sides
    )
    as_plate = ultimate.PLATE_STRESS.evaluate(k_sigma=float(k.value), **action.plate, b=way.b)
    as_column = ultimate.COLUMN_STRESS.evaluate(**action.plate, a=way.a)
    return _Flat(float(as_plate.value), float(as_column.value), [k, as_plate, as_column])


def _reduced(f_y: float, elastic: _Flat, alpha: float, lamda_p: Evaluation, lamda_c: float) -> tuple[float, Trace]:
    """The reduction between plate and column at a slenderness, with its lines."""
    rho = ultimate.PLATE_REDUCTION.evaluate(lamda_p=float(lamda_p.value))
    chi = column.REDUCTION_FACTOR.evaluate(lamda=lamda_c, alpha=alpha)
    between = ultimate.BETWEEN_PLATE_AND_COLUMN.evaluate(
        rho=float(rho.value), chi_c=float(chi.value), sigma_cr_p=elastic.plate, sigma_cr_c=elastic.column
    )
    return float(between.value), [lamda_p, rho, chi, between]


def _flat(action: PanelAction, way: Way) -> Check:
    f_y, required = action.sheet.f_y, action.gamma_M1 * action.gamma
    elastic = _critical_flat(action, way)
    if action.sheet.material.family != "steel":
        kept = ultimate.THRUST_KEPT_ELASTIC.evaluate(sigma_cr=elastic.plate, f_y=f_y, t=action.t)
        return ELASTIC_THRUST.judge(
            capacity=float(kept.value), demand=way.n, required=required, unit="N/mm", where=way.name,
            trace=[*elastic.trace[:2], kept], note="nothing beyond buckling: EN 1993-1-5 is for carbon steel",
            covers=(f"compression {way.name}",),
        )  # fmt: skip
    lamda = ultimate.PLATE_SLENDERNESS.evaluate(f_y=f_y, sigma_cr=elastic.plate)
    lamda_c = float(ultimate.PLATE_SLENDERNESS(f_y=f_y, sigma_cr=elastic.column))
    reduced, lines = _reduced(f_y, elastic, ultimate.COLUMN_IMPERFECTION, lamda, lamda_c)
    strength = ultimate.THRUST_STRENGTH.evaluate(rho_c=reduced, f_y=f_y, A_w=action.t)
    return FLAT_THRUST.judge(
        capacity=float(strength.value), demand=way.n, required=required, unit="N/mm", where=way.name,
        trace=[*elastic.trace, *lines, strength], note="edges taken to turn freely",
        covers=(f"compression {way.name}",),
    )  # fmt: skip


# --- beaded sheet -----------------------------------------------------------------------------------------------------


def _orthotropic(action: PanelAction, formula: Formula) -> Evaluation:
    """The least elastic critical thrust of the field, edges turning freely, as stiff as its softest piece allows."""
    pieces = field_pieces(action)
    D = plates.Rigidity(*(min(values) for values in zip(*(p.rigidity for p in pieces))))
    fixed = {**D._asdict(), "a": action.a, "b": action.b}
    pairs = ((m, n) for m in range(1, MOST_WAVES + 1) for n in range(1, MOST_WAVES + 1))
    m, n = min(pairs, key=lambda mn: float(formula(m=mn[0], n=mn[1], **fixed)))
    return formula.evaluate(m=m, n=n, **fixed)


def _through(action: PanelAction, way: Way) -> tuple[float, Trace]:
    """What a field carries along beads that run through."""
    strip = action.panel.strip
    assert strip is not None
    f_y, A_w = action.sheet.f_y, action.t * action.developed
    D = field_pieces(action)[len(field_pieces(action)) // 2].rigidity
    fixed = {**D._asdict(), "a": action.a, "b": action.b}
    pairs = ((m, n) for m in range(1, MOST_WAVES + 1) for n in (1, 2))
    m, n = min(pairs, key=lambda mn: float(ultimate.ORTHOTROPIC_THRUST(m=mn[0], n=mn[1], **fixed)))
    as_plate = ultimate.ORTHOTROPIC_THRUST.evaluate(m=m, n=n, **fixed)
    as_column = ultimate.COLUMN_THRUST.evaluate(D_x=D.D_x, a=action.a)
    parts = flat_parts(action)
    carried = 0.0
    for width in parts:
        stress = ultimate.PLATE_STRESS(k_sigma=4.0, **action.plate, b=width)
        carried += width * float(ultimate.PLATE_REDUCTION(lamda_p=ultimate.PLATE_SLENDERNESS(f_y=f_y, sigma_cr=stress)))
    beta = carried / sum(parts)
    lamda_p = ultimate.BEADED_SLENDERNESS.evaluate(beta_A=beta, f_y=f_y, A_w=A_w, n_cr=float(as_plate.value))
    lamda_c = ultimate.BEADED_SLENDERNESS.evaluate(beta_A=beta, f_y=f_y, A_w=A_w, n_cr=float(as_column.value))
    i = float(np.sqrt(strip.I_along / A_w))
    farther = max(strip.centroid, strip.bead.depth - strip.centroid)
    alpha = ultimate.BEAD_IMPERFECTION.evaluate(i=i, e=farther)
    elastic = _Flat(float(as_plate.value) / A_w, float(as_column.value) / A_w, [])
    reduced, lines = _reduced(f_y, elastic, float(alpha.value), lamda_p, float(lamda_c.value))
    strength = ultimate.BEADED_THRUST_STRENGTH.evaluate(rho_c=reduced, beta_A=beta, f_y=f_y, A_w=A_w)
    locally = Stated("beta_A", "1", beta, "effective over whole width of a pitch, each part with k = 4; an arc as flat")
    trace: Trace = [
        *stiffness_trace(action), as_plate, as_column, locally, lines[0], lamda_c, alpha, *lines[1:], strength
    ]  # fmt: skip
    return float(strength.value), trace


def _beaded_along(action: PanelAction, way: Way) -> Check:
    strip, pattern = action.panel.strip, action.panel.pattern
    assert strip is not None
    assert pattern is not None
    f_y, required = action.sheet.f_y, action.gamma_M1 * action.gamma
    covers = (f"compression {way.name}",)
    steel = action.sheet.material.family == "steel"
    whole, trace = _through(action, way)
    if not any(pattern.ends) and len(action.panel.bead_places) >= FEW_PITCHES and steel:
        return BEADED_THRUST.judge(
            capacity=whole, demand=way.n, required=required, unit="N/mm", where=way.name, trace=trace, covers=covers,
            note="beads run through; edges taken to turn freely",
        )  # fmt: skip
    elastic = _critical_flat(action, way)
    beside = action.panel.bead_places[0] - pattern.width / 2
    if not steel:
        # elastically the flat sheet in the middle would go first; nothing is counted on beyond
        kept = ultimate.THRUST_KEPT_ELASTIC.evaluate(sigma_cr=elastic.plate, f_y=f_y, t=action.t)
        return ELASTIC_THRUST.judge(
            capacity=min(float(kept.value), whole), demand=way.n, required=required, unit="N/mm", where=way.name,
            trace=[*elastic.trace[:2], kept], covers=covers,
            note="as the flat sheet, elastic: EN 1993-1-5 is for carbon steel",
        )  # fmt: skip
    lamda = ultimate.PLATE_SLENDERNESS.evaluate(f_y=f_y, sigma_cr=elastic.plate)
    lamda_c = float(ultimate.PLATE_SLENDERNESS(f_y=f_y, sigma_cr=elastic.column))
    reduced, lines = _reduced(f_y, elastic, ultimate.COLUMN_IMPERFECTION, lamda, lamda_c)
    strips = ultimate.EDGE_STRIPS.evaluate(rho=reduced, b=way.b, d_e=beside, f_y=f_y, t=action.t)
    note = f"a thrust cannot follow a bead to its end: the flat sheet beside either edge, {mm(beside):.4g}, carries it"
    given = {"demand": way.n, "required": required, "unit": "N/mm", "where": way.name, "covers": covers}
    least = min(float(strips.value), whole)
    if at_most(way.n * required, least):
        lines = [*elastic.trace, *lines, strips]
        return STRIPS_THRUST.judge(capacity=least, trace=lines, note=note, **given)  # type: ignore[arg-type]
    # more than these strips is no failure yet: the real shape tells; more than beads running through would carry is
    reason = f"{note}, no more than {Measure(least, unit='N/mm'):.4g}; what the beads add is judged on the real shape"
    return STRIPS_THRUST.at_most(reason, capacity=whole, trace=trace, **given)  # type: ignore[arg-type]


def _beaded_across(action: PanelAction, way: Way) -> Check:
    along = way.name == "along"
    pattern = action.panel.cross if along else action.panel.pattern
    assert pattern is not None
    required = action.gamma_M0 * action.gamma
    n_cr = _orthotropic(action, ultimate.ORTHOTROPIC_THRUST if along else ultimate.ORTHOTROPIC_THRUST_ACROSS)
    given = {"t": action.t, "f": pattern.depth, "n_cr": float(n_cr.value)}
    # the stress grows faster than the thrust: it is worked out at the factored one
    factored = required * way.n
    if ultimate.BELLOWS_STRESS.outside(n_s=factored, **given):
        return BELLOWS.judge(
            capacity=float(n_cr.value), demand=way.n, required=required, unit="N/mm", where=way.name,
            trace=[*stiffness_trace(action), n_cr], note="the field folds up before its beads yield",
            covers=(f"compression {way.name}",),
        )  # fmt: skip
    stress = ultimate.BELLOWS_STRESS.evaluate(n_s=factored, **given)
    return BELLOWS.judge(
        capacity=action.sheet.f_y, demand=float(stress.value) / required, required=required, unit="MPa", where=way.name,
        trace=[*stiffness_trace(action), n_cr, stress], covers=(f"compression {way.name}",),
        note="the crown lies off the line of the thrust by the bead's depth; worked out at the factored thrust",
    )  # fmt: skip


# --- together ---------------------------------------------------------------------------------------------------------


@once
def in_plane(action: PanelAction) -> list[Check]:
    """All loads in the plane of the sheet together, and when it first shows waves."""
    pushed, q = ways(action), abs(action.panel.shear)
    if not pushed:
        return []
    n_x, n_y = action.panel.compression
    alpha = critical(action, n_x=n_x, n_y=n_y, q=q)
    step = Stated("alpha_cr", "1", alpha, f"Ritz, edges {action.edge}; service loads in the plane", str(RITZ))
    found = [WAVES.info(capacity=alpha, demand=1.0, unit="1", trace=[step], note="no failure by itself")]
    if len(pushed) + bool(q) < 2 or not action.sheet.has_yield:
        return found
    if action.panel.strip is None and action.sheet.material.family == "steel":
        return [*found, _flat_together(action, pushed, q)]
    mine = [*shear(action), *thrust(action)]
    shares, lines = {"u_x": 0.0, "u_y": 0.0, "u_t": 0.0}, []
    untold = False
    groups = (
        ("u_x", lambda c: c.method.key in THRUSTS and c.key.endswith(".along")),
        ("u_y", lambda c: c.method.key in THRUSTS and c.key.endswith(".across")),
        ("u_t", lambda c: c.method.key in SHEARS),
    )
    for name, ours in groups:
        judged = [c for c in mine if ours(c) and c.utilisation is not None]
        worst = max(judged, key=lambda c: c.utilisation or 0.0, default=None)
        if worst is not None:
            shares[name] = worst.utilisation or 0.0
            lines.append(Stated.of(name, worst))
        elif left := [c.used_at_least for c in mine if ours(c) and c.used_at_least is not None]:
            shares[name], untold = max(left), True
    total = ultimate.USED_IN_PLANE.evaluate(**shares)
    if untold and at_most(float(total.value), 1.0):
        return [*found, BEADED_TOGETHER.outside("one of them is judged on the real shape only", unit="1")]
    return [
        *found,
        BEADED_TOGETHER.judge(
            capacity=1.0, demand=float(total.value), unit="1", trace=[*lines, total]
        ),
    ]  # fmt: skip


def _flat_together(action: PanelAction, pushed: list[Way], q: float) -> Check:
    """EN 1993-1-5 section 10: one slenderness for all stresses, the least of the reductions."""
    f_y = action.sheet.f_y
    alphas, elastics, trace = {"along": np.inf, "across": np.inf}, {}, Trace()
    for way in pushed:
        elastic = _critical_flat(action, way)
        elastics[way.name] = elastic
        alphas[way.name] = elastic.plate * action.t / way.n
        trace += [*elastic.trace, Stated("alpha", "1", alphas[way.name], f"thrust {way.name} alone")]
    alpha_t = np.inf
    if q:
        long, short = max(action.a, action.b), min(action.a, action.b)
        k = plate_formulas.SHEAR_COEFFICIENT_SIMPLE.evaluate(a=long, b=short)
        elastic_shear = plate_formulas.PLATE_BUCKLING_STRESS.evaluate(k=float(k.value), **action.plate, b=short)
        alpha_t = float(elastic_shear.value) * action.t / q
        trace += [k, elastic_shear]
    n_x, n_y = action.panel.compression
    at_yield = ultimate.YIELD_FACTOR.evaluate(f_y=f_y, sigma_x=n_x / action.t, sigma_z=n_y / action.t, tau=q / action.t)
    at_waves = ultimate.CRITICAL_FACTOR.evaluate(alpha_x=alphas["along"], alpha_z=alphas["across"], alpha_t=alpha_t)
    lamda = ultimate.FIELD_SLENDERNESS.evaluate(alpha_ult=float(at_yield.value), alpha_cr=float(at_waves.value))
    trace += [at_yield, at_waves]
    reductions = []
    for elastic in elastics.values():
        lamda_c = max(float(ultimate.PLATE_SLENDERNESS(f_y=f_y, sigma_cr=elastic.column)), float(lamda.value))
        reduced, lines = _reduced(f_y, elastic, ultimate.COLUMN_IMPERFECTION, lamda, lamda_c)
        reductions.append(reduced)
        trace += lines
    if q:
        chi = ultimate.SHEAR_REDUCTION.evaluate(lamda_w=float(lamda.value))
        reductions.append(float(chi.value))
        trace.append(chi)
    carried = ultimate.FIELD_FACTOR.evaluate(alpha_ult=float(at_yield.value), rho_c=min(reductions))
    return FLAT_TOGETHER.judge(
        capacity=float(carried.value), demand=1.0, required=action.gamma_M1 * action.gamma, unit="1",
        trace=[*trace, carried], note="the least of the reductions counts for all; edges taken to turn freely",
    )  # fmt: skip


def with_across(action: PanelAction) -> list[Check]:
    """Thrust together with load across: first yield of both, the deflection amplified; nothing is said beyond it."""
    if not (action.pushed and action.across):
        return []
    judges = THRUSTS | SHEARS | {FLAT_TOGETHER.key, BEADED_TOGETHER.key}
    plane = [c for c in (*shear(action), *thrust(action), *in_plane(action)) if c.method.key in judges]
    reason = outside_shape(action)
    if reason or action.answer is None:
        return [WITH_ACROSS.outside(f"load across: {reason}", unit="1")]
    alone = [c.status for c in on_shape(action) if c.method.key in ON_SHAPE]
    alone += [c.status for c in plane if c.status != "info"]
    if any(status != "ok" for status in alone):
        return [WITH_ACROSS.outside("one of the two is not carried alone", unit="1")]
    n_x, n_y = action.panel.compression
    required = action.gamma_M0 * action.gamma
    eta = action.gamma_M1 * action.gamma / critical(action, n_x=n_x, n_y=n_y, q=abs(action.panel.shear))
    worst = max((c for c in plane if c.utilisation is not None and c.method.key != SHEAR_YIELD.key),
                key=lambda c: c.utilisation or 0.0)  # fmt: skip
    shares = {
        "u_1": required * action.answer.surface_stress / action.sheet.f_y,
        "u_2": worst.utilisation or 0.0,
        "eta": eta,
    }
    trace: Trace = [
        Stated("eta", "1", eta, "factored loads in the plane over those of the first waves", str(RITZ)),
        Stated("u_1", "1", shares["u_1"], "greatest elastic stress of the load across alone, over yield", str(SHAPE)),
        Stated.of("u_2", worst),
    ]
    beyond = ultimate.USED_WITH_LOAD_ACROSS.outside(**shares)
    if beyond:
        return [WITH_ACROSS.outside(beyond, unit="1", trace=trace)]
    total = ultimate.USED_WITH_LOAD_ACROSS.evaluate(**shares)
    if above(float(total.value), 1.0):
        return [
            WITH_ACROSS.outside(
                f"together they reach {float(total.value):.3g} of first yield; past it no published rule judges a "
                "plate that is pushed and loaded across",
                unit="1", trace=[*trace, total],
            )
        ]  # fmt: skip
    return [WITH_ACROSS.judge(capacity=1.0, demand=float(total.value), unit="1", trace=[*trace, total])]
