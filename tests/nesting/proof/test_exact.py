"""Proven markers of rectangles: a published perfect packing, and brute force."""

from __future__ import annotations

from dataclasses import replace
from itertools import permutations, product
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.cloth.band import Band
from nesting.cloth.repeat import Repeat
from nesting.marker.marker import Marker, Placement
from nesting.marker.opinion import check
from nesting.problem.item import Item, Variant
from nesting.problem.problem import Problem
from nesting.proof.exact import solve_exact

if TYPE_CHECKING:
    from collections.abc import Sequence

# Hopper and Turton, EJOR 128 (2000) 34-57, class C1 problem P1: 16 rectangles that fill 20 × 20 (ESICUP, CC0).
# (x across, y along, width across, height along) of the printed perfect packing.
C1P1 = [
    (0, 0, 2, 12), (2, 0, 7, 12), (9, 0, 3, 12), (12, 0, 8, 6), (12, 6, 3, 7), (15, 6, 5, 7), (0, 12, 9, 2),
    (9, 12, 3, 6), (12, 13, 3, 5), (15, 13, 5, 5), (0, 14, 2, 6), (2, 14, 4, 2), (6, 14, 3, 4), (2, 16, 4, 4),
    (6, 18, 11, 2), (17, 18, 3, 2),
]  # fmt: skip


def rectangle(length: float, height: float) -> np.ndarray:
    """A rectangle with one corner at the origin."""
    return np.array([(0, 0), (length, 0), (length, height), (0, height)], dtype=float)


def rectangles(
    width: float, sizes: Sequence[tuple[float, float]], turns: tuple[float, ...] = (0,), **more: Any
) -> Problem:
    """One item a size on an open strip."""
    return Problem.from_outlines(width, [rectangle(*s) for s in sizes], [1] * len(sizes), [turns] * len(sizes), **more)


def hopper_turton() -> Problem:
    """C1 P1, each rectangle as printed."""
    return rectangles(20, [(along, across) for _, _, across, along in C1P1])


def test_printed_packing_passes_the_check() -> None:
    """The perfect packing that Hopper and Turton's set was cut from passes our check at length 20."""
    placements = tuple(Placement(i, 0, 0, along, across) for i, (across, along, _, _) in enumerate(C1P1))
    marker = Marker(hopper_turton(), placements, 20.0)
    check(marker)
    assert marker.density == pytest.approx(1)


def test_published_optimum() -> None:
    """Hopper and Turton's C1 P1 takes 20, and that is proved."""
    result = solve_exact(hopper_turton())
    assert result is not None
    assert result.marker.length == pytest.approx(20)
    assert result.stopped_by == "proved"
    assert 20 - 18 * 0.0101 < result.bound < 20  # the check lets 16 in a row be shorter by 0.01 mm each


def test_thirds_of_the_width() -> None:
    """Seven pieces of exactly a third of the width lie three across: three lengths, though a third has no decimals."""
    shape = rectangle(123.4567, 1000 / 3)
    result = solve_exact(Problem.from_outlines(1000, [shape], [7], [(0, 180)]))
    assert result is not None
    assert result.marker.length == pytest.approx(3 * 123.4567)
    # A third is no whole number of steps: what is lost by that is not proved, and not claimed.
    assert result.stopped_by == "iterations"
    assert result.marker.length - 7 * 0.03 < result.bound < result.marker.length


def brute_force(width: int, sizes: list[tuple[int, int]], turns: tuple[int, ...]) -> int:
    """Shortest length by laying every order of every turning at the first free place, start to end, then low to high.

    Every packing pushed to the start and down can be rebuilt so, each piece in its turn at the least (x, y) that
    is reached by such a push; all whole places are tried.
    """
    best = sum(max(size) for size in sizes)
    for turned in product(*({size if turn == 0 else size[::-1] for turn in turns} for size in sizes)):
        if max(height for _, height in turned) <= width:
            for order in set(permutations(turned)):
                best = min(best, _lay(list(order), [], width, best))
    return best


def _lay(left: list[tuple[int, int]], laid: list[tuple[int, int, int, int]], width: int, best: int) -> int:
    if not left:
        return max(x + length for x, _, length, _ in laid)
    (length, height), rest = left[0], left[1:]
    starts = {0, *(x + size for x, _, size, _ in laid)}
    for x, y in product(starts, {0, *(y + size for _, y, _, size in laid)}):
        clear = all(x >= a + c or a >= x + length or y >= b + d or b >= y + height for a, b, c, d in laid)
        if x + length < best and y + height <= width and clear:
            best = min(best, _lay(rest, [*laid, (x, y, length, height)], width, best))
    return best


@settings(deadline=None, max_examples=12, derandomize=True)
@given(
    st.lists(st.tuples(st.integers(1, 6), st.integers(1, 6)), min_size=1, max_size=4),
    st.sampled_from([(0,), (0, 90)]),
)
def test_against_brute_force(sizes: list[tuple[int, int]], turns: tuple[int, ...]) -> None:
    """Lengths equal those of trying every order, turn and corner on cloth 7 wide."""
    result = solve_exact(rectangles(7, sizes, turns))
    assert result is not None
    assert result.stopped_by == "proved"
    assert result.marker.length == pytest.approx(brute_force(7, sizes, turns))


def test_bands_and_pins() -> None:
    """Two pinned to the one fold lie behind one another; what only the other band takes lies beside them."""
    bands = (Band("folded", 0, 50, 2, True, "fold", "free"), Band("open", 50, 80))
    half = Variant(rectangle(40, 30), 0, False, 0, 0.0, 0.0, on_fold=True)
    single = Variant(rectangle(70, 30), 0, False, 1, 50.0, 50.0)
    result = solve_exact(Problem(bands, (Item("back", 2, (half,)), Item("facing", 1, (single,)))))
    assert result is not None
    assert (result.marker.length, result.stopped_by) == (pytest.approx(80), "proved")


def test_a_gap_is_kept_and_not_oversold() -> None:
    """Two across with a gap of 10 need all of 90: three in two rows take 30 + 10 + 30, and no proof is claimed."""
    result = solve_exact(Problem.from_outlines(90, [rectangle(30, 40)], [3], [(0,)], gap=10))
    assert result is not None
    assert result.marker.length == pytest.approx(70)
    assert (result.stopped_by, result.bound < 70) == ("iterations", True)


def test_repeats() -> None:
    """The same problem gives the same places, to the last bit, even when the effort runs out."""
    sizes = [(float(a), float(b)) for a, b in np.random.default_rng(3).integers(10, 60, (14, 2))]
    first, again = (solve_exact(rectangles(100, sizes, (0, 90)), effort=0.3) for _ in range(2))
    assert first is not None
    assert again is not None
    assert first.marker.placements == again.marker.placements
    assert first.bound <= first.marker.length


def test_what_does_not_apply() -> None:
    """A triangle, and more than thirty pieces, are left to the search."""
    triangle = Problem.from_outlines(10, [[(0, 0), (5, 0), (0, 5)]], [1], [(0,)])
    many = Problem.from_outlines(10, [rectangle(1, 1)], [31], [(0,)])
    assert solve_exact(triangle) is None
    assert solve_exact(many) is None


def test_pieces_bound_to_a_pattern_are_left_to_the_search() -> None:
    """Packed without regard to the stripes, matched pieces would be proved shorter than they can lie: no answer."""
    assert solve_exact(replace(rectangles(100, [(30, 40), (20, 10)]), repeat=Repeat(along=50.0))) is None
