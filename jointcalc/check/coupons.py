"""A group of coupons as it stands in a log, judged: pass marks, limits of strength, and whether it is one set.

Every button is held against 4 sqrt(t), every load of a shear or cross-tension coupon against the floor of AWS D8.1M.
Fewer than three coupons are no conclusion (AISI S100 K2.1.1).  The mean is set beside what the handbook gives for such
a spot, through the very methods a seam is judged by.  A set is never cut down to what fits: outliers stay in.
"""

from __future__ import annotations

from functools import lru_cache

from jointcalc.check.common import LIMIT
from jointcalc.check.coupon_limits import CONTENTS, FAIR_BATCHES, SIGNIFICANT, Sample, Value
from jointcalc.check.seam import check_seam
from jointcalc.check.seam_base import IN_PLANE, MEAN, tensile
from jointcalc.check.seam_charts import GUARANTEED, d8_floor
from jointcalc.formula import coupon_design, spot_d8_1, spot_size
from jointcalc.formula.branch import at_least, below
from jointcalc.formula.core import Evaluation, Source
from jointcalc.model.coupon_log import Coupon, Group
from jointcalc.model.fields import build
from jointcalc.model.seam import SpotSeam
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.sentence import mm, newtons
from jointcalc.result import Amount, Check, Method, Result, caution, collect, method
from jointcalc.result.cautions import Caution

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
OWN_COUPONS = Source("your coupons", "", "computed")
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
        tuple(c.date.isoformat() for c in loaded),
        tuple(float(c.date.toordinal()) for c in loaded),
    )


def governing(sheets: tuple[Sheet, ...]) -> float:
    """Thickness a spot is sized for [mm]: the thinner of two sheets, the second thickest of three (AWS D8.1M)."""
    ordered = sorted(sheet.t for sheet in sheets)
    return ordered[0] if len(ordered) == 2 else ordered[1]


def check_group(group: Group) -> Result:
    """Judge one group of coupons."""
    sample = sample_of(group)
    spot = not group.of_arc_weld
    sheets = group.stack.sheets
    checks: list[Check] = []
    missing: list[str] = []
    counted = sample.n or len(group.measured)
    what = "loads" if sample.n else "buttons"
    if counted >= coupon_design.LEAST_TESTS:
        checks.append(
            COUNT.judge(
                capacity=float(counted), demand=float(coupon_design.LEAST_TESTS), required=1.0, unit="1", note=what
            )
        )
    else:
        more = coupon_design.LEAST_TESTS - counted
        missing.append(
            f"no conclusion from {counted} of these coupons: at least {more} more {'is' if more == 1 else 'are'} "
            f"needed for the three that AISI S100 K2.1.1 asks for, {FEW - counted} more for the six that are worth a "
            "factor"
        )
    if sample.n >= coupon_design.LEAST_TESTS and sample.normal("90_95").value is None:
        want = sample.needed(1e-6)
        more_told = "more than 300" if want is None else f"{want - sample.n} more"
        missing.append(
            f"no conclusion: these {sample.n} coupons scatter so much that no limit 90/95 is left; {more_told} would "
            "be needed if the scatter stays"
        )
    if spot and sheets:
        checks += _marks(group, sheets)
    return Result(
        kind="coupons",
        id=group.title,
        checks=tuple(checks),
        values=_values(group, sample),
        cautions=_cautions(group, sample, checks),
        unjudged=tuple(missing),
        about={"coupons": f"{len(group.coupons)} coupons of {group.dates}"},
        model=group,
    )


def _marks(group: Group, sheets: tuple[Sheet, ...]) -> list[Check]:
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


# --- beside the handbook ---------------------------------------------------------------------------------------------


def published(sheets: tuple[Sheet, ...], d: float | str) -> tuple[Check, ...]:
    """What the handbooks give for one such spot in shear: means, nominal values and guaranteed minimums that apply."""
    data = {
        "sheets": [{"thickness": s.thickness, "grade": s.grade, "coating": s.coating} for s in sheets],
        "weld_diameter": d, "count": 1, "length": 200.0, "edge": 60.0, "lap": 120.0, "shear": 1.0,
    }  # fmt: skip
    seam = build(SpotSeam, data)
    return tuple(
        c
        for c in check_seam(seam).checks
        if c.status in ("ok", "over")
        and c.per == "spot"
        and c.method.covers >= set(IN_PLANE)
        and c.method.basis in (MEAN, GUARANTEED, "nominal")
    )


