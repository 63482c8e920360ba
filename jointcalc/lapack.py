"""BLAS and LAPACK as scipy brings them, without the rest of `scipy.linalg`.

Importing `scipy.linalg` takes ten times as long as its two compiled modules, which need nothing of it: numpy.f2py and
some eighty modules come along.  They are therefore loaded alone, under their own names, so that whoever imports
`scipy.linalg` later meets the very same; where scipy does not lay them beside it, they come the usual way.
"""

from __future__ import annotations

import sys
from functools import cache
from importlib import import_module
from importlib.machinery import PathFinder
from importlib.util import module_from_spec
from pathlib import Path
from typing import Any


@cache
def blas() -> Any:
    """The functions of `scipy.linalg.blas`."""
    return _compiled("_fblas", "blas")


@cache
def lapack() -> Any:
    """The functions of `scipy.linalg.lapack`."""
    return _compiled("_flapack", "lapack")


def _compiled(name: str, public: str) -> Any:
    import scipy

    whole = f"scipy.linalg.{name}"
    if whole not in sys.modules:
        spec = PathFinder.find_spec(whole, [str(Path(folder, "linalg")) for folder in scipy.__path__])
        if spec is None or spec.loader is None:
            return import_module(f"scipy.linalg.{public}")
        sys.modules[whole] = module_from_spec(spec)
        spec.loader.exec_module(sys.modules[whole])
    return sys.modules[whole]
