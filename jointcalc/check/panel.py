"""A flat or beaded panel judged on its real shape, and the plate formulas that stand beside it.

Judged under all loads together, by the panel's own finite elements (`statics.field`: large deflections, beads with
their ends, yielding through the thickness):

- what stays after the service loads (permanent set), against the builder's limit or half the thickness (common
  practice);
- the greatest strain of the mid-plane at gamma_M0 x gamma_F times the loads, against the 5 % of EN 1993-1-5 Annex C;
- the membrane pull at the edges, which the seam has to carry, against yield of the sheet: required gamma_M0 x gamma_F
  (1.0 x 1.5 for steel, recommended values of EN 1993-1-3);
- deflection and frequency against the builder's own limits; without one, common practice stands beside as
  information;
- shear in the plane against yield and the elastic critical stress, and the bead's strain against the elongation.

First yield in linear bending marks no failure of a floor, which carries on by stretching: the linear formulas stand
beside as information, and their shear check as a check.  Decided here: in-plane shear together with load across
the panel lowers the yield strength the panel is worked out with (von Mises), and is added by squares to the pull.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
import numpy.typing as npt

from jointcalc.formula import bead as bead_formulas
from jointcalc.formula import panel as stress
from jointcalc.formula import plate as plate_formulas
from jointcalc.formula.core import Evaluation, Source
from jointcalc.model.fields import PURPOSES
from jointcalc.model.panel import Panel
from jointcalc.quantity.units import GRAVITY
from jointcalc.result import (
    DETAILING,
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
)  # fmt: skip
from jointcalc.result.cautions import Caution
from jointcalc.statics import bead as beads
from jointcalc.statics import field as fields
from jointcalc.statics import plate as plates
from jointcalc.statics.field import Answer, Field
from jointcalc.statics.plate import Membrane, Patch, Rigidity
from jointcalc.statics.shell import STEEPEST, NotFound

GAMMA_M0 = 1.0
GAMMA_M1 = 1.0
"""Recommended values of EN 1993-1-3, 2(3)."""
GAMMA_M_OTHER = 1.1
"""Both of them for stainless steel (EN 1993-1-4, 5.1) and aluminium (EN 1999-1-1, 6.1.3), from memory."""
HEEL = 0.090 * GRAVITY
"""Weight of 90 kg on a heel [N]."""
HEEL_LIMIT = 3.0
QUIET = 25.0
"""Floor feel, common practice: least deflection under a heel [mm], first frequency against drumming [Hz]."""
MANY_PITCHES = 5.0
"""Pitches from which a field counts as many pitches wide (our choice)."""
FEW_PITCHES = 3.0
FEEL_EDGES = 3.0
"""Times as long as wide, as an equivalent plate of one stiffness, from which a load at the middle no longer feels
the far edges: the deflection differs by less than 0.3 % from that of an endless plate."""
FINEST = {"simple": 150.0, "clamped": 25.0}
"""Side over loaded side up to which the moments under a patch are good to 1 % (tried with more terms)."""
YIELD, BUCKLING = "first yield", "elastic buckling stress"
PARTIAL_0, PARTIAL_1 = "γ_M0 × γ_F", "γ_M1 × γ_F"
LIMIT = "1 (a limit)"
INFORMATION = "none: information"
LINEAR_YIELD = "first yield in linear bending, no failure of a floor"
SET_PART = 0.5
"""Part of the thickness that may stay after the load where the builder states no limit (common practice)."""
MEMBRANE_LIMIT = 0.05
"""Greatest principal strain of the mid-plane, EN 1993-1-5 C.8(1) note (recommended value, from memory)."""
FAR = 2.0
"""How far over a value worked out beyond its range must be to count as over (our choice)."""
SERIES = Source("Orthotropic plate, Navier's series or Ritz's method", "", "derivation",
                "held to the classic tables of flat plates")  # fmt: skip
FLOOR_FEEL = Source("floor feel", "3 mm under a 90 kg heel, 25 Hz", "common practice")
OWN = Source("the builder's own limit", "no published limit for vehicle floors was found", "common practice")

ALONG = method("plate.bending-along", "Bending along the beads", stress.BENDING, per="member", basis=LINEAR_YIELD,
               factor=INFORMATION, bound="information")  # fmt: skip
ACROSS = method("plate.bending-across", "Bending across the beads", plate_formulas.TIMOSHENKO, per="member",
                basis=LINEAR_YIELD, factor=INFORMATION, bound="information")  # fmt: skip
TWISTING = method("plate.twisting", "Twisting of the sheet", stress.PLATE, per="member", basis=LINEAR_YIELD,
                  factor=INFORMATION, bound="information")  # fmt: skip
FLATS = method("plate.flats-compression", "Flats between beads, compression", plate_formulas.SHEAR, per="member",
               basis=BUCKLING, factor=INFORMATION, bound="information")  # fmt: skip
FLATS_PRESSURE = method("plate.flats-pressure", "Flats between beads, pressure", plate_formulas.ROARK, per="member",
                        basis=LINEAR_YIELD, factor=INFORMATION, bound="information")  # fmt: skip
DENT = method("plate.flats-dent", "Flat between beads under the load", plate_formulas.TIMOSHENKO, per="member",
              bound="information", basis="first yield, a dent and not collapse",
               factor="none: information")  # fmt: skip
SHEAR_YIELD = method("plate.shear-yield", "Shear in plane, yield", stress.MISES, per="member", basis=YIELD,
                     factor=PARTIAL_0, covers=("shear",))  # fmt: skip
SHEAR_FLAT = method("plate.shear-buckling", "Shear in plane, buckling", plate_formulas.SHEAR, per="member",
                    basis=BUCKLING, factor=PARTIAL_1, covers=("shear",))  # fmt: skip
SHEAR_FIELD = method("easley.shear-buckling", "Shear in plane, whole field", plate_formulas.EASLEY, per="mm",
                     basis=BUCKLING, factor=PARTIAL_1, covers=("shear",))  # fmt: skip
SHEAR_LOCAL = method("plate.flats-shear", "Shear in plane, flats between beads", plate_formulas.SHEAR, per="member",
                     basis=BUCKLING, factor=PARTIAL_1, covers=("shear",))  # fmt: skip
TOGETHER = method("interaction.panel-bending-shear", "Bending with shear", stress.TOGETHER, per="member",
                  basis="sum of squared utilisations", factor="1")  # fmt: skip
SHAPE = Source("Large-deflection finite elements of the panel's own shape", "", "computed",
               "discrete Kirchhoff and optimal membrane triangles; held to Levy's plates and an independent "
               "shell model")  # fmt: skip
SET_SOURCE = Source("floors and panels", "half the thickness unless the builder states a limit",
                    "common practice", "finite elements, von Mises' yielding without hardening")  # fmt: skip
ANNEX_C = Source("EN 1993-1-5:2006", "C.8(1), note 1: principal strain 5 %", "from memory")
PULL_SOURCE = Source("Yield of the sheet at its edge under the membrane pull", "", "derivation")
SET = method("limit.permanent-set", "What stays after the load", SET_SOURCE, per="member", basis="limit", factor=LIMIT,
             covers=("across",))  # fmt: skip
MEMBRANE_STRAIN = method("en1993-1-5.membrane-strain", "Strain of the mid-plane", ANNEX_C, per="member",
                         basis="strain at factored loads", factor="1 (loads times γ_M0 × γ_F)",
                         covers=("across",))  # fmt: skip
PULL = method("plate.edge-pull", "Pull at the edges", PULL_SOURCE, per="mm", basis=YIELD, factor=PARTIAL_0,
              covers=("across",))  # fmt: skip
SNAP = method("plate.snap-through", "Snapping through", SHAPE, per="member", bound="information",
              basis="jump on the way to the load", factor=INFORMATION)  # fmt: skip
DEFLECTION = method("limit.panel-deflection", "Deflection", OWN, per="member", basis="limit", factor=LIMIT)
FREQUENCY = method("limit.panel-frequency", "First frequency", OWN, per="member", basis="limit", factor=LIMIT)
FEEL = method("practice.heel-deflection", "Feel: 90 kg on a heel", FLOOR_FEEL, per="member", bound="information",
               basis="common practice",
              factor="none: information")  # fmt: skip
DRUMMING = method("practice.panel-frequency", "Drumming: first frequency", FLOOR_FEEL, per="member",
                  bound="information", basis="common practice", factor="none: information")  # fmt: skip
STRAIN = method("forming.bead-strain-max", "Strain of the bead", bead_formulas.DRAW, per="member", basis=DETAILING,
               bound="greatest",
                factor=LIMIT)  # fmt: skip

ON_SHAPE = frozenset(m.key for m in (SET, MEMBRANE_STRAIN, PULL))
"""What judges the load across the panel."""
SHEARS = frozenset(m.key for m in (SHEAR_YIELD, SHEAR_FLAT, SHEAR_FIELD, SHEAR_LOCAL))
Trace = list[Evaluation | Looked | Stated]


def check_panel(panel: Panel) -> Result:
    """Judge a panel.  Raises InputError when the plate cannot be solved as described."""
    s = _State(panel)
    shear, unjudged = _shear(s)
    checks = [*_on_shape(s), *shear, *_bending(s)]
    checks += _together(s, checks)
    checks += _deflection(s)
    checks += _frequency(s)
    checks += _forming(s)
    needs = [Need("across", _why_not(s))] if s.across else []
    unjudged = [*uncovered(needs, checks), *unjudged]
    if any(check.status == "over" for check in checks):
        unjudged = []  # what is over needs no second reason; the methods stay listed as outside
    return Result(
        kind=panel.kind,
        id=panel.id,
        title=panel.title,
        checks=tuple(checks),
        values=_values(s),
        cautions=_cautions(s, checks),
        unjudged=tuple(dict.fromkeys(unjudged)),
        model=panel,
        about=_about(s),
    )


@dataclass(frozen=True, slots=True)
class _Moments:
    """Greatest moments per width, without sign [N]."""

    x: float
    y: float
    xy: float


class _State:
    """What the checks share: stiffnesses, deflections, moments."""

    def __init__(self, panel: Panel) -> None:
        self.panel = panel
        self.sheet = panel.sheet
        about = panel.sheet.material
        self.E, self.nu, self.rho = about.E, about.nu, about.density
        self.t = panel.sheet.t
        self.a, self.b = panel.along_beads, panel.across_beads
        self.edge = panel.edge
        self.gamma = panel.load_factor
        steel = about.family == "steel"
        self.gamma_M0, self.gamma_M1 = (GAMMA_M0, GAMMA_M1) if steel else (GAMMA_M_OTHER, GAMMA_M_OTHER)
        strip = panel.strip
        self.rigidity: Rigidity
        self.membrane: Membrane
        if strip is None:
            self.rigidity, self.membrane = plates.flat(self.E, self.nu, self.t)
            self.I, self.W, self.developed = self.t**3 / 12, self.t**2 / 6, 1.0
        else:
            self.rigidity = beads.rigidity(strip, self.E, self.nu)
            self.membrane = beads.membrane(strip, self.E, self.nu)
            self.I, self.W, self.developed = strip.I_along, strip.W_along, strip.developed

    @property
    def mass(self) -> float:
        """Mass per area as bought, zinc and all [t/mm²]."""
        return self.rho * self.sheet.thickness * self.developed

    @property
    def gap(self) -> float:
        """Width of the flats between beads [mm]; 0 for a flat sheet or beads side by side."""
        strip = self.panel.strip
        return 0.0 if strip is None or strip.gap <= 1e-9 else strip.gap

    # --- the real shape ------------------------------------------------------------------------------

    @property
    def across(self) -> bool:
        """Whether anything presses on the panel."""
        return bool(self.panel.pressure or self.panel.patch)

    @cached_property
    def beads(self) -> fields.Beads | None:
        """The beads as they are rolled."""
        panel, strip = self.panel, self.panel.strip
        if panel.pattern is None or strip is None:
            return None
        half = panel.pattern.width / 2 * (1 + 1e-9)
        line = [(y, z) for y, z in beads.path(panel.pattern, self.t, 48) if abs(y) <= half]
        shape, parts = strip.shape, [0.0]
        for part in (shape.root * shape.slope, shape.flank, shape.crown * shape.slope, shape.level):
            parts.append(parts[-1] + part)
        joints = sorted({round(at, 9) for part in parts for at in (part, 2 * parts[-1] - part)})
        stop, runout = panel.pattern.ends
        return fields.Beads(panel.bead_places, tuple(line), tuple(joints), stop, runout, panel.crowns == "towards")

    @property
    def bare(self) -> Field:
        """The panel without load."""
        turn = float("inf") if self.edge == "clamped" else 0.0
        inplane = self.panel.in_plane
        return Field(self.a, self.b, self.t, self.E, self.nu, turn, inplane, beads=self.beads)  # type: ignore[arg-type]

    @property
    def foot(self) -> Patch:
        """1 N at the middle, on what the patch stands on."""
        return Patch(1.0, self.a / 2, self.b / 2, *self.panel.foot)

    @property
    def f_y_left(self) -> float | None:
        """Yield strength left beside the shear in the plane of the sheet [MPa]; None when unknown or used up."""
        if not self.sheet.has_yield:
            return None
        left = self.sheet.f_y**2 - 3 * (self.panel.shear / self.t) ** 2
        return float(np.sqrt(left)) if left > 0 else None

    @cached_property
    def answer(self) -> Answer | None:
        """The panel under all that presses on it; None when nothing does or no equilibrium is found."""
        panel = self.panel
        if not self.across:
            return None
        patches = (replace(self.foot, force=panel.patch),) if panel.patch else ()
        field = replace(self.bare, pressure=panel.pressure, patches=patches, f_y=self.f_y_left)
        try:
            return fields.answer(field, factor=self.gamma_M0 * self.gamma)
        except NotFound:
            return None

    @cached_property
    def heel(self) -> float | None:
        """Deflection under a heel [mm]; None when no equilibrium is found."""
        try:
            return fields.deflection(replace(self.bare, patches=(replace(self.foot, force=HEEL),)))
        except NotFound:
            return None

    # --- deflection, linear --------------------------------------------------------------------------

    @cached_property
    def patch_sides(self) -> tuple[float, float]:
        """Sides of the plate that a load at the middle feels [mm]; far clamped edges are brought nearer."""
        if self.edge == "simple":
            return self.a, self.b
        shape = (self.rigidity.D_x / self.rigidity.D_y) ** 0.25
        a = min(self.a, max(FEEL_EDGES * self.b * shape, self.panel.foot[0]))
        b = min(self.b, max(FEEL_EDGES * self.a / shape, self.panel.foot[1]))
        return a, b

    @cached_property
    def under_pressure(self) -> plates.Plate:
        return plates.solve(self.a, self.b, self.rigidity, self.edge, pressure=self.panel.pressure)

    @cached_property
    def w_pressure(self) -> float:
        return self.under_pressure.deflection_max()[0] if self.panel.pressure else 0.0

    @cached_property
    def w_unit(self) -> float:
        """Linear deflection under 1 N at the middle [mm/N]."""
        a, b = self.patch_sides
        if self.panel.patch_size is not None:
            return self._under_foot.deflection(a / 2, b / 2)
        point = Patch(1.0, a / 2, b / 2)
        return plates.solve(a, b, self.rigidity, self.edge, patches=[point]).deflection(a / 2, b / 2)

    @property
    def w_patch(self) -> float:
        return self.w_unit * self.panel.patch

    @property
    def linear(self) -> float:
        """Sum of the linear deflections [mm]."""
        return self.w_pressure + self.w_patch

    @property
    def beyond(self) -> bool:
        """Whether the linear formulas are past their range."""
        return self.linear > self.t / 2

    def stiffened(self, w: float, *, pressure: float = 0.0, force: float = 0.0) -> float | None:
        """Membrane-stiffened estimate of a deflection [mm]; None within half the thickness."""
        if w <= self.t / 2:
            return None
        return plates.membrane_stiffened(self.a, self.b, self.membrane, self.edge, w, pressure=pressure, force=force)

    @cached_property
    def w_pressure_stiffened(self) -> float | None:
        return self.stiffened(self.w_pressure, pressure=self.panel.pressure)

    @cached_property
    def w_patch_stiffened(self) -> float | None:
        return self.stiffened(self.w_patch, force=self.panel.patch)

    # --- moments -------------------------------------------------------------------------------------

    @cached_property
    def too_small(self) -> str:
        """Why the stress under the patch cannot be told; empty when it can."""
        if not self.panel.patch:
            return ""
        (a, b), (c, d) = self.patch_sides, self.panel.foot
        finest = FINEST[self.edge]
        if a / c <= finest and b / d <= finest:
            return ""
        return (
            f"the loaded area of {c:g} x {d:g} mm is smaller than 1/{finest:g} of the panel, too small for the plate "
            "solution to follow its stress; give a larger 'patch_size'"
        )

    @cached_property
    def moments(self) -> _Moments:
        """Greatest moments of pressure and patch together; twisting at the corners included."""
        panel = self.panel
        fields = []
        if panel.pressure:
            fields.append(self._fields(self.under_pressure))
        if panel.patch:
            fields.append([panel.patch * M for M in self._fields(self._under_foot)])
        if len(fields) == 2 and self.patch_sides == (self.a, self.b):
            fields = [[one + two for one, two in zip(*fields)]]
        # of plates of different sides the greatest are added, wherever they are
        return _Moments(*(float(sum(np.abs(field[i]).max() for field in fields)) for i in range(3)))

    @cached_property
    def _under_foot(self) -> plates.Plate:
        """The plate under 1 N spread over what the patch stands on."""
        a, b = self.patch_sides
        patch = Patch(1.0, a / 2, b / 2, *self.panel.foot)
        return plates.solve(a, b, self.rigidity, self.edge, patches=[patch])

    @staticmethod
    def _fields(plate: plates.Plate) -> list[npt.NDArray[np.float64]]:
        return list(plate.moments(np.linspace(0.0, plate.a, 65), np.linspace(0.0, plate.b, 65)))

    @cached_property
    def frequency(self) -> float:
        """First frequency [Hz]: of a flat panel by series, of a beaded one on its real shape."""
        if self.beads is not None:
            return fields.frequency(self.bare, self.rho * self.sheet.thickness)
        return plates.frequency_1(self.a, self.b, self.rigidity, self.edge, self.mass)

    @property
    def how(self) -> str:
        """How the plate was solved, for the working."""
        way = "Navier's series" if self.edge == "simple" else "Ritz's method"
        return f"{way}, {self.a:g} x {self.b:g} mm, edges {self.panel.edges}"


# --- on its real shape --------------------------------------------------------------------------------------

NO_YIELD = "the grade's standard lets no yield strength be assumed; state 'yield_strength'"
FOOT_WORDS = "the load is taken to stand on {:g} x {:g} mm; state 'patch_size'"
NO_BALANCE = "no equilibrium was found under these loads, however small the steps"


def _outside_shape(s: _State) -> str:
    """Why the real shape cannot be judged; empty when it can."""
    found = s.answer
    if not s.sheet.has_yield:
        return NO_YIELD
    if s.f_y_left is None:
        return "shear in the plane uses up the yield strength"
    if found is None:
        return NO_BALANCE
    if found.steepest > STEEPEST:
        return (
            f"the sheet turns by {found.steepest:.2g} rad, past the {STEEPEST:g} rad up to which its bending is worked "
            "out; take thicker or beaded sheet, or supports closer together"
        )
    return ""


def _why_not(s: _State) -> str:
    reason = _outside_shape(s)
    return f"load across the panel: {reason}" if reason else "load across the panel: no method applies"


def _shape_trace(s: _State, found: Answer) -> Trace:
    def within(name: str) -> str:
        return f"within {max(100 * found.errors[name], 0.1):.2g} % by refinement"

    mesh = f"{found.nodes} nodes, the finer of two grids, of a quarter of the panel"
    trace: Trace = [
        Stated("w", "mm", found.deflection, f"elastic, large deflections; {within('deflection')}; {mesh}", str(SHAPE)),
        Stated("sigma_s", "MPa", found.surface_stress,
               f"greatest von Mises stress at a face, elastic; {within('surface_stress')}", str(SHAPE)),
    ]  # fmt: skip
    if s.f_y_left is not None and s.panel.shear:
        trace.append(Stated("f_y,red", "MPa", s.f_y_left, "yield strength left beside the shear in the plane"))
    return trace


def _on_shape(s: _State) -> list[Check]:
    """What stays, how far it stretches, and how hard it pulls at its edges."""
    limit = s.panel.permanent_set_limit
    required = s.gamma_M0 * s.gamma
    if not s.across:
        f_y = s.sheet.f_y if s.sheet.has_yield else None
        why = "stated" if limit is not None else "half the thickness, common practice"
        left: Trace = [Stated("w_r,lim", "mm", limit or SET_PART * s.t, why)]
        idle = [SET.judge(capacity=limit or SET_PART * s.t, demand=0.0, required=1.0, unit="mm", trace=left)]
        if f_y is None:
            return idle
        yields: Trace = [Stated("n_y", "N/mm", f_y * s.t, "yield strength times thickness")]
        return [*idle, PULL.judge(capacity=f_y * s.t, demand=0.0, required=required, unit="N/mm", trace=yields)]
    found, reason = s.answer, _outside_shape(s)
    if found is None or reason:
        if found is None or not s.sheet.has_yield:
            return [
                how.outside(reason, unit=unit) for how, unit in ((SET, "mm"), (MEMBRANE_STRAIN, "1"), (PULL, "N/mm"))
            ]
        # beyond its range the bending is worked out too softly or too stiffly; what is far over stays over
        stays, most = abs(found.permanent_set), limit or SET_PART * s.t
        return [
            SET.at_most(reason, capacity=most, demand=stays / FAR, required=1.0, unit="mm"),
            MEMBRANE_STRAIN.at_most(reason, capacity=MEMBRANE_LIMIT, demand=found.strain / FAR, required=1.0, unit="1"),
            PULL.at_most(
                reason, capacity=s.sheet.f_y * s.t, demand=max(0.0, found.edge_pull) / FAR, required=required,
                unit="N/mm",
            ),
        ]  # fmt: skip
    trace = _shape_trace(s, found)
    words = [f"in-plane edges {s.panel.in_plane}"]
    if s.panel.patch and s.panel.patch_size is None:
        words.insert(0, FOOT_WORDS.format(*s.panel.foot))
    if s.beads is not None:
        stop, runout = s.beads.stop, s.beads.runout
        ends = f"beads stop {stop:g} mm off the edge and rise over {runout:g} mm" if stop else "beads run through"
        assumed = s.panel.pattern is not None and s.panel.pattern.stop is None
        words.append(f"{ends} (taken, for a spot-welded flange; state 'stop' and 'runout')" if assumed else ends)
        words.append(f"crowns {s.panel.crowns} the load")
    note = "; ".join(words)
    stays = abs(found.permanent_set)
    why = "stated" if limit is not None else "half the thickness, common practice"
    set_trace: Trace = [
        *trace,
        Stated("w_y", "mm", abs(found.deflection_yielding), "with yielding, von Mises, no hardening", str(SHAPE)),
        Stated("w_r", "mm", stays, "left when the service loads are taken away", str(SHAPE)),
        Stated("w_r,lim", "mm", limit or SET_PART * s.t, why),
    ]
    checks = [
        SET.judge(
            capacity=limit or SET_PART * s.t, demand=stays, required=1.0, unit="mm", trace=set_trace,
            note=note if stays else f"{note}; nothing yields",
        )
    ]  # fmt: skip
    strain: Trace = [Stated("epsilon", "1", found.strain, f"mid-plane, at {required:.3g} times the loads", str(SHAPE))]
    if found.reached < 1:
        strain.append(Stated("k_r", "1", found.reached, "part of those loads at which the panel gives way", str(SHAPE)))
        checks.append(
            MEMBRANE_STRAIN.judge(
                capacity=found.reached, demand=1.0, required=1.0, unit="1", trace=strain,
                note=f"the panel gives way at {found.reached * required:.3g} times the loads, before {required:.3g}",
            )
        )  # fmt: skip
    else:
        strain.append(Stated("epsilon_lim", "1", MEMBRANE_LIMIT, "greatest principal strain", str(ANNEX_C)))
        checks.append(
            MEMBRANE_STRAIN.judge(capacity=MEMBRANE_LIMIT, demand=found.strain, required=1.0, unit="1", trace=strain)
        )
    if s.panel.in_plane == "held":
        hard: Trace = [
            *trace,
            Stated("n_y", "N/mm", s.sheet.f_y * s.t, "yield strength times thickness"),
            Stated("n_e", "N/mm", found.edge_pull, "greatest across an edge", str(SHAPE)),
        ]
        checks.append(
            PULL.judge(
                capacity=s.sheet.f_y * s.t, demand=max(0.0, found.edge_pull), required=required, unit="N/mm",
                trace=hard,
                note="the seam along the edge carries this pull across it as well: give it to its spots",
            )
        )  # fmt: skip
    if found.snaps:
        checks.append(
            SNAP.info(
                trace=trace,
                note="the panel jumps on its way to this load: it drums and oil-cans; take shallower or more beads, or "
                "turn their crowns the other way",
            )
        )  # fmt: skip
    return checks


# --- bending by the linear formulas -------------------------------------------------------------------------


def _stiffness_trace(s: _State) -> Trace:
    strip = s.panel.strip
    if strip is None:
        return [plate_formulas.FLEXURAL_RIGIDITY.evaluate(E=s.E, t=s.t, nu=s.nu)]
    pitch = {"E": s.E, "t": s.t, "nu": s.nu, "p": strip.bead.pitch, "L": strip.length}
    return [
        Stated("L", "mm", strip.length, f"developed length of one pitch of {strip.bead}"),
        Stated("I_along", "mm^3", strip.I_along, "second moment of one pitch over the pitch (mm^4/mm)"),
        bead_formulas.RIGIDITY_ALONG.evaluate(E=s.E, I=strip.I_along),
        bead_formulas.RIGIDITY_ACROSS.evaluate(**pitch),
        bead_formulas.RIGIDITY_COUPLING.evaluate(**pitch),
        bead_formulas.RIGIDITY_TWISTING.evaluate(**pitch),
    ]


def _bending(s: _State) -> list[Check]:
    """First yield by the linear formulas: information, and on the safe side once the panel stretches."""
    panel = s.panel
    hows = [ALONG, ACROSS, TWISTING, *([FLATS] if s.gap else [])]
    if not s.sheet.has_yield:
        return [how.outside(NO_YIELD, unit="MPa") for how in hows]
    if s.too_small:
        return [how.outside(s.too_small, unit="MPa") for how in hows]
    f_y, M, strip = s.sheet.f_y, s.moments, panel.strip
    stiff = _stiffness_trace(s)
    words = [FOOT_WORDS.format(*panel.foot)] if panel.patch and panel.patch_size is None else []
    if s.beyond:
        words.append(f"linear deflection {s.linear:.3g} mm is past half the thickness: linear stress overstates")
    if strip is not None and panel.pattern is not None and panel.pattern.ends[0]:
        words.append("as if the beads ran through")
    note = "; ".join(words)
    checks: list[Check] = []

    def inform(how: Method, capacity: float, demand: Evaluation, symbol: str, size: float) -> None:
        given = Stated(symbol, "N", size, f"greatest per width; {s.how}", str(SERIES))
        trace = [*stiff, given, demand]
        checks.append(how.info(capacity=capacity, demand=float(demand.value), unit="MPa", trace=trace, note=note))

    if strip is None:
        along = plate_formulas.FLAT_STRESS.evaluate(M=M.x, t=s.t)
    else:
        along = stress.STRESS_ALONG.evaluate(M_x=M.x, W=s.W)
    inform(ALONG, f_y, along, "M_x", M.x)
    inform(ACROSS, f_y, plate_formulas.FLAT_STRESS.evaluate(M=M.y, t=s.t), "M_y", M.y)
    shear_yield = stress.SHEAR_YIELD.evaluate(f_y=f_y)
    twist = stress.TWISTING_STRESS.evaluate(M_xy=M.xy, t=s.t)
    inform(TWISTING, float(shear_yield.value), twist, "M_xy", M.xy)
    if strip is not None and s.gap:
        critical = plate_formulas.FLAT_BETWEEN_BEADS_COMPRESSION.evaluate(E=s.E, nu=s.nu, t=s.t, w_flat=s.gap)
        stiff = [*stiff, critical]
        inside = stress.STRESS_IN_FLATS.evaluate(M_x=M.x, z_s=strip.centroid, I=strip.I_along)
        inform(FLATS, min(float(critical.value), f_y), inside, "M_x", M.x)
        checks += _between_beads(s, f_y)
    return checks


def _between_beads(s: _State, f_y: float) -> list[Check]:
    """The flat between two beads as a strip of its own, free to turn at the beads."""
    panel = s.panel
    rigidity, _ = plates.flat(s.E, s.nu, s.t)
    long = min(s.a, 10 * s.gap)
    found = []
    if panel.pressure:
        plate = plates.solve(long, s.gap, rigidity, "simple", pressure=panel.pressure)
        M = max(abs(v) for v in plate.moment_max())
        tension = plate_formulas.FLAT_STRESS.evaluate(M=M, t=s.t)
        given = Stated("M", "N", M, f"flat {s.gap:g} mm wide between beads, free to turn at them", str(SERIES))
        found.append(
            FLATS_PRESSURE.info(capacity=f_y, demand=float(tension.value), unit="MPa", trace=[given, tension])
        )  # fmt: skip
    if panel.patch:
        c, d = min(panel.foot[0], long), min(panel.foot[1], s.gap)
        on_it = panel.patch * c * d / (panel.foot[0] * panel.foot[1])
        if max(long / c, s.gap / d) > FINEST["simple"]:
            return found
        plate = plates.solve(long, s.gap, rigidity, "simple", patches=[Patch(on_it, long / 2, s.gap / 2, c, d)])
        M = max(abs(v) for v in plate.moment_max())
        tension = plate_formulas.FLAT_STRESS.evaluate(M=M, t=s.t)
        given = Stated("M", "N", M, f"{on_it:.4g} N on {c:g} x {d:g} mm of a flat {s.gap:g} mm wide", str(SERIES))
        sinks = plate.deflection_max()[0]
        found.append(
            DENT.info(
                capacity=f_y, demand=float(tension.value), unit="MPa", trace=[given, tension],
                note=f"a load that stands between two beads bends the flat there, {sinks:.2g} mm on top of the panel's "
                "deflection; past yield it leaves a dent",
            )
        )  # fmt: skip
    return found


# --- shear in the plane of the sheet -----------------------------------------------------------------------


def _shear(s: _State) -> tuple[list[Check], list[str]]:
    panel, strip = s.panel, s.panel.strip
    q = abs(panel.shear)
    if not q:
        return [], []
    checks: list[Check] = []
    required = s.gamma_M1 * s.gamma
    tau = stress.SHEAR_STRESS.evaluate(q=q, t=s.t)
    demand = float(tau.value)
    if s.sheet.has_yield:
        limit = stress.SHEAR_YIELD.evaluate(f_y=s.sheet.f_y)
        checks.append(
            SHEAR_YIELD.judge(
                capacity=float(limit.value),
                demand=demand,
                required=s.gamma_M0 * s.gamma,
                unit="MPa",
                trace=[tau, limit],
            )
        )
    else:
        reason = "the grade's standard lets no yield strength be assumed; state 'yield_strength'"
        checks.append(SHEAR_YIELD.outside(reason, demand=demand, unit="MPa"))
    simple = s.edge == "simple"
    if strip is None:
        long, short = max(s.a, s.b), min(s.a, s.b)
        how_k = plate_formulas.SHEAR_COEFFICIENT_SIMPLE if simple else plate_formulas.SHEAR_COEFFICIENT_CLAMPED
        k = how_k.evaluate(a=long, b=short)
        critical = plate_formulas.PLATE_BUCKLING_STRESS.evaluate(k=float(k.value), E=s.E, nu=s.nu, t=s.t, b=short)
        checks.append(
            SHEAR_FLAT.judge(
                capacity=float(critical.value), demand=demand, required=required, unit="MPa", trace=[tau, k, critical]
            )
        )
    else:
        how = plate_formulas.ORTHOTROPIC_SHEAR_SIMPLE if simple else plate_formulas.ORTHOTROPIC_SHEAR_CLAMPED
        given = {"D_x": s.rigidity.D_x, "D_y": s.rigidity.D_y, "h": s.a}
        reasons = how.outside(**given)
        pitches = s.b / strip.bead.pitch
        if pitches < MANY_PITCHES - 1e-9:
            reasons = [
                *reasons,
                f"{pitches:.2g} pitches across; the formula is for a field of many (from {MANY_PITCHES:g})",
            ]
        if reasons:
            checks.append(SHEAR_FIELD.outside(reasons, demand=q, unit="N/mm"))
        else:
            flow = how.evaluate(**given)
            checks.append(
                SHEAR_FIELD.judge(
                    capacity=float(flow.value), demand=q, required=required, unit="N/mm",
                    trace=[*_stiffness_trace(s), flow],
                )
            )  # fmt: skip
        if s.gap:
            local = plate_formulas.FLAT_BETWEEN_BEADS_SHEAR.evaluate(E=s.E, nu=s.nu, t=s.t, w_flat=s.gap)
            checks.append(
                SHEAR_LOCAL.judge(
                    capacity=float(local.value), demand=demand, required=required, unit="MPa", trace=[tau, local]
                )
            )
    missing = [f"{c.title.lower()}: {c.note}" for c in checks if c.status == "outside"]
    return checks, missing


def _together(s: _State, checks: list[Check]) -> list[Check]:
    """Bending and in-plane shear of one sheet, by the squares of what each uses."""
    if not s.panel.shear or not (s.panel.pressure or s.panel.patch):
        return []
    if not any(c.status in ("ok", "over") for c in checks if c.method.key in ON_SHAPE):
        return [TOGETHER.outside("the load across is not judged, so neither is the two together", unit="1")]
    judged = [
        c for c in checks if c.status in ("ok", "over") and c.method.key in {PULL.key, MEMBRANE_STRAIN.key} | SHEARS
    ]
    bending = max((c for c in judged if c.method.key not in SHEARS), key=lambda c: c.utilisation or 0.0, default=None)
    shear = max((c for c in judged if c.method.key in SHEARS), key=lambda c: c.utilisation or 0.0, default=None)
    if bending is None or shear is None:
        return [TOGETHER.outside("no method applies to one of the two", unit="1")]
    u_1, u_2 = bending.utilisation or 0.0, shear.utilisation or 0.0
    total = stress.BENDING_WITH_SHEAR.evaluate(u_1=u_1, u_2=u_2)
    trace: Trace = [
        Stated("u_1", "1", u_1, f"utilisation of {bending.key}"),
        Stated("u_2", "1", u_2, f"utilisation of {shear.key}"),
        total,
    ]
    return [TOGETHER.judge(capacity=1.0, demand=float(total.value), required=1.0, unit="1", trace=trace)]


# --- deflection and frequency ------------------------------------------------------------------------------


def _deflection(s: _State) -> list[Check]:
    panel, found = s.panel, s.answer
    checks = []
    if panel.limit_deflection is not None:
        if found is None and s.across:
            checks.append(DEFLECTION.outside(NO_BALANCE, unit="mm"))
        else:
            linear: Trace = [*_stiffness_trace(s)]
            if panel.pressure:
                linear.append(Stated("w_p", "mm", s.w_pressure, f"linear: {panel.pressure * 1e3:g} kPa", str(SERIES)))
            if panel.patch:
                linear.append(Stated("w_F", "mm", s.w_patch, f"linear: {panel.patch:g} N; {s.how}", str(SERIES)))
            trace = linear if found is None else [*linear, *_shape_trace(s, found)]
            demand = 0.0 if found is None else abs(found.deflection_yielding)
            checks.append(
                DEFLECTION.judge(capacity=panel.limit_deflection, demand=demand, required=1.0, unit="mm", trace=trace)
            )
    c, d = panel.foot
    where = f"on {c:g} x {d:g} mm at the middle"
    if s.heel is None:
        checks.append(FEEL.info(capacity=HEEL_LIMIT, unit="mm", note=NO_BALANCE))
    else:
        heel: Trace = [Stated("w", "mm", abs(s.heel), f"{HEEL:.4g} N {where}, large deflections", str(SHAPE))]
        checks.append(FEEL.info(capacity=HEEL_LIMIT, demand=abs(s.heel), unit="mm", trace=heel, note=where))
    return checks


def _frequency(s: _State) -> list[Check]:
    f_1 = s.frequency
    plate = {"a": s.a, "b": s.b, "mu": s.mass, **s.rigidity._asdict()}
    trace: Trace = _stiffness_trace(s)
    trace.append(Stated("mu", "t/mm^2", s.mass, f"{s.mass * 1e9:.4g} kg/m^2, the sheet alone"))
    if s.beads is not None:
        trace.append(Stated("f_1", "Hz", f_1, "on its real shape, bead ends and all", str(SHAPE)))
    elif s.edge == "simple":
        trace.append(plate_formulas.FREQUENCY_SIMPLE.evaluate(**plate))
    else:
        trace.append(plate_formulas.FREQUENCY_CLAMPED_ONE_TERM.evaluate(**plate))
        trace.append(Stated("f_1", "Hz", f_1, f"{s.how}, many terms", str(SERIES)))
    note = "the sheet alone; what is glued or laid on it lowers the frequency"
    limit = s.panel.limit_frequency
    if limit is not None:
        return [FREQUENCY.judge(capacity=f_1, demand=limit, required=1.0, unit="Hz", trace=trace, note=note)]
    return [DRUMMING.info(capacity=f_1, demand=QUIET, unit="Hz", trace=trace, note=note)]


# --- making it ---------------------------------------------------------------------------------------------


def _forming(s: _State) -> list[Check]:
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


def strength_used(result: Result) -> float | None:
    """The greatest part of what is allowed that the load across uses; None when it is not judged."""
    mine = [c for c in result.checks if c.method.key in ON_SHAPE]
    used = [c.utilisation for c in mine if c.utilisation is not None]
    if not used or (max(used) <= 1 and any(c.status == "outside" for c in mine)):
        return None
    return max(used)


# --- values ------------------------------------------------------------------------------------------------


def _values(s: _State) -> dict[str, Amount]:
    strip = s.panel.strip
    same_mass = 1.0 if strip is None else strip.stiffness_ratio_equal_mass
    found = {
        "I_along": Amount(s.I, "mm^4/mm"),
        "W_along": Amount(s.W, "mm^3/mm"),
        "stiffness_ratio": Amount(1.0 if strip is None else strip.stiffness_ratio, "1"),
        "stiffness_ratio_same_mass": Amount(same_mass, "1"),
        "mass_per_area": Amount(s.mass * 1e9, "kg/m^2"),
        "mass": Amount(s.mass * s.a * s.b, "t"),
        "frequency_1": Amount(s.frequency, "Hz"),
        "deflection_pressure": Amount(s.w_pressure, "mm"),
        "deflection_patch": Amount(s.w_patch, "mm"),
    }
    if s.w_pressure_stiffened is not None:
        found["deflection_pressure_stiffened"] = Amount(s.w_pressure_stiffened, "mm")
    if s.w_patch_stiffened is not None:
        found["deflection_patch_stiffened"] = Amount(s.w_patch_stiffened, "mm")
    answer = s.answer
    if answer is not None or not s.across:
        yielding = answer is None or s.f_y_left is not None
        found |= {
            "deflection": Amount(0.0 if answer is None else abs(answer.deflection), "mm"),
            "surface_stress": Amount(0.0 if answer is None else answer.surface_stress, "MPa"),
            "deflection_yielding": Amount(
                (0.0 if answer is None else abs(answer.deflection_yielding)) if yielding else None, "mm"
            ),
            "permanent_set": Amount((0.0 if answer is None else abs(answer.permanent_set)) if yielding else None, "mm"),
            "edge_pull": Amount(0.0 if answer is None else max(answer.edge_pull, 0.0), "N/mm"),
            "deflection_error": Amount(0.0 if answer is None else answer.errors["deflection"], "1"),
        }
    found["bead_strain"] = Amount(0.0 if strip is None else strip.strain, "1")
    found |= {name: Amount(value, "N*mm") for name, value in s.rigidity._asdict().items()}
    found["same_mass_thickness"] = Amount(s.sheet.thickness * s.developed, "mm")
    found["blank_across"] = Amount(s.b * s.developed, "mm")
    return found


def _about(s: _State) -> dict[str, str]:
    panel = s.panel
    beaded = "flat" if panel.pattern is None else f"{panel.pattern} along the {panel.along} side"
    return {
        "panel": f"{panel.size[0]:g} x {panel.size[1]:g} mm, edges {panel.edges}",
        "sheet": panel.sheet.label,
        "bead": beaded,
        "loads": panel.loads_text,
    }


def _cautions(s: _State, checks: Iterable[Check]) -> tuple[Caution, ...]:
    panel, strip = s.panel, s.panel.strip
    raised: list[Caution | str] = [PURPOSES[word] for word in panel.purpose]
    raised += [caution(code, **words) for code, words in panel.sheet.caution_codes()]
    raised += ["panel-edges", "fatigue"]
    raised += ["unfactored-load"] if panel.load_factor == 1.0 else []
    raised += [] if panel.pressure or panel.patch or panel.shear else ["no-load"]
    if s.beyond:
        raised.append("large-deflection")
    if strip is not None:
        raised.append("forming")
        raised += ["bead-ends"] if panel.pattern is not None and panel.pattern.stop is None else []
        if panel.sheet.material.elongation is None:
            words = {"strain": f"{100 * strip.strain:.0f}", "grade": panel.sheet.material.grade}
            raised.append(caution("bead-strain-unknown", **words))
        if s.b / strip.bead.pitch < FEW_PITCHES - 1e-9:
            raised.append("few-beads")
    if any(c.provenance == "from memory" for c in checks if c.status in ("ok", "over")):
        raised.append("from-memory")
    return collect(raised)


__all__ = ["bead_verdict", "check_panel", "strength_used"]
