"""A marker on the steps of the tape: worked out by hand, and checked by shapely through the second opinion."""

from __future__ import annotations

from fractions import Fraction
from functools import cache

import numpy as np
import pytest
import shapely

from nesting.cloth.band import Band
from nesting.cloth.fabric import Fabric
from nesting.cloth.repeat import Repeat
from nesting.marker.marker import Marker, Placement
from nesting.marker.opinion import check
from nesting.problem.item import Item, Variant
from nesting.problem.lay import lay_pieces
from nesting.problem.problem import Problem
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations
from pieces import PieceSet, Units
from pieces.length import inches
from reports.chalk.chalk import chalk, from_edge

INCH = 25.4
METRIC, INCHES = Units.METRIC, Units.INCHES


def box(length: float, height: float) -> np.ndarray:
    """Length along the cloth by height across."""
    return np.array([(0, 0), (length, 0), (length, height), (0, height)], dtype=float)


def boxes(
    size: tuple[float, float], places: list[tuple[float, float]], width: float, edge: str = "fold", **more: object
) -> Marker:
    """Boxes of one size in given places, on a band with a fold (or else) along its lower edge, a selvedge above."""
    variant = Variant(box(*size), 0.0, False, 0, 0.0, width - size[1])
    band = Band("cloth", 0.0, width, 2, True, edge, "selvedge")  # type: ignore[arg-type]
    problem = Problem((band,), (Item("box", len(places), (variant,)),), **more)  # type: ignore[arg-type]
    placements = tuple(Placement(0, i, 0, x, y) for i, (x, y) in enumerate(places))
    return Marker(problem, placements, max(x for x, _ in places) + size[0])


def spots(marker: Marker) -> list[tuple[float, float]]:
    """Where the placements lie."""
    return [(round(p.x, 6), round(p.y, 6)) for p in marker.placements]


def test_two_in_a_row_by_hand() -> None:
    """Boxes of 43 mm at 0 and 43, 1 from the fold: to 0 across, and the second on to 45 mm; 88 in all."""
    chalked = chalk(boxes((43, 20), [(0, 1), (43, 1)], 22), METRIC)
    assert spots(chalked.marker) == [(0, 0), (45, 0)]
    assert chalked.marker.length == pytest.approx(88)
    assert (chalked.off, chalked.tolerance, chalked.step, chalked.sides) == ((), 0.0, 5.0, ("low", "low"))


def test_measured_from_the_nearer_edge() -> None:
    """A box of 20 that ends 7 mm below the upper edge is measured from there: 5 mm, so that it lies at 75."""
    chalked = chalk(boxes((43, 20), [(0, 73)], 100), METRIC)
    assert (spots(chalked.marker), chalked.sides) == ([(0, 75)], ("high",))


def test_a_free_edge_is_not_measured_from() -> None:
    """Beside the free edge of an upper layer a box is measured from the far selvedge: 80 of 100 mm, not 82."""
    chalked = chalk(boxes((43, 20), [(0, 2)], 100 + 2, "free"), METRIC)
    assert (spots(chalked.marker), chalked.sides) == ([(0, 2)], ("high",))
    assert from_edge(chalked.marker.problem.bands[0], box(43, 20) + (0, 2), "high") == pytest.approx(80)


def test_no_room_across() -> None:
    """Three boxes of 33.3 fill 99.9 mm of width: the middle one keeps its place, told apart as off the tape's steps."""
    chalked = chalk(boxes((50, 33.3), [(0, 0), (0, 33.3), (0, 66.6)], 99.9), METRIC)
    assert spots(chalked.marker) == [(0, 0), (0, 33.3), (0, 66.6)]
    assert (chalked.off, chalked.tolerance) == ((1,), 2.5)
    assert chalked.marker.length == pytest.approx(50)


def test_eighths_of_an_inch_by_hand() -> None:
    """2.06 in long, two in a row: the second begins at 2 1/8 in."""
    chalked = chalk(boxes((2.06 * INCH, 25), [(0, 0), (2.06 * INCH, 0)], 60), INCHES)
    assert [x for x, _ in spots(chalked.marker)] == pytest.approx([0, 2.125 * INCH])


def test_gap_is_kept() -> None:
    """Boxes of 43 mm, 4 mm apart at least: the second begins no sooner than 47, so at 50."""
    marker = boxes((43, 20), [(0, 1), (47, 1)], 22, gap=4.0)
    assert spots(chalk(marker, METRIC).marker) == [(0, 0), (50, 0)]


def test_faults_are_left_out() -> None:
    """A fault from 43 to 46 mm, all across: the second box begins at 50."""
    marker = boxes((43, 20), [(0, 1), (46, 1)], 22, faults=(box(3, 22) + (43, 0),))
    assert spots(chalk(marker, METRIC).marker) == [(0, 0), (50, 0)]


