"""What comes of one item or of a project: checks, values, cautions, what governs, and the verdict."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from math import inf
from typing import TYPE_CHECKING, Any, Literal

from jointcalc.errors import InputError, nearest
from jointcalc.quantity.compare import above
from jointcalc.quantity.sentence import Sentence
from jointcalc.result.cautions import Caution, collect

if TYPE_CHECKING:
    from jointcalc.model.given import Standing
from jointcalc.result.checks import DETAILING, Check
from jointcalc.result.trace import Amount

GRAVEST: Mapping[str, int] = {"over": 2, "outside": 1, "ok": 0}
"""Order in which verdicts govern: what is over is over, whatever else no method covers."""


@dataclass(frozen=True, slots=True)
class Under:
    """What one of several loads does to an item: who gives it in which case, the verdict, and how it has come.

    `values` are named numbers of the result under that load alone, where it has such.
    """

    standing: Standing
    status: Literal["ok", "over", "outside"]
    utilisation: float | None
    governing: str | None
    values: Mapping[str, Amount] = field(default_factory=dict)

    def json(self) -> dict[str, Any]:
        """As it stands among the `loads` of a result."""
        return {
            "from": self.standing.name, "case": self.standing.under, "status": self.status,
            "utilisation": self.utilisation, "governing": self.governing,
            "way": [{"thing": s.thing, "text": str(s.sentence), "source": s.source} for s in self.standing.way],
            **({"values": {name: amount.json() for name, amount in self.values.items()}} if self.values else {}),
        }  # fmt: skip


def _used(check: Check) -> float:
    return inf if check.utilisation is None else check.utilisation


def _bounding(checks: Iterable[Check], used: float) -> Check | None:
    """The edge used the most of the methods that are left on their weak side; None where that is less than `used`.

    What is weaker than a method reaches is no better for it: it is used as much as at the edge, whatever milder method
    is left.
    """
    edges = [c.edge for c in checks if c.edge is not None and c.method.basis != DETAILING]
    found = max(edges, key=lambda c: c.utilisation or 0.0, default=None)
    return found if found is not None and above(found.utilisation or 0.0, used) else None


PAST = "none of its load reaches what is judged here: what supports or holds it takes that, and is to be judged for it"
"""Said of an item that is given a load of which no check has a share."""


def _loaded(check: Check) -> bool:
    """Whether some of a load stands against its capacity."""
    return check.demand is not None and bool(check.demand.value)


@dataclass(frozen=True, slots=True, repr=False)
class Result:
    """A judged joint, member or group.

    `unjudged` names loads that no applicable method covers: the item is `outside` then, whatever else holds; a load
    of which nothing that is judged has a share is named too. `values` are the named numbers of the contract;
    `about` is for people (lines of the form label -> text) and `model` is what was described, for the drawings and
    the dossier. `loads` are the loads it was judged under where they follow from others, the governing one first:
    the checks are those of that load.
    """

    kind: str
    id: str
    checks: tuple[Check, ...]
    values: Mapping[str, Amount]
    cautions: tuple[Caution, ...]
    title: str = ""
    unjudged: tuple[str, ...] = ()
    about: Mapping[str, str] = field(default_factory=dict)
    model: Any = None
    loads: tuple[Under, ...] = ()
    worst: Check | None = field(init=False, compare=False)
    """The check that governs: the worst that is over, else the strength check nearest its limit."""
    status: Literal["ok", "over", "outside"] = field(init=False, compare=False)
    """`over` if any check is; `outside` when a load has no method that applies; else `ok`."""

    def __post_init__(self) -> None:
        over = [c for c in self.checks if c.status == "over"]
        strength = over or [c for c in self.checks if c.status == "ok" and c.method.basis != DETAILING]
        if strength and not over and (bound := _bounding(self.checks, max(map(_used, strength)))):
            object.__setattr__(self, "checks", (*self.checks, bound))
            strength.append(bound)
        unjudged = self.unjudged
        if strength and not unjudged and getattr(self.model, "bears", False) and not any(map(_loaded, strength)):
            unjudged = (PAST,)
        status = "over" if over else "ok" if strength and not unjudged else "outside"
        object.__setattr__(self, "worst", max(strength, key=_used, default=None))
        object.__setattr__(self, "status", status)
        object.__setattr__(self, "unjudged", tuple(Sentence(text) for text in unjudged))
        object.__setattr__(self, "about", {label: Sentence(text) for label, text in self.about.items()})

    def __repr__(self) -> str:
        from jointcalc.result.notebook import result_line

        return result_line(self)

    def _repr_html_(self) -> str:
        from jointcalc.result.notebook import result_html

        return result_html(self)

    def check(self, key: str) -> Check:
        """The check of that key.  Raises InputError with the nearest key when there is none."""
        found = next((c for c in self.checks if c.key == key), None)
        if found is None:
            raise InputError(f"'{key}' is not a check of this result{nearest(key, [c.key for c in self.checks])}")
        return found

    @property
    def judged(self) -> tuple[Check, ...]:
        """The checks that apply and judge (neither `info` nor `outside`)."""
        return tuple(c for c in self.checks if c.status in ("ok", "over"))

    @property
    def applying(self) -> frozenset[str]:
        """Keys of the checks whose methods apply and judge; what only bounds from the edge of a range is none."""
        return frozenset(c.key for c in self.judged if not c.of_edge)

    @property
    def governing(self) -> str | None:
        """Key of the check that governs."""
        worst = self.worst
        return worst.key if worst else None

    def json(self) -> dict[str, Any]:
        """The contract's shape."""
        from jointcalc.version import VERSION

        return {
            "jointcalc": VERSION,
            "kind": self.kind,
            "id": self.id,
            "status": self.status,
            "governing": self.governing,
            **({"unjudged": [str(text) for text in self.unjudged]} if self.unjudged else {}),
            "checks": [check.json() for check in self.checks],
            "values": {name: amount.json() for name, amount in self.values.items()},
            "cautions": [c.json() for c in self.cautions],
            **({"loads": [one.json() for one in self.loads]} if self.loads else {}),
        }


