"""The reference sheet on paper."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import cv2
import numpy as np
import pytest
from pypdf import PdfReader

from pieces.photo.board import CELLS, reference_board
from pieces.units import INCH
from reports.paper.drawing import POINT, Area, PageLine
from reports.paper.reference import TOP, reference_drawing

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from tests.reports.conftest import Ran

FINE = 5
"""Pixels to a millimetre."""


def painted() -> np.ndarray[Any, np.dtype[np.uint8]]:
    """The sheet as a picture: all that is filled on it."""
    sheet = np.full((300 * FINE, 220 * FINE), 255, np.uint8)
    for mark in reference_drawing(reference_board()).marks:
        if isinstance(mark, Area):
            (x0, y0), (x1, y1) = mark.points.min(axis=0).tolist(), mark.points.max(axis=0).tolist()
            a, b, c, d = (round(v * FINE) for v in (TOP - y1, TOP - y0, x0 + 15, x1 + 15))
            sheet[a:b, c:d] = 0
    return sheet


def test_what_is_printed_is_what_is_read() -> None:
    """Every coded square of the printed drawing is read, and lies where the board says, the sheet seen from above."""
    board = reference_board()
    rows = [cv2.aruco.Dictionary.getByteListFromBits(board.bits(n)) for n in range(len(board.codes))]
    detector = cv2.aruco.ArucoDetector(cv2.aruco.Dictionary(np.concatenate(rows), CELLS, 0))
    found: tuple[Any, Any, Any] = detector.detectMarkers(painted())
    corners, numbers, _ = found
    assert sorted(numbers.ravel().tolist()) == list(range(96))
    for square, number in zip(corners, numbers.ravel().tolist(), strict=True):
        seen = (square[0][:, ::-1] + 0.5) / FINE - (TOP, 15)
        assert seen == pytest.approx(board.coded_corners()[number], abs=0.3)


def test_lines_for_the_ruler() -> None:
    """One line is 180 mm long, as `trace` takes it to be, the other 7 in."""
    lines = [mark.points for mark in reference_drawing(reference_board()).marks if isinstance(mark, PageLine)]
    long = sorted(float(np.hypot(*(line[-1] - line[0]))) for line in lines)[-2:]
    assert long == pytest.approx([7 * INCH, reference_board().line])


@pytest.mark.parametrize(("paper", "size"), [("a4", (210.0, 297.0)), ("letter", (215.9, 279.4))])
def test_printed_without_a_job(run: Callable[..., Ran], tmp_path: Path, paper: str, size: tuple[float, float]) -> None:
    """Four pages, each of its true size, each with its letter."""
    done = run("print", "--what", "reference", "--paper", paper)
    assert done.code == 0 and "measure the long line" in done.out
    reader = PdfReader(tmp_path / "reference-print" / f"reference-{paper}.pdf")
    page, *others = reader.pages
    assert [f"sheet {letter}:" in each.extract_text() for letter, each in zip("BCD", others, strict=True)] == [True] * 3
    assert (float(page.mediabox.width) * POINT, float(page.mediabox.height) * POINT) == pytest.approx(size, abs=0.01)
    assert "180 mm from tick to tick" in page.extract_text()


@pytest.mark.parametrize(
    ("arguments", "why"),
    [
        (("print",), "needs a job"),
        (("print", "--what", "reference", "--roll", "36 in"), "leave out the job and --roll"),
        (("print", "coat.toml", "--what", "reference"), "leave out the job and --roll"),
        (("print", "--what", "reference", "--paper", "18 cm x 23 cm"), "choose --paper a4 or letter"),
    ],
)
def test_mistakes(run: Callable[..., Ran], arguments: tuple[str, ...], why: str) -> None:
    """A job is needed for all but the sheet, and the sheet takes none; it goes on a sheet of paper."""
    done = run(*arguments)
    assert done.code == 2
    assert why in done.err and done.err.count("\n") == 1
