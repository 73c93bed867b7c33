"""A piece that may be two which touch."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from pieces.photo.fitted import fit_outline
from pieces.photo.lines import even
from pieces.photo.mark import PaperMark
from pieces.photo.touching import touching_words
from pieces.photo.trace import trace_photos
from pieces.photo.traced import TracedPiece
from tests.make.photos import QUICK, kept, photo

if TYPE_CHECKING:
    from pathlib import Path

    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

WHOLE = np.array([(0.0, 0.0), (200.0, 0.0), (200.0, 150.0), (0.0, 150.0)])
BY_A_CORNER = np.array(
    [(0.0, 0.0), (100.0, 0.0), (108.0, 80.0), (200.0, 95.0), (180.0, 190.0), (100.0, 90.0), (0.0, 90.0)]
)


def piece(outline: Floats, *lines: list[tuple[float, float]]) -> TracedPiece:
    """A piece with lines on it."""
    marks = tuple(PaperMark("inner line", np.array(line), "likely", "a line") for line in lines)
    return TracedPiece("front", fit_outline(even(np.vstack([outline, outline[:1]]), 1.0), 0.3), 1.0, 1.0, marks)


@pytest.mark.parametrize(
    ("made", "why"),
    [
        (piece(WHOLE), ""),
        (piece(WHOLE, [(20.0, 75.0), (180.0, 75.0)]), ""),
        (piece(WHOLE, [(3.0, 75.0), (197.0, 77.0)]), "a line runs all across it"),
        (piece(WHOLE, [(3.0, 50.0), (197.0, 50.0)], [(3.0, 99.0), (197.0, 99.0)]), "2 lines run all across it"),
        (piece(WHOLE, [(3.0, 3.5), (197.0, 3.5)]), ""),  # what it parts is no piece
        (piece(BY_A_CORNER), "it is narrower than 20 mm"),
    ],
)
def test_may_be_two(made: TracedPiece, why: str) -> None:
    """A line from edge to edge, or a neck between wide parts; a line that ends within is none."""
    said = " ".join(touching_words(made))
    assert why in said
    assert bool(why) == ("'front' may be two pieces that touch" in said)


def test_pieces_a_millimetre_apart(tmp_path: Path) -> None:
    """No table is seen between them: they come as one, and that is told at its outline."""
    strip = np.array([(-100.0, 210.0), (300.0, 210.0), (300.0, 300.0), (-100.0, 300.0)])
    path = kept(tmp_path, photo([strip, strip * (0.6, 1.0) + (60.0, 91.0)], QUICK, []))
    _, report, _ = trace_photos([path])
    assert [number for number, said in report.alarms if "may be two pieces that touch" in said] == [1]
