"""What the clauses of arc welds share: thicknesses they reach, factors, the filler, both directions at once."""

from __future__ import annotations

import numpy as np

from jointcalc.check.common import ADDED
from jointcalc.check.fillet_action import FilletAction, place, worst
from jointcalc.formula import aluminium_en1999 as al
from jointcalc.formula import fillet_en1993 as en
from jointcalc.formula import plug_aisc
from jointcalc.formula.branch import at_least, least
from jointcalc.formula.core import Source
from jointcalc.model.fillet import FilletGroup
from jointcalc.quantity.sentence import mpa
from jointcalc.result import Check, Looked, Stated, method
from jointcalc.statics.group_common import Array
from jointcalc.tables.store import load as load_table

ALLOWABLE = "design allowable, ultimate"
THIN_D11 = plug_aisc.THIN_D11
THIN_EN8, LEAST_THROAT = least(en.DIRECTIONAL_STRENGTH, "t"), least(en.DIRECTIONAL_STRENGTH, "a")
"""Thinnest part of EN 1993-1-8 [mm], and its least throat."""
SHEET_BOTH = method(
    "interaction.along-across", "Sheet, along and across", Source("sum of squares", "", "derivation"), per="mm",
    basis="sum of squared utilisations, root", factor=ADDED,
)  # fmt: skip


def weak_filler(action: FilletAction) -> list[str]:
    """Why a rule that counts a butt weld as its sheet does not hold: the filler is the weaker of the two."""
    f_u = min(s.f_u for s in action.welds.sheets)
    if at_least(action.filler.value, f_u):
        return []
    return [
        f"the filler, {mpa(action.filler.value):.4g}, is weaker than the part, {mpa(f_u):.4g}: the weld would tear, "
        "not the sheet; take a stronger filler"
    ]


def along_and_across(action: FilletAction, along: Check, across: Check) -> Check:
    """Both uses at one end of one weld, squares added; the utilisations grow with the shares."""
    per_along = (along.utilisation or 0.0) / float(action.along.max())
    per_across = (across.utilisation or 0.0) / float(action.across.max())
    used = np.hypot(action.along * per_along, action.across * per_across)
    i, j = worst(used)
    at = place(action, action.elastic, i, j)
    trace = [
        Stated("u_1", "1", float(action.along[i, j] * per_along), f"of {along.key}, {at}", status=along.provenance),
        Stated("u_2", "1", float(action.across[i, j] * per_across), f"of {across.key}", status=across.provenance),
    ]
    return SHEET_BOTH.judge(
        capacity=1.0, demand=float(used[i, j]), unit="1", trace=trace,
        note="root of the sum of squares; the documents have no rule for both at once",
    )  # fmt: skip


def strained(action: FilletAction) -> list[tuple[int, Array, Array]]:
    """Part (0 lifted or lapped, 1 underneath), and its shares across and in shear beside the weld [N/mm].

    A pull out of the plane stretches the part that stands on the weld and shears the one under it.
    """
    ends = action.elastic.ends
    if action.welds.weld == "butt":
        return [(n, action.sideways, np.hypot(ends.axial, ends.lift)) for n in (0, 1)]
    return [
        (0, action.across, action.along),
        (1, action.sideways, np.hypot(ends.axial, ends.lift)),
    ]


def filler_strength_en1999(m: FilletGroup, filler: str) -> Looked | None:
    """Weld-metal strength of EN 1999-1-1 Table 8.8: the lower of both parent alloys."""
    found: list[Looked] = []
    for sheet in m.sheets:
        alloy = sheet.material.grade.removeprefix("EN AW-").split("-")[0]
        rows = [
            r
            for r in load_table("filler_aluminium_fw").rows
            if r["filler"].rstrip("A") == filler and r["base"] == alloy
        ]
        if not rows:
            return None
        source = Source(al.EN9, "Table 8.8", "from memory")
        found.append(
            Looked("f_w", "MPa", rows[0].need("f_w"), "filler_aluminium_fw", f"{rows[0]['filler']} on {alloy}", source)
        )
    return min(found, key=lambda looked: looked.value)
