"""Whether the bead can be made: strain across it and at its run-out, the radius of its bends, what it draws in.

A bead is stretched out of the sheet where that cannot move (`rolled = "held"`, taken where nothing is said), or draws
the sheet in from both sides (`"loose"`).  Held, it grows across by its developed length, and at the run-out along
itself as well: the sheet is doubly curved there and thins most.  Loose, only its bends strain it, the ramp stretches
along the crown, and the sheet beside the ramp shears, drawn in at one end and not at the other.  Real rolling lies
between the two; both are worked out and told, and the one that is said is judged.
"""

from __future__ import annotations

from jointcalc.check.brace_making import least_radius
from jointcalc.check.common import LIMIT
from jointcalc.check.panel_action import PanelAction
from jointcalc.formula import bead as bead_formulas
from jointcalc.formula.core import Evaluation, Source
from jointcalc.result import DETAILING, Amount, Check, Looked, Result, Stated, method
from jointcalc.statics import bead as beads

STRAIN = method("forming.bead-strain-max", "Strain of the bead", bead_formulas.DRAW, per="member", basis=DETAILING,
               bound="greatest",
                factor=LIMIT)  # fmt: skip
RUN_OUT = method("forming.bead-run-out-strain-max", "Strain at the run-out", bead_formulas.RUN_OUT, per="member",
                 basis=DETAILING, bound="greatest", factor=LIMIT)  # fmt: skip
RADIUS = method("forming.bead-radius-min", "Radius of the bead's bends",
                Source("press-brake practice", "1 t, drawing steel 0.5 t; high strength by elongation",
                       "common practice"), per="member", basis=DETAILING, bound="least", factor=LIMIT)  # fmt: skip

OVER_ANOTHER = method("forming.bead-crossing", "Bead rolled over another", bead_formulas.CREASE, per="member",
                      basis=DETAILING, bound="greatest", factor=LIMIT)  # fmt: skip

MAKING = frozenset(m.key for m in (STRAIN, RUN_OUT, RADIUS, OVER_ANOTHER))
"""What judges the making and not the carrying."""


def forming(action: PanelAction) -> list[Check]:
    """Strain of the beads and of their run-outs against the elongation of the sheet, their bends against the least."""
    made, other = action.panel.making, action.panel.cross_making
    if made is None:
        return []
    if other is None:
        return _rolled(action, made, "")
    (one, _), (two, _) = action.panel.beads
    return [*_rolled(action, made, one), *_rolled(action, other, two), _over_another(action)]


def _over_another(action: PanelAction) -> Check:
    """Where one bead is rolled over another: no less than the sheet grows there, and no rule for how much more."""
    about, growth = action.sheet.material, action.panel.crossing_growth
    reason = (
        "where one bead is rolled over another, its flanks are rolled flat and stretched again; no published rule says "
        "by how much: roll a coupon"
    )
    if action.panel.rolled != "held" or about.elongation is None:
        return OVER_ANOTHER.outside(reason, unit="1")
    trace: list[Stated | Looked] = [
        Stated("e_x", "1", growth, "growth in area of the square where two beads cross, stretched in place"),
        Looked("A", "1", about.elongation, "materials", f"elongation of {about.grade}",
               Source(about.standard, "", "from memory")),
    ]  # fmt: skip
    return OVER_ANOTHER.at_most(reason, capacity=about.elongation, demand=growth, unit="1", trace=trace)


