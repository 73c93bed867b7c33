"""Pieces out of tables: CSV with a point a row, and JSON, our own or plain lists of points."""

from __future__ import annotations

import re
from itertools import groupby
from typing import TYPE_CHECKING, Any, NamedTuple, get_args

import numpy as np

from pieces.data import are_points, json_data
from pieces.errors import FormatError, LengthError
from pieces.exchange.imported import UNIT_WORDS, ImportReport, ReadingChoices, Unit, number, scale_of, told_unit
from pieces.exchange.own.plain import from_plain
from pieces.exchange.read import features
from pieces.exchange.read.traced import Corner, drawn
from pieces.exchange.sketch.naming import named_in_words
from pieces.exchange.sketch.sketch import Sketch, entered, printable_name
from pieces.exchange.source import LARGEST, read_source
from pieces.grid import read_grid, with_point

if TYPE_CHECKING:
    from pathlib import Path

    from numpy.typing import NDArray

    from pieces.grid import CellGrid
    from pieces.piece.curve import Point
    from pieces.piece.piece import Piece

    Floats = NDArray[np.float64]
    _Outlines = tuple[dict[str, Floats], dict[str, int]]
    """By name; and of pieces whose rows do not stand together, the line where they go on."""

MOST_ROWS, MOST_PIECES = 1_000_000, 4000

MOST_TOLD = 10
"""Pieces whose rows do not stand together that are told of."""

UNIT_KEYS = ("unit", "units")

UNREAD = "it is not read: the small file beside the pieces gives the cut count, the material and the fold"

_BARE = re.compile(r"-?[\d.]+(e[+-]?\d+)?", re.IGNORECASE)
"""A number without a unit."""

COLUMNS = ("piece", "x", "y", "bulge", "mid_x", "mid_y")


def sketch_csv(path: Path, asked: ReadingChoices) -> tuple[list[Sketch], ImportReport]:
    """Pieces of a table with the columns piece, x, y, and where curves run bulge, or mid x and mid y.

    Raises
    ------
    FormatError
        If a column is missing, a number cannot be read, or the file does not say its unit.
    """
    report = ImportReport("CSV, one point per row")
    grid = read_grid(path, "pieces", "piece, x (mm), y (mm)", COLUMNS, LARGEST["csv"])
    if len(grid.rows) > MOST_ROWS:
        raise FormatError(f"{path.name} has more than {MOST_ROWS} rows")
    at = features.text_column(grid)
    if at is not None:
        return features.sketch_text_table(grid, at, path.name, asked)
    _refuse_size(path.name, "CSV of points", asked)
    places, unit = _columns(grid, path.name)
    report.units = told_unit(unit, "by its headings", asked.units, unit)
    unit = asked.units or unit
    read = _Cells(unit, asked.per_inch, grid.has_decimal_commas)
    outlines, apart = _plain_points(grid, places, read) or _points(grid, places, read, path.name)
    if len(outlines) > MOST_PIECES:
        raise FormatError(f"{path.name} has more than {MOST_PIECES} pieces")
    named = (
        (printable_name(name.removeprefix("'"), f"piece {n}"), of) for n, (name, of) in enumerate(outlines.items(), 1)
    )
    for at, heading in enumerate(grid.headings):
        if at not in places.values() and any(at < len(row) and row[at] for _, row in grid.rows):
            report.leave(f"column {at + 1}, '{printable_name(heading.name, 'without a name')}'", UNREAD)
    for name, line in list(apart.items())[:MOST_TOLD]:
        report.guess(
            f"the rows of '{printable_name(name, 'a piece')}' do not stand together, see line {line}: they are taken "
            "as one outline; if they are two pieces, give each its own name"
        )
    report.account.expect(len(outlines))
    return [entered(named_in_words(Sketch(name, of), report), report) for name, of in named], report


def _refuse_size(name: str, form: str, asked: ReadingChoices) -> None:
    if asked.size is not None:
        raise FormatError(f"{name}: it has no size {asked.size!r}: a {form} holds one size of each piece")


def _columns(grid: CellGrid, name: str) -> tuple[dict[str, int], Unit | None]:
    """Where each column stands, and the unit that the head names."""
    places = {heading.name: at for at, heading in enumerate(grid.headings) if heading.name in COLUMNS}
    units = {heading.unit for heading in grid.headings if heading.name in COLUMNS} - {""}
    missing = [column for column in COLUMNS[:3] if column not in places]
    if missing:
        raise FormatError(f"{name} lacks the column {missing[0]!r}: its first row must name piece, x (mm) and y (mm)")
    if len(units) > 1:
        raise FormatError(f"{name} names several units in its first row, {' and '.join(sorted(units))}: use one")
    return places, next((unit for unit in get_args(Unit) if unit in units), None)


