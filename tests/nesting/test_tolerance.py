"""Tolerance as a depth: pieces that fill the cloth exactly, and proofs that hold for all that the check lets pass."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.cloth.fabric import Fabric
from nesting.errors import CheckError, PieceTooWideError
from nesting.fit.fitting import disproof
from nesting.fit.remnant import Zone, around_faults
from nesting.folds.fold_then_open import fold_then_open
from nesting.marker.marker import Marker, Placement
from nesting.marker.opinion import check
from nesting.placing.question import cannot_lie_within
from nesting.problem.lay import lay_pieces
from nesting.problem.problem import Problem
from nesting.proof.bounds import lower_bound
from nesting.proof.exact import solve_exact
from nesting.proof.slices import slice_bound
from nesting.search.row import lay_in_a_row
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations
from nesting.shape.layout import Layout
from nesting.tolerance import TOLERANCE, pare
from nesting.verify import Asked, verify_asked
from pieces import Piece
from pieces.length import inches, mm
from tests.make.cloth import back, front, patch, tab
from tests.make.exactfit import SPREADS, amiss, exact_fit
from tests.make.jigsaw import jigsaw, jigsaw_parts
from tests.make.outlines import sides
from tests.make.polygons import star

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nesting.cloth.spread import Spread

INCH = 25.4


def panel(name: str, length: float, width: float, cut: int) -> Piece:
    """A rectangle, in inches."""
    corners = [(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)]
    return Piece(name, sides([(x * INCH, y * INCH) for x, y in corners], [0.0] * 4), cut=cut, mirrored_pair=cut > 1)


@pytest.mark.parametrize(
    ("width", "spread", "pieces", "length"),
    [
        (45, "folded", [(63.75, 14.625, 2), (63.75, 7.875, 2)], 63.75),
        (36, "folded", [(72, 9, 4)], 72),
        (36, "open", [(72, 9, 4)], 72),
        (45, "open", [(63.75, 14.625, 1), (63.75, 7.875, 1), (63.75, 22.5, 1)], 63.75),
        (60, "open", [(40.125, 20.375, 1), (40.125, 39.625, 1)], 40.125),
    ],
)
def test_pieces_that_fill_the_width_lie_beside_one_another(
    width: float, spread: Spread, pieces: list[tuple[float, float, int]], length: float
) -> None:
    """Panels and borders, or ties, whose widths come to that of the cloth: found at once, and proved the shortest."""
    drawn = [panel(f"piece {i}", *size) for i, size in enumerate(pieces)]
    result = solve(lay_pieces(drawn, Fabric("cloth", inches(width)), spread), MaxIterations(40))
    assert result.marker.length == pytest.approx(length * INCH, abs=1e-3)
    assert result.stopped_by == "proved"
    assert length * INCH - 0.2 < result.bound < length * INCH  # less by what the check lets pass


@pytest.mark.parametrize("least", range(1, 100, 7))
def test_two_that_fill_the_width(least: int) -> None:
    """Two strips of any eighths of an inch that fill 12 1/2 in lie beside one another, wherever they were drafted."""
    rng = np.random.default_rng(least)
    outlines = []
    for eighths in (least, 100 - least):
        low = rng.uniform(-1000, 1000) + np.array([0.0, eighths * INCH / 8])
        outlines.append([(0, low[0]), (900, low[0]), (900, low[1]), (0, low[1])])
    problem = Problem.from_outlines(100 * INCH / 8, outlines, [1, 1], [[0.0, 180.0]] * 2)
    assert solve(problem, MaxIterations(3)).marker.length == pytest.approx(900, abs=1e-3)


@pytest.mark.generated(2 * len(SPREADS))
def test_sets_that_fill_the_cloth(numbers: Iterator[int]) -> None:
    """Random strips, panels, bindings that fill the cloth exactly, on every spread: checked, and no bound denies it."""
    for number in numbers:
        case = exact_fit(number, SPREADS[number % len(SPREADS)])
        wrong = amiss(case, 14 if number % 30 == 0 else 3)
        assert wrong is None, f"set {number}: {wrong}; {case}"


@pytest.mark.parametrize("number", [2, 5, 10])
@pytest.mark.parametrize("size", [(30.0, 100.0), (30.1234, 100.0)])
def test_no_proof_denies_a_row_pushed_together(number: int, size: tuple[float, float]) -> None:
    """Panels as wide as the cloth, one behind another, each 0.0099 mm into the next and the ends sticking out by it.

    The check lets that pass; so it is shorter than the panels by that each, and no bound may be longer.
    """
    length, width = size
    panels = [[(0, 0), (length, 0), (length, width), (0, width)]]
    problem = Problem.from_outlines(100.0, panels, [number], [[0.0]])
    into = 0.99 * TOLERANCE
    placements = tuple(Placement(0, i, 0, i * (length - into) - into, 0.0) for i in range(number))
    marker = Marker(problem, placements, number * (length - into) - into)
    check(marker)
    assert marker.length < number * length - number * into
    _deny_nothing(marker)
    exact = solve_exact(problem)
    assert exact is not None
    assert number * length - (number + 2) * 2 * TOLERANCE < exact.bound <= marker.length
    assert exact.marker.length == pytest.approx(number * length)


@pytest.mark.parametrize("number", [2, 3, 4])
def test_no_proof_denies_a_stack_pushed_together(number: int) -> None:
    """Panels beside one another that are together wider than the cloth by all the tolerance there is: they lie so."""
    into = 0.99 * TOLERANCE
    height = (100.0 + (number + 1) * into) / number
    panels = [[(0, 0), (30, 0), (30, height), (0, height)]]
    problem = Problem.from_outlines(100.0, panels, [number], [[0.0]])
    marker = Marker(
        problem, tuple(Placement(0, i, 0, 0.0, i * (height - into) - into) for i in range(number)), 30.0 - into
    )
    check(marker)
    _deny_nothing(marker)
    exact = solve_exact(problem)
    assert exact is None or exact.bound <= marker.length


@settings(max_examples=8)  # a proof is tried of each
@given(st.integers(2, 9), st.integers(0, 10_000))
def test_no_proof_denies_a_jigsaw_pushed_together(cuts: int, seed: int) -> None:
    """A jigsaw with its pieces pushed into one another, as far as the check lets pass, is no shorter than a bound."""
    problem = jigsaw(100.0, 140.0, cuts, seed)
    # Each piece moves towards the middle by a share of its distance: no two come nearer by more than 0.007 mm.
    middle, places = np.array([70.0, 50.0]), [part.min(axis=0) for part in jigsaw_parts(100.0, 140.0, cuts, seed)]
    into = [(place - middle) * (1 - 4e-5) + middle for place in places]
    left = min(float(x) for x, _ in into)
    placements = tuple(Placement(i, 0, 0, float(x) - left, float(y)) for i, (x, y) in enumerate(into))
    length = max(p.x + problem.items[p.item].variants[0].length for p in placements)
    marker = Marker(problem, placements, length - 0.99 * TOLERANCE)
    check(marker)
    assert marker.length < 140
    _deny_nothing(marker)


def _deny_nothing(marker: Marker) -> None:
    """No proof of any kind says that a marker, which passed the check, cannot be."""
    problem, length = marker.problem, marker.length
    assert lower_bound(problem)[0] <= length
    assert slice_bound(problem, 0.1)[0] <= length
    assert disproof(problem, length, ()) is None
    assert not cannot_lie_within(problem, length, (), 0.2)


@given(star(), st.floats(0.001, 2))
def test_pared(outline: np.ndarray, by: float) -> None:
    """A pared outline keeps that far from the border of the whole one (shapely), and loses no more than its rim."""
    whole, left = shapely.Polygon(outline), shapely.Polygon(pare(outline, by))
    if left.area > 0:
        assert whole.contains(left) and whole.exterior.distance(left) >= by * (1 - 1e-6)


def test_a_thin_outline_pared_is_a_point() -> None:
    """Of a hair nothing is left but a point: it proves nothing, and stops nothing."""
    hair = np.array([(0, 0), (100, 0), (100, 0.005), (0, 0.005)])
    assert np.ptp(pare(hair, TOLERANCE), axis=0).tolist() == [0, 0]
    problem = Problem.from_outlines(100.0, [hair, [(0, 0), (10, 0), (10, 10), (0, 10)]], [1, 1], [[0.0]] * 2)
    assert lower_bound(problem)[0] == pytest.approx(10, abs=0.1) and slice_bound(problem, 0.1)[0] < 100


# What a search does with layouts that fail the check.


def test_a_layout_that_fails_the_check_gives_way_to_the_next(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the first layout fails the check, all one behind another stands in, until one passes."""
    made = Layout.to_marker
    calls = []

    def heaped(self: Layout, shapes: object) -> Marker:
        marker = made(self, shapes)  # type: ignore[arg-type]
        calls.append(marker)
        return (
            replace(marker, placements=tuple(replace(p, x=0.0, y=0.0) for p in marker.placements))
            if len(calls) < 3
            else marker
        )

    monkeypatch.setattr(Layout, "to_marker", heaped)
    problem = Problem.from_outlines(100.0, [[(0, 0), (40, 0), (40, 50), (0, 50)]], [4], [[0.0]])
    assert solve(problem, MaxIterations(0)).marker.length == pytest.approx(160)  # one behind another
    calls.clear()
    assert solve(problem, MaxIterations(5)).marker.length == pytest.approx(80)  # two by two


