"""Arc welds in metal that their heat softens: aluminium (EN 1999-1-1, Aluminum Design Manual), 4130 (MIL-HDBK-5)."""

from __future__ import annotations

import numpy as np

from jointcalc.check.common import CHARACTERISTIC, FITTED, NOMINAL
from jointcalc.check.fillet_action import FilletAction, measured, place, worst
from jointcalc.check.fillet_base import ALLOWABLE, filler_strength_en1999, strained
from jointcalc.errors import InputError
from jointcalc.formula import aluminium_en1999 as al
from jointcalc.formula import fillet_en1993 as en
from jointcalc.formula import heat_affected_4130 as cm
from jointcalc.formula.branch import at_least
from jointcalc.formula.core import Evaluation, Source
from jointcalc.quantity.sentence import joined, mm
from jointcalc.result import Check, Looked, Stated, method
from jointcalc.result.factor import omega, partial
from jointcalc.statics.group_common import Array
from jointcalc.tables.store import load as load_table

_EN9 = Source(al.EN9, "8.6.3", "from memory")
_MIL = Source("MIL-HDBK-5", "welded joints of alloy steel", "from memory")
EN9_WELD = method(
    "en1999-1-1.weld-metal",
    "Weld metal",
    _EN9,
    per="mm",
    basis=CHARACTERISTIC,
    factor=partial("γ_Mw", al.GAMMA_MW),
    covers=("weld",),
)
EN9_ZONE = method(
    "en1999-1-1.heat-affected", "Heat-affected zone", _EN9, per="mm", basis=CHARACTERISTIC,
    factor=partial("γ_Mw", al.GAMMA_MW), covers=("along", "across", "lift", "pull-out"),
)  # fmt: skip
ADM_FILLET = method(
    "adm.fillet-shear", "Aluminium fillet in shear", Source("Aluminum Design Manual", "fillet welds"), per="mm",
    basis=NOMINAL, factor=omega(al.OMEGA_ADM), covers=("weld",)
)  # fmt: skip
MIL_NEAR = method(
    "mil-hdbk-5.near-weld", "4130 beside the weld", _MIL, per="mm", basis=ALLOWABLE, factor=FITTED,
    covers=("along", "across", "lift"),
)  # fmt: skip
MIL_WELD = method(
    "mil-hdbk-5.weld-metal", "4130 weld metal", _MIL, per="mm", basis=ALLOWABLE, factor=FITTED, covers=("weld",),
)  # fmt: skip


def in_aluminium(action: FilletAction) -> list[Check]:
    """Weld metal and softened zone by EN 1999-1-1, and weld metal by the Aluminum Design Manual."""
    m = action.welds
    ends, a = action.elastic.ends, m.design_throat
    shares = {"F_1": np.abs(ends.normal), "F_2": -np.abs(ends.lift)}
    stress = en.directional_stress(
        sigma_perp=en.sigma_perp(**shares, a=a),
        tau_perp=en.tau_perp(**shares, a=a),
        tau_par=en.tau_par(F_par=ends.axial, a=a),
    )
    i, j = worst(stress)
    size = float(ends.resultant[i, j])
    where = Stated("F_w_Ed", "N/mm", size, f"elastic share, {place(action, action.elastic, i, j)}")
    filler = m.filler_row["filler"]
    looked = filler_strength_en1999(m, filler)
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
                capacity=capacity, demand=size, load_factor=m.load_factor, unit="N/mm",
                trace=[measured(m), looked, where, s, tp, tl, v], note="capacity in the direction of the load",
            )
        )  # fmt: skip
    checks.append(_zone(action))
    row = m.filler_row
    source = Source("Aluminum Design Manual", "fillet weld strengths", "from memory")
    F_sw = Looked("F_sw", "MPa", row.need("shear_ultimate"), "filler_aluminium_shear", filler, source)
    if m.weld == "fillet":
        strength = al.FILLER_SHEAR.evaluate(F_sw=F_sw.value, t_e=a)
        checks.append(
            ADM_FILLET.judge(
                capacity=float(strength.value), demand=action.elastic.peak, unit="N/mm",
                trace=[F_sw, measured(m), strength], note="strength along the weld, used for every direction",
            )
        )  # fmt: skip
    else:
        checks.append(ADM_FILLET.outside("written for fillets", demand=action.elastic.peak, unit="N/mm"))
    return checks


def _zone(action: FilletAction) -> Check:
    m, ends = action.welds, action.elastic.ends
    strengths = [(s, s.material.f_u_haz) for s in m.sheets]
    missing = [s.material.grade for s, f in strengths if f is None]
    if missing:
        return EN9_ZONE.outside(
            f"no heat-affected strength of {missing[0]} is in the tables", demand=action.elastic.peak, unit="N/mm"
        )
    best: tuple[float, int, tuple[int, int], Array, Array] | None = None
    for n, across, shear in strained(action):
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
        f_u_haz *= al.TIG_ON_HARDENED
        notes.append(
            f"TIG on a 6xxx or 7xxx alloy: {al.TIG_ON_HARDENED:g} of the zone strength (another textbook takes 0.05 "
            "off the factor)"
        )
    working.append(Stated("f_u_haz", "MPa", f_u_haz, f"{weak.material.grade}, {weak.material.standard}"))
    try:
        width, how = al.zone_width(process="TIG" if m.process == "TIG" else "MIG", t=t)
        working.append(Stated("b_haz", "mm", width, f"softened each way from the weld: {how}"))
        notes.append(f"softened {mm(width):.3g} each way (US practice: {mm(25)})")
    except InputError as error:
        notes.append(error.message)
    capacity = size * f_u_haz / float(v.value) if float(v.value) > 0 else f_u_haz * t
    return EN9_ZONE.judge(
        capacity=capacity, demand=size, load_factor=m.load_factor, unit="N/mm",
        trace=[*working, Stated("F_w_Ed", "N/mm", size, place(action, action.elastic, i, j)), v],
        note=joined("; ", notes),
    )  # fmt: skip


def by_mil_4130(action: FilletAction) -> list[Check]:
    """Ultimate allowables of MIL-HDBK-5 for 4130: near the weld, and its metal."""
    m = action.welds
    peak = action.elastic.peak
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
            capacity=float(near.value), demand=peak, unit="N/mm", trace=[near],
            note=f"{why}; the tensile value is used for every direction",
        )
    ]  # fmt: skip
    alloyed = at_least(action.filler.value, cm.ALLOYED_FILLER)
    case_name = "weld_metal_alloy_filler_low" if alloyed else "weld_metal_low_carbon_filler"
    row = load_table("haz_4130").find(case=case_name)
    F_sw = Looked("F_sw", "MPa", row.need("shear_ultimate"), "haz_4130", case_name, _MIL)
    strength = cm.WELD_METAL_SHEAR.evaluate(F_sw=F_sw.value, t_e=m.design_throat)
    checks.append(
        MIL_WELD.judge(
            capacity=float(strength.value),
            demand=peak,
            unit="N/mm",
            trace=[F_sw, measured(m), strength],
        )
    )
    return checks
