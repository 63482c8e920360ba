"""BLAS and LAPACK loaded by themselves are scipy's own, before and after the rest of `scipy.linalg` comes."""

from __future__ import annotations

import subprocess
import sys
from types import SimpleNamespace

import numpy as np
import pytest

from jointcalc import lapack

ALONE = """
import sys
import numpy as np
from jointcalc.lapack import blas, lapack
matrix = np.array([[4.0, 2.0], [2.0, 10.0]])
lower, info = lapack().dpotrf(matrix, lower=1, clean=1)
assert info == 0 and np.allclose(lower @ lower.T, matrix, rtol=1e-12)
assert np.allclose(lower @ blas().dtrsm(1.0, lower, matrix, lower=1), matrix, rtol=1e-12)
assert "scipy.linalg" not in sys.modules and "numpy.f2py" not in sys.modules
import scipy.linalg
assert scipy.linalg.lapack.dpotrf is lapack().dpotrf and scipy.linalg.blas.dtrsm is blas().dtrsm
assert np.allclose(scipy.linalg.solve(matrix, matrix @ [1.0, 2.0]), [1.0, 2.0], rtol=1e-12)
"""


def test_loaded_alone_they_are_those_of_scipy() -> None:
    done = subprocess.run([sys.executable, "-c", ALONE], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr


def test_where_scipy_lays_them_elsewhere_they_come_the_usual_way(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delitem(sys.modules, "scipy.linalg._fblas", raising=False)
    monkeypatch.setattr(lapack, "PathFinder", SimpleNamespace(find_spec=lambda name, path: None))
    found = lapack._compiled("_fblas", "blas")
    assert found.ddot(np.array([1.0, 2.0]), np.array([3.0, 4.0])) == 11.0
