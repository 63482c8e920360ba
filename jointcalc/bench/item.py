"""One item on the page: its verdict, drawing, what is ticked off, its cautions, its checklist."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from jointcalc.bench.drawing import breaking, drawing
from jointcalc.bench.markup import Markup, inside, tag
from jointcalc.dossier.figures import figures_of
from jointcalc.dossier.words import unflagged
from jointcalc.layout.places import Places, places
from jointcalc.model.fields import Item
from jointcalc.quantity.sentence import printed
from jointcalc.quantity.show import System, percent
from jointcalc.registry import SOURCES, load
from jointcalc.result import Result
from jointcalc.show.checklist import Entry, checklist
from jointcalc.show.summary import Line, Summary, Told
from jointcalc.show.terminal import down, up

SEVERITY = {"stop": "STOP", "warn": "Warning", "note": "Note"}
COLUMNS = ("What to check", "Asked", "How many", "Measured", "Accepted", "By", "Date")


def anchor(name: str) -> str:
    """The name of an item's place in the page: of any id, one that stands in an address."""
    return "item-" + hashlib.sha256(name.encode("utf-8", "surrogatepass")).hexdigest()[:10]


def article(
    item: Item,
    result: Result,
    line: Line,
    summary: Summary,
    shared: Mapping[Told, str],
    evidence: Markup | None,
    system: System,
    n: int,
) -> Markup:
    """An item that is judged; `n` numbers it in the page.

    `shared` gives the place of cautions that are told once for several items.
    """
    groups, entries = places(item, system), checklist(item)
    pictures = [drawing(p, f"d{n}-{k}") for k, p in enumerate(figures_of(result, system))]
    about = [(label[:1].upper() + label[1:], said(text, system)) for label, text in result.about.items()]
    if line.under:
        about.append(("Under", line.under))
    if item.reason:
        about.append(("Why", item.reason))
    return _article(
        item.id,
        line.title if item.title else "",
        fingerprint(f"{item.kind} {item.model_dump_json()}", groups, entries),
        _verdict(line),
        [tag("p", tag("strong", "STOP: "), unflagged(text), class_="stop") for text in line.stops],
        tag("dl", [(tag("dt", name), tag("dd", breaking(value))) for name, value in about]),
        pictures,
        _ticks(groups, n),
        _cautions(line, summary, shared),
        _checklist(entries, system, n),
        evidence,
    )


def giver_article(thing: Any, system: System, n: int) -> Markup:
    """What gives loads and is built, such as a frame: its drawing and its checklist."""
    record = SOURCES[type(thing).__name__.lower()]
    entries = checklist(thing)
    picture = None
    if record.sheet:
        picture = drawing(load(record.sheet)(thing, system)["picture"], f"d{n}-0")
    return _article(
        thing.id,
        thing.title,
        fingerprint(thing.model_dump_json(), (), entries),
        tag("p", "Gives its loads to the items above; its members are judged there.", class_="soft"),
        picture,
        _checklist(entries, system, n),
    )


def fingerprint(described: str, groups: Sequence[Places], entries: Sequence[Entry]) -> str:
    """What tells whether an item is the same as it was: what is described, ticked and asked."""
    told = [described, *(repr((g.key, g.rows)) for g in groups)]
    told += [f"{e.key} {e.asked!r} {e.unit} {e.bound} {e.places} {e.words}" for e in entries]
    return hashlib.sha256("\n".join(told).encode("utf-8", "surrogatepass")).hexdigest()[:16]


def _article(name: str, title: str, of: str, *parts: Markup | Iterable[Markup] | None) -> Markup:
    at = anchor(name)
    return tag(
        "article",
        tag("h2", f"{name} {title}".strip(), id=at, tabindex=-1),
        parts,
        tag("p", tag("a", "Back to the list of items", href="#to-items"), class_="back"),
        aria_labelledby=at,
        data_item=name,
        data_of=of,
    )


def said(text: str, system: System) -> str:
    """A sentence of a result for this page: nobody who reads it has a command line."""
    return unflagged(printed(text, system))


