"""The grid of a cutting mat as what a photo is measured by: its crossings, numbered from square to square."""

from __future__ import annotations

from collections import deque
from typing import TYPE_CHECKING, Any

import numpy as np
import shapely

from pieces.errors import FormatError
from pieces.photo.camera import find_camera
from pieces.photo.sheet import MOST_TILT
from pieces.photo.together import JoinedTable

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Grey = NDArray[np.uint8]

COARSE = 2400
"""Lines are looked for in a picture whose long side is no more, pixels."""

ARM = 11
"""Pixels of a line on each side of a crossing."""

SPREAD = (-12, -6, 0, 6, 12)
"""Degrees by which lines may run otherwise than most."""

LEAST_SQUARE = 12.0
"""A square has so many pixels of the coarse picture along its side."""

ASTRAY = 0.18
"""How far a crossing may lie off where the one before it says, in shares of a square."""

FOLLOWED, LEAST_FOLLOWED = 3, 16
"""So many squares away from the first crossing others are followed; of so many at the least the rest is told."""

ASIDE = 0.12
"""How far a crossing may lie off where all others together say, in shares of a square."""

LEAST_FILLED = 0.25
"""Of the squares all round so many have their crossings; where hardly any has, lines cross by chance."""

SMOOTH, ROUNDS = 6, 5
"""Sharp crossings lie on a surface of this degree, within a pixel or four deviations, found in so many rounds."""

FEWEST = 60
"""Crossings that must be found."""

MOST_RMS = 1.2
"""Crossings may be missed by so many pixels, root mean square."""

TRUE_TO = 0.0015
"""A mat's squares are true to this share: common practice, no source. A ruler on ten squares shows it."""

LINE = 0.8
"""A line of the mat that ends at the edge of the pattern, or runs along it, may draw it so far, mm: as wide as lines,
common practice, no source. By rendered photos, 0.6 mm at a corner (`benchmarks/photos.py --mat`)."""

SQUARES = (5.0, 80.0)
"""Sides of squares, mm."""


def find_mat(grey: Grey, name: str, side: float) -> JoinedTable:
    """The camera by the grid of a cutting mat.

    Parameters
    ----------
    side
        Of the smallest squares that are printed on it, mm.

    Raises
    ------
    FormatError
        If there is no such grid, or the photo is too oblique.
    """
    import cv2

    factor = min(1.0, COARSE / max(grey.shape))
    small: Any = cv2.resize(grey, None, fx=factor, fy=factor, interpolation=cv2.INTER_AREA) if factor < 1 else grey
    crossings, ways = _crossings(np.asarray(small))
    numbers = _numbered(crossings, ways)
    if len(numbers) < FEWEST:
        raise FormatError(
            f"{name}: the squares of a cutting mat are not found ({len(numbers)} crossings of {FEWEST}): leave more of"
            " the mat bare round the pattern, take the photo in even light, or use the printed reference sheet"
        )
    places = np.array(list(numbers)) * side
    pixels = (crossings[list(numbers.values())] + 0.5) / factor - 0.5
    half = int(np.clip(0.3 * _square(numbers, crossings) / factor, 3, 12))
    until = (cv2.TERM_CRITERIA_EPS + cv2.TERM_CRITERIA_MAX_ITER, 40, 0.005)
    start = pixels.astype(np.float32).reshape(-1, 1, 2)
    sharp: Any = cv2.cornerSubPix(grey, start.copy(), (half, half), (-1, -1), until)
    found = np.asarray(sharp, dtype=np.float64).reshape(-1, 2)
    near = _smooth(np.array(list(numbers), dtype=np.float64), found, np.hypot(*(found - pixels).T) < half)
    camera, kept = find_camera(places[near], found[near], (grey.shape[1], grey.shape[0]))
    if kept.sum() < max(FEWEST, 0.7 * len(places)) or camera.rms > MOST_RMS:
        raise FormatError(
            f"{name}: the lines of the mat do not make even squares: lay the mat flat, and give the side of its"
            " smallest printed squares"
        )
    if camera.tilt > MOST_TILT:
        raise FormatError(
            f"{name} is taken {camera.tilt:.0f} degrees off straight down, at most {MOST_TILT:.0f} can be measured:"
            " hold the camera level above the middle"
        )
    return JoinedTable((camera,), (), TRUE_TO)


