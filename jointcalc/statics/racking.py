"""Tubes that hold a rectangular field in shape: the shear of the sheet that is out, shared by stiffness.

The edges of the field stay straight and as long as they are, its corners turn freely; racked by an angle, a point
moves along the field in proportion to its height in it.  Tubes are pinned.  An end on an edge of the field goes with
it; an end inside it is a point of its own that the tubes there hold.  Units: N, mm.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from jointcalc.errors import InputError
from jointcalc.formula.body import RACKING_ANGLE, TUBE_FORCE, TUBE_STIFFNESS
from jointcalc.formula.core import Evaluation
from jointcalc.quantity.sentence import mm

Array = npt.NDArray[np.float64]
NEAR = 1.0
"""How far off the edge an end still counts as on it [mm]."""


@dataclass(frozen=True, slots=True)
class Racked:
    """A braced field.

    The racking angle, what each tube lengthens for an angle of one [mm], the force of each tube [N], tension positive,
    and the stiffness of all tubes against racking [N mm].
    """

    angle: float
    reach: Array
    forces: Array
    stiffness: float


def tube(*, E: float, A: float, length: float) -> Evaluation:
    """Stiffness EA/L of a tube along itself [N/mm], of E [MPa], area [mm²] and length [mm]."""
    return TUBE_STIFFNESS.evaluate(E=E, A_t=A, L_t=length)


def rack(
    length: float, width: float, tubes: Sequence[tuple[tuple[float, float], tuple[float, float]]],
    stiffness: Sequence[float], flow: float,
) -> Racked:  # fmt: skip
    """Tube forces when a field of `length` by `width` [mm] takes a shear flow [N/mm] along its edges.

    `tubes` run between points (along, across) from the corner of the field; `stiffness` is EA/L of each [N/mm].
    Raises InputError: an end off the field, a point inside that its tubes do not hold, tubes that hold no racking.
    """
    k = np.asarray(stiffness, dtype=np.float64)
    free: dict[tuple[float, float], int] = {}
    rows = np.zeros((len(tubes), 1))
    for n, ends in enumerate(tubes):
        (x1, y1), (x2, y2) = ends
        along, across = x2 - x1, y2 - y1
        size = float(np.hypot(along, across))
        if size <= NEAR:
            raise InputError(f"tube {n + 1} has no length")
        # an end moves along by its height times the angle, or as a point of its own
        for (x, y), sign in (((x1, y1), -1.0), ((x2, y2), 1.0)):
            if not (-NEAR <= x <= length + NEAR and -NEAR <= y <= width + NEAR):
                raise InputError(
                    f"tube {n + 1} ends at {mm(x, ', ', y):g}, off the field of {mm(length, ' by ', width):g}"
                )
            if min(x, length - x, y, width - y) <= NEAR:
                rows[n, 0] += sign * along / size * y
                continue
            at = free.setdefault((round(x), round(y)), len(free))
            if rows.shape[1] < 1 + 2 * (at + 1):
                rows = np.hstack([rows, np.zeros((len(tubes), 2))])
            rows[n, 1 + 2 * at] += sign * along / size
            rows[n, 2 + 2 * at] += sign * across / size
    K = rows.T @ (k[:, None] * rows)
    inner = K[1:, 1:]
    for (x, y), at in free.items():
        own = inner[2 * at : 2 * at + 2, 2 * at : 2 * at + 2]
        if np.linalg.eigvalsh(own)[0] <= 1e-9 * float(k.max()):
            raise InputError(
                f"the tubes that meet at {mm(x, ', ', y):g} do not hold that point; it lies inside the field: run them "
                "on to an edge, or add a tube there in another direction"
            )
    if len(inner) and np.linalg.eigvalsh(inner)[0] <= 1e-9 * float(k.max()):
        raise InputError(
            "the points inside the field move without stretching a tube; add a tube between them and an edge"
        )
    follow = -np.linalg.solve(inner, K[1:, 0]) if len(inner) else np.zeros(0)
    reach = rows[:, 0] + rows[:, 1:] @ follow
    stiff = float(k @ reach**2)
    if stiff <= 1e-9 * float(k.max()) * min(length, width) ** 2:
        raise InputError(
            "none of the tubes runs aslant, so they hold nothing against racking; run one from corner to corner"
        )
    angle = float(RACKING_ANGLE(R=flow * length * width, K=stiff))
    return Racked(angle, reach, np.asarray(TUBE_FORCE(k=k, g=reach, gamma=angle)), stiff)
