"""The ways in which a piece may lie on the bands of a spread."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from nesting.errors import SpreadError
from nesting.grain import SAME_OUTLINE, is_same, turns
from nesting.item import Variant
from nesting.transform import Transform

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    import numpy as np
    from numpy.typing import NDArray

    from nesting.band import Band
    from nesting.repeat import Repeat
    from pieces import Piece

    Floats = NDArray[np.float64]


class Cloth(NamedTuple):
    """Bands that a piece may lie on, each with its number, the pattern on them, and how much larger pieces are cut."""

    bands: tuple[tuple[int, Band], ...]
    repeat: Repeat | None
    growth: tuple[float, float] = (1.0, 1.0)


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
            for turn in turns(piece, heads, mirrored=mirrored, plies=band.plies, outline=outline):
                transform = Transform.to_corner(outline, turn.degrees, mirrored, cloth.growth)
                placed = transform.outline(outline)
                room = band.width - float(placed[:, 1].max())
                match = _match(piece, transform) if cloth.repeat else None
                if room < -SAME_OUTLINE or any(_alike(placed, match, v) for v in variants if v.band == index):
                    continue
                low, high = band.low, max(band.low, band.low + room)
                if cloth.repeat and match:
                    on_lines = cloth.repeat.range_y(match, low, high, SAME_OUTLINE)
                    if on_lines is None:
                        off_line = True
                        continue
                    low, high = on_lines
                variants.append(
                    Variant(
                        placed,
                        turn.degrees,
                        mirrored,
                        index,
                        low,
                        high,
                        tilt=turn.tilt,
                        most_tilt=piece.tilt,
                        match=match,
                        transform=transform,
                    )
                )
    if off_line and not variants:
        raise SpreadError(
            f"'{piece.name}' fits across the cloth, but nowhere with its match point on a line of the repeat:"
            " choose a wider fabric or another spread, or leave the repeat across out"
        )
    return tuple(variants)


def fold_ways(piece: Piece, cloth: Cloth, heads: Sequence[float]) -> tuple[Variant, ...]:
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
                transform = Transform.to_corner(piece.cut_line, turn.degrees, mirrored, cloth.growth)
                placed = transform.outline(piece.cut_line)
                height = float(placed[:, 1].max())
                if (band.low_edge if low else band.high_edge) != "fold" or height > band.width + SAME_OUTLINE:
                    continue
                at = band.low if low else band.high - height
                match = _match(piece, transform) if cloth.repeat else None
                if cloth.repeat and match and not cloth.repeat.lies_on(at + match[1]):
                    off_line = True
                    continue
                variants.append(
                    Variant(
                        placed,
                        turn.degrees,
                        mirrored,
                        index,
                        at,
                        at,
                        on_fold=True,
                        match=match,
                        transform=transform,
                    )
                )
    if off_line and not variants:
        raise SpreadError(
            f"'{piece.name}' on the fold has its match point off the lines of the repeat, as one lies along the fold:"
            " move the match point on to the fold, lay the cloth open, or leave the repeat across out"
        )
    return tuple(variants)


def _match(piece: Piece, transform: Transform) -> tuple[float, float] | None:
    """Where in its outline a piece's match point lies, mm."""
    if piece.match is None:
        return None
    x, y = transform([piece.match])[0]
    return float(x), float(y)


def _alike(placed: Floats, match: tuple[float, float] | None, other: Variant) -> bool:
    """Whether a way to lie is another once more, its match point too."""
    return match == other.match and is_same(placed, other.outline)
