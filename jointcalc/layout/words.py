"""Sizes and tables in words, for paper and terminal."""

from __future__ import annotations

from collections.abc import Sequence
from math import floor

from jointcalc.marks import unmarked
from jointcalc.quantity.show import System

INCH = 25.4


def size(value: float, system: System = "metric") -> str:
    """A length [mm] as it is read off a rule: to 0.01 mm, or to 0.001 in."""
    text = f"{value / INCH:.3f}" if system == "inch" else f"{value:.2f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text in ("-0", "") else text


def unit(system: System) -> str:
    """The unit that `size` counts in."""
    return "in" if system == "inch" else "mm"


def sized(value: float, system: System = "metric") -> str:
    """A length with its unit."""
    return f"{size(value, system)} {unit(system)}"


def by_32nds(value: float) -> str:
    """A length [mm] to the nearest 1/32 in, as a tape shows it: `18-5/32`."""
    parts = floor(value / INCH * 32 + 0.5)
    whole, rest = divmod(parts, 32)
    if not rest:
        return str(whole)
    below = 32
    while rest % 2 == 0:
        rest, below = rest // 2, below // 2
    return f"{whole}-{rest}/{below}" if whole else f"{rest}/{below}"


def mass(value: float, system: System = "metric") -> str:
    """A mass [t] in kg or lb."""
    return f"{value * 1e3 / 0.45359237:.2f} lb" if system == "inch" else f"{value * 1e3:.2f} kg"


def plain(text: str) -> str:
    """One line of printable characters, whatever was typed."""
    return " ".join("".join(c if c.isprintable() else " " for c in unmarked(text)).split())


def table_lines(heads: Sequence[str], rows: Sequence[Sequence[str]], left: int = 1, most: int = 40) -> list[str]:
    """Lines of a table in lettering of one width; the first `left` columns stand to the left."""

    def cut(cell: str) -> str:
        return cell if len(cell) <= most else cell[: most - 1] + "…"

    cells = [[cut(plain(c)) for c in row] for row in (heads, *rows)]
    widths = [max(len(row[k]) for row in cells) for k in range(len(heads))]
    return [
        "  ".join(c.ljust(w) if k < left else c.rjust(w) for k, (c, w) in enumerate(zip(row, widths))).rstrip()
        for row in cells
    ]


def wrap(words: str, most: int) -> list[str]:
    """Lines of at most `most` letters; a longer word is cut."""
    lines: list[str] = []
    line = ""
    for word in plain(words).split(" "):
        rest = word
        while len(rest) > most:
            if line:
                lines.append(line)
                line = ""
            lines.append(rest[:most])
            rest = rest[most:]
        if line and len(line) + 1 + len(rest) > most:
            lines.append(line)
            line = rest
        else:
            line = f"{line} {rest}" if line else rest
    return [*lines, line] if line else lines or [""]
