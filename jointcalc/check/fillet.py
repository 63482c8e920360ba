"""Arc welds in a plane, judged by every applicable published method side by side.

The force on each millimetre of weld is found elastically (the weld as a line) at both ends of every
line, where it is greatest; the instantaneous centre of AISC takes the group as a whole.

What the methods give and ask for:

- EN 1993-1-8 and 1993-1-3: characteristic resistances, gamma_M2 x gamma_F.  EN 1993-1-8 starts at 4 mm and
  takes a throat off each end of a weld that is not full size there.
- AISC 360: nominal strengths with Omega.  AWS D1.1 behind it starts at 3 mm; thinner sheet is D1.3 and AISI.
- AISI S100: nominal strengths with Omega, to 4.76 mm.  It has no rule for load along and across at once;
  the squares of both uses are added (our choice: tearing and shear on one line of sheet).  It asks for the
  weld metal over 2.54 mm only; here it is judged in every sheet, so that a thicker one is never the weaker.
- SEI/ASCE 8: the same for stainless sheet.
- What a load out of the plane bends stands in `fillet_bend` and `fillet_root`; what heat leaves of a sheet, in `heat`.
- EN 1999-1-1: weld metal and heat-affected zone, gamma_Mw x gamma_F; the Aluminum Design Manual, 1.95.
- MIL-HDBK-5 for 4130: ultimate allowables, 1.5 and 1.15 for a fitting.

Where each mode stands: weld metal and laps by EN 1993 in `fillet_en`, by AISC 360 in `fillet_aisc`, by AISI S100 in
`fillet_aisi`; stainless sheet in `fillet_stainless`, aluminium and 4130 in `fillet_softened`; the lapped part beside
its welds in `fillet_strap`; sheet bent again and again in `fillet_lasting`; the welds' sizes and places in
`fillet_detailing`; loads that nothing covers and cautions in `fillet_notes`; what is judged is a
`fillet_action.FilletAction`.
"""

from __future__ import annotations

from math import hypot

from jointcalc.check.fatigue import weld_fatigue
from jointcalc.check.fillet_action import FilletAction
from jointcalc.check.fillet_aisc import by_aisc
from jointcalc.check.fillet_aisi import by_aisi
from jointcalc.check.fillet_bend import bending
from jointcalc.check.fillet_detailing import weld_sizes
from jointcalc.check.fillet_en import by_eurocode, throat_strength
from jointcalc.check.fillet_lasting import bent_again
from jointcalc.check.fillet_notes import cautions_of, unjudged_of
from jointcalc.check.fillet_root import root
from jointcalc.check.fillet_softened import by_mil_4130, in_aluminium
from jointcalc.check.fillet_stainless import by_asce8
from jointcalc.check.fillet_strap import strap
from jointcalc.check.heat import weld_heat
from jointcalc.errors import InputError
from jointcalc.model.fields import NO_LOAD
from jointcalc.model.fillet import FilletGroup
from jointcalc.quantity.sentence import joined, mm
from jointcalc.result import Amount, Check, Result


def check_fillet(welds: FilletGroup) -> Result:
    """Judge a weld group; raises InputError when a strength it needs is missing from its grade, or there is no load."""
    if not welds.loaded_by_itself:
        raise InputError(NO_LOAD, field="force")
    action = FilletAction.of(welds)
    checks: list[Check] = []
    if action.family == "aluminium":
        checks += in_aluminium(action)
    else:
        checks += by_eurocode(action) + by_aisc(action) + by_aisi(action)
        if action.family == "stainless":
            checks += by_asce8(action)
        if welds.chromoly:
            checks += by_mil_4130(action)
    checks += root(action, *throat_strength(action)) + bending(action) + strap(action)
    checks += weld_fatigue(welds, action.elastic) + bent_again(action, checks)
    checks += weld_sizes(action)
    checks += weld_heat(welds)
    elastic, group = action.elastic, welds.group
    centre = group.sections()
    line = welds.parents[elastic.peak_line]
    x, y = elastic.peak_at
    values = {
        "peak": Amount(elastic.peak, "N/mm"),
        "peak_at": Amount(hypot(x - welds.lines[line][0], y - welds.lines[line][1]), "mm"),
        "peak_line": Amount(float(line + 1), "1"),
        "peak_at_x": Amount(x, "mm"),
        "peak_at_y": Amount(y, "mm"),
        "peak_stress": Amount(elastic.peak_stress, "MPa"),
        "throat": Amount(welds.design_throat, "mm"),
        "weld_length": Amount(float(group.lengths.sum()), "mm"),
        "centroid_x": Amount(centre.x, "mm"),
        "centroid_y": Amount(centre.y, "mm"),
    }
    return Result(
        kind=welds.kind,
        id=welds.id,
        title=welds.title,
        checks=tuple(checks),
        values=values,
        cautions=cautions_of(action, checks),
        unjudged=unjudged_of(action, checks),
        about=_about(welds),
        model=welds,
    )


def _about(welds: FilletGroup) -> dict[str, str]:
    n = len(welds.lines)
    size = f"leg {mm(welds.leg):.4g}" if welds.leg is not None else f"throat {mm(welds.design_throat):.3g}"
    word = welds.weld if welds.weld != "fillet" else f"{welds.joint} fillet"
    both = " on both sides" if welds.both_sides else ""
    stitched = "" if welds.stitch is None else f", stitched {mm(welds.stitch[0], ' on ', welds.stitch[1]):.4g}"
    if welds.weld != "fillet":
        size = f"throat {mm(welds.design_throat):.3g}"
    return {
        "welds": f"{n} {word}{'s' if n > 1 else ''}{both}, {size}{stitched}",
        "sheets": joined(" on ", (sheet.label for sheet in welds.sheets)),
        "filler": welds.filler,
    }
