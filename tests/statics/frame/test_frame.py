"""The frame solver against closed forms, handbook frames, an independent assembly and its own invariances.

Closed forms are of strength-of-materials handbooks (Roark; Timoshenko, Strength of Materials), portal frames of
Kleinlogel, Rahmenformeln; all from memory.  The independent assembly (`dense`) takes no formula from the product: its
element is the inverse of a flexibility found by integrating unit loads over a cantilever.
"""

import itertools
from math import cos, inf, pi, sin

import numpy as np
import pytest

from jointcalc.errors import InputError
from jointcalc.statics.frame import (
    FREE,
    HELD,
    PINNED,
    SEATED,
    End,
    Member,
    MemberLoad,
    Node,
    NodeLoad,
    Stiffness,
    solve,
)

L = 900.0
EA, EI_y, EI_z, GJ, GA_y, GA_z = 3.1e7, 2.3e9, 5.9e9, 8.1e8, 6.4e6, 4.7e6
FULL = Stiffness(EA, EI_y, EI_z, GJ, GA_y, GA_z)
SLENDER = Stiffness(EA, EI_y, EI_z, GJ)
RTOL = 1e-8
PLANE = (0.0, inf, 0.0, inf, 0.0, inf)
"""Held out of the x-z plane, where a handbook's plane frame has no such movement."""


def cantilever(load, stiffness=FULL, **more):
    return solve([Node((0, 0, 0), HELD), Node((L, 0, 0))], [Member(0, 1, stiffness, **more)], [load])


# --- cantilevers: every load of six, with shear deformation ----------------------------------------------------


@pytest.mark.parametrize(
    "force, moment, movement",
    [
        ((7.0, 0, 0), (0, 0, 0), [7 * L / EA, 0, 0, 0, 0, 0]),
        ((0, 7.0, 0), (0, 0, 0), [0, 7 * L**3 / (3 * EI_z) + 7 * L / GA_y, 0, 0, 0, 7 * L**2 / (2 * EI_z)]),
        ((0, 0, 7.0), (0, 0, 0), [0, 0, 7 * L**3 / (3 * EI_y) + 7 * L / GA_z, 0, -7 * L**2 / (2 * EI_y), 0]),
        ((0, 0, 0), (7.0, 0, 0), [0, 0, 0, 7 * L / GJ, 0, 0]),
        ((0, 0, 0), (0, 7.0, 0), [0, 0, -7 * L**2 / (2 * EI_y), 0, 7 * L / EI_y, 0]),
        ((0, 0, 0), (0, 0, 7.0), [0, 7 * L**2 / (2 * EI_z), 0, 0, 0, 7 * L / EI_z]),
    ],
)
def test_cantilever_under_each_end_load(force, moment, movement):
    for load in (NodeLoad(1, force, moment), MemberLoad(0, L, force, moment)):
        found = cantilever(load)
        assert found.displacements[1, :, 0] == pytest.approx(movement, rel=RTOL, abs=1e-14)
        assert found.line(0).movement(L)[:, 0] == pytest.approx(movement, rel=RTOL, abs=1e-14)


def test_cantilever_under_spread_and_triangular_loads():
    """w L^4 / 8 EI and, growing towards the free end, 11 w L^4 / 120 EI; shear w L^2 / 2 GA and w L^2 / 3 GA."""
    w = -0.8
    found = cantilever(MemberLoad(0, 0.0, (0, 0, w), end=L))
    assert found.displacements[1, 2, 0] == pytest.approx(w * L**4 / (8 * EI_y) + w * L**2 / (2 * GA_z), rel=RTOL)
    found = cantilever(MemberLoad(0, 0.0, (0, 0, 0), end=L, last_force=(0, 0, w)))
    tip = 11 * w * L**4 / (120 * EI_y) + w * L**2 / (3 * GA_z)
    assert found.displacements[1, 2, 0] == pytest.approx(tip, rel=RTOL)
    assert found.line(0).movement(L)[2, 0] == pytest.approx(tip, rel=RTOL)


def test_spread_twist():
    found = cantilever(MemberLoad(0, 0.0, moment=(3.0, 0, 0), end=L))
    assert found.displacements[1, 3, 0] == pytest.approx(3 * L**2 / (2 * GJ), rel=RTOL)
    assert found.line(0).forces(0.0, "right")[3, 0] == pytest.approx(3 * L, rel=RTOL)


