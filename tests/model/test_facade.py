"""What `import jointcalc` offers: every kind of item a project may hold, and `check` that judges it."""

from __future__ import annotations

import json
import subprocess
import sys
from typing import Any

import pytest

import jointcalc
from jointcalc.errors import InputError
from jointcalc.model.fields import Described
from jointcalc.registry import BY_MODEL, KINDS, SOURCES, load


def test_every_kind_of_item_is_offered_by_name() -> None:
    for kind in KINDS.values():
        name = kind.model.partition(":")[2]
        assert getattr(jointcalc, name) is load(kind.model)
        assert name in jointcalc.__all__


def test_all_that_is_promised_is_there() -> None:
    assert sorted(jointcalc.__all__) == dir(jointcalc)
    for name in jointcalc.__all__:
        assert getattr(jointcalc, name) is not None


def _models() -> list[type[Described]]:
    from jointcalc.model.project import About, LoadCase, Project
    from jointcalc.model.sheet import Sheet

    return [Sheet, About, LoadCase, Project, *(load(one.model) for one in (*BY_MODEL.values(), *SOURCES.values()))]


@pytest.mark.parametrize("model", _models(), ids=lambda model: model.__name__)
@pytest.mark.parametrize("data", [{}, {"nonsense": 1}, None, 3, "seam", ["seam"]], ids=str)
def test_every_way_to_make_a_model_raises_input_error(model: type[Described], data: Any) -> None:
    with pytest.raises(InputError):
        model.model_validate(data)
    with pytest.raises(InputError):
        model.model_validate_strings(data)
    with pytest.raises(InputError):
        model.model_validate_json("{" if data is None else json.dumps(data))
    if isinstance(data, dict):
        with pytest.raises(InputError):
            model(**data)


def test_two_sheets_of_the_same_texts_are_two_sheets() -> None:
    # a project reads the texts of a sheet once; what was read before was once handed to nobody, and the second was empty
    first, second = (jointcalc.Sheet(thickness="1.2 mm", grade="DC04", coating="Z275") for _ in range(2))
    assert first is not second
    assert first == second
    assert (second.thickness, second.t, second.typed("coating")) == (1.2, first.t, "Z275")


def test_a_model_that_is_made_does_not_change() -> None:
    sheet = jointcalc.Sheet(thickness=1.2, grade="DC04")
    with pytest.raises(InputError, match="thickness: what is described is frozen"):
        sheet.thickness = 1.5  # type: ignore[misc]
    assert sheet.but(thickness=1.5).thickness == 1.5


def test_to_judge_hides_no_module() -> None:
    # in a process of its own: `check` is a function of the facade and a package
    code = (
        "import jointcalc\n"
        "seam = jointcalc.SpotSeam(id='S', sheets=[jointcalc.Sheet(thickness=1.2, grade='DC04')] * 2, weld_diameter=5.5,\n"
        "                          pitch=40, length=400, edge=12, shear=4000)\n"
        "first = jointcalc.check(seam).status\n"
        "import jointcalc.check.seam as module\n"
        "print(first, jointcalc.check(seam).status, module.check_seam(seam).status)\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == "ok ok ok\n"
