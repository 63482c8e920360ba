"""The mutants of one module: mutmut's operators, with what is not arithmetic or logic taken out.

mutmut itself would skip every decorated function, which here is most of `section.properties` (cached properties); the
visitor below lets the plain decorators through, because `run.py` swaps code objects and needs no wrapper around the
function.
"""

from __future__ import annotations

import ast
import difflib
from dataclasses import dataclass
from pathlib import Path

import libcst as cst
from libcst.metadata import MetadataWrapper, PositionProvider
from mutmut.mutation.file_mutation import MutationVisitor, deep_replace
from mutmut.mutation.mutators import mutation_operators
from mutmut.mutation.pragma_handling import IgnoredCode

PLAIN_DECORATORS = {"property", "cached_property", "cache", "staticmethod", "classmethod"}
TEXTS = cst.SimpleString | cst.FormattedString | cst.ConcatenatedString


@dataclass(frozen=True)
class Mutant:
    """One change: where it is, what it does, and the whole mutated text of its module."""

    module: str  # jointcalc.formula.beam
    owner: str  # `function` or `Class.method`, empty at the level of the module
    line: int  # of the changed expression
    first: int  # first and last line of the statement that holds it (of a branch or a loop: its head)
    last: int
    number: int  # its place in the module's list, which is the same in every run
    before: str
    after: str
    source: str

    @property
    def name(self) -> str:
        """Module, line and number: unique, and stable as long as the module is not edited."""
        return f"{self.module.removeprefix('jointcalc.')}:{self.line}#{self.number}"


class _Visitor(MutationVisitor):
    """Notes for each mutation its place, its function, and whether it only changes text."""

    def __init__(self) -> None:
        super().__init__(mutation_operators, IgnoredCode(set(), set(), set()))
        self.path: list[str] = []
        self.text_depth = 0
        self.places: list[tuple[int, str, bool]] = []

    def on_visit(self, node: cst.CSTNode) -> bool:
        # what a person reads: what is raised, and what stands inside a printed text
        if isinstance(node, cst.Raise | cst.FormattedString):
            self.text_depth += 1
        if isinstance(node, cst.FunctionDef | cst.ClassDef):
            self.path.append(node.name.value)
        return super().on_visit(node)

    def on_leave(self, original_node: cst.CSTNode) -> None:
        if isinstance(original_node, cst.Raise | cst.FormattedString):
            self.text_depth -= 1
        if isinstance(original_node, cst.FunctionDef | cst.ClassDef):
            self.path.pop()
        super().on_leave(original_node)

    def _create_mutations(self, node: cst.CSTNode) -> None:
        had = len(self.mutations)
        super()._create_mutations(node)
        position = self.get_metadata(PositionProvider, node, None)
        line = position.start.line if position else 0
        for mutation in self.mutations[had:]:
            textual = bool(self.text_depth) or _only_text(node, mutation.mutated_node)
            self.places.append((line, ".".join(self.path), textual))

    def _skip_node_and_children(self, node: cst.CSTNode) -> bool:
        if isinstance(node, cst.FunctionDef) and node.decorators:
            names = [d.decorator.value for d in node.decorators if isinstance(d.decorator, cst.Name)]
            return len(names) < len(node.decorators) or not set(names) <= PLAIN_DECORATORS
        return super()._skip_node_and_children(node)


def _only_text(node: cst.CSTNode, mutated: cst.CSTNode) -> bool:
    if isinstance(node, TEXTS):
        return True
    if isinstance(node, cst.Call) and isinstance(mutated, cst.Call):
        kept = {id(a) for a in mutated.args}
        gone = [a for a in node.args if id(a) not in kept]
        return bool(gone) and all(isinstance(a.value, TEXTS) for a in gone)
    return isinstance(node, cst.Assign | cst.AnnAssign) and isinstance(node.value, TEXTS)


def _statements(source: str) -> dict[int, tuple[int, int]]:
    """First and last line of the innermost statement on each line; a compound statement counts with its head only."""
    spans: dict[int, tuple[int, int]] = {}
    for node in ast.walk(ast.parse(source)):  # breadth first, so the innermost is written last
        if isinstance(node, ast.stmt):
            body = getattr(node, "body", None)
            last = body[0].lineno - 1 if body else node.end_lineno or node.lineno
            for line in range(node.lineno, max(last, node.lineno) + 1):
                spans[line] = (node.lineno, max(last, node.lineno))
    return spans


def mutants_of(path: Path, root: Path) -> tuple[list[Mutant], dict[str, int]]:
    """All mutants of one file without their sources, and how many were left out as text.

    `Mutant.source` is empty here, to keep a list of thousands small; `with_source` fills it in.
    """
    source = path.read_text(encoding="utf-8")
    found, places, _ = _visited(source)
    spans = _statements(source)
    module = ".".join(path.relative_to(root).with_suffix("").parts).removesuffix(".__init__")
    kept: list[Mutant] = []
    left_out = {"text": 0, "module level, not a number": 0}
    for number, (mutation, (line, owner, textual)) in enumerate(zip(found, places, strict=True)):
        if textual:
            left_out["text"] += 1
            continue
        inside = mutation.contained_by_top_level_function is not None and _callable_owner(mutation)
        if not inside and not isinstance(mutation.original_node, cst.Integer | cst.Float):
            left_out["module level, not a number"] += 1
            continue
        first, last = spans.get(line, (line, line))
        kept.append(Mutant(module, owner if inside else "", line, first, last, number, "", "", ""))
    return kept, left_out


def _callable_owner(mutation: object) -> bool:
    return isinstance(mutation.contained_by_top_level_function, cst.FunctionDef)  # type: ignore[attr-defined]


_VISITED: dict[str, tuple[list, list, cst.Module]] = {}


def _visited(source: str) -> tuple[list, list, cst.Module]:
    if source not in _VISITED:
        _VISITED.clear()  # one at a time: a tree is large
        visitor = _Visitor()
        module = MetadataWrapper(cst.parse_module(source)).visit(visitor)
        _VISITED[source] = (visitor.mutations, visitor.places, module)
    return _VISITED[source]


def with_source(mutant: Mutant, path: Path) -> Mutant:
    """The mutant with the text of its module, and the lines that differ."""
    source = path.read_text(encoding="utf-8")
    found, _, module = _visited(source)
    mutation = found[mutant.number]
    changed = deep_replace(module, mutation.original_node, mutation.mutated_node)
    assert isinstance(changed, cst.Module)
    text = changed.code
    diff = [d for d in difflib.ndiff(source.splitlines(), text.splitlines()) if d[0] in "+-"]
    before = " ".join(d[2:].strip() for d in diff if d[0] == "-")
    after = " ".join(d[2:].strip() for d in diff if d[0] == "+")
    return Mutant(**{**mutant.__dict__, "before": before, "after": after, "source": text})
