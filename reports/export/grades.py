"""Pieces drafted in several sizes as one size with rules: which points have them, and how far these move."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, NamedTuple

import numpy as np

from pieces.exchange.graded.rule_table import RuleTable
from pieces.exchange.graded.spots import graded_line, spot
from pieces.piece.notched import cut_notches
from pieces.piece.recovered import recover
from pieces.piece.true_lines import cut_curves, cut_runs, fine, refined
from reports.errors import JobError
from reports.export.lines import EDGE
from reports.export.words import unique

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping, Sequence

    from numpy.typing import NDArray

    from pieces import Piece, PieceSet
    from pieces.exchange.graded.spots import GradedSpot
    from pieces.piece.curve import Point

    Floats = NDArray[np.float64]

SpotRole = Literal["turn", "curve", "notch", "sew-point", "drill", "grain"]


class Ruled(NamedTuple):
    """A point that has a rule: what it is, where, and the rule's number."""

    role: SpotRole
    point: Point
    number: int


@dataclass(frozen=True)
class GradedSet:
    """Pieces in their sample size, with rules.

    Parameters
    ----------
    pieces
        In the sample size.
    table
        The rules.
    points
        By piece: the points that have one.
    strays
        How far a graded line is from the drafted one in the worst size, mm.
    refused
        Why a size is left out, by its name.
    """

    pieces: PieceSet
    table: RuleTable
    points: Mapping[str, tuple[Ruled, ...]]
    strays: float
    refused: Mapping[str, str]


def graded_set(drafted: Mapping[str, PieceSet], sample: str | None, name: str) -> GradedSet:
    """Pieces by size as one set with rules; sizes whose pieces differ in more than their measures are left out.

    Parameters
    ----------
    sample
        The size that is drawn; by default the middle one.
    name
        What the rule table is called.

    Raises
    ------
    JobError
        If there is no such size.
    """
    chosen = list(drafted)[(len(drafted) - 1) // 2] if sample is None else sample
    if chosen not in drafted:
        raise JobError(f"--sample '{sample}': the sizes are {', '.join(drafted)}")
    refused = {size: why for size, pieces in drafted.items() if (why := _unlike(drafted[chosen], pieces))}
    sizes = {size: pieces for size, pieces in drafted.items() if size not in refused}
    at = list(sizes).index(chosen)
    named = dict(zip(sizes, unique(map(size_name, sizes)), strict=True))
    numbers: dict[tuple[Point, ...], int] = {}
    points, strays = {}, 0.0
    for number, piece in enumerate(drafted[chosen]):
        found, off = _spots([pieces.pieces[number] for pieces in sizes.values()], at)
        strays = max(strays, off)
        points[piece.name] = tuple(
            Ruled(role, one.point, numbers.setdefault(_rounded(one), len(numbers) + 1)) for role, one in found
        )
    rules = {number: moves for moves, number in numbers.items()}
    return GradedSet(
        drafted[chosen], RuleTable(name, tuple(named.values()), named[chosen], rules), points, strays, refused
    )


def size_name(size: str) -> str:
    """What a size is called in the table: one word of plain signs, for the table is a list with blanks between."""
    plain = size.encode("ascii", "replace").decode().replace("?", "_")
    return re.sub(r"[^A-Za-z0-9./+-]+", "_", plain).strip("_") or "size"


def _rounded(one: GradedSpot) -> tuple[Point, ...]:
    """Moves as they are written."""
    return tuple((round(x, 4) + 0.0, round(y, 4) + 0.0) for x, y in one.moves)


def _unlike(sample: PieceSet, other: PieceSet) -> str:
    """In what two sets differ besides their measures; empty if in nothing."""
    names, others = ([piece.name for piece in pieces] for pieces in (sample, other))
    if names != others:
        return f"it has other pieces: {', '.join(sorted(set(names) ^ set(others))) or 'in another order'}"
    for piece, same in zip(sample, other, strict=True):
        for what, told in _KINDS.items():
            if told(piece) != told(same):
                return f"its piece '{piece.name}' has other {what}"
    return ""


_KINDS: Mapping[str, Callable[[Piece], object]] = {
    "edges": lambda piece: [(edge.name, edge.kind, edge.allowance > 0) for edge in piece.edges],
    "notches": lambda piece: [notch.name for notch in piece.notches],
    "drill points": lambda piece: len(piece.drill_points),
    "lines within": lambda piece: [line.kind for line in piece.inner],
}
"""What is the same in every size of a piece."""


def _spots(sizes: Sequence[Piece], at: int) -> tuple[list[tuple[SpotRole, GradedSpot]], float]:
    """The graded points of a piece, and how far its lines stray."""
    found: list[tuple[SpotRole, GradedSpot]] = []
    strays = 0.0
    lines = zip(*(_lines(piece) for piece in sizes), strict=True)
    taken: set[Point] = set()
    for line in lines:
        graded = graded_line(line, at)
        strays = max(strays, graded.strays)
        for one in graded.spots:
            place = round(one.point[0], 3), round(one.point[1], 3)
            if place not in taken:
                found.append(("turn" if one.is_corner else "curve", one))
            taken.add(place)
    found += [(role, spot(points, at)) for role, points in _marks(sizes)]
    return found, strays


def _lines(piece: Piece) -> Iterator[Floats]:
    """The cut line edge by edge, the sew line where it is another, and the lines within."""
    yield from cut_runs(piece)
    for edge in piece.edges:
        if edge.kind != "fold" and edge.allowance:
            yield fine(recover(edge.points))
    for line in piece.inner:
        yield fine(recover(np.array(line.points, dtype=np.float64)))


def _marks(sizes: Sequence[Piece]) -> Iterator[tuple[SpotRole, tuple[Point, ...]]]:
    """Each mark as it lies in every size: its role and its points."""
    notches = [cut_notches(piece, refined(cut_curves(piece), EDGE)) for piece in sizes]
    for each in zip(*notches, strict=True):
        yield "notch", tuple(notch.edge for notch in each)
        yield "sew-point", tuple(notch.sewn for notch in each)
    for points in zip(*(piece.drill_points for piece in sizes), strict=True):
        yield "drill", points
    for points in zip(*(piece.grain for piece in sizes), strict=True):
        yield "grain", points
