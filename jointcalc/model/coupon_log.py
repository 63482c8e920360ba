"""The coupon log: a CSV beside the project, one line a coupon, read as spreadsheets write it.

Columns are `date, machine, setting, stack, test, button mm, load N, mode, note`.  What a spreadsheet makes of them and
can only be read in one way is taken: semicolons or tabs between the cells, decimal commas, a byte-order mark, quotes,
blank lines, dates with the year first or with dots.  All else is refused with line and column.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property
from pathlib import Path

from jointcalc.errors import InputError, InputErrors, nearest
from jointcalc.model.fields import build
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.letters import spelt

COLUMNS = ("date", "machine", "setting", "stack", "test", "button mm", "load N", "mode", "note")
TESTS = ("shear", "cross", "peel", "torsion", "section")
HEADER = ",".join(COLUMNS)
MOST_COUPONS = 20_000
MOST_LOAD, MOST_BUTTON = 1e7, 100.0
"""Load [N] and button [mm] beyond which a number is taken for a slip."""
SEPARATORS = {",": "commas", ";": "semicolons", "\t": "tabs"}
PLUG_WORDS = ("plug", "rosette", "slot", "puddle", "arc spot")
"""Words in machine, setting, mode or note that say a coupon is of an arc weld and not of a resistance spot."""

_POINT = re.compile(r"\d+(\.\d*)?([eE][+-]?\d+)?|\.\d+")
_COMMA = re.compile(r"\d+,\d+")
_GROUPED = re.compile(r"\d{1,3}([ \u00a0\u202f]\d{3})+([.,]\d{1,2})?")
_ISO = re.compile(r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[T ]\d{1,2}:\d{2}(?::\d{2})?)?")
_DOTTED = re.compile(r"(\d{1,2})\.(\d{1,2})\.(\d{4})")
_LAST = re.compile(r"(\d{1,2})[-/](\d{1,2})[-/](\d{4})")


@dataclass(frozen=True, slots=True)
class Coupon:
    """One coupon: `button` [mm] and `load` [N] are None where none was measured; `line` is its line in the log."""

    date: date
    machine: str
    setting: str
    stack: str
    test: str
    button: float | None = None
    load: float | None = None
    mode: str = ""
    note: str = ""
    line: int = 0

    @property
    def of_arc_weld(self) -> bool:
        """Whether its words say that it is a plug or arc spot weld."""
        told = f"{self.machine} {self.setting} {self.mode} {self.note}".lower()
        return any(word in told for word in PLUG_WORDS)


@dataclass(frozen=True, eq=False)
class Group:
    """Coupons that are alike: one machine, setting, stack and test, in the order of the log."""

    coupons: tuple[Coupon, ...]

    @property
    def first(self) -> Coupon:
        """The first coupon, by which the group is named."""
        return self.coupons[0]

    @property
    def test(self) -> str:
        """The test of all of them."""
        return self.first.test

    @property
    def of_arc_weld(self) -> bool:
        """Whether they are of a plug or arc spot weld."""
        return any(c.of_arc_weld for c in self.coupons)

    @property
    def loaded(self) -> tuple[Coupon, ...]:
        """Those with a load."""
        return tuple(c for c in self.coupons if c.load is not None)

    @property
    def measured(self) -> tuple[Coupon, ...]:
        """Those with a button or a section measured."""
        return tuple(c for c in self.coupons if c.button is not None)

    @property
    def dates(self) -> str:
        """`2026-05-02`, or `2026-05-02 to 2026-05-16`."""
        days = sorted({c.date for c in self.coupons})
        return f"{days[0]}" if len(days) == 1 else f"{days[0]} to {days[-1]}"

    @cached_property
    def stack(self) -> Stack:
        """Its stack, read."""
        return read_stack(self.first.stack)

    @property
    def title(self) -> str:
        """Machine, setting, stack and test in one line."""
        parts = (self.first.machine, self.first.setting, self.first.stack, self.test)
        return ", ".join(part for part in parts if part)


@dataclass(frozen=True, eq=False)
class CouponLog:
    """A log as read: its coupons in order, the separator and decimal sign it is written with."""

    coupons: tuple[Coupon, ...]
    name: str = "coupons"
    separator: str = ","
    decimal: str = "."
    columns: tuple[str, ...] = COLUMNS
    sha256: str = field(default="", compare=False)

    @cached_property
    def groups(self) -> tuple[Group, ...]:
        """The coupons by machine, setting, stack and test, in the order they first appear."""
        found: dict[tuple[str, ...], list[Coupon]] = {}
        for one in self.coupons:
            stack = read_stack(one.stack)
            key = (same_name(one.machine), same_name(one.setting), stack.key or same_name(one.stack), one.test)
            found.setdefault(key, []).append(one)
        return tuple(Group(tuple(alike)) for alike in found.values())


def same_name(text: str) -> str:
    """A name as it is compared: case and blanks do not count."""
    return " ".join(text.casefold().split())


# --- the stack ------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Stack:
    """Sheets of a stack as written in a log; `why` says what could not be read, and then there are none."""

    sheets: tuple[Sheet, ...] = ()
    why: str = ""

    @property
    def key(self) -> str:
        """The stack in one word, by which two writings of it are the same; empty where it was not read."""
        return " + ".join(sheet_key(sheet) for sheet in self.sheets)


def sheet_key(sheet: Sheet) -> str:
    """Thickness, grade and coating of a sheet in one word."""
    from jointcalc.model.sheet import zinc_mass

    return f"{sheet.thickness:.3f} {sheet.material.grade} {zinc_mass(sheet.coating):.0f}"


EXAMPLE = "1.2 mm DC04 + 1.5 mm DC04 Z275"
BARE_LEAST, BARE_MOST = 0.4, 10.0
"""Bare numbers taken for millimetres of sheet: no sheet that is welded is 0.4 in thick."""
_SIZE = re.compile(r"(?P<size>\d[\d./]*\s*(?:mm|in|ga)?)(?=\s|$)\s*(?P<rest>.*)", re.IGNORECASE)
_TIMES = re.compile(r"(?P<n>[23])\s*[x×]\s*(?P<rest>.+)", re.IGNORECASE)


def read_stack(text: str) -> Stack:
    """The sheets of a stack such as `1.2 mm DC04 + 1.5 mm DC04 Z275`, or why they cannot be told.

    `2 x 1.2 mm DC04` is taken, a grade after the last sheet serves those before it, and a bare number from 0.4 to 10 is
    millimetres.
    """
    told = text.strip()
    times = _TIMES.fullmatch(told)
    parts = [times["rest"]] * int(times["n"]) if times else told.split("+")
    read: list[tuple[str, str]] = []
    for part in parts:
        match = _SIZE.fullmatch(part.strip())
        if match is None:
            return Stack((), f"'{spelt(part.strip())}' is no sheet; write the stack as '{EXAMPLE}'")
        size = match["size"].strip()
        if size[-1].isdigit():
            bare = float(size) if _POINT.fullmatch(size) else 0.0
            if not BARE_LEAST <= bare <= BARE_MOST:
                return Stack((), f"'{spelt(part.strip())}' has no unit; write the stack as '{EXAMPLE}'")
            size = f"{size} mm"
        read.append((size, match["rest"].strip()))
    grades = [grade for _, grade in read]
    if len(read) < 2 or not grades[-1]:
        return Stack((), f"names {'one sheet' if len(read) < 2 else 'no grade'}; write it as '{EXAMPLE}'")
    sheets = []
    for n, (size, grade) in enumerate(read):
        whole = grade or next(later for later in grades[n:] if later)
        try:
            sheets.append(_sheet(size, whole))
        except InputError as error:
            return Stack((), f"'{spelt(size)} {spelt(whole)}': {error.message.splitlines()[0]}")
    return Stack(tuple(sheets))


def _sheet(size: str, words: str) -> Sheet:
    """A sheet of that size; the last word may be a coating.  Raises InputError."""
    from jointcalc.model.sheet import zinc_mass

    grade, _, last = words.rpartition(" ")
    if grade:
        try:
            zinc_mass(last)
        except InputError:
            pass
        else:
            return build(Sheet, {"thickness": size, "grade": grade, "coating": last})
    return build(Sheet, {"thickness": size, "grade": words})


# --- the file -------------------------------------------------------------------------------------------------------


def read_log(path: Path) -> CouponLog:
    """The log of a file.  Raises InputErrors, all faults at once, each with line and column."""
    import hashlib

    where = str(path)
    try:
        raw = path.read_bytes()
    except FileNotFoundError as error:
        raise InputError("there is no such file; `jointcalc coupons add` begins one", where=where) from error
    except OSError as error:
        raise InputError(f"cannot be read: {error.strerror}", where=where) from error
    return parse_log(raw, name=path.name, sha256=hashlib.sha256(raw).hexdigest())


def decoded(raw: bytes, name: str) -> str:
    """The text of a log: UTF-8, or what a byte-order mark says.  Raises InputError."""
    marked = raw[:2] in (b"\xff\xfe", b"\xfe\xff")
    try:
        return raw.decode("utf-16" if marked else "utf-8-sig")
    except UnicodeDecodeError as error:
        raise InputError("is not UTF-8 text; save it as 'CSV UTF-8' in the spreadsheet", where=name) from error


def parse_log(raw: bytes, *, name: str, sha256: str = "") -> CouponLog:
    """The log of a file's bytes.  Raises InputErrors."""
    text = decoded(raw, name)
    lines = text.splitlines()
    first = next((line for line in lines if line.strip(" ;,\t")), "")
    skip = 0
    separator = ""
    if re.fullmatch(r"sep=[,;\t]", first.strip(" ") or "", re.IGNORECASE):  # a line some spreadsheets begin with
        separator, skip = first.strip(" ")[4], lines.index(first) + 1
        first = next((line for line in lines[skip:] if line.strip()), "")
    if not first:
        raise InputError(f"is empty; its first line must be: {HEADER}", where=name)
    separator = separator or max(SEPARATORS, key=first.count)
    rows = _rows(text, separator, skip, name)
    line, head = next(rows)
    order = _header(head, f"{name}:{line}")
    found: list[InputError] = []
    cells: list[tuple[int, dict[str, str]]] = []
    for line, row in rows:
        if len(cells) >= MOST_COUPONS:
            raise InputError(f"has more than {MOST_COUPONS} coupons; split it by year", where=name)
        short = [column for column in order[len(row) :] if column and column not in ("mode", "note")]
        if len(row) > len(head) or short:
            hint = "; a decimal comma needs quotes or a point here" if separator == "," and not short else ""
            found.append(
                InputError(
                    f"has {len(row)} cells, {len(head)} are needed, with {SEPARATORS[separator]} between them{hint}",
                    where=f"{name}:{line}",
                )
            )
            continue
        whole = [*row, *[""] * (len(order) - len(row))]
        cells.append((line, {column: cell.strip() for column, cell in zip(order, whole) if column}))
    decimal = "," if any(_COMMA.fullmatch(row[c]) for _, row in cells for c in ("button mm", "load N")) else "."
    coupons = []
    for line, named in cells:
        try:
            coupons.append(_coupon(named, line, decimal))
        except InputErrors as error:
            found += [fault.at(where=f"{name}:{line}") for fault in error.faults]
    if found:
        raise InputErrors(found)
    if not coupons:
        raise InputError("holds no coupon yet; `jointcalc coupons add` enters one", where=name)
    return CouponLog(tuple(coupons), name, separator, decimal, tuple(order), sha256)


