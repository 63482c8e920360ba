"""No weaker thing comes out better: what is weakened, kind by kind, and how near its limit a thing is brought first.

A random thing is loaded until it is just over (its worst check at 100 to 115 %), then one input is weakened.  The verdict
may stay `over` or become `outside`; it may not become `ok`.  What a document itself eases stands in `EASED`.

Run as a program it tries as many pairs as it is told and prints what turned over:

    python -m tests.properties.weaker 50000 [kind ...]
"""

from __future__ import annotations

import random
import sys
from collections import Counter
from collections.abc import Callable, Iterator
from typing import Any

from jointcalc.errors import InputError
from jointcalc.result import DETAILING, Result

from .describe import Data, Several, Size, Text, by_rules, model, spelt

LOADS: dict[str, tuple[str, ...]] = {
    "seam": ("shear", "across", "peel", "compression"),
    "plug": ("shear", "across", "uplift"),
    "bolts": ("force", "moment"),
    "fillet": ("force", "moment"),
    "brace": ("point", "spread", "torque", "compression", "tension", "mass"),
    "panel": ("pressure", "patch", "shear", "compression"),
}
"""Kind -> the fields that are loads."""

Weaken = Callable[[Data, random.Random], Data | None]


def _times(name: str, *factors: float) -> Weaken:
    def change(data: Data, dice: random.Random) -> Data | None:
        value = data.get(name)
        return {**data, name: value.times(dice.choice(factors))} if isinstance(value, Size | Several) else None

    return change


def _every_sheet(data: Data, dice: random.Random) -> Data:
    k = dice.choice((0.99, 0.92, 0.85, 0.7, 0.5))
    return {**data, "sheets": [{**s, "thickness": s["thickness"].times(k)} for s in data["sheets"]]}


def _one_sheet(data: Data, dice: random.Random) -> Data:
    n, k = dice.randrange(len(data["sheets"])), dice.choice((0.99, 0.92, 0.85, 0.7, 0.5))
    sheets = [{**s, "thickness": s["thickness"].times(k)} if i == n else s for i, s in enumerate(data["sheets"])]
    return {**data, "sheets": sheets}


def _grade(data: Data, dice: random.Random) -> Data | None:
    """Stated strengths of every sheet, lower."""
    k = dice.choice((0.99, 0.9, 0.75, 0.6))
    names = ("tensile_strength", "yield_strength")
    if "sheets" in data and all(n in s for s in data["sheets"] for n in names):
        return {**data, "sheets": [{**s, **{n: s[n].times(k) for n in names}} for s in data["sheets"]]}
    if all(isinstance(data.get(n), Size) for n in names):
        return {**data, **{n: data[n].times(k) for n in names}}
    if isinstance(data.get("sheet"), dict) and all(n in data["sheet"] for n in names):
        return {**data, "sheet": {**data["sheet"], **{n: data["sheet"][n].times(k) for n in names}}}
    return None


def _one_grade(*names: str) -> Weaken:
    """Stated strengths of one sheet of a stack, lower."""

    def change(data: Data, dice: random.Random) -> Data | None:
        if len(data.get("sheets", ())) < 2 or not all(n in s for s in data["sheets"] for n in names):
            return None
        which, k = dice.randrange(len(data["sheets"])), dice.choice((0.99, 0.9, 0.75, 0.6))
        less = {n: data["sheets"][which][n].times(k) for n in names}
        return {**data, "sheets": [{**s, **less} if n == which else s for n, s in enumerate(data["sheets"])]}

    return change


def _zinc(data: Data, dice: random.Random) -> Data | None:
    """As thick as before with its zinc, which carries nothing."""
    if not all("thickness" in s and s["thickness"].value > 0.6 for s in data["sheets"]):
        return None
    return {**data, "sheets": [{**s, "coating": "Z275"} for s in data["sheets"]]}


WEAK_SHEET: dict[str, Weaken] = {
    "grade of one sheet": _one_grade("tensile_strength", "yield_strength"),
    "yield of one sheet": _one_grade("yield_strength"),
    "zinc": _zinc,
}
"""Ways to weaken the sheets of every kind of joint."""


def _more_load(kind: str) -> Weaken:
    def change(data: Data, dice: random.Random) -> Data:
        return loaded(kind, data, dice.choice((1.01, 1.2, 2.0, 10.0)))

    return change


