"""A thing on its feet: the plan in characters, the forces in a table, and the figure of the dossier."""

from __future__ import annotations

from collections.abc import Mapping
from math import hypot
from typing import TYPE_CHECKING

from jointcalc.kinds.mount.acting import Acting, acting, parts
from jointcalc.kinds.mount.check import sentence
from jointcalc.kinds.mount.model import Mount
from jointcalc.quantity.sentence import printed
from jointcalc.quantity.show import System, figures, percent, show
from jointcalc.quantity.units import KINDS
from jointcalc.result import Result
from jointcalc.show.plan import CENTRE, PEAK, Plan, bounds

if TYPE_CHECKING:
    from jointcalc.dossier.figures.canvas import Picture

MOST_NUMBERED = 9
MOST_ROWS = 7
"""Lines of the plan."""


def draw(result: Result, width: int, system: System) -> list[str]:
    """The feet seen from the side they stand on, the centre and the worst foot marked; every direction's forces."""
    mount = result.model
    if not isinstance(mount, Mount):
        return []
    acts = acting(mount)
    lines = _plan(result, mount, width, system)
    used = {one.standing.under: one.utilisation for one in result.loads}
    lines += _table(mount, acts, used, width, system)
    if chain := sentence(result):
        lines += ["", str(chain)]
    return lines


def _plan(result: Result, mount: Mount, width: int, system: System) -> list[str]:
    points = mount.on_surface
    if len(points) == 1:
        return []
    centre = None if mount.centre is None else mount.local(mount.centre)[:2]
    plan = Plan(bounds(points, centre), min(width, 60), MOST_ROWS)
    if centre is not None:
        plan.mark(*centre, CENTRE)
    for n, place in enumerate(points):
        plan.mark(*place, str(n + 1) if len(points) <= MOST_NUMBERED else "0")
    legend = ["1 ... feet" if len(points) <= MOST_NUMBERED else "0 feet"]
    if centre is not None:
        x, y, z = (show(v, "length", system, 4) for v in mount.centre or ())
        legend.append(f"{CENTRE} centre at x {x}, y {y}, z {z}")
    worst = result.values.get("worst_foot")
    if worst is not None and worst.value is not None:
        plan.mark(*points[int(worst.value) - 1], PEAK)
        legend.append(f"{PEAK} worst foot, {int(worst.value)}")
    return [*plan.lines(), f"  {'   '.join(legend)}"]


def _table(
    mount: Mount, acts: tuple[Acting, ...], used: Mapping[str, float | None], width: int, system: System
) -> list[str]:
    """Pull (+) or press (-) and shear of every foot, a line for each direction, and what is used."""
    largest = (
        max(abs(float(v)) for act in acts if act.stands for v in act.force.flat) if any(a.stands for a in acts) else 0.0
    )
    unit, factor = _unit(system, largest)
    rows = []
    for act in acts:
        cells = []
        for force in act.force:
            if not act.stands:
                cells.append("tips")
                continue
            off, along = parts(mount, force)
            cells.append(f"{figures(off / factor, 3)} / {figures(along / factor, 3)}")
        rows.append((act.under, cells, percent(used.get(act.under)) if used else ""))
    first = min(max(len(name) for name, *_ in rows), 30)
    size = max(8, *(len(cell) for _, cells, _ in rows for cell in cells))
    fit = max(1, (min(width, 100) - first - (7 if used else 0)) // (size + 2))
    lines = ["", f"On each foot: pull off the surface (- presses) / along it [{unit}]"]
    for start in range(0, len(mount.feet), fit):
        some = range(start, min(start + fit, len(mount.feet)))
        head = "  ".join(f"foot {n + 1}".rjust(size) for n in some)
        lines.append(f"{' ' * first}  {head}{'   used' if used else ''}".rstrip())
        for name, cells, share in rows:
            shown = name if len(name) <= first else name[: first - 1] + "…"
            lines.append(f"{shown.ljust(first)}  {'  '.join(cells[n].rjust(size) for n in some)}{share:>7}".rstrip())
    return lines


def _unit(system: System, largest: float) -> tuple[str, float]:
    """The unit of the table: the larger of two where the largest force asks for it."""
    known = KINDS["force"].metric if system == "metric" else KINDS["force"].inch
    return next((one for one in reversed(known) if largest >= 10 * one[1]), known[0])


def figure(result: Result, system: System) -> list[Picture]:
    """The feet to scale with what each gets under the governing load, and the centre of the thing."""
    from jointcalc.dossier.figures.canvas import BOLD_LINE, GREY, PALE, RED, THIN_LINE
    from jointcalc.dossier.figures.canvas import show as lettered
    from jointcalc.dossier.figures.groups import View

    mount: Mount = result.model
    points = mount.on_surface
    centre = None if mount.centre is None else mount.local(mount.centre)[:2]
    view = View(points, centre)
    canvas = view.canvas
    loads = [[result.values[f"foot_{n + 1}_{axis}"].value for axis in "xyz"] for n in range(len(points))]
    canvas.circles([view.at(*p) for p in points], 1.6, fill=PALE)
    told = []
    for n, (place, force) in enumerate(zip(points, loads)):
        x, y = view.at(*place)
        if any(v is None for v in force):
            told.append(f"foot {n + 1} is not in equilibrium")
            continue
        a, b, off = mount.local([v or 0.0 for v in force])
        size = hypot(a, b)
        if size:
            canvas.arrow((x, y), (x + 9 * a / size, y + 9 * b / size), colour=RED, width=BOLD_LINE)
        words = f"{'pulls' if off > 0 else 'presses'} {lettered(abs(off), 'force', system)}"
        told.append(f"foot {n + 1} {words}, {lettered(size, 'force', system)} along the surface")
        if len(points) <= MOST_NUMBERED:
            canvas.text(x + 2.4, y - 3.4, str(n + 1), across="left", size=7)
    view.frame(system)
    if centre is not None and view.load is not None:
        x, y = view.at(*view.load)
        canvas.circles([(x, y)], 1.8, edge=GREY, width=THIN_LINE)
        canvas.lines([[(x - 2.6, y), (x + 2.6, y)], [(x, y - 2.6), (x, y + 2.6)]], width=THIN_LINE, colour=GREY)
    worst = result.values.get("worst_foot")
    if worst is not None and worst.value is not None and len(points) > 1:
        view.mark(points[int(worst.value) - 1], f"worst, no. {int(worst.value)}")
    under = result.about.get("worst", "")
    far = " The centre lies outside the drawing; its direction is true." if view.far else ""
    return [
        canvas.picture(
            f"{result.id}: {len(points)} feet seen on the surface they stand on; {'; '.join(told)}.",
            f"{result.id}: feet to scale, ring and cross: the centre; arrows: the part along the "
            f"surface. {printed(under, system)}{far}".strip(),
            scales=[("", view.scale)],
            system=system,
        )
    ]
