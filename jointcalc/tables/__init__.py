"""Published tables with their provenance, read from the `tables/` folder that ships in the wheel."""

from jointcalc.tables.store import Column, Provenance, Row, Table, load, names

__all__ = ["Column", "Provenance", "Row", "Table", "load", "names"]
