"""Mutations of valid input, each labelled with whether the result is nonsense for certain."""

from __future__ import annotations

import random
import re
from collections.abc import Sequence
from dataclasses import dataclass

GARBAGE = (
    "", " ", "mm", "1,2 mm", "1.2", "nan mm", "inf N", "-3 mm", "1e400 mm", "1.2 parsec", "12 MM", "0x10 mm", "1..2 mm",
    "--1 mm", "1/0 in", "٣ mm", "1.2 mm; rm -rf", "§±!", "💥", "1e9 m", "0 mm", "1.2 mm 1.2 mm", "True", "None", "[]", "{}",
)  # fmt: skip
"""Texts that are no size, force or grade of anything; as the value of a quantity they must be refused."""

VALUES = (
    "0.05 mm", "1e-9 mm", "30 mm", "19 m", "3 ga", "30 ga", "1/64 in", "1e6 N", "0 N", "-5 kN", "1e5 kN", "1 Pa", "1e3 GPa",
    "0 deg", "1 h", "DC06", "6061-T6", "304 annealed", "A1008 CS Type B", "minimum", "target", "x" * 400, "α β γ", "\\u0000",
)  # fmt: skip
"""Texts that may or may not be accepted, depending on where they stand."""

RAW = (
    "1", "-1", "0", "1e308", "nan", "inf", "true", "false", "[]", "[1, 2]", '["a", ["b"]]', "{}", '{a = 1}', "1979-05-27",
    "07:32:00", '"""\nlong\n"""', "0xff", "9" * 400,
)  # fmt: skip
"""TOML values of other types."""

QUANTITY = re.compile(r'= "(?P<value>-?[0-9][^"]* (?:mm|N|kN|MPa|kPa|in|lbf|kg|g|N/mm|N\*mm/rad))"')


@dataclass(frozen=True)
class Mutant:
    """A mutated input and what is known about it."""

    text: str
    nonsense: bool
    how: str


def mutate_project(text: str, rng: random.Random) -> Mutant:
    """One to three mutations of a valid project file."""
    lines = text.splitlines()
    nonsense = False
    told = []
    for _ in range(rng.choice((1, 1, 1, 2, 3))):
        if nonsense:
            break  # a later mutation could take the nonsense out again
        kind = rng.choice(
            ("drop", "double", "garbage", "garbage", "value", "raw", "key", "swap", "cut", "bytes", "table")
        )
        keys = [i for i, line in enumerate(lines) if re.match(r"\s*\w+ *=", line)]
        if not keys or not lines:
            break
        i = rng.choice(keys)
        told.append(f"{kind}@{i + 1}")
        if kind == "drop":
            del lines[i]
        elif kind == "double":
            lines.insert(i, lines[i])  # TOML forbids a key twice
            nonsense = True
        elif kind == "garbage":
            quantities = [j for j in keys if QUANTITY.search(lines[j])]
            if quantities:
                j = rng.choice(quantities)
                word = rng.choice(GARBAGE)
                # an empty load or a zero one is none: only sizes are refused for being zero or negative
                size = re.match(r"\s*(thickness|pitch|length|edge|weld_diameter|span|leg)\s*=", lines[j])
                signed = word in ("-3 mm", "0 mm")
                lines[j] = QUANTITY.sub(lambda m: '= "' + word + '"', lines[j])  # noqa: B023 - used at once
                moved = any(t.startswith("swap") for t in told)  # a swap may have put the size into a title
                nonsense = (bool(size) or not signed) and not moved
        elif kind == "value":
            lines[i] = re.sub(r"=.*", lambda m: '= "' + rng.choice(VALUES) + '"', lines[i], count=1)
        elif kind == "raw":
            lines[i] = re.sub(r"=.*", lambda m: "= " + rng.choice(RAW), lines[i], count=1)
        elif kind == "key":
            name = lines[i].split("=")[0].strip()
            lines[i] = lines[i].replace(name, name[:-1] + rng.choice("xyzq") + "_q", 1)
            nonsense = True
        elif kind == "swap":
            j = rng.choice(keys)
            left, right = lines[i].split("=", 1), lines[j].split("=", 1)
            lines[i], lines[j] = f"{left[0]}={right[1]}", f"{right[0]}={left[1]}"
        elif kind == "cut":
            del lines[rng.randrange(len(lines)) :]
        elif kind == "bytes":
            at = rng.randrange(len(lines[i]) + 1)
            lines[i] = (
                lines[i][:at] + chr(rng.choice((0, 7, 34, 39, 92, 91, 93, 0x202E, 0xFFFD, 0x1F4A5))) + lines[i][at:]
            )
        elif kind == "table":
            lines.insert(
                i, rng.choice(("[[seams]]", "[sheet]", "[[brace]]", "[project]", "[[seam]]", "[x.y.z]", "[[", "]]"))
            )
    return Mutant(
        "\n".join(lines), nonsense and "bytes" not in " ".join(told) and "cut" not in " ".join(told), ",".join(told)
    )


def mutate_command(words: Sequence[str], rng: random.Random) -> tuple[list[str], bool, str]:
    """One or two mutations of a valid command line: (words, nonsense for certain, how)."""
    out = list(words)
    nonsense = False
    told = []
    for _ in range(rng.choice((1, 1, 2))):
        if nonsense:
            break
        options = [i for i, w in enumerate(out[1:], 1) if w.startswith("--") and i + 1 < len(out)]
        if not options:
            break
        i = rng.choice(options)
        kind = rng.choice(("drop", "garbage", "garbage", "value", "option", "double", "last", "swap"))
        told.append(f"{kind}:{out[i]}")
        if kind == "drop":
            del out[i : i + 2]
        elif kind == "garbage":
            word = rng.choice(GARBAGE)
            sized = out[i] in (
                "--sheet",
                "--weld-diameter",
                "--pitch",
                "--length",
                "--edge",
                "--leg",
                "--span",
                "--hole",
            )
            out[i + 1] = word
            nonsense = nonsense or (sized and out[i] != "--hole")
            break  # a later mutation could take the nonsense out again
        elif kind == "value":
            out[i + 1] = rng.choice(VALUES)
        elif kind == "option":
            out[i] = out[i] + rng.choice(("x", "-", "s s", "=", "\u200b"))
        elif kind == "double":
            nonsense = nonsense or out[i] in ("--length", "--edge", "--pitch", "--weld-diameter", "--ends", "--leg")
            out[i:i] = out[i : i + 2]
        elif kind == "last":
            out = out[: i + 1]
        elif kind == "swap":
            j = rng.choice(options)
            out[i + 1], out[j + 1] = out[j + 1], out[i + 1]
    return out, nonsense, ",".join(told)
