"""How each outline lies: the piece that it is, and the motion that brings the piece there."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nesting.errors import CheckError
from nesting.tolerance import TOLERANCE
from nesting.verify.shape import PieceShape, apart, motions, same_marks

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import NDArray

    from nesting.verify.asked import Asked
    from nesting.verify.cloth import Region
    from nesting.verify.laid import Laid
    from pieces import Piece

    Floats = NDArray[np.float64]

CLOSE = 1.0
"""An outline that is recognised in spite of what it is said to be is at most so far off, mm, on average."""


@dataclass(frozen=True, eq=False)
class LaidPiece:
    """A piece in its place, as its outline shows.

    Parameters
    ----------
    laid
        What the marker says of it.
    piece, shape, whole
        The piece as drafted, the shape of it that is laid, which may be a half, and what is cut: a half opened out.
    turned
        How it is turned, or turned over, on the table: shape (2, 2).
    growth, move
        Factors along and across the table, and the move after it, mm.
    region
        Where on the table it lies.
    """

    laid: Laid
    piece: Piece
    shape: PieceShape
    whole: PieceShape
    turned: Floats
    growth: Floats
    move: Floats
    region: Region

    def __call__(self, points: Floats) -> Floats:
        """Points of the piece as drafted, shape (n, 2), on the table."""
        placed: Floats = points @ self.turned.T * self.growth + self.move
        return placed


class PieceShapes:
    """The shapes of all pieces asked for, each made once."""

    def __init__(self, asked: Asked) -> None:
        self._growth = np.array(asked.growth)
        self._pieces: dict[str, Piece] = {}
        for pieces, _ in asked.sets:
            for piece in pieces:
                if self._pieces.setdefault(piece.name, piece) is not piece:
                    raise CheckError(f"two pieces are called '{piece.name}': give each its own name")
        self._shapes: dict[tuple[str, bool], PieceShape] = {}

    def find(self, laid: Laid, region: Region) -> LaidPiece:
        """How an outline lies; CheckError if it is not the outline of the piece that it is said to be."""
        piece = self._pieces.get(laid.piece)
        if piece is None:
            raise CheckError(f"'{laid.piece}' is laid, but was not asked for")
        if laid.on_fold and not piece.on_fold:
            raise CheckError(f"'{laid.piece}' is laid as a half, but is not cut on a fold")
        shape = self.shape(piece, half=laid.on_fold)
        turned = said(laid)
        lying = self._placed(laid, piece, shape, turned, region)
        off = apart(lying(shape.outline), laid.outline)
        if off > TOLERANCE:
            raise CheckError(self._why_not(laid, shape, off))
        _check_marks(lying)
        return lying

    def shape(self, piece: Piece, *, half: bool) -> PieceShape:
        """The shape of a piece, whole or as it is drawn."""
        key = piece.name, half
        if key not in self._shapes:
            self._shapes[key] = PieceShape.as_drawn(piece) if half else PieceShape.whole(piece)
        return self._shapes[key]

    def _placed(self, laid: Laid, piece: Piece, shape: PieceShape, turned: Floats, region: Region) -> LaidPiece:
        box = (shape.outline @ turned.T * self._growth).min(axis=0)
        move = laid.outline.min(axis=0) - box
        return LaidPiece(laid, piece, shape, self.shape(piece, half=False), turned, self._growth, move, region)

    def _why_not(self, laid: Laid, shape: PieceShape, off: float) -> str:
        """What an outline is, if not what it is said to be."""
        found = motions(shape.outline, laid.outline / self._growth)
        if found:
            over, degrees = read(found[0].turned)
            how = f"{'turned over, then ' if over else ''}turned by {degrees:.4g}°"
            told = f"{'turned over, then ' if laid.mirrored else ''}turned by {laid.turn:.4g}°"
            return f"'{laid.piece}' is drawn {how}, but the marker says {told}"
        for other in self._pieces.values():
            same = other.name != laid.piece and motions(
                self.shape(other, half=laid.on_fold and other.on_fold).outline, laid.outline / self._growth
            )
            if same:
                return f"'{laid.piece}' is drawn with the outline of '{other.name}'"
        grown = " as it is enlarged for this cloth" if (self._growth != 1).any() else ""
        return f"'{laid.piece}' is not drawn with its own outline{grown}: it differs by {off:.2f} mm"


def said(laid: Laid) -> Floats:
    """The turn, or turn over, that a marker tells of."""
    turn = math.radians(laid.turn % 360)
    quarter, rest = divmod(laid.turn % 360, 90)
    cos, sin = math.cos(turn), math.sin(turn)
    if not rest:
        cos, sin = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarter) % 4]
    return np.array([[cos, -sin], [sin, cos]]) @ np.diag([1.0, -1.0 if laid.mirrored else 1.0])


def read(turned: Floats) -> tuple[bool, float]:
    """Whether a motion turns over (y to -y, first), and the degrees by which it then turns."""
    return bool(np.linalg.det(turned) < 0), round(math.degrees(math.atan2(turned[1, 0], turned[0, 0])), 6) % 360


def _check_marks(lying: LaidPiece) -> None:
    told: Mapping[str, tuple[Floats, ...]] | None = lying.laid.marks
    if told is None:
        return
    for kind, lines in lying.shape.marks.items():
        if not same_marks(kind, [lying(line) for line in lines], told.get(kind, ())):
            what = {"line": "inner line", "sew": "inner seam"}.get(kind, kind)
            raise CheckError(f"a mark of '{lying.piece.name}' is not drawn where the piece has it: {what}")
