"""Spot sizes by class, against the printed slug table of BS 1140 and the pull-out sizes of the sources."""

from __future__ import annotations

import pytest

from jointcalc.formula import spot_size
from jointcalc.tables.store import load

# BS 1140:1993 minimum slug diameter, mm, as printed (read); the rows of 1.0 and 1.1 mm (5.5) look like misprints
SLUG = {
    0.6: 3.9, 0.7: 4.2, 0.8: 4.5, 0.9: 4.7, 1.2: 5.5, 1.4: 5.9, 1.6: 6.3, 1.8: 6.7, 2.0: 7.1, 2.2: 7.4, 2.5: 7.9, 3.0: 8.6,
}  # fmt: skip


@pytest.mark.parametrize(("t", "slug"), SLUG.items())
def test_set_up_size_is_the_slug_table(t: float, slug: float) -> None:
    """P15 is the row of 2.0 mm, 7.1 mm; 3.0 mm prints 8.6 for 8.66."""
    assert spot_size.TARGET(t=t) == pytest.approx(slug, abs=0.061)


def test_the_shipped_table_is_that_table() -> None:
    table = load("spot_slug_bs1140")
    for t, slug in SLUG.items():
        assert table.find(t=f"{t}")["slug_diameter_min"] == f"{slug}"


def test_classes_by_hand() -> None:
    """Sheet of 1.44 mm, root 1.2: 3.5, 4 and 5 roots (ISO 14373, AWS D8.1M, BS 1140; the first two from memory)."""
    assert spot_size.MINIMUM(t=1.44) == pytest.approx(4.2)
    assert spot_size.USUAL(t=1.44) == pytest.approx(4.8)
    assert spot_size.TARGET(t=1.44) == pytest.approx(6.0)
    assert spot_size.FUSION_EN(t=1.44) == pytest.approx(5.72)  # 0.5 t + 5 mm, EN 1993-1-3 8.4(3), from memory


def test_words_of_the_builder() -> None:
    assert spot_size.CLASSES == {
        "minimum": spot_size.MINIMUM, "usual": spot_size.USUAL, "target": spot_size.TARGET,
    }  # fmt: skip
