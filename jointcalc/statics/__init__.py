"""Numerical solvers for beams, plates and groups of welds and fasteners: plain numpy, no models."""
