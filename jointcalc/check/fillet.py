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
- What a load out of the plane bends stands in `fillet_bend`, what the heat leaves of a sheet in `heat`.
- EN 1999-1-1: weld metal and heat-affected zone, gamma_Mw x gamma_F; the Aluminum Design Manual, 1.95.
- MIL-HDBK-5 for 4130: ultimate allowables, 1.5 and 1.15 for a fitting.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import hypot, sqrt

import numpy as np

from jointcalc.check.common import CHARACTERISTIC, NOMINAL, PARTIAL
from jointcalc.check.fatigue import weld_fatigue
from jointcalc.check.fillet_bend import bending, needs, root
from jointcalc.check.fillet_case import NOTHING, Case, bounded, measured, place, worst
from jointcalc.check.heat import Beside, beside, weld_heat
from jointcalc.errors import InputError
from jointcalc.formula import aluminium_en1999 as al
from jointcalc.formula import fillet_aisc as aisc
from jointcalc.formula import fillet_aisi as aisi
from jointcalc.formula import fillet_asce8 as asce8
from jointcalc.formula import fillet_en1993 as en
from jointcalc.formula import flare, heat
from jointcalc.formula import heat_affected_4130 as cm
from jointcalc.formula.branch import SLACK, above, at_least, at_most, below
from jointcalc.formula.core import Evaluation, Formula, Source
from jointcalc.model.fields import PURPOSES
from jointcalc.model.fillet import FilletGroup
from jointcalc.result import (
    DETAILING,
    GAMMA_M2,
    Amount,
    Check,
    Looked,
    Method,
    Need,
    Result,
    Stated,
    caution,
    collect,
    method,
    uncovered,
)
from jointcalc.result.cautions import Caution
from jointcalc.statics.group_common import Array, Load
from jointcalc.statics.weld_group import WeldGroup
from jointcalc.tables.store import load as load_table

ALLOWABLE = "design allowable, ultimate"
THIN_D11, THIN_EN8, LEAST_THROAT = 3.0, 4.0, 3.0
"""Thinnest part of AWS D1.1 [mm] (1/8 in), the welding code AISC 360 rests on; of EN 1993-1-8; its least throat."""

_EN8 = Source(en.EN8, "4.5.3.2, directional method", "second-hand")
_AISC = Source(aisc.AISC, "J2.4", "second-hand")
_AISI = Source(aisi.AISI, "J2.5", "from memory")
_AISI_FLARE = Source(aisi.AISI, "J2.6", "from memory")
_AISI_GROOVE = Source(aisi.AISI, "J2.1", "from memory")
_J4 = Source(aisc.AISC, "J4", "from memory")
_EN9 = Source(al.EN9, "8.6.3", "from memory")
_MIL = Source("MIL-HDBK-5", "welded joints of alloy steel", "from memory")
_J22 = Source(aisc.AISC, "J2.2b", "second-hand")

EN8_DIRECTIONAL = method(
    "en1993-1-8.directional", "Weld, directional method", _EN8, per="mm", basis=CHARACTERISTIC, factor=PARTIAL,
    covers=("weld",)
)  # fmt: skip
EN8_NORMAL = method(
    "en1993-1-8.normal-stress", "Weld, normal stress", _EN8, per="mm", basis=CHARACTERISTIC,
    factor=PARTIAL, covers=("weld",)
)  # fmt: skip
EN8_SIMPLIFIED = method(
    "en1993-1-8.simplified", "Weld, simplified method", Source(en.EN8, "4.5.3.3, simplified method"), per="mm",
    basis=CHARACTERISTIC, factor=PARTIAL, covers=("weld",)
)  # fmt: skip
EN8_BUTT = method(
    "en1993-1-8.butt", "Butt weld, part yields", Source(en.EN8, "4.7.1(1)"), per="mm",
    basis=CHARACTERISTIC, factor="γ_M0 × γ_F", covers=("weld", "along", "across", "lift")
)  # fmt: skip
EN3_LAP = method(
    "en1993-1-3.lap-weld", "Lap fillets in sheet", Source(en.EN3, "8.5.2"), per="group", basis=CHARACTERISTIC,
    factor=PARTIAL, covers=("weld", "along", "across")
)  # fmt: skip
AISC_ELASTIC = method(
    "aisc-360.fillet-elastic", "Fillet, elastic vectors", _AISC, per="mm", basis=NOMINAL, factor="Ω = 2.00",
    covers=("weld",)
)  # fmt: skip
AISC_CENTRE = method(
    "aisc-360.fillet-centre", "Fillet group, ultimate",
    Source(aisc.AISC, "J2.4(b), Manual part 8", "second-hand"), per="group", basis=NOMINAL, factor="Ω = 2.00",
    covers=("weld",)
)  # fmt: skip
AISC_YIELD = method(
    "aisc-360.base-yield", "Base metal, shear yield", _J4, per="weld", basis=NOMINAL, factor="Ω = 1.50",
    covers=("along", "across", "lift", "pull-out"),
)  # fmt: skip
AISC_RUPTURE = method(
    "aisc-360.base-rupture", "Base metal, shear rupture", _J4, per="weld", basis=NOMINAL, factor="Ω = 2.00",
    covers=("along", "across", "lift", "pull-out"),
)  # fmt: skip
AISC_FLARE = method(
    "aisc-360.flare", "Flare weld in shear", flare.READ, per="mm", basis=NOMINAL, factor="Ω = 2.00", covers=("weld",)
)  # fmt: skip
AISI_LONGITUDINAL = method(
    "aisi-s100.fillet-longitudinal", "Sheet beside weld, along", _AISI, per="weld", basis=NOMINAL,
    factor="Ω = 2.55, or 3.05 from L/t = 25", covers=("along",)
)  # fmt: skip
AISI_TRANSVERSE = method(
    "aisi-s100.fillet-transverse", "Sheet beside weld, across", _AISI, per="weld", basis=NOMINAL,
    factor="Ω = 2.35", covers=("across", "lift")
)  # fmt: skip
AISI_THROAT = method(
    "aisi-s100.weld-metal", "Weld metal on the throat", _AISI, per="weld", basis=NOMINAL, factor="Ω = 2.55",
    covers=("weld",)
)  # fmt: skip
AISI_FLARE_LONGITUDINAL = method(
    "aisi-s100.flare-longitudinal", "Sheet beside flare, along", _AISI_FLARE, per="weld", basis=NOMINAL,
    factor="Ω = 2.80", covers=("along",)
)  # fmt: skip
AISI_FLARE_TRANSVERSE = method(
    "aisi-s100.flare-transverse", "Sheet beside flare, across", _AISI_FLARE, per="weld", basis=NOMINAL,
    factor="Ω = 2.55", covers=("across", "lift")
)  # fmt: skip
AISI_GROOVE_TENSION = method(
    "aisi-s100.groove-tension", "Butt weld, tension across", _AISI_GROOVE, per="weld", basis=NOMINAL,
    factor="Ω = 1.70", covers=("across", "weld")
)  # fmt: skip
AISI_GROOVE_SHEAR = method(
    "aisi-s100.groove-shear", "Butt weld, shear", _AISI_GROOVE, per="weld", basis=NOMINAL,
    factor="Ω = 1.90 weld, 1.70 sheet", covers=("along", "lift", "weld")
)  # fmt: skip
AISI_BASE = method(
    "aisi-s100.base-shear", "Sheet under the weld sheared through", Source(aisi.AISI, "J6.1", "second-hand"),
    per="weld", basis=NOMINAL, factor="Ω = 2.50", covers=("pull-out",),
)  # fmt: skip
ASCE_LONGITUDINAL = method(
    "asce-8.fillet-longitudinal", "Stainless beside weld, along", Source(asce8.ASCE8, "5.2.2"), per="weld",
    basis=NOMINAL, factor="1/0.55 × γ_F", covers=("along",),
)  # fmt: skip
ASCE_TRANSVERSE = method(
    "asce-8.fillet-transverse", "Stainless beside weld, across", Source(asce8.ASCE8, "5.2.2"), per="weld",
    basis=NOMINAL, factor="1/0.55 × γ_F", covers=("across", "lift"),
)  # fmt: skip
ASCE_WELD = method(
    "asce-8.weld-metal", "Stainless weld metal on the throat", Source(asce8.ASCE8, "5.2.2"), per="weld",
    basis=NOMINAL, factor="1/0.55 × γ_F", covers=("weld",),
)  # fmt: skip
EN1_BESIDE = method(
    "en1993-1-1.beside-weld", "Part beside the weld yields", Source("EN 1993-1-1:2005", "6.2.1(5)"), per="mm",
    basis=CHARACTERISTIC, factor="γ_M0 × γ_F", covers=("along", "across", "lift", "pull-out"),
)  # fmt: skip
SHEET_BOTH = method(
    "interaction.along-across", "Sheet, along and across", Source("sum of squares", "", "derivation"), per="mm",
    basis="sum of squared utilisations, root", factor="1",
)  # fmt: skip
EN9_WELD = method(
    "en1999-1-1.weld-metal", "Weld metal", _EN9, per="mm", basis=CHARACTERISTIC, factor="γ_Mw × γ_F", covers=("weld",)
)
EN9_ZONE = method(
    "en1999-1-1.heat-affected", "Heat-affected zone", _EN9, per="mm", basis=CHARACTERISTIC,
    factor="γ_Mw × γ_F", covers=("along", "across", "lift", "pull-out"),
)  # fmt: skip
ADM_FILLET = method(
    "adm.fillet-shear", "Aluminium fillet in shear", Source("Aluminum Design Manual", "fillet welds"), per="mm",
    basis=NOMINAL, factor="Ω = 1.95", covers=("weld",)
)  # fmt: skip
MIL_NEAR = method(
    "mil-hdbk-5.near-weld", "4130 beside the weld", _MIL, per="mm", basis=ALLOWABLE, factor="1.5 × 1.15",
    covers=("along", "across", "lift"),
)  # fmt: skip
MIL_WELD = method(
    "mil-hdbk-5.weld-metal", "4130 weld metal", _MIL, per="mm", basis=ALLOWABLE, factor="1.5 × 1.15", covers=("weld",),
)  # fmt: skip

