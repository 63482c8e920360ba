"""Heat of a weld: what strength it leaves beside it; as advice energy, cooling, carbon equivalent, shrinkage, order.

`beside` is what the strength checks count.  The advice judges nothing; every check of it is `info` and says so.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, hypot
from typing import TYPE_CHECKING

from jointcalc.formula import heat
from jointcalc.formula import heat_affected_4130 as cm
from jointcalc.formula.branch import at_least, at_most, below
from jointcalc.formula.core import Evaluation, Source
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.sentence import Measure, mm, mpa
from jointcalc.result import Check, Looked, Stated, caution, method
from jointcalc.result.cautions import Caution
from jointcalc.tables.store import load

if TYPE_CHECKING:
    from jointcalc.model.fillet import FilletGroup

ADVICE = "advice"
NONE = "none: advice"
THIN_ARC = 0.8
"""Thickness [mm] under which an arc burns through sheet: common practice, no source."""
UNEVEN = 3.0
"""Thickness of one part over that of the other from which on the thick one stays cold: common practice, no source."""
LONG_SEAM = 150.0
"""Length [mm] from which an order of runs is worth printing: common practice, no source."""

ENERGY = method(
    "advice.heat-input", "Heat input", heat.HEAT_INPUT.source, per="mm", basis=ADVICE, factor=NONE
)  # fmt: skip
COOLING = method(
    "advice.cooling-time", "Cooling time 800 to 500 °C", heat.COOLING_TIME_THIN.source, per="weld", basis=ADVICE,
    factor=NONE,
)  # fmt: skip
EQUIVALENT = method(
    "advice.carbon-equivalent", "Carbon equivalent", heat.CARBON_EQUIVALENT.source, per="weld", basis=ADVICE,
    factor=NONE,
)  # fmt: skip
SHRINKAGE = method(
    "advice.shrinkage", "Shrinkage across the weld", heat.SPRARAGEN, per="weld", basis=ADVICE, factor=NONE
)  # fmt: skip
ORDER = method(
    "advice.order", "Order of the runs",
    Source("workshop practice", "back-step and balanced sequence", "common practice"), per="weld", basis=ADVICE,
    factor=NONE,
)  # fmt: skip

ARC_PROCESS = {
    "GMAW": "MIG/MAG", "FCAW-G": "FCAW", "FCAW-S": "FCAW", "SMAW": "SMAW", "SAW": "SAW", "TIG": "TIG",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Beside:
    """Strength of a sheet beside an arc weld [MPa]: tensile, yield (None where there is none to count), how it came.

    `softened` says that the heat takes away strength which the sheet has elsewhere.
    """

    f_u: float
    f_y: float | None
    working: tuple[Evaluation | Looked | Stated, ...] = ()
    softened: bool = False


def beside(sheet: Sheet) -> Beside:
    """What may be counted of a sheet beside an arc weld.

    4130 by MIL-HDBK-5; aluminium by its grade's heat-affected values (f_u 0 where the tables have none); other steel up
    to 600 MPa, and steel and stainless up to 1.25 times the least of the grade where a certificate gives more: strength
    from quenching, rolling or cold work is lost in the heat.  The yield strength falls with the tensile strength.
    """
    about = sheet.material
    if about.family == "aluminium":
        zone = about.f_u_haz or 0.0
        how = f"{about.grade}, {about.standard}, heat-affected"
        return Beside(zone, about.f_y_haz, (Stated("f_u_haz", "MPa", zone, how),), softened=True)
    if about.grade.startswith("4130"):
        # published for normalised 4130, 95 ksi: what a certificate gives beyond it is not counted
        near = cm.NEAR_WELD_STRENGTH.evaluate(k_near=cm.NEAR_OTHER, F_tu=min(sheet.f_u, cm.F_TU_MOST))
        return _reduced(sheet, near)
    limits = [heat.SOFT] if about.family == "steel" else []
    most = min([*limits, sheet.cold_worked_from])
    if at_most(sheet.f_u, most):
        return Beside(sheet.f_u, sheet.f_y if sheet.has_yield else None)
    return _reduced(sheet, heat.SOFTENED_STRENGTH.evaluate(f_u=sheet.f_u, f_most=most))


def softens(sheet: Sheet) -> list[Caution]:
    """What is said of a member or a panel of sheet that an arc weld would soften; it is judged as if none had."""
    near = beside(sheet)
    annealed = sheet.material.grade.endswith("-O")  # nothing that heat could take
    if not near.softened or annealed or at_least(near.f_u, sheet.f_u):
        return []
    left = f"{mpa(near.f_u):.4g}" if near.f_u else "an unknown part"
    return [caution("softens-when-welded", grade=sheet.material.grade, beside=left, own=f"{mpa(sheet.f_u):.4g}")]


def _reduced(sheet: Sheet, worked: Evaluation) -> Beside:
    left = float(worked.value)
    return Beside(left, sheet.f_y * left / sheet.f_u if sheet.has_yield else None, (worked,), softened=True)


@dataclass(frozen=True, slots=True)
class Run:
    """One run: its place in the order, the line it lies on (from 0), where it starts and ends [mm] along it."""

    line: int
    start: float
    end: float


def order_of_runs(lengths: list[float], step: float) -> list[Run]:
    """Back-step runs of about `step` [mm] in a balanced order over lines of these lengths [mm].

    Each line is cut into equal runs not longer than the step.  Every run is welded towards the start of
    the line (back-step); the next run is the one farthest from all that lie already, so heat is
    spread and neither end pulls first.  With several lines, runs go from line to line in turn.
    Common practice, no source.
    """
    todo: list[list[tuple[float, float]]] = []
    for length in lengths:
        n = max(1, ceil(length / step - 1e-9))
        todo.append([(length * i / n, length * (i + 1) / n) for i in range(n)])
    done: list[list[float]] = [[] for _ in lengths]
    runs: list[Run] = []
    while any(todo):
        for line, left in enumerate(todo):
            if not left:
                continue
            # the first run lies in the middle: the rest can move outwards freely
            target = [(a + b) / 2 for a, b in left]
            if not done[line]:
                pick = min(range(len(left)), key=lambda i: abs(target[i] - lengths[line] / 2))
            else:
                pick = max(range(len(left)), key=lambda i: min(abs(target[i] - d) for d in done[line]))
            a, b = left.pop(pick)
            done[line].append((a + b) / 2)
            runs.append(Run(line, b, a))
    return runs


def weld_heat(welds: FilletGroup) -> list[Check]:
    """All advice the description allows, as `info` checks."""
    checks: list[Check] = []
    checks += _energy(welds)
    checks += _equivalent(welds)
    if welds.weld in ("fillet", "butt"):
        checks.append(_shrinkage(welds))
    checks += _order(welds)
    return checks


def _energy(welds: FilletGroup) -> list[Check]:
    if welds.voltage is None or welds.current is None or welds.speed is None:
        return []
    row = load("arc_efficiency").find(process=ARC_PROCESS[welds.process])
    k = Looked("k", "1", row.need("k"), "arc_efficiency", row["process"], Source("EN 1011-1", "", "read"))
    arc = heat.ARC_ENERGY.evaluate(U=welds.voltage, I=welds.current, v=welds.speed)
    put = heat.HEAT_INPUT.evaluate(k=k.value, U=welds.voltage, I=welds.current, v=welds.speed)
    Q = float(put.value)
    checks = [
        ENERGY.info(
            capacity=Q, unit="kJ/mm", trace=[arc, k, put],
            note=f"arc energy {Measure(float(arc.value), unit='kJ/mm'):.3g}, of which "
            f"{Measure(Q, unit='kJ/mm'):.3g} reaches the work; many US codes "
            "call the arc energy heat input",
        )
    ]  # fmt: skip
    if welds.family == "steel":
        checks.append(_cooling(welds, Q))
    return checks


def _cooling(welds: FilletGroup, Q: float) -> Check:
    kinds = {"fillet": "tee fillet" if welds.joint == "tee" else "single fillet on a corner", "butt": "run on plate"}
    row = load("shape_factors_t85").find(weld=kinds.get(welds.weld, "single fillet on a corner"))
    F_2, F_3 = row.need("F2_high"), row.need("F3")
    d = max(s.t for s in welds.sheets) if welds.weld != "butt" else welds.thin.t
    formula, why = heat.cooling_time(Q=Q, d=d, T_0=welds.preheat, F_2=F_2, F_3=F_3)
    own = {"Q": Q, "d": d, "T_0": welds.preheat, "F_2": F_2, "F_3": F_3}
    reasons = formula.outside(**own)
    if reasons:
        return COOLING.outside(reasons, unit="s")
    time = formula.evaluate(**own)
    factors = Looked(
        "F", "1", F_2 if formula is heat.COOLING_TIME_THIN else F_3, "shape_factors_t85", row["weld"],
        Source("EN 1011-2", "Annex D", "from memory"),
    )  # fmt: skip
    return COOLING.info(
        capacity=float(time.value), unit="s", trace=[factors, time],
        note=f"{why}; low figures harden hardenable steel, high ones soften and coarsen it",
    )  # fmt: skip


def _equivalent(welds: FilletGroup) -> list[Check]:
    given = welds.composition
    if not given:
        return []
    every = {name: given.get(name, 0.0) for name in ("C", "Si", "Mn", "Cr", "Mo", "V", "Ni", "Cu", "B")}
    trace: list[Evaluation] = []
    for formula in (heat.CARBON_EQUIVALENT, heat.CRACKING_PARAMETER, heat.CARBON_EQUIVALENT_T):
        own = {name: every[name] for name in formula.parameters}
        if not formula.outside(**own):
            trace.append(formula.evaluate(**own))
    ce = float(trace[0].value)
    if at_most(ce, heat.COLD_UP_TO):
        advice = "welds without preheat in sheet"
    elif at_most(ce, heat.WARM_UP_TO):
        advice = "low-hydrogen filler, dry; warm thick or cold parts"
    else:
        advice = "hardenable: preheat, low hydrogen, slow cooling, and a procedure proved by test"
    return [
        EQUIVALENT.info(
            capacity=ce, unit="%", trace=trace,
            note=f"CE {ce:.3g} %: {advice} (bands: common practice; EN 1011-2 Table C.1 stands in `preheat_en1011`)",
        )
    ]  # fmt: skip


def _shrinkage(welds: FilletGroup) -> Check:
    t = welds.thin.t
    share = 1.0 if welds.stitch is None else float(welds.group.lengths.sum()) / _drawn(welds)
    trace: list[Evaluation | Stated]
    if welds.weld == "butt":
        area = welds.design_throat * t
        whole = heat.BUTT_SHRINKAGE.evaluate(A_w=area, t=t, gap=0.0)
        other = heat.BUTT_SHRINKAGE_AREA.evaluate(A_w=area, t=t)
        trace = [Stated("A_w", "mm^2", area, "square butt as wide as the sheet is thick"), whole, other]
        note = f"{mm(float(other.value), ' to ', float(whole.value)):.2g} by two published formulas"
    else:
        formula = heat.TEE_SHRINKAGE if welds.joint == "tee" else heat.LAP_SHRINKAGE
        whole = formula.evaluate(s=welds.leg_over_all, t=t, share=share)
        trace = [whole]
        note = (
            f"for fillets on both sides; a guide of a welding institute allows {mm(0.8)} a fillet up to 3/4 of "
            "the sheet"
        )
    return SHRINKAGE.info(capacity=float(whole.value), unit="mm", trace=trace, note=note)


def _drawn(welds: FilletGroup) -> float:
    return sum(hypot(x2 - x1, y2 - y1) for x1, y1, x2, y2 in welds.lines)


def lengths_of(welds: FilletGroup) -> list[float]:
    """Lengths of the drawn lines [mm]."""
    return [hypot(x2 - x1, y2 - y1) for x1, y1, x2, y2 in welds.lines]


def step_of(welds: FilletGroup) -> float:
    """Length of one run [mm]: as given, else about twenty thicknesses between 25 and 75 mm (common practice)."""
    if welds.step is not None:
        return welds.step
    return min(75.0, max(25.0, 5.0 * round(20 * welds.thin.t / 5)))


def runs_of(welds: FilletGroup) -> list[Run]:
    """Order of the runs of a group worth ordering: a long line, or a stated step; else none.

    Stitches are ordered as they lie, whole lines in back-steps.
    """
    lengths = lengths_of(welds)
    if welds.step is None and below(max(lengths), LONG_SEAM):
        return []
    if welds.stitch is not None:
        return _stitch_order(welds)
    return order_of_runs(lengths, step_of(welds))


def _stitch_order(welds: FilletGroup) -> list[Run]:
    """Stitches from both ends and the middle in turn, each where it lies."""
    centres: list[list[float]] = [[] for _ in welds.lines]
    length = welds.stitch[0] if welds.stitch is not None else 0.0
    for line, (x1, y1, x2, y2) in zip(welds.parents, welds.group.lines.tolist()):
        a, b = welds.lines[line][:2]
        centres[line].append(hypot((x1 + x2) / 2 - a, (y1 + y2) / 2 - b))
    done: list[list[float]] = [[] for _ in welds.lines]
    runs: list[Run] = []
    while any(centres):
        for line, left in enumerate(centres):
            if not left:
                continue
            if not done[line]:
                pick = 0
            else:
                pick = max(range(len(left)), key=lambda i: min(abs(left[i] - d) for d in done[line]))
            middle = left.pop(pick)
            done[line].append(middle)
            runs.append(Run(line, middle + length / 2, middle - length / 2))
    return runs


def _order(welds: FilletGroup) -> list[Check]:
    runs = runs_of(welds)
    if not runs:
        return []
    several = len(welds.lines) > 1
    words = [
        f"{n}: {f'line {run.line + 1} ' if several else ''}{run.start:.0f} to {run.end:.0f}"
        for n, run in enumerate(runs[:60], 1)
    ]
    more = f"; and {len(runs) - 60} more in the same way" if len(runs) > 60 else ""
    return [
        ORDER.info(
            capacity=float(len(runs)), unit="1",
            note="mm from the start of the line, each run welded backwards; let it cool between: "
            + "; ".join(words) + more,
        )
    ]  # fmt: skip
