"""Mutation testing of jointcalc/formula, section and check.

    python -m tests.mutation.run WORK [--size N] [--jobs 2] [--only REGEX] [--again]

WORK keeps the results between runs (`map.json`, `results.json`); `report.py` reads them.  Nothing on the disk is changed:
a process is forked for each mutant, the changed function's code object is put in place of the original's, and the tests
that reach the changed statement run in that process until one fails.  So the operators are mutmut's, but not its runner:
its wrapper hides a function's signature, which the formula registry reads, and it skips decorated functions.

1. The tests run once under coverage with one context per test: which test reaches which line, and how long it takes.
2. Each mutant inside a function gets the tests that reach its statement, those of its own folder first, quickest first.
3. Each mutant of a number at the level of a module (ends of a range of validity, constants) is imported afresh into a
   process that has not seen jointcalc, and gets the tests that reach the module.

What runs: tests/formula, section, check, statics and the published and derived cases of tests/validation.  What does not:
tests marked `mirror` (they hold the printed text against the code and would kill every change without knowing physics;
only `formula.core`, `printed` and `syntax`, which do the printing, meet them), and everything that compares documents,
drawings, tables or the command line's output.
"""

from __future__ import annotations

import argparse
import ast
import faulthandler
import gc
import json
import os
import random
import re
import resource
import signal
import sys
import time
import types
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import pytest

ROOT = Path(__file__).resolve().parents[2]
LAYERS = ("formula", "section", "check")
FOLDERS = ("tests/formula", "tests/section", "tests/check", "tests/statics", "tests/validation")
LEFT_OUT = (
    "tests/validation/test_gate",  # tests the gate's own instruments, not the engineering
    "tests/section/test_section_batch.py::test_memory_does_not_grow_with_the_count",  # seconds, and about memory only
)
QUIET = ["-o", "addopts=", "-x", "-p", "no:cacheprovider", "-p", "no:terminal", "-p", "no:xdist"]
SEED = "jointcalc"
KILLED, SURVIVED, TIMEOUT, UNREACHED = "killed", "survived", "timeout", "not reached"
PRINTING = ("jointcalc.formula.core", "jointcalc.formula.printed", "jointcalc.formula.syntax")
MOST_FILES = 5  # of tests for one mutant at the level of a module
MOST_SECONDS = 25.0  # of tests for one mutant, by the durations of step 1


def modules() -> list[Path]:
    """The files under test."""
    return [p for layer in LAYERS for p in sorted((ROOT / "jointcalc" / layer).rglob("*.py")) if p.stat().st_size > 60]


def forget() -> None:
    """Empty the caches of the layers under test, so that a changed function is called and not remembered."""
    for name, module in list(sys.modules.items()):
        if name.startswith(("jointcalc.formula", "jointcalc.section", "jointcalc.statics", "jointcalc.check")):
            for value in list(vars(module).values()):
                clear = getattr(value, "cache_clear", None)
                if clear is not None:
                    clear()


# --- 1. which test reaches which line ------------------------------------------------------------------------------


class _Mapper:
    """Runs every test under coverage, one context each."""

    def __init__(self, out: Path, share: int, shares: int) -> None:
        self.out, self.share, self.shares = out, share, shares
        self.failing: list[str] = []

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        import coverage

        # a test's neighbours share its fixtures, so whole files go to one worker
        files = sorted({i.path for i in session.items})
        mine = set(files[self.share :: self.shares])
        items = [i for i in session.items if i.path in mine and not i.nodeid.startswith(LEFT_OUT)]
        cover = coverage.Coverage(
            data_file=None, include=[str(ROOT / "jointcalc" / layer / "*") for layer in LAYERS], config_file=False
        )
        seconds: dict[str, float] = {}
        cover.start()
        for number, item in enumerate(items):
            forget()
            cover.switch_context(item.nodeid)
            started = time.process_time()  # other work on the machine is no part of a test
            item.config.hook.pytest_runtest_protocol(
                item=item, nextitem=items[number + 1] if number + 1 < len(items) else None
            )
            seconds[item.nodeid] = time.process_time() - started
        cover.stop()
        data = cover.get_data()
        reach: dict[str, dict[int, list[str]]] = {}
        for file in data.measured_files():
            by_line = data.contexts_by_lineno(file)
            name = str(Path(file).relative_to(ROOT))
            reach[name] = {line: sorted(c for c in contexts if c) for line, contexts in by_line.items()}
        mirrors = [i.nodeid for i in items if i.get_closest_marker("mirror")]
        found = {"seconds": seconds, "reach": reach, "mirrors": mirrors, "failing": self.failing}
        self.out.write_text(json.dumps(found), encoding="utf-8")
        return True

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.failed:
            self.failing.append(report.nodeid)
            print(f"fails without any mutant, so it is left out: {report.nodeid}", file=sys.stderr)


