"""What a knit top needs besides cloth and rib: thread and a label. Common practice, no source."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.trims.sewn import Sewn, sewn_seams
from pieces.trims.stock import thread_for
from pieces.trims.trim import TrimNeeded

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.garments.knit.style import KnitStyle
    from pieces.piece.pieces import PieceSet

BANDS = {"cuff": ("wrist_opening", 2), "hem band": ("hem_opening", 1), "neckband": ("neck_opening", 1)}
"""Bands by the opening that they are sewn to, and how many there are."""


def top_trims(drafted: PieceSet, style: KnitStyle) -> tuple[TrimNeeded, ...]:
    """Thread by the seams, and a label."""
    return (*thread_for(_sewn(drafted, style)), TrimNeeded("label", ("back neck",), count=1))


def _sewn(drafted: PieceSet, style: KnitStyle) -> Iterator[Sewn]:
    """The seams of the pieces, then the bands, which are folded double, hems, and what is stitched down."""
    yield from sewn_seams(drafted)
    sizes = drafted.measures
    for piece in drafted:
        if piece.name in BANDS:
            opening, count = BANDS[piece.name]
            yield Sewn(f"{piece.name}, sewn on", count * sizes[opening], layers=3)
        elif piece.name == "hood":
            yield Sewn("hood, over the head", piece.edge("over the head").length)
            yield Sewn("hood, face", 2 * piece.edge("face").length, stitches=("lockstitch",))
        elif piece.name == "kangaroo pocket":
            down = sum(2 * piece.edge(edge).length for edge in ("top", "pocket side", "mouth"))
            yield Sewn("pocket, stitched down", down, layers=3, stitches=("lockstitch",))
    if not style.band_depth:
        hems = sizes["hem_opening"] + 2 * sizes["wrist_opening"]
        yield Sewn("hems", hems, stitches=("lockstitch",))
