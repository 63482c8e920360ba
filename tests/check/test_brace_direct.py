"""Braces by direct strength: a published example, bounds by hand, interactions, and where it does not apply."""

from __future__ import annotations

from typing import Any

import pytest

from jointcalc.check.brace import check_brace
from jointcalc.model.brace import Brace
from jointcalc.model.fields import build
from jointcalc.result import Check, Result
from jointcalc.section.effective_aisi import E_AISI

KIP_IN = 4448.2216152605 * 25.4
KSI = 6.894757
LIPPED = "lipped-channel:web=9in,flange=2.5in,lip=0.773in,t=0.059in,r=0.1875in"
HAT = "hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm"
SKIN = "hat-skin:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm,skin=120mm,skin_t=1mm,weld=9mm"
BENDING, DISTORTION = "aisi-s100.direct-strength-bending", "aisi-s100.distortional"
STRUT, STRUT_DISTORTION = "aisi-s100.direct-strength-compression", "aisi-s100.distortional-compression"


def judged(profile: str = HAT, **more: Any) -> Result:
    # as drawn, so that sagging presses the top of the profile
    data = {"profile": profile, "grade": "S355MC", "span": "1000 mm", "lies": "crown-up", **more}
    return check_brace(build(Brace, data))


def named(result: Result, key: str) -> Check:
    found = [c for c in result.checks if c.key == key]
    assert found, f"no {key} among {[c.key for c in result.checks]}"
    return found[0]


def capacity(result: Result, key: str) -> float:
    check = named(result, key)
    assert check.capacity is not None
    assert check.capacity.value is not None
    return check.capacity.value


def value(result: Result, name: str) -> float:
    found = result.values[name].value
    assert found is not None
    return found


def test_a_published_beam() -> None:
    """9 x 2.5 x 0.773 x 0.059 in, 55 ksi, held: M_nl 94 and M_nd 93 kip in, M_crl 0.67 and M_crd 0.85 M_y (from memory)."""
    result = judged(
        LIPPED, point="500 N @ 500 mm", held="both", yield_strength=f"{55 * KSI} MPa", tensile_strength="480 MPa"
    )
    # the elastic moments are ours, the print rounds them to two digits: one per cent of the strengths
    assert capacity(result, f"{BENDING}.sagging") / KIP_IN == pytest.approx(94.0, rel=0.01)
    assert capacity(result, f"{DISTORTION}.sagging") / KIP_IN == pytest.approx(93.0, rel=0.01)
    assert named(result, f"{BENDING}.sagging").required_factor == 1.67
    M_y = 55 * KSI * value(result, "W_y_top")
    assert value(result, "M_crl_sagging") / M_y == pytest.approx(0.67, abs=0.01)
    assert value(result, "M_crd_sagging") / M_y == pytest.approx(0.85, abs=0.01)
    assert value(result, "L_crl_sagging") < value(result, "L_crd_sagging")


def test_distortion_lowers_what_effective_widths_allow() -> None:
    """A deep lipped channel of thin sheet whose lip is short: only F4 sees that its flange turns."""
    text = "lipped-channel:web=120mm,flange=50mm,lip={}mm,t=1.2mm,r=1.5mm"
    short, long = (judged(text.format(lip), point="500 N @ 500 mm", held="both") for lip in (8, 16))
    for result in (short, long):
        assert named(result, f"{DISTORTION}.sagging").status == "ok"
    assert capacity(short, f"{DISTORTION}.sagging") < capacity(short, "aisi-s100.bending.sagging")
    assert capacity(short, f"{DISTORTION}.sagging") < capacity(long, f"{DISTORTION}.sagging")


def test_a_stocky_held_profile_yields() -> None:
    """Nothing buckles: local and distortional strength are both the moment at first yield, S F_y."""
    text = "lipped-channel:web=50mm,flange=30mm,lip=14mm,t=2.5mm,r=2.5mm"
    result = judged(text, point="500 N @ 500 mm", held="both")
    M_y = 355.0 * min(value(result, "W_y_top"), value(result, "W_y_bottom"))
    assert capacity(result, f"{BENDING}.sagging") == pytest.approx(M_y)
    assert capacity(result, f"{DISTORTION}.sagging") == pytest.approx(M_y)


def test_direct_strength_starts_from_the_same_global_strength() -> None:
    """Stocky walls: the strength against lateral-torsional buckling is that of the effective widths, all effective."""
    result = judged("channel:web=80mm,flange=30mm,t=3mm,r=3mm", point="500 N @ 750 mm", span="1500 mm")
    assert capacity(result, f"{BENDING}.sagging") == pytest.approx(
        capacity(result, "aisi-s100.lateral-torsional.sagging"), rel=1e-6
    )
    assert value(result, "M_cre_sagging") > capacity(result, f"{BENDING}.sagging")  # elastic, before the curve


