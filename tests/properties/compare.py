"""What properties ask of two results: that they are the same, or that one is no weaker."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from jointcalc.result import Amount, Check, Result

REL = 1e-9
PLACES = ("peak_at", "peak_at_x", "peak_at_y", "peak_line", "peak_fastener", "deflection_at")
"""Values that say where, not how much: of two equal peaks either may be named."""


def close(a: float | None, b: float | None, scale: float = 0.0, rel: float = REL) -> bool:
    """Equal to `rel`, of the larger of the two or of `scale`."""
    if a is None or b is None:
        return a is b
    return abs(a - b) <= rel * max(abs(a), abs(b), scale)


def applies(check: Check) -> bool:
    """Whether the method judged."""
    return check.status in ("ok", "over")


def by_key(result: Result) -> dict[str, Check]:
    """The checks by key; a key stands once in a result."""
    found = {c.key: c for c in result.checks}
    assert len(found) == len(result.checks), [c.key for c in result.checks]
    return found


def same(one: Result, two: Result, *, tie: bool = False, skip: Iterable[str] = (), rel: float = REL) -> None:
    """Both results say the same of the same thing.

    `tie` says that two places of a group are used alike: then either may be named, and with it its length, so that
    capacity and demand are those of one weld or of the other, and only their ratio is the same.
    """
    assert one.status == two.status
    left, right = by_key(one), by_key(two)
    assert list(left) == list(right)
    for key, a in left.items():
        b = right[key]
        assert a.status == b.status, (key, a.note, b.note)
        for what in ("safety_factor", "required_factor", "utilisation"):
            assert close(getattr(a, what), getattr(b, what), 1e-12, rel), (
                key,
                what,
                getattr(a, what),
                getattr(b, what),
            )
        for what in ("capacity", "demand"):
            x, y = getattr(a, what), getattr(b, what)
            assert (x is None) == (y is None), (key, what)
            if x is not None:
                assert x.unit == y.unit
                assert tie or close(x.value, y.value, 1e-12, rel), (key, what, x, y)
    assert left.get(one.governing or "", None) is None or close(
        left[one.governing or ""].utilisation, right[two.governing or ""].utilisation, 0.0, rel
    ), (one.governing, two.governing)
    same_values(one.values, two.values, skip=(*skip, *(PLACES if tie else ())), rel=rel)
    assert [c.code for c in one.cautions] == [c.code for c in two.cautions]


def same_values(
    one: Mapping[str, Amount], two: Mapping[str, Amount], *, skip: Iterable[str] = (), rel: float = REL
) -> None:
    """Every value the same, to `rel` of the largest value of that unit (a length of nought has no size of its own)."""
    assert list(one) == list(two)
    largest: dict[str, float] = {}
    for amount in one.values():
        largest[amount.unit] = max(largest.get(amount.unit, 0.0), abs(amount.value or 0.0))
    area = one["area"].value or 0.0 if "area" in one else 0.0
    largest["mm^6"] = max(largest.get("mm^6", 0.0), area**3)  # a tube does not warp: what is left is rounding
    for name, a in one.items():
        if name in skip:
            continue
        b = two[name]
        assert a.unit == b.unit
        assert close(a.value, b.value, 1e-3 * largest[a.unit], rel), (name, a, b)


COUNT: dict[str, int] = {}

EDGE = "at the edge of its range"
"""What `Method.at_most` says of a bound."""


def no_weaker(
    before: Result, after: Result, *, but: Iterable[str] = (), by_factor: Iterable[str] = (), slack: float = 0.0
) -> None:
    """No method that judges both times is used more `after` than `before`.

    `but` are keys (or their beginnings) theory excepts; `by_factor` those whose required factor steps, so that only the
    nominal safety factor is held.  Detailing rules ask for room and not for strength, so they are left out.  Sums of
    other utilisations are held only where the same methods went into both.
    """
    from jointcalc.result import DETAILING

    left, right = by_key(before), by_key(after)
    alike = {k for k, c in left.items() if applies(c)} == {k for k, c in right.items() if applies(c)}
    skipped, stepped = tuple(but), tuple(by_factor)
    for key, a in left.items():
        b = right.get(key)
        if b is None or not applies(a) or not applies(b) or a.method.basis == DETAILING:
            continue
        if EDGE in a.note and EDGE in b.note:
            continue  # bounds from above, each at its own edge: no strengths to compare
        if key.startswith(skipped) or (key.startswith("interaction.") and not alike):
            continue
        if key.startswith(stepped):
            if a.safety_factor is not None and b.safety_factor is not None:
                assert b.safety_factor >= a.safety_factor * (1 - REL - slack), (key, a.safety_factor, b.safety_factor)
            continue
        if a.utilisation is None or b.utilisation is None:
            continue
        COUNT[key] = COUNT.get(key, 0) + (a.utilisation > 0)
        assert b.utilisation <= a.utilisation * (1 + REL + slack) + 1e-15, (
            key,
            a.utilisation,
            b.utilisation,
            a.note,
            b.note,
        )
