"""Markup that nothing a builder typed can break: every text is escaped where it is put in."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

VOID = frozenset({"br", "col", "hr", "img", "input", "link", "meta", "wbr"})


class Markup(str):
    """Text that is markup already; anything else is escaped."""

    __slots__ = ()


Content = str | Iterable["Content"] | None
"""Text (escaped), markup, several of both, or nothing."""


def tag(name: str, /, *content: Content, **attributes: str | int | bool | None) -> Markup:
    """An element: `tag("p", "a < b", class_="x", data_no=3)`.

    Underscores of attribute names become hyphens, one at the end is dropped; None and False leave an attribute out,
    True stands for its bare name.
    """
    parts = [name]
    for key, value in attributes.items():
        if value is None or value is False:
            continue
        spelt = key.rstrip("_").replace("_", "-")
        parts.append(spelt if value is True else f'{spelt}="{escape(str(value), quote=True)}"')
    start = f"<{' '.join(parts)}>"
    return Markup(start if name in VOID else f"{start}{inside(*content)}</{name}>")


def inside(*content: Content) -> Markup:
    """Content one after another."""
    made = []
    for part in content:
        if part is None:
            continue
        if isinstance(part, str):
            made.append(part if isinstance(part, Markup) else escape(part, quote=False))
        else:
            made.append(inside(*part))
    return Markup("".join(made))
