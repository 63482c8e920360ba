"""What is said of a spot seam beside its strength: loads no method covers, the screen of fatigue, the cautions."""

from __future__ import annotations

from dataclasses import replace
from math import hypot

from jointcalc.check.common import handbook_cautions
from jointcalc.check.peel import NO_ARM
from jointcalc.check.seam_base import (
    EDGE,
    END,
    IN_PLANE,
    PITCH_MIN,
    ROW_MIN,
    WIDEST,
    SeamAction,
    rolled_hard,
    tensile,
    widely_spaced,
)
from jointcalc.check.seam_detailing import first_schedule, stack_limits
from jointcalc.formula import spot_en1993, spot_size
from jointcalc.formula.branch import above, at_least, below
from jointcalc.model.fields import PURPOSES
from jointcalc.quantity.sentence import joined, mm, mpa
from jointcalc.quantity.show import percent
from jointcalc.result import Check, Need, caution, collect, uncovered
from jointcalc.result.cautions import Caution

ZINC_CRACKS = 780.0
"""Tensile strength [MPa] from which molten zinc cracks spot-welded sheet: common practice, from memory."""
LARGE_SPOT = 7.0
"""Spot diameter over the root of the thinner sheet [mm^0.5] beyond which metal is spat out before a spot is so large:
common practice, no source."""


def unjudged_of(action: SeamAction, checks: list[Check]) -> tuple[str, ...]:
    """Loads that no method covers, direction by direction and interface by interface.

    The sheet round the spot holding is no answer for the spot, and neither is a mean of tests alone.
    """
    seam = action.seam
    spot = f"a spot of {mm(seam.d):.3g} in these sheets"
    if not (action.in_plane or action.peel or seam.compression or action.unturned):
        # without a load: whether a spot of this size can be judged at all
        able = any(c.status == "ok" and c.method.covers >= set(IN_PLANE) for c in checks)
        return () if able else (f"no method applies to {spot} under shear",)
    # a method of the whole stack speaks for each of its interfaces; else each wants its own
    whole = any(
        c.status in ("ok", "over") and c.method.covers >= set(IN_PLANE) and c.key == c.method.key for c in checks
    )
    places = [""] if whole or len(seam.sheets) == 2 else [where for where, _, _, part in seam.interfaces if part]
    needs = []
    for where in places:
        at = f" at the interface {where.replace('-', '–')}" if where else ""
        if action.along:
            needs.append(Need("along", f"no method applies to {spot} under shear{at}", where))
        if action.across:
            needs.append(Need("across", f"no method applies to {spot} pulled across{at}", where))
    if action.peel:
        needs.append(Need("peel", "no method applies to these spots under peel"))
        fold = "the yield strength of the sheet is not known, and with it when the flange folds open"
        needs.append(Need("fold", f"peel is not judged: {NO_ARM if seam.peel_arm is None else fold}"))
    if seam.compression is not None:
        needs.append(Need("compression", "no method applies to the sheet pressed between these spots"))
    missing = [*uncovered(needs, checks)]
    if action.unturned:
        missing.append("a single spot is a pivot: it does not hold a moment in the plane of the sheets")
    if seam.cycles is not None and (action.in_plane or action.peel):
        estimates = [c for c in checks if c.method.key == "rupp.spot-fatigue" and c.status in ("over", "info")]
        if not estimates:
            missing.append("no estimate of life reaches these spots under the load changes asked for")
        elif any(ENTERS in c.note for c in estimates):
            missing.append(
                "not said how the load comes in ('enters'): flowing in along the seam its spots pass the estimate of "
                "life, brought in at one end the first of them does not"
            )
    return tuple(missing)


def fatigue_screen(action: SeamAction) -> list[Check]:
    """The fatigue screen of the interface used most; empty when no cycles were given."""
    seam = action.seam
    if seam.cycles is None:
        return []
    from jointcalc.check.fatigue import SPOT_STRESS, spot_fatigue

    other = next((s.material.family for s in seam.sheets if s.material.family not in ("steel", "stainless")), None)
    if other is not None:
        reason = f"its constants are of steel; this stack has {other}"
        return [SPOT_STRESS.outside(reason, demand=seam.cycles, unit="cycles")]
    if action.peel and seam.peel_arm is None:
        return [SPOT_STRESS.outside(NO_ARM, demand=seam.cycles, unit="cycles")]
    cycles = seam.cycles

    def used(checks: list[Check]) -> float:
        last = checks[-1]
        if last.used_at_least is not None:
            return last.used_at_least
        return (last.demand.value or 0.0) / last.capacity.value if last.capacity and last.demand else 0.0  # type: ignore[operator]

    def screened(part: float) -> list[Check]:
        """By the spot that carries that part of the shear."""
        in_plane = hypot(action.along_by(part), action.across)
        found = []
        for _, a, b, share in seam.interfaces:
            # the offset that bends the thinner sheet is its own: the thicker one turns less
            t = min(a.t, b.t)
            scale = share * seam.load_range
            found.append(
                spot_fatigue(
                    t=t, d=seam.d, shear=scale * in_plane, peel=scale * action.peel, arm=t, cycles=cycles,
                    peel_arm=seam.peel_arm or 0.0,
                )
            )  # fmt: skip
        return max(found, key=used)

    if seam.entry or seam.along == 1 or not seam.shear:
        return screened(action.shares.peak)
    # elastic to the end: no equal share helps a spot that cracks, so how the load comes in has to be known
    alike = screened(action.shares.alike)
    if alike[-1].status != "info" or screened(action.shares.peak)[-1].status != "over":
        return alike
    last = alike[-1]
    return [*alike[:-1], replace(last, note=joined("; ", [last.note, ENTERS]))]


