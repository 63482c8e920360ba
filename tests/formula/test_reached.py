"""No formula stands for show: each is reached from a check, a search, a section, a solver or a layout."""

from __future__ import annotations

import ast
from collections import defaultdict
from functools import cache
from pathlib import Path

import jointcalc
from jointcalc.formula.core import load_all
from tests.definitions import definitions

PACKAGE = Path(jointcalc.__file__).parent
FORMULAS = "jointcalc.formula"

EXCEPTIONS: dict[str, str] = {
    "group_curves.bolt_resistance": "the solver of bolt groups has the curve with expm1, exact near nothing; tests hold it to this",
    **{
        f"direct_strength.{name}": "the strips give the local buckling loads; braces are still judged by effective widths"
        for name in [
            "global_strength_beam",
            "global_strength_column",
            "local_slenderness_beam",
            "local_slenderness_column",
            "local_strength_beam",
            "local_strength_beam_stocky",
            "local_strength_column",
            "local_strength_column_stocky",
        ]
    },
}
"""Formulas that nothing reaches, each with the reason why it is kept."""

Name = tuple[str, str]


def _imports(tree: ast.AST) -> dict[str, Name]:
    """What a name stands for: a formula module (module, "") or something of one (module, name)."""
    found: dict[str, Name] = {}
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith(FORMULAS):
            for alias in node.names:
                module = node.module or ""
                found[alias.asname or alias.name] = (
                    (f"{module}.{alias.name}", "") if module == FORMULAS else (module, alias.name)
                )
    return found


def _used(tree: ast.AST, imports: dict[str, Name], own: str = "", names: frozenset[str] = frozenset()) -> set[Name]:
    """The (module, name) that a piece of code refers to: of formula modules, or of its own."""
    found: set[Name] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
            module, inner = imports.get(node.value.id, ("", ""))
            if module and not inner:
                found.add((module, node.attr))
        elif isinstance(node, ast.Name):
            module, inner = imports.get(node.id, ("", ""))
            if module and inner:
                found.add((module, inner))
            elif node.id in names:
                found.add((own, node.id))
    return found


@cache
def reached() -> frozenset[Name]:
    """Every (module, name) of the formula modules that the rest of the package leads to, step by step."""
    leads: dict[Name, set[Name]] = defaultdict(set)
    ahead: set[Name] = set()
    for path in sorted(PACKAGE.rglob("*.py")):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        imports = _imports(tree)
        module = ".".join(("jointcalc", *path.relative_to(PACKAGE).with_suffix("").parts))
        if not module.startswith(FORMULAS):
            ahead |= _used(tree, imports)
            continue
        own = definitions(tree)
        for name, node in own.items():
            leads[module, name] |= _used(node, imports, module, frozenset(own))
    seen: set[Name] = set()
    while ahead:
        one = ahead.pop()
        seen.add(one)
        ahead |= leads[one] - seen
    return frozenset(seen)


def unreached() -> list[str]:
    seen = reached()
    return sorted(
        key.removeprefix("formula.")
        for key, formula in load_all().items()
        if (formula.function.__module__, formula.function.__name__) not in seen
    )


def test_every_formula_is_reached_from_what_judges() -> None:
    lost = set(unreached())
    assert not lost - set(EXCEPTIONS), f"nothing uses {', '.join(sorted(lost - set(EXCEPTIONS)))}: use or remove them"
    gone = set(EXCEPTIONS) - {key.removeprefix("formula.") for key in load_all()}
    assert not gone, f"no such formula: {', '.join(sorted(gone))}"


def test_what_is_used_is_told_from_what_is_not() -> None:
    """A formula a check names is reached, one it reaches by a selector too; a name in a comment is no use."""
    seen = reached()
    assert ("jointcalc.formula.bolts_en1993", "bolt_shear") in seen
    assert ("jointcalc.formula.column", "aisi_elastic_stress") in seen  # through `aisi_column_branch`
    assert ("jointcalc.formula.group_curves", "bolt_resistance") not in seen  # named in a comment of the solver
