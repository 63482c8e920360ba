"""Fatigue screen: nominal-stress detail categories of EN 1993-1-9 for arc welds; spots have none.

A screen, not a fatigue design: constant amplitude, nominal stress, the steel standard's categories.
Required is gamma_Mf = 1.35 (safe life, a failure with grave consequence) with gamma_Ff = 1.0.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from jointcalc.formula import fatigue as fa
from jointcalc.formula import spot_size
from jointcalc.formula.branch import above, at_most, below, least, most
from jointcalc.formula.core import Evaluation, Source
from jointcalc.quantity.sentence import mm, mpa
from jointcalc.quantity.show import figures
from jointcalc.result import Check, Looked, Stated, method
from jointcalc.result.factor import fixed
from jointcalc.tables.store import load

if TYPE_CHECKING:
    from jointcalc.model.fillet import FilletGroup
    from jointcalc.statics.weld_group import ElasticWelds

BASIS = "fatigue screen"
FACTOR = fixed(fa.GAMMA_MF, "γ_Mf = {:g}, safe life, grave consequence")

_EN = Source(fa.EN19, "Tables 8.1 to 8.5", "from memory")

ROOT = method(
    "en1993-1-9.throat", "Fatigue, throat across", _EN, per="mm", basis=BASIS, factor=FACTOR, covers=("fatigue",)
)
SHEAR = method(
    "en1993-1-9.throat-shear", "Fatigue, throat along", _EN, per="mm", basis=BASIS, factor=FACTOR, covers=("fatigue",)
)
BOTH = method(
    "en1993-1-9.interaction", "Fatigue, across and along", Source(fa.EN19, "8(3)"), per="mm", basis=BASIS,
    factor=fixed(1.0, "{:g}, factors inside"),
)  # fmt: skip
TOE = method("en1993-1-9.toe", "Fatigue, sheet at the toe", _EN, per="mm", basis=BASIS, factor=FACTOR)
BUTT = method("en1993-1-9.butt", "Fatigue, butt weld", _EN, per="mm", basis=BASIS, factor=FACTOR, covers=("fatigue",))
NO_DETAIL = method("en1993-1-9.screen", "Fatigue", _EN, per="weld", basis=BASIS, factor=FACTOR)
SPOT = method("en1993-1-9.spot", "Fatigue of the spot", _EN, per="spot", basis=BASIS, factor=FACTOR)
SHEET = method("en1993-1-9.sheet", "Fatigue, sheet", _EN, per="member", basis=BASIS, factor=FACTOR, covers=("fatigue",))
SHEET_DETAIL = "attachment-across-50"
"""Detail of the sheet of a brace or panel (our choice): something small is welded to it where it is stressed most."""
SPOT_STRESS = method(
    "rupp.spot-fatigue", "Structural stress of the spot", fa.RUPP, per="spot", basis="generic estimate of life",
    factor=fixed(fa.GAMMA_MF, "γ_Mf = {:g} on the stress; over or information, never in favour"),
)  # fmt: skip


LEAST_CYCLES = least(fa.STRENGTH_SLOPE_3, "N_R")
"""Load changes at which the curves begin; fewer are judged as so many, which is on the safe side."""


def _cycles(welds: FilletGroup) -> float:
    """Load changes to judge by."""
    assert welds.cycles is not None
    return max(welds.cycles, LEAST_CYCLES)


def _category(detail: str) -> tuple[float, Looked, str]:
    row = load("fatigue_en1993_1_9").find(detail=detail)
    value = float(row["category"].rstrip("*"))
    source = Source(fa.EN19, f"Table {row['table']}, detail {row['number']}", "from memory")
    symbol = "Delta_tau_C" if row["kind"] == "shear" else "Delta_sigma_C"
    how = f"{detail}: {row['description']}" + (f" ({row['extent']})" if row["extent"] else "")
    return value, Looked(symbol, "MPa", value, "fatigue_en1993_1_9", how, source), row["kind"]


def strength_for(detail: str, cycles: float) -> tuple[Evaluation, Looked, str]:
    """Strength for the cycles, the category it rests on, and which part of the curve."""
    value, looked, kind = _category(detail)
    if kind == "shear":
        formula, why = fa.shear(N_R=cycles)
        inputs = {"Delta_tau_C": value}
    else:
        formula, why = fa.strength(N_R=cycles)
        inputs = {"Delta_sigma_C": value}
    if "N_R" in formula.parameters:
        inputs["N_R"] = cycles
    return formula.evaluate(**inputs), looked, why


def weld_fatigue(welds: FilletGroup, elastic: ElasticWelds) -> list[Check]:
    """The screen of a weld group; empty when no cycles were given.

    `load_range` times the service load comes and goes.  Judged are the throat (across, along, both) and
    the sheet at the toe; a stated detail takes the place of the toe's.
    """
    if welds.cycles is None:
        return []
    reasons = []
    if welds.family == "aluminium":
        reasons.append("EN 1993-1-9 is for steel; aluminium has EN 1999-1-3, which is not held here")
    if welds.weld.startswith("flare"):
        reasons.append("no detail category fits a flare weld")
    if reasons:
        return [NO_DETAIL.outside(reasons, unit="MPa")]
    if welds.weld == "butt":
        return [_butt(welds, elastic)]
    checks = _throat(welds, elastic)
    checks.append(_toe(welds, elastic))
    return checks


def _judge_both(
    how_direct: str, how_shear: str, welds: FilletGroup, direct: float, shear: float
) -> tuple[list[Check], list[tuple[float, Evaluation]]]:
    checks: list[Check] = []
    pairs: list[tuple[float, Evaluation]] = []
    for rule, detail, stress in ((ROOT, how_direct, direct), (SHEAR, how_shear, shear)):
        strength, looked, why = strength_for(detail, _cycles(welds))
        if below(welds.cycles or 0.0, LEAST_CYCLES):
            why = f"{why}; the curves start at 10 000 load changes, judged as so many"
        symbol = "Delta_tau" if rule is SHEAR else "Delta_sigma"
        load_range = Stated(symbol, "MPa", stress, f"{welds.load_range:g} of the service load, on the throat")
        checks.append(
            rule.judge(
                capacity=float(strength.value), demand=stress, unit="MPa",
                trace=[looked, strength, load_range], note=why,
            )
        )  # fmt: skip
        pairs.append((stress, strength))
    return checks, pairs


def _throat(welds: FilletGroup, elastic: ElasticWelds) -> list[Check]:
    a, part = welds.design_throat, welds.load_range
    ends = elastic.ends
    direct = np.hypot(ends.normal, ends.lift) / a * part
    shear = np.abs(ends.axial) / a * part
    checks, pairs = _judge_both("tee-root", "lap-fillet-shear", welds, float(direct.max()), float(shear.max()))
    if direct.max() > 0 and shear.max() > 0:
        strong = [float(strength.value) / fa.GAMMA_MF for _, strength in pairs]
        both = fa.interaction(Delta_sigma=direct, Delta_sigma_R=strong[0], Delta_tau=shear, Delta_tau_R=strong[1])
        i, j = np.unravel_index(int(np.argmax(both)), both.shape)
        worked = fa.INTERACTION.evaluate(
            Delta_sigma=float(direct[i, j]), Delta_sigma_R=strong[0],
            Delta_tau=float(shear[i, j]), Delta_tau_R=strong[1],
        )  # fmt: skip
        checks.append(
            BOTH.judge(
                capacity=1.0, demand=float(worked.value), unit="1", trace=[worked],
                note="strengths divided by γ_Mf first; grows with the third and fifth power of the stress",
            )
        )  # fmt: skip
    return checks


def _toe(welds: FilletGroup, elastic: ElasticWelds) -> Check:
    """The sheet at the toe: force across the weld over the thinner sheet, without the sheet's own bending."""
    detail = welds.detail or toe_detail(welds)
    ends = elastic.ends
    _, _, kind = _category(detail)
    share = np.abs(ends.axial) if kind == "shear" else np.hypot(ends.normal, ends.lift)
    stress = float(share.max()) / welds.thin.t * welds.load_range
    strength, looked, why = strength_for(detail, _cycles(welds))
    limit = fa.MOST_RANGE * welds.thin.f_y if welds.thin.has_yield else None
    stated = Stated(
        "Delta_tau" if kind == "shear" else "Delta_sigma", "MPa", stress,
        f"{welds.load_range:g} of the service load, over {mm(welds.thin.t):.4g} of sheet",
    )  # fmt: skip
    if limit is not None and above(stress, limit):
        return TOE.at_most(
            f"the range of {mpa(stress):.4g} is over {fa.MOST_RANGE:g} times the yield strength ({mpa(limit):.4g})",
            capacity=float(strength.value), demand=stress, unit="MPa",
            trace=[looked, strength, stated],
        )  # fmt: skip
    note = f"{why}; bending of the sheet not included"
    if below(welds.thin.t, fa.THINNEST):
        note += f"; sheet under {mm(fa.THINNEST)}: a screen only"
    return TOE.judge(
        capacity=float(strength.value), demand=stress, unit="MPa",
        trace=[looked, strength, stated], note=note,
    )  # fmt: skip


