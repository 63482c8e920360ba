"""What is said of plug and arc spot welds beside their strength: loads no method covers, and the cautions."""

from __future__ import annotations

from jointcalc.check.heat import THIN_ARC, UNEVEN, beside
from jointcalc.check.plug_base import (
    AISC_PLUG,
    AISI_BOTH,
    AISI_SEAM_SHEET,
    AISI_SEAM_WELD,
    AISI_SHEET,
    AISI_UPLIFT_SHEET,
    AISI_UPLIFT_WELD,
    AISI_WELD,
    EN_ARC_SHEET,
    EN_ARC_WELD,
    EN_PLUG,
    EN_TEARING,
    PlugAction,
)
from jointcalc.formula import spot_en1993, spot_size
from jointcalc.formula.branch import above, below
from jointcalc.model.fields import PURPOSES
from jointcalc.model.plug import PlugRow
from jointcalc.quantity.sentence import mm, mpa
from jointcalc.result import Check, Need, caution, collect, uncovered
from jointcalc.result.cautions import Caution
from jointcalc.tables.trade import filler_row


def unjudged_of(row: PlugRow, checks: list[Check]) -> tuple[str, ...]:
    """Parts of the load that no method covers: sheet holding elsewhere is no answer for the weld."""
    judged = [c for c in checks if c.status in ("ok", "over") and (c.demand is None or c.demand.value is not None)]
    used = {c.method.key for c in judged}
    missing: list[str] = []
    # an arc spot needs both sides of one method: weld metal that holds says nothing of the sheet round it
    pairs = ((AISI_WELD, AISI_SHEET), (AISI_SEAM_WELD, AISI_SEAM_SHEET), (EN_ARC_WELD, EN_ARC_SHEET))
    whole = [{m.key} for m in (AISC_PLUG, EN_PLUG)] + [{m.key for m in pair} for pair in pairs]
    # the rule for fused spots is asked at every interface of the stack
    interfaces = len(row.sheets) - 1
    everywhere = sum(c.method is EN_TEARING for c in judged) == interfaces
    if not everywhere and not any(keys <= used for keys in whole):
        missing.append("no method applies to these welds in shear")
    lifted = any("uplift" in c.covers and c.method not in (AISI_UPLIFT_WELD, AISI_UPLIFT_SHEET) for c in judged)
    if row.uplift and not lifted and not {AISI_UPLIFT_WELD.key, AISI_UPLIFT_SHEET.key} <= used:
        why = "no published rule covers plug welds lifted off; turn the joint into shear, or test coupons"
        missing.append(why if row.hole is not None else "no method applies to these welds in uplift")
    needs = []
    for force, where, word in ((row.shear, "along", "end"), (row.across, "across", "edge")):
        if force:
            needs.append(Need(f"end-{where}", f"no method applies to the sheet between weld and {word}"))
            needs.append(
                Need(f"sheet-{where}", f"no method applies to the section of the sheet, pulled {where} the row")
            )
    if row.uplift and (row.shear or row.across):
        needs.append(Need("both", "no method applies to shear and uplift together"))
    informed = [c for c in checks if c.method is AISI_BOTH and c.status == "info"]  # small enough not to be asked
    return (*missing, *(m for m in uncovered(needs, checks) if not (informed and "together" in m)))


def cautions_of(action: PlugAction, checks: list[Check]) -> tuple[Caution, ...]:
    """What the inspector and the builder are told beside the numbers."""
    row = action.row
    raised: list[Caution | str] = [PURPOSES[word] for word in row.purpose]
    for sheet in row.sheets:
        raised += [caution(code, **words) for code, words in sheet.caution_codes()]
    raised += ["unfactored-load"] if row.load_factor == 1.0 else []
    if not (row.shear or row.across or row.uplift):
        raised.append("no-load")
    if row.tested is not None:
        from jointcalc.check.coupon_method import coupon_cautions

        raised += coupon_cautions(row, checks, turned=False, missing="no-coupons")
    elif not row.coupons:
        raised.append("no-coupons")
    if len({s.material.family for s in row.sheets}) > 1:
        raised.append("galvanic")
    raised += ["single-lap"] if row.across else []
    raised += _heat(row)
    raised.append("plug-proof")
    if below(row.edge, row.diameter):
        raised.append(caution("plug-edge", left=f"{mm(row.edge - row.diameter / 2):.2g}"))
    widest = spot_en1993.WIDEST * (row.interface or float(spot_size.FUSION_EN(t=min(s.t for s in row.sheets))))
    if row.along > 1 and above(row.actual_pitch, widest):
        raised.append(caution("wide-pitch", widest=f"{mm(widest):.3g}"))
    if row.hole is not None and row.fill is not None and below(row.fill, row.top):
        raised.append("part-fill")
    raised += ["corrosion", "fatigue", "near-hazards"]
    if row.uplift:
        raised.append("sheet-bends")
    raised += ["unzip"] if row.along > 1 and not row.entry else []
    raised += action.shares.narrow()
    if row.ends and row.shear and action.brittle:
        raised.append(caution("row-brittle", why=action.brittle))
    if row.standing == 1 and (row.shear or row.across or row.uplift):
        raised.append("single-weld")
    if row.missing:
        raised.append(caution("welds-missing", which=", ".join(f"{n}" for n in row.missing), of=row.welds))
    raised.append("row-in-line")
    if len(row.sheets) > 2:
        raised.append("three-sheets")
    if any(c.provenance == "from memory" for c in checks if c.status in ("ok", "over")):
        raised.append("from-memory")
    return collect(raised)


def _heat(row: PlugRow) -> list[Caution | str]:
    """What the heat of the arc does to these sheets, and what they do to the weld."""
    raised: list[Caution | str] = []
    steels = [s for s in row.sheets if s.material.family != "aluminium"]
    chromoly = [s for s in steels if s.material.grade.startswith("4130")]
    raised += ["heat-affected-4130"] if chromoly else []
    soft = [s for s in steels if beside(s).softened and s not in chromoly]
    if soft:
        left, own = f"{mpa(beside(soft[0]).f_u):.4g}", f"{mpa(soft[0].f_u):.4g}"
        raised.append(caution("softened-zone", strength=left, own=own))
    if any(s.coated for s in row.sheets):
        raised.append("zinc-pores")
    thin = min(s.t for s in row.sheets)
    raised += ["burn-through"] if below(thin, THIN_ARC) else []
    raised += ["heat-balance"] if above(max(s.t for s in row.sheets), UNEVEN * thin) else []
    if {s.material.family for s in row.sheets} == {"steel", "stainless"} and not filler_row(row.filler)[
        "classification"
    ].startswith("E309"):
        raised.append("black-to-white")
    return raised
