"""Prices of trims in a job."""

from __future__ import annotations

from decimal import Decimal

import pytest

from reports.ask.job import parse_job
from reports.errors import JobError
from tests.make.model import MODEL

ENTRY = '[[trim]]\nname = "{}"\nprice = "{}"\n'


def test_costs() -> None:
    """By the piece: so many; thread by the metre: all that is on the spools."""
    text = MODEL + ENTRY.format("label", "0.30 / piece") + ENTRY.format("thread", "0.02 / m") + 'sold_by = "250 m"\n'
    label, thread = parse_job(text).trim
    assert label.cost(4, 0.0) == Decimal("1.20")
    assert (thread.sold_by, thread.cost(2, 250_000)) == (250_000, Decimal("10.00"))


@pytest.mark.parametrize(
    ("entry", "said"),
    [
        (ENTRY.format("hooks", "1 / piece"), "write 'separating zip', 'zip', 'buttons or snaps'"),
        (ENTRY.format("label", "1 / m"), "'label' is sold by the piece: give its price for each piece"),
        (ENTRY.format("thread", "1 / kg"), "give its price for each piece, or for each yd"),
        (ENTRY.format("label", "1 / piece") + 'sold_by = "1 m"\n', "sold_by is the length on a spool of thread"),
        (2 * ENTRY.format("label", "1 / piece"), "'label' has two prices: keep one [[trim]] of each name"),
    ],
)
def test_refused(entry: str, said: str) -> None:
    """What is unknown, priced otherwise, or given twice: one line that says what to write."""
    with pytest.raises(JobError) as caught:
        parse_job(MODEL + entry)
    assert said in str(caught.value) and "\n" not in str(caught.value)
