"""Bolt strengths against the loads printed in ISO 898-1, and interactions at their known points."""

import pytest

from jointcalc.formula import bolt_strength as bolt
from jointcalc.tables.store import load

IN, LBF, KSI = 25.4, 4.4482216, 6.894757

ULTIMATE = {"M6": (16.1, 20.9, 24.5), "M8": (29.2, 38.1, 44.6), "M10": (46.4, 60.3, 70.8), "M12": (67.4, 87.7, 103.0), "M16": (125.0, 163.0, 192.0)}  # fmt: skip
PROOF = {"M6": (11.6, 16.7, 19.5), "M8": (21.2, 30.4, 35.5), "M10": (33.7, 48.1, 56.3), "M12": (48.9, 70.0, 81.8)}
CLASSES = ("8.8", "10.9", "12.9")


def grade(name):
    return next(r for r in load("bolt_classes_iso898").rows if r["class"] == name)


@pytest.mark.parametrize("size", ULTIMATE)
def test_iso_898_1_ultimate_loads(size):
    # ISO 898-1, minimum ultimate tensile loads in kN, printed to three figures (the last one cut, not rounded)
    A_s = load("bolt_metric").find(size=size).need("stress_area")
    for name, kN in zip(CLASSES, ULTIMATE[size]):
        assert bolt.ULTIMATE_LOAD(R_m=grade(name).need("tensile_min"), A_s=A_s) / 1e3 == pytest.approx(kN, rel=5.5e-3)


@pytest.mark.parametrize("size", PROOF)
def test_iso_898_1_proof_loads(size):
    # ISO 898-1, proof loads in kN
    A_s = load("bolt_metric").find(size=size).need("stress_area")
    for name, kN in zip(CLASSES, PROOF[size]):
        assert bolt.PROOF_LOAD(S_p=grade(name).need("proof_stress"), A_s=A_s) / 1e3 == pytest.approx(kN, rel=5e-3)


@pytest.mark.parametrize(
    "D, n, lbf_5, lbf_8", [(0.25, 20, 3800, 4750), (0.375, 16, 9300, 11600), (0.5, 13, 17000, 21300)]
)
def test_sae_j429_loads(D, n, lbf_5, lbf_8):
    # SAE J429, tensile loads in lbf (from memory)
    A_s = 0.7854 * ((D - 0.9743 / n) * IN) ** 2  # ASME B1.1, from memory
    assert bolt.ULTIMATE_LOAD(R_m=120 * KSI, A_s=A_s) / LBF == pytest.approx(lbf_5, rel=6e-3)
    assert bolt.ULTIMATE_LOAD(R_m=150 * KSI, A_s=A_s) / LBF == pytest.approx(lbf_8, rel=6e-3)


def test_seat_belt_bolt():
    # 7/16-20 Grade 5: 76.6 mm2 and 63.4 kN against a 40 kN component rule (J429 strength, computed in the reference)
    A_s = load("bolt_inch").find(size="7/16-20").need("stress_area")
    assert A_s == pytest.approx(76.6, abs=0.1)
    assert bolt.ULTIMATE_LOAD(R_m=827.0, A_s=A_s) / 1e3 == pytest.approx(63.4, abs=0.1)


def test_interactions():
    # Kulak: a circle, so 3-4-5 lies on it
    assert bolt.ELLIPTICAL(f_t=0.6, f_v=0.8) == pytest.approx(1.0)
