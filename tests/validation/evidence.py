"""Which formulas a call really uses, found by watching it, and what the tests' own text names."""

from __future__ import annotations

import ast
import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from functools import cache
from importlib.util import find_spec
from pathlib import Path
from types import FrameType, FunctionType
from typing import Any

from jointcalc.formula.core import Formula, load_all
from tests.definitions import definitions

TESTS = Path(__file__).resolve().parents[1]


@cache
def formulas() -> dict[str, Formula]:
    """Every registered formula by its key without the leading `formula.`."""
    return {key.removeprefix("formula."): f for key, f in load_all().items()}


@cache
def _codes() -> dict[Any, str]:
    return {f.function.__code__: key for key, f in formulas().items()}


def watch(call: Callable[[], Any]) -> tuple[Any, frozenset[str]]:
    """What `call` returns and the keys of the formulas that ran meanwhile."""
    codes = _codes()
    seen: set[str] = set()

    def profile(frame: FrameType, event: str, _arg: Any) -> None:
        if event == "call" and frame.f_code in codes:
            seen.add(codes[frame.f_code])

    before = sys.getprofile()
    sys.setprofile(profile)
    try:
        found = call()
    finally:
        sys.setprofile(before)
    return found, frozenset(seen)


@contextmanager
def disturbed(keys: Iterable[str]) -> Iterator[None]:
    """While it lasts, the named formulas give wrong values: some 10 to 20 % too much, each its own share."""
    kept = []
    try:
        for i, key in enumerate(sorted(keys)):
            function = formulas()[key].function
            code, scope = function.__code__, function.__globals__
            right = FunctionType(code, scope, function.__name__, function.__defaults__, function.__closure__)
            names = code.co_varnames[: code.co_argcount + code.co_kwonlyargcount]
            tag = f"_right_{function.__name__}"
            scope[tag] = right
            kept.append((function, code, tag))
            passed = ", ".join(f"{n}={n}" for n in names)
            made: dict[str, Any] = {}
            exec(
                f"def wrong(*, {', '.join(names)}):\n    return {1.1 + 0.007 * (i % 13)} * {tag}({passed})", scope, made
            )
            # file and line stay, because the working of a formula is read from its source
            function.__code__ = made["wrong"].__code__.replace(
                co_filename=code.co_filename, co_firstlineno=code.co_firstlineno, co_name=code.co_name
            )
        yield
    finally:
        for function, code, tag in kept:
            function.__code__ = code
            function.__globals__.pop(tag, None)


def needed(keys: Iterable[str], holds: Callable[[], bool]) -> frozenset[str]:
    """Those of `keys` without which `holds` no longer holds, found by disturbing ever smaller halves."""
    ordered = sorted(keys)
    if not ordered:
        return frozenset()
    with disturbed(ordered):
        if holds():
            return frozenset()
    if len(ordered) == 1:
        return frozenset(ordered)
    middle = len(ordered) // 2
    return needed(ordered[:middle], holds) | needed(ordered[middle:], holds)


# --- what a test names --------------------------------------------------------------------------------------------


@cache
def names_of(key: str) -> frozenset[tuple[str, str]]:
    """Module and name that a test may call a formula by: its function, and the constants it is registered as."""
    formula = formulas()[key]
    place = formula.function.__module__
    constants = {name for name, value in vars(sys.modules[place]).items() if value is formula}
    return frozenset((place, name) for name in {formula.function.__name__, *constants})


@cache
def _tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


@cache
def _is_module(name: str) -> bool:
    """Whether the dotted name is a module, imported so far or not."""
    try:
        return find_spec(name) is not None
    except ModuleNotFoundError:
        return False


def _imports(tree: ast.AST) -> dict[str, tuple[str, str]]:
    """Names that stand for a module (module, "") or for something in one (module, name)."""
    found: dict[str, tuple[str, str]] = {}
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and node.module and not node.level:
            for alias in node.names:
                inner = f"{node.module}.{alias.name}"
                found[alias.asname or alias.name] = (inner, "") if _is_module(inner) else (node.module, alias.name)
    return found


@cache
def references(test_id: str) -> frozenset[tuple[str, str]]:
    """Every imported (module, name) that a test uses, with what the helpers and constants of its file use in turn.

    Raises LookupError when there is no such test.
    """
    place, _, name = test_id.partition("::")
    path = TESTS.parent / place
    if not path.is_file():
        raise LookupError(f"{place} is not there")
    tree = _tree(path)
    imports = _imports(tree)
    own = definitions(tree)
    if not name.startswith("test_") or not isinstance(own.get(name), ast.FunctionDef):
        raise LookupError(f"{place} has no test {name}")
    seen: set[str] = set()
    ahead = {name}
    found: set[tuple[str, str]] = set()
    while ahead:
        one = ahead.pop()
        seen.add(one)
        for node in ast.walk(own[one]):
            if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
                module, inner = imports.get(node.value.id, ("", ""))
                if module and not inner:
                    found.add((module, node.attr))
            elif isinstance(node, ast.Name):
                if node.id in own:
                    ahead.add(node.id)
                module, inner = imports.get(node.id, ("", ""))
                if module and inner:
                    found.add((module, inner))
        ahead -= seen
    return frozenset(found)
