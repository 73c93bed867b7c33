"""Measured clients: a table with a row for each person, every garment drafted to that person's measurements."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, get_args

from pieces.body.body import check_measurement, measurement_names
from pieces.body.corrections import CORRECTIONS, corrections_of
from pieces.body.ranges import Wearer, usual_range
from pieces.body.rules import lacking
from pieces.errors import PieceError, unknown_key
from pieces.grid import read_grid, read_length, with_point
from reports.ask.job import Job
from reports.ask.one_draft import draft_one
from reports.errors import JobError, ReportError

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from pathlib import Path

    from pieces import PieceSet
    from pieces.body.body import Body
    from pieces.grid import CellGrid, CellRow
    from reports.ask.recipe import Recipe

LONGEST_NAME = 40
MOST_CLIENTS = 1000
MOST_GARMENTS = 1000

_OWN = ("name", "quantity", "colour", "wearer")


@dataclass(frozen=True, eq=False)
class Client:
    """One person's order.

    Parameters
    ----------
    name
        A name or code, unlike all others.
    quantity
        How many garments.
    colour
        Of which cloth; empty if the table does not say.
    style
        Options that differ from the order's, as a job file writes them.
    job
        The order's job with this person's measurements and style.
    pieces
        The garment, drafted.
    line
        Where it stands in the file.
    """

    name: str
    quantity: int
    colour: str
    style: Mapping[str, Any]
    job: Job
    pieces: PieceSet
    line: int

    @property
    def body(self) -> Body:
        """The person's measurements."""
        return self.job.measured()


@dataclass(frozen=True)
class BadRow:
    """A row that cannot be used: its line, the column at fault (empty if it is the row as a whole), and why.

    `name` is the person's, where the row can be read so far and the name is one that `reason` does not tell.
    """

    file: str
    line: int
    column: str
    reason: str
    name: str = ""

    def __str__(self) -> str:
        name = f" ({self.name})" if self.name else ""
        column = f", column '{self.column}'" if self.column else ""
        return f"{self.file}, line {self.line}{name}{column}: {self.reason}"


@dataclass(frozen=True)
class Clients:
    """All rows of a table: those that can be used, and those that cannot."""

    good: tuple[Client, ...]
    bad: tuple[BadRow, ...]


class _RowError(Exception):
    """What is wrong with a row, and in which column."""

    def __init__(self, column: str, reason: str) -> None:
        super().__init__(reason)
        self.column = column


def read_clients(path: Path, made: Recipe, colours: Sequence[str] = ()) -> Clients:
    """Read a table of clients and draft a garment for each; a row that cannot be used loses no other.

    Columns: ``name`` (or a code), ``quantity`` (else 1), ``colour``, ``wearer``, measurements, and options of the
    garment's style; options that a row leaves out are as in the file itself.

    Parameters
    ----------
    colours
        Those of which each row names one, in whatever case; of a single one it need not. None: any will do.

    Raises
    ------
    JobError
        If the file cannot be read, has no rows, or a heading that is not known.
    """
    try:
        grid = read_grid(path, "clients", "name, quantity, bust, hip", _known(made), row_by_row=True)
    except PieceError as error:
        raise JobError(str(error)) from error
    _check_headings(grid, made, path)
    if len(grid.rows) > MOST_CLIENTS:
        raise JobError(f"{path} holds {len(grid.rows)} clients: at most {MOST_CLIENTS} are allowed")
    good: list[Client] = []
    bad: list[BadRow] = []
    for row in grid.rows:
        try:
            good.append(_client(row, grid, made, {client.name: client.line for client in good}, colours))
        except _RowError as error:
            bad.append(BadRow(path.name, row.line, error.column, str(error), _named(row, grid, error.column)))
    return Clients(tuple(good), tuple(bad))


def _known(made: Recipe) -> list[str]:
    return [*_OWN, *measurement_names(), *CORRECTIONS, *(option.name for option in made.model().options())]


def _check_headings(grid: CellGrid, made: Recipe, path: Path) -> None:
    known = _known(made)
    names = [heading.name for heading in grid.headings]
    for name in names:
        if name not in known:
            raise JobError(f"{path}, first line: {unknown_key(name, known)}")
    missing = [name for name in ("name", *lacking(made.model().measurements, names)) if name not in names]
    if missing:
        each = ", ".join(f"'{name}'" for name in missing)
        told = f"a column {each} is" if len(missing) == 1 else f"columns {each} are"
        raise JobError(f"{path}, first line: {told} missing")


def _client(row: CellRow, grid: CellGrid, made: Recipe, taken: Mapping[str, int], colours: Sequence[str]) -> Client:
    try:
        grid.check(row.cells)
    except PieceError as error:
        raise _RowError("", str(error)) from error
    given = {heading.name: cell for heading, cell in zip(grid.headings, row.cells, strict=True) if cell}
    for column, cell in given.items():
        try:
            grid.check_points(cell)
        except PieceError as error:
            raise _RowError(column, str(error)) from error
    units = dict(grid.headings)
    name = _name(given.get("name", ""), taken)
    quantity = _quantity(given.get("quantity", "1"))
    colour = _colour(given.get("colour", ""), colours)
    body = _measured(given, units, made)
    style = _styled(given, units, made)
    own = Job.for_body(made, body, made.style | style)
    try:
        return Client(name, quantity, colour, style, own, draft_one(own), row.line)
    except (PieceError, ReportError) as error:
        raise _RowError(_suspect(own.measured()), str(error)) from error


