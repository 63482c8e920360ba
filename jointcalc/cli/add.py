"""`jointcalc add`: asks for an item, one question at a time, and puts it behind what stands in the project file."""

from __future__ import annotations

import shlex
import sys
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from jointcalc.cli.common import write
from jointcalc.errors import InputError, InputErrors, nearest

if TYPE_CHECKING:
    from jointcalc.model.fields import Item
    from jointcalc.quantity.show import System
    from jointcalc.result import Result
    from jointcalc.show.ask import Question

EXAMPLES = """Examples:

  jointcalc add seam --questions

  jointcalc add brace --questions
"""

BACK, QUIT, MORE = "back", "quit", "more"
IDLE = "no load given"
"""What is said of an item that carries nothing yet."""
YES, NO = ("yes", "y", "true"), ("no", "n", "false")
WHOLE = ("load", "end_joints", "welded_by", "part")
"""Fields that name something else of the file: then the whole of it is read to judge the item."""


class _Quit(Exception):
    """The builder ends it."""


def command(
    kind: Annotated[str, typer.Argument(help="What to add: seam, plug, fillet, bolts, brace, panel, mount.")],
    file: Annotated[Path | None, typer.Argument(help="The project file, or the folder it is in.")] = None,
    questions: Annotated[
        bool, typer.Option("--questions", help="List what is asked, in its order, and write nothing.")
    ] = False,
    show_command: Annotated[
        bool, typer.Option("--show-command", help="Show the one-line command that does the same; write nothing.")
    ] = False,
) -> None:
    """Ask for an item, one question at a time, and put it behind what stands in the project file.

    Every question offers what is sensible; `back` returns to the one before, `quit` ends and writes nothing.  Answers
    may come from a pipe, one a line; there a wrong one ends it.
    """
    from jointcalc.registry import KINDS

    if kind not in KINDS:
        raise InputError(f"'{kind}' is no kind of item{nearest(kind, KINDS)} (kinds: {', '.join(KINDS)})", field="KIND")
    if questions:
        _list(kind)
        return
    if file is None:
        raise InputError("to which project? write `jointcalc add KIND PROJECT`", field="FILE")
    asking = _Asking(kind, file)
    try:
        asking.through()
    except _Quit:
        write("Nothing was written.")
        return
    asking.end(keep=not show_command)


def _list(kind: str) -> None:
    from jointcalc.show.ask import questions, usual

    asked = usual(kind)
    for question in questions(kind):
        when = "must be answered" if question.must else "asked" if question.field in asked else MORE
        _say(f"{question.field} ({when}): {question.text}", 2)


