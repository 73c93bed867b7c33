"""Arrowheads on a grainline: a head on one end alone tells which end is the top."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from pieces.exchange.imported import ImportReport
    from pieces.exchange.sketch.sketch import Sketch

    Floats = NDArray[np.float64]

LARGEST = 40.0
"""A head measures no more either way, mm; nor more than a third of the line: common practice, no source."""

NEAR = 1.5
"""A head begins this near to the end of the line, mm."""

SHAFT = 0.6
"""Of the length of a line that is drawn with its heads in one, the share of its longest straight part."""

BROADER = 1.3
"""A line that is drawn as an outline, such as an arrow, has its head where it is so many times broader."""

STRAIGHT = 0.01
"""Points of a line that lie this near to a straight way are on it, mm."""

MOST_NAMED = 4


def parted(points: Floats) -> tuple[Floats, list[Floats]]:
    """The straight part of an open line, from its first to its last point, and what is drawn on beyond its ends."""
    import shapely

    points = shapely.get_coordinates(shapely.LineString(points).simplify(STRAIGHT))
    steps = np.hypot(*np.diff(points, axis=0).T)
    if len(points) < 3 or steps.max() < SHAFT * steps.sum():
        return points[[0, -1]], []
    at = int(steps.argmax())
    return points[at : at + 2], [part for part in (points[: at + 1], points[at + 1 :]) if len(part) > 1]


def heads_of(shaft: Floats, marks: Sequence[Floats]) -> tuple[bool, bool]:
    """Whether small lines are a head on the first end of a grainline, and on its last."""
    return _is_head(shaft[0], shaft[-1], marks), _is_head(shaft[-1], shaft[0], marks)


def _is_head(end: Floats, other: Floats, marks: Sequence[Floats]) -> bool:
    """Whether marks at an end become narrower outwards: their foremost point is nearer to the line than their last."""
    long = float(np.hypot(*(end - other)))
    if long == 0:
        return False
    ahead = (end - other) / long
    found = False
    for mark in marks:
        off = mark - end
        if np.ptp(mark, axis=0).max() > min(LARGEST, long / 3) or _apart(mark, end) > NEAR:
            continue
        along, across = off @ ahead, np.abs(off @ np.array([-ahead[1], ahead[0]]))
        front, back = along >= along.max() - 1e-6, along <= along.min() + 1e-6
        if np.ptp(along) < 1e-6 or across[front].max() >= across[back].max():
            return False  # a bar, or the feathers of an arrow
        found = True
    return found


def _apart(mark: Floats, end: Floats) -> float:
    import shapely

    line = shapely.LineString(mark) if len(mark) > 1 else shapely.Point(mark[0])
    return float(line.distance(shapely.Point(end)))


def heads_of_outline(outline: Floats, shaft: Floats) -> tuple[bool, bool]:
    """The same of a grainline that is drawn as an outline: which end of it is broader."""
    ahead = (shaft[-1] - shaft[0]) / max(float(np.hypot(*(shaft[-1] - shaft[0]))), 1e-9)
    off = outline - shaft[0]
    along, across = off @ ahead, np.abs(off @ np.array([-ahead[1], ahead[0]]))
    third = float(along.max()) / 3
    first, last = (float(across[part].max(initial=0.0)) for part in (along < third, along > 2 * third))
    return first > BROADER * last, last > BROADER * first


def top_by_heads(sketches: Sequence[Sketch], report: ImportReport) -> None:
    """Begin each grainline with the end that has a head, if the other has none; tell of both kinds."""
    by_head, by_order = [], []
    for sketch in sketches:
        if sketch.grain is None or sketch.turn is not None:
            continue
        _take_triangles(sketch, report)
        lines = [points for kind, points in sketch.inner if kind == "line"]
        drawn = heads_of(np.array(sketch.grain), [*sketch.grain_marks, *lines])
        first, last = (one or other for one, other in zip(drawn, sketch.grain_heads, strict=True))
        if first == last:
            by_order.append(sketch.name)
            continue
        by_head.append(sketch.name)
        if last:
            sketch.grain = sketch.grain[1], sketch.grain[0]
            sketch.whole = None
    if by_head:
        report.remarks.append(f"the arrowhead on the grainline of {_named(by_head)} is taken as the top")
    if by_order and report.is_drawing:
        report.remarks.append(
            f"no single arrowhead tells the top of {_named(by_order)}: the end of the grainline that is drawn first is"
            " taken; this counts where the cloth has a nap"
        )


def _take_triangles(sketch: Sketch, report: ImportReport) -> None:
    """Make triangles on the ends of a grainline heads of it, and no drill points, unless a person said so."""
    shaft = np.array(sketch.grain)
    points = [numbers for place, numbers in sketch.taken if place == "drill point"]
    if len(points) != len(sketch.drills):
        return
    for numbers, place in zip(points, list(sketch.drills), strict=True):
        (mark, *more) = report.account.drawn(numbers)
        if more or len(mark) != 4 or report.account.is_told(numbers) or not any(heads_of(shaft, [mark])):
            continue
        sketch.taken.remove(("drill point", numbers))
        sketch.drills.remove(place)
        sketch.grain_marks.append(mark)
        report.account.put(numbers, "left out", sketch.name, "it is an arrowhead of the grainline")


def _named(names: Sequence[str]) -> str:
    more = f" and {len(names) - MOST_NAMED} more" if len(names) > MOST_NAMED else ""
    return ", ".join(f"'{name}'" for name in names[:MOST_NAMED]) + more
