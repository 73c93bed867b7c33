"""The largest rectangles of bare cloth, one after another, along the grain."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from nesting.fit.remnant import Zone
from nesting.left.bare import TOUCH, lines

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    from nesting.left.bare import Bare

ALONG, ACROSS = 400, 160
"""Lines along and across on which the sides of a rectangle are sought, before they are moved out to what is there."""


class Rectangle(NamedTuple):
    """A rectangle of bare cloth: where it lies, in which band, and in how many layers."""

    zone: Zone
    band: int
    layers: int


def largest_rectangles(cloth: Sequence[Bare], number: int, least: float) -> list[Rectangle]:
    """Some rectangles that do not overlap: each is the largest found once those before it are cut.

    Parameters
    ----------
    number
        How many at the most.
    least
        The least length of a side, mm.
    """
    left = list(cloth)
    found: list[Rectangle] = []
    largest = [_largest(bare, least) for bare in left]
    while len(found) < number:
        best = max(range(len(left)), key=lambda i: zone.area if (zone := largest[i]) else 0.0, default=None)
        if best is None or (zone := largest[best]) is None:
            break
        found.append(Rectangle(zone, left[best].band, left[best].layers))
        left[best] = left[best].without(zone)
        largest[best] = _largest(left[best], least)
    return found


def _largest(bare: Bare, least: float) -> Zone | None:
    """The largest rectangle found on one strip of cloth; None if there is none with sides long enough."""
    zone = bare.zone
    if zone.end - zone.start <= TOUCH or zone.high - zone.low <= TOUCH:
        return None
    xs = lines(zone.start, zone.end, bare.bounds[:, [0, 2]].ravel(), ALONG)
    ys = lines(zone.low, zone.high, bare.bounds[:, [1, 3]].ravel(), ACROSS)
    best, area = None, 0.0
    for found in _rectangles(_taken(bare, xs, ys), xs, ys):
        if found.area > area:
            best, area = found, found.area
    if best is None:
        return None
    grown = max(
        (_grown(best, bare, sides) for sides in (("along", "across"), ("across", "along"))), key=lambda z: z.area
    )
    return grown if min(grown.end - grown.start, grown.high - grown.low) >= least else None


def _taken(bare: Bare, xs: NDArray[np.float64], ys: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Which cells between the lines have something in them: a row for each two lines along the cloth."""
    taken = np.zeros((len(ys) - 1, len(xs) - 1), dtype=bool)
    for row, (low, high) in enumerate(pairwise(ys.tolist())):
        boxes = bare.boxes_in(Zone(bare.zone.start, bare.zone.end, low, high))
        first = np.searchsorted(xs, boxes[:, 0] + TOUCH, "right") - 1
        last = np.searchsorted(xs, boxes[:, 2] - TOUCH, "left")
        for start, end in zip(first, last, strict=True):
            taken[row, max(start, 0) : end] = True
    return taken


def _rectangles(taken: NDArray[np.bool_], xs: NDArray[np.float64], ys: NDArray[np.float64]) -> Iterator[Zone]:
    """All rectangles of free cells that can grow no more to either side: row by row, by the depth that is free."""
    along, across = xs.tolist(), ys.tolist()
    base = np.zeros(taken.shape[1], dtype=np.int64)
    for row, line in enumerate(taken):
        base[line] = row + 1
        open_: list[tuple[int, int]] = []  # where it starts, and its lowest line: higher from one to the next
        for column, low in enumerate([*base.tolist(), row + 1]):
            start = column
            while open_ and open_[-1][1] < low:
                start, lowest = open_.pop()
                yield Zone(along[start], along[column], across[lowest], across[row + 1])
            if low <= row and (not open_ or open_[-1][1] > low):
                open_.append((start, low))


def _grown(zone: Zone, bare: Bare, sides: tuple[str, ...]) -> Zone:
    """A free rectangle with each side moved out to what is there."""
    whole = bare.zone
    for side in sides:
        if side == "along":
            before = bare.boxes_in(zone._replace(start=whole.start, end=zone.start))
            after = bare.boxes_in(zone._replace(start=zone.end, end=whole.end))
            start, end = before[:, 2].max(initial=whole.start), after[:, 0].min(initial=whole.end)
            zone = zone._replace(start=min(float(start) + TOUCH, zone.start), end=max(float(end) - TOUCH, zone.end))
        else:
            below = bare.boxes_in(zone._replace(low=whole.low, high=zone.low))
            above = bare.boxes_in(zone._replace(low=zone.high, high=whole.high))
            low, high = below[:, 3].max(initial=whole.low), above[:, 1].min(initial=whole.high)
            zone = zone._replace(low=min(float(low) + TOUCH, zone.low), high=max(float(high) - TOUCH, zone.high))
    return zone
