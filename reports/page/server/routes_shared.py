"""What goes with all projects: clients with their measurements, and what a person prefers."""

from datetime import date
from typing import Annotated, Any, Literal

from fastapi import APIRouter
from pydantic import AfterValidator, BaseModel, ConfigDict, Field
from starlette.responses import Response

from reports.page.server.replies import MISTAKES, Json, Plain
from reports.page.server.routes_projects import Saved
from reports.page.store.brought import Note, ShownName

router = APIRouter(prefix="/api", tags=["projects"], responses=MISTAKES)


def _a_day(day: str) -> str:
    """Refuse a day that no calendar has, and one that is still to come: nobody was measured then."""
    if date.fromisoformat(day) > date.today():
        raise ValueError(f"{day} is in the future: write the day of the measuring")
    return day


MeasuredDay = Annotated[
    str, Field(pattern=r"^\d{4}-\d\d-\d\d$", json_schema_extra={"format": "date"}), AfterValidator(_a_day)
]


class NewClient(BaseModel):
    """A client to keep: the measurements as the page writes them, such as ``{"bust": "37 in"}``."""

    model_config = ConfigDict(extra="forbid", strict=True)

    name: ShownName
    body: Plain
    day: MeasuredDay | None = Field(None, description="When she was measured, by default today.")
    note: Note = ""


class ClientName(BaseModel):
    """Another name of a client."""

    model_config = ConfigDict(extra="forbid", strict=True)

    name: ShownName


class MeasuredSet(BaseModel):
    """Measurements of a client on a day, try-on corrections among them."""

    id: str
    day: str
    note: str
    body: dict[str, Any]


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
    """Keep a client's measurements as a dated set, beside those of other days; all clients."""
    store.keep_client(client.name, client.body, day=client.day or "", note=client.note)
    return Json(store.clients())


@router.get("/clients/{client}/measured", response_model=list[MeasuredSet])
def list_measured(client: str, store: Saved) -> Response:
    """All sets of measurements of a client, the latest first."""
    return Json(store.measured(client))


@router.put("/clients/{client}", response_model=list[StoredClient])
def rename_client(client: str, named: ClientName, store: Saved) -> Response:
    """Give a client another name; 409 if another client has it; all clients."""
    store.rename_client(client, named.name)
    return Json(store.clients())


@router.delete("/clients/{client}", response_model=list[StoredClient])
def drop_client(client: str, store: Saved) -> Response:
    """Forget a client with her measurements and photos; nothing happens if she is forgotten already; all clients."""
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
