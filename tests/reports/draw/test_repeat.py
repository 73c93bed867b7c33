"""Lines of the check where they lie, and match points on them."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from nesting.tolerance import TOLERANCE
from reports.ask.job import parse_job
from reports.draw.marker import marker_page
from reports.draw.repeat import MATCH_NOTE, RING, line_places, match_points
from reports.plan.effort import Effort
from reports.plan.plan import plan_job
from reports.rows import marker_rows
from tests.make.model import edited

CHECKED = edited(
    ("nap = false", 'nap = true\nrepeat_along = "4 in"\nrepeat_across = "3 in"\nshrinkage_across = 3'),
    ('spread = "folded"', 'spread = "open"'),
)


@pytest.fixture(scope="module")
def checked() -> Any:
    """The model job on a check of 4 by 3 in with a nap, first layouts only."""
    return plan_job(parse_job(CHECKED), Effort(0), rib=False).fabrics[0]


def test_lines_are_a_repeat_apart() -> None:
    """From 10 in steps of 25, between 0 and 100, by hand; none without a pattern."""
    assert line_places(10.0, 25.0, 0.0, 100.0) == [10.0, 35.0, 60.0, 85.0]
    assert line_places(-15.0, 25.0, 0.0, 60.0) == [10.0, 35.0, 60.0]
    assert line_places(10.0, 0.0, 0.0, 100.0) == []


def test_match_points_lie_on_crossings_of_lines(checked: Any) -> None:
    """Each is on a line of either way, as the drawing has them."""
    marker = checked.result.marker
    repeat, points = marker.problem.repeat, list(match_points(marker_rows(marker)))
    assert points
    along = np.array(line_places(repeat.start, repeat.along, -500.0, marker.length + 500))
    across = np.array(line_places(repeat.low, repeat.across, -500.0, 3000.0))
    for x, y in points:
        assert abs(along - x).min() <= TOLERANCE and abs(across - y).min() <= TOLERANCE


def test_the_page_shows_lines_rings_and_nap(checked: Any) -> None:
    """As many rings as match points, the lines, the arrow's words, and what they mean; without a nap no such arrow."""
    marker = checked.result.marker
    for nap in (True, False):
        figure = marker_page(marker, title="t", subtitle="s", units=parse_job(CHECKED).written_in, nap=nap)
        words = [text.get_text() for ax in figure.axes for text in ax.texts]
        assert any(one.startswith("nap") for one in words) is nap
        assert any(MATCH_NOTE[:30] in one for one in words)
        rings = [line for ax in figure.axes for line in ax.lines if np.asarray(line.get_xydata()).shape == (25, 2)]
        assert len(rings) == len(list(match_points(marker_rows(marker)))) and RING > 0
