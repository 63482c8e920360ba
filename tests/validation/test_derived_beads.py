"""Beaded sheet and panels: the formulas against integrals, solids of the handbook and plate theory, one by one."""

from __future__ import annotations

from math import cos, pi, sin

import numpy as np
import pytest

from jointcalc.formula import bead as b
from jointcalc.formula import panel as p

R, ALPHA, Z_C = 11.0, 0.83, 2.4
E, NU, T = 210000.0, 0.3, 1.2


@pytest.mark.parametrize("s", [1.0, -1.0])
def test_moments_of_an_arc_by_quadrature(s: float) -> None:
    """Mid-line z = z_c ± R cos θ from the crown to the half angle, by scipy."""
    from scipy.integrate import quad

    def integral(power: int) -> float:
        return float(quad(lambda u: (Z_C + s * R * cos(u)) ** power * R, 0.0, ALPHA)[0])

    given = {"R": R, "alpha": ALPHA, "z_c": Z_C, "s": s}
    assert b.ARC_FIRST_MOMENT(**given) == pytest.approx(integral(1), rel=1e-10)
    assert b.ARC_SECOND_MOMENT(**given) == pytest.approx(integral(2), rel=1e-10)
    level = quad(lambda u: cos(u) ** 2 * R, 0.0, ALPHA)[0]
    assert b.ARC_COSINE_LENGTH(R=R, alpha=ALPHA) == pytest.approx(level, rel=1e-10)


@pytest.mark.parametrize("s", [1.0, -1.0])
def test_thickness_of_an_arc_by_double_quadrature(s: float) -> None:
    """The curved strip of thickness t as a solid: what goes beyond the mid-line is t³/12 of the formula."""
    from scipy.integrate import dblquad

    solid = dblquad(lambda n, u: (Z_C + s * (R + n) * cos(u)) ** 2 * (R + n), 0.0, ALPHA, -T / 2, T / 2)[0]
    given = {"R": R, "alpha": ALPHA, "z_c": Z_C, "s": s}
    line = T * b.ARC_SECOND_MOMENT(**given)
    assert T**3 / 12 * b.ARC_THICKNESS_SECOND(**given) == pytest.approx(solid - line, rel=1e-7)


def test_flank_between_two_bends_closes() -> None:
    """Bottom bend, straight flank, top bend laid end to end arrive at the top of the bead, level (geometry)."""
    d_x, f, r = 7.0, 6.0, 1.6
    l = b.FLANK_LENGTH(d_x=d_x, f=f, r=r)
    a = b.FLANK_SLOPE(d_x=d_x, f=f, r=r, l=l)
    x = 2 * r * sin(a) + l * cos(a)
    z = 2 * r * (1 - cos(a)) + l * sin(a)
    assert (x, z) == pytest.approx((d_x, f), rel=1e-12)


def test_second_moment_of_a_flank_by_quadrature() -> None:
    from scipy.integrate import quad

    l, z_m, a = 5.5, 3.1, 0.7
    exact = quad(lambda u: (z_m + u * sin(a)) ** 2, -l / 2, l / 2)[0]
    assert b.FLANK_SECOND_MOMENT(l=l, z_m=z_m, alpha=a) == pytest.approx(exact, rel=1e-12)


def test_half_round_beads_side_by_side_are_half_tubes() -> None:
    """Pitch 2 R, no flats: the half ring of the handbooks, π/8 (R_o⁴ − R_i⁴) and 4/3π (R_o³ − R_i³)/(R_o² − R_i²)."""
    outer, inner, pitch = R + T / 2, R - T / 2, 2 * R
    area = pi / 2 * (outer**2 - inner**2)
    height = 4 / (3 * pi) * (outer**3 - inner**3) / (outer**2 - inner**2)
    second = pi / 8 * (outer**4 - inner**4) - area * height**2
    half = {"R": R, "alpha": pi / 2, "z_c": 0.0, "s": 1.0}
    z_s = b.CENTROID_HEIGHT(S_1=2 * b.ARC_FIRST_MOMENT(**half), T_1=2.0, L=pi * R, t=T)
    assert z_s == pytest.approx(height, rel=1e-12)
    I = b.INERTIA_ALONG(
        S_2=2 * b.ARC_SECOND_MOMENT(**half), T_2=2 * b.ARC_THICKNESS_SECOND(**half), L=pi * R, z_s=z_s, t=T, p=pitch
    )
    assert pytest.approx(second / pitch, rel=1e-9) == I
    assert b.MODULUS_ALONG(I=I, e_1=outer - z_s) == pytest.approx(second / pitch / (outer - height), rel=1e-9)
    assert b.STIFFNESS_RATIO(I=I, t=T) == pytest.approx(second / (pitch * T**3 / 12), rel=1e-9)
    assert b.MASS_PER_AREA(rho=7.85e-9, t=T, L=pi * R, p=pitch) == pytest.approx(7.85e-9 * area / pitch, rel=1e-12)
    assert b.EQUAL_MASS_THICKNESS(t=T, L=pi * R, p=pitch) == pytest.approx(area / pitch, rel=1e-12)


