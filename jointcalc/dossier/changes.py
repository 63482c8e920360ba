"""What changed since an earlier revision, told from its `check --json` document."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from jointcalc.dossier.common import VERDICT
from jointcalc.dossier.words import amount, breakable, clean, short
from jointcalc.errors import InputError
from jointcalc.quantity.show import System, show_in
from jointcalc.result import Result
from jointcalc.show.terminal import down
from jointcalc.version import VERSION

MOST_LINES = 40
"""Changes of one item that are listed; the rest is counted."""

MOST_BYTES = 200_000_000


def read_old(path: Path) -> dict[str, Any]:
    """The earlier revision.  Raises InputError when the file is not a document of `check --json`."""
    where = str(path)
    form = "give the output of `jointcalc check FILE --json`, kept from the earlier revision"
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


def _is_result(item: Any) -> bool:
    return (
        isinstance(item, dict)
        and isinstance(item.get("id"), str)
        and isinstance(item.get("status"), str)
        and isinstance(item.get("checks"), list)
        and all(isinstance(c, dict) and isinstance(c.get("key"), str) for c in item["checks"])
        and isinstance(item.get("values", {}), dict)
    )


def changes_since(old: Mapping[str, Any], results: Iterable[Result], system: System, name: str) -> dict[str, Any]:
    """What the section of changes prints: items added, removed and changed."""
    now = {result.id: result for result in results}
    before = {item["id"]: item for item in old["items"]}
    added = [key for key in now if key not in before]
    removed = [key for key in before if key not in now]
    changed = []
    same = 0
    for key, result in now.items():
        if key not in before:
            continue
        lines = _changes(before[key], result.json(), system)
        if lines:
            more = len(lines) - MOST_LINES
            changed.append(
                {"id": breakable(short(key, 40), 20), "title": breakable(short(result.title, 80)),
                 "lines": lines[:MOST_LINES], "more": max(0, more)}
            )  # fmt: skip
        else:
            same += 1
    version = clean(short(old.get("jointcalc", "unknown"), 20))
    return {
        "old": short(name, 80),
        "old_title": short(old.get("project", ""), 100),
        "version": ""
        if version == VERSION
        else f"The earlier revision was judged by jointcalc {version}, this one "
        f"by {VERSION}: a difference may come from the program.",
        "added": [
            [breakable(short(k, 40), 20), breakable(short(now[k].title, 80)), _verdict(now[k].status)] for k in added
        ],
        "removed": [[breakable(short(k, 40), 20), "", _verdict(before[k]["status"])] for k in removed],
        "changed": changed,
        "same": same,
    }


def _verdict(status: Any) -> str:
    return clean(VERDICT.get(str(status), str(status)).lower())


def _changes(old: Mapping[str, Any], new: Mapping[str, Any], system: System) -> list[list[str]]:
    """[what, before, now] of everything that differs, gravest first."""
    lines: list[list[str]] = []

    def tell(what: str, before: str, now: str) -> None:
        if before != now:
            lines.append([breakable(what, 30), breakable(short(before, 300), 24), breakable(short(now, 300), 24)])

    tell("verdict", _verdict(old["status"]), _verdict(new["status"]))
    tell("governed by", str(old.get("governing") or "-"), str(new.get("governing") or "-"))
    before = {c["key"]: c for c in old["checks"]}
    now = {c["key"]: c for c in new["checks"]}
    tell("safety factor that governs", _governing_factor(old, before), _governing_factor(new, now))
    values_old, values_new = old.get("values", {}), new["values"]
    for name in [*values_new, *(n for n in values_old if n not in values_new)]:
        tell(name.replace("_", " "), _amount(values_old.get(name), system), _amount(values_new.get(name), system))
    tell("cautions", _codes(old), _codes(new))
    for key in [*now, *(k for k in before if k not in now)]:
        a, b = before.get(key), now.get(key)
        if a is None or b is None:
            tell(key, "-" if a is None else str(a.get("status")), "-" if b is None else str(b.get("status")))
            continue
        tell(f"{key}: status", str(a.get("status")), str(b.get("status")))
        tell(f"{key}: load", _amount(a.get("demand"), system), _amount(b.get("demand"), system))
        tell(f"{key}: carries", _amount(a.get("capacity"), system), _amount(b.get("capacity"), system))
        tell(f"{key}: safety factor", _factor(a), _factor(b))
        tell(f"{key}: required", _number(a.get("required_factor")), _number(b.get("required_factor")))
        for step_old, step_new in zip(_steps(a), _steps(b)):
            if step_old.get("symbol") == step_new.get("symbol"):
                label = f"{key}: inputs of {step_new.get('symbol')}"
                tell(label, str(step_old.get("substituted", "-")), str(step_new.get("substituted", "-")))
    return lines


def _steps(check: Mapping[str, Any]) -> list[Mapping[str, Any]]:
    steps = check.get("steps")
    return [s for s in steps if isinstance(s, dict)] if isinstance(steps, list) else []


def _codes(item: Mapping[str, Any]) -> str:
    found = item.get("cautions")
    codes = [str(c.get("code")) for c in found if isinstance(c, dict)] if isinstance(found, list) else []
    return ", ".join(sorted(set(codes)))


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
