"""The sheet of pieces: every piece upright, at one scale, with what to cut."""

from __future__ import annotations

from itertools import combinations
from typing import TYPE_CHECKING

import pytest
import shapely

from nesting.problem.transform import Transform
from pieces import GARMENTS, Piece, PieceSet, Units
from pieces.garments import JacketStyle
from pieces.length import inches
from reports.draw.kit.marks import Marks
from reports.draw.pieces import UPRIGHT, cut_words, pieces_page
from tests.make.drawn import overlapping, texts

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from pieces import Body

INCH = 25.4


def page(pieces: PieceSet, units: Units = Units.INCHES) -> Figure:
    """A sheet of pieces."""
    return pieces_page(pieces, title="jacket: pieces", units=units)


@pytest.fixture(params=["buttons", "tabs and seam", "grown-on"])
def pieces(request: pytest.FixtureRequest, jacket: PieceSet, body: Body) -> PieceSet:
    """The jacket, one with small tabs and a back in two, and one whose facing is grown on."""
    if request.param == "buttons":
        return jacket
    style = JacketStyle(sleeve=inches(22), facing="grown-on")
    if request.param == "tabs and seam":
        style = JacketStyle(sleeve=inches(22), back="seam", tab_width=inches(2), closure="zip")
    return GARMENTS["rib-jacket"].draft(body, style)


def scale(ax: Axes) -> tuple[float, float]:
    """Points of the page a mm, across and down."""
    figure = ax.get_figure(root=True)
    assert figure is not None
    (width, height), box = figure.get_size_inches() * 72, ax.get_position()
    x, y = ax.get_xlim(), ax.get_ylim()
    return box.width * width / (x[1] - x[0]), box.height * height / (y[1] - y[0])


def test_every_piece_is_named(pieces: PieceSet) -> None:
    """Each piece's name stands once, with how many to cut and its size."""
    words = texts(page(pieces))
    for piece in pieces:
        assert words.count(piece.name) == 1
        assert any(word.startswith(f"{cut_words(piece)}, {piece.material}") for word in words)
    assert words.count("fold") == sum(piece.on_fold for piece in pieces)


def test_sizes_of_the_model_jacket(jacket: PieceSet) -> None:
    """Body 28 in long (30 less 3 of rib and two 1/2 in seams), cuff 9 1/2 in round and 7 in deep: by the rules."""
    words = texts(page(jacket))
    assert "28 in long, 13 3/4 in wide; opened out 27 1/2 in" in words
    assert "9 1/2 in long, in the stretch; 7 in deep" in words


def test_all_at_one_scale(pieces: PieceSet) -> None:
    """All pieces are drawn at one scale, the same across and down."""
    found = [value for ax in page(pieces).axes[1:] for value in scale(ax)]
    assert len(found) == 2 * len(list(pieces))
    assert found == pytest.approx([found[0]] * len(found), rel=1e-6)


def test_nothing_overlaps(pieces: PieceSet) -> None:
    """No piece lies on another or on words, no words on words, and none leaves the page (shapely)."""
    figure = page(pieces, Units.METRIC)
    assert overlapping(figure) == []
    boxes = [shapely.box(*ax.bbox.extents) for ax in figure.axes[1:]]
    sheet = shapely.box(*figure.bbox.extents)
    assert all(sheet.contains(box) for box in boxes)
    assert not any(a.intersects(b) for a, b in combinations(boxes, 2))
    written = [shapely.box(*text.get_window_extent().extents) for text in figure.axes[0].texts]
    assert not any(box.intersects(words) for box in boxes for words in written)


def test_top_of_the_garment_is_up(jacket: PieceSet) -> None:
    """X runs down the garment: a piece's grainline starts higher on the page than it ends, straight below."""
    for piece in jacket:
        (x0, y0), (x1, y1) = Transform.to_corner(piece.cut_line, UPRIGHT)(piece.grain)
        assert y0 > y1
        assert x0 == pytest.approx(x1)


def test_fold_bracket_stands_inside(jacket: PieceSet) -> None:
    """The bracket's arrows end on the fold edge, and its bar lies on the piece (shapely)."""
    back: Piece = jacket["back"]
    pose = Transform.to_corner(back.cut_line, UPRIGHT)
    marks = Marks.of(back, pose, opened=False)
    start, corner, other, end = marks._bracket(1.0)
    assert marks.fold is not None
    fold, area = shapely.LineString(marks.fold[0]), shapely.Polygon(pose(back.cut_line))
    assert all(fold.distance(shapely.Point(tip)) < 1e-6 for tip in (start, end))
    assert area.contains(shapely.LineString([corner, other]))


@pytest.mark.parametrize(
    ("name", "words"), [("back", "cut 1 on fold"), ("sleeve", "cut 2 (1 pair)"), ("cuff", "cut 2")]
)
def test_cut_words(jacket: PieceSet, name: str, words: str) -> None:
    """What to cut is written as on a pattern piece."""
    assert cut_words(jacket[name]) == words
