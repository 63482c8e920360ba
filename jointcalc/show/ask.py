"""What is asked about an item: questions in the words of its model, and a picture of what each one means."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from jointcalc.model.fields import Item
from jointcalc.model.said import Said, said, with_words, written_as
from jointcalc.registry import KINDS, load

USUAL: Mapping[str, tuple[str, ...]] = {
    "seam": (
        "sheets", "weld_diameter", "length", "pitch", "count", "edge", "shear", "across", "peel", "peel_arm", "enters",
    ),
    "plug": ("sheets", "hole", "visible", "length", "pitch", "count", "edge", "filler", "shear", "across", "uplift"),
    "fillet": ("lines", "sheets", "joint", "leg", "throat", "filler", "force", "at", "on", "between"),
    "bolts": (
        "holes", "bolt", "rivet", "rivnut", "sheets", "edge", "between", "washer", "plate", "force", "at", "upright",
    ),
    "brace": (
        "profile", "grade", "span", "ends", "point", "spread", "lies", "over", "held", "bearing", "limit_deflection",
    ),
    "mount": (
        "feet", "mass", "centre", "case", "acceleration", "force", "at", "bolt", "sheets", "edge", "between", "plate",
    ),
    "panel": ("size", "sheet", "bead", "along", "edges", "pressure", "patch", "patch_size", "limit_deflection"),
}  # fmt: skip
"""What is asked of a kind without being called for; a kind that is not named is asked what it must be told, its sizes
and its loads."""
EITHER = (("pitch", "count"), ("hole", "visible"), ("bolt", "rivet", "rivnut"), ("leg", "throat"))
"""Of these one is enough: the others are not asked once it is given."""
WITH: Mapping[str, str] = {"peel_arm": "peel", "patch_size": "patch", "centre": "mass"}
"""Asked only where the other one was given."""
HEAD, TAIL = ("id", "title"), ("case", "purpose", "reason")

PICTURES: Mapping[str, str] = {
    "seam": """
      end   pitch
     |<->|<------->|
     +-------------------------------+  ---
     |   o         o        o    o   |   edge
     +-------------------------------+  ---
     |<----------- length ---------->|
     shear: -->   across: pulls up the page   peel: lifts off it
""",
    "plug": """
      end   pitch
     |<->|<------->|
     +-------------------------------+  ---
     |  ( )       ( )      ( )  ( )  |   edge
     +-------------------------------+  ---
     |<----------- length ---------->|   ( ): hole or visible
     shear: -->   across: pulls up the page   uplift: lifts off it
""",
    "fillet": """
      y                          |         |  the part that is loaded
      ^   force at x y z         |         |
      |  ------->                |        /|
      |  lines x1 y1 x2 y2       +-------/_|__  leg
      +-------------> x          the last sheet, on and between
""",
    "bolts": """
      y  force at x y z          ___ washer, bolt
      ^  ------->             __|   |__
      |  o   o   o holes     ============ sheets, first to last
      |  | edge               --|___|--   plate, washer
      +-----------> x        |<- between ->| rails that carry it
""",
    "brace": """
            point          spread           ____
              |      | | | | | | | | |     |    |   profile
              v      v v v v v v v v v   __|    |__
     =========================================
     ^ ends                                  ^   (on bearing)
     |<---------------- span --------------->|

     lies crown-up:    ______        flanges-up:  __          __
                      |      |                      |        |
                    __|      |__                    |________|

     over webs:  v    v      over flat:    v      held top:    ->______<-
                 ______                  ______               |      |
                |      |                |      |              |      |
              __|      |__            __|      |__          __|      |__
""",
    "mount": """
      y                            z   mass, centre x y z
      ^                            ^  +------+
      |  o        o  feet          |  |  *   | ---> acceleration,
      |      *                     |  +------+      force at x y z
      |  o        o                |   |    |
      +---------------> x      ====|==[]====[]====  sheets, bolt
                                      plate  |<- edge
                           |<--- between --->|  rails, ribs
""",
    "panel": """
     +---------------------------+ ---
     |  ======================   |  :   edges all round
     |  ======== bead ========   |  size, two sides
     |  ======================   |  :   along which side
     +---------------------------+ ---
     pressure: on all of it   patch: on patch_size of it
""",
}


@dataclass(frozen=True, slots=True)
class Question:
    """One field: its sentence, what is taken where it is left out, whether it must be said, and how it is written."""

    field: str
    text: str
    absent: str
    must: bool
    many: bool
    taken: type
    example: str

    @property
    def several(self) -> str:
        """What parts several answers on one line."""
        return "," if self.taken in (int, float) or self.field in ("sheets", "purpose", "end_joints") else ";"


@cache
def questions(kind: str) -> tuple[Question, ...]:
    """All that can be asked of a kind: what is usual first, then the rest in the order of the model."""
    model: type[Item] = load(KINDS[kind].model)
    words = said(model)
    record = KINDS[kind]
    must = [field for field in words if model.model_fields[field].is_required()]
    order = dict.fromkeys((*HEAD, *usual(kind), *TAIL, *must, *record.sizes, *record.loads, *words))
    return tuple(_question(model, field, words[field], kind) for field in order if field in words)


def usual(kind: str) -> tuple[str, ...]:
    """The fields that are asked without being called for, in their order."""
    record = KINDS[kind]
    model: type[Item] = load(record.model)
    must = [field for field in said(model) if model.model_fields[field].is_required()]
    return tuple(dict.fromkeys((*HEAD, *USUAL.get(kind, (*must, *record.sizes, *record.loads)), *must, *TAIL)))


def picture(kind: str, field: str) -> list[str]:
    """The picture of a kind with the thing asked between brackets; nothing where it does not show it.

    A kind may have several, parted by an empty line: the first that shows the thing is taken.
    """
    for one in PICTURES.get(kind, "").strip("\n").split("\n\n"):
        found = re.sub(rf" ?\b{re.escape(field)}\b ?", f"[{field.upper()}]", one, count=1)
        if found != one:
            return found.splitlines()
    return []


def _question(model: type[Item], field: str, words: Said, kind: str) -> Question:
    def put(text: str) -> str:
        return with_words(model, text, str).replace("`", "")

    about = model.model_fields[field]
    many, taken = written_as(about.annotation, about.metadata)
    default = about.default
    if about.is_required() or default in (None, "", ()):
        absent = put(words.absent) or "nothing"
    else:
        absent = put(words.absent) or ("yes" if default is True else "no" if default is False else str(default))
    must = about.is_required() or field == "id"
    return Question(field, put(words.help), absent, must, many, taken, _examples(kind).get(field, ""))


@cache
def _examples(kind: str) -> Mapping[str, str]:
    """Field -> how the starter writes it."""
    text = files("jointcalc.starter").joinpath("starter.toml").read_text(encoding="utf-8")
    found: dict[str, str] = {}
    here = ""
    for line in text.splitlines():
        if table := re.match(r"#?\s*\[+([\w.]+)\]+", line):
            here = table[1]
        elif here == kind and (row := re.match(r'#?\s*(\w+) = ("[^"]*"|\[[^\]]*\]|[\w.]+)', line)):
            found.setdefault(row[1], _plain(row[2]))
    return found


def _plain(value: Any) -> str:
    texts = re.findall(r'"([^"]*)"', value)
    return "; ".join(texts) if texts else value.strip("[]")
