"""Effective throats of flare groove and partial-penetration groove welds, AISC 360-16 J2.1.

R is the outside corner radius, usually taken as twice the wall for hollow sections.  The factor on R
depends on groove and process: table `flare_throat`.
"""

from __future__ import annotations

from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register
from jointcalc.tables import load

N = Names(
    k_R=("1", "throat over radius for groove and process"),
    R=("mm", "outside corner radius"),
    gap=("mm", "depth left from the weld face to flush"),
    F_EXX=("MPa", "tensile strength of the weld metal by classification"),
    t_e=("mm", "effective throat"),
)


def flare_throat(*, k_R: Value, R: Value, gap: Value) -> Value:
    """Effective throat [mm] of a flare weld, less the depth it is under-filled by.

    Source: AISC 360-16 Table J2.2.
    """
    return k_R * R - gap


def groove_shear_strength(*, F_EXX: Value, t_e: Value) -> Value:
    """Nominal shear strength per length [N/mm] of a flare or partial-penetration groove weld.

    Source: AISC 360-16 Table J2.5.
    """
    return 0.60 * F_EXX * t_e


READ = Source("AISC 360-16", "Table J2.2", "read")

FLARE_THROAT = register(
    Formula(
        flare_throat,
        symbol="t_e",
        unit="mm",
        title="Effective throat of a flare weld",
        source=READ,
        names=N,
        limits=(
            Limit("R", low=10.0, unit="mm", why="with a smaller radius only a reinforcing fillet counts"),
            Limit("gap", low=0.0, unit="mm"),
        ),
    )
)
GROOVE_SHEAR_STRENGTH = register(
    Formula(
        groove_shear_strength,
        symbol="r_n",
        unit="N/mm",
        title="Groove weld in shear, nominal strength per length",
        source=Source("AISC 360-16", "Table J2.5", "second-hand"),
        names=N,
    )
)


def throat_per_radius(groove: str, process: str) -> float:
    """Factor on R from table `flare_throat`; InputError for a pair the table does not have."""
    return load("flare_throat").find(groove=groove, process=process).need("throat_per_radius")