def test_a_strut() -> None:
    result = judged("hat:top=40mm,depth=30mm,flange=12mm,t=1.2mm,r=2mm", compression="5 kN")
    # the local load by hand: the widest wall between hinged and clamped on its mid-line width, k = 4.0 and 6.97
    D = E_AISI * 1.2**3 / (12 * (1 - 0.3**2))
    low, high = (k * 3.141592653589793**2 * D / (1.2 * 38.8**2) for k in (4.0, 6.97))
    assert low < value(result, "P_crl") / value(result, "area") < high
    # the flexural-torsional load is that of the effective widths' column
    assert capacity(result, STRUT) <= capacity(result, "aisi-s100.compression") * 1.1
    assert value(result, "P_cre") < value(result, "P_crd")
    assert named(result, STRUT).required_factor == named(result, STRUT_DISTORTION).required_factor == 1.80


def test_distortion_counts_in_compression_with_bending() -> None:
    """AISI H1.2: available strengths are the lowest of chapters E and F, distortion included."""
    text = "lipped-channel:web=120mm,flange=50mm,lip=8mm,t=1.2mm,r=1.5mm"
    result = judged(text, point="500 N @ 500 mm", compression="5 kN", held="both")
    together = named(result, "aisi-s100.beam-column.sagging")
    eta = next(step for step in together.trace if getattr(getattr(step, "formula", None), "symbol", "") == "eta")
    least_N = min(capacity(result, key) for key in ("aisi-s100.compression", STRUT_DISTORTION))
    least_M = min(capacity(result, key) for key in ("aisi-s100.bending.sagging", f"{DISTORTION}.sagging"))
    assert least_M == capacity(result, f"{DISTORTION}.sagging")
    assert eta.inputs["P_a"] == pytest.approx(least_N / 1.80)
    assert eta.inputs["M_a"] == pytest.approx(least_M / 1.67)


@pytest.mark.parametrize(
    "profile, why",
    [
        ("tube:od=38mm,t=2mm", "round tube"),
        ("bar:depth=30mm,width=5mm", "solid bar"),
        ("angle:leg=40mm,foot=40mm,t=4mm", "angle"),
        ("lap:left=60mm,overlap=25mm,right=60mm,t=1mm,step=10mm,r=2mm", "lap"),
    ],
)
def test_what_it_is_not_written_for(profile: str, why: str) -> None:
    result = judged(profile, point="50 N @ 500 mm", compression="200 N", held="both")
    for key in (f"{BENDING}.sagging", STRUT):
        assert named(result, key).status == "outside"
        assert why in named(result, key).note


def test_a_skin_in_compression_is_left_to_effective_widths() -> None:
    """The skin runs on beyond the width that is given, so its edges are not free."""
    sag = judged(SKIN, point="750 N @ 500 mm")
    assert named(sag, f"{BENDING}.sagging").status == "ok"
    assert not [c for c in sag.checks if c.key.startswith(DISTORTION)]  # a closed section does not distort
    hog = judged(SKIN, point="-750 N @ 500 mm")
    assert named(hog, f"{BENDING}.hogging").status == "outside"
    assert named(hog, "aisi-s100.bending.hogging").status == "ok"


@pytest.mark.parametrize(
    "profile, more, what",
    [
        # AISI S100-16 Table B4.1-1, from memory
        ("channel:web=60mm,flange=40mm,t=0.5mm,r=0.5mm", {}, "at most 60"),
        ("lipped-channel:web=100mm,flange=90mm,lip=12mm,t=0.5mm,r=0.5mm", {}, "at most 160"),
        ("lipped-channel:web=200mm,flange=60mm,lip=15mm,t=0.6mm,r=0.6mm", {}, "at most 300"),
        ("lipped-channel:web=100mm,flange=30mm,lip=25mm,t=1.5mm,r=1.5mm", {}, "at most 0.7"),
        ("channel:web=90mm,flange=50mm,t=1mm,r=22mm", {}, "at most 20"),
        (HAT, {"yield_strength": "700 MPa", "tensile_strength": "750 MPa"}, "at most 655"),
    ],
)
def test_beyond_the_table_it_is_outside(profile: str, more: dict[str, str], what: str) -> None:
    result = judged(profile, point="20 N @ 500 mm", held="both", **more)
    check = named(result, f"{BENDING}.sagging")
    assert check.status == "outside"
    assert what in check.note


U = "points:at=0 30/0 0/20 0/20 30 mm,t=1.2mm,r=2mm"


