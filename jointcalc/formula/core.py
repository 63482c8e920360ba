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
import inspect
import re
import textwrap
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cache
from typing import Any, Literal

import numpy as np
import numpy.typing as npt

from jointcalc.formula.branch import SLACK, above, at_least, at_most, below
from jointcalc.formula.comparisons import FORMULAS, compared
from jointcalc.marks import unmarked
from jointcalc.quantity.sentence import as_printed

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

FUNCTIONS: Mapping[str, Callable[..., Any]] = {
    "sqrt": np.sqrt,
    "minimum": np.minimum,
    "maximum": np.maximum,
    "abs": np.abs,
    "exp": np.exp,
    "log": np.log,
    "log10": np.log10,
    "sin": np.sin,
    "cos": np.cos,
    "tan": np.tan,
    "arctan": np.arctan,
    "hypot": np.hypot,
    "where": np.where,
}


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

    def reason(self, inputs: Mapping[str, Value]) -> str:
        """Why the inputs are outside, in one line."""
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
        return f"{text} ({self.why})" if self.why else text


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
    typeset: str = ""
    typeset_numbers: str = ""


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
        return _parameters(self.function)

    def outside(self, **inputs: Value) -> list[str]:
        """Reasons why these inputs are outside the published range; empty when inside."""
        return [limit.reason(inputs) for limit in self.limits if not np.all(limit.inside(inputs))]

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
        own = {name: inputs[name] for name in self.parameters}
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
        body = _body(formula.function)
        scope: dict[str, Value] = dict(self.inputs)
        code_globals = formula.function.__globals__
        lines: list[Line] = []
        for name, tree in body:
            last = name is None
            # literal constants of the formula's module may stand in a body by name
            known = {**_module_numbers(code_globals, tree, scope), **scope}
            value = self.value if last else eval(_compiled(formula.function, name), code_globals, dict(scope))  # noqa: S307
            symbol = formula.symbol if last else str(name)
            unit = formula.unit if last else formula.inner_units.get(str(name), "")
            lines.append(
                Line(
                    symbol=pretty(symbol),
                    expression=plain(tree),
                    substituted=plain(tree, known),
                    value=float(value),
                    unit=unit,
                    source=formula.source.cited,
                    typeset=typst(tree),
                    typeset_numbers=typst(tree, known),
                )
            )
            if name is not None:
                scope[name] = value
        return lines


# --- registry ------------------------------------------------------------------------------------

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


# --- reading a function's body ---------------------------------------------------------------------


@cache
def _parameters(function: Callable[..., Any]) -> tuple[str, ...]:
    code = function.__code__
    return code.co_varnames[: code.co_argcount + code.co_kwonlyargcount]


@cache
def _body(function: Callable[..., Any]) -> tuple[tuple[str | None, ast.expr], ...]:
    """(name, expression) of each assignment, then (None, expression) of the return."""
    source = textwrap.dedent(inspect.getsource(function))
    definition = ast.parse(source).body[0]
    if not isinstance(definition, ast.FunctionDef):
        raise TypeError(f"{function.__name__} is not a plain function")
    lines: list[tuple[str | None, ast.expr]] = []
    for node in definition.body:
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            continue  # the docstring
        if isinstance(node, ast.Assign) and len(node.targets) == 1 and isinstance(node.targets[0], ast.Name):
            lines.append((node.targets[0].id, node.value))
        elif isinstance(node, ast.Return) and node.value is not None:
            lines.append((None, node.value))
        else:
            raise TypeError(f"{function.__name__}: line {node.lineno} is neither an assignment nor the return")
    if not lines or lines[-1][0] is not None:
        raise TypeError(f"{function.__name__} does not end in a return")
    return tuple(lines)


@cache
def _compiled(function: Callable[..., Any], name: str | None) -> Any:
    tree = next(tree for n, tree in _body(function) if n == name)
    return compile(ast.Expression(tree), f"<{function.__name__}>", "eval")


def _module_numbers(names: Mapping[str, Any], tree: ast.expr, scope: Mapping[str, Value]) -> dict[str, Value]:
    found = {}
    for node in ast.walk(tree):
        if isinstance(node, ast.Name) and node.id not in scope:
            value = names.get(node.id)
            if isinstance(value, int | float):
                found[node.id] = value
    return found


_EVAL_GLOBALS: dict[str, Any] = {"__builtins__": {}, "np": np}


@cache
def _limit(expression: str) -> tuple[Any, frozenset[str]]:
    tree = ast.parse(expression, mode="eval")
    names = frozenset(n.id for n in ast.walk(tree) if isinstance(n, ast.Name) and n.id != "np")
    return compile(tree, "<limit>", "eval"), names


@cache
def _tree_of(expression: str) -> ast.expr:
    return ast.parse(expression, mode="eval").body


# --- printing --------------------------------------------------------------------------------------