def test_rigidities_of_a_sheet_with_no_beads_are_those_of_the_flat_plate() -> None:
    """Isotropic plate (Timoshenko): D across, ν D coupling, M_xy = D (1 − ν) w_xy = 2 D_xy w_xy."""
    D = E * T**3 / (12 * (1 - NU**2))
    flat = {"E": E, "t": T, "nu": NU, "p": 75.0, "L": 75.0}
    across = b.RIGIDITY_ACROSS(**flat)
    coupling, twisting = b.RIGIDITY_COUPLING(**flat), b.RIGIDITY_TWISTING(**flat)
    assert (across, coupling, 2 * twisting) == pytest.approx((D, NU * D, D * (1 - NU)), rel=1e-12)
    assert b.RIGIDITY_ALONG(E=E, I=T**3 / 12) == pytest.approx(D * (1 - NU**2), rel=1e-12)


def test_rigidity_across_is_that_of_the_unrolled_strip() -> None:
    """A moment turns the whole developed length: curvature over the pitch is M/D times L/p (statics of a curved strip)."""
    pitch, turned, moment = 2 * R, 0.0, 5.0
    D = E * T**3 / (12 * (1 - NU**2))
    u = np.linspace(0.0, pi, 4001)
    x, z = R * np.cos(u), R * np.sin(u)
    for ds in np.hypot(np.diff(x), np.diff(z)):
        turned += moment / D * float(ds)
    found = b.RIGIDITY_ACROSS(E=E, t=T, nu=NU, p=pitch, L=pi * R)
    assert found == pytest.approx(moment * pitch / turned, rel=1e-6)
    # coupling stays ν of it, and what is gained in length the twist gains
    assert b.RIGIDITY_COUPLING(E=E, t=T, nu=NU, p=pitch, L=pi * R) == pytest.approx(NU * found, rel=1e-12)
    twist = b.RIGIDITY_TWISTING(E=E, t=T, nu=NU, p=pitch, L=pi * R)
    assert twist == pytest.approx(D * (1 - NU) / 2 * pi / 2, rel=1e-12)


def test_stretch_of_a_half_round_sheet_by_castigliano() -> None:
    """Unit pull across: axial force cos θ, moment z about the arc-length centroid; energy summed over the mid-line."""
    pitch = 2 * R
    u = (np.arange(20000) + 0.5) * pi / 20000
    ds = pi * R / 20000
    z = R * np.sin(u)
    z_l = float(z.mean())
    stretched = float((np.sin(u) ** 2).sum() * ds / (E * T))
    bent = float(((z - z_l) ** 2).sum() * ds * 12 * (1 - NU**2) / (E * T**3))
    half = {"R": R, "alpha": pi / 2}
    found = b.STRETCH_ACROSS(
        E=E, t=T, nu=NU, p=pitch, L=pi * R, S_2=2 * b.ARC_SECOND_MOMENT(**half, z_c=0.0, s=1.0), z_l=2 * R / pi,
        c_2=2 * b.ARC_COSINE_LENGTH(**half),
    )  # fmt: skip
    assert found == pytest.approx(pitch / (stretched + bent), rel=1e-6)


def test_stretch_across_of_a_shallow_corrugation_is_its_level_length() -> None:
    """With no height to bend, what is left is the axial term: E t p over the length weighted with cos²."""
    found = b.STRETCH_ACROSS(E=E, t=T, nu=NU, p=75.0, L=76.0, S_2=0.0, z_l=0.0, c_2=74.2)
    assert found == pytest.approx(E * T * 75.0 / 74.2, rel=1e-12)


def test_stretch_along_and_shear_by_the_metal_there_is() -> None:
    """Along: every fibre of the developed length pulls. In shear: the flow runs the longer way round (statics)."""
    assert b.STRETCH_ALONG(E=E, t=T, p=2 * R, L=pi * R) == pytest.approx(E * T * pi / 2, rel=1e-12)
    G = E / (2 * (1 + NU))
    slide = pi * R / (G * T) / (2 * R)  # unit flow over the developed length, per pitch
    assert b.SHEAR_IN_PLANE(E=E, t=T, nu=NU, p=2 * R, L=pi * R) == pytest.approx(1 / slide, rel=1e-12)


# --- stresses of a panel -------------------------------------------------------------------------------------------


