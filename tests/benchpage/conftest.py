"""A real browser without a window, once for all tests: Debian's chromium and its driver, nothing fetched.

Where there is none the tests are skipped with the reason; JOINTCALC_BROWSER=required makes that a failure (`.ci/run`
installs one and sets it).
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

BROWSERS = ("chromium", "chromium-browser", "google-chrome")


@pytest.fixture(scope="session")
def browser(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Any]:
    """A driver of the browser."""
    program = next((path for name in BROWSERS if (path := shutil.which(name))), None)
    driver = shutil.which("chromedriver")
    if program is None or driver is None:
        why = "no chromium with chromedriver is installed (Debian: chromium, chromium-driver)"
        if os.environ.get("JOINTCALC_BROWSER") == "required":
            pytest.fail(why)
        pytest.skip(why)
    webdriver = pytest.importorskip("selenium.webdriver")
    from selenium.webdriver.chrome.service import Service

    options = webdriver.ChromeOptions()
    options.binary_location = program
    profile = tmp_path_factory.mktemp("profile")
    for flag in ("--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--no-first-run",
                 "--disable-background-networking", "--disable-component-update", f"--user-data-dir={profile}"):  # fmt: skip
        options.add_argument(flag)
    options.set_capability("goog:loggingPrefs", {"performance": "ALL", "browser": "ALL"})
    # the driver is named, so that nothing looks for one elsewhere
    running = webdriver.Chrome(options=options, service=Service(driver, log_output=os.devnull))
    try:
        yield running
    finally:
        running.quit()


@pytest.fixture(scope="session")
def file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The page of the invented project, as a file in a folder."""
    from jointcalc.bench import make_bench
    from jointcalc.check import check
    from tests.benchpage.projects import project

    path = tmp_path_factory.mktemp("phone") / "bench.html"
    made = project()
    path.write_bytes(make_bench(made, [check(item) for item in made.items]))
    return path
