"""The longest strips of bare cloth of one width, along the grain, one after another."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nesting.fit.remnant import Zone
from nesting.left.bare import TOUCH, lines
from nesting.left.rectangles import Rectangle

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nesting.left.bare import Bare

ACROSS = 200
"""Places across the cloth at which the lower edge of a strip is sought, besides those beside what lies there."""


def longest_strips(cloth: Sequence[Bare], width: float, number: int, least: float) -> list[Rectangle]:
    """Some strips that do not overlap: each is the longest found once those before it are cut.

    Parameters
    ----------
    width
        Of each strip, mm.
    number
        How many at the most.
    least
        The least length, mm.
    """
    left = list(cloth)
    found: list[Rectangle] = []
    longest = [_longest(bare, width) for bare in left]
    while len(found) < number:
        best = max(range(len(left)), key=lambda i: _length(longest[i]), default=None)
        if best is None or (zone := longest[best]) is None or _length(zone) < least:
            break
        found.append(Rectangle(zone, left[best].band, left[best].layers))
        left[best] = left[best].without(zone)
        longest[best] = _longest(left[best], width)
    return found


def _length(zone: Zone | None) -> float:
    return zone.end - zone.start if zone else 0.0


def _longest(bare: Bare, width: float) -> Zone | None:
    """The longest strip found on one strip of cloth, of several the lowest; None if none is as wide."""
    whole = bare.zone
    if whole.high - whole.low < width or whole.end - whole.start <= TOUCH:
        return None
    beside = np.concatenate([bare.bounds[:, 3], bare.bounds[:, 1] - width])
    best, length = None, TOUCH
    for low in lines(whole.low, whole.high - width, beside, ACROSS) if whole.high - whole.low > width else [whole.low]:
        window = Zone(whole.start, whole.end, float(low), float(low) + width)
        at = whole.start
        for start, end in [*_stretches(bare, window), (whole.end, whole.end)]:
            if start - at > length + TOUCH:
                best, length = window._replace(start=at, end=start), start - at
            at = max(at, end)
    return best


def _stretches(bare: Bare, window: Zone) -> list[tuple[float, float]]:
    """Stretches along the cloth that are taken in a window, in their order."""
    boxes = bare.boxes_in(window)[:, [0, 2]] + (-TOUCH, TOUCH)
    return sorted((float(start), float(end)) for start, end in boxes)
