"""The files of an export, each named before any work is done."""

from __future__ import annotations

import json
from enum import StrEnum
from typing import TYPE_CHECKING

from pieces.exchange.plain import to_plain
from reports.output import write_text

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from pieces import PieceSet
    from reports.answers import FabricPlan


class What(StrEnum):
    """What is written."""

    PIECES = "pieces"
    MARKERS = "markers"


class Format(StrEnum):
    """In which form; also the ending of the file's name."""

    DXF = "dxf"
    SVG = "svg"
    JSON = "json"
    CSV = "csv"


def piece_files(folder: Path, formats: Sequence[Format]) -> list[Path]:
    """The files of pieces, in each form once."""
    return [folder / f"pieces.{form.value}" for form in dict.fromkeys(formats)]


def marker_files(folder: Path, formats: Sequence[Format], number: int) -> list[Path]:
    """The files of the marker on the job's cloth of that number, from 1, in each form once."""
    return [folder / f"marker-{number}.{form.value}" for form in dict.fromkeys(formats)]


def write_pieces(pieces: PieceSet, paths: Sequence[Path]) -> None:
    """Write pieces, to each path in the form that its ending says."""
    from reports.export.svg import pieces_svg
    from reports.export.table import pieces_csv

    for path in paths:
        match Format(path.suffix[1:]):
            case Format.DXF:
                from reports.export.dxf import write_pieces_dxf

                write_pieces_dxf(pieces, path)
            case Format.SVG:
                write_text(path, pieces_svg(pieces))
            case Format.JSON:
                write_text(path, json.dumps(to_plain(pieces)))
            case Format.CSV:
                write_text(path, pieces_csv(pieces))


def write_marker(plan: FabricPlan, paths: Sequence[Path]) -> None:
    """Write the marker on a cloth, to each path in the form that its ending says."""
    from reports.export.svg import marker_svg
    from reports.export.table import marker_csv
    from reports.machine import marker_to_plain

    marker = plan.result.marker
    for path in paths:
        match Format(path.suffix[1:]):
            case Format.DXF:
                from reports.export.dxf import write_marker_dxf

                write_marker_dxf(marker, path)
            case Format.SVG:
                write_text(path, marker_svg(marker, plan.offer.name))
            case Format.JSON:
                write_text(path, json.dumps(marker_to_plain(plan)))
            case Format.CSV:
                write_text(path, marker_csv(marker))
