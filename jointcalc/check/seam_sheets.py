"""The sheets of a spot seam through the row: net section, yield, and rupture along the row."""

from __future__ import annotations

from jointcalc.check.common import CHARACTERISTIC, PARTIAL, cores
from jointcalc.check.peel import NO_YIELD, gamma_M0
from jointcalc.check.seam_base import EN, SeamAction, judged_or_bound, not_carbon_steel, tensile
from jointcalc.formula import lap, spot_aisi, spot_en1993
from jointcalc.formula.branch import at_least
from jointcalc.formula.core import Evaluation, Formula
from jointcalc.formula.safety import GAMMA_M0, GAMMA_M_OTHER
from jointcalc.model.seam import SpotSeam
from jointcalc.model.sheet import Sheet
from jointcalc.result import Check, Method, Stated, method
from jointcalc.result.factor import omega, partial

EN_NET = method(
    "en1993-1-3.net-section", "Net section across the seam", EN, per="seam", basis=CHARACTERISTIC, factor=PARTIAL
)
EN_YIELD_ACROSS = method(
    "en1993-1-3.yield-across",
    "Yield of the sheet across the seam",
    lap.YIELD,
    per="seam",
    basis=CHARACTERISTIC,
    factor=partial("γ_M0", GAMMA_M0, GAMMA_M_OTHER),
)
EN_YIELD_ALONG = method(
    "en1993-1-3.yield-along",
    "Shear yield of the sheet along the seam",
    lap.YIELD,
    per="seam",
    basis=CHARACTERISTIC,
    factor=partial("γ_M0", GAMMA_M0, GAMMA_M_OTHER),
)
EN_TOGETHER = method(
    "en1993-1-1.yield-together",
    "Yield of the sheet, all together",
    lap.TOGETHER,
    per="seam",
    basis=CHARACTERISTIC,
    factor=partial("γ_M0", GAMMA_M0, GAMMA_M_OTHER),
)
AISI_RUPTURE = method(
    "aisi-s100.shear-rupture",
    "Shear rupture along the row",
    spot_aisi.RUPTURE,
    per="seam",
    basis="nominal",
    factor=omega(spot_aisi.OMEGA_RUPTURE_WELDED, words="Ω = {}, welded"),
)


def sheets_through_row(action: SeamAction) -> list[Check]:
    """The sheets themselves across and along the row; the weakest governs.

    The middle one of three carries all of it when the outer two pull the other way.
    """
    seam = action.seam
    checks: list[Check] = []
    stranger = not_carbon_steel(seam)
    partial, metal = gamma_M0(seam.sheets)
    partial *= seam.load_factor

    def yields(method: Method, formula: Formula, demand: float) -> Check:
        every = [formula.evaluate(t=s.t, f_y=s.f_y, L=seam.length) for s in seam.sheets if s.has_yield]
        if not every:
            return method.outside(NO_YIELD, demand=demand)
        least = min(every, key=lambda e: float(e.value))
        reasons = [NO_YIELD] if len(every) < len(seam.sheets) else []
        return judged_or_bound(
            method, reasons, capacity=float(least.value), demand=demand, required=partial, trace=[least], note=metal
        )

    def net(formula: Formula, area: str) -> tuple[Evaluation, Evaluation]:
        every = []
        for sheet in seam.sheets:
            left = lap.NET_AREA.evaluate(t=sheet.t, L=seam.length, n=seam.along, d=seam.d)
            every.append((left, formula.evaluate(**{area: float(left.value), "f_u": tensile(sheet)})))
        return min(every, key=lambda pair: float(pair[1].value))

    if action.pull:
        pair = net(spot_en1993.NET_SECTION, "A_net")
        together = _spots_against_net(seam, float(pair[1].value))
        thick = [sheet.t for sheet in seam.sheets]
        stop = spot_en1993.NET_SECTION.outside(t=min(thick), t_1=max(thick))
        stop += [stranger] if stranger else []
        checks.append(
            EN_NET.outside(stop, demand=action.pull, trace=pair)
            if stop
            else EN_NET.judge(
                capacity=float(pair[1].value),
                demand=action.pull,
                load_factor=seam.load_factor,
                trace=pair,
                note=f"spots deducted from the section, on the safe side; {together}",
            )
        )
        checks.append(yields(EN_YIELD_ACROSS, lap.YIELD_ACROSS, action.pull))
    if seam.shear:
        demand = abs(seam.shear)
        checks.append(yields(EN_YIELD_ALONG, lap.YIELD_ALONG, demand))
        checks += action.shares.strip_yields(partial, metal)
        pair = net(spot_aisi.SHEAR_RUPTURE, "A_nv")
        checks.append(
            AISI_RUPTURE.outside(stranger, demand=demand, trace=pair)
            if stranger
            else AISI_RUPTURE.judge(capacity=float(pair[1].value), demand=demand, trace=pair)
        )
    if (seam.shear != 0) + (action.pull != 0) + (seam.compression is not None) > 1:
        checks.append(_together(action, partial, metal))
    return checks


def _together(action: SeamAction, partial: float, metal: str) -> Check:
    """Shear along the seam, pull across it and compression along it, in the sheet nearest its yield."""
    seam = action.seam

    def stress(sheet: Sheet) -> Evaluation:
        section = sheet.t * seam.length
        return lap.COMPARISON_STRESS.evaluate(
            sigma_x=-(seam.compression or 0.0), sigma_z=action.pull / section, tau=abs(seam.shear) / section
        )

    every = [(float(stress(s).value) / s.f_y, s, stress(s)) for s in seam.sheets if s.has_yield]
    if not every:
        return EN_TOGETHER.outside(NO_YIELD, unit="MPa")
    _, weak, worst = max(every, key=lambda one: one[0])
    stands = Stated("f_y", "MPa", weak.f_y, "yield strength of that sheet")
    return judged_or_bound(
        EN_TOGETHER, [NO_YIELD] if len(every) < len(seam.sheets) else [], capacity=weak.f_y,
        demand=float(worst.value), required=partial, unit="MPa", trace=[*cores((weak,)), worst, stands], note=metal,
    )  # fmt: skip


def _spots_against_net(seam: SpotSeam, net: float) -> str:
    """The condition sum F_v >= 1.25 F_n of Table 8.5 in words: which of the two gives way first."""
    spots = seam.standing * float(spot_en1993.SPOT_SHEAR(d_s=seam.d, f_u=min(tensile(s) for s in seam.sheets)))
    if at_least(spots, spot_en1993.DUCTILE * net):
        return f"ΣF_v ≥ {spot_en1993.DUCTILE:g} F_n is met: the sheet gives way before the spots"
    return (
        f"ΣF_v is under {spot_en1993.DUCTILE:g} F_n: the spots or the sheet round them give way before the section does"
    )