def _rows(text: str, separator: str, skip: int, name: str) -> Iterator[tuple[int, list[str]]]:
    """(line, cells) of every row that is not blank.  Raises InputError for quotes that do not close."""
    lines = text.splitlines(keepends=True)[skip:]
    reader = csv.reader(lines, delimiter=separator, strict=True, skipinitialspace=True)
    at = skip + 1
    while True:
        try:
            row = next(reader)
        except StopIteration:
            return
        except csv.Error as error:
            raise InputError(f"cannot be read as a table: {error}; look at its quotes", where=f"{name}:{at}") from error
        if any(cell.strip() for cell in row):
            yield at, row
        at = skip + reader.line_num + 1


def _header(row: list[str], where: str) -> list[str]:
    """The columns in the order of the file; empty for a column without name.  Raises InputErrors."""
    known = {same_name(column): column for column in COLUMNS}
    order: list[str] = []
    found: list[InputError] = []
    for cell in row:
        name = same_name(cell)
        if name and name not in known:
            found.append(InputError(f"unknown column{nearest(cell.strip(), COLUMNS)}", field=spelt(cell.strip()[:40])))
        elif name and known[name] in order:
            found.append(InputError("stands twice in the first line", field=known[name]))
        order.append(known.get(name, ""))
    if len(found) == len([cell for cell in row if cell.strip()]):
        found = [InputError("the first line names no column of a coupon log")]
    else:
        found += [InputError("the column is missing", field=c) for c in COLUMNS if c not in order]
    if found:
        last = found[-1]
        found[-1] = InputError(f"{last.message} (the first line must be: {HEADER})", field=last.field)
        raise InputErrors(fault.at(where=where) for fault in found)
    while order and not order[-1]:
        order.pop()
    return order


