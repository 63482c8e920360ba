"""A body between its axles: statics by hand, the published box, the section's own cells, a shear sheet of nine fields."""

from __future__ import annotations

from dataclasses import replace
from math import cos, hypot, radians, sin

import numpy as np
import pytest

from jointcalc.errors import InputError
from jointcalc.formula import body as f
from jointcalc.statics.beam import solve
from jointcalc.statics.beam_model import PointLoad, SpreadLoad, Support
from jointcalc.statics.body import SIDES, STEEL_G, Box
from jointcalc.statics.body_bending import Weight, bend, on_axles
from jointcalc.statics.body_twist import lifted_wheel, opening, twist
from jointcalc.statics.steer import swept

T = 3.0e6
PLAIN = Box(2000.0, 1400.0, 1200.0, dict.fromkeys(SIDES, 0.8))
VAN = replace(PLAIN, sill=(100.0, 120.0, 1.2), tunnel=(250.0, 200.0, 1.0), plate=1.0)


# --- what comes in ---------------------------------------------------------------------------------------------------


def test_one_wheel_on_a_kerb_by_moments() -> None:
    """Four wheels, loads in balance, twisted until one lifts: the greatest torque that any set of wheel loads gives."""
    front, rear, track = 6500.0, 4300.0, (1500.0, 1440.0)
    best = 0.0
    for share in np.linspace(0.0, 1.0, 2001):
        torque = front * (2 * share - 1) / 2 * track[0]  # what the front wheels put in
        right = torque / track[1] + rear / 2  # the rear wheels must give the same
        if 0 <= right <= rear:
            best = max(best, torque)
    found = lifted_wheel(front, rear, track, 1.0)
    assert found.axle == "rear"
    assert found.torque == pytest.approx(best, rel=1e-3)
    assert found.torque == f.LIFTED_WHEEL_TORQUE(F=rear, B=track[1])
    assert lifted_wheel(front, rear, track, 1.3).torque == pytest.approx(1.3 * found.torque)
    assert f.DRIVEN(T=T, k_d=1.8) == pytest.approx(5.4e6)


def test_axles_and_moments_against_the_beam_solver() -> None:
    """The same loads on `statics.beam`, which textbook beams hold."""
    wheelbase = 2500.0
    weights = [Weight(9000.0, -600.0, 3100.0), Weight(2000.0, 1300.0, 1300.0), Weight(1500.0, -300.0, -300.0)]
    found = on_axles(weights, wheelbase)
    # the beam begins at the foremost load
    shift = 600.0
    loads = [SpreadLoad(9000 / 3700, 9000 / 3700, 0.0, 3700.0), PointLoad(2000.0, 1900.0), PointLoad(1500.0, 300.0)]
    beam = solve(3700.0, 1e12, (Support(shift), Support(shift + wheelbase)), loads)
    reactions = [float(np.ravel(r.force)[0]) for r in beam.reactions]
    assert found.front == pytest.approx(reactions[0])
    assert found.rear == pytest.approx(reactions[1])
    assert f.REAR_LOAD(W=found.weight, x_c=found.centre, l=wheelbase) == found.rear
    xs = np.sort(np.append(np.linspace(0.0, 3700.0, 20001), (600.0, 3100.0, 1900.0)))
    moments = np.asarray(beam.moment(xs), dtype=float)
    assert found.sagging == pytest.approx(moments.max(), rel=1e-4)
    assert found.hogging == pytest.approx(-moments.min(), rel=1e-4)
    shears = np.asarray(beam.shear(xs), dtype=float)
    assert found.shear == pytest.approx(np.abs(shears).max(), rel=1e-3)


def test_axles_refused() -> None:
    with pytest.raises(InputError, match="wheelbase: is missing"):
        on_axles([Weight(1.0, 0.0, 0.0)], 0.0)
    with pytest.raises(InputError, match="no mass is given"):
        on_axles([], 2500.0)
    with pytest.raises(InputError, match="an axle would lift"):
        on_axles([Weight(1000.0, 2600.0, 2600.0)], 2500.0)


# --- twist -----------------------------------------------------------------------------------------------------------


def test_the_published_box() -> None:
    """Closed box of simple structural surfaces (see test_surfaces), and T/(2A) on every face."""
    found = twist(PLAIN, T)
    assert set(found.flows) == set(SIDES)
    assert all(q == pytest.approx(T / (2 * 1400 * 1200)) for q in found.flows.values())
    values = {step.formula.symbol: float(step.value) for step in found.working}
    assert values["Q_1"] == pytest.approx(1250.0)
    assert values["Q_2"] == pytest.approx(1071.43, abs=0.005)
    assert values["Q_3"] == pytest.approx(1785.71, abs=0.005)
    assert values["tau"] == pytest.approx(1.116, abs=0.0005)
    # G (4 A²)/(sum of s/t), N mm per rad over the length
    J = 4 * (1400 * 1200) ** 2 / (2 * (1400 + 1200) / 0.8)
    assert found.stiffness == pytest.approx(STEEL_G * J)
    assert found.degrees == pytest.approx(T * 2000 / (STEEL_G * J) * 57.29578)


