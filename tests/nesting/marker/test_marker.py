"""Markers and results: densities by hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from nesting.cloth.fabric import Fabric
from nesting.marker.marker import Marker, Placement, Result
from nesting.problem.lay import lay_pieces
from nesting.problem.problem import Problem
from pieces.length import mm
from tests.make.cloth import back, front, in_a_row

if TYPE_CHECKING:
    from pieces.summary import UnitsAsked

SQUARE = [(0, 0), (100, 0), (100, 100), (0, 100)]


@pytest.fixture
def two_squares() -> Marker:
    """Two 10 cm squares one behind another on 15 cm cloth: the shortest marker is 20 cm."""
    return in_a_row(Problem.from_outlines(150, [SQUARE], [2], [[0.0]]))


def test_density(two_squares: Marker) -> None:
    """200 of 300 cm² become pieces: two thirds."""
    assert two_squares.length == 200
    assert two_squares.density == pytest.approx(2 / 3)


def test_density_of_folded_cloth() -> None:
    """A whole back of 500 cm² and two fronts of 250 out of 400 x 400 mm in two layers... by hand 62.5 %."""
    marker = in_a_row(lay_pieces([back(), front()], Fabric("twill", mm(400.0)), "folded"))
    assert marker.length == 400
    assert marker.density == pytest.approx((50_000 + 2 * 25_000) / (400 * 400))


def test_repr(two_squares: Marker) -> None:
    """One line in trade units."""
    assert repr(two_squares) == "<Marker: 2 placements, 0.200 m, 66.6%>"


def test_outlines_lie_in_place(two_squares: Marker) -> None:
    """The second square's corners are those of the first, 10 cm on."""
    first, second = (outline for *_, outline in two_squares.outlines())
    assert np.array_equal(second, first + (100, 0))


def test_result_says_what_could_be_saved(two_squares: Marker) -> None:
    """With a bound of 133 mm a third of the marker could at most be saved; never less than nothing."""
    result = Result(two_squares, 400 / 3, "the pieces' area alone", 10, 0.5, 1, "iterations")
    assert result.gap == pytest.approx(1 / 3)
    assert Result(two_squares, 200.0 + 1e-9, "", 0, 0.0, 0, "proved").gap == 0


@pytest.mark.parametrize(
    ("units", "length", "cloth", "least"),
    [("in", "7 7/8 in", "1/4 yd", "5 1/8 in"), ("cm", "20 cm", "0.20 m", "13 cm")],
)
def test_summary(two_squares: Marker, units: UnitsAsked, length: str, cloth: str, least: str) -> None:
    """The summary is seven aligned lines in trade units: needs rounded up, bounds down."""
    result = Result(two_squares, 400 / 3, "the pieces' area alone", 10, 0.5, 1, "effort", work=0.1)
    assert result.summary(units).splitlines() == [
        f"length    {length}",
        f"cloth     {cloth}, before any allowance",
        "density   66.6%",
        f"at least  {least} (the pieces' area alone)",
        "effort    0.10",
        "time      0.50 s (effort)",
        "seed      1",
    ]


def test_placements_are_values() -> None:
    """Two placements of the same numbers are equal."""
    assert Placement(0, 0, 0, 1.0, 2.0) == Placement(0, 0, 0, 1.0, 2.0)
