"""How the page is answered: JSON, and what went wrong as one line or field by field."""

from __future__ import annotations

import json
import logging
from typing import TYPE_CHECKING, Annotated, Any

from fastapi.exceptions import RequestValidationError
from pydantic import AfterValidator, BaseModel
from starlette.exceptions import HTTPException
from starlette.responses import Response

from nesting.errors import CheckError, NestingError
from pieces.errors import MeasurementError, PieceError
from reports.errors import JobError, LedgerFileError, MissingError, ReportError, StateError
from reports.one_line import one_line
from reports.page.errors import ChangedError, FieldsError, PageError
from reports.page.store.store import require_plain

if TYPE_CHECKING:
    from fastapi import FastAPI
    from starlette.requests import Request

OURS = "something went wrong in ellwand itself: the terminal it was started from shows what"


def _as_json(data: dict[str, Any]) -> dict[str, Any]:
    """Refuse what Python reads as JSON, but nothing else does."""
    try:
        require_plain(data)
    except (ValueError, RecursionError) as error:
        raise ValueError("this is not JSON: NaN, Infinity, or nested too deeply") from error
    return data


Plain = Annotated[dict[str, Any], AfterValidator(_as_json)]
"""An object of JSON."""


class FieldMistake(BaseModel):
    """What is wrong with one field."""

    field: str
    message: str
    hint: str = ""


class Mistake(BaseModel):
    """What is wrong: one line, or a line for each field; apart from it, what to write in a file to mend it."""

    error: str | None = None
    hint: str | None = None
    errors: list[FieldMistake] | None = None
    current: dict[str, Any] | None = None


STATUS: dict[type[Exception], int] = {MissingError: 404, StateError: 409, LedgerFileError: 409}
"""What answers mistakes that are not the page's own, where it is not 422."""

MISTAKES: dict[int | str, dict[str, Any]] = {
    status: {"model": Mistake, "description": description}
    for status, description in (
        (400, "No JSON."),
        (401, "Not signed in."),
        (403, "From another site, or without the header X-Ellwand: 1."),
        (404, "Not there."),
        (405, "A method that is not answered."),
        (408, "Too slow."),
        (409, "Changed elsewhere in the meantime, not far enough for that, or a ledger that cannot be used."),
        (413, "Too large."),
        (421, "Another host."),
        (422, "Not understood."),
        (429, "Too many at a time."),
    )
}
"""The answers that any request may get, for the description of the API."""


class Json(Response):
    """JSON, in ASCII so that no text can fail to be written."""

    media_type = "application/json"

    def render(self, content: Any) -> bytes:
        """Write it."""
        return json.dumps(content, allow_nan=False, separators=(",", ":")).encode()


def add_handlers(app: FastAPI) -> None:
    """Answer every error in the same way."""
    for kind in (PieceError, NestingError, ReportError):
        app.add_exception_handler(kind, _mistake)
    app.add_exception_handler(CheckError, _wrong)
    app.add_exception_handler(RequestValidationError, _not_understood)
    app.add_exception_handler(HTTPException, _refused)
    app.add_exception_handler(Exception, _fault)


def _mistake(request: Request, error: Exception) -> Response:
    said: dict[str, Any] = {"error": one_line(str(error))}
    if isinstance(error, JobError | MeasurementError) and error.hint:
        said = {"error": one_line(error.message), "hint": error.hint}
    if isinstance(error, ChangedError):
        said["current"] = error.current
    elif isinstance(error, FieldsError):
        said = {"errors": [fault._asdict() for fault in error.faults]}
    status = error.status if isinstance(error, PageError) else STATUS.get(type(error), 422)
    return Json(said, status, headers={"Retry-After": "10"} if status == 429 else None)


def _not_understood(request: Request, error: Exception) -> Response:
    assert isinstance(error, RequestValidationError)
    mistakes = [
        {
            "field": ".".join(str(part) for part in fault["loc"][1:]),
            "message": str(fault.get("ctx", {}).get("error") or fault["msg"]),
        }
        for fault in error.errors()
    ]
    return Json({"errors": mistakes}, 422)


def _refused(request: Request, error: Exception) -> Response:
    assert isinstance(error, HTTPException)
    return Json({"error": str(error.detail)}, error.status_code, headers=dict(error.headers or {}))


def _wrong(request: Request, error: Exception) -> Response:
    """A marker that does not pass the check is our fault, never the user's."""
    logging.getLogger("ellwand").error("%s %s", request.method, request.url.path, exc_info=error)
    return _fault(request, error)


def _fault(request: Request, error: Exception) -> Response:
    return Json({"error": OURS}, 500)
