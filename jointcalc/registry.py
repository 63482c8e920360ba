"""Every kind of joint, member and panel: one record each, that names all a kind must have.

A record is words only (`package.module:function`, imported when first used), so that a quick command reads all records
and imports one kind.  It stands below every layer: whoever treats kinds differently asks the record and never the
model's type.  A record that lacks a hook fails when it is imported; `tests/model/test_registry.py` imports every hook.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from importlib import import_module
from typing import Any

NAMES = ("seam", "fillet", "plug", "bolts", "brace", "panel", "mount")
"""The kinds, in the order of the help page: `jointcalc/kinds/NAME` holds the record of each."""

GIVERS: tuple[str, ...] = ("frame", "body", "bracing")
"""What gives loads to items and is judged by nothing itself, in the order in which loads pass from one to the next:
`jointcalc/kinds/NAME` holds the record of each."""

_PLACE = re.compile(r"jointcalc(\.\w+)+:\w+")


def load(place: str) -> Any:
    """What `package.module:name` names, imported now."""
    module, _, name = place.partition(":")
    return getattr(import_module(module), name)


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """All that is particular to one kind.  No field has a default: what a kind lacks fails at import.

    `name` is the command and the table of the project file, `key` the `kind` of its results (kept from the first
    edition).  Places, with what they take and give:

    - `model`: the pydantic model; `check`: (model) -> Result;
    - `search`: (data, unknown, system) -> answer with `.result` and `.text`, raises InputError when nothing holds;
    - `thinner`: (model, part left) -> the model with every sheet thinner; `one_fewer`: (model, result) -> Changed, or
      None where there is none to leave out; `alternative`: (model, text) -> raw data in that shape, or None for words;
    - `sketch`: (result, width, system) -> lines; `figure`: (result, system) -> pictures of the dossier;
    - `marking`: (model, system) -> Drawing, or None when there is nothing to mark out, for the reason `unmarked`;
    - `cut`: (cut list, model) -> None, enters what is cut, bought and welded;
    - `places`: (model, system) -> the spots, holes or welds that are ticked off one by one (`jointcalc.layout.places`);
    - `checklist`: (model) -> entries of what an inspector looks at and measures (`jointcalc.show.checklist`);
    - `takes`: (model, loads given) -> Taken, how loads that follow from others go into its fields (`jointcalc.loads`);
      `together` says whether it carries all parts of a giver at once (a brace under four feet) or is one of several
      alike, each under one part (the bolts of a leg); a load that is `right_there` (an end of a brace) stands alone;
    - `directions`: (model) -> the directions in which it is asked what it may carry, of an item without a load;
      `no_directions` of a kind that is not asked;
    - `gives`: (model, context) -> what it puts on others under the cases of its project; `gives_nothing` of most;
    - `loads`: the fields that are its loads, `sizes` those that are the size of a weld: they scatter, as sheets do;
    - `effort`: about how long one takes to judge beside a spot seam, so that the long ones of a project begin first;
    - `tells_loads`: whether its sketch tells every load with what is used under it;
    - `command`: the command's function, whose module also holds `EXAMPLES`; `help` is its line on the help page.
    """

    name: str
    key: str
    help: str
    model: str
    check: str
    search: str
    thinner: str
    one_fewer: str
    alternative: str
    sketch: str
    figure: str
    marking: str
    unmarked: str
    cut: str
    places: str
    checklist: str
    takes: str
    together: bool
    directions: str
    gives: str
    command: str
    loads: tuple[str, ...]
    sizes: tuple[str, ...]
    effort: float
    tells_loads: bool

    def __post_init__(self) -> None:
        for hook, place in self.hooks.items():
            if not _PLACE.fullmatch(place):
                raise ValueError(f"kind {self.name}: {hook} = {place!r} is no 'jointcalc.module:name'")

    @property
    def hooks(self) -> Mapping[str, str]:
        """Hook -> place, of all that is imported."""
        words = ("name", "key", "help", "unmarked", "together", "loads", "sizes", "effort", "tells_loads")
        return {field: getattr(self, field) for field in self.__dataclass_fields__ if field not in words}


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """What is only marked out and cut, and judged by nothing: the table's name and the same hooks as of a kind."""

    name: str
    model: str
    marking: str
    unmarked: str
    cut: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Giver:
    """What gives loads and is no joint, member or panel: a frame, a body that is twisted.

    `name` is its table in the project file, `help` says what it is; `model`, `checklist` and `gives` as in `Kind`.
    A property `unjudged` of the model, as of a `Piece`'s, is what the answer of `check` says of it.
    `sheet` is (thing, system) -> what the dossier says of it, for `part` of its template; empty where it says nothing.
    """

    name: str
    help: str
    model: str
    checklist: str
    gives: str
    sheet: str = ""


KINDS: Mapping[str, Kind] = {name: load(f"jointcalc.kinds.{name}:KIND") for name in NAMES}
"""Name of the command and of the table in a project file -> record."""

SOURCES: Mapping[str, Giver] = {name: load(f"jointcalc.kinds.{name}:GIVER") for name in GIVERS}
"""Table of the project file -> record of what only gives loads."""

PIECES: Mapping[str, Piece] = {
    name: Piece(
        name=name,
        model=f"jointcalc.model.marking:{model}",
        marking=f"jointcalc.layout.parts:{name}",
        unmarked="",
        cut=f"jointcalc.layout.cutlist:count_{name}",
    )
    for name, model in (("part", "Part"), ("tub", "Tub"))
}
"""Table of the project file -> record of what is only marked out and cut."""

BY_KEY: Mapping[str, Kind] = {kind.key: kind for kind in KINDS.values()}
"""The `kind` of a model or a result -> record."""

_ALL: tuple[Kind | Piece, ...] = (*KINDS.values(), *PIECES.values())
BY_MODEL: Mapping[str, Kind | Piece] = {one.model.partition(":")[2]: one for one in _ALL}
"""Name of the model's class -> record."""


def nothing_fewer(item: Any, result: Any) -> None:
    """`one_fewer` of a kind that has no weld or fastener to leave out."""


def words_only(item: Any, text: str) -> None:
    """`alternative` of a kind whose alternatives are told in words."""


def nothing_built(item: Any) -> tuple[()]:
    """`checklist` of what only gives loads and is not built: what takes them has checklists of its own."""
    return ()


def gives_nothing(item: Any, context: Any) -> tuple[()]:
    """`gives` of a kind that puts no load on another item."""
    return ()


def no_directions(item: Any) -> tuple[()]:
    """`directions` of a kind that is not asked what it may carry."""
    return ()
