"""Rings on cloth: what is said of them holds for a cutter who lays a disc in the ring's hole."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
import pytest

from nesting.cloth.fabric import Fabric
from nesting.problem.lay import lay_pieces
from nesting.proof.bounds import lower_bound
from nesting.search.prove import prove_on
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations
from pieces import Piece
from pieces.length import mm
from pieces.piece.piece import InnerLine

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from nesting.cloth.spread import Spread


def round_of(radius: float) -> NDArray[np.float64]:
    """Points on a circle, mm."""
    angles = np.linspace(0, 2 * math.pi, 41)[:-1]
    points: NDArray[np.float64] = np.column_stack((np.cos(angles), np.sin(angles))) * radius
    return points


def disc(radius: float) -> Piece:
    """A disc, mm."""
    return Piece.from_polygon(round_of(radius), "disc", unit="mm")


def ring(outer: float, inner: float) -> Piece:
    """A ring, mm."""
    hole = tuple((x, y) for x, y in round_of(inner).tolist())
    return Piece.from_polygon(round_of(outer), "ring", unit="mm", inner=(InnerLine("cutout", hole),))


def test_cloth_without_the_hole() -> None:
    """The cloth of a ring is one disc less another; on folded cloth too, of which two are cut at once."""
    for spread, number in (("open", 1), ("folded", 2)):
        wide = Fabric("felt", width=mm(500.0 * number), nap=False)
        whole, outer, inner = (
            lay_pieces([piece], wide, spread, garments=number).piece_area  # type: ignore[arg-type]
            for piece in (ring(200, 100), disc(200), disc(100))
        )
        assert whole == pytest.approx(outer - inner)


@pytest.mark.parametrize(("spread", "number"), [("open", 1), ("folded", 2)])
def test_bounds_allow_for_the_hole(spread: Spread, number: int) -> None:
    """On cloth as wide as the ring, discs lie in its hole: bounds are no longer than the ring."""
    felt = Fabric("felt", width=mm(400.0 * number), nap=False)
    problem = lay_pieces([ring(200, 120), disc(110)], felt, spread, garments=number)
    assert 399.0 < lower_bound(problem)[0] <= 400.0


@pytest.mark.parametrize(("radius", "least", "most"), [(90.0, 0.0, 400.0), (130.0, 500.0, 660.0)])
def test_what_fits_in_is_not_ruled_out(radius: float, least: float, most: float) -> None:
    """Proofs end at what the ring takes if the disc fits in its hole; if not, beyond it, and no later than laid."""
    problem = lay_pieces([ring(200, 100), disc(radius)], Fabric("felt", width=mm(400), nap=False), "open")
    found = solve(problem, MaxIterations(20))
    bound = prove_on(found, 6.0).bound
    assert least <= bound <= min(most, found.marker.length)
    assert found.marker.length > 400.0 + radius
