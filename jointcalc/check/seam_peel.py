"""Spots peeled: the flange folding open, the button pulled out, floors and tests; and peel together with shear."""

from __future__ import annotations

from collections.abc import Iterable
from math import inf, pi
from typing import Any

from jointcalc.check.common import ADDED, INFORMATION, OWN, Steps
from jointcalc.check.peel import NO_ARM, Flange
from jointcalc.check.seam_base import (
    FLOOR,
    PEEL_FOLD,
    SeamAction,
    interface_pair,
    judged_or_bound,
    not_carbon_steel,
    size_needed,
    tensile,
)
from jointcalc.check.seam_charts import d8_floor
from jointcalc.formula import peel, spot_d8_1, spot_en1993, spot_models, spot_size
from jointcalc.formula.branch import above, below
from jointcalc.formula.core import Evaluation, Source
from jointcalc.quantity.sentence import mm, newtons
from jointcalc.result import DETAILING, Check, Method, Stated, method

D8_CROSS = method(
    "d8.1m.cross-tension",
    "Least cross-tension strength",
    spot_d8_1.CT,
    per="spot",
    basis=FLOOR,
    factor=OWN,
    covers=("peel",),
)
PEEL_PULL = method(
    "limit-analysis.peel-pull",
    "Pull on the spot with the flange's lever",
    peel.LEVER,
    per="spot",
    basis=FLOOR,
    factor=OWN,
)
CHAO_CROSS = method(
    "chao.cross-tension",
    "Cross tension from lap shear",
    spot_models.CHAO,
    per="spot",
    bound="information",
    basis="characteristic x mean ratio, straight pull",
    factor=INFORMATION,
)
RUPP_PEEL = method(
    "rupp.peel-stress",
    "Elastic stress at the spot's edge",
    spot_models.RUPP,
    per="spot",
    bound="information",
    basis="first yield, not strength",
    factor=INFORMATION,
)
ROW_INTERACTION = method(
    "interaction.shear-peel",
    "Shear and peel together",
    Source("linear interaction", "exponent 1", "derivation", "the safe end of the published exponents 1 to 2"),
    per="spot",
    basis="sum of utilisations",
    factor=ADDED,
)


def peeled_flange(action: SeamAction) -> Flange | None:
    """The flange that peels, a line load along the seam; None when nothing peels."""
    seam = action.seam
    if not seam.peel:
        return None
    pitch = seam.actual_pitch
    # the spot that holds most of it: one in the middle, or the last with what hangs beyond it
    width = max(pitch, pitch / 2 + seam.actual_end) if seam.along > 1 else seam.length
    pull = action.largest * abs(seam.peel) * width / seam.length
    part = "" if action.largest == 1 else f"{action.largest:g} x "
    told = f"{part}{newtons(abs(seam.peel))} over {mm(seam.length):.4g}, of which a spot holds {mm(width):.4g}"
    hardest = action.largest * action.peel
    if not action.shares.even and hardest > pull:
        harder = f"{part}{newtons(action.peel)} on the spot that is lifted hardest, of {newtons(abs(seam.peel))} in all"
        if not seam.ends or seam.peel_arm is None:
            pull, told = hardest, harder
        else:
            # its neighbours hold their flange down: a fan from the end to beyond it opens, however near they stand
            arm, edge = seam.peel_arm, seam.least_edge
            fan = seam.actual_end + min(pi * arm, 2 * arm + 0.625 * edge)

            def opens(load: float, b: float) -> float:
                return load / float(peel.EFFECTIVE_WIDTH(b=b, a=arm, e=edge))

            if opens(hardest, fan) > opens(pull, width):
                pull, width, told = hardest, fan, f"{harder}, in a fan of {mm(fan):.4g} at the end"
    return Flange(seam.sheets, width, seam.least_edge, pull, told, seam.peel_arm, seam.load_factor)


