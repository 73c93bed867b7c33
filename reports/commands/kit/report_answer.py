"""The answer of `report`: that of `buy`, with a chart where one was asked for, or that of `run`; and the files."""

from __future__ import annotations

from typing import NotRequired

from reports.chart.schema import ChartAnswer
from reports.run.schema import RunAnswer
from reports.schema.buy import BuyAnswer


class JobReportAnswer(BuyAnswer):
    """A job's answer, its chart where one was made, and the files that were written."""

    chart: NotRequired[ChartAnswer]
    files: list[str]


class OrderReportAnswer(RunAnswer):
    """An order's answer, and the files that were written."""

    files: list[str]


ReportAnswer = JobReportAnswer | OrderReportAnswer
