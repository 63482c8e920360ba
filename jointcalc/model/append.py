"""An item more in a project file: what stands there stays, byte by byte, and the new table comes behind it."""

from __future__ import annotations

import json
import os
import tomllib
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from jointcalc.errors import InputError
from jointcalc.files import write_file
from jointcalc.model.coupon_add import alone

BARE = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_-"
"""Letters of a key that needs no quotes."""


def place_of(path: Path) -> Path:
    """The project file that a file or its folder names."""
    return path / "project.toml" if path.is_dir() else path


def bytes_of(place: Path) -> bytes:
    """What stands in a project file.  InputError when it cannot be read."""
    try:
        return place.read_bytes()
    except FileNotFoundError as error:
        raise InputError("there is no such file; `jointcalc new FOLDER` writes a starter", where=str(place)) from error
    except OSError as error:
        raise InputError(f"cannot be read: {error.strerror}", where=str(place)) from error


def data_of(raw: bytes, place: Path) -> dict[str, Any]:
    """The tables of a project file.  InputError when it is no TOML in UTF-8."""
    try:
        return tomllib.loads(raw.decode("utf-8-sig"))
    except UnicodeDecodeError as error:
        raise InputError("is not UTF-8 text; save it as plain text in UTF-8", where=str(place)) from error
    except (ValueError, RecursionError) as error:
        raise InputError(f"is not valid TOML: {error}", where=str(place)) from error


def ids_of(data: Mapping[str, Any]) -> frozenset[str]:
    """The ids that tables of a file have taken."""
    tables = (entry for entries in data.values() if isinstance(entries, list) for entry in entries)
    return frozenset(entry["id"] for entry in tables if isinstance(entry, Mapping) and isinstance(entry.get("id"), str))


def with_entry(data: Mapping[str, Any], kind: str, entry: Mapping[str, Any]) -> dict[str, Any]:
    """The tables of a file with one entry more."""
    there = data.get(kind, [])
    if not isinstance(there, list):
        raise InputError(f"write each as [[{kind}]]", field=kind)
    return {**data, kind: [*there, dict(entry)]}


def as_toml(value: Any) -> str:
    """A value as a project file writes it.  InputError for a text with a control character."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        if any(ord(letter) < 32 or ord(letter) == 127 for letter in value):
            raise InputError(f"{value!r} holds a control character; type it again")
        return json.dumps(value, ensure_ascii=False)
    if isinstance(value, Mapping):
        return "{ " + ", ".join(f"{_key(key)} = {as_toml(one)}" for key, one in value.items()) + " }"
    if isinstance(value, Iterable):
        return "[" + ", ".join(as_toml(one) for one in value) + "]"
    return repr(value)


def block(kind: str, entry: Mapping[str, Any]) -> str:
    """The lines of one table."""
    return "\n".join((f"[[{kind}]]", *(f"{_key(key)} = {as_toml(value)}" for key, value in entry.items()))) + "\n"


def append(place: Path, old: bytes, kind: str, entry: Mapping[str, Any]) -> None:
    """Put an entry behind what stands in a file, in its own line ends, all of it or nothing.

    `old` is what stood there when it was read.  Raises InputError when something else stands there now, or when the
    file would not read back as it was with the entry more (`seam = [...]` on one line takes none behind it).
    """
    text = old.decode("utf-8-sig")
    end = "\r\n" if "\r\n" in text else "\n"
    gap = "" if not text else end if text.endswith("\n") else end * 2
    new = old + (gap + block(kind, entry).replace("\n", end)).encode("utf-8")
    try:
        back: Any = data_of(new, place)
    except InputError:
        back = None
    if back != with_entry(data_of(old, place), kind, entry):
        raise InputError(
            f"its [[{kind}]] are written so that none can be put behind them; nothing was written", where=str(place)
        )
    real = Path(os.path.realpath(place))
    with alone(real):
        if bytes_of(real) != old:
            raise InputError("was changed meanwhile; nothing was written, ask again", where=str(place))
        write_file(real, new)


def _key(key: str) -> str:
    return key if key and all(letter in BARE for letter in key) else json.dumps(key, ensure_ascii=False)
