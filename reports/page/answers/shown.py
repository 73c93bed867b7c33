"""A piece as the page draws it, and all that was read of a file."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from pieces import Piece
    from pieces.exchange.imported import Imported


def shown_of(found: Imported) -> dict[str, Any]:
    """What the page shows of a file: the report, in data and in words, and the pieces."""
    return {
        "report": found.report.to_plain(),
        "words": found.report.lines(),
        "pieces": [piece_to_plain(piece) for piece in found.pieces],
    }


def piece_to_plain(piece: Piece) -> dict[str, Any]:
    """What the page draws of a piece, mm."""
    return {
        "name": piece.name,
        "cut": piece.cut,
        "label": piece.label,
        "material": piece.material,
        "on_fold": piece.on_fold,
        "mirrored": piece.mirrored_pair,
        "length": piece.length,
        "width": piece.width,
        "cut_line": piece.cut_line.tolist(),
        "sew_line": piece.sew_line.tolist(),
        "grain": [list(point) for point in piece.grain],
        "notches": [list(notch.point) for notch in piece.notches],
    }
