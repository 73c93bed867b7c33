"""One garment on several widths: what narrow cloth proves for wider cloth; widths as they are written."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
import shapely
from shapely import affinity

from nesting.marker.opinion import check
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations
from pieces import Units
from reports.ask.job import parse_job
from reports.ask.offer import FabricOffer
from reports.batch.series import Series, cloth_of, lay_all, spreads_of, width_list, width_range
from reports.errors import JobError
from reports.plan.effort import Effort
from tests.make.cloth import back, front, in_a_row, tab
from tests.make.model import HEAD, MODEL

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nesting.cloth.spread import Spread
    from nesting.marker.marker import Marker
    from nesting.problem.problem import Problem

INCH = 25.4
CLOTH = FabricOffer.model_validate({"width": "1 m", "selvedge": "1 cm", "end_allowance": "0 cm", "price": "10 / m"})


def test_narrow_marker_is_taken_over() -> None:
    """A longer marker on wider cloth gives way to the one on narrow cloth; a shorter one stays."""
    series = Series([back(), front(), tab()], CLOTH, ["folded"], [700.0, 900.0, 1100.0])
    short = solve(series.problems["folded", 0], MaxIterations(20)).marker
    series.keep("folded", 0, short)
    series.keep("folded", 1, in_a_row(series.problems["folded", 1]))
    series.settle()
    lengths = [series.cell(i).length for i in range(3)]
    assert lengths == [short.length] * 3
    assert short.length < in_a_row(series.problems["folded", 1]).length
    for i in range(3):
        check(series.cell(i).marker)


def test_best_spread_and_refusal() -> None:
    """Of several spreads the one that takes least is named; where none will do, the simplest says what it needs."""
    series = Series([front()], CLOTH, ["open", "folded"], [100.0, 320.0])
    assert "150 mm" in str(series.refusal(0))
    assert series.refusal(1) is None
    assert series.cell(1) is None
    series.keep("folded", 1, in_a_row(series.problems["folded", 1]))
    series.keep("open", 1, in_a_row(series.problems["open", 1]))
    cell = series.cell(1)
    assert (cell.spread, cell.length, cell.purchase.buy) == ("folded", 200.0, pytest.approx(2 * 914.4 / 8))
    assert float(cell.cost or 0) == pytest.approx(2.29)
    assert cell.bound <= cell.length


def test_trial_then_the_best() -> None:
    """Of several spreads each is tried for a tenth of the effort, then the best on each width for all of it."""
    series, asked = Series([front(), tab(4)], CLOTH, ["open", "folded"], [700.0, 900.0]), []

    def lay(problems: Sequence[Problem], effort: Effort) -> list[Marker]:
        asked.append((len(problems), effort))
        return [in_a_row(problem) for problem in problems]

    lay_all([series], Effort(50, seed=3), lay)
    assert asked == [(4, Effort(5, seed=3)), (2, Effort(50, seed=3))]
    # One behind another: two fronts and four tabs singly, one and two of them double.
    assert [series.cell(i).spread for i in range(2)] == ["folded", "folded"]
    assert [series.cell(i).length for i in range(2)] == [360.0, 360.0]


@pytest.mark.parametrize("spread", ["folded", "double-folded"])
def test_folded_layout_unfolds(spread: Spread) -> None:
    """A layout on folded cloth, each piece mirrored at its fold (by shapely), lies on open cloth: never longer."""
    series = Series([back(), front(), tab(4)], CLOTH, [spread], [900.0])
    marker = solve(series.problems[spread, 0], MaxIterations(5)).marker
    flat = []
    for _, _, variant, outline in marker.outlines():
        band, shape = marker.problem.bands[variant.band], shapely.Polygon(outline)
        fold = band.low if band.low_edge == "fold" else band.high
        flat += [shape, affinity.scale(shape, yfact=-1, origin=(0, fold))]
    left, low, right, high = shapely.total_bounds(flat)
    assert right - left <= marker.length + 1e-6
    assert high - low <= 880.0 + 1e-6
    assert shapely.union_all(flat).area == pytest.approx(sum(shape.area for shape in flat))
    assert sum(shape.area for shape in flat) == pytest.approx(marker.problem.piece_area)


def test_crosswise_counts_both_lengths() -> None:
    """Cloth folded crosswise takes twice the marker's length."""
    series = Series([front()], CLOTH, ["crosswise"], [320.0])
    series.keep("crosswise", 0, in_a_row(series.problems["crosswise", 0]))
    assert series.cell(0).length == 2 * series.cell(0).marker.length == 400.0


def test_cloth_and_spreads() -> None:
    """The job's first cloth is gone by, or a plain one; its spread holds unless another is asked for."""
    assert cloth_of(parse_job(MODEL)).name == "navy twill, wide"
    assert cloth_of(parse_job(HEAD)).width == 60 * INCH
    folded = cloth_of(parse_job(MODEL))
    assert spreads_of(folded, None) == ("folded",)
    assert spreads_of(folded, "best") == ("open",)
    assert spreads_of(folded.model_copy(update={"gap": 3.0}), "best") == ("folded", "open", "double-folded")
    assert spreads_of(folded, "open") == ("open",)
    for searched in ("part-folded", "fold-then-open"):
        assert spreads_of(folded.model_copy(update={"spread": searched}), None)[0] == "open"


def test_width_range() -> None:
    """From the narrowest to the widest, both included; a metric job goes by round centimetres."""
    assert width_range("1 m", "1.1 m", "5 cm", Units.METRIC) == pytest.approx([1000.0, 1050.0, 1100.0])
    assert width_range("45 in", "45 in", None, Units.INCHES) == pytest.approx([45 * INCH])
    assert len(width_range(None, None, None, Units.INCHES)) == 37
    assert width_range(None, None, None, Units.METRIC)[0] == 900.0


def test_width_list() -> None:
    """Widths come in order, each once."""
    assert width_list("60 in, 45 in,60 in", Units.INCHES) == pytest.approx([45 * INCH, 60 * INCH])
    assert len(width_list(None, Units.INCHES)) == 6


@pytest.mark.parametrize(
    ("given", "said"),
    [
        (("36", None, None), "--from: .*no unit"),
        ((None, "wide", None), "--to: "),
        (("60 in", "45 in", None), "--from 60 in is more than --to 45 in"),
        ((None, None, "0 in"), "--step: '0 in' is not a width"),
        ((None, None, "1 mm"), "take a larger step"),
    ],
)
def test_bad_range(given: Any, said: str) -> None:
    """Widths that make no sense are told by the option that names them."""
    with pytest.raises(JobError, match=said):
        first, last, step = given
        width_range(first, last, step, Units.INCHES)


@pytest.mark.parametrize("text", ["", "45 in,", "45 in; 60 in", "0 in", "45"])
def test_bad_list(text: str) -> None:
    """A list of widths that cannot be read names its option."""
    with pytest.raises(JobError, match="--widths: "):
        width_list(text, Units.INCHES)
