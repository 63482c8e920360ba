"""How a joint is judged.

For every applicable published method: nominal capacity, service demand, the safety factor between
them, and the factor that method requires.  Utilisation is required / actual; above 1 is `over`.
A method outside its range is listed as `outside` with the reason and never dropped in silence.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from math import isfinite
from typing import Any, Literal

from jointcalc.formula.core import Evaluation, Line, Source, pretty
from jointcalc.result.cautions import Caution

Verdict = Literal["ok", "over", "outside", "info"]
Per = Literal["spot", "seam", "weld", "fastener", "group", "member", "mm"]

GAMMA_F = 1.5
"""Partial factor on a service load where the load case states none (EN 1990, the larger of its two)."""

GAMMA_M2 = 1.25
"""Partial factor on resistance in rupture, recommended value of EN 1993-1-3, 2(3)."""

HANDBOOK_FACTOR = 3.0
"""Our default on a handbook minimum strength: common practice, no source; the builder may state his own."""


@dataclass(frozen=True, slots=True)
class Amount:
    """A value with its unit; `value` is None where there is no finite number to give."""

    value: float | None
    unit: str

    def __post_init__(self) -> None:
        if self.value is not None and not isfinite(self.value):
            object.__setattr__(self, "value", None)

    def json(self) -> dict[str, Any]:
        """The contract's shape."""
        return {"value": self.value, "unit": self.unit}

    @property
    def quantity(self) -> Any:
        """The same as a pint quantity of jointcalc's one registry."""
        from jointcalc.quantity.edge import quantity

        return quantity(self.value, self.unit)


@dataclass(frozen=True, slots=True)
class Looked:
    """A value read from a published table, as a step of a working."""

    symbol: str
    unit: str
    value: float
    table: str
    how: str
    source: Source

    def lines(self) -> list[Line]:
        """One line: the table it came from and how it was read."""
        return [
            Line(
                symbol=pretty(self.symbol),
                expression=f"table {self.table}",
                substituted=self.how,
                value=self.value,
                unit=self.unit,
                source=self.source.cited,
            )
        ]


@dataclass(frozen=True, slots=True)
class Stated:
    """A value that was given or chosen, as a step of a working (a share, a default, a direction)."""

    symbol: str
    unit: str
    value: float
    how: str
    source: str = ""

    def lines(self) -> list[Line]:
        """One line: the value and where it comes from."""
        return [Line(pretty(self.symbol), "given", self.how, self.value, self.unit, self.source)]


Trace = tuple[Evaluation | Looked | Stated, ...]


@dataclass(frozen=True, slots=True)
class Method:
    """A published method, declared once: its key, what its number is, and the factor it asks for.

    `basis` says what the nominal capacity is (characteristic value, class mean, acceptance floor,
    design allowable, detailing rule ...); `factor` says in words where the required factor comes from.
    """

    key: str
    title: str
    source: Source
    per: Per
    basis: str
    factor: str

    def judge(
        self,
        *,
        capacity: float,
        demand: float,
        required: float,
        unit: str = "N",
        trace: Iterable[Evaluation | Looked | Stated] = (),
        note: str = "",
        where: str = "",
    ) -> Check:
        """A check that applies: capacity against demand, both of the same thing (`per`) and unit."""
        capacity, demand, required = float(capacity), abs(float(demand)), float(required)
        if not isfinite(capacity) or not isfinite(demand):
            return self.outside("the numbers leave the range in which this can be computed", unit=unit, where=where)
        if demand == 0:
            idle = _join(note, "no load of this kind")
            return self._check("ok", capacity, 0.0, None, required, 0.0, unit, trace, idle, where)
        safety = capacity / demand
        utilisation = required / safety if safety > 0 else None
        verdict: Verdict = "ok" if utilisation is not None and utilisation <= 1 + 1e-9 else "over"
        return self._check(verdict, capacity, demand, safety, required, utilisation, unit, trace, note, where)

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
        text = reason if isinstance(reason, str) else "; ".join(reason)
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
    ) -> Check:
        return Check(
            key=f"{self.key}.{where}" if where else self.key,
            title=f"{self.title} ({where.replace('-', '–')})" if where else self.title,
            source=str(self.source),
            per=self.per,
            capacity=None if capacity is None else Amount(float(capacity), unit),
            demand=None if demand is None else Amount(float(demand), unit),
            safety_factor=safety if safety is None or isfinite(safety) else None,
            required_factor=required,
            utilisation=utilisation if utilisation is None or isfinite(utilisation) else None,
            status=status,
            note=note,
            trace=tuple(trace),
            method=self,
        )


