"""What lines on a paper pattern are taken for, and how sure that is: by rules that are told with each."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np

from pieces.photo.fitted import fit_line
from pieces.photo.lines import angle, apart, chord, crossing, even, off_line, split, straight
from pieces.photo.mark import PaperMark
from pieces.photo.sewn import follows, in_order, trimmed

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from pieces.photo.cuts import EdgeCut
    from pieces.photo.fitted import FittedOutline
    from pieces.photo.mark import MarkKind, MarkSure
    from pieces.photo.strokes import Stroke

    Floats = NDArray[np.float64]

ARROW = (2.0, 18.0)
"""How long the barbs of an arrow are, mm."""

BARB = (10.0, 70.0)
"""How far they stand off the line, degrees."""

LEAST_GRAIN = 40.0
"""A shorter arrow is no grainline, mm."""

ROUND_IT, PART_OF_IT = 0.8, 0.5
"""Such lines that follow this share of the edge are the sew line, surely or likely."""

DASH = 3.0
"""A shorter stroke is no dash of a sew line, mm."""

NOTCH = (2.5, 25.0)
"""How long a notch is, mm."""

AT_EDGE = 3.5
"""Ink this near to the edge of the paper begins at it, mm: nearest to the edge none is looked for."""

UPRIGHT = 35.0
"""How far a notch may lean, degrees."""

LEAST_LEG, TIP = 30.0, (3.0, 60.0)
"""How long the legs of a dart are, mm, and the angle between them, degrees."""

DRILL = 12.0
"""A cross or ring that is no larger marks a point, mm."""

LETTER = 40.0
"""What is larger and straight is no letter, mm."""

BESIDE, NEXT_WORD = 8.0, 12.0
"""From letter to letter and from word to word, mm."""

LEAST_LINE = 15.0
"""A line that is shorter and stands alone is a small mark, mm."""

BUSY = 2.4
"""Ink that is so many times as long as it reaches is written."""


def marks_of(
    strokes: Sequence[Stroke], outline: FittedOutline, cuts: Sequence[EdgeCut], tolerance: float
) -> list[PaperMark]:
    """What each stroke is taken for, each once; its lines fitted within a tolerance, mm."""
    found = _Sorting(strokes, outline, cuts).all()
    fitted = ("inner line", "sew line")
    return [
        replace(mark, points=fit_line(mark.points, tolerance, is_ring=mark.is_ring)) if mark.kind in fitted else mark
        for mark in found
    ]


class _Sorting:
    """Strokes that are left, taken away kind by kind."""

    def __init__(self, strokes: Sequence[Stroke], outline: FittedOutline, cuts: Sequence[EdgeCut]) -> None:
        import shapely

        self.edge: Any = shapely.LinearRing(outline.points)
        self.outline = outline
        self.left = [stroke for stroke in strokes if not stroke.is_crease]
        self.creases = [stroke for stroke in strokes if stroke.is_crease]
        self.found: list[PaperMark] = []
        for cut in cuts:
            shape = "a V" if cut.is_pointed else "a slot"
            foot = np.array(self.edge.interpolate(self.edge.project(shapely.Point(*cut.point))).coords[0])
            deep = cut.deep + float(np.hypot(*(cut.point - foot)))
            self._add("notch", foot[None], "sure", f"{shape} cut into the edge, {deep:.0f} mm deep")
            reach = max(cut.deep, cut.mouth) + 1.5
            self._take([s for s in strokes if float(np.hypot(*(s.points - cut.point).T).max()) < reach])

    def all(self) -> list[PaperMark]:
        """Kind by kind, the plainest first."""
        self._grain()
        self._fold()
        self._sew_line()
        self._darts()
        self._notches()
        self._drill_points()
        self._lines()
        self._writing()
        for crease in self.creases:
            if crease.length >= LEAST_LINE:
                self._add("crease", crease.points, "likely", "it is as pale, wide or bright beside it as creases are")
        return self.found

    def _add(self, kind: MarkKind, points: Floats, sure: MarkSure, why: str, *, is_ring: bool = False) -> None:
        self.found.append(PaperMark(kind, np.asarray(points, dtype=np.float64), sure, why, is_ring))

    def _take(self, those: Sequence[Stroke]) -> None:
        gone = {id(stroke) for stroke in those}
        self.left = [stroke for stroke in self.left if id(stroke) not in gone]

    def _away(self, points: Floats) -> Floats:
        """How far points lie from the edge of the paper, mm."""
        import shapely

        return np.asarray(shapely.distance(shapely.points(np.atleast_2d(points)), self.edge))

    def _barbs(self, tip: Floats, back: Floats, own: Stroke) -> list[Stroke]:
        """The barbs of an arrow at a tip, if there is one on each side."""
        across = np.array([-back[1], back[0]])
        sides: dict[bool, Stroke] = {}
        for stroke in self.left:
            if stroke is own or stroke.length > 2.5 * ARROW[1]:
                continue
            gone = stroke.points - tip
            far = np.hypot(*gone.T)
            if far.min() > 3.0 or far.max() > ARROW[1] + 3.0 or far.max() < ARROW[0]:
                continue
            for is_left in (False, True):
                side = gone[(far > max(2.0, 0.5 * far.max())) & ((gone @ across > 0) == is_left)]
                if len(side) < 3:
                    continue
                along, aside = side.mean(axis=0) @ np.column_stack([back, across])
                if BARB[0] < np.degrees(np.arctan2(abs(aside), along)) < BARB[1]:
                    sides[is_left] = stroke
        return list({id(each): each for each in sides.values()}.values()) if len(sides) == 2 else []

    def _arrows(self, stroke: Stroke) -> tuple[int, list[Stroke]]:
        """How many ends of a stroke have arrowheads, and their barbs."""
        points = even(stroke.points, 1.0)
        heads, barbs = 0, []
        for line in (points, points[::-1]):
            back = line[min(15, len(line) - 1)] - line[0]
            found = self._barbs(line[0], back / max(float(np.hypot(*back)), 1e-9), stroke)
            heads += bool(found)
            barbs += found
        return heads, barbs

    def _grain(self) -> None:
        """The longest straight line with arrowheads."""
        found = []
        for stroke in self.left:
            if not stroke.is_ring and stroke.length >= LEAST_GRAIN and stroke.off < max(1.0, 0.01 * stroke.length):
                heads, barbs = self._arrows(stroke)
                if heads:
                    found.append((heads, stroke.length, stroke, barbs))
        if not found:
            return
        heads, _, stroke, barbs = max(found, key=lambda each: each[:2])
        self._take([stroke, *barbs])
        why = "a straight line with arrowheads at both ends" if heads == 2 else "a straight line with one arrowhead"
        self._add("grain", straight(stroke.points), "sure" if heads == 2 else "likely", why)

    def _fold(self) -> None:
        """A bracket along a straight side, its ends bent towards it."""
        sides = [run.points[[0, -1]] for run in self.outline.runs if run.kind == "line"]
        for stroke in list(self.left):
            parts = [] if stroke.is_ring else [part for part in split(stroke.points) if chord(part) > 3.0]
            if len(parts) != 3 or chord(parts[1]) < LEAST_GRAIN or max(chord(parts[0]), chord(parts[2])) > LEAST_GRAIN:
                continue
            middle = straight(parts[1])
            for side in sides:
                if angle(side, middle) > 4.0 or chord(side) < 0.8 * chord(middle):
                    continue
                near, far = off_line(middle, side), off_line(np.array([stroke.points[0], stroke.points[-1]]), side)
                if near.max() < 60.0 and (far < 0.6 * near.min()).all():
                    heads, barbs = self._arrows(stroke)
                    self._take([stroke, *barbs])
                    why = "a bracket along a straight side, its ends bent towards that side"
                    self._add("fold", side, "sure" if heads == 2 else "likely", why)
                    return

    def _sew_line(self) -> None:
        """Lines that follow the edge at an even distance: if they follow most of it, where it is sewn."""
        following = [stroke for stroke in self.left if stroke.length >= 12.0 and follows(stroke, self.edge)]
        if following:  # dashes by themselves, where they lie as far within as the rest
            usual = float(np.median(np.concatenate([self._away(stroke.points) for stroke in following])))
            following += [
                stroke
                for stroke in self.left
                if DASH <= stroke.length < 12.0 and bool((np.abs(self._away(stroke.points) - usual) < 1.0).all())
            ]
        share = sum(stroke.length for stroke in following) / float(self.edge.length)
        if share < PART_OF_IT:
            return
        sure: MarkSure = "sure" if share >= ROUND_IT else "likely"
        why = f"it follows {min(share, 1):.0%} of the edge at an even distance"
        self._take(following)
        for points, ring in in_order([trimmed(stroke, self.edge) for stroke in following], self.edge):
            self._add("sew line", points, sure, why, is_ring=ring)

    def _darts(self) -> None:
        """Two straight lines that begin at the edge, or at the sew line, and meet within."""
        import shapely

        sewn = [shapely.LineString(mark.points) for mark in self.found if mark.kind == "sew line"]
        starts: list[tuple[Stroke, Floats]] = []  # from the edge inwards
        for stroke in list(self.left):
            parts = [] if stroke.is_ring else [part for part in split(stroke.points) if chord(part) > 3.0]
            if len(parts) == 2 and all(self._begins(end, sewn) for end in (stroke.points[0], stroke.points[-1])):
                legs = straight(parts[0]), straight(parts[1])[::-1]
                if self._is_dart(*legs):
                    self._add_dart(*legs)
                    self._take([stroke])
            elif not stroke.is_ring and stroke.length >= LEAST_LEG and stroke.off < max(1.0, 0.012 * stroke.length):
                for line in (stroke.points, stroke.points[::-1]):
                    if self._begins(line[0], sewn):
                        starts.append((stroke, straight(line)))
                        break
        pairs = [
            (float(np.hypot(*(one[1] - other[1]))), a, b, one, other)
            for n, (a, one) in enumerate(starts)
            for b, other in starts[n + 1 :]
            if self._is_dart(one, other)
        ]
        for _, a, b, one, other in sorted(pairs, key=lambda pair: pair[0]):
            if any(each is a for each in self.left) and any(each is b for each in self.left):
                self._add_dart(one, other)
                self._take([a, b])

    def _begins(self, point: Floats, sewn: Sequence[Any]) -> bool:
        import shapely

        near = [line.distance(shapely.Point(*point)) for line in sewn]
        return float(self._away(point)[0]) < AT_EDGE or min(near, default=np.inf) < 4.0

    def _is_dart(self, one: Floats, other: Floats) -> bool:
        """Whether two legs, each from its mouth to its tip, are those of a dart."""
        met = crossing(one, other)
        if met is None or not TIP[0] < angle(one, other, is_directed=True) < TIP[1]:
            return False
        legs = [float(np.hypot(*(met - leg[0]))) for leg in (one, other)]
        near = max(float(np.hypot(*(met - leg[1]))) for leg in (one, other))
        is_even = min(legs) > 0.7 * max(legs)
        return is_even and min(legs) >= LEAST_LEG and near < max(6.0, 0.12 * max(legs)) and self._away(met)[0] > 15.0

    def _add_dart(self, one: Floats, other: Floats) -> None:
        tip = crossing(one, other)
        one, other = (self._to_edge(leg, tip) for leg in (one, other))
        wide = float(np.hypot(*(one[0] - other[0])))
        deep = float(np.hypot(*((one[0] + other[0]) / 2 - tip)))
        why = f"two straight lines meet {deep:.0f} mm within, {wide:.0f} mm apart where they begin"
        self._add("dart", np.array([one[0], tip, other[0]]), "sure", why)

    def _to_edge(self, leg: Floats, tip: Any) -> Floats:
        """A leg that begins where it meets the edge, if it all but does: next to the edge no ink is looked for."""
        import shapely

        if self._away(leg[0])[0] >= AT_EDGE:
            return leg
        out = (leg[0] - tip) / max(float(np.hypot(*(leg[0] - tip))), 1e-9)
        met = self.edge.intersection(shapely.LineString([leg[0] - out, leg[0] + 3 * AT_EDGE * out]))
        return leg if met.is_empty else np.array([np.array(shapely.get_coordinates(met)[0]), leg[1]])

    def _notches(self) -> None:
        """Short lines that begin at the edge, upright to it; two that meet within are one notch."""
        import shapely

        upright: list[tuple[float, Stroke, Floats]] = []
        for stroke in self.left:
            away = self._away(stroke.points)
            deep = float(away.max())
            if stroke.is_ring or not NOTCH[0] <= deep <= NOTCH[1] or stroke.length > 2.6 * NOTCH[1]:
                continue
            ends = away[[0, -1]]
            if ends.min() >= AT_EDGE:
                continue
            is_v = ends.max() < AT_EDGE
            if not is_v and stroke.off > max(0.8, 0.08 * stroke.length):
                continue
            first = stroke.points[0] if ends[0] <= ends[1] else stroke.points[-1]
            last = stroke.points[int(away.argmax())]
            foot = (stroke.points[0] + stroke.points[-1]) / 2 if is_v else first
            at = float(self.edge.project(shapely.Point(*foot)))
            foot = np.array(self.edge.interpolate(at).coords[0])
            if angle(np.array([foot, last]), self._side_at(at)) > 90 - UPRIGHT:
                upright.append((at, stroke, foot))
        for _, stroke, foot in upright:
            bar = next((s for s in self.left if s is not stroke and self._is_bar(s, stroke)), None)
            self._take([stroke] if bar is None else [stroke, bar])
            shape = "a T" if bar else "a V" if stroke.off > 2.0 else "a short line"
            sure: MarkSure = "sure" if stroke.length >= 4.0 else "likely"
            self._add("notch", foot[None], sure, f"{shape} at the edge, upright to it, drawn or cut")

    def _is_bar(self, bar: Stroke, stroke: Stroke) -> bool:
        """Whether a stroke is the bar of a T."""
        ends = stroke.points[[0, -1]]
        inner = ends[int(self._away(ends).argmax())]
        middle = bar.points.mean(axis=0)
        return (
            bar.length < 15.0
            and float(np.hypot(*(middle - inner))) < 2.0
            and angle(bar.points[[0, -1]], stroke.points[[0, -1]]) > 60
        )

    def _side_at(self, at: float) -> Floats:
        around = [self.edge.interpolate((at + by) % self.edge.length).coords[0] for by in (-3.0, 3.0)]
        return np.array(around)

    def _drill_points(self) -> None:
        """Small rings, and small crosses that stand alone."""
        for stroke in list(self.left):
            round_ = stroke.is_ring and 2.0 < stroke.reach / 1.414 <= DRILL
            if round_ and len(self._near(stroke)) == 0:
                middle = stroke.points.mean(axis=0)
                far = np.hypot(*(stroke.points - middle).T)
                if far.std() < 0.15 * far.mean():
                    self._take([stroke])
                    self._add("drill point", middle[None], "sure", "a small ring that stands alone")
        for stroke in list(self.left):
            near = self._near(stroke)
            if stroke not in self.left or len(near) != 1 or len(self._near(near[0])) != 1:
                continue
            one, other = stroke.points[[0, -1]], near[0].points[[0, -1]]
            met = crossing(one, other)
            middles = max(
                float(np.hypot(*(line.mean(axis=0) - (met if met is not None else np.inf)))) for line in (one, other)
            )
            sizes = sorted((stroke.length, near[0].length))
            if sizes[0] > 2.5 and sizes[1] < 1.5 * DRILL and middles < 1.2 and angle(one, other) > 60:
                self._take([stroke, near[0]])
                self._add("drill point", np.asarray(met)[None], "sure", "a small cross that stands alone")

    def _near(self, stroke: Stroke) -> list[Stroke]:
        """Strokes that are as near as letters."""
        return [
            other
            for other in self.left
            if other is not stroke and apart(stroke.points, other.points) < BESIDE and other.length < 100
        ]

    def _lines(self) -> None:
        """Lines that are no writing."""
        for stroke in list(self.left):
            busy = stroke.length / max(stroke.reach, 1e-9)
            is_straight = stroke.off < max(1.0, 0.03 * stroke.length)
            alone = not self._near(stroke)
            if stroke.length < (LETTER if not alone and not is_straight else LEAST_LINE) or (
                busy > (BUSY if not stroke.is_ring else 4.5)
            ):
                continue
            if not alone and stroke.reach < (25.0 if is_straight else LETTER):
                continue
            self._take([stroke])
            even_off = follows(stroke, self.edge) if stroke.length >= 30 else False
            why = "a line; what it is for is not known"
            if even_off:
                off = float(np.median(self._away(stroke.points)))
                why = f"a line {off:.0f} mm within the edge along a part of it: a hem, a seam or a fold"
            self._add(
                "inner line", stroke.points, "likely" if stroke.dark > 0.25 else "unsure", why, is_ring=stroke.is_ring
            )

    def _writing(self) -> None:
        """What is left: words where there is much of it, else small marks."""
        groups: list[list[Stroke]] = []
        for stroke in self.left:
            touching = [g for g in groups if any(apart(stroke.points, other.points) < NEXT_WORD for other in g)]
            groups = [g for g in groups if g not in touching] + [[stroke, *(s for g in touching for s in g)]]
        for group in groups:
            points = np.vstack([stroke.points for stroke in group])
            long = sum(stroke.length for stroke in group)
            if long < 4.0:
                continue
            low, high = points.min(axis=0), points.max(axis=0)
            box = np.array([low, (low[0], high[1]), high, (high[0], low[1])])
            is_written = len(group) > 2 or long > BUSY * float(np.hypot(*(high - low)))
            why = (
                "small strokes close together, like writing"
                if is_written
                else "a small mark that is none of the others"
            )
            self._add("writing", box, "likely" if is_written else "unsure", why)
