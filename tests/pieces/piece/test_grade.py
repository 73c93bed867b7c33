"""Grade rules: cases worked out by hand, and pieces drafted anew in the larger size."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from pieces import Piece, PieceSet
from pieces.errors import OutlineError, PieceError
from pieces.piece.curve import Line
from pieces.piece.grade import EdgeGrade, PointGrade, grade, grade_set
from pieces.piece.outline import Edge
from pieces.piece.piece import InnerLine, Notch
from pieces.piece.pieces import Seam
from pieces.piece.ribbing import rib_band
from tests.make.outlines import sides

CORNERS = [(0.0, 0.0), (100.0, 0.0), (100.0, 60.0), (0.0, 60.0)]
RECTANGLE = Piece(
    "panel",
    sides(CORNERS, [10.0] * 4),
    notches=(Notch("middle", (100.0, 30.0)), Notch("low", (25.0, 0.0))),
    drill_points=((50.0, 30.0),),
)
WIDER = tuple(PointGrade(point, 0.0, 8.0 if point[1] else 0.0) for point in CORNERS)


def box(piece: Piece) -> tuple[float, float, float, float]:
    """The box round a piece's sew line."""
    return shapely.Polygon(piece.sew_line).bounds


def test_points_by_hand() -> None:
    """Two corners 8 mm out: 60 becomes 76 in two sizes, a notch half-way up moves by half, one below stays."""
    larger = grade(RECTANGLE, WIDER, 2)
    assert box(larger) == pytest.approx((0, 0, 100, 76))
    assert larger.notches[0].point == pytest.approx((100, 38))
    assert larger.notches[1].point == pytest.approx((25, 0))
    assert larger.drill_points[0] == pytest.approx((50, 38))  # as far from all four corners: moved by their mean
    assert box(grade(RECTANGLE, WIDER, -1)) == pytest.approx((0, 0, 100, 52))


def test_lines_within_go_with_the_outline() -> None:
    """A sew line 10 mm within stays beside its edges, a line in the middle goes half-way, a cutout keeps its shape."""
    sew = ((10.0, 10.0), (90.0, 10.0), (90.0, 50.0), (10.0, 50.0), (10.0, 10.0))
    hole = ((45.0, 25.0), (55.0, 25.0), (55.0, 35.0), (45.0, 25.0))
    lines = (InnerLine("sew", sew), InnerLine("line", ((50.0, 30.0), (50.0, 30.0))), InnerLine("cutout", hole))
    larger = grade(replace(RECTANGLE, inner=lines), WIDER, 2)
    on_sew, middle, cutout = (np.array(line.points) for line in larger.inner)
    assert on_sew[:, 1].max() == pytest.approx(66)
    assert on_sew[:, 1].min() == pytest.approx(10)
    assert middle[0] == pytest.approx((50, 38))
    moved = cutout - hole
    assert moved == pytest.approx(np.tile(moved[0], (4, 1)))
    assert 6 < moved[0, 1] < 10


def test_between_graded_points() -> None:
    """Points between move by their share of the way: a quarter of the way from 0 to 8 mm is 2 mm."""
    path = np.array([(100.0, 0.0), (100.0, 15.0), (100.0, 45.0), (100.0, 60.0)])
    edges = sides(CORNERS, [10.0] * 4)
    piece = Piece("panel", (edges[0], Edge("side", path, 10.0), *edges[2:]))
    rules = (*(PointGrade(point, 0.0, 0.0) for point in CORNERS if point != CORNERS[2]), PointGrade(CORNERS[2], 8.0, 0))
    assert grade(piece, rules, 1).edge("side").points == pytest.approx(
        np.array([(100, 0), (102, 15), (106, 45), (108, 60)])
    )


def test_point_on_an_edge() -> None:
    """A graded point in the middle of a straight edge makes a corner there: the area grows by 4 x 100 / 2."""
    rules = (*(PointGrade(point, 0.0, 0.0) for point in CORNERS), PointGrade((50.0, 60.0), 0.0, 4.0))
    larger = grade(RECTANGLE, rules, 1)
    assert shapely.Polygon(larger.sew_line).area == pytest.approx(6000 + 200)
    assert (50.0, 64.0) in {(round(x, 6), round(y, 6)) for x, y in larger.sew_line}


def test_mark_with_a_rule_of_its_own() -> None:
    """A drill point that has a rule moves by it; a rule for no place at all is refused."""
    assert grade(RECTANGLE, (*WIDER, PointGrade((50.0, 30.0), 1.0, 2.0)), 3).drill_points[0] == pytest.approx((53, 36))
    with pytest.raises(PieceError, match=r"\(20, 20\) of 'panel' is neither on its sew line"):
        grade(RECTANGLE, (*WIDER, PointGrade((20.0, 20.0), 1.0, 2.0)), 1)


@given(st.lists(st.floats(-5, 5), min_size=4, max_size=4), st.integers(-3, 5))
def test_edges_of_a_rectangle(out: list[float], steps: int) -> None:
    """Edges moved out by so much a size make the rectangle with its four sides there; allowances stay."""
    rules = [EdgeGrade(f"e{number}", by) for number, by in enumerate(out)]
    bottom, right, top, left = (by * steps for by in out)
    graded = grade(RECTANGLE, rules, steps)
    assert box(graded) == pytest.approx((-left, -bottom, 100 + right, 60 + top))
    assert graded.cut_line.max(axis=0) == pytest.approx((110 + right, 70 + top))
    middle = graded.notches[0].point
    assert middle == pytest.approx((100 + right, (60 + top - bottom) / 2))  # half-way along its edge, as before


