"""Rules of cloth inside the search: patterns, tilt, nap by garment, pieces that change bands, faults.

Shortest lengths are worked out by hand or known by construction; what comes out has passed `check`, which rests on
shapely.
"""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import replace

import numpy as np
import pytest

from nesting.cloth.band import Band
from nesting.cloth.fabric import Fabric
from nesting.cloth.repeat import Repeat
from nesting.errors import CheckError, PieceTooWideError, SpreadError
from nesting.marker.marker import Marker, Placement
from nesting.marker.opinion import check
from nesting.problem.item import Choice, Item, Variant
from nesting.problem.lay import lay_pieces
from nesting.problem.problem import Problem
from nesting.search.exchange import exchange
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations
from nesting.shape.layout import Layout
from nesting.shape.shapes import Shapes
from pieces import Piece, PieceError
from pieces.length import mm
from tests.make.cloth import back, front, patch, tab
from tests.make.jigsaw import jigsaw
from tests.make.outlines import sides

TWILL = Fabric("twill", mm(1000.0), mm(10.0))
STRIP = Band("strip", 0.0, 100.0)


def box(length: float, height: float) -> np.ndarray:
    """Length along the cloth by height across."""
    return np.array([[0, 0], [length, 0], [length, height], [0, height]], dtype=float)


def item(
    length: float, height: float, quantity: int, match: tuple[float, float] | None, low: float, high: float
) -> Item:
    """Rectangles that lie one way."""
    return Item("box", quantity, (Variant(box(length, height), 0.0, False, 0, low, high, match=match),))


def laid(problem: Problem, iterations: int = 200, **options: object) -> Marker:
    """The marker that a short search finds, checked once more."""
    marker = solve(problem, MaxIterations(iterations), **options).marker  # type: ignore[arg-type]
    check(marker)
    return marker


def test_pieces_on_stripes_lie_whole_repeats_apart() -> None:
    """Three pieces of 100 that span the cloth, on stripes 150 apart: they begin at 0, 150 and 300, so 400 in all."""
    problem = Problem((STRIP,), (item(100, 100, 3, (30.0, 0.0), 0, 0),), repeat=Repeat(along=150.0))
    assert laid(problem).length == pytest.approx(400)


def test_stripes_that_suit_the_pieces_cost_nothing() -> None:
    """The same pieces on stripes 50 apart lie edge to edge, 300 in all."""
    problem = Problem((STRIP,), (item(100, 100, 3, (30.0, 0.0), 0, 0),), repeat=Repeat(along=50.0))
    assert laid(problem).length == pytest.approx(300)


def test_only_what_has_a_match_point_is_bound() -> None:
    """Two bound pieces of 100 leave 50 between them on stripes 150 apart: a free piece of 50 goes there."""
    pieces = (item(100, 100, 2, (0.0, 0.0), 0, 0), item(50, 100, 1, None, 0, 0))
    assert laid(Problem((STRIP,), pieces, repeat=Repeat(along=150.0))).length == pytest.approx(250)


def test_lines_along_the_cloth_leave_one_row() -> None:
    """Boxes 40 high on lines 50 apart, matched at half their height, lie at 30 only: one row of three, 90 long."""
    lines = Repeat(across=50.0, low=0.0)
    found = lines.range_y((0.0, 20.0), 0.0, 60.0, 1e-6)
    assert found == (30.0, 30.0)
    problem = Problem((STRIP,), (item(30, 40, 3, (0.0, 20.0), *found),), repeat=lines)
    assert laid(problem).length == pytest.approx(90)


