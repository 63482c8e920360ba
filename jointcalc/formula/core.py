"""The formula mechanism: one source of truth for the number and for the line a reader sees.

A formula is a plain, keyword-only, straight-line function over numpy (assignments, then one
`return`).  It computes on floats and on arrays alike.  The expression that is printed, in symbols
and with numbers put in, is read from the syntax tree of that very function, and only when somebody
asks for it, so the text and the number cannot part ways and the number path stays plain numpy.

The grammar of a body is small on purpose: names, numbers, `+ - * / **`, unary minus, comparisons
inside `np.where`, and the functions listed in `FUNCTIONS`.  Anything else is refused when the
formula is first printed; a test prints them all.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cache
from typing import Any, Literal

import numpy as np
import numpy.typing as npt

from jointcalc.formula.branch import SLACK, above, at_least, at_most, below
from jointcalc.formula.comparisons import FORMULAS, compared
from jointcalc.formula.printed import number, plain, pretty, typst
from jointcalc.formula.syntax import body_of, compiled, constants_of, parameters_of
from jointcalc.marks import unmarked
from jointcalc.quantity.sentence import Sentence, as_printed

Value = Any
"""A float or a numpy array of floats: formulas are written once for both."""
Status = Literal["read", "second-hand", "from memory", "common practice", "computed", "derivation"]


STATUSES: tuple[Status, ...] = (
    "read",
    "second-hand",
    "from memory",
    "common practice",
    "computed",
    "derivation",
)
"""How sure we are of a source, surest first; `derivation` is our own, given in the docstring."""


_IN_WORDS = re.compile(r"(?!cl\.|arts?\.)[a-z]|[0-9.]+ (?:d|t|mm)\b")
"""A place in a document told in words instead of by the number of a clause or table."""


@dataclass(frozen=True, slots=True)
class Source:
    """Where a formula or a number was published, and how we know it.

    `document` carries the edition; `clause` is the clause, table or equation number.
    """

    document: str
    clause: str = ""
    status: Status = "from memory"
    note: str = ""

    def __str__(self) -> str:
        # `EN 1993-1-3:2006 Table 8.4`, but `AWS D8.1M:2021, minimum shear-tension strength`
        comma = "," if _IN_WORDS.match(self.clause) else ""
        return f"{self.document}{comma} {self.clause}".strip()

    def compared(self, name: str | None) -> Source:
        """The same source with the status that the named comparison allows, and what was compared in its note."""
        if name is None:
            return self
        status, words = compared(name)
        if STATUSES.index(self.status) < STATUSES.index(status):
            return replace(self, note="; ".join(part for part in (words, self.note) if part))
        return replace(self, status=status, note="; ".join(part for part in (words, self.note) if part))

    @property
    def cited(self) -> str:
        """The citation with its status, as a dossier prints it."""
        return str(self) if self.status == "read" else f"{self} ({self.status})"


class Names(dict[str, tuple[str, str]]):
    """Nomenclature of one module: name -> (unit, meaning), given as keywords."""

    def __or__(self, other: Mapping[str, tuple[str, str]]) -> Names:  # type: ignore[override]
        return Names({**self, **other})


@dataclass(frozen=True, slots=True)
class Limit:
    """One line of a range of validity: `low <= expression <= high`.

    The expression is written in the formula's own names (`"d_s / t"`), so the same words guard the
    number and explain the refusal.  `open_low`/`open_high` make an end exclusive.  `why` is printed
    after the reason when the bare numbers would not tell a builder what is meant.
    """

    expression: str
    low: float | None = None
    high: float | None = None
    unit: str = ""
    open_low: bool = False
    open_high: bool = False
    why: str = ""

    @property
    def told(self) -> str:
        """The limit in one line: `3 <= d_s / t <= 10 mm`."""
        low = "" if self.low is None else f"{self.low:g} {'<' if self.open_low else '<='} "
        high = "" if self.high is None else f" {'<' if self.open_high else '<='} {self.high:g}"
        return f"{low}{self.expression}{high} {self.unit}".rstrip() + (f" ({unmarked(self.why)})" if self.why else "")

    def names(self) -> frozenset[str]:
        """The names the expression needs."""
        return _limit(self.expression)[1]

    def value(self, inputs: Mapping[str, Value]) -> Value:
        """The guarded quantity."""
        return eval(_limit(self.expression)[0], _EVAL_GLOBALS, dict(inputs))  # noqa: S307 - our own grammar

    def inside(self, inputs: Mapping[str, Value]) -> Value:
        """True (or a boolean array) where the limit holds; a NaN is never inside."""
        value = self.value(inputs)
        ok: Value = value == value  # noqa: PLR0124 - false for NaN
        if self.low is not None:
            ok = ok & (above(value, self.low) if self.open_low else at_least(value, self.low))
        if self.high is not None:
            ok = ok & (below(value, self.high) if self.open_high else at_most(value, self.high))
        return ok

    def reason(self, inputs: Mapping[str, Value]) -> Sentence:
        """Why the inputs are outside, in one line: plain text, that keeps its measures for a reader of inches."""
        shown = plain(_tree_of(self.expression))
        bounds = []

        def said(value: float) -> str:
            return as_printed(f"{number(value)} {self.unit}".rstrip(), value, unit=self.unit)

        if self.low is not None:
            bounds.append(f"{'more than' if self.open_low else 'at least'} {said(self.low)}")
        if self.high is not None:
            bounds.append(f"{'less than' if self.open_high else 'at most'} {said(self.high)}")
        value = float(np.asarray(self.value(inputs), dtype=float).ravel()[0])
        text = f"{shown} = {said(value)}, must be {' and '.join(bounds)}"
        return Sentence(f"{text} ({self.why})" if self.why else text)


def _everywhere(inside: Value) -> bool:
    """Whether a limit holds for all its inputs: of plain floats the answer itself."""
    return inside if isinstance(inside, bool) else bool(np.all(inside))


def _unit_told(unit: str) -> str:
    return "a number" if unit == "1" else f"in {unit}"


@dataclass(frozen=True, slots=True)
class Line:
    """One printed line of a working: symbol = expression = numbers = value unit."""

    symbol: str
    expression: str
    substituted: str
    value: float
    unit: str
    source: str
    tree: ast.expr | None = None
    """The expression itself, of a line of a formula."""
    known: Mapping[str, Value] = field(default_factory=dict)
    """The numbers put into it."""

    @property
    def typeset(self) -> str:
        """The expression in the maths notation of the dossier; empty where the line is no formula's."""
        return "" if self.tree is None else _in_symbols(self.tree)

    @property
    def typeset_numbers(self) -> str:
        """The same with its numbers."""
        return "" if self.tree is None else typst(self.tree, self.known)


