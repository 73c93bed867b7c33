"""A graded DXF read back: the outline of each piece in each size, by the rules that its points have.

It reads with a general library, and by nothing of what writes such files.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import shapely

from pieces.errors import FormatError
from pieces.exchange.graded.rule_table import rule_of
from pieces.exchange.standard import record

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from numpy.typing import NDArray

    from pieces.exchange.graded.rule_table import RuleTable
    from pieces.piece.curve import Point

    Floats = NDArray[np.float64]

ON = 0.05
"""A rule belongs to an outline that it lies this near to, mm."""

FLAT = 0.01
"""How far chords stray from a spline that is read, mm."""

OUTLINE, POINTS = "1", ("2", "3")
"""Layers of the outline, and of turn and curve points with their rules: by the standard, from memory."""


def sized_outlines(blocks: Any, table: RuleTable) -> dict[str, dict[str, Floats]]:
    """The outline of every piece in every size, by name and size.

    Parameters
    ----------
    blocks
        Those of a document of ezdxf, in mm.

    Raises
    ------
    FormatError
        If a point has a rule that the table does not have.
    """
    found = {}
    for block in blocks:
        outline = outline_of(block)
        if not block.is_any_layout and outline is not None:
            name = piece_name(block)
            found[name] = {size: graded_outline(outline, rules_of(block), table, size) for size in table.sizes}
    return found


def piece_name(block: Any) -> str:
    """What the records of a block call its piece; else the block's own name."""
    said = [pair for text in block.query("TEXT") if (pair := record(text.plain_text())) and pair[0] == "PIECE NAME"]
    return str(said[0][1] if said else block.name)


def outline_of(block: Any) -> Floats | None:
    """The largest closed line on the layer of outlines, each point once; None where there is none."""
    rings = []
    for entity in block:
        if entity.dxf.layer != OUTLINE:
            continue
        if entity.dxftype() == "LWPOLYLINE" and entity.closed:
            rings.append(np.array(entity.lwpoints.values[:, :2], dtype=np.float64))
        elif entity.dxftype() == "SPLINE":
            points = np.array([(p.x, p.y) for p in entity.flattening(FLAT)])
            if np.hypot(*(points[0] - points[-1])) < ON:
                rings.append(points[:-1])
    rings = [ring for ring in rings if len(ring) > 2]
    return max(rings, key=lambda ring: shapely.Polygon(ring).area, default=None)


def rules_of(block: Any) -> list[tuple[Point, int]]:
    """The turn and curve points that have rules, with their numbers."""
    found = []
    for text in block.query("TEXT"):
        number = rule_of(text.dxf.text) if text.dxf.layer in POINTS else None
        if number is not None:
            found.append(((float(text.dxf.insert.x), float(text.dxf.insert.y)), number))
    return found


def graded_outline(outline: Floats, rules: Sequence[tuple[Point, int]], table: RuleTable, size: str) -> Floats:
    """An outline in a size: points with rules move by these, what lies between two by its share of the way.

    Raises
    ------
    FormatError
        If the table lacks a rule or the size, or no point of the outline has one.
    """
    if size not in table.sizes:
        raise FormatError(f"the rule table '{table.name}' has no size {size!r}: it has {', '.join(table.sizes)}")
    line = shapely.LinearRing(outline)
    spots = shapely.points([point for point, _ in rules]) if rules else np.array([])
    on_line = shapely.distance(line, spots) <= ON if rules else np.array([], dtype=bool)
    if not on_line.any():
        raise FormatError("no point of the outline has a rule: is this the table of that file?")
    along = np.append(0.0, np.cumsum(np.hypot(*(np.roll(outline, -1, axis=0) - outline).T)))
    places: dict[float, Point] = {}
    for (_, number), spot, is_on in zip(rules, spots, on_line, strict=True):
        if is_on:
            at = float(line.project(spot))
            corner = int(np.abs(along - at).argmin())
            at = float(along[corner % len(outline)]) if abs(along[corner] - at) <= ON else at
            places[at] = table.move(number, size)
    return _moved(outline, along, places)


def _moved(outline: Floats, along: Floats, places: Mapping[float, Point]) -> Floats:
    order = sorted(places)
    moves = np.array([places[at] for at in order])
    every = np.union1d(along[:-1], order)
    closed = np.vstack([outline, outline[:1]])
    lies = np.column_stack([np.interp(every, along, closed[:, k]) for k in (0, 1)])
    by = np.column_stack([np.interp(every, order, moves[:, k], period=float(along[-1])) for k in (0, 1)])
    moved: Floats = lies + by
    return moved
