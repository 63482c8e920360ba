"""Saint-Venant torsion by finite elements (scikit-fem): the Prandtl stress function on the solid section.

Lap(phi) = -2, phi = 0 on the outer boundary, phi = constant on the boundary of each cell with twice the
cell's area as its load; J = 2 (integral of phi + sum of constant times cell area).  The mesh is made of
quadrilaterals along the strips of `section_solids`; two sheets in contact share nodes only at their weld.
"""

from itertools import pairwise

import numpy as np
import section_solids as solids


def refine(line, step):
    """Points of a polyline with further points at most `step` apart."""
    out = [line[0]]
    for a, b in pairwise(line):
        n = max(int(np.ceil(np.linalg.norm(b - a) / step)), 1)
        out += [a + (b - a) * k / n for k in range(1, n + 1)]
    return np.array(out)


def offsets(line, t, layers, closed):
    """Nodes (n, layers + 1, 2) across the sheet, mitred where the line turns."""
    if closed:
        line = line[:-1]
        before, after = line - np.roll(line, 1, axis=0), np.roll(line, -1, axis=0) - line
    else:
        d = np.diff(line, axis=0)
        before, after = np.vstack([d[:1], d]), np.vstack([d, d[-1:]])

    def unit(v):
        return v / np.linalg.norm(v, axis=1, keepdims=True)

    na = unit(before) @ np.array([[0, 1], [-1, 0]])
    nb = unit(after) @ np.array([[0, 1], [-1, 0]])
    mean = unit(na + nb)
    mitre = mean / np.sum(mean * na, axis=1, keepdims=True)
    across = np.linspace(-t / 2, t / 2, layers + 1)
    return line[:, None, :] + across[None, :, None] * mitre[:, None, :]


def strip(line, t, closed, layers=2, aspect=2.0, first=0, ready=False):
    """(points, quads, node numbers (n, layers + 1)) of one strip."""
    grid = offsets(line if ready else refine(line, aspect * t), t, layers, closed)
    n = grid.shape[0]
    ids = first + np.arange(n * (layers + 1)).reshape(n, layers + 1)
    ends = np.vstack([ids, ids[:1]]) if closed else ids
    quads = [
        [ends[i, k], ends[i + 1, k], ends[i + 1, k + 1], ends[i, k + 1]]
        for i in range(len(ends) - 1)
        for k in range(layers)
    ]
    return grid.reshape(-1, 2), quads, ids


def shoelace(p):
    x, y = p[:, 0], p[:, 1]
    return abs(np.sum(x * np.roll(y, -1) - y * np.roll(x, -1))) / 2


def solve(points, quads, cells):
    """J of a mesh; `cells` lists the node numbers around each cell, in order."""
    import scipy.sparse as sp
    import skfem
    from scipy.sparse.linalg import spsolve
    from skfem.helpers import dot, grad

    points, quads = np.asarray(points), np.asarray(quads)
    a = points[quads]
    area = 0.5 * sum(a[:, i, 0] * a[:, (i + 1) % 4, 1] - a[:, (i + 1) % 4, 0] * a[:, i, 1] for i in range(4))
    quads = np.where((area > 0)[:, None], quads, quads[:, ::-1])
    used, inverse = np.unique(quads, return_inverse=True)
    mesh = skfem.MeshQuad(points[used].T, inverse.reshape(quads.shape).T)
    renumber = {int(node): k for k, node in enumerate(used)}
    basis = skfem.Basis(mesh, skfem.ElementQuad2())

    @skfem.BilinearForm
    def stiffness(u, v, w):
        return dot(grad(u), grad(v))

    @skfem.LinearForm
    def load(v, w):
        return 2.0 * v

    k, f = stiffness.assemble(basis), load.assemble(basis)
    facets = mesh.boundary_facets()
    owner = np.full(facets.size, -1)
    rings = [{renumber[int(n)] for n in cell} for cell in cells]
    for j, facet in enumerate(facets):
        ends = set(mesh.facets[:, facet])
        for c, ring in enumerate(rings):
            if ends <= ring:
                owner[j] = c

    total = basis.N
    column = np.full(total, -2)
    for c in range(-1, len(cells)):
        here = facets[owner == c]
        dofs = basis.get_dofs(here).flatten() if here.size else np.array([], dtype=int)
        if c == -1:
            column[dofs] = -1
        else:
            column[dofs] = np.where(column[dofs] == -2, total + c, column[dofs])
    free = np.flatnonzero(column == -2)
    column[free] = np.arange(free.size)
    held = column >= total
    column[held] += free.size - total
    rows = np.flatnonzero(column >= 0)
    t = sp.csr_matrix((np.ones(rows.size), (rows, column[rows])), shape=(total, free.size + len(cells)))
    reduced, right = (t.T @ k @ t).tocsc(), t.T @ f
    for c, cell in enumerate(cells):
        right[free.size + c] += 2 * shoelace(points[np.asarray(cell)])
    return float(right @ spsolve(reduced, right))


