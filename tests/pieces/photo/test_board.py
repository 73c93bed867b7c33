"""The board of the reference sheet."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest
import shapely

from pieces.photo.board import CELLS, CORRECTED, reference_board


def test_codes_are_far_apart() -> None:
    """Any two codes differ in 7 cells however they are turned, and each from itself turned: two may be corrected."""
    board = reference_board()
    turned = [[np.rot90(board.bits(n), times) for times in range(4)] for n in range(len(board.codes))]
    least = min(int((a[0] != b).sum()) for a, others in combinations(turned, 2) for b in others)
    own = min(int((one[0] != other).sum()) for one in turned for other in one[1:])
    assert min(least, own) == 7 > 2 * CORRECTED


def test_geometry() -> None:
    """Sixteen by twelve squares of 15 mm: half of them black, a code in each white one, 165 inner corners."""
    board = reference_board()
    assert board.size == (240.0, 180.0)
    assert len(board.white()) == len(board.codes) == 96 == len(board.coded_corners())
    assert board.inner_corners().shape == (165, 2)
    drawn = shapely.union_all([shapely.box(*each) for each in board.black()])
    cells = sum(int((1 - board.bits(n)).sum()) for n in range(96)) + 96 * ((CELLS + 2) ** 2 - CELLS**2)
    assert drawn.area == pytest.approx(96 * 15**2 + cells * 1.6**2)
    assert drawn.bounds == (0.0, 0.0, 240.0, 180.0)


def test_coded_squares_lie_in_white_ones() -> None:
    """The first code lies in the second square of the first row, its corners clockwise from the upper left."""
    corners = reference_board().coded_corners()[0]
    assert corners == pytest.approx(np.array([(1.9, 16.9), (1.9, 28.1), (13.1, 28.1), (13.1, 16.9)]))
