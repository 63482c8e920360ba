"""A frame as it is seen: its plan in characters, and its sheet in the dossier."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from jointcalc.kinds.frame.acting import Solved
from jointcalc.kinds.frame.answer import NAMES, Answer, answer, sentences
from jointcalc.quantity.sentence import Sentence
from jointcalc.quantity.show import System
from jointcalc.quantity.show import show as shown

if TYPE_CHECKING:
    from jointcalc.dossier.figures.canvas import Picture
    from jointcalc.kinds.frame.model import Frame

SUPPORT, DEEPEST = "^", "X"
COLUMNS = ("M_y", "V_z", "compression", "tension", "M_z", "T")
WORDS = ("Bending", "Shear", "Pushed", "Pulled", "Sideways", "Twist")
TALLEST = 110.0
"""Height of the drawing at most [mm]."""


def sketch(s: Solved, found: Answer, width: int) -> list[str]:
    """The plan from above to scale, x to the right and y up, with its legend."""
    from jointcalc.show.plan import Plan

    corners = [(float(p[0]), float(p[1])) for one in s.plan.laid for p in (one.start, one.end)]
    plan = Plan(corners, width, height=17)
    for one in s.plan.laid:
        plan.line(float(one.start[0]), float(one.start[1]), float(one.end[0]), float(one.end[1]))
    for one in s.plan.laid:
        at = one.point(one.length / 2)
        for n, letter in enumerate(one.id[:8]):
            plan.mark(float(at[0]) + n / plan.scale, float(at[1]), letter)
    for held in found.supports:
        plan.mark(*held.place, SUPPORT)
    deepest = next(one for one in s.plan.laid if one.id == found.down.member)
    at = deepest.point(found.down.at)
    plan.mark(float(at[0]), float(at[1]), DEEPEST)
    return [*plan.lines(), f"  from above, x to the right, y up; {SUPPORT} support, {DEEPEST} greatest deflection"]


def sheet(frame: Frame, system: System) -> dict[str, Any]:
    """Heading, picture, lines, table of members and notes of a frame, as the dossier's template takes them."""
    from jointcalc.dossier.words import amount, breakable, short, unflagged

    solved: Solved = frame.solved
    found = answer(solved)
    most = {
        unit: max(found.peaks[name].value for name, (_, own) in NAMES.items() if own == unit) for unit in ("N", "N*mm")
    }
    rows = []
    for one in solved.plan.laid:
        values = found.members[one.id]
        cells = [
            amount(shown(values[name], "force" if NAMES[name][1] == "N" else "moment", system))
            if values[name] > 1e-9 * most[NAMES[name][1]]
            else "-"
            for name in COLUMNS
        ]
        rows.append([breakable(short(one.id, 24), 12), breakable(short(_made_of(one), 90), 30), *cells])
    return {
        "heading": breakable(f"{frame.id} {frame.title}".strip()),
        "reason": breakable(frame.reason),
        "picture": draw(solved, found, system),
        "lines": [[label, breakable(unflagged(Sentence(text).to(system)))] for label, text in sentences(found)],
        "header": ["Member", "Made of", *WORDS],
        "members": rows,
        "notes": [breakable(unflagged(Sentence(note).to(system))) for note in found.notes],
    }


def _made_of(one: Any) -> str:
    lies = "" if one.section.family.level_symmetric else (", flanges up" if one.turned else ", crown up")
    return f"{one.section.profile} {one.section.grade}{lies}"


def draw(solved: Solved, found: Answer, system: System) -> Picture:
    """The plan to scale: members with their names, supports as triangles, the greatest deflection as a ring."""
    from jointcalc.dossier.figures.canvas import (
        BLUE,
        BOLD_LINE,
        GREY,
        INK,
        RED,
        THIN_LINE,
        WIDTH,
        Canvas,
        scale_for,
        show,
        text_width,
    )
    from jointcalc.dossier.words import short

    ends = [p for one in solved.plan.laid for p in (one.start, one.end)]
    xs, ys = [float(p[0]) for p in ends], [float(p[1]) for p in ends]
    wide, high = max(xs) - min(xs), max(ys) - min(ys)
    scale = min(scale_for(max(wide, 1.0), WIDTH - 46), scale_for(max(high, 1.0), TALLEST - 34))
    canvas = Canvas(high * scale + 34)
    left, low = (WIDTH - wide * scale) / 2, 22.0

    def at(x: float, y: float) -> tuple[float, float]:
        return left + (x - min(xs)) * scale, low + (y - min(ys)) * scale

    for one in solved.plan.laid:
        a, b = at(float(one.start[0]), float(one.start[1])), at(float(one.end[0]), float(one.end[1]))
        canvas.line(
            [a, b], width=BOLD_LINE if one.item is not None else 2 * BOLD_LINE, colour=BLUE if one.item else INK
        )
        canvas.circles([a, b], 0.5, fill=INK, width=0.1)
    for one in solved.plan.laid:
        # beside the line, near its start
        p = one.start + (one.end - one.start) * 0.2
        x, y = at(float(p[0]), float(p[1]))
        name = short(one.id, 16)
        level = abs(one.along[0]) > abs(one.along[1])
        canvas.text(x if level else x + 1.5 + text_width(name) / 2, y + 2.6 if level else y, name, back=True)
    for n, held in enumerate(found.supports):
        x, y = at(*held.place)
        canvas.area([(x, y), (x - 2.0, y - 3.4), (x + 2.0, y - 3.4)], fill="#ffffff", edge=INK, width=THIN_LINE)
        canvas.text(x + 3.0, y - 3.0, str(n + 1), size=7, across="left")
    deepest = next(one for one in solved.plan.laid if one.id == found.down.member)
    p = deepest.point(found.down.at)
    centre = at(float(p[0]), float(p[1]))
    canvas.circles([centre], 1.6, edge=RED, width=BOLD_LINE)
    word = show(abs(found.down.value), "length", system)
    canvas.text(centre[0] + 2.6 + text_width(word) / 2, centre[1] + 2.8, word, back=True)
    if wide > 0:
        canvas.across(left, left + wide * scale, 7, show(wide, "length", system), of=low - 5)
    if high > 0:
        canvas.upright(left + wide * scale + 11, low, low + high * scale, show(high, "length", system),
                       of=left + wide * scale + 5)  # fmt: skip
    canvas.line([(2, 2), (12, 2)], width=THIN_LINE, colour=GREY)
    canvas.text(13, 2, "x", across="left")
    names = ", ".join(one.id for one in solved.plan.laid[:20])
    return canvas.picture(
        f"Plan to scale of the frame {solved.frame.id} from above with its members {names}, its supports and the place "
        "of its greatest deflection.",
        "Plan to scale: thin lines are braces that are judged, thick lines other members; triangles are "
        "supports, the ring is where it bends most.",
        scales=[("", scale)],
        system=system,
    )
