"""All questions agree on a cloth: what `buy` buys is what `lay`, `widths`, `chart`, `saves` and `fits` find of it."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import TYPE_CHECKING, get_args

import pytest

from nesting.fit.fitting import fit_pieces
from nesting.fit.remnant import Remnant, RemnantSpread
from pieces import GARMENTS
from pieces.length import mm
from reports.ask.job import parse_job
from reports.ask.sizes import Size
from reports.ask.template import starting_job
from reports.batch.study import study
from reports.chart.chart import plan_chart
from reports.plan.effort import Effort
from reports.plan.plan import plan_job
from reports.save.saves import savings
from reports.widths.widths import plan_curve
from tests.make.model import with_fabrics

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from pathlib import Path

    from nesting.marker.marker import Marker
    from nesting.problem.problem import Problem
    from reports.ask.job import Job
    from reports.plan.answers import FabricPlan
    from tests.reports.conftest import Ran

CLOTHS = {
    "folded": 'width = "60 in"\nspread = "folded"\nselvedge = "1/2 in"',
    "open, with a nap": 'width = "45 in"\nspread = "open"\nnap = true',
    "best": 'width = "54 in"\nspread = "best"',
    "best, with a gap": 'width = "64 in"\nspread = "best"\ngap = "1/8 in"',
    "folded in part": 'width = "60 in"\nspread = "part-folded"',
    "folded and then opened": 'width = "45 in"\nspread = "fold-then-open"\nselvedge = "3/8 in"',
}

EFFORT = Effort(0.02, proof=0.0)

SAME = 1e-6
"""Lengths that differ by no more, mm, are the same."""


def lay(problems: Sequence[Problem], effort: Effort = EFFORT) -> Sequence[Marker | None]:
    """Lay problems in this process."""
    return study(problems, effort).markers


@pytest.fixture(params=list(CLOTHS), scope="module")
def bought(request: pytest.FixtureRequest) -> tuple[Job, FabricPlan]:
    """A job of one cloth, and what is bought of it."""
    job = parse_job(with_fabrics(CLOTHS[request.param]))
    ((_, fabric),) = plan_job(job, EFFORT, rib=False).markers
    return job, fabric


def test_widths_agree(bought: tuple[Job, FabricPlan]) -> None:
    """The curve at the cloth's own width."""
    job, fabric = bought
    curve = plan_curve(job, job.fabric[0], [job.fabric[0].width], spread=None, effort=EFFORT)
    curve.lay(lay)
    (cell,) = curve.cells
    assert (cell.spread, cell.purchase.buy) == (fabric.spread, fabric.purchase.buy)
    assert cell.length == pytest.approx(fabric.result.marker.cloth_length, abs=SAME)


def test_chart_agrees(bought: tuple[Job, FabricPlan]) -> None:
    """The cell of the job's own size on the cloth's own width."""
    job, fabric = bought
    nap, sizes = "with" if job.fabric[0].nap else "without", [Size("own", job, True)]
    chart = plan_chart(job, job.fabric[0], sizes, [job.fabric[0].width], nap=nap, spread=None, effort=EFFORT)  # type: ignore[arg-type]
    chart.lay(lay)
    cell = chart.cell(chart.columns[0], bool(job.fabric[0].nap), 0)
    assert not isinstance(cell, str)
    assert (cell.spread, cell.length) == (fabric.spread, pytest.approx(fabric.result.marker.cloth_length, abs=SAME))


@pytest.mark.parametrize("garment", ["joggers", "t-shirt"])  # one lies folded, one open; there is little to change
def test_saves_agree(garment: str) -> None:
    """The job as it is; what is found under a change may make it shorter, and never longer."""
    text = starting_job(GARMENTS[garment])
    job = parse_job(f"{text[: text.index('[[fabric]]')]}[[fabric]]\n{CLOTHS['best, with a gap']}\n")
    ((_, fabric),) = plan_job(job, EFFORT, rib=False).markers
    sold = replace(EFFORT, sold=job.fabric[0])
    now = savings(job, 1, lambda problems: lay(problems, sold)).rows[0]
    assert now.marker and now.purchase
    assert now.marker.cloth_length <= fabric.result.marker.cloth_length + SAME
    assert now.purchase.buy <= fabric.purchase.buy


@pytest.mark.parametrize("bought", [name for name in CLOTHS if name != "folded and then opened"], indirect=True)
def test_a_remnant_as_long_as_the_marker_holds_it(bought: tuple[Job, FabricPlan]) -> None:
    """Laid as it was bought, and without a gap laid open as well. No remnant is folded and then opened."""
    job, fabric = bought
    assert fabric.spread in get_args(RemnantSpread)
    offer, pieces = job.fabric[0], fabric.asked.sets[0][0]
    remnant = Remnant(
        mm(offer.width), mm(fabric.result.marker.length), (), mm(offer.selvedge), offer.nap, mm(offer.gap)
    )
    for spread in {fabric.spread, fabric.spread if offer.gap or fabric.spread == "double-folded" else "open"}:
        aims = replace(EFFORT, sold=offer).aims
        fitting = fit_pieces(pieces, remnant, [spread], EFFORT.criteria, aims=aims)  # type: ignore[list-item]
        assert fitting.answer == "yes", spread


def test_lay_agrees(run: Callable[..., Ran], job_file: Callable[[str], Path]) -> None:
    """Both commands print the same marker."""
    job = job_file(with_fabrics(CLOTHS["best"]))
    answers = [json.loads(run(command, job, "--effort", 0.01, "--json").out) for command in ("buy", "lay")]
    (buy,), (laid,) = (answer["fabrics"] for answer in answers)
    assert {**buy, "seconds": 0} == {**laid, "seconds": 0}