ENTERS = (
    "taken as flowing in along the seam: brought in at one end, in sheet no wider than the lap, its first spot falls "
    "short"
)


def cautions_of(action: SeamAction, checks: list[Check]) -> tuple[Caution, ...]:
    """What the inspector and the builder are told beside the numbers."""
    seam = action.seam
    raised: list[Caution | str] = [PURPOSES[word] for word in seam.purpose]
    for sheet in seam.sheets:
        raised += [caution(code, **words) for code, words in sheet.caution_codes()]
    by_key = {c.method.key: c for c in checks if c.status == "over"}
    for method, code in (
        (PITCH_MIN, "shunting"),
        (ROW_MIN, "shunting"),
        (EDGE, "edge-distance"),
        (END, "edge-distance"),
    ):
        if method.key in by_key:
            raised.append(code)
    steep, thick = stack_limits(seam)
    if steep:
        raised.append(caution("stack-ratio", ratio=f"{seam.stack_ratio:.2g}"))
    if thick:
        raised.append("stack-total")
    pulled_across = bool(seam.across or seam.moment)
    in_plane = bool(seam.shear or pulled_across)
    if below(seam.least_edge, 2 * seam.d) and pulled_across:
        raised.append("edge-distance")
    if any(s.coated for s in seam.sheets):
        raised.append("zinc-tips")
    if seam.peel:
        raised += ["peel"] if seam.entry else ["peel", "unzip"]
        if seam.peel_arm is not None and below(seam.peel_arm, seam.d):
            raised.append("near-bend")
    if pulled_across:
        raised.append("single-lap")
    if seam.shear and seam.along >= 2 and not seam.entry:
        raised.append(caution("row-shares", share=percent(action.shares.peak)))
    raised += action.shares.narrow()
    if seam.ends and seam.shear and action.brittle:
        raised.append(caution("row-brittle", why=action.brittle))
    if seam.missing:
        raised.append(caution("welds-missing", which=", ".join(f"{n}" for n in seam.missing), of=seam.spots))
    if seam.standing == 1 and (in_plane or seam.peel):
        raised.append("single-spot")
    loose = seam.actual_end if seam.along > 1 else seam.length / 2
    if widely_spaced(seam) or above(loose, max(seam.actual_pitch if seam.along > 1 else 0.0, WIDEST * seam.d / 2)):
        raised.append(caution("wide-pitch", widest=f"{mm(WIDEST * seam.d):.3g}"))
    usual = float(spot_size.USUAL(t=seam.governing_thickness))
    if below(seam.d, usual):
        raised.append(caution("small-spot", d=f"{mm(seam.d):.3g}", usual=f"{mm(usual):.3g}"))
    steel = [s for s in seam.sheets if s.material.family == "steel"]
    if any(above(s.f_u, spot_en1993.HARDENED) for s in steel):
        least = min(tensile(s) for s in steel)
        raised.append(caution("softened-spot", counted=f"{mpa(least):.4g}"))
    strongest = max((s.f_u for s in steel), default=0.0)
    if at_least(strongest, ZINC_CRACKS) and any(s.coated for s in seam.sheets):
        raised.append(caution("zinc-cracks", own=f"{mpa(strongest):.4g}"))
    hard = [s for s in seam.sheets if below(rolled_hard(s), s.f_u)]
    if hard:
        own, left = f"{mpa(hard[0].f_u):.4g}", f"{mpa(tensile(hard[0])):.4g}"
        raised.append(caution("hard-rolled-spot", own=own, counted=left))
    largest = LARGE_SPOT * min(s.t for s in seam.sheets) ** 0.5
    if above(seam.d, largest):
        raised.append(caution("large-spot", d=f"{mm(seam.d):.3g}", largest=f"{mm(largest):.3g}"))
    if any(s.material.grade.startswith("413") for s in steel):
        raised.append("hardened-spot")
    if any(s.material.family == "aluminium" for s in seam.sheets):
        raised.append("aluminium-spots")
    if seam.load_factor == 1.0:
        raised.append("unfactored-load")
    if not (in_plane or seam.peel or seam.compression):
        raised.append("no-load")
    if seam.tested is not None:
        from jointcalc.check.coupon_method import coupon_cautions

        raised += coupon_cautions(seam, checks, turned=True, missing="no-coupons")
    elif not seam.coupons:
        raised.append("no-coupons")
    if len(seam.sheets) == 3:
        raised.append("three-sheets")
    if len({s.material.family for s in seam.sheets}) > 1:
        raised.append("galvanic")
    raised += ["corrosion", "fatigue" if seam.cycles is None else "fatigue-estimate", "near-hazards"]
    if first_schedule(action):
        raised.append("schedule-start")
    raised += handbook_cautions(seam, checks)
    if any(c.provenance == "from memory" for c in checks if c.status in ("ok", "over")):
        raised.append("from-memory")
    return collect(raised)
