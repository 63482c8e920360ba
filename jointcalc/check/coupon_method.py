"""What a builder's own coupons say of a seam or a row of plugs, beside the published methods.

Two methods, each with the factor its own statistics ask for.  AISI S100 K2.1.1: the mean of the tests, with a safety
factor that grows with their scatter and with how few they are.  EN 1990 D7.2: the 5 % value of the next weld with the
coefficient of variation unknown (0.10 at least), with gamma_M2 x gamma_F as for any characteristic resistance.

**Coupons never replace the handbook.**  In the plane of the sheets and in peel they stand beside its methods, cover no
part of the load by themselves, and the lowest governs: nothing they show makes a joint come out better.  They judge
alone only where no document gives anything to replace: a punched plug lifted off its sheet.

Coupons count in full for a spot as large as theirs; for a smaller one their mean is reduced by the square of the
diameters, the steeper of the two ways a spot loses strength.  Where days differ more than chance the batches are the
tests; where loads fall with time, the fitted load of the last day is the mean.  Fewer than three, or batches, bound
from above by their mean with the least factor any number of them could have.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from jointcalc.check.common import ADDED, PARTIAL
from jointcalc.check.coupon_limits import Sample
from jointcalc.check.coupon_marks import (
    FEW,
    beyond_belief,
    broke_through,
    failed_marks,
    governing,
    marks,
    of_sample,
    sample_of,
)
from jointcalc.check.plug_base import PlugAction, uplift_share
from jointcalc.check.seam_base import MEAN, SeamAction
from jointcalc.formula import coupon_design
from jointcalc.formula.arc_spot_aisi import LEAST_EDGE_DISTANCE
from jointcalc.formula.branch import above, at_least, below
from jointcalc.formula.core import Evaluation, Source
from jointcalc.formula.safety import GAMMA_M2
from jointcalc.model.coupon_log import Group
from jointcalc.model.row import WeldRow
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.sentence import mm, newtons
from jointcalc.result import Check, Looked, Method, Stated, caution, method
from jointcalc.result.cautions import Caution

OWN_MEAN = "mean of your coupons"
OWN_FRACTILE = "5 % value of your coupons"
SCATTER = "Ω by the scatter and number of your coupons"
NO_MORE = 10_000
"""Number of coupons that stands for any number: no factor is less than theirs."""
TYPICAL = ("nominal", MEAN, "handbook minimum")
"""Bases of the published numbers that a mean of coupons should not lie below."""


def _pair(mode: str, title: str, per: str, covers: tuple[str, ...]) -> tuple[Method, Method]:
    aisi = method(
        f"aisi-s100.{mode}", f"{title}, mean", coupon_design.AISI, per=per, basis=OWN_MEAN, factor=SCATTER,  # type: ignore[arg-type]
        covers=covers,
    )  # fmt: skip
    en = method(
        f"en1990.{mode}", f"{title}, 5 % value", coupon_design.EN_CHARACTERISTIC, per=per, basis=OWN_FRACTILE,  # type: ignore[arg-type]
        factor=PARTIAL, covers=covers,
    )  # fmt: skip
    return aisi, en


SPOT_SHEAR = _pair("spot-coupons", "Your shear coupons", "spot", ())
SPOT_PEEL = _pair("spot-coupons-peel", "Your peel and cross coupons", "spot", ())
PLUG_SHEAR = _pair("plug-coupons", "Your shear coupons", "weld", ())
PLUG_UPLIFT = _pair("plug-coupons-uplift", "Your cross-tension coupons", "weld", ("uplift",))
PLUG_BOTH = method(
    "interaction.plug-coupons",
    "Shear and uplift together, by your coupons",
    Source("linear interaction", "exponent 1", "derivation", "the safe end of the published exponents"),
    per="weld",
    basis="sum of utilisations",
    factor=ADDED,
    covers=("both",),
)


@dataclass(frozen=True, slots=True)
class Shown:
    """What a group of coupons shows: mean to count on [N], number of tests, variation, and why it is only a bound."""

    group: Group
    sample: Sample
    mean: float
    tests: int
    variation: float
    steps: tuple[Evaluation | Looked | Stated, ...]
    weak: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


def shown(group: Group, sheets: tuple[Sheet, ...], d: float | None) -> Shown:
    """What a group shows for a weld of that diameter [mm]; None where the size is not what it is judged by.

    `sheets` are those the weld joins; thinner than the coupons' in trial, they take that part of the mean with which a
    spot pulls out of them.
    """
    sample = sample_of(group)
    mean, tests, variation = sample.mean, sample.n, sample.variation if sample.n > 1 else 0.0
    weak: list[str] = []
    notes: list[str] = []
    if sample.falling and sample.trend is not None:
        now = mean + sample.trend[0] * sample.after_middle
        notes.append("they fall with time: the fitted load of the last one counts")
        mean = max(0.0, min(mean, now))
    if sample.differing:
        groups = list(sample.by_batch.values())
        tests = len(groups)
        means = [float(g.mean()) for g in groups]
        mean = min(mean, sum(means) / tests)
        variation = max(variation, sample.over_batches / sample.mean if sample.mean else 0.0)
        notes.append(f"days differ more than chance: their {tests} batches are the tests")
        if tests < coupon_design.LEAST_TESTS:
            mean, tests = min(means), sample.n  # an upper bound still: as if each weld were a day of its own
            weak.append(f"{len(groups)} days that differ are no statistics; {coupon_design.LEAST_TESTS} are needed")
    elif tests < coupon_design.LEAST_TESTS:
        more = coupon_design.LEAST_TESTS - tests
        weak.append(f"{tests} of the {coupon_design.LEAST_TESTS} coupons that a factor needs; make {more} more")
        tests, variation = NO_MORE, 0.0
    told = f"mean of {sample.n} coupons of {group.dates}, {group.title}"
    steps: list[Evaluation | Looked | Stated] = [Stated("m", "N", mean, told, "your coupons")]
    sizes = [float(c.button) for c in group.measured if c.button]
    if d is not None and sizes:
        own = sum(sizes) / len(sizes)
        if below(d, own):
            smaller = coupon_design.SMALLER_SPOT.evaluate(m=mean, d=d, d_b=own)
            steps.append(smaller)
            mean = float(smaller.value)
    t, t_b = governing(sheets), governing(group.stack.sheets)
    if below(t, t_b):
        mean *= t / t_b
        steps.append(Stated("m_t", "N", mean, f"in sheet of {mm(t):.4g}, the coupons' is {mm(t_b):.4g}: pull-out"))
    return Shown(group, sample, mean, tests, variation, tuple(steps), tuple(weak), tuple(notes))


def judged(
    pair: tuple[Method, Method], groups: Iterable[Group], *, demand: float, load: Stated, load_factor: float,
    sheets: tuple[Sheet, ...], d: float | None, connection: str, extra: str = "", weak: Iterable[str] = (),
) -> list[Check]:  # fmt: skip
    """Both methods for the group that shows least; none where no coupon of these has a load.

    `weak` says why the weld is weaker than such coupons: they bound it from above then.
    """
    every = [shown(group, sheets, d) for group in groups if group.loaded]
    found = [replace(one, weak=(*one.weak, *weak)) for one in every]
    if not found:
        return []

    def aisi(one: Shown) -> Check:
        omega = one.sample.omega(connection, n=one.tests, variation=one.variation)
        assert omega.value is not None
        rule = pair[0]
        return _judge(rule, one, one.mean, omega.value, demand, [*one.steps, *omega.steps, load], extra, load_factor)

    def en(one: Shown) -> Check:
        rule = pair[1]
        v = max(one.variation, coupon_design.LEAST_UNKNOWN)
        made = one.sample.fractile_of(one.mean, v, one.tests)
        capacity = max(0.0, float(made[-1].value))
        return _judge(
            rule, one, capacity, GAMMA_M2 * load_factor, demand, [*one.steps, *made, load], extra, load_factor
        )

    return [_weakest([make(one) for one in found]) for make in (aisi, en)]


def _judge(
    rule: Method, one: Shown, capacity: float, required: float, demand: float,
    trace: list[Evaluation | Looked | Stated], extra: str, load_factor: float,
) -> Check:  # fmt: skip
    if one.weak:
        made = rule.at_most(one.weak, capacity=capacity, demand=demand, required=required, trace=trace)
    else:
        note = "; ".join(filter(None, (*one.notes, extra, one.group.first.setting)))
        made = rule.judge(capacity=capacity, demand=demand, required=required, trace=trace, note=note)
    return replace(made, source=f"your coupons of {one.group.dates}; {rule.source}")


def _weakest(checks: list[Check]) -> Check:
    """Of several settings the one that shows least: which of them welds the vehicle is not known."""

    def carries(check: Check) -> float:
        if check.capacity is None or check.capacity.value is None:
            return float("inf")
        return check.capacity.value / (check.required_factor or 1.0)

    over = [c for c in checks if c.status == "over"]
    least = min(over or [c for c in checks if c.status == "ok"] or checks, key=carries)
    if len(checks) == 1 or least.status == "outside":
        return least
    return replace(least, note="; ".join(filter(None, (str(least.note), f"the weakest of {len(checks)} settings"))))


def matching(row: WeldRow, tests: Iterable[str], *, turned: bool) -> list[Group]:
    """The groups of a row's machine and stack, of those tests."""
    if row.tested is None:
        return []
    return [group for group in row.tested.of(row.sheets, turned=turned) if group.test in tests]  # type: ignore[attr-defined]


