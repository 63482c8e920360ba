"""What changed since an earlier revision: what was typed, the margins, and what follows from them.

The earlier revision is its project file, judged anew, or a document of `check --json`.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from jointcalc.dossier.common import VERDICT
from jointcalc.dossier.methods import name_of
from jointcalc.dossier.words import amount, breakable, clean, short
from jointcalc.errors import InputError
from jointcalc.model.typed import typed_in, typed_of
from jointcalc.quantity.show import System, percent, show_in
from jointcalc.result import Result
from jointcalc.show.terminal import down
from jointcalc.version import VERSION

MOST_LINES = 14
"""Changes of one item that are listed; the rest is counted."""

LONGEST = 300
"""Characters of a value that are printed."""

LEAD = 40
"""Characters that are printed before the place where two long values part."""

WRITTEN_BREAK = "⟨U+200B⟩"
"""What documents of earlier versions hold where a long word may break."""

MOST_BYTES = 200_000_000


def read_old(path: Path) -> dict[str, Any]:
    """The earlier revision.  Raises InputError when the file is not a document of `check --json`."""
    where = str(path)
    if path.suffix.lower() == ".toml":
        return judged(path)
    form = (
        "give the project file of the earlier revision, or the output of `jointcalc check FILE --json`, kept from then"
    )
    try:
        if path.stat().st_size > MOST_BYTES:
            raise InputError(f"is too large for such a document; {form}", field="--since", where=where)
        text = path.read_text(encoding="utf-8-sig")
    except OSError as error:
        raise InputError(f"cannot be read: {error.strerror}; {form}", field="--since", where=where) from error
    except UnicodeDecodeError as error:
        raise InputError(f"is not UTF-8 text; {form}", field="--since", where=where) from error
    try:
        data = json.loads(text)
    except (ValueError, RecursionError) as error:
        raise InputError(f"is not JSON; {form}", field="--since", where=where) from error
    items = data.get("items") if isinstance(data, dict) else None
    if not isinstance(items, list) or not all(_is_result(item) for item in items):
        raise InputError(f"is JSON, but not a document of `check --json`; {form}", field="--since", where=where)
    found: dict[str, Any] = data
    return found


def judged(path: Path) -> dict[str, Any]:
    """The earlier revision's project file, judged as this one is.  Raises InputErrors."""
    from jointcalc.check import check
    from jointcalc.model.project import load_project
    from jointcalc.show.document import project_document

    project = load_project(path)
    results = check(project)
    typed = typed_in(project, project.items)
    made = project_document(project.about.title, results, results.cautions, typed=typed)
    return {**made, "revision": project.about.revision}


def _is_result(item: Any) -> bool:
    return (
        isinstance(item, dict)
        and isinstance(item.get("id"), str)
        and isinstance(item.get("status"), str)
        and isinstance(item.get("checks"), list)
        and all(isinstance(c, dict) and isinstance(c.get("key"), str) for c in item["checks"])
        and isinstance(item.get("values", {}), dict)
    )


def changes_since(
    old: Mapping[str, Any],
    results: Iterable[Result],
    system: System,
    name: str,
    typed: Mapping[str, Mapping[str, str]] | None = None,
) -> dict[str, Any]:
    """What the section of changes prints: items added, removed and changed; `typed` are the inputs of now, by item."""
    now = {result.id: result for result in results}
    before = {item["id"]: item for item in old["items"]}
    added = [key for key in now if key not in before]
    removed = [key for key in before if key not in now]
    changed = []
    same = 0
    for key, result in now.items():
        if key not in before:
            continue
        lines = _changes(before[key], result.json(), system, (typed or {}).get(key) or typed_of(result.model))
        if lines:
            more = len(lines) - MOST_LINES
            changed.append(
                {"id": breakable(short(key, 40), 20), "title": breakable(short(result.title, 80)),
                 "lines": lines[:MOST_LINES], "more": max(0, more)}
            )  # fmt: skip
        else:
            same += 1
    bare = sum(not isinstance(item.get("inputs"), Mapping) for key, item in before.items() if key in now)
    version = clean(short(old.get("jointcalc", "unknown"), 20))
    return {
        "old": short(name, 80),
        "old_revision": clean(short(old.get("revision", ""), 40)),
        "old_title": short(old.get("project", ""), 100),
        "version": ""
        if version == VERSION
        else f"The earlier revision was judged by jointcalc {version}, this one "
        f"by {VERSION}: a difference may come from the program.",
        "untyped": ""
        if not bare
        else "What was typed could not be compared"
        + ("" if bare == len(before.keys() & now.keys()) else f" for {bare} of the items")
        + ": the earlier document does not hold it. Compared are verdicts, loads and values; give the project file of "
        "that revision to compare that too.",
        "added": [
            [breakable(short(k, 40), 20), breakable(short(now[k].title, 80)), _verdict(now[k].status)] for k in added
        ],
        "removed": [[breakable(short(k, 40), 20), "", _verdict(before[k]["status"])] for k in removed],
        "changed": changed,
        "same": same,
    }


