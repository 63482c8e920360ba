"""What the effective sections of EN 1993-1-3 and AISI S100 share: the gross section less the strips that buckle.

The gross section bends exactly, see `properties`.  The effective one is found in bending about y with either face in
compression, or in uniform compression, for every candidate of a batch at once: by EN 1993-1-3 with EN 1993-1-5 in
`effective_en1993`, by AISI S100 in `effective_aisi`.

Decisions (for both):

- Any bead but that of a compressed crown under EN is not counted as a stiffener: the flat is taken as plain over its
  whole width, which is on the safe side.
- Profiles with I_yz (zed, angle) are taken to bend about y, held sideways.
- A round tube has no flats: its effective section is the gross one, and `limits` tells whether its wall is beyond
  d/t = 90 (235/f_y) (EN), 0.318 E/F_y bent or 0.441 E/F_y squeezed (AISI), where that no longer holds.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

import numpy as np
import numpy.typing as npt

from jointcalc.errors import InputError
from jointcalc.formula import effective_aisi as aisi
from jointcalc.formula import effective_en as en
from jointcalc.formula.core import Evaluation, Formula
from jointcalc.section.outline import Bools, Floats
from jointcalc.section.panels import Panel
from jointcalc.section.properties import Properties

Face = Literal["top", "bottom", "all"]
"""Which face is in compression; "all" is uniform compression."""
NU = 0.3
TINY = 1e-200


@dataclass(frozen=True, slots=True)
class Removed:
    """A strip that does not work: its area, the height of its middle, its own second moment."""

    panel: str
    area: Floats
    z: Floats
    own: Floats


@dataclass(frozen=True, slots=True)
class Working:
    """What a panel's effective width came from, for the printed steps: formula inputs by name."""

    panel: str
    steps: Callable[[Mapping[str, float]], list[Evaluation]]
    """The published formulas with the values of one candidate."""
    values: Mapping[str, Any]


@dataclass(frozen=True)
class EffectiveSection:
    """The effective section of every candidate; arrays `(batch,)`.

    Heights are in the outline's coordinates (z = 0 is the lowest face).  `W_eff` is the modulus of the
    face that yields first.  `lost` is the area of the strips taken out.  `limits` lists what lies
    outside the rules: reason -> where in the batch.
    """

    method: Literal["EN 1993-1-3", "AISI S100"]
    compression: Face
    f_y: Any
    E: float
    area: Floats
    z_centroid: Floats
    I_y: Floats
    W_top: Floats
    W_bottom: Floats
    lost: Floats
    limits: Mapping[str, Bools]
    workings: tuple[Working, ...] = field(repr=False, default=())
    refined: tuple[npt.NDArray[np.intp], EffectiveSection] | None = field(repr=False, default=None)
    """Candidates that took further rounds, and the section of those alone."""

    @property
    def W_eff(self) -> Floats:
        """Effective section modulus [mm^3] of the face that yields first."""
        return np.minimum(self.W_top, self.W_bottom)

    @property
    def moment(self) -> Floats:
        """Nominal (characteristic) moment capacity [N mm] at first yield of the effective section."""
        if self.method == "AISI S100":
            return np.asarray(aisi.nominal_moment(S_e=self.W_eff, F_y=self.f_y))
        return np.asarray(en.moment_resistance(W_eff=self.W_eff, f_yb=self.f_y))

    @property
    def fully_effective(self) -> Bools:
        """Where nothing was taken out."""
        return np.asarray(self.lost <= 1e-9 * self.area)

    def outside(self, column: int = 0) -> list[str]:
        """Reasons why one candidate is outside the published range; empty when inside."""
        return [text for text, where in self.limits.items() if bool(np.broadcast_to(where, self.area.shape)[column])]

    def steps(self, column: int = 0) -> tuple[Evaluation, ...]:
        """The workings of one candidate: the published formulas with its numbers, ready to print."""
        if self.refined is not None and column in self.refined[0]:
            return self.refined[1].steps(int(np.searchsorted(self.refined[0], column)))
        out: list[Evaluation] = []
        for working in self.workings:
            values = {k: _at(v, column) for k, v in working.values.items()}
            if values.get("w") == 0:
                continue  # its bends use the flat up: there is nothing to buckle
            out.extend(working.steps(values))
        if self.compression != "all":
            if self.method == "AISI S100":
                last = aisi.NOMINAL_MOMENT.evaluate(S_e=float(self.W_eff[column]), F_y=_at(self.f_y, column))
            else:
                last = en.MOMENT_RESISTANCE.evaluate(W_eff=float(self.W_eff[column]), f_yb=_at(self.f_y, column))
            out.append(last)
        return tuple(out)


