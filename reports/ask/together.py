"""Whether a joined set of pieces has what each garment of a job asks for: counted anew, from the garments."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from nesting.errors import CheckError

if TYPE_CHECKING:
    from collections.abc import Iterable

    from pieces import Piece, PieceSet
    from reports.ask.members import Member


def require_all_joined(members: Iterable[Member], joined: PieceSet) -> None:
    """Make sure that a set has every piece of every garment as often as asked, and nothing else.

    Raises
    ------
    CheckError
        At the first garment and piece that does not agree.
    """
    asked: Counter[tuple[object, ...]] = Counter()
    for member in members:
        for piece in member.pieces:
            asked[(f"{member.label}: {piece.name}", *_shape(piece))] += member.quantity * piece.cut
    given: Counter[tuple[object, ...]] = Counter()
    for piece in joined:
        given[(piece.name, *_shape(piece))] += piece.cut
    for key in (*asked, *given):
        if asked[key] != given[key]:
            raise CheckError(f"'{key[0]}' is asked for {asked[key]} times, and was put together {given[key]} times")


def _shape(piece: Piece) -> tuple[object, ...]:
    """What two pieces that are cut alike have in common."""
    return piece.material, piece.mirrored_pair, piece.on_fold, piece.lies, piece.tilt, piece.cut_line.tobytes()
