"""Saved projects: list, read, save, delete; back up and restore."""

from typing import Annotated, Any

from fastapi import APIRouter, Body, Depends, Query, Request
from pydantic import BaseModel, ConfigDict, Field
from starlette.responses import Response

from reports.page.server.guard import LARGEST_BACKUP
from reports.page.server.replies import MISTAKES, Json, Plain
from reports.page.store.backup import backup
from reports.page.store.brought import ShownName
from reports.page.store.restore import restore
from reports.page.store.store import Store

router = APIRouter(prefix="/api", tags=["projects"], responses=MISTAKES)


def _store(request: Request) -> Store:
    store: Store = request.app.state.store
    return store


Saved = Annotated[Store, Depends(_store)]


class NewProject(BaseModel):
    """A project to save: whatever the page needs to go on with it."""

    model_config = ConfigDict(extra="forbid", strict=True)

    name: ShownName
    data: Plain


class ChangedProject(NewProject):
    """A project to save over the version that was read."""

    version: int = Field(ge=1, lt=2**53, strict=False)  # in JSON, 2.0 is a whole number


class Version(BaseModel):
    """What was saved."""

    id: str
    version: int


class ProjectLine(Version):
    """A project in the list."""

    name: str
    changed: str


class Project(ProjectLine):
    """A whole project."""

    data: dict[str, Any]


class Count(BaseModel):
    """How many a backup brought, and how many were there already."""

    added: int
    same: int


class PatternCount(Count):
    """The same of pattern files, with the names of those of which something else was decided: it is kept beside."""

    apart: list[str]


class Restored(BaseModel):
    """What a backup brought."""

    projects: Count
    clients: Count
    measurements: Count
    shelf: Count
    photos: Count
    answers: Count
    patterns: PatternCount
    settings: Count
    entries: Count


@router.get("/projects", response_model=list[ProjectLine])
def list_projects(store: Saved) -> Response:
    """All projects, the last changed first."""
    return Json(store.projects())


@router.post("/projects", status_code=201, response_model=Version)
def add_project(project: NewProject, store: Saved) -> Response:
    """Save a new project."""
    return Json(store.add_project(project.name, project.data), 201)


@router.get("/projects/{project}", response_model=Project)
def read_project(project: str, store: Saved) -> Response:
    """Read a project."""
    return Json(store.project(project))


@router.put("/projects/{project}", response_model=Version)
def save_project(project: str, changed: ChangedProject, store: Saved) -> Response:
    """Save a project over the version it was read at; 409 with what it is now if another was saved meanwhile."""
    return Json(store.save_project(project, changed.version, changed.name, changed.data))


@router.delete("/projects/{project}", status_code=204, response_class=Response)
def drop_project(project: str, store: Saved) -> Response:
    """Delete a project; nothing happens if it is gone already."""
    store.drop_project(project)
    return Response(status_code=204)


@router.get("/backup", response_class=Response, responses={200: {"content": {"application/vnd.sqlite3": {}}}})
def back_up(store: Saved) -> Response:
    """All saved work as one file: the whole notebook with its photos, answers, patterns, settings and the ledger."""
    headers = {"Content-Disposition": 'attachment; filename="ellwand-backup.sqlite3"'}
    return Response(backup(store), media_type="application/vnd.sqlite3", headers=headers)


@router.post("/restore", response_model=Restored)
def restore_projects(
    store: Saved,
    file: Annotated[bytes, Body(media_type="application/octet-stream", max_length=LARGEST_BACKUP)],
    project: Annotated[str | None, Query(max_length=40, description="One project of it, by its id there.")] = None,
) -> Response:
    """Add what a backup holds; what has been changed since stays, and what was in the backup comes in beside it."""
    return Json(restore(store, file, project))