def test_a_check_of_lines_both_ways() -> None:
    """Four boxes of 45 x 45 on a check of 50 x 50: two rows, begun on a line each, 50 + 45 long."""
    lines = Repeat(50.0, 50.0)
    low, high = lines.range_y((10.0, 10.0), 0.0, 55.0, 1e-6) or (0.0, 0.0)
    assert (low, high) == (40.0, 40.0)
    low, high = lines.range_y((10.0, 0.0), 0.0, 55.0, 1e-6) or (0.0, 0.0)
    problem = Problem((STRIP,), (item(45, 45, 4, (10.0, 0.0), low, high),), repeat=lines)
    assert laid(problem).length == pytest.approx(95)


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_a_striped_jigsaw_goes_together_again(seed: int) -> None:
    """Pieces cut from striped cloth of 140, each matched where it lay: never shorter, on its lines, and near to it."""
    plain, rng = jigsaw(100.0, 140.0, 5, seed=seed), np.random.default_rng(seed)
    lines = Repeat(along=7.0, across=5.0)
    items = []
    for one in plain.items:
        (way,) = one.variants
        # Where the piece lay is not known here; any point will do that is on lines in some place it may take.
        match = (float(rng.integers(0, 20)), float(rng.integers(0, 4)) * 5.0)
        low, high = lines.range_y(match, way.low, way.high, 1e-6) or (0.0, 0.0)
        items.append(replace(one, variants=(replace(way, match=match, low=low, high=high),)))
    problem = replace(plain, items=tuple(items), repeat=lines)
    marker = laid(problem, 400)
    assert 140 <= marker.length <= 1.8 * 140
    assert marker.problem.repeat
    for placement, one, _, _ in marker.outlines():
        x, y = np.array(one.variants[0].match) + (placement.x, placement.y)
        assert math.remainder(x - marker.problem.repeat.start, 7.0) == pytest.approx(0, abs=1e-4)
        assert math.remainder(y, 5.0) == pytest.approx(0, abs=1e-4)


def test_a_search_beats_the_first_layout_on_stripes() -> None:
    """On stripes the search goes on where the first layouts end: triangles interlock at whole repeats."""
    triangle = np.array([[0, 0], [90, 0], [0, 60]], dtype=float)
    ways = tuple(
        Variant(outline, turn, False, 0, 0.0, 40.0, match=match)
        for outline, turn, match in (
            (triangle, 0.0, (10.0, 0.0)),
            (np.array([[90, 60], [0, 60], [90, 0]], dtype=float), 180.0, (80.0, 0.0)),
        )
    )
    problem = Problem((STRIP,), (Item("triangle", 12, ways),), repeat=Repeat(along=10.0))
    first = laid(problem, 0).length
    assert laid(problem, 250).length < first


def test_off_the_lines_is_found_out() -> None:
    """`check` refuses a matched piece that is half a repeat off, along or across."""
    lines = Repeat(50.0, 50.0)
    problem = Problem((STRIP,), (item(45, 45, 1, (0.0, 0.0), 0, 50),), repeat=lines)
    check(Marker(problem, (Placement(0, 0, 0, 50.0, 50.0),), 95.0))
    for x, y in ((25.0, 50.0), (50.0, 25.0)):
        with pytest.raises(CheckError, match="misses the lines"):
            check(Marker(problem, (Placement(0, 0, 0, x, y),), 95.0))


def test_matched_pieces_of_a_garment() -> None:
    """On folded striped cloth the half on the fold and the fronts are matched along, the fronts across as well."""
    stripes = replace(TWILL, repeat_along=mm(60.0), repeat_across=mm(40.0))
    pieces = [replace(back(), match=(20.0, 0.0)), replace(front(), match=(20.0, 0.0)), tab()]
    marker = laid(lay_pieces(pieces, stripes, "folded"))
    assert marker.problem.repeat
    places = {one.name: (p, way) for p, one, way, _ in marker.outlines()}
    phases = [
        math.remainder(p.x + way.match[0] - marker.problem.repeat.start, 60.0)
        for p, way in places.values()
        if way.match
    ]
    assert len(phases) == 2 and phases == pytest.approx([0, 0], abs=1e-3)
    assert places["tab"][1].match is None
    p, way = places["front"]
    assert way.match and math.remainder(p.y + way.match[1], 40.0) == pytest.approx(0, abs=1e-3)


