"""What goes with all projects: clients with their measurements, and what a person prefers."""

from typing import Any, Literal

from fastapi import APIRouter
from pydantic import BaseModel, ConfigDict
from starlette.responses import Response

from reports.page.server.replies import MISTAKES, Json, Plain
from reports.page.server.routes_projects import Saved
from reports.page.store.brought import ShownName

router = APIRouter(prefix="/api", tags=["projects"], responses=MISTAKES)


class NewClient(BaseModel):
    """A client to keep: the measurements as the page writes them, such as ``{"bust": "37 in"}``."""

    model_config = ConfigDict(extra="forbid", strict=True)

    name: ShownName
    body: Plain


class StoredClient(BaseModel):
    """A client."""

    id: str
    name: str
    body: dict[str, Any]


class Settings(BaseModel):
    """What a person prefers; what is left out stays as it is."""

    model_config = ConfigDict(extra="forbid", strict=True)

    units: Literal["in", "cm"] | None = None
    theme: Literal["auto", "light", "dark"] | None = None


@router.get("/clients", response_model=list[StoredClient])
def list_clients(store: Saved) -> Response:
    """All clients, by name."""
    return Json(store.clients())


@router.post("/clients", response_model=list[StoredClient])
def keep_client(client: NewClient, store: Saved) -> Response:
    """Keep a client's measurements, in place of those kept under the same name; all clients."""
    store.keep_client(client.name, client.body)
    return Json(store.clients())


@router.delete("/clients/{client}", response_model=list[StoredClient])
def drop_client(client: str, store: Saved) -> Response:
    """Forget a client; nothing happens if it is forgotten already; all clients."""
    store.drop_client(client)
    return Json(store.clients())


@router.get("/settings", response_model=Settings)
def read_settings(store: Saved) -> Response:
    """What a person prefers; null for what was never chosen."""
    return Json(Settings.model_validate(store.settings()).model_dump())


@router.put("/settings", response_model=Settings)
def keep_settings(settings: Settings, store: Saved) -> Response:
    """Keep what a person prefers."""
    store.keep_settings(settings.model_dump(exclude_none=True))
    return read_settings(store)