class _Cells(NamedTuple):
    """How numbers are written: what a bare one counts, pixels to the inch, and whether commas stand for decimals."""

    unit: Unit | None
    per_inch: float
    has_commas: bool

    def number(self, text: str) -> float:
        """A coordinate, mm."""
        text = with_point(text, is_decimal=self.has_commas)
        if self.unit and _BARE.fullmatch(text):
            return float(text) * scale_of(self.unit, self.per_inch)
        return number(text, self.unit)


def _plain_points(grid: CellGrid, places: dict[str, int], read: _Cells) -> _Outlines | None:
    """The outlines of a table of bare numbers without curves, at once; None of any other, or if something is amiss."""
    curved = [at for column, at in places.items() if column not in ("piece", "x", "y")]
    rows = [row for _, row in grid.rows]
    fewest = max(places[column] for column in ("piece", "x", "y"))
    if read.unit is None or not all(fewest < len(row) <= len(grid.headings) for row in rows):
        return None
    if any(row[at] for at in curved for row in rows if at < len(row)):
        return None
    across, up = ([row[places[column]] for row in rows] for column in ("x", "y"))
    if not (all(map(_BARE.fullmatch, across)) and all(map(_BARE.fullmatch, up))):
        return None
    try:
        points = np.array([list(map(float, across)), list(map(float, up))]).T * scale_of(read.unit, read.per_inch)
    except ValueError:
        return None
    at, begin = places["piece"], 0
    parts: dict[str, list[Floats]] = {}
    apart: dict[str, int] = {}
    for name, run in groupby(row[at] for row in rows):
        if name in parts:
            apart.setdefault(name, grid.rows[begin].line)
        many = sum(1 for _ in run)
        parts.setdefault(name, []).append(points[begin : begin + many])
        begin += many
    return {name: np.vstack(those) for name, those in parts.items()}, apart


def _points(grid: CellGrid, places: dict[str, int], read: _Cells, name: str) -> _Outlines:
    """The outlines of a table, row by row."""
    corners: dict[str, list[Corner]] = {}
    apart: dict[str, int] = {}
    last = ""
    for line, row in grid.rows:
        if len(row) > len(grid.headings):
            raise FormatError(
                f"{name}, line {line}: {len(row)} cells under {len(grid.headings)} headings: put a number with a "
                "comma in quotes, or separate the cells with semicolons"
            )
        cells = {column: row[at] if at < len(row) else "" for column, at in places.items()}
        if cells["piece"] != last and cells["piece"] in corners:
            apart.setdefault(cells["piece"], line)
        last = cells["piece"]
        corners.setdefault(last, []).append(_corner(cells, read, name, line))
        if len(corners) > MOST_PIECES:
            raise FormatError(f"{name} has more than {MOST_PIECES} pieces")
    return {called: drawn(of) for called, of in corners.items()}, apart


def _corner(cells: dict[str, str], cell: _Cells, name: str, line: int) -> Corner:
    def read(column: str) -> float | None:
        if not (text := cells.get(column, "")):
            return None
        try:
            return cell.number(text)
        except (LengthError, ValueError, OverflowError) as error:
            more = "" if cell.unit else "; name the unit in the first row, x (mm), or give --units"
            raise FormatError(f"{name}, line {line}: {column}: {error}{more}") from error

    x, y, bulge, *middle = (read(column) for column in COLUMNS[1:])
    if x is None or y is None or (middle[0] is None) != (middle[1] is None):
        raise FormatError(f"{name}, line {line}: a point needs both x and y, a mid-point as well")
    by = (middle[0], middle[1]) if middle[0] is not None and middle[1] is not None else None
    return Corner(x, y, bulge or 0.0, by)


