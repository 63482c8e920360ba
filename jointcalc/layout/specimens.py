"""Coupons drawn at full size, to be marked out and cut: shear, cross tension and peel, with their pass marks."""

from __future__ import annotations

from jointcalc.check.coupon_plan import Planned, Wanted
from jointcalc.formula.spot_size import TARGET
from jointcalc.layout.drawing import Circle, Dim, Drawing, Entity, Label, Line, Table, rectangle
from jointcalc.quantity.compare import above
from jointcalc.quantity.sentence import printed
from jointcalc.quantity.show import System, show
from jointcalc.tables.store import Row, load

SHEAR, CROSS = "coupon_iso14273", "coupon_iso14272"


def specimen(planned: Planned, wanted: Wanted, system: System) -> Drawing | None:
    """The coupon of one test of a stack; None for sections (cut through a shear coupon) and sheet beyond the tables."""
    t = min(sheet.thickness for sheet in planned.sheets)
    if wanted.test == "cross":
        row = load(CROSS).rows[0]
        entities = _cross(row, wanted, system)
    elif wanted.test in ("shear", "peel"):
        found = strip(t)
        if found is None:
            return None
        row = found
        entities = _lap(row, wanted, system) if wanted.test == "shear" else _peel(row, wanted, system)
    else:
        return None
    label = printed(planned.label, system)
    notes = [
        f"{wanted.count} of them ({wanted.why}); {wanted.have} are in the log.",
        f"Strips of {label}, degreased, burrs off; the same machine, setting and tips as on the vehicle.",
        {
            "shear": "Clamp both ends, packed so that the pull runs through the weld; note load, button, failure.",
            "cross": "Bolt each strip to a frame through its holes and pull them apart square to the sheets.",
            "peel": "Clamp one strip, roll or bar the other back over the weld; measure the button both ways.",
        }[wanted.test],
        f"Sizes by {load(CROSS if wanted.test == 'cross' else SHEAR).provenance.document} (from memory).",
    ]  # fmt: skip
    drawing = Drawing(f"{wanted.test} {label}", "coupon", f"{label}; {marks_told(planned, wanted, system)}", entities)
    drawing.tables.append(Table("Pass marks", ("what", "least"), tuple(_marks(planned, wanted, system))))
    drawing.notes += notes
    if wanted.test == "peel":
        drawing.notes.append("That a peel coupon takes the strips of the shear coupon is common practice, no source.")
    return drawing


def strip(t: float) -> Row | None:
    """The strips of the shear coupon for a thinner sheet of that thickness [mm]; None beyond the table."""
    rows = load(SHEAR).rows
    if above(t, rows[-1].need("t_to")):
        return None
    # sheet thinner than the table takes its first row
    return next(row for row in rows if not above(t, row.need("t_to")))


def _marks(planned: Planned, wanted: Wanted, system: System) -> list[tuple[str, str]]:
    found = []
    if wanted.button is not None:
        name = "button" if planned.weld == "spot" else "fused diameter"
        found.append((name, show(wanted.button, "length", system, 3)))
        if planned.weld == "spot":
            t = (wanted.button / 4) ** 2  # the thickness it was found for
            found.append(("button, machine set up for", show(float(TARGET(t=t)), "length", system, 3)))
    if wanted.load is not None:
        found.append(("load, each", show(wanted.load, "force", system, 4)))
    return found


def marks_told(planned: Planned, wanted: Wanted, system: System) -> str:
    """The pass marks in one line."""
    return ", ".join(
        f"{name} at least {value}" for name, value in _marks(planned, wanted, system) if "set up" not in name
    )


def _spot(x: float, y: float, wanted: Wanted, system: System) -> list[Entity]:
    """The weld where it goes, as large as it must be at least."""
    r = (wanted.button or 5.0) / 2
    told = show(2 * r, "length", system, 3)
    return [Circle("SPOT", x, y, r), Label(x + r + 1.5, y + r + 2.5, f"button >= {told}")]


def _lap(row: Row, wanted: Wanted, system: System) -> list[Entity]:
    """Two strips that overlap, the weld in the middle of the lap, clamped at both ends."""
    a, b, length, free = (row.need(c) for c in ("overlap", "width", "coupon_length", "free_length"))
    whole = 2 * length - a
    grip = (whole - free) / 2
    return [
        rectangle("CUT", 0.0, 0.0, length, b),
        rectangle("CUT", length - a, 0.0, length, b),
        *_spot(length - a / 2, b / 2, wanted, system),
        Line("CENTRE", grip, 0.0, grip, b),
        Line("CENTRE", whole - grip, 0.0, whole - grip, b),
        Dim(0.0, b, length, b, b + 10.0, show(length, "length", system)),
        Dim(length - a, 0.0, length, 0.0, -8.0, show(a, "length", system)),
        Dim(grip, 0.0, whole - grip, 0.0, -16.0, f"{show(free, 'length', system)} between the clamps"),
        Dim(whole, 0.0, whole, b, whole + 10.0, show(b, "length", system), upright=True),
    ]


def _peel(row: Row, wanted: Wanted, system: System) -> list[Entity]:
    """Two strips one on the other, the weld half a lap from their end."""
    a, b, length = (row.need(c) for c in ("overlap", "width", "coupon_length"))
    return [
        rectangle("CUT", 0.0, 0.0, length, b),
        *_spot(a / 2, b / 2, wanted, system),
        Label(length / 2, b / 2, "two of these, one on the other", across="center"),
        Dim(0.0, b, length, b, b + 10.0, show(length, "length", system)),
        Dim(0.0, 0.0, a / 2, 0.0, -8.0, show(a / 2, "length", system)),
        Dim(length, 0.0, length, b, length + 10.0, show(b, "length", system), upright=True),
    ]


def _cross(row: Row, wanted: Wanted, system: System) -> list[Entity]:
    """Two strips crossed, the weld where they cross, clamp holes at their ends."""
    b, length, hole, apart = (row.need(c) for c in ("width", "length", "hole", "hole_distance"))
    middle = length / 2
    low = middle - b / 2
    ends = (middle - apart / 2, middle + apart / 2)
    return [
        rectangle("CUT", 0.0, low, length, b),
        rectangle("CUT", low, 0.0, b, length),
        *(Circle("HOLE", x, middle, hole / 2) for x in ends),
        *(Circle("HOLE", middle, y, hole / 2) for y in ends),
        *_spot(middle, middle, wanted, system),
        Dim(0.0, low + b, length, low + b, length + 10.0, show(length, "length", system)),
        Dim(ends[0], middle, ends[1], middle, -8.0, show(apart, "length", system)),
        Dim(length, low, length, low + b, length + 10.0, show(b, "length", system), upright=True),
        Label(2.0, low + b + 6.0, f"4 holes {show(hole, 'length', system)}"),
    ]
