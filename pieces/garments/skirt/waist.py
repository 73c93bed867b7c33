"""What a skirt's waist ends in, and the zip below it."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from pieces.body.rules import measured_or_usual
from pieces.errors import DraftError
from pieces.garments.parts.interfacing import interfacing_of
from pieces.garments.parts.waistband import UNDERLAP, BandMake, waistband
from pieces.piece.curve import point_along
from pieces.piece.piece import Notch, Piece
from pieces.piece.pieces import Seam
from pieces.trims.stock import zip_for
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    from collections.abc import Iterable

    import numpy as np
    from numpy.typing import NDArray

    from pieces.body.body import Body
    from pieces.garments.skirt.style import SkirtStyle

    Floats = NDArray[np.float64]

ZIP_END = "zip end"
"""The notch at which a zip ends."""

BELOW_ZIP = INCH
"""How much of a seam is sewn below its zip at the least: common practice, no source."""


class Waist(NamedTuple):
    """The pieces that finish a waist, and the seams of these."""

    pieces: tuple[Piece, ...]
    seams: tuple[Seam, ...]


def zip_opening(body: Body, style: SkirtStyle) -> float:
    """How long the seam of the zip stays open, mm: the shortest zip sold that reaches the hip.

    Raises
    ------
    DraftError
        If the skirt is hardly longer.
    """
    opening = zip_for(measured_or_usual(body, "hip_depth"), (), "zip").sold
    if style.length < opening + BELOW_ZIP:
        raise DraftError(
            f"the zip takes {format_both(opening)} below the waist, so a length of {format_both(style.length)} is too"
            f" short: make it {format_both(opening + BELOW_ZIP)} or more",
            about="length",
        )
    return opening


def zip_past_hip(body: Body, waist: float) -> float:
    """How long a zip in a full skirt is, mm: so that the waist passes the hip, and 4 in at the least."""
    return zip_for((body.hip + INCH - waist) / 2, (), "zip").sold


def zip_along(seam: Floats, opening: float) -> tuple[Notch, ...]:
    """The notch where a zip ends, on a sew line from the waist down."""
    return (Notch(ZIP_END, point_along(seam, opening)),)


def banded(
    style: SkirtStyle,
    waist: float,
    make: BandMake,
    sewn_to: tuple[tuple[str, str], ...],
    places: Iterable[tuple[str, float]],
    *,
    ease: float = 0.0,
    underlap: float = UNDERLAP,
) -> Waist:
    """A waistband that closes with a hook, sewn to edges; its places as of `waistband`, the ease as of `Seam`."""
    band = waistband(waist, style.waistband_depth, style.seam, make, places, underlap=underlap)
    seams = [Seam("waist", (("waistband", "waist"),), sewn_to, ease)]
    if make == "two-layer":
        upper = (("waistband", "upper edge"),)
        seams.append(Seam("upper edge of the waistband", upper, upper))
    stiff = (interfacing_of(band, 1),) * (style.interfacing == "cut")
    return Waist((band, *stiff), tuple(seams))