def sketch_json(path: Path, asked: ReadingChoices) -> tuple[list[Sketch], ImportReport]:
    """Pieces of JSON: our own, or outlines as ``{"unit": "mm", "pieces": {"front": [[0, 0], ...]}}`` or lists.

    Raises
    ------
    FormatError
        If it is no JSON, holds neither, or does not say its unit.
    """
    data = json_data(read_source(path, "json"), path.name, FormatError)
    if features.is_geojson(data):
        return features.sketch_geojson(data, path.name, asked)
    _refuse_size(path.name, "JSON of outlines", asked)
    if isinstance(data, dict) and "schema" in data:
        report = ImportReport("our own JSON of pieces", "mm, as always")
        pieces = from_plain(data)
        report.account.expect(len(data["pieces"]))
        return [entered(_of_piece(piece), report) for piece in pieces], report
    report = ImportReport("JSON, plain outlines")
    says = _unit(data, path.name)
    unit = asked.units or says
    if unit is None:
        raise FormatError(f'{path.name} does not give its unit: add "unit": "mm", or give --units {UNIT_WORDS}')
    report.units = told_unit(unit, "by its unit", asked.units, says)
    found = _plain_outlines(data, path.name)
    for key in _unread(data):
        report.leave(f"'{printable_name(key, 'a key')}'", UNREAD)
    report.account.expect(len(found))
    scale = scale_of(unit, asked.per_inch)
    sketches = (named_in_words(Sketch(name, points * scale), report) for name, points in found)
    return [entered(sketch, report) for sketch in sketches], report


def _unit(data: Any, name: str) -> Unit | None:
    """The unit that plain outlines name, under one key or the other; None if they name none."""
    said = {key: data[key] for key in UNIT_KEYS if key in data} if isinstance(data, dict) else {}
    known = [next((unit for unit in get_args(Unit) if unit == value), None) for value in said.values()]
    if None in known:
        key, value = next(each for each, unit in zip(said.items(), known, strict=True) if unit is None)
        raise FormatError(f"{name}: {key} is {str(value)[:30]!r}: write one of {UNIT_WORDS}, or give --units")
    if len(set(known)) > 1:
        raise FormatError(f"{name} says both {' and '.join(f'{k} {v}' for k, v in said.items())}: keep one")
    return known[0] if known else None


def _plain_outlines(data: Any, name: str) -> list[tuple[str, np.ndarray[Any, np.dtype[np.float64]]]]:
    """Names and points of plain outlines."""
    if isinstance(data, dict):
        data = data.get("pieces", {key: value for key, value in data.items() if key not in UNIT_KEYS})
    if isinstance(data, dict):
        rows = list(data.items())
    elif isinstance(data, list):
        rows = [(p.get("name"), p.get("outline", p.get("points"))) if isinstance(p, dict) else (None, p) for p in data]
    else:
        rows = []
    if not rows or len(rows) > MOST_PIECES:
        raise FormatError(f"{name} holds {len(rows) or 'no'} pieces: it must have 1 to {MOST_PIECES}")
    found = []
    for number_, (called, points) in enumerate(rows, 1):
        own = printable_name(str(called) if called else "", f"piece {number_}")
        try:
            array = np.array(points if are_points(points) else (), dtype=np.float64)
        except (TypeError, ValueError, OverflowError) as error:
            raise FormatError(f"{name}: the outline of '{own}' must be a list of points such as [12.5, 40]") from error
        if array.ndim != 2 or array.shape[1] != 2:
            raise FormatError(f"{name}: the outline of '{own}' must be a list of points such as [12.5, 40]")
        found.append((own, array))
    return found


def _unread(data: Any) -> list[str]:
    """What plain outlines say beside names and points, in order."""
    known = isinstance(data, dict) and "pieces" in data
    keys = [key for key in data if key not in ("pieces", *UNIT_KEYS)] if known else []
    rows = data["pieces"] if known else data
    for row in rows if isinstance(rows, list) else ():
        taken = ("name", "outline" if isinstance(row, dict) and "outline" in row else "points")
        keys += [key for key in row if key not in taken] if isinstance(row, dict) else []
    return list(dict.fromkeys(keys))


def _of_piece(piece: Piece) -> Sketch:
    """A piece of our own as a sketch: so that what is written beside it can change it."""
    fold = piece.fold_edge
    ends: tuple[Point, Point] | None = None
    if fold is not None:
        (x0, y0), (x1, y1) = fold.points[[0, -1]].tolist()
        ends = (x0, y0), (x1, y1)
    return Sketch(
        piece.name,
        piece.cut_line,
        piece.cut,
        piece.mirrored_pair,
        piece.material,
        piece.grain,
        fold=ends,
        notches=[(notch.name, notch.point) for notch in piece.notches],
        drills=list(piece.drill_points),
        inner=[(line.kind, np.array(line.points)) for line in piece.inner],
        label=piece.label,
        lies=piece.lies,
        tilt=piece.tilt,
        whole=piece,
    )
