"""The question what to buy."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from reports.asking.options import OneSearch
from reports.asking.question import PageQuestion
from reports.ledger.asked import AskLedger, LedgerFolder, folder_asked
from reports.plan.effort import Effort

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping

    from rich.table import Table

    from reports.ask.job import Job
    from reports.asking.download import Download
    from reports.asking.laying import LaysMarkers
    from reports.asking.question import Ended
    from reports.buy.files import FilesFor
    from reports.plan.plan import Plan
    from reports.schema.written_answer import WrittenAnswer

ALL: tuple[FilesFor, ...] = ("pieces", "markers", "rib", "answer")


class BuyOptions(NamedTuple):
    """Whether the ledger is asked for what is on hand."""

    on_hand: AskLedger = False
    folder: LedgerFolder = None


class Buy(PageQuestion["Job", "Plan"]):
    """Say how much cloth and rib to buy, what it costs, and how far the answer is from the best possible."""

    name = "buy"
    example = "ellwand buy jacket.toml --json"
    Options = BuyOptions
    command_only = BuyOptions._fields
    search = OneSearch
    usual = Effort()
    needs_cloth = True
    goes_on = True

    def read(self, subject: Job, options: Any) -> Job:
        """Take the job as it is, with the ledger to ask."""
        return subject.model_copy(update={"ledger": folder_asked(*options)})

    def lay(self, posed: Job, laying: LaysMarkers) -> Plan:
        """Lay the pieces on each cloth, and cut the bands of each rib."""
        from reports.plan.one_by_one import with_alone
        from reports.plan.plan import plan_job

        before = self._before(posed, laying.before)
        with laying.watched(posed.written_in) as effort:
            if before is not None and not effort.seed:
                # From another seed: the same would take the same way again, as far as it leads.
                effort = replace(effort, seed=before.seed + 1)
            plan = with_alone(plan_job(posed, effort, before=before), effort)
            return self._on_hand(plan, effort)

    def _on_hand(self, plan: Plan, effort: Effort) -> Plan:
        """The plan with what is on hand, if that was asked."""
        from reports.buy.on_hand import with_on_hand
        from reports.ledger.journal import Journal

        return with_on_hand(plan, Journal(plan.job.ledger), effort) if plan.job.ledger else plan

    def _before(self, posed: Job, result: Mapping[str, Any] | None) -> Plan | None:
        """The answer to go on from; None if there is none, or this version can not make it again."""
        from reports.buy.kept import kept_of
        from reports.errors import StateError

        if result is None:
            return None
        try:
            return kept_of(posed).plan(result)
        except StateError:
            return None

    def plain(self, found: Plan) -> dict[str, Any]:
        """The plan."""
        from reports.plan.plain import plan_to_plain

        return plan_to_plain(found)

    def words(self, found: Plan) -> Iterator[Table | str]:
        """Cloth, rib, remarks, the answer, and the shopping list."""
        from reports.plan.shopping import shopping_left_out
        from reports.plan.words import (
            additions_table,
            answer_lines,
            cost_words,
            fabric_table,
            rib_table,
            share_table,
            shopping_table,
        )
        from reports.stock.on_hand import on_hand_lines

        yield fabric_table(found)
        yield additions_table(found)
        if found.ribs:
            yield rib_table(found)
        yield from (f"note: {remark}" for remark in found.remarks)
        yield ""
        yield from answer_lines(found)
        yield from on_hand_lines(found.on_hand or (), found.job.written_in)
        yield ""
        yield shopping_table(found)
        if left_out := shopping_left_out(found):
            yield left_out
        if found.job.together:
            yield ""
            yield share_table(found)
        yield from cost_words(found)

    def files(self, posed: Job) -> list[str]:
        """Pieces, markers, ribs and the answer."""
        from reports.buy.files import planned_files

        return [path.name for path in planned_files(posed, Path(), ALL)]

    def write(self, found: Plan, folder: Path) -> list[Path]:
        """Write all of them."""
        from reports.buy.files import write_plan

        return write_plan(found, folder, ALL)

    def schema(self) -> WrittenAnswer:
        """What to buy, with proof."""
        from reports.schema.buy import BuyAnswer
        from reports.schema.written_answer import WrittenAnswer

        return WrittenAnswer("what to buy, with proof; also buy.json", BuyAnswer, 7)

    def shown(self, found: Plan) -> dict[str, Any]:
        """The plan, its words, and each marker with how its cloth lies."""
        from reports.buy.shown import plan_shown

        return plan_shown(found)

    def as_now(self, posed: Callable[[], Job], result: dict[str, Any]) -> dict[str, Any]:
        """What was shown; of an earlier version, made again."""
        from reports.buy.kept import kept_of
        from reports.plan.plain import PLAN_SCHEMA

        plan = result.get("plan")
        if not isinstance(plan, dict) or plan.get("schema") == PLAN_SCHEMA:
            return result
        return self.shown(kept_of(posed()).plan(result))

    def again(self, posed: Job, result: Mapping[str, Any], laying: LaysMarkers) -> Plan:
        """The plan made again from what was shown: each marker is checked."""
        from reports.buy.kept import kept_of

        return kept_of(posed).plan(result)

    def downloads(self, ended: Ended) -> Iterator[Download]:
        """The files of a plan, in several forms."""
        from reports.buy.downloads import plan_downloads

        return plan_downloads(ended.posed, ended.result)

    def write_group(self, found: Plan, group: str, folder: Path) -> None:
        """Write some of them."""
        from reports.buy.downloads import write_group

        write_group(found, group, folder)

    def text(self, ended: Ended, name: str) -> None:
        """None: all are made."""
