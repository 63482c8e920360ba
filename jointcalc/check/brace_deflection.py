"""How far a brace bends, against the builder's own limit."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from jointcalc.check.brace_action import Array, BraceAction
from jointcalc.check.brace_base import DEFLECTION
from jointcalc.check.common import Steps
from jointcalc.formula import web_en1993
from jointcalc.formula.core import Evaluation
from jointcalc.result import Check, Stated
from jointcalc.section.families.tube import Bar
from jointcalc.section.shear_area import shear_area
from jointcalc.statics.beam import Beam, Extreme, solve

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
        """Greatest deflection of the gross section by bending [mm]."""
        return abs(float(self._deepest.value)) * self.softer

    @property
    def at(self) -> float:
        """Where that is [mm]."""
        return float(self._deepest.at)

    @property
    def service(self) -> float:
        """Greatest deflection with what works of the section in service, by bending and shear [mm]."""
        return max(self._bending, float(np.abs(self._along + self._sheared).max()))

    @property
    def by_shear(self) -> float:
        """What shear adds to the greatest deflection [mm]."""
        return self.service - self._bending

    @property
    def _bending(self) -> float:
        """Greatest deflection by bending alone [mm]."""
        return abs(float(self._served.deflection_max().value)) * self.softer

    @cached_property
    def _served(self) -> Beam:
        """The beam with what works of the section in service."""
        brace = self.action.brace
        if not self.working:
            return self.action.beam
        EI = self.action.E * float(self.working[0].value)
        return solve(brace.length, EI, brace.supports, brace.loads)

    @property
    def _along(self) -> Array:
        return np.asarray(self._served.deflection(self.action.places)) * self.softer

    @cached_property
    def _sheared(self) -> Array:
        """Deflection by shear at every place looked at [mm]: that of a beam of webs, turned onto its supports."""
        action, p = self.action, self.action.p
        x, beam = action.places, action.beam
        A_s = action.section.once(
            "shear area",
            # a flat bar's mid-line has no shear flow: the rectangle's 5/6 (Timoshenko)
            lambda: float(p.area[0]) * 5 / 6 if isinstance(action.family, Bar) else shear_area(p, 0.0, 1.0),
        )
        V = (np.asarray(beam.shear(x[:-1], "right")) + np.asarray(beam.shear(x[1:], "left"))) / 2
        w = np.concatenate([[0.0], np.cumsum(V * np.diff(x))]) / (action.G * A_s)
        at = [one.at for one in action.brace.supports]
        return np.asarray(w - np.interp(x, at, np.interp(at, x, w)))

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
        trace.append(Stated("δ_V", "mm", self.by_shear, "by shear, from the energy of its shear flow"))
        return [
            DEFLECTION.judge(
                capacity=most,
                demand=self.service,
                unit="mm",
                trace=[*trace, Stated("δ_lim", "mm", most, how)],
                note="" if not self.working else "with the section that works in service",
            )
        ]
