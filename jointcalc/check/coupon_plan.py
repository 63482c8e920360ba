"""Which coupons a project's seams and plugs ask for, how many, and their pass marks.

Six shear coupons of a stack: from three to six the factor of AISI S100 K2.1.1 falls from 2.71 to 2.45 (least scatter),
from six to twenty by 0.05 more.  Three buttons peeled, or sections of arc welds cut, before the first row and after
the tips are dressed (common practice).  Cross-tension coupons where a joint of the stack is peeled or lifted.  Of a
machine's stacks the thinnest and the thickest come first: a setting that holds at both ends mostly holds between them
(common practice), but a strength of its own only a stack with coupons of its own has.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from jointcalc.check.coupon_marks import FEW, governing, mark_of
from jointcalc.formula import coupon_design, spot_size
from jointcalc.model.coupon_log import Group, sheet_key
from jointcalc.model.plug import PlugRow
from jointcalc.model.row import WeldRow
from jointcalc.model.seam import SpotSeam
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.sentence import Sentence, joined

PEELED = coupon_design.LEAST_TESTS


@dataclass(frozen=True, slots=True)
class Wanted:
    """Coupons of one test: how many, how many the log has, the least button [mm], the least load [N], and why."""

    test: str
    count: int
    have: int
    button: float | None
    load: float | None
    why: str

    @property
    def missing(self) -> int:
        """How many are still to be made."""
        return max(0, self.count - self.have)


@dataclass(frozen=True, slots=True)
class Planned:
    """A stack of the project, the items that are made of it, and the coupons it asks for."""

    sheets: tuple[Sheet, ...]
    weld: str
    items: tuple[str, ...]
    wanted: tuple[Wanted, ...]
    extreme: str = ""

    @property
    def label(self) -> Sentence:
        """`1.2 mm DC04 + 1.5 mm S355MC`, as a log writes it."""
        return joined(" + ", (sheet.label for sheet in self.sheets))

    @property
    def thickness(self) -> float:
        """Thickness of all sheets together [mm]."""
        return sum(sheet.thickness for sheet in self.sheets)


@dataclass
class _Stack:
    sheets: tuple[Sheet, ...]
    rows: list[WeldRow] = field(default_factory=list)


def plan(items: Iterable[object]) -> tuple[Planned, ...]:
    """What the seams and plugs of a project ask for: spots first, the stacks at both ends of a machine first."""
    stacks: dict[tuple[str, ...], _Stack] = {}
    for item in items:
        if not isinstance(item, SpotSeam | PlugRow):
            continue
        keys = [sheet_key(sheet) for sheet in item.sheets]
        if isinstance(item, SpotSeam):
            keys = min(keys, keys[::-1])  # a spot does not mind from which side it is made
        stacks.setdefault((item.kind, *keys), _Stack(item.sheets)).rows.append(item)
    planned: list[Planned] = []
    for kind in (SpotSeam.kind, PlugRow.kind):
        made = sorted(
            (_planned(stack) for key, stack in stacks.items() if key[0] == kind), key=lambda p: (p.thickness, p.label)
        )
        ends = {0: "thinnest", len(made) - 1: "thickest"} if len(made) > 1 else {0: "only"}
        named = [Planned(p.sheets, p.weld, p.items, p.wanted, ends.get(n, "")) for n, p in enumerate(made)]
        planned += sorted(named, key=lambda p: not p.extreme)
    return tuple(planned)


def _planned(stack: _Stack) -> Planned:
    first = stack.rows[0]
    spot = isinstance(first, SpotSeam)
    groups = first.tested.of(stack.sheets, turned=spot) if first.tested is not None else ()
    have = _logged(groups)
    t = governing(stack.sheets)
    pulled = any(getattr(row, "peel", 0.0) or getattr(row, "uplift", 0.0) for row in stack.rows)
    button = float(spot_size.USUAL(t=t)) if spot else float(spot_size.FUSION_EN(t=min(s.t for s in stack.sheets)))
    wanted = [
        Wanted("shear", FEW, have.get("shear", 0), button, mark_of("shear", stack.sheets) if spot else None,
               "the strength in the plane of the sheets"),
        Wanted("peel", PEELED, have.get("peel", 0), button, None, "the button, before the first row and after dressing")
        if spot
        else Wanted("section", PEELED, have.get("section", 0), button, None, "fused diameter, cut and etched"),
    ]  # fmt: skip
    if pulled:
        load = mark_of("cross", stack.sheets) if spot else None
        wanted.append(Wanted("cross", FEW, have.get("cross", 0), button, load, "a joint of it is peeled or lifted"))
    return Planned(
        stack.sheets, "spot" if spot else "plug", tuple(row.id for row in stack.rows), tuple(wanted)
    )  # fmt: skip


def _logged(groups: Iterable[Group]) -> Mapping[str, int]:
    """Coupons of each test that a log has: with a load where the test gives one, else with a button."""
    found: dict[str, int] = {}
    for group in groups:
        count = len(group.measured if group.test in ("peel", "section") else group.loaded)
        found[group.test] = found.get(group.test, 0) + count
    return found
