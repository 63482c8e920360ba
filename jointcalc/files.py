"""Files are written whole or not at all: temporary file, fsync, rename."""

from __future__ import annotations

import os
import sys
import tempfile
from contextlib import suppress
from pathlib import Path

from jointcalc.errors import InputError


def write_file(path: Path, content: bytes | str) -> None:
    """Write `content` to `path` atomically; an existing file is replaced only when all is written.

    Raises InputError when the place cannot be written.
    """
    data = content.encode("utf-8") if isinstance(content, str) else content
    try:
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.", suffix=".part")
    except OSError as error:
        raise InputError(f"cannot be written: {error.strerror}", where=str(path)) from error
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        umask = os.umask(0)
        os.umask(umask)
        os.chmod(name, 0o666 & ~umask)
        os.replace(name, path)
    except OSError as error:
        raise InputError(f"cannot be written: {error.strerror}", where=str(path)) from error
    finally:
        with suppress(OSError):
            os.unlink(name)


def to_stdout(text: str) -> None:
    """Text on stdout; when its reader has gone (`| head`), the rest is dropped and the verdict stays the exit code.

    Raises InputError when the place that stdout leads to cannot take it, such as a full disk.
    """
    try:
        sys.stdout.write(text)
    except OSError as error:
        _lost(error)


def flush_stdout() -> None:
    """What is still buffered, written or, when nobody reads any more, dropped.

    Raises InputError when the place that stdout leads to cannot take it, such as a full disk.
    """
    try:
        sys.stdout.flush()
    except OSError as error:
        _lost(error)


def _lost(error: OSError) -> None:
    # whatever is still buffered goes nowhere, or the interpreter would complain at its end
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    if not isinstance(error, BrokenPipeError):
        raise InputError(f"cannot be written: {error.strerror}", where="the answer") from error
