"""How a joint is judged.

For every applicable published method: nominal capacity, service demand, the safety factor between
them, and the factor that method requires.  Utilisation is required / actual; above 1 is `over`.
A method outside its range is listed as `outside` with the reason and never dropped in silence.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from math import isfinite
from typing import Any, Literal

from jointcalc.formula.branch import SLACK
from jointcalc.formula.comparisons import METHODS
from jointcalc.formula.core import Evaluation, Line, Source, Status
from jointcalc.quantity.sentence import Sentence, joined
from jointcalc.result.factor import Factor
from jointcalc.result.trace import Amount, Looked, Stated, Trace

Verdict = Literal["ok", "over", "outside", "info"]
Per = Literal["spot", "seam", "weld", "fastener", "group", "member", "mm"]

EDGE_KEY, EDGE_TITLE = ".edge", ", at the edge of its range"
"""What is added to the key and the title of a check of the edge of its method's range."""

Bound = Literal["strength", "least", "greatest", "information"]
"""What a method's numbers are to each other.

`strength`: capacity against demand.  `least`: what is there (`capacity`) must be at least what is asked (`demand`).
`greatest`: what is there (`demand`) may be at most the limit (`capacity`).  `information`: judges nothing.
"""


SIDES: Mapping[Bound, tuple[Literal["capacity", "demand"], Literal["capacity", "demand"], str]] = {
    "least": ("capacity", "demand", "at least"),
    "greatest": ("demand", "capacity", "at most"),
    "strength": ("capacity", "demand", "needs"),
    "information": ("capacity", "demand", ""),
}
"""Bound -> (which number is there, which is the limit, the word between them): every view prints a rule from it."""


