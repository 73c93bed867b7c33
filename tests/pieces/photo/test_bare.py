"""Photos measured by a bare sheet of A4."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import cv2
import numpy as np
import pytest
import shapely

from pieces.errors import FormatError
from pieces.photo.bare import find_bare_sheet
from pieces.photo.trace import TraceChoices, trace_photos
from tests.make.photos import PIECE, QUICK, kept, photo
from tests.pieces.photo.test_trace import apart

if TYPE_CHECKING:
    from pathlib import Path

A4 = (297.0, 210.0)


def test_a_piece_by_a_bare_sheet(tmp_path: Path) -> None:
    """Within a millimetre and a half, and within what is told, which is more than by the reference sheet."""
    path = kept(tmp_path, photo([PIECE], QUICK, [], (), None, A4))
    (sketch,), report, (seen,) = trace_photos([path], TraceChoices(bare=A4))
    # The sheet may be taken the other way up: x runs down the picture.
    found = seen.pieces[0].outline.points
    off = min(float(apart(PIECE, each).max()) for each in (found, A4 - found))
    assert off < min(1.5, seen.pieces[0].worst)
    assert shapely.Polygon(sketch.outline).area == pytest.approx(shapely.Polygon(PIECE).area, rel=0.005)
    assert "a sheet of 297 by 210 mm" in report.units


def test_refused(tmp_path: Path) -> None:
    """Without a sheet, and with a sheet that the camera sees too aslant: what to do."""
    bare = photo([PIECE], replace(QUICK, creases=0), [], ())
    with pytest.raises(FormatError, match="is not found: lay it flat beside the pattern"):
        find_bare_sheet(cv2.cvtColor(bare, cv2.COLOR_BGR2GRAY).astype(np.uint8), "a.jpg", A4)
    slanted = photo([PIECE], replace(QUICK, turns=(92.0, 0.0, 45.0)), [], (), None, A4)
    with pytest.raises(FormatError, match="hold the camera level"):
        trace_photos([kept(tmp_path, slanted)], TraceChoices(bare=A4))


def test_a_bent_lens_is_refused() -> None:
    """Four edges do not tell how a lens goes on that bends by a tenth: the printed sheet does."""
    bent = photo([PIECE], replace(QUICK, bent=(-0.2, 0.05, 0.0, 0.0, 0.0)), [], (), None, A4)
    with pytest.raises(FormatError, match=r"the lens bends the edges .* use the printed reference sheet"):
        find_bare_sheet(cv2.cvtColor(bent, cv2.COLOR_BGR2GRAY).astype(np.uint8), "a.jpg", A4)


def test_a_sheet_hardly_brighter_than_the_table() -> None:
    """It has corners, and no edges that are measured: what to do is said."""
    pale = np.full((1504, 2000), 120, np.uint8)
    pale[300 : 300 + 630, 400 : 400 + 891] = 126
    with pytest.raises(FormatError, match=r"edges of a sheet of 297 by 210 mm are not clear: lay it flat"):
        find_bare_sheet(pale, "a.jpg", A4)


@pytest.mark.parametrize(
    ("more", "why"),
    [
        ({"bare": A4, "mat": 25.4}, "leave out the other"),
        ({"bare": A4, "one_piece": True}, "go with the reference sheet"),
        ({"bare": (50.0, 80.0)}, "use A4 or letter"),
        ({"mat": 1.0}, "smallest squares"),
    ],
)
def test_choices_that_make_no_sense(more: dict[str, object], why: str) -> None:
    """Two things to measure by, or one that is too small."""
    with pytest.raises(FormatError, match=why):
        TraceChoices(**more)  # type: ignore[arg-type]
