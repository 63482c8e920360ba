"""A weld group drawn in the terminal: lines to scale, the peak marked, the use along them, the runs in order."""

from __future__ import annotations

from jointcalc.check.heat import runs_of
from jointcalc.model.fillet import FilletGroup
from jointcalc.quantity.show import System, show
from jointcalc.result import Result
from jointcalc.show.plan import CENTROID, LOAD, PEAK, Plan, bounds

BARS = " .:-=+*#%@"
MOST_BARS = 12


def draw(result: Result, width: int, system: System) -> list[str]:
    """The group seen from above (x right, y up), then how hard each line works, then the order of the runs."""
    welds = result.model
    if not isinstance(welds, FilletGroup):
        return []
    group = welds.group
    # two fillets on one plate are one line on the paper
    drawn = list(welds.lines) if welds.both_sides and welds.stitch is None else group.lines.tolist()
    ends = [(float(x), float(y)) for x1, y1, x2, y2 in drawn for x, y in ((x1, y1), (x2, y2))]
    load = (welds.at[0], welds.at[1]) if welds.at is not None else None
    plan = Plan(bounds(ends, load), width)
    for x1, y1, x2, y2 in drawn:
        plan.line(x1, y1, x2, y2)
    centre = group.sections()
    plan.mark(centre.x, centre.y, CENTROID)
    if not welds.loaded_by_itself:
        return [*plan.lines(), f"  {CENTROID} centroid", *_order(welds, width)]
    if load is not None:
        plan.mark(*load, LOAD)
    elastic = group.elastic(welds.acting)
    plan.mark(*elastic.peak_at, PEAK)
    x, y = (show(v, "length", system, 4) for v in elastic.peak_at)
    lines = plan.lines()
    lines.append(
        f"  {PEAK} peak {show(elastic.peak, 'line load', system)} at x {x}, y {y}   {CENTROID} centroid   {LOAD} load"
    )
    return [*lines, *_along(welds, width), *_order(welds, width)]


def _along(welds: FilletGroup, width: int) -> list[str]:
    """A bar for each line: share of the peak from its start to its end."""
    group = welds.group
    if len(group.lines) > MOST_BARS or welds.stitch is not None:
        return []
    cells = max(10, min(40, width - 30))
    elastic = group.elastic(welds.acting)
    share = elastic.along(cells).resultant / elastic.peak
    if welds.both_sides:
        share = share.reshape(len(welds.lines), 2, cells).max(axis=1)
    lines = ["  share of the peak along each line (blank 0 to @ all of it):"]
    for i, row in enumerate(share):
        bar = "".join(BARS[min(9, int(v * 9.999))] for v in row.tolist())
        lines.append(f"  {i + 1:>3} [{bar}] {max(row.tolist()):.0%}")
    return lines


def _order(welds: FilletGroup, width: int) -> list[str]:
    """The order of the runs along each line: numbers where they lie, arrows the way they are welded."""
    runs = runs_of(welds)
    if not runs:
        return []
    lines = ["  order of runs (each welded towards the start of the line, from its > to its <):"]
    room = max(20, min(width, 100) - 10)
    for line, (x1, y1, x2, y2) in enumerate(welds.lines):
        length = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5
        own = [(n, run) for n, run in enumerate(runs, 1) if run.line == line]
        if len(own) * 4 > room or line >= MOST_BARS:
            lines.append(f"  {line + 1:>3} {len(own)} runs: too many to draw, listed with --json")
            continue
        cells = ["-"] * room
        for n, run in own:
            a, b = (round(v / length * (room - 1)) for v in (run.end, run.start))
            for at in range(a, b + 1):
                cells[at] = "="
            cells[a], cells[b] = "<", ">"
            text = str(n)
            start = (a + b - len(text) + 1) // 2
            for i, sign in enumerate(text):
                cells[start + i] = sign
        lines.append(f"  {line + 1:>3} {''.join(cells)}")
    return lines