@dataclass(frozen=True, slots=True)
class Method:
    """A published method, declared once: its key, what its number is, and the factor it asks for.

    `basis` says what the nominal capacity is (characteristic value, class mean, acceptance floor,
    design allowable, detailing rule ...); `factor` is what it asks for, as numbers with the words printed from them.
    `bound` says what capacity and demand are to each other, `covers` which parts of the load it judges
    (`"shear"`, `"peel"`, `"along"` ...): a load is covered part by part, see `uncovered`.
    """

    key: str
    title: str
    source: Source
    per: Per
    basis: str
    factor: Factor
    bound: Bound = "strength"
    covers: frozenset[str] = frozenset()
    cited: str = field(init=False, repr=False, compare=False)
    """Document and clause, as every check of it says them."""

    def __post_init__(self) -> None:
        object.__setattr__(self, "title", Sentence(self.title))
        object.__setattr__(self, "cited", str(self.source))

    def under(self, source: Source) -> Method:
        """The same method where another clause says it, as a rivet's table beside a bolt's."""
        return replace(self, source=source)

    def judge(
        self,
        *,
        capacity: float,
        demand: float,
        required: float | None = None,
        load_factor: float | None = None,
        unit: str = "N",
        trace: Iterable[Evaluation | Looked | Stated] = (),
        note: str = "",
        where: str = "",
        covers: Iterable[str] | None = None,
    ) -> Check:
        """A check that applies: capacity against demand, both of the same thing (`per`) and unit.

        The required factor is the method's own with the load case's `load_factor`; `required` states it where the
        method leaves a choice (a branch, the builder's factor).  Raises ValueError when neither settles it.
        `covers` narrows what the method covers to what this check judged.
        """
        required = self.factor.required(load_factor) if required is None else float(required)
        capacity, demand = float(capacity), abs(float(demand))
        verdict, safety, utilisation = _verdict(capacity, demand, required)
        if verdict == "outside":
            return self.outside("the numbers leave the range in which this can be computed", unit=unit, where=where)
        if safety is None:
            note = _join(note, "no load of this kind")
        return self._check(verdict, capacity, demand, safety, required, utilisation, unit, trace, note, where, covers)

    def at_most(
        self,
        reason: str | Iterable[str],
        *,
        capacity: float,
        demand: float,
        required: float | None = None,
        load_factor: float | None = None,
        unit: str = "N",
        trace: Iterable[Evaluation | Looked | Stated] = (),
        where: str = "",
        covers: Iterable[str] | None = None,
    ) -> Check:
        """A method left on its weak side: the real strength is at most `capacity`, its value at the edge of its range.

        `over` when even that is too little; else `outside` with the reason, for it says nothing in favour; where
        nothing that judges is used as much, the edge itself governs (`Result`).
        """
        text = reason if isinstance(reason, str) else joined("; ", reason)
        required = self.factor.required(load_factor) if required is None else float(required)
        capacity, demand = float(capacity), abs(float(demand))
        verdict, safety, utilisation = _verdict(capacity, demand, required)
        if verdict == "over":
            note = f"{text}; weaker than the method reaches, and too weak even at the edge of its range"
            return self._check(
                "over", capacity, demand, safety, required, utilisation, unit, trace, note, where, covers
            )
        edge = None
        if verdict == "ok":
            note = f"{text}; weaker than the method reaches, and no better than this"
            edge = self._check(
                "ok", capacity, demand, safety, required, utilisation, unit, trace, note, where, (), of_edge=True
            )
        return self._check(
            "outside", None, demand, None, None, None, unit, trace, text, where,
            used_at_least=_finite(utilisation), edge=edge,
        )  # fmt: skip

    def outside(
        self,
        reason: str | Iterable[str],
        *,
        demand: float | None = None,
        unit: str = "N",
        trace: Iterable[Evaluation | Looked | Stated] = (),
        where: str = "",
    ) -> Check:
        """A method that does not apply, with the reason."""
        text = reason if isinstance(reason, str) else joined("; ", reason)
        shown = None if demand is None else abs(float(demand))
        return self._check("outside", None, shown, None, None, None, unit, trace, text, where)

    def info(
        self,
        *,
        capacity: float | None = None,
        demand: float | None = None,
        unit: str = "N",
        trace: Iterable[Evaluation | Looked | Stated] = (),
        note: str = "",
        where: str = "",
    ) -> Check:
        """Something worth knowing that does not judge the joint."""
        safety = capacity / abs(demand) if capacity is not None and demand else None
        return self._check("info", capacity, demand, safety, None, None, unit, trace, note, where)

    def _check(
        self,
        status: Verdict,
        capacity: float | None,
        demand: float | None,
        safety: float | None,
        required: float | None,
        utilisation: float | None,
        unit: str,
        trace: Iterable[Evaluation | Looked | Stated],
        note: str,
        where: str,
        covers: Iterable[str] | None = None,
        used_at_least: float | None = None,
        edge: Check | None = None,
        of_edge: bool = False,
    ) -> Check:
        key = f"{self.key}.{where}" if where else self.key
        title = f"{self.title} ({where.replace('-', '–')})" if where else self.title
        return Check(
            key=key + EDGE_KEY if of_edge else key,
            title=title + EDGE_TITLE if of_edge else title,
            source=self.cited,
            per=self.per,
            capacity=None if capacity is None else Amount(float(capacity), unit),
            demand=None if demand is None else Amount(float(demand), unit),
            safety_factor=_finite(safety),
            required_factor=required,
            utilisation=_finite(utilisation),
            status=status,
            note=note,
            trace=tuple(trace),
            method=self,
            covers=self.covers if covers is None else frozenset(covers),
            used_at_least=used_at_least,
            edge=edge,
            of_edge=of_edge,
        )


def _verdict(capacity: float, demand: float, required: float) -> tuple[Verdict, float | None, float | None]:
    """(verdict, safety factor, utilisation) of two numbers; `outside` where one of them is not finite."""
    if not isfinite(capacity) or not isfinite(demand):
        return "outside", None, None
    if demand == 0:
        return "ok", None, 0.0
    safety = capacity / demand
    utilisation = required / safety if safety > 0 else None
    return "ok" if utilisation is not None and utilisation <= 1 + SLACK else "over", safety, utilisation


def _finite(value: float | None) -> float | None:
    return value if value is None or isfinite(value) else None


def _join(*parts: str) -> str:
    return joined("; ", [part for part in parts if part])