def toe_detail(welds: FilletGroup) -> str:
    """Detail of the sheet at the toe of a weld across its load."""
    if welds.joint == "lap":
        return "lap-lap-plate"
    across = max(s.t for s in welds.sheets) + 2 * welds.leg_over_all
    return "tee-toe-50" if at_most(across, fa.SHORT_ATTACHMENT) else "tee-toe-80"


def _butt(welds: FilletGroup, elastic: ElasticWelds) -> Check:
    detail = welds.detail or ("butt-one-side-tested" if welds.tested else "butt-one-side")
    strength, looked, why = strength_for(detail, _cycles(welds))
    stress = float(np.hypot(elastic.ends.normal, elastic.ends.lift).max()) / welds.design_throat * welds.load_range
    stated = Stated("Delta_sigma", "MPa", stress, f"{welds.load_range:g} of the service load, across the weld")
    uneven = _uneven(welds)
    left = float(strength.value)
    if uneven:
        left *= uneven[0].value
        uneven.append(Stated("Delta_sigma_R", "MPa", left, "k_s times what the category lasts"))
    trace: list[Evaluation | Looked | Stated] = [looked, strength, *uneven, stated]
    return BUTT.judge(
        capacity=left, demand=stress, unit="MPa", trace=trace,
        note=f"{why}; less by k_s, flush on one side" if uneven else why,
    )  # fmt: skip