def test_a_symmetric_free_outline_is_judged_sideways() -> None:
    """No closed form knows a free outline: the strips do.  Against M^2 = N_z (G J + E C_w k - M beta) worked by hand."""
    brace = build(
        Brace, {"profile": U, "grade": "S355MC", "span": "1500 mm", "lies": "crown-up", "point": "50 N @ 750 mm"}
    )
    result = check_brace(brace)
    p = brace.properties
    k, G = (3.141592653589793 / 1500) ** 2, E_AISI / 2.6
    N_z = E_AISI * k * float(p.I_z[0])
    twist = G * float(p.J[0]) + E_AISI * k * float(p.C_w[0])
    beta = float(p.beta_y[0])
    M_cre = (-beta * N_z + ((beta * N_z) ** 2 + 4 * N_z * twist) ** 0.5) / 2
    check = named(result, f"{BENDING}.sagging")
    F_cre = next(step.value for step in check.trace if getattr(step, "symbol", "") == "F_cre")
    assert F_cre * value(result, "W_y_top") == pytest.approx(M_cre, rel=0.01)
    assert not [why for why in result.unjudged if "sideways" in why]
    assert check.capacity.value <= 1.01 * M_cre


def test_an_outline_that_bends_askew_is_not() -> None:
    """A zed free to move sideways: the product of inertia would bend it sideways, which nothing here follows."""
    result = judged("zed:web=40mm,flange=20mm,t=1.2mm,r=2mm", point="50 N @ 500 mm")
    check = named(result, f"{BENDING}.sagging")
    assert check.status == "outside"
    assert "askew" in check.note
    assert result.status == "outside"


def test_a_strut_without_symmetry_is_solved_by_strips() -> None:
    """Unequal angle in compression: Vlasov's equations by hand, flexure about both axes and torsion coupled."""
    import numpy as np

    brace = build(
        Brace,
        {"profile": "angle:leg=40mm,foot=25mm,t=3mm,r=3mm", "grade": "S355MC", "span": "1000 mm", "lies": "crown-up",
         "compression": "500 N", "eccentricity": "0 mm"},
    )  # fmt: skip
    p = brace.properties
    k, G = (np.pi / 1000) ** 2, E_AISI / 2.6
    y_s, z_s = float(p.y_shear_centre[0] - p.y_centroid[0]), float(p.z_shear_centre[0] - p.z_centroid[0])
    i_y, i_z, i_yz = (E_AISI * k * float(v[0]) for v in (p.I_y, p.I_z, p.I_yz))
    stiff = np.array([[i_z, i_yz, 0], [i_yz, i_y, 0], [0, 0, E_AISI * float(p.C_w[0]) * k + G * float(p.J[0])]])
    force = np.array([[1, 0, z_s], [0, 1, -y_s], [z_s, -y_s, float(p.i_0[0]) ** 2]])
    by_hand = min(np.linalg.eigvals(np.linalg.solve(force, stiff)).real)
    assert value(check_brace(brace), "P_cre") == pytest.approx(by_hand, rel=0.015)


def test_a_shallow_bead_dips_with_its_flat_whatever_holds_the_crown() -> None:
    """A bead too shallow to hold the crown: the half-wave of both together is longer, and its stress lower."""
    text = "beaded-hat:top=100mm,depth=60mm,flange=20mm,t=1mm,r=2mm,bead=15mm,bead_depth={}mm"
    shallow, deep = (judged(text.format(d), point="500 N @ 500 mm", held="both") for d in (2, 6))
    assert value(shallow, "M_crd_sagging") < value(shallow, "M_crl_sagging")
    assert named(shallow, f"{DISTORTION}.sagging").status == "ok"
    assert value(shallow, "M_crd_sagging") < 0.6 * value(deep, "M_crd_sagging")


def test_a_sheet_too_thin_for_the_table_is_bounded_by_the_thinnest_within() -> None:
    """Web h/t over 300 (from memory): the load that is too much for the sheet at the edge is too much for a thinner."""
    text = "lipped-channel:web=200mm,flange=60mm,lip=15mm,t={}mm,r=0.6mm"
    edge = (200 - 2 * 0.6) / (300 + 2)  # web flat 200 - 2 (t + r) = 300 t
    key = f"{BENDING}.sagging"
    most = capacity(judged(text.format(edge * 1.0001), point="20 N @ 500 mm", held="both"), key)
    force = most / 1.67 / 250
    thin = text.format(edge * 0.97)
    assert named(judged(thin, point=f"{force * 1.1} N @ 500 mm", held="both"), key).status == "over"
    assert named(judged(thin, point=f"{force * 0.9} N @ 500 mm", held="both"), key).status == "outside"


def test_every_step_names_the_strips() -> None:
    """The elastic loads are computed, not from a book; the formulas are from memory, and so is the check."""
    check = named(judged(point="750 N @ 500 mm"), f"{BENDING}.sagging")
    assert any("finite strips" in step.how for step in check.trace if hasattr(step, "how"))
    assert check.provenance == "from memory"