def test_load_beside_the_shear_centre_twists():
    """A force through the centroid twists by its arm about the shear centre, which the centroid goes round."""
    c = 22.0
    found = cantilever(NodeLoad(1, (0, 10.0, 0)), Stiffness(EA, EI_y, EI_z, GJ, GA_y, GA_z, centre=(0.0, c)))
    twist = 10 * c * L / GJ
    assert found.displacements[1, 3, 0] == pytest.approx(twist, rel=RTOL)
    bent = 10 * L**3 / (3 * EI_z) + 10 * L / GA_y
    assert found.displacements[1, 1, 0] == pytest.approx(bent + c * twist, rel=RTOL)
    assert found.line(0).forces(L / 2)[3, 0] == pytest.approx(10 * c, rel=RTOL)


# --- both ends held, with springs ------------------------------------------------------------------------------


@pytest.mark.parametrize("a", [1e-3, 0.11, 0.5, 0.83])
def test_fixed_beam_with_shear_under_a_force(a):
    """End moment P a b (b + Φ L / 2) / (L^2 (1 + Φ)), Φ = 12 EI / GA L^2 (Przemieniecki, from memory)."""
    P, x = 1000.0, a * L
    b = L - x
    phi = 12 * EI_y / (GA_z * L**2)
    found = solve([Node((0, 0, 0), HELD), Node((L, 0, 0), HELD)], [Member(0, 1, FULL)], [MemberLoad(0, x, (0, 0, -P))])
    hogging = P * x * b * (b + phi * L / 2) / (L**2 * (1 + phi))
    assert -found.reactions[0, 4, 0] == pytest.approx(hogging, rel=RTOL)
    assert found.reactions[:, 2, 0].sum() == pytest.approx(P, rel=1e-12)


@pytest.mark.parametrize("k_1, k_2", [(1e6, 1e6), (3e6, 9e7), (0.0, 4e6), (inf, 2e7), (inf, 0.0)])
def test_end_springs_under_a_force(k_1, k_2):
    """M_A = (M_FA (1 + 4 a2) + 2 a2 M_FB) / (1 + 4 a1 + 4 a2 + 12 a1 a2), a = EI / k L (our derivation)."""
    P, x = 1000.0, 310.0
    fixed = [P * x * (L - x) ** 2 / L**2, P * x**2 * (L - x) / L**2]
    ends = [End((inf, inf, inf, inf, k, inf)) for k in (k_1, k_2)]
    found = solve(
        [Node((0, 0, 0), HELD), Node((L, 0, 0), HELD)],
        [Member(0, 1, SLENDER, first=ends[0], last=ends[1])],
        [MemberLoad(0, x, (0, 0, -P))],
    )
    one, two = (np.float64(EI_y) / (k * L) if k else np.float64(1e30) for k in (k_1, k_2))
    below = 1 + 4 * one + 4 * two + 12 * one * two
    moments = [
        (fixed[0] * (1 + 4 * two) + 2 * two * fixed[1]) / below,
        (fixed[1] * (1 + 4 * one) + 2 * one * fixed[0]) / below,
    ]
    assert [-found.reactions[0, 4, 0], found.reactions[1, 4, 0]] == pytest.approx(moments, rel=RTOL, abs=1e-6)
    down = P * x**2 * (L - x) ** 2 / (3 * EI_y * L) - (
        moments[0] * x * (L - x) * (2 * L - x) + moments[1] * x * (L - x) * (L + x)
    ) / (6 * EI_y * L)
    assert found.line(0).movement(x)[2, 0] == pytest.approx(-down, rel=1e-7)


def test_pinned_beam_and_its_extremes():
    found = solve(
        [Node((0, 0, 0), HELD), Node((L, 0, 0), HELD)],
        [Member(0, 1, SLENDER, first=End(PINNED), last=End(PINNED))],
        [MemberLoad(0, 0.0, (0, 0, -2.0), end=L), MemberLoad(0, 300.0, (0, 0, -90.0), case=1)],
        cases=2,
    )
    line = found.line(0)
    peak = line.greatest("M_y")
    assert (peak.value, peak.at, peak.case) == (pytest.approx(-2 * L**2 / 8, rel=RTOL), pytest.approx(L / 2), 0)
    alone = solve(found.nodes, found.members, [MemberLoad(0, 600.0, (0, 0, -90.0))]).line(0)
    down = alone.greatest_movement((0, 0, 1))
    b = 300.0
    assert down.value == pytest.approx(-90 * b * (L**2 - b**2) ** 1.5 / (9 * 3**0.5 * L * EI_y), rel=RTOL)
    assert down.at == pytest.approx(((L**2 - b**2) / 3) ** 0.5, rel=1e-6)


