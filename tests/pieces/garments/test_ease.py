"""Too little ease: what is said of it."""

from __future__ import annotations

from pieces.garments.ease import little_ease
from pieces.piece.finished import Finished


def test_a_line_for_each_size_that_has_too_little() -> None:
    """Less than its least is said, with the option that gives more; enough, or nothing to compare with, is not."""
    sizes = [Finished("hip", 960, 950), Finished("waist", 700, 710), Finished("hem", 900), Finished("chest", 1000, 900)]
    least = {"hip": 25.0, "waist": 0.0, "hem": 10.0, "chest": 50.0}
    first, second = little_ease(sizes, least, {"waist": "waist_ease"})
    assert first.startswith("hip: ") and "more than the body: give more ease," in first
    assert second.startswith("waist: ") and "less than the body: give more waist_ease," in second