def make_map(work: Path, jobs: int, places: tuple[str, ...] = FOLDERS) -> dict[str, Any]:
    """Step 1, in `jobs` processes; of `places` only, it is added to the map that is there."""
    pids = []
    for share in range(jobs):
        pid = os.fork()
        if not pid:
            arguments = [a for a in QUIET if a != "-x"] + [str(ROOT / f) for f in places if (ROOT / f).exists()]
            pytest.main([f"--rootdir={ROOT}", *arguments], plugins=[_Mapper(work / f"map{share}.json", share, jobs)])
            os._exit(0)
        pids.append(pid)
    for pid in pids:
        os.waitpid(pid, 0)
    whole: dict[str, Any] = {"seconds": {}, "reach": {}, "mirrors": [], "failing": []}
    if places != FOLDERS:
        whole |= json.loads((work / "map.json").read_text(encoding="utf-8"))
    for share in range(jobs):
        part = json.loads((work / f"map{share}.json").read_text(encoding="utf-8"))
        whole["seconds"] |= part["seconds"]
        whole["mirrors"] += part["mirrors"]
        whole["failing"] += part["failing"]
        for file, lines in part["reach"].items():
            mine = whole["reach"].setdefault(file, {})
            for line, tests in lines.items():
                mine.setdefault(line, []).extend(tests)
    (work / "map.json").write_text(json.dumps(whole), encoding="utf-8")
    return whole


def reaching(where: dict[str, Any], mutant: Any, match: str = "") -> list[str]:
    """The tests that reach the mutant, those of its own folder first, quickest first, up to `MOST_SECONDS`."""
    file = mutant.module.replace(".", "/") + ("/__init__.py" if mutant.module == "jointcalc.check" else ".py")
    lines = where["reach"].get(file, {})
    if mutant.owner:
        found = {t for line in range(mutant.first, mutant.last + 1) for t in lines.get(str(line), ())}
    else:
        found = {t for tests in lines.values() for t in tests}
    found = {t for t in found - set(where["failing"]) if re.search(match, t)}
    if mutant.module not in PRINTING:
        found -= set(where["mirrors"])
    own = f"tests/{mutant.module.split('.')[1]}/"
    ranked = sorted(found, key=lambda t: (not t.startswith((own, "tests/validation")), where["seconds"].get(t, 9.0), t))
    chosen, spent = [], 0.0
    for test in ranked:
        spent += where["seconds"].get(test, 1.0)
        if chosen and spent > MOST_SECONDS:
            break
        chosen.append(test)
    return chosen


# --- 2. and 3. one mutant, one process -----------------------------------------------------------------------------


