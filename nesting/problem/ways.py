"""The ways in which a piece may lie on the bands of a spread."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

from nesting.errors import SpreadError
from nesting.problem.grain import is_same, turns
from nesting.problem.item import Variant
from nesting.problem.transform import Transform
from nesting.tolerance import TOLERANCE

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    import numpy as np
    from numpy.typing import NDArray

    from nesting.cloth.band import Band
    from nesting.cloth.repeat import Repeat
    from nesting.problem.grain import Turn
    from pieces import Piece

    Floats = NDArray[np.float64]


class ClothBands(NamedTuple):
    """Bands that a piece may lie on, each with its number, the pattern on them, and how much larger pieces are cut."""

    bands: tuple[tuple[int, Band], ...]
    repeat: Repeat | None
    growth: tuple[float, float] = (1.0, 1.0)


def free_ways(
    piece: Piece, outline: Floats, cloth: ClothBands, hands: Iterable[bool], heads: Sequence[float]
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
            for turn in turns(piece, heads, mirrored=mirrored, plies=band.plies, outline=outline):
                way = _way(piece, outline, cloth, index, turn, mirrored=mirrored)
                span = free_span(band, way.height)
                if span is None or any(_alike(way, other) for other in variants if other.band == index):
                    continue
                if cloth.repeat and way.match:
                    span = cloth.repeat.range_y(way.match, *span, TOLERANCE)
                    if span is None:
                        off_line = True
                        continue
                variants.append(replace(way, low=span[0], high=span[1], tilt=turn.tilt, most_tilt=piece.tilt))
    if off_line and not variants:
        nowhere = "at none of the angles tried" if piece.tilt else "nowhere"
        raise SpreadError(
            f"'{piece.name}' fits across the cloth, but {nowhere} with its match point on a line of the repeat: choose "
            "a wider fabric or another spread, or leave repeat_across out"
        )
    return tuple(variants)


def fold_ways(piece: Piece, cloth: ClothBands, heads: Sequence[float]) -> tuple[Variant, ...]:
    """All ways in which a half may lie with its fold edge on a fold of the cloth.

    Raises
    ------
    SpreadError
        If the piece goes on some fold, but on none with its match point on a line of the pattern.
    """
    assert piece.fold_edge is not None
    fold_is_low = float(piece.fold_edge.points[0, 1]) < float(piece.cut_line[:, 1].mean())
    variants: list[Variant] = []
    off_line = False
    for index, band in cloth.bands:
        for mirrored in (False, True):
            for turn in turns(piece, heads, mirrored=mirrored, plies=band.plies):
                low = fold_is_low ^ mirrored ^ (turn.degrees == 180.0)
                way = _way(piece, piece.cut_line, cloth, index, turn, mirrored=mirrored)
                span = free_span(band, way.height)
                if (band.low_edge if low else band.high_edge) != "fold" or span is None:
                    continue
                at = span[0] if low else span[1]
                if cloth.repeat and way.match and not cloth.repeat.lies_on(at + way.match[1]):
                    off_line = True
                    continue
                variants.append(replace(way, low=at, high=at, on_fold=True))
    if off_line and not variants:
        raise SpreadError(
            f"'{piece.name}' on the fold has its match point off the lines of the repeat, because one line lies along "
            "the fold: move the match point onto the fold, lay the cloth open, or leave repeat_across out"
        )
    return tuple(variants)


def free_span(band: Band, height: float) -> tuple[float, float] | None:
    """The lowest and the highest place in a band of an outline so high, mm; None where it sticks out.

    What sticks out by no more than the tolerance at either edge lies in the middle: whatever passes the check may lie.
    """
    room = band.width - height
    if room < -2 * TOLERANCE:
        return None
    low = band.low + min(0.0, room / 2)
    return low, max(low, band.low + room)


def _way(piece: Piece, outline: Floats, cloth: ClothBands, band: int, turn: Turn, *, mirrored: bool) -> Variant:
    """The piece turned in some way on a band, at no place yet."""
    transform = Transform.to_corner(outline, turn.degrees, mirrored, cloth.growth)
    match = _match(piece, transform) if cloth.repeat else None
    placed = transform.outline(outline)
    return Variant(placed, turn.degrees, mirrored, band, 0.0, 0.0, match=match, transform=transform)


def _match(piece: Piece, transform: Transform) -> tuple[float, float] | None:
    """Where in its outline a piece's match point lies, mm."""
    if piece.match is None:
        return None
    x, y = transform([piece.match])[0]
    return float(x), float(y)


def _alike(one: Variant, other: Variant) -> bool:
    """Whether a way to lie is another once more, its match point too."""
    return one.match == other.match and is_same(one.outline, other.outline)
