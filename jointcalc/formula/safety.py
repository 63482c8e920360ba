"""The pair of factors American clauses print beside a nominal strength."""

from __future__ import annotations

from typing import NamedTuple


class Safety(NamedTuple):
    """Safety factor Omega (allowable strength design) and resistance factor phi (load and resistance factor design).

    Never apply both to one check.
    """

    Omega: float
    phi: float
