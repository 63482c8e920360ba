"""Resistance spot welds: printed charts through the seam check, sizes, and the recalled formulas' own arithmetic."""

from __future__ import annotations

from typing import Any

from jointcalc.check.seam import check_seam
from jointcalc.formula import spot_aisi, spot_d8_1, spot_en1993, spot_models, spot_size
from jointcalc.model.fields import build
from jointcalc.model.seam import SpotSeam
from jointcalc.result import Result
from jointcalc.tables.store import load

from ..case import Case  # noqa: TID252  (a package under pytest and under -m alike)

LBF = 4.4482216152605
KIP = 1000 * LBF
KGF = 9.80665
KIND = "spot weld"


def seam(t: str, grade: str = "DC04", **more: Any) -> Result:
    """Two equal sheets, wide flange, close look-up of one printed row."""
    sheet = {"thickness": t, "grade": grade}
    data = {
        "sheets": [sheet, sheet], "weld_diameter": "target", "pitch": "150 mm", "length": "1500 mm", "edge": "40 mm",
        "lap": "90 mm", "shear": "100 N", **more,
    }  # fmt: skip
    return check_seam(build(SpotSeam, data))


def capacity(result: Result, key: str) -> float:
    found = next(c for c in result.checks if c.key == key)
    assert found.capacity is not None, found.note
    assert found.capacity.value is not None
    return found.capacity.value


def demand(result: Result, key: str) -> float:
    found = next(c for c in result.checks if c.key == key).demand
    assert found is not None
    assert found.value is not None
    return found.value


def value(result: Result, name: str) -> float:
    found = result.values[name].value
    assert found is not None
    return found


# t, fused zone in; shear lb, spacing in, overlap in, force lb, cycles, current A
OPTIMUM = {
    "0.021": ("0.139", "300 0.375 0.4375 244 6 6500"),
    "0.031": ("0.161", "530 0.5 0.4375 326 8 8000"),
    "0.040": ("0.181", "812 0.75 0.5 412 10 8800"),
    "0.050": ("0.210", "1195 0.875 0.5625 554 14 9600"),
    "0.062": ("0.231", "1717 1.0 0.625 670 18 10600"),
    "0.078": ("0.268", "2365 1.125 0.6875 903 25 11800"),
    "0.094": ("0.304", "3054 1.25 0.75 1160 34 13000"),
    "0.109": ("0.338", "3672 1.3125 0.8125 1440 45 14200"),
    "0.125": ("0.375", "4300 1.5 0.875 1760 60 15600"),
}


def optimum(t: str, zone: str) -> tuple[float, ...]:
    found = seam(f"{t} in", weld_diameter=f"{zone} in")
    return (
        capacity(found, "handbook.optimum") / LBF,
        demand(found, "detail.pitch-min") / 25.4,
        demand(found, "detail.overlap") / 25.4,
        value(found, "schedule_force") / LBF,
        value(found, "schedule_time"),
        value(found, "schedule_current"),
    )


def row_of_optimum(t: str) -> Case:
    zone, printed = OPTIMUM[t]
    return Case(
        KIND, f"{t} in: shear lb, spacing in, overlap in, force lb, cycles, current A",
        "“Optimum conditions” chart, low-carbon steel (three copies of one chart)", "read", printed, "as named",
        lambda: optimum(t, zone),
    )  # fmt: skip


def spot_table(key: str, unit: float, thicknesses: str, per: str = "in", **more: Any) -> tuple[float, ...]:
    return tuple(capacity(seam(f"{t} {per}", **more), key) / unit for t in thicknesses.split())


def table(name: str, source: str, status: str, key: str, unit: tuple[str, float], rows: str, **more: Any) -> Case:
    """A column of a printed table: `rows` are `thickness:strength` pairs."""
    pairs = [r.split(":") for r in rows.split()]
    t, printed = (" ".join(p[i] for p in pairs) for i in (0, 1))
    return Case(
        KIND, f"{name} at {t.replace(' ', ', ')} {more.get('per', 'in')}", source, status, printed, unit[0],
        lambda: spot_table(key, unit[1], t, **more),
    )  # fmt: skip


def strong(key: str, unit: float, t: str, f_u: str, grade: str = "DC04") -> float:
    sheet = {"thickness": f"{t} in", "grade": grade, "tensile_strength": f_u}
    return capacity(seam("1 mm", sheets=[sheet, sheet]), key) / unit


def military(name: str, key: str, f_u: str, rows: str, grade: str = "DC04") -> Case:
    pairs = [r.split(":") for r in rows.split()]
    return Case(
        KIND, f"{name}, {', '.join(p[0] for p in pairs)} in", "MIL-HDBK-5, design shear per spot", "from memory",
        " ".join(p[1] for p in pairs), "lb", lambda: tuple(strong(key, LBF, p[0], f_u, grade) for p in pairs),
    )  # fmt: skip


