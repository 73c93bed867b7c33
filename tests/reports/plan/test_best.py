"""The best of several offers."""

from __future__ import annotations

from dataclasses import replace

from reports.ask.job import parse_job
from reports.plan.best import best_of
from reports.plan.effort import Effort
from reports.plan.plan import plan_job
from reports.plan.words import answer_lines
from tests.make.model import with_fabrics

CLOTH = 'name = "{}"\nwidth = "{} in"\nspread = "open"\nsold_by = "1/8 yd"\nprice = "10 / yd"'


def test_what_was_interrupted_is_not_compared() -> None:
    """Where an interrupt came before all cloths were searched alike, none is said to be cheapest, and it says why."""
    plan = plan_job(parse_job(with_fabrics(CLOTH.format("wide", 60), CLOTH.format("narrow", 45))), Effort(0), rib=False)
    (best,) = best_of(plan)
    assert (best.by, best.named) == ("cost", "wide")
    assert any(line.startswith("Cheapest cloth: wide") for line in answer_lines(plan))
    (_, wide), (_, narrow) = plan.markers
    broken = replace(plan, fabrics=(wide, replace(narrow, result=replace(narrow.result, stopped_by="interrupt"))))
    (best,) = best_of(broken)
    assert (best.by, best.number, best.against) == ("order", 1, None)
    words = "\n".join(answer_lines(broken))
    assert "Cheapest" not in words
    assert words.count("Interrupted: a whole search may find less") == 1
