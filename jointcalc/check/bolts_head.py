"""The sheet pulled over a head or washer.

EN 1993-1-3 asks for tests of the pull-through of bolts; its value for screws (and AISI's pull-over) is used for head
and washer, and says so.
"""

from __future__ import annotations

from dataclasses import dataclass

from jointcalc.check.bolts_action import Place
from jointcalc.check.bolts_base import Asked, family
from jointcalc.check.bolts_leg import Leg
from jointcalc.check.bolts_ring import Ring, bears, ring, room
from jointcalc.check.common import CHARACTERISTIC, NOMINAL, PARTIAL, Steps
from jointcalc.formula import bolt_holes, bolt_pull, bolts_aisi, bolts_en1993, rupture
from jointcalc.formula.branch import above, below, least, most
from jointcalc.formula.core import Formula
from jointcalc.quantity.sentence import either, joined, mm
from jointcalc.result import Method, Stated, method
from jointcalc.result.factor import omega
from jointcalc.statics.group_common import Array

EN_PUNCHING = method(
    "en1993-1-8.punching",
    "Punching of plate (EN)",
    bolts_en1993.MEMORY,
    per="fastener",
    basis=CHARACTERISTIC,
    factor=PARTIAL,
    covers=("pull-through",),
)
EN_PULL_THROUGH = method(
    "en1993-1-3.pull-through",
    "Pull-through of head (EN)",
    bolts_en1993.SCREW,
    per="fastener",
    basis=CHARACTERISTIC,
    factor=PARTIAL,
    covers=("pull-through",),
)
AISI_PULL_OVER = method(
    "aisi-s100.pull-over",
    "Pull-over of head (AISI)",
    bolts_aisi.PULL_OVER,
    per="fastener",
    basis=NOMINAL,
    factor=omega(bolts_aisi.SAFETY_SCREW),
    covers=("pull-through",),
)
THIN_SHEET, WIDE_SHEET = least(bolts_en1993.SCREW_PULL_THROUGH, "t"), most(bolts_en1993.SCREW_PULL_THROUGH, "t")
"""Range of EN 1993-1-3 Table 8.2 for the sheet under a head [mm]: beyond it thicker sheet counts no more."""
PLATE_FROM = least(bolts_en1993.PUNCHING, "t_p")
FLUSH = "a countersunk head bears on a cone, not on the face: no rule says what pulls it through"


@dataclass(frozen=True, eq=False)
class _Over:
    """One sheet under heads that are pulled, and how a method is asked of it."""

    place: Place
    pull: Array
    ring: Ring
    shown: Steps

    def asked(
        self, method: Method, formula: Formula, inputs: dict[str, float], *, hard: list[str], note: str,
        at_edge: dict[str, float], half: bool = False,
    ) -> Asked:  # fmt: skip
        """A method of this sheet: what left its range is bound by its value at the edge; `half`, a one-sided pull."""
        place, ring, group = self.place, self.ring, self.place.group
        demand = float(self.pull.max())
        flush = [FLUSH] if group.countersunk and place.n == 0 else []
        before: Steps = [*place.before, *self.shown]
        if stop := [*flush, *hard]:
            return Asked(method.outside(stop, demand=demand, trace=before, where=place.where))
        left = [*ring.reasons, *formula.outside(**inputs)]
        at = {**inputs, **at_edge} if left else inputs
        if left and formula.outside(**at):
            return Asked(method.outside(left, demand=demand, trace=before, where=place.where))
        found = formula.evaluate(**at)
        steps: Steps = [*before, found, *self._reduced(half, float(found.value))]
        R = float(steps[-1].value)
        use = method.factor.required(group.load_factor) * self.pull / R
        trace = [*steps, place.action.share("T", self.pull)]
        if left:
            bound = method.at_most(
                left, capacity=R, demand=demand, load_factor=group.load_factor, trace=trace, where=place.where
            )
            return Asked(bound, use)
        words = "pulled from one side: half counts (AISI S100 J4.4.2)" if half else ""
        check = method.judge(
            capacity=R, demand=demand, load_factor=group.load_factor, trace=trace, where=place.where,
            note=joined("; ", (part for part in (note, words) if part)),
        )  # fmt: skip
        return Asked(check, use)

    def _reduced(self, half: bool, R: float) -> Steps:
        """What the ring under the head, and a pull from one side, leave of a strength [N]."""
        steps: Steps = []
        ring = self.ring
        share = ring.at_edge if ring.reasons else ring.share
        if share < 1.0:
            less = bolt_holes.RING_REDUCED.evaluate(k_o=share, F=R)
            steps += [*(ring.steps if not ring.reasons else [Stated("k_o", "1", share, "at the least ring")]), less]
            R = float(less.value)
        if half:
            steps.append(bolt_pull.PULL_OVER_ONE_SIDED.evaluate(P=R))
        return steps