def _join(*parts: str) -> str:
    return "; ".join(part for part in parts if part)


@dataclass(frozen=True, slots=True)
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

    def steps(self) -> list[Line]:
        """The working, printed from the formulas that computed; made only when asked for."""
        return [line for part in self.trace for line in part.lines()]

    @property
    def provenance(self) -> str:
        """The weakest status among the sources used: what a dossier marks."""
        order = ("read", "second-hand", "derivation", "computed", "common practice", "from memory")
        used = [self.method.source.status]
        for part in self.trace:
            if isinstance(part, Evaluation):
                used.append(part.formula.source.status)
            elif isinstance(part, Looked):
                used.append(part.source.status)
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


@dataclass(frozen=True, slots=True)
class Result:
    """A judged joint, member or group.

    `unjudged` names loads that no applicable method covers: the item is `outside` then, whatever else
    holds.  `values` are the named numbers of the contract; `about` is for people (lines of the form
    label -> text) and `model` is what was described, for the drawings and the dossier.
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

    @property
    def judged(self) -> tuple[Check, ...]:
        """The checks that apply and judge (neither `info` nor `outside`)."""
        return tuple(c for c in self.checks if c.status in ("ok", "over"))

    @property
    def worst(self) -> Check | None:
        """The check that governs: the worst that is over, else the strength check nearest its limit."""

        def used(check: Check) -> float:
            return float("inf") if check.utilisation is None else check.utilisation

        over = [c for c in self.checks if c.status == "over"]
        strength = [c for c in self.judged if c.method.basis != DETAILING]
        return max(over or strength, key=used, default=None)

    @property
    def governing(self) -> str | None:
        """Key of the check that governs."""
        worst = self.worst
        return worst.key if worst else None

    @property
    def status(self) -> Literal["ok", "over", "outside"]:
        """`over` if any check is; `outside` when a load has no method that applies; else `ok`."""
        if any(c.status == "over" for c in self.checks):
            return "over"
        strength = [c for c in self.judged if c.method.basis != DETAILING]
        return "ok" if strength and not self.unjudged else "outside"

    def json(self) -> dict[str, Any]:
        """The contract's shape."""
        from jointcalc.version import VERSION

        return {
            "jointcalc": VERSION,
            "kind": self.kind,
            "id": self.id,
            "status": self.status,
            "governing": self.governing,
            "checks": [check.json() for check in self.checks],
            "values": {name: amount.json() for name, amount in self.values.items()},
            "cautions": [c.json() for c in self.cautions],
        }


DETAILING = "detailing rule"
"""Basis of the checks that judge distances, not strength."""


_METHODS: dict[str, Method] = {}


def method(key: str, title: str, source: Source, *, per: Per, basis: str, factor: str) -> Method:
    """Declare a method; its key is stable across releases and listed by `jointcalc tables methods`."""
    if key in _METHODS:
        raise ValueError(f"method {key} is declared twice")
    _METHODS[key] = Method(key, title, source, per, basis, factor)
    return _METHODS[key]


def methods() -> Mapping[str, Method]:
    """All methods of the check modules imported so far, by key."""
    return dict(sorted(_METHODS.items()))
