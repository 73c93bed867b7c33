"""Pieces and markers for tests, small enough to be checked by hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nesting.marker.marker import Marker, Placement
from pieces import Piece
from tests.make.outlines import sides

if TYPE_CHECKING:
    from nesting.problem.problem import Problem

SLANTED = [(0.0, 0.0), (200.0, 0.0), (200.0, 100.0), (0.0, 150.0)]
OBLONG = [(0.0, 0.0), (80.0, 0.0), (80.0, 50.0), (0.0, 50.0)]


def back() -> Piece:
    """Half a back: 200 mm long, 150 and 100 mm from the fold at its ends."""
    return Piece("back", sides(SLANTED, [0.0] * 4, fold=0))


def front() -> Piece:
    """A pair of fronts of the same shape."""
    return Piece("front", sides(SLANTED, [0.0] * 4), cut=2, mirrored_pair=True)


def patch(cut: int = 1) -> Piece:
    """A slanted piece that is no pair: all lie the same way up."""
    return Piece("patch", sides(SLANTED, [0.0] * 4), cut=cut)


def tab(cut: int = 2) -> Piece:
    """A rectangle of 80 x 50 mm: the same on both sides."""
    return Piece("tab", sides(OBLONG, [0.0] * 4), cut=cut)


def in_a_row(problem: Problem) -> Marker:
    """The plainest marker there is: everything one behind another, each as low as it may lie."""
    placements, x = [], 0.0
    for i, item in enumerate(problem.items):
        for copy in range(item.quantity):
            placements.append(Placement(i, copy, 0, x, item.variants[0].low))
            x += item.variants[0].length + problem.gap
    return Marker(problem, tuple(placements), x - problem.gap)
