"""Drawings as DXF (R2010, millimetres), the same bytes for the same drawing."""

from __future__ import annotations

import io
from math import cos, degrees, radians, sin
from typing import Any

from jointcalc.layout.drawing import LAYERS, Circle, Detail, Dim, Drawing, Entity, Label, Leader, Line, Path, extent
from jointcalc.layout.words import plain

_DASHES = {"-": "CONTINUOUS", "--": "DASHED", "-.": "DASHDOT", ":": "DOT"}
_ALIGN = {"left": "MIDDLE_LEFT", "center": "MIDDLE_CENTER", "right": "MIDDLE_RIGHT"}
GAP = 40.0
"""Free space [mm] between the main view and the details below it."""


def dxf(drawing: Drawing) -> bytes:
    """The drawing as a DXF file.

    The main view stands at its own coordinates, details at true size below it.  Layers that nothing is
    on are left out, so that a cutting shop sees only what there is.
    """
    import ezdxf
    from ezdxf import units

    before = ezdxf.options.write_fixed_meta_data_for_testing
    # the library's way to leave out dates and random identifiers
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        doc = ezdxf.new("R2010", setup=["linetypes"])
        doc.units = units.MM
        doc.header["$MEASUREMENT"] = 1
        doc.header["$LTSCALE"] = 0.5
        _dimension_style(doc)
        space = doc.modelspace()
        title = [Label(0.0, 0.0, f"{drawing.id}  {drawing.title}", 4.0), Label(0.0, 0.0, drawing.what, 3.0)]
        x0, y0, _, y1 = extent(drawing.entities)
        head = [Label(x0, y1 + 18.0, title[0].text, 4.0), Label(x0, y1 + 11.0, title[1].text, 3.0)]
        used: set[str] = set()
        for entity in [*drawing.entities, *head]:
            _put(space, entity, 0.0, 0.0, used)
        for detail in drawing.details:
            y0 = _detail(space, detail, x0, y0 - GAP, used)
        for name in sorted(used):
            layer = LAYERS[name]
            made = doc.layers.add(name, color=layer.colour, linetype=_DASHES[layer.dash])
            made.description = layer.meaning
        space.reset_extents(*_extents(space))
        # the library keeps the names of its classes in a set, whose order is another in every run
        doc.classes.add_required_classes(doc.dxfversion)
        held = dict(doc.classes.classes)
        doc.classes.classes.clear()
        doc.classes.classes.update(sorted(held.items()))
        out = io.StringIO()
        doc.write(out)
        return out.getvalue().encode("utf-8")
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before


def _extents(space: Any) -> tuple[tuple[float, float, float], tuple[float, float, float]]:
    """Least and greatest corner of all that is on the sheet, with half an em round lettering."""
    xs: list[float] = []
    ys: list[float] = []
    for entity in space:
        kind = entity.dxftype()
        if kind == "LINE":
            points = [entity.dxf.start, entity.dxf.end]
        elif kind == "CIRCLE":
            c, r = entity.dxf.center, entity.dxf.radius
            points = [(c.x - r, c.y - r), (c.x + r, c.y + r)]
        elif kind == "LWPOLYLINE":
            path = Path("", tuple((x, y, b) for x, y, b in entity.get_points("xyb")), entity.closed)
            x0, y0, x1, y1 = extent([path])
            xs += [x0, x1]
            ys += [y0, y1]
            continue
        elif kind == "TEXT":
            p, h = entity.dxf.align_point, entity.dxf.height
            long = len(entity.dxf.text) * h
            share = {0: (0.0, 1.0), 1: (0.5, 0.5), 2: (1.0, 0.0)}[entity.dxf.get("halign", 0)]
            turn = radians(entity.dxf.get("rotation", 0.0))
            ends = [(p.x + way * long * cos(turn), p.y + way * long * sin(turn)) for way in (-share[0], share[1])]
            xs += [x + off for x, _ in ends for off in (-h, h)]
            ys += [y + off for _, y in ends for off in (-h, h)]
            continue
        else:  # a dimension: its line, its ends, the figure beside it
            d = entity.dxf
            points = [d.defpoint, d.defpoint2, d.defpoint3]
            middle = (d.defpoint2 + d.defpoint3) / 2
            half = 3.5 * max(len(d.text), 1) / 2 + 6.0
            if d.get("angle", 0.0):
                points += [(d.defpoint.x - 6.0, middle.y - half), (d.defpoint.x + 6.0, middle.y + half)]
            else:
                points += [(middle.x - half, d.defpoint.y - 6.0), (middle.x + half, d.defpoint.y + 6.0)]
        xs += [p[0] for p in points]
        ys += [p[1] for p in points]
    return (min(xs), min(ys), 0.0), (max(xs), max(ys), 0.0)


