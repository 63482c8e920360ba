"""What `import jointcalc` offers: every kind of item a project may hold, and `check` that judges it."""

from __future__ import annotations

import jointcalc
from jointcalc.registry import KINDS, load


def test_every_kind_of_item_is_offered_by_name() -> None:
    for kind in KINDS.values():
        name = kind.model.partition(":")[2]
        assert getattr(jointcalc, name) is load(kind.model)
        assert name in jointcalc.__all__


def test_all_that_is_promised_is_there() -> None:
    assert sorted(jointcalc.__all__) == dir(jointcalc)
    for name in jointcalc.__all__:
        assert getattr(jointcalc, name) is not None
