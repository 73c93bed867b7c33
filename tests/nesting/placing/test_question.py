"""The question whether pieces can lie within a length: known markers, known optima, brute force."""

from __future__ import annotations

import math
from itertools import permutations, product
from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely

from nesting.errors import NestingError
from nesting.placing.question import MOST_OUTLINES, SPLIT, Placing
from nesting.problem.problem import Problem
from nesting.search.settled import settled
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations
from nesting.shape.shapes import Shapes
from nesting.tolerance import ALLOWED
from tests.make.jigsaw import jigsaw
from tests.make.polygons import random_star
from tests.make.random_jobs import random_job
from tests.nesting.proof.test_exact import hopper_turton

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nesting.marker.marker import Marker
    from nesting.placing.model import StandingSpot

# Small polyominoes; how short they pack into a strip 3 wide is counted out below.
ELL = np.array([(0, 0), (2, 0), (2, 1), (1, 1), (1, 3), (0, 3)], dtype=float)
TEE = np.array([(0, 1), (1, 1), (1, 0), (2, 0), (2, 3), (1, 3), (1, 2), (0, 2)], dtype=float)
ESS = np.array([(0, 0), (1, 0), (1, 1), (2, 1), (2, 3), (1, 3), (1, 2), (0, 2)], dtype=float)


def is_in_its_model(marker: Marker, placing: Placing) -> bool:
    """Whether a marker's places, rounded, are an answer to the question whether it can be as long as it is."""
    from ortools.sat.python import cp_model

    asked = placing.model(marker.length + ALLOWED)
    assert not asked.is_too_short
    unit, free = placing.unit, list(asked.lying)
    for placement in sorted(marker.placements, key=lambda p: (p.item, p.x)):
        lying = next(one for one in free if one.item == placement.item)
        free.remove(lying)
        way = next(way for way in lying.ways if way.number == placement.variant)
        standing = way.standing
        asked.model.add(way.chosen == 1)
        variant = marker.problem.items[placement.item].variants[placement.variant]
        x = placement.x + (variant.length - standing.length) / 2 + ALLOWED / 2
        y = placement.y + (variant.height - standing.height) / 2
        for place, at in ((lying.x, x), (lying.y, y)):
            asked.model.add_linear_constraint(place, int(np.floor(at / unit)), int(np.ceil(at / unit)))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    return solver.status_name(solver.solve(asked.model)) in ("OPTIMAL", "FEASIBLE")


@pytest.mark.generated(8)
def test_a_known_marker_is_never_impossible(numbers: Iterator[int], monkeypatch: pytest.MonkeyPatch) -> None:
    """Random jobs, all spreads, naps, gaps, patterns, tilts and choices: what was laid is not said to be impossible.

    Every second one is asked in cases.
    """
    for number in numbers:
        monkeypatch.setattr("nesting.placing.question.SPLIT", 0.0 if number % 2 else math.inf)
        job = random_job(number)
        try:
            problem, _ = job.problem()
        except NestingError:
            continue
        marker = solve(problem, MaxIterations(2), seed=number).marker
        placing = Placing(problem, marker.length + 1.0, problem.faults)
        if placing.is_too_large:
            continue
        assert placing.ask(marker.length, 0.3).kind != "impossible", number
        plain = not any(v.most_tilt for item in problem.items for v in item.variants)
        alone = marker.problem.loosest is None and not marker.problem.choices and not marker.problem.repeat
        if plain and alone and marker.problem is problem:
            assert is_in_its_model(marker, placing), number


def test_published_packing_is_not_impossible() -> None:
    """Hopper and Turton's C1 P1 fills 20 x 20 (EJOR 128, 2000): 20 is never said to be impossible."""
    placing = Placing(hopper_turton(), 21.0)
    assert not placing.is_too_large
    assert placing.ask(20.0, 0.5).kind != "impossible"


@pytest.mark.parametrize("outlines", [(ELL, ESS), (ELL, ELL, TEE), (TEE, TEE, ESS), (ELL, TEE, ESS), (ESS, ESS, ESS)])
def test_against_brute_force(outlines: tuple[np.ndarray, ...]) -> None:
    """Polyominoes that keep to whole cells when they lie shortest: every arrangement of cells is tried here.

    One cell less is proved impossible; that they lie on whole cells is no help to the proof.
    """
    shortest = least_cells(outlines)
    problem = Problem.from_outlines(
        30.0, [10 * one for one in outlines], [1] * len(outlines), [[0.0, 180.0]] * len(outlines)
    )
    placing = Placing(problem, 10.0 * shortest + 1)
    assert placing.ask(10.0 * shortest, 1.0).kind != "impossible"
    off_cells = placing.ask(10.0 * shortest - 0.5, 20.0)
    assert off_cells.kind == "impossible"


