"""Where the axes lie, which way they point, and from which side a joint is looked at changes nothing."""

from __future__ import annotations

from math import cos, pi, sin

from hypothesis import assume, given
from hypothesis import strategies as st

from jointcalc.result import Result
from tests.properties.compare import applies, by_key, close, same
from tests.properties.describe import (
    EXAMPLES,
    Data,
    Several,
    Size,
    Text,
    bolts,
    braces,
    fillets,
    judged,
    panels,
    plugs,
    seams,
    tries,
)
from tests.properties.test_units import tied

ROUND = 1e-8
"""A turned description carries the rounding of sine and cosine, and a difference of large moments more of it."""

Pair = tuple[float, float]


class Move:
    """A turn about z, a mirror across the x axis before it, and a shift."""

    def __init__(self, angle: float, mirror: bool, shift: Pair) -> None:
        self.c, self.s, self.mirror, self.shift = cos(angle), sin(angle), mirror, shift

    def turn(self, x: float, y: float) -> Pair:
        y = -y if self.mirror else y
        return self.c * x - self.s * y, self.s * x + self.c * y

    def place(self, x: float, y: float) -> Pair:
        a, b = self.turn(x, y)
        return a + self.shift[0], b + self.shift[1]

    def __call__(self, data: Data) -> Data:
        """The same group in other axes."""
        found = dict(data)
        for name in ("holes", "lines"):
            if name in data:
                found[name] = [
                    Several(tuple(v for i in range(0, len(p.values), 2) for v in self.place(*p.values[i : i + 2])))
                    for p in data[name]
                ]
        x, y, z = data["at"].values
        found["at"] = Several((*self.place(x, y), z))
        fx, fy, fz = data["force"].values
        found["force"] = Several((*self.turn(fx, fy), fz), "force")
        if data.get("moment") is not None:
            mx, my, mz = data["moment"].values
            # a moment is an axial vector: a mirror turns the part that lies along its normal the other way
            mx, my, mz = (-mx, my, -mz) if self.mirror else (mx, my, mz)
            found["moment"] = Several((self.c * mx - self.s * my, self.s * mx + self.c * my, mz), "moment")
        return found


MOVES = st.builds(
    Move,
    st.sampled_from((0.0, pi / 2, pi, 0.3, -1.1, 2.5)),
    st.booleans(),
    st.sampled_from(((0.0, 0.0), (130.0, -70.0), (-1000.0, 400.0))),
)


def same_uses(one: Result, two: Result, rel: float = ROUND) -> None:
    """The same methods judge alike and the safety is the same."""
    assert one.status == two.status
    left, right = by_key(one), by_key(two)
    assert list(left) == list(right)
    for key, a in left.items():
        assert a.status == right[key].status, (key, a.note, right[key].note)
        assert close(a.utilisation, right[key].utilisation, 1e-9, rel), (key, a.utilisation, right[key].utilisation)


@tries(100)
@given(data=bolts(), move=MOVES)
def test_a_bolt_group_in_other_axes(data: Data, move: Move) -> None:
    one, two = judged("bolts", data), judged("bolts", move(data))
    same_uses(one, two)
    for name in ("peak", "shear_max", "pull_max"):
        assert close(one.values[name].value, two.values[name].value, 1e-3, ROUND), name
    if not tied(one.model):
        at = (one.values["peak_at_x"].value or 0.0, one.values["peak_at_y"].value or 0.0)
        there = (two.values["peak_at_x"].value or 0.0, two.values["peak_at_y"].value or 0.0)
        assert all(close(a, b, 1.0, ROUND) for a, b in zip(move.place(*at), there))


@tries(100)
@given(data=fillets(), move=MOVES)
def test_a_weld_group_in_other_axes(data: Data, move: Move) -> None:
    one, two = judged("fillet", data), judged("fillet", move(data))
    same_uses(one, two)
    for name in ("peak", "peak_stress", "weld_length"):
        assert close(one.values[name].value, two.values[name].value, 1e-3, ROUND), name
    at = (one.values["centroid_x"].value or 0.0, one.values["centroid_y"].value or 0.0)
    there = (two.values["centroid_x"].value or 0.0, two.values["centroid_y"].value or 0.0)
    assert all(close(a, b, 1.0, ROUND) for a, b in zip(move.place(*at), there))


@tries(100)
@given(data=fillets(), order=st.randoms(use_true_random=False))
def test_lines_may_be_drawn_from_either_end_and_in_any_order(data: Data, order: object) -> None:
    drawn = [Several((*line.values[2:], *line.values[:2])) for line in data["lines"]]
    order.shuffle(drawn)  # type: ignore[attr-defined]
    one, two = judged("fillet", data), judged("fillet", {**data, "lines": drawn})
    same_uses(one, two)


@tries(100)
@given(data=fillets())
def test_a_tee_has_no_first_part(data: Data) -> None:
    """Of a lap the first sheet is the one whose edge the weld lies along; of a tee either may be named first.

    Out of the plane the last sheet is what the welds sit on, as the model says: the load is kept in the plane.
    """
    (x, y, _), (u, v, _) = data["force"].values, data["at"].values
    data = {**data, "joint": "tee", "force": Several((x, y, 0.0), "force"), "at": Several((u, v, 0.0))}
    one, two = judged("fillet", data), judged("fillet", {**data, "sheets": data["sheets"][::-1]})
    same(one, two, tie=True)


