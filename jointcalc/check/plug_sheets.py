"""The sheet of a row of plugs or arc spots: from weld to end, and its section through the row."""

from __future__ import annotations

from jointcalc.check.common import CHARACTERISTIC, NOMINAL, PARTIAL, YIELDS
from jointcalc.check.plug_base import PlugAction, carbon_only, judged_or_bound, known, steel_only, strength
from jointcalc.check.row_yield import yields, yields_together
from jointcalc.formula import arc_spot_aisi as aisi
from jointcalc.formula import lap, spot_aisi, spot_en1993
from jointcalc.model.plug import PlugRow
from jointcalc.result import Check, method
from jointcalc.result.factor import omega

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
    factor=YIELDS,
    covers=("sheet-across",),
)
EN_TOGETHER = method(
    "en1993-1-1.plug-yield-together",
    "Yield of the sheet, both together",
    lap.TOGETHER,
    per="seam",
    basis=CHARACTERISTIC,
    factor=YIELDS,
)
EN_YIELD_ALONG = method(
    "en1993-1-3.plug-yield-along",
    "Shear yield of the sheet along the row",
    lap.YIELD,
    per="seam",
    basis=CHARACTERISTIC,
    factor=YIELDS,
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
        checks += action.shares.strip_yields()
    return checks


def _yields(row: PlugRow, steel: list[str]) -> list[Check]:
    """Yield of the gross sheet, away from the welds: across the row, along it, and both together."""
    checks: list[Check] = []
    for rule, formula, force in (
        (EN_YIELD_ACROSS, lap.YIELD_ACROSS, row.across),
        (EN_YIELD_ALONG, lap.YIELD_ALONG, row.shear),
    ):
        if force and steel:
            checks.append(rule.outside(steel, demand=abs(force)))
        elif force:
            checks.append(
                yields(rule, formula, row.sheets, length=row.length, demand=abs(force), load_factor=row.load_factor)
            )
    if row.shear and row.across and not steel:
        checks.append(
            yields_together(
                EN_TOGETHER, row.sheets, length=row.length, shear=row.shear, pull=row.across, compression=0.0,
                load_factor=row.load_factor,
            )
        )  # fmt: skip
    return checks
