"""The cloth seen from its end: its layers, folds and right sides, worked out by hand."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
import shapely

from reports.draw.endview import WIDE, EndView, end_view
from reports.draw.kit.sheet import new_page
from tests.make.drawn import overlapping, texts

HALF = ((0.0, 750.0), (750.0, 1500.0))


def view(spread: str) -> EndView:
    """Cloth of 1500 mm, or of two parts, the first 600 wide, folded in part; stacks of 4 plies."""
    spans = {"part-folded": ((0.0, 600.0), (600.0, 1500.0)), "double-folded": HALF}.get(spread, ((0.0, 1500.0),))
    return end_view(spread, spans, "150 cm across", 4 if spread.startswith("face") else 1)


def crossed(found: EndView, share: float) -> list[bool]:
    """For each layer at a share of the width, from below: whether its right side is up."""
    x, up = share * WIDE, []
    for layer in found.layers:
        for (x0, y0), (x1, y1) in pairwise(layer):
            if min(x0, x1) <= x < max(x0, x1):
                up.append((y0 + (y1 - y0) * (x - x0) / (x1 - x0), bool(x1 > x0)))
    return [side for _, side in sorted(up)]


@pytest.mark.parametrize(
    ("spread", "sides"),
    [
        ("open", [True]),
        ("folded", [True, False]),
        ("double-folded", [True, False]),
        ("crosswise", [True, False]),
        ("tube", [True, False]),
        ("part-folded", [True, False]),
        ("face-up", [True] * 4),
        ("face-to-face", [True, False, True, False]),
    ],
)
def test_layers_and_their_right_sides(spread: str, sides: list[bool]) -> None:
    """Right sides lie together wherever two layers are folded; stacks are face up, or face to face two by two."""
    assert crossed(view(spread), 0.31) == sides


def test_beyond_a_partial_fold() -> None:
    """Folded over by 600 of 1500 mm, the upper layer ends at 2/5; beyond, a single layer, right side up."""
    found = view("part-folded")
    assert crossed(found, 0.39) == [True, False] and crossed(found, 0.41) == [True]
    assert found.middle == (pytest.approx(0.4 * WIDE), "inner selvedge")


def test_where_the_folds_are() -> None:
    """Folded lengthwise the fold is at the left, nearest to you; crosswise at the right, seen from before the table."""
    along, across = view("folded"), view("crosswise")
    assert (along.left, along.right, across.left, across.right) == ("fold", "selvedges", "cut ends", "fold")
    ends = [np.sort(found.layers[0][[0, -1], 0]) for found in (along, across)]
    assert ends[0] == pytest.approx([WIDE, WIDE]) and ends[1] == pytest.approx([0, 0])
    assert all(shapely.LineString(found.layers[0]).is_simple for found in (along, across))


@pytest.mark.parametrize("spread", ["open", "double-folded", "part-folded", "face-to-face", "tube"])
def test_words_stand_clear(spread: str) -> None:
    """Drawn on a page, no word stands on another."""
    figure, page = new_page()
    view(spread).draw(page, 300, 400)
    assert overlapping(figure) == []
    assert "150 cm across" in texts(figure)
