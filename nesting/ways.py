"""The ways in which a piece may lie on the bands of a spread."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from nesting.errors import SpreadError
from nesting.item import Variant
from nesting.problem import place_outline, place_point

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from numpy.typing import NDArray

    from nesting.band import Band
    from nesting.repeat import Repeat
    from pieces import Piece

    Floats = NDArray[np.float64]

SAME_OUTLINE = 1e-6
"""Outlines whose points differ by less, mm, are one and the same."""

GRAIN_TURNS = {"straight": (0.0, 180.0), "cross": (0.0, 180.0, 90.0, 270.0), "free": tuple(45.0 * k for k in range(8))}
"""Turns off the grainline's own direction, degrees, by how strictly a piece keeps to it."""


class Cloth(NamedTuple):
    """Bands that a piece may lie on, each with its number, and the pattern on them."""

    bands: tuple[tuple[int, Band], ...]
    repeat: Repeat | None


class Turn(NamedTuple):
    """A turn in degrees, and how much of it is tilt."""

    degrees: float
    tilt: float = 0.0


def turns(piece: Piece, heads: Sequence[float]) -> list[Turn]:
    """Turns that lay a piece's grainline along the selvedge, or as far off it as the piece allows.

    Parameters
    ----------
    heads
        Degrees at which the top of a garment may point: both ways without a nap, else one.
    """
    (x0, y0), (x1, y1) = piece.grain
    base = -math.degrees(math.atan2(y1 - y0, x1 - x0))
    wanted = heads if len(heads) == 1 else GRAIN_TURNS[piece.lies]
    tilts = (0.0, -piece.tilt, piece.tilt) if piece.tilt else (0.0,)
    return [Turn((base + turn + tilt) % 360.0, tilt) for tilt in tilts for turn in wanted]


def free_ways(
    piece: Piece, outline: Floats, cloth: Cloth, hands: Iterable[bool], heads: Sequence[float]
) -> tuple[Variant, ...]:
    """All ways to lie freely on some band; ways that give one and the same outline count once.

    Raises
    ------
    SpreadError
        If the piece fits somewhere, but nowhere with its match point on a line of the pattern.
    """
    variants: list[Variant] = []
    off_line = False
    for index, band in cloth.bands:
        for mirrored in hands:
            for turn in turns(piece, heads):
                placed = place_outline(outline, turn=turn.degrees, mirrored=mirrored)
                room = band.width - float(placed[:, 1].max())
                seen = (v.outline for v in variants if v.band == index)
                if room < -SAME_OUTLINE or any(is_same(placed, other) for other in seen):
                    continue
                low, high = band.low, max(band.low, band.low + room)
                match = None
                if cloth.repeat and piece.match:
                    match = place_point(piece.match, outline, turn=turn.degrees, mirrored=mirrored)
                    on_lines = cloth.repeat.range_y(match, low, high, SAME_OUTLINE)
                    if on_lines is None:
                        off_line = True
                        continue
                    low, high = on_lines
                variants.append(Variant(placed, turn.degrees, mirrored, index, low, high, tilt=turn.tilt, match=match))
    if off_line and not variants:
        raise SpreadError(
            f"'{piece.name}' fits across the cloth, but nowhere with its match point on a line of the repeat:"
            " choose a wider fabric or another spread, or leave the repeat across out"
        )
    return tuple(variants)


def fold_ways(piece: Piece, cloth: Cloth, heads: Sequence[float]) -> tuple[Variant, ...]:
    """All ways in which a half may lie with its fold edge on a fold of the cloth."""
    assert piece.fold_edge is not None
    fold_is_low = float(piece.fold_edge.points[0, 1]) < float(piece.cut_line[:, 1].mean())
    variants = []
    for index, band in cloth.bands:
        for mirrored in (False, True):
            for turn in heads:
                low = fold_is_low ^ mirrored ^ (turn == 180.0)
                placed = place_outline(piece.cut_line, turn=turn, mirrored=mirrored)
                height = float(placed[:, 1].max())
                if (band.low_edge if low else band.high_edge) != "fold" or height > band.width + SAME_OUTLINE:
                    continue
                at = band.low if low else band.high - height
                match = None
                if cloth.repeat and piece.match:
                    x, _ = place_point(piece.match, piece.cut_line, turn=turn, mirrored=mirrored)
                    # Cloth with a pattern is folded along a line of it.
                    match = (x, cloth.repeat.low - at)
                variants.append(Variant(placed, turn, mirrored, index, at, at, on_fold=True, match=match))
    return tuple(variants)


def is_symmetric(outline: Floats) -> bool:
    """Whether an outline turned over is the same."""
    return is_same(place_outline(outline), place_outline(outline, mirrored=True))


def is_same(outline: Floats, other: Floats) -> bool:
    """Whether two placed outlines are the same polygon, wherever their points start."""
    if len(outline) != len(other) or np.abs(outline.max(axis=0) - other.max(axis=0)).max() > SAME_OUTLINE:
        return False
    first = np.flatnonzero(np.abs(other - outline[0]).max(axis=1) < SAME_OUTLINE)
    return any(np.abs(np.roll(other, -int(i), axis=0) - outline).max() < SAME_OUTLINE for i in first)
