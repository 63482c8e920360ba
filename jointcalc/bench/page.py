"""The page as a whole: what it says first, what it keeps, and the rules by which a browser opens it."""

from __future__ import annotations

import hashlib
from base64 import b64encode
from collections.abc import Callable, Iterable, Mapping, Sequence
from importlib.resources import files
from math import floor

from jointcalc.bench.drawing import drawing, palette, unbroken
from jointcalc.bench.item import SEVERITY, anchor, article, giver_article
from jointcalc.bench.markup import Markup, inside, tag
from jointcalc.bench.records import of_the_whole, records
from jointcalc.dossier.content import dated
from jointcalc.dossier.cover import project_hash
from jointcalc.dossier.evidence import missing
from jointcalc.dossier.figures.plan import MANY, around_of, draw_plan
from jointcalc.dossier.lists import SEVERAL
from jointcalc.dossier.words import unflagged
from jointcalc.explore.changed import Changed
from jointcalc.explore.sensitivity import thinner
from jointcalc.layout.items import file_names
from jointcalc.model.project import Project
from jointcalc.quantity.show import System, percent
from jointcalc.registry import SOURCES
from jointcalc.result import Result
from jointcalc.show.checklist import checklist
from jointcalc.show.summary import Judged, Line, Summary, Told, summarise
from jointcalc.version import VERSION

Tell = Callable[[str, int, int], None]

VERDICT = {"ok": "ALL HOLD", "over": "DOES NOT HOLD", "outside": "CANNOT BE JUDGED"}
KEYS = 16
"""Digits of a hash that are enough to tell projects apart in one browser."""


def template(name: str) -> str:
    """The text of a file the page is made with."""
    return files("jointcalc.bench").joinpath("templates", name).read_text(encoding="utf-8")


def make_bench(
    project: Project,
    results: Sequence[Result],
    *,
    units: System = "metric",
    items: Iterable[str] = (),
    tell: Tell | None = None,
    thin: Mapping[str, Changed] | None = None,
) -> bytes:
    """The file.  `results` are those of the project's items, or of those named in `items`, in order.

    The same project gives the same bytes.  `tell(what, done, of)` hears of progress; `thin` is each item judged with
    thinner sheet, by id, where it is known already.  Raises InputError when the
    project's date cannot be read.
    """
    tell = tell or (lambda what, done, of: None)
    wanted = tuple(items)
    by_id = {r.id: r for r in results}
    chosen = [i for i in project.items if i.id in by_id and (not wanted or i.id in wanted)]
    picked = [by_id[i.id] for i in chosen]
    thin = dict(thin or {})
    for n, item in enumerate(chosen):
        tell("judging thin sheet", n, len(chosen))
        if item.id not in thin:
            thin[item.id] = thinner(item, by_id[item.id])
    points = [*project.about.open_points, *(unbroken(p) for p in missing(project, chosen, by_id, units))]
    summary = summarise(picked, units, thin=thin, open_points=points)
    many = min(SEVERAL, max(len(picked), 2))
    shared = {
        one: f"caution-{n}"
        for n, one in enumerate(summary.cautions, 1)
        if one.severity != "stop" and not one.stands and len(one.ids) >= many
    }
    articles = []
    shown_at: dict[str, str] = {}
    for n, line in enumerate(summary.lines):
        tell("drawing", n, len(summary.lines))
        item = next(i for i in chosen if i.id == line.id)
        evidence = records(project, item, units, shown_at)
        articles.append(article(item, by_id[line.id], line, summary, shared, evidence, units, n + 1))
    if not wanted:
        givers = [g for g in project.givers if checklist(g)]
        articles += [giver_article(g, units, len(articles) + n + 1) for n, g in enumerate(givers)]
    placed = [(n, by_id[i.id], i.place) for n, i in enumerate(chosen, 1) if i.place is not None]
    plan = draw_plan(placed, units, around_of(project.givers), paged=len(placed) >= MANY)
    parts = [
        _head(project, summary, len(project.items)),
        _stops(summary.stops),
        _summary(summary),
        _open(summary),
        _kept(project),
        _nav(summary, project, wanted),
        tag("section", tag("h2", "Plan"), drawing(plan, "plan"), aria_label="Plan") if plan is not None else None,
        tag("main", articles, id="items"),
        of_the_whole(project, units),
        _shared(shared, len(picked)),
        _foot(project),
    ]
    return _document(project, units, inside(parts)).encode("utf-8")


