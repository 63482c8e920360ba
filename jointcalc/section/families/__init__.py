"""Families of folded profiles by their outside dimensions, one module for each group of a kind."""
