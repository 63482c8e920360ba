"""What shows that the work is as described: records in words, photos put into the page with their captions."""

from __future__ import annotations

from base64 import b64encode

from jointcalc.bench.drawing import unbroken
from jointcalc.bench.item import anchor
from jointcalc.bench.markup import Markup, inside, tag
from jointcalc.dossier.evidence import records_of
from jointcalc.dossier.photos import pictures_of
from jointcalc.model.fields import Item
from jointcalc.model.project import Project
from jointcalc.quantity.show import System

MEDIA = {"png": "image/png", "jpg": "image/jpeg", "gif": "image/gif", "webp": "image/webp"}


def _address(data: bytes, kind: str) -> str:
    """The picture itself, where a page would name a file."""
    return f"data:{MEDIA[kind]};base64,{b64encode(data).decode('ascii')}"


def records(project: Project, item: Item, system: System, shown_at: dict[str, str]) -> Markup | None:
    """Records and photos of an item; None where there are none.

    `shown_at` gathers the photos with the item they stand at: one of several items is put into the page once, and the
    others lead there.
    """
    found = records_of(project, item, system)
    told = [tag("li", f"{one['sort']}: {unbroken(one['text'])}") for one in found]
    shown = []
    for one in pictures_of(project, item, found, _address, []):
        if one["note"]:
            shown.append(tag("p", unbroken(one["note"])))
            continue
        caption = unbroken(one["caption"])
        place = shown_at.setdefault(one["file"], item.id)
        if place != item.id:
            shown.append(tag("p", f"{caption}: photo at ", tag("a", place, href=f"#{anchor(place)}")))
            continue
        picture = tag("img", src=one["file"], alt=unbroken(one["alt"]))
        shown.append(tag("figure", picture, tag("figcaption", caption)))
    if not told and not shown:
        return None
    return inside(tag("h3", "Evidence"), tag("ul", told) if told else None, shown)


def of_the_whole(project: Project, system: System) -> Markup | None:
    """Records that are about no single item, photos by their captions; None where there are none."""
    told = [tag("li", f"{one['sort']}: {unbroken(one['text'])}") for one in records_of(project, None, system)]
    if not told:
        return None
    return tag("section", tag("h2", "Evidence for the whole project"), tag("ul", told), aria_label="Evidence")