def test_ranges_hold_the_extremes_between_the_ends():
    """Handbook: propped under a spread load w L^2/8 and 9 w L^2/128; pinned under one that grows, w L^2/(9 sqrt 3)."""
    ends = {"first": End(), "last": End(PINNED)}
    nodes = [Node((0, 0, 0), HELD), Node((L, 0, 0), HELD)]
    propped = solve(nodes, [Member(0, 1, SLENDER, **ends)], [MemberLoad(0, 0.0, (0, 0, -2.0), end=L)]).line(0)
    low, high = propped.ranges()
    assert sorted([-low[4, 0], high[4, 0]]) == pytest.approx([9 * 2 * L**2 / 128, 2 * L**2 / 8], rel=RTOL)
    growing = MemberLoad(0, 0.0, (0, 0, 0), end=L, last_force=(0, 0, -2.0))
    pinned = solve(nodes, [Member(0, 1, SLENDER, first=End(PINNED), last=End(PINNED))], [growing]).line(0)
    low, high = pinned.ranges()
    assert low[4, 0] == pytest.approx(-2 * L**2 / (9 * 3**0.5), rel=RTOL)
    assert high[4, 0] == pytest.approx(0.0, abs=1e-6 * L**2)
    # seen in axes turned about the member by a right angle, what was M_y is M_z
    turned = pinned.ranges(np.array([[1.0, 0, 0], [0, 0, 1], [0, -1, 0]]))
    assert max(abs(v[5, 0]) for v in turned) == pytest.approx(2 * L**2 / (9 * 3**0.5), rel=RTOL)


def test_two_springs_carry_by_their_stiffness():
    held = [(inf, inf, k, inf, 0.0, 0.0) for k in (200.0, 700.0)]
    found = solve(
        [Node((0, 0, 0), held[0]), Node((L, 0, 0), held[1])],
        [Member(0, 1, FULL)],
        [MemberLoad(0, L / 4, (0, 0, -80.0))],
    )
    assert found.reactions[:, 2, 0] == pytest.approx([60.0, 20.0], rel=RTOL)
    assert found.displacements[:, 2, 0] == pytest.approx([-60 / 200, -20 / 700], rel=RTOL)


# --- plane frames of a handbook --------------------------------------------------------------------------------


def portal(foot, load, span=1200.0, height=700.0, beam=1.9e9, post=1.1e9):
    """A portal in the x-z plane without axial deformation, loaded through `load(span, height)`."""
    nodes = [
        Node((0, 0, 0), foot),
        Node((0, 0, height), PLANE),
        Node((span, 0, height), PLANE),
        Node((span, 0, 0), foot),
    ]
    make = [Stiffness(1e14, EI, EI, 1e9) for EI in (post, beam, post)]
    members = [
        Member(a, b, s, up=up)
        for (a, b), s, up in zip(((0, 1), (1, 2), (2, 3)), make, ((1, 0, 0), (0, 0, 1), (-1, 0, 0)))
    ]
    return solve(nodes, members, load(span, height)), beam / post * height / span


@pytest.mark.parametrize("foot, N, corner", [("pinned", lambda k: 2 * k + 3, 4.0), ("fixed", lambda k: k + 2, 6.0)])
def test_portal_under_a_spread_load(foot, N, corner):
    """Kleinlogel, frame 37 / 40 or thereabouts (from memory): M_B = -w l^2 / 4 N (hinged), -w l^2 / 6 N (fixed)."""
    w = 1.3
    held = (inf, inf, inf, inf, inf if foot == "fixed" else 0.0, inf)
    found, k = portal(held, lambda span, height: [MemberLoad(1, 0.0, (0, 0, -w), end=span)])
    M = w * 1200.0**2 / (corner * N(k))
    assert abs(found.end_forces[1, 4, 0]) == pytest.approx(M, rel=1e-6)
    if foot == "fixed":
        assert abs(found.reactions[0, 4, 0]) == pytest.approx(M / 2, rel=1e-6)
    thrust = M * (1.5 if foot == "fixed" else 1.0) / 700.0
    assert abs(found.reactions[0, 0, 0]) == pytest.approx(thrust, rel=1e-6)


