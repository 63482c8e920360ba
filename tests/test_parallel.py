"""Tasks shared out to forks: the same answers in the same order, whoever does them."""

from __future__ import annotations

import subprocess
import sys
import threading
from textwrap import dedent

import pytest

from jointcalc import parallel

linux = pytest.mark.skipif(sys.platform != "linux", reason="only Linux forks")

PROJECT = """
    import os
    from jointcalc import parallel
    from jointcalc.explore import beside
    from jointcalc.explore.beside import judge_each
    from jointcalc.errors import InputErrors
    from jointcalc.model.brace import Brace
    from jointcalc.model.seam import SpotSeam

    SHEETS = [{"thickness": "1.2 mm", "grade": "DC04"}] * 2
    SEAM = dict(sheets=SHEETS, weld_diameter="5.5 mm", pitch="40 mm", length="400 mm", edge="9 mm")
    HAT = "hat:top=50mm,depth=30mm,flange=20mm,t=1.5mm,r=2mm"
    items = [SpotSeam(**SEAM, id="S1", shear="5 kN")]
    items += [
        Brace(profile=HAT, grade="DC04", span=f"{n}00 mm", ends="pinned", point="1 kN @ 250 mm", id=f"B{n}",
              alternatives=["hat:top=60mm,depth=30mm,flange=20mm,t=1.5mm,r=2mm; wider"])
        for n in (5, 6, 7, 8, 9)
    ]
"""


def run(body: str) -> str:
    """What a program of its own prints: one without other threads, as the command line is."""
    done = subprocess.run(
        [sys.executable, "-c", dedent(PROJECT) + dedent(body)], check=False, capture_output=True, text=True
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


@linux
def test_items_judged_by_forks_are_those_judged_in_turn() -> None:
    out = run("""
        parallel._processors = lambda: 2
        here, heard = os.getpid(), []
        asked = parallel.workers([100.0] * 5)
        shared = judge_each(items, "all", done=lambda n, of: heard.append((n, of)))
        parallel._processors = lambda: 1
        alone = judge_each(items, "all")
        assert repr(shared) == repr(alone)
        assert [one.result.id for one in shared] == [item.id for item in items]
        assert all(one.others[0].result and one.changed[0].result for one in shared[1:])
        print(asked, heard[-1], os.getpid() == here)
        """)
    assert out.split("\\n")[0].strip() == "2 (6, 6) True"


@linux
def test_an_item_of_thinner_sheet_judged_by_another_is_the_one_judged_beside_it() -> None:
    out = run("""
        parallel._processors = lambda: 2
        parallel.WORTH_IT = 1.0
        from jointcalc.model.bolts import FastenerGroup
        # EN 1993-1-8 is for parts of 3 mm and more (from memory): less 8 % fewer methods judge
        plates = [{"thickness": "3 mm", "grade": "S355MC"}] * 2
        bolts = FastenerGroup(bolt="M8 8.8", sheets=plates, edge="20 mm", holes=["0 0 mm", "40 0 mm", "80 0 mm"],
                              force="3 0 0 kN", at="40 0 0 mm", id="G1")
        some = [bolts, *items[1:3]]
        parallel._processors = lambda: 1
        asked = ("thin", "changes", "all")
        alone = [judge_each(some, what) for what in asked]
        parallel._processors = lambda: 2
        beside.APART, heard = 1.0, []
        apart = [judge_each(some, what, done=lambda n, of: heard.append((n, of))) for what in asked]
        assert repr(apart) == repr(alone)
        print(heard[-1], [len(one.changed[0].lost) > 0 for one in apart[0]], [len(one[0].changed) for one in apart])
        """)
    assert out.strip() == "(6, 6) [True, False, False] [1, 3, 3]"


@linux
def test_each_fault_is_told_at_its_item_in_their_order() -> None:
    out = run("""
        parallel._processors = lambda: 3
        parallel.WORTH_IT = 50.0
        odd = [item.but(load=("from nowhere",)) if n in (1, 4) else item for n, item in enumerate(items)]
        try:
            judge_each(odd, where="floor.toml")
        except InputErrors as wrong:
            print([fault.where for fault in wrong.faults])
        """)
    assert out.strip() == "['floor.toml: B5', 'floor.toml: B8']"


@linux
def test_what_a_killed_worker_leaves_is_done_here() -> None:
    out = run("""
        parallel._processors = lambda: 2
        here = os.getpid()

        def work(n):
            if n == 1 and os.getpid() != here:
                os.kill(os.getpid(), 9)
            return n * n

        print(parallel.share_out(work, [0, 1, 2, 3], [100.0] * 4))
        """)
    assert out.strip() == "[0, 1, 4, 9]"


def test_little_work_and_a_process_with_threads_are_not_forked(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(parallel, "_processors", lambda: 4)
    assert parallel.workers([1.0] * 200) == 1
    stop = threading.Event()
    other = threading.Thread(target=stop.wait)
    other.start()
    try:
        assert parallel.workers([100.0] * 10) == 1
        assert parallel.share_out(lambda n: n + 1, [1, 2], [500.0, 500.0]) == [2, 3]
    finally:
        stop.set()
        other.join()


@linux
def test_a_mount_finds_what_carries_it_judged_by_the_workers() -> None:
    out = run("""
        from importlib.resources import as_file, files
        from jointcalc.model.project import load_project
        parallel.WORTH_IT = 1.0
        with as_file(files("jointcalc.starter") / "demo.toml") as file:
            every = load_project(file).items
        some = [item for item in every if item.id in ("bench", "S1", "M1")]
        parallel._processors = lambda: 1
        alone = judge_each(some)
        some[0].links.clear()
        parallel._processors = lambda: 2
        shared = judge_each(some)
        assert repr(shared) == repr(alone)
        print([one.result.id for one in shared], some[0].links["M1"] is shared[-1].result)
        """)
    assert out.strip() == "['bench', 'S1', 'M1'] True"
