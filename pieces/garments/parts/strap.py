"""Straps, ties and loops, folded in four; belts, sewn round and turned."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.garments.parts.rectangle import rectangle
from pieces.trims.sewn import Sewn
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    from pieces.piece.piece import Piece


WIDE_STRAP = 3 * INCH
"""A strap folded in four that is wider is noted: common practice, no source."""


def wide_strap(width: float) -> str:
    """A line on a wide strap, mm."""
    return (
        f"strap_width: {format_both(width)}, folded in four, takes strips {format_both(4 * width)} wide: choose"
        f" {format_both(WIDE_STRAP)} or less, unless it shall be so broad"
    )


def strap(name: str, length: float, width: float, ends: tuple[float, float], cut: int = 1) -> Piece:
    """A strip whose long edges are folded to the middle, and then onto one another.

    One alone is cut on a fold along its middle, several as they are, along or across the grain.

    Parameters
    ----------
    length, width
        Finished, mm.
    ends
        The allowance of its lower and of its upper end, mm: what is caught, or turned in.
    """
    return _strip(name, length, 4 * width, (0.0, *ends), cut)


def strap_stitched(piece: Piece) -> Sewn:
    """What is stitched of a strap folded in four, along both its edges."""
    return Sewn(piece.name, 2 * piece.cut * piece.edge("long edge").length, 4, ("lockstitch",))


def belt(length: float, width: float, seam: float) -> Piece:
    """A belt of two layers, cut on a fold, folded lengthwise, sewn round and turned; sizes are finished, mm."""
    return _strip("belt", length, 2 * width, (seam, seam, seam), 1)


def _strip(name: str, length: float, across: float, allowances: tuple[float, float, float], cut: int) -> Piece:
    """A strip with the allowances of its long edges, its lower and its upper end."""
    long, low, high = allowances
    if cut == 1:
        names = ("middle fold", "end", "long edge", "other end")
        return rectangle(name, length, across / 2, names, (0.0, low, long, high), label="on fold")
    names = ("other long edge", "end", "long edge", "other end")
    return rectangle(name, length, across, names, (long, low, long, high), cut=cut, lies="cross")