def _document(project: Project, units: System, content: Markup) -> str:
    script = Markup(template("bench.js"))
    assert "</script" not in script.lower()
    print_of = b64encode(hashlib.sha256(script.encode("utf-8")).digest()).decode("ascii")
    # nothing is fetched, sent or framed, and no script runs but our own: whatever a title may hold
    policy = (
        f"default-src 'none'; script-src 'sha256-{print_of}'; style-src 'unsafe-inline'; img-src data:; "
        "base-uri 'none'; form-action 'none'"
    )
    about = project.about
    head = tag(
        "head",
        tag("meta", charset="utf-8"),
        tag("meta", http_equiv="Content-Security-Policy", content=policy),
        tag("meta", name="viewport", content="width=device-width, initial-scale=1"),
        tag("meta", name="referrer", content="no-referrer"),
        tag("title", f"{about.title} - bench page"),
        tag("style", Markup(template("bench.css") + palette(content))),
    )
    who = "\n".join((about.title, about.vehicle, about.builder))
    body = tag(
        "body",
        content,
        tag("script", script),
        data_project=hashlib.sha256(who.encode("utf-8")).hexdigest()[:KEYS],
        data_inputs=project_hash(project)[:KEYS],
        data_units=units,
        data_title=about.title,
        data_file=f"{file_names([about.title])[0]}-bench",
    )
    return f"<!DOCTYPE html>\n{tag('html', head, body, lang='en')}\n"


def _head(project: Project, summary: Summary, of: int) -> Markup:
    about = project.about
    _, date = dated(about.date)
    facts = [("Vehicle", about.vehicle), ("Builder", about.builder), ("Revision", about.revision), ("Date", date)]
    counts = summary.counts
    words = ((counts["ok"], "hold"), (counts["over"], "do not hold"), (counts["outside"], "cannot be judged"))
    told = [f"{n} {word}" for n, word in words if n]
    shown = len(summary.lines)
    return tag(
        "header",
        tag("a", "To the items", href="#items", class_="skip"),
        tag("h1", about.title),
        tag("dl", [(tag("dt", name), tag("dd", value)) for name, value in facts if value]),
        tag("p", VERDICT[summary.status], class_=f"verdict big {summary.status}"),
        tag("p", f"{shown} item{'' if shown == 1 else 's'}: {', '.join(told)}."),
        tag("p", f"This page holds {shown} of the project's {of} items.") if shown < of else None,
        tag(
            "p",
            "An estimate to choose and to build by, not an approval: a licensed engineer and local rules decide.",
            class_="note",
        ),
        tag("p", about.notes) if about.notes else None,
    )


def spare(margin: float | None) -> str:
    """A margin in percent, rounded down; a dash where there is none."""
    if margin is None:
        return "-"
    return f"{floor(margin * 100 + 1e-7):+d} %".replace("-", "−") if margin < 10 else "> 999 %"


def _thin_text(line: Line) -> tuple[str, str]:
    """(words, status) of the item with thin sheet."""
    thin = line.thin
    if thin is None:
        return "-", ""
    if thin.judged is None:
        return f"cannot be judged: {unflagged(thin.why)}", "outside"
    used = f"{thin.judged.word}, {percent(thin.judged.used)} used" if thin.judged.used is not None else thin.judged.word
    return used, thin.judged.status


def _summary(summary: Summary) -> Markup:
    thin = next((line.thin.what for line in summary.lines if line.thin is not None), "thin sheet")
    heads = ("Item", "What", "Verdict", "Used", "Margin", "Gives way first", f"With {thin}", "Done")
    rows = [_row(line, heads) for line in summary.lines]
    turned = [line.id for line in summary.lines if line.thin is not None and line.thin.turns and line.thin.judged]
    unsaid = [line.id for line in summary.lines if line.thin is not None and line.thin.judged is None]
    return tag(
        "section",
        tag("h2", "Summary, the worst first"),
        tag(
            "table",
            tag("thead", tag("tr", [tag("th", h, scope="col", role="columnheader") for h in heads], role="row"),
                role="rowgroup"),
            tag("tbody", rows, role="rowgroup"),
            class_="stack summary", role="table", aria_label="Summary",
        ),
        tag("p", f"With {thin} these hold no more: {', '.join(turned)}.", class_="stop") if turned else None,
        tag("p", f"With {thin} these cannot be judged: {', '.join(unsaid)}.") if unsaid else None,
        tag("p", summary.trust) if summary.trust else None,
        tag("p", "Used: what is required over what there is. Margin: what is left of the required factor.",
            class_="soft"),
        aria_label="Summary",
    )  # fmt: skip


def _row(line: Line, heads: Sequence[str]) -> Markup:
    j: Judged = line.judged
    thin, status = _thin_text(line)
    governs = inside(j.governs or "-", tag("small", f" [{line.unverified}]") if line.unverified else None)
    cells = (
        line.title,
        tag("span", j.word if line.loaded else "no load", class_=f"verdict {j.status}"),
        tag("span", percent(j.used), class_="number"),
        tag("span", spare(j.margin), class_="number"),
        governs,
        tag("span", thin, class_=status or None),
        tag("span", "-", data_done=line.id),
    )
    link = tag("a", line.id, href=f"#{anchor(line.id)}")
    return tag(
        "tr",
        tag("th", link, scope="row", role="rowheader"),
        [tag("td", tag("span", cell), role="cell", data_label=head) for cell, head in zip(cells, heads[1:])],
        role="row",
    )


