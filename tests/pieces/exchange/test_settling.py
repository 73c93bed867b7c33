"""What a sketch took of the file is found again in the piece, or told as left out."""

from __future__ import annotations

import numpy as np
import pytest

from pieces.errors import AccountError
from pieces.exchange.imported import ImportReport
from pieces.exchange.settling import settle
from pieces.exchange.sketch.sketch import Sketch, entered, piece_of

SQUARE = np.array([(0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)])


def sketched() -> tuple[Sketch, ImportReport]:
    """A square with a notch and a drill point, entered in an account: three entries."""
    report = ImportReport("SVG")
    sketch = Sketch("panel", SQUARE, notches=[("a", (100.0, 50.0))], drills=[(50.0, 50.0)])
    return entered(sketch, report), report


def test_all_that_was_taken_is_put_with_its_piece() -> None:
    """Outline, notch and drill point each stand where they ended, under the piece's name."""
    sketch, report = sketched()
    settle(sketch, piece_of(sketch, 0.0, report), report)
    assert [(e.place, e.of) for e in report.account.entries] == [
        ("piece", "panel"), ("notch", "panel"), ("drill point", "panel"),
    ]  # fmt: skip


def test_what_makes_no_piece_is_left_out_with_the_reason() -> None:
    """Nothing of it disappears: each entry is left out, and says why."""
    sketch, report = sketched()
    settle(sketch, None, report, "it encloses nothing")
    assert {(e.place, e.why) for e in report.account.entries} == {("left out", "it encloses nothing")}


def test_a_mark_lost_on_the_way_is_a_fault() -> None:
    """Were a notch taken that the piece does not have, it would be said, not passed over."""
    sketch, report = sketched()
    piece = piece_of(sketch, 0.0, report)
    sketch.take("notch", (99,))
    with pytest.raises(AccountError, match="'panel' has 1 of notch, and 2 were taken"):
        settle(sketch, piece, report)


def test_a_grainline_that_does_not_count_is_left_out() -> None:
    """Where the grain is said otherwise, the line drawn for it is told as left out."""
    sketch, report = sketched()
    source = report.account.source("LINE")
    number = report.account.enter(source, "open line", points=SQUARE[:2])
    sketch.grain, sketch.turn = ((0.0, 0.0), (100.0, 0.0)), 90.0
    sketch.take("grain", (number,))
    settle(sketch, piece_of(sketch, 0.0, report), report)
    entry = report.account.entries[number - 1]
    assert entry.place == "left out" and "grain" in entry.why
