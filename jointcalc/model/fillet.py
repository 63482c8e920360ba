"""Arc welds along straight lines in a plane: fillets, flare and butt welds, whole or in stitches."""

from __future__ import annotations

import re
from collections.abc import Mapping
from math import floor, hypot
from typing import Annotated, Any, ClassVar

from pydantic import PrivateAttr, model_validator

from jointcalc.errors import InputError, nearest
from jointcalc.formula.branch import above, at_most, below
from jointcalc.formula.fillet_en1993 import throat as equal_leg_throat
from jointcalc.formula.flare import flare_throat, throat_per_radius
from jointcalc.model.fields import Item, Length, Numbers, PlanAxes, Quantity, Said, refuse
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.sentence import mm
from jointcalc.statics.group_common import Load
from jointcalc.statics.weld_group import WeldGroup, side_by_side
from jointcalc.tables import load as load_table
from jointcalc.tables.store import Row
from jointcalc.tables.trade import filler_row, hint

MOST_LINES = 500
MOST_SEGMENTS = 5000
UNWELDED, BUTTS = "8.1", "8.3"
OTHER = (UNWELDED, BUTTS)
"""Tables of EN 1993-1-9: parts without a weld, and butt welds across the stress."""
NEAREST = 0.9
"""Distance of two weld lines side by side, over the thickness of the plate between them: the fillets on its two faces
stand one thickness apart, and a builder rounds."""
WELDS = ("fillet", "flare-bevel", "flare-V", "butt")
JOINTS = ("tee", "lap")
CARRIERS = ("sheet", "box", "tube", "backed")
HOLDS = ("continuous", "simple")
PROCESSES = ("GMAW", "FCAW-G", "FCAW-S", "SMAW", "SAW", "TIG")
ELEMENTS = ("C", "Si", "Mn", "Cr", "Mo", "V", "Ni", "Cu", "B")

Line = Annotated[tuple[float, ...], Numbers("length", 4)]
"""A weld line x1 y1 x2 y2 [mm]."""
Leg = Annotated[float, Quantity("length", low=0.5, high=30.0, example="5 mm")]
"""A leg, throat or corner radius [mm]."""
Gap = Annotated[float, Quantity("length", high=20.0)]
RootGap = Annotated[float, Quantity("length", high=10.0, example="0.5 mm")]
FreeEdge = Annotated[float, Quantity("length", high=20e3, example="30 mm")]
BendRadius = Annotated[float, Quantity("length", low=0.0, high=500.0)]
Vector = Annotated[tuple[float, ...], Numbers("force", 3)]
"""x y z of a force [N]."""
Point = Annotated[tuple[float, ...], Numbers("length", 3)]
"""x y z of a point [mm]."""
Turn = Annotated[tuple[float, ...], Numbers("moment", 3)]
"""Moment about x y z [N·mm]."""
Pair = Annotated[tuple[float, ...], Numbers("length", 2, signed=False)]
"""Two lengths [mm]."""
Angle = Annotated[float, Quantity("angle", low=0.0, high=1.5708, example="90 deg")]
Volts = Annotated[float, Quantity("voltage", low=5.0, high=60.0, example="18 V")]
Amps = Annotated[float, Quantity("current", low=5.0, high=1000.0, example="130 A")]
Speed = Annotated[float, Quantity("speed", low=0.2, high=100.0, example="6 mm/s")]
Degrees = Annotated[float, Quantity("temperature", low=-20.0, high=300.0, signed=True, example="20 degC")]