GREEK: Mapping[str, str] = {
    "alpha": "α", "beta": "β", "gamma": "γ", "delta": "δ", "epsilon": "ε", "eps": "ε", "zeta": "ζ",
    "eta": "η", "theta": "θ", "kappa": "κ", "lamda": "λ", "mu": "μ", "nu": "ν", "xi": "ξ", "pi": "π",
    "rho": "ρ", "sigma": "σ", "tau": "τ", "phi": "φ", "chi": "χ", "psi": "ψ", "omega": "ω",
    "Delta": "Δ", "Sigma": "Σ", "Phi": "Φ", "Psi": "Ψ", "Omega": "Ω", "Gamma": "Γ",
}  # fmt: skip


def pretty(name: str) -> str:
    """A code name as a reader expects it in running text: `lamda_p` -> `λ_p`."""
    head, rest = _name_parts(name)
    return f"{head}_{rest}" if rest else head


def _name_parts(name: str) -> tuple[str, str]:
    """Letter and subscript of a code name, Greek spelt out: `Delta_sigma_C` -> (`Δσ`, `C`)."""
    parts = name.split("_")
    head = GREEK.get(parts[0], parts[0])
    rest = parts[1:]
    if parts[0] == "Delta" and rest:
        head, rest = head + GREEK.get(rest[0], rest[0]), rest[1:]
    return head, ",".join(GREEK.get(part, part) for part in rest)


def number(value: float, digits: int = 4) -> str:
    """A number for a reader: `digits` significant figures, no trailing zeros, powers of ten as 10^."""
    if value != value or value in (float("inf"), float("-inf")):  # noqa: PLR0124
        return "not a number" if value != value else ("infinite" if value > 0 else "-infinite")  # noqa: PLR0124
    if value == 0:
        return "0"
    size = abs(value)
    if 1e-4 <= size < 10.0 ** max(digits, 6):
        text = f"{value:.{digits}g}" if size < 10.0**digits else f"{value:.0f}"
        if "e" not in text:
            return text
        return f"{value:.0f}"
    mantissa, _, exponent = f"{value:.{digits - 1}e}".partition("e")
    mantissa = mantissa.rstrip("0").rstrip(".") if "." in mantissa else mantissa
    return f"{mantissa}·10^{int(exponent)}"


_PRECEDENCE = {ast.Add: 1, ast.Sub: 1, ast.Mult: 2, ast.Div: 2, ast.USub: 3, ast.Pow: 4}


def _precedence(node: ast.expr, text: str = "") -> int:
    if isinstance(node, ast.BinOp):
        if type(node.op) not in _PRECEDENCE:
            raise TypeError(f"a formula may not contain {type(node.op).__name__}")
        return _PRECEDENCE[type(node.op)]
    if isinstance(node, ast.Name | ast.Constant) and "10^" in text:
        return 2  # a power of ten is a product: 1.2·10^6
    if isinstance(node, ast.UnaryOp):
        return 3
    return 9


def _quotient_in_product(node: ast.BinOp, child: ast.expr) -> bool:
    return isinstance(node.op, ast.Mult) and isinstance(child, ast.BinOp) and isinstance(child.op, ast.Div)


def _constant(value: float) -> str:
    """A constant of the source in full, up to twelve digits: only numbers put in are rounded."""
    short = number(value, 6)
    return short if float(short.replace("·10^", "e")) == value else number(value, 12)


def _call_name(node: ast.Call) -> str:
    target = node.func
    name = target.attr if isinstance(target, ast.Attribute) else target.id if isinstance(target, ast.Name) else ""
    if name not in FUNCTIONS and name != "abs":
        raise TypeError(f"a formula may not call {name or 'this'}")
    return name


_COMPARE = {ast.LtE: "≤", ast.Lt: "<", ast.GtE: "≥", ast.Gt: ">", ast.Eq: "="}


