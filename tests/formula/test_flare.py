"""Flare and bevel groove throats by AISC 360 Tables J2.1, J2.2."""

import pytest

from jointcalc.errors import InputError
from jointcalc.formula import flare

IN, KIP = 25.4, 4448.2216152605
KSI = KIP / IN**2


def test_flare_bevel_of_a_published_handbook_example():
    """Structural steel handbook: R = 2 x 3/8 = 0.75 in, SMAW.  Printed: throat 0.234 in, 31.5 ksi (LRFD)."""
    R = 2 * 3 / 8 * IN
    t_e = flare.FLARE_THROAT(k_R=flare.throat_per_radius("flare-bevel", "SMAW"), R=R, gap=0.0)
    assert t_e / IN == pytest.approx(0.234, abs=5e-4)
    assert 0.75 * flare.GROOVE_SHEAR_STRENGTH(F_EXX=70 * KSI, t_e=2.0) / KSI == pytest.approx(2 * 31.5)


@pytest.mark.parametrize(
    "groove, process, k_R",
    [
        ("flare-bevel", "GMAW", 5 / 8),
        ("flare-bevel", "SMAW", 5 / 16),
        ("flare-bevel", "SAW", 5 / 16),
        ("flare-V", "GMAW", 3 / 4),
        ("flare-V", "SMAW", 5 / 8),
        ("flare-V", "SAW", 1 / 2),
    ],
)
def test_factors_of_table_j2_2(groove, process, k_R):
    """AISC 360 Table J2.2, six entries as printed."""
    assert flare.throat_per_radius(groove, process) == pytest.approx(k_R)


def test_under_filled_groove_loses_the_gap():
    """AISC 360 Table J2.2 note: subtract the depth to flush."""
    full = flare.FLARE_THROAT(k_R=0.625, R=12.0, gap=0.0)
    assert full == pytest.approx(7.5)
    assert flare.FLARE_THROAT(k_R=0.625, R=12.0, gap=1.5) == pytest.approx(full - 1.5)


def test_small_radius_is_outside():
    """AISC 360: R under 3/8 in (10 mm) counts only by its reinforcing fillet."""
    assert flare.FLARE_THROAT.outside(k_R=0.625, R=9.5, gap=0.0)
    assert not flare.FLARE_THROAT.outside(k_R=0.625, R=10.0, gap=0.0)


def test_unknown_process_is_named():
    """A process the table does not have is refused with the table named."""
    with pytest.raises(InputError, match="flare_throat"):
        flare.throat_per_radius("flare-bevel", "TIG")
