"""A progress bar for long work."""

from __future__ import annotations

import sys
from collections.abc import Callable
from typing import Any

Tell = Callable[[str, int, int], None]


class Bar:
    """A progress bar on stderr when it is `wanted` and somebody is watching; gives a function (what, done, of)."""

    def __init__(self, wanted: bool = True) -> None:
        self.wanted = wanted

    def __enter__(self) -> Tell:
        self._progress: Any = None
        if not (self.wanted and sys.stderr.isatty()):
            return lambda what, done, of: None
        from rich.console import Console
        from rich.progress import Progress

        # drawn when there is news: a thread that redraws it would keep `judge_each` from sharing its work out
        self._progress = Progress(console=Console(stderr=True), transient=True, auto_refresh=False)
        self._progress.start()
        task = self._progress.add_task("", total=1)

        def tell(what: str, done: int, of: int) -> None:
            self._progress.update(task, description=what, completed=done, total=of or 1, refresh=True)

        return tell

    def __exit__(self, *error: object) -> None:
        if self._progress is not None:
            self._progress.stop()
