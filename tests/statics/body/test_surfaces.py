"""Flat sheets in equilibrium against the published closed box, statics by hand, and an independent solution.

Automotive Chassis Engineering (Springer), eq. 4.3 to 4.8, read: closed box of width L1, height L2, length L3 under T at
its ends: Q1 = T/(2 L2), Q2 = L2 Q1/L1, Q3 = L3 Q1/L1; all nothing without the roof.  Box on cross beams (lecture page
on simple structural surfaces, read): cross beams at a third and two thirds of the length, side reactions P/4.
"""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from jointcalc.errors import InputError
from jointcalc.statics.body import SIDES, Box, faces
from jointcalc.statics.surfaces import Edge, Push, Surface, solve

T, L1, L2, L3 = 3.0e6, 1400.0, 1200.0, 2000.0


def closed(*missing: str) -> tuple[list[Surface], list[Edge]]:
    return faces(Box(L3, L1, L2, {face: 0.8 for face in SIDES if face not in missing}))


def ends(torque: float) -> list[Push]:
    return [Push("front", moment=(torque, 0.0, 0.0)), Push("rear", moment=(-torque, 0.0, 0.0))]


def force(box: tuple[list[Surface], list[Edge]], carried, one: str, other: str) -> float:
    n = next(n for n, e in enumerate(box[1]) if set(e.surfaces) == {one, other})
    a, b = (abs(carried.forces[n][name]) for name in (one, other))
    assert a == pytest.approx(b, rel=1e-9, abs=1e-6)
    return a


def test_the_published_closed_box() -> None:
    box = closed()
    carried = solve(*box, ends(T))
    for end, level in itertools.product(("front", "rear"), ("floor", "roof")):
        assert force(box, carried, end, level) == pytest.approx(T / (2 * L2), rel=1e-9)  # Q1 = 1250 N
    for end, side in itertools.product(("front", "rear"), ("left side", "right side")):
        assert force(box, carried, end, side) == pytest.approx(L2 * 1250.0 / L1, rel=1e-9)  # Q2
    for level, side in itertools.product(("floor", "roof"), ("left side", "right side")):
        assert force(box, carried, level, side) == pytest.approx(L3 * 1250.0 / L1, rel=1e-9)  # Q3
    assert carried.spare == 0
    assert carried.residual < 1e-9 * T / L2
    # Bredt: one flow T/(2 A) on every edge
    flows = [abs(q) for edge in carried.flows for q in edge.values()]
    assert np.ptp(flows) < 1e-9
    assert flows[0] == pytest.approx(T / (2 * L1 * L2))


@pytest.mark.parametrize("missing", ["roof", "floor", "left side", "right side"])
def test_without_one_sheet_the_path_disappears(missing: str) -> None:
    with pytest.raises(InputError, match="finds no path") as error:
        solve(*closed(missing), ends(T))
    # all that is left takes part in it
    assert all(f"'{face}'" in str(error.value) for face in SIDES if face != missing)


def test_without_a_torque_a_box_with_a_sheet_missing_is_in_balance() -> None:
    carried = solve(*closed("roof"), [])
    assert all(abs(f) < 1e-12 for edge in carried.forces for f in edge.values())


def test_a_box_on_two_cross_beams() -> None:
    """P on each of two cross beams at L/3 and 2 L/3 of a box held at its four lower corners: see the module's source.

    The page's P is that of both beams: each beam hands P/4 to each side, the ends take P/4 at each corner, and roof and
    floor carry nothing.
    """
    P, h = 4000.0, 100.0
    surfaces, edges = closed()
    loads = []
    for name, x in (("beam 1", L3 / 3), ("beam 2", 2 * L3 / 3)):
        surfaces.append(Surface(name, ((x, -L1 / 2, 0), (x, L1 / 2, 0), (x, L1 / 2, h), (x, -L1 / 2, h))))
        for side, y in (("left side", -L1 / 2), ("right side", L1 / 2)):
            edges.append(Edge((x, y, 0), (x, y, h), (name, side)))
        loads.append(Push(name, force=(0, 0, -P / 2), at=(x, 0, 0)))
    # the ends stand on the ground at the corners
    for end, x in (("front", 0.0), ("rear", L3)):
        for y in (-L1 / 2, L1 / 2):
            loads.append(Push(end, force=(0, 0, P / 4), at=(x, y, 0)))
    carried = solve(surfaces, edges, loads)
    box = surfaces, edges
    for beam, side in itertools.product(("beam 1", "beam 2"), ("left side", "right side")):
        assert force(box, carried, beam, side) == pytest.approx(P / 4)  # K1
    for end, side in itertools.product(("front", "rear"), ("left side", "right side")):
        assert force(box, carried, end, side) == pytest.approx(P / 4)  # K3 = K1
    for level, side in itertools.product(("floor", "roof"), ("left side", "right side")):
        assert force(box, carried, level, side) == pytest.approx(0.0, abs=1e-6)


