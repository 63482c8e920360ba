"""What a method asks for, as numbers; the words are printed from them, so that no factor is typed twice."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import isclose, prod

from jointcalc.formula.safety import Safety


@dataclass(frozen=True, slots=True)
class Factor:
    """The factor a method asks for: `parts` on the side of the resistance, times the load factor or not.

    One part is the factor itself; several are those of the clause's branches, of which a check takes one.  Without
    parts the builder, a table or another check states it, and only its words stand here.
    """

    words: str
    parts: tuple[float, ...] = ()
    times_load: bool = False

    def __str__(self) -> str:
        return self.words

    def required(self, load_factor: float | None = None) -> float:
        """The required factor [1] of a method with one part; `load_factor` is that of the load case.

        Raises ValueError where the parts leave a choice, or where a factor of the load is asked for and none is given.
        """
        if len(self.parts) != 1:
            raise ValueError(f"'{self.words}' leaves a choice: state the required factor of this check")
        if not self.times_load:
            return self.parts[0]
        if load_factor is None:
            raise ValueError(f"'{self.words}' holds the load factor, and none was passed")
        return self.parts[0] * load_factor

    def admits(self, required: float, load_factor: float) -> bool:
        """Whether a check may ask for `required`: one of the parts, with the load factor where it belongs to it."""
        of_load = load_factor if self.times_load else 1.0
        return not self.parts or any(isclose(required, part * of_load, rel_tol=1e-9) for part in self.parts)


def omega(*parts: float | Safety, words: str = "Ω = {}") -> Factor:
    """Omega of an American clause; with several, `words` has a place for each, in their order."""
    values = tuple(part.Omega if isinstance(part, Safety) else part for part in parts)
    return Factor(words.format(*(f"{value:.2f}" for value in values)), values)


def partial(symbol: str, *parts: float, words: str = "{} × γ_F") -> Factor:
    """A partial factor on the resistance times that of the load; several where the metal or the mode picks one."""
    return Factor(words.format(symbol), parts, times_load=True)


def fixed(value: float, words: str = "{:g}") -> Factor:
    """A number that stands for itself whatever the load case states."""
    return Factor(words.format(value), (value,))


def product(parts: Iterable[float]) -> Factor:
    """A product of fixed numbers, printed one by one."""
    parts = tuple(parts)
    return Factor(" × ".join(f"{part:g}" for part in parts), (prod(parts),))