def put_in_place(mutant: Any) -> None:
    """The changed function's code in place of the original's; every reference to the function then runs it."""
    module = sys.modules[mutant.module]
    body: list[Any] = ast.parse(mutant.source).body
    node: Any = None
    for part in mutant.owner.split("."):
        node = [n for n in body if isinstance(n, ast.FunctionDef | ast.ClassDef) and n.name == part][-1]
        body = node.body
        if isinstance(node, ast.FunctionDef):
            break  # a function inside a function changes with the outer one
    names = mutant.owner.split(".")
    node.decorator_list = []
    scope = dict(vars(module))
    flag = __import__("__future__").annotations.compiler_flag
    file = str(module.__file__)
    tree = ast.fix_missing_locations(ast.Module([node], []))
    exec(compile(tree, file, "exec", flags=flag, dont_inherit=True), scope)
    new = scope[node.name]
    holder: Any = module
    if names[0] != node.name:
        holder = getattr(module, names[0])
        old = holder.__dict__[node.name]
    else:
        old = vars(module)[node.name]
    for inner in ("fget", "func", "__func__", "__wrapped__"):
        if not isinstance(old, types.FunctionType) and hasattr(old, inner):
            old = getattr(old, inner)
    if old.__code__.co_freevars:  # a method that calls super() closes over its class
        outer = ast.parse("def _around(__class__):\n    return None").body[0]
        assert isinstance(outer, ast.FunctionDef)
        outer.body = [node, ast.Return(ast.Name(node.name, ast.Load()))]
        tree = ast.fix_missing_locations(ast.Module([outer], []))
        exec(compile(tree, file, "exec", flags=flag, dont_inherit=True), scope)
        new = scope["_around"](None)
    old.__code__, old.__defaults__, old.__kwdefaults__ = new.__code__, new.__defaults__, new.__kwdefaults__


def _in_child(seconds: float) -> None:
    faulthandler.disable()
    # the processor's seconds, not the clock's: other work on the machine must not look like a mutant that hangs
    limit = max(2, int(seconds))
    resource.setrlimit(resource.RLIMIT_CPU, (limit, limit + 5))
    null = os.open(os.devnull, os.O_WRONLY)
    os.dup2(null, 1)
    os.dup2(null, 2)


class _Verdict:
    """Ends the process at the first failure and says which test it was."""

    def __init__(self, pipe: int) -> None:
        self.pipe = pipe

    def say(self, text: str, code: int) -> None:
        os.write(self.pipe, text.encode()[:4000])
        os._exit(code)

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.failed:
            self.say(report.nodeid, 1)

    def pytest_collectreport(self, report: pytest.CollectReport) -> None:
        if report.failed:
            self.say(f"collection of {report.nodeid}", 1)


class Pool:
    """At most `jobs` children; each answers over a pipe."""

    def __init__(self, jobs: int, done: Any) -> None:
        self.jobs, self.done = jobs, done
        self.running: dict[int, tuple[Any, int, float]] = {}

    def wait(self, until: int) -> None:
        while len(self.running) > until:
            pid, status = os.wait()
            if pid not in self.running:
                continue
            mutant, pipe, started = self.running.pop(pid)
            said = os.read(pipe, 4096).decode()
            os.close(pipe)
            if os.WIFSIGNALED(status):
                verdict = TIMEOUT if os.WTERMSIG(status) == signal.SIGXCPU else KILLED
            else:
                verdict = {0: SURVIVED, 1: KILLED}.get(os.WEXITSTATUS(status), f"error: {said}")
            self.done(mutant, verdict, said, time.perf_counter() - started)

    def start(self, mutant: Any, work: Any) -> None:
        self.wait(self.jobs - 1)
        reader, writer = os.pipe()
        pid = os.fork()
        if not pid:
            os.close(reader)
            try:
                work(writer)
            except SystemExit as stop:
                os.write(writer, f"exit {stop.code}".encode())
                os._exit(3)
            except BaseException as error:  # a mutant that cannot even be put in place is an error of ours
                os.write(writer, f"{type(error).__name__}: {error}".encode()[:4000])
                os._exit(3)
            os._exit(0)
        os.close(writer)
        self.running[pid] = (mutant, reader, time.perf_counter())


class _Switcher:
    """Takes over pytest's loop: all tests are collected once, then a child for each mutant."""

    def __init__(self, queue: Iterator[tuple[Any, list[str], float]], pool: Pool) -> None:
        self.queue, self.pool = queue, pool

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        items = {i.nodeid: i for i in session.items}
        manager = session.config.pluginmanager
        gc.freeze()
        for mutant, tests, limit in self.queue:
            chosen = [items[t] for t in tests if t in items]

            def work(pipe: int, mutant: Any = mutant, chosen: Any = chosen, limit: float = limit) -> None:
                _in_child(limit)
                verdict = _Verdict(pipe)
                manager.register(verdict)
                try:
                    put_in_place(mutant)
                except (SyntaxError, ValueError) as error:
                    os.write(pipe, f"not put in place: {error}".encode())
                    os._exit(3)
                forget()
                for number, item in enumerate(chosen):
                    item.config.hook.pytest_runtest_protocol(
                        item=item, nextitem=chosen[number + 1] if number + 1 < len(chosen) else None
                    )

            self.pool.start(mutant, work)
        self.pool.wait(0)
        return True


