"""Each profile family drawn to scale with its letters, as SVG, from the very outline that is calculated."""

from __future__ import annotations

from math import atan2, cos, pi, sin

from jointcalc.section.profile import FAMILIES, parse_profile

Dim = tuple[str, str, float, float, float]
"""letter, h(orizontal) or v(ertical), from, to, where the dimension line stands (mm, axes of the section)."""
Leader = tuple[str, float, float, float, float]
"""letter, the point it is about (y, z), and where the text stands."""

PROFILES: dict[str, tuple[str, list[Dim], list[Leader]]] = {
    "hat": (
        "hat:top=40mm,depth=32mm,flange=22mm,t=2mm,r=3mm",
        [("top", "h", -20, 20, 38), ("depth", "v", 0, 32, 50), ("flange", "h", 20, 42, -7)],
        [("t", -32, 2, -34, 10), ("r", 15.5, 27.5, 4, 18)],
    ),
    "hat-skin": (
        "hat-skin:top=40mm,depth=32mm,flange=24mm,t=2mm,r=3mm,skin=120mm,skin_t=2mm,weld=10mm",
        [("top", "h", -20, 20, 40), ("depth", "v", 2, 34, 70), ("flange", "h", 20, 44, 10), ("weld", "h", -44, -34, 10),
         ("skin", "h", -60, 60, -7)],
        [("t", -19, 22, -34, 26), ("r", 15.5, 29.5, 4, 20), ("skin_t", 0, 2, 4, 9)],
    ),
    "beaded-hat": (
        "beaded-hat:top=60mm,depth=34mm,flange=20mm,t=2mm,r=3mm,bead=24mm,bead_depth=7mm,web_bead=12mm,web_bead_depth=4mm",
        [("top", "h", -30, 30, 46), ("bead", "h", -12, 12, 40), ("depth", "v", 0, 34, 58), ("flange", "h", 30, 50, -7),
         ("web_bead", "v", 11, 23, -36)],
        [("t", -42, 2, -46, 9), ("r", 25.5, 29.5, 14, 19), ("web_bead_depth", -26, 17, -8, 5),
         ("bead_depth", 0, 25, 0, 14)],
    ),
    "channel": (
        "channel:web=50mm,flange=26mm,t=2mm,r=3mm",
        [("web", "v", 0, 50, -8), ("flange", "h", 0, 26, -7)],
        [("t", 2, 25, 12, 25), ("r", 4.5, 45.5, 14, 38)],
    ),
    "zed": (
        "zed:web=50mm,flange=26mm,t=2mm,r=3mm",
        [("web", "v", 0, 50, 34), ("flange", "h", 0, 26, -7), ("flange", "h", -24, 2, 56)],
        [("t", 0, 25, -10, 25), ("r", 4.5, 4.5, 14, 13)],
    ),
    "lipped-channel": (
        "lipped-channel:web=60mm,flange=32mm,bottom=38mm,lip=13mm,t=2mm,r=3mm",
        [("web", "v", 0, 60, -8), ("flange", "h", 0, 32, 66), ("bottom", "h", 0, 38, -7), ("lip", "v", 47, 60, 46)],
        [("t", 2, 32, 12, 32), ("r", 4.5, 55.5, 14, 47)],
    ),
    "angle": (
        "angle:leg=36mm,foot=28mm,t=2mm,r=3mm",
        [("leg", "v", 0, 36, -8), ("foot", "h", 0, 28, -7)],
        [("t", 2, 26, 12, 28), ("r", 4.5, 4.5, 14, 13)],
    ),
    "lap": (
        "lap:left=50mm,overlap=34mm,right=46mm,t=2mm,t_2=2mm,step=10mm,r=3mm,weld=14mm",
        [],
        [],
    ),
    "box": (
        "box:depth=44mm,width=34mm,t=2mm,r=3mm",
        [("depth", "v", 0, 44, -25), ("width", "h", -17, 17, -7)],
        [("t", 15, 22, 5, 22), ("r", 12.5, 39.5, 3, 31)],
    ),
    "rect-tube": (
        "rect-tube:depth=30mm,width=50mm,t=3mm",
        [("depth", "v", 0, 30, -33), ("width", "h", -25, 25, -7)],
        [("t", 0, 3, 6, 12), ("r", 19.9, 24.9, 8, 19)],
    ),
    "tube": ("tube:od=44mm,t=3mm", [("od", "h", -22, 22, -8)], [("t", 0, 41, 6, 30)]),
    "bar": ("bar:depth=40mm,width=6mm", [("depth", "v", 0, 40, -12), ("width", "h", -3, 3, -7)], []),
    "points": (
        "points:at=0 36/0 0/44 0/44 22/56 22 mm,t=2mm,r=3mm",
        [],
        [("1 (0, 36)", 0, 37, -14, 43), ("2 (0, 0)", 0, 1, -14, -8), ("3 (44, 0)", 44, 1, 48, -8),
         ("4 (44, 22)", 44, 23, 34, 33), ("5 (56, 22)", 56, 23, 62, 30), ("t", 22, 2, 22, 11), ("r", 4.5, 5.5, 12, 18)],
    ),
}  # fmt: skip
"""Family -> profile drawn, dimensions, leaders."""

SCALE = 4.0
ROOM = 16.0
INK, SHEET, LINE = "#1a1a1a", "#c9d3df", "#5a6570"


