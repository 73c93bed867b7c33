"""The work itself: what there is to choose from, pieces as they are drafted, pieces moved by hand, files in and out."""

from pathlib import Path
from typing import Annotated, Any, Literal

from fastapi import APIRouter, Body, Depends, Query, Request
from fastapi import Path as PathParameter
from pydantic import BaseModel, ConfigDict, Field
from starlette.responses import Response

from pieces.exchange.imported import ReadingChoices, Unit
from reports.page.server.replies import MISTAKES, Json
from reports.page.server.routes_projects import Saved
from reports.page.server.routes_searches import Known
from reports.page.store.legends import legends_of
from reports.page.store.patterns import LARGEST_SET, MOST_PHOTOS, PhotoAsked, SentPhotos
from reports.page.work_folder import UPLOADS

LARGEST_UPLOAD = 25_000_000
"""Bytes of a photo of patterns; a file of patterns has fewer."""

LONGEST_FILE_NAME, WATCH = 200, 40
"""Signs of the name of a file, and of the name under which steps are asked for."""

AS_WRITTEN = 40
"""Signs of a length or a paper, as people write it."""

FARTHEST = 1e6
"""No piece is moved as far as a kilometre, mm."""

router = APIRouter(prefix="/api", tags=["work"], responses=MISTAKES)

GivenCoordinate = Annotated[float, Field(ge=-FARTHEST, le=FARTHEST)]
GivenTurn = Annotated[float, Field(ge=-360, le=360)]
GivenPlace = tuple[GivenCoordinate, GivenCoordinate] | tuple[GivenCoordinate, GivenCoordinate, GivenTurn | None]
GivenPlaces = Annotated[list[GivenPlace], Field(max_length=5000)]


class Strict(BaseModel):
    """What is sent: unknown keys are refused."""

    model_config = ConfigDict(extra="forbid")


class ToDraft(Strict):
    """A job; its cloth and rib may be left out."""

    job: dict[str, Any]


class Move(Strict):
    """A piece of a marker that was let go: `x` and `y` of the lower left corner of its box, mm.

    Markers and pieces are counted from 0; `placements`, each x and y or x, y and turn, say where all pieces lie now
    where that is not as the search left them.
    """

    marker: int
    piece: int
    x: GivenCoordinate
    y: GivenCoordinate
    turn: GivenTurn | None = None
    placements: GivenPlaces | None = None


class HandMade(Strict):
    """A marker laid by hand: where each of its pieces lies, in the order of its placements."""

    marker: int
    placements: GivenPlaces


class File(BaseModel):
    """A file of an answer; its size is not known before it is made."""

    name: str
    subject: str
    what: str
    type: str
    bytes: int | None


def uploads_of(request: Request) -> Path:
    """The folder of uploaded pieces."""
    folder: Path = request.app.state.store.folder / UPLOADS
    return folder


Uploads = Annotated[Path, Depends(uploads_of)]


@router.get("/catalogue")
def show_catalogue() -> Response:
    """Garments with their options, measurements, tables of sizes, ways to lay cloth, and a job to begin with."""
    from reports.page.answers.catalogue import catalogue

    return Json(catalogue())


@router.post("/draft")
def draft_pieces(asked: ToDraft, uploads: Uploads) -> Response:
    """Draft a job's pieces: 422 with everything that is wrong, field by field."""
    from reports.page.answers.answers import draft

    return Json(draft(asked.job, uploads))


@router.get("/searches/{search}/table/{marker}")
def show_on_table(search: str, marker: int, searches: Known) -> Response:
    """One of an answer's markers as it lies on the table, counted from 0; of a run they are those of its lays."""
    from reports.page.table.on_table import on_table

    return Json(on_table(searches.find(search)).shown(marker))


@router.get("/searches/{search}/cutting/{marker}")
def show_cutting(search: str, marker: int, searches: Known) -> Response:
    """All that is needed to cut by one of an answer's markers, step by step, or under a projector."""
    from reports.page.table.cutting import cutting

    return Json(cutting(searches.find(search), marker))


@router.post("/searches/{search}/move")
def move_piece(search: str, move: Move, searches: Known) -> Response:
    """Move a piece to the nearest place where it may lie, touching what is there; checked by the second opinion."""
    from reports.page.table.on_table import on_table

    places = None if move.placements is None else [_place(place) for place in move.placements]
    to = (move.x, move.y, move.turn)
    return Json(on_table(searches.find(search)).moved(move.marker, move.piece, to, places))


@router.post("/searches/{search}/placements")
def keep_placements(search: str, made: HandMade, searches: Known) -> Response:
    """Keep a marker laid by hand, and answer anew by it: 409 with the reason if it cannot be cut so."""
    from reports.page.table.on_table import on_table

    table = on_table(searches.find(search))
    return Json(searches.keep(search, table.kept(made.marker, [_place(place) for place in made.placements])).plain())


