"""An opening cut into a panel, round or rectangular, with or without a flange turned up round its edge."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, get_args

from jointcalc.errors import InputError, nearest
from jointcalc.quantity.compare import above, at_least, at_most
from jointcalc.quantity.parse import parse_lengths

Family = Literal["round", "rectangle"]
FAMILIES: tuple[Family, ...] = get_args(Family)
EXAMPLES: Mapping[Family, str] = {
    "round": "round:diameter=80mm,x=200mm,y=150mm,flange=8mm",
    "rectangle": "rectangle:width=100mm,height=60mm,corner=12mm",
}
SIZES: Mapping[Family, tuple[str, ...]] = {"round": ("diameter",), "rectangle": ("width", "height")}
MORE: Mapping[Family, tuple[str, ...]] = {
    "round": ("x", "y", "flange"),
    "rectangle": ("corner", "x", "y", "flange"),
}


@dataclass(frozen=True, slots=True)
class Opening:
    """An opening [mm]: `width` along the beads, `height` across them (both the diameter of a round one).

    x and y are its middle from the start and from the left edge of the panel; `flange` the height of the collar.
    """

    family: Family
    width: float
    height: float
    x: float
    y: float
    corner: float = 0.0
    flange: float = 0.0

    def __str__(self) -> str:
        wide, high = f"width={self.width:g}mm", f"height={self.height:g}mm"
        size = f"diameter={self.width:g}mm" if self.family == "round" else f"{wide},{high}"
        parts = [size]
        parts += [f"{name}={value:g}mm" for name, value in (("corner", self.corner),) if value]
        parts += [f"x={self.x:g}mm", f"y={self.y:g}mm"]
        parts += [f"flange={self.flange:g}mm"] if self.flange else []
        return f"{self.family}:{','.join(parts)}"


def parse_opening(text: str, along: float, across: float) -> Opening:
    """Read an opening such as `round:diameter=80mm,x=200mm,y=150mm,flange=8mm` in a panel of these sides [mm].

    Left out, x and y are the middle.  Raises InputError naming what was wrong and the accepted form.
    """
    word, colon, rest = text.partition(":")
    word = word.strip().lower()
    if word not in FAMILIES:
        raise InputError(
            f"'{word}' is no opening known here (known: {', '.join(FAMILIES)}){nearest(word, FAMILIES)}; write it "
            f"as in '{EXAMPLES['round']}'",
            field="opening",
        )
    family: Family = word
    example = EXAMPLES[family]
    known = [*SIZES[family], *MORE[family]]
    parts = rest if colon and rest.strip() else ""
    found = parse_lengths(parts, known, thing=f"a size of a {family} opening", example=example, field="opening")
    missing = [name for name in SIZES[family] if name not in found]
    if missing:
        raise InputError(f"the opening lacks its {' and '.join(missing)}; write it as in '{example}'", field="opening")
    width = found[SIZES[family][0]]
    height = found[SIZES[family][-1]]
    corner = width / 2 if family == "round" else found.get("corner", 0.0)
    flange = found.get("flange", 0.0)
    x, y = found.get("x", along / 2), found.get("y", across / 2)
    for name, value in found.items():
        if value < 0 or (value == 0 and name in SIZES[family]):
            raise InputError(f"{name} must be greater than zero", field="opening")
    if above(corner, min(width, height) / 2):
        raise InputError(
            f"a corner of {corner:g} mm does not fit an opening {width:g} x {height:g} mm; at most "
            f"{min(width, height) / 2:g} mm",
            field="opening",
        )
    for at, size, side, where in ((x, width, along, "along"), (y, height, across, "across")):
        if at_most(at - size / 2, 0) or at_least(at + size / 2, side):
            raise InputError(
                f"an opening {size:g} mm {where} the beads with its middle at {at:g} mm reaches the edge of the panel, "
                f"which is {side:g} mm there; leave sheet on either side",
                field="opening",
            )
    if flange and at_most(corner, flange):
        raise InputError(
            f"a flange {flange:g} mm high cannot be turned up round a radius of {corner:g} mm; make it lower than the "
            "radius, or state a larger 'corner'",
            field="opening",
        )
    return Opening(family, width, height, x, y, 0.0 if family == "round" else corner, flange)
