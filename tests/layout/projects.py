"""An invented project with one of everything that is marked out, and readers of what is written."""

from __future__ import annotations

import io
import tomllib
from functools import cache
from math import hypot
from typing import Any

import ezdxf
from shapely.geometry import Polygon

from jointcalc.layout.items import draw
from jointcalc.model.project import Project, read_project

TEXT = """
[project]
title = "Invented van"

[sheet.floor]
thickness = "1.2 mm"
grade = "DC04"

[sheet.brace]
thickness = "1.5 mm"
grade = "DC04"

[[seam]]
id = "S1"
title = "Floor halves"
sheets = ["floor", "floor"]
weld_diameter = "5.5 mm"
pitch = "40 mm"
length = "1480 mm"
edge = "9 mm"
shear = "14 kN"

[[seam]]
id = "S2"
sheets = ["floor", "brace"]
weld_diameter = "5 mm"
count = 7
rows = 2
row_spacing = "18 mm"
length = "400 mm"
end = "14 mm"
edge = "10 mm"
shear = "3 kN"

[[plug]]
id = "P1"
sheets = ["floor", "brace"]
hole = "8 mm"
length = "600 mm"
pitch = "40 mm"
edge = "12 mm"
shear = "5 kN"

[[plug]]
id = "P2"
sheets = ["floor", "brace"]
hole = "8 mm"
slot = "20 mm"
length = "300 mm"
count = 4
edge = "15 mm"
shear = "2 kN"

[[bolts]]
id = "B1"
holes = ["0 0 mm", "300.123456789 0 mm", "300 250 mm", "-12.5 250 mm"]
bolt = "M8 8.8"
sheets = ["floor"]
plate = "75 50 3 mm"
force = "0 0 4 kN"
at = "150 125 100 mm"

[[fillet]]
id = "F1"
lines = ["0 0 200 0 mm", "0 120 160 240 mm"]
leg = "3 mm"
sheet = "brace"
stitch = "30 90 mm"
force = "0 -2 0 kN"
at = "100 60 0 mm"

[[brace]]
id = "BR1"
profile = "hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm"
grade = "DC04"
span = "1000 mm"
point = ["750 N @ 500 mm"]

[[brace]]
id = "BR2"
profile = "tube:od=40mm,t=2mm"
grade = "S235JR"
span = "800 mm"
point = ["500 N @ 400 mm"]

[[brace]]
id = "LAP"
profile = "lap:left=60mm,overlap=25mm,right=60mm,t=1.2mm"
grade = "DC04"
span = "1000 mm"
point = ["100 N @ 500 mm"]
pitch = "40 mm"

[[part]]
id = "FL"
title = "Floor half"
sheet = "floor"
size = "1480 960 mm"
count = 2

[[part]]
id = "GP"
sheet = "brace"
size = "210 120 mm"
count = 8
corner = "10 mm"
holes = ["25 25 9 mm", "185 25 9 mm"]

[[tub]]
id = "T1"
title = "Rear tub"
sheet = "floor"
tyre = "275/60R15"
floor = "60 mm"
sides = 1
count = 2
"""


def project(text: str = TEXT) -> Project:
    """The project of a text."""
    return read_project(tomllib.loads(text), text=text, parts_suffice=True)


@cache
def everything() -> dict[str, Any]:
    """Items and parts of the invented project by id, read once."""
    found = project()
    return {i.id: i for i in (*found.items, *found.parts)}


def drawing(item: Any, system: Any = "metric") -> Any:
    """The drawing of an item that has one."""
    made, why = draw(item, system)
    assert made is not None, why
    return made


def read_dxf(content: bytes) -> Any:
    """The document as another program reads it, without an error of the auditor."""
    doc = ezdxf.read(io.StringIO(content.decode("utf-8")))
    audit = doc.audit()
    assert not audit.errors
    assert not audit.fixes
    return doc


def polygon(entity: Any) -> Polygon:
    """A closed polyline of a DXF, its exact arcs flattened by the library that read it."""
    assert entity.closed
    points: list[tuple[float, float]] = []
    for piece in entity.virtual_entities():
        straight = piece.dxftype() == "LINE"
        way = [piece.dxf.start, piece.dxf.end] if straight else list(piece.flattening(1e-5))
        at = [(round(p.x, 9), round(p.y, 9)) for p in way]
        begin = entity.get_points()[0][:2] if not points else points[-1]
        if hypot(at[0][0] - begin[0], at[0][1] - begin[1]) > 1e-6:
            at.reverse()
        points += at if not points else at[1:]
    return Polygon(points)


def segment_length(line: Any) -> float:
    """Length of a LINE."""
    return hypot(line.dxf.end.x - line.dxf.start.x, line.dxf.end.y - line.dxf.start.y)
