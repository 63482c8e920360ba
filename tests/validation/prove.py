"""Runs tests while a formula gives wrong values, and tells which of them notice.

`python -m tests.validation --prove` runs every entry of the register this way.  It takes some minutes, so it is no part
of the test run; the gate there holds the register by the tests' own text.
"""

from __future__ import annotations

import contextlib
import io
from collections.abc import Iterable

import pytest

from .evidence import TESTS, disturbed


class _Outcomes:
    """Names of the tests that failed and that passed, without their parameters."""

    def __init__(self) -> None:
        self.failed: set[str] = set()
        self.ran: set[str] = set()

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        name = report.nodeid.partition("[")[0]
        if report.when == "call" or report.failed:
            self.ran.add(name)
        if report.failed:
            self.failed.add(name)


def noticed(key: str, tests: Iterable[str]) -> set[str]:
    """Those of `tests` that fail when the formula `key` gives wrong values."""
    seen = _Outcomes()
    places = [str(TESTS.parent / t) for t in sorted(tests)]
    with disturbed([key]), contextlib.redirect_stdout(io.StringIO()), contextlib.redirect_stderr(io.StringIO()):
        pytest.main(["-q", "--tb=no", "-p", "no:cacheprovider", f"--rootdir={TESTS.parent}", *places], plugins=[seen])
    return seen.failed
