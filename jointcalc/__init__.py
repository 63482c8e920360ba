"""jointcalc: strength of spot-welded, plug-welded, arc-welded and bolted sheet-metal structure.

The models (`SpotSeam`, `Sheet`, ...) describe a joint, `check` judges one or a whole project, `find` searches what
holds, `compare` judges several side by side, `sensitivity` changes the sheet and leaves out a weld, `scatter` tells how
likely it falls short, `load_project` reads a project file; every fault of input is an InputError.  Everything is
imported when first used, so that the package and its commands start quickly.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

from jointcalc.registry import KINDS
from jointcalc.version import VERSION as __version__

if TYPE_CHECKING:
    from jointcalc.check import check as check
    from jointcalc.errors import InputError as InputError
    from jointcalc.explore.find import compare as compare
    from jointcalc.explore.find import find as find
    from jointcalc.explore.scatter import scatter as scatter
    from jointcalc.explore.sensitivity import sensitivity as sensitivity
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
    from jointcalc.result import Results as Results

_PLACES = {
    "check": "jointcalc.check",
    "compare": "jointcalc.explore.find",
    "find": "jointcalc.explore.find",
    "scatter": "jointcalc.explore.scatter",
    "sensitivity": "jointcalc.explore.sensitivity",
    "Results": "jointcalc.result",
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
