"""What a row or a group is worth with a bad weld in it: any one missing, any two neighbours, and a rate of duds.

A dud is a weld that looks whole and holds nothing.  Each question is put to the same checks, asked of the item without
those welds; of long rows the shares of all patterns are worked out together (`RowShares`) and only those that come out
hardest are judged in full.  The chance that the item falls short at a given rate is exact where the welds are few or
only their number matters, else drawn at random from a fixed seed, with the interval that the draws leave.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import combinations
from math import exp, floor, hypot, inf, lgamma, log
from typing import Any

import numpy as np

from jointcalc.check import check
from jointcalc.check.row_shares import RowShares, breaks_first
from jointcalc.errors import InputError
from jointcalc.explore.changed import Changed, judged, left
from jointcalc.explore.reliability import wilson
from jointcalc.model.bolts import FastenerGroup
from jointcalc.model.row import WeldRow
from jointcalc.quantity.sentence import Sentence, joined, mm
from jointcalc.result import Amount, Result, caution, collect
from jointcalc.statics.row import Array

MOST_TRIED = 60
"""Patterns judged one by one; of more, those that the shares show to be the hardest."""
FEW = 12
"""Welds up to which every pattern of duds is gone through."""
DRAWN, ROOM = 4000, 2_000_000
"""Patterns drawn of more welds than that, and how many numbers they may take together."""
ASKED = 400
"""Patterns judged in full for one chance; what is undecided then counts as falling short."""
SEED = 20
"""Of the draws, so that the same item always gives the same answer."""
NOTHING = 1e-17
"""A chance this small adds nothing to the others."""
STEPPED = 200
"""Welds in a row up to which chances are summed over numbers and gaps."""

Joint = WeldRow | FastenerGroup


@dataclass(frozen=True, slots=True)
class Lost:
    """The item without those of its welds (`numbers`, from 1) whose loss leaves the least, and where they stand [mm].

    `at` is the place of the first along the row, or its x and y in a group.
    """

    numbers: tuple[int, ...]
    at: tuple[float, ...]
    changed: Changed
    alike: bool = False
    """Whether the loss of any other leaves the same."""

    @property
    def margin(self) -> float | None:
        """By how much of itself the load could still grow; None where the item is not judged without them."""
        result = self.changed.result
        worst = None if result is None or result.status == "outside" else result.worst
        return None if worst is None or not worst.utilisation else 1.0 / worst.utilisation - 1.0


@dataclass(frozen=True, slots=True)
class Chance:
    """Chance that the item falls short at a rate of duds, and the interval of 95 % that draws leave, none if exact."""

    rate: float
    over: float
    low: float
    high: float
    exact: bool


def duds(item: Joint, result: Result) -> tuple[Changed, ...]:
    """The row without the one weld, and row or group without the two neighbours, whose loss is worst by the shares.

    The one fastener of a group is told by `fastener_fewer`.
    """
    one = None if isinstance(item, FastenerGroup) else weakest(item, result, most=0)
    found = (one, weakest(item, result, together=2, most=0))
    return tuple(lost.changed for lost in found if lost is not None)


def weakest(item: Joint, result: Result, together: int = 1, most: int = MOST_TRIED) -> Lost | None:
    """Which one weld, or which two neighbours, the item can spare least; None where none would be left.

    Of more patterns than `most` those are judged that the shares show to be the hardest.
    """
    stand = _standing(item)
    if len(stand) <= together:
        return None
    every: list[tuple[int, ...]] = [(n,) for n in stand] if together == 1 else _neighbours(item, stand)
    tried = every if len(every) <= most else _hardest(item, every)
    if not tried:
        return None
    found = [judged(_words(item, one), partial(without, item, one), result) for one in tried]
    ranks = [left(changed) for changed in found]
    at = min(range(len(ranks)), key=ranks.__getitem__)
    alike = all(abs(a - b) <= 1e-9 for rank in ranks for a, b in zip(rank, ranks[at]))
    return Lost(tried[at], place(item, tried[at][0]), found[at], alike)


def place(item: Joint, number: int) -> tuple[float, ...]:
    """Where a weld stands: along its row, or x and y in a group [mm]."""
    if isinstance(item, FastenerGroup):
        return tuple(item.holes[number - 1])
    return (item.actual_end + (number - 1) % item.along * item.actual_pitch,)


def without(item: Joint, numbers: Iterable[int]) -> Any:
    """The item with those welds or fasteners gone."""
    gone = set(numbers)
    if isinstance(item, FastenerGroup):
        data = item.model_dump(exclude_none=True)
        data["holes"] = [hole for n, hole in enumerate(data["holes"], start=1) if n not in gone]
        return item.remade(data)
    return item.without(gone)


def with_duds(result: Result) -> Result:
    """The result with what its item's `dud_rate` asks for among its values and cautions; itself without such a rate."""
    item = result.model
    rate = getattr(item, "dud_rate", None)
    if rate is None or not isinstance(item, WeldRow | FastenerGroup):
        return result
    values: dict[str, Amount] = {}
    one = weakest(item, result)
    two = weakest(item, result, together=2)
    for name, lost in (("one_missing", one), ("two_missing", two)):
        values[f"{name}_margin"] = Amount(None if lost is None else lost.margin, "1")
        if lost is not None and len(lost.at) == 1:
            values[f"{name}_at"] = Amount(lost.at[0], "mm")
        elif lost is not None:
            values |= {f"{name}_at_{axis}": Amount(v, "mm") for axis, v in zip("xy", lost.at)}
    found = chance(item, result, rate)
    values |= {
        "over_chance": Amount(found.over, "1"),
        "over_chance_low": Amount(found.low, "1"),
        "over_chance_high": Amount(found.high, "1"),
    }
    told = caution("duds", **_caution_words(item, one, two, found))
    return replace(result, values={**result.values, **values}, cautions=collect([*result.cautions, told]))


