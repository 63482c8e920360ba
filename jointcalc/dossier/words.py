"""Text made safe to print: what the fonts of the document hold, in words that can break.

The document is set in the fonts that come with the typesetter, and in no other, so that its bytes
are the same on any machine.  A character they do not hold is printed as its code point, `⟨U+4E2D⟩`,
so that nothing a builder typed is lost or silently replaced.  `PRINTABLE` is held against the
typesetter by a test that sets every one of these characters.
"""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

from jointcalc.marks import unmarked

PRINTABLE: tuple[tuple[int, int], ...] = (
    (0x20, 0x7E), (0xA1, 0xAC), (0xAE, 0x1C3), (0x1CD, 0x1E3), (0x1F8, 0x21F), (0x250, 0x2AF),
    (0x386, 0x386), (0x388, 0x38A), (0x38C, 0x38C), (0x38E, 0x3A1), (0x3A3, 0x3CE), (0x3D0, 0x3D6), (0x3F0, 0x3F6),
    (0x400, 0x45F), (0x490, 0x491), (0x1E00, 0x1E99), (0x1EA0, 0x1EF9),
    (0x2010, 0x2015), (0x2018, 0x2022), (0x2026, 0x2026), (0x2030, 0x2030), (0x2032, 0x2033), (0x2039, 0x203A),
    (0x2070, 0x2071), (0x2074, 0x208E), (0x20AC, 0x20AC), (0x2116, 0x2116),
    (0x2122, 0x2122), (0x2126, 0x2126), (0x212B, 0x212B), (0x2153, 0x215E), (0x2190, 0x2195), (0x2200, 0x2213),
    (0x2215, 0x2215), (0x2217, 0x2220), (0x2227, 0x222B), (0x223C, 0x223C), (0x2248, 0x2248), (0x2260, 0x2261),
    (0x2264, 0x2265), (0x22C5, 0x22C5), (0x2300, 0x2300), (0x25A0, 0x25A1), (0x25B2, 0x25B3), (0x25CB, 0x25CB),
    (0x25CF, 0x25CF), (0x27E8, 0x27E9), (0xFFFD, 0xFFFD),
)  # fmt: skip
"""First and last code point of each run of characters the document's fonts hold, in text and in figures."""

_ALLOWED = frozenset(chr(point) for first, last in PRINTABLE for point in range(first, last + 1))
_BLANKS = re.compile(r"[\s\u00a0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000]+")
BREAK = "\u200b"
"""Stands for a place where an over-long word may break; the template prints no character for it."""

THIN = "\u202f"
"""Narrow space that does not break, between groups of digits."""

TIE = "\u00a0"
"""Space that does not break, between number and unit."""

PIECE = 8
"""Letters that stay together of a word that can break anywhere."""

LONGEST = 20_000
"""Characters of one text that are printed."""


KEPT = 4096
"""Texts kept clean: symbols, units and titles come again and again."""


def clean(text: object) -> str:
    """One line of text of which every character can be printed; blanks of any sort become single spaces."""
    return _cleaned(str(text))


@lru_cache(maxsize=KEPT)
def _cleaned(text: str) -> str:
    whole = unmarked(text)
    cut = whole[:LONGEST]
    line = _BLANKS.sub(" ", unicodedata.normalize("NFC", cut)).strip()
    for char in set(line) - _ALLOWED:
        line = line.replace(char, f"⟨U+{ord(char):04X}⟩")
    return line if len(whole) <= LONGEST else f"{line} … ({len(whole) - LONGEST} more characters in the project file)"


def paragraphs(text: object) -> list[str]:
    """The paragraphs of a text, each clean; empty ones are dropped."""
    return [breakable(part) for part in re.split(r"\r\n|\r|\n", str(text)) if clean(part)]


_SEAM = re.compile(r"(?<=[,;:/_)·])(?=[^\s,;:/_)·])(?!(?<=[\d.],)\d)")
"""Where an over-long word may break: behind a mark between its parts, never within a number."""


