"""The guide: a marker as numbered steps, for marking and cutting by hand with tape and chalk."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import product
from math import hypot
from typing import TYPE_CHECKING, Literal

import numpy as np

from nesting.problem.outline import polygon_area
from nesting.problem.transform import Transform
from nesting.verify import verify_asked
from pieces.piece.notched import cut_notches
from reports.chalk.chalk import Chalked, chalk, from_edge
from reports.chalk.tape import tape_units
from reports.rows import LaidRow

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from nesting.cloth.band import Band
    from pieces.piece.curve import Point
    from pieces.units import Units
    from reports.cautions import Tool
    from reports.chalk.chalk import Side
    from reports.plan.cut_cloth import CutCloth

KINDS: tuple[Literal["layered", "single"], ...] = ("layered", "single")

PREPARE = 2
"""Steps before the cloth is laid: it is made ready, and its end squared."""


@dataclass(frozen=True)
class MarkSpot:
    """A point to mark: what it is, and its distances from the start and from the step's edge, mm."""

    name: str
    start: float
    edge: float


@dataclass(frozen=True, eq=False)
class Step:
    """One piece to lay, draw round and mark.

    Parameters
    ----------
    row
        The placement, under the step's number.
    side
        The edge of its band that all its distances across are taken from.
    edge
        What that edge is called.
    copy, copies
        Which placement of its piece it is, from 1, of how many.
    plies
        How many plies of cloth that lie alike are cut with it, in a lay of a run.
    """

    row: LaidRow
    side: Side
    edge: str
    copy: int
    copies: int
    plies: int = 1

    @property
    def number(self) -> int:
        """The step's number."""
        return self.row.number

    @property
    def start(self) -> tuple[float, float]:
        """Where the piece's box begins and ends, from the start, mm."""
        x = self.row.placement.x
        return x, x + self.row.variant.length

    @property
    def across(self) -> tuple[float, float]:
        """Least and greatest distance of the piece's box from its edge, mm."""
        least = from_edge(self.row.band, self.row.outline, self.side)
        return least, least + self.row.variant.height

    @property
    def top(self) -> tuple[float, float]:
        """Direction in which the top of the piece points: along the cloth, and across it away from its lower edge."""
        piece, variant = self.row.item.piece, self.row.variant
        start, end = Transform(variant.turn, variant.mirrored)(piece.grain if piece else [(0.0, 0.0), (1.0, 0.0)])
        along, across = start[0] - end[0], start[1] - end[1]
        size = hypot(along, across)
        return along / size, across / size

    @property
    def is_opened(self) -> bool:
        """Whether the pattern piece is a half, and is laid twice: turned over on its centre line."""
        piece = self.row.item.piece
        return piece is not None and piece.on_fold and not self.row.variant.on_fold

    @cached_property
    def grain(self) -> tuple[MarkSpot, ...]:
        """The grainline's two ends, the one nearer the start first; none of a bare outline."""
        piece = self.row.item.piece
        ends = self._spots(("grain", point) for point in piece.grain) if piece else []
        return tuple(sorted(ends, key=lambda spot: spot.start))

    @cached_property
    def fold(self) -> tuple[MarkSpot, ...]:
        """The two ends of what lies on the fold or, of a half laid twice, of its centre line; none of other pieces."""
        piece = self.row.item.piece
        if piece is None or piece.fold_edge is None:
            return ()
        at = float(piece.fold_edge.points[0, 1])
        cut = piece.cut_line[np.abs(piece.cut_line[:, 1] - at) < 1e-6]
        ends = self._spots(("fold", (float(x), at)) for x in (cut[:, 0].min(), cut[:, 0].max()))
        return tuple(sorted(ends, key=lambda spot: spot.start))

    @cached_property
    def notches(self) -> tuple[MarkSpot, ...]:
        """Notches, on the sew line; of a half laid twice those of both halves."""
        piece = self.row.item.piece
        return self._marks((notch.name, notch.point) for notch in piece.notches) if piece else ()

    @cached_property
    def notch_edges(self) -> tuple[MarkSpot, ...]:
        """Where the notches are cut: the points on the cut line beside those on the sew line."""
        piece = self.row.item.piece
        return self._marks((notch.name, notch.edge) for notch in cut_notches(piece)) if piece else ()

    @cached_property
    def drill_points(self) -> tuple[MarkSpot, ...]:
        """Drill points; of a half laid twice those of both halves."""
        piece = self.row.item.piece
        return self._marks(("drill point", point) for point in piece.drill_points) if piece else ()

    @cached_property
    def match(self) -> tuple[MarkSpot, ...]:
        """The point that lies on the lines of the cloth's pattern, if there is one."""
        if self.row.variant.match is None:
            return ()
        corner = np.array([(self.row.placement.x, self.row.placement.y)])
        point = corner + self.row.variant.match
        return (MarkSpot("match point", float(point[0, 0]), from_edge(self.row.band, point, self.side)),)

    def _marks(self, marks: Iterable[tuple[str, Point]]) -> tuple[MarkSpot, ...]:
        own = list(marks)
        piece = self.row.item.piece
        if self.is_opened and piece is not None and piece.fold_edge is not None:
            twice = 2 * float(piece.fold_edge.points[0, 1])
            own += [(name, (x, twice - y)) for name, (x, y) in own if abs(twice - 2 * y) > 1e-6]
        return tuple(sorted(self._spots(own), key=lambda spot: (spot.start, spot.edge)))

    def _spots(self, points: Iterable[tuple[str, Point]]) -> list[MarkSpot]:
        """Points of the piece's own frame, where they come to lie."""
        spots = []
        for name, point in points:
            laid = self.row.transform([point])
            spots.append(MarkSpot(name, float(laid[0, 0]), from_edge(self.row.band, laid, self.side)))
        return spots


