"""Files are written whole or not at all: temporary file, fsync, rename."""

from __future__ import annotations

import os
import sys
import tempfile
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path

from jointcalc.errors import InputError


def write_file(path: Path, content: bytes | str) -> None:
    """Write `content` to `path` atomically; an existing file is replaced only when all is written.

    Raises InputError when the place cannot be written.
    """
    data = content.encode("utf-8") if isinstance(content, str) else content
    path = Path(os.path.realpath(path))  # what a link points to is replaced, not the link
    if path.exists() and not path.is_file():
        raise InputError("is no plain file; name one that can be replaced", where=str(path))
    try:
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.", suffix=".part")
    except OSError as error:
        raise InputError(f"cannot be written: {error.strerror}", where=str(path)) from error
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(name, _mode(path))
        os.replace(name, path)
    except OSError as error:
        raise InputError(f"cannot be written: {error.strerror}", where=str(path)) from error
    finally:
        with suppress(OSError):
            os.unlink(name)


def _mode(path: Path) -> int:
    """The permissions a file keeps when it is replaced; those of a new file where there is none."""
    if path.exists():
        return path.stat().st_mode & 0o7777
    umask = os.umask(0)
    os.umask(umask)
    return 0o666 & ~umask


def write_files(files: Mapping[Path, bytes | str]) -> None:
    """Write a set of files that belong together: all are made ready before the first is put in place.

    Raises InputError when one cannot be written; then none is changed, unless the machine stops between two renames.
    """
    ready: list[tuple[str, Path]] = []
    try:
        for given, content in files.items():
            path = Path(os.path.realpath(given))
            if path.exists() and not path.is_file():
                raise InputError("is no plain file; name one that can be replaced", where=str(path))
            data = content.encode("utf-8") if isinstance(content, str) else content
            try:
                handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.", suffix=".part")
                ready.append((name, path))
                with os.fdopen(handle, "wb") as file:
                    file.write(data)
                    file.flush()
                    os.fsync(file.fileno())
                os.chmod(name, _mode(path))
            except OSError as error:
                raise InputError(f"cannot be written: {error.strerror}", where=str(path)) from error
        for name, path in ready:
            try:
                os.replace(name, path)
            except OSError as error:
                raise InputError(f"cannot be written: {error.strerror}", where=str(path)) from error
    finally:
        for name, _ in ready:
            with suppress(OSError):
                os.unlink(name)


def to_stdout(text: str) -> None:
    """Text on stdout; when its reader has gone (`| head`), the rest is dropped and the verdict stays the exit code.

    Raises InputError when the place that stdout leads to cannot take it, such as a full disk.
    """
    if sys.stdout is None:
        raise InputError("stdout is closed; there is nowhere to print the answer", where="the answer")
    try:
        sys.stdout.write(text)
    except OSError as error:
        _lost(error)


def flush_stdout() -> None:
    """What is still buffered, written or, when nobody reads any more, dropped.

    Raises InputError when the place that stdout leads to cannot take it, such as a full disk.
    """
    if sys.stdout is None:
        return
    try:
        sys.stdout.flush()
    except OSError as error:
        _lost(error)


def _lost(error: OSError) -> None:
    # whatever is still buffered goes nowhere, or the interpreter would complain at its end
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    if not isinstance(error, BrokenPipeError):
        raise InputError(f"cannot be written: {error.strerror}", where="the answer") from error
