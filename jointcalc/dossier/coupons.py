"""What the log of coupons shows of an item, for its evidence: each set of its stack in a line, and drawn."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from jointcalc.dossier.common import Data
from jointcalc.dossier.words import amount, breakable, clean
from jointcalc.model.row import WeldRow
from jointcalc.quantity.show import System, show_in
from jointcalc.result import Result

if TYPE_CHECKING:
    from jointcalc.dossier.figures.canvas import Picture

VERDICT = {"ok": "passed", "over": "NOT PASSED", "outside": "NO CONCLUSION"}
LIMITS = ("normal_90_95", "lognormal_90_95", "weibull_90_95", "rank_90_95", "anova_90_95")


def sets_of(item: Any) -> tuple[Result, ...]:
    """The sets of the item's stack and machine, judged; none for what is not welded in rows, or has no log."""
    if not isinstance(item, WeldRow) or item.tested is None:
        return ()
    from jointcalc.check.coupons import check_group

    row: Any = item  # each sort of row has its own stack
    return tuple(check_group(group) for group in item.tested.of(row.sheets, turned=item.kind == "spot_seam"))


def logged(item: Any, system: System) -> list[Data]:
    """The records of an item that follow from the log, as `dossier.evidence` has them."""
    return [
        {"sort": "Coupons in the log", "text": breakable(_text(result, system)), "photo": "", "caption": ""}
        for result in sets_of(item)
    ]


def _text(result: Result, system: System) -> str:
    group, values = result.model, result.values

    def told(name: str) -> str:
        found = values.get(name)
        return "" if found is None or found.value is None else amount(show_in(found.value, found.unit, system))

    parts = [f"{len(group.coupons)} {group.test} of {group.dates}, {VERDICT[result.status]}"]
    parts += [clean(name) for name in (group.first.machine, group.first.setting) if name]
    if told("button_least"):
        parts.append(f"buttons {told('button_mean')} in the mean, {told('button_least')} at least")
    if told("mean"):
        parts.append(f"loads {told('mean')} in the mean, deviation {told('deviation') or '-'}, least {told('least')}")
    limits = [values[name].value for name in LIMITS if name in values and values[name].value is not None]
    if limits:
        low = min(v for v in limits if v is not None)
        parts.append(
            f"passed by 90 of 100 with 95 % confidence: {told('normal_90_95') or '-'} (normal), "
            f"{amount(show_in(low, 'N', system))} (lowest of {len(limits)} ways)"
        )
    if told("en1990_characteristic"):
        parts.append(f"5 % value by EN 1990 {told('en1990_characteristic')}")
    parts += [str(why) for why in result.unjudged]
    return "; ".join(parts)


def drawn(item: Any, system: System) -> list[Picture]:
    """The loads of its sets over time; nothing is imported for an item without any."""
    sets = sets_of(item)
    if not sets:
        return []
    from jointcalc.dossier.figures.coupons import draw_coupons

    return [picture for result in sets if (picture := draw_coupons(result, system)) is not None]
