"""What is exported in tests: the model jacket's markers, and pieces with names that no file should choke on."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np

from nesting import Fabric, MaxIterations, lay_pieces, solve
from pieces import Piece, PieceSet
from pieces.length import mm
from pieces.piece.outline import Edge
from pieces.piece.piece import Notch

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from nesting.cloth.spread import Spread
    from nesting.marker.marker import Marker

HOSTILE = '=SUM(A1)\n0\nEOF%%d^J <b a="1">&amp;]]>\x00\x07\u202e{\\fArial;x}'
"""A formula, codes of DXF, marks of XML, and control signs."""

WIDTH = 1524.0


def laid(pieces: PieceSet, spread: Spread) -> Marker:
    """A first marker of the shell, on cloth of 60 in."""
    selvedge = mm(0.0 if spread == "tube" else 12.7)
    problem = lay_pieces(pieces.of("shell"), Fabric("canvas", mm(WIDTH), selvedge), spread)
    return solve(problem, MaxIterations(0)).marker


def square(name: str, side: float = 100.0, **more: Any) -> Piece:
    """A square piece with a drill point and a notch, 10 mm of allowance all round."""
    corners = np.array([(0, 0), (side, 0), (side, side), (0, side), (0, 0)], dtype=float)
    edges = tuple(Edge(f"side {i}", corners[i : i + 2], 10.0) for i in range(4))
    notch, drilled = Notch("middle", (side / 2, 0.0)), ((side / 4, side / 3),)
    return Piece(name, edges, notches=(notch,), drill_points=drilled, grain=((20, 50), (80, 50)), **more)


def hostile_set() -> PieceSet:
    """Three squares under one hostile name and two that differ in signs no block may have, and a hostile garment."""
    named = (square(HOSTILE, label=HOSTILE), square("a/b"), square("a\\b"))
    return PieceSet(HOSTILE, named)


def shifted(outline: NDArray[Any]) -> NDArray[Any]:
    """An outline with its box at (0, 0)."""
    points = np.asarray(outline, dtype=float)
    at_origin: NDArray[Any] = points - points.min(axis=0)
    return at_origin


def farther(one: ArrayLike, other: ArrayLike) -> float:
    """The greatest distance between corners of two outlines, corner by corner."""
    return float(np.hypot(*(np.asarray(one) - np.asarray(other)).T).max())


def renamed(pieces: PieceSet, **names: str) -> PieceSet:
    """The set with some pieces under other names, seams left away."""
    return replace(pieces, pieces=tuple(replace(p, name=names.get(p.name, p.name)) for p in pieces), seams=())