@dataclass(frozen=True, slots=True, repr=False)
class Check:
    """One method's verdict on one joint."""

    key: str
    title: str
    source: str
    per: str
    capacity: Amount | None
    demand: Amount | None
    safety_factor: float | None
    required_factor: float | None
    utilisation: float | None
    status: Verdict
    note: str
    trace: Trace
    method: Method
    covers: frozenset[str] = frozenset()
    used_at_least: float | None = None
    """Of a check left on its weak side (`at_most`) that says nothing: the utilisation is no less than this."""
    edge: Check | None = field(default=None, repr=False, compare=False)
    """Of such a check: that of the edge of its range, which stands beside it where nothing else is used as much."""
    of_edge: bool = False
    """Whether it is such an edge: no method applies by it, and its capacity is no strength that is known."""
    goes_on: bool = False
    """Whether it was followed up to `capacity` only and goes on beyond: no more than `utilisation` is used."""

    def __post_init__(self) -> None:
        object.__setattr__(self, "title", Sentence(self.title))
        object.__setattr__(self, "note", Sentence(self.note))

    def __repr__(self) -> str:
        from jointcalc.result.notebook import check_line

        return check_line(self)

    def at_its_edge(self) -> Check:
        """The same said of the edge of its method's range, under a key of its own."""
        return replace(self, key=self.key + EDGE_KEY, title=self.title + EDGE_TITLE, covers=frozenset(), of_edge=True)

    def steps(self) -> list[Line]:
        """The working, printed from the formulas that computed; made only when asked for."""
        return [line for part in self.trace for line in part.lines()]

    @property
    def provenance(self) -> Status:
        """The weakest status among the sources used: what a dossier marks."""
        order: tuple[Status, ...] = (
            "read", "second-hand", "derivation", "computed", "common practice", "from memory",
        )  # fmt: skip
        used = [self.method.source.status]
        for part in self.trace:
            if isinstance(part, Evaluation):
                used.append(part.formula.source.status)
            elif isinstance(part, Looked):
                used.append(part.source.status)
            elif part.status is not None:
                used.append(part.status)
        return max(used, key=order.index)

    def json(self) -> dict[str, Any]:
        """The contract's shape."""
        steps = []
        for line in self.steps():
            value = Amount(line.value, line.unit)
            steps.append(
                {
                    "symbol": line.symbol,
                    "expression": line.expression,
                    "substituted": line.substituted,
                    "value": value.value,
                    "unit": line.unit,
                    "source": line.source,
                }
            )
        return {
            "key": self.key,
            "title": self.title,
            "source": self.source,
            "per": self.per,
            "capacity": self.capacity.json() if self.capacity else None,
            "demand": self.demand.json() if self.demand else None,
            "safety_factor": self.safety_factor,
            "required_factor": self.required_factor,
            "utilisation": self.utilisation,
            "status": self.status,
            "note": self.note,
            "steps": steps,
        }


DETAILING = "detailing rule"
"""Basis of the checks that judge distances, not strength."""
MAY_CARRY = "greatest service load by itself"
"""Basis of the checks of an item without a load: what it may carry in one direction."""
_METHODS: dict[str, Method] = {}


def method(
    key: str, title: str, source: Source, *, per: Per, basis: str, factor: Factor | str,
    bound: Bound | None = None, covers: Iterable[str] = (),
) -> Method:  # fmt: skip
    """Declare a method; its key is stable across releases and listed by `jointcalc tables methods`.

    A factor in words alone is one that the builder, a table or another check states.
    A detailing rule must say whether it bounds from below or above: a rule printed backwards is worse than none.
    Raises ValueError when it does not, or when the key is taken.
    """
    if key in _METHODS:
        raise ValueError(f"method {key} is declared twice")
    if bound is None and basis == DETAILING:
        raise ValueError(f"method {key} is a detailing rule and must say its bound: least, greatest or information")
    source = source.compared(METHODS.get(key))
    asks = Factor(factor) if isinstance(factor, str) else factor
    _METHODS[key] = Method(key, title, source, per, basis, asks, bound or "strength", frozenset(covers))
    return _METHODS[key]


@dataclass(frozen=True, slots=True)
class Need:
    """A part of the load that some method has to cover, and the sentence for the reader when none does.

    `where` narrows it to one place (the sheet of a stack, the end of a member) as given to the checks.
    """

    part: str
    sentence: str
    where: str = ""


def uncovered(needs: Iterable[Need], checks: Iterable[Check]) -> tuple[str, ...]:
    """The sentences of those parts of the load that no check judged: what makes an item `outside`.

    A load is covered part by part and place by place, never by "some method has a use".  A part counts as judged where
    a check that covers it carried a demand: one that found no load of its kind covers nothing.
    """
    judged = [c for c in checks if c.status in ("ok", "over") and c.demand is not None and c.demand.value]
    return tuple(
        dict.fromkeys(
            need.sentence.removesuffix(": ")  # a method that is over beyond its range gives no reason
            for need in needs
            if not any(
                need.part in c.covers and (not need.where or c.key == f"{c.method.key}.{need.where}") for c in judged
            )
        )
    )


def methods() -> Mapping[str, Method]:
    """All methods of the check modules imported so far, by key."""
    return dict(sorted(_METHODS.items()))