def torsion_constant(kind, f):
    """J of a family from its dimensions."""
    drawn = solids.lines(kind, f)
    if len(drawn) == 1:
        line, t, closed = drawn[0]
        layers = 8 if kind == "bar" else 2
        aspect = 0.25 if kind == "bar" else 2.0
        points, quads, ids = strip(line, t, closed, layers=layers, aspect=aspect)
        cells = []
        if closed:
            inner = min((ids[:, 0], ids[:, -1]), key=lambda ring: shoelace(points[ring]))
            cells = [inner]
        return solve(points, quads, cells)
    return _welded(kind, f, drawn)


def _welded(kind, f, drawn):
    """Two sheets in contact, joined over a narrow weld at each weld line."""
    (line, t, _), (skin, s, _) = drawn
    z_contact = skin[0, 1] - s / 2 if kind == "lap" else skin[0, 1] + s / 2
    # A cell is closed by a weld as wide as the thinner sheet: much narrower necks the flow (J 3 to 6 % lower at
    # a tenth of it), a wide one closes the cell at its inner edge (J 2 to 4 % higher at three times).  An open
    # lap has a narrow one, because the doubled thickness itself is not counted in its J.
    width = (0.3 if kind == "lap" else 1.0) * min(t, s)
    if kind == "lap":
        places = [skin[0, 0] + f["weld"]]
    else:
        y = f["top"] / 2 + f["flange"] - f["weld"]
        places = [-y, y]
    stations = sorted(p + d for p in places for d in (-width / 2, 0.0, width / 2))

    def with_stations(path, thickness, level):
        """Polyline with points at the weld's stations wherever it runs level at that height."""
        out = [path[0]]
        for a, b in pairwise(path):
            if abs(a[1] - level) < 1e-9 and abs(b[1] - level) < 1e-9:
                lo, hi = min(a[0], b[0]), max(a[0], b[0])
                inside = [v for v in stations if lo + 1e-9 < v < hi - 1e-9]
                inside = inside if b[0] > a[0] else inside[::-1]
                out += [np.array([v, level]) for v in inside]
            out.append(b)
        return refine(np.array(out), 2.0 * thickness)

    level_1 = z_contact - t / 2 if kind == "lap" else z_contact + t / 2
    path_1, path_2 = with_stations(line, t, level_1), with_stations(skin, s, skin[0, 1])
    p1, q1, i1 = strip(path_1, t, False, ready=True)
    p2, q2, i2 = strip(path_2, s, False, first=len(p1), ready=True)
    points = np.vstack([p1, p2])
    quads = np.array(q1 + q2)

    targets = [np.array([v, z_contact]) for v in stations]

    def face(ids):
        """The side of a strip that carries the welds."""

        def away(side):
            return max(np.min(np.linalg.norm(points[side] - target, axis=1)) for target in targets)

        return min((ids[:, 0], ids[:, -1]), key=away)

    side_1, side_2 = face(i1), face(i2)
    merge = np.arange(len(points))
    welded = []
    for target in targets:
        a = side_1[np.argmin(np.linalg.norm(points[side_1] - target, axis=1))]
        b = side_2[np.argmin(np.linalg.norm(points[side_2] - target, axis=1))]
        assert np.linalg.norm(points[a] - target) < 1e-9
        assert np.linalg.norm(points[b] - target) < 1e-9
        merge[b] = a
        welded.append((a, b))
    quads = merge[quads]
    cells = []
    if kind == "hat-skin":
        # from the inner edge of the left weld over the inside of the hat to the right weld, back along the skin
        (a, b), (c, d) = welded[2], welded[3]
        over = list(side_1[list(side_1).index(a) : list(side_1).index(c) + 1])
        under = list(side_2[list(side_2).index(b) : list(side_2).index(d) + 1])
        cells = [over + under[::-1][1:-1]]
    return solve(points, quads, cells)