def _at(value: Any, column: int) -> float:
    array = np.atleast_1d(np.asarray(value, dtype=float))
    return float(array[column if array.shape[-1] > 1 else 0])


class Remaining:
    """The gross section and the strips taken out of it so far."""

    def __init__(self, properties: Properties) -> None:
        p = properties
        self.area = p.area
        self.s = p.area * p.z_centroid
        self.i = p.I_y + p.area * p.z_centroid**2
        self.top, self.bottom = p.z_top, p.z_bottom
        self.strips: list[Removed] = []

    def take(self, panel: Panel, area: Floats, z: Floats, along: Floats, share: Floats) -> None:
        """Take a strip out: its area, the height of its middle, its length, its upright share dz/length."""
        if share.size == 1 and share[0] in {-1.0, 0.0, 1.0}:  # level or upright: one of the two terms is nothing
            own = area / 12 * (along**2 if share[0] else panel.t**2)
        else:
            own = area / 12 * (along**2 * share**2 + panel.t**2 * (1 - share**2))
        self.strips.append(Removed(panel.name, panel.count * area, z, panel.count * own))

    def totals(self, upto: int | None = None) -> tuple[Floats, Floats, Floats]:
        """(area, centroid height, I_y) of what is left."""
        strips = self.strips[:upto]
        area, s, i = self.area, self.s, self.i
        for strip in strips:
            moment = strip.area * strip.z
            area, s, i = area - strip.area, s - moment, i - moment * strip.z - strip.own
        z = s / area
        return area, z, i - s * z

    def result(
        self,
        method: Literal["EN 1993-1-3", "AISI S100"],
        face: Face,
        f_y: Any,
        modulus: float,
        limits: Mapping[str, Bools],
        workings: list[Working],
    ) -> EffectiveSection:
        """What is left, as an effective section by one of the methods."""
        area, z, i = self.totals()
        area, z, i = (
            np.broadcast_to(v, np.broadcast_shapes(np.shape(area), np.shape(self.area))) for v in (area, z, i)
        )
        return EffectiveSection(
            method=method,
            compression=face,
            f_y=f_y,
            E=modulus,
            area=area,
            z_centroid=z,
            I_y=i,
            W_top=i / (self.top - z),
            W_bottom=i / (z - self.bottom),
            lost=self.area - area,
            limits=limits,
            workings=tuple(workings),
        )


def positive(value: Any, name: str) -> Any:
    """The value itself.  Raises InputError where it is not a number above 0."""
    array = np.asarray(value, dtype=float)
    if not np.all(np.isfinite(array)) or np.any(array <= 0):
        raise InputError(f"{name} must be a number above 0", field=name)
    return value


def face_of(compression: str) -> Face:
    """The compressed face by its name.  Raises InputError for any other word."""
    if compression in ("top", "bottom", "all"):
        return compression  # type: ignore[return-value]
    raise InputError(
        f"'{compression}' is not a face; use top, bottom or all (uniform compression)", field="compression"
    )


def choose(condition: Bools, yes: Callable[[], Floats], no: Callable[[], Floats]) -> Floats:
    """The one or the other for each candidate; a branch that no candidate takes is not worked out."""
    if condition.all():
        return np.asarray(yes())
    if not condition.any():
        return np.asarray(no())
    return np.asarray(np.where(condition, yes(), no()))


def with_values(formula: Formula, v: Mapping[str, float], **other: float) -> Evaluation:
    """A formula with the values of one working; `other` goes before them."""
    given = {**v, **other}
    return formula.evaluate(**{name: given[name] for name in formula.parameters})
