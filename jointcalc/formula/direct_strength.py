"""Direct strength of AISI S100-16 (E2, E3.2, E4, F2, F3.2, F4).

The direct strength formulas take the elastic buckling loads of the whole section, from finite strips
(`jointcalc.section.buckling`), instead of effective widths.  They give nominal strengths: local buckling
in interaction with overall buckling, and distortional buckling by itself; the lower counts.  Inelastic
reserve is left out.

All from memory.
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.branch import at_most
from jointcalc.formula.column import Choice
from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

S100 = "AISI S100-16"
LIMITS = f"{S100} Table B4.1-1"
MOST_YIELD = 655.0
"""Yield strength [MPa] (95 ksi) up to which direct strength is proved, Table B4.1-1, from memory; so are these:"""
MOST_RADIUS, MOST_LIP = 20.0, 0.7
"""Bend radius over thickness; lip over flange."""
MOST_HELD, MOST_LIPPED, MOST_FREE, MOST_WEB = 500.0, 160.0, 60.0, 300.0
"""Flat width over thickness of flats held at both edges, with a lip, with a free edge, of webs that are bent."""


def _source(clause: str, note: str = "") -> Source:
    return Source(S100, clause, status="from memory", note=note)


E2, E32, E4 = _source("E2"), _source("E3.2.1"), _source("E4.1")
F2, F32, F4 = _source("F2"), _source("F3.2.1"), _source("F4.1")

N = Names(
    A_g=("mm^2", "gross area"),
    S_f=("mm^3", "gross section modulus of the face in compression"),
    S_fy=("mm^3", "gross section modulus of the face that yields first"),
    F_y=("MPa", "yield stress"),
    F_n=("MPa", "global buckling stress"),
    P_y=("N", "squash load"),
    P_ne=("N", "nominal strength against global buckling"),
    P_crl=("N", "elastic local buckling load"),
    P_crd=("N", "elastic distortional buckling load"),
    M_y=("N*mm", "moment at first yield"),
    M_ne=("N*mm", "nominal strength against global buckling"),
    M_crl=("N*mm", "elastic local buckling moment"),
    M_crd=("N*mm", "elastic distortional buckling moment"),
)

LOCAL_WHY = "the branches meet at 0.776"
DISTORTIONAL_WHY = "below it nothing is reduced"


# --- columns ------------------------------------------------------------------------------------------


def squash_load(*, A_g: Value, F_y: Value) -> Value:
    """Load [N] at which the whole section yields.  AISI S100-16 E4.1."""
    return A_g * F_y


def global_strength_column(*, A_g: Value, F_n: Value) -> Value:
    """Nominal strength [N] against flexural, torsional or torsional-flexural buckling.  AISI S100-16 E2."""
    return A_g * F_n


def local_slenderness_column(*, P_ne: Value, P_crl: Value) -> Value:
    """Slenderness of local buckling [1].  AISI S100-16 E3.2.1."""
    return np.sqrt(P_ne / P_crl)


def local_strength_column_stocky(*, P_ne: Value) -> Value:
    """Nominal strength [N] where local buckling does not reduce it, slenderness at most 0.776.  AISI S100-16 E3.2.1."""
    return 1.0 * P_ne


def local_strength_column(*, P_ne: Value, P_crl: Value) -> Value:
    """Nominal strength [N], local with global buckling, slenderness above 0.776.  AISI S100-16 E3.2.1."""
    return (1 - 0.15 * (P_crl / P_ne) ** 0.4) * (P_crl / P_ne) ** 0.4 * P_ne


def distortional_slenderness_column(*, P_y: Value, P_crd: Value) -> Value:
    """Slenderness of distortional buckling [1].  AISI S100-16 E4.1."""
    return np.sqrt(P_y / P_crd)


def distortional_strength_column_stocky(*, P_y: Value) -> Value:
    """Nominal strength [N] where distortion does not reduce it, slenderness at most 0.561.  AISI S100-16 E4.1."""
    return 1.0 * P_y


def distortional_strength_column(*, P_y: Value, P_crd: Value) -> Value:
    """Nominal strength [N] of distortional buckling, slenderness above 0.561.  AISI S100-16 E4.1."""
    return (1 - 0.25 * (P_crd / P_y) ** 0.6) * (P_crd / P_y) ** 0.6 * P_y


SQUASH_LOAD = register(Formula(
    squash_load, symbol="P_y", unit="N", title="Squash load", source=E4, names=N))  # fmt: skip
GLOBAL_STRENGTH_COLUMN = register(Formula(
    global_strength_column, symbol="P_ne", unit="N", title="Nominal strength against global buckling", source=E2,
    names=N))  # fmt: skip
LOCAL_SLENDERNESS_COLUMN = register(Formula(
    local_slenderness_column, symbol="lamda_l", unit="1", title="Slenderness of local buckling", source=E32,
    names=N))  # fmt: skip
LOCAL_STRENGTH_COLUMN_STOCKY = register(Formula(
    local_strength_column_stocky, symbol="P_nl", unit="N", title="Nominal strength, no local reduction", source=E32,
    names=N))  # fmt: skip
LOCAL_STRENGTH_COLUMN = register(Formula(
    local_strength_column, symbol="P_nl", unit="N", title="Nominal strength, local with global buckling", source=E32,
    names=N, limits=(Limit("np.sqrt(P_ne / P_crl)", low=0.776, why=LOCAL_WHY),)))  # fmt: skip
DISTORTIONAL_SLENDERNESS_COLUMN = register(Formula(
    distortional_slenderness_column, symbol="lamda_d", unit="1", title="Slenderness of distortional buckling",
    source=E4, names=N))  # fmt: skip
DISTORTIONAL_STRENGTH_COLUMN_STOCKY = register(Formula(
    distortional_strength_column_stocky, symbol="P_nd", unit="N", title="Nominal strength, no distortional reduction",
    source=E4, names=N))  # fmt: skip
DISTORTIONAL_STRENGTH_COLUMN = register(Formula(
    distortional_strength_column, symbol="P_nd", unit="N", title="Nominal strength of distortional buckling",
    source=E4, names=N, limits=(Limit("np.sqrt(P_y / P_crd)", low=0.561, why=DISTORTIONAL_WHY),)))  # fmt: skip


def local_branch_column(*, P_ne: float, P_crl: float) -> Choice:
    """Stocky or slender branch of AISI S100-16 E3.2.1."""
    lamda = float(local_slenderness_column(P_ne=P_ne, P_crl=P_crl))
    if at_most(lamda, 0.776):
        return Choice(LOCAL_STRENGTH_COLUMN_STOCKY, f"local slenderness {lamda:.3f} is at most 0.776")
    return Choice(LOCAL_STRENGTH_COLUMN, f"local slenderness {lamda:.3f} is above 0.776")


def distortional_branch_column(*, P_y: float, P_crd: float) -> Choice:
    """Stocky or slender branch of AISI S100-16 E4.1."""
    lamda = float(distortional_slenderness_column(P_y=P_y, P_crd=P_crd))
    if at_most(lamda, 0.561):
        return Choice(DISTORTIONAL_STRENGTH_COLUMN_STOCKY, f"distortional slenderness {lamda:.3f} is at most 0.561")
    return Choice(DISTORTIONAL_STRENGTH_COLUMN, f"distortional slenderness {lamda:.3f} is above 0.561")


# --- beams --------------------------------------------------------------------------------------------


def yield_moment(*, S_fy: Value, F_y: Value) -> Value:
    """Moment [N mm] at first yield.  AISI S100-16 F2.1."""
    return S_fy * F_y


def global_strength_beam(*, S_f: Value, F_n: Value, M_y: Value) -> Value:
    """Nominal strength [N mm] against lateral-torsional buckling, at most first yield.  AISI S100-16 F2.1."""
    return np.minimum(S_f * F_n, M_y)


def local_slenderness_beam(*, M_ne: Value, M_crl: Value) -> Value:
    """Slenderness of local buckling [1].  AISI S100-16 F3.2.1."""
    return np.sqrt(M_ne / M_crl)


def local_strength_beam_stocky(*, M_ne: Value) -> Value:
    """Nominal strength [N mm] without local reduction, slenderness at most 0.776.  AISI S100-16 F3.2.1."""
    return 1.0 * M_ne


def local_strength_beam(*, M_ne: Value, M_crl: Value) -> Value:
    """Nominal strength [N mm], local with global buckling, slenderness above 0.776.  AISI S100-16 F3.2.1."""
    return (1 - 0.15 * (M_crl / M_ne) ** 0.4) * (M_crl / M_ne) ** 0.4 * M_ne


def distortional_slenderness_beam(*, M_y: Value, M_crd: Value) -> Value:
    """Slenderness of distortional buckling [1].  AISI S100-16 F4.1."""
    return np.sqrt(M_y / M_crd)


def distortional_strength_beam_stocky(*, M_y: Value) -> Value:
    """Nominal strength [N mm] without distortional reduction, slenderness at most 0.673.  AISI S100-16 F4.1."""
    return 1.0 * M_y


def distortional_strength_beam(*, M_y: Value, M_crd: Value) -> Value:
    """Nominal strength [N mm] of distortional buckling, slenderness above 0.673.  AISI S100-16 F4.1."""
    return (1 - 0.22 * (M_crd / M_y) ** 0.5) * (M_crd / M_y) ** 0.5 * M_y


YIELD_MOMENT = register(Formula(
    yield_moment, symbol="M_y", unit="N*mm", title="Moment at first yield", source=F2, names=N))  # fmt: skip
GLOBAL_STRENGTH_BEAM = register(Formula(
    global_strength_beam, symbol="M_ne", unit="N*mm", title="Nominal strength against lateral-torsional buckling",
    source=F2, names=N))  # fmt: skip
LOCAL_SLENDERNESS_BEAM = register(Formula(
    local_slenderness_beam, symbol="lamda_l", unit="1", title="Slenderness of local buckling", source=F32,
    names=N))  # fmt: skip
LOCAL_STRENGTH_BEAM_STOCKY = register(Formula(
    local_strength_beam_stocky, symbol="M_nl", unit="N*mm", title="Nominal strength, no local reduction", source=F32,
    names=N))  # fmt: skip
LOCAL_STRENGTH_BEAM = register(Formula(
    local_strength_beam, symbol="M_nl", unit="N*mm", title="Nominal strength, local with global buckling", source=F32,
    names=N, limits=(Limit("np.sqrt(M_ne / M_crl)", low=0.776, why=LOCAL_WHY),)))  # fmt: skip
DISTORTIONAL_SLENDERNESS_BEAM = register(Formula(
    distortional_slenderness_beam, symbol="lamda_d", unit="1", title="Slenderness of distortional buckling",
    source=F4, names=N))  # fmt: skip
DISTORTIONAL_STRENGTH_BEAM_STOCKY = register(Formula(
    distortional_strength_beam_stocky, symbol="M_nd", unit="N*mm",
    title="Nominal strength, no distortional reduction", source=F4, names=N))  # fmt: skip
DISTORTIONAL_STRENGTH_BEAM = register(Formula(
    distortional_strength_beam, symbol="M_nd", unit="N*mm", title="Nominal strength of distortional buckling",
    source=F4, names=N, limits=(Limit("np.sqrt(M_y / M_crd)", low=0.673, why=DISTORTIONAL_WHY),)))  # fmt: skip


def local_branch_beam(*, M_ne: float, M_crl: float) -> Choice:
    """Stocky or slender branch of AISI S100-16 F3.2.1."""
    lamda = float(local_slenderness_beam(M_ne=M_ne, M_crl=M_crl))
    if at_most(lamda, 0.776):
        return Choice(LOCAL_STRENGTH_BEAM_STOCKY, f"local slenderness {lamda:.3f} is at most 0.776")
    return Choice(LOCAL_STRENGTH_BEAM, f"local slenderness {lamda:.3f} is above 0.776")


def distortional_branch_beam(*, M_y: float, M_crd: float) -> Choice:
    """Stocky or slender branch of AISI S100-16 F4.1."""
    lamda = float(distortional_slenderness_beam(M_y=M_y, M_crd=M_crd))
    if at_most(lamda, 0.673):
        return Choice(DISTORTIONAL_STRENGTH_BEAM_STOCKY, f"distortional slenderness {lamda:.3f} is at most 0.673")
    return Choice(DISTORTIONAL_STRENGTH_BEAM, f"distortional slenderness {lamda:.3f} is above 0.673")
