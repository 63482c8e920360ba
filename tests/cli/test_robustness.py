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


def _numbers() -> list[tuple[str, str]]:
    """(table, field) of every field of the file's tables that takes no truth value."""

    from jointcalc.model.project import About, LoadCase
    from jointcalc.model.sheet import Sheet
    from jointcalc.model.takes import takes
    from jointcalc.registry import KINDS, PIECES, load

    models = {name: load(record.model) for name, record in {**KINDS, **PIECES}.items()}
    models |= {"project": About, "case": LoadCase, "sheet": Sheet}
    return [
        (table, name)
        for table, model in models.items()
        for name, field in model.model_fields.items()
        if not takes(field.annotation, bool)
    ]


@pytest.mark.parametrize(("table", "name"), _numbers())
@pytest.mark.parametrize("value", [True, False, [True], [[False]]])
def test_no_field_takes_a_truth_value_for_something_else(table: str, name: str, value: object) -> None:
    entry = {name: value}
    data: dict[str, object] = {"project": {"title": "T"}}
    data[table] = {"title": "T", **entry} if table == "project" else {"A": entry} if table == "sheet" else [entry]
    with pytest.raises(InputError) as refused:
        read_project(data)
    told = [f for f in getattr(refused.value, "faults", [refused.value]) if name in str(f)]
    assert told, str(refused.value)


def test_a_share_is_no_truth_value() -> None:
    with pytest.raises(InputError, match="shares: one of the list is a truth value; accepted is a number"):
        read_project(project(sheets=[{"thickness": "1.2 mm", "grade": "DC04"}] * 3, shares=[True, 0.6]))


def test_what_the_field_takes_is_said() -> None:
    with pytest.raises(InputError, match="edge: true is a truth value; accepted is a text with a unit, such as '9 mm'"):
        read_project(project(edge=True))


@pytest.mark.parametrize("value", [1, 0, 1.0, "yes", "true", "off"])
def test_nothing_else_is_a_truth_value(value: object) -> None:
    with pytest.raises(InputError, match="coupons: true or false is needed, without quotes; given was "):
        read_project(project(coupons=value))


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


@pytest.mark.parametrize("name", ["alternatives", "purpose", "reason", "photo"])
def test_nor_does_a_text_in_a_list(name: str) -> None:
    with pytest.raises(InputError, match="cannot be seen"):
        read_project(project(**{name: ["fine", "not\x1b[31m"] if name == "alternatives" else "not\x1b[31m"}))


@pytest.mark.parametrize("name", ["S1\nS2 holds", "S\t1", "S\r1", "S\u200b1", "S\u00a01", "\ufeffS1"])
def test_an_id_is_one_line_that_can_be_read(name: str) -> None:
    with pytest.raises(InputError, match="cannot be seen"):
        read_project(project(id=name))


@pytest.mark.parametrize("other", ["S1 ", " S1", "S 1", "e\u0301"])
def test_ids_that_look_alike_are_the_same(other: str) -> None:
    first = {"S 1": "S  1", "e\u0301": "\u00e9"}.get(other, "S1")
    data = project(id=first)
    data["seam"].append({**SEAM, "id": other})  # type: ignore[attr-defined]
    with pytest.raises(InputError, match="used twice"):
        read_project(data)


def test_a_title_of_two_lines_makes_no_second_row(tmp_path: Path) -> None:
    file = tmp_path / "p.toml"
    file.write_text(
        '[project]\ntitle = "T\\nS9  everything  holds"\n[[seam]]\n'
        'id = "S1"\ntitle = "A\\n  S2 holds"\nsheets = [{thickness = "1.2 mm", grade = "DC04"}, {thickness = "1.2 mm", '
        'grade = "DC04"}]\nweld_diameter = "5.5 mm"\npitch = "40 mm"\nlength = "600 mm"\nedge = "9 mm"\nshear = "3 kN"\n',
        encoding="utf-8",
    )
    done = run_command("check", str(file))
    assert done.code == 0, done.err
    assert not [line for line in done.out.splitlines() if line.lstrip().startswith(("S2", "S9"))]
    assert "A S2 holds" in done.out


UNSEEN = "\x1b[2J\a\b\x9b31m\u202e"


