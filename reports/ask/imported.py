"""The pieces of a file as a job's garment; and what an import writes: pieces, the small file beside them, a picture."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from pieces.data import json_data
from pieces.errors import FormatError, PieceError
from pieces.exchange.own.plain import from_plain, to_plain
from pieces.exchange.source import read_source
from pieces.garments.imported import imported
from pieces.piece.pieces import PieceSet
from reports.output import write_text

if TYPE_CHECKING:
    from pathlib import Path

    from pieces.exchange.imported import Imported
    from pieces.garments import Garment
    from pieces.units import Units

IMPORTED = "imported"
"""What a job calls a garment whose pieces come out of a file."""

GRADING = "grading.toml"
"""What grade rules are written to."""

PICTURES = ("svg", "png", "pdf")

MOST_DRAWN = 60
"""Pieces drawn one by one on a sheet: more of them take a sheet of metres, and a minute."""


def read_imported(path: Path) -> Garment:
    """The garment of a file of pieces, as `import` writes them.

    Raises
    ------
    FormatError
        If there is no such file, or it holds no pieces in our form.
    """
    return imported(read_pieces(path))


def read_pieces(path: Path) -> PieceSet:
    """The pieces of such a file; raises as `read_imported`."""
    try:
        return from_plain(json_data(read_source(path, "json"), path.name, ValueError))
    except (ValueError, RecursionError) as error:
        if isinstance(error, FormatError):
            raise
        if isinstance(error, PieceError):
            raise FormatError(f"pieces_file: {path}: {error}") from error
        raise FormatError(f"pieces_file: {path} is not a file of pieces: write one with 'ellwand import'") from error


def sidecar_path(file: Path, folder: Path) -> Path:
    """Where the small file beside the pieces of a file stands."""
    return folder / f"{file.stem}.pieces.toml"


def imported_files(file: Path, folder: Path) -> list[Path]:
    """All files that `write_imported` writes anew; the small file beside them stays if it is there."""
    pictures = [f"{what}.{suffix}" for what in ("pieces", "read") for suffix in PICTURES]
    return [folder / name for name in ("pieces.json", "import.txt", *pictures)]


def write_imported(
    found: Imported, file: Path, folder: Path, units: Units, sidecar: str | None, grading: str = ""
) -> list[Path]:
    """Write pieces, report and picture; `sidecar` as the small file beside them unless it is None; and grade rules."""
    from reports.draw.kit.files import save
    from reports.draw.kit.sheet import printable
    from reports.draw.pieces import pieces_page
    from reports.draw.reading import reading_page

    paths = imported_files(file, folder)
    write_text(paths[0], json.dumps(to_plain(found.pieces)))
    report = found.report
    write_text(paths[1], "\n".join((file.name, *report.lines(), "", *report.account.listed())) + "\n")
    drawn, many = found.pieces, len(found.pieces)
    title = "imported pieces"
    if many > MOST_DRAWN:
        longest = sorted(drawn, key=lambda piece: -piece.length)[:MOST_DRAWN]
        drawn, title = PieceSet(drawn.garment, tuple(longest)), f"the {MOST_DRAWN} longest of {many} imported pieces"
    figures = {
        "pieces": pieces_page(drawn, title=f"{drawn.garment}: {title}", units=units),
        "read": reading_page(report.account, title=f"{printable(file.name)}: what was read"),
    }
    for path in paths[2:]:
        save(figures[path.stem], path)
    if sidecar is not None:
        beside = sidecar_path(file, folder)
        write_text(beside, sidecar)
        paths.append(beside)
    if grading:
        write_text(folder / GRADING, grading)
        paths.append(folder / GRADING)
    return paths
