"""What is drawn on paper and cut into its edge, found in rendered photos; and nothing where there is nothing."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely

from pieces.photo.trace import TraceChoices, trace_photos
from tests.make.photos import ARMHOLE, PIECE, QUICK, Drawn, kept, photo

if TYPE_CHECKING:
    from pathlib import Path

    from numpy.typing import NDArray

    from pieces.photo.mark import PaperMark

    Floats = NDArray[np.float64]

CUT = np.array(
    [(-100.0, 240.0), (56.0, 240.0), (60.0, 247.0), (64.0, 240.0), (300.0, 240.0), *ARMHOLE.tolist(), (220.0, 520.0)]
    + [(-100.0, 500.0)]
)
"""The piece with a V cut into its edge."""


def line(*points: tuple[float, float], **more: object) -> Drawn:
    """A line that is drawn."""
    return Drawn(np.array(points, dtype=np.float64), **more)  # type: ignore[arg-type]


def arrow(a: tuple[float, float], b: tuple[float, float]) -> list[Drawn]:
    """A line with barbs of 8 mm at both ends."""
    along = np.subtract(b, a) / np.hypot(*np.subtract(b, a))
    aside = np.array([-along[1], along[0]])
    heads = [
        Drawn(np.array([tip + 7 * way + 4 * aside, tip, tip + 7 * way - 4 * aside]))
        for tip, way in ((np.array(a), along), (np.array(b), -along))
    ]
    return [line(a, b), *heads]


SEWN = shapely.get_coordinates(shapely.Polygon(PIECE).buffer(-15, join_style="mitre").exterior)
EVERYTHING = [
    *arrow((0.0, 380.0), (180.0, 390.0)),
    Drawn(SEWN, dash=(6.0, 3.0)),
    line((-100, 330), (20, 345), (-100, 360), wide=0.6),
    line((120, 240), (120, 252)),
    line((126, 240), (126, 252)),
    line((60, 300), (140, 310), (230, 300), colour=(150, 60, 60)),
    line((100, 440), (108, 440)),
    line((104, 436), (104, 444)),
    line((30, 405), words="Front cut 2", wide=0.6),
]


@cache
def marked(folder: Path) -> tuple[PaperMark, ...]:
    """The marks of the piece with all of them, on creased paper."""
    path = kept(folder, photo([CUT], replace(QUICK, deep=0.2), EVERYTHING))
    _, _, (seen,) = trace_photos([path])
    return seen.pieces[0].marks


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where the photo is kept."""
    return tmp_path_factory.mktemp("photos")


def those(folder: Path, kind: str) -> list[PaperMark]:
    """The marks of a kind."""
    return [mark for mark in marked(folder) if mark.kind == kind]


def off(points: Floats, truth: Floats) -> float:
    """How far points lie off a line at the most, mm."""
    return float(shapely.distance(shapely.points(points), shapely.LineString(truth)).max())


def test_each_is_taken_for_what_it_is(folder: Path) -> None:
    """A grainline, a sew line of dashes, a dart, a drill point, three notches, a line and words: no more, no less."""
    found = Counter(mark.kind for mark in marked(folder) if mark.kind not in ("crease", "writing"))
    assert found == {"grain": 1, "sew line": 1, "dart": 1, "drill point": 1, "notch": 3, "inner line": 1}
    assert those(folder, "writing")
    assert all(mark.why for mark in marked(folder))


def test_each_is_where_it_is(folder: Path) -> None:
    """To a millimetre and a half at 3 million pixels: the dart's tip is the least sure."""
    (grain,), (dart,), sew = (those(folder, kind) for kind in ("grain", "dart", "sew line"))
    way = grain.points[1] - grain.points[0]
    assert np.degrees(np.arctan2(way[1], way[0])) % 180 == pytest.approx(np.degrees(np.arctan2(10, 180)), abs=0.3)
    truth = np.array([(-100, 330), (20, 345), (-100, 360)])
    assert float(np.hypot(*(np.sort(dart.points, axis=0) - np.sort(truth, axis=0)).T).max()) < 3
    assert np.hypot(*(dart.points[1] - (20, 345))) < 3
    assert all(off(mark.points, SEWN) < 2.5 for mark in sew)  # a corner between dashes
    assert shapely.Polygon(sew[0].points).area == pytest.approx(shapely.Polygon(SEWN).area, rel=0.02)
    (inner,) = those(folder, "inner line")
    assert off(inner.points, np.array([(60, 300), (140, 310), (230, 300)])) < 1
    (point,) = those(folder, "drill point")
    assert np.hypot(*(point.points[0] - (104, 440))) < 1
    feet = sorted(float(mark.points[0, 0]) for mark in those(folder, "notch"))
    assert feet == pytest.approx([60, 120, 126], abs=1)


def test_a_cut_notch_leaves_the_edge_straight(tmp_path: Path) -> None:
    """The side runs over the V as if it were not there; the notch is on it."""
    path = kept(tmp_path, photo([CUT], QUICK, []))
    (sketch,), _, (seen,) = trace_photos([path])
    ring = shapely.LinearRing(PIECE)
    assert float(shapely.distance(shapely.points(seen.pieces[0].outline.points), ring).max()) < 1.5
    assert len(sketch.notches) == 1


@pytest.mark.parametrize(("seed", "deep", "table"), [(0, 0.2, "checks"), (4, 0.3, "plain")])
def test_nothing_is_invented(tmp_path: Path, seed: int, deep: float, table: str) -> None:
    """Bare paper with creases, in a hard shadow, on a patterned table, has no marks."""
    shot = replace(QUICK, seed=seed, creases=6, deep=deep, table=table, shadow=0.45)
    (sketch,), _, (seen,) = trace_photos([kept(tmp_path, photo([PIECE], shot, []))])
    assert {mark.kind for mark in seen.pieces[0].marks} <= {"crease"}
    assert not sketch.inner and not sketch.notches and not sketch.drills and sketch.grain is None


def test_a_bracket_is_a_fold(tmp_path: Path) -> None:
    """A bracket with arrowheads along the straight side: that side is the fold, and the grain runs along it."""
    bracket = [line((0, 242), (0, 262), (200, 262), (200, 242)), line((-4, 249), (0, 242), (4, 249))]
    path = kept(tmp_path, photo([PIECE], QUICK, [*bracket, line((196, 249), (200, 242), (204, 249))]))
    (sketch,), report, _ = trace_photos([path])
    assert sketch.fold is not None
    assert [y for _, y in sketch.fold] == pytest.approx([0, 0], abs=1)
    assert any("a mark for the fold" in said for said in report.remarks)
    assert sketch.turn == pytest.approx(0, abs=0.3)


def test_asked_otherwise(tmp_path: Path) -> None:
    """A grain that was told counts for more than one that is drawn."""
    path = kept(tmp_path, photo([PIECE], QUICK, arrow((0.0, 380.0), (180.0, 390.0))))
    (sketch,), _, _ = trace_photos([path], TraceChoices(grain=45.0))
    assert sketch.grain is not None and sketch.turn == 45.0
