"""Whether the bead can be made: its strain against what the sheet can take."""

from __future__ import annotations

from jointcalc.check.panel_base import LIMIT, State
from jointcalc.formula import bead as bead_formulas
from jointcalc.formula.core import Source
from jointcalc.result import DETAILING, Check, Looked, Result, method
from jointcalc.statics import bead as beads

STRAIN = method("forming.bead-strain-max", "Strain of the bead", bead_formulas.DRAW, per="member", basis=DETAILING,
               bound="greatest",
                factor=LIMIT)  # fmt: skip


def forming(s: State) -> list[Check]:
    """Strain of the bead against the elongation of the sheet."""
    strip = s.panel.strip
    if strip is None:
        return []
    about = s.sheet.material
    strain = bead_formulas.BEAD_STRAIN.evaluate(L_b=strip.bead_length, b=strip.bead.width)
    if about.elongation is None:
        return [STRAIN.outside(f"no elongation is tabulated for {about.grade}", demand=strip.strain, unit="1")]
    told = beads.forming(strip.strain, about.elongation)
    source = Source(about.standard, "", "from memory")
    looked = Looked("A", "1", about.elongation, "materials", f"elongation of {about.grade}", source)
    return [
        STRAIN.judge(
            capacity=about.elongation, demand=strip.strain, required=1.0, unit="1", trace=[strain, looked],
            note=f"{told.verdict}: {told.why}",
        )
    ]  # fmt: skip


def bead_verdict(result: Result) -> str:
    """fails, marginal or fine, as the bead was judged; empty for a flat sheet or an unknown elongation."""
    for check in result.checks:
        if check.method.key == STRAIN.key and check.status != "outside":
            return check.note.partition(":")[0]
    return ""
