"""A force that presses on a flat, a free flange, a tube or the edge of a sheet: local collapse by yield lines.

Our derivation, from the mechanisms of `plate_bending`.  Under a force on a flat that is held along both edges the
hinges form a fan round it, F = 4 pi m_p, whatever its radius.  Over a length c along the brace the fan is drawn out:
the two edges turn by d/(b/2) and the middle by twice that, 8 m_p c/b more (a foot of perimeter 2 c at s = b/2).  At a
free edge it is half a fan, 2 pi m_p, and the root turns by d/b over c.  A load along the brace leaves the straight
parts alone; on a flange it is taken as spread over its width, where the middle sinks by half of what the edge does.

The stress that the brace as a whole has in that flat takes strength from the hinges.  Across the brace: a bar of a
rectangle under axial stress beta f_y, m = m_p (1 - beta^2).  Along it, by von Mises with beta f_y at right angles to
the bending: the two faces yield at beta/2 +- sqrt(1 - 3/4 beta^2), so m = m_p sqrt(1 - 3/4 beta^2).  A fan in such a
plate is the round one stretched (affinity, Johansen): m is replaced by sqrt(m_across m_along).  EN 1993-1-8 Table 7.13
asks for more on the face of a hollow section, 1.3 (1 - beta) (from memory): there the joint must not dent at all.

Membrane forces, hardening and, in a tube, curvature help and are left out.
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

YIELD_LINES = Source("yield lines in a plate (Johansen)", "with the stress of the brace", "derivation")
EDGE_STRUT = Source("a strip of the sheet as a strut", "derivation", "derivation")

N = Names(
    f_y=("MPa", "yield strength of the sheet"),
    t=("mm", "thickness of the flat"),
    m_p=("N*mm/mm", "plastic moment per length of hinge"),
    beta=("1", "stress of the brace there over yield, loads with their factor"),
    m_across=("N*mm/mm", "plastic moment of a hinge across the brace"),
    m_along=("N*mm/mm", "plastic moment of a hinge along the brace"),
    c=("mm", "length along the brace over which the force presses"),
    b=("mm", "width of the flat between the bends, or of the free flange"),
    E=("MPa", "modulus of elasticity"),
    h=("mm", "height of the leg"),
)

_BETA = (Limit("beta", low=0.0, high=1.0, why="beyond, the brace itself yields"),)


def moment_across(*, m_p: Value, beta: Value) -> Value:
    """What is left to a hinge across the brace [N·mm/mm]."""
    return m_p * (1 - beta**2)


def moment_along(*, m_p: Value, beta: Value) -> Value:
    """What is left to a hinge along the brace [N·mm/mm]."""
    return m_p * np.sqrt(1 - 0.75 * beta**2)


def collapse_held(*, m_across: Value, m_along: Value, c: Value, b: Value) -> Value:
    """Force at which a flat held along both edges collapses under its middle [N]."""
    return 4 * np.pi * np.sqrt(m_across * m_along) + 8 * m_along * c / b


def collapse_free(*, m_across: Value, m_along: Value, c: Value, b: Value) -> Value:
    """Force at the free edge of a flange at which it folds down [N]."""
    return 2 * np.pi * np.sqrt(m_across * m_along) + m_along * c / b


def collapse_tube(*, m_across: Value, m_along: Value) -> Value:
    """Force at which the wall of a round tube dents [N]: the fan alone, its curvature not counted."""
    return 4 * np.pi * np.sqrt(m_across * m_along)


def line_collapse_held(*, m_along: Value, b: Value) -> Value:
    """Line load along the middle of a flat held along both edges at which it collapses [N/mm]."""
    return 8 * m_along / b


def line_collapse_free(*, m_along: Value, b: Value) -> Value:
    """Load per length, spread over the width of a free flange, at which it folds down [N/mm]."""
    return 2 * m_along / b


def edge_strut_force(*, E: Value, t: Value, c: Value, h: Value) -> Value:
    """Euler force of the strip under a force on the edge of a leg, free to sway at the top [N]."""
    return np.pi**2 * E * c * t**3 / 12 / (2 * h) ** 2


def edge_yield(*, f_y: Value, t: Value, c: Value) -> Value:
    """Force at which the edge of a sheet yields under it [N]."""
    return f_y * t * c


def edge_collapse(*, F_yield: Value, F_strut: Value) -> Value:
    """Force that the strip under the edge carries, yield and Euler joined (Rankine) [N]."""
    return F_yield * F_strut / (F_yield + F_strut)


MOMENT_ACROSS = register(Formula(
    moment_across, symbol="m_across", unit="N*mm/mm", title="Hinge across the stressed brace", source=YIELD_LINES,
    names=N, limits=_BETA))  # fmt: skip
MOMENT_ALONG = register(Formula(
    moment_along, symbol="m_along", unit="N*mm/mm", title="Hinge along the stressed brace", source=YIELD_LINES, names=N,
    limits=_BETA))  # fmt: skip
COLLAPSE_HELD = register(Formula(
    collapse_held, symbol="F_u", unit="N", title="Local collapse of a flat held along both edges", source=YIELD_LINES,
    names=N))  # fmt: skip
COLLAPSE_FREE = register(Formula(
    collapse_free, symbol="F_u", unit="N", title="Local collapse of a free flange", source=YIELD_LINES,
    names=N))  # fmt: skip
COLLAPSE_TUBE = register(Formula(
    collapse_tube, symbol="F_u", unit="N", title="Denting of a round tube", source=YIELD_LINES, names=N))  # fmt: skip
LINE_COLLAPSE_HELD = register(Formula(
    line_collapse_held, symbol="q_u", unit="N/mm", title="Collapse of a flat under a line load", source=YIELD_LINES,
    names=N))  # fmt: skip
LINE_COLLAPSE_FREE = register(Formula(
    line_collapse_free, symbol="q_u", unit="N/mm", title="Collapse of a free flange under a line load",
    source=YIELD_LINES, names=N))  # fmt: skip
EDGE_STRUT_FORCE = register(Formula(
    edge_strut_force, symbol="F_strut", unit="N", title="Strip under a force on the edge of a leg", source=EDGE_STRUT,
    names=N))  # fmt: skip
EDGE_YIELD = register(Formula(
    edge_yield, symbol="F_yield", unit="N", title="Yield of the edge under a force", source=EDGE_STRUT,
    names=N))  # fmt: skip
EDGE_COLLAPSE = register(Formula(
    edge_collapse, symbol="F_u", unit="N", title="Crushing of the edge of a leg", source=EDGE_STRUT,
    names=N | Names(F_yield=("N", "yield of the edge"), F_strut=("N", "Euler force of the strip"))))  # fmt: skip
