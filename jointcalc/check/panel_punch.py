"""A panel sheared through round what stands on it: the load over the edge of its foot, against yield in shear.

Bending and stretching of thin sheet come first under anything as large as a heel; a rod, a peg or a foot on thick plate
goes through.
"""

from __future__ import annotations

from jointcalc.check.panel_action import PanelAction
from jointcalc.check.panel_base import FOOT_WORDS, NO_YIELD, PARTIAL_0, YIELD
from jointcalc.formula import panel as formulas
from jointcalc.quantity.sentence import mm
from jointcalc.result import Check, Stated, method

PUNCHING = method("plate.punching", "Sheared through round the load", formulas.MISES, per="member", basis=YIELD,
                  factor=PARTIAL_0)  # fmt: skip


def punched(action: PanelAction) -> list[Check]:
    """The check; empty where no force stands on the panel."""
    panel = action.panel
    if not panel.patch:
        return []
    if not action.sheet.has_yield:
        return [PUNCHING.outside(NO_YIELD, unit="MPa")]
    one, other = panel.foot
    flow = Stated("q", "N/mm", panel.patch / (2 * (one + other)), f"over the edge of {mm(one, ' x ', other):g}")
    stress = formulas.SHEAR_STRESS.evaluate(q=flow.value, t=action.t)
    most = formulas.SHEAR_YIELD.evaluate(f_y=action.sheet.f_y)
    note = FOOT_WORDS.format(mm(one, " x ", other)) if panel.patch_size is None else ""
    return [
        PUNCHING.judge(
            capacity=float(most.value), demand=float(stress.value), required=action.gamma_M0 * action.gamma,
            unit="MPa", trace=[flow, stress, most], note=note,
        )
    ]  # fmt: skip
