"""`jointcalc seam`."""

from __future__ import annotations

from jointcalc.cli.options import command_of

EXAMPLES = """Examples:

  jointcalc seam --sheet "1.2 mm" --sheet "1.2 mm" --grade DC04 --weld-diameter "5.5 mm" --pitch "40 mm" --length "1200 mm" --edge "9 mm" --shear "12 kN"

  jointcalc seam --sheet "18 ga" --sheet "16 ga" --grade "A1008 SS Gr 33" --weld-diameter usual --count 30 --length "48 in" --edge "3/8 in" --shear "2700 lbf" --find pitch --units inch
"""  # noqa: E501 - command lines to copy


FIRST = [
    "sheets",
    "weld_diameter",
    "length",
    "edge",
    "pitch",
    "count",
    "rows",
    "row_spacing",
    "end",
    "lap",
    "coating",
    "shear",
    "across",
    "peel",
    "peel_arm",
    "enters",
    "strip",
    "missing",
    "dud_rate",
    "moment",
    "compression",
    "flat_beside",
    "shares",
    "cycles",
    "load_range",
]
"""Fields of the model in the order of the help page; one that is not named comes behind them."""

command = command_of(
    "seam",
    "Judge a spot-welded seam by every published method that applies, and find the pitch, spot or sheet that holds.",
    first=FIRST,
    find="Find what holds: pitch, weld-diameter or thickness.",
    sought={"weld-diameter": ("weld_diameter",), "thickness": ("sheets",)},
    least=2,
)