def _fewer(data: Data, dice: random.Random) -> Data | None:
    """The same row with fewer welds, spread over the same length."""
    count = data.get("count")
    return {**data, "count": dice.randrange(1, count)} if count and count > 1 else None


def _without(name: str) -> Weaken:
    def change(data: Data, dice: random.Random) -> Data | None:
        parts = data.get(name) or []
        if len(parts) < 2:
            return None
        n = dice.randrange(len(parts))
        return {**data, name: [p for i, p in enumerate(parts) if i != n]}

    return change


def _shorter_lines(data: Data, dice: random.Random) -> Data:
    """Every weld line shorter about its middle."""
    k = dice.choice((0.95, 0.8, 0.5))

    def short(line: Several) -> Several:
        x1, y1, x2, y2 = line.values
        cx, cy, dx, dy = (x1 + x2) / 2, (y1 + y2) / 2, k * (x2 - x1) / 2, k * (y2 - y1) / 2
        return Several((cx - dx, cy - dy, cx + dx, cy + dy))

    return {**data, "lines": [short(line) for line in data["lines"]]}


def _class(data: Data, dice: random.Random) -> Data | None:
    """A bolt of the next lower class of the same size."""
    weaker = {"10.9": "8.8", "8.8": "6.8", "6.8": "5.8", "5.8": "4.8"}
    size, _, grade = str(data.get("bolt", "")).partition(" ")
    return {**data, "bolt": f"{size} {weaker[grade]}"} if grade in weaker else None


def _larger_hole(data: Data, dice: random.Random) -> Data | None:
    hole = data.get("hole_diameter")
    if isinstance(hole, Size):
        return {**data, "hole_diameter": hole.times(dice.choice((1.05, 1.2, 1.5)))}
    return {**data, "hole_diameter": Size(dice.choice((13.5, 15.0, 20.0)))} if "bolt" in data else None


def _profile(*letters: str) -> Weaken:
    def change(data: Data, dice: random.Random) -> Data | None:
        profile: Text = data["profile"]
        has = [n for n in letters if n in profile.sizes]
        if not has:
            return None
        name, k = dice.choice(has), dice.choice((0.98, 0.9, 0.75, 0.5))
        return {**data, "profile": profile.but(**{name: profile.sizes[name].value * k})}

    return change


def _longer(data: Data, dice: random.Random) -> Data | None:
    """A longer span, with what stands on it at the same shares of it."""
    if isinstance(data["span"], Several):
        return None
    k = dice.choice((1.05, 1.3, 2.0))
    moved = [p.but(x=p.sizes["x"].value * k) for p in data["point"]]
    mass = [p.but(x=p.sizes["x"].value * k) for p in data["mass"]]
    turns = [p.but(x=p.sizes["x"].value * k) if "x" in p.sizes else p for p in data["torque"]]
    return {**data, "span": data["span"].times(k), "point": moved, "mass": mass, "torque": turns}


def _twisted(data: Data, dice: random.Random) -> Data | None:
    """A torque besides, through the whole brace."""
    if data.get("torque") or data["held"] == "both":
        return None
    return {**data, "torque": [Text("{T}", {"T": Size(dice.choice((1e3, 2e4)), "moment")})]}


def _bent_aside(data: Data, dice: random.Random) -> Data:
    """Level loads besides."""
    return {**data, "aside": Size(dice.choice((1e3, 5e4)), "moment")}


def _turned(strong: str, weak: str) -> Weaken:
    """All of one load taken in a direction that carries less, such as a pull along the seam turned into peel."""

    def change(data: Data, dice: random.Random) -> Data | None:
        load = data.get(strong)
        if not isinstance(load, Size) or not load.value:
            return None
        other = data.get(weak)
        most = abs(load.value) + (abs(other.value) if isinstance(other, Size) else 0.0)
        return {**data, strong: Size(0.0, "force"), weak: Size(most, "force")}

    return change


def _said(name: str, weak: Any, *strong: Any) -> Weaken:
    """A choice that helps, taken back: no washer, a thread in the shear plane, which way up no longer said."""

    def change(data: Data, dice: random.Random) -> Data | None:
        given = data.get(name)
        if given is None or given == weak or (strong and given not in strong):
            return None
        return {**data, name: weak}

    return change


