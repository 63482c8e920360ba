"""The cases that hold jointcalc to published values, and the evidence behind every formula.

`python -m tests.validation` (from the checkout) writes docs/validation.md from them.
"""
