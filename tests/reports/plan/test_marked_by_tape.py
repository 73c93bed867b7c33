"""Cloth that is marked by tape: what its steps take is bought from the start, and the guide takes no more."""

from __future__ import annotations

import pytest

from pieces.units import INCH, Units
from reports.ask.job import parse_job
from reports.ask.order.order import RunFabric
from reports.guide.guide import guide_of
from reports.plan.effort import Effort
from reports.plan.plan import plan_job
from tests.make.model import with_fabrics

CLOTH = 'width = "{}"\nspread = "{}"\nselvedge = "1/2 in"\nmarking = "tape"{}'


@pytest.mark.parametrize("spread", ["folded", "open", "best"])
@pytest.mark.parametrize(
    ("step", "mm"), [("", INCH / 8), ('\ntape_step = "1 in"', INCH), ('\ntape_step = "1 mm"', 1.0)]
)
def test_bought_is_what_is_marked(spread: str, step: str, mm: float) -> None:
    """The marker lies on the tape's steps, is what the purchase is worked out from, and the guide's own."""
    plan = plan_job(parse_job(with_fabrics(CLOTH.format("60 in", spread, step))), Effort(0.0), rib=False)
    ((_, fabric),) = plan.markers
    assert fabric.purchase.need == pytest.approx(fabric.result.marker.length)
    guide = guide_of(fabric, Units.INCHES)
    assert guide.chalked.step == pytest.approx(mm)
    assert guide.growth == pytest.approx(0.0, abs=1e-6)
    off = set(guide.chalked.off)
    for i, placement in enumerate(fabric.result.marker.placements):
        assert i in off or abs(placement.x / mm - round(placement.x / mm)) < 1e-4


def test_not_proved_any_more() -> None:
    """Where the tape makes a marker longer, that none is shorter is not said of it."""
    exact, taped = (
        plan_job(
            parse_job(with_fabrics(CLOTH.format("60 in", "folded", '\ntape_step = "1 in"').replace('tape"', how, 1))),
            Effort(0.0),
            rib=False,
        ).markers[0][1]
        for how in ('exact"', 'tape"')
    )
    assert taped.result.marker.length >= exact.result.marker.length - 1e-6
    assert taped.result.bound <= taped.result.marker.length
    if taped.result.marker.length > exact.result.marker.length + 0.1:
        assert taped.result.stopped_by != "proved"


def test_odd_steps_and_runs_are_refused() -> None:
    """A step finer than a tape shows, and a run's cloth marked by tape, make no sense."""
    with pytest.raises(ValueError, match="no tape has"):
        parse_job(with_fabrics(CLOTH.format("60 in", "open", '\ntape_step = "0.2 mm"')))
    with pytest.raises(ValueError, match="not chalked by tape"):
        RunFabric.model_validate({"width": "60 in", "marking": "tape"})
