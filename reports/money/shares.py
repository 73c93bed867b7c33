"""A whole parted by shares, so that the parts add up to it exactly."""

from __future__ import annotations

from fractions import Fraction
from math import floor
from typing import TYPE_CHECKING

from pieces.errors import WrongNumberError

if TYPE_CHECKING:
    from collections.abc import Sequence


def part_out(whole: int, shares: Sequence[float]) -> list[int]:
    """A whole number parted by shares: each part is rounded down, and those that lose most by it get one more.

    Raises
    ------
    WrongNumberError
        If a share is below 0, or none is above.
    """
    total = sum(map(Fraction, shares))
    if total <= 0 or min(shares) < 0:
        raise WrongNumberError("shares must be 0 or more, and one of them more than 0")
    exact = [whole * Fraction(share) / total for share in shares]
    parts = [floor(part) for part in exact]
    by_loss = sorted(range(len(parts)), key=lambda i: parts[i] - exact[i])
    for i in by_loss[: whole - sum(parts)]:
        parts[i] += 1
    return parts
