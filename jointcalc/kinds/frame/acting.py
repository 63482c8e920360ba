"""A frame under the cases of its project: what it carries, and its solution."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

import numpy as np

from jointcalc.errors import InputError
from jointcalc.kinds.frame.model import Frame
from jointcalc.kinds.frame.plan import Plan, lay
from jointcalc.kinds.frame.standing import Key, OnMember, on_elements, own_load, put, weight
from jointcalc.model.given import Context, Field, Given, Station
from jointcalc.quantity.sentence import Sentence
from jointcalc.statics import frame as statics
from jointcalc.statics.frame_line import Array, Line

ROUNDING = 1e-6
"""Part of the greatest force or moment in a frame that is rounding, and given to nobody (our choice)."""


@dataclass
class Solved:
    """A frame solved for all its cases."""

    frame: Frame
    plan: Plan
    keys: list[Key]
    found: statics.Frame
    acting: list[OnMember]
    notes: list[Sentence]
    ways: list[tuple[Station, ...]]
    """Stations of what stands on it, case by case."""
    factors: list[tuple[float | None, float | None]] = field(default_factory=list)
    """(load factor, cycles) of each case."""
    cautions: list[tuple[str, ...]] = field(default_factory=list)
    ranges: dict[int, tuple[Array, Array]] = field(default_factory=dict)
    """Member -> (least, greatest) of N, V_y, V_z, T, M_y, M_z (6, cases), once they are asked for."""
    _lines: dict[int, Line] = field(default_factory=dict)
    _by: dict[tuple[int, int], list[OnMember]] = field(default_factory=dict)

    def line(self, element: int) -> Line:
        """Forces and deflection along an element, worked out once."""
        if element not in self._lines:
            self._lines[element] = self.found.line(element)
        return self._lines[element]

    def but_rounding(self, force: Array, moment: Array, case: int) -> tuple[Array, Array]:
        """A force [N] and a moment [N mm] without those parts that are only rounding beside the frame's greatest."""
        least_force, least_moment = self.rounding
        return (
            np.where(np.abs(force) > least_force[case], force, 0.0),
            np.where(np.abs(moment) > least_moment[case], moment, 0.0),
        )

    @cached_property
    def rounding(self) -> tuple[Array, Array]:
        """Force [N] and moment [N mm] up to which a part of either is only rounding, case by case."""
        ends = np.abs(self.found.end_forces).reshape(len(self.plan.elements), 4, 3, len(self.keys))
        force, moment = ends[:, (0, 2)].max(axis=(0, 1, 2)), ends[:, (1, 3)].max(axis=(0, 1, 2))
        # where nothing bends, moments are rounding of forces on arms
        return ROUNDING * force, ROUNDING * np.maximum(moment, force)

    @cached_property
    def joined(self) -> frozenset[int]:
        """Nodes at which a member is joined to another, or held."""
        seen: dict[int, int] = {}
        for one in self.plan.laid:
            for _, node in one.nodes:
                seen[node] = seen.get(node, 0) + 1
        return frozenset(node for node, n in seen.items() if n > 1) | {node for _, node in self.plan.supports}

    def on(self, member: int, case: int) -> list[OnMember]:
        """What acts on a member in a case."""
        if not self._by:
            for one in self.acting:
                self._by.setdefault((one.member, one.case), []).append(one)
        return self._by.get((member, case), [])