def test_matched_pieces_stay_on_the_pattern() -> None:
    """On cloth with a pattern nothing is moved; what lies off the steps is named, and the rounding told."""
    marker = boxes((43, 20), [(0, 10), (43, 10), (86, 12)], 40, repeat=Repeat(along=43.0))
    chalked = chalk(marker, METRIC)
    assert chalked.marker is marker
    assert (chalked.off, chalked.tolerance) == ((1, 2), 2.5)


def test_nothing_to_be_done() -> None:
    """A pin in a slot 2 mm wide has no whole step to lie on: it stays in its slot, named as off the steps."""
    hook = np.array([(0, 0), (200, 0), (200, 40), (101, 40), (101, 20), (99, 20), (99, 40), (0, 40)], dtype=float)
    items = (
        Item("hook", 1, (Variant(hook, 0.0, False, 0, 0.0, 0.0),)),
        Item("pin", 1, (Variant(box(1.9, 20), 0.0, False, 0, 20.0, 20.0),)),
    )
    placements = (Placement(0, 0, 0, 0.0, 0.0), Placement(1, 0, 0, 99.05, 20.0))
    marker = Marker(Problem((Band("cloth", 0.0, 40.0),), items), placements, 200.0)
    check(marker)
    chalked = chalk(marker, METRIC)
    (_, (x, y)) = spots(chalked.marker)
    assert 99 <= x <= 99.1 and y == 20
    assert (chalked.off, chalked.tolerance, chalked.marker.length) == ((1,), 2.5, 200.0)


def test_many_pieces() -> None:
    """Seventy boxes of 43 x 20 in a row, 1 from the fold: one every 45 mm, all along it."""
    chalked = chalk(boxes((43, 20), [(43.0 * i, 1) for i in range(70)], 22), METRIC)
    assert spots(chalked.marker) == [(45 * i, 0) for i in range(70)]


def test_fifty_six_jacket_pieces(jacket: PieceSet) -> None:
    """Eight jackets: nearly all pieces on whole steps, and the marker no more than 2 in 100 longer (measured: 0.6)."""
    problem = lay_pieces(jacket.of("shell"), Fabric("cloth", inches(60), inches(0.5)), "open", garments=8)
    found = solve(problem, MaxIterations(0)).marker
    chalked = chalk(found, INCHES)
    assert len(found.placements) == 56
    assert len(chalked.off) <= 8
    assert chalked.marker.length < 1.02 * found.length


@cache
def laid(jacket: PieceSet, spread: str, width: float) -> Marker:
    """The first marker found for the jacket."""
    fabric = Fabric("cloth", inches(width), inches(0.5))
    return solve(lay_pieces(jacket.of("shell"), fabric, spread), MaxIterations(0)).marker  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("spread", "width", "units"), [("folded", 60.0, METRIC), ("open", 45.0, INCHES), ("double-folded", 108.0, METRIC)]
)
def test_jackets(jacket: PieceSet, spread: str, width: float, units: Units) -> None:
    """On every spread the chalked marker could be cut (shapely), on whole steps where it says so, and hardly longer."""
    found = laid(jacket, spread, width)
    problem = found.problem
    chalked = chalk(found, units)
    check(chalked.marker)
    step = Fraction(254, 80) if units is INCHES else Fraction(5)
    assert float(step) == chalked.step
    for i, ((place, _, variant, outline), side) in enumerate(
        zip(chalked.marker.outlines(), chalked.sides, strict=True)
    ):
        lines = problem.bands[variant.band]
        selvedge = INCH / 2 if (lines.low_edge if side == "low" else lines.high_edge) == "selvedge" else 0.0
        edge = lines.low - selvedge if side == "low" else lines.high + selvedge
        away = shapely.Polygon(outline).distance(shapely.LineString([(-9e3, edge), (9e3, edge)]))
        off_steps = [abs(d - float(round(Fraction(d) / step) * step)) for d in (place.x, away)]
        assert (max(off_steps) > 1e-4) == (i in chalked.off)
    assert chalked.marker.length < found.length + 4 * chalked.step
    assert len(chalked.off) <= 1


def test_same_again(jacket: PieceSet) -> None:
    """A marker that is on the steps already stays where it is, to the last."""
    once = chalk(laid(jacket, "folded", 60.0), INCHES)
    twice = chalk(once.marker, INCHES)
    assert twice.marker.length <= once.marker.length + 1e-6
    assert twice.off == once.off


def test_what_overlaps_once_it_is_rounded_stays_as_it_lies(monkeypatch: pytest.MonkeyPatch) -> None:
    """Should rounding lay two boxes on one another, the marker is chalked as it was, and its distances are rounded."""
    marker = boxes((43, 20), [(0, 1), (43, 1)], 22)
    monkeypatch.setattr("reports.chalk.chalk._round", lambda *_: boxes((43, 20), [(0, 0), (40, 0)], 22))
    chalked = chalk(marker, METRIC)
    assert chalked.marker is marker
    assert (chalked.off, chalked.tolerance) == ((0, 1), 2.5)