def _caution_words(item: Joint, one: Lost | None, two: Lost | None, found: Chance) -> dict[str, object]:
    def said(lost: Lost | None, nothing: str) -> object:
        if lost is None:
            return nothing
        result = lost.changed.result
        status = "not judged" if result is None or result.status == "outside" else "over"
        spare = f"{floor(100 * lost.margin + 1e-9)} % to spare" if lost.margin is not None else ""
        word = spare if lost.margin is not None and lost.margin >= 0 else status
        return joined("", [word, ", all alike, such as " if lost.alike else ", worst ", _words(item, lost.numbers)])

    spread = "exact" if found.exact else f"between {_percent(found.low)} and {_percent(found.high)}, drawn"
    return {
        "rate": _percent(found.rate), "chance": _percent(found.over), "how": spread,
        "one": said(one, "nothing is left"), "two": said(two, "nothing is left"),
    }  # fmt: skip


def _percent(share: float) -> str:
    return f"{100 * share:.2g} %"


# --- which welds -----------------------------------------------------------------------------------------


def _word(item: Joint) -> str:
    return "fastener" if isinstance(item, FastenerGroup) else item.one_weld


def _words(item: Joint, numbers: Sequence[int]) -> str:
    word = _word(item)
    which = " and ".join(f"{n}" for n in numbers)
    at = place(item, numbers[0])
    where = mm(at[0], ", ", at[1]) if len(at) > 1 else mm(at[0])
    beside = "at" if len(at) > 1 else "along the row at"
    several = f"{word}s {which} missing" if len(numbers) > 1 else f"{word} {which} missing"
    return Sentence(f"{several}, {beside} {where:.4g}")


def _standing(item: Joint) -> list[int]:
    if isinstance(item, FastenerGroup):
        return list(range(1, len(item.holes) + 1))
    gone = set(item.missing)
    return [n for n in range(1, item.welds + 1) if n not in gone]


def _neighbours(item: Joint, stand: list[int]) -> list[tuple[int, ...]]:
    """Pairs next to each other: along a row and across rows, or the nearest of each fastener."""
    if isinstance(item, FastenerGroup):
        at = np.array(item.holes)
        found: set[tuple[int, ...]] = set()
        for k in range(len(at)):
            far = np.hypot(*(at - at[k]).T)
            far[k] = inf
            found |= {tuple(sorted((k + 1, int(n) + 1))) for n in np.flatnonzero(far <= far.min() * 1.01)}
        return sorted(found)
    there = set(stand)
    beside = [(n, n + 1) for n in stand if n % item.along and n + 1 in there]
    return [*beside, *((n, n + item.along) for n in stand if n + item.along in there)]


