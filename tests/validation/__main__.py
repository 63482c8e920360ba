"""Writes docs/validation.md; with `--prove`, disturbs every formula of the register and runs its test instead."""

from __future__ import annotations

import sys

from .derived import REGISTER
from .document import PLACE, text
from .prove import noticed


def prove() -> int:
    """How many formulas of the register their test does not notice; each is named."""
    blind = 0
    for entry in REGISTER:
        for key in entry.formulas.split():
            if not noticed(key, [entry.test]):
                print(f"{entry.test} does not notice a wrong {key}")
                blind += 1
    print(f"{sum(len(e.formulas.split()) for e in REGISTER)} formulas of the register tried, {blind} not noticed")
    return blind


if __name__ == "__main__":
    if "--prove" in sys.argv:
        raise SystemExit(1 if prove() else 0)
    PLACE.write_text(text(), encoding="utf-8", newline="\n")
    print(f"{PLACE} written")
