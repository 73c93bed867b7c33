"""Rib bands and stock in whole steps, and what can be said of them before any search."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nesting.steps import ceil_steps, common_step, floor_steps

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nesting.rib.band import RibBand, RibStock


@dataclass(frozen=True)
class BandKind:
    """One band: its length and depth in steps, how many are wanted, and where on the sewn band joins fall well."""

    length: int
    depth: int
    count: int
    places: tuple[int, ...] = ()


@dataclass(frozen=True)
class BandPart:
    """A whole band or a part of one: its kind, its length in steps, and which joined copy it belongs to.

    Joins that fall at places part a copy into groups, numbered from its start. The level says how many parts as deep it
    lies above; of several above one another the first has level 0, and the others follow it in their row.
    """

    kind: int
    length: int
    joined: int | None = None
    group: int = 0
    level: int = 0


@dataclass(frozen=True)
class StripRow:
    """Parts side by side, in the strip with this index (0 on stock sold by length)."""

    parts: tuple[BandPart, ...]
    strip: int = 0


@dataclass(frozen=True)
class RibTask:
    """What a solver needs to know, in whole steps.

    Sizes of bands are rounded down and those of the stock up, by a tenth of a micron at the most: what cannot be
    done here cannot be done with the true sizes either, and an exact fit stays one.

    Parameters
    ----------
    kinds
        The bands, in the order given.
    width
        Usable width.
    join, least
        What a join costs (two seam allowances), and the shortest part of a joined band.
    strip_depth
        Depth of a ready strip; None for stock sold by length.
    step, depth_step
        One step across and along, mm.
    """

    kinds: tuple[BandKind, ...]
    width: int
    join: int
    least: int
    strip_depth: int | None
    step: float
    depth_step: float

    @classmethod
    def from_bands(cls, bands: Sequence[RibBand], stock: RibStock, seam: float, least_part: float) -> RibTask:
        """Round sizes to the largest steps they allow."""
        places = [[share * (band.length - 2 * seam) for _, share in band.places] for band in bands]
        lengths = [stock.usable, 2 * seam, least_part, *(band.length for band in bands)]
        step = common_step(lengths + [place for own in places for place in own])
        along = [stock.depth] if stock.depth is not None else []
        depth_step = common_step([*along, *(band.depth for band in bands)])
        kinds = tuple(
            BandKind(
                floor_steps(band.length, step),
                floor_steps(band.depth, depth_step),
                band.count,
                tuple(floor_steps(place, step) for place in own),
            )
            for band, own in zip(bands, places, strict=True)
        )
        width, join = ceil_steps(stock.usable, step), floor_steps(2 * seam, step)
        least = floor_steps(least_part, step)
        strip_depth = None if stock.depth is None else ceil_steps(stock.depth, depth_step)
        return cls(kinds, width, join, least, strip_depth, step, depth_step)

    @property
    def depths(self) -> tuple[int, ...]:
        """Different depths of bands, deepest first."""
        return tuple(sorted({kind.depth for kind in self.kinds}, reverse=True))

    def fewest_parts(self, kind: BandKind) -> int:
        """Parts into which a band must be cut at least."""
        return 1 if kind.length <= self.width else -(-(kind.length - self.join) // (self.width - self.join))

    def may_join(self, kind: BandKind) -> bool:
        """Whether a band is long enough to be joined from two parts or more."""
        return kind.length + self.join >= 2 * self.least

    def cut_length(self, kind: BandKind) -> int:
        """Length over all copies, with the joins that cannot be spared."""
        return (kind.length + (self.fewest_parts(kind) - 1) * self.join) * kind.count

    def row_depth(self, row: StripRow) -> int:
        """Depth of the deepest part, or of several above one another."""
        return max(self.kinds[part.kind].depth * (part.level + 1) for part in row.parts)

    def stock_used(self, rows: Sequence[StripRow]) -> int:
        """What is minimised: the rows' depths added up, or strips."""
        if self.strip_depth is None:
            return sum(self.row_depth(row) for row in rows)
        return len({row.strip for row in rows})

    def fewest_rows(self) -> list[int]:
        """For each depth, the rows at least as deep that the bands at least as deep must fill."""
        return [
            -(-sum(self.cut_length(kind) for kind in self.kinds if kind.depth >= depth) // self.width)
            for depth in self.depths
        ]

    def least_stock(self) -> int:
        """What no plan can undercut, by area alone."""
        rows, depths = self.fewest_rows(), self.depths
        steps = [depth - below for depth, below in zip(depths, (*depths[1:], 0), strict=True)]
        length = sum(step * count for step, count in zip(steps, rows, strict=True))
        if self.strip_depth is None:
            return length
        stacked = (-(-count // (self.strip_depth // depth)) for depth, count in zip(depths, rows, strict=True))
        return max(-(-length // self.strip_depth), *stacked)
