"""The text form of profiles, and faults told in a builder's terms."""

import pickle

import numpy as np
import pytest

from jointcalc.errors import InputError
from jointcalc.section import EXAMPLES, FAMILIES, Outline, parse_profile, parse_spec
from jointcalc.section.families.hat import BeadedHat, Hat
from jointcalc.section.families.points import Points
from jointcalc.section.families.tube import Box
from jointcalc.section.outline import Segment, crossing


@pytest.mark.parametrize("kind", sorted(EXAMPLES))
def test_every_example_is_read_and_written_back(kind):
    family = parse_profile(EXAMPLES[kind])
    assert family.kind == kind
    again = parse_profile(family.text())
    row, size = again.properties().row(), family.properties()
    r = np.hypot(size.I_y[0] / size.area[0], size.I_z[0] / size.area[0]) ** 0.5
    cancels = {"I_yz": size.area[0] * r**2, "C_w": size.area[0] * r**4}  # sums of terms of this size that may cancel
    for name, value in size.row().items():
        if name == "principal_angle" and family.kind == "tube":
            continue  # no direction is the principal one
        assert row[name] == pytest.approx(value, abs=1e-9 * cancels.get(name, 1.0)), name
    assert pickle.loads(pickle.dumps(family)).text() == family.text()
    assert all(np.isfinite(v) for v in family.properties().row().values())


def test_examples_cover_the_families():
    assert set(EXAMPLES) == set(FAMILIES)


def test_lengths_of_the_design_example():
    hat = parse_profile("hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm")
    assert isinstance(hat, Hat)
    assert (hat.top, hat.depth, hat.flange, hat.t, hat.r) == (40.0, 30.0, 20.0, 1.2, 2.0)
    flats = hat.flats_and_bends().flats
    assert [f.length[0] for f in flats] == pytest.approx([18, 23.6, 33.6, 23.6, 18])
    inch = parse_profile("hat: top = 1 1/2 in, depth = 1in, flange=3/4 in, t=0.048in")
    assert inch.top == pytest.approx(38.1)
    assert inch.radius == pytest.approx(0.048 * 25.4)  # one thickness when left out


def test_gauge_needs_a_sheet_table():
    text = "hat:top=40mm,depth=30mm,flange=20mm,t=18 ga"
    assert parse_profile(text, gauge=lambda number, field: {18: 1.214}[number.number]).t == 1.214
    with pytest.raises(InputError, match="gauge 18"):
        parse_profile(text)
    with pytest.raises(InputError):
        parse_profile("hat:top=18 ga,depth=30mm,flange=20mm,t=1mm")


def test_ranges_are_left_to_a_search():
    spec = parse_spec("hat:top=40mm,depth=20..50mm,flange=20 mm..30 mm,t=1.2mm")
    assert spec.ranges == {"depth": (20.0, 50.0), "flange": (20.0, 30.0)}
    assert spec.values == {"top": 40.0, "t": 1.2}
    with pytest.raises(InputError, match="depth is a range"):
        spec.family()
    made = spec.family(depth=np.array([20.0, 30.0]), flange=25.0)
    assert made.batch == 2
    assert parse_spec("hat:top=1in..2in,depth=20mm,flange=20mm,t=1mm").ranges["top"] == pytest.approx((25.4, 50.8))
    with pytest.raises(InputError, match="small to large"):
        parse_spec("hat:top=40mm,depth=50mm..20mm,flange=20mm,t=1.2mm")