def test_where_nothing_passes_it_is_said_whose_fault_it_is(monkeypatch: pytest.MonkeyPatch) -> None:
    """If even pieces one behind another fail the check, the error names the cloth, and both reasons."""

    def refuse(marker: Marker) -> None:
        raise CheckError("'a' and 'b' overlap by 1.000 mm")

    monkeypatch.setattr("nesting.search.solver.check", refuse)
    with pytest.raises(CheckError, match=r"^no layout on 'twill' passes the check: 'a' and 'b' overlap"):
        solve(lay_pieces([tab()], Fabric("twill", mm(500.0)), "open"), MaxIterations(3))


@pytest.mark.parametrize("gap", [0.0, 7.0])
@pytest.mark.parametrize("spread", [s for s in SPREADS if s not in ("fold-then-open", "part-folded")])
def test_in_a_row_passes_on_every_spread(spread: Spread, gap: float) -> None:
    """One behind another, pieces can be cut on any cloth."""
    fabric = Fabric("twill", mm(1500.0), gap=mm(gap))
    pieces = [tab(2), front()] + ([back()] if spread in ("open", "folded", "tube", "double-folded") else [])
    check(lay_in_a_row(lay_pieces(pieces, fabric, spread, garments=2)))


def test_in_a_row_with_all_there_is() -> None:
    """Behind faults, on the lines of a pattern, and in stretches."""
    striped = Fabric("striped", mm(1500.0), gap=mm(3.0), repeat_along=mm(70.0))
    matched = [replace(front(), match=(10.0, 5.0)), tab()]
    check(lay_in_a_row(lay_pieces(matched, striped, "folded", garments=2)))
    plain = Fabric("plain", mm(1500.0))
    faults = [Zone(100.0, 150.0, 0.0, 400.0), Zone(300.0, 301.0, 0.0, 1500.0)]
    marker = lay_in_a_row(around_faults(lay_pieces([patch(3)], plain, "open"), plain, faults, "open"))
    check(marker)
    assert marker.length == pytest.approx(301 + 3 * 200)
    stretched = lay_in_a_row(fold_then_open([back(), front(), tab()], plain, most=0))
    check(stretched)


