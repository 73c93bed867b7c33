"""The answers of `new`, `export` and `print`: which files were written."""

from __future__ import annotations

from typing import Literal

from reports.schema.sealed import Sealed


class NewAnswer(Sealed):
    """The file that was written."""

    schema: Literal[2]
    file: str


class ExportAnswer(Sealed):
    """The files that were written, full size, in mm."""

    schema: Literal[2]
    job: str
    unit: Literal["mm"]
    files: list[str]


class PrintedAnswer(Sealed):
    """A file to print: its pages, of several sheets how many columns, rows and blanks, and its check sheet."""

    file: str
    paper: str
    page_mm: tuple[float, float]
    pages: int
    columns: int
    rows: int
    blank: int
    check: str | None


class PrintAnswer(Sealed):
    """The files to print."""

    schema: Literal[3]
    job: str
    what: Literal["pieces", "markers", "dossier", "reference"]
    files: list[PrintedAnswer]
    notes: list[str]
