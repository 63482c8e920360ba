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
from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import suppress
from importlib.resources import files
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any, NamedTuple

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
WORKING = ("working", "symbols", "symbols_again")
OF_ITEM = {
    "inputs": ("heading", "typed_at", "inputs", "defaults", "assumptions", "values", "compared", "alternatives",
               "sensitivity", "figures"),
    "working": ("id", "heading", *WORKING),
}  # fmt: skip
"""What of an item these sections print; `items` prints all but the working."""


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
        with TemporaryDirectory(prefix="jointcalc-") as folder, _Setters(Path(folder)) as setters:
            if len(results) > FEW and options.steps != "none" and not options.summary:
                setters.start(range(2))  # they are up when the content is gathered
            content = content_of(project, results, options, Files(Path(folder)), hear, known or {})
            return _set(content, parts_of(content, most), setters, hear)

    try:
        return made(PART)
    except NotPlain:  # another release of the typesetter may lay its files out otherwise
        return made(math.inf)


# --- parts ------------------------------------------------------------------------------------------


class Part(NamedTuple):
    """A part of the dossier: its sections, of which items, and whether the first goes on from an earlier part."""

    prints: Sequence[str]
    items: slice
    again: bool = False

    def of(self, content: Data) -> Data:
        """What the template prints of it."""
        kept = None if "items" in self.prints else {key for one in self.prints for key in OF_ITEM.get(one, ())}
        left_out = () if "working" in self.prints else WORKING
        items = [
            {key: _now(item[key]) for key in item if (kept is None or key in kept) and key not in left_out}
            for item in content.get("items", ())[self.items]
        ]
        keys = [*COMMON, *(key for one in self.prints for key in KEYS[one])]
        own = {key: _now(content[key]) for key in keys if key in content}
        return {"prints": self.prints, "again": self.again, "items": items} | own


def _now(value: Any) -> Any:
    return value() if callable(value) else value


def parts_of(content: Data, most: float = PART) -> list[Part]:
    """The parts of the content, of at most so many items."""
    count = len(content.get("items", ()))
    worked = content["steps"] != "none" and not content["summary_only"]
    if count <= (FEW if worked else most) or math.isinf(most):
        return [Part(list(KEYS) if worked else ["front", "items", "lists"], slice(None))]
    if worked and count <= most:  # so divided, both are set in about the same time
        whole = slice(0, count)
        return [Part(["front", "items", "materials", "inputs"], whole), Part(["shared", "working", "lists"], whole)]
    many = math.ceil(count / most)
    size = math.ceil(count / many)
    groups = [slice(n, n + size) for n in range(0, count, size)]
    first, last, other = groups[0], groups[-1], "materials" if worked else "lists"

    def of(group: slice, section: str, before: str = "", after: str = "", *, again: bool = False) -> Part:
        prints = (before if group == first else "", section, after if group == last else "")
        return Part([one for one in prints if one], group, again and group != first)

    parts = [of(group, "items", "front", other) for group in groups]
    if worked:
        parts += [of(group, "inputs", after="shared", again=True) for group in groups]
        parts += [of(group, "working", after="lists", again=True) for group in groups]
    return parts


def template() -> bytes:
    """The source of the template."""
    return files("jointcalc.dossier").joinpath("templates", "dossier.typ").read_bytes()


# --- rounds -----------------------------------------------------------------------------------------


def _set(content: Data, parts: Sequence[Part], setters: _Setters, hear: Tell) -> bytes:
    """The parts, laid out until all pages are as they are said to be, as one file."""
    folder = setters.folder
    (folder / "template.typ").write_bytes(template())
    # the first guess has as many digits as there will be
    told: Data = {"first": [1] * len(parts), "of": 10 if len(content.get("items", ())) < 33 else 100, "pages": {}}

    def hand_over(n: int) -> None:
        hear("typesetting", n, len(parts))
        text = json.dumps(parts[n].of(content), ensure_ascii=False, allow_nan=False)
        (folder / f"part-{n}.json").write_text(text, encoding="utf-8")

    before: Callable[[int], None] | None = hand_over
    for _ in range(ROUNDS):
        (folder / "pages.json").write_text(json.dumps(told), encoding="utf-8")
        found = _numbered(setters.ask("find" if before else "make", len(parts), before))
        if found == told and not before:
            break
        told, before = found, None
    made = [folder / f"part-{n}.pdf" for n in range(len(parts))]
    return made[0].read_bytes() if len(parts) == 1 else join(made)


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
    """The typesetters of the parts: of a single part in this process, else for each part a process of its own.

    Where there are more parts than may be at work at once, a process ends with its answer.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.here = Setter(str(folder), 0)
        self.running: dict[int, subprocess.Popen[str]] = {}

    def __enter__(self) -> _Setters:
        return self

    def __exit__(self, *_: object) -> None:
        self._end()

    def ask(self, word: str, many: int, before: Callable[[int], None] | None = None) -> list[Data]:
        """The answers of so many parts, in order; `before` hears of each before it is asked."""
        at_once = min(max(os.cpu_count() or 1, 2), AT_ONCE)
        answers: list[Data] = []
        for first in range(0, many, at_once):
            parts = range(first, min(first + at_once, many))
            for part in parts:
                if before:
                    before(part)
                if many > 1:
                    self._say(part, word)
            answers += [self._answer(part, word) if many > 1 else _done(self.here, word) for part in parts]
            if many > at_once:
                self._end()
        return answers

    def start(self, parts: Iterable[int]) -> None:
        """Start the processes of these parts where they do not run yet."""
        for part in parts:
            if part in self.running:
                continue
            env = {**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, sys.path))}
            command = [sys.executable, "-P", "-S", setter.__file__, str(self.folder), str(part)]
            with suppress(OSError):  # a Python within another program may have none to run: the part is set here
                self.running[part] = subprocess.Popen(  # noqa: S603 (our own file, run by this Python)
                    command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
                    encoding="utf-8", env=env,
                )  # fmt: skip

    def _say(self, part: int, word: str) -> None:
        self.start([part])
        if part in self.running and (say := self.running[part].stdin):
            with suppress(BrokenPipeError):
                print(word, file=say, flush=True)

    def _answer(self, part: int, word: str) -> Data:
        """What the part's typesetter says; where it was killed (for want of memory) the part is set here."""
        hear = self.running[part].stdout if part in self.running else None
        line = hear.readline() if hear else ""
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
