"""What every draft must be, whatever the garment: it can be cut, sewn, and is told whole."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np
import shapely

from pieces.errors import DraftError
from pieces.piece.pieces import walk

if TYPE_CHECKING:
    from pieces import Body, PieceSet
    from pieces.garments import Garment
    from pieces.piece.outline import Edge
    from pieces.piece.piece import Piece

SEWN = 0.5
"""Seams may differ, and notches lie apart, by no more, mm."""


def sound(garment: Garment, body: Body, style: Any) -> PieceSet:
    """A draft whose seams walk, whose notches meet, all of which is sewn in its steps, and that has its trims."""
    return _sound(garment, garment.draft(body, style), style)


def _sound(garment: Garment, pieces: PieceSet, style: Any) -> PieceSet:
    pieces.check()
    for piece in pieces:
        assert shapely.Polygon(piece.unfolded).is_valid
    for seam in pieces.seams:
        assert abs(walk(seam, pieces)) < SEWN, seam.name
        if len(seam.first) == len(seam.second) == 1:
            _notches_meet(*((pieces[name], pieces[name].edge(edge)) for ((name, edge),) in (seam.first, seam.second)))
    assert garment.steps and garment.trims
    steps = garment.steps(pieces, style)
    for seam in pieces.seams:
        edges = {*seam.first, *seam.second}
        assert sum(edges <= set(step.edges) for step in steps) == 1, seam.name
    assert {piece.name for step in steps for piece in step.shown(pieces)} == {piece.name for piece in pieces}
    assert not [step.text for step in steps if "{" in step.text or "  " in step.text]
    assert any(trim.name == "thread" and trim.needed > 0 for trim in garment.trims(pieces, style))
    return pieces


def sound_or_refused(garment: Garment, body: Body, style: Any) -> PieceSet | None:
    """A sound draft, or one that is refused in one line."""
    try:
        pieces = garment.draft(body, style)
    except DraftError as error:
        assert "\n" not in str(error) and len(str(error)) > 20
        return None
    return _sound(garment, pieces, style)


def plain_option_notes(garment: Garment, body: Body, style: Any, unused: str) -> None:
    """An option that changes nothing is told, and does change nothing."""
    drafted, plain = garment.draft(body, style), garment.draft(body, replace(style, **{unused: None}))
    assert any(note.startswith(f"{unused}:") for note in drafted.notes)
    for piece, same in zip(drafted, plain, strict=True):
        assert np.array_equal(piece.cut_line, same.cut_line)


def _notches_meet(first: tuple[Piece, Edge], second: tuple[Piece, Edge]) -> None:
    """Notches of one name on both edges lie as far from their ends, in one direction or the other."""
    here, there = _places(*first), _places(*second)
    for name in here.keys() & there.keys():
        length = first[1].length
        turned = [length - at for at in there[name]]
        assert any(np.allclose(sorted(here[name]), sorted(other), atol=SEWN) for other in (there[name], turned)), name


def _places(piece: Piece, edge: Edge) -> dict[str, list[float]]:
    line, found = shapely.LineString(edge.points), dict[str, list[float]]()
    for notch in piece.notches:
        if line.distance(shapely.Point(notch.point)) < 0.01:
            found.setdefault(notch.name, []).append(line.project(shapely.Point(notch.point)))
    return found
