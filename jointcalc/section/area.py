"""Area, centroid, second moments, elastic and plastic moduli of a section: the solid sheet, exactly.

Every flat is a rectangle of its length and thickness (its own b t^3/12 included), every bend a ring sector.  That is
exact for sheet that is folded, not only as t goes to 0, as long as pieces do not overlap; a sharp corner of the
mid-line counts as mitred for area.  Different materials enter as modulus ratios; plastic moduli use the strength
ratios instead.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from jointcalc.section.outline import Floats, Outline


@dataclass(frozen=True, slots=True)
class Moments:
    """Area and moments about the origin of the outline, one value per section."""

    a: Floats
    s_y: Floats  # integral of y
    s_z: Floats  # integral of z
    i_yy: Floats  # integral of y^2
    i_zz: Floats  # integral of z^2
    i_yz: Floats


def dot(a: Floats, b: Floats) -> Floats:
    """Sum of products over the segments."""
    return np.asarray(np.einsum("ib,ib->b", a, b))


def central(m: Moments) -> tuple[Floats, Floats, Floats]:
    """(I_y, I_z, I_yz) about the centroid."""
    return m.i_zz - m.s_z**2 / m.a, m.i_yy - m.s_y**2 / m.a, m.i_yz - m.s_y * m.s_z / m.a


class AreaProperties:
    """Area and moments of every section of an outline; each is an array `(batch,)`, computed when asked for."""

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

    def _sum(self, solid: bool) -> Moments:
        f = self._flats
        a, y, z, ey, ez = f["a"], f["y"], f["z"], f["ey"], f["ez"]
        ay, az = a * y, a * z
        along, across = a * f["length"] ** 2 / 12, a * f["t"] ** 2 / 12 if solid else 0.0 * a
        yy = dot(ay, y) + dot(along, ey * ey) + dot(across, ez * ez)
        zz = dot(az, z) + dot(along, ez * ez) + dot(across, ey * ey)
        yz = dot(ay, z) + dot(along - across, ey * ez)
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
                dot(ay + 2 * gay, cy) + dot(amm, my * my) + dot(att, ey * ey),
                dot(az + 2 * gaz, cz) + dot(amm, mz * mz) + dot(att, ez * ez),
                dot(ay + gay, cz) + dot(gaz, cy) + dot(amm, my * mz) + dot(att, ey * ez),
            )
            out = [v + w for v, w in zip(out, moments, strict=True)]
        return Moments(*(np.broadcast_to(v, (self.outline.batch,)) for v in out))

    @cached_property
    def _solid(self) -> Moments:
        return self._sum(solid=True)

    @cached_property
    def _line(self) -> Moments:
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
