"""jointcalc: strength of spot-welded, plug-welded, arc-welded and bolted sheet-metal structure.

`check(model)` judges one described joint, `load_project(path)` reads a project file, and the models
(`SpotSeam`, `Sheet`, ...) describe them.  Everything is imported when first used, so that the
package and its commands start quickly.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

from jointcalc.version import VERSION as __version__

if TYPE_CHECKING:
    from jointcalc.check import check as check
    from jointcalc.errors import InputError as InputError
    from jointcalc.model.bolts import FastenerGroup as FastenerGroup
    from jointcalc.model.brace import Brace as Brace
    from jointcalc.model.fillet import FilletGroup as FilletGroup
    from jointcalc.model.panel import Panel as Panel
    from jointcalc.model.plug import PlugRow as PlugRow
    from jointcalc.model.project import Project as Project
    from jointcalc.model.project import load_project as load_project
    from jointcalc.model.seam import SpotSeam as SpotSeam
    from jointcalc.model.sheet import Sheet as Sheet
    from jointcalc.result import Result as Result

_PLACES = {
    "Brace": "jointcalc.model.brace",
    "check": "jointcalc.check",
    "FastenerGroup": "jointcalc.model.bolts",
    "FilletGroup": "jointcalc.model.fillet",
    "InputError": "jointcalc.errors",
    "PlugRow": "jointcalc.model.plug",
    "Panel": "jointcalc.model.panel",
    "Project": "jointcalc.model.project",
    "load_project": "jointcalc.model.project",
    "SpotSeam": "jointcalc.model.seam",
    "Sheet": "jointcalc.model.sheet",
    "Result": "jointcalc.result",
}

__all__ = [
    "Brace",
    "FastenerGroup",
    "FilletGroup",
    "InputError",
    "Panel",
    "PlugRow",
    "Project",
    "Result",
    "Sheet",
    "SpotSeam",
    "__version__",
    "check",
    "load_project",
]


def __getattr__(name: str) -> Any:
    if name in _PLACES:
        value = getattr(import_module(_PLACES[name]), name)
        globals()[name] = value
        return value
    raise AttributeError(f"module 'jointcalc' has no attribute '{name}'")


def __dir__() -> list[str]:
    return sorted(__all__)
