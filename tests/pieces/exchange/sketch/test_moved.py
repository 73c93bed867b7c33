"""Corrected points of an outline: what lies between them goes along by its share, and all else stays."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from pieces.exchange.own.sidecar import sidecar_of
from pieces.exchange.sketch.moved import handles_of, moved_ring
from tests.make.layered import read

if TYPE_CHECKING:
    from pathlib import Path

SQUARE = np.array([(0.0, 0.0), (100.0, 0.0), (100.0, 50.0), (100.0, 100.0), (0.0, 100.0)])


def test_corners_and_points_on_curves_are_handles() -> None:
    """A square with a point on one side has four; a round has some, far fewer than its points."""
    assert handles_of(SQUARE) == [0, 1, 3, 4]
    angles = np.linspace(0, 2 * np.pi, 360, endpoint=False)
    assert 3 <= len(handles_of(100 * np.column_stack([np.cos(angles), np.sin(angles)]))) <= 12


def test_what_lies_between_moves_by_its_share() -> None:
    """A corner is drawn out by 10 mm: the middle of the side goes out by 5, the other corners stay."""
    after = moved_ring(SQUARE, {3: (10.0, 4.0)})
    assert after == pytest.approx(SQUARE + [(0, 0), (0, 0), (5, 2), (10, 4), (0, 0)])


def test_a_piece_is_corrected_with_its_notch(tmp_path: Path) -> None:
    """The corner of a pocket is moved; the notch on the side goes along, and it is said how far."""
    text = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="300mm" height="300mm" viewBox="0 0 300 300"><path fill="none" '
        'stroke="#000" d="M0 0H200V100H0Z"/><circle id="notch" cx="200" cy="50" r="1" fill="none" stroke="#000"/></svg>'
    )
    before = read(tmp_path, text)
    (number,) = (e.number for e in before.report.account.entries if e.place == "piece")
    line = {"numbers": [number], "at": [0, 0], "moved": [[200, -100, 220, -100], [7, 7, 8, 8]]}
    found = read(tmp_path, text, sidecar_of({"line": [line]}, "told"))
    (piece,), (was,) = found.pieces, before.pieces
    assert (piece.length, was.length) == (pytest.approx(220), pytest.approx(200))
    assert piece.notches[0].point[0] - was.notches[0].point[0] == pytest.approx(10)
    assert any("1 point of its outline corrected by you, at most 20.0 mm" in said for said in found.report.remarks)
    assert any("no point lies at (7, 7) any more" in said for said in found.report.guesses)


def test_corrections_that_are_not_used_are_told(tmp_path: Path) -> None:
    """Of a line that is gone, and of one that is no cut line."""
    for number, why in ((99, "the file has no line 99"), (6, "it is not a cut line of a piece")):
        told = sidecar_of({"line": [{"numbers": [number], "moved": [[0, 0, 5, 5]]}]}, "told")
        assert any(why in said for said in read(tmp_path, sidecar=told).report.guesses)
