"""Random outfits of the wardrobe on one cloth: what is laid holds, what is refused is said in one line."""

from __future__ import annotations

import pytest

from tests.make.outfits import try_outfit


@pytest.mark.generated(4)
def test_outfits_hold(numbers: range) -> None:
    """`python benchmarks/outfits.py` lays a thousand."""
    answers = [try_outfit(seed) for seed in numbers]
    assert set(answers) <= {"verified", "refused"}
    assert "verified" in answers
