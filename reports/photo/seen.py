"""What was traced in a photo: the table from straight above, with the outlines of the pieces drawn on it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from reports.output import written_whole

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from numpy.typing import NDArray

    from pieces.photo.mark import PaperMark
    from pieces.photo.traced import TracedPhoto

    Floats = NDArray[np.float64]

COLOUR = (180, 60, 0)
"""Of an outline: blue, green, red."""

PALE = (255, 255, 255)
"""Round it."""

TIMES = 2
"""How much larger the picture is than the view that pieces were looked for in."""


MARKED = {
    "grain": (60, 140, 0),
    "fold": (170, 0, 170),
    "sew line": (200, 140, 0),
    "dart": (0, 0, 210),
    "inner line": (0, 120, 220),
    "notch": (210, 0, 0),
    "drill point": (0, 60, 140),
    "writing": (130, 130, 130),
}
"""Of marks; creases are not drawn."""


def seen_files(photos: Sequence[Path], folder: Path) -> list[Path]:
    """The pictures that `write_seen` writes, one a photo."""
    return [folder / f"seen-{number}.jpg" for number in range(1, len(photos) + 1)]


def write_seen(photos: Sequence[Path], seen: Sequence[TracedPhoto], folder: Path) -> list[Path]:
    """Draw what was seen in each photo."""
    paths = seen_files(photos, folder)
    for path, photo in zip(paths, seen, strict=True):
        with written_whole(path) as temporary:
            temporary.write_bytes(seen_jpeg(photo))
    return paths


def seen_jpeg(photo: TracedPhoto, widest: int = 5000) -> bytes:
    """The table from straight above, with what was traced drawn on it: a JPEG, no longer than `widest`, pixels."""
    import cv2

    view = photo.view
    large = np.asarray(cv2.resize(view.pixels, None, fx=TIMES, fy=TIMES, interpolation=cv2.INTER_CUBIC))
    for piece in photo.pieces:
        at = ((piece.outline.points - view.first) / view.step * TIMES)[:, ::-1]
        ring = np.rint(at * 16).astype(np.int32)
        for colour, wide in ((PALE, 6), (COLOUR, 3)):  # seen on dark tables and on light ones
            cv2.polylines(large, [ring], True, colour, wide, cv2.LINE_AA, 4)
        for mark in piece.marks:
            if mark.kind in MARKED:
                _draw(large, (mark.points - view.first) / view.step * TIMES, mark)
        for run in piece.outline.runs:
            x, y = ((run.points[0] - view.first) / view.step * TIMES)[::-1]
            cv2.circle(large, (round(x), round(y)), 5, COLOUR, 2, cv2.LINE_AA)
        _write(large, at, piece.name)
    factor = widest / max(large.shape[:2])
    if factor < 1:
        large = np.asarray(cv2.resize(large, None, fx=factor, fy=factor, interpolation=cv2.INTER_AREA))
    is_done, data = cv2.imencode(".jpg", large, [cv2.IMWRITE_JPEG_QUALITY, 85])
    assert is_done
    return np.asarray(data).tobytes()


def _write(picture: Any, ring: Floats, name: str) -> None:
    """The name of a piece, well within it."""
    import cv2
    import shapely

    within = shapely.maximum_inscribed_circle(shapely.Polygon(ring).buffer(0), tolerance=4.0)
    x, y = np.rint(shapely.get_coordinates(within)[0]).astype(int).tolist()
    (wide, high), _ = cv2.getTextSize(name, cv2.FONT_HERSHEY_SIMPLEX, 1.0, 2)
    for colour, thick in ((PALE, 7), (COLOUR, 2)):
        at = (x - wide // 2, y + high // 2)
        cv2.putText(picture, name, at, cv2.FONT_HERSHEY_SIMPLEX, 1.0, colour, thick, cv2.LINE_AA)


def _draw(picture: Any, at: Floats, mark: PaperMark) -> None:
    """A mark in its colour; a point as a ring."""
    import cv2

    columns = at[:, ::-1]
    if len(at) == 1:
        x, y = np.rint(columns[0]).astype(int).tolist()
        cv2.circle(picture, (x, y), 9, MARKED[mark.kind], 2, cv2.LINE_AA)
        return
    is_closed = mark.is_ring or mark.kind == "writing"
    cv2.polylines(picture, [np.rint(columns * 16).astype(np.int32)], is_closed, MARKED[mark.kind], 2, cv2.LINE_AA, 4)
