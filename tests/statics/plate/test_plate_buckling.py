"""Ritz's plates under thrust and shear against classic coefficients, a stepped strut, and an independent field.

Timoshenko and Gere, Theory of Elastic Stability (from memory); converged coefficients and the beaded field of
finite elements [computed] once by independent scripts.
"""

from __future__ import annotations

from math import pi, sqrt, tan

import numpy as np
import pytest
from scipy.optimize import brentq

from jointcalc.formula.plate_ultimate import CRITICAL_FACTOR
from jointcalc.statics.bead import parse_bead, rigidity, section
from jointcalc.statics.plate import Rigidity, flat
from jointcalc.statics.plate_buckling import Piece, beaded, factor

D, _ = flat(210_000.0, 0.3, 1.0)
UNIT = pi**2 * D.D_x / 100.0**2


def k(ratio: float, edge: str, **loads: float) -> float:
    return factor(100.0, [Piece(0.0, 100.0 * ratio, D)], edge, **loads) / UNIT  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("ratio", "simple", "clamped"), [(1.0, 9.325, 14.64), (1.5, 7.070, 11.46), (2.0, 6.546, 10.25)]
)
def test_shear_of_flat_plates(ratio: float, simple: float, clamped: float) -> None:
    # [computed], converged; Timoshenko and Gere print 9.34, 7.1, 6.6
    assert k(ratio, "simple", q=1.0) == pytest.approx(simple, rel=4e-3)
    assert k(ratio, "clamped", q=1.0) == pytest.approx(clamped, rel=4e-3)
    assert k(ratio, "simple", q=-1.0) == k(ratio, "simple", q=1.0)


def test_thrust_of_flat_plates() -> None:
    assert k(1.0, "simple", n_x=1.0) == pytest.approx(4.0, rel=1e-4)
    assert k(1.0, "simple", n_y=1.0) == pytest.approx(4.0, rel=1e-4)
    assert k(2.0, "simple", n_y=1.0) == pytest.approx((0.5 + 2.0) ** 2 / 4, rel=1e-4)
    assert k(1.0, "simple", n_x=1.0, n_y=1.0) == pytest.approx(2.0, rel=1e-4)
    assert k(1.0, "clamped", n_x=1.0) == pytest.approx(10.07, rel=4e-3)  # Timoshenko and Gere (from memory)
    assert k(1.0, "clamped", n_x=1.0, n_y=1.0) == pytest.approx(5.30, rel=4e-3)  # the same: 5.31


def test_together_no_less_than_the_sum_formula() -> None:
    for n_x, n_y, q in ((1.0, 0.0, 2.0), (1.0, 1.0, 1.0), (0.5, 1.0, 3.0)):
        alone = (k(1.5, "simple", n_x=1.0) / n_x, k(1.5, "simple", n_y=1.0) / n_y if n_y else np.inf,
                 k(1.5, "simple", q=1.0) / q)  # fmt: skip
        ours = k(1.5, "simple", n_x=n_x, n_y=n_y, q=q)
        assert 0.999 * CRITICAL_FACTOR(alpha_x=alone[0], alpha_z=alone[1], alpha_t=alone[2]) <= ours < min(alone)


@pytest.mark.parametrize("part", [0.2, 0.4, 0.6])
def test_a_stepped_strut(part: float) -> None:
    """A plate that only bends along x is a strut: stiff in its middle, a tenth as stiff at its ends."""
    ratio, length = 0.1, 100.0

    def strip(EI: float) -> Rigidity:
        return Rigidity(EI, EI * 1e-9, 0.0, EI * 1e-9)

    ends, middle = (1 - part) / 2 * length, part / 2 * length
    pieces = [Piece(0.0, ends, strip(1e4 * ratio)), Piece(ends, length - ends, strip(1e4)),
              Piece(length - ends, length, strip(1e4 * ratio))]  # fmt: skip
    load = brentq(
        lambda P: tan(sqrt(P / (1e4 * ratio)) * ends) * tan(sqrt(P / 1e4) * middle) - 1 / sqrt(ratio), 1e-3, 0.999 *
        min((pi / 2 / ends) ** 2 * 1e4 * ratio, (pi / 2 / middle) ** 2 * 1e4),
    )  # fmt: skip
    # Timoshenko and Gere, art. 2.14 (from memory): m = 1.47, 2.40, 4.50
    assert load * length**2 / 1e4 == pytest.approx({0.2: 1.47, 0.4: 2.40, 0.6: 4.50}[part], abs=0.01)
    assert factor(1000.0, pieces, "simple", n_x=1.0) == pytest.approx(load, rel=0.01)


BEAD = section(parse_bead("arc:depth=6mm,width=25mm,pitch=75mm"), 1.0)
THROUGH = rigidity(BEAD, 210_000.0, 0.3)


@pytest.mark.parametrize(("edge", "flow"), [("simple", 90.3), ("clamped", 161.7)])
def test_a_beaded_field_in_shear(edge: str, flow: float) -> None:
    # finite-element field, 600 x 400 x 1, beads along 400 [computed]
    assert factor(600.0, beaded(400.0, THROUGH, D, 0.0, 0.0), edge, q=1.0) == pytest.approx(flow, rel=3e-3)  # type: ignore[arg-type]


def test_beads_that_stop_short_hold_less() -> None:
    held = [
        factor(600.0, beaded(400.0, THROUGH, D, stop, 24.0 if stop else 0.0), "simple", q=1.0)
        for stop in (0.0, 10.0, 30.0, 60.0, 120.0)
    ]
    assert held == sorted(held, reverse=True)
    bare = factor(600.0, [Piece(0.0, 400.0, D)], "simple", q=1.0)
    assert held[-1] > bare
    assert held[2] < 0.65 * held[0]


def test_pieces_of_one_sheet_are_one_plate() -> None:
    parts = [Piece(0.0, 40.0, D), Piece(40.0, 110.0, D), Piece(110.0, 150.0, D)]
    assert factor(100.0, parts, "simple", q=1.0) == pytest.approx(k(1.5, "simple", q=1.0) * UNIT, rel=1e-3)
    assert factor(100.0, parts, "simple") == np.inf
    with pytest.raises(ValueError, match="piece"):
        factor(100.0, [], "simple", q=1.0)
