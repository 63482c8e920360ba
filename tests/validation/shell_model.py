"""Panels by an independent general-purpose shell library: the values of tests/statics/field/shell_model.csv.

Neither collected by pytest nor imported by anything, and it imports nothing of jointcalc: geometry, loads and edges are
written here a second time.  The library is KratosMultiphysics (with StructuralMechanicsApplication and
LinearSolversApplication; wheels of these names, numpy is all they need), its element ShellThinElementCorotational3D4N:
four-node thin shell, large rotations, elastic.  Where beads cross, the sheet is creased along the diagonals of such an
element: those panels are cut into ShellThinElementCorotational3D3N, three-node ones of the same library, the creases on
their sides.  Run it in an environment of its own, from the top of the repository:

    python3 -m venv /tmp/shells
    /tmp/shells/bin/pip install --no-deps KratosMultiphysics KratosStructuralMechanicsApplication \
        KratosLinearSolversApplication
    /tmp/shells/bin/pip install numpy
    OMP_NUM_THREADS=2 /tmp/shells/bin/python tests/validation/shell_model.py [name of a case ...]

Every case of shell_model.toml is worked out on two meshes; the csv holds both, the value to hold the package to is the
finer one carried on by what refining has changed (second order).  A case takes one to four minutes on two cores.
"""

from __future__ import annotations

import csv
import sys
import time
import tomllib
from collections import defaultdict
from datetime import UTC, datetime
from itertools import pairwise
from pathlib import Path
from typing import Any

import KratosMultiphysics as KM
import KratosMultiphysics.LinearSolversApplication as LSA
import KratosMultiphysics.StructuralMechanicsApplication as SMA
import numpy as np

PLACE = Path(__file__).resolve().parents[1] / "statics" / "field"
E, NU = 210_000.0, 0.3
GROW = 0.3
"""How fast elements grow away from where they are small."""
REFINED = 1.5
"""Size of the elements of the first mesh over those of the second."""
STEPS = 6
FLAT_FACES = np.cos(np.radians(20.0))
"""Elements meeting at a sharper corner than this are not meant together."""


def spread(stops: list[float], sizes: dict[float, float], most: float) -> np.ndarray:
    """Lines through all stops, as close as `sizes` at some of them and growing to `most`."""
    out = [stops[0]]
    for low, high in pairwise(stops):
        x = np.linspace(low, high, 400)
        h = np.full_like(x, most)
        for at, size in sizes.items():
            h = np.minimum(h, size + GROW * np.abs(x - at))
        passed = np.concatenate([[0], np.cumsum(np.diff(x) * (1 / h[1:] + 1 / h[:-1]) / 2)])
        n = max(1, int(np.ceil(passed[-1])))
        out += list(np.interp(np.arange(1, n + 1) * passed[-1] / n, passed, x))
        out[-1] = high
    return np.array(out)


def profile(bead: dict[str, Any], n: int) -> list[tuple[float, float]]:
    """Mid-line of a bead from foot to foot, sharp corners, about 2 n pieces."""
    half, depth = bead["width"] / 2, bead["depth"]
    if bead["family"] == "arc":
        R = (half * half + depth * depth) / (2 * depth)
        alpha = np.arctan2(half, R - depth)
        return [(R * np.sin(u), depth - R * (1 - np.cos(u))) for u in np.linspace(-alpha, alpha, 2 * n + 1)]
    crown = bead["flat"] / 2 if bead["family"] == "trapezoid" else 0.0
    line = [(-half, 0.0), (-crown, depth)] + ([(crown, depth)] if crown else []) + [(half, 0.0)]
    out = [line[0]]
    for (y, z), (y_2, z_2) in pairwise(line):
        pieces = 2 * max(1, round(n * np.hypot(y_2 - y, z_2 - z) / (half + depth) / 2))  # a node at the middle
        out += [(y + (y_2 - y) * k / pieces, z + (z_2 - z) * k / pieces) for k in range(1, pieces + 1)]
    return out