def _closer(data: Data, dice: random.Random) -> Data | None:
    """Every hole nearer to the middle of the group; where the width is given, that would give more edge."""
    holes: list[Several] = data["holes"]
    if len(holes) < 2 or data.get("width") is not None:
        return None
    k = dice.choice((0.95, 0.8, 0.6))
    cx, cy = (sum(h.values[i] for h in holes) / len(holes) for i in (0, 1))
    near = [Several((cx + k * (h.values[0] - cx), cy + k * (h.values[1] - cy))) for h in holes]
    return {**data, "holes": near}


def _larger_panel(data: Data, dice: random.Random) -> Data | None:
    k = dice.choice((1.05, 1.3, 2.0))
    return {**data, "size": data["size"].times(k)} if isinstance(data.get("size"), Several) else None


def _thin_panel(data: Data, dice: random.Random) -> Data:
    k = dice.choice((0.95, 0.8, 0.6))
    return {**data, "sheet": {**data["sheet"], "thickness": data["sheet"]["thickness"].times(k)}}


WEAKER: dict[str, dict[str, Weaken]] = {
    "seam": {
        **WEAK_SHEET,
        "every sheet": _every_sheet, "one sheet": _one_sheet, "grade": _grade, "load": _more_load("seam"),
        "count": _fewer, "spot": _times("weld_diameter", 0.98, 0.9, 0.8, 0.6), "edge": _times("edge", 0.95, 0.8, 0.6),
        "peel arm": _times("peel_arm", 1.1, 2.0, 5.0), "rows": _times("row_spacing", 0.9, 0.6),
        "direction": _turned("shear", "peel"), "direction across": _turned("across", "peel"),
        "flat beside": _times("flat_beside", 1.3, 3.0), "cycles": _said("cycles", 1e7),
    },
    "plug": {
        **WEAK_SHEET,
        "every sheet": _every_sheet, "one sheet": _one_sheet, "grade": _grade, "load": _more_load("plug"),
        "count": _fewer, "hole": _times("hole", 0.95, 0.8, 0.6), "visible": _times("visible", 0.95, 0.8, 0.6),
        "edge": _times("edge", 0.95, 0.8, 0.6), "interface": _times("interface", 0.95, 0.8, 0.6),
        "slot": _times("slot", 0.95, 0.8), "rows": _times("row_spacing", 0.9, 0.6),
        "washer": _said("weld_washer", False),
    },
    "bolts": {
        **WEAK_SHEET,
        "every sheet": _every_sheet, "one sheet": _one_sheet, "grade": _grade, "load": _more_load("bolts"),
        "class": _class, "edge": _times("edge", 0.95, 0.8, 0.6), "hole": _larger_hole,
        "width": _times("width", 0.95, 0.8, 0.6), "pitch": _closer, "washer": _said("washer", "none"),
        "threads": _said("threads", "in"), "plate": _said("plate", None), "pulled": _said("pulled", None),
        "countersunk": _said("countersunk", True), "one-sided": _said("pull", "one-sided"),
        "packing": _times("packing", 1.5, 3.0), "supports": _times("between", 1.3, 3.0), "cycles": _said("cycles", 1e7),
        "range": _said("load_range", 2.0),
    },
    "fillet": {
        **WEAK_SHEET,
        "cycles": _said("cycles", 1e7),
        "every sheet": _every_sheet, "one sheet": _one_sheet, "grade": _grade, "load": _more_load("fillet"),
        "leg": _times("leg", 0.98, 0.9, 0.7, 0.5), "lines": _shorter_lines, "one line fewer": _without("lines"),
        "filler": _said("filler", "E60", "E70", "E80"), "stitch": _times("stitch", 0.9),
    },
    "brace": {
        "sheet": _profile("t", "skin_t"), "sizes": _profile("depth", "web", "od"), "grade": _grade,
        "load": _more_load("brace"), "span": _longer, "bearing": _times("bearing", 0.9, 0.5, 0.2),
        "which way up": _said("lies", None), "over": _said("over", "flat"), "fastened": _said("fastened", False),
        "pitch": _times("pitch", 1.2, 2.0), "held": _said("held", "none", "both"), "torque": _twisted,
        "aside": _bent_aside,
    },
    "panel": {"sheet": _thin_panel, "grade": _grade, "load": _more_load("panel"), "size": _larger_panel},
}  # fmt: skip
"""Kind -> what is weakened -> how; None where the thing has no such part."""