def _detail(space: Any, detail: Detail, x: float, top: float, used: set[str]) -> float:
    """Put a detail below `top`; returns its lower edge."""
    x0, y0, _, y1 = extent(detail.entities)
    dx, dy = x - x0, top - 8.0 - y1
    _put(space, Label(x, top, detail.title, 3.0), 0.0, 0.0, used)
    for entity in detail.entities:
        _put(space, entity, dx, dy, used)
    return y0 + dy


def _dimension_style(doc: Any) -> None:
    style = doc.dimstyles.new("MARKING")
    style.dxf.dimtxt = 3.5
    style.dxf.dimasz = 2.5
    style.dxf.dimexo = 0.8
    style.dxf.dimexe = 1.2
    style.dxf.dimgap = 0.6
    style.dxf.dimtad = 1
    style.dxf.dimdec = 2


def _put(space: Any, entity: Entity, dx: float, dy: float, used: set[str]) -> None:
    if isinstance(entity, Line):
        used.add(entity.layer)
        space.add_line(
            (entity.x1 + dx, entity.y1 + dy), (entity.x2 + dx, entity.y2 + dy), dxfattribs={"layer": entity.layer}
        )
    elif isinstance(entity, Circle):
        used.add(entity.layer)
        space.add_circle((entity.x + dx, entity.y + dy), entity.r, dxfattribs={"layer": entity.layer})
    elif isinstance(entity, Path):
        used.add(entity.layer)
        points = [(x + dx, y + dy, b) for x, y, b in entity.points]
        space.add_lwpolyline(points, format="xyb", close=entity.closed, dxfattribs={"layer": entity.layer})
    elif isinstance(entity, Label):
        from ezdxf.enums import TextEntityAlignment

        words = plain(entity.text).replace("%%", "% %")  # two in a row begin a code of the format
        if not words:
            return
        used.add("TEXT")
        text = space.add_text(words, height=entity.height, rotation=degrees(entity.turn), dxfattribs={"layer": "TEXT"})
        text.set_placement((entity.x + dx, entity.y + dy), align=TextEntityAlignment[_ALIGN[entity.across]])
    elif isinstance(entity, Leader):
        used.add("DIM")
        space.add_line((entity.x1 + dx, entity.y1 + dy), (entity.x2 + dx, entity.y2 + dy), dxfattribs={"layer": "DIM"})
        gap = 1.0 if entity.across == "left" else -1.0
        _put(space, Label(entity.x2 + gap, entity.y2, entity.text, across=entity.across), dx, dy, used)
    elif isinstance(entity, Dim):
        used.add("DIM")
        base = (entity.at + dx, entity.y1 + dy) if entity.upright else (entity.x1 + dx, entity.at + dy)
        made = space.add_linear_dim(
            base=base,
            p1=(entity.x1 + dx, entity.y1 + dy),
            p2=(entity.x2 + dx, entity.y2 + dy),
            angle=90.0 if entity.upright else 0.0,
            text=entity.text,
            dimstyle="MARKING",
            dxfattribs={"layer": "DIM"},
        )
        made.render()
