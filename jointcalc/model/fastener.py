"""Bolts, rivet nuts and blind rivets as their tables give them, read from a builder's text."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from math import pi
from typing import Any, Literal

from jointcalc.errors import InputError, nearest
from jointcalc.quantity.sentence import Sentence, mm
from jointcalc.quantity.units import INCH
from jointcalc.tables.store import load


@dataclass(frozen=True, slots=True)
class Fastener:
    """A fastener as its tables give it; sizes [mm], areas [mm²], strengths [MPa] or [N].

    `f_ub` is the nominal tensile strength EN 1993 counts with, `R_m` the minimum of the product standard.  `hole` is
    the clearance hole of medium fit, `holes` the series the trade drills, smallest first; `sunk` are diameter and
    height of a countersunk head.  A rivet nut has `body` and `hole` in its own sheet, its screw a hole of `clear` in
    the others.
    """

    kind: Literal["bolt", "rivnut", "rivet"]
    label: str
    d: float
    hole: float
    A_s: float = 0.0
    grade: str = ""
    f_ub: float = 0.0
    R_m: float = 0.0
    S_p: float = 0.0
    flats: float = 0.0
    washer: tuple[float, float] | None = None
    large_washer: tuple[float, float] | None = None
    holes: tuple[float, ...] = ()
    sunk: tuple[float, float] | None = None
    body: float = 0.0
    clear: float = 0.0
    shear_min: float = 0.0
    tension_min: float = 0.0
    standard: str = ""
    status: str = "read"

    @property
    def area(self) -> float:
        """Nominal area of the shank [mm²]."""
        return pi / 4 * self.d**2


_BOLT = re.compile(
    r"\s*(?P<size>M\s*[0-9.]+(?:\s*[xX×]\s*[0-9.]+)?|[0-9]+/[0-9]+\s*-\s*[0-9]+)\s+"
    r"(?:UN[CF]\s+)?(?:class\s+|grade\s+|gr\.?\s*)?(?P<grade>[A-Za-z0-9.\-]+)\s*",
    re.IGNORECASE,
)
_FORM = "write size and class, such as 'M8 8.8', 'M10x1.25 10.9' or '7/16-20 grade 5'"


INCH_TWIN = 0.06
"""How far the inch size of a blind rivet lies beside its millimetres [mm]: 5/32 in is 3.97 mm, sold as 4."""

METRIC_HOLES = ("hole_fine", "hole_medium", "hole_coarse")
INCH_HOLES = ("hole_close", "hole_normal", "hole_loose")


def _thread(text: Any) -> str:
    """Of an inch bolt without its thread what the threads of that size are; empty for anything else."""
    size = re.match(r"\s*([0-9]+/[0-9]+)(?!\s*-\s*[0-9])", text) if isinstance(text, str) else None
    known = [row["size"] for row in load("bolt_inch").rows if size and row["size"].startswith(f"{size[1]}-")]
    return f": an inch bolt is named with its thread, {' or '.join(known)} (coarse first)" if known else ""


def read_bolt(text: Any, kind: Literal["bolt", "rivnut"] = "bolt") -> Fastener:
    """A bolt from `M8 8.8`, `M8x1 10.9`, `M8 A2-70`, `7/16-20 grade 8`.  Raises InputError."""
    match = _BOLT.fullmatch(text) if isinstance(text, str) else None
    if not match:
        raise InputError(f"'{text}' cannot be read{_thread(text)}; {_FORM}", field=kind)
    size = "".join(match["size"].split()).replace("X", "x").replace("×", "x")
    size = "M" + size[1:] if size[0] in "mM" else size
    grade = match["grade"]
    inch = not size.startswith("M")
    table = load("bolt_inch" if inch else "bolt_metric")
    row = next((r for r in table.rows if r["size"] == size), None)
    if row is None:
        known = [r["size"] for r in table.rows]
        raise InputError(f"'{size}' is not in table '{table.name}'{nearest(size, known)}; {_FORM}", field=kind)
    d = row.need("d")
    about = load("bolt_inch_dimensions" if inch else "bolt_metric_dimensions")
    base = size.split("-")[0] if inch else size.split("x")[0]
    dims = about.find(size=base)
    strength, f_ub = _strength(grade, d, inch, kind)
    large = None if inch else (dims.need("large_washer_diameter"), dims.need("large_washer_thickness"))
    return Fastener(
        kind=kind,
        label=f"{size} {'grade ' if inch else ''}{strength['name']}",
        d=d,
        hole=dims.need("hole_normal" if inch else "hole_medium"),
        A_s=row.need("stress_area"),
        grade=str(strength["name"]),
        f_ub=f_ub,
        R_m=float(strength["R_m"]),
        S_p=float(strength["S_p"]),
        flats=dims.need("across_flats"),
        washer=(dims.need("washer_diameter"), dims.need("washer_thickness")),
        large_washer=large,
        holes=tuple(dims.need(name) for name in (INCH_HOLES if inch else METRIC_HOLES)),
        sunk=(dims.need("sunk_diameter"), dims.need("sunk_depth")),
        standard=str(strength["standard"]),
        status=str(strength["status"]),
    )


def _strength(grade: str, d: float, inch: bool, kind: str) -> tuple[Mapping[str, Any], float]:
    """(name, R_m, S_p, standard, status) of a class, and the nominal strength of EN 1993 (0 where it has none)."""
    if inch:
        rows = [r for r in load("bolt_classes_sae_j429").rows if r["grade"] == grade]
        row = next((r for r in rows if r.need("d_from") - 1e-9 <= d <= r.need("d_to") + 1e-9), None)
        known = sorted({r["grade"] for r in load("bolt_classes_sae_j429").rows})
        standard, column = "SAE J429", "proof_stress"
    elif grade.upper().startswith(("A2", "A4")):
        rows = [r for r in load("bolt_classes_iso3506").rows if r["class"] == grade.upper()]
        row = rows[0] if rows else None
        known = [r["class"] for r in load("bolt_classes_iso3506").rows]
        standard, column = "ISO 3506-1", ""
    else:
        rows = [r for r in load("bolt_classes_iso898").rows if r["class"] == grade]
        row = next(
            (r for r in rows if (r.number("d_over") or 0.0) < d <= (r.number("d_to") or 1e9) + 1e-9),
            None,
        )
        known = list(dict.fromkeys(r["class"] for r in load("bolt_classes_iso898").rows))
        standard, column = "ISO 898-1", "proof_stress"
    if row is None:
        what = "grade" if inch else "class"
        if rows:
            raise InputError(f"{standard} has no {what} {grade} at this diameter, {mm(d):.4g}", field=kind)
        raise InputError(f"'{grade}' is not a {what} of {standard} (known: {', '.join(known)})", field=kind)
    R_m = row.need("tensile_min")
    nominal = 0.0
    if standard == "ISO 898-1":
        nominal = 100.0 * float(grade.split(".", maxsplit=1)[0])
    elif standard == "ISO 3506-1":
        nominal = R_m
    name = row["grade"] if inch else row["class"]
    S_p = row.need(column) if column else 0.0
    return {"name": name, "R_m": R_m, "S_p": S_p, "standard": standard, "status": row.status}, nominal


def read_rivnut(text: Any) -> Fastener:
    """A rivet nut with the screw in it: `M6 8.8`.  Raises InputError."""
    screw = read_bolt(text, "rivnut")
    size = screw.label.split()[0].split("x")[0]
    row = next((r for r in load("rivnut_body").rows if r["size"] == size), None)
    if row is None:
        known = ", ".join(r["size"] for r in load("rivnut_body").rows)
        raise InputError(f"no body diameter is known for a rivnut {size} (known: {known})", field="rivnut")
    body = row.need("body_diameter")
    fields = {name: getattr(screw, name) for name in Fastener.__slots__}
    return Fastener(
        **{
            **fields, "kind": "rivnut", "label": f"rivnut {screw.label}", "body": body, "hole": row.need("hole"),
            "holes": (row.need("hole"),), "sunk": None, "clear": screw.hole,
        }
    )  # fmt: skip


def read_rivet(text: Any) -> Fastener:
    """A blind rivet: `4.8 mm steel`, `4 mm aluminium`.  Raises InputError."""
    words = {
        "steel": "ISO 15979",
        "st": "ISO 15979",
        "aluminium": "ISO 15977",
        "aluminum": "ISO 15977",
        "al": "ISO 15977",
    }
    form = "write diameter and body, such as '4.8 mm steel' or '4 mm aluminium'"
    match = re.fullmatch(r"\s*(?P<d>[0-9.]+)\s*mm\s+(?P<body>[A-Za-z]+)\s*", text) if isinstance(text, str) else None
    if not match or match["body"].lower() not in words:
        inch = re.match(r"\s*([0-9]+)/([0-9]+)\s*(?:in|\")", text) if isinstance(text, str) else None
        twin = int(inch[1]) / int(inch[2]) * INCH if inch and int(inch[2]) else 0.0
        sizes = [r["d"] for r in load("rivet_blind").rows if abs(r.need("d") - twin) < INCH_TWIN]
        if inch and sizes:
            form = (
                f"a rivet of {inch[1]}/{inch[2]} in is {sizes[0]} mm: write '{sizes[0]} mm steel' where it has "
                "the strengths of ISO 15979, '... aluminium' those of ISO 15977"
            )
        raise InputError(f"'{text}' cannot be read; {form}", field="rivet")
    standard = words[match["body"].lower()]
    rows = [r for r in load("rivet_blind").rows if r["standard"] == standard]
    try:
        wanted = float(match["d"])
    except ValueError as error:
        raise InputError(f"'{match['d']}' is not a number; {form}", field="rivet") from error
    row = next((r for r in rows if abs(r.need("d") - wanted) < 0.01), None)
    if row is None:
        known = ", ".join(r["d"] for r in rows)
        raise InputError(f"no rivet of {mm(wanted):g} in {standard} (known: {known} mm)", field="rivet")
    d = row.need("d")
    metal = "steel" if standard == "ISO 15979" else "aluminium"
    return Fastener(
        kind="rivet",
        label=Sentence(f"blind rivet {mm(d):g} {metal}"),
        d=d,
        hole=d + 0.1,
        holes=(d + 0.1,),
        shear_min=row.need("shear_min"),
        tension_min=row.need("tension_min"),
        standard=standard,
        status=row.status,
    )


READERS = {"bolt": read_bolt, "rivet": read_rivet, "rivnut": read_rivnut}
