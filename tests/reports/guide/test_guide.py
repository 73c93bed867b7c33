"""The guide: its words read back, and laid out anew by shapely; its order, stages and pictures."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from itertools import pairwise
from math import isclose
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
import shapely
from shapely import Polygon, affinity

from nesting.cloth.band import Band
from nesting.folds.fold_then_open import fold_then_open
from nesting.marker.marker import Marker, Placement
from nesting.marker.opinion import check
from nesting.problem.item import Item, Variant
from nesting.problem.lay import lay_pieces
from nesting.problem.problem import Problem
from nesting.problem.transform import Transform
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations
from pieces import Piece, PieceSet, Units
from pieces.length import mm
from pieces.units import parse_length
from reports.ask.offer import FabricOffer
from reports.ask.wanted import asked_of
from reports.guide.draw import stage_cells, stage_page
from reports.guide.guide import Guide, Step, edge_words, guide_of
from reports.guide.words import guide_lines, step_texts, step_title, top_words
from reports.plan.answers import FabricPlan
from reports.rows import LaidRow
from tests.make.drawn import overlapping, texts
from tests.make.outlines import sides

if TYPE_CHECKING:
    from nesting.cloth.spread import Spread

INCH = 25.4
DEPTH = 16 * INCH
WIDTHS: dict[Spread, int] = {
    "folded": 60,
    "open": 45,
    "double-folded": 108,
    "tube": 76,
    "part-folded": 60,
    "crosswise": 45,
}
SIZE = r"((?:\d+ )?\d+(?:/\d+)?(?:\.\d+)? (?:in|cm))"


def offered(**facts: str) -> FabricOffer:
    """A cloth as a job writes it."""
    return FabricOffer.model_validate(facts)


@cache
def guide(pieces: PieceSet, spread: Spread, units: Units = Units.INCHES) -> Guide:
    """The guide to the first marker found on cloth of the width that goes with a spread."""
    selvedge = "0 in" if spread == "tube" else "1/2 in"
    width = {"opened" if spread == "tube" else "width": f"{WIDTHS[spread]} in"}
    offer = offered(name="cloth", selvedge=selvedge, spread=spread, **width)
    depth = DEPTH if spread == "part-folded" else None
    wasteful = spread == "crosswise"  # no fold along it for the back to lie on
    problem = lay_pieces(
        pieces.of("shell"), offer.fabric(), spread, depth=mm(depth) if depth else None, waste_twins=wasteful
    )
    result = solve(problem, MaxIterations(0))
    bought = offer.purchase(result.marker.length, problem.lengths)
    asked = asked_of(offer.model_copy(update={"waste_twins": wasteful}), spread, pieces.of("shell"), 1, depth)
    return guide_of(FabricPlan(offer, spread, result, bought, None, depth=depth, asked=asked), units)


@pytest.fixture(scope="module", params=[*((s, Units.INCHES) for s in WIDTHS), ("folded", Units.METRIC)])
def made(request: pytest.FixtureRequest, jacket: PieceSet) -> Guide:
    """The jacket's guide in each spread, and one in centimetres."""
    return guide(jacket, *request.param)


def edges(spread: Spread, band: str) -> dict[str, tuple[float, int]]:
    """Where each edge named lies across the laid cloth, mm, and which way distances from it run: set out by hand."""
    width = WIDTHS[spread] * INCH
    if spread == "double-folded":
        inner = (width / 4, -1 if band == "first fold" else 1)
        return {"lower fold": (0.0, 1), "upper fold": (width / 2, -1), "inner selvedge": inner}
    return {
        "folded": {"fold": (0.0, 1), "selvedge": (width / 2, -1)},
        "tube": {"lower fold": (0.0, 1), "upper fold": (width / 2, -1)},
        "part-folded": {"fold": (0.0, 1), "inner selvedge": (DEPTH, -1), "selvedge": (width - DEPTH, -1)},
    }.get(spread, {"lower selvedge": (0.0, 1), "upper selvedge": (width, -1)})


def usable(spread: Spread, band: str) -> tuple[float, float]:
    """Lowest and highest height at which cloth may be cut, mm: set out by hand."""
    width, half = WIDTHS[spread] * INCH, INCH / 2
    return {
        "folded cloth": (0.0, width / 2 - half),
        "first fold": (0.0, width / 4 - half),
        "second fold": (width / 4 + half, width / 2),
        "tube": (0.0, width / 2),
        "folded part": (0.0, DEPTH - half),
        "single part": (DEPTH, width - DEPTH - half),
    }.get(band, (half, width - half))


