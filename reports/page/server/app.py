"""The server of the page, put together."""

from __future__ import annotations

from contextlib import asynccontextmanager
from importlib.metadata import version
from importlib.resources import files
from typing import TYPE_CHECKING

from fastapi import FastAPI
from fastapi.routing import APIRoute
from starlette.staticfiles import StaticFiles

from reports.page.searches.queue import Searches
from reports.page.searches.worker import default_check, default_task
from reports.page.server import (
    door,
    routes_help,
    routes_ledger,
    routes_notebook,
    routes_patterns,
    routes_presence,
    routes_projects,
    routes_searches,
    routes_shared,
    routes_work,
)
from reports.page.server.daily import Daily
from reports.page.server.guard import Guard
from reports.page.server.replies import Json, add_handlers
from reports.page.store.copies import Copies

if TYPE_CHECKING:
    from collections.abc import AsyncIterator, Iterable

    from starlette.types import Receive, Scope, Send

    from reports.page.searches.worker import Check, SearchTask
    from reports.page.server.presence import Presence
    from reports.page.server.session import Session
    from reports.page.store.store import Store

ROUTERS = (
    door.router,
    routes_help.router,
    routes_projects.router,
    routes_shared.router,
    routes_searches.router,
    routes_work.router,
    routes_patterns.router,
    routes_ledger.router,
    routes_presence.router,
    routes_notebook.router,
)


def create_app(
    store: Store,
    session: Session,
    *,
    port: int,
    names: Iterable[str] = (),
    any_address: bool = False,
    task: SearchTask = default_task,
    check: Check = default_check,
    workers: int | None = None,
    presence: Presence | None = None,
) -> FastAPI:
    """The app, which closes the store when it ends.

    Parameters
    ----------
    store, session
        Saved work, and who may use it.
    port
        Where it is served.
    names, any_address
        Names of this machine beside ``localhost`` under which it is reached, and whether by any numeric address.
    task, check, workers
        What the searches do, what looks at them first, and in how many processes they run.
    presence
        Who has the page open, for a server that ends with it.
    """

    @asynccontextmanager
    async def lifespan(app: FastAPI) -> AsyncIterator[None]:
        app.state.searches = Searches(store, task, check, workers=workers)
        daily = Daily(app.state.copies)
        yield
        app.state.searches.close()
        daily.close()
        store.close()

    app = FastAPI(
        title="Ellwand",
        version=version("ellwand"),
        summary="Drafts garments, lays them on cloth, says how much to buy. All lengths in mm.",
        openapi_url="/api/openapi.json",
        docs_url=None,  # they load scripts from elsewhere
        redoc_url=None,
        lifespan=lifespan,
    )
    app.state.store, app.state.session, app.state.cookie = store, session, f"ellwand-{port}"
    app.state.presence = presence
    app.state.copies = Copies(store) if store else None  # none where only the description is asked for
    hosts = {f"{name.lower()}:{port}" for name in ("127.0.0.1", "localhost", "[::1]", *names)}
    hosts |= {host.removesuffix(":80") for host in hosts if port == 80}
    app.add_middleware(Guard, session=session, hosts=frozenset(hosts), any_address=any_address, cookie=app.state.cookie)
    add_handlers(app)
    for router in ROUTERS:
        app.include_router(router)
    app.mount("/api", _unknown)
    app.mount("/", StaticFiles(directory=str(files("reports.page") / "static")), name="static")
    return app


async def _unknown(scope: Scope, receive: Receive, send: Send) -> None:
    """Say of what no route answers whether it is the path or the method (RFC 9110, 405)."""
    routes = [route for router in ROUTERS for route in router.routes if isinstance(route, APIRoute)]
    allowed = {method for route in routes if route.path_regex.match(scope["path"]) for method in route.methods or ()}
    answer = Json({"error": "there is nothing here"}, 404)
    if allowed:
        said = {"error": f"{scope['method'][:20]} is not answered here"}
        answer = Json(said, 405, headers={"Allow": ", ".join(sorted(allowed))})
    await answer(scope, receive, send)
