"""A field of a model has its option, and every kind offers what its model takes."""

from __future__ import annotations

from typing import Annotated, Any, ClassVar

import pytest
import typer
from typer.main import get_command

from jointcalc.cli import options
from jointcalc.cli.main import _app
from jointcalc.model.fields import Length, Said
from jointcalc.model.seam import SpotSeam
from jointcalc.registry import KINDS, load

IN_A_FILE_ONLY = {
    "title",
    "case",
    "reason",
    "alternatives",
    "photo",
    "place",
    "end_joints",
    "part",
    "load",
    "presses",
    "welded_by",
    "axes",
    "origin",
    "bolts",
    "fillet",
    "brace",
}
"""What an item says for a dossier, or of another item of the file: a command prints one answer and has neither."""
SPELT = {
    "sheets": "sheet",
    "holes": "hole",
    "lines": "line",
    "shares": "share",
    "weld": "kind",
    "feet": "foot",
    "cases": "case",
}
"""Field -> option where they differ."""


def offered(name: str) -> dict[str, Any]:
    command: Any = get_command(_app(name)).commands[name]  # type: ignore[arg-type, attr-defined]
    return {option: p for p in command.params for option in p.opts}


@pytest.mark.parametrize("name", KINDS)
def test_every_field_has_its_option(name: str) -> None:
    fields = set(load(KINDS[name].model).model_fields) - IN_A_FILE_ONLY
    known = offered(name)
    lacking = {f for f in fields if "--" + SPELT.get(f, f).replace("_", "-") not in known}
    assert not lacking, f"jointcalc {name} has no option for {lacking}"


@pytest.mark.parametrize("name", ["seam", "plug"])
def test_options_have_the_defaults_of_the_model(name: str) -> None:
    known = offered(name)
    for field, about in load(KINDS[name].model).model_fields.items():
        option = known.get("--" + SPELT.get(field, field).replace("_", "-"))
        if option is not None:
            assert option.required == about.is_required()
            if not about.is_required() and about.default not in ((), None):
                assert option.default == about.default, field


class Widened(SpotSeam):
    """A seam with one field more."""

    kind: ClassVar[str] = "spot_seam"
    overhang: Annotated[Length | None, Said("How far the {item} runs on beyond its last {weld}.")] = None


def test_a_new_field_is_an_option_by_its_own_line(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(options, "load", lambda place: Widened)
    command = options.command_of("seam", "A seam.", first=["weld_diameter"], find="pitch")
    app = typer.Typer()
    app.command()(command)
    made = {p.name: p for p in get_command(app).params}
    option: Any = made["overhang"]
    assert option.opts == ["--overhang"]
    assert option.help == "How far the seam runs on beyond its last spot."
    names = list(made)
    assert names[:3] == ["sheet", "grade", "weld_diameter"]
    assert "coating" in names
    assert names.index("overhang") < names.index("find") < names.index("id")


def test_an_order_that_names_no_field_fails_at_import() -> None:
    with pytest.raises(ValueError, match="pich"):
        options.command_of("seam", "A seam.", first=["sheets", "pich"], find="pitch")