LEG_MIN = method(
    "detail.leg-min", "Leg for the thickness", Source(aisc.AISC, "Table J2.4", "read"), per="mm", basis=DETAILING,
               bound="least",
    factor="1 (a limit)",
)  # fmt: skip
LEG_MAX = method(
    "detail.leg-max", "Leg along an edge", _J22, per="mm", basis=DETAILING, bound="greatest", factor="1 (a limit)"
)  # fmt: skip
LENGTH_MIN = method(
    "detail.weld-length-min",
    "Length for the full leg",
    _J22,
    per="mm",
    basis=DETAILING,
    bound="least",
    factor="1 (a limit)",
)
SIDE_MIN = method(
    "detail.side-length-min", "Side fillets against their distance", _J22, per="mm", basis=DETAILING, bound="least",
    factor="1 (a limit)",
)  # fmt: skip
LAP_MIN = method("detail.lap-min", "Lap", _J22, per="mm", basis=DETAILING, bound="least", factor="1 (a limit)")
STITCH_MIN = method(
    "detail.stitch-min", "Length of a stitch", _J22, per="mm", basis=DETAILING, bound="least", factor="1 (a limit)"
)
GAP_MAX = method(
    "detail.stitch-gap-max", "Gap between stitches", Source(en.EN8, "4.3.2.2, figure 4.1"), per="mm",
               basis=DETAILING, bound="greatest",
    factor="1 (a limit)",
)  # fmt: skip
CORNER = method(
    "detail.bend-radius-min", "Bend radius beside the weld", Source(en.EN8, "Table 4.2"), per="mm", basis=DETAILING,
               bound="least",
    factor="1 (a limit)",
)  # fmt: skip

EN12_MOST = 700.0
"""Yield strength [MPa] at which EN 1993-1-12 ends."""
LAMELLAR = 10.0
"""Thickness [mm] from which a pull through the plate is cautioned: common practice, no source."""
THIN_ARC = 0.8
"""Thickness [mm] under which an arc burns through sheet: common practice, no source."""
OMEGA_WELD, OMEGA_YIELD, OMEGA_RUPTURE, OMEGA_ADM = 2.00, 1.50, 2.00, 1.95
FITTING = 1.5 * 1.15


def check_fillet(welds: FilletGroup) -> Result:
    """Judge a weld group; raises InputError only when a strength it needs is missing from its grade."""
    case = Case.of(welds)
    checks: list[Check] = []
    if case.family == "aluminium":
        checks += _aluminium(case)
    else:
        checks += _eurocode(case) + _aisc(case) + _aisi(case)
        if case.family == "stainless":
            checks += _stainless(case)
        if welds.chromoly:
            checks += _chromoly(case)
    checks += root(case, *_throat_strength(case)) + bending(case)
    checks += weld_fatigue(welds, case.elastic)
    checks += _detailing(case)
    checks += weld_heat(welds)
    elastic, group = case.elastic, welds.group
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
        cautions=_cautions(case, checks),
        unjudged=_unjudged(case, checks),
        about=_about(welds),
        model=welds,
    )


def _about(welds: FilletGroup) -> dict[str, str]:
    n = len(welds.lines)
    size = f"leg {welds.leg:.4g} mm" if welds.leg is not None else f"throat {welds.design_throat:.3g} mm"
    word = welds.weld if welds.weld != "fillet" else f"{welds.joint} fillet"
    both = " on both sides" if welds.both_sides else ""
    stitched = "" if welds.stitch is None else f", stitched {welds.stitch[0]:.4g} on {welds.stitch[1]:.4g} mm"
    if welds.weld != "fillet":
        size = f"throat {welds.design_throat:.3g} mm"
    return {
        "welds": f"{n} {word}{'s' if n > 1 else ''}{both}, {size}{stitched}",
        "sheets": " on ".join(sheet.label for sheet in welds.sheets),
        "filler": welds.filler,
    }


# --- EN 1993 ------------------------------------------------------------------------------------------


def _beta_w(case: Case) -> tuple[Looked | Stated | None, str]:
    """Correlation factor by the yield strength of the weaker part, or why there is none."""
    if case.family == "stainless":
        return Stated("beta_w", "1", 1.0, "stainless steel (EN 1993-1-4, 6.3, from memory)", status="from memory"), ""
    if not all(s.has_yield for s in case.m.sheets):
        return None, "the grade has no yield strength by which β_w is chosen"
    f_y = min(s.f_y for s in case.m.sheets)
    for row in load_table("beta_w").rows:
        if at_most(f_y, float(row["grade"].removeprefix("S"))):
            source = Source(en.EN8, "Table 4.1", "from memory")
            return Looked(
                "beta_w", "1", row.need("beta_w"), "beta_w", f"{row['grade']}, f_y = {f_y:.4g} MPa", source
            ), ""
    if at_most(f_y, EN12_MOST):
        return Stated("beta_w", "1", 1.0, f"f_y = {f_y:.4g} MPa, EN 1993-1-12, 2.8", status="from memory"), ""
    return None, f"EN 1993-1-12 ends at S700; this steel has f_y = {f_y:.4g} MPa"


def _throat_strength(case: Case) -> tuple[float | None, Looked | Stated, list[Evaluation | Looked | Stated]]:
    """Strength a throat is counted with whatever its size [MPa], its correlation factor, and where it comes from.

    The lower of weld metal and part; None where no strength of the metal is held.
    """
    m = case.m
    if case.family == "aluminium":
        looked = _filler_en1999(m, m.filler_row["filler"])
        one = Stated("beta_w", "1", 1.0, "aluminium: the strength of the weld metal as it is")
        return (None, one, []) if looked is None else (looked.value, one, [looked])
    beta, _ = _beta_w(case)
    parts = [beside(s) for s in m.sheets]
    weak = min(parts, key=lambda p: p.f_u)
    working: list[Evaluation | Looked | Stated] = [case.filler, *weak.working]
    return (
        min(weak.f_u, case.filler.value),
        beta or Stated("beta_w", "1", 1.0, "no yield strength to choose it by"),
        working,
    )


def _eurocode(case: Case) -> list[Check]:
    m = case.m
    if m.weld == "butt":
        return [_butt_eurocode(case)]
    if m.weld != "fillet":
        reason = (
            "EN 1993-1-8, 4.8 takes the throat of a flare weld from trial welds: measure it and judge it as a fillet"
        )
        return [EN8_DIRECTIONAL.outside(reason, demand=case.elastic.peak, unit="N/mm")]
    return [*_eurocode_weld(case), _lap(case)]


def _undermatched(case: Case) -> list[str]:
    """Why a rule that counts a butt weld as its sheet does not hold: the filler is the weaker of the two."""
    f_u = min(s.f_u for s in case.m.sheets)
    if at_least(case.filler.value, f_u):
        return []
    return [
        f"the filler, {case.filler.value:.4g} MPa, is weaker than the part, {f_u:.4g} MPa: the weld would tear, not "
        "the sheet; take a stronger filler"
    ]


