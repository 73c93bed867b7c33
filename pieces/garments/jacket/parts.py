"""What is added to a drafted jacket: pockets, lining, interfacing, a hanger loop.

Pockets lie as low as a hand reaches, and in the middle of the front: common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from pieces.errors import DraftError
from pieces.garments.jacket.lining import draft_lining
from pieces.garments.parts.interfacing import interfacing_of, strip
from pieces.garments.parts.loop import hanger_loop
from pieces.garments.parts.pocket import (
    BAG_ABOVE,
    BAG_ACROSS,
    BAG_BELOW,
    MOUTH_SHARE,
    PATCH_DEPTH,
    mouth_ends,
    patch_pocket,
    side_pocket,
    welt_pocket,
)
from pieces.piece.curve import Point, point_along
from pieces.piece.piece import InnerLine, Notch, Piece
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    from collections.abc import Mapping

    from pieces.body.body import Body
    from pieces.garments.jacket.style import JacketStyle
    from pieces.piece.pieces import Seam

LEAST_MOUTH, MOST_MOUTH = 3 * INCH, 7.5 * INCH
"""No mouth is smaller or larger, unless it is asked for."""

BEFORE_EDGE, LEAST_BAG = 0.25 * INCH, 2 * INCH
"""How far a bag keeps from the front edge, and how deep it is at the least."""

ABOVE_HEM, BELOW_ARM = INCH, 1.5 * INCH
"""How far a pocket keeps from the hem seam and from the level of the underarm."""

CLEAR = 0.25 * INCH
"""How far the bag behind a welt ends above the hem seam."""

SLANT = 0.35
"""How far a welt leans, its lower end to the side: a millimetre of its length."""

UPRIGHT: float = (1 - SLANT**2) ** 0.5
"""How far it reaches down: a millimetre of its length."""

FACED_PIECES = ("front facing", "back facing", "welt", "collar", "hem tab")
"""Pieces that are interfaced; of two layers of a collar one."""


def add_parts(shell: Mapping[str, Piece], body: Body, style: JacketStyle) -> tuple[list[Piece], list[Seam]]:
    """Back, front, sleeve and facings with the places of pockets marked on them, and what is added to them.

    Returns
    -------
    tuple
        All these pieces, and the seams of those that are new.

    Raises
    ------
    DraftError
        If there is no room for a pocket.
    """
    marked, new = _pockets(shell, body, style)
    seams: list[Seam] = []
    if style.lining == "full":
        lining, seams_of_lining = draft_lining(shell, style)
        new += lining
        seams += seams_of_lining
    if style.hanger_loop == "loop":
        new.append(hanger_loop(style.seam))
    return [*marked, *new], seams


def add_interfacing(pieces: list[Piece], style: JacketStyle) -> list[Piece]:
    """Interfacing for facings, welts, tabs and one layer of a collar, as they have got their allowances.

    Under snaps or buttons of a front without a separate facing lies a strip of it.
    """
    if style.interfacing == "none":
        return []
    faced = [piece for piece in pieces if piece.name in FACED_PIECES]
    found = [interfacing_of(piece, 1 if piece.name == "collar" else None) for piece in faced]
    front = next(piece for piece in pieces if piece.name == "front")
    if style.facing != "separate" and style.closure == "buttons":
        long = float(np.ptp(front.edge("inner edge" if style.facing == "grown-on" else "front edge").points[:, 0]))
        found.append(strip("front edge interfacing", long, 2 * style.overlap))
    return found


def _pockets(shell: Mapping[str, Piece], body: Body, style: JacketStyle) -> tuple[list[Piece], list[Piece]]:
    """The shell with the places of its pockets, and what they are made of."""
    if style.pockets == "none":
        return list(shell.values()), []
    mouth = pocket_mouth(shell["front"], body, style)
    seam, cloth = style.seam, style.pocket_cloth
    if style.pockets == "side-seam":
        new = side_pocket(mouth, seam, style.seams.of("side"), cloth)
        return [_with_side_notches(piece, mouth) for piece in shell.values()], new
    if style.pockets == "patch":
        new, place = patch_pocket(mouth, seam), _patch_place(shell["front"], mouth)
    else:
        new, place = _behind_welt(shell["front"], mouth, style)
    front = _marked(shell["front"], place)
    return [front if piece.name == "front" else piece for piece in shell.values()], new


def _behind_welt(front: Piece, mouth: float, style: JacketStyle) -> tuple[list[Piece], InnerLine]:
    """The parts of a welt pocket, and its mouth: in the middle of the front, so high that the bag clears the hem.

    Raises
    ------
    DraftError
        If there is no room for a bag between the mouth and the front edge.
    """
    hem, lean = front.edge("hem").points, SLANT * mouth / 2
    middle, foot = 0.52 * float(hem[-1, 1]), float(hem[-1, 0])
    room = middle - lean + style.overlap - style.seam - BEFORE_EDGE
    if room < LEAST_BAG:
        raise DraftError(
            f"a bag behind a welt would be only {format_both(max(room, 0.0))} deep, too little for a hand:"
            " choose patch or side-seam pockets, or none",
            about="pockets",
        )
    high = foot - float(front.edge("side").points[-1, 0]) - BELOW_ARM
    parts = welt_pocket(mouth, style.seam, style.pocket_cloth, min(room, _deepest(high, mouth, style.seam)))
    bag = parts[-1].cut_line - (BAG_ABOVE + mouth, 0.0)  # from the lower end of its mouth
    low = foot - max(ABOVE_HEM, float((bag @ (UPRIGHT, SLANT)).max()) + CLEAR)
    return parts, InnerLine("line", ((low - mouth * UPRIGHT, middle - lean), (low, middle + lean)))


def _longest(high: float, deep: float, seam: float) -> float:
    """The longest mouth whose bag, so deep, clears the hem, on so much height, mm: the bag leans as the mouth does."""
    long: float = (high - CLEAR - SLANT * (deep + seam)) / UPRIGHT - BAG_BELOW - seam
    return long


def _deepest(high: float, mouth: float, seam: float) -> float:
    """The deepest bag that clears the hem below a mouth, mm."""
    deep: float = (high - CLEAR - UPRIGHT * (mouth + BAG_BELOW + seam)) / SLANT - seam
    return deep


def _marked(front: Piece, place: InnerLine) -> Piece:
    """The front with a line, and a drill point at each of its corners."""
    corners = dict.fromkeys((*front.drill_points, *place.points))
    return replace(front, inner=(*front.inner, place), drill_points=tuple(corners))


def pocket_mouth(front: Piece, body: Body, style: JacketStyle) -> float:
    """How wide the mouth of a pocket is, mm: as asked, or a sixth of the chest, or what there is room for.

    Raises
    ------
    DraftError
        If there is no room for it.
    """
    side, hem = front.edge("side").points, front.edge("hem").points
    high = float(hem[-1, 0] - side[-1, 0]) - BELOW_ARM
    across = 0.9 * float(hem[-1, 1])
    room = {
        "patch": min(across, (high - ABOVE_HEM) / PATCH_DEPTH),
        "side-seam": high - ABOVE_HEM - INCH,
        "welt": _longest(high, LEAST_BAG, style.seam),
    }[style.pockets]
    easy = _longest(high, BAG_ACROSS, style.seam) if style.pockets == "welt" else room
    usual = min(max(MOUTH_SHARE * body.bust, LEAST_MOUTH), MOST_MOUTH, max(easy, LEAST_MOUTH))
    mouth = usual if style.pocket_mouth is None else style.pocket_mouth
    if not 0 < mouth <= room + 1e-6:
        raise DraftError(
            f"a {style.pockets} pocket with a mouth of {format_both(mouth)} finds no room between armhole and hem: make"
            f" the jacket longer, the armhole less deep, or leave pockets out",
            about="pocket_mouth" if style.pocket_mouth is not None else "pockets",
        )
    return mouth


def _with_side_notches(piece: Piece, mouth: float) -> Piece:
    """Back or front with the ends of a pocket on its side seam; other pieces as they are."""
    if piece.name not in ("back", "front"):
        return piece
    side = piece.edge("side").points  # from the hem up
    top, end = mouth_ends(mouth + INCH)
    low = ABOVE_HEM + (mouth + INCH - end)
    places = (("pocket end", low), ("pocket top", low + end - top))
    return replace(piece, notches=(*piece.notches, *(Notch(name, point_along(side, at)) for name, at in places)))


def _patch_place(front: Piece, mouth: float) -> InnerLine:
    """Where a patch lies: in the middle between centre front and side."""
    hem = front.edge("hem").points
    low, middle = float(hem[-1, 0]) - ABOVE_HEM, 0.52 * float(hem[-1, 1])
    top, left, right = low - PATCH_DEPTH * mouth, middle - mouth / 2, middle + mouth / 2
    corners: tuple[Point, ...] = ((top, left), (low, left), (low, right), (top, right), (top, left))
    return InnerLine("line", corners)