class _Asking:
    """The answers so far, and what the file says beside them."""

    def __init__(self, kind: str, file: Path) -> None:
        from jointcalc.model.append import bytes_of, data_of, ids_of, place_of
        from jointcalc.model.project import read_project
        from jointcalc.registry import KINDS
        from jointcalc.show.ask import questions, usual

        self.kind, self.place = kind, place_of(file)
        self.old = bytes_of(self.place)
        self.data = data_of(self.old, self.place)
        text = self.old.decode("utf-8-sig")
        read_project(self.data, where=self.place.name, text=text, path=self.place, nothing_suffices=True)
        self.ids = ids_of(self.data)
        head = self.data.get("project")
        self.system: System = "inch" if isinstance(head, Mapping) and head.get("units") == "inch" else "metric"
        self.all = {question.field: question for question in questions(kind)}
        self.asked = list(usual(kind))
        self.own = (*KINDS[kind].loads, "place", "photo", "alternatives")
        """What every item has of its own: the last one's is no hint."""
        self.entry: dict[str, Any] = {}
        self.seen: list[str] = []
        self.told = ""

    # the questions

    def through(self) -> None:
        """Ask until the item is whole and its builder says that it is done.  _Quit, or InputError from a pipe."""
        write(f"[[{self.kind}]] for {self.place.name}. `back` returns to the question before, `quit` writes nothing.")
        while True:
            field = next((one for one in self.asked if one not in self.seen and self._due(one)), None)
            if field is not None:
                self._one(field)
            elif not self._more():
                return

    def _due(self, field: str) -> bool:
        from jointcalc.show.ask import EITHER, WITH

        rivals = next((group for group in EITHER if field in group), ())
        if any(one in self.entry for one in rivals if one != field and one in self.all):
            return False
        return field not in WITH or WITH[field] in self.entry

    def _one(self, field: str) -> None:
        from jointcalc.show.ask import picture

        question = self.all[field]
        write("")
        for line in picture(self.kind, field):
            write(line)
        _say(f"{field}: {question.text}", 2)
        offered = self._offered(question)
        for line in self._hints(question, offered):
            _say(f"  {line}", 4)
        while True:
            text = self._read(f"{field}{f' [{offered}]' if offered else ''}> ")
            if text == BACK:
                self._back()
                return
            try:
                value = self._value(question, text or offered)
                tried = {name: one for name, one in self.entry.items() if name != field}
                if value is not None:
                    tried[field] = value
                elif question.must:
                    raise InputError("must be answered", field=field)
                notes = self._accepts(field, tried)
            except InputError as error:
                self._wrong(error)
                continue
            self.entry = {name: tried[name] for name in self.all if name in tried}
            self.seen.append(field)
            for note in notes:
                _say(f"  to be mended: {note}", 4)
            self._so_far()
            return

    def _back(self) -> None:
        if self.seen:
            self.entry.pop(self.seen.pop(), None)
        else:
            write("  this is the first question")

    def _more(self) -> bool:
        """Whether something else is to be asked, once the usual is answered."""
        faults = self._faults(self.entry)
        rest = [name for name in self.all if name not in self.asked]
        write("")
        for fault in faults:
            _say(f"  to be mended: {fault}", 4)
        if faults:
            write("Name what to answer again, or `back`.")
        else:
            write("Enter: that is all. `more` lists what else can be said; its name asks it.")
        while True:
            text = self._read("done> ")
            if text == BACK:
                self._back()
                return True
            if text == MORE:
                for name in rest:
                    _say(f"  {name}: {self.all[name].text}", 4)
            elif text in self.all:
                self.entry.pop(text, None)
                self.seen = [name for name in self.seen if name != text]
                if text in self.asked:
                    self.asked.remove(text)
                self.asked.append(text)
                self._one(text)
                return True
            elif text:
                self._wrong(InputError(f"'{text}' is nothing that is asked{nearest(text, self.all)}"))
            elif faults:
                self._wrong(InputError("it cannot be judged as it is"))
            else:
                return False

    def _read(self, prompt: str) -> str:
        from jointcalc.files import flush_stdout, to_stdout

        to_stdout(prompt)
        flush_stdout()
        line = sys.stdin.readline() if sys.stdin is not None else ""
        if not line:
            write("")
            raise InputError("the answers ended before the item was whole; nothing was written", where=self.place.name)
        text = line.strip()
        if not sys.stdin.isatty():
            write(text)
        if text == QUIT:
            raise _Quit
        return text

    def _wrong(self, error: InputError) -> None:
        """Tell a wrong answer; who types may answer again, a pipe would go on with what was meant for the next."""
        if not sys.stdin.isatty():
            raise error
        for fault in _each(error):
            _say(f"  not so: {fault}", 4)

    # what an answer may be

    def _offered(self, question: Question) -> str:
        """What Enter takes where something must be said: what the file's last item of the kind has; never a load."""
        from jointcalc.registry import KINDS

        if question.field in self.entry:
            return ""
        if question.field == "id":
            there = [str(one.get("id", "")) for one in self.data.get(self.kind, [])]  # named as their like are
            stem = (there[-1].rstrip("0123456789") if there else "") or self.kind[0].upper()
            return next(name for n in range(1, 10_000) if (name := f"{stem}{n}") not in self.ids)
        if not question.must or question.field in KINDS[self.kind].loads:
            return ""
        if question.field == "weld_diameter":
            return "usual"
        last = [*self.data.get(self.kind, [{}])][-1].get(question.field)
        if question.field in ("sheets", "sheet", "grade", "edge"):
            texts = last if isinstance(last, list) else [last]
            if all(isinstance(one, str) for one in texts):
                return ("," if question.field == "sheets" else "").join(texts).replace(",", ", ")
        return ""

    def _hints(self, question: Question, offered: str) -> Iterable[str]:
        if question.field in ("sheets", "sheet"):
            named = self.data.get("sheet", {})
            for name, sheet in named.items():
                told = (str(sheet.get(key, "")) for key in ("thickness", "grade", "coating"))
                yield f"{name}: {' '.join(filter(None, told))}"
            yield "or a sheet that has no name: 1.2 mm DC04"
        elif question.field == "case":
            yield ", ".join(str(one.get("id")) for one in self.data.get("case", [])) or "no [[case]] is in the file"
        elif question.example and question.field != "id":
            yield f"such as: {question.example}"
        if question.many:
            yield f"several: parted by '{question.several}'"
        if question.taken is bool:
            yield "yes or no"
        last = [*self.data.get(self.kind, [{}])][-1]
        before = last.get(question.field)
        if before not in (None, "", []) and not offered and question.field not in (*self.own, "id", "title", "reason"):
            size = "; ".join(map(str, before)) if isinstance(before, list) else before
            yield f"{last.get('id', 'the last one')} has: {size}"
        if offered:
            yield f"Enter: {offered}"
        elif not question.must:
            yield f"Enter: left out ({question.absent})"

    def _value(self, question: Question, text: str) -> Any:
        """An answer as a project file writes it; None where it is left out.  InputError."""
        if not text:
            return None
        if question.many:
            parts = [one.strip() for one in text.split(question.several) if one.strip()]
            values = [self._single(question, one) for one in parts]
            if question.field == "sheets" and self.kind == "fillet" and len(values) == 1:
                return values * 2
            return values
        return self._single(question, text)

    def _single(self, question: Question, text: str) -> Any:
        if question.field in ("sheets", "sheet"):
            return self._sheet(text)
        if question.taken is bool:
            if text.lower() not in (*YES, *NO):
                raise InputError(f"'{text}' is neither yes nor no", field=question.field)
            return text.lower() in YES
        if question.taken in (int, float):
            try:
                return question.taken(text)
            except ValueError as error:
                word = "a whole number" if question.taken is int else "a number"
                raise InputError(f"'{text}' is not {word}", field=question.field) from error
        if question.taken is not str:
            raise InputError("is a table of its own; write it in the file", field=question.field)
        return text

    def _sheet(self, text: str) -> Any:
        """A sheet by its name in the file, or by thickness and grade."""
        from jointcalc.model.fields import build
        from jointcalc.model.sheet import Sheet

        named = self.data.get("sheet", {})
        if text in named:
            return text
        words = text.split()
        for n in range(len(words) - 1, 0, -1):
            sheet = {"thickness": " ".join(words[:n]), "grade": " ".join(words[n:])}
            try:
                build(Sheet, sheet, written=True)
            except InputError:
                continue
            return sheet
        known = ", ".join(named) or "none"
        raise InputError(
            f"'{text}' is no sheet of this file{nearest(text, named)} (they are: {known}), nor thickness and grade, "
            "such as 1.2 mm DC04",
            field="sheets",
        )

    # what it makes

    def _accepts(self, field: str, tried: Mapping[str, Any]) -> list[str]:
        """What else is wrong by this answer, in what was answered before; InputError where the answer itself is."""
        if field == "id" and tried.get("id") in self.ids:
            raise InputError(f"'{tried['id']}' is the id of another item of this file; take another", field="id")
        faults = self._faults(tried)
        mine = [fault for fault in faults if _field_of(fault) == field]
        if mine and field in tried:
            raise InputErrors(mine) if len(mine) > 1 else mine[0]
        return [str(fault) for fault in faults if _field_of(fault) in self.seen and _field_of(fault) in tried]

    def _item(self, entry: Mapping[str, Any]) -> Item:
        """The item that the answers make.  InputError."""
        from jointcalc.model.append import with_entry
        from jointcalc.model.project import read_project

        whole = any(name in entry for name in WHOLE) or self.kind == "mount"
        base = {k: v for k, v in self.data.items() if whole or k in ("project", "sheet", "case")}
        made = read_project(with_entry(base, self.kind, entry), path=self.place)
        return next(item for item in made.items if item.id == entry.get("id"))

    def _faults(self, entry: Mapping[str, Any]) -> list[InputError]:
        try:
            self._item(entry)
        except InputError as error:
            return [InputError(fault.message.marked, field=fault.field) for fault in _each(error)]
        return []

    def _result(self) -> Result | None:
        from jointcalc.check import check

        try:
            return check(self._item(self.entry))
        except InputError:
            return None

    def _so_far(self) -> None:
        """The verdict, once there is one."""
        from jointcalc.show.summary import judged_of

        result = self._result()
        if result is None:
            return
        judged = judged_of(result, self.system)
        used = "" if judged.used is None else f", uses {judged.used:.0%} of what it may"
        told = f"{judged.word}{used}{f': {judged.governs}' if judged.governs else ''}"
        if judged.used is None and judged.status == "ok":  # nothing has been borne yet, so nothing holds yet
            first = judged.governs if judged.governs != IDLE else ""
            told = f"{IDLE}{f'; first to give would be: {first}' if first else ''}"
        _say(f"  so far: {told}" if told != self.told else "  so far: as before", 4)
        self.told = told

    def end(self, *, keep: bool) -> None:
        """Draw the item, show its command, and write it."""
        from jointcalc.model.append import append, block, with_entry
        from jointcalc.model.project import read_project
        from jointcalc.show.terminal import drawing

        result = self._result()
        write("")
        for line in drawing(result, 80, self.system) if result is not None else ():
            write(line)
        write(block(self.kind, self.entry))
        why = "it names other items of the file" if any(name in self.entry for name in WHOLE) else ""
        entry = self.entry
        if self.kind == "mount" and not why:
            entry, why = of_its_cases(entry, self.data)
        if why:
            write(f"No one-line command does the same: {why}.")
        else:
            write("The same as one command:\n")
            write(f"  {command_line(self.kind, self._item(self.entry), entry, self.data.get('sheet', {}))}\n")
        if not keep:
            write("Nothing was written.")
            return
        read_project(with_entry(self.data, self.kind, self.entry), where=self.place.name, path=self.place)
        append(self.place, self.old, self.kind, self.entry)
        write(f"Added {self.entry['id']} to {self.place}. Next: jointcalc check {self.place} --item {self.entry['id']}")


