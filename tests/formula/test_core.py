"""The formula mechanism: the printed text is the code, for every registered formula and for planted lies."""

from __future__ import annotations

import ast
import importlib.util
import inspect
import itertools
import linecache
import math
import re
import sys
from collections.abc import Callable
from pathlib import Path
from types import ModuleType
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from plain_text import read_back, tokens

from jointcalc.formula import core
from jointcalc.formula.core import STATUSES, Formula, Limit, Names, Source, load_all
from jointcalc.formula.printed import number, plain, pretty, typst
from jointcalc.marks import MARKS
from jointcalc.quantity.edge import quantity

FORMULAS = load_all()
SOURCE = Source("test", status="derivation")
EVERY = pytest.mark.parametrize("formula", FORMULAS.values(), ids=FORMULAS.keys())

# sizes that a formula of sheet-metal work meets, so that most draws give a finite value
SIZES = {
    "mm": (0.6, 12.0), "MPa": (120.0, 600.0), "N": (200.0, 5000.0), "N*mm": (1e3, 1e6), "mm^2": (10.0, 900.0),
    "mm^4": (1e2, 1e6), "1": (0.2, 2.5),
}  # fmt: skip


def draws(formula: Formula, count: int = 6) -> list[dict[str, np.float64]]:
    """Inputs of three significant digits, so that they print in full."""
    random = np.random.default_rng(sum(map(ord, formula.key)))
    found = []
    for n in range(count):
        inputs = {}
        for name in formula.parameters:
            unit = formula.names[name][0]
            low, high = SIZES.get(unit, (0.3, 30.0))
            if n % 3 == 1 and unit not in ("1", "mm"):  # so large that they print as powers of ten
                low, high = high, 1e4 * high
            if n % 3 == 2:  # all of one size, for formulas whose domain is a ratio
                low, high = 0.1, 0.95
            inputs[name] = np.float64(f"{math.exp(random.uniform(math.log(low), math.log(high))):.3g}")
        found.append(inputs)
    return found


def numbers_of(formula: Formula) -> dict[str, Any]:
    """Numbers of the formula's module that a body may use by name."""
    return {k: v for k, v in vars(sys.modules[formula.function.__module__]).items() if isinstance(v, int | float)}


def mirror(formula: Formula, inputs: dict[str, np.float64]) -> tuple[Any, Any]:
    """(value by the code, value of the printed lines read back from their text)."""
    with np.errstate(all="ignore"):
        code = formula.function(**inputs)
        scope = {pretty(k): v for k, v in {**numbers_of(formula), **inputs}.items()}
        value = None
        for name, tree in core.trees(formula):
            value = read_back(plain(tree), scope)
            if name is not None:
                scope[pretty(name)] = value
    return code, value


# --- one source of truth ---------------------------------------------------------------------------------------------


@EVERY
@pytest.mark.mirror
def test_printed_text_read_back_is_the_value(formula: Formula) -> None:
    finite = 0
    for inputs in draws(formula, 30):
        if finite == 4:
            break
        code, text = mirror(formula, inputs)
        np.testing.assert_allclose(text, code, rtol=1e-11, equal_nan=True)
        finite += bool(np.all(np.isfinite(code)))
    assert finite >= 2, "no draw lies in the formula's domain: widen SIZES"


@EVERY
@pytest.mark.mirror
def test_evaluation_prints_its_own_numbers(formula: Formula) -> None:
    for inputs in draws(formula, 3):
        with np.errstate(all="ignore"):
            evaluation = formula.evaluate(**inputs)
            if not np.isfinite(evaluation.value):
                continue
            lines = evaluation.lines()
            assert lines[-1].value == evaluation.value == formula.function(**inputs)
            assert lines[-1].unit == formula.unit
            assert lines[-1].symbol == pretty(formula.symbol)
            given_only = set(inputs) | {"np"}
            for line, (_, tree) in zip(lines, core.trees(formula), strict=True):
                assert line.expression
                assert line.typeset
                assert line.typeset_numbers
                used = {n.id for n in ast.walk(tree) if isinstance(n, ast.Name)}
                # inputs have three digits and print in full; constants and intermediate values may be rounded
                if used <= given_only:
                    np.testing.assert_allclose(read_back(line.substituted, {}), line.value, rtol=1e-9)


