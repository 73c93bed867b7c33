"""What a skirt needs besides cloth: zip and hook, or elastic; thread, a label, and what to interface."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from pieces.garments.parts.casing import elastic_for_waist
from pieces.trims.sewn import Sewn, sewn_seams
from pieces.trims.stock import thread_for, zip_for
from pieces.trims.trim import TrimNeeded

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.garments.skirt.style import SkirtStyle
    from pieces.piece.pieces import PieceSet

AT_WAIST = ("waist", "waistband")
"""How the names of seams end that lie within a band or a facing: they are not neatened."""

FACED = ("waistband", "front facing", "back facing")
"""Pieces that are interfaced, as far as there are any."""


def faced_without(drafted: PieceSet) -> tuple[str, ...]:
    """The pieces that are interfaced, where no interfacing is drafted for them."""
    return tuple(piece.name for piece in drafted if piece.name in FACED) if not drafted.of("interfacing") else ()


def skirt_trims(drafted: PieceSet, style: SkirtStyle) -> tuple[TrimNeeded, ...]:
    """Closure, thread, label and interfacing of a skirt."""
    closure = (*_closure(drafted, style),)
    return (*closure, *thread_for(_sewn(drafted)), TrimNeeded("label", ("waist",), count=1), *_interfacing(drafted))


def _closure(drafted: PieceSet, style: SkirtStyle) -> Iterator[TrimNeeded]:
    opening = drafted.measures.get("zip_opening")
    if opening is not None:
        is_behind = style.zip == "back" or any(seam.name == "centre back" for seam in drafted.seams)
        yield zip_for(opening, ("centre back" if is_behind else "side",), "zip")
        yield TrimNeeded("hook and eye", ("waist",), count=1)
    elastic = drafted.measures.get("waist_elastic")
    if elastic is not None:
        yield elastic_for_waist(elastic, style.waistband_depth)


def _sewn(drafted: PieceSet) -> Iterator[Sewn]:
    """The seams of the pieces, then the hem: both edges of a seam that is pressed open are neatened, none at a band."""
    for seam in sewn_seams(drafted):
        length = seam.length
        if seam.name == "panels" and any(piece.name == "front gore" for piece in drafted):
            cut = drafted["gore"].cut  # in a row, not in a ring: one seam fewer, as the front gore has its own
            length *= (cut - 1) / cut
        yield replace(seam, length=length, stitches=("lockstitch",))
        if not seam.name.endswith(AT_WAIST):
            yield Sewn(seam.name, length * (1 if seam.name.endswith("gathers") else 2), stitches=("overlock",))
    if "waist_elastic" in drafted.measures:
        yield Sewn("casing", drafted.measures["top_round"], stitches=("lockstitch",))
    yield Sewn("hem", drafted.measures["hem_round"], stitches=("lockstitch",))


def _interfacing(drafted: PieceSet) -> Iterator[TrimNeeded]:
    """The area of waistband or facings, where no interfacing is drafted for them; of two layers one."""
    import shapely

    faced = [drafted[name] for name in faced_without(drafted)]
    if faced:
        layers = [1 if piece.name == "waistband" else piece.cut for piece in faced]
        area = sum(shapely.Polygon(piece.unfolded).area * n for piece, n in zip(faced, layers, strict=True))
        yield TrimNeeded("interfacing", tuple(piece.name for piece in faced), area=area)