def of_its_cases(entry: Mapping[str, Any], data: Mapping[str, Any]) -> tuple[dict[str, Any], str]:
    """A mount with what its file's cases and axes say written into it, or why no command can say it."""
    made = {name: value for name, value in entry.items() if name not in ("case", "cases")}
    forward = data.get("project", {}).get("forward")
    if forward:
        made["forward"] = forward
    own = [name for name in ("acceleration", "force", "moment") if entry.get(name) is not None]
    named = entry.get("cases") or ([entry["case"]] if entry.get("case") else [])
    cases = [case for case in data.get("case", []) if (not named or case.get("id") in named) and _felt(case)]
    if "acceleration" in own or not cases:
        return made, ""
    if len(cases) == 1 and "acceleration" in cases[0]:
        factor = {"load_factor": cases[0]["load_factor"]} if "load_factor" in cases[0] else {}
        return {**made, "acceleration": cases[0]["acceleration"], **factor}, ""
    if all(set(case) <= {"id", "use", "title", "source"} for case in cases):
        return {**made, "cases": [case["use"] for case in cases]}, ""
    return made, "the cases it stands under are told in the file alone"


def _felt(case: Mapping[str, Any]) -> bool:
    """Whether a case says what a thing with a mass feels."""
    return "use" in case or "acceleration" in case


