"""What was traced in a photo: the table from straight above, with the outlines of the pieces drawn on it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from reports.output import written_whole

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from pieces.photo.trace import TracedPhoto

COLOUR = (180, 60, 0)
"""Of an outline: blue, green, red."""

TIMES = 2
"""How much larger the picture is than the view that pieces were looked for in."""


def seen_files(photos: Sequence[Path], folder: Path) -> list[Path]:
    """The pictures that `write_seen` writes, one a photo."""
    return [folder / f"seen-{number}.jpg" for number in range(1, len(photos) + 1)]


def write_seen(photos: Sequence[Path], seen: Sequence[TracedPhoto], folder: Path) -> list[Path]:
    """Draw what was seen in each photo."""
    import cv2

    paths = seen_files(photos, folder)
    for path, photo in zip(paths, seen, strict=True):
        view = photo.view
        large = np.asarray(cv2.resize(view.pixels, None, fx=TIMES, fy=TIMES, interpolation=cv2.INTER_CUBIC))
        for piece in photo.pieces:
            at = ((piece.outline.points - view.first) / view.step * TIMES)[:, ::-1]
            ring = np.rint(at * 16).astype(np.int32)
            cv2.polylines(large, [ring], True, COLOUR, 2, cv2.LINE_AA, 4)
            for run in piece.outline.runs:
                x, y = ((run.points[0] - view.first) / view.step * TIMES)[::-1]
                cv2.circle(large, (round(x), round(y)), 5, COLOUR, 2, cv2.LINE_AA)
            middle = np.rint(at.mean(axis=0)).astype(int).tolist()
            cv2.putText(large, piece.name, (middle[0] - 60, middle[1]), cv2.FONT_HERSHEY_SIMPLEX, 1.0, COLOUR, 2)
        is_done, data = cv2.imencode(".jpg", large, [cv2.IMWRITE_JPEG_QUALITY, 85])
        assert is_done
        with written_whole(path) as temporary:
            temporary.write_bytes(np.asarray(data).tobytes())
    return paths
