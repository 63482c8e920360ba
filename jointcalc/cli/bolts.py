"""`jointcalc bolts`."""

from __future__ import annotations

from jointcalc.cli.options import command_of

EXAMPLES = """Examples:

  jointcalc bolts --hole "0 0 mm" --hole "60 0 mm" --bolt "M8 8.8" --sheet "1.2 mm" --grade DC04 --outline "-200 -150 260 150 mm" --between "200 mm" --force "1.2 0 0.6 kN" --at "30 0 20 mm" --washer large

  jointcalc bolts --hole "0 0 mm" --bolt "M8 10.9" --sheet "1.2 mm" --grade DC04 --between "300 mm" --force "0 0 5 kN" --at "0 0 0 mm" --load-factor 1 --purpose seat --find plate

  jointcalc bolts --hole "0 0 mm" --hole "25 0 mm" --rivet "4.8 mm steel" --sheet "1 mm" --sheet "1.5 mm" --grade DC04 --edge "10 mm" --force "600 0 0 N" --at "12 0 0 mm"
"""  # noqa: E501 - command lines to copy


FIRST = ["holes", "sheets"]
"""Fields of the model at the top of the help page; the others come behind them in the order of the model."""

command = command_of(
    "bolts",
    "Judge bolts, rivet nuts or blind rivets in sheet under a force anywhere; find bolt, plate, sheet or hole.",
    first=FIRST,
    find="Find what holds: bolt, plate, thickness or hole.",
    sought={"thickness": ("sheets",)},
)
