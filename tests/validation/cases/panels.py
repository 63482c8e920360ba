"""Flat and beaded panels."""

from __future__ import annotations

from functools import cache, partial
from math import pi, sqrt

import numpy as np

from jointcalc.formula import bead as bead_formulas
from jointcalc.formula import plate as f
from jointcalc.formula import plate_ultimate as ultimate
from jointcalc.statics.bead import Bead, Strip, membrane, rigidity, section
from jointcalc.statics.plate import (
    Patch,
    _central_beta,
    central_load_stress,
    flat,
    frequency_1,
    membrane_stiffened,
    solve,
)

from ..case import Case  # noqa: TID252  (a package under pytest and under -m alike)

PLATE, BEAD = "plate", "beaded sheet"
E, NU, B = 210000.0, 0.3, 100.0
FLAT, _ = flat(E, NU, 1.0)
D = float(FLAT.D_x)
ROARK = "Roark's Formulas for Stress and Strain, 7th ed., Table 11.4"
TIMOSHENKO = "Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells"
ROARK_1 = {
    1.0: "0.2874 0.0444 0.1267", 1.2: "0.3762 0.0616 0.1478", 1.4: "0.4530 0.0770 0.1621", 1.6: "0.5172 0.0906 0.1715",
    1.8: "0.5688 0.1017 0.1770", 2.0: "0.6102 0.1110 0.1805",
}  # fmt: skip
ROARK_LONG = {3.0: "0.7134 0.1335", 4.0: "0.7410 0.1400", 5.0: "0.7476 0.1417"}
TABLE_T = [
    ("simple", 1.0, "0.00406 0.01160"), ("simple", 1.2, "0.00564 0.01353"), ("simple", 1.4, "0.00705 0.01484"),
    ("simple", 1.6, "0.00830 0.01570"), ("simple", 1.8, "0.00931 0.01620"), ("simple", 2.0, "0.01013 0.01651"),
    # the clamped rows between these are held in tests/statics/plate, where they have the time
    ("clamped", 1.0, "0.00126 0.00560"), ("clamped", 1.4, "0.00207 0.00691"), ("clamped", 2.0, "0.00254 0.00722"),
]  # fmt: skip
BELOW = "the printed tables lie up to 0.5 % below the converged series"


def roark(ratio: float) -> tuple[float, ...]:
    """β and α of a uniform load, α of a central load."""
    a, q = ratio * B, 1e-3
    plate = solve(a, B, FLAT, "simple", pressure=q)
    _, M_y, _ = plate.moments(np.array([a / 2]), np.array([B / 2]))
    point = solve(a, B, FLAT, "simple", patches=[Patch(1.0, a / 2, B / 2)])
    return (
        float(f.FLAT_STRESS(M=float(M_y[0, 0]), t=1.0)) / (q * B**2),
        float(plate.deflection(a / 2, B / 2)) * E / (q * B**4),
        float(point.deflection(a / 2, B / 2)) * E / B**2,
    )


def roark_long(ratio: float) -> tuple[float, ...]:
    a = ratio * B
    plate = solve(a, B, FLAT, "simple", pressure=1e-3)
    _, M_y, _ = plate.moments(np.array([a / 2]), np.array([B / 2]))
    return 6 * float(M_y[0, 0]) / (1e-3 * B**2), float(plate.deflection(a / 2, B / 2)) * E / (1e-3 * B**4)


def central(ratio: float, edges: str) -> float:
    """β of the stress under a small circle, solved back from the stress."""
    _central_beta.cache_clear()  # a remembered β would hide the formulas behind it
    sigma = central_load_stress(ratio * B, B, 1.0, NU, 1.0, 2.0, edges)  # type: ignore[arg-type]
    return sigma * 2 * pi / 3 - (1 + NU) * float(np.log(2 * B / (pi * 2.0)))


def timoshenko(edges: str, ratio: float) -> tuple[float, ...]:
    a = ratio * B
    uniform = solve(a, B, FLAT, edges, pressure=1e-3)  # type: ignore[arg-type]
    point = solve(a, B, FLAT, edges, patches=[Patch(1.0, a / 2, B / 2)])  # type: ignore[arg-type]
    return (
        float(uniform.deflection(a / 2, B / 2)) * D / (1e-3 * B**4), float(point.deflection(a / 2, B / 2)) * D / B**2,
    )  # fmt: skip


