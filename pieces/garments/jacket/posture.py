"""Back and front for a body that is not built as is usual: rounded or hollow back, full bust or seat, long front.

Each is a shift of points that fades out evenly, so that curves stay smooth and seams that are not meant to change keep
their length: in front of or behind it the armhole, at the sides the side seam. Common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from pieces.body.girths import to_waist
from pieces.errors import DraftError
from pieces.piece.curve import point_along
from pieces.piece.piece import InnerLine, Notch, Piece
from pieces.piece.pieces import walk
from pieces.units import format_both

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from pieces.body.body import Body
    from pieces.body.corrections import Corrections
    from pieces.garments.jacket.block import Block
    from pieces.garments.jacket.style import JacketStyle
    from pieces.piece.curve import Point
    from pieces.piece.outline import Edge
    from pieces.piece.pieces import PieceSet

    Floats = NDArray[np.float64]

FADE = 110.0
"""Over how much length, mm, a shift fades in: no cloth is taken in by more than two thirds there."""

BUST = 70.0
"""Over how much length below the underarm the front gets longer for the bust, mm: there the dart lies."""

SEAT = 180.0
"""Over how much length above the hem the back gets wider for the seat, mm."""

STEP = 12.0
"""A straight line is drawn with points so far apart at the most, before it is shifted, mm."""

APEX = 0.45
"""How far the fullest part of the bust lies from the centre, as a share of the width of the front."""

MOST_EASED = 12.0
"""More than so much of one edge, mm, is not eased into the other."""

EASED = ("side", "shoulder", "facing shoulder", "lining to")
WITH_DART = ("side", "side of the lining")

DART_SHORT = 25.0
"""How far before the fullest part a dart ends, mm."""


class Posture(NamedTuple):
    """What is shifted, mm, and the levels and widths that it goes by.

    Parameters
    ----------
    asked
        What was found on the body, beside the usual.
    blade, bust, waist
        Levels down from the neck point.
    across, side
        From the centre to the armhole at its narrowest, and to the side seam.
    hem
        Level of the hem.
    has_dart
        Whether the length for the bust is taken up by a dart at the side.
    """

    asked: Corrections
    blade: float
    bust: float
    waist: float
    across: float
    side: float
    hem: float
    has_dart: bool

    @classmethod
    def of(cls, block: Block, body: Body, style: JacketStyle, across: float) -> Posture:
        """The posture of a body, for the block of its jacket."""
        under, hem = block.sewn_underarm, block.sewn_hem
        waist = to_waist(body)
        return cls(
            asked=body.tried_on,
            blade=block.sewn_tip[0] + 0.55 * (under[0] - block.sewn_tip[0]),
            bust=under[0] + BUST / 2,
            waist=min(waist, hem[0] - FADE / 2),
            across=across,
            side=under[1],
            hem=hem[0],
            has_dart=style.bust_shape == "dart",
        )

    @property
    def is_usual(self) -> bool:
        """Whether nothing is shifted."""
        asked = self.asked
        return not any((asked.blade, asked.fullness, asked.balance, asked.hollow, asked.seat))

    @property
    def intake(self) -> float:
        """Width of the dart at the side, mm; 0 where there is none."""
        return max(self.asked.fullness / 2, 0.0) if self.has_dart else 0.0

    def back(self, points: Floats) -> Floats:
        """Points of the back, shape (n, 2), moved: longer over the blades, shorter at the waist, fuller at the seat."""
        x, y = points[:, 0], points[:, 1]
        asked, below = self.asked, _fade_in(x, self.waist)
        inner = _fade_out(y, self.side)
        lower = (asked.seat / 2 - asked.hollow) * inner * below
        upper = asked.blade * _fade_out(y, self.across) * (1 - _fade_in(x, self.blade))
        wider = asked.seat / 2 * np.clip(y / self.side, 0, 1) * _fade_in(x, self.hem - SEAT / 2, SEAT)
        return np.column_stack([x + lower - upper, y + wider])

    def front(self, points: Floats) -> Floats:
        """Points of the front, moved: longer above the chest; wider and longer over the bust."""
        x, y = points[:, 0], points[:, 1]
        asked, below = self.asked, _fade_in(x, self.bust, BUST)
        inner = np.ones_like(y) if self.intake else _fade_out(y - APEX * self.side, (1 - APEX) * self.side)
        half = asked.fullness / 2
        wider = half * np.clip(y / self.side, 0, 1) * _fade_in(x, self.bust - FADE)
        upper = asked.balance * (1 - _fade_in(x, self.blade))
        return np.column_stack([x + half * inner * below - upper, y + wider])

    def give(self, piece: Piece) -> Piece:
        """A piece of back or front as the body is built; others as they are."""
        moved = {"back": self.back, "front": self.front}.get(piece.name.partition(" ")[0])
        if moved is None or self.is_usual:
            return piece

        def at(point: Point) -> Point:
            (x, y), *_ = moved(np.array([point])).tolist()
            return x, y

        edges = tuple(_moved(edge, moved(densely(edge.points))) for edge in piece.edges)
        given = replace(
            piece,
            edges=edges,
            notches=_third_notches(edges, tuple(Notch(notch.name, at(notch.point)) for notch in piece.notches)),
            match=piece.match and at(piece.match),
            inner=tuple(InnerLine(line.kind, tuple(at(point) for point in line.points)) for line in piece.inner),
        )
        return self._with_dart(given) if piece.name == "front" else given

    def _with_dart(self, front: Piece) -> Piece:
        """The front with a dart at the side, as wide as it is longer there."""
        intake = self.intake
        if not intake:
            return front
        side = front.edge("side").points  # from the hem up
        x = self.bust + intake / 2  # in the middle of where the side gets longer
        if x + intake / 2 > side[0, 0] - STEP:
            raise DraftError(
                "there is no room for a dart between armhole and hem: make the jacket longer, or set bust_shape to"
                " 'ease'",
                about="bust_shape",
            )
        low, high = (_on(side, at) for at in (x + intake / 2, x - intake / 2))
        tip = (x, APEX * self.side + DART_SHORT)
        dart = InnerLine("line", (low, tip, high))
        notches = (Notch("dart", low), Notch("dart", high))
        return replace(
            front,
            inner=(*front.inner, dart),
            notches=(*front.notches, *notches),
            drill_points=(*front.drill_points, tip),
        )


def ease_in(drafted: PieceSet, posture: Posture) -> tuple[PieceSet, tuple[str, ...]]:
    """The set with the seams of a shifted back or front eased into one another, and a line of each that is.

    Raises
    ------
    OutlineError
        If more would have to be eased in than cloth takes: that of the set's own check.
    """
    if posture.is_usual:
        return drafted, ()
    seams, notes = [], []
    for seam in drafted.seams:
        more = walk(seam, drafted)
        in_dart = posture.intake if seam.name in WITH_DART else 0.0
        eased = more - in_dart
        if abs(eased) > MOST_EASED or not seam.name.startswith(EASED):
            seams.append(seam)
            continue
        seams.append(replace(seam, ease=seam.ease + more))
        if abs(eased) >= 1.0:
            which = "front" if eased > 0 else "back"
            notes.append(f"{seam.name}: ease {format_both(abs(eased))} of the {which} in")
        if in_dart:
            notes.append(f"{seam.name}: sew the front's dart of {format_both(in_dart)} first")
    return replace(drafted, seams=tuple(seams)), tuple(notes)


def _third_notches(edges: tuple[Edge, ...], notches: tuple[Notch, ...]) -> tuple[Notch, ...]:
    """The armhole's notches a third of the way up it, as long as it is now, as the sleeve's are on its cap."""
    own = [notch for notch in notches if notch.name.endswith("armhole")]
    if not own:
        return notches
    armhole = next(edge for edge in edges if edge.name == "armhole")
    set_anew = (
        Notch(notch.name, point_along(armhole.points, armhole.length / 3 + 10.0 * i)) for i, notch in enumerate(own)
    )
    return (*set_anew, *(notch for notch in notches if notch not in own))


def _moved(edge: Edge, points: Floats) -> Edge:
    """An edge with other points; a fold stays straight along the grain."""
    if edge.kind == "fold":
        points = np.array([points[0], points[-1]])
    return replace(edge, points=np.ascontiguousarray(points))


def densely(points: Floats) -> Floats:
    """A line with points so near one another that it bends as a curve does."""
    parts = [points[:1]]
    for start, end in pairwise(points):
        count = int(np.ceil(np.hypot(*(end - start)) / STEP))
        share = np.linspace(0.0, 1.0, max(count, 1) + 1)[1:, np.newaxis]
        parts.append(start + share * (end - start))
    return np.vstack(parts)


def _on(side: Floats, x: float) -> Point:
    """The point of a side seam, which runs up from the hem, at a level."""
    return x, float(np.interp(-x, -side[:, 0], side[:, 1]))


def _fade_in(x: Floats, level: float, over: float = FADE) -> Floats:
    """0 above a level, 1 below; smoothly from half of `over` before it to half behind."""
    share = np.clip((x - level) / over + 0.5, 0.0, 1.0)
    faded: Floats = share**2 * (3 - 2 * share)
    return faded


def _fade_out(y: Floats, reach: float) -> Floats:
    """1 at the centre, 0 from `reach` on; level at both."""
    share = np.clip(y / reach, 0.0, 1.0)
    faded: Floats = np.cos(share * np.pi / 2) ** 2
    return faded
