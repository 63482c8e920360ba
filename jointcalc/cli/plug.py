"""`jointcalc plug`."""

from __future__ import annotations

from jointcalc.cli.options import command_of

EXAMPLES = """Examples:

  jointcalc plug --sheet "1.2 mm" --sheet "1.5 mm" --grade DC04 --hole "8 mm" --pitch "40 mm" --length "600 mm" --edge "12 mm" --shear "6 kN"

  jointcalc plug --sheet "1.2 mm" --sheet "3 mm" --grade DC04 --grade S235JR --visible "20 mm" --count 6 --length "420 mm" --edge "32 mm" --shear "8 kN" --uplift "3 kN" --filler ER70S-6

  jointcalc plug --sheet "1.2 mm" --sheet "1.5 mm" --grade DC04 --pitch "40 mm" --length "600 mm" --edge "12 mm" --shear "6 kN" --find hole
"""  # noqa: E501 - command lines to copy


FIRST = [
    "sheets",
    "length",
    "edge",
    "hole",
    "slot",
    "visible",
    "seam",
    "interface",
    "pitch",
    "count",
    "rows",
    "row_spacing",
    "end",
    "coating",
    "filler",
    "fill",
    "shear",
    "across",
    "uplift",
    "uplift_place",
    "enters",
    "strip",
    "missing",
    "dud_rate",
    "deck",
    "weld_washer",
]
"""Fields of the model in the order of the help page; one that is not named comes behind them."""

command = command_of(
    "plug",
    "Judge plug (rosette), slot or arc spot welds by every published method that applies; find hole, spot or pitch.",
    first=FIRST,
    find="Find what holds: hole, visible or pitch.",
)
