"""A batch against the same candidates one at a time, and the chunks."""

import numpy as np
import pytest

from jointcalc.errors import InputError
from jointcalc.section import FAMILIES, parse_spec
from jointcalc.section.batch import GROSS, chunks, evaluate, midspan_deflection, stream
from jointcalc.section.effective_aisi import effective_aisi
from jointcalc.section.effective_en1993 import effective_en
from jointcalc.section.families.hat import Hat
from jointcalc.section.forming import blank


def random_hats(count, seed=3):
    rng = np.random.default_rng(seed)
    t = rng.uniform(0.6, 2.5, count)
    return Hat(
        top=rng.uniform(20, 120, count),
        depth=rng.uniform(12, 140, count),
        flange=rng.uniform(8, 50, count),
        t=t,
        r=t * rng.uniform(0, 2.5, count),
    )


UNITS = {"area": 2, "centroid_height": 1, "I_y": 4, "I_z": 4, "J": 4, "W_y_top": 3, "W_y_bottom": 3, "W_pl_y": 3, "W_pl_z": 3,
         "C_w": 6}  # fmt: skip
"""Power of a length that each property is, for the size of the terms it is summed from."""


def alike(name, p):
    """Within rounding of the terms a property is summed from: what cancels keeps fewer digits of itself."""
    value = float(getattr(p, name)[0])
    area, depth = float(p.area[0]), max(float(p.I_y[0] / p.area[0]) ** 0.5, float(p.I_z[0] / p.area[0]) ** 0.5)
    terms = area * depth ** (UNITS[name] - 2) if name in UNITS else 0.0
    return pytest.approx(value, rel=1e-10, abs=1e-11 * terms)


def test_batch_agrees_with_one_at_a_time():
    """Every answer of a batch equals that of the single profile, to the digits the sums have."""
    hats = random_hats(60)
    answers = evaluate(
        hats, f_y=355.0, faces=("top", "bottom", "all"), gross=(*GROSS, "C_w", "W_pl_y", "beta_y"), size=16
    )
    assert answers.valid.sum() > 0
    for i in np.flatnonzero(answers.valid):
        one = Hat(**{k: float(v[i]) for k, v in hats.dimensions().items()})
        p = one.properties()
        for name in (*GROSS, "C_w", "W_pl_y"):
            assert answers[name][i] == alike(name, p)
        assert answers["blank_width"][i] == pytest.approx(blank(one).width[0], rel=1e-10)
        for face in ("top", "bottom", "all"):
            e, a = effective_en(one, f_yb=355.0, compression=face), effective_aisi(one, F_y=355.0, compression=face)
            for kind, made in (("en", e), ("aisi", a)):
                assert answers[f"moment_{kind}_{face}"][i] == pytest.approx(made.moment[0], rel=1e-10)
                assert answers[f"I_eff_{kind}_{face}"][i] == pytest.approx(made.I_y[0], rel=1e-10)
                assert answers[f"inside_{kind}_{face}"][i] == float(not made.outside())


@pytest.mark.parametrize("text, letter", [
    ("hat-skin:top=40mm,depth=20..60mm,flange=20mm,t=0.8mm,skin=160mm,skin_t=0.7mm", "depth"),
    ("lipped-channel:web=60..180mm,flange=40mm,lip=12mm,t=0.9mm", "web"),
    ("beaded-hat:top=50..140mm,depth=40mm,flange=20mm,t=0.8mm,bead=20mm,bead_depth=5mm", "top"),
    ("zed:web=40..160mm,flange=30mm,t=0.8mm", "web"),
    ("angle:leg=20..70mm,foot=30mm,t=0.8mm", "leg"),
    ("lap:left=60mm,overlap=25mm,right=60mm,t=0.8mm,step=1..20mm", "step"),
    ("rect-tube:depth=30..120mm,width=60mm,t=1mm", "depth"),
    ("tube:od=20..120mm,t=1mm", "od"),
    ("bar:depth=5..40mm,width=20mm", "depth"),
])  # fmt: skip
def test_other_families_in_a_batch(text, letter):
    spec = parse_spec(text)
    low, high = spec.ranges[letter]
    values = np.linspace(low, high, 7)
    answers = evaluate(spec.family(**{letter: values}), f_y=355.0, gross=(*GROSS, "C_w", "W_pl_z"))
    assert answers.valid.any()
    for i in np.flatnonzero(answers.valid):
        one = spec.family(**{letter: float(values[i])})
        p = one.properties()
        for name in (*GROSS, "C_w", "W_pl_z"):
            assert answers[name][i] == alike(name, p)
        for face in ("top", "bottom"):
            e = effective_en(one, f_yb=355.0, compression=face)
            a = effective_aisi(one, F_y=355.0, compression=face)
            assert answers[f"moment_en_{face}"][i] == pytest.approx(e.moment[0], rel=1e-10)
            assert answers[f"moment_aisi_{face}"][i] == pytest.approx(a.moment[0], rel=1e-10)


