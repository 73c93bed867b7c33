"""Loose lines joined: by hand-made squares, in any order and direction."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from pieces.exchange.drawing import DrawnLine
from pieces.exchange.mend.joining import as_ring, join

CORNERS = [(0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)]


def line(*points: tuple[float, float], number: int = 0) -> DrawnLine:
    """An open line through points."""
    return DrawnLine(np.array(points), numbers=(number,))


def four_sides(gap: float = 0.0) -> list[DrawnLine]:
    """Sides of a square as four lines, every other one backwards, each short of its end by a gap."""
    sides = [(CORNERS[i], CORNERS[(i + 1) % 4]) for i in range(4)]
    cut = [(a, tuple(e - np.sign(e - s) * gap for s, e in zip(a, b, strict=True))) for a, b in sides]
    return [line(*(pair[:: (-1) ** i]), number=i) for i, pair in enumerate(cut)]


def test_four_sides_make_a_square() -> None:
    """Whichever way they were drawn, four lines that meet make one closed outline that knows all four."""
    (square,) = join(four_sides(), 0.1)
    assert square.closed and square.gap == 0.0
    assert shapely.Polygon(square.points).area == 10_000
    assert sorted(square.numbers) == [0, 1, 2, 3]


def test_gaps_are_closed_within_the_tolerance_and_told() -> None:
    """Ends 0.5 mm apart meet at a tolerance of 1 mm, and the gap is said; at 0.1 mm they stay apart."""
    (square,) = join(four_sides(0.5), 1.0)
    assert square.closed and square.gap == pytest.approx(0.5)
    assert all(not found.closed for found in join(four_sides(0.5), 0.1))


def test_a_line_drawn_twice_counts_once() -> None:
    """The second of two like lines is dropped, by its number."""
    (square,) = join([*four_sides(), line(CORNERS[0], CORNERS[1], number=7)], 0.1)
    assert (square.doubled, square.dropped) == (1, (7,))
    assert shapely.Polygon(square.points).area == 10_000


def test_a_line_across_leaves_the_outer_outline() -> None:
    """Where more than two lines meet, the outline is that round all of them; the line within stays open."""
    square, across = join([*four_sides(), line(CORNERS[0], CORNERS[2], number=4)], 0.1)
    assert not across.closed and across.numbers == (4,)
    assert square.closed and square.branched
    assert shapely.Polygon(square.points).area == 10_000


def test_a_line_that_ends_where_it_begins_is_closed() -> None:
    """Its first point is then not repeated; of three points it would be no area."""
    points, closed = as_ring(np.array([*CORNERS, CORNERS[0]]), closed=False)
    assert closed and points.tolist() == [list(corner) for corner in CORNERS]
    assert as_ring(np.array(CORNERS), closed=False)[1] is False