def solved(frame: Frame, context: Context) -> Solved:
    """The frame with everything it carries, solved.  Raises InputError."""
    plan = lay(frame, context.items)
    notes = list(plan.notes)
    stood = _carried(frame, context)
    keys = _keys(frame, stood, context)
    acting: list[OnMember] = []
    ways: list[dict[Station, None]] = [{} for _ in keys]
    cautions: list[dict[str, None]] = [{} for _ in keys]
    factors: list[tuple[float | None, float | None]] = []
    for key in keys:
        case = context.cases.get(key[0])
        factors.append((case.load_factor if case else None, case.cycles if case else None))
    for given in stood:
        k = keys.index((given.case, given.direction))
        acting += put(plan, k, given.at, given.force, given.moment, given.name, notes)
        ways[k].update(dict.fromkeys(given.way))
        cautions[k].update(dict.fromkeys(given.cautions))
        if given.load_factor is not None:
            factors[k] = (given.load_factor, given.cycles)
    for n, load in enumerate(frame.loads):
        for k, key in enumerate(keys):
            mine = own_load(frame.id, plan, n, load, k, key, context, ways[k], notes)
            if mine:
                cautions[k].update(dict.fromkeys((*context.cases[key[0]].cautions, "load-estimate")))
            acting += mine
    if frame.own_weight:
        acting += weight(plan, keys, context)
        notes.append("the members' own weight is carried too, in every case that has an acceleration")
    notes.append(
        "members are joined rigidly where they cross; ends as they are said, fixed where nothing is said; the sheet on "
        "the frame stiffens nothing; movements are small: no thrust softens it, and how it buckles as a whole is not "
        "judged"
    )
    loads: list[statics.NodeLoad | statics.MemberLoad] = []
    for one in acting:
        loads += on_elements(plan, one)
    try:
        found = statics.solve(plan.nodes, plan.elements, loads, cases=len(keys))
    except InputError as error:
        raise InputError(error.message, field={"support": "supports"}.get(error.field, "members")) from error
    said = [Sentence(note) for note in dict.fromkeys(notes)]
    return Solved(
        frame, plan, keys, found, acting, said, [tuple(w) for w in ways], factors,
        [tuple(c) for c in cautions],
    )  # fmt: skip


def _carried(frame: Frame, context: Context) -> list[Given]:
    found: list[Given] = []
    for name in frame.carries:
        if name not in context.given:
            told = ", ".join(sorted(n for n, g in context.given.items() if g)) or "nothing gives loads before a frame"
            raise InputError(f"'{name}' puts no load on anything in this file (these do: {told})", field="carries")
        mine = [one for one in context.given[name] if any(one.force) or any(one.moment)]
        taken = sorted({item for one in mine for item in one.onto if item != frame.id and item in context.items})
        double = [i for i in taken if _asks(context.items[i], frame.id)]
        if double:
            raise InputError(
                f"'{name}' stands on {', '.join(double)} already, which also asks this frame for its load; let it "
                "stand on the frame alone",
                field="carries",
            )
        found += mine
    for item in context.items.values():
        names = [text.split()[1] for text in getattr(item, "load", ()) if len(text.split()) > 1]
        if frame.id in names and set(names) & set(frame.carries):
            both = sorted(set(names) & set(frame.carries))[0]
            raise InputError(
                f"'{both}' stands on this frame, and {item.id} asks for both: it would count twice; let {item.id} ask "
                f"for 'from {frame.id}'",
                field="carries",
            )
    return found


def _asks(item: Any, name: str) -> bool:
    return any(f"{text} ".startswith(f"from {name} ") for text in getattr(item, "load", ()))


def _keys(frame: Frame, stood: Sequence[Given], context: Context) -> list[Key]:
    keys: dict[Key, None] = {(one.case, one.direction): None for one in stood}
    for n, load in enumerate(frame.loads):
        if load.case and load.case not in context.cases:
            raise InputError(f"'{load.case}' is not the id of a [[case]]", field=f"loads: {n + 1}: case")
        for case in context.cases.values():
            if load.case not in ("", case.id):
                continue
            fields = [one for one in case.fields if any(one.acceleration)]
            if load.mass is not None and load.case and not fields:
                raise InputError(
                    f"case '{case.id}' says no acceleration, so a mass weighs nothing in it: give the case one, "
                    "such as '0 0 -1 g'",
                    field=f"loads: {n + 1}: case",
                )
            here = fields if load.mass is not None else (case.fields or (Field(),))
            keys.update({(case.id, one.direction): None for one in here})
    if not keys:
        raise InputError(
            "nothing loads it in any case: name what it 'carries', or give it 'loads' and a [[case]] with an "
            "acceleration such as '0 0 -1 g'",
            field="carries",
        )
    return list(keys)
