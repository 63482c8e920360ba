"""`python -m jointcalc`."""

from jointcalc.cli.main import run

run()
