"""Panels pushed and sheared in their plane: buckling coefficients and what is left beyond them.

Timoshenko and Gere, Theory of Elastic Stability (from memory): k 4.00 simply supported at whole aspects, 10.07 clamped
square, 9.34 shear of a simply supported square; Bryan's closed form for the rest [derivation].  Beyond buckling: Winter's
curve (EN 1993-1-5 4.4, from memory) from below, Koiter's effective width for straight edges (1943, from memory) from above.
"""

from __future__ import annotations

from math import inf, pi, sqrt

import numpy as np
import pytest

from jointcalc.statics.band import Direction
from jointcalc.statics.field_grid import grid
from jointcalc.statics.field_shape import Field
from jointcalc.statics.pushed import _cut, buckling, pushed

E, NU = 210_000.0, 0.3
D = E / 12 / (1 - NU**2)


def coefficient(field: Field) -> tuple[float, tuple[bool, bool]]:
    """k of k pi^2 D / b^2 for the greater of the loads being 1 N/mm."""
    cut = _cut(field)
    g = grid(cut)
    low, high = buckling(g)[0], buckling(g.finer())[0]
    assert low is not None
    assert high is not None
    return (high + (high - low) / 3) * field.b**2 / (pi**2 * D), cut.whole


@pytest.mark.parametrize("aspect, turn, thrust, inplane, k, odd", [
    (1.0, 0.0, (1.0, 0.0), "straight", 4.0, False),
    (1.0, 0.0, (1.0, 0.0), "free", 4.0, False),
    (2.0, 0.0, (1.0, 0.0), "straight", 4.0, True),  # two half-waves
    (3.0, 0.0, (1.0, 0.0), "straight", 4.0, False),
    (1.0, 0.0, (1.0, 1.0), "straight", 2.0, False),
    (2.0, 0.0, (0.0, 1.0), "straight", (1 + 1 / 4) ** 2, False),  # Bryan: (1 + b^2/a^2)^2
    (1.0, inf, (1.0, 0.0), "straight", 10.07, False),
])  # fmt: skip
def test_thrust(aspect: float, turn: float, thrust: tuple[float, float], inplane: str, k: float, odd: bool) -> None:
    field = Field(400.0 * aspect, 400.0, 1.0, E, NU, turn, inplane, thrust=thrust)  # type: ignore[arg-type]
    found, whole = coefficient(field)
    assert found == pytest.approx(k, rel=2e-3)
    assert whole == (odd, False)


@pytest.mark.parametrize("inplane", ["held", "straight", "free"])
def test_shear(inplane: str) -> None:
    found, _ = coefficient(Field(400.0, 400.0, 1.0, E, NU, 0.0, inplane, flow=1.0, fineness=1.5))  # type: ignore[arg-type]
    assert found == pytest.approx(9.34, rel=5e-3)


@pytest.mark.parametrize("inplane", ["held", "straight", "free"])
def test_constant_strain(inplane: str) -> None:
    # patch test of the whole grid: a thrust and a flow leave the same membrane force in every triangle
    thrust = (0.0, 0.0) if inplane == "held" else (3.0, 2.0)
    g = grid(Field(500.0, 300.0, 1.2, E, NU, 0.0, inplane, thrust=thrust, flow=4.0))  # type: ignore[arg-type]
    q = Direction(g.shell.tangent(np.zeros(g.shell.count)), g.held).under(g.F)
    N = (g.shell.linear_strains(q) @ g.shell.C)[..., :3].reshape(-1, 3)
    assert pytest.approx(np.tile([-thrust[0], -thrust[1], 4.0], (len(N), 1)), abs=1e-8) == N
    # Hooke's law and Mohr's circle: the greatest principal strain; von Mises in the plane
    e_x, e_y = (-thrust[0] + NU * thrust[1]) / (1.2 * E), (-thrust[1] + NU * thrust[0]) / (1.2 * E)
    shear = 4.0 / (1.2 * E / (2 * (1 + NU)))
    assert g.strain(q) == pytest.approx((e_x + e_y) / 2 + np.hypot((e_x - e_y) / 2, shear / 2), rel=1e-3)
    mises = sqrt(thrust[0] ** 2 - thrust[0] * thrust[1] + thrust[1] ** 2 + 3 * 4.0**2) / 1.2
    assert g.stresses(q) == pytest.approx((mises, mises), rel=1e-3)


@pytest.mark.parametrize("side", [80.0, 120.0, 200.0])
def test_beyond_buckling(side: float) -> None:
    f_y = 355.0
    slender = sqrt(f_y / (4 * pi**2 * D / side**2))
    winter = (slender - 0.22) / slender**2
    koiter = 1.2 * slender**-0.8 - 0.65 * slender**-1.6 + 0.45 * slender**-2.4
    found = pushed(
        Field(side, side, 1.0, E, NU, 0.0, "straight", thrust=(winter * f_y / 1.5, 0.0), f_y=f_y), required=1.5
    )
    share = found.reached / 1.5 * winter
    assert winter < share < 1.02 * koiter
    assert found.buckles == pytest.approx(1.5 / winter / slender**2, rel=5e-3)


def test_a_stocky_plate_yields_all_over() -> None:
    # nothing buckles: what is reached is the yield strength of the sheet
    f_y, side = 235.0, 20.0
    found = pushed(Field(side, side, 1.0, E, NU, 0.0, "straight", thrust=(f_y / 1.2, 0.0), f_y=f_y), required=1.5)
    assert found.reached == pytest.approx(1.2, rel=0.05)
    assert not found.at_least


def test_less_is_carried_with_load_across() -> None:
    field = Field(300.0, 200.0, 1.0, E, NU, 0.0, "straight", thrust=(40.0, 0.0), f_y=140.0)
    alone = pushed(field, required=1.5)
    loaded = pushed(
        Field(300.0, 200.0, 1.0, E, NU, 0.0, "straight", thrust=(40.0, 0.0), f_y=140.0, pressure=0.03), required=1.5
    )
    assert loaded.reached < alone.reached
    assert loaded.buckles == pytest.approx(alone.buckles, rel=1e-6)  # of the loads in the plane alone
    assert loaded.permanent_set >= alone.permanent_set


def test_shear_on_held_edges_beside_a_load_across() -> None:
    # clamped, a/b = 1.5: k = 8.98 + 5.6 (b/a)^2 (Timoshenko and Gere, from memory); the load across leaves it alone
    field = Field(300.0, 200.0, 1.0, E, NU, inf, "held", flow=20.0, f_y=140.0, pressure=0.01)
    found = pushed(field, required=1.5)
    assert found.buckles is not None
    assert found.buckles * 20.0 * 200.0**2 / (pi**2 * D) == pytest.approx(8.98 + 5.6 / 1.5**2, rel=0.02)
    hard = pushed(Field(300.0, 200.0, 1.0, E, NU, inf, "held", flow=60.0, f_y=140.0, pressure=0.01), required=1.5)
    assert hard.reached < found.reached
    # nobody carries more than yield in shear
    assert hard.reached * 60.0 < 1.02 * 140.0 / sqrt(3)
