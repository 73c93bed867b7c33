"""A remnant: a piece of cloth of a given length, perhaps with corners missing or flaws, and how it lies when folded."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING, Literal, NamedTuple, cast, get_args

import numpy as np

from nesting.cloth.fabric import Fabric
from nesting.errors import RemnantError
from nesting.problem.lay import lay_mix, lay_pieces
from pieces.dimensioned import NO_LENGTH, Dimensioned, Mm
from pieces.length import mm
from pieces.units import format_both

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from numpy.typing import NDArray

    from nesting.cloth.band import Band
    from nesting.cloth.spread import Spread
    from nesting.problem.lay import Sets
    from nesting.problem.problem import Problem
    from pieces import Piece

RemnantSpread = Literal["open", "folded", "double-folded"]
"""The spreads whose way through the fold is known for a cut-out."""

ROUNDING = 1e-3
"""By how much a cut-out may reach beyond the cloth, mm: sizes are written in fractions."""


class Zone(NamedTuple):
    """A rectangle, mm: from the start of the cloth, and across it from its lower edge."""

    start: float
    end: float
    low: float
    high: float

    @property
    def outline(self) -> NDArray[np.float64]:
        """Its corners, shape (4, 2), counter-clockwise."""
        return np.array(
            [[self.start, self.low], [self.end, self.low], [self.end, self.high], [self.start, self.high]], dtype=float
        )

    @property
    def area(self) -> float:
        """Area, mm²."""
        return (self.end - self.start) * (self.high - self.low)

    def within(self, low: float, high: float) -> Zone | None:
        """What of it lies between two lines along the cloth; None if nothing does."""
        part = self._replace(low=max(low, self.low), high=min(high, self.high))
        return part if part.low < part.high else None


class Remnant(Dimensioned):
    """A piece of cloth in a single layer, its ends squared.

    Parameters
    ----------
    width, length
        Across the cloth, selvedges included, and along it.
    cut_outs
        Rectangles on which no piece may lie, on the cloth laid open: missing corners, holes, flaws.
    selvedge
        Width of the selvedge along either edge; 0 where it was cut off.
    nap, gap, shrinkage
        As of `Fabric`.

    Raises
    ------
    RemnantError
        If it has no width or length, or a cut-out has none or reaches beyond it.
    """

    width: Mm
    length: Mm
    cut_outs: tuple[Zone, ...] = ()
    selvedge: Mm = NO_LENGTH
    nap: bool | Literal["by garment"] = False
    gap: Mm = NO_LENGTH
    shrinkage: tuple[float, float] = (0.0, 0.0)

    def __post_init__(self) -> None:
        super().__post_init__()
        for what in ("width", "length"):
            if not 0 < getattr(self, what) < float("inf"):
                raise RemnantError(f"the {what} of a remnant must be more than 0 mm, not {getattr(self, what):g} mm")
        for number, zone in enumerate(self.cut_outs, 1):
            if not (zone.start < zone.end and zone.low < zone.high):
                raise RemnantError(f"cut-out {number} has no length or no width: leave it out, or give both")
            for axis, first, last, most in (
                ("length", zone.start, zone.end, self.length),
                ("width", zone.low, zone.high, self.width),
            ):
                if first < 0 or last > most + ROUNDING:
                    raise RemnantError(
                        f"cut-out {number} reaches from {format_both(first)} to {format_both(last)}, but the {axis} of "
                        f"the remnant is {format_both(most)}: measure it from the start and from the lower edge"
                    )

    @property
    def fabric(self) -> Fabric:
        """The cloth it is of."""
        return Fabric("remnant", mm(self.width), mm(self.selvedge), self.nap, mm(self.gap), shrinkage=self.shrinkage)

    @property
    def usable(self) -> float:
        """Area between the selvedges, cut-outs left out, mm²."""
        low, high = self.selvedge, self.width - self.selvedge
        lost = sum(part.area for zone in apart(self.cut_outs) if (part := zone.within(low, high)))
        return (high - low) * self.length - lost

    def turned(self) -> Remnant:
        """The same cloth turned end for end, right side still up."""
        length, width = self.length, self.width
        zones = (Zone(length - z.end, length - z.start, width - z.high, width - z.low) for z in self.cut_outs)
        return replace(self, cut_outs=tuple(zones))

    def lost(self, spread: RemnantSpread) -> tuple[Zone, ...]:
        """Where on the laid cloth no piece may lie: zones that do not overlap, through all layers."""
        spans = [through_fold(zone.low, zone.high, self.width, spread) for zone in self.cut_outs]
        zones = zip(self.cut_outs, spans, strict=True)
        return apart(zone._replace(low=low, high=high) for zone, (low, high) in zones)

    def problem(
        self, pieces: Iterable[Piece], spread: RemnantSpread, *, garments: int = 1, waste_twins: bool = False
    ) -> Problem:
        """The layout problem of some pieces on this remnant, its cut-outs being faults; all else as of `lay_pieces`."""
        return self._shaped(lay_pieces(pieces, self.fabric, spread, garments=garments, waste_twins=waste_twins), spread)

    def problem_of(self, sets: Sets, spread: RemnantSpread, *, waste_twins: bool = False) -> Problem:
        """The same of garments of several sizes, as of `lay_mix`."""
        return self._shaped(lay_mix(sets, self.fabric, spread, waste_twins=waste_twins), spread)

    def _shaped(self, laid: Problem, spread: RemnantSpread) -> Problem:
        """A problem of whole cloth as one of this remnant: its edges, and its cut-outs."""
        if not self.selvedge:
            laid = laid.each(lambda each: replace(each, bands=tuple(_cut_off(band) for band in each.bands)))
        return _without(laid, self.lost(spread))


def _cut_off(band: Band) -> Band:
    """A band of cloth whose selvedges were cut off: what is left there is a plain edge."""
    return replace(
        band,
        low_edge="free" if band.low_edge == "selvedge" else band.low_edge,
        high_edge="free" if band.high_edge == "selvedge" else band.high_edge,
    )


def around_faults(problem: Problem, fabric: Fabric, faults: Sequence[Zone], spread: Spread) -> Problem:
    """A layout problem of cloth off the roll on which faults are to be left out, through all its layers.

    Parameters
    ----------
    faults
        On the cloth laid open, from where the marker starts.

    Raises
    ------
    RemnantError
        If a fault lies off the cloth, or the way it takes through this spread's folds is not known.
    """
    if spread not in get_args(RemnantSpread):
        known = ", ".join(get_args(RemnantSpread))
        raise RemnantError(f"faults can be avoided only on cloth laid {known}, not {spread}: choose one of these")
    end = max(zone.end for zone in faults)
    return _without(problem, Remnant(mm(fabric.width), mm(end), tuple(faults)).lost(cast("RemnantSpread", spread)))


def _without(problem: Problem, lost: Sequence[Zone]) -> Problem:
    low, high = min(band.low for band in problem.bands), max(band.high for band in problem.bands)
    zones = [part for zone in lost if (part := zone.within(low, high))]
    faults = tuple(_outlines(zones, problem.gap))
    return problem.each(lambda each: replace(each, faults=faults))


def through_fold(low: float, high: float, width: float, spread: RemnantSpread) -> tuple[float, float]:
    """Where a stretch across the flat cloth comes to lie, whichever layer it is in: lowest and highest place.

    What is amiss in one layer is lost to all: a piece is cut through them together.

    Parameters
    ----------
    low, high
        Distances from the lower edge of the flat cloth, mm.
    width
        Of the flat cloth, mm. Folded lengthwise, its middle becomes the lower edge. With both selvedges folded
        to the middle, the lines at a quarter and at three quarters become the lower and the upper edge.
    """
    folds = {"open": (), "folded": (width / 2,), "double-folded": (width / 4, width / 2, width * 3 / 4)}[spread]
    places = [_laid_at(y, width, spread) for y in (low, *(fold for fold in folds if low < fold < high), high)]
    return min(places), max(places)


def _laid_at(y: float, width: float, spread: RemnantSpread) -> float:
    if spread == "open":
        return y
    if spread == "folded":
        return abs(y - width / 2)
    return abs(y - width / 4) if y <= width / 2 else width / 2 - abs(y - width * 3 / 4)


def apart(zones: Iterable[Zone]) -> tuple[Zone, ...]:
    """Zones that cover the same cloth without overlapping, each as long along the cloth as can be."""
    zones = tuple(zones)
    found: list[Zone] = []
    growing: dict[tuple[float, float], Zone] = {}
    for start, end in pairwise(sorted({x for zone in zones for x in (zone.start, zone.end)})):
        spans = _merged((z.low, z.high) for z in zones if z.start <= start and z.end >= end)
        kept = {span: growing[span]._replace(end=end) for span in spans if span in growing}
        found += [zone for span, zone in growing.items() if span not in kept]
        growing = {span: kept.get(span, Zone(start, end, *span)) for span in spans}
    return (*found, *growing.values())


def _merged(spans: Iterable[tuple[float, float]]) -> list[tuple[float, float]]:
    merged: list[tuple[float, float]] = []
    for low, high in sorted(spans):
        if merged and low <= merged[-1][1]:
            merged[-1] = merged[-1][0], max(high, merged[-1][1])
        else:
            merged.append((low, high))
    return merged


def _outlines(zones: Sequence[Zone], gap: float) -> list[NDArray[np.float64]]:
    """Outlines that cover the zones, none within a gap of another: the search could not part them.

    Cloth that lies nearer than that to two zones, or is shut in by them, is no use and counts as lost.
    """
    import shapely

    grown = shapely.union_all([shapely.box(z.start, z.low, z.end, z.high) for z in zones])
    if gap:
        grown = grown.buffer(gap / 2, join_style="mitre").buffer(-gap / 2, join_style="mitre")
    parts = [part for part in shapely.get_parts(grown) if isinstance(part, shapely.Polygon) and part.area > 0]
    return [np.asarray(shapely.geometry.polygon.orient(part).exterior.coords)[:-1] for part in parts]
