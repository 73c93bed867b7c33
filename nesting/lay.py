"""Pieces on a spread: which ways each piece may lie, and how often it must.

In a single layer a mirrored pair is a left and a right item, and a piece drawn on the fold is opened out. In a
mirrored double layer one placement yields a left and a right piece, and a piece on the fold lies as a half with its
fold edge on a fold of the cloth.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nesting.errors import NoFoldError, PieceTooWideError, SpreadError
from nesting.problem import Item, Problem, Variant, place_outline
from nesting.spread import spread_cloth

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from numpy.typing import NDArray

    from nesting.band import Band
    from nesting.fabric import Fabric
    from nesting.spread import Spread
    from pieces import Piece

    Floats = NDArray[np.float64]

SAME_OUTLINE = 1e-6
"""Outlines whose points differ by less, mm, are one and the same."""


def lay_pieces(
    pieces: Iterable[Piece], fabric: Fabric, spread: Spread, *, garments: int = 1, waste_twins: bool = False
) -> Problem:
    """The layout problem of some pieces on a fabric spread in one way.

    Parameters
    ----------
    pieces
        All that is cut from this fabric for one garment.
    garments
        How many garments are cut at once.
    waste_twins
        Whether a piece needed once may be cut double, its twin wasted.

    Raises
    ------
    PieceTooWideError, NoFoldError, SpreadError
        If a piece cannot lie on any band, on no fold, or would waste its twin unasked.
    """
    bands = spread_cloth(fabric, spread)
    double = bands[0].mirrored
    make = _double_items if double else _single_items
    items = [item for piece in pieces for item in make(piece, bands, fabric, garments, waste_twins)]
    return Problem(bands, tuple(items), fabric.gap, name=fabric.name)


def _single_items(
    piece: Piece, bands: tuple[Band, ...], fabric: Fabric, garments: int, waste_twins: bool
) -> Iterator[Item]:
    del waste_twins  # a single layer has no twins
    hands = (False, True) if piece.mirrored_pair else (False,)
    for mirrored in hands:
        variants = _variants(piece.unfolded, bands, fabric, [mirrored])
        if not variants:
            raise _too_wide(piece, bands, fabric, np.ptp(piece.unfolded[:, 1]))
        name = piece.name + (f" ({'right' if mirrored else 'left'})" if piece.mirrored_pair else "")
        yield Item(name, piece.cut // len(hands) * garments, variants, piece=piece)


def _double_items(
    piece: Piece, bands: tuple[Band, ...], fabric: Fabric, garments: int, waste_twins: bool
) -> Iterator[Item]:
    wanted = piece.cut * garments
    if piece.on_fold:
        yield Item(piece.name, wanted, _on_fold(piece, bands, fabric), yields=2, piece=piece)
        return
    variants = _variants(piece.cut_line, bands, fabric, [False, True])
    if not variants:
        raise _too_wide(piece, bands, fabric, np.ptp(piece.cut_line[:, 1]))
    twins = piece.mirrored_pair or _is_symmetric(piece.cut_line)
    pairs, single = divmod(wanted, 2) if twins else (0, wanted)
    if single and not waste_twins:
        raise SpreadError(
            f"'{piece.name}' is cut {wanted} times{'' if twins else ', all the same way up'}, and folded cloth cuts"
            " a left and a right at once: lay the cloth open, or allow waste_twins"
        )
    if pairs:
        yield Item(piece.name, pairs, variants, yields=2, piece=piece)
    if single:
        yield Item(f"{piece.name} (twin wasted)", single, variants, piece=piece)


def _variants(outline: Floats, bands: tuple[Band, ...], fabric: Fabric, hands: list[bool]) -> tuple[Variant, ...]:
    """All ways to lie freely on some band; ways that give one and the same outline count once."""
    variants: list[Variant] = []
    for index, band in enumerate(bands):
        for mirrored in hands:
            for turn in fabric.turns:
                placed = place_outline(outline, turn=turn, mirrored=mirrored)
                room = band.width - float(placed[:, 1].max())
                seen = (v.outline for v in variants if v.band == index)
                if room >= -SAME_OUTLINE and not any(_is_same(placed, other) for other in seen):
                    low, high = band.low, max(band.low, band.low + room)
                    variants.append(Variant(placed, turn, mirrored, index, low, high))
    return tuple(variants)


def _on_fold(piece: Piece, bands: tuple[Band, ...], fabric: Fabric) -> tuple[Variant, ...]:
    """All ways to lie with the fold edge on a fold of the cloth."""
    assert piece.fold_edge is not None
    if all("fold" not in (band.low_edge, band.high_edge) for band in bands):
        raise NoFoldError(f"'{piece.name}' is cut on a fold, and this spread has none: fold the cloth lengthwise")
    fold_is_low = float(piece.fold_edge.points[0, 1]) < float(piece.cut_line[:, 1].mean())
    variants = []
    for index, band in enumerate(bands):
        for mirrored in (False, True):
            for turn in fabric.turns:
                low = fold_is_low ^ mirrored ^ (turn == 180.0)
                placed = place_outline(piece.cut_line, turn=turn, mirrored=mirrored)
                height = float(placed[:, 1].max())
                if (band.low_edge if low else band.high_edge) == "fold" and height <= band.width + SAME_OUTLINE:
                    at = band.low if low else band.high - height
                    variants.append(Variant(placed, turn, mirrored, index, at, at, on_fold=True))
    if not variants:
        raise _too_wide(piece, bands, fabric, np.ptp(piece.cut_line[:, 1]))
    return tuple(variants)


def _too_wide(piece: Piece, bands: tuple[Band, ...], fabric: Fabric, needs: float) -> PieceTooWideError:
    usable = max(band.width for band in bands)
    where = f"'{fabric.name}' between its selvedges" if bands[0].layers == 1 else f"'{fabric.name}' folded"
    remedy = "choose a wider fabric, or cut the piece in two with a seam"
    if bands[0].layers > 1 and np.ptp(piece.unfolded[:, 1]) <= fabric.usable_width:
        remedy = "lay the cloth open (spread 'open'), or choose a wider fabric"
    return PieceTooWideError(piece.name, float(needs), usable, where, remedy)


def _is_symmetric(outline: Floats) -> bool:
    return _is_same(place_outline(outline), place_outline(outline, mirrored=True))


def _is_same(outline: Floats, other: Floats) -> bool:
    """Whether two placed outlines are the same polygon, wherever their points start."""
    if len(outline) != len(other) or np.abs(outline.max(axis=0) - other.max(axis=0)).max() > SAME_OUTLINE:
        return False
    first = np.flatnonzero(np.abs(other - outline[0]).max(axis=1) < SAME_OUTLINE)
    return any(np.abs(np.roll(other, -int(i), axis=0) - outline).max() < SAME_OUTLINE for i in first)
