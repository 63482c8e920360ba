"""Bolts, rivnuts and blind rivets in sheet, alone or in a group, by every applicable published method side by side.

The load is spread over the fasteners elastically (vector method, the arm of the load counted in space); each method
then judges the worst fastener.  For bolts the instantaneous centre of rotation stands beside it when the load lies in
the plane.  Prying and contact pressure between the parts are not counted.

Thin sheet: EN 1993-1-3 and AISI S100; plate: EN 1993-1-8 and AISC 360; each refuses the other's thickness.  EN 1993-1-3
asks for tests of the pull-through of bolts; its value for screws (and AISI's pull-over) is used for head and washer,
and says so.  The spreader plate is our own lower bound (`jointcalc.formula.backing_plate`).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import hypot

import numpy as np

from jointcalc.check.common import CHARACTERISTIC, NOMINAL, OWN, PARTIAL, Steps
from jointcalc.errors import InputError
from jointcalc.formula import backing_plate, bolt_strength, bolts_aisc, bolts_aisi, bolts_en1993
from jointcalc.formula.core import Formula, Source
from jointcalc.model.bolts import SHANK_CLASSES, Fastener, FastenerGroup
from jointcalc.model.fields import PURPOSES
from jointcalc.model.sheet import Sheet
from jointcalc.result import (
    DETAILING,
    GAMMA_M2,
    Amount,
    Check,
    Looked,
    Method,
    Result,
    Stated,
    caution,
    collect,
    method,
)
from jointcalc.result.cautions import Caution
from jointcalc.statics import fastener_group as statics
from jointcalc.statics.group_common import Array, Load
from jointcalc.tables.store import load as table

EN_SHEAR = method(
    "en1993-1-8.bolt-shear",
    "Bolt, shear (EN)",
    bolts_en1993.SHEAR,
    per="fastener",
    basis=CHARACTERISTIC,
    factor=PARTIAL,
)
EN_TENSION = method(
    "en1993-1-8.bolt-tension",
    "Bolt, tension (EN)",
    bolts_en1993.TENSION,
    per="fastener",
    basis=CHARACTERISTIC,
    factor=PARTIAL,
)
EN_BOTH = method(
    "en1993-1-8.bolt-interaction",
    "Bolt, shear and tension (EN)",
    bolts_en1993.MEMORY,
    per="fastener",
    basis="sum of utilisations",
    factor="1 (γ_M2 and γ_F are in the sum)",
)
EN_BEARING = method(
    "en1993-1-8.bearing",
    "Bearing, plate (EN)",
    bolts_en1993.BEARING,
    per="fastener",
    basis=CHARACTERISTIC,
    factor=PARTIAL,
)
EN_PUNCHING = method(
    "en1993-1-8.punching",
    "Punching of plate (EN)",
    bolts_en1993.MEMORY,
    per="fastener",
    basis=CHARACTERISTIC,
    factor=PARTIAL,
)
EN_SHEET_BEARING = method(
    "en1993-1-3.bolt-bearing",
    "Bearing, sheet (EN)",
    bolts_en1993.SHEET,
    per="fastener",
    basis=CHARACTERISTIC,
    factor=PARTIAL,
)
EN_DUCTILITY = method(
    "en1993-1-3.fastener-ductility",
    "Sheet gives way first",
    bolts_en1993.SHEET,
    per="fastener",
    basis="condition",
    factor="1.2, in the condition",
)
EN_NET = method(
    "en1993-1-3.fastener-net-section",
    "Net section of the sheet",
    bolts_en1993.SHEET,
    per="group",
    basis=CHARACTERISTIC,
    factor=PARTIAL,
)
EN_PLATE_NET = method(
    "en1993-1-1.net-section",
    "Net section of the plate",
    bolts_en1993.PART_1_1,
    per="group",
    basis=CHARACTERISTIC,
    factor=PARTIAL,
)
EN_PULL_THROUGH = method(
    "en1993-1-3.pull-through",
    "Pull-through of head (EN)",
    bolts_en1993.SCREW,
    per="fastener",
    basis=CHARACTERISTIC,
    factor=PARTIAL,
)
EN_RIVET_BEARING = method(
    "en1993-1-3.rivet-bearing",
    "Bearing of the rivet",
    bolts_en1993.RIVET,
    per="fastener",
    basis=CHARACTERISTIC,
    factor=PARTIAL,
)
AISI_BEARING = method(
    "aisi-s100.bearing", "Bearing, sheet (AISI)", bolts_aisi.BEARING, per="fastener", basis=NOMINAL, factor="Ω = 2.50"
)
AISI_DEFORMATION = method(
    "aisi-s100.bearing-deformation",
    "Bearing, small hole growth",
    bolts_aisi.DEFORMATION,
    per="fastener",
    basis=NOMINAL,
    factor="Ω = 2.22",
)
AISI_TEAR_OUT = method(
    "aisi-s100.tear-out",
    "Tear-out to the edge (AISI)",
    bolts_aisi.RUPTURE,
    per="fastener",
    basis=NOMINAL,
    factor="Ω = 2.22",
)
AISI_PULL_OVER = method(
    "aisi-s100.pull-over",
    "Pull-over of head (AISI)",
    bolts_aisi.PULL_OVER,
    per="fastener",
    basis=NOMINAL,
    factor="Ω = 3.00",
)
AISC_SHEAR = method(
    "aisc360.bolt-shear", "Bolt, shear (AISC)", bolts_aisc.STRESS, per="fastener", basis=NOMINAL, factor="Ω = 2.00"
)
AISC_TENSION = method(
    "aisc360.bolt-tension",
    "Bolt, tension (AISC)",
    bolts_aisc.COMBINED,
    per="fastener",
    basis=NOMINAL,
    factor="Ω = 2.00",
)
AISC_BEARING = method(
    "aisc360.bearing", "Bearing, plate (AISC)", bolts_aisc.BEARING, per="fastener", basis=NOMINAL, factor="Ω = 2.00"
)
AISC_TEAR_OUT = method(
    "aisc360.tear-out", "Tear-out, plate (AISC)", bolts_aisc.BEARING, per="fastener", basis=NOMINAL, factor="Ω = 2.00"
)
CENTRE = Source("AISC Steel Construction Manual", "part 7", "from memory", "confirmed by its printed coefficients")
AISC_CENTRE = method(
    "aisc-manual.instantaneous-centre",
    "Bolt group, centre of rotation",
    CENTRE,
    per="group",
    basis=NOMINAL,
    factor="Ω = 2.00",
)
ELLIPSE = method(
    "kulak.shear-tension",
    "Bolt, ellipse",
    bolt_strength.ELLIPSE,
    per="fastener",
    bound="information",
    basis="square sum of nominal utilisations",
    factor="none: information",
)
ULTIMATE = method(
    "product.ultimate-load",
    "Least ultimate load of the bolt",
    bolt_strength.LOADS,
    per="fastener",
    bound="information",
    basis="product minimum",
    factor="none: information",
)
PROOF = method(
    "product.proof-load",
    "Proof load of the bolt",
    bolt_strength.LOADS,
    per="fastener",
    bound="information",
    basis="product proof load",
    factor="none: information",
)
RIVET = Source("ISO 15977, ISO 15979", "minimum shear and tensile loads", "from memory")
RIVET_SHEAR = method("iso-rivet.shear", "Rivet, shear", RIVET, per="fastener", basis="product minimum", factor=OWN)
RIVET_TENSION = method(
    "iso-rivet.tension", "Rivet, tension", RIVET, per="fastener", basis="product minimum", factor=OWN
)
MAKER = Source("maker's values", "as stated by the builder", "second-hand")
INSERT_TENSION = method(
    "maker.insert-tension", "Rivnut pulled out of the sheet", MAKER, per="fastener", basis="maker's value", factor=OWN
)
INSERT_SHEAR = method("maker.insert-shear", "Rivnut in shear", MAKER, per="fastener", basis="maker's value", factor=OWN)
SPREADER = method(
    "spreader-plate.pull-through",
    "Sheet under spreader plate",
    backing_plate.OURS,
    per="fastener",
    basis="lower bound, own derivation",
    factor=PARTIAL,
)
PLATE_CONTACT = method(
    "spreader-plate.contact",
    "Nut bearing on the plate",
    backing_plate.CONTACT,
    per="fastener",
    basis="yield, own derivation",
    factor="γ_F",
)
PLATE_ELASTIC = method(
    "spreader-plate.elastic-stress",
    "Elastic stress in the plate",
    backing_plate.ROARK,
    per="fastener",
    bound="information",
    basis="first yield, not strength",
    factor="none: information",
)
LINEAR = Source(
    "linear interaction",
    "exponent 1",
    "derivation",
    "the safe end; AISI J4.5.1 weighs the pull by 0.71 for screws",
)
TOGETHER = method(
    "interaction.bearing-pull",
    "Bearing and pull together",
    LINEAR,
    per="fastener",
    basis="sum of utilisations",
    factor="1",
)
SPACING = method(
    "detail.hole-spacing",
    "Spacing of the holes",
    Source("EN 1993-1-3:2006 Table 8.4; EN 1993-1-8 Table 3.3", "", "from memory"),
    per="mm",
    basis=DETAILING,
    bound="least",
    factor="none: information",
)
PLATE_AREA = method(
    "detail.plate-area",
    "Spreader plate, area",
    Source("Queensland light-vehicle code", "cl. 2.1 to 2.5", "second-hand"),
    per="fastener",
    basis=DETAILING,
    bound="least",
    factor="1 (a limit)",
)
PLATE_THICKNESS = method(
    "detail.plate-thickness",
    "Spreader plate, thickness",
    Source("Queensland light-vehicle code", "cl. 2.1 to 2.5", "second-hand"),
    per="mm",
    basis=DETAILING,
    bound="least",
    factor="1 (a limit)",
)

FAR = 100.0
"""An edge or a hole this many diameters away does not weaken bearing in any of the rules."""
OCCUPANT = ("seat", "belt", "child restraint")


def check_bolts(group: FastenerGroup) -> Result:
    """Judge a group of fasteners; raises InputError when it has no stiffness against the load.

    `peak` is the highest resultant on a fastener, `peak_fastener` its number in the order given (from 1), `peak_at_x`
    and `peak_at_y` its place, `peak_at` its distance from the centroid of the group.
    """
    spread = _Spread(group)
    f = group.fastener
    checks: list[Check] = []
    if f.kind == "rivet":
        checks += _rivet_itself(group, spread)
    else:
        checks += _bolt_itself(group, spread)
        if f.kind == "rivnut":
            checks += _insert(group, spread)
    sheets = _sheets(group, spread)
    checks += sheets
    checks += _net_section(group)
    pulls = _pull(group, spread)
    checks += pulls
    checks += _bearing_and_pull(sheets, pulls, spread)
    checks += _details(group)
    values = {
        "fasteners": Amount(float(len(group.holes)), "1"),
        "peak": Amount(spread.peak, "N"),
        "peak_at": Amount(spread.peak_radius, "mm"),
        "peak_at_x": Amount(spread.peak_at[0], "mm"),
        "peak_at_y": Amount(spread.peak_at[1], "mm"),
        "peak_fastener": Amount(float(spread.peak_fastener + 1), "1"),
        "shear_max": Amount(spread.shear_max, "N"),
        "pull_max": Amount(spread.pull_max, "N"),
        "hole_diameter": Amount(group.d_0, "mm"),
    }
    return Result(
        kind=group.kind,
        id=group.id,
        title=group.title,
        checks=tuple(checks),
        values=values,
        cautions=_cautions(group, spread, checks),
        unjudged=_unjudged(group, spread, checks),
        model=group,
        about={
            "fastener": f"{len(group.holes)} x {f.label}",
            "sheets": " + ".join(sheet.label for sheet in group.sheets),
            **(
                {"plate": f"plate {group.plate[0]:g} x {group.plate[1]:g} x {group.plate[2]:g} mm"}
                if group.plate
                else {}
            ),
        },
    )


class _Spread:
    """What each fastener gets of the service load, elastically."""

    def __init__(self, group: FastenerGroup) -> None:
        self.load = Load.at(group.force or (0.0, 0.0, 0.0), group.at, group.moment or (0.0, 0.0, 0.0))  # type: ignore[arg-type]
        self.group = statics.FastenerGroup.of(group.holes, area=group.fastener.area)
        try:
            shared = self.group.elastic(self.load)
        except InputError as error:
            raise InputError(error.message, field=error.field or "holes") from error
        self.shear = shared.shear
        self.pull = np.maximum(shared.pull, 0.0)
        floor = 1e-9 * float(shared.resultant.max(initial=0.0))
        self.shear = np.where(self.shear > floor, self.shear, 0.0)
        self.pull = np.where(self.pull > floor, self.pull, 0.0)
        self.resultant = shared.resultant
        self.peak, self.peak_at, self.peak_fastener = shared.peak, shared.peak_at, shared.peak_fastener
        centre = self.group.sections()
        self.peak_radius = hypot(self.peak_at[0] - centre.x, self.peak_at[1] - centre.y)
        self.shear_max, self.pull_max = float(self.shear.max()), float(self.pull.max())
        self.most_shear, self.most_pull = int(self.shear.argmax()), int(self.pull.argmax())
        where = group.holes[self.most_shear]
        self.how = Stated("V", "N", self.shear_max, f"elastic share of the hole at {where[0]:g}, {where[1]:g} mm")
        where = group.holes[self.most_pull]
        self.how_pull = Stated("T", "N", self.pull_max, f"elastic share of the hole at {where[0]:g}, {where[1]:g} mm")


def _judged(
    how: Method, formula: Formula, inputs: dict[str, float], *, demand: float, required: float, before: Steps,
    after: Steps, reasons: Iterable[str] = (), where: str = "", note: str = "",
) -> Check:  # fmt: skip
    """One formula turned into a check, or `outside` with every reason."""
    stop = [*reasons, *formula.outside(**inputs)]
    if stop:
        return how.outside(list(dict.fromkeys(stop)), demand=demand, trace=[*before, *after], where=where)
    evaluation = formula.evaluate(**inputs)
    return how.judge(
        capacity=float(evaluation.value),
        demand=demand,
        required=required,
        trace=[*before, evaluation, *after],
        where=where,
        note=note,
    )


# --- the fastener itself ------------------------------------------------------------------------------


def _planes(group: FastenerGroup) -> float:
    return 2.0 if len(group.sheets) == 3 else 1.0


def _alpha_v(f: Fastener, threads: str) -> tuple[float, str] | None:
    """Shear coefficient of EN 1993-1-8 and why; None where Table 3.4 gives none for the class."""
    if threads == "out":
        return 0.6, "0.6: shank in the shear plane"
    if f.grade in SHANK_CLASSES:
        return 0.6, f"0.6: class {f.grade}"
    if f.grade in ("4.8", "5.8", "6.8", "10.9"):
        return 0.5, f"0.5: class {f.grade}, thread in the shear plane"
    if f.standard == "ISO 3506-1":
        return 0.5, "0.5: stainless, thread in the shear plane (EN 1993-1-4 6.2, from memory)"
    return None


def _bolt_itself(group: FastenerGroup, spread: _Spread) -> list[Check]:
    f = group.fastener
    planes = _planes(group)
    shear = spread.shear / planes
    in_plane = Stated("V_1", "N", float(shear.max()), f"{planes:.0f} shear planes") if planes > 1 else spread.how
    required = GAMMA_M2 * group.load_factor
    checks: list[Check] = []
    coefficient = _alpha_v(f, group.threads)
    reason = ""
    if not f.f_ub:
        reason = f"EN 1993-1-8 covers metric property classes, this is {f.standard}"
    elif coefficient is None:
        reason = f"Table 3.4 gives no shear coefficient for class {f.grade}"
    V_R = T_R = None
    if reason:
        checks.append(EN_SHEAR.outside(reason, demand=float(shear.max())))
    else:
        assert coefficient is not None
        A = f.A_s if group.threads == "in" else f.area
        given = Stated("alpha_v", "1", coefficient[0], coefficient[1])
        strength = bolts_en1993.BOLT_SHEAR.evaluate(alpha_v=coefficient[0], f_ub=f.f_ub, A=A)
        V_R = float(strength.value)
        trace: Steps = [given, strength]
        if f.d in (12.0, 14.0) and group.d_0 - f.d > 1.0 + 1e-9:
            less = bolts_en1993.CLEARANCE_REDUCED.evaluate(F_v_Rd=V_R)
            V_R = float(less.value)
            trace.append(less)
        checks.append(
            EN_SHEAR.judge(capacity=V_R, demand=float(shear.max()), required=required, trace=[*trace, in_plane])
        )
    if spread.pull_max:
        if not f.f_ub:
            checks.append(EN_TENSION.outside(reason, demand=spread.pull_max))
        else:
            tension = bolts_en1993.BOLT_TENSION.evaluate(k_2=0.63 if group.countersunk else 0.9, f_ub=f.f_ub, A_s=f.A_s)
            T_R = float(tension.value)
            checks.append(
                EN_TENSION.judge(
                    capacity=T_R, demand=spread.pull_max, required=required, trace=[tension, spread.how_pull]
                )
            )
    if V_R and T_R and spread.shear_max:
        gamma = group.load_factor
        sums = bolts_en1993.SHEAR_AND_TENSION(
            F_v_Ed=gamma * shear, F_v_Rd=V_R / GAMMA_M2, F_t_Ed=gamma * spread.pull, F_t_Rd=T_R / GAMMA_M2
        )
        worst = int(np.argmax(sums))
        both = bolts_en1993.SHEAR_AND_TENSION.evaluate(
            F_v_Ed=gamma * float(shear[worst]),
            F_v_Rd=V_R / GAMMA_M2,
            F_t_Ed=gamma * float(spread.pull[worst]),
            F_t_Rd=T_R / GAMMA_M2,
        )
        checks.append(EN_BOTH.judge(capacity=1.0, demand=float(both.value), required=1.0, unit="1", trace=[both]))
    checks += _bolt_aisc(group, spread, shear, in_plane)
    if spread.pull_max:
        source: Steps = [Stated("R_m", "MPa", f.R_m, f"{f.standard}, {f.grade}"), Stated("A_s", "mm^2", f.A_s, f.label)]
        most = bolt_strength.ULTIMATE_LOAD.evaluate(R_m=f.R_m, A_s=f.A_s)
        checks.append(ULTIMATE.info(capacity=float(most.value), demand=spread.pull_max, trace=[*source, most]))
        if f.S_p:
            proof = bolt_strength.PROOF_LOAD.evaluate(S_p=f.S_p, A_s=f.A_s)
            checks.append(PROOF.info(capacity=float(proof.value), demand=spread.pull_max, trace=[proof]))
    return checks


def _bolt_aisc(group: FastenerGroup, spread: _Spread, shear: Array, in_plane: Stated) -> list[Check]:
    f = group.fastener
    area = bolts_aisc.NOMINAL_AREA.evaluate(d=f.d)
    stress = (
        bolts_aisc.SHEAR_STRESS_THREADS_IN if group.threads == "in" else bolts_aisc.SHEAR_STRESS_THREADS_OUT
    ).evaluate(F_ub=f.R_m)
    A_b, F_nv = float(area.value), float(stress.value)
    omega = bolts_aisc.SAFETY.Omega
    strength = bolts_aisc.BOLT_SHEAR.evaluate(F_nv=F_nv, A_b=A_b)
    note = "as a threaded part of the bolt's own strength (Table J3.2)"
    checks = [
        AISC_SHEAR.judge(
            capacity=float(strength.value),
            demand=float(shear.max()),
            required=omega,
            trace=[area, stress, strength, in_plane],
            note=note,
        )
    ]
    if spread.pull_max and not group.countersunk:
        tensile = bolts_aisc.TENSION_STRESS_THREADED.evaluate(F_ub=f.R_m)
        F_nt = float(tensile.value)
        f_rv = shear / A_b
        left = bolts_aisc.TENSION_BESIDE_SHEAR_ASD(F_nt=F_nt, F_nv=F_nv, f_rv=f_rv, Omega=omega)
        small = (f_rv <= 0.3 * F_nv / omega) | (spread.pull / A_b <= 0.3 * F_nt / omega)
        left = np.where(small, F_nt, np.maximum(left, 1e-6 * F_nt))
        worst = int(np.argmax(spread.pull / left))
        beside = bolts_aisc.TENSION_BESIDE_SHEAR_ASD.evaluate(
            F_nt=F_nt, F_nv=F_nv, f_rv=float(f_rv[worst]), Omega=omega
        )
        tension = bolts_aisc.BOLT_TENSION.evaluate(F_nt=float(left[worst]), A_b=A_b)
        used: Steps = [area, tensile, *([] if small[worst] else [beside]), tension]
        checks.append(
            AISC_TENSION.judge(
                capacity=float(tension.value),
                demand=float(spread.pull[worst]),
                required=omega,
                trace=[*used, spread.how_pull],
                note="shear or tension at most 30 % of what is available: the other counts in full"
                if small[worst]
                else "",
            )
        )
        if spread.shear_max:
            ratios = (spread.pull / (F_nt * A_b)) ** 2 + (shear / float(strength.value)) ** 2
            worst = int(np.argmax(ratios))
            ellipse = bolt_strength.ELLIPTICAL.evaluate(
                f_t=float(spread.pull[worst]) / (F_nt * A_b), f_v=float(shear[worst]) / float(strength.value)
            )
            checks.append(
                ELLIPSE.info(
                    capacity=1.0,
                    demand=float(ellipse.value),
                    unit="1",
                    trace=[ellipse],
                    note="no factor in it: at 1 the bolt breaks",
                )
            )
    if len(group.holes) > 1:
        checks.append(_centre(group, spread, float(strength.value) * _planes(group), [area, stress, strength]))
    return checks


def _centre(group: FastenerGroup, spread: _Spread, R_n: float, trace: Steps) -> Check:
    load_ = spread.load
    size, unit = hypot(load_.F_x, load_.F_y), "N"
    if not size:
        size, unit = abs(load_.M_z), "N*mm"
    if any(abs(v) > 1e-9 * max(size, 1.0) for v in (load_.F_z, load_.M_x, load_.M_y)) or not size:
        return AISC_CENTRE.outside(
            "the method is for a load in the plane of the group; this one also pulls or bends out of it",
            demand=size or None,
            unit=unit,
        )
    flat = Load(F_x=load_.F_x, F_y=load_.F_y, M_z=load_.M_z)
    found = spread.group.ultimate(flat, R_n)
    steps: Steps = list(trace)
    if found.coefficient is not None:
        steps.append(Stated("C", "1", found.coefficient, f"{found.rule}, capacity over the strength of one bolt"))
    return AISC_CENTRE.judge(
        capacity=found.factor * size,
        demand=size,
        required=bolts_aisc.SAFETY.Omega,
        unit=unit,
        trace=steps,
        note="the bolts alone; the sheet is judged by the elastic shares",
    )


def _rivet_itself(group: FastenerGroup, spread: _Spread) -> list[Check]:
    f = group.fastener
    planes = _planes(group)

    def looked(symbol: str, value: float, column: str) -> Looked:
        return Looked(symbol, "N", value, "rivet_blind", f"{column} of {f.label}", RIVET)

    checks = [
        RIVET_SHEAR.judge(
            capacity=f.shear_min,
            demand=spread.shear_max / planes,
            required=group.handbook_factor,
            trace=[looked("F_v", f.shear_min, "shear_min"), spread.how],
        )
    ]
    if spread.pull_max:
        checks.append(
            RIVET_TENSION.judge(
                capacity=f.tension_min,
                demand=spread.pull_max,
                required=group.handbook_factor,
                trace=[looked("F_t", f.tension_min, "tension_min"), spread.how_pull],
            )
        )
    return checks


def _insert(group: FastenerGroup, spread: _Spread) -> list[Check]:
    checks = []
    for how, value, demand, given in (
        (INSERT_SHEAR, group.insert_shear, spread.shear_max, spread.how),
        (INSERT_TENSION, group.insert_tension, spread.pull_max, spread.how_pull),
    ):
        if value is not None:
            stated = Stated("F", "N", abs(value), "the maker's value for this sheet, as stated")
            checks.append(
                how.judge(capacity=abs(value), demand=demand, required=group.handbook_factor, trace=[stated, given])
            )
        elif demand:
            option = "insert_tension" if how is INSERT_TENSION else "insert_shear"
            checks.append(how.outside(f"no standard states it; give the maker's value in '{option}'", demand=demand))
    return checks


# --- the sheet --------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Distances:
    """Distances that the rules of one sheet use [mm]."""

    e: float
    p: float
    note: str


def _distances(group: FastenerGroup) -> _Distances:
    d = max(group.d_bearing, group.d_0)
    e = group.edge if group.edge is not None else FAR * d
    p = group.pitch if group.pitch is not None else FAR * d
    note = "" if group.edge is not None else "edges taken as far away: give the edge distance if they are not"
    return _Distances(e, p, note)


def _where(group: FastenerGroup, n: int) -> str:
    return "" if len(group.sheets) == 1 else str(n + 1)


def _family(sheet: Sheet, body: str) -> list[str]:
    """Why a rule does not cover the sheet; EN 1993-1-4 sends stainless to parts 1-3 and 1-8, no American one does."""
    if sheet.material.family == "aluminium":
        return [f"{body} is for steel, this sheet is aluminium"]
    if sheet.material.family == "stainless" and body.startswith("AI"):
        return [f"{body} is for carbon steel, this sheet is stainless"]
    return []


def _sheets(group: FastenerGroup, spread: _Spread) -> list[Check]:
    checks: list[Check] = []
    rivet = group.fastener.kind == "rivet"
    for n, sheet in enumerate(group.sheets):
        inner = len(group.sheets) == 3 and n == 1
        demand = spread.shear_max / (2.0 if len(group.sheets) == 3 and not inner else 1.0)
        where = _where(group, n)
        before: Steps = [sheet.core] if sheet.core is not None else []
        checks += _bearing_en(group, sheet, demand, where, before, spread) if not rivet else []
        checks += _bearing_aisi(group, sheet, demand, where, before, spread, inner) if not rivet else []
        checks += _bearing_aisc(group, sheet, demand, where, before, spread) if not rivet else []
        if rivet:
            checks.append(_bearing_rivet(group, n, demand, where, before, spread))
        checks.append(_tear_out(group, sheet, demand, where, before, spread))
    checks += _ductility(group, checks)
    return checks


def _bearing_en(
    group: FastenerGroup, sheet: Sheet, demand: float, where: str, before: Steps, spread: _Spread
) -> list[Check]:
    at, d, d_0 = _distances(group), group.d_bearing, group.d_0
    required = GAMMA_M2 * group.load_factor
    family = _family(sheet, "EN 1993")
    f = group.fastener
    f_ub = f.f_ub or f.R_m
    a = bolts_en1993.SHEET_ALPHA_B.evaluate(e_1=at.e, d=d)
    k_t = bolts_en1993.SHEET_K_T.evaluate(t=sheet.t)
    thin = _judged(
        EN_SHEET_BEARING,
        bolts_en1993.SHEET_BEARING,
        {
            "alpha_b": float(a.value), "k_t": float(k_t.value), "f_u": sheet.f_u, "d": d, "t": sheet.t, "d_0": d_0,
            "e_1": at.e, "e_2": at.e, "p_1": at.p, "p_2": at.p,
        },
        demand=demand,
        required=required,
        before=[*before, a, k_t],
        after=[spread.how],
        reasons=family,
        where=where,
        note=at.note,
    )  # fmt: skip
    if f.kind == "rivnut":
        return [thin]
    end = bolts_en1993.ALPHA_B_END.evaluate(e_1=at.e, d_0=d_0, f_ub=f_ub, f_u=sheet.f_u)
    inner = bolts_en1993.ALPHA_B_INNER.evaluate(p_1=at.p, d_0=d_0, f_ub=f_ub, f_u=sheet.f_u)
    k_1 = bolts_en1993.K_1_EDGE_LINES.evaluate(e_2=at.e, p_2=at.p, d_0=d_0)
    alpha_b = min(float(end.value), float(inner.value))
    thick = _judged(
        EN_BEARING,
        bolts_en1993.BEARING_PLATE,
        {
            "k_1": float(k_1.value), "alpha_b": alpha_b, "f_u": sheet.f_u, "d": d, "t": sheet.t, "d_0": d_0,
            "e_1": at.e, "e_2": at.e, "p_1": at.p, "p_2": at.p,
        },
        demand=demand,
        required=required,
        before=[*before, end, inner, k_1],
        after=[spread.how],
        reasons=family,
        where=where,
        note=at.note,
    )  # fmt: skip
    if thick.capacity is not None and _one_row_of_a_single_lap(group, spread):
        most = bolts_en1993.BEARING_SINGLE_LAP.evaluate(f_u=sheet.f_u, d=d, t=sheet.t)
        if float(most.value) < float(thick.capacity.value or 0.0):
            why = "single lap with one row of bolts: at most 1.5 f_u d t, with washers under head and nut (3.6.1(10))"
            thick = EN_BEARING.judge(
                capacity=float(most.value), demand=demand, required=required, trace=[*thick.trace, most], where=where,
                note="; ".join(part for part in (why, at.note) if part),
            )  # fmt: skip
    return [thin, thick]


def _one_row_of_a_single_lap(group: FastenerGroup, spread: _Spread) -> bool:
    """Whether two parts lap with one row of bolts across the force (EN 1993-1-8, 3.6.1(10)): the lap bends then."""
    if len(group.sheets) > 2:
        return False
    holes = np.array([hole[:2] for hole in group.holes])
    force = np.array([spread.load.F_x, spread.load.F_y])
    size = float(np.hypot(*force))
    return len(holes) == 1 or (size > 0 and float(np.ptp(holes @ (force / size))) < group.d_0 / 2)


def _bearing_aisi(
    group: FastenerGroup, sheet: Sheet, demand: float, where: str, before: Steps, spread: _Spread, inner: bool
) -> list[Check]:
    d = group.d_bearing
    family = _family(sheet, "AISI S100")
    m_f, why = bolts_aisi.M_F_NONE_OR_ONE, "0.75: no washers"
    if inner:
        m_f, why = bolts_aisi.M_F_INNER_SHEET, "1.33: inner sheet of a double lap"
    elif group.washers is not None:
        m_f, why = bolts_aisi.M_F_WASHERS_BOTH_SIDES, "1.00: washers under head and nut"
    C = bolts_aisi.BEARING_FACTOR_STANDARD.evaluate(d=d, t=sheet.t)
    given = Stated("m_f", "1", m_f, why)
    strength = _judged(
        AISI_BEARING,
        bolts_aisi.BEARING_STRENGTH,
        {"C": float(C.value), "m_f": m_f, "d": d, "t": sheet.t, "F_u": sheet.f_u},
        demand=demand,
        required=bolts_aisi.SAFETY_BEARING.Omega,
        before=[*before, C, given],
        after=[spread.how],
        reasons=family,
        where=where,
    )
    deformation = _judged(
        AISI_DEFORMATION,
        bolts_aisi.BEARING_DEFORMATION,
        {"t": sheet.t, "d": d, "F_u": sheet.f_u},
        demand=demand,
        required=bolts_aisi.SAFETY_DEFORMATION.Omega,
        before=before,
        after=[spread.how],
        reasons=family,
        where=where,
    )
    return [strength, deformation]


def _bearing_aisc(
    group: FastenerGroup, sheet: Sheet, demand: float, where: str, before: Steps, spread: _Spread
) -> list[Check]:
    at, family = _distances(group), _family(sheet, "AISC 360")
    omega = bolts_aisc.SAFETY.Omega
    checks = [
        _judged(
            AISC_BEARING,
            bolts_aisc.BEARING_STRENGTH,
            {"d": group.d_bearing, "t": sheet.t, "F_u": sheet.f_u},
            demand=demand,
            required=omega,
            before=before,
            after=[spread.how],
            reasons=family,
            where=where,
        )
    ]
    clear = min(at.e - group.d_0 / 2, at.p - group.d_0)
    if group.edge is not None or group.pitch is not None:
        checks.append(
            _judged(
                AISC_TEAR_OUT,
                bolts_aisc.TEAR_OUT,
                {"l_c": clear, "t": sheet.t, "F_u": sheet.f_u},
                demand=demand,
                required=omega,
                before=before,
                after=[spread.how],
                reasons=family,
                where=where,
                note=at.note,
            )
        )
    return checks


def _bearing_rivet(group: FastenerGroup, n: int, demand: float, where: str, before: Steps, spread: _Spread) -> Check:
    at, d = _distances(group), group.d_bearing
    sheet = group.sheets[n]
    beside = [group.sheets[i].t for i in (n - 1, n + 1) if 0 <= i < len(group.sheets)]
    # alone, or against several: the thinnest neighbour tilts the rivet most; never less than the sheet itself
    t_1 = max(sheet.t, min(beside, default=sheet.t))
    alpha = bolts_en1993.RIVET_ALPHA.evaluate(t=sheet.t, t_1=t_1, d=d)
    return _judged(
        EN_RIVET_BEARING,
        bolts_en1993.RIVET_BEARING,
        {
            "alpha": float(alpha.value), "f_u": sheet.f_u, "d": d, "t": sheet.t,
            "e_1": at.e, "e_2": at.e, "p_1": at.p, "p_2": at.p,
        },
        demand=demand,
        required=GAMMA_M2 * group.load_factor,
        before=[*before, alpha],
        after=[spread.how],
        reasons=_family(sheet, "EN 1993"),
        where=where,
        note=at.note,
    )  # fmt: skip


def _tear_out(group: FastenerGroup, sheet: Sheet, demand: float, where: str, before: Steps, spread: _Spread) -> Check:
    at = _distances(group)
    reasons = _family(sheet, "AISI S100")
    if group.edge is None and group.pitch is None:
        reasons.append("neither an edge distance nor a second hole given")
    clear = min(at.e - group.d_0 / 2, at.p - group.d_0)
    return _judged(
        AISI_TEAR_OUT,
        bolts_aisi.TEAR_OUT,
        {"F_u": sheet.f_u, "n": 1.0, "t": sheet.t, "e_net": clear},
        demand=demand,
        required=bolts_aisi.SAFETY_RUPTURE.Omega,
        before=[*before, Stated("e_net", "mm", clear, "clear of the hole, to the edge or the next hole")],
        after=[spread.how],
        reasons=reasons,
        where=where,
        note=at.note,
    )


def _ductility(group: FastenerGroup, sheets: list[Check]) -> list[Check]:
    """EN 1993-1-3: the fastener at least 1.2 times as strong in shear as the sheet in bearing."""
    f = group.fastener
    found = [c for c in sheets if c.method in (EN_SHEET_BEARING, EN_RIVET_BEARING) and c.capacity is not None]
    if not found:
        return []
    least = min(float(c.capacity.value or 0.0) for c in found if c.capacity)
    if f.kind == "rivet":
        own = f.shear_min
    else:
        coefficient = _alpha_v(f, group.threads)
        if coefficient is None or not f.f_ub:
            return []
        own = float(
            bolts_en1993.BOLT_SHEAR(alpha_v=coefficient[0], f_ub=f.f_ub, A=f.A_s if group.threads == "in" else f.area)
        )
    met = own >= 1.2 * least
    text = "met" if met else "not met: the fastener shears before the sheet yields; use a stronger one"
    return [EN_DUCTILITY.info(capacity=own, demand=1.2 * least, note=text)]


def _net_section(group: FastenerGroup) -> list[Check]:
    force = hypot(*group.force[:2]) if group.force else 0.0
    if group.width is None or not force:
        return []
    checks = []
    at = _distances(group)
    n = group.in_section
    u = min(2 * at.e, at.p)
    for i, sheet in enumerate(group.sheets):
        share = 0.5 if len(group.sheets) == 3 and i != 1 else 1.0
        A_net = (group.width - n * group.d_0) * sheet.t
        net = Stated("A_net", "mm^2", A_net, f"({group.width:g} - {n} x {group.d_0:.4g}) x {sheet.t:.4g} mm")
        inputs = {
            "r": n / len(group.holes), "d_0": group.d_0, "u": u, "A_net": A_net, "f_u": sheet.f_u, "t": sheet.t,
            "d": group.d_bearing, "e_1": at.e, "e_2": at.e, "p_1": at.p, "p_2": at.p,
        }  # fmt: skip
        how, formula = EN_NET, bolts_en1993.SHEET_NET_SECTION
        if group.fastener.kind == "rivet":
            formula = bolts_en1993.NET_SECTION
        elif sheet.t >= 3.0 * (1 - 1e-9):
            how, formula = EN_PLATE_NET, bolts_en1993.PLATE_NET_SECTION
        checks.append(
            _judged(
                how,
                formula,
                inputs,
                demand=share * force,
                required=GAMMA_M2 * group.load_factor,
                before=[net],
                after=[],
                reasons=_family(sheet, "EN 1993"),
                where=_where(group, i),
                note=at.note,
            )
        )
    return checks


# --- pull-through and the spreader plate --------------------------------------------------------------------


def _bears(group: FastenerGroup, t: float) -> tuple[float, Steps]:
    """Diameter that bears on the sheet (or on the plate, t = 0) [mm]: head, or what a loose washer spreads it to."""
    f = group.fastener
    flats = f.flats
    if group.washers is None:
        return flats, [Stated("d_w", "mm", flats, "across the flats of head or nut")]
    outside, thick = group.washers
    if bolts_aisi.EFFECTIVE_WASHER.outside(t_w=thick):
        return flats, [Stated("d_w", "mm", flats, f"across the flats: a washer of {thick:g} mm is too thin to count")]
    spread = bolts_aisi.EFFECTIVE_WASHER.evaluate(d_h=flats, t_w=thick, t_1=t, d_w=outside)
    return float(spread.value), [spread]


def _pull(group: FastenerGroup, spread: _Spread) -> list[Check]:
    if not spread.pull_max or group.fastener.kind != "bolt":
        return []
    last = len(group.sheets) - 1
    checks: list[Check] = []
    for n, sheet in enumerate(group.sheets):
        if n not in (0, last):
            continue
        if n == last and group.plate is not None:
            checks += _spreader(group, sheet, _where(group, n), spread)
        if n != last or group.plate is None:
            checks += _head(group, sheet, _where(group, n), spread)
    return checks


def _head(group: FastenerGroup, sheet: Sheet, where: str, spread: _Spread) -> list[Check]:
    d_w, how = _bears(group, sheet.t)
    before: Steps = [*([sheet.core] if sheet.core is not None else []), *how]
    required = GAMMA_M2 * group.load_factor
    after: Steps = [spread.how_pull]
    counted = min(d_w, 19.05)
    flush = ["a countersunk head bears on a cone, not on the face"] if group.countersunk else []
    return [
        _judged(
            AISI_PULL_OVER,
            bolts_aisi.PULL_OVER_STRENGTH,
            {"t_1": sheet.t, "d_w": counted, "F_u1": sheet.f_u},
            demand=spread.pull_max,
            required=bolts_aisi.SAFETY_SCREW.Omega,
            before=before,
            after=after,
            reasons=[*flush, *_family(sheet, "AISI S100"), *_too_thick(sheet)],
            where=where,
            note="written for screws" + ("; 19 mm is the most that counts" if counted < d_w else ""),
        ),
        _judged(
            EN_PULL_THROUGH,
            bolts_en1993.SCREW_PULL_THROUGH,
            {"d_w": d_w, "t": sheet.t, "f_u": sheet.f_u, "d": min(group.d_bearing, 8.0), "t_1": 1.0},
            demand=spread.pull_max,
            required=required,
            before=before,
            after=after,
            reasons=[*flush, *_family(sheet, "EN 1993")],
            where=where,
            note="written for screws; for bolts the standard asks for a test",
        ),
        _judged(
            EN_PUNCHING,
            bolts_en1993.PUNCHING,
            {"d_m": d_w, "t_p": sheet.t, "f_u": sheet.f_u},
            demand=spread.pull_max,
            required=required,
            before=before,
            after=after,
            reasons=[*flush, *_family(sheet, "EN 1993")],
            where=where,
        ),
    ]


def _too_thick(sheet: Sheet) -> list[str]:
    return [] if sheet.t < 4.7625 else ["AISI S100 is for sheet under 3/16 in (4.76 mm)"]


def _spreader(group: FastenerGroup, sheet: Sheet, where: str, spread: _Spread) -> list[Check]:
    assert group.plate is not None
    _, short, t_p = group.plate
    d_w, how = _bears(group, 0.0)
    thick = sheet.t >= 3.0
    k_p = backing_plate.K_P_PLATE if thick else backing_plate.K_P_SHEET
    before: Steps = [
        *([sheet.core] if sheet.core is not None else []),
        *how,
        Stated("k_p", "1", k_p, "plate of 3 mm and more" if thick else "sheet under 3 mm"),
    ]
    P_s = backing_plate.SHEET_PULL_THROUGH.evaluate(k_p=k_p, d_w=d_w, t=sheet.t, f_u=sheet.f_u)
    m_p = backing_plate.PLASTIC_MOMENT.evaluate(f_y_p=group.plate_yield, t_p=t_p)
    both = backing_plate.PLATE_AND_SHEET.evaluate(
        P_s=float(P_s.value), m_p=float(m_p.value), d_h=min(group.d_0, d_w * 0.999), d_w=d_w
    )
    rim = backing_plate.SHEET_AT_RIM.evaluate(k_p=k_p, R_p=short / 2, t=sheet.t, f_u=sheet.f_u)
    capacity = min(float(both.value), float(rim.value))
    note = (
        "the sheet gives way at the plate's rim: a larger plate helps, a thicker one does not"
        if float(rim.value) < float(both.value)
        else "the plate bends before its rim is reached: a thicker plate helps, a larger one does not"
    )
    family = _family(sheet, "the pull-through rule")
    trace: Steps = [*before, P_s, m_p, both, rim, spread.how_pull]
    reach = backing_plate.WORKING_RADIUS.evaluate(P=capacity, k_p=k_p, t=sheet.t, f_u=sheet.f_u)
    trace.append(reach)
    if family:
        held = SPREADER.outside(family, demand=spread.pull_max, trace=trace, where=where)
    else:
        held = SPREADER.judge(
            capacity=capacity,
            demand=spread.pull_max,
            required=GAMMA_M2 * group.load_factor,
            trace=trace,
            where=where,
            note=note,
        )
    contact = backing_plate.CONTACT_PRESSURE_LIMIT.evaluate(
        d_w=d_w, d_h=min(group.d_0, d_w * 0.999), f_y_p=group.plate_yield
    )
    checks = [
        held,
        PLATE_CONTACT.judge(
            capacity=float(contact.value),
            demand=spread.pull_max,
            required=group.load_factor,
            trace=[contact, spread.how_pull],
            where=where,
        ),
    ]
    too_large = f"a plate of {short:.4g} mm is beyond the 19 mm that counts; the spreader plate's rule is used"
    checks.append(AISI_PULL_OVER.outside(too_large, demand=spread.pull_max, where=where))
    inputs = {"P": spread.pull_max, "t_p": t_p, "nu": 0.3, "R": short / 2, "c": d_w / 2}
    if not backing_plate.PLATE_STRESS.outside(**inputs):
        stress = backing_plate.PLATE_STRESS.evaluate(**inputs)
        bent = backing_plate.PLATE_DEFLECTION.evaluate(P=spread.pull_max, R=short / 2, E=210e3, t_p=t_p, nu=0.3)
        checks.append(
            PLATE_ELASTIC.info(
                capacity=group.plate_yield,
                demand=float(stress.value),
                unit="MPa",
                trace=[stress, bent],
                where=where,
                note="under the service pull, resting on the largest circle in it, no hole counted",
            )
        )
    return checks


def _bearing_and_pull(sheets: list[Check], pulls: list[Check], spread: _Spread) -> list[Check]:
    """Each fastener's worst bearing and worst pull-through utilisation added, sheet by sheet."""
    checks: list[Check] = []
    places = dict.fromkeys(c.key.removeprefix(c.method.key) for c in pulls)
    for place in places:

        def worst(found: list[Check], place: str = place) -> Check | None:
            here = [c for c in found if c.key.removeprefix(c.method.key) == place and c.utilisation]
            return max(here, key=lambda c: c.utilisation or 0.0, default=None)

        bearing, pull = worst(sheets), worst([c for c in pulls if c.method is not PLATE_CONTACT])
        if bearing is None or pull is None or not spread.shear_max or not spread.pull_max:
            continue
        u_b, u_p = float(bearing.utilisation or 0.0), float(pull.utilisation or 0.0)
        sums = u_b * spread.shear / spread.shear_max + u_p * spread.pull / spread.pull_max
        checks.append(
            TOGETHER.judge(
                capacity=1.0,
                demand=float(sums.max()),
                required=1.0,
                unit="1",
                where=place.lstrip("."),
                trace=[
                    Stated("u_b", "1", u_b, f"largest: {bearing.title}"),
                    Stated("u_p", "1", u_p, f"largest: {pull.title}"),
                ],
            )
        )
    return checks