def said(step: Step, units: Units) -> tuple[str, float, float, list[float]]:
    """What the words say: the edge, the distances from it and from the start, mm, and the grain's two from the edge."""
    text = " ".join(step_texts(step, units))
    if step.row.variant.on_fold:
        found = re.search(rf"Its fold edge on the ([a-z ]+), {SIZE} to .* In all it takes {SIZE} to", text)
        assert found
        edge, away, start = found[1], 0.0, parse_length(found[3])
    else:
        found = re.search(rf"From the start: {SIZE} to {SIZE}\. From the ([a-z ]+): {SIZE} to {SIZE}\.", text)
        assert found
        edge, away, start = found[3], parse_length(found[4]), parse_length(found[1])
    grain = re.search(rf"Grainline: {SIZE} (?:and {SIZE} )?from the {edge}(?: at both ends)?, {SIZE} and", text)
    assert grain
    return edge, away, start, [parse_length(size) for size in grain.group(1, 2) if size]


def laid_by_words(step: Step, guide: Guide) -> tuple[Polygon, list[shapely.Point]]:
    """A piece laid by nothing but its cut line and the guide's words; with its grain's ends and notches (shapely)."""
    piece, way = step.row.item.piece, step.row.variant
    assert piece is not None
    drawn = Polygon(piece.cut_line)
    marks = [shapely.Point(p) for p in (*piece.grain, *(notch.point for notch in piece.notches))]
    if piece.on_fold and not way.on_fold:
        low = drawn.bounds[1]
        drawn = drawn.union(affinity.scale(drawn, 1, -1, origin=(0, low))).buffer(0.001).buffer(-0.001)
    edge, away, start, _ = said(step, guide.units)
    shapes: list[Any] = [drawn, *marks]
    if "printed side down" in " ".join(step_texts(step, guide.units)):
        shapes = [affinity.scale(shape, 1, -1, origin=(0, 0)) for shape in shapes]
    shapes = [affinity.rotate(shape, way.turn, origin=(0, 0)) for shape in shapes]
    x0, y0, _, y1 = shapes[0].bounds
    at, sign = edges(guide.plan.spread, step.row.band.name)[edge]
    move = (start - x0, at + away - y0 if sign > 0 else at - away - y1)
    outline, *rest = (affinity.translate(shape, *move) for shape in shapes)
    return outline, rest


def test_words_lead_to_a_sound_layout(made: Guide) -> None:
    """Laid by the words alone, pieces overlap no more than the tolerance stated, and keep to the cloth (shapely)."""
    give = made.chalked.tolerance
    laid = [laid_by_words(step, made)[0] for step in made.steps]
    off = made.off
    for step, shape in zip(made.steps, laid, strict=True):
        low, high = usable(made.plan.spread, step.row.band.name)
        most = give if step.number in off else 0.0
        room = shapely.box(0, low, made.chalked.marker.length, high).buffer(most + 0.01)
        assert room.covers(shape), step_title(step)
        moved = shape.hausdorff_distance(Polygon(step.row.outline))
        assert moved <= 1.5 * most + 0.02, step_title(step)
    for i, first in enumerate(laid):
        for second in laid[:i]:
            thin = 1.5 * give + 0.01
            assert not first.buffer(-thin).intersects(second.buffer(-thin))
    assert len(off) <= 1


def test_marks_are_where_the_words_say(made: Guide) -> None:
    """Grainline and notches, derived anew by shapely, lie within half a step of what is written; the grain is level."""
    half = made.chalked.step / 2 + made.chalked.tolerance + 0.02
    for step in made.steps:
        piece = step.row.item.piece
        assert piece is not None
        edge, _, _, grain = said(step, made.units)
        at, sign = edges(made.plan.spread, step.row.band.name)[edge]
        _, marks = laid_by_words(step, made)
        away = [(mark.y - at) * sign for mark in marks]
        assert len(grain) == 1
        assert all(isclose(a, grain[0], abs_tol=half) for a in away[:2])
        text = " ".join(step_texts(step, made.units))
        written = re.search(rf"Notches, from the start and from the {edge}: (.*?)\.(?: |$)", text)
        assert bool(written) == bool(piece.notches)
        pairs = re.findall(rf"{SIZE}, {SIZE}", written[1]) if written else []
        told = [(parse_length(x), parse_length(y)) for x, y in pairs]
        opened = piece.on_fold and not step.row.variant.on_fold
        on_fold = [notch for notch in piece.notches if piece.on_fold and abs(notch.point[1]) < 1e-6]
        assert len(told) == len(piece.notches) * (2 if opened else 1) - (len(on_fold) if opened else 0)
        for mark, y in zip(marks[2:], away[2:], strict=True):
            assert any(abs(mark.x - a) <= half and abs(y - b) <= half for a, b in told)


