"""The cost of one garment and its quote, added up by hand from the shopping list."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

import pytest

from reports.ask.job import parse_job
from reports.plan.costing import costing_of, costing_to_plain, is_costed, left_out_words, price_words
from reports.plan.effort import Effort
from reports.plan.plan import plan_job
from reports.plan.shopping import shopping_of
from reports.plan.words import cost_words
from tests.make.model import MODEL

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from reports.plan.plan import Plan
    from tests.reports.conftest import Ran

LABOUR = """
[[trim]]
name = "label"
price = "0.40 / piece"

[[operation]]
name = "cutting"
minutes = 30
part = "cutting"

[[operation]]
name = "sewing"
minutes = 150

[pricing]
rate = "20.00 / h"
overhead = 10
markup = 50
tax = 20
"""


def planned(text: str) -> Plan:
    """A plan by first layouts."""
    return plan_job(parse_job(text), Effort(0.0))


@pytest.mark.parametrize("garments", [1, 3])
def test_added_up_by_hand(garments: int) -> None:
    """All that has a price, 3 hours each at 20.00, 10 % on both; the price is half as much again, to the cent."""
    plan = planned(f"garments = {garments}\n" + MODEL + LABOUR)
    costing = costing_of(plan)
    assert costing is not None
    bought = sum((line.cost for line in shopping_of(plan) if line.cost is not None), Decimal(0))
    before = bought + 60 * garments
    assert float(costing.cost.run.total) == pytest.approx(float(before) * 1.1, abs=0.011)
    (line,) = costing.quote.lines
    assert line.number == garments
    assert float(line.each) == pytest.approx(float(costing.cost.garment.total) * 1.5, abs=0.011)
    assert float(costing.quote.tax) == pytest.approx(float(line.amount) * 0.2, abs=0.006)


def test_what_has_no_price_is_named() -> None:
    """Zip and thread have none: cost, quote and words say so; once all have one, nothing is said."""
    costing = costing_of(planned(MODEL + LABOUR))
    assert costing is not None
    assert "label" not in costing.left_out and "thread" in costing.left_out
    assert all(name in left_out_words(costing) and name in costing.quote.title for name in costing.left_out)
    said = " ".join(price_words(costing))
    assert "The garment costs" in said and "total with tax" in said


def test_not_asked_for() -> None:
    """A job without labour and pricing has no cost of a garment, and no quote."""
    plan = planned(MODEL)
    assert not is_costed(plan.job)
    assert costing_of(plan) is None and costing_to_plain(plan) is None
    assert not list(cost_words(plan))


def test_quote_is_written(run: Callable[..., Ran], job_file: Callable[[str], Path], tmp_path: Path) -> None:
    """`buy` writes the quote on a page of its own where the job asks for it, and else none."""
    path = job_file(MODEL + LABOUR)
    said = run("buy", path, "--effort", 0, "--out", tmp_path / "made")
    assert said.code == 0 and "The garment costs" in said.out
    assert {"quote.pdf", "quote.png", "quote.svg"} <= {one.name for one in (tmp_path / "made").iterdir()}


def test_operation_without_pay(run: Callable[..., Ran], job_file: Callable[[str], Path]) -> None:
    """An operation that nobody pays for is told in one line."""
    said = run("buy", job_file(MODEL + '\n[[operation]]\nname = "sewing"\nminutes = 5\n'), "--effort", 0)
    assert (said.code, said.err.count("\n")) == (2, 1)
    assert "has no pay" in said.err
