"""Grades of sheet: what a design may assume of them, and how sure that is."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from jointcalc.errors import InputError
from jointcalc.quantity.sentence import as_printed, either, mm
from jointcalc.tables.store import Row, load


@dataclass(frozen=True, slots=True)
class Material:
    """What a design may use of a grade, in MPa and t/mm^3.

    `f_y` and `f_u` are the yield and tensile strengths to compute with (None where the standard
    gives none that a design may use); `f_y_basis` says what the yield is: minimum, maximum only (an
    assumable figure is used then), typical, estimated, expected, none.
    """

    grade: str
    standard: str
    condition: str
    family: str
    coated: bool
    f_y: float | None
    f_u: float | None
    f_y_basis: str
    f_y_max: float | None
    elongation: float | None
    E: float
    nu: float
    density: float
    f_y_haz: float | None
    f_u_haz: float | None
    basis: str
    status: str
    note: str

    @property
    def guaranteed(self) -> bool:
        """Whether the standard guarantees the values (a drawing grade's assumable yield counts)."""
        return self.basis in ("specification", "characteristic") and self.f_y_basis not in ("typical", "none")


def _key(text: str) -> str:
    return "".join(text.lower().split())


@lru_cache(maxsize=1)
def _by_name() -> dict[str, tuple[Row, ...]]:
    found: dict[str, list[Row]] = {}
    for row in load("materials").rows:
        for name in (row["grade"], *row["aliases"].split(";")):
            if name:
                rows = found.setdefault(_key(name), [])
                if not rows or rows[0]["grade"] == row["grade"]:
                    rows.append(row)
    return {name: tuple(rows) for name, rows in found.items()}


def grades() -> list[str]:
    """Names of all grades, as the table lists them."""
    return list(dict.fromkeys(row["grade"] for row in load("materials").rows))


@lru_cache(maxsize=256)
def material(grade: str, t: float | None = None) -> Material:
    """The grade's values for a sheet of thickness `t` [mm].

    Raises InputError when the grade is unknown (near names are listed) or the thickness is outside
    what its standard covers in the table.
    """
    rows = _by_name().get(_key(grade))
    if not rows:
        from jointcalc.tables.trade import hint

        raise InputError(
            f"'{grade}' is not a grade jointcalc knows{hint('grade', grade, grades(), table='materials')} "
            "(`jointcalc tables show materials` lists them, with `--only WORDS` some of them)",
            field="grade",
        )
    for row in rows:
        low, high = row.number("t_min"), row.number("t_max")
        if t is None or ((low is None or t >= low - 1e-9) and (high is None or t <= high + 1e-9)):
            return _material(row)
    spans = "; ".join(_span(r) for r in rows)
    raise InputError(
        f"{rows[0]['grade']} is tabulated for {spans}; this sheet is {mm(t or 0.0):.4g}", field="thickness"
    )


def _material(row: Row) -> Material:
    def need(column: str) -> float:
        return row.need(column)

    return Material(
        grade=row["grade"],
        standard=row["standard"],
        condition=row["condition"],
        family=row["family"],
        coated=row["coating"] == "zinc",
        f_y=row.number("f_y_assumable"),
        f_u=row.number("f_u_min"),
        f_y_basis=row["f_y_basis"],
        f_y_max=row.number("f_y_max"),
        elongation=row.number("elongation"),
        E=need("E"),
        nu=need("nu"),
        density=need("density"),
        f_y_haz=row.number("f_y_haz"),
        f_u_haz=row.number("f_u_haz"),
        basis=row["basis"],
        status=row.status,
        note=row["note"],
    )


def _span(row: Row) -> str:
    low, high = row.number("t_min") or 0.0, row.number("t_max")
    if high is None:
        return either(f"{row['t_min'] or '0'} to any mm", f"{mm(low).to('inch')} and more")
    return as_printed(f"{row['t_min'] or '0'} to {row['t_max']} mm", low, " to ", high, unit="mm")