class Results(tuple[Result, ...]):
    """Several judged items in the order given: of a project, or candidates beside one another.

    A place (`results[0]`) or an id (`results["S1"]`) gives one.
    """

    __slots__ = ()

    @property
    def status(self) -> Literal["ok", "over", "outside"]:
        """`over` if any is, else `outside` if any is, else `ok`."""
        words = {r.status for r in self}
        return "over" if "over" in words else "outside" if "outside" in words else "ok"

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """The cautions of all, each once, gravest first."""
        return tuple(collect(c for r in self for c in r.cautions))

    def __getitem__(self, place: Any) -> Any:
        """One result by its place or id, several by a slice.  InputError when no item has that id."""
        if not isinstance(place, str):
            found = super().__getitem__(place)
            return Results(found) if isinstance(place, slice) else found
        one = next((r for r in self if r.id == place), None)
        if one is None:
            raise InputError(f"'{place}' is not the id of one of these{nearest(place, [r.id for r in self])}")
        return one

    def __repr__(self) -> str:
        counts = [f"{n} {word}" for word in ("ok", "over", "outside") if (n := sum(r.status == word for r in self))]
        worst = max((r for r in self if r.worst), key=lambda r: r.worst.utilisation or 0.0, default=None)  # type: ignore[union-attr]
        nearest_limit = "" if worst is None else f"\n nearest its limit: {worst!r}"
        return f"<{len(self)} results: {', '.join(counts) or 'none'}{nearest_limit}>"

    def _repr_html_(self) -> str:
        from jointcalc.result.notebook import results_html

        return results_html(self)


def trust(results: Iterable[Result]) -> str:
    """How many governing results rest on recalled or second-hand values, in one sentence; empty when nothing governs.

    The status of a governing result is that of the weakest source in its working, sums and interactions included.
    """
    weakest = [worst.provenance for r in results if (worst := r.worst) is not None]
    if not weakest:
        return ""
    recalled, second = weakest.count("from memory"), weakest.count("second-hand")
    of = f"of {len(weakest)} governing result{'s' if len(weakest) != 1 else ''}"
    if not recalled and not second:
        return f"None {of} rests on values from memory or at second hand."
    parts = [(n, words) for n, words in ((recalled, "from memory"), (second, "at second hand")) if n]
    first, words = parts[0]
    told = f"{first} {of} {'rests' if first == 1 else 'rest'} on values {words}"
    told += "".join(f", {n} on values {words}" for n, words in parts[1:])
    return f"{told}: compare them with the documents named before relying on them."