class FilletGroup(Item):
    """Weld lines in the plane x, y (z out of it) under a service force at a point, and a moment.

    `weld` is fillet, flare-bevel, flare-V or butt.  A fillet joins a `tee` (the part loaded stands on
    the other, or a bracket on a wall) or a `lap` (the weld lies along the edge of the first sheet).
    `leg` is the leg of a fillet; `throat` replaces what follows from leg or radius when it was measured
    on cut and etched coupons.  `radius` is the outside corner radius beside a flare weld, `fill_gap` how
    far it stays below flush, `lip` the height of the bent flange behind it.  One sheet serves for
    both parts.  `stitch` is length and pitch of an intermittent weld, a stitch at each end of every line.
    `full_size` says that the welds have their full size up to the ends (returned round corners, run-on
    plates): EN 1993-1-8 then takes nothing off their length.  `both_sides` says that every line is two fillets,
    one on each face of the first sheet.  `root_gap` is what the parts stand apart; the leg counts without it.
    `width` is the width of the lapped part, `overlap` the lap itself, `bend_radius` the inside radius of a bend
    within five thicknesses.

    A load out of the plane bends what the welds sit on, the last sheet.  `on` says what that is: a flat `sheet`, a
    face of a `box` (rectangular tube) or a round `tube`, both along x, or `backed` by a web or block right behind the
    welds.  `between` is the clear distance between the supports of a sheet, the width of the face of a box, the outside
    diameter of a tube; `held` how a sheet is held there, `free_edge` how near a free edge the welds come.  `patch` is
    the size of what stands on a lapped plate and pulls it.

    `cycles` with `load_range` (the part of the load that comes and goes) asks for the fatigue screen,
    of the stated `detail` of the fatigue table if given.  `voltage`, `current` and `speed` ask for
    the heat, `analysis` (`"C=0.18 Mn=1.4"`) for the carbon equivalent, `step` for the order of runs.
    """

    kind: ClassVar[str] = "fillet"
    lasts: ClassVar[bool] = True
    word: ClassVar[str] = "welds"
    loading: ClassVar[frozenset[str]] = frozenset(("force", "at", "moment", "axes", "origin", "cycles", "load_range"))
    judging: ClassVar[frozenset[str]] = frozenset(("detail", "tested", "analysis", "step"))
    instead: ClassVar[Mapping[str, Said]] = {"sheet": Said("One sheet for both parts, instead of {sheets}.")}
    lines: Annotated[tuple[Line, ...], Said('A weld, `"x1 y1 x2 y2 mm"`, in the plane of the welds.', option="--line")]
    sheets: Annotated[tuple[Sheet, ...], Said("The part welded along its edge or end; twice: the other part too.")]
    # defaults are texts, validated like the rest
    force: Annotated[Vector, Said('Service force, `"x y z kN"`; z out of the plane.')] = "0 0 0 N"  # type: ignore[assignment]
    at: Annotated[Point | None, Said('Point the force acts at, `"x y z mm"`.')] = None
    moment: Annotated[Turn, Said('Service moment on top of the force\'s own, `"x y z N*m"`.')] = "0 0 0 N*mm"  # type: ignore[assignment]
    axes: PlanAxes = "x y"
    origin: Annotated[
        Point | None,
        Said(
            '`"x y z mm"`: where the zero of the joint\'s axes lies in the plan.',
            option=None,
            absent="a {load} from others acts at that zero",
        ),
    ] = None
    leg: Annotated[Leg | None, Said("Leg of the fillet.")] = None
    throat: Annotated[Leg | None, Said("Throat measured on cut coupons, instead of the leg's.")] = None
    filler: Annotated[str, Said("Filler by classification: `ER70S-6`, `E7018`, `E6013`, `5356` ...")] = "ER70S-6"
    weld: Annotated[str, Said("`fillet`, `flare-bevel`, `flare-V` or `butt`.", option="--kind")] = "fillet"
    joint: Annotated[str, Said("`tee`, or `lap` (the weld lies on the first sheet's edge).")] = "tee"
    process: Annotated[str, Said("`GMAW`, `FCAW-G`, `FCAW-S`, `SMAW`, `SAW` or `TIG`.")] = "GMAW"
    radius: Annotated[Leg | None, Said("Outside corner radius beside a flare weld.")] = None
    fill_gap: Annotated[Gap, Said("How far a flare weld stays below flush.")] = "0 mm"  # type: ignore[assignment]
    lip: Annotated[Length | None, Said("Height of the bent flange behind a flare weld.")] = None
    stitch: Annotated[Pair | None, Said('Intermittent weld: length and pitch, `"40 120 mm"`.')] = None
    full_size: Annotated[bool, Said("The welds have their full size up to their ends.")] = False
    width: Annotated[Length | None, Said("Width of the lapped or stitched part.")] = None
    overlap: Annotated[Length | None, Said("Overlap of a lap joint.")] = None
    both_sides: Annotated[bool, Said("Every line is two fillets, one on each face of the first sheet.")] = False
    root_gap: Annotated[RootGap, Said("Gap between the parts at the root; the leg counts without it.")] = "0 mm"  # type: ignore[assignment]
    on: Annotated[
        str,
        Said("What the welds sit on: `sheet`, `box` or `tube` (both along x), or `backed` right behind."),
    ] = "sheet"
    between: Annotated[
        Length | None,
        Said("Distance between the sheet's supports; width of the box; diameter of the tube."),
    ] = None
    held: Annotated[str, Said("The sheet at those supports: `continuous` (runs on, welded), or `simple`.")] = (
        "continuous"
    )
    free_edge: Annotated[FreeEdge | None, Said("Distance of the welds from a free edge of that sheet.")] = None
    patch: Annotated[Pair | None, Said('Size of what stands on a lapped plate and pulls it, `"40 40 mm"`.')] = None
    bend_radius: Annotated[BendRadius | None, Said("Inside radius of a bend within five thicknesses of the weld.")] = (
        None
    )
    taper: Annotated[Angle, Said("Angle of a tapered 4130 joint.")] = "90 deg"  # type: ignore[assignment]
    cycles: Annotated[float | None, Said("Load changes, for the fatigue screen.")] = None
    load_range: Annotated[float, Said("Part of the load that comes and goes: 1 all, 2 reversed.")] = 1.0
    detail: Annotated[str, Said("Fatigue detail (`jointcalc tables show fatigue_en1993_1_9`).")] = ""
    tested: Annotated[bool, Said("Full penetration of a butt weld is proved by test.")] = False
    voltage: Annotated[Volts | None, Said("Arc voltage, for the heat, with {current} and {speed}.")] = None
    current: Annotated[Amps | None, Said("Welding current, for the heat.")] = None
    speed: Annotated[Speed | None, Said("Travel speed, for the heat.")] = None
    preheat: Annotated[Degrees, Said("Temperature before welding.")] = "20 degC"  # type: ignore[assignment]
    analysis: Annotated[str, Said('Analysis of the steel in percent, `"C=0.18 Mn=1.4"`.')] = ""
    step: Annotated[Length | None, Said("Length of one back-step run.")] = None
    coupons: Annotated[bool, Said("Coupons of these sheets and settings were cut, etched and passed.")] = False
    _group: WeldGroup | None = PrivateAttr(default=None)
    _parent: tuple[int, ...] = PrivateAttr(default=())
    _load: Load | None = PrivateAttr(default=None)
    _filler: Row | None = PrivateAttr(default=None)

    @model_validator(mode="before")
    @classmethod
    def _one_sheet(cls, data: Any) -> Any:
        if isinstance(data, Mapping) and "sheet" in data and "sheets" not in data:
            return {**{k: v for k, v in data.items() if k != "sheet"}, "sheets": [data["sheet"]]}
        return data

    @model_validator(mode="after")
    def _consistent(self) -> Any:
        self._words()
        if not 1 <= len(self.sheets) <= 2:
            raise refuse(f"sheets: {len(self.sheets)} given; a weld joins two parts: give one sheet for both, or two")
        if not 1 <= len(self.lines) <= MOST_LINES:
            raise refuse(f"lines: {len(self.lines)} weld lines; accepted is 1 to {MOST_LINES}")
        self._sizes()
        self._fatigue_and_heat()
        try:
            self._filler = self._find_filler()
            # every line as drawn first, so that a fault names the line the builder wrote
            WeldGroup.of(self.lines, throat=self.design_throat)
            self._apart()
            segments, parents = self._cut()
            self._group = WeldGroup.of(segments, throat=self.design_throat)
            self._parent = parents
            if self.loaded_by_itself:
                self._load = self._loaded()
                self._group.elastic(self._load)
        except InputError as error:
            field = {"line": "lines", "F_EXX": "filler"}.get(error.field, error.field) or "force"
            raise refuse(f"{field}: {error.message}") from error
        return self

    def _apart(self) -> None:
        """Refuses lines that run beside one another nearer than a sheet is thick: one weld would count twice."""
        room = self.thin.thickness
        found = side_by_side(self.lines, NEAREST * (room + self.sheets[0].thickness if self.both_sides else room))
        if found is not None:
            i, j, length = found
            raise InputError(
                f"weld lines {i + 1} and {j + 1} run beside one another for {mm(length):.4g}, nearer than the sheet is "
                "thick: there is room for one weld, and it would count twice; let one end where the other begins",
                field="lines",
            )

    def _words(self) -> None:
        words = (("weld", WELDS), ("joint", JOINTS), ("process", PROCESSES), ("on", CARRIERS), ("held", HOLDS))
        for name, known in words:
            word = getattr(self, name)
            if word not in known:
                told = hint(name, word, known)
                raise refuse(f"{name}: '{word}' is not known{told} (accepted: {', '.join(known)})")
        if self.weld != "fillet" and self.process == "TIG" and self.weld != "butt":
            raise refuse("process: no throat of flare welds is published for TIG; accepted: GMAW, FCAW-G, SMAW, SAW")

    def _carrier(self) -> None:
        if self.on in ("box", "tube") and self.between is None:
            what = "width of the face of the box" if self.on == "box" else "outside diameter of the tube"
            raise refuse(f"between: is missing; a weld on a {self.on} needs the {what}, such as '60 mm'")
        if self.both_sides and (self.weld != "fillet" or self.joint != "tee"):
            raise refuse("both_sides: is for the two fillets of a tee; draw the other welds line by line")
        if self.patch is not None and (self.joint != "lap" or not all(self.patch)):
            raise refuse(
                "patch: is the size of what stands on a lapped plate ('joint' lap), two lengths such as '40 40 mm'"
            )

    def _sizes(self) -> None:
        thin = self.thin
        self._carrier()
        if self.weld == "fillet":
            if self.leg is None and self.throat is None:
                raise refuse("leg: is missing; a fillet needs its leg, such as '4 mm'")
            most = max(3 * thin.thickness, 4.0)
            if self.leg is None:
                if self.throat is not None and above(self.throat, most):
                    raise refuse(
                        f"throat: {mm(self.throat):.4g} is out of proportion to a sheet of {mm(thin.thickness):.4g}: "
                        f"so much weld burns through (common practice: at most {mm(most):.4g}, three times the sheet)"
                    )
                return
            edge = self.sheets[0].thickness
            if self.joint == "lap" and above(self.leg, edge):
                raise refuse(
                    f"leg: {mm(self.leg):.4g} is more than the edge it lies along; at most {mm(edge):.4g}. "
                    "A bead that stands higher counts only by a 'throat' measured on cut coupons"
                )
            if above(self.leg, most):
                raise refuse(
                    f"leg: {mm(self.leg):.4g} is out of proportion to a sheet of {mm(thin.thickness):.4g}: so much "
                    f"weld burns through (common practice: at most {mm(most):.4g}, three times the sheet)"
                )
            if self.throat is not None and below(self.leg, self.throat):
                raise refuse(f"throat: {mm(self.throat):.4g} is more than the leg of {mm(self.leg):.4g}")
            if self.root_gap and at_most(self.leg, self.root_gap):
                raise refuse(f"root_gap: {mm(self.root_gap):.4g} leaves nothing of a leg of {mm(self.leg):.4g}")
        elif self.weld == "butt":
            if self.throat is not None and above(self.throat, thin.thickness):
                raise refuse(f"throat: {mm(self.throat):.4g} is more than the thinner sheet, {mm(thin.thickness):.4g}")
        elif self.radius is None and self.throat is None:
            raise refuse("radius: is missing; a flare weld needs the outside corner radius, such as '6 mm'")
        elif self.throat is None and self.design_throat <= 0:
            raise refuse(
                f"fill_gap: {mm(self.fill_gap):.4g} below flush leaves no throat beside a radius of "
                f"{mm(self.radius or 0.0):.4g}"
            )

    def _fatigue_and_heat(self) -> None:
        if not 0.0 < self.load_range <= 2.0:
            raise refuse(
                f"load_range: {self.load_range:g}; it is the part of the load that comes and goes: 1 from nothing to "
                "full, 2 from full to full the other way"
            )
        if self.detail:
            known = [row["detail"] for row in load_table("fatigue_en1993_1_9").rows]
            if self.detail not in known:
                raise refuse(
                    f"detail: '{self.detail}' is not a detail of the fatigue table{nearest(self.detail, known)} "
                    "(`jointcalc tables show fatigue_en1993_1_9` lists them)"
                )
            self._fits_the_weld()
            if self.cycles is None:
                raise refuse("detail: needs the number of load changes too ('cycles')")
        heat = [name for name in ("voltage", "current", "speed") if getattr(self, name) is None]
        if 0 < len(heat) < 3:
            raise refuse(f"{heat[0]}: is missing; the heat needs voltage, current and travel speed together")
        self.composition  # noqa: B018 - refuses what cannot be read

    def _fits_the_weld(self) -> None:
        """Refuses a detail without a weld, of another weld, or of shear, which is judged beside it in any case."""
        rows = load_table("fatigue_en1993_1_9").rows
        butt = self.weld == "butt"
        fit = [r for r in rows if r["kind"] == "direct" and (r["table"] == BUTTS if butt else r["table"] not in OTHER)]
        if self.detail not in [r["detail"] for r in fit]:
            row = next(r for r in rows if r["detail"] == self.detail)
            raise refuse(
                f"detail: '{self.detail}' ({row['description']}) is none of a {self.weld} weld that is pulled across "
                f"(accepted: {', '.join(r['detail'] for r in fit)})"
            )

    def _cut(self) -> tuple[list[tuple[float, ...]], tuple[int, ...]]:
        """Segments of all lines and the line each belongs to; whole lines when there are no stitches.

        With fillets on both sides each segment stands there twice, half the first sheet to either side.
        """
        segments, parents = self._stitched()
        if not self.both_sides:
            return segments, parents
        pairs: list[tuple[float, ...]] = []
        for x1, y1, x2, y2 in segments:
            k = self.sheets[0].thickness / 2 / hypot(x2 - x1, y2 - y1)
            dx, dy = -k * (y2 - y1), k * (x2 - x1)
            pairs += [(x1 + dx, y1 + dy, x2 + dx, y2 + dy), (x1 - dx, y1 - dy, x2 - dx, y2 - dy)]
        return pairs, tuple(n for parent in parents for n in (parent, parent))

    def _stitched(self) -> tuple[list[tuple[float, ...]], tuple[int, ...]]:
        if self.stitch is None:
            return list(self.lines), tuple(range(len(self.lines)))
        length, pitch = self.stitch
        if length <= 0 or at_most(pitch, length):
            raise InputError(
                f"stitches of {mm(length):.4g} at a pitch of {mm(pitch):.4g} leave no gap; the pitch is centre to "
                "centre "
                f"and must be more than the length, such as '30 90 mm'",
                field="stitch",
            )
        segments: list[tuple[float, ...]] = []
        parents: list[int] = []
        for i, (x1, y1, x2, y2) in enumerate(self.lines):
            whole = hypot(x2 - x1, y2 - y1)
            if below(whole, length):
                raise InputError(
                    f"line {i + 1} of {mm(whole):.4g} is shorter than a stitch of {mm(length):.4g}", field="stitch"
                )
            gaps = -floor(-(whole - length) / pitch + 1e-9)
            if gaps and at_most((whole - length) / gaps, length):
                raise InputError(
                    f"stitches of {mm(length):.4g}, one at each end, run into one another on line {i + 1} of "
                    f"{mm(whole):.4g}: the weld would count twice; shorten them, or weld the line throughout",
                    field="stitch",
                )
            for n in range(gaps + 1):
                begin = (whole - length) * n / gaps if gaps else 0.0
                a, b = begin / whole, (begin + length) / whole
                segments.append((x1 + a * (x2 - x1), y1 + a * (y2 - y1), x1 + b * (x2 - x1), y1 + b * (y2 - y1)))
                parents.append(i)
            if len(segments) > MOST_SEGMENTS:
                raise InputError(f"gives more than {MOST_SEGMENTS} stitches; widen the pitch", field="stitch")
        return segments, tuple(parents)

    def _loaded(self) -> Load:
        force = (self.force[0], self.force[1], self.force[2])
        point = None if self.at is None else (self.at[0], self.at[1], self.at[2])
        return Load.at(force, point, (self.moment[0], self.moment[1], self.moment[2]))

    def _find_filler(self) -> Row:
        families = {sheet.material.family for sheet in self.sheets}
        if "aluminium" in families:
            if families != {"aluminium"}:
                raise InputError("aluminium cannot be arc-welded to another metal", field="grade")
            table = load_table("filler_aluminium_shear")
            known = [row["filler"] for row in table.rows]
            name = self.filler.upper().removeprefix("ER").removesuffix("A")
            if name not in known:
                raise InputError(
                    f"'{self.filler}' is not an aluminium filler of the table (known: {', '.join(known)})",
                    field="filler",
                )
            return table.find(filler=name)
        return filler_row(self.filler)

    # --- what the checks ask -----------------------------------------------------------------------

    @property
    def parts(self) -> tuple[Sheet, Sheet]:
        """The two parts; one sheet given serves for both."""
        return (self.sheets[0], self.sheets[-1])

    @property
    def thin(self) -> Sheet:
        """The thinner part."""
        return min(self.sheets, key=lambda s: s.t)

    @property
    def family(self) -> str:
        """steel, stainless or aluminium; the less common one of two."""
        families = {s.material.family for s in self.sheets}
        return next((f for f in ("aluminium", "stainless") if f in families), "steel")

    @property
    def chromoly(self) -> bool:
        """Whether a part is 4130."""
        return any(s.material.grade.startswith("4130") for s in self.sheets)

    @property
    def filler_row(self) -> Row:
        """Row of the filler table."""
        assert self._filler is not None
        return self._filler

    @property
    def counted_leg(self) -> float | None:
        """The leg that carries [mm]: what the gap at the root leaves of it; None without a leg."""
        return None if self.leg is None else self.leg - self.root_gap

    @property
    def leg_over_all(self) -> float:
        """The leg [mm] as it lies on the sheet, gap and all; of a weld with a throat alone, that of equal legs."""
        return self.leg if self.leg is not None else self.design_throat * 2**0.5

    @property
    def design_throat(self) -> float:
        """Throat that carries [mm]: measured, of the leg, of the radius, or the thinner sheet of a butt weld."""
        if self.throat is not None:
            return self.throat
        if self.weld == "fillet":
            assert self.counted_leg is not None
            return float(equal_leg_throat(s=self.counted_leg))
        if self.weld == "butt":
            return self.thin.t
        assert self.radius is not None
        return float(flare_throat(k_R=throat_per_radius(self.weld, self.process), R=self.radius, gap=self.fill_gap))

    @property
    def group(self) -> WeldGroup:
        """The welds as they carry: segments when stitched."""
        assert self._group is not None
        return self._group

    @property
    def parents(self) -> tuple[int, ...]:
        """The drawn line (from 0) each weld of the group belongs to."""
        return self._parent

    @property
    def loaded_by_itself(self) -> bool:
        """Whether a force or a moment is given."""
        return any(self.force) or any(self.moment)

    @property
    def acting(self) -> Load:
        """The service load about the origin of the axes; a group without one is asked what it may carry instead."""
        assert self._load is not None
        return self._load

    @property
    def composition(self) -> dict[str, float]:
        """Elements of `analysis` in percent by mass; empty when it is not given."""
        found: dict[str, float] = {}
        for word in re.split(r"[\s;]+", self.analysis.strip()):
            if not word:
                continue
            match = re.fullmatch(r"([A-Z][a-z]?)=([0-9]+(?:\.[0-9]+)?)%?", word)
            if not match or match[1] not in ELEMENTS or float(match[2]) > 30 or match[1] in found:
                raise refuse(
                    f"analysis: '{word}' cannot be read; write each element once, in percent, such as "
                    f"'C=0.18 Mn=1.4 Si=0.3' (accepted: {', '.join(ELEMENTS)})"
                )
            found[match[1]] = float(match[2])
        if found and not {"C", "Mn"} <= set(found):
            raise refuse("analysis: needs at least C and Mn, such as 'C=0.18 Mn=1.4'")
        return found
