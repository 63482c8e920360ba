"""No field is read and forgotten: of every kind, each field that a builder may fill changes the answer somewhere.

The fields are read from the models: a new one fails here until a pair below shows what it does,
     or it stands among those
that say nothing of strength, with the reason.  What a field does rightly is held by the tests of its kind.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import cache
from typing import Any

import pytest

from jointcalc import check
from jointcalc.errors import InputError
from jointcalc.model.fields import build
from jointcalc.registry import KINDS, load

QUIET: Mapping[str, str] = {
    "id": "a name", "title": "a name", "reason": "told in the dossier", "alternatives": "told in the dossier",
    "photo": "shown in the dossier", "place": "drawn in the plan", "case": "asked of the project's cases",
    "load": "asked of the project", "axes": "of a load that comes from others",
     "origin": "of a load that comes from others",
    "presses": "of a load that comes from others", "samples": "how many are drawn for scatter",
    "scatter": "likelihood beside the verdict (tests/explore/test_scatter.py)",
    "dud_rate": "what is left with one gone, beside the verdict (tests/explore/test_duds.py)",
    "end_joints": "items of the project", "welded_by": "a seam of the project", "bolts": "items of the project",
    "fillet": "items of the project", "brace": "items of the project", "part": "the blank that grows by the bead",
    "step": "how the bead is laid, told in the checklist"
}  # fmt: skip
QUIET_OF = {
    ("plug", "handbook_factor"), ("fillet", "handbook_factor"), ("panel", "handbook_factor"),
      # no handbook judges them
    ("bolts", "coupons"), ("mount", "coupons"), ("panel", "coupons"),  # nothing of them is welded
}  # fmt: skip
"""Fields that change no verdict of an item alone, and why; below, those that every kind has and that say nothing of one."""

SHEET = {"thickness": "1.2 mm", "grade": "DC04"}
THICK = {"thickness": "3 mm", "grade": "S235JR"}
PLATE = {"thickness": "6 mm", "grade": "S235JR"}
THREE = {"sheets": (SHEET, SHEET, SHEET)}
TWO_ROWS = {"rows": 2, "row_spacing": "30 mm"}
LAP = {"joint": "lap", "sheets": (THICK, THICK), "leg": "3 mm", "lines": ("0 0 0 60 mm", "60 0 60 60 mm"),
       "force": "0 6 0 kN", "at": "30 30 0 mm"}  # fmt: skip
LIFTED = {"force": "0 0 1 kN"}
BASE: Mapping[str, dict[str, Any]] = {
    "seam": {"sheets": (SHEET, SHEET), "weld_diameter": "5.5 mm", "length": "400 mm", "count": 10, "edge": "12 mm",
     "shear": "3 kN"},
    "plug": {"sheets": (SHEET, SHEET), "hole": "8 mm", "length": "400 mm", "count": 10, "edge": "20 mm",
     "shear": "3 kN"},
    "bolts": {"holes": ("0 0 mm", "40 0 mm"), "sheets": (SHEET, THICK), "bolt": "M8 8.8", "edge": "25 mm",
     "force": "1 0 0.3 kN",
              "at": "20 0 0 mm"},
    "fillet": {"lines": ("0 0 60 0 mm", "0 60 60 60 mm"), "sheets": (THICK, THICK), "leg": "3 mm",
     "force": "1 1 0.2 kN",
               "at": "30 30 0 mm"},
    "brace": {"profile": "hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm", "grade": "S355MC", "span": "800 mm",
              "lies": "crown-up", "point": ("300 N @ 300 mm",)},
    "panel": {"size": "160 100 mm", "sheet": SHEET, "shear": "5 N/mm"},
    "mount": {"feet": ("0 0 0 mm", "300 0 0 mm", "0 200 0 mm", "300 200 0 mm"), "bolt": "M8 8.8",
     "sheets": (SHEET, THICK),
              "mass": "30 kg", "centre": "150 100 200 mm", "acceleration": "1 0 -3 g"},
}  # fmt: skip
SKIN = {"profile": "hat-skin:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm,skin=120mm,skin_t=1mm,weld=9mm"}
PULLED = {"force": "0 0 1 kN"}
RIVNUT = {"bolt": None, "rivnut": "M6 8.8"}
THREE_HOLES = {"holes": ("0 0 mm", "40 0 mm", "0 40 mm")}
ARC = {"hole": None, "visible": "20 mm", "sheets": (SHEET, PLATE), "edge": "32 mm", "length": "600 mm", "count": 6}
UPWARDS = {"acceleration": "1 0 3 g"}
FELT = {"acceleration": None, "cases": ("battery",)}
BELT = {
    "acceleration": None,
    "mass": None,
    "centre": None,
    "cases": ("belt-three-point-us",),
    "lap": "100 0 100 mm",
    "torso": "100 0 600 mm",
    "occupants": 1,
}
JACK = {
    "acceleration": None,
    "mass": None,
    "centre": None,
    "cases": ("jack-side",),
    "vehicle_mass": "1200 kg",
    "at": "150 100 0 mm",
}
RESTS = {"resting": True, "bolt": None, "sheets": None}
Pair = tuple[dict[str, Any], Any]
SAYS: Mapping[str, Mapping[str, Pair]] = {
    "seam": {
        "purpose": ({}, ("seat",)), "load_factor": ({}, 2.0), "handbook_factor": ({}, 4.0), "coupons": ({}, True),
        "cycles": ({"enters": "along"}, 1e6), "length": ({}, "300 mm"), "pitch": ({"count": None}, "40 mm"),
        "count": ({}, 9), "rows": ({"row_spacing": "30 mm"}, 3), "row_spacing": ({"rows": 2}, "20 mm"),
        "edge": ({}, "9 mm"), "end": ({}, "9 mm"), "enters": ({}, "through"),
        "strip": ({"enters": "one-end"}, "60 mm"),
        "missing": ({}, (1,)), "sheets": ({}, (SHEET, THICK)), "weld_diameter": ({}, "5 mm"), "lap": ({}, "18 mm"),
        "shear": ({}, "4 kN"), "across": ({}, "1 kN"), "peel": ({"peel_arm": "20 mm"}, "100 N"),
        "peel_arm": ({"peel": "100 N"}, "20 mm"), "moment": ({}, "10 N*m"), "compression": ({}, "30 MPa"),
        "flat_beside": ({"compression": "30 MPa"}, "20 mm"), "shares": (THREE, (1.0, 0.5)),
        "load_range": ({"enters": "along", "cycles": 1e6}, 2.0),
    },
    "plug": {
        "purpose": ({}, ("seat",)), "load_factor": ({}, 2.0), "coupons": ({}, True), "cycles": ({}, 1e6),
        "length": ({}, "300 mm"), "pitch": ({"count": None}, "40 mm"), "count": ({}, 9),
        "rows": ({"row_spacing": "30 mm"}, 3),
        "row_spacing": ({"rows": 2}, "20 mm"), "edge": ({}, "12 mm"), "end": ({}, "9 mm"), "enters": ({}, "through"),
        "strip": ({"enters": "one-end"}, "60 mm"), "missing": ({}, (1,)), "sheets": ({}, (SHEET, PLATE)),
        "hole": ({}, "9 mm"),
        "slot": ({}, "16 mm"), "visible": ({"hole": None}, "16 mm"),
        "seam": ({"hole": None, "visible": "16 mm"}, "10 mm"),
        "interface": ({}, "5 mm"), "filler": ({"sheets": (PLATE, PLATE), "hole": "18 mm"}, "E60"),
        "fill": ({}, "1 mm"),
        "shear": ({}, "4 kN"), "across": ({}, "1 kN"), "uplift": ({}, "1 kN"),
        "uplift_place": ({"hole": None, "visible": "16 mm", "uplift": "1 kN"}, "edge"),
        "deck": ({**ARC, "uplift": "1 kN"}, True),
        "weld_washer": ({"hole": None, "visible": "16 mm",
        "sheets": ({"thickness": "0.6 mm", "grade": "DC04"}, THICK)}, True),
    },
    "bolts": {
        "purpose": ({}, ("seat",)), "load_factor": ({}, 2.0),
        "handbook_factor": ({"bolt": None, "rivet": "4.8 mm steel", "force": "300 0 0 N"}, 4.0),
        "cycles": ({}, 1e6), "holes": ({}, ("0 0 mm", "50 0 mm")), "sheets": ({}, (SHEET, SHEET)),
        "bolt": ({}, "M6 8.8"),
        "rivet": ({"bolt": None}, "4.8 mm steel"), "rivnut": ({"bolt": None}, "M6 8.8"), "force": ({}, "2 0 0 kN"),
        "at": (THREE_HOLES, "20 5 0 mm"), "moment": (THREE_HOLES, "0 0 5 N*m"),
        "load_range": ({"force": "1 0 0 kN", "threads": "out", "cycles": 1e6}, 2.0), "pulled": (THREE, 2),
        "hole_diameter": ({}, "10 mm"), "slot": ({}, "16 mm"), "slot_along": ({"slot": "16 mm"}, "y"),
        "edge": ({}, "15 mm"),
        "outline": ({"edge": None}, ("-20 -20 60 20 mm",)), "width": ({}, "60 mm"), "washer": ({}, "large"),
        "plate": ({}, "60 40 3 mm"), "plate_grade": ({"plate": "60 40 3 mm"}, "S355MC"),
        "plate_hole": ({"plate": "60 40 3 mm"}, "12 mm"),
        "between": (PULLED, "100 mm"), "dish": ({**PULLED, "edge": "300 mm"}, "2 mm"),
        "upright": ({**PULLED, "pulled": 2}, "20 mm"), "pull": (PULLED, "one-sided"),
        "packing": ({}, "5 mm"), "countersunk": ({"sheets": (THICK, THICK)}, True),
        "countersink": ({"sheets": (THICK, THICK), "countersunk": True}, "2 mm"), "hole_growth": ({}, "limited"),
        "threads": ({}, "out"),
        "insert_tension": ({**RIVNUT, **PULLED}, "2 kN"), "insert_shear": (RIVNUT, "2 kN"),
    },
    "fillet": {
        "purpose": ({}, ("seat",)), "load_factor": ({}, 2.0), "coupons": ({}, True), "cycles": ({}, 1e6),
        "lines": ({}, ("0 0 50 0 mm", "0 60 50 60 mm")), "sheets": ({}, (THICK, PLATE)), "force": ({}, "2 0 0 kN"),
        "at": ({}, "30 40 0 mm"),
        "moment": ({}, "0 0 20 N*m"), "leg": ({}, "2 mm"), "throat": ({}, "1.5 mm"), "filler": ({}, "E60"),
        "weld": ({"leg": None}, "butt"), "joint": ({}, "lap"),
        "process": ({"weld": "flare-bevel", "radius": "6 mm", "leg": None}, "SMAW"),
        "radius": ({"weld": "flare-bevel", "leg": None}, "6 mm"),
        "fill_gap": ({"weld": "flare-bevel", "radius": "6 mm", "leg": None}, "1 mm"),
        "lip": ({"weld": "flare-bevel", "radius": "8 mm", "leg": None, "sheets": (SHEET, SHEET)}, "20 mm"),
        "stitch": ({}, "20 40 mm"), "full_size": ({}, True),
        "width": (LAP, "60 mm"), "overlap": (LAP, "10 mm"), "both_sides": ({}, True), "root_gap": ({}, "1 mm"),
        "on": ({}, "backed"),
        "between": (LIFTED, "100 mm"), "held": ({**LIFTED, "between": "100 mm"}, "simple"),
        "free_edge": (LIFTED, "20 mm"), "patch": ({**LAP, **LIFTED}, "20 20 mm"),
        "bend_radius": ({}, "3 mm"),
        "taper": ({"sheets": ({"thickness": "2 mm", "grade": "4130N"},) * 2, "leg": "2 mm"}, "30 deg"),
        "load_range": ({"cycles": 1e6}, 2.0), "detail": ({"weld": "butt", "leg": None, "cycles": 1e6}, "butt-shop"),
        "tested": ({"weld": "butt", "leg": None, "cycles": 1e6, "lines": ("0 0 100 0 mm",), "force": "0 3 0 kN",
        "at": "50 0 0 mm"}, True), "voltage": ({"current": "130 A", "speed": "6 mm/s"}, "18 V"),
        "current": ({"voltage": "18 V", "speed": "6 mm/s"}, "130 A"),
        "speed": ({"voltage": "18 V", "current": "130 A"}, "6 mm/s"),
        "preheat": ({"voltage": "18 V", "current": "130 A", "speed": "6 mm/s"}, "120 degC"),
        "analysis": ({}, "C=0.4 Mn=1.4"),
    },
    "brace": {
        "hole": ({}, ("20 mm @ 400 mm",)),
        "purpose": ({}, ("seat",)), "load_factor": ({}, 2.0), "handbook_factor": ({**SKIN, "pitch": "40 mm"}, 9.0),
        "coupons": (SKIN, True), "cycles": ({}, 1e6),
        "profile": ({}, "hat:top=40mm,depth=30mm,flange=20mm,t=1mm,r=2mm"),
        "grade": ({}, "DC04"), "span": ({}, "900 mm"), "point": ({}, ("200 N @ 300 mm",)),
        "spread": ({}, ("1 N/mm",)),
        "moment": ({}, ("20 N*m @ 400 mm",)), "torque": ({}, ("5 N*m",)), "aside": ({}, "5 N*m"),
        "mass": ({}, ("5 kg @ 400 mm",)),
        "ends": ({}, "fixed"), "compression": ({}, "1 kN"), "tension": ({}, "1 kN"),
        "eccentricity": ({"compression": "1 kN"}, "3 mm"),
        "effective_length": ({"compression": "1 kN"}, 0.7), "held": ({}, "both"),
        "lies": ({"lies": "crown-up"}, "flanges-up"),
        "over": ({}, "webs"), "bearing": ({}, "30 mm"), "overhang": ({}, "50 mm"),
        "fastened": ({"ends": "fixed"}, False),
        "limit_deflection": ({}, "1 mm"), "coating": ({}, "Z275"), "skin_grade": (SKIN, "DC01"),
        "skin_coating": (SKIN, "Z275"),
        "weld_diameter": ({**SKIN, "pitch": "40 mm"}, "5.5 mm"), "pitch": (SKIN, "40 mm"),
        "yield_strength": ({}, "300 MPa"),
        "tensile_strength": ({**SKIN, "pitch": "40 mm"}, "390 MPa"),
        "skin_yield_strength": ({**SKIN, "skin_grade": "DC01"}, "150 MPa"),
        "skin_tensile_strength": ({**SKIN, "skin_grade": "DC01", "pitch": "40 mm"}, "200 MPa"),
        "load_range": ({"cycles": 1e6}, 2.0), "die": ({}, "20 mm"), "k_factor": ({}, 0.3),
    },
    "panel": {
        "purpose": ({}, ("seat",)), "load_factor": ({}, 2.0), "cycles": ({}, 1e6),
        "size": ({}, "180 100 mm"), "sheet": ({}, THICK),
        "bead": ({}, "arc:depth=3mm,width=20mm,pitch=40mm,stop=0mm"),
        "opening": ({}, "round:diameter=30mm"),
        "along": ({"bead": "arc:depth=3mm,width=20mm,pitch=40mm,stop=0mm"}, "short"),
        "edges": ({}, "clamped"), "pressure": ({}, "2 kPa"), "patch": ({}, "50 N"),
        "patch_size": ({"shear": None, "patch": "50 N"}, "30 20 mm"),
        "patch_at": ({"shear": None, "patch": "50 N"}, ("60 50 mm",)), "shear": ({}, "6 N/mm"),
        "compression": ({"shear": None}, "2 0 N/mm"),
        "in_plane": ({"shear": None, "pressure": "20 kPa"}, "free"),
        "crowns": ({"shear": None, "pressure": "2 kPa",
        "bead": "arc:depth=3mm,width=20mm,pitch=40mm,stop=10mm,runout=10mm"}, "away"),
        "permanent_set_limit": ({"shear": None, "pressure": "2 kPa"}, "0.1 mm"),
        "limit_deflection": ({"shear": None, "pressure": "2 kPa"}, "1 mm"),
        "limit_frequency": ({}, "25 Hz"), "mass_added": ({}, "4 kg/m2"), "load_range": ({"cycles": 1e6}, 2.0),
        "fine": ({"shear": None, "pressure": "2 kPa"}, True),
        "rolled": ({"bead": "arc:depth=3mm,width=20mm,pitch=40mm,stop=0mm"}, "loose"),
    },
    "mount": {
        "purpose": ({}, ("seat",)), "load_factor": ({}, 2.0),
        "handbook_factor": ({"bolt": None, "rivet": "4.8 mm steel"}, 4.0),
        "cycles": ({}, 1e6), "sheets": ({}, (SHEET, SHEET)), "bolt": ({}, "M6 8.8"),
        "rivet": ({"bolt": None}, "4.8 mm steel"),
        "rivnut": ({"bolt": None}, "M6 8.8"), "pulled": (THREE, 2), "hole_diameter": ({}, "10 mm"),
        "slot": ({}, "16 mm"),
        "slot_along": ({"slot": "16 mm"}, "y"), "edge": ({}, "11 mm"), "outline": ({}, ("-20 -20 20 20 mm",)),
        "width": ({}, "50 mm"),
        "washer": ({}, "large"), "plate": (UPWARDS, "60 60 4 mm"),
        "plate_grade": ({**UPWARDS, "plate": "60 60 4 mm"}, "S355MC"),
        "plate_hole": ({**UPWARDS, "plate": "60 60 4 mm"}, "12 mm"),
        "countersunk": ({"sheets": (THICK, THICK)}, True),
        "countersink": ({"sheets": (THICK, THICK), "countersunk": True}, "2 mm"), "packing": ({}, "5 mm"),
        "between": ({}, "100 mm"), "dish": ({}, "2 mm"),
        "upright": ({**UPWARDS, "pulled": 2}, "20 mm"), "pull": (UPWARDS, "one-sided"),
        "hole_growth": ({}, "limited"), "threads": ({}, "out"),
        "insert_tension": (RIVNUT, "2 kN"), "insert_shear": (RIVNUT, "2 kN"),
        "feet": ({}, ("0 0 0 mm", "320 0 0 mm", "0 200 0 mm", "320 200 0 mm")), "mass": ({}, "40 kg"),
        "centre": ({}, "150 100 300 mm"),
        "acceleration": ({}, "0 1 -3 g"), "force": ({"at": "150 100 0 mm"}, "0 0 1 kN"),
        "at": ({"force": "0 0 1 kN"}, "150 100 0 mm"),
        "moment": ({}, "0 0 50 N*m"), "lap": (BELT, "120 0 100 mm"), "torso": (BELT, "100 0 700 mm"),
        "occupants": (BELT, 2), "cases": (FELT, ("bump",)),
        "vehicle_mass": (JACK, "1500 kg"), "axle_share": ({**JACK, "cases": ("jack-corner",)}, 0.7),
        "forward": ({**FELT, "cases": ("brake",)}, "x"), "faces": ({}, "-z"),
        "resting": ({"bolt": None, "sheets": None}, True),
        "located": (RESTS, True), "friction": (RESTS, 0.5),
        "stiffness": ({}, ("500 500 2000 N/mm",) * 3 + ("500 500 4000 N/mm",)),
        "holes": ({}, ("-20 0 mm", "20 0 mm")),
    },
}  # fmt: skip
"""Kind -> field -> (what else is said of the base, what the field says)."""


def test_every_field_of_every_kind_is_shown_or_told_to_be_quiet() -> None:
    for name, kind in KINDS.items():
        fields = set(load(kind.model).model_fields)
        assert set(SAYS[name]) <= fields
        left = fields - set(SAYS[name]) - set(QUIET) - {field for kind_, field in QUIET_OF if kind_ == name}
        assert not left, f"[[{name}]]: nothing shows what {sorted(left)} does"


@cache
def _answer(kind: str, said: str) -> str:
    """All that is told of an item, or why it is refused."""
    try:
        found = check(build(load(KINDS[kind].model), json.loads(said))).json()
    except InputError as error:
        return f"refused: {error}"
    return json.dumps(found, sort_keys=True)


def _asked(kind: str, *parts: Mapping[str, Any]) -> str:
    whole: dict[str, Any] = {}
    for part in (BASE[kind], *parts):
        whole |= part
    return json.dumps({k: v for k, v in whole.items() if v is not None}, sort_keys=True)


@pytest.mark.parametrize("kind,field", [(kind, field) for kind, fields in SAYS.items() for field in fields])
def test_a_field_changes_the_answer(kind: str, field: str) -> None:
    more, value = SAYS[kind][field]
    without, given = (_answer(kind, _asked(kind, more, one)) for one in ({}, {field: value}))
    assert not given.startswith("refused: ")
    assert given != without
