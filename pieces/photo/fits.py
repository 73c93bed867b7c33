"""How well each photo fits what it is measured by, and the other photos of the same table."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from pieces.errors import FormatError
from pieces.photo.edge import seen_offsets
from pieces.photo.look import best_of
from pieces.photo.traced import PhotoFit

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from pieces.photo.look import SeenPhoto
    from pieces.photo.together import JoinedTable
    from pieces.photo.traced import TracedPiece

    Floats = NDArray[np.float64]

WITHIN = 0.02
"""Edges nearer to the rim of a picture are not held against other photos, shares of its shorter side."""

LEAST_OVERLAP = 40.0
"""On less edge that two photos show, nothing is said, mm."""

MOVED = 1.5
"""Where edges in one photo lie further off those in another at most points, mm, and than both may be off, the pattern
has moved between them: common practice, no source."""


def photo_fits(
    looks: Sequence[SeenPhoto], table: JoinedTable, names: Sequence[str], pieces: Sequence[TracedPiece]
) -> tuple[PhotoFit, ...]:
    """How well each photo fits.

    Raises
    ------
    FormatError
        If the pattern lies otherwise in one photo than in another.
    """
    found = []
    outline = np.vstack([piece.outline.points for piece in pieces])
    for n, (look, name) in enumerate(zip(looks, names, strict=True)):
        is_in = look.central(look.pixels(outline)) > 0
        fine = float(np.median(look.camera.fineness(outline[is_in] if is_in.any() else outline)))
        off = _off_others(looks, n, pieces) if len(looks) > 1 else np.zeros(0)
        is_told = len(off) >= LEAST_OVERLAP
        usual = float(np.median(np.abs(off))) if is_told else None
        if usual is not None and usual > max(MOVED, min(piece.usual for piece in pieces)):
            raise FormatError(
                f"{name}: the edge of the pattern lies {usual:.1f} mm off where other photos show it: leave the pattern"
                " and all sheets where they are until the last photo is taken, all flat, and take all of them again"
            )
        letters = tuple(sorted(table.letters[n])) if table.letters else ()
        rms = look.camera.rms
        found.append(
            PhotoFit(name, letters, look.camera.tilt, rms, rms / fine, usual, float(len(off)) if is_told else 0.0)
        )
    return tuple(found)


def _off_others(looks: Sequence[SeenPhoto], number: int, pieces: Sequence[TracedPiece]) -> Floats:
    """How far the edge in one photo lies off where it was traced in others, a point a millimetre of what both show."""
    found = []
    for piece in pieces:
        line, off = seen_offsets(piece.outline.points, looks[number], WITHIN)
        elsewhere = np.isfinite(off) & (best_of(looks, line) != number)
        found.append(off[elsewhere])
    return np.concatenate(found)
