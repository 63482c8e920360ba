"""Beads along both sides of one panel: read from one text, and the sheet that they make.

Where two cross, the sheet lies as high as the higher of them: that is what is left when one wheel has run over the
other's bead, whose flanks are rolled flat there.  So no section runs through: seen along one bead the sheet is flat
across every bead that it crosses, and folds there.  The values here take it so, on the safe side;
`statics.field` works the real shape out.
"""

from __future__ import annotations

from itertools import pairwise
from typing import NamedTuple

import numpy as np

from jointcalc.errors import InputError, nearest
from jointcalc.formula import bead as formula
from jointcalc.statics import bead as beads
from jointcalc.statics import plate as plates
from jointcalc.statics.bead import Bead, Strip
from jointcalc.statics.plate import Membrane, Rigidity

WAYS = ("long", "short")
AND = "+"
EXAMPLE = "arc:depth=6mm,width=25mm,pitch=75mm + arc:depth=6mm,width=25mm,pitch=75mm,along=short"
STEEPEST_CROSSED = 75.0
"""Slope [degrees] of a flank that another bead can still be rolled over (our choice: an upright one is crushed)."""


class Along(NamedTuple):
    """A bead and the side it says that it runs along; empty where it says nothing."""

    bead: Bead
    way: str


def parse_beads(text: str) -> tuple[Along, ...]:
    """Read one bead, or two that cross, joined by `+`; each may say `along=long` or `along=short`.

    Raises InputError naming what was wrong and the accepted form.
    """
    pieces = [piece.strip() for piece in text.split(AND)]
    if len(pieces) > len(WAYS):
        raise InputError(
            f"{len(pieces)} beads are joined by '{AND}'; a panel has beads along one side, or along both: '{EXAMPLE}'",
            field="bead",
        )
    if not all(pieces):
        raise InputError(f"nothing stands beside the '{AND}'; beads that cross are written '{EXAMPLE}'", field="bead")
    return tuple(_one(piece) for piece in pieces)


def _one(text: str) -> Along:
    family, colon, rest = text.partition(":")
    way, kept = "", []
    for part in rest.split(","):
        name, sign, word = (piece.strip().lower() for piece in part.partition("="))
        if not (sign and name == "along"):
            kept.append(part)
            continue
        if way:
            raise InputError("along is given twice; give it once", field="bead")
        if word not in WAYS:
            raise InputError(f"along: '{word}' is neither {' nor '.join(WAYS)}{nearest(word, WAYS)}", field="bead")
        way = word
    return Along(beads.parse_bead(f"{family}{colon}{','.join(kept)}"), way)


def developed(one: Strip, two: Strip) -> tuple[float, float]:
    """Area of the sheet over that seen from above: of the whole field, and of a square where two beads cross."""
    (l_1, d_1, z_1), (l_2, d_2, z_2) = _pieces(one), _pieces(two)
    first = z_1[:, None] >= z_2[None, :]  # where the sheet is that of `one`
    area = np.where(first, np.outer(l_1, d_2), np.outer(d_1, l_2))
    square = np.ix_(z_1 > 0, z_2 > 0)
    seen = one.bead.pitch * two.bead.pitch
    return float(area.sum() / seen), float(area[square].sum() / np.outer(d_1, d_2)[square].sum())


def _pieces(strip: Strip) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Short pieces of one pitch's mid-line: their lengths, how wide they are seen from above, their heights."""
    line = np.array(beads.path(strip.bead, strip.t, 96))
    fine = np.concatenate([np.linspace(a, b, 25)[:-1] for a, b in pairwise(line)] + [line[-1:]])
    d = np.diff(fine, axis=0)
    middle = (fine[1:, 1] + fine[:-1, 1]) / 2
    return np.hypot(d[:, 0], d[:, 1]), np.abs(d[:, 0]), np.where(middle > 1e-9 * strip.bead.depth, middle, 0.0)


def rigidity(one: Strip, two: Strip, E: float, nu: float) -> Rigidity:
    """Bending rigidities [N mm] of beads `one` along x crossed by beads `two` along y, on the safe side.

    Along either way the beads count between those that they cross, and there the flat sheet; across, where the beads
    along y stop short of the edges, they count for nothing.  Coupling and twisting: the least of the parts.
    """
    flat, _ = plates.flat(E, nu, one.t)
    alone = [beads.rigidity(strip, E, nu) for strip in (one, two)]
    crossed = {"D": flat.D_x, "p": two.bead.pitch, "b": two.bead.width, "L_b": two.bead_length}
    D_x = float(formula.RIGIDITY_CROSSED(D_b=alone[0].D_x, **crossed))
    D_y = min(alone[0].D_y, flat.D_y)
    if not any(two.bead.ends):
        crossed = {"D": flat.D_x, "p": one.bead.pitch, "b": one.bead.width, "L_b": one.bead_length}
        D_y = float(formula.RIGIDITY_CROSSED(D_b=alone[1].D_x, **crossed))
    parts = [flat, *alone]
    return Rigidity(D_x, D_y, min(D.D_1 for D in parts), min(D.D_xy for D in parts))


def membrane(one: Strip, two: Strip, E: float, nu: float) -> Membrane:
    """Stretching stiffnesses [N/mm]: either way the sheet opens over the beads that lie across."""
    along, across = (beads.membrane(strip, E, nu) for strip in (two, one))
    return Membrane(along.A_y, across.A_y, min(along.A_xy, across.A_xy), nu)
