"""Every command's answer: the questions' own, and those of the other commands."""

from __future__ import annotations

from reports.commands.kit.report_answer import ReportAnswer
from reports.convert.schema import ConvertAnswer
from reports.ledger.schema import LedgerAnswer
from reports.questions import QUESTIONS
from reports.schema.body import MeasuresAnswer, SizesAnswer
from reports.schema.buy import BuyAnswer
from reports.schema.check import CheckAnswer
from reports.schema.draft import DraftAnswer
from reports.schema.garments import GarmentsAnswer
from reports.schema.importing import ImportAnswer, TraceAnswer
from reports.schema.lay import LayAnswer, MarkerAnswer
from reports.schema.written import ExportAnswer, NewAnswer, PrintAnswer
from reports.schema.written_answer import WrittenAnswer
from reports.sew.schema import SewingAnswer


def all_answers() -> dict[str, WrittenAnswer]:
    """By command; `marker` is a file that commands write and `check` reads."""
    return {
        "new": WrittenAnswer("the file that 'new' wrote", NewAnswer, 2),
        "demo": WrittenAnswer("what to buy for the sample job", BuyAnswer, 7),
        "draft": WrittenAnswer("the pieces, in mm; also pieces.json", DraftAnswer, 2),
        "sew": WrittenAnswer("the order of sewing", SewingAnswer, 2),
        "lay": WrittenAnswer("the markers of a job, with proof", LayAnswer, 7),
        **{question.name: question.schema() for question in QUESTIONS},
        "convert": WrittenAnswer("how much cloth at another width", ConvertAnswer),
        "garments": WrittenAnswer("the garments there are, or one of them", GarmentsAnswer),
        "sizes": WrittenAnswer("tables of sizes, or a garment in each size", SizesAnswer, 3),
        "measures": WrittenAnswer("how each measurement is taken", MeasuresAnswer, 3),
        "import": WrittenAnswer("the pieces of a pattern file, and its account", ImportAnswer, 4),
        "trace": WrittenAnswer("the pieces in photos, and the account of them", TraceAnswer, 3),
        "export": WrittenAnswer("the files that 'export' wrote", ExportAnswer, 2),
        "print": WrittenAnswer("the files that 'print' wrote", PrintAnswer, 3),
        "report": WrittenAnswer("the answer of 'buy' or 'run', and the report's files", ReportAnswer, 2),
        "ledger": WrittenAnswer("what is on hand, orders, rates, and entries", LedgerAnswer),
        "check": WrittenAnswer("what holds of a marker", CheckAnswer, 2),
        "marker": WrittenAnswer("a marker's file, such as marker-1.json", MarkerAnswer),
    }