@lru_cache(maxsize=256)
def handbook_of(group: Group) -> tuple[Check, ...]:
    """The same for the stack of a group, at the mean of its buttons, else at the set-up size; of shear coupons only."""
    if group.test != "shear" or group.of_arc_weld or not group.stack.sheets or len(group.stack.sheets) > 3:
        return ()
    buttons = [float(c.button) for c in group.measured if c.button]
    d: float | str = sum(buttons) / len(buttons) if buttons else "target"
    if isinstance(d, float) and not 0.5 <= d <= 30.0:
        return ()
    return published(group.stack.sheets, d)


def above_mean(group: Group) -> list[Check]:
    """The handbook's methods that give more than the mean of the coupons, the highest first."""
    mean = sample_of(group).mean if group.loaded else 0.0
    if not group.loaded:
        return []
    higher = [c for c in handbook_of(group) if c.capacity and not at_least(mean, c.capacity.value or 0.0)]
    return sorted(higher, key=lambda c: -(c.capacity.value or 0.0) if c.capacity else 0.0)


# --- what is printed ------------------------------------------------------------------------------------------------


def _values(group: Group, sample: Sample) -> dict[str, Amount]:
    none = "no load is given in these coupons"

    def amount(found: Value) -> Amount:
        return Amount(found.value, "N", found.note)

    values = {"n": Amount(float(sample.n), "1")}
    if sample.n:
        values["mean"] = Amount(sample.mean, "N")
        values["deviation"] = Amount(sample.deviation, "N") if sample.n > 1 else Amount(None, "N", "needs 2 coupons")
        values["variation"] = Amount(sample.variation if sample.n > 1 else None, "1")
        values["least"] = Amount(float(sample.x[0]), "N")
        for name in CONTENTS:
            for which in ("normal", "lognormal", "weibull", "rank", "anova"):
                values[f"{which}_{name}"] = amount(getattr(sample, which)(name))
        values["en1990_characteristic"] = amount(sample.characteristic)
        values["en1990_design"] = amount(sample.design)
        factor = sample.omega("arc_weld_shear" if group.of_arc_weld else "resistance_weld")
        values["aisi_omega"] = Amount(factor.value, "1", factor.note)
        values["aisi_allowable"] = Amount(sample.mean / factor.value if factor.value else None, "N", factor.note)
    else:
        names = [
            "mean",
            "deviation",
            *(f"{w}_{n}" for n in CONTENTS for w in ("normal", "lognormal", "weibull", "rank", "anova")),
        ]
        values |= {name: Amount(None, "N", none) for name in names}
    buttons = [float(c.button or 0.0) for c in group.measured]
    if buttons:
        values["buttons"] = Amount(float(len(buttons)), "1")
        values["button_mean"] = Amount(sum(buttons) / len(buttons), "mm")
        values["button_least"] = Amount(min(buttons), "mm")
    comparable = handbook_of(group)
    if comparable:
        top = max(comparable, key=lambda c: c.capacity.value or 0.0 if c.capacity else 0.0)
        assert top.capacity is not None
        values["handbook"] = Amount(top.capacity.value, "N", f"{top.title}, {top.source}")
    counted = sample.n or len(buttons)
    values["more_needed"] = Amount(float(max(0, coupon_design.LEAST_TESTS - counted)), "1", f"{FEW} are worth a factor")
    return values


def broke_through(coupon: Coupon) -> bool:
    """Whether a coupon broke through its weld by the word of its mode."""
    return coupon.mode.strip().lower().startswith("interf")


def _cautions(group: Group, sample: Sample, checks: list[Check]) -> tuple[Caution, ...]:
    raised: list[Caution | str] = []
    if (higher := above_mean(group)) and higher[0].capacity is not None:
        words = f"{newtons(higher[0].capacity.value or 0.0):.4g}"
        raised.append(
            caution("coupon-mean-low", mean=f"{newtons(sample.mean):.4g}", handbook=words, which=higher[0].title)
        )
    raised += failed_marks(group, checks)
    broken = sum(broke_through(c) for c in group.coupons)
    if broken:
        raised.append(caution("coupons-interfacial", n=broken, of=len(group.coupons)))
    counted = sample.n or len(group.measured)
    if coupon_design.LEAST_TESTS <= counted < FEW:
        raised.append(caution("coupons-few", n=counted))
    if sample.n:
        raised += of_sample(sample)
    if any(c.provenance == "from memory" for c in checks):
        raised.append("from-memory")
    return collect(raised)


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


def of_sample(sample: Sample) -> list[Caution | str]:
    """What the tests by name say against taking the coupons as one set."""
    raised: list[Caution | str] = []
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


__all__ = ["FAIR_BATCHES", "above_mean", "check_group", "handbook_of", "published", "sample_of"]