def _crossings(grey: Grey) -> tuple[Floats, tuple[float, float]]:
    """Points at which thin lines cross, pixels; and which way those run, degrees: down the picture, and across."""
    import cv2

    disc = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (9, 9))
    bright, dark = (
        np.asarray(cv2.morphologyEx(grey, kind, disc), np.float32) for kind in (cv2.MORPH_TOPHAT, cv2.MORPH_BLACKHAT)
    )
    ridge = bright if float(np.percentile(bright, 97)) >= float(np.percentile(dark, 97)) else dark
    ridge = np.minimum(ridge, 3 * float(np.percentile(ridge, 97)) + 1)
    first = _main_way(ridge)
    ways = (first, first - 90)
    answers = []
    for way in ways:
        best = np.zeros(grey.shape, np.float32)
        for by in SPREAD:
            best = np.maximum(best, np.asarray(cv2.filter2D(ridge, cv2.CV_32F, _bar(way + by))))
        answers.append(best)
    both = np.minimum(*answers)
    top: Any = cv2.dilate(both, np.ones((9, 9), np.uint8))
    level = 0.35 * float(np.percentile(both[both >= np.asarray(top)], 97))
    at = np.argwhere((both >= np.asarray(top)) & (both > max(level, 2.0)))
    rim = ARM
    inside = (at > rim).all(axis=1) & (at < np.array(grey.shape) - rim).all(axis=1)
    return at[inside][:, ::-1].astype(np.float64), ways


def _bar(way: float) -> NDArray[np.float32]:
    """A short bar, brighter than what lies on both sides of it."""
    y, x = np.mgrid[-ARM : ARM + 1, -ARM : ARM + 1].astype(np.float32)
    c, s = np.cos(np.radians(way)), np.sin(np.radians(way))
    along, aside = x * c + y * s, -x * s + y * c
    inside = np.exp(-0.5 * (along / (ARM / 2)) ** 2)
    bar = inside * (np.exp(-0.5 * (aside / 1.2) ** 2) - 0.5 * np.exp(-0.5 * ((np.abs(aside) - 4.5) / 1.2) ** 2))
    return np.asarray(bar / np.maximum(bar, 0).sum(), dtype=np.float32)


def _main_way(ridge: NDArray[np.float32]) -> float:
    """Which way most lines run that go down the picture, degrees from its upper side: 45 to 135."""
    import cv2

    gx, gy = (np.asarray(cv2.Sobel(ridge, cv2.CV_32F, *order, ksize=3)) for order in ((1, 0), (0, 1)))
    turned = 4 * np.arctan2(gy, gx)
    weight = (gx * gx + gy * gy) ** 0.5
    angle = np.degrees(np.arctan2(float((weight * np.sin(turned)).sum()), float((weight * np.cos(turned)).sum()))) / 4
    return float(angle) + 90.0


