"""Lengths worth reaching: with which the next smaller purchase is enough."""

from __future__ import annotations

import pytest

from nesting.problem.problem import Problem
from nesting.search.solver import solve
from nesting.search.stop import MaxWork
from reports.ask.job import parse_job
from reports.plan.aims import PurchaseAims
from reports.plan.effort import Effort
from reports.plan.plan import plan_job
from tests.make.model import MODEL, edited, with_fabrics
from tests.nesting.search.test_fill import rectangle

CLOTH = """\
name = "cloth"
width = "60 in"
sold_by = "1/8 yd"
end_allowance = "1 in"
shrinkage = 10
minimum = "1/2 yd"
"""


def test_what_the_next_step_down_holds() -> None:
    """By hand: sold by 4.5 in, 10 % of them shrink, 2 in are for the ends: 1 1/8 yd, 40.5 in, hold 34.45 in of marker.

    34.5 in of marker need (34.5 + 2) / 0.9 = 40.56 in, so 1 1/4 yd are bought. No less than 1/2 yd is sold.
    """
    (offer,) = parse_job(with_fabrics(CLOTH)).fabric
    aims = PurchaseAims(offer)
    found = aims(34.5 * 25.4)
    assert found is not None and found == pytest.approx(34.45 * 25.4, abs=0.002)
    assert offer.purchase(found).enough < offer.purchase(34.5 * 25.4).enough
    assert aims(10 * 25.4) is None


def test_two_lengths_on_one_another_take_half_each() -> None:
    """By hand: of two lengths, 42 in of cloth in all and 4 in for their ends, 36.45 - 4 in hold 16.225 in each."""
    (offer,) = parse_job(with_fabrics(CLOTH)).fabric
    assert PurchaseAims(offer, 2)(17 * 25.4) == pytest.approx((40.5 * 0.9 - 4) / 2 * 25.4, abs=0.002)


def test_a_search_ends_once_no_smaller_purchase_is_possible() -> None:
    """Five of 41 by 60 on 100 of cloth lie no shorter than 123; if only 100 is worth reaching, that is out of reach.

    The area alone proves it. A tenth of the effort is spent all the same.
    """
    problem = Problem.from_outlines(100.0, [rectangle(41, 60)], [5], [[0.0, 1.0, 90.0]])
    asked: list[float] = []

    def aims(length: float) -> float | None:
        asked.append(length)
        return 100.0

    result = solve(problem, MaxWork(0.2), aims=aims)
    assert result.stopped_by in ("purchase", "proved") and result.work < 0.1
    assert asked and result.marker.length > 100.0


def test_a_cloth_whose_purchase_is_proved_gets_little_effort() -> None:
    """On cloth that is sold by ten yards, no less can be bought: the search of a jacket ends after a tenth of it."""
    job = parse_job(edited(('sold_by = "1/8 yd"\nprice = "14.00', 'sold_by = "10 yd"\nprice = "14.00'), text=MODEL))
    (fabric,) = plan_job(job, Effort(0.2, proof=0), rib=False).fabrics
    assert fabric.result.stopped_by == "purchase"
    assert 0.02 <= fabric.result.work < 0.06


def test_the_key_of_a_marker_knows_how_the_cloth_is_sold() -> None:
    """A marker laid for one step of the shop is not taken for another's."""
    one, other = (
        Effort(1, sold=parse_job(with_fabrics(CLOTH.replace("1/8", step))).fabric[0]).parts for step in ("1/8", "1/4")
    )
    assert one != other and Effort(1).parts == one[:4]
