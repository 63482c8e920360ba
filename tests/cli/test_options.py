"""A field of a model has its option, and every kind offers what its model takes."""

from __future__ import annotations

import re
from typing import Annotated, Any, ClassVar

import pytest
import typer
from typer.main import get_command

from jointcalc.cli import options
from jointcalc.cli.common import sheets
from jointcalc.cli.main import _app
from jointcalc.errors import InputError
from jointcalc.model.brace import Brace
from jointcalc.model.fields import Described, Length, Said, build
from jointcalc.model.said import described, said, with_words
from jointcalc.model.seam import SpotSeam
from jointcalc.registry import KINDS, load
from jointcalc.show.ask import _question
from tests.docs.blocks import run_line
from tests.docs.generate import keys_of, models_of_the_file

WITH_SHEETS = {"sheets": "--sheet", "sheet": "--sheet"}
"""Sheets are told by options of their own: --sheet, --grade, --coating, --yield-strength, --tensile-strength."""


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
        with_words(model, words.help, str)
        with_words(model, words.absent, str)
        assert words.help.endswith("."), words.help


@pytest.mark.parametrize("name", KINDS)
def test_no_help_names_a_field_in_braces(name: str) -> None:
    # {load_factor} stands for how the field is written where it is read: an option here, a key in the schema
    left = re.compile(r"\{[a-z_]+\}")
    assert not [option for option, p in offered(name).items() if left.search(p.help or "")]
    model = load(KINDS[name].model)
    assert not [field for field, words in said(model).items() if left.search(described(model, words))]
    questions = [_question(model, field, words, name) for field, words in said(model).items()]
    assert not [q.field for q in questions if left.search(q.text + q.absent)]


@pytest.mark.parametrize("name", KINDS)
def test_every_field_has_its_option(name: str) -> None:
    lacking = set(options_of(name).values()) - set(offered(name))
    assert not lacking, f"jointcalc {name} has no option for {lacking}"


LEFT_OUT = {
    "seam": ("sheets", "weld_diameter"), "fillet": ("sheets", "lines"), "bolts": ("sheets",), "panel": ("sheet",),
    "mount": ("sheets",),
}  # fmt: skip


@pytest.mark.parametrize("name", KINDS)
def test_options_have_the_defaults_of_the_model(name: str) -> None:
    known = offered(name)
    for field, option in options_of(name).items():
        about = load(KINDS[name].model).model_fields[field]
        sought = field in LEFT_OUT.get(name, ())  # a search for it does without, and the command itself asks for it
        assert known[option].required == (about.is_required() and not sought), field
        if not about.is_required() and about.default not in ((), None) and not known[option].multiple:
            assert known[option].default == about.default, field


def test_a_help_page_names_options_and_the_page_of_the_file_names_keys() -> None:
    assert offered("seam")["--peel"].help.endswith("; needs --peel-arm.")
    assert "; needs `peel_arm` |" in keys_of("seam", SpotSeam)
    assert described(SpotSeam, said(SpotSeam)["peel"]).endswith("; needs peel_arm.")
    assert offered("seam")["--lap"].help == "Width of the lap (default: twice the edge distance)."
    assert "| `lap` | Width of the lap | twice the edge distance |" in keys_of("seam", SpotSeam)
    with pytest.raises(ValueError, match="pich"):
        with_words(SpotSeam, "Goes with {pich}.", str)


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


def test_a_kind_of_one_sheet_takes_one(capsys: pytest.CaptureFixture[str]) -> None:
    """A panel judged by itself, as by the command that a new kind of one sheet is given: two sheets are refused."""
    asked = options.command_of("panel", "A panel.", first=["size", "sheet"], find="depth")
    app = typer.Typer(add_completion=False)
    app.command()(asked)
    line = ["--size", "300 200 mm", "--grade", "DC04", "--bead", "none", "--pressure", "0.1 kPa", "--sheet", "1.2 mm"]
    command = get_command(app)
    assert command.main(line, standalone_mode=False) == 0
    assert "1.2 mm DC04" in capsys.readouterr().out
    with pytest.raises(InputError, match="2 sheets are given; it takes one"):
        command.main([*line, "--sheet", "1.5 mm"], standalone_mode=False)


