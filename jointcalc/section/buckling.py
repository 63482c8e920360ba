"""What the strips say about a profile: its signature curve, and its local, distortional and overall buckling.

The signature curve is the lowest load factor of one harmonic against its half-wavelength.  Local
buckling is the minimum at about the width of a flat; distortional buckling (folds move, the section
changes shape, flats stay nearly flat) is the minimum at some times that; overall buckling is what
remains over the whole length.

A curve does not always show both minima.  So where to look is taken from two constrained solutions
of the same section with sharp corners (after S. Adany and B. W. Schafer, constrained finite strips,
and Z. Li and B. W. Schafer 2010, who read the unconstrained curve at the half-wavelengths of the
constrained one; from memory):

- local: the folds do not move, nothing stretches or shears in the plane of the sheet;
- distortional: no shear and no transverse stretch in the plane of the sheet, bending across in
  equilibrium, and warping without axial force, bending or bimoment, so that no overall mode is left.

A minimum of the curve of the true section (bends as they are) within a factor of two of the
constrained half-wavelength is taken as it is.  Where there is none the true section is asked at the
constrained half-wavelength itself: its lowest mode there that is not, for `RIGID` of its movement, a shift
and turn of the section as a whole, which is overall buckling and judged as such; and never more than
the constrained section itself carries.
Where the constrained solution has no minimum either (plain channels, angles: nothing distorts but the
flats; a tension flange that never lets go), the answer is none, with the reason.

Closed cells: no distortional mode is sought; a cell holds its corners by its own closed frame, and
only local loads rack it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Literal

import numpy as np

from jointcalc.errors import InputError
from jointcalc.quantity.sentence import mm
from jointcalc.section.constrained_strips import Constrained, rigid_share
from jointcalc.section.families.family import Family
from jointcalc.section.outline import Floats
from jointcalc.section.properties import Properties
from jointcalc.section.strip_matrices import Y, Z
from jointcalc.section.strip_solver import Ends, Small, Solver
from jointcalc.section.strips import STRIPS, Strips, cut

Loading = Literal["axial", "sagging", "hogging"]
"""Uniform compression, or bending about y with the top (sagging) or the bottom (hogging) compressed."""
Kind = Literal["local", "distortional", "global"]
CURVE = 60
"""Half-wavelengths of the curve that minima are looked for on."""
MODES = 6
"""Modes of each length that the curve is solved in."""
NEAR = 2.0
"""How far, as a factor, a minimum may lie from the constrained half-wavelength to be the same mode."""
RIGID = 0.8
"""Share of a movement that is the section as a whole from which on the mode counts as overall."""
TERMS = 16
"""Series terms for fixed ends."""
AT_HAND = 3
"""Sections whose matrices are kept, two megabytes each: one profile under all loadings.  What was found stays."""


@dataclass(frozen=True, slots=True)
class Found:
    """One elastic buckling load of a profile.

    `stress` [MPa] is the critical compressive stress at the most compressed outer face; `load` is what
    goes with it over the whole section: a force [N] in `axial`, a moment about y [N mm] in bending.
    `factor` is the stress over `f_ref`.  `how` is "minimum" when the half-wavelength [mm] is that of a
    minimum of the signature curve, "constrained" when it is that of the constrained section, "length"
    when it is the length asked for.
    """

    kind: Kind
    loading: Loading
    half_wavelength: float
    stress: float
    load: float
    factor: float
    how: Literal["minimum", "constrained", "length"]

    @property
    def note(self) -> str:
        """What was found and where, in a line."""
        where = f"half-wavelength {mm(self.half_wavelength):.4g}"
        if self.how == "minimum":
            return f"{self.kind} minimum of the signature curve, {where}"
        if self.how == "constrained":
            return f"the curve has no {self.kind} minimum of its own; taken at the {where} of the constrained section"
        return f"lowest over {mm(self.half_wavelength):.4g}"


class Buckling:
    """Elastic buckling of one profile under one loading.

    Nothing is solved before it is asked for.  `f_ref` [MPa] is the stress at the most compressed point of
    the outer faces that the factors are of.  `guided` bends about y whatever the product of inertia, as a
    profile that is held sideways; without it a zed or an angle bends askew under a moment about y, and its
    stress varies across y as well.  Raises InputError for a batch of profiles, an unknown loading or a
    modulus that is not positive.
    """

    def __init__(
        self,
        family: Family,
        *,
        loading: Loading,
        E: float,
        nu: float = 0.3,
        f_ref: float = 1.0,
        guided: bool = True,
        strips: int = STRIPS,
    ) -> None:
        if family.batch != 1:
            raise InputError("finite strips take one profile at a time", field="profile")
        if loading not in ("axial", "sagging", "hogging"):
            raise InputError(f"'{loading}' is not a loading; use axial, sagging or hogging", field="loading")
        for name, value in (("E", E), ("f_ref", f_ref)):
            if not (np.isfinite(value) and value > 0):
                raise InputError(f"{name} must be a number above 0", field=name)
        self.family, self.loading, self.E, self.nu, self.f_ref, self.guided = family, loading, E, nu, f_ref, guided
        self.properties: Properties = family.properties()
        self.model: Strips = cut(family.outline(), strips=strips)

    @cached_property
    def _plane(self) -> tuple[float, float, float]:
        """(constant, along y, along z): the stress of the reference load, compression positive [MPa, MPa/mm]."""
        p = self.properties
        if self.loading == "axial":
            return self.f_ref, 0.0, 0.0
        y_c, z_c = float(p.y_centroid[0]), float(p.z_centroid[0])
        i_y, i_z, i_yz = (float(v[0]) for v in (p.I_y, p.I_z, p.I_yz))
        sense = 1.0 if self.loading == "sagging" else -1.0
        # a moment about y of one, the top compressed, straight or askew
        by = 0.0 if self.guided else -sense * i_yz / (i_y * i_z - i_yz**2)
        bz = sense / i_y if self.guided else sense * i_z / (i_y * i_z - i_yz**2)
        y, z = self._outer
        scale = self.f_ref / float((by * (y - y_c) + bz * (z - z_c)).max())
        by, bz = by * scale, bz * scale
        return -by * y_c - bz * z_c, by, bz

    @cached_property
    def _outer(self) -> tuple[Floats, Floats]:
        """Points of the outer faces: their corners, and the highest and lowest of all."""
        outline, p = self.family.outline(), self.properties
        # a flat that its bends have used up has no faces
        lines = [outline.polyline(i) for i in range(len(outline.segments))]
        there = [i for i, s in enumerate(outline.segments) if s.kind != "weld" and np.ptp(lines[i], axis=0).any()]
        every = np.concatenate([outline.faces(i) for i in there])
        ends = np.array([[float(p.y_centroid[0]), float(z[0])] for z in (p.z_top, p.z_bottom)])
        every = np.concatenate([every, ends]) if self.guided else every
        return every[:, 0], every[:, 1]

    def _stress(self, model: Strips) -> Floats:
        """The reference stress at the lines of a model."""
        constant, by, bz = self._plane
        return np.asarray(constant + by * model.y + bz * model.z)

    @cached_property
    def reference(self) -> float:
        """Force [N] or moment about y [N mm] of the reference stress."""
        p = self.properties
        if self.loading == "axial":
            return self.f_ref * float(p.area[0])
        _, by, bz = self._plane
        return abs(bz * float(p.I_y[0]) + by * float(p.I_yz[0]))

    @cached_property
    def modulus(self) -> float:
        """Area [mm^2] or modulus [mm^3] of first yield, at whichever face: the load per greatest stress."""
        constant, by, bz = self._plane
        y, z = self._outer
        return self.reference / float(np.abs(constant + by * y + bz * z).max())

    @property
    def solver(self) -> Solver:
        """The strips of the true section, one harmonic; its matrices are kept for the last sections only."""
        return _solver(self)

    @cached_property
    def _own_stress(self) -> Floats:
        return self._stress(self.model)

    def factors(self, half_wavelengths: Floats) -> Floats:
        """The signature curve: lowest load factor at each half-wavelength [mm]."""
        return self.solver.factors(half_wavelengths)

    @cached_property
    def size(self) -> float:
        """Developed length of the section [mm], that half-wavelengths are measured by."""
        return float(self.model.width.sum())

    # --- constrained sections ---------------------------------------------------------------------------

    @property
    def _constrained(self) -> Constrained:
        return _constrained(self)

    @cached_property
    def local_half_wavelength(self) -> float | None:
        """Half-wavelength [mm] at which the section with unmoved folds buckles first; None without a minimum."""
        if self.round:
            return None
        lengths = np.geomspace(self.size / 60, self.size * 4, 20)
        return _lowest(self._constrained.local.factors, lengths, first=True)

    @cached_property
    def distortional_half_wavelength(self) -> float | None:
        """Half-wavelength [mm] of the lowest distortion of the section; None when none has a minimum."""
        if self.closed or not self._constrained.distortions:
            return None
        lengths = np.geomspace(self.size / 30, self.size * 60, 160)
        return _lowest(self._constrained.distortional.factors, lengths, first=False)

    @cached_property
    def closed(self) -> bool:
        """Whether the section has a closed cell."""
        return bool(self.family.outline().tree.loops)

    @cached_property
    def round(self) -> bool:
        """Whether the section has no flats, as a tube."""
        return not len(self.family.outline().flat_ids)

    # --- what is found ------------------------------------------------------------------------------------

    @cached_property
    def curve(self) -> tuple[Floats, Floats]:
        """(half-wavelengths [mm], load factors): the part of the signature curve that minima are looked for on.

        Solved in the lowest modes of a few lengths about the constrained half-wavelengths.
        """
        lengths = np.geomspace(*self._range, CURVE)
        return lengths, self._span.factors(lengths)

    @cached_property
    def _range(self) -> tuple[float, float]:
        """Shortest and longest half-wavelength of the curve [mm]."""
        places = [a for a in (self.local_half_wavelength, self.distortional_half_wavelength) if a is not None]
        return min(places, default=self.size / 20) / 3, max(places, default=self.size) * 4

    @cached_property
    def _span(self) -> Small:
        low, high = self._range
        places = [a for a in (self.local_half_wavelength, self.distortional_half_wavelength) if a is not None]
        between = [float(np.sqrt(places[0] * places[1]))] if len(places) == 2 else []
        spread = np.geomspace(low, high, 3 if places else 8)
        return self.solver.span(np.array([*places, *between, *spread]), MODES)

    @cached_property
    def minima(self) -> tuple[tuple[float, float], ...]:
        """(half-wavelength [mm], load factor) of every minimum of the curve, from short to long."""
        lengths, factors = self.curve
        places = [_refined(self._span.factors, lengths[i - 1 : i + 2], factors[i - 1 : i + 2]) for i in _dips(factors)]
        if not places:
            return ()
        return tuple(zip(places, (float(v) for v in self.factors(np.array(places))), strict=True))

    def _own(self, place: float, other: float | None) -> tuple[float, float] | None:
        """The minimum of the curve that belongs to a constrained half-wavelength, unless it is nearer the other's."""
        best = None
        for found in self.minima:
            far = abs(np.log(found[0] / place))
            if far > np.log(NEAR) or (other is not None and abs(np.log(found[0] / other)) < far):
                continue
            if best is None or far < abs(np.log(best[0] / place)):
                best = found
        return best

    @cached_property
    def local(self) -> Found | None:
        """Local buckling, or None when no flat buckles by itself (see `why_no_local`)."""
        place = self.local_half_wavelength
        if place is None:
            return None
        own = self._own(place, self.distortional_half_wavelength)
        if own is not None:
            return self._found("local", own[0], own[1], "minimum")
        return self._found("local", place, float(self.factors(np.array([place]))[0]), "constrained")

    @cached_property
    def distortional(self) -> Found | None:
        """Distortional buckling, or None when the section has no such mode (see `why_no_distortional`)."""
        place = self.distortional_half_wavelength
        if place is None:
            return None
        own = self._own(place, self.local_half_wavelength)
        if own is not None:
            return self._found("distortional", own[0], own[1], "minimum")
        modes = self.solver.modes(place, 8)
        share = rigid_share(self.model, modes)
        shaped = np.flatnonzero((share < RIGID) & np.isfinite(modes.factors))
        factor = float(self._constrained.distortional.factors(np.array([place]))[0])
        if len(shaped):
            factor = min(factor, float(modes.factors[shaped[0]]))
        return self._found("distortional", place, factor, "constrained")

    def overall(self, length: float, ends: Ends = "simple", terms: int = TERMS) -> Found | None:
        """Buckling over the whole `length` [mm] in one half-wave, or by the coupled series with fixed ends.

        None when the loading cannot buckle it.  Local modes are left out with simple ends, because they
        have many half-waves in that length; with fixed ends the lowest mode is given, whatever it is.
        """
        if ends == "simple":
            factor = float(self.factors(np.array([length]))[0])
        else:
            solver = Solver(self.model, self._own_stress, E=self.E, nu=self.nu, ends=ends, terms=terms)
            factor = float(solver.factors(np.array([length]))[0])
        return self._found("global", length, factor, "length") if np.isfinite(factor) else None

    def shape(self, found: Found) -> Floats:
        """Movements across y and z `(nodes, 2)` of the nodal lines of `model` in a mode found, the largest 1."""
        modes = self.solver.modes(found.half_wavelength, 8)
        nearest = int(np.argmin(np.abs(modes.factors - found.factor)))
        return np.asarray(modes.movements[nearest, 0, :, [Y, Z]].T)

    def _found(
        self, kind: Kind, length: float, factor: float, how: Literal["minimum", "constrained", "length"]
    ) -> Found:
        return Found(
            kind=kind, loading=self.loading, half_wavelength=float(length), stress=factor * self.f_ref,
            load=factor * self.reference, factor=factor, how=how,
        )  # fmt: skip

    @property
    def why_no_local(self) -> str:
        """Why `local` is None; empty when it is not."""
        if self.local is not None:
            return ""
        if self.round:
            return "no flats: a round wall has rules of its own"
        return "no flat buckles by itself: with the folds unmoved the load only falls with length, as in torsion"

    @property
    def why_no_distortional(self) -> str:
        """Why `distortional` is None; empty when it is not."""
        if self.distortional is not None:
            return ""
        if self.closed:
            return "a closed section: its cell holds the corners in place"
        if not self._constrained.distortions:
            return "no lips or stiffeners: the section cannot distort but by its flats, which is local buckling"
        return "no distortion of the section lets go under this stress at any half-wavelength"