def _coupon(cells: Mapping[str, str], line: int, decimal: str) -> Coupon:
    """One line's coupon.  Raises InputErrors, one for each column that is wrong."""
    found: list[InputError] = []

    def told(column: str, message: str) -> None:
        found.append(InputError(message, field=column))

    made = None
    try:
        made = read_date(cells["date"])
    except InputError as error:
        told("date", error.message)
    test = same_name(cells["test"])
    if test not in TESTS:
        given = f"'{spelt(cells['test'][:40])}' is no test{nearest(test, TESTS)}" if test else "no test is given"
        told("test", f"{given} (accepted: {', '.join(TESTS)})")
    if not cells["stack"]:
        told("stack", f"is empty; write what was welded, such as '{EXAMPLE}'")
    sizes: dict[str, float | None] = {}
    for column, most in (("button mm", MOST_BUTTON), ("load N", MOST_LOAD)):
        try:
            sizes[column] = read_number(cells[column], most, decimal)
        except InputError as error:
            told(column, error.message)
    if _POINT.fullmatch(cells["mode"]):  # 5,6 without quotes moves the load into the next column
        told(
            "mode",
            f"'{cells['mode'][:40]}' is a number; a decimal comma needs quotes or a point here",
        )
    if not found and test == "section" and sizes["load N"] is not None:
        told("load N", "a section is cut and measured, it carries no load; leave the cell empty")
    if not found and sizes["button mm"] is None and sizes["load N"] is None and not cells["mode"]:
        told("load N", "neither a button nor a load nor how it failed is given; the line says nothing")
    if found:
        raise InputErrors(found)
    assert made is not None
    return Coupon(
        made, cells["machine"], cells["setting"], cells["stack"], test, sizes["button mm"], sizes["load N"],
        cells["mode"], cells["note"], line,
    )  # fmt: skip


