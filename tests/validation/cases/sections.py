"""Section properties against printed section tables and classic constants."""

from __future__ import annotations

from functools import partial

import numpy as np

from jointcalc.section.families.channel import LippedChannel
from jointcalc.section.families.hat import Hat
from jointcalc.section.families.tube import Bar, RectTube, Tube

from ..case import Case  # noqa: TID252  (a package under pytest and under -m alike)

KIND = "section"
EN_10219 = "Published EN 10219 section table"
RHS = [
    (40, 20, 2.0, "2.14 4.05 1.34 3.45"),
    (40, 20, 3.0, "3.01 5.21 1.68 4.57"),
    (40, 30, 2.0, "2.54 5.49 3.51 7.07"),
    (50, 30, 2.0, "2.94 9.54 4.29 9.77"),
    (50, 30, 2.5, "3.59 11.30 5.05 11.74"),
    (50, 30, 3.0, "4.21 12.83 5.70 13.53"),
    (60, 40, 2.0, "3.74 18.41 9.83 20.70"),
]
CHS = [
    (33.7, 2.0, "1.99 2.51 1.49 2.01"),
    (42.4, 2.0, "2.54 5.19 2.45 3.27"),
    (42.4, 2.5, "3.13 6.26 2.95 3.99"),
    (48.3, 3.0, "4.27 11.0 4.55 6.17"),
]


def rhs(h: float, b: float, t: float) -> tuple[float, ...]:
    p = RectTube(depth=float(h), width=float(b), t=t).properties()
    return p.area[0] / 100, p.I_y[0] / 1e4, p.I_z[0] / 1e4, p.J[0] / 1e4


def rhs_moduli() -> tuple[float, ...]:
    p = RectTube(depth=50.0, width=30.0, t=2.0).properties()
    return (
        p.W_y_top[0] / 1e3, p.W_z_left[0] / 1e3, p.W_pl_y[0] / 1e3, p.W_pl_z[0] / 1e3, p.mass_per_metre[0],
    )  # fmt: skip


def chs(od: float, t: float) -> tuple[float, ...]:
    p = Tube(od=od, t=t).properties()
    return p.area[0] / 100, p.I_y[0] / 1e4, p.W_y_top[0] / 1e3, p.W_pl_y[0] / 1e3


def torsion(ratio: float) -> float:
    return float(Bar(depth=4.0 * ratio, width=4.0).properties().J[0]) / (4.0 * ratio * 64)


def hancock() -> tuple[float, ...]:
    """Ex. 4.6.2, in inches: bend radius and length on the mid-line, centroid of the bend, flat of the web, h/t."""
    t, inside = 0.060, 0.125
    hat = Hat(top=9.0, depth=4.0, flange=3.0 - t, t=t, r=inside)
    outline = hat.outline()
    i = outline.index("left crown bend")
    curve = outline.polyline(i, points=2001)
    middle, ds = (curve[1:] + curve[:-1]) / 2, np.hypot(*np.diff(curve, axis=0).T)
    out = float((middle[:, 1] * ds).sum() / ds.sum()) - (4.0 - t - inside)
    web = float(hat.flats_and_bends().flat("left web").length[0])
    return float(outline.radius[i][0]), float(hat.properties()._lengths[i][0]), out, web, web / t


def sx022a() -> tuple[float, ...]:
    t = 1.96
    p = LippedChannel(web=198 + t, flange=72 + t, bottom=64 + t, lip=19.8 + t / 2, t=t, r=3.0).properties(sharp=True)
    return float(p.area[0]), 198 + 0.98 - float(p.z_centroid[0])


def hat_shear_centre() -> float:
    a, b, c, t = 38.8, 28.8, 20.6, 1.2
    p = Hat(top=a + t, depth=b + t, flange=c - t / 2, t=t, r=2.0).properties(sharp=True)
    return float(p.z_shear_centre[0]) - (b + t / 2)


CASES: list[Case] = [
    *(Case(KIND, f"RHS {h} × {b} × {t:g}: A, I_x, I_y, I_t", EN_10219, "read", printed, "cm², cm⁴",
           partial(rhs, h, b, t)) for h, b, t, printed in RHS),
    Case(KIND, "RHS 50 × 30 × 2: W_el, W_pl about both axes, mass", EN_10219, "read", "3.81 2.86 4.74 3.33 2.31",
         "cm³, kg/m", rhs_moduli),
    *(Case(KIND, f"CHS {od:g} × {t:g}: A, I, W_el, W_pl", "Published table of cold-formed tubes", "read", printed,
           "cm², cm⁴, cm³", partial(chs, od, t)) for od, t, printed in CHS),
    Case(KIND, "torsion of a rectangle, J = k h b³, h/b = 1, 1.5, 2, 3, 4, 6, 8", "Published torsion table", "read",
         "0.141 0.196 0.229 0.263 0.281 0.298 0.307", "1",
         lambda: tuple(torsion(r) for r in (1.0, 1.5, 2.0, 3.0, 4.0, 6.0, 8.0)), units=0.8,
         why="the closed formula used here is within 0.3 % of the series behind the table"),
    Case(KIND, "hat of 9 × 4 × 0.060 in: bend r, u, c, web flat, h/t",
         "Hancock, Murray and Ellifritt, Cold-Formed Steel Structures, ex. 4.6.2", "read", "0.155 0.243 0.099 3.63 60.5",
         "in, 1", hancock),
    Case(KIND, "lipped channel 200 × 74/66 × 20.8 × 1.96: gross A, centroid", "Access Steel SX022a-EN-EU", "read",
         "732 96.88", "mm², mm", sx022a),
    Case(KIND, "shear centre of a hat a 38.8, b 28.8, c 20.6", "Roark's formula from memory, independent script",
         "computed", "9.183", "mm", hat_shear_centre),
]  # fmt: skip