@dataclass(frozen=True, slots=True, repr=False)
class Formula:
    """A published formula with what is needed to print, cite and guard it.

    `names` must describe every parameter of `function`; `unit` is that of the result, in the
    N, mm, MPa, t, s system ("1" when dimensionless).
    """

    function: Callable[..., Any]
    symbol: str
    unit: str
    title: str
    source: Source
    names: Mapping[str, tuple[str, str]]
    limits: tuple[Limit, ...] = ()
    inner_units: Mapping[str, str] = field(default_factory=dict)

    def __call__(self, **inputs: Value) -> Value:
        """The value, straight from the function."""
        return self.function(**inputs)

    def __repr__(self) -> str:
        return f"<{self.key}({', '.join(self.parameters)}): {self.symbol}, {self.unit}, {self.source.cited}>"

    @property
    def told(self) -> str:
        """What `help()` adds to the docstring: inputs with their units, range, source and how sure we are of it."""
        inputs = [f"    {n}: {self.names[n][1]}, {_unit_told(self.names[n][0])}" for n in self.parameters]
        limits = [f"    {limit.told}" for limit in self.limits] or ["    none is stated"]
        gives = f"Gives {self.symbol}, {_unit_told(self.unit)}."
        source = f"Source: {self.source.cited}" + (f" ({self.source.status})." if self.source.status == "read" else ".")
        return "\n".join(["Inputs:", *inputs, gives, "Range of validity:", *limits, source])

    @property
    def key(self) -> str:
        """Dotted name of the function inside the package, unique over all formulas."""
        return f"{self.function.__module__.removeprefix('jointcalc.')}.{self.function.__name__}"

    @property
    def parameters(self) -> tuple[str, ...]:
        """Names of the inputs in the order of the signature."""
        return parameters_of(self.function)

    def outside(self, **inputs: Value) -> list[str]:
        """Reasons why these inputs are outside the published range; empty when inside."""
        return [limit.reason(inputs) for limit in self.limits if not _everywhere(limit.inside(inputs))]

    def inside(self, **inputs: Value) -> npt.NDArray[np.bool_]:
        """Boolean array: where the inputs are inside the published range."""
        ok: npt.NDArray[np.bool_] = np.asarray(True)
        for limit in self.limits:
            ok = ok & np.asarray(limit.inside(inputs), dtype=bool)
        return ok

    def at_edge(self, *grows: str, **inputs: Value) -> tuple[dict[str, Value], list[str]] | None:
        """The inputs moved to the edge of the range where they left it on the weak side, with the reasons that cures.

        `grows` names the inputs with which the value grows (a sheet, a spot, a leg).  Those that stand alone in a limit
        and are below its low end are raised to it; the value there bounds what was asked from above.  None when
        another limit is broken that this does not cure: then nothing is known about that side.
        """
        moved = dict(inputs)
        cured: list[str] = []
        for limit in self.limits:
            if limit.expression not in grows or limit.low is None or limit.inside(moved):
                continue
            if moved[limit.expression] <= limit.low:
                cured.append(limit.reason(moved))
                moved[limit.expression] = limit.low * (1 + 2 * SLACK) if limit.open_low else limit.low
        return None if self.outside(**moved) else (moved, cured)

    def evaluate(self, **inputs: Value) -> Evaluation:
        """The value together with what it was computed from, ready to print itself."""
        own = {name: inputs[name] for name in parameters_of(self.function)}
        return Evaluation(self, own, self.function(**own))


