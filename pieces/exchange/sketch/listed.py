"""Pieces that a file lists, each with its outline, after what a person decided of their outlines and lines."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from pieces.exchange.decided.decisions import ROLE_WORDS
from pieces.exchange.drawing import DrawnLine
from pieces.exchange.sketch.assemble import add_line
from pieces.exchange.sketch.deciding import STANDARD
from pieces.exchange.sketch.sketch import Sketch, printable_name
from pieces.piece.piece import InnerLine, Notch

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from numpy.typing import NDArray

    from pieces.exchange.account import EntryRole, FileEntry
    from pieces.exchange.decided.decisions import LineRole
    from pieces.exchange.imported import ImportReport, ReadingChoices
    from pieces.piece.curve import Point

    Floats = NDArray[np.float64]

WITHIN: tuple[EntryRole, ...] = ("inner line", "sew line", "cutout", "notch", "drill point", "grain", "fold")
"""What a piece has besides its outline."""

LINES: tuple[EntryRole, ...] = ("inner line", "sew line", "cutout")

OVER = 0.5
"""How far a line may lie over the edge of the piece that it is on, mm."""

LISTED = "the file lists it as a piece"


def decide_sketches(sketches: Sequence[Sketch], asked: ReadingChoices, report: ImportReport) -> list[Sketch]:
    """Decide on pieces that a file lists: outlines and lines within are what a person says, as far as that can be."""
    told = _told(asked, report)
    kept: list[Sketch] = []
    of_others: list[tuple[Sketch, LineRole, list[Sketch]]] = []
    is_gone, of = False, None
    for sketch in sketches:
        if sketch.is_copy:  # the piece before it once more, of something else
            if not is_gone:
                kept.append(_as(sketch, of) if of is not None else sketch)
            elif of_others and of is None:
                of_others[-1][2].append(sketch)
            continue
        role = next((told[n] for place, those in sketch.taken if place == "piece" for n in those if n in told), None)
        is_gone, of = role in ("left out", "frame"), None
        if role in ("left out", "frame"):
            _leave(sketch, "frame" if role == "frame" else "left out", "you said so", report)
            continue
        if role not in (None, "piece"):
            of_others.append((sketch, role, []))
            is_gone = True
            continue
        kept.append(sketch)
        if any(told.get(those[0]) for place, those in sketch.taken if place in WITHIN and those):
            kept += _decide_within(sketch, told, report)
            of = sketch
    kept = _put_on_others(of_others, kept, report)
    _take_back(kept, told, report)
    return kept


def _told(asked: ReadingChoices, report: ImportReport) -> dict[int, LineRole]:
    told: dict[int, LineRole] = {}
    for one in asked.lines:
        numbers = one.found(report.account.entries)
        if one.role and not numbers:
            report.guess(f"what was decided of {one.words()} is not used: {one.missing(report.account.entries)}")
        for number in numbers:
            if one.role and told.setdefault(number, one.role) != one.role:
                report.guess(f"line {number} is decided on twice: {ROLE_WORDS.get(one.role, one.role)} is not used")
    return told


def _leave(sketch: Sketch, place: EntryRole, why: str, report: ImportReport) -> None:
    """Account for all that a sketch took, which is no piece."""
    for kind, those in sketch.taken:
        report.account.put(those, place if kind == "piece" else "left out", sketch.name, why)
        report.account.because(those, "told", LISTED if kind == "piece" else "", is_last=True)


def _as(copy: Sketch, of: Sketch) -> Sketch:
    """A copy with what is drawn on its original now."""
    return replace(
        copy, grain=of.grain, fold=of.fold, notches=list(of.notches), drills=list(of.drills), inner=list(of.inner),
        whole=None,
    )  # fmt: skip


def _put_on_others(
    lines: Sequence[tuple[Sketch, LineRole, Sequence[Sketch]]], pieces: Sequence[Sketch], report: ImportReport
) -> list[Sketch]:
    """Outlines that are said to be lines of other pieces, put on those that they lie in; the pieces that there are."""
    kept = list(pieces)
    for sketch, role, copies in lines:
        word = ROLE_WORDS.get(role, role)
        around = _around(sketch.outline, kept)
        if not around:
            report.guess(f"'{sketch.name}' is not taken as {word}: it lies in no other piece of the file")
            kept += [sketch, *copies]
            continue
        owner = around[0]
        if len(around) > 1 and not _around(owner.outline, around[1:]):
            names = " and ".join(f"'{one.name}'" for one in around[1:3])
            report.guess(f"'{sketch.name}' is taken as {word} of '{owner.name}', and lies in {names} as well")
        (own,) = (those for kind, those in sketch.taken if kind == "piece")
        sketch.taken = [each for each in sketch.taken if each[0] != "piece"]
        _leave(sketch, "left out", f"its outline is taken as {word}", report)
        _add(owner, role, report.account.entries[own[0] - 1], own, report)
        report.account.because(own, "told", LISTED, is_last=True)
        kept[:] = [_as(one, owner) if one.is_copy and kept[at - 1] is owner else one for at, one in enumerate(kept)]
    return kept


def _around(points: Floats, pieces: Sequence[Sketch]) -> list[Sketch]:
    """The pieces that points lie in, the smallest first."""
    import shapely

    place = shapely.MultiPoint(points)
    found: list[tuple[float, int, Sketch]] = []
    for piece in pieces:
        if not piece.is_copy:
            area = shapely.make_valid(shapely.Polygon(piece.outline))
            if area.buffer(OVER).covers(place):
                found.append((float(area.area), len(found), piece))
    return [piece for _, _, piece in sorted(found)]


def _decide_within(sketch: Sketch, told: Mapping[int, LineRole], report: ImportReport) -> list[Sketch]:
    """Decide on lines and marks of a piece; outlines among them that are pieces of their own."""
    before, own = list(sketch.taken), []
    lines, notches, drills = iter(sketch.inner), iter(sketch.notches), iter(sketch.drills)
    sketch.taken, sketch.inner, sketch.notches, sketch.drills = [], [], [], []
    changed: list[tuple[LineRole, tuple[int, ...]]] = []
    for place, numbers in before:
        role = told.get(numbers[0]) if place in WITHIN and numbers else None
        is_same = role is None or role == place
        if place in LINES:
            line = next(lines)
            sketch.inner += [line] if is_same else []
        elif place == "notch":
            notch = next(notches)
            sketch.notches += [notch] if is_same else []
        elif place == "drill point":
            drill = next(drills)
            sketch.drills += [drill] if is_same else []
        elif place in ("grain", "fold") and not is_same:
            setattr(sketch, place, None)
            sketch.whole = None
        if is_same or role is None:
            sketch.taken.append((place, numbers))
        else:
            changed.append((role, numbers))
    for role, numbers in changed:
        entry = report.account.entries[numbers[0] - 1]
        report.account.because(numbers, "told", is_last=True)
        if role in ("left out", "frame"):
            report.account.put(numbers, "frame" if role == "frame" else "left out", sketch.name, "you said so")
        elif role == "piece" and entry.points is not None and len(entry.points) > 2:
            own.append(Sketch(printable_name(f"{sketch.name}, {numbers[0]}", "piece"), _ring(entry)))
            own[-1].take("piece", numbers)
        else:
            _add(sketch, role, entry, numbers, report)
    _keep_whole(sketch)
    return own


def _ring(entry: FileEntry) -> Floats:
    assert entry.points is not None
    closed = len(entry.points) > 3 and bool(np.allclose(entry.points[0], entry.points[-1]))
    return entry.points[:-1] if closed else entry.points


def _add(sketch: Sketch, role: LineRole, entry: FileEntry, numbers: tuple[int, ...], report: ImportReport) -> None:
    """Give a piece a line or a point in the part that it is said to play."""
    assert entry.points is not None
    if role == "piece" or (len(entry.points) == 1 and role not in ("notch", "drill point")):
        word = ROLE_WORDS.get(role, role)
        report.leave(f"number {numbers[0]}", f"a point or a short line cannot be a {word}", numbers)
        return
    is_ring = len(entry.points) > 3 and bool(np.allclose(entry.points[0], entry.points[-1]))
    is_closed = entry.kind == "closed outline" or is_ring
    stroke = DrawnLine(_ring(entry), STANDARD[role], closed=is_closed, numbers=numbers)
    if role in ("grain", "fold"):
        known: EntryRole = "grain" if role == "grain" else "fold"
        report.account.put(sketch.release(known), "left out", sketch.name, f"you said that another line is its {role}")
        setattr(sketch, role, None)
        sketch.turn, sketch.side = (None, sketch.side) if role == "grain" else (sketch.turn, "")
        sketch.whole = None
    add_line(sketch, stroke, report)
    _keep_whole(sketch)


def _keep_whole(sketch: Sketch) -> None:
    """Of a piece that the file holds whole, keep all but the lines and marks that were decided on."""
    if sketch.whole is None:
        return
    sketch.whole = replace(
        sketch.whole,
        notches=tuple(Notch(name, _on(sketch.whole.sew_line, point)) for name, point in sketch.notches),
        drill_points=tuple(sketch.drills),
        inner=tuple(InnerLine(kind, tuple(map(tuple, points.tolist()))) for kind, points in sketch.inner),
    )


def _on(line: Floats, point: Point) -> Point:
    """The place on a closed line that is nearest to a point; the point itself, if it lies on it."""
    import shapely

    ring, place = shapely.LinearRing(line), shapely.Point(point)
    if ring.distance(place) <= OVER:
        return point
    nearest = ring.interpolate(ring.project(place))
    return float(nearest.x), float(nearest.y)


def _take_back(pieces: Sequence[Sketch], told: Mapping[int, LineRole], report: ImportReport) -> None:
    """Lines that were left out and are said to be something, given to the pieces that they lie in; the rest is told."""
    for number, role in told.items():
        entry = report.account.entries[number - 1]
        if entry.place != "left out" or entry.sure == "told" or role == "left out" or entry.points is None:
            continue
        around = _around(entry.points, pieces) if role not in ("piece", "frame") else []
        if not around:
            report.guess(f"what was decided of line {number} is not used: {entry.why or 'it is left out'}")
            continue
        report.account.take_back([number])
        report.account.because([number], "told", is_last=True)
        _add(around[0], role, entry, (number,), report)
