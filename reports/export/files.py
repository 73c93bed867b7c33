"""The files of an export, each named before any work is done."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from pieces.exchange.own.plain import plain_text
from reports.ask.imported import sidecar_path
from reports.export.way import USUAL_WAY, FileWay
from reports.output import write_text

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from pathlib import Path

    from pieces import PieceSet
    from reports.ask.choices import FileForm
    from reports.export.grades import GradedSet
    from reports.plan.cut_cloth import CutCloth


LINES_ALONE = {"svg", "csv"}
"""The forms that do not say how many pieces are cut, or of what."""


def piece_files(folder: Path, formats: Sequence[FileForm]) -> list[Path]:
    """The files of pieces, in each form once, and the small file beside those that need it."""
    paths = [folder / f"pieces.{form}" for form in dict.fromkeys(formats)]
    beside = sidecar_path(folder / "pieces", folder)
    return paths + [beside] if LINES_ALONE.intersection(formats) else paths


def marker_files(folder: Path, formats: Sequence[FileForm], number: int) -> list[Path]:
    """The files of the marker on the job's cloth of that number, from 1, in each form once."""
    return [folder / f"marker-{number}.{form}" for form in dict.fromkeys(formats)]


def write_pieces(pieces: PieceSet, paths: Sequence[Path], how: FileWay = USUAL_WAY) -> None:
    """Write pieces, to each path in the form that its ending says; TOML is the small file beside the others."""
    from reports.export.sidecar import beside_text
    from reports.export.svg import pieces_svg
    from reports.export.table import pieces_csv

    for path in paths:
        match path.suffix:
            case ".dxf":
                from reports.export.dxf import write_pieces_dxf

                write_pieces_dxf(pieces, path, how)
            case ".svg":
                write_text(path, pieces_svg(pieces, how.notches))
            case ".json":
                write_text(path, plain_text(pieces))
            case ".csv":
                write_text(path, pieces_csv(pieces))
            case ".toml":
                write_text(path, beside_text(pieces, [other for other in paths if other != path]))


def graded_files(folder: Path) -> list[Path]:
    """The files of graded pieces: one size as DXF, and the rule table beside it."""
    return [folder / "pieces.dxf", folder / "pieces.rul"]


def write_graded(graded: GradedSet, paths: Sequence[Path], how: FileWay = USUAL_WAY) -> None:
    """Write graded pieces to the files that `graded_files` names."""
    from reports.export.dxf import write_pieces_dxf

    outlines, rules = paths
    write_pieces_dxf(graded.pieces, outlines, how, graded)
    write_text(rules, graded.table.text())


def lay_files(folder: Path, formats: Sequence[FileForm], ticket: int) -> list[Path]:
    """The files of the marker of a run's lay, in each form once."""
    return [folder / f"lay-{ticket}-marker.{form}" for form in dict.fromkeys(formats)]


def write_marker(
    cut: CutCloth,
    paths: Sequence[Path],
    plain: Mapping[str, Any] | None = None,
    how: FileWay = USUAL_WAY,
) -> None:
    """Write the marker on a cloth, to each path in the form that its ending says.

    Parameters
    ----------
    plain
        What is written as JSON; by default the marker alone.
    """
    from reports.export.svg import marker_svg
    from reports.export.table import marker_csv
    from reports.plan.plain import marker_to_plain

    marker = cut.marker
    for path in paths:
        match path.suffix:
            case ".dxf":
                from reports.export.dxf import write_marker_dxf

                write_marker_dxf(marker, path, how)
            case ".svg":
                write_text(path, marker_svg(marker, cut.offer.name, how.notches))
            case ".json":
                write_text(path, json.dumps(plain or marker_to_plain(cut)))
            case ".csv":
                write_text(path, marker_csv(marker))
