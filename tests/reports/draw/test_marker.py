"""Pictures of markers: every piece where it lies, every word readable."""

from __future__ import annotations

from collections import Counter
from functools import cache
from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from matplotlib.figure import Figure

from nesting.cloth.band import Band
from nesting.cloth.fabric import Fabric
from nesting.marker.marker import Marker, Placement
from nesting.problem.item import Item, Variant
from nesting.problem.lay import lay_pieces
from nesting.problem.problem import Problem
from nesting.problem.transform import Transform
from nesting.search.solver import solve
from nesting.search.stop import MaxRuntime
from pieces import GARMENTS, PieceSet, Units
from pieces.garments import JacketStyle
from pieces.length import inches, mm
from pieces.piece.outline import Edge
from pieces.piece.piece import Notch, Piece
from reports.draw.kit.label import find_spot
from reports.draw.kit.marks import Marks
from reports.draw.marker import marker_page, plot_marker
from reports.rows import LaidRow, marker_rows, table_cells
from tests.make.drawn import overlapping, texts

if TYPE_CHECKING:
    from nesting.cloth.spread import Spread
    from pieces import Body

INCH = 25.4
SPREADS: dict[Spread, float] = {"folded": 60.0, "open": 45.0, "double-folded": 108.0, "tube": 76.0}
RECTANGLE = np.array([(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)])


@cache
def laid(pieces: PieceSet, spread: Spread, garments: int = 1) -> Marker:
    """The first marker found on cloth of the width that goes with a spread."""
    selvedge = 0.0 if spread == "tube" else INCH / 2
    fabric = Fabric("cloth", inches(SPREADS[spread]), mm(selvedge))
    return solve(lay_pieces(pieces.of("shell"), fabric, spread, garments=garments), MaxRuntime(0)).marker


def odd() -> Marker:
    """Narrow cloth with large, small, tiny and very thin pieces, and no pattern pieces behind them."""
    sizes = [(300, 200), (20, 15), (8, 6), (600, 10)]
    names = ["large", "small", "tiny", "thin one with a long name"]
    problem = Problem.from_outlines(500, [RECTANGLE * s for s in sizes], [5, 4, 3, 2], [[0, 180]] * 4, names=names)
    return solve(problem, MaxRuntime(0)).marker


def by_hand() -> Marker:
    """Two rectangles of 4 x 2 in on a band 10 in wide between a fold and a selvedge."""
    outline = RECTANGLE * (4 * INCH, 2 * INCH)
    variants = (Variant(outline, 0.0, False, 0, 0.0, 8 * INCH), Variant(outline, 180.0, True, 0, 0.0, 8 * INCH))
    band = Band("folded cloth", 0.0, 10 * INCH, 2, True, "fold", "selvedge")
    problem = Problem((band,), (Item("pocket", 2, variants, yields=2),))
    placements = (Placement(0, 0, 1, 4.5 * INCH, 7.875 * INCH), Placement(0, 1, 0, 0.0, 1.25 * INCH))
    return Marker(problem, placements, 8.5 * INCH)


def page(marker: Marker, units: Units = Units.INCHES) -> Figure:
    """A page with the words a plan would give."""
    lines = ("Buy 1 7/8 yd", "Marker 60 in long, 80.0% of the cloth used; no marker can be shorter than 55 in")
    return marker_page(marker, title="jacket, on rust canvas", subtitle="60 in wide", units=units, lines=lines)


@pytest.fixture(scope="module", params=[*SPREADS, "tabs", "odd", "by hand"])
def marker(request: pytest.FixtureRequest, jacket: PieceSet, body: Body) -> Marker:
    """The jacket on each spread, one with small tabs, and two without pattern pieces."""
    if request.param == "odd":
        return odd()
    if request.param == "by hand":
        return by_hand()
    if request.param == "tabs":
        style = JacketStyle(tab_width=inches(2), back="seam", closure="zip", sleeve=inches(22))
        return laid(GARMENTS["rib-jacket"].draft(body, style), "open")
    return laid(jacket, request.param)


@pytest.mark.parametrize("spread", SPREADS)
def test_pose_is_that_of_the_outline(jacket: PieceSet, spread: str) -> None:
    """A piece's own frame lands on its outline in the marker (outline: nesting; compared by shapely)."""
    marker = laid(jacket, spread)
    for placement, item, variant, outline in marker.outlines():
        assert item.piece is not None
        own = item.piece.cut_line if variant.on_fold else item.piece.unfolded
        landed = LaidRow(1, placement, item, variant, outline, marker.problem.bands[variant.band]).transform(own)
        assert shapely.Polygon(landed).symmetric_difference(shapely.Polygon(outline)).area < 1e-3


