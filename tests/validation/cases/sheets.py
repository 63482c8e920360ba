"""Gauge numbers as a builder writes them, against the printed charts."""

from __future__ import annotations

from functools import partial

from jointcalc.tables.gauges import sheet_thickness

from ..case import Case  # noqa: TID252  (a package under pytest and under -m alike)

KIND = "sheet gauge"
CHART = "Printed gauge chart of a steel distributor"


def gauges(numbers: str, family: str = "steel", coated: bool = False) -> tuple[float, ...]:
    return tuple(sheet_thickness(f"{n} ga", family, coated) / 25.4 for n in numbers.split())


CASES: list[Case] = [
    Case(KIND, "steel, 10, 12, 14, 16, 18, 20, 22, 24 ga", CHART, "second-hand",
         "0.1345 0.1046 0.0747 0.0598 0.0478 0.0359 0.0299 0.0239", "in", partial(gauges, "10 12 14 16 18 20 22 24")),
    Case(KIND, "galvanised, 10, 12, 14, 16, 18, 20, 22, 24 ga, with zinc", "Printed chart to ASTM A924/A653", "second-hand",
         "0.1382 0.1084 0.0785 0.0635 0.0516 0.0396 0.0336 0.0276", "in",
         partial(gauges, "10 12 14 16 18 20 22 24", "steel", True)),
    Case(KIND, "aluminium, 3, 16, 30 ga", "Printed Brown & Sharpe chart", "second-hand", "0.2294 0.0508 0.0100", "in",
         partial(gauges, "3 16 30", "aluminium")),
    Case(KIND, "stainless, 3, 4, 16, 30 ga", "Printed US standard gauge chart", "second-hand",
         "0.2500 0.2344 0.0625 0.0125", "in", partial(gauges, "3 4 16 30", "stainless")),
]  # fmt: skip
