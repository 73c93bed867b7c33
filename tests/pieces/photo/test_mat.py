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


def test_no_mat() -> None:
    """A table of wood and checks has no squares of a mat: what to do is said."""
    grey = cv2.cvtColor(rendered(), cv2.COLOR_BGR2GRAY).astype(np.uint8)
    with pytest.raises(FormatError, match=r"squares of a cutting mat are not found|do not make even squares"):
        find_mat(grey, "a.jpg", 25.4)