FAULTS = [
    ("hatt:top=40mm", "did you mean 'hat'"),
    ("zzz:top=40mm", "Known are hat"),
    ("hat", "dimensions of the hat are missing"),
    ("hat:top=40mm,dept=30mm,flange=20mm,t=1mm", "did you mean 'depth'"),
    ("hat:top=40mm,top=50mm,depth=30mm,flange=20mm,t=1mm", "given twice"),
    ("hat:top=40mm,depth=30mm,flange=20mm", "lacks t"),
    ("hat:top 40mm", "not of the form name=size"),
    ("hat:top=40,depth=30mm,flange=20mm,t=1mm", "no unit"),
    ("hat:top=40mm,depth=30mm,flange=20mm,t=0mm", "t"),
    ("hat:top=4mm,depth=30mm,flange=20mm,t=1mm,r=3mm", "at least 8 mm"),
    ("hat:top=40mm,depth=5mm,flange=20mm,t=1mm,r=3mm", "depth of 5 mm is too small"),
    ("hat:top=40mm,depth=30mm,flange=2mm,t=1mm,r=3mm", "flange at least 3 mm"),
    ("hat-skin:top=40mm,depth=30mm,flange=20mm,t=1mm,r=3mm,skin=60mm,skin_t=1mm", "does not reach the weld lines"),
    ("hat-skin:top=40mm,depth=30mm,flange=20mm,t=1mm,r=3mm,skin=99mm,skin_t=1mm,weld=18mm", "not on the flat"),
    ("beaded-hat:top=60mm,depth=30mm,flange=20mm,t=1mm", "no bead given"),
    ("beaded-hat:top=60mm,depth=30mm,flange=20mm,t=1mm,bead=15mm", "needs both"),
    ("beaded-hat:top=60mm,depth=30mm,flange=20mm,t=1mm,bead=15mm,bead_depth=9mm", "half circle"),
    ("beaded-hat:top=90mm,depth=15mm,flange=20mm,t=1mm,bead=60mm,bead_depth=20mm", "does not fit inside"),
    ("beaded-hat:top=30mm,depth=30mm,flange=20mm,t=1mm,bead=40mm,bead_depth=5mm", "too small"),
    ("lipped-channel:web=30mm,flange=30mm,lip=20mm,t=1mm", "lips"),
    ("lap:left=60mm,overlap=25mm,right=60mm,t=1mm,weld=30mm", "beyond the overlap"),
    ("tube:od=10mm,t=6mm", "does not fit"),
    ("points:at=0 0 mm,t=1mm", "at least two points"),
    ("points:at=0 0/40 mm,t=1mm", "not a list of points"),
    ("points:at=0 0/40 0/20 0 mm,t=1mm", "folds back"),
    ("points:at=0 0/0 0/20 0 mm,t=1mm", "are the same"),
    ("points:at=0 0/40 40/40 0/0 40 mm,t=1mm,r=1mm", "cross"),
    ("points:at=0 0/40 0/40 2/38 2 mm,t=1mm,r=3mm", "bends leave"),
    ("points:t=1mm", "lacks at"),
]


@pytest.mark.parametrize("text, says", FAULTS)
def test_faults_are_told(text, says):
    with pytest.raises(InputError) as told:
        parse_profile(text)
    assert says in str(told.value)
    assert told.value.field.startswith("profile")


def test_a_batch_is_masked_where_it_cannot_be_built():
    hats = Hat(
        top=np.array([40.0, 4.0, 40.0, np.nan]), depth=30.0, flange=np.array([20.0, 20.0, 2.0, 20.0]), t=1.0, r=3.0
    )
    assert hats.valid().tolist() == [False, False, False, False] or hats.valid().tolist() == [True, False, False, False]
    finite = Hat(top=np.array([40.0, 4.0, 40.0]), depth=30.0, flange=np.array([20.0, 20.0, 2.0]), t=1.0, r=3.0)
    assert finite.valid().tolist() == [True, False, False]
    with pytest.raises(InputError, match="flange of 2 mm"):
        finite.check()
    two = BeadedHat(
        top=60.0, depth=30.0, flange=20.0, t=1.0, r=1.0, bead=np.array([15.0, 15.0]), bead_depth=np.array([4.0, 9.0])
    )
    assert two.valid().tolist() == [True, False]