def test_a_pattern_does_not_lie_on_two_folds() -> None:
    """A pattern across, with both selvedges folded in, is refused; along the cloth it does no harm."""
    pieces = [replace(tab(), match=(0.0, 0.0))]
    with pytest.raises(SpreadError, match="cannot match at both folds"):
        lay_pieces(pieces, replace(TWILL, repeat_across=mm(40.0)), "double-folded")
    lay_pieces(pieces, replace(TWILL, repeat_along=mm(40.0)), "double-folded")


def test_no_line_within_reach() -> None:
    """A piece that could only lie between two lines across is refused in so many words."""
    wide = Piece("panel", sides([(0, 0), (200, 0), (200, 900), (0, 900)], [0.0] * 4), match=(0.0, 450.0))
    with pytest.raises(SpreadError, match="nowhere with its match point on a line of the repeat"):
        lay_pieces([replace(wide, match=(0.0, 300.0))], replace(TWILL, repeat_across=mm(400.0)), "open")
    with pytest.raises(SpreadError, match="at none of the angles tried with its match point"):  # not: at none
        lay_pieces([replace(wide, match=(0.0, 300.0), tilt=1.0)], replace(TWILL, repeat_across=mm(400.0)), "open")
    lay_pieces([wide], replace(TWILL, repeat_across=mm(400.0)), "open")


def test_pattern_without_match_points_changes_nothing() -> None:
    """Striped cloth with no piece to be matched is plain cloth."""
    assert lay_pieces([tab()], replace(TWILL, repeat_along=mm(60.0)), "open").repeat is None


def test_pieces_choose_between_folded_and_single_cloth() -> None:
    """Three pairs of 100 x 100 on a folded and a single band of 100: two pairs double, one pair single: 200 by hand."""
    tile = Piece("tile", sides([(0, 0), (100, 0), (100, 90), (0, 80)], [0.0] * 4), cut=6, mirrored_pair=True)
    problem = lay_pieces([tile], Fabric("cloth", mm(300.0)), "part-folded", depth=mm(100.0))
    assert problem.cloth_width == 300.0
    marker = laid(problem)
    assert marker.length == pytest.approx(200)
    assert Counter(one.name for _, one, *_ in marker.outlines()) == {"tile": 2, "tile (left)": 1, "tile (right)": 1}


def test_a_half_may_be_opened_out() -> None:
    """Four half backs of 200 on a fold take 800; where a single layer lies beside it, two of them open out: 400."""
    cloth = Fabric("cloth", mm(620.0))
    marker = laid(lay_pieces([replace(back(), cut=4)], cloth, "part-folded", depth=mm(160.0)))
    assert marker.length == pytest.approx(400)
    ways = Counter((way.on_fold, way.band) for _, _, way, _ in marker.outlines())
    assert ways == {(True, 0): 2, (False, 1): 2}


def test_an_odd_piece_goes_to_the_single_part() -> None:
    """A piece that is no pair needs a single layer; on cloth folded in part it has one, on folded cloth it has not."""
    problem = lay_pieces([patch(), tab()], TWILL, "part-folded", depth=mm(200.0))
    assert [(one.name, one.quantity, {v.band for v in one.variants}) for one in problem.items] == [
        ("patch", 1, {1}), ("tab", 1, {0}), ("tab", 0, {1}),
    ]  # fmt: skip
    assert problem.choices == (Choice(1, (2, 2)),)
    with pytest.raises(SpreadError, match="all the same way up"):
        lay_pieces([patch()], TWILL, "folded")


def test_too_wide_for_either_part() -> None:
    """A piece wider than both parts of the cloth is refused, with both widths known."""
    panel = Piece("panel", sides([(0, 0), (50, 0), (50, 700), (0, 700)], [0.0] * 4))
    with pytest.raises(PieceTooWideError, match="lay the cloth open"):
        lay_pieces([panel], TWILL, "part-folded", depth=mm(400.0))


