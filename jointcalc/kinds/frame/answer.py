"""What a solved frame says of itself: deflection, the hardest loaded members, reactions, what was assumed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from jointcalc.check.brace_base import DEFLECTION
from jointcalc.kinds.frame.acting import Solved
from jointcalc.kinds.frame.giving import Inside
from jointcalc.kinds.frame.plan import Laid
from jointcalc.model.brace_texts import read_limit
from jointcalc.quantity.sentence import Measure, mm, newtons
from jointcalc.result import Amount, Result, caution, collect

NAMES: Mapping[str, tuple[str, str]] = {
    "M_y": ("moment_max", "N*mm"), "M_z": ("moment_sideways_max", "N*mm"), "T": ("twist_max", "N*mm"),
    "V_z": ("shear_max", "N"), "compression": ("compression_max", "N"), "tension": ("tension_max", "N"),
}  # fmt: skip
"""Force inside a member -> its name among the values, and its unit."""


@dataclass(frozen=True, slots=True)
class Peak:
    """A greatest value over all members and cases: how much, of which member, in which case."""

    value: float
    member: str
    case: str
    at: float = 0.0
    """Place along the member [mm], of a deflection."""


@dataclass(frozen=True, slots=True)
class Held:
    """What a support is pressed with: x, y, z [N] in the case that presses or lifts it most."""

    place: tuple[float, float]
    force: tuple[float, float, float]
    case: str


@dataclass(frozen=True, slots=True)
class Answer:
    """A frame's answer: the result of the contract's shape, and what only a frame has."""

    result: Result
    down: Peak
    peaks: Mapping[str, Peak]
    members: Mapping[str, Mapping[str, float]]
    """Member -> the same names -> greatest value of all cases."""
    supports: tuple[Held, ...]
    notes: tuple[str, ...]

    def json(self) -> dict[str, Any]:
        """The contract's shape with the members, supports and notes beside it."""
        told = self.result.json()
        if not self.result.judged:
            told["status"] = "ok"  # it gives loads and is judged by nothing itself: its braces are
        return {
            **told,
            "members": {
                name: {NAMES[one][0]: {"value": value, "unit": NAMES[one][1]} for one, value in values.items()}
                for name, values in self.members.items()
            },
            "notes": [str(note) for note in self.notes],
        }


def under(key: tuple[str, str]) -> str:
    """A case and its direction in words."""
    return f"{key[0]}, {key[1]}" if key[1] else key[0]


def deflection(s: Solved, one: Laid) -> Peak:
    """The greatest upright movement of a member, with its sign: downwards positive."""
    best = Peak(0.0, one.id, under(s.keys[0]))
    for (start, _), element in zip(one.nodes, one.elements):
        peak = s.line(element).greatest_movement(np.array([0.0, 0.0, -1.0]))
        if abs(peak.value) > abs(best.value):
            best = Peak(peak.value, one.id, under(s.keys[peak.case]), start + peak.at)
    return best


def answer(s: Solved, limit: str = "") -> Answer:
    """The answer of a solved frame; `limit` is the deflection that is allowed, `L/200` of the longest member or `3 mm`.

    Raises InputError for a limit that cannot be read.
    """
    peaks: dict[str, Peak] = {}
    members: dict[str, dict[str, float]] = {}
    for one in s.plan.laid:
        members[one.id] = dict.fromkeys(NAMES, 0.0)
        for k, key in enumerate(s.keys):
            inside = Inside(s, one, k)
            for name in NAMES:
                special = {"compression": inside.greatest_compression, "tension": inside.greatest_tension}
                value = special[name] if name in special else inside.greatest(name)
                members[one.id][name] = max(members[one.id][name], value)
                if name not in peaks or value > peaks[name].value:
                    peaks[name] = Peak(value, one.id, under(key))
    down = max((deflection(s, one) for one in s.plan.laid), key=lambda p: abs(p.value))
    held = []
    for _, node in s.plan.supports:
        forces = -s.found.reactions[node, :3]
        k = int(np.argmax(np.linalg.norm(forces, axis=0)))
        x, y, z = (float(v) + 0.0 for v in s.but_rounding(forces[:, k], np.zeros(3), k)[0])
        at = s.plan.nodes[node].at
        held.append(Held((at[0], at[1]), (x, y, z), under(s.keys[k])))
    values = {"deflection_max": Amount(abs(down.value), "mm")}
    values |= {NAMES[name][0]: Amount(peak.value, NAMES[name][1]) for name, peak in peaks.items()}
    for n, one_held in enumerate(held):
        values |= {f"support_{n + 1}_{axis}": Amount(v, "N") for axis, v in zip("xyz", one_held.force)}
    values["residual"] = Amount(s.found.residual, "1")
    said = (
        f"{s.frame.title}{': ' if s.frame.title else ''}{len(s.plan.laid)} members, {len(s.keys)} "
        f"case{'s' if len(s.keys) != 1 else ''}"
    )
    where = f"of {down.member}, {mm(down.at):.4g} from its start, in {down.case}"
    raised = [code for codes in s.cautions for code in codes]
    result = Result(
        kind="frame",
        id=s.frame.id,
        title="",
        checks=(_limited(s, down, limit, where),),
        values=values,
        cautions=tuple(collect([caution(code) for code in ("engineer-decides", "load-estimate", *raised)])),
        about={"frame": said},
        model=None,
    )
    return Answer(result, down, peaks, members, tuple(held), tuple(s.notes))


def _limited(s: Solved, down: Peak, limit: str, where: str) -> Any:
    longest = max(one.length for one in s.plan.laid)
    read = read_limit(limit, longest)
    if read is None:
        return DEFLECTION.info(
            demand=abs(down.value), unit="mm", note=f"{where}; no limit given: `--limit-deflection` judges it"
        )
    allowed, how = read
    return DEFLECTION.judge(
        capacity=allowed, demand=abs(down.value), required=1.0, unit="mm", note=f"{where}; limit {how}"
    )


def sentences(found: Answer) -> list[tuple[str, str]]:
    """(label, sentence) of everything that is told of a frame."""
    down = found.down
    word = "down" if down.value >= 0 else "up"
    lines = [
        (
            "deflection",
            f"{mm(abs(down.value)):.3g} {word}, {down.member} at {mm(down.at):.4g} from its start, in {down.case}",
        )
    ]
    words = {
        "M_y": "bending moment", "V_z": "shear force", "compression": "pushed along", "tension": "pulled along",
        "M_z": "bending sideways", "T": "twist",
    }  # fmt: skip
    for name, label in words.items():
        peak = found.peaks[name]
        measure: Any = newtons(peak.value) if NAMES[name][1] == "N" else Measure(peak.value / 1e3, unit="N*m")
        if peak.value > 0:
            lines.append((label, f"{measure:.4g}, {peak.member} in {peak.case}"))
    for n, held in enumerate(found.supports):
        x, y, z = held.force
        lines.append(
            (
                f"support {n + 1}",
                f"at {mm(held.place[0], ' ', held.place[1]):g}: {newtons(x, ' ', y, ' ', z):.4g} along x, y, z on what "
                f"holds it, in {held.case}",
            )
        )
    return lines
