"""JSON documents: full precision, finite numbers, one document on stdout."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from typing import Any

from jointcalc.result import Caution, Result
from jointcalc.version import VERSION


def dumps(document: Any) -> str:
    """The document as text, in ASCII so that no code page can spoil it.

    Raises ValueError for a number that is not finite: a fault of ours.
    """
    return json.dumps(document, ensure_ascii=True, allow_nan=False, indent=1)


def overall(results: Iterable[Result]) -> str:
    """`over` if any result is, else `outside` if any is, else `ok`."""
    words = {r.status for r in results}
    return "over" if "over" in words else "outside" if "outside" in words else "ok"


def project_document(
    title: str,
    results: Iterable[Result],
    cautions: Iterable[Caution],
    unjudged: Iterable[str] = (),
    typed: Mapping[str, Mapping[str, str]] | None = None,
) -> dict[str, Any]:
    """The document of `check --json`; `unjudged` are sentences on what the file holds besides, where there is such.

    `typed` are the inputs of each item as they stand in the file, field by field, for a later revision to compare.
    """
    results = list(results)
    left = [str(text) for text in unjudged]
    return {
        "jointcalc": VERSION,
        "project": title,
        "status": overall(results),
        "items": [{**r.json(), **({"inputs": dict(typed[r.id])} if typed and r.id in typed else {})} for r in results],
        "cautions": [c.json() for c in cautions],
        **({"unjudged": left} if left else {}),
    }


def comparison_document(results: Iterable[Result]) -> dict[str, Any]:
    """The document of commands that compare candidates, in the order given."""
    return {"jointcalc": VERSION, "kind": "comparison", "items": [r.json() for r in results]}
