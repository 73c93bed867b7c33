"""Points of an outline that were corrected: what lies between two of them moves by its share of the way."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from numpy.typing import NDArray

    from pieces.exchange.decided.decisions import LineDecision
    from pieces.exchange.imported import ImportReport
    from pieces.exchange.sketch.sketch import Sketch

    Floats = NDArray[np.float64]

CORNER = 15.0
"""An outline that turns by so many degrees has a corner there: common practice, no source."""

SPAN = 0.25
"""Between two corners there is a point to take hold of after each such share of the outline."""

SAME = 0.05
"""A corrected point is the one that lies this near to where it was, mm."""

BESIDE = 1.0
"""Notches and folds this near to an outline go with it, mm."""


def handles_of(ring: Floats, sharp: float = CORNER) -> list[int]:
    """The points of an outline by which it is corrected and measured: its corners, and some on long curves.

    Parameters
    ----------
    sharp
        By how much a corner turns at the least, degrees.
    """
    if len(ring) < 4:
        return list(range(len(ring)))
    before, after = ring - np.roll(ring, 1, axis=0), np.roll(ring, -1, axis=0) - ring
    cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    turn = np.abs(np.degrees(np.arctan2(cross, (before * after).sum(axis=1))))
    corners = np.flatnonzero(turn >= sharp).tolist() or [0]
    if len(corners) > len(ring) // 2 and len(ring) > 60:  # a circle of few points, or a saw
        corners = corners[:: max(1, len(corners) // 24)]
    along = np.concatenate(([0.0], np.cumsum(np.hypot(*after.T))))
    length = float(along[-1])
    found: set[int] = set(corners)
    for first, last in zip(corners, [*corners[1:], corners[0] + len(ring)], strict=True):
        start, end = along[first], along[last] if last < len(ring) else along[last - len(ring)] + length
        parts = int((end - start) // (SPAN * length)) + 1 if last - first > 2 else 1
        for step in range(1, parts):
            at = (start + (end - start) * step / parts) % length
            found.add(int(np.argmin(np.abs(along[:-1] - at))))
    return sorted(found)


def moved_ring(ring: Floats, moves: Mapping[int, tuple[float, float]]) -> Floats:
    """An outline of which some points are moved; its other points to take hold of stay."""
    handles = sorted({*handles_of(ring), *moves})
    along = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(np.vstack([ring, ring[:1]]), axis=0).T))))
    shifts = np.array([moves.get(at, (0.0, 0.0)) for at in handles])
    places = along[:-1]
    parts = [np.interp(places, along[handles], shifts[:, axis], period=float(along[-1])) for axis in (0, 1)]
    moved: Floats = ring + np.column_stack(parts)
    return moved


def correct(sketch: Sketch, decisions: Sequence[LineDecision], report: ImportReport) -> None:
    """Move the corrected points of a piece's outline, with the notches and the fold that lie on it."""
    numbers = {number for place, those in sketch.taken if place == "piece" for number in those}
    moves: dict[int, tuple[float, float]] = {}
    for one in decisions:
        if not one.moved or not numbers & set(one.found(report.account.entries)):
            continue
        for x, y, to_x, to_y in one.moved:
            apart = np.hypot(*(sketch.outline - (x, y)).T)
            at = int(np.argmin(apart))
            if apart[at] > SAME:
                report.guess(f"'{sketch.name}': no point lies at ({x:g}, {y:g}) any more: its correction is not used")
            else:
                moves[at] = (to_x - x, to_y - y)
    if not moves:
        return
    before, after = sketch.outline, moved_ring(sketch.outline, moves)
    sketch.outline, sketch.whole = after, None
    sketch.notches = [(name, _with(before, after, point)) for name, point in sketch.notches]
    if sketch.fold is not None:
        start, end = sketch.fold
        sketch.fold = _with(before, after, start), _with(before, after, end)
    farthest = max(float(np.hypot(*move)) for move in moves.values())
    points = "1 point" if len(moves) == 1 else f"{len(moves)} points"
    report.remarks.append(f"'{sketch.name}': {points} of its outline corrected by you, at most {farthest:.1f} mm")
    if sketch.inner:
        report.remarks.append(f"'{sketch.name}': lines within it stay where they were")


def tell_unused(sketches: Sequence[Sketch], decisions: Sequence[LineDecision], report: ImportReport) -> None:
    """Tell of corrections for lines that are gone, or are no cut lines; those of another size wait until it is read."""
    entries = report.account.entries
    pieces = {n for sketch in sketches for place, those in sketch.taken if place == "piece" for n in those}
    for one in decisions:
        numbers = one.found(entries) if one.moved else ()
        if not one.moved or pieces & set(numbers):
            continue
        if not numbers:
            report.guess(f"the corrected points of {one.words()} are not used: {one.missing(report.account.entries)}")
        elif entries[numbers[0] - 1].place not in ("left out", "another size"):
            report.guess(f"the corrected points of {one.words()} are not used: it is not a cut line of a piece")


def _with(before: Floats, after: Floats, point: tuple[float, float]) -> tuple[float, float]:
    """A mark moved with the outline, if it lies on it."""
    import shapely

    line = shapely.LinearRing(before)
    place = shapely.Point(point)
    if line.distance(place) > BESIDE:
        return point
    along = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(np.vstack([before, before[:1]]), axis=0).T))))
    shift = after - before
    at = line.project(place)
    x, y = (float(np.interp(at, along, np.append(shift[:, axis], shift[0, axis]))) for axis in (0, 1))
    return point[0] + x, point[1] + y
