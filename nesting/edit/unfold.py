"""How what lies on one cloth comes to lie on another: band by band where both lie alike, layer by layer laid open.

Laid open, the lowest layer stays as it is, right side up; the layer over it is turned over about the fold, and with it
what is cut of it.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Literal, NamedTuple

if TYPE_CHECKING:
    from nesting.cloth.band import Band
    from nesting.cloth.repeat import Repeat
    from nesting.marker.marker import Marker
    from nesting.problem.problem import Problem
    from nesting.problem.transform import Transform


class LayerMove(NamedTuple):
    """How one layer of a band is moved on to other cloth: turned over, and then moved on.

    Parameters
    ----------
    band
        Index of the other cloth's band.
    x, y
        Along and across the cloth, mm.
    over
        The axis along which places are counted the other way: ``"y"`` about a fold along the cloth, ``"x"`` about one
        across it.
    opened
        Whether a half comes to lie whole.
    """

    band: int
    x: float = 0.0
    y: float = 0.0
    over: Literal["", "x", "y"] = ""
    opened: bool = True

    @property
    def signs(self) -> tuple[float, float]:
        """What places along and across are multiplied by."""
        return -1.0 if self.over == "x" else 1.0, -1.0 if self.over == "y" else 1.0

    def __call__(self, transform: Transform) -> Transform:
        """What brings a piece to its place on the other cloth, by what brought it to its place here."""
        (x, y), (along, across) = transform.shift, self.signs
        shift = along * x + self.x, across * y + self.y
        if not self.over:
            return replace(transform, shift=shift)
        turn = ((180.0 if self.over == "x" else 0.0) - transform.turn) % 360.0
        return replace(transform, turn=turn, mirrored=not transform.mirrored, shift=shift)


def moves(marker: Marker, problem: Problem, repeat: Repeat | None) -> dict[int, tuple[LayerMove, ...]] | None:
    """For each band of a marker, how its layers lie on another problem's cloth; None where that lies otherwise.

    Parameters
    ----------
    repeat
        The other cloth's pattern, begun where the marker's is.
    """
    own = marker.problem
    if _lie_alike(own, problem):
        bands = zip(own.bands, problem.bands, strict=True)
        across = [_across(band, other, own.repeat, repeat) for band, other in bands]
        return {i: (LayerMove(i, y=y, opened=False),) for i, y in enumerate(across)}
    return _laid_open(marker, problem.bands[0]) if _is_open(problem) else None


def _lie_alike(own: Problem, other: Problem) -> bool:
    """Whether the cloth of two problems lies in the same way: wider or narrower, or folded to another depth."""
    return (
        len(own.bands) == len(other.bands)
        and len(own.stretches) == len(other.stretches)
        and own.lengths == other.lengths
        and all(_way(one) == _way(two) for one, two in zip(own.bands, other.bands, strict=True))
    )


def _way(band: Band) -> tuple[int, bool, bool, bool, bool]:
    return band.layers, band.mirrored, band.nap_turned, band.low_edge == "fold", band.high_edge == "fold"


def _across(band: Band, other: Band, before: Repeat | None, after: Repeat | None) -> float:
    """How far across a band's layout moves: it keeps to the lines of a pattern, or to the fold."""
    if before is not None and after is not None and after.across:
        return after.low - before.low
    if band.high_edge == "fold" and band.low_edge != "fold":
        return other.high - band.high
    return other.low - band.low


def _is_open(problem: Problem) -> bool:
    return len(problem.bands) == 1 and problem.bands[0].layers == 1 and problem.lengths == 1


def _laid_open(marker: Marker, cloth: Band) -> dict[int, tuple[LayerMove, ...]] | None:
    """For each band, where its layers lie once the cloth is laid open; None for what cannot be: a tube, a stack."""
    own, middle = marker.problem, (cloth.low + cloth.high) / 2
    if own.stretches:
        opened = own.bands[1]
        return {0: _about(middle), 1: (LayerMove(0, y=middle - (opened.low + opened.high) / 2),)}
    if own.lengths == 2 and own.bands[0].nap_turned:
        y = cloth.low - own.bands[0].low
        return {0: (LayerMove(0, y=y), LayerMove(0, x=2 * marker.length, y=y, over="x"))}
    folds = tuple((band.low_edge == "fold", band.high_edge == "fold") for band in own.bands)
    if own.lengths > 1:
        return None
    if folds == ((True, False),):
        return {0: _about(middle)}
    if folds == ((True, False), (False, True)):  # both selvedges to the middle: folds at a quarter and three quarters
        half = own.bands[1].high
        return {0: _about(middle - half / 2), 1: _about(middle - half / 2, middle + half * 1.5)}
    if folds == ((True, False), (False, False)):  # in part
        depth = own.bands[1].low + cloth.low - own.bands[1].selvedge
        return {0: _about(depth), 1: (LayerMove(0, y=depth),)}
    return None


def _about(low: float, high: float | None = None) -> tuple[LayerMove, LayerMove]:
    """Two layers laid open: the lower from `low` on, the upper turned over, from the same line back or from `high`."""
    return LayerMove(0, y=low), LayerMove(0, y=low if high is None else high, over="y")
