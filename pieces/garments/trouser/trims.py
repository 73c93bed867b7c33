"""What trousers need besides cloth and rib: elastic, a cord, thread, a label. Common practice, no source."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from pieces.trims.sewn import Sewn, sewn_seams
from pieces.trims.stock import cord_for, elastic_for, stock, thread_for
from pieces.trims.trim import TrimNeeded
from pieces.units import INCH

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.garments.trouser.style import TrouserStyle
    from pieces.piece.pieces import PieceSet


def trouser_trims(drafted: PieceSet, style: TrouserStyle) -> tuple[TrimNeeded, ...]:
    """Elastic, cord, thread and label of trousers."""
    cord = (cord_for(drafted.measures["waist_opening"], ("waist",)),) if style.cord == "cord" else ()
    thread = thread_for(_sewn(drafted, style))
    return (_elastic(drafted, style), *cord, *thread, TrimNeeded("label", ("back waist",), count=1))


def _elastic(drafted: PieceSet, style: TrouserStyle) -> TrimNeeded:
    """Elastic of the width asked for, whether shops usually sell it or not."""
    measures = drafted.measures
    found = elastic_for(measures["waist_elastic"], measures["casing_depth"], ("waist",))
    sold = any(abs(style.elastic_width - inches * INCH) < 1.0 for inches in stock()["elastic"]["inches"])
    return replace(found, width=style.elastic_width, usual=sold)


def _sewn(drafted: PieceSet, style: TrouserStyle) -> Iterator[Sewn]:
    """The seams of the pieces; the crotch, sewn twice; casing and hems stitched down, or bands sewn on."""
    yield from sewn_seams(drafted)
    measures = drafted.measures
    crotch = sum(drafted[name].edge("crotch").length for name in ("front", "back"))
    yield Sewn("crotch", crotch)
    yield Sewn("crotch, sewn again", crotch, stitches=("lockstitch",))
    if style.casing == "grown-on":
        yield Sewn("casing, stitched down", measures["waist_opening"], layers=3, stitches=("lockstitch",))
    if style.turned_up:
        yield Sewn("hems", 2 * measures["hem_round"], layers=3, stitches=("lockstitch",))
    else:
        yield Sewn("cuffs", 2 * measures["hem_round"], layers=3)
    if style.casing == "rib":
        yield Sewn("waistband", measures["waist_opening"], layers=3)
    for piece in drafted:
        if piece.name == "patch pocket":
            around = sum(edge.length for edge in piece.edges)
            yield Sewn("pockets", piece.cut * around, layers=3, stitches=("lockstitch",))
        if piece.name == "pocket bag":
            yield Sewn("pockets", piece.cut / 2 * sum(edge.length for edge in piece.edges))
