"""Outlines for tests, edge by edge."""

from __future__ import annotations

from itertools import pairwise

from pieces.piece.curve import Line
from pieces.piece.outline import Edge


def sides(corners: list[tuple[float, float]], allowances: list[float], fold: int | None = None) -> tuple[Edge, ...]:
    """Straight edges e0, e1, … between corners, one of them on a fold where asked."""
    ring = [*corners, corners[0]]
    return tuple(
        Edge(f"e{i}", Line(a, b).flatten(), allowance, "fold" if i == fold else "seam")
        for i, ((a, b), allowance) in enumerate(zip(pairwise(ring), allowances, strict=True))
    )
