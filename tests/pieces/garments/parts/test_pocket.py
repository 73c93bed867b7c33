"""Pockets: sizes by hand, and the one figure of a book."""

from __future__ import annotations

import pytest
import shapely

from pieces.garments.parts.pocket import (
    MOUTH_SHARE,
    PATCH_HEM,
    WELT,
    mouth_ends,
    patch_pocket,
    side_pocket,
    welt_pocket,
)

INCH = 25.4


def test_mouth_of_a_book() -> None:
    """A lower pocket of size 36 has a mouth of 6 in: Rosenfeld, The Practical Designer, 1911, lesson 27."""
    assert pytest.approx(6) == MOUTH_SHARE * 36


def test_patch() -> None:
    """Cut, it is as wide as its mouth and two seams, and as deep as 1.1 mouths, a seam and the hem of its mouth."""
    (patch,) = patch_pocket(6 * INCH, INCH / 2)
    assert (patch.cut, patch.width / INCH, patch.length / INCH) == (2, pytest.approx(7), pytest.approx(6.6 + 0.5 + 1))
    assert patch.edge("mouth").allowance == PATCH_HEM


def test_side_bags() -> None:
    """Four bags of lining; the notches on each are a mouth apart; a hand's width lies beyond the mouth."""
    (bag,) = side_pocket(6 * INCH, 10.0, 15.0, "lining")
    assert (bag.cut, bag.mirrored_pair, bag.material) == (4, True, "lining")
    top, end = (notch.point[0] for notch in bag.notches)
    assert end - top == pytest.approx(6 * INCH)
    assert (top, end) == mouth_ends(bag.edge("mouth").length)
    assert bag.edge("mouth").allowance == 15.0
    assert shapely.Polygon(bag.sew_line).bounds[3] > 5 * INCH


def test_welt() -> None:
    """Welt and strip are as long as the mouth; the welt is folded double; bags are longer than the mouth."""
    welt, strip, bag = welt_pocket(6 * INCH, 10.0, "shell")
    assert welt.length == pytest.approx(6 * INCH + 20)
    assert welt.width == pytest.approx(2 * WELT + 20)
    assert strip.length == welt.length
    assert (bag.cut, bag.material) == (4, "shell")
    top, end = (notch.point[0] for notch in bag.notches)
    assert end - top == pytest.approx(6 * INCH)
    assert 0 < top < end < bag.edge("mouth").length
