"""Elastic distortional buckling in closed form, apart from the package's finite strips.

AISI S100-16 Appendix 2, 2.3.1.3 and 2.3.3.3, from memory: C and Z sections whose flanges carry a simple lip at a right
angle.  The parts of the web follow from the bending of the web as a strip of plate (columns: both ends turned alike, a
parabola), which the tests repeat.  Symbols as there: `b` and `d` mid-line widths of flange and lip, `h_o` overall depth,
`xi` the stress gradient of the web (0 uniform, 2 pure bending); N, mm, MPa.
"""

from __future__ import annotations

from typing import Any

import numpy as np

Value = Any


def flange_area(*, b: Value, d: Value, t: Value) -> Value:
    """Area [mm^2] of flange and lip.  AISI S100-16 Appendix 2."""
    return (b + d) * t


def flange_torsion(*, b: Value, d: Value, t: Value) -> Value:
    """Torsion constant [mm^4] of flange and lip.  AISI S100-16 Appendix 2."""
    return (b * t**3 + d * t**3) / 3


def flange_second_moment_x(*, b: Value, d: Value, t: Value) -> Value:
    """Second moment [mm^4] of flange and lip about the axis along the flange.  AISI S100-16 Appendix 2."""
    return t * (t**2 * b**2 + 4 * b * d**3 + t**2 * b * d + d**4) / (12 * (b + d))


def flange_second_moment_y(*, b: Value, d: Value, t: Value) -> Value:
    """Second moment [mm^4] of flange and lip about the axis along the web.  AISI S100-16 Appendix 2."""
    return t * (b**4 + 4 * d * b**3) / (12 * (b + d))


def flange_product(*, b: Value, d: Value, t: Value) -> Value:
    """Product of inertia [mm^4] of flange and lip.  AISI S100-16 Appendix 2."""
    return t * b**2 * d**2 / (4 * (b + d))


def flange_shear_centre_x(*, b: Value, d: Value) -> Value:
    """Distance [mm] along the flange from its centroid to its shear centre.  AISI S100-16 Appendix 2."""
    return b**2 / (2 * (b + d))


def flange_web_x(*, b: Value, d: Value) -> Value:
    """Distance [mm] along the flange from its centroid to the web, negative.  AISI S100-16 Appendix 2."""
    return -(b**2 + 2 * d * b) / (2 * (b + d))


def flange_shear_centre_y(*, b: Value, d: Value) -> Value:
    """Distance [mm] along the web from the flange's centroid to its shear centre.  AISI S100-16 Appendix 2."""
    return -(d**2) / (2 * (b + d))


def distortional_length_column(
    *, h_o: Value, mu: Value, t: Value, I_xf: Value, I_yf: Value, I_xyf: Value, x_of: Value, h_xf: Value
) -> Value:
    """Half-wavelength [mm] of distortional buckling in compression.  AISI S100-16 Appendix 2, 2.3.1.3."""
    C = (I_xf - I_xyf**2 / I_yf) * (x_of - h_xf) ** 2
    return (6 * np.pi**4 * h_o * (1 - mu**2) / t**3 * C) ** 0.25


def distortional_length_beam(
    *, h_o: Value, mu: Value, t: Value, I_xf: Value, I_yf: Value, I_xyf: Value, x_of: Value, h_xf: Value
) -> Value:
    """Half-wavelength [mm] of distortional buckling in bending.  AISI S100-16 Appendix 2, 2.3.3.3."""
    C = (I_xf - I_xyf**2 / I_yf) * (x_of - h_xf) ** 2
    return (4 * np.pi**4 * h_o * (1 - mu**2) / t**3 * C + np.pi**4 * h_o**4 / 720) ** 0.25


def flange_stiffness(
    *, L: Value, E: Value, G: Value, I_xf: Value, I_yf: Value, I_xyf: Value, x_of: Value, h_xf: Value, J_f: Value
) -> Value:
    """Elastic rotational stiffness [N] of the flange.  AISI S100-16 Appendix 2, 2.3.1.3 (a simple lip has no C_w)."""
    C = (I_xf - I_xyf**2 / I_yf) * (x_of - h_xf) ** 2
    return (np.pi / L) ** 4 * E * C + (np.pi / L) ** 2 * G * J_f