def test_disconnected_and_crossing_outlines_are_named():
    one = np.ones((1, 1))
    loose = Outline(
        (Segment("left", "flat", 0, 1), Segment("right", "flat", 2, 3)),
        np.array([[0.0], [1.0], [2.0], [3.0]]), np.zeros((4, 1)), *([one] * 8),
    )  # fmt: skip
    with pytest.raises(InputError, match="'right' is not joined"):
        _ = loose.tree
    with pytest.raises(InputError, match="no part"):
        loose.index("middle")
    assert crossing(Box(depth=40.0, width=30.0, t=1.0, r=2.0).outline()) is None
    folded = Points(ys=(0.0, 30.0, 30.0, 5.0, 5.0), zs=(0.0, 0.0, 20.0, 20.0, -5.0), t=1.0, r=2.0)
    assert crossing(folded.outline()) == ("side 1", "side 4")


def test_points_can_draw_the_families():
    """A hat and a closed box by their mid-line corners have the properties of the families."""
    hat = parse_profile("hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm").properties()
    drawn = parse_profile(
        "points:at=-40 0.6/-19.4 0.6/-19.4 29.4/19.4 29.4/19.4 0.6/40 0.6 mm,t=1.2mm,r=2mm"
    ).properties()
    assert drawn.row() == pytest.approx(hat.row(), rel=1e-9, abs=1e-6)
    box = parse_profile("box:depth=40mm,width=30mm,t=1.5mm,r=2mm").properties()
    ring = parse_profile(
        "points:at=0.75 0.75/29.25 0.75/29.25 39.25/0.75 39.25/0.75 0.75 mm,t=1.5mm,r=2mm"
    ).properties()
    for name in ("area", "I_y", "I_z", "J", "W_pl_y", "shear_centre_height", "enclosed_area"):
        assert getattr(ring, name)[0] == pytest.approx(getattr(box, name)[0], rel=1e-9)


def test_fractions_in_points_and_gauges_in_ranges() -> None:
    spec = parse_spec("points:at=0 0; 1-1/2 0; 1-1/2 3/4 in,t=1mm")
    assert [part for point in spec.points for part in point] == pytest.approx([0, 0, 38.1, 0, 38.1, 19.05])
    with pytest.raises(InputError, match="part them by ';'"):
        parse_spec("points:at=0 0/1-1/2 0 in,t=1mm")
    steel = {20: 0.912, 14: 1.897}  # Manufacturers' Standard Gauge, tables/gauge_steel_cold_rolled
    for text in ("20ga..14ga", "14ga..20ga", "20..14 ga"):
        spec = parse_spec(f"hat:top=2in,depth=1in,flange=3/4in,t={text},r=1/16in", gauge=lambda g, _: steel[g.number])
        assert spec.ranges["t"] == (0.912, 1.897)
        assert {gauge.number for gauge in spec.gauges["t"]} == {20, 14}
    for text, words in {"20ga..2mm": "mixes a gauge", "20swg..14ga": "mixes", "20ga..20ga": "one gauge"}.items():
        with pytest.raises(InputError, match=words):
            parse_spec(f"hat:top=2in,depth=1in,flange=3/4in,t={text},r=1/16in", gauge=lambda g, _: steel[g.number])


def test_a_range_may_say_its_step() -> None:
    text = "hat:top=2in,depth=1in..2in step 1/4in,flange=3/4in,t={t},r=1/16in"
    spec = parse_spec(text.format(t="1/32..1/8 in steps of 1/32 in"))
    assert spec.ranges["depth"] == (25.4, 50.8)
    assert spec.steps == {"depth": pytest.approx(6.35), "t": pytest.approx(0.79375)}
    with pytest.raises(InputError, match="longer than the range"):
        parse_spec(text.format(t="1mm..2mm step 2mm"))
    with pytest.raises(InputError, match="from gauge to gauge"):
        parse_spec(text.format(t="20ga..14ga step 2"), gauge=lambda g, _: 30.0 / g.number)
