"""Page 1: the verdict, the margins of all items, the worst one and why, what stops work, what is open, who signs."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable

from jointcalc.dossier.common import VERDICT, Data, ids
from jointcalc.dossier.words import breakable, clean, paragraphs, short, unflagged
from jointcalc.model.project import Project
from jointcalc.quantity.show import percent
from jointcalc.show.summary import Line, Summary
from jointcalc.show.terminal import down, up


def head_of(project: Project, version: str, date: str) -> Data:
    """What every page says of the project."""
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
        "history": [breakable(line) for line in about.history],
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


def front_of(summary: Summary, missing: Iterable[str], limited: str = "") -> Data:
    """What page 1 prints; `missing` is the evidence that is not there."""
    number = len(summary.lines)
    told = [f"{summary.counts['ok']} hold"]
    if summary.counts["over"]:
        told.append(f"{summary.counts['over']} do not hold")
    if summary.counts["outside"]:
        told.append(f"{summary.counts['outside']} cannot be judged")
    return {
        "status": summary.status,
        "word": VERDICT[summary.status] if number == 1 or summary.status != "ok" else "ALL HOLD",
        "counts": f"{number} item{'s' if number != 1 else ''}: {', '.join(told)}",
        "worst": _worst(summary),
        "worst_is": "Farthest over its limit:" if summary.status == "over" else "Nearest its limit:",
        "thin": _thin(summary),
        "turns": len(summary.turns),
        "trust": summary.trust,
        "rows": [row_of(line) for line in summary.lines],
        # never cut off: what stops the work is read here or nowhere
        "stops": [[ids(one.ids), breakable(unflagged(one.text))] for one in summary.stops],
        "open": [breakable(unflagged(text)) for text in summary.open_points if clean(text)],
        "missing": [unflagged(text) for text in missing],
        "limited": clean(limited),
    }


def _worst(summary: Summary) -> str:
    worst = summary.worst
    if worst is None or not worst.judged.governs:
        return ""
    none = "does not hold at all" if worst.judged.status == "over" else "not judged"
    used = none if worst.judged.used is None else f"{percent(worst.judged.used)} used"
    source = f" ({clean(worst.judged.title)}, {clean(worst.judged.source)})"
    return f"{breakable(short(worst.id, 30), 14)}, {used}: {clean(worst.judged.governs)}{source}."


def _thin(summary: Summary) -> str:
    """What thinner sheet does to the project, in one sentence."""
    known = [line for line in summary.lines if line.thin is not None]
    if not known or known[0].thin is None:
        return ""
    what = known[0].thin.what[:1].upper() + known[0].thin.what[1:]
    if summary.turns:
        held = sum(line.judged.status == "ok" for line in known)
        verb = "turns" if len(summary.turns) == 1 else "turn"
        return f"{what}, {len(summary.turns)} of the {held} that hold {verb} over: {ids(summary.turns)}."
    left = [line for line in known if line.thin and line.thin.judged and line.thin.judged.used is not None]
    if not left:
        return f"{what}, no verdict changes."
    worst = max(left, key=lambda line: line.thin.judged.used or 0.0)  # type: ignore[union-attr]
    assert worst.thin is not None
    assert worst.thin.judged is not None
    name, used = breakable(short(worst.id, 30), 14), percent(worst.thin.judged.used)
    return f"{what}, no verdict changes; the worst is {name}, {used} used."


def row_of(line: Line) -> Data:
    """An item's margins: as described and with thinner sheet."""
    thin, judged = line.thin, line.judged
    after = thin.judged if thin is not None else None
    thin_text = "-"
    if after is not None:
        thin_text = after.word if after.used is None else percent(after.used)
    elif thin is not None:
        thin_text = "cannot be made"
    return {
        "id": breakable(short(line.id, 60), 10),
        "key": line.id,
        "what": breakable(short(line.title, 60), 24),
        "status": judged.status,
        "word": judged.word if line.loaded else "no load",
        "factor": down(judged.factor) if judged.used is not None else "-",
        "needs": up(judged.needs) if judged.used is not None else "-",
        "used": percent(judged.used) if line.loaded else "-",
        "governs": clean(judged.governs) if line.loaded else "",
        "marks": [line.unverified] if line.unverified else [],
        "thin": thin_text,
        "turns": bool(thin and thin.turns),
    }
