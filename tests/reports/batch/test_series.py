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
from reports.batch.series import Series, cloth_of, laid_as, lay_all, width_list, width_range
from reports.batch.study import study
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


def laid(spread: Spread, **changes: Any) -> FabricOffer:
    """The cloth laid in some way."""
    return CLOTH.model_copy(update={"spread": spread} | changes)


def settled(series: Series, rounds: int = 0) -> Series:
    """A series whose problems are laid here."""
    lay_all([series], Effort(rounds), lambda problems, effort: study(problems, effort).markers)
    return series


def test_narrow_marker_is_taken_over() -> None:
    """A longer marker on wider cloth gives way to the one on narrow cloth; a shorter one stays."""
    series = Series([back(), front(), tab()], laid("folded"), [700.0, 900.0, 1100.0])

    def lay(problems: Sequence[Problem], effort: Effort) -> list[Marker]:
        return [solve(problems[0], MaxIterations(20)).marker, *map(in_a_row, problems[1:])]

    lay_all([series], Effort(0), lay)
    cells = [series.cell(i) for i in range(3)]
    (cloth, *_) = series.settled
    short = solve(cloth.problems["folded"], MaxIterations(20)).marker
    assert [cell.length for cell in cells if cell] == [short.length] * 3
    assert short.length < in_a_row(cloth.problems["folded"]).length
    for cell in cells:
        assert cell is not None
        check(cell.marker)


def test_answer_and_refusal() -> None:
    """Where nothing will do, it is said what is lacking; nothing is told before all is laid."""
    series = Series([front()], laid("folded"), [100.0, 320.0])
    assert "150 mm" in str(series.refusal(0))
    assert series.refusal(1) is None and series.cell(1) is None
    cell = settled(series).cell(1)
    assert cell is not None
    assert (cell.spread, cell.length, cell.purchase.buy) == ("folded", 200.0, pytest.approx(2 * 914.4 / 8))
    assert float(cell.cost or 0) == pytest.approx(2.29)
    assert cell.bound <= cell.length


def test_what_an_interrupt_came_before_has_no_figure() -> None:
    """A marker of narrower cloth would hold on it, but was not searched for alike: it is no figure to compare."""
    series = Series([front(), tab(4)], laid("folded"), [700.0, 900.0])
    lay_all([series], Effort(0), lambda problems, effort: [in_a_row(problems[0]), None])
    assert series.cell(0) is not None
    assert series.cell(1) is None
    assert series.not_searched == [900.0]


@pytest.mark.parametrize("spread", ["folded", "double-folded"])
def test_folded_layout_unfolds(spread: Spread) -> None:
    """A layout on folded cloth, each piece mirrored at its fold (by shapely), lies on open cloth: never longer."""
    (cloth,) = Series([back(), front(), tab(4)], laid(spread), [900.0]).settled
    marker = solve(cloth.problems[spread], MaxIterations(5)).marker
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
    cell = settled(Series([front()], laid("crosswise"), [320.0])).cell(0)
    assert cell is not None
    assert cell.length == 2 * cell.marker.length == 400.0


def test_cloth_and_spreads() -> None:
    """The job's first cloth is gone by, or a plain one; its spread holds unless another is asked for."""
    assert cloth_of(parse_job(MODEL)).name == "navy twill, wide"
    assert cloth_of(parse_job(HEAD)).width == 60 * INCH
    folded = cloth_of(parse_job(MODEL))
    assert laid_as(folded, None).spread == "folded"
    part = folded.model_copy(update={"spread": "part-folded", "fold_depth": 300.0})
    assert laid_as(part, "part-folded").fold_depth == 300.0
    assert (laid_as(part, "best").spread, laid_as(part, "best").fold_depth) == ("best", None)


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