def read_date(text: str) -> date:
    """A date that can be read in one way only.  Raises InputError."""
    form = "write it as 2026-05-02"
    if not text:
        raise InputError(f"is empty; {form}")
    shown = f"'{spelt(text[:40])}'"
    if match := _ISO.fullmatch(text):
        year, month, day = (int(part) for part in match.groups())
    elif match := _DOTTED.fullmatch(text):
        day, month, year = (int(part) for part in match.groups())
    elif match := _LAST.fullmatch(text):
        a, b, year = (int(part) for part in match.groups())
        if a <= 12 and b <= 12 and a != b:
            raise InputError(f"{shown} may be day first or month first; {form}")
        day, month = (a, b) if a > 12 else (b, a)
    else:
        raise InputError(f"{shown} is no date; {form}")
    try:
        made = date(year, month, day)
    except ValueError as error:
        raise InputError(f"{shown} is no day of the calendar; {form}") from error
    if not 1950 <= made.year <= 2100:
        raise InputError(f"{shown} lies far off; {form}")
    return made


def read_number(text: str, most: float, decimal: str = ".") -> float | None:
    """A number of the log, None from an empty cell; `decimal` is the sign the file uses.  Raises InputError."""
    if not text:
        return None
    shown = f"'{spelt(text[:40])}'"
    form = "write the number alone, such as 5.4 or 8910"
    if text[0] in "-\N{MINUS SIGN}" and any(c.isdigit() for c in text):
        raise InputError(f"{shown} is negative; a size or load is not")
    plain = text
    if _GROUPED.fullmatch(text):
        plain = re.sub(r"[ \u00a0\u202f]", "", text).replace(",", ".")
    elif _COMMA.fullmatch(text):
        if len(text.partition(",")[2]) == 3:
            raise InputError(f"{shown} may be a decimal comma or a thousands separator; write 8910 or 8,9")
        plain = text.replace(",", ".")
    elif decimal == "," and re.fullmatch(r"\d{1,3}\.\d{3}", text):
        raise InputError(f"{shown} may be thousands in a file with decimal commas; leave the point out")
    if not _POINT.fullmatch(plain):
        raise InputError(f"{shown} is no number; {form}")
    value = float(plain)
    if value > most:
        raise InputError(f"{shown} is out of proportion here: accepted is 0 to {most:g}, in the heading's unit")
    return value


def written(coupon: Coupon, log: CouponLog | None = None) -> str:
    """The line of a coupon as its log writes it, without the line end."""
    own = log or CouponLog(())

    def number(value: float | None) -> str:
        return "" if value is None else f"{value:.10g}".replace(".", own.decimal)

    cells = {
        "date": coupon.date.isoformat(), "machine": coupon.machine, "setting": coupon.setting, "stack": coupon.stack,
        "test": coupon.test, "button mm": number(coupon.button), "load N": number(coupon.load), "mode": coupon.mode,
        "note": coupon.note,
    }  # fmt: skip
    out = io.StringIO()
    csv.writer(out, delimiter=own.separator, lineterminator="").writerow([cells.get(c, "") for c in own.columns])
    return out.getvalue()
