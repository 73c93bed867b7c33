"""A sleeve's cap, solved to its armhole; lengths by shapely."""

from __future__ import annotations

import pytest
import shapely

from pieces.garments.parts.cap import BACK_LEAD, FRONT_LEAD, cap_of_height, half_cap, sleeve_edges, solve_cap
from pieces.piece.curve import polyline_length


@pytest.mark.parametrize(("front", "back", "width"), [(280.0, 300.0, 440.0), (200.0, 190.0, 330.0)])
def test_each_half_of_the_cap_meets_its_half_of_the_armhole(front: float, back: float, width: float) -> None:
    """Front and back cap are as long as the armholes they are sewn into, and as wide together as asked."""
    cap = solve_cap(front, back, width)
    assert cap.width == pytest.approx(width)
    assert polyline_length(half_cap(cap.height, cap.front, FRONT_LEAD)) == pytest.approx(front, abs=0.01)
    assert polyline_length(half_cap(cap.height, cap.back, BACK_LEAD)) == pytest.approx(back, abs=0.01)


@pytest.mark.parametrize("height", [40.0, 110.0, 150.0])
def test_a_cap_of_a_height(height: float) -> None:
    """Its halves meet their armholes; the cap solved to the width it has is the same one."""
    cap = cap_of_height(height, 210.0, 225.0)
    edges = {edge.name: edge for edge in sleeve_edges(cap, 500.0, 200.0, 10.0)}
    assert shapely.LineString(edges["front cap"].points).length == pytest.approx(210.0, abs=0.01)
    assert shapely.LineString(edges["back cap"].points).length == pytest.approx(225.0, abs=0.01)
    assert solve_cap(210.0, 225.0, cap.width).height == pytest.approx(height, abs=0.01)
    assert edges["wrist"].length == pytest.approx(200.0)
    assert edges["front underarm"].length == pytest.approx(edges["back underarm"].length)
