"""The pages written from the registries, so that they cannot say anything else than the code does."""

from __future__ import annotations

import inspect
import json
import re
import tomllib
from importlib import import_module

from jointcalc.check import all_methods
from jointcalc.formula.core import Formula, Limit, _tree_of, load_all
from jointcalc.formula.printed import number, plain, pretty
from jointcalc.formula.syntax import body_of
from jointcalc.marks import unmarked
from jointcalc.model.coupon_source import CouponSource
from jointcalc.model.evidence import Evidence
from jointcalc.model.fields import Described, Item, Said
from jointcalc.model.project import About, LoadCase
from jointcalc.model.said import lists_of_texts, said, with_words, written_as
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.units import KINDS
from jointcalc.registry import KINDS as KINDS_OF_ITEMS
from jointcalc.registry import PIECES, SOURCES
from jointcalc.registry import load as load_place
from jointcalc.tables.gauges import TABLE, WIRE
from jointcalc.tables.store import FOLDER, load, names

from .blocks import ROOT
from .drawings import PROFILES, drawing

STATUS = """\
| status | means |
| --- | --- |
| read | compared with the document itself |
| second-hand | taken from another publication that prints it |
| from memory | recalled, and not yet compared with the document: the reviewing engineer should |
| common practice | a habit of the trade; no document stands behind it |
| computed | worked out by us from published values |
| derivation | our own, from first principles; the derivation stands with the formula |
"""


def pages() -> dict[str, str]:
    """Path below docs/ -> text of every generated file."""
    made = {
        "methods.md": methods_page(),
        "units.md": units_page(),
        "failure-modes.md": modes_page(),
        "cases.md": cases_page(),
    }
    made["8-project-file.md"] = project_page((ROOT / "docs" / "8-project-file.md").read_text(encoding="utf-8"))
    for kind in PROFILES:
        made[f"drawings/{kind}.svg"] = drawing(kind)
    return made


def cases_page() -> str:
    """Every load case with what it is for, its directions, and where its numbers come from."""
    from jointcalc.loads.cases import resolve

    lines = [
        "# Load cases by name",
        "",
        "Written by `python -m tests.docs` from `tables/cases.csv` and the tables it points to; do not edit it by hand.",
        "",
        "The local rule wins: where the vehicle is registered another load may be asked for.",
        "`ultimate` is a test load, to which nothing is added; `service` is multiplied by the factor.",
        "",
        "| case | what | for | load | directions | asks for | source | status |",
        "| --- | --- | --- | --- | --- | --- | --- | --- |",
    ]
    for row in load("cases").rows:
        if row["nature"] == "refused":
            lines.append(f"| `{row['id']}` | {row['title']} | - | refused: {_cell(row['note'])} | | | | |")
            continue
        case = resolve(row["id"])
        nature = "ultimate" if case.ultimate else f"service × {case.load_factor:g}"
        note = f"; {row['note']}" if row["note"] else ""
        cells = [row["title"] + note, row["serves"], nature, row["ways"].replace(" ", ", "),
                 ", ".join(case.asks), case.source, case.status or ""]  # fmt: skip
        lines.append(f"| `{row['id']}` | {' | '.join(_cell(cell) for cell in cells)} |")
    return "\n".join(lines) + "\n"


def _cell(text: str) -> str:
    return text.replace("|", "\\|").replace("*", "\\*")


def methods_page() -> str:
    """Every method with its key, and every formula with its text, source, status and range."""
    methods = all_methods()
    formulas = load_all()
    lines = [
        "# Every method and formula",
        "",
        "Written by `python -m tests.docs` from the code that computes; do not edit it by hand.",
        f"{len(methods)} methods judge or inform, {len(formulas)} formulas feed them, {len(names())} tables stand behind "
        "both.",
        "How a verdict is made of them is told in [How results are judged](7-how-results-are-judged.md).",
        "",
        STATUS,
        "## Methods",
        "",
        "The key is what `--json` and the dossier print; it does not change from release to release.",
        "`gives` says what the number is, `asks for` what it must be divided by.",
        "",
        "| key | method | per | source | status | gives | asks for |",
        "| --- | --- | --- | --- | --- | --- | --- |",
    ]
    lines += [
        f"| `{m.key}` | {_cell(m.title)} | {m.per} | {_cell(str(m.source))} | {m.source.status} | {_cell(m.basis)} | "
        f"{_cell(str(m.factor))} |"
        for m in methods.values()
    ]
    lines += ["", "## Formulas", "", "In N, mm, MPa, t, s. The text is read from the functions that compute."]
    module = ""
    for key, formula in formulas.items():
        place = key.rsplit(".", 1)[0]
        if place != module:
            module = place
            lines += ["", f"### {_title(module)}", ""]
        lines += _formula(formula)
    return "\n".join(lines) + "\n"


OUTCOMES = {"judged": "judged", "cautioned": "cautioned only", "outside": "not covered, and said so"}