@pytest.mark.parametrize("over", [0.009, 0.0199])
@pytest.mark.parametrize("spread", ["open", "folded"])
def test_what_the_check_lets_pass_is_laid(spread: Spread, over: float) -> None:
    """A piece wider than the cloth by a hair lies in its middle, as far beyond either edge as the check lets pass."""
    fabric = Fabric("twill", mm(1524.0))
    if spread == "open":
        pieces = [Piece("panel", sides([(0, 0), (500, 0), (500, 1524 + over), (0, 1524 + over)], [0.0] * 4))]
    else:
        corners = [(0.0, 0.0), (500.0, 0.0), (500.0, 762 + over), (0.0, 762 + over)]
        pieces = [
            Piece("half", sides(corners, [0.0] * 4, fold=0)),
            Piece("pair", sides(corners, [0.0] * 4), cut=2, mirrored_pair=True),
        ]
    result = solve(lay_pieces(pieces, fabric, spread), MaxIterations(2))
    verify_asked(result.marker, Asked.of(pieces, fabric, spread))
    assert result.marker.length == pytest.approx(500 * len(pieces), abs=TOLERANCE)


def test_what_the_check_refuses_is_refused() -> None:
    """A piece wider than the cloth by more than twice the tolerance sticks out wherever it lies."""
    panel = Piece("panel", sides([(0, 0), (500, 0), (500, 1524.021), (0, 1524.021)], [0.0] * 4))
    with pytest.raises(PieceTooWideError):
        lay_pieces([panel], Fabric("twill", mm(1524.0)), "open")


@pytest.mark.parametrize("off", [0.0, 0.0099])
def test_a_match_point_may_miss_its_line_as_in_the_check(off: float) -> None:
    """A half whose match point lies off the fold by less than the tolerance goes on cloth with a pattern across."""
    corners = [(0.0, 0.0), (300.0, 0.0), (300.0, 150.0), (0.0, 150.0)]
    half = Piece("half", sides(corners, [0.0] * 4, fold=0), match=(10.0, off))
    fabric = Fabric("checks", mm(900.0), repeat_across=mm(50.0))
    result = solve(lay_pieces([half], fabric, "folded"), MaxIterations(1))
    verify_asked(result.marker, Asked.of([half], fabric, "folded"))
