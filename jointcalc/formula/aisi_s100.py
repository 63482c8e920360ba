"""What every chapter of AISI S100 reckons with."""

from __future__ import annotations

E = 203000.0
"""Modulus of elasticity of steel [MPa] (29 500 ksi), AISI S100-16 A3.3."""
