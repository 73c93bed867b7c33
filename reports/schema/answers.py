"""Every command's answer: its model, its version, and the JSON Schema made from it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

from pydantic import TypeAdapter
from pydantic.json_schema import GenerateJsonSchema

from reports.schema.body import MeasuresAnswer, SizesAnswer
from reports.schema.buy import BuyAnswer
from reports.schema.chart import ChartAnswer
from reports.schema.check import CheckAnswer
from reports.schema.draft import DraftAnswer
from reports.schema.fits import FitsAnswer
from reports.schema.guide import GuideAnswer
from reports.schema.importing import ImportAnswer
from reports.schema.lay import LayAnswer, MarkerAnswer
from reports.schema.report import ReportAnswer
from reports.schema.run import RunAnswer
from reports.schema.saves import SavesAnswer
from reports.schema.widths import WidthsAnswer
from reports.schema.written import ExportAnswer, NewAnswer, PrintAnswer


@dataclass(frozen=True)
class WrittenAnswer:
    """What a command prints, or a file holds.

    Parameters
    ----------
    what
        What it is, in words.
    model
        Its type.
    version
        Raised when a key goes or changes its meaning; of an answer with a key ``schema`` the same number.
    """

    what: str
    model: Any
    version: int = 1

    @cached_property
    def adapter(self) -> TypeAdapter[Any]:
        """What checks an answer against the model."""
        return TypeAdapter(self.model)

    def json_schema(self, name: str) -> dict[str, Any]:
        """The JSON Schema of the answer of that name."""
        made = self.adapter.json_schema()
        head = {"$schema": GenerateJsonSchema.schema_dialect, "$id": f"urn:ellwand:{name}:{self.version}"}
        return head | made | {"title": f"ellwand {name}", "version": self.version}


ANSWERS = {
    "new": WrittenAnswer("the file that 'new' wrote", NewAnswer),
    "demo": WrittenAnswer("what to buy for the sample job", BuyAnswer, 2),
    "draft": WrittenAnswer("the pieces, in mm; also pieces.json", DraftAnswer),
    "lay": WrittenAnswer("the markers of a job, with proof", LayAnswer, 2),
    "buy": WrittenAnswer("what to buy, with proof; also buy.json", BuyAnswer, 2),
    "saves": WrittenAnswer("what would save cloth", SavesAnswer),
    "fits": WrittenAnswer("whether the pieces fit on a remnant", FitsAnswer),
    "guide": WrittenAnswer("how to mark and cut by hand", GuideAnswer),
    "widths": WrittenAnswer("the marker's length by the cloth's width", WidthsAnswer),
    "chart": WrittenAnswer("yardage by size and width", ChartAnswer),
    "sizes": WrittenAnswer("tables of sizes, or a garment in each size", SizesAnswer),
    "measures": WrittenAnswer("how each measurement is taken", MeasuresAnswer),
    "import": WrittenAnswer("the pieces of a pattern file, and its account", ImportAnswer),
    "export": WrittenAnswer("the files that 'export' wrote", ExportAnswer),
    "print": WrittenAnswer("the files that 'print' wrote", PrintAnswer),
    "run": WrittenAnswer("a production run, from lays to quote", RunAnswer),
    "report": WrittenAnswer("the answer of 'buy' or 'run', and the report's files", ReportAnswer),
    "check": WrittenAnswer("what holds of a marker", CheckAnswer),
    "marker": WrittenAnswer("a marker's file, such as marker-1.json", MarkerAnswer),
}
"""By command; `marker` is a file that commands write and `check` reads."""
