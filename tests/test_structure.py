"""The package as a place to find things in: what a newcomer looks for stands in a module he can read at a sitting."""

from __future__ import annotations

import ast
from pathlib import Path

import jointcalc

PACKAGE = Path(jointcalc.__file__).parent
MODULES = {path.relative_to(PACKAGE).as_posix(): path for path in sorted(PACKAGE.rglob("*.py"))}

MOST_LINES = 500


def test_no_module_is_longer_than_a_reader_takes_in() -> None:
    """A longer module holds several clauses or views: each gets a module whose name says it."""
    long = {name: len(path.read_text(encoding="utf-8").splitlines()) for name, path in MODULES.items()}
    over = {name: lines for name, lines in long.items() if lines > MOST_LINES}
    assert not over, f"over {MOST_LINES} lines, cut along clauses or views: {over}"


def test_every_module_says_what_it_holds() -> None:
    """A docstring whose first line is a sentence of its own; the file that marks a folder may be empty."""
    silent = [
        name
        for name, path in MODULES.items()
        if (text := path.read_text(encoding="utf-8")).strip()
        and not (ast.get_docstring(ast.parse(text)) or "").split("\n")[0].strip()
    ]
    assert not silent, f"no docstring in {', '.join(silent)}"
