"""The camera that took a photo: its lens, where it was, and how well both are known."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

FOCAL = 0.75
"""Usual focal length, in long sides of the picture: 26 mm for a frame of 36 by 24 mm, as most phones have it.

Common practice, no source.
"""

LOOSE = np.array([0.35, 0.02, 0.02, 0.12, 0.06, 0.0015, 0.0015, 0.04])
"""How far a lens may be off the usual one: logarithm of its focal length; its centre, in long sides; its terms as
they stand in `Camera`. Common practice, no source; wide enough for real cameras as calibrated (`benchmarks/photos.py`).
"""

AS_REAL = 1.4
"""By so much more than the fit says are places off that a real camera finds: neighbouring corners are off together.
By 26 photos of a printed board, of which five columns of nine tell the other four (`benchmarks/README.md`)."""

LEAST_NOISE = 0.03
"""A corner is not known better than this, pixels: three times what rendered photos leave of it; a sheet that is not
quite flat is another matter (`BOW`)."""

BOW = 0.1
"""A sheet that is laid flat may rise so far over the table, mm: two deviations. Common practice, no source."""

STEPS, FEW_STEPS, LENS, BENT = 400, 60, 8, 3
"""Values of a lens come before those of its place; the terms by which it bends after its focal length and centre."""

LEAST_DAMPING, SETTLED = 1e-10, 1e-8
"""A camera that looks straight down is as well further off with a longer lens: the way there is long and flat."""


@dataclass(frozen=True, eq=False)
class Camera:
    """A lens and its place, found by points whose places are known.

    Parameters
    ----------
    values
        Logarithm of the focal length, pixels; the centre; two radial terms, two by which the lens is not quite
        straight, and a third radial one; turn and place of the board, mm.
    spread
        How sure each value is, and with which others it goes: covariance.
    rms
        By how much the points were missed, pixels, root mean square.
    bows
        By how much each value is off for each way in which a sheet may rise over the table by `BOW`.
    """

    values: Floats
    spread: Floats
    rms: float
    bows: tuple[Floats, ...] = ()

    def project(self, points: Floats) -> Floats:
        """Where points of the table, mm, are in the picture, pixels."""
        return projected(self.values, points)[0]

    @cached_property
    def tilt(self) -> float:
        """How far the camera looks off straight down, degrees."""
        return float(np.degrees(np.arccos(min(1.0, abs(float(self._turn[2, 2]))))))

    @cached_property
    def _turn(self) -> Floats:
        import cv2

        turn: Any = cv2.Rodrigues(self.values[LENS : LENS + 3])[0]
        return np.asarray(turn, dtype=np.float64)

    def on_table(self, pixels: Floats) -> Floats:
        """Where pixels lie on the table, mm; nan where the lens sees no table."""
        import cv2

        matrix, bent = _lens(self.values)
        rays: Any = cv2.undistortPoints(pixels.reshape(-1, 1, 2), matrix, bent)
        rays = np.column_stack([rays.reshape(-1, 2), np.ones(len(pixels))])
        from_camera = rays @ self._turn
        eye = -self._turn.T @ self.values[LENS + 3 :]
        with np.errstate(divide="ignore", invalid="ignore"):
            far = -eye[2] / from_camera[:, 2]
        found: Floats = eye[:2] + far[:, None] * from_camera[:, :2]
        found[~(far > 0)] = np.nan
        return found

    def fineness(self, points: Floats) -> Floats:
        """Pixels that a millimetre has at points of the table: along the side on which it has fewest."""
        return np.asarray(np.linalg.svd(self._scale(points), compute_uv=False)[:, 1])

    def doubt(self, points: Floats) -> Floats:
        """By how much points of the table may be off, mm, along the worst side: two deviations, as of real cameras."""
        by_value = projected(self.values, points)[1].reshape(len(points), 2, -1)
        moved = np.linalg.solve(self._scale(points), by_value)
        spread = 4 * AS_REAL**2 * moved @ self.spread @ moved.transpose(0, 2, 1)
        for bow in self.bows:
            aside = moved @ bow
            spread += aside[:, :, None] * aside[:, None, :]
        return np.asarray(np.sqrt(np.linalg.eigvalsh(spread)[:, 1]))

    def _scale(self, points: Floats) -> Floats:
        """How pixels follow millimetres at points, shape (n, 2, 2)."""
        x, y = (self.project(points + by) - self.project(points - by) for by in ((0.5, 0.0), (0.0, 0.5)))
        return np.stack([x, y], axis=-1)


def find_camera(
    points: Floats,
    pixels: Floats,
    size: tuple[int, int],
    known_noise: float | None = None,
    off: Floats = LOOSE,
) -> tuple[Camera, NDArray[np.bool_]]:
    """The camera that sees points of the table at pixels, and which of them it was found by.

    What a single flat board says of the lens is weighed against what lenses usually are.

    Parameters
    ----------
    size
        Width and height of the picture.
    known_noise
        How far pixels are off, where points are too few to tell: none of them is doubted then.
    off
        How far the lens may be off the usual one.
    """
    import cv2

    usual, loose = usual_lens(size, off)
    matrix, bent = _lens(usual)
    solid = np.column_stack([points, np.zeros(len(points))])
    noise = known_noise or 1.0
    tried = []
    # A flat board is seen alike from two places, nearly: the fit goes to the one that it begins at.
    for turn, place in zip(
        *cv2.solvePnPGeneric(solid, pixels, matrix, bent, flags=cv2.SOLVEPNP_IPPE)[1:3], strict=True
    ):
        begun = np.concatenate([usual, np.asarray(turn).ravel(), np.asarray(place).ravel()]).astype(np.float64)
        found, _ = _fitted(begun, points, pixels, usual, loose / noise, FEW_STEPS)
        missed = float(np.median(np.hypot(*(projected(found, points)[0] - pixels).T)))
        if np.isfinite(missed):
            tried.append((missed, found))
    if not tried:
        raise np.linalg.LinAlgError("no camera sees the points so")
    values = min(tried, key=lambda each: each[0])[1]
    kept = np.ones(len(points), dtype=bool)
    for _ in range(1 if known_noise else 4):
        steps = FEW_STEPS if known_noise else STEPS
        values, spread = _fitted(values, points[kept], pixels[kept], usual, loose / noise, steps)
        missing = np.hypot(*(projected(values, points)[0] - pixels).T)
        if known_noise:
            break
        noise = max(LEAST_NOISE, float(np.median(missing[kept])) / 1.1774)  # the median of a Rayleigh distribution
        kept = missing <= 4 * noise
        if kept.sum() < len(usual):
            raise np.linalg.LinAlgError("no camera sees the points so")
    rms = float(np.sqrt(np.mean(missing[kept] ** 2) / 2))
    return Camera(values, spread * noise**2, rms), kept


def usual_lens(size: tuple[int, int], off: Floats = LOOSE) -> tuple[Floats, Floats]:
    """Values of a usual lens for a picture of that width and height, and how far a lens may be off each.

    Parameters
    ----------
    off
        How far, as `LOOSE` has it: its centre in long sides.
    """
    long = float(max(size))
    usual = np.zeros(LENS)
    usual[:3] = np.log(FOCAL * long), (size[0] - 1) / 2, (size[1] - 1) / 2
    loose = off.copy()
    loose[1:3] *= long
    return usual, loose


def _fitted(
    values: Floats, points: Floats, pixels: Floats, usual: Floats, loose: Floats, steps: int
) -> tuple[Floats, Floats]:
    """Values by which points fall on pixels, with the least squares; and the inverse of their normal matrix."""
    weight = np.zeros(len(values))
    weight[:LENS] = 1 / loose
    centre = np.concatenate([usual, np.zeros(len(values) - LENS)])

    def missed(now: Floats) -> tuple[Floats, Floats]:
        seen, by_value = projected(now, points)
        off = np.concatenate([(pixels - seen).ravel(), (centre - now) * weight])
        return off, np.vstack([by_value, np.diag(weight)])

    return fitted_values(values, missed, steps)


def fitted_values(
    values: Floats, missed: Callable[[Floats], tuple[Floats, Floats]], steps: int = STEPS
) -> tuple[Floats, Floats]:
    """Values with the least squares, by steps of Levenberg and Marquardt; and the inverse of their normal matrix.

    Parameters
    ----------
    missed
        What is missed by given values, and how what is reached follows each of them.
    """
    damping, best, kept = 1e-3, np.inf, values
    normal, down = np.eye(len(values)), np.zeros(len(values))
    for _ in range(steps):
        off, slope = missed(values)
        cost = float(off @ off)
        if cost < best:
            gained, best, kept = best - cost, cost, values
            normal, down = slope.T @ slope, slope.T @ off
            damping = max(damping / 5, LEAST_DAMPING)
            if gained <= SETTLED * best:
                break
        else:
            damping *= 2
            if damping > 1e6:
                break
        values = kept + np.linalg.solve(normal + damping * np.diag(np.diag(normal)), down)
    values = kept
    even = 1 / np.sqrt(np.diag(normal))  # values differ by many powers of ten, and so would what is lost of each
    return values, np.asarray(np.linalg.inv(normal * even[:, None] * even) * even[:, None] * even, dtype=np.float64)


def projected(values: Floats, points: Floats) -> tuple[Floats, Floats]:
    """Pixels of points, and how they follow each value, shape (2 n, values)."""
    import cv2

    matrix, bent = _lens(values)
    solid = np.column_stack([points, np.zeros(len(points))])
    seen, slope = cv2.projectPoints(solid, values[LENS : LENS + 3], values[LENS + 3 :], matrix, bent)
    by: Floats = np.asarray(slope, dtype=np.float64)
    focal = (by[:, 6] + by[:, 7]) * np.exp(values[0])
    ordered = np.column_stack([focal, by[:, 8:15], by[:, :6]])
    return np.asarray(seen, dtype=np.float64).reshape(-1, 2), ordered


def by_height(values: Floats, points: Floats) -> Floats:
    """How pixels follow the height of points over the table, pixels a mm, shape (n, 2)."""
    import cv2

    matrix, bent = _lens(values)
    seen = []
    for height in (-0.5, 0.5):
        solid = np.column_stack([points, np.full(len(points), height)])
        found = cv2.projectPoints(solid, values[LENS : LENS + 3], values[LENS + 3 :], matrix, bent)[0]
        seen.append(np.asarray(found, dtype=np.float64).reshape(-1, 2))
    return np.asarray(seen[1] - seen[0])


def _lens(values: Floats) -> tuple[Floats, Floats]:
    focal = float(np.exp(values[0]))
    matrix = np.array([(focal, 0, values[1]), (0, focal, values[2]), (0, 0, 1)], dtype=np.float64)
    return matrix, values[3:LENS]