def flange_geometric(
    *, L: Value, A_f: Value, I_xf: Value, I_yf: Value, I_xyf: Value, x_of: Value, h_xf: Value, y_of: Value
) -> Value:
    """Geometric rotational stiffness [mm^2] of the flange per stress.  AISI S100-16 Appendix 2, 2.3.1.3."""
    r = (x_of - h_xf) * I_xyf / I_yf
    return (np.pi / L) ** 2 * (A_f * (r**2 - 2 * y_of * r + h_xf**2 + y_of**2) + I_xf + I_yf)


def web_stiffness_column(*, E: Value, t: Value, h_o: Value, mu: Value) -> Value:
    """Elastic rotational stiffness [N] of the web in compression.  AISI S100-16 Appendix 2, 2.3.1.3."""
    return E * t**3 / (6 * h_o * (1 - mu**2))


def web_geometric_column(*, L: Value, t: Value, h_o: Value) -> Value:
    """Geometric rotational stiffness [mm^2] of the web in compression.  AISI S100-16 Appendix 2, 2.3.1.3."""
    return (np.pi / L) ** 2 * t * h_o**3 / 60


def web_stiffness_beam(*, E: Value, t: Value, h_o: Value, mu: Value, L: Value) -> Value:
    """Elastic rotational stiffness [N] of the web in bending.  AISI S100-16 Appendix 2, 2.3.3.3."""
    return (
        E * t**3 / (12 * (1 - mu**2)) * (3 / h_o + (np.pi / L) ** 2 * 19 * h_o / 60 + (np.pi / L) ** 4 * h_o**3 / 240)
    )


def web_geometric_beam(*, L: Value, t: Value, h_o: Value, xi: Value) -> Value:
    """Geometric rotational stiffness [mm^2] of the web in bending.  AISI S100-16 Appendix 2, 2.3.3.3."""
    above = (
        (45360 * (1 - xi) + 62160) * (L / h_o) ** 2 + 448 * np.pi**2 + (h_o / L) ** 2 * (53 + 3 * (1 - xi)) * np.pi**4
    )
    below = np.pi**4 + 28 * np.pi**2 * (L / h_o) ** 2 + 420 * (L / h_o) ** 4
    return h_o * t * np.pi**2 / 13440 * above / below


def elastic_distortional_stress(
    *, beta: Value, k_fe: Value, k_we: Value, k_phi: Value, k_fg: Value, k_wg: Value
) -> Value:
    """Elastic distortional buckling stress [MPa]; `beta` is 1 in compression.  AISI S100-16 Appendix 2."""
    return beta * (k_fe + k_we + k_phi) / (k_fg + k_wg)


def closed_form_distortional(
    *, h_o: Value, b: Value, d: Value, t: Value, E: Value, mu: Value = 0.3, bending: bool, k_phi: Value = 0.0,
    most: Value = np.inf,
) -> tuple[Value, Value]:  # fmt: skip
    """(elastic distortional stress [MPa], half-wavelength [mm]) of a C or Z with lips, by the closed form.

    `b` and `d` are mid-line widths of flange and lip, `h_o` the overall depth; `bending` about the axis
    across the web (equal flanges), else compression; `most` [mm] the spacing of what prevents distortion.
    """
    given = {"b": b, "d": d}
    flange = {
        "I_xf": flange_second_moment_x(t=t, **given),
        "I_yf": flange_second_moment_y(t=t, **given),
        "I_xyf": flange_product(t=t, **given),
        "x_of": flange_shear_centre_x(**given),
        "h_xf": flange_web_x(**given),
    }
    length = distortional_length_beam if bending else distortional_length_column
    L = np.minimum(length(h_o=h_o, mu=mu, t=t, **flange), most)
    k_fe = flange_stiffness(L=L, E=E, G=E / (2 * (1 + mu)), J_f=flange_torsion(t=t, **given), **flange)
    k_fg = flange_geometric(L=L, A_f=flange_area(t=t, **given), y_of=flange_shear_centre_y(**given), **flange)
    if bending:
        k_we = web_stiffness_beam(E=E, t=t, h_o=h_o, mu=mu, L=L)
        k_wg = web_geometric_beam(L=L, t=t, h_o=h_o, xi=2.0)
    else:
        k_we, k_wg = web_stiffness_column(E=E, t=t, h_o=h_o, mu=mu), web_geometric_column(L=L, t=t, h_o=h_o)
    return elastic_distortional_stress(beta=1.0, k_fe=k_fe, k_we=k_we, k_phi=k_phi, k_fg=k_fg, k_wg=k_wg), L
