"""A job or an order as the page sends it, checked: everything that is wrong with it, each thing at its field."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any, TypeVar, get_args

from pydantic import ValidationError

from pieces.body.body import check_measurement, measurement_names
from pieces.body.corrections import CORRECTIONS, corrections_of
from pieces.body.ranges import Wearer
from pieces.body.rules import lacking
from pieces.body.sizes import TABLES as SIZE_TABLES
from pieces.errors import DraftError, PieceError, unknown_key
from pieces.units import parse_length, speaking
from reports.ask.faults import all_faults
from reports.ask.imported import IMPORTED
from reports.ask.job import TABLES, Job
from reports.ask.order.order import TABLES as ORDER_TABLES
from reports.ask.order.order import Order
from reports.ask.recipe import Recipe, units_of
from reports.ask.shape import SHAPES
from reports.ask.written import loads
from reports.errors import JobError, ReportError
from reports.page.errors import FieldFault, FieldsError
from reports.page.work_folder import uploads_of

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping
    from pathlib import Path

    from pydantic import BaseModel

UPLOADED = re.compile(r"[0-9a-f]{32}\.json")
"""What a file of uploaded pieces is called; nothing else on this machine is read."""

OURS = ("name", "folder", "ledger", "together")
"""Fields of a job and an order that are no business of whoever sends one."""


Sent = TypeVar("Sent", Job, Order)


def job_of(data: Any, uploads: Path | None = None) -> Job:
    """Check a job.

    Parameters
    ----------
    uploads
        Where uploaded pieces are, for a job of garment ``imported``.

    Raises
    ------
    FieldsError
        If anything is wrong with it.
    """
    job = _valid(Job, data, TABLES)
    if job.garment == SHAPES:
        raise FieldsError([FieldFault("garment", "the page has no view for shapes alone: use 'ellwand buy' for that")])
    if job.garment == IMPORTED:
        if uploads is None or not UPLOADED.fullmatch(str(job.pieces_file)):
            raise FieldsError([FieldFault("pieces_file", "no such file was uploaded: upload the pattern file again")])
        job = job.model_copy(update={"folder": uploads})
        try:
            job.model()
        except PieceError as error:
            raise FieldsError([FieldFault("pieces_file", str(error))]) from error
    else:
        with speaking(job.written_in):
            faults = [*_body_faults(job), *_style_faults(job)]
        if faults:
            raise FieldsError(faults)
    return job


def order_of(data: Any, uploads: Path | None = None) -> Order:
    """Check an order, plain data or TOML text; FieldsError if anything is wrong with it, or it names files.

    Imported pieces and their grade rules are those in `uploads`.
    """
    order = _valid(Order, _read(data) if isinstance(data, str) else data, ORDER_TABLES)
    if order.garment == IMPORTED:
        return _with_uploads(order, uploads)
    if order.clients is not None:
        raise FieldsError([FieldFault("clients", "the page reads no files of clients: use 'ellwand run' for that")])
    if order.sizes not in SIZE_TABLES:
        raise FieldsError([FieldFault("sizes", f"there is no table {order.sizes!r}: choose {', '.join(SIZE_TABLES)}")])
    if faults := list(_style_faults(order)):
        raise FieldsError(faults)
    return order


def _with_uploads(order: Order, uploads: Path | None) -> Order:
    """An order of imported pieces, in the folder where they are and their grade rules."""
    for field, said in (("pieces_file", "upload the pattern file again"), ("grade_file", "make the grade rules again")):
        name = str(getattr(order, field))
        if uploads is None or not UPLOADED.fullmatch(name) or not (uploads / name).is_file():
            raise FieldsError([FieldFault(field, f"no such file was made on this page: {said}")])
    assert uploads is not None
    order = order.model_copy(update={"folder": uploads})
    try:
        order.model()
    except PieceError as error:
        raise FieldsError([FieldFault("pieces_file", str(error))]) from error
    return order


SUBJECTS: dict[str, Callable[[dict[str, Any]], Job | Order]] = {
    "job": lambda payload: job_of(payload.get("job"), uploads_of(payload)),
    "order": lambda payload: order_of(payload.get("order"), uploads_of(payload)),
}
"""What a search is about, by its name: out of its payload."""


def sent_subject(name: str, payload: dict[str, Any]) -> Job | Order:
    """The job or the order that a search is about, checked; FieldsError if anything is wrong with it."""
    return SUBJECTS[name](payload)


def _read(text: str) -> dict[str, Any]:
    try:
        return loads(text, "the order")
    except JobError as error:
        raise FieldsError([FieldFault("", str(error))]) from error


def _valid(model: type[Sent], data: Any, tables: Mapping[str, type[BaseModel]]) -> Sent:
    if not isinstance(data, dict):
        raise FieldsError([FieldFault("", f"{'an order' if model is Order else 'a job'} is an object, with a garment")])
    known = [key for key in model.model_fields if key not in OURS]
    if strange := [FieldFault(str(key), unknown_key(str(key), known)) for key in data if key not in known]:
        raise FieldsError(strange)
    try:
        with speaking(units_of(data)):
            return model.model_validate(data)
    except ValidationError as error:
        with speaking(units_of(data)):
            faults = [FieldFault(".".join(map(str, f.path)), f.said, f.hint) for f in all_faults(error, tables)]
        raise FieldsError(list(dict.fromkeys(faults))) from error


def _body_faults(job: Job) -> Iterator[FieldFault]:
    """What is wrong with each measurement; together they are what `Job.measured` refuses."""
    known, wearer = measurement_names(), job.body.get("wearer", "women")
    if wearer not in get_args(Wearer):
        yield FieldFault("body.wearer", f"{wearer!r} is not one of {', '.join(get_args(Wearer))}")
        wearer = "women"
    for name, value in job.body.items():
        if name == "wearer":
            continue
        if name not in known and name not in CORRECTIONS:
            yield FieldFault(f"body.{name}", unknown_key(name, [*known, *CORRECTIONS, "wearer"]))
            continue
        try:
            if name in CORRECTIONS:
                corrections_of({name: parse_length(value)})
            else:
                check_measurement(name, parse_length(value), wearer)
        except PieceError as error:
            yield FieldFault(f"body.{name}", str(error))
    for name in lacking(job.model().measurements, job.body):
        said = f"{name.replace('_', ' ')} is missing: measure it, or take it from a table"
        yield FieldFault(f"body.{name}", said)


def _style_faults(job: Recipe) -> Iterator[FieldFault]:
    """Each option that makes no sense by itself; if there is none, the first thing that does not go together."""
    try:
        job.styled()
    except (PieceError, ReportError) as error:
        yield from list(_option_faults(job)) or [FieldFault(field_of(job, error), str(error))]


def _option_faults(job: Recipe) -> Iterator[FieldFault]:
    for name, value in job.style.items():
        try:
            job.model_copy(update={"style": {name: value}}).styled()
        except JobError as error:
            yield FieldFault(f"style.{name}", error.said, error.hint)
        except PieceError:
            continue  # it may go together with the others


def field_of(job: Recipe, error: Exception) -> str:
    """The field that an error is about; empty if it is about none."""
    about = error.about if isinstance(error, DraftError) else ""
    if any(option.name == about for option in job.model().options()):
        return f"style.{about}"
    return f"body.{about}" if about in measurement_names() else ""
