"""The registry of kinds: a record names all that a kind must have, and all it names is there."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from jointcalc import registry
from jointcalc.model.fields import Item
from jointcalc.registry import BY_KEY, BY_MODEL, KINDS, NAMES, PIECES, Kind, load


@pytest.mark.parametrize("name", NAMES)
def test_every_hook_of_a_kind_can_be_imported(name: str) -> None:
    kind = KINDS[name]
    assert kind.name == name
    assert kind.help.endswith((".", "?"))
    for hook, place in kind.hooks.items():
        found: Callable[..., Any] = load(place)
        assert callable(found), hook
    model = load(kind.model)
    assert issubclass(model, Item)
    assert model.kind == kind.key, "a model's `kind` is the key of its record"


@pytest.mark.parametrize("name", PIECES)
def test_every_hook_of_a_piece_can_be_imported(name: str) -> None:
    for place in (PIECES[name].model, PIECES[name].marking, PIECES[name].cut):
        assert callable(load(place))


def test_a_record_that_lacks_a_hook_fails_when_it_is_made() -> None:
    whole = {field: getattr(KINDS["seam"], field) for field in Kind.__dataclass_fields__}
    assert Kind(**whole) == KINDS["seam"]
    for field in whole:
        with pytest.raises(TypeError, match=field):
            Kind(**{k: v for k, v in whole.items() if k != field})
    for place in ("", "cut_seam", "jointcalc.layout.cutlist.count_seam", "os.path:join"):
        with pytest.raises(ValueError, match="cut"):
            Kind(**{**whole, "cut": place})


def test_no_two_kinds_share_a_name_or_a_key() -> None:
    assert len(BY_KEY) == len(KINDS) == len(NAMES)
    assert len(BY_MODEL) == len(KINDS) + len(PIECES)
    assert not set(KINDS) & set(PIECES)


def test_no_module_treats_kinds_differently_by_a_chain_of_types() -> None:
    """What differs between kinds is a hook; a module that asks for two of the models' types has a chain instead."""
    names = [kind.model.partition(":")[2] for kind in KINDS.values()]
    for file in sorted(Path(registry.__file__).parent.rglob("*.py")):
        text = file.read_text(encoding="utf-8")
        asked = [n for n in names if f"isinstance(item, {n})" in text or f"(result.model, {n})" in text]
        assert len(asked) <= 1, f"{file}: {asked}"