def test_fixed_portal_under_a_push_at_the_corner():
    """Kleinlogel (from memory): M_foot = P h (3 k + 1) / 2 (6 k + 1), M_corner = P h 3 k / 2 (6 k + 1)."""
    P = 400.0
    found, k = portal(HELD, lambda span, height: [NodeLoad(1, (P, 0, 0))])
    # k is of beam over post: the handbook's, I_beam h / I_post l
    assert abs(found.reactions[0, 4, 0]) == pytest.approx(P * 700 * (3 * k + 1) / (2 * (6 * k + 1)), rel=1e-6)
    assert abs(found.end_forces[1, 4, 0]) == pytest.approx(P * 700 * 3 * k / (2 * (6 * k + 1)), rel=1e-6)
    assert abs(found.reactions[3, 2, 0]) == pytest.approx(P * 700 * 3 * k / (1200 * (6 * k + 1)), rel=1e-6)


def test_grillage_of_two_crossed_beams():
    """Two pinned beams that cross in their middles share the load as their stiffnesses 48 EI / l^3."""
    one, two, P = 1000.0, 700.0, 900.0
    pin = (inf, inf, inf, 0.0, 0.0, 0.0)
    nodes = [
        Node((0, 0, 0), (inf, inf, inf, inf, 0, 0)), Node((one / 2, 0, 0)), Node((one, 0, 0), pin),
        Node((one / 2, -two / 2, 0), (inf, inf, inf, 0, inf, 0)), Node((one / 2, two / 2, 0), pin),
    ]  # fmt: skip
    # no twist is passed on: a member's torsion stiffness is nearly nought
    soft = Stiffness(EA, EI_y, EI_z, 1e-3)
    found = solve(nodes, [Member(a, b, soft) for a, b in ((0, 1), (1, 2), (3, 1), (1, 4))], [NodeLoad(1, (0, 0, -P))])
    k_1, k_2 = 48 * EI_y / one**3, 48 * EI_y / two**3
    assert found.displacements[1, 2, 0] == pytest.approx(-P / (k_1 + k_2), rel=RTOL)
    assert found.reactions[[0, 2], 2, 0] == pytest.approx([P / 2 * k_1 / (k_1 + k_2)] * 2, rel=RTOL)


def test_quarter_ring_loaded_out_of_its_plane():
    """Timoshenko, Strength of Materials (from memory; Castigliano): w = P R^3 (π/4 / EI + (3π/4 - 2) / GJ)."""
    R, P, tips = 500.0, 10.0, []
    for n in (25, 50, 100):
        places = [(R * cos(t), R * sin(t), 0.0) for t in np.linspace(0, pi / 2, n + 1)]
        nodes = [Node(p, HELD if k == 0 else FREE) for k, p in enumerate(places)]
        found = solve(nodes, [Member(k, k + 1, SLENDER) for k in range(n)], [NodeLoad(n, (0, 0, P))])
        tips.append(found.displacements[n, 2, 0])
        assert found.residual < 1e-9
    # straight pieces err with even powers of their length, of which three lengths take out two (Romberg)
    coarse, fine = ((4 * b - a) / 3 for a, b in itertools.pairwise(tips))
    exact = P * R**3 * (pi / 4 / EI_y + (3 * pi / 4 - 2) / GJ)
    assert (16 * fine - coarse) / 15 == pytest.approx(exact, rel=1e-8)


# --- rigid arms ------------------------------------------------------------------------------------------------


def test_an_arm_is_a_very_stiff_member():
    arm, load = (0.0, 30.0, -45.0), NodeLoad(1, (3.0, -5.0, 11.0), (40.0, 70.0, -20.0))
    found = cantilever(load, last=End(arm=(0.0, -30.0, 45.0)), first=End(arm=(0.0, -30.0, 45.0)))
    stiff = Stiffness(3e10, 3e12, 3e12, 3e12)  # as stiff as leaves digits enough on any processor
    at = np.array([(0, 0, 0), (0, -30, 45), (L, -30, 45), (L, 0, 0)], dtype=float)
    other = solve(
        [Node(tuple(p), HELD if k == 0 else FREE) for k, p in enumerate(at)],
        [Member(0, 1, stiff, up=(1, 0, 0)), Member(1, 2, FULL), Member(2, 3, stiff, up=(1, 0, 0))],
        [NodeLoad(3, load.force, load.moment)],
    )
    assert found.displacements[1, :, 0] == pytest.approx(other.displacements[3, :, 0], rel=1e-3)
    # by hand: a pull on an arm bends the member by force x arm
    pulled = cantilever(NodeLoad(1, (100.0, 0, 0)), last=End(arm=(0, 0, 20.0)), first=End(arm=(0, 0, 20.0)))
    assert arm
    assert pulled.line(0).forces(L / 2)[4, 0] == pytest.approx(-100 * 20.0, rel=RTOL)
    assert pulled.displacements[1, 0, 0] == pytest.approx(100 * L / EA + 100 * 20**2 * L / EI_y, rel=RTOL)


