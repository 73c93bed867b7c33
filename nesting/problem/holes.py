"""What proofs are made of where pieces have something cut out of them, such as rings.

Nothing is laid in a hole here, but a cutter may. So proofs are made of pieces whose holes are open to the outside, by a
slit too thin for anything to matter: any layout of the pieces, with others in their holes or not, is one of those.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from nesting.problem.pierced import pierced, slit_open

if TYPE_CHECKING:
    from nesting.problem.item import Item, Variant
    from nesting.problem.problem import Problem
    from pieces import Piece


def with_holes_open(problem: Problem) -> Problem:
    """The problem, with proofs made of pieces whose holes are open; unchanged where no piece has any."""
    loosest = problem.to_prove
    items = tuple(_opened(item) for item in loosest.items)
    return problem if items == loosest.items else problem.proved_by(replace(loosest, items=items))


def _opened(item: Item) -> Item:
    """An item with the holes of its piece open, in each way in which it may lie."""
    piece = item.piece
    if piece is None or not piece.has_hole:
        return item
    return replace(item, variants=tuple(_opened_way(variant, piece) for variant in item.variants))


def _opened_way(way: Variant, piece: Piece) -> Variant:
    """A variant with its holes open; where one reaches the edge, less than the whole box may be left."""
    assert way.transform is not None
    outline = slit_open(pierced(way.outline, piece, way.transform, as_half=way.on_fold))
    x, y = outline.min(axis=0).tolist()
    return replace(way, outline=outline - (x, y), low=way.low + y, high=way.high + y, match=None)
