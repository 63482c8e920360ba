"""The full-size PDF read back by pypdf: page sizes, the scale bar, true distances, tiles that fit together.

Paper sizes: ISO 216 (A4) and ANSI Y14.1 (letter); a point is 1/72 in.
"""

from __future__ import annotations

import io
import warnings
from itertools import pairwise
from math import hypot
from typing import Any

import pytest
from pypdf import PdfReader
from pypdf.generic import ContentStream

from jointcalc.layout.item_pages import item_pdf
from jointcalc.layout.paper import Sheet
from jointcalc.layout.tiles import tiling

from .projects import drawing, everything, project

MM = 72 / 25.4
Segment = tuple[float, float, float, float]


def strokes(page: Any) -> list[Segment]:
    """Straight strokes of a page in mm from its lower left corner, transformations applied."""
    found: list[Segment] = []
    stack: list[tuple[float, ...]] = []
    m = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
    last = (0.0, 0.0)
    path: list[Segment] = []

    def place(x: float, y: float) -> tuple[float, float]:
        return (m[0] * x + m[2] * y + m[4]) / MM, (m[1] * x + m[3] * y + m[5]) / MM

    for operands, operator in ContentStream(page["/Contents"].get_object(), page.pdf).operations:
        v = [float(o) for o in operands] if operator in (b"cm", b"m", b"l") else []
        if operator == b"q":
            stack.append(m)
        elif operator == b"Q":
            m = stack.pop()
        elif operator == b"cm":
            a, b, c, d, e, f = v
            m = (a * m[0] + b * m[2], a * m[1] + b * m[3], c * m[0] + d * m[2], c * m[1] + d * m[3],
                 e * m[0] + f * m[2] + m[4], e * m[1] + f * m[3] + m[5])  # fmt: skip
        elif operator == b"m":
            last = place(*v)
        elif operator == b"l":
            here = place(*v)
            path.append((*last, *here))
            last = here
        elif operator in (b"S", b"s", b"B", b"b"):
            found += path
            path = []
        elif operator in (b"n", b"f"):
            path = []
    return found


def length(s: Segment) -> float:
    return hypot(s[2] - s[0], s[3] - s[1])


def pages(content: bytes) -> Any:
    return PdfReader(io.BytesIO(content)).pages


def marks(found: list[Segment], arm: float) -> list[tuple[float, float]]:
    """Centres of upright crosses whose arms are `arm` long each way."""
    level = [s for s in found if abs(s[1] - s[3]) < 1e-6 and abs(length(s) - 2 * arm) < 1e-6]
    upright = [s for s in found if abs(s[0] - s[2]) < 1e-6 and abs(length(s) - 2 * arm) < 1e-6]
    middles = [((s[0] + s[2]) / 2, (s[1] + s[3]) / 2) for s in level]
    return [
        p for p in middles if any(hypot((u[0] + u[2]) / 2 - p[0], (u[1] + u[3]) / 2 - p[1]) < 1e-6 for u in upright)
    ]


@pytest.mark.parametrize(("paper", "size"), [("a4", (210.0, 297.0)), ("letter", (215.9, 279.4))])
@pytest.mark.parametrize(("system", "bar"), [("metric", 100.0), ("inch", 4 * 25.4)])
def test_every_page_has_its_size_and_a_true_scale_bar(
    paper: str, size: tuple[float, float], system: Any, bar: float
) -> None:
    content = item_pdf(drawing(everything()["S1"], system), Sheet(paper, system, "Invented van"))
    found = pages(content)
    assert len(found) > 3
    for page in found:
        box = page.mediabox
        at = (float(box.width) / MM, float(box.height) / MM)
        assert at == pytest.approx(size, abs=1e-3) or at == pytest.approx(size[::-1], abs=1e-3)
        low = [s for s in strokes(page) if s[1] < 20 and abs(s[1] - s[3]) < 1e-9]
        assert any(abs(length(s) - bar) < 1e-4 for s in low)
        text = page.extract_text()
        assert "Measure this bar" in text
        assert ("100 mm" if system == "metric" else "4 in") in text


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_tiles_laid_on_their_registration_marks_give_every_spot(paper: str) -> None:
    """Tiles are laid side by side by their registration crosses alone; 37 spots 40 mm apart must come out."""
    made = drawing(everything()["S1"])
    sheet = Sheet(paper)
    grid = tiling(made, sheet)
    content = item_pdf(made, sheet)
    tiles = pages(content)[-len(grid.tiles) :]
    spots: set[tuple[float, float]] = set()
    right_of_last = None
    shift = (0.0, 0.0)
    for tile in tiles:
        found = strokes(tile)
        crosses = marks(found, 4.0)
        assert len(crosses) == 4
        left = min(x for x, _ in crosses)
        low = min(y for _, y in crosses)
        if right_of_last is not None:
            shift = (right_of_last[0] - left, right_of_last[1] - low)
        right_of_last = (max(x for x, _ in crosses) + shift[0], low + shift[1])
        arm = 0.6 * 2.75
        spots |= {(round(x + shift[0], 4), round(y + shift[1], 4)) for x, y in marks(found, arm)}
    xs = sorted(spots)
    assert len(xs) == 37  # those printed twice in an overlap fall on one another
    for (x1, y1), (x2, y2) in pairwise(xs):
        assert x2 - x1 == pytest.approx(40.0, abs=2e-3)
        assert y2 == pytest.approx(y1, abs=2e-3)