def test_chunks_cover_everything_once():
    parts = list(chunks(10, 4))
    assert [(p.start, p.stop) for p in parts] == [(0, 4), (4, 8), (8, 10)]
    hats = random_hats(37)
    seen, done = [], []
    for part, found in stream(hats, f_y=235.0, methods=(), size=10):
        assert found.valid.shape == (part.stop - part.start,)
        seen.append(part.stop)
    evaluate(hats, f_y=235.0, methods=(), size=10, progress=done.append)
    assert seen == done == [10, 20, 30, 37]


def test_impossible_candidates_are_zero_and_marked():
    hats = Hat(top=np.array([40.0, 4.0]), depth=30.0, flange=20.0, t=1.0, r=3.0)
    answers = evaluate(hats, f_y=355.0)
    assert answers.valid.tolist() == [True, False]
    assert answers["area"][1] == 0.0
    assert answers["moment_en_top"][1] == 0.0
    assert np.isfinite(answers["moment_aisi_bottom"]).all()


def test_the_iteration_has_converged():
    """At the answer the axis is where the section's own effective part puts it; more rounds change nothing."""
    hats = random_hats(4000, seed=5)
    hats = hats.take(hats.valid())
    for face in ("top", "bottom"):
        few = effective_aisi(hats, F_y=355.0, compression=face)
        many = effective_aisi(hats, F_y=355.0, compression=face, rounds=100)
        assert few.W_eff == pytest.approx(many.W_eff, rel=1e-9)
        assert few.refined is not None
        column = int(few.refined[0][0])
        assert few.steps(column)[-1].value == pytest.approx(few.moment[column], rel=1e-10)
        one = effective_aisi(
            Hat(**{k: float(v[column]) for k, v in hats.dimensions().items()}), F_y=355.0, compression=face
        )
        assert one.moment[0] == pytest.approx(few.moment[column], rel=1e-10)


def test_midspan_deflection():
    """P L^3/48 EI and 5 w L^4/384 EI (handbook beam table)."""
    assert midspan_deflection(EI=np.array([1e9]), span=1000.0, point=480.0)[0] == pytest.approx(10.0)
    assert midspan_deflection(EI=1e9, span=1000.0, spread=0.384) == pytest.approx(5.0)


def test_unknown_method_is_refused():
    with pytest.raises(InputError, match="use en or aisi"):
        evaluate(random_hats(3), f_y=355.0, methods=("din",))


def test_every_family_can_be_taken_apart():
    for kind in FAMILIES:
        assert FAMILIES[kind].letters()
        assert set(FAMILIES[kind].required()) - {"at"} <= set(FAMILIES[kind].letters())


def test_memory_does_not_grow_with_the_count():
    """Streaming three times as many candidates takes no more memory than streaming one part of them."""
    import tracemalloc

    def peak(count):
        hats = random_hats(count)
        tracemalloc.start()
        for _ in stream(hats, f_y=355.0, size=2000):
            pass
        top = tracemalloc.get_traced_memory()[1]
        tracemalloc.stop()
        return top

    peak(2000)
    assert peak(18000) < 1.2 * peak(6000)
