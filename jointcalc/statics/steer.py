"""What a steered tyre sweeps inside a wheel tub, seen from above and from the side.  Units: mm, rad."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from jointcalc.formula import body as f
from jointcalc.formula.core import Evaluation

STEPS = 61
"""Angles and heights that are tried: the reaches are smooth, and the greatest is found to a thousandth of the tyre."""


@dataclass(frozen=True, slots=True)
class Swept:
    """Reach of the tyre inboard and outboard of its middle straight ahead, and from the wheel's centre [mm].

    Each at the steering angle up to lock at which it is greatest; the working is that of full lock at the floor.
    """

    inboard: float
    outboard: float
    radius: float
    working: tuple[Evaluation, ...]


def swept(diameter: float, width: float, floor: float, lock: float, pin: float) -> Swept:
    """A tyre turned up to `lock` to both sides about a king pin `pin` inboard of its middle, above a floor line.

    `floor` is the height of the floor over the wheel's centre: below it nothing is asked of the tub.
    """
    angles = np.linspace(0.0, lock, STEPS)
    low = max(floor, 0.0)
    heights = np.linspace(low, diameter / 2, STEPS)
    c = np.asarray(f.TYRE_AT_FLOOR(D=diameter, h=np.minimum(heights, diameter / 2)))
    shape = {"w": width, "p": pin}
    longest = float(f.TYRE_AT_FLOOR(D=diameter, h=low))
    inboard = f.STEERED_INBOARD(c=longest, delta=angles, **shape)
    outboard = f.STEERED_OUTBOARD(c=longest, delta=angles, **shape)
    along = f.STEERED_ALONG(c=c[:, None], delta=angles[None, :], **shape)
    working = (
        f.TYRE_AT_FLOOR.evaluate(D=diameter, h=low),
        f.STEERED_INBOARD.evaluate(c=longest, delta=lock, **shape),
        f.STEERED_OUTBOARD.evaluate(c=longest, delta=lock, **shape),
        f.STEERED_ALONG.evaluate(c=longest, delta=lock, **shape),
    )
    radius = np.hypot(along, heights[:, None])
    return Swept(float(np.max(inboard)), float(np.max(outboard)), float(np.max(radius)), working)
