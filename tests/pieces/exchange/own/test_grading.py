"""A file of grade rules: read, used on a piece worked out by hand, and what is said of mistakes in it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from pieces import Piece, PieceSet
from pieces.errors import FormatError
from pieces.exchange.own.grading import read_grading
from tests.make.outlines import sides

if TYPE_CHECKING:
    from pathlib import Path

RULES = """
sizes = ["S", "M", "L", "XL"]
base = "M"

[[point]]
piece = "panel"
at = ["0 mm", "200 mm"]
along = "0 mm"
across = "10 mm"

[[point]]
piece = "panel"
at = ["300 mm", "200 mm"]
along = "6 mm"
across = "10 mm"

[[point]]
piece = "panel"
at = ["300 mm", "0 mm"]
along = "6 mm"
across = "0 mm"

[[point]]
piece = "panel"
at = ["0 mm", "0 mm"]
along = "0 mm"
across = "0 mm"
"""


def panel() -> PieceSet:
    """A panel of 300 x 200 mm."""
    corners = [(0.0, 0.0), (300.0, 0.0), (300.0, 200.0), (0.0, 200.0)]
    return PieceSet("panel", (Piece("panel", sides(corners, [0.0] * 4)),))


def written(folder: Path, text: str) -> Path:
    """A file of rules."""
    path = folder / "grades.toml"
    path.write_text(text, encoding="utf-8")
    return path


@pytest.mark.parametrize(
    ("size", "length", "width"), [("S", 294, 190), ("M", 300, 200), ("L", 306, 210), ("XL", 312, 220)]
)
def test_by_points(tmp_path: Path, size: str, length: float, width: float) -> None:
    """6 mm longer and 10 mm wider a size: two sizes up from M that is 312 x 220 mm."""
    graded = read_grading(written(tmp_path, RULES)).sized(panel(), size)["panel"]
    assert np.ptp(graded.sew_line, axis=0) == pytest.approx((length, width))


def test_by_edges(tmp_path: Path) -> None:
    """An edge moved out by 5 mm a size makes the panel 10 mm longer two sizes up, and shorter below the base."""
    name = panel()["panel"].edges[1].name
    rules = f'sizes = ["S", "M", "L"]\nbase = "S"\n[[edge]]\npiece = "panel"\nedge = "{name}"\nout = "5 mm"\n'
    grading = read_grading(written(tmp_path, rules))
    assert np.ptp(grading.sized(panel(), "L")["panel"].sew_line, axis=0) == pytest.approx((310, 200))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "is empty"),
        ("sizes = [", "not valid TOML"),
        ('sizes = ["S"]\nbase = "S"', "2 to 40 names"),
        ('sizes = ["S", "S"]\nbase = "S"', "2 to 40 names"),
        ('sizes = ["S", "M"]\nbase = "L"', "base must be"),
        ('sizes = ["S", "M"]\nbase = "M"', "has no rules"),
        (RULES.replace("across", "acros", 1), "did you mean 'across'"),
        (RULES.replace('along = "0 mm"\n', "", 1), "along is missing"),
        (RULES.replace('at = ["0 mm", "200 mm"]', 'at = "0 mm"'), "at needs two lengths"),
        (RULES.replace('"10 mm"', '"10"', 1), "[[point]] number 1, across"),
    ],
)  # fmt: skip
def test_mistakes(tmp_path: Path, text: str, said: str) -> None:
    """Each mistake is one line that names the file or the entry."""
    with pytest.raises(FormatError) as found:
        read_grading(written(tmp_path, text))
    assert said in str(found.value)
    assert "\n" not in str(found.value)


def test_a_point_that_moves_back(tmp_path: Path) -> None:
    """With its upper corners moved by -10 mm a size, the panel of 300 x 200 in M is 190 wide in L and 210 in S."""
    grading = read_grading(written(tmp_path, RULES.replace('across = "10 mm"', 'across = "-10 mm"')))
    for size, width in (("S", 210), ("M", 200), ("L", 190)):
        assert np.ptp(grading.sized(panel(), size)["panel"].cut_line[:, 1]) == pytest.approx(width)
