"""A panel on its real shape: what stays after the load, how far it stretches, how hard it pulls at its edges."""

from __future__ import annotations

from jointcalc.check.common import INFORMATION, LIMIT, once
from jointcalc.check.panel_action import PanelAction
from jointcalc.check.panel_base import FOOT_WORDS, NO_BALANCE, NO_YIELD, PARTIAL_0, SHAPE, YIELD, Trace
from jointcalc.formula import plate_ultimate as ultimate
from jointcalc.formula.core import Source
from jointcalc.quantity.sentence import mm
from jointcalc.result import GRAVEST, Check, Stated, method
from jointcalc.result.factor import fixed
from jointcalc.statics.field import Answer
from jointcalc.statics.shell import STEEPEST

SET_PART = 0.5
"""Part of the thickness that may stay after the load where the builder states no limit (common practice)."""
FAR = 2.0
"""How far over a value worked out beyond its range must be to count as over (our choice)."""
SET_SOURCE = Source("floors and panels", "half the thickness unless the builder states a limit",
                    "common practice", "finite elements, von Mises' yielding without hardening")  # fmt: skip
ANNEX_C = Source("EN 1993-1-5:2006", "C.8(1), note 1: principal strain 5 %", "from memory")
PULL_SOURCE = Source("Yield of the sheet at its edge under the membrane pull", "", "derivation")
SET = method("limit.permanent-set", "What stays after the load", SET_SOURCE, per="member", basis="limit", factor=LIMIT,
             covers=("across",))  # fmt: skip
MEMBRANE_STRAIN = method("en1993-1-5.membrane-strain", "Strain of the mid-plane", ANNEX_C, per="member",
                         basis="strain at factored loads", factor=fixed(1.0, "{:g} (loads times γ_M0 × γ_F)"),
                         covers=("across",))  # fmt: skip
PULL = method("plate.edge-pull", "Pull at the edges", PULL_SOURCE, per="mm", basis=YIELD, factor=PARTIAL_0,
              covers=("across",))  # fmt: skip
SNAP = method("plate.snap-through", "Snapping through", SHAPE, per="member", bound="information",
              basis="jump on the way to the load", factor=INFORMATION)  # fmt: skip
ON_SHAPE = frozenset(m.key for m in (SET, MEMBRANE_STRAIN, PULL))
"""What judges the load across the panel."""


def outside_shape(action: PanelAction) -> str:
    """Why the real shape cannot be judged; empty when it can."""
    found = action.answer
    if not action.sheet.has_yield:
        return NO_YIELD
    if action.f_y_left is None:
        return "shear in the plane uses up the yield strength"
    if found is None:
        return NO_BALANCE
    if found.steepest > STEEPEST:
        return (
            f"the sheet turns by {found.steepest:.2g} rad, past the {STEEPEST:g} rad up to which its bending is worked "
            "out; take thicker or beaded sheet, or supports closer together"
        )
    return ""


def why_not(action: PanelAction) -> str:
    """Why the load across is judged by nothing."""
    reason = outside_shape(action)
    return f"load across the panel: {reason}" if reason else "load across the panel: no method applies"


def shape_trace(action: PanelAction, found: Answer) -> Trace:
    """Lines of the working that lead to the answer on the real shape."""

    def within(name: str) -> str:
        return f"within {max(100 * found.errors[name], 0.1):.2g} % by refinement"

    alike = action.loaded.alike
    part = ", of a quarter of the panel" if all(alike) else ", of half the panel" if any(alike) else ""
    mesh = f"{found.nodes} nodes, the finer of two grids{part}"
    trace: Trace = [
        Stated("w", "mm", found.deflection, f"elastic, large deflections; {within('deflection')}; {mesh}", str(SHAPE)),
        Stated("sigma_s", "MPa", found.surface_stress,
               f"greatest von Mises stress at a face, elastic; {within('surface_stress')}", str(SHAPE)),
    ]  # fmt: skip
    if action.f_y_left is not None and action.panel.shear:
        trace.append(Stated("f_y,red", "MPa", action.f_y_left, "yield strength left beside the shear in the plane"))
    return trace


@once
def on_shape(action: PanelAction) -> list[Check]:
    """What stays, how far it stretches, and how hard it pulls at its edges.

    Nobody can see whether what stands round a panel holds its edges in the plane of the sheet.  Where it is not said,
    it is judged with edges free to draw in and with edges held, and of each check the worse counts.
    """
    mine = _as_held(action)
    if action.hung is None:
        return mine
    other = {c.key: c for c in _as_held(action.hung)}
    return [*(max(c, other.pop(c.key, c), key=_weight) for c in mine), *other.values()]


def _weight(check: Check) -> tuple[int, float]:
    """How much a check says against the panel."""
    return GRAVEST.get(check.status, -1), check.utilisation or 0.0


