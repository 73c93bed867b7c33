"""Rib bands to cut, and the rib they are cut from."""

from __future__ import annotations

import math
from itertools import pairwise
from operator import itemgetter
from typing import TYPE_CHECKING, Literal

from nesting.errors import NestingError
from pieces.dimensioned import NO_LENGTH, NOT_GIVEN, Dimensioned, Mm, MmOrNone
from pieces.length import mm
from pieces.piece.ribbing import NO_JOIN
from pieces.units import format_both

if TYPE_CHECKING:
    from collections.abc import Mapping

    from pieces import PieceSet

CLOSED_TOLERANCE = 0.03
"""Share by which a tube may be wider or narrower than the sewn band it stays (common practice, no source)."""


class RibBand(Dimensioned):
    """A rectangle of rib: a cuff, a hem band, a neckband.

    Parameters
    ----------
    name
        What a sewer calls it; each band of a plan has its own.
    length, depth
        As cut, mm, seam allowances included: across the rib (in the stretch), and along it.
    count
        How many are wanted.
    places
        What it meets when it is sewn on, in order from its start: a name, and the share of its sewn length at which
        it does. Joins fall there where they can.
    ring
        Whether its ends are sewn to one another, as a cuff's are.
    """

    name: str
    length: Mm
    depth: Mm
    count: int = 1
    places: tuple[tuple[str, float], ...] = ()
    ring: bool = False

    def __post_init__(self) -> None:
        super().__post_init__()
        _require_size(f"band '{self.name}'", self.length, "length")
        _require_size(f"band '{self.name}'", self.depth, "depth")
        if self.count < 1:
            raise NestingError(f"band '{self.name}' needs a count of 1 or more, got {self.count}: leave it out instead")
        shares = [0.0, *(share for _, share in self.places), 1.0]
        if any(share >= after for share, after in pairwise(shares)) or len(dict(self.places)) < len(self.places):
            raise NestingError(
                f"band '{self.name}' needs places with different names, in order from its start, at shares between 0 "
                f"and 1, got {', '.join(f'{name} {share:g}' for name, share in self.places)}"
            )


class RibStock(Dimensioned):
    """Rib as it is sold.

    Parameters
    ----------
    name
        What the shop calls it.
    form
        ``"tube"`` and ``"flat"`` are sold by length, ``"strips"`` by the strip, ``"set"`` as a hem band and two cuffs.
    width
        Across the stretch, mm: a tube's opened out (twice its lay-flat width), the length of a strip or of the hem
        band of a set.
    depth
        Along the wales, mm: of one strip, or of a set's bands; these only.
    selvedge
        Left unused at each side of flat rib, mm.
    cuff
        Length of each of a set's two cuffs, mm; sets only.
    closed
        Whether a band sewn to a ring may stay a closed tube where the tube is as wide as it; tubes only.
    """

    name: str
    form: Literal["tube", "flat", "strips", "set"]
    width: Mm
    depth: MmOrNone = NOT_GIVEN
    selvedge: Mm = NO_LENGTH
    cuff: MmOrNone = NOT_GIVEN
    closed: bool = False

    def __post_init__(self) -> None:
        super().__post_init__()
        _require_size(f"rib '{self.name}'", self.width, "width")
        if self.form in ("strips", "set"):
            _require_size(f"rib '{self.name}'", self.depth, "depth")
        elif self.depth is not None:
            raise NestingError(
                f"rib '{self.name}' is sold by length, but has a depth of {format_both(self.depth)}: leave depth out"
            )
        if self.selvedge < 0 or not self.usable > 0:
            raise NestingError(
                f"rib '{self.name}' needs selvedges of 0 or more that leave some width, "
                f"got {format_both(self.selvedge)} on {format_both(self.width)}: measure one selvedge"
            )
        if self.selvedge and self.form != "flat":
            raise NestingError(
                f"rib '{self.name}' is not a flat rib, and only flat rib has a selvedge: leave selvedge out"
            )
        if self.form == "set":
            _require_size(f"set '{self.name}'", self.cuff, "cuff length")
        elif self.cuff is not None:
            raise NestingError(
                f"rib '{self.name}' is not a ready set, and only a set has its own cuffs: leave cuff out"
            )
        if self.closed and self.form != "tube":
            raise NestingError(f"rib '{self.name}' is not a tube, and only a tube can stay closed: leave closed out")

    @property
    def usable(self) -> float:
        """Width between the selvedges, mm."""
        return self.width - 2 * self.selvedge

    @property
    def ready(self) -> Mapping[str, float]:
        """The bands of a ready set and their lengths, mm; of other rib, none."""
        return {} if self.cuff is None else {"hem band": self.width, "cuff 1": self.cuff, "cuff 2": self.cuff}

    def across(self, ready: str = "") -> float:
        """Width of a row or strip, or of a set's band, such as ``"cuff 2"``, mm."""
        return self.ready.get(ready, self.usable)

    def closes(self, band: RibBand, seam: float) -> bool:
        """Whether a band may stay a closed tube: sewn to a ring, and as long, sewn, as the tube is round."""
        sewn = band.length - 2 * seam
        return self.closed and band.ring and abs(self.width - sewn) <= CLOSED_TOLERANCE * sewn + 1e-6


def bands_of(pieces: PieceSet, garments: int = 1) -> list[RibBand]:
    """The rib bands of some garments, with what they meet (their notches), and which are sewn to a ring (its seams)."""
    rings = {seam.first[0][0] for seam in pieces.seams if {*seam.first, *seam.second} == _ends(seam.first[0][0])}
    bands = []
    for piece in pieces.of("rib"):
        (x, low), (_, high) = piece.edge("edge").points[[0, -1]]
        sides = (float(x), float(piece.edge("other edge").points[0, 0]))
        on_edge = (n for n in piece.notches if n.name not in NO_JOIN and min(abs(n.point[0] - s) for s in sides) < 1e-6)
        shares = {n.name: float((n.point[1] - low) / (high - low)) for n in on_edge}
        places = sorted(((name, share) for name, share in shares.items() if 0 < share < 1), key=itemgetter(1))
        size = mm(piece.width), mm(piece.length)
        bands.append(RibBand(piece.name, *size, piece.cut * garments, tuple(places), piece.name in rings))
    return bands


def _ends(name: str) -> set[tuple[str, str]]:
    return {(name, "end"), (name, "other end")}


def _require_size(what: str, size: float | None, called: str) -> None:
    if size is None or not (size > 0 and math.isfinite(size)):
        got = "none" if size is None else f"{size:g}"
        raise NestingError(f"{what} needs a {called} above 0 mm, got {got}: measure it")
