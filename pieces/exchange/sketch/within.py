"""Outlines of a drawing that lie in one another: which are pieces, which frames round them, which lines on them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from pieces.exchange.sketch.scale_square import scale_square
from pieces.exchange.words.words import is_called, is_size, read_words

if TYPE_CHECKING:
    from collections.abc import Container, Iterable, Sequence

    from numpy.typing import NDArray

    from pieces.exchange.drawing import Word
    from pieces.exchange.sketch.outline import Outline

    Floats = NDArray[np.float64]

LEAST_SET = 60.0
"""Where an outline is at least this large, mm, those as small as marks that lie in no piece are none themselves."""

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
            outline.part = "test square"
            outline.why, outline.sure = said
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
