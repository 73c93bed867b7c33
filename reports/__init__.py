"""What to buy, what it costs, and drawings to cut from.

These ten names are for daily use; every other public name is imported from its module. They are imported when they are
asked for: the command answers signals before it loads anything else.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.face import shown as _shown

if TYPE_CHECKING:
    from reports.ask.job import Job, parse_job, read_job
    from reports.errors import ReportError
    from reports.plan.answers import FabricPlan, Refusal
    from reports.plan.best import best_of
    from reports.plan.effort import Effort
    from reports.plan.plan import Plan, plan_job

__all__ = [
    "Effort",
    "FabricPlan",
    "Job",
    "Plan",
    "Refusal",
    "ReportError",
    "best_of",
    "parse_job",
    "plan_job",
    "read_job",
]

__getattr__, __dir__ = _shown(
    __name__,
    {
        "Effort": "plan.effort",
        "FabricPlan": "plan.answers",
        "Job": "ask.job",
        "Plan": "plan.plan",
        "Refusal": "plan.answers",
        "ReportError": "errors",
        "best_of": "plan.best",
        "parse_job": "ask.job",
        "plan_job": "plan.plan",
        "read_job": "ask.job",
    },
)
