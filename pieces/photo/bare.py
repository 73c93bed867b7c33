"""A bare sheet of paper of known sides as what a photo is measured by: less sure than the reference sheet."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from pieces.errors import FormatError
from pieces.photo.camera import BENT, Camera, find_camera, fitted_values, projected, usual_lens
from pieces.photo.together import JoinedTable

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Grey = NDArray[np.uint8]

TRUE_TO = 0.5
"""Sides of paper as sold, or as read off a ruler, are true to this, mm: common practice, no source."""

COARSE = 1600
"""Sheets are looked for in a picture whose long side is no more, pixels."""

LEAST_SHARE = 0.01
"""Of the picture: a smaller sheet says too little."""

SHAPE_OFF = 0.012
"""How far the corners of a sheet may be off those of one of its sides, in shares of its longer side."""

APART = 0.1
"""Things whose middles are no further apart are one, in shares of the longest way across."""

FULL = 0.98
"""A sheet fills the quadrangle of its corners to this share."""

MOST_LEAN, FOCALS = 30.0, (0.55, 1.3)
"""Four corners fit many shapes, if the camera may lean and zoom at will: it may not by more than this, degrees and long
sides of the picture."""

ALONG, BARE, REACH = 40, 0.07, 4.0
"""Points along a side; in which share of it, at its ends, there are none; how far across its edge is looked for, mm."""

ROUNDS = 4

LEAST_NOISE = 0.15
"""The edge of a sheet is not known better than this, pixels: what sheets that are not quite straight leave of it."""

LEAST_FINE = 1.8
"""A millimetre must have so many pixels on the sheet."""

LOOSE = np.array([0.3, 0.015, 0.015, 0.12, 0.06, 0.002, 0.002, 0.02])
"""How far the lens may be off the usual one, as `camera.LOOSE`: lenses as phones straighten what they send, and twice
that. Four edges say too little of others."""

MOST_BENT = 0.8
"""So far may the terms of a lens be off, all together, in squared shares of `LOOSE`. Of 1200 cameras without pictures,
with edges known to a tenth of a pixel, the 400 as phones straighten them come to 0.74 at the most. Of 400 with lenses
of real cameras (`benchmarks/photos.py`) two come below it, both too unsure to be taken; of 400 with the same lenses,
less bent, one of the 28 that are taken was further off than was told, by 7 %."""


def find_bare_sheet(grey: Grey, name: str, sides: tuple[float, float]) -> JoinedTable:
    """The camera by a sheet of paper with these sides.

    Raises
    ------
    FormatError
        If there is none, more than one, or it says too little.
    """
    size = (grey.shape[1], grey.shape[0])
    corners = _corners(*sides)
    found = [off for quad in _quads(grey) if (off := _off(quad, corners, size)) is not None]
    kept: list[Camera] = []
    for _, camera in sorted((each for each in found if each[0] < SHAPE_OFF), key=lambda each: each[0]):
        seen = camera.project(np.vstack([corners, corners.mean(axis=0)]))
        aside = [np.hypot(*(other.project(corners.mean(axis=0)[None])[0] - seen[4])) for other in kept]
        if all(away > APART * np.hypot(*(seen[2] - seen[0])) for away in aside):
            kept.append(camera)
    what = f"a sheet of {sides[0]:g} by {sides[1]:g} mm"
    if not kept:
        raise FormatError(
            f"{name}: {what} is not found: lay it flat beside the pattern on a table of another colour, all of it in"
            " the picture, with nothing on it, and hold the camera level above the middle; or use the printed reference"
            " sheet"
        )
    if len(kept) > 1:
        raise FormatError(f"{name}: more than one thing has the shape of {what}: leave one of them in the picture")
    camera = kept[0]
    if float(camera.fineness(corners).min()) < LEAST_FINE:
        raise FormatError(f"{name} shows the sheet too small: go nearer, or use the camera's full size")
    for _ in range(ROUNDS):
        edges = _edges(grey, camera, sides)
        if edges is None or len(edges[0]) < 2 * ALONG:
            raise FormatError(f"{name}: the edges of {what} are not clear: lay it flat on a table of another colour")
        camera = _by_edges(camera, *edges, size)
    usual, loose = usual_lens(size, LOOSE)
    bent = (camera.values[: len(usual)] - usual) / loose
    if float((bent[BENT:] ** 2).sum()) > MOST_BENT:
        raise FormatError(
            f"{name}: the lens bends the edges of {what} more than a bare sheet can make good: take the photo with a"
            " telephone's main lens, at zoom 1, or use the printed reference sheet"
        )
    around = corners + np.sign(corners - corners.mean(axis=0)) * 6.0
    return JoinedTable((camera,), (around,), TRUE_TO / sides[1])


def _corners(long: float, wide: float) -> Floats:
    return np.array([(0.0, 0.0), (0.0, wide), (long, wide), (long, 0.0)])


def _quads(grey: Grey) -> list[Floats]:
    """Things in a picture that have four corners, pixels."""
    import cv2

    factor = min(1.0, COARSE / max(grey.shape))
    small: Any = cv2.resize(grey, None, fx=factor, fy=factor, interpolation=cv2.INTER_AREA)
    small = cv2.GaussianBlur(small, (0, 0), 1.5)
    least = LEAST_SHARE * small.shape[0] * small.shape[1]
    found = []
    masks = [np.asarray(small > level, np.uint8) for level in np.percentile(np.asarray(small), np.arange(40, 99, 4))]
    edges: Any = cv2.dilate(cv2.Canny(np.asarray(small), 30, 90), np.ones((3, 3), np.uint8))
    masks.append(np.asarray(edges == 0, np.uint8))
    for mask in masks:
        contours, _ = cv2.findContours(mask, cv2.RETR_LIST, cv2.CHAIN_APPROX_SIMPLE)
        for contour in contours:
            if cv2.contourArea(contour) < least:
                continue
            around: Any = cv2.approxPolyDP(contour, 0.02 * cv2.arcLength(contour, True), True)
            if len(around) != 4 or not cv2.isContourConvex(around):
                continue
            is_full = abs(cv2.contourArea(contour) / cv2.contourArea(around) - 1) < 1 - FULL
            quad = np.asarray(around, dtype=np.float64).reshape(4, 2)
            inside = (quad > 3).all() and (quad < np.array(small.shape[::-1]) - 4).all()
            if is_full and inside:
                found.append((quad + 0.5) / factor - 0.5)
    return found


def _off(quad: Floats, corners: Floats, size: tuple[int, int]) -> tuple[float, Camera] | None:
    """How far four corners are off those of the sheet, in shares of its longer side, and the camera by them."""
    import cv2

    area = float(np.sum(quad[:, 0] * np.roll(quad[:, 1], -1) - quad[:, 1] * np.roll(quad[:, 0], -1)))
    if area < 0:
        quad = quad[::-1]  # clockwise as seen
    best: tuple[float, Camera] | None = None
    for turn in range(4):
        pixels = np.roll(quad, -turn, axis=0)
        if pixels[2, 1] + pixels[3, 1] < pixels[0, 1] + pixels[1, 1]:
            continue  # x runs down the picture
        try:
            camera, _ = find_camera(corners, pixels, size, 1.0, LOOSE)
        except (cv2.error, np.linalg.LinAlgError):
            continue
        if not np.isfinite(camera.values).all():
            continue
        focal = float(np.exp(camera.values[0])) / max(size)
        if camera.tilt > MOST_LEAN or not FOCALS[0] < focal < FOCALS[1]:
            continue
        missed = np.hypot(*(camera.project(corners) - pixels).T).max()
        off = float(missed / np.hypot(*(pixels[3] - pixels[0])))
        if best is None or off < best[0]:
            best = (off, camera)
    return best


def _by_edges(camera: Camera, points: Floats, pixels: Floats, across: Floats, size: tuple[int, int]) -> Camera:
    """The camera by points of edges, which tell where they lie across the edge alone."""
    usual, loose = usual_lens(size, LOOSE)
    off = np.einsum("nd,nd->n", camera.project(points) - pixels, across)
    noise = max(LEAST_NOISE, 1.4826 * float(np.median(np.abs(off))))
    near = np.abs(off) < 5 * noise
    points, pixels, across = points[near], pixels[near], across[near]

    def missed(values: Floats) -> tuple[Floats, Floats]:
        seen, slope = projected(values, points)
        lens = np.eye(len(usual), len(values)) / loose[:, None]
        by_value = np.einsum("nd,ndv->nv", across, slope.reshape(len(points), 2, -1))
        gone = np.einsum("nd,nd->n", across, pixels - seen)
        return np.concatenate([gone / noise, (usual - values[: len(usual)]) / loose]), np.vstack(
            [by_value / noise, lens]
        )

    values, spread = fitted_values(camera.values, missed)
    rms = float(np.sqrt(np.mean(missed(values)[0][: len(points)] ** 2))) * noise
    return Camera(values, spread, rms)


def _edges(grey: Grey, camera: Camera, sides: tuple[float, float]) -> tuple[Floats, Floats, Floats] | None:
    """Points along the sides, where their edges are seen, and the direction across them in the picture.

    None if one of the sides shows no edge.
    """
    import cv2

    corners = _corners(*sides)
    points, targets, ways = [], [], []
    steps = np.arange(-REACH, REACH + 0.05, 0.1)
    for a, b in zip(corners, np.roll(corners, -1, axis=0), strict=True):
        along = (b - a) / np.hypot(*(b - a))
        across = np.array([along[1], -along[0]])
        own = a + np.linspace(BARE, 1 - BARE, ALONG)[:, None] * (b - a)
        lines = own[:, None] + steps[None, :, None] * across
        at = camera.project(lines.reshape(-1, 2)).astype(np.float32).reshape(*lines.shape)
        seen: Any = cv2.remap(grey, at[..., 0], at[..., 1], cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
        values = np.asarray(seen, dtype=np.float64)
        summed = np.cumsum(values, axis=1)
        width = 7
        means = (summed[:, width:] - summed[:, :-width]) / width
        change = np.abs(means[:, width:] - means[:, :-width])
        best = change.argmax(axis=1)
        usual = float(np.median(change.max(axis=1)))
        inner = np.clip(best, 1, change.shape[1] - 2)
        rows = np.arange(len(best))
        before, here, after = (change[rows, inner + by] for by in (-1, 0, 1))
        bend = before - 2 * here + after
        between = np.where(bend < 0, np.clip(0.5 * (before - after) / np.minimum(bend, -1e-9), -0.5, 0.5), 0.0)
        place = steps[0] + 0.1 * (inner + width + 0.5 + between)
        kept = (here > 0.5 * usual) & (usual > 8) & (np.abs(place) < REACH - 0.8)
        if not kept.any():
            continue
        points.append(own[kept])
        targets.append(camera.project(own[kept] + place[kept, None] * across))
        edge = camera.project(own[kept] + along) - camera.project(own[kept] - along)
        edge /= np.maximum(np.hypot(*edge.T), 1e-9)[:, None]
        ways.append(np.column_stack([-edge[:, 1], edge[:, 0]]))
    if len(points) < len(corners):
        return None  # a side without an edge is none
    return np.vstack(points), np.vstack(targets), np.vstack(ways)
