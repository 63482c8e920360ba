"""A formula's expression as a reader sees it: in one line of text, or in the maths notation of the dossier.

Printed in symbols or with numbers put in, from the syntax tree of the function that computes.  The grammar is small on
purpose: names, numbers, `+ - * / **`, unary minus, comparisons inside `np.where`, and the functions listed in
`FUNCTIONS`; anything else is refused.
"""

from __future__ import annotations

import ast
from collections.abc import Callable, Mapping
from functools import cache
from typing import Any

import numpy as np

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


GREEK: Mapping[str, str] = {
    "alpha": "α", "beta": "β", "gamma": "γ", "delta": "δ", "epsilon": "ε", "eps": "ε", "zeta": "ζ",
    "eta": "η", "theta": "θ", "kappa": "κ", "lamda": "λ", "mu": "μ", "nu": "ν", "xi": "ξ", "pi": "π",
    "rho": "ρ", "sigma": "σ", "tau": "τ", "phi": "φ", "chi": "χ", "psi": "ψ", "omega": "ω",
    "Delta": "Δ", "Sigma": "Σ", "Phi": "Φ", "Psi": "Ψ", "Omega": "Ω", "Gamma": "Γ",
}  # fmt: skip


@cache
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


def _wrapped(child: ast.expr, text: str, at_least: int) -> str:
    """What a part prints, in brackets where its own operation binds less than what stands round it."""
    negative = text.startswith("-") and not isinstance(child, ast.BinOp)
    return f"({text})" if _precedence(child, text) < at_least or (negative and at_least > 1) else text


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


def plain(node: ast.expr, numbers: Mapping[str, Any] | None = None) -> str:
    """The expression in one line of text; with `numbers`, every name is replaced by its value."""

    def wrap(child: ast.expr, at_least: int) -> str:
        return _wrapped(child, walk(child), at_least)

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


def typst(node: ast.expr, numbers: Mapping[str, Any] | None = None) -> str:
    """The expression in the maths notation the dossier is typeset with."""

    def figure(text: str) -> str:
        if "·10^" in text:
            mantissa, exponent = text.split("·10^")
            return f"{mantissa} dot 10^({exponent})"
        return text

    def wrap(child: ast.expr, at_least: int) -> str:
        return _wrapped(child, walk(child), at_least)

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