def test_end_forces_by_equilibrium() -> None:
    Q_1 = f.END_FORCE(T=T, L_2=1200.0)
    Q_2 = f.SIDE_END_FORCE(Q_1=Q_1, L_1=1400.0, L_2=1200.0)
    Q_3 = f.SILL_FORCE(Q_1=Q_1, L_1=1400.0, L_3=2000.0)
    assert pytest.approx(0.0, abs=1e-6 * T) == Q_1 * 1200 + Q_2 * 1400 - T  # an end
    assert pytest.approx(0.0, abs=1e-6 * T) == Q_3 * 1200 - Q_2 * 2000  # a side
    assert pytest.approx(0.0, abs=1e-6 * T) == Q_3 * 1400 - Q_1 * 2000  # the floor


def test_sills_and_tunnel_share_by_stiffness() -> None:
    found = twist(VAN, T)
    assert found.path == "box and closed sections"
    # the sum over all cells of 2 A q, with the flows of walls that bound one cell and the outside
    cells = {"roof": 1400 * 1200 - 2 * 100 * 120 - 250 * 200, "tunnel plate": 250 * 200, "sill": 100 * 120}
    given = 2 * (cells["roof"] * found.flows["roof"] + cells["tunnel plate"] * found.flows["tunnel plate"])
    sills = (T - given) / (4 * cells["sill"])  # flow of each sill's outer walls
    assert 0 < sills <= found.flows["sill"] + 1e-9
    # a stiffer tunnel takes more, as every wall of a cell does
    stiffer = twist(replace(VAN, tunnel=(250.0, 200.0, 3.0), plate=3.0), T)
    assert stiffer.flows["tunnel plate"] > found.flows["tunnel plate"]


def test_a_ring_in_place_of_a_sheet_never_lightens_a_part() -> None:
    """Windows and doors: the box alone, and the closed sections of the floor alone, both carry everything."""
    whole = twist(VAN, T)
    sheets = {face: t for face, t in VAN.sheets.items() if face not in ("rear", "left side")}
    ringed = twist(replace(VAN, sheets=sheets, rings=frozenset({"rear", "left side"})), T)
    assert ringed.path == "box, or closed sections"
    assert ringed.degrees is None
    for part in ("floor", "roof", "front", "rear", "right side", "left side", "sill", "tunnel", "tunnel plate"):
        assert ringed.flows[part] >= whole.flows[part], part
    assert ringed.flows["floor"] == pytest.approx(T / (2 * ringed.area))


def test_an_open_box_leaves_the_closed_sections() -> None:
    sheets = {face: t for face, t in VAN.sheets.items() if face != "roof"}
    found = twist(replace(VAN, sheets=sheets), T)
    assert found.path == "closed sections"
    # three tubes side by side, each by Bredt, sharing by J
    sill, tunnel = 4 * 12_000**2 / (2 * (100 + 120) / 1.2), 4 * 50_000**2 / (2 * (250 + 200) / 1.0)
    J = 2 * sill + tunnel
    assert found.stiffness == pytest.approx(STEEL_G * J)
    assert found.flows["tunnel"] == pytest.approx(T * tunnel / J / (2 * 50_000))
    assert found.flows["sill"] == pytest.approx(T * sill / J / (2 * 12_000))
    # nothing is said of the floor, which is in no closed section: never a silent zero
    assert "floor" not in found.flows


def test_one_closed_tunnel_alone() -> None:
    sheets = dict.fromkeys(("floor", "left side", "right side"), 0.8)
    found = twist(replace(VAN, sheets=sheets, sill=None), T)
    assert found.flows["tunnel"] == pytest.approx(f.BREDT_FLOW(T=T, A=50_000.0))
    J = f.BREDT_CONSTANT(A=50_000.0, S=900.0)
    assert found.stiffness == pytest.approx(STEEL_G * J)
    assert found.degrees == pytest.approx(f.TWIST(T=T, L=2000.0, G=STEEL_G, J=J))


@pytest.mark.parametrize("face", ["roof", "left side", "floor", "front"])
def test_no_closed_path_is_refused(face: str) -> None:
    sheets = {one: 0.8 for one in SIDES if one != face}
    with pytest.raises(InputError, match=f"finds no path: {face} is open") as error:
        twist(Box(2000.0, 1400.0, 1200.0, sheets), T)
    assert "rings" in str(error.value)


