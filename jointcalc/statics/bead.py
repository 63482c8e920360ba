"""Beads pressed or rolled into sheet: the section of one pitch, and the sheet as an orthotropic plate.

A bead is described on its mid-line: depth is its rise, width its foot from root to root (to the ends of
the root fillets where they are given), pitch the distance to the next bead.  `radius` is the inside
radius of every bend of a trapezoid or V and of the root of an arc; without it the corners are sharp.
The crown of an arc takes the radius that depth and width leave.  Thickness enters exactly, not as a thin
line only.

Beads that stop short of the edge leave a flat hinge line: the values of a section and of the sheet as a plate are
those of beads running through, and upper bounds then; `statics.field` works the real shape out.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from math import cos, floor, hypot, isfinite, pi, sin
from typing import Literal, NamedTuple, get_args

from jointcalc.errors import InputError, nearest
from jointcalc.formula import bead as formula
from jointcalc.quantity.sentence import mm
from jointcalc.statics.plate import Membrane, Rigidity

Family = Literal["arc", "trapezoid", "vee"]
FAMILIES: tuple[Family, ...] = get_args(Family)
EXAMPLES: Mapping[Family, str] = {
    "arc": "arc:depth=6mm,width=25mm,pitch=75mm",
    "trapezoid": "trapezoid:depth=6mm,width=25mm,flat=10mm,pitch=75mm",
    "vee": "vee:depth=6mm,width=25mm,pitch=75mm",
}
STOP = 25.0
"""Flat strip left at the edge where nothing is said [mm]: a spot of 5 to 6 mm, its edge distance, and room for the
electrode (common practice, no source)."""
RUNOUT = 4.0
"""Length of the ramp over the bead's depth where nothing is said (common practice, no source)."""
STEEPEST_END = 1.0
"""Depth over run-out beyond which the end is a drawn pocket, not a rolled bead (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Bead:
    """One bead pattern [mm]; `flat` is the level part of a trapezoid's crown, `radius` an inside bend radius.

    The bead begins `stop` off the supported edge and rises in a straight ramp `runout` long, its width the same; None
    leaves either to `ends`.  Raises InputError for dimensions that cannot be made.
    """

    family: Family
    depth: float
    width: float
    pitch: float
    flat: float = 0.0
    radius: float | None = None
    stop: float | None = None
    runout: float | None = None

    def __post_init__(self) -> None:
        if self.family not in FAMILIES:
            raise InputError(_unknown_family(self.family), field="bead")
        for name, size in (("depth", self.depth), ("width", self.width), ("pitch", self.pitch)):
            if not (isfinite(size) and size > 0):
                raise InputError(f"the bead's {name} must be greater than zero, got {mm(size):g}", field="bead")
        if self.width > self.pitch:
            raise InputError(
                f"beads {mm(self.width):g} wide overlap at a pitch of {mm(self.pitch):g}; "
                "make the pitch at least the width",
                field="bead",
            )
        if self.family == "arc" and self.depth > self.width / 2 * (1 + 1e-9):
            raise InputError(
                f"an arc {mm(self.width):g} wide is half round at a depth of {mm(self.width / 2):g} and cannot be "
                "deeper "
                f"({mm(self.depth):g} given); make it wider, or use a trapezoid",
                field="bead",
            )
        if self.family != "trapezoid" and self.flat:
            raise InputError(f"only a trapezoid has a flat crown, not '{self.family}'; leave flat out", field="bead")
        if self.family == "trapezoid" and not (isfinite(self.flat) and 0 < self.flat < self.width):
            raise InputError(
                f"a trapezoid needs a flat crown between 0 and its width of {mm(self.width):g}, got {mm(self.flat):g}; "
                f"write it as in '{EXAMPLES['trapezoid']}'",
                field="bead",
            )
        if self.radius is not None and not (isfinite(self.radius) and self.radius >= 0):
            raise InputError(f"the bend radius must be zero or more, got {mm(self.radius):g}", field="bead")
        for name, end in (("stop", self.stop), ("runout", self.runout)):
            if end is not None and not (isfinite(end) and end >= 0):
                raise InputError(f"the bead's {name} must be zero or more, got {mm(end):g}", field="bead")

    @property
    def ends(self) -> tuple[float, float]:
        """Flat strip between supported edge and bead, and length of the ramp [mm], as given or as is usual.

        A bead that stops short rises over its run-out; one that runs through (`stop` 0) needs none.
        """
        stop = STOP if self.stop is None else self.stop
        if self.runout is not None:
            return stop, self.runout
        return stop, RUNOUT * self.depth if stop else 0.0

    def __str__(self) -> str:
        parts = [f"depth={self.depth:g}mm", f"width={self.width:g}mm"]
        parts += [f"flat={self.flat:g}mm"] if self.family == "trapezoid" else []
        parts += [f"pitch={self.pitch:g}mm"]
        for name, size in (("r", self.radius), ("stop", self.stop), ("runout", self.runout)):
            parts += [f"{name}={size:g}mm"] if size is not None else []
        return f"{self.family}:{','.join(parts)}"


def _unknown_family(word: str) -> str:
    return f"'{word}' is not a bead jointcalc knows (known: {', '.join(FAMILIES)}){nearest(word, FAMILIES)}"


def parse_bead(text: str) -> Bead:
    """Read a bead such as `arc:depth=6mm,width=25mm,pitch=75mm`.

    Families: arc, trapezoid (with flat=), vee; `r` (inside bend radius), `stop`, `runout` are optional in all.  Raises
    InputError naming what was wrong and the accepted form.
    """
    from jointcalc.quantity.parse import parse_lengths

    family, colon, rest = text.partition(":")
    family = family.strip().lower()
    if family not in FAMILIES:
        raise InputError(f"{_unknown_family(family)}; write it as in '{EXAMPLES['arc']}'", field="bead")
    example = EXAMPLES[family]
    if not colon or not rest.strip():
        raise InputError(f"the bead has no dimensions; write it as in '{example}'", field="bead")
    wanted = {"depth", "width", "pitch"} | ({"flat"} if family == "trapezoid" else set())
    known = [*sorted(wanted), "r", "stop", "runout"]
    thing = f"a dimension of {_article(family)} bead"
    found = parse_lengths(rest, known, thing=thing, example=example, field="bead")
    missing = [name for name in ("depth", "width", "flat", "pitch") if name in wanted and name not in found]
    if missing:
        raise InputError(f"the bead lacks its {' and '.join(missing)}; write it as in '{example}'", field="bead")
    return Bead(
        family, found["depth"], found["width"], found["pitch"], found.get("flat", 0.0),
        found.get("r"), found.get("stop"), found.get("runout"),
    )  # fmt: skip


def _article(word: str) -> str:
    return f"an {word}" if word[0] in "aeiou" else f"a {word}"


# --- the section of one pitch ----------------------------------------------------------------------------


class Shape(NamedTuple):
    """Mid-line of half a bead, from its foot up: fillet, straight flank, crown bend, level crown.

    `slope` [rad] is where fillet, flank and crown bend meet; radii and lengths in mm, `level` is half
    of the crown's flat.
    """

    slope: float
    root: float
    flank: float
    crown: float
    level: float


def shape(bead: Bead, t: float) -> Shape:
    """The mid-line of half a bead in sheet of thickness t [mm]; raises InputError when its bends do not fit."""
    if not (isfinite(t) and t > 0):
        raise InputError(f"the sheet thickness must be greater than zero, got {mm(t):g}", field="sheet")
    r = 0.0 if bead.radius is None else bead.radius + t / 2
    if bead.family == "arc":
        at = {"b": bead.width, "f": bead.depth}
        # fillet and crown lie on one tangent, so their radii share the radius of the plain arc
        R = float(formula.ARC_RADIUS(**at))
        crown = R - r
        if crown < t / 2:
            room = f"the root radius may be at most {mm(R - t):.3g}" if t <= R else "make it wider or shallower"
            raise InputError(f"{bead} in {mm(t):g} sheet leaves its crown no inside radius; {room}", field="bead")
        return Shape(float(formula.ARC_HALF_ANGLE(**at)), r, 0.0, crown, 0.0)
    d_x = (bead.width - bead.flat) / 2
    given = {"d_x": d_x, "f": bead.depth, "r": r}
    if formula.FLANK_LENGTH.outside(**given):
        raise InputError(
            f"the bends of {bead} do not fit into its flanks in {mm(t):g} sheet; take a smaller radius or a wider bead",
            field="bead",
        )
    flank = float(formula.FLANK_LENGTH(**given))
    slope = float(formula.FLANK_SLOPE(**given, l=flank))
    if slope > pi / 2:
        raise InputError(
            f"the flanks of {bead} would lean over in {mm(t):g} sheet; take a smaller radius or a wider bead",
            field="bead",
        )
    return Shape(slope, r, flank, r, bead.flat / 2)


@dataclass(frozen=True, slots=True)
class Strip:
    """One pitch of a beaded sheet.

    Per width where so named: `I_along` mm⁴/mm, `W_top`, `W_bottom` mm³/mm, `developed` (length over
    pitch, 1).  `centroid` is above the mid-line of the flat, `strain` the mean strain of the bead when
    no metal draws in.  The rest are sums over one pitch that the stiffnesses need.
    """

    bead: Bead
    t: float
    shape: Shape
    length: float  # developed length of one pitch, mm
    bead_length: float
    centroid: float
    I_along: float
    W_top: float
    W_bottom: float
    strain: float
    second: float  # mid-line second moment about the flat, mm³
    line_centroid: float  # centroid of the mid-line, mm
    level_length: float  # length weighted with cos² of the slope, mm

    @property
    def developed(self) -> float:
        """Developed length over pitch, also area and mass over those of the flat sheet."""
        return self.length / self.bead.pitch

    @property
    def gap(self) -> float:
        """Width of the flat between two beads [mm]."""
        return self.bead.pitch - self.bead.width

    @property
    def W_along(self) -> float:
        """The lesser section modulus per width [mm³/mm]."""
        return min(self.W_top, self.W_bottom)

    @property
    def stiffness_ratio(self) -> float:
        """Second moment of area against flat sheet of the same thickness."""
        return float(formula.STIFFNESS_RATIO(I=self.I_along, t=self.t))

    @property
    def equal_mass_thickness(self) -> float:
        """Thickness of the flat sheet of the same mass [mm]."""
        return float(formula.EQUAL_MASS_THICKNESS(t=self.t, L=self.length, p=self.bead.pitch))

    @property
    def stiffness_ratio_equal_mass(self) -> float:
        """Second moment of area against flat sheet of the same mass."""
        return float(formula.STIFFNESS_RATIO(I=self.I_along, t=self.equal_mass_thickness))

    def mass_per_area(self, rho: float) -> float:
        """Mass per projected area [t/mm²] for a density [t/mm³]."""
        return float(formula.MASS_PER_AREA(rho=rho, t=self.t, L=self.length, p=self.bead.pitch))


def section(bead: Bead, t: float) -> Strip:
    """Section properties of one pitch of beaded sheet of thickness t [mm]; raises InputError as `shape` does."""
    s = shape(bead, t)
    gap = bead.pitch - bead.width
    # half a bead: (length, first, second moment of the mid-line about the flat; cos²-length; thickness terms)
    rows: list[tuple[float, float, float, float, float, float]] = [
        _arc(s.root, s.slope, z_c=s.root, side=-1.0),
        _flank(s),
        _arc(s.crown, s.slope, z_c=bead.depth - s.crown, side=1.0),
        (s.level, s.level * bead.depth, s.level * bead.depth**2, s.level, 0.0, s.level),
    ]
    half, S_1, S_2, c_2, T_1, T_2 = (2 * sum(column) for column in zip(*rows))
    length, c_2, T_2 = half + gap, c_2 + gap, T_2 + gap
    centroid = float(formula.CENTROID_HEIGHT(S_1=S_1, T_1=T_1, L=length, t=t))
    I_along = float(formula.INERTIA_ALONG(S_2=S_2, T_2=T_2, L=length, z_s=centroid, t=t, p=bead.pitch))
    return Strip(
        bead=bead,
        t=t,
        shape=s,
        length=length,
        bead_length=half,
        centroid=centroid,
        I_along=I_along,
        W_top=float(formula.MODULUS_ALONG(I=I_along, e_1=bead.depth + t / 2 - centroid)),
        W_bottom=float(formula.MODULUS_ALONG(I=I_along, e_1=centroid + t / 2)),
        strain=float(formula.BEAD_STRAIN(L_b=half, b=bead.width)),
        second=S_2,
        line_centroid=S_1 / length,
        level_length=c_2,
    )


def _arc(R: float, alpha: float, *, z_c: float, side: float) -> tuple[float, float, float, float, float, float]:
    at = {"R": R, "alpha": alpha, "z_c": z_c, "s": side}
    if R == 0:
        return (0.0,) * 6
    return (
        R * alpha,
        float(formula.ARC_FIRST_MOMENT(**at)),
        float(formula.ARC_SECOND_MOMENT(**at)),
        float(formula.ARC_COSINE_LENGTH(R=R, alpha=alpha)),
        side * sin(alpha),
        float(formula.ARC_THICKNESS_SECOND(**at)),
    )


def _flank(s: Shape) -> tuple[float, float, float, float, float, float]:
    z_m = s.root * (1 - cos(s.slope)) + s.flank * sin(s.slope) / 2
    level = s.flank * cos(s.slope) ** 2
    second = float(formula.FLANK_SECOND_MOMENT(l=s.flank, z_m=z_m, alpha=s.slope))
    return (s.flank, s.flank * z_m, second, level, 0.0, level)


def flank_angle(bead: Bead, t: float) -> float:
    """Steepest slope of the bead against the sheet [degrees]."""
    return shape(bead, t).slope * 180 / pi


def path(bead: Bead, t: float, steps: int = 24) -> list[tuple[float, float]]:
    """Mid-line of one pitch as points (across, up) [mm] from -pitch/2 to pitch/2, for drawing and checking."""
    s = shape(bead, t)
    foot = bead.width / 2
    right = [(bead.pitch / 2, 0.0), (foot, 0.0)]
    turns = [s.slope * k / steps for k in range(steps + 1)]
    if s.root > 0:
        right += [(foot - s.root * sin(a), s.root * (1 - cos(a))) for a in turns]
    if s.crown > 0:
        centre = bead.depth - s.crown
        right += [(s.level + s.crown * sin(a), centre + s.crown * cos(a)) for a in reversed(turns)]
    else:
        right.append((s.level, bead.depth))
    points = [(-x, z) for x, z in right] + right[::-1]
    near = 1e-9 * bead.pitch  # points that fall together would turn the line about
    kept = points[:1]
    kept += [b for a, b in pairwise(points) if hypot(b[0] - a[0], b[1] - a[1]) > near]
    return kept


# --- the sheet as a plate ------------------------------------------------------------------------------------


def middles(bead: Bead | None, side: float) -> tuple[float, ...]:
    """Middles of beads that lie across a side, from its end [mm]."""
    if bead is None:
        return ()
    count = max(1, floor((side - 2 * bead.width) / bead.pitch + 1e-9) + 1)
    first = (side - (count - 1) * bead.pitch) / 2
    return tuple(first + k * bead.pitch for k in range(count))


def rigidity(strip: Strip, E: float, nu: float) -> Rigidity:
    """Bending rigidities of the beaded sheet [N·mm], x along the beads.

    The small terms go with the developed length over the pitch, usually a few per cent (Seydel, Xia).
    """
    D_x = float(formula.RIGIDITY_ALONG(E=E, I=strip.I_along))
    pitch = {"E": E, "t": strip.t, "nu": nu, "p": strip.bead.pitch, "L": strip.length}
    return Rigidity(
        D_x,
        float(formula.RIGIDITY_ACROSS(**pitch)),
        float(formula.RIGIDITY_COUPLING(**pitch)),
        float(formula.RIGIDITY_TWISTING(**pitch)),
    )


def membrane(strip: Strip, E: float, nu: float) -> Membrane:
    """Stretching stiffnesses of the beaded sheet [N/mm], x along the beads (our derivation)."""
    pitch = {"E": E, "t": strip.t, "p": strip.bead.pitch, "L": strip.length}
    return Membrane(
        float(formula.STRETCH_ALONG(**pitch)),
        float(
            formula.STRETCH_ACROSS(**pitch, nu=nu, S_2=strip.second, z_l=strip.line_centroid, c_2=strip.level_length)
        ),
        float(formula.SHEAR_IN_PLANE(**pitch, nu=nu)),
        nu,
    )


# --- can it be pressed? ----------------------------------------------------------------------------------------


class Forming(NamedTuple):
    """Whether the sheet can stand the bead: fails, marginal or fine, and why."""

    verdict: Literal["fails", "marginal", "fine"]
    why: str
    used: float  # strain over elongation


MARGINAL_FROM = 0.5
"""Part of the elongation from which a bead is marginal."""


@dataclass(frozen=True, slots=True)
class Making:
    """How a bead strains its sheet: `held` stretched in place, else drawn in from both sides; strains as parts of 1.

    `ramp` [mm] is the length of the run-out, 0 where the beads run through; `radius` [mm] the inside radius of the
    tightest bend that is known, one thickness for corners of a trapezoid or vee that nothing is said of.
    """

    strip: Strip
    held: bool
    ramp: float

    @property
    def drawn(self) -> float | None:
        """Strain at the faces of an arc's crown with nothing stretched across; None where the bends are sharp."""
        s = self.strip
        return float(formula.FACE_STRAIN(t=s.t, R_m=s.shape.crown)) if s.bead.family == "arc" else None

    @property
    def across(self) -> float | None:
        """Strain across the bead, as it is made; None where only its bends strain it."""
        return self.strip.strain if self.held else self.drawn

    @property
    def held_run_out(self) -> float | None:
        """Growth in area at the top of the run-out, stretched in place; None without a run-out."""
        s = self.strip
        if not self.ramp:
            return None
        return float(formula.RUN_OUT_STRAIN(L_b=s.bead_length, b=s.bead.width, f=s.bead.depth, x_r=self.ramp))

    @property
    def run_out(self) -> float | None:
        """Strain at the run-out, as the bead is made: the worse of crown and sheet beside it when drawn in."""
        if self.held or not self.ramp:
            return self.held_run_out
        s = self.strip
        crown = float(formula.CROWN_STRAIN(f=s.bead.depth, x_r=self.ramp))
        return max(crown, float(formula.DRAWN_SHEAR_STRAIN(L_b=s.bead_length, b=s.bead.width, x_r=self.ramp)))

    @property
    def radius_taken(self) -> bool:
        """Whether the radius is taken and not said."""
        return self.strip.bead.family != "arc" and self.strip.bead.radius is None

    @property
    def radius(self) -> float:
        """Inside radius of the tightest bend that is known [mm]."""
        s = self.strip
        known = [] if s.bead.radius is None else [s.bead.radius]
        if s.bead.family == "arc":
            known.append(s.shape.crown - s.t / 2)
        return min(known, default=s.t)


def forming(strain: float, elongation: float, what: str = "mean strain") -> Forming:
    """Judge a strain of a bead, `what` in words, against the elongation after fracture (both as 0.28 for 28 %).

    fails from the whole elongation on: even strain spread evenly would tear the sheet.  marginal from
    half of it: over the crown and the root the strain is about twice its mean when friction holds the
    metal (common practice, no source), so the worst place has used the elongation up.  fine below.
    Raises InputError for an elongation that is not between 0 and 1.
    """
    if not 0 < elongation < 1:
        raise InputError(f"the elongation must lie between 0 and 100 %, got {100 * elongation:g} %", field="elongation")
    used = strain / elongation
    said = f"{what} {100 * strain:.1f} % is {100 * used:.0f} % of the elongation of {100 * elongation:.0f} %"
    if used >= 1:
        return Forming("fails", f"{said}: the sheet tears unless metal can draw in", used)
    if used >= MARGINAL_FROM:
        return Forming("marginal", f"{said}: the crown may neck; let metal draw in, or take a shallower bead", used)
    return Forming("fine", said, used)
