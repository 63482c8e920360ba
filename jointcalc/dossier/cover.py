"""The cover and the one-page summary: the project and its hash, the worst items first, what stops the work."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable

from jointcalc.dossier.common import VERDICT, Data, described, marks_of
from jointcalc.dossier.words import breakable, clean, paragraphs, short
from jointcalc.model.project import Project
from jointcalc.quantity.sentence import printed
from jointcalc.quantity.show import System, percent
from jointcalc.result import Result, collect, trust
from jointcalc.show.terminal import down, up

SUMMARY_ROWS = 16


def head_of(project: Project, version: str, date: str) -> Data:
    """The cover."""
    about = project.about
    return {
        "title": breakable(about.title, 28) or "(no title)",
        "title_plain": short(about.title, 200) or "(no title)",
        "title_short": breakable(short(about.title, 60), 40),
        "vehicle": breakable(about.vehicle),
        "builder": breakable(about.builder),
        "revision": breakable(about.revision),
        "revision_short": short(about.revision, 14),
        "date": breakable(date),
        "date_short": short(date, 20),
        "notes": paragraphs(about.notes),
        "version": version,
        "sha": project_hash(project),
    }


def project_hash(project: Project) -> str:
    """SHA-256 of the project file, or of the items as described when there is no file."""
    if project.sha256:
        return project.sha256
    told = [project.about.model_dump_json(), *(c.model_dump_json() for c in project.cases)]
    told += [f"{item.kind} {item.model_dump_json()}" for item in project.items]
    return hashlib.sha256("\n".join(told).encode("utf-8", "surrogatepass")).hexdigest()


def worst_first(results: Iterable[Result]) -> list[Result]:
    """Over first, then not judged, then by how much is used."""

    def rank(result: Result) -> tuple[int, float]:
        used = result.worst.utilisation if result.worst is not None else None
        return ({"over": 0, "outside": 1, "ok": 2}[result.status], -(used if used is not None else 0.0))

    return sorted(results, key=rank)


def summary_of(results: list[Result], system: System, shown: str = "") -> Data:
    """The one-page summary: counts, the worst items, what stops the work."""
    counts = {word: sum(r.status == word for r in results) for word in ("ok", "over", "outside")}
    told = [f"{counts['ok']} hold"]
    if counts["over"]:
        told.append(f"{counts['over']} do not hold")
    if counts["outside"]:
        told.append(f"{counts['outside']} cannot be judged")
    overall = "over" if counts["over"] else "outside" if counts["outside"] else "ok"
    order = worst_first(results)
    rows = [_summary_row(result, system) for result in order[:SUMMARY_ROWS]]
    stops = [c for c in collect(c for r in results for c in r.cautions) if c.severity == "stop"]
    return {
        "status": overall,
        "word": VERDICT[overall] if len(results) == 1 else {"ok": "ALL HOLD"}.get(overall, VERDICT[overall]),
        "counts": f"{len(results)} item{'s' if len(results) != 1 else ''}: {', '.join(told)}",
        "trust": trust(results),
        "rows": rows,
        "more": len(order) - len(rows),
        # never cut off: what stops the work is read here or nowhere
        "stops": [breakable(printed(c.text, system)) for c in stops],
        "limited": clean(shown),
    }


def _summary_row(result: Result, system: System) -> Data:
    worst = result.worst
    return {
        "id": breakable(short(result.id, 24), 10),
        "what": short(result.title or described(result, system) or result.kind.replace("_", " "), 46),
        "status": result.status,
        "word": {"ok": "holds", "over": "OVER", "outside": "NOT JUDGED"}[result.status],
        "factor": down(worst.safety_factor) if worst else "-",
        "needs": up(worst.required_factor) if worst else "-",
        "used": percent(worst.utilisation) if worst else "-",
        "governing": short(worst.title, 34) if worst else "-",
        "marks": marks_of(worst, result) if worst else [],
    }
