"""Profiles drawn a second time, without the package: solid polygons (shapely) and strips for finite elements.

Corner points of the mid-line are worked out by hand from the outside dimensions; the bends are rounded
here, on their own.
"""

from __future__ import annotations

import numpy as np


def rounded(points, radius, closed=False, steps=24):
    """Dense polyline through corner points, each inner corner rounded to the mid-line radius."""
    points = [np.asarray(p, dtype=float) for p in points]
    n = len(points)
    line = []
    for i in range(n):
        if not closed and i in (0, n - 1):
            line.append(points[i])
            continue
        before, here, after = points[i - 1], points[i], points[(i + 1) % n]
        a = (before - here) / np.linalg.norm(before - here)
        b = (after - here) / np.linalg.norm(after - here)
        opening = np.arccos(np.clip(a @ b, -1, 1))
        if radius <= 0 or opening > np.pi - 1e-9:
            line.append(here)
            continue
        reach = radius / np.tan(opening / 2)
        middle = (a + b) / np.linalg.norm(a + b)
        centre = here + middle * radius / np.sin(opening / 2)
        start, end = here + a * reach - centre, here + b * reach - centre
        sweep = np.arctan2(start[0] * end[1] - start[1] * end[0], start @ end)
        for u in np.linspace(0, sweep, steps + 1):
            c, s = np.cos(u), np.sin(u)
            line.append(centre + np.array([c * start[0] - s * start[1], s * start[0] + c * start[1]]))
    if closed:
        line.append(line[0])
    out = [line[0]]
    for p in line[1:]:
        if np.linalg.norm(p - out[-1]) > 1e-9:
            out.append(p)
    return np.array(out)


def thick(line, t, closed=False):
    """Solid polygon of sheet thickness t around a dense mid-line."""
    from shapely.geometry import LineString, Polygon

    if closed:
        ring = Polygon(line)
        return ring.buffer(t / 2, join_style="mitre", quad_segs=64).difference(
            ring.buffer(-t / 2, join_style="mitre", quad_segs=64)
        )
    return LineString(line).buffer(t / 2, cap_style="flat", join_style="mitre", mitre_limit=20)


def moments(shape):
    """(area, y, z, I_y, I_z, I_yz) of a shapely shape, exactly, from its rings."""
    total = np.zeros(6)
    for poly in getattr(shape, "geoms", [shape]):
        for k, ring in enumerate([poly.exterior, *poly.interiors]):
            p = np.array(ring.coords)
            x, y = p[:-1, 0], p[:-1, 1]
            u, v = p[1:, 0], p[1:, 1]
            c = x * v - u * y
            part = np.array(
                [
                    c.sum() / 2,
                    ((x + u) * c).sum() / 6,
                    ((y + v) * c).sum() / 6,
                    ((y * y + y * v + v * v) * c).sum() / 12,
                    ((x * x + x * u + u * u) * c).sum() / 12,
                    ((x * v + 2 * x * y + 2 * u * v + u * y) * c).sum() / 24,
                ]
            )
            part *= np.sign(part[0]) * (1 if k == 0 else -1)
            total += part
    area, sy, sz, zz, yy, yz = total
    return area, sy / area, sz / area, zz - sz * sz / area, yy - sy * sy / area, yz - sy * sz / area


def hat_points(f, z0=0.0):
    """Mid-line corners of a hat."""
    t = f["t"]
    y, w, tip = f["top"] / 2 - t / 2, f["depth"] - t / 2, f["top"] / 2 + f["flange"]
    return [(-tip, z0 + t / 2), (-y, z0 + t / 2), (-y, z0 + w), (y, z0 + w), (y, z0 + t / 2), (tip, z0 + t / 2)]


