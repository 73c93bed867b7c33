"""Fullness against published figures."""

from __future__ import annotations

import pytest

from pieces.errors import DraftError
from pieces.shapes.fullness import Gathers, Pleats, full_width


@pytest.mark.parametrize(("fold", "times"), [(1.0, 3.0), (0.5, 2.0), (1.5, 4.0), (2.0, 5.0)])
def test_pleats(fold: float, times: float) -> None:
    """Pleats of the spacing, half, one and a half and twice of it (wlweather.net, ROUGH048: all four)."""
    assert Pleats(fold, 1.0).times == pytest.approx(times)


def test_pleats_as_sewn() -> None:
    """1 in pleats with 1/2 in between: 4 1/2 in of 10 1/2 in (treadleyardgoods, January 2024)."""
    assert full_width("skirt", 4.5, Pleats(1.0, 1.5))[0] == pytest.approx(10.5)


@pytest.mark.parametrize(("edge", "wide"), [(20.0, 50.0), (15.0, 37.5)])
def test_gathers(edge: float, wide: float) -> None:
    """20 in and 15 in gathered 2.5 to 1 take 50 and 37 1/2 in (published worked examples)."""
    assert full_width("frill", edge, Gathers(2.5))[0] == pytest.approx(wide)


def test_too_full() -> None:
    """What nobody sews is refused."""
    with pytest.raises(DraftError, match=r"'frill' is pleated .*: fullness is from 1 to 6"):
        full_width("frill", 100.0, Pleats(100.0, 10.0))