def _verdict(line: Line) -> Markup:
    j = line.judged
    word = {"ok": "HOLDS", "over": "DOES NOT HOLD", "outside": "CANNOT BE JUDGED"}[j.status]
    if not line.loaded:
        word = "NO LOAD GIVEN: nothing is said to hold"
    told = [tag("p", word, class_=f"verdict {j.status}")]
    if j.used is not None and line.loaded:
        told.append(tag("p", f"{percent(j.used)} used: factor {down(j.factor)}, {up(j.needs)} required."))
    if j.governs:
        mark = f" [{line.unverified}]" if line.unverified else ""
        told.append(tag("p", f"Gives way first: {j.governs}{mark}. ", tag("small", f"{j.title}, {j.source}")))
    told += [tag("p", f"Not judged: {unflagged(text)}", class_="stop") for text in line.unjudged]
    return inside(told)


def _cautions(line: Line, summary: Summary, shared: Mapping[Told, str]) -> Markup:
    mine = [one for one in summary.cautions if line.id in one.ids]
    own = [one for one in mine if one not in shared]
    rows = [tag("p", tag("strong", f"{SEVERITY[one.severity]}: "), unflagged(one.text), class_="note") for one in own]
    links = [tag("a", one.code.replace("-", " "), href=f"#{shared[one]}") for one in mine if one in shared]
    if links:
        others = [(", ", link) for link in links[1:]]
        rows.append(tag("p", "Of several items, and told at the end of the page: ", links[0], others, "."))
    return inside(tag("h3", "Cautions"), rows)


def _ticks(groups: Sequence[Places], n: int) -> Markup | None:
    if not groups:
        return None
    made = []
    for group in groups:
        heads = ", ".join(group.heads)
        rows = [
            tag("li", tag("label", tag("input", type="checkbox", data_no=row[0]),
                          tag("b", row[0]), " ", tag("span", " · ".join(row[1:]))))
            for row in group.rows
        ]  # fmt: skip
        made.append(
            tag(
                "fieldset",
                tag("legend", f"{group.title} ", tag("span", f"{len(group.rows)}", data_count=True)),
                tag("p", heads, class_="soft"),
                tag("ul", rows, class_="ticks" if len(group.heads) < 4 else "ticks wide"),
                data_group=group.key,
                data_what=group.what,
            )
        )
    return inside(tag("h3", "Tick off one by one"), made)


def _checklist(entries: Sequence[Entry], system: System, n: int) -> Markup:
    heads = [tag("th", h, scope="col", role="columnheader", id=f"c{n}-{k}") for k, h in enumerate(COLUMNS)]
    return inside(
        tag("h3", "Inspection checklist ", tag("span", "", data_lines=True, class_="soft")),
        tag(
            "table",
            tag("thead", tag("tr", heads, role="row"), role="rowgroup"),
            tag("tbody", [_line(e, system, n, k) for k, e in enumerate(entries)], role="rowgroup"),
            class_="stack checklist", role="table", aria_label="Inspection checklist",
        ),
    )  # fmt: skip


def _line(entry: Entry, system: System, n: int, k: int) -> Markup:
    row, unit = f"r{n}-{k}", entry.unit_text(system)

    def named(column: int) -> str:
        return f"{row} c{n}-{column}"

    chosen = tag("select", tag("option", "", value=""), tag("option", "yes", value="yes"),
                 tag("option", "no", value="no"), data_field="accepted", aria_labelledby=named(4))  # fmt: skip
    mode = "decimal" if entry.measured else None
    cells = (
        entry.asked_text(system),
        str(entry.places),
        tag(
            "span",
            tag("input", type="text", inputmode=mode, autocomplete="off", maxlength=200, data_field="measured",
                aria_labelledby=named(3)),
            tag("span", unit, class_="soft") if unit else None,
            class_="value",
        ),
        chosen,
        tag("input", type="text", autocomplete="off", maxlength=200, data_field="by", aria_labelledby=named(5)),
        tag("input", type="date", data_field="date", aria_labelledby=named(6)),
    )  # fmt: skip
    return tag(
        "tr",
        tag("th", entry.check, scope="row", role="rowheader", id=row),
        [tag("td", cell, role="cell", data_label=head) for cell, head in zip(cells, COLUMNS[1:])],
        role="row",
        data_entry=entry.key,
    )