def _stops(told: Iterable[Told]) -> Markup | None:
    title = "What stops the work"
    rows = [tag("p", tag("strong", f"{', '.join(one.ids)}: "), unflagged(one.text), class_="stop") for one in told]
    return tag("section", tag("h2", title), rows, aria_label=title) if rows else None


def _shared(shared: Mapping[Told, str], of: int) -> Markup | None:
    """Cautions of several items, each once; the items lead here."""
    title = "Cautions that hold for several items"
    rows = []
    for one, place in shared.items():
        items = "every item" if len(one.ids) == of else ", ".join(one.ids)
        words = (tag("strong", f"{SEVERITY[one.severity]}: "), unflagged(one.text), tag("small", f" ({items})"))
        rows.append(tag("p", *words, class_="note", id=place, tabindex=-1))
    return tag("section", tag("h2", title), rows, aria_label=title) if rows else None


def _open(summary: Summary) -> Markup:
    points = [tag("li", unflagged(text)) for text in summary.open_points]
    listed = tag("ul", points) if points else tag("p", "None is named.")
    return tag("section", tag("h2", "Open points"), listed, aria_label="Open points")


def _nav(summary: Summary, project: Project, wanted: Sequence[str]) -> Markup:
    links = [(line.id, f"{line.id}: {line.judged.word}") for line in summary.lines]
    if not wanted:
        links += [(g.id, g.id) for g in project.givers if checklist(g)]
    told = [tag("li", tag("a", words, href=f"#{anchor(name)}")) for name, words in links]
    return tag("nav", tag("h2", "Items", id="to-items"), tag("ul", told), aria_labelledby="to-items")


def _kept(project: Project) -> Markup:
    return tag(
        "section",
        tag("h2", "What you tick and measure"),
        tag(
            "p",
            "Ticks and values stay in this browser only, for this project (by its title, vehicle and builder) and for "
            f"this state of it (its inputs, {project_hash(project)[:KEYS]}). A page made after the project was changed "
            "begins empty: what was ticked before is kept beside it and never shown as if it were of today. Save a "
            "copy before you clear the browser or change the phone.",
        ),
        tag("noscript", tag("p", "Scripts are off: nothing is kept. Print the page and fill it in by hand.",
                            class_="stop")),
        tag("div",
            tag("p", "This browser keeps nothing for a page opened like this: save a copy before you close it.",
                id="keeps", class_="stop", hidden=True),
            tag("div",
                tag("p", "", id="earlier-told"),
                tag("div", _button("earlier-take", "Take over what belongs to unchanged items"),
                    _button("earlier-drop", "Forget it"), class_="keep"),
                id="earlier", class_="note", hidden=True),
            tag("div", _labelled("by", "Checked by", "text"), _labelled("date", "Date", "date"), class_="keep"),
            tag("p", "Put in beside every line that you fill in.", class_="soft"),
            tag("div", _button("download", "Save as JSON"), _button("show", "Copy as text"),
                _button("clear", "Take all away"), class_="keep"),
            tag("label", "All ticks and values as text", for_="copied", id="copied-label", hidden=True),
            tag("textarea", "", id="copied", readonly=True, hidden=True),
            tag("details",
                tag("summary", "Bring in saved ticks and values"),
                tag("p", "They are added to what stands here: nothing that stands here is lost, and nothing comes in "
                         "for an item that has changed."),
                tag("div", _labelled("file", "A saved file", "file", accept=".json,application/json"), class_="keep"),
                tag("label", "Or its text", for_="pasted"), tag("textarea", "", id="pasted"),
                _button("take", "Bring in the text")),
            data_script=True, hidden=True),
        tag("p", "", id="said", role="status", aria_live="polite"),
        aria_label="What you tick and measure", class_="held",
    )  # fmt: skip


def _button(name: str, words: str) -> Markup:
    return tag("button", words, id=name, type="button")


def _labelled(name: str, words: str, kind: str, **more: str) -> Markup:
    return tag("label", f"{words} ", tag("input", id=name, type=kind, autocomplete="off", **more))


def _foot(project: Project) -> Markup:
    kinds = ", ".join(SOURCES)
    limits = "" if not project.givers else f" What only gives loads ({kinds}) is judged by nothing itself."
    return tag(
        "footer",
        tag("h2", "How far this goes"),
        tag(
            "p",
            "Every strength here assumes sound welds of the stated size; only coupons from your own machine and sheet, "
            f"and inspection, show that. The dossier of the same project holds methods, working and sources.{limits}",
        ),
        tag("p", f"jointcalc {unbroken(VERSION)}. Project file, SHA-256: {project_hash(project)}", class_="soft"),
    )
