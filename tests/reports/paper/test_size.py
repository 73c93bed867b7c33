"""Paper by name and by its sides: the standards' own rules, and what is refused."""

from __future__ import annotations

from itertools import pairwise

import pytest

from reports.errors import PaperError
from reports.paper.size import ASME_Y14_1, ISO_216, LONGEST, parse_paper, parse_roll

INCH = 25.4


def test_a_series_halves() -> None:
    """ISO 216: A0 has a square metre and sides as 1 to the root of 2; each next is its half, rounded down."""
    short, long = ISO_216["A0"]
    assert short * long == pytest.approx(1e6, rel=1e-3) and long / short == pytest.approx(2**0.5, rel=1e-3)
    sizes = [ISO_216[f"A{number}"] for number in range(5)]
    for (short, long), half in pairwise(sizes):
        assert half == (long // 2, short)


def test_letter_series_doubles() -> None:
    """ANSI/ASME Y14.1: A is letter paper, 8 1/2 by 11 in; each next is twice the one before along its short side."""
    assert ASME_Y14_1["A"] == (8.5, 11.0)
    sizes = [ASME_Y14_1[name] for name in "ABCDE"]
    for (short, long), double in pairwise(sizes):
        assert double == (long, 2 * short)


@pytest.mark.parametrize(
    ("text", "width", "height"),
    [
        ("a4", 210, 297),
        ("A3", 297, 420),
        (" Letter ", 8.5 * INCH, 11 * INCH),
        ("ansi b", 11 * INCH, 17 * INCH),
        ("21 cm x 29.7 cm", 210, 297),
        ("29.7cm×21cm", 210, 297),
        ("8 1/2 in x 14 in", 8.5 * INCH, 14 * INCH),
    ],
)
def test_paper_by_name_or_sides(text: str, width: float, height: float) -> None:
    """Named, or as two lengths in either order."""
    paper = parse_paper(text)
    assert (paper.width, paper.height) == pytest.approx((width, height))


@pytest.mark.parametrize(
    "text", ["", "a9", "21 x 29.7", "21 cm", "1 cm x 2 cm", "a4 x a3", "1 m x 6 m", "x", "1 m x 2 m x 3 m"]
)
def test_paper_refused(text: str) -> None:
    """What is no paper is named, with what to do."""
    with pytest.raises(PaperError, match="--paper"):
        parse_paper(text)


def test_rolls() -> None:
    """24 in, 36 in, and A0 by the width of the sheet."""
    assert [parse_roll(text).width for text in ("24 in", "36 in", "a0")] == pytest.approx([609.6, 914.4, 841])
    assert parse_roll("36 in").height == LONGEST == pytest.approx(5080)  # 14,400 points


@pytest.mark.parametrize("text", ["36", "5 cm", "9 m", "wide", ""])
def test_roll_refused(text: str) -> None:
    """A roll needs a width that a page can have."""
    with pytest.raises(PaperError, match="--roll"):
        parse_roll(text)
