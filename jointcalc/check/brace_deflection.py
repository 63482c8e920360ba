"""How far a brace bends, against the builder's own limit."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from jointcalc.check.brace_action import BraceAction
from jointcalc.check.brace_base import DEFLECTION
from jointcalc.check.common import Steps
from jointcalc.formula import web_en1993
from jointcalc.formula.core import Evaluation
from jointcalc.result import Check, Stated
from jointcalc.statics.beam import Extreme, solve

SAG = 200.0
"""Part of the span beyond which a deflection is told where no limit was given: common practice, no source."""


@dataclass(frozen=True, eq=False)
class Bent:
    """How far the brace bends: gross and in service, and what the builder's limit says."""

    action: BraceAction
    softer: float
    """How many times farther a profile askew bends than about its level axis."""

    @cached_property
    def _deepest(self) -> Extreme:
        return self.action.beam.deflection_max()

    @property
    def gross(self) -> float:
        """Greatest deflection of the gross section [mm]."""
        return abs(float(self._deepest.value)) * self.softer

    @property
    def at(self) -> float:
        """Where that is [mm]."""
        return float(self._deepest.at)

    @cached_property
    def service(self) -> float:
        """Greatest deflection with what works of the section in service [mm]."""
        brace = self.action.brace
        if not self.working:
            return self.gross
        EI = self.action.E * float(self.working[0].value)
        beam = solve(brace.length, EI, brace.supports, brace.loads)
        return abs(float(beam.deflection_max().value)) * self.softer

    @cached_property
    def working(self) -> tuple[Evaluation, ...]:
        """The least second moment in service (EN 1993-1-3 7.1), where some of the section does not work."""
        action = self.action
        if not action.steel or not all(sheet.has_yield for sheet in action.brace.sheets):
            return ()
        least: Evaluation | None = None
        for word, M, face in (
            ("sagging", action.sag, action.face("top")),
            ("hogging", action.hog, action.face("bottom")),
        ):
            if not M or not word:
                continue
            e = action.effective("en", face)
            I_eff = float(e.I_y[0])
            if I_eff >= action.I_y * (1 - 1e-12):
                continue
            fic = web_en1993.SERVICE_SECOND_MOMENT.evaluate(
                I_gr=action.I_y, I_eff=I_eff, sigma_gr=min(M / action.modulus(face), action.f_y), sigma=action.f_y
            )
            if least is None or float(fic.value) < float(least.value):
                least = fic
        return () if least is None else (least,)

    def checks(self) -> list[Check]:
        """Deflection against the builder's limit; empty where he gave none."""
        limit = self.action.brace.deflection_limit()
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
