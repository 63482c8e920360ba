"""Appendices that hold of the whole document: every method once, and the section properties of every profile."""

from __future__ import annotations

from collections.abc import Iterable

from jointcalc.dossier.common import Data, ids, shown
from jointcalc.dossier.words import breakable, clean
from jointcalc.dossier.working import ranges_of
from jointcalc.quantity.sentence import printed
from jointcalc.quantity.show import System, respelt
from jointcalc.result import Result

SECTION = (
    "area", "mass_per_metre", "centroid_height", "I_y", "I_z", "I_yz", "W_y_top", "W_y_bottom", "W_pl_y", "J", "C_w",
    "shear_centre_height", "blank_width",
)  # fmt: skip
"""Values of a brace that its profile alone decides."""


def methods_of(results: Iterable[Result], system: System) -> list[Data]:
    """Every method once: title, key, source and how sure it is, what it gives and asks for, its ranges, its items."""
    found: dict[str, Data] = {}
    used: dict[str, list[str]] = {}
    for result in results:
        for check in result.checks:
            key = check.method.key
            used.setdefault(key, []).append(result.id)
            row = found.setdefault(key, {
                "title": breakable(printed(check.method.title, system), 30),
                "key": breakable(key, 44),
                "source": breakable(check.method.source.cited),
                "marks": [s] if (s := check.method.source.status) in ("from memory", "second-hand") else [],
                "basis": clean(check.method.basis),
                "factor": clean(str(check.method.factor)),
                "ranges": [],
            })  # fmt: skip
            row["ranges"] += [text for text in ranges_of(check) if text not in row["ranges"]]
    return [{**found[key], "items": ids(used[key])} for key in sorted(found)]


def sections_of(results: Iterable[Result], system: System) -> list[Data]:
    """The section properties of every profile once, with the items made of it."""
    found: dict[str, tuple[Result, list[str]]] = {}
    for result in results:
        profile = str(getattr(result.model, "profile", "") or "")
        if profile and "I_y" in result.values:
            found.setdefault(profile, (result, []))[1].append(result.id)
    return [
        {
            "profile": breakable(respelt(profile, system), 60),
            "items": ids(used),
            "values": [
                [name_of(name, system), shown(held.value, held.unit, system)]
                for name in SECTION
                if (held := result.values.get(name)) is not None
            ],
        }
        for profile, (result, used) in found.items()
    ]


def name_of(name: str, system: System) -> str:
    """The name of a value as a reader of those units says it."""
    spoken = (
        name.replace("_per_metre", "_per_foot").replace("_per_area", "_per_square_foot") if system == "inch" else name
    )
    return clean(spoken if spoken[1:2] == "_" else spoken.replace("_", " "))
