"""An item beside others: its alternatives, and what thinner sheets or one weld fewer do to it."""

from __future__ import annotations

from collections.abc import Iterable
from math import ceil

from jointcalc.dossier.common import Data, marks_of, shown
from jointcalc.dossier.words import amount, breakable, clean
from jointcalc.explore.alternatives import Alternative
from jointcalc.explore.changed import Changed
from jointcalc.explore.sensitivity import Tolerance
from jointcalc.model.fields import Item
from jointcalc.quantity.sentence import printed
from jointcalc.quantity.show import System, percent, show
from jointcalc.result import Result
from jointcalc.show.terminal import down, up
from jointcalc.tables.store import load


def alternatives_of(item: Item, result: Result, others: Iterable[Alternative], system: System) -> Data | None:
    """The item and those of its alternatives that were judged for the same loads, side by side.

    None when all alternatives are words.
    """
    judged = [other for other in others if other.shape]
    if not judged:
        return None
    shape = str(getattr(item, "profile", "") or getattr(item, "bead", ""))
    rows = [_alternative_row(shape, "chosen", result, "", system)]
    rows += [_alternative_row(other.shape, other.words, other.result, other.why, system) for other in judged]
    return {
        "rows": rows,
        "words": [breakable(other.words) for other in others if not other.shape and clean(other.words)],
    }


def _alternative_row(shape: str, words: str, result: Result | None, why: str, system: System) -> Data:
    values = result.values if result is not None else {}
    sagged = [a for n in ("deflection_max", "deflection_yielding") if (a := values.get(n))]
    mass = next((a for n in ("mass_per_metre", "mass_per_area") if (a := values.get(n))), None)
    sag = max((a.value for a in sagged if a.value is not None), default=None)
    return {
        **_changed_row("-", result, breakable(printed(why, system)), system),
        "what": breakable(shape, 20),
        "words": breakable(words),
        "mass": "-" if mass is None else shown(mass.value, mass.unit, system),
        "sag": shown(sag, "mm", system),
    }


def sensitivity_of(
    result: Result, changes: Iterable[Changed], allowed: Iterable[Tolerance], system: System
) -> Data | None:
    """What the governing factor becomes with thinner sheets and with one weld or fastener fewer.

    None when there is no factor that could change.
    """
    if result.worst is None or result.worst.safety_factor is None:
        return None
    last = result.worst.source
    rows = [_changed_row("as described", result, "", system)]
    for change in changes:
        notes = [breakable(printed(change.why, system))] if change.why else []
        if change.lost:
            titles = ", ".join(f"{clean(printed(c.title, system))} ({clean(c.source)})" for c in change.lost)
            notes.append(f"no longer covered by: {titles}")
        row = _changed_row(change.what, change.result, "; ".join(notes), system)
        if row["source"] == last:
            row["source"] = ""
        else:
            last = row["source"]
        rows.append(row)
    return {"rows": rows, "allowed": "; ".join(_allowed(one, system) for one in allowed)}


def _allowed(one: Tolerance, system: System) -> str:
    """What the table lets a sheet lack, never printed smaller than it is."""
    about = load(one.table).provenance
    mark = f" [{about.status}]" if about.status in ("from memory", "second-hand") else ""
    step, places, word = (0.01, 2, "mm") if system == "metric" else (25.4e-4, 4, "in")
    sizes, parts = zip(*((ceil(v / step - 1e-9) * step, v / one.thickness) for v in (one.least, one.most)))
    shown = " to ".join(dict.fromkeys(f"{v / (1.0 if word == 'mm' else 25.4):.{places}f}" for v in sizes))
    share = " to ".join(dict.fromkeys(percent(v).removesuffix(" %") for v in parts))
    wide = ", more the wider it is" if one.least != one.most else ""
    nominal = amount(show(one.thickness, "length", system))
    return f"{nominal} may be {shown} {word} ({share} %{wide}) thin by {clean(about.document)}{mark}"


def _changed_row(what: str, result: Result | None, note: str, system: System) -> Data:
    worst = result.worst if result is not None else None
    status = result.status if result is not None else "outside"
    told = [breakable(printed(text, system)) for text in result.unjudged] if result is not None else []
    words = printed(what, system)
    return {
        "what": breakable(words[:1].upper() + words[1:], 30),
        "note": "; ".join([*([note] if note else []), *told]),
        "governing": f"{clean(worst.title)}" if worst else "-",
        "source": clean(worst.source) if worst else "",
        "marks": marks_of(worst, result) if worst and result else [],
        # what is not judged shows no factor
        "factor": down(worst.safety_factor) if worst and status != "outside" else "-",
        "needs": up(worst.required_factor) if worst and status != "outside" else "-",
        "used": percent(worst.utilisation) if worst and status != "outside" else "-",
        "status": status,
        "word": {"ok": "holds", "over": "OVER", "outside": "NOT JUDGED"}[status],
    }