def moments(edges: str) -> tuple[float, ...]:
    """At b/a = 1.5 in q a²: centre across and along; for clamped edges the middle of the long and of the short edge."""
    a, q = 1.5 * B, 1e-3
    x, y = np.array([0.0, a / 2]), np.array([0.0, B / 2])
    M_x, M_y, _ = solve(a, B, FLAT, edges, pressure=q).moments(x, y)  # type: ignore[arg-type]
    centre = (M_y[1, 1], M_x[1, 1])
    edge = (M_y[1, 0], M_x[0, 1]) if edges == "clamped" else ()
    return tuple(float(v) / (q * B**2) for v in (*centre, *edge))


@cache
def clamped(a: float) -> float:
    """First frequency of a clamped plate a × 100 × 1 mm."""
    return float(frequency_1(a, 100.0, FLAT, "clamped", 7.85e-9))


def leissa(a: float, referred: float) -> float:
    return clamped(a) * 2 * pi * referred**2 * sqrt(7.85e-9 / D)


def two_edges() -> tuple[float, ...]:
    plate = solve(B, B, FLAT, ("simple", "clamped"), pressure=1e-3)
    lamda = float(frequency_1(B, B, FLAT, ("simple", "clamped"), 1.0)) * 2 * pi * B**2 / sqrt(D)
    return float(plate.deflection(B / 2, B / 2)) * D / (1e-3 * B**4), lamda


def corner() -> float:
    _, _, M_xy = solve(B, B, FLAT, "simple", pressure=1e-3).moments(np.array([0.0]), np.array([0.0]))
    return 2 * abs(float(M_xy[0, 0])) / (1e-3 * B**2)


def levy(edges: str, nu: float, held: bool, *Q: float) -> tuple[float, ...]:
    rigidity, membrane = flat(1.0, nu, 1.0)
    unit = float(solve(B, B, rigidity, edges, pressure=1.0).deflection(B / 2, B / 2))  # type: ignore[arg-type]
    found = []
    for load in Q:
        q = load / B**4
        found.append(float(membrane_stiffened(B, B, membrane, edges, q * unit, pressure=q, held=held)))  # type: ignore[arg-type]
    return tuple(found)


def simple_frequency() -> tuple[float, ...]:
    """λ = π²(1 + a²/b²) of a simple plate, a/b = 1, 1.5, 2, by the formula and by the plate solver."""
    found = []
    for ratio in (1.0, 1.5, 2.0):
        mu = 7.85e-9
        closed = float(f.FREQUENCY_SIMPLE(a=ratio * B, b=B, mu=mu, **FLAT._asdict()))
        assert abs(frequency_1(ratio * B, B, FLAT, "simple", mu) / closed - 1) < 1e-9
        found.append(closed * 2 * pi * (ratio * B) ** 2 * sqrt(mu / D))
    return tuple(found)


ARC = ("arc", 6.0, 25.0)


def easley() -> tuple[float, ...]:
    strip = section(Bead(*ARC, 75.0), 1.0)
    D_x = bead_formulas.RIGIDITY_ALONG(E=E, I=5.125)
    D_y = bead_formulas.RIGIDITY_ACROSS(E=E, t=1.0, nu=NU, p=75.0, L=strip.length)
    return (float(f.ORTHOTROPIC_SHEAR_SIMPLE(D_x=D_x, D_y=D_y, h=400.0)),
            float(f.ORTHOTROPIC_SHEAR_CLAMPED(D_x=D_x, D_y=D_y, h=400.0)))  # fmt: skip


def beads() -> tuple[float, ...]:
    strips = [
        section(Bead(*ARC, 75.0, radius=2.5), 1.0), section(Bead(*ARC, 75.0), 1.0),
        section(Bead("trapezoid", 6.0, 25.0, 75.0, flat=10.0), 1.0), section(Bead("vee", 6.0, 25.0, 75.0), 1.0),
        section(Bead(*ARC, 50.0), 1.0), section(Bead(*ARC, 100.0), 1.0),
    ]  # fmt: skip
    return tuple(float(s.I_along) for s in strips)


