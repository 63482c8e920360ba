"""jointcalc: strength of spot-welded, plug-welded, arc-welded and bolted sheet-metal structure.

`check(model)` judges one described joint, `load_project(path)` reads a project file, and the models
(`SpotSeam`, `Sheet`, ...) describe them.  Everything is imported when first used, so that the
package and its commands start quickly.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

from jointcalc.registry import KINDS
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
    "check": "jointcalc.check",
    "InputError": "jointcalc.errors",
    "Project": "jointcalc.model.project",
    "load_project": "jointcalc.model.project",
    "Sheet": "jointcalc.model.sheet",
    "Result": "jointcalc.result",
    **{kind.model.partition(":")[2]: kind.model.partition(":")[0] for kind in KINDS.values()},
}

__all__ = ["__version__", *_PLACES]  # noqa: PLE0604 - the models are those of the registry


def __getattr__(name: str) -> Any:
    if name in _PLACES:
        value = getattr(import_module(_PLACES[name]), name)
        globals()[name] = value
        return value
    raise AttributeError(f"module 'jointcalc' has no attribute '{name}'")


def __dir__() -> list[str]:
    return sorted(__all__)
