"""Lines that meet exactly put end to end: by circles of many chords, made here."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from pieces.exchange.drawing import DrawnLine
from pieces.exchange.mend.chained import chained, clusters
from pieces.exchange.mend.joining import join


def chords(radius: float, many: int, first: int = 0) -> list[DrawnLine]:
    """A circle as so many lines, every third one backwards."""
    angles = 2 * np.pi * np.arange(many + 1) / many
    points = radius * np.array([np.cos(angles), np.sin(angles)]).T
    points[-1] = points[0]
    return [
        DrawnLine(points[i : i + 2] if i % 3 else points[i : i + 2][::-1], numbers=(first + i,)) for i in range(many)
    ]


@pytest.mark.parametrize("many", [30, 3000])
def test_chords_shorter_than_the_tolerance_stay(many: int) -> None:
    """A circle of chords of 0.06 mm is that circle, even if gaps of 0.5 mm are closed."""
    (circle,) = join(chords(30.0, many), 0.5)
    assert circle.closed and circle.gap == 0.0 and len(circle.numbers) == many
    wanted = many * 900 * np.sin(2 * np.pi / many) / 2  # of a regular polygon by its outer radius
    assert float(shapely.Polygon(circle.points).area) == pytest.approx(wanted, rel=1e-9)


def test_gap_in_short_chords_is_closed() -> None:
    """With one chord missing, the rest is one line whose ends are joined; the gap is told."""
    (circle,) = join(chords(30.0, 1000)[1:], 0.5)
    assert circle.closed
    assert circle.gap == pytest.approx(60 * np.sin(np.pi / 1000))


def test_every_second_line_drawn_twice() -> None:
    """Lines drawn twice are dropped by their numbers, and the circle stays."""
    circle = chords(30.0, 300)
    again = [DrawnLine(line.points[::-1], numbers=(1000 + i,)) for i, line in enumerate(circle[::2])]
    (found,) = join([*circle, *again], 0.5)
    assert found.closed and len(found.dropped) == 150
    assert min(found.dropped) >= 1000


def test_a_line_that_branches_ends_the_chain() -> None:
    """A line from the circle's middle to a corner of it is one chain, and the circle another."""
    circle = chords(30.0, 12)
    chains, doubled = chained([*circle, DrawnLine(np.array([(0.0, 0.0), (30.0, 0.0)]), numbers=(99,))])
    assert not doubled
    assert sorted(len(chain.members) for chain in chains) == [1, 12]


def test_clusters() -> None:
    """Points within the tolerance have one number, through others between them as well."""
    points = np.array([(0.0, 0.0), (0.9, 0.0), (1.8, 0.0), (9.0, 0.0)])
    a, b, c, d = clusters(points, 1.0).tolist()
    assert a == b == c != d