def _butt_eurocode(case: Case) -> Check:
    m = case.m
    if not all(s.has_yield for s in m.sheets):
        return EN8_BUTT.outside("the grade has no yield strength", unit="N/mm")
    reasons = _undermatched(case)
    if below(m.design_throat, m.thin.t):
        reasons.append(
            f"a throat of {m.design_throat:.3g} mm in {m.thin.t:.3g} mm is partial penetration: 4.7.2 has it judged as "
            "a fillet of that throat"
        )
    left = [(s.t, beside(s)) for s in m.sheets]
    t, weak = min(left, key=lambda p: p[0] * (p[1].f_y or 0.0))
    ends = case.elastic.ends
    shear = np.hypot(ends.axial, ends.lift)
    i, j = worst(np.sqrt(ends.normal**2 + 3 * shear**2))
    demand = en.BUTT_COMPARISON.evaluate(F_perp=float(abs(ends.normal[i, j])), F_par=float(shear[i, j]))
    capacity = en.BUTT_RESISTANCE.evaluate(t=min(t, m.design_throat), f_y=weak.f_y or 0.0)
    return bounded(
        EN8_BUTT, reasons, capacity=float(capacity.value), demand=float(demand.value), required=m.load_factor,
        unit="N/mm", trace=[*weak.working, capacity, demand],
        note=f"full penetration; {place(case, case.elastic, i, j)}",
    )  # fmt: skip


def _eurocode_weld(case: Case) -> list[Check]:
    m = case.m
    both = (EN8_DIRECTIONAL, EN8_NORMAL, EN8_SIMPLIFIED)
    a, t = m.design_throat, m.thin.t
    left = [beside(s) for s in m.sheets]
    weak = min(left, key=lambda p: p.f_u)
    f_u = weak.f_u
    beta, why = _beta_w(case)
    throat: list[Evaluation | Looked | Stated] = [*weak.working]
    leg = m.counted_leg
    throat += [en.THROAT.evaluate(s=leg)] if m.throat is None and leg is not None else [measured(m)]
    if beta is None and not all(s.has_yield for s in m.sheets):
        return [how.outside(why, demand=case.elastic.peak, unit="N/mm", trace=throat) for how in both]
    # a weld that is thinner, shorter or of a weaker filler than the clause begins with is no stronger than one that is
    # just so: it is judged as that one, which bounds it from above
    reasons = en.DIRECTIONAL_STRENGTH.outside(t=t, a=a, f_u=f_u, beta_w=1.0)
    if beta is None:
        reasons.append(why)
        beta = Stated("beta_w", "1", 1.0, "as at S700")
    strong = all(s.has_yield for s in m.sheets) and above(min(s.f_y for s in m.sheets), 460.0)
    notes = [] if m.full_size else [f"each weld less {a:.3g} mm at both ends (not full size there)"]
    if below(case.filler.value, f_u):
        weaker = f"the filler, {case.filler.value:.4g} MPa, is weaker than the part, {f_u:.4g} MPa"
        if strong:
            notes.append(f"{weaker}: the filler's strength is counted (EN 1993-1-12, 2.8, from memory)")
        else:
            reasons.append(f"{weaker}; 4.2(2) forbids that")
        f_u = case.filler.value
        throat.append(case.filler)
    a = max(a, LEAST_THROAT) if reasons or below(a, LEAST_THROAT) else a
    group, short = _effective(m, a)
    reasons += short
    if below(f_u * a, 1e-9):
        return [how.outside(reasons, demand=case.elastic.peak, unit="N/mm", trace=throat) for how in both]
    try:
        elastic = group.elastic(m.load)
    except InputError as error:
        return [how.outside(error.message, unit="N/mm") for how in both]
    ends = elastic.ends
    # the senses of the two shares on the legs are those that stress the throat most
    F_1, F_2, F_par = np.abs(ends.normal), np.abs(ends.lift), np.abs(ends.axial)
    factor = _long_lap(case)
    less = float(factor.value) if factor is not None else 1.0
    if reasons and a > m.design_throat:
        throat.append(Stated("a_3", "mm", a, "the least throat that counts, as an upper bound"))
    head: list[Evaluation | Looked | Stated] = [*throat, beta, *([factor] if factor is not None else [])]

    def stresses(i: int, j: int, sense: float) -> tuple[Evaluation, Evaluation, Evaluation]:
        forces = {"F_1": float(F_1[i, j]), "F_2": sense * float(F_2[i, j])}
        return (
            en.SIGMA_PERP.evaluate(**forces, a=a),
            en.TAU_PERP.evaluate(**forces, a=a),
            en.TAU_PAR.evaluate(F_par=float(F_par[i, j]), a=a),
        )

    required = GAMMA_M2 * m.load_factor

    def judge(how: Method, resistance: Evaluation, size: float, *working: Evaluation | Looked | Stated) -> Check:
        return bounded(
            how, reasons, capacity=less * float(resistance.value), demand=size, required=required, unit="N/mm",
            trace=[*head, *working], note="; ".join(notes),
        )  # fmt: skip

    checks: list[Check] = []
    sigma = en.directional_stress(
        sigma_perp=en.sigma_perp(F_1=F_1, F_2=-F_2, a=a),
        tau_perp=en.tau_perp(F_1=F_1, F_2=-F_2, a=a),
        tau_par=en.tau_par(F_par=F_par, a=a),
    )
    i, j = worst(sigma)
    s, tp, tl = stresses(i, j, -1.0)
    v = en.DIRECTIONAL_STRESS.evaluate(sigma_perp=float(s.value), tau_perp=float(tp.value), tau_par=float(tl.value))
    size = float(ends.resultant[i, j])
    where = Stated("F_w_Ed", "N/mm", size, f"elastic share, {place(case, elastic, i, j)}")
    resistance = en.DIRECTIONAL_RESISTANCE.evaluate(F_w_Ed=size, f_u=f_u, beta_w=beta.value, sigma_v=float(v.value))
    checks.append(judge(EN8_DIRECTIONAL, resistance, size, where, s, tp, tl, v, resistance))
    normal = en.sigma_perp(F_1=F_1, F_2=F_2, a=a)
    i, j = worst(normal)
    if normal[i, j] > 0:
        s, _, _ = stresses(i, j, 1.0)
        size = float(ends.resultant[i, j])
        where = Stated("F_w_Ed", "N/mm", size, f"elastic share, {place(case, elastic, i, j)}")
        resistance = en.NORMAL_RESISTANCE.evaluate(F_w_Ed=size, f_u=f_u, sigma_perp=float(s.value))
        checks.append(judge(EN8_NORMAL, resistance, size, where, s, resistance))
    simple = en.SIMPLIFIED_RESISTANCE.evaluate(f_u=f_u, beta_w=beta.value, a=a)
    i, j = worst(ends.resultant)
    where = Stated("F_w_Ed", "N/mm", elastic.peak, f"elastic share, {place(case, elastic, i, j)}")
    checks.append(judge(EN8_SIMPLIFIED, simple, elastic.peak, simple, where))
    return checks


def _effective(m: FilletGroup, a: float) -> tuple[WeldGroup, list[str]]:
    """The group with its effective lengths, and why welds carry nothing by EN 1993-1-8, 4.5.1.

    Those too short to count are drawn out about their middle to the least length that does: an upper bound.
    """
    group = m.group
    lengths = group.lengths if m.full_size else np.asarray(en.effective_length(L=group.lengths, a=a))
    least = float(en.least_effective_length(a=a))
    short = lengths < least * (1 - SLACK)
    reasons = []
    if np.any(short):
        reasons.append(
            f"{int(short.sum())} of {len(lengths)} welds carry no load: effective length {float(lengths.min()):.4g} "
            f"mm, at least {least:.4g} mm (30 mm and 6 throats)"
        )
    elif m.full_size:
        return WeldGroup.of(group.lines, throat=a), []
    change = (np.where(short, least, lengths) - group.lengths)[:, None] / 2 * group.axes
    return WeldGroup.of(group.lines + np.concatenate((-change, change), axis=1), throat=a), reasons


def _long_lap(case: Case) -> Evaluation | None:
    """Reduction of a lap longer than 150 throats in the direction of the force; None when there is none."""
    m = case.m
    size = hypot(m.load.F_x, m.load.F_y)
    if m.joint != "lap" or size == 0:
        return None
    along = np.array([m.load.F_x, m.load.F_y]) / size
    reach = m.group.lines.reshape(-1, 2) @ along
    L_j = float(np.ptp(reach))
    return en.LONG_LAP_FACTOR.evaluate(L_j=L_j, a=m.design_throat) if above(L_j, 150 * m.design_throat) else None