def _named(row: CellRow, grid: CellGrid, column: str) -> str:
    """Who stands in a row that cannot be used; empty if the name is at fault, or if cells and headings differ."""
    if column == "name" or len(row.cells) != len(grid.headings):
        return ""
    name = next(cell for heading, cell in zip(grid.headings, row.cells, strict=True) if heading.name == "name")
    return name if len(name) <= LONGEST_NAME and name.isprintable() else ""


def _suspect(body: Body) -> str:
    """The column to look at where a garment cannot be drafted: the only measurement that is unusual."""
    found = [name for name, mm in body.measurements().items() if not _is_usual(name, mm, body.wearer)]
    return found[0] if len(found) == 1 else ""


def _is_usual(name: str, mm: float, wearer: Wearer) -> bool:
    limits = usual_range(wearer, name)
    return limits.low <= mm <= limits.high


def _name(name: str, taken: Mapping[str, int]) -> str:
    if not (0 < len(name) <= LONGEST_NAME and name.isprintable()):
        raise _RowError("name", f"write a name or a code of 1 to {LONGEST_NAME} characters")
    if name in taken:
        raise _RowError("name", f"'{name}' is in line {taken[name]} already: give each row its own name or code")
    return name


def _quantity(cell: str) -> int:
    if not (cell.isdecimal() and 1 <= int(cell[:9]) <= MOST_GARMENTS):
        raise _RowError(
            "quantity", f"'{cell}' is not a number of garments: write a whole number from 1 to {MOST_GARMENTS}"
        )
    return int(cell)


def _colour(cell: str, colours: Sequence[str]) -> str:
    if not colours or cell in colours:
        return cell
    if not cell and len(colours) == 1:
        return colours[0]
    alike = [colour for colour in colours if colour.casefold() == cell.casefold()]
    if len(alike) != 1:
        got = f"no cloth is '{cell}'" if cell else "is empty"
        raise _RowError("colour", f"{got}: write one of {', '.join(colours)}")
    return alike[0]


def _measured(given: Mapping[str, str], units: Mapping[str, str], made: Recipe) -> dict[str, Any]:
    """A body as a job file writes it, each measurement checked."""
    wearer = given.get("wearer", made.own_body.get("wearer", "women"))
    if wearer not in get_args(Wearer):
        raise _RowError("wearer", f"'{wearer}' is not one of {', '.join(get_args(Wearer))}")
    body: dict[str, Any] = {"wearer": wearer}
    for name in measurement_names():
        if name in given:
            mm = _length(given[name], units[name], name)
            try:
                check_measurement(name, mm, wearer)
            except PieceError as error:
                raise _RowError(name, str(error)) from error
            if (
                units[name]
                and not _is_usual(name, mm, wearer)
                and mm != _length(_number(given[name]), units[name], name)
            ):
                raise _RowError(
                    name,
                    f"'{given[name]}' is unusual for {wearer}, and its heading says {units[name]}: check the unit, and"
                    " write the number alone",
                )
            body[name] = f"{mm!r} mm"
    for name in lacking(made.model().measurements, body):
        raise _RowError(name, "is empty: measure it, and write the length")
    for name in CORRECTIONS:
        if name in given:
            mm = _length(given[name], units[name], name)
            try:
                corrections_of({name: mm})
            except PieceError as error:
                raise _RowError(name, str(error)) from error
            body[name] = f"{mm!r} mm"
    return body


def _styled(given: Mapping[str, str], units: Mapping[str, str], made: Recipe) -> dict[str, Any]:
    """Options of the style as a job file writes them, each checked."""
    style: dict[str, Any] = {}
    for option in made.model().options():
        if option.name in given:
            cell, kind = given[option.name], option.metadata["kind"]
            style[option.name] = (
                f"{_length(cell, units[option.name], option.name)!r} mm" if kind == "length" else _plain(cell, kind)
            )
            try:
                made.model_copy(update={"style": made.style | style}).styled()
            except (PieceError, ReportError) as error:
                raise _RowError(option.name, error.said if isinstance(error, JobError) else str(error)) from error
    return style


def _number(cell: str) -> str:
    """A cell without the unit behind its number."""
    return re.sub(r"[^\d]+$", "", cell)


def _length(cell: str, unit: str, column: str) -> float:
    try:
        return read_length(cell, unit)
    except PieceError as error:
        raise _RowError(column, str(error)) from error


def _plain(cell: str, kind: str) -> float | str:
    """A share as a number, a choice as a word; what is neither is left for the style to refuse."""
    try:
        return float(with_point(cell)) if kind == "share" else cell
    except ValueError:
        return cell
