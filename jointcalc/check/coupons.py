"""A group of coupons as it stands in a log, judged: pass marks, limits of strength, and whether it is one set.

Every button is held against 4 sqrt(t), every load of a shear or cross-tension coupon against the floor of AWS D8.1M.
Fewer than three coupons are no conclusion (AISI S100 K2.1.1).  The mean is set beside what the handbook gives for such
a spot, through the very methods a seam is judged by.  A set is never cut down to what fits: outliers stay in.
"""

from __future__ import annotations

from functools import lru_cache

from jointcalc.check.coupon_limits import CONTENTS, Sample, Value
from jointcalc.check.coupon_marks import (
    COUNT,
    FEW,
    beyond_belief,
    broke_through,
    failed_marks,
    marks,
    of_sample,
    sample_of,
)
from jointcalc.check.seam import check_seam
from jointcalc.check.seam_base import IN_PLANE, MEAN
from jointcalc.check.seam_charts import GUARANTEED
from jointcalc.formula import coupon_design
from jointcalc.formula.branch import at_least
from jointcalc.model.coupon_log import Group
from jointcalc.model.fields import build
from jointcalc.model.seam import SpotSeam
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.sentence import newtons
from jointcalc.result import Amount, Check, Result, caution, collect
from jointcalc.result.cautions import Caution

SMALL_LOAD = 50.0
"""Mean load [N] below which kilonewtons were meant: a spot of 3 mm in foil carries more (common practice)."""


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
        checks += marks(group, sheets)
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
        for name, found in (("characteristic", sample.known), ("design", sample.design_known)):
            note = found.note or "only where this variation was known from earlier coupons"
            values[f"en1990_{name}_known"] = Amount(found.value, "N", note)
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


def _cautions(group: Group, sample: Sample, checks: list[Check]) -> tuple[Caution, ...]:
    raised: list[Caution | str] = []
    if (higher := above_mean(group)) and higher[0].capacity is not None:
        words = f"{newtons(higher[0].capacity.value or 0.0):.0f}"
        raised.append(
            caution("coupon-mean-low", mean=f"{newtons(sample.mean):.0f}", handbook=words, which=higher[0].title)
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
        if sample.mean < SMALL_LOAD:
            raised.append(caution("coupon-loads-small", mean=f"{newtons(sample.mean):.3g}"))
    raised += beyond_belief(group)
    if any(c.provenance == "from memory" for c in checks):
        raised.append("from-memory")
    return collect(raised)