# --- any frame: invariances and an independent assembly ----------------------------------------------------------


def some_frame(rng, n=6, extra=5, cases=3, springs=True):
    nodes = []
    for k in range(n):
        held = HELD if k == 0 else tuple(rng.uniform(0, 1e4, 6)) if rng.random() < 0.2 else FREE
        nodes.append(Node(tuple(rng.uniform(0, 1000, 3)), held))
    pairs = [(k, int(rng.integers(0, k))) for k in range(1, n)]
    pairs += [tuple(int(v) for v in rng.choice(n, 2, replace=False)) for _ in range(extra)]
    members = []
    for a, b in pairs:
        own = Stiffness(
            *10 ** rng.uniform([6, 8, 8, 7, 5, 5], [8, 10, 10, 9, 7, 7]), centre=tuple(rng.uniform(-20, 20, 2))
        )

        def end():
            give = np.where(rng.random(6) < 0.15, 10 ** rng.uniform([3, 3, 3, 6, 6, 6], [5, 5, 5, 9, 9, 9]), inf)
            return End(tuple(give) if springs else (inf,) * 6, tuple(rng.uniform(-25, 25, 3)))

        members.append(Member(a, b, own, up=tuple(rng.normal(size=3)), first=end(), last=end()))
    loads = []
    for _ in range(4):
        loads.append(
            NodeLoad(
                int(rng.integers(n)),
                tuple(rng.normal(0, 100, 3)),
                tuple(rng.normal(0, 1e4, 3)),
                int(rng.integers(cases)),
            )
        )
        k = int(rng.integers(len(members)))
        length = reach(nodes, members[k])
        a, b = np.sort(rng.uniform(0, length, 2))
        load = {
            "force": tuple(rng.normal(0, 5, 3)),
            "moment": tuple(rng.normal(0, 50, 3)),
            "case": int(rng.integers(cases)),
        }
        loads.append(
            MemberLoad(k, a, end=b, last_force=tuple(rng.normal(0, 5, 3)), **load)
            if rng.random() < 0.6
            else MemberLoad(k, a, axes="member", **load)
        )
    return nodes, members, loads


def reach(nodes, member):
    return float(
        np.linalg.norm(
            np.array(nodes[member.end].at) + member.last.arm - np.array(nodes[member.start].at) - member.first.arm
        )
    )


def test_a_thousand_random_frames_are_in_equilibrium():
    """Every node, every frame as a whole, and every member from end to end."""
    rng = np.random.default_rng(11)
    for _ in range(1000):
        nodes, members, loads = some_frame(rng, n=int(rng.integers(2, 9)), extra=int(rng.integers(0, 6)))
        found = solve(nodes, members, loads, cases=3)
        assert found.residual < 1e-9
        assert found.balance < 1e-9
        k = int(rng.integers(len(members)))
        line, long = found.line(k), found.lengths[k]
        inside, outside = line.forces(long), found.end_forces[k, 6:].copy()
        c_y, c_z = members[k].stiffness.centre
        outside[3] += c_z * outside[1] - c_y * outside[2]
        assert inside == pytest.approx(outside, rel=1e-9, abs=1e-9 * found.size.max() * long)
        moved = found.end_movements[k, 6:].reshape(2, 3, 3).transpose(0, 2, 1) @ found.axes[k]
        assert line.movement(long).reshape(2, 3, 3).transpose(0, 2, 1) == pytest.approx(
            moved, rel=1e-7, abs=1e-7 * np.abs(found.end_movements[k]).max()
        )


def unit_flexibility(own, length):
    """Movement of a cantilever's free end under unit loads there, by integrating virtual work with Gauss points."""
    place, weight = np.polynomial.legendre.leggauss(4)
    F = np.zeros((6, 6))
    c_y, c_z = own.centre
    for s, w in zip(length * (1 + place) / 2, weight * length / 2):
        # columns: N, V_y, V_z, T about the shear centre, M_y, M_z at s from each unit end load
        B = np.zeros((6, 6))
        B[[0, 1, 2, 4, 5], [0, 1, 2, 4, 5]] = 1.0
        B[3] = [0, c_z, -c_y, 1, 0, 0]
        B[4, 2] = -(length - s)
        B[5, 1] = length - s
        give = [1 / own.EA, 1 / own.GA_y, 1 / own.GA_z, 1 / own.GJ, 1 / own.EI_y, 1 / own.EI_z]
        F += w * B.T @ np.diag(give) @ B
    return F


