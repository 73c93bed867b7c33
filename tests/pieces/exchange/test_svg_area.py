"""Which outlines of a path bound filled ground, by both rules of SVG 1.1, 11.3."""

from __future__ import annotations

import numpy as np
import pytest

from pieces.exchange.svg_area import MOST_RINGS, edges_of_fill


def square(half: float, *, clockwise: bool = False) -> np.ndarray:
    """A square round the origin."""
    ring = half * np.array([(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)])
    return ring[::-1] if clockwise else ring


@pytest.mark.parametrize(
    ("ways", "rule", "edges"),
    [
        ((False, False), "nonzero", [True, False]),  # one way both: the inner bounds nothing
        ((False, True), "nonzero", [True, True]),  # the other way: a hole
        ((False, False), "evenodd", [True, True]),
        ((False, True, False), "nonzero", [True, True, True]),  # an island in the hole
        ((False, False, True), "nonzero", [True, False, False]),
    ],
)
def test_by_the_way_they_run(ways: tuple[bool, ...], rule: str, edges: list[bool]) -> None:
    """Squares in one another, the largest first."""
    assert edges_of_fill([square(9.0 - 3 * i, clockwise=way) for i, way in enumerate(ways)], rule) == edges


def test_one_alone_and_far_too_many() -> None:
    """A single outline bounds its fill; of thousands in one path none is taken for a pattern."""
    assert edges_of_fill([square(1.0)], "nonzero") == [True]
    assert not any(edges_of_fill([square(1.0)] * (MOST_RINGS + 1), "evenodd"))
