"""What all tests share: how properties are explored, and the two ways a test runs the command line."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, settings

import jointcalc

# as the command line sets it before numpy is there
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

# The same examples every time, so that a red run can be repeated; `nightly` looks further afield.
settings.register_profile(
    "fixed",
    derandomize=True,
    deadline=None,
    database=None,
    max_examples=60,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.register_profile("nightly", deadline=None, max_examples=2000)
settings.load_profile(os.environ.get("JOINTCALC_HYPOTHESIS", "fixed"))


def _same_examples_in_any_company() -> None:
    """Keep hypothesis from drawing constants out of the modules imported so far.

    With them a property is tried on other examples alone than in company, and on other examples in each worker.
    """
    from copy import deepcopy

    try:
        from hypothesis.internal.conjecture import providers
    except ImportError:  # before 6.122 it draws none
        return
    if hasattr(providers, "_get_local_constants"):  # from 6.131 on
        nothing = deepcopy(providers._local_constants)
        providers._get_local_constants = lambda: nothing  # type: ignore[attr-defined]


_same_examples_in_any_company()

PACKAGE_PLACE = Path(jointcalc.__file__).resolve().parents[1]


LONGEST = (
    "check/test_more_workings", "check/test_panel", "properties/test_weaker", "properties/test_scaling", "docs/test_pages",
    "docs/test_failure_modes", "benchpage/", "statics/field",
)  # fmt: skip
"""Files that take minutes, begun first: two workers then end together."""


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Long files before short ones, each in its own order."""

    def rank(item: pytest.Item) -> int:
        return next((n for n, name in enumerate(LONGEST) if name in item.nodeid), len(LONGEST))

    items.sort(key=rank)


@dataclass(frozen=True)
class Answer:
    """What a command left: exit code, stdout, stderr."""

    code: int
    out: str
    err: str


def run_command(*args: str, cwd: Path | None = None, columns: int = 80, **env: str) -> Answer:
    """`jointcalc ARGS` as a process of its own, 80 columns wide."""
    kept = {k: v for k, v in os.environ.items() if not k.startswith(("JOINTCALC", "COLUMNS", "FORCE_COLOR"))}
    done = subprocess.run(
        [sys.executable, "-m", "jointcalc", *args],
        capture_output=True,
        text=True,
        encoding="utf-8",
        cwd=cwd,
        check=False,
        timeout=900,  # against a hang, not a measure of speed
        env={**kept, "PYTHONPATH": str(PACKAGE_PLACE), "PYTHONIOENCODING": "utf-8", "COLUMNS": str(columns), **env},
    )
    return Answer(done.returncode, done.stdout, done.stderr)


@pytest.fixture(scope="session")
def cli() -> Callable[..., Answer]:
    """Runs the command line as a process of its own."""
    return run_command


@pytest.fixture
def say(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Callable[..., Answer]:
    """Runs the command line inside the test's process: quicker, for long lists of inputs."""
    from jointcalc.cli.main import run

    monkeypatch.setenv("COLUMNS", "80")

    def command(*args: str) -> Answer:
        capsys.readouterr()
        with pytest.raises(SystemExit) as stop:
            run(list(args))
        out, err = capsys.readouterr()
        code: Any = stop.value.code
        return Answer(int(code or 0), out, err)

    return command
