"""What the rules of a panel share: sources, factors, words, and the lines that lead to its stiffnesses."""

from __future__ import annotations

from jointcalc.check.panel_action import PanelAction
from jointcalc.formula import bead as bead_formulas
from jointcalc.formula import plate as plate_formulas
from jointcalc.formula.core import Evaluation, Source
from jointcalc.formula.safety import GAMMA_M0, GAMMA_M1, GAMMA_M_OTHER
from jointcalc.result import Looked, Stated
from jointcalc.result.factor import partial
from jointcalc.statics.bead import Strip

YIELD, BUCKLING = "first yield", "elastic buckling stress"
PARTIAL_0 = partial("γ_M0", GAMMA_M0, GAMMA_M_OTHER)
PARTIAL_1 = partial("γ_M1", GAMMA_M1, GAMMA_M_OTHER)
LINEAR_YIELD = "first yield in linear bending, no failure of a floor"
SERIES = Source("Orthotropic plate, Navier's series or Ritz's method", "", "derivation",
                "held to the classic tables of flat plates")  # fmt: skip
SHAPE = Source("Large-deflection finite elements of the panel's own shape", "", "computed",
               "discrete Kirchhoff and optimal membrane triangles; held to Levy's plates and an independent "
               "shell model")  # fmt: skip
Trace = list[Evaluation | Looked | Stated]
NO_YIELD = "the grade's standard lets no yield strength be assumed; state 'yield_strength'"
FOOT_WORDS = "the load is taken to stand on {:g}; state 'patch_size'"
NO_BALANCE = "no equilibrium was found under these loads, however small the steps"


def stiffness_trace(action: PanelAction) -> Trace:
    """Lines of the working that lead to the stiffnesses."""
    strip = action.panel.strip
    if strip is None:
        return [plate_formulas.FLEXURAL_RIGIDITY.evaluate(**action.plate)]
    if action.panel.cross_strip is not None:
        return _crossed_trace(action, strip, action.panel.cross_strip)
    pitch = {**action.plate, "p": strip.bead.pitch, "L": strip.length}
    return [
        Stated("L", "mm", strip.length, f"developed length of one pitch of {strip.bead}"),
        Stated("I_along", "mm^3", strip.I_along, "second moment of one pitch over the pitch (mm^4/mm)"),
        bead_formulas.RIGIDITY_ALONG.evaluate(E=action.E, I=strip.I_along),
        bead_formulas.RIGIDITY_ACROSS.evaluate(**pitch),
        bead_formulas.RIGIDITY_COUPLING.evaluate(**pitch),
        bead_formulas.RIGIDITY_TWISTING.evaluate(**pitch),
    ]


def _crossed_trace(action: PanelAction, one: Strip, two: Strip) -> Trace:
    """The same of beads that cross."""
    flat = plate_formulas.FLEXURAL_RIGIDITY.evaluate(**action.plate)
    alone = bead_formulas.RIGIDITY_ALONG(E=action.E, I=one.I_along)
    crossed = {"D": float(flat.value), "p": two.bead.pitch, "b": two.bead.width, "L_b": two.bead_length}
    words = "as above where they run through; where they stop short they count for nothing"
    return [
        flat,
        Stated("D_b", "N*mm", float(alone), f"along {one.bead}, where nothing crosses it"),
        bead_formulas.RIGIDITY_CROSSED.evaluate(D_b=float(alone), **crossed),
        Stated("D_y", "N*mm", action.rigidity.D_y, f"along {two.bead}; {words}", str(bead_formulas.CROSSED)),
    ]
