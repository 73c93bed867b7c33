"""Orders for tests: the template with some places changed, and the cheapest way to lay markers."""

from __future__ import annotations

import re
from importlib.resources import files
from typing import TYPE_CHECKING

from nesting.search.solver import solve
from nesting.search.stop import MaxWork
from reports.ask.order.order import parse_order
from reports.run.plan import plan_run

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from nesting.marker.marker import Marker
    from nesting.problem.problem import Problem
    from reports.ask.order.order import Order
    from reports.run.plan import RunPlan

TEMPLATE = (files("reports") / "templates" / "order.toml").read_text(encoding="utf-8")
SMALL = (
    (r"^rust = .*$", "rust = { S = 3, L = 2 }"),
    (r"^navy = .*$", "navy = { S = 1, L = 2 }"),
    (r'^opened = "36 in"', 'opened = "52 in"'),  # rib so wide that no band is joined
)


def changed(*changes: tuple[str, str], text: str = TEMPLATE) -> str:
    """The template with some lines changed, each of which must be there."""
    for pattern, new in changes:
        text, times = re.subn(pattern, new.replace("\\", r"\\"), text, count=1, flags=re.MULTILINE)
        assert times == 1, pattern
    return text


def ordered(*changes: tuple[str, str], folder: Path | None = None) -> Order:
    """A small order, eight jackets in two sizes, with more changes."""
    text = changed(*SMALL, *changes)
    return parse_order(text, "order.toml", folder) if folder else parse_order(text, "order.toml")


def lay(problems: Sequence[Problem]) -> list[Marker]:
    """First layouts alone: good enough to plan with."""
    return [solve(problem, MaxWork(0)).marker for problem in problems]


def planned(*changes: tuple[str, str], folder: Path | None = None) -> RunPlan:
    """The plan of a small order."""
    return plan_run(ordered(*changes, folder=folder), lay, effort=1.0)
