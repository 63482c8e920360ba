"""What is looked at and measured on a thing that stands on feet."""

from __future__ import annotations

from collections.abc import Iterator

from jointcalc.kinds.mount.model import Mount
from jointcalc.show.checklist import Entry, count, look, size, within
from jointcalc.show.checklist_parts import bolts


def checklist(item: Mount) -> Iterator[Entry]:
    """Feet and how far they stand apart, the mass and its height, what holds every foot."""
    yield count("feet", "Number of feet", len(item.feet))
    points = item.on_surface
    for k, word in enumerate(("one way", "the other way")):
        apart = max(p[k] for p in points) - min(p[k] for p in points)
        if apart > 0:
            yield size(f"feet-apart-{k + 1}", f"Outermost feet apart, {word} along the surface", apart, "least")
    if item.mass is not None:
        yield size("mass", "Mass of the thing, with all that is in it", item.mass, "greatest", unit="t")
    if item.centre is not None:
        high = item.local(item.centre)[2] - min(item.local(foot)[2] for foot in item.feet)
        yield size("height", "Middle of its mass above the feet, off the surface", abs(high), "greatest")
    if item.resting:
        words = "located by pins, stops or a rim" if item.located else "resting, kept by friction alone"
        yield look("resting", "Feet", words, places=len(item.feet))
    for n in range(len(item.feet)):
        if below := item.below(n):
            yield look(f"below-{n + 1}", f"What carries foot {n + 1}", f"made and checked: {', '.join(below)}")
    if item.fastened:
        yield from within("bolts", "Bolts", bolts(item.pattern))
