"""A marker as it is told: outlines in place, and what is said of each; made from a marker or from its file."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    import numpy as np
    from numpy.typing import NDArray

    from nesting.marker import Marker

    Floats = NDArray[np.float64]


class Strip(NamedTuple):
    """A strip of cloth that the marker speaks of: its edges across the laid cloth, mm, and its layers."""

    low: float
    high: float
    layers: int


@dataclass(frozen=True, eq=False)
class Laid:
    """One outline in its place.

    Parameters
    ----------
    piece
        Name of the piece that it is said to be.
    outline
        The cut line in place, shape (n, 2), mm: x along the cloth, y across it.
    turn, mirrored
        How the piece as drafted is said to lie: turned over (y to -y) if mirrored, then turned by so many degrees.
    on_fold
        Whether it is said to be a half with its fold edge on a fold.
    marks
        By kind, what is said to be marked in place within it: each an array of points.
    """

    piece: str
    outline: Floats
    turn: float
    mirrored: bool
    on_fold: bool
    marks: Mapping[str, tuple[Floats, ...]] | None = None


@dataclass(frozen=True, eq=False)
class Layout:
    """All that a marker says of itself.

    Parameters
    ----------
    length
        Of the marker, mm.
    gap
        That it says it keeps between outlines, mm.
    laid
        Its outlines.
    strips
        The strips of cloth that it says they lie on.
    opened
        From where on cloth that is folded and then opened out lies open, mm.
    start
        Where a line of the cloth's pattern lies, from the marker's start, mm; None leaves that to the outlines.
    """

    length: float
    gap: float
    laid: tuple[Laid, ...]
    strips: tuple[Strip, ...]
    opened: float | None = None
    start: float | None = None

    @classmethod
    def of(cls, marker: Marker) -> Layout:
        """What a marker says."""
        problem = marker.problem
        laid = []
        for _, item, variant, outline in marker.outlines():
            name = item.piece.name if item.piece else item.name
            laid.append(Laid(name, outline, variant.turn, variant.mirrored, variant.on_fold))
        return cls(
            marker.length,
            problem.gap,
            tuple(laid),
            tuple(Strip(band.low, band.high, band.layers) for band in problem.bands),
            _opened(band.start for band in problem.bands),
            problem.repeat.start if problem.repeat else None,
        )


def _opened(starts: Iterable[float]) -> float | None:
    return min((start for start in starts if start > 0), default=None)