@pytest.mark.parametrize("turn", [0.0, 90.0, 180.0, 270.0, 7.5])
@pytest.mark.parametrize("mirrored", [False, True])
def test_pose_keeps_distances(turn: float, mirrored: bool) -> None:
    """A pose moves a piece and does not stretch it; mirrored, it changes hands."""
    points = np.array([(0.0, 0.0), (30.0, 0.0), (0.0, 40.0)])
    landed = Transform.to_corner(points, turn, mirrored).moved(5.0, 6.0)(points)
    assert np.hypot(*(landed[1] - landed[2])) == pytest.approx(50)
    assert landed.min(axis=0) == pytest.approx((5, 6))
    assert shapely.LinearRing(landed).is_ccw is not mirrored


@pytest.mark.parametrize("spread", SPREADS)
def test_marks_lie_on_their_piece(jacket: PieceSet, spread: str) -> None:
    """Sew line, grainline and notches of every placement lie on its outline (shapely); the grain along the cloth."""
    for row in marker_rows(laid(jacket, spread)):
        piece = row.item.piece
        assert piece is not None
        opened = piece.on_fold and not row.variant.on_fold
        marks = Marks.of(piece, row.transform, opened=opened)
        area = shapely.Polygon(row.outline).buffer(1e-6)
        assert all(area.covers(shapely.LineString(run)) for run in (*marks.sewn, marks.grain))
        assert all(area.covers(shapely.Point(point)) for point in marks.points)
        assert marks.grain[0, 1] == pytest.approx(marks.grain[1, 1])
        assert len(marks.points) == len(piece.notches) * (2 if opened else 1)
        assert (marks.fold is not None) == row.variant.on_fold
        assert (marks.centre is not None) == opened


def test_outlines_are_drawn_true() -> None:
    """Each piece's true cut line is drawn, closed, in mm of the cloth."""
    marker = odd()
    drawn = [np.asarray(line.get_xydata()) for line in plot_marker(marker, units=Units.METRIC).lines]
    for _, _, _, outline in marker.outlines():
        closed = np.vstack([outline, outline[:1]])
        assert any(line.shape == closed.shape and np.allclose(line, closed) for line in drawn)


def test_axes_given_come_back_at_one_scale() -> None:
    """The axes handed in are the axes returned, and a mm is as long both ways."""
    ax = Figure(figsize=(7, 5)).add_axes((0.1, 0.1, 0.8, 0.8))
    assert plot_marker(by_hand(), units=Units.INCHES, ax=ax) is ax
    origin, along, across = ax.transData.transform([(0, 0), (100, 0), (0, 100)])
    assert np.hypot(*(along - origin)) == pytest.approx(np.hypot(*(across - origin)), rel=1e-6)


def test_table_by_hand() -> None:
    """Two rectangles set out by hand: numbers, distances, sizes and turns, worked out with a pencil."""
    assert table_cells(by_hand(), Units.INCHES) == [
        ("#", "piece", "gives", "from start", "from edge", "length × width", "lies"),
        ("1", "pocket", "1", "0 in", "1 1/4 in, fold", "4 × 2 in", "as drafted"),
        ("2", "pocket", "1", "4 1/2 in", "1/8 in, selvedge", "4 × 2 in", "turned, face down"),
    ]
    assert table_cells(by_hand(), Units.METRIC)[2][3:6] == ("11.5 cm", "0.5 cm, selvedge", "10 × 5 cm")


@pytest.fixture(scope="module")
def drawn(marker: Marker) -> Figure:
    """The marker's page."""
    return page(marker)


def test_page_says_it_all(marker: Marker, drawn: Figure) -> None:
    """Every cell of the table, every number on the cloth, its length, and what to buy stand in the SVG."""
    units = Units.INCHES
    words = Counter(texts(drawn))
    wanted = Counter(cell for line in table_cells(marker, units)[1:] for cell in line)
    assert len(table_cells(marker, units)) == marker.problem.num_placements + 1
    assert not {cell: n for cell, n in wanted.items() if words[cell] < n}
    heads = [word.split(" ")[0] for word in words.elements()]
    for row in marker_rows(marker):
        assert heads.count(str(row.number)) >= 2, f"number {row.number} is in the table and on the cloth"
    assert "Buy 1 7/8 yd" in words


def test_no_word_on_another(drawn: Figure) -> None:
    """No two pieces of text overlap, and none leaves the page (boxes as matplotlib lays them out)."""
    assert overlapping(drawn) == []