def test_each_placement_once_largest_first(made: Guide) -> None:
    """The steps are the marker's placements in another order: by stage, on the fold first, then by area (shapely)."""
    steps = made.steps
    key = [(s.row.placement.item, s.row.placement.copy) for s in steps]
    assert sorted(key) == sorted((p.item, p.copy) for p in made.plan.marker.placements)
    for stage in made.stages:
        assert {s.row.band.layers == 1 for s in stage.steps} == {stage.kind == "single"}
        on_fold = [s.row.variant.on_fold for s in stage.steps]
        assert on_fold == sorted(on_fold, reverse=True)
        for several in (True, False):
            areas = [Polygon(s.row.outline).area for s in stage.steps if s.row.variant.on_fold is several]
            assert all(a >= b - 1.0 for a, b in pairwise(areas))


def test_steps_are_numbered_through(made: Guide) -> None:
    """The text's steps run from 1 without a break, and the drawing's numbers are those of the text."""
    lines = list(guide_lines(made, "title"))
    numbers = [int(found[1]) for line in lines if (found := re.match(r"(\d+)\. ", line))]
    assert numbers == list(range(1, len(numbers) + 1))
    assert len(numbers) == 2 + 2 + len(made.steps) + (len(made.stages) - 1) + 2
    for step in made.steps:
        assert f"{step.number}. {step_title(step)}" in lines


def test_part_folded_has_two_stages(jacket: PieceSet) -> None:
    """Cloth folded in part: first what is cut double, the back before all, then the single part as it lies."""
    made = guide(jacket, "part-folded")
    assert [stage.kind for stage in made.stages] == ["layered", "single"]
    first, second = made.stages
    assert first.steps[0].row.name == "back" and first.steps[0].row.variant.on_fold
    assert (first.lead, first.steps[0].number) == (range(3, 5), 5)
    assert (len(second.lead), second.steps[0].number) == (1, second.lead[0] + 1)
    text = "\n".join(guide_lines(made, "title"))
    assert "until it lies 16 in from the fold" in text
    assert "Stage 2 of 2" in text and "Leave the cloth as it lies" in text


def test_fold_then_open_has_two_stages(jacket: PieceSet) -> None:
    """Folded first, all cut double; the rest opened out behind a line that is cut along, on a whole step."""
    offer = offered(name="cloth", width="45 in", selvedge="1/2 in", spread="fold-then-open")
    result = solve(fold_then_open(jacket.of("shell"), offer.fabric(), most=0), MaxIterations(0))
    bought = offer.purchase(result.marker.length)
    asked = asked_of(offer, "fold-then-open", jacket.of("shell"), 1)
    made = guide_of(FabricPlan(offer, "fold-then-open", result, bought, None, asked=asked), Units.INCHES)
    check(made.chalked.marker)
    first, second = made.stages
    assert [(s.kind, s.spread, len(s.lead)) for s in made.stages] == [("layered", "folded", 2), ("single", "open", 2)]
    assert {s.edge for s in first.steps} <= {"fold", "selvedge"}
    assert {s.edge for s in second.steps} <= {"lower selvedge", "upper selvedge"}
    assert max(s.start[1] for s in first.steps) <= second.start <= min(s.start[0] for s in second.steps)
    text = "\n".join(guide_lines(made, "title"))
    line = re.search(rf"cut straight across along the line {SIZE} from the start", text)
    assert line and parse_length(line[1]) == pytest.approx(second.start)
    assert f"Draw another {line[1]} further on" in text and f"Lay the tape with its {line[1]} on the cut end" in text
    assert text.index("Fold the cloth lengthwise") < text.index(line[0]) < text.index("Lay the cloth open")
    assert [int(n) for n in re.findall(r"^(\d+)\. ", text, re.M)] == list(range(1, made.steps[-1].number + 3))


def test_open_cloth_lays_the_half_twice(jacket: PieceSet) -> None:
    """A half on open cloth is turned over on its centre line, midway of what it takes, and its notches with it."""
    made = guide(jacket, "open")
    (back,) = (step for step in made.steps if step.row.name == "back")
    first, last = back.fold
    assert first.edge == pytest.approx(sum(back.across) / 2) == pytest.approx(last.edge)
    notches = sorted(spot.edge for spot in back.notches)
    assert [one + other for one, other in zip(notches, reversed(notches), strict=True)] == pytest.approx(
        [2 * first.edge] * 8
    )  # two of the armhole and one of the hem on each side; the centre back's two lie on the line
    assert "turn it over on that line, and draw round it again" in " ".join(step_texts(back, made.units))
    assert {s.row.gives for s in made.steps if s.row.name == "front"} == {"left", "right"}