@dataclass(frozen=True, eq=False)
class Stage:
    """Pieces that are marked while the cloth lies in one way.

    Parameters
    ----------
    number
        From 1.
    kind
        Cloth of several layers, or a single one.
    spread
        How the cloth lies.
    bands
        All that lie side by side in it; the stage's pieces need not lie on every one.
    lead
        Numbers of the steps that lay the cloth so; the stage's pieces follow them.
    """

    number: int
    kind: Literal["layered", "single"]
    spread: str
    bands: tuple[Band, ...]
    lead: range
    steps: tuple[Step, ...]

    @property
    def start(self) -> float:
        """Where its stretch of the cloth begins, from the start, mm."""
        return self.bands[0].start


@dataclass(frozen=True, eq=False)
class Guide:
    """How to mark and cut one marker by hand.

    Parameters
    ----------
    plan
        The cloth, and the marker as it was found.
    chalked
        The marker on the steps of the tape: what the guide's distances are of.
    tools
        What is cut with; none: it is not said.
    """

    plan: CutCloth
    units: Units
    chalked: Chalked
    stages: tuple[Stage, ...]
    tools: tuple[Tool, ...] = ()

    @property
    def steps(self) -> list[Step]:
        """The steps of all pieces, in order."""
        return [step for stage in self.stages for step in stage.steps]

    @property
    def growth(self) -> float:
        """By how much the marker grew when it was brought on to the steps of the tape, mm; it may be less than 0."""
        return self.chalked.marker.length - self.plan.marker.length

    @property
    def off(self) -> list[int]:
        """Numbers of the steps whose distances are not whole steps of the tape."""
        places = self.chalked.marker.placements
        off = {(places[i].item, places[i].copy) for i in self.chalked.off}
        return [s.number for s in self.steps if (s.row.placement.item, s.row.placement.copy) in off]


def guide_of(plan: CutCloth, units: Units, *tools: Tool) -> Guide:
    """Turn a cloth's marker into a guide; `tools` are what it is cut with, where that is known.

    Stretches of the cloth come one after another, and in each cloth of several layers before a single layer beside it.
    In each stage pieces on the fold come first, then the largest, by the area of what is drawn round.
    """
    offer = plan.offer
    step = offer.tape if offer.marking == "tape" else offer.tape_step
    units = units if step is None else tape_units(step) or units  # it is read off that tape
    chalked = chalk(plan.marker, units, step)
    verify_asked(chalked.marker, plan.asked)
    bands = chalked.marker.problem.bands
    rows = [LaidRow(0, *found, bands[found[2].band]) for found in chalked.marker.outlines()]
    order = sorted(range(len(rows)), key=lambda i: _rank(rows[i]))
    copies, seen = Counter(row.name for row in rows), Counter[str]()
    stages: list[Stage] = []
    number = PREPARE
    for beside, kind in product(_stretches(bands), KINDS):
        mine = [i for i in order if rows[i].band in beside and (rows[i].band.layers == 1) == (kind == "single")]
        if not mine:
            continue
        goes_on = bool(stages) and stages[-1].bands == beside
        lead = range(number + 1, number + (2 if goes_on else 3))
        number = lead[-1]
        steps = []
        for i in mine:
            number += 1
            row, side = replace(rows[i], number=number), chalked.sides[i]
            seen[row.name] += 1
            which = seen[row.name], copies[row.name], plan.lay.number if plan.lay else 1
            steps.append(Step(row, side, edge_words(beside, row.band, side), *which))
        spread = plan.spread
        if spread == "fold-then-open":
            spread = "open" if kind == "single" else "folded"
        stages.append(Stage(len(stages) + 1, kind, spread, beside, lead, tuple(steps)))
    return Guide(plan, units, chalked, tuple(stages), tools)


def _stretches(bands: Sequence[Band]) -> list[tuple[Band, ...]]:
    """The bands that lie side by side, from the start on."""
    starts = sorted({band.start for band in bands})
    return [tuple(band for band in bands if band.start == start) for start in starts]


def edge_words(bands: Sequence[Band], band: Band, side: Side) -> str:
    """What an edge of a band is called, told apart from the other edges of the laid cloth."""
    kinds = {"low": band.low_edge, "high": band.high_edge}
    kind = "edge" if kinds[side] == "free" else kinds[side]
    if band is not (bands[0] if side == "low" else bands[-1]):
        return f"inner {kind}"
    opposite = bands[-1].high_edge if side == "low" else bands[0].low_edge
    return f"{'lower' if side == 'low' else 'upper'} {kind}" if opposite == kinds[side] else kind


def _rank(row: LaidRow) -> tuple[bool, float, float, float]:
    """Order of a piece within its stage: on the fold first, then the largest, then from the start."""
    # Copies of a piece, turned or mirrored, differ in area by rounding alone.
    return not row.variant.on_fold, -round(polygon_area(row.outline)), row.placement.x, row.placement.y
