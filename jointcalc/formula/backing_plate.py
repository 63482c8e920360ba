"""Head, washer and backing plate in tension against thin sheet: what pulls through, and what plate holds.

No standard gives a rule for a spreader plate that bends.  The rule here is our own lower bound, derived so:

1. Sheet.  A ring of radius R that pushes on sheet of thickness t is held by k_p f_u t per length of diameter:
   P = k_p 2 R t f_u.  EN 1993-1-8 Table 3.4 has k_p = 0.6 pi for plate of 3 mm and more; in thin sheet, which gives
   way by dishing, EN 1993-1-3 Table 8.2 has 1.0 for the heads of screws (AISI S100 has 1.5 with a factor of 3).
2. Plate.  A plate on that ring, with a hole of radius h and pulled along the circle of radius c (the edge of washer or
   head), carries P = 2 pi m_p (R - h)/(R - c) with m_p = f_y t_p^2/4.  The moments behind it: tangential m_p
   everywhere; radial nought at the hole and at the ring, rising to m_p (1 - h/c) at c.  They balance the load and stay
   inside the yield condition of Tresca, so the static theorem of plasticity makes P safe.
3. The ring may lie at any R between c and the plate's rim; a larger R helps the sheet and strains the plate.  With
   P_s = k_p d_w t f_u (washer alone on sheet) and M = 2 pi m_p, both carry the same P where
   P^2 - (P_s + M) P + M P_s d_h/d_w = 0.  Without a hole that is simply P_s + M.
4. R cannot pass the rim: P <= k_p 2 R_p t f_u with R_p the radius of the largest circle in the plate, or what there is
   of sheet to its nearest edge.

It assumes plate and sheet ductile, the plate flat against the sheet, no help from the sheet's membrane action, and no
weld between plate and sheet.  Elastic stress and deflection of the plate stand beside it after Roark.
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

OURS = Source("limit analysis of plates with the pull-through rules of EN 1993", "own derivation", status="derivation")
PULL_THROUGH = Source("EN 1993-1-3:2006 Table 8.2 (k_p = 1.0)", "EN 1993-1-8 Table 3.4 (k_p = 0.6 pi)", "from memory")
ROARK = Source("Roark's Formulas for Stress and Strain", "Table 11.2, case 16", status="from memory")
CONTACT = Source("own derivation, mean contact pressure at yield", "", status="derivation")

PLATE_FROM = 3.0
"""Thickness [mm] from which on sheet is plate."""
K_P_SHEET = 1.0
"""k_p below that."""
K_P_PLATE = 0.6 * np.pi
"""k_p from there on."""

NAMES = Names(
    c=("mm", "radius at which head or washer pulls on the plate"),
    R=("mm", "radius of the ring on which the plate rests"),
    R_p=("mm", "radius of the largest circle in the plate that lies on the sheet"),
    k_p=("1", "pull-through force over diameter, thickness and strength: 1.0 in thin sheet, 0.6 pi in plate"),
    d_w=("mm", "diameter of head or washer on the sheet or plate"),
    d_h=("mm", "diameter of the hole"),
    t=("mm", "thickness of the sheet"),
    t_p=("mm", "thickness of the plate"),
    f_u=("MPa", "tensile strength of the sheet"),
    f_y_p=("MPa", "yield strength of the plate"),
    m_p=("N*mm/mm", "plastic moment of the plate per width"),
    P=("N", "pull of the fastener"),
    P_s=("N", "pull-through resistance of the sheet over head or washer alone"),
    E=("MPa", "modulus of elasticity of the plate"),
    nu=("1", "Poisson ratio of the plate"),
)


def sheet_pull_through(*, k_p: Value, d_w: Value, t: Value, f_u: Value) -> Value:
    """Resistance [N] of the sheet against being pulled over head or washer of diameter `d_w` [mm].

    EN 1993-1-3 states it for screws and asks for tests of bolts; head and washer are the same to the sheet.
    Source: EN 1993-1-3:2006, Table 8.2 or EN 1993-1-8:2005, Table 3.4, without gamma_M2 (from memory).
    """
    return k_p * d_w * t * f_u


def plastic_moment(*, f_y_p: Value, t_p: Value) -> Value:
    """Plastic moment m_p [N·mm/mm] of a plate per width.  Source: theory of plasticity."""
    return f_y_p * t_p**2 / 4.0


def plate_on_ring(*, m_p: Value, R: Value, d_h: Value, c: Value) -> Value:
    """Collapse load [N] of a plate with a hole, simply supported on a ring of radius `R`, pulled along a circle `c`.

    Source: own derivation (module text, 2); d_h = 0 and c -> 0 give the known 2 pi m_p of a simply supported plate
    under a point load.
    """
    return 2.0 * np.pi * m_p * (R - d_h / 2.0) / (R - c)


def plate_and_sheet(*, P_s: Value, m_p: Value, d_h: Value, d_w: Value) -> Value:
    """Pull-through resistance [N] of sheet with a plate between it and the washer, plate larger than needed.

    Source: own derivation (module text, 3).
    """
    M = 2.0 * np.pi * m_p
    return (P_s + M + np.sqrt((P_s + M) ** 2 - 4.0 * M * P_s * d_h / d_w)) / 2.0


def sheet_at_rim(*, k_p: Value, R_p: Value, t: Value, f_u: Value) -> Value:
    """Resistance [N] of the sheet on the largest circle in the plate, which no plate thickness can exceed here.

    Source: own derivation (module text, 4).
    """
    return k_p * 2.0 * R_p * t * f_u


def working_radius(*, P: Value, k_p: Value, t: Value, f_u: Value) -> Value:
    """Radius R [mm] of the ring on which the sheet holds the pull `P` [N]; the plate must reach that far.

    Source: own derivation, `sheet_at_rim` solved for the radius.
    """
    return P / (k_p * 2.0 * t * f_u)


def contact_pressure_limit(*, d_w: Value, d_h: Value, f_y_p: Value) -> Value:
    """Pull [N] at which the mean pressure of head or washer on the plate reaches the plate's yield strength.

    On the safe side: confined metal stands more.
    Source: own derivation.
    """
    return np.pi / 4.0 * (d_w**2 - d_h**2) * f_y_p


def plate_stress(*, P: Value, t_p: Value, nu: Value, R: Value, c: Value) -> Value:
    """Elastic bending stress [MPa] at the centre of a circular plate, simply supported at `R`.

    `P` acts on a small circle of radius `c`.
    Source: Roark, Table 11.2 case 16 (from memory): M_c = P/(4 pi) ((1 + nu) ln(R/c) + 1), sigma = 6 M/t².
    """
    M_c = P / (4.0 * np.pi) * ((1.0 + nu) * np.log(R / c) + 1.0)
    return 6.0 * M_c / t_p**2


def plate_deflection(*, P: Value, R: Value, E: Value, t_p: Value, nu: Value) -> Value:
    """Elastic deflection [mm] at the centre of a circular plate, simply supported at `R`, pulled at its centre.

    Source: Roark, Table 11.2 case 16 (from memory): P R² (3 + nu) / (16 pi D (1 + nu)).
    """
    D = E * t_p**3 / (12.0 * (1.0 - nu**2))
    return P * R**2 / (16.0 * np.pi * D) * (3.0 + nu) / (1.0 + nu)


def _enter(
    function: Value, symbol: str, unit: str, title: str, source: Source, *limits: Limit, **inner: str
) -> Formula:
    return register(
        Formula(
            function,
            symbol=symbol,
            unit=unit,
            title=title,
            source=source,
            names=NAMES,
            limits=limits,
            inner_units=inner,
        )
    )


E, NU = 210e3, 0.3
"""Elasticity of the plate's steel [MPa], and Poisson's ratio (EN 1993-1-1, 3.2.6)."""
HOLE = Limit("d_h / d_w", high=1.0, open_high=True, why="the hole lies inside head or washer")
RING = Limit("R / c", low=1.0, open_low=True, why="the ring lies outside the washer")
SHEET_PULL_THROUGH = _enter(
    sheet_pull_through, "P_s", "N", "Pull-through of the sheet over head or washer", PULL_THROUGH
)
PLASTIC_MOMENT = _enter(plastic_moment, "m_p", "N*mm/mm", "Plastic moment of the plate per width", OURS)
PLATE_ON_RING = _enter(plate_on_ring, "P", "N", "Collapse of a plate on a ring", OURS, RING)
PLATE_AND_SHEET = _enter(plate_and_sheet, "P", "N", "Sheet and bending plate together", OURS, HOLE, M="N*mm/mm")
SHEET_AT_RIM = _enter(sheet_at_rim, "P", "N", "Sheet at the rim of the plate", OURS)
WORKING_RADIUS = _enter(working_radius, "R", "mm", "Radius out to which the plate must reach", OURS)
CONTACT_PRESSURE_LIMIT = _enter(contact_pressure_limit, "P", "N", "Washer bearing on the plate", CONTACT)
PLATE_STRESS = _enter(
    plate_stress,
    "sigma",
    "MPa",
    "Elastic stress in the plate",
    ROARK,
    RING,
    Limit("c / t_p", low=0.5, why="a load on less than half the thickness needs Roark's equivalent radius"),
    M_c="N*mm/mm",
)
PLATE_DEFLECTION = _enter(plate_deflection, "w", "mm", "Elastic deflection of the plate", ROARK, D="N*mm")
