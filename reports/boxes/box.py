"""A box: a rectangle of cloth, cut first, of which one piece or several are cut on the table."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from nesting.fit.fitting import fit_pieces
from nesting.fit.remnant import Remnant
from nesting.tolerance import TOLERANCE
from pieces.errors import LengthError
from pieces.length import mm
from pieces.piece.outline import Edge
from pieces.piece.piece import InnerLine, Piece
from pieces.units import format_need, parse_length, spoken
from reports.chalk.tape import TAPE
from reports.errors import JobError

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    from nesting.fit.fitting import Fitting
    from pieces.units import Units
    from reports.ask.offer import FabricOffer
    from reports.plan.effort import Effort

    Floats = NDArray[np.float64]

ROUNDING = 1e-6

LONGEST = 100_000.0
"""No box is longer or wider, mm; common practice, no source."""


class BoxAsked(NamedTuple):
    """A box that is asked for: its text, what it holds as written, and its size along and across the grain, mm."""

    text: str
    held: tuple[str, ...]
    length: float
    width: float

    @classmethod
    def parse(cls, text: str) -> BoxAsked:
        """Read a box as a person writes it: ``back + front: 28 in x 55 in``.

        Raises
        ------
        JobError
            If it cannot be read.
        """
        held, _, size = text.rpartition(":")
        sizes = re.split(r"\s*[x×]\s*", size.strip(), flags=re.IGNORECASE)
        names = tuple(name.strip() for name in held.split("+"))
        if len(sizes) != 2 or not all(names):
            such = spoken('"back + front: 28 in x 55 in"', '"back + front: 71 cm x 140 cm"')
            raise JobError(
                f"cannot read --box '{text}': write pieces, then length along the grain x width, as in {such}"
            )
        try:
            length, width = map(parse_length, sizes)
        except LengthError as error:
            raise JobError(f"cannot read --box '{text}': {error}") from error
        if not (length > 0 and width > 0):
            raise JobError(f"--box '{text}': a box needs a length and a width of more than 0")
        if max(length, width) > LONGEST:
            raise JobError(f"--box '{text}': a box is {spoken('100 yd', '100 m')} long or wide at the most")
        return cls(text, names, length, width)

    def numbers(self, known: Sequence[str]) -> dict[str, int | None]:
        """How many of each piece a box holds, by its name; None where that is not said."""
        found: dict[str, int | None] = {}
        for held in self.held:
            number, name = (None, held) if held in known else _numbered(held)
            if name not in known:
                raise JobError(f"--box '{self.text}': there is no piece '{name}': choose {', '.join(known)}")
            if number == 0:
                raise JobError(f"--box '{self.text}': a box holds 1 or more of a piece, not 0 {name}")
            if name in found:
                raise JobError(f"--box '{self.text}': '{name}' is named twice: write how many, such as 2 {name}")
            found[name] = number
        return found


@dataclass(frozen=True, eq=False)
class ClothBox:
    """A box as it is laid.

    Parameters
    ----------
    piece
        The rectangle, with the outlines of what is cut of it: half of it where it lies on a fold.
    holds
        How many of each piece are cut of one box.
    length, width
        Of the whole box, along and across the grain, mm.
    """

    piece: Piece
    holds: dict[str, int]
    length: float
    width: float

    @property
    def held(self) -> str:
        """What is cut of it, in words: how many of each piece."""
        return " + ".join(f"{number} {name}" if number > 1 else name for name, number in self.holds.items())


def boxes_of(
    pieces: Sequence[Piece], asked: Sequence[BoxAsked], offer: FabricOffer, effort: Effort, units: Units
) -> list[ClothBox]:
    """The boxes that some pieces are cut of: those that are asked for, and one about each copy of every other piece.

    Raises
    ------
    JobError
        If a box does not hold its pieces, or was not found to.
    """
    if offer.border:
        raise JobError(f"'{offer.name}' has a border, which edges lie on, not boxes: leave border and border_edges out")
    of = {piece.name: piece for piece in pieces}
    boxes: list[ClothBox] = []
    boxed: set[str] = set()
    for one in asked:
        numbers = one.numbers([*of]) if any(_is_held(held, of) for held in one.held) else {}
        twice = next((name for name in numbers if name in boxed), None)
        if twice is not None:
            raise JobError(f"--box '{one.text}': '{twice}' is in another box as well: name it once")
        boxed |= set(numbers)
        if len(numbers) == 1 and (piece := of[next(iter(numbers))]) and numbers[piece.name] in (None, 1):
            boxes.append(_about(piece, offer, units, one))
        elif numbers:
            held = {name: of[name].cut if number is None else number for name, number in numbers.items()}
            boxes.append(_around([of[name] for name in held], held, one, offer, effort, units))
    return boxes + [_about(piece, offer, units) for piece in pieces if piece.name not in boxed]


def _numbered(held: str) -> tuple[int | None, str]:
    found = re.fullmatch(r"(\d{1,4})\s+(.+)", held)
    return (int(found[1]), found[2]) if found else (None, held)


def _is_held(held: str, of: dict[str, Piece]) -> bool:
    return held in of or _numbered(held)[1] in of


def _about(piece: Piece, offer: FabricOffer, units: Units, asked: BoxAsked | None = None) -> ClothBox:
    """The box about a piece: of the size asked for, or the least on whole steps of the tape."""
    to_grain = _to_grain(piece)
    outline = piece.cut_line @ to_grain.T
    (start, low), (end, high) = outline.min(axis=0), outline.max(axis=0)
    halves = 2 if piece.on_fold else 1
    need = float(end - start), float(high - low)
    if asked is None:
        step = offer.tape_step or TAPE[units]  # so that the size that is shown is the size that is laid
        length, width = (math.ceil(size / step - ROUNDING) * step for size in need)
    else:
        length, width = asked.length, asked.width / halves
        if max(need[0] - length, need[1] - width) > TOLERANCE:
            size = f"{format_need(need[0], units)} along the grain x {format_need(need[1] * halves, units)}"
            raise JobError(f"--box '{asked.text}': '{piece.name}' takes {size}: give the box that much or more")
        length, width = max(need[0], length), max(need[1], width)
    fold = None
    if piece.fold_edge is not None:
        at = float((piece.fold_edge.points @ to_grain.T)[0, 1])
        fold = "right side" if at < (low + high) / 2 else "left side"
    first = high - width if fold == "left side" else low
    box = replace(
        _rectangle((start, start + length, first, first + width), to_grain.T, fold),
        name=piece.name,
        cut=piece.cut,
        mirrored_pair=piece.mirrored_pair,
        material=piece.material,
        grain=piece.grain,
        match=piece.match,
        lies="straight" if piece.lies == "straight" else "cross",
        inner=(_drawn(piece.cut_line),),
    )
    return ClothBox(box, {piece.name: 1}, length, width * halves)


def _around(
    pieces: Sequence[Piece], held: dict[str, int], asked: BoxAsked, offer: FabricOffer, effort: Effort, units: Units
) -> ClothBox:
    """A box of several pieces, laid in it as on a remnant."""
    where = f"--box '{asked.text}'"
    for piece in pieces:
        number = held[piece.name]
        if piece.cut % number or piece.cut // number != pieces[0].cut // held[pieces[0].name]:
            cut = ", ".join(f"{one.name} {one.cut}" for one in pieces)
            raise JobError(f"{where}: whole boxes must give all pieces of a garment, which takes {cut}")
        if piece.mirrored_pair and number % 2:
            raise JobError(f"{where}: '{piece.name}' is a pair: put 2 in the box, or one alone in a box of its own")
        if piece.match is not None and (offer.repeat_along or offer.repeat_across):
            raise JobError(f"{where}: on stripes or checks each matched piece, as '{piece.name}', needs its own box")
    cloth = Remnant(mm(asked.width), mm(asked.length), nap=bool(offer.nap), gap=mm(offer.gap))
    inside = [replace(piece, cut=held[piece.name]) for piece in pieces]
    fitting = fit_pieces(inside, cloth, ("open",), effort.criteria, seed=effort.seed, proof=effort.proof_in_all)
    if fitting.layout is None or fitting.layout.result is None:
        raise JobError(f"{where}: {_why_not(fitting, units)}")
    drawn = [outline for _, _, _, outline in fitting.layout.result.marker.outlines()]
    box = replace(
        _rectangle((0.0, asked.length, 0.0, asked.width), np.eye(2)),
        name=" + ".join(f"{number} {name}" if number > 1 else name for name, number in held.items()),
        cut=pieces[0].cut // held[pieces[0].name],
        material=pieces[0].material,
        grain=((asked.length / 4, asked.width / 2), (asked.length * 3 / 4, asked.width / 2)),
        lies="straight" if any(piece.lies == "straight" for piece in pieces) else "cross",
        inner=tuple(map(_drawn, drawn)),
    )
    return ClothBox(box, held, asked.length, asked.width)


def _why_not(fitting: Fitting, units: Units) -> str:
    """Why pieces do not lie in a box, or how near the search came."""
    for tried in fitting.tried:
        if tried.refused is not None:
            return str(tried.refused)
        if tried.disproof is not None:
            why = tried.disproof
            if why.kind == "width":
                return why.held
            if why.kind == "area":
                return f"proved too small: the pieces take {math.ceil(why.needs * 100)} % of it"
            return f"proved too short: the pieces need a length of {format_need(why.needs, units)} or more"
    nearest = fitting.nearest
    if nearest is None or nearest.result is None:
        return "the pieces do not lie in it: make it larger"
    length = format_need(nearest.result.marker.length, units)
    return f"no way was found to lay the pieces in it: they lie in a length of {length}, so make it that long"


def _to_grain(piece: Piece) -> Floats:
    """The turn that lays a piece's grainline along x; a piece on the fold is drawn so."""
    if piece.on_fold:
        return np.eye(2)
    along = np.subtract(piece.grain[1], piece.grain[0])
    cos, sin = along / np.hypot(*along)
    return np.array([[cos, sin], [-sin, cos]])


def _rectangle(zone: tuple[float, float, float, float], turned: Floats, fold: str | None = None) -> Piece:
    """A bare rectangle of sides along and across the grain, one of them on a fold where that is named."""
    start, end, low, high = zone
    corners = np.array([(start, low), (end, low), (end, high), (start, high)]) @ turned.T
    names = ("right side", "end", "left side", "start")
    return Piece("box", tuple(_sides(corners, names, fold)))


def _sides(corners: Floats, names: Sequence[str], fold: str | None) -> Iterator[Edge]:
    for name, corner, after in zip(names, corners, np.roll(corners, -1, axis=0), strict=True):
        kind: Any = "fold" if name == fold else "seam"
        yield Edge(name, np.array([corner, after]), 0.0, kind)


def _drawn(outline: Floats) -> InnerLine:
    """What is cut of a box, drawn in it."""
    return InnerLine("line", tuple((float(x), float(y)) for x, y in [*outline, outline[0]]))
