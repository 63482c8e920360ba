"""Every search as a builder types it: what is sought is not demanded, and the answer, typed, holds; the next size does not."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import pytest

from jointcalc.explore.panel import completed
from jointcalc.model.fields import build
from jointcalc.model.panel import Panel

SEAM = ("seam", "--grade", "DC04", "--length", "1200 mm", "--edge", "9 mm", "--shear", "36 kN", "--pitch", "40 mm")
INCH_SEAM = (
    "seam", "--grade", "A1008 SS Gr 33", "--length", "48 in", "--edge", "3/8 in", "--shear", "6000 lbf", "--pitch",
    "1-1/2 in", "--units", "inch",
)  # fmt: skip
FILLET = (
    "fillet", "--line", "0 0 100 0 mm", "--grade", "S355MC", "--filler", "E70", "--force", "0 -4 0 kN", "--at",
    "150 0 0 mm",
)  # fmt: skip
PLUG = (
    "plug", "--sheet", "18 ga", "--sheet", "16 ga", "--grade", "A1008 SS Gr 33", "--length", "24 in", "--edge", "3/4 in",
    "--shear", "3000 lbf", "--units", "inch", "--pitch", "2 in",
)  # fmt: skip
BOLTS = (
    "bolts", "--hole", "0 0 mm", "--hole", "60 0 mm", "--grade", "DC04", "--outline", "-200 -150 260 150 mm",
    "--between", "200 mm", "--force", "4 0 0 kN", "--at", "30 0 0 mm",
)  # fmt: skip
INCH_BOLTS = (
    "bolts", "--hole", "0 0 in", "--hole", "0 4-1/2 in", "--grade", "A1008 SS Gr 33", "--edge", "1-1/2 in", "--force",
    "0 2000 0 lbf", "--at", "0 2-1/4 0 in", "--units", "inch",
)  # fmt: skip
PANEL = (
    "panel", "--size", "24 16 in", "--grade", "A1008 SS Gr 33", "--pressure", "0.2 psi", "--limit-deflection", "1/16 in",
    "--along", "short", "--units", "inch",
)  # fmt: skip
MOUNT = (
    "mount", "--foot", "0 0 0 mm", "--foot", "300 0 0 mm", "--foot", "0 200 0 mm", "--foot", "300 200 0 mm", "--mass",
    "18 kg", "--centre", "150 100 120 mm", "--acceleration", "0 0 -3 g", "--grade", "DC04", "--outline",
    "-250 -250 250 250 mm", "--plate", "60 60 4 mm",
)  # fmt: skip
TWO = ("--sheet", "1.2 mm", "--sheet", "1.5 mm")
LESS: dict[str, Callable[[str], str]] = {
    # the next size of the trade: 0.5 mm for spots and legs, every second gauge, the listed sheets of steel
    "0.5": lambda s: f"{float(s.split()[0]) - 0.5:g} mm",
    "ga": lambda s: f"{int(s.split()[0]) + 2} ga",
    "sheet": lambda s: (
        f"{max(t for t in (0.6, 0.7, 0.8, 0.9, 1.0, 1.2, 1.5, 2.0, 2.5, 3.0) if t < float(s.split()[0]))} mm"
    ),
    "M": lambda s: {"M6": "M5", "M8": "M6", "M10": "M8"}[s.split()[0]] + " " + s.split()[1],
    "": str,
}
SEARCHES: dict[str, tuple[tuple[str, ...], str, Callable[[str], tuple[str, ...]], str]] = {
    # without what is sought, the word, the answer typed, the next size that must not hold
    "seam weld-diameter": ((*SEAM, *TWO), "weld-diameter", lambda s: ("--weld-diameter", s), "0.5"),
    "seam pitch": ((*SEAM[:-2], *TWO, "--weld-diameter", "5.5 mm"), "pitch", lambda s: ("--pitch", s), ""),
    "seam thickness": (
        (*SEAM, "--weld-diameter", "usual"), "thickness", lambda s: ("--sheet", s, "--sheet", s), "sheet",
    ),
    "seam other sheet": (
        (*SEAM, "--sheet", "1.5 mm", "--weld-diameter", "usual"), "thickness", lambda s: ("--sheet", s), "",
    ),
    "seam in gauges": (
        (*INCH_SEAM, "--weld-diameter", "usual"), "thickness", lambda s: ("--sheet", s, "--sheet", s), "ga",
    ),
    "seam in 64ths": (
        (*INCH_SEAM, "--sheet", "18 ga", "--sheet", "16 ga"), "weld-diameter", lambda s: ("--weld-diameter", s), "",
    ),
    "fillet leg": ((*FILLET, "--sheet", "3 mm"), "leg", lambda s: ("--leg", s), "0.5"),
    "fillet thickness": ((*FILLET, "--leg", "3 mm"), "thickness", lambda s: ("--sheet", s), ""),
    "plug hole": (PLUG, "hole", lambda s: ("--hole", s), ""),
    "plug pitch": ((*PLUG[:-2], "--hole", "3/8 in"), "pitch", lambda s: ("--pitch", s), ""),
    "bolts bolt": ((*BOLTS, "--sheet", "1.2 mm"), "bolt", lambda s: ("--bolt", s), ""),
    "bolts class": ((*BOLTS, "--sheet", "1.2 mm", "--bolt", "10.9"), "bolt", lambda s: ("--bolt", s), ""),
    "bolts in inches": ((*INCH_BOLTS, "--sheet", "16 ga"), "bolt", lambda s: ("--bolt", s), ""),
    "bolts thickness": ((*BOLTS, "--bolt", "M8 8.8"), "thickness", lambda s: ("--sheet", s), ""),
    "bolts gauge": ((*INCH_BOLTS, "--bolt", "5/16-18 Gr 5"), "thickness", lambda s: ("--sheet", s), ""),
    "bolts hole": ((*BOLTS, "--sheet", "1.2 mm", "--bolt", "M8 8.8"), "hole", lambda s: ("--hole-diameter", s), ""),
    "panel thickness": ((*PANEL, "--bead", "none"), "thickness", lambda s: ("--sheet", s), ""),
    "mount bolt": ((*MOUNT, "--sheet", "1.5 mm"), "bolt", lambda s: ("--bolt", s), ""),
    "mount thickness": ((*MOUNT, "--bolt", "M8 8.8"), "thickness", lambda s: ("--sheet", s), ""),
}  # fmt: skip
SIZE = re.compile(r"^Found [a-z ]+: (.*?)(?: for | \(|, |;|$)", re.M)


@pytest.mark.parametrize("name", SEARCHES)
def test_what_is_sought_is_left_out_and_the_answer_typed_holds(name: str, say: Any) -> None:
    given, word, typed, less = SEARCHES[name]
    answer = say(*given, "--find", word)
    assert answer.code == 0, answer.err
    size = SIZE.search(answer.out)
    assert size is not None, answer.out
    option = typed(size[1])[0]
    if option in given and option != "--sheet":
        at = given.index(option)
        given = given[:at] + given[at + 2 :]
    again = say(*given, *typed(size[1]))
    assert (again.code, again.err) == (0, ""), size[1]
    if less:
        smaller = say(*given, *typed(LESS[less](size[1])))
        assert smaller.code == 1, (size[1], smaller.err)


@pytest.mark.parametrize(("unknown", "given"), [
    ("depth", "vee:width=1in,pitch=3in"), ("pitch", "arc:width=1in,depth=1/4in"), ("lightest", "vee:width=1in"),
    ("shallowest", "trapezoid:width=1in,flat=1/4in + arc:depth=3mm,width=20mm,pitch=60mm,along=long"),
])  # fmt: skip
def test_a_bead_may_leave_out_what_is_sought(unknown: str, given: str) -> None:
    """Only something that can be built stands in its place: nothing of what was said is touched."""
    data = {"size": "600 400 mm", "sheet": {"grade": "DC04"}, "bead": given, "along": "short"}
    if unknown != "lightest":
        data["sheet"] = {"thickness": "1 mm", "grade": "DC04"}
    made = completed(data, unknown)
    panel = build(Panel, made)
    assert panel.pattern is not None
    assert panel.pattern.width == pytest.approx(25.4)
    assert made["bead"].startswith(given.partition(" + ")[0])
    assert made["bead"].partition("+")[2] == given.partition("+")[2]


def test_a_search_for_the_lightest_takes_stock_sheets_where_none_is_said(say: Any) -> None:
    given = ("brace", "--grade", "S355MC", "--span", "600 mm", "--point", "300 N @ 300 mm", "--over", "webs", "--lies",
             "crown-up", "--held", "both")  # fmt: skip
    answer = say(*given, "--profile", "hat:top=40mm,depth=30mm,flange=20mm,r=2mm", "--find", "lightest")
    assert answer.code == 0, answer.err
    found = re.search(r"Found lightest of [0-9]+ candidates:\s+(hat:\S+),\s", answer.out)
    assert found is not None, answer.out
    assert say(*given, "--profile", found[1]).code == 0


@pytest.mark.parametrize("name", ["seam weld-diameter", "seam thickness", "fillet thickness"])
def test_without_the_search_it_is_asked_for(name: str, say: Any) -> None:
    given, word, *_ = SEARCHES[name]
    refused = say(*given)
    assert (refused.code, refused.out) == (2, "")
    assert f"only `--find {word}` leaves out" in refused.err
