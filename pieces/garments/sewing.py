"""An order of sewing: numbered steps, each with the edges that are sewn in it.

Allowances, notches and lengths are read off the pieces, so that a step never says another figure than they have.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.piece.outline import Edge
    from pieces.piece.piece import Piece
    from pieces.piece.pieces import PieceSet

ON_EDGE = 0.01
"""A notch no further from an edge, mm, is one of its."""


@dataclass(frozen=True)
class SewingStep:
    """One thing to do at the machine or the iron.

    Parameters
    ----------
    title, text
        What it is, and how it is done.
    edges
        What is sewn, as piece and edge; empty where whole pieces are meant.
    pieces
        The pieces that are shown with it.
    """

    title: str
    text: str
    edges: tuple[tuple[str, str], ...] = ()
    pieces: tuple[str, ...] = ()

    def sewn(self, drafted: PieceSet) -> list[tuple[Piece, Edge]]:
        """Its edges, with their pieces."""
        return [(drafted[piece], drafted[piece].edge(edge)) for piece, edge in self.edges]

    def allowances(self, drafted: PieceSet) -> list[float]:
        """The allowances of its edges, mm, each once."""
        return sorted({round(edge.allowance, 2) for _, edge in self.sewn(drafted)})

    def notches(self, drafted: PieceSet) -> list[str]:
        """The names of the notches on its edges, each once."""
        return list(dict.fromkeys(name for piece, edge in self.sewn(drafted) for name in notches_on(piece, edge)))

    def shown(self, drafted: PieceSet) -> list[Piece]:
        """The pieces to draw: those of its edges, then others, each once."""
        names = dict.fromkeys((*(piece for piece, _ in self.edges), *self.pieces))
        return [drafted[name] for name in names]


def notches_on(piece: Piece, edge: Edge) -> Iterator[str]:
    """The names of a piece's notches that lie on one of its edges."""
    import shapely

    line = shapely.LineString(np.asarray(edge.points))
    for notch in piece.notches:
        if line.distance(shapely.Point(notch.point)) < ON_EDGE:
            yield notch.name
