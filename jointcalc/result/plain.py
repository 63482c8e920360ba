"""What gives way, in the words of the shop: `sheet tears out round the spots` for `en1993-1-3.tearing`.

The words live in `tables/shop_words.toml`, one for every method that can govern.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from functools import lru_cache

from jointcalc.result.checks import Check, Method
from jointcalc.tables.store import FOLDER


@lru_cache(maxsize=1)
def _read() -> Mapping[str, Mapping[str, str]]:
    return tomllib.loads((FOLDER / "shop_words.toml").read_text(encoding="utf-8"))


def shop_words() -> Mapping[str, str]:
    """Method key -> words of the shop, of every method that can govern."""
    return _read()["words"]


def meanings(text: str) -> Mapping[str, str]:
    """Word of the books -> what it means in the shop, of those that stand in the text, in the order of the file."""
    return {word: told for word, told in _read()["meanings"].items() if re.search(rf"\b{word}\b", text, re.IGNORECASE)}


def can_govern(method: Method) -> bool:
    """Whether a method judges anything: what is advice or information asks for no factor and governs nothing."""
    return method.bound != "information" and not str(method.factor).startswith("none")


def plain(check: Check) -> str:
    """What gives way by this check; its title where it has no words of the shop (information, advice)."""
    return shop_words().get(check.method.key) or str(check.title)
