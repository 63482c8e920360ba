"""A spot-welded seam, judged by every applicable published method side by side.

What the methods are differs, so what they ask for differs too:

- EN 1993-1-3 gives characteristic resistances: required gamma_M2 x gamma_F.  Where a spot would shear before the sheet
  tears, its shear is asked for the 1.25 of the ductility condition on top, down to 3.5 sqrt(t).
- AISI S100 and the older AISI table give nominal (class mean) strengths with their own Omega.
- The automotive standard gives acceptance floors for a 4 sqrt(t) weld: the scatter is in the floor
  already, so gamma_M2 x gamma_F is asked for (our choice, as for a characteristic value).
- Handbook charts give a guaranteed minimum (the builder's own factor) or a class mean with a printed
  spread (the builder's factor divided by 1 - spread).
- The military handbook gives ultimate design allowables: 1.5 on ultimate and 1.15 for a fitting.
- The pull-out model is a mean: the builder's own factor; it covers no load by itself.
- A peeled flange folds open at its plastic limit (derivation): required gamma_M0 x gamma_F.

A method left on its weak side (a spot smaller, a sheet thinner, an edge nearer than it assumes) bounds from above what
such a spot carries: `over` when even that is too little, else `outside`.  Left on its strong side by a greatest pitch,
edge or thickness that only ends a benefit, it is used at that greatest value.

Where each mode stands: one spot in the plane of the sheets by the codes in `seam_spot`, by charts, allowables and
tests in `seam_charts`; the sheets through the row in `seam_sheets`; peel, and peel with shear, in `seam_peel`; the
sheets buckling between the spots in `seam_between`; distances and the stack in `seam_detailing`; loads that nothing
covers, the screen of fatigue and the cautions in `seam_notes`.  How the spots share a load that comes in at an end,
or when some are missing, in `row_shares`; the load on one spot and what all of them ask of a sheet: `seam_base`.
"""

from __future__ import annotations

from jointcalc.check.seam_base import PEEL_FOLD, SeamAction
from jointcalc.check.seam_between import between_spots
from jointcalc.check.seam_charts import whole_stack
from jointcalc.check.seam_detailing import first_schedule, spot_distances
from jointcalc.check.seam_notes import cautions_of, fatigue_screen, unjudged_of
from jointcalc.check.seam_peel import peel_with_shear, peeled, peeled_flange
from jointcalc.check.seam_sheets import sheets_through_row
from jointcalc.check.seam_spot import en_spot, tear_out
from jointcalc.formula.core import Evaluation
from jointcalc.model.seam import SpotSeam
from jointcalc.quantity.sentence import joined
from jointcalc.result import Amount, Check, Result


def check_seam(seam: SpotSeam) -> Result:
    """Judge a seam; raises InputError only when a needed strength is missing from its grade."""
    action = SeamAction(seam)
    checks: list[Check] = []
    checks += en_spot(action)
    checks += tear_out(action)
    checks += whole_stack(action)
    checks += sheets_through_row(action)
    flange = peeled_flange(action)
    checks += peeled(action, flange) if flange is not None else []
    checks += peel_with_shear(action, checks)
    checks += between_spots(action)
    checks += action.shares.check()
    if seam.tested is not None:
        from jointcalc.check.coupon_method import spot_checks

        checks += spot_checks(action)
    checks += fatigue_screen(action)
    checks += spot_distances(action)
    values = {
        "spots": Amount(float(seam.spots), "1"),
        "pitch": Amount(seam.actual_pitch, "mm"),
        "spot_diameter": Amount(seam.d, "mm"),
        "end_distance": Amount(seam.actual_end, "mm"),
        "shear_per_spot": Amount(action.along, "N"),
        "across_per_spot": Amount(action.across, "N"),
        "peel_per_spot": Amount(action.peel, "N"),
        "peak_per_spot": Amount(action.along_by(action.shares.peak), "N"),
        "end_share": Amount(action.shares.peak, "1"),
        "sharing_spots": Amount(float(action.shares.together), "1"),
        **first_schedule(action),
    }
    life = next((c for c in checks if c.method.key == "rupp.spot-fatigue" and c.capacity), None)
    if life is not None:
        values["spot_stress_range"] = life.demand or Amount(None, "MPa")
        values["spot_life"] = Amount(
            next(float(s.value) for s in life.trace if isinstance(s, Evaluation) and s.formula.symbol == "N_f"),
            "cycles",
        )
    for check in checks:
        if check.method is PEEL_FOLD and flange is not None and check.capacity and check.capacity.value:
            values["peel_fold_per_length"] = Amount(check.capacity.value / flange.width, "N/mm")
    return Result(
        kind=seam.kind,
        id=seam.id,
        title=seam.title,
        checks=tuple(checks),
        values=values,
        cautions=cautions_of(action, checks),
        unjudged=unjudged_of(action, checks),
        model=seam,
        about={"sheets": joined(" + ", (sheet.label for sheet in seam.sheets))},
    )
