"""Rows that share a load: the shear lag of a bonded lap, bars and springs put together, and energy round a weld."""

from __future__ import annotations

from math import cosh, log, pi, sinh

import numpy as np
import pytest

from jointcalc.formula import bolts_en1993
from jointcalc.formula import row_sharing as rs

E, NU = 210e3, 0.3


def bars_and_springs(k: np.ndarray, gaps: np.ndarray, ea_1: float, ea_2: float, first: float) -> np.ndarray:
    """Shares by stiffness: every strip a row of bars, every fastener a spring between them, the whole matrix solved.

    The load 1 comes in at the first end of the one strip but for what strains them at the last: each strip is pushed
    at both its ends so that the forces in the strips there are those of `first`.
    """
    n = len(k)
    K = np.zeros((2 * n, 2 * n))

    def spring(i: int, j: int, s: float) -> None:
        K[np.ix_((i, j), (i, j))] += s * np.array([[1.0, -1.0], [-1.0, 1.0]])

    for i in range(n):
        spring(i, n + i, k[i])
    for i in range(n - 1):
        spring(i, i + 1, ea_1 / gaps[i])
        spring(n + i, n + i + 1, ea_2 / gaps[i])
    f = np.zeros(2 * n)
    f[0], f[n - 1] = first, 1.0 - first
    f[n], f[2 * n - 1] = -first, -(1.0 - first)
    u = np.linalg.lstsq(K, f, rcond=1e-13)[0]  # free to move as a whole
    return np.asarray(k * (u[:n] - u[n:]))


@pytest.mark.parametrize("first", [1.0, 0.5, 0.8])
@pytest.mark.parametrize("n", [2, 3, 7, 30])
def test_uniform_rows_against_bars_and_springs(n: int, first: float) -> None:
    """Sheets of 1 and 2 mm, 60 and 40 mm wide, at a pitch of 30 mm: closed form against the whole matrix."""
    C = 1 / 80e3
    g = rs.STRIP_GIVE(E_1=E, b_1=60.0, t_1=1.0, E_2=E, b_2=40.0, t_2=2.0)
    phi = rs.DECAY(p=30.0, g=g, C=C)
    ours = rs.SHARE(phi=phi, n=n, i=np.arange(1, n + 1), r=first)
    direct = bars_and_springs(np.full(n, 1 / C), np.full(n - 1, 30.0), E * 60, E * 80, first)
    assert ours == pytest.approx(direct, rel=1e-7)
    assert ours.sum() == pytest.approx(1.0)


def test_a_lap_pulled_through_splits_by_the_give_of_its_strips() -> None:
    """Pulled in at one end of the one strip, out at the other of the other: `first` is that strip's part of the give."""
    k, gaps, ea_1, ea_2, n = 50e3, 30.0, E * 30.0, E * 60.0, 4
    K = np.zeros((2 * n, 2 * n))
    for i in range(n):
        K[np.ix_((i, n + i), (i, n + i))] += k * np.array([[1.0, -1.0], [-1.0, 1.0]])
    for i in range(n - 1):
        for at, ea in ((i, ea_1), (n + i, ea_2)):
            K[np.ix_((at, at + 1), (at, at + 1))] += ea / gaps * np.array([[1.0, -1.0], [-1.0, 1.0]])
    f = np.zeros(2 * n)
    f[0], f[2 * n - 1] = 1.0, -1.0
    u = np.linalg.lstsq(K, f, rcond=1e-13)[0]
    g = rs.STRIP_GIVE(E_1=E, b_1=30.0, t_1=1.0, E_2=E, b_2=30.0, t_2=2.0)
    ours = rs.SHARE(phi=rs.DECAY(p=gaps, g=g, C=1 / k), n=n, i=np.arange(1, n + 1), r=1 / ea_1 / g)
    assert ours == pytest.approx(k * (u[:n] - u[n:]), rel=1e-7)
    # the strip of 1 mm is strained most where it comes in: 0.344, 0.229, 0.195, 0.232
    assert ours == pytest.approx([0.344, 0.229, 0.195, 0.232], abs=6e-4)


