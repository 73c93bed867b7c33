"""What was counted in an exported file."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
import shapely

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]


SAME = 0.5
"""Pieces of one name on a marker are the same where their sides differ by less, mm."""


class CountedPiece(NamedTuple):
    """A piece as a file has it: how many are cut of it or lie there, its sides along and across the grain, its area.

    All in mm and mm²; `many` is 0 where the file does not say it. `half` marks one that is drawn to a fold.
    """

    name: str
    many: int
    length: float
    width: float
    area: float
    half: bool = False

    @property
    def whole(self) -> float:
        """The area of all that is cut of it, mm²."""
        return self.many * self.area * (2 if self.half else 1)


class CountedSize(NamedTuple):
    """A piece in a size that the file holds by rules."""

    name: str
    size: str
    length: float
    width: float


@dataclass(frozen=True)
class CountedFile:
    """A file: its name, form and unit, what it holds in words, and its pieces.

    Parameters
    ----------
    unit
        What 1 is in it; empty of a print at full scale.
    sizes
        Pieces in other sizes, where it has rules for them.
    is_nest
        Whether its pieces are the same ones in several sizes.
    """

    name: str
    form: str
    unit: str
    holds: tuple[str, ...]
    pieces: tuple[CountedPiece, ...]
    sizes: tuple[CountedSize, ...] = ()
    is_nest: bool = False


def counted_piece(name: str, many: int, outline: ArrayLike, grain: ArrayLike | None, *, half: bool) -> CountedPiece:
    """A piece measured by shapely: along and across its grainline, or along the file's x where it has none."""
    points = np.asarray(outline, dtype=np.float64)
    length, width = sides(points, grain)
    return CountedPiece(name, many, length, width, float(shapely.Polygon(points).area), half)


def sides(points: Floats, grain: ArrayLike | None) -> tuple[float, float]:
    """How far points reach along a grainline and across it."""
    way = np.array([1.0, 0.0])
    if grain is not None:
        ends = np.asarray(grain, dtype=np.float64)
        way = (ends[-1] - ends[0]) / max(float(np.hypot(*(ends[-1] - ends[0]))), 1e-9)
    return float(np.ptp(points @ way)), float(np.ptp(points @ np.array([-way[1], way[0]])))


def placed_pieces(found: Sequence[CountedPiece]) -> tuple[CountedPiece, ...]:
    """Pieces that lie on a marker, those of a name and size together, with how often they lie there."""
    grouped: dict[str, list[list[CountedPiece]]] = {}
    order: list[list[CountedPiece]] = []
    for piece in found:
        groups = grouped.setdefault(piece.name, [])
        group = next((group for group in groups if _is_alike(piece, group[0])), None)
        if group is None:
            group = []
            groups.append(group)
            order.append(group)
        group.append(piece)
    return tuple(group[0]._replace(many=len(group)) for group in order)


def _is_alike(one: CountedPiece, other: CountedPiece) -> bool:
    return abs(one.length - other.length) < SAME and abs(one.area - other.area) < SAME * (one.length + one.width)


def cut_many(words: str) -> int:
    """How many are cut, by words such as ``cut 2 (1 pair), shell``; 0 where they do not say it."""
    found = re.search(r"\bcut (\d+)\b", words)
    return int(found[1]) if found else 0


def parts_of(four: ArrayLike) -> int:
    """By how many chords a cubic is measured: about one for each 2 mm, so that it strays from them by 0.01 mm or less.

    Of a long and flat curve, as they are drafted, 64 are enough.
    """
    long = float(np.hypot(*np.diff(np.asarray(four, dtype=np.float64), axis=0).T).sum())
    return int(np.clip(long / 2, 8, 64))


def held(counts: Sequence[tuple[str, int]]) -> str:
    """What there is of each, in words; what there is none of is left out."""
    return ", ".join(f"{many} {what if many == 1 else _plural(what)}" for what, many in counts if many)


def _plural(what: str) -> str:
    return f"{what}es" if what.endswith("ch") else f"{what}s"
