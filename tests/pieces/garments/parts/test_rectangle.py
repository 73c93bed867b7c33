"""Rectangles, straps and hems."""

from __future__ import annotations

import pytest

from pieces.garments.parts.hem import UNDER, turned_twice
from pieces.garments.parts.rectangle import rectangle, straight_edges
from pieces.garments.parts.strap import belt, strap

NAMES = ("side", "foot", "other side", "top")


def test_a_rectangle_is_as_large_as_asked() -> None:
    """100 by 40 mm sewn; cut 100 + 5 + 7 long and 40 + 1 + 3 wide."""
    piece = rectangle("band", 100.0, 40.0, NAMES, (1.0, 5.0, 3.0, 7.0), cut=2)
    assert (piece.length, piece.width, piece.cut) == (112.0, 44.0, 2)
    assert [edge.length for edge in piece.edges] == [100.0, 40.0, 100.0, 40.0]
    assert [edge.name for edge in piece.edges] == list(NAMES)


def test_edges_without_length_are_left_out() -> None:
    """A corner of size 0 is none; an edge that is called a fold is one."""
    sides = [("middle fold", (0.0, 0.0), 0.0), ("a", (9.0, 0.0), 1.0), ("b", (9.0, 5.0), 1.0), ("c", (9.0, 5.0), 1.0)]
    edges = straight_edges(sides)
    assert [(edge.name, edge.kind) for edge in edges] == [("middle fold", "fold"), ("a", "seam"), ("c", "seam")]


@pytest.mark.parametrize("cut", [1, 2])
def test_straps_are_folded_in_four_and_belts_in_two(cut: int) -> None:
    """A strap of 25 mm is cut 100 wide, with its ends; one alone on a fold. A belt has a seam all round."""
    made = strap("strap", 500.0, 25.0, (10.0, 20.0), cut)
    assert (made.length, made.width, made.cut, made.on_fold) == (530.0, 100.0, cut, cut == 1)
    tied = belt(1000.0, 50.0, 12.0)
    assert (tied.length, tied.width, tied.on_fold) == (1024.0, 124.0, True)


def test_a_hem_is_turned_twice() -> None:
    """A wide one by a little first, a narrow one by itself."""
    assert (turned_twice(40.0), turned_twice(5.0)) == (40.0 + UNDER, 10.0)