def _lap(case: Case) -> Check:
    """Lap fillets in sheet: end and side fillets of a strip under a force through the middle of the group."""
    m = case.m
    size = hypot(m.load.F_x, m.load.F_y)
    demand = sqrt(m.load.F_x**2 + m.load.F_y**2 + m.load.F_z**2)
    reasons: list[str] = []
    if m.joint != "lap":
        reasons.append("written for laps; this is a tee")
    if case.family != "steel":
        reasons.append(f"written for carbon steel; this is {case.family}")
    if m.stitch is not None:
        reasons.append("written for continuous fillets")
    if size == 0:
        reasons.append("written for a force in the plane of the sheet")
    if reasons:
        return EN3_LAP.outside(reasons, demand=demand)
    centre = m.group.sections()
    here = m.load.about(centre.x, centre.y)
    reach = sqrt(centre.J / centre.A)
    off = max(abs(here.M_x), abs(here.M_y), abs(here.M_z))
    if abs(m.load.F_z) > NOTHING * size or off > 0.01 * size * reach:
        # what it holds of a force through its middle is more than of one beside it
        reasons.append("written for a force in the plane of the sheet through the middle of the welds")
    along = np.array([m.load.F_x, m.load.F_y]) / size
    cosine = np.abs(m.group.axes @ along)
    sides, ends = cosine > np.cos(np.radians(1.0)), cosine < np.sin(np.radians(1.0))
    if not np.all(sides | ends):
        return EN3_LAP.outside("written for fillets along and across the force; one is oblique", demand=demand)
    if sides.sum() == 1:
        return EN3_LAP.outside("written for a pair of side fillets; there is one", demand=demand)
    t, left = min(((s.t, beside(s)) for s in m.sheets), key=lambda p: p[0] * p[1].f_u)
    a = m.design_throat
    over = m.group.lines.reshape(-1, 2) @ np.array([-along[1], along[0]])
    b = m.width if m.width is not None else float(np.ptp(over))
    how = "given" if m.width is not None else "reach of the welds across the force"
    trace: list[Evaluation | Looked | Stated] = [*left.working, Stated("b", "mm", b, how), measured(m)]
    total = 0.0
    thick: list[str] = []
    for i, length in enumerate(m.group.lengths.tolist()):
        values = {"t": t, "b": b, "f_u": left.f_u, "a": max(a, t)}
        formula: Formula
        if sides[i]:
            formula, _ = en.side_lap(L_w_s=length, b=b)
            values["L_w_s"] = length
        else:
            formula = en.END_LAP
            values["L_w_e"] = length
        # lengths under 8 t carry nothing, so they are counted as 8 t where the rest is bounded from above
        low = "L_w_s" if "L_w_s" in values else "L_w_e"
        edge = formula.outside(**values)
        if below(values[low], 8 * t) and at_most(8 * t, b):
            values[low] = 8 * t
            thick += formula.outside(**values)
        elif edge:
            thick += edge
        reasons += [f"line {i + 1}: {reason}" for reason in edge]
        part = formula.evaluate(**values)
        trace.append(part)
        total += float(part.value)
    note = "resistances of end and side fillets added"
    carried = total
    if below(a, t):
        # 8.5.1: otherwise it must be shown that the sheet governs
        beta, why = _beta_w(case)
        if beta is None:
            reasons.append(why)
        else:
            weld = en.SIMPLIFIED_RESISTANCE.evaluate(f_u=min(left.f_u, case.filler.value), beta_w=beta.value, a=a)
            carried = float(weld.value) * float(m.group.lengths.sum())
            trace.append(weld)
            if carried < total:
                reasons.append(
                    f"throat {a:.3g} mm is less than the sheet, {t:.3g} mm, and the weld ({carried:.4g} N by the "
                    f"simplified method) is weaker than the sheet beside it ({total:.4g} N): the sheet must govern"
                )
            note += "; throat below the sheet, but the weld is the stronger by the simplified method"
    if thick:
        return EN3_LAP.outside(list(dict.fromkeys(reasons)), demand=demand, trace=trace)
    if reasons:
        return EN3_LAP.at_most(
            list(dict.fromkeys(reasons)), capacity=min(total, carried), demand=size,
            required=GAMMA_M2 * m.load_factor, trace=trace,
        )  # fmt: skip
    return EN3_LAP.judge(capacity=total, demand=demand, required=GAMMA_M2 * m.load_factor, trace=trace, note=note)


# --- AISC 360 -----------------------------------------------------------------------------------------


def _not_d11(case: Case) -> list[str]:
    """Why AISC 360 says nothing of these welds."""
    return [] if case.family == "steel" else [f"written for carbon steel; this is {case.family}"]


def _thin_for_d11(case: Case) -> list[str]:
    """Why it bounds them from above only: a weld in thinner sheet is no stronger than the same one in 3 mm."""
    if at_least(case.m.thin.t, THIN_D11):
        return []
    return [
        f"AWS D1.1 behind it starts at 3 mm (1/8 in), the sheet is {case.m.thin.t:.3g} mm: see AISI S100 (AWS D1.3)"
    ]


def _aisc(case: Case) -> list[Check]:
    m = case.m
    reasons = _not_d11(case)
    checks: list[Check] = []
    if m.weld == "fillet":
        checks += _aisc_fillet(case, reasons)
    elif m.weld != "butt":
        checks.append(_aisc_flare(case, reasons))
    return [*checks, *_aisc_base(case, reasons)]


def _aisc_fillet(case: Case, reasons: list[str]) -> list[Check]:
    m = case.m
    lengths = m.group.lengths
    leg = m.counted_leg
    if m.throat is not None or leg is None:
        throats: Array = np.full(len(lengths), m.design_throat)
        legs = throats * sqrt(2)
    else:
        legs = np.asarray(aisc.effective_leg(w=leg, l=lengths))
        throats = np.asarray(aisc.throat(w=legs))
    beta = np.where(
        at_most(lengths, 300 * legs),
        aisc.long_weld_factor(l=lengths, w=legs),
        aisc.very_long_weld_length(w=legs) / lengths,
    )
    demand = sqrt(m.load.F_x**2 + m.load.F_y**2 + m.load.F_z**2)
    if reasons:
        return [
            AISC_ELASTIC.outside(reasons, demand=case.elastic.peak, unit="N/mm"),
            AISC_CENTRE.outside(reasons, demand=demand),
        ]
    elastic = WeldGroup.of(m.group.lines, throat=throats).elastic(m.load) if np.ptp(throats) > 0 else case.elastic
    strength = np.asarray(aisc.weld_strength(F_EXX=case.filler.value, k_ds=1.0, t_e=throats)) * beta
    i, j = worst(elastic.ends.resultant / strength[:, None])
    trace: list[Evaluation | Looked | Stated] = [case.filler]
    if m.throat is None and leg is not None:
        if below(legs[i], leg):
            trace.append(aisc.EFFECTIVE_LEG.evaluate(w=leg, l=float(lengths[i])))
        trace.append(aisc.THROAT.evaluate(w=float(legs[i])))
    else:
        trace.append(measured(m))
    trace.append(aisc.WELD_STRENGTH.evaluate(F_EXX=case.filler.value, k_ds=1.0, t_e=float(throats[i])))
    note = "no direction factor: it needs the load through the middle or strain compatibility"
    if beta[i] < 1:
        trace.append(_long_weld(float(lengths[i]), float(legs[i])))
        trace.append(Stated("r_long", "N/mm", float(strength[i]), "strength per length, reduced so"))
        note += "; long weld taken as end-loaded"
    peak = float(elastic.ends.resultant[i, j])
    trace.append(Stated("r", "N/mm", peak, f"elastic share, {place(case, elastic, i, j)}"))
    one = bounded(
        AISC_ELASTIC, _thin_for_d11(case), capacity=float(strength[i]), demand=peak, required=OMEGA_WELD, unit="N/mm",
        trace=trace, note=note,
    )  # fmt: skip
    return [one, _aisc_centre(case, throats, float(beta.min()))]


def _long_weld(length: float, leg: float) -> Evaluation:
    if at_most(length, 300 * leg):
        return aisc.LONG_WELD_FACTOR.evaluate(l=length, w=leg)
    return aisc.VERY_LONG_WELD_LENGTH.evaluate(w=leg)


def _aisc_centre(case: Case, throats: Array, beta: float) -> Check:
    m = case.m
    group = WeldGroup.of(m.group.lines, throat=throats) if np.ptp(throats) > 0 else m.group
    force = hypot(m.load.F_x, m.load.F_y)
    pure = force == 0
    demand, unit = (abs(m.load.M_z), "N*mm") if pure else (force, "N")
    reasons = _thin_for_d11(case)
    load = m.load
    if case.lifted:
        # the part in the plane alone bounds the whole from above
        load = Load(load.F_x, load.F_y, 0.0, 0.0, 0.0, load.M_z)
        reasons.append(
            "the instantaneous centre is for loads in the plane of the group; this one pulls it or bends it out of the "
            "plane: the elastic method stands for it"
        )
    if demand == 0:
        return AISC_CENTRE.outside(reasons, demand=abs(m.load.F_z))
    try:
        found = group.ultimate(load, case.filler.value)
    except InputError as error:
        return AISC_CENTRE.outside(error.message, demand=hypot(force, m.load.F_z), unit="N")
    centre = found.centre.centre
    at = "no turning" if centre is None else f"centre at {centre[0]:.4g}, {centre[1]:.4g} mm"
    rule = {
        "instantaneous centre": f"{at}, {len(found.elements.length)} elements",
        "direction factor": "load through the middle, parallel welds: direction factor, eq. J2-5",
        "longitudinal and transverse": "load through the middle, welds along and across: eqs. J2-10",
    }[found.rule]
    capacity = found.factor * demand * beta
    trace: list[Evaluation | Looked | Stated] = [
        case.filler,
        Stated("k_u", "1", found.factor, f"times the load: {rule}"),
    ]
    note = rule + ("; reduced as long end-loaded welds" if beta < 1 else "")
    return bounded(
        AISC_CENTRE, reasons, capacity=capacity, demand=demand, required=OMEGA_WELD, unit=unit, trace=trace,
        note=f"{note}; not for the end of a hollow section (AISC 360-22: direction factor 1.0 there)",
    )  # fmt: skip


