"""Finished sizes."""

from __future__ import annotations

from pieces.piece.finished import Finished


def test_ease_is_what_the_garment_has_more() -> None:
    """104 cm on a body of 94 has 10 of ease; without a body there is none to tell of."""
    assert Finished("chest", 1040.0, 940.0).ease == 100.0
    assert Finished("length", 650.0).ease is None