@pytest.mark.parametrize(
    ("turn", "mirrored", "words"),
    [
        (0.0, False, "towards the start"),
        (0.0, True, "towards the start"),
        (180.0, True, "towards the end"),
        (90.0, False, "towards the lower edge"),
        (270.0, False, "towards the upper edge"),
        (45.0, False, "towards the start and the lower edge"),
        (225.0, True, "towards the end and the upper edge"),
        (357.0, False, "towards the start"),
    ],
)
def test_where_the_top_points(turn: float, mirrored: bool, words: str) -> None:
    """An arrow drawn from the hem to the top of a piece points as the words say, once laid (shapely)."""
    arrow = shapely.LineString([(100.0, 0.0), (0.0, 0.0)])
    arrow = affinity.rotate(affinity.scale(arrow, 1, -1 if mirrored else 1, origin=(0, 0)), turn, origin=(0, 0))
    (x0, y0), (x1, y1) = arrow.coords
    ends = [("the end", x1 - x0), ("the start", x0 - x1), ("the upper edge", y1 - y0), ("the lower edge", y0 - y1)]
    assert "towards " + " and ".join(name for name, size in ends if size > 30) == words
    variant = Variant(np.array([(0.0, 0.0), (9.0, 0.0), (9.0, 9.0)]), turn, mirrored, 0, 0, 0)
    row = LaidRow(1, Placement(0, 0, 0, 0.0, 0.0), Item("x", 1, (variant,)), variant, variant.outline, Band("b", 0, 9))
    assert top_words(Step(row, "low", "fold", 1, 1)) == words


def test_drill_points_and_tilt_by_hand() -> None:
    """A piece 80 x 50 turned round at 100, 20 mm: its drill point at 10, 15 comes to 170, 55; no tilt, level grain."""
    outline = [(0.0, 0.0), (80.0, 0.0), (80.0, 50.0), (0.0, 50.0)]
    piece = Piece("pocket", sides(outline, [0.0] * 4), drill_points=((10.0, 15.0),), grain=((10.0, 25.0), (60.0, 25.0)))
    problem = lay_pieces([piece], offered(name="c", width="20 cm").fabric(), "open")
    turned = next(i for i, v in enumerate(problem.items[0].variants) if v.turn in (0.0, 180.0))
    way = problem.items[0].variants[turned]
    half_turn = replace(way, turn=180.0, transform=Transform.to_corner(piece.cut_line, 180.0))
    item = Item("pocket", 1, (half_turn,), piece=piece)
    marker = Marker(Problem(problem.bands, (item,)), (Placement(0, 0, 0, 100.0, 20.0),), 180.0)
    row = LaidRow(1, marker.placements[0], item, half_turn, half_turn.outline + (100.0, 20.0), problem.bands[0])
    step = Step(row, "low", "lower selvedge", 1, 1)
    (drill,) = step.drill_points
    assert (drill.start, drill.edge) == pytest.approx((170, 55))
    assert [(spot.start, spot.edge) for spot in step.grain] == [pytest.approx((120, 45)), pytest.approx((170, 45))]
    assert "Drill points, from the start and from the lower selvedge: drill point 17 cm, 5.5 cm." in list(
        step_texts(step, Units.METRIC)
    )


@pytest.mark.parametrize(
    ("spread", "plies", "garments", "gives"),
    [
        ("crosswise", 2, 1, {"back": "1, opened out, twin wasted", "front": "left + right"}),
        ("face-to-face", 4, 2, {"front": "2 left + 2 right"}),
        ("face-up", 3, 3, {"back": "3, opened out", "front": "3 left"}),
        ("face-up", 2, 1, {"back": "1, opened out, twin wasted", "front": "left, twin wasted"}),
    ],
)
def test_what_a_stack_gives(jacket: PieceSet, spread: Spread, plies: int, garments: int, gives: dict[str, str]) -> None:
    """As many as there are plies: half of them left and half right face to face, one hand face up."""
    fabric = offered(name="cloth", width="60 in").fabric()
    pieces = [jacket["back"], jacket["front"]] if "back" in gives else [jacket["front"]]
    problem = lay_pieces(pieces, fabric, spread, garments=garments, plies=plies, waste_twins=True)
    told: dict[str, str] = {}
    for item in problem.items:
        way = item.variants[0]
        row = LaidRow(1, Placement(0, 0, 0, 0.0, 0.0), item, way, way.outline, problem.bands[way.band])
        told.setdefault(row.name, row.gives)
    assert told == gives


