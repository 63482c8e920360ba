"""The bolt itself: ultimate and proof loads, and tension with shear by an interaction curve."""

from __future__ import annotations

from jointcalc.formula.core import Formula, Names, Source, Value, register

LOADS = Source("ISO 898-1", "minimum ultimate and proof loads", status="read")
ELLIPSE = Source("Kulak, Fisher and Struik, Guide to Design Criteria, 2nd ed.", "4.1", status="from memory")

NAMES = Names(
    A_s=("mm^2", "tensile stress area"),
    R_m=("MPa", "tensile strength of the class, minimum"),
    S_p=("MPa", "stress under proof load"),
    f_t=("1", "tension over tensile strength"),
    f_v=("1", "shear over shear strength"),
)


def ultimate_load(*, R_m: Value, A_s: Value) -> Value:
    """Least ultimate tensile load [N] of a bolt; `R_m` [MPa], `A_s` [mm²].  Source: ISO 898-1; SAE J429 alike."""
    return R_m * A_s


def proof_load(*, S_p: Value, A_s: Value) -> Value:
    """Proof load [N] of a bolt; `S_p` [MPa], `A_s` [mm²].  Source: ISO 898-1; SAE J429 alike."""
    return S_p * A_s


def elliptical(*, f_t: Value, f_v: Value) -> Value:
    """Interaction sum f_t² + f_v² of a bolt in tension and shear, at most 1.

    Source: Kulak, Fisher and Struik, 4.1 (from memory).
    """
    return f_t**2 + f_v**2


def _enter(function: Value, symbol: str, unit: str, title: str, source: Source) -> Formula:
    return register(Formula(function, symbol=symbol, unit=unit, title=title, source=source, names=NAMES))


ULTIMATE_LOAD = _enter(ultimate_load, "F_m", "N", "Least ultimate load of a bolt", LOADS)
PROOF_LOAD = _enter(proof_load, "F_p", "N", "Proof load of a bolt", LOADS)
ELLIPTICAL = _enter(elliptical, "u", "1", "Tension and shear on a bolt, ellipse", ELLIPSE)
