"""The line of a file that a fault is about: that of its key where the key is written, not the head of its table."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from typing import Any

from jointcalc.errors import InputError
from jointcalc.quantity.letters import spelt

_PLACE = re.compile(r"(?P<file>.*):(?P<line>[0-9]+)(?P<table>: \[.*)?", re.DOTALL)
_HEAD = re.compile(r"\s*\[{1,2}\s*[\w.\"' -]+\]{1,2}\s*(?:#.*)?")


MOST = 200
"""Faults whose line is looked for: nobody mends more in one round, and each costs a walk through its table."""


def at_keys(faults: Iterable[InputError], text: str) -> list[InputError]:
    """The faults, each with the line of its own key in the text of the file; one without a key there stays.

    Of very many faults those after the first keep the line of their table.
    """
    lines = text.splitlines()
    return [_at_key(fault, lines) if n < MOST else fault for n, fault in enumerate(faults)]


def _at_key(fault: InputError, lines: Sequence[str]) -> InputError:
    place = _PLACE.fullmatch(fault.where)
    if place is None:
        return fault
    line = _line(_keys(fault), lines, int(place["line"]))
    where = f"{place['file']}:{line}{place['table'] or ''}"
    return type(fault)(fault.message, field=fault.field, where=where) if type(fault) is InputError else fault


def _keys(fault: InputError) -> list[str]:
    """The keys that lead to the fault, the outermost first; a validator names its key before a colon."""
    keys = fault.field.split(".") if fault.field else []
    word, colon, _ = fault.message.partition(": ")
    return [*keys, word] if colon and word.isidentifier() else keys


def _line(keys: Sequence[str], lines: Sequence[str], head: int) -> int:
    """Line of the innermost key that is found below the head of its table (both counted from 1)."""
    found = start = head
    for n, key in enumerate(keys):
        if key.isdigit():
            continue
        word = re.escape(key)
        nth = int(keys[n + 1]) if n + 1 < len(keys) and keys[n + 1].isdigit() else 0
        inner = re.compile(rf"\s*\[{{1,2}}\s*[\w.\"' -]+\.\s*[\"']?{word}[\"']?\s*\]{{1,2}}\s*(?:#.*)?")
        value = re.compile(rf"\s*[\"']?{word}[\"']?\s*=|.*[{{,]\s*{word}\s*=")
        own = True
        for at in range(start, len(lines)):
            text = lines[at]
            if _HEAD.fullmatch(text):
                own = False
                if not inner.fullmatch(text):
                    if "." not in text.split("#")[0]:  # the next table of its own
                        break
                    continue
                if nth == 0:
                    found = start = at + 1
                    break
                nth -= 1
            elif own and value.match(text):
                found, start = at + 1, at  # a table written in one line has its keys there
                break
    return found


@lru_cache(maxsize=64)
def _line_numbers(text: str, pattern: str) -> tuple[int, ...]:
    """Line numbers of all matches, in order; one walk through the text for all of them."""
    numbers, line, at = [], 1, 0
    for match in re.finditer(pattern, text, re.MULTILINE):
        line += text.count("\n", at, match.start())
        at = match.start()
        numbers.append(line)
    return tuple(numbers)


def line_of(where: str, text: str, pattern: str, nth: int = 0) -> str:
    """`file:line` of the nth match, or the file alone."""
    numbers = _line_numbers(text, pattern)
    return f"{where}:{numbers[nth]}" if nth < len(numbers) else where


def place_of(where: str, text: str, kind: str, n: int, entry: Mapping[str, Any]) -> str:
    """`file:line: [[kind]] id` of the nth entry of a kind."""
    line = line_of(where, text, rf"^[ \t]*\[\[\s*{kind}\s*\]\]", n)
    name = entry.get("id")
    return f"{line}: [[{kind}]]" + (f" {spelt(name[:60])}" if isinstance(name, str) else "")
