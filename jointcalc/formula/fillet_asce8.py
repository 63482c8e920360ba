"""Fillet welds in thin stainless sheet by SEI/ASCE 8-02, 5.2.2.

Nominal strengths, before phi; `t` is the thinner part.  The sheet counts as annealed: what cold rolling gave it is lost
beside the weld.  From memory.
"""

from __future__ import annotations

from jointcalc.formula.branch import below
from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

ASCE8 = "SEI/ASCE 8-02"

N = Names(
    t=("mm", "thickness of the thinner part"),
    L=("mm", "length of the weld"),
    F_ua=("MPa", "tensile strength of the annealed sheet"),
    F_xx=("MPa", "tensile strength of the weld metal"),
    t_w=("mm", "effective throat"),
)
THIN = Limit("t", high=4.76, unit="mm", why="cold-formed sheet and strip, 3/16 in")


def longitudinal_short(*, L: Value, t: Value, F_ua: Value) -> Value:
    """Sheet tearing [N] beside a fillet loaded along, L/t < 30.  Source: SEI/ASCE 8-02 eq. 5.2.2-1."""
    return (0.7 - 0.009 * L / t) * t * L * F_ua


def longitudinal_long(*, L: Value, t: Value, F_ua: Value) -> Value:
    """Sheet tearing [N] beside a fillet loaded along, L/t >= 30.  Source: SEI/ASCE 8-02 eq. 5.2.2-2."""
    return 0.43 * t * L * F_ua


def transverse(*, t: Value, L: Value, F_ua: Value) -> Value:
    """Sheet tearing [N] beside a fillet loaded across.  Source: SEI/ASCE 8-02 eq. 5.2.2-4."""
    return t * L * F_ua


def weld_metal(*, t_w: Value, L: Value, F_xx: Value) -> Value:
    """Strength of the weld metal [N].  Source: SEI/ASCE 8-02 eqs. 5.2.2-3, -5."""
    return 0.75 * t_w * L * F_xx


def _asce(clause: str) -> Source:
    return Source(ASCE8, clause)


LONGITUDINAL_SHORT = register(
    Formula(
        longitudinal_short, symbol="P_n", unit="N", title="Stainless sheet beside a fillet along, L/t under 30",
        source=_asce("5.2.2"), names=N, limits=(THIN, Limit("L / t", high=30.0, open_high=True)),
    )
)  # fmt: skip
LONGITUDINAL_LONG = register(
    Formula(
        longitudinal_long, symbol="P_n", unit="N", title="Stainless sheet beside a fillet along, L/t 30 or more",
        source=_asce("5.2.2"), names=N, limits=(THIN, Limit("L / t", low=30.0)),
    )
)  # fmt: skip
TRANSVERSE = register(
    Formula(
        transverse, symbol="P_n", unit="N", title="Stainless sheet beside a fillet across", source=_asce("5.2.2"),
        names=N, limits=(THIN,),
    )
)  # fmt: skip
WELD_METAL = register(
    Formula(
        weld_metal, symbol="P_n", unit="N", title="Stainless weld metal on the throat", source=_asce("5.2.2"), names=N,
        limits=(THIN,),
    )
)  # fmt: skip

PHI_SHEET = 0.55
"""Resistance factor of the sheet, and the lower of the weld metal's two, along the weld (LRFD); from memory."""


def longitudinal(*, L: float, t: float) -> tuple[Formula, str]:
    """The longitudinal formula that applies, and why; both give the same at L/t = 30."""
    if below(L / t, 30.0):
        return LONGITUDINAL_SHORT, f"L/t = {L / t:.4g}, under 30"
    return LONGITUDINAL_LONG, f"L/t = {L / t:.4g}, 30 or more"