def least_cells(outlines: tuple[np.ndarray, ...]) -> int:
    """The shortest strip, 3 cells wide, that holds outlines of whole cells, each turned by nothing or by half."""
    best = 99
    ways = [[cells(one), cells(-one)] for one in outlines]
    for order in permutations(range(len(outlines))):
        for turned in product((0, 1), repeat=len(outlines)):
            best = min(best, _laid([ways[i][turned[i]] for i in order], set(), best))
    return best


def cells(outline: np.ndarray) -> frozenset[tuple[int, int]]:
    """The cells of an outline moved to the corner."""
    shape = shapely.Polygon(outline - outline.min(axis=0))
    size = np.ptp(outline, axis=0).astype(int)
    inside = ((x, y) for x in range(size[0]) for y in range(size[1]) if shape.contains(shapely.Point(x + 0.5, y + 0.5)))
    return frozenset(inside)


def _laid(left: list[frozenset[tuple[int, int]]], taken: set[tuple[int, int]], best: int) -> int:
    if not left:
        return 1 + max(x for x, _ in taken)
    for x, y in product(range(best), range(3)):
        placed = {(x + dx, y + dy) for dx, dy in left[0]}
        if all(py < 3 and px < best for px, py in placed) and not placed & taken:
            best = min(best, _laid(left[1:], taken | placed, best))
    return best


def test_a_jigsaw_is_found_again() -> None:
    """Six parts of a strip of 400 x 300 mm: with the linear programs its very length is found, or nearly."""
    problem = jigsaw(300.0, 400.0, 5, 3)
    shapes = Shapes(problem)

    def settle(spots: Sequence[StandingSpot]) -> Marker | None:
        layout = settled(shapes, spots)
        return layout.to_marker(shapes) if layout else None

    placing = Placing(problem, 500.0, settle=settle)
    assert placing.ask(405.0, 20.0).kind == "found"
    assert placing.best is not None
    assert 400.0 - ALLOWED <= placing.best.length <= 405.0
    assert placing.ask(399.0, 20.0).kind == "impossible"


def test_zones_take_room() -> None:
    """Two squares of 100 on cloth 100 wide need 200; with a zone of 50 between them, 250."""
    square = np.array([(0, 0), (100, 0), (100, 100), (0, 100)], dtype=float)
    problem = Problem.from_outlines(100.0, [square], [2], [[0.0]])
    zone = np.array([(100, 0), (150, 0), (150, 100), (100, 100)], dtype=float)
    assert Placing(problem, 300.0).ask(200.0, 1.0).kind == "open"
    assert Placing(problem, 300.0).ask(199.5, 1.0).kind == "impossible"
    assert Placing(problem, 300.0, [zone]).ask(249.5, 1.0).kind == "impossible"
    assert Placing(problem, 300.0, [zone]).ask(250.0, 1.0).kind == "open"


def test_a_zone_beyond_the_length_takes_none_of_it() -> None:
    """A zone that begins where the cloth asked about ends, or lies before its start, is in nobody's way."""
    square = np.array([(0, 0), (100, 0), (100, 100), (0, 100)], dtype=float)
    problem = Problem.from_outlines(100.0, [square], [2], [[0.0]])
    for at in (200.0, 260.0, 900.0, -400.0):
        zone = np.array([(at, 0), (at + 300, 0), (at + 300, 100), (at, 100)], dtype=float)
        assert Placing(problem, 201.0, [zone]).ask(200.0, 1.0).kind == "open"


def test_more_than_can_be_asked_about() -> None:
    """With too many outlines nothing is asked, and nothing spent."""
    problem = Problem.from_outlines(900.0, [random_star(np.random.default_rng(0), 8)], [MOST_OUTLINES + 1], [[0.0]])
    placing = Placing(problem, 9000.0)
    assert placing.is_too_large
    assert placing.ask(500.0, 9.0) == ("open", 0.0, False)


def test_the_same_question_gets_the_same_answer() -> None:
    """Effort is counted, not timed: asked twice, the answer and what it took are the same."""
    problem = jigsaw(300.0, 400.0, 6, 1)
    answers = [Placing(problem, 500.0).ask(399.0, 0.4) for _ in range(2)]
    assert answers[0] == answers[1]


@pytest.mark.parametrize(("right", "upper"), [(0, 0), (0, 1), (1, 0), (1, 1)])
def test_every_quarter_of_the_cloth_is_looked_at(right: int, upper: int) -> None:
    """A square of 40 that fits into one quarter of 100 x 100 alone, the rest cut out: asked in cases, it still fits."""
    square = np.array([(0, 0), (40, 0), (40, 40), (0, 40)], dtype=float)
    problem = Problem.from_outlines(100.0, [square], [1], [[0.0]])
    side, flat = 50.0 * (1 - right), 50.0 * (1 - upper)
    zones = [
        np.array([(side, 0), (side + 50, 0), (side + 50, 100), (side, 100)]),
        np.array([(0, flat), (100, flat), (100, flat + 50), (0, flat + 50)]),
    ]
    assert Placing(problem, 101.0, zones).ask(100.0, SPLIT).kind != "impossible"
