"""A small project, for tests that are about what stands beside its items: records, a log, photos."""

from __future__ import annotations

from collections.abc import Mapping


def small_project(seams: Mapping[str, str], **grades: str) -> str:
    """The text of a project file: sheets of the grades given, 1.2 mm, and a lap of two like sheets for each seam.

    `seams` is id -> name of its sheet.
    """
    sheets = "".join(f'[sheet.{name}]\nthickness = "1.2 mm"\ngrade = "{grade}"\n' for name, grade in grades.items())
    rows = "".join(
        f'[[seam]]\nid = "{name}"\nsheets = ["{sheet}", "{sheet}"]\nweld_diameter = "5.5 mm"\npitch = "40 mm"\n'
        'length = "400 mm"\nedge = "9 mm"\nshear = "1 kN"\n'
        for name, sheet in seams.items()
    )
    return f'[project]\ntitle = "P"\n{sheets}{rows}'