def _aisc_flare(case: Case, reasons: list[str]) -> Check:
    m = case.m
    trace: list[Evaluation | Looked | Stated] = [case.filler]
    if m.throat is None and m.radius is not None:
        k_R = flare.throat_per_radius(m.weld, m.process)
        inputs = {"k_R": k_R, "R": m.radius, "gap": m.fill_gap}
        edge = flare.FLARE_THROAT.at_edge("R", **inputs)
        moved, small = (inputs, []) if edge is None else edge
        trace += [Looked("k_R", "1", k_R, "flare_throat", f"{m.weld}, {m.process}", flare.READ)]
        worked = flare.FLARE_THROAT.evaluate(**moved)
        throat = float(worked.value)
        trace.append(worked)
    else:
        throat, small = m.design_throat, []
        trace.append(measured(m))
    if reasons:
        return AISC_FLARE.outside(reasons, demand=case.elastic.peak, unit="N/mm", trace=trace)
    strength = flare.GROOVE_SHEAR_STRENGTH.evaluate(F_EXX=case.filler.value, t_e=throat)
    i, j = worst(case.elastic.ends.resultant)
    where = Stated("r", "N/mm", case.elastic.peak, f"elastic share, {place(case, case.elastic, i, j)}")
    return bounded(
        AISC_FLARE, [*small, *_thin_for_d11(case)], capacity=float(strength.value), demand=case.elastic.peak,
        required=OMEGA_WELD, unit="N/mm", trace=[*trace, strength, where],
        note="all of the load taken as shear on the throat",
    )  # fmt: skip


def _aisc_base(case: Case, reasons: list[str]) -> list[Check]:
    """Shear of the parts beside the weld, with the whole share taken as shear (the safe side)."""
    m = case.m
    i, _ = worst(case.elastic.ends.resultant)
    length = float(m.group.lengths[i])
    demand = case.elastic.peak * length
    if reasons:
        return [AISC_YIELD.outside(reasons, demand=demand), AISC_RUPTURE.outside(reasons, demand=demand)]
    where = Stated("P", "N", demand, f"peak share {case.elastic.peak:.4g} N/mm on {length:.4g} mm")
    note = "whole share taken as shear, as is usual"
    thin = _thin_for_d11(case)
    # sheet under 3 mm is no stronger than of 3 mm
    parts = [(max(s.t, THIN_D11) if thin else s.t, beside(s)) for s in m.sheets]
    checks = []
    if all(left.f_y is not None for _, left in parts):
        t, weak = min(parts, key=lambda p: p[0] * (p[1].f_y or 0.0))
        strength = aisc.SHEAR_YIELD.evaluate(F_y=weak.f_y or 0.0, A_gv=t * length)
        checks.append(
            bounded(
                AISC_YIELD, thin, capacity=float(strength.value), demand=demand, required=OMEGA_YIELD,
                trace=[*weak.working, strength, where], note=note,
            )
        )  # fmt: skip
    else:
        checks.append(AISC_YIELD.outside("the grade has no yield strength", demand=demand))
    t, weak = min(parts, key=lambda p: p[0] * p[1].f_u)
    rupture = aisc.SHEAR_RUPTURE.evaluate(F_u=weak.f_u, A_nv=t * length)
    checks.append(
        bounded(
            AISC_RUPTURE, thin, capacity=float(rupture.value), demand=demand, required=OMEGA_RUPTURE,
            trace=[*weak.working, rupture, where], note=note,
        )
    )  # fmt: skip
    return checks


# --- AISI S100 ----------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Sheet:
    """One part as AISI sees it: thickness [mm] and what the heat leaves of it."""

    t: float
    left: Beside


def _aisi(case: Case) -> list[Check]:
    m = case.m
    plan = {
        "fillet": (AISI_LONGITUDINAL, AISI_TRANSVERSE, AISI_THROAT),
        "butt": (AISI_GROOVE_TENSION, AISI_GROOVE_SHEAR),
    }.get(m.weld, (AISI_FLARE_LONGITUDINAL, AISI_FLARE_TRANSVERSE, AISI_THROAT))
    t = m.thin.t
    reasons = []
    if case.family != "steel":
        reasons.append(f"written for carbon steel; this is {case.family}")
    if not aisi.THIN.inside({"t": t}):
        reasons.append(aisi.THIN.reason({"t": t}))
    if reasons:
        return [how.outside(reasons) for how in plan]
    # a part thicker than AISI reaches holds no less than the thickest it does
    parts = [_Sheet(min(s.t, float(aisi.THIN.high or s.t)), beside(s)) for s in m.sheets]
    if m.weld == "butt":
        return _aisi_butt(case)
    along = _aisi_along(case, parts)
    across = _aisi_across(case, parts)
    checks = [along, across]
    if case.lifted:
        checks.append(_aisi_base(case, parts[-1]))
    if along.utilisation and across.utilisation:
        checks.append(_both(case, along, across))
    return [*checks, _aisi_throat(case)]


def _aisi_strength(case: Case, part: _Sheet, length: float) -> tuple[Formula, str, dict[str, float]]:
    m = case.m
    inputs = {"L": length, "t": part.t, "F_u": part.left.f_u}
    if m.weld == "fillet":
        formula, why = aisi.longitudinal(L=length, t=part.t)
        return _long_if_lower(formula, aisi.LONGITUDINAL_LONG, 25.0, why, inputs, aisi.OMEGA)
    lip = m.lip if m.lip is not None else 0.0
    formula, why = aisi.flare_longitudinal(t_w=m.design_throat, t=part.t, h=lip, L=length)
    return formula, why, inputs


def _long_if_lower(
    formula: Formula, other: Formula, ratio: float, why: str, inputs: dict[str, float], omega: Mapping[str, float]
) -> tuple[Formula, str, dict[str, float]]:
    """The long rule at its shortest where it allows less than the short one: shortening a weld must not help it."""
    if formula is other:
        return formula, why, inputs
    at_edge = {**inputs, "L": ratio * inputs["t"]}
    if float(other(**at_edge)) / omega[other.key] < float(formula(**inputs)) / omega[formula.key]:
        return other, f"{why}, but no more than a weld of {ratio:g} t, for which the factor is larger", at_edge
    return formula, why, inputs


def _aisi_along(case: Case, parts: Iterable[_Sheet]) -> Check:
    """Sheet tearing along each weld: the weld and the part where it is nearest to its limit."""
    m = case.m
    how = AISI_LONGITUDINAL if m.weld == "fillet" else AISI_FLARE_LONGITUDINAL
    best: tuple[tuple[float, float], int, _Sheet, Formula, str, dict[str, float]] | None = None
    peaks = case.along.max(axis=1)
    for i, length in enumerate(m.group.lengths.tolist()):
        for part in parts:
            formula, why, inputs = _aisi_strength(case, part, length)
            allowed = float(formula(**inputs)) / aisi.OMEGA[formula.key]
            # where nothing pulls, the part that allows least a length is named, in whatever order they are given
            used = (float(peaks[i]) * length / allowed, length / allowed)
            if best is None or used > best[0]:
                best = (used, i, part, formula, why, inputs)
    assert best is not None
    _, i, part, formula, why, inputs = best
    length = float(m.group.lengths[i])
    reasons = formula.outside(**inputs, t_w=m.design_throat, h=m.lip or 0.0)
    demand = float(peaks[i]) * length
    strength = formula.evaluate(**inputs)
    where = Stated("P", "N", demand, f"{float(peaks[i]):.4g} N/mm along line {m.parents[i] + 1}, on {length:.4g} mm")
    # the only reason there can be is a throat under the sheet, which is the weaker weld
    return bounded(
        how, reasons, capacity=float(strength.value), demand=demand, required=aisi.OMEGA[formula.key],
        trace=[*part.left.working, strength, where], note=why,
    )  # fmt: skip


