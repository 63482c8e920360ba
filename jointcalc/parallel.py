"""A list of tasks shared out among the machine's processors.

Each worker is a fork of this process: it has all that was read and imported before, and sends back its answers alone.
Where this process may not be forked (another system, running threads, one processor) and where the whole is over before
a worker would be up, the tasks are done here, one after the other.  The answers are the same either way, in the order
of the tasks: a task is a function of what it is given, whoever does it.
"""

from __future__ import annotations

import os
import sys
import threading
from collections.abc import Callable, Sequence
from contextlib import suppress
from typing import Any, TypeVar

T = TypeVar("T")
R = TypeVar("R")
Done = Callable[[int, int], None]

WORTH_IT = 300.0
"""Effort of all tasks (judging a spot seam is 1, some milliseconds) below which forks cost more than they save."""

_at_work: list[tuple[Callable[[Any], Any], Sequence[Any]]] = []
"""What the forks do, and to what: they find it here, so that nothing is sent to them but a number."""


def workers(effort: Sequence[float]) -> int:
    """How many processes tasks of these efforts are shared out to; 1 where they are better done in this one."""
    if sum(effort) < WORTH_IT or not _may_fork():
        return 1
    return max(1, min(_processors(), len(effort)))


def share_out(
    work: Callable[[T], R], things: Sequence[T], effort: Sequence[float], done: Done | None = None
) -> list[R]:
    """`work` done to each thing, in their order; the longest by `effort` are begun first.

    What `work` raises is raised here.  `done(n, of)` hears how many are done.  What a worker that was killed (for want
    of memory) leaves undone is done here.
    """
    many = workers(effort)
    if many > 1:
        return _forked(work, things, effort, many, done)
    found = []
    for n, thing in enumerate(things):
        found.append(work(thing))
        if done:
            done(n + 1, len(things))
    return found


def _processors() -> int:
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def _may_fork() -> bool:
    """A fork copies one thread alone, and what others had locked stays locked; off Linux the libraries forbid it."""
    return sys.platform == "linux" and threading.active_count() == 1 and not _at_work


def _forked(
    work: Callable[[T], R], things: Sequence[T], effort: Sequence[float], many: int, done: Done | None
) -> list[R]:
    from concurrent.futures import ProcessPoolExecutor, as_completed
    from concurrent.futures.process import BrokenProcessPool
    from multiprocessing import get_context

    found: dict[int, R] = {}
    _at_work.append((work, things))
    try:
        with ProcessPoolExecutor(many, get_context("fork"), _begin) as pool:
            first = sorted(range(len(things)), key=lambda n: -effort[n])
            asked = {pool.submit(_one, n): n for n in first}
            try:
                for answer in as_completed(asked):
                    found[asked[answer]] = answer.result()
                    if done:
                        done(len(found), len(things))
            except BrokenProcessPool:
                pass  # what is missing is done below
            except BaseException:
                pool.shutdown(wait=False, cancel_futures=True)
                raise
    finally:
        _at_work.clear()
    return [found[n] if n in found else work(thing) for n, thing in enumerate(things)]


M_TRIM_THRESHOLD, M_MMAP_THRESHOLD = -1, -3
"""Settings of glibc's mallopt: what stays of freed memory, and from which size on a block is the system's own."""
KEPT, OWN = 256 << 20, 32 << 20


def _begin() -> None:
    """Of a worker: Ctrl-C ends it without a word, as this process answers for it, and it keeps the memory it has had.

    The solvers ask for arrays of some MB again and again; pages given back and asked for anew cost a tenth of the time.
    """
    import ctypes
    import signal

    signal.signal(signal.SIGINT, signal.SIG_DFL)
    with suppress(OSError, AttributeError):  # another C library has no such settings
        mallopt = ctypes.CDLL(None).mallopt
        mallopt(M_TRIM_THRESHOLD, KEPT)
        mallopt(M_MMAP_THRESHOLD, OWN)


def _one(n: int) -> Any:
    work, things = _at_work[-1]
    return work(things[n])