PATCHED = ("plate.edge-pull", "limit.permanent-set")
"""What a patch does to a panel that is less in a larger one."""


def loaded(kind: str, data: Data, k: float) -> Data:
    """The same thing under k times its loads."""

    def grown(value: Any) -> Any:
        if isinstance(value, Text):
            forces = {n: s.times(k) for n, s in value.sizes.items() if s.kind not in ("length",)}
            return Text(value.form, {**value.sizes, **forces})
        if isinstance(value, list | tuple):
            return [grown(v) for v in value]
        return value.times(k) if isinstance(value, Size | Several) else value

    return {**data, **{name: grown(data[name]) for name in LOADS[kind] if data.get(name) is not None}}


def used(result: Result) -> float:
    """The worst utilisation of a strength check; 0 where none has a load."""
    return max((c.utilisation or 0.0 for c in result.judged if c.method.basis != DETAILING), default=0.0)


def just_over(kind: str, data: Data, dice: random.Random) -> tuple[Data, Result] | None:
    """The thing under loads that bring it just over its limit, and its result; None where that cannot be had."""
    for _ in range(4):
        result = by_rules(model(kind, data))
        worst = used(result)
        if not worst:
            return None
        if result.status == "over" and worst <= 1.15:
            return data, result
        data = loaded(kind, data, dice.uniform(1.005, 1.1) / worst)
    return None


Turned = tuple[str, Data, Data, Result, Result]


def pairs(kind: str, data: Data, dice: random.Random) -> Iterator[Turned]:
    """Each weakening of one thing brought just over its limit: (what, before, after, its result before, after)."""
    try:
        near = just_over(kind, data, dice)
    except InputError:
        return
    if near is None:
        return
    data, before = near
    for what, change in WEAKER[kind].items():
        weak = change(data, dice)
        if weak is None:
            continue
        try:
            yield what, data, weak, before, by_rules(model(kind, weak))
        except InputError:
            continue  # the weaker one cannot be built: refused is not ok


def eased(kind: str, what: str, before: Result, after: Result) -> bool:
    """Whether a document eases what was over when that part is weakened: each case with its reason.

    - a detailing rule eased by thinner sheet or a smaller part (pitch against shunting, stack, edge, lap, bend radius),
      which governs the spots along a brace too;
    - a section that is net of holes or spots, when the spot is smaller (EN 1993-1-3 6.1.3: A_net);
    - an arc spot of the same visible size through thinner sheet: less is melted through, and the fused diameters of AISI
      S100 J2.2.2.1 (d_a, d_e) and EN 1993-1-3 8.5.3 (d_s) grow;
    - the thick one of two very unequal sheets, thinner: EN 1993-1-3 Table 8.5 has two more bounds on tearing from
      t_1 > 2.5 t on, and 3.1 t d f_u is lower than 2.7 sqrt(t) d f_u for sheet under 0.76 mm;
    - a plug's weld metal by EN 1993-1-8, whose factor beta_w is that of the stronger yield, and an arc spot lifted off by
      AISI S100 J2.2.3, whose sheet counts (F_u / F_y) squared, when the yield of one sheet falls;
    - the greatest pitch in compression of AISI S100 I1.3(c) grows with the flat width, and as F_y falls;
    - a brace that nothing holds, shallower: it bends sideways less readily than the deep and narrow one;
    - a shallower brace under a local force: EN 1993-1-3 6.1.7.2 counts 1 - h_w / 132 t and more of a lower web;
    - lines of fillet at an angle, shortened: what the plate spans between their ends grows shorter too;
    - a larger panel under the same patch pulls less at each millimetre of its longer edges, which turn less, so that
      less of its deflection stays (twice 240 x 120 x 0.7 mm under 400 N: 0.37 falls to 0.30 mm on grids of any fineness).
    """
    over = [c for c in before.checks if c.status == "over"]
    if all(c.method.basis == DETAILING or ", detail." in c.note for c in over):
        return True
    if what == "yield of one sheet" and all(c.key == "en1993-1-8.plug-shear" for c in over):
        return True
    if what.endswith("one sheet") and all(".arc-spot-uplift" in c.key or "arc-spot-inter" in c.key for c in over):
        return True
    if what == "zinc" and all(".arc-" in c.key or c.method.basis == DETAILING for c in over):
        return True
    if (what == "flat beside" or "grade" in what or "yield" in what) and all(
        c.key == "aisi-s100.spot-pitch" for c in over
    ):
        return True
    lower = (".lateral-torsional", ".web-crippling")
    if what == "sizes" and all(any(k in c.key for k in lower) or c.method.basis == DETAILING for c in over):
        return True
    if what in ("lines", "stitch") and all(c.key == "yield-line.lapped-plate" for c in over):
        return True
    if what == "size" and all(c.key in PATCHED for c in over) and getattr(before.model, "patch", 0.0):
        return True
    thin = min((s.t for s in getattr(before.model, "sheets", ())), default=1.0)
    if what == "one sheet" and thin < 0.76 and all("tearing" in c.key or c.method.basis == DETAILING for c in over):
        return True
    if what.endswith("sheet") and all(".arc-" in c.key or c.method.basis == DETAILING for c in over):
        return True
    net = ("net-section", "row-rupture", "shear-rupture", "tear-out", "block-shear")
    return what in ("spot", "hole", "visible", "slot", "count") and all(
        c.method.basis == DETAILING or c.key.split(".")[1].endswith(net) for c in over
    )