def failure_modes() -> dict[str, list[dict[str, object]]]:
    """Kind -> its failure modes, from tables/modes."""
    found = {
        path.stem: tomllib.loads(path.read_text(encoding="utf-8"))["mode"] for path in (FOLDER / "modes").glob("*.toml")
    }
    return dict(sorted(found.items()))


def modes_page() -> str:
    """Failure mode by kind: judged, cautioned or not covered; every row has an example that the tests run."""
    lines = [
        "# Failure modes: judged, cautioned, not covered",
        "",
        "Written by `python -m tests.docs` from `tables/modes`; do not edit it by hand.",
        "Every row has an example that the tests run: what a row says is what the tool does.",
        "How results are judged is told in [How results are judged](7-how-results-are-judged.md).",
    ]
    for kind, modes in failure_modes().items():
        lines += [
            "",
            f"## {kind.replace('_', ' ').capitalize()}",
            "",
            "| mode | outcome | by | source |",
            "| --- | --- | --- | --- |",
        ]
        for mode in modes:
            by = ", ".join(f"`{key}`" for key in mode["by"])  # type: ignore[attr-defined]
            name, source = _cell(str(mode["name"])), _cell(str(mode["source"]))
            lines.append(f"| {name} | {OUTCOMES[str(mode['outcome'])]} | {by} | {source} |")
    return "\n".join(lines) + "\n"


_PART = re.compile(r"(?m)^## (?:\[+(\w+)[^\n]*|(Every item))$")
_TABLE = re.compile(r"(?m)^\| key \|.*\n(?:\|.*\n)+")


def models_of_the_file() -> dict[str, type[Described]]:
    """Table of the project file -> model, of all that a file may hold."""
    found: dict[str, type[Described]] = {
        "project": About,
        "case": LoadCase,
        "sheet": Sheet,
        "evidence": Evidence,
        "coupons": CouponSource,
    }
    return found | {name: load_place(one.model) for name, one in {**KINDS_OF_ITEMS, **SOURCES, **PIECES}.items()}


def project_page(text: str) -> str:
    """The page of the project file with its tables of keys written from the models; the words between them stay.

    A kind that has no part yet gets one before those that are only marked out, with what its record says of it.
    """
    models: dict[str, type[Described]] = {**models_of_the_file(), "Every item": Item}
    have = {part[1] or part[2] for part in _PART.finditer(text)}
    for name, record in {**KINDS_OF_ITEMS, **SOURCES}.items():
        if name not in have:
            part = f"## [[{name}]]\n\n{record.help}\n\n| key |\n| --- |\n\n"
            text = text.replace("## [[part]]\n", part + "## [[part]]\n", 1)
    starts = [*_PART.finditer(text)]
    made = text[: starts[0].start()]
    for start, after in zip(starts, [*(one.start() for one in starts[1:]), len(text)]):
        name = start[1] or start[2]
        made += _TABLE.sub(lambda _, name=name: keys_of(name, models[name]), text[start.start() : after], count=1)
    return made


def keys_of(name: str, model: type[Described]) -> str:
    """The table of a model's keys: those of the command's help page in its order, then what only a file says."""
    words = {**said(model), **model.instead}
    order = list(dict.fromkeys((*_on_the_help_page(name), *model.model_fields, *model.instead)))
    shared = Item.model_fields if issubclass(model, Item) and model is not Item else {}
    rows = [field for field in order if field in words and (field not in shared or field in model.__annotations__)]
    lines = ["| key | what is written | left out |", "| --- | --- | --- |"]
    lines += [
        f"| `{field}` | {_key_told(model, field, words[field])} | {_left_out(model, field, words[field])} |"
        for field in rows
    ]
    return "\n".join(lines) + "\n"


def _on_the_help_page(name: str) -> list[str]:
    if name not in KINDS_OF_ITEMS:
        return []
    told = [one.name for one in inspect.signature(load_place(KINDS_OF_ITEMS[name].command)).parameters.values()]
    return [field for one in told for field in ((one, "sheets") if one == "sheet" else (one,))]


def _key_told(model: type[Described], field: str, words: Said) -> str:
    text = with_words(model, words.help, lambda other: f"`{other}`")
    text = re.sub(r'`("[^`"]*")`|("[^`"]*")', lambda m: f"`{m[1] or m[2]}`", text)
    text = text if text.endswith("...") else text.removesuffix(".")
    if field in lists_of_texts(model):
        return f"{text}; one, or a list"
    about = model.model_fields.get(field)
    return f"{text}; a list" if about is not None and written_as(about.annotation, about.metadata)[0] else text


def _left_out(model: type[Described], field: str, words: Said) -> str:
    about = model.model_fields.get(field)
    if words.absent:
        return with_words(model, words.absent, lambda other: f"`{other}`")
    if about is None or about.default in (None, "", (), False):
        return ""
    if about.is_required():
        return (
            "must be given, or " + ", ".join(f"`{key}`" for key in model.instead)
            if field == "sheets" and model.instead
            else "must be given"
        )
    return f"`{str(about.default).lower() if about.default is True else json.dumps(about.default, ensure_ascii=False)}`"