def breakable(text: object, longest: int = 36) -> str:
    """Clean text whose words of more than `longest` characters may break: between their parts, else anywhere.

    A line ends in `t=1.5mm,` and not in `t=1.5m`.  The template makes a break without a character of each BREAK, so
    that a profile is found by searching the file and can be copied from it.
    """

    def split(match: re.Match[str]) -> str:
        parts = _SEAM.sub(BREAK, match[0]).split(BREAK)
        return BREAK.join(part if len(part) <= max(longest, 12) else BREAK.join(_pieces(part)) for part in parts)

    line = clean(text)
    if len(line) <= longest:
        return line
    return re.sub(rf"\S{{{longest + 1},}}", split, line)


def _pieces(word: str) -> list[str]:
    """A word without seams in pieces of a few letters: a break for each letter is more than the typesetter takes."""
    return [word[n : n + PIECE] for n in range(0, len(word), PIECE)]


def short(text: object, most: int) -> str:
    """Clean text of at most `most` characters; a longer one ends in `…`."""
    line = clean(text)
    return line if len(line) <= most else line[: most - 1].rstrip() + "…"


_FLAG = re.compile(r"`?--([a-z][a-z-]*)`?(?: or `\w+`)?|`(\w+)`|`([^`]+)`|\[\[(\w+)\]\]")
"""An option, with the key that says the same; a key; other words of a command or a file; a table of a file."""


_PRODUCT = re.compile(r"(?<=\b[NJ])\*(?=mm|m\b|in\b)|(?<=\blbf)\*(?=in|ft)")
_POWER_OF_TEN = re.compile(r"(?<=\d)e\+0*(\d+)\b")


def unflagged(text: str) -> str:
    """A sentence as it is read: no command-line flags and keys in backticks (who reads a file types nothing), units and
    powers of ten as they are printed.
    """
    text = _FLAG.sub(
        lambda found: found[3] or (found[1] or found[2] or found[4]).replace("-", " ").replace("_", " "), text
    )
    return _POWER_OF_TEN.sub(lambda found: "·10" + found[1].translate(_RAISED), _PRODUCT.sub("·", text))


_TINY = re.compile(r"-?\d+(?:\.\d+)?(?:·10\^| dot 10\^|e)\(?-(?:1[1-9]|[2-9]\d)\b\)?")


def no_dust(text: str) -> str:
    """A working without what rounding left of a nought: `4.5·10^-13` is 0."""
    return _TINY.sub("0", text)


_E_POWER = re.compile(r"(?<=\d)e\+?(-?)0*(\d+)")


def spoken(text: str) -> str:
    """How a given value came about, without the spelling of machines: `2.5e+05 N*mm` is 2.5·10^5 N·mm."""
    return _E_POWER.sub(r"·10^\1\2", text).replace("*", "·")


_RAISED = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")
_EXPONENT = re.compile(r"\^(-?\d+)|(?<=\b(?:in|mm))(\d)\b")


def unit(text: str) -> str:
    """A unit as it is printed: raised powers, centred product dots."""
    return _EXPONENT.sub(lambda found: (found[1] or found[2]).translate(_RAISED), text).replace("*", "·")


_POWER = re.compile(r"(?<=\d)e(-?\d+)$")
_NUMBER = re.compile(r"(?:< )?[-+]?\d[\d.,\s]*(?:e-?\d+)?(?=\s|$)")


def amount(text: str) -> str:
    """A number with its unit, such as `3 543 N` or `1.2e7 N*mm`, set so that number and unit stay together."""
    match = _NUMBER.match(text)
    if match is None:
        return clean(text)
    head = _POWER.sub(lambda found: "·10" + found[1].translate(_RAISED), match[0].strip())
    head = re.sub(r"\s", THIN, head)
    tail = text[match.end() :].strip()
    return f"{head}{TIE}{unit(tail)}" if tail else head


_MATHS = re.compile(r'(?:"[^"\\#$]*"|[A-Za-z0-9_^(),.;:+\-*/|<>=!≤≥·\sα-ωΑ-Ωϵϑϕ√π∞])+')


def maths(text: str) -> str:
    """The text itself when it holds nothing but maths of our own formulas; else an empty text.

    Only what the formula trees print is ever evaluated by the typesetter: no code, no markup.
    """
    return text if _MATHS.fullmatch(text) else ""


def symbol(text: str) -> str:
    """A printed symbol such as `λ_p` or `F_tb,Rd` in the maths notation of the document."""
    head, _, rest = text.partition("_")
    shown = head if len(head) == 1 else f'"{head}"'
    return maths(f'{shown}_("{rest}")' if rest else shown)