def carried(name: str, table_: str, column: str, rows: str) -> Case:
    """A column of a table that is carried as printed and that no item of ours comes to."""
    pairs = [r.split(":") for r in rows.split()]
    return Case(
        KIND, f"{name}, {', '.join(p[0] for p in pairs)} in", "MIL-HDBK-5, design shear per spot", "from memory",
        " ".join(p[1] for p in pairs), "lb", lambda: tuple(load(table_).at(25.4 * float(p[0]), column) / LBF for p in pairs),
    )  # fmt: skip


def zinc_schedule(t: str, grade: str) -> tuple[float, ...]:
    found = seam(t, grade)
    return (
        value(found, "schedule_force") / KGF,
        value(found, "schedule_time"),
        value(found, "schedule_current") / 1e3,
        value(found, "schedule_tip"),
    )


AISI_1996 = "AISI 1996 table, as reprinted in the Building Design and Construction Handbook, Table 8.6"
CLASSES = "Spot-weld classes A, B, C, metric handbook chart"
CLASS_ROWS = {  # t mm: nuggets are taken large enough for each class
    "A": "0.8:4.4 1.0:6.1 1.2:7.8 1.6:10.6 1.8:13.0 2.0:14.5 2.3:18.5",
    "B": "0.8:4.0 1.0:5.4 1.2:6.8 1.6:10.0 1.8:11.8 2.0:13.7 2.3:17.7",
    "C": "0.8:3.55 1.0:5.3 1.2:6.5 1.6:9.25 1.8:11.0 2.0:13.05 2.3:16.85",
}
NUGGET = {"0.8": 5.3, "1.0": 5.8, "1.2": 6.2, "1.6": 6.9, "1.8": 7.4, "2.0": 7.9, "2.3": 8.6}


def class_column(letter: str) -> Case:
    pairs = [r.split(":") for r in CLASS_ROWS[letter].split()]
    return Case(
        KIND, f"class {letter} at {', '.join(p[0] for p in pairs)} mm", CLASSES, "from memory",
        " ".join(p[1] for p in pairs), "kN",
        lambda: tuple(
            capacity(seam(f"{t} mm", weld_diameter=f"{NUGGET[t]} mm"), f"handbook.class-{letter.lower()}") / 1e3
            for t, _ in pairs
        ),
    )  # fmt: skip


SLUG = "0.6:3.9 0.7:4.2 0.8:4.5 0.9:4.7 1.2:5.5 1.4:5.9 1.6:6.3 1.8:6.7 2.0:7.1 2.2:7.4 2.5:7.9 3.0:8.6"
D8_ROWS = {
    "270": "0.7:1.142 0.8:1.395 0.9:1.665 1.0:1.950 1.2:2.563 1.5:3.582",
    "300": "0.9:1.859 1.0:2.177 1.2:2.862",
    "350": "1.0:2.557 1.2:3.361",
    "420": "1.0:3.088 1.2:4.059",
}


def d8_row(S: str) -> Case:
    pairs = [r.split(":") for r in D8_ROWS[S].split()]
    return Case(
        KIND, f"least shear-tension strength, S = {S} MPa, t = {', '.join(p[0] for p in pairs)} mm",
        "AWS D8.1M expression, evaluated apart from the package", "computed", " ".join(p[1] for p in pairs), "kN",
        lambda: tuple(spot_d8_1.SHEAR_TENSION(t=float(p[0]), S=float(S)) / 1e3 for p in pairs),
    )  # fmt: skip


