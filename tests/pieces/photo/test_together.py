"""One piece in two photos, joined over the sheets that they share."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING, Any

import cv2
import numpy as np
import pytest
import shapely

from pieces.errors import FormatError
from pieces.photo.board import reference_boards
from pieces.photo.camera import BOW, Camera, by_height, projected
from pieces.photo.fits import MOVED
from pieces.photo.look import SeenPhoto, across_edge, best_of
from pieces.photo.sheet import SeenSheet
from pieces.photo.together import SeenTable, evened, join_tables, placed
from pieces.photo.trace import TraceChoices, trace_photos
from tests.make.photos import ARMHOLE, QUICK, photo

if TYPE_CHECKING:
    from pathlib import Path

    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

LONG = np.array(
    [(-100.0, 240.0), (700.0, 240.0), *(ARMHOLE + (400.0, -110.0)).tolist(), (620.0, 410.0), (-100.0, 400.0)]
)
"""80 cm: more than either photo shows."""

SHEETS = ((0.0, 0.0, 0.0), (380.0, 10.0, 4.0))
PARTS = (
    ([(-130.0, -30.0), (-130, 430), (400.0, -30), (400, 430)], (92.0, 4.0, -5.0)),
    ([(200.0, -30.0), (200, 450), (730.0, -30), (730, 450)], (88.0, -3.0, 6.0)),
)


@cache
def parts() -> tuple[Any, ...]:
    """Both photos; the second is darker."""
    return tuple(
        photo([LONG], replace(QUICK, turns=turns, brightness=1 - 0.2 * n, creases=0), [], SHEETS, np.array(seen))
        for n, (seen, turns) in enumerate(PARTS)
    )


def files(folder: Path) -> list[Path]:
    """The photos as files."""
    paths = [folder / "a.jpg", folder / "b.jpg"]
    for path, pixels in zip(paths, parts(), strict=True):
        cv2.imwrite(str(path), pixels, [cv2.IMWRITE_JPEG_QUALITY, 92])
    return paths


def test_joined(tmp_path: Path) -> None:
    """A piece of 80 cm, of which no photo shows all: half a millimetre on most points, within what is told at all."""
    (sketch,), _, (seen,) = trace_photos(files(tmp_path), TraceChoices(one_piece=True))
    truth, found = shapely.LinearRing(LONG), shapely.LinearRing(seen.pieces[0].outline.points)
    off = np.concatenate(
        [shapely.distance(a.interpolate(np.arange(0, a.length)), b) for a, b in ((truth, found), (found, truth))]
    )
    assert float(np.median(off)) < 0.5
    assert float(off.max()) < min(1.5, seen.pieces[0].worst)
    assert shapely.Polygon(sketch.outline).area == pytest.approx(shapely.Polygon(LONG).area, rel=0.005)
    assert [fit.file for fit in seen.fits] == ["a.jpg", "b.jpg"]
    assert len(seen.view.sheets) == 2
    for fit in seen.fits:
        assert fit.sheets == ("A", "B")
        assert fit.missed_mm < 0.3 and fit.edge_mm is not None and fit.edge_mm < MOVED / 3 and fit.overlap_mm > 100


def test_one_photo_of_it_is_refused(tmp_path: Path) -> None:
    """One photo, in which the piece ends at a shadow to the eye, is refused with what to do; so is one --one-piece."""
    path = files(tmp_path)[0]
    with pytest.raises(FormatError, match=r"edge of .* is not clear.*--one-piece"):
        trace_photos([path])
    with pytest.raises(FormatError, match="2 to 8 photos"):
        trace_photos([path], TraceChoices(one_piece=True))


def seen_by(camera: Any, *where: tuple[int, tuple[float, float, float]]) -> tuple[SeenSheet, ...]:
    """Sheets at places, as a camera sees them."""
    boards = reference_boards()
    return tuple(
        SeenSheet(boards[n], boards[n].inner_corners(), camera(placed(boards[n].inner_corners(), np.array(pose))))
        for n, pose in where
    )


def test_sheets_far_apart_hold_together() -> None:
    """Three photos in a row over four sheets, without noise: sheets are found, and gains."""
    poses = [(0.0, 0.0, 0.0), (350.0, 20.0, 0.2), (700.0, -10.0, -0.1), (1050.0, 0.0, 0.05)]

    def camera(x: float) -> Any:
        return lambda points: 1500 * (points[:, ::-1] - (90.0, x)) / 900 * (1, 1) + (1000, 750)

    tables = [
        SeenTable(f"{n}.jpg", (2001, 1501), seen_by(camera(350.0 * n + 290), (n, poses[n]), (n + 1, poses[n + 1])))
        for n in range(3)
    ]
    table = join_tables(tables)
    board = reference_boards()[0]
    base = np.array(poses[1])  # most photos show B and C, and B comes first
    for paper, pose in zip(table.papers, poses, strict=True):
        c, s = np.cos(base[2]), np.sin(base[2])
        there = (placed(board.paper(), np.array(pose)) - base[:2]) @ np.array([(c, -s), (s, c)])
        assert paper == pytest.approx(there, abs=1.0)
    looks = evened(
        [SeenPhoto(np.full((1501, 2001, 3), 100 - 20 * n, np.uint8), each) for n, each in enumerate(table.cameras)]
    )
    assert [float(look.gain[0]) for look in looks] == pytest.approx([1, 1.25, 100 / 60], rel=0.01)
    middle = np.array([[(300.0, 90.0), (301.0, 90.0)]])
    assert across_edge(looks, middle).ravel() == pytest.approx(100, abs=1)
    assert best_of(looks, middle[0]).tolist() == [1, 1]


def test_photos_that_share_nothing() -> None:
    """Photos without a common sheet are refused with what to do."""

    def camera(points: Floats) -> Any:
        return 1.6 * points[:, ::-1] + (600, 500)

    tables = [SeenTable(f"{n}.jpg", (2001, 1501), seen_by(camera, (n, (0.0, 0.0, 0.0)))) for n in (0, 1)]
    with pytest.raises(
        FormatError, match=r"1\.jpg shows no sheet .*: it shows sheet B; 0\.jpg shows sheet A\. Lay two"
    ):
        join_tables(tables)


def test_what_moves_between_photos(tmp_path: Path) -> None:
    """A sheet that was moved before the second photo is named; so is a pattern that was, where both photos show it."""
    path, other = tmp_path / "a.jpg", tmp_path / "b.jpg"
    cv2.imwrite(str(path), parts()[0], [cv2.IMWRITE_JPEG_QUALITY, 92])
    seen, turns = PARTS[1]
    shot = replace(QUICK, turns=turns, creases=0)
    cases = (([LONG], (SHEETS[0], (388.0, 10.0, 4.0)), "sheet [AB] lies otherwise than in"),
             ([LONG + (4.0, -2.5)], SHEETS, "edge of the pattern lies .* off where other photos"),
             ([LONG + (8.0, -5.0)], SHEETS, "leave the pattern and all sheets where they are"))  # fmt: skip
    for pieces, sheets, why in cases:
        points = np.array([*seen, (0.0, 0.0)])
        cv2.imwrite(str(other), photo(pieces, shot, [], sheets, points), [cv2.IMWRITE_JPEG_QUALITY, 92])
        with pytest.raises(FormatError, match=why):
            trace_photos([path, other], TraceChoices(one_piece=True))


def test_a_sheet_that_rises_is_in_the_doubt() -> None:
    """Bowed by a tenth of a millimetre it leads astray by what is told for it; bowed by half of one it is refused."""
    board = reference_boards()[0]
    places = board.inner_corners()
    lens = (np.log(3100.0), 1999.5, 1499.5, 0.0, 0.0, 0.0, 0.0, 0.0)
    true = np.array([*lens, 0.05, -3.05, -0.1, 150.0, -250.0, 900.0])
    high = BOW * (1 - (2 * places[:, 0] / board.size[0] - 1) ** 2)
    flat = projected(true, places)[0] + np.random.default_rng(0).normal(scale=0.01, size=places.shape)
    far = np.array([(-250.0, 600.0), (550.0, 600.0)])
    seen = projected(true, far)[0]
    cameras = [
        join_tables([SeenTable("a.jpg", (4000, 3000), (SeenSheet(board, places, pixels),))]).cameras[0]
        for pixels in (flat, flat + high[:, None] * by_height(true, places))
    ]
    moved = np.hypot(*(cameras[1].on_table(seen) - cameras[0].on_table(seen)).T)
    sure = Camera(cameras[0].values, cameras[0].spread, cameras[0].rms)
    assert cameras[0].rms < 0.03 > cameras[1].rms
    assert (moved > 0.2).all() and (moved < cameras[0].doubt(far)).all()
    assert (cameras[0].doubt(far) > sure.doubt(far)).all()
    bowed = flat + 5 * high[:, None] * by_height(true, places)
    with pytest.raises(FormatError, match=r"sheet A does not lie flat: it rises by about 0\.[4-6] mm"):
        join_tables([SeenTable("a.jpg", (4000, 3000), (SeenSheet(board, places, bowed),))])
