"""What a load case of the project means: its directions, its factor, its source."""

from __future__ import annotations

from jointcalc.model.given import CaseInForce, Field, Vector
from jointcalc.model.project import LoadCase


def in_force(case: LoadCase, *, forward: Vector) -> CaseInForce:
    """The case with its directions in the plan's axes; `forward` is the unit vector in which the vehicle drives."""
    fields: tuple[Field, ...] = ()
    if case.acceleration is not None:
        x, y, z = case.acceleration
        fields = (Field(acceleration=(x, y, z)),)
    return CaseInForce(
        id=case.id,
        title=case.title,
        fields=fields,
        ultimate=case.ultimate,
        load_factor=1.0 if case.ultimate else case.load_factor,
        cycles=case.cycles,
        source=case.source,
    )