# --- detailing, unjudged loads, cautions ------------------------------------------------------------------


def _details(group: FastenerGroup) -> list[Check]:
    checks: list[Check] = []
    if group.pitch is not None:
        checks.append(
            SPACING.info(
                capacity=group.pitch,
                demand=3 * group.d_0,
                unit="mm",
                note="3 hole diameters in sheet (EN 1993-1-3); 2.2 along, 2.4 across the force in plate (EN 1993-1-8)",
            )
        )
    if any(word in OCCUPANT for word in group.purpose):
        rule = table("mount_plates").find(id="qld_seat")
        area, thick = rule.need("area_min"), rule.need("thickness_min")
        has = group.plate[0] * group.plate[1] if group.plate else 0.0
        checks.append(
            PLATE_AREA.judge(
                capacity=has, demand=area, required=1.0, unit="mm^2",
                note="" if group.plate else "no spreader plate given",
            )
        )  # fmt: skip
        if group.plate:
            checks.append(PLATE_THICKNESS.judge(capacity=group.plate[2], demand=thick, required=1.0, unit="mm"))
    return checks


def _unjudged(group: FastenerGroup, spread: _Spread, checks: list[Check]) -> tuple[str, ...]:
    """Loads on fastener or sheet that no method covers."""
    used = [c for c in checks if c.status in ("ok", "over")]
    f = group.fastener
    missing: list[str] = []

    def covered(*how: Method, where: str | None = None) -> bool:
        keys = {m.key if not where else f"{m.key}.{where}" for m in how}
        return any((c.method.key if where is None else c.key) in keys for c in used)

    last = len(group.sheets) - 1
    for n, sheet in enumerate(group.sheets):
        where = _where(group, n)
        name = sheet.label
        if spread.shear_max and not covered(
            EN_BEARING, EN_SHEET_BEARING, EN_RIVET_BEARING, AISI_BEARING, AISC_BEARING, where=where
        ):
            missing.append(f"no method applies to {name} in bearing")
        if spread.pull_max and n in (0, last) and f.kind == "bolt":
            plated = n == last and group.plate is not None
            heads = (SPREADER,) if plated else (AISI_PULL_OVER, EN_PULL_THROUGH, EN_PUNCHING)
            if not covered(*heads, where=where):
                missing.append(f"no method applies to {name} pulled over {'the plate' if plated else 'head or washer'}")
    missing += [
        f"no method applies to the {c.title.lower()}: {c.note}"
        for c in checks
        if c.method in (EN_NET, EN_PLATE_NET) and c.status == "outside"
    ]
    if spread.shear_max and not covered(EN_SHEAR, AISC_SHEAR, RIVET_SHEAR):
        missing.append("no method applies to the fastener in shear")
    if spread.pull_max:
        if f.kind == "rivet":
            missing.append("no published rule covers sheet pulled over the head of a blind rivet: test coupons")
        elif f.kind == "rivnut" and not covered(INSERT_TENSION):
            missing.append("no standard covers a rivnut pulled out of sheet: give the maker's value or test coupons")
        elif f.kind == "bolt" and not covered(EN_TENSION, AISC_TENSION):
            missing.append("no method applies to the bolt in tension")
    return tuple(missing)


def _cautions(group: FastenerGroup, spread: _Spread, checks: list[Check]) -> tuple[Caution, ...]:
    raised: list[Caution | str] = [PURPOSES[word] for word in group.purpose]
    for sheet in group.sheets:
        # nothing is welded here: no fume
        raised += [caution(code, **words) for code, words in sheet.caution_codes() if "fume" not in code]
    if spread.pull_max:
        raised += ["prying", "sheet-bends"]
    if group.fastener.kind == "bolt":
        raised.append("bolt-locking")
    if group.fastener.kind == "rivnut":
        raised.append("insert-proof")
    families = {s.material.family for s in group.sheets}
    if len(families) > 1 or (group.fastener.standard == "ISO 15977" and families != {"aluminium"}):
        raised.append("galvanic")
    raised += ["unfactored-load"] if group.load_factor == 1.0 else []
    raised += ["corrosion", "fatigue"]
    judged = [c for c in checks if c.status in ("ok", "over")]
    if group.handbook_factor == 3.0 and any(c.method.factor == OWN for c in judged):
        raised.append(caution("handbook-default", factor="3.0"))
    if any(c.provenance == "from memory" for c in judged):
        raised.append("from-memory")
    return collect(raised)
