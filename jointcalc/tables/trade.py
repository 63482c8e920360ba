"""Names of the trade that are no grade, process or filler: what they may mean, told where one is refused."""

from __future__ import annotations

import re
from collections.abc import Iterable

from jointcalc.errors import InputError, nearest
from jointcalc.tables.store import Row, load

MOST_NAMED = 6
"""Names that a hint lists; more are counted."""


def _key(text: str) -> str:
    return re.sub(r"[\s_-]+", "", text.lower())


def trade_hint(of: str, word: str) -> str:
    """What a name of the trade may mean where a `grade`, `process` or `filler` is asked for; empty for any other."""
    wanted = _key(word)
    rows = [row for row in load("trade_names").rows if row["of"] == of]
    for row in rows:
        if any(_key(name) == wanted for name in row["names"].split(";")):
            return str(row["says"])
    words = f" {' '.join(re.split(r'[^a-z0-9.&/]+', word.lower()))} "
    for row in rows:  # `mild steel sheet`: a name of two words and more stands in it whole
        if any(" " in name and f" {name} " in words for name in row["names"].split(";")):
            return str(row["says"])
    return ""


def hint(of: str, word: str, known: Iterable[str], *, table: str = "") -> str:
    """What to say behind `'WORD' is not known`: what the trade means by it, those that begin so, or the nearest one."""
    if says := trade_hint(of, word):
        return f": {says}"
    names = list(dict.fromkeys(known))
    wanted = _key(word)
    begin = [name for name in names if len(wanted) > 2 and _key(name).startswith(wanted)]
    if len(begin) > 1:
        more = f" and {len(begin) - MOST_NAMED} more" if len(begin) > MOST_NAMED else ""
        told = f', `jointcalc tables show {table} --only "{word}"` shows them' if more and table else ""
        return f"; several begin so: {', '.join(begin[:MOST_NAMED])}{more}{told}"
    return nearest(word, names)


def filler_row(name: str) -> Row:
    """The filler's row by classification or alias; InputError with the nearest name."""
    known: dict[str, Row] = {}
    for row in load("filler_metals").rows:
        for word in (row["classification"], *row["aliases"].split(";")):
            if word:
                known.setdefault("".join(word.lower().split()), row)
    found = known.get("".join(str(name).lower().split()))
    if found is None:
        names = [row["classification"] for row in load("filler_metals").rows]
        raise InputError(
            f"'{name}' is not a filler jointcalc knows{hint('filler', str(name), names)} "
            "(`jointcalc tables show filler_metals` lists them)",
            field="filler",
        )
    return found