RIGID = np.array([1e11] * 3 + [1e14] * 3)


def stiff(six):
    return np.where(np.isinf(six), RIGID, six)


def dense(nodes, members, loads, cases):
    """Displacements by a dense assembly in which every spring is a joint of its own and every load splits a member."""
    at = [np.array(n.at, dtype=float) for n in nodes]
    springs = []  # (node, 6 x 6)
    links = []  # (a, arm a, b, arm b, 6 x 6 or None for rigid, axes)
    elements = []
    points = list(at)
    for n, one in enumerate(nodes):
        springs.append((n, np.diag(stiff(one.held))))
    pushes = [(l.node, np.array([*l.force, *l.moment]), l.case) for l in loads if isinstance(l, NodeLoad)]
    for m, one in enumerate(members):
        a, b = at[one.start] + one.first.arm, at[one.end] + one.last.arm
        long = np.linalg.norm(b - a)
        x = (b - a) / long
        z = np.array(one.up) - np.dot(one.up, x) * x
        z /= np.linalg.norm(z)
        R = np.array([x, np.cross(z, x), z])
        cuts = [0.0, long]
        mine = [l for l in loads if isinstance(l, MemberLoad) and l.member == m]
        lumps = []
        for l in mine:
            turn = np.eye(6) if l.axes == "member" else np.kron(np.eye(2), R)
            if l.end is None:
                lumps.append((l.start, turn @ np.array([*l.force, *l.moment]), l.case))
        cuts = sorted({*cuts, *(p for p, _, _ in lumps)})
        ids = []
        for p in cuts:
            points.append(a + p * x)
            ids.append(len(points) - 1)
        for i, j, p, q in zip(ids, ids[1:], cuts, cuts[1:]):
            elements.append((i, j, R, np.linalg.inv(unit_flexibility(one.stiffness, q - p)), q - p))
        for p, w, c in lumps:
            pushes.append((ids[cuts.index(p)], np.kron(np.eye(2), R.T) @ w, c))
        for node, end, far in ((one.start, one.first, ids[0]), (one.end, one.last, ids[-1])):
            links.append((node, np.array(end.arm, dtype=float), far, R, stiff(end.spring)))
    N = 6 * len(points)
    K, f = np.zeros((N, N)), np.zeros((N, cases))
    for n, k in springs:
        K[6 * n : 6 * n + 6, 6 * n : 6 * n + 6] += k
    for i, j, R, k_end, h in elements:
        # K of both ends from that of the free end by equilibrium
        H = np.zeros((6, 12))
        H[:, 6:] = np.eye(6)
        H[:3, :3] = -np.eye(3)
        H[3:, 3:6] = -np.eye(3)
        H[1, 5] = -h
        H[2, 4] = h
        k = H.T @ k_end @ H
        T = np.kron(np.eye(4), R)
        rows = np.r_[6 * i : 6 * i + 6, 6 * j : 6 * j + 6]
        K[np.ix_(rows, rows)] += T.T @ k @ T
    for node, arm, far, R, spring in links:
        T = np.zeros((6, 12))
        T[:3, 6:9], T[3:, 9:] = R, R
        T[:3, :3], T[3:, 3:6] = -R, -R
        c = np.array([[0, arm[2], -arm[1]], [-arm[2], 0, arm[0]], [arm[1], -arm[0], 0]])
        T[:3, 3:6] = -R @ c
        rows = np.r_[6 * node : 6 * node + 6, 6 * far : 6 * far + 6]
        K[np.ix_(rows, rows)] += T.T @ np.diag(spring) @ T
    for n, w, c in pushes:
        f[6 * n : 6 * n + 6, c] += w
    scale = 1 / np.sqrt(np.diag(K))
    x = scale[:, None] * np.linalg.solve(K * scale[:, None] * scale, f * scale[:, None])
    return x.reshape(len(points), 6, cases)[: len(nodes)]


def test_against_an_independent_dense_assembly():
    rng = np.random.default_rng(5)
    for _ in range(25):
        nodes, members, loads = some_frame(rng)
        loads = [l for l in loads if isinstance(l, NodeLoad) or l.end is None]
        found = solve(nodes, members, loads, cases=3)
        other = dense(nodes, members, loads, 3)
        for part in (slice(3), slice(3, 6)):
            size = np.abs(other[:, part]).max()
            # stiff springs for rigid joints leave about 1e-5
            assert found.displacements[:, part] == pytest.approx(other[:, part], rel=1e-4, abs=1e-4 * size)


