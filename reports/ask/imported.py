"""The pieces of a file as a job's garment; and what an import writes: pieces, the small file beside them, a picture."""

from __future__ import annotations

import pickle
import time
from importlib import import_module
from typing import TYPE_CHECKING, NamedTuple

from nesting.processes import can_copy
from pieces.data import json_data
from pieces.errors import FormatError, PieceError
from pieces.exchange.own.plain import from_plain, plain_text
from pieces.exchange.source import read_source
from pieces.piece.pieces import PieceSet
from reports.apart import LIMITS, ApartReading, HearStep, ReadingLimits, read_apart
from reports.output import write_text

if TYPE_CHECKING:
    from pathlib import Path

    from pieces.exchange.imported import Imported, ReadingChoices
    from pieces.exchange.own.sidecar import Sidecar
    from pieces.garments import Garment
    from pieces.units import Units

IMPORTED = "imported"
"""What a job calls a garment whose pieces come out of a file."""

GRADING = "grading.toml"
"""What grade rules are written to."""

PICTURES = ("svg", "png", "pdf")

MOST_DRAWN = 60
"""Pieces drawn one by one on a sheet: more of them take a sheet of metres, and a minute.

Pictures of more are written as SVG alone: on paper nothing of them could be read, and they took three times as long.
"""


def read_imported(path: Path) -> Garment:
    """The garment of a file of pieces, as `import` writes them.

    Raises
    ------
    FormatError
        If there is no such file, or it holds no pieces in our form.
    """
    from pieces.garments.imported import imported

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


class FileAsked(NamedTuple):
    """How a file is read: what was asked and told, whether other sizes are compared, and their rules written."""

    asked: ReadingChoices
    told: Sidecar | None = None
    grades: bool = False
    writes: bool = False


ADVICE = "export it with fewer points, or each piece as a file of its own; or give it more, such as --seconds 60"


def read_file(path: Path, given: FileAsked, seconds: int = LIMITS.seconds) -> tuple[Imported, str, list[str]]:
    """The pieces of a file of patterns, the text of the grade rules to its other sizes, and what there is to say.

    It is read in a process of its own, and given up where it takes too much.

    Parameters
    ----------
    seconds
        Processor time that it may take; memory grows along.

    Raises
    ------
    FormatError
        If it cannot be read.
    OverLimitError
        If it takes too much.
    """
    limits = ReadingLimits(seconds, LIMITS.memory * max(seconds, LIMITS.seconds) // LIMITS.seconds)
    is_copy = can_copy()
    if is_copy:
        _load(path)
    how = ApartReading(_read, given, limits, ADVICE, spent=time.process_time(), is_copy=is_copy)
    said = pickle.loads(read_apart(path, how))
    if isinstance(said, str):
        raise FormatError(said)
    found: tuple[Imported, str, list[str]] = said
    return found


_NEEDED = {
    ".dxf": ("ezdxf", "pieces.exchange.read.dxf"),
    ".svg": ("svgelements", "pieces.exchange.read.svg"),
    ".toml": ("pieces.exchange.read.traced",),
}
"""Modules that a file needs, by the end of its name."""


def _load(path: Path) -> None:
    """Load what the file needs: a process that begins as a copy of this one has it, and so have its pieces here."""
    for module in ("shapely", "pieces.exchange.read.reader", *_NEEDED.get(path.suffix.lower(), ())):
        import_module(module)


def _read(path: Path, given: FileAsked, step: HearStep) -> bytes:
    """In the process: what `read_file` gives, or why the file is refused."""
    from pieces.exchange.own.sidecar import Sidecar
    from pieces.exchange.read.reader import import_pieces
    from pieces.exchange.sized import read_sizes

    try:
        found, rules, said = import_pieces(path, given.asked, given.told), "", list[str]()
        if given.grades:
            sized = read_sizes(path, given.asked, given.told or Sidecar(path.name), found)
            rules = sized.text(f"the sizes drawn in {path.name}") if given.writes else ""
            said = sized.words()
    except PieceError as error:
        return pickle.dumps(str(error))
    return pickle.dumps((found, rules, said))


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
    write_text(paths[0], plain_text(found.pieces))
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
        if many > MOST_DRAWN and path.suffix != ".svg":
            path.unlink(missing_ok=True)  # what an earlier import has left there is of other pieces
        else:
            save(figures[path.stem], path)
    paths = [path for path in paths if path.exists()]
    if sidecar is not None:
        beside = sidecar_path(file, folder)
        write_text(beside, sidecar)
        paths.append(beside)
    if grading:
        write_text(folder / GRADING, grading)
        paths.append(folder / GRADING)
    return paths
