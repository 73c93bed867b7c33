"""Outlines of a drawing that lie in one another: which are pieces, which frames round them, which lines on them."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Literal

import numpy as np

from pieces.exchange.sketch.scale_square import scale_square
from pieces.exchange.words.labels import is_automatic
from pieces.exchange.words.words import is_called, is_size, read_words

if TYPE_CHECKING:
    from collections.abc import Container, Iterable, Sequence

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

LEAST_SET = 60.0
"""Where an outline is at least this large, mm, those as small as marks that lie in no piece are none themselves."""

RECTANGLE = 0.999
"""Share of its box that a rectangle fills at the least."""

PAGE_OFF = 1.0
"""How far the sides of an outline may lie off those of the page, and be the page's own, mm."""

LEAST_ALLOWANCE, MOST_ALLOWANCE, EVEN = 2.0, 40.0, 0.8
"""A line that runs this far within an outline, mm, along this share of its length, is where it is sewn."""

SHEET_OFF, SHEET_FILLED = 0.08, 0.3
"""How far a frame may lie within the page, in shares of its sides; and the share of a sheet that pieces on it fill."""

ROUND = 0.97
"""Of the area of a circle that is as long round, the share that an outline has which is nearly one."""

MAY_BE_HOLE = ", and one circle in another may be a hole as well"

LETTERS = "it is filled and has no line, like others beside it: it is taken as lettering"

BESIDE = 30.0
"""Words this near to a piece may be its own, mm."""

SMALL = 0.4
"""Of the area of what it lies in: words in a smaller outline are its own, even if there are no others."""


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


def sort_out(found: Sequence[Outline], page: Floats | None, letters: Container[int] = ()) -> None:
    """Say of each outline what it is: from the outermost inwards.

    Parameters
    ----------
    letters
        Those that are letters beyond doubt: their `id`.
    """
    waiting = [outline for outline in found if outline.parent is None]
    largest = max((float(np.ptp(outline.ring.points, axis=0).max()) for outline in found), default=0.0)
    # A layer for frames on which everything is drawn, such as a program's only one, "Background", says nothing.
    by_layer = not all(is_called(outline.layer, "frame") for outline in found)
    while waiting:
        outline = waiting.pop()
        if outline.part == "another size":
            waiting += [child for child in outline.children if child.part == "another size"]
            continue
        if outline.told:
            outline.part = "piece"
        elif outline.is_small and largest >= LEAST_SET:
            outline.part, outline.why = "sign", "it is no larger than a mark or a letter, and is outside every piece"
        elif id(outline) in letters:
            outline.part, outline.why = "sign", LETTERS
        elif any(is_called(name, "test_square") for name in _names(outline)):
            outline.part, outline.why = "test square", "it is a square for checking the scale of a print"
        elif (
            outline.is_rectangle
            and not outline.children
            and (said := scale_square(outline.ring.points, _lines(outline)))
        ):
            outline.part, outline.why = "test square", said
        elif why := _frame(outline, page, len(found), by_layer=by_layer):
            outline.part = "frame"
            outline.why, outline.sure = why
            for child in outline.inner():
                if child.is_rectangle and _touches(child, outline):
                    child.part, child.why, child.sure = "frame", "it stands on the frame", False
            waiting += [child for child in outline.children if child.part != "frame"]
            _leave_with(outline, [c for c in outline.children if c.part == "frame"])
            continue
        else:
            outline.part = "piece"
        _within(outline, waiting, letters)


def _leave_with(frame: Outline, parts: Iterable[Outline]) -> None:
    for part in parts:
        part.owner = frame
        for inner in part.children:
            inner.part, inner.why, inner.sure = "frame", "it stands on the frame", False
            _leave_with(frame, [inner])


def _names(outline: Outline) -> list[str]:
    return [name for name in (outline.ring.called, outline.layer, *_lines(outline)) if name]


def _lines(outline: Outline) -> list[str]:
    """The lines of what is written in it."""
    return [said for word in outline.words for line in word.text.splitlines() if (said := line.strip())]


def _frame(outline: Outline, page: Floats | None, many: int, *, by_layer: bool = True) -> tuple[str, bool] | None:
    """Why an outline is a frame or a background, and whether that is sure; None if it is a piece."""
    named = (outline.ring.called, outline.layer if by_layer else "")
    if any(is_called(name, "frame") for name in named if name):
        return "it has that name", True
    is_named = bool(outline.ring.called) and not outline.ring.is_ground
    if page is not None and many > 1 and outline.is_rectangle and not is_named and _is_page(outline, page):
        return "it is as large as the page", outline.ring.is_ground
    if not (outline.is_rectangle and outline.inner()) or outline.ring.called or outline.marks:
        return None
    inner = list(outline.inner())
    if any(read_words(word.text).says_how and not _is_beside(word, inner) for word in outline.words):
        return None
    if any(child.ring.area and child.ring.area == outline.ring.area for child in inner):
        return None
    if any(child.words or child.ring.called or child.marks or _own_layer(child, outline) for child in inner):
        return "it is a rectangle round outlines with their own names or marks", False
    shapes = [child for child in inner if not child.is_rectangle]
    if len(inner) > 1 and outline.parent is None and shapes:
        return "it is a rectangle round several others", False
    if len(inner) > 1 and outline.parent is None and _is_sheet(outline, inner, page):
        return "it is a rectangle round several others, which fill it like a sheet", False
    if shapes and not evenly_within(inner[0], outline):
        return "it is a rectangle round another shape", False
    return None


