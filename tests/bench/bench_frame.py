"""What a frame's solve is spent on, and how it grows with the number of members.

Run: `python tests/bench/bench_frame.py`.  Square grillages and one frame in space, 50 cases each with a load on
ten members; every member end passes everything on, sections are a hat's.  The factorisation (cutting the nodes apart,
adding members up and eliminating) must be at least 60 % of a whole solve of about 500 members, and the cost must grow
no faster than members^1.5.  Processor time of one thread, least of several runs: the machine's load drops out.
"""

from __future__ import annotations

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
os.environ.setdefault("OMP_NUM_THREADS", "1")

import time
from math import log

import numpy as np

from jointcalc.statics import frame
from jointcalc.statics.dissection import Factor
from jointcalc.statics.frame import HELD, Member, MemberLoad, Node, Stiffness, solve

CASES = 50
HAT = Stiffness(EA=3e7, EI_y=6e9, EI_z=3e10, GJ=2e7, GA_y=4e6, GA_z=3e6, centre=(0.0, 22.0))


def grid(*shape: int) -> tuple[list[Node], list[Member], list[MemberLoad]]:
    """Nodes 300 mm apart joined along every line, held at the corners; loads on ten members in every case."""
    number = np.arange(int(np.prod(shape))).reshape(shape)
    places = np.stack(np.unravel_index(number.ravel(), shape), axis=1)
    corner = np.all((places == 0) | (places == np.array(shape) - 1), axis=1)
    placed = np.zeros((len(places), 3))
    placed[:, : len(shape)] = 300.0 * places
    nodes = [Node((x, y, z), held=HELD if c else (0.0,) * 6) for (x, y, z), c in zip(placed.tolist(), corner)]
    pairs = []
    for axis in range(len(shape)):
        low, high = (np.take(number, range(k, shape[axis] - 1 + k), axis=axis).ravel() for k in (0, 1))
        pairs += list(zip(low.tolist(), high.tolist()))
    upright = [abs(places[b] - places[a])[-1] == 1 and len(shape) == 3 for a, b in pairs]
    members = [Member(a, b, HAT, up=(1.0, 0.0, 0.0) if z else (0.0, 0.0, 1.0)) for (a, b), z in zip(pairs, upright)]
    loads = [
        MemberLoad((7 * k * (case + 1)) % len(members), 100.0, (0.0, 0.0, -500.0), case=case)
        for case in range(CASES)
        for k in range(10)
    ]
    return nodes, members, loads


def measured(*shape: int, runs: int = 15) -> tuple[int, float, float]:
    """(members, processor time of a solve [s], of the factorisation in it [s])."""
    nodes, members, loads = grid(*shape)
    spent: list[float] = []

    class Timed(Factor):
        def __init__(self, *args: object, **more: object) -> None:
            start = time.process_time()
            super().__init__(*args, **more)  # type: ignore[arg-type]
            spent.append(time.process_time() - start)

    whole = []
    frame.Factor = Timed  # type: ignore[misc]
    for _ in range(runs):
        start = time.process_time()
        found = solve(nodes, members, loads, cases=CASES)
        whole.append(time.process_time() - start)
        assert found.residual < 1e-9
    frame.Factor = Factor  # type: ignore[misc]
    return len(members), min(whole), min(spent)


def main() -> None:
    """Print the share of the factorisation and the growth."""
    before: tuple[int, float, float] | None = None
    for shape in ((8, 8), (16, 16), (23, 23), (32, 32), (6, 6, 6)):
        members, whole, factor = measured(*shape)
        grown = ""
        if before is not None and len(shape) == 2:
            grown = f", grown with members^{log(whole / before[1]) / log(members / before[0]):.2f}"
        print(
            f"{' x '.join(map(str, shape)):>10}: {members:5} members, {1e3 * whole:6.1f} ms, "
            f"{100 * factor / whole:3.0f} % in the factorisation{grown}"
        )
        if len(shape) == 2:
            before = members, whole, factor


if __name__ == "__main__":
    main()
