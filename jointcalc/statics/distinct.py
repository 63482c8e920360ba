"""The distinct values of an array, in order."""

from __future__ import annotations

from typing import Any

import numpy as np
import numpy.typing as npt


def distinct(*values: npt.ArrayLike) -> npt.NDArray[Any]:
    """Every value of one or several rows of numbers once, in order.

    Numpy's own `unique` imports its masked arrays when it is asked for the values alone, which takes an eighth of
    the time numpy itself takes; asked for their counts as well it does not.
    """
    return np.unique(np.concatenate([np.asarray(one) for one in values]), return_counts=True)[0]
