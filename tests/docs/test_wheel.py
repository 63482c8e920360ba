"""The wheel has everything it needs: tables, starter, templates; and runs where there is no checkout.

In a checkout the wheel is built; where an installed wheel is tested (as .ci/run does), that one is looked at.
"""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from importlib.metadata import files
from pathlib import Path

import pytest

import jointcalc

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = Path(jointcalc.__file__).resolve().parent


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, set[str]]:
    """(folder that holds the installed package, names of the wheel's files)."""
    if (PACKAGE / "_tables").is_dir():
        return PACKAGE.parent, {str(name).replace(os.sep, "/") for name in files("jointcalc") or ()}
    place = tmp_path_factory.mktemp("wheel")
    subprocess.run([sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(place)], cwd=ROOT, check=True,
                   capture_output=True, text=True)  # fmt: skip
    (wheel,) = place.glob("*.whl")
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(place / "site")
        return place / "site", set(archive.namelist())


def test_wheel_carries_what_is_read_at_run_time(installed: tuple[Path, set[str]]) -> None:
    _, names = installed
    for table in (p for p in (ROOT / "tables").rglob("*") if p.is_file()):
        assert f"jointcalc/_tables/{table.relative_to(ROOT / 'tables').as_posix()}" in names
    for name in ("py.typed", "starter/demo.toml", "starter/starter.toml", "dossier/templates/dossier.typ",
                 "bench/templates/bench.css", "bench/templates/bench.js"):  # fmt: skip
        assert f"jointcalc/{name}" in names
    assert not [n for n in names if n.startswith(("tests/", "docs/", "tables/"))]


def _run(site: Path, cwd: Path, *args: str) -> subprocess.CompletedProcess[str]:
    kept = {k: v for k, v in os.environ.items() if k != "PYTHONPATH"}
    return subprocess.run([sys.executable, "-m", "jointcalc", *args], cwd=cwd, capture_output=True, text=True, check=False,
                          encoding="utf-8", env={**kept, "PYTHONPATH": str(site), "PYTHONIOENCODING": "utf-8"})  # fmt: skip


def test_installed_package_runs_outside_the_checkout(installed: tuple[Path, set[str]], tmp_path: Path) -> None:
    site, _ = installed
    where = subprocess.run(
        [sys.executable, "-c", "import jointcalc.tables.store as s; print(s.FOLDER)"],
        cwd=tmp_path, capture_output=True, text=True, check=True, env={**os.environ, "PYTHONPATH": str(site)},
    )  # fmt: skip
    assert Path(where.stdout.strip()) == site / "jointcalc" / "_tables"
    for args in (
        ("new", "shop", "--demo"),
        ("check", "shop"),
        ("tables", "show", "spot_optimum"),
        ("dossier", "shop", "--item", "P1", "--summary"),
        ("dossier", "shop", "--item", "P1", "--html"),
        ("layout", "shop", "--item", "P1"),
    ):
        done = _run(site, tmp_path, *args)
        assert done.returncode == 0, f"{args}: {done.stderr}"
    assert (tmp_path / "shop" / "project.pdf").read_bytes().startswith(b"%PDF")
