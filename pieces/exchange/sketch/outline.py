"""A closed outline of a drawing: what it lies in, what lies in it, and what is written in it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Literal

import numpy as np

from pieces.exchange.words.labels import is_automatic

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from numpy.typing import NDArray

    from pieces.exchange.account import Sureness
    from pieces.exchange.drawing import Drawing, Word
    from pieces.exchange.mend.joining import JoinedLine

    Floats = NDArray[np.float64]

OutlinePart = Literal[
    "piece", "frame", "cutout", "sew line", "inner line", "drill point", "test square", "another size", "sign"
]
"""A ``"sign"`` is as small as a letter, and marks no point."""

DRILL_HOLE = 12.0
"""A closed outline within a piece that is no larger, either way, marks a point of it, mm."""

SPECK = 0.4
"""What is smaller, either way, is dust of a picture that was traced, mm."""

FULL, LONG = 0.85, 4.0
"""A mark fills its convex hull to this share at the least, and is no more than so many times longer than wide."""

RECTANGLE = 0.999
"""Share of its box that a rectangle fills at the least."""


@dataclass(eq=False)
class Outline:
    """A closed outline of a drawing.

    Parameters
    ----------
    ring
        Its lines, joined.
    area
        What it encloses (shapely).
    parent, children
        The smallest outline that it lies in, and those that lie in it and in none between.
    words
        What is written in it and in none of its children.
    marks
        How many grainlines and notches lie on it and in none of its children.
    part, owner
        What it is, and the piece that it belongs to.
    sure
        Whether the file says so itself.
    why
        How that is known.
    told
        Who says that it is a piece: a person or a legend.
    size_told
        The size that a person says it is.
    """

    ring: JoinedLine
    area: Any
    parent: Outline | None = None
    children: list[Outline] = field(default_factory=list)
    words: list[Word] = field(default_factory=list)
    marks: int = 0
    part: OutlinePart = "piece"
    owner: Outline | None = None
    sure: bool = True
    why: str = ""
    told: Sureness | None = None
    size_told: str = ""

    @property
    def size(self) -> float:
        """Its area, mm²."""
        return float(self.area.area)

    @property
    def box(self) -> Floats:
        """Its lower left and its upper right corner."""
        return np.array([self.ring.points.min(axis=0), self.ring.points.max(axis=0)])

    @property
    def is_small(self) -> bool:
        """Whether it is no larger than a mark."""
        return bool(np.ptp(self.ring.points, axis=0).max() <= DRILL_HOLE)

    @property
    def is_point(self) -> bool:
        """Whether it has the shape of a mark: round or square, not that of a letter."""
        sides = np.ptp(self.ring.points, axis=0)
        full = self.size >= FULL * float(self.area.convex_hull.area)
        return self.is_small and full and bool(SPECK <= sides.max() <= LONG * max(float(sides.min()), 1e-9))

    @property
    def is_rectangle(self) -> bool:
        """Whether it is a rectangle along the axes of the file."""
        return self.size >= RECTANGLE * float(np.prod(self.box[1] - self.box[0]))

    @property
    def layer(self) -> str:
        """The one layer or group that it is drawn on; empty if there are several, or it says nothing."""
        name = next(iter(self.ring.groups)) if len(self.ring.groups) == 1 else ""
        return "" if name == "0" or is_automatic(name) else name

    def inner(self) -> Iterable[Outline]:
        """All outlines in it that are larger than marks, and in none between."""
        return [child for child in self.children if not child.is_small]


def outlines_of(rings: Sequence[JoinedLine], drawing: Drawing) -> list[Outline]:
    """Outlines with all that is known of each."""
    import shapely

    if not rings:
        return []
    areas = np.array([shapely.Polygon(ring.points) if len(ring.points) > 2 else shapely.Polygon() for ring in rings])
    sound = shapely.make_valid(areas)
    found = [Outline(ring, area) for ring, area in zip(rings, sound, strict=True)]
    sizes = shapely.area(sound)
    tree = shapely.STRtree(sound)
    for child, parent in _parents(sound, tree).items():
        found[child].parent = found[parent]
        found[parent].children.append(found[child])
    _write(found, tree, sizes, drawing)
    return found


def _parents(areas: Any, tree: Any) -> dict[int, int]:
    """Of each area that lies in others, the smallest of those: the likeliest are tried first, of all areas at once."""
    import shapely

    sizes, boxes = shapely.area(areas), shapely.bounds(areas)
    i, j = tree.query(areas)
    larger = ((sizes[j] > sizes[i]) | ((sizes[j] == sizes[i]) & (j > i))) & (i != j)
    around = (boxes[j, :2] <= boxes[i, :2]).all(axis=1) & (boxes[j, 2:] >= boxes[i, 2:]).all(axis=1)
    i, j = i[larger & around], j[larger & around]
    order = np.lexsort((sizes[j], i))
    i, j = i[order], j[order]
    children, at = np.unique(i, return_index=True)
    end = np.append(at[1:], len(i))
    parents: dict[int, int] = {}
    while len(children):
        inside = shapely.covered_by(areas[children], areas[j[at]])
        parents |= dict(zip(children[inside].tolist(), j[at[inside]].tolist(), strict=True))
        left = ~inside & (at + 1 < end)
        children, at, end = children[left], at[left] + 1, end[left]
    return parents


def _write(found: Sequence[Outline], tree: Any, sizes: Floats, drawing: Drawing) -> None:
    """Give words and marks to the smallest outline that they lie in, marks apart."""
    import shapely

    def innermost(place: Any) -> Outline | None:
        around = [k for k in tree.query(place, predicate="intersects").tolist() if not found[k].is_small]
        return found[min(around, key=lambda k: sizes[k])] if around else None

    for word in drawing.words:
        around = innermost(shapely.Point(word.place))
        if around is not None:
            around.words.append(word)
    for stroke in drawing.strokes:
        if stroke.role in ("grain", "notch", "fold"):
            covering = [k for k in tree.query(shapely.LineString(stroke.points), predicate="covered_by").tolist()]
            if covering:
                found[min(covering, key=lambda k: sizes[k])].marks += 1
