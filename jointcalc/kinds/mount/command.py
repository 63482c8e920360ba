"""`jointcalc mount`."""

from __future__ import annotations

from jointcalc.cli.options import command_of

EXAMPLES = """Examples:

  jointcalc mount --foot "0 0 0 mm" --foot "300 0 0 mm" --foot "0 200 0 mm" --foot "300 200 0 mm" --mass "18 kg" --centre "150 100 120 mm" --case battery --bolt "M8 8.8" --sheet "1.5 mm" --grade DC04 --outline "-250 -250 250 250 mm" --plate "60 60 4 mm"

  jointcalc mount --foot "0 0 0 mm" --foot "300 0 0 mm" --foot "0 200 0 mm" --foot "300 200 0 mm" --mass "18 kg" --centre "150 100 120 mm" --acceleration "0 0 -3 g" --bolt "M6 8.8" --sheet "1.5 mm" --grade DC04 --outline "-250 -250 250 250 mm" --plate "50 50 3 mm" --find mass
"""  # noqa: E501 - command lines to copy

FIRST = [
    "feet", "mass", "centre", "acceleration", "cases", "force", "at", "moment", "lap", "torso", "occupants",
    "vehicle_mass", "axle_share", "forward", "faces", "resting", "located", "friction", "stiffness", "bolt", "rivet",
    "rivnut", "holes", "sheets",
]  # fmt: skip
"""Fields of the model in the order of the help page; one that is not named comes behind them."""

command = command_of(
    "mount",
    "What a thing on feet or bolts puts on each foot under its load cases, and the weakest link below.",
    first=FIRST,
    find="Find what holds: bolt, plate, thickness, or the greatest mass.",
    sought={"thickness": ("sheets",)},
)