def _title(module: str) -> str:
    about = inspect.getdoc(import_module(f"jointcalc.{module}")) or module
    return about.split("\n", 1)[0].rstrip(".")


def _formula(formula: Formula) -> list[str]:
    unit = "" if formula.unit in ("", "1") else f" [{formula.unit}]"
    made = [f"**{formula.title}**{unit}. {formula.source.cited}.", "", "```text"]
    made += [f"{pretty(name or formula.symbol)} = {plain(tree)}" for name, tree in body_of(formula.function)]
    made += ["```", ""]
    for name in formula.parameters:
        size, meaning = formula.names[name]
        shown = "" if size in ("", "1") else f" [{size}]"
        made.append(f"- `{pretty(name)}`{shown}: {meaning}")
    made += [f"- range: {_range(limit)}" for limit in formula.limits]
    return [*made, ""]


def _range(limit: Limit) -> str:
    unit = f" {limit.unit}" if limit.unit else ""
    text = plain(_tree_of(limit.expression))
    if limit.low is not None:
        text = f"{number(limit.low)}{unit if limit.high is None else ''} {'<' if limit.open_low else '≤'} {text}"
    if limit.high is not None:
        text = f"{text} {'<' if limit.open_high else '≤'} {number(limit.high)}{unit}"
    return f"`{text}`" + (f" ({unmarked(limit.why)})" if limit.why else "")


def units_page() -> str:
    """What may be written for each kind of quantity, and the gauge tables."""
    lines = [
        "# Units, fractions and gauges",
        "",
        "Written by `python -m tests.docs` from the tables the reader of sizes uses; do not edit it by hand.",
        "",
        'Every size is a number and a unit in quotes: `"1.2 mm"`. A bare number is refused, so that nobody has to',
        "guess what it meant. A decimal comma is refused too, because `1,200 mm` means two things.",
        "",
        "- Decimals: `1.2 mm`, `.5 in`, `5e7 N*mm/rad`.",
        "- Fractions and mixed numbers: `3/4 in`, `1-1/2 in`, `1 1/2 in`; feet and inches: `1'6\"`, `1 ft 6-1/2 in`.",
        '- Several numbers share the unit that ends them: `"0 0 100 0 mm"`.',
        "- In a profile or bead the space may be left out: `hat:top=40mm,depth=1-1/4in`.",
        '- A fraction may stand in a list: `"0 4-1/2 in"`; with a blank, `4 1/2` could be two numbers and is refused.',
        '- Sizes of one thing may have an `x` between them: `"600x400 mm"`, `"24 x 16 in"`.',
        "- Ranges of a search share a unit too: `depth=1..1-1/2in`, `t=1/32in..1/8in`; `t=20ga..14ga` goes from stock gauge",
        "  to stock gauge, and `depth=1in..2in step 1/8in` says its own step.",
        '- A gauge is a sheet thickness and nothing else: `"18 ga"`, or `"18 swg"` for British wire gauge; see below.',
        "- `lb` is a mass and `lbf` a force, `kg` a mass and `kgf` a force, `g` an acceleration when one is asked for.",
        "",
        "Answers are printed in metric or, with `--units inch` (or `units` in the project), in inch units. `--json` is",
        "always in N, mm, MPa.",
        "",
        "| kind | accepted units | example |",
        "| --- | --- | --- |",
    ]
    for kind in KINDS.values():
        units = ", ".join(f"`{u}`" for u in kind.units)
        if kind.name == "rotational stiffness":
            units = "a unit of moment, then `/rad` or `/deg`"
        lines.append(f'| {kind.name} | {units} | `"{kind.example}"` |')
    lines += [
        "",
        "## Gauges",
        "",
        "A gauge is a key into a table, and the tables differ: 18 ga is one thickness in bare steel, another galvanised,",
        "another in aluminium. jointcalc takes the table of the grade's family and coating. Where you can measure,",
        "measure, and write millimetres or inches.",
        "",
    ]
    tables = {f"{family}{', galvanised' if coated else ''}": load(name) for (family, coated), name in TABLE.items()}
    tables["any metal, swg"] = load(WIRE)
    rows = {
        label: {int(r["gauge"]): r.need("t" if "t" in table.columns else "t_mm") for r in table.rows}
        for label, table in tables.items()
    }
    lines += [f"| gauge | {' | '.join(rows)} |", "| --- |" + " --- |" * len(rows)]
    for gauge in sorted({g for found in rows.values() for g in found}):
        cells = [f"{found[gauge]:.4g} mm" if gauge in found else "" for found in rows.values()]
        lines.append(f"| {gauge} | {' | '.join(cells)} |")
    lines += ["", "Sources: " + "; ".join(f"{label}: {t.provenance.citation} ({t.provenance.status})"
                                          for label, t in tables.items()) + ".", ""]  # fmt: skip
    return "\n".join(lines)