def test_edges_have_names_of_their_own() -> None:
    """Two folds are the lower and the upper one; selvedges that meet in the middle are inner ones."""
    one, two = Band("a", 0, 10, 2, True, "fold", "selvedge"), Band("b", 10, 20, 2, True, "selvedge", "fold")
    assert [edge_words((one, two), b, s) for b in (one, two) for s in ("low", "high")] == [
        "lower fold", "inner selvedge", "inner selvedge", "upper fold",
    ]  # fmt: skip
    assert [edge_words((one,), one, s) for s in ("low", "high")] == ["fold", "selvedge"]


def test_pieces_matched_on_a_pattern(jacket: PieceSet) -> None:
    """On stripes 3 in apart every match point told lies on one, counted from the line that the start is drawn by."""
    offer = offered(name="stripes", width="60 in", spread="folded", repeat_along="3 in")
    pieces = [replace(piece, match=(100.0, 0.0)) for piece in jacket.of("shell")]
    result = solve(lay_pieces(pieces, offer.fabric(), "folded"), MaxIterations(0))
    asked = asked_of(offer, "folded", pieces, 1)
    bought = offer.purchase(result.marker.length)
    made = guide_of(FabricPlan(offer, "folded", result, bought, None, asked=asked), Units.INCHES)
    assert made.growth == 0
    text = "\n".join(guide_lines(made, "title"))
    assert "lines of the cloth's pattern decide" in text and "line on line" in text
    before = re.search(rf"in or more from the squared end, and {SIZE} before a line of the pattern", text)
    assert before
    for step in made.steps:
        told = re.search(rf"Match point, on a line of the pattern: {SIZE} from", " ".join(step_texts(step, made.units)))
        assert told
        stripes = (parse_length(told[1]) - parse_length(before[1])) / (3 * INCH)
        assert abs(stripes - round(stripes)) * 3 * INCH <= made.chalked.step + 1e-6


def sold_by(made: Guide, step: str) -> Guide:
    """The same guide to cloth that is sold in other steps."""
    offer = offered(name="cloth", width="45 in", selvedge="1/2 in", spread="open", sold_by=step)
    plan: Any = made.plan
    return replace(made, plan=replace(plan, offer=offer, purchase=offer.purchase(plan.marker.length)))


def test_what_the_rounding_costs_is_said(jacket: PieceSet) -> None:
    """The marker's growth is the difference of two lengths; where the cloth no longer does, it says what does."""
    made = guide(jacket, "open")
    text = "\n".join(guide_lines(sold_by(made, "1 mm"), "title"))
    assert made.growth == pytest.approx(made.chalked.marker.length - made.plan.marker.length)
    assert made.growth > 1
    assert "With these steps you need" in text
    roomy = "\n".join(guide_lines(sold_by(made, "10 yd"), "title"))
    assert "It comes out of 10 yd" in roomy and "to spare" in roomy


def test_rounded_distances_are_owned_up_to(jacket: PieceSet) -> None:
    """Distances that had to be rounded are named by their steps, with how far off they may be."""
    made = guide(jacket, "folded")
    marker = made.plan.marker
    moved = Marker(marker.problem, marker.placements, marker.length)
    unmoved = type(made.chalked)(moved, made.chalked.sides, made.chalked.step)
    raw = Guide(made.plan, made.units, unmoved, made.stages)
    assert raw.off and raw.growth == 0
    text = "\n".join(guide_lines(raw, "title"))
    assert "rounded too, right to 1/16 in" in text and "as it was found" in text
    assert "are exact: laid so, no piece overlaps" in "\n".join(guide_lines(made, "title"))


def test_drawing_says_it_all(made: Guide) -> None:
    """Each stage's page shows its steps' numbers, names and distances, and no word stands on another."""
    for stage in made.stages:
        page = stage_page(made, stage, title="Jacket, on cloth")
        assert overlapping(page) == []
        words = texts(page)
        cells = {cell for line in stage_cells(stage, made.units)[1:] for cell in line}
        assert cells <= set(words)
        for step in stage.steps:
            assert sum(word.split(" ")[0] == str(step.number) for word in words) >= 2
        assert any(word.startswith("Seen from") for word in words)
        assert any(word.startswith(f"Stage {stage.number} of {len(made.stages)}") for word in words)
