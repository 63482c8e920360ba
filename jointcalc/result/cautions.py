"""Cautions: data with a condition, shown in every output.

The texts live in `tables/cautions.toml`; here they are found by code.  A check says which codes its
condition raises; the two that always apply are added to every result.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from jointcalc.quantity.sentence import Measure, Sentence
from jointcalc.tables.store import FOLDER

Severity = Literal["stop", "warn", "note"]
_ORDER = {"stop": 0, "warn": 1, "note": 2}


@dataclass(frozen=True, slots=True)
class Caution:
    """Something the reader must know before he trusts or uses a result."""

    code: str
    severity: Severity
    text: str
    source: str = ""
    short: str = ""
    """Its subject in a few words, for a list that counts cautions; no part of the contract's shape."""
    told: bool = False
    """Whether it answers what was asked of this very item, and is told where others are counted."""

    @property
    def stands(self) -> bool:
        """Whether it is printed in full wherever others are counted: what stops the work, and what was asked for."""
        return self.told or self.severity == "stop"

    def __post_init__(self) -> None:
        object.__setattr__(self, "text", Sentence(self.text))

    def json(self) -> dict[str, str]:
        """The contract's shape."""
        return {"code": self.code, "severity": self.severity, "text": self.text}


_SIZE = re.compile(r"\{(?P<value>[0-9.]+) (?P<unit>[^{}]+)\}")
"""A size in a text of `cautions.toml`, such as `{10 mm}`: a measure, printed in the reader's unit."""


@lru_cache(maxsize=1)
def all_cautions() -> dict[str, Caution]:
    """Every caution by code."""
    data = tomllib.loads((FOLDER / "cautions.toml").read_text(encoding="utf-8"))

    def measured(text: str) -> str:
        return _SIZE.sub(lambda size: f"{Measure(float(size['value']), unit=size['unit'])}", text)

    return {
        code: Caution(
            code,
            entry["severity"],
            measured(entry["text"]),
            entry.get("source", ""),
            entry.get("short") or entry["text"].partition(":")[0],
            entry.get("told", False),
        )
        for code, entry in data["caution"].items()
    }


def caution(code: str, **words: object) -> Caution:
    """The caution of that code, its `{placeholders}` filled in with words or measures."""
    found = all_cautions()[code]
    return (
        Caution(code, found.severity, f"{found.text}".format(**words), found.source, found.short, found.told)
        if words
        else found
    )


def collect(raised: Iterable[Caution | str]) -> tuple[Caution, ...]:
    """The raised cautions with those that always apply, no code and text twice, gravest first."""
    found: dict[tuple[str, str], Caution] = {}
    for item in (*raised, "engineer-decides", "sound-welds"):
        entry = caution(item) if isinstance(item, str) else item
        found.setdefault((entry.code, entry.text), entry)
    return tuple(sorted(found.values(), key=lambda c: _ORDER[c.severity]))