@pytest.mark.parametrize("first", [1.0, 0.5, 0.7])
def test_close_together_a_row_is_the_shear_lag_of_a_bonded_lap(first: float) -> None:
    """q(x) of two bars with a layer between, q'' = w² q with q' = -g·first at 0 and g·(1-first) at L in the layer's
    stiffness: q = w [first cosh w(L-x) + (1-first) cosh w x] / sinh wL."""
    L, g, layer = 600.0, 1.1e-7, 900.0  # layer: stiffness per length, N/mm per mm
    w = (layer * g) ** 0.5
    for n, within in ((60, 4e-3), (600, 4e-5)):
        p = L / n
        phi = rs.DECAY(p=p, g=g, C=1 / (layer * p))
        i = np.arange(1, n + 1)
        x = (i - 0.5) * p
        flow = w * (first * np.cosh(w * (L - x)) + (1 - first) * np.cosh(w * x)) / sinh(w * L)
        assert rs.SHARE(phi=phi, n=n, i=i, r=first) / p == pytest.approx(flow, rel=within)
    assert first != 1.0 or flow[0] == pytest.approx(w * cosh(w * (L - p / 2)) / sinh(w * L))


def test_a_long_row_loads_its_end_alone_and_does_not_overflow() -> None:
    """Of endless rows the end fastener takes 1 - exp(-phi), by the geometric series of the shares."""
    phi = 1.3
    shares = rs.SHARE(phi=phi, n=5000, i=np.array([1, 2, 5000]), r=1.0)
    assert shares[0] == pytest.approx(1 - np.exp(-phi))
    assert shares[1] == pytest.approx((1 - np.exp(-phi)) * np.exp(-phi))
    assert shares[2] == 0.0


def test_slip_of_equal_shares_is_the_strain_added_up() -> None:
    """Gap i carries P (1 - i/m): the strips part by p g times that, summed over the gaps."""
    P, p, g, m = 9000.0, 35.0, 4e-8, 12
    parts = sum(P * (1 - i / m) * p * g for i in range(1, m))
    assert rs.SHARED_SLIP(P=P, p=p, g=g, m=m) == pytest.approx(parts)


def _ring(a: float, b: float, n: int = 400) -> tuple[np.ndarray, np.ndarray]:
    r = a * (b / a) ** np.linspace(0, 1, n + 1)
    return r, np.diff(r)


@pytest.mark.parametrize(("a", "b"), [(2.5, 20.0), (2.75, 8.0)])
def test_give_in_plane_by_the_energy_of_the_ring(a: float, b: float) -> None:
    """u_r = U(r) cos, u_t = V(r) sin between a disc moved by 1 and a held rim: least energy on linear elements."""
    t = 1.2
    r, h = _ring(a, b)
    n = len(h)
    K = np.zeros((2 * n + 2, 2 * n + 2))
    D = E / (1 - NU**2) * np.array([[1, NU, 0], [NU, 1, 0], [0, 0, (1 - NU) / 2]])
    for e in range(n):
        for point in (-(3**-0.5), 3**-0.5):
            s = (1 + point) / 2
            x = r[e] + s * h[e]
            shape, slope = np.array([1 - s, s]), np.array([-1, 1]) / h[e]
            B = np.zeros((3, 4))
            B[0, 0::2] = slope
            B[1, 0::2], B[1, 1::2] = shape / x, shape / x
            B[2, 0::2], B[2, 1::2] = -shape / x, slope - shape / x
            K[2 * e : 2 * e + 4, 2 * e : 2 * e + 4] += pi * t * x * h[e] / 2 * B.T @ D @ B
    u = np.zeros(2 * n + 2)
    u[0], u[1] = 1.0, -1.0
    free = np.arange(2, 2 * n)
    u[free] = np.linalg.solve(K[np.ix_(free, free)], -K[free] @ u)
    force = u @ K @ u
    assert rs.WELD_GIVE_IN_PLANE(E=E, t=t, d=2 * a, R=b, nu=NU) == pytest.approx(1 / force, rel=2e-4)


