"""The sheet of a row of plugs or arc spots: from weld to end, and its section through the row."""

from __future__ import annotations

from jointcalc.check.common import CHARACTERISTIC, NOMINAL, PARTIAL, cores
from jointcalc.check.plug_base import PlugAction, carbon_only, judged_or_bound, known, steel_only, strength
from jointcalc.formula import arc_spot_aisi as aisi
from jointcalc.formula import lap, spot_aisi, spot_en1993
from jointcalc.formula.safety import GAMMA_M0, GAMMA_M_OTHER
from jointcalc.model.plug import PlugRow
from jointcalc.result import Check, Stated, method
from jointcalc.result.factor import omega, partial

EN_NET = method(
    "en1993-1-3.plug-net-section",
    "Net section across the row",
    spot_en1993.EN,
    per="seam",
    basis=CHARACTERISTIC,
    factor=PARTIAL,
    covers=("sheet-across",),
)
EN_YIELD_ACROSS = method(
    "en1993-1-3.plug-yield-across",
    "Yield of the sheet across the row",
    lap.YIELD,
    per="seam",
    basis=CHARACTERISTIC,
    factor=partial("γ_M0", GAMMA_M0, GAMMA_M_OTHER),
    covers=("sheet-across",),
)
EN_TOGETHER = method(
    "en1993-1-1.plug-yield-together",
    "Yield of the sheet, both together",
    lap.TOGETHER,
    per="seam",
    basis=CHARACTERISTIC,
    factor=partial("γ_M0", GAMMA_M0, GAMMA_M_OTHER),
)
EN_YIELD_ALONG = method(
    "en1993-1-3.plug-yield-along",
    "Shear yield of the sheet along the row",
    lap.YIELD,
    per="seam",
    basis=CHARACTERISTIC,
    factor=partial("γ_M0", GAMMA_M0, GAMMA_M_OTHER),
    covers=("sheet-along",),
)
AISI_END = method(
    "aisi-s100.plug-tear-out",
    "Tear-out to the end",
    aisi.RUPTURE,
    per="weld",
    basis=NOMINAL,
    factor=omega(aisi.OMEGA_RUPTURE, words="Ω = {}, welded"),
)
AISI_ROW = method(
    "aisi-s100.plug-row-rupture",
    "Shear rupture along the row",
    spot_aisi.RUPTURE,
    per="seam",
    basis=NOMINAL,
    factor=omega(aisi.OMEGA_RUPTURE, words="Ω = {}, welded"),
    covers=("sheet-along",),
)


def sheets_of_row(action: PlugAction) -> list[Check]:
    """Sheet between weld and end, and the sheet's section through the row."""
    row = action.row
    steel, carbon = steel_only(row), carbon_only(row)
    checks: list[Check] = []
    d, size = row.diameter, row.overall
    for e, half, force, where in (
        (row.actual_end, size / 2, action.along, "along"),
        (row.edge, d / 2, action.across, "across"),
    ):
        if not force:
            continue
        weak = min(row.sheets, key=lambda s: s.t * strength(s))
        checks.append(
            judged_or_bound(
                AISI_END,
                aisi.SHEET_END_RUPTURE,
                {"F_u": strength(weak), "t": weak.t, "e_net": e - half},
                demand=force,
                load_factor=row.load_factor,
                before=[*known((weak,))],
                after=[action.how],
                reasons=carbon,
                where=where,
                covers=(f"end-{where}",),
            )
        )
    rows = (
        (EN_NET, spot_en1993.NET_SECTION, row.across, "A_net"),
        (AISI_ROW, spot_aisi.SHEAR_RUPTURE, row.shear, "A_nv"),
    )
    for rule, formula, force, symbol in rows:
        if not force:
            continue
        weak = min(row.sheets, key=lambda s: s.t * strength(s))
        net = lap.NET_AREA.evaluate(t=weak.t, L=row.length, n=float(row.along), d=size)
        inputs = {symbol: float(net.value), "f_u": strength(weak), "t": weak.t, "t_1": weak.t}
        checks.append(
            judged_or_bound(
                rule,
                formula,
                inputs,
                demand=abs(force),
                load_factor=row.load_factor,
                before=[*known((weak,)), net],
                after=[],
                reasons=carbon if rule is AISI_ROW else steel,
            )
        )
    checks += _yields(row, steel)
    if not steel:
        stainless = any(s.material.family == "stainless" for s in row.sheets)
        checks += action.shares.strip_yields((GAMMA_M_OTHER if stainless else GAMMA_M0) * row.load_factor)
    return checks


def _yields(row: PlugRow, steel: list[str]) -> list[Check]:
    """Yield of the gross sheet: the weaker of the sheets, away from the welds."""
    checks: list[Check] = []
    for rule, formula, force in (
        (EN_YIELD_ACROSS, lap.YIELD_ACROSS, row.across),
        (EN_YIELD_ALONG, lap.YIELD_ALONG, row.shear),
        (EN_TOGETHER, lap.COMPARISON_STRESS, row.shear and row.across),
    ):
        if not force:
            continue
        unknown = [] if all(s.has_yield for s in row.sheets) else ["needs the yield strength of every sheet"]
        if steel or unknown:
            checks.append(rule.outside([*steel, *unknown], demand=None if rule is EN_TOGETHER else abs(force)))
            continue
        weak = min(row.sheets, key=lambda s: s.t * s.f_y)
        stainless = any(s.material.family == "stainless" for s in row.sheets)
        if rule is EN_TOGETHER:
            section = weak.t * row.length
            stress = formula.evaluate(sigma_x=0.0, sigma_z=abs(row.across) / section, tau=abs(row.shear) / section)
            checks.append(
                rule.judge(
                    capacity=weak.f_y,
                    demand=float(stress.value),
                    required=(GAMMA_M_OTHER if stainless else GAMMA_M0) * row.load_factor,
                    unit="MPa",
                    trace=[*cores((weak,)), stress, Stated("f_y", "MPa", weak.f_y, "yield strength of that sheet")],
                )
            )
            continue
        gross = formula.evaluate(t=weak.t, L=row.length, f_y=weak.f_y)
        checks.append(
            rule.judge(
                capacity=float(gross.value),
                demand=abs(force),
                required=(GAMMA_M_OTHER if stainless else GAMMA_M0) * row.load_factor,
                trace=[*cores((weak,)), gross],
            )
        )
    return checks
