"""Sizes: tables of what each size measures, built in or a person's own."""

from __future__ import annotations

from dataclasses import dataclass, field
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING, Any, get_args

from pieces.body.body import Body, measurement_names
from pieces.body.ranges import Wearer
from pieces.data import toml_data
from pieces.errors import FormatError, PieceError, SizeError, unknown_key
from pieces.grid import read_bytes, read_grid, read_length
from pieces.length import Length

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping, Sequence

TABLES = ("women", "women-letters", "men", "men-letters", "children")
"""The tables built in, each in a file that names its source."""

MOST_SIZES = 40
LONGEST_NAME = 20

_KEYS = ("title", "source", "wearer", "unit", "sizes", "measures", "notes")


@dataclass(frozen=True)
class SizeTable:
    """What each size measures.

    Parameters
    ----------
    name, title
        What a job calls it, and what a person does.
    source
        Where its figures come from.
    rows
        By size, in order: each measurement, or finished length of a garment, that it gives, mm.
    wearer
        Whom it is for, if it says so.
    notes
        By measurement: how its figures came about.
    """

    name: str
    title: str
    source: str
    rows: Mapping[str, Mapping[str, float]]
    wearer: Wearer | None = None
    notes: Mapping[str, str] = field(default_factory=dict)

    @property
    def sizes(self) -> tuple[str, ...]:
        """What the sizes are called, in order."""
        return tuple(self.rows)

    @property
    def columns(self) -> tuple[str, ...]:
        """What is given of the sizes, in order."""
        return tuple(dict.fromkeys(name for row in self.rows.values() for name in row))

    def measures(self, size: str) -> dict[str, float]:
        """The measurements of one size, mm; SizeError names the sizes there are."""
        known = measurement_names()
        return {name: mm for name, mm in self._row(size).items() if name in known}

    def finished(self, size: str) -> dict[str, float]:
        """Finished lengths of a garment in one size, mm."""
        known = measurement_names()
        return {name: mm for name, mm in self._row(size).items() if name not in known}

    def body(self, size: str) -> Body:
        """A body of one size, measured as far as the table says."""
        lengths: dict[str, Any] = {name: Length(value) for name, value in self.measures(size).items()}
        return Body(**lengths, wearer=self.wearer or "women")

    def _row(self, size: str) -> Mapping[str, float]:
        if size not in self.rows:
            raise SizeError(f"'{self.name}' has no size '{size}': it has {', '.join(self.rows)}")
        return self.rows[size]


def find_table(name: str | Path, folder: Path = Path(), finished: Collection[str] = ()) -> SizeTable:
    """A table built in, by its name, or one in a file.

    Parameters
    ----------
    folder
        Where a file is looked for.
    finished
        Lengths of a garment that a table may give beside measurements of the body.

    Raises
    ------
    SizeError
        If no table is called so, and there is no such file.
    FormatError
        If the file holds no table that makes sense.
    """
    if str(name) in TABLES:
        return _built_in(str(name))
    path = folder / name
    if not path.exists():
        raise SizeError(
            f"cannot read {path}: there is no such file or built-in table; the built-in tables are {', '.join(TABLES)}"
        )
    return read_table(path, finished)


def read_table(path: Path, finished: Collection[str] = ()) -> SizeTable:
    """A table in a file: TOML by its ending, else text with separators, a column ``size`` in it; see `find_table`."""
    if path.suffix.lower() != ".toml":
        return _from_text(path, finished)
    try:
        text = read_bytes(path, "table of sizes").decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise FormatError(f"cannot read {path}: it is not text in UTF-8") from error
    return _from_toml(text, str(path), finished)


def _built_in(name: str) -> SizeTable:
    text = (files("pieces") / "tables" / f"{name}.toml").read_text(encoding="utf-8")
    return _from_toml(text, name, ())