def _dips(values: Floats) -> list[int]:
    """Indices of the inner points lower than their neighbours."""
    inner = (values[1:-1] < values[:-2] * (1 - 1e-9)) & (values[1:-1] <= values[2:])
    return [int(i) + 1 for i in np.flatnonzero(inner)]


def _lowest(curve: Callable[[Floats], Floats], lengths: Floats, *, first: bool) -> float | None:
    """Half-wavelength of the first or of the lowest minimum of a curve; None when it has none inside."""
    values = curve(lengths)
    dips = _dips(values)
    if not dips:
        return None
    i = dips[0] if first else min(dips, key=lambda k: float(values[k]))
    return _refined(curve, lengths[i - 1 : i + 2], values[i - 1 : i + 2])


def _refined(curve: Callable[[Floats], Floats], lengths: Floats, values: Floats) -> float:
    """Place of the minimum between the outer ones of three lengths whose values are known."""
    new = [1, 2, 4, 5]
    for _ in range(3):
        lengths, known = np.geomspace(lengths[0], lengths[-1], 7), values
        values = np.empty(7)
        values[::3], values[new] = known, curve(lengths[new])
        i = int(np.argmin(values[1:-1])) + 1
        best = float(lengths[int(np.argmin(values))])
        lengths, values = lengths[i - 1 : i + 2], values[i - 1 : i + 2]
    return best


