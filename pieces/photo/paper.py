"""Where paper lies on the table: rough outlines, found by colours that the table does not have."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from pieces.errors import FormatError
from pieces.photo.look import SeenPhoto, table_pixels

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Pixels = NDArray[np.uint8]

FARTHEST = 1500.0
"""The table is looked at no further from the sheet than this, mm."""

MOST_COARSE = 350_000
"""Pixels of the table's rough picture."""

RIM = 12.0
"""What lies nearer to the edge of the picture is taken as table, mm."""

LEAST_PIECE = 1500.0
"""Paper of less is no piece of a pattern, mm²: a scrap, or the corner of something."""

LONGEST_EDGE = 15_000.0
"""Paper with a longer edge is none: a pattern of the table's was taken for it, mm."""

MOST_PIECES = 60
"""In one photo."""

LEAST_STRANGE = 3.0
"""How strange paper must be among the table's colours, in deviations of its nearest colour."""

COLOURS, ROUNDS = 6, 3


@dataclass(frozen=True, eq=False)
class TableView:
    """The table from straight above.

    Parameters
    ----------
    pixels
        What is seen, shape (rows along x, columns along y, 3).
    first
        Where its first pixel lies, mm.
    step
        From pixel to pixel, mm.
    is_seen
        Which of its pixels are in a photo.
    sheets
        Corners of what is no pattern.
    """

    pixels: Pixels
    first: Floats
    step: float
    is_seen: NDArray[np.bool_]
    sheets: tuple[Floats, ...] = ()

    def places(self, at: Floats) -> Floats:
        """Where pixels, column and row, lie on the table, mm."""
        return self.first + at[:, ::-1] * self.step


def seen_from_above(looks: Sequence[SeenPhoto], sheets: Sequence[Floats], most: int = MOST_COARSE) -> TableView:
    """The table in photos from straight above, in no more pixels than `most`.

    Parameters
    ----------
    sheets
        Corners of what is no pattern: the paper that the photo is measured by.
    """
    places = np.vstack([*(_seen_of(look) for look in looks), *sheets])  # the sheets are seen
    known = np.vstack(sheets) if sheets else np.zeros((1, 2))
    places = np.clip(places, known.min(axis=0) - FARTHEST, known.max(axis=0) + FARTHEST)
    low, sides = places.min(axis=0), np.ptp(places, axis=0)
    step = max(0.5, float(np.sqrt(sides[0] * sides[1] / most)))
    shape = tuple(np.ceil(sides / step).astype(int).tolist())
    small = [_as_fine(look, step, places) for look in looks]
    pixels, is_seen = table_pixels(small, low, step, shape)
    return TableView(pixels, low, step, is_seen, tuple(sheets))


def _seen_of(look: SeenPhoto) -> Floats:
    """Places on the table along the rim of a picture."""
    high, wide = look.photo.shape[:2]
    along = np.linspace(0, 1, 33)
    rim = np.concatenate([np.column_stack(pair) for pair in ((along, 0 * along), (along, 0 * along + 1))])
    places = look.camera.on_table(np.concatenate([rim, rim[:, ::-1]]) * (wide - 1, high - 1))
    return places[np.isfinite(places).all(axis=1)]


def _as_fine(look: SeenPhoto, step: float, places: Floats) -> SeenPhoto:
    """A photo made as coarse as what is asked for, so that nothing is skipped."""
    import cv2

    high, wide = look.photo.shape[:2]
    middle = np.median(places, axis=0)[None]
    fine = max(1.0, step * float(np.median(look.camera.fineness(middle))))
    size = (round(wide / fine), round(high / fine))
    small: Any = cv2.resize(look.photo, size, interpolation=cv2.INTER_AREA)
    return SeenPhoto(np.asarray(small), look.camera, look.gain, (size[0] / wide, size[1] / high))