def test_an_order_that_names_no_field_fails_at_import() -> None:
    with pytest.raises(ValueError, match="pich"):
        options.command_of("seam", "A seam.", first=["sheets", "pich"], find="pitch")


LEFT_OPEN = {
    "seam": '--sheet "18 ga" --sheet "18 ga" --weld-diameter usual --pitch "1-3/8 in" --length "20 in" --edge "3/8 in" --shear "500 lbf"',
    "plug": '--sheet "18 ga" --sheet "16 ga" --hole "5/16 in" --pitch "2 in" --length "20 in" --edge "1/2 in" --shear "500 lbf"',
    "fillet": '--line "0 0 2-1/2 0 in" --leg "1/8 in" --sheet "14 ga" --force "0 100 0 lbf" --at "1-1/4 0 0 in"',
    "bolts": '--hole "0 0 in" --bolt "1/4-20 Gr 5" --sheet "18 ga" --force "0 0 40 lbf" --at "0 0 0 in"',
    "panel": '--size "24x16 in" --sheet "18 ga" --bead none --pressure "0.01 psi"',
    "brace": '--profile "hat:top=2in,depth=1-1/4in,flange=3/4in,t=18ga,r=1/16in" --span "40 in" --point "20 lbf @ 19-5/8 in"',
}  # fmt: skip


@pytest.mark.parametrize("name", LEFT_OPEN)
def test_a_grade_whose_standard_leaves_the_strengths_open_takes_them_as_options(name: str) -> None:
    # ASTM A1008 commercial steel has no strengths (from memory); every kind says so and takes them
    line = f'jointcalc {name} {LEFT_OPEN[name]} --grade "A1008 CS B"'
    code, out, err = run_line(line)
    assert (code, out) == (2, "")
    assert "give --tensile-strength (and --yield-strength)" in err
    code, out, err = run_line(f'{line} --yield-strength "25 ksi" --tensile-strength "45 ksi" --units inch')
    assert code in (0, 1), err
    assert re.search(r"A1008 CS\s+Type\s+B", out)


def test_strengths_for_all_sheets_or_one_for_each() -> None:
    pair = sheets(["18 ga", "16 ga"], ["DC04"], yield_strength=["25 ksi", "none"], tensile_strength=["45 ksi"])
    assert [one.get("yield_strength") for one in pair] == ["25 ksi", None]
    assert [one["tensile_strength"] for one in pair] == ["45 ksi", "45 ksi"]
    with pytest.raises(InputError, match="2 yield strengths for 1 sheets"):
        sheets(["18 ga"], ["DC04"], yield_strength=["25 ksi", "26 ksi"])
    code, _, err = run_line(f'jointcalc seam {LEFT_OPEN["seam"]} --grade DC04 --tensile-strength "45 kip"')
    assert code == 2
    assert err.startswith("jointcalc: --tensile-strength: 'kip' is a unit of force")


def test_a_certificate_of_the_profile_says_nothing_of_a_skin_of_another_grade() -> None:
    shape = "hat-skin:top=50mm,depth=40mm,flange=25mm,t=1.5mm,r=2mm,skin=120mm,skin_t=1.2mm,weld=10mm"
    data = {
        "profile": shape,
        "grade": "S355MC",
        "span": "1 m",
        "yield_strength": "380 MPa",
        "tensile_strength": "470 MPa",
    }
    both = build(Brace, data).sheets
    assert (both[0].f_y, both[1].f_y, both[1].f_u) == (380.0, 380.0, 470.0)
    own = build(Brace, {**data, "skin_grade": "DC04"}).sheets
    assert (own[0].f_y, own[1].f_y, own[1].f_u) == (380.0, 140.0, 270.0)  # EN 10130 (from memory), as in materials
    said = build(
        Brace, {**data, "skin_grade": "A1008 CS", "skin_yield_strength": "180 MPa", "skin_tensile_strength": "300 MPa"}
    )
    assert (said.sheets[1].f_y, said.sheets[1].f_u) == (180.0, 300.0)
