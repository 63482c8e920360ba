"""The text of docs/validation.md."""

from __future__ import annotations

from collections import Counter

from .case import Case, shown
from .cases import CASES
from .derived import HOWS, REGISTER
from .evidence import TESTS, formulas
from .measure import computed_cases, measured, outside_cases, shares

PLACE = TESTS.parent / "docs" / "validation.md"

WORDS = {
    "read": "verified: read in a published copy",
    "second-hand": "verified second-hand: read where others quote it",
    "from memory": "recalled from the named document, not read again",
    "computed": "no published value: computed independently",
}

HEAD = """\
# Validation: what the numbers are held against

This page is generated from the tests' own cases (`python -m tests.validation`); a test fails when it is out of date, and
each line is a test of its own. Differences are of the value as printed. A case is listed under a formula only if it
fails when that formula gives a wrong value, which the generator tries. `(solver)` marks a case that holds a numeric
solver, `(table)` one that looks up a printed table through a whole check: it holds the table as shipped and the way to it.
"""


def cell(text: str) -> str:
    return text.replace("|", "\\|")


def difference(case: Case) -> str:
    """The largest difference of a case, in percent of the print (in units, for a print of nothing)."""
    worst = max(shares(case), key=abs)
    return "0.00 %" if abs(worst) < 5e-6 else f"{100 * worst:+.2f} %"


def holds_instead(case: Case) -> str:
    """What a case holds that holds no formula."""
    return "table" if case.kind in ("spot weld", "sheet gauge") else "solver"


def of_cases(cases: tuple[Case, ...]) -> list[str]:
    lines = [
        "| kind | formulas | case | source | published | ours | difference | unit | status |",
        "|---|---|---|---|---|---|---|---|---|",
    ]
    for case in cases:
        values, keys = measured(case)
        ours = " ".join(shown(v, p) for v, p in zip(values, case.prints))
        used = ", ".join(f"`{k}`" for k in sorted(keys)) or f"({holds_instead(case)})"
        name = case.name + (f" ({case.why})" if case.why else "")
        row = (case.kind, used, name, case.source, case.published, ours, difference(case), case.unit, case.status)
        lines.append("| " + " | ".join(cell(c) for c in row) + " |")
    return lines


def standing() -> dict[str, tuple[str, str, str]]:
    """For every formula: the kind of evidence, what it is, and where the test stands."""
    entries = {key: entry for entry in REGISTER for key in entry.formulas.split()}
    found: dict[str, tuple[str, str, str]] = {}
    for key in formulas():
        if key in outside_cases():
            cases = outside_cases()[key]
            best = min(cases, key=lambda c: list(WORDS).index(c.status))
            more = f" and {len(cases) - 1} more" if len(cases) > 1 else ""
            found[key] = (f"published, {best.status}", f"{best.source}: {best.name}{more}", "tests/validation/cases")
        elif key in computed_cases():
            best = computed_cases()[key][0]
            found[key] = ("independent computation", f"{best.source}: {best.name}", "tests/validation/cases")
        elif key in entries:
            entry = entries[key]
            found[key] = (entry.how, HOWS[entry.how], entry.test)
    return found


def counts() -> list[str]:
    by_status = Counter(c.status for c in CASES)
    values: Counter[str] = Counter()
    for case in CASES:
        values[case.status] += len(case.prints)
    look_ups = sum(c.outside and not measured(c)[1] and holds_instead(c) == "table" for c in CASES)
    outside = sum(by_status[s] for s in WORDS if s != "computed")
    lines = ["| known how | cases | values |", "|---|---|---|"]
    lines += [f"| {WORDS[s]} | {by_status[s]} | {values[s]} |" for s in WORDS]
    lines += [
        "",
        f"Published outside this project: **{outside} cases** with "
        f"{sum(values[s] for s in WORDS if s != 'computed')} values; {look_ups} of them look up a printed table.",
        "",
    ]
    by_kind = Counter(kind for kind, _, _ in standing().values())
    lines += [f"Of **{len(formulas())} formulas**:", "", "| held by | formulas |", "|---|---|"]
    lines += [f"| {kind} | {n} |" for kind, n in sorted(by_kind.items(), key=lambda x: (-x[1], x[0]))]
    return lines


def text() -> str:
    """The whole page."""
    outside = tuple(c for c in CASES if c.outside)
    computed = tuple(c for c in CASES if not c.outside)
    lines = [HEAD, "## In figures", "", *counts(), "", "## Published cases", "", *of_cases(outside), ""]
    lines += [
        "## Computed independently",
        "",
        "No print was at hand; a script or arithmetic apart from the package.",
        "",
    ]
    lines += of_cases(computed)
    lines += ["", "## Formulas without a published example", "", "What stands in place of one.", ""]
    lines += ["| formula | source | its status | held by | test |", "|---|---|---|---|---|"]
    for key, (kind, _, place) in standing().items():
        if not kind.startswith("published"):
            source = formulas()[key].source
            row = (f"`{key}`", str(source), source.status, kind, f"`{place}`")
            lines.append("| " + " | ".join(cell(c) for c in row) + " |")
    lines += ["", "The kinds of evidence:", ""]
    lines += [f"- **{how}**: {words}" for how, words in HOWS.items()]
    return "\n".join(lines) + "\n"