@pytest.mark.parametrize(("a", "b"), [(2.5, 20.0), (2.75, 8.0)])
def test_tilt_by_the_energy_of_the_plate(a: float, b: float) -> None:
    """w = W(r) cos between a disc turned by 1 and a clamped rim: least energy on cubic elements."""
    t = 1.2
    D = E * t**3 / (12 * (1 - NU**2))
    r, h = _ring(a, b, 80)
    n = len(h)
    K = np.zeros((2 * n + 2, 2 * n + 2))
    for e in range(n):
        for point, weight in ((-(0.6**0.5), 5 / 9), (0.0, 8 / 9), (0.6**0.5, 5 / 9)):
            s, L = (1 + point) / 2, h[e]
            x = r[e] + s * L
            w = np.array([1 - 3 * s**2 + 2 * s**3, L * (s - 2 * s**2 + s**3), 3 * s**2 - 2 * s**3, L * (s**3 - s**2)])
            w1 = np.array([-6 * s + 6 * s**2, L * (1 - 4 * s + 3 * s**2), 6 * s - 6 * s**2, L * (3 * s**2 - 2 * s)]) / L
            w2 = np.array([-6 + 12 * s, L * (-4 + 6 * s), 6 - 12 * s, L * (6 * s - 2)]) / L**2
            radial, hoop, twist = w2, w1 / x - w / x**2, w1 / x - w / x**2
            total = radial + hoop
            mixed = np.outer(radial, hoop) + np.outer(hoop, radial)
            energy = np.outer(total, total) - (1 - NU) * (mixed - 2 * np.outer(twist, twist))
            K[2 * e : 2 * e + 4, 2 * e : 2 * e + 4] += weight * pi * D * x * L / 2 * energy
    u = np.zeros(2 * n + 2)
    u[0], u[1] = a, 1.0
    free = np.arange(2, 2 * n)
    u[free] = np.linalg.solve(K[np.ix_(free, free)], -K[free] @ u)
    moment = u @ K @ u
    assert rs.WELD_TILT(E=E, t=t, d=2 * a, R=b, nu=NU) == pytest.approx(1 / moment, rel=2e-4)


def test_fasteners_by_hand() -> None:
    """Equal sheets of one metal: (t/d)^a b 3 / (t E).  Rivet of 5 mm in 1 + 1 mm steel: 1.65e-5 mm/N; 61 kN/mm.

    An arc spot: 1.15e-3 in/kip over the root of the thickness in inches.
    """
    alike = {"t_1": 1.0, "t_2": 1.0, "d": 5.0, "E_1": E, "E_2": E, "E_f": E}
    assert rs.FASTENER_GIVE_RIVETED(**alike) == pytest.approx(0.2**0.4 * 2.2 * 3 / E)
    assert rs.FASTENER_GIVE_RIVETED(**alike) == pytest.approx(1.65e-5, rel=2e-3)
    assert rs.FASTENER_GIVE_BOLTED(**alike) == pytest.approx(0.2 ** (2 / 3) * 3.0 * 3 / E)
    assert rs.ARC_SPOT_GIVE(t=25.4) == pytest.approx(1.15e-3 * 25.4 / 4448.22, rel=2e-3)  # 0.0331 as printed
    # unlike sheets: each term on its own
    other = {"t_1": 1.0, "t_2": 2.0, "d": 6.0, "E_1": 210e3, "E_2": 70e3, "E_f": 100e3}
    terms = 1 / 210e3 + 1 / 140e3 + 1 / 200e3 + 1 / 400e3
    assert rs.FASTENER_GIVE_BOLTED(**other) == pytest.approx(0.25 ** (2 / 3) * 3 * terms)
    assert rs.FASTENER_GIVE_RIVETED(**other) == pytest.approx(0.25**0.4 * 2.2 * terms)


def test_a_long_joint_by_hand() -> None:
    """EN 1993-1-8, 3.8 (from memory): 1 up to 15 d, 0.9 at 35 d, 0.75 from 65 d on."""
    assert [bolts_en1993.LONG_JOINT(L_j=n * 8.0, d=8.0) for n in (15, 35, 65, 90)] == pytest.approx(
        [1, 0.9, 0.75, 0.75]
    )


def test_a_flange_held_at_both_lines_by_the_beam_table() -> None:
    """12 E I / a³ of a beam held against turning at both ends, with E / (1 - nu²) for a wide strip."""
    t, b, a = 1.2, 40.0, 15.0
    I = b * t**3 / 12
    assert rs.LIFT_STIFFNESS(E=E, t=t, b=b, a=a, nu=NU) == pytest.approx(12 * E / (1 - NU**2) * I / a**3)


def test_decay_is_the_root_of_the_difference_equation() -> None:
    """exp(phi) + exp(-phi) = 2 + p g / C, whatever is small."""
    for p, g, C in ((40.0, 4e-7, 1e-5), (10.0, 1e-10, 1e-5)):
        phi = float(rs.DECAY(p=p, g=g, C=C))
        assert 4 * sinh(phi / 2) ** 2 == pytest.approx(p * g / C, rel=1e-6)
    assert log(np.exp(phi)) == pytest.approx(phi)