def points(
    stops: set[float], sizes: dict[float, float], beads: list[list[tuple[float, float]]], end: float, most: float
) -> tuple[np.ndarray, np.ndarray]:
    """Places along one side from 0 to `end` and how high they are: flat strips, and the beads that it runs over."""
    inside = [
        s for s in stops
        if 0 <= s <= end and not any(line[0][0] + 1e-9 < s < line[-1][0] - 1e-9 for line in beads)
    ]  # fmt: skip
    found: list[tuple[float, float]] = []
    for low, high in pairwise(sorted(inside)):
        line = next((line for line in beads if abs(line[0][0] - low) < 1e-9), None)
        if line is None:
            found += [(float(y), 0.0) for y in spread([low, high], sizes, most)]
        else:
            found += line
    cut = next((line for line in beads if line[0][0] < end - 1e-9 < line[-1][0] - 2e-9), None)
    if cut is not None:  # the middle runs along a crown
        found += [p for p in cut if p[0] < end + 1e-9]
    kept = found[:1]
    for p in found[1:]:
        if p[0] - kept[-1][0] > 1e-6:
            kept.append(p)
    assert abs(kept[-1][0] - end) < 1e-6
    return np.array([p[0] for p in kept]), np.array([p[1] for p in kept])


class Mesh:
    """A panel, or the quarter of it that says everything, cut into four-node elements."""

    def __init__(self, case: dict[str, Any], fineness: float) -> None:
        self.case = case
        self.a, self.b, self.t = *case["size"], case["thickness"]
        bead, patch = case.get("bead"), case.get("patch")
        at = patch["at"] if patch else (self.a / 2, self.b / 2)
        self.quarter = at[0] == self.a / 2 and at[1] == self.b / 2
        ends = (self.a / 2, self.b / 2) if self.quarter else (self.a, self.b)
        short = min(self.a, self.b)
        most, edge = short / 14 / fineness, min(short / 40, 4 * self.t) / fineness
        boxes = [(at[k] - patch["size"][k] / 2, at[k] + patch["size"][k] / 2) for k in (0, 1)] if patch else []
        under = [(box[1] - box[0]) / 6 / fineness for box in boxes]
        # both ways alike: lines at the ends of the beads along this side, and over those along the other
        places, heights, rises = [], [], []
        sets = ((bead, case.get("middles", [])), (case.get("cross"), case.get("cross_middles", [])))
        for axis, (own, (over, middles)) in enumerate(zip((sets[0][0], sets[1][0]), (sets[1], sets[0]))):
            side, end = (self.a, self.b)[axis], ends[axis]
            stops, sizes = {0.0, end}, {0.0: edge, side: edge}
            if patch:
                stops |= set(boxes[axis])
                sizes |= dict.fromkeys(boxes[axis], under[axis])
            if own and own["stop"] + own["runout"]:
                for place in (own["stop"], own["stop"] + own["runout"]):
                    stops |= {place, side - place}
                    sizes |= dict.fromkeys((place, side - place), max(own["runout"], own["stop"]) / 5 / fineness)
            lines = []
            for middle in middles if over else []:
                line = [(middle + y, z) for y, z in profile(over, max(4, round(5 * fineness)))]
                piece = float(np.hypot(line[1][0] - line[0][0], line[1][1] - line[0][1]))
                lines.append(line)
                stops |= {line[0][0], line[-1][0]}
                sizes |= {line[0][0]: piece, line[-1][0]: piece}
            at, up = points(stops, sizes, lines, end, most)
            places.append(at)
            heights.append(up)
            off, rise = np.minimum(at, side - at), np.zeros_like(at)
            if own:
                run = own["runout"]
                rise = np.clip((off - own["stop"]) / run, 0, 1) if run else (off >= own["stop"]).astype(float)
            rises.append(rise)
        self.x, self.y = places
        # where beads cross, the sheet lies as high as the higher of the two
        sign = -1.0 if case.get("towards", True) else 1.0
        self.z = sign * np.maximum(np.outer(rises[0], heights[1]), np.outer(heights[0], rises[1]))
        rises, heights = ([(v[1:] + v[:-1]) / 2 for v in values] for values in (rises, heights))
        self.middle = sign * np.maximum(np.outer(rises[0], heights[1]), np.outer(heights[0], rises[1]))

    def loads(self) -> np.ndarray:
        """Force at every node [N]: each element's share of every loaded rectangle, kept in size and place."""
        out = np.zeros((len(self.x), len(self.y)))
        case = self.case
        areas = [(case["pressure"], 0.0, self.a, 0.0, self.b)] if case.get("pressure") else []
        if patch := case.get("patch"):
            (x, y), (c, d) = patch["at"], patch["size"]
            areas.append((patch["force"] / (c * d), x - c / 2, x + c / 2, y - d / 2, y + d / 2))
        for q, *box in areas:
            shares = []
            for line, low, high in ((self.x, box[0], box[1]), (self.y, box[2], box[3])):
                share = np.zeros(len(line))
                for k, (one, two) in enumerate(pairwise(line)):
                    start, end = max(one, low), min(two, high)
                    if end > start:
                        far = ((start + end) / 2 - one) / (two - one)
                        share[k] += (end - start) * (1 - far)
                        share[k + 1] += (end - start) * far
                shares.append(share)
            out += q * np.outer(*shares)
        return out


