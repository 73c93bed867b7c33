"""A yoke: the back in two, and nothing lost."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely

from pieces import GARMENTS, Body
from pieces.garments.jacket.yoke import split_at
from pieces.piece.pieces import walk

if TYPE_CHECKING:
    from pieces.garments import JacketStyle

JACKET = GARMENTS["rib-jacket"]


@pytest.mark.parametrize("back", ["fold", "seam"])
def test_two_parts_make_the_back(back: str, body: Body, style: JacketStyle) -> None:
    """Sewn, yoke and lower back are the back; their seam, and those through both, walk."""
    plain = JACKET.draft(body, replace(style, back=back))  # type: ignore[arg-type]
    pieces = JACKET.draft(body, replace(style, back=back, yoke="back"))  # type: ignore[arg-type]
    whole, yoke, lower = (
        shapely.Polygon(piece.sew_line) for piece in (plain["back"], pieces["back yoke"], pieces["back"])
    )
    assert yoke.union(lower).symmetric_difference(whole).area < 1.0
    assert yoke.intersection(lower).area < 1e-6
    assert max(abs(walk(seam, pieces)) for seam in pieces.seams) < 0.1
    assert "yoke" in {seam.name for seam in pieces.seams}
    assert pieces["back yoke"].cut == pieces["back"].cut == plain["back"].cut
    assert pieces.measures == plain.measures


def test_split() -> None:
    """A line is cut once where it crosses the level, whichever way it runs."""
    line = np.array([[0.0, 0.0], [10.0, 1.0], [20.0, 5.0]])
    for points in (line, line[::-1]):
        first, second = split_at(points, 15.0)
        assert first[-1].tolist() == second[0].tolist() == [15.0, 3.0]
        assert shapely.LineString(first).length + shapely.LineString(second).length == pytest.approx(
            shapely.LineString(points).length
        )