def over_head(place: Place, pull: Array, brackets: tuple[Leg, ...]) -> list[Asked]:
    """Every rule of a head or washer on one sheet."""
    group, sheet, action = place.group, place.sheet, place.action
    d_w, shown = bears(group, sheet.t)
    stands = ring(group, d_w, max(place.d_0, group.slot or 0.0), sheet.t, "the sheet")
    rules = _Over(place, pull, stands, shown)
    eccentric = action.one_sided and (not brackets or place.n in [leg.n for leg in brackets])
    counted = min(d_w, bolts_aisi.MOST_WASHER)
    edge, pitch = room(place, pull)
    d = group.fastener.d
    # the rule has no diameter in it: its range is one of screws
    screw = bolts_en1993.SCREW_PULL_THROUGH
    size = min(max(d, least(screw, "d")), most(screw, "d"))
    t = min(sheet.t, WIDE_SHEET)
    thin = {
        "d_w": d_w, "t": t, "f_u": sheet.f_u, "d": size, "t_1": 1.0, "e_2": edge / d * size, "p_2": pitch / d * size,
    }  # fmt: skip
    near = {"e_2": max(edge / d, least(screw, "e_2 / d")) * size, "p_2": max(pitch / d, least(screw, "p_2 / d")) * size}
    over = (
        []
        if below(sheet.t, PLATE_FROM)
        else [f"t = {mm(sheet.t):.4g}: plate of {mm(PLATE_FROM)} and more goes to EN 1993-1-8"]
    )
    wide = f"; sheet over {mm(WIDE_SHEET)} counts as {mm(WIDE_SHEET)}" if above(sheet.t, WIDE_SHEET) else ""
    plate = bolts_en1993.PUNCHING
    punching = {"d_m": d_w, "t_p": sheet.t, "f_u": sheet.f_u, "d_0": place.d_0, "e_2": edge, "p_1": pitch}
    pull_over = bolts_aisi.PULL_OVER_STRENGTH
    return [
        rules.asked(
            AISI_PULL_OVER,
            pull_over,
            {"t_1": sheet.t, "d_w": counted, "F_u1": sheet.f_u, "d": d, "e": edge, "s": pitch},
            hard=[*family(sheet, "AISI S100"), *_too_thick(sheet.t)],
            note="written for screws" + (f"; {mm(19)} is the most that counts" if counted < d_w else ""),
            at_edge={"e": max(edge, least(pull_over, "e / d") * d), "s": max(pitch, least(pull_over, "s / d") * d)},
            half=eccentric,
        ),
        rules.asked(
            EN_PULL_THROUGH,
            screw,
            thin,
            hard=[*family(sheet, "EN 1993"), *over],
            note=f"written for screws; for bolts the standard asks for a test{wide}",
            at_edge={"t": max(t, THIN_SHEET), **near},
            half=eccentric,
        ),
        rules.asked(
            EN_PUNCHING,
            plate,
            punching,
            hard=family(sheet, "EN 1993"),
            note="",
            at_edge={
                "t_p": max(sheet.t, PLATE_FROM),
                "e_2": max(edge, least(plate, "e_2 / d_0") * place.d_0),
                "p_1": max(pitch, least(plate, "p_1 / d_0") * place.d_0),
            },
        ),
    ]


def _too_thick(t: float) -> list[str]:
    return (
        []
        if below(t, most(rupture.NET_RUPTURE, "t"))
        else [f"AISI S100 is for sheet under {either('3/16 in (4.76 mm)', '3/16 in')}"]
    )
