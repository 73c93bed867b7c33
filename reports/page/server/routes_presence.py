"""A page that is open says so by a request that stays open as long."""

import asyncio
from collections.abc import AsyncIterator

from fastapi import APIRouter, Request
from starlette.responses import Response, StreamingResponse

from reports.page.searches.queue import Searches
from reports.page.server.presence import Presence
from reports.page.server.replies import MISTAKES
from reports.page.server.routes_searches import SIGN_OF_LIFE, Known

LOOK_EVERY = 0.5
"""Seconds between two looks at whether the server ends."""

router = APIRouter(prefix="/api", tags=["work"], responses=MISTAKES)


@router.get(
    "/presence", response_class=StreamingResponse, responses={204: {"description": "This server does not ask."}}
)
def be_here(request: Request, searches: Known) -> Response:
    """Say that the page is open, for as long as this is read; 204 from a server that goes on without."""
    presence: Presence | None = request.app.state.presence
    if presence is None:
        return Response(status_code=204)
    return StreamingResponse(_frames(presence, searches), media_type="text/event-stream")


async def _frames(presence: Presence, searches: Searches) -> AsyncIterator[str]:
    """A line without meaning now and then, by which a page that has gone is noticed."""
    with presence.held():
        silent = SIGN_OF_LIFE
        while not searches.is_closing:
            if silent >= SIGN_OF_LIFE:
                silent = 0.0
                yield ": here\n\n"
            await asyncio.sleep(LOOK_EVERY)
            silent += LOOK_EVERY
