"""Photos measured by the squares of a cutting mat."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import cv2
import numpy as np
import pytest
import shapely

from pieces.errors import FormatError
from pieces.photo.mat import find_mat
from pieces.photo.trace import TraceChoices, trace_photos
from tests.make.photos import PIECE, QUICK, kept, photo, rendered
from tests.pieces.photo.test_trace import apart

if TYPE_CHECKING:
    from pathlib import Path


def test_the_lens_by_a_mat() -> None:
    """A row that follows the pattern's edge, which lines cross as well, is not numbered: the lens is as it was."""
    shot = replace(QUICK, table="mat", room=70.0, bent=(-0.2, 0.05, 0.0, 0.0, 0.0))
    grey = cv2.cvtColor(photo([PIECE], shot, [], ()), cv2.COLOR_BGR2GRAY).astype(np.uint8)
    camera = find_mat(grey, "a.jpg", 25.4).cameras[0]
    assert camera.values[3:5] == pytest.approx([-0.2, 0.05], abs=0.01)
    assert camera.rms < 0.15


def test_a_piece_on_a_mat(tmp_path: Path) -> None:
    """Within a millimetre, wherever the first square is; a mirror image would be off by centimetres."""
    path = kept(tmp_path, photo([PIECE], replace(QUICK, table="mat", room=70.0), [], ()))
    (sketch,), report, (seen,) = trace_photos([path], TraceChoices(mat=25.4))
    quarters = (np.array(turn) for turn in ([(1, 0), (0, 1)], [(0, 1), (-1, 0)], [(-1, 0), (0, -1)], [(0, -1), (1, 0)]))
    centre = shapely.get_coordinates(shapely.Polygon(PIECE).centroid)
    off = []
    for turn in quarters:
        found = seen.pieces[0].outline.points @ turn
        off.append(float(apart(PIECE, found - shapely.get_coordinates(shapely.Polygon(found).centroid) + centre).max()))
    assert min(off) < min(1.0, seen.pieces[0].worst)
    assert shapely.Polygon(sketch.outline).area == pytest.approx(shapely.Polygon(PIECE).area, rel=0.005)
    assert "squares of a cutting mat" in report.units


@pytest.mark.parametrize("what", ["checks", "noise", "black"])
def test_no_mat(what: str) -> None:
    """A table of checks has no squares of a mat, nor has noise, which crosses everywhere: what to do is said."""
    grey = cv2.cvtColor(rendered(), cv2.COLOR_BGR2GRAY).astype(np.uint8)
    if what != "checks":
        grey = np.random.default_rng(1).integers(0, 255 if what == "noise" else 1, grey.shape, np.uint8)
    with pytest.raises(FormatError, match=r"squares of a cutting mat are not found|do not make even squares"):
        find_mat(grey, "a.jpg", 25.4)
