"""The common fabric conversion chart against figures worked out from it independently, by hand."""

from __future__ import annotations

import pytest

from reports.widths.conversion import BASE, ratios

INCH = 25.4


@pytest.mark.parametrize(
    ("width", "least", "mean", "most"),
    [(60, 0.727, 0.760, 0.786), (45, 1.0, 1.0, 1.0), (36, 1 / 0.850, None, 1 / 0.735)],
)
def test_ratios(width: int, least: float, mean: float | None, most: float) -> None:
    """From 45 to 60 in 0.727 to 0.786, 0.760 on average; from 36 to 45 in 0.735 to 0.850."""
    low, middle, high = ratios()[width * INCH]
    assert low == pytest.approx(least, abs=1e-3)
    assert high == pytest.approx(most, abs=1.5e-3)
    assert mean is None or middle == pytest.approx(mean, abs=1e-3)


def test_one_garment() -> None:
    """A garment of 3 1/8 yd on 36 in takes 2 1/2 yd on 45 in and 1 7/8 yd on 60 in: a row of the table."""
    table = ratios()
    assert table[36 * INCH][0] <= 3.125 / 2.5 <= table[36 * INCH][2]
    assert table[60 * INCH][0] <= 1.875 / 2.5 <= table[60 * INCH][2]
    assert BASE == 45 * INCH


def test_wider_takes_less() -> None:
    """The mean falls from each width to the next."""
    means = [mean for _, (_, mean, _) in sorted(ratios().items())]
    assert means == sorted(means, reverse=True)
