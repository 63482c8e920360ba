"""Random weld and fastener groups, the same for every run, and the published tables used by several tests."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from jointcalc.errors import InputError
from jointcalc.statics.fastener_group import FastenerGroup
from jointcalc.statics.group_common import Load
from jointcalc.statics.rotation_centre import PlaneProblem
from jointcalc.statics.weld_group import WeldGroup

INCH = 25.4
KIP = 4448.2216
KSI = 6.894757
E70 = 70.0 * KSI

# AISC Manual, 13th ed., Table 8-8 (C-shape, vertical load on the open side), as printed in a university
# examination; columns k = 0.0, 0.1 ... 1.0, None where no entry was seen.
TABLE_8_8 = {
    0.00: (1.86, 2.23, 2.69, 3.25, 3.80, 4.36, 4.92, 5.47, 6.03, 6.59, None),
    0.10: (1.86, 2.28, 2.78, 3.30, 3.83, 4.37, 4.92, 5.46, 6.01, 6.56, 7.11),
    0.15: (1.83, 2.25, 2.73, 3.23, 3.75, 4.27, 4.80, 5.33, 5.87, 6.41, 6.94),
    0.20: (1.76, 2.18, 2.63, 3.11, 3.60, 4.11, 4.61, 5.13, 5.64, 6.16, 6.68),
    0.25: (1.66, 2.07, 2.51, 2.96, 3.42, 3.90, 4.38, 4.87, 5.37, 5.86, 6.36),
    0.30: (None, None, None, None, None, None, None, 4.60, 5.08, 5.55, 6.03),
    0.50: (None, None, None, None, None, None, None, 3.60, 4.00, 4.40, 4.82),
    0.70: (None, None, None, None, None, None, None, 2.87, 3.20, 3.55, 3.91),
    1.00: (None, None, None, None, None, None, 1.91, 2.16, 2.43, None, 3.01),
    1.40: (None, None, None, None, None, None, 1.42, 1.61, 1.82, None, 2.27),
}
ENTRIES_8_8 = [(a, k / 10.0, c) for a, row in TABLE_8_8.items() for k, c in enumerate(row) if c is not None]

# AISC Manual Table 7-6, one vertical row at 3 in, vertical load: from memory. {e_x [in]: C for n = 2 ... 6}
TABLE_7_6 = {
    2: (1.18, 2.23, 3.32, 4.39, 5.45),
    3: (0.88, 1.75, 2.81, 3.90, 4.98),
    4: (0.69, 1.40, 2.36, 3.40, 4.47),
    5: (0.56, 1.15, 2.01, 2.96, 3.98),
    6: (0.48, 0.97, 1.73, 2.59, 3.55),
}
ENTRIES_7_6 = [(e, n, c) for e, row in TABLE_7_6.items() for n, c in enumerate(row, start=2)]


def c_shape(k: float, *, l: float = 10.0 * INCH, w: float = 5.0 / 16.0 * INCH) -> WeldGroup:
    """One vertical line of length l with two horizontal legs k·l to the right."""
    legs = [[0.0, 0.0, k * l, 0.0], [0.0, l, k * l, l]] if k else []
    return WeldGroup.of([[0.0, 0.0, 0.0, l], *legs], leg=w)


def beside(group: WeldGroup | FastenerGroup, e: float, force: tuple[float, float] = (0.0, -1000.0)) -> Load:
    """A load whose point of action is `e` to the right of the centroid of the group."""
    centre = group.sections()
    return Load.at((*force, 0.0), (centre.x + e, centre.y, 0.0))


@dataclass(frozen=True)
class Case:
    number: int
    group: WeldGroup | FastenerGroup
    load: Load
    per_line: int

    def problem(self) -> PlaneProblem:
        if isinstance(self.group, WeldGroup):
            return self.group.elements(per_line=self.per_line).problem(self.load, E70)
        return self.group.problem(self.load, self.group.area * 100.0)


def random_case(number: int) -> Case:
    """A weld group (three in four) or a bolt group, free or on a grid, under any load in its plane."""
    rng = np.random.default_rng(number)
    while True:
        try:
            if rng.random() < 0.75:
                count = int(rng.integers(1, 6))
                free = rng.random() < 0.5
                lines = rng.uniform(-100, 100, (count, 4)) if free else rng.integers(-5, 6, (count, 4)) * 20.0
                leg = 6.0 if rng.random() < 0.7 else rng.uniform(3.0, 10.0, count)
                group: WeldGroup | FastenerGroup = WeldGroup.of(lines, leg=leg)
            else:
                count = int(rng.integers(2, 12))
                free = rng.random() < 0.5
                points = rng.uniform(-100, 100, (count, 2)) if free else rng.integers(-4, 5, (count, 2)) * 40.0
                area = 100.0 if rng.random() < 0.5 else rng.uniform(50.0, 200.0, count)
                group = FastenerGroup.of(points, area=area)
        except InputError:
            continue  # a line without length or a hole drawn twice: draw again
        break
    centre = group.sections()
    angle = rng.uniform(0.0, 2.0 * math.pi) if rng.random() < 0.5 else rng.integers(8) * math.pi / 4.0
    force = (1e4 * math.cos(angle), 1e4 * math.sin(angle))
    through = centre.x * force[1] - centre.y * force[0]
    arm = 10.0 ** rng.uniform(-3.0, 4.0) * rng.choice([-1.0, 1.0])
    kind = int(rng.integers(5))
    load = (
        Load(M_z=1e6) if kind == 0 else Load(F_x=force[0], F_y=force[1], M_z=through + (1e4 * arm if kind > 1 else 0.0))
    )
    return Case(number, group, load, int(rng.choice([2, 5, 20, 21, 100])))