def test_a_hole_pattern_measures_true_across_tiles() -> None:
    made = drawing(everything()["B1"])
    grid = tiling(made, Sheet())
    found = dict(zip([t.name for t in grid.tiles], pages(item_pdf(made, Sheet()))[-len(grid.tiles) :]))
    half = 5.0  # half of the overlap is printed outside the cell
    at = []
    for tile in grid.tiles:
        crosses = marks(strokes(found[tile.name]), 4.0)
        left, low = min(x for x, _ in crosses), min(y for _, y in crosses)
        assert left == pytest.approx(10 + half, abs=1e-6)
        for x, y in marks(strokes(found[tile.name]), 0.6 * 4.5):
            at.append((x - left + tile.x, y - low + tile.y))
    wanted = [(0.0, 0.0), (300.123456789, 0.0), (300.0, 250.0), (-12.5, 250.0)]
    for x, y in wanted:
        assert any(hypot(x - a, y - b) < 1e-4 for a, b in at)


def test_tiles_cover_the_work_and_empty_ones_are_left_out() -> None:
    made = drawing(everything()["T1"])
    for paper in ("a4", "letter"):
        grid = tiling(made, Sheet(paper))
        assert 0 < len(grid.tiles) < grid.columns * grid.rows + 1
        names = [t.name for t in grid.tiles]
        assert len(set(names)) == len(names)
    # a plain rectangle needs no full-size paper, its overview has the sizes
    assert len(pages(item_pdf(drawing(everything()["FL"]), Sheet()))) == 1


def test_the_bend_table_and_notes_are_on_paper() -> None:
    text = "\n".join(p.extract_text() for p in pages(item_pdf(drawing(everything()["BR1"]), Sheet())))
    for words in ("132.23", "19.93", "112.31", "3.86", "DIN 6935", "90.00°", "left flange bend"):
        assert words in text, words


def test_the_same_bytes_and_no_dates() -> None:
    one, two = (item_pdf(drawing(everything()["BR1"]), Sheet("a4", "metric", "Invented van")) for _ in range(2))
    assert one == two
    info = PdfReader(io.BytesIO(one)).metadata
    assert info is not None
    assert "/CreationDate" not in info
    assert info["/Title"].startswith("BR1")


def test_words_beyond_the_lettering_are_boxed_not_fatal() -> None:
    text = """
[project]
title = "x"
[[part]]
id = "A"
title = "$\\\\frac{1}{2}$ 漢字 \\n Ω °"
size = "100 50 mm"
sheet = {thickness = "1.2 mm", grade = "DC04"}
"""
    (part,) = project(text).parts
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        content = item_pdf(drawing(part), Sheet("a4", "metric", "漢" * 300))
    found = pages(content)[0].extract_text()
    assert "$\\frac{1}{2}$" in found
    assert "Ω °" in found


def test_a_large_section_with_nothing_to_mark_fits_its_page() -> None:
    """A box as large as a sill: only its outline is drawn, and the view is small."""
    text = """
[project]
title = "x"
[[brace]]
id = "SILL"
profile = "box:depth=130mm,width=110mm,t=1.2mm,r=2mm"
grade = "DC04"
span = "1000 mm"
point = "100 N @ 500 mm"
"""
    (brace,) = project(text).items
    found = "\n".join(p.extract_text() for p in pages(item_pdf(drawing(brace), Sheet())))
    assert "SILL" in found


def test_a_long_table_runs_over_pages() -> None:
    text = """
[project]
title = "x"
[[seam]]
id = "S"
sheets = [{thickness = "1 mm", grade = "DC04"}, {thickness = "1 mm", grade = "DC04"}]
weld_diameter = "5 mm"
count = 900
length = "18 m"
edge = "9 mm"
shear = "1 kN"
"""
    (item,) = project(text).items
    made = drawing(item)
    made.full_size = False
    found = pages(item_pdf(made, Sheet()))
    text = "\n".join(p.extract_text() for p in found)
    assert len(found) > 2
    for n, row in enumerate(made.tables[0].rows):
        assert row[0] == str(n + 1)
        assert row[1] in text
    assert text.count("from left mm") >= len(found)


def test_dimensions_of_the_full_size_sheets_are_read_at_arms_length() -> None:
    """Capitals of 3.5 mm: the font's own capitals are 0.729 of its size (its OS/2 table), a point is 1/72 in."""
    made = drawing(everything()["S1"])
    page = pages(item_pdf(made, Sheet()))[-1]
    sizes: dict[str, float] = {}
    page.extract_text(
        visitor_text=lambda text, cm, tm, font, size: sizes.update({text.strip(): size * hypot(tm[0], tm[1])})
    )
    found = {text: at * 0.729 / MM for text, at in sizes.items() if text.replace(".", "").isdigit()}
    assert len(found) > 3
    assert list(found.values()) == pytest.approx([3.5] * len(found), abs=0.01)


def test_the_lettering_is_the_fonts_own() -> None:
    """Widths and outlines of the subset against fontTools' reading of the whole font."""
    ttLib = pytest.importorskip("fontTools.ttLib")
    from jointcalc.layout.lettering import FACES, face

    letters = "AgÄ°½Ω-é"
    subset = ttLib.TTFont(io.BytesIO(face().subset(letters)))
    from importlib.util import find_spec
    from pathlib import Path

    spec = find_spec("matplotlib")
    assert spec is not None
    whole = ttLib.TTFont(Path(str(spec.origin)).parent / "mpl-data" / "fonts" / "ttf" / FACES[0])
    names, order = whole.getBestCmap(), whole.getGlyphOrder()
    for letter in letters:
        glyph = whole.getGlyphID(names[ord(letter)])
        assert face().glyphs[ord(letter)] == glyph
        one = subset["glyf"][subset.getGlyphName(glyph)]
        other = whole["glyf"][order[glyph]]
        assert one.getCoordinates(subset["glyf"])[0] == other.getCoordinates(whole["glyf"])[0]
        assert whole["hmtx"][order[glyph]][0] * 1000 / whole["head"].unitsPerEm == pytest.approx(
            face().advance, abs=0.5
        )
