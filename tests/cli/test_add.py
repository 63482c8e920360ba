"""`jointcalc add`: asked through a real terminal and from a pipe; what stands in the file stays."""

from __future__ import annotations

import io
import json
import os
import pty
import select
import shlex
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from tests.docs.blocks import run_line

HEAD = """# kept as it is
[project]
title = "Left sill"   # and this
units = "metric"

[sheet.sill]
thickness = "1.2 mm"
grade = "DC04"

[sheet.rail]
grade = "S355MC"
thickness = "2 mm"
coating = "Z100"

[[case]]
id = "jack"
title = "Jacked"
load_factor = 1.35
"""


@pytest.fixture
def project(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    file = tmp_path / "project.toml"
    file.write_text(HEAD, encoding="utf-8")
    return file


def piped(kind: str, answers: list[str], monkeypatch: pytest.MonkeyPatch, more: str = "") -> tuple[int, str, str]:
    monkeypatch.setattr(sys, "stdin", io.StringIO("".join(f"{one}\n" for one in answers)))
    return run_line(f"jointcalc add {kind} project.toml {more}")


class Terminal:
    """The command in a terminal of its own: waits for a prompt, types an answer."""

    def __init__(self, line: str) -> None:
        self.handle, inner = pty.openpty()
        run = [sys.executable, "-m", "jointcalc", *shlex.split(line)]
        self.process = subprocess.Popen(run, stdin=inner, stdout=inner, stderr=inner, start_new_session=True)
        os.close(inner)
        self.seen = ""

    def until(self, prompt: str) -> str:
        """What is printed up to a prompt."""
        while prompt not in self.seen:
            if not select.select([self.handle], [], [], 60)[0]:
                raise AssertionError(f"no {prompt!r} in {self.seen!r}")
            try:
                got = os.read(self.handle, 65536)
            except OSError:  # Linux says so when the other end has closed
                got = b""
            assert got, f"ended without {prompt!r}: {self.seen!r}"
            self.seen += got.decode()
        before, _, self.seen = self.seen.partition(prompt)
        return before

    def answer(self, prompt: str, text: str) -> str:
        """What was printed before a prompt, which is then answered."""
        before = self.until(prompt)
        os.write(self.handle, f"{text}\n".encode())
        return before

    def interrupted(self) -> None:
        """Ctrl-C, again until it is heard: one between a prompt and its reading is heard at the next key only."""
        for _ in range(20):
            self.process.send_signal(2)
            try:
                self.process.wait(3)
                return
            except subprocess.TimeoutExpired:
                continue

    def ends(self) -> int:
        try:
            return self.process.wait(60)
        finally:
            self.process.kill()  # only where it has not ended
            self.process.wait()
            os.close(self.handle)


def test_a_seam_in_a_terminal_with_a_step_back_and_a_slip(project: Path) -> None:
    old = project.read_bytes()
    at = Terminal("add seam project.toml")
    at.answer("id [S1]>", "")
    at.answer("title>", "Inner to outer sill")
    assert "sill: 1.2 mm DC04" in at.answer("sheets>", "sil, sill")
    assert "did you mean 'sill'" in at.answer("sheets>", "sill, sill")
    at.answer("weld_diameter [usual]>", "")
    assert "[LENGTH]" in at.answer("length>", "900")
    assert "not so" in at.answer("length>", "900 mm")
    at.answer("pitch>", "60 mm")
    at.answer("edge>", "back")
    assert "[PITCH]" in at.answer("pitch>", "30 mm")
    at.answer("edge>", "10 mm")
    assert "so far: no load given" in at.answer("shear>", "7 kN")
    assert "so far: holds, uses" in at.answer("across>", "")
    for prompt in ("peel>", "enters>"):
        at.answer(prompt, "")
    at.answer("case>", "jak")
    assert "jack" in at.answer("case>", "jack")
    for prompt in ("purpose>", "reason>"):
        at.answer(prompt, "")
    at.answer("done>", "")
    at.until("Added S1")
    assert at.ends() == 0
    new = project.read_bytes()
    assert new.startswith(old)
    assert tomllib.loads(new.decode())["seam"] == [
        {
            "id": "S1", "title": "Inner to outer sill", "sheets": ["sill", "sill"], "weld_diameter": "usual",
            "length": "900 mm", "pitch": "30 mm", "edge": "10 mm", "shear": "7 kN", "case": "jack",
        }
    ]  # fmt: skip


@pytest.mark.parametrize(("typed", "code"), [(b"quit\n", 0), (b"\x04", 2), (b"\x03", 130)])
def test_whoever_leaves_writes_nothing(project: Path, typed: bytes, code: int) -> None:
    """`quit`, Ctrl-D and Ctrl-C in a terminal."""
    old = project.read_bytes()
    at = Terminal("add plug project.toml")
    # a terminal of its own, so that Ctrl-C reaches the process
    at.answer("id [P1]>", "P7")
    at.until("title>")
    if typed == b"\x03":
        at.interrupted()
    else:
        os.write(at.handle, typed)
    assert at.ends() == code
    assert project.read_bytes() == old
    assert [one.name for one in project.parent.iterdir()] == ["project.toml"]


KINDS = {
    "plug": ["P1", "", "sill, rail", "8 mm", "600 mm", "40 mm", "12 mm", "", "6 kN", "", "", "jack", "", "", ""],
    "fillet": [
        "", "", "0 0 100 0 mm", "3 mm S355MC", "", "4 mm", "ER70S-6", "0 -2 0 kN", "50 0 0 mm", "", "", "", "", "", "",
    ],
    "bolts": [
        "", "", "0 0 mm; 60 0 mm", "M8 8.8", "sill", "30 mm", "200 mm", "large", "", "1 0 0.2 kN", "30 0 20 mm", "", "",
        "", "", "",
    ],
    "brace": [
        "", "", "hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm", "DC04", "800 mm", "", "300 N @ 400 mm", "",
        "crown-up", "webs", "both", "40 mm", "L/160", "jack", "", "", "",
    ],
    "mount": [
        "", "Battery", "0 0 0 mm; 300 0 0 mm; 0 200 0 mm; 300 200 0 mm", "18 kg", "150 100 120 mm", "", "0 0 -3 g", "",
        "", "M8 8.8", "sill", "30 mm", "200 mm", "60 60 4 mm", "", "", "",
    ],
    "panel": ["", "", "400 300 mm", "rail", "", "", "", "0.2 kPa", "", "", "", "", "", ""],
}  # fmt: skip


@pytest.mark.parametrize("kind", KINDS)
def test_answers_from_a_pipe_and_the_command_that_does_the_same(
    kind: str, project: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The item in the file and the command shown are judged alike, to the digit."""
    old = project.read_bytes()
    code, out, err = piped(kind, KINDS[kind], monkeypatch)
    assert code == 0, out + err
    assert project.read_bytes().startswith(old)
    shown = next(line.strip() for line in out.splitlines() if line.startswith(f"  jointcalc {kind} "))
    of_command = json.loads(run_line(f"{shown} --json")[1])
    of_command = of_command.get("items", [of_command])[0]  # a command that compares gives a list
    of_file = json.loads(run_line("jointcalc check project.toml --json")[1])["items"][0]
    assert of_command["checks"]
    assert [(c["key"], c["demand"], c["capacity"], c["status"]) for c in of_command["checks"]] == [
        (c["key"], c["demand"], c["capacity"], c["status"]) for c in of_file["checks"]
    ]


def test_an_id_twice_and_a_wrong_answer_end_a_pipe(project: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert piped("plug", KINDS["plug"], monkeypatch)[0] == 0
    old = project.read_bytes()
    code, _, err = piped("plug", KINDS["plug"], monkeypatch)
    assert code == 2
    assert "'P1' is the id of another item" in err
    code, _, err = piped("plug", ["P2", "", "sill, sell"], monkeypatch)
    assert code == 2
    assert "did you mean 'sill'" in err
    code, _, err = piped("plug", ["P2", ""], monkeypatch)
    assert code == 2
    assert "nothing was written" in err
    code, out, _ = piped("plug", ["P2", *KINDS["plug"][1:]], monkeypatch, "--show-command")
    assert code == 0
    assert "Nothing was written." in out
    assert project.read_bytes() == old


def test_a_file_changed_meanwhile_is_left_as_it_is(project: Path) -> None:
    from jointcalc.errors import InputError
    from jointcalc.model.append import append

    old = project.read_bytes()
    project.write_bytes(old + b"# by another hand\n")
    with pytest.raises(InputError, match="was changed meanwhile"):
        append(project, old, "seam", {"id": "S1"})
    assert project.read_bytes() == old + b"# by another hand\n"


@pytest.mark.parametrize("old", [b"", b"\xef\xbb\xbf# mark\r\n[project]\r\ntitle = 'x'", b"a = 1"])
def test_bytes_stay_and_line_ends_are_kept(tmp_path: Path, old: bytes) -> None:
    from jointcalc.model.append import append

    file = tmp_path / "project.toml"
    file.write_bytes(old)
    entry = {"id": 'a "b" \\ ü', "n": 3, "part": 0.1, "yes": True, "sheets": ["x", {"thickness": "1 mm"}]}
    append(file, old, "seam", entry)
    new = file.read_bytes()
    assert new.startswith(old)
    assert tomllib.loads(new.decode("utf-8-sig"))["seam"] == [entry]
    assert (b"\r\n[[seam]]\r\n" in new) == (b"\r\n" in old)


def test_a_list_on_one_line_takes_none_behind_it(tmp_path: Path) -> None:
    """TOML 1.0: an array written as a value is closed."""
    from jointcalc.errors import InputError
    from jointcalc.model.append import append

    file = tmp_path / "project.toml"
    old = b'seam = [{ id = "S1" }]\n'
    file.write_bytes(old)
    with pytest.raises(InputError, match="none can be put behind"):
        append(file, old, "seam", {"id": "S2"})
    assert file.read_bytes() == old


@pytest.mark.parametrize(
    ("cases", "shown"),
    [
        (
            '[[case]]\nid = "bump"\ntitle = "Bump"\nacceleration = "0 0 -3 g"\nload_factor = 1.2\n',
            "--acceleration '0 0 -3 g'",
        ),
        ('[[case]]\nid = "crash"\nuse = "traction-battery-un"\n', "--case traction-battery-un"),
    ],
)
def test_a_mount_under_a_case_of_its_file_has_its_command(
    cases: str, shown: str, project: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    project.write_text(HEAD + cases, encoding="utf-8")
    told = ["", "", *KINDS["mount"][2:5], cases.split('"')[1], "", *KINDS["mount"][7:]]
    code, out, err = piped("mount", told, monkeypatch)
    assert code == 0, out + err
    line = next(one.strip() for one in out.splitlines() if one.startswith("  jointcalc mount "))
    assert shown in line
    assert "[MASS]" in out
    of_command = json.loads(run_line(f"{line} --json")[1])
    of_file = json.loads(run_line("jointcalc check project.toml --json")[1])["items"][0]
    kept = [
        [(c["key"], c["demand"], c["required_factor"], c["status"]) for c in one["checks"]]
        for one in (of_command, of_file)
    ]
    assert kept[0] == kept[1]


def test_a_fault_of_the_file_is_told_as_the_files(project: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Before the first question: it was told at the end, as if the item had no title."""
    project.write_text(f'{HEAD}[[case]]\nid = "bump"\nacceleration = "0 0 -3 g"\n', encoding="utf-8")
    code, out, err = piped("seam", [""], monkeypatch)
    assert (code, out) == (2, "")
    assert "[[case]] bump: title" in err


def test_the_size_of_the_last_item_of_its_kind_is_told(project: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A pitch, a hole: what the shop did before; never a load."""
    assert piped("plug", KINDS["plug"], monkeypatch)[0] == 0
    out = piped("plug", ["", "", "", "8 mm", "600 mm", ""], monkeypatch)[1]
    assert "  P1 has: 40 mm" in out
    assert "  P1 has: 8 mm" in out
    assert "P1 has: 6 kN" not in piped("plug", ["", "", "", "8 mm", "600 mm", "", "6", "", ""], monkeypatch)[1]


@pytest.mark.parametrize(
    ("kind", "field"),
    [("brace", "lies"), ("brace", "over"), ("brace", "held"), ("brace", "span"), ("mount", "between"), ("mount", "feet"),
     ("seam", "edge")],
)  # fmt: skip
def test_what_is_asked_is_drawn(kind: str, field: str) -> None:
    from jointcalc.show.ask import picture

    lines = picture(kind, field)
    assert len(lines) >= 3
    assert sum(line.count(f"[{field.upper()}]") for line in lines) == 1
    assert max(map(len, lines)) < 78


def test_a_brace_that_carries_nothing_yet_is_not_said_to_give(project: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    answers = ["B1", "", "hat:top=50mm,depth=40mm,flange=25mm,t=1.5mm,r=2mm", "S355MC", "1000 mm", "quit"]
    _, out, _ = piped("brace", answers, monkeypatch)
    assert "so far: no load given; first to give would be: " in out


def test_questions_fit_the_terminal_and_no_word_is_cut(monkeypatch: pytest.MonkeyPatch) -> None:
    shown = {}
    for width in (60, 200):
        monkeypatch.setattr("shutil.get_terminal_size", lambda *_, wide=width: os.terminal_size((wide, 24)))
        _, out, _ = run_line("jointcalc add mount --questions")
        assert max(map(len, out.splitlines())) <= width
        shown[width] = out.split()
    assert shown[60] == shown[200]
