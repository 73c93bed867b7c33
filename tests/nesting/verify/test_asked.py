"""What was asked for, as the check begins from it."""

from __future__ import annotations

import pytest

from nesting.cloth.fabric import Fabric
from nesting.verify import Asked
from pieces.length import mm


def test_pieces_grow_by_what_the_cloth_shrinks_afterwards() -> None:
    """Cloth that loses 5 % along and 2 % across: a metre cut must leave a metre."""
    along, across = Asked.of([], Fabric("twill", mm(1500.0), shrinkage=(5.0, 2.0)), "open").growth
    assert (along * 0.95, across * 0.98) == pytest.approx((1.0, 1.0))


def test_flaws_are_named_sides() -> None:
    """From its start to its end along, from its lower to its upper edge across."""
    (flaw,) = Asked.of([], Fabric("twill", mm(1500.0)), "open", flaws=[(1.0, 2.0, 3.0, 4.0)]).flaws
    assert (flaw.start, flaw.end, flaw.low, flaw.high) == (1.0, 2.0, 3.0, 4.0)


def test_garments_of_one_size() -> None:
    """Three of them are one set, cut three times."""
    ((pieces, number),) = Asked.of([], Fabric("twill", mm(1500.0)), "open", garments=3).sets
    assert (pieces, number) == ((), 3)