def drawn(descriptions: Any, number: int) -> list[Data]:
    """200 random descriptions, the same for the same number."""
    from hypothesis import HealthCheck, Phase, given, seed, settings

    found: list[Data] = []

    @seed(number)
    @settings(
        max_examples=200, database=None, deadline=None, phases=[Phase.generate], suppress_health_check=list(HealthCheck)
    )
    @given(data=descriptions)
    def run(data: Data) -> None:
        found.append(data)

    run()
    return found


def tell(kind: str, what: str, strong: Data, weak: Data, before: Result, after: Result) -> None:
    """Print what turned over."""
    over = {c.key: round(c.utilisation or 0.0, 3) for c in before.checks if c.status == "over"}
    then = {c.key: (c.status, c.note[:90]) for c in after.checks if c.key in over}
    first = spelt(strong)
    print(f"--- {kind}: {what}: over by {over}; then {then}, {after.governing} {used(after):.3f}")
    print("   ", first)
    print("    weaker:", {k: v for k, v in spelt(weak).items() if v != first.get(k)})


def descriptions() -> dict[str, Any]:
    """Kind -> random descriptions with stated strengths (those of a hot-rolled grade rise as it gets thinner)."""
    from .describe import bolts, braces, fillets, plugs, seams, small_panels

    return {
        "seam": seams(stated=True), "plug": plugs(stated=True), "bolts": bolts(stated=True),
        "fillet": fillets(stated=True), "brace": braces(stated=True), "panel": small_panels(),
    }  # fmt: skip


def turned_over(kind: str, share: int, dice: random.Random) -> tuple[int, list[Turned]]:
    """How many pairs were tried, and those that turned from over to ok without a document that eases them."""
    tried, n, found = 0, 0, []
    while tried < share:
        n += 1
        for data in drawn(descriptions()[kind], n):
            for pair in pairs(kind, data, dice):
                tried += 1
                if pair[4].status == "ok" and not eased(kind, pair[0], *pair[3:]):
                    found.append(pair)
            if tried >= share:
                break
    return tried, found


def main(argv: list[str]) -> int:
    """Try as many pairs as told, kind by kind, and print those that turned from over to ok."""
    kinds = argv[1:] or list(WEAKER)
    total, turned = 0, 0
    for kind in kinds:
        tried, found = turned_over(kind, int(argv[0]) // len(kinds) if argv else 1000, random.Random(20))
        shown: Counter[str] = Counter()
        for what, *rest in found:
            shown[what] += 1
            if shown[what] <= 3:
                tell(kind, what, *rest)
        total, turned = total + tried, turned + len(found)
        print(f"{kind}: {tried} pairs, {len(found)} turned from over to ok {dict(shown) or ''}", flush=True)
    print(f"{total} pairs, {turned} turned from over to ok")
    return 1 if turned else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
