"""What became of pieces that were read again, in words."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from pieces.piece.outline import Edge
from pieces.piece.piece import Piece
from pieces.units import Units
from reports.page.answers.remade import remade


def panel(name: str, wide: float = 200.0) -> Piece:
    """A rectangle of 100 mm along the grain."""
    ring = np.array([(0.0, 0.0), (100.0, 0.0), (100.0, wide), (0.0, wide), (0.0, 0.0)])
    return Piece(name, (Edge("outline", ring, 0.0),), grain=((10.0, 50.0), (90.0, 50.0)))


def test_nothing_has_changed() -> None:
    """The same pieces are no news."""
    assert remade([panel("a")], [panel("a")], Units.METRIC) == []


def test_what_has_changed() -> None:
    """A size, a count, a name, one more and one less: each is said once."""
    before = [panel("a"), panel("b", 150), panel("c", 120)]
    after = [replace(panel("a", 210), cut=2), panel("d", 150), panel("e", 90)]
    assert remade(before, after, Units.METRIC) == [
        "'a': cut 1, now cut 2; 10.0 × 20.0 cm, now 10.0 × 21.0 cm",
        "'b' is called 'd' now",
        "'e' is new: 10.0 × 9.0 cm",
        "'c' is gone",
    ]


def test_in_inches() -> None:
    """To a sixteenth."""
    assert remade([], [panel("a", 254)], Units.INCHES) == ["'a' is new: 3 15/16 in × 10 in"]
