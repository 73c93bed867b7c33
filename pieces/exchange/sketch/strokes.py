"""Marks drawn by several lines, such as a T: lines that touch are one mark, cut where they meet the outline."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from pieces.exchange.drawing import DrawnLine, Mark
from pieces.exchange.imported import JOIN
from pieces.exchange.mend.joining import join

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from pieces.exchange.imported import ImportReport
    from pieces.exchange.standard import StandardRole
    from pieces.piece.curve import Point

    Floats = NDArray[np.float64]

MARKS: tuple[StandardRole, ...] = ("drill", "cutout", "notch", "sew")
"""Parts that several lines may play together."""

EVEN = 0.5
"""Ends of a notch that lie as far from the outline, but for so much, mm, are both on it: it is cut between them."""

LARGEST = 30.0
"""Lines of one mark measure no more together, either way, mm: common practice, no source."""

MOST_PAIRS, AT_ONCE = 100_000, 50

USUAL = 3
"""A T has two lines, a box three."""


def joined_marks(strokes: Sequence[DrawnLine], tolerance: float, report: ImportReport) -> list[DrawnLine]:
    """Lines with those put together that make one mark: the four arcs of a circle round a drill point, or a T."""
    kept = [stroke for stroke in strokes if stroke.role not in MARKS]
    groups: dict[tuple[StandardRole, str], list[DrawnLine]] = {}
    for stroke in strokes:
        if stroke.role in MARKS:
            groups.setdefault((stroke.role, stroke.group), []).append(stroke)
    for (role, group), those in groups.items():
        lines = join(those, tolerance)
        for found in lines:
            report.account.put(found.dropped, "left out", why="drawn twice, or with no length")
        if role not in ("notch", "drill"):
            kept += [DrawnLine(one.points, role, group, one.closed, one.numbers, one.called) for one in lines]
            continue
        for members in touching([[line.points] for line in lines], [line.called for line in lines], tolerance):
            first, *rest = (lines[at] for at in members)
            numbers = (*first.numbers, *(number for line in rest for number in line.numbers))
            others = tuple(line.points for line in rest)
            report.account.joined(numbers)
            _doubt_mark(len(members), role, report)
            kept.append(DrawnLine(first.points, role, group, first.closed, numbers, first.called, others=others))
    return kept


def _doubt_mark(many: int, role: str, report: ImportReport) -> None:
    """Tell of a mark of more lines than marks have: it may be several."""
    if many > USUAL:
        report.guess(f"{many} lines that touch are taken as one {role}: if they are several, draw them apart")


def joined_points(points: Sequence[Mark], report: ImportReport) -> list[Mark]:
    """Points with those put together that are one notch, drawn as several shapes."""
    drawn = [mark for mark in points if mark.role == "notch" and mark.lines]
    made = [mark for mark in points if not (mark.role == "notch" and mark.lines)]
    for members in touching([mark.lines for mark in drawn], [mark.name for mark in drawn], JOIN):
        those = [drawn[at] for at in members]
        numbers = tuple(number for mark in those for number in mark.numbers)
        lines = tuple(line for mark in those for line in mark.lines)
        if len(numbers) > 1:
            report.account.joined(numbers)
        _doubt_mark(len(lines), "notch", report)
        name = next((mark.name for mark in those if mark.name), "")
        made.append(Mark("notch", name, those[0].place, numbers, lines))
    return made


def touching(shapes: Sequence[Sequence[Floats]], names: Sequence[str], within: float) -> list[list[int]]:
    """Which shapes are one mark together: those that touch, are small, and have no two names.

    Parameters
    ----------
    shapes
        The lines of each.
    names
        What each is called.
    within
        How near lines are that touch, mm.
    """
    import shapely

    if not shapes:
        return []
    drawn = np.array([shapely.MultiLineString([line for line in lines if len(line) > 1]) for lines in shapes])
    boxes = shapely.bounds(drawn)
    of = list(range(len(shapes)))
    members = {at: [at] for at in of}
    for one, other in _pairs(drawn, within):
        first, second = of[one], of[other]
        if first == second:
            continue
        those = members[first] + members[second]
        extent = float((boxes[those, 2:].max(axis=0) - boxes[those, :2].min(axis=0)).max())
        if extent <= LARGEST and len({names[at] for at in those} - {""}) < 2:
            members[first] = those
            for at in members.pop(second):
                of[at] = first
    return [sorted(those) for those in members.values()]


def _pairs(drawn: Any, within: float) -> list[tuple[int, int]]:
    """Shapes that touch, two by two; none where these are too many: such lines are no marks."""
    import shapely

    tree = shapely.STRtree(drawn)
    found: list[tuple[int, int]] = []
    for start in range(0, len(drawn), AT_ONCE):
        some = tree.query(drawn[start : start + AT_ONCE], predicate="dwithin", distance=within)
        if len(found) + some.shape[1] > MOST_PAIRS:
            return []
        found += [(one + start, other) for one, other in some.T.tolist() if one + start < other]
    return found


def cut_at(outline: Floats, lines: Sequence[Floats]) -> Point:
    """Where a notch meets an outline: at the end of its lines that is nearest, or midway between those as near."""
    import shapely

    ends = np.vstack([line[[0, -1]] for line in lines])
    if len(outline) < 3:  # of a block without one: no piece is made of it
        return float(ends[0, 0]), float(ends[0, 1])
    ring = shapely.LinearRing(outline)
    apart = shapely.distance(shapely.points(ends), ring)
    near = ends[apart <= apart.min() + EVEN]
    x, y = ((near.min(axis=0) + near.max(axis=0)) / 2).tolist()
    return x, y
