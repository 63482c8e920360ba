"""The sheets of a lap away from the spots: yield, shear yield, net widths, zinc deducted."""

from __future__ import annotations

import numpy as np

from jointcalc.formula.core import Formula, Names, Source, Value, register

YIELD = Source("EN 1993-1-3:2006", "6.1.2 and 6.1.5 (gross section)", "from memory")
TOGETHER = Source("EN 1993-1-1:2005", "6.2.1(5), eq. 6.1", "from memory")
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
    sigma_x=("MPa", "stress along the seam, compression negative"),
    sigma_z=("MPa", "stress across the seam"),
    tau=("MPa", "shear along the seam"),
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


def comparison_stress(*, sigma_x: Value, sigma_z: Value, tau: Value) -> Value:
    """Comparison stress of a sheet pulled, pressed and sheared at once [MPa]: it yields at f_y."""
    return np.sqrt(sigma_x**2 + sigma_z**2 - sigma_x * sigma_z + 3 * tau**2)


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
COMPARISON_STRESS = register(
    Formula(
        comparison_stress,
        symbol="sigma_v",
        unit="MPa",
        title="Comparison stress of the sheet",
        source=TOGETHER,
        names=N,
    )
)
