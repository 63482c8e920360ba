"""How a thin-walled section gives in shear: the area that shears as it does, by energy."""

from __future__ import annotations

from math import inf

import numpy as np

from jointcalc.section.properties import Properties

_GAUSS = np.polynomial.legendre.leggauss(8)


def shear_area(p: Properties, y: float, z: float) -> float:
    """Area [mm²] that shears as the section does under a force along (y, z): 1 / integral of (q / V)² / t (energy)."""
    o = p.outline
    flow = p.shear_flow(V_y=y, V_z=z)
    give = 0.0
    for k in range(len(o.segments)):
        sheet = float(np.atleast_1d(o.ratio[k] * o.t[k])[0])
        long = float(p._lengths[k][0])
        if sheet == 0.0:
            continue  # a weld line has no length of its own
        for place, weight in zip(*_GAUSS):
            q = float(np.atleast_1d(flow.along(k, (1 + place) / 2))[0])
            give += weight / 2 * long * q**2 / sheet
    return 1.0 / give if give > 0 else inf
