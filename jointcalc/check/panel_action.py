"""One panel as it lies: its sheet and beads, its answers on the real shape and by series."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
import numpy.typing as npt

from jointcalc.formula import bead as bead_formulas
from jointcalc.formula.branch import above, at_most
from jointcalc.formula.safety import GAMMA_M0, GAMMA_M1, GAMMA_M_OTHER
from jointcalc.model.panel import Panel
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.sentence import mm
from jointcalc.quantity.units import GRAVITY
from jointcalc.statics import bead as beads
from jointcalc.statics import bead_crossing as crossing
from jointcalc.statics import field as fields
from jointcalc.statics import plate as plates
from jointcalc.statics.band import NotFound
from jointcalc.statics.bead import Bead, Strip
from jointcalc.statics.field import Answer
from jointcalc.statics.field_shape import Beads, Field
from jointcalc.statics.plate import Edge, Membrane, Patch, Rigidity
from jointcalc.statics.pushed import Pushed, pushed

HEEL = 0.090 * GRAVITY
"""Weight of 90 kg on a heel [N]."""
FEW_PITCHES = 3.0
FEEL_EDGES = 3.0
"""Times as long as wide, as an equivalent plate of one stiffness, from which a load at the middle no longer feels
the far edges: the deflection differs by less than 0.3 % from that of an endless plate."""
FINEST = {"simple": 150.0, "clamped": 25.0}
"""Side over loaded side up to which the moments under a patch are good to 1 % (tried with more terms)."""
CREASED = "beads that cross: no section runs through, and the sheet folds where they meet; the real shape is judged"


@dataclass(frozen=True, slots=True)
class Moments:
    """Greatest moments per width, without sign [N]."""

    x: float
    y: float
    xy: float


@dataclass(frozen=True, slots=True)
class Stiffness:
    """What a panel resists with: plate rigidities, those in its plane, and I [mm^4/mm], W [mm^3/mm] along its beads."""

    rigidity: Rigidity
    membrane: Membrane
    I: float
    W: float


@dataclass(frozen=True, eq=False)
class PanelAction:
    """One panel with all that acts on it: what every rule judges.

    Whatever follows from the panel is worked out when it is asked for, and kept; nothing is ever set from outside, so
    that rules may be asked in any order.
    """

    panel: Panel

    @property
    def sheet(self) -> Sheet:
        """The sheet it is made of."""
        return self.panel.sheet

    @property
    def E(self) -> float:
        """Modulus of elasticity [MPa]."""
        return self.sheet.material.E

    @property
    def nu(self) -> float:
        """Poisson's ratio."""
        return self.sheet.material.nu

    @property
    def rho(self) -> float:
        """Density [t/mm³]."""
        return self.sheet.material.density

    @property
    def t(self) -> float:
        """Thickness that carries [mm]."""
        return self.sheet.t

    @property
    def plate(self) -> dict[str, float]:
        """The sheet as formulas of plates take it: E, nu, t."""
        return {"E": self.E, "nu": self.nu, "t": self.t}

    @property
    def a(self) -> float:
        """Side along the beads [mm]."""
        return self.panel.along_beads

    @property
    def b(self) -> float:
        """Side across the beads [mm]."""
        return self.panel.across_beads

    @property
    def edge(self) -> Edge:
        """How the edges are held: `simple` or `clamped`."""
        return self.panel.edge

    @property
    def gamma(self) -> float:
        """Partial factor on the loads."""
        return self.panel.load_factor

    @property
    def gamma_M0(self) -> float:
        """Partial factor of yielding."""
        return GAMMA_M0 if self.sheet.material.family == "steel" else GAMMA_M_OTHER

    @property
    def gamma_M1(self) -> float:
        """Partial factor of instability."""
        return GAMMA_M1 if self.sheet.material.family == "steel" else GAMMA_M_OTHER

    @cached_property
    def _stiffness(self) -> Stiffness:
        panel, strip = self.panel, self.panel.strip
        if strip is None:
            return Stiffness(*plates.flat(self.E, self.nu, self.t), self.t**3 / 12, self.t**2 / 6)
        if panel.cross_strip is not None:
            rigidity = crossing.rigidity(strip, panel.cross_strip, self.E, self.nu)
            membrane = crossing.membrane(strip, panel.cross_strip, self.E, self.nu)
            # the least along them: flat sheet, where one bead is crossed by another
            return Stiffness(rigidity, membrane, rigidity.D_x / self.E, self.t**2 / 6)
        return Stiffness(
            beads.rigidity(strip, self.E, self.nu), beads.membrane(strip, self.E, self.nu),
            strip.I_along, strip.W_along,
        )  # fmt: skip

    @property
    def rigidity(self) -> Rigidity:
        """Plate rigidities, its beads spread evenly [N mm]."""
        return self._stiffness.rigidity

    @property
    def membrane(self) -> Membrane:
        """Stiffness in its plane, its beads spread evenly [N/mm]."""
        return self._stiffness.membrane

    @property
    def I(self) -> float:  # noqa: E743 - the symbol of the field
        """Second moment of area along the beads [mm^4/mm]."""
        return self._stiffness.I

    @property
    def W(self) -> float:
        """Elastic modulus along the beads [mm^3/mm]."""
        return self._stiffness.W

    @property
    def developed(self) -> float:
        """Area of the sheet over that seen from above."""
        return self.panel.developed

    @property
    def stiffness_ratio_same_mass(self) -> float:
        """Bending stiffness along the beads over that of flat sheet of the same mass."""
        strip = self.panel.strip
        if strip is None:
            return 1.0
        if self.panel.cross is None:
            return strip.stiffness_ratio_equal_mass
        return float(bead_formulas.STIFFNESS_RATIO(I=self.I, t=self.t * self.developed))

    @property
    def mass(self) -> float:
        """Mass per area as bought, zinc and all [t/mm²]."""
        return self.rho * self.sheet.thickness * self.developed

    @property
    def gap(self) -> float:
        """Width of the flats between beads [mm], the lesser of both ways; 0 for flat sheet or beads side by side."""
        gaps = [strip.gap for strip in (self.panel.strip, self.panel.cross_strip) if strip is not None]
        return least if gaps and (least := min(gaps)) > 1e-9 else 0.0

    @property
    def many_beads(self) -> bool:
        """Whether there are beads enough, of every way, to count as spread evenly."""
        panel = self.panel
        sets = ((panel.pattern, panel.bead_places), (panel.cross, panel.cross_places))
        return all(len(places) >= FEW_PITCHES for bead, places in sets if bead is not None)

    # --- the real shape ------------------------------------------------------------------------------

    @property
    def across(self) -> bool:
        """Whether anything presses on the panel."""
        return bool(self.panel.pressure or self.panel.patch)

    @property
    def pushed(self) -> bool:
        """Whether anything pushes opposite edges together."""
        return any(self.panel.compression)

    @property
    def in_plane_loads(self) -> bool:
        """Whether anything pushes or shears it in its plane."""
        return self.pushed or bool(self.panel.shear)

    @cached_property
    def beads(self) -> Beads | None:
        """The beads as they are rolled."""
        return self._rolled(self.panel.pattern, self.panel.strip, self.panel.bead_places)

    @cached_property
    def cross(self) -> Beads | None:
        """Those that run across them."""
        return self._rolled(self.panel.cross, self.panel.cross_strip, self.panel.cross_places)

    def _rolled(self, bead: Bead | None, strip: Strip | None, places: tuple[float, ...]) -> Beads | None:
        if bead is None or strip is None:
            return None
        half = bead.width / 2 * (1 + 1e-9)
        line = [(y, z) for y, z in beads.path(bead, self.t, 48) if abs(y) <= half]
        shape, parts = strip.shape, [0.0]
        for part in (shape.root * shape.slope, shape.flank, shape.crown * shape.slope, shape.level):
            parts.append(parts[-1] + part)
        joints = sorted({round(at, 9) for part in parts for at in (part, 2 * parts[-1] - part)})
        stop, runout = bead.ends
        return Beads(places, tuple(line), tuple(joints), stop, runout, self.panel.crowns == "towards")

    @property
    def bare(self) -> Field:
        """The panel without load."""
        panel = self.panel
        return Field(
            self.a, self.b, self.t, self.E, self.nu, panel.turns, panel.drawing_in, beads=self.beads,
            cross=self.cross, fineness=2.0 if panel.fine else 1.0,
        )  # fmt: skip

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

    @property
    def loaded(self) -> Field:
        """The panel under all that presses on it."""
        panel = self.panel
        places = panel.places if panel.patch else ()
        patches = tuple(replace(self.foot, force=panel.patch, x=x, y=y) for x, y in places)
        return replace(self.bare, pressure=panel.pressure, patches=patches, f_y=self.f_y_left)

    @cached_property
    def answer(self) -> Answer | None:
        """What the panel does under all that presses on it; None when nothing does or no equilibrium is found."""
        if not self.across:
            return None
        try:
            return fields.answer(self.loaded, factor=self.gamma_M0 * self.gamma)
        except NotFound:
            return None

    @cached_property
    def hung(self) -> PanelAction | None:
        """The panel with its edges held in the plane of the sheet, where nobody says how they are; it then pulls."""
        if self.panel.in_plane or self.pushed or not self.across:
            return None
        return PanelAction(self.panel.but(in_plane="held"))

    @property
    def answers(self) -> tuple[Answer, ...]:
        """What it does under all that presses on it, however its edges may be held in the plane of the sheet."""
        both = (self.answer, None if self.hung is None else self.hung.answer)
        return tuple(one for one in both if one is not None)

    @cached_property
    def answer_in_plane(self) -> Pushed | None:
        """What the panel does under loads in its plane with all others; None without them or an equilibrium."""
        if not self.in_plane_loads or not self.sheet.has_yield:
            return None
        strip, panel = self.panel.strip, self.panel
        strips = [one for one in (strip, panel.cross_strip) if one is not None]
        local = max((size for one in strips for size in (one.gap, one.bead.width)), default=None)
        thrust = (panel.compression[0], panel.compression[1])
        field = replace(self.loaded, thrust=thrust, flow=abs(panel.shear), f_y=self.sheet.f_y)
        try:
            return pushed(field, required=self.gamma_M1 * self.gamma, local=local)
        except NotFound:
            return None

    @cached_property
    def w_heel(self) -> float | None:
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
        """The plate under the pressure, by series."""
        return plates.solve(self.a, self.b, self.rigidity, self.edge, pressure=self.panel.pressure)

    @property
    def no_series(self) -> str:
        """Why the series of plates do not tell this panel's bending; empty where they do."""
        if self.panel.cross is not None:
            return CREASED
        if not self.panel.edges_alike:
            return "the series are for edges that are all simple or all clamped; the real shape is judged with its own"
        if self.panel.patch and not self.panel.centred:
            return "the series are for one load at the middle; the real shape is judged with the loads where they stand"
        return ""

    @cached_property
    def w_pressure(self) -> float:
        """Linear deflection under the pressure [mm]."""
        if self.panel.pressure and (self.panel.cross is not None or not self.panel.edges_alike):
            return abs(fields.linear(replace(self.bare, pressure=self.panel.pressure)))
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
        """Linear deflection under the patch [mm]."""
        if self.panel.patch and self.no_series:
            return abs(fields.linear(replace(self.loaded, pressure=0.0, f_y=None)))
        return self.w_unit * self.panel.patch

    @property
    def w_linear(self) -> float:
        """Sum of the linear deflections [mm]."""
        return self.w_pressure + self.w_patch

    @property
    def beyond(self) -> bool:
        """Whether the linear formulas are past their range."""
        return bool(above(self.w_linear, self.t / 2))

    def stiffened(self, w: float, *, pressure: float = 0.0, force: float = 0.0) -> float | None:
        """Membrane-stiffened estimate of a deflection [mm]; None within half the thickness."""
        if at_most(w, self.t / 2) or self.no_series:
            return None
        return plates.membrane_stiffened(self.a, self.b, self.membrane, self.edge, w, pressure=pressure, force=force)

    @cached_property
    def w_pressure_stiffened(self) -> float | None:
        """The same under the pressure, stiffened by stretching [mm]."""
        return self.stiffened(self.w_pressure, pressure=self.panel.pressure)

    @cached_property
    def w_patch_stiffened(self) -> float | None:
        """The same under the patch, stiffened by stretching [mm]."""
        return self.stiffened(self.w_patch, force=self.panel.patch)

    # --- moments -------------------------------------------------------------------------------------

    @cached_property
    def too_small(self) -> str:
        """Why the stress under the patch cannot be told; empty when it can."""
        if not self.panel.patch:
            return ""
        (a, b), (c, d) = self.patch_sides, self.panel.foot
        finest = FINEST[self.edge]
        if at_most(a / c, finest) and at_most(b / d, finest):
            return ""
        return (
            f"the loaded area of {mm(c, ' x ', d):g} is smaller than 1/{finest:g} of the panel, too small for the "
            "plate "
            "solution to follow its stress; give a larger 'patch_size'"
        )

    @cached_property
    def moments(self) -> Moments:
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
        return Moments(*(float(sum(np.abs(field[i]).max() for field in fields)) for i in range(3)))

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
        """First frequency [Hz]: of a flat panel by series, of a beaded one or unlike edges on its real shape."""
        if not self.by_series:
            return fields.frequency(self.bare, self.rho * self.sheet.thickness, self.panel.mass_added)
        return plates.frequency_1(self.a, self.b, self.rigidity, self.edge, self.swinging)

    @property
    def by_series(self) -> bool:
        """Whether the first frequency comes from the series of plates."""
        return self.beads is None and self.panel.edges_alike

    @property
    def swinging(self) -> float:
        """Mass per area that swings: the sheet and what is laid on it [t/mm²]."""
        return self.mass + self.panel.mass_added

    @property
    def frequencies_through(self) -> tuple[float, float]:
        """First frequency [Hz] of the sheet stiffened evenly by its beads, as they lie and turned to the other side."""
        one = plates.frequency_1(self.a, self.b, self.rigidity, self.edge, self.swinging)
        return one, plates.frequency_1(self.b, self.a, self.rigidity, self.edge, self.swinging)

    @property
    def solved_by(self) -> str:
        """By what the plate was solved, for the working."""
        if self.no_series:
            return f"on its real shape, small deflections, edges {self.panel.edges}"
        way = "Navier's series" if self.edge == "simple" else "Ritz's method"
        return f"{way}, {mm(self.a, ' x ', self.b):g}, edges {self.panel.edges}"
