"""What a frame is described by: nodes, members with their stiffness and ends, loads.  Meanings in `statics.frame`."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf
from typing import Literal

from jointcalc.quantity.sentence import mm

Six = tuple[float, float, float, float, float, float]

Three = tuple[float, float, float]

RIGID: Six = (inf,) * 6

FREE: Six = (0.0,) * 6

PINNED: Six = (inf, inf, inf, inf, 0.0, 0.0)
"""A member's end that turns about both axes of bending; the twist is passed on."""

HELD: Six = RIGID
"""A node held in every direction."""

SEATED: Six = (inf, inf, inf, 0.0, 0.0, 0.0)
"""A node held against moving, free to turn."""


@dataclass(frozen=True, slots=True)
class Node:
    """A point of the frame at `at` [mm], `held` by stiffnesses along and about x, y, z [N/mm, N·mm/rad]."""

    at: Three
    held: Six = FREE
    name: str = ""


@dataclass(frozen=True, slots=True)
class Stiffness:
    """What a uniform member resists with: N, N·mm²; shear stiffness inf leaves shear deformation out.

    EI_y is of bending about y (in the x-z plane), EI_z about z: principal axes.  `centre` is where the shear centre
    lies, (y, z) from the centroid [mm].
    """

    EA: float
    EI_y: float
    EI_z: float
    GJ: float
    GA_y: float = inf
    GA_z: float = inf
    centre: tuple[float, float] = (0.0, 0.0)


@dataclass(frozen=True, slots=True)
class End:
    """How a member's end is joined: `spring` in the member's six directions, `arm` from the node to it [mm]."""

    spring: Six = RIGID
    arm: Three = (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Member:
    """A straight member between two nodes; `up` is the direction that its own z is to look."""

    start: int
    end: int
    stiffness: Stiffness
    up: Three = (0.0, 0.0, 1.0)
    first: End = End()
    last: End = End()
    name: str = ""


@dataclass(frozen=True, slots=True)
class NodeLoad:
    """Force [N] and moment [N·mm] at a node, in one case."""

    node: int
    force: Three = (0.0, 0.0, 0.0)
    moment: Three = (0.0, 0.0, 0.0)
    case: int = 0


@dataclass(frozen=True, slots=True)
class MemberLoad:
    """Force and moment on a member's line of centroids, in one case.

    At `start` [mm from the member's start] in N and N·mm where `end` is not given; from `start` to `end` per mm
    otherwise, going linearly from `force`, `moment` to `last_force`, `last_moment` (the same where not given).
    `axes` are those of the frame or of the member.
    """

    member: int
    start: float
    force: Three = (0.0, 0.0, 0.0)
    moment: Three = (0.0, 0.0, 0.0)
    end: float | None = None
    last_force: Three | None = None
    last_moment: Three | None = None
    case: int = 0
    axes: Literal["frame", "member"] = "frame"


def named(thing: Node | Member, n: int) -> str:
    """What a node or member is called: its name, or its number."""
    word = "node" if isinstance(thing, Node) else "member"
    return thing.name or f"{word} {n + 1}"


def place_of(node: Node, n: int) -> str:
    """A node in a sentence: its name, or where it is."""
    return node.name or f"the node at {mm(node.at[0], ' ', node.at[1], ' ', node.at[2]):g}"
