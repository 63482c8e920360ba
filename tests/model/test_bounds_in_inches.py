"""At the very bound of a rule the same thing is taken, or refused, in millimetres and in inches.

The bounds are the rules' own; what is tested is that 25.4 (exact, the international inch) does not move them.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import count
from typing import Any

import pytest

from jointcalc.errors import InputError
from jointcalc.model.project import read_project

SIZES = [round(0.37 * n + 0.6, 2) for n in range(1, 60)]
"""Sizes [mm] whose inches do not come back as the same float, among others."""


def mm(*values: float) -> str:
    return f"{' '.join(repr(v) for v in values)} mm"


def inch(*values: float) -> str:
    return f"{' '.join(repr(v / 25.4) for v in values)} in"


def taken(kind: str, entry: dict[str, Any]) -> bool:
    """Whether the file is read; a refusal must be one of the builder's kind."""
    entry = {"id": "A", **entry}
    try:
        read_project({"project": {"title": "T"}, kind: [entry]}, parts_suffice=True)
    except InputError:
        return False
    return True


Spelt = Callable[..., str]
SHEET = {"thickness": "1 mm", "grade": "DC04"}


def plug(size: Spelt, x: float, **more: Any) -> dict[str, Any]:
    return {
        "sheets": [SHEET, SHEET],
        "hole": size(x),
        "count": 1,
        "length": "300 mm",
        "edge": "60 mm",
        "shear": "1 kN",
        **more,
    }


def bolts(size: Spelt, **more: Any) -> dict[str, Any]:
    return {"bolt": "M8 8.8", "holes": ["0 0 mm"], "sheets": [SHEET], "force": "0 0 100 N", "at": "0 0 0 mm", **more}


def panel(**more: Any) -> dict[str, Any]:
    return {"size": "600 400 mm", "sheet": SHEET, "pressure": "1 kPa", **more}


RULES: dict[str, Callable[[Spelt, float], tuple[str, dict[str, Any]]]] = {
    "plug: twice the end is the length": lambda s, x: ("plug", plug(lambda v: "5 mm", x, end=s(x + 20), length=s(2 * (x + 20)))),
    "plug: the pitch is the length": lambda s, x: ("plug", plug(lambda v: "5 mm", x, count=None, pitch=s(x + 20), length=s(x + 20))),
    "plug: the rows touch": lambda s, x: ("plug", plug(s, x + 4, rows=2, row_spacing=s(x + 4))),
    "plug: the hole reaches the edge": lambda s, x: ("plug", plug(s, x + 4, edge=s((x + 4) / 2))),
    "plug: the holes touch": lambda s, x: ("plug", plug(s, x + 4, count=3, length=s(3 * (x + 4)))),
    "plug: a slot as long as its hole": lambda s, x: ("plug", plug(s, x + 4, slot=s(x + 4))),
    "plug: filled to the top": lambda s, x: ("plug", plug(lambda v: "9 mm", x, fill=s(x / 4 + 0.5), sheets=[{"thickness": s(x / 4 + 0.5), "grade": "DC04"}, SHEET])),
    "bolts: the hole reaches the edge": lambda s, x: ("bolts", bolts(s, hole_diameter=s(9 + x / 9), edge=s((9 + x / 9) / 2))),
    "bolts: the holes touch": lambda s, x: ("bolts", bolts(s, hole_diameter=s(9 + x / 9), holes=["0 0 mm", s(9 + x / 9, 0.0)])),
    "bolts: no width beside the hole": lambda s, x: ("bolts", bolts(s, hole_diameter=s(9 + x / 9), width=s(9 + x / 9))),
    "bolts: a washer of the hole's size": lambda s, x: ("bolts", bolts(s, hole_diameter=s(9 + x / 9), washer=s(9 + x / 9, 2.0))),
    "bolts: the thinnest washer": lambda s, x: ("bolts", bolts(s, washer=s(20 + x, 0.3))),
    "bolts: the thinnest plate": lambda s, x: ("bolts", bolts(s, plate=s(60 + x, 60.0, 0.5))),
    "brace: a mass at the end": lambda s, x: ("brace", {"profile": "hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm", "grade": "DC04", "span": s(500 + x), "mass": [f"1 kg @ {s(500 + x)}"]}),
    "brace: the shortest of two spans": lambda s, x: ("brace", {"profile": "hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm", "grade": "DC04", "span": s(10.0, 100 + x)}),
    "panel: a tenth thick": lambda s, x: ("panel", panel(size=s(5 * (50 + x), 60.0), sheet={"thickness": s(6.0), "grade": "S355MC"})),
    "panel: a patch as large as the panel": lambda s, x: ("panel", panel(size=s(300 + x, 200 + x), patch="100 N", patch_size=s(300 + x, 200 + x))),
    "panel: one pitch across": lambda s, x: ("panel", panel(size=s(600.0, 60 + x), bead=f"arc:depth={s(3.0)},width={s(20.0)},pitch={s(60 + x)}".replace(" ", ""))),
    "part: round at both ends": lambda s, x: ("part", {"sheet": SHEET, "size": s(200.0, 20 + 2 * x), "corner": s((20 + 2 * x) / 2)}),
    "part: a hole that reaches the edge": lambda s, x: ("part", {"sheet": SHEET, "size": s(200.0, 100.0), "holes": [s(20 + x / 3, 50.0, 2 * (20 + x / 3))]}),
    "part: the least side": lambda s, x: ("part", {"sheet": SHEET, "size": s(20 + x, 1.0)}),
}  # fmt: skip
"""Rule -> (kind, entry) of a thing that stands at the rule's very bound."""


@pytest.mark.parametrize("rule", RULES)
def test_the_bound_is_the_same_in_either_unit(rule: str) -> None:
    answers = set()
    for x in SIZES:
        answers |= {taken(*RULES[rule](mm, x)), taken(*RULES[rule](inch, x))}
    assert len(answers) == 1, "taken in one unit or at one size, refused in the other"


@pytest.mark.parametrize("rule", RULES)
def test_a_thousandth_beyond_is_told_apart(rule: str) -> None:
    """The slack is no allowance: a thousandth of a size changes the answer, one way or the other."""
    answers = set()
    for off in (0.999, 1.0, 1.001):
        for which in range(6):  # the number, in the order they are written, that is off
            written = count()

            def spelt(*values: float, off: float = off, which: int = which, written: Any = written) -> str:
                return mm(*(v * (off if next(written) == which else 1.0) for v in values))

            answers.add(taken(*RULES[rule](spelt, SIZES[7])))
    assert answers == {True, False}
