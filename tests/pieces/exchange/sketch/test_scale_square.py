"""Squares with a length in them check the scale, and are no pieces."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.make.drawings import FRONT, path, read, svg

if TYPE_CHECKING:
    from pathlib import Path


@pytest.mark.parametrize(
    ("words", "wide", "is_square", "is_doubted"),
    [
        ("5 cm", 50, True, False),
        ("50 x 50 mm", 50, True, False),
        ("5 x 5 cm", 50, True, False),
        ("2 in", 50.8, True, False),
        ('2"', 50.8, True, False),
        ("5,0 cm", 50, True, False),
        ("5 cm", 37.5, True, True),
        ("pocket 5 cm", 50, False, False),
        ("5", 50, False, False),
    ],
)
def test_a_square_that_says_its_side(
    words: str, wide: float, is_square: bool, is_doubted: bool, tmp_path: Path
) -> None:
    """It is left out and named; one that is not as large as it says asks for the unit. Others are pieces."""
    square = f'<rect x="250" y="20" width="{wide}" height="{wide}"/><text x="252" y="50" font-size="5">{words}</text>'
    found = read(svg(tmp_path / "a.svg", path(FRONT, 'id="front"') + square.replace('"5">', '"5">')))
    assert (len(found.pieces.pieces) == 1) == is_square
    assert any("is the unit right" in said and "37.5 mm" in said for said in found.report.guesses) == is_doubted
