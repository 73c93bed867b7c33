"""Random outfits of the wardrobe on one cloth: what is laid holds, what is refused is said in one line."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.make.outfits import try_outfit

if TYPE_CHECKING:
    from collections.abc import Iterator


@pytest.mark.generated(4)
def test_outfits_hold(numbers: Iterator[int]) -> None:
    """`python benchmarks/outfits.py` lays a thousand."""
    assert {try_outfit(seed) for seed in numbers} <= {"verified", "refused"}
