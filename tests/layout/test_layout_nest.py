"""Nesting: pieces lie inside, apart, each once, and every sheet can be cut apart from edge to edge.

The oracle of overlaps and containment is shapely (a general library); the guillotine test is its own.
"""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import box

from jointcalc.layout.nest import Nesting, Piece, Placed, nest

sizes = st.floats(20, 900).map(lambda v: round(v, 1))
pieces = st.lists(
    st.builds(lambda n, a, b, turn: Piece(f"p{n}", a, b, turn), st.integers(0, 9), sizes, sizes, st.booleans()),
    max_size=24,
)
stocks = st.lists(st.sampled_from([(2000.0, 1000.0), (1250.0, 600.0), (800.0, 800.0)]), min_size=1, max_size=3)


def cuttable(placed: list[Placed], x0: float, y0: float, x1: float, y1: float) -> bool:
    """Whether edge-to-edge cuts can part the pieces of a region (any order of cuts)."""
    if len(placed) <= 1:
        return True
    for axis in (0, 1):
        edges = sorted({(p.x, p.y)[axis] for p in placed})
        for cut in edges[1:]:
            low = [p for p in placed if (p.x + p.length, p.y + p.width)[axis] <= cut + 1e-6]
            high = [p for p in placed if (p.x, p.y)[axis] >= cut - 1e-6]
            if len(low) + len(high) == len(placed) and low and high:
                mid = (x0, y0, cut, y1) if axis == 0 else (x0, y0, x1, cut)
                far = (cut, y0, x1, y1) if axis == 0 else (x0, cut, x1, y1)
                return cuttable(low, *mid) and cuttable(high, *far)
    return False


def hold(
    found: Nesting, given_pieces: list[Piece], stock: list[tuple[float, float]], kerf: float, margin: float
) -> None:
    placed = [p for s in found.sheets for p in s.placed]
    assert sorted([id(p.piece) for p in placed] + [id(p) for p in found.too_large]) == sorted(
        id(p) for p in given_pieces
    )
    for sheet in found.sheets:
        assert (sheet.length, sheet.width) in stock
        inside = box(margin, margin, sheet.length - margin, sheet.width - margin).buffer(1e-6)
        shapes = []
        for p in sheet.placed:
            lies, own = (p.length, p.width), (p.piece.length, p.piece.width)
            assert lies == pytest.approx(own) or (p.piece.turn and lies == pytest.approx(own[::-1]))
            shape = box(p.x, p.y, p.x + p.length, p.y + p.width)
            assert inside.contains(shape)
            shapes.append(shape)
        for a, b in combinations(shapes, 2):
            # a saw of that width passes between them
            assert a.distance(b) >= kerf - 1e-6
            assert a.intersection(b).area < 1e-6
        assert cuttable(sheet.placed, 0, 0, sheet.length, sheet.width)
        assert sheet.utilisation == pytest.approx(sum(s.area for s in shapes) / (sheet.length * sheet.width))
    for p in found.too_large:
        for a, b in stock:
            room = (a - 2 * margin, b - 2 * margin)
            ways = [(p.length, p.width)] + ([(p.width, p.length)] if p.turn else [])
            assert all(u > room[0] or v > room[1] for u, v in ways)


@given(pieces, stocks, st.sampled_from([0.0, 2.0, 7.5]), st.sampled_from([0.0, 5.0, 30.0]))
def test_every_piece_once_inside_and_apart(
    given_pieces: list[Piece], stock: list[tuple[float, float]], kerf: float, margin: float
) -> None:
    own = [Piece(f"{p.name}-{n}", p.length, p.width, p.turn) for n, p in enumerate(given_pieces)]
    hold(nest(own, stock, kerf=kerf, margin=margin), own, stock, kerf, margin)


@pytest.mark.parametrize(
    ("size", "count", "kerf", "margin", "sheets"),
    [
        # counted on squared paper: the stock is 2000 x 1000
        ((1000, 500), 4, 0, 0, 1),
        ((1000, 500), 5, 0, 0, 2),
        ((1000, 500), 4, 2, 0, 2),  # two and a cut of 2 mm are longer than the sheet
        ((999, 499), 4, 2, 0, 1),  # 999 + 2 + 999 = 2000: the cut is inside, none is needed at the edge
        ((985, 485), 4, 2, 10, 1),
        ((990, 485), 4, 2, 10, 2),  # 10 + 990 + 2 + 990 + 10 = 2002
        ((500, 1000), 4, 0, 0, 1),
    ],
)
def test_sheets_counted_by_hand(size: tuple[float, float], count: int, kerf: float, margin: float, sheets: int) -> None:
    own = [Piece(f"{n}", *size) for n in range(count)]
    found = nest(own, [(2000.0, 1000.0)], kerf=kerf, margin=margin)
    assert len(found.sheets) == sheets
    hold(found, own, [(2000.0, 1000.0)], kerf, margin)


def test_no_turn_keeps_the_rolling_direction() -> None:
    kept = [Piece("a", 500.0, 1000.0, turn=False), Piece("b", 500.0, 1200.0, turn=False)]
    found = nest(kept, [(2000.0, 1000.0)])
    assert [p.name for p in found.too_large] == ["b"]
    assert not found.sheets[0].placed[0].turned


def test_the_smallest_stock_that_does_is_taken() -> None:
    stock = [(3000.0, 1500.0), (2000.0, 1000.0), (2500.0, 1250.0)]
    found = nest([Piece("a", 900.0, 900.0), Piece("b", 900.0, 900.0)], stock)
    assert [(s.length, s.width) for s in found.sheets] == [(2000.0, 1000.0)]
    found = nest([Piece("a", 2900.0, 300.0), Piece("b", 100.0, 100.0)], stock)
    assert [(s.length, s.width) for s in found.sheets] == [(3000.0, 1500.0)]


def test_many_pieces_still_nest_well() -> None:
    """300 pieces whose area fills 9.4 sheets: a usable rule wastes no more than a fifth."""
    own = [Piece(f"{n}", 120.0 + 37 * (n % 11), 90.0 + 23 * (n % 7)) for n in range(300)]
    found = nest(own, [(2500.0, 1250.0)], kerf=2.0, margin=5.0)
    area = sum(p.length * p.width for p in own) / (2500 * 1250)
    assert len(found.sheets) <= -(-area * 1.2 // 1)
    hold(found, own, [(2500.0, 1250.0)], 2.0, 5.0)