def _uneven(welds: FilletGroup) -> list[Stated]:
    """What unequal sheets that lie flush on one side leave of a butt weld's category: EN 1993-1-9 Table 8.3, 17."""
    t_1, t_2 = sorted(sheet.t for sheet in welds.parts)
    if not above(t_2, t_1):
        return []
    e = (t_2 - t_1) / 2
    k_s = 1 / (1 + 6 * e / t_1 * t_1**1.5 / (t_1**1.5 + t_2**1.5))
    how = f"sheets of {mm(t_1, ' and ', t_2):.4g} flush on one side: 1 / (1 + 6 e / t_1 t_1^1.5 / (t_1^1.5 + t_2^1.5))"
    return [Stated("k_s", "1", k_s, how, fa.EN19, "from memory")]


def sheet_fatigue(
    *, stress: float, cycles: float, part: float, t: float, f_y: float | None, what: str, trace: Any = ()
) -> Check:
    """The sheet of a brace or panel under `part` of its greatest service stress [MPa], come and gone `cycles` times."""
    strength, looked, why = strength_for(SHEET_DETAIL, max(cycles, LEAST_CYCLES))
    demand = stress * part
    stated = Stated("Delta_sigma", "MPa", demand, f"{part:g} of the service load, {what}")
    given = [*trace, looked, strength, stated]
    if f_y is not None and above(demand, fa.MOST_RANGE * f_y):
        limit = mpa(fa.MOST_RANGE * f_y)
        return SHEET.at_most(
            f"the range of {mpa(demand):.4g} is over {fa.MOST_RANGE:g} times the yield strength ({limit:.4g})",
            capacity=float(strength.value), demand=demand, unit="MPa", trace=given,
        )  # fmt: skip
    note = f"{why}; taken: something small is welded to it where it is stressed most"
    if below(cycles, LEAST_CYCLES):
        note += "; the curves start at 10 000 load changes, judged as so many"
    if below(t, fa.THINNEST):
        note += f"; sheet under {mm(fa.THINNEST)}: a screen only"
    return SHEET.judge(capacity=float(strength.value), demand=demand, unit="MPa", trace=given, note=note)


SPOT_SHEET = (0.5, 3.0)
"""Thickness of the sheet the structural stress of a spot was made for [mm]."""


