"""Rectangles on stock sheets, so that every cut goes from edge to edge (a guillotine can make it).

A free rectangle that takes a piece is split in two by one cut through; the pieces are tried in several
orders with several rules for the place and the split, and the best arrangement is kept.  It is a rule of
thumb, not an optimum.  Written here rather than taken from a packing library: none that is maintained
knows kerf, margins and edge-to-edge cuts, and this is a page.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

SLACK = 1e-9
FEW = 120
"""Up to so many pieces every order and rule is tried; above, the two that win most often."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A rectangle to place [mm]; `turn` allows a quarter turn."""

    name: str
    length: float
    width: float
    turn: bool = True


@dataclass(frozen=True, slots=True)
class Placed:
    """A piece on a sheet: lower left corner and size as it lies [mm]."""

    piece: Piece
    x: float
    y: float
    length: float
    width: float

    @property
    def turned(self) -> bool:
        """Whether it lies turned."""
        return abs(self.length - self.piece.length) > SLACK


@dataclass
class StockSheet:
    """One stock sheet with what is cut from it."""

    length: float
    width: float
    placed: list[Placed] = field(default_factory=list)

    @property
    def utilisation(self) -> float:
        """Part of the sheet's area that becomes pieces."""
        return sum(p.length * p.width for p in self.placed) / (self.length * self.width)


@dataclass(frozen=True, slots=True)
class Nesting:
    """Sheets in the order they are cut, and the pieces no stock sheet holds."""

    sheets: tuple[StockSheet, ...]
    too_large: tuple[Piece, ...]


@dataclass(frozen=True, slots=True)
class _Free:
    x: float
    y: float
    length: float
    width: float


_ORDERS: tuple[Callable[[Piece], tuple[float, ...]], ...] = (
    lambda p: (-p.length * p.width, -max(p.length, p.width)),
    lambda p: (-max(p.length, p.width), -min(p.length, p.width)),
    lambda p: (-min(p.length, p.width), -max(p.length, p.width)),
    lambda p: (-p.width, -p.length),
)
_FITS: tuple[Callable[[_Free, float, float], tuple[float, float]], ...] = (
    lambda f, a, b: (f.length * f.width - a * b, min(f.length - a, f.width - b)),
    lambda f, a, b: (min(f.length - a, f.width - b), max(f.length - a, f.width - b)),
    lambda f, a, b: (float(a < b), f.length * f.width - a * b),  # pieces along the sheet where they can
    lambda f, a, b: (float(a > b), f.length * f.width - a * b),  # pieces across it
)
_SPLITS: tuple[Callable[[_Free, float, float], bool], ...] = (
    lambda f, a, b: (f.length - a) * b < a * (f.width - b),  # the larger remainder stays whole
    lambda f, a, b: True,  # shelves along the sheet
    lambda f, a, b: False,  # strips across it
)


def nest(
    pieces: Sequence[Piece], stock: Sequence[tuple[float, float]], *, kerf: float = 0.0, margin: float = 0.0
) -> Nesting:
    """Place every piece on as little stock as the rules find.

    `stock` are the sizes to buy (length, width) [mm], each without limit; `kerf` is what a cut takes,
    `margin` what stays unused along every edge of a sheet.
    """
    holds = {size: [p for p in pieces if _ways(p, size, margin)] for size in dict.fromkeys(stock)}
    fitting = {id(p) for found in holds.values() for p in found}
    too_large = tuple(p for p in pieces if id(p) not in fitting)
    best: list[StockSheet] | None = None
    for size, held in holds.items():
        sheets = _pack(held, size, kerf, margin)
        rest = [p for p in pieces if id(p) in fitting and not _ways(p, size, margin)]
        for other in sorted(holds, key=lambda s: s[0] * s[1]):
            here = [p for p in rest if _ways(p, other, margin)]
            if here:
                sheets += _pack(here, other, kerf, margin)
                taken = {id(p) for p in here}
                rest = [p for p in rest if id(p) not in taken]
        sheets = [_smaller(sheet, list(holds), kerf, margin) for sheet in sheets]
        if best is None or _cost(sheets) < _cost(best):
            best = sheets
    return Nesting(tuple(best or ()), too_large)