def _hardest(item: Joint, every: list[tuple[int, ...]]) -> list[tuple[int, ...]]:
    """Of many patterns those that come out hardest by the shares, and those at the ends and in the middle."""
    if isinstance(item, FastenerGroup):
        at = np.array(item.holes)
        middle = at.mean(axis=0)
        far = [max(hypot(*(at[n - 1] - middle)) for n in one) for one in every]
        return [every[k] for k in np.argsort(far)[::-1][: MOST_TRIED // 4]]
    tried = {every[len(every) // 2]: None}
    loads = (getattr(item, name, 0.0) for name in ("across", "moment"))
    if any(loads) or item.lift or item.rows > 1 or item.ends:
        tried |= {every[0]: None, every[-1]: None}
    elif not item.entry and not item.missing:
        return [*tried]  # equal shares, and the gap in the middle of the sheet
    window = 30
    middle_of = every[len(every) // 2 :][:window]
    some = every if len(every) <= 3 * window else [*every[:window], *middle_of, *every[-window:]]
    shares, standing = RowShares(item), np.array([_stations(item, one) for one in some])
    tried[some[int(shares.each(standing).max(axis=-1).argmax())]] = None
    if item.lift:
        tried[some[int(shares.lifts(standing).argmax())]] = None
    return [*tried]


def _stations(item: WeldRow, gone: Iterable[int]) -> list[float]:
    found = [float(some) for some in item.stations]
    for n in gone:
        found[(n - 1) % item.along] -= 1.0
    return found


# --- how likely -------------------------------------------------------------------------------------------


def chance(item: Joint, result: Result, rate: float) -> Chance:
    """Chance that the item falls short of what is asked of it when each weld is a dud at that rate, on its own."""
    stand = _standing(item)
    n = len(stand)
    if result.status != "ok":
        return Chance(rate, 1.0, 1.0, 1.0, True)
    if rate == 0.0:
        return Chance(rate, 0.0, 0.0, 0.0, True)

    def short(gone: Iterable[int]) -> bool:
        numbers = tuple(gone)
        if len(numbers) == n:
            return True
        try:
            changed = without(item, numbers).under(one.standing for one in result.loads)
            return bool(check(changed).status != "ok")
        except InputError:
            return True

    if n <= FEW:
        over = _every_pattern(stand, rate, short)
        return Chance(rate, over, over, over, True)
    if isinstance(item, WeldRow) and n <= STEPPED and _only_gaps(item):
        over = _by_gaps(n, rate, short)
        return Chance(rate, over, over, over, True)
    return _drawn(item, stand, rate, short)


def _only_gaps(item: WeldRow) -> bool:
    """Whether it makes no difference which welds are bad, only how many and what gaps they leave: equal shares."""
    loads = [abs(float(getattr(item, name, 0.0) or 0.0)) for name in ("across", "moment", "cycles")]
    even = not item.entry or (item.entry == "along" and not breaks_first(item))
    return even and item.rows == 1 and not item.missing and not item.lift and not any(loads)


def _every_pattern(stand: list[int], rate: float, short: Callable[[Iterable[int]], bool]) -> float:
    """Sum over all patterns; what does not hold without some welds does not hold without more of them."""
    n = len(stand)
    fatal: list[frozenset[int]] = []
    over = 0.0
    for m in range(1, n + 1):
        for gone in combinations(stand, m):
            lost = frozenset(gone)
            dead = any(one <= lost for one in fatal)
            if not dead and short(gone):
                fatal.append(lost)
                dead = True
            over += rate**m * (1 - rate) ** (n - m) if dead else 0.0
    return over


def _by_gaps(n: int, rate: float, short: Callable[[Iterable[int]], bool]) -> float:
    """Sum over how many are missing and the widest gap they leave, of a row where nothing else counts.

    The least gap that is too wide only falls with their number, so that it is found step by step.
    """
    over, known = 0.0, n + 1
    narrow: dict[int, Array] = {}
    for m in range(1, n + 1):
        of_m = exp(lgamma(n + 1) - lgamma(m + 1) - lgamma(n - m + 1) + m * log(rate) + (n - m) * log(1 - rate))
        most = 1 if m == n else 2 if m == n - 1 else m + 2  # a gap that m cannot leave
        wide = min(known, most)
        while wide > 1 and short(_gapped(m, wide - 1)):
            wide -= 1
        known = wide if wide < most else known
        if wide not in narrow:
            narrow[wide] = _narrower(n, rate, wide)
        over += of_m - float(narrow[wide][m])
        if wide == 1 and of_m < NOTHING and m > rate * n:
            break
    return min(1.0, max(0.0, over))


def _gapped(m: int, gap: int) -> list[int]:
    """A row without `m`, its widest gap so many pitches: those the gap does not take are gone from the first end."""
    first = m - (gap - 1)
    return [*range(1, first + 1), *range(first + 2, first + gap + 1)]


def _narrower(n: int, rate: float, gap: int) -> Array:
    """Chance that `m` of `n` are missing and no two standing neighbours are `gap` pitches apart or more, (n + 1,)."""
    found = np.zeros(n + 1)
    if gap <= 1:
        return found
    lead, last = np.zeros(n + 1), np.zeros(n + 1)
    run = np.zeros((gap - 1, n + 1))  # missing since the last that stands
    lead[0] = 1.0

    def one_more(of: Array) -> Array:
        return np.concatenate(([0.0], rate * of[:-1]))

    for _ in range(n):
        stood = (1 - rate) * (lead + run.sum(axis=0))
        last = one_more(last) + one_more(run[-1])
        run = np.stack([stood, *(one_more(run[k]) for k in range(gap - 2))])
        lead = one_more(lead)
    return np.asarray(lead + run.sum(axis=0) + last)


def _drawn(item: Joint, stand: list[int], rate: float, short: Callable[[Iterable[int]], bool]) -> Chance:
    """By patterns drawn at random, each judged in full or known by a harder or an easier one."""
    dice = np.random.default_rng(SEED)
    n = len(stand)
    bad = dice.random((min(DRAWN, max(200, ROOM // n)), n)) < rate
    numbers = np.array(stand)
    alike, back = np.unique(bad, axis=0, return_inverse=True)
    back = back.reshape(-1)
    hard = _demands(item, numbers, alike)
    verdict = np.full(len(alike), -1)
    verdict[alike.sum(axis=1) == 0] = 0
    verdict[alike.all(axis=1)] = 1
    order = np.argsort(hard.sum(axis=1))
    for _ in range(ASKED):
        open_ = order[verdict[order] < 0]
        if not len(open_):
            break
        k = int(open_[len(open_) // 2])
        over = short(numbers[alike[k]].tolist())
        verdict[k] = int(over)
        known = (hard >= hard[k]).all(axis=1) if over else (hard <= hard[k]).all(axis=1)
        verdict[known & (verdict < 0)] = int(over)
    verdict[verdict < 0] = 1
    hits, draws = int(verdict[back].sum()), len(bad)
    return Chance(rate, hits / draws, *wilson(hits, draws), exact=False)


def _demands(item: Joint, numbers: Any, bad: Any) -> Array:
    """What makes a pattern hard, one column each over its mean: what is no harder in any column holds too."""
    columns = [np.asarray(bad.sum(axis=1), dtype=np.float64)]
    if isinstance(item, FastenerGroup):
        # of a group only more of the same fasteners gone is surely harder
        columns = [np.asarray(bad[:, k], dtype=np.float64) for k in range(bad.shape[1])]
        return np.stack(columns, axis=1)
    gone = np.zeros((len(bad), item.welds), dtype=bool)
    gone[:, numbers - 1] = bad
    gone[:, [n - 1 for n in item.missing]] = True
    at_rows = ~gone.reshape(len(bad), item.rows, item.along)
    standing = at_rows.sum(axis=1).astype(np.float64)
    standing[standing.sum(axis=1) == 0] = 1.0
    shares = RowShares(item)
    if getattr(item, "shear", 0.0) and item.along > 1:
        columns.append(np.asarray(shares.each(standing).max(axis=1)))
    if item.lift:
        columns.append(shares.lifts(standing))
    columns.append(np.array([_widest(row) for row in standing]))
    if getattr(item, "across", 0.0) or getattr(item, "moment", 0.0) or item.rows > 1:
        columns += _turnings(item, at_rows)
    table = np.stack(columns, axis=1)
    # equal shares are equal up to rounding
    return np.asarray(np.round(table / np.maximum(table.mean(axis=0), 1e-12), 9))


def _widest(standing: Array) -> float:
    at = np.flatnonzero(standing > 0)
    return float(np.diff(at).max()) if len(at) > 1 else 1.0


def _turnings(item: WeldRow, standing: Any) -> Iterator[Array]:
    """What turns the welds that stand: how far their middle has moved, and the stiffness they have lost."""
    x = (np.arange(item.along) - (item.along - 1) / 2) * item.actual_pitch
    y = (np.arange(item.rows) - (item.rows - 1) / 2) * (item.row_spacing or 0.0)
    many = np.maximum(standing.sum(axis=(1, 2)), 1)
    mean_x = (standing * x).sum(axis=(1, 2)) / many
    mean_y = (standing * y[:, None]).sum(axis=(1, 2)) / many
    from_x, from_y = x - mean_x[:, None, None], y[:, None] - mean_y[:, None, None]
    squares = (standing * (from_x**2 + from_y**2)).sum(axis=(1, 2))
    per = 1.0 / np.maximum(squares, 1e-9)
    off_x = (~standing * np.abs(x)).sum(axis=(1, 2)) / many
    off_y = (~standing * np.abs(y)[:, None]).sum(axis=(1, 2)) / many
    far_x = (standing * np.abs(from_x)).max(axis=(1, 2))
    far_y = (standing * np.abs(from_y)).max(axis=(1, 2))
    for far in (far_x, far_y):
        for shift in (np.ones_like(mean_x), off_x, off_y):
            if far.any() and shift.any():
                yield np.asarray(shift * far * per)