def _as_held(action: PanelAction) -> list[Check]:
    limit = action.panel.permanent_set_limit
    required = action.gamma_M0 * action.gamma
    if not action.across:
        f_y = action.sheet.f_y if action.sheet.has_yield else None
        why = "stated" if limit is not None else "half the thickness, common practice"
        left: Trace = [Stated("w_r,lim", "mm", limit or SET_PART * action.t, why)]
        after = 0.0 if action.answer_in_plane is None else action.answer_in_plane.permanent_set
        left += (
            [Stated("w_r", "mm", after, "left of the waves when the loads in the plane are taken away", str(SHAPE))]
            if after
            else []
        )
        idle = [SET.judge(capacity=limit or SET_PART * action.t, demand=after, unit="mm", trace=left)]
        if f_y is None:
            return idle
        yields: Trace = [Stated("n_y", "N/mm", f_y * action.t, "yield strength times thickness")]
        return [*idle, PULL.judge(capacity=f_y * action.t, demand=0.0, required=required, unit="N/mm", trace=yields)]
    found, reason = action.answer, outside_shape(action)
    if found is None or reason:
        if found is None or not action.sheet.has_yield:
            return [
                how.outside(reason, unit=unit) for how, unit in ((SET, "mm"), (MEMBRANE_STRAIN, "1"), (PULL, "N/mm"))
            ]
        # beyond its range the bending is worked out too softly or too stiffly; what is far over stays over
        stays, most = abs(found.permanent_set), limit or SET_PART * action.t
        return [
            SET.at_most(reason, capacity=most, demand=stays / FAR, unit="mm"),
            MEMBRANE_STRAIN.at_most(reason, capacity=ultimate.MEMBRANE_STRAIN, demand=found.strain / FAR, unit="1"),
            PULL.at_most(
                reason, capacity=action.sheet.f_y * action.t, demand=max(0.0, found.edge_pull) / FAR, required=required,
                unit="N/mm",
            ),
        ]  # fmt: skip
    trace = shape_trace(action, found)
    words = [f"in-plane edges {action.panel.drawing_in}"]
    if not action.panel.in_plane:
        words = ["edges free to draw in, as nothing is said of them ('in_plane')"]
    if action.panel.patch and action.panel.patch_size is None:
        words.insert(0, FOOT_WORDS.format(mm(action.panel.foot[0], " x ", action.panel.foot[1])))
    if action.beads is not None:
        for way, bead in action.panel.beads:
            stop, runout = bead.ends
            which = "beads" if action.panel.cross is None else f"beads along the {way} side"
            ends = (
                f"{which} stop {mm(stop):g} off the edge and rise over {mm(runout):g}"
                if stop
                else f"{which} run through"
            )
            assumed = bead.stop is None
            words.append(f"{ends} (taken, for a spot-welded flange; state 'stop' and 'runout')" if assumed else ends)
        if action.panel.cross is not None:
            words.append("where they cross, the sheet lies as high as the higher bead")
        words.append(f"crowns {action.panel.crowns} the load")
    errors = [max(100 * found.errors[name], 0.1) for name in ("deflection", "surface_stress")]
    words.append("by refinement good to {:.2g} % in deflection and {:.2g} % in stress".format(*errors))
    note = "; ".join(words)
    stays = abs(found.permanent_set)
    if action.answer_in_plane is not None and action.answer_in_plane.permanent_set > stays:
        stays = action.answer_in_plane.permanent_set
        note += "; with the loads in the plane"
    why = "stated" if limit is not None else "half the thickness, common practice"
    set_trace: Trace = [
        *trace,
        Stated("w_y", "mm", abs(found.deflection_yielding), "with yielding, von Mises, no hardening", str(SHAPE)),
        Stated("w_r", "mm", stays, "left when the service loads are taken away", str(SHAPE)),
        Stated("w_r,lim", "mm", limit or SET_PART * action.t, why),
    ]
    checks = [
        SET.judge(
            capacity=limit or SET_PART * action.t, demand=stays, unit="mm", trace=set_trace,
            note=note if stays else f"{note}; nothing yields",
        )
    ]  # fmt: skip
    strain: Trace = [Stated("epsilon", "1", found.strain, f"mid-plane, at {required:.3g} times the loads", str(SHAPE))]
    if found.reached < 1:
        strain.append(Stated("k_r", "1", found.reached, "part of those loads at which the panel gives way", str(SHAPE)))
        checks.append(
            MEMBRANE_STRAIN.judge(
                capacity=found.reached, demand=1.0, unit="1", trace=strain,
                note=f"the panel gives way at {found.reached * required:.3g} times the loads, before {required:.3g}",
            )
        )  # fmt: skip
    else:
        strain.append(Stated("epsilon_lim", "1", ultimate.MEMBRANE_STRAIN, "greatest principal strain", str(ANNEX_C)))
        checks.append(
            MEMBRANE_STRAIN.judge(capacity=ultimate.MEMBRANE_STRAIN, demand=found.strain, unit="1", trace=strain)
        )
    if action.panel.drawing_in == "held":
        hard: Trace = [
            *trace,
            Stated("n_y", "N/mm", action.sheet.f_y * action.t, "yield strength times thickness"),
            Stated("n_e", "N/mm", found.edge_pull, "greatest across an edge", str(SHAPE)),
        ]
        checks.append(
            PULL.judge(
                capacity=action.sheet.f_y * action.t, demand=max(0.0, found.edge_pull), required=required, unit="N/mm",
                trace=hard,
                note="the seam along the edge carries this pull across it as well: give it to its spots",
            )
        )  # fmt: skip
    if found.snaps:
        checks.append(
            SNAP.info(
                trace=trace,
                note="the panel jumps on its way to this load: it drums and oil-cans; take shallower or more beads, or "
                "turn their crowns the other way",
            )
        )  # fmt: skip
    return checks
