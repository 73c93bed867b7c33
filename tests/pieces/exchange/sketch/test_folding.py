"""The edge that lies on the fold, where only words say that there is one."""

from __future__ import annotations

import numpy as np
import pytest

from pieces.exchange.imported import ImportReport, ReadingChoices
from pieces.exchange.sketch.folding import fold_by_words
from pieces.exchange.sketch.sketch import Sketch

HALF = np.array([(0.0, 0.0), (300.0, 0.0), (300.0, 80.0), (150.0, 120.0), (0.0, 100.0)])
"""Straight edges that all of it lies beside: 300 mm below, 80 and 100 mm at the ends, two above."""


def folded(**known: object) -> tuple[Sketch, ImportReport]:
    """The half after its words have been followed."""
    sketch, report = Sketch("back", HALF, on_fold=True), ImportReport("SVG")
    for name, value in known.items():
        setattr(sketch, name, value)
    fold_by_words(sketch, ReadingChoices(), report)
    return sketch, report


def test_the_longest_straight_edge_and_the_grain_along_it() -> None:
    """Nothing else known, it is the longest; both are guessed, and said."""
    sketch, report = folded()
    assert set(sketch.fold or ()) == {(0.0, 0.0), (300.0, 0.0)}
    assert sketch.turn == pytest.approx(0.0)
    assert "300 mm" in report.guesses[0] and "the grain runs along it" in report.guesses[0]


def test_the_edge_along_a_known_grain() -> None:
    """With the grain up the page, it is the longer of the two edges that run up."""
    sketch, report = folded(turn=90.0)
    assert set(sketch.fold or ()) == {(0.0, 0.0), (0.0, 100.0)}
    assert "grain" not in report.guesses[0]


def test_words_at_an_edge_mean_that_edge() -> None:
    """`fold` alone, 5 mm from the shorter end."""
    sketch, _ = folded(fold_at=(295.0, 40.0))
    assert set(sketch.fold or ()) == {(300.0, 0.0), (300.0, 80.0)}


def test_no_words_no_fold() -> None:
    """A piece of which nothing is said stays as it is; so does one whose fold is known."""
    sketch, report = folded(on_fold=False)
    assert sketch.fold is None and not report.guesses
    sketch, report = folded(side="left")
    assert sketch.fold is None and not report.guesses


def test_round_pieces_have_no_edge_for_it() -> None:
    """It is then taken as drawn whole, and that is said."""
    turn = np.linspace(0, 2 * np.pi, 60, endpoint=False)
    _, report = folded(outline=50 * np.column_stack([np.cos(turn), np.sin(turn)]))
    assert "has no straight edge for it" in report.guesses[0]
