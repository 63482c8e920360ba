"""What `import jointcalc` offers: every kind of item a project may hold, and `check` that judges it."""

from __future__ import annotations

from importlib import import_module

import jointcalc
from jointcalc.model.project import KINDS


def test_every_kind_of_item_is_offered_by_name() -> None:
    for module, name in KINDS.values():
        assert getattr(jointcalc, name) is getattr(import_module(module), name)
        assert name in jointcalc.__all__


def test_all_that_is_promised_is_there() -> None:
    assert sorted(jointcalc.__all__) == dir(jointcalc)
    for name in jointcalc.__all__:
        assert getattr(jointcalc, name) is not None
