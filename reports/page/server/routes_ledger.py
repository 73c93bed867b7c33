"""The ledger on the page: what is on hand, orders and rates; entries are made here, and never changed."""

from datetime import date
from typing import Annotated, Literal

from fastapi import APIRouter, Depends, Request
from pydantic import BaseModel, ConfigDict, Field
from starlette.responses import Response

from pieces.units import Units
from reports.errors import MissingError, StateError
from reports.ledger.entry import LedgerKind
from reports.ledger.journal import Journal
from reports.ledger.plain import ledger_to_plain
from reports.ledger.record import record
from reports.ledger.schema import LedgerAnswer
from reports.ledger.sheets.files import WORKBOOK, ledger_file, ledger_files
from reports.ledger.sheets.report import ledger_report
from reports.ledger.standing import standing_of
from reports.page.server.replies import MISTAKES, Json, Plain
from reports.page.server.routes_searches import Known
from reports.page.server.routes_work import Uploads
from reports.schema.on_hand import OnHandAnswer

router = APIRouter(prefix="/api", tags=["ledger"], responses=MISTAKES)

XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


def _journal(request: Request) -> Journal:
    return Journal(request.app.state.store.folder)


FoldersJournal = Annotated[Journal, Depends(_journal)]


class NewEntry(BaseModel):
    """An entry: what it tells by the fields of its kind, as ``ellwand ledger`` takes it; the day, by default today."""

    model_config = ConfigDict(extra="forbid")

    kind: LedgerKind
    told: Plain
    day: date | None = None
    corrects: int | None = Field(None, ge=1, lt=2**53)


class RunToEnter(BaseModel):
    """An order of a run that was planned, and what to call it."""

    model_config = ConfigDict(extra="forbid")

    search: str
    name: str = Field(min_length=1, max_length=60)


@router.get("/ledger", response_model=LedgerAnswer)
def show_ledger(journal: FoldersJournal) -> Response:
    """What is on hand, orders, rates and all entries."""
    entries = journal.entries()
    return Json(ledger_to_plain(standing_of(entries), entries))


@router.post("/ledger", response_model=LedgerAnswer)
def enter(entry: NewEntry, journal: FoldersJournal) -> Response:
    """Make an entry; the whole ledger. 422 with the reason if it does not go with what is there."""
    record(journal, entry.kind, entry.told, day=entry.day, corrects=entry.corrects)
    return show_ledger(journal)


@router.post("/ledger/orders", response_model=LedgerAnswer)
def enter_order(run: RunToEnter, journal: FoldersJournal, searches: Known, uploads: Uploads) -> Response:
    """Enter the order of a run with what was planned; the whole ledger."""
    from reports.page.answers.fields import order_of
    from reports.run.ledger_order import order_told

    found = searches.find(run.search)
    if found.kind != "run" or found.result is None:
        raise StateError("this is not a run that was planned: plan it first")
    record(journal, "order", order_told(order_of(found.payload.get("order"), uploads), run.name, found.result))
    return show_ledger(journal)


class Covered(BaseModel):
    """What there is of the cloths and ribs of an answer, in words and as data."""

    words: list[str]
    on_hand: list[OnHandAnswer]


@router.get("/ledger/covers/{search}", response_model=Covered)
def show_covers(search: str, journal: FoldersJournal, searches: Known) -> Response:
    """What on hand covers of what is to buy by an answer; on narrower things first layouts are tried."""
    from pieces.units import speaking
    from reports.buy.on_hand import with_on_hand
    from reports.page.answers.kept import kept_of_payload
    from reports.plan.effort import Effort
    from reports.stock.on_hand import on_hand_lines, on_hand_to_plain

    found = searches.find(search)
    if found.kind != "buy" or found.result is None:
        raise StateError("no answer of what to buy is there yet: wait for it")
    kept = kept_of_payload(found.payload)
    with speaking(kept.job.written_in):
        plan = with_on_hand(kept.plan(found.result), journal, Effort(0, workers=1))
        lines = list(on_hand_lines(plan.on_hand or (), kept.job.written_in))
    return Json({"words": lines, "on_hand": on_hand_to_plain(plan.on_hand or ())})


@router.get("/ledger/files/{name}", response_class=Response)
def send_ledger(name: str, journal: FoldersJournal, units: Literal["in", "cm"] = "in") -> Response:
    """The ledger as a workbook, or one of its tables."""
    if name not in ledger_files():
        raise MissingError(f"there is no such file: choose {', '.join(ledger_files())}")
    report = ledger_report(standing_of(journal.entries()), Units(units))
    headers = {"Content-Disposition": f'attachment; filename="{name}"', "Cache-Control": "no-store"}
    kind = XLSX if name == WORKBOOK else "text/csv; charset=utf-8"
    return Response(ledger_file(report, name), media_type=kind, headers=headers)
