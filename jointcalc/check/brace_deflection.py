"""How far a brace bends, against the builder's own limit."""

from __future__ import annotations

from jointcalc.check.brace_base import DEFLECTION
from jointcalc.check.brace_state import State
from jointcalc.check.common import Steps
from jointcalc.formula import web_en1993
from jointcalc.formula.core import Evaluation
from jointcalc.result import Check, Stated
from jointcalc.statics.beam import solve

SAG = 200.0
"""Part of the span beyond which a deflection is told where no limit was given: common practice, no source."""


class Bent:
    """How far the brace bends: gross and in service, and what the builder's limit says.

    `softer` is how many times farther a profile askew bends than about its level axis.
    """

    def __init__(self, s: State, softer: float) -> None:
        self.s = s
        most = s.beam.deflection_max()
        self.softer = softer
        self.gross = abs(float(most.value)) * softer
        self.at = float(most.at)
        self.working: list[Evaluation] = []
        self.service = self._service() * softer

    def _service(self) -> float:
        s = self.s
        gross = abs(float(s.beam.deflection_max().value))
        if not s.steel or not all(sheet.has_yield for sheet in s.brace.sheets):
            return gross
        least: Evaluation | None = None
        for word, M, face in (("sagging", s.sag, s.face("top")), ("hogging", s.hog, s.face("bottom"))):
            if not M or not word:
                continue
            e = s.effective("en", face)
            I_eff = float(e.I_y[0])
            if I_eff >= s.I_y * (1 - 1e-12):
                continue
            fic = web_en1993.SERVICE_SECOND_MOMENT.evaluate(
                I_gr=s.I_y, I_eff=I_eff, sigma_gr=min(M / s.modulus(face), s.f_y), sigma=s.f_y
            )
            if least is None or float(fic.value) < float(least.value):
                least = fic
        if least is None:
            return gross
        self.working = [least]
        beam = solve(s.brace.length, s.E * float(least.value), s.brace.supports, s.brace.loads)
        return abs(float(beam.deflection_max().value))

    def checks(self) -> list[Check]:
        """Deflection against the builder's limit; empty where he gave none."""
        limit = self.s.brace.deflection_limit()
        if limit is None:
            return []
        most, how = limit
        trace: Steps = [*self.working]
        if self.softer > 1:
            trace.append(Stated("k", "1", self.softer, "bends askew: farther than about its level axis"))
        return [
            DEFLECTION.judge(
                capacity=most,
                demand=self.service,
                unit="mm",
                trace=[*trace, Stated("δ_lim", "mm", most, how)],
                note="" if not self.working else "with the section that works in service",
            )
        ]
