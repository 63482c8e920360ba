"""Heat of arc welding: energy, carbon equivalents, cooling time and shrinkage.  Advice, not checks.

Units here are those of the welding standards: kJ/mm, degC, percent by mass.  The shrinkage rules are
empirical; published ones differ by a factor of two for the same joint, and the body that publishes one of
them calls an exact prediction almost impossible.
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.branch import below
from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

N = Names(
    U=("V", "arc voltage"),
    I=("A", "welding current"),
    v=("mm/s", "travel speed"),
    k=("1", "thermal efficiency of the process"),
    E_arc=("kJ/mm", "arc energy"),
    Q=("kJ/mm", "heat input"),
    C=("%", "carbon"),
    Mn=("%", "manganese"),
    Si=("%", "silicon"),
    Cr=("%", "chromium"),
    Mo=("%", "molybdenum"),
    V=("%", "vanadium"),
    Ni=("%", "nickel"),
    Cu=("%", "copper"),
    B=("%", "boron"),
    d=("mm", "plate thickness"),
    T_0=("°C", "temperature before welding"),
    F_2=("1", "shape factor, two-dimensional heat flow"),
    F_3=("1", "shape factor, three-dimensional heat flow"),
    A_w=("mm^2", "cross-section of the weld"),
    t=("mm", "plate thickness"),
    gap=("mm", "root gap"),
    s=("mm", "leg of the fillet"),
    share=("1", "share of the length that is welded"),
    f_u=("MPa", "tensile strength of the sheet"),
    f_most=("MPa", "most that may be counted beside a weld"),
)
SOFT = 600.0
"""Tensile strength [MPa] above which heat softens sheet steel beside a weld; the most that is counted there."""
COLD_UP_TO, WARM_UP_TO = 0.40, 0.49
"""Carbon equivalent [%] up to which sheet is welded without preheat, and up to which with care (common practice)."""
COLD = 1.25
"""A certificate of more times the least of its grade tells of cold work, which the heat takes away (our choice)."""


def softened_strength(*, f_u: Value, f_most: Value) -> Value:
    """Tensile strength [MPa] of a sheet that may be counted beside an arc weld.

    Strength from rolling, quenching or cold work above `f_most` [MPa] goes with the heat.  Welding codes for sheet end
    at a yield strength of 80 ksi (550 MPa), AWS D1.3; S550MC has 600 MPa.
    Source: AWS D1.3, scope.
    """
    return np.minimum(f_u, f_most)


def arc_energy(*, U: Value, I: Value, v: Value) -> Value:
    """Arc energy [kJ/mm] of voltage [V], current [A] and travel speed [mm/s].  Source: ISO/TR 18491."""
    return U * I / v * 1e-3


def heat_input(*, k: Value, U: Value, I: Value, v: Value) -> Value:
    """Heat input [kJ/mm]: arc energy times the thermal efficiency.  Source: EN 1011-1."""
    return k * U * I / v * 1e-3


def carbon_equivalent(*, C: Value, Mn: Value, Cr: Value, Mo: Value, V: Value, Ni: Value, Cu: Value) -> Value:
    """IIW carbon equivalent [%], elements in percent.  Source: IIW; EN 1011-2 method A."""
    return C + Mn / 6 + (Cr + Mo + V) / 5 + (Ni + Cu) / 15


def cracking_parameter(
    *, C: Value, Si: Value, Mn: Value, Cu: Value, Cr: Value, Ni: Value, Mo: Value, V: Value, B: Value
) -> Value:
    """Ito-Bessyo parameter Pcm [%], elements in percent; for carbon to about 0.18 %.

    Source: Ito and Bessyo 1968.
    """
    return C + Si / 30 + (Mn + Cu + Cr) / 20 + Ni / 60 + Mo / 15 + V / 10 + 5 * B


def carbon_equivalent_t(*, C: Value, Mn: Value, Mo: Value, Cr: Value, Cu: Value, Ni: Value) -> Value:
    """Carbon equivalent CET [%], elements in percent.  Source: EN 1011-2 method B."""
    return C + (Mn + Mo) / 10 + (Cr + Cu) / 20 + Ni / 40


def cooling_time_thin(*, Q: Value, d: Value, T_0: Value, F_2: Value) -> Value:
    """Cooling time [s] from 800 to 500 degC, two-dimensional heat flow.  Source: EN 1011-2 Annex D."""
    return (4300 - 4.3 * T_0) * 1e5 * Q**2 / d**2 * ((1 / (500 - T_0)) ** 2 - (1 / (800 - T_0)) ** 2) * F_2


def cooling_time_thick(*, Q: Value, T_0: Value, F_3: Value) -> Value:
    """Cooling time [s] from 800 to 500 degC, three-dimensional heat flow.  Source: EN 1011-2 Annex D."""
    return (6700 - 5 * T_0) * Q * (1 / (500 - T_0) - 1 / (800 - T_0)) * F_3


def transition_thickness(*, Q: Value, T_0: Value, F_2: Value, F_3: Value) -> Value:
    """Thickness [mm] at which both cooling times are equal; thinner plate cools two-dimensionally.

    Derivation: both formulas of EN 1011-2 Annex D set equal; with F_2 = F_3 it is the printed one.
    """
    return np.sqrt((4300 - 4.3 * T_0) / (6700 - 5 * T_0) * 1e5 * Q * (1 / (500 - T_0) + 1 / (800 - T_0)) * F_2 / F_3)


def butt_shrinkage(*, A_w: Value, t: Value, gap: Value) -> Value:
    """Transverse shrinkage [mm] of a butt weld.  Source: Spraragen and Ettinger 1950."""
    return 0.2 * A_w / t + 0.05 * gap


def butt_shrinkage_area(*, A_w: Value, t: Value) -> Value:
    """Transverse shrinkage [mm] of a butt weld.  Source: Blodgett, Design of Welded Structures."""
    return 0.10 * A_w / t


def tee_shrinkage(*, s: Value, t: Value, share: Value) -> Value:
    """Transverse shrinkage [mm] of a tee with two fillets; an intermittent weld by its welded share.

    Source: Spraragen and Ettinger 1950.
    """
    return 1.02 * s / t * share


def lap_shrinkage(*, s: Value, t: Value, share: Value) -> Value:
    """Transverse shrinkage [mm] of a lap with two fillets; an intermittent weld by its welded share.

    Source: Spraragen and Ettinger 1950.
    """
    return 1.52 * s / t * share


PLATE = (
    Limit("T_0", low=-20.0, high=300.0, unit="°C"),
    Limit("Q", low=0.0, unit="kJ/mm", open_low=True),
)

SOFTENED_STRENGTH = register(
    Formula(
        softened_strength,
        symbol="f_u_beside",
        unit="MPa",
        title="Strength counted beside an arc weld",
        source=Source(
            "AWS D1.3", "scope: yield to 80 ksi", "second-hand", "the tensile strength to go with it is ours"
        ),
        names=N,
    )
)
ARC_ENERGY = register(
    Formula(
        arc_energy,
        symbol="E_arc",
        unit="kJ/mm",
        title="Arc energy",
        source=Source("ISO/TR 18491", "", "second-hand"),
        names=N,
    )
)
HEAT_INPUT = register(
    Formula(
        heat_input,
        symbol="Q",
        unit="kJ/mm",
        title="Heat input",
        source=Source("EN 1011-1", "", "second-hand"),
        names=N,
    )
)
CARBON_EQUIVALENT = register(
    Formula(
        carbon_equivalent,
        symbol="CE",
        unit="%",
        title="Carbon equivalent, IIW",
        source=Source("EN 1011-2", "method A (IIW)", "second-hand"),
        names=N,
    )
)
CRACKING_PARAMETER = register(
    Formula(
        cracking_parameter,
        symbol="P_cm",
        unit="%",
        title="Crack susceptibility, Ito and Bessyo",
        source=Source("Ito and Bessyo 1968", "P_cm"),
        names=N,
        limits=(Limit("C", high=0.18, unit="%", why="found on steels with little carbon"),),
    )
)
CARBON_EQUIVALENT_T = register(
    Formula(
        carbon_equivalent_t,
        symbol="CET",
        unit="%",
        title="Carbon equivalent CET",
        source=Source("EN 1011-2", "method B"),
        names=N,
        limits=(Limit("C", low=0.05, high=0.32, unit="%"),),
    )
)
COOLING_TIME_THIN = register(
    Formula(
        cooling_time_thin,
        symbol="t_85",
        unit="s",
        title="Cooling time 800 to 500 °C, thin plate",
        source=Source("EN 1011-2", "Annex D", "second-hand", note="read in a welding handbook"),
        names=N,
        limits=PLATE,
    )
)
COOLING_TIME_THICK = register(
    Formula(
        cooling_time_thick,
        symbol="t_85",
        unit="s",
        title="Cooling time 800 to 500 °C, thick plate",
        source=Source("EN 1011-2", "Annex D", "second-hand", note="read in a welding handbook"),
        names=N,
        limits=PLATE,
    )
)
TRANSITION_THICKNESS = register(
    Formula(
        transition_thickness,
        symbol="d_t",
        unit="mm",
        title="Thickness between thin and thick plate",
        source=Source("EN 1011-2", "Annex D, both times equal", "derivation"),
        names=N,
        limits=PLATE,
    )
)
SPRARAGEN = Source("Spraragen and Ettinger, Welding Journal 1950", "shrinkage distortion")
BLODGETT = Source("Blodgett, Design of Welded Structures", "7.7")
BUTT_SHRINKAGE = register(
    Formula(butt_shrinkage, symbol="S", unit="mm", title="Butt weld, transverse shrinkage", source=SPRARAGEN, names=N)
)
BUTT_SHRINKAGE_AREA = register(
    Formula(
        butt_shrinkage_area,
        symbol="S",
        unit="mm",
        title="Butt weld, transverse shrinkage by area",
        source=BLODGETT,
        names=N,
    )
)
TEE_SHRINKAGE = register(
    Formula(
        tee_shrinkage,
        symbol="S",
        unit="mm",
        title="Tee with two fillets, transverse shrinkage",
        source=SPRARAGEN,
        names=N,
        limits=(Limit("share", low=0.0, high=1.0),),
    )
)
LAP_SHRINKAGE = register(
    Formula(
        lap_shrinkage,
        symbol="S",
        unit="mm",
        title="Lap with two fillets, transverse shrinkage",
        source=SPRARAGEN,
        names=N,
        limits=(Limit("share", low=0.0, high=1.0),),
    )
)


def cooling_time(*, Q: float, d: float, T_0: float, F_2: float, F_3: float) -> tuple[Formula, str]:
    """The cooling-time formula that applies, and why: the thin one below the transition thickness."""
    d_t = float(transition_thickness(Q=Q, T_0=T_0, F_2=F_2, F_3=F_3))
    if below(d, d_t):
        return COOLING_TIME_THIN, f"plate {d:.4g} mm, thinner than the transition at {d_t:.4g} mm"
    return COOLING_TIME_THICK, f"plate {d:.4g} mm, at or over the transition at {d_t:.4g} mm"
