"""A kangaroo pocket: sizes by hand."""

from __future__ import annotations

import math

import pytest

from pieces.errors import DraftError
from pieces.garments.parts.kangaroo import kangaroo_of, kangaroo_place, kangaroo_pocket
from pieces.garments.parts.pocket import PATCH_HEM

INCH = 25.4


def test_sizes() -> None:
    """A bust of 36 in gives a mouth of 6 in; the lower edge is 0.68 of the front, the upper shorter by both leans."""
    pocket = kangaroo_of(36 * INCH, 250.0, 400.0, None)
    assert pocket.mouth / INCH == pytest.approx(6)
    assert pocket.lower == pytest.approx(170)
    piece = kangaroo_pocket(pocket, 12.0)
    assert piece.edge("mouth").length == pytest.approx(6 * INCH)
    assert piece.edge("mouth").allowance == PATCH_HEM
    assert piece.edge("top").length == pytest.approx(170 - 3 * INCH)
    assert piece.width == pytest.approx(2 * (170 + 12.0), abs=2 * PATCH_HEM)
    assert (piece.cut, piece.on_fold) == (1, True)
    place = kangaroo_place(pocket, 500.0)
    assert place.points[0] == (500.0, pytest.approx(170))
    assert math.dist(place.points[1], place.points[2]) == pytest.approx(6 * INCH)


def test_no_room() -> None:
    """Low or narrow fronts get a smaller mouth, down to 2 1/2 in; a larger one asked for is refused by its name."""
    assert kangaroo_of(36 * INCH, 250.0, 130.0, None).mouth == pytest.approx(130 / (0.4 + math.sqrt(0.75)))
    with pytest.raises(DraftError, match="pocket_mouth") as raised:
        kangaroo_of(36 * INCH, 250.0, 130.0, 6 * INCH)
    assert raised.value.about == "pocket_mouth"
    with pytest.raises(DraftError, match="leave pockets out"):
        kangaroo_of(36 * INCH, 250.0, 60.0, None)
