"""What is said of arc welds beside their strength: loads no method covers, and the cautions."""

from __future__ import annotations

from math import hypot

import numpy as np

from jointcalc.check.fillet_action import FilletAction
from jointcalc.check.fillet_bend import needs
from jointcalc.check.fillet_lasting import needs as lasting_needs
from jointcalc.check.fillet_strap import STRAP
from jointcalc.check.heat import THIN_ARC, UNEVEN, beside
from jointcalc.formula import heat
from jointcalc.formula.branch import above, at_least, below
from jointcalc.model.fields import PURPOSES
from jointcalc.quantity.sentence import mm, mpa
from jointcalc.result import Check, Need, caution, collect, uncovered
from jointcalc.result.cautions import Caution

LAMELLAR = 10.0
"""Thickness [mm] from which a pull through the plate is cautioned: common practice, no source."""


def unjudged_of(action: FilletAction, checks: list[Check]) -> tuple[str, ...]:
    """What of the load no method judges: weld and sheet, direction by direction, and what the load bends."""
    m = action.welds
    what = f"this {m.weld} weld in {m.thin.label}"
    parts = [
        ("weld", action.elastic.ends.resultant, f"no method judges the weld metal of {what}"),
        ("along", action.along, f"no method judges the sheet beside {what} for the load along it"),
        ("across", action.sideways, f"no method judges the sheet beside {what} for the load across it"),
        ("lift", action.lift, f"no method judges the sheet beside {what} for the load out of its plane"),
    ]
    found = [Need(part, sentence) for part, share, sentence in parts if action.has(share)]
    if action.lifted and m.weld != "butt":
        found.append(
            Need("pull-out", f"no method judges {m.parts[1].label} under the weld for the load out of its plane")
        )
    if m.cycles is not None:
        found.append(Need("fatigue", f"no method judges {what} for {m.cycles:.4g} load changes"))
    return uncovered([*found, *needs(action), *lasting_needs(action, checks)], checks)


def cautions_of(action: FilletAction, checks: list[Check]) -> tuple[Caution, ...]:
    """What the inspector and the builder are told beside the numbers."""
    m = action.welds
    raised: list[Caution | str] = [PURPOSES[word] for word in m.purpose]
    for sheet in m.sheets:
        raised += [caution(code, **words) for code, words in sheet.caution_codes()]
    if action.family == "aluminium":
        raised.append("heat-affected-aluminium")
    if m.chromoly:
        raised.append("heat-affected-4130")
    if len({s.material.family for s in m.sheets}) > 1:
        raised.append("galvanic")
    raised += _more_cautions(action, checks)
    if m.joint == "lap" or m.stitch is not None:
        raised.append("corrosion")
    raised += ["unfactored-load"] if m.load_factor == 1.0 else []
    if m.cycles is None:
        raised.append("fatigue")
    if any(c.key.startswith("advice.") for c in checks):
        raised.append("advice-only")
    if not m.coupons:
        raised.append("weld-coupons")
    raised.append("near-hazards")
    if any(c.provenance == "from memory" for c in checks if c.status in ("ok", "over")):
        raised.append("from-memory")
    return collect(raised)


def _more_cautions(action: FilletAction, checks: list[Check]) -> list[Caution | str]:
    """Cautions of what no number tells: fit-up, heat, supports that are taken for granted."""
    m = action.welds
    raised: list[Caution | str] = ["weld-fit-up"]
    soft = [s for s in m.sheets if s.material.family != "aluminium" and beside(s).softened and not m.chromoly]
    if soft:
        left, own = f"{mpa(beside(soft[0]).f_u):.4g}", f"{mpa(soft[0].f_u):.4g}"
        raised.append(caution("softened-zone", strength=left, own=own))
    elif action.family == "steel" and any(at_least(s.f_u, heat.SOFT) for s in m.sheets):
        strong = max(m.sheets, key=lambda s: s.f_u)
        raised.append(caution("softened-zone", strength=f"{mpa(beside(strong).f_u):.4g}", own=f"{mpa(strong.f_u):.4g}"))
    if action.lifted and m.weld != "butt":
        if m.on == "backed":
            raised.append("backed-sheet")
        else:
            raised.append("lasting-dent")
            if m.on == "sheet" and m.between is None:
                raised.append("sheet-supports")
        if m.joint == "tee":
            raised.append("stiff-part")
        if at_least(m.parts[1].t, LAMELLAR):
            raised.append("lamellar")
    families = {s.material.family for s in m.sheets}
    if families == {"steel", "stainless"} and m.filler_row["classification"][:4] not in ("E309",):
        raised.append("black-to-white")
    if any(s.coated for s in m.sheets):
        raised.append("zinc-pores")
    if m.free_edge is not None and m.leg is not None and below(m.free_edge, m.leg):
        raised.append(caution("weld-at-edge", left=f"{mm(m.free_edge):.3g}", leg=f"{mm(m.leg):.3g}"))
    thin, thick = sorted(s.t for s in m.parts)
    if above(thick, UNEVEN * thin):
        raised.append("heat-balance")
    if below(thin, THIN_ARC):
        raised.append("burn-through")
    if m.joint == "lap" and m.weld == "fillet" and _turning_lap(action):
        raised.append("lap-turns")
    if m.joint == "lap" and m.weld == "fillet" and m.width is None and action.in_line and action.has(action.along):
        raised.append("strap-width")
    if any(c.method is STRAP for c in checks) or (m.weld == "butt" and action.has(action.sideways)):
        raised.append("pushed-strap")
    if any(c.method is STRAP for c in checks):
        raised.append("strap-beneath")
    if (
        m.joint == "tee"
        and m.weld == "fillet"
        and len(m.lines) == 1
        and not m.both_sides
        and action.has(action.sideways)
    ):
        raised.append("tee-turns")
    hard = [c for c in checks if c.key == "advice.carbon-equivalent" and c.capacity and c.capacity.value]
    if hard and above(float(hard[0].capacity.value or 0.0), heat.WARM_UP_TO):  # type: ignore[union-attr]
        raised.append("hardened-zone")
    return raised


def _turning_lap(action: FilletAction) -> bool:
    """Whether a lap is held by welds across its force at one end only, so that it turns under the load."""
    m = action.welds
    size = hypot(m.acting.F_x, m.acting.F_y)
    return bool(size > 0 and action.in_line and np.all(action.sideways.max(axis=1) > action.along.max(axis=1)))
