"""Weights of cloth."""

from __future__ import annotations

import pytest

from reports.errors import PriceError
from reports.money.weight import Weight


@pytest.mark.parametrize(
    ("text", "gsm"),
    [("240 g/m2", 240), ("240gsm", 240), ("7 oz/yd2", 237.34), ("7 OZ / YD²", 237.34), ("1.5 g/m^2", 1.5)],
)
def test_read(text: str, gsm: float) -> None:
    """7 oz a square yard are 7 x 28.3495 g on 0.83613 m²."""
    assert Weight.parse(text).gsm == pytest.approx(gsm, rel=1e-4)


@pytest.mark.parametrize("text", ["240", "7 oz", "7 oz/m2", "240 g/yd2", "0 g/m2", "5001 g/m2", "heavy", 240])
def test_refused(text: str) -> None:
    """Without a unit, in a mixed one, or of no cloth."""
    with pytest.raises(PriceError):
        Weight.parse(text)


def test_kilograms() -> None:
    """2 m of 1.5 m at 200 g/m² are 600 g."""
    assert Weight.parse("200 g/m2").kilograms(2000.0, 1500.0) == pytest.approx(0.6)
