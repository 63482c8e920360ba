"""Pass marks of coupons, and what the tests by name say of a set of them."""

from __future__ import annotations

from functools import lru_cache

from jointcalc.check.common import LIMIT
from jointcalc.check.coupon_limits import SIGNIFICANT, Sample
from jointcalc.check.seam_base import tensile
from jointcalc.check.seam_charts import d8_floor
from jointcalc.formula import coupon_design, spot_d8_1, spot_size
from jointcalc.formula.branch import at_least, below
from jointcalc.formula.core import Evaluation
from jointcalc.model.coupon_log import Coupon, Group
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.sentence import mm, newtons
from jointcalc.result import Check, Method, caution, method
from jointcalc.result.cautions import Caution
from jointcalc.tables.store import load

MARK = "pass mark"
COUNT = method(
    "aisi-s100.coupon-count",
    "Coupons enough for a conclusion",
    coupon_design.AISI,
    per="group",
    basis="number of tests",
    bound="least",
    factor=LIMIT,
)
BUTTON = method(
    "d8.1m.coupon-button",
    "Smallest button or section",
    spot_size.D8_1,
    per="spot",
    basis=MARK,
    bound="least",
    factor=LIMIT,
)
SHEAR_FLOOR = method(
    "d8.1m.coupon-shear",
    "Weakest shear coupon",
    spot_d8_1.ST,
    per="spot",
    basis=MARK,
    bound="least",
    factor=LIMIT,
)
CROSS_FLOOR = method(
    "d8.1m.coupon-cross",
    "Weakest cross-tension coupon",
    spot_d8_1.CT,
    per="spot",
    basis=MARK,
    bound="least",
    factor=LIMIT,
)
OVER_STRENGTH = 2.0
"""What sheet may be above the least of its grade, at the very most: common practice, no source."""
LARGE_BUTTON = 8.0
"""Diameter over the root of the thickness [mm^0.5] beyond which no button is a spot's: common practice, no source."""
FEW = 6
"""Coupons below which they are a screening (common practice, no source)."""


def sample_of(group: Group) -> Sample:
    """The loads of a group with the days they were made."""
    return _sample(group)


@lru_cache(maxsize=256)
def _sample(group: Group) -> Sample:
    loaded = group.loaded
    return Sample(
        tuple(float(c.load or 0.0) for c in loaded),
        tuple(" ".join((c.date.isoformat(), c.machine, c.setting)) for c in loaded),
        tuple(float(c.date.toordinal()) for c in loaded),
    )


def governing(sheets: tuple[Sheet, ...]) -> float:
    """Thickness a spot is sized for [mm]: the thinner of two sheets, the second thickest of three (AWS D8.1M)."""
    ordered = sorted(sheet.t for sheet in sheets)
    return ordered[0] if len(ordered) == 2 else ordered[1]


def marks(group: Group, sheets: tuple[Sheet, ...]) -> list[Check]:
    """Every button and every load against what the standard asks of the worst of them."""
    t = governing(sheets)
    checks = []
    if group.measured:
        mark = spot_size.USUAL.evaluate(t=t)
        least = min(float(c.button or 0.0) for c in group.measured)
        checks.append(
            BUTTON.judge(
                capacity=least, demand=float(mark.value), required=1.0, unit="mm", trace=[mark],
                note=f"of {len(group.measured)}; a machine is set up for {mm(float(spot_size.TARGET(t=t))):.3g}",
            )
        )  # fmt: skip
    carbon = all(sheet.material.family == "steel" for sheet in sheets)
    if carbon and group.loaded and group.test in ("shear", "cross"):
        floor, rule = _floor(group.test, sheets, t)
        if isinstance(floor, str):
            checks.append(rule.outside(floor))
        else:
            least = min(float(c.load or 0.0) for c in group.loaded)
            checks.append(
                rule.judge(
                    capacity=least, demand=float(floor.value), required=1.0, trace=[floor],
                    note=f"of {len(group.loaded)}; a floor of quality for a 4√t spot, no service strength",
                )
            )  # fmt: skip
    return checks


def mark_of(test: str, sheets: tuple[Sheet, ...]) -> float | None:
    """Least load [N] of each coupon of that test; None where the standard gives none for these sheets."""
    if any(sheet.material.family != "steel" for sheet in sheets):
        return None
    floor, _ = _floor(test, sheets, governing(sheets))
    return None if isinstance(floor, str) else float(floor.value)


