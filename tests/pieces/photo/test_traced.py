"""What is told of traced pieces, and their sketches."""

from __future__ import annotations

import numpy as np
import pytest

from pieces.exchange.imported import ImportReport
from pieces.photo.fitted import FittedOutline, FittedRun
from pieces.photo.mark import PaperMark
from pieces.photo.paper import TableView
from pieces.photo.sketched import sketches_of
from pieces.photo.traced import PhotoFit, TracedPhoto, TracedPiece

CORNERS = [(0.0, 100.0), (400.0, 100.0), (400.0, 400.0), (0.0, 400.0)]


def piece(*marks: PaperMark) -> TracedPiece:
    """A rectangle of 400 by 300 mm."""
    ends = zip(CORNERS, [*CORNERS[1:], CORNERS[0]], strict=True)
    runs = tuple(FittedRun("line", np.array(pair), 0.1) for pair in ends)
    return TracedPiece("piece 1", FittedOutline(runs), 1.2, 0.6, marks)


def photo(traced: TracedPiece) -> TracedPhoto:
    """A photo of it."""
    view = TableView(np.zeros((2, 2, 3), np.uint8), np.zeros(2), 1.0, np.ones((2, 2), bool))
    return TracedPhoto((PhotoFit("a.jpg", ("A",), 5.0, 0.1, 0.05),), view, (traced,))


def test_lengths_to_measure() -> None:
    """The two longest sides, and the diagonal."""
    assert [round(mm) for _, _, mm in piece().measured()] == [400, 400, 500]
    assert [each["mm"] for each in piece().to_plain()["measured"]] == pytest.approx([400, 400, 500])


def test_the_grain_runs_along_a_fold_that_it_all_but_follows() -> None:
    """A grainline drawn 1 degree off the fold is made exactly parallel; of one at 20 degrees nothing is changed."""
    fold = PaperMark("fold", np.array([(0.0, 100.0), (400.0, 100.0)]), "sure", "a bracket")
    for off, expected in ((1.0, 0.0), (20.0, 20.0)):
        end = 100 * np.array([np.cos(np.radians(off)), np.sin(np.radians(off))])
        grain = PaperMark("grain", np.array([(150.0, 200.0), (150 + end[0], 200 + end[1])]), "sure", "an arrow")
        report = ImportReport("photos")
        (sketch,) = sketches_of([photo(piece(fold, grain))], report, {}, is_turned=False)
        assert sketch.angle(0.0) == pytest.approx(expected, abs=1e-9)
        assert {place for place, _ in sketch.taken} == {"piece", "grain", "fold"}


def test_what_is_unsure_is_a_guess() -> None:
    """A mark that is only likely is told as guessed, so that --strict would refuse it; writing is left out by name."""
    line = PaperMark("inner line", np.array([(50.0, 200.0), (300.0, 220.0)]), "likely", "a line")
    words = PaperMark("writing", np.array(CORNERS) / 4 + 150, "likely", "like writing")
    report = ImportReport("photos")
    (sketch,) = sketches_of([photo(piece(line, words))], report, {}, is_turned=False)
    assert len(sketch.inner) == 1 and len(report.guesses) == 2
    assert [entry.why for entry in report.account.entries if entry.place == "left out"] == [
        "words in photos are not read"
    ]


def test_why_each_is_what_it_is() -> None:
    """Outline and marks say by what they are taken for it, in whatever order they were found."""
    words = PaperMark("writing", np.array(CORNERS) / 4 + 150, "likely", "like writing")
    line = PaperMark("inner line", np.array([(50.0, 200.0), (300.0, 220.0)]), "likely", "a line")
    notch = PaperMark("notch", np.array([(0.0, 150.0)]), "sure", "a short line")
    report = ImportReport("photos")
    sketches_of([photo(piece(words, line, notch))], report, {}, is_turned=False)
    assert [(entry.kind, entry.sure, entry.reason) for entry in report.account.entries] == [
        ("closed outline", "placed", "the edge of the paper"),
        ("point", "placed", "a short line"),
        ("open line", "guessed", "a line"),
        ("words", "guessed", "like writing"),
    ]


def test_an_error_is_never_told_smaller_than_it_is() -> None:
    """Hundredths of a millimetre are rounded up; nothing is missed by 0.00 mm."""
    assert "missed by 0.01 mm" in PhotoFit("a.jpg", ("A",), 5.0, 0.1, 0.0004).words
    assert "missed by 0.06 mm" in PhotoFit("a.jpg", ("A",), 5.0, 0.1, 0.0501).words
