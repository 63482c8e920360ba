"""Members: branches at their joints, fibre integrals and the clauses' numbers in their other units."""

from __future__ import annotations

from math import pi, sqrt

import numpy as np
import pytest

from jointcalc.formula import column as c
from jointcalc.formula import effective_aisi, effective_en, web_aisi, web_en1993

KSI = 6.894757


def test_aisi_beam_branches_meet_and_join_smoothly() -> None:
    """F2.1: the parabola reaches F_y at 2.78 F_y with 0.1 % and the Euler line at 0.56 F_y, as its constants intend."""
    F_y = 345.0
    assert c.AISI_LTB_INELASTIC(F_y=F_y, F_cre=2.78 * F_y) == pytest.approx(c.AISI_LTB_YIELD(F_y=F_y), rel=1e-3)
    assert c.AISI_LTB_INELASTIC(F_y=F_y, F_cre=0.56 * F_y) == pytest.approx(
        c.AISI_LTB_ELASTIC(F_cre=0.56 * F_y), rel=1e-3
    )
    # at 0.56 the parabola touches the line: 10/9 x 10/36 / 0.56² = 0.984 of its slope
    step = 1e-4 * F_y
    slope = (
        c.AISI_LTB_INELASTIC(F_y=F_y, F_cre=0.56 * F_y + step) - c.AISI_LTB_INELASTIC(F_y=F_y, F_cre=0.56 * F_y)
    ) / step
    assert slope == pytest.approx(1.0, abs=0.02)
    # a beam that buckles long before it yields carries its critical stress, and one that never buckles yields
    assert c.AISI_LTB_ELASTIC(F_cre=50.0) == 50.0
    assert c.AISI_LTB_YIELD(F_y=F_y) == F_y


def test_lip_is_a_rectangle() -> None:
    """Second moment of a d × t rectangle by summation over its depth."""
    d, t = 13.0, 1.2
    z = (np.arange(40000) + 0.5) / 40000 * d - d / 2
    assert effective_aisi.LIP_SECOND_MOMENT(d=d, t=t) == pytest.approx(float((z**2).sum()) * t * d / 40000, rel=1e-6)


def test_moment_at_first_yield_by_fibres() -> None:
    """A rectangle with f_y in its outer fibre: moment of the stresses by summation; both documents."""
    b, h, f_y = 20.0, 50.0, 355.0
    z = (np.arange(40000) + 0.5) / 40000 * h - h / 2
    moment = float((f_y * z / (h / 2) * z).sum()) * b * h / 40000
    W = b * h**2 / 6
    assert effective_en.MOMENT_RESISTANCE(W_eff=W, f_yb=f_y) == pytest.approx(moment, rel=1e-6)
    assert effective_aisi.NOMINAL_MOMENT(S_e=W, F_y=f_y) == pytest.approx(moment, rel=1e-6)


def test_compression_of_an_effective_area_by_fibres() -> None:
    """Two strips left standing at the yield stress: stress times what stands."""
    strips = ((12.0, 1.0), (30.0, 1.2))
    force = sum(w * t * 355.0 for w, t in strips)
    area = sum(w * t for w, t in strips)
    assert c.AISI_STRENGTH(A_e=area, F_n=355.0) == pytest.approx(force)


def test_stiffener_branches_meet_below_the_euler_curve() -> None:
    """EN 1993-1-3 (5.12): 1.47 − 0.723 × 1.38 = 0.472 against 0.66/1.38 = 0.478, and neither above 1/λ² when slender."""
    meets = effective_en.CHI_D_MEDIUM(lamda_d=1.38)
    assert effective_en.CHI_D_SLENDER(lamda_d=1.38) == pytest.approx(meets, rel=0.014)
    assert effective_en.CHI_D_MEDIUM(lamda_d=0.65) == pytest.approx(1.0, abs=1e-3)
    assert effective_en.CHI_D_SLENDER(lamda_d=1.38) < 1 / 1.38**2


def test_en_shear_branches_of_a_web() -> None:
    """Table 6.1: 0.58 and 0.48/0.83, 0.48/1.40 and 0.67/1.40² meet within 0.5 %; the first is von Mises' 1/√3."""
    f = 320.0
    stocky = web_en1993.SHEAR_STRENGTH_STOCKY(f_yb=f, lamda_w=0.83)
    assert stocky == pytest.approx(f / sqrt(3), rel=5e-3)
    assert web_en1993.SHEAR_STRENGTH_MEDIUM(f_yb=f, lamda_w=0.83) == pytest.approx(stocky, rel=5e-3)
    medium = web_en1993.SHEAR_STRENGTH_MEDIUM(f_yb=f, lamda_w=1.40)
    assert web_en1993.SHEAR_STRENGTH_SLENDER(f_yb=f, lamda_w=1.40) == pytest.approx(medium, rel=5e-3)


def test_aisi_shear_branches_of_a_web_in_ksi() -> None:
    """G2.1 as quoted (read) with E 29 500 ksi, k_v 5.34, F_y 50 ksi: the branches meet, the last is plate theory."""
    E, k_v, F_y = 29500.0, 5.34, 50.0
    root = sqrt(E * k_v / F_y)

    def at(ratio: float) -> dict[str, float]:
        return {"h": ratio * root, "t": 1.0, "E": E, "k_v": k_v, "F_y": F_y}

    stocky = web_aisi.SHEAR_STRESS_STOCKY(**at(1.0))
    assert stocky == pytest.approx(30.0)
    assert web_aisi.SHEAR_STRESS_MEDIUM(**at(1.0)) == pytest.approx(stocky)
    slender = web_aisi.SHEAR_STRESS_SLENDER(**at(1.51))
    assert web_aisi.SHEAR_STRESS_MEDIUM(**at(1.51)) == pytest.approx(slender, rel=4e-3)
    assert slender == pytest.approx(k_v * pi**2 * E / (12 * (1 - 0.3**2)) / (1.51 * root) ** 2, rel=1e-3)
    # the same web in MPa
    metric = web_aisi.SHEAR_STRESS_MEDIUM(h=80.0, t=1.0, E=E * KSI, k_v=k_v, F_y=F_y * KSI)
    assert metric / KSI == pytest.approx(web_aisi.SHEAR_STRESS_MEDIUM(h=80.0, t=1.0, E=E, k_v=k_v, F_y=F_y))