def _lap_dims(faces: list[list[tuple[float, float]]]) -> tuple[list[Dim], list[Leader]]:
    """The stepped lap's letters stand where its geometry puts them: it is not square."""
    upper = faces[-1]
    edge = min(y for y, _ in faces[-2])
    far = max(y for y, _ in upper)
    end = far - 46.0
    dims: list[Dim] = [
        ("left", "h", 0, 50, 20), ("overlap", "h", edge, end, -7), ("right", "h", end, far, 20),
        ("weld", "h", edge, edge + 14, 12), ("step", "v", 2, 12, -7),
    ]  # fmt: skip
    leaders: list[Leader] = [
        ("t", 25, 10, 25, 3), ("t_2", far - 16, 2, far - 14, -8), ("r", 51, 11, 40, -3),
    ]  # fmt: skip
    return dims, leaders


def drawing(kind: str) -> str:
    """The SVG of a family."""
    text, dims, leaders = PROFILES[kind]
    outline = parse_profile(text).outline()
    faces = [
        [(float(y), float(z)) for y, z in outline.faces(i)]
        for i, piece in enumerate(outline.segments)
        if piece.kind != "weld"
    ]
    if kind == "lap":
        dims, leaders = _lap_dims(faces)
    ys = [y for face in faces for y, _ in face]
    zs = [z for face in faces for _, z in face]
    for _, way, a, b, at in dims:
        ys += [at] if way == "v" else [a, b]
        zs += [at - 6 if b - a < 8 else at] if way == "h" else [a, b]
    ys += [y for *_, y, _ in leaders]
    zs += [z for *_, z in leaders]
    left, right, low, high = min(ys) - ROOM, max(ys) + ROOM, min(zs) - 6, max(zs) + 6

    def x(y: float) -> str:
        return f"{(y - left) * SCALE:.1f}"

    def v(z: float) -> str:
        return f"{(high - z) * SCALE:.1f}"

    def line(a: float, b: float, c: float, d: float, width: float = 0.8) -> str:
        return f'<line x1="{x(a)}" y1="{v(b)}" x2="{x(c)}" y2="{v(d)}" stroke="{LINE}" stroke-width="{width}"/>'

    def head(y: float, z: float, angle: float) -> str:
        points = [(y, z)] + [(y - 1.8 * cos(angle + s), z - 1.8 * sin(angle + s)) for s in (0.3, -0.3)]
        return f'<polygon points="{" ".join(f"{x(p)},{v(q)}" for p, q in points)}" fill="{LINE}"/>'

    def word(name: str, y: float, z: float, anchor: str = "middle") -> str:
        return f'<text x="{x(y)}" y="{v(z)}" text-anchor="{anchor}" fill="{INK}">{name}</text>'

    wide, tall = (right - left) * SCALE, (high - low) * SCALE
    made = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide:.0f}" height="{tall:.0f}" '
        f'viewBox="0 0 {wide:.0f} {tall:.0f}" font-family="sans-serif" font-size="13" role="img">',
        f"<title>{kind}: {FAMILIES[kind].summary}</title>",
        f'<rect width="{wide:.0f}" height="{tall:.0f}" fill="#ffffff"/>',
    ]
    for face in faces:
        points = " ".join(f"{x(y)},{v(z)}" for y, z in face)
        made.append(f'<polygon points="{points}" fill="{SHEET}" stroke="{INK}" stroke-width="0.9"/>')
    for i, piece in enumerate(outline.segments):
        if piece.kind == "weld":
            y, z = (float(value) for value in outline.polyline(i).mean(axis=0))
            made.append(f'<circle cx="{x(y)}" cy="{v(z)}" r="4.5" fill="{INK}"/>')
    beside = 0.0
    for name, way, a, b, at in dims:
        if way == "h":
            ends, middle = [(a, at), (b, at)], ((a + b) / 2, at - 5 if b - a < 8 else at + 1.2)
            made += [line(q, at - 1.5, q, at + 1.5) for q in (a, b)]
        else:
            beside = -1.5 if at < sum(ys) / len(ys) else 1.5
            ends, middle = [(at, a), (at, b)], (at + beside, (a + b) / 2 - 1)
            made += [line(at - 1.5, q, at + 1.5, q) for q in (a, b)]
        made.append(line(*ends[0], *ends[1]))
        turn = 0.0 if way == "h" else pi / 2
        made += [head(*ends[0], turn + pi), head(*ends[1], turn)]
        made.append(word(name, *middle, anchor="middle" if way == "h" else "end" if beside < 0 else "start"))
    for name, y, z, to_y, to_z in leaders:
        made += [line(y, z, to_y, to_z), head(y, z, atan2(z - to_z, y - to_y))]
        up = to_z >= z
        made.append(word(name, to_y, to_z + (1 if up else -4), anchor="middle"))
    return "\n".join([*made, "</svg>", ""])


def letters(kind: str) -> set[str]:
    """The letters a drawing carries."""
    text, dims, leaders = PROFILES[kind]
    if kind == "lap":
        outline = parse_profile(text).outline()
        faces = [[(float(y), float(z)) for y, z in outline.faces(i)]
                 for i, piece in enumerate(outline.segments) if piece.kind != "weld"]  # fmt: skip
        dims, leaders = _lap_dims(faces)
    return {d[0] for d in dims} | {one[0] for one in leaders}
