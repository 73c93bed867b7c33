"""The question how to make a small production run."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, ClassVar, NamedTuple

import typer

from reports.asking.download import Download
from reports.asking.question import PageQuestion
from reports.asking.subject import ORDER
from reports.ledger.asked import AskLedger, LedgerFolder, folder_asked
from reports.run.lay_downloads import lay_downloads, write_lay

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from rich.table import Table

    from reports.ask.order.order import Order
    from reports.asking.laying import LaysMarkers
    from reports.asking.question import Ended
    from reports.run.plan import RunPlan
    from reports.schema.written_answer import WrittenAnswer

REPORTS = ("report.html", "report.xlsx")
WITH_THE_LEDGER = {"on_hand", "buy"}
"""What in an answer follows from what is on hand."""

LEFT_OUT = 2
"""Exit code where clients are left out of an order that is strict."""


class RunOptions(NamedTuple):
    """What else is asked of a run."""

    strict: Annotated[
        bool, typer.Option("--strict", help="End with exit code 2 if a client is left out; the others are planned.")
    ] = False
    on_hand: AskLedger = False
    folder: LedgerFolder = None


class Run(PageQuestion["Order", "RunPlan"]):
    """Plan a run: which lays, how many plies, what to buy, what a garment costs, and what to charge."""

    name = "run"
    Options = RunOptions
    command_only = ("folder",)
    example = "ellwand run forty.toml --out forty"
    subject = ORDER
    titles: ClassVar[dict[str, str]] = {
        "cost": "Cost",
        "lays": "Lay plan",
        "packet": "Cutting packet",
        "quote": "Quote",
        "report": "The whole answer",
        "rolls-left": "Rolls left",
        "run": "The run",
        "unit-cost": "Cost of one garment by quantity",
    }

    def read(self, subject: Order, options: Any) -> Order:
        """Take the order as it is, strict or not, with the ledger to ask."""
        ledger = folder_asked(options.on_hand, options.folder)
        return subject.model_copy(update={"strict": bool(options.strict), "ledger": ledger})

    def lay(self, posed: Order, laying: LaysMarkers) -> RunPlan:
        """Lay the markers of the mixes, and plan the lays."""
        from reports.ledger.journal import Journal
        from reports.run.on_hand import run_on_hand
        from reports.run.plan import plan_run

        with laying.listening() as stop:
            plan = plan_run(posed, laying.many, seed=laying.effort.seed, kept=laying.plans, stop=stop)
        return run_on_hand(plan, Journal(posed.ledger)) if posed.ledger else plan

    def plain(self, found: RunPlan) -> dict[str, Any]:
        """The run."""
        from reports.run.plain import run_to_plain

        return run_to_plain(found)

    def words(self, found: RunPlan) -> Iterator[Table | str]:
        """Lays, what to buy, cost and quote."""
        from reports.run.words import run_parts

        return run_parts(found)

    def files(self, posed: Order) -> list[str]:
        """All but the cut tickets, the lays and the quotes for clients, whose number is not known yet."""
        from reports.run.files import fixed_files

        return [path.name for path in fixed_files(Path(), posed)]

    def leftovers(self, folder: Path) -> list[Path]:
        """Cut tickets, lays and quotes for clients of an earlier plan."""
        from reports.run.files import left_over

        return left_over(folder)

    def code(self, found: RunPlan) -> int:
        """2 where a client is left out, if that was asked for."""
        return LEFT_OUT if found.order.strict and found.garments.left_out else 0

    def why(self, found: RunPlan) -> str:
        """How many clients are left out."""
        number = len(found.garments.left_out)
        return f"{number} {'client is' if number == 1 else 'clients are'} left out, and --strict was given"

    def is_settled(self, found: RunPlan) -> bool:
        """Whether it was planned to the end."""
        return not found.cut_short

    def write(self, found: RunPlan, folder: Path) -> list[Path]:
        """Write all files."""
        from reports.printed import WIDEST, printed
        from reports.run.files import write_run

        return write_run(found, printed(*self.words(found), wide=WIDEST), folder)

    def schema(self) -> WrittenAnswer:
        """A production run."""
        from reports.run.schema import RunAnswer
        from reports.schema.written_answer import WrittenAnswer

        return WrittenAnswer("a production run, from lays to quote", RunAnswer, 6)

    def shown(self, found: RunPlan) -> dict[str, Any]:
        """The run, and all that its command prints, tables too."""
        from reports.printed import WIDEST, printed
        from reports.run.words import there_lines

        return {
            **super().shown(found),
            "said": there_lines(found),
            "text": printed(*self.words(found), wide=WIDEST),
        }

    def again(self, posed: Order, result: Mapping[str, Any], laying: LaysMarkers) -> RunPlan | None:
        """The run made again, with its lays by hand; StateError if it is the same but for what is on hand by now."""
        from reports.errors import StateError
        from reports.run.by_hand import with_hand

        found = self.lay(posed, laying)
        shown = json.loads(json.dumps(self.plain(found)))  # its words may say that a day is past by now
        others = {key for key in shown if shown[key] != result.get(key)}
        if others and posed.ledger and others <= WITH_THE_LEDGER:
            raise StateError("what is on hand has changed since this answer: plan the run again")
        return None if others else with_hand(found, result.get("by_hand", {}))

    def downloads(self, ended: Ended) -> Iterator[Download]:
        """Its files, a ticket for each lay, a quote for each client, and the report."""
        from reports.draw.kit.files import PICTURES

        yield from super().downloads(ended)
        for ticket in ended.result["tickets"]:
            for form in PICTURES:
                yield Download(f"ticket-{ticket['number']}.{form}", f"Cut ticket {ticket['number']}", self.name)
            yield Download(f"lay-{ticket['number']}.json", f"Marker of lay {ticket['number']}", self.name)
            yield from lay_downloads(ticket["number"], is_by_hand=False)
            if str(ticket["number"]) in ended.result.get("by_hand", {}):
                yield from lay_downloads(ticket["number"], is_by_hand=True)
        for quote in ended.result.get("quotes", ()):
            for form in PICTURES if quote["client"] else ():
                yield Download(f"{quote['file']}.{form}", f"Quote for {quote['client']}", self.name)
        for name in REPORTS:
            yield Download(name, self.titles["report"], self.name)

    def write_group(self, found: RunPlan, group: str, folder: Path) -> None:
        """Write all files and the report, or those of one lay alone."""
        if group != self.name:
            write_lay(found, group, folder)
            return
        from reports.run.report import run_report
        from reports.sheets.files import write_report

        self.write(found, folder)
        for name in REPORTS:
            write_report(run_report(found), folder / name)

    def text(self, ended: Ended, name: str) -> str | None:
        """Its text has its tables, too; the files of a lay are made."""
        if name.startswith("lay-"):
            return None
        return str(ended.result["text"]) if name.endswith(".txt") else super().text(ended, name)
