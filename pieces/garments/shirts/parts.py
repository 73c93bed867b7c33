"""What a shirt has that a jacket has not: hems, cuffs with slits, chest pockets. Common practice, no source."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from pieces.errors import DraftError
from pieces.garments.parts.hem import turned_twice
from pieces.garments.parts.interfacing import interfacing_of, strip
from pieces.garments.parts.pocket import PATCH_DEPTH, middle_pocket, patch_pocket
from pieces.garments.parts.rectangle import rectangle
from pieces.piece.outline import Edge
from pieces.piece.piece import InnerLine, Piece
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    from pieces.body.body import Body
    from pieces.garments.jacket.block import Block
    from pieces.garments.shirts.style import ShirtStyle

CHEST_MOUTH = 1 / 8
"""Of the chest, of a pocket on it: 4 1/2 in for size 36 (Rosenfeld, The Practical Designer, 1911, lesson 27)."""

POCKET_ABOVE = 1.5 * INCH
"""How far the mouth of a chest pocket lies above the level of the underarm."""

BESIDE = INCH
"""How far it keeps from the overlap of the fronts, and from the armhole."""

SLIT, SLIT_END = 4 * INCH, INCH
"""Length of the slit above a cuff, and how far at the least it stays below the underarm."""

SLIT_STRIP = 1.25 * INCH
"""Cut width of the strip that binds a slit."""

INTERFACED = ("collar", "cuff", "front facing")


def shirt_front(front: Piece, style: ShirtStyle) -> Piece:
    """A front, or its facing, whose neckline is divided at the centre front, where the collar ends; hemmed."""
    edges: list[Edge] = []
    for edge in front.edges:
        if edge.name != "neck":
            edges.append(edge)
            continue
        at = int(np.argmin(np.abs(edge.points[:, 1])))
        edges.append(replace(edge, points=edge.points[: at + 1].copy()))
        edges.append(Edge("neck end", edge.points[at:].copy(), edge.allowance))
    return hemmed(replace(front, edges=tuple(edges)), style)


def hemmed(piece: Piece, style: ShirtStyle) -> Piece:
    """A piece whose hem is turned in twice, and its wrist end where that has no cuff."""
    names = ("hem",) if style.has_cuff else ("hem", "wrist")
    deep = turned_twice(style.hem)
    edges = (replace(e, points=e.points.copy(), allowance=deep) if e.name in names else e for e in piece.edges)
    return replace(piece, edges=tuple(edges))


def cuffs(sleeve: Piece, body: Body, style: ShirtStyle) -> tuple[Piece, list[Piece]]:
    """The sleeve with the slit marked on it, the cuff, and the strip that binds the slit.

    Raises
    ------
    DraftError
        If the wrist end is narrower than the cuff, or the sleeve too short for the slit.
    """
    if not style.has_cuff:
        return sleeve, []
    wrist, long, seam = sleeve.edge("wrist"), style.cuff_length(body), style.seam
    if wrist.length < long - 1e-6:
        raise DraftError(
            f"sleeve_hem of {format_both(wrist.length)} is less than the cuff of {format_both(long)}: make it wider,"
            " or set ends to 'hem'",
            about="sleeve_hem",
        )
    foot, back = float(wrist.points[0, 0]), float(wrist.points[0, 1])
    if foot - SLIT - SLIT_END < float(sleeve.edge("back underarm").points[0, 0]):
        raise DraftError(
            f"the sleeve has no room for a slit of {format_both(SLIT)} above its cuff: make it longer, or set ends to"
            " 'hem'",
            about="sleeve",
        )
    slit = InnerLine("line", ((foot - SLIT, back / 2), (foot, back / 2)))
    names = ("edge", "end", "other edge", "other end")
    cuff = rectangle("cuff", long, 2 * style.cuff, names, (seam,) * 4, cut=2, lies="cross")
    strips = ("sleeve side", "end", "turned side", "other end")
    binding = rectangle("slit binding", 2 * SLIT, SLIT_STRIP, strips, (0.0,) * 4, cut=2)
    return replace(sleeve, inner=(*sleeve.inner, slit)), [cuff, binding]


def chest_pockets(front: Piece, block: Block, body: Body, style: ShirtStyle) -> tuple[Piece, list[Piece]]:
    """The front with the place of a pocket marked on it, and the pockets.

    Raises
    ------
    DraftError
        If there is no room for them.
    """
    if style.pockets == "none":
        return front, []
    top = block.match[0] - POCKET_ABOVE
    armhole = front.edge("armhole").points
    room = float(armhole[armhole[:, 0] >= top - BESIDE, 1].min()) - style.overlap - 2 * BESIDE
    mouth = min(CHEST_MOUTH * body.bust, max(room, 2 * INCH)) if style.pocket_mouth is None else style.pocket_mouth
    low = top + PATCH_DEPTH * mouth
    if mouth > room + 1e-6 or low > float(front.edge("hem").points[0, 0]) - BESIDE:
        raise DraftError(
            f"a chest pocket with a mouth of {format_both(mouth)} finds no room: make the shirt longer or wider, or"
            " leave pockets out",
            about="pockets" if style.pocket_mouth is None else "pocket_mouth",
        )
    near = style.overlap + BESIDE + (room - mouth) / 2
    corners = ((top, near), (low, near), (low, near + mouth), (top, near + mouth), (top, near))
    patches = patch_pocket(mouth, style.seam)
    if style.pockets == "one":
        patches = [middle_pocket(mouth, PATCH_DEPTH * mouth, style.seam)]
    return replace(front, inner=(*front.inner, InnerLine("line", corners))), patches


def interfacings(pieces: list[Piece], style: ShirtStyle) -> list[Piece]:
    """Of one layer of the collar, of cuffs and of facings; a strip where the facing is grown on."""
    if style.interfacing == "none":
        return []
    found = [
        interfacing_of(piece, 1 if piece.name == "collar" else None) for piece in pieces if piece.name in INTERFACED
    ]
    if style.facing == "grown-on":
        front = next(piece for piece in pieces if piece.name == "front")
        long = float(np.ptp(front.edge("inner edge").points[:, 0]))
        found.append(strip("front edge interfacing", long, 2 * style.overlap))
    return found