@lru_cache(maxsize=AT_HAND)
def _solver(section: Buckling) -> Solver:
    return Solver(section.model, section._own_stress, E=section.E, nu=section.nu)


@lru_cache(maxsize=AT_HAND)
def _constrained(section: Buckling) -> Constrained:
    model = cut(section.family.outline(sharp=True), strips=STRIPS)
    return Constrained(model, section._stress(model), section.E, section.nu)


@lru_cache(maxsize=256)
def buckling(family: Family, *, loading: Loading, E: float, nu: float = 0.3, guided: bool = True) -> Buckling:
    """The `Buckling` of a profile under a loading, kept, so that several checks solve it once."""
    return Buckling(family, loading=loading, E=E, nu=nu, guided=guided)


def distortional(family: Family, *, loading: Loading, E: float, nu: float = 0.3) -> Found | None:
    """Elastic distortional buckling of a profile by finite strips; None when it has no such mode.

    `loading` is "axial" (uniform compression), "sagging" (bending about y, top compressed) or "hogging"
    (bottom compressed).  `Found.stress` [MPa] is at the most compressed outer face, `Found.load` the
    critical force [N] or moment about y [N mm].  `buckling(...)` gives the reason for a None.
    """
    return buckling(family, loading=loading, E=E, nu=nu).distortional


def local(family: Family, *, loading: Loading, E: float, nu: float = 0.3) -> Found | None:
    """Elastic local buckling of a profile by finite strips; None when no flat buckles by itself."""
    return buckling(family, loading=loading, E=E, nu=nu).local
