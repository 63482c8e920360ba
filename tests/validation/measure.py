"""Each case worked out once for a run of the tests: its values, and the formulas it holds."""

from __future__ import annotations

from functools import cache

import numpy as np

from .case import Case
from .cases import CASES
from .evidence import needed, watch


@cache
def measured(case: Case) -> tuple[tuple[float, ...], frozenset[str]]:
    """The package's values of a case, and the keys of the formulas it holds.

    A formula counts only if it runs for the case and the case fails when that formula gives a wrong value: a look-up
    through a whole check runs dozens of formulas that have no part in the number compared.
    """
    values, ran = watch(case.ours)

    def holds() -> bool:
        try:
            with np.errstate(all="ignore"):
                return case.agrees(case.ours())
        except Exception:  # whatever a wrong formula leads to, the case no longer passes
            return False

    return values, needed(ran, holds)


def shares(case: Case) -> tuple[float, ...]:
    """Difference of each value from its print, as a share of the print (of one, for a print of nothing)."""
    return tuple((v - float(p)) / (abs(float(p)) or 1.0) for v, p in zip(measured(case)[0], case.prints))


@cache
def outside_cases() -> dict[str, tuple[Case, ...]]:
    """Published cases by the key of every formula they hold."""
    return _by_formula(outside=True)


@cache
def computed_cases() -> dict[str, tuple[Case, ...]]:
    """Independent computations by the key of every formula they hold."""
    return _by_formula(outside=False)


def _by_formula(*, outside: bool) -> dict[str, tuple[Case, ...]]:
    found: dict[str, list[Case]] = {}
    for case in CASES:
        if case.outside is outside:
            for key in measured(case)[1]:
                found.setdefault(key, []).append(case)
    return {key: tuple(cases) for key, cases in found.items()}