def _rolled(action: PanelAction, made: beads.Making, where: str) -> list[Check]:
    """One set of beads; `where` is the side it runs along, of two that cross."""
    about, strip = action.sheet.material, made.strip
    checks = [_radius(action, made, where)]
    if about.elongation is None:
        why = f"no elongation is tabulated for {about.grade}"
        wanted = ((STRAIN, made.across), (RUN_OUT, made.run_out))
        return checks + [how.outside(why, demand=e, unit="1", where=where) for how, e in wanted if e is not None]
    source = Source(about.standard, "", "from memory")
    looked = Looked("A", "1", about.elongation, "materials", f"elongation of {about.grade}", source)
    if made.across is not None:
        if made.held:
            evaluated = bead_formulas.BEAD_STRAIN.evaluate(L_b=strip.bead_length, b=strip.bead.width)
            making = beads.forming(made.across, about.elongation)
            other = "" if made.drawn is None else f"; drawn in from the sides {100 * made.drawn:.2g} %, at the faces"
        else:
            evaluated = bead_formulas.FACE_STRAIN.evaluate(t=strip.t, R_m=strip.shape.crown)
            making = beads.forming(made.across, about.elongation, what="strain at the faces, drawn in,")
            other = f"; stretched in place it would be {100 * strip.strain:.3g} %"
        checks.append(
            STRAIN.judge(
                capacity=about.elongation, demand=made.across, unit="1", trace=[evaluated, looked], where=where,
                note=f"{making.verdict}: {making.why}{other}",
            )
        )  # fmt: skip
    if made.run_out is not None:
        making = beads.forming(made.run_out, about.elongation, what="growth at the run-out")
        eased = "" if making.verdict == "fine" else "; a longer run-out eases it"
        checks.append(
            RUN_OUT.judge(
                capacity=about.elongation, demand=made.run_out, unit="1", trace=[*_ramp(made), looked], where=where,
                note=f"{making.verdict}: {making.why}{eased}",
            )
        )  # fmt: skip
    return checks


def _ramp(made: beads.Making) -> list[Evaluation]:
    bead, strip, x_r = made.strip.bead, made.strip, made.ramp
    if made.held:
        return [bead_formulas.RUN_OUT_STRAIN.evaluate(L_b=strip.bead_length, b=bead.width, f=bead.depth, x_r=x_r)]
    return [
        bead_formulas.CROWN_STRAIN.evaluate(f=bead.depth, x_r=x_r),
        bead_formulas.DRAWN_SHEAR_STRAIN.evaluate(L_b=strip.bead_length, b=bead.width, x_r=x_r),
    ]


def _radius(action: PanelAction, made: beads.Making, where: str) -> Check:
    least = least_radius(action.sheet, made.radius, action.t)
    rule = Stated("r_min", "mm", least, "least inside radius", "in high strength steel what the elongation asks for")
    note = "one thickness is taken; state 'r'" if made.radius_taken else "inside radius of the tightest bend stated"
    return RADIUS.judge(capacity=made.radius, demand=least, unit="mm", trace=[rule], note=note, where=where)


def values(action: PanelAction) -> dict[str, Amount]:
    """Strains as made in place and drawn in, what is drawn in, and how wide the sheet is that it needs."""
    made = action.panel.making
    found = {"bead_strain": Amount(0.0 if made is None else made.strip.strain, "1")}
    if made is not None and made.drawn is not None:
        found["bead_strain_drawn"] = Amount(made.drawn, "1")
    if made is not None and made.held_run_out is not None:
        found["run_out_strain"] = Amount(made.held_run_out, "1")
    found["draw_in"] = Amount(action.panel.draw_in, "mm")
    found["blank_across"] = Amount(action.b + action.panel.draw_in, "mm")
    if action.panel.cross is not None:
        found["draw_in_along"] = Amount(action.panel.draw_in_along, "mm")
        found["blank_along"] = Amount(action.a + action.panel.draw_in_along, "mm")
        found["crossing_growth"] = Amount(action.panel.crossing_growth, "1")
    return found


WORST = ("fine", "marginal", "fails")


def bead_verdict(result: Result) -> str:
    """fails, marginal or fine, as bead and run-out were judged; empty for a flat sheet or an unknown elongation."""
    words = [
        check.note.partition(":")[0]
        for check in result.checks
        if check.method.key in (STRAIN.key, RUN_OUT.key) and check.status != "outside"
    ]
    return max(words, key=WORST.index, default="")
