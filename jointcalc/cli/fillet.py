"""`jointcalc fillet`."""

from __future__ import annotations

from jointcalc.cli.options import command_of

EXAMPLES = """Examples:

  jointcalc fillet --line "0 0 100 0 mm" --leg "5 mm" --sheet "3 mm" --grade S355MC --filler E70 --force "0 -4 0 kN" --at "150 0 0 mm"

  jointcalc fillet --line "0 0 0 60 mm" --line "40 0 40 60 mm" --joint lap --leg "2 mm" --sheet "2 mm" --sheet "4 mm" --grade S355MC --force "0 8 0 kN" --at "20 30 0 mm" --find leg

  jointcalc fillet --line "0 0 40 0 mm" --line "40 0 40 40 mm" --line "40 40 0 40 mm" --line "0 40 0 0 mm" --leg "2 mm" --sheet "2 mm" --sheet "1.5 mm" --grade S355MC --force "0 0 0.8 kN" --at "20 20 0 mm" --between "300 mm"

  jointcalc fillet --line "0 0 80 0 mm" --leg "3 mm" --both-sides --sheet "3 mm" --grade S355MC --force "0 0 3 kN" --at "40 0 0 mm" --on backed --find length

  jointcalc fillet --leg "3 mm" --sheet "3 mm" --grade S355MC --force "8 0 0 kN" --find length

  jointcalc fillet --line "0 0 600 0 mm" --leg "3 mm" --stitch "40 120 mm" --sheet "2 mm" --grade DC01 --force "3 0 0 kN" --at "300 0 0 mm" --voltage "18 V" --current "130 A" --speed "6 mm/s"
"""  # noqa: E501 - command lines to copy


FIRST = ["lines", "sheets"]
"""Fields of the model at the top of the help page; the others come behind them in the order of the model."""

command = command_of(
    "fillet",
    "Judge arc welds along lines under a force anywhere in space, by every published method that applies.",
    first=FIRST,
    find="Find what holds: length, leg (size) or thickness.",
    sought={"thickness": ("sheets",), "length": ("lines",)},
)
