"""A jacket whose left and right differ, as its wearer's shoulders or arms do: two drafts, half of each.

Seen from outside, a drafted front is the wearer's left, and a drafted back or sleeve the right: the other is its mirror
image. What is the same on both sides stays a pair, or on its fold.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from pieces.body.rules import measured_or_usual
from pieces.errors import DraftError, MeasurementError
from pieces.length import mm
from pieces.piece.piece import InnerLine, Notch, Piece
from pieces.piece.pieces import PieceSet, Seam
from pieces.units import format_both

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.body.body import Body
    from pieces.piece.curve import Point
    from pieces.piece.finished import Finished

SAME = 0.05
"""Pieces whose points differ by less, mm, are one."""

ROUND = ("chest", "waist", "hem against the hip", "neck opening", "neckband")
"""Finished sizes that are of both sides together."""

OPENINGS = ("hem_opening", "neck_opening", "hem_elastic", "neckband_cut_length", "hem_band_cut_length")
"""The same of measures."""

BANDS = ("cuff", "hem band", "neckband")


def sides_of(body: Body) -> tuple[Body, Body] | None:
    """The bodies that the left and the right side are drafted for; None where they are one."""
    tried = body.tried_on
    if not tried.left_drop and not tried.left_sleeve:
        return None
    right = replace(tried, left_drop=mm(0.0), left_sleeve=mm(0.0))
    left = replace(right, sleeve=mm(tried.sleeve + tried.left_sleeve))
    other = replace(body, tried_on=left)
    if tried.left_drop:
        other = _with_slope(other, measured_or_usual(body, "shoulder_slope") + tried.left_drop)
    return other, replace(body, tried_on=right)


def _with_slope(body: Body, slope: float) -> Body:
    """The body with another slope of its shoulder; DraftError if no shoulder has it."""
    try:
        return replace(body, shoulder_slope=mm(slope))
    except MeasurementError:
        fault = f"the left shoulder point would lie {format_both(abs(slope))} {'below' if slope > 0 else 'above'}"
        raise DraftError(
            f"{fault} the neck point, as no shoulder does: measure both shoulders again", about="shoulder_slope"
        ) from None


def join_sides(left: PieceSet, right: PieceSet) -> PieceSet:
    """One set of two: pieces that differ are cut once for each side, a piece on a fold is opened out."""
    pieces: list[Piece] = []
    apart: dict[str, tuple[str, str]] = {}
    whole: set[str] = set()
    for piece in right:
        other = left[piece.name]
        if piece.name in BANDS and piece.cut == 1:
            pieces.append(_mean(piece, other))
        elif _alike(piece, other):
            pieces.append(piece)
        elif piece.on_fold:
            pieces.append(_opened(other, piece))
            whole.add(piece.name)
        else:
            names = f"left {piece.name}", f"right {piece.name}"
            pieces += _pair(other, piece, names)
            apart[piece.name] = names
    eases = {seam.name: seam.ease for seam in left.seams}
    seams = [one for seam in right.seams for one in _sewn(seam, eases[seam.name], apart, whole)]
    drafted = PieceSet(right.garment, tuple(pieces), tuple(seams), _measures(left, right), _notes(left, right))
    drafted = replace(drafted, finished=tuple(_finished(left, right)))
    drafted.check()
    return drafted


def _alike(first: Piece, second: Piece) -> bool:
    return all(
        len(one.points) == len(other.points) and np.abs(one.points - other.points).max() < SAME
        for one, other in zip(first.edges, second.edges, strict=True)
    )


def _pair(left: Piece, right: Piece, names: tuple[str, str]) -> Iterator[Piece]:
    """The two pieces of a pair; which of them is the mirror image goes by what the piece is."""
    drawn_left = "front" in left.name or "hood" in left.name
    count = right.cut // 2
    for piece, name, is_left in ((left, names[0], True), (right, names[1], False)):
        turned = piece if is_left == drawn_left else mirrored(piece)
        yield replace(turned, name=name, cut=count, mirrored_pair=False)


def mirrored(piece: Piece) -> Piece:
    """A piece turned over along its grain."""

    def at(point: Point) -> Point:
        return point[0], -point[1]

    edges = tuple(
        replace(edge, points=np.ascontiguousarray((edge.points * (1, -1))[::-1])) for edge in piece.edges[::-1]
    )
    return replace(
        piece,
        edges=edges,
        grain=(at(piece.grain[0]), at(piece.grain[1])),
        notches=tuple(Notch(notch.name, at(notch.point)) for notch in piece.notches),
        drill_points=tuple(at(point) for point in piece.drill_points),
        match=piece.match and at(piece.match),
        inner=tuple(InnerLine(line.kind, tuple(at(point) for point in line.points)) for line in piece.inner),
    )


def _opened(left: Piece, right: Piece) -> Piece:
    """A piece that is cut on a fold, opened out: its right half as drawn, its left half turned over."""
    fold = right.fold_edge
    assert fold is not None
    other = mirrored(left)
    after = next(i for i, edge in enumerate(right.edges) if edge.kind == "fold")
    before = next(i for i, edge in enumerate(other.edges) if edge.kind == "fold")
    half = right.edges[after + 1 :] + right.edges[:after]
    rest = other.edges[before + 1 :] + other.edges[:before]
    named = tuple(replace(edge, name=f"left {edge.name}", points=edge.points.copy()) for edge in rest)
    start, end = half[0].points[0], half[-1].points[-1]
    first, last = named[0].points, named[-1].points
    if max(np.hypot(*(end - first[0])), np.hypot(*(last[-1] - start))) > SAME:
        raise DraftError(
            f"left and right of '{right.name}' do not meet at the centre, as their shoulders differ: leave it out",
            about="yoke" if right.name == "back yoke" else "back_facing",
        )
    shared = {notch.name for notch in right.notches if abs(notch.point[1]) < SAME}
    notches = right.notches + tuple(notch for notch in other.notches if notch.name not in shared)
    return replace(
        right,
        edges=(*(replace(edge, points=edge.points.copy()) for edge in half), *named),
        notches=notches,
        inner=(*right.inner, *other.inner),
        mirrored_pair=right.cut % 2 == 0,  # as the two layers of a collar
        label="opened out: left and right differ",
    )


def _mean(first: Piece, second: Piece) -> Piece:
    """A band sewn to both sides: as long as half of each, drafted for either."""
    edges = tuple(
        replace(one, points=(one.points + other.points) / 2)
        for one, other in zip(first.edges, second.edges, strict=True)
    )
    notches = tuple(
        Notch(one.name, ((one.point[0] + other.point[0]) / 2, (one.point[1] + other.point[1]) / 2))
        for one, other in zip(first.notches, second.notches, strict=True)
    )
    return replace(first, edges=edges, notches=notches)


def _sewn(seam: Seam, ease_left: float, apart: dict[str, tuple[str, str]], whole: set[str]) -> Iterator[Seam]:
    """A seam once, where it is the same on both sides; else that of each side."""
    runs = seam.first + seam.second
    if not any(piece in apart or piece in whole for piece, _ in runs):
        yield seam
        return
    for side, name in enumerate(("left", "right")):

        def run(edges: tuple[tuple[str, str], ...], side: int = side, name: str = name) -> tuple[tuple[str, str], ...]:
            return tuple(
                (
                    apart[piece][side] if piece in apart else piece,
                    f"left {edge}" if piece in whole and name == "left" else edge,
                )
                for piece, edge in edges
            )

        yield Seam(f"{name} {seam.name}", run(seam.first), run(seam.second), ease_left if name == "left" else seam.ease)


def _measures(left: PieceSet, right: PieceSet) -> dict[str, float]:
    """The measures of the right side, and those of the left that differ; what is all round is of both."""
    both = {name: (right.measures[name] + left.measures[name]) / 2 for name in OPENINGS if name in right.measures}
    other = {
        f"left_{name}": value
        for name, value in left.measures.items()
        if name not in both and abs(value - right.measures.get(name, value)) > SAME
    }
    return {**right.measures, **both, **other}


def _notes(left: PieceSet, right: PieceSet) -> tuple[str, ...]:
    """What there is to say of the right side, and of the left where that differs; of a band that both share, once."""
    own = (note for note in left.notes if note not in right.notes and not note.startswith(BANDS[1:]))
    return (*right.notes, *(f"left: {note}" for note in own), *_hood_note(left, right))


def _hood_note(left: PieceSet, right: PieceSet) -> tuple[str, ...]:
    """Where the two halves of a hood differ in the seam over the head: by how much one is eased into the other."""
    halves = [piece.edge("over the head").length for one in (left, right) for piece in one if piece.name == "hood"]
    if not halves or abs(halves[0] - halves[1]) < 1.0:
        return ()
    longer = "left" if halves[0] > halves[1] else "right"
    return (f"hood: ease {format_both(abs(halves[0] - halves[1]))} of the {longer} half in over the head",)


def _finished(left: PieceSet, right: PieceSet) -> Iterator[Finished]:
    """The sizes of the right side, each followed by that of the left where it differs; those all round are of both."""
    for one, other in zip(right.finished, left.finished, strict=True):
        if one.name in ROUND:
            yield replace(one, garment=(one.garment + other.garment) / 2)
            continue
        yield one
        if abs(one.garment - other.garment) > SAME:
            yield replace(other, name=f"{other.name}, left")