@pytest.mark.parametrize("args", [
    ["seam", "--sheet", UNSEEN], ["seam", f"--{UNSEEN}"], [UNSEEN], ["check", UNSEEN], ["check", f"{UNSEEN}.toml"],
    ["tables", UNSEEN], ["brace", "--profile", f"hat:top={UNSEEN}"], ["dossier", UNSEEN], ["layout", UNSEEN],
])  # fmt: skip
def test_what_was_typed_is_told_back_harmless(args: list[str]) -> None:
    done = run_command(*args)
    assert (done.code, done.out) == (2, "")
    assert not any(c in done.err for c in UNSEEN if not c.isprintable()), repr(done.err)


@pytest.mark.parametrize("colour", ["", "1"])
def test_a_folder_of_an_odd_name_is_printed_harmless(tmp_path: Path, colour: str) -> None:
    folder = tmp_path / "a\x07\x1b]0;b"
    done = run_command("new", str(folder), **({"FORCE_COLOR": colour} if colour else {}))
    assert done.code == 0, done.err
    assert "\x07" not in done.out
    assert "\x1b]" not in done.out
    made = run_command("layout", str(folder / "project.toml"), **({"FORCE_COLOR": colour} if colour else {}))
    assert "\x07" not in made.out + made.err
    assert "\x1b]" not in made.out + made.err


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


@pytest.mark.skipif(os.name != "posix", reason="shell")
@pytest.mark.parametrize("command", [COMMAND, ["seam", "--pitch", "x"], ["--help"]])
def test_stderr_closed(command: list[str]) -> None:
    done = subprocess.run(
        ["sh", "-c", '"$0" -m jointcalc "$@" 2>&-', sys.executable, *command],
        capture_output=True, text=True, check=False, env={**os.environ, "PYTHONPATH": str(PACKAGE_PLACE)},
    )  # fmt: skip
    wrong = command[-1] == "x"
    assert done.returncode == (2 if wrong else 0)
    assert bool(done.stdout) is not wrong  # a message goes nowhere else


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


def test_a_set_half_put_in_place_is_put_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As where a viewer holds the last file open, which Windows does not replace."""
    names = [tmp_path / f"{n}.txt" for n in range(4)]
    for path in names[:3]:
        path.write_text("old", encoding="utf-8")
    replace, held = os.replace, str(names[2])

    def refuse(old: str, new: object) -> None:
        if str(new) == held:
            raise PermissionError(13, "Permission denied")
        replace(old, new)  # type: ignore[arg-type]

    monkeypatch.setattr(os, "replace", refuse)
    with pytest.raises(InputError, match="cannot be written: Permission denied"):
        write_files({names[3]: "new", **dict.fromkeys(names[:3], "new")})
    assert sorted(p.name for p in tmp_path.iterdir()) == ["0.txt", "1.txt", "2.txt"]
    assert {p.read_text(encoding="utf-8") for p in names[:3]} == {"old"}


@pytest.mark.skipif(os.name != "posix", reason="signals")
def test_an_interruption_waits_until_the_set_is_whole(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    import signal
    import threading

    names = [tmp_path / f"{n}.txt" for n in range(3)]
    for path in names:
        path.write_text("old", encoding="utf-8")
    replace = os.replace

    def interrupted(old: object, new: object) -> None:
        replace(old, new)  # type: ignore[arg-type]
        os.kill(os.getpid(), signal.SIGINT)

    monkeypatch.setattr(os, "replace", interrupted)
    before = signal.signal(signal.SIGINT, signal.default_int_handler)  # a suite in the background has it ignored
    # a second thread, as a test runner or a notebook has: the signal may come in by it
    done = threading.Event()
    other = threading.Thread(target=done.wait)
    other.start()
    try:
        with pytest.raises(KeyboardInterrupt):
            write_files(dict.fromkeys(names, "new"))
    finally:
        done.set()
        other.join()
    assert signal.getsignal(signal.SIGINT) is signal.default_int_handler
    signal.signal(signal.SIGINT, before)
    assert [p.read_text(encoding="utf-8") for p in names] == ["new"] * 3
    assert len(list(tmp_path.iterdir())) == 3


@pytest.mark.parametrize("leg", ["0.5 mm", f"{0.5 / 25.4!r} in", "0.50000000001 mm"])
def test_the_least_leg_is_taken_in_either_unit(leg: str) -> None:
    done = run_command("fillet", "--line", "0 0 100 0 mm", "--leg", leg, "--sheet", "1 mm", "--grade", "DC04", "--filler", "E70",
                       "--force", "50 0 0 N", "--at", "50 0 0 mm", "--json")  # fmt: skip
    assert done.code in (0, 1), done.err
