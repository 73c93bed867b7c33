"""The notebook on the page: all that is kept, the shelf, photos, and the daily copies."""

from typing import Annotated, Any, Literal

from fastapi import APIRouter, Body, Depends, Query, Request
from pydantic import BaseModel, ConfigDict, Field
from starlette.responses import Response

from pieces.exchange.decided.legend import legend_of
from reports.page.notebook.thing import ThingKind
from reports.page.server.guard import LARGEST_BACKUP
from reports.page.server.replies import MISTAKES, Json, Plain
from reports.page.server.routes_projects import Restored, Saved
from reports.page.store.brought import Note, ShownName
from reports.page.store.copies import Copies
from reports.page.store.photos import LARGEST_PHOTO, Photos
from reports.page.store.restore import brought_of
from reports.page.store.shelf import Shelf

router = APIRouter(prefix="/api", tags=["notebook"], responses=MISTAKES)


def _copies(request: Request) -> Copies:
    copies: Copies = request.app.state.copies
    return copies


DailyCopies = Annotated[Copies, Depends(_copies)]


class ThingShown(BaseModel):
    """A thing in the notebook; `related` are the kinds and ids of those that it goes with."""

    kind: ThingKind
    id: str
    name: str
    about: str
    changed: str
    related: list[tuple[ThingKind, str]]


class NotebookShown(BaseModel):
    """All things, and what could not be read."""

    things: list[ThingShown]
    faults: list[str]


class NewShelved(BaseModel):
    """Something to put on the shelf: as a job has it, or a garment with its style."""

    model_config = ConfigDict(extra="forbid", strict=True)

    kind: Literal["cloth", "rib", "trim", "style", "legend"]
    name: ShownName
    data: Plain


class ChangedShelved(BaseModel):
    """Something to save over the version that was read."""

    model_config = ConfigDict(extra="forbid", strict=True)

    name: ShownName
    data: Plain
    version: int = Field(ge=1, lt=2**53, strict=False)  # in JSON, 2.0 is a whole number


class Shelved(BaseModel):
    """Something on the shelf."""

    id: str
    kind: Literal["cloth", "rib", "trim", "style", "legend"]
    name: str
    data: dict[str, Any]
    version: int
    changed: str


class PhotoShown(BaseModel):
    """A photo, and whose it is."""

    id: str
    kind: Literal["project", "client"]
    owner: str
    title: str
    bytes: int
    made: str


class ProjectHeld(BaseModel):
    """A project in a copy."""

    id: str
    name: str
    changed: str


class DayShown(BaseModel):
    """A daily copy: how things stood when that day's work began."""

    day: str
    projects: list[ProjectHeld]


class CopiesShown(BaseModel):
    """The daily copies, the newest first; what was `said` when the folder was opened, and why none was made today."""

    days: list[DayShown]
    said: str
    fault: str


class BroughtBack(BaseModel):
    """What came in of a copy, and the id of the project here."""

    project: str
    counts: Restored


@router.get("/notebook", response_model=NotebookShown)
def show_notebook(store: Saved) -> Response:
    """All that is kept, each thing with what it goes with."""
    from reports.page.notebook.notebook import notebook_of

    return Json(notebook_of(store).plain())


@router.get("/shelf", response_model=list[Shelved])
def list_shelf(store: Saved) -> Response:
    """What is on the shelf, by name."""
    return Json(Shelf(store).all())


@router.post("/shelf", status_code=201, response_model=Shelved)
def add_to_shelf(thing: NewShelved, store: Saved) -> Response:
    """Put something on the shelf; 409 if one of its kind has the name already."""
    _check_legend(thing.kind, thing.name, thing.data)
    return Json(Shelf(store).add(thing.kind, thing.name, thing.data), 201)


@router.put("/shelf/{thing}", response_model=Shelved)
def change_on_shelf(thing: str, changed: ChangedShelved, store: Saved) -> Response:
    """Save something over the version it was read at; 409 with what it is now if another was saved meanwhile."""
    _check_legend(Shelf(store).find(thing)["kind"], changed.name, changed.data)
    return Json(Shelf(store).change(thing, changed.version, changed.name, changed.data))


def _check_legend(kind: str, name: str, data: dict[str, Any]) -> None:
    """FormatError if a legend is none: a file that is read must never lose one without a word."""
    if kind == "legend":
        legend_of(data, name)


@router.delete("/shelf/{thing}", status_code=204, response_class=Response)
def take_off_shelf(thing: str, store: Saved) -> Response:
    """Take something off the shelf; nothing happens if it is gone already."""
    Shelf(store).drop(thing)
    return Response(status_code=204)


@router.get("/photos", response_model=list[PhotoShown])
def list_photos(store: Saved) -> Response:
    """All photos, the newest first."""
    return Json(Photos(store).all())


@router.post("/photos", status_code=201, response_model=PhotoShown)
def add_photo(
    store: Saved,
    file: Annotated[bytes, Body(media_type="application/octet-stream", max_length=LARGEST_PHOTO)],
    kind: Annotated[Literal["project", "client"], Query(description="What it belongs to.")],
    owner: Annotated[str, Query(max_length=40)],
    title: Annotated[Note, Query()] = "",
) -> Response:
    """Keep a photo; it is drawn anew as a JPEG, without what a camera writes beside it."""
    return Json(Photos(store).add(kind, owner, title, file), 201)


@router.get("/photos/{photo}", response_class=Response, responses={200: {"content": {"image/jpeg": {}}}})
def send_photo(photo: str, store: Saved) -> Response:
    """A photo."""
    return Response(Photos(store).read(photo), media_type="image/jpeg")


@router.delete("/photos/{photo}", status_code=204, response_class=Response)
def drop_photo(photo: str, store: Saved) -> Response:
    """Delete a photo; nothing happens if it is gone already."""
    Photos(store).drop(photo)
    return Response(status_code=204)


@router.get("/copies", response_model=CopiesShown)
def list_copies(copies: DailyCopies, store: Saved) -> Response:
    """The daily copies with their projects."""
    days = [{"day": one.day.isoformat(), "projects": one.projects()} for one in copies.listed()]
    return Json({"days": days, "said": store.said, "fault": copies.fault})


@router.post("/copies/{day}/projects/{project}", response_model=BroughtBack)
def bring_back(day: str, project: str, copies: DailyCopies) -> Response:
    """Bring one project back as it was; where it has changed since, beside the one that is there."""
    names: dict[str, str] = {}
    counts = copies.bring_back(day, project, names)
    return Json({"project": names[project], "counts": counts})


@router.post("/restore/projects", response_model=list[ProjectHeld])
def look_into(
    store: Saved, file: Annotated[bytes, Body(media_type="application/octet-stream", max_length=LARGEST_BACKUP)]
) -> Response:
    """The projects in a backup, the last changed first; nothing of it comes in."""
    rows = sorted(brought_of(store.folder, file).projects, key=lambda row: str(row["changed"]), reverse=True)
    return Json([{key: row[key] for key in ("id", "name", "changed")} for row in rows])
