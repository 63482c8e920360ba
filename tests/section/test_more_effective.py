"""More strips cut out by hand, and batches that pass on what they were given."""

from __future__ import annotations

import numpy as np
import pytest

from jointcalc.section.batch import evaluate, midspan_deflection, stream
from jointcalc.section.effective_aisi import effective_aisi
from jointcalc.section.families.hat import Hat
from jointcalc.section.forming import blank


@pytest.mark.parametrize("top", [25.0, 38.0])
def test_aisi_slender_web_against_the_strip_cut_out_by_hand(top: float) -> None:
    """AISI S100-16 Appendix 1, 1.1.2 (from memory): the buckled strip of each web, cut from the polygon by shapely.

    k = 4 + 2 (1 + psi)^3 + 2 (1 + psi); b_1 = b_e/(3 + psi); b_2 = b_e/2 where h_o/b_o <= 4 (top of 38 mm), else
    b_e/(1 + psi) - b_1 (top of 25 mm).
    """
    from section_solids import moments, solid
    from shapely.geometry import box

    t, r, F_y = 1.0, 4.0, 355.0
    f = {"top": top, "depth": 150.0, "flange": 40.0, "t": t, "r": r}
    e = effective_aisi(Hat(**f), F_y=F_y)
    z_e = e.z_centroid[0]
    upper, lower = 150.0 - r - t, r + t
    w = upper - lower
    most = max(150.0 - z_e, z_e)
    f_1, f_2 = F_y * (upper - z_e) / most, F_y * (z_e - lower) / most
    psi = f_2 / f_1
    k = 4 + 2 * (1 + psi) ** 3 + 2 * (1 + psi)
    lamda = 1.052 / np.sqrt(k) * w / t * np.sqrt(f_1 / 203000.0)
    b_e = (1 - 0.22 / lamda) / lamda * w
    b_1 = b_e / (3 + psi)
    b_2 = b_e / 2 if top > 150 / 4 else b_e / (1 + psi) - b_1
    compressed = w / (1 + psi)
    assert lamda > 0.673
    assert b_1 + b_2 < compressed
    shape = solid("hat", f)
    for sign in (-1, 1):
        x = sorted((sign * (top / 2 - t - 0.5), sign * (top / 2 + 0.5)))
        shape = shape.difference(box(x[0], z_e + b_2, x[1], upper - b_1))
    area, _, z, i_y, _, _ = moments(shape)
    assert e.area[0] == pytest.approx(area, rel=5e-4)
    assert e.z_centroid[0] == pytest.approx(z, rel=5e-4)
    assert e.I_y[0] == pytest.approx(i_y, rel=5e-4)


def hats() -> Hat:
    """Three hats, the middle one with a bend too wide for its top."""
    return Hat(top=np.array([40.0, 8.0, 60.0]), depth=30.0, flange=20.0, t=1.2, r=np.array([2.0, 9.0, 3.0]))


@pytest.mark.parametrize("which", [[0, 2], [0, 1, 2]])
def test_a_batch_passes_on_density_and_bend_factor(which: list[int]) -> None:
    """Aluminium's density and a stated K reach every candidate, whether all of the chunk can be built or not."""
    wide = hats().take(np.array(which))
    answers = evaluate(wide, f_y=200.0, density=2.7e-9, K=0.40)
    streamed = {
        name: value
        for _, b in stream(wide, f_y=200.0, density=2.7e-9, K=0.40)
        for name, value in b.values.items()
        if name.startswith("blank")
    }
    for i, hat in enumerate(which):
        if hat == 1:
            assert not answers.valid[i]
            continue
        one = hats().take(np.array([hat]))
        made = blank(one, K=0.40, density=2.7e-9)
        assert blank(one, density=2.7e-9).width[0] != pytest.approx(made.width[0])
        assert answers["blank_width"][i] == pytest.approx(made.width[0])
        assert answers["blank_mass_per_metre"][i] == pytest.approx(made.mass_per_metre[0])
        assert streamed["blank_width"][i] == pytest.approx(made.width[0])
        assert streamed["blank_mass_per_metre"][i] == pytest.approx(made.mass_per_metre[0])
        assert answers["EI"][i] == pytest.approx(210e3 * one.properties().I_y[0])


def test_midspan_deflection_of_each_load_alone() -> None:
    """P L^3/(48 EI) and 5 w L^4/(384 EI); a load that is not given is nothing."""
    assert midspan_deflection(EI=1e9, span=1000.0, point=480.0) == pytest.approx(10.0)
    assert midspan_deflection(EI=1e9, span=1000.0, spread=0.768) == pytest.approx(10.0)
    assert midspan_deflection(EI=[10**9, 2 * 10**9], span=1000.0, point=480.0) == pytest.approx([10.0, 5.0])
