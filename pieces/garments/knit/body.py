"""Back and front of a knit top, each half of it on a fold."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.garments.parts.trunk import side_curve
from pieces.piece.curve import Line, point_along
from pieces.piece.outline import Edge
from pieces.piece.piece import Notch, Piece

if TYPE_CHECKING:
    from pieces.garments.knit.block import KnitBlock
    from pieces.garments.knit.style import KnitStyle


def draft_back(block: KnitBlock, style: KnitStyle) -> Piece:
    """The back, with two notches on each armhole."""
    return _half("back", block, block.back_bottom, block.across_back, style, 2)


def draft_front(block: KnitBlock, style: KnitStyle) -> Piece:
    """The front, with one notch on each armhole."""
    return _half("front", block, block.front_bottom, block.across_front, style, 1)


def _half(name: str, block: KnitBlock, bottom: float, across: float, style: KnitStyle, notched: int) -> Piece:
    seam, (foot, width) = style.seam, block.hem
    armhole, side = block.armhole(across), side_curve(block.hem, block.underarm)
    edges = (
        Edge(f"centre {name}", Line((bottom, 0.0), (foot, 0.0)).flatten(), 0.0, "fold"),
        Edge("hem", Line((foot, 0.0), (foot, width)).flatten(), style.turned),
        Edge("side", side, seam),
        Edge("armhole", armhole, seam),
        Edge("shoulder", Line(block.tip, block.neck).flatten(), seam),
        Edge("neck", block.neckline(bottom), seam),
    )
    third, middle = edges[3].length / 3, edges[2].length / 2
    notches = (
        *(Notch(f"{name} armhole", point_along(armhole, third + 10.0 * i)) for i in range(notched)),
        Notch("side", point_along(side, middle)),
        *(Notch(f"centre {name}", (x, 0.0)) for x in (bottom, foot)),
    )
    return Piece(
        name,
        edges,
        grain=((foot * 0.45, width * 0.45), (foot * 0.9, width * 0.45)),
        notches=notches,
        match=(block.underarm[0], 0.0),
        label=f"centre {name} on fold",
    )
