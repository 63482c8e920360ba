"""A field of a model has its option, and every kind offers what its model takes."""

from __future__ import annotations

from typing import Annotated, Any, ClassVar

import pytest
import typer
from typer.main import get_command

from jointcalc.cli import options
from jointcalc.cli.main import _app
from jointcalc.model.fields import Described, Length, Said
from jointcalc.model.said import described, said, told
from jointcalc.model.seam import SpotSeam
from jointcalc.registry import KINDS, load
from tests.docs.generate import keys_of, models_of_the_file

WITH_SHEETS = {"sheets": "--sheet", "sheet": "--sheet"}
"""Sheets are told by three options: --sheet, --grade, --coating."""


def options_of(name: str) -> dict[str, str]:
    """Field -> option, of all fields that a command takes."""
    fields = said(load(KINDS[name].model)).items()
    made = {f: words.option or "--" + f.replace("_", "-") for f, words in fields if words.option is not None}
    return {field: WITH_SHEETS.get(field, option.partition("/")[0]) for field, option in made.items()}


def offered(name: str) -> dict[str, Any]:
    command: Any = get_command(_app(name)).commands[name]  # type: ignore[arg-type, attr-defined]
    return {option: p for p in command.params for option in p.opts}


@pytest.mark.parametrize(("name", "model"), models_of_the_file().items(), ids=models_of_the_file())
def test_every_field_says_what_it_is(name: str, model: type[Described]) -> None:
    lacking = set(model.model_fields) - set(said(model))
    assert not lacking, f"[{name}]: {lacking} say nothing; write Annotated[..., Said('What it is.')]"
    for words in (*said(model).values(), *model.instead.values()):
        told(model, words.help, str)
        told(model, words.absent, str)
        assert words.help.endswith("."), words.help


@pytest.mark.parametrize("name", KINDS)
def test_every_field_has_its_option(name: str) -> None:
    lacking = set(options_of(name).values()) - set(offered(name))
    assert not lacking, f"jointcalc {name} has no option for {lacking}"


@pytest.mark.parametrize("name", KINDS)
def test_options_have_the_defaults_of_the_model(name: str) -> None:
    known = offered(name)
    for field, option in options_of(name).items():
        about = load(KINDS[name].model).model_fields[field]
        assert known[option].required == about.is_required(), field
        if not about.is_required() and about.default not in ((), None) and not known[option].multiple:
            assert known[option].default == about.default, field


def test_a_help_page_names_options_and_the_page_of_the_file_names_keys() -> None:
    assert offered("seam")["--peel"].help.endswith("; needs --peel-arm.")
    assert "; needs `peel_arm` |" in keys_of("seam", SpotSeam)
    assert described(SpotSeam, said(SpotSeam)["peel"]).endswith("; needs peel_arm.")
    assert offered("seam")["--lap"].help == "Width of the lap (default: twice the edge distance)."
    assert "| `lap` | Width of the lap | twice the edge distance |" in keys_of("seam", SpotSeam)
    with pytest.raises(ValueError, match="pich"):
        told(SpotSeam, "Goes with {pich}.", str)


def test_a_new_field_is_a_key_of_the_page_and_of_the_schema_by_the_same_line() -> None:
    assert "| `overhang` | How far the seam runs on beyond its last spot |  |" in keys_of("seam", Widened)
    words = Widened.model_json_schema()["properties"]["overhang"]["description"]
    assert words == "How far the seam runs on beyond its last spot."


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
