"""Fenced blocks of a page, in order, and what a comment before them asks for."""

from __future__ import annotations

import contextlib
import io
import os
import re
import shlex
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from unittest.mock import patch

ROOT = Path(__file__).resolve().parents[2]
FENCE = re.compile(r"^```(?P<kind>\w*)\n(?P<body>.*?)^```$", re.MULTILINE | re.DOTALL)
ASKS = re.compile(r"<!-- (?P<what>exit [0-9]+|file: \S+|not run: [^>]+?) -->\s*\Z")


@dataclass(frozen=True)
class Block:
    """One fenced block: its language, its text, the line it starts at, and the comment before it."""

    kind: str
    body: str
    line: int
    asks: str


def blocks(page: Path) -> Iterator[Block]:
    """The blocks of a page."""
    text = page.read_text(encoding="utf-8")
    for match in FENCE.finditer(text):
        asked = ASKS.search(text[: match.start()])
        yield Block(
            match["kind"], match["body"], text.count("\n", 0, match.start()) + 1, asked["what"] if asked else ""
        )


def commands(body: str) -> list[str]:
    """The command lines of a block: continued lines joined, comments and empty lines left out."""
    joined = body.replace("\\\n", " ")
    lines = [line.strip() for line in joined.splitlines() if line.strip() and not line.lstrip().startswith("#")]
    return [part.strip() for line in lines for part in line.split("&&")]


def run_line(line: str) -> tuple[int, str, str]:
    """(exit code, stdout, stderr) of one `jointcalc ...` line, in this process; `> FILE` is honoured."""
    from jointcalc.cli.main import _run

    words = shlex.split(line)
    assert words[0] == "jointcalc", f"not a jointcalc command: {line}"
    target = None
    if ">" in words:
        where = words.index(">")
        target = Path(words[where + 1])
        words = words[:where]
    out, err = io.StringIO(), io.StringIO()
    with patch.dict(os.environ, {"COLUMNS": "80"}), contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        try:
            code = _run(words[1:])
        except SystemExit as stop:
            code = int(stop.code or 0)
    if target is not None:
        target.write_text(out.getvalue(), encoding="utf-8")
        return code, "", err.getvalue()
    return code, out.getvalue(), err.getvalue()


def missing_line(shown: str, real: str) -> str | None:
    """The first shown line that the real output does not have at its place; `...` stands for any lines."""
    have = [line.rstrip() for line in real.splitlines()]
    at, anywhere = 0, True
    for line in (text.rstrip() for text in shown.splitlines()):
        if line.strip() == "...":
            anywhere = True
            continue
        if anywhere:
            if line not in have[at:]:
                return line
            at = have.index(line, at) + 1
        elif at >= len(have) or have[at] != line:
            return line
        else:
            at += 1
        anywhere = False
    return None
