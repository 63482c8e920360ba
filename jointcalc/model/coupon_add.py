"""Entering a coupon in a log: one writer at a time, and the file is whole at every moment."""

from __future__ import annotations

import os
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from glob import escape
from pathlib import Path

from jointcalc.errors import InputError
from jointcalc.files import write_file
from jointcalc.model.coupon_log import HEADER, Coupon, CouponLog, parse_log, written

PATIENCE = 60.0
"""Seconds that a writer waits for the others."""


def add(path: Path, coupon: Coupon) -> CouponLog:
    """Enter a coupon at the end of a log, which is begun where there is none, and give the log back.

    The old lines stay as they are, byte by byte; the new one is written as they are (separator, decimal sign, line end,
    order of the columns).  The new file is made beside the old one and takes its place when it is safe on the disk, so
    that whoever is killed leaves one or the other whole.  Writers wait for one another.

    Raises InputErrors when the log cannot be read: nothing is added to it then.
    """
    place = Path(os.path.realpath(path))
    if not place.parent.is_dir():
        raise InputError("the folder does not exist; make it first", where=str(path))
    with alone(place):
        for left in place.parent.glob(f".{escape(place.name[:100])}.*.part"):  # of a writer that was killed
            with suppress(OSError):
                left.unlink()
        old = _bytes_of(place)
        begun = f"{HEADER}\n{written(coupon)}\n".encode()
        new = _appended(old, coupon, path.name) if old.strip() else begun
        log = parse_log(new, name=path.name)
        if log.coupons[-1].line == 0 or log.coupons[-1].date != coupon.date:
            raise InputError("the line would not read back as it was meant; nothing was added", where=str(path))
        write_file(place, new)
    return log


def _bytes_of(place: Path) -> bytes:
    try:
        return place.read_bytes()
    except FileNotFoundError:
        return b""
    except OSError as error:
        raise InputError(f"cannot be read: {error.strerror}", where=str(place)) from error


def _appended(old: bytes, coupon: Coupon, name: str) -> bytes:
    """The old bytes with one line more, in their own writing.  Raises InputErrors."""
    from jointcalc.model.coupon_log import decoded

    text = decoded(old, name)
    log = CouponLog(()) if len(text.split()) and _only_a_header(text) else parse_log(old, name=name)
    end = "\r\n" if "\r\n" in text else "\n"
    line = f"{'' if text.endswith(chr(10)) else end}{written(coupon, log)}{end}"
    wide = old[:2] in (b"\xff\xfe", b"\xfe\xff")
    return old + line.encode(("utf-16-le" if old[:2] == b"\xff\xfe" else "utf-16-be") if wide else "utf-8")


def _only_a_header(text: str) -> bool:
    return " ".join(text.split()) == " ".join(HEADER.split())


@contextmanager
def alone(place: Path) -> Iterator[None]:
    """Nobody else adds to a log of this folder meanwhile; a writer that is killed lets go by itself."""
    try:
        import fcntl
    except ImportError:  # Windows
        with _by_file(place):
            yield
        return
    try:
        handle = os.open(place.parent, os.O_RDONLY)
    except OSError as error:
        raise InputError(f"the folder cannot be opened: {error.strerror}", where=str(place.parent)) from error
    try:
        last = time.monotonic() + PATIENCE
        while True:
            try:
                fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
                break
            except BlockingIOError as error:
                if time.monotonic() > last:
                    raise InputError("another program holds the folder; try again", where=str(place)) from error
                time.sleep(0.01)
            except OSError as error:
                raise InputError(f"the folder cannot be locked: {error.strerror}", where=str(place)) from error
        yield
    finally:
        os.close(handle)


@contextmanager
def _by_file(place: Path) -> Iterator[None]:
    """The same by a file that only one can make; one older than the patience was left by a writer that was killed."""
    guard = place.with_name(f".{place.name}.lock")
    last = time.monotonic() + PATIENCE
    while True:
        try:
            os.close(os.open(guard, os.O_CREAT | os.O_EXCL))
            break
        except FileExistsError as error:
            with suppress(OSError):
                if time.time() - guard.stat().st_mtime > PATIENCE:
                    guard.unlink()
                    continue
            if time.monotonic() > last:
                raise InputError(
                    f"another program holds it; try again, or remove {guard.name}", where=str(place)
                ) from error
            time.sleep(0.02)
    try:
        yield
    finally:
        with suppress(OSError):
            guard.unlink()