def _from_text(path: Path, finished: Collection[str]) -> SizeTable:
    known = ["size", *measurement_names(), *finished]
    grid = read_grid(path, "sizes", "size, bust, hip", known)
    names = [heading.name for heading in grid.headings]
    for name in names:
        if name not in known:
            raise FormatError(f"{path}, first line: {unknown_key(name, known)}")
    if "size" not in names:
        raise FormatError(f"{path}, first line: a column 'size' is missing: add one with the name of each size")
    at, rows, sizes = names.index("size"), [], []
    for line, cells in grid.rows:
        size = cells[at] if at < len(cells) else ""
        try:
            grid.check(cells)
            rows.append(_lengths(grid.headings, cells))
        except PieceError as error:
            raise FormatError(f"{path}, line {line}, size '{size[:LONGEST_NAME]}': {error}") from error
        sizes.append(size)
    return SizeTable(str(path), path.stem, f"own table, {path.name}", _named(sizes, rows, str(path)))


def _lengths(headings: Sequence[tuple[str, str]], cells: Sequence[str]) -> dict[str, float]:
    return {
        name: _length(cell, unit, f"column '{name}'")
        for (name, unit), cell in zip(headings, cells, strict=True)
        if name != "size" and cell
    }


def _length(value: Any, unit: str, where: str) -> float:
    try:
        return read_length(str(value), unit)
    except PieceError as error:
        raise FormatError(f"{where}: {error}") from error


def _named(sizes: Sequence[str], rows: Sequence[Mapping[str, float]], where: str) -> Mapping[str, Mapping[str, float]]:
    """Rows by what they are called, each by a sound name of its own."""
    if len(sizes) > MOST_SIZES:
        raise FormatError(f"{where} holds {len(sizes)} sizes: at most {MOST_SIZES} are allowed")
    for size in sizes:
        if not (0 < len(size) <= LONGEST_NAME and size.isprintable()):
            raise FormatError(
                f"{where}: the name of a size has 1 to {LONGEST_NAME} characters, not '{size[:LONGEST_NAME]}'"
            )
        if sizes.count(size) > 1:
            raise FormatError(f"{where}: two sizes are called '{size}': give each its own name")
    return dict(zip(sizes, rows, strict=True))


def _from_toml(text: str, name: str, finished: Collection[str]) -> SizeTable:
    data = toml_data(text, name, FormatError)
    for key in data:
        if key not in _KEYS:
            raise FormatError(f"{name}: {unknown_key(key, list(_KEYS))}")
    sizes, columns, notes = data.get("sizes", []), data.get("measures", {}), data.get("notes", {})
    if not (isinstance(sizes, list) and isinstance(columns, dict) and isinstance(notes, dict) and sizes and columns):
        raise FormatError(
            f'{name} holds no sizes: write sizes = ["S", "M"], then [measures] with a line such as bust = [86, 94]'
        )
    wearer = data.get("wearer")
    if wearer is not None and wearer not in get_args(Wearer):
        raise FormatError(f"{name}, wearer: {wearer!r} is not one of {', '.join(get_args(Wearer))}")
    known = [*measurement_names(), *finished]
    rows: list[dict[str, float]] = [{} for _ in sizes]
    for column, values in columns.items():
        where = f"{name}, [measures] {column}"
        if column not in known:
            raise FormatError(f"{name}, [measures]: {unknown_key(column, known)}")
        if not isinstance(values, list) or len(values) != len(sizes):
            raise FormatError(f"{where}: write a list of {len(sizes)} lengths, one for each size")
        for row, size, value in zip(rows, sizes, values, strict=True):
            row[column] = _length(value, str(data.get("unit", "")), f"{where}, size '{size}'")
    title, source = (" ".join(str(data.get(key, "")).split()) for key in ("title", "source"))
    by_name = _named([str(size) for size in sizes], rows, name)
    return SizeTable(name, title or name, source or f"own table, {name}", by_name, wearer, notes)
