"""What is seen of the table, in one photo or in several that lie over one another."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from pieces.photo.camera import Camera

    Floats = NDArray[np.float64]
    Pixels = NDArray[np.uint8]
    Singles = NDArray[np.float32]

BAND = 128
"""Rows of a view that are looked for at once: more take more memory."""

GRID = 8
"""Lenses bend so little that pixels of a view between every eighth one are where they should be."""


@dataclass(frozen=True, eq=False)
class SeenPhoto:
    """A photo, and the camera that took it.

    Parameters
    ----------
    gain
        By how much each of its colours is to be brightened, so that it is as bright as the others.
    scale
        By how much it was made smaller since, along both sides.
    """

    photo: Pixels
    camera: Camera
    gain: Floats = field(default_factory=lambda: np.ones(3))
    scale: tuple[float, float] = (1.0, 1.0)

    def pixels(self, points: Floats) -> Floats:
        """Where points of the table are in it: column and row."""
        found = self.camera.project(points)
        return found if self.scale == (1.0, 1.0) else (found + 0.5) * self.scale - 0.5

    def central(self, at: Any) -> Any:
        """How far pixels, column and row, lie within the picture, in shares of its shorter side."""
        high, wide = self.photo.shape[:2]
        x, y = at[..., 0], at[..., 1]
        return np.minimum(np.minimum(x - 1, wide - 2 - x), np.minimum(y - 1, high - 2 - y)) / min(high, wide)

    def colours(self, at: Singles) -> Any:
        """The colours at pixels, as bright as in the other photos."""
        import cv2

        seen: Any = cv2.remap(self.photo, at[..., 0], at[..., 1], cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
        return seen if (self.gain == 1).all() else np.clip(np.asarray(seen) * self.gain, 0, 255).astype(np.uint8)


def across_edge(looks: Sequence[SeenPhoto], lines: Floats) -> Floats:
    """The colours along lines on the table, each line in the photo that has it most within: (lines, points, 3)."""
    flat = lines.reshape(-1, 2)
    at = [look.pixels(flat).astype(np.float32).reshape(*lines.shape) for look in looks]
    seen = [np.asarray(look.colours(pixels), dtype=np.float64) for look, pixels in zip(looks, at, strict=True)]
    if len(looks) == 1:
        return seen[0]
    best = best_of(looks, lines[:, lines.shape[1] // 2], ends=(lines[:, 0], lines[:, -1]))
    return np.asarray(np.stack(seen)[best, np.arange(len(lines))])


def best_of(looks: Sequence[SeenPhoto], points: Floats, ends: Sequence[Floats] = ()) -> NDArray[np.int64]:
    """In which photo each point of the table lies most within."""
    central = [np.min([look.central(look.pixels(each)) for each in (points, *ends)], axis=0) for look in looks]
    return np.asarray(np.argmax(central, axis=0))


def doubt_at(looks: Sequence[SeenPhoto], points: Floats) -> Floats:
    """By how much points may be off, mm, each in the photo that it is taken from."""
    best = best_of(looks, points)
    return np.stack([look.camera.doubt(points) for look in looks])[best, np.arange(len(points))]


def fineness_at(looks: Sequence[SeenPhoto], points: Floats) -> Floats:
    """Pixels that a millimetre has at points, each in the photo that it is taken from."""
    best = best_of(looks, points)
    return np.stack([look.camera.fineness(points) for look in looks])[best, np.arange(len(points))]


def table_pixels(
    looks: Sequence[SeenPhoto], low: Floats, step: float, shape: tuple[int, int]
) -> tuple[Pixels, NDArray[np.bool_]]:
    """The table from straight above: its pixels from `low` on, x by rows, y by columns; and which are in a photo."""
    rows, columns = shape
    found = np.zeros((rows, columns, 3), np.uint8)
    is_seen = np.zeros(shape, bool)
    for first in range(0, rows, BAND):
        band = slice(first, min(first + BAND, rows))
        best = np.full((band.stop - first, columns), -np.inf, np.float32)
        for look in looks:
            at = _placed(look, low + (step * first, 0.0), step, best.shape)
            central = look.central(at)
            nearer = central > best
            found[band][nearer] = np.asarray(look.colours(at))[nearer]
            best = np.maximum(best, central)
        is_seen[band] = best > 0
    return found, is_seen


def _placed(look: SeenPhoto, low: Floats, step: float, shape: tuple[int, ...]) -> Singles:
    """In which pixel of a photo each pixel of the view is."""
    rows, columns = shape
    x, y = np.meshgrid(np.arange(0, rows + GRID, GRID), np.arange(0, columns + GRID, GRID), indexing="ij")
    pixels = look.pixels(np.column_stack([low[0] + step * x.ravel(), low[1] + step * y.ravel()]))
    known = pixels.astype(np.float32).reshape(*x.shape, 2)
    down, over = np.arange(rows, dtype=np.float32) / GRID, np.arange(columns, dtype=np.float32) / GRID
    i, j = down.astype(int), over.astype(int)
    u, v = (down - i.astype(np.float32))[:, None, None], (over - j.astype(np.float32))[None, :, None]
    upper, lower = (known[n][:, j] * (1 - v) + known[n][:, j + 1] * v for n in (i, i + 1))
    return np.asarray(upper * (1 - u) + lower * u)
