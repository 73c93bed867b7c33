"""Lines of a plain drawing made into pieces: each closed outline that lies in no other is one."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from pieces.errors import FormatError
from pieces.exchange.joining import join
from pieces.exchange.sketch import Sketch, printable_name
from pieces.exchange.tidy import is_beyond_mending

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from numpy.typing import NDArray

    from pieces.curve import Point
    from pieces.exchange.account import Place
    from pieces.exchange.imported import Asked, Report
    from pieces.exchange.joining import Joined, Stroke

    Floats = NDArray[np.float64]

BESIDE = 5.0
"""Marks this near to an outline belong to it, even if they lie without, mm."""

MOST_OUTLINES = 2000
"""No set of patterns has more."""

DRILL_HOLE = 12.0
"""A closed outline within a piece that is no larger, either way, marks a point of it, mm."""


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
    """What stands in a drawing: lines, points and words, each with the part it plays; mm, y upwards."""

    strokes: list[Stroke] = field(default_factory=list)
    points: list[Mark] = field(default_factory=list)
    words: list[Word] = field(default_factory=list)
    page: Floats | None = None
    """The four corners of the page, where the file has one."""


def assemble(drawing: Drawing, asked: Asked, report: Report) -> list[Sketch]:
    """The pieces of a drawing, the largest first where the drawing has no order, with all that lies in each."""
    rings, chains = _outlines(drawing.strokes, asked.join, report)
    if len(rings) > MOST_OUTLINES:
        raise FormatError(f"the file holds {len(rings)} closed outlines: up to {MOST_OUTLINES} are read at once")
    outer, within = _nested(rings)
    sketches = [Sketch("", rings[i].points) for i in outer]
    _name(sketches, [rings[i] for i in outer], drawing.words, report)
    for sketch, i in zip(sketches, outer, strict=True):
        sketch.take("piece", rings[i].numbers)
        note_joins(rings[i], sketch.name, report)
    for i, around in within.items():
        _put_within(sketches[outer.index(around)], rings[i])
    finder = _Finder(sketches)
    for chain in chains:
        found = finder.around(chain.points)
        if found is None:
            apart = float(np.hypot(*(chain.points[-1] - chain.points[0])))
            report.leave("an open line", f"it lies in no piece and its ends are {apart:.1f} mm apart", chain.numbers)
        else:
            found.inner.append(("line", chain.points))
            found.take("inner line", chain.numbers)
    _mark(drawing, finder, report)
    return sketches


def joined_outlines(strokes: Iterable[Stroke], tolerance: float, report: Report) -> list[Joined]:
    """Lines that may be outlines, joined; what was drawn twice is left out."""
    found = join((stroke for stroke in strokes if stroke.role == "outline"), tolerance)
    for joined in found:
        report.account.put(joined.dropped, "left out", why="drawn twice, or without length")
    return found


def note_joins(ring: Joined, name: str, report: Report) -> None:
    """Tell what was mended where lines were joined to an outline."""
    if ring.gap:
        report.mended(name, "gaps between its lines closed, the widest", ring.gap)
    if ring.doubled:
        report.mended(
            name, f"{ring.doubled} line{'s' * (ring.doubled > 1)} dropped, drawn twice or without length", 0.0
        )
    if ring.branched:
        report.remarks.append(f"'{name}': other lines meet its outline; the outermost is taken")


def _outlines(strokes: Iterable[Stroke], tolerance: float, report: Report) -> tuple[list[Joined], list[Joined]]:
    """Closed outlines, and the lines that stay open; of outlines drawn twice, one."""
    rings, chains, known = [], [], set[tuple[float, ...]]()
    for joined in joined_outlines(strokes, tolerance, report):
        if not joined.closed:
            chains.append(joined)
            continue
        if is_beyond_mending(joined.points):
            why = f"it crosses itself, and has {len(joined.points)} points: draw it again"
            report.leave("an outline", why, joined.numbers)
            continue
        box = (*joined.points.min(axis=0), *joined.points.max(axis=0), np.abs(joined.points).mean(axis=0).sum())
        key = tuple(round(float(side), 2) for side in box)
        if key in known:
            report.leave("an outline", "it is drawn twice", joined.numbers)
            continue
        known.add(key)
        rings.append(joined)
    return rings, chains


def _nested(rings: Sequence[Joined]) -> tuple[list[int], dict[int, int]]:
    """The outlines that lie in no other, and of each other one the outermost that it lies in."""
    import shapely

    if not rings:
        return [], {}
    areas = np.array([shapely.Polygon(ring.points) if len(ring.points) > 2 else shapely.Polygon() for ring in rings])
    sound = shapely.make_valid(areas)
    sizes = shapely.area(sound)
    pairs = shapely.STRtree(sound).query(sound, predicate="covered_by").T
    i, j = pairs.T
    larger = (sizes[j] > sizes[i]) | ((sizes[j] == sizes[i]) & (j > i))
    i, j = pairs[larger & (i != j)].T
    outer = np.setdiff1d(np.arange(len(rings)), i)
    kept = np.isin(j, outer)
    return outer.tolist(), dict(zip(i[kept].tolist(), j[kept].tolist(), strict=True))


def _name(sketches: Sequence[Sketch], rings: Sequence[Joined], words: Sequence[Word], report: Report) -> None:
    """Names by words written in the piece, by the layer or group it is alone on, or by number."""
    import shapely

    alone: dict[str, int] = {}
    for ring in rings:
        for group in ring.groups:
            alone[group] = alone.get(group, 0) + 1
    written: dict[int, str] = {}
    if words and sketches:
        areas = shapely.make_valid(np.array([shapely.Polygon(sketch.outline) for sketch in sketches]))
        places = shapely.points(np.array([word.place for word in words]))
        for at, index in sorted(shapely.STRtree(areas).query(places, predicate="intersects").T.tolist()):
            written.setdefault(index, words[at].text)
            if not any(report.account.is_placed(number) for number in words[at].numbers):
                report.account.put(words[at].numbers, "words read")
    for number, (sketch, ring) in enumerate(zip(sketches, rings, strict=True), 1):
        group = next(iter(ring.groups)) if len(ring.groups) == 1 else ""
        by_group = group if alone.get(group) == 1 and group != "0" else ""
        sketch.name = printable_name(written.get(number - 1) or by_group, f"piece {number}")
    for word in words:
        if not all(report.account.is_placed(number) for number in word.numbers):
            report.leave(f"the words '{printable_name(word.text, '')}'", "they stand in no piece", word.numbers)


def _put_within(sketch: Sketch, joined: Joined) -> None:
    """A closed outline within a piece: a point if it is small, else a line."""
    ring = joined.points
    (x0, y0), (x1, y1) = ring.min(axis=0).tolist(), ring.max(axis=0).tolist()
    if max(x1 - x0, y1 - y0) <= DRILL_HOLE:
        sketch.drills.append(((x0 + x1) / 2, (y0 + y1) / 2))
        sketch.take("drill point", joined.numbers)
    else:
        sketch.inner.append(("line", np.vstack([ring, ring[:1]])))
        sketch.take("inner line", joined.numbers)


class _Finder:
    """Which piece a line or a point belongs to."""

    def __init__(self, sketches: Sequence[Sketch]) -> None:
        import shapely

        self._sketches = sketches
        areas = [shapely.Polygon(sketch.outline).buffer(BESIDE) for sketch in sketches]
        self._tree = shapely.STRtree(areas)
        self._outlines = [shapely.Polygon(sketch.outline) for sketch in sketches]

    def around(self, points: Floats) -> Sketch | None:
        """The piece in which a line lies, or a point does; None if there is none."""
        import shapely

        line = shapely.LineString(points) if len(points) > 1 else shapely.Point(points[0])
        found = self._tree.query(line, predicate="covered_by").tolist()
        middle = shapely.Point(points.mean(axis=0))
        return self._sketches[min(found, key=lambda i: self._outlines[i].distance(middle))] if found else None


def _mark(drawing: Drawing, finder: _Finder, report: Report) -> None:
    """Put lines and points that play a part into the pieces they lie in."""
    for stroke in drawing.strokes:
        if stroke.role == "outline":
            continue
        if stroke.role in ("known", "unknown", "note"):
            report.account.put(stroke.numbers, "said again", why=f"layer '{stroke.group[:40]}' says nothing of a piece")
            continue
        found = finder.around(stroke.points)
        if found is None:
            report.leave(f"a line for {stroke.role}", "it lies in no piece", stroke.numbers)
        else:
            add_line(found, stroke, report)
    for role, name, place, numbers in drawing.points:
        found = finder.around(np.array([place]))
        if found is None:
            report.leave(f"a point for {role}", "it lies in no piece", numbers)
        elif role == "notch":
            found.notches.append((name or f"notch {len(found.notches) + 1}", place))
            found.take("notch", numbers)
        else:
            found.drills.append(place)
            found.take("drill point", numbers)


_PLACES: dict[str, Place] = {"line": "inner line", "cutout": "cutout", "sew": "sew line"}


def add_line(sketch: Sketch, stroke: Stroke, report: Report) -> None:
    """Give a piece a line that plays a part."""
    start, end = (tuple(stroke.points[i].tolist()) for i in (0, -1))
    role, longest = stroke.role, float(np.hypot(*(stroke.points[-1] - stroke.points[0])))
    if role == "grain" or role == "fold":
        known = sketch.grain if role == "grain" else sketch.fold
        if known is not None and longest <= float(np.hypot(*np.subtract(known[1], known[0]))):
            report.account.put(stroke.numbers, "left out", sketch.name, f"a longer line for {role} is drawn")
            return
        report.account.put(sketch.release(role), "left out", sketch.name, f"a longer line for {role} is drawn")
        setattr(sketch, role, (start, end))
        sketch.take(role, stroke.numbers)
    elif role == "notch":
        sketch.notches.append((f"notch {len(sketch.notches) + 1}", _nearer(sketch.outline, start, end)))
        sketch.take("notch", stroke.numbers)
    elif role == "drill":
        low, high = stroke.points.min(axis=0), stroke.points.max(axis=0)
        sketch.drills.append(tuple(((low + high) / 2).tolist()))
        sketch.take("drill point", stroke.numbers)
    elif role == "line" or role == "cutout" or role == "sew":
        points = np.vstack([stroke.points, stroke.points[:1]]) if stroke.closed else stroke.points
        sketch.inner.append((role, points))
        sketch.take(_PLACES[role], stroke.numbers)
    else:
        report.account.put(stroke.numbers, "said again", sketch.name, "a note says nothing of what is cut")


def _nearer(outline: Floats, *points: Point) -> Point:
    """Of several points, the one nearest to an outline."""
    import shapely

    line = shapely.LinearRing(outline)
    return min(points, key=lambda point: line.distance(shapely.Point(point)))
