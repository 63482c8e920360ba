"""jointcalc: strength of spot-welded, plug-welded, arc-welded and bolted sheet-metal structure.

The models (`SpotSeam`, `Sheet`, ...) describe a joint, `check` judges one or a whole project, `find` searches what
holds, `compare` judges several side by side, `sensitivity` changes the sheet and leaves out a weld, `scatter` tells how
likely it falls short, `load_project` reads a project file; every fault of input is an InputError.  Everything is
imported when first used, so that the package and its commands start quickly.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

from jointcalc import version

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

__version__ = version.VERSION
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
}


def _places() -> dict[str, str]:
    """Name -> module of everything that is offered, the models of the registry with it."""
    from jointcalc.registry import KINDS

    models = {kind.model.partition(":")[2]: kind.model.partition(":")[0] for kind in KINDS.values()}
    return {**_PLACES, **models}


def __getattr__(name: str) -> Any:
    if name == "__all__":
        return ["__version__", *_places()]
    # what is private or a module of the package is asked for at every import and never offered here
    place = _PLACES.get(name) or (None if name.startswith("_") else _places().get(name))
    if place is not None:
        module = import_module(place)
        # `check` is a package too, which judges when it is called: with the function in its place, the modules in it
        # could not be imported any more
        value = module if place == f"{__name__}.{name}" else getattr(module, name)
        globals()[name] = value
        return value
    raise AttributeError(f"module 'jointcalc' has no attribute '{name}'")


def __dir__() -> list[str]:
    return sorted(["__version__", *_places()])
