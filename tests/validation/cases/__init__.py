"""Every case, in the order of the page: a list of `Case` in each module."""

from __future__ import annotations

from ..case import Case  # noqa: TID252  (a package under pytest and under -m alike)
from . import (
    arc_spot,
    bolts,
    coupons,
    fatigue,
    fillet,
    forming,
    groups,
    members,
    panels,
    sections,
    sheets,
    spots,
    strips,
)

CASES: tuple[Case, ...] = (
    *spots.CASES, *arc_spot.CASES, *fillet.CASES, *groups.CASES, *bolts.CASES, *sections.CASES, *members.CASES,
    *strips.CASES, *panels.CASES, *fatigue.CASES, *forming.CASES, *sheets.CASES,
    *coupons.CASES,
)  # fmt: skip
