"""Several garments of a job: its ``[[garment]]`` entries, checked one by one."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Field, ValidationError, model_validator

from reports.ask.faults import first_fault
from reports.ask.offer import FileTable, Name
from reports.errors import JobError

SEVERAL = "several"
"""What stands for the garment of a job that has several."""

TITLE = "several garments"
"""What they are called together."""

IN_EACH = ("body", "style", "pieces_file", "garments")
"""Keys that stand in each entry, not at the head of the job; the number of garments is ``quantity`` there."""


class GarmentEntry(FileTable):
    """A ``[[garment]]`` entry: which garment, for whom, in which style, and how many.

    The body is given, or it is a ``size`` of a table, or each row of a file of ``clients`` is one.
    """

    garment: str
    name: Name | None = None
    quantity: Annotated[int, Field(ge=1, le=1000)] | None = None
    pieces_file: str | None = None
    body: dict[str, Any] = Field(default_factory=dict)
    style: dict[str, Any] = Field(default_factory=dict)
    sizes: str | None = None
    size: str | None = None
    clients: str | None = None

    @model_validator(mode="after")
    def _agrees(self) -> GarmentEntry:
        if self.clients is not None:
            for key in ("body", "sizes", "size", "quantity", "pieces_file"):
                if getattr(self, key):
                    raise ValueError(f"the file of clients gives measurements and quantities: leave {key} out")
        if self.sizes is not None and self.size is None:
            raise ValueError('sizes names a table: add one of its sizes, such as size = "M"')
        if self.size is not None and self.sizes is None:
            raise ValueError('size is one of a table: add the table, such as sizes = "women"')
        return self


class _Entries(FileTable):
    """All entries, so that what is wrong is said with its place."""

    garment: tuple[GarmentEntry, ...] = Field(strict=False)


def with_entries(data: dict[str, Any]) -> dict[str, Any]:
    """The data of a job file, with ``[[garment]]`` entries read; those of a job with one garment as they are.

    Raises
    ------
    JobError
        If an entry makes no sense, or what belongs in each stands at the head.
    """
    if not isinstance(data.get("garment"), list):
        if data.get("alone") is not None:
            raise JobError("alone compares several garments with each by itself: leave it out, or write [[garment]]")
        return data
    if not data["garment"]:
        raise JobError("garment = [] has no garment: write [[garment]] entries, or one garment's name")
    for key in IN_EACH:
        if key in data:
            to_do = "write quantity in each" if key == "garments" else "write it in each"
            raise JobError(f"{key} stands outside of [[garment]]: {to_do}")
    try:
        entries = _Entries.model_validate({"garment": data["garment"]}).garment
    except ValidationError as error:
        raise JobError(first_fault(error, {"garment": GarmentEntry})) from error
    return data | {"garment": SEVERAL, "together": entries}