@pytest.mark.parametrize(
    ("spread", "words"),
    [
        ("folded", ["fold", "selvedge", "folded cloth, 2 layers, right sides together"]),
        ("open", ["lower selvedge", "upper selvedge", "single layer, right side up"]),
        ("tube", ["lower fold", "upper fold", "tube, 2 layers, right sides together"]),
        ("double-folded", ["lower fold: near selvedge to the middle", "selvedges", "meet", "first fold, 2 layers"]),
    ],
)
def test_edges_are_named(jacket: PieceSet, spread: str, words: list[str]) -> None:
    """Folds, selvedges and layers are labelled, as sewing handbooks ask of a layout drawing."""
    assert set(words) <= set(texts(page(laid(jacket, spread))))


def test_what_a_placement_gives(jacket: PieceSet) -> None:
    """Folded cloth gives pairs and halves on the fold; open cloth gives lefts, rights and whole backs."""
    folded = Counter((row.name, row.gives) for row in marker_rows(laid(jacket, "folded")))
    assert folded == {
        ("back", "1 on fold"): 1,
        ("front", "left + right"): 1,
        ("sleeve", "left + right"): 1,
        ("front facing", "left + right"): 1,
    }
    flat = Counter((row.name, row.gives) for row in marker_rows(laid(jacket, "open")))
    pairs = {(name, hand): 1 for name in ("front", "sleeve", "front facing") for hand in ("left", "right")}
    assert flat == {("back", "1, opened out"): 1, **pairs}


def test_a_piece_that_is_its_own_mirror_image_has_no_hand() -> None:
    """A pair of triangles, alike turned over, is not twice a left one; with a notch aside each has its hand."""
    corners = np.array([(0.0, 0.0), (300.0, -100.0), (300.0, 100.0), (0.0, 0.0)])
    edges = tuple(Edge(f"side {k}", corners[k : k + 2], 10.0) for k in range(3))
    for notches, gives in (((), ["1", "1"]), ((Notch("aside", (300.0, 50.0)),), ["left", "right"])):
        piece = Piece("tri", edges, cut=2, mirrored_pair=True, notches=notches, grain=((50, 0), (250, 0)))
        marker = solve(lay_pieces(PieceSet("", (piece,)), Fabric("cloth", mm(900)), "open"), MaxRuntime(0)).marker
        assert sorted(row.gives for row in marker_rows(marker)) == gives


def test_long_cloth_in_rows(jacket: PieceSet) -> None:
    """Cloth of more than 4 m is drawn in rows of at most 4 m; the page grows, and no number is lost."""
    marker = laid(jacket, "open", 3)
    figure = page(marker)
    rows = figure.axes[1:]
    assert len(rows) == int(np.ceil(marker.length / 4000)) > 1
    assert figure.get_size_inches()[1] > figure.get_size_inches()[0] * 210 / 297
    heads = {word.split(" ")[0] for ax in rows for word in (text.get_text() for text in ax.texts)}
    assert {str(row.number) for row in marker_rows(marker)} <= heads
    assert overlapping(figure) == []


def test_page_is_a4_where_it_can_be(jacket: PieceSet) -> None:
    """One jacket on 60 in cloth fits a page of A4 on its side (297 x 210 mm: ISO 216)."""
    assert page(laid(jacket, "folded")).get_size_inches() * INCH == pytest.approx((297, 210), abs=0.1)


def test_strange_names() -> None:
    """Names with dollars, angle brackets, line breaks, unknown letters or no end are written, not tripped over."""
    names = ["$5$ <b>&", "two\nlines", "日本", "x" * 300]
    problem = Problem.from_outlines(500, [RECTANGLE * (400, 200)] * 4, [1] * 4, [[0]] * 4, names=names)
    figure = page(solve(problem, MaxRuntime(0)).marker)
    words = " ".join(texts(figure))
    assert all(name in words for name in ("$5$ <b>&", "two lines", "日本", "xxxx…"))
    assert overlapping(figure) == []


@given(
    st.lists(st.tuples(st.floats(0, 100), st.floats(0, 100)), min_size=3, max_size=3),
    st.floats(1, 40),
    st.floats(1, 40),
)
def test_a_box_found_lies_in_its_room(corners: list[tuple[float, float]], width: float, height: float) -> None:
    """Wherever a label is put, all of it lies in the room it was given (shapely)."""
    room = shapely.Polygon(corners).buffer(0)
    spot = find_spot(room, width, height)
    if spot is not None:
        x, y = spot
        assert room.buffer(1e-6).covers(shapely.box(x - width / 2, y - height / 2, x + width / 2, y + height / 2))


def test_a_box_is_found_where_it_fits() -> None:
    """A square room takes a box a little smaller than itself, and none larger."""
    room = shapely.box(0, 0, 100, 50)
    assert find_spot(room, 99, 49) == pytest.approx((50, 25), abs=1)
    assert find_spot(room, 101, 10) is None