def test_stresses_of_a_bent_strip_give_the_moment_back() -> None:
    """σ = M z/I is linear and carries M: a flat strip by summation over its thickness (statics)."""
    t, moment = 2.0, 30.0
    z = (np.arange(20000) + 0.5) / 20000 * t - t / 2
    per_fibre = t / 20000
    edge = float(p.STRESS_ALONG(M_x=moment, W=t**2 / 6))
    assert float((edge * z / (t / 2) * z).sum() * per_fibre) == pytest.approx(moment, rel=1e-6)
    inside = np.array([p.STRESS_IN_FLATS(M_x=moment, z_s=float(v), I=t**3 / 12) for v in (-1.0, 0.0, 0.5, 1.0)])
    assert inside == pytest.approx(np.array([-1.0, 0.0, 0.5, 1.0]) * edge)
    shear = float(p.TWISTING_STRESS(M_xy=moment, t=t))
    assert float((shear * z / (t / 2) * z).sum() * per_fibre) == pytest.approx(moment, rel=1e-6)


def test_shear_yield_and_sum_of_squares_are_von_mises() -> None:
    """The comparison stress of the tensor, written out: pure shear, and a normal with a shear stress."""

    def mises(sigma: float, tau: float) -> float:
        s = np.array([[sigma, tau, 0.0], [tau, 0.0, 0.0], [0.0, 0.0, 0.0]])
        deviator = s - np.trace(s) / 3 * np.eye(3)
        return float(np.sqrt(1.5 * (deviator**2).sum()))

    f_y = 235.0
    tau_y = float(p.SHEAR_YIELD(f_y=f_y))
    assert mises(0.0, tau_y) == pytest.approx(f_y)
    sigma, tau = 110.0, float(p.SHEAR_STRESS(q=96.0, t=1.2))
    used = p.BENDING_WITH_SHEAR(u_1=sigma / f_y, u_2=tau / tau_y)
    assert used == pytest.approx((mises(sigma, 80.0) / f_y) ** 2)


def test_what_a_bead_does_to_its_sheet() -> None:
    """Area of a patch of a ramp whose section rises in proportion, by small triangles; sheet drawn in and sheared."""
    f, width, x_r = 6.0, 25.0, 20.0
    # across at full depth a half sine, along a straight ramp: the growth of the crown's patch is that of its two lengths
    y = np.linspace(0.0, width, 20001)
    line = np.hypot(np.diff(y), np.diff(f * np.sin(pi * y / width))).sum()
    slant = float(np.hypot(x_r, f))
    assert b.RUN_OUT_STRAIN(L_b=line, b=width, f=f, x_r=x_r) == pytest.approx(
        line * slant / (width * x_r) - 1, rel=1e-12
    )
    assert b.RUN_OUT_STRAIN(L_b=line, b=width, f=f, x_r=1e9) == pytest.approx(
        b.BEAD_STRAIN(L_b=line, b=width), rel=1e-9
    )
    assert b.CROWN_STRAIN(f=f, x_r=x_r) == pytest.approx(slant / x_r - 1, rel=1e-12)
    # a square beside the ramp, one side carried in by half of what is drawn in over x_r: the strain of its diagonal
    in_one = (line - width) / 2
    tensor = np.array([[0.0, in_one / x_r / 2], [in_one / x_r / 2, 0.0]])
    assert b.DRAWN_SHEAR_STRAIN(L_b=line, b=width, x_r=x_r) == pytest.approx(np.linalg.eigvalsh(tensor)[-1], rel=1e-12)
    # a bend keeps its middle: arc of the outer face over arc of the middle
    assert b.FACE_STRAIN(t=T, R_m=R) == pytest.approx((R + T / 2) / R - 1, rel=1e-12)
    assert b.DRAW_IN(n=5, L_b=line, b=width) == pytest.approx(sum(line - width for _ in range(5)), rel=1e-12)


def test_beads_that_are_crossed_bend_piece_by_piece() -> None:
    """The turn of one pitch under an even moment, piece by piece along the sheet, over that of an even rigidity."""
    p, width, D_b, D = 90.0, 28.0, 7.5e5, 1.9e4
    # along the crown: the sheet follows the bead that crosses, half a sine, and is flat sheet there
    y = np.linspace(0.0, width, 20001)
    over = float(np.hypot(np.diff(y), np.diff(5.0 * np.sin(pi * y / width))).sum())
    ds = np.concatenate([np.full(1000, (p - width) / 1000), np.full(1000, over / 1000)])
    stiff = np.concatenate([np.full(1000, D_b), np.full(1000, D)])
    turn = float((ds / stiff).sum())
    assert b.RIGIDITY_CROSSED(D_b=D_b, D=D, p=p, b=width, L_b=over) == pytest.approx(p / turn, rel=1e-12)
