"""All questions: commands, page and schemas loop over this table. Each is a folder of its own and a row here."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from reports.asking.question import PageQuestion
from reports.boxes.question import BoxesFirst
from reports.buy.question import Buy
from reports.chart.question import YardageChart
from reports.fit.question import Fits
from reports.guide.question import HowToCut
from reports.left.question import WhatIsLeft
from reports.run.question import Run
from reports.save.question import Saves
from reports.which.question import Which
from reports.widths.question import Widths

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from reports.ask.order.order import Order
    from reports.asking.question import Question
    from reports.plan.cut_cloth import CutCloth


def _read_lays(order: Order, paths: Sequence[Path]) -> Sequence[CutCloth]:
    from reports.run.lay_file import read_lays

    return read_lays(order, paths)


QUESTIONS: list[Question[Any, Any]] = [
    Buy(),
    Saves(),
    Fits(_read_lays),
    Which(),
    WhatIsLeft(),
    BoxesFirst(),
    HowToCut(_read_lays),
    Widths(),
    YardageChart(),
    Run(),
]


def page_questions() -> dict[str, PageQuestion[Any, Any]]:
    """Those that the page asks, by name."""
    return {question.name: question for question in QUESTIONS if isinstance(question, PageQuestion)}