def spot_fatigue(
    *, t: float, d: float, shear: float, peel: float, arm: float, cycles: float, peel_arm: float = 0.0
) -> list[Check]:
    """The screen of a spot under ranges of shear and peel [N]: no category, and a generic estimate.

    `t` [mm] is the thinner sheet, `d` [mm] the spot, `arm` [mm] the offset of the shear that bends it, `peel_arm` [mm]
    that of the peel.  The estimate is judged one way only: its constants are generic, of low confidence and from
    memory, so that it is `over` where the life they give, with the factor of safe life on the stress, is less than the
    changes asked for, and `info` where it is not.  What falls short even so must not hold; what passes must be proved.
    """
    no_category = SPOT.outside("EN 1993-1-9 has no detail category for spot welds", unit="MPa")
    low, high = SPOT_SHEET
    used = min(max(t, low), high)
    arm *= used / t  # the offset is that of the sheet itself
    usual = spot_size.USUAL.evaluate(t=t)
    notes, reasons = [], []
    if above(t, high):
        notes.append(f"taken as sheet of {mm(high):g}, the thickest the method was made for")
    if below(t, low):
        reasons.append(f"t = {mm(t):.4g}, must be at least {mm(low):g} (sheet the method was made for)")
    # stress over the intercept of its line: the larger of the two cracks first
    smallest = fa.LEAST_IN_SHEET * used**0.5
    where, why = fa.spot_failure(d=d, t=used)
    moment = shear * arm + peel * peel_arm
    # shear along x, so that the bending of the offset adds to it behind the spot
    sheet = fa.SPOT_SHEET_STRESS.evaluate(
        F_x=shear, F_y=0.0, F_z=peel, M_x=0.0, M_y=moment, t=used, d=max(d, smallest), theta=float(np.pi)
    )
    found: list[tuple[str, float, str, list[Evaluation]]] = [("sheet", float(sheet.value), why, [sheet])]
    if where == "nugget":
        # bent no more than in the thickest sheet in which it would still crack the sheet and not itself
        offset = min(arm, (d / fa.LEAST_IN_SHEET) ** 2)
        tau = fa.SPOT_NUGGET_SHEAR.evaluate(F=shear, d=d)
        normal = fa.SPOT_NUGGET_NORMAL.evaluate(F_z=peel, M=shear * offset + peel * peel_arm, d=d)
        both = float(np.hypot(float(normal.value), np.sqrt(3.0) * float(tau.value)))
        found = [("sheet", float(sheet.value), "as round a spot of the least size that cracks the sheet", [sheet])]
        found.append(("nugget", both, why, [tau, normal]))
    where, range_, why, working = max(found, key=lambda one: one[1] / fa.GENERIC_INTERCEPT[one[0]])
    if range_ <= 0:
        return [no_category]
    S_RI = fa.GENERIC_INTERCEPT[where]
    first, knee = least(fa.SPOT_STRENGTH_HIGH, "N"), most(fa.SPOT_STRENGTH_HIGH, "N")
    changes = max(cycles, first)
    line = fa.SPOT_STRENGTH_HIGH if at_most(changes, knee) else fa.SPOT_STRENGTH_LOW
    strength = line.evaluate(S_RI=S_RI, N=changes)
    of_life = fa.SPOT_CYCLES_HIGH if at_most((S_RI / range_) ** 6, knee) else fa.SPOT_CYCLES_LOW
    life = of_life.evaluate(S_RI=S_RI, Delta_S=range_)
    trace: list[Evaluation | Looked | Stated] = [
        usual, *working, Stated("S_RI", "MPa", S_RI, f"generic, {where}: {why}"), strength, life,
    ]  # fmt: skip
    lasts = f"lasts about {figures(float(life.value))} load changes, asked are {figures(cycles)}"
    if below(float(life.value), first):
        lasts = "near its static strength, it lasts under 1000 load changes, where the line does not reach"
    rough = "generic constants from memory: an order of magnitude, to be proved by tests of your own spots"
    notes = [f"{lasts}; {rough}", *notes]
    numbers: dict[str, Any] = {"capacity": float(strength.value), "demand": range_, "unit": "MPa", "trace": trace}
    if reasons:
        return [no_category, SPOT_STRESS.at_most([*reasons, *notes], **numbers)]
    judged = SPOT_STRESS.judge(note="; ".join(notes), **numbers)
    if judged.status == "over":
        return [no_category, judged]
    notes.append(f"it keeps γ_Mf = {fa.GAMMA_MF:g} on the stress, which speaks against nothing and proves nothing")
    return [no_category, SPOT_STRESS.info(note="; ".join(notes), **numbers)]
