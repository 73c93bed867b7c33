"""How well each photo fits what it is measured by, and the other photos of the same table."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from pieces.errors import FormatError
from pieces.photo.edge import seen_offsets
from pieces.photo.look import best_of, doubt_at
from pieces.photo.traced import PhotoFit

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from pieces.photo.look import SeenPhoto
    from pieces.photo.together import JoinedTable

    Floats = NDArray[np.float64]

WITHIN = 0.02
"""Edges nearer to the rim of a picture are not held against other photos, shares of its shorter side."""

LEAST_OVERLAP = 40.0
"""On less edge that two photos show, nothing is said, mm."""

MOVED = 1.5
"""Where edges in one photo lie further off those in another at most points, mm, and than both may be off, the pattern
has moved between them: common practice, no source."""


def photo_fits(
    looks: Sequence[SeenPhoto], table: JoinedTable, names: Sequence[str], outlines: Sequence[Floats]
) -> tuple[PhotoFit, ...]:
    """How well each photo fits, by the outlines that were traced in all of them."""
    found = []
    points = np.vstack(outlines)
    for n, (look, name) in enumerate(zip(looks, names, strict=True)):
        is_in = look.central(look.pixels(points)) > 0
        fine = float(np.median(look.camera.fineness(points[is_in] if is_in.any() else points)))
        off = _off_others(looks, n, outlines)
        edge = float(np.median(np.abs(off))) if len(off) >= LEAST_OVERLAP else None
        letters = tuple(sorted(table.letters[n])) if table.letters else ()
        rms = look.camera.rms
        found.append(
            PhotoFit(
                name, letters, look.camera.tilt, rms, rms / fine, edge, float(len(off)) if edge is not None else 0.0
            )
        )
    return tuple(found)


def require_still(looks: Sequence[SeenPhoto], names: Sequence[str], outline: Floats) -> None:
    """Raise FormatError if an outline lies otherwise in one photo than in others that show it as well."""
    usual = float(np.median(doubt_at(looks, outline)))
    for n, name in enumerate(names):
        off = _off_others(looks, n, [outline])
        edge = float(np.median(np.abs(off))) if len(off) >= LEAST_OVERLAP else 0.0
        if edge > max(MOVED, usual):
            raise FormatError(
                f"{name}: the edge of the pattern lies {edge:.1f} mm off where other photos show it: leave the pattern"
                " and all sheets where they are until the last photo is taken, all flat, and take all of them again"
            )


def _off_others(looks: Sequence[SeenPhoto], number: int, outlines: Sequence[Floats]) -> Floats:
    """How far the edge in one photo lies off where it was traced in others, a point a millimetre of what both show."""
    found = []
    for outline in outlines if len(looks) > 1 else ():
        line, off = seen_offsets(outline, looks[number], WITHIN)
        elsewhere = np.isfinite(off) & (best_of(looks, line) != number)
        found.append(off[elsewhere])
    return np.concatenate(found) if found else np.zeros(0)
