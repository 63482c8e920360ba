"""Where the `jointcalc` command begins: the version is told before anything is imported for it."""

from __future__ import annotations

import sys


def run() -> None:
    """Entry point of the `jointcalc` command; ends the process with its exit code."""
    if sys.argv[1:] == ["--version"] and sys.stdout is not None:
        from jointcalc.version import VERSION

        try:
            print(f"jointcalc {VERSION}", flush=True)  # noqa: T201 - before anything that prints is imported
        except OSError as error:
            from jointcalc.cli.main import nowhere_to

            sys.exit(nowhere_to(error))
        sys.exit(0)
    from jointcalc.cli.main import run as whole

    whole()
