"""What stands in a plain drawing: lines, points and words, each with the part it plays."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from pieces.piece.curve import Point

    Floats = NDArray[np.float64]
    from pieces.exchange.standard import StandardRole


class Word(NamedTuple):
    """Words that are written in a drawing: where, and their numbers in the account."""

    text: str
    place: Point
    numbers: tuple[int, ...] = ()


class Mark(NamedTuple):
    """A point that plays a part: what it is called, where it is, its numbers in the account; the lines it is drawn by.

    `lines` are open ones: they start or end at the outline, and the middle of them lies elsewhere.
    """

    role: str
    name: str
    place: Point
    numbers: tuple[int, ...] = ()
    lines: tuple[Floats, ...] = ()


@dataclass
class Drawing:
    """What stands in a drawing; mm, y upwards.

    Parameters
    ----------
    page
        The four corners of the page, where the file has one.
    """

    strokes: list[DrawnLine] = field(default_factory=list)
    points: list[Mark] = field(default_factory=list)
    words: list[Word] = field(default_factory=list)
    page: Floats | None = None


@dataclass(frozen=True, eq=False)
class DrawnLine:
    """A line that was drawn: its points, shape (n, 2), mm; the part it plays; and what it was drawn under.

    `role` is a word of `StandardRole`, ``"outline"`` where the file says nothing; `group` a layer or a name; `numbers`
    those of the account; `called` a name of its own, such as that of the block it was placed by; `area`
    the number of the filled area that it bounds together with others, 0 for none; `is_ground` whether it is
    said to be filled and no line is drawn; `is_unlined` the same, if nothing is said of the filling as well; `others`
    are lines of the same mark that are not joined to it; `heads` says whether its first and last end have an arrowhead.
    """

    points: Floats
    role: StandardRole = "outline"
    group: str = ""
    closed: bool = False
    numbers: tuple[int, ...] = ()
    called: str = ""
    area: int = 0
    is_ground: bool = False
    is_unlined: bool = False
    others: tuple[Floats, ...] = ()
    heads: tuple[bool, bool] = (False, False)