def test_slanted_edge_by_hand() -> None:
    """A right triangle's long side moved out by d: its legs grow by d times the square root of 2 each."""
    triangle = Piece("gusset", sides([(0.0, 0.0), (80.0, 0.0), (0.0, 80.0)], [5.0] * 3))
    assert box(grade(triangle, [EdgeGrade("e1", 2.0)], 2)) == pytest.approx((0, 0, *[80 + 4 * 2**0.5] * 2))


def test_curved_edge_agrees_with_shapely() -> None:
    """A piece with a curved side, all edges moved out alike, is shapely's mitred buffer."""
    angle = np.linspace(0, np.pi, 60)
    arc = np.column_stack([50 + 50 * np.cos(angle), 60 + 20 * np.sin(angle)])
    arc[0], arc[-1] = (100, 60), (0, 60)
    edges = (*sides(CORNERS, [10.0] * 4)[:2], Edge("curve", arc, 10.0), sides(CORNERS, [10.0] * 4)[3])
    piece = Piece("yoke", edges)
    graded = grade(piece, [EdgeGrade(name, 3.0) for name in ("e0", "e1", "curve", "e3")], 1)
    wanted = shapely.Polygon(piece.sew_line).buffer(3.0, join_style="mitre", mitre_limit=10)
    assert shapely.Polygon(graded.sew_line).symmetric_difference(wanted).area < 0.5


@pytest.mark.parametrize("steps", [-2, 3])
def test_as_if_drafted_anew(steps: int) -> None:
    """A rib band graded by its ends, either way, is the band drafted 10 mm longer for each size."""
    band = rib_band("cuff", 200, 140, 12, cut=2)
    anew = rib_band("cuff", 200 + 10 * steps, 140, 12, cut=2)
    points = [PointGrade(tuple(edge.points[0]), 0.0, 10.0 if edge.points[0, 1] > 100 else 0.0) for edge in band.edges]
    for graded in (grade(band, points, steps), grade(band, [EdgeGrade("other end", 10.0)], steps)):
        assert shapely.Polygon(graded.cut_line).equals_exact(shapely.Polygon(anew.cut_line), 1e-6)
        for ours, theirs in zip(graded.notches, anew.notches, strict=True):
            assert ours.point == pytest.approx(theirs.point)


def test_jacket_graded_a_little(jacket: PieceSet) -> None:
    """The jacket's back, its side moved out by 5 mm, is 5 mm wider at the hem, and lies on its fold as before."""
    back = jacket["back"]
    graded = grade(back, [EdgeGrade("side", 5.0)], 1)
    assert graded.on_fold
    hem, before = (
        piece.edge("side").points[0 if piece.edge("side").points[0, 0] > 300 else -1] for piece in (graded, back)
    )
    assert hem[1] - before[1] == pytest.approx(5.0, abs=0.3)


def test_what_is_refused() -> None:
    """Rules for what is not there, both kinds at once, an edge on the fold, edges that part: each is named."""
    fold = Piece("back", sides(CORNERS, [0.0, 10.0, 10.0, 10.0], fold=0))
    for piece, rules, said in (
        (RECTANGLE, [EdgeGrade("hem", 1.0)], "'panel' has no edge 'hem' to grade: it has e0, e1"),
        (RECTANGLE, [EdgeGrade("e0", 1.0), *WIDER], "by points or by edges, not by both"),
        (fold, [EdgeGrade("e0", 1.0)], "'e0' of 'back' is on the fold"),
        (RECTANGLE, [PointGrade((50.0, 30.0), 1.0, 0.0)], "no graded point of 'panel' lies on its sew line"),
    ):
        with pytest.raises(PieceError, match=said):
            grade(piece, rules, 1)  # type: ignore[arg-type]
    half = (Line((0, 0), (50, 0)), Line((50, 0), (100, 0)))
    edges = tuple(Edge(f"half {n}", line.flatten(), 10.0) for n, line in enumerate(half))
    split = replace(RECTANGLE, edges=(*edges, *RECTANGLE.edges[1:]), notches=())
    with pytest.raises(OutlineError, match="'half 0' and 'half 1' continue in one line"):
        grade(split, [EdgeGrade("half 0", 3.0)], 1)
    assert box(grade(split, [EdgeGrade("half 0", 3.0), EdgeGrade("half 1", 3.0)], 1)) == pytest.approx((0, -3, 100, 60))


def test_set() -> None:
    """Pieces sewn together are graded together: rules for one of them alone no longer match, and are refused."""
    other = replace(RECTANGLE, name="other")
    seam = Seam("side", (("panel", "e1"),), (("other", "e1"),))
    pieces = PieceSet("tote", (RECTANGLE, other), (seam,))
    graded = grade_set(pieces, {"panel": WIDER, "other": WIDER}, 2)
    assert [box(piece)[3] for piece in graded] == pytest.approx([76, 76])
    with pytest.raises(OutlineError, match=r"'side' differ by 16\.0 mm"):
        grade_set(pieces, {"panel": WIDER}, 2)
    with pytest.raises(PieceError, match="the pieces are panel, other"):
        grade_set(pieces, {"collar": WIDER}, 2)
