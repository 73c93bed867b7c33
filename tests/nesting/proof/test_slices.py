"""The sharper bound for few pieces."""

from __future__ import annotations

from dataclasses import replace
from itertools import islice
from typing import Any

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from pytest import MonkeyPatch

from nesting import Fabric, lay_pieces, solve
from nesting.folds.fold_then_open import fold_then_open
from nesting.problem.problem import Problem
from nesting.proof.bounds import lower_bound
from nesting.proof.slices import HELD, profile, slice_bound
from nesting.search.fill import fill, orders
from nesting.search.stop import MaxIterations
from nesting.shape.nofit import NoFit
from nesting.shape.shapes import Shapes
from pieces import Piece
from pieces.length import mm
from tests.make.cloth import front
from tests.make.jigsaw import jigsaw
from tests.make.outlines import sides
from tests.make.polygons import star


def rectangle(length: float, height: float) -> list[tuple[float, float]]:
    """A rectangle along the axes."""
    return [(0, 0), (length, 0), (length, height), (0, height)]


def test_too_wide_to_lie_beside_one_another() -> None:
    """Two of 100 by 60 and one of 80 by 50, on 100 of cloth: no two beside one another, so 280; the area proves 160."""
    problem = Problem.from_outlines(100.0, [rectangle(100, 60), rectangle(80, 50)], [2, 1], [[0.0], [0.0]])
    bound, _ = slice_bound(problem)
    assert 270 < bound <= 280


def test_sharper_than_area() -> None:
    """Three squares of 40 on 100 of cloth: two beside one another, the third behind; the area alone proves 48."""
    problem = Problem.from_outlines(100.0, [rectangle(40, 40)], [3], [[0.0]])
    bound, held = slice_bound(problem)
    assert 76 < bound <= 80
    assert held == HELD


@pytest.mark.parametrize("seed", range(4))
def test_never_longer_than_a_jigsaw(seed: int) -> None:
    """A jigsaw of 100 by 140 can be laid 140 long: no bound is longer."""
    bound, _ = slice_bound(jigsaw(100.0, 140.0, 7, seed=seed), 0.3)
    assert 140 * 0.9 < bound <= 140 * (1 + 1e-6)


@given(star(), st.floats(0.05, 0.95))
def test_profile_is_covered(outline: Any, start: Any) -> None:
    """Wherever an outline starts within a slice, each line covers at least its level (shapely as oracle)."""
    outline = outline - outline.min(axis=0)
    slice_ = float(np.ptp(outline[:, 0])) / 7.3
    found = profile(outline, slice_, 1e-3)
    shape = shapely.Polygon(outline)
    for k, level in enumerate(found.levels, 1):
        x = (k - start) * slice_
        line = shapely.LineString([(x, -1e6), (x, 1e6)])
        assert level * 1e-3 <= shape.intersection(line).length + 1e-6


def test_on_the_jacket(jacket: Any) -> None:
    """On folded cloth the bound lies between the area's and the length of a layout that was found."""
    problem = lay_pieces(jacket.of("shell"), Fabric("cloth", mm(1524.0), mm(12.7)), "folded")
    shapes = Shapes(problem)
    nofit = NoFit(shapes)
    shortest = min(fill(shapes, nofit, order).length for order in islice(orders(shapes, 0), 4))
    bound, _ = slice_bound(problem, 0.2)
    assert lower_bound(problem)[0] * 1.05 < bound <= shortest


def test_repeats() -> None:
    """The same problem and effort give the same bound."""
    problem = jigsaw(100.0, 140.0, 8, seed=5)
    assert slice_bound(problem, 0.2) == slice_bound(problem, 0.2)


def test_many_pieces() -> None:
    """With many pieces the plain bound stands."""
    problem = Problem.from_outlines(100.0, [rectangle(10, 10)], [60], [[0.0]])
    assert slice_bound(problem) == lower_bound(problem)


def test_where_pieces_may_choose(monkeypatch: MonkeyPatch) -> None:
    """Where a pair may be cut double or one by one, slices prove nothing, and the plain bound stands."""
    monkeypatch.setattr("nesting.proof.slices._schedule", None)  # not even asked
    pair = lay_pieces([front()], Fabric("cloth", mm(620.0)), "part-folded", depth=mm(160.0))
    assert pair.choices
    assert slice_bound(pair) == lower_bound(pair)


def test_of_cloth_folded_here_and_there_they_are_taken_opened_out() -> None:
    """Pieces of 300 x 360, four on 1000 of cloth: two beside one another, 600 in all, folded and then opened or not."""
    block = Piece("block", sides([(0, 0), (300, 0), (300, 360), (0, 360)], [0.0] * 4), cut=2, mirrored_pair=True)
    problem = fold_then_open([block, replace(block, name="other")], Fabric("cloth", mm(1000.0)))
    assert lower_bound(problem)[0] < 570.0
    bound, held = slice_bound(problem)
    assert 590.0 < bound <= 600.0
    assert held == HELD
    assert solve(problem, MaxIterations(0)).marker.length == pytest.approx(600)


def test_no_longer_than_what_fits_exactly() -> None:
    """Five of 30.3 x 100 on 100 of cloth lie one behind another: 151.5, which no bound is over, nor far under."""
    problem = Problem.from_outlines(100.0, [rectangle(30.3, 100)], [5], [[0.0]])
    assert 151.5 * 0.97 < slice_bound(problem)[0] <= 151.5 * (1 + 1e-9)
