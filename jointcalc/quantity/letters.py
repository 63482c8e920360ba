"""Characters nobody sees but a terminal obeys: refused where a builder types them, spelt out where printed."""

from __future__ import annotations

import re

from jointcalc.marks import unmarked

_UNSEEN = re.compile(
    # controls (line ends and tabs may stand), marks of writing direction, line and paragraph separators, lone
    # surrogates, interlinear and tag marks; joiners that some scripts need stand
    "[\\x00-\\x08\\x0b-\\x1f\\x7f-\\x9f\u061c\u180e\u200e\u200f\u2028-\u202e\u2061-\u206f\ud800-\udfff\ufff9-\ufffb"
    # what marks a measure inside this program (`jointcalc.marks`)
    "\ufdd0-\ufdd2"
    "\U0001d173-\U0001d17a\U000e0000-\U000e007f]"
)
_FOLLOWED = re.compile("\r\n")
_BLANKS = re.compile(r"[^\S ]|[\u00ad\u200b-\u200d\u2060\ufeff]")


def unseen(text: str, *, name: bool = False) -> str:
    """The first character of a text that cannot be seen, spelt out; empty when there is none.

    Line ends and tabs are no fault; in a `name`, by which things are told apart, they are, and so is a blank
    of no width.
    """
    found = _UNSEEN.search(_FOLLOWED.sub("\n", text)) or (_BLANKS.search(text) if name else None)
    return repr(found[0])[1:-1] if found else ""


def spelt(text: str) -> str:
    """The text with every character that cannot be seen spelt out, so that no terminal obeys it.

    A measure that comes as far as this unprinted is shown in metric; a mark that is none is spelt out.
    """
    return _UNSEEN.sub(lambda found: repr(found[0])[1:-1], unmarked(text))
