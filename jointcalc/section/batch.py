"""Many candidates of one family at once, in chunks, so that memory stays bounded whatever the count.

A chunk runs through exactly the code that a single profile runs through (`properties`, `effective`,
`forming`), so the answers agree to the last digits.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from jointcalc.errors import InputError
from jointcalc.section.effective import EffectiveSection
from jointcalc.section.effective_aisi import effective_aisi
from jointcalc.section.effective_en1993 import E_EN, effective_en
from jointcalc.section.families.family import Family
from jointcalc.section.forming import blank
from jointcalc.section.outline import STEEL_DENSITY, Bools, Floats
from jointcalc.section.panels import panels
from jointcalc.section.properties import Properties

CHUNK = 16384
"""Candidates per chunk: small enough for the working arrays to stay in a core's own cache."""

GROSS = ("area", "mass_per_metre", "centroid_height", "I_y", "I_z", "J", "W_y_top", "W_y_bottom")
"""Gross properties a batch returns unless told otherwise; any array property of `Properties` may be named."""


@dataclass(frozen=True)
class Batch:
    """Answers for every candidate: name -> array `(candidates,)`.

    Candidates that cannot be built have `valid` False and 0 everywhere.  `moment_en_top` is the moment
    capacity [N mm] with the top face in compression, and so on; `inside_en_top` is 1 where the method
    covers the candidate; `EI` [N mm^2] is that of the gross section with the European modulus.
    """

    valid: Bools
    values: Mapping[str, Floats]

    def __getitem__(self, name: str) -> Floats:
        return self.values[name]


def chunks(count: int, size: int = CHUNK) -> Iterator[slice]:
    """Slices that cover `count` candidates in order."""
    for start in range(0, count, size):
        yield slice(start, min(start + size, count))


def evaluate(
    family: Family,
    *,
    f_y: float,
    faces: Sequence[str] = ("top", "bottom"),
    methods: Sequence[str] = ("en", "aisi"),
    gross: Sequence[str] = GROSS,
    density: float = STEEL_DENSITY,
    K: float | None = None,
    size: int = CHUNK,
    progress: Callable[[int], Any] | None = None,
) -> Batch:
    """Gross and effective properties, moment capacities, bending stiffness and blank of every candidate.

    `f_y` [MPa]; `faces` in compression; `methods` "en", "aisi"; `K` a stated K-factor for the blank;
    `size` candidates per chunk; `progress` is called with the number done after each chunk.
    Deflection follows from `EI` for any load (see `statics`); see also `midspan_deflection`.

    Raises InputError for a strength that is not positive or an unknown method or face.
    """
    count = family.batch
    valid = np.zeros(count, dtype=bool)
    values: dict[str, Floats] = {}
    for part, found in stream(
        family, f_y=f_y, faces=faces, methods=methods, gross=gross, density=density, K=K, size=size
    ):
        valid[part] = found.valid
        for name, value in found.values.items():
            if name not in values:
                values[name] = np.zeros(count)
            values[name][part] = value
        if progress is not None:
            progress(part.stop)
    return Batch(valid, values)


def stream(
    family: Family,
    *,
    f_y: float,
    faces: Sequence[str] = ("top", "bottom"),
    methods: Sequence[str] = ("en", "aisi"),
    gross: Sequence[str] = GROSS,
    density: float = STEEL_DENSITY,
    K: float | None = None,
    size: int = CHUNK,
) -> Iterator[tuple[slice, Batch]]:
    """The same chunk by chunk, for a search that keeps only the best: (which candidates, their answers).

    Nothing is kept between chunks.  Raises InputError as `evaluate` does.
    """
    unknown = [m for m in methods if m not in {"en", "aisi"}]
    if unknown:
        raise InputError(f"'{unknown[0]}' is not a method of effective widths; use en or aisi", field="methods")
    for part in chunks(family.batch, size):
        wide = family.take(part)
        ok = np.broadcast_to(wide.valid(), (part.stop - part.start,))
        if ok.all():
            yield part, Batch(ok, _one_chunk(wide, f_y, faces, methods, gross, density, K))
            continue
        values: dict[str, Floats] = {}
        if ok.any():
            for name, value in _one_chunk(wide.take(ok), f_y, faces, methods, gross, density, K).items():
                values[name] = np.zeros(ok.shape)
                values[name][ok] = value
        yield part, Batch(ok, values)


def _one_chunk(
    family: Family,
    f_y: float,
    faces: Sequence[str],
    methods: Sequence[str],
    gross: Sequence[str],
    density: float,
    K: float | None,
) -> dict[str, Floats]:
    p: Properties = family.properties(density=density)
    out: dict[str, Floats] = {name: getattr(p, name) for name in gross}
    out["EI"] = E_EN * p.I_y
    made = blank(family, K=K, density=density)
    out["blank_width"], out["blank_mass_per_metre"] = made.width, made.mass_per_metre
    flats = panels(family, p)
    for method in methods:
        for face in faces:
            e: EffectiveSection = (
                effective_en(family, f_yb=f_y, compression=face, properties=p, known=flats)
                if method == "en"
                else effective_aisi(family, F_y=f_y, compression=face, properties=p, known=flats)
            )
            out[f"moment_{method}_{face}"] = e.moment
            out[f"I_eff_{method}_{face}"] = e.I_y
            inside = np.ones(p.area.shape, dtype=bool)
            for where in e.limits.values():
                inside &= ~where
            out[f"inside_{method}_{face}"] = inside.astype(float)
    return out


def midspan_deflection(*, EI: npt.ArrayLike, span: float, point: float = 0.0, spread: float = 0.0) -> Floats:
    """Deflection [mm] at mid-span of a simply supported brace: `point` [N] at mid-span, `spread` [N/mm] all over.

    P L^3/(48 EI) + 5 w L^4/(384 EI), elementary beam theory; for screening, where the general beam solver
    would be needed a million times.
    """
    stiffness = np.asarray(EI, dtype=float)
    return np.asarray((point * span**3 / 48.0 + 5.0 * spread * span**4 / 384.0) / stiffness)
