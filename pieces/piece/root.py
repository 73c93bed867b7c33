"""Where a function that rises crosses nought: drafts solve a width or a height by it."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable


def root(function: Callable[[float], float], low: float, high: float) -> float:
    """Where a rising function crosses 0 between `low` and `high`; the nearer end where it does not.

    False position; an end that stays put twice loses half its weight (the Illinois rule), so that both ends close in.
    """
    below, above, moved = function(low), function(high), 0
    if below >= 0 or above <= 0:
        return low if below >= 0 else high
    while high - low > 1e-7:
        middle = high - above * (high - low) / (above - below)
        value = function(middle)
        if abs(value) < 1e-6 or not low < middle < high:
            return middle
        if value < 0:
            low, below, above, moved = middle, value, above / 2 if moved == -1 else above, -1
        else:
            high, above, below, moved = middle, value, below / 2 if moved == 1 else below, 1
    return (low + high) / 2