@tries(100)
@given(data=bolts(), order=st.randoms(use_true_random=False))
def test_holes_may_be_listed_in_any_order(data: Data, order: object) -> None:
    listed = list(data["holes"])
    order.shuffle(listed)  # type: ignore[attr-defined]
    same_uses(judged("bolts", data), judged("bolts", {**data, "holes": listed}))


def swapped(key: str, n: int) -> str:
    """`method.1` is `method.3` of three sheets seen from the other side, `method.1-2` is `method.2-3`."""
    stem, _, where = key.rpartition(".")
    if where.isdigit():
        return f"{stem}.{n + 1 - int(where)}"
    if len(where) == 3 and where[1] == "-":
        return f"{stem}.{n + 1 - int(where[2])}-{n + 1 - int(where[0])}"
    return key


def other_side(one: Result, two: Result, n: int) -> None:
    """Both results say the same, each of its own sheets."""
    assert one.status == two.status
    left, right = by_key(one), by_key(two)
    assert {swapped(k, n) for k in left} == set(right)
    for key, a in left.items():
        b = right[swapped(key, n)]
        assert a.status == b.status, (key, a.note, b.note)
        for what in ("safety_factor", "required_factor", "utilisation"):
            assert close(getattr(a, what), getattr(b, what), 1e-12), (key, what)


@tries(100)
@given(data=seams())
def test_a_seam_from_the_other_side(data: Data) -> None:
    turned = {**data, "sheets": data["sheets"][::-1], "shares": data["shares"][::-1]}
    other_side(judged("seam", data), judged("seam", turned), len(data["sheets"]))


@tries(100)
@given(data=bolts())
def test_bolted_sheets_from_the_other_side(data: Data) -> None:
    """Without a plate under the nut, head and nut bear alike; a rivet nut sits in the last sheet, and what lies under
    the nut decides how far a thread reaches in.
    """
    n = len(data["sheets"])
    assume("rivnut" not in data or n == 1)
    data = {**data, "plate": None, "countersunk": False, "threads": "in"}
    turned = {**data, "sheets": data["sheets"][::-1], "pulled": data["pulled"] and n + 1 - data["pulled"]}
    other_side(judged("bolts", data), judged("bolts", turned), n)


@tries(100)
@given(data=plugs())
def test_loads_of_a_row_have_no_sense(data: Data) -> None:
    turned = {n: Size(-v.value, "force") if n in ("shear", "across", "uplift") else v for n, v in data.items()}
    same(judged("plug", data), judged("plug", turned))


def mirrored(data: Data) -> Data:
    """A beam seen from behind: what was at x is at L - x."""
    spans = data["span"].values if isinstance(data["span"], Several) else (data["span"].value,)
    total = sum(spans)

    def there(loads: list[Text]) -> list[Text]:
        return [one.but(x=total - one.sizes["x"].value) if "x" in one.sizes else one for one in loads]

    ends = data["ends"]
    if isinstance(ends, Several):
        ends = Several(ends.values[::-1], ends.kind)
    elif isinstance(ends, str):
        ends = " ".join(ends.split()[::-1])
    span = Several(spans[::-1]) if len(spans) > 1 else data["span"]
    # a torque keeps its sense as seen from behind where all are turned round: one alone is the worse of both senses
    placed = {name: there(data[name]) for name in ("point", "mass", "torque")}
    return {**data, "span": span, "ends": ends, **placed}


@tries(50)
@given(data=braces())
def test_a_brace_from_behind(data: Data) -> None:
    """A cantilever is held at its left end and has no mirror image here."""
    if data["ends"] == "cantilever":
        data = {**data, "ends": "fixed"}
    one, two = judged("brace", data), judged("brace", mirrored(data))
    same_uses(one, two)
    for name in ("deflection_max", "moment_max", "shear_max", "reaction_max", "frequency_1"):
        assert close(one.values[name].value, two.values[name].value, 1e-6, 1e-7), name


@tries(EXAMPLES["panel"])
@given(data=panels())
def test_a_panel_turned_round(data: Data) -> None:
    """Which side is written first, and which way the flow in its plane runs."""
    a, b = data["size"].values
    if a == b:
        return  # of a square panel the first side is the long one, by its own rule
    turned = {**data, "size": Several((b, a)), "shear": Size(-data["shear"].value, "line load")}
    same(judged("panel", data), judged("panel", turned))


@tries(EXAMPLES["panel"])
@given(data=panels())
def test_a_flat_panel_has_no_grain(data: Data) -> None:
    """Beads make the difference between along and across; without them turning the sheet swaps the two."""
    data = {**data, "bead": "none", "patch_size": None}
    one, two = judged("panel", {**data, "along": "long"}), judged("panel", {**data, "along": "short"})
    left, right = by_key(one), by_key(two)
    swap = {"plate.bending-along": "plate.bending-across", "plate.bending-across": "plate.bending-along"}
    for key, check in left.items():
        other = right[swap.get(key, key)]
        if applies(check):
            # what stays is the small difference of two deflections: of nothing there is only the solver's last digits
            scale = 1.0 if key == "limit.permanent-set" else 1e-12
            assert close(check.utilisation, other.utilisation, scale, 1e-6), key
    for name in ("frequency_1", "deflection_pressure", "deflection_patch"):
        assert close(one.values[name].value, two.values[name].value, 1e-9, 1e-6), name