CASES: list[Case] = [
    *(row_of_optimum(t) for t in OPTIMUM),
    table("nominal shear", AISI_1996, "read", "aisi-1996.spot-table", ("kip", KIP),
          "0.020:0.48 0.030:1.00 0.040:1.42 0.050:1.65", weld_diameter="target"),
    table("nominal shear", AISI_1996, "read", "aisi-1996.spot-table", ("kip", KIP),
          "0.060:2.28 0.070:2.83 0.080:3.33 0.090:4.00"),
    table("nominal shear", AISI_1996, "read", "aisi-1996.spot-table", ("kip", KIP),
          "0.100:4.99 0.110:6.07 0.125:7.29"),
    *(class_column(letter) for letter in CLASS_ROWS),
    table("stainless, annealed to 1/16 hard", "ASCE 8-02 Table 4 (from a scan)", "read", "asce-8.spot-stainless",
          ("kip", KIP), "0.016:0.28 0.018:0.32 0.021:0.37 0.025:0.50 0.031:0.68", grade="304"),
    military("steel under 70 ksi", "mil-hdbk-5.spot-steel", "300 MPa",
             "0.025:320 0.032:453 0.040:650 0.050:955 0.063:1405 0.080:1960 0.100:2645"),
    military("steel of 70 to 150 ksi", "mil-hdbk-5.spot-steel", "600 MPa",
             "0.025:425 0.032:623 0.040:850 0.050:1205 0.063:1685 0.080:2405 0.100:3200", "S500MC"),
    carried("steel from 150 ksi (no grade reaches it)", "spot_mil_hdbk5_steel", "shear_ge_150ksi",
            "0.025:580 0.032:835 0.040:1168 0.050:1700 0.063:2479 0.080:3540 0.100:4575"),
    military("aluminium of 19.5 to 35 ksi", "mil-hdbk-5.spot-aluminium", "190 MPa",
             "0.025:116 0.032:168 0.040:240 0.050:321 0.063:442 0.080:609", "5754-O"),
    military("aluminium of 35 to 56 ksi", "mil-hdbk-5.spot-aluminium", "290 MPa",
             "0.025:140 0.032:188 0.040:248 0.050:344 0.063:488 0.080:684", "5754-O"),
    Case(KIND, "schedule of hot-dip zinc sheet, 0.8 to 1.0 mm, middle of each range: force kgf, cycles, kA, tip mm",
         "BS 1140:1993 set-up data", "read", "260 10.5 10 5", "as named", lambda: zinc_schedule("0.9 mm", "DX51D+Z")),
    Case(KIND, "least slug at " + ", ".join(r.split(":")[0] for r in SLUG.split()) + " mm", "BS 1140:1993 slug table",
         "read", " ".join(r.split(":")[1] for r in SLUG.split()), "mm",
         lambda: tuple(spot_size.TARGET(t=float(r.split(":")[0])) for r in SLUG.split()), units=0.61,
         why="the print cuts 8.66 to 8.6; its rows of 1.0 and 1.1 mm (5.5) are misprints and left out"),
    Case(KIND, "the same table against the size EN 1993-1-3 assumes, 5 √t", "BS 1140:1993 slug table", "read",
         "4.5 5.5 6.3 7.1", "mm", lambda: tuple(spot_size.TARGET(t=t) for t in (0.8, 1.2, 1.6, 2.0))),
    Case(KIND, "cross tension over lap shear", "Chao, J. Eng. Mater. Technol. 125 (2003), abstract", "read", "0.74", "1",
         lambda: spot_models.CROSS_TENSION(F_ls=1.0)),
    Case(KIND, "1 mm, d_s 5 mm, f_u 270: tearing characteristic and with γ_M2", "EN 1993-1-3 Table 8.5, worked by hand",
         "computed", "3.65 2.92", "kN",
         lambda: (spot_en1993.TEARING(t=1.0, d_s=5.0, f_u=270.0) / 1e3,
                  spot_en1993.TEARING(t=1.0, d_s=5.0, f_u=270.0) / 1.25e3), units=0.51, why="3.645 ends on the half"),
    Case(KIND, "shear over tearing of a 5 √t spot", "EN 1993-1-3 Table 8.5, worked by hand", "computed", "1.454", "1",
         lambda: spot_en1993.SPOT_SHEAR(d_s=5.0, f_u=300.0) / spot_en1993.TEARING(t=1.0, d_s=5.0, f_u=300.0)),
    Case(KIND, "P_n at 0.020, 0.040, 0.060, 0.080, 0.100, 0.125 in by the inch form 144 t^1.47",
         "AISI S100 J2.7, the other unit system", "computed", "0.458 1.269 2.303 3.515 4.879 6.774", "kip",
         lambda: tuple(spot_aisi.SPOT_THIN(t=t * 25.4) / KIP for t in (0.020, 0.040, 0.060, 0.080, 0.100, 0.125)),
         relative=1.1e-3, why="the constants of the two unit systems agree to 0.1 %"),
    *(d8_row(S) for S in D8_ROWS),
    Case(KIND, "least cross-tension strength at 0.7, 0.8, 0.9, 1.0, 1.2, 1.5 mm",
         "AWS D8.1M expression, evaluated apart from the package", "computed", "0.570 0.765 0.991 1.250 1.867 3.050",
         "kN", lambda: tuple(spot_d8_1.CROSS_TENSION(t=t) / 1e3 for t in (0.7, 0.8, 0.9, 1.0, 1.2, 1.5))),
    Case(KIND, "pull-out f t d S for f = 2.5 and 3.1, t 1, d 5 mm, S 300 MPa",
         "Sawhill and Baker (1980), range from memory, worked by hand", "computed", "3.75 4.65", "kN",
         lambda: tuple(spot_models.PULL_OUT(f=f, t=1.0, d=5.0, S=300.0) / 1e3 for f in (2.5, 3.1))),
]  # fmt: skip
