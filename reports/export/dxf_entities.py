"""Lines, words, points and placed blocks into DXF: there are many of them, and ezdxf writes them tag by tag.

Each is written as the text of its tags (DXF reference, R2000), in the layout and with the handle that ezdxf gives it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Sequence

    import numpy as np
    from ezdxf.layouts.base import BaseLayout
    from numpy.typing import NDArray

    from pieces.piece.curve import Point

    Floats = NDArray[np.float64]

CENTRED = 1
"""How words stand across the point that they are written at: their middle on it, their foot at its height."""

HIDDEN = 1
"""Of an attribute: it is not shown."""

ATTRIBUTE_LETTERS = 2.5
"""Height of the letters of attributes, were they shown, mm."""


class _Tags:
    """An entity as the text of its tags: as much of one as ezdxf's writer sees."""

    is_alive = True

    def __init__(self, text: str) -> None:
        self._text = text

    def export_dxf(self, tagwriter: Any) -> None:
        """Write it."""
        tagwriter.write_str(self._text)


def add_line(layout: BaseLayout, points: Floats, layer: str) -> None:
    """Add a straight line between two points."""
    ends = [(code + 10 * axis, value) for code, end in ((10, points[0]), (11, points[1])) for axis, value in
            enumerate((*end.tolist(), 0.0))]  # fmt: skip
    _add(layout, "LINE", layer, (100, "AcDbLine"), *ends)


def add_polyline(layout: BaseLayout, points: Floats, layer: str, *, close: bool) -> None:
    """Add a polyline, shape (n, 2), closed or not."""
    corners = " 10\n%r\n 20\n%r\n" * len(points) % tuple(points.ravel().tolist())
    head = ((100, "AcDbPolyline"), (90, len(points)), (70, int(close)))
    _add(layout, "LWPOLYLINE", layer, *head, corners=corners)


def add_words(layout: BaseLayout, words: str, at: Point, height: float, layer: str, *, centred: bool = False) -> None:
    """Add a line of words: from a point on or, centred, with its middle there."""
    place = ((10, at[0]), (20, at[1]), (30, 0.0), (40, height), (1, words))
    middle = ((72, CENTRED), (11, at[0]), (21, at[1]), (31, 0.0)) if centred else ()
    _add(layout, "TEXT", layer, (100, "AcDbText"), *place, *middle, (100, "AcDbText"))


def add_point(layout: BaseLayout, at: Point, layer: str, *, thickness: float = 0.0, angle: float = 0.0) -> None:
    """Add a point."""
    more = [(code, value) for code, value in ((39, thickness), (50, angle)) if value]
    _add(layout, "POINT", layer, (100, "AcDbPoint"), (10, at[0]), (20, at[1]), (30, 0.0), *more)


def add_placed(
    layout: BaseLayout, block: str, at: Point, layer: str, attributes: Sequence[tuple[str, str]], hidden_on: str
) -> None:
    """Place a block, with hidden attributes that lie on a layer: tag and words of each."""
    place = ((10, at[0]), (20, at[1]), (30, 0.0))
    follow = ((66, 1),) if attributes else ()
    handle = _add(layout, "INSERT", layer, (100, "AcDbBlockReference"), *follow, (2, block), *place)
    for tag, words in attributes:
        text = ((100, "AcDbText"), *place, (40, ATTRIBUTE_LETTERS), (1, words))
        _add(layout, "ATTRIB", hidden_on, *text, (100, "AcDbAttribute"), (2, tag), (70, HIDDEN))
    if attributes:
        _add(layout, "SEQEND", layer, owner=handle)


def _add(layout: BaseLayout, kind: str, layer: str, *tags: tuple[int, Any], owner: str = "", corners: str = "") -> str:
    """Add an entity by its own tags, after those that all have, and the text of its corners; its handle."""
    document = layout.doc
    assert document is not None
    handle = document.entitydb.handles.next()
    head = ((0, kind), (5, handle), (330, owner or layout.block_record_handle), (100, "AcDbEntity"), (8, layer))
    text = "".join([f"{code:>3}\n{value}\n" for code, value in (*head, *tags)] + [corners])
    layout.entity_space.entities.append(_Tags(text))  # type: ignore[arg-type]
    return str(handle)
