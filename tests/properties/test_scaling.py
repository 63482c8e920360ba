"""Twice the load is twice the use; a joint that is larger in every direction carries as the square of its size."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jointcalc.result import DETAILING, Result
from tests.properties.compare import applies, by_key, close
from tests.properties.describe import EVERY, EXAMPLES, Data, Size, braces, fillets, judged, panels, scaled, seams, tries

LOADS = ("force", "line load", "moment", "pressure")

NOT_LINEAR: dict[str, dict[str, str]] = {
    "seam": {
        "aisi-s100.spot-pitch": "limit on a pitch, by the root of the stress (S100 I1.3)",
        "inter-fastener.buckling": "judges the stated compressive stress, which is no load here",
        "en1993-1-1.yield-together": "holds the stated compressive stress beside the loads",
    },
    "plug": {"aisi-s100.arc-spot-interaction": "powers of 1.5 (S100 J2.2.4)"},
    "bolts": {
        "aisc360.bolt-tension": "tension left beside shear (J3.7), and in full under 30 % of either",
        "en1993-1-9.bolt-interaction": "powers 3 and 5 of the stress (EN 1993-1-9, 8(3))",
    },
    "fillet": {
        "en1993-1-9.interaction": "powers 3 and 5 of the stress (EN 1993-1-9, 8(3))",
        "en1993-1-8.root-moment": "the wall takes its plastic moment first",
        "en1993-1-9.opened-root": "of the stress that the wall leaves the root",
    },
    "brace": {
        "en1993-1-3.bending-shear": "squares, and nothing under half the shear resistance (6.1.10)",
        "en1993-1-3.beam-column": "power 0.8, and amplified by the axial force",
        "aisi-s100.beam-column": "amplified by the axial force (C1)",
        "brace.spot-line": "the seam's governing check may be its least pitch, which knows no load",
        "limit.deflection": "the section that works in service shrinks with the stress (EN 1993-1-3, 7.1)",
        "aisi-s100.spot-pitch": "limit on a pitch, by the root of the stress (S100 I1.3)",
        "inter-fastener.buckling": "a stress that has a least value of its own",
        "en1993-1-3.flange-curling": "goes with the square of the stress, and told only from a tenth of its limit on (5.4)",
        "en1993-1-3.torsion": "grows as the moment nears the critical one",
        "aisi-s100.bending-torsion": "grows as the moment nears the critical one",
    },
    "panel": {
        "interaction.panel-bending-shear": "squares",
        "limit.panel-deflection": "membrane stiffening past half the thickness",
        "limit.panel-frequency": "knows no load",
        "limit.permanent-set": "nothing stays until something yields",
        "en1993-1-5.membrane-strain": "large deflections",
        "en1993-1-5.shell-in-plane": "followed only as far as it must hold; its own tests say what it reaches",
        "plate.": "the pull comes of large deflections; the linear formulas are held apart below",
    },
}
"""Kind -> key (or its beginning) -> why its use does not grow in proportion to the load."""


def louder(data: Data, k: float) -> Data:
    """The same thing under k times the load (stated strengths and stiffnesses, and a maker's values, stay)."""
    kept = {"insert_tension", "insert_shear", "mass"}
    return {
        name: v if name in kept else scaled(v, lambda kind: k if kind in LOADS else 1.0) for name, v in data.items()
    }


@pytest.mark.parametrize("kind", EVERY)
def test_use_grows_with_the_load(kind: str) -> None:
    @tries(EXAMPLES[kind])
    @given(data=EVERY[kind], k=st.sampled_from((0.25, 0.5) if kind == "panel" else (0.25, 0.5, 1.5, 2.0, 3.0)))
    def holds(data: Data, k: float) -> None:
        one, more = judged(kind, data), judged(kind, louder(data, k))
        if any("prying_max" in r.values and r.values["prying_max"].value for r in (one, more)):
            return  # the leg of a bracket pries only once one yield line is not enough
        left, right = by_key(one), by_key(more)
        for key, a in left.items():
            b = right.get(key)
            if b is None or not applies(a) or not applies(b) or a.method.basis == DETAILING:
                continue
            if key.startswith(tuple(NOT_LINEAR[kind])):
                continue
            if a.utilisation is None or b.utilisation is None:
                continue
            assert close(b.utilisation, k * a.utilisation, 1e-12, 1e-8), (key, a.utilisation, b.utilisation)

    holds()


@tries(EXAMPLES["panel"])
@given(data=panels(), k=st.sampled_from((0.5, 2.0)))
def test_stress_of_a_panel_grows_with_the_load_while_it_is_stiff(data: Data, k: float) -> None:
    small = scaled(data, lambda kind: 0.05 if kind in LOADS else 1.0)
    one, more = judged("panel", small), judged("panel", louder(small, k))
    if any(c.code == "large-deflection" for r in (one, more) for c in r.cautions):
        return
    right = by_key(more)
    for key, a in by_key(one).items():
        b = right[key]
        # the first waves are told as a factor of the loads, beside 1
        if not key.startswith("plate.") or key in ("plate.edge-pull", "plate.shell-buckling"):
            continue
        if a.demand is None or b.demand is None:
            continue
        if a.demand.value and b.demand.value:
            assert close(b.demand.value, k * a.demand.value, 1e-12, 1e-8), key


@pytest.mark.parametrize("kind", ("seam", "plug", "bolts", "fillet", "brace"))
def test_turning_every_load_round_never_changes_what_does_not_ask_for_the_sense(kind: str) -> None:
    """Shear, across and the forces of arc welds count by their size; pull, peel, sagging have a sense of their own."""
    strategy = EVERY[kind]

    @tries(EXAMPLES[kind])
    @given(data=strategy)
    def holds(data: Data) -> None:
        if kind in ("bolts", "brace"):
            return _sense(kind, data)
        one, other = judged(kind, data), judged(kind, louder(data, -1.0))
        right = by_key(other)
        # a root opens under a pull and closes under a push (EN 1993-1-8, 4.12)
        root = ("en1993-1-8.root-moment", "en1993-1-9.opened-root")
        if not {*root} & {*right, *by_key(one)}:
            assert one.status == other.status
        for key, a in by_key(one).items():
            if key in root:
                continue
            assert right[key].status == a.status
            assert close(a.utilisation, right[key].utilisation, 1e-12, 1e-9), key
        return None

    holds()


def _sense(kind: str, data: Data) -> None:
    """A bolt in plane, and the reactions of a beam: sizes stay when every load is turned round."""
    if kind == "bolts":
        from tests.properties.describe import Several

        # named, the sheet that brings the load is pushed back and the others on: a turned load tears at other edges
        data = {**data, "force": Several((*data["force"].values[:2], 0.0), "force"),
                "at": Several((*data["at"].values[:2], 0.0)), "pulled": None}  # fmt: skip
        one, other = judged(kind, data), judged(kind, louder(data, -1.0))
        right = by_key(other)
        for key, a in by_key(one).items():
            assert close(a.utilisation, right[key].utilisation, 1e-12, 1e-9), key
        return
    loads = {name: v for name, v in data.items() if name not in ("compression", "tension")}
    one, other = judged(kind, loads), judged(kind, louder(loads, -1.0))
    for name in ("deflection_max", "moment_max", "shear_max", "reaction_max", "frequency_1"):
        assert close(one.values[name].value, other.values[name].value, 0.0, 1e-9), name
    assert close(one.values["moment_sagging"].value, other.values["moment_hogging"].value, 1e-6, 1e-9)


# --- geometric similarity --------------------------------------------------------------------------------

HIDDEN: dict[str, dict[str, str]] = {
    "seam": {
        "en1993-1-3.tearing": "2.7 sqrt(t) carries mm^0.5 (Table 8.5)",
        "aisi-s100.spot-shear": "t^1.47 (J2.7)",
        "d8.1m.": "t^1.5 and t^2.2 (D8.1M)",
        "handbook.": "read from a chart", "aisi-1996.": "read from a table", "mil-hdbk-5.": "read from a table",
        "asce-8.": "read from a table",
        "chao.": "from EN 1993-1-3 tearing",
        "interaction.": "sums of those",
    },
    "fillet": {
        "en1993-1-9.": "categories are bound to sizes",
        "aisi-s100.base-shear": "sheet counts up to 3/16 in (AISI S100-16 J2)",
        "en1993-1-3.lap-weld": "ends at sheet of 4 mm, and rests on the 30 mm of EN 1993-1-8",
    },
    "brace": {
        "en1993-1-3.web-crippling": "two webs: a bearing length of 10 mm in category 1 (6.1.7.3)",
        "en1993-1-3.bending-crippling": "with that crippling (6.1.11)",
        "aisi-s100.web-crippling": "a bearing of 19 mm at least (G5)",
        "aisi-s100.bending-crippling": "with that crippling (H3)",
        "yield-line.local-load": "bending there by EN 1993-1-3 too, which ends at sheet of 0.45 mm",
        "brace.spot-line": "spots are sized by sqrt(t)",
    },
    "panel": {"limit.panel-frequency": "a frequency is no length", "practice.": "90 kg on a heel, whatever the panel"},
}  # fmt: skip
HIDDEN["thick fillet"] = {**HIDDEN["fillet"], "aisi-s100.": "a part counts up to 3/16 in (AISI S100-16 J2)"}
"""Kind -> key (or its beginning) -> the constant hidden in it that has a size."""

POWERS = {
    "1": 0, "mm": 1, "N": 2, "N*mm": 3, "N/mm": 1, "MPa": 0, "mm^2": 2, "mm^3": 3, "mm^4": 4, "mm^6": 6,
    "mm^4/mm": 3, "mm^3/mm": 2, "N*mm^2": 4, "Hz": -1, "kg/m": 2, "kg/m^2": 1, "kg": 3, "t": 3, "deg": 0,
}  # fmt: skip
"""Power of the size a unit goes with when stresses stay."""


def larger(data: Data, s: float) -> Data:
    """The same thing s times the size in every direction, under loads that leave the stresses what they were."""
    powers = {"length": 1, "force": 2, "moment": 3, "line load": 1, "pressure": 0, "stress": 0, "turn": 3, "mass": 3}
    return dict(scaled(data, lambda kind: s ** powers[kind]))


AT_AN_EDGE = "even at the edge of its range"
"""What a check says that bounds from above at the end of its range: a least sheet or leg is a size of the document."""


def similar(kind: str, one: Result, two: Result, s: float, skip: tuple[str, ...] = (), rel: float = 1e-8) -> None:
    """Uses are the same and values go with their power of the size, but for the hidden constants.

    `rel` is what the arithmetic holds: less where a solver stops at a residual.
    """
    right = by_key(two)
    for key, a in by_key(one).items():
        b = right.get(key)
        if b is None or not applies(a) or not applies(b) or key.startswith(tuple(HIDDEN.get(kind, ()))):
            continue
        if a.method.basis == DETAILING or AT_AN_EDGE in a.note or AT_AN_EDGE in b.note:
            continue
        assert close(a.utilisation, b.utilisation, 1e-12, rel), (key, a.utilisation, b.utilisation, a.note, b.note)
        assert a.capacity is not None
        assert b.capacity is not None
        power = POWERS[a.capacity.unit]
        assert close(a.capacity.value * s**power, b.capacity.value, 0.0, rel), key  # type: ignore[operator]
    largest = max((abs(v.value or 0.0) for v in one.values.values() if v.unit == "mm^6"), default=0.0)
    for name, a in one.values.items():
        if a.value is None or a.unit not in POWERS or name.startswith(skip or ("\0",)):
            continue
        b = two.values[name]
        expected = a.value * s ** POWERS[a.unit]
        scale = max(largest * s**6, (one.values["area"].value or 0.0) ** 3 * s**6) if a.unit == "mm^6" else 1e-6 * s
        assert close(expected, b.value, scale, rel), (name, expected, b.value)


SIZES = st.sampled_from((0.5, 0.8, 1.25, 2.0))


@tries(100)
@given(data=seams(stated=True), s=SIZES)
def test_a_larger_seam(data: Data, s: float) -> None:
    """Pull-out, end, shear of the spot, net section and yields know no size of their own."""
    d = data["weld_diameter"]
    data = {**data, "weld_diameter": d if isinstance(d, Size) else Size(5.0), "cycles": None}
    similar("seam", judged("seam", data), judged("seam", larger(data, s)), s, ("schedule_",))


@tries(100)
@given(data=fillets(stated=True), s=SIZES)
def test_a_larger_weld_group(data: Data, s: float) -> None:
    """All that AISC, AISI and EN 1993-1-8 say of strength is a strength times an area."""
    thick = max(sheet["thickness"].value for sheet in data["sheets"]) * max(1.0, s) > 4.76
    similar("thick fillet" if thick else "fillet", judged("fillet", data), judged("fillet", larger(data, s)), s)


@tries(40)
@given(data=braces(stated=True), s=SIZES)
def test_a_larger_brace(data: Data, s: float) -> None:
    """Bending with effective widths, shear, buckling, AISI crippling: slendernesses have no size."""
    one, two = judged("brace", data), judged("brace", larger(data, s))
    # the radius below which a press brake does not go is given in thicknesses
    similar("brace", one, two, s, ("brake_force", "spot_load"))


@tries(EXAMPLES["panel"])
@given(data=panels(stated=True), s=SIZES)
def test_a_larger_panel(data: Data, s: float) -> None:
    """Plate stresses, buckling and membrane stiffening know no size; where the patch stands is stated.

    The loads on the real shape are carried in steps to a residual: 1e-4, and of the difference of two grids nothing.
    """
    from tests.properties.describe import Several, Text

    bead = data["bead"]
    if bead != "none":  # where beads end without being told is a size of the trade's own
        ends = {"stop": Size(20.0), "runout": bead.sizes["depth"].times(4.0)}
        data = {**data, "bead": Text(bead.form + ",stop={stop},runout={runout}", {**bead.sizes, **ends})}
    data = {**data, "patch_size": data["patch_size"] or Several((80.0, 60.0))}
    similar("panel", judged("panel", data), judged("panel", larger(data, s)), s, ("deflection_error",), 1e-4)


@tries(100)
@given(
    t=st.sampled_from((0.8, 1.0, 1.5, 2.0)),
    pitch=st.integers(24, 60),
    edge=st.integers(12, 40),
    f_u=st.integers(280, 540),
)
def test_a_larger_bolt_in_a_larger_sheet(t: float, pitch: int, edge: int, f_u: int) -> None:
    """M12 in sheet twice as thick as under M6, four times the load: what is not EN's k_t nor AISI's 0.0394 t."""
    made: dict[float, Any] = {}
    for s, bolt in ((1.0, "M6 8.8"), (2.0, "M12 8.8")):
        sheet = {"thickness": Size(t * s), "grade": "S355MC", "tensile_strength": Size(float(f_u), "stress"),
                 "yield_strength": Size(260.0, "stress")}  # fmt: skip
        made[s] = judged("bolts", {
            "bolt": bolt, "sheets": [sheet, sheet], "hole_diameter": Size(6.4 * s), "edge": Size(edge * s),
            "holes": ["0 0 mm", f"{pitch * s} 0 mm"], "force": f"0 {-900 * s * s} 0 N", "at": f"{70 * s} 0 0 mm",
            "width": Size(120.0 * s),
        })  # fmt: skip
    keys = ("en1993-1-8.bearing", "aisi-s100.bearing.", "aisi-s100.tear-out", "aisc360.bearing", "aisc360.tear-out",
            "en1993-1-3.fastener-net-section")  # fmt: skip
    right = by_key(made[2.0])
    held = 0
    for key, a in by_key(made[1.0]).items():
        b = right.get(key)
        if b is not None and key.startswith(keys) and applies(a) and applies(b):
            held += 1
            assert close(a.utilisation, b.utilisation, 0.0, 1e-9), key
    assert held
