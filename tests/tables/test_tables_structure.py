"""Every table file keeps the format the package relies on."""

from __future__ import annotations

import math
import re

import numpy as np
import pytest
from read_tables import FOLDER, NAMES, header, is_text, numbers, record, rows

STATUS = {"read", "second-hand", "from memory", "common practice", "computed"}
UNITS = {
    "text", "1", "mm", "in", "mm^2", "in^2", "N", "kN", "daN", "kgf", "lbf", "kip", "N*m", "MPa", "ksi", "GPa",
    "kg/m^3", "1/K", "percent", "cycles50", "cycles60", "A", "kA", "g_n", "deg", "s", "kJ/mm", "kg",
}  # fmt: skip
FIELDS = {"title", "document", "clause", "edition", "status", "compared", "note", "key", "interpolate_on", "columns"}
INTERPOLATED = [name for name in NAMES if record(name)["interpolate_on"]]
RANGED = [
    (name, a, b) for name in NAMES for a, b in (("t_from", "t_to"), ("t_over", "t_to")) if {a, b} <= set(header(name))
]


def test_every_table_has_its_record_and_every_record_its_table() -> None:
    # cautions.toml and shop_words.toml are lists of their own, without rows
    records = {path.stem for path in FOLDER.glob("*.toml")} - {"cautions", "shop_words"}
    assert records == set(NAMES)
    assert len(NAMES) >= 60


@pytest.mark.parametrize("name", NAMES)
def test_record_is_complete(name: str) -> None:
    about = record(name)
    assert set(about) == FIELDS
    assert about["title"]
    assert about["document"]
    assert about["status"] in STATUS
    # "read" is a claim: it says what was compared with what
    assert (about["status"] != "read") or about["compared"]
    assert re.fullmatch(r"[a-z0-9_]+", name)


@pytest.mark.parametrize("name", NAMES)
def test_columns_are_documented_and_no_other(name: str) -> None:
    columns = record(name)["columns"]
    assert list(columns) == header(name)
    for column, about in columns.items():
        assert re.fullmatch(r"[A-Za-z][A-Za-z0-9_]*", column)
        assert set(about) == {"unit", "meaning"}
        assert about["unit"] in UNITS, (column, about["unit"])
        assert about["meaning"]


@pytest.mark.parametrize("name", NAMES)
def test_cells_parse(name: str) -> None:
    assert rows(name)
    for r in rows(name):
        assert None not in r, r
        for column, cell in r.items():
            assert cell == cell.strip()
            if not is_text(name, column) and cell:
                # plain decimal numbers only: a unit, a comma or a fraction in a cell is a mistake
                assert re.fullmatch(r"-?\d+(\.\d+)?(e-?\d+)?", cell), (column, cell)
                assert math.isfinite(float(cell))
                assert float(cell) >= 0, (column, cell)


@pytest.mark.parametrize("name", NAMES)
def test_status_words_are_known(name: str) -> None:
    if "status" in header(name):
        assert is_text(name, "status")
        assert {r["status"] for r in rows(name)} <= STATUS


@pytest.mark.parametrize("name", NAMES)
def test_key_is_unique(name: str) -> None:
    key = record(name)["key"]
    assert key
    assert set(key) <= set(header(name))
    keys = [tuple(r[k] for k in key) for r in rows(name)]
    assert len(set(keys)) == len(keys)


@pytest.mark.parametrize("name", INTERPOLATED)
def test_running_column_rises(name: str) -> None:
    t = numbers(name, record(name)["interpolate_on"])
    assert np.all(np.diff(t) > 0)


@pytest.mark.parametrize("name", INTERPOLATED)
def test_nothing_falls_as_sheet_gets_thicker(name: str) -> None:
    # thicker sheet never needs less force, current, time, pitch or edge, and never carries less
    for column in header(name):
        if not is_text(name, column):
            y = numbers(name, column)
            assert np.all(np.diff(y[~np.isnan(y)]) >= 0), column


# printed steps that leave the curve, kept on purpose: (table, column, thickness)
PRINTED_STEPS = {
    ("spot_stainless_setup", "nugget_diameter", 0.3),
    ("spot_stainless_setup", "current_soft", 0.3),
    ("spot_stainless_setup", "weld_time", 1.0),
    ("spot_stainless_setup", "weld_time", 1.2),
}
STRENGTHS = [
    (name, column)
    for name in INTERPOLATED
    for column in header(name)
    if re.search(r"shear|force|^min_|^average_|nugget|slug|edge|weld_time|current", column)
]


@pytest.mark.parametrize("name,column", STRENGTHS)
def test_each_value_lies_near_the_power_law_of_its_neighbours(name: str, column: str) -> None:
    # a slipped digit breaks the smooth growth with thickness that all these charts show
    t, y = numbers(name, record(name)["interpolate_on"]), numbers(name, column)
    keep = ~np.isnan(y)
    t, y = np.log(t[keep]), np.log(y[keep])
    for i in range(1, len(t) - 1):
        if (name, column, round(float(np.exp(t[i])), 4)) in PRINTED_STEPS:
            continue
        between = np.interp(t[i], [t[i - 1], t[i + 1]], [y[i - 1], y[i + 1]])
        assert abs(y[i] - between) < 0.17, (np.exp(t[i]), np.exp(y[i]), np.exp(between))


@pytest.mark.parametrize("name,low,high", RANGED)
def test_ranges_follow_one_another(name: str, low: str, high: str) -> None:
    a, b = numbers(name, low), numbers(name, high)
    ok = ~(np.isnan(a) | np.isnan(b))
    assert np.all(a[ok] < b[ok])
    groups = [tuple(r[k] for k in record(name)["key"] if k not in (low, high)) for r in rows(name)]
    for i in range(len(a) - 1):
        if groups[i] == groups[i + 1]:
            assert a[i + 1] >= b[i], (name, i)


@pytest.mark.parametrize("name", NAMES)
def test_low_ends_stay_under_high_ends(name: str) -> None:
    for column in header(name):
        for low, high in (("_low", "_high"), ("low", "high"), ("_min", "_max")):
            twin = column[: -len(low)] + high
            if column.endswith(low) and twin in header(name) and not is_text(name, column):
                a, b = numbers(name, column), numbers(name, twin)
                ok = ~(np.isnan(a) | np.isnan(b))
                assert np.all(a[ok] <= b[ok]), column


def test_no_words_of_unfinished_work_stand_in_a_table() -> None:
    for path in sorted(p for p in FOLDER.rglob("*") if p.is_file()):
        text = path.read_text(encoding="utf-8")
        assert not re.search(r"\b(TODO|TBD|FIXME|XXX)\b", text), path