def plain(node: ast.expr, numbers: Mapping[str, Value] | None = None) -> str:
    """The expression in one line of text; with `numbers`, every name is replaced by its value."""

    def wrap(child: ast.expr, at_least: int) -> str:
        text = walk(child)
        negative = text.startswith("-") and not isinstance(child, ast.BinOp)
        return f"({text})" if _precedence(child, text) < at_least or (negative and at_least > 1) else text

    def walk(node: ast.expr) -> str:
        if isinstance(node, ast.Constant) and isinstance(node.value, int | float):
            return _constant(float(node.value))
        if isinstance(node, ast.Name):
            if numbers is not None and node.id in numbers:
                return number(float(numbers[node.id]))
            return pretty(node.id)
        if isinstance(node, ast.Attribute) and node.attr == "pi":
            return "π"
        if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
            return "-" + wrap(node.operand, 2)
        if isinstance(node, ast.BinOp):
            rank = _precedence(node)
            if isinstance(node.op, ast.Pow):
                return f"{wrap(node.left, 5)}^{wrap(node.right, 5)}"
            # a quotient inside a product gets brackets: π / 4·d reads as π over 4 d to many
            left = wrap(node.left, 3 if _quotient_in_product(node, node.left) else rank)
            tight = isinstance(node.op, ast.Div | ast.Sub) or _quotient_in_product(node, node.right)
            right = wrap(node.right, rank + (1 if tight else 0))
            sign = {ast.Add: " + ", ast.Sub: " - ", ast.Mult: "·", ast.Div: " / "}[type(node.op)]
            return f"{left}{sign}{right}"
        if isinstance(node, ast.Compare) and len(node.ops) == 1:
            return f"{walk(node.left)} {_COMPARE[type(node.ops[0])]} {walk(node.comparators[0])}"
        if isinstance(node, ast.Call):
            name = _call_name(node)
            inside = [walk(a) for a in node.args]
            if name == "sqrt":
                simple = isinstance(node.args[0], ast.Name | ast.Constant) and not {"^", "-"} & set(inside[0])
                return f"√{inside[0]}" if simple else f"√({inside[0]})"
            if name == "where":
                return f"({inside[1]} if {inside[0]}, else {inside[2]})"
            word = {"minimum": "min", "maximum": "max", "log": "ln"}.get(name, name)
            return f"|{inside[0]}|" if name == "abs" else f"{word}({'; '.join(inside)})"
        raise TypeError(f"a formula may not contain {ast.dump(node)[:60]}")

    return walk(node)


def typst_name(name: str) -> str:
    """A code name in the maths notation the dossier is typeset with."""
    head, rest = _name_parts(name)
    # two letters side by side would be read as one word: Δ and its quantity are set apart by a blank
    shown = " ".join(head) if head.startswith("Δ") and len(head) == 2 else head if len(head) == 1 else f'"{head}"'
    if rest and " " in shown:
        return f'Δ {head[1]}_("{rest}")'
    return f'{shown}_("{rest}")' if rest else shown


def typst(node: ast.expr, numbers: Mapping[str, Value] | None = None) -> str:
    """The expression in the maths notation the dossier is typeset with."""

    def figure(text: str) -> str:
        if "·10^" in text:
            mantissa, exponent = text.split("·10^")
            return f"{mantissa} dot 10^({exponent})"
        return text

    def wrap(child: ast.expr, at_least: int) -> str:
        text = walk(child)
        negative = text.startswith("-") and not isinstance(child, ast.BinOp)
        return f"({text})" if _precedence(child, text) < at_least or (negative and at_least > 1) else text

    def walk(node: ast.expr) -> str:
        if isinstance(node, ast.Constant) and isinstance(node.value, int | float):
            return figure(_constant(float(node.value)))
        if isinstance(node, ast.Name):
            if numbers is not None and node.id in numbers:
                return figure(number(float(numbers[node.id])))
            return typst_name(node.id)
        if isinstance(node, ast.Attribute) and node.attr == "pi":
            return "π"
        if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
            return "-" + wrap(node.operand, 2)
        if isinstance(node, ast.BinOp):
            if isinstance(node.op, ast.Div):
                return f"frac({walk(node.left)}, {walk(node.right)})"
            if isinstance(node.op, ast.Pow):
                return f"{wrap(node.left, 5)}^({walk(node.right)})"
            rank = _precedence(node)
            right = wrap(node.right, rank + (1 if isinstance(node.op, ast.Sub) else 0))
            sign = {ast.Add: " + ", ast.Sub: " - ", ast.Mult: " dot " if numbers else " "}[type(node.op)]
            both_numbers = isinstance(node.left, ast.Constant) and isinstance(node.right, ast.Constant)
            if isinstance(node.op, ast.Mult) and both_numbers:
                sign = " dot "
            return f"{wrap(node.left, rank)}{sign}{right}"
        if isinstance(node, ast.Compare) and len(node.ops) == 1:
            return f"{walk(node.left)} {_COMPARE[type(node.ops[0])]} {walk(node.comparators[0])}"
        if isinstance(node, ast.Call):
            name = _call_name(node)
            inside = [walk(a) for a in node.args]
            if name == "sqrt":
                return f"sqrt({inside[0]})"
            if name == "where":
                return f'cases({inside[1]} "if" {inside[0]}, {inside[2]} "otherwise")'
            if name == "abs":
                return f"abs({inside[0]})"
            word = {"minimum": "min", "maximum": "max", "log": "ln"}.get(name, name)
            if word in ("hypot", "log10"):
                word = {"hypot": 'op("hypot")', "log10": "log_10"}[word]
            return f"{word}({', '.join(inside)})"
        raise TypeError(f"a formula may not contain {ast.dump(node)[:60]}")

    return walk(node)


def trees(formula: Formula) -> Iterator[tuple[str | None, ast.expr]]:
    """The syntax trees a formula prints from; for tests that re-evaluate them."""
    yield from _body(formula.function)
