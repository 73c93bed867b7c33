"""An order file: what is wrong in it is told where it stands."""

from __future__ import annotations

import re

import pytest

from reports.ask.order.order import parse_order
from reports.errors import JobError
from tests.make.orders import changed


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ((r"^rust = .*$", "rust = { S = -3 }"), "[quantity] rust S: write 0 or more, not -3"),
        ((r"^# rolls = .*$", "rolls = [30]"), 'write how long the roll is, such as "30 yd", not 30'),
        ((r'^table = "4 m"', 'prefer = "speed"'), "[cutting] prefer: write 'cost', 'fewest lays' or 'low lays'"),
    ],
)
def test_a_mistake_is_told_where_it_stands(change: tuple[str, str], said: str) -> None:
    """The colour and the size are named that have a wrong number; a roll without a unit is told what to write."""
    with pytest.raises(JobError, match=re.escape(said)):
        parse_order(changed(change), "order.toml")
