"""A piece of paper from straight above, as fine as the photo shows it, and the ink on it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from pieces.photo.look import fineness_at, table_pixels
from pieces.photo.paper import LEAST_PIECE, TableView

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from pieces.photo.look import SeenPhoto

    Floats = NDArray[np.float64]

MOST_FINE = 5_000_000
"""Pixels of the view of a piece."""

FINEST = 0.2
"""From pixel to pixel, mm: pens are not finer."""

BESIDE = 16.0
"""Seen round a piece, mm."""

WIDEST = 3.2
"""No line that is drawn is wider, mm."""

RIM = 1.0
"""Nearer to the edge of the paper ink is not told from the edge's own shadow, mm."""

LEAST_DROP = 0.085
"""By which share ink is darker than the paper round it, at the least: paler lines are not told from creases."""

SURE_DROP = 0.17
"""Something of a line must be darker by so much."""

NOISES = 6.0
"""And by so many deviations of the paper's own grain."""


COARSE_STEP, WIDEST_GAP, LEAST_GAP, GAP_END, GAP_DROP = 0.45, 12.0, 2.0, 4.0, 0.35
"""Gaps between pieces are looked for in a view so coarse, mm; how wide they are: wider ones are seen as table, and
narrower ones may be drawn; how near to the edge they may end; by which share they are darker or brighter than paper.
Common practice, no source."""


def paper_view(looks: Sequence[SeenPhoto], outline: Floats) -> TableView:
    """What is seen round a piece, from straight above."""
    low, high = outline.min(axis=0) - BESIDE, outline.max(axis=0) + BESIDE
    fine = 1 / float(np.median(fineness_at(looks, outline[:: max(1, len(outline) // 50)])))
    sides = high - low
    step = max(FINEST, fine, float(np.sqrt(sides[0] * sides[1] / MOST_FINE)))
    rows, columns = np.ceil(sides / step).astype(int).tolist()
    pixels, is_seen = table_pixels(looks, low, step, (rows, columns))
    return TableView(pixels, low, step, is_seen)


def filled(view: TableView, outline: Floats) -> NDArray[np.uint8]:
    """Which pixels of a view lie in an outline."""
    import cv2

    mask = np.zeros(view.pixels.shape[:2], np.uint8)
    at = ((outline - view.first) / view.step)[:, ::-1]
    cv2.fillPoly(mask, [np.rint(at * 16).astype(np.int32)], 1, cv2.LINE_8, 4)
    return mask


def ink(view: TableView, outline: Floats) -> tuple[NDArray[np.float32], NDArray[np.uint8]]:
    """By which share each pixel is darker than the paper round it; and where that is a mark.

    What is dark and wide, as shadows are, is taken for paper: only what is narrow stands out.
    """
    import cv2

    inside = filled(view, outline)
    soft: Any = cv2.GaussianBlur(view.pixels, (0, 0), max(0.6, 0.2 / view.step))
    paper = np.where(inside[..., None] > 0, np.asarray(soft), 0).astype(np.uint8)
    wide = 2 * round(WIDEST / view.step / 2) + 1
    disc = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (wide, wide))
    level: Any = cv2.morphologyEx(paper, cv2.MORPH_CLOSE, disc)
    drop = np.zeros(inside.shape, np.float32)
    for channel in range(3):
        share = cv2.divide(paper[..., channel], np.maximum(level[..., channel], 1), dtype=cv2.CV_32F)
        drop = np.maximum(drop, 1 - np.asarray(share, dtype=np.float32))
    rim = round(RIM / view.step)
    inner = np.asarray(cv2.erode(inside, np.ones((2 * rim + 1, 2 * rim + 1), np.uint8))) > 0
    if not inner.any():
        return drop, np.zeros(inside.shape, np.uint8)
    usual = float(np.median(drop[inner]))
    grain = float(np.median(np.abs(drop[inner] - usual))) * 1.4826
    drop -= usual
    drop[~inner] = 0
    least = max(LEAST_DROP, NOISES * grain)
    weak = np.asarray(drop > least, dtype=np.uint8)
    strong = drop > max(SURE_DROP, 1.5 * least)
    _, labels = cv2.connectedComponents(weak, connectivity=8)
    kept = np.zeros(int(labels.max()) + 1, bool)
    kept[np.unique(labels[strong])] = True
    kept[0] = False
    return drop, kept[labels].astype(np.uint8)


def is_parted(view: TableView, outline: Floats) -> bool:
    """Whether a gap runs all across what lies in an outline: then these are two pieces, too near to one another."""
    import cv2

    factor = min(1.0, view.step / COARSE_STEP)
    inside = filled(view, outline)
    small: Any = cv2.resize(cv2.cvtColor(view.pixels, cv2.COLOR_BGR2GRAY), None, fx=factor, fy=factor, interpolation=3)
    paper = np.asarray(cv2.resize(inside, (small.shape[1], small.shape[0]), interpolation=cv2.INTER_NEAREST)) > 0
    step = view.step / factor
    wide = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (_odd(WIDEST_GAP / step), _odd(WIDEST_GAP / step)))
    least = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (_odd(LEAST_GAP / step), _odd(LEAST_GAP / step)))
    grey = np.asarray(small, dtype=np.float32)
    rim = np.ones((_odd(2 * GAP_END / step), _odd(2 * GAP_END / step)), np.uint8)
    within = np.asarray(cv2.erode(paper.astype(np.uint8), rim)) > 0
    for is_dark in (True, False):  # the table may be darker than the paper, or brighter
        ground = np.where(paper, grey, 0 if is_dark else 255).astype(np.float32)
        kind = cv2.MORPH_CLOSE if is_dark else cv2.MORPH_OPEN
        level = np.asarray(cv2.morphologyEx(ground, kind, wide))
        unlike = np.abs(level - ground) > GAP_DROP * np.maximum(level, 1)
        gap = np.asarray(cv2.morphologyEx((unlike & paper).astype(np.uint8), cv2.MORPH_OPEN, least)) > 0
        if _parts(within & ~gap, step) > _parts(within, step):
            return True
    return False


def _parts(mask: NDArray[np.bool_], step: float) -> int:
    """How many parts of the size of a piece there are."""
    import cv2

    _, _, stats, _ = cv2.connectedComponentsWithStats(mask.astype(np.uint8), connectivity=4)
    return int((np.asarray(stats)[1:, cv2.CC_STAT_AREA] * step**2 >= LEAST_PIECE).sum())


def _odd(size: float) -> int:
    return 2 * round(size / 2) + 1