def peeled(action: SeamAction, flange: Flange) -> list[Check]:
    """A peeled spot: its flange folding open, its button pulled out, floors and tests."""
    seam = action.seam
    checks = [flange.folds(PEEL_FOLD)]
    demand = action.largest * action.peel
    row = f"{seam.along} spots" + (" of the row next to the bend" if seam.rows > 1 else "")
    how = "equal shares" if action.shares.even else "the greatest share of a strip of sheet on springs"
    given = Stated("N", "N", demand, f"{newtons(abs(seam.peel))} / {row}, peel, {how}")
    if not_carbon_steel(seam):
        reason = "no published peel model for this metal is known to jointcalc; use coupons"
        return [*checks, *(m.outside(reason, demand=demand) for m in (D8_CROSS, PEEL_PULL, CHAO_CROSS))]
    # whichever sheet is lifted off: not the governing thickness of the stack, which of three is the second thickest
    t = seam.thinnest
    f_u = min(tensile(sheet) for sheet in seam.sheets)
    size = spot_size.USUAL.evaluate(t=t)
    used, thin, told = d8_floor(t, spot_d8_1.CROSS_TENSION)
    stop = [*thin, *size_needed(size, seam, "the floor")]
    cross = spot_d8_1.CROSS_TENSION.evaluate(t=used)
    shear = spot_d8_1.SHEAR_TENSION.evaluate(t=used, S=f_u)
    lower = min(float(cross.value), float(shear.value))
    note = "peel is harder on a spot than the straight pull of this test"
    if below(lower, float(cross.value)):
        note += "; capped at the shear-tension floor, which is lower for this sheet"
    note += f"; {told}" if told else ""
    levered = flange.levered()
    pulls: list[tuple[Method, float, Steps]] = [(D8_CROSS, demand, [given])]
    if levered is not None:
        lift = Stated("F", "N", flange.pull, flange.told)
        pulls.append((PEEL_PULL, float(levered.value), [lift, levered]))
    else:
        checks.append(PEEL_PULL.outside(NO_ARM, demand=demand))
    for rule, pull, after in pulls:
        checks.append(
            judged_or_bound(
                rule, stop, capacity=lower, demand=pull, required=seam.handbook_factor,
                trace=[cross, shear, size, *after], note=note if rule is D8_CROSS else "",
            )
        )  # fmt: skip
    worst: tuple[float, tuple[Evaluation, ...]] | None = None
    for _, a, b, _ in seam.interfaces:
        thin_, thick, weak = interface_pair(a, b)
        inputs = {"t": thin_, "t_1": thick, "d_s": seam.d, "f_u": weak}
        lap_shear = min(
            (spot_en1993.TEARING.evaluate(**inputs), spot_en1993.SPOT_SHEAR.evaluate(**inputs)),
            key=lambda e: float(e.value),
        )
        if lap_shear.formula.outside(**inputs):
            continue
        pulled = spot_models.CROSS_TENSION.evaluate(F_ls=float(lap_shear.value))
        if worst is None or float(pulled.value) < worst[0]:
            worst = (float(pulled.value), (lap_shear, pulled))
    if worst is None:
        checks.append(CHAO_CROSS.outside("the lap-shear strength it starts from is outside its range", demand=demand))
    else:
        checks.append(
            CHAO_CROSS.info(
                capacity=worst[0],
                demand=demand,
                trace=[*worst[1], given],
                note="strength in a straight pull, from lap shear: a sheet peeled from one side opens the spot at a "
                "fraction of it, so nothing is judged by it",
            )
        )
    thin_sheet = min(seam.sheets, key=lambda s: (s.t, s.f_y if s.has_yield else inf))
    arm = seam.peel_arm if seam.peel_arm is not None else seam.edge
    stress = spot_models.EDGE_STRESS.evaluate(t=thin_sheet.t, d=seam.d, F_z=demand, M=demand * arm)
    if thin_sheet.has_yield:
        how_far = "the peel arm" if seam.peel_arm is not None else "the edge distance taken as peel arm"
        past = above(float(stress.value), thin_sheet.f_y)
        opens = (
            "it is past yield: the sheet bends open at the spot"
            if past
            else "above yield the sheet bends open at the spot"
        )
        checks.append(
            RUPP_PEEL.info(
                capacity=thin_sheet.f_y,
                demand=float(stress.value),
                unit="MPa",
                trace=[stress],
                note=f"elastic stress with {how_far}; {opens}",
            )
        )
    return checks


PEEL = frozenset({D8_CROSS.key, PEEL_FOLD.key, PEEL_PULL.key, CHAO_CROSS.key, RUPP_PEEL.key})
"""Keys of the methods that judge a spot across the sheets; the other per-spot methods judge it in plane."""


def _hardest(symbol: str, checks: Iterable[Check]) -> tuple[Stated | None, Stated | None]:
    """(use of the check used most, the most that is known of it): the second counts those that only bound it."""
    found = list(checks)
    judged = max((c for c in found if c.utilisation is not None), key=lambda c: c.utilisation or 0.0, default=None)
    use = None if judged is None else Stated.of(symbol, judged)
    bounds = [(c.used_at_least, c) for c in found if c.used_at_least is not None]
    least, bounding = max(bounds, key=lambda pair: pair[0], default=(0.0, None))
    if bounding is None or (use is not None and use.value >= least):
        return use, use
    how = f"at least, by {bounding.key} at the edge of its range"
    return use, Stated(symbol, "1", least, how, status=bounding.provenance)


def peel_with_shear(action: SeamAction, checks: list[Check]) -> list[Check]:
    """Linear sum of the hardest use in the plane of the sheets and across them."""
    if not action.peel or not action.in_plane:
        return []
    per_spot = [c for c in checks if c.per == "spot" and c.method.basis != DETAILING]
    v, v_known = _hardest("u_V", (c for c in per_spot if c.method.key not in PEEL))
    n, n_known = _hardest("u_N", (c for c in per_spot if c.method.key in PEEL))
    if v_known is None or n_known is None:
        return [ROW_INTERACTION.outside("no method applies to one of the two loads", unit="1")]
    both: dict[str, Any] = {"capacity": 1.0, "unit": "1"}
    bound = ROW_INTERACTION.at_most(
        "of one of the two loads no more is known than the edge of a method's range",
        demand=v_known.value + n_known.value, trace=[v_known, n_known], **both,
    )  # fmt: skip
    if v is None or n is None or (bound.status == "over" and (v_known is not v or n_known is not n)):
        return [bound]
    return [ROW_INTERACTION.judge(demand=v.value + n.value, trace=[v, n], note="sum of the two utilisations", **both)]
