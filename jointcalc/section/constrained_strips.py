"""Local and distortional buckling apart: strips of a section with sharp corners whose flats neither stretch nor shear.

After S. Adany and B. W. Schafer, constrained finite strips, from memory; `buckling` says what they are used for:

- local: the folds do not move, nothing stretches or shears in the plane of the sheet;
- distortional: no shear and no transverse stretch in the plane of the sheet, bending across in
  equilibrium, and warping without axial force, bending or bimoment, so that no overall mode is left.

`rigid_share` tells a mode of the section as a whole from one of its shape.
"""

from __future__ import annotations

import numpy as np

from jointcalc.section.outline import Floats
from jointcalc.section.strip_matrices import ALONG, Y, Z, freedom, matrices
from jointcalc.section.strip_solver import Modes, Small
from jointcalc.section.strips import Ints, Strips


class Constrained:
    """Local and distortional modes apart, in a section whose flats neither stretch across nor shear."""

    def __init__(self, model: Strips, stress: Floats, E: float, nu: float) -> None:
        self.model = model
        self.plate = E * float((model.ratio * model.t**3).min()) / 12
        m = matrices(model, stress, E=E, nu=nu, stretch_nu=0.0)
        free, _ = freedom(model, offset=False)
        along = np.arange(model.nodes) * 4 + ALONG
        bound = _null(_inextensible(model) @ free)
        every = free @ bound  # movements without strain in the plane of the sheet
        warps = every[along]
        _, size, right = np.linalg.svd(warps)
        rank = int((size > 1e-9 * size[0]).sum()) if len(size) and size[0] > 1e-12 else 0
        bending = every @ right[rank:].T
        # bending across in equilibrium for every pattern of warping
        moving = every @ right[:rank].T
        stiff = bending.T @ m.p @ bending
        moving = moving - bending @ np.linalg.lstsq(stiff, bending.T @ m.p @ moving, rcond=1e-12)[0]
        shape = self._distortions(moving, m.p, along)
        self.distortions = shape.shape[1]
        parts = Small(m.p, m.q, m.r, m.work)
        self.local = parts.within(bending)
        """With the folds unmoved."""
        self.distortional = parts.within(shape)
        """Distortion alone."""

    def _distortions(self, moving: Floats, across: Floats, along: Ints) -> Floats:
        """Patterns that bend the section across, orthogonal in warping to those that do not."""
        energy = moving.T @ across @ moving
        values, vectors = np.linalg.eigh((energy + energy.T) / 2)
        if not len(values):
            return moving[:, :0]
        # bending a flat as wide as the whole sheet by the movement of the pattern is the least that counts
        moved = (moving @ vectors).reshape(self.model.nodes, 4, -1)
        size = self.model.width.sum()
        amount = (moved[:, [Y, Z]] ** 2).sum(axis=(0, 1)) + (moved[:, ALONG] ** 2).sum(axis=0) / size**2
        overall = vectors[:, values < 1e-3 * self.plate / size**3 * amount]
        model = self.model
        lumped = np.zeros((model.nodes, model.nodes))
        a = model.ratio * model.t * model.width
        for one, other, share in (
            (model.first, model.first, 1 / 3), (model.last, model.last, 1 / 3), (model.first, model.last, 1 / 6),
            (model.last, model.first, 1 / 6),
        ):  # fmt: skip
            np.add.at(lumped, (one, other), a * share)
        warps = moving[along]
        return np.asarray(moving @ _null((warps @ overall).T @ lumped @ warps))


def _inextensible(model: Strips) -> Floats:
    """Rows: no transverse stretch and no shear in any strip, on the movements `(4 nodes)`."""
    n, b = len(model.t), model.width
    c = (model.y[model.last] - model.y[model.first]) / b
    s = (model.z[model.last] - model.z[model.first]) / b
    rows = np.arange(n)
    out = np.zeros((2 * n, 4 * model.nodes))
    for node, sign in ((model.first, -1.0), (model.last, 1.0)):
        out[rows, 4 * node + Y] += sign * c
        out[rows, 4 * node + Z] += sign * s
        out[n + rows, 4 * node + Y] += c / 2
        out[n + rows, 4 * node + Z] += s / 2
        out[n + rows, 4 * node + ALONG] += sign / b
    return out


def _null(rows: Floats) -> Floats:
    """Orthonormal basis of what the rows leave free, as columns."""
    if not rows.shape[0]:
        return np.eye(rows.shape[1])
    _, size, right = np.linalg.svd(rows)
    rank = int((size > 1e-10 * size[0]).sum()) if len(size) and size[0] > 0 else 0
    return np.asarray(right[rank:].T)


def rigid_share(model: Strips, modes: Modes) -> Floats:
    """How much of each mode `(modes,)` is the section as a whole shifted and turned, 0 to 1.

    The share is of the mean square movement across the brace, weighed by area.
    """
    weight = np.zeros(model.nodes)
    for node in (model.first, model.last):
        np.add.at(weight, node, model.t * model.width / 2)
    root = np.sqrt(weight)
    zero = np.zeros(model.nodes)
    basis = np.stack(
        [np.concatenate([root, zero]), np.concatenate([zero, root]), np.concatenate([-root * model.z, root * model.y])],
        axis=1,
    )
    basis, _ = np.linalg.qr(basis)
    moved = modes.movements.sum(axis=1)
    vectors = np.concatenate([moved[..., Y] * root, moved[..., Z] * root], axis=1)
    return np.asarray(((vectors @ basis) ** 2).sum(axis=1) / (vectors**2).sum(axis=1))