class _Changed:
    """Imports one module from a changed text."""

    def __init__(self, mutant: Any) -> None:
        self.mutant = mutant

    def find_spec(self, name: str, path: Any = None, target: Any = None) -> Any:
        if name != self.mutant.module:
            return None
        from importlib.machinery import PathFinder, SourceFileLoader

        spec = PathFinder.find_spec(name, path)
        assert spec is not None
        assert spec.origin is not None
        source = self.mutant.source

        class Loader(SourceFileLoader):
            def get_code(self, fullname: str) -> Any:
                return compile(source, self.path, "exec", dont_inherit=True)

        spec.loader = Loader(name, spec.origin)
        return spec


def _fresh(mutant: Any, tests: list[str], limit: float, pipe: int) -> None:
    _in_child(limit)
    sys.meta_path.insert(0, _Changed(mutant))
    # whole files, those with most of the module's tests first: to name thousands of tests one by one takes longer
    counts = Counter(t.partition("::")[0] for t in tests)
    files = [str(ROOT / name) for name, _ in counts.most_common(MOST_FILES)]
    mirrored = () if mutant.module in PRINTING else ("-m", "not mirror")
    loaded = ("-W", "ignore::pytest.PytestAssertRewriteWarning")  # hypothesis was, before the fork
    code = pytest.main([f"--rootdir={ROOT}", *QUIET, *loaded, *mirrored, *files], plugins=[_Verdict(pipe)])
    if code not in (0, pytest.ExitCode.OK):
        os.write(pipe, f"pytest ends with {code}".encode())
        os._exit(1 if code == pytest.ExitCode.INTERNAL_ERROR else 3)


# --- the run -------------------------------------------------------------------------------------------------------


def sample(everything: list[Any], size: int) -> list[Any]:
    """`size` mutants, the same ones in every run; the order is random so that a prefix is a sample too."""
    shuffled = sorted(everything, key=lambda m: m.number)
    random.Random(f"{SEED} {shuffled[0].module if shuffled else ''}").shuffle(shuffled)
    return shuffled[:size] if size else shuffled


