"""The dimensions of a profile, for the marking-out sheet and the dossier alike: they show one and the same section."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import hypot

import numpy as np

from jointcalc.layout.drawing import Dim, Entity, Leader
from jointcalc.layout.words import size
from jointcalc.quantity.show import System
from jointcalc.section.families.family import Family
from jointcalc.section.outline import Floats, Outline

ROW = 9.0
"""From one row of dimensions to the next on the paper [mm]."""


@dataclass(frozen=True, slots=True)
class _Drawn:
    """An outline as it is drawn at a scale: its box, and where dimensions stand."""

    outline: Outline
    system: System
    scale: float
    flip: float | None
    """A height is mirrored to this number less itself in a section that lies upside down; None: as written."""
    box: tuple[float, float, float, float]

    def z(self, height: float) -> float:
        return height if self.flip is None else self.flip - height

    def across(self, y1: float, y2: float, z: float, row: float, text: str = "") -> Dim:
        """A level dimension `row` rows below (negative) or above the section as it is drawn."""
        _, low, _, high = self.box
        at = (high if row > 0 else low) + row * ROW / self.scale
        return Dim(y1, self.z(z), y2, self.z(z), at, text or size(abs(y2 - y1), self.system))

    def upright(self, z1: float, z2: float, y: float, row: float, text: str = "") -> Dim:
        """An upright dimension `row` rows left (negative) or right of the section."""
        left, _, right, _ = self.box
        at = (right if row > 0 else left) + row * ROW / self.scale
        return Dim(y, self.z(z1), y, self.z(z2), at, text or size(abs(z2 - z1), self.system), True)


def section_dims(family: Family, system: System, *, turned: bool = False, scale: float = 1.0) -> list[Entity]:
    """Every size that a profile is written with: over all, its own letters, thickness and inside radii.

    Coordinates are those of its outline, `turned` upside down if asked; rows of dimensions stand 9 mm apart on paper
    of that scale.
    """
    outline = family.outline()
    flip = float(outline.z.min() + outline.z.max()) if turned else None
    shown = outline.turned() if turned else outline
    faces = np.concatenate([shown.faces(i) for i, s in enumerate(shown.segments) if s.kind != "weld"])
    (left, low), (right, high) = faces.min(axis=0), faces.max(axis=0)
    d = _Drawn(shown, system, scale, flip, (float(left), float(low), float(right), float(high)))
    make = _OWN.get(family.kind, _plain)
    return [*make(family, d), *_sheet(d)]


def _over_all(d: _Drawn, rows: tuple[float, float] = (-1.0, -1.0)) -> list[Entity]:
    left, low, right, high = d.box
    bottom, top = (low, high) if d.flip is None else (d.flip - low, d.flip - high)
    return [d.across(left, right, bottom, rows[0]), d.upright(bottom, top, left, rows[1])]


def _plain(family: Family, d: _Drawn) -> list[Entity]:
    return _over_all(d)


def _hat(family: Family, d: _Drawn) -> list[Entity]:
    top, depth, flange = (_value(family, name) for name in ("top", "depth", "flange"))
    skin_t = _value(family, "skin_t")
    # the side of the flanges is below where the hat is drawn crown up
    way = -1.0 if d.flip is None else 1.0
    foot, crown, tip = skin_t, skin_t + depth, top / 2 + flange
    made: list[Entity] = [
        d.across(-top / 2, top / 2, crown, -way),
        d.across(-tip, -top / 2, foot, way),
        d.across(-tip, tip, foot, 2 * way),
        d.upright(foot, crown, -tip, -1.0),
    ]
    for name, width, deep in (("crown bead", "bead", "bead_depth"), ("right web bead", "web_bead", "web_bead_depth")):
        if _value(family, width):
            made.append(_bead(d, name, _value(family, width), _value(family, deep)))
    if not skin_t:
        return made
    skin = _value(family, "skin")
    weld = _weld(d)
    if weld is not None:
        made.append(d.across(tip, weld, foot, way))
    return [
        *made,
        d.across(-skin / 2, skin / 2, 0.0, 3 * way),
        d.upright(0.0, crown, -skin / 2, -2.8),  # clear of an inch beside the depth
        d.upright(0.0, skin_t, skin / 2, 1.0),
    ]


def _bead(d: _Drawn, name: str, width: float, deep: float) -> Leader:
    """Words beside the bead of that name, outside the section."""
    i = next(i for i, s in enumerate(d.outline.segments) if s.name.startswith(name))
    line = d.outline.polyline(i)
    left, low, right, high = d.box
    tip, middle = line[len(line) // 2], np.array([(left + right) / 2, (low + high) / 2])
    way = (tip - middle) / (hypot(*(tip - middle)) or 1.0)
    # the bead is pressed inwards: out of it, then clear of the sheet
    text = f"bead {size(width, d.system)} x {size(deep, d.system)}"
    return _leader(tip, tip + (deep + 5.0 / d.scale) * way + [1.0 / d.scale, 0.0], text)


def _weld(d: _Drawn) -> float | None:
    """The weld line on the right."""
    places = [float(d.outline.y[s.start, 0]) for s in d.outline.segments if s.kind == "weld"]
    return max(places) if places else None


def _zed(family: Family, d: _Drawn) -> list[Entity]:
    flange, t, web = (_value(family, name) for name in ("flange", "t", "web"))
    return [
        d.across(0.0, flange, 0.0, -1.0 if d.flip is None else 1.0),
        d.across(t - flange, t, web, 1.0 if d.flip is None else -1.0),
        d.upright(0.0, web, t - flange, -1.0),
    ]


def _lipped(family: Family, d: _Drawn) -> list[Entity]:
    made = _over_all(d)
    flange, lip, web = (_value(family, name) for name in ("flange", "lip", "web"))
    bottom = _value(family, "bottom") or flange
    made.append(d.upright(0.0, lip, bottom, 1.0))
    if abs(bottom - flange) > 1e-9:
        top = 1.0 if d.flip is None else -1.0
        made = [d.across(0.0, bottom, 0.0, -top), d.across(0.0, flange, web, top), *made[1:]]
    return made


_OWN: dict[str, Callable[[Family, _Drawn], list[Entity]]] = {
    "hat": _hat, "hat-skin": _hat, "beaded-hat": _hat, "zed": _zed, "lipped-channel": _lipped
}  # fmt: skip


def _value(family: Family, name: str) -> float:
    found = getattr(family, name, None)
    return 0.0 if found is None else float(np.asarray(found).reshape(-1)[0])


def _sheet(d: _Drawn) -> list[Entity]:
    """Thickness and inside radii, by leaders that stand inside the section."""
    left, low, right, high = d.box
    middle = np.array([(left + right) / 2, (low + high) / 2])
    arm = 6.0 / d.scale
    made: list[Entity] = []
    flats = [i for i, s in enumerate(d.outline.segments) if s.kind == "flat"]
    if flats:
        # the steepest and longest: a web rather than a flange
        i = max(flats, key=lambda i: _steep(d.outline.polyline(i)))
        a, b = d.outline.polyline(i)
        along = (b - a) / hypot(*(b - a))
        out = np.array([-along[1], along[0]])
        point = a + 0.35 * (b - a)
        out = out if (middle - point) @ out >= 0 else -out
        t = _pick(d.outline.t, i)
        tip = point + out * t / 2
        made.append(_leader(tip, tip + arm * out, f"t {size(t, d.system)}"))
    seen: set[float] = set()
    for i, segment in enumerate(d.outline.segments):
        if segment.kind != "bend" or "bead" in segment.name:
            continue
        line = d.outline.polyline(i)
        t, radius = _pick(d.outline.t, i), _pick(d.outline.radius, i)
        inside = round(radius - t / 2, 6)
        closed = len(d.outline.segments) <= 4 and not flats
        if inside in seen or inside <= 0:
            continue
        seen.add(inside)
        chord = line[-1] - line[0]
        way = np.array([-chord[1], chord[0]]) / hypot(*chord) * np.sign(_pick(d.outline.sweep, i))
        tip = line[len(line) // 2] + way * t / 2
        if closed:  # a tube: its wall is told, its radius follows from its diameter
            made.append(_leader(tip, tip + arm * way, f"t {size(t, d.system)}"))
            break
        made.append(_leader(tip, tip + 1.2 * arm * way, f"R{size(inside, d.system)}"))
    return made


def _steep(line: Floats) -> float:
    return float(abs(line[1][1] - line[0][1]) - 0.2 * abs(line[1][0] - line[0][0]))


def _pick(array: Floats, i: int) -> float:
    return float(array[i].reshape(-1)[0])


def _leader(tip: Floats, end: Floats, text: str) -> Leader:
    return Leader(float(tip[0]), float(tip[1]), float(end[0]), float(end[1]), text)