def rough_outlines(view: TableView, name: str) -> tuple[list[Floats], int]:
    """Outlines of paper on the table, mm, as they come by pixels, the largest first; and how many leave the picture.

    Raises
    ------
    FormatError
        If there is none, or it can hardly be told from the table.
    """
    import cv2

    table = _surely_table(view)
    marks = _marks(view, table, name)
    found = np.isin(marks, (cv2.GC_FGD, cv2.GC_PR_FGD)).astype(np.uint8)
    small, large = (cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (side, side)) for side in (3, 5))
    found = np.asarray(cv2.morphologyEx(found, cv2.MORPH_OPEN, small), np.uint8)  # a larger disc would blunt tips
    apart = found
    found = np.asarray(cv2.morphologyEx(found, cv2.MORPH_CLOSE, large), np.uint8)
    _refuse_joined(apart, found, view, name)
    contours, _ = cv2.findContours(found, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    rim = _near_rim(view)
    outlines, cut_off = [], 0
    for contour in sorted(contours, key=cv2.contourArea, reverse=True):
        if cv2.contourArea(contour) * view.step**2 < LEAST_PIECE:
            break
        at = np.asarray(contour).reshape(-1, 2)
        if rim[at[:, 1], at[:, 0]].any():
            cut_off += 1
        else:
            outlines.append(view.places(at.astype(np.float64)))
        if cv2.arcLength(contour, True) * view.step > LONGEST_EDGE or len(outlines) > MOST_PIECES:
            raise FormatError(
                f"{name}: the edge of the pattern is not clear: lay it flat on a plain table of another colour, and"
                f" at most {MOST_PIECES} pieces in one photo"
            )
    if not outlines and not cut_off:
        raise FormatError(
            f"{name}: no pattern is found beside the reference sheet: lay the pattern flat on a table of another"
            " colour, all of it in the picture, 3 cm away from the sheet"
        )
    return outlines, cut_off


def _refuse_joined(apart: NDArray[np.uint8], found: NDArray[np.uint8], view: TableView, name: str) -> None:
    """Refuse pieces so near to one another that they became one when small gaps were closed."""
    import cv2

    _, labels, stats, _ = cv2.connectedComponentsWithStats(apart, connectivity=8)
    _, whole = cv2.connectedComponents(found, connectivity=8)
    areas = np.asarray(stats)[:, cv2.CC_STAT_AREA] * view.step**2
    large = [n for n in range(1, len(areas)) if areas[n] >= LEAST_PIECE]
    within = [int(np.asarray(whole)[np.asarray(labels) == n][0]) for n in large]
    if len(set(within)) < len(within):
        raise FormatError(
            f"{name}: pieces lie too near to one another, or something dark parts one of them: leave 2 cm of the table"
            " between pieces, and take away what lies on them"
        )


def _surely_table(view: TableView) -> NDArray[np.bool_]:
    """What is taken as table from the start: the rim of the picture; the sheet; what is not seen."""
    import cv2

    sheet = np.zeros(view.is_seen.shape, np.uint8)
    for corners in view.sheets:
        at = (corners - view.first) / view.step
        cv2.fillPoly(sheet, [np.rint(at[:, ::-1]).astype(np.int32)], 1)
    return np.asarray((sheet == 1) | ~view.is_seen | _band(view, RIM))


def _near_rim(view: TableView) -> NDArray[np.bool_]:
    """Where an outline would be cut off by the edge of the picture."""
    return _band(view, RIM + 3 * view.step) | ~view.is_seen


def _band(view: TableView, wide: float) -> NDArray[np.bool_]:
    """A band along the edge of what is seen."""
    import cv2

    seen = np.pad(view.is_seen, 1).astype(np.uint8)
    away: Any = cv2.distanceTransform(seen, cv2.DIST_L2, 3)
    return np.asarray(away)[1:-1, 1:-1] < wide / view.step


def _marks(view: TableView, table: NDArray[np.bool_], name: str) -> Pixels:
    """What every pixel is taken for, in the words of GrabCut (Rother, Kolmogorov, Blake 2004)."""
    import cv2

    strange = _strangeness(view, table)
    rest = strange[~table]
    level = np.clip(rest / 12 * 255, 0, 255).astype(np.uint8)
    limit = float(cv2.threshold(level, 0, 255, cv2.THRESH_BINARY | cv2.THRESH_OTSU)[0]) * 12 / 255
    far = rest[rest > limit]
    if limit < LEAST_STRANGE / 2 or not len(far) or float(np.median(far)) < LEAST_STRANGE:
        raise FormatError(
            f"{name}: the pattern can hardly be told from the table: lay it on a plain table of another colour, and"
            " leave some table round it in the picture"
        )
    marks = np.where(strange > limit, cv2.GC_PR_FGD, cv2.GC_PR_BGD).astype(np.uint8)
    marks[table] = cv2.GC_BGD
    if not (marks == cv2.GC_PR_FGD).any():
        return marks
    models = np.zeros((2, 1, 65), np.float64)
    cv2.setRNGSeed(1)
    pixels = view.pixels.copy()
    _forget_sheet(view, pixels, table)
    cv2.grabCut(pixels, marks, None, models[0], models[1], ROUNDS, cv2.GC_INIT_WITH_MASK)  # type: ignore[call-overload]
    return marks


def _forget_sheet(view: TableView, pixels: Pixels, table: NDArray[np.bool_]) -> None:
    """Paint the sheet over with colours of the table: its white is no colour of the table's."""
    ring = table & view.is_seen & _band(view, RIM)
    colours = view.pixels[ring]
    gone = table & ~ring
    random = np.random.default_rng(0)
    pixels[gone] = colours[random.integers(0, len(colours), int(gone.sum()))]


def _strangeness(view: TableView, table: NDArray[np.bool_]) -> Floats:
    """How far the colour of each pixel is off those at the rim of the picture, in deviations."""
    import cv2

    lab = np.asarray(cv2.cvtColor(view.pixels, cv2.COLOR_BGR2LAB), dtype=np.float32)
    lab[..., 0] *= 0.7  # light falls off, and shadows lie on the table
    known = lab[table & view.is_seen & _band(view, RIM)]
    until = (cv2.TERM_CRITERIA_EPS + cv2.TERM_CRITERIA_MAX_ITER, 30, 0.5)
    cv2.setRNGSeed(1)
    _, labels, centres = cv2.kmeans(known, COLOURS, None, until, 2, cv2.KMEANS_PP_CENTERS)  # type: ignore[call-overload]
    least = np.full(lab.shape[:2], np.inf, np.float32)
    for number, centre in enumerate(np.asarray(centres)):
        own = known[np.asarray(labels).ravel() == number]
        wide = max(4.0, float(np.sqrt(np.mean((own - centre) ** 2)))) if len(own) else 4.0
        least = np.minimum(least, np.linalg.norm(lab - centre, axis=-1) / wide)
    return np.asarray(least, dtype=np.float64)
