"""`python -m jointcalc`."""

from jointcalc.cli.start import run

run()
