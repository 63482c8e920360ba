"""Properties of thin-walled sections from their mid-line outline, in one pass over the whole batch.

What is exact and what is thin-walled (decided here, used everywhere):

- Area, centroid and second moments are those of the solid sheet: every flat is a rectangle of its
  length and thickness (its own b t^3/12 included), every bend a ring sector.  They are exact for
  sheet that is folded, not only as t goes to 0, as long as pieces do not overlap; a sharp corner of
  the mid-line counts as mitred for area.
- Shear flow, shear centre and warping constant are thin-walled: the mid-line carries the area.
- Torsion constant: open part (1/3) sum of s t^3, less 0.105 t^4 at every free edge (the end effect
  of a rectangle, Roark's Formulas for Stress and Strain, table of torsion constants, from memory),
  plus Bredt's 4 A_m^2 / (closed integral of ds/t) for cells, all cells at once when there are several.
- Different materials enter as modulus ratios: everything is in terms of the reference material, the
  shear modulus taken in the same ratio.  Plastic moduli use the strength ratios instead.

Signs: y to the right, z upwards; `I_yz` is the integral of y z.  Distances of the shear centre are
in the coordinates of the outline.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from jointcalc.section.outline import Floats, Outline

GAUSS_6 = np.polynomial.legendre.leggauss(6)
GAUSS_8 = np.polynomial.legendre.leggauss(8)


@dataclass(frozen=True, slots=True)
class _Moments:
    """Area and moments about the origin of the outline, one value per section."""

    a: Floats
    s_y: Floats  # integral of y
    s_z: Floats  # integral of z
    i_yy: Floats  # integral of y^2
    i_zz: Floats  # integral of z^2
    i_yz: Floats


def _dot(a: Floats, b: Floats) -> Floats:
    """Sum of products over the segments."""
    return np.asarray(np.einsum("ib,ib->b", a, b))


def _central(m: _Moments) -> tuple[Floats, Floats, Floats]:
    """(I_y, I_z, I_yz) about the centroid."""
    return m.i_zz - m.s_z**2 / m.a, m.i_yy - m.s_y**2 / m.a, m.i_yz - m.s_y * m.s_z / m.a


class Properties:
    """Section properties of every section of an outline; each is an array `(batch,)`, computed once.

    Nothing is computed before it is asked for.
    """

    def __init__(self, outline: Outline) -> None:
        self.outline = outline

    # --- geometry of the pieces ---------------------------------------------------------------------

    @cached_property
    def _flats(self) -> dict[str, Floats]:
        o, ids = self.outline, self.outline.flat_ids
        first = np.array([o.segments[i].start for i in ids], dtype=np.intp)
        last = np.array([o.segments[i].end for i in ids], dtype=np.intp)
        y1, z1 = o.y[first], o.z[first]
        dy, dz = o.y[last] - y1, o.z[last] - z1
        t, ey, ez = o.t[ids], o.way_y[ids], o.way_z[ids]
        length = dy * ey + dz * ez
        return {
            "y1": y1, "z1": z1, "dy": dy, "dz": dz, "y": y1 + dy / 2, "z": z1 + dz / 2, "t": t,
            "length": length, "ey": ey, "ez": ez, "a": o.ratio[ids] * t * length,
        }  # fmt: skip

    @cached_property
    def _bends(self) -> dict[str, Floats]:
        o, ids = self.outline, self.outline.bend_ids
        first = np.array([o.segments[i].start for i in ids], dtype=np.intp)
        last = np.array([o.segments[i].end for i in ids], dtype=np.intp)
        y1, z1 = o.y[first], o.z[first]
        dy, dz = o.y[last] - y1, o.z[last] - z1
        sweep, radius, t = o.sweep[ids], o.radius[ids], o.t[ids]
        side = np.sign(sweep)
        half = np.abs(sweep) / 2
        sin, cos = np.sin(half), np.cos(half)
        ey, ez = o.way_y[ids], o.way_z[ids]  # along the way, at mid-arc
        my, mz = side * ez, -side * ey  # from the centre to mid-arc
        reach = radius * cos
        cy, cz = y1 + dy / 2 - my * reach, z1 + dz / 2 - mz * reach
        length = 2 * half * radius
        return {
            "y1": y1, "z1": z1, "dy": dy, "dz": dz, "ey": ey, "ez": ez, "my": my, "mz": mz, "cy": cy, "cz": cz,
            "t": t, "r": radius, "side": side, "half": half, "sin": sin, "cos": cos, "length": length,
            "a": o.ratio[ids] * t * length,
        }  # fmt: skip

    def _sum(self, solid: bool) -> _Moments:
        f = self._flats
        a, y, z, ey, ez = f["a"], f["y"], f["z"], f["ey"], f["ez"]
        ay, az = a * y, a * z
        along, across = a * f["length"] ** 2 / 12, a * f["t"] ** 2 / 12 if solid else 0.0 * a
        yy = _dot(ay, y) + _dot(along, ey * ey) + _dot(across, ez * ez)
        zz = _dot(az, z) + _dot(along, ez * ez) + _dot(across, ey * ey)
        yz = _dot(ay, z) + _dot(along - across, ey * ez)
        out = [a.sum(axis=0), ay.sum(axis=0), az.sum(axis=0), yy, zz, yz]
        if len(self.outline.bend_ids):
            b = self._bends
            a, r, half, sin, cos = b["a"], b["r"], b["half"], b["sin"], b["cos"]
            thick = b["t"] ** 2 if solid else 0.0 * b["t"]
            to_centroid = (r + thick / (12 * r)) * (sin / half)
            along = r * r + thick / 4
            mm, tt = along * (0.5 + 0.5 * sin * cos / half), along * (0.5 - 0.5 * sin * cos / half)
            cy, cz, my, mz, ey, ez = b["cy"], b["cz"], b["my"], b["mz"], b["ey"], b["ez"]
            gy, gz = to_centroid * my, to_centroid * mz
            # the part about the arc's own centre is the same for all arcs of one size
            ay, az, gay, gaz = a * cy, a * cz, a * gy, a * gz
            amm, att = a * mm, a * tt
            moments = (
                a.sum(axis=0),
                ay.sum(axis=0) + gay.sum(axis=0),
                az.sum(axis=0) + gaz.sum(axis=0),
                _dot(ay + 2 * gay, cy) + _dot(amm, my * my) + _dot(att, ey * ey),
                _dot(az + 2 * gaz, cz) + _dot(amm, mz * mz) + _dot(att, ez * ez),
                _dot(ay + gay, cz) + _dot(gaz, cy) + _dot(amm, my * mz) + _dot(att, ey * ez),
            )
            out = [v + w for v, w in zip(out, moments, strict=True)]
        return _Moments(*(np.broadcast_to(v, (self.outline.batch,)) for v in out))

    @cached_property
    def _solid(self) -> _Moments:
        return self._sum(solid=True)

    @cached_property
    def _line(self) -> _Moments:
        return self._sum(solid=False)

    # --- area and centroid ---------------------------------------------------------------------------

    @property
    def area(self) -> Floats:
        """Area [mm^2], transformed to the reference material where there are several."""
        return self._solid.a

    @cached_property
    def area_true(self) -> Floats:
        """Area of metal [mm^2], whatever the material."""
        lengths, o = self._lengths, self.outline
        return np.broadcast_to((lengths * o.t * self._is_sheet).sum(axis=0), (o.batch,))

    @cached_property
    def _is_sheet(self) -> Floats:
        return np.array([[0.0 if s.kind == "weld" else 1.0] for s in self.outline.segments])

    @cached_property
    def _lengths(self) -> Floats:
        o = self.outline
        out = np.zeros((len(o.segments), o.batch))
        out[o.flat_ids] = self._flats["length"]
        if len(o.bend_ids):
            out[o.bend_ids] = self._bends["length"]
        return out

    @cached_property
    def mass_per_metre(self) -> Floats:
        """Mass [kg/m]."""
        o = self.outline
        return np.broadcast_to((self._lengths * o.t * o.density).sum(axis=0) * 1e6, (o.batch,))

    @cached_property
    def y_centroid(self) -> Floats:
        """Horizontal coordinate of the (elastic) centroid [mm]."""
        return self._solid.s_y / self._solid.a

    @cached_property
    def z_centroid(self) -> Floats:
        """Vertical coordinate of the (elastic) centroid [mm]."""
        return self._solid.s_z / self._solid.a

    @cached_property
    def centroid_height(self) -> Floats:
        """Height of the centroid over the lowest outer face [mm]."""
        return self.z_centroid - self.z_bottom

    # --- second moments ------------------------------------------------------------------------------

    @cached_property
    def I_y(self) -> Floats:
        """Second moment of area about the horizontal axis through the centroid [mm^4]."""
        return self._solid.i_zz - self._solid.s_z * self.z_centroid

    @cached_property
    def I_z(self) -> Floats:
        """Second moment of area about the vertical axis through the centroid [mm^4]."""
        return self._solid.i_yy - self._solid.s_y * self.y_centroid

    @cached_property
    def I_yz(self) -> Floats:
        """Product moment of area, the integral of y z [mm^4]."""
        return self._solid.i_yz - self._solid.s_y * self.z_centroid

    @cached_property
    def I_1(self) -> Floats:
        """Larger principal second moment [mm^4]."""
        return (self.I_y + self.I_z) / 2 + np.hypot((self.I_y - self.I_z) / 2, self.I_yz)

    @cached_property
    def I_2(self) -> Floats:
        """Smaller principal second moment [mm^4]."""
        return (self.I_y + self.I_z) / 2 - np.hypot((self.I_y - self.I_z) / 2, self.I_yz)

    @cached_property
    def principal_angle(self) -> Floats:
        """Angle [rad] from the y axis, counter-clockwise, to the axis about which `I_1` is taken."""
        return np.arctan2(-self.I_yz, (self.I_y - self.I_z) / 2) / 2

    @cached_property
    def i_y(self) -> Floats:
        """Radius of gyration about y [mm]."""
        return np.sqrt(self.I_y / self.area)

    @cached_property
    def i_z(self) -> Floats:
        """Radius of gyration about z [mm]."""
        return np.sqrt(self.I_z / self.area)

    @cached_property
    def i_2(self) -> Floats:
        """Smallest radius of gyration [mm]."""
        return np.sqrt(self.I_2 / self.area)

    # --- faces and elastic moduli ----------------------------------------------------------------------

    def _extremes(self, along: str) -> tuple[Floats, Floats]:
        other = "z" if along == "y" else "y"
        f = self._flats
        face = f["t"] / 2 * np.abs(f["e" + other])
        low_end = np.minimum(f[along + "1"], f[along + "1"] + f["d" + along]) - face
        high_end = np.maximum(f[along + "1"], f[along + "1"] + f["d" + along]) + face
        low, high = low_end.min(axis=0, initial=np.inf), high_end.max(axis=0, initial=-np.inf)
        if len(self.outline.bend_ids):
            b = self._bends
            m, e, sin, cos = b["m" + along], b["e" + along], b["sin"], b["cos"]
            ends = (m * cos + e * sin, m * cos - e * sin)
            outer, inner = b["r"] + b["t"] / 2, b["r"] - b["t"] / 2
            for sign in (1, -1):
                # the direction of the extreme lies inside the arc, or else one of its ends is the extreme
                best = np.maximum(sign * ends[0], sign * ends[1])
                reach = np.where(sign * m >= cos - 1e-12, outer, best * np.where(best > 0, outer, inner))
                if sign > 0:
                    high = np.maximum(high, (b["c" + along] + reach).max(axis=0))
                else:
                    low = np.minimum(low, (b["c" + along] - reach).min(axis=0))
        batch = (self.outline.batch,)
        return np.broadcast_to(low, batch), np.broadcast_to(high, batch)

    @cached_property
    def _z_faces(self) -> tuple[Floats, Floats]:
        return self._extremes("z")

    @cached_property
    def _y_faces(self) -> tuple[Floats, Floats]:
        return self._extremes("y")

    @property
    def z_bottom(self) -> Floats:
        """Lowest outer face [mm]."""
        return self._z_faces[0]

    @property
    def z_top(self) -> Floats:
        """Highest outer face [mm]."""
        return self._z_faces[1]

    @property
    def y_left(self) -> Floats:
        """Leftmost outer face [mm]."""
        return self._y_faces[0]

    @property
    def y_right(self) -> Floats:
        """Rightmost outer face [mm]."""
        return self._y_faces[1]

    @cached_property
    def W_y_top(self) -> Floats:
        """Elastic section modulus of the top face, bending about y [mm^3]."""
        return self.I_y / (self.z_top - self.z_centroid)

    @cached_property
    def W_y_bottom(self) -> Floats:
        """Elastic section modulus of the bottom face, bending about y [mm^3]."""
        return self.I_y / (self.z_centroid - self.z_bottom)

    @cached_property
    def W_z_left(self) -> Floats:
        """Elastic section modulus of the left face, bending about z [mm^3]."""
        return self.I_z / (self.y_centroid - self.y_left)

    @cached_property
    def W_z_right(self) -> Floats:
        """Elastic section modulus of the right face, bending about z [mm^3]."""
        return self.I_z / (self.y_right - self.y_centroid)

    # --- plastic moduli --------------------------------------------------------------------------------

    @cached_property
    def W_pl_y(self) -> Floats:
        """Plastic section modulus about y [mm^3], constrained to bend about the horizontal axis."""
        return self._plastic("z")

    @cached_property
    def W_pl_z(self) -> Floats:
        """Plastic section modulus about z [mm^3], constrained to bend about the vertical axis."""
        return self._plastic("y")

    def _plastic(self, along: str) -> Floats:
        """Area of each piece spread evenly over the height it covers (variance kept), axis by Newton's method.

        Level and upright flats are exact; bends are cut into eighths.
        """
        o, f = self.outline, self._flats
        strength = o.strength[o.flat_ids]
        other = "z" if along == "y" else "y"
        middle = [np.broadcast_to(f[along], f["length"].shape)]
        height2 = [f["d" + along] ** 2 + (f["t"] * f["e" + other]) ** 2]
        area = [strength * f["t"] * f["length"]]
        if len(o.bend_ids):
            b = self._bends
            cuts = 8
            step = b["half"] / cuts  # half the angle of one cut
            thick, r = b["t"] ** 2, b["r"]
            to_centroid = (r + thick / (12 * r)) * np.sin(step) / step
            square = r * r + thick / 4
            ripple = np.sin(2 * step) / (2 * step)
            own = o.strength[o.bend_ids] * b["t"] * 2 * step * r
            shape = np.broadcast_shapes(b["c" + along].shape, step.shape)
            for k in range(cuts):
                u = (2 * k + 1 - cuts) * step
                m = b["m" + along] * np.cos(u) + b["e" + along] * np.sin(u)
                mean = to_centroid * m
                middle.append(np.broadcast_to(b["c" + along] + mean, shape))
                height2.append(12 * (square * (0.5 + ripple * (m * m - 0.5)) - mean * mean))
                area.append(np.broadcast_to(own, shape))
        batch = self.outline.batch
        mid = np.concatenate([np.broadcast_to(v, (v.shape[0], batch)) for v in middle])
        span = np.concatenate([np.broadcast_to(np.sqrt(np.maximum(v, 0)), (v.shape[0], batch)) for v in height2])
        a = np.concatenate([np.broadcast_to(v, (v.shape[0], batch)) for v in area])
        span = np.maximum(span, 1e-12)
        low, per = mid - span / 2, a / span
        half = a.sum(axis=0) / 2
        below, above = low.min(axis=0), (low + span).max(axis=0)
        axis = (a * mid).sum(axis=0) / (2 * half)
        for _ in range(24):
            covered = np.minimum(np.maximum(axis - low, 0.0), span)
            excess = (per * covered).sum(axis=0) - half
            slope = (per * ((axis > low) & (axis < low + span))).sum(axis=0)
            above = np.where(excess > 0, axis, above)
            below = np.where(excess > 0, below, axis)
            newton = axis - excess / np.where(slope > 0, slope, 1.0)
            inside = (slope > 0) & (newton >= below) & (newton <= above)
            axis = np.where(inside, newton, (below + above) / 2)
        covered = np.minimum(np.maximum(axis - low, 0.0), span)
        rest = span - covered
        arms = covered * np.abs(axis - low - covered / 2) + rest * np.abs(low + covered + rest / 2 - axis)
        return np.asarray((per * arms).sum(axis=0))

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
        i_y, i_z, i_yz = _central(line)
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
        i_y, i_z, cross = _central(line)
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
class Sectorial:
    """Points along the mid-line of one open section: y and z from the centroid [mm], omega [mm^2], thickness [mm]."""

    y: Floats
    z: Floats
    omega: Floats
    t: Floats


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
