"""Sets the dossier: content and drawings through the template into the bytes of a PDF.

Text a builder typed reaches the template as data (JSON), never as source.  The typesetter sees only the fonts it brings
along, one folder with the files handed to it, and the date of the project, so the same inputs give the same bytes.  The
PDF is tagged and follows PDF/UA-1 (ISO 14289-1): headings become bookmarks, drawings and formulas carry words, and the
typesetter refuses a file that breaks the rule.

A dossier of many items is set in parts of so many, each by a process of its own that ends with it, and the parts are
joined: set as a whole it takes some 7 MB of memory an item.  On which page anything stands is known when all parts are
laid out; a second round sets them with it, and in it only what names a page is laid out anew.
"""

from __future__ import annotations

import json
import math
import os
import subprocess
import sys
from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from importlib.resources import files
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from jointcalc.dossier import setter
from jointcalc.dossier.common import Data
from jointcalc.dossier.content import Files, Options, Tell, content_of
from jointcalc.dossier.joined import NotPlain, join
from jointcalc.dossier.setter import Setter
from jointcalc.model.project import Project
from jointcalc.result import Result

if TYPE_CHECKING:
    from jointcalc.explore.beside import Judged

FEW = 6
"""Items that are set in one part with their inputs and workings, in this process."""
PART = 12
"""Items of a part at most."""
ROUNDS = 6
"""Rounds after which pages still move by what is said of them: as good as never more than three are needed."""
AT_ONCE = 4
"""Processes at most, however many processors there are: each takes its memory."""

COMMON = ("paper", "date", "head", "summary_only", "units", "wide_ids", "steps")
KEYS = {
    "front": ("front", "since", "plan", "plan_page", "cases", "records"),
    "items": (),
    "materials": ("materials", "allowed"),
    "inputs": (),
    "shared": ("sections", "givers"),
    "working": (),
    "lists": ("cautions", "methods", "sources", "tables", "files"),
}
"""Sections of the dossier, in order, and what of the content each prints beside the items."""
OF_ITEM = {
    "inputs": ("heading", "typed_at", "inputs", "defaults", "assumptions", "values", "compared", "alternatives",
               "sensitivity", "figures"),
    "working": ("id", "heading", "working", "symbols", "symbols_again"),
}  # fmt: skip
"""What of an item the sections print that do not print the whole of it."""


def make_dossier(
    project: Project,
    results: list[Result],
    options: Options,
    tell: Tell | None = None,
    known: Mapping[str, Judged] | None = None,
) -> bytes:
    """The PDF.  `results` are those of the project's items, in order; `tell(what, done, of)` hears of progress.

    `known` holds, by id, what is known already of the items changed and beside their alternatives (`judge_each`).

    Raises InputError when the project's date cannot be read.
    """
    hear = tell or (lambda what, done, of: None)

    def made(most: float) -> bytes:
        with TemporaryDirectory(prefix="jointcalc-") as folder:
            place = Path(folder)
            content = content_of(project, results, options, Files(place), hear, known or {})
            many = _write_parts(place, parts_of(content, most))
            del content
            hear("typesetting", 0, 1)
            return _set(place, many)

    try:
        return made(PART)
    except NotPlain:  # another release of the typesetter may lay its files out otherwise
        return made(math.inf)


# --- parts ------------------------------------------------------------------------------------------


def parts_of(content: Data, most: float = PART) -> Iterator[Data]:
    """The content in parts of at most so many items: `prints` names the sections of each.

    `again` says that the first section of a part goes on from an earlier one.
    """
    items = content.get("items", [])
    worked = content["steps"] != "none" and not content["summary_only"]
    if len(items) <= (min(FEW, most) if worked else most) or math.isinf(most):
        yield _part(content, list(KEYS) if worked else ["front", "items", "lists"], items)
        return
    many = math.ceil(len(items) / most)
    size = math.ceil(len(items) / many)
    groups = [items[n : n + size] for n in range(0, len(items), size)]
    for n, group in enumerate(groups):
        end = [] if n < many - 1 else ["materials"] if worked else ["lists"]
        yield _part(content, (["front"] if n == 0 else []) + ["items"] + end, group)
    if not worked:
        return
    if many == 1:
        yield _part(content, ["inputs", "shared", "working", "lists"], items)
        return
    for n, group in enumerate(groups):
        yield _part(content, ["inputs"] + (["shared"] if n == many - 1 else []), group, again=n > 0)
    for n, group in enumerate(groups):
        yield _part(content, ["working"] + (["lists"] if n == many - 1 else []), group, again=n > 0)


