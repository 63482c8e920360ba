"""The sheets of a spot seam through the row: net section, yield, and rupture along the row."""

from __future__ import annotations

from jointcalc.check.common import CHARACTERISTIC, PARTIAL, YIELDS
from jointcalc.check.row_yield import yields, yields_together
from jointcalc.check.seam_base import EN, SeamAction, not_carbon_steel, tensile
from jointcalc.formula import lap, spot_aisi, spot_en1993
from jointcalc.formula.branch import at_least
from jointcalc.formula.core import Evaluation, Formula
from jointcalc.model.seam import SpotSeam
from jointcalc.result import Check, method
from jointcalc.result.factor import omega

EN_NET = method(
    "en1993-1-3.net-section", "Net section across the seam", EN, per="seam", basis=CHARACTERISTIC, factor=PARTIAL
)
EN_YIELD_ACROSS = method(
    "en1993-1-3.yield-across",
    "Yield of the sheet across the seam",
    lap.YIELD,
    per="seam",
    basis=CHARACTERISTIC,
    factor=YIELDS,
)
EN_YIELD_ALONG = method(
    "en1993-1-3.yield-along",
    "Shear yield of the sheet along the seam",
    lap.YIELD,
    per="seam",
    basis=CHARACTERISTIC,
    factor=YIELDS,
)
EN_TOGETHER = method(
    "en1993-1-1.yield-together",
    "Yield of the sheet, all together",
    lap.TOGETHER,
    per="seam",
    basis=CHARACTERISTIC,
    factor=YIELDS,
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
    given = {"length": seam.length, "load_factor": seam.load_factor}

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
        checks.append(yields(EN_YIELD_ACROSS, lap.YIELD_ACROSS, seam.sheets, demand=action.pull, **given))
    if seam.shear:
        demand = abs(seam.shear)
        checks.append(yields(EN_YIELD_ALONG, lap.YIELD_ALONG, seam.sheets, demand=demand, **given))
        checks += action.shares.strip_yields()
        pair = net(spot_aisi.SHEAR_RUPTURE, "A_nv")
        checks.append(
            AISI_RUPTURE.outside(stranger, demand=demand, trace=pair)
            if stranger
            else AISI_RUPTURE.judge(capacity=float(pair[1].value), demand=demand, trace=pair)
        )
    if (seam.shear != 0) + (action.pull != 0) + (seam.compression is not None) > 1:
        compression = seam.compression or 0.0
        checks.append(
            yields_together(
                EN_TOGETHER, seam.sheets, shear=seam.shear, pull=action.pull, compression=compression, **given
            )
        )
    return checks


def _spots_against_net(seam: SpotSeam, net: float) -> str:
    """The condition sum F_v >= 1.25 F_n of Table 8.5 in words: which of the two gives way first."""
    spots = seam.standing * float(spot_en1993.SPOT_SHEAR(d_s=seam.d, f_u=min(tensile(s) for s in seam.sheets)))
    if at_least(spots, spot_en1993.DUCTILE * net):
        return f"ΣF_v ≥ {spot_en1993.DUCTILE:g} F_n is met: the sheet gives way before the spots"
    return (
        f"ΣF_v is under {spot_en1993.DUCTILE:g} F_n: the spots or the sheet round them give way before the section does"
    )
