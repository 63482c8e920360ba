"""The sheets of a lap away from the spots: yield, shear yield, net widths, zinc deducted."""

from __future__ import annotations

import numpy as np

from jointcalc.formula.core import Formula, Names, Source, Value, register

YIELD = Source("EN 1993-1-3:2006", "6.1.2 and 6.1.5 (gross section)", "from memory")
ZINC = Source("EN 1993-1-3:2006", "3.2.4(3)", "from memory", "zinc density 7140 kg/m3, any handbook of metals")
GEOMETRY = Source("geometry", "section through the row of spots", "derivation", "spots deducted, on the safe side")

N = Names(
    t=("mm", "thickness of the sheet without zinc"),
    t_nom=("mm", "thickness of the sheet with zinc"),
    m_z=("g/m^2", "mass of zinc, both sides together"),
    L=("mm", "length of the seam"),
    n=("1", "spots in the section"),
    d=("mm", "spot diameter"),
    f_y=("MPa", "yield strength"),
)


def core_thickness(*, t_nom: Value, m_z: Value) -> Value:
    """Steel thickness of a zinc-coated sheet [mm]: the zinc of both sides carries nothing."""
    return t_nom - m_z / 7140


def net_area(*, t: Value, L: Value, n: Value, d: Value) -> Value:
    """Area of the sheet through the row with the spots deducted [mm^2]."""
    return t * (L - n * d)


def yield_across(*, t: Value, L: Value, f_y: Value) -> Value:
    """Yield of the gross sheet pulled across the seam [N]."""
    return t * L * f_y


def yield_along(*, t: Value, L: Value, f_y: Value) -> Value:
    """Yield of the gross sheet in shear along the seam [N]."""
    return t * L * f_y / np.sqrt(3)


CORE_THICKNESS = register(
    Formula(core_thickness, symbol="t", unit="mm", title="Steel thickness without zinc", source=ZINC, names=N)
)
NET_AREA = register(
    Formula(net_area, symbol="A_net", unit="mm^2", title="Net area through the row", source=GEOMETRY, names=N)
)
YIELD_ACROSS = register(
    Formula(yield_across, symbol="N_y", unit="N", title="Gross yield across the seam", source=YIELD, names=N)
)
YIELD_ALONG = register(
    Formula(yield_along, symbol="V_y", unit="N", title="Gross shear yield along the seam", source=YIELD, names=N)
)
