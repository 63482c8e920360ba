"""What of a frame can move without resistance: kept still where it only spins, refused and named where it moves."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from jointcalc.errors import InputError
from jointcalc.statics.dissection import Factor, SingularError, at_nodes, own_blocks
from jointcalc.statics.frame_member import NO_ENERGY
from jointcalc.statics.frame_parts import Member, Node, named, place_of

Array = npt.NDArray[np.float64]
Index = npt.NDArray[np.intp]

MOVES = 1e-9
"""Part of a movement that is of places, not of turning, above which something moves and does not only spin."""


def kept_still(
    nodes: Sequence[Node], pairs: Index, stiffness: Array, more: Array,
    held: npt.NDArray[np.bool_], right: Array,
) -> Array:  # fmt: skip
    """`more`, with a stiffness about every line about which a node alone can spin.

    A direction in which a node's own stiffness is nought is one in which no member resists it, because every part of
    a stiffness is nought or more.  Raises InputError where a moment acts about it.
    """
    whole = more + at_nodes(len(nodes), pairs, own_blocks(stiffness))
    size = np.einsum("nii->ni", whole).copy()
    scale = np.where(held | ~(size > 0), 1.0, 1.0 / np.sqrt(np.where(size > 0, size, 1.0)))
    blocks = whole * scale[:, :, None] * scale[:, None, :]
    free = ~held
    blocks = np.where(free[:, :, None] & free[:, None, :], blocks, 0.0)
    six = np.arange(6)
    blocks[:, six, six] = np.where(held, 1.0, blocks[:, six, six])
    turn_size = np.einsum("nii->n", whole[:, 3:, 3:]) / 3
    typical = float(np.max(turn_size, initial=1.0))
    value, shape = np.linalg.eigh(blocks)
    out = more
    big = np.abs(right[:, 3:]).max(initial=0.0) + np.abs(right[:, :3]).max(initial=0.0)
    for n, k in np.argwhere(value < NO_ENERGY):
        way = shape[n, :, k] * scale[n]
        if np.abs(way[:3]).max() * 1.0 > 1e-9 * np.abs(way[3:]).max():
            continue  # it moves, which is a mechanism and no spin
        spin = way[3:] / np.linalg.norm(way[3:])
        if np.abs(spin @ right[n, 3:]).max(initial=0.0) > 1e-9 * big:
            raise InputError(
                f"a moment acts at {place_of(nodes[n], n)} about {direction(spin)}, where every member that "
                "ends there is released against turning; fix an end, or take the moment away",
                field="ends",
            )
        if out is more:
            out = more.copy()
        out[n, 3:, 3:] += np.outer(spin, spin) * (turn_size[n] or typical)
    return out


def direction(way: Array) -> str:
    """A direction in words: an axis where it is one, otherwise its three parts."""
    way = way / np.linalg.norm(way)
    k = int(np.argmax(np.abs(way)))
    if abs(way[k]) > 1 - 1e-6:
        return "xyz"[k]
    shown = " ".join(f"{v:.2f}".replace("-0.00", "0.00") for v in way * np.sign(way[k]))
    return f"the direction {shown}"


def what_moves(
    nodes: Sequence[Node], members: Sequence[Member], at: Array, pairs: Index, stiffness: Array, more: Array,
    held: npt.NDArray[np.bool_], right: Array,
) -> Factor:  # fmt: skip
    """The factor after a pivot was gone: InputError that names what moves, where something does.

    What only spins, without any node moving, is held at one node: that takes no force while no load turns it.
    """
    whole = more + at_nodes(len(nodes), pairs, own_blocks(stiffness))
    size = np.einsum("nii->ni", whole).copy()
    span = float(np.max(np.ptp(at, axis=0), initial=1.0))
    kind = np.repeat([[1.0, span**2]], len(nodes), axis=0).repeat(3, axis=1)
    typical = float(np.median(size[size > 0] / kind[size > 0]))
    size = np.where(size > 0, size, typical * kind)
    more = more.copy()
    rng = np.random.default_rng(0)
    for _ in range(len(nodes) + 1):
        try:
            return Factor(at, pairs, stiffness, more, held)
        except SingularError:
            free = _movements(at, pairs, stiffness, more, held, size, rng)
        if not free.shape[2]:
            return Factor(at, pairs, stiffness, more, held, least=0.0)
        part = np.einsum("nik,ni,nil->kl", free[:, :3], size[:, :3], free[:, :3])
        value, shape = np.linalg.eigh(part)
        if value[-1] > MOVES:
            told = _rigid(at, held, more, size)
            if told:
                raise InputError(f"the whole frame can {told}: too few supports; hold it there", field="support")
            raise InputError(_mechanism(nodes, members, at, pairs, free @ shape[:, value > MOVES]), field="frame")
        work = np.abs(np.einsum("nik,nic->kc", free, right)).max(axis=1, initial=0.0)
        against = np.sqrt(np.sum(right**2 / size[:, :, None], axis=(0, 1)).max(initial=0.0))
        if work.max() > 1e-9 * against:
            raise InputError(_mechanism(nodes, members, at, pairs, free[:, :, [int(np.argmax(work))]]), field="frame")
        n = int(np.argmax(np.linalg.norm(free[:, 3:, 0], axis=1) * np.sqrt(size[:, 3:].mean(axis=1))))
        spin = free[n, 3:, 0] / np.linalg.norm(free[n, 3:, 0])
        more[n, 3:, 3:] += np.outer(spin, spin) * size[n, 3:].mean()  # the others are found again, if any is left
    raise InputError("the frame is a mechanism in more ways than it has nodes; fix member ends", field="frame")


def _movements(
    at: Array, pairs: Index, stiffness: Array, more: Array, held: npt.NDArray[np.bool_], size: Array,
    rng: np.random.Generator,
) -> Array:  # fmt: skip
    """Movements (n, 6, k) that nothing resists, at most eight of them, by inverse iteration."""
    six = np.arange(6)
    shifted = more.copy()
    shifted[:, six, six] += 1e-8 * size
    factor = Factor(at, pairs, stiffness, shifted, held, least=0.0)
    n = len(at)
    root = np.sqrt(size).reshape(-1, 1)
    x = np.where(held[:, :, None], 0.0, rng.normal(size=(n, 6, 8)) / np.sqrt(size)[:, :, None])
    for _ in range(4):
        x = factor.solve(size[:, :, None] * x)
        q, _ = np.linalg.qr(root * x.reshape(6 * n, -1))
        x = (q / root).reshape(n, 6, -1)
    both = np.concatenate([x[pairs[:, 0]], x[pairs[:, 1]]], axis=1)
    K = np.einsum("mik,mil->kl", both, stiffness @ both) + np.einsum("nik,nil->kl", x, more @ x)
    value, shape = np.linalg.eigh(K)
    return np.asarray(x @ shape[:, value < NO_ENERGY])


def _rigid(at: Array, held: npt.NDArray[np.bool_], more: Array, size: Array) -> str:
    """How the frame as a whole can move on its supports; empty where it cannot."""
    middle = at.mean(axis=0)
    span = float(np.max(np.ptp(at, axis=0), initial=1.0))
    modes = np.zeros((6, len(at), 6))
    for k in range(3):
        modes[k, :, k] = 1.0
        turn = np.zeros(3)
        turn[k] = 1.0 / span
        modes[3 + k, :, 3:] = turn
        modes[3 + k, :, :3] = np.cross(turn, at - middle)
    stiff = float(np.median(size[:, :3]))
    resist = np.where(held, stiff * np.array([1.0, 1.0, 1.0, span**2, span**2, span**2]), np.einsum("nii->ni", more))
    flat = modes.reshape(6, -1)
    K = (flat * resist.ravel()) @ flat.T
    value, shape = np.linalg.eigh(K)
    free = shape[:, value < 1e-9 * max(float(value[-1]), stiff * 1e-9)].T
    places = np.einsum("ka,ani->kni", free, modes[:, :, :3])
    moves = np.linalg.svd(places.reshape(len(free), -1) if len(free) else np.zeros((1, 1)), compute_uv=False)
    if not len(free) or moves[0] < 1e-6:
        return ""  # it stands, or only spins about the line it lies on
    words = []
    project = free.T @ free
    for k, word in enumerate(("slide along x", "slide along y", "slide along z")):
        if project[k, k] > 1 - 1e-6:
            words.append(word)
    left = len(free) - len(words)
    for k, word in enumerate(("turn about a line along x", "turn about a line along y", "turn about a line along z")):
        if left and np.linalg.norm(free[:, 3 + k]) > 1e-3:
            words.append(word)
            left -= 1
    if not words:
        words = ["move as one piece"]
    return ", and ".join([", ".join(words[:-1]), words[-1]]) if len(words) > 1 else words[0]


def _mechanism(nodes: Sequence[Node], members: Sequence[Member], at: Array, pairs: Index, free: Array) -> str:
    """What moves without resistance, and how, for a builder; `free` (n, 6, k) are such movements."""
    move, turn = (np.sqrt(np.sum(free[:, part] ** 2, axis=(1, 2))) for part in (slice(3), slice(3, 6)))
    reach = np.linalg.norm(at[pairs[:, 1]] - at[pairs[:, 0]], axis=1)
    moves = move.max() > 1e-6 * turn.max() * reach.max()
    size = move if moves else turn
    n = int(np.argmax(size))
    ways, much, _ = np.linalg.svd(free[n, :3] if moves else free[n, 3:], full_matrices=False)
    ways = ways[:, much > 1e-6 * much[0]]
    words = ["xyz"[k] for k in range(3) if np.linalg.norm(ways[k]) > 1 - 1e-6] or [direction(ways[:, 0])]
    way = f"can {'move along' if moves else 'turn about'} {' and '.join(words)}"
    moving = size > 1e-3 * size.max()
    names = list(dict.fromkeys(named(one, k) for k, one in enumerate(members) if moving[one.start] or moving[one.end]))
    with_it = ", ".join(names[:6]) + (f" and {len(names) - 6} more" if len(names) > 6 else "")
    return (
        f"the frame is a mechanism: {place_of(nodes[n], n)} {way} and nothing resists it; {with_it} "
        f"{'moves' if len(names) == 1 else 'move'} with it; add a support or a member, or fix an end that is released"
    )