def test_boxes_of_no_area() -> None:
    for bad in ({"length": 0.0}, {"width": 0.0}, {"height": -1.0}):
        with pytest.raises(InputError, match="no area"):
            replace(PLAIN, **bad)
    with pytest.raises(InputError, match="sills and tunnel are 1450 mm wide together"):
        replace(VAN, sill=(600.0, 120.0, 1.2))
    with pytest.raises(InputError, match="tunnel: is 1200 mm high"):
        replace(VAN, tunnel=(250.0, 1200.0, 1.0))


# --- an opening ------------------------------------------------------------------------------------------------------


def test_nine_fields_round_an_opening() -> None:
    """Sheet of 3 x 3 fields with stiffeners on all lines, the middle one gone: cuts and stiffeners in balance.

    Derived here: unknown flows of the eight fields by symmetry three, from the cut through a row and a column beside the
    opening; then every stiffener begins and ends without force.
    """
    q, long, wide, a, b = 1.3, 2000.0, 1300.0, 500.0, 400.0
    found = opening(replace(PLAIN, opening=(a, b), width=wide), q)
    l, h = (long - a) / 2, (wide - b) / 2
    across, along, corner = found.across, found.along, found.corner
    # a cut across the sheet beside and through the opening carries the same shear q x wide; the other way round too
    assert 2 * h * across == pytest.approx(q * wide)
    assert 2 * l * along == pytest.approx(q * long)
    assert 2 * h * corner + b * along == pytest.approx(q * wide)
    assert 2 * l * corner + a * across == pytest.approx(q * long)
    # the stiffener along the opening: gains over the first field, gives over the opening, gains again
    steps = np.cumsum([(along - corner) * l, -across * a, (along - corner) * l])
    assert steps[2] == pytest.approx(0.0, abs=1e-9)
    assert found.stiffener_along == pytest.approx(steps[0])
    assert np.abs(steps).max() == pytest.approx(steps[0])
    other = np.cumsum([(across - corner) * h, -along * b, (across - corner) * h])
    assert found.stiffener_across == pytest.approx(other[0])
    assert f.BESIDE_OPENING(q=q, s=wide, o=b) == across
    assert f.AT_CORNERS(q=q, a=a, b=b, s_a=long, s_b=wide) == corner
    assert f.STIFFENER_FORCE(q=q, a=a, b=b, s_b=wide) == found.stiffener_along


def test_a_ring_round_the_opening_by_a_frame() -> None:
    """Four beams with stiff corners under the flow along them: a plane frame solved here, uprights and rails unlike."""
    a, b, q = 500.0, 300.0, 1.3
    nodes = [(0, 0), (a, 0), (a, b), (0, b)]
    K = np.zeros((12, 12))
    ends = []
    for i, j, I_m in ((0, 1, 2e4), (1, 2, 7e4), (3, 2, 2e4), (0, 3, 7e4)):
        (x1, y1), (x2, y2) = nodes[i], nodes[j]
        L = hypot(x2 - x1, y2 - y1)
        c, s = (x2 - x1) / L, (y2 - y1) / L
        EI, EA = 210e3 * I_m, 210e3 * 1e4
        bent = EI / L**3 * np.array([[12, 6 * L, -12, 6 * L], [6 * L, 4 * L * L, -6 * L, 2 * L * L],
                                     [-12, -6 * L, 12, -6 * L], [6 * L, 2 * L * L, -6 * L, 4 * L * L]])  # fmt: skip
        k = np.zeros((6, 6))
        k[np.ix_([1, 2, 4, 5], [1, 2, 4, 5])] = bent
        k[np.ix_([0, 3], [0, 3])] = EA / L * np.array([[1, -1], [-1, 1]])
        turn = np.zeros((6, 6))
        for o in (0, 3):
            turn[o : o + 3, o : o + 3] = [[c, s, 0], [-s, c, 0], [0, 0, 1]]
        dofs = [3 * i, 3 * i + 1, 3 * i + 2, 3 * j, 3 * j + 1, 3 * j + 2]
        K[np.ix_(dofs, dofs)] += turn.T @ k @ turn
        ends.append((dofs, k @ turn))
    force = np.zeros(12)
    # the flow runs in at the ends of each side, half at each: top to the right, right side upwards, and back
    for node, (x, y) in enumerate(((-1, -1), (-1, 1), (1, 1), (1, -1))):
        force[3 * node : 3 * node + 2] = x * q * a / 2, y * q * b / 2
    free = [d for d in range(12) if d not in (0, 1, 4)]
    u = np.zeros(12)
    u[free] = np.linalg.solve(K[np.ix_(free, free)], force[free])
    corners = [abs(float((k @ u[dofs])[m])) for dofs, k in ends for m in (2, 5)]
    assert corners == pytest.approx([float(f.RING_MOMENT(q=q, a=a, b=b))] * 8, rel=1e-3)


