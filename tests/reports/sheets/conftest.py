"""Reports of the smallest answers that hold everything: a run with hostile names, and the model job with its chart."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from reports.ask.job import parse_job
from reports.ask.sizes import graded_sizes
from reports.batch.series import cloth_of
from reports.batch.study import study
from reports.buy.report import plan_report
from reports.chart.chart import Chart, plan_chart
from reports.plan.effort import Effort
from reports.plan.plan import Plan, plan_job
from reports.run.report import run_report
from tests.make import hostile
from tests.make.model import RIB, with_fabrics

if TYPE_CHECKING:
    from reports.run.plan import RunPlan
    from reports.sheets.report import Report

FABRICS = (
    f'name = \'{hostile.SCRIPT}\'\nwidth = "60 in"\nspread = "open"\nprice = "$14.00 / yd"',
    'name = "tape"\nwidth = "10 in"',
    'name = "lining"\nwidth = "56 in"\nmaterial = "lining"\npieces = ["back"]\nspread = "open"\nprice = "$6.00 / yd"',
)


@pytest.fixture(scope="session")
def run_told(the_run: RunPlan) -> Report:
    """Its report."""
    return run_report(the_run)


@pytest.fixture(scope="session")
def plan() -> Plan:
    """The model job on a cloth, a lining, and a tape that will not do."""
    job = parse_job(with_fabrics(*FABRICS, rib=RIB.replace("18.00 /", "$18.00 /")), "job.toml")
    return plan_job(job, Effort(0))


@pytest.fixture(scope="session")
def chart(plan: Plan) -> Chart:
    """The chart of two sizes on two widths."""
    sizes = graded_sizes(plan.job)[2:4]
    made = plan_chart(
        plan.job, cloth_of(plan.job), sizes, [45 * 25.4, 60 * 25.4], nap="without", spread="open", effort=Effort(0)
    )
    made.lay(lambda problems, effort: study(problems, effort).markers)
    return made


@pytest.fixture(scope="session")
def plan_told(plan: Plan, chart: Chart) -> Report:
    """The report of the job, its chart with it."""
    return plan_report(plan, chart)