def stretch() -> tuple[float, ...]:
    strip = section(Bead(*ARC, 75.0), 1.0)
    return float(strip.bead_length), float(strip.strain), float(strip.developed)


def xia() -> Strip:
    """Trapezoids of 45 degrees: half a pitch c 50.8, half a depth 12.7, t 6.35 mm."""
    return section(Bead("trapezoid", 25.4, 76.2, 101.6, flat=25.4), 6.35)


def xia_rigidities() -> tuple[float, ...]:
    found = rigidity(xia(), 21000.0, NU)
    return found.D_y / 1e3, found.D_1 / 1e3, found.D_xy / 1e3


def xia_stretching() -> tuple[float, ...]:
    found = membrane(xia(), 21000.0, NU)
    return found.A_y / 1e3, found.A_x / 1e3, found.A_xy / 1e3


XIA = "Xia, Friswell and Saavedra Flores, Int. J. Solids Struct. 49 (2012), trapezoidal sheet"

CASES: list[Case] = [
    *(Case(PLATE, f"case 1a, 1b, a/b = {r:g}: β, α uniform; α central", ROARK, "read", printed, "1", partial(roark, r),
           relative=5e-3, why=BELOW) for r, printed in ROARK_1.items()),
    *(Case(PLATE, f"case 1a, a/b = {r:g}: β, α", ROARK, "read", printed, "1", partial(roark_long, r), relative=2.5e-3,
           why=BELOW) for r, printed in ROARK_LONG.items()),
    Case(PLATE, "case 1b, β under a small circle, a/b = 1, 1.2, 1.4, 1.6, 1.8, 2", ROARK, "read",
         "0.435 0.650 0.789 0.875 0.927 0.958", "1",
         lambda: tuple(central(r, "simple") for r in (1.0, 1.2, 1.4, 1.6, 1.8, 2.0)), units=2.0,
         why="solved back from the stress; the print is a rounded series"),
    Case(PLATE, "equivalent radius of a point and of a circle r_0 = t/2 (t = 2)", "Westergaard, as printed by Roark",
         "read", "0.65", "mm", lambda: f.EQUIVALENT_RADIUS(r_0=0.0, t=2.0)),
    *(Case(PLATE, f"{edges}, b/a = {r:g}: α uniform, α central point", TIMOSHENKO, "from memory", printed, "1",
           partial(timoshenko, edges, r), relative=0.01, why=BELOW) for edges, r, printed in TABLE_T),
    Case(PLATE, "moments at b/a = 1.5, simple: centre across, along", TIMOSHENKO, "from memory", "0.0812 0.0498", "q a²",
         lambda: moments("simple"), relative=0.01, why=BELOW),
    Case(PLATE, "moments at b/a = 1.5, clamped: centre across, along, long edge, short edge", TIMOSHENKO, "from memory",
         "0.0368 0.0203 -0.0757 -0.0570", "q a²", lambda: moments("clamped"), relative=0.01, why=BELOW),
    Case(PLATE, "square, two edges simple and two clamped: deflection, frequency", f"{TIMOSHENKO}; Leissa (1973)",
         "from memory", "0.00192 28.951", "1", two_edges),
    Case(PLATE, "corner reaction of a simple square, R/q a²", TIMOSHENKO, "from memory", "0.065", "1", corner),
    Case(PLATE, "flexural rigidity, 1 mm steel", "Worked by hand from E t³/(12 (1 − ν²))", "computed", "19230.8", "N·mm",
         lambda: f.FLEXURAL_RIGIDITY(E=E, t=1.0, nu=NU)),
    Case(PLATE, "clamped, first frequency: square, 1.5, 1.5 on the short side, 2.5", "Leissa, J. Sound Vib. 31 (1973)",
         "from memory", "35.99 60.77 27.01 147.8", "λ",
         lambda: (leissa(100.0, 100.0), leissa(150.0, 150.0), leissa(150.0, 100.0), leissa(250.0, 250.0)), relative=3e-4,
         why="Leissa's values are upper bounds of a shorter series"),
    Case(PLATE, "simple, first frequency, a/b = 1, 1.5, 2", "Leissa, J. Sound Vib. 31 (1973)", "from memory",
         "19.739 32.076 49.348", "λ", simple_frequency),
    Case(PLATE, "simple square beyond half the thickness, pa⁴/Et⁴ = 12.1, 56.9, 161, 497", "Levy, NACA TR 737",
         "from memory", "0.486 1.424 2.307 3.600", "w/t",
         lambda: levy("simple", sqrt(0.1), False, 12.1, 56.9, 161.0, 497.0), relative=0.06,
         why="the package's one-term estimate lies 1 to 6 % high, and says so"),
    Case(PLATE, "clamped square, edges held, pa⁴/Et⁴ = 17.79 to 402", "Levy, NACA TN 847", "from memory",
         "0.237 0.471 0.695 0.912 1.121 1.323 1.521 1.714 1.902", "w/t",
         lambda: levy("clamped", 0.316, True, 17.79, 38.3, 63.4, 95.0, 134.9, 184.0, 245.0, 318.0, 402.0), relative=0.02,
         why="one-term estimate"),
    Case(PLATE, "shear buckling of a square and of a long plate, simple", "Timoshenko and Gere, Theory of Elastic Stability",
         "from memory", "9.34 5.34", "k",
         lambda: (f.SHEAR_COEFFICIENT_SIMPLE(a=1.0, b=1.0), f.SHEAR_COEFFICIENT_SIMPLE(a=1e9, b=1.0))),
    Case(PLATE, "the same, clamped", "Timoshenko and Gere, Theory of Elastic Stability", "from memory", "14.58 8.98", "k",
         lambda: (f.SHEAR_COEFFICIENT_CLAMPED(a=1.0, b=1.0), f.SHEAR_COEFFICIENT_CLAMPED(a=1e9, b=1.0))),
    Case(PLATE, "thrust on a plate, simple: a/b = 1, √2, 2 with one half wave", "Timoshenko and Gere, Theory of Elastic Stability",
         "from memory", "4.00 4.50 6.25", "k",
         lambda: tuple(ultimate.COMPRESSION_COEFFICIENT(m=1, a=r, b=1.0) for r in (1.0, sqrt(2), 2.0))),
    Case(PLATE, "buckling of a plate 50 wide, t 1, k 4 and 5.34", "Worked by hand", "computed", "303.68 405.41", "MPa",
         lambda: (f.PLATE_BUCKLING_STRESS(k=4.0, E=E, nu=NU, t=1.0, b=50.0),
                  f.FLAT_BETWEEN_BEADS_SHEAR(E=E, nu=NU, t=1.0, w_flat=50.0))),
    Case(BEAD, "I of 25 × 6 beads, t 1: arc with root 3, sharp arc, trapezoid, vee, pitch 50, pitch 100",
         "independent script on the outline", "computed", "4.812 5.125 5.642 3.343 6.131 4.257", "mm³", beads,
         relative=4e-3, why="sharp corners differ by their overlap"),
    Case(BEAD, "c 50.8, f 12.7, t 6.35, E 21 GPa: D_y, D_1, D_xy", XIA, "second-hand", "407.917 122.375 208.032", "N·m",
         xia_rigidities, units=1.0, why="208.0326 is printed 208.032"),
    Case(BEAD, "the same: A_y, A_x, A_xy", XIA, "second-hand", "4.052 161.332 42.489", "MN/m", xia_stretching,
         relative=3e-3, why="the print holds the stretch across back (1 − ν² and ν A_12), ours lets it go"),
    Case(BEAD, "the same: D_x", XIA, "second-hand", "17809", "N·m",
         lambda: rigidity(xia(), 21000.0, NU).D_x / (1 - NU**2) / 1e3,
         why="the print's stiffness of the stretched flats is over 1 − ν², divided out here: ours is 9.0 % lower, 16206"),
    Case(BEAD, "arc 25 × 6: developed length, strain, length over pitch 75", "independent script", "computed",
         "28.679 0.147 1.0490", "mm, 1", stretch),
    Case(BEAD, "shear buckling of a field, beads along 400: simple, clamped", "Easley (1975), independent script",
         "computed", "87.5 166", "N/mm", easley, units=1.0, why="worked with rounded rigidities"),
]  # fmt: skip