def arc_bead(a, b, depth, side, steps=40):
    """Dense points of a circular-arc bead between two points of a flat, rising to one side of the way."""
    a, b = np.asarray(a, float), np.asarray(b, float)
    chord = np.linalg.norm(b - a)
    e = (b - a) / chord
    n = side * np.array([-e[1], e[0]])
    radius = (chord**2 / 4 + depth**2) / (2 * depth)
    centre = (a + b) / 2 + n * (depth - radius)
    half = np.arcsin(min(chord / (2 * radius), 1.0))
    if depth > chord / 2:
        half = np.pi - half
    return [centre + radius * (np.sin(u) * e + np.cos(u) * n) for u in np.linspace(-half, half, steps + 1)]


def lines(kind, f):
    """[(dense mid-line, thickness, closed)] of a family from its dimensions."""
    t = f.get("t", 0.0)
    m = f.get("r", 0.0) + t / 2
    if kind == "hat":
        return [(rounded(hat_points(f), m), t, False)]
    if kind == "hat-skin":
        s = f["skin_t"]
        skin = np.array([(-f["skin"] / 2, s / 2), (f["skin"] / 2, s / 2)])
        return [(rounded(hat_points(f, s), m), t, False), (skin, s, False)]
    if kind == "beaded-hat":
        line = rounded(hat_points(f), m)
        w = f["depth"] - t / 2
        left = np.array([p for p in line if p[0] < 0])
        right = np.array([p for p in line if p[0] > 0])
        bead = arc_bead((-f["bead"] / 2, w), (f["bead"] / 2, w), f["bead_depth"], -1)
        return [(np.vstack([left, bead, right]), t, False)]
    if kind in ("channel", "zed"):
        b, h = f["flange"] - t / 2, f["web"]
        y = t / 2
        end = y + b if kind == "channel" else y - b
        return [(rounded([(y + b, t / 2), (y, t / 2), (y, h - t / 2), (end, h - t / 2)], m), t, False)]
    if kind == "lipped-channel":
        b, h, c = f["flange"] - t / 2, f["web"], f["lip"]
        bottom = f.get("bottom", f["flange"]) - t / 2
        corners = [(bottom, c), (bottom, t / 2), (t / 2, t / 2), (t / 2, h - t / 2), (b, h - t / 2), (b, h - c)]
        return [(rounded(corners, m), t, False)]
    if kind == "angle":
        return [(rounded([(f["foot"], t / 2), (t / 2, t / 2), (t / 2, f["leg"])], m), t, False)]
    if kind == "lap":
        t2, step = f["t_2"], f["step"]
        # the step: two bends and, when it is deep enough, an upright flat
        angle = np.arccos(max(1 - step / (2 * m), 0.0))
        tan = m * np.tan(angle / 2)
        slope = max(step - 2 * m * (1 - np.cos(angle)), 0.0) / np.sin(angle)
        a = np.array([f["left"] + tan, step + t / 2])
        b = a + (2 * tan + slope) * np.array([np.cos(angle), -np.sin(angle)])
        edge = b[0] + tan
        lower = rounded([(0, step + t / 2), a, b, (edge + f["overlap"], t / 2)], m)
        upper = np.array([(edge, t + t2 / 2), (edge + f["overlap"] + f["right"], t + t2 / 2)])
        return [(lower, t, False), (upper, t2, False)]
    if kind in ("box", "rect-tube"):
        b, h = f["width"] / 2 - t / 2, f["depth"]
        return [(rounded([(-b, t / 2), (b, t / 2), (b, h - t / 2), (-b, h - t / 2)], m, closed=True), t, True)]
    if kind == "tube":
        u = np.linspace(0, 2 * np.pi, 241)
        d = f["od"]
        return [(np.column_stack([np.cos(u), np.sin(u)]) * (d - t) / 2 + [0, d / 2], t, True)]
    if kind == "bar":
        d, w = f["depth"], f["width"]
        line = [(0, 0), (0, d)] if d >= w else [(-w / 2, d / 2), (w / 2, d / 2)]
        return [(np.array(line, dtype=float), min(d, w), False)]
    if kind == "points":
        return [(rounded(f["corners"], m), t, False)]
    raise KeyError(kind)


def solid(kind, f):
    """The profile as one shapely shape."""
    from shapely.ops import unary_union

    return unary_union([thick(line, t, closed) for line, t, closed in lines(kind, f)])