def solve(mesh: Mesh) -> dict[str, float]:
    """Deflection and the greatest surface stress of one mesh."""
    case, nx, ny = mesh.case, len(mesh.x), len(mesh.y)
    model = KM.Model()
    part = model.CreateModelPart("panel")
    part.ProcessInfo[KM.DOMAIN_SIZE] = 3
    for variable in (KM.DISPLACEMENT, KM.REACTION, KM.ROTATION, KM.REACTION_MOMENT, SMA.POINT_LOAD):
        part.AddNodalSolutionStepVariable(variable)
    part.SetBufferSize(2)
    sheet = part.CreateNewProperties(1)
    sheet[KM.YOUNG_MODULUS], sheet[KM.POISSON_RATIO] = E, NU
    sheet[KM.THICKNESS], sheet[KM.DENSITY] = mesh.t, 7.85e-9
    sheet[KM.CONSTITUTIVE_LAW] = SMA.LinearElasticPlaneStress2DLaw()

    def number(i: int, j: int) -> int:
        return i * ny + j + 1

    for i in range(nx):
        for j in range(ny):
            part.CreateNewNode(number(i, j), mesh.x[i], mesh.y[j], mesh.z[i, j])
    for name in "XYZ":
        for kind, reaction in (("DISPLACEMENT", "REACTION"), ("ROTATION", "REACTION_MOMENT")):
            KM.VariableUtils().AddDof(getattr(KM, f"{kind}_{name}"), getattr(KM, f"{reaction}_{name}"), part)
    count = 0
    for i in range(nx - 1):
        for j in range(ny - 1):
            corners = [number(i, j), number(i + 1, j), number(i + 1, j + 1), number(i, j + 1)]
            if "cross" not in case:
                count += 1
                part.CreateNewElement("ShellThinElementCorotational3D4N", count, corners, sheet)
                continue
            # cut along the diagonal that the true surface is nearer to at the middle of the cell
            z, true = mesh.z[i : i + 2, j : j + 2], mesh.middle[i, j]
            off = abs((z[0, 0] + z[1, 1]) / 2 - true) - abs((z[0, 1] + z[1, 0]) / 2 - true)
            first = off < 0 if abs(off) > 1e-9 else (i + j) % 2 == 0
            p, q, r, s = corners
            for three in ((p, q, r), (p, r, s)) if first else ((p, q, s), (q, r, s)):
                count += 1
                part.CreateNewElement("ShellThinElementCorotational3D3N", count, list(three), sheet)
    loads = mesh.loads()
    loaded = [(i, j) for i in range(nx) for j in range(ny) if loads[i, j]]
    for k, (i, j) in enumerate(loaded, 1):
        part.CreateNewCondition("PointLoadCondition3D1N", k, [number(i, j)], sheet)
    clamped = case["edges"] == "clamped"
    for i in range(nx):
        for j in range(ny):
            node = part.Nodes[number(i, j)]
            on = [axis for axis, at, size in ((0, mesh.x[i], mesh.a), (1, mesh.y[j], mesh.b)) if at in (0.0, size)]
            if on:
                # edges in the plane of the sheet: held
                for name in "XYZ":
                    node.Fix(getattr(KM, f"DISPLACEMENT_{name}"))
                    if clamped:
                        node.Fix(getattr(KM, f"ROTATION_{name}"))
                for axis in on:  # what is held along a straight edge does not turn across it either
                    node.Fix(KM.ROTATION_X if axis == 0 else KM.ROTATION_Y)
            if not mesh.quarter:
                continue
            if i == nx - 1:
                node.Fix(KM.DISPLACEMENT_X), node.Fix(KM.ROTATION_Y), node.Fix(KM.ROTATION_Z)
            if j == ny - 1:
                node.Fix(KM.DISPLACEMENT_Y), node.Fix(KM.ROTATION_X), node.Fix(KM.ROTATION_Z)
    builder = KM.ResidualBasedBlockBuilderAndSolver(LSA.SparseLUSolver())
    near = KM.ResidualCriteria(1e-7, 1e-9)
    near.SetEchoLevel(0)
    strategy = KM.ResidualBasedNewtonRaphsonStrategy(
        part, KM.ResidualBasedIncrementalUpdateStaticScheme(), near, builder, 40, True, False, True
    )
    strategy.SetEchoLevel(0)
    strategy.Check()
    strategy.Initialize()
    for step in range(1, STEPS + 1):
        part.CloneTimeStep(float(step))
        part.ProcessInfo[KM.STEP] = step
        for i, j in loaded:
            part.Nodes[number(i, j)].SetSolutionStepValue(SMA.POINT_LOAD_Z, loads[i, j] * step / STEPS)
        strategy.InitializeSolutionStep()
        strategy.Predict()
        if not strategy.SolveSolutionStep():
            raise SystemExit(f"{case['name']}: step {step} does not settle")
        strategy.FinalizeSolutionStep()
    w = np.array([node.GetSolutionStepValue(KM.DISPLACEMENT_Z) for node in part.Nodes])
    lift = sum(node.GetSolutionStepValue(KM.REACTION_Z) for node in part.Nodes)
    assert abs(lift + loads.sum()) < 1e-4 * loads.sum(), (lift, loads.sum())
    peak, place = surface_stress(part, mesh)
    return {
        "elements": count, "deflection": float(w[np.abs(w).argmax()]), "surface_stress": peak, "at": place,
    }  # fmt: skip


