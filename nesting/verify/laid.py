"""A marker as it is told: outlines in place, and what is said of each; made from a marker or from its file."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    import numpy as np
    from numpy.typing import NDArray

    from nesting.cloth.band import Band
    from nesting.marker.marker import Marker

    Floats = NDArray[np.float64]


class Strip(NamedTuple):
    """A strip of cloth that the marker speaks of.

    Its edges across the laid cloth and where along it it lies, mm; its layers, whether some lie right side down, what
    lies along its edges, and what it is called.
    """

    name: str
    first: float
    last: float
    low: float
    high: float
    layers: int
    mirrored: bool
    low_edge: str
    high_edge: str


class Told(NamedTuple):
    """What is said of an outline beside its place and its piece.

    The item that it is a placement of, how many wanted pieces it gives, and the strip that it lies on. A file says
    besides which copy of the piece it is, counted from 1, and the ends of its grainline, shape (2, 2), mm.
    """

    item: str
    yields: int
    band: str
    copy: int | None = None
    grain: Floats | None = None


@dataclass(frozen=True, eq=False)
class Claims:
    """What a marker says of itself that follows from what was asked, and from its outlines.

    Parameters
    ----------
    density
        Share of the usable cloth that becomes pieces, percent.
    told
        Of each outline.
    plain
        By name, what is said in a number or a word: of the cloth, how it lies, and how many garments there are.
    """

    density: float
    told: tuple[Told, ...]
    plain: Mapping[str, object] = field(default_factory=dict)


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
class LaidMarker:
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
    claims
        What else it says; None if it is held against its outlines alone.
    """

    length: float
    gap: float
    laid: tuple[Laid, ...]
    strips: tuple[Strip, ...]
    opened: float | None = None
    start: float | None = None
    claims: Claims | None = None

    @property
    def bare(self) -> LaidMarker:
        """The outlines alone: nothing is said of cloth or yields."""
        return replace(self, strips=(), claims=None)

    @classmethod
    def of(cls, marker: Marker) -> LaidMarker:
        """What a marker says."""
        problem = marker.problem
        laid, told = [], []
        for _, item, variant, outline in marker.outlines():
            name = item.piece.name if item.piece else item.name
            laid.append(Laid(name, outline, variant.turn, variant.mirrored, variant.on_fold))
            told.append(Told(item.name, item.yields, problem.bands[variant.band].name))
        return cls(
            marker.length,
            problem.gap,
            tuple(laid),
            tuple(_strip(band, marker.length) for band in problem.bands),
            _opened(band.start for band in problem.bands),
            problem.repeat.start if problem.repeat and problem.repeat.along else None,
            Claims(100 * marker.density, tuple(told)),
        )


def _strip(band: Band, length: float) -> Strip:
    return Strip(
        band.name,
        band.start,
        min(band.end, length),
        band.low,
        band.high,
        band.layers,
        band.mirrored,
        band.low_edge,
        band.high_edge,
    )


def _opened(starts: Iterable[float]) -> float | None:
    return min((start for start in starts if start > 0), default=None)
