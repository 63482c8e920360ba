"""Writes docs/mutation.md from the results of `run.py`: `python -m tests.mutation.report WORK`.

`explained.toml` says, for survivors that were read, why they may live; whatever it does not cover is listed as such.
"""

from __future__ import annotations

import json
import re
import sys
import tomllib
from collections import Counter, defaultdict
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
PLACE = ROOT / "docs" / "mutation.md"
READ = Path(__file__).with_name("explained.toml")
DEAD = ("killed", "timeout")


def gone(before: str, after: str) -> str:
    """What a mutant took away, with the name of the argument or variable it stood behind."""
    size = min(len(before), len(after))
    start = next((i for i in range(size) if before[i] != after[i]), size)
    end = next((i for i in range(size - start) if before[-1 - i] != after[-1 - i]), size - start)
    while start and before[start - 1] not in " ,([":
        start -= 1
    if before[:start].endswith(" = "):
        start = before[: start - 3].rfind(" ") + 1
    return before[start : len(before) - end]


def reason_for(name: str, mutant: dict[str, Any], reasons: list[dict[str, str]]) -> str:
    """The first entry whose every given pattern is found in the mutant; empty when none is."""
    for entry in reasons:
        patterns = {k: v for k, v in entry.items() if k != "why"}
        fields = {"name": name, **{k: str(mutant[k]) for k in ("module", "owner", "before", "after")}}
        fields["gone"] = gone(mutant["before"], mutant["after"])
        if all(re.search(pattern, fields[field]) for field, pattern in patterns.items()):
            return entry["why"]
    return ""