def surface_stress(part: Any, mesh: Mesh) -> tuple[float, tuple[float, float]]:
    """Greatest von Mises stress at a face, at the corners of the elements, meant over smooth neighbours.

    The library's own membrane strain is off by half the square of what an element has turned (seen on elements under no
    stress): the stretch is taken from the places of the nodes instead, and only the bending from the library.
    """
    r = np.sqrt(3.0)
    to_corner = np.array([[(1 + i * k * r) * (1 + j * l * r) / 4 for k, l in SIGNS] for i, j in SIGNS])
    plane = E / (1 - NU**2) * np.array([[1, NU, 0], [NU, 1, 0], [0, 0, (1 - NU) / 2]])
    at_node: dict[int, list[tuple[np.ndarray, np.ndarray]]] = defaultdict(list)
    for element in part.Elements:
        nodes = element.GetNodes()
        X = np.array([[n.X0, n.Y0, n.Z0] for n in nodes])
        x = X + np.array([list(n.GetSolutionStepValue(KM.DISPLACEMENT)) for n in nodes])
        A = tangents(X, 0.0, 0.0)
        normal = np.cross(*A)
        normal /= np.linalg.norm(normal)
        one = A[0] / np.linalg.norm(A[0])
        axes = np.array([one, np.cross(normal, one)])
        stretch = np.array([green(X, x, axes, i, j) for i, j in SIGNS[: len(nodes)]])
        stretch[:, 2] = green(X, x, axes, 0.0, 0.0)[2]  # shear: at the middle, where these elements tell it
        membrane = stretch @ plane
        top, bottom = (
            np.array(
                [axes @ np.array(m) @ axes.T for m in element.CalculateOnIntegrationPoints(name, part.ProcessInfo)]
            )
            for name in (SMA.SHELL_STRESS_TOP_SURFACE_GLOBAL, SMA.SHELL_STRESS_BOTTOM_SURFACE_GLOBAL)
        )
        half = (top - bottom) / 2
        carried = to_corner if len(nodes) == 4 else OF_THREE
        bending = carried @ np.stack([half[:, 0, 0], half[:, 1, 1], half[:, 0, 1]], axis=1)
        for corner, node in enumerate(nodes):
            faces = np.array([membrane[corner] + bending[corner], membrane[corner] - bending[corner]])
            s, u, v = faces.T
            at_node[node.Id].append((normal, np.sqrt(s * s - s * u + u * u + 3 * v * v)))
    best, place = 0.0, (0.0, 0.0)
    for number, found in at_node.items():
        for normal, _ in found:
            smooth = [s for other, s in found if other @ normal > FLAT_FACES]
            value = float(np.mean(smooth, axis=0).max())
            if value > best:
                node = part.Nodes[number]
                best, place = value, (node.X0, node.Y0)
    return best, place


