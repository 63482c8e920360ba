"""What goes with what on a panel: how its edges are held, read from one text, and beads that fit sheet and panel."""

from __future__ import annotations

from jointcalc.errors import InputError, nearest
from jointcalc.model.fields import refuse
from jointcalc.quantity.compare import above, below
from jointcalc.quantity.parse import parse
from jointcalc.quantity.sentence import mm
from jointcalc.statics.bead import STEEPEST_END, Bead, section

EDGES = ("simple", "clamped")
SIDES = ("start", "end", "left", "right")
"""The four edges of a builder who looks along the beads from one end of them."""


def edges_of(text: str) -> tuple[float, float, float, float]:
    """How stiffly each edge is held against turning, from a text such as `clamped, left=simple`.  Refuses others."""
    given: dict[str, float] = {}
    accepted = "write simple, clamped or a stiffness such as 500 N*m/rad/m, for all or as 'clamped, left=simple'"
    for piece in text.split(","):
        name, sign, word = (part.strip() for part in piece.rpartition("="))
        name = name.lower() if sign else ""
        if sign and name not in SIDES:
            raise refuse(
                f"edges: '{name}' is none of the edges {', '.join(SIDES)}{nearest(name, SIDES)} (looking along the "
                f"beads from one end of them); {accepted}"
            )
        if name in given:
            raise refuse(f"edges: {name or 'the word for all the rest'} is given twice; {accepted}")
        if word.lower() in EDGES:
            given[name] = 0.0 if word.lower() == "simple" else float("inf")
            continue
        try:
            given[name] = parse(word, "rotational stiffness per length", high=1e9)
        except InputError as error:
            if not any(c.isdigit() for c in word):
                near = nearest(word, EDGES)
                raise refuse(f"edges: '{word}' is neither {' nor '.join(EDGES)}{near}; {accepted}") from error
            raise refuse(f"edges: {error.message}") from error
    missing = [side for side in SIDES if side not in given] if "" not in given else []
    if missing:
        raise refuse(f"edges: nothing is said of {' and '.join(missing)}; {accepted}")
    start, end, left, right = (given.get(side, given.get("", 0.0)) for side in SIDES)
    return start, end, left, right


def fitted(bead: Bead, t: float, way: str, along: float, across: float) -> Bead:
    """The bead, made sure of that it can be made in sheet of `t` and lies on a panel `along` by `across` [mm].

    Raises InputError.
    """
    if above(bead.depth, bead.pitch):
        raise InputError(
            f"a depth of {mm(bead.depth):g} is deeper than the pitch of {mm(bead.pitch):g} allows; make it "
            "shallower "
            "or widen the pitch"
        )
    if above(bead.pitch, across):
        raise InputError(
            f"a pitch of {mm(bead.pitch):g} does not fit the panel, which is {mm(across):g} across the "
            f"beads ('along' is {way}); take a closer pitch, or turn the beads"
        )
    if above(bead.depth, along / 4):
        raise InputError(
            f"a depth of {mm(bead.depth):g} is too deep for a panel {mm(along):g} long along the beads; "
            "thin-sheet bending holds up to a quarter of it"
        )
    section(bead, t)  # refuses what cannot be bent in this sheet
    if above(bead.width, across - 2 * t):
        raise InputError(
            f"a bead {mm(bead.width):g} wide does not fit the panel, which is {mm(across):g} across the "
            f"beads ('along' is {way})"
        )
    stop, runout = bead.ends
    said = "" if bead.stop is not None and bead.runout is not None else " (where nothing is said)"
    if stop > 0 and below(runout, bead.depth / STEEPEST_END):
        raise InputError(
            f"a bead {mm(bead.depth):g} deep stops {mm(stop):g} off the edge and rises within "
            f"{mm(runout):g}{said}, "
            f"steeper than sheet can be rolled; give a runout of {mm(bead.depth / STEEPEST_END):g} or more"
        )
    if above(2 * (stop + runout), along):
        raise InputError(
            f"stop {mm(stop):g} and runout {mm(runout):g} at either end{said} leave no full depth on a panel "
            f"{mm(along):g} long along the beads; {mm(along / 2):g} is all there is for "
            "both: "
            "shorten them, or write stop=0mm where the beads run through"
        )
    return bead
