"""A table in a file of text with separators: whatever a spreadsheet writes, read where its meaning is clear.

Text in UTF-8, UTF-16 or Windows-1252; commas, semicolons or tabs between; decimal points or commas; a unit in the cell
or in the heading above it.
"""

from __future__ import annotations

import codecs
import csv
import io
import re
import tomllib
from dataclasses import dataclass
from functools import cache, cached_property
from importlib.resources import files
from typing import TYPE_CHECKING, NamedTuple

from pieces.errors import FormatError, LengthError
from pieces.units import is_unit, parse_length

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence
    from pathlib import Path

MOST_BYTES = 1_000_000
"""No table that people write is larger."""

_MARKS = {
    codecs.BOM_UTF8: "utf-8-sig",
    codecs.BOM_UTF16_LE: "utf-16",
    codecs.BOM_UTF16_BE: "utf-16",
}
_HEADING = re.compile(r"""\s*(.*?)(?:\s*[(\[]\s*|\s*,\s*|[\s_]+)([a-z]+|["″”'′’])\s*[)\]]?\s*""", re.IGNORECASE)
_DECIMAL_COMMA = re.compile(r"(?<![\d.,])(\d+),(\d+)(?![\d.,])")
_SURE_COMMA = re.compile(r"-?(?:\d+,(?!\d{3}$)\d+|0,\d+)")
_THOUSANDS = re.compile(r"(?<![\d.,])\d{1,3}(?:(?:\.\d{3})+(?=,\d+(?![\d.,]))|(?:,\d{3})+(?=\.\d+(?![\d.,])))")
"""Whole thousands with marks between them, before the other mark that then stands for decimals: ``1.200,5``."""

_POINT_OF_THREE = re.compile(r"-?[1-9]\d{0,2}\.\d{3}(?!\d)[^\d.,]*")
_FILLING = ("_in", "_en")
"""What stands between a heading and its unit in other languages, as in ``Brustumfang in cm``."""

_UNIT_SIGN = re.compile(r"[a-z\"″”'′’]", re.IGNORECASE)


class Heading(NamedTuple):
    """What stands over a column: its name as the code has it (``upper_arm``), and the unit of bare numbers below."""

    name: str
    unit: str


class CellRow(NamedTuple):
    """A row, and the line of the file that it begins on."""

    line: int
    cells: tuple[str, ...]


@dataclass(frozen=True)
class CellGrid:
    """Headings and the rows below them; empty rows are left out."""

    headings: tuple[Heading, ...]
    rows: tuple[CellRow, ...]

    @property
    def has_decimal_commas(self) -> bool:
        """Whether a cell shows that commas stand for decimals: ``12,5`` or ``0,125``, and never a point."""
        cells = [cell for row in self.rows for cell in row.cells]
        has_commas = any("," in cell and _SURE_COMMA.fullmatch(cell) for cell in cells)
        return has_commas and not any(re.fullmatch(r"-?\d*\.\d+", cell) for cell in cells)

    @cached_property
    def is_sure_of_commas(self) -> bool:
        """Whether some cell has a comma that can be no mark of thousands."""
        return any("," in cell and _SURE_COMMA.fullmatch(_bare(cell)) for row in self.rows for cell in row.cells)

    def check_points(self, cell: str) -> None:
        """Raise LengthError for ``1.200`` where other cells write decimals with commas: it may be 1200 or 1.2."""
        if self.is_sure_of_commas and _POINT_OF_THREE.fullmatch(cell):
            raise LengthError(
                cell,
                "its point could mean thousands or decimals, since other cells have decimal commas: write it without"
                " thousands, with a comma",
            )

    def check(self, cells: Sequence[str]) -> None:
        """Raise FormatError if a row has not one cell for each heading."""
        given, wanted = len(cells), len(self.headings)
        if given != wanted:
            raise FormatError(
                f"{given} cells under {wanted} headings: check the separators; put a cell that contains one in quotes"
            )


def read_grid(
    path: Path,
    what: str,
    example: str,
    known: Collection[str] = (),
    most_bytes: int = MOST_BYTES,
    *,
    row_by_row: bool = False,
) -> CellGrid:
    """Read a table.

    Parameters
    ----------
    what
        What its rows are, such as ``"sizes"``.
    example
        Headings it could have.
    known
        Headings that are understood: others are looked for in other languages.
    most_bytes
        No larger file is read.
    row_by_row
        Whether the caller asks `CellGrid.check_points` of each row, and leaves out those that are not clear.

    Raises
    ------
    FormatError
        If the file cannot be read, has no rows, or two columns of one name, or a number in it is not clear.
    """
    text = _decode(read_bytes(path, f"table of {what}", most_bytes), path)
    written = csv.reader(io.StringIO(text, newline=""), delimiter=_separator(text), skipinitialspace=True)
    rows, line = [], 1
    try:
        for cells in written:
            stripped = [cell.strip() for cell in cells]
            if any(stripped):
                rows.append(CellRow(line, tuple(stripped)))
            line = written.line_num + 1
    except csv.Error as error:
        raise FormatError(f"cannot read {path}, line {line}: {error}") from error
    if len(rows) < 2:
        raise FormatError(f'{path} holds no {what}: write a heading line "{example}", then one line for each')
    head, *body = rows
    headings = _translated([_heading(cell) for cell in _trimmed(head.cells, 0)], known)
    names = [heading.name for heading in headings]
    for name in names:
        if names.count(name) > 1:
            raise FormatError(f"{path}, first line: '{name}' appears twice")
    grid = CellGrid(headings, tuple(CellRow(row.line, _trimmed(row.cells, len(headings))) for row in body))
    for row in () if row_by_row or not grid.is_sure_of_commas else grid.rows:
        for cell in row.cells:
            try:
                grid.check_points(cell)
            except LengthError as error:
                raise FormatError(f"{path}, line {row.line}: {error}") from error
    return grid