def test_the_floor_takes_the_worst_flow_round_its_opening() -> None:
    cut = replace(VAN, opening=(500.0, 300.0))
    assert twist(cut, T).flows["floor"] > twist(VAN, T).flows["floor"]
    assert twist(cut, T).flows["floor without opening"] == pytest.approx(twist(VAN, T).flows["floor"])
    clear = (1400 - 200 - 250) / 2
    assert cut.field_width == clear
    with pytest.raises(InputError, match="the path disappears"):
        twist(replace(VAN, opening=(500.0, clear)), T)
    with pytest.raises(InputError, match="the path disappears"):
        twist(replace(VAN, opening=(2000.0, 100.0)), T)


# --- bending ---------------------------------------------------------------------------------------------------------


def test_parts_of_a_bent_box() -> None:
    """A thin box: M/h in floor and roof less what the sides take; the forces add up to M and to nothing."""
    M, V = 4e6, 3000.0
    found = bend(PLAIN, M, V)
    t, w, h = 0.8, 1400.0, 1200.0
    I_y = t * (2 * w * (h / 2) ** 2 + 2 * h**3 / 12)
    assert found.I_y == pytest.approx(I_y)
    assert found.forces["floor"] == pytest.approx(M * h / 2 / I_y * w * t)
    assert found.forces["roof"] == pytest.approx(-found.forces["floor"])
    assert found.forces["left side"] == pytest.approx(0.0, abs=1e-6 * found.forces["floor"])
    assert f.PART_FORCE(M=M, S_p=w * t * h / 2, I_y=I_y) == pytest.approx(found.forces["floor"])
    # V Q/I at the corner, half of the floor to each side
    assert found.flows["floor"] == pytest.approx(V * (w / 2 * t * h / 2) / I_y)


def test_sills_and_tunnel_bend() -> None:
    sheets = dict.fromkeys(("floor", "front", "rear"), 0.8)
    found = bend(replace(VAN, sheets=sheets, rings=frozenset({"left side", "right side", "roof"})), 4e6, 3000.0)
    total = 2 * found.forces["sill"] + found.forces["tunnel"] + found.forces["tunnel plate"] + found.forces["floor"]
    assert total == pytest.approx(0.0, abs=1e-6 * found.forces["floor"])
    assert found.forces["floor"] > 0 > found.forces["tunnel"]
    with pytest.raises(InputError, match="a flat floor alone"):
        bend(Box(2000.0, 1400.0, 1200.0, {"floor": 0.8}), 4e6, 3000.0)
    with pytest.raises(InputError, match="nothing carries"):
        bend(Box(2000.0, 1400.0, 1200.0, {}), 4e6, 3000.0)


# --- steering --------------------------------------------------------------------------------------------------------


def test_a_steered_tyre_by_its_corners() -> None:
    D, w, floor, lock, pin = 640.0, 205.0, 90.0, radians(33), 40.0
    found = swept(D, w, floor, lock, pin)
    c = ((D / 2) ** 2 - floor**2) ** 0.5
    inboard = outboard = radius = 0.0
    for turn in np.linspace(-lock, lock, 401):
        for z in np.linspace(floor, D / 2, 101):
            half = max((D / 2) ** 2 - z**2, 0.0) ** 0.5
            for x, y in ((half, w / 2), (half, -w / 2), (-half, w / 2), (-half, -w / 2)):
                # the king pin is at 0, the tyre's middle at +pin outboard of it
                along = x * cos(turn) - (pin + y) * sin(turn)
                across = x * sin(turn) + (pin + y) * cos(turn) - pin
                inboard, outboard = max(inboard, -across), max(outboard, across)
                radius = max(radius, hypot(along, z))
    assert found.inboard == pytest.approx(inboard, rel=1e-3)
    assert found.outboard == pytest.approx(outboard, rel=1e-3)
    assert found.radius == pytest.approx(radius, rel=1e-3)
    at = {"c": c, "w": w, "delta": lock, "p": pin}
    assert f.TYRE_AT_FLOOR(D=D, h=floor) == pytest.approx(c)
    assert f.STEERED_INBOARD(**at) == pytest.approx(inboard, rel=1e-3)
    assert f.STEERED_OUTBOARD(**at) == pytest.approx(outboard, rel=1e-3)
    assert f.STEERED_ALONG(**at) == pytest.approx(c * cos(lock) + (pin + w / 2) * sin(lock))


def test_straight_ahead_a_tyre_sweeps_itself() -> None:
    found = swept(640.0, 205.0, 90.0, 0.0, 40.0)
    assert (found.inboard, found.outboard, found.radius) == pytest.approx((102.5, 102.5, 320.0))
