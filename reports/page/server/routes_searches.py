"""Searches: asked for, watched while they run, stopped, forgotten."""

import asyncio
import json
from collections.abc import AsyncIterator
from typing import Annotated, Any, Literal

from fastapi import APIRouter, Depends, Header, Request
from pydantic import AfterValidator, BaseModel, ConfigDict, Field, model_validator
from starlette.responses import Response, StreamingResponse

from reports.page.search import Event, Search, State
from reports.page.searches.queue import Searches
from reports.page.server.guard import CLIENT, cookie_of
from reports.page.server.replies import MISTAKES, Json, Plain
from reports.questions import page_questions

LOOK_EVERY = 0.1
"""Seconds between two looks at whether something has happened."""

SIGN_OF_LIFE = 15.0
"""Seconds of silence after which an open stream is sent a line without meaning, lest something between cuts it off."""

router = APIRouter(prefix="/api/searches", tags=["searches"], responses=MISTAKES)


def searches_of(request: Request) -> Searches:
    """The searches of the server that was asked."""
    searches: Searches = request.app.state.searches
    return searches


def client_of(request: Request) -> str:
    """Who asks: the browser that was let in, by its cookie; else the machine."""
    host = request.client.host if request.client else ""
    return cookie_of(request.headers, request.app.state.cookie + CLIENT) or host


Known = Annotated[Searches, Depends(searches_of)]


class _Named:
    """The name of a question; which there are, the table of questions says."""

    @classmethod
    def __get_pydantic_json_schema__(cls, schema: Any, handler: Any) -> dict[str, Any]:
        return {"type": "string", "enum": list(page_questions())}


def _known(kind: str) -> str:
    known = page_questions()
    if kind not in known:
        raise ValueError(f"{kind!r} is not a question: choose {', '.join(known)}")
    return kind


SearchKind = Annotated[str, AfterValidator(_known), _Named]


class SearchAsked(BaseModel):
    """A search to be made: of a job, or of an order for a run."""

    model_config = ConfigDict(extra="forbid", strict=True)

    kind: SearchKind
    job: Plain | None = None
    order: Plain | str | None = None
    effort: Literal["first", "quick", "good", "long"] = "good"
    options: Plain = {}
    better_than: str | None = Field(None, description="A search for what to buy that has ended, to go on from.")

    @model_validator(mode="after")
    def _says_of_what(self) -> "SearchAsked":
        question = page_questions()[self.kind]
        if self.better_than is not None and not question.goes_on:
            raise ValueError("better_than is for what to buy alone: leave it out")
        needed = question.subject.name
        if getattr(self, needed) is None:
            raise ValueError(f"{self.kind} needs {needed}: send the {needed} with it")
        return self


class Now(BaseModel):
    """The job or the order as it is now."""

    model_config = ConfigDict(extra="forbid", strict=True)

    job: Plain | None = None
    order: Plain | str | None = None


class Changed(BaseModel):
    """A field that is no longer what it was when a search was asked for, as the trade says it."""

    field: str
    name: str
    was: str
    now: str


class Waiting(BaseModel):
    """The id to ask for a search by."""

    id: str


class Seen(BaseModel):
    """How far a search is."""

    id: str
    kind: SearchKind
    state: State
    seconds: float
    progress: dict[str, Any]
    result: dict[str, Any] | None
    error: str | None


@router.post("", status_code=202, response_model=Waiting)
def ask(asked: SearchAsked, searches: Known, request: Request) -> Response:
    """Let a search wait for its turn; 429 if too many wait."""
    found = searches.submit(asked.kind, asked.model_dump(exclude={"kind"}), client_of(request))
    return Json({"id": found.id}, 202)


@router.get("/{search}", response_model=Seen)
def look(search: str, searches: Known) -> Response:
    """How far a search is, and its result."""
    found = searches.find(search)
    if not found.has_ended or found.result is None:
        return Json(found.plain())
    return Json(found.plain() | {"result": as_shown_now(found.kind, found.payload, found.result)})


@router.post("/{search}/changes", response_model=list[Changed])
def changed_since(search: str, now: Now, searches: Known) -> Response:
    """What of a search's job or order has changed since it was asked for; nothing if its answer still holds."""
    from reports.page.answers.changes import changes

    return Json([change._asdict() for change in changes(searches.find(search).payload, now.model_dump())])


@router.get("/{search}/events", response_class=StreamingResponse)
def watch(
    search: str, searches: Known, last_event_id: Annotated[str | None, Header(max_length=20)] = None
) -> StreamingResponse:
    """What happens in a search, as it happens (server-sent events); `done` is the last."""
    last = int(last_event_id) if last_event_id and last_event_id.isascii() and last_event_id.isdigit() else 0
    return StreamingResponse(_frames(searches.find(search), last, searches), media_type="text/event-stream")


@router.post("/{search}/stop", response_model=Seen)
def stop(search: str, searches: Known) -> Response:
    """Stop a search; its best so far becomes its result in a moment."""
    return Json(searches.stop(search).plain())


@router.delete("/{search}", status_code=204, response_class=Response)
def forget(search: str, searches: Known) -> Response:
    """Stop a search and keep nothing of it."""
    searches.forget(search)
    return Response(status_code=204)


def as_shown_now(kind: str, payload: dict[str, Any], result: dict[str, Any]) -> dict[str, Any]:
    """The result of a search as the page shows it now; one kept by an earlier version may be made again."""

    def posed() -> Any:
        from reports.page.searches.work import task_of

        return task_of(kind, payload).posed

    return page_questions()[kind].as_now(posed, result)


async def _frames(search: Search, last: int, searches: Searches) -> AsyncIterator[str]:
    """Frames of the events after the last one seen, until the end of the search or of the server."""
    if last > search.last_number or search.has_ended:
        last = min(last, search.last_number - 1) if last <= search.last_number else 0
    silent = 0.0
    yield "retry: 1000\n\n"
    while not searches.is_closing:
        for event in search.events_after(last):
            last, silent = event.number, 0.0
            yield _frame(event)
            if event.name == "done":
                return
        await asyncio.sleep(LOOK_EVERY)
        silent += LOOK_EVERY
        if silent > SIGN_OF_LIFE:
            silent = 0.0
            yield ": still here\n\n"


def _frame(event: Event) -> str:
    data = json.dumps(event.data, allow_nan=False, separators=(",", ":"))
    return f"id: {event.number}\nevent: {event.name}\ndata: {data}\n\n"