def _aisi_across(case: Case, parts: list[_Sheet]) -> Check:
    m = case.m
    i, j = worst(case.across)
    length = float(m.group.lengths[i])
    demand = float(case.across[i, j]) * length
    where = Stated("P", "N", demand, f"{float(case.across[i, j]):.4g} N/mm across, {place(case, case.elastic, i, j)}")
    a, b = parts[0], parts[-1]
    if m.weld == "fillet":
        how = AISI_TRANSVERSE
        strength = aisi.TRANSVERSE.evaluate(t_1=a.t, F_u1=a.left.f_u, t_2=b.t, F_u2=b.left.f_u, L=length)
        omega = aisi.OMEGA[aisi.TRANSVERSE.key]
        working = [*a.left.working, *(b.left.working if b is not a else [])]
    else:
        how = AISI_FLARE_TRANSVERSE
        weak = min(parts, key=lambda p: p.t * p.left.f_u)
        strength = aisi.FLARE_TRANSVERSE.evaluate(t=weak.t, L=length, F_u=weak.left.f_u)
        omega = aisi.OMEGA[aisi.FLARE_TRANSVERSE.key]
        working = [*weak.left.working]
        if m.weld == "flare-V" and case.has(case.across):
            # the sheet beside it holds no more than beside a flare-bevel
            return how.at_most(
                "written for flare-bevel welds; none is given for flare-V across", capacity=float(strength.value),
                demand=demand, required=omega, trace=[*working, strength, where],
            )  # fmt: skip
    return how.judge(capacity=float(strength.value), demand=demand, required=omega, trace=[*working, strength, where])


def _aisi_base(case: Case, part: _Sheet) -> Check:
    """The part under the welds, sheared through its thickness beside them by a pull out of the plane."""
    m = case.m
    i, j = worst(case.lift)
    length, share = float(m.group.lengths[i]), float(case.lift[i, j])
    strength = aisi.BASE_SHEAR.evaluate(F_u=part.left.f_u, t=part.t, L=length)
    where = Stated("P", "N", share * length, f"{share:.4g} N/mm out of the plane, {place(case, case.elastic, i, j)}")
    return AISI_BASE.judge(
        capacity=float(strength.value), demand=share * length, required=aisi.OMEGA[aisi.BASE_SHEAR.key],
        trace=[*part.left.working, strength, where],
    )  # fmt: skip


def _both(case: Case, along: Check, across: Check) -> Check:
    """Both uses at one end of one weld, squares added; the utilisations grow with the shares."""
    per_along = (along.utilisation or 0.0) / float(case.along.max())
    per_across = (across.utilisation or 0.0) / float(case.across.max())
    used = np.hypot(case.along * per_along, case.across * per_across)
    i, j = worst(used)
    at = place(case, case.elastic, i, j)
    trace = [
        Stated("u_1", "1", float(case.along[i, j] * per_along), f"of {along.key}, {at}", status=along.provenance),
        Stated("u_2", "1", float(case.across[i, j] * per_across), f"of {across.key}", status=across.provenance),
    ]
    return SHEET_BOTH.judge(
        capacity=1.0, demand=float(used[i, j]), required=1.0, unit="1", trace=trace,
        note="root of the sum of squares; the documents have no rule for both at once",
    )  # fmt: skip


def _aisi_throat(case: Case) -> Check:
    """Weld metal, in every thickness: AISI asks for it over 2.54 mm, where beads are no larger than the sheet."""
    m = case.m
    i, j = worst(case.elastic.ends.resultant)
    length = float(m.group.lengths[i])
    demand = case.elastic.peak * length
    t_w = m.design_throat
    trace: list[Evaluation | Looked | Stated] = [case.filler]
    if m.weld == "fillet" and m.throat is None and m.counted_leg is not None:
        throat = aisi.THROAT.evaluate(w_1=m.counted_leg, w_2=m.counted_leg)
        t_w = float(throat.value)
        trace.append(throat)
    else:
        trace.append(measured(m))
    strength = aisi.WELD_METAL.evaluate(t_w=t_w, L=length, F_xx=case.filler.value)
    trace.append(strength)
    trace.append(Stated("P", "N", demand, f"peak share, {place(case, case.elastic, i, j)}, on {length:.4g} mm"))
    note = ""
    if at_most(m.thin.t, aisi.THROAT_FROM):
        note = (
            f"AISI asks for it over {aisi.THROAT_FROM} mm only; judged here too: thicker sheet must not be the weaker"
        )
    return AISI_THROAT.judge(
        capacity=float(strength.value), demand=demand, required=aisi.OMEGA[aisi.WELD_METAL.key], trace=trace, note=note
    )


def _aisi_butt(case: Case) -> list[Check]:
    m = case.m
    if not all(s.has_yield for s in m.sheets):
        reason = "the grade has no yield strength"
        return [AISI_GROOVE_TENSION.outside(reason), AISI_GROOVE_SHEAR.outside(reason)]
    undermatched = _undermatched(case)
    weak = min((beside(s) for s in m.sheets), key=lambda left: left.f_y or 0.0)
    f_y = weak.f_y or 0.0
    ends, t_e = case.elastic.ends, m.design_throat
    normal, shear = np.abs(ends.normal), np.hypot(ends.axial, ends.lift)
    i, j = worst(normal)
    length = float(m.group.lengths[i])
    demand = float(normal[i, j]) * length
    strength = aisi.GROOVE_TENSION.evaluate(L=length, t_e=t_e, F_y=f_y)
    where = Stated("P", "N", demand, f"{float(normal[i, j]):.4g} N/mm across, {place(case, case.elastic, i, j)}")
    tension = bounded(
        AISI_GROOVE_TENSION, undermatched, capacity=float(strength.value), demand=demand,
        required=aisi.OMEGA[aisi.GROOVE_TENSION.key], trace=[*weak.working, strength, where],
    )  # fmt: skip
    i, j = worst(shear)
    length = float(m.group.lengths[i])
    demand = float(shear[i, j]) * length
    both = [
        aisi.GROOVE_SHEAR_WELD.evaluate(L=length, t_e=t_e, F_xx=case.filler.value),
        aisi.GROOVE_SHEAR_SHEET.evaluate(L=length, t_e=t_e, F_y=f_y),
    ]
    least = min(both, key=lambda e: float(e.value) / aisi.OMEGA[e.formula.key])
    where = Stated("P", "N", demand, f"{float(shear[i, j]):.4g} N/mm in shear, {place(case, case.elastic, i, j)}")
    return [
        tension,
        bounded(
            AISI_GROOVE_SHEAR, undermatched, capacity=float(least.value), demand=demand,
            required=aisi.OMEGA[least.formula.key], trace=[*weak.working, case.filler, *both, where],
        ),
    ]  # fmt: skip


# --- stainless ------------------------------------------------------------------------------------------


def _stainless(case: Case) -> list[Check]:
    """SEI/ASCE 8 for fillets in sheet; the part beside the weld by its yield, in every thickness."""
    m = case.m
    checks = [_beside_yield(case)]
    plan = (ASCE_LONGITUDINAL, ASCE_TRANSVERSE, ASCE_WELD)
    t = m.thin.t
    if m.weld != "fillet":
        return [*checks, *(how.outside("held here for fillets only") for how in plan)]
    if not asce8.THIN.inside({"t": t}):
        return [*checks, *(how.outside(asce8.THIN.reason({"t": t})) for how in plan)]
    # annealed: what the grade's standard guarantees, whatever a certificate of rolled strip says
    parts = [(s.t, min(s.f_u, s.material.f_u or s.f_u)) for s in m.sheets]
    omega = m.load_factor / asce8.PHI_SHEET
    best: tuple[float, int, Formula, str, dict[str, float]] | None = None
    peaks = case.along.max(axis=1)
    for i, length in enumerate(m.group.lengths.tolist()):
        for thick, f_ua in parts:
            formula, why = asce8.longitudinal(L=length, t=thick)
            inputs = {"L": length, "t": thick, "F_ua": f_ua}
            used = float(peaks[i]) * length / float(formula(**inputs))
            if best is None or used > best[0]:
                best = (used, i, formula, why, inputs)
    assert best is not None
    _, i, formula, why, inputs = best
    strength = formula.evaluate(**inputs)
    demand = float(peaks[i]) * inputs["L"]
    where = Stated("P", "N", demand, f"{float(peaks[i]):.4g} N/mm along line {m.parents[i] + 1}")
    along = ASCE_LONGITUDINAL.judge(
        capacity=float(strength.value), demand=demand, required=omega, trace=[strength, where], note=why
    )
    i, j = worst(case.across)
    length, share = float(m.group.lengths[i]), float(case.across[i, j])
    thick, f_ua = min(parts, key=lambda p: p[0] * p[1])
    strength = asce8.TRANSVERSE.evaluate(t=thick, L=length, F_ua=f_ua)
    where = Stated("P", "N", share * length, f"{share:.4g} N/mm across, {place(case, case.elastic, i, j)}")
    across = ASCE_TRANSVERSE.judge(
        capacity=float(strength.value), demand=share * length, required=omega, trace=[strength, where]
    )
    i, j = worst(case.elastic.ends.resultant)
    length = float(m.group.lengths[i])
    metal = asce8.WELD_METAL.evaluate(t_w=m.design_throat, L=length, F_xx=case.filler.value)
    where = Stated("P", "N", case.elastic.peak * length, f"peak share, {place(case, case.elastic, i, j)}")
    weld = ASCE_WELD.judge(
        capacity=float(metal.value), demand=case.elastic.peak * length, required=m.load_factor / asce8.PHI_WELD,
        trace=[case.filler, measured(m), metal, where],
    )  # fmt: skip
    checks += [along, across]
    if along.utilisation and across.utilisation:
        checks.append(_both(case, along, across))
    return [*checks, weld]