def _part(content: Data, prints: Sequence[str], items: Sequence[Data], again: bool = False) -> Data:
    if "items" not in prints:
        kept = {key for section in prints for key in OF_ITEM.get(section, ())}
        items = [{key: item[key] for key in item if key in kept} for item in items]
    keys = [*COMMON, *(key for section in prints for key in KEYS[section])]
    return {"prints": prints, "again": again, "items": items} | {key: content[key] for key in keys if key in content}


def _write_parts(folder: Path, parts: Iterator[Data]) -> int:
    """Write what each part prints, and the template; how many parts there are."""
    (folder / "template.typ").write_bytes(template())
    many = 0
    for part in parts:
        text = json.dumps(part, ensure_ascii=False, allow_nan=False)
        (folder / f"part-{many}.json").write_text(text, encoding="utf-8")
        many += 1
    return many


def template() -> bytes:
    """The source of the template."""
    return files("jointcalc.dossier").joinpath("templates", "dossier.typ").read_bytes()


# --- rounds -----------------------------------------------------------------------------------------


def _set(folder: Path, many: int) -> bytes:
    """The parts in the folder, laid out until all pages are as they are said to be, as one file."""
    told: Data = {"first": [1] * many, "of": 10, "pages": {}}
    with _Setters(folder, many) as setters:
        word = "find"
        for _ in range(ROUNDS):
            (folder / "pages.json").write_text(json.dumps(told), encoding="utf-8")
            found = _numbered(setters.ask(word))
            if found == told and word == "make":
                break
            told, word = found, "make"
    made = [folder / f"part-{n}.pdf" for n in range(many)]
    return made[0].read_bytes() if many == 1 else join(made)


def _numbered(found: Sequence[Data]) -> Data:
    """What the parts say of their own pages, counted through: first page of each, of how many, where each thing is."""
    first = 1
    starts: list[int] = []
    pages: dict[str, int] = {}
    for one in found:
        starts.append(first)
        pages |= {name: first + page - 1 for name, page in one["pages"]}
        first += one["many"]
    return {"first": starts, "of": first - 1, "pages": pages}


class _Setters:
    """The typesetters of all parts: one in this process, or for each part a process of its own.

    Where there are more parts than may be at work at once, a process ends with its answer.
    """

    def __init__(self, folder: Path, many: int) -> None:
        self.folder, self.many = folder, many
        self.at_once = min(max(os.cpu_count() or 1, 2), AT_ONCE)
        self.here = Setter(str(folder), 0)
        self.running: dict[int, subprocess.Popen[str]] = {}

    def __enter__(self) -> _Setters:
        return self

    def __exit__(self, *_: object) -> None:
        self._end()

    def ask(self, word: str) -> list[Data]:
        """The answers of all parts, in order."""
        if self.many == 1:
            return [_done(self.here, word)]
        answers: list[Data] = []
        for first in range(0, self.many, self.at_once):
            parts = range(first, min(first + self.at_once, self.many))
            for part in parts:
                self._say(part, word)
            answers += [self._answer(part, word) for part in parts]
            if self.many > self.at_once:
                self._end()
        return answers

    def _say(self, part: int, word: str) -> None:
        if part not in self.running:
            env = {**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, sys.path))}
            command = [sys.executable, "-P", "-S", setter.__file__, str(self.folder), str(part)]
            self.running[part] = subprocess.Popen(  # noqa: S603 (our own file, run by this Python)
                command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
                encoding="utf-8", env=env,
            )  # fmt: skip
        say = self.running[part].stdin
        assert say is not None
        with suppress(BrokenPipeError):
            print(word, file=say, flush=True)

    def _answer(self, part: int, word: str) -> Data:
        """What the part's typesetter says; where it was killed (for want of memory) the part is set here."""
        hear = self.running[part].stdout
        assert hear is not None
        line = hear.readline()
        answer: Data = json.loads(line) if line.endswith("\n") else _done(Setter(str(self.folder), part), word)
        if "fault" in answer:
            raise RuntimeError(answer["fault"])
        return answer

    def _end(self) -> None:
        for process in self.running.values():
            process.kill()
            process.communicate()
        self.running.clear()


def _done(one: Setter, word: str) -> Data:
    answer: Data = one.find() if word == "find" else one.make()
    return answer
