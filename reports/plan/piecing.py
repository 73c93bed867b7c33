"""Shapes wider than a cloth, pieced: in the fewest parts that it holds, each cloth for itself."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nesting.cloth.spread import SEARCHED, spread_cloth
from nesting.errors import NestingError
from pieces.shapes.shaped import Pieced, Room, ShapedPiece
from pieces.units import format_both

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from pieces import Piece
    from reports.ask.offer import FabricOffer


def pieced_for(offer: FabricOffer, pieces: Sequence[Piece]) -> tuple[Piece, ...]:
    """Pieces as they are cut of a cloth: a shape wider than all the room there is in parts."""
    return tuple(part for piece in pieces for part in _pieced(offer, piece).pieces)


def piecing_lines(offer: FabricOffer, pieces: Sequence[Piece]) -> Iterator[str]:
    """A line for each shape that is pieced on a cloth: in how many parts, how large, and by which seams."""
    for piece in pieces:
        cut = _pieced(offer, piece)
        if cut.joins:
            sizes = " and ".join(
                f"{part.cut // piece.cut} of {format_both(part.length)} × {format_both(part.width)}"
                for part in cut.pieces
            )
            seams = "1 seam" if cut.joins == 1 else f"{cut.joins} seams"
            allowance = piece.join if isinstance(piece, ShapedPiece) else 0.0
            yield (
                f"{piece.name}: on {offer.name} pieced of {cut.parts} parts, cut {sizes}, joined by {seams} of"
                f" {format_both(allowance)}"
            )


def _pieced(offer: FabricOffer, piece: Piece) -> Pieced:
    if not isinstance(piece, ShapedPiece):
        return Pieced((piece,))
    cut = piece.pieced(rooms_of(offer), turned=offer.nap is False)
    return cut if cut.pieces == (piece,) else cut._replace(pieces=tuple(offer.allowed(part) for part in cut.pieces))


def rooms_of(offer: FabricOffer) -> list[Room]:
    """How much room a cloth has across in each way that it may lie, before it shrinks."""
    fabric, found = offer.fabric(), []
    for spread in offer.spreads():
        depth = offer.depth_of(spread)
        if spread in SEARCHED and depth is None:
            continue  # it holds no more than the cloth laid open
        try:
            bands = spread_cloth(fabric, spread, depth, offer.plies)
        except NestingError:
            continue
        found += [Room(band.width, "fold" in (band.low_edge, band.high_edge)) for band in bands]
    return [replace_across(room, fabric.growth[1]) for room in found]


def replace_across(room: Room, growth: float) -> Room:
    """A room as it is to what has not grown yet by what the cloth will shrink."""
    return room._replace(across=room.across / growth)
