"""How a brace's section buckles: its signature curve under what presses it, and the loads that have a name."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from jointcalc.model.brace import Brace
from jointcalc.result import Result
from jointcalc.section.buckling import Buckling, Found, Loading, buckling
from jointcalc.section.effective_aisi import E_AISI
from jointcalc.section.outline import Floats

WORDS: dict[Loading, str] = {
    "sagging": "bent, the top pressed", "hogging": "bent, the bottom pressed", "axial": "pressed all over"
}  # fmt: skip
FIXED_TERMS = 8
"""Terms of the series for fixed ends: twelve would change less than 1 % of a flexural load."""


@dataclass(frozen=True, slots=True)
class Named:
    """An elastic critical load with its name: `local`, `distortional`, or `global` over the span, `ends` as held."""

    found: Found
    ends: str = ""


@dataclass(frozen=True, slots=True)
class Curve:
    """A signature curve: stress [MPa] at the most compressed face over half-wavelengths [mm], and what is named on it.

    `turned` tells that the brace lies with its flanges up: the section is to be drawn upside down.  `none` says why
    a load has no place on it.
    """

    loading: Loading
    words: str
    solved: Buckling
    turned: bool
    lengths: Floats
    stress: Floats
    named: tuple[Named, ...]
    none: tuple[str, ...]


def curves(result: Result) -> tuple[Curve, ...]:
    """The curves of a judged brace, one for each way its loads press it; nothing for a bar or tube.

    The span counts as one half-wave between ends that turn, and, where both ends are fixed, by the coupled series of
    fixed ends too; whatever `effective_length` says, for that is how the strut is judged.
    """
    brace = result.model
    if not isinstance(brace, Brace) or not len(brace.core.outline().flat_ids):
        return ()
    up = result.values.get("flanges_up")
    turned = bool(up is not None and up.value)
    loaded: list[Loading] = []
    checks = " ".join(c.key for c in result.checks)
    ways: tuple[tuple[Loading, str], ...] = (("sagging", "sagging"), ("hogging", "hogging"))
    loaded += [way for way, word in ways if word in checks]
    if brace.compression:
        loaded.append("axial")
    out = []
    for way in loaded or ["axial"]:
        other: dict[Loading, Loading] = {"sagging": "hogging", "hogging": "sagging", "axial": "axial"}
        solved = buckling(brace.core, loading=other[way] if turned else way, E=E_AISI, nu=brace.sheets[0].material.nu)
        out.append(_curve(brace, solved, way, turned))
    return tuple(out)


def _curve(brace: Brace, solved: Buckling, way: Loading, turned: bool) -> Curve:
    span = brace.longest
    low = float(solved.curve[0][0])
    lengths = np.geomspace(low, max(span, float(solved.curve[0][-1])), 60)
    named = [Named(one) for one in (solved.local, solved.distortional) if one is not None]
    none = [why for why in (solved.why_no_local, solved.why_no_distortional) if why]
    ends = brace.ends.lower().split()
    if "cantilever" in ends:
        none.append("no overall load is named for a cantilever")
    else:
        for held in ("simple", "fixed") if set(ends) == {"fixed"} and len(brace.span) == 1 else ("simple",):
            found = solved.overall(span, held, FIXED_TERMS)
            if found is not None:
                named.append(Named(found, held))
    return Curve(way, WORDS[way], solved, turned, lengths, solved.factors(lengths) * solved.f_ref, tuple(named),
                 tuple(none))  # fmt: skip
