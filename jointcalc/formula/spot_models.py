"""Published strength models of a single spot: pull-out, the tension/shear ratio, stress at the spot's edge."""

from __future__ import annotations

import numpy as np

from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

SAWHILL = Source(
    "Sawhill and Baker, Welding Journal 59 (1980) 19s-30s",
    "pull-out model",
    "from memory",
    "the paper's existence read",
)
CHAO = Source(
    "Chao, J. Eng. Mater. Technol. 125 (2003) 125", "cross tension = 0.74 x lap shear", "read", "ratio read in abstract"
)
RUPP = Source(
    "Rupp, Storzel and Grubisic, SAE 950711 (1995)", "sheet, normal force and moment", "from memory", "kappa read"
)

N = Names(
    t=("mm", "thickness of the thinner sheet"),
    d=("mm", "spot diameter"),
    S=("MPa", "tensile strength of the sheet"),
    f=("1", "factor of the model, 2.5 to 3.1 in the paper; the lower end is used"),
    F_ls=("N", "lap-shear strength of the spot"),
    F_z=("N", "force on the spot across the sheet"),
    M=("N*mm", "moment on the spot from the peel arm"),
)

PULL_OUT_FACTOR = 2.5
"""Lower end of the published range 2.5 to 3.1."""


def pull_out(*, f: Value, t: Value, d: Value, S: Value) -> Value:
    """Mean shear-tension strength when the spot pulls out of the sheet [N]."""
    return f * t * d * S


def cross_tension(*, F_ls: Value) -> Value:
    """Cross-tension strength from lap shear [N], by the von Mises argument of the paper."""
    return 0.74 * F_ls


def edge_stress(*, t: Value, d: Value, F_z: Value, M: Value) -> Value:
    """Elastic structural stress in the sheet at the edge of the spot under peel [MPa]."""
    kappa = 0.6 * np.sqrt(t)
    return kappa * 1.744 * F_z / t**2 + kappa * 1.872 * M / (d * t**2)


PULL_OUT = register(
    Formula(
        pull_out, symbol="F_po", unit="N", title="Pull-out of the spot", source=SAWHILL, names=N,
        limits=(Limit("f", low=2.5, high=3.1),),
    )
)  # fmt: skip
CROSS_TENSION = register(
    Formula(cross_tension, symbol="F_ct", unit="N", title="Cross tension from lap shear", source=CHAO, names=N)
)
EDGE_STRESS = register(
    Formula(
        edge_stress, symbol="sigma_e", unit="MPa", title="Stress at the spot's edge under peel", source=RUPP, names=N,
        inner_units={"kappa": "1"},
    )
)  # fmt: skip
