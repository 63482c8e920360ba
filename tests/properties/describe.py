"""Random descriptions of every kind of item, held as sizes with a kind, to be spelt in either system of units.

A description is the raw data a project file would hold, with `Size`, `Several` and `Text` where a text with a unit
stands.  `spelt(data, "metric")` and `spelt(data, "inch")` give the texts of the very same thing.  Round sizes are drawn
often, because the limits of the methods stand at round sizes.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from hypothesis import reject, settings
from hypothesis import strategies as st

from jointcalc.errors import InputError
from jointcalc.model.fastener import read_bolt
from jointcalc.model.fields import Item, build
from jointcalc.registry import BY_KEY, KINDS, load
from jointcalc.result import Result

INCH = 25.4  # mm, exact
LBF = 0.45359237 * 9.80665  # N, exact
UNITS: Mapping[str, Mapping[str, tuple[str, float]]] = {
    "metric": {
        "length": ("mm", 1.0), "force": ("N", 1.0), "stress": ("MPa", 1.0), "pressure": ("kPa", 1e-3),
        "moment": ("N*mm", 1.0), "line load": ("N/mm", 1.0), "turn": ("N*mm/rad", 1.0), "mass": ("kg", 1e-3),
        "turn per length": ("N*m/rad/m", 1.0),
    },
    "inch": {
        "length": ("in", INCH), "force": ("lbf", LBF), "stress": ("psi", LBF / INCH**2), "pressure": ("psi", LBF / INCH**2),
        "moment": ("lbf*in", LBF * INCH), "line load": ("lbf/in", LBF / INCH), "turn": ("lbf*in/rad", LBF * INCH),
        "turn per length": ("lbf*in/rad/in", LBF),
        "mass": ("lb", 0.45359237e-3),
    },
}  # fmt: skip
"""System -> kind -> (unit, size of it in N, mm, MPa, t): written here a second time, from the definitions."""


@dataclass(frozen=True)
class Size:
    """A number in base units (N, mm, MPa, t) and its kind."""

    value: float
    kind: str = "length"

    def spelt(self, system: str) -> str:
        unit, size = UNITS[system][self.kind]
        return f"{self.value / size!r} {unit}"

    def times(self, k: float) -> Size:
        return Size(self.value * k, self.kind)


@dataclass(frozen=True)
class Several:
    """Numbers that share a unit."""

    values: tuple[float, ...]
    kind: str = "length"

    def spelt(self, system: str) -> str:
        unit, size = UNITS[system][self.kind]
        return f"{' '.join(repr(v / size) for v in self.values)} {unit}"

    def times(self, k: float) -> Several:
        return Several(tuple(v * k for v in self.values), self.kind)


@dataclass(frozen=True)
class Text:
    """A text with sizes in it: a profile, a bead, a load at a place."""

    form: str
    sizes: Mapping[str, Size]

    def spelt(self, system: str) -> str:
        return self.form.format(**{name: size.spelt(system) for name, size in self.sizes.items()})

    def but(self, **sizes: float) -> Text:
        """With some of the sizes changed."""
        return replace(self, sizes={**self.sizes, **{k: Size(v, self.sizes[k].kind) for k, v in sizes.items()}})


Data = dict[str, Any]


def spelt(value: Any, system: str = "metric") -> Any:
    """The description as texts."""
    if isinstance(value, Size | Several | Text):
        return value.spelt(system)
    if isinstance(value, Mapping):
        return {k: spelt(v, system) for k, v in value.items() if v is not None}
    if isinstance(value, list | tuple):
        return [spelt(v, system) for v in value]
    return value


def scaled(value: Any, factor: Callable[[str], float]) -> Any:
    """Every size times what `factor` says for its kind."""
    if isinstance(value, Size | Several):
        return value.times(factor(value.kind))
    if isinstance(value, Text):
        return replace(value, sizes={k: v.times(factor(v.kind)) for k, v in value.sizes.items()})
    if isinstance(value, Mapping):
        return {k: scaled(v, factor) for k, v in value.items()}
    if isinstance(value, list | tuple):
        return [scaled(v, factor) for v in value]
    return value


def model(kind: str, data: Data, system: str = "metric") -> Item:
    """The item of that description; InputError when it cannot be."""
    made: Item = build(load(KINDS[kind].model), spelt(data, system))
    return made


def by_rules(item: Item) -> Result:
    """An item by the rules of its kind alone: what one without a load may carry is searched for, and has tests of its own.

    Raises InputError where it cannot be judged.
    """
    found: Result = load(BY_KEY[item.kind].check)(item)
    return found


def judged(kind: str, data: Data, system: str = "metric") -> Result:
    """The result; an impossible description is no example of the property."""
    try:
        return by_rules(model(kind, data, system))
    except InputError:
        reject()


# --- numbers -------------------------------------------------------------------------------------------


def grid(low: float, high: float, step: float) -> st.SearchStrategy[float]:
    """Decimal numbers a builder would write."""
    return st.integers(round(low / step), round(high / step)).map(lambda n: round(n * step, 6))


def length(low: float, high: float, step: float = 0.5) -> st.SearchStrategy[Size]:
    return grid(low, high, step).map(Size)


def force(low: float, high: float, step: float = 10.0) -> st.SearchStrategy[Size]:
    return grid(low, high, step).map(lambda v: Size(v, "force"))


def maybe(strategy: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.none() | strategy


# --- sheets ----------------------------------------------------------------------------------------------

STEEL = (
    "DC01",
    "DC04",
    "HC340LA",
    "S235JR",
    "S355MC",
    "S350GD+Z",
    "DX53D+Z",
    "A1008 SS Gr 33",
    "A1008 HSLAS Gr 60 Cl 1",
)
STAINLESS = ("1.4301", "304")
ALUMINIUM = ("5754-O", "6082-T6", "5083-H22")
EDGES = (0.5, 0.6, 0.7, 0.75, 0.8, 1.0, 1.2, 1.25, 1.5, 2.0, 2.5, 3.0, 3.56, 3.81, 4.0, 4.7625)
"""Thicknesses at which methods begin or end."""


def thickness(low: float, high: float) -> st.SearchStrategy[Size]:
    round_ones = [t for t in EDGES if low <= t <= high]
    return (st.sampled_from(round_ones) | grid(low, high, 0.05)).map(Size)


def grades(*, odd: bool = True) -> st.SearchStrategy[str]:
    """Carbon steel mostly."""
    steel = st.sampled_from(STEEL)
    return st.one_of(steel, steel, steel, st.sampled_from((*STAINLESS, *ALUMINIUM))) if odd else steel


@st.composite
def sheet(draw: st.DrawFn, low: float, high: float, grade: st.SearchStrategy[str]) -> Data:
    return {"thickness": draw(thickness(low, high)), "grade": draw(grade)}


@st.composite
def stated_sheet(draw: st.DrawFn, low: float, high: float) -> Data:
    """Steel with its strengths stated, because those of a hot-rolled grade change with the thickness."""
    f_u = draw(grid(270, 540, 10))
    return {
        "thickness": draw(thickness(low, high)), "grade": "S355MC",
        "tensile_strength": Size(f_u, "stress"), "yield_strength": Size(round(draw(grid(0.5, 0.9, 0.05)) * f_u, 3), "stress"),
    }  # fmt: skip


# --- spot seams --------------------------------------------------------------------------------------------


@st.composite
def seams(draw: st.DrawFn, stated: bool = False, odd: bool = True) -> Data:
    n = draw(st.sampled_from((2, 2, 3)))
    grade = draw(grades(odd=odd))
    one = stated_sheet(0.5, 3.5) if stated else sheet(0.5, 4.5, st.just(grade) | grades(odd=odd))
    sheets = [draw(one) for _ in range(n)]
    thin = min(s["thickness"].value for s in sheets)
    usual = draw(st.booleans())  # within the distances that EN 1993-1-3 asks for, or anywhere
    d = draw(
        grid(4.5 * thin**0.5, 6.5 * thin**0.5, 0.1)
        if usual
        else grid(3.0 * thin**0.5 + 0.5, 6.5 * thin**0.5 + 1.0, 0.1)
    )
    count = draw(st.integers(1, 30))
    pitch = draw(grid(3.2 * d, 5.8 * d, 0.5) if usual else grid(d + 2.0, 8.0 * d + 20.0, 1.0))
    rows = draw(st.sampled_from((1, 1, 2, 3)))
    data: Data = {
        "sheets": sheets,
        "weld_diameter": Size(d) if usual else draw(st.sampled_from((Size(d), Size(d), "minimum", "usual", "target"))),
        "length": Size(pitch * count),
        "edge": draw(length(2.0 * d, 3.9 * d, 0.1) if usual else length(0.6 * d + 2.0, 4.5 * d, 0.5)),
        "rows": rows,
        "row_spacing": draw(length(3.2 * d, 5.8 * d) if usual else length(d + 2.0, 60.0)) if rows > 1 else None,
        "shear": draw(force(-40e3, 40e3)),
        "across": draw(st.just(Size(0.0, "force")) | force(-20e3, 20e3)),
        "peel": draw(st.just(Size(0.0, "force")) | force(-3e3, 3e3)),
        "compression": draw(maybe(grid(5, 250, 5).map(lambda v: Size(v, "stress")))),
        "flat_beside": draw(maybe(length(5, 80))),
        "shares": draw(st.sampled_from(([], [1.0, 0.6]))) if n == 3 else [],
        "cycles": draw(st.sampled_from((None, 1e5, 2e6))),
    }
    data |= {"count": count} if draw(st.booleans()) else {"pitch": Size(pitch)}
    return data


# --- plugs -----------------------------------------------------------------------------------------------------


@st.composite
def plugs(draw: st.DrawFn, stated: bool = False, odd: bool = True, arc: bool | None = None) -> Data:
    arc = draw(st.booleans()) if arc is None else arc
    n = draw(st.sampled_from((2, 2, 3)))
    grade = draw(st.sampled_from((*STEEL, *STEEL, "1.4301")) if odd else grades(odd=False))
    heavy = not arc and draw(st.sampled_from((False, False, True)))  # where the structural codes take the hole's area
    usual = not heavy and draw(st.booleans())  # where the sheet codes take the spot
    span = (3.0, 5.0) if heavy else (0.7, 1.6 if n == 2 else 1.2) if usual else (0.6, 2.5 if stated else 4.0)
    sheets = [draw(stated_sheet(*span) if stated else sheet(*span, st.just(grade))) for _ in range(n)]
    top = sum(s["thickness"].value for s in sheets[:-1])
    if arc:
        least = max(2.0 * top + 4.0, (10.0 + 1.5 * top) / 0.7 if usual else 12.0)
        d = draw(grid(least, least + 8.0, 0.5))
    else:
        d = draw(grid(top + 8.0, top + 14.0, 0.5) if heavy else grid(7.0, 10.0, 0.5) if usual else grid(5.0, 16.0, 0.5))
    count = draw(st.integers(1, 20))
    pitch = draw(grid(18.0, 32.0, 0.5) if usual and not arc else grid(1.2 * d + 2.0, 8.0 * d, 1.0))
    rows = draw(st.sampled_from((1, 1, 2)))
    long = draw(maybe(grid(d + 1.0, 1.15 * d + 1.5, 0.5))) if count > 1 and not usual else None
    data: Data = {
        "sheets": sheets,
        "filler": "ER308L" if grade == "1.4301" and not stated else draw(st.sampled_from(("E70", "E60", "E80"))),
        "length": Size(pitch * count),
        "count": count,
        "edge": draw(length(12.0, 21.0) if usual and not arc else length(0.6 * d + 1.0, 5.0 * d)),
        "rows": rows,
        "row_spacing": draw(length(18.0, 32.0) if usual and not arc else length(d + 2.0, 6.0 * d))
        if rows > 1
        else None,
        "shear": draw(force(-30e3, 30e3)),
        "across": draw(st.just(Size(0.0, "force")) | force(-20e3, 20e3)),
        "uplift": draw(st.just(Size(0.0, "force")) | force(-5e3, 5e3)),
        "interface": None if usual else draw(maybe(length(4.0, 0.8 * d + 1.0))),
    }
    if arc:
        data |= {"visible": Size(d), "uplift_place": draw(st.sampled_from(("field", "edge", "side-lap")))}
        data |= {"deck": draw(st.booleans()), "weld_washer": draw(st.booleans())}
        data["seam"] = None if long is None else Size(round(long - d, 6))
    else:
        data |= {"hole": Size(d), "slot": None if long is None else Size(long)}
    return data


# --- bolts -----------------------------------------------------------------------------------------------------

BOLTS = ("M6 8.8", "M8 4.6", "M8 8.8", "M8 10.9", "M8 A2-70", "M10 5.8", "M10x1.25 10.9", "M12 8.8", "7/16-20 5")
RIVETS = ("3.2 mm aluminium", "4.8 mm steel", "4.8 mm aluminium")


@st.composite
def holes(draw: st.DrawFn, pitch: float) -> tuple[list[Several], Several]:
    """Holes, and a point of action whose arms they can resist: a row has no stiffness about itself."""
    columns, rows = draw(st.sampled_from(((1, 1), (2, 1), (3, 1), (1, 2), (2, 2), (3, 2), (2, 3))))
    skew = draw(st.sampled_from((0.0, 0.0, 0.3))) if columns > 1 else 0.0
    found = [Several((round(i * pitch + j * skew * pitch, 6), j * pitch)) for j in range(rows) for i in range(columns)]
    x, y, z = draw(grid(-80.0, 120.0, 1.0)), draw(grid(-80.0, 120.0, 1.0)), draw(grid(-20.0, 40.0, 1.0))
    plane = columns > 1 and rows > 1
    return found, Several((x if columns > 1 else 0.0, y if rows > 1 else 0.0, z if plane else 0.0))


def bolt_diameter(text: str) -> float:
    """Nominal diameter of a bolt [mm]."""
    return read_bolt(text).d


@st.composite
def bolts(draw: st.DrawFn, stated: bool = False, odd: bool = True) -> Data:
    which = draw(st.sampled_from(("bolt", "bolt", "bolt", "rivet", "rivnut")))
    fastener = draw(st.sampled_from({"bolt": BOLTS, "rivet": RIVETS, "rivnut": ("M6 8.8", "M8 8.8")}[which]))
    n = draw(st.integers(1, 3))
    grade = draw(grades(odd=odd))
    sheets = [
        draw(stated_sheet(0.75, 4.0) if stated else sheet(0.7, 5.0, st.just(grade) | grades(odd=odd))) for _ in range(n)
    ]
    placed, at = draw(holes(draw(grid(20.0, 90.0, 1.0))))
    data: Data = {
        which: fastener,
        "holes": placed,
        "sheets": sheets,
        "edge": draw(maybe(length(10.0, 60.0))),
        "width": draw(maybe(length(80.0, 200.0))),
        "force": Several(draw(st.tuples(*[grid(-6e3, 6e3, 50.0)] * 3).filter(any)), "force"),
        "at": at,
        "moment": draw(maybe(grid(-1e5, 1e5, 500.0).map(lambda m: Several((0.0, 0.0, m), "moment"))))
        if len(placed) > 1
        else None,
        "threads": draw(st.sampled_from(("in", "out"))),
        "purpose": draw(st.sampled_from(([], [], ["seat"]))),
        "pulled": draw(maybe(st.integers(1, n))),
        "between": draw(maybe(length(60.0, 600.0, 20.0))),
        "pull": draw(st.sampled_from(("", "", "even", "one-sided"))),
        "cycles": draw(st.sampled_from((None, None, None, 1e5, 2e6))),
        "load_range": draw(st.sampled_from((1.0, 1.0, 0.5, 2.0))),
    }
    if which == "bolt":
        data["washer"] = draw(st.sampled_from(("none", "normal", Several((26.0, 2.0)))))
        data["plate"] = draw(maybe(st.just(Several((75.0, 50.0, 3.0)))))
        data["countersunk"] = draw(st.sampled_from((False, False, True)))
        data["hole_growth"] = draw(st.sampled_from(("free", "free", "limited")))
        d = bolt_diameter(fastener)
        data["hole_diameter"] = draw(maybe(st.sampled_from((0.3, 1.0, 1.6, 2.0, 3.0)).map(lambda c: Size(d + c))))
        data["packing"] = draw(maybe(length(1.0, 12.0))) if n > 1 else None
    if which == "rivnut":
        data["insert_tension"] = draw(maybe(force(1e3, 6e3)))
        data["insert_shear"] = draw(maybe(force(1e3, 6e3)))
    return data


# --- arc welds ---------------------------------------------------------------------------------------------------


@st.composite
def lines(draw: st.DrawFn) -> list[Several]:
    a, b = draw(grid(40.0, 250.0, 5.0)), draw(grid(40.0, 200.0, 5.0))
    oblique = round(0.35 * a, 6)
    shapes = (
        ((0.0, 0.0, a, 0.0),),
        ((0.0, 0.0, a, 0.0), (0.0, b, a, b)),
        ((a, 0.0, 0.0, 0.0), (0.0, 0.0, 0.0, b)),
        ((a, 0.0, 0.0, 0.0), (0.0, 0.0, 0.0, b), (0.0, b, a, b)),
        ((0.0, 0.0, a, oblique), (0.0, b, a, b)),
    )
    return [Several(line) for line in draw(st.sampled_from(shapes))]


@st.composite
def fillets(draw: st.DrawFn, stated: bool = False, odd: bool = True, weld: str = "") -> Data:
    weld = weld or draw(st.sampled_from(("fillet", "fillet", "fillet", "flare-bevel", "flare-V", "butt")))
    grade = draw(
        st.sampled_from((*STEEL, *STEEL, "1.4301", "6082-T6", "5754-O", "4130N")) if odd else grades(odd=False)
    )
    least = draw(st.sampled_from((1.0, 1.0, 4.0)))  # sheet, or plate from where EN 1993-1-8 begins
    one = stated_sheet(least, 8.0) if stated else sheet(least, 8.0, st.just(grade))
    sheets = [draw(one) for _ in range(draw(st.integers(1, 2)))]
    thin = min(s["thickness"].value for s in sheets)
    joint = draw(st.sampled_from(("tee", "lap")))
    most = sheets[0]["thickness"].value if joint == "lap" else max(3 * thin, 4.0)
    aluminium = grade in ALUMINIUM and not stated
    data: Data = {
        "weld": weld,
        "joint": joint,
        "lines": draw(lines()),
        "sheets": sheets,
        "filler": draw(st.sampled_from(("5356", "4043"))) if aluminium else "ER308L" if grade == "1.4301" and not stated
        else draw(st.sampled_from(("E60", "E70", "E80"))),
        "force": Several(draw(st.tuples(*[grid(-12e3, 12e3, 100.0)] * 3).filter(any)), "force"),
        "at": Several((draw(grid(-100.0, 200.0, 5.0)), draw(grid(-100.0, 200.0, 5.0)), draw(grid(0.0, 60.0, 5.0)))),
        "moment": Several((0.0, 0.0, draw(st.just(0.0) | grid(-3e5, 3e5, 1e3))), "moment"),
        "full_size": draw(st.booleans()),
        "cycles": draw(st.sampled_from((None, None, 2e5, 3e6))),
        "process": draw(st.sampled_from(("GMAW", "SMAW"))),
    }  # fmt: skip
    if weld == "fillet":
        lowest = min(4.3, most) if least == 4.0 else max(0.5, 0.5 * thin)
        data["leg"] = draw(length(lowest, max(lowest, min(most, 12.0)), 0.1))
        data["stitch"] = draw(st.sampled_from((None, None, Several((30.0, 75.0)))))
        data["width"] = draw(maybe(length(60.0, 250.0, 5.0)))
        data["overlap"] = draw(maybe(length(10.0, 60.0)))
    elif weld.startswith("flare"):
        data["radius"] = draw(length(3.0, 14.0))
        data["lip"] = draw(maybe(length(10.0, 60.0)))
    return data


# --- braces --------------------------------------------------------------------------------------------------------

BRACE_GRADES = ("DC04", "HC340LA", "S235JR", "S355MC", "S350GD+Z", "1.4301")


@st.composite
def profiles(draw: st.DrawFn, families: tuple[str, ...] = ()) -> Text:
    t = draw(thickness(0.8, 3.0)).value
    depth, top = draw(grid(25.0, 80.0, 1.0)), draw(grid(25.0, 90.0, 1.0))
    flange, r = draw(grid(16.0, 40.0, 1.0)), draw(grid(1.0, 4.0, 0.5))
    family = draw(
        st.sampled_from(
            families
            or ("hat", "hat", "hat-skin", "channel", "zed", "lipped-channel", "box", "tube", "bar", "angle", "lap")
        )
    )
    plain = {
        "hat": {"top": top, "depth": depth, "flange": flange, "t": t, "r": r},
        "hat-skin": {"top": top, "depth": depth, "flange": flange, "t": t, "r": r, "skin": top + 2 * flange, "skin_t": t,
                     "weld": round(flange / 2, 3)},
        "channel": {"web": depth, "flange": flange, "t": t, "r": r},
        "zed": {"web": depth, "flange": flange, "t": t, "r": r},
        "lipped-channel": {"web": depth + 20, "flange": flange + 10, "lip": 10.0, "t": t, "r": r},
        "box": {"depth": depth, "width": top, "t": t, "r": r},
        "tube": {"od": depth, "t": t},
        "bar": {"depth": depth, "width": 3 * t},
        "angle": {"depth": depth, "width": flange, "t": t, "r": r},
        "lap": {"left": 60.0, "overlap": 25.0, "right": 60.0, "t": t},
    }[family]  # fmt: skip
    return Text(f"{family}:" + ",".join(f"{k}={{{k}}}" for k in plain), {k: Size(v) for k, v in plain.items()})


@st.composite
def braces(draw: st.DrawFn, stated: bool = False, families: tuple[str, ...] = ()) -> Data:
    spans = tuple(draw(grid(400.0, 1500.0, 50.0)) for _ in range(draw(st.sampled_from((1, 1, 1, 2)))))
    total = sum(spans)
    profile = draw(profiles(families))
    several = len(spans) > 1
    ends = ["pinned", "fixed", "fixed pinned", Several((5e7, 1e7), "turn")] + ([] if several else ["cantilever"])
    point = [
        Text("{F} @ {x}", {"F": draw(force(-1500, 2500)), "x": Size(round(total * draw(grid(0.05, 0.95, 0.05)), 3))})
        for _ in range(draw(st.integers(0, 2)))
    ]
    data: Data = {
        "profile": profile,
        "grade": "S355MC" if stated else draw(st.sampled_from(BRACE_GRADES)),
        "span": Several(spans) if several else Size(spans[0]),
        "ends": draw(st.sampled_from(ends)),
        "point": point,
        "spread": draw(st.sampled_from(([], [Text("{q}", {"q": Size(1.5, "line load")})]))),
        "held": draw(st.sampled_from(("none", "top", "both"))),
        # stated: of both ways up the worse governs, and another load may make it the other
        "lies": draw(st.sampled_from(("crown-up", "flanges-up"))),
        "over": draw(st.sampled_from(("webs", "flat"))),
        "bearing": draw(length(10.0, 60.0, 5.0)),
        "fastened": draw(st.booleans()),
        "limit_deflection": draw(st.sampled_from(("", "L/240", Size(3.0)))),
        "mass": draw(
            st.sampled_from(([], [Text("{m} @ {x}", {"m": Size(0.012, "mass"), "x": Size(round(total * 0.4, 3))})]))
        ),
    }
    data["torque"] = draw(
        st.sampled_from(
            (
                [], [], [Text("{T}", {"T": Size(8e3, "moment")})],
                [Text("{T} @ {x}", {"T": Size(1.5e4, "moment"), "x": Size(round(total * 0.3, 3))})],
            )
        )
    )  # fmt: skip
    axial = draw(st.sampled_from(("", "", "compression", "tension")))
    if axial:
        data[axial] = draw(force(200, 8000))
    if profile.form.startswith(("hat-skin", "lap")):
        data["pitch"] = draw(maybe(length(25.0, 80.0, 5.0)))
    if stated:
        data["yield_strength"], data["tensile_strength"] = (
            Size(draw(grid(180, 420, 10)), "stress"),
            Size(480.0, "stress"),
        )
    return data


# --- panels --------------------------------------------------------------------------------------------------------


FURTHER = settings.default.max_examples > 60
"""Whether the profile in force looks further afield than the ordinary run does."""
LEAST_SIDE, MOST_SIDE, LEAST_PITCH = (200.0, 900.0, 22.0) if FURTHER else (160.0, 300.0, 60.0)
MOST_PRESSURE, MOST_PATCH, MOST_SHEAR = (8.0, 1200, 20) if FURTHER else (4.0, 500, 5)
"""Sides of a panel and pitch of its beads [mm], pressure on it [kPa], force at its middle [N], shear [N/mm].

