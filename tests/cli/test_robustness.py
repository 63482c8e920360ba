"""What a careless file, a closed pipe, a code page or an interruption may not do."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from jointcalc.errors import InputError
from jointcalc.files import write_file, write_files
from jointcalc.model.project import load_project, read_project
from tests.conftest import PACKAGE_PLACE, run_command

SEAM = {
    "id": "S1", "sheets": [{"thickness": "1.2 mm", "grade": "DC04"}] * 2, "weld_diameter": "5.5 mm", "pitch": "40 mm",
    "length": "600 mm", "edge": "9 mm", "shear": "3 kN",
}  # fmt: skip
COMMAND = ["seam", "--sheet", "1.2 mm", "--sheet", "1.2 mm", "--grade", "DC04", "--weld-diameter", "5.5 mm",
           "--pitch", "40 mm", "--length", "600 mm", "--edge", "9 mm", "--shear", "3 kN"]  # fmt: skip


def project(**change: object) -> dict[str, object]:
    return {"project": {"title": "Trial"}, "seam": [{**SEAM, **change}]}


@pytest.mark.parametrize("name", ["load_factor", "handbook_factor", "rows", "cycles", "pitch", "edge", "shear"])
def test_a_truth_value_is_no_number(name: str) -> None:
    with pytest.raises(InputError, match=f"{name}: true is a truth value|{name}: nothing usable given"):
        read_project(project(**{name: True}))


def test_a_truth_value_is_no_count() -> None:
    data = project(count=True)
    data["seam"][0].pop("pitch")  # type: ignore[index]
    with pytest.raises(InputError, match="count: true is a truth value; accepted is a number"):
        read_project(data)


def test_truth_values_stand_where_they_are_meant() -> None:
    assert read_project(project(coupons=True)).items[0].coupons


@pytest.mark.parametrize("text", ["S1\x1b[31m", "bell\a", "nul\0", "\u202eright to left", "\u2066isolate"])
@pytest.mark.parametrize("name", ["id", "title"])
def test_a_text_holds_nothing_a_terminal_obeys(name: str, text: str) -> None:
    with pytest.raises(InputError, match="cannot be seen") as refused:
        read_project(project(**{name: text}))
    assert text not in str(refused.value)


def test_a_vehicle_with_an_escape_is_refused() -> None:
    with pytest.raises(InputError, match="vehicle: holds a character that cannot be seen"):
        read_project({**project(), "project": {"title": "T", "vehicle": "van\x1b[2J"}})


@pytest.mark.parametrize("name", ["Größe", "κόμβος", "naïve 1/2″", "two\nlines"])
def test_names_of_every_language_stand(name: str) -> None:
    assert read_project(project(title=name)).items[0].title == name


def test_an_id_of_blanks_is_no_id() -> None:
    with pytest.raises(InputError, match="needs an 'id'"):
        read_project(project(id="   "))


@pytest.mark.parametrize("load", ["9" * 5000 + " N", "0." + "1" * 5000 + " N"])
def test_a_number_of_thousands_of_digits(load: str) -> None:
    done = run_command(*COMMAND[:-1], load)
    assert (done.code, done.out) == (2, "")
    assert "characters" in done.err


def test_a_bare_number_of_thousands_of_digits_in_a_file(tmp_path: Path) -> None:
    file = tmp_path / "p.toml"
    file.write_text("[project]\ntitle = 'T'\n[[seam]]\nid = 'S1'\nshear = " + "9" * 5000 + "\n", encoding="utf-8")
    done = run_command("check", str(file))
    assert (done.code, done.out) == (2, "")
    assert "not valid TOML" in done.err


@pytest.mark.skipif(os.name != "posix", reason="pipes and devices")
def test_a_pipe_or_a_device_is_no_project(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe.toml"
    os.mkfifo(pipe)
    for file in (pipe, Path("/dev/zero")):
        with pytest.raises(InputError, match="no plain file"):
            load_project(file)


@pytest.mark.skipif(os.name != "posix", reason="shell")
def test_stdout_closed() -> None:
    done = subprocess.run(
        ["sh", "-c", '"$0" -m jointcalc "$@" >&-', sys.executable, *COMMAND],
        capture_output=True, text=True, check=False, env={**os.environ, "PYTHONPATH": str(PACKAGE_PLACE)},
    )  # fmt: skip
    assert done.returncode == 2
    assert "stdout is closed" in done.stderr
    assert "Traceback" not in done.stderr


def test_json_is_the_same_on_any_code_page() -> None:
    plain = run_command(*COMMAND, "--json")
    latin = run_command(*COMMAND, "--json", PYTHONIOENCODING="latin-1")
    ascii_ = run_command(*COMMAND, "--json", PYTHONIOENCODING="ascii", LC_ALL="C")
    assert plain.out.isascii()
    assert plain.out == latin.out == ascii_.out
    assert not json.dumps(json.loads(plain.out), ensure_ascii=False).isascii()


@pytest.mark.skipif(os.name != "posix", reason="links and modes")
def test_a_replaced_file_keeps_its_link_and_its_mode(tmp_path: Path) -> None:
    target, link = tmp_path / "real.txt", tmp_path / "link.txt"
    target.write_text("old", encoding="utf-8")
    target.chmod(0o600)
    link.symlink_to(target)
    write_file(link, "new")
    assert link.is_symlink()
    assert target.read_text(encoding="utf-8") == "new"
    assert target.stat().st_mode & 0o777 == 0o600
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    with pytest.raises(InputError, match="no plain file"):
        write_file(pipe, "x")


def test_a_set_of_files_is_written_whole_or_not_at_all(tmp_path: Path) -> None:
    first, second = tmp_path / "a.txt", tmp_path / "b.txt"
    first.write_text("old a", encoding="utf-8")
    second.mkdir()  # cannot be replaced by a file
    with pytest.raises(InputError):
        write_files({first: "new a", second: "new b"})
    assert first.read_text(encoding="utf-8") == "old a"
    assert sorted(p.name for p in tmp_path.iterdir()) == ["a.txt", "b.txt"]
    second.rmdir()
    write_files({first: "new a", second: b"new b"})
    assert (first.read_text(encoding="utf-8"), second.read_bytes()) == ("new a", b"new b")


@pytest.mark.parametrize("leg", ["0.5 mm", f"{0.5 / 25.4!r} in", "0.50000000001 mm"])
def test_the_least_leg_is_taken_in_either_unit(leg: str) -> None:
    done = run_command("fillet", "--line", "0 0 100 0 mm", "--leg", leg, "--sheet", "1 mm", "--grade", "DC04", "--filler", "E70",
                       "--force", "50 0 0 N", "--at", "50 0 0 mm", "--json")  # fmt: skip
    assert done.code in (0, 1), done.err
