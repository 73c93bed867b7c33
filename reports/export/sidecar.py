"""The small file beside exported pieces: what their lines alone do not say, for whoever imports them again."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.exchange.imported import Imported, ImportReport
from pieces.exchange.own.sidecar import write_sidecar
from pieces.exchange.sketch.sketch import printable_name

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from pieces import PieceSet


def beside_text(pieces: PieceSet, files: Sequence[Path]) -> str:
    """Counts, materials, folds and labels of pieces, by the names under which they stand in the files."""
    called = {piece.name: printable_name(piece.name, f"piece {n}") for n, piece in enumerate(pieces, 1)}
    named = ", ".join(path.name for path in files)
    return write_sidecar(Imported(pieces, ImportReport("drafted"), called), named, 0.0, fold_is_drawn=False)