def _verdict(status: Any) -> str:
    return clean(VERDICT.get(str(status), str(status)).lower())


def _changes(
    old: Mapping[str, Any], new: Mapping[str, Any], system: System, typed: Mapping[str, str]
) -> list[list[str]]:
    """[what, before, now] of everything that differs: inputs and margins first, then what follows from them."""
    lines: list[list[str]] = []

    def tell(what: str, before: str, now: str) -> None:
        if before != now:
            lines.append([breakable(what, 30), *(breakable(text, 24) for text in _shown(before, now))])

    inputs = old.get("inputs")
    if isinstance(inputs, Mapping):
        for name in [*typed, *(n for n in inputs if n not in typed)]:
            before = str(inputs.get(name, "-")).replace(WRITTEN_BREAK, "")
            tell(f"typed: {name}", clean(before), clean(typed.get(name, "-")))
    was = {c["key"]: c for c in old["checks"]}
    now = {c["key"]: c for c in new["checks"]}
    tell("verdict", _verdict(old["status"]), _verdict(new["status"]))
    tell("used", _used(old, was), _used(new, now))
    tell("safety factor that governs", _governing_factor(old, was), _governing_factor(new, now))
    tell("governed by", _title(old, was), _title(new, now))
    gone, come = sorted(_codes(old) - _codes(new)), sorted(_codes(new) - _codes(old))
    tell("cautions that went, and came", ", ".join(gone) or "-", ", ".join(come) or "-")
    values_old, values_new = old.get("values", {}), new["values"]
    for name in [*values_new, *(n for n in values_old if n not in values_new)]:
        tell(name_of(name, system), _amount(values_old.get(name), system), _amount(values_new.get(name), system))
    for key in [*now, *(k for k in was if k not in now)]:
        a, b = was.get(key), now.get(key)
        if a is None or b is None:
            tell(key, "-" if a is None else str(a.get("status")), "-" if b is None else str(b.get("status")))
            continue
        title = str(b.get("title") or key)
        tell(f"{title}: load", _amount(a.get("demand"), system), _amount(b.get("demand"), system))
        tell(f"{title}: carries", _amount(a.get("capacity"), system), _amount(b.get("capacity"), system))
        tell(f"{title}: factor", _factor(a), _factor(b))
        tell(f"{title}: needs", _number(a.get("required_factor")), _number(b.get("required_factor")))
    return lines


def _shown(before: str, now: str) -> tuple[str, str]:
    """Two texts that differ, no longer than is printed: from where they part, when they begin alike for longer."""
    if short(before, LONGEST) == short(now, LONGEST):
        alike = next((n for n, (a, b) in enumerate(zip(before, now)) if a != b), min(len(before), len(now)))
        before, now = (f"… {text[alike - LEAD :]}" for text in (before, now))
    return short(before, LONGEST), short(now, LONGEST)


def _governing(item: Mapping[str, Any], checks: Mapping[str, Mapping[str, Any]]) -> Mapping[str, Any]:
    key = item.get("governing")
    return checks.get(key, {}) if isinstance(key, str) else {}


def _title(item: Mapping[str, Any], checks: Mapping[str, Mapping[str, Any]]) -> str:
    return str(_governing(item, checks).get("title") or item.get("governing") or "-")


def _used(item: Mapping[str, Any], checks: Mapping[str, Mapping[str, Any]]) -> str:
    used = _governing(item, checks).get("utilisation")
    return percent(float(used)) if used is not None and _is_number(used) else "-"


def _codes(item: Mapping[str, Any]) -> set[str]:
    found = item.get("cautions")
    codes = {str(c.get("code")) for c in found if isinstance(c, dict)} if isinstance(found, list) else set()
    return {code.replace("-", " ") for code in codes}


def _governing_factor(item: Mapping[str, Any], checks: Mapping[str, Mapping[str, Any]]) -> str:
    governing = item.get("governing")
    return _factor(checks[governing]) if isinstance(governing, str) and governing in checks else "-"


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and abs(value) < 1e300


def _factor(check: Mapping[str, Any]) -> str:
    value = check.get("safety_factor")
    return down(float(value)) if value is not None and _is_number(value) else "-"


def _number(value: Any) -> str:
    return f"{float(value):.4g}" if _is_number(value) else "-"


def _amount(given: Any, system: System) -> str:
    if not isinstance(given, Mapping) or not _is_number(given.get("value")):
        return "-"
    return amount(show_in(float(given["value"]), str(given.get("unit", "")), system))