def _numbered(crossings: Floats, ways: tuple[float, float]) -> dict[tuple[int, int], int]:
    """Crossings by how many squares they are down and across from the first: some followed, the others as those say."""
    if len(crossings) < FEWEST:
        return {}
    down, over = (np.array([np.cos(np.radians(way)), np.sin(np.radians(way))]) for way in ways)
    gone = crossings[None] - crossings[:: len(crossings) // FEWEST, None]
    far = np.hypot(gone[..., 0], gone[..., 1])
    far[far < LEAST_SQUARE] = np.inf
    steps = []
    for way in (down, over):
        ahead = np.where((gone @ way) > 0.96 * far, far, np.inf).min(axis=1)
        steps.append(float(np.median(ahead[np.isfinite(ahead)])) if np.isfinite(ahead).any() else np.inf)
    tree = shapely.STRtree(np.asarray(shapely.points(crossings)).tolist())
    best: dict[tuple[int, int], int] = {}
    middle = np.hypot(*(crossings - np.median(crossings, axis=0)).T)
    tried: set[int] = set()
    for start in np.argsort(middle)[:200].tolist():
        if start in tried:
            continue
        found = _grown(crossings, tree, _followed(crossings, tree, start, (down * steps[0], over * steps[1])))
        tried |= set(found.values())
        if len(found) > len(best):
            best = found
        if len(best) > 0.5 * len(crossings):
            break
    return best


def _followed(
    crossings: Floats, tree: shapely.STRtree, start: int, steps: tuple[Floats, Floats]
) -> dict[tuple[int, int], int]:
    """The crossings near one, reached square by square, each step as the one before it."""
    found = {(0, 0): start}
    known = {(0, 0): steps}
    waiting = deque([(0, 0)])
    used = {start}
    while waiting:
        at = waiting.popleft()
        for axis, way in ((0, 1), (0, -1), (1, 1), (1, -1)):
            there = (at[0] + way * (axis == 0), at[1] + way * (axis == 1))
            if there in found or max(map(abs, there)) > FOLLOWED:
                continue
            step = known[at][axis]
            expected = crossings[found[at]] + way * step
            if not np.isfinite(expected).all():
                continue
            nearest = int(tree.nearest(shapely.Point(*expected)))
            off = float(np.hypot(*(crossings[nearest] - expected)))
            if off > ASTRAY * float(np.hypot(*step)) or nearest in used:
                continue
            seen = way * (crossings[nearest] - crossings[found[at]])
            own = 0.5 * step + 0.5 * seen
            known[there] = (own, known[at][1]) if axis == 0 else (known[at][0], own)
            found[there] = nearest
            used.add(nearest)
            waiting.append(there)
    return found


def _grown(crossings: Floats, tree: shapely.STRtree, found: dict[tuple[int, int], int]) -> dict[tuple[int, int], int]:
    """The crossings where a smooth surface through those found has them, a square further each time.

    The edge of the pattern crosses lines too: a row that follows it does not fit what lies on its other sides.
    """
    while len(found) >= LEAST_FOLLOWED:
        at = np.array(list(found), dtype=np.float64)
        low, high = at.min(axis=0) - 1, at.max(axis=0) + 1
        degree = 3 if len(found) >= FEWEST else 2
        terms = _terms(at, at, degree)
        bent = np.linalg.lstsq(terms, crossings[list(found.values())], rcond=None)[0]
        i, j = np.meshgrid(np.arange(low[0], high[0] + 1), np.arange(low[1], high[1] + 1), indexing="ij")
        nodes = np.column_stack([i.ravel(), j.ravel()])
        expected, aside = (_terms(nodes + by, at, degree) @ bent for by in ((0, 0), (1, 0)))
        nearest = np.asarray(tree.nearest(shapely.points(expected)))
        fits = np.hypot(*(crossings[nearest] - expected).T) < ASIDE * np.hypot(*(aside - expected).T)
        if fits.mean() < LEAST_FILLED:
            return {}
        numbers = [(int(n), int(m)) for n, m in nodes[fits]]
        more = dict(zip(numbers, nearest[fits].tolist(), strict=True))
        if len(more) <= len(found):
            return more if len(set(more.values())) == len(more) else {}
        found = more
    return found


def _smooth(at: Floats, pixels: Floats, is_kept: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Which crossings lie on a smooth surface over the squares, now that they are sharp: not those with an edge."""
    for _ in range(ROUNDS):
        if is_kept.sum() < FEWEST:
            break
        terms = _terms(at, at, SMOOTH)
        q, r = np.linalg.qr(terms[is_kept])
        off = np.hypot(*(terms @ np.linalg.solve(r, q.T @ pixels[is_kept]) - pixels).T)
        off[is_kept] /= np.maximum(1 - (q**2).sum(axis=1), 1e-6)  # without itself: one that stands alone bends all
        is_kept = off <= max(1.0, 4 * float(np.median(off[is_kept])) / 1.1774)  # the median of a Rayleigh distribution
    return is_kept


def _terms(at: Floats, known: Floats, degree: int) -> Floats:
    """What a smooth surface over the squares is made of."""
    x, y = (2 * (at - known.min(axis=0)) / np.maximum(np.ptp(known, axis=0), 1) - 1).T
    return np.column_stack([x**n * y**m for n in range(degree + 1) for m in range(degree + 1 - n)])


def _square(numbers: dict[tuple[int, int], int], crossings: Floats) -> float:
    """The usual side of a square, pixels."""
    sides = [
        float(np.hypot(*(crossings[numbers[i + 1, j]] - crossings[n])))
        for (i, j), n in numbers.items()
        if (i + 1, j) in numbers
    ]
    return float(np.median(sides)) if sides else LEAST_SQUARE
