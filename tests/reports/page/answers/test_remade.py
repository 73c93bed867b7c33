"""What became of pieces that were read again, in words."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np

from pieces.piece.outline import Edge
from pieces.piece.piece import InnerKind, InnerLine, Piece
from pieces.units import Units
from reports.page.answers.remade import remade

LINES: tuple[tuple[InnerKind, float], ...] = (("sew", 20.0), ("line", 20.0), ("line", 30.0))


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


def test_a_line_that_is_another() -> None:
    """As many lines as before, and one of them is another: that is no piece that is the same as before."""
    lines = [replace(panel("a"), inner=(InnerLine(kind, ((10.0, 10.0), (90.0, at))),)) for kind, at in LINES]
    said = [remade([one], [other], Units.METRIC) for one, other in pairwise(lines)]
    assert said == [
        ["'a': 1 sew line on it, now 1 inner line on it"],
        ["'a': its grainline, or lines and marks on it, lie otherwise"],
    ]
    assert remade([panel("a")], [replace(panel("a"), label="top")], Units.METRIC) == [
        "'a': without a label, now labelled 'top'"
    ]