def _cost(sheets: Sequence[StockSheet]) -> tuple[float, int, float]:
    """Area bought, sheets, and (as an offcut is worth more in one piece) how full the emptiest sheet is."""
    return (
        round(sum(s.length * s.width for s in sheets), 3),
        len(sheets),
        min((s.utilisation for s in sheets), default=0.0),
    )


def _ways(piece: Piece, size: tuple[float, float], margin: float) -> list[tuple[float, float]]:
    """The ways a piece can lie on an empty sheet."""
    a, b = size[0] - 2 * margin + SLACK, size[1] - 2 * margin + SLACK
    ways = [(piece.length, piece.width)]
    if piece.turn and abs(piece.length - piece.width) > SLACK:
        ways.append((piece.width, piece.length))
    return [(u, v) for u, v in ways if u <= a and v <= b]


def _smaller(sheet: StockSheet, sizes: list[tuple[float, float]], kerf: float, margin: float) -> StockSheet:
    """The smallest stock size that takes everything on this sheet."""
    pieces = [p.piece for p in sheet.placed]
    for size in sorted(sizes, key=lambda s: s[0] * s[1]):
        if size[0] * size[1] >= sheet.length * sheet.width - SLACK:
            break
        if sum(p.length * p.width for p in pieces) > size[0] * size[1] or not all(
            _ways(p, size, margin) for p in pieces
        ):
            continue
        found = _pack(pieces, size, kerf, margin)
        if len(found) == 1:
            return found[0]
    return sheet


def _pack(pieces: Sequence[Piece], size: tuple[float, float], kerf: float, margin: float) -> list[StockSheet]:
    best: list[StockSheet] | None = None
    many = len(pieces) > FEW
    for order in _ORDERS[:2] if many else _ORDERS:
        ordered = sorted(pieces, key=order)
        for fit in _FITS[:1] if many else _FITS:
            for split in _SPLITS[:1] if many else _SPLITS:
                sheets = _once(ordered, size, kerf, margin, fit, split)
                if best is None or _cost(sheets) < _cost(best):
                    best = sheets
    return best or []


def _once(
    pieces: Sequence[Piece],
    size: tuple[float, float],
    kerf: float,
    margin: float,
    fit: Callable[[_Free, float, float], tuple[float, float]],
    split: Callable[[_Free, float, float], bool],
) -> list[StockSheet]:
    """One pass: the first sheet with room takes a piece, in the free rectangle that fits it best.

    Pieces are grown by the kerf to the right and above, and the sheet with them, so that the last cut
    along an edge may fall outside.
    """
    sheets: list[StockSheet] = []
    free: list[list[_Free]] = []
    least = min((min(p.length, p.width) for p in pieces), default=0.0) + kerf
    for piece in pieces:
        ways = [(u + kerf, v + kerf) for u, v in _ways(piece, size, margin)]
        for n in range(len(sheets) + 1):
            if n == len(sheets):
                sheets.append(StockSheet(*size))
                free.append([_Free(margin, margin, size[0] - 2 * margin + kerf, size[1] - 2 * margin + kerf)])
            choice = min(
                (
                    (fit(f, u, v), k, u, v)
                    for k, f in enumerate(free[n])
                    for u, v in ways
                    if u <= f.length + SLACK and v <= f.width + SLACK
                ),
                default=None,
            )
            if choice is None:
                continue
            _, k, u, v = choice
            f = free[n].pop(k)
            sheets[n].placed.append(Placed(piece, f.x, f.y, u - kerf, v - kerf))
            if split(f, u, v):
                right = _Free(f.x + u, f.y, f.length - u, v)
                above = _Free(f.x, f.y + v, f.length, f.width - v)
            else:
                right = _Free(f.x + u, f.y, f.length - u, f.width)
                above = _Free(f.x, f.y + v, u, f.width - v)
            free[n] += [r for r in (right, above) if min(r.length, r.width) >= least - SLACK]
            break
    return sheets