@EVERY
def test_floats_and_arrays_agree(formula: Formula) -> None:
    columns = draws(formula, 7)
    arrays = {name: np.array([c[name] for c in columns]) for name in formula.parameters}
    with np.errstate(all="ignore"):
        together = np.broadcast_to(formula.function(**arrays), (7,))
        single = [float(formula.function(**c)) for c in columns]
    np.testing.assert_allclose(together, single, rtol=1e-13, equal_nan=True)
    assert not (formula.parameters and np.isnan(np.asarray(together, dtype=float)).all())


@EVERY
def test_record_matches_signature(formula: Formula) -> None:
    signature = inspect.signature(formula.function)
    assert all(p.kind is p.KEYWORD_ONLY and p.default is p.empty for p in signature.parameters.values())
    assert tuple(signature.parameters) == formula.parameters
    for name in formula.parameters:
        unit, meaning = formula.names[name]
        assert unit
        assert meaning
    printed = [pretty(n) for n in formula.parameters]
    assert len(set(printed)) == len(printed), "two inputs print alike"
    inner = {name for name, _ in core.trees(formula) if name is not None}
    assert set(formula.inner_units) <= inner
    assert not inner & set(formula.parameters), "an input is overwritten"
    assert getattr(formula.function, "__wrapped__", None) is None


@EVERY
def test_source_and_docstring(formula: Formula) -> None:
    assert formula.source.document
    assert formula.source.status in STATUSES
    assert formula.title
    assert formula.symbol
    text = formula.function.__doc__ or ""
    assert len(text.split()) >= 3
    if formula.unit != "1":
        spelt = text.replace("²", "^2").replace("³", "^3").replace("⁴", "^4").replace("⁶", "^6").replace("·", "*")
        spelt = re.sub(r"(?<=[Nm]) (?=mm)", "*", spelt)
        units = re.findall(r"\[([^\]]+)\]", spelt)
        assert formula.unit in units, f"the docstring does not say [{formula.unit}]: {text!r}"


@EVERY
def test_units_are_known_to_the_python_edge(formula: Formula) -> None:
    for unit in {formula.unit, *formula.inner_units.values(), *(formula.names[n][0] for n in formula.parameters)}:
        if unit:
            # one spelling everywhere, because what prints a unit looks it up
            assert not set(unit) & set("·²³⁴⁶")
            assert not re.search(r"mm[2346]", unit)
            quantity(1.0, unit)


@EVERY
def test_limits_are_written_in_known_names(formula: Formula) -> None:
    for limit in formula.limits:
        # a name that only the range uses is explained by the nomenclature or by the reason itself
        unknown = limit.names() - set(formula.names)
        assert not unknown or limit.why, f"{limit.expression}: {unknown}"
        assert limit.low is not None or limit.high is not None
        if limit.low is not None and limit.high is not None:
            assert limit.low < limit.high
        plain(ast.parse(limit.expression, mode="eval").body)


def _modules() -> list[Path]:
    folder = Path(core.__file__).parent
    return sorted(p for p in folder.glob("*.py") if p.name not in ("__init__.py", "core.py"))