def spot_checks(action: SeamAction) -> list[Check]:
    """A seam by the coupons of its machine; none where the project has no log of them."""
    seam = action.seam
    if seam.tested is None:
        return []
    checks = judged(
        SPOT_SHEAR, matching(seam, ("shear",), turned=True), demand=action.largest * action.in_plane,
        load=action.trace(action.largest),
        load_factor=seam.load_factor, sheets=seam.sheets, d=seam.d, connection="resistance_weld",
    )  # fmt: skip
    if action.peel:
        demand = action.largest * action.peel
        load = Stated("N", "N", demand, f"{newtons(abs(seam.peel))} on the row next to the bend, peel, equal shares")
        checks += judged(
            SPOT_PEEL, matching(seam, ("peel", "cross"), turned=True), demand=demand, load=load,
            load_factor=seam.load_factor, sheets=seam.sheets, d=seam.d, connection="resistance_weld",
            extra="a straight pull is easier on a spot than the bend of this flange",
        )  # fmt: skip
    return checks


def plug_checks(action: PlugAction) -> list[Check]:
    """A row of plugs by the coupons of its machine; none where the project has no log of them."""
    row = action.row
    if row.tested is None:
        return []
    size = row.interface or row.hole  # no more is fused than the hole
    made: Callable[..., list[Check]] = lambda pair, test, **how: judged(  # noqa: E731 - what both share
        pair, matching(row, (test,), turned=False), load_factor=row.load_factor, sheets=row.sheets, d=size,
        connection="arc_weld_shear", **how,
    )  # fmt: skip
    shear = made(PLUG_SHEAR, "shear", demand=action.in_plane, load=action.how)
    lifted = _lifted(action, made) if row.uplift else []
    checks = [*shear, *lifted]
    pulls = [c for c in lifted if c.status in ("ok", "over") and c.utilisation is not None]
    slides = [c for c in shear if c.status in ("ok", "over") and c.utilisation is not None]
    if pulls and slides and action.in_plane and action.uplift:
        parts = [
            Stated.of(symbol, max(found, key=lambda c: c.utilisation or 0.0))
            for symbol, found in (("u_V", slides), ("u_T", pulls))
        ]
        checks.append(
            PLUG_BOTH.judge(capacity=1.0, demand=sum(p.value for p in parts), required=1.0, unit="1", trace=parts)
        )
    return checks