@router.get("/searches/{search}/files", response_model=list[File])
def list_files(search: str, searches: Known) -> Response:
    """The files of an answer."""
    from reports.page.searches.files import Answered, downloads

    found = searches.find(search)
    return Json(downloads(Answered.of(found.kind, found.payload, found.result)))


@router.get("/searches/{search}/files/{name}", response_class=Response)
def send_file(search: str, name: str, searches: Known) -> Response:
    """A file of an answer, made when it is first asked for."""
    from reports.page.searches.files import Answered, download

    found = searches.find(search)
    data, kind = download(Answered.of(found.kind, found.payload, found.result), name)
    headers = {"Content-Disposition": f'attachment; filename="{name}"', "Cache-Control": "no-store"}
    return Response(data, media_type=kind, headers=headers)


def measured_by(
    line: Annotated[str, Query(max_length=AS_WRITTEN, description="The reference sheet's line by a ruler.")] = "",
    sheet: Annotated[str, Query(max_length=AS_WRITTEN, description="The bare sheet that a photo is measured by.")] = "",
    mat: Annotated[str, Query(max_length=AS_WRITTEN, description="Side of the squares of a cutting mat.")] = "",
) -> PhotoAsked:
    """What a photo is measured by."""
    return PhotoAsked(line, sheet, mat)


@router.post("/uploads")
def upload_patterns(
    store: Saved,
    by: Annotated[PhotoAsked, Depends(measured_by)],
    file: Annotated[bytes, Body(media_type="application/octet-stream", max_length=LARGEST_UPLOAD)],
    name: Annotated[str, Query(min_length=1, max_length=200)],
    units: Annotated[Unit | None, Query(description="What a bare number counts.")] = None,
    size: Annotated[
        str | None, Query(max_length=60, description="Of a file of several sizes, the one to read.")
    ] = None,
) -> Response:
    """Read a file of patterns: what was understood, mended and left out, and its pieces. 429 while others are read.

    A photo, JPEG or PNG, is traced: `photo` says how far each piece may be off, and lengths to hold against a tape.
    A job of garment `imported` names what comes back as `pieces_file`.
    """
    from reports.page.answers.upload import read_upload

    asked = ReadingChoices(units=units, size=size)
    return Json(read_upload(name, file, asked, store.folder / UPLOADS, legends=legends_of(store), by=by))


def sent_photos(
    name: Annotated[list[str], Query(min_length=1, max_length=MOST_PHOTOS, description="Of each photo, in turn.")],
    size: Annotated[list[int], Query(min_length=1, max_length=MOST_PHOTOS, description="Bytes of each, in turn.")],
    joined: Annotated[bool, Query(description="Whether they show parts of one table, to be joined.")] = False,
    added_to: Annotated[str, Query(max_length=32, description="Kept photos that they are added to.")] = "",
    watch: Annotated[str, Query(max_length=WATCH, description="Under what name steps are asked for.")] = "",
) -> SentPhotos:
    """The photos that lie in the body one behind the other."""
    return SentPhotos([each[:LONGEST_FILE_NAME] for each in name], size, joined, added_to, watch)


@router.post("/uploads/photos")
def upload_photos(
    store: Saved,
    by: Annotated[PhotoAsked, Depends(measured_by)],
    sent: Annotated[SentPhotos, Depends(sent_photos)],
    file: Annotated[bytes, Body(media_type="application/octet-stream", max_length=LARGEST_SET)],
) -> Response:
    """Trace photos of paper patterns, sent one behind the other, as one pattern. 429 while others are read.

    `photo` of the answer says how well each photo fits, how far each piece may be off, and lengths to hold against a
    tape. Otherwise it is as that of `/uploads`.
    """
    from reports.page.answers.photo_set import read_photos

    return Json(read_photos(sent, file, store.folder / UPLOADS, legends_of(store), by=by))


@router.get("/uploads/photos/{watch}")
def show_step(watch: Annotated[str, PathParameter(max_length=WATCH)]) -> Response:
    """What is done now of photos that were sent: `words`, and `done` of so many steps; empty if nothing is."""
    from reports.page.answers.photo_set import step_of

    return Json(step_of(watch))


@router.get("/reference-sheets/{paper}", response_class=Response)
def print_reference_sheets(paper: Literal["a4", "letter"]) -> Response:
    """The reference sheets for photos of paper patterns, as PDF: one page a sheet."""
    import tempfile

    from reports.paper.reference import print_reference
    from reports.paper.size import parse_paper

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"reference-{paper}.pdf"
        print_reference(path, parse_paper(paper))
        data = path.read_bytes()
    headers = {"Content-Disposition": f'attachment; filename="{path.name}"', "Cache-Control": "no-store"}
    return Response(data, media_type="application/pdf", headers=headers)


def _place(place: GivenPlace) -> tuple[float, float, float | None]:
    return place if len(place) == 3 else (*place, None)
