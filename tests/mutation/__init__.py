"""Mutation testing of formula/, section/ and check/: `run.py` does it, `report.py` writes docs/mutation.md."""