def test_a_load_across_a_sheet_is_refused() -> None:
    with pytest.raises(InputError, match="'floor' carries in its own plane only"):
        solve(*closed(), [Push("floor", force=(0, 0, -100), at=(L3 / 2, 0, 0))])
    with pytest.raises(InputError, match="stands off its plane"):
        solve(*closed(), [Push("floor", force=(100, 0, 0), at=(L3 / 2, 0, 50))])
    with pytest.raises(InputError, match="no surface 'flor'; did you mean 'floor'"):
        solve(*closed(), [Push("flor", force=(100, 0, 0))])


def test_bad_surfaces_and_edges() -> None:
    with pytest.raises(InputError, match="has no area"):
        solve([Surface("strip", ((0, 0, 0), (1, 0, 0), (2, 0, 0)))], [], [])
    with pytest.raises(InputError, match="is not flat"):
        solve([Surface("bent", ((0, 0, 0), (1, 0, 0), (1, 1, 0.2), (0, 1, 0)))], [], [])
    surfaces, edges = closed()
    with pytest.raises(InputError, match="does not lie in the plane of 'roof'"):
        solve(surfaces, [*edges, Edge((0, 0, 0), (1, 0, 0), ("floor", "roof"))], [])
    with pytest.raises(InputError, match="has no length"):
        solve(surfaces, [*edges, Edge((0, 0, 0), (0, 0, 0), ("floor", "front"))], [])


def test_parallel_floors_share_by_their_stiffness() -> None:
    """A second floor beside the first: both rack by the same angle, so they share by G t; no statics settles it."""
    surfaces, edges = closed()
    floor = next(s for s in surfaces if s.name == "floor")
    surfaces.append(Surface("second floor", floor.corners, 3 * floor.stiffness))
    edges = [Edge(e.start, e.end, (*e.surfaces, "second floor")) if "floor" in e.surfaces else e for e in edges]
    carried = solve(surfaces, edges, ends(T))
    q = T / (2 * L1 * L2)
    for edge, flows in zip(edges, carried.flows):
        if "second floor" in edge.surfaces:
            assert abs(flows["floor"]) == pytest.approx(q / 4, rel=1e-6)
            assert abs(flows["second floor"]) == pytest.approx(3 * q / 4, rel=1e-6)
    assert carried.spare > 0


def test_random_boxes_against_a_solution_of_our_own() -> None:
    """Sheared boxes with random loads in balance: edge forces by least squares on equilibrium written out face by face."""
    rng = np.random.default_rng(11)
    for _ in range(20):
        l, w, h = rng.uniform(300, 3000, 3)
        surfaces, edges = faces(Box(l, w, h, {face: float(rng.uniform(0.6, 2)) for face in SIDES}))
        T, F = rng.uniform(-1e6, 1e6), rng.uniform(-1e3, 1e3)
        # torque at the ends, and a couple of opposite pushes on floor and roof that the ends bring back
        loads = [
            *ends(T), Push("floor", force=(F, 0, 0), at=(l / 3, 0, 0)), Push("roof", force=(-F, 0, 0), at=(l / 2, 0, h)),
            Push("left side", moment=(0, F * h / 2, 0)), Push("right side", moment=(0, F * h / 2, 0)),
        ]  # fmt: skip
        moment = np.cross((l / 3, 0, 0), (F, 0, 0)) + np.cross((l / 2, 0, h), (-F, 0, 0)) + (0, F * h, 0)
        assert np.allclose(moment, 0, atol=1e-6)
        carried = solve(surfaces, edges, loads)
        # every face in balance, force and moment in space, from the answer alone
        for s in surfaces:
            total, turning = np.zeros(3), np.zeros(3)
            for e, forces in zip(edges, carried.forces):
                if s.name in forces:
                    way = np.subtract(e.end, e.start) / np.linalg.norm(np.subtract(e.end, e.start))
                    total += forces[s.name] * way
                    turning += np.cross(e.start, forces[s.name] * way)
            for push in loads:
                if push.surface == s.name:
                    total += push.force
                    turning += np.cross(push.at, push.force) + push.moment
            arms = np.subtract(s.corners, s.corners[0])
            normal = np.cross(arms[1], arms[2])
            assert np.allclose(total, 0, atol=1e-6 * abs(F) + 1e-9 * abs(T))
            assert abs(turning @ normal) / np.linalg.norm(normal) < 1e-6 * abs(T)