def test_exchange_keeps_what_is_laid() -> None:
    """However often items change places with their stand-ins, the same cloth is cut."""
    problem = lay_pieces(
        [replace(front(), cut=6), tab(), replace(back(), cut=2)], TWILL, "part-folded", depth=mm(300.0)
    )
    shapes, rng = Shapes(problem), np.random.default_rng(0)
    numbers = np.array([shapes.of_item[one][0] for one in shapes.items])
    layout = Layout(numbers, np.zeros(len(numbers)), np.zeros(len(numbers)), 1.0)
    seen = set()
    for _ in range(60):
        exchange(layout, shapes, rng)
        counts = Counter(shapes.item_of[layout.shape].tolist())
        seen.add(tuple(sorted(counts.items())))
        cloth = sum(counts[i] * one.piece_area * one.yields for i, one in enumerate(problem.items))
        assert cloth == pytest.approx(problem.piece_area)
    assert len(seen) > 5


def test_stand_ins_must_be_whole() -> None:
    """A left without its right is not half a pair: `check` refuses it."""
    problem = lay_pieces([front()], TWILL, "part-folded", depth=mm(300.0))
    left = problem.items[1].variants[0]
    with pytest.raises(CheckError):
        check(Marker(problem, (Placement(1, 0, 0, 0.0, left.low),), left.length))


def test_tilt_is_taken_where_it_shortens() -> None:
    """A stay of 100 x 1 tilted by 10 degrees is 100 cos 10 + 1 sin 10 long; the tab beside it stays upright."""
    stay = Piece("stay", sides([(0, 0), (100, 0), (100, 1), (0, 1)], [0.0] * 4), tilt=10.0)
    small = Piece("small", sides([(0, 0), (20, 0), (20, 6), (0, 5)], [0.0] * 4), tilt=10.0)
    marker = laid(lay_pieces([stay, small], Fabric("cloth", mm(200.0)), "open"), 400)
    expected = 100 * math.cos(math.radians(10)) + math.sin(math.radians(10))
    assert marker.length == pytest.approx(expected, rel=1e-4)
    tilts = {one.name: way.tilt for _, one, way, _ in marker.outlines()}
    assert abs(tilts["stay"]) == 10 and tilts["small"] == 0


def test_no_tilt_for_nothing() -> None:
    """Rectangles that fill the cloth upright gain nothing by tilt, and stay upright."""
    tile = Piece("tile", sides([(0, 0), (50, 0), (50, 25), (0, 25)], [0.0] * 4), cut=4, tilt=3.0)
    marker = laid(lay_pieces([tile], Fabric("cloth", mm(100.0)), "open"))
    assert marker.length == pytest.approx(50)
    assert {way.tilt for _, _, way, _ in marker.outlines()} == {0.0}


@pytest.mark.parametrize("tilt", [-1.0, 16.0, math.nan])
def test_tilt_within_reason(tilt: float) -> None:
    """More than 15 degrees is no tilt, and less than none is nonsense."""
    with pytest.raises(PieceError, match="may tilt by 0 to 15 degrees"):
        replace(tab(), tilt=tilt)


@pytest.mark.parametrize(
    ("lies", "nap", "turns"),
    [
        ("straight", False, {0.0, 180.0}),
        ("cross", False, {0.0, 90.0, 180.0, 270.0}),
        ("free", False, {45.0 * k for k in range(8)}),
        ("straight", True, {0.0}),
        ("cross", True, {0.0}),
        ("free", True, {0.0}),
    ],
)
def test_how_strictly_a_piece_keeps_to_the_grain(lies: str, nap: bool, turns: set[float]) -> None:
    """Turns off the selvedge by the piece's rule; a nap leaves one."""
    problem = lay_pieces([replace(patch(), lies=lies)], replace(TWILL, nap=nap), "open")  # type: ignore[arg-type]
    assert {v.turn for v in problem.items[0].variants} == turns