def test_a_spread_load_is_many_small_ones():
    rng = np.random.default_rng(8)
    nodes, members, _ = some_frame(rng)
    k, n = 2, 4000
    length = reach(nodes, members[k])
    a, b = 0.13 * length, 0.86 * length
    first, last = np.array([1.0, -2.0, 3.0]), np.array([-4.0, 0.5, 1.0])
    spread = [MemberLoad(k, a, tuple(first), end=b, last_force=tuple(last), moment=(20.0, 0, 0))]
    h = (b - a) / n
    lumps = [
        MemberLoad(k, a + (i + 0.5) * h, tuple((first + (last - first) * (i + 0.5) / n) * h), (20.0 * h, 0, 0))
        for i in range(n)
    ]
    one, many = solve(nodes, members, spread), solve(nodes, members, lumps)
    assert one.displacements == pytest.approx(many.displacements, rel=1e-5, abs=1e-7 * np.abs(many.displacements).max())


def test_turned_frame_gives_turned_answers():
    rng = np.random.default_rng(3)
    for _ in range(20):
        nodes, members, loads = some_frame(rng)
        nodes = [Node(n.at, n.held if n.held in (HELD, FREE) else FREE) for n in nodes]
        Q, _ = np.linalg.qr(rng.normal(size=(3, 3)))
        Q *= np.sign(np.linalg.det(Q))
        far = np.array([300.0, -800.0, 50.0])

        def turned(v, Q=Q):
            return tuple(Q @ np.array(v))

        other = solve(
            [Node(tuple(Q @ np.array(n.at) + far), n.held) for n in nodes],
            [
                Member(
                    m.start,
                    m.end,
                    m.stiffness,
                    turned(m.up),
                    End(m.first.spring, turned(m.first.arm)),
                    End(m.last.spring, turned(m.last.arm)),
                )
                for m in members
            ],
            [
                NodeLoad(l.node, turned(l.force), turned(l.moment), l.case)
                if isinstance(l, NodeLoad)
                else l
                if l.axes == "member"
                else MemberLoad(
                    l.member,
                    l.start,
                    turned(l.force),
                    turned(l.moment),
                    l.end,
                    l.last_force and turned(l.last_force),
                    None,
                    l.case,
                )
                for l in loads
            ],
            cases=3,
        )
        found = solve(nodes, members, loads, cases=3)
        for part in (slice(3), slice(3, 6)):
            expected = np.einsum("ij,njc->nic", Q, found.displacements[:, part])
            assert other.displacements[:, part] == pytest.approx(expected, rel=1e-7, abs=1e-9 * np.abs(expected).max())


def test_work_is_reciprocal():
    """Maxwell and Betti: the movement at B under a unit load at A is that at A under one at B."""
    rng = np.random.default_rng(4)
    for _ in range(20):
        nodes, members, _ = some_frame(rng)
        ways = [(int(rng.integers(1, len(nodes))), int(rng.integers(6))) for _ in range(2)]
        loads = []
        for case, (node, way) in enumerate(ways):
            six = np.zeros(6)
            six[way] = 1.0
            loads.append(NodeLoad(node, tuple(six[:3]), tuple(six[3:]), case))
        moved = solve(nodes, members, loads, cases=2).displacements
        (a, i), (b, j) = ways
        assert moved[b, j, 0] == pytest.approx(moved[a, i, 1], rel=1e-7, abs=1e-12 * np.abs(moved).max())


def test_a_large_grillage_is_cut_apart_and_solved():
    """Dissected into many fronts, against one dense elimination of the same stiffness."""
    from jointcalc.statics import dissection

    rng = np.random.default_rng(2)
    n = 13
    number = np.arange(n * n).reshape(n, n)
    pairs = np.concatenate(
        [
            np.stack([number[:-1].ravel(), number[1:].ravel()], 1),
            np.stack([number[:, 1:].ravel(), number[:, :-1].ravel()], 1),
        ]
    )
    root = rng.normal(size=(len(pairs), 12, 12))
    K = root @ root.transpose(0, 2, 1)
    place = np.stack(np.unravel_index(np.arange(n * n), (n, n)), 1).astype(float)
    held = rng.random((n * n, 6)) < 0.05
    more = np.zeros((n * n, 6, 6))
    right = np.where(held[:, :, None], 0.0, rng.normal(size=(n * n, 6, 4)))
    found = dissection.Factor(place, pairs, K, more, held).solve(right)
    whole = np.zeros((6 * n * n, 6 * n * n))
    for (a, b), k in zip(pairs, K):
        rows = np.r_[6 * a : 6 * a + 6, 6 * b : 6 * b + 6]
        whole[np.ix_(rows, rows)] += k
    free = ~held.ravel()
    other = np.linalg.solve(whole[np.ix_(free, free)], right.reshape(-1, 4)[free])
    assert found.reshape(-1, 4)[free] == pytest.approx(other, rel=1e-9, abs=1e-9 * np.abs(other).max())
    assert not found.reshape(-1, 4)[~free].any()


