"""Lines drawn on paper: followed over crossings and between dashes, held against what creases look like."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from pieces.photo.flat import LEAST_DROP, filled, ink
from pieces.photo.lines import calm, even
from pieces.photo.thinned import paths, thinned

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from pieces.photo.paper import TableView

    Floats = NDArray[np.float64]

SPUR = 1.3
"""A branch that is no longer is a blot of the pen, mm."""

LEAST_STROKE = 1.5
"""What is shorter is a speck, mm."""

STRAIGHT_ON = 40.0
"""Where lines cross, one goes on in another that turns by less, degrees."""

LINK = 3.0
"""Crossings that a shorter way joins are one, mm: a line over a crease crosses it in two."""

GAP = 7.0
"""Between dashes, mm."""

LONG = 15.0
"""A line of this length may go on behind a crossing at which it was lost, mm."""

SLANT = 20.0
"""By how much a dash may turn from the next, degrees."""

UNLIKE = 1.7
"""A line does not go on in one so many times as dark."""

MOST_PATHS = 4000
"""More are a printed pattern, or a table seen through the paper."""

CREASE_LOBE, CREASE_STEP, CREASE_WIDE = 0.25, 0.5, 1.3
"""A crease is bright beside where it is dark, or the paper is darker on one side of it, in shares of how dark it is; or
it is wider than this, mm, and a pixel more. By rendered creases; common practice, no source."""

DARKEST_CREASE = 0.42
"""No crease is darker, in shares of the paper's light, for light falls into it as well: rendered ones are up to a
quarter darker. Letters of a thick pen are as wide as creases."""

LONG_CREASE, MUCH_DARKER = 25.0, 1.5
"""Strokes are held against creases of this length, mm: what is so much darker than they are is drawn."""

LONG_LINE = 60.0
"""A shorter stroke that is no darker than creases on the same paper is taken for one, mm."""


@dataclass(eq=False)
class Stroke:
    """A drawn line, mm on the table.

    Parameters
    ----------
    points
        In order, about a pixel apart; of a ring without the repeated first one.
    is_ring
        Whether it is closed.
    dashes
        Of how many it is made.
    dark, wide
        By which share it is darker than the paper, and how wide, mm.
    is_crease
        Whether it looks like one.
    """

    points: Floats
    is_ring: bool = False
    dashes: int = 1
    dark: float = 0.0
    wide: float = 0.0
    is_crease: bool = False

    @property
    def length(self) -> float:
        """Along it, mm."""
        closed = np.vstack([self.points, self.points[:1]]) if self.is_ring else self.points
        return float(np.hypot(*np.diff(closed, axis=0).T).sum())

    @property
    def off(self) -> float:
        """How far it lies off the straight line between its ends, mm."""
        a, b = self.points[0], self.points[-1]
        long = float(np.hypot(*(b - a)))
        if long < 1e-6:
            return float(np.hypot(*(self.points - a).T).max())
        along = (b - a) / long
        return float(np.abs((self.points - a) @ (-along[1], along[0])).max())

    @property
    def reach(self) -> float:
        """The diagonal of its box, mm."""
        return float(np.hypot(*np.ptp(self.points, axis=0)))


def strokes_on(view: TableView, outline: Floats) -> list[Stroke]:
    """All lines on a piece of paper; none if there are more than anyone draws."""
    drop, mask = ink(view, outline)
    lines = thinned(mask)
    found, crossings = paths(lines)
    if len(found) > MOST_PATHS:
        return []
    net = _Net([view.first + path.points * view.step for path in found], view.first + crossings * view.step)
    net.ends = [list(path.ends) for path in found]
    net.rings = [path.is_ring for path in found]
    rows = [path.points.astype(int) for path in found]
    net.darks = [float(np.median(drop[at[:, 0], at[:, 1]])) for at in rows]
    net.prune()
    net.go_on()
    net.bridge()
    strokes = [Stroke(p, r, d) for p, r, d in zip(net.points, net.rings, net.dashes, strict=True) if len(p) > 1]
    strokes = [stroke for stroke in strokes if stroke.length >= LEAST_STROKE]
    inside = filled(view, outline)
    for stroke in strokes:
        _sharpen(stroke, view, drop)
        _judge(stroke, view, inside)
    _judge_short(strokes)
    return strokes


class _Net:
    """Paths that meet in crossings, joined step by step."""

    def __init__(self, points: list[Floats], crossings: Floats) -> None:
        self.points = points
        self.crossings = crossings
        self.ends: list[list[int | None]] = []
        self.rings: list[bool] = []
        self.dashes = [1] * len(points)
        self.darks = [1.0] * len(points)

    def _keep(self, kept: list[bool]) -> None:
        for name in ("points", "ends", "rings", "dashes", "darks"):
            setattr(self, name, [each for each, is_kept in zip(getattr(self, name), kept, strict=True) if is_kept])

    def prune(self) -> None:
        """Take off blots, and make one of crossings that are the same."""
        same = list(range(len(self.crossings)))
        kept = []
        for points, ends, ring in zip(self.points, self.ends, self.rings, strict=True):
            long = _length(points)
            a, b = ends
            if not ring and long < LINK and a is not None and b is not None and a != b:
                same = [same[b] if each == same[a] else each for each in same]
                kept.append(False)
            else:
                kept.append(ring or long >= SPUR or (a is None and b is None))
        self._keep(kept)
        self.ends = [[None if end is None else same[end] for end in ends] for ends in self.ends]

    def go_on(self) -> None:
        """Join the paths that go on over a crossing; where only two meet, they are one."""
        at: dict[int, list[tuple[int, int]]] = {}
        for number, ends in enumerate(self.ends):
            for side, end in enumerate(ends):
                if end is not None:
                    at.setdefault(end, []).append((number, side))
        pairs: list[tuple[float, tuple[int, int], tuple[int, int], int]] = []
        for crossing, those in at.items():
            for n, one in enumerate(those):
                for other in those[n + 1 :]:
                    if (one[0] == other[0] and len(those) > 2) or self._differ(one[0], other[0]):
                        continue
                    bend = _bend(self._out(one), self._out(other))
                    if len(those) == 2 or bend < STRAIGHT_ON:
                        pairs.append((bend, one, other, crossing))
        self._join(sorted(pairs), lambda c: self.crossings[c : c + 1])
        for number, ends in enumerate(self.ends):  # what ends at a crossing reaches to its middle
            for side, end in enumerate(ends):
                if end is not None:
                    middle = self.crossings[end : end + 1]
                    both = [middle, self.points[number]] if side == 0 else [self.points[number], middle]
                    self.points[number] = np.vstack(both)

    def bridge(self) -> None:
        """Join dashes."""
        free = [
            (n, side)
            for n, ends in enumerate(self.ends)
            if not self.rings[n]
            for side in (0, 1)
            if ends[side] is None or _length(self.points[n]) > LONG
        ]
        if len(free) < 2:
            return
        places = np.array([self.points[n][-side] for n, side in free])
        ways = np.array([self._out(end) for end in free])
        apart = np.hypot(*(places[:, None] - places[None]).transpose(2, 0, 1))
        pairs = []
        for i, j in np.argwhere(np.triu(apart < GAP, 1)).tolist():
            gap = places[j] - places[i]
            long = float(apart[i, j])
            one, other = free[i][0], free[j][0]
            if one == other or self._differ(one, other) or _bend(ways[i], ways[j]) > SLANT:
                continue
            if long > 1.0 and max(_between(ways[i], gap), _between(ways[j], -gap)) > SLANT:
                continue
            pairs.append((long, free[i], free[j], 0))
        self._join(sorted(pairs), lambda _: np.zeros((0, 2)))

    def _differ(self, one: int, other: int) -> bool:
        """Whether one of two paths is so much darker that the other goes on in something else, such as a crease."""
        a, b = self.darks[one], self.darks[other]
        return (
            max(a, b) > UNLIKE * max(min(a, b), 1e-6)
            and min(_length(self.points[one]), _length(self.points[other])) > 3
        )

    def _out(self, end: tuple[int, int]) -> Floats:
        """The direction in which a path leaves its end."""
        points = self.points[end[0]] if end[1] else self.points[end[0]][::-1]
        way = np.hypot(*(points - points[-1]).T)
        far = np.flatnonzero(way > 6.0)
        since = int(far[-1]) if len(far) else 0
        near = np.flatnonzero(way[since:] > 0.8)
        until = since + int(near[-1]) if len(near) else len(points) - 1
        out = points[until] - points[since] if until > since else points[-1] - points[0]
        return np.asarray(out / max(float(np.hypot(*out)), 1e-9))

    def _join(self, pairs: list[Any], between: Any) -> None:
        """Join ends pair by pair, each once."""
        used: set[tuple[int, int]] = set()
        side_of = {(n, s): (n, s) for n in range(len(self.points)) for s in (0, 1)}
        kept = [True] * len(self.points)
        for _, one, other, where in pairs:
            if one in used or other in used:
                continue
            used |= {one, other}
            (a, sa), (b, sb) = side_of[one], side_of[other]
            if a == b:
                self.points[a] = np.vstack([self.points[a], between(where)])
                self.rings[a], self.ends[a] = True, [None, None]
                continue
            first = self.points[a] if sa == 1 else self.points[a][::-1]
            second = self.points[b] if sb == 0 else self.points[b][::-1]
            self.points[a] = np.vstack([first, between(where), second])
            self.ends[a] = [self.ends[a][1 - sa], self.ends[b][1 - sb]]
            if _length(second) > _length(first):
                self.darks[a] = self.darks[b]
            self.dashes[a] += self.dashes[b]
            kept[b] = False
            for key, (n, s) in list(side_of.items()):
                if (n, s) == (a, 1 - sa):
                    side_of[key] = (a, 0)
                elif (n, s) == (b, 1 - sb):
                    side_of[key] = (a, 1)
        self._keep(kept)


def _length(points: Floats) -> float:
    return float(np.hypot(*np.diff(points, axis=0).T).sum())


def _bend(out: Floats, other: Floats) -> float:
    """By how much a line turns that comes out of one end and goes into another, degrees."""
    return _between(out, -other)


def _between(one: Floats, other: Floats) -> float:
    size = float(np.hypot(*one) * np.hypot(*other))
    return float(np.degrees(np.arccos(np.clip(one @ other / max(size, 1e-12), -1, 1))))


def _across(points: Floats, *, is_ring: bool) -> Floats:
    along = np.roll(points, -1, axis=0) - np.roll(points, 1, axis=0) if is_ring else np.gradient(points, axis=0)
    along = along / np.maximum(np.hypot(*along.T), 1e-9)[:, None]
    return np.column_stack([along[:, 1], -along[:, 0]])


def _sharpen(stroke: Stroke, view: TableView, drop: NDArray[np.float32]) -> None:
    """Put a stroke on the middle of its ink, to a part of a pixel."""
    import cv2

    points = even(stroke.points, 0.5, is_ring=stroke.is_ring)
    if len(points) < 6:
        stroke.points = points
        return
    points = calm(points, 1.5, is_ring=stroke.is_ring)
    across = _across(points, is_ring=stroke.is_ring)
    steps = np.arange(-1.2, 1.25, 0.1)
    lines = ((points[:, None] + steps[None, :, None] * across[:, None]) - view.first) / view.step
    seen: Any = cv2.remap(drop, lines[..., 1].astype(np.float32), lines[..., 0].astype(np.float32), cv2.INTER_LINEAR)
    values = np.asarray(seen, dtype=np.float64)
    peak = values.max(axis=1)
    weight = np.maximum(values - 0.4 * peak[:, None], 0)
    total = weight.sum(axis=1)
    usual = float(np.median(peak))
    shift = np.where((peak > 0.4 * usual) & (total > 0), (weight @ steps) / np.maximum(total, 1e-9), 0.0)
    stroke.points = calm(points + shift[:, None] * across, 1.5, is_ring=stroke.is_ring)
    stroke.dark = usual
    stroke.wide = float(np.median((values > 0.5 * peak[:, None]).sum(axis=1))) * 0.1


def _judge(stroke: Stroke, view: TableView, inside: NDArray[np.uint8]) -> None:
    """Whether a stroke is a crease, by how bright the paper is across it, all along it."""
    import cv2

    if stroke.length < 8:
        return
    points = even(stroke.points, 1.0, is_ring=stroke.is_ring)
    across = _across(points, is_ring=stroke.is_ring)
    steps = np.arange(-5.0, 5.05, 0.2)
    lines = (((points[:, None] + steps[None, :, None] * across[:, None]) - view.first) / view.step).astype(np.float32)
    seen: Any = cv2.remap(view.pixels, lines[..., 1], lines[..., 0], cv2.INTER_LINEAR)
    within: Any = cv2.remap(inside, lines[..., 1], lines[..., 0], cv2.INTER_NEAREST)
    values = np.asarray(seen, dtype=np.float64).mean(axis=-1)
    values[np.asarray(within) == 0] = np.nan
    far = np.abs(steps) > 2.5
    usual = np.nanmedian(np.where(far, values, np.nan), axis=1)
    if not np.isfinite(usual).any():
        return
    with np.errstate(invalid="ignore"):
        seen_across = np.nanmedian(values / usual[:, None], axis=0)
    left, right = (float(np.nanmedian(seen_across[far & (way * steps > 0)])) for way in (-1, 1))
    middle = np.abs(steps) < 1.0
    dip = min(left, right) - float(np.nanmin(seen_across[middle]))
    beside = (np.abs(steps) > 0.7) & (np.abs(steps) < 3.5)
    lobe = float(np.nanmax(seen_across[beside])) - max(left, right)
    level = (left + right) / 2
    wide = 0.2 * int((seen_across[np.abs(steps) < 3.0] < level - max(dip, 0.01) / 2).sum())
    is_lit = lobe > CREASE_LOBE * dip or abs(left - right) > CREASE_STEP * dip
    is_like_one = dip <= 0.02 or is_lit or wide > CREASE_WIDE + 1.2 * view.step
    stroke.is_crease = is_like_one and stroke.dark < DARKEST_CREASE


def _judge_short(strokes: list[Stroke]) -> None:
    """Short strokes look like creases by chance, and parts of creases like strokes: both follow the long ones."""
    long = [stroke for stroke in strokes if stroke.is_crease and stroke.length >= LONG_CREASE]
    usual = float(np.median([stroke.dark for stroke in long])) if long else 0.0
    level = MUCH_DARKER * usual if long else 2 * LEAST_DROP
    for stroke in strokes:
        pale = stroke.dark < level
        if stroke.length < LONG_CREASE:
            stroke.is_crease &= pale
        stroke.is_crease |= stroke.length < LONG_LINE and stroke.dark < 1.1 * usual
        stroke.is_crease |= pale and any(_goes_on(stroke, crease) for crease in long)


def _goes_on(stroke: Stroke, crease: Stroke) -> bool:
    """Whether a short stroke lies on a crease as it would run on."""
    a, b = crease.points[0], crease.points[-1]
    along = (b - a) / max(float(np.hypot(*(b - a))), 1e-9)
    off = (stroke.points - a) @ np.array([-along[1], along[0]])
    return bool(np.abs(off).max() < 4.0)