def _bare(cell: str) -> str:
    """A number without the unit behind it."""
    return cell.rstrip("abcdefghijklmnopqrstuvwxyz\"″”'′’ ")


def read_length(cell: str, unit: str = "") -> float:
    """A length in a cell, mm; `unit` is that of a bare number, and a decimal comma is taken where it can be no other.

    Raises
    ------
    LengthError
        If it cannot be read, or a comma could as well be one between thousands.
    """
    written = with_point(cell)
    return parse_length(f"{written} {unit}" if unit and not _UNIT_SIGN.search(written) else written)


def with_point(cell: str, *, is_decimal: bool = False) -> str:
    """A number with its decimal comma made a point, and no marks of thousands; LengthError if a comma could be either.

    `is_decimal` says that it is known to stand for decimals.
    """
    if "," not in cell:
        return cell
    cell = _THOUSANDS.sub(lambda found: re.sub(r"[.,]", "", found[0]), cell)
    found = _DECIMAL_COMMA.search(cell)
    if found is None:
        return cell
    if len(found[2]) == 3 and int(found[1]) and not is_decimal:
        raise LengthError(cell, "its comma could mean thousands or decimals: write a point for decimals")
    return cell[: found.start()] + f"{found[1]}.{found[2]}" + cell[found.end() :]


def read_bytes(path: Path, what: str, most: int = MOST_BYTES) -> bytes:
    """What is in a file of no more than so many bytes; FormatError if it cannot be read, or there is more."""
    try:
        with path.open("rb") as file:
            data = file.read(most + 1)
    except OSError as error:
        raise FormatError(f"cannot read {path}: {(error.strerror or 'no such file').lower()}") from error
    if len(data) > most:
        raise FormatError(f"{path} is larger than {most // 1_000_000} MB, too large for a {what}")
    return data


def _decode(data: bytes, path: Path) -> str:
    """Text: as its mark says; else in UTF-8, which hardly anything else passes for; else in Windows-1252."""
    marked = [name for mark, name in _MARKS.items() if data.startswith(mark)]
    for encoding in marked or ("utf-8", "cp1252"):
        try:
            text = data.decode(encoding)
        except UnicodeDecodeError:
            continue
        if not re.search(r"[\x00-\x08\x0e-\x1f]", text):
            return text
    raise FormatError(
        f"cannot read {path}: it is not a table in UTF-8, UTF-16 or Windows-1252; save it as CSV from a spreadsheet"
    )


def _separator(text: str) -> str:
    """What stands between cells: by the first line that has anything in it."""
    head = next((line for line in text.splitlines() if line.strip()), "")
    return next((sign for sign in "\t;" if sign in head), ",")


def _heading(cell: str) -> Heading:
    found = _HEADING.fullmatch(cell)
    name, unit = (found[1], found[2].lower()) if found and found[1] and is_unit(found[2].lower()) else (cell, "")
    name = "_".join(re.split(r"[\s_-]+", name.strip().lower()))
    for word in _FILLING if unit else ():
        name = name.removesuffix(word)
    return Heading(name, unit)


@cache
def _languages() -> dict[str, dict[str, list[str]]]:
    text = (files("pieces") / "tables" / "headings.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def _translated(headings: list[Heading], known: Collection[str]) -> tuple[Heading, ...]:
    """Headings in another language as this project calls them, where that language knows most of those in the table."""
    if not known or all(heading.name in known for heading in headings):
        return tuple(headings)
    best: dict[str, str] = {}
    for words in _languages().values():
        meant = {word: name for name, all_ in words.items() if name in known for word in all_}
        found = {heading.name: meant[heading.name] for heading in headings if heading.name in meant}
        best = found if len(found) > len(best) else best
    return tuple(Heading(best.get(heading.name, heading.name), heading.unit) for heading in headings)


def _trimmed(cells: tuple[str, ...], wanted: int) -> tuple[str, ...]:
    """Cells without the empty ones that a spreadsheet puts at the end of a row."""
    while len(cells) > wanted and not cells[-1]:
        cells = cells[:-1]
    return cells
