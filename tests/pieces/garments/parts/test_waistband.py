"""The straight waistband."""

from __future__ import annotations

from typing import Any

import pytest

from pieces.garments.parts.waistband import UNDERLAP, waistband


@pytest.mark.parametrize(("make", "deep", "cut"), [("folded", 60.0, 1), ("two-layer", 30.0, 2)])
def test_size_and_layers(make: Any, deep: float, cut: int) -> None:
    """Folded, it is once as long as the waist and the underlap, and twice as deep; of two layers, twice and single."""
    band = waistband(700.0, 30.0, 10.0, make, [("side", 350.0)], underlap=UNDERLAP)
    assert (band.length, band.width, band.cut) == (pytest.approx(700 + UNDERLAP + 20), pytest.approx(deep + 20), cut)
    assert band.edge("waist").length == pytest.approx(700) and band.edge("underlap").length == pytest.approx(UNDERLAP)
    assert [(notch.name, notch.point[0]) for notch in band.notches] == [("side", 350.0), ("underlap", 700.0)]


def test_a_ring_has_no_underlap() -> None:
    """Closed to a ring it is as long as the waist."""
    band = waistband(700.0, 30.0, 10.0, "folded", [], underlap=0.0)
    assert band.length == pytest.approx(720) and "underlap" not in {edge.name for edge in band.edges}