# --- what moves ------------------------------------------------------------------------------------------------


def told(nodes, members, loads=()):
    with pytest.raises(InputError) as error:
        solve(nodes, members, list(loads))
    return str(error.value)


def test_nothing_holds_the_frame():
    said = told([Node((0, 0, 0)), Node((L, 0, 0))], [Member(0, 1, FULL)])
    assert all(word in said for word in ("whole frame", "along x", "along y", "along z", "too few supports"))


def test_a_frame_that_slides():
    up = (0.0, inf, inf, inf, inf, inf)
    said = told([Node((0, 0, 0), up), Node((L, 0, 0), up)], [Member(0, 1, FULL)])
    assert "slide along x" in said
    assert "along y" not in said


def test_a_frame_that_turns_on_one_post():
    said = told(
        [Node((0, 0, 0), (inf, inf, inf, inf, inf, 0)), Node((L, 0, 0)), Node((L, L, 0))],
        [Member(0, 1, FULL), Member(1, 2, FULL)],
    )
    assert "turn about a line along z" in said
    assert "slide" not in said


def test_a_hinge_in_the_middle():
    pin = (inf, inf, inf, inf, 0.0, inf)
    nodes = [
        Node((0, 0, 0), SEATED),
        Node((L, 0, 0), name="the joint of B1 and B2"),
        Node((2 * L, 0, 0), SEATED),
        Node((0, L, 0), SEATED),
    ]
    members = [
        Member(0, 1, FULL, name="B1", last=End(pin)),
        Member(1, 2, FULL, name="B2"),
        Member(0, 3, FULL, name="R1"),
    ]
    said = told(nodes, members)
    assert "mechanism" in said
    assert "the joint of B1 and B2 can move along z" in said
    assert "B1, B2" in said


def test_a_member_that_slides_out():
    free = (0.0, inf, inf, inf, inf, inf)
    said = told(
        [Node((0, 0, 0), HELD), Node((L, 0, 0), HELD)], [Member(0, 1, FULL, name="B7", first=End(free), last=End(free))]
    )
    assert "B7" in said
    assert "slide along its own line" in said


def test_a_hinged_triangle_stands_and_its_nodes_may_spin():
    """A bar's force from equilibrium: P / 2 sin(a)."""
    pin = End(PINNED)
    nodes = [Node((0, 0, 0), SEATED), Node((600, 0, 0), SEATED), Node((300, 0, 400), (0, inf, 0, 0, 0, 0))]
    members = [Member(a, 2, FULL, up=(0, 1, 0), first=pin, last=pin) for a in (0, 1)]
    found = solve(nodes, members, [NodeLoad(2, (0, 0, -100.0))])
    assert found.line(0).forces(0.0)[0, 0] == pytest.approx(-100 / 2 / 0.8, rel=RTOL)
    assert "moment" in told(nodes, members, [NodeLoad(2, moment=(0, 50.0, 0))])


@pytest.mark.parametrize(
    "nodes, member, word",
    [
        ([(0, 0, 0), (0, 0, 0)], {}, "has no length"),
        ([(0, 0, 0), (0, 0, 9)], {}, "upper side"),
        ([(0, 0, 0), (9, 0, 0)], {"stiffness": Stiffness(1.0, 0.0, 1.0, 1.0)}, "above zero"),
        ([(0, 0, 0), (9, 0, 0)], {"first": End((inf,) * 5 + (-1.0,))}, "below zero"),
    ],
)
def test_what_is_refused(nodes, member, word):
    read = [Node(p, HELD) for p in nodes]
    assert word in told(read, [Member(0, 1, **{"stiffness": FULL, "name": "B1", **member})])


def test_a_load_off_its_member():
    assert "off the member" in told(
        [Node((0, 0, 0), HELD), Node((L, 0, 0))], [Member(0, 1, FULL)], [MemberLoad(0, L + 1, (0, 0, 1.0))]
    )
