"""What stands below the feet of a mount in its project: a check for each link, with the link's own utilisation."""

from __future__ import annotations

import numpy as np

from jointcalc.errors import InputError
from jointcalc.formula.core import Source
from jointcalc.kinds.mount.model import Mount
from jointcalc.model.bolts import FastenerGroup
from jointcalc.model.fields import Item
from jointcalc.model.fillet import FilletGroup
from jointcalc.result import Check, Result, Stated, method
from jointcalc.result.factor import Factor

LINK = method(
    "chain.link",
    "Link of the chain below the feet",
    Source("the link's own checks", "utilisation of the item named", "derivation"),
    per="member",
    basis="utilisation of another item",
    factor=Factor("1 (what the link's own check asks for is in it)", (1.0,)),
)


def links_of(mount: Mount) -> tuple[list[Check], list[str], list[Result]]:
    """One check for each item below the feet, with its own utilisation; what is not judged there; their results."""
    below = dict.fromkeys(one for n in range(len(mount.feet)) for one in mount.below(n))
    if not below:
        return [], [], []
    if mount.context is None:
        raise InputError(
            f"'{next(iter(below))}' is known in a project only; read it with load_project(path)", field="bolts"
        )
    from jointcalc.check import check

    items = mount.context.items
    for one in list(below):
        item = items.get(one)
        if item is None:
            from jointcalc.errors import nearest

            raise InputError(
                f"'{one}' is not the id of an item of this file{nearest(one, sorted(items))}", field="bolts"
            )
        below |= dict.fromkeys(getattr(item, "end_joints", ()))
        if item.kind in (FastenerGroup.kind, FilletGroup.kind) and one in (*mount.bolts, *mount.fillet):
            _same_way(mount, item, item.axes)
    checks, left = [], []
    for one in below:
        item = items[one]
        if one not in mount.links:
            mount.links[one] = check(item)
        result: Result = mount.links[one]
        feet = [n + 1 for n in range(len(mount.feet)) if one in mount.below(n)]
        where = f"under foot {', '.join(map(str, feet))}" if feet else "end of a brace"
        note = where if mount.asked_by(item) or not feet else f"{where}; its load is typed, not taken from {mount.id}"
        worst = result.worst
        if worst is None or worst.utilisation is None:
            checks.append(LINK.outside(f"{note}: {_why(result)}", unit="1", where=one))
        else:
            how = f"{result.kind.replace('_', ' ')} {one}: {worst.title}"
            trace = [Stated("u", "1", worst.utilisation, how, worst.source, worst.provenance)]
            checks.append(
                LINK.judge(capacity=1.0, demand=worst.utilisation, unit="1", where=one, trace=trace, note=note)
            )
        left += [f"{one}: {text}" for text in result.unjudged]
    return checks, left, [mount.links[one] for one in below]


RIGHT = {"z": "x y", "-z": "x -y", "x": "y z", "-x": "y -z", "y": "z x", "-y": "z -x"}
"""Way a surface faces -> axes of a joint that lies in it."""


def _same_way(mount: Mount, joint: Item, axes: str) -> None:
    """InputError where a joint lies another way than the surface the feet stand on: a pull would count as a shear.

    Bolts lie in that surface.  Welds may stand beside it, on the side of a rail: where their axes are said they count.
    """
    bolted = joint.kind == FastenerGroup.kind
    if not bolted and joint.typed("axes"):
        return
    x, y = (np.eye(3)["xyz".index(word[-1])] * (-1.0 if word[0] == "-" else 1.0) for word in axes.split())
    out = np.zeros(3)
    out[mount.axis] = mount.side
    along = float(np.cross(x, y) @ out)
    if (along if bolted else abs(along)) < 0.5:
        raise InputError(
            f"the feet of {mount.id} stand on a surface that faces {mount.faces}, and the axes of {joint.id}, "
            f"'{axes}', do not: its pull would be taken for something else; give it axes such as "
            f"'{RIGHT[mount.faces]}'" + ("" if bolted else ", or those in which its welds lie"),
            field="axes",
        )


def _why(result: Result) -> str:
    if result.unjudged:
        return result.unjudged[0]
    return next((c.note for c in result.checks if c.note), "nothing is judged")


def nothing_below(mount: Mount) -> str:
    """Why a mount without a link below its feet gives forces and no verdict."""
    if mount.resting:
        return "what the feet stand on is not judged: name the brace under them (in a project), or judge it as a panel"
    if mount.context is not None:
        return (
            "no link below the feet is judged: give the mount its bolt and sheets, or name what carries each foot "
            "('bolts', 'fillet', 'brace')"
        )
    return "no link below the feet is judged: give the bolt and the sheets it holds ('bolt', 'sheets')"