def _strained(case: Case) -> list[tuple[int, Array, Array]]:
    """Part (0 lifted or lapped, 1 underneath), and its shares across and in shear beside the weld [N/mm].

    A pull out of the plane stretches the part that stands on the weld and shears the one under it.
    """
    ends = case.elastic.ends
    if case.m.weld == "butt":
        return [(n, case.sideways, np.hypot(ends.axial, ends.lift)) for n in (0, 1)]
    return [
        (0, case.across, case.along),
        (1, case.sideways, np.hypot(ends.axial, ends.lift)),
    ]


def _beside_yield(case: Case) -> Check:
    m = case.m
    if not all(s.has_yield for s in m.sheets):
        return EN1_BESIDE.outside("the grade has no yield strength", demand=case.elastic.peak, unit="N/mm")
    best: tuple[float, int, tuple[int, int], Array, Array] | None = None
    for n, across, shear in _strained(case):
        left = beside(m.parts[n])
        used = np.sqrt(across**2 + 3 * shear**2) / (m.parts[n].t * (left.f_y or 0.0))
        at = worst(used)
        if best is None or float(used[at]) > best[0]:
            best = (float(used[at]), n, at, across, shear)
    assert best is not None
    _, n, at, across, shear = best
    left = beside(m.parts[n])
    demand = en.BUTT_COMPARISON.evaluate(F_perp=float(across[at]), F_par=float(shear[at]))
    holds = en.BUTT_RESISTANCE.evaluate(t=m.parts[n].t, f_y=left.f_y or 0.0)
    return EN1_BESIDE.judge(
        capacity=float(holds.value), demand=float(demand.value), required=m.load_factor, unit="N/mm",
        trace=[*left.working, holds, demand],
        note=f"{m.parts[n].label}, {place(case, case.elastic, *at)}",
    )  # fmt: skip


# --- aluminium and 4130 --------------------------------------------------------------------------------


def _aluminium(case: Case) -> list[Check]:
    m = case.m
    ends, a = case.elastic.ends, m.design_throat
    required = 1.25 * m.load_factor
    shares = {"F_1": np.abs(ends.normal), "F_2": -np.abs(ends.lift)}
    stress = en.directional_stress(
        sigma_perp=en.sigma_perp(**shares, a=a),
        tau_perp=en.tau_perp(**shares, a=a),
        tau_par=en.tau_par(F_par=ends.axial, a=a),
    )
    i, j = worst(stress)
    size = float(ends.resultant[i, j])
    where = Stated("F_w_Ed", "N/mm", size, f"elastic share, {place(case, case.elastic, i, j)}")
    filler = m.filler_row["filler"]
    looked = _filler_en1999(m, filler)
    checks: list[Check] = []
    if looked is None:
        checks.append(
            EN9_WELD.outside(f"Table 8.8 gives no strength of {filler} here for this alloy", demand=size, unit="N/mm")
        )
    else:
        here = {k: float(v[i, j]) for k, v in shares.items()}
        s = en.SIGMA_PERP.evaluate(**here, a=a)
        tp = en.TAU_PERP.evaluate(**here, a=a)
        tl = en.TAU_PAR.evaluate(F_par=float(abs(ends.axial[i, j])), a=a)
        v = al.WELD_STRESS.evaluate(sigma_perp=float(s.value), tau_perp=float(tp.value), tau_par=float(tl.value))
        capacity = size * looked.value / float(v.value) if float(v.value) > 0 else looked.value * a
        checks.append(
            EN9_WELD.judge(
                capacity=capacity, demand=size, required=required, unit="N/mm",
                trace=[measured(m), looked, where, s, tp, tl, v], note="capacity in the direction of the load",
            )
        )  # fmt: skip
    checks.append(_zone(case, required))
    row = m.filler_row
    source = Source("Aluminum Design Manual", "fillet weld strengths", "from memory")
    F_sw = Looked("F_sw", "MPa", row.need("shear_ultimate"), "filler_aluminium_shear", filler, source)
    if m.weld == "fillet":
        strength = al.FILLER_SHEAR.evaluate(F_sw=F_sw.value, t_e=a)
        checks.append(
            ADM_FILLET.judge(
                capacity=float(strength.value), demand=case.elastic.peak, required=OMEGA_ADM, unit="N/mm",
                trace=[F_sw, measured(m), strength], note="strength along the weld, used for every direction",
            )
        )  # fmt: skip
    else:
        checks.append(ADM_FILLET.outside("written for fillets", demand=case.elastic.peak, unit="N/mm"))
    return checks


def _filler_en1999(m: FilletGroup, filler: str) -> Looked | None:
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


def _zone(case: Case, required: float) -> Check:
    m, ends = case.m, case.elastic.ends
    strengths = [(s, s.material.f_u_haz) for s in m.sheets]
    missing = [s.material.grade for s, f in strengths if f is None]
    if missing:
        return EN9_ZONE.outside(
            f"no heat-affected strength of {missing[0]} is in the tables", demand=case.elastic.peak, unit="N/mm"
        )
    best: tuple[float, int, tuple[int, int], Array, Array] | None = None
    for n, across, shear in _strained(case):
        part = m.parts[n]
        used = al.haz_stress(F_perp=across, F_par=shear, t=part.t) / float(part.material.f_u_haz or 1.0)
        at = worst(used)
        if best is None or float(used[at]) > best[0]:
            best = (float(used[at]), n, at, across, shear)
    assert best is not None
    _, n, (i, j), across, shear = best
    weak = m.parts[n]
    f_u_haz, t = float(weak.material.f_u_haz or 0.0), weak.t
    size = float(ends.resultant[i, j])
    v = al.HAZ_STRESS.evaluate(F_perp=float(across[i, j]), F_par=float(shear[i, j]), t=t)
    notes = []
    working: list[Evaluation | Looked | Stated] = []
    if m.process == "TIG" and weak.material.grade.removeprefix("EN AW-")[:1] in "67":
        f_u_haz *= 0.8
        notes.append(
            "TIG on a 6xxx or 7xxx alloy: 0.8 of the zone strength (another textbook takes 0.05 off the factor)"
        )
    working.append(Stated("f_u_haz", "MPa", f_u_haz, f"{weak.material.grade}, {weak.material.standard}"))
    try:
        width, how = al.zone_width(process="TIG" if m.process == "TIG" else "MIG", t=t)
        working.append(Stated("b_haz", "mm", width, f"softened each way from the weld: {how}"))
        notes.append(f"softened {width:.3g} mm each way (US practice: 25 mm)")
    except InputError as error:
        notes.append(error.message)
    capacity = size * f_u_haz / float(v.value) if float(v.value) > 0 else f_u_haz * t
    return EN9_ZONE.judge(
        capacity=capacity, demand=size, required=required, unit="N/mm",
        trace=[*working, Stated("F_w_Ed", "N/mm", size, place(case, case.elastic, i, j)), v], note="; ".join(notes),
    )  # fmt: skip


def _chromoly(case: Case) -> list[Check]:
    m = case.m
    peak = case.elastic.peak
    sheet = min((s for s in m.sheets if s.material.grade.startswith("4130")), key=lambda s: s.t)
    k_near, why = cm.near_factor(taper=float(np.degrees(m.taper)))
    # published for normalised 4130: what a certificate gives beyond 95 ksi is not counted beside a weld
    inputs = {"k_near": k_near, "F_tu": min(sheet.f_u, cm.F_TU_MOST), "t": sheet.t}
    reasons = cm.NEAR_WELD_RESISTANCE.outside(**inputs)
    near = cm.NEAR_WELD_RESISTANCE.evaluate(**inputs)
    checks = [
        MIL_NEAR.outside(reasons, demand=peak, unit="N/mm")
        if reasons
        else MIL_NEAR.judge(
            capacity=float(near.value), demand=peak, required=FITTING, unit="N/mm", trace=[near],
            note=f"{why}; the tensile value is used for every direction",
        )
    ]  # fmt: skip
    ksi_80 = 551.0
    alloyed = at_least(case.filler.value, ksi_80)
    case_name = "weld_metal_alloy_filler_low" if alloyed else "weld_metal_low_carbon_filler"
    row = load_table("haz_4130").find(case=case_name)
    F_sw = Looked("F_sw", "MPa", row.need("shear_ultimate"), "haz_4130", case_name, _MIL)
    strength = cm.WELD_METAL_SHEAR.evaluate(F_sw=F_sw.value, t_e=m.design_throat)
    checks.append(
        MIL_WELD.judge(
            capacity=float(strength.value),
            demand=peak,
            required=FITTING,
            unit="N/mm",
            trace=[F_sw, measured(m), strength],
        )
    )
    return checks