def _code(text: str, other: str, width: int = 88) -> str:
    """The part of the line around the first difference, as code in a table."""
    at = next((i for i, (a, b) in enumerate(zip(text, other)) if a != b), min(len(text), len(other)))
    start = max(0, min(at - width // 2, len(text) - width))
    shown = ("…" if start else "") + text[start : start + width] + ("…" if start + width < len(text) else "")
    return "`" + shown.replace("`", "'").replace("|", "¦") + "`"


def _table(
    results: dict[str, Any], population: dict[str, Any], constants: bool
) -> tuple[list[str], Counter[str], float]:
    kind = "constants" if constants else "functions"
    by_module: dict[str, Counter[str]] = defaultdict(Counter)
    for mutant in results.values():
        if (mutant["owner"] == "") is constants:
            by_module[mutant["module"]][mutant["verdict"].partition(":")[0]] += 1
    lines = [
        "| module | mutants | tried | killed | time ran out | survived | killed or timed out |",
        "| --- | ---: | ---: | ---: | ---: | ---: | ---: |",
    ]
    whole: Counter[str] = Counter()
    weighted = people = 0.0
    for module in sorted(population):
        count = by_module.get(module)
        if not population[module][kind] or not count:
            continue
        tried, dead = sum(count.values()), sum(count[v] for v in DEAD)
        alive = tried - dead
        lines.append(
            f"| {module.removeprefix('jointcalc.')} | {population[module][kind]} | {tried} | {count['killed']} | "
            f"{count['timeout']} | {alive} | {_percent(dead, tried)} |"
        )
        whole += Counter(
            tried=tried,
            killed=count["killed"],
            timeout=count["timeout"],
            survived=alive,
            there=population[module][kind],
        )
        weighted += population[module][kind] * dead / tried
        people += population[module][kind]
    dead = whole["killed"] + whole["timeout"]
    lines.append(
        f"| **all** | {whole['there']} | {whole['tried']} | {whole['killed']} | {whole['timeout']} | {whole['survived']} | "
        f"**{_percent(dead, whole['tried'])}** |"
    )
    return lines, whole, weighted / people if people else 0.0


def _by_layer(results: dict[str, Any], population: dict[str, Any]) -> list[str]:
    lines = [
        "| layer | mutants | tried | killed | of those tried | weighted by the modules' sizes |",
        "| --- | ---: | ---: | ---: | ---: | ---: |",
    ]
    for layer in ("formula", "section", "check"):
        tried = dead = there = 0
        weighted = covered = 0.0
        for module, count in population.items():
            if module.split(".")[1] != layer:
                continue
            own = [m["verdict"] in DEAD for m in results.values() if m["module"] == module and m["owner"]]
            there += count["functions"]
            tried, dead = tried + len(own), dead + sum(own)
            if own:
                weighted += count["functions"] * sum(own) / len(own)
                covered += count["functions"]
        if tried:
            lines.append(
                f"| {layer} | {there} | {tried} | {dead} | {_percent(dead, tried)} | {_percent(weighted, covered)} |"
            )
    return lines


def _percent(part: float, whole: float) -> str:
    """Rounded down, so that nothing looks better than it is."""
    return f"{int(1000 * part / max(whole, 1)) / 10:.1f} %"


def text(work: Path) -> str:
    """The page."""
    results = json.loads((work / "results.json").read_text(encoding="utf-8"))
    population = json.loads((work / "population.json").read_text(encoding="utf-8"))
    beside = work / "control.json"
    control = json.loads(beside.read_text(encoding="utf-8")) if beside.exists() else {}
    about = READ.read_text(encoding="utf-8")
    reasons = tomllib.loads(about).get("reason", [])
    inside, sums, weighted = _table(results, population, constants=False)
    outside, sums_outside, _ = _table(results, population, constants=True)
    errors = [n for n, m in results.items() if m["verdict"].startswith("error")]
    texts = sum(p["text"] for p in population.values())
    statements = sum(p["module level, not a number"] for p in population.values())
    survivors = {n: m for n, m in results.items() if m["verdict"] not in DEAD}
    since = {n: m for n, m in results.items() if m["verdict"] in DEAD and m.get("once")}
    explained = {n: reason_for(n, m, reasons) for n, m in survivors.items()}
    bare = [n for n, why in explained.items() if not why]
    dead = sums["killed"] + sums["timeout"]
    dead_outside = sums_outside["killed"] + sums_outside["timeout"]
    page = [
        "# Mutation testing of formula/, section/ and check/",
        "",
        "A mutant is the program with one small mistake put in: a `*` for a `/`, a `<` for a `<=`, a number one larger, an",
        "argument left out.  A mutant is killed when a test fails on it.  This page is written by",
        "`python -m tests.mutation.report` from the results of `python -m tests.mutation.run`; both are in `tests/mutation/`.",
        "",
        "The last run was of the code of commit 7168561, in the time of an hour on a shared machine.  After tests had been",
        "added, the survivors of `check.brace`, `check.fatigue` and most of `section.families` were not run against all of",
        "them again, so their rates are those of before.",
        "",
        "## What was done",
        "",
        "- The mutants are those of mutmut's operators (version 3).  Its runner is not used: it wraps every function, which",
        "  hides the signatures the formula registry reads, and it skips decorated functions, which are most of",
        "  `section/properties`.  `run.py` swaps the changed code in, in a process forked for that mutant.",
        "- A mutant meets the tests that reach its statement (found by coverage, a context per test): those of its own folder",
        "  and the published cases first, quickest first, up to 25 s of tests; then the others from `tests/formula`,",
        "  `section`, `check`, `statics` and `validation`.",
        "- Not run: tests marked `mirror` (they hold the printed text against the code and would kill every arithmetic",
        "  mutant without knowing physics; only the modules that do the printing meet them), the validation page's",
        "  own gate, one test about memory, and everything that compares documents, drawings, tables or the command line's",
        "  output.",
        f"- Left out as text: {texts} mutants that only change a string, a message that is raised or printed, or a text",
        f"  given as an argument.  Left out at the level of modules: {statements} mutants that are no numbers (which",
        "  arguments a record is registered with; a wrong one does not import or fails the registry's tests).",
        "- Control: the map of step 1 is made with unchanged code in the same kind of process; every test passed there.",
        *(
            [
                f"  {len(control)} modules were also run like a mutant, with their own code put in place of itself:"
                f" {sum(m['verdict'] == 'survived' for m in control.values())} of them passed all their tests, as they should."
            ]
            if control
            else []
        ),
        "",
        "## Inside functions",
        "",
        "A function that only runs while its module is imported (it enters formulas in the registry) is tried by importing",
        "the module afresh, as below; one not tried that way counts as a survivor.  Where *tried* is less than *mutants*, a",
        "random sample was taken, seeded by the module's name; the rate of that line is then the sample's, with the",
        "uncertainty of a sample of that size (100 mutants: some 4 percentage points either way).",
        "",
        *inside,
        "",
        *_by_layer(results, population),
        "",
        f"Of {sums['there']} mutants {sums['tried']} were tried: {_percent(dead, sums['tried'])} killed.  Each module's rate",
        f"weighted by all its mutants instead of those tried gives {_percent(weighted, 1)}: an estimate for the whole, not a",
        "count.  The first figure is high because nearly every mutant of `formula/` was tried and only samples of the rest.",
        "",
        "## Numbers at the level of the modules",
        "",
        "Ends of ranges of validity, safety factors, constants: the module imported afresh with the number raised by one; it",
        "meets the five test files that use the module most.  Only the modules listed were sampled: a spot check, no rate for",
        "the whole.",
        "",
        *outside,
        "",
        f"{_percent(dead_outside, sums_outside['tried'])} of those tried killed.",
        "",
    ]
    if errors:
        page += [f"{len(errors)} mutants could not be put in place and count as survivors: {', '.join(errors)}.", ""]
    page += [
        "## Survivors that were killed since",
        "",
        f"{len(since)} mutants survived a first run and are killed by tests written or corrected because of them.",
        "",
        "| mutant | was | became | killed by |",
        "| --- | --- | --- | --- |",
    ]
    for name, m in sorted(since.items()):
        test = m["said"].replace("|", "¦").replace("tests/", "")
        page.append(f"| {name} | {_code(m['before'], m['after'])} | {_code(m['after'], m['before'])} | {test} |")
    page += [
        "",
        "## Survivors",
        "",
        f"{len(survivors)} in all: {len(survivors) - len(bare)} explained (some by their kind), {len(bare)} neither explained nor killed.",
        "",
        "| mutant | in | was | became | why it may live |",
        "| --- | --- | --- | --- | --- |",
    ]
    for name, m in sorted(survivors.items()):
        why = explained[name] or "**not killed yet**"
        page.append(
            f"| {name} | `{m['owner']}` | {_code(m['before'], m['after'])} | {_code(m['after'], m['before'])} | {why} |"
        )
    return "\n".join(page) + "\n"


if __name__ == "__main__":
    PLACE.write_text(text(Path(sys.argv[1])), encoding="utf-8", newline="\n")
    print(f"{PLACE} written")
