"""Files are written whole or not at all: temporary file, fsync, rename."""

from __future__ import annotations

import os
import sys
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path

from jointcalc.errors import InputError
from jointcalc.marks import unmarked
from jointcalc.quantity.letters import spelt


def write_file(path: Path, content: bytes | str) -> None:
    """Write `content` to `path` atomically; an existing file is replaced only when all is written.

    Raises InputError when the place cannot be written.
    """
    write_files({path: content})


def write_files(files: Mapping[Path, bytes | str]) -> None:
    """Write a set of files that belong together: all are made ready before the first is put in place.

    Replaced is what a link points to, and a file keeps its permissions.  Raises InputError when one cannot be written;
    then every file is as it was.  An interruption waits until the last is in place.
    """
    ready: list[tuple[str, str, Path]] = []
    try:
        for given, content in files.items():
            ready.append(_made_ready(Path(os.path.realpath(given)), content))
        with _undisturbed():
            _put_in_place(ready)
    finally:
        for name, spare, _ in ready:
            for left in (name, spare):
                with suppress(OSError):
                    os.unlink(left)


def write_folder(folder: Path, files: Mapping[str, bytes | str], *, field: str = "") -> None:
    """Write files that belong together into a folder: a new one appears with all of them, or not at all.

    It is filled under another name beside its place and renamed.  In a folder that is there already, files of other
    names stay, and the set is put in place by `write_files`.  Raises InputError.
    """
    made: list[Path] = []  # parents that were not there
    spare = ""
    try:
        if folder.exists():
            write_files({folder / name: content for name, content in files.items()})
            return
        made = [one for one in (folder, *folder.parents) if not one.exists()][1:]
        folder.parent.mkdir(parents=True, exist_ok=True)
        spare = tempfile.mkdtemp(dir=folder.parent, prefix=f".{folder.name[:100]}.", suffix=".part")
        os.chmod(spare, 0o777 & ~_umask())
        write_files({Path(spare, name): content for name, content in files.items()})
        with _undisturbed():
            os.rename(spare, folder)
            spare = ""
    except OSError as error:
        raise InputError(f"cannot be made: {error.strerror}", field=field, where=str(folder)) from error
    finally:
        if spare:
            from shutil import rmtree

            rmtree(spare, ignore_errors=True)
        if not folder.exists():
            for parent in made:
                with suppress(OSError):
                    parent.rmdir()


def _made_ready(path: Path, content: bytes | str) -> tuple[str, str, Path]:
    """(new file, name for the old one, place): the content written beside its place.  Raises InputError."""
    if path.exists() and not path.is_file():
        raise InputError("is no plain file; name one that can be replaced", where=str(path))
    name = ""
    try:
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name[:100]}.", suffix=".part")
        with os.fdopen(handle, "wb") as file:
            file.write(unmarked(content).encode("utf-8") if isinstance(content, str) else content)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(name, _mode(path))
    except OSError as error:
        if name:
            os.unlink(name)
        raise InputError(f"cannot be written: {error.strerror}", where=str(path)) from error
    return name, f"{name}.old", path


def _put_in_place(ready: list[tuple[str, str, Path]]) -> None:
    """Rename all; when one cannot be, those before it are put back.  Raises InputError."""
    done: list[tuple[str, Path]] = []
    for name, spare, path in ready:
        try:
            if len(ready) > 1 and path.exists():
                _second_name(path, spare)
            os.replace(name, path)
        except OSError as error:
            for old, place in reversed(done):
                with suppress(OSError):
                    if os.path.exists(old):
                        os.replace(old, place)
                    else:
                        os.unlink(place)
            raise InputError(f"cannot be written: {error.strerror}", where=str(path)) from error
        done.append((spare, path))


def _second_name(path: Path, spare: str) -> None:
    """The old file under another name too, while its own is taken."""
    try:
        os.link(path, spare)
    except OSError:  # a file system without links
        from shutil import copy2

        copy2(path, spare)


@contextmanager
def _undisturbed() -> Iterator[None]:
    """Ctrl-C waits: the set is whole before the process ends.

    Handlers, not a mask: a mask holds for one thread, and the signal would come in by another.
    """
    import signal
    import threading

    if threading.current_thread() is not threading.main_thread():
        yield  # only the main thread is interrupted, and only it may set a handler
        return
    came: list[int] = []
    names = [name for name in ("SIGINT", "SIGTERM", "SIGHUP") if hasattr(signal, name)]
    numbers = [getattr(signal, name) for name in names]
    before = {n: signal.signal(n, lambda number, _: came.append(number)) for n in numbers if signal.getsignal(n)}
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)
        for number in came:
            signal.raise_signal(number)


def _mode(path: Path) -> int:
    """The permissions a file keeps when it is replaced; those of a new file where there is none."""
    if path.exists():
        return path.stat().st_mode & 0o7777
    return 0o666 & ~_umask()


def _umask() -> int:
    umask = os.umask(0)
    os.umask(umask)
    return umask


def to_stdout(text: str) -> None:
    """Text on stdout, characters that a terminal would obey spelt out.

    When its reader has gone (`| head`), the rest is dropped and the verdict stays the exit code.
    Raises InputError when the place that stdout leads to cannot take it, such as a full disk.
    """
    if sys.stdout is None:
        raise InputError("stdout is closed; there is nowhere to print the answer", where="the answer")
    try:
        sys.stdout.write(spelt(text))
    except OSError as error:
        lost(error)


def flush_stdout() -> None:
    """What is still buffered, written or, when nobody reads any more, dropped.

    Raises InputError when the place that stdout leads to cannot take it, such as a full disk.
    """
    if sys.stdout is None:
        return
    try:
        sys.stdout.flush()
    except OSError as error:
        lost(error)


def lost(error: OSError) -> None:
    """What is left when stdout takes no more; raises InputError, but for a reader who has gone."""
    # whatever is still buffered goes nowhere, or the interpreter would complain at its end
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    if not isinstance(error, BrokenPipeError):
        raise InputError(f"cannot be written: {error.strerror}", where="the answer") from error
