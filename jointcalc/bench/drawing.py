"""The dossier's drawings put into a page: as large as the page has room, in its colours, no name used twice."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import partial
from math import hypot

from jointcalc.bench.markup import Markup, inside, tag
from jointcalc.dossier.figures.canvas import BLUE, FONT, GREY, INK, PALE, RED, Picture
from jointcalc.dossier.words import breakable, clean, no_dust

COLOURS = {INK: "ink", "#ffffff": "paper", GREY: "grey", PALE: "pale", BLUE: "blue", RED: "red"}
"""Colour of the house style -> the page's own, which changes with light and dark."""

LONGEST = 20
"""Letters of a word that stay together."""
SET = 1.45
"""Pixels of a screen per point of a drawing: its lettering of 8 pt is read without a glass."""
LONG = 12
"""Straight pieces from which a line is worth thinning out."""
NEAR = 0.05
"""How far off a line a point may lie and be left out [points]: 0.02 mm."""

_COLOUR = re.compile(r"#[0-9a-f]{6}\b")
_OTHER = re.compile(r"var\(--c-([0-9a-f]{6})\)")
_BREAK = "\u200b"
_ASIDE = re.compile(r"<metadata>.*?</metadata>|<!--.*?-->|<style[^>]*>.*?</style>", re.DOTALL)
_TAG = re.compile(r"<[^>]*>")
_ATTRIBUTE = re.compile(r' ([\w:]+)="([^"]*)"')
_NUMBER = re.compile(r"-?\d+\.\d{3,}")
_REFERRED = re.compile(r'(?:url\(|href=")#([^)"]+)')


def unbroken(text: str) -> str:
    """Text without the marks at which the typesetter may break it."""
    return clean(text.replace(_BREAK, ""))


def breaking(text: str) -> Markup:
    """Text whose long words, such as a profile, break between their parts; what is copied from it holds no mark."""
    parts = breakable(text, LONGEST).split(_BREAK)
    return inside(parts[0], [(tag("wbr"), part) for part in parts[1:]])


def drawing(picture: Picture, name: str) -> Markup:
    """A figure with its caption; `name` is unique in the page and begins the names of its parts.

    It is not made smaller than its lettering can be read: on a narrow screen it moves in a frame of its own.
    """
    words = unbroken(no_dust(picture.alt))
    svg = inline(picture.svg.decode("utf-8"), name, words)
    frame = tag("div", svg, class_="paper", tabindex=0, role="group", aria_label="Drawing, moves sideways")
    return tag("figure", frame, tag("figcaption", breaking(no_dust(unbroken(picture.caption)))))


def inline(svg: str, name: str, words: str) -> Markup:
    """The drawing as an element of a page, read out as `words`.  Its lettering stays as it is, to the letter."""
    head, _, rest = svg[svg.index("<svg") :].partition(">")
    box = re.search(r'viewBox="[^"]+"', head)
    assert box is not None, "a drawing has a size"
    rest = _ASIDE.sub("", rest)
    used = frozenset(_REFERRED.findall("".join(_TAG.findall(rest))))
    rest = _TAG.sub(lambda m: _ATTRIBUTE.sub(partial(_attribute, name, used), m[0]), rest)
    rest = re.sub(r">\s*\n\s*<", ">\n<", rest)
    while "<g>\n</g>\n" in rest:
        rest = rest.replace("<g>\n</g>\n", "")
    title = tag("title", words, id=f"{name}-words")
    wide = round(float(box[0].rstrip('"').split()[-2]) * SET)
    return Markup(f'<svg {box[0]} width="{wide}" role="img" aria-labelledby="{name}-words">{title}{rest.strip()}')


def palette(content: str) -> str:
    """Rules for the colours of drawings that have no name here: as they are, and of turned lightness in the dark."""
    found = sorted(set(_OTHER.findall(content)))
    if not found:
        return ""
    light = " ".join(f"--c-{c}: #{c};" for c in found)
    dark = " ".join(f"--c-{c}: #{_turned(c)};" for c in found)
    return f":root {{ {light} }}\n@media screen and (prefers-color-scheme: dark) {{ :root {{ {dark} }} }}\n"


def _turned(colour: str) -> str:
    """The colour of the same hue, as dark as it was light."""
    from colorsys import hls_to_rgb, rgb_to_hls

    h, l, s = rgb_to_hls(*(int(colour[k : k + 2], 16) / 255 for k in (0, 2, 4)))
    return "".join(f"{round(255 * part):02x}" for part in hls_to_rgb(h, 1 - 0.9 * l, s))


def _path(value: str) -> str:
    """Path data on one line; of a long line of straight pieces only the points that bend it."""
    words = value.split()
    if words.count("L") < LONG or set(words[0::3]) - {"M", "L", "z"}:
        return " ".join(words)
    made: list[str] = []
    run: list[tuple[float, float]] = []

    def close() -> None:
        kept = _bending(run)
        made.extend(f"{'L' if k else 'M'} {x:g} {y:g}" for k, (x, y) in enumerate(kept))
        run.clear()

    at = 0
    while at < len(words):
        if words[at] == "z":
            close()
            made.append("z")
            at += 1
            continue
        if words[at] == "M":
            close()
        run.append((float(words[at + 1]), float(words[at + 2])))
        at += 3
    close()
    return " ".join(made)


def _bending(points: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """The points of a line that lie more than `NEAR` off the line through those kept beside them."""
    if len(points) < 3:
        return list(points)
    keep = {0, len(points) - 1}
    spans = [(0, len(points) - 1)]
    while spans:
        i, j = spans.pop()
        (x1, y1), (x2, y2) = points[i], points[j]
        long = hypot(x2 - x1, y2 - y1)
        off = [
            (abs((x - x1) * (y2 - y1) - (y - y1) * (x2 - x1)) / long if long else hypot(x - x1, y - y1), k)
            for k, (x, y) in enumerate(points[i + 1 : j], i + 1)
        ]
        far, k = max(off, default=(0.0, 0))
        if far > NEAR:
            keep.add(k)
            spans += [(i, k), (k, j)]
    return [points[k] for k in sorted(keep)]


def _attribute(name: str, used: frozenset[str], match: re.Match[str]) -> str:
    """One attribute as the page needs it: names of its own, no digits that nobody sees, the page's colours."""
    key, value = match[1].removeprefix("xlink:"), match[2]
    if key == "id":
        return f' id="{name}-{value}"' if value in used else ""
    value = re.sub(r"url\(#([^)]+)\)", rf"url(#{name}-\1)", value)
    if key == "href":
        return f' href="#{name}-{value.removeprefix("#")}"'
    if key == "style":
        value = _COLOUR.sub(lambda m: f"var(--{COLOURS.get(m[0], f'c-{m[0][1:]}')})", value)
        value = value.replace(f"'{FONT}'", f"'{FONT}', monospace")
    if key != "transform":
        # a hundredth of a point is less than any screen or printer shows
        value = _NUMBER.sub(lambda m: f"{float(m[0]):.2f}".rstrip("0").rstrip("."), value)
    if key == "d":
        value = _path(value)
    return f' {key}="{value}"'
