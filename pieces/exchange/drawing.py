"""What stands in a plain drawing: lines, points and words, each with the part it plays."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from pieces.curve import Point
    from pieces.exchange.joining import Stroke

    Floats = NDArray[np.float64]


class Word(NamedTuple):
    """Words that are written in a drawing: where, and their numbers in the account."""

    text: str
    place: Point
    numbers: tuple[int, ...] = ()


class Mark(NamedTuple):
    """A point that plays a part: what it is called, where it is, and its numbers in the account."""

    role: str
    name: str
    place: Point
    numbers: tuple[int, ...] = ()


@dataclass
class Drawing:
    """What stands in a drawing; mm, y upwards.

    Parameters
    ----------
    page
        The four corners of the page, where the file has one.
    """

    strokes: list[Stroke] = field(default_factory=list)
    points: list[Mark] = field(default_factory=list)
    words: list[Word] = field(default_factory=list)
    page: Floats | None = None
