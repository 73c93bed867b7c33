"""Shapes wider than a cloth, pieced: in the fewest parts that it holds, each cloth for itself."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

from nesting.cloth.spread import SEARCHED, spread_cloth
from nesting.errors import NestingError
from pieces.shapes.shaped import ClothRoom, Pieced, ShapedPiece
from pieces.units import format_need, format_size

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nesting.cloth.band import Band
    from nesting.cloth.spread import Spread
    from nesting.fit.remnant import Remnant
    from pieces import Piece
    from pieces.units import Units
    from reports.ask.offer import FabricOffer


class ClothAcross(NamedTuple):
    """How much a cloth holds across.

    Parameters
    ----------
    rooms
        In each way that it may lie, before it shrinks.
    turned
        Whether it lets pieces lie across that may: not with a nap.
    tilt
        Degrees that pieces may lie off the grain.
    """

    rooms: tuple[ClothRoom, ...]
    turned: bool
    tilt: float = 0.0

    @classmethod
    def of_offer(cls, offer: FabricOffer) -> ClothAcross:
        """What a cloth that is offered holds in all spreads it may lie in."""
        fabric = offer.fabric()
        found: list[Band] = []
        for spread in offer.spreads():
            depth = offer.depth_of(spread)
            if spread in SEARCHED and depth is None:
                continue  # it holds no more than the cloth laid open
            try:
                bands = spread_cloth(fabric, spread, depth, offer.plies)
            except NestingError:
                continue
            found += bands
        return cls.of_bands(offer, found)

    @classmethod
    def of_bands(cls, offer: FabricOffer, bands: Sequence[Band]) -> ClothAcross:
        """What a cloth that is offered holds where it lies in some bands."""
        rooms = [ClothRoom(band.width, "fold" in (band.low_edge, band.high_edge)) for band in bands]
        return cls(_grown(rooms, offer.fabric().growth[1]), offer.nap is False, offer.tilt)

    @classmethod
    def of_remnant(cls, remnant: Remnant, spreads: Sequence[Spread], tilt: float) -> ClothAcross:
        """What a remnant holds."""
        open_room = ClothRoom(remnant.width - 2 * remnant.selvedge, has_fold=False)
        folded = ClothRoom(remnant.width / 2 - remnant.selvedge, has_fold=True)
        rooms = [folded if spread == "folded" else open_room for spread in spreads]
        return cls(_grown(rooms, 1 / (1 - remnant.shrinkage[1] / 100)), remnant.nap is False, tilt)

    def pieced(self, pieces: Sequence[Piece]) -> tuple[Piece, ...]:
        """Pieces as they are cut of it: a shape wider than all the room there is in parts."""
        return tuple(part for piece in pieces for part in self._pieced(piece).pieces)

    def lines(self, pieces: Sequence[Piece], on: str, units: Units) -> Iterator[str]:
        """A line for each shape that is pieced: in how many parts, how large, and by which seams."""
        for piece in pieces:
            cut = self._pieced(piece)
            if isinstance(piece, ShapedPiece) and cut.parts > 1:
                sizes = " and ".join(
                    f"{part.cut // piece.cut} of {format_need(part.length, units)} × {format_need(part.width, units)}"
                    for part in cut.pieces
                )
                seams = "1 seam" if cut.joins == 1 else f"{cut.joins} seams"
                by = f"{seams} with allowances of {format_size(piece.join, units, 16)}" if cut.joins else "no seam"
                yield f"{piece.name}: on {on} pieced of {cut.parts} parts, cut {sizes}, joined by {by}"

    def parts(self, pieces: Sequence[Piece]) -> dict[str, int]:
        """Of how many parts each shape is, by its name."""
        return {piece.name: self._pieced(piece).parts for piece in pieces if isinstance(piece, ShapedPiece)}

    def _pieced(self, piece: Piece) -> Pieced:
        if not isinstance(piece, ShapedPiece) or piece.border:
            return Pieced((piece,))
        cut = piece.pieced(self.rooms, turned=self.turned)
        if cut.parts == 1:
            return cut
        return cut._replace(pieces=tuple(_tilted(part, self.tilt) for part in cut.pieces))


def _tilted(piece: Piece, tilt: float) -> Piece:
    return replace(piece, tilt=tilt)


def _grown(rooms: Sequence[ClothRoom], growth: float) -> tuple[ClothRoom, ...]:
    """Rooms as they are to pieces that have not grown yet by what the cloth will shrink."""
    return tuple(room._replace(across=room.across / growth) for room in rooms)
