"""First natural frequency of a straight beam of constant stiffness, with carried masses.  Units: N, mm, t, s."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import inf, isfinite, pi

import numpy as np

from jointcalc.errors import InputError
from jointcalc.formula.beam import (
    NATURAL_FREQUENCY,
)
from jointcalc.statics.beam import element_stiffness, nodes_of
from jointcalc.statics.beam_model import (
    SNAP,
    Array,
    Number,
    PointMass,
    Support,
    check_length,
    check_position,
    check_stiffness,
    check_supports,
)
from jointcalc.statics.polynomials import bracketed


def frequency_1(
    length: float,
    EI: Number,
    supports: Sequence[Support],
    mass_per_length: Number,
    masses: Sequence[PointMass] = (),
) -> Array:
    """First natural frequency [Hz] of bending vibration; arrays of EI [N·mm²] or mass [t/mm] broadcast.

    A single span held vertically at both ends without point masses is found from its characteristic
    equation; everything else from a consistent-mass finite-element model fine enough for 1e-5.
    Raises InputError as `solve` does, and when nothing has mass.
    """
    check_length(length)
    ordered = check_supports(length, supports)
    stiffness = check_stiffness(EI)
    mass = np.asarray(mass_per_length, dtype=float)
    if not np.all(np.isfinite(mass) & (mass >= 0)):
        raise InputError("the mass per length must be zero or more", field="mass")
    for lump in masses:
        check_position(lump.at, length, "the mass", "mass")
        if not (isfinite(lump.mass) and lump.mass >= 0):
            raise InputError("a carried mass must be zero or more", field="mass")
    heavy = [lump for lump in masses if lump.mass > 0]
    if not (heavy or np.all(mass > 0)):
        raise InputError("a beam without mass has no natural frequency; give its mass per length", field="mass")
    shape = np.broadcast_shapes(stiffness.shape, mass.shape)
    EI_n = np.broadcast_to(stiffness, shape).reshape(-1)
    m_n = np.broadcast_to(mass, shape).reshape(-1)

    springs = [k for s in ordered for k in (s.vertical, s.rotation) if k > 0 and isfinite(k)]
    ends_only = (
        len(ordered) == 2
        and all(s.vertical == inf for s in ordered)
        and ordered[0].at <= SNAP * length
        and ordered[1].at >= length * (1 - SNAP)
    )
    if ends_only and not heavy:
        varied = EI_n if springs else EI_n[:1]  # without springs the parameter is one for all
        beta = frequency_parameter(ordered[0].rotation * length / varied, ordered[1].rotation * length / varied)
        one_span: Array = np.asarray(NATURAL_FREQUENCY(beta=beta, L=length, EI=EI_n, m=m_n))
        return one_span.reshape(shape)
    if not springs and not heavy:
        one = _frequency_fe(length, np.ones(1), ordered, np.ones(1), ())
        scaled: Array = one[0] * np.sqrt(EI_n / m_n)
        return scaled.reshape(shape)
    return _frequency_fe(length, EI_n, ordered, m_n, heavy).reshape(shape)


def frequency_parameter(kappa_1: Number, kappa_2: Number) -> Array:
    """Frequency parameter of a uniform span held at both ends with rotational springs.

    kappa = k·L/EI of either end, 0 pinned, inf fixed.  Least root of the characteristic equation
    kappa_1 kappa_2 (1 - cos cosh) + (kappa_1 + kappa_2) beta (sin cosh - cos sinh) + 2 beta² sin sinh = 0
    (our derivation from the dynamic stiffness of the pinned beam), which lies between pi and 4.7300.
    """
    one, two = np.broadcast_arrays(np.asarray(kappa_1, dtype=float), np.asarray(kappa_2, dtype=float))

    def fixity(kappa: Array) -> Array:
        with np.errstate(invalid="ignore"):
            held: Array = np.where(np.isinf(kappa), 1.0, kappa / (1.0 + kappa))
        return held

    r_1, r_2 = fixity(one), fixity(two)
    both, mixed, loose = r_1 * r_2, r_1 * (1 - r_2) + r_2 * (1 - r_1), (1 - r_1) * (1 - r_2)

    def f(x: Array) -> Array:
        sn, cs, sh, ch = np.sin(x), np.cos(x), np.sinh(x), np.cosh(x)
        out: Array = -(both * (1 - cs * ch) + mixed * x * (sn * ch - cs * sh) + loose * 2 * x**2 * sn * sh)
        return out

    def df(x: Array) -> Array:
        sn, cs, sh, ch = np.sin(x), np.cos(x), np.sinh(x), np.cosh(x)
        out: Array = -(
            both * (sn * ch - cs * sh)
            + mixed * (sn * ch - cs * sh + 2 * x * sn * sh)
            + loose * (4 * x * sn * sh + 2 * x**2 * (cs * sh + sn * ch))
        )
        return out

    # pi and 4.73004 widened by a hair, so that a root at either end has a sign on both sides
    return bracketed(f, df, np.full(one.shape, pi * (1 - 1e-9)), np.full(one.shape, 4.730040745))


def _frequency_fe(
    length: float, EI: Array, supports: Sequence[Support], mass: Array, lumps: Sequence[PointMass]
) -> Array:
    """First frequency [Hz] from Hermite elements with consistent mass, shape (n,)."""
    fixed_nodes = list(nodes_of(length, supports))
    coarse = length / 24
    for lump in lumps:  # a node under each mass, unless one is so near that it makes no difference
        if min(abs(lump.at - x) for x in fixed_nodes) > coarse / 100:
            fixed_nodes.append(lump.at)
    fixed_nodes.sort()
    pieces = [np.linspace(a, b, max(2, int(np.ceil((b - a) / coarse))) + 1)[:-1] for a, b in pairwise(fixed_nodes)]
    nodes = np.concatenate([*pieces, np.array([length])])
    dofs = 2 * len(nodes)
    K = np.zeros((dofs, dofs))
    M = np.zeros((dofs, dofs))
    for e, size in enumerate(np.diff(nodes)):
        h = float(size)
        part = slice(2 * e, 2 * e + 4)
        K[part, part] += element_stiffness(h)
        M[part, part] += (h / 420) * np.array(
            [
                [156, 22 * h, 54, -13 * h],
                [22 * h, 4 * h**2, 13 * h, -3 * h**2],
                [54, 13 * h, 156, -22 * h],
                [-13 * h, -3 * h**2, -22 * h, 4 * h**2],
            ]
        )
    carried = np.zeros((dofs, dofs))
    for lump in lumps:
        e = int(np.clip(np.searchsorted(nodes, lump.at, side="right") - 1, 0, len(nodes) - 2))
        h = float(nodes[e + 1] - nodes[e])
        z = (lump.at - float(nodes[e])) / h
        shape = np.array([1 - 3 * z**2 + 2 * z**3, h * z * (1 - z) ** 2, 3 * z**2 - 2 * z**3, h * z**2 * (z - 1)])
        part = slice(2 * e, 2 * e + 4)
        carried[part, part] += lump.mass * np.outer(shape, shape)
    spring = np.zeros(dofs)
    for s in supports:
        node = int(np.argmin(np.abs(nodes - s.at)))
        spring[2 * node], spring[2 * node + 1] = s.vertical, s.rotation
    keep = np.flatnonzero(np.isfinite(spring))
    h0 = length / 24
    scale = np.where(keep % 2 == 0, 1.0, 1.0 / h0)
    K, M, carried = (scale[:, None] * X[np.ix_(keep, keep)] * scale for X in (K, M, carried))
    k_s = np.diag(scale**2 * spring[keep])
    out = np.empty(len(EI))
    chunk = 512
    for first in range(0, len(EI), chunk):
        part = slice(first, first + chunk)
        ei = EI[part, None, None]
        # dividing by EI keeps the numbers near one; the greatest root of M against K is 1/omega²
        lower = np.linalg.cholesky(K * h0**3 + k_s * h0**3 / ei)
        inverse = np.linalg.inv(lower)
        total = M * mass[part, None, None] + carried
        roots = np.linalg.eigvalsh(inverse @ total @ np.swapaxes(inverse, -1, -2))
        out[part] = np.sqrt(EI[part] / (roots[:, -1] * h0**3)) / (2 * pi)
    return out