def tangents(P: np.ndarray, i: float, j: float) -> np.ndarray:
    """How the place moves with the element's own coordinates, at (i, j); a triangle's are the same everywhere."""
    if len(P) == 3:
        return np.array([P[1] - P[0], P[2] - P[0]])
    return np.array([
        (1 - j) * (P[1] - P[0]) / 4 + (1 + j) * (P[2] - P[3]) / 4,
        (1 - i) * (P[3] - P[0]) / 4 + (1 + i) * (P[2] - P[1]) / 4,
    ])  # fmt: skip


def green(X: np.ndarray, x: np.ndarray, axes: np.ndarray, i: float, j: float) -> np.ndarray:
    """Green's strain (11, 22, 12 + 21) of the mid-plane on the axes of the element, at (i, j)."""
    A, a = tangents(X, i, j), tangents(x, i, j)
    back = np.linalg.inv(A @ axes.T)
    e = back @ (a @ a.T - A @ A.T) @ back.T / 2
    return np.array([e[0, 0], e[1, 1], 2 * e[0, 1]])


OF_THREE = np.array([[5, -1, -1], [-1, 5, -1], [-1, -1, 5]]) / 3
"""Corners of a triangle from its points at (1/6, 1/6), (2/3, 1/6), (1/6, 2/3), in a plane."""
SIGNS = ((-1, -1), (1, -1), (1, 1), (-1, 1))
COLUMNS = ("case", "elements_coarse", "elements", "deflection_coarse", "deflection", "surface_stress_coarse",
           "surface_stress", "stress_x", "stress_y", "date")  # fmt: skip


def main(names: list[str]) -> None:
    """Work out the named cases (all of them by default) and enter them in the csv."""
    KM.Logger.GetDefaultOutput().SetSeverity(KM.Logger.Severity.WARNING)
    cases = tomllib.loads((PLACE / "shell_model.toml").read_text(encoding="utf-8"))["case"]
    file = PLACE / "shell_model.csv"
    rows = {}
    if file.exists():
        with file.open(encoding="utf-8", newline="") as lines:
            rows = {row["case"]: row for row in csv.DictReader(lines)}
    for case in cases:
        if names and case["name"] not in names:
            continue
        start, found = time.monotonic(), []
        for fineness in (1.0, REFINED):
            found.append(solve(Mesh(case, fineness)))
            print(case["name"], found[-1], f"{time.monotonic() - start:.0f} s", flush=True)
        low, high = found
        rows[case["name"]] = {
            "case": case["name"], "elements_coarse": low["elements"], "elements": high["elements"],
            "stress_x": f"{high['at'][0]:.1f}", "stress_y": f"{high['at'][1]:.1f}",
            "date": datetime.now(UTC).date().isoformat(),
            **{f"{name}{tail}": f"{one[name]:.5g}" for tail, one in (("_coarse", low), ("", high))
               for name in ("deflection", "surface_stress")},
        }  # fmt: skip
        with file.open("w", encoding="utf-8", newline="") as lines:
            table = csv.DictWriter(lines, COLUMNS, lineterminator="\n")
            table.writeheader()
            table.writerows(rows[one["name"]] for one in cases if one["name"] in rows)


if __name__ == "__main__":
    main(sys.argv[1:])
