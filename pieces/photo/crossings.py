"""Corners of a board's squares to hundredths of a pixel: each by the four edges that meet in it, along their length."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from pieces.photo.camera import Camera

    Floats = NDArray[np.float64]
    Grey = NDArray[np.uint8]

NEAR, FAR, LINES = 1.6, 6.8, 14
"""Of an edge so much is looked at on each side of a corner, mm, along so many lines across it."""

ACROSS, STEP = 1.7, 0.1
"""How far across it; beyond that a code may be printed, mm."""

ROUNDS = 3

MOST_OFF = 1.0
"""An edge that lies further off, mm, is hidden, or another's."""

LEAST_CONTRAST = 0.4
"""An edge that is so much weaker than others of the sheet says nothing, in shares of their contrast."""


def crossed_corners(grey: Grey, camera: Camera, places: Floats) -> tuple[Floats, NDArray[np.bool_]]:
    """Where corners are seen, pixels, and of which of them all four edges are.

    Each edge has black on one side of the corner and on the other beyond it: so ink that spread, and light that swells
    white, move its halves apart and not the corner.

    Parameters
    ----------
    camera
        That sees them to a millimetre or so.
    places
        The corners on the sheet, mm.
    """
    along = np.linspace(NEAR, FAR, LINES)
    steps = np.arange(-ACROSS, ACROSS + STEP / 2, STEP)
    profiles = np.stack(
        [_profiles(grey, camera, places, axis, way * along, steps) for axis in (0, 1) for way in (-1, 1)]
    )
    off, is_clear = _shifts(profiles, steps)
    # Edges along x tell where the corner lies along y, and the other way round.
    moved = np.stack([off[2:].mean(axis=0), off[:2].mean(axis=0)], axis=-1)
    found = camera.project(places + np.where(np.isfinite(moved), moved, 0.0))
    return found, is_clear.all(axis=0) & np.isfinite(moved).all(axis=1)


def _profiles(grey: Grey, camera: Camera, places: Floats, axis: int, along: Floats, steps: Floats) -> Floats:
    """The light across one half of an edge along an axis, of every corner: shape (corners, steps)."""
    import cv2

    way, across = np.eye(2)[axis], np.eye(2)[1 - axis]
    points = places[:, None, None] + along[None, :, None, None] * way + steps[None, None, :, None] * across
    at = camera.project(points.reshape(-1, 2)).astype(np.float32).reshape(len(places), -1, 2)
    seen: Any = cv2.remap(grey, at[..., 0], at[..., 1], cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    halves: Floats = np.asarray(seen, dtype=np.float64).reshape(len(places), len(along), len(steps))
    return np.asarray(halves.mean(axis=1))


def _shifts(profiles: Floats, steps: Floats) -> tuple[Floats, NDArray[np.bool_]]:
    """How far each edge lies off where it was expected, mm, and whether it is one: by the usual edge of the sheet."""
    rise = profiles[..., -5:].mean(axis=-1) - profiles[..., :5].mean(axis=-1)
    usual = float(np.median(np.abs(rise)))
    is_clear = np.abs(rise) > LEAST_CONTRAST * max(usual, 1.0)
    level = (profiles[..., :5].mean(axis=-1) + profiles[..., -5:].mean(axis=-1)) / 2
    even = (profiles - level[..., None]) / np.where(is_clear, rise, 1.0)[..., None]
    off = np.zeros(rise.shape)
    for _ in range(ROUNDS):
        # The usual edge, by all of them where they lie now; then where each lies, by the usual edge.
        shifted = np.stack([_moved(row, steps, by) for row, by in zip(even[is_clear], off[is_clear], strict=True)])
        edge = np.median(shifted, axis=0)
        for at in np.argwhere(is_clear):
            n = tuple(at)
            off[n] = _fitted(even[n], edge, steps, off[n])
    return off, is_clear & (np.abs(off) < MOST_OFF)


def _moved(row: Floats, steps: Floats, by: float) -> Floats:
    """A profile as it would be if its edge lay further back."""
    return np.asarray(np.interp(steps + by, steps, row))


def _fitted(row: Floats, edge: Floats, steps: Floats, off: float) -> float:
    """How far the edge in a profile lies off, by the usual edge made brighter and moved, with the least squares."""
    like = np.interp(steps - off, steps, edge)
    slope = np.interp(steps - off, steps, np.gradient(edge, steps))
    basis = np.column_stack([slope, like, np.ones(len(steps))])
    moved, gain, _ = np.linalg.lstsq(basis, row, rcond=None)[0].tolist()
    return off - moved / gain if gain > 0 else np.inf