def _is_sheet(outline: Outline, inner: Sequence[Outline], page: Floats | None) -> bool:
    """Whether a rectangle is nearly as large as the page, or others fill it, or there are many of them."""
    if page is not None:
        low, high = page.min(axis=0), page.max(axis=0)
        if bool((np.abs(outline.box - [low, high]) <= SHEET_OFF * (high - low)).all()):
            return True
    return len(inner) > 2 or sum(child.size for child in inner) >= SHEET_FILLED * outline.size


def _is_beside(word: Word, outlines: Iterable[Outline]) -> bool:
    """Whether words stand beside one of several outlines."""
    import shapely

    areas = [outline.area for outline in outlines]
    return bool(shapely.dwithin(areas, shapely.Point(word.place), BESIDE).any())


def is_around(outline: Outline, page: Floats | None) -> bool:
    """Whether an outline is a frame beyond doubt, or a rectangle round what are no rectangles."""
    sure = _frame(outline, page, 2)
    others = list(outline.inner())
    round_others = outline.is_rectangle and (len(others) > 1 or any(not child.is_rectangle for child in others))
    return round_others or (sure is not None and sure[1])


def _is_page(outline: Outline, page: Floats) -> bool:
    low, high = page.min(axis=0), page.max(axis=0)
    return bool((outline.box[0] <= low + PAGE_OFF).all() and (outline.box[1] >= high - PAGE_OFF).all())


def _touches(child: Outline, frame: Outline) -> bool:
    return bool(np.abs(child.box - frame.box).min() < PAGE_OFF)


def _within(piece: Outline, waiting: list[Outline], letters: Container[int]) -> None:
    """Say of all outlines in a piece what they are; those that are pieces of their own are put with the others."""
    inside = list(piece.children)
    while inside:
        outline = inside.pop(0)
        if outline.part == "another size":
            inside += outline.children
            continue
        outline.owner = piece
        if id(outline) in letters and not outline.told:
            outline.part, outline.why = "sign", LETTERS
            inside += outline.children
            continue
        if (outline.told or not outline.is_small) and (why := _own(outline, piece)):
            outline.owner, outline.why = None, why
            waiting.append(outline)
            continue
        inside += outline.children
        if piece.part != "piece":
            outline.part, outline.why = piece.part, piece.why
        elif outline.is_small:
            outline.part = "drill point" if outline.is_point else "sign"
            outline.why = "" if outline.is_point else "it is as small as a letter, but not the shape of a mark"
        elif outline.ring.area and outline.ring.area == piece.ring.area:
            outline.part = "cutout"
        elif outline.parent is piece and len(list(piece.inner())) == 1 and evenly_within(outline, piece):
            outline.part, outline.sure = "sew line", False
            outline.why = "it runs inside the outline at an even distance"
            if _is_round(outline) and _is_round(piece):
                outline.why += MAY_BE_HOLE
        else:
            outline.part, outline.sure = "inner line", False
            outline.why = "it has no name"


def _is_round(outline: Outline) -> bool:
    """Whether an outline is nearly a circle."""
    return outline.size >= ROUND / (4 * np.pi) * float(outline.area.length) ** 2


def _own(outline: Outline, piece: Outline) -> str:
    """Why an outline within a piece is a piece of its own; empty if it is not."""
    if outline.told == "told" or (outline.told and not piece.told):
        return "you said so" if outline.told == "told" else "by your legend"
    if piece.part == "test square":
        return ""
    if outline.ring.called and outline.ring.called != piece.ring.called:
        return f"it is called '{outline.ring.called}'"
    if _own_layer(outline, piece):
        return f"it is on its own layer, '{outline.layer}'"
    if not outline.words or evenly_within(outline, piece):
        return ""
    if (
        any(read_words(word.text).says_how for word in outline.words)
        or piece.words
        or outline.size < SMALL * piece.size
    ):
        return "it has its own text"
    return ""


def _own_layer(outline: Outline, around: Outline) -> bool:
    return bool(outline.layer) and outline.ring.groups != around.ring.groups and not is_size(outline.layer)


def evenly_within(inner: Outline, outer: Outline) -> bool:
    """Whether a line runs within another at the same distance along most of its length."""
    import shapely

    line = shapely.LinearRing(inner.ring.points)
    steps = np.linspace(0, 1, 200, endpoint=False)
    places = shapely.line_interpolate_point(line, steps, normalized=True)
    apart = shapely.distance(places, shapely.LinearRing(outer.ring.points))
    middle = float(np.median(apart))
    even = np.abs(apart - middle) <= max(0.5, 0.05 * middle)
    return bool(LEAST_ALLOWANCE <= middle <= MOST_ALLOWANCE and even.mean() >= EVEN)
