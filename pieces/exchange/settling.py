"""What was taken of a file held against the pieces made of it: nothing may be lost on the way."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from pieces.errors import AccountError

if TYPE_CHECKING:
    from pieces.exchange.account import EntryRole
    from pieces.exchange.imported import ImportReport
    from pieces.exchange.sketch.sketch import Sketch
    from pieces.piece.piece import Piece


def settle(sketch: Sketch, piece: Piece | None, report: ImportReport, why: str = "") -> None:
    """Give all that a sketch took its place in the account.

    Parameters
    ----------
    piece
        What was made of it; None if it is left out.
    why
        The reason, if it is left out.

    Raises
    ------
    AccountError
        If the piece does not have as many marks and lines as were taken for it.
    """
    account = report.account
    if piece is None:
        for _, numbers in sketch.taken:
            account.put(numbers, "left out", sketch.name, why)
        return
    _release_overruled(sketch, piece, report)
    if sketch.taken and sketch.whole is None and piece.material != "rib":
        _compare(sketch, piece)
    for place, numbers in sketch.taken:
        account.put(numbers, place, piece.name)


def _release_overruled(sketch: Sketch, piece: Piece, report: ImportReport) -> None:
    """Leave out lines that were drawn and do not count, for what is written of the piece says otherwise."""
    account = report.account
    if sketch.turn is not None:
        account.put(sketch.release("grain"), "left out", piece.name, "its grain is given elsewhere")
    if sketch.side:
        account.put(sketch.release("fold"), "left out", piece.name, "its fold is given elsewhere")
    if piece.material == "rib" and sketch.whole is None:
        kept: tuple[EntryRole, ...] = ("inner line", "sew line", "cutout", "drill point")
        for place in kept:
            account.put(sketch.release(place), "left out", piece.name, "a rib band has only an outline and notches")


def _compare(sketch: Sketch, piece: Piece) -> None:
    told = Counter(place for place, _ in sketch.taken)
    inner = Counter(line.kind for line in piece.inner)
    there: dict[EntryRole, int] = {
        "piece": 1,
        "notch": len(piece.notches),
        "drill point": len(piece.drill_points),
        "inner line": inner["line"],
        "sew line": inner["sew"],
        "cutout": inner["cutout"],
    }
    for place, count in there.items():
        if told[place] != count:
            raise AccountError(f"'{piece.name}' has {count} of {place}, and {told[place]} were taken for it")
