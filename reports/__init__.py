"""What to buy, what it costs, and drawings to cut from.

These ten names are for daily use; every other public name is imported from its module. They are imported when they are
asked for: the command answers signals before it loads anything else.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from reports.ask.job import Job, parse_job, read_job
    from reports.errors import ReportError
    from reports.plan.answers import FabricPlan, Refusal
    from reports.plan.best import best_of
    from reports.plan.effort import Effort
    from reports.plan.plan import Plan, plan_job

_MODULES = {
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
}

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


def __getattr__(name: str) -> Any:
    if name not in _MODULES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_MODULES[name]}"), name)


def __dir__() -> list[str]:
    return [*globals(), *__all__]