@dataclass(frozen=True, slots=True)
class Evaluation:
    """One use of a formula: the inputs and the value the function returned for them."""

    formula: Formula
    inputs: Mapping[str, Value]
    value: Value

    def lines(self) -> list[Line]:
        """The working: one line for each intermediate assignment, then the result.

        The numbers shown are those the function's own code yields; the last one is `value`.
        """
        formula = self.formula
        body = body_of(formula.function)
        scope: dict[str, Value] = dict(self.inputs)
        code_globals = formula.function.__globals__
        lines: list[Line] = []
        for name, tree in body:
            last = name is None
            # literal constants of the formula's module may stand in a body by name
            known = {**{key: code_globals[key] for key in constants_of(formula.function, name)}, **scope}
            value = self.value if last else eval(compiled(formula.function, name), code_globals, dict(scope))  # noqa: S307
            symbol = formula.symbol if last else str(name)
            unit = formula.unit if last else formula.inner_units.get(str(name), "")
            lines.append(
                Line(
                    symbol=pretty(symbol),
                    expression=_printed(formula.function, name),
                    substituted=plain(tree, known),
                    value=float(value),
                    unit=unit,
                    source=formula.source.cited,
                    tree=tree,
                    known=known,
                )
            )
            if name is not None:
                scope[name] = value
        return lines


@cache
def _in_symbols(tree: ast.expr) -> str:
    """An expression in the maths notation of the dossier: items share their formulas, and so this."""
    return typst(tree)


@cache
def _printed(function: Callable[..., Any], name: str | None) -> str:
    """One assignment of a formula, or its return (None), in a line of text."""
    return plain(next(tree for n, tree in body_of(function) if n == name))


_REGISTRY: dict[str, Formula] = {}


def register(formula: Formula) -> Formula:
    """Enter a formula in the list of all formulas; its names must match its signature.

    Raises ValueError when the nomenclature leaves out a parameter or the key is taken.
    """
    missing = [name for name in formula.parameters if name not in formula.names]
    if missing:
        raise ValueError(f"{formula.key}: no unit and meaning given for {', '.join(missing)}")
    if formula.key in _REGISTRY:
        raise ValueError(f"{formula.key} is registered twice")
    held = replace(formula, source=formula.source.compared(FORMULAS.get(formula.key)))
    _REGISTRY[formula.key] = held
    formula.function.__doc__ = f"{formula.function.__doc__ or ''}\n\n{held.told}"
    return held


def registered() -> Mapping[str, Formula]:
    """All formulas of the modules imported so far, by key."""
    return dict(_REGISTRY)


def load_all() -> Mapping[str, Formula]:
    """Import every module of `jointcalc.formula` and return all formulas, by key."""
    import importlib
    import pkgutil

    import jointcalc.formula as package

    for module in pkgutil.walk_packages(package.__path__, package.__name__ + "."):
        importlib.import_module(module.name)
    return dict(sorted(_REGISTRY.items()))


_EVAL_GLOBALS: dict[str, Any] = {"__builtins__": {}, "np": np}


@cache
def _limit(expression: str) -> tuple[Any, frozenset[str]]:
    tree = ast.parse(expression, mode="eval")
    names = frozenset(n.id for n in ast.walk(tree) if isinstance(n, ast.Name) and n.id != "np")
    return compile(tree, "<limit>", "eval"), names


@cache
def _tree_of(expression: str) -> ast.expr:
    return ast.parse(expression, mode="eval").body


def trees(formula: Formula) -> Iterator[tuple[str | None, ast.expr]]:
    """The syntax trees a formula prints from; for tests that re-evaluate them."""
    yield from body_of(formula.function)
