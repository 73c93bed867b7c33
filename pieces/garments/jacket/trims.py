"""What a rib jacket needs besides cloth and rib: its closure, thread, a label. Common practice, no source."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from pieces.garments.jacket.sewing import interfaced
from pieces.trims.sewn import Sewn, sewn_seams
from pieces.trims.stock import buttons_for, elastic_for, thread_for, zip_for
from pieces.trims.trim import TrimNeeded

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from pieces.garments.jacket.style import JacketStyle
    from pieces.piece.piece import Piece
    from pieces.piece.pieces import PieceSet

WITH_NECKBAND = ("front neckline", "back neckline")
"""Seams of facings that are sewn in one with the neckband."""


STANDING: Mapping[str, tuple[str, ...]] = {"band": ("neckband",), "collar": ("collar",), "hood": ()}
"""What the front edge runs on into above the neckline."""


def jacket_trims(drafted: PieceSet, style: JacketStyle) -> tuple[TrimNeeded, ...]:
    """Closure, thread, label and interfacing of a jacket."""
    thread = thread_for(_sewn(drafted, style))
    return (*_closure(drafted, style), *_elastic(drafted, style), *thread, *_label(), *_interfacing(drafted))


def closing_edge(drafted: PieceSet, style: JacketStyle) -> float:
    """The finished front edge from the lower edge of the hem band to the upper edge of the neckband, mm.

    Where the facing is grown on, it is the line that the front is folded at.
    """
    front = _one_side(drafted, "front")
    if style.facing == "grown-on":
        (start, end), *_ = (line.points for line in front.inner)
        edge = math.dist(start, end)
    else:
        edge = front.edge("front edge").length
    return edge + style.rib_depth + style.above_neckline


def _closure(drafted: PieceSet, style: JacketStyle) -> Iterator[TrimNeeded]:
    where = ("front edge", "hem band", *STANDING[style.neckline])
    if style.closure == "zip":
        yield zip_for(closing_edge(drafted, style), where)
    elif style.closure == "buttons":
        yield buttons_for(closing_edge(drafted, style), where)


def _sewn(drafted: PieceSet, style: JacketStyle) -> Iterator[Sewn]:
    """The seams of the pieces, then the bands, which are folded double, and what is stitched along the front."""
    yield from sewn_seams(drafted, WITH_NECKBAND)
    names = {piece.name for piece in drafted}
    if style.back == "seam":
        yield Sewn("centre back", _one_side(drafted, "back").edge("centre back").length)
    openings = drafted.measures
    yield Sewn("cuffs", 2 * openings["wrist_opening"], layers=3)
    yield Sewn("hem band", openings["hem_opening"], layers=3)
    neck = style.neckline if style.neckline != "band" else "neckband"
    yield Sewn(neck, openings["neck_opening"], layers=4 if "front facing" in names else 3)
    if style.closure != "none":
        yield Sewn("front edge, stitched down", 2 * closing_edge(drafted, style), layers=3, stitches=("lockstitch",))


def _elastic(drafted: PieceSet, style: JacketStyle) -> Iterator[TrimNeeded]:
    if style.ends == "elastic":
        needed = 2 * drafted.measures["cuff_elastic"] + drafted.measures["hem_elastic"]
        yield elastic_for(needed, style.rib_depth, ("cuff", "hem band"))


def _one_side(drafted: PieceSet, name: str) -> Piece:
    """A piece, or that of the right side, where left and right differ."""
    return next(piece for piece in drafted if piece.name in (name, f"right {name}"))


def _label() -> Iterator[TrimNeeded]:
    yield TrimNeeded("label", ("back neck",), count=1)


def _interfacing(drafted: PieceSet) -> Iterator[TrimNeeded]:
    """The area of the facings, where no interfacing is drafted for them."""
    import shapely

    faced = interfaced(drafted)
    if faced:
        area = sum(shapely.Polygon(piece.unfolded).area * piece.cut for piece in faced)
        yield TrimNeeded("interfacing", tuple(piece.name for piece in faced), area=area)
