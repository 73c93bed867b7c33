"""What a garment declares."""

from __future__ import annotations

from dataclasses import is_dataclass

import pytest

from pieces import GARMENTS
from pieces.body.measures import MEASURES


@pytest.mark.parametrize("name", GARMENTS)
def test_every_garment_says_what_it_needs(name: str) -> None:
    """Known measurements, and options that each say what they are and how a file writes them."""
    garment = GARMENTS[name]
    assert garment.name == name
    assert set(garment.measurements) <= set(MEASURES)
    assert is_dataclass(garment.style)
    for option in garment.options():
        assert option.metadata["help"]
        assert option.metadata["kind"] in ("length", "share", "choice")
        assert option.metadata["kind"] == "choice" or option.metadata["example"]
