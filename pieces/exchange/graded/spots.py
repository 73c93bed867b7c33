"""Points of a line that are graded: as few as it takes for what lies between two to move by its share of the way.

The same line is drafted in every size. Its corners go with those of the other sizes, and what lies between two by its
share of the length.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from pieces.piece.curve import Point

    Floats = NDArray[np.float64]

STRAY = 0.1
"""How far a graded line may be from the one that was drafted in that size, mm."""

MOST = 200
"""Points of a stretch between two corners, at the most."""

PLACES = 161
"""Along a stretch at which it is looked at, besides its own points."""

CORNER = 0.35
"""A turn by more than this, radians, from one chord to the next is a corner in every size."""


SHARP = (CORNER, 0.5, 0.7, 1.0)
"""Where sizes differ in how many corners they have, only sharper ones are: the least turn by which they agree."""


class GradedSpot(NamedTuple):
    """A point of the sample size, how far it moves in each size, mm, and whether it is a corner."""

    point: Point
    moves: tuple[Point, ...]
    is_corner: bool = False


class GradedLine(NamedTuple):
    """The graded points of a line, and how far it then is from the drafted one in the worst size, mm."""

    spots: tuple[GradedSpot, ...]
    strays: float


def spot(points: Sequence[Point], sample: int, *, is_corner: bool = False) -> GradedSpot:
    """One point, as it lies in each size."""
    x, y = points[sample]
    return GradedSpot((x, y), tuple((to_x - x, to_y - y) for to_x, to_y in points), is_corner)


def graded_line(lines: Sequence[Floats], sample: int) -> GradedLine:
    """The graded points of a line that is drafted in several sizes; its ends are corners.

    Parameters
    ----------
    lines
        As it lies in each size, shape (n, 2).
    sample
        The place of the size that is drawn.
    """
    for sharp in SHARP:
        corners = [_corners(line, sharp) for line in lines]
        if len({len(found) for found in corners}) == 1:
            break
    else:  # in some sizes a corner is rounder: all goes by shares
        corners = [[0, len(line) - 1] for line in lines]
    found: list[GradedSpot] = []
    strays = 0.0
    for ends in pairwise(range(len(corners[0]))):
        runs = [line[at[ends[0]] : at[ends[1]] + 1] for line, at in zip(lines, corners, strict=True)]
        spots, off = _stretch(runs, sample)
        found += spots if not found else spots[1:]
        strays = max(strays, off)
    return GradedLine(tuple(found), strays)


def _corners(line: Floats, sharp: float = CORNER) -> list[int]:
    chords = np.diff(line, axis=0)
    turn = np.arctan2(
        chords[:-1, 0] * chords[1:, 1] - chords[:-1, 1] * chords[1:, 0], (chords[:-1] * chords[1:]).sum(axis=1)
    )
    return [0, *(np.flatnonzero(np.abs(turn) > sharp) + 1).tolist(), len(line) - 1]


def _stretch(runs: Sequence[Floats], sample: int) -> tuple[list[GradedSpot], float]:
    """The graded points between two corners: more where the line strays most, until it does so nowhere."""
    if all(len(run) == 2 for run in runs):
        at = np.array([0.0, 1.0])
    else:
        turns = [_shares(run)[_corners(run)] for run in runs]  # a corner of one size may be none of the others
        at = np.unique(np.concatenate([np.linspace(0.0, 1.0, PLACES), _shares(runs[sample]), *turns]).round(12))
    lies = np.array([_at(run, at) for run in runs])
    ways = np.gradient(lies, axis=1)
    ways /= np.maximum(np.hypot(ways[..., 0], ways[..., 1]), 1e-12)[..., np.newaxis]
    moves = lies - lies[sample]
    kept = np.array([0, len(at) - 1])
    while True:
        after = np.clip(np.searchsorted(at[kept], at, side="right"), 1, len(kept) - 1)
        low, high = kept[after - 1], kept[after]
        share = ((at - at[low]) / (at[high] - at[low]))[np.newaxis, :, np.newaxis]
        wrong = moves[:, low] * (1 - share) + moves[:, high] * share - moves
        off = np.abs(wrong[..., 0] * ways[..., 1] - wrong[..., 1] * ways[..., 0]).max(axis=0)
        if off.max() <= STRAY or len(kept) >= MOST:
            break
        worst = [int(a + 1 + off[a + 1 : b].argmax()) for a, b in pairwise(kept.tolist()) if b - a > 1]
        kept = np.union1d(kept, [k for k in worst if off[k] > STRAY])
    spots = [
        spot([(float(x), float(y)) for x, y in lies[:, k]], sample, is_corner=k in (0, len(at) - 1))
        for k in kept.tolist()
    ]
    return spots, float(off.max())


def _at(run: Floats, at: Floats) -> Floats:
    """Where a line is at shares of its length."""
    shares = _shares(run)
    points: Floats = np.column_stack([np.interp(at, shares, run[:, k]) for k in (0, 1)])
    return points


def _shares(run: Floats) -> Floats:
    """How far along a line each of its points is, in shares of its length."""
    along = np.append(0.0, np.cumsum(np.hypot(*np.diff(run, axis=0).T)))
    shares: Floats = along / along[-1] if along[-1] > 0 else np.linspace(0.0, 1.0, len(run))
    return shares