def main() -> int:
    """Runs what `results.json` does not hold yet."""
    asked = argparse.ArgumentParser()
    asked.add_argument("work", type=Path)
    asked.add_argument("--size", type=int, default=0, help="mutants of a module, 0 = all of them")
    asked.add_argument("--jobs", type=int, default=2)
    asked.add_argument("--only", default="", help="modules whose dotted name matches")
    asked.add_argument("--again", action="store_true", help="also those that survived before")
    asked.add_argument(
        "--with", dest="with_", default="", help="those that survived meet only tests that match (new ones)"
    )
    asked.add_argument("--remap", action="store_true", help="run step 1 again (after tests were added)")
    asked.add_argument("--extend", nargs="*", default=(), help="run step 1 for these test files only (new ones)")
    asked.add_argument("--constants", action="store_true", help="the numbers at the level of the modules instead")
    asked.add_argument("--control", action="store_true", help="unchanged code, once a module: every one must survive")
    asked.add_argument("--minutes", type=float, default=0.0, help="start no mutant after this time")
    given = asked.parse_args()
    work: Path = given.work.resolve()
    work.mkdir(parents=True, exist_ok=True)
    sys.path.insert(0, str(ROOT))
    os.chdir(ROOT)
    stop = time.monotonic() + given.minutes * 60 if given.minutes else float("inf")

    place = work / "map.json"
    if given.remap or not place.exists():
        make_map(work, given.jobs)
    elif given.extend:
        make_map(work, given.jobs, tuple(given.extend))
    where = json.loads(place.read_text(encoding="utf-8"))

    from tests.mutation.mutants import Mutant, mutants_of, with_source

    results_at = work / ("control.json" if given.control else "results.json")
    results: dict[str, Any] = json.loads(results_at.read_text()) if results_at.exists() else {}
    counted_at = work / "population.json"
    population: dict[str, Any] = json.loads(counted_at.read_text()) if counted_at.exists() else {}
    known: list[tuple[Any, Path]] = []
    new: list[tuple[Any, Path]] = []
    for path in modules():
        module = ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")
        if not re.search(given.only, module):
            continue
        everything, left_out = mutants_of(path, ROOT)
        inside = [m for m in everything if m.owner]
        outside = [m for m in everything if not m.owner]
        population[module] = {"functions": len(inside), "constants": len(outside), **left_out}
        if given.control:
            new += [(m, path) for m in inside[:1]]
        elif given.constants:  # a function that only runs while the module is imported is tried the same way
            unreached = [m for m in inside if results.get(m.name, {}).get("verdict") == UNREACHED]
            new += [(m, path) for m in [*sample(outside, given.size), *unreached]]
        else:
            known += [(m, path) for m in inside if m.name in results]
            new += [(m, path) for m in sample(inside, given.size) if m.name not in results]
    plan = known + new  # what survived before comes first
    counted_at.write_text(json.dumps(population, indent=1), encoding="utf-8")
    # a mutant is known by its place and by the text of its line, so an edit of the module starts it afresh
    tally: Counter[str] = Counter()
    started = time.monotonic()

    def done(mutant: Any, verdict: str, said: str, seconds: float) -> None:
        tally[verdict.partition(":")[0]] += 1
        old = results.get(mutant.name, {})
        once = old.get("once") or (old.get("verdict") == SURVIVED)
        results[mutant.name] = {
            "module": mutant.module, "owner": mutant.owner, "line": mutant.line, "number": mutant.number,
            "before": mutant.before, "after": mutant.after, "verdict": verdict, "said": said,
            "seconds": round(seconds, 2), "fresh": given.constants, "once": bool(once),
        }  # fmt: skip
        if sum(tally.values()) % 25 == 0:
            results_at.write_text(json.dumps(results, indent=1), encoding="utf-8")
            print(f"{time.monotonic() - started:6.0f} s {dict(tally)}", flush=True)

    def queue() -> Iterator[tuple[Any, list[str], float]]:
        for bare, path in plan:
            if time.monotonic() > stop:
                return
            old = results.get(bare.name)
            fresh = given.constants and bool(old) and old["verdict"] == UNREACHED
            if old and not fresh and not (given.again and old["verdict"] != KILLED):
                continue
            mutant = with_source(bare, path)
            tests = reaching(where, mutant, given.with_ if old else "")
            if given.control or given.constants:
                tests = reaching(where, Mutant(**{**mutant.__dict__, "owner": ""}))
            if given.control:
                mutant = Mutant(**{**mutant.__dict__, "source": path.read_text(encoding="utf-8")})
            if old and given.with_ and not tests and not given.constants:
                continue
            if not tests:
                done(mutant, UNREACHED, "", 0.0)
                continue
            yield mutant, tests, 20.0 + 5 * sum(where["seconds"].get(t, 1.0) for t in tests)

    pool = Pool(given.jobs, done)
    if given.constants:
        import hypothesis  # noqa: F401 - loaded once for all children, as is what jointcalc itself needs
        import numpy  # noqa: F401
        import pydantic  # noqa: F401
        import scipy.linalg  # noqa: F401
        import sympy  # noqa: F401

        for mutant, tests, limit in queue():
            pool.start(mutant, lambda pipe, m=mutant, t=tests, s=limit: _fresh(m, t, s, pipe))
        pool.wait(0)
    else:
        arguments = [a for a in QUIET if a != "-x"] + [str(ROOT / f) for f in FOLDERS if (ROOT / f).exists()]
        pytest.main([f"--rootdir={ROOT}", *arguments], plugins=[_Switcher(queue(), pool)])
    results_at.write_text(json.dumps(results, indent=1), encoding="utf-8")
    print(f"{time.monotonic() - started:.0f} s: {dict(tally)}")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
