"""A vehicle's body as closed boxes and flat sheets that carry shear in their own plane: an estimate by statics.

Twist of the body: one wheel on a kerb takes the whole load of its axle when the wheel beside it lifts, and no more
torque can come in.  A closed box carries it as a shear flow round its walls; a box with a wall missing does not.  An
opening in a sheet that carries shear sends the flow round it.  Bending is that of a beam on its two axles.
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

BREDT = Source("Bredt 1896; Timoshenko, Strength of Materials, part II", "thin-walled closed tubes", "from memory",
               "torsion constants of published tubes come out by it")  # fmt: skip
SURFACES = Source("Automotive Chassis Engineering (Springer)", "pp. 225 to 228, eq. 4.3 to 4.8", "read",
                  "closed box of simple structural surfaces under a torque at its ends")  # fmt: skip
AXLES = Source("Statics of a vehicle on two axles", "", "derivation")
LIFTED = Source("Torque with one wheel of an axle lifted", "", "derivation",
                "moments about the middle of the track; one wheel carries the axle: no more can come")  # fmt: skip
OPENING = Source("Shear sheet with an opening and stiffeners along its sides", "", "derivation",
                 "cuts through nine fields with constant flow each; the opening lies at the middle")  # fmt: skip
RING = Source("Frame round an opening in a sheet in shear", "", "derivation",
              "the frame stands in for the sheet taken out; no moment at the middle of its sides")  # fmt: skip
BEAM = Source("Bending of beams", "first moment of a part of the section", "derivation")
RACKED = Source("Tubes that hold a frame with hinged corners in shape", "", "derivation",
                "virtual work; each tube takes by its stiffness and by how much racking stretches it")  # fmt: skip
STEERED = Source("A tyre turned about its king pin, seen from above", "", "derivation",
                 "corners of its rectangle; the tyre is taken as wide at its tread as at its side walls")  # fmt: skip

N = Names(
    T=("N*mm", "torque"),
    A=("mm^2", "area enclosed by the middle line of the walls"),
    S=("1", "length over thickness, added up round the cell"),
    G=("MPa", "shear modulus"),
    J=("mm^4", "torsion constant"),
    L=("mm", "length of the box"),
    W=("N", "weight"),
    x_c=("mm", "place of the centre of mass behind the front axle"),
    l=("mm", "wheelbase"),
    F=("N", "load of the axle"),
    B=("mm", "track"),
    k_d=("1", "dynamic factor"),
    L_1=("mm", "width of the box"),
    L_2=("mm", "height of the box"),
    L_3=("mm", "length of the box"),
    Q_1=("N", "shear force on the end edges of floor and roof"),
    q=("N/mm", "shear flow of the whole sheet"),
    s=("mm", "side of the sheet that the cut runs along"),
    o=("mm", "side of the opening in that direction"),
    a=("mm", "side of the opening"),
    b=("mm", "other side of the opening"),
    s_a=("mm", "side of the sheet along a"),
    s_b=("mm", "side of the sheet along b"),
    M=("N*mm", "bending moment"),
    S_p=("mm^3", "first moment of the part about the neutral axis"),
    I_y=("mm^4", "second moment of area of the section"),
    k=("N/mm", "stiffness of the tube along itself"),
    g=("mm", "what the tube lengthens for a racking angle of one"),
    E=("MPa", "modulus of elasticity"),
    A_t=("mm^2", "area of the tube"),
    L_t=("mm", "length of the tube"),
    R=("N*mm", "flow times area of the field the tubes hold in shape"),
    K=("N*mm", "stiffness of all tubes against racking"),
    gamma=("1", "racking angle"),
    c=("mm", "half the length of the tyre at the height of the floor"),
    w=("mm", "width of the tyre"),
    delta=("rad", "steering angle"),
    p=("mm", "king pin inboard of the middle of the tyre"),
    D=("mm", "diameter of the tyre"),
    h=("mm", "height of the floor over the wheel's centre"),
)  # fmt: skip


# --- torque ----------------------------------------------------------------------------------------------------------


def rear_load(*, W: Value, x_c: Value, l: Value) -> Value:
    """What a mass puts on the rear axle; its weight less this is on the front axle [N]."""
    return W * x_c / l


def lifted_wheel_torque(*, F: Value, B: Value) -> Value:
    """Torque that an axle puts into the body when one of its wheels lifts [N mm]."""
    return F * B / 2


def driven(*, T: Value, k_d: Value) -> Value:
    """Torque with its dynamic factor [N mm]."""
    return k_d * T


REAR_LOAD = register(Formula(
    rear_load, symbol="F_r", unit="N", title="Load of the rear axle", source=AXLES, names=N,
    limits=(Limit("l", low=0.0, open_low=True, unit="mm"),)))  # fmt: skip
LIFTED_WHEEL_TORQUE = register(Formula(
    lifted_wheel_torque, symbol="T_0", unit="N*mm", title="Torque with one wheel lifted", source=LIFTED,
    names=N))  # fmt: skip
DRIVEN = register(Formula(
    driven, symbol="T", unit="N*mm", title="Torque while driving",
    source=Source("Vehicle structure lecture notes, dynamic factors", "torsion case", "second-hand"), names=N,
    limits=(Limit("k_d", low=1.0),)))  # fmt: skip


# --- closed cells ----------------------------------------------------------------------------------------------------


def bredt_flow(*, T: Value, A: Value) -> Value:
    """Shear flow round one closed cell [N/mm]."""
    return T / (2 * A)


def bredt_constant(*, A: Value, S: Value) -> Value:
    """Torsion constant of one closed cell [mm⁴]."""
    return 4 * A**2 / S


def twist(*, T: Value, L: Value, G: Value, J: Value) -> Value:
    """Angle of twist over the length [deg]."""
    return T * L / (G * J) * 180 / np.pi


def shear_stress(*, q: Value, t: Value) -> Value:
    """Shear stress in a wall [MPa]."""
    return q / t


BREDT_FLOW = register(Formula(
    bredt_flow, symbol="q", unit="N/mm", title="Shear flow of a closed cell", source=BREDT, names=N,
    limits=(Limit("A", low=0.0, open_low=True, unit="mm^2"),)))  # fmt: skip
BREDT_CONSTANT = register(Formula(
    bredt_constant, symbol="J", unit="mm^4", title="Torsion constant of a closed cell", source=BREDT, names=N,
    limits=(Limit("S", low=0.0, open_low=True),)))  # fmt: skip
TWIST = register(Formula(
    twist, symbol="theta", unit="deg", title="Twist over the length", source=BREDT, names=N))  # fmt: skip
SHEAR_STRESS = register(Formula(
    shear_stress, symbol="tau", unit="MPa", title="Shear stress of a flow", source=BREDT,
    names=N | {"t": ("mm", "thickness")}))  # fmt: skip


# --- a box of simple structural surfaces -----------------------------------------------------------------------------


def end_force(*, T: Value, L_2: Value) -> Value:
    """Shear force on the end edges of floor and roof of a closed box [N]."""
    return T / (2 * L_2)


def side_end_force(*, Q_1: Value, L_1: Value, L_2: Value) -> Value:
    """Shear force on the end edges of the sides [N]."""
    return L_2 * Q_1 / L_1


def sill_force(*, Q_1: Value, L_1: Value, L_3: Value) -> Value:
    """Shear force along each sill and each upper rail [N]."""
    return L_3 * Q_1 / L_1


END_FORCE = register(Formula(
    end_force, symbol="Q_1", unit="N", title="End edges of floor and roof", source=SURFACES, names=N,
    limits=(Limit("L_2", low=0.0, open_low=True, unit="mm"),)))  # fmt: skip
SIDE_END_FORCE = register(Formula(
    side_end_force, symbol="Q_2", unit="N", title="End edges of the sides", source=SURFACES, names=N,
    limits=(Limit("L_1", low=0.0, open_low=True, unit="mm"),)))  # fmt: skip
SILL_FORCE = register(Formula(
    sill_force, symbol="Q_3", unit="N", title="Sills and upper rails of a twisted box", source=SURFACES, names=N,
    limits=(Limit("L_1", low=0.0, open_low=True, unit="mm"),)))  # fmt: skip


# --- an opening ------------------------------------------------------------------------------------------------------


def beside_opening(*, q: Value, s: Value, o: Value) -> Value:
    """Shear flow in the strips that a cut across the opening leaves [N/mm]."""
    return q * s / (s - o)


def at_corners(*, q: Value, a: Value, b: Value, s_a: Value, s_b: Value) -> Value:
    """Shear flow of the four fields off the corners of the opening; negative, it runs the other way [N/mm]."""
    return q * (1 - a * b / ((s_a - a) * (s_b - b)))


def stiffener_force(*, q: Value, a: Value, b: Value, s_b: Value) -> Value:
    """Greatest force along the stiffener beside the opening, at its corner [N]."""
    return q * a / 2 * s_b / (s_b - b)


def ring_moment(*, q: Value, a: Value, b: Value) -> Value:
    """Moment at the corners of a frame that carries the flow round the opening by itself [N mm]."""
    return q * a * b / 4


LEFT = "nothing is left beside the opening"
BESIDE_OPENING = register(Formula(
    beside_opening, symbol="q_s", unit="N/mm", title="Flow beside an opening", source=OPENING, names=N,
    limits=(Limit("s - o", low=0.0, open_low=True, unit="mm", why=LEFT),)))  # fmt: skip
AT_CORNERS = register(Formula(
    at_corners, symbol="q_c", unit="N/mm", title="Flow off the corners of an opening", source=OPENING, names=N,
    limits=(Limit("s_a - a", low=0.0, open_low=True, unit="mm", why=LEFT),
            Limit("s_b - b", low=0.0, open_low=True, unit="mm", why=LEFT))))  # fmt: skip
STIFFENER_FORCE = register(Formula(
    stiffener_force, symbol="P_s", unit="N", title="Force in the stiffener beside an opening", source=OPENING, names=N,
    limits=(Limit("s_b - b", low=0.0, open_low=True, unit="mm", why=LEFT),)))  # fmt: skip
RING_MOMENT = register(Formula(
    ring_moment, symbol="M_r", unit="N*mm", title="Corner moment of a frame round an opening", source=RING,
    names=N))  # fmt: skip


# --- bending ---------------------------------------------------------------------------------------------------------


def part_force(*, M: Value, S_p: Value, I_y: Value) -> Value:
    """Force along a part of the section (a sill, the tunnel, the floor) under bending of the body [N]."""
    return M * S_p / I_y


PART_FORCE = register(Formula(
    part_force, symbol="N_p", unit="N", title="Force along a part of the body", source=BEAM, names=N,
    limits=(Limit("I_y", low=0.0, open_low=True, unit="mm^4"),)))  # fmt: skip


# --- temporary tubes -------------------------------------------------------------------------------------------------


def tube_stiffness(*, E: Value, A_t: Value, L_t: Value) -> Value:
    """Stiffness of a tube along itself [N/mm]."""
    return E * A_t / L_t


def racking_angle(*, R: Value, K: Value) -> Value:
    """Angle by which the field racks [1]."""
    return R / K


def tube_force(*, k: Value, g: Value, gamma: Value) -> Value:
    """Force along a tube that holds a racked field; both signs come, for the torque turns [N]."""
    return k * g * gamma


TUBE_STIFFNESS = register(Formula(
    tube_stiffness, symbol="k", unit="N/mm", title="Stiffness of a tube", source=RACKED, names=N))  # fmt: skip
RACKING_ANGLE = register(Formula(
    racking_angle, symbol="gamma", unit="1", title="Racking of a braced field", source=RACKED, names=N,
    limits=(Limit("K", low=0.0, open_low=True, unit="N*mm"),)))  # fmt: skip
TUBE_FORCE = register(Formula(
    tube_force, symbol="N_t", unit="N", title="Force of a tube in a racked field", source=RACKED, names=N))  # fmt: skip


# --- wheel tubs ------------------------------------------------------------------------------------------------------


def tyre_at_floor(*, D: Value, h: Value) -> Value:
    """Half the length of a tyre at the height of the floor [mm]."""
    return np.sqrt((D / 2) ** 2 - h**2)


def steered_inboard(*, c: Value, w: Value, delta: Value, p: Value) -> Value:
    """How far a steered tyre reaches inboard of its middle when straight ahead [mm]."""
    return c * np.sin(delta) + w / 2 * np.cos(delta) + p * (1 - np.cos(delta))


def steered_outboard(*, c: Value, w: Value, delta: Value, p: Value) -> Value:
    """How far a steered tyre reaches outboard of its middle when straight ahead [mm]."""
    return c * np.sin(delta) + w / 2 * np.cos(delta) - p * (1 - np.cos(delta))


def steered_along(*, c: Value, w: Value, delta: Value, p: Value) -> Value:
    """How far a steered tyre reaches ahead of or behind the wheel's centre [mm]."""
    return c * np.cos(delta) + (abs(p) + w / 2) * np.sin(delta)


TYRE_AT_FLOOR = register(Formula(
    tyre_at_floor, symbol="c", unit="mm", title="Half the tyre at the height of the floor", source=STEERED, names=N,
    limits=(Limit("D / 2 - h", low=0.0, unit="mm", why="the tyre does not reach the floor"),)))  # fmt: skip
LOCK = Limit("delta", low=0.0, high=1.2, unit="rad", why="no road wheel turns that far")
STEERED_INBOARD = register(Formula(
    steered_inboard, symbol="e_i", unit="mm", title="Steered tyre, inboard", source=STEERED, names=N,
    limits=(LOCK,)))  # fmt: skip
STEERED_OUTBOARD = register(Formula(
    steered_outboard, symbol="e_o", unit="mm", title="Steered tyre, outboard", source=STEERED, names=N,
    limits=(LOCK,)))  # fmt: skip
STEERED_ALONG = register(Formula(
    steered_along, symbol="e_a", unit="mm", title="Steered tyre, ahead and behind", source=STEERED, names=N,
    limits=(LOCK,)))  # fmt: skip
