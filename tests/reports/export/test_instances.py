"""Published nesting instances (ESICUP, CC0) exported, read back and laid: the same density as without the way round."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from nesting import MaxIterations, solve
from nesting.problem.problem import Problem
from pieces import Piece, PieceSet
from pieces.exchange.read.reader import import_pieces
from pieces.piece.outline import Edge
from reports.export.files import write_pieces
from tests.make.exported import farther, shifted
from tests.make.instances import FOLDER, needed

if TYPE_CHECKING:
    from pathlib import Path

ITERATIONS = 6

SCALE = 10.0
"""The instances' unit is taken for a centimetre: in millimetres some pieces would be too small to cut."""


def as_piece(number: int, outline: list[list[int]], quantity: int) -> Any:
    """An outline as a pattern piece, its sides counter-clockwise, its grain along x through its middle."""
    points = SCALE * np.array(outline, dtype=float)
    x, y = points.T
    if np.dot(x, np.roll(y, -1)) < np.dot(y, np.roll(x, -1)):
        points = points[::-1]
    (left, low), (right, high) = points.min(axis=0), points.max(axis=0)
    middle = float(low + high) / 2
    grain = (float(0.6 * left + 0.4 * right), middle), (float(0.4 * left + 0.6 * right), middle)
    return Piece(f"kind {number}", (Edge("outline", np.vstack([points, points[:1]]), 0.0),), cut=quantity, grain=grain)


def density(data: Any, pieces: Any, quantities: Any) -> float:
    """The density after a few iterations from the same seed."""
    turns = [piece["turns"] for piece in data["pieces"]]
    problem = Problem.from_outlines(SCALE * data["width"], [piece.cut_line for piece in pieces], quantities, turns)
    return solve(problem, MaxIterations(ITERATIONS), seed=3).marker.density


MADE_UP: dict[str, Any] = {
    "width": 30.0,
    "pieces": [
        {"outline": [[0, 0], [20, 0], [12, 30], [0, 30]], "quantity": 2, "turns": [0.0, 180.0]},
        {"outline": [[0, 0], [8, 30], [-12, 30], [-20, 0]], "quantity": 1, "turns": [0.0, 180.0]},
    ],
}
"""Two trapezia and a slanted piece between them: a strip of 30 is filled without a gap."""


@pytest.mark.parametrize("name", ["made up", *(pytest.param(name, marks=needed) for name in ("dagli", "blaz", "fu"))])
def test_same_density(name: str, tmp_path: Path) -> None:
    """Through DXF and SVG and back, every corner is within 0.01 mm, the counts are kept, and the marker is as dense."""
    data = MADE_UP if name == "made up" else json.loads((FOLDER / f"{name}.json").read_text(encoding="utf-8"))
    drawn = [as_piece(i, piece["outline"], piece["quantity"]) for i, piece in enumerate(data["pieces"])]
    wanted = density(data, drawn, [piece.cut for piece in drawn])
    for form in ("dxf", "svg"):
        path = tmp_path / f"pieces.{form}"
        write_pieces(PieceSet(name.replace(" ", "-"), tuple(drawn)), [path])
        found = import_pieces(path).pieces
        back = [found[piece.name] for piece in drawn]
        assert len(found) == len(drawn)
        assert all(farther(shifted(a.cut_line), shifted(b.cut_line)) < 0.01 for a, b in zip(back, drawn, strict=True))
        if form == "dxf":
            assert [piece.cut for piece in back] == [piece.cut for piece in drawn]
        assert density(data, back, [piece.cut for piece in drawn]) == pytest.approx(wanted, rel=1e-9), form