def test_bias_piece_lies_at_45_degrees() -> None:
    """A grainline drawn at 45 degrees on the piece comes to lie along the selvedge: a square stands on its corner."""
    square = Piece("binding", sides([(0, 0), (100, 0), (100, 100), (0, 100)], [0.0] * 4), grain=((0, 0), (1, 1)))
    (way,) = lay_pieces([square], replace(TWILL, nap=True), "open").items[0].variants
    assert way.turn == 315.0
    assert (way.length, way.height) == pytest.approx((100 * 2**0.5, 100 * 2**0.5))


def test_a_fold_needs_straight_grain() -> None:
    """A half on the fold cannot lie on the bias or across."""
    for wrong in ({"lies": "cross"}, {"grain": ((0.0, 0.0), (1.0, 1.0))}):
        with pytest.raises(PieceError, match="cut on a fold: its grainline must run straight"):
            replace(back(), **wrong)


@pytest.mark.parametrize(("garments", "turned"), [(1, 0), (2, 1), (5, 2)])
def test_nap_by_garment(garments: int, turned: int) -> None:
    """All pieces of a garment point one way, and half of the garments, rounded down, the other, or all the same."""
    velvet = replace(TWILL, nap="by garment")
    marker = laid(lay_pieces([patch(), front()], velvet, "open", garments=garments), 60)
    ways = Counter((one.name, way.turn) for _, one, way, _ in marker.outlines())
    for name in ("patch", "front (left)", "front (right)"):
        assert (ways[name, 0.0], ways[name, 180.0]) in {(garments - turned, turned), (garments, 0)}


def test_half_turned_round_saves_cloth() -> None:
    """Two triangles of 100 x 100 interlock if one garment is turned round: 100 long on 100 of cloth; one way, more."""
    wedge = Piece("wedge", sides([(0, 0), (100, 0), (0, 100)], [0.0] * 3))
    one_way = laid(lay_pieces([wedge], Fabric("velvet", mm(100.0), nap=True), "open", garments=2)).length
    by_garment = laid(lay_pieces([wedge], Fabric("velvet", mm(100.0), nap="by garment"), "open", garments=2)).length
    assert by_garment == pytest.approx(100, rel=1e-5) and one_way > 150


@pytest.mark.parametrize(
    ("fault", "quantity", "length"), [(None, 4, 200), ((0, 0), 3, 200), ((0, 0), 4, 290), ((500, 0), 4, 200)]
)
def test_faults_are_left_out(fault: tuple[float, float] | None, quantity: int, length: float) -> None:
    """Boxes of 100 x 50, two abreast; four behind a fault of 90 take 90 + 2 x 100, and one further on costs nothing."""
    faults = () if fault is None else (box(90, 40) + fault,)
    problem = Problem((STRIP,), (item(100, 50, quantity, None, 0, 50),), faults=faults)
    assert laid(problem).length == pytest.approx(length)


def test_a_piece_on_a_fault_is_found_out() -> None:
    """`check` refuses a piece that lies on a fault, and names both."""
    problem = Problem((STRIP,), (item(100, 50, 1, None, 0, 50),), faults=(box(10, 10) + 40.0,))
    with pytest.raises(CheckError, match="'box' and 'a fault in the cloth' overlap"):
        check(Marker(problem, (Placement(0, 0, 0, 0.0, 0.0),), 100.0))


def test_all_rules_at_once_repeat_bit_for_bit() -> None:
    """Stripes, tilt, faults and a choice of bands together: sound, and the same from the same seed."""
    cloth = replace(TWILL, repeat_along=mm(60.0), gap=mm(2.0))
    pieces = [
        replace(back(), match=(20.0, 0.0)),
        replace(front(), cut=4, match=(20.0, 0.0)),
        replace(patch(), tilt=3.0),
        tab(4),
    ]
    problem = replace(lay_pieces(pieces, cloth, "part-folded", depth=mm(300.0)), faults=(box(30, 30) + (100.0, 400.0),))
    one, other = (laid(problem, 120, seed=3) for _ in range(2))
    assert one.placements == other.placements and one.length == other.length
    assert one.length >= solve(problem, MaxIterations(0)).bound