A panel of many beads that yields all over takes a minute to work out, one of four that hold a second, and no property
here knows how many there are.
"""


@st.composite
def panels(draw: st.DrawFn, edges: str = "simple", stated: bool = False) -> Data:
    a, b = draw(grid(LEAST_SIDE, MOST_SIDE, 20.0)), draw(grid(LEAST_SIDE, MOST_SIDE, 20.0))
    depth, width = draw(grid(2.0, 8.0, 0.5)), draw(grid(18.0, 32.0, 1.0))
    pitch = Size(draw(grid(max(width + 4.0, LEAST_PITCH), 90.0, 2.0)))
    bead: dict[str, Size] = {"depth": Size(depth), "width": Size(width), "pitch": pitch}
    family = draw(st.sampled_from(("none", "arc", "vee", "trapezoid")))
    if family == "trapezoid":
        bead["flat"] = Size(round(0.3 * width, 3))
    size = draw(st.sampled_from((None, Several((80.0, 60.0)))))
    return {
        "size": Several((a, b)),
        "sheet": draw(stated_sheet(0.7, 2.0) if stated else sheet(0.7, 2.5, grades())),
        "bead": "none" if family == "none" else Text(f"{family}:" + ",".join(f"{k}={{{k}}}" for k in bead), bead),
        "along": draw(st.sampled_from(("long", "short"))),
        "edges": edges,
        # where nothing is said, both are worked out and the worse counts: the small ones do that
        "in_plane": draw(st.sampled_from(("held", "held", "free"))),
        "pressure": draw(
            # the first of few examples is the simplest: one that carries something
            grid(0.2, MOST_PRESSURE, 0.2).map(lambda p: Size(p * 1e-3, "pressure")) | st.just(Size(0.0, "pressure"))
        ),
        "patch": draw(st.just(Size(0.0, "force")) | force(50, MOST_PATCH)),
        "patch_size": size,
        "shear": draw(
            st.just(Size(0.0, "line load")) | grid(-MOST_SHEAR, MOST_SHEAR, 0.5).map(lambda q: Size(q, "line load"))
        ),
        "limit_deflection": draw(maybe(length(1.0, 6.0))),
    }


@st.composite
def whole_panels(draw: st.DrawFn) -> Data:
    """Panels with one more thing that a builder may say of them: a thrust, edges of their own, places, a hole, a cross."""
    data: Data = draw(panels())
    sides = sorted(data["size"].values, reverse=data["along"] == "long")
    more = draw(st.sampled_from(("thrust", "edges", "places", "round", "rectangle", "crossing")))
    if more == "thrust":
        along, across = draw(grid(0.5, 15.0, 0.5)), draw(st.just(0.0) | grid(0.5, 8.0, 0.5))
        data["compression"] = Several((along, across), "line load")
        data["in_plane"] = "straight"
    elif more == "edges":
        turns = {"k": Size(draw(grid(100.0, 2000.0, 100.0)), "turn per length")}
        data["edges"] = Text(
            draw(st.sampled_from(("clamped, left=simple", "simple, end={k}", "{k}, start=clamped"))), turns
        )
    elif more == "places":
        places = [
            tuple(round(part * side, 1) for side in sides) for part in draw(st.sampled_from(((0.5,), (0.3, 0.7))))
        ]
        data["patch_at"] = [Several(place) for place in places]
        data["patch_size"] = Several((50.0, 40.0))
        data["patch"] = draw(force(50, 1200))
    elif more == "crossing":
        # two that cross fold into one shape: both sizes drawn here, of beads that can cross
        pitch = {"p": Size(draw(grid(50.0, 90.0, 5.0))), "q": Size(draw(grid(50.0, 90.0, 5.0)))}
        deep = {"d": Size(draw(grid(2.0, 6.0, 0.5))), "w": Size(24.0)}
        other = "short" if data["along"] == "long" else "long"
        form = "arc:depth={d},width={w},pitch={p} + arc:depth={d},width={w},pitch={q},along=" + other
        data["bead"] = Text(form, {**pitch, **deep})
    else:
        least = min(sides)
        sizes = {"d": Size(round(draw(grid(0.1, 0.45, 0.05)) * least, 1)), "h": Size(round(0.2 * least, 1))}
        forms = {"round": "round:diameter={d}", "rectangle": "rectangle:width={d},height={h}"}
        data["opening"] = Text(forms[more], sizes)
    return data


@st.composite
def small_panels(draw: st.DrawFn) -> Data:
    """Panels that take little to work out: flat, or of few beads, loaded one way at a time as a rule."""
    a, b = draw(grid(120.0, 300.0, 20.0)), draw(grid(120.0, 240.0, 20.0))
    bead: dict[str, Size] = {
        "depth": Size(draw(grid(3.0, 6.0, 1.0))), "width": Size(draw(grid(20.0, 28.0, 2.0))),
        "pitch": Size(draw(grid(60.0, 90.0, 10.0))), "stop": Size(draw(grid(0.0, 20.0, 10.0))), "runout": Size(12.0),
    }  # fmt: skip
    family = draw(st.sampled_from(("none", "none", "arc", "vee")))
    nothing = {"pressure": Size(0.0, "pressure"), "patch": Size(0.0, "force"), "shear": Size(0.0, "line load")}
    loads: dict[str, Size] = draw(
        st.sampled_from(
            (
                {"pressure": Size(5e-3, "pressure")}, {"patch": Size(400.0, "force")}, {"shear": Size(10.0, "line load")},
                {"pressure": Size(3e-3, "pressure"), "shear": Size(5.0, "line load")},
                {"patch": Size(200.0, "force"), "shear": Size(5.0, "line load")},
            )
        )
    )  # fmt: skip
    return {
        "size": Several((a, b)),
        "sheet": draw(stated_sheet(0.7, 1.5)),
        "bead": "none" if family == "none" else Text(f"{family}:" + ",".join(f"{k}={{{k}}}" for k in bead), bead),
        "along": draw(st.sampled_from(("long", "short"))),
        "edges": draw(st.sampled_from(("clamped", "simple"))),
        "in_plane": draw(st.sampled_from(("", "held", "straight"))),
        "patch_size": Several((60.0, 40.0)),
        **nothing,
        **loads,
        "limit_deflection": draw(maybe(length(1.0, 4.0))),
    }


PANELS = whole_panels() if FURTHER else panels()
"""A panel is slow, and one that is pushed or crossed slower: the ordinary run tries the plain ones."""
EVERY: Mapping[str, st.SearchStrategy[Data]] = {
    "seam": seams(), "plug": plugs(), "bolts": bolts(), "fillet": fillets(), "brace": braces(), "panel": PANELS,
}  # fmt: skip
"""Kind, as a project file names it -> descriptions of it."""


def tries(n: int) -> settings:
    """n examples in the ordinary run, and as many times more as the profile in force looks further afield."""
    return settings(max_examples=n * max(1, settings.default.max_examples // 60))


EXAMPLES = {"seam": 100, "plug": 100, "bolts": 100, "fillet": 100, "brace": 40, "panel": 2}
"""Examples a property is tried on; braces are solved numerically, a panel on its real shape: some two seconds each.

JOINTCALC_HYPOTHESIS=nightly tries 33 times as many."""
