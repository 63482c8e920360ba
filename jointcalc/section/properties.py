"""Properties of thin-walled sections from their mid-line outline, in one pass over the whole batch.

What is exact and what is thin-walled (decided here, used everywhere):

- Area, centroid, second moments and moduli are those of the solid sheet: `area`.
- Shear flow (here), shear centre, torsion and warping constant (`torsion`) are thin-walled: the mid-line carries the
  area.
- Different materials enter as modulus ratios: everything is in terms of the reference material, the
  shear modulus taken in the same ratio.  Plastic moduli use the strength ratios instead.

Signs: y to the right, z upwards; `I_yz` is the integral of y z.  Distances of the shear centre are
in the coordinates of the outline.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from jointcalc.section.area import central
from jointcalc.section.outline import Floats
from jointcalc.section.torsion import TorsionProperties

GAUSS_8 = np.polynomial.legendre.leggauss(8)


class Properties(TorsionProperties):
    """Section properties of every section of an outline; each is an array `(batch,)`, computed once.

    Nothing is computed before it is asked for.
    """

    # --- shear flow -----------------------------------------------------------------------------------

    def shear_flow(self, *, V_y: Floats | float = 0.0, V_z: Floats | float = 0.0) -> ShearFlow:
        """Shear flow [N/mm] from transverse forces [N] through the shear centre.

        Positive along each segment's direction.  Cells carry the flow that keeps them from twisting.
        The second moments are those of the mid-line, so that the flow adds up to the force exactly;
        only a mid-line that is one straight line takes those of the solid.
        """
        o = self.outline
        line = self._line
        y_c, z_c = line.s_y / line.a, line.s_z / line.a
        i_y, i_z, cross = central(line)
        det = i_y * i_z - cross**2
        straight = det <= 1e-9 * (i_y + i_z) ** 2
        i_y, i_z, cross = (
            np.where(straight, v, w) for v, w in zip((self.I_y, self.I_z, self.I_yz), (i_y, i_z, cross), strict=True)
        )
        det = i_y * i_z - cross**2
        v_y, v_z = np.asarray(V_y, dtype=float), np.asarray(V_z, dtype=float)
        by = (v_y * i_y - v_z * cross) / det  # d(stress)/dx = by y + bz z
        bz = (v_z * i_z - v_y * cross) / det
        drop = np.zeros((len(o.segments), o.batch))
        work = np.zeros_like(drop)  # integral of (flow - flow at start) ds/(n t)
        rates = np.zeros((3, *drop.shape))
        f, ids = self._flats, o.flat_ids
        s1 = by * (f["y1"] - y_c) + bz * (f["z1"] - z_c)
        s2 = s1 + by * f["dy"] + bz * f["dz"]
        drop[ids] = f["a"] * (s1 + s2) / 2
        rates[0, ids], rates[1, ids] = s1, s2 - s1
        work[ids] = -(f["length"] ** 2) * (s1 / 3 + s2 / 6)
        if len(o.bend_ids):
            b, ids = self._bends, o.bend_ids
            r, half, sin, cos = b["r"], b["half"], b["sin"], b["cos"]
            sc = by * (b["cy"] - y_c) + bz * (b["cz"] - z_c)
            sm = by * b["my"] + bz * b["mz"]
            st = by * b["ey"] + bz * b["ez"]
            drop[ids] = b["a"] * (sc + sm * r * sin / half)
            rates[0, ids], rates[1, ids], rates[2, ids] = sc, sm * r, st * r
            work[ids] = -(r**2) * (sc * 2 * half**2 + r * sm * 2 * half * sin - 2 * r * st * (sin - half * cos))
        start = np.zeros_like(drop)
        in_tree = {s for s, *_ in o.tree.order}
        done = {i for i in range(len(o.segments)) if i not in in_tree}  # cut open: no flow at their start
        leaving: list[list[tuple[int, int]]] = [[] for _ in range(o.y.shape[0])]
        for i, piece in enumerate(o.segments):
            leaving[piece.start].append((i, 1))
            leaving[piece.end].append((i, -1))
        for i, _, child, sign in reversed(o.tree.order):
            # what the other segments bring into the child node leaves it through this one
            into = np.zeros(o.batch)
            for j, way in leaving[child]:
                if j != i and j in done:
                    into = into - start[j] if way > 0 else into + start[j] - drop[j]
            start[i] = -into + drop[i] if sign > 0 else into
            done.add(i)
        if o.tree.loops:
            gap = self._loop_signs @ (start * self._flexibility + work)
            start = start + self._loop_signs.T @ self._solve_loops(-gap)
        return ShearFlow(self, start, start - drop, start * self._lengths + work * (o.ratio * o.t), rates)

    def row(self, column: int = 0) -> dict[str, float]:
        """The properties of one section as plain floats, by the names of the design."""
        names = (
            "area", "mass_per_metre", "centroid_height", "I_y", "I_z", "I_yz", "I_1", "I_2", "principal_angle", "i_y",
            "i_z", "W_y_top", "W_y_bottom", "W_pl_y", "W_pl_z", "J", "C_w", "shear_centre_height", "beta_y", "beta_z",
            "enclosed_area",
        )  # fmt: skip
        return {name: float(getattr(self, name)[column]) for name in names}


@dataclass(frozen=True, slots=True)
class ShearFlow:
    """Shear flow [N/mm] at the start and end of each segment, and the force [N] it adds up to along it.

    Arrays `(segments, batch)`, positive along the segment.
    """

    properties: Properties
    start: Floats
    end: Floats
    force: Floats
    rates: Floats
    """How the axial stress grows per mm of brace along each segment, for `along`."""

    def at(self, name: str) -> Floats:
        """Flow [N/mm] through a weld line (constant along it), or at the start of any other segment."""
        return np.asarray(self.start[self.properties.outline.index(name)])

    def along(self, segment: int, place: float) -> Floats:
        """Flow [N/mm] at a `place` from 0 (start) to 1 (end) along one segment."""
        p = self.properties
        o = p.outline
        first, second, third = self.rates[:, segment]
        sheet = o.ratio[segment] * o.t[segment]
        if o.segments[segment].kind == "bend":
            half, radius = np.abs(o.sweep[segment]) / 2, o.radius[segment]
            u = (2 * place - 1) * half
            gained = radius * (
                first * (u + half) + second * (np.sin(u) + np.sin(half)) + third * (np.cos(half) - np.cos(u))
            )
        else:
            gained = p._lengths[segment] * place * (first + second * place / 2)
        return np.asarray(self.start[segment] - sheet * gained)

    def resultants(self) -> tuple[Floats, Floats, Floats]:
        """(force along y [N], along z [N], moment about the origin of the outline [N mm]) of the whole flow."""
        p = self.properties
        o = p.outline
        f_y, f_z, moment = np.zeros(o.batch), np.zeros(o.batch), np.zeros(o.batch)
        for i, piece in enumerate(o.segments):
            y_1, z_1 = o.y[piece.start], o.z[piece.start]
            dy, dz = o.y[piece.end] - y_1, o.z[piece.end] - z_1
            if piece.kind != "bend":
                mean = self.start[i]
                if piece.kind == "flat":
                    length = np.where(p._lengths[i] > 0, p._lengths[i], 1.0)
                    mean = self.force[i] / length
                f_y, f_z, moment = f_y + mean * dy, f_z + mean * dz, moment + mean * (y_1 * dz - z_1 * dy)
                continue
            b, k = p._bends, int(np.flatnonzero(o.bend_ids == i)[0])
            half, radius, side = np.abs(o.sweep[i]) / 2, o.radius[i], np.sign(o.sweep[i])
            for place, weight in zip(*GAUSS_8, strict=True):
                u = place * half
                q = self.along(i, (1 + place) / 2) * weight * half
                way_y = radius * (np.cos(u) * b["ey"][k] - np.sin(u) * b["my"][k])
                way_z = radius * (np.cos(u) * b["ez"][k] - np.sin(u) * b["mz"][k])
                f_y, f_z = f_y + q * way_y, f_z + q * way_z
                moment = moment + q * (b["cy"][k] * way_z - b["cz"][k] * way_y + side * radius**2)
        return f_y, f_z, moment
