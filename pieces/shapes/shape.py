"""A shape: what is the same of all, whatever its outline."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Literal

from pieces.errors import DraftError
from pieces.piece.outline import Edge
from pieces.shapes.cut import above, grain_within
from pieces.shapes.shaped import ShapedPiece

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from pieces.piece.curve import Point
    from pieces.piece.piece import Grain, Material
    from pieces.shapes.shaped import WayToPiece

ShapeGrain = Literal["straight", "across", "either", "bias", "free"]

LIES: dict[ShapeGrain, Grain] = {
    "straight": "straight",
    "across": "straight",
    "either": "cross",
    "bias": "cross",
    "free": "free",
}
"""How strictly a piece keeps to its grainline, by the word for its grain."""


@dataclass(frozen=True)
class PlainShape:
    """What is cut of a shape, and how.

    Parameters
    ----------
    name
        What its piece is called.
    cut, pair
        How often it is cut, and whether half of them are mirror images.
    on_fold
        Whether it is drawn as half of it, to be cut on a fold along its grain.
    material
        What it is cut of.
    grain
        ``"straight"`` with its length along the cloth, ``"across"`` with its length across it, ``"either"`` of the
        two, at 45 degrees on the ``"bias"``, ``"free"`` in any of these.
    seam
        Allowance of every edge that `edges` does not name, mm.
    edges
        Allowance by the name of an edge, mm; ``"join"`` is that of the seams it is pieced with.
    """

    name: str
    cut: int = 1
    pair: bool = False
    on_fold: bool = False
    material: Material = "shell"
    grain: ShapeGrain = "straight"
    seam: float = 0.0
    edges: Mapping[str, float] = field(default_factory=dict)

    def allowance(self, edge: str) -> float:
        """What is cut beyond an edge, mm."""
        return self.edges.get(edge, self.seam)

    @property
    def join(self) -> float:
        """Allowance of the seams that it is pieced with, mm."""
        return self.allowance("join")

    def check_edges(self, known: Sequence[str]) -> None:
        """DraftError if an allowance is given for an edge that the shape has not."""
        for name in self.edges:
            if name not in (*known, "join"):
                raise DraftError(f"'{self.name}' has no edge {name!r}: it has {', '.join(known)} and join")

    def piece(
        self,
        edges: tuple[Edge, ...],
        *,
        ways: tuple[WayToPiece, ...] = (),
        grain: tuple[Point, Point] | None = None,
        is_closed: bool = False,
        **more: Any,
    ) -> ShapedPiece:
        """The piece with these sides; half of it where it is cut on a fold."""
        if self.on_fold:
            if self.grain not in ("straight", "across"):
                raise DraftError(
                    f"'{self.name}' is cut on a fold: its grain is straight or across, not {self.grain}: leave on_fold"
                    " out"
                )
            edges = above(edges, 0.0, Edge("fold", edges[0].points[:2].copy(), 0.0, "fold"))
        settled: dict[str, Any] = {
            "name": self.name,
            "edges": edges,
            "cut": self.cut,
            "mirrored_pair": self.pair,
            "material": self.material,
            "grain": grain or grain_within(edges),
            "lies": LIES[self.grain],
            "label": "on fold" if self.on_fold else "",
            "ways": ways,
            "join": self.join,
            "is_closed": is_closed,
            "drafted_as": self.name,
        }
        return ShapedPiece(**(settled | more))
