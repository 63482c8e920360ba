"""Torsion, warping, shear centre and monosymmetry of a section: the mid-line carries the area.

- Torsion constant: open part (1/3) sum of s t^3, less 0.105 t^4 at every free edge (the end effect
  of a rectangle, Roark's Formulas for Stress and Strain, table of torsion constants, from memory),
  plus Bredt's 4 A_m^2 / (closed integral of ds/t) for cells, all cells at once when there are several.
- Shear centre and warping constant are thin-walled, from the sectorial coordinate; the shear modulus is taken in the
  ratio of the elastic ones.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from jointcalc.section.area import AreaProperties, central
from jointcalc.section.outline import Floats

GAUSS_6 = np.polynomial.legendre.leggauss(6)


@dataclass(frozen=True, slots=True)
class Sectorial:
    """Points along the mid-line of one open section: y and z from the centroid [mm], omega [mm^2], thickness [mm]."""

    y: Floats
    z: Floats
    omega: Floats
    t: Floats


class TorsionProperties(AreaProperties):
    """What a section does in torsion, beside its area and moments; arrays `(batch,)`, computed when asked for."""

    # --- torsion -----------------------------------------------------------------------------------------

    @cached_property
    def _swept(self) -> Floats:
        """Twice the area swept about the origin along each segment."""
        o = self.outline
        out = np.zeros((len(o.segments), o.batch))
        f = self._flats
        out[o.flat_ids] = f["y1"] * f["dz"] - f["z1"] * f["dy"]
        if len(o.bend_ids):
            b = self._bends
            out[o.bend_ids] = b["cy"] * b["dz"] - b["cz"] * b["dy"] + b["side"] * b["r"] ** 2 * 2 * b["half"]
        for i in o.weld_ids:
            p, q = o.segments[i].start, o.segments[i].end
            out[i] = o.y[p] * o.z[q] - o.z[p] * o.y[q]
        return out

    @cached_property
    def _flexibility(self) -> Floats:
        """ds/(n t) of each segment; a weld line is rigid."""
        o = self.outline
        sheet = self._is_sheet > 0
        return np.where(sheet, self._lengths / np.where(sheet, o.ratio * o.t, 1.0), 0.0)

    @cached_property
    def _loop_signs(self) -> Floats:
        loops = self.outline.tree.loops
        signs = np.zeros((len(loops), len(self.outline.segments)))
        for k, loop in enumerate(loops):
            for i, sign in loop:
                signs[k, i] += sign
        return signs

    @cached_property
    def _loop_matrix(self) -> Floats:
        """Flexibilities `(batch, loops, loops)` of the cells and of the walls they share."""
        signs = self._loop_signs
        return np.asarray(np.moveaxis(np.einsum("ki,li,ib->klb", signs, signs, self._flexibility), -1, 0))

    def _solve_loops(self, right: Floats) -> Floats:
        """Loop flows `(loops, batch)` for right-hand sides `(loops, batch)`."""
        if right.shape[0] == 1:
            return np.asarray(right / self._loop_matrix[:, 0, 0])
        return np.asarray(np.linalg.solve(self._loop_matrix, right.T[..., None])[..., 0].T)

    @cached_property
    def cell_areas(self) -> Floats:
        """Area enclosed by the mid-line of each cell `(cells, batch)` [mm^2]; empty for an open section."""
        if not self.outline.tree.loops:
            return np.zeros((0, self.outline.batch))
        return np.abs(self._loop_signs @ self._swept) / 2

    @cached_property
    def enclosed_area(self) -> Floats:
        """Sum of the enclosed cell areas [mm^2], 0 for an open section."""
        return np.asarray(self.cell_areas.sum(axis=0))

    @cached_property
    def _twist_flow(self) -> Floats:
        """Bredt shear flow of each segment, along its direction, per G and per unit twist `(segments, batch)`."""
        if not self.outline.tree.loops:
            return np.zeros((len(self.outline.segments), self.outline.batch))
        loops = self._solve_loops(self._loop_signs @ self._swept)
        return np.asarray(self._loop_signs.T @ loops)

    @cached_property
    def J_open(self) -> Floats:
        """Torsion constant of the walls alone [mm^4]."""
        o = self.outline
        total = (self._lengths * o.ratio * o.t**3).sum(axis=0) / 3
        for _, i in o.tree.free:
            total = total - 0.105 * (o.ratio[i] * o.t[i] ** 4)
        if len(o.segments) == 1:
            # a single rectangle: b t^3 (1/3 - 0.21 (t/b) (1 - (t/b)^4/12))
            b, t = self._lengths[0], o.t[0]
            total = total + 0.0175 * t**8 / b**4 * o.ratio[0]
        return np.broadcast_to(total, (o.batch,))

    @cached_property
    def J_cells(self) -> Floats:
        """Bredt's part of the torsion constant [mm^4], 0 for an open section."""
        return np.asarray((self._twist_flow * self._swept).sum(axis=0))

    @cached_property
    def J(self) -> Floats:
        """Torsion constant [mm^4]."""
        return self.J_open + self.J_cells

    def torsion_flow(self, torque: Floats | float) -> Floats:
        """Bredt shear flow [N/mm] of each segment `(segments, batch)` under a torque [N mm]."""
        return self._twist_flow * (np.asarray(torque) / self.J)

    # --- warping ---------------------------------------------------------------------------------------

    @cached_property
    def _warping(self) -> tuple[Floats, Floats, Floats]:
        """(y of the shear centre, z of it, C_w), from the sectorial coordinate about the origin."""
        o = self.outline
        flow = self._twist_flow
        gain = self._swept - flow * self._flexibility
        at = np.zeros((o.y.shape[0], o.batch))
        for i, known, new, sign in o.tree.order:
            at[new] = at[known] + sign * gain[i]

        f = self._flats
        ids = o.flat_ids
        starts = np.array([o.segments[i].start for i in ids], dtype=np.intp)
        rise = gain[ids]
        mid = at[starts] + rise / 2
        a = f["a"]
        am = a * mid
        rise12 = a * rise / 12
        sums = [
            am.sum(axis=0),
            (am * f["y"] + rise12 * f["dy"]).sum(axis=0),
            (am * f["z"] + rise12 * f["dz"]).sum(axis=0),
            (am * mid + rise12 * rise).sum(axis=0),
        ]
        if len(o.bend_ids):
            b, ids = self._bends, o.bend_ids
            starts = np.array([o.segments[i].start for i in ids], dtype=np.intp)
            a, r, half, sin, cos = b["a"], b["r"], b["half"], b["sin"], b["cos"]
            cy, cz, ey, ez, my, mz = b["cy"], b["cz"], b["ey"], b["ez"], b["my"], b["mz"]
            # along the arc: w = w0 + cy z - cz y + k u, u the angle from mid-arc
            k = b["side"] * r * r - flow[ids] * r / (o.ratio[ids] * b["t"])
            w0 = at[starts] - (cy * b["z1"] - cz * b["y1"]) + k * half
            gy, gz = r * sin / half * my, r * sin / half * mz
            mm, tt = r * r * (0.5 + 0.5 * sin * cos / half), r * r * (0.5 - 0.5 * sin * cos / half)
            y, z = cy + gy, cz + gz
            yy = cy * (cy + 2 * gy) + mm * my * my + tt * ey * ey
            zz = cz * (cz + 2 * gz) + mm * mz * mz + tt * ez * ez
            yz = cy * (cz + gz) + gy * cz + mm * my * mz + tt * ey * ez
            ku = k * r * (sin - half * cos) / half  # mean of k u times the coordinate along the way
            lever = cy * z - cz * y
            sums[0] = sums[0] + (a * (w0 + lever)).sum(axis=0)
            sums[1] = sums[1] + (a * (w0 * y + cy * yz - cz * yy + ku * ey)).sum(axis=0)
            sums[2] = sums[2] + (a * (w0 * z + cy * zz - cz * yz + ku * ez)).sum(axis=0)
            square = w0 * (w0 + 2 * lever) + cy * cy * zz + cz * cz * yy - 2 * cy * cz * yz
            sums[3] = sums[3] + (a * (square + k * k * half * half / 3 + 2 * ku * (cy * ez - cz * ey))).sum(axis=0)
        line = self._line
        mean = sums[0] / line.a
        i_yw = sums[1] - line.s_y * mean
        i_zw = sums[2] - line.s_z * mean
        i_ww = sums[3] - sums[0] * mean
        i_y, i_z, i_yz = central(line)
        det = i_y * i_z - i_yz**2
        # a mid-line that is one straight line has no shear centre of its own but its centroid
        straight = det <= 1e-9 * (i_y + i_z) ** 2
        safe = np.where(straight, 1.0, det)
        dy = np.where(straight, line.s_y / line.a, (i_z * i_zw - i_yz * i_yw) / safe)
        dz = np.where(straight, line.s_z / line.a, (i_yz * i_zw - i_y * i_yw) / safe)
        c_w = np.where(straight, 0.0, np.maximum(i_ww - dy * i_zw + dz * i_yw, 0.0))
        return np.asarray(dy), np.asarray(dz), np.asarray(c_w)

    @property
    def y_shear_centre(self) -> Floats:
        """Horizontal coordinate of the shear centre [mm]."""
        return self._warping[0]

    @property
    def z_shear_centre(self) -> Floats:
        """Vertical coordinate of the shear centre [mm]."""
        return self._warping[1]

    @cached_property
    def shear_centre_height(self) -> Floats:
        """Height of the shear centre over the lowest outer face [mm]."""
        return self.z_shear_centre - self.z_bottom

    @property
    def C_w(self) -> Floats:
        """Warping constant of the mid-line [mm^6]."""
        return self._warping[2]

    @cached_property
    def i_0(self) -> Floats:
        """Polar radius of gyration about the shear centre [mm]."""
        y, z = self.y_shear_centre - self.y_centroid, self.z_shear_centre - self.z_centroid
        return np.sqrt((self.I_y + self.I_z) / self.area + y * y + z * z)

    def sectorial(self, column: int = 0, points: int = 9) -> Sectorial:
        """The mid-line of one open section, sampled: coordinates from the centroid, and the warping coordinate.

        The warping coordinate [mm^2] is about the shear centre and has no mean: an axial strain of -omega times the
        rate of twist is what a twisted open section warps by.  Arcs are cut into `points` chords.  Raises ValueError
        for a closed section.
        """
        o = self.outline
        if o.tree.loops:
            raise ValueError("a closed section has no sectorial coordinate of this kind")
        y_s, z_s = float(self.y_shear_centre[column]), float(self.z_shear_centre[column])
        at_node = {0: 0.0}
        pieces: list[tuple[Floats, ...]] = []
        for i, known, new, sign in o.tree.order:
            line = o.polyline(i, column, points)
            line = line if sign > 0 else line[::-1]
            y, z = line[:, 0], line[:, 1]
            # twice the area swept about the shear centre
            step = (y[:-1] - y_s) * np.diff(z) - (z[:-1] - z_s) * np.diff(y)
            w = at_node[known] + np.concatenate([[0.0], np.cumsum(step)])
            at_node[new] = float(w[-1])
            if o.segments[i].kind == "weld":
                continue
            t = float(np.broadcast_to(o.t[i], (o.batch,))[column])
            ratio = float(np.broadcast_to(o.ratio[i], (o.batch,))[column])
            part = np.hypot(np.diff(y), np.diff(z)) * t * ratio
            area = np.zeros(len(y))  # a chord is linear: its area half and half, for means of what is linear
            area[:-1] += part / 2
            area[1:] += part / 2
            pieces.append((y, z, w, area, np.full(len(y), t)))
        y, z, w, area, thick = (np.concatenate(v) for v in zip(*pieces, strict=True))
        w = w - (w * area).sum() / area.sum()
        return Sectorial(y - float(self.y_centroid[column]), z - float(self.z_centroid[column]), w, thick)

    # --- monosymmetry ------------------------------------------------------------------------------------

    @cached_property
    def _third(self) -> tuple[Floats, Floats]:
        """Integrals of z (y^2 + z^2) and y (y^2 + z^2) over the mid-line, about the centroid."""
        o = self.outline
        f = self._flats
        total_z = np.zeros(o.batch)
        total_y = np.zeros(o.batch)
        for s in (-0.5, 0.5):  # two Gauss points are exact for a cubic
            place = s / np.sqrt(3.0)
            y = f["y"] + place * f["dy"] - self.y_centroid
            z = f["z"] + place * f["dz"] - self.z_centroid
            square = f["a"] / 2 * (y * y + z * z)
            total_z = total_z + (square * z).sum(axis=0)
            total_y = total_y + (square * y).sum(axis=0)
        if len(o.bend_ids):
            b = self._bends
            for place, weight in zip(*GAUSS_6, strict=True):
                u = place * b["half"]
                out, along = b["r"] * np.cos(u), b["r"] * np.sin(u)
                y = b["cy"] + out * b["my"] + along * b["ey"] - self.y_centroid
                z = b["cz"] + out * b["mz"] + along * b["ez"] - self.z_centroid
                square = b["a"] * (weight / 2) * (y * y + z * z)
                total_z = total_z + (square * z).sum(axis=0)
                total_y = total_y + (square * y).sum(axis=0)
        return total_z, total_y

    @cached_property
    def beta_y(self) -> Floats:
        """Monosymmetry [mm] for bending about y: integral of z (y^2 + z^2) over I_y, less 2 z_s (from the centroid)."""
        return self._third[0] / self.I_y - 2 * (self.z_shear_centre - self.z_centroid)

    @cached_property
    def beta_z(self) -> Floats:
        """Monosymmetry [mm] for bending about z: integral of y (y^2 + z^2) over I_z, less 2 y_s (from the centroid)."""
        return self._third[1] / self.I_z - 2 * (self.y_shear_centre - self.y_centroid)