def command_line(kind: str, item: Item, entry: Mapping[str, Any], named: Mapping[str, Any]) -> str:
    """The command that judges the same item: its sheets spelt out, its factors those of its case and project."""
    from jointcalc.model.said import said

    model = type(item)
    words = ["jointcalc", kind]
    sheets = entry.get("sheets") or ([entry["sheet"]] if "sheet" in entry else [])
    spelt = [dict(named[one]) if isinstance(one, str) else dict(one) for one in sheets]
    for key, option in (("thickness", "--sheet"), ("grade", "--grade"), ("coating", "--coating")):
        if any(key in sheet for sheet in spelt):
            words += [word for sheet in spelt for word in (option, str(sheet.get(key, "")))]
    for key in ("yield_strength", "tensile_strength"):
        if any(key in sheet for sheet in spelt):
            option = "--" + key.replace("_", "-")
            words += [word for sheet in spelt for word in (option, str(sheet.get(key, "none")))]
    factors = {
        name: getattr(item, name)
        for name in ("load_factor", "handbook_factor")
        if getattr(item, name) != model.model_fields[name].default and not (kind == "mount" and name == "load_factor")
    }
    for field, about in said(model).items():
        value = {**entry, **factors}.get(field)
        if field in ("sheets", "sheet") or value is None or about.option is None:
            continue
        option = about.option or "--" + field.replace("_", "-")
        yes, _, no = option.partition("/")
        if isinstance(value, bool):
            words += [yes] if value else [no] if no else []
            continue
        for one in value if isinstance(value, list) else [value]:
            words += [yes, f"{one:g}" if isinstance(one, float) else str(one)]
    return " ".join(word if word.startswith("--") else shlex.quote(word) for word in words)


def _say(text: str, indent: int) -> None:
    """A sentence in the width of the terminal, later lines indented, so that no word of it is cut."""
    from shutil import get_terminal_size

    from jointcalc.show.terminal import filled

    words = text.lstrip()
    first = len(text) - len(words)
    for line in filled(words, max(get_terminal_size().columns, 40) - first, indent - first):
        write(" " * first + line)


def _each(error: InputError) -> tuple[InputError, ...]:
    return error.faults if isinstance(error, InputErrors) else (error,)


def _field_of(fault: InputError) -> str:
    """The field that a fault is about."""
    if fault.field:
        return fault.field.partition(".")[0]
    word = str(fault.message).partition(":")[0]
    return word if word.isidentifier() else ""