def _floor(test: str, sheets: tuple[Sheet, ...], t: float) -> tuple[Evaluation | str, Method]:
    f_u = min(tensile(sheet) for sheet in sheets)
    if test == "shear":
        used, thin, _ = d8_floor(t, spot_d8_1.SHEAR_TENSION)
        return ("; ".join(thin) or spot_d8_1.SHEAR_TENSION.evaluate(t=used, S=f_u)), SHEAR_FLOOR
    used, thin, _ = d8_floor(t, spot_d8_1.CROSS_TENSION)
    cross = spot_d8_1.CROSS_TENSION.evaluate(t=used)
    shear = spot_d8_1.SHEAR_TENSION.evaluate(t=used, S=f_u)
    lower = shear if below(float(shear.value), float(cross.value)) else cross
    return ("; ".join(thin) or lower), CROSS_FLOOR


def broke_through(coupon: Coupon) -> bool:
    """Whether a coupon broke through its weld by the word of its mode."""
    return coupon.mode.strip().lower().startswith("interf")


def failed_marks(group: Group, checks: list[Check]) -> list[Caution | str]:
    """How many coupons miss each mark that the worst of them misses."""
    raised: list[Caution | str] = []
    for check in checks:
        if check.status != "over" or check.method not in (BUTTON, SHEAR_FLOOR, CROSS_FLOOR) or check.demand is None:
            continue
        mark = check.demand.value or 0.0
        found = [c.button for c in group.measured] if check.method is BUTTON else [c.load for c in group.loaded]
        missed = sum(not at_least(float(value or 0.0), mark) for value in found)
        told = f"{mm(mark):.3g}" if check.method is BUTTON else f"{newtons(mark):.4g}"
        raised.append(caution("coupons-under-mark", n=missed, of=len(found), mark=f"{told} ({check.source})"))
    return raised


def beyond_belief(group: Group) -> list[Caution | str]:
    """Loads that the strips of a coupon cannot carry, and buttons that no spot of this sheet leaves."""
    sheets = group.stack.sheets
    if not sheets:
        return []
    raised: list[Caution | str] = []
    thin = min(sheets, key=lambda sheet: sheet.t * sheet.f_u)
    rows = load("coupon_iso14273").rows
    width = next((r for r in rows if at_least(r.need("t_to"), thin.t)), rows[-1]).need("width")
    most = OVER_STRENGTH * width * thin.t * thin.f_u
    if group.loaded and (greatest := max(float(c.load or 0.0) for c in group.loaded)) > most:
        told = {"load": f"{newtons(greatest):.4g}", "most": f"{newtons(most):.3g}", "width": f"{mm(width):g}"}
        raised.append(caution("coupon-loads-large", **told))
    largest = LARGE_BUTTON * governing(sheets) ** 0.5
    buttons = [float(c.button or 0.0) for c in group.measured]
    if not group.of_arc_weld and buttons and max(buttons) > largest:
        raised.append(caution("coupon-buttons-large", d=f"{mm(max(buttons)):.3g}", largest=f"{mm(largest):.3g}"))
    return raised


def of_sample(sample: Sample) -> list[Caution | str]:
    """What the tests by name say against taking the coupons as one set."""
    raised: list[Caution | str] = []
    if sample.n >= coupon_design.LEAST_TESTS and not sample.deviation:
        raised.append(caution("coupons-alike", n=sample.n, load=f"{newtons(sample.mean):.4g}"))
    if sample.differing:
        raised.append("coupons-differ")
    if sample.falling:
        raised.append("coupons-fall")
    if sample.outlier is not None and sample.outlier[1] > sample.outlier[2]:
        raised.append(caution("coupon-outlier", load=f"{newtons(sample.outlier[0]):.4g}"))
    doubts = [
        f"{name} {level:.2g}"
        for name, level in (("Anderson-Darling", sample.normality), ("Shapiro-Wilk", sample.shapiro))
        if level is not None and level < SIGNIFICANT
    ]
    if doubts:
        raised.append(caution("coupons-not-normal", test=", ".join(doubts)))
    return raised
