"""Rendered photos of known pieces, traced: 3 million pixels, for speed; `benchmarks/photos.py` has 12."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import cv2
import numpy as np
import pytest
import shapely

from pieces.errors import FormatError
from pieces.photo.board import reference_board
from pieces.photo.edge import sharp_outline
from pieces.photo.look import SeenPhoto
from pieces.photo.paper import rough_outlines, seen_from_above
from pieces.photo.sheet import find_sheets
from pieces.photo.together import SeenTable, join_tables
from pieces.photo.trace import TraceChoices, trace_photos
from tests.make.photos import PIECE, QUICK, kept, photo, rendered

if TYPE_CHECKING:
    from pathlib import Path

    from numpy.typing import NDArray

    from pieces.photo.camera import Camera

    Floats = NDArray[np.float64]


def apart(truth: Floats, found: Floats) -> Floats:
    """How far points of each outline, a millimetre apart, lie off the other."""
    a, b = shapely.LinearRing(truth), shapely.LinearRing(found)
    both = [shapely.distance(one.interpolate(np.arange(0, one.length)), other) for one, other in ((a, b), (b, a))]
    return np.concatenate(both)


def camera_of(pixels: NDArray[np.uint8]) -> Camera:
    """The camera that took a photo."""
    sheets = tuple(find_sheets(cv2.cvtColor(pixels, cv2.COLOR_BGR2GRAY).astype(np.uint8), "photo"))
    return join_tables([SeenTable("photo", (pixels.shape[1], pixels.shape[0]), sheets)]).cameras[0]


def test_a_piece_is_where_it_is(tmp_path: Path) -> None:
    """At 3 million pixels: median within 0.5 mm, all within 1.5 mm, area within 0.5 %; not mirrored, not turned."""
    (sketch,), report, (seen,) = trace_photos([kept(tmp_path, rendered())])
    off = apart(PIECE - (0.0, float(seen.pieces[0].outline.points[:, 1].min())), sketch.outline)
    assert float(np.median(off)) < 0.5
    assert float(off.max()) < 1.5
    assert shapely.Polygon(sketch.outline).area == pytest.approx(shapely.Polygon(PIECE).area, rel=0.005)
    assert seen.pieces[0].worst < 3
    assert any("may be" in said and "mm off" in said for said in report.remarks)


def test_a_tip_is_whole(tmp_path: Path) -> None:
    """The tip of a wedge of 33 degrees, which a coarse look would blunt by a centimetre, is where it is."""
    wedge = np.array([(-60.0, 240.0), (300.0, 240.0), (300.0, 473.0)])
    (sketch,), _, (seen,) = trace_photos([kept(tmp_path, photo([wedge], QUICK))])
    tip = wedge[0] - (0.0, float(seen.pieces[0].outline.points[:, 1].min()))
    assert float(np.hypot(*(sketch.outline - tip).T).min()) < 1.5


def test_what_is_told_counts(tmp_path: Path) -> None:
    """A sheet whose line measures 1 % more makes the piece 1 % larger; the first piece lies on a fold."""
    asked = TraceChoices(line=181.8, folds={1: "left"})
    (sketch,), report, _ = trace_photos([kept(tmp_path, rendered())], asked)
    assert np.ptp(sketch.outline, axis=0) == pytest.approx(1.01 * np.ptp(PIECE, axis=0), abs=1.5)
    assert sketch.side == "left"
    assert "181.8 mm" in report.units


def test_stages_agree() -> None:
    """The rough outline lies within 4 mm, the sharp one within 0.6 mm but at corners; the camera leans as it does."""
    pixels = rendered()
    camera = camera_of(pixels)
    assert camera.tilt == pytest.approx(np.degrees(np.arccos(np.cos(np.radians(4)) * np.cos(np.radians(5)))), abs=1)
    look = SeenPhoto(pixels, camera)
    (rough,), cut_off = rough_outlines(seen_from_above((look,), (reference_board().paper(),)), "photo")
    assert cut_off == 0
    assert float(apart(PIECE, rough).max()) < 4
    assert float(np.percentile(apart(PIECE, sharp_outline(rough, (look,))), 95)) < 0.6


def changed(what: str) -> Any:
    """The photo, spoilt."""
    pixels = rendered()
    if what == "blurred":
        return cv2.GaussianBlur(pixels, (0, 0), 3.0)
    if what == "dark":
        return (pixels * 0.15).astype(np.uint8)
    if what == "no sheet":
        return np.full_like(pixels, 120)
    if what == "small":
        return cv2.copyMakeBorder(cv2.resize(pixels, (1500, 1128)), 200, 200, 250, 250, cv2.BORDER_REPLICATE)
    if what == "oblique":
        return photo([PIECE], replace(QUICK, turns=(92.0, 0.0, 50.0)))
    if what == "hardly seen":
        return photo([PIECE], replace(QUICK, table="plain", paper=(66, 99, 56), creases=0))
    if what == "in shadow as the table":  # half of it: the rest by itself would be a piece
        return photo([PIECE], replace(QUICK, table="plain", paper=(75, 120, 72)))
    if what == "sheet twice":
        return np.vstack([pixels, pixels[100:900]])
    if what == "too near":  # two parts, and 4 mm between them
        strip = np.array([(-100.0, 210.0), (300.0, 210.0), (300.0, 260.0), (-100.0, 260.0)])
        return photo([strip, strip + (0.0, 54.0)], QUICK)
    return cut(pixels)


def cut(pixels: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """The photo without the strip at the pattern's far side."""
    camera = camera_of(pixels)
    (_, y), (_, sheet) = camera.project(np.array([(100.0, 460.0), (100.0, 90.0)]))
    return pixels[: int(y)] if y > sheet else pixels[int(y) :]


@pytest.mark.parametrize(
    ("what", "why"),
    [
        ("blurred", "hold the camera still|reference sheet is needed"),
        ("dark", "take it in more light"),
        ("no sheet", "the reference sheet is needed whole and sharp, and none can be read"),
        ("small", "go nearer"),
        ("oblique", "hold the camera level"),
        ("hardly seen", "can hardly be told from the table|no pattern is found"),
        ("cut off", "step back|some table round it"),
        ("in shadow as the table", "edge of .* is not clear.* out of shadow"),
        ("too near", "leave 2 cm of the table between pieces"),
        ("sheet twice", "sheet A is there twice: leave one"),
    ],
)
def test_refused_with_what_to_do(tmp_path: Path, what: str, why: str) -> None:
    """A photo that cannot be measured is refused in one line that says what to do."""
    with pytest.raises(FormatError, match=why) as refused:
        trace_photos([kept(tmp_path, changed(what))])
    assert "\n" not in str(refused.value)


@pytest.mark.parametrize(("line", "tolerance"), [(100.0, 0.3), (180.0, 0.0)])
def test_choices_that_make_no_sense(line: float, tolerance: float) -> None:
    """A sheet printed at half its size, and no tolerance at all."""
    with pytest.raises(FormatError, match=r"--line|--tolerance"):
        TraceChoices(line=line, tolerance=tolerance)
