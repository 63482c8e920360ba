"""Reads a printed formula back: an evaluator of the one-line text that shares nothing with what printed it.

Grammar, loosest first: sums, products (`·` and `/`, left to right), minus, powers (`^`, right to left),
then numbers, names, `√`, `|x|`, `min(a; b)` and `(a if c, else b)`.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

import numpy as np

TOKEN = re.compile(
    r"\s*(?:(?P<number>\d+(?:\.\d+)?(?:e[+-]?\d+)?)|(?P<else>,\s*else\b)|(?P<name>[^\W\d]\w*(?:,\w+)*)|(?P<sign>[-+·/^√|();<>≤≥=]))"
)
CALLS = {
    "min": np.minimum, "max": np.maximum, "exp": np.exp, "ln": np.log, "log10": np.log10, "sin": np.sin, "cos": np.cos,
    "tan": np.tan, "arctan": np.arctan, "hypot": np.hypot,
}  # fmt: skip
COMPARE = {"<": np.less, ">": np.greater, "≤": np.less_equal, "≥": np.greater_equal, "=": np.equal}


def tokens(text: str) -> list[tuple[str, str]]:
    found, at = [], 0
    text = text.rstrip()
    while at < len(text):
        match = TOKEN.match(text, at)
        if not match:
            raise ValueError(f"cannot read {text[at : at + 20]!r} in {text!r}")
        kind = match.lastgroup or ""
        found.append((kind, match[kind].strip()))
        at = match.end()
    return found


class _Reader:
    def __init__(self, text: str, names: Mapping[str, Any]) -> None:
        self.text, self.names = text, names
        self.rest = tokens(text)[::-1]

    def peek(self) -> tuple[str, str]:
        return self.rest[-1] if self.rest else ("", "")

    def take(self, *expected: str) -> str:
        kind, word = self.peek()
        if expected and word not in expected and kind not in expected:
            raise ValueError(f"expected {expected}, found {word!r} in {self.text!r}")
        self.rest.pop()
        return word

    def comparison(self) -> Any:
        left = self.sum()
        if self.peek()[1] in COMPARE:
            return COMPARE[self.take()](left, self.sum())
        return left

    def sum(self) -> Any:
        value = self.product()
        while self.peek() in (("sign", "+"), ("sign", "-")):
            value = value + self.product() if self.take() == "+" else value - self.product()
        return value

    def product(self) -> Any:
        value = self.minus()
        while self.peek() in (("sign", "·"), ("sign", "/")):
            value = value * self.minus() if self.take() == "·" else value / self.minus()
        return value

    def minus(self) -> Any:
        if self.peek() == ("sign", "-"):
            self.take()
            return -self.minus()
        return self.power()

    def power(self) -> Any:
        base = self.atom()
        if self.peek() == ("sign", "^"):
            self.take()
            # a negative exponent may stand bare in a power of ten
            return base ** (-self.power() if self.peek()[1] == "-" and self.take() else self.power())
        return base

    def atom(self) -> Any:
        kind, word = self.peek()
        if kind == "number":
            self.take()
            return np.float64(word)
        if word == "√":
            self.take()
            return np.sqrt(self.atom())
        if word == "|":
            self.take()
            value = self.sum()
            self.take("|")
            return np.abs(value)
        if word == "(":
            self.take()
            value = self.comparison()
            if self.peek()[1] == "if":
                self.take()
                condition = self.comparison()
                self.take("else")
                value = np.where(condition, value, self.sum())
            self.take(")")
            return value
        if kind == "name":
            self.take()
            if word in CALLS and self.peek()[1] == "(":
                self.take()
                values = [self.sum()]
                while self.peek()[1] == ";":
                    self.take()
                    values.append(self.sum())
                self.take(")")
                return CALLS[word](*values)
            return np.pi if word == "π" else self.names[word]
        raise ValueError(f"{word!r} is not expected in {self.text!r}")


def read_back(text: str, names: Mapping[str, Any]) -> Any:
    """The value of a printed expression; `names` are the printed names."""
    reader = _Reader(text, names)
    value = reader.comparison()
    if reader.rest:
        raise ValueError(f"{reader.peek()[1]!r} is left over in {text!r}")
    return value