# --- detailing, cautions -------------------------------------------------------------------------------


def _detailing(case: Case) -> list[Check]:
    m = case.m
    checks: list[Check] = []
    thin = m.thin.thickness
    structural = case.family == "steel" and at_least(thin, THIN_D11)
    if m.weld == "fillet" and m.leg is not None:
        if structural:
            least = next(
                r for r in load_table("fillet_min_leg_aisc").rows
                if r.number("t_to_mm") is None or at_most(thin, r.need("t_to_mm"))
            )  # fmt: skip
            how = Looked(
                "w_min", "mm", least.need("leg_min_mm"), "fillet_min_leg_aisc", f"t = {thin:.4g} mm", LEG_MIN.source
            )
            checks.append(LEG_MIN.judge(capacity=m.leg, demand=how.value, required=1.0, unit="mm", trace=[how]))
        if m.joint == "lap":
            rule, why = aisc.largest_leg(t=m.sheets[0].thickness)
            most = rule.evaluate(t=m.sheets[0].thickness)
            checks.append(
                LEG_MAX.judge(capacity=float(most.value), demand=m.leg, required=1.0, unit="mm", trace=[most], note=why)
            )
        shortest = float(m.group.lengths.min())
        if m.stitch is None:
            need = aisc.LEAST_LENGTH.evaluate(w=m.leg)
            if below(shortest, float(need.value)) and structural:
                checks.append(
                    LENGTH_MIN.info(
                        capacity=shortest, demand=float(need.value), unit="mm", trace=[need],
                        note="shorter welds are counted with a leg of a quarter of their length",
                    )
                )  # fmt: skip
            else:
                checks.append(
                    LENGTH_MIN.judge(capacity=shortest, demand=float(need.value), required=1.0, unit="mm", trace=[need])
                )
        else:
            checks += _stitches(case, shortest)
        checks += _sides(case)
    if m.overlap is not None and m.joint == "lap":
        lap = aisc.LEAST_LAP.evaluate(t=thin)
        checks.append(LAP_MIN.judge(capacity=m.overlap, demand=float(lap.value), required=1.0, unit="mm", trace=[lap]))
    if m.bend_radius is not None and case.family == "steel":
        checks.append(_corner(m))
    return checks


def _stitches(case: Case, shortest: float) -> list[Check]:
    m = case.m
    assert m.leg is not None
    assert m.stitch is not None
    least = aisc.LEAST_SEGMENT.evaluate(w=m.leg)
    thin = m.thin.t
    if below(thin, THIN_D11):
        checks = [
            STITCH_MIN.info(
                capacity=shortest, demand=float(least.value), unit="mm", trace=[least], note="rule for 3 mm and over"
            )
        ]
    else:
        checks = [
            STITCH_MIN.judge(capacity=shortest, demand=float(least.value), required=1.0, unit="mm", trace=[least])
        ]
    a, b = m.parts
    gap = m.stitch[1] - m.stitch[0]
    if m.width is not None:
        most = en.INTERMITTENT_GAP_COMPRESSION.evaluate(t=a.t, t_1=b.t, b=m.width)
        note = "in compression or shear; in tension it may be wider"
    else:
        most = en.INTERMITTENT_GAP_TENSION.evaluate(t=a.t, t_1=b.t)
        note = "in tension; in compression or shear 12 t and a quarter of the width (give 'width')"
    if below(thin, THIN_EN8):
        note = f"rule for 4 mm and over, {note}"
        checks.append(GAP_MAX.info(capacity=float(most.value), demand=gap, unit="mm", trace=[most], note=note))
    else:
        checks.append(
            GAP_MAX.judge(capacity=float(most.value), demand=gap, required=1.0, unit="mm", trace=[most], note=note)
        )
    return checks


def _sides(case: Case) -> list[Check]:
    """Side fillets alone under a force along them: each as long as they are apart (AISC 360 J2.2b)."""
    m = case.m
    size = hypot(m.load.F_x, m.load.F_y)
    if m.joint != "lap" or size == 0 or len(m.lines) < 2 or m.stitch is not None:
        return []
    along = np.array([m.load.F_x, m.load.F_y]) / size
    if np.any(np.abs(m.group.axes @ along) < np.cos(np.radians(1.0))):
        return []
    apart = float(np.ptp(m.group.lines.reshape(-1, 2) @ np.array([-along[1], along[0]])))
    return [SIDE_MIN.judge(capacity=float(m.group.lengths.min()), demand=apart, required=1.0, unit="mm")]


def _corner(m: FilletGroup) -> Check:
    assert m.bend_radius is not None
    t = m.thin.thickness
    kind = "fatigue" if m.cycles is not None else "static"
    fits, why = en.corner(r=m.bend_radius, t=t, kind=kind)
    rows = [
        r
        for r in load_table("cold_formed_corner").rows
        if (most := r.number(f"t_max_{kind}")) is None or at_most(t, most)
    ]
    need = min(r.need("r_over_t_min") for r in rows) * t
    found = CORNER.judge(capacity=m.bend_radius, demand=need, required=1.0, unit="mm", note=why)
    return found if fits or found.status == "over" else CORNER.outside(why, unit="mm")


def _unjudged(case: Case, checks: list[Check]) -> tuple[str, ...]:
    """What of the load no method judges: weld and sheet, direction by direction, and what the load bends."""
    m = case.m
    what = f"this {m.weld} weld in {m.thin.label}"
    parts = [
        ("weld", case.elastic.ends.resultant, f"no method judges the weld metal of {what}"),
        ("along", case.along, f"no method judges the sheet beside {what} for the load along it"),
        ("across", case.sideways, f"no method judges the sheet beside {what} for the load across it"),
        ("lift", case.lift, f"no method judges the sheet beside {what} for the load out of its plane"),
    ]
    found = [Need(part, sentence) for part, share, sentence in parts if case.has(share)]
    if case.lifted and m.weld != "butt":
        found.append(
            Need("pull-out", f"no method judges {m.parts[1].label} under the weld for the load out of its plane")
        )
    if m.cycles is not None:
        found.append(Need("fatigue", f"no method judges {what} for {m.cycles:.4g} load changes"))
    return uncovered([*found, *needs(case)], checks)


def _cautions(case: Case, checks: list[Check]) -> tuple[Caution, ...]:
    m = case.m
    raised: list[Caution | str] = [PURPOSES[word] for word in m.purpose]
    for sheet in m.sheets:
        raised += [caution(code, **words) for code, words in sheet.caution_codes()]
    if case.family == "aluminium":
        raised.append("heat-affected-aluminium")
    if m.chromoly:
        raised.append("heat-affected-4130")
    if len({s.material.family for s in m.sheets}) > 1:
        raised.append("galvanic")
    raised += _more_cautions(case, checks)
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


def _more_cautions(case: Case, checks: list[Check]) -> list[Caution | str]:
    """Cautions of what no number tells: fit-up, heat, supports that are taken for granted."""
    m = case.m
    raised: list[Caution | str] = ["weld-fit-up"]
    soft = [s for s in m.sheets if s.material.family != "aluminium" and beside(s).softened and not m.chromoly]
    if soft:
        raised.append(caution("softened-zone", strength=f"{beside(soft[0]).f_u:.4g} MPa", own=f"{soft[0].f_u:.4g} MPa"))
    elif case.family == "steel" and any(at_least(s.f_u, heat.SOFT) for s in m.sheets):
        strong = max(m.sheets, key=lambda s: s.f_u)
        raised.append(caution("softened-zone", strength=f"{beside(strong).f_u:.4g} MPa", own=f"{strong.f_u:.4g} MPa"))
    if case.lifted and m.weld != "butt":
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
    thin, thick = sorted(s.t for s in m.parts)
    if above(thick, 3 * thin):
        raised.append("heat-balance")
    if below(thin, THIN_ARC):
        raised.append("burn-through")
    if m.joint == "lap" and m.weld == "fillet" and _turning_lap(case):
        raised.append("lap-turns")
    hard = [c for c in checks if c.key == "advice.carbon-equivalent" and c.capacity and c.capacity.value]
    if hard and above(float(hard[0].capacity.value or 0.0), 0.49):  # type: ignore[union-attr]
        raised.append("hardened-zone")
    return raised


def _turning_lap(case: Case) -> bool:
    """Whether a lap is held by welds across its force at one end only, so that it turns under the load."""
    m = case.m
    size = hypot(m.load.F_x, m.load.F_y)
    return bool(size > 0 and case.in_line and np.all(case.sideways.max(axis=1) > case.along.max(axis=1)))
