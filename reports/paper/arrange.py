"""Where pieces lie on paper: close together, at right angles to the page, on as few sheets as can be found quickly."""

from __future__ import annotations

from typing import TYPE_CHECKING

import shapely

from nesting.errors import NestingError
from nesting.problem.problem import Problem
from nesting.problem.transform import Transform
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations
from reports.draw.pieces import UPRIGHT
from reports.errors import PaperError
from reports.paper.drawing import box_of
from reports.paper.tiles import OVERLAP, RIM, tile

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    import numpy as np
    from numpy.typing import NDArray

    from nesting.marker.marker import Marker
    from reports.paper.size import Paper

    Floats = NDArray[np.float64]

GAP = 6.0
"""Least distance between two pieces, mm."""

OUTSIDE = 1.3
"""How far beyond the outlines that are laid something is drawn, mm: half a diamond; curves stray by 0.2 mm."""

TURNS = (0.0, 90.0, 180.0, 270.0)

WIDTHS = 3
"""Numbers of sheets side by side that are tried, from the least that do."""

MOST_COLUMNS = 200


def arrange(outlines: Sequence[Floats], names: Sequence[str], paper: Paper) -> list[Transform]:
    """How each piece is brought from its own frame on to the paper.

    Parameters
    ----------
    outlines
        In the pieces' own frames, shape (n, 2), mm.
    names
        What errors call them.

    Raises
    ------
    PaperError
        If a piece is wider than the roll, or they take too many sheets.
    """
    best: tuple[tuple[int, float], list[Transform]] | None = None
    for way in paper.ways():
        for marker in _laid(outlines, names, way):
            poses = _poses(marker, outlines)
            shapes = [shapely.LinearRing(pose(line)) for pose, line in zip(poses, outlines, strict=True)]
            sheets = 1 if way.is_roll else len(tile(shapes, box_of(shapes, RIM), way).printed)
            if best is None or (sheets, marker.length) < best[0]:
                best = (sheets, marker.length), poses
    if best is None:
        raise PaperError(f"a piece is wider than {paper.name}: choose a wider roll, or sheets with --paper")
    return best[1]


def _laid(outlines: Sequence[Floats], names: Sequence[str], paper: Paper) -> Iterator[Marker]:
    """First layouts on strips of one sheet across, two, and so on."""
    found = 0
    for columns in range(1, 2 if paper.is_roll else MOST_COLUMNS):
        across = columns * (paper.wide - OVERLAP) + OVERLAP - 2 * (RIM + OUTSIDE)
        turns = [TURNS] * len(outlines)
        try:
            problem = Problem.from_outlines(across, outlines, [1] * len(outlines), turns, names=names, gap=GAP)
        except NestingError:  # too narrow for one of them
            continue
        yield solve(problem, MaxIterations(0)).marker
        found += 1
        if found == WIDTHS:
            return


def _poses(marker: Marker, outlines: Sequence[Floats]) -> list[Transform]:
    """The strip's length runs down the paper, its width across: as if turned so that pieces stand upright."""
    poses = {}
    for placement, _, variant, _ in marker.outlines():
        corner = placement.y, -placement.x - variant.length
        poses[placement.item] = Transform.to_corner(outlines[placement.item], variant.turn + UPRIGHT).moved(*corner)
    return [poses[number] for number in range(len(outlines))]