def _lifted(action: PlugAction, made: Callable[..., list[Check]]) -> list[Check]:
    """Lifted off: a cross-tension coupon is pulled evenly, its weld well inside its sheets."""
    row = action.row
    share, why = uplift_share(row)
    near = min(row.edge, row.actual_end)
    asked = float(LEAST_EDGE_DISTANCE(d=row.diameter))
    weak = [] if at_least(near, asked) else [
        f"lifted {mm(near):.3g} from an edge: coupons hold their weld inside their sheets, at least {mm(asked):.3g}"
    ]  # fmt: skip
    load = action.how_uplift
    if share < 1.0:
        load = Stated("T", "N", action.uplift / share, f"{load.how}, over {share:g} ({why})")
    return made(PLUG_UPLIFT, "cross", demand=action.uplift / share, load=load, extra=why, weak=weak)


def coupon_cautions(row: WeldRow, checks: Iterable[Check], *, turned: bool, missing: str) -> list[Caution | str]:
    """What the log says of a row, beside its own word `coupons`: `missing` is raised where neither says anything."""
    if row.tested is None:
        return [] if row.coupons else [missing]
    groups = row.tested.of(row.sheets, turned=turned)  # type: ignore[attr-defined]
    if not groups:
        return [caution("coupons-not-logged", log=row.tested.log)] if row.coupons else [missing]
    raised: list[Caution | str] = []
    published = [
        c for c in checks
        if c.status in ("ok", "over") and c.method.basis in TYPICAL and c.per in ("spot", "weld") and c.capacity
    ]  # fmt: skip
    for group in groups:
        sample = sample_of(group)
        if not group.of_arc_weld:
            raised += failed_marks(group, marks(group, group.stack.sheets))
        raised += beyond_belief(group)
        broken = sum(broke_through(c) for c in group.coupons)
        if broken:
            raised.append(caution("coupons-interfacial", n=broken, of=len(group.coupons)))
        counted = sample.n or len(group.measured)
        if counted < FEW:
            raised.append(caution("coupons-few", n=counted))
        if not sample.n:
            continue
        raised += of_sample(sample)
        higher = [c for c in published if above(c.capacity.value or 0.0, sample.mean)] if group.test == "shear" else []  # type: ignore[union-attr]
        if higher:
            top = max(higher, key=lambda c: c.capacity.value or 0.0 if c.capacity else 0.0)
            words = f"{newtons(top.capacity.value or 0.0):.0f}"  # type: ignore[union-attr]
            raised.append(
                caution("coupon-mean-low", mean=f"{newtons(sample.mean):.0f}", handbook=words, which=top.title)
            )
    d = getattr(row, "d", None)
    sizes = [float(c.button or 0.0) for group in groups if not group.of_arc_weld for c in group.measured]
    if isinstance(d, float) and sizes and above(d, min(sizes)):
        log = f"log {row.tested.log}"
        raised.append(caution("coupons-below", record=log, found=f"{mm(min(sizes)):.4g}", judged=f"{mm(d):.4g}"))
    return raised