@pytest.mark.parametrize("path", _modules(), ids=lambda p: p.stem)
def test_every_straight_line_function_is_registered(path: Path) -> None:
    """A keyword-only function that only computes is a formula, and a formula belongs in the list."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    keys = {k.rpartition(".")[2] for k in FORMULAS if k.split(".")[1] == path.stem}
    for node in tree.body:
        if not isinstance(node, ast.FunctionDef) or node.args.args or not node.args.kwonlyargs:
            continue
        annotations = [ast.unparse(a.annotation) for a in node.args.kwonlyargs if a.annotation]
        if annotations and all(a == "Value" for a in annotations):
            assert node.name in keys, f"{path.stem}.{node.name} is not registered"
            assert not node.decorator_list


# --- the text follows the code, and a lie is found -------------------------------------------------------------------

BODY = '''"""A module of the test."""
import numpy as np


def strength(*, t, d_s, f_u):
    """Strength [N] of a made-up spot."""
    root = np.sqrt(t)
    return {coefficient} * root * d_s**{power} * f_u
'''
ABOUT = Names(t=("mm", "thickness"), d_s=("mm", "diameter"), f_u=("MPa", "strength"))
INPUTS = {"t": np.float64(1.44), "d_s": np.float64(5.5), "f_u": np.float64(270.0)}
_fresh = itertools.count()


def module_from(path: Path, source: str) -> ModuleType:
    path.write_text(source, encoding="utf-8")
    spec = importlib.util.spec_from_file_location(f"made_up_{next(_fresh)}", path)
    assert spec
    assert spec.loader
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    linecache.checkcache(str(path))
    return module


def formula_of(module: ModuleType) -> Formula:
    return Formula(module.strength, symbol="F", unit="N", title="made up", source=SOURCE, names=ABOUT)


@pytest.mark.parametrize(("coefficient", "power"), [("2.7", "1"), ("2.8", "1"), ("2.7", "2"), ("-6.36e-7", "0.5")])
def test_text_follows_an_edit_of_the_source(tmp_path: Path, coefficient: str, power: str) -> None:
    formula = formula_of(module_from(tmp_path / "a.py", BODY.format(coefficient=coefficient, power=power)))
    line = formula.evaluate(**INPUTS).lines()[-1]
    shown = coefficient.replace("-6.36e-7", "(-6.36·10^-7)")
    assert line.expression == f"{shown}·root·d_s^{power}·f_u"
    expected = float(coefficient) * 1.2 * 5.5 ** float(power) * 270
    assert line.value == pytest.approx(expected, rel=1e-12)
    assert read_back(line.substituted, {}) == pytest.approx(expected, rel=1e-9)
    code, text = mirror(formula, INPUTS)
    assert text == pytest.approx(code, rel=1e-12)


def test_a_divergence_of_text_and_code_is_found(tmp_path: Path) -> None:
    """The file says 2.9 after the module with 2.7 was imported: the mirror must not match."""
    path = tmp_path / "b.py"
    module = module_from(path, BODY.format(coefficient="2.7", power="1"))
    path.write_text(BODY.format(coefficient="2.9", power="1"), encoding="utf-8")
    linecache.clearcache()
    code, text = mirror(formula_of(module), INPUTS)
    assert text / code == pytest.approx(2.9 / 2.7)
    with pytest.raises(AssertionError):
        np.testing.assert_allclose(text, code, rtol=1e-11)


@pytest.mark.parametrize(
    "body",
    [
        "    if t > 1:\n        return t\n    return 2 * t",
        "    for i in range(3):\n        t = t + i\n    return t",
        "    return sum([t, d_s])",
        "    return t if t > 1 else d_s",
        "    return np.linalg.norm(t)",
        "    return t // 2",
        "    return t % 2",
        "    a, b = t, d_s\n    return a * b",
        "    return 'text'",
        "    return t < d_s < f_u",
        "    x = 2 * t",
        "    return",
    ],
)
def test_bodies_beyond_the_grammar_are_refused(tmp_path: Path, body: str) -> None:
    source = f'import numpy as np\n\n\ndef strength(*, t, d_s, f_u):\n    """Doc."""\n{body}\n'
    formula = formula_of(module_from(tmp_path / "c.py", source))
    for printer in (plain, typst):
        with pytest.raises(TypeError):
            _print_all(formula, printer)


def _print_all(formula: Formula, printer: Callable[[ast.expr], str]) -> list[str]:
    return [printer(tree) for _, tree in core.trees(formula)]


def test_a_lambda_is_not_a_formula() -> None:
    formula = Formula(lambda t: 2 * t, symbol="F", unit="N", title="x", source=SOURCE, names=ABOUT)
    with pytest.raises((TypeError, SyntaxError)):
        list(core.trees(formula))


def test_registration_refuses_missing_names_and_twins(tmp_path: Path) -> None:
    module = module_from(tmp_path / "d.py", BODY.format(coefficient="2.7", power="1"))
    short = Formula(module.strength, symbol="F", unit="N", title="x", source=SOURCE, names=Names(t=("mm", "t")))
    before = core.registered()
    with pytest.raises(ValueError, match="d_s, f_u"):
        core.register(short)
    assert core.registered() == before
    taken = next(iter(FORMULAS.values()))
    with pytest.raises(ValueError, match="twice"):
        core.register(taken)


# --- printing --------------------------------------------------------------------------------------------------------


def expression(text: str) -> ast.expr:
    return ast.parse(text, mode="eval").body


@pytest.mark.parametrize(
    ("code", "printed"),
    [
        ("2.7 * np.sqrt(t) * d_s * f_u", "2.7·√t·d_s·f_u"),
        ("np.sqrt(a + b)", "√(a + b)"),
        ("a - (b - c)", "a - (b - c)"),
        ("a - b - c", "a - b - c"),
        ("a / (b / c)", "a / (b / c)"),
        ("a / (b * c)", "a / (b·c)"),
        ("a / b / c", "a / b / c"),
        ("(a + b) * c", "(a + b)·c"),
        ("a * -b", "a·(-b)"),
        ("-(a + b)", "-(a + b)"),
        ("-a ** 2", "-a^2"),
        ("(-a) ** 2", "(-a)^2"),
        ("a ** -0.5", "a^(-0.5)"),
        ("(a ** b) ** c", "(a^b)^c"),
        ("a ** (b + 1)", "a^(b + 1)"),
        ("np.minimum(a, b)", "min(a; b)"),
        ("np.log(a)", "ln(a)"),
        ("np.abs(a - b)", "|a - b|"),
        ("np.where(a <= 1, a, b)", "(a if a ≤ 1, else b)"),
        ("lamda_p", "λ_p"),
        ("gamma_M2", "γ_M2"),
        ("203000.0", "203000"),
        ("-6.36e-7 * S ** 2", "(-6.36·10^-7)·S^2"),
        ("a / 1e6", "a / (1·10^6)"),
        ("a / 1e5", "a / 100000"),
        ("1e6 ** 2", "(1·10^6)^2"),
        ("np.sqrt(1e6)", "√(1·10^6)"),
        ("np.pi / 4 * a**2", "(π / 4)·a^2"),
        ("a * b / c", "a·b / c"),
        ("a / b * c / 2", "(a / b)·c / 2"),
        ("3.08567758149 * a", "3.08567758149·a"),
    ],
)
def test_one_line_text(code: str, printed: str) -> None:
    tree = expression(code)
    assert plain(tree) == printed
    names = {"a": 3.0, "b": 2.0, "c": 0.7, "t": 1.5, "d_s": 5.0, "f_u": 270.0, "λ_p": 0.8, "γ_M2": 1.25, "S": 300.0}
    values = {**names, "lamda_p": 0.8, "gamma_M2": 1.25, "np": np}
    assert read_back(printed, names) == pytest.approx(eval(code, {}, values), rel=1e-12)


def quotient_meets_product(text: str) -> bool:
    """Whether a `·` follows a `/` at one bracket level, so that `a / b·c` could be read as a/(b·c)."""
    after = [False]
    for _, word in tokens(text):
        if word == "(":
            after.append(False)
        elif word == ")":
            after.pop()
        elif word == "/":
            after[-1] = True
        elif word == "·" and after[-1]:
            return True
        elif word in "+-;<>≤≥=|" or word.startswith(","):
            after[-1] = False
    return False


@pytest.mark.parametrize("code", ["np.pi / 4 * d_s**2 * f_u", "a / b * c", "5 * (a / b) * c", "2 * (a * b / c) * d"])
def test_a_quotient_inside_a_product_is_in_brackets(code: str) -> None:
    assert not quotient_meets_product(plain(expression(code)))
    assert quotient_meets_product("a + b / c·d")
    assert not quotient_meets_product("(a / b)·c + d·e / f")


@EVERY
@pytest.mark.mirror
def test_no_printed_quotient_meets_a_product(formula: Formula) -> None:
    for inputs in draws(formula, 2):
        with np.errstate(all="ignore"):
            for line in formula.evaluate(**inputs).lines():
                assert not quotient_meets_product(line.expression), line.expression
                assert not quotient_meets_product(line.substituted), line.substituted


@st.composite
def trees(draw: st.DrawFn, depth: int = 4) -> str:
    if depth == 0 or draw(st.integers(0, 3)) == 0:
        return draw(st.sampled_from(["a", "b", "c", "2", "0.5", "1.25", "7e-05"]))
    left, right = draw(trees(depth - 1)), draw(trees(depth - 1))
    form = draw(
        st.sampled_from(
            ["({l} + {r})", "({l} - {r})", "({l} * {r})", "({l} / {r})", "({l}) ** 2", "(-({l}))", "np.sqrt({l})",
             "np.abs({l})", "np.minimum({l}, {r})", "np.maximum({l}, {r})", "({l}) ** (-({r}))", "np.exp({l})",
             "np.where({l} <= {r}, {l}, {r})"]
        )
    )  # fmt: skip
    return form.format(l=left, r=right)


@given(trees())
def test_any_expression_reads_back_as_what_it_computes(code: str) -> None:
    names = {"a": np.float64(1.3), "b": np.float64(0.4), "c": np.float64(2.1)}
    with np.errstate(all="ignore"):
        wanted = eval(code.replace("7e-05", "np.float64(7e-05)"), {"np": np}, {**names})
        try:
            np.float64(wanted)
        except (OverflowError, ZeroDivisionError):
            return
        got = read_back(plain(expression(code)), names)
    np.testing.assert_allclose(got, wanted, rtol=1e-9, equal_nan=True)
    assert typst(expression(code)).count("(") == typst(expression(code)).count(")")


@given(st.floats(min_value=-1e30, max_value=1e30, allow_subnormal=False), st.integers(3, 7))
def test_a_printed_number_is_the_number_rounded(value: float, digits: int) -> None:
    text = number(value, digits)
    back = float(text.replace("·10^", "e"))
    assert back == pytest.approx(value, rel=0.51 * 10.0 ** (1 - digits), abs=0.0 if value else 1e-300)
    assert "e" not in text
    assert "E" not in text


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0.0, "0"), (2.7, "2.7"), (1.0, "1"), (3645.0, "3645"), (12345.6, "12346"), (203000.0, "203000"),
        (1.234567e7, "1.235·10^7"), (0.00012346, "0.0001235"), (5e-5, "5·10^-5"), (-2.5, "-2.5"), (999999.0, "999999"),
        (99999.5, "100000"), (float("nan"), "not a number"), (float("inf"), "infinite"), (float("-inf"), "-infinite"),
    ],
)  # fmt: skip
def test_numbers_for_a_reader(value: float, text: str) -> None:
    assert number(value) == text


@pytest.mark.parametrize(
    ("code", "typeset"),
    [
        ("2.7 * np.sqrt(t) * d_s", '2.7 sqrt(t) d_("s")'),
        ("(a + b) / (c - 1)", "frac(a + b, c - 1)"),
        ("a ** (b + 1)", "a^(b + 1)"),
        ("np.where(a <= 1, a, b)", 'cases(a "if" a ≤ 1, b "otherwise")'),
        ("lamda_p_1", 'λ_("p,1")'),
        ("2 * 3", "2 dot 3"),
        ("np.log10(a)", "log_10(a)"),
        ("np.minimum(a, -b)", "min(a, -b)"),
    ],
)
def test_typeset_text(code: str, typeset: str) -> None:
    assert typst(expression(code)) == typeset


def test_typeset_numbers() -> None:
    tree = expression("2.7 * np.sqrt(t) * d_s**2 * E")
    typeset = typst(tree, {"t": 1.2, "d_s": 5.5, "E": 2.1e11})
    assert typeset == "2.7 dot sqrt(1.2) dot 5.5^(2) dot 2.1 dot 10^(11)"
    assert typst(expression("I**2"), {"I": 2.1e7}) == "(2.1 dot 10^(7))^(2)"


# --- ranges of validity ----------------------------------------------------------------------------------------------

RATIO = Limit("t_1 / t", low=1.0, high=2.5, why="thicker over thinner sheet")
OPEN = Limit("t", low=0.25, high=3.56, open_low=True, open_high=True, unit="mm")


@pytest.mark.parametrize(
    ("limit", "inputs", "inside"),
    [
        (RATIO, {"t": 1.0, "t_1": 2.5}, True),
        (RATIO, {"t": 0.1, "t_1": 0.25}, True),  # 0.25/0.1 is 2.5 exactly for a person
        (RATIO, {"t": 1.0, "t_1": 2.5 * (1 + 1e-13)}, True),
        (RATIO, {"t": 1.0, "t_1": 2.5001}, False),
        (RATIO, {"t": 1.0, "t_1": 0.9999}, False),
        (RATIO, {"t": 1.0, "t_1": 1.0}, True),
        (RATIO, {"t": 1.0, "t_1": math.nan}, False),
        (RATIO, {"t": 1.0, "t_1": math.inf}, False),
        (OPEN, {"t": 0.25}, False),
        (OPEN, {"t": 3.56}, False),
        (OPEN, {"t": 3.5599}, True),
        (OPEN, {"t": 0.2501}, True),
    ],
)
def test_edges_of_a_range(limit: Limit, inputs: dict[str, float], inside: bool) -> None:
    assert bool(limit.inside(inputs)) is inside
    assert limit.inside({k: np.array([v, v]) for k, v in inputs.items()}).tolist() == [inside, inside]
    formula = Formula(
        lambda t: t, symbol="F", unit="N", title="x", source=SOURCE, names={**ABOUT, "t_1": ("mm", "")}, limits=(limit,)
    )
    assert bool(formula.inside(**inputs)) is inside
    assert (formula.outside(**inputs) == []) is inside


def test_a_reason_says_what_is_and_what_must_be() -> None:
    assert RATIO.reason({"t": 1.0, "t_1": 4.0}) == (
        "t_1 / t = 4, must be at least 1 and at most 2.5 (thicker over thinner sheet)"
    )
    told = OPEN.reason({"t": 4.0})
    assert told == "t = 4 mm, must be more than 0.25 mm and less than 3.56 mm"
    assert told.to("inch").startswith("t = 0.1575 in, must be more than 0.009843 in")
    with np.errstate(divide="ignore"):
        assert "infinite" in RATIO.reason({"t": np.float64(0.0), "t_1": np.float64(4.0)})


@pytest.mark.parametrize("formula", [f for f in load_all().values() if f.limits], ids=lambda f: f.key)
def test_a_notebook_is_told_in_plain_text(formula: Formula) -> None:
    names = {*formula.parameters, *(name for limit in formula.limits for name in limit.names())}
    told = [limit.reason(dict.fromkeys(names, 1e-9)) for limit in formula.limits]
    told += formula.outside(**dict.fromkeys(names, 1e-9))
    for text in told:
        assert not set(text) & set(MARKS), text


def test_a_range_of_arrays_is_outside_when_any_is() -> None:
    formula = Formula(lambda t: t, symbol="F", unit="N", title="x", source=SOURCE, names=ABOUT, limits=(OPEN,))
    t = np.array([0.2, 1.0, 4.0])
    assert formula.inside(t=t).tolist() == [False, True, False]
    assert len(formula.outside(t=t)) == 1
    assert formula.outside(t=t[1:2]) == []


def test_citation_carries_its_status() -> None:
    assert Source("EN 1993-1-3:2006", "Table 8.4", "from memory").cited == "EN 1993-1-3:2006 Table 8.4 (from memory)"
    assert Source("BS 1140:1993", "", "read").cited == "BS 1140:1993"


@pytest.mark.parametrize(
    ("document", "clause", "text"),
    [
        ("EN 1993-1-3:2006", "Table 8.4", "EN 1993-1-3:2006 Table 8.4"),
        ("AISI S100-16", "J6.1", "AISI S100-16 J6.1"),
        ("EN 1993-1-3:2006", "6.1.2 and 6.1.5", "EN 1993-1-3:2006 6.1.2 and 6.1.5"),
        ("A code", "cl. 2.1 to 2.5", "A code cl. 2.1 to 2.5"),
        ("A handbook", "strength by thickness", "A handbook, strength by thickness"),
        ("A guideline", "1.25 d; rim 3 mm", "A guideline, 1.25 d; rim 3 mm"),
        ("Common practice", "", "Common practice"),
    ],
)
def test_a_place_told_in_words_has_a_comma(document: str, clause: str, text: str) -> None:
    assert str(Source(document, clause)) == text
