"""A shorter marker and a smaller purchase are told apart, and nothing is told of what no tape shows."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from pieces.units import INCH, YARD, Units
from reports.ask.job import parse_job
from reports.batch.study import study
from reports.plan.effort import Effort
from reports.save.saves import savings
from reports.save.words import bought_words, gain_lines, length_words, scatter_line
from tests.make.model import MODEL


@pytest.fixture(scope="module")
def found() -> Any:
    """The model job's changes, first layouts only."""
    return savings(parse_job(MODEL), 1, lambda problems: study(problems, Effort(0)).markers)


@pytest.mark.parametrize(
    ("mm", "words"),
    [(0.0, "as long"), (3.0, "as long"), (-3.0, "as long"), (1.4 * INCH, "1 3/8 in shorter"), (-INCH, "1 in longer")],
)
def test_length(mm: float, words: str) -> None:
    """Less than 1/8 in is no difference; what is saved is rounded down."""
    assert length_words(mm, Units.INCHES) == words


@pytest.mark.parametrize(
    ("saved", "less", "words"),
    [
        (35.0, YARD / 8, "buys 1/8 yd less"),
        (35.0, 0.0, "buys no less"),
        (-35.0, 0.0, "buys no more"),
        (-35.0, -YARD / 4, "buys 1/4 yd more"),
    ],
)
def test_purchase(found: Any, saved: float, less: float, words: str) -> None:
    """In the unit of the shop."""
    assert bought_words(found, replace(found.rows[1], saved=saved, less=less)) == words


def test_what_buys_less_comes_first(found: Any) -> None:
    """A purchase saved counts for more than a length; within the scatter a length counts for nothing."""
    now, row = found.rows[:2]
    rows = (
        now,
        replace(row, name="shorter", saved=90.0, less=0.0),
        replace(row, name="cheaper", saved=30.0, less=YARD / 8),
        replace(row, name="chance", saved=20.0, less=0.0),
    )
    first, second, last = gain_lines(replace(found, rows=rows, scatter=25.0))
    assert first == "Cheaper buys 1/8 yd less: the marker is 1 1/8 in shorter."
    assert second == "Shorter buys no less: the marker is 3 1/2 in shorter."
    assert "3 random seeds" in last and "up to 1 in" in last


def test_scatter_that_is_not_known(found: Any) -> None:
    """First layouts are the same from any seed: they tell nothing of the search."""
    assert "is not known" in scatter_line(found)
    assert "the same length each time" in scatter_line(replace(found, scatter=0.0))
