"""Corners of the sheet by the edges that meet in them."""

from __future__ import annotations

import cv2
import numpy as np

from pieces.photo.crossings import crossed_corners
from pieces.photo.sheet import find_sheets
from pieces.photo.together import SeenTable, join_tables
from tests.make.photos import rendered


def test_corners_lie_where_edges_meet() -> None:
    """To a fiftieth of a pixel, by how well they fit one camera; ink that spread by a pixel moves none by a tenth."""
    grey = np.asarray(cv2.cvtColor(rendered(), cv2.COLOR_BGR2GRAY), dtype=np.uint8)
    (sheet,) = find_sheets(grey, "photo")
    (camera,) = join_tables([SeenTable("photo", (grey.shape[1], grey.shape[0]), (sheet,))]).cameras
    assert camera.rms < 0.02
    found, is_seen = crossed_corners(grey, camera, sheet.places)
    spread, is_still_seen = crossed_corners(np.asarray(cv2.erode(grey, np.ones((3, 3)))), camera, sheet.places)
    both = is_seen & is_still_seen
    assert both.mean() > 0.9
    assert np.hypot(*(found - spread)[both].T).max() < 0.1


def test_what_is_hidden_is_left_out() -> None:
    """Corners under a grey paper are not seen."""
    grey = np.asarray(cv2.cvtColor(rendered(), cv2.COLOR_BGR2GRAY), dtype=np.uint8)
    (sheet,) = find_sheets(grey, "photo")
    (camera,) = join_tables([SeenTable("photo", (grey.shape[1], grey.shape[0]), (sheet,))]).cameras
    x, y = np.rint(sheet.pixels[0]).astype(int).tolist()
    grey[y - 40 : y + 40, x - 40 : x + 40] = 128
    _, is_seen = crossed_corners(grey, camera, sheet.places)
    assert not is_seen[0] and is_seen.mean() > 0.8
