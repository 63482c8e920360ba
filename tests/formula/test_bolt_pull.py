"""Sheet bent round a bolt, held against work and equilibrium worked out another way."""

from __future__ import annotations

from math import acos, cos, log, pi, sin, tan

import pytest
from scipy.integrate import quad
from scipy.optimize import minimize_scalar

from jointcalc.formula import bolt_pull, plate_bending


def test_reach_is_that_of_images_between_two_supports() -> None:
    """Point load in the middle of a strip of width L held at both sides: images of alternating sign every L.

    Membrane theory (Laplace's equation), another way than the conformal map of the module.
    """
    L, rho = 400.0, 2.0
    total, partial = 0.0, []
    for n in range(1, 20001):
        total += 2 * (-1) ** n * log((n * L) ** 2 + rho**2) / 2
        partial.append(total)
    # an alternating sum: the mean of two neighbouring partial sums has left half the last term out
    images = (partial[-1] + partial[-2]) / 2
    w = -(log(rho) + images) / (2 * pi)
    assert w == pytest.approx(log(bolt_pull.REACH(L=L) / rho) / (2 * pi), rel=1e-4)


def cone(m: float, c: float, R: float, hinge: float) -> float:
    """Work of a cone that rises by 1 from R to c: yield in the hoops, a fold at c, a fold `hinge` at R."""
    slope = 1 / (R - c)
    hoops, _ = quad(lambda r: m * slope / r * 2 * pi * r, c, R)
    return hoops + m * slope * 2 * pi * c + hinge * slope * 2 * pi * R


def test_plate_and_sheet_fold_together() -> None:
    m, m_pl, R, R_p, c = 50.4, 529.0, 190.0, 25.0, 8.0
    slope = 1 / (R - c)
    fan, _ = quad(lambda r: m_pl * slope / r * 2 * pi * r, c, R_p)
    both = cone(m, c, R, m) + fan + m_pl * slope * 2 * pi * c  # the plate's rim is free: no fold there
    assert bolt_pull.FOLD_WITH_PLATE(m_p=m, m_pl=m_pl, R=R, R_p=R_p, c=c) == pytest.approx(both)
    # without a plate it is the round foot of yield-line theory
    alone = bolt_pull.FOLD_WITH_PLATE(m_p=m, m_pl=0.0, R=R, R_p=R_p, c=c)
    assert alone == pytest.approx(plate_bending.FOOT(m_p=m, U=2 * pi * c, s=R - c))
    assert alone == pytest.approx(cone(m, c, R, m))


def cut_fan(x: float) -> float:
    """Fan of radius 1 about a point at x from a free edge, over m_p: hoops and fold where there is sheet."""
    phi = acos(x)
    inside, _ = quad(lambda a: x / cos(a), -phi, phi)
    return (2 * pi - 2 * phi) + inside + (2 * pi - 2 * phi)


def test_a_free_edge_cuts_the_fan() -> None:
    """On the edge: fan of m_p both ways between two straight folds at psi, 2 (pi - 2 psi) + 2 tan(psi), least at 45°."""
    best = minimize_scalar(lambda psi: 2 * (pi - 2 * psi) + 2 * tan(psi), bounds=(0.0, 1.5), method="bounded")
    assert best.x == pytest.approx(pi / 4, abs=1e-4)
    R, c = 200.0, 1e-9
    assert bolt_pull.FOLD_AT_EDGE(m_p=1.0, R=R, c=c, e=0.0) == pytest.approx(best.fun)
    whole = plate_bending.FOOT_FAR(m_p=1.0)
    assert bolt_pull.FOLD_AT_EDGE(m_p=1.0, R=R, c=c, e=R) < whole
    assert bolt_pull.FOLD_AT_EDGE(m_p=1.0, R=R, c=c, e=3 * R) < whole
    for x in (0.02, 0.1, 0.3, 0.5, 0.7, 0.9, 0.98):
        here = bolt_pull.FOLD_AT_EDGE(m_p=1.0, R=R, c=c, e=x * R)
        assert best.fun < here < cut_fan(x)


def test_the_sheet_hangs_in_equilibrium() -> None:
    """On every circle the membrane's upward part is the pull: 2 pi r N w' = P; integrated from the head to the ring."""
    f_y, t, w, R, c = 140.0, 1.2, 5.0, 190.0, 8.0
    P = bolt_pull.HANG(f_y=f_y, t=t, w=w, R=R, c=c)
    dish, _ = quad(lambda r: P / (2 * pi * r * f_y * t), c, R)
    assert dish == pytest.approx(w)


def test_leg_of_a_bracket() -> None:
    """EN 1993-1-8 Table 6.2 (from memory): mode 1 of a T-stub, 4 M_pl/m, is two legs of one bolt each."""
    m_p, m, e = 235 * 9 / 4, 22.0, 20.0
    assert bolt_pull.LEG_LENGTH(m=m, e=e, b=1e9) == pytest.approx(4 * 22 + 1.25 * 20)
    assert bolt_pull.LEG_LENGTH(m=5.0, e=e, b=1e9) == pytest.approx(2 * pi * 5)
    assert bolt_pull.LEG_LENGTH(m=m, e=e, b=40.0) == 40.0
    M_pl = m_p * 40.0
    assert 2 * bolt_pull.LEG_FOLD(m_p=m_p, l_eff=40.0, m=m) == pytest.approx(4 * M_pl / m)


def test_prying_balances_the_leg() -> None:
    """Moments about the upright and about the bolt: P m = M_pl + Q n, and nothing while M_pl alone is enough."""
    m_p, l_eff, m, n = 500.0, 40.0, 22.0, 20.0
    Q = bolt_pull.PRYING(P=1500.0, m=m, m_p=m_p, l_eff=l_eff, n=n)
    assert m_p * l_eff + Q * n == pytest.approx(1500.0 * m)
    assert bolt_pull.PRYING(P=m_p * l_eff / m, m=m, m_p=m_p, l_eff=l_eff, n=n) == pytest.approx(0.0, abs=1e-9)
    assert bolt_pull.PRYING(P=100.0, m=m, m_p=m_p, l_eff=l_eff, n=n) == 0.0
    # at the strength of mode 1 the leg yields through the bolt too: Q n is M_pl
    P = bolt_pull.LEG_FOLD(m_p=m_p, l_eff=l_eff, m=m)
    assert bolt_pull.PRYING(P=P, m=m, m_p=m_p, l_eff=l_eff, n=n) * n == pytest.approx(m_p * l_eff)


def test_pull_from_one_side_counts_half() -> None:
    # AISI S100 J4.4.2 as a textbook prints it: 50 % of P_nov
    assert bolt_pull.PULL_OVER_ONE_SIDED(P=8000.0) == 4000.0


@pytest.mark.parametrize("x", [0.2, 0.6])
def test_cut_fan_in_closed_form(x: float) -> None:
    """The number the edge is held against, checked itself: 4 (pi - phi) + 2 x artanh(sin phi)."""
    phi = acos(x)
    closed = 4 * (pi - phi) + 2 * x * log((1 + sin(phi)) / cos(phi))
    assert cut_fan(x) == pytest.approx(closed)
