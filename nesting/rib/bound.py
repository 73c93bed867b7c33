"""How little rib any layout of rectangles can take: bands above one another and joined ones included.

A plan in rows may be beaten by one with shallow bands above one another beside a deep one, so that a bound on rows
proves nothing. Two arguments hold for all layouts. *Area*; and *conservative scales* (dual feasible functions, Fekete
and Schepers, 2004, from memory): depths are replaced by shares that add up to no more than one wherever the depths
add up to no more than the stock, and the area is taken again.
"""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nesting.rib.task import RibTask

MOST_SCALE = 12
"""Scales that round depths to so many parts of the stock are tried."""

MOST_SUMS = 100_000
"""Lengths, in steps, up to which sums of depths are listed; area alone bounds longer ones."""


def least_of_any(task: RibTask, used: int) -> int:
    """Stock that no layout undercuts: strips, or length in steps; no more than what is `used` by a plan known."""
    if len(task.depths) == 1:
        return task.least_stock()  # bands of one depth lie in rows, whatever the layout
    if task.strip_depth is not None:
        return min(used, _fewest_strips(task, task.strip_depth))
    area = sum(task.cut_length(kind) * kind.depth for kind in task.kinds)
    least = max(task.depths[0], -(-area // task.width))
    if used > MOST_SUMS:
        return min(least, used)
    # Pushed towards one end, bands lie on one another: the length is a sum of depths.
    return next((length for length in _sums(task, least, used) if _fewest_strips(task, length) <= 1), used)


def _sums(task: RibTask, least: int, most: int) -> Iterator[int]:
    """Lengths from `least` up to `most` that are sums of depths."""
    reached = [True] + [False] * most
    for length in range(1, most + 1):
        reached[length] = any(depth <= length and reached[length - depth] for depth in task.depths)
        if reached[length] and length >= least:
            yield length


def _fewest_strips(task: RibTask, depth: int) -> int:
    """Strips of a depth, in steps, that no layout undercuts."""
    scales = scales_of(task.depths, depth)
    most = max(sum(task.cut_length(kind) * scale[kind.depth] for kind in task.kinds) for scale in scales)
    return -(-most // task.width)


def scales_of(depths: tuple[int, ...], whole: int) -> Iterator[dict[int, Fraction]]:
    """Shares of the whole for each depth: of depths that fit it together, the shares add up to no more than one."""
    own = {depth: Fraction(depth, whole) for depth in depths}
    yield own
    for parts in range(1, MOST_SCALE):
        yield {
            depth: share if (parts + 1) * depth % whole == 0 else Fraction((parts + 1) * depth // whole, parts)
            for depth, share in own.items()
        }
    for least in (depth for depth in depths if 2 * depth <= whole):
        yield {
            depth: Fraction(1) if depth > whole - least else share if depth >= least else Fraction(0)
            for depth, share in own.items()
        }
